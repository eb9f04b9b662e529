package sheet

import (
	"fmt"
	"io"
	"strconv"

	"galefast/internal/quantity"
	"galefast/internal/verdict"
)

// Diff prints what changed in the results from one description to another.
func Diff(w io.Writer, d *verdict.Difference, from, to string, s Style) error {
	p := &printer{w: w, Style: s}
	p.line("%s", p.bold(printable(fmt.Sprintf("From %s to %s", from, to))))
	if d.Same() {
		p.line("Nothing changed in the results.")
		return p.err
	}
	p.text(fmt.Sprintf("%s; %s; %s.", fromTo(d.Was.Fails, d.Is.Fails, "fail"), fromTo(d.Was.Holds, d.Is.Holds, "hold"), fromTo(d.Was.Unchecked, d.Is.Unchecked, "unchecked")), "")
	p.line("")
	for _, g := range []struct{ change, title string }{
		{verdict.Turned, "Checks that turned"}, {verdict.Appeared, "Checks that are new"}, {verdict.Vanished, "Checks that are gone"}, {verdict.Moved, "Numbers that moved, the result as before"},
	} {
		p.table(changesTable(g.change, g.title, d, s.System))
	}
	p.table(ballastChanges(d, s.System))
	if d.WasKg != d.IsKg {
		change := "less"
		if d.IsKg > d.WasKg {
			change = "more"
		}
		p.line("ballast in all %s, was %s: %s %s", quantity.Format(quantity.Mass(d.IsKg), s.System), quantity.Format(quantity.Mass(d.WasKg), s.System),
			quantity.Format(quantity.Mass(max(d.IsKg-d.WasKg, d.WasKg-d.IsKg)), s.System), change)
		p.line("")
	}
	p.table(limitChanges(d, s.System))
	return p.err
}

func fromTo(was, is int, what string) string {
	if was == is {
		return fmt.Sprintf("%d %s, as before", is, what)
	}
	return fmt.Sprintf("%d %s, was %d", is, what, was)
}

// changesTable are the checks that changed in one way.
func changesTable(change, title string, d *verdict.Difference, s quantity.System) *table {
	t := &table{title: title, header: []string{"was", "is", "what", "check", "unit", "needed", "needs", "had", "has"},
		right: []bool{false, false, false, false, false, true, true, true, true}, most: []int{0, 0, 24}}
	for _, c := range d.Checks {
		if c.Change != change {
			continue
		}
		was, is, needed, needs, had, has := "-", "-", "-", "-", "-", "-"
		shown := c.Is
		if c.Was != nil {
			was = string(c.Was.Result)
			needed, had = c.Was.In(s.String()).Figures()
		}
		if c.Is != nil {
			is = string(c.Is.Result)
			needs, has = c.Is.In(s.String()).Figures()
		} else {
			shown = c.Was
		}
		unit := shown.In(s.String()).Unit
		if unit == "1" {
			unit = ""
		}
		t.add(was, is, printable(shown.Subject), shown.What, unit, needed, needs, had, has)
		if c.Is != nil && c.Is.Result == verdict.Fails && c.Change != verdict.Moved && c.Is.Cure != "" {
			t.note("cure: " + printable(c.Is.Cure))
		}
	}
	return t
}

func ballastChanges(d *verdict.Difference, s quantity.System) *table {
	t := &table{title: "Ballast that must be there", most: []int{20, 14, 20},
		header: []string{"piece", "where", "unit", "was", "is", head[quantity.Mass]("was", s), head[quantity.Mass]("is", s)},
		right:  []bool{false, false, false, true, true, true, true}}
	units := func(n *int) string {
		if n == nil {
			return "none will do"
		}
		return strconv.Itoa(*n)
	}
	mass := func(kg *float64) string {
		if kg == nil {
			return "-"
		}
		return column[quantity.Mass](*kg, s)
	}
	for _, c := range d.Ballast {
		t.add(printable(c.Piece), printable(c.Section), printable(c.Unit), units(c.Was), units(c.Is), mass(c.WasKg), mass(c.IsKg))
	}
	return t
}

func limitChanges(d *verdict.Difference, s quantity.System) *table {
	t := &table{title: "Gust at which each piece reaches its required factors, as forecast", most: []int{30},
		header: []string{"piece", "state", head[quantity.Speed]("was", s), head[quantity.Speed]("is", s)},
		right:  []bool{false, false, true, true}}
	for _, c := range d.Limits {
		t.add(printable(c.Piece), c.State, below(c.Was, s), below(c.Is, s))
	}
	return t
}
