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

// planPower puts the lamps onto the outlets there are, each on a cord of its own, so that every
// circuit keeps within its limit and the cords are shortest.
func (j *job) planPower(c *circuit) *verdict.PowerPlan {
	p := &verdict.PowerPlan{Rows: []verdict.PowerPlanRow{}, Outlets: []verdict.PowerPlanOutlet{}}
	var missing []string
	var outlets, lamps []int
	var from, to []electrical.Point
	for i := range j.f.Supplies {
		s := &j.f.Supplies[i]
		switch {
		case s.SplitPhase.V || s.Phases.V == 3:
			continue // a panel; its outlets are supplies of their own
		case !s.Position[0].Given:
			missing = append(missing, fmt.Sprintf("supply %q has no position (at)", s.Name.V))
		case !s.Breaker.Given:
			missing = append(missing, fmt.Sprintf("supply %q has no breaker rating", s.Name.V))
		}
		outlets, from = append(outlets, i), append(from, s.Position.XY())
	}
	for i := range j.f.Lamps {
		l := &j.f.Lamps[i]
		if !l.Position[0].Given {
			missing = append(missing, fmt.Sprintf("lamp %q has no position (at)", l.Name.V))
		}
		if l.Leg.Given {
			missing = append(missing, fmt.Sprintf("lamp %q is tied to a leg", l.Name.V))
		}
		lamps, to = append(lamps, i), append(to, l.Position.XY())
	}
	switch {
	case len(missing) > 0:
		p.Why = strings.Join(missing, "; ")
		return p
	case len(outlets) == 0 || len(lamps) == 0:
		p.Why = "a plan needs outlets and lamps"
		return p
	}
	var routes [][]electrical.Point
	for i := range j.f.Cords {
		var r []electrical.Point
		for _, q := range j.f.Cords[i].Route {
			r = append(r, q.XY())
		}
		if len(r) > 1 {
			routes = append(routes, r)
		}
	}
	length, err := electrical.RouteLengths(from, to, routes)
	if err != nil {
		p.Why = err.Error()
		return p
	}
	demand, gauge := make([][]float64, len(lamps)), make([][]string, len(lamps))
	amps := make([][]float64, len(lamps))
	capacity := make([]float64, len(outlets))
	for o, i := range outlets {
		capacity[o] = j.outletCapacity(c, i)
	}
	reached := map[aloneKey]alone{}
	for l, i := range lamps {
		demand[l], gauge[l], amps[l] = make([]float64, len(outlets)), make([]string, len(outlets)), make([]float64, len(outlets))
		for o, s := range outlets {
			x := j.alone(c, i, s, reached)
			demand[l][o], amps[l][o] = x.demand, x.amps
			k := slices.IndexFunc(x.reach, func(g verdict.GaugeLength) bool { return g.LengthM != nil && *g.LengthM >= length[l][o] })
			if k < 0 {
				length[l][o] = math.Inf(1)
			} else {
				gauge[l][o] = x.reach[k].Gauge
			}
		}
	}
	a, err := electrical.Assign(length, demand, capacity)
	switch {
	case err != nil:
		p.Why = err.Error()
		return p
	case !a.OK:
		p.Why = "no plan was found in which every circuit keeps within its limit"
		if a.Proven {
			p.Why = "there is no plan in which every circuit keeps within its limit and every lamp gets its voltage: take load off, or find another outlet"
		}
		p.Proven = a.Proven
		return p
	}
	used := make([]float64, len(outlets))
	for l, o := range a.Outlet {
		used[o] += demand[l][o]
		p.Rows = append(p.Rows, verdict.PowerPlanRow{Lamp: j.f.Lamps[lamps[l]].Name.V, Outlet: j.f.Supplies[outlets[o]].Name.V,
			LengthM: length[l][o], Gauge: gauge[l][o], Amps: amps[l][o], Demand: demand[l][o]})
	}
	for o, i := range outlets {
		p.Outlets = append(p.Outlets, verdict.PowerPlanOutlet{Name: j.f.Supplies[i].Name.V, DemandA: used[o], CapacityA: capacity[o]})
	}
	p.TotalM, p.BoundM, p.Proven = &a.Total, &a.Bound, a.Proven
	return p
}

// planFactor makes room for what is on for hours: by the rules of the United States every load of a plan
// counts 125 %, so that breaker and receptacle hold however long it is on.
func (c *circuit) planFactor() float64 {
	if c.iec {
		return 1
	}
	return electrical.BreakerLoading(0, 1, false)
}

// outletCapacity is what an outlet may be loaded with, A, the factor of the plan on the load.
func (j *job) outletCapacity(c *circuit, supply int) float64 {
	s := &j.f.Supplies[supply]
	capacity := float64(s.Breaker.V)
	if s.Listed100.V {
		capacity *= c.planFactor()
	}
	if limit, _, _ := j.receptacleLimit(c, s); limit > 0 {
		capacity = min(capacity, limit*c.planFactor())
	}
	if s.Kind.V == "generator" && s.Rated.Given {
		if part, _, err := j.derating(s); err == nil {
			capacity = min(capacity, electrical.GeneratorContinuous*float64(s.Rated.V)*part/float64(s.Volts.V)*c.planFactor())
		}
	}
	return capacity
}

// alone is one lamp on a cord of its own.
type alone struct {
	amps   float64               // at nominal voltage
	demand float64               // of the circuit, at the lowest voltage that the lamp may get
	reach  []verdict.GaugeLength // the longest cord of each size
}

// aloneKey is all that makes one lamp on one outlet different from another.
type aloneKey struct {
	load   electrical.Load
	supply electrical.Supply
}

// alone finds what a lamp takes on an outlet and how far each size of cord carries it, or
// recalls it from a lamp and an outlet that are alike.
func (j *job) alone(c *circuit, lamp, supply int, known map[aloneKey]alone) alone {
	s, l := c.net.Supplies[supply], j.f.Lamps[lamp]
	key := aloneKey{c.net.Loads[lamp], s}
	key.load.Name, key.load.On, key.supply.Name, key.supply.Breaker = "", "", "", 0
	if x, ok := known[key]; ok {
		return x
	}
	l.On.V = s.Name
	load, _ := j.lamp(c, &l)
	k := site.Cord{}
	k.Name.V, k.From.V = "the cords of the plan", s.Name
	load.On = k.Name.V
	net := electrical.Network{
		Supplies: []electrical.Supply{s},
		Runs:     []electrical.Run{{Name: k.Name.V, From: s.Name, Length: 1, Contact: assumedMeasure[quantity.Resistance](j, "contact_ohm", k.Name.V)}},
		Loads:    []electrical.Load{load},
	}
	var x alone
	sizes := j.standardSizes(c, &k)
	longest, err := electrical.LongestRuns(net, [][]electrical.Conductor{sizes}, c.limit)
	if err != nil {
		known[key] = x
		return x
	}
	for i, reach := range longest[0] {
		g := verdict.GaugeLength{Gauge: sizes[i].Name}
		if reach.OK {
			g.LengthM = ptr(reach.Length)
		}
		x.reach = append(x.reach, g)
	}
	net.Runs = nil
	net.Loads[0].On = s.Name
	if r, err := electrical.Solve(net); err == nil {
		x.amps = load.Amps * float64(load.Count)
		if load.Kind != electrical.ConstantCurrent {
			x.amps = r.Loads[0].VA / s.Volts
		}
		x.demand = x.amps
		if load.Kind == electrical.ConstantPower {
			x.demand /= 1 - load.MaxTotal // it draws more the less voltage it gets
		}
		x.demand *= c.planFactor()
	}
	known[key] = x
	return x
}
