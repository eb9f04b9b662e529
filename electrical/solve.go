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
	Solved  bool
	Voltage complex128 // V, angle from the supply's voltage; three-phase: line to line
	Volts   float64    // magnitude of Voltage, V
	Current complex128 // A, through the supply, the run or the load; three-phase: line current
	Amps    float64    // magnitude of Current, A
	Drop    float64    // fall of Volts below the supply's nominal voltage, fraction of nominal
	RunDrop float64    // the part of Drop that lies beyond the supply's terminals
}

// SupplyResult is the state at the terminals of a supply and the load on its breaker.
type SupplyResult struct {
	Node
	Watts float64 // delivered at the terminals, W
	VA    float64 // delivered at the terminals, VA

	// ContinuousAmps and NoncontinuousAmps add the magnitudes of the load currents,
	// A, which is never less than their phasor sum. When the supply is not Solved
	// they are what the loads would draw at nominal voltage.
	ContinuousAmps, NoncontinuousAmps float64
	// RequiredBreaker is the least rating by [BreakerLoading], A.
	RequiredBreaker float64

	// Residual is the power that the solution fails to account for: of the source,
	// less the loads at the voltages found, less the losses; fraction of the source's VA.
	Residual   float64
	Iterations int // passes over the tree
}

// RunResult is the state of one cord. Its voltage is that of the far end.
type RunResult struct {
	Node
	Loop      complex128 // ohm, out and back with connectors; three-phase: of one phase
	LossWatts float64    // heat in all conductors, W
	Loading   float64    // Amps / Ampacity; 0 when the ampacity is unknown
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
// line can deliver a power, the one at which it works.
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
	nodes := len(n.Supplies) + len(n.Runs)
	s := &sweep{
		tree:     t,
		result:   r,
		draws:    make([]draw, nodes),
		z:        make([]complex128, nodes),
		volts:    make([]complex128, nodes),
		amps:     make([]complex128, nodes),
		constant: make([]complex128, nodes),
		admit:    make([]complex128, nodes),
		share:    make([]complex128, nodes),
		sagging:  make([]bool, nodes),
	}
	for i := range n.Loads {
		at := t.loadAt[i]
		s.draws[at].add(&n.Loads[i], &n.Supplies[t.source[at]])
	}
	for i := range n.Supplies {
		s.solve(i)
	}
	s.report()
	return r, nil
}

// draw sums what the loads at one node take, for one phase.
type draw struct {
	power      complex128 // VA, at any voltage
	ownAngle   complex128 // A, angle from the voltage at the node
	fixed      complex128 // A, angle from the supply's voltage
	admittance complex128 // siemens
}

func (d *draw) add(l *Load, s *Supply) {
	count := float64(l.Count)
	phases := float64(s.Phases)
	pf := 1.0 // DC has no lag
	if !s.DC && l.Kind != Resistance {
		pf = l.PowerFactor
	}
	sin := math.Sqrt((1 - pf) * (1 + pf))
	switch l.Kind {
	case ConstantPower:
		p := l.Watts * count / phases
		d.power += complex(p, p/pf*sin)
	case ConstantCurrent:
		i := complex(l.Amps*count*pf, -l.Amps*count*sin)
		if l.FromSupply {
			d.fixed += i
		} else {
			d.ownAngle += i
		}
	case Resistance:
		rated := l.RatedVolts
		if rated == 0 {
			rated = s.Volts
		}
		// P/V^2 of the whole load is also the admittance of each phase of a star.
		d.admittance += complex(l.Watts*count/(rated*rated), 0)
	}
}

// current is what the loads draw at voltage v of one phase, apart from the admittance.
func (d *draw) current(v complex128) complex128 {
	i := d.fixed
	if d.power != 0 {
		i += cmplx.Conj(d.power / v)
	}
	if d.ownAngle != 0 {
		i += d.ownAngle * v / complex(cmplx.Abs(v), 0)
	}
	return i
}

// sweep is the working state, by node, for one phase.
type sweep struct {
	*tree
	result *Result

	draws   []draw
	z       []complex128 // ohm, from the feeding node (for a supply: from its source)
	volts   []complex128
	amps    []complex128 // through z
	sagging []bool       // where the voltage gave way

	// the fold: seen from the feeding node at voltage U, a branch draws
	// constant + admit * U and its end stands at share * U - z * constant
	constant, admit, share []complex128
}

// solve finds the voltages of one supply's tree.
func (s *sweep) solve(supply int) {
	src := &s.net.Supplies[supply]
	base := len(s.net.Supplies)
	runs := s.order[supply]
	emf := complex(src.Volts/src.perPhase(), 0)

	s.z[supply] = src.SourceImpedance
	for _, k := range runs {
		r := &s.net.Runs[k]
		z := complex(r.Resistance, r.Reactance) * complex(r.Length*src.wires(), 0)
		s.z[base+k] = z + complex(r.Contact, 0)
	}
	s.volts[supply] = emf
	for _, k := range runs {
		s.volts[base+k] = emf
	}
	if src.DC {
		s.z[supply] = complex(real(s.z[supply]), 0)
		for _, k := range runs {
			s.z[base+k] = complex(real(s.z[base+k]), 0)
		}
	}

	out := &s.result.Supplies[supply]
	for out.Iterations < maxPasses {
		out.Iterations++
		s.start(supply)
		for _, k := range runs {
			s.start(base + k)
		}
		for i := len(runs) - 1; i >= 0; i-- {
			node, up := base+runs[i], s.parent[runs[i]]
			s.fold(node)
			s.constant[up] += s.constant[node]
			s.admit[up] += s.admit[node]
		}
		s.fold(supply)
		change, standing := s.step(supply, emf, emf)
		for _, k := range runs {
			c, ok := s.step(base+k, s.volts[s.parent[k]], emf)
			change = math.Max(change, c)
			standing = standing && ok
		}
		if !standing {
			break
		}
		if change <= settled {
			out.Solved = true
			return
		}
	}
	s.collapse(supply)
}

// start loads a node with what its own loads draw at the present voltage.
func (s *sweep) start(node int) {
	s.constant[node] = s.draws[node].current(s.volts[node])
	s.admit[node] = s.draws[node].admittance
}

// fold moves the equivalent of a node to the feeding end of its branch:
// I = J + Y(V - zI) gives I = (J + YV)/(1 + zY).
func (s *sweep) fold(node int) {
	d := 1 + s.z[node]*s.admit[node]
	s.constant[node] /= d
	s.admit[node] /= d
	s.share[node] = 1 / d
}

// step sets the current and voltage of a branch from the voltage that feeds it. It
// returns the change of voltage as a fraction of the source's and whether the
// voltage still points the source's way; beyond that no load can be served.
func (s *sweep) step(node int, up, emf complex128) (change float64, standing bool) {
	s.amps[node] = s.constant[node] + s.admit[node]*up
	v := s.share[node]*up - s.z[node]*s.constant[node]
	change = cmplx.Abs(v-s.volts[node]) / real(emf)
	s.volts[node] = v
	standing = real(v) > 1e-9*real(emf)
	s.sagging[node] = !(real(v) > 0.5*real(emf))
	return change, standing
}

// collapse records that a supply cannot carry its loads, and where: the nodes below
// half voltage in the last pass, without those that only hang below another.
func (s *sweep) collapse(supply int) {
	base := len(s.net.Supplies)
	s.result.Converged = false
	if s.sagging[supply] || len(s.order[supply]) == 0 {
		s.result.Collapsed = append(s.result.Collapsed, s.net.Supplies[supply].Name)
		return
	}
	var named bool
	for k := range s.net.Runs {
		if s.source[base+k] == supply && s.sagging[base+k] && !s.sagging[s.parent[k]] {
			s.result.Collapsed = append(s.result.Collapsed, s.net.Runs[k].Name)
			named = true
		}
	}
	if !named {
		// Still moving above half voltage: the lowest run is where it gives way.
		worst := s.order[supply][0]
		for _, k := range s.order[supply] {
			if real(s.volts[base+k]) < real(s.volts[base+worst]) {
				worst = k
			}
		}
		s.result.Collapsed = append(s.result.Collapsed, s.net.Runs[worst].Name)
	}
}

// report turns the phase quantities into the result.
func (s *sweep) report() {
	n, r := s.net, s.result
	base := len(n.Supplies)
	balance := make([]complex128, base) // source less loads and losses, VA of one phase
	for i := range n.Supplies {
		out := &r.Supplies[i]
		out.Node = s.node(n.Supplies[i].Name, i, s.amps[i])
		if !out.Solved {
			continue
		}
		phases := float64(n.Supplies[i].Phases)
		va := s.volts[i] * cmplx.Conj(s.amps[i]) * complex(phases, 0)
		out.Watts, out.VA = real(va), cmplx.Abs(va)
		emf := complex(n.Supplies[i].Volts/n.Supplies[i].perPhase(), 0)
		balance[i] = emf*cmplx.Conj(s.amps[i]) - s.loss(i)
	}
	for k := range n.Runs {
		node, src := base+k, &n.Supplies[s.source[base+k]]
		out := &r.Runs[k]
		out.Node = s.node(n.Runs[k].Name, node, s.amps[node])
		out.Loop = s.z[node]
		if !out.Solved {
			continue
		}
		out.LossWatts = real(s.loss(node)) * float64(src.Phases)
		if n.Runs[k].Ampacity > 0 {
			out.Loading = out.Amps / n.Runs[k].Ampacity
		}
		balance[s.source[node]] -= s.loss(node)
	}
	for i := range n.Loads {
		l, at := &n.Loads[i], s.loadAt[i]
		supply := s.source[at]
		src, total := &n.Supplies[supply], &r.Supplies[supply]
		var d draw
		d.add(l, src)
		v := s.volts[at]
		if !total.Solved {
			v = complex(src.Volts/src.perPhase(), 0)
		}
		amps := d.current(v) + d.admittance*v
		out := &r.Loads[i]
		out.Node = s.node(l.Name, at, amps)
		out.Continuous = ContinuousLoad(l.Hours)
		if out.Continuous {
			total.ContinuousAmps += cmplx.Abs(amps)
		} else {
			total.NoncontinuousAmps += cmplx.Abs(amps)
		}
		if total.Solved {
			va := v * cmplx.Conj(amps)
			balance[supply] -= va
			out.Watts = real(va) * float64(src.Phases)
			out.VA = cmplx.Abs(va) * float64(src.Phases)
		}
	}
	for i := range n.Supplies {
		out, src := &r.Supplies[i], &n.Supplies[i]
		out.RequiredBreaker = BreakerLoading(out.NoncontinuousAmps, out.ContinuousAmps, src.Continuous100)
		if out.Solved && out.Amps > 0 {
			out.Residual = cmplx.Abs(balance[i]) * src.perPhase() / (src.Volts * out.Amps)
		}
	}
}

// loss is the power taken by the branch that ends at a node, VA of one phase.
func (s *sweep) loss(node int) complex128 {
	i := cmplx.Abs(s.amps[node])
	return s.z[node] * complex(i*i, 0)
}

// node describes one node, with the current that belongs to the item it is made for.
func (s *sweep) node(name string, at int, amps complex128) Node {
	supply := s.source[at]
	src := &s.net.Supplies[supply]
	out := Node{Name: name, Supply: src.Name, Solved: s.result.Supplies[supply].Solved}
	if !out.Solved {
		return out
	}
	scale := src.perPhase()
	out.Voltage = s.volts[at] * complex(scale, 0)
	out.Volts = cmplx.Abs(out.Voltage)
	out.Current = amps
	out.Amps = cmplx.Abs(amps)
	out.Drop = (src.Volts - out.Volts) / src.Volts
	out.RunDrop = (cmplx.Abs(s.volts[supply])*scale - out.Volts) / src.Volts
	return out
}
