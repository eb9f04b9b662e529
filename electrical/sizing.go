package electrical

import (
	"cmp"
	"fmt"
	"slices"
)

// Conductor is a standard size of cord.
type Conductor struct {
	Name       string
	Resistance float64 // of one conductor at working temperature, ohm/m
	Reactance  float64 // of one conductor, ohm/m
	Ampacity   float64 // after every correction, A; 0 = unknown, and then never chosen
}

// DropLimit is the most voltage drop at any node, as fractions of the nominal voltage.
type DropLimit struct {
	Branch float64 // beyond the supply's terminals (RunDrop)
	Total  float64 // from nominal voltage (Drop)
}

// Gauge is the answer of [LeastGauge].
type Gauge struct {
	Conductor Conductor // the least that holds; zero when none does
	OK        bool
	Reason    string // why the next thinner one, or when not OK the last one, does not hold; "" when the first holds
}

// LeastGauge returns the first of the conductors, which stand from thin to thick, with
// which the named run holds while the other runs stay as they are: its ampacity carries
// its current, and at its far end and at everything fed from there both drops are within
// the limit and each load has its least voltage. Each candidate is proven by [Solve]. The
// error is that of Solve, or tells of an unknown run, a bad limit, or no conductors.
func LeastGauge(n Network, run string, conductors []Conductor, limit DropLimit) (Gauge, error) {
	at := slices.IndexFunc(n.Runs, func(r Run) bool { return r.Name == run })
	if at < 0 {
		return Gauge{}, fmt.Errorf("no run is named %q", run)
	}
	if !(limit.Branch >= 0 && limit.Branch < 1 && limit.Total >= 0 && limit.Total < 1) {
		return Gauge{}, fmt.Errorf("drop limits are %v and %v, must be 0 to below 1", limit.Branch, limit.Total)
	}
	if len(conductors) == 0 {
		return Gauge{}, fmt.Errorf("no conductors to choose from")
	}
	t, err := compile(&n)
	if err != nil {
		return Gauge{}, err
	}
	part, at := t.below(at)
	var g Gauge
	for _, c := range conductors {
		r := &part.Runs[at]
		r.Resistance, r.Reactance, r.Ampacity = c.Resistance, c.Reactance, c.Ampacity
		res, err := Solve(part)
		if err != nil {
			return Gauge{}, fmt.Errorf("conductor %q: %w", c.Name, err)
		}
		why := shortfall(&part, res, at, limit)
		if why == "" {
			g.Conductor, g.OK = c, true
			return g, nil
		}
		g.Reason = c.Name + ": " + why
	}
	return g, nil
}

// below returns the part of the network on the supply of run k, with the run's place
// in it. The others cannot change what the run does.
func (t *tree) below(k int) (Network, int) {
	n := t.net
	base := len(n.Supplies)
	supply := t.source[base+k]
	part := Network{Supplies: n.Supplies[supply : supply+1]}
	for _, run := range t.order[supply] {
		part.Runs = append(part.Runs, n.Runs[run])
	}
	for i, l := range n.Loads {
		if t.source[t.loadAt[i]] == supply {
			part.Loads = append(part.Loads, l)
		}
	}
	return part, slices.Index(t.order[supply], k)
}

// shortfall says what about run k does not hold, or "". The runs of n stand in feeding
// order, as below leaves them.
func shortfall(n *Network, r *Result, k int, limit DropLimit) string {
	run := &r.Runs[k]
	if !run.Solved {
		return "cannot carry the loads at any voltage"
	}
	ampacity := n.Runs[k].Ampacity
	if ampacity == 0 {
		return "ampacity unknown"
	}
	if run.Amps > ampacity {
		return fmt.Sprintf("carries %.1f A, ampacity %.1f A", run.Amps, ampacity)
	}
	fed := map[string]bool{n.Runs[k].Name: true}
	nodes := []Node{run.Node}
	for i := k + 1; i < len(n.Runs); i++ {
		if fed[n.Runs[i].From] {
			fed[n.Runs[i].Name] = true
			nodes = append(nodes, r.Runs[i].Node)
		}
	}
	worst := slices.MaxFunc(nodes, func(a, b Node) int { return cmp.Compare(a.Drop, b.Drop) })
	if worst.RunDrop > limit.Branch {
		return fmt.Sprintf("drops %.2f %% at %q, limit %.2f %%", 100*worst.RunDrop, worst.Name, 100*limit.Branch)
	}
	if worst.Drop > limit.Total {
		return fmt.Sprintf("drops %.2f %% in all at %q, limit %.2f %%", 100*worst.Drop, worst.Name, 100*limit.Total)
	}
	for i, l := range n.Loads {
		if fed[l.On] && r.Loads[i].Volts < l.MinVolts {
			return fmt.Sprintf("leaves %.1f V at %q, which needs %.1f V", r.Loads[i].Volts, l.Name, l.MinVolts)
		}
	}
	return ""
}
