package sheet

import (
	"io"
	"math"
	"strings"

	"galefast/internal/quantity"
	"galefast/internal/verdict"
)

// Hardware prints what each fastener is asked and what it carries, and what was not computed.
func Hardware(w io.Writer, r *verdict.Report, s Style) error {
	p := &printer{w: w, Style: s}
	t := hardwareTable(r, s.System)
	if len(t.rows) == 0 {
		p.line("No hinge, joint, brace, fixing or guy is described.")
		return p.err
	}
	p.table(t)
	p.text("Demand and capacity are those of the worst screw or bolt; of a fixing, a keeper or a guy, of the whole of it. A demand without a capacity is what whatever holds there must hold.", "")
	p.line("")
	p.cautions(r)
	return p.err
}

// hardwareTable has a row for each place where parts or pieces are held together.
func hardwareTable(r *verdict.Report, s quantity.System) *table {
	t := &table{title: "Hardware", most: []int{0, 24, 26}, header: []string{"result", "piece", "item", head[quantity.Force]("demand", s), head[quantity.Force]("capacity", s), "used [%]"},
		right: []bool{false, false, false, true, true, true}}
	force := func(v *float64) string {
		if v == nil {
			return "-"
		}
		return column[quantity.Force](*v, s)
	}
	for _, x := range r.Hardware.Rows {
		used := "-"
		if x.Utilisation != nil {
			used = decimals(math.Ceil(100**x.Utilisation-1e-9), 0)
		}
		t.add(string(x.Result), printable(x.Piece), printable(x.Item), force(x.DemandN), force(x.CapacityN), used)
		switch {
		case x.Result == verdict.Fails:
			t.note(strings.Join(nonEmpty(printable(x.GivesWay), "cure: "+printable(x.Cure)), "; "))
		case x.Why != "":
			t.note(printable(x.Why))
		}
	}
	return t
}
