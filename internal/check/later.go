package check

import (
	"fmt"

	"galefast/internal/verdict"
)

// The checks below are named with the reason why they are not computed, so that
// nobody takes their absence for a pass.

// joints names what passes between pieces and is not counted on.
func (j *job) joints() {
	for i := range j.f.Walls {
		w := &j.f.Walls[i]
		if len(w.Joined) > 0 && w.Fixing == nil {
			j.unchecked(verdict.Standing, w.Name.V, "joined pieces",
				"it is checked by itself: the file does not say how it is fastened (a fixing of the wall)", "", w.Joined[0].At)
		}
	}
	for i := range j.f.Guys {
		g := &j.f.Guys[i]
		if _, ok := j.guyLimit(g); !ok {
			j.unchecked(verdict.Standing, g.From.V, fmt.Sprintf("guy %d", i+1),
				"the guy is not counted on, since its anchor was not tested (pull_tested)", "", g.From.At)
		}
	}
	for i := range j.f.Spans {
		s := &j.f.Spans[i]
		if s.Fixing == nil {
			j.unchecked(verdict.Standing, s.Name.V, "columns acting together",
				"each column takes its share of the span as of a beam on two supports, without help through it: the file does not say how it is fastened (a fixing of the span)", "", s.Name.At)
		}
	}
}

// fasteners names the hinges, joints, guys and supports.
func (j *job) fasteners() {
	const later = "the strength of fasteners is not computed"
	for i := range j.f.Gates {
		g := &j.f.Gates[i]
		at, why := g.Name.At, "no hinge is described; "+later
		if g.Hinge != nil {
			at, why = g.Hinge.At, later
		}
		j.unchecked(verdict.Hardware, g.Name.V, "hinge", why, "NDS chapter 12", at)
		if g.Keeper == nil {
			j.unchecked(verdict.Hardware, g.Name.V, "keeper", "nothing holds the leaf: it swings free in the wind", "", g.Name.At)
		}
	}
	for i := range j.f.Columns {
		c := &j.f.Columns[i]
		for k := range c.Sections {
			if s := &c.Sections[k]; s.Joint != nil {
				j.unchecked(verdict.Hardware, c.Name.V+", "+s.Name.V, "joint", later+"; the column is taken as one piece through this joint", "NDS chapter 12", s.Joint.At)
			}
		}
	}
	for i := range j.f.Walls {
		if w := &j.f.Walls[i]; w.Braces != nil {
			j.unchecked(verdict.Hardware, w.Name.V, "braces", later, "NDS chapter 12", w.Braces.At)
		}
	}
	for i := range j.f.Spans {
		j.unchecked(verdict.Hardware, j.f.Spans[i].Name.V, "supports", later, "NDS chapter 12", j.f.Spans[i].Name.At)
	}
	for i := range j.f.Guys {
		j.unchecked(verdict.Hardware, j.f.Guys[i].From.V, fmt.Sprintf("guy %d", i+1), later, "", j.f.Guys[i].From.At)
	}
}
