package check

import (
	"fmt"
	"math"
	"slices"

	"galefast/electrical"
	"galefast/internal/quantity"
	"galefast/internal/site"
	"galefast/internal/verdict"
)

// breakers checks the load on each supply.
func (j *job) breakers(c *circuit) {
	for i := range j.f.Supplies {
		s, r := &j.f.Supplies[i], &c.result.Supplies[i]
		row := verdict.Breaker{Name: s.Name.V, Amps: r.ContinuousAmps + r.NoncontinuousAmps, ContinuousA: r.ContinuousAmps}
		if len(r.Legs) > 1 {
			for _, l := range r.Legs {
				row.LegsA = append(row.LegsA, l.Continuous+l.Noncontinuous)
			}
			if r.Solved {
				row.NeutralA = ptr(r.NeutralAmps)
			}
		}
		required := r.RequiredBreaker
		source := "NEC 210.20(A): noncontinuous load + 125 % of continuous load (on for 3 h or more)"
		formula, numbers := "I_noncontinuous + 1.25 · I_continuous", "%.3f + 1.25 · %.3f = %.3f A"
		if s.Listed100.V {
			source = "NEC 210.20(A) exception: listed for continuous load at 100 %"
			formula, numbers = "I_noncontinuous + I_continuous", "%.3f + %.3f = %.3f A"
		}
		if c.iec {
			required = row.Amps
			source = "IEC 60364-4-43 433.1.1: the design current is no more than the rating of the breaker (from memory)"
			formula, numbers = "I_short + I_long", "%.3f + %.3f = %.3f A"
		}
		if !s.Breaker.Given {
			row.Why = "no breaker rating is given"
			j.unchecked(verdict.Power, s.Name.V, "breaker", "no breaker rating is given; it is printed on the handle", source, s.Name.At)
			j.report.Circuit.Circuits = append(j.report.Circuit.Circuits, row)
			continue
		}
		rating := float64(s.Breaker.V)
		row.BreakerA, row.Percent = &rating, ptr(100*required/rating)
		j.report.Circuit.Circuits = append(j.report.Circuit.Circuits, row)
		check := powerCheck(s.Name.V, "breaker", verdict.AtLeast, "A", source, s.Breaker.At)
		check.Needs, check.Has = ptr(required), &rating
		if r.Solved {
			check.Working = j.loadSteps(c, s.Name.V)
		} else {
			check.Working = []verdict.Step{{Text: "currents at nominal voltage, since no voltage is left at the loads", Formula: "I = count · P / (V · pf)", Numbers: fmt.Sprintf("%.3f A in all", row.Amps)}}
		}
		text := "least breaker"
		if len(r.Legs) > 1 {
			text = "least breaker, for the leg that asks for most"
		}
		check.Working = append(check.Working, verdict.Step{
			Text: text, Formula: formula,
			Numbers: fmt.Sprintf(numbers+"; the breaker has %.4g A", r.NoncontinuousAmps, r.ContinuousAmps, required, rating),
			Source:  check.Source, At: s.Breaker.At.String()})
		if required > rating {
			by := 1.25
			if c.iec || s.Listed100.V {
				by = 1
			}
			check.Cure = fmt.Sprintf("move %.1f A of lamps to another circuit, or cut them; a larger breaker is no cure", math.Ceil((required-rating)/by*10)/10)
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
		kind := "for less than 3 h"
		if r.Continuous {
			kind = "for 3 h or more"
		}
		steps = append(steps, verdict.Step{Text: fmt.Sprintf("current of %s (on %s)", r.Name, kind), Formula: "I = count · P / (V · pf) at the voltage that arrives",
			Numbers: loadText(&c.net.Loads[i], r), At: j.f.Lamps[i].Name.At.String()})
	}
	return steps
}

// receptacleLimit is what one receptacle of a supply may carry, A, with its working, or why it is
// not known; 0 without a reason where the supply has none of its own.
func (j *job) receptacleLimit(c *circuit, s *site.Supply) (limit float64, step verdict.Step, why string) {
	const source = "NEC table 210.21(B)(2): cord-and-plug load of one receptacle among several"
	step = verdict.Step{Text: "limit of the receptacle", Formula: "by its rating and that of its circuit", Source: source, At: s.Receptacle.At.String()}
	rating, breaker := float64(s.Receptacle.V), float64(s.Breaker.V)
	switch {
	case c.iec && !s.Receptacle.Given:
		return 0, step, ""
	case c.iec:
		step.Source, step.Formula = "IEC 60884-1: a socket carries its rated current (from memory)", "its rating"
		step.Numbers = fmt.Sprintf("%.4g A", rating)
		return rating, step, ""
	case s.Receptacle.Given && !s.Breaker.Given:
		return 0, step, "the limit of a receptacle depends on its breaker, whose rating is not given"
	case !s.Receptacle.Given && (!outlet(s) || s.SplitPhase.V || s.Phases.V == 3 || !s.Breaker.Given || breaker > 20):
		return 0, step, ""
	case !s.Receptacle.Given:
		rating = assumedMeasure[quantity.Current](j, "receptacle", s.Name.V)
	}
	cited, err := electrical.ReceptacleLimit(whole(breaker), whole(rating))
	if err != nil {
		return 0, step, err.Error()
	}
	step.Numbers = fmt.Sprintf("%.4g A on a circuit of %.4g A: %.4g A (%s)", rating, breaker, cited.Value, cited.Certainty)
	return cited.Value, step, ""
}

// receptacles checks the load of each outlet against its receptacle, of which it counts as one.
func (j *job) receptacles(c *circuit) {
	for i := range j.f.Supplies {
		s, r := &j.f.Supplies[i], &c.result.Supplies[i]
		limit, step, why := j.receptacleLimit(c, s)
		switch {
		case why != "":
			j.unchecked(verdict.Power, s.Name.V, "receptacle", why, step.Source, s.Receptacle.At)
			continue
		case limit == 0:
			continue
		}
		total := r.ContinuousAmps + r.NoncontinuousAmps
		check := powerCheck(s.Name.V, "receptacle", verdict.AtLeast, "A", step.Source, s.Receptacle.At)
		check.Needs, check.Has = ptr(total), ptr(limit)
		check.Working = append(j.loadSteps(c, s.Name.V),
			verdict.Step{Text: "load of the receptacle", Formula: "sum of the currents", Numbers: fmt.Sprintf("%.3f A", total)}, step)
		if total > limit {
			check.Cure = fmt.Sprintf("plug %.1f A of it into another receptacle", math.Ceil((total-limit)*10)/10)
			if !s.Receptacle.Given && float64(s.Breaker.V) == 20 && total <= 16 {
				check.Cure += `; or, if it is one for 20 A, say so: receptacle = "20 A"`
			}
		}
		j.add(check)
	}
}

// whole is a rating as a whole number, or one that no table has.
func whole(v float64) int {
	if v != math.Trunc(v) || v > 1000 {
		return -1
	}
	return int(v)
}

// cords checks the ampacity and the jacket of each cord.
func (j *job) cords(c *circuit) {
	for i := range j.f.Cords {
		j.cordAmpacity(c, i)
	}
	for i := range j.f.Cords {
		j.cordJacket(c, &j.f.Cords[i])
	}
}

func (j *job) cordAmpacity(c *circuit, i int) {
	k, run, r := &j.f.Cords[i], &c.net.Runs[i], &c.result.Runs[i]
	source := "NFPA 70 Table 400.5(A)(1), two loaded conductors"
	row, known := j.f.Conductor(k)
	if known {
		source = row.Source
	}
	check := powerCheck(k.Name.V, "cord ampacity", verdict.AtLeast, "A", source, k.Name.At)
	if run.Ampacity <= 0 {
		why := "its size is not in the table and no ampacity is given"
		if known {
			why = fmt.Sprintf("the air, the coil or the bundle is beyond the tables (air of %s °C)", trim(float64(j.f.Site.Ambient.V)))
		}
		j.unchecked(verdict.Power, k.Name.V, check.What, why, source, k.Name.At)
		return
	}
	if !r.Solved {
		j.collapsed(c, check)
		return
	}
	check.Needs, check.Has = ptr(r.Amps), ptr(run.Ampacity)
	if k.Ampacity.Given {
		check.Source = "given in the site file"
		check.Working = []verdict.Step{{Text: "rating of the cord", Formula: "as given", Numbers: fmt.Sprintf("%.4g A", run.Ampacity), Source: check.Source, At: k.Ampacity.At.String()}}
	} else {
		factors, base := j.ampacityFactors(c, k, row)
		check.Working = []verdict.Step{{Text: "ampacity of the table", Formula: "by size and loaded conductors", Numbers: fmt.Sprintf("%s: %.4g A", k.Gauge.Text, base), Source: source, At: k.Gauge.At.String()}}
		product := trim(base)
		for _, f := range factors {
			check.Working = append(check.Working, verdict.Step{Text: "factor for " + f.what, Formula: "no credit above 1", Numbers: fmt.Sprintf("%.3g", f.Value), Source: f.Source})
			product += fmt.Sprintf(" · %.3g", f.Value)
		}
		check.Working = append(check.Working, verdict.Step{Text: "rating of the cord", Formula: "table · factors", Numbers: fmt.Sprintf("%s = %.4g A", product, run.Ampacity)})
	}
	check.Working = append(check.Working, verdict.Step{Text: "current through it", Formula: "sum of everything fed from its far end", Numbers: fmt.Sprintf("%.4g A", r.Amps)})
	if r.Amps > run.Ampacity {
		check.Cure = c.cordCure(i, ", or take load off it")
		if k.Coiled.V || k.Layers.Given {
			check.Cure = "unwind it fully; or " + check.Cure
		}
	}
	j.add(check)
}

// cordJacket checks that the jacket is made for the outdoors and for the voltage.
func (j *job) cordJacket(c *circuit, k *site.Cord) {
	source := "NFPA 70 525.20 and 590.4: outdoor cords of hard or extra-hard usage, marked for weather (W)"
	if c.iec {
		source = "BS 7671 704.522.8.11 and 708: H07RN-F or its equal outdoors"
	}
	if !k.Type.Given {
		j.unchecked(verdict.Power, k.Name.V, "cord type", "the letters on its jacket are not given", source, k.Name.At)
		return
	}
	row, ok := j.f.Catalog.CordType.Find(k.Type.V)
	if !ok {
		return
	}
	volts := float64(j.f.Supplies[c.root[k.From.V]].Volts.V)
	check := powerCheck(k.Name.V, "cord type", verdict.AtLeast, "1", source, k.Type.At)
	check.Result, check.Why = verdict.Holds, fmt.Sprintf("%s is made for weather, %s usage and %.4g V", row.Name, row.Usage, float64(row.MaxVolts))
	switch {
	case row.Usage == "light":
		check.Result, check.Why = verdict.Fails, fmt.Sprintf("%s is of light usage", row.Name)
	case !row.Outdoor:
		check.Result, check.Why = verdict.Fails, fmt.Sprintf("%s is not made for weather", row.Name)
	case volts > float64(row.MaxVolts):
		check.Result, check.Why = verdict.Fails, fmt.Sprintf("%s is made for %.4g V at most, and its supply has %.4g V", row.Name, float64(row.MaxVolts), volts)
	}
	if check.Result == verdict.Fails {
		check.Cure = "use a cord marked W of hard usage, such as SJTW up to 300 V or SOOW (metric: H07RN-F)"
	}
	check.Working = []verdict.Step{{Text: "what the letters mean", Formula: row.Name, Numbers: check.Why, Source: row.Source, At: k.Type.At.String()}}
	j.report.Checks = append(j.report.Checks, check)
}

// drops checks the voltage at each lamp: along the cords, in all, and against its own least.
func (j *job) drops(c *circuit) {
	for i := range j.f.Lamps {
		j.drop(c, i)
	}
	for i := range j.f.Lamps {
		j.lampVoltage(c, i)
	}
}

func (j *job) drop(c *circuit, i int) {
	l, load, r := &j.f.Lamps[i], &c.net.Loads[i], &c.result.Loads[i]
	supply := &j.f.Supplies[c.root[load.On]]
	source, total := "NEC 210.19(A) note: 3 % along the branch; a recommendation of the code, not a rule",
		"NEC 210.19(A) and 215.2(A) notes: 5 % with the wiring ahead of the outlet; a recommendation"
	switch {
	case extraLow(supply):
		source = "IEC 60364-7-715: about 5 % from the source to the farthest lamp; a recommendation (from memory)"
		total = source
	case c.iec:
		source = "IEC 60364-5-52 annex G: 3 % for lighting and 5 % for the rest, 0.005 % more for each metre beyond 100 m; a recommendation"
		total = source
	}
	check := powerCheck(l.Name.V, "voltage drop", verdict.AtMost, "%", source, l.Name.At)
	check.Needs = ptr(100 * load.MaxDrop)
	if !r.Solved {
		j.collapsed(c, check)
		return
	}
	check.Has = ptr(100 * r.RunDrop)
	check.Working = j.dropSteps(c, i)
	if r.RunDrop > load.MaxDrop {
		check.Cure = j.dropCure(c, i)
	}
	j.add(check)
	if !supply.Ohms.Given || supply.Ohms.V == 0 {
		return // what lies ahead of the outlet is not known
	}
	all := powerCheck(l.Name.V, "total drop", verdict.AtMost, "%", total, l.Name.At)
	all.Needs, all.Has = ptr(100*load.MaxTotal), ptr(100*r.Drop)
	all.Working = append(slices.Clone(check.Working), verdict.Step{Text: "drop from the nominal voltage, with the wiring ahead of the outlet", Formula: "1 - V / V_nominal",
		Numbers: fmt.Sprintf("1 - %.5g / %.5g = %.3f %%", r.Volts, r.Nominal, 100*r.Drop), At: supply.Ohms.At.String()})
	if r.Drop > load.MaxTotal {
		all.Cure = j.dropCure(c, i)
		if ahead := c.result.Supplies[c.root[load.On]].Drop; ahead > load.MaxTotal {
			all.Cure = fmt.Sprintf("%.2f %% are lost ahead of the outlet: take load off it, or use an outlet with a shorter or thicker line behind it", 100*ahead)
		}
	}
	j.add(all)
}

func (j *job) dropSteps(c *circuit, load int) []verdict.Step {
	var steps []verdict.Step
	for _, i := range c.chain(c.net.Loads[load].On) {
		run, r := &c.net.Runs[i], &c.result.Runs[i]
		steps = append(steps, verdict.Step{Text: "drop along " + run.Name, Formula: "I · loop impedance, loop = 2 · length · R (one conductor out, one back) + contacts",
			Numbers: fmt.Sprintf("%.4g A · (2 · %.4g m · %.4g ohm/km + %.3g ohm) = %.4g V", r.Amps, run.Length, 1000*run.Resistance, run.Contact, r.Amps*math.Hypot(real(r.Loop), imag(r.Loop))),
			At:      j.f.Cords[i].Name.At.String()})
	}
	r := &c.result.Loads[load]
	return append(steps, verdict.Step{Text: "drop at " + r.Name, Formula: "sum along the chain / nominal voltage, as phasors; a neutral that is shared adds or takes away",
		Numbers: fmt.Sprintf("%.3f %% of %.5g V, %.5g V arrive", 100*r.RunDrop, r.Nominal, r.Volts)})
}

// dropCure names the one cord of a load's chain whose thicker size mends the drop, or the sizes
// with which the whole circuit holds.
func (j *job) dropCure(c *circuit, load int) string {
	chain := c.chain(c.net.Loads[load].On)
	for _, i := range chain {
		g, err := electrical.LeastGauge(c.net, c.net.Runs[i].Name, c.lists[i], c.limit)
		if err == nil && g.OK {
			return fmt.Sprintf("use %s for %s, or shorten the run", g.Conductor.Name, c.net.Runs[i].Name)
		}
	}
	var parts []string
	for _, i := range chain {
		if g := c.sizes[i]; g.OK {
			parts = append(parts, fmt.Sprintf("%s for %s", g.Conductor.Name, c.net.Runs[i].Name))
		}
	}
	if len(parts) == 0 {
		return "no cord of the table cures it: shorten the chain, feed it from nearer, or take load off it"
	}
	return fmt.Sprintf("use %s, or shorten the chain", list(parts))
}

// lampVoltage checks what arrives against the least voltage on a lamp's label.
func (j *job) lampVoltage(c *circuit, i int) {
	l, r := &j.f.Lamps[i], &c.result.Loads[i]
	if !l.MinVolts.Given {
		return
	}
	check := powerCheck(l.Name.V, "lamp voltage", verdict.AtLeast, "V", "the lamp's own label, as given in the site file", l.MinVolts.At)
	check.Needs = ptr(float64(l.MinVolts.V))
	if !r.Solved {
		j.collapsed(c, check)
		return
	}
	check.Has = ptr(r.Volts)
	check.Working = j.dropSteps(c, i)
	if r.Volts < float64(l.MinVolts.V) {
		check.Cure = j.dropCure(c, i)
	}
	j.add(check)
}
