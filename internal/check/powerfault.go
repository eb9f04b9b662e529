package check

import (
	"fmt"
	"math"
	"math/cmplx"
	"slices"
	"strings"

	"galefast/electrical"
	"galefast/internal/quantity"
	"galefast/internal/site"
	"galefast/internal/verdict"
)

// cordOnBreaker is the least conductor, m2, of a cord that counts as protected on a circuit of 20 A:
// 16 AWG (NEC 240.5(B)).
const cordOnBreaker = 1.31e-6

// trip is what a supply's breaker is sure to do.
type trip struct {
	device   electrical.Device
	multiple float64 // of its rating, at which it trips at once
	source   string
	why      string // why there is none
}

// amps is the current at which the breaker is sure to trip at once.
func (t trip) amps(s *site.Supply) float64 { return t.multiple * float64(s.Breaker.V) }

// faults finds the trip of every supply and the loop of a fault at the end of every run, and
// sets the loop that sizes have to keep below.
func (j *job) faults(c *circuit) {
	net := c.net
	net.Supplies = slices.Clone(c.net.Supplies)
	for i := range j.f.Supplies {
		s := &j.f.Supplies[i]
		c.trips = append(c.trips, j.trip(c, s))
		if !s.Ohms.Given && !s.DC.V && !extraLow(s) && outlet(s) {
			key := "source_ohm_us"
			if c.iec {
				key = "source_ohm_iec"
			}
			ohms := assumedMeasure[quantity.Resistance](j, key, s.Name.V)
			if s.Phases.V == 3 {
				ohms /= 2 // of one phase; the loop counts two
			}
			net.Supplies[i].SourceImpedance = complex(ohms, 0)
		}
		c.source = append(c.source, net.Supplies[i].SourceLoop())
	}
	loops, err := electrical.FaultLoops(net)
	if err != nil {
		loops = make([]complex128, len(net.Runs))
	}
	c.loops = loops
	for i := range j.f.Supplies {
		s, t := &j.f.Supplies[i], c.trips[i]
		if t.why != "" || !c.iec && s.GFCI.V && float64(s.Breaker.V) <= 20 {
			continue
		}
		c.net.Supplies[i].MaxFaultLoop = c.faultLimit(i, t.amps(s))
	}
}

// faultLimit is the most loop of a fault, ohm, that lets so many A flow, less what was assumed for the
// source, which is not in the network that sizes are tried on.
func (c *circuit) faultLimit(supply int, amps float64) float64 {
	s := &c.net.Supplies[supply]
	loop, err := electrical.MaxFaultLoop(electrical.FaultVoltageFactor, s.FaultVolts(), amps)
	if err != nil {
		return 0
	}
	const none = 1e-6 // 0 would not be looked at
	return max(none, loop-cmplx.Abs(c.source[supply]-s.SourceLoop()))
}

// trip finds what the breaker of a supply is sure to trip at.
func (j *job) trip(c *circuit, s *site.Supply) trip {
	switch {
	case s.DC.V || extraLow(s):
		return trip{why: "what a fuse or breaker of direct current or extra-low voltage needs to clear a fault is not in the tables"}
	case !s.Breaker.Given:
		return trip{why: "no breaker rating is given"}
	case s.Kind.V == "generator":
		return trip{why: "a small set gives only 2 to 3 times its rated current into a fault, or breaks down: no breaker is sure to trip at once"}
	case s.Trip.Given:
		return trip{multiple: s.Trip.V, source: "given in the site file"}
	}
	device := electrical.USBreaker
	if letter := s.Curve.V; letter != "" || c.iec {
		if letter == "" {
			letter = j.assumed("curve", s.Name.V)
		}
		device = map[string]electrical.Device{"B": electrical.CurveB, "C": electrical.CurveC, "D": electrical.CurveD}[letter]
	}
	p, err := electrical.InstantTrip(device, float64(s.Breaker.V))
	if err != nil {
		return trip{device: device, why: err.Error()}
	}
	return trip{device: device, multiple: p.Multiple, source: fmt.Sprintf("%s (%s)", p.Source, p.Certainty)}
}

// outlet reports whether a supply is fed by the grid.
func outlet(s *site.Supply) bool { return s.Kind.V == "" || s.Kind.V == "outlet" }

// faultAmps is the fault current of a loop on a supply, or why there is none.
func (j *job) faultAmps(c *circuit, supply int, loop complex128) (amps float64, why string) {
	s := &j.f.Supplies[supply]
	switch {
	case !outlet(s) && !s.Ohms.Given:
		return 0, fmt.Sprintf("what a %s gives into a fault is not known", s.Kind.V)
	case (s.DC.V || extraLow(s)) && !s.Ohms.Given:
		return 0, "what lies ahead of the source is not known"
	}
	amps, err := electrical.FaultAmps(electrical.FaultVoltageFactor, c.net.Supplies[supply].FaultVolts(), loop)
	if err != nil {
		return 0, "the fault current is not limited by what is given"
	}
	return amps, ""
}

// farthest is the run of a supply whose far end a fault meets with most impedance; -1 without runs.
func (c *circuit) farthest(supply int) int {
	worst := -1
	for _, i := range c.runs[supply] {
		if worst < 0 || cmplx.Abs(c.loops[i]) > cmplx.Abs(c.loops[worst]) {
			worst = i
		}
	}
	return worst
}

// loopSteps works the loop of a fault at the far end of a run.
func (j *job) loopSteps(c *circuit, run int) []verdict.Step {
	supply := c.root[c.net.Runs[run].Name]
	s := &j.f.Supplies[supply]
	steps := []verdict.Step{{Text: "loop ahead of the outlet", Formula: "as given or assumed", Numbers: fmt.Sprintf("%.4g ohm", cmplx.Abs(c.source[supply])), At: s.Name.At.String()}}
	for _, i := range c.chain(c.net.Runs[run].Name) {
		r := &c.net.Runs[i]
		steps = append(steps, verdict.Step{Text: "loop of " + r.Name, Formula: "2 · length · R + contacts (leg out, protective conductor of the same size back)",
			Numbers: fmt.Sprintf("2 · %.4g m · %.4g ohm/km + %.3g ohm = %.4g ohm", r.Length, 1000*r.Resistance, r.Contact, 2*r.Length*r.Resistance+r.Contact), At: j.f.Cords[i].Name.At.String()})
	}
	amps, _ := j.faultAmps(c, supply, c.loops[run])
	return append(steps, verdict.Step{Text: "fault current at the far end", Formula: "0.95 · U0 / Zs",
		Numbers: fmt.Sprintf("0.95 · %.5g V / %.4g ohm = %.4g A", c.net.Supplies[supply].FaultVolts(), cmplx.Abs(c.loops[run]), amps), Source: "BS 7671 411.4.4, voltage factor 0.95; conductors as warm as they may be"})
}

// faultTrips checks, at the farthest end of each supply, that something clears a fault to earth.
func (j *job) faultTrips(c *circuit) {
	source := "NEC 250.4(A)(5): the fault-current path lets the overcurrent device act (from memory); read with what the breaker is sure to trip at"
	if c.iec {
		source = "BS 7671 411.4.4 and IEC 60364-4-41 411: the fault current reaches what the protective device is sure to trip at"
	}
	for i := range j.f.Supplies {
		s, t := &j.f.Supplies[i], c.trips[i]
		check := powerCheck(s.Name.V, "fault trip", verdict.AtLeast, "A", source, s.Name.At)
		loop, end, run := c.source[i], "the outlet", c.farthest(i)
		if run >= 0 {
			loop, end = c.loops[run], c.net.Runs[run].Name
		}
		amps, unknown := j.faultAmps(c, i, loop)
		if run >= 0 && unknown == "" {
			check.Working = j.loopSteps(c, run)
		}
		switch {
		case s.DC.V || extraLow(s):
			j.unchecked(verdict.Power, s.Name.V, check.What, t.why, source, s.Name.At)
		case s.GFCI.V:
			j.gfciClears(c, s, t, check, end, amps, unknown)
		case s.Kind.V == "generator" && s.GFCI.Given:
			check.Result, check.Why, check.Cure = verdict.Fails, t.why, "protect it by a GFCI (RCD), which needs no large current"
			check.Working = []verdict.Step{{Text: "what would clear a fault", Formula: "a breaker that a large current trips, or a GFCI (RCD)", Numbers: "neither can be counted on", Source: source}}
			j.report.Checks = append(j.report.Checks, check)
		case unknown != "" || t.why != "":
			j.unchecked(verdict.Power, s.Name.V, check.What, strings.Join(nonEmpty(unknown, t.why), "; "), source, s.Name.At)
		default:
			check.Needs, check.Has, check.Why = ptr(t.amps(s)), ptr(amps), "at the far end of "+end
			check.Working = append(check.Working, t.step("what the breaker is sure to trip at", s))
			if amps < t.amps(s) {
				check.Cure = "protect it by a GFCI (RCD), which clears faults to earth; or " + j.faultCure(c, run)
			}
			j.add(check)
		}
	}
}

// gfciClears adds the check of a fault to earth that a GFCI or RCD clears; the current has no number
// where it is not known.
func (j *job) gfciClears(c *circuit, s *site.Supply, t trip, check verdict.Check, end string, amps float64, unknown string) {
	at := j.gfciTrip(c, s)
	check.Source = "UL 943 class A: trips at 6 mA"
	if c.iec || s.GFCITrip.Given {
		check.Source = "BS 7671 411.4.4 and 531.3: an RCD may be what disconnects"
	}
	check.Result, check.Why = verdict.Holds, fmt.Sprintf("its GFCI or RCD clears a fault to earth at the far end of %s", end)
	check.Working = append(check.Working, verdict.Step{Text: "what the GFCI or RCD trips at", Formula: "its rated trip current", Numbers: fmt.Sprintf("%.4g A", at), Source: check.Source, At: s.GFCI.At.String()})
	if unknown != "" {
		check.Why += "; it needs no large current (" + unknown + ")"
		j.report.Checks = append(j.report.Checks, check)
		return
	}
	check.Needs, check.Has = ptr(at), ptr(amps)
	if t.why == "" {
		check.Working = append(check.Working, t.step("what the breaker alone is sure to trip at", s))
	}
	j.add(check)
}

// step works what a breaker is sure to trip at.
func (t trip) step(text string, s *site.Supply) verdict.Step {
	return verdict.Step{Text: text, Formula: "multiple · rating",
		Numbers: fmt.Sprintf("%.4g · %.4g = %.4g A", t.multiple, float64(s.Breaker.V), t.amps(s)), Source: t.source, At: s.Breaker.At.String()}
}

// gfciTrip is the leakage at which a supply's GFCI or RCD is sure to trip, A.
func (j *job) gfciTrip(c *circuit, s *site.Supply) float64 {
	switch {
	case s.GFCITrip.Given:
		return float64(s.GFCITrip.V)
	case c.iec:
		return assumedMeasure[quantity.Current](j, "rcd", s.Name.V)
	}
	return electrical.GFCITrip
}

// faultCure names a size or a length of a run with which the breaker is sure to trip.
func (j *job) faultCure(c *circuit, run int) string {
	if run < 0 {
		return "a shorter or thicker line behind the outlet"
	}
	supply := c.root[c.net.Runs[run].Name]
	s, t := &j.f.Supplies[supply], c.trips[supply]
	net := c.net
	net.Supplies = slices.Clone(c.net.Supplies)
	loop := c.faultLimit(supply, t.amps(s))
	net.Supplies[supply].MaxFaultLoop = loop
	chain := c.chain(net.Runs[run].Name)
	var ways []string
	for _, i := range chain {
		if g, err := electrical.LeastGauge(net, net.Runs[i].Name, c.lists[i], c.limit); err == nil && g.OK {
			ways = append(ways, fmt.Sprintf("%s for %s", g.Conductor.Name, net.Runs[i].Name))
			break
		}
	}
	if sizes, err := electrical.Sizes(net, c.lists, c.limit); err == nil && len(ways) == 0 {
		var parts []string
		for _, i := range chain {
			if sizes[i].OK {
				parts = append(parts, fmt.Sprintf("%s for %s", sizes[i].Conductor.Name, net.Runs[i].Name))
			}
		}
		if len(parts) > 0 {
			ways = append(ways, list(parts))
		}
	}
	if l, err := electrical.LongestRun(net, net.Runs[run].Name, c.limit); err == nil && l.OK && l.Length >= net.Runs[run].Length/4 && l.Length < net.Runs[run].Length {
		ways = append(ways, fmt.Sprintf("%s cut to %s", net.Runs[run].Name, j.shorter(l.Length)))
	}
	if len(ways) == 0 {
		return fmt.Sprintf("bring the loop of the cords below %.3g ohm: a nearer outlet, or a breaker that trips sooner", loop)
	}
	return "use " + strings.Join(ways, ", or ")
}

// shortCircuits checks, for each cord, that a fault between its conductors at its far end is
// cleared before it spoils the insulation.
func (j *job) shortCircuits(c *circuit) {
	for i := range j.f.Cords {
		k := &j.f.Cords[i]
		supply := c.root[k.From.V]
		s, t := &j.f.Supplies[supply], c.trips[supply]
		source := "IEC 60364-4-43 434.5.2: t <= (k S / I)^2"
		row, known := j.f.Conductor(k)
		amps, why := j.faultAmps(c, supply, c.loops[i])
		switch {
		case s.DC.V || extraLow(s):
			continue // told once for the supply
		case why == "" && t.why != "":
			why = t.why
		case why == "" && !known:
			why = "the area of its conductors is not given"
		}
		if why != "" {
			j.unchecked(verdict.Power, k.Name.V, "short circuit", why, source, k.Name.At)
			continue
		}
		area, breaker := float64(row.Area), float64(s.Breaker.V)
		steps := append(j.loopSteps(c, i), t.step("what the breaker is sure to trip at", s))
		time, err := electrical.TripTime(t.multiple, breaker, amps)
		if err == nil {
			bears, err := electrical.AdiabaticTime(area, amps, electrical.AdiabaticK)
			if err != nil {
				j.unchecked(verdict.Power, k.Name.V, "short circuit", err.Error(), source, k.Name.At)
				continue
			}
			check := powerCheck(k.Name.V, "short circuit", verdict.AtLeast, "s", source, k.Gauge.At)
			check.Needs, check.Has = ptr(time.Value), ptr(bears)
			check.Working = append(steps,
				verdict.Step{Text: "time that the breaker may take", Formula: "at once", Numbers: fmt.Sprintf("%.3g s", time.Value), Source: fmt.Sprintf("%s (%s)", time.Source, time.Certainty)},
				verdict.Step{Text: "time that the conductor bears", Formula: "(k · S / I)²", Numbers: fmt.Sprintf("(%d · %.4g mm² / %.4g A)² = %.4g s", electrical.AdiabaticK, 1e6*area, amps, bears), Source: source + "; k = 115 for PVC (from memory)"})
			if bears < time.Value {
				least, _ := electrical.AdiabaticArea(amps, time.Value, electrical.AdiabaticK)
				check.Cure = fmt.Sprintf("use conductors of %.3g mm² or more for %s", 1e6*least, k.Name.V)
			}
			if bears >= time.Value || c.iec || area < cordOnBreaker*(1-1e-3) || breaker > 20 {
				j.add(check)
				continue
			}
		}
		if !c.iec && breaker <= 20 {
			check := powerCheck(k.Name.V, "short circuit", verdict.AtLeast, "1", "NEC 240.5(B): a cord of 16 AWG or more counts as protected on a circuit of 20 A or less", k.Gauge.At)
			check.Working = append(steps, verdict.Step{Text: "cord that counts as protected", Formula: "16 AWG or thicker on 20 A or less", Numbers: fmt.Sprintf("%s on %.4g A", k.Gauge.Text, breaker), Source: check.Source})
			check.Result = verdict.Holds
			check.Why = fmt.Sprintf("by that rule and no other: %.0f A at its far end do not make the breaker trip at once (%.0f A do), so look at the cord after any short", amps, t.amps(s))
			if area < cordOnBreaker*(1-1e-3) {
				check.Result = verdict.Fails
				check.Why = fmt.Sprintf("%s is thinner than 16 AWG, and %.0f A at its far end do not make the breaker trip at once (%.0f A do)", k.Gauge.Text, amps, t.amps(s))
				check.Cure = fmt.Sprintf("use 16 AWG or thicker for %s", k.Name.V)
			}
			j.report.Checks = append(j.report.Checks, check)
			continue
		}
		check := powerCheck(k.Name.V, "short circuit", verdict.AtLeast, "A", source, k.Gauge.At)
		check.Needs, check.Has = ptr(t.amps(s)), ptr(amps)
		check.Why = "below that the time that the breaker takes has no limit that a conductor could be checked against"
		if thermal, err := electrical.ThermalTrip(t.device, breaker, amps); err == nil && !s.Trip.Given {
			check.Why = fmt.Sprintf("below that only the thermal part of the breaker is sure to act, within %.0f s", thermal.Seconds)
		}
		check.Working, check.Cure = steps, j.faultCure(c, i)
		j.add(check)
	}
}

// residual checks that a GFCI or RCD is there, and what leaks through it in ordinary use.
func (j *job) residual(c *circuit) {
	source := "NFPA 70 525.23(A), and 210.8(B) from memory: outdoor receptacles and equipment within reach of the public"
	if c.iec {
		source = "BS 7671 411.3.3 and IEC 60364-4-41 415.1: sockets for the public and outdoors behind an RCD of 30 mA (from memory)"
	}
	for i := range j.f.Supplies {
		s := &j.f.Supplies[i]
		if extraLow(s) {
			continue
		}
		if !s.GFCI.Given {
			j.unchecked(verdict.Power, s.Name.V, "GFCI", "the file does not say whether a GFCI or RCD protects it", source, s.Name.At)
			continue
		}
		check := powerCheck(s.Name.V, "GFCI", verdict.AtLeast, "1", source, s.GFCI.At)
		check.Result, check.Why = verdict.Holds, "the file says that one protects it; test it on the night"
		if !s.GFCI.V {
			check.Result, check.Why = verdict.Fails, "no GFCI or RCD protects it"
			check.Cure = "feed it through a GFCI (RCD) outlet or a portable GFCI at the supply end"
		} else if trip := float64(s.GFCITrip.V); c.iec && trip > electrical.RCDTrip {
			check.Result, check.Why = verdict.Fails, fmt.Sprintf("its RCD trips at %.4g mA, which does not protect persons", 1000*trip)
			check.Cure = "an RCD of 30 mA"
		}
		check.Working = []verdict.Step{{Text: "what protects persons", Formula: "class A GFCI (6 mA) or RCD of 30 mA", Numbers: check.Why, Source: source, At: s.GFCI.At.String()}}
		j.report.Checks = append(j.report.Checks, check)
		if s.GFCI.V {
			j.leakage(c, i)
		}
	}
}

// leakage adds what leaks on one supply in ordinary use.
func (j *job) leakage(c *circuit, supply int) {
	s := &j.f.Supplies[supply]
	budget, source := electrical.GFCIBudget(), "UL 943: a class A GFCI may trip above 4 mA; 1.5 mA in ordinary use leaves room (by analogy with BS 7671 531.3.2; common practice, no source)"
	trips := j.gfciTrip(c, s)
	if c.iec || s.GFCITrip.Given {
		b, err := electrical.RCDBudget(trips)
		if err != nil {
			j.unchecked(verdict.Power, s.Name.V, "leakage", err.Error(), "BS 7671 531.3.2", s.GFCITrip.At)
			return
		}
		budget, source = b, "BS 7671 531.3.2: no more than 30 % of the RCD's rating leaks in ordinary use"
	}
	check := powerCheck(s.Name.V, "leakage", verdict.AtMost, "A", source, s.GFCI.At)
	metres := 0.0
	for _, i := range c.runs[supply] {
		metres += c.net.Runs[i].Length
	}
	cords, _ := electrical.EstimatedLeakage(0, metres)
	sum, guessed := cords+c.result.Supplies[supply].LeakageAmps, 0.0
	check.Working = []verdict.Step{{Text: "leakage of the cords", Formula: "0.01 mA for each metre", Numbers: fmt.Sprintf("%.4g m: %.3f mA", metres, 1000*cords), Source: "from memory"}}
	for _, i := range c.loads[supply] {
		l, r := &j.f.Lamps[i], &c.result.Loads[i]
		step := verdict.Step{Text: "leakage of " + l.Name.V, At: l.Name.At.String()}
		if l.Leakage.Given {
			step.Formula, step.Numbers = "count · leakage of one", fmt.Sprintf("%d · %.4g mA = %.3f mA", l.Count.V, 1000*float64(l.Leakage.V), 1000*float64(l.Count.V)*float64(l.Leakage.V))
			step.Source = "given in the site file"
		} else {
			draws := r.Amps
			if !r.Solved {
				draws = float64(l.Count.V) * float64(l.Watts.V) / float64(s.Volts.V)
			}
			amps, _ := electrical.EstimatedLeakage(draws, 0)
			guessed += amps
			sum += amps
			step.Formula, step.Numbers = "0.3 mA for each ampere, where it is not known", fmt.Sprintf("%.3f A: %.3f mA", draws, 1000*amps)
			step.Source = "published in notes on leakage (Martindale 2018)"
		}
		check.Working = append(check.Working, step)
	}
	check.Needs, check.Has = ptr(budget), ptr(sum)
	check.Working = append(check.Working, verdict.Step{Text: "leakage in all", Formula: "sum", Numbers: fmt.Sprintf("%.3f mA; %.3f mA may leak", 1000*sum, 1000*budget), Source: source})
	if sum > budget && sum-guessed <= budget {
		j.unchecked(verdict.Power, s.Name.V, check.What, fmt.Sprintf("%.2f mA are estimated for what gives no leakage of its own, and with the rest that is more than the %.2f mA that may leak; give the leakage of each, from its label or measured", 1000*guessed, 1000*budget), source, s.GFCI.At)
		return
	}
	if sum > budget {
		check.Cure = fmt.Sprintf("spread it over %d GFCIs (RCDs), each with its own outlet", int(sum/budget)+1)
	}
	j.add(check)
}

// inrush checks all lamps of a supply switched on together against what its breaker bears.
func (j *job) inrush(c *circuit) {
	for i := range j.f.Supplies {
		s, r, t := &j.f.Supplies[i], &c.result.Supplies[i], c.trips[i]
		const source = "what the breaker's instantaneous part bears for 0.1 s"
		if s.DC.V || extraLow(s) || !s.Breaker.Given || len(j.f.Lamps) == 0 {
			continue
		}
		pulses := 0
		for _, k := range c.loads[i] {
			if c.pulses[k] {
				pulses += j.f.Lamps[k].Count.V
			}
		}
		if pulses > 0 {
			j.unchecked(verdict.Power, s.Name.V, "inrush pulse",
				devices(pulses)+" with a pulse of microseconds; only the maker's number for each breaker tells how many one breaker bears", "makers' notes on LED inrush (Trilux, watt24)", s.Breaker.At)
		}
		hold, err := electrical.HoldsInrush(t.device, float64(s.Breaker.V))
		if err != nil {
			j.unchecked(verdict.Power, s.Name.V, "inrush", err.Error(), source, s.Breaker.At)
			continue
		}
		most, single := 0.0, 0.0
		for _, leg := range r.Legs {
			most = max(most, leg.Inrush)
		}
		limit := hold.Multiple * float64(s.Breaker.V)
		check := powerCheck(s.Name.V, "inrush", verdict.AtMost, "A", fmt.Sprintf("%s (%s)", hold.Source, hold.Certainty), s.Breaker.At)
		check.Needs, check.Has = ptr(limit), ptr(most)
		for _, k := range c.loads[i] {
			l, load := &c.result.Loads[k], &c.net.Loads[k]
			single = max(single, max(1, load.Inrush)*l.Amps/float64(load.Count))
			check.Working = append(check.Working, verdict.Step{Text: "start of " + load.Name, Formula: "multiple · running current",
				Numbers: fmt.Sprintf("%.3g · %.3f A = %.3f A", max(1, load.Inrush), l.Amps, max(1, load.Inrush)*l.Amps), At: j.f.Lamps[k].Name.At.String()})
		}
		check.Working = append(check.Working,
			verdict.Step{Text: "all at once, on the leg with most", Formula: "sum of the magnitudes", Numbers: fmt.Sprintf("%.3f A", most)},
			verdict.Step{Text: "what the breaker bears", Formula: "multiple · rating", Numbers: fmt.Sprintf("%.3g · %.4g A = %.4g A", hold.Multiple, float64(s.Breaker.V), limit), Source: check.Source, At: s.Breaker.At.String()})
		if most > limit {
			check.Cure = fmt.Sprintf("switch them on in %d groups, one after the other", int(most/limit)+1)
			if single > limit {
				check.Cure = fmt.Sprintf("a breaker that bears %.0f A for a moment, or a device that starts softly; lighting = false where it has no filament", math.Ceil(single))
			}
		}
		j.add(check)
	}
}

func devices(n int) string {
	if n == 1 {
		return "1 electronic device starts"
	}
	return fmt.Sprintf("%d electronic devices start", n)
}
