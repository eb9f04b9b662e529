package sheet

import (
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"

	"galefast/internal/quantity"
	"galefast/internal/verdict"
)

// Way prints what was measured along the ways through, and the checks of them and of fire.
func Way(w io.Writer, r *verdict.Report, s Style) error {
	p := &printer{w: w, Style: s}
	if len(r.Passage.Rows) == 0 {
		p.line("No way is described.")
		p.line("")
	}
	for _, t := range wayTables(r, s.System) {
		p.table(t)
	}
	for _, t := range checkTables(r, verdict.Way, verdict.Fire) {
		p.table(t)
	}
	p.uncheckedList(ofKinds(r, verdict.Way, verdict.Fire))
	p.text("Figures are those of building codes, by people who are not at the place. The authority decides which of them apply, and what else; `galefast explain` shows each with its clause.", "")
	p.cautions(r)
	return p.err
}

// ofKinds is the report with the checks of some kinds alone.
func ofKinds(r *verdict.Report, kinds ...verdict.Kind) *verdict.Report {
	own := *r
	own.Checks = slices.DeleteFunc(slices.Clone(r.Checks), func(c verdict.Check) bool { return !slices.Contains(kinds, c.Kind) })
	own.Count()
	return &own
}

// wayTables are the tables of the ways through.
func wayTables(r *verdict.Report, s quantity.System) []*table {
	ways := &table{title: "Ways through, at their narrowest and lowest", most: []int{24},
		header: []string{"way", "leaves", "clear width", "asked for", "headroom", "asked for", "people", "room for"},
		right:  []bool{false, false, true, true, true, true, true, true}}
	for _, x := range r.Passage.Rows {
		ways.add(printable(x.Way), x.Leaves, short(x.WidthM, s), quantity.Format(quantity.Length(x.NeedsM), s), short(x.HeadroomM, s), quantity.Format(quantity.Length(x.HeadroomNeeds), s), count(x.People), count(x.Capacity))
		ways.note(printable(strings.Join(nonEmpty(narrowest(&x, s), under(&x), x.Why), "; ")))
	}
	crossings := &table{title: "What crosses a way", most: []int{24, 30}, header: []string{"way", "what", "kind", "along", "east", "north", "lies"}, right: []bool{false, false, false, true, true, true, false}}
	for _, x := range r.Passage.Crossings {
		crossings.add(printable(x.Way), printable(x.Name), x.Kind, quantity.Format(quantity.Length(x.AlongM), s), quantity.Format(quantity.Length(x.AtM[0]), s), quantity.Format(quantity.Length(x.AtM[1]), s), printable(x.Lies))
	}
	reach := &table{title: "If a piece falls", most: []int{24, 24}, header: []string{"way", "piece", "from the line", "reach", "falls across"}, right: []bool{false, false, true, true, false}}
	for _, x := range r.Passage.Reach {
		reach.add(printable(x.Way), printable(x.Piece), short(&x.DistanceM, s), quantity.Format(quantity.Length(x.ReachM), s), map[bool]string{true: "yes", false: "no"}[x.Across])
	}
	return []*table{ways, crossings, reach}
}

// narrowest tells where a way is narrowest.
func narrowest(x *verdict.PassageRow, s quantity.System) string {
	if x.AlongM == nil || len(x.Between) == 0 {
		return ""
	}
	at := func(p *[2]float64) string {
		return fmt.Sprintf("%s east, %s north", quantity.Format(quantity.Length(p[0]), s), quantity.Format(quantity.Length(p[1]), s))
	}
	along := quantity.Format(quantity.Length(*x.AlongM), s)
	if len(x.Between) == 1 {
		return fmt.Sprintf("barred by %s, %s along (%s)", x.Between[0], along, at(x.FromM))
	}
	return fmt.Sprintf("%s along, between %s (%s) and %s (%s)", along, x.Between[0], at(x.FromM), x.Between[1], at(x.ToM))
}

func under(x *verdict.PassageRow) string {
	if x.Under == "" {
		return ""
	}
	return "lowest under " + x.Under
}

// short prints a length rounded down to an eighth of an inch or a centimetre.
func short(v *float64, s quantity.System) string {
	if v == nil {
		return "-"
	}
	step := 0.01
	if s == quantity.US {
		step = 0.0254 / 8
	}
	return quantity.Format(quantity.Length(math.Floor(*v/step+1e-6)*step), s)
}

func count(n *int) string {
	if n == nil {
		return "-"
	}
	return strconv.Itoa(*n)
}
