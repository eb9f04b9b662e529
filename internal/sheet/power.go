package sheet

import (
	"fmt"
	"io"
	"math"
	"slices"
	"strings"

	"galefast/internal/quantity"
	"galefast/internal/verdict"
)

// Power prints circuits, cords and lamps, and the checks on them; the plan, where it was asked for.
func Power(w io.Writer, r *verdict.Report, s Style) error {
	p := &printer{w: w, Style: s}
	if len(r.Circuit.Nodes) == 0 && len(r.Circuit.Checks) == 0 {
		p.line("No supply is described.")
		return p.err
	}
	if plan := r.Circuit.Plan; plan != nil {
		p.powerPlan(plan)
		p.cautions(r)
		return p.err
	}
	p.power(r)
	p.cautions(r)
	return p.err
}

// QuickCord prints the answer about one cord that was described by flags, with what was assumed.
func QuickCord(w io.Writer, r *verdict.Report, s Style, explain bool) error {
	p := &printer{w: w, Style: s}
	own := ofPower(r)
	p.line("%s", p.bold(printable(r.Title)))
	answer := "Every computed check holds under the assumptions below"
	if n := own.Summary.Fails; n > 0 {
		answer = fmt.Sprintf("%d of %d computed checks fail", n, n+own.Summary.Holds)
	}
	p.text(fmt.Sprintf("%s; %d unchecked.", answer, own.Summary.Unchecked), "")
	p.line("")
	p.power(r)
	if explain {
		for i := range own.Checks {
			if c := &own.Checks[i]; c.Result != verdict.Unchecked {
				p.working(c)
				p.line("")
			}
		}
		p.text(unitsNote, "")
		p.line("")
	}
	p.assumptions(r)
	p.cautions(r)
	return p.err
}

// power prints the tables, the checks, and what was not computed.
func (p *printer) power(r *verdict.Report) {
	for _, t := range powerTables(r, p.System) {
		p.table(t)
	}
	for _, t := range checkTables(r, verdict.Power) {
		p.table(t)
	}
	p.uncheckedList(ofPower(r))
}

// ofPower is the report with the checks of power alone.
func ofPower(r *verdict.Report) *verdict.Report {
	own := *r
	own.Checks = slices.DeleteFunc(slices.Clone(r.Checks), func(c verdict.Check) bool { return c.Kind != verdict.Power })
	own.Count()
	return &own
}

// powerTables are the tables of the supply trees.
func powerTables(r *verdict.Report, s quantity.System) []*table {
	c := &r.Circuit
	circuits := &table{title: "Circuits", most: []int{30}, header: []string{"supply", "breaker [A]", "load [A]", "on 3 h or more [A]", "of the breaker [%]"}, right: []bool{false, true, true, true, true}}
	for _, x := range c.Circuits {
		circuits.add(printable(x.Name), optional(x.BreakerA, 0), decimals(x.Amps, 2), decimals(x.ContinuousA, 2), optional(x.Percent, 0))
		if len(x.LegsA) > 0 {
			var legs []string
			for _, a := range x.LegsA {
				legs = append(legs, decimals(a, 2))
			}
			circuits.note(fmt.Sprintf("legs %s A, neutral %s A; the row is the leg that asks for most", strings.Join(legs, " and "), optional(x.NeutralA, 2)))
		}
	}
	runs := &table{title: "Cords", most: []int{12, 18}, header: []string{"cord", "fed from", "size", "needs", head[quantity.Length]("length", s), head[quantity.Length]("longest", s), "load [A]", "rated [A]"},
		right: []bool{false, false, false, false, true, true, true, true}}
	for _, x := range c.Runs {
		needs := "none"
		if x.NeedsGauge != nil {
			needs = *x.NeedsGauge
		}
		runs.add(printable(x.Name), printable(x.From), x.Gauge, needs, column[quantity.Length](x.LengthM, s), reach(x.LongestM, s), optional(x.Amps, 2), optional(x.AmpacityA, 1))
		runs.note(strings.Join(nonEmpty(x.Why, sizes(&x, s)), "; "))
	}
	nodes := &table{title: "Voltage", most: []int{30}, header: []string{"at", "kind", "volts [V]", "drop [%]", "amps [A]", "fault [A]"}, right: []bool{false, false, true, true, true, true}}
	for _, x := range c.Nodes {
		nodes.add(printable(x.Name), x.Kind, optional(x.Volts, 1), optional(x.DropPercent, 2), optional(x.Amps, 2), optional(x.FarFaultA, 0))
	}
	energy := &table{title: "Energy of a night", most: []int{30}, header: []string{"supply", "energy [kWh]", "fuel [L]", "battery lasts [h]"}, right: []bool{false, true, true, true}}
	for _, x := range c.Energy {
		energy.add(printable(x.Name), optional(x.KWh, 2), optional(x.FuelL, 1), optional(x.BatteryH, 1))
		energy.note(printable(x.Why))
	}
	return []*table{circuits, runs, nodes, energy}
}

// reach prints the greatest length of a cord, rounded down.
func reach(v *float64, s quantity.System) string {
	if v == nil {
		return "-"
	}
	return column[quantity.Length](floorLength(*v, s), s)
}

// floorLength rounds a length down to a whole foot or a tenth of a metre.
func floorLength(v float64, s quantity.System) float64 {
	step := 0.1
	if s == quantity.US {
		step = 0.3048
	}
	return math.Floor(v/step+1e-9) * step
}

// sizes tells how long a cord may be with the next sizes from the least one on.
func sizes(x *verdict.Run, s quantity.System) string {
	const shown = 4
	var words []string
	for _, g := range x.Longest {
		if g.LengthM != nil && *g.LengthM >= 1 && len(words) < shown {
			words = append(words, fmt.Sprintf("%s %s", g.Gauge, quantity.Format(quantity.Length(floorLength(*g.LengthM, s)), s)))
		}
	}
	if len(words) == 0 {
		return ""
	}
	return "longest with " + strings.Join(words, ", ")
}

// powerPlan prints which lamp goes to which outlet.
func (p *printer) powerPlan(plan *verdict.PowerPlan) {
	s := p.System
	t := &table{title: "Lamps to outlets, each on a cord of its own", most: []int{28, 28}, header: []string{"lamp", "outlet", head[quantity.Length]("cord", s), "size", "load [A]", "of the circuit [A]"},
		right: []bool{false, false, true, false, true, true}}
	for _, x := range plan.Rows {
		t.add(printable(x.Lamp), printable(x.Outlet), column[quantity.Length](x.LengthM, s), x.Gauge, decimals(x.Amps, 2), decimals(x.Demand, 2))
	}
	p.table(t)
	outlets := &table{title: "Outlets", most: []int{28}, header: []string{"outlet", "taken [A]", "limit [A]"}, right: []bool{false, true, true}}
	for _, x := range plan.Outlets {
		outlets.add(printable(x.Name), decimals(x.DemandA, 2), decimals(x.CapacityA, 2))
	}
	p.table(outlets)
	if len(plan.Rows) > 0 {
		p.text("Of the circuit: the load at the lowest voltage that it may get; by the rules of the United States 125 % of that, as for what is on for hours.", "")
	}
	switch {
	case plan.TotalM == nil:
		p.text(printable(plan.Why), "")
	case plan.Proven:
		p.text(fmt.Sprintf("In all %s of cord, straight or along the routes of the file. No other plan that keeps every circuit within its limit needs less.", quantity.Format(quantity.Length(*plan.TotalM), s)), "")
	default:
		p.text(fmt.Sprintf("In all %s of cord, straight or along the routes of the file. None needs less than %s, so at most %.1f %% could be saved; the search was ended there.", quantity.Format(quantity.Length(*plan.TotalM), s),
			quantity.Format(quantity.Length(*plan.BoundM), s), 100*(*plan.TotalM-*plan.BoundM)/(*plan.TotalM)), "")
	}
	p.line("")
}
