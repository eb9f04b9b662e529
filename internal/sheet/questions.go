package sheet

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"galefast/internal/quantity"
	"galefast/internal/verdict"
)

// mostNamed is how many things an answer on the first page names before it says how
// many more there are.
const mostNamed = 6

// questions answers on the first page what the manager of a venue asks.
func (c *composer) questions() {
	for _, q := range []struct {
		text   string
		answer func() []string
	}{
		{"Will it fall?", c.willItFall},
		{"What must be there?", c.whatMustBeThere},
		{"When do we close?", c.whenToClose},
		{"What plugs in where?", c.whatPlugsIn},
		{"What was not checked?", c.whatWasNot},
	} {
		c.head(2, q.text)
		for _, text := range q.answer() {
			c.say("%s", text)
		}
	}
}

// few names the first of a list.
func few(list []string, most int) string {
	if len(list) > most {
		return fmt.Sprintf("%s and %d more", strings.Join(list[:most], "; "), len(list)-most)
	}
	return strings.Join(list, "; ")
}

// bySubject gathers what is wrong with each thing, in the order of the record.
func bySubject(checks []verdict.Check, keep func(verdict.Check) bool) []string {
	var subjects []string
	whats := map[string][]string{}
	for _, x := range checks {
		if keep(x) {
			if _, seen := whats[x.Subject]; !seen {
				subjects = append(subjects, x.Subject)
			}
			whats[x.Subject] = append(whats[x.Subject], x.What)
		}
	}
	for i, s := range subjects {
		subjects[i] = fmt.Sprintf("%s (%s)", printable(s), strings.Join(whats[s], ", "))
	}
	return subjects
}

func (c *composer) willItFall() []string {
	var standing verdict.Report
	for _, x := range c.r.Checks {
		if x.Kind == verdict.Standing {
			standing.Checks = append(standing.Checks, x)
		}
	}
	standing.Count()
	n := standing.Summary
	failing := bySubject(standing.Checks, func(x verdict.Check) bool { return x.Result == verdict.Fails })
	conditions := "in the gusts of the file"
	if g := c.gusts(); g != "" {
		conditions = "in gusts up to " + g
	}
	var list []string
	switch {
	case n.Fails+n.Holds == 0:
		list = append(list, "Nothing was computed that says whether it stands.")
	case n.Fails > 0:
		list = append(list, fmt.Sprintf("As described, it may. Of %d checks on standing, %s %s: %s.", n.Holds+n.Fails+n.Unchecked,
			counted(n.Fails, "fails", "fail"), conditions, few(failing, mostNamed)))
	default:
		list = append(list, fmt.Sprintf("No computed check of standing fails %s: %s under the assumptions of this sheet.", conditions, counted(n.Holds, "holds", "hold")))
	}
	if least := nearest(standing.Checks); least != nil {
		needs, has := least.Figures()
		list[0] += fmt.Sprintf(" Closest to its limit: %s of %s, which needs %s %s and has %s.", least.What, printable(least.Subject), least.Sense, needs, has)
	}
	if n.Unchecked > 0 {
		list[0] += fmt.Sprintf(" %s not computed.", counted(n.Unchecked, "check on standing was", "checks on standing were"))
	}
	return list
}

// nearest is the check with the least margin.
func nearest(checks []verdict.Check) *verdict.Check {
	var least *verdict.Check
	margin := math.Inf(1)
	for i := range checks {
		x := &checks[i]
		if x.Needs == nil || x.Has == nil || x.Sense != verdict.AtLeast || *x.Needs <= 0 {
			continue
		}
		if m := *x.Has / *x.Needs; m < margin {
			least, margin = x, m
		}
	}
	return least
}

func (c *composer) whatMustBeThere() []string {
	var places, impossible []string
	missing := 0
	for _, x := range c.r.Ballast.Rows {
		if x.Count == nil {
			impossible = append(impossible, fmt.Sprintf("%s (%s)", printable(x.Piece), printable(x.Why)))
			continue
		}
		if *x.Count > 0 {
			places = append(places, fmt.Sprintf("%s in %s, its %s: %d, of which %d are there", printable(x.Unit), printable(x.Piece), printable(x.Section), *x.Count, x.InPlace))
			missing += max(0, *x.Count-x.InPlace)
		}
	}
	var list []string
	switch {
	case len(places) > 0:
		list = append(list, fmt.Sprintf("Ballast of %s in all, %s. Units of %s.", quantity.Format(quantity.Mass(c.r.Ballast.TotalKg), c.s),
			map[bool]string{true: counted(missing, "unit more than is there now", "units more than are there now"), false: "all of it there now"}[missing > 0], few(places, mostNamed)))
	case len(impossible) == 0:
		list = append(list, "No ballast, under the assumptions of this sheet.")
	}
	if len(impossible) > 0 {
		list = append(list, fmt.Sprintf("No amount of ballast will do for %s.", few(impossible, 3)))
	}
	var more []string
	if n := len(c.f.Guys); n > 0 {
		more = append(more, counted(n, "guy with its anchor", "guys with their anchors"))
	}
	braces := 0
	for i := range c.f.Walls {
		if b := c.f.Walls[i].Braces; b != nil {
			braces += b.Count.V
		}
	}
	if braces > 0 {
		more = append(more, counted(braces, "brace", "braces"))
	}
	if n := len(c.f.Gates); n > 0 {
		more = append(more, "a keeper for every leaf, shut and open")
	}
	if len(more) > 0 {
		list = append(list, "Also "+strings.Join(more, ", ")+".")
	}
	return list
}

func (c *composer) whenToClose() []string {
	if len(c.r.Limits.Plan) == 0 {
		return []string{"No gust limit could be computed, so there is no action plan."}
	}
	var steps []string
	for _, x := range c.r.Limits.Plan {
		if x.GustMs <= 0 {
			steps = append(steps, fmt.Sprintf("%s: %s.", x.Short, printable(x.How)))
			continue
		}
		unit := quantity.Unit[quantity.Speed](c.s)
		steps = append(steps, fmt.Sprintf("%s at %s %s forecast, %s %s on a handheld meter at 2 m: %s.", x.Short, below(&x.GustMs, c.s), unit, below(&x.HandheldMs, c.s), unit, printable(x.How)))
	}
	return []string{strings.Join(steps, " ")}
}

func (c *composer) whatPlugsIn() []string {
	if len(c.f.Supplies) == 0 {
		return []string{"No supply is described."}
	}
	var list []string
	for i := range c.f.Supplies {
		s := &c.f.Supplies[i]
		var on []string
		for k := range c.f.Cords {
			if c.f.Cords[k].From.V == s.Name.V {
				on = append(on, printable(c.f.Cords[k].Name.V))
			}
		}
		for k := range c.f.Lamps {
			if c.f.Lamps[k].On.V == s.Name.V {
				on = append(on, printable(c.f.Lamps[k].Name.V))
			}
		}
		text := fmt.Sprintf("Into %s (%s", printable(s.Name.V), quantity.Format(s.Volts.V, c.s))
		for _, b := range c.r.Circuit.Circuits {
			if b.Name == s.Name.V && b.BreakerA != nil {
				text += fmt.Sprintf(", breaker %.0f A, load %.2f A", *b.BreakerA, b.Amps)
			}
		}
		if len(on) == 0 {
			on = []string{"nothing"}
		}
		list = append(list, text+"): "+few(on, mostNamed)+".")
	}
	if len(list) > mostNamed {
		list = append(list[:mostNamed], fmt.Sprintf("And %d more supplies.", len(list)-mostNamed))
	}
	list = []string{strings.Join(list, " ")}
	if failing := bySubject(c.r.Checks, func(x verdict.Check) bool { return x.Kind == verdict.Power && x.Result == verdict.Fails }); len(failing) > 0 {
		list[0] += fmt.Sprintf(" What fails: %s.", few(failing, mostNamed))
	} else {
		list[0] += " No computed check of power fails."
	}
	return list
}

func (c *composer) whatWasNot() []string {
	var whats []string
	subjects := map[string][]string{}
	n := 0
	for _, x := range c.r.Checks {
		if x.Result != verdict.Unchecked {
			continue
		}
		n++
		if !slices.Contains(whats, x.What) {
			whats = append(whats, x.What)
		}
		subjects[x.What] = append(subjects[x.What], printable(x.Subject))
	}
	for i, w := range whats {
		whats[i] = fmt.Sprintf("%s (%s)", w, strings.ReplaceAll(few(subjects[w], 3), "; ", ", "))
	}
	if n == 0 {
		return []string{"Every check that the file asks for was computed. " + notLookedAt}
	}
	return []string{fmt.Sprintf("%s not computed: %s. %s", counted(n, "check was", "checks were"), few(whats, 2*mostNamed), notLookedAt)}
}
