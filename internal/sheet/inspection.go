package sheet

import (
	"fmt"
	"strings"

	"galefast/internal/quantity"
	"galefast/internal/site"
	"galefast/internal/verdict"
)

// inspection lists what to look at before opening, piece by piece.
func inspection(f *site.File, r *verdict.Report, s quantity.System) []string {
	var list []string
	add := func(format string, args ...any) { list = append(list, printable(fmt.Sprintf(format, args...))) }
	bags := func(piece string) {
		for _, x := range r.Ballast.Rows {
			if x.Piece == piece && x.Count != nil && *x.Count > 0 {
				add("%s: counted %d of %s in its %s; dry, whole, tied down or shut in", piece, *x.Count, x.Unit, x.Section)
			}
		}
	}
	for i := range f.Columns {
		c := &f.Columns[i]
		add("%s: plumb, all corners of the foot bear, it does not rock", c.Name.V)
		for k := range c.Sections {
			x := &c.Sections[k]
			switch {
			case x.Joint != nil:
				add("%s: %d bolts of %s below the %s tight, washers seated", c.Name.V, x.Joint.Bolts.V, quantity.Format(x.Joint.Size.V, s), x.Name.V)
			case k > 0:
				add("%s: the %s sits flat on what is below it; no bolt holds it", c.Name.V, x.Name.V)
			}
		}
		bags(c.Name.V)
	}
	for i := range f.Walls {
		w := &f.Walls[i]
		add("%s: plumb, the sill bears along its length", w.Name.V)
		if w.Braces != nil {
			add("%s: %d braces fast at the head and at the toe", w.Name.V, w.Braces.Count.V)
		}
		if len(w.Joined) > 0 {
			var names []string
			for _, j := range w.Joined {
				names = append(names, j.V)
			}
			add("%s: fastened to %s, every fastening tight", w.Name.V, strings.Join(names, " and "))
		}
		bags(w.Name.V)
	}
	for i := range f.Spans {
		x := &f.Spans[i]
		add("%s: both ends fast, its underside measured at %s", x.Name.V, quantity.Format(x.Underside.V, s))
	}
	for i := range f.Gates {
		g := &f.Gates[i]
		if h := g.Hinge; h != nil && h.Screws.V > 0 {
			add("%s: %d hinges, %d screws in each tight, none torn", g.Name.V, len(h.Heights), h.Screws.V)
		} else {
			add("%s: hinges tight, none torn", g.Name.V)
		}
		shut, ajar := "", ""
		if g.Keeper != nil {
			shut, ajar = g.Keeper.Closed.V, g.Keeper.Open.V
		}
		keeper := func(word, state string) {
			if word == "" {
				add("%s: nothing is described that holds it %s; fit a keeper, or count on it swinging", g.Name.V, state)
			} else {
				add("%s: the %s holds it %s when pushed and pulled", g.Name.V, word, state)
			}
		}
		keeper(shut, "shut")
		keeper(ajar, "open")
	}
	for i := range f.Guys {
		g := &f.Guys[i]
		add("guy %d of %s: taut, its anchor has not moved, seen by those who walk past", i+1, g.From.V)
	}
	for i := range f.Supplies {
		x := &f.Supplies[i]
		if x.GFCI.V {
			add("%s: GFCI or RCD trips at its test button, and was reset", x.Name.V)
		} else {
			add("%s: no GFCI or RCD is described; none of it is plugged in outdoors until there is one", x.Name.V)
		}
		if x.Breaker.Given {
			add("%s: the breaker is the one of %s, and who may reset it is known", x.Name.V, quantity.Format(x.Breaker.V, s))
		}
	}
	for i := range f.Cords {
		k := &f.Cords[i]
		size := strings.TrimSpace(k.Gauge.Text + " " + k.Type.V)
		if size == "" {
			size = "its size"
		}
		add("%s: the jacket says %s; no cut, no tape, not coiled, plugs dry and off the ground, covered where people walk", k.Name.V, size)
	}
	for i := range f.Ways {
		w := &f.Ways[i]
		add("%s: walked from end to end; measured at its narrowest and lowest, clear, lit, leaves open fully", w.Name.V)
	}
	add("wind: the person who watches it is named, has the action plan in hand, and the meter works")
	return list
}
