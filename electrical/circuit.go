package electrical

import (
	"math"
	"math/cmplx"

	"gonum.org/v1/gonum/mat"
)

// vector and matrix hold a value for each conductor, or for each pair of them. A supply
// whose conductors are alike has one: the loop, or one of three balanced phases.
type (
	vector [most]complex128
	matrix [most]vector
)

// circuit is the working state of one supply and what hangs on it. Places are counted
// from the supply, each after the one that feeds it.
type circuit struct {
	src    *Supply
	d      int   // conductors told apart: 1, 3 (split-phase) or 4 (three-phase); the last of several is the neutral
	node   []int // in the tree
	parent []int // place that feeds it
	emf    vector

	conns []connection // in the order of places
	first []int        // conns[first[p]:first[p+1]] are at place p

	z        []vector // ohm, from the feeding place (of the supply: from its source)
	volts    []vector // to the neutral of the source
	amps     []vector // through z
	constant []vector // what the place and all beyond it draw at no voltage
	lost     []vector // drop that the constants cause
	admit    []matrix // what they draw besides, per volt at the place
	share    []matrix // voltage at the place per volt that feeds it
	passes   int
}

// connection is all that is connected alike at one place.
type connection struct {
	pair
	draw
}

// draw sums what the loads of one connection take.
type draw struct {
	power      complex128 // VA, at any voltage
	ownAngle   complex128 // A, angle from the voltage at the load
	fixed      complex128 // A, angle from the supply's voltage
	admittance complex128 // siemens
}

// newCircuit gathers the circuit of one supply from a tree that compiles.
func newCircuit(t *tree, supply int) *circuit {
	base := len(t.net.Supplies)
	src := &t.net.Supplies[supply]
	c := &circuit{src: src, d: 1, node: []int{supply}, parent: []int{-1}}
	if t.apart[supply] {
		c.d = src.legs() + 1
	}
	for _, k := range t.order[supply] {
		c.node = append(c.node, base+k)
		c.parent = append(c.parent, t.place[t.parent[k]])
	}
	n := len(c.node)
	c.z, c.volts, c.amps = make([]vector, n), make([]vector, n), make([]vector, n)
	c.constant, c.lost = make([]vector, n), make([]vector, n)
	c.admit, c.share = make([]matrix, n), make([]matrix, n)
	switch {
	case c.d == 1:
		c.emf[0] = complex(src.perPhase(), 0)
	case src.SplitPhase:
		c.emf[0], c.emf[1] = complex(src.Volts/2, 0), complex(-src.Volts/2, 0)
	default:
		for i := range 3 {
			c.emf[i] = cmplx.Rect(src.Volts/math.Sqrt(3), -2*math.Pi/3*float64(i))
		}
	}
	c.setSource(src.SourceImpedance)
	for p := 1; p < n; p++ {
		c.setRun(p, &t.net.Runs[c.node[p]-base])
	}
	c.gather(t)
	return c
}

// perPhase is the voltage of one phase where conductors are not told apart, V.
func (s *Supply) perPhase() float64 {
	if s.Phases == 3 {
		return s.Volts / math.Sqrt(3)
	}
	return s.Volts
}

// setSource spreads the source's impedance over the conductors.
func (c *circuit) setSource(z complex128) {
	if c.src.SplitPhase {
		z /= 2
	}
	c.spread(0, z)
}

// setRun gives a place the impedance of its run, each conductor its own; a circuit that
// counts one conductor takes the loop, or of three balanced phases one.
func (c *circuit) setRun(place int, r *Run) {
	z := complex(r.Resistance, r.Reactance) * complex(r.Length, 0)
	contact := complex(r.Contact, 0)
	switch {
	case c.d == 1 && c.src.Phases == 1:
		z = 2*z + contact
	case c.src.SplitPhase:
		z += contact / 2
	default:
		z += contact
	}
	c.spread(place, z)
}

func (c *circuit) spread(place int, z complex128) {
	if c.src.DC {
		z = complex(real(z), 0)
	}
	for i := range c.d {
		c.z[place][i] = z
	}
}

// gather sums the loads at each place by their connections.
func (c *circuit) gather(t *tree) {
	c.first = make([]int, 1, len(c.node)+1)
	for _, node := range c.node {
		start := len(c.conns)
		for _, i := range t.loads[node] {
			l := &t.net.Loads[i]
			leg := t.legOf(i)
			for _, pr := range c.src.pairs(leg, c.d) {
				d := drawOf(l, c.src, leg, c.emf[pr.a]-c.emf[pr.b])
				k := start
				for k < len(c.conns) && c.conns[k].pair != pr {
					k++
				}
				if k == len(c.conns) {
					c.conns = append(c.conns, connection{pair: pr})
				}
				c.conns[k].add(d)
			}
		}
		c.first = append(c.first, len(c.conns))
	}
}

// legOf is the connection of a load: its own, or that of the two-wire run it sits on.
func (t *tree) legOf(load int) Leg {
	if l := t.legAt[t.loadAt[load]]; l != Whole {
		return l
	}
	return t.net.Loads[load].Leg
}

// share is the number of connections that a load divides into.
func (s *Supply) share(l Leg) float64 {
	if s.Phases == 3 && l == Whole {
		return 3
	}
	return 1
}

// drawOf is what a load takes through one of its connections, across which the source has emf.
func drawOf(l *Load, s *Supply, leg Leg, emf complex128) draw {
	var d draw
	count := float64(l.Count)
	pf := 1.0 // DC has no lag
	if !s.DC && l.Kind != Resistance {
		pf = l.PowerFactor
	}
	sin := math.Sqrt((1 - pf) * (1 + pf))
	switch l.Kind {
	case ConstantPower:
		p := l.Watts * count / s.share(leg)
		d.power = complex(p, p/pf*sin)
	case ConstantCurrent:
		i := complex(l.Amps*count*pf, -l.Amps*count*sin)
		if l.FromSupply {
			d.fixed = i * emf / complex(cmplx.Abs(emf), 0)
		} else {
			d.ownAngle = i
		}
	case Resistance:
		rated := l.RatedVolts
		if rated == 0 {
			rated = s.Nominal(leg)
		}
		// P/V^2 of the whole load is also the admittance of each phase of a star.
		d.admittance = complex(l.Watts*count/(rated*rated), 0)
	}
	return d
}

func (d *draw) add(e draw) {
	d.power += e.power
	d.ownAngle += e.ownAngle
	d.fixed += e.fixed
	d.admittance += e.admittance
}

// current is what the loads draw at voltage v, apart from the admittance.
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

// solve finds the voltages and reports whether there are any at which every load gets
// what it draws.
func (c *circuit) solve() bool {
	if !c.fold() {
		return false
	}
	for p := range c.node {
		c.volts[p] = c.emf
	}
	for c.passes = 1; c.passes <= maxPasses; c.passes++ {
		change, standing := c.pass()
		if !standing {
			return false
		}
		if change <= settled {
			return true
		}
	}
	return false
}

// fold gathers the admittances towards the supply. Of a place with Y and the z that leads
// to it, V = U - zI and I = J + YV give V = S(U - zJ) with S = 1/(1 + zY), and seen from
// where it is fed it draws (J - YSzJ) + YSU.
func (c *circuit) fold() bool {
	for p := range c.admit {
		c.admit[p] = matrix{}
		for _, x := range c.conns[c.first[p]:c.first[p+1]] {
			if x.admittance == 0 {
				continue
			}
			y := &c.admit[p]
			y[x.a][x.a] += x.admittance
			y[x.b][x.b] += x.admittance
			y[x.a][x.b] -= x.admittance
			y[x.b][x.a] -= x.admittance
		}
	}
	for p := len(c.node) - 1; p >= 0; p-- {
		if c.d == 1 {
			s := 1 / (1 + c.z[p][0]*c.admit[p][0][0])
			c.share[p][0][0] = s
			if p > 0 {
				c.admit[c.parent[p]][0][0] += c.admit[p][0][0] * s
			}
			continue
		}
		var m matrix
		for i := range c.d {
			for j := range c.d {
				m[i][j] = c.z[p][i] * c.admit[p][i][j]
			}
			m[i][i]++
		}
		var ok bool
		if c.share[p], ok = c.inverse(&m); !ok {
			return false
		}
		if p > 0 {
			up := &c.admit[c.parent[p]]
			for i := range c.d {
				for j := range c.d {
					for k := range c.d {
						up[i][j] += c.admit[p][i][k] * c.share[p][k][j]
					}
				}
			}
		}
	}
	return true
}

// inverse inverts a complex matrix as the real one of twice its size.
func (c *circuit) inverse(m *matrix) (matrix, bool) {
	d := c.d
	a, inv := mat.NewDense(2*d, 2*d, nil), mat.NewDense(2*d, 2*d, nil)
	for i := range d {
		for j := range d {
			re, im := real(m[i][j]), imag(m[i][j])
			a.Set(i, j, re)
			a.Set(d+i, d+j, re)
			a.Set(i, d+j, -im)
			a.Set(d+i, j, im)
		}
	}
	var lu mat.LU
	lu.Factorize(a)
	var out matrix
	if !(lu.Cond() < 1e12) {
		return out, false
	}
	identity := mat.NewDiagDense(2*d, nil)
	for i := range 2 * d {
		identity.SetDiag(i, 1)
	}
	if err := lu.SolveTo(inv, false, identity); err != nil {
		return out, false
	}
	for i := range d {
		for j := range d {
			out[i][j] = complex(inv.At(i, j), inv.At(d+i, j))
		}
	}
	return out, true
}

// pass sweeps once towards the supply and back. It returns the largest change of a voltage
// as a fraction of the source's, and whether every voltage still points the source's way;
// beyond that no load can be served.
func (c *circuit) pass() (change float64, standing bool) {
	d := c.d
	for p := range c.constant {
		c.constant[p] = vector{}
	}
	for p := len(c.node) - 1; p >= 0; p-- {
		j := &c.constant[p]
		for k := c.first[p]; k < c.first[p+1]; k++ {
			x := &c.conns[k]
			i := x.current(c.volts[p][x.a] - c.volts[p][x.b])
			j[x.a] += i
			j[x.b] -= i
		}
		for i := range d {
			lost := complex128(0)
			for k := range d {
				lost += c.share[p][i][k] * c.z[p][k] * j[k]
			}
			c.lost[p][i] = lost
		}
		if p == 0 {
			break
		}
		up := &c.constant[c.parent[p]]
		for i := range d {
			seen := j[i]
			for k := range d {
				seen -= c.admit[p][i][k] * c.lost[p][k]
			}
			up[i] += seen
		}
	}
	standing = true
	for p := range c.node {
		up := &c.emf
		if p > 0 {
			up = &c.volts[c.parent[p]]
		}
		var v vector
		for i := range d {
			v[i] = -c.lost[p][i]
			for k := range d {
				v[i] += c.share[p][i][k] * up[k]
			}
		}
		for i := range d {
			c.amps[p][i] = c.constant[p][i]
			for k := range d {
				c.amps[p][i] += c.admit[p][i][k] * v[k]
			}
			change = math.Max(change, cmplx.Abs(v[i]-c.volts[p][i])/cmplx.Abs(c.emf[0]))
		}
		c.volts[p] = v
		standing = standing && c.left(p) > 1e-9
	}
	return change, standing
}

// left is the least part of a leg's voltage that is left at a place, along the source's own.
func (c *circuit) left(p int) float64 {
	if c.d == 1 {
		return real(c.volts[p][0]) / real(c.emf[0])
	}
	least := math.Inf(1)
	n := c.d - 1
	for i := range n {
		e := c.emf[i]
		v := (c.volts[p][i] - c.volts[p][n]) * cmplx.Conj(e)
		part := real(v) / real(e*cmplx.Conj(e))
		if !(part >= least) {
			least = part
		}
	}
	return least
}

// collapsed names where the voltage gave way: the places below half voltage in the last
// pass, without those that only hang below another.
func (c *circuit) collapsed(t *tree) []string {
	base := len(t.net.Supplies)
	sagging := func(p int) bool { return !(c.left(p) > 0.5) }
	if sagging(0) || len(c.node) == 1 {
		return []string{c.src.Name}
	}
	var names []string
	worst := 1
	for p := 1; p < len(c.node); p++ {
		if sagging(p) && !sagging(c.parent[p]) {
			names = append(names, t.net.Runs[c.node[p]-base].Name)
		}
		if c.left(p) < c.left(worst) {
			worst = p
		}
	}
	if names == nil {
		// Still moving above half voltage: the lowest run is where it gives way.
		names = []string{t.net.Runs[c.node[worst]-base].Name}
	}
	return names
}

// across returns the voltage of a connection at a place.
func (c *circuit) across(place int, p pair) complex128 {
	return c.volts[place][p.a] - c.volts[place][p.b]
}

// loss is the power taken by the branch that ends at a place, VA.
func (c *circuit) loss(place int) complex128 {
	var sum complex128
	for i := range c.d {
		a := cmplx.Abs(c.amps[place][i])
		sum += c.z[place][i] * complex(a*a, 0)
	}
	return sum * c.phases()
}

// phases is how many times the powers of what is counted make up the circuit's.
func (c *circuit) phases() complex128 {
	if c.d == 1 && c.src.Phases == 3 {
		return 3
	}
	return 1
}
