package sheet

import (
	"cmp"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"galefast/internal/quantity"
	"galefast/internal/verdict"
)

// printing of one SI number in a column of its kind
func column[Q quantity.Quantity](v float64, s quantity.System) string {
	return quantity.Number(Q(v), s)
}

func head[Q quantity.Quantity](name string, s quantity.System) string {
	return fmt.Sprintf("%s [%s]", name, quantity.Unit[Q](s))
}

// decimals prints a number, nothing without a minus.
func decimals(v float64, n int) string {
	text := strconv.FormatFloat(v, 'f', n, 64)
	if strings.Trim(text, "-0.") == "" {
		return strings.TrimPrefix(text, "-")
	}
	return text
}

// Weigh prints the take-off: pieces, then the parts of each.
func Weigh(w io.Writer, r *verdict.Report, s Style) error {
	p := &printer{w: w, Style: s}
	total := 0.0
	for _, piece := range r.Weigh.Pieces {
		total += piece.MassKg
	}
	p.table(piecesTable(r, s.System))
	p.line("all pieces together %s", quantity.Format(quantity.Mass(total), s.System))
	p.line("")
	for _, t := range partsTables(r, s.System) {
		p.table(t)
	}
	return p.err
}

func piecesTable(r *verdict.Report, s quantity.System) *table {
	pieces := &table{title: "Pieces, without ballast", most: []int{24},
		header: []string{"piece", "kind", head[quantity.Mass]("mass", s), head[quantity.Mass]("light", s), head[quantity.Mass]("heavy", s),
			head[quantity.Length]("centre x", s), head[quantity.Length]("y", s), head[quantity.Length]("z", s), "from"},
		right: []bool{false, false, true, true, true, true, true, true, false}}
	for _, piece := range r.Weigh.Pieces {
		from := fmt.Sprintf("parts ±%.0f %%", 100*piece.Tolerance)
		if piece.Weighed {
			from = "scale"
		}
		pieces.add(printable(piece.Name), piece.Kind, column[quantity.Mass](piece.MassKg, s), column[quantity.Mass](piece.LightKg, s), column[quantity.Mass](piece.HeavyKg, s),
			column[quantity.Length](piece.CentreM[0], s), column[quantity.Length](piece.CentreM[1], s), column[quantity.Length](piece.CentreM[2], s), from)
		if piece.Estimated != nil {
			pieces.note(fmt.Sprintf("its parts were estimated at %s; the scale is used", quantity.Format(quantity.Mass(*piece.Estimated), s)))
		}
	}
	return pieces
}

// partsTables has a table for each piece with a parts list.
func partsTables(r *verdict.Report, s quantity.System) []*table {
	var list []*table
	for _, piece := range r.Weigh.Pieces {
		if len(piece.Parts) == 0 {
			continue
		}
		parts := &table{title: "Parts of " + printable(piece.Name), header: []string{"section", "part", "count", head[quantity.Mass]("mass", s), "certainty"},
			right: []bool{false, false, true, true, false}, most: []int{16, 36, 0, 0, 28}}
		for _, part := range piece.Parts {
			parts.add(printable(part.Section), printable(part.Name), strconv.Itoa(part.Count), column[quantity.Mass](part.MassKg, s), part.Certainty)
		}
		list = append(list, parts)
	}
	return list
}

// Wind prints the wind on every surface, a table for each piece and state, from the
// direction that governs it.
func Wind(w io.Writer, r *verdict.Report, s Style) error {
	p := &printer{w: w, Style: s}
	for _, t := range windTables(r, s.System) {
		p.table(t)
	}
	if len(r.Wind.Rows) == 0 {
		p.line("No surface stands in the wind.")
	}
	p.text("Cases of one surface are alternatives; the one that burdens most is taken. q is at the height that its rule asks for. `galefast explain` works any check by hand, with sources.", "")
	p.cautions(r)
	return p.err
}

// windTables has a table for each piece, state and direction.
func windTables(r *verdict.Report, s quantity.System) []*table {
	var list []*table
	rows := r.Wind.Rows
	for len(rows) > 0 {
		first := rows[0]
		n := 1
		for n < len(rows) && rows[n].Piece == first.Piece && rows[n].State == first.State && rows[n].FromDeg == first.FromDeg {
			n++
		}
		list = append(list, windTable(rows[:n], s))
		rows = rows[n:]
	}
	return list
}

func windTable(rows []verdict.WindRow, s quantity.System) *table {
	first, height := rows[0], "Kz"
	if first.Ce != nil {
		height = "ce"
	}
	t := &table{title: fmt.Sprintf("%s, state %s, wind %s from %s", printable(first.Piece), first.State, quantity.Format(quantity.Speed(first.SpeedMs), s), verdict.Bearing(&first.FromDeg)), most: []int{20},
		header: []string{"surface", "case", height, head[quantity.Pressure]("q", s), "Cf", head[quantity.Area]("A", s), head[quantity.Force]("F", s), head[quantity.Length]("at z", s), head[quantity.Moment]("F·z", s)},
		right:  []bool{false, false, true, true, true, true, true, true, true}}
	for _, x := range rows {
		t.add(printable(x.Surface), x.Case, optional(cmp.Or(x.Kz, x.Ce), 3), column[quantity.Pressure](x.QPa, s), decimals(x.Cf, 3),
			column[quantity.Area](x.AreaM2, s), column[quantity.Force](math.Hypot(x.ForceN[0], x.ForceN[1]), s), column[quantity.Length](x.ArmM, s), column[quantity.Moment](x.Moment, s))
	}
	return t
}

// Ballast prints the schedule and the other cures.
func Ballast(w io.Writer, r *verdict.Report, s Style) error {
	p := &printer{w: w, Style: s}
	b := &r.Ballast
	t := ballastTable(r, s.System)
	if len(t.rows) == 0 {
		p.line("No piece needs ballast under the assumptions of `galefast check`.")
		p.line("")
	}
	p.table(t)
	if b.TotalKg > 0 {
		p.line("in all %s", quantity.Format(quantity.Mass(b.TotalKg), s.System))
		p.line("")
	}
	if len(b.Alternatives) > 0 {
		p.line("%s", p.bold("Instead of more ballast, each enough for what it names"))
		for _, a := range b.Alternatives {
			p.text(fmt.Sprintf("- %s: %s", printable(a.Piece), printable(a.Text)), "  ")
		}
		p.line("")
	}
	p.cautions(r)
	return p.err
}

func ballastTable(r *verdict.Report, s quantity.System) *table {
	t := &table{title: "Ballast that must be there", most: []int{20, 14, 20},
		header: []string{"piece", "where", "unit", "units", "there now", "missing", head[quantity.Mass]("mass", s)},
		right:  []bool{false, false, false, true, true, true, true}}
	for _, x := range r.Ballast.Rows {
		if !x.Possible {
			t.add(printable(x.Piece), printable(x.Section), printable(x.Unit), "-", "-", "-", "-")
			t.note(x.Why)
			continue
		}
		t.add(printable(x.Piece), printable(x.Section), printable(x.Unit), strconv.Itoa(*x.Count), strconv.Itoa(x.InPlace), strconv.Itoa(*x.Count-x.InPlace), column[quantity.Mass](*x.MassKg, s))
		why, gone := "", ""
		if x.Why != "" {
			why = "asked for by " + x.Why
		}
		if x.OneGone != nil {
			gone = fmt.Sprintf("with one of them missing, %.0f %% of the required factor is left", math.Floor(100**x.OneGone+1e-6))
		}
		t.note(strings.Join(nonEmpty(why, gone), "; "))
	}
	return t
}

// Limits prints the gust at which each piece reaches its factors, and the plan.
func Limits(w io.Writer, r *verdict.Report, s Style) error {
	p := &printer{w: w, Style: s}
	p.table(limitsTable(r, s.System))
	p.table(planTable(r, s.System))
	p.text(gustsAre(r), "")
	p.text(reaches(r, s.System), "")
	p.cautions(r)
	return p.err
}

// reaches says how far each piece reaches from its foot when it falls.
func reaches(r *verdict.Report, s quantity.System) string {
	var list []string
	seen := map[string]bool{}
	for _, x := range r.Limits.Rows {
		if !seen[x.Piece] {
			seen[x.Piece] = true
			list = append(list, fmt.Sprintf("%s %s", printable(x.Piece), quantity.Format(quantity.Length(x.ReachM), s)))
		}
	}
	if len(list) == 0 {
		return ""
	}
	return "A piece that falls reaches this far from its foot: " + strings.Join(list, ", ") + "."
}

func limitsTable(r *verdict.Report, s quantity.System) *table {
	unit := quantity.Unit[quantity.Speed](s)
	t := &table{title: "Gust at which each piece reaches its required factors", most: []int{20},
		header: []string{"piece", "state", "forecast [" + unit + "]", "at 2 m [" + unit + "]", "from", "governed by"},
		right:  []bool{false, false, true, true, true, false}}
	for _, x := range r.Limits.Rows {
		governs, at := x.Governs, ""
		if len(governs) > longGoverns {
			governs, at = "as below", governs
		}
		t.add(printable(x.Piece), x.State, below(x.GustMs, s), below(x.HandheldMs, s), verdict.Bearing(x.FromDeg), printable(governs))
		short := ""
		if x.GustMs != nil && x.WantedMs != nil && *x.GustMs < *x.WantedMs {
			short = fmt.Sprintf("short of the %s that the file asks for", quantity.Format(quantity.Speed(*x.WantedMs), s))
		}
		t.note(strings.Join(nonEmpty(printable(at), x.Why, short), "; "))
	}
	return t
}

// longGoverns is the length of what governs a limit that goes below its row.
const longGoverns = 36

// planTable is the action plan.
func planTable(r *verdict.Report, s quantity.System) *table {
	unit := quantity.Unit[quantity.Speed](s)
	plan := &table{title: "Action plan", header: []string{"forecast [" + unit + "]", "at 2 m [" + unit + "]", "do"}, right: []bool{true, true, false}}
	for _, x := range r.Limits.Plan {
		plan.add(below(&x.GustMs, s), below(&x.HandheldMs, s), x.Short)
		plan.note(printable(x.How) + looks(x.Looks))
	}
	return plan
}

func looks(text string) string {
	if text == "" {
		return ""
	}
	return " (" + text + ")"
}

// below prints a limit rounded down.
func below(v *float64, s quantity.System) string {
	if v == nil {
		return "-"
	}
	unit := 1.0
	if s == quantity.US {
		unit = 0.44704
	}
	return column[quantity.Speed](math.Floor(*v/unit*10+1e-6)/10*unit, s)
}

func optional(v *float64, n int) string {
	if v == nil {
		return "-"
	}
	return decimals(*v, n)
}

// CheckExplained prints the whole job with the working of every computed check.
func CheckExplained(w io.Writer, r *verdict.Report, s Style) error {
	if err := Check(w, r, s); err != nil {
		return err
	}
	p := &printer{w: w, Style: s}
	p.line("")
	for i := range r.Checks {
		if c := &r.Checks[i]; c.Result != verdict.Unchecked {
			p.working(c)
			p.line("")
		}
	}
	p.text(unitsNote, "")
	return p.err
}

// Explain prints the working of one check.
func Explain(w io.Writer, r *verdict.Report, c *verdict.Check, s Style) error {
	p := &printer{w: w, Style: s}
	p.working(c)
	p.line("")
	p.text(unitsNote, "")
	p.line("")
	p.cautions(r)
	return p.err
}

const unitsNote = "Numbers of the working are SI: m, kg, N, Pa, V, A. 1 lbf = 4.448 N, 1 ft = 0.3048 m, 1 mph = 0.447 m/s, 1 psf = 47.88 Pa."

// ExplainWind prints the working of one row of the wind table.
func ExplainWind(w io.Writer, r *verdict.Report, row *verdict.WindRow, s Style) error {
	p := &printer{w: w, Style: s}
	p.line("%s", p.bold(printable(row.ID)))
	p.line("state %s, wind from %s", row.State, verdict.Bearing(&row.FromDeg))
	p.line("")
	p.steps(row.Working)
	p.line("")
	p.text(unitsNote, "")
	p.line("")
	p.cautions(r)
	return p.err
}

// steps prints a working.
func (p *printer) steps(steps []verdict.Step) {
	for i, step := range steps {
		p.text(fmt.Sprintf("%d. %s", i+1, printable(step.Text)), "")
		p.text(printable(step.Formula), "     ")
		p.text(printable(step.Numbers), "     ")
		if step.Source != "" {
			p.text("source: "+printable(step.Source), "     ")
		}
		if step.At != "" {
			p.text("from: "+printable(step.At), "     ")
		}
	}
}

func (p *printer) working(c *verdict.Check) {
	p.line("%s", p.bold(printable(c.ID)))
	for _, text := range outcome(c, p.System.String()) {
		p.text(text, "")
	}
	p.line("")
	p.steps(c.Working)
	if len(c.Working) == 0 {
		p.line("There is no working: it was not computed.")
	}
	if c.Source != "" {
		p.text("Source: "+c.Source, "")
	}
	if c.Result == verdict.Fails && c.Cure != "" {
		p.text("Cure: "+printable(c.Cure), "")
	}
}

// List prints one table of the catalog. What is a sentence (other names, source,
// certainty) stands under its row.
func List(w io.Writer, header []string, rows [][]string, s Style) error {
	p := &printer{w: w, Style: s}
	var columns, words []int
	for i, h := range header {
		if h == "also" || i >= len(header)-2 {
			words = append(words, i)
		} else {
			columns = append(columns, i)
		}
	}
	t := &table{}
	for _, i := range columns {
		numeric := len(rows) > 0
		for _, row := range rows {
			if _, err := strconv.ParseFloat(row[i], 64); err != nil && row[i] != "" {
				numeric = false
			}
		}
		t.header, t.right = append(t.header, header[i]), append(t.right, numeric)
	}
	for _, row := range rows {
		var cells, notes []string
		for _, i := range columns {
			cells = append(cells, printable(row[i]))
		}
		for _, i := range words {
			if text := printable(row[i]); text != "" && header[i] == "also" {
				notes = append(notes, "also "+text)
			} else {
				notes = append(notes, text)
			}
		}
		t.add(cells...)
		t.note(strings.Join(nonEmpty(notes...), "; "))
	}
	p.table(t)
	return p.err
}
