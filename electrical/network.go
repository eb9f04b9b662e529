package electrical

import (
	"errors"
	"fmt"
	"strings"
)

// Network is a set of trees: each run is fed from a supply or from another run,
// and each load sits at a supply or at the far end of a run. Supplies and runs
// share one set of names; loads have their own.
type Network struct {
	Supplies []Supply
	Runs     []Run
	Loads    []Load
}

// Supply is an outlet on its breaker, or any other source of voltage.
type Supply struct {
	Name   string
	Volts  float64 // nominal, V; three-phase: line to line; split-phase: leg to leg
	DC     bool    // reactances and power factors are then ignored
	Phases int     // 1 or 3; 1 when DC

	// SplitPhase has two legs, each at half of Volts to the neutral between them and
	// opposed to the other.
	SplitPhase bool

	Breaker       float64 // rating, A; 0 = unknown
	Continuous100 bool    // breaker and enclosure listed for 100 % continuous load
	GFCI          bool    // GFCI or RCD protected; no part of the solution

	// SourceImpedance is what lies ahead of the outlet, in ohm: of the whole loop (of one
	// leg and the neutral when split-phase), or of one phase when three-phase, and then
	// of the neutral too. Zero when unknown.
	SourceImpedance complex128

	// MaxFaultLoop is the most impedance, ohm, of the loop that a fault closes
	// ([FaultLoops]) at which the breaker is sure to trip; sizes keep below it. 0 = not
	// looked at.
	MaxFaultLoop float64
}

// Run is one cord, in one length.
type Run struct {
	Name       string
	From       string  // the supply, or the run at whose far end this one is plugged in
	Length     float64 // one way, m
	Resistance float64 // of one conductor at working temperature, ohm/m
	Reactance  float64 // of one conductor, ohm/m
	Contact    float64 // of the connectors, ohm in the loop (three-phase: in one phase)
	Leg        Leg     // a two-wire run from a supply with several legs; else Whole
	Ampacity   float64 // after every correction, A; 0 = unknown
}

// LoadKind says how the current of a load follows its voltage.
type LoadKind int

const (
	ConstantPower   LoadKind = iota // draws Watts at any voltage: LED drivers, switched supplies
	ConstantCurrent                 // draws Amps at any voltage: ballasts, measured currents
	Resistance                      // draws Watts at RatedVolts, by Ohm's law elsewhere: filament lamps, heaters
)

func (k LoadKind) String() string {
	switch k {
	case ConstantPower:
		return "constant power"
	case ConstantCurrent:
		return "constant current"
	case Resistance:
		return "resistance"
	}
	return fmt.Sprintf("load kind %d", int(k))
}

// Load is a lamp or device, or Count of them alike.
type Load struct {
	Name  string
	On    string // the supply, or the run at whose far end it sits
	Leg   Leg    // connection, where what feeds it has several legs; else Whole
	Kind  LoadKind
	Watts float64 // each, W; for ConstantPower and Resistance. Three-phase: of all phases
	Amps  float64 // each, A; for ConstantCurrent
	Count int     // at least 1

	// PowerFactor lags, 0.01 to 1. It must be given for a load on AC
	// that is not a Resistance, and is not used otherwise.
	PowerFactor float64

	// FromSupply measures the angle of a ConstantCurrent load from the supply's
	// voltage instead of from the voltage at the load, as distributor problems do.
	FromSupply bool

	RatedVolts float64 // voltage at which a Resistance draws Watts, V; 0 = that of its connection
	MaxDrop    float64 // most drop beyond the supply's terminals, fraction; 0 = as for all loads
	MaxTotal   float64 // most drop below nominal, fraction; 0 = as for all loads
	MinVolts   float64 // least voltage the load works at, V; 0 = unknown
	Hours      float64 // time it stays on, h; 0 = unknown, taken as continuous
	Inrush     float64 // current while it starts, times its running current; 0 = as when running
	Leakage    float64 // current of each to earth in ordinary use, A; 0 = unknown
}

// Bounds outside which a number is a mistake rather than a circuit. They also keep
// every intermediate result finite.
const (
	minVolts  = 0.1
	maxVolts  = 1e6
	maxLength = 1e6
	maxValue  = 1e9
	maxCount  = 1e6

	minDraw        = 1e-9 // W or A
	minPowerFactor = 0.01
)

// validator gathers faults in the order of the description.
type validator struct{ faults []error }

func (v *validator) add(format string, args ...any) {
	v.faults = append(v.faults, fmt.Errorf(format, args...))
}

// within reports a number outside lo..hi; NaN is outside everything.
func (v *validator) within(it item, what string, x, lo, hi float64) {
	if !(x >= lo && x <= hi) {
		v.add("%s: %s is %v, must be %g to %g", it, what, x, lo, hi)
	}
}

// tree is a network in solving order. Node i < supplies is supply i; node
// supplies+k is the far end of run k.
type tree struct {
	net    *Network
	parent []int   // node that feeds each run, by run
	loadAt []int   // node of each load
	loads  [][]int // at each node
	place  []int   // of each node in its circuit: the supply, then its runs in order
	legAt  []Leg   // of each node: the connection of the two-wire run that it ends, else Whole
	apart  []bool  // of each supply: its conductors are told apart
	order  [][]int // runs of each supply, feeding run before fed run
	source []int   // supply of each node
}

// compile checks the whole description and puts the runs in solving order.
func compile(n *Network) (*tree, error) {
	var v validator
	if len(n.Supplies) == 0 {
		v.add("no supply")
	}
	nodes := make(map[string]int, len(n.Supplies)+len(n.Runs))
	name := func(it item, s string, node int) {
		if s == "" {
			v.add("%s: no name", it)
		} else if _, taken := nodes[s]; taken {
			v.add("%s: the name is taken by another supply or run", it)
		} else {
			nodes[s] = node
		}
	}
	for i := range n.Supplies {
		s := &n.Supplies[i]
		it := item{"supply", s.Name, i}
		name(it, s.Name, i)
		s.check(&v, it)
	}
	for k := range n.Runs {
		r := &n.Runs[k]
		it := item{"run", r.Name, k}
		name(it, r.Name, len(n.Supplies)+k)
		r.check(&v, it)
	}
	t := &tree{
		net:    n,
		parent: make([]int, len(n.Runs)),
		loadAt: make([]int, len(n.Loads)),
		loads:  make([][]int, len(n.Supplies)+len(n.Runs)),
		place:  make([]int, len(n.Supplies)+len(n.Runs)),
		legAt:  make([]Leg, len(n.Supplies)+len(n.Runs)),
		apart:  make([]bool, len(n.Supplies)),
		order:  make([][]int, len(n.Supplies)),
		source: make([]int, len(n.Supplies)+len(n.Runs)),
	}
	for k := range n.Runs {
		t.parent[k] = -1
		if p, ok := nodes[n.Runs[k].From]; ok {
			t.parent[k] = p
		} else {
			v.add("%s: fed from %q, which is no supply or run", item{"run", n.Runs[k].Name, k}, n.Runs[k].From)
		}
	}
	t.sort(&v)
	for i := range n.Supplies {
		t.apart[i] = n.Supplies[i].SplitPhase
		for p, k := range t.order[i] {
			node := len(n.Supplies) + k
			t.place[node] = 1 + p
			t.legAt[node] = t.connect(&v, item{"run", n.Runs[k].Name, k}, n.Runs[k].Leg, t.parent[k])
		}
	}
	seen := make(map[string]bool, len(n.Loads))
	for i := range n.Loads {
		l := &n.Loads[i]
		it := item{"load", l.Name, i}
		if l.Name == "" {
			v.add("%s: no name", it)
		} else if seen[l.Name] {
			v.add("%s: the name is taken by another load", it)
		}
		seen[l.Name] = true
		ac := false
		if at, ok := nodes[l.On]; ok {
			t.loadAt[i] = at
			t.loads[at] = append(t.loads[at], i)
			src := t.source[at]
			if src >= 0 {
				ac = !n.Supplies[src].DC
				t.connect(&v, it, l.Leg, at)
			}
		} else {
			v.add("%s: on %q, which is no supply or run", it, l.On)
		}
		l.check(&v, it, ac)
	}
	if len(v.faults) > 0 {
		return nil, errors.Join(v.faults...)
	}
	return t, nil
}

// connect returns the connection of what is plugged in at a node, and reports one that
// is not there.
func (t *tree) connect(v *validator, it item, l Leg, at int) Leg {
	supply := &t.net.Supplies[t.source[at]]
	if from := t.legAt[at]; from != Whole {
		if l != Whole && l != from {
			v.add("%s: on %s, and fed by two wires on %s", it, l, from)
		}
		return from
	}
	if !supply.has(l) {
		v.add("%s: supply %q has no %s", it, supply.Name, l)
		return Whole
	}
	if l != Whole {
		t.apart[t.source[at]] = true
	}
	return l
}

// item is what a fault is about, put into words only when there is one.
type item struct {
	kind, name string
	index      int
}

func (i item) String() string {
	if i.name == "" {
		return fmt.Sprintf("%s %d", i.kind, i.index+1)
	}
	return fmt.Sprintf("%s %q", i.kind, i.name)
}

func (s *Supply) check(v *validator, it item) {
	v.within(it, "voltage", s.Volts, minVolts, maxVolts)
	v.within(it, "breaker", s.Breaker, 0, maxValue)
	v.within(it, "source resistance", real(s.SourceImpedance), 0, maxValue)
	v.within(it, "source reactance", imag(s.SourceImpedance), 0, maxValue)
	v.within(it, "fault loop", s.MaxFaultLoop, 0, maxValue)
	switch {
	case s.Phases != 1 && s.Phases != 3:
		v.add("%s: %d phases, must be 1 or 3", it, s.Phases)
	case s.DC && s.Phases == 3:
		v.add("%s: DC with 3 phases", it)
	case s.SplitPhase && (s.DC || s.Phases == 3):
		v.add("%s: split-phase is AC of one phase", it)
	}
}

func (r *Run) check(v *validator, it item) {
	v.within(it, "length", r.Length, 0, maxLength)
	v.within(it, "resistance", r.Resistance, 0, maxValue)
	v.within(it, "reactance", r.Reactance, 0, maxValue)
	v.within(it, "contact resistance", r.Contact, 0, maxValue)
	v.within(it, "ampacity", r.Ampacity, 0, maxValue)
}

func (l *Load) check(v *validator, it item, ac bool) {
	switch l.Kind {
	case ConstantPower, Resistance:
		v.within(it, "power", l.Watts, minDraw, maxValue)
	case ConstantCurrent:
		v.within(it, "current", l.Amps, minDraw, maxValue)
	default:
		v.add("%s: %s is unknown", it, l.Kind)
	}
	if l.Count < 1 || l.Count > maxCount {
		v.add("%s: count is %d, must be 1 to %g", it, l.Count, float64(maxCount))
	}
	if ac && l.Kind != Resistance {
		v.within(it, "power factor", l.PowerFactor, minPowerFactor, 1)
	}
	v.within(it, "hours", l.Hours, 0, maxValue)
	v.within(it, "least voltage", l.MinVolts, 0, maxVolts)
	v.within(it, "most drop", l.MaxDrop, 0, 1)
	v.within(it, "most drop in all", l.MaxTotal, 0, 1)
	v.within(it, "inrush", l.Inrush, 0, maxValue)
	v.within(it, "leakage", l.Leakage, 0, maxValue)
	if l.RatedVolts != 0 {
		v.within(it, "rated voltage", l.RatedVolts, minVolts, maxVolts)
	}
}

// sort fills order and source by walking down from the supplies, and reports each
// ring of runs that feed themselves, once.
func (t *tree) sort(v *validator) {
	base := len(t.net.Supplies)
	fed := make([][]int, base+len(t.parent))
	for k, p := range t.parent {
		if p >= 0 {
			fed[p] = append(fed[p], k)
		}
	}
	for i := range t.source {
		t.source[i] = -1
	}
	for s := range base {
		t.source[s] = s
		queue := append([]int(nil), fed[s]...)
		for at := 0; at < len(queue); at++ {
			node := base + queue[at]
			t.source[node] = s
			queue = append(queue, fed[node]...)
		}
		t.order[s] = queue
	}
	// A run no supply reaches hangs below an unknown name, reported already, or in
	// or below a ring. Follow each upward; meeting this walk's own mark is a ring.
	mark := make([]int, len(t.parent))
	for k := range t.parent {
		at := k
		for t.source[base+at] < 0 && mark[at] == 0 {
			mark[at] = k + 1
			if t.parent[at] < base {
				break
			}
			at = t.parent[at] - base
		}
		if t.source[base+at] < 0 && mark[at] == k+1 && t.parent[at] >= base {
			v.add("runs feed themselves: %s", t.ring(at))
		}
	}
}

// ring names the runs of the cycle through run k.
func (t *tree) ring(k int) string {
	names := []string{fmt.Sprintf("%q", t.net.Runs[k].Name)}
	for at := t.parent[k] - len(t.net.Supplies); at != k; at = t.parent[at] - len(t.net.Supplies) {
		names = append(names, fmt.Sprintf("%q", t.net.Runs[at].Name))
	}
	return strings.Join(append(names, names[0]), " from ")
}
