package electrical

import (
	"math"
	"math/cmplx"
)

// Result holds the solution. Supplies, Runs and Loads are in the order of the
// network's, entry for entry.
type Result struct {
	Supplies []SupplyResult
	Runs     []RunResult
	Loads    []LoadResult

	// Converged is false when some supply cannot carry its loads: no voltages exist
	// at which every load gets what it draws.
	Converged bool
	// Collapsed names the runs where the voltage gave way, supply by supply, or the
	// supply when its own source impedance is what cannot carry the load.
	Collapsed []string
}

// Node is the electrical state at a supply's terminals, a run's far end or a load.
type Node struct {
	Name   string
	Supply string // the supply that feeds it
	// Solved is false below a supply that cannot carry its loads. The fields that
	// depend on the solution are then zero and mean nothing.
	Solved bool

	// Voltage is that of the load's connection; of a supply or a run with several legs
	// that of the connection, leg to neutral or leg to leg, which has dropped most, V.
	// Angle from the supply's voltage (of leg 1); of balanced three-phase line to line,
	// with the angle of one phase.
	Voltage complex128
	Volts   float64 // magnitude of Voltage, V
	Nominal float64 // what Volts would be without any drop, V

	Current complex128 // A, through the load, or in the fullest conductor of the supply or run
	Amps    float64    // magnitude of Current, A
	Drop    float64    // fall of Volts below Nominal, fraction of Nominal
	RunDrop float64    // the most of it that lies beyond the supply's terminals
}

// SupplyResult is the state at the terminals of a supply and the load on its breaker.
type SupplyResult struct {
	Node
	Watts float64 // delivered at the terminals, W
	VA    float64 // delivered at the terminals, VA; of legs told apart, the sum of theirs

	// Legs holds the load of each leg; one entry for two wires and balanced phases.
	// When the supply is not Solved they are what the loads would draw at nominal voltage.
	Legs        []LegLoad
	NeutralAmps float64 // in the neutral at the terminals, A; 0 where legs are not told apart

	// ContinuousAmps and NoncontinuousAmps are those of the leg that asks for the
	// largest breaker, RequiredBreaker its least rating by [BreakerLoading], A.
	ContinuousAmps, NoncontinuousAmps float64
	RequiredBreaker                   float64
	// LeakageAmps adds the leakage of the loads that give one, A.
	LeakageAmps float64

	// Residual is the power that the solution fails to account for: of the source,
	// less the loads at the voltages found, less the losses; fraction of the source's VA.
	Residual   float64
	Iterations int // passes over the tree
}

// LegLoad adds the magnitudes of the load currents on one leg, A, which is never less
// than their phasor sum.
type LegLoad struct {
	Continuous, Noncontinuous float64
	Inrush                    float64 // all of them starting at once
}

// RunResult is the state of one cord. Its voltage is that of the far end.
type RunResult struct {
	Node
	Loop      complex128 // ohm, out and back with connectors; balanced three-phase: of one phase
	LossWatts float64    // heat in all conductors, W
	Loading   float64    // Amps / Ampacity; 0 when the ampacity is unknown
	// LegAmps are the currents of legs told apart, A, the neutral's last; nil elsewhere.
	LegAmps []float64
}

// LoadResult is the state of one load; its current and powers are those of all Count.
type LoadResult struct {
	Node
	Watts      float64
	VA         float64
	Continuous bool // by [ContinuousLoad]
}

const (
	// maxPasses lets a load within one part in 10,000 of the most a run can carry
	// still settle; each pass shrinks the error by (E-V)/V for one load at V.
	maxPasses = 2000
	// settled is the largest change of a voltage in the last pass, as a fraction of
	// the supply's.
	settled = 1e-12
)

// Solve returns the steady voltages and currents of the network. The error, if any,
// lists every fault of the description.
//
// Each pass folds the tree from its ends to the supply into equivalent current
// sources with parallel admittances and then walks back down for the voltages
// (backward/forward sweep), exact for resistances and for currents at a fixed angle;
// loads whose current depends on the voltage otherwise are repeated as a fixed point
// from the nominal voltage. That reaches the upper of the two voltages at which a
// line can deliver a power, the one at which it works. Where legs carry different loads,
// legs and neutral are conductors of their own, without earth return.
func Solve(n Network) (*Result, error) {
	t, err := compile(&n)
	if err != nil {
		return nil, err
	}
	r := &Result{
		Supplies:  make([]SupplyResult, len(n.Supplies)),
		Runs:      make([]RunResult, len(n.Runs)),
		Loads:     make([]LoadResult, len(n.Loads)),
		Converged: true,
	}
	circuits := make([]*circuit, len(n.Supplies))
	for i := range n.Supplies {
		c := newCircuit(t, i)
		circuits[i] = c
		out := &r.Supplies[i]
		out.Solved = c.solve()
		out.Iterations = c.passes
		if !out.Solved {
			r.Converged = false
			r.Collapsed = append(r.Collapsed, c.collapsed(t)...)
		}
		out.Legs = make([]LegLoad, max(1, c.d-1))
	}
	t.report(r, circuits)
	return r, nil
}

// report turns the state of the circuits into the result.
func (t *tree) report(r *Result, circuits []*circuit) {
	n, base := t.net, len(t.net.Supplies)
	balance := make([]complex128, base) // source less loads and losses, VA
	for i, c := range circuits {
		out := &r.Supplies[i]
		solved := out.Solved
		out.Node = c.at(n.Supplies[i].Name, 0, c.src.nodePairs(Whole, c.d), c.scale(), solved)
		if !solved {
			continue
		}
		var va complex128
		for k := range c.d {
			va += c.volts[0][k] * cmplx.Conj(c.amps[0][k])
			balance[i] += c.emf[k] * cmplx.Conj(c.amps[0][k]) * c.phases()
			if k < c.d-1 {
				out.VA += cmplx.Abs(c.volts[0][k]-c.volts[0][c.d-1]) * cmplx.Abs(c.amps[0][k])
			}
		}
		out.Watts = real(va * c.phases())
		if c.d == 1 {
			out.VA = cmplx.Abs(va * c.phases())
		} else {
			out.NeutralAmps = cmplx.Abs(c.amps[0][c.d-1])
		}
		balance[i] -= c.loss(0)
	}
	for k := range n.Runs {
		node := base + k
		supply, p := t.source[node], t.place[node]
		c := circuits[supply]
		out := &r.Runs[k]
		out.Node = c.at(n.Runs[k].Name, p, c.src.nodePairs(t.legAt[node], c.d), c.scale(), r.Supplies[supply].Solved)
		out.Loop = c.z[p][0]
		if c.d > 1 {
			out.Loop = 2 * c.z[p][0]
		}
		if !out.Solved {
			continue
		}
		out.LossWatts = real(c.loss(p))
		if n.Runs[k].Ampacity > 0 {
			out.Loading = out.Amps / n.Runs[k].Ampacity
		}
		if c.d > 1 {
			for i := range c.d {
				out.LegAmps = append(out.LegAmps, cmplx.Abs(c.amps[p][i]))
			}
		}
		balance[supply] -= c.loss(p)
	}
	for i := range n.Loads {
		supply := t.source[t.loadAt[i]]
		r.Loads[i] = t.load(r, circuits[supply], i, &balance[supply])
	}
	for i, c := range circuits {
		out, src := &r.Supplies[i], &n.Supplies[i]
		for _, leg := range out.Legs {
			if least := BreakerLoading(leg.Noncontinuous, leg.Continuous, src.Continuous100); least >= out.RequiredBreaker {
				out.ContinuousAmps, out.NoncontinuousAmps, out.RequiredBreaker = leg.Continuous, leg.Noncontinuous, least
			}
		}
		if source := c.sourceVA(); out.Solved && source > 0 {
			out.Residual = cmplx.Abs(balance[i]) / source
		}
	}
}

// sourceVA adds what the source gives into each conductor, VA.
func (c *circuit) sourceVA() float64 {
	var sum float64
	for i := range c.d {
		sum += cmplx.Abs(c.emf[i]) * cmplx.Abs(c.amps[0][i])
	}
	return sum * real(c.phases())
}

// load reports one load, adds it to its legs and takes it off the balance of its supply.
func (t *tree) load(r *Result, c *circuit, i int, balance *complex128) LoadResult {
	l, leg, place := &t.net.Loads[i], t.legOf(i), t.place[t.loadAt[i]]
	pairs := c.src.pairs(leg, c.d)
	total := &r.Supplies[t.source[t.loadAt[i]]]
	out := LoadResult{Continuous: ContinuousLoad(l.Hours)}
	scale := c.src.Nominal(leg) / cmplx.Abs(c.emf[pairs[0].a]-c.emf[pairs[0].b])
	out.Node = c.at(l.Name, place, pairs, scale, total.Solved)
	inrush := math.Max(1, l.Inrush)
	total.LeakageAmps += l.Leakage * float64(l.Count)
	for k, p := range pairs {
		v := c.emf[p.a] - c.emf[p.b]
		d := drawOf(l, c.src, leg, v)
		if total.Solved {
			v = c.across(place, p)
		}
		amps := d.current(v) + d.admittance*v
		if k == 0 && total.Solved {
			out.Current, out.Amps = amps, cmplx.Abs(amps)
		}
		for _, conductor := range [...]int{p.a, p.b} {
			if conductor >= len(total.Legs) {
				continue // the neutral, or the way back
			}
			onLeg := &total.Legs[conductor]
			if out.Continuous {
				onLeg.Continuous += cmplx.Abs(amps)
			} else {
				onLeg.Noncontinuous += cmplx.Abs(amps)
			}
			onLeg.Inrush += inrush * cmplx.Abs(amps)
		}
		if total.Solved {
			va := v * cmplx.Conj(amps) * c.phases()
			*balance -= va
			out.Watts += real(va)
			out.VA += cmplx.Abs(va)
		}
	}
	return out
}

// scale is the reported voltage of balanced phases, line to line, over that of one of them.
func (c *circuit) scale() float64 {
	if c.d == 1 {
		return c.src.Volts / c.src.perPhase()
	}
	return 1
}

// at describes a place by that of its connections which has dropped most, with the current
// of the fullest conductor.
// scale is the nominal voltage to report over that of the first pair.
func (c *circuit) at(name string, place int, pairs []pair, scale float64, solved bool) Node {
	out := Node{Name: name, Supply: c.src.Name, Solved: solved}
	if !solved {
		return out
	}
	for k, p := range pairs {
		v := c.across(place, p) * complex(scale, 0)
		nominal := cmplx.Abs(c.emf[p.a]-c.emf[p.b]) * scale
		drop := (nominal - cmplx.Abs(v)) / nominal
		if k == 0 || drop > out.Drop {
			out.Voltage, out.Volts, out.Nominal, out.Drop = v, cmplx.Abs(v), nominal, drop
		}
		runDrop := (cmplx.Abs(c.across(0, p))*scale - cmplx.Abs(v)) / nominal
		if k == 0 || runDrop > out.RunDrop {
			out.RunDrop = runDrop
		}
	}
	for i := range c.d {
		if a := cmplx.Abs(c.amps[place][i]); a > out.Amps {
			out.Current, out.Amps = c.amps[place][i], a
		}
	}
	return out
}
