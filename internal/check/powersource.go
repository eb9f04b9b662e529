package check

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"galefast/electrical"
	"galefast/internal/quantity"
	"galefast/internal/site"
	"galefast/internal/verdict"
)

// chains checks cords that are plugged into cords, and strips of outlets.
func (j *job) chains(c *circuit) {
	for i := range j.f.Cords {
		k := &j.f.Cords[i]
		at, chained := c.run[k.From.V]
		if k.Kind.V == "strip" {
			check := powerCheck(k.Name.V, "outlet strip", verdict.AtLeast, "1", "UL 1363 by OSHA 1910.303(b)(2): a strip is plugged into a permanent outlet, not into a cord or another strip", k.From.At)
			check.Result, check.Why = verdict.Holds, "it is plugged into the outlet itself"
			if chained {
				check.Result, check.Why = verdict.Fails, fmt.Sprintf("it is plugged into %s", k.From.V)
				check.Cure = fmt.Sprintf("plug it into %s, or use a box of outlets made for the end of a cord (kind = \"splitter\")", j.f.Supplies[c.root[k.Name.V]].Name.V)
			}
			check.Working = []verdict.Step{{Text: "what it is plugged into", Formula: "an outlet", Numbers: check.Why, Source: check.Source, At: k.From.At.String()}}
			j.report.Checks = append(j.report.Checks, check)
			continue
		}
		if !chained || k.Kind.V == "splitter" || j.f.Cords[at].Kind.V == "splitter" {
			continue
		}
		check := powerCheck(k.Name.V, "chained cords", verdict.AtMost, "1", "ESFI, extension cord advice: do not chain cords; a recommendation. A box of outlets ends a chain", k.From.At)
		count, length, from := 1.0, float64(k.Length.V), k
		names := []string{k.Name.V}
		for x := at; chained && j.f.Cords[x].Kind.V != "splitter"; x, chained = c.run[from.From.V] {
			count++
			from = &j.f.Cords[x]
			length += float64(from.Length.V)
			names = append(names, from.Name.V)
		}
		slices.Reverse(names)
		check.Needs, check.Has = ptr(1), &count
		check.Why = fmt.Sprintf("%s are plugged into each other; they are computed as one circuit, whose lengths and contacts add up", list(names))
		check.Working = []verdict.Step{{Text: "cords in a row", Formula: "counted from the outlet or the last box", Numbers: fmt.Sprintf("%s: %.0f", strings.Join(names, ", "), count), Source: check.Source, At: k.From.At.String()}}
		check.Cure = fmt.Sprintf("one cord of %s from %s for %s, or a box of outlets between them (kind = \"splitter\")", quantity.Format(quantity.Length(length), j.f.System()), from.From.V, k.Name.V)
		j.add(check)
	}
}

// connections checks how the plug of each cord lies where it is fed.
func (j *job) connections(c *circuit) {
	source := "NEC 406.9(B)(1): outdoor receptacles in a cover that closes over the plug; cord connectors of a kind for wet places"
	if c.iec {
		source = "IEC 60364-5-51 512.2: connections outdoors of IP44 at least (from memory)"
	}
	for i := range j.f.Cords {
		k := &j.f.Cords[i]
		if extraLow(&j.f.Supplies[c.root[k.Name.V]]) {
			continue
		}
		if !k.Connection.Given {
			j.unchecked(verdict.Power, k.Name.V, "connection", "the file does not say how its plug is kept from the wet", source, k.Name.At)
			continue
		}
		check := powerCheck(k.Name.V, "connection", verdict.AtLeast, "1", source, k.Connection.At)
		check.Result, check.Why = verdict.Holds, map[string]string{"indoors": "its plug is indoors", "covered": "its plug is in a box or a cover that closes over it",
			"rated": "its connection is of a kind rated for wet"}[k.Connection.V]
		if k.Connection.V == "open" {
			check.Result, check.Why = verdict.Fails, "its plug lies in the open"
			check.Cure = "a cover that closes over the plug, or a box around the connection, off the ground; or connectors of IP44 or better"
		}
		check.Working = []verdict.Step{{Text: "how the plug lies", Formula: "indoors, covered, or rated for wet", Numbers: check.Why, Source: source, At: k.Connection.At.String()}}
		j.report.Checks = append(j.report.Checks, check)
	}
}

// lowVoltage checks sources of extra-low voltage: what may be touched in the wet, and the load of
// a transformer.
func (j *job) lowVoltage(c *circuit) {
	for i := range j.f.Supplies {
		s, r := &j.f.Supplies[i], &c.result.Supplies[i]
		if extraLow(s) {
			volts := float64(s.Volts.V)
			limit := electrical.TouchVoltageLimit(s.DC.V, true)
			check := powerCheck(s.Name.V, "touch voltage", verdict.AtMost, "V", "IEC 60598-1 8.2.3: live parts of a luminaire that can be touched in the wet, 12 V AC or 30 V DC", s.Volts.At)
			check.Needs, check.Has = &limit, &volts
			check.Working = []verdict.Step{{Text: "highest voltage that may be touched in the wet", Formula: "by AC or DC", Numbers: fmt.Sprintf("%.4g V", limit), Source: check.Source, At: s.Volts.At.String()}}
			if volts > limit {
				check.Cure = "12 V AC or up to 30 V DC; or lamps and connectors without live parts in reach, judged by an electrician"
			}
			j.add(check)
		} else if s.Kind.V == "transformer" {
			check := powerCheck(s.Name.V, "touch voltage", verdict.AtMost, "V", "IEC 60364-4-41 414: extra-low voltage is 50 V AC or 120 V DC at most", s.Volts.At)
			limit, volts := 50.0, float64(s.Volts.V)
			if s.DC.V {
				limit = 120
			}
			check.Needs, check.Has = &limit, &volts
			check.Working = []verdict.Step{{Text: "highest extra-low voltage", Formula: "by AC or DC", Numbers: fmt.Sprintf("%.4g V", limit), Source: check.Source, At: s.Volts.At.String()}}
			check.Cure = `kind = "outlet", with the protection of one`
			j.add(check)
		}
		if s.Kind.V != "transformer" || !r.Solved {
			continue
		}
		if !s.RatedVA.Given {
			j.unchecked(verdict.Power, s.Name.V, "transformer load", "its rated VA is not given; it is printed on it", "", s.Name.At)
			continue
		}
		check := powerCheck(s.Name.V, "transformer load", verdict.AtLeast, "VA", "the transformer's own label, as given in the site file", s.RatedVA.At)
		check.Needs, check.Has = ptr(r.VA), ptr(float64(s.RatedVA.V))
		check.Working = append(j.loadSteps(c, s.Name.V), verdict.Step{Text: "apparent power at its terminals", Formula: "V · I, losses of the cords included", Numbers: fmt.Sprintf("%.4g VA", r.VA)})
		if r.VA > float64(s.RatedVA.V) {
			check.Cure = fmt.Sprintf("a transformer of %.0f VA, or %.0f VA less on it", math.Ceil(r.VA), math.Ceil(r.VA-float64(s.RatedVA.V)))
		}
		j.add(check)
	}
}

// derating is the part of its rating that a generator gives here, with its working.
func (j *job) derating(s *site.Supply) (float64, verdict.Step, error) {
	altitude := float64(s.Altitude.V)
	if !s.Altitude.Given {
		altitude = assumedMeasure[quantity.Length](j, "altitude", s.Name.V)
	}
	air := float64(j.f.Site.Ambient.V)
	f, err := electrical.GeneratorDerating(altitude, air)
	return f, verdict.Step{Text: "part of its rating that the set gives here", Formula: "(1 - 3.5 % for each 1000 ft above 1000 ft) · (1 - 2 % for each 10 °F above 85 °F)",
		Numbers: fmt.Sprintf("%.4g m, %.4g °C: %.4f", altitude, air, f), Source: "Cummins Onan P5350C manual", At: s.Altitude.At.String()}, err
}

// generators checks the load of each generator, its start, and that it is loaded enough.
func (j *job) generators(c *circuit) {
	for i := range j.f.Supplies {
		s, r := &j.f.Supplies[i], &c.result.Supplies[i]
		if s.Kind.V != "generator" {
			continue
		}
		source := "80 % of its rating for hours (common practice, no source), less by altitude and heat (Cummins Onan P5350C manual)"
		if !s.Rated.Given {
			j.unchecked(verdict.Power, s.Name.V, "generator load", "what the set gives for hours is not given; it is on its plate", source, s.Name.At)
			continue
		}
		part, derated, err := j.derating(s)
		if err != nil {
			j.unchecked(verdict.Power, s.Name.V, "generator load", err.Error(), source, s.Name.At)
			continue
		}
		check := powerCheck(s.Name.V, "generator load", verdict.AtLeast, "W", source, s.Rated.At)
		if !r.Solved {
			j.collapsed(c, check)
			continue
		}
		rated := float64(s.Rated.V)
		gives := electrical.GeneratorContinuous * rated * part
		check.Needs, check.Has = ptr(r.Watts), &gives
		loads := j.wattSteps(c, i)
		check.Working = append(slices.Clone(loads), verdict.Step{Text: "power at its terminals", Formula: "sum, losses of the cords included", Numbers: fmt.Sprintf("%.5g W", r.Watts)}, derated,
			verdict.Step{Text: "what it gives for hours", Formula: "0.8 · rated · part", Numbers: fmt.Sprintf("0.8 · %.5g · %.4f = %.5g W", rated, part, gives), Source: source, At: s.Rated.At.String()})
		if r.Watts > gives {
			check.Cure = fmt.Sprintf("a set of %.1f kW, or %.0f W less on it", math.Ceil(r.Watts/electrical.GeneratorContinuous/part/100)/10, math.Ceil(r.Watts-gives))
		}
		j.add(check)
		if s.RatedVA.Given {
			va := electrical.GeneratorContinuous * float64(s.RatedVA.V) * part
			check := powerCheck(s.Name.V, "generator VA", verdict.AtLeast, "VA", source, s.RatedVA.At)
			check.Needs, check.Has = ptr(r.VA), &va
			check.Working = append(j.loadSteps(c, s.Name.V), derated, verdict.Step{Text: "what it gives for hours", Formula: "0.8 · rated VA · part",
				Numbers: fmt.Sprintf("0.8 · %.5g · %.4f = %.5g VA", float64(s.RatedVA.V), part, va), At: s.RatedVA.At.String()})
			if r.VA > va {
				check.Cure = fmt.Sprintf("a set of %.1f kVA, or loads of a better power factor", math.Ceil(r.VA/electrical.GeneratorContinuous/part/100)/10)
			}
			j.add(check)
		}
		if n := len(r.Legs); n > 1 {
			j.legBalance(s, r)
		}
		j.start(c, i, part, derated)
		if s.Fuel.V == string(electrical.Diesel) {
			least := electrical.GeneratorLeast * rated
			check := powerCheck(s.Name.V, "generator least load", verdict.AtLeast, "W", "a diesel below 30 % of its rating soots up (from memory)", s.Rated.At)
			check.Needs, check.Has = &least, ptr(r.Watts)
			check.Working = []verdict.Step{{Text: "least load", Formula: "0.3 · rated", Numbers: fmt.Sprintf("0.3 · %.5g = %.5g W", rated, least), Source: check.Source, At: s.Rated.At.String()}}
			if r.Watts < least {
				check.Cure = fmt.Sprintf("a set of %.1f kW or less", math.Floor(r.Watts/electrical.GeneratorLeast/100)/10)
			}
			j.add(check)
		}
	}
}

// legBalance checks that no leg of a set carries more than its share of the rating.
func (j *job) legBalance(s *site.Supply, r *electrical.SupplyResult) {
	most := 0.0
	for _, l := range r.Legs {
		most = max(most, l.Continuous+l.Noncontinuous)
	}
	supply := electrical.Supply{Volts: float64(s.Volts.V), Phases: s.Phases.V, SplitPhase: s.SplitPhase.V}
	share := float64(s.Rated.V) / float64(len(r.Legs)) / supply.Nominal(electrical.Leg1)
	check := powerCheck(s.Name.V, "generator leg", verdict.AtLeast, "A", "each leg gives its share of the rating (published in homepower)", s.Rated.At)
	check.Needs, check.Has = &most, &share
	check.Working = []verdict.Step{{Text: "share of one leg", Formula: "rated / legs / voltage of a leg", Numbers: fmt.Sprintf("%.5g W / %d / %.4g V = %.4g A", float64(s.Rated.V), len(r.Legs), supply.Nominal(electrical.Leg1), share), At: s.Rated.At.String()},
		{Text: "fullest leg", Formula: "sum of its currents", Numbers: fmt.Sprintf("%.4g A", most)}}
	if most > share {
		check.Cure = fmt.Sprintf("move %.1f A to another leg", math.Ceil((most-share)*10)/10)
	}
	j.add(check)
}

// wattSteps lists the power of the loads of a supply.
func (j *job) wattSteps(c *circuit, supply int) []verdict.Step {
	var steps []verdict.Step
	for _, i := range c.loads[supply] {
		steps = append(steps, verdict.Step{Text: "power of " + j.f.Lamps[i].Name.V, Formula: "count · P at the voltage that arrives",
			Numbers: fmt.Sprintf("%.5g W", c.result.Loads[i].Watts), At: j.f.Lamps[i].Name.At.String()})
	}
	return steps
}

// start checks the start of the one load that adds most to a generator.
func (j *job) start(c *circuit, supply int, part float64, derated verdict.Step) {
	s := &j.f.Supplies[supply]
	surge, at, of := float64(s.Surge.V), s.Surge.At, "surge"
	if !s.Surge.Given {
		surge, at, of = float64(s.Rated.V), s.Rated.At, "rated, since no surge is given,"
	}
	var running, starting []float64
	worst, most := -1, 0.0
	for _, i := range c.loads[supply] {
		load, r := &c.net.Loads[i], &c.result.Loads[i]
		begin := r.Watts
		if load.Kind != electrical.Resistance && load.Inrush > 1 {
			begin += (load.Inrush - 1) * r.Watts / float64(load.Count) // one at a time
		}
		running, starting = append(running, r.Watts), append(starting, begin)
		if begin-r.Watts > most {
			worst, most = i, begin-r.Watts
		}
	}
	needs, err := electrical.StartWatts(running, starting)
	if err != nil || worst < 0 {
		return // nothing on it starts with more than it runs with
	}
	gives := surge * part
	check := powerCheck(s.Name.V, "generator start", verdict.AtLeast, "W", "running load and the largest start, one at a time (Cummins Onan P5350C manual)", at)
	check.Needs, check.Has = &needs, &gives
	check.Working = append(j.wattSteps(c, supply),
		verdict.Step{Text: "start of " + c.net.Loads[worst].Name, Formula: "what it adds while it starts", Numbers: fmt.Sprintf("%.3g times its %.5g W: %.5g W more", c.net.Loads[worst].Inrush, c.result.Loads[worst].Watts/float64(c.net.Loads[worst].Count), most), At: j.f.Lamps[worst].Name.At.String()},
		verdict.Step{Text: "power while it starts", Formula: "sum + what it adds", Numbers: fmt.Sprintf("%.5g W", needs)}, derated,
		verdict.Step{Text: "what the set gives for seconds", Formula: of + " · part", Numbers: fmt.Sprintf("%.5g · %.4f = %.5g W", surge, part, gives), At: at.String()})
	if needs > gives {
		check.Cure = fmt.Sprintf("start %s before the rest; or a set with a surge of %.1f kW", c.net.Loads[worst].Name, math.Ceil(needs/part/100)/10)
	}
	j.add(check)
}

// longestOn is how long the loads of a supply stay on, h; not known when one is not.
func (j *job) longestOn(c *circuit, supply int) (hours float64, unknown string) {
	for _, i := range c.loads[supply] {
		if !j.f.Lamps[i].Hours.Given {
			return 0, fmt.Sprintf("the hours of lamp %q are not given", j.f.Lamps[i].Name.V)
		}
		hours = max(hours, c.net.Loads[i].Hours)
	}
	return hours, ""
}

// batteryOf is a supply's battery.
func (j *job) batteryOf(s *site.Supply) electrical.Battery {
	b := electrical.Battery{WattHours: float64(s.Capacity.V) / 3600, Depth: float64(s.Depth.V), Efficiency: float64(s.Efficiency.V), Idle: float64(s.Idle.V)}
	if !s.Depth.Given {
		b.Depth = assumedMeasure[quantity.Ratio](j, "depth", s.Name.V)
	}
	if s.DC.V && !s.Efficiency.Given {
		b.Efficiency = 1 // the lamps hang on the battery itself
		return b
	}
	if !s.Efficiency.Given {
		b.Efficiency = assumedMeasure[quantity.Ratio](j, "efficiency", s.Name.V)
	}
	if !s.Idle.Given {
		b.Idle = assumedMeasure[quantity.Power](j, "idle", s.Name.V)
	}
	return b
}

// batteries checks that each battery lasts as long as its lamps are on.
func (j *job) batteries(c *circuit) {
	for i := range j.f.Supplies {
		s, r := &j.f.Supplies[i], &c.result.Supplies[i]
		if s.Kind.V != "battery" {
			continue
		}
		const source = "energy that may be taken out over what the lamps take (from memory)"
		hours, unknown := j.longestOn(c, i)
		switch {
		case !s.Capacity.Given:
			unknown = "its capacity is not given; it is on its label"
		case !r.Solved:
			unknown = "the voltage gives way"
		case unknown == "" && hours == 0:
			continue
		}
		if unknown != "" {
			j.unchecked(verdict.Power, s.Name.V, "battery hours", unknown, source, s.Name.At)
			continue
		}
		b := j.batteryOf(s)
		lasts, err := b.Hours(r.Watts)
		if err != nil {
			j.unchecked(verdict.Power, s.Name.V, "battery hours", err.Error(), source, s.Name.At)
			continue
		}
		check := powerCheck(s.Name.V, "battery hours", verdict.AtLeast, "h", source, s.Capacity.At)
		check.Needs, check.Has = &hours, &lasts
		check.Working = append(j.wattSteps(c, i), verdict.Step{Text: "hours that it lasts with all of them on", Formula: "capacity · depth / (P / efficiency + idle)",
			Numbers: fmt.Sprintf("%.5g Wh · %.3g / (%.5g W / %.3g + %.4g W) = %.4g h", b.WattHours, b.Depth, r.Watts, b.Efficiency, b.Idle, lasts), Source: source, At: s.Capacity.At.String()})
		if lasts < hours {
			check.Cure = fmt.Sprintf("a battery of %.1f kWh, or %.0f %% of the lamps", math.Ceil(b.WattHours*hours/lasts/100)/10, math.Floor(100*lasts/hours))
		}
		j.add(check)
	}
}

// energy lists what each supply gives in a night, and the fuel for it.
func (j *job) energy(c *circuit) {
	for i := range j.f.Supplies {
		s, r := &j.f.Supplies[i], &c.result.Supplies[i]
		row := verdict.Energy{Name: s.Name.V}
		hours, unknown := j.longestOn(c, i)
		switch {
		case !r.Solved:
			unknown = "the voltage gives way"
		case s.Kind.V == "battery" && s.Capacity.Given:
			if lasts, err := j.batteryOf(s).Hours(r.Watts); err == nil {
				row.BatteryH = &lasts
			}
		}
		if row.Why = unknown; unknown == "" {
			var watts, times []float64
			for _, k := range c.loads[i] {
				watts, times = append(watts, c.result.Loads[k].Watts), append(times, c.net.Loads[k].Hours)
			}
			for _, k := range c.runs[i] {
				watts, times = append(watts, c.result.Runs[k].LossWatts), append(times, hours)
			}
			if wh, err := electrical.WattHours(watts, times); err == nil {
				row.KWh = ptr(wh / 1000)
			}
		}
		if s.Kind.V == "generator" && row.KWh != nil && s.Rated.Given {
			if !s.Fuel.Given {
				row.Why = "the fuel of the set is not given"
			} else if use, err := electrical.FuelUse(electrical.Fuel(s.Fuel.V), r.Watts/float64(s.Rated.V)); err != nil {
				row.Why = fmt.Sprintf("fuel: %v", err)
			} else {
				row.FuelL = ptr(use.Value * *row.KWh)
			}
		}
		j.report.Circuit.Energy = append(j.report.Circuit.Energy, row)
	}
}
