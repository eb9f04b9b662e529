package sheet

import (
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"galefast/internal/quantity"
	"galefast/internal/verdict"
)

// Style is how text is printed.
type Style struct {
	System quantity.System
	Color  bool // bold, besides the words that carry the meaning
}

// printer gathers output and keeps the first error.
type printer struct {
	w io.Writer
	Style
	err error
}

func (p *printer) line(format string, args ...any) {
	if p.err == nil {
		_, p.err = fmt.Fprintf(p.w, format+"\n", args...)
	}
}

func (p *printer) text(text, indent string) {
	if p.err == nil {
		_, p.err = io.WriteString(p.w, wrap(text, indent))
	}
}

func (p *printer) table(t *table) {
	if p.err == nil {
		bold := *t
		bold.title = p.bold(t.title)
		p.err = bold.write(p.w)
	}
}

func (p *printer) bold(s string) string {
	if p.Color && s != "" {
		return "\x1b[1m" + s + "\x1b[0m"
	}
	return s
}

// Check prints the whole job: the answer, the tables, what is not checked, the
// assumptions and the cautions.
func Check(w io.Writer, r *verdict.Report, s Style) error {
	p := &printer{w: w, Style: s}
	p.line("%s", p.bold(printable(r.Title)))
	p.text(answer(r), "")
	p.line("")
	for _, t := range checkTables(r) {
		p.table(t)
	}
	if r.PlanInForce != "" {
		p.text(fmt.Sprintf("The wind was lowered by the rule %s, which holds only while this plan is in force, in writing and with a name to it:", r.PlanInForce), "")
		p.table(planTable(r, s.System))
	}
	p.uncheckedList(r)
	p.assumptions(r)
	p.cautions(r)
	return p.err
}

// group is a table of checks of one kind and unit.
type group struct {
	title string
	kind  verdict.Kind
	unit  string
}

// groups are the tables of checks, in the order of reading. Checks of another kind or
// unit come after them, under the names that the record has for them.
var groups = []group{
	{"Standing, factors", verdict.Standing, "1"},
	{"Hardware", verdict.Hardware, "1"},
	{"Power, currents", verdict.Power, "A"},
	{"Power, voltage drop", verdict.Power, "%"},
	{"Power, voltages", verdict.Power, "V"},
	{"Power, fault times", verdict.Power, "s"},
	{"Power, generators", verdict.Power, "W"},
	{"Power, apparent power", verdict.Power, "VA"},
	{"Power, batteries", verdict.Power, "h"},
	{"Power, other", verdict.Power, "1"},
	{"The way through, lengths", verdict.Way, "m"},
	{"The way through, people", verdict.Way, "people"},
	{"The way through, other", verdict.Way, "1"},
	{"Fire, foam", verdict.Fire, "kg"},
	{"Fire, distances", verdict.Fire, "m"},
	{"Fire, heat release", verdict.Fire, "W"},
}

// checkTables are the computed checks of some kinds, or of all; each in one table.
func checkTables(r *verdict.Report, kinds ...verdict.Kind) []*table {
	list := slices.Clone(groups)
	for _, c := range r.Checks {
		if !slices.ContainsFunc(list, func(g group) bool { return g.kind == c.Kind && g.unit == c.Unit }) {
			list = append(list, group{fmt.Sprintf("%s%s, in %s", strings.ToUpper(string(c.Kind[:1])), c.Kind[1:], c.Unit), c.Kind, c.Unit})
		}
	}
	var tables []*table
	for _, g := range list {
		var checks []verdict.Check
		for _, c := range r.Checks {
			if c.Kind == g.kind && c.Unit == g.unit && c.Result != verdict.Unchecked {
				checks = append(checks, c.In(r.Units))
			}
		}
		if len(checks) > 0 && (len(kinds) == 0 || slices.Contains(kinds, g.kind)) {
			tables = append(tables, checksTable(g.title, checks[0].Unit, checks))
		}
	}
	return tables
}

// answer is the whole job in one sentence.
func answer(r *verdict.Report) string {
	s := r.Summary
	counts := fmt.Sprintf("%d of %d checks fail, %d hold, %d unchecked.", s.Fails, s.Fails+s.Holds+s.Unchecked, s.Holds, s.Unchecked)
	switch {
	case s.Fails > 0:
		return counts + " As described it is not fit to open."
	case s.Unchecked > 0:
		return counts + " What was computed holds under the assumptions below; what is unchecked was not computed."
	}
	return counts + " Every check holds under the assumptions below."
}

// checksTable is one group, failing rows first, with what cures each.
func checksTable(title, unit string, checks []verdict.Check) *table {
	suffix := ""
	if unit != "1" {
		suffix = " [" + unit + "]"
	}
	numbers := false
	for _, c := range checks {
		numbers = numbers || c.Needs != nil
	}
	t := &table{title: title, header: []string{"result", "what", "check"}, right: []bool{false, false, false}, most: []int{0, 30}}
	if numbers {
		t.header = append(t.header, "", "needs"+suffix, "has"+suffix)
		t.right = append(t.right, false, true, true)
	}
	governed := false
	for _, c := range checks {
		governed = governed || c.State != ""
	}
	if governed {
		t.header = append(t.header, "state", "wind from")
		t.right = append(t.right, false, true)
	}
	for _, c := range verdict.FailingFirst(checks) {
		row := []string{string(c.Result), printable(c.Subject), c.What}
		if numbers {
			needs, has := c.Figures()
			sense := string(c.Sense)
			if c.Needs == nil {
				sense = "-"
			}
			row = append(row, sense, needs, has)
		}
		if governed {
			row = append(row, c.State, verdict.Bearing(c.FromDeg))
		}
		t.add(row...)
		if c.Result == verdict.Fails {
			t.note(printable(strings.Join(nonEmpty(c.Mechanism, c.Why, "cure: "+c.Cure), "; ")))
		}
	}
	return t
}

func nonEmpty(words ...string) []string {
	var list []string
	for _, w := range words {
		if w != "" && w != "cure: " {
			list = append(list, w)
		}
	}
	return list
}

// uncheckedList names every check that was not computed, with its reason.
func (p *printer) uncheckedList(r *verdict.Report) {
	if r.Summary.Unchecked == 0 {
		return
	}
	p.line("%s", p.bold("Unchecked: not computed, neither a pass nor a failure"))
	for _, c := range r.Checks {
		if c.Result == verdict.Unchecked {
			p.text(fmt.Sprintf("- %s: %s", printable(c.ID), printable(c.Why)), "  ")
		}
	}
	p.line("")
}

func (p *printer) assumptions(r *verdict.Report) {
	if len(r.Assumptions) == 0 {
		return
	}
	p.line("%s", p.bold("Assumptions"))
	for _, a := range r.Assumptions {
		source := a.Certainty
		if a.Source != "" {
			source = a.Source + "; " + a.Certainty
		}
		p.text(fmt.Sprintf("- %s [%s]", printable(a.Text), printable(source)), "  ")
	}
	p.line("")
}

func (p *printer) cautions(r *verdict.Report) {
	p.line("%s", p.bold("Cautions"))
	for _, c := range r.Cautions {
		p.text("- "+c, "  ")
	}
}

// printable shows control characters and direction marks of a user's text instead of
// obeying them.
func printable(s string) string {
	return strings.Map(func(r rune) rune {
		if !strconv.IsPrint(r) {
			return '�'
		}
		return r
	}, s)
}
