package electrical

import (
	"cmp"
	"fmt"
	"math"
	"math/cmplx"
	"runtime"
	"slices"
	"sync"
)

// Conductor is a standard size of cord.
type Conductor struct {
	Name       string
	Resistance float64 // of one conductor at working temperature, ohm/m
	Reactance  float64 // of one conductor, ohm/m
	Ampacity   float64 // after every correction, A; 0 = unknown, and then never chosen
	Area       float64 // of one conductor, m2; weighs the choice between runs
}

// DropLimit is the most voltage drop at any load, as fractions of the nominal voltage. A load
// with a MaxDrop or MaxTotal of its own keeps to that instead.
type DropLimit struct {
	Branch float64 // beyond the supply's terminals (RunDrop)
	Total  float64 // from nominal voltage (Drop)
}

func (l DropLimit) check() error {
	if !(l.Branch >= 0 && l.Branch < 1 && l.Total >= 0 && l.Total < 1) {
		return fmt.Errorf("drop limits are %v and %v, must be 0 to below 1", l.Branch, l.Total)
	}
	return nil
}

// Gauge is the answer of [LeastGauge] and, for each run, of [Sizes].
type Gauge struct {
	Conductor Conductor // the least that holds; zero when none does
	OK        bool
	Proven    bool   // of Sizes: no choice that holds has less copper, or none holds at all
	Reason    string // why the next thinner one, or when not OK the last one, does not hold; "" when the first holds
}

// sizeNodes is how many choices of a part of a circuit are tried before the best one so far has to do;
// circuits of some 20 runs need a few thousand.
const sizeNodes = 50_000

// LeastGauge returns the first of the conductors, which stand from thin to thick, with
// which the named run holds while the other runs stay as they are: its ampacity carries
// its current; every load fed from its far end keeps within the drop limits and has its least
// voltage; and where the supply has a MaxFaultLoop, a fault at its far end and beyond stays
// below that. Each candidate is proven by a solution of its circuit. The
// error is that of Solve, or tells of an unknown run, a bad limit, or no conductors.
func LeastGauge(n Network, run string, conductors []Conductor, limit DropLimit) (Gauge, error) {
	if len(conductors) == 0 {
		return Gauge{}, fmt.Errorf("no conductors to choose from")
	}
	s, at, err := sizerFor(&n, run, limit)
	if err != nil {
		return Gauge{}, err
	}
	var g Gauge
	for _, c := range conductors {
		if err := c.check(); err != nil {
			return Gauge{}, err
		}
		s.choose(at, c)
		why := s.worst(s.below(at))
		if why.holds() {
			g.Conductor, g.OK, g.Proven = c, true, true
			return g, nil
		}
		g.Reason = c.Name + ": " + s.words(why)
	}
	return g, nil
}

// Longest is the answer of [LongestRun].
type Longest struct {
	Length float64 // one way, m; 0 when it does not hold at any length
	OK     bool    // it holds at Length
	Reason string  // what a longer run would break; "" when it feeds nothing that a length could spoil
}

// LongestRun returns the greatest length, at most 1000 km, at which the named run holds as
// [LeastGauge] understands it, with the conductor that it has. It is found to one part in
// 10^9, on the short side. Limits are taken to tighten with the length, as they do but where legs
// that share a neutral lift each other.
func LongestRun(n Network, run string, limit DropLimit) (Longest, error) {
	s, at, err := sizerFor(&n, run, limit)
	if err != nil {
		return Longest{}, err
	}
	return s.longest(at), nil
}

// LongestRuns returns for every run and every conductor of its list what [LongestRun] returns
// when that run has that conductor and the others stay as they are.
func LongestRuns(n Network, conductors [][]Conductor, limit DropLimit) ([][]Longest, error) {
	if err := limit.check(); err != nil {
		return nil, err
	}
	if len(conductors) != len(n.Runs) {
		return nil, fmt.Errorf("%d lists of conductors for %d runs", len(conductors), len(n.Runs))
	}
	t, err := compile(&n)
	if err != nil {
		return nil, err
	}
	out := make([][]Longest, len(n.Runs))
	for k, list := range conductors {
		out[k] = make([]Longest, len(list))
		for i := range list {
			if err := list[i].check(); err != nil {
				return nil, err
			}
		}
	}
	eachSupply(len(n.Supplies), func(supply int) {
		s := newSizer(t, supply, limit)
		for p := 1; p < len(s.node); p++ {
			k := s.node[p] - len(n.Supplies)
			was := s.runs[p]
			for i, c := range conductors[k] {
				s.choose(p, c)
				out[k][i] = s.longest(p)
			}
			s.runs[p] = was
			s.place(p)
		}
	})
	return out, nil
}

// eachSupply does the work of each supply, several at a time; it writes to places of its own.
func eachSupply(supplies int, work func(supply int)) {
	next := make(chan int)
	var wait sync.WaitGroup
	for range min(runtime.GOMAXPROCS(0), supplies) {
		wait.Go(func() {
			for supply := range next {
				work(supply)
			}
		})
	}
	for supply := range supplies {
		next <- supply
	}
	close(next)
	wait.Wait()
}

// longest searches the length of the run at a place, and leaves it as it was.
func (s *sizer) longest(at int) Longest {
	was := s.runs[at].Length
	defer func() {
		s.runs[at].Length = was
		s.place(at)
	}()
	below := s.below(at)
	try := func(length float64) breach {
		s.runs[at].Length = length
		s.place(at)
		return s.worst(below)
	}
	lo := try(0)
	if !lo.holds() {
		return Longest{Reason: s.words(lo)}
	}
	low, high := 0.0, 1.0
	hi := try(high)
	for hi.holds() {
		if high >= maxLength {
			return Longest{Length: maxLength, OK: true}
		}
		low, lo = high, hi
		high = math.Min(2*high, maxLength)
		hi = try(high)
	}
	// The worst use of a limit grows almost straight with the length: a secant, stretched a
	// little so that it closes in from both sides, and the middle whenever there is no solution.
	for n := 0; high-low > 1e-9*high; n++ {
		x := low + (high-low)/2
		if n < 40 && hi.use < 1e6 && hi.use > lo.use {
			secant := low + (high-low)*(1-lo.use)/(hi.use-lo.use)
			margin := math.Max(0.02*math.Min(secant-low, high-secant), 0.3e-9*high)
			if lo.use > 1-hi.use+1 { // low is nearer: step past the limit
				x = secant + margin
			} else {
				x = secant - margin
			}
		}
		if !(x > low && x < high) {
			x = low + (high-low)/2
		}
		if b := try(x); b.holds() {
			low, lo = x, b
		} else {
			high, hi = x, b
		}
	}
	return Longest{Length: low, OK: true, Reason: s.words(try(high))}
}

// Sizes returns for every run of the network the conductor out of its own list, from thin to
// thick, such that all runs of a circuit hold together, as [LeastGauge] understands it, with
// the least copper: the sum of length times area. The choice is exact, by branch and bound over the
// tree, unless the search has to be ended; every one is proven by a solution. When a circuit cannot hold its runs are not OK, each with
// the reason. The error is that of Solve, or tells of a bad limit or list.
func Sizes(n Network, conductors [][]Conductor, limit DropLimit) ([]Gauge, error) {
	if err := limit.check(); err != nil {
		return nil, err
	}
	if len(conductors) != len(n.Runs) {
		return nil, fmt.Errorf("%d lists of conductors for %d runs", len(conductors), len(n.Runs))
	}
	for k, list := range conductors {
		if len(list) == 0 {
			return nil, fmt.Errorf("run %q: no conductors to choose from", n.Runs[k].Name)
		}
		for i, c := range list {
			if err := c.check(); err != nil {
				return nil, err
			}
			if i > 0 && (c.Area < list[i-1].Area || c.Resistance > list[i-1].Resistance) {
				return nil, fmt.Errorf("run %q: conductor %q stands after the thicker %q", n.Runs[k].Name, c.Name, list[i-1].Name)
			}
		}
	}
	t, err := compile(&n)
	if err != nil {
		return nil, err
	}
	out := make([]Gauge, len(n.Runs))
	eachSupply(len(n.Supplies), func(supply int) { newSizer(t, supply, limit).size(conductors, out) })
	return out, nil
}

func (c *Conductor) check() error {
	err := inRange(finite("resistance", c.Resistance, 0), finite("reactance", c.Reactance, 0), finite("ampacity", c.Ampacity, 0), finite("cross-section", c.Area, 0))
	if err != nil {
		return fmt.Errorf("conductor %q: %w", c.Name, err)
	}
	return nil
}

// sizer tries conductors on one circuit.
type sizer struct {
	*circuit
	t     *tree
	limit DropLimit
	runs  []Run // by place; the first is not used
	loads []placed

	relaxed   *circuit // no load draws less in any circuit that holds; see relax
	dropsOpen bool     // the bound cannot tell about drops yet
}

// placed is a load with where it sits.
type placed struct {
	*Load
	place   int
	pairs   []pair
	nominal float64 // of one pair, V
	volts   float64 // nominal, as the load's voltage is reported, V
	branch  float64 // limit of RunDrop
	total   float64 // limit of Drop
}

// drop is the fall of the load's voltage below nominal, as a fraction.
func (l *placed) drop(c *circuit) float64 {
	most := 0.0
	for _, p := range l.pairs {
		most = math.Max(most, 1-cmplx.Abs(c.across(l.place, p))/l.nominal)
	}
	return most
}

// sizerFor makes the sizer of the circuit that a run belongs to.
func sizerFor(n *Network, run string, limit DropLimit) (*sizer, int, error) {
	k := slices.IndexFunc(n.Runs, func(r Run) bool { return r.Name == run })
	if k < 0 {
		return nil, 0, fmt.Errorf("no run is named %q", run)
	}
	if err := limit.check(); err != nil {
		return nil, 0, err
	}
	t, err := compile(n)
	if err != nil {
		return nil, 0, err
	}
	node := len(n.Supplies) + k
	return newSizer(t, t.source[node], limit), t.place[node], nil
}

func newSizer(t *tree, supply int, limit DropLimit) *sizer {
	s := &sizer{circuit: newCircuit(t, supply), t: t, limit: limit}
	s.runs = make([]Run, len(s.node))
	for p := 1; p < len(s.node); p++ {
		s.runs[p] = t.net.Runs[s.node[p]-len(t.net.Supplies)]
	}
	for p, node := range s.node {
		for _, i := range t.loads[node] {
			l := &t.net.Loads[i]
			leg := t.legOf(i)
			pairs := s.src.pairs(leg, s.d)
			branch, total := cmp.Or(l.MaxDrop, limit.Branch), cmp.Or(l.MaxTotal, limit.Total)
			s.loads = append(s.loads, placed{l, p, pairs, cmplx.Abs(s.emf[pairs[0].a] - s.emf[pairs[0].b]), s.src.Nominal(leg), branch, total})
		}
	}
	return s
}

// choose gives the run at a place a conductor.
func (s *sizer) choose(place int, c Conductor) {
	r := &s.runs[place]
	r.Resistance, r.Reactance, r.Ampacity = c.Resistance, c.Reactance, c.Ampacity
	s.place(place)
}

// place puts the impedance of a run into the circuit.
func (s *sizer) place(place int) {
	s.setRun(place, &s.runs[place])
	if s.relaxed != nil {
		s.relaxed.z[place] = s.z[place]
	}
}

// below reports, by place, what is fed from the far end of the run at a place, itself included.
func (s *sizer) below(place int) []bool {
	fed := make([]bool, len(s.node))
	fed[place] = true
	for p := place + 1; p < len(s.node); p++ {
		fed[p] = fed[s.parent[p]]
	}
	return fed
}

// breach is the limit that is used most: at 1 it is just kept.
type breach struct {
	kind  breachKind
	use   float64
	place int // of the run
	load  int // in the sizer's list
}

type breachKind int

const (
	noLoad breachKind = iota
	noSolution
	unknownAmpacity
	overAmpacity
	overBranch
	overTotal
	underVolts
	overLoop
)

func (b breach) holds() bool { return b.use <= 1 }

// use is the part of a limit that is used; of a limit of zero everything or nothing.
func use(x, limit float64) float64 {
	switch {
	case limit > 0:
		return x / limit
	case x <= 0:
		return 0
	}
	return math.MaxFloat64
}

// worst solves the circuit and returns the limit that is used most among the runs at the places of
// part, and the loads there; nil is all.
func (s *sizer) worst(part []bool) breach { return s.worstOf(s.circuit, part) }

func (s *sizer) worstOf(c *circuit, part []bool) breach {
	var w breach
	note := func(b breach) {
		if b.use > w.use {
			w = b
		}
	}
	in := func(p int) bool { return part == nil || part[p] }
	if !c.solve() {
		return breach{kind: noSolution, use: math.MaxFloat64}
	}
	loops := make([]complex128, len(c.node))
	loops[0] = s.src.SourceLoop()
	for p := 1; p < len(c.node); p++ {
		r := &s.runs[p]
		if in(p) {
			kind := overAmpacity
			if r.Ampacity == 0 {
				kind = unknownAmpacity
			}
			for i := range c.d {
				if a := cmplx.Abs(c.amps[p][i]); kind == overAmpacity || a > 0 || i == 0 {
					u := use(a, r.Ampacity)
					if kind == unknownAmpacity {
						u = math.MaxFloat64
					}
					note(breach{kind: kind, use: u, place: p})
				}
			}
		}
		loops[p] = loops[c.parent[p]] + s.src.faultLoop(&s.runs[p])
		if in(p) && s.src.MaxFaultLoop > 0 {
			note(breach{kind: overLoop, use: cmplx.Abs(loops[p]) / s.src.MaxFaultLoop, place: p})
		}
	}
	for i := range s.loads {
		l := &s.loads[i]
		if !in(l.place) || c == s.relaxed && s.dropsOpen {
			continue
		}
		for _, p := range l.pairs {
			v := cmplx.Abs(c.across(l.place, p))
			drop := (l.nominal - v) / l.nominal
			runDrop := (cmplx.Abs(c.across(0, p)) - v) / l.nominal
			if l.place != 0 {
				note(breach{kind: overBranch, use: use(runDrop, l.branch), load: i})
			}
			note(breach{kind: overTotal, use: use(drop, l.total), load: i})
			if l.MinVolts > 0 {
				u := use(drop, 1-l.MinVolts/l.volts)
				if l.MinVolts > l.volts {
					u = math.MaxFloat64
				}
				note(breach{kind: underVolts, use: u, load: i})
			}
		}
	}
	return w
}

// words says what does not hold.
func (s *sizer) words(b breach) string {
	switch b.kind {
	case noSolution:
		return "cannot carry the loads at any voltage"
	case unknownAmpacity:
		return "ampacity unknown"
	case overAmpacity:
		var most float64
		for i := range s.d {
			most = math.Max(most, cmplx.Abs(s.amps[b.place][i]))
		}
		return fmt.Sprintf("carries %.1f A, ampacity %.1f A", most, s.runs[b.place].Ampacity)
	case overBranch:
		l := &s.loads[b.load]
		return fmt.Sprintf("drops %.2f %% at %q, limit %.2f %%", 100*b.use*l.branch, l.Name, 100*l.branch)
	case overTotal:
		l := &s.loads[b.load]
		return fmt.Sprintf("drops %.2f %% in all at %q, limit %.2f %%", 100*b.use*l.total, l.Name, 100*l.total)
	case underVolts:
		l := &s.loads[b.load]
		return fmt.Sprintf("leaves %.1f V at %q, which needs %.1f V", l.volts*(1-l.drop(s.circuit)), l.Name, l.MinVolts)
	case overLoop:
		return fmt.Sprintf("a fault at the far end of %q meets %.3f ohm, limit %.3f ohm", s.runs[b.place].Name, b.use*s.src.MaxFaultLoop, s.src.MaxFaultLoop)
	}
	return ""
}

// Sizing of a whole circuit

// search is a branch and bound over the conductors of each place.
type search struct {
	*sizer
	lists  [][]Conductor // by place
	order  []int         // places in the order of the search: runs with several legs first
	shared int           // how many of these there are
	choice []int
	least  []int     // by place; no choice that holds is thinner
	after  []float64 // by step of the order: the least copper from there on
	best   []int
	cost   float64
	nodes  int
}

// The bound holds for magnitudes. slack covers what phasors that turn a little do to it, as a
// fraction of the limit; direct current turns nothing. Where legs share a neutral, more current on
// one lifts another: a run with several legs that is not chosen yet may lift more when it is thin,
// so drops are then left out of the bound; and once all of those are chosen, what the other runs
// can do to the lift is within the few per cent by which currents follow voltages.
const (
	slack     = 0.005
	legsSlack = 0.1
)

// relax makes the circuit of the bound: a load of constant resistance draws the current of the
// lowest voltage that the limits let it have, whatever its voltage is. With every run that is
// not chosen yet at its thickest, no voltage of the real circuit can be higher.
func (s *sizer) relax() {
	r := *s.circuit
	r.conns = slices.Clone(s.conns)
	lowest := 1 - s.limit.Total
	for i := range s.loads {
		lowest = math.Min(lowest, 1-s.loads[i].total)
	}
	for i := range r.conns {
		c := &r.conns[i]
		if c.admittance != 0 {
			c.ownAngle += c.admittance * complex(cmplx.Abs(r.emf[c.a]-r.emf[c.b])*lowest, 0)
			c.admittance = 0
		}
	}
	n := len(r.node)
	r.z = slices.Clone(s.z)
	r.volts, r.amps, r.constant, r.lost = make([]vector, n), make([]vector, n), make([]vector, n), make([]vector, n)
	r.admit, r.share = make([]matrix, n), make([]matrix, n)
	s.relaxed = &r
}

// possible reports whether the bound lets the present choice hold, when the runs of so many steps of
// the order are chosen.
func (x *search) possible(chosen int) bool {
	x.dropsOpen = chosen < x.shared
	b := x.worstOf(x.relaxed, nil)
	switch {
	case x.d > 1:
		return b.use <= 1+legsSlack
	case x.src.DC:
		return b.use <= 1+1e-9
	}
	return b.use <= 1+slack
}

func (x *search) set(place, i int) {
	x.choice[place] = i
	x.choose(place, x.lists[place][i])
}

func (x *search) copper(place, i int) float64 { return x.lists[place][i].Area * x.runs[place].Length }

// size finds the sizes of one circuit's runs and writes them by run of the network.
func (s *sizer) size(conductors [][]Conductor, out []Gauge) {
	n, base := len(s.node), len(s.t.net.Supplies)
	if n == 1 {
		return
	}
	x := &search{sizer: s, lists: make([][]Conductor, n), choice: make([]int, n), least: make([]int, n), after: make([]float64, n)}
	s.relax()
	for p := 1; p < n; p++ {
		x.lists[p] = conductors[s.node[p]-base]
		x.set(p, len(x.lists[p])-1)
		if s.d > 1 && s.t.legAt[s.node[p]] == Whole {
			x.order = append(x.order, p)
		}
	}
	x.shared = len(x.order)
	for p := 1; p < n; p++ {
		if s.d == 1 || s.t.legAt[s.node[p]] != Whole {
			x.order = append(x.order, p)
		}
	}
	if !x.possible(0) {
		s.refuse(x, out)
		return
	}
	for _, p := range x.order {
		thickest := len(x.lists[p]) - 1
		low, high := 0, thickest // the least choice that is possible is in low..high
		for low < high {
			mid := (low + high) / 2
			x.set(p, mid)
			if x.possible(0) {
				high = mid
			} else {
				low = mid + 1
			}
		}
		x.least[p] = low
		x.set(p, thickest)
	}
	for i := n - 2; i >= 0; i-- {
		x.after[i] = x.after[i+1] + x.copper(x.order[i], x.least[x.order[i]])
	}
	for p := 1; p < n; p++ {
		x.set(p, x.least[p])
	}
	if s.worst(nil).holds() {
		x.best = slices.Clone(x.choice)
	} else {
		x.climb()
		for p := 1; p < n; p++ {
			x.set(p, len(x.lists[p])-1)
		}
		x.branch(0, 0)
	}
	if x.best == nil {
		s.refuse(x, out)
		return
	}
	for p := 1; p < n; p++ {
		x.set(p, x.best[p])
	}
	for p := 1; p < n; p++ {
		g := Gauge{Conductor: x.lists[p][x.best[p]], OK: true, Proven: x.nodes < sizeNodes}
		if x.best[p] > 0 {
			thinner := x.lists[p][x.best[p]-1]
			x.choose(p, thinner)
			if w := s.worst(nil); !w.holds() {
				g.Reason = thinner.Name + ": " + s.words(w)
			}
			x.choose(p, x.lists[p][x.best[p]])
		}
		out[s.node[p]-base] = g
	}
}

// refuse writes why no choice holds: what the thickest conductors break.
func (s *sizer) refuse(x *search, out []Gauge) {
	for p := 1; p < len(s.node); p++ {
		x.set(p, len(x.lists[p])-1)
	}
	w := s.worst(nil)
	for p := 1; p < len(s.node); p++ {
		out[s.node[p]-len(s.t.net.Supplies)] = Gauge{Proven: x.nodes < sizeNodes, Reason: x.lists[p][x.choice[p]].Name + ": " + s.words(w)}
	}
}

// climb finds a choice that holds, to begin with: from the least one, always the run whose next
// size lowers the worst use most for its copper.
func (x *search) climb() {
	n := len(x.node)
	now := x.worst(nil)
	for !now.holds() {
		pick, most := 0, -1.0
		for p := 1; p < n; p++ {
			i := x.choice[p]
			if i+1 == len(x.lists[p]) {
				continue
			}
			x.set(p, i+1)
			gain := math.Min(now.use, 1e6) - math.Min(x.worst(nil).use, 1e6)
			x.set(p, i)
			if rate := gain / (x.copper(p, i+1) - x.copper(p, i) + 1e-12); rate > most {
				pick, most = p, rate
			}
		}
		if pick == 0 {
			return
		}
		x.set(pick, x.choice[pick]+1)
		now = x.worst(nil)
	}
	x.best = slices.Clone(x.choice)
	for p := 1; p < n; p++ {
		x.cost += x.copper(p, x.best[p])
	}
}

// branch tries every choice from a step on that may be better than the best so far; the runs from
// there on stand at their thickest.
func (x *search) branch(step int, cost float64) {
	if step == len(x.order) {
		// The limits were possible for the bound; here the circuit itself is solved.
		if x.worst(nil).holds() {
			x.best, x.cost = slices.Clone(x.choice), cost
		}
		return
	}
	p := x.order[step]
	thickest := len(x.lists[p]) - 1
	for i := x.least[p]; i <= thickest && x.nodes < sizeNodes; i++ {
		x.nodes++
		sum := cost + x.copper(p, i)
		if x.best != nil && sum+x.after[step+1] >= x.cost*(1-1e-12) {
			break
		}
		x.set(p, i)
		if step+1 == len(x.order) || i == thickest || x.possible(step+1) {
			x.branch(step+1, sum)
		}
	}
	x.set(p, thickest)
}
