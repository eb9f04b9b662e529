package sheet

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"galefast/internal/quantity"
	"galefast/internal/verdict"
)

// mostNamed is how many things an answer on the first page names before it says how
// many more there are.
const mostNamed = 4

// questions answers on the first page what the manager of a venue asks.
func (c *composer) questions() {
	for _, q := range []struct {
		text   string
		answer func() reply
	}{
		{"Will it fall?", c.willItFall},
		{"What must be there?", c.whatMustBeThere},
		{"When do we close?", c.whenToClose},
		{"What plugs in where?", c.whatPlugsIn},
		{"What was not checked?", c.whatWasNot},
	} {
		c.head(2, q.text)
		a := q.answer()
		c.say("%s", a.text)
		if len(a.list) > mostNamed {
			a.list = append(a.list[:mostNamed:mostNamed], fmt.Sprintf("and %d more, named below", len(a.list)-mostNamed))
		}
		if len(a.list) > 0 {
			c.add(items{a.list, false})
		}
		if a.after != "" {
			c.say("%s", a.after)
		}
	}
}

// reply is an answer on the first page: a sentence, what it names, and what follows.
type reply struct {
	text  string
	list  []string
	after string
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

func (c *composer) willItFall() reply {
	var standing verdict.Report
	for _, x := range c.r.Checks {
		if x.Kind == verdict.Standing {
			standing.Checks = append(standing.Checks, x)
		}
	}
	standing.Count()
	n := standing.Summary
	conditions := "in the gusts of the file"
	if g := c.gusts(); g != "" {
		conditions = "in gusts up to " + g
	}
	var a reply
	switch {
	case n.Fails+n.Holds == 0:
		a.text = "Nothing was computed that says whether it stands."
	case n.Fails > 0:
		a.text = fmt.Sprintf("As described, it may: of %d checks on standing, %s %s.", n.Holds+n.Fails+n.Unchecked, counted(n.Fails, "fails", "fail"), conditions)
		a.list = bySubject(standing.Checks, func(x verdict.Check) bool { return x.Result == verdict.Fails })
	default:
		a.text = fmt.Sprintf("No computed check of standing fails %s: %s under the assumptions of this sheet.", conditions, counted(n.Holds, "holds", "hold"))
	}
	if least := nearest(standing.Checks); least != nil {
		needs, has := least.Figures()
		a.text += fmt.Sprintf(" The least margin: %s of %s needs %s %s and has %s.", least.What, printable(least.Subject), least.Sense, needs, has)
	}
	if n.Unchecked > 0 {
		a.text += fmt.Sprintf(" %s not computed.", counted(n.Unchecked, "check on standing was", "checks on standing were"))
	}
	return a
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

func (c *composer) whatMustBeThere() reply {
	var a reply
	impossible, missing := 0, 0
	lacks := func(x verdict.BallastRow) int {
		if x.Count == nil {
			return math.MaxInt
		}
		return max(0, *x.Count-x.InPlace)
	}
	rows := slices.Clone(c.r.Ballast.Rows) // what lacks most first
	slices.SortStableFunc(rows, func(a, b verdict.BallastRow) int { return cmp.Compare(lacks(b), lacks(a)) })
	for _, x := range rows {
		switch {
		case x.Count == nil:
			impossible++
			a.list = append(a.list, fmt.Sprintf("%s: no amount of ballast will do; %s", printable(x.Piece), printable(x.Why)))
		case *x.Count > 0:
			a.list = append(a.list, fmt.Sprintf("%s, %s: %d of %s, %d there now", printable(x.Piece), printable(x.Section), *x.Count, printable(x.Unit), x.InPlace))
			missing += lacks(x)
		}
	}
	switch total := quantity.Format(quantity.Mass(c.r.Ballast.TotalKg), c.s); {
	case len(a.list) == 0:
		a.text = "No ballast, under the assumptions of this sheet."
	case missing > 0:
		a.text = fmt.Sprintf("Ballast of %s in all, %s.", total, counted(missing, "unit more than is there now", "units more than are there now"))
	case impossible == len(a.list):
		a.text = "More than ballast:"
	default:
		a.text = fmt.Sprintf("Ballast of %s in all, all of it there in the description.", total)
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
	if len(c.f.Gates) > 0 {
		more = append(more, "a keeper for every leaf, shut and open")
	}
	if len(more) > 0 {
		a.after = "Also " + strings.Join(more, ", ") + "."
	}
	return a
}

func (c *composer) whenToClose() reply {
	if len(c.r.Limits.Plan) == 0 {
		return reply{text: "No gust limit could be computed, so there is no action plan."}
	}
	a := reply{text: "By 3-second gusts, as forecast for 10 m (33 ft) over open ground and as a handheld meter shows them at 2 m (6.6 ft):"}
	unit := quantity.Unit[quantity.Speed](c.s)
	for _, x := range c.r.Limits.Plan {
		at := fmt.Sprintf("%s %s forecast, %s %s at 2 m", below(&x.GustMs, c.s), unit, below(&x.HandheldMs, c.s), unit)
		if x.GustMs <= 0 {
			at = "in still air"
		}
		a.list = append(a.list, fmt.Sprintf("%s, %s: %s", x.Short, at, printable(x.How)))
	}
	return a
}

func (c *composer) whatPlugsIn() reply {
	if len(c.f.Supplies) == 0 {
		return reply{text: "No supply is described."}
	}
	a := reply{text: "Into each outlet:"}
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
		text := fmt.Sprintf("%s (%s", printable(s.Name.V), quantity.Format(s.Volts.V, c.s))
		for _, b := range c.r.Circuit.Circuits {
			if b.Name == s.Name.V && b.BreakerA != nil {
				text += fmt.Sprintf(", breaker %.0f A, load %.2f A", *b.BreakerA, b.Amps)
			}
		}
		if len(on) == 0 {
			on = []string{"nothing"}
		}
		a.list = append(a.list, text+"): "+few(on, mostNamed))
	}
	failing := bySubject(c.r.Checks, func(x verdict.Check) bool { return x.Kind == verdict.Power && x.Result == verdict.Fails })
	if len(failing) > 0 {
		a.after = fmt.Sprintf("What fails: %s.", few(failing, mostNamed))
	} else {
		a.after = "No computed check of power fails."
	}
	return a
}

func (c *composer) whatWasNot() reply {
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
		whats[i] = fmt.Sprintf("%s (%s)", w, few(subjects[w], 3))
	}
	if n == 0 {
		return reply{text: "Every check that the file asks for was computed.", after: notLookedAt}
	}
	return reply{text: fmt.Sprintf("%s not computed: %s.", counted(n, "check was", "checks were"), few(whats, 2*mostNamed)), after: notLookedAt}
}
