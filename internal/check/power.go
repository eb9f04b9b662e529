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

// circuit is the supply trees with what was put into them and what came out. Supplies, runs
// and loads are in the order of the file's.
type circuit struct {
	net    electrical.Network
	result *electrical.Result

	iec    bool // IEC 60364 and BS 7671; else the NEC
	limit  electrical.DropLimit
	run    map[string]int // each cord, by name
	root   map[string]int // supply that feeds each supply and cord, by name
	runs   [][]int        // cords of each supply
	loads  [][]int        // lamps of each supply
	trips  []trip         // of each supply
	loops  []complex128   // of a fault at the end of each run, ohm, with the source as assumed
	source []complex128   // that source, ohm
	lists  [][]electrical.Conductor
	sizes  []electrical.Gauge // all runs together
	pulses []bool             // the load starts with a pulse of microseconds
}

// power solves the supply trees and makes every check of them, in the order in which an
// electrician would ask.
func (j *job) power() error {
	if len(j.f.Supplies) == 0 {
		if len(j.f.Lamps) > 0 {
			return fmt.Errorf("lamps without a supply")
		}
		return nil
	}
	c := &circuit{}
	j.family(c)
	j.network(c)
	var err error
	if c.result, err = electrical.Solve(c.net); err != nil {
		j.unchecked(verdict.Power, "supply", "solution", err.Error(), "", j.f.Supplies[0].Name.At)
		return nil
	}
	j.faults(c)
	j.sizing(c)
	first := len(j.report.Checks)
	j.breakers(c)
	j.receptacles(c)
	j.cords(c)
	j.drops(c)
	j.faultTrips(c)
	j.shortCircuits(c)
	j.residual(c)
	j.inrush(c)
	j.chains(c)
	j.connections(c)
	j.lowVoltage(c)
	j.generators(c)
	j.batteries(c)
	j.report.Circuit.Checks = j.report.Checks[first:]
	j.report.Circuit.Family = map[bool]string{true: "iec", false: "us"}[c.iec]
	j.nodes(c)
	j.runs(c)
	j.energy(c)
	if j.options.PowerPlan {
		j.report.Circuit.Plan = j.planPower(c)
	}
	j.tellAssumed()
	return nil
}

// presumed is one default of the checks, with what it was taken for.
type presumed struct {
	site.Default
	of   []string
	seen map[string]bool
}

// assumed takes a default of the checks for a subject.
func (j *job) assumed(key, subject string) string {
	i := slices.IndexFunc(j.presumed, func(p presumed) bool { return p.Key == "assumed."+key })
	if i < 0 {
		d, _ := site.DefaultOf("assumed." + key)
		i = len(j.presumed)
		j.presumed = append(j.presumed, presumed{Default: d, seen: map[string]bool{}})
	}
	p := &j.presumed[i]
	if !p.seen[subject] {
		p.seen[subject] = true
		p.of = append(p.of, subject)
	}
	return p.Value
}

// tellAssumed lists the defaults that were taken, each once.
func (j *job) tellAssumed() {
	for _, p := range j.presumed {
		j.take(fmt.Sprintf("%s taken as %s (%s)%s", strings.TrimSuffix(strings.TrimSuffix(strings.TrimPrefix(p.Key, "assumed."), "_us"), "_iec"), p.Value, p.Why, of(p.of)), p.Source, p.Certainty)
	}
}

// assumedMeasure reads a default of the checks that has a unit.
func assumedMeasure[Q quantity.Quantity](j *job, key, subject string) float64 {
	q, err := quantity.Parse[Q](j.assumed(key, subject))
	if err != nil {
		return 0 // a test reads every row
	}
	return float64(q)
}

// family chooses the rules: those that the file names, else those of the voltages.
func (j *job) family(c *circuit) {
	c.limit = electrical.DropLimit{Branch: electrical.NECBranchDrop, Total: electrical.NECTotalDrop}
	if given := j.f.Site.Electrical; given.Given {
		c.iec = given.V == "iec"
	} else {
		c.iec = j.f.System() == quantity.SI
		why := "no supply tells, so the units of the file do"
		for i := range j.f.Supplies {
			if iec, ok := familyOf(&j.f.Supplies[i], c.iec); ok {
				c.iec, why = iec, fmt.Sprintf("supply %q has %s V", j.f.Supplies[i].Name.V, trim(float64(j.f.Supplies[i].Volts.V)))
				break
			}
		}
		rules := "circuits by the rules of the United States (NEC)"
		if c.iec {
			rules = "circuits by IEC 60364 and BS 7671"
		}
		j.take(fmt.Sprintf("%s (site.electrical is not given; %s)", rules, why), "", "common practice, no source")
	}
	if c.iec {
		c.limit = electrical.DropLimit{Branch: electrical.IECOtherDrop, Total: electrical.IECOtherDrop}
	}
}

// familyOf tells which rules a supply's voltage belongs to.
func familyOf(s *site.Supply, si bool) (iec, ok bool) {
	v := float64(s.Volts.V)
	switch {
	case s.DC.V || v < 90:
		return false, false
	case s.SplitPhase.V || v <= 130 || v == 208 || v == 277 || v == 480:
		return false, true
	case v == 240:
		return si, true
	}
	return true, true
}

// trim prints a number without needless digits.
func trim(v float64) string { return fmt.Sprintf("%.4g", v) }

// network builds the trees.
func (j *job) network(c *circuit) {
	c.run, c.root = map[string]int{}, map[string]int{}
	for i := range j.f.Supplies {
		s := &j.f.Supplies[i]
		c.root[s.Name.V] = i
		c.net.Supplies = append(c.net.Supplies, electrical.Supply{
			Name: s.Name.V, Volts: float64(s.Volts.V), DC: s.DC.V, Phases: s.Phases.V, SplitPhase: s.SplitPhase.V,
			Breaker: float64(s.Breaker.V), Continuous100: s.Listed100.V, GFCI: s.GFCI.V, SourceImpedance: complex(float64(s.Ohms.V), 0),
		})
	}
	for i := range j.f.Cords {
		c.run[j.f.Cords[i].Name.V] = i
	}
	c.runs, c.loads = make([][]int, len(j.f.Supplies)), make([][]int, len(j.f.Supplies))
	for i := range j.f.Cords {
		s := j.supplyOf(c, j.f.Cords[i].Name.V)
		c.runs[s] = append(c.runs[s], i)
	}
	for i := range j.f.Lamps {
		s := c.root[j.f.Lamps[i].On.V]
		c.loads[s] = append(c.loads[s], i)
	}
	for i := range j.f.Cords {
		k := &j.f.Cords[i]
		run := electrical.Run{Name: k.Name.V, From: k.From.V, Length: float64(k.Length.V), Reactance: float64(k.XPerKm.V), Leg: legOf(k.Leg), Contact: float64(k.Contact.V)}
		if row, known := j.f.Conductor(k); known {
			run.Resistance = j.hot(k, row)
			run.Ampacity = j.ampacity(c, k, row)
		}
		if k.OhmPerKm.Given {
			run.Resistance = float64(k.OhmPerKm.V)
		} else if !k.Contact.Given {
			run.Contact = assumedMeasure[quantity.Resistance](j, "contact_ohm", k.Name.V)
		}
		if k.Ampacity.Given {
			run.Ampacity = float64(k.Ampacity.V)
		}
		c.net.Runs = append(c.net.Runs, run)
	}
	for i := range j.f.Lamps {
		load, pulse := j.lamp(c, &j.f.Lamps[i])
		c.net.Loads = append(c.net.Loads, load)
		c.pulses = append(c.pulses, pulse)
	}
}

// supplyOf walks from a cord to the supply that feeds it, and notes that for every cord on
// the way: cords may stand in any order.
func (j *job) supplyOf(c *circuit, name string) int {
	var behind []string
	s, known := c.root[name]
	for ; !known; s, known = c.root[name] {
		behind = append(behind, name)
		name = j.f.Cords[c.run[name]].From.V
	}
	for _, b := range behind {
		c.root[b] = s
	}
	return s
}

// legOf reads a connection of the file.
func legOf(w site.Word) electrical.Leg {
	return map[string]electrical.Leg{"1": electrical.Leg1, "2": electrical.Leg2, "3": electrical.Leg3,
		"1-2": electrical.Legs12, "2-3": electrical.Legs23, "3-1": electrical.Legs31}[w.V]
}

// leg is the connection of a cord or lamp: its own, or that of the cord that feeds it.
func (j *job) leg(c *circuit, own site.Word, from string) electrical.Leg {
	for !own.Given {
		at, cord := c.run[from]
		if !cord {
			break
		}
		own, from = j.f.Cords[at].Leg, j.f.Cords[at].From.V
	}
	return legOf(own)
}

// rating is the temperature that a cord's insulation bears, degrees Celsius.
func (j *job) rating(k *site.Cord) float64 {
	if k.Rating.Given {
		return float64(k.Rating.V)
	}
	return assumedMeasure[quantity.Temperature](j, "cord_rating", k.Name.V)
}

// hot is a conductor's resistance when the cord is as warm as it may be, ohm/m. A
// table at a higher temperature is left as it is.
func (j *job) hot(k *site.Cord, row catalog.Conductor) float64 {
	r, table, rating := float64(row.Resistance), float64(row.Temperature), j.rating(k)
	at := electrical.ResistanceFrom20
	switch {
	case rating <= table:
		return r
	case table == 75:
		at = electrical.ResistanceFrom75
	case table != 20:
		return r
	}
	if v, err := at(r, rating); err == nil {
		return v
	}
	return r
}

// ampacity is the cord's rating after everything that lowers it, A; zero when the air is as
// hot as the cord may be, or a factor is not known.
func (j *job) ampacity(c *circuit, k *site.Cord, row catalog.Conductor) float64 {
	factors, base := j.ampacityFactors(c, k, row)
	values := make([]float64, len(factors))
	for i, f := range factors {
		values[i] = f.Value
	}
	a, err := electrical.CordAmpacity(base, values...)
	if err != nil {
		return 0
	}
	return a
}

// factor is one factor on a cord's ampacity.
type factor struct {
	what string
	electrical.Cited
}

// ampacityFactors lists what a cord's ampacity of the table is multiplied by, and that
// ampacity, A. A factor that is not known is zero.
func (j *job) ampacityFactors(c *circuit, k *site.Cord, row catalog.Conductor) ([]factor, float64) {
	ambient, err := electrical.AmbientFactor(j.rating(k), float64(j.f.Site.Ambient.V))
	if err != nil {
		ambient = 0
	}
	list := []factor{{fmt.Sprintf("air of %s °C around a cord for %s °C", trim(float64(j.f.Site.Ambient.V)), trim(j.rating(k))),
		electrical.Cited{Value: ambient, Source: "sqrt((T_cord - T_air)/(T_cord - 30)), NFPA 70 310.15(B)"}}}
	if k.Coiled.V || k.Layers.Given {
		f, _ := electrical.CoilFactor(k.Layers.V)
		list = append(list, factor{"coiled", f})
	}
	if k.Bundle.Given {
		f, _ := electrical.GroupFactor(k.Bundle.V)
		list = append(list, factor{fmt.Sprintf("%d cords bundled", k.Bundle.V), f})
	}
	base := float64(row.Ampacity2)
	if s := c.supplyAt(k.From.V); s != nil && (s.SplitPhase || s.Phases == 3) && j.leg(c, k.Leg, k.From.V) == electrical.Whole {
		base = float64(row.Ampacity3)
		if s.Phases == 3 && j.unbalanced(c, k) {
			f, _ := electrical.LoadedConductorsFactor(4)
			list = append(list, factor{"the neutral carries current too", f})
		}
	}
	return list, base
}

// unbalanced reports whether anything on a cord's supply is connected to one leg.
func (j *job) unbalanced(c *circuit, k *site.Cord) bool {
	root := c.root[k.From.V]
	return slices.ContainsFunc(c.runs[root], func(i int) bool { return j.f.Cords[i].Leg.Given }) ||
		slices.ContainsFunc(c.loads[root], func(i int) bool { return j.f.Lamps[i].Leg.Given })
}

// supplyAt is the supply that feeds a supply or cord, or nil.
func (c *circuit) supplyAt(name string) *electrical.Supply {
	if i, ok := c.root[name]; ok {
		return &c.net.Supplies[i]
	}
	return nil
}

// chain lists the runs from a load back to its supply, nearest the supply first.
func (c *circuit) chain(on string) []int {
	var list []int
	for i, cord := c.run[on]; cord; i, cord = c.run[on] {
		list = append(list, i)
		on = c.net.Runs[i].From
	}
	slices.Reverse(list)
	return list
}

// extraLow reports whether a supply is one of extra-low voltage.
func extraLow(s *site.Supply) bool { return electrical.ExtraLowVoltage(float64(s.Volts.V), s.DC.V) }

// powerCheck begins a check.
func powerCheck(subject, what string, sense verdict.Sense, unit, source string, at site.Place) verdict.Check {
	return verdict.Check{ID: id(verdict.Power, subject, what), Kind: verdict.Power, Subject: subject, What: what, Sense: sense, Unit: unit, Source: source, At: at.String()}
}

// collapsed appends a check of what gets no voltage, and names where the voltage gives way.
func (j *job) collapsed(c *circuit, check verdict.Check) {
	check.Result = verdict.Fails
	check.Why = fmt.Sprintf("no voltages exist at which every load gets its power: it gives way at %s", list(c.result.Collapsed))
	check.Cure = "far thicker or shorter cords there, or less load"
	check.Working = []verdict.Step{{Text: "voltages", Formula: "fixed point of I = conj(S / V) from the nominal voltage", Numbers: fmt.Sprintf("none; below half of the nominal voltage from %s on", list(c.result.Collapsed))}}
	j.report.Checks = append(j.report.Checks, check)
}

// standardSizes lists the sizes of a cord's own family, gauges or mm2, from thin to thick.
func (j *job) standardSizes(c *circuit, k *site.Cord) []electrical.Conductor {
	gauges := strings.Contains(strings.ToUpper(k.Gauge.Text), "AWG")
	if !k.Gauge.Given {
		gauges = !c.iec
	}
	least := 0.0
	if s := c.root[k.From.V]; !c.iec && !extraLow(&j.f.Supplies[s]) && c.net.Supplies[s].Breaker <= 20 {
		least = cordOnBreaker // what NEC 240.5(B) takes as protected
	}
	rows := j.f.Catalog.Conductor.All()
	slices.SortStableFunc(rows, func(a, b catalog.Conductor) int { return cmp.Compare(a.Area, b.Area) })
	var list []electrical.Conductor
	for _, row := range rows {
		if strings.Contains(strings.ToUpper(row.Name), "AWG") == gauges && float64(row.Area) >= least*(1-1e-3) {
			list = append(list, electrical.Conductor{Name: row.Name, Resistance: j.hot(k, row), Reactance: float64(k.XPerKm.V), Ampacity: j.ampacity(c, k, row), Area: float64(row.Area)})
		}
	}
	return list
}

// sizing finds the least sizes with which all runs hold together.
func (j *job) sizing(c *circuit) {
	for i := range j.f.Cords {
		c.lists = append(c.lists, j.standardSizes(c, &j.f.Cords[i]))
	}
	sizes, err := electrical.Sizes(c.net, c.lists, c.limit)
	if err != nil {
		sizes = make([]electrical.Gauge, len(c.net.Runs))
		for i := range sizes {
			sizes[i].Reason = err.Error()
		}
	}
	c.sizes = sizes
}

// cordCure names the sizes that mend a cord, or why none does.
func (c *circuit) cordCure(run int, limitless string) string {
	if g := c.sizes[run]; g.OK && g.Conductor.Area > 0 {
		return fmt.Sprintf("use %s for %s%s", g.Conductor.Name, c.net.Runs[run].Name, limitless)
	}
	return "no cord of the table cures it: shorten the chain, feed it from nearer, or take load off it"
}

func ptr(v float64) *float64 { return &v }

// nodes lists every supply, cord end and lamp.
func (j *job) nodes(c *circuit) {
	add := func(n *electrical.Node, kind string, loop complex128, supply int) {
		out := verdict.Node{Name: n.Name, Kind: kind}
		if n.Solved {
			out.Volts, out.DropPercent, out.Amps = ptr(n.Volts), ptr(100*n.RunDrop), ptr(n.Amps)
		} else {
			out.Why = "the voltage gives way"
		}
		amps, why := j.faultAmps(c, supply, loop)
		if why == "" {
			out.FarFaultA = ptr(amps)
		} else {
			out.Why = strings.Join(nonEmpty(out.Why, why), "; ")
		}
		j.report.Circuit.Nodes = append(j.report.Circuit.Nodes, out)
	}
	for i := range c.result.Supplies {
		add(&c.result.Supplies[i].Node, "supply", c.source[i], i)
	}
	for i := range c.result.Runs {
		add(&c.result.Runs[i].Node, "cord", c.loops[i], c.root[c.net.Runs[i].Name])
	}
	for i := range c.result.Loads {
		on, supply := c.net.Loads[i].On, c.root[c.net.Loads[i].On]
		loop := c.source[supply]
		if chain := c.chain(on); len(chain) > 0 {
			loop = c.loops[chain[len(chain)-1]]
		}
		add(&c.result.Loads[i].Node, "lamp", loop, supply)
	}
}

func nonEmpty(words ...string) []string {
	return slices.DeleteFunc(words, func(w string) bool { return w == "" })
}

// runs lists the cords with what each needs and how long it may be.
func (j *job) runs(c *circuit) {
	lists := make([][]electrical.Conductor, len(c.net.Runs)) // its own conductor, then the standard ones
	for i := range c.net.Runs {
		run := &c.net.Runs[i]
		lists[i] = append([]electrical.Conductor{{Name: run.Name, Resistance: run.Resistance, Reactance: run.Reactance, Ampacity: run.Ampacity}}, c.lists[i]...)
	}
	longest, err := electrical.LongestRuns(c.net, lists, c.limit)
	if err != nil {
		longest = make([][]electrical.Longest, len(c.net.Runs))
	}
	for i := range j.f.Cords {
		k, r, run := &j.f.Cords[i], &c.result.Runs[i], &c.net.Runs[i]
		row := verdict.Run{Name: k.Name.V, From: k.From.V, Gauge: k.Gauge.Text, LengthM: run.Length, LoopOhm: real(r.Loop)}
		if row.Gauge == "" {
			row.Gauge = "own"
		}
		if r.Solved {
			row.Amps, row.LossW = ptr(r.Amps), ptr(r.LossWatts)
		} else {
			row.Why = "the voltage gives way: the supply cannot carry the load through its cords"
		}
		if run.Ampacity > 0 {
			row.AmpacityA = ptr(run.Ampacity)
		}
		if g := c.sizes[i]; g.OK {
			row.NeedsGauge = &g.Conductor.Name
			if !g.Proven {
				row.Why = "the search for the least sizes was ended; thinner ones might do"
			}
		} else if row.Why == "" {
			row.Why = "no size is enough for all of this circuit: " + g.Reason
		}
		row.Longest = []verdict.GaugeLength{}
		for n, l := range longest[i] {
			metres := ptr(l.Length)
			if !l.OK || l.Reason == "" {
				metres = nil // it holds at no length, or nothing limits it
			}
			if n == 0 {
				row.LongestM = metres
			} else {
				row.Longest = append(row.Longest, verdict.GaugeLength{Gauge: c.lists[i][n-1].Name, LengthM: metres})
			}
		}
		j.report.Circuit.Runs = append(j.report.Circuit.Runs, row)
	}
}

// shorter prints a length rounded down to whole feet or half metres, for a sentence.
func (j *job) shorter(metres float64) string {
	if j.f.System() == quantity.SI {
		return fmt.Sprintf("%g m", math.Floor(metres*2)/2)
	}
	return fmt.Sprintf("%g ft", math.Floor(metres/0.3048))
}
