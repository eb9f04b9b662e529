package check

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"galefast/electrical"
	"galefast/internal/catalog"
	"galefast/internal/quantity"
	"galefast/internal/site"
	"galefast/internal/verdict"
)

// cordRating is the temperature that an unmarked cord may reach, degrees Celsius
// (NEC 400.5: 60 unless marked otherwise).
const cordRating = 60

// circuit is the supply trees with what was put into them.
type circuit struct {
	net    electrical.Network
	result *electrical.Result
}

// power solves the supply trees and checks breakers, cords and drops.
func (j *job) power() error {
	if len(j.f.Supplies) == 0 {
		if len(j.f.Lamps) > 0 {
			return fmt.Errorf("lamps without a supply")
		}
		return nil
	}
	c := &circuit{}
	j.network(c)
	var err error
	if c.result, err = electrical.Solve(c.net); err != nil {
		j.unchecked(verdict.Power, "supply", "solution", err.Error(), "", j.f.Supplies[0].Name.At)
		return nil
	}
	first := len(j.report.Checks)
	j.breakers(c)
	j.cords(c)
	j.drops(c)
	j.laterPower()
	j.report.Circuit.Checks = j.report.Checks[first:]
	j.nodes(c)
	j.take("cord ampacity is that of two loaded conductors at 60 °C insulation, corrected for the air temperature without credit for cool air; a coiled cord takes the factor of a reel of unknown layers",
		"NFPA 70 Table 400.5(A)(1) and 310.15(B)", "standard clause as reproduced in a cord maker's glossary (uswireandcable.com)")
	j.take("connectors between cords have no resistance of their own", "", "common practice, no source")
	return nil
}

// network builds the trees. Supplies, runs and loads are in the order of the file's.
func (j *job) network(c *circuit) {
	for i := range j.f.Supplies {
		s := &j.f.Supplies[i]
		c.net.Supplies = append(c.net.Supplies, electrical.Supply{
			Name: s.Name.V, Volts: float64(s.Volts.V), DC: s.DC.V, Phases: s.Phases.V, Breaker: float64(s.Breaker.V),
			GFCI: s.GFCI.V, SourceImpedance: complex(float64(s.Ohms.V), 0),
		})
	}
	for i := range j.f.Cords {
		k := &j.f.Cords[i]
		run := electrical.Run{Name: k.Name.V, From: k.From.V, Length: float64(k.Length.V), Reactance: float64(k.XPerKm.V)}
		row, known := j.f.Conductor(k)
		if known {
			run.Resistance = hot(row)
			run.Ampacity = j.ampacity(k, row)
		}
		if k.OhmPerKm.Given {
			run.Resistance = float64(k.OhmPerKm.V)
		}
		if k.Ampacity.Given {
			run.Ampacity = float64(k.Ampacity.V)
		}
		c.net.Runs = append(c.net.Runs, run)
	}
	for i := range j.f.Lamps {
		c.net.Loads = append(c.net.Loads, j.lamp(&j.f.Lamps[i]))
	}
}

// hot is a conductor's resistance when the cord is as warm as it may be, ohm/m. A
// table at a higher temperature is left as it is.
func hot(row catalog.Conductor) float64 {
	r := float64(row.Resistance)
	if t := float64(row.Temperature); t < cordRating {
		if v, err := electrical.ResistanceFrom20(r, cordRating); err == nil && t == 20 {
			return v
		}
	}
	return r
}

// ampacity is the cord's rating after the air's temperature and coiling, A; zero when
// the air is as hot as the cord may be.
func (j *job) ampacity(k *site.Cord, row catalog.Conductor) float64 {
	ambient, err := electrical.AmbientFactor(cordRating, float64(j.f.Site.Ambient.V))
	if err != nil {
		return 0
	}
	factors := []float64{ambient}
	if k.Coiled.V {
		if f, err := electrical.CoilFactor(0); err == nil {
			factors = append(factors, f.Value)
		}
	}
	a, err := electrical.CordAmpacity(float64(row.Ampacity2), factors...)
	if err != nil {
		return 0
	}
	return a
}

// sizes lists the sizes of a cord's own family, gauges or mm2, from thin to thick.
func (j *job) sizes(k *site.Cord) []electrical.Conductor {
	gauges := strings.Contains(strings.ToUpper(k.Gauge.Text), "AWG")
	if !k.Gauge.Given {
		gauges = j.f.System() == quantity.US
	}
	rows := j.f.Catalog.Conductor.All()
	slices.SortStableFunc(rows, func(a, b catalog.Conductor) int { return cmp.Compare(a.Area, b.Area) })
	var list []electrical.Conductor
	for _, row := range rows {
		if strings.Contains(strings.ToUpper(row.Name), "AWG") == gauges {
			list = append(list, electrical.Conductor{Name: row.Name, Resistance: hot(row), Reactance: float64(k.XPerKm.V), Ampacity: j.ampacity(k, row)})
		}
	}
	return list
}

// lamp makes a load. What the file leaves out comes from the device's row, else the
// harder value.
func (j *job) lamp(l *site.Lamp) electrical.Load {
	out := electrical.Load{Name: l.Name.V, On: l.On.V, Count: l.Count.V, Watts: float64(l.Watts.V), Amps: float64(l.Amps.V), PowerFactor: l.PowerFactor.V}
	if l.Hours.Given {
		out.Hours = float64(l.Hours.V) / 3600
	}
	kind := l.Load.V
	if row, ok := j.f.Catalog.Device.Find(l.Device.V); ok && l.Device.Given {
		if !l.Watts.Given && !l.Amps.Given {
			out.Watts = float64(row.Power)
		}
		if !l.PowerFactor.Given {
			out.PowerFactor = row.PowerFactor
		}
		if kind == "" {
			kind = row.Kind
		}
	}
	switch {
	case kind == "resistance":
		out.Kind = electrical.Resistance
	case l.Amps.Given || kind == "current":
		out.Kind = electrical.ConstantCurrent
	default:
		out.Kind = electrical.ConstantPower
	}
	if out.PowerFactor == 0 {
		if l.Amps.Given {
			out.PowerFactor = 1 // the current is known; in phase it drops most
		} else {
			d, _ := site.DefaultOf("assumed.power_factor")
			out.PowerFactor = number(d.Value)
			j.take(fmt.Sprintf("lamp %q: power factor taken as %s (%s)", l.Name.V, d.Value, d.Why), d.Source, d.Certainty)
		}
	}
	volts := j.supplyVolts(l.On.V)
	switch {
	case out.Kind == electrical.ConstantCurrent && !l.Amps.Given && volts > 0:
		out.Amps = out.Watts / (volts * out.PowerFactor)
	case out.Kind == electrical.Resistance && l.Amps.Given:
		out.Watts = out.Amps * volts
	}
	return out
}

// supplyVolts is the nominal voltage of the supply that feeds a cord or supply.
func (j *job) supplyVolts(on string) float64 {
	for range len(j.f.Cords) + 1 {
		for i := range j.f.Supplies {
			if j.f.Supplies[i].Name.V == on {
				return float64(j.f.Supplies[i].Volts.V)
			}
		}
		for i := range j.f.Cords {
			if j.f.Cords[i].Name.V == on {
				on = j.f.Cords[i].From.V
				break
			}
		}
	}
	return 0
}

func ptr(v float64) *float64 { return &v }

// breakers checks the load on each supply.
func (j *job) breakers(c *circuit) {
	for i := range j.f.Supplies {
		s, r := &j.f.Supplies[i], &c.result.Supplies[i]
		total := r.ContinuousAmps + r.NoncontinuousAmps
		row := verdict.Breaker{Name: s.Name.V, Amps: total, ContinuousA: r.ContinuousAmps}
		if !s.Breaker.Given {
			row.Why = "no breaker rating is given"
			j.unchecked(verdict.Power, s.Name.V, "breaker", "no breaker rating is given; it is printed on the handle", "NEC 210.20(A)", s.Name.At)
			j.report.Circuit.Circuits = append(j.report.Circuit.Circuits, row)
			continue
		}
		rating := float64(s.Breaker.V)
		row.BreakerA, row.Percent = &rating, ptr(100*r.RequiredBreaker/rating)
		j.report.Circuit.Circuits = append(j.report.Circuit.Circuits, row)
		check := verdict.Check{
			ID: id(verdict.Power, s.Name.V, "breaker"), Kind: verdict.Power, Subject: s.Name.V, What: "breaker",
			Sense: verdict.AtLeast, Needs: ptr(r.RequiredBreaker), Has: &rating, Unit: "A", At: s.Breaker.At.String(),
			Source: "NEC 210.20(A): noncontinuous load + 125 % of continuous load (on for 3 h or more)",
		}
		if r.Solved {
			check.Working = j.loadSteps(c, s.Name.V)
		} else {
			check.Working = []verdict.Step{{Text: "currents at nominal voltage, since no voltage is left at the loads", Formula: "I = count · P / (V · pf)", Numbers: fmt.Sprintf("%.3f A in all", total)}}
		}
		check.Working = append(check.Working, verdict.Step{
			Text: "least breaker", Formula: "I_noncontinuous + 1.25 · I_continuous",
			Numbers: fmt.Sprintf("%.3f + 1.25 · %.3f = %.3f A; the breaker has %.4g A", r.NoncontinuousAmps, r.ContinuousAmps, r.RequiredBreaker, rating),
			Source:  check.Source, At: s.Breaker.At.String()})
		if r.RequiredBreaker > rating {
			check.Cure = fmt.Sprintf("move %.1f A of lamps to another circuit, or cut them; a larger breaker is no cure", (r.RequiredBreaker-rating)/1.25)
		}
		j.add(check)
	}
}

// loadSteps lists the loads of a supply.
func (j *job) loadSteps(c *circuit, supply string) []verdict.Step {
	var steps []verdict.Step
	for i := range c.result.Loads {
		r := &c.result.Loads[i]
		if r.Supply != supply {
			continue
		}
		l := &c.net.Loads[i]
		kind := "noncontinuous"
		if r.Continuous {
			kind = "continuous"
		}
		steps = append(steps, verdict.Step{Text: fmt.Sprintf("current of %s (%s)", r.Name, kind), Formula: "I = count · P / (V · pf) at the voltage that arrives",
			Numbers: fmt.Sprintf("%d x %.4g W, pf %.3g, %.4g V: %.3f A", l.Count, l.Watts, l.PowerFactor, r.Volts, r.Amps), At: j.f.Lamps[i].Name.At.String()})
	}
	return steps
}

// cords checks the ampacity and the jacket of each cord.
func (j *job) cords(c *circuit) {
	for i := range j.f.Cords {
		k, r := &j.f.Cords[i], &c.result.Runs[i]
		run := &c.net.Runs[i]
		row := verdict.Run{Name: k.Name.V, From: k.From.V, Gauge: k.Gauge.Text, LengthM: run.Length, LoopOhm: real(r.Loop)}
		if r.Solved {
			row.Amps, row.LossW = ptr(r.Amps), ptr(r.LossWatts)
		} else {
			row.Why = "the voltage gives way: the supply cannot carry the load through its cords"
		}
		if run.Ampacity > 0 {
			row.AmpacityA = ptr(run.Ampacity)
		}
		gauge, err := electrical.LeastGauge(c.net, k.Name.V, j.sizes(k), dropLimit)
		if err == nil && gauge.OK {
			row.NeedsGauge = &gauge.Conductor.Name
		} else if row.Why == "" {
			row.Why = "no size of this cord alone is enough with the others as they are"
		}
		j.report.Circuit.Runs = append(j.report.Circuit.Runs, row)
		j.cordAmpacity(k, run, r, row.NeedsGauge)
		j.cordJacket(k)
	}
}

func (j *job) cordAmpacity(k *site.Cord, run *electrical.Run, r *electrical.RunResult, needs *string) {
	const source = "NFPA 70 Table 400.5(A)(1), two loaded conductors"
	if run.Ampacity <= 0 {
		j.unchecked(verdict.Power, k.Name.V, "cord ampacity", "its size is not in the table and no ampacity is given", source, k.Name.At)
		return
	}
	if !r.Solved {
		j.report.Checks = append(j.report.Checks, verdict.Check{
			ID: id(verdict.Power, k.Name.V, "cord ampacity"), Kind: verdict.Power, Subject: k.Name.V, What: "cord ampacity", Sense: verdict.AtLeast,
			Unit: "A", Result: verdict.Fails, Why: "no voltage is left for the load: it cannot be carried over this cord at all",
			Cure: "a far thicker or shorter cord, or less load", Source: source, At: k.Name.At.String()})
		return
	}
	check := verdict.Check{
		ID: id(verdict.Power, k.Name.V, "cord ampacity"), Kind: verdict.Power, Subject: k.Name.V, What: "cord ampacity",
		Sense: verdict.AtLeast, Needs: ptr(r.Amps), Has: ptr(run.Ampacity), Unit: "A", At: k.Name.At.String(), Source: source,
	}
	from := k.Gauge.Text
	if k.Ampacity.Given {
		from, check.Source = "given", "given in the site file"
	}
	check.Working = []verdict.Step{{Text: "rating of the cord", Formula: "table · factor of air temperature · factor of coiling",
		Numbers: fmt.Sprintf("%s: %.4g A", from, run.Ampacity), Source: check.Source, At: k.Gauge.At.String()},
		{Text: "current through it", Formula: "sum of everything fed from its far end", Numbers: fmt.Sprintf("%.4g A", r.Amps)}}
	if r.Amps > run.Ampacity {
		check.Cure = cordCure(k, needs)
	}
	j.add(check)
}

func cordCure(k *site.Cord, needs *string) string {
	if needs != nil {
		return fmt.Sprintf("use %s for %s, or take load off it", *needs, k.Name.V)
	}
	return "no single thicker cord cures it: shorten the chain, feed it from nearer, or take load off it"
}

// cordJacket checks that the jacket is made for the outdoors.
func (j *job) cordJacket(k *site.Cord) {
	const source = "NFPA 70 525.20 and 590.4: outdoor cords of hard or extra-hard usage, marked for weather (W)"
	if !k.Type.Given {
		j.unchecked(verdict.Power, k.Name.V, "cord type", "the letters on its jacket are not given", source, k.Name.At)
		return
	}
	row, ok := j.f.Catalog.CordType.Find(k.Type.V)
	if !ok {
		return
	}
	check := verdict.Check{ID: id(verdict.Power, k.Name.V, "cord type"), Kind: verdict.Power, Subject: k.Name.V, What: "cord type",
		Sense: verdict.AtLeast, Unit: "1", Result: verdict.Holds, Source: source, At: k.Type.At.String(),
		Why: fmt.Sprintf("%s is made for weather and %s usage", row.Name, row.Usage)}
	if !row.Outdoor || row.Usage == "light" {
		check.Result = verdict.Fails
		check.Why = fmt.Sprintf("%s is not made for weather", row.Name)
		if row.Usage == "light" {
			check.Why = fmt.Sprintf("%s is of light usage", row.Name)
		}
		check.Cure = "use a cord marked W of hard usage, such as SJTW or SOOW (metric: H07RN-F)"
	}
	check.Working = []verdict.Step{{Text: "what the letters mean", Formula: row.Name, Numbers: check.Why, Source: row.Source, At: k.Type.At.String()}}
	j.report.Checks = append(j.report.Checks, check)
}

// dropLimit is the drop that lighting tolerates: 3 % along the cords, 5 % in all.
var dropLimit = electrical.DropLimit{Branch: electrical.NECBranchDrop, Total: electrical.NECTotalDrop}

// drops checks the voltage at the far end of each chain of cords that feeds a lamp.
func (j *job) drops(c *circuit) {
	source := "NEC 210.19(A) note: 3 % along the branch; a recommendation of the code, not a rule"
	if j.f.System() == quantity.SI {
		source = "IEC 60364-5-52 annex G: 3 % for lighting, asked here of every load; a recommendation"
	}
	for i := range j.f.Lamps {
		l, r := &j.f.Lamps[i], &c.result.Loads[i]
		check := verdict.Check{ID: id(verdict.Power, l.Name.V, "voltage drop"), Kind: verdict.Power, Subject: l.Name.V, What: "voltage drop",
			Sense: verdict.AtMost, Needs: ptr(100 * dropLimit.Branch), Unit: "%", At: l.Name.At.String(), Source: source}
		if !r.Solved {
			check.Result, check.Why = verdict.Fails, "no voltage is left for the load: its cords cannot carry it at all"
			check.Cure = "a far thicker or shorter cord, or less load"
			j.report.Checks = append(j.report.Checks, check)
			continue
		}
		check.Has = ptr(100 * r.RunDrop)
		check.Working = j.dropSteps(c, i)
		if r.RunDrop > dropLimit.Branch {
			check.Cure = j.dropCure(c, l)
		}
		j.add(check)
		if real(c.net.Supplies[c.supplyOf(r.Supply)].SourceImpedance) == 0 {
			continue // what lies ahead of the outlet is not known
		}
		total := check
		total.ID, total.What = id(verdict.Power, l.Name.V, "total drop"), "total drop"
		total.Needs, total.Has, total.Cure = ptr(100*dropLimit.Total), ptr(100*r.Drop), ""
		total.Source = "NEC 210.19(A) and 215.2(A) notes: 5 % with the wiring ahead of the outlet; a recommendation"
		total.Working = append(slices.Clone(check.Working), verdict.Step{Text: "drop from the nominal voltage, with the wiring ahead of the outlet", Formula: "1 - V / V_nominal",
			Numbers: fmt.Sprintf("%.3f %%", 100*r.Drop), At: j.f.Supplies[c.supplyOf(r.Supply)].Ohms.At.String()})
		if r.Drop > dropLimit.Total {
			total.Cure = "less load on this outlet, or an outlet with a shorter or thicker line behind it"
		}
		j.add(total)
	}
}

// supplyOf is the index of a supply by its name.
func (c *circuit) supplyOf(name string) int {
	return slices.IndexFunc(c.net.Supplies, func(s electrical.Supply) bool { return s.Name == name })
}

// chain lists the runs from a load back to its supply, nearest the supply first.
func (c *circuit) chain(on string) []int {
	var list []int
	for range len(c.net.Runs) {
		found := false
		for i := range c.net.Runs {
			if c.net.Runs[i].Name == on {
				list = append([]int{i}, list...)
				on, found = c.net.Runs[i].From, true
				break
			}
		}
		if !found {
			break
		}
	}
	return list
}

func (j *job) dropSteps(c *circuit, load int) []verdict.Step {
	var steps []verdict.Step
	for _, i := range c.chain(c.net.Loads[load].On) {
		run, r := &c.net.Runs[i], &c.result.Runs[i]
		steps = append(steps, verdict.Step{Text: "drop along " + run.Name, Formula: "I · loop impedance, loop = 2 · length · R (one conductor out, one back)",
			Numbers: fmt.Sprintf("%.4g A · 2 · %.4g m · %.4g ohm/km = %.4g V", r.Amps, run.Length, 1000*run.Resistance, r.Amps*math.Hypot(real(r.Loop), imag(r.Loop))),
			At:      j.f.Cords[i].Name.At.String()})
	}
	r := &c.result.Loads[load]
	return append(steps, verdict.Step{Text: "drop at " + r.Name, Formula: "sum along the chain / nominal voltage", Numbers: fmt.Sprintf("%.3f %%, %.4g V arrive", 100*r.RunDrop, r.Volts)})
}

// dropCure names the one cord of a load's chain whose thicker size mends the drop, or
// the least size for all of the chain that does.
func (j *job) dropCure(c *circuit, l *site.Lamp) string {
	chain := c.chain(l.On.V)
	for _, i := range chain {
		g, err := electrical.LeastGauge(c.net, c.net.Runs[i].Name, j.sizes(&j.f.Cords[i]), dropLimit)
		if err == nil && g.OK {
			return fmt.Sprintf("use %s for %s, or shorten the run", g.Conductor.Name, c.net.Runs[i].Name)
		}
	}
	const none = "no thicker cord of the table cures it: shorten the chain, feed it from nearer, or take load off it"
	if len(chain) < 2 {
		return none
	}
	names := make([]string, len(chain))
	for n, i := range chain {
		names[n] = c.net.Runs[i].Name
	}
	net := c.net
	for _, size := range j.sizes(&j.f.Cords[chain[0]]) {
		net.Runs = slices.Clone(c.net.Runs)
		for _, i := range chain {
			r := &net.Runs[i]
			r.Resistance, r.Reactance, r.Ampacity = size.Resistance, size.Reactance, size.Ampacity
		}
		result, err := electrical.Solve(net)
		if err != nil {
			return none
		}
		load := slices.IndexFunc(net.Loads, func(x electrical.Load) bool { return x.Name == l.Name.V })
		good := result.Loads[load].Solved && result.Loads[load].RunDrop <= dropLimit.Branch
		for _, i := range chain {
			good = good && result.Runs[i].Amps <= net.Runs[i].Ampacity
		}
		if good {
			return fmt.Sprintf("use %s for each of %s, or shorten the chain", size.Name, list(names))
		}
	}
	return none
}

// laterPower names the power checks that are not computed.
func (j *job) laterPower() {
	for i := range j.f.Supplies {
		s := &j.f.Supplies[i]
		if s.GFCI.Given {
			check := verdict.Check{ID: id(verdict.Power, s.Name.V, "GFCI"), Kind: verdict.Power, Subject: s.Name.V, What: "GFCI", Sense: verdict.AtLeast, Unit: "1",
				Source: "NFPA 70 210.8(B), 525.23(A): outdoor receptacles and equipment within reach of the public", At: s.GFCI.At.String(),
				Result: verdict.Holds, Why: "the file says that one protects it; test it on the night"}
			if !s.GFCI.V {
				check.Result, check.Why = verdict.Fails, "no GFCI or RCD protects it"
				check.Cure = "feed it through a GFCI (RCD) outlet or a portable GFCI at the supply end"
			}
			j.report.Checks = append(j.report.Checks, check)
		} else {
			j.unchecked(verdict.Power, s.Name.V, "GFCI", "the file does not say whether a GFCI or RCD protects it", "NFPA 70 210.8(B), 525.23(A)", s.Name.At)
		}
		j.unchecked(verdict.Power, s.Name.V, "fault trip", "fault current at the far end against the breaker's trip is not computed", "IEC 60364-4-41 411", s.Name.At)
		j.unchecked(verdict.Power, s.Name.V, "leakage and inrush", "leakage budget of the GFCI and inrush of the lamps are not computed", "", s.Name.At)
	}
}

// nodes lists every supply, cord end and lamp.
func (j *job) nodes(c *circuit) {
	const fault = "fault currents are not computed"
	add := func(n *electrical.Node, kind string) {
		out := verdict.Node{Name: n.Name, Kind: kind, Why: fault}
		if n.Solved {
			out.Volts, out.DropPercent, out.Amps = ptr(n.Volts), ptr(100*n.RunDrop), ptr(n.Amps)
		} else {
			out.Why = "the voltage gives way; " + fault
		}
		j.report.Circuit.Nodes = append(j.report.Circuit.Nodes, out)
	}
	for i := range c.result.Supplies {
		add(&c.result.Supplies[i].Node, "supply")
	}
	for i := range c.result.Runs {
		add(&c.result.Runs[i].Node, "cord")
	}
	for i := range c.result.Loads {
		add(&c.result.Loads[i].Node, "lamp")
	}
}
