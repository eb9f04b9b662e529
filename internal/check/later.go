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
		if len(w.Joined) > 0 && !j.holds(w.Fixing) {
			j.unchecked(verdict.Standing, w.Name.V, "joined pieces",
				"it is checked by itself: the file does not say how it is fastened (a fixing of the wall)", "", w.Joined[0].At)
		}
	}
	for i := range j.f.Guys {
		g := &j.f.Guys[i]
		if _, ok := j.guyLimit(g); !ok {
			j.unchecked(verdict.Standing, g.From.V, fmt.Sprintf("guy %d", i+1),
				"the guy is not counted on: its anchor was not tested (pull_tested) and is none of the table of stakes, or its rope is in no table", "", g.From.At)
		}
	}
	for i := range j.f.Spans {
		s := &j.f.Spans[i]
		if !j.holds(s.Fixing) {
			j.unchecked(verdict.Standing, s.Name.V, "columns acting together",
				"each column takes its share of the span as of a beam on two supports, without help through it: the file does not say how it is fastened (a fixing of the span)", "", s.Name.At)
		}
	}
}
