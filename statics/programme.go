package statics

import (
	"math"
	"slices"
)

// sides of the pyramid inscribed in a friction cone, and of the polygon in a circle of shear.
const sides = 16

// programme is the equilibrium of a group as a linear programme in the forces of its
// joints, with every limit of one kind or another left in:
//
//	Σ x_j G_j = -(dead + factor·live),  x_j >= 0,  Σ c_kj x_j <= cap_k
//
// Rows are three forces and three moments for each block, these about its centre and
// divided by its size so that all are newtons, then one row for each cap. A generator G_j is
// the force of x_j = 1 at one joint; it is scaled to a column of length about 1.
type programme struct {
	blocks     int
	size       []float64 // m, of each block
	joints     []joint
	generators []generator
	caps       []float64 // N
}

// joint is a point at which forces pass, or a couple. A force has three components along
// its axes, the first of them the normal of a contact or the axis of a link.
type joint struct {
	first, last int // its generators
	a, b        int // row of the block that the force acts on, and of what it reacts on; -1 is the ground
	rows        [3][6]float64
	back        [3][6]float64 // the same for the reaction
	axes        [3]Vec
	cap         int // index of its cap, or -1
}

type generator struct {
	joint int
	k     Vec     // along the axes of the joint
	cap   float64 // share of the cap that x = 1 takes
}

func (p *programme) rows() int { return 6*p.blocks + len(p.caps) }

// refit sets the caps to the strengths of a group with the same joints.
func (t *part) refit(g *Group, only Limit) {
	p := t.programme
	p.caps = slices.Clone(p.caps)
	set := func(joint int, cap float64) {
		if k := p.joints[max(joint, 0)].cap; joint >= 0 && k >= 0 {
			p.caps[k] = cap
		}
	}
	for i := range g.Links {
		pull, push, shear := capacities(&g.Links[i], only)
		set(t.layout.links[i], smallest(pull, push, shear))
	}
	for i := range g.Guys {
		set(t.layout.guys[i], guyLimit(&g.Guys[i], only))
	}
}

// sameJoints reports whether two groups differ in nothing but the strengths of links and guys,
// of each all alike.
func sameJoints(a, b *Group) bool {
	sameContact := func(p, q Contact) bool {
		return p.Of == q.Of && p.On == q.On && p.Normal == q.Normal && p.Friction == q.Friction && p.Bearing == q.Bearing && slices.Equal(p.Points, q.Points)
	}
	sameBlock := func(p, q Block) bool { return p.Centre == q.Centre }
	sameLink := func(p, q Link) bool {
		x, y := smallest(p.Pull, p.Push, p.Shear), smallest(q.Pull, q.Push, q.Shear)
		like := func(c, d float64) bool {
			if c == 0 || d == 0 || math.IsInf(c, 1) || math.IsInf(d, 1) {
				return c == d
			}
			return math.Abs(x/c-y/d) < 1e-12
		}
		return p.A == q.A && p.B == q.B && p.At == q.At && p.Axis == q.Axis && like(p.Pull, q.Pull) && like(p.Push, q.Push) && like(p.Shear, q.Shear)
	}
	sameGuy := func(p, q Guy) bool {
		return p.Of == q.Of && p.At == q.At && p.To == q.To && (p.Limit == 0) == (q.Limit == 0) && math.IsInf(p.Limit, 1) == math.IsInf(q.Limit, 1)
	}
	return slices.EqualFunc(a.Blocks, b.Blocks, sameBlock) && slices.EqualFunc(a.Contacts, b.Contacts, sameContact) &&
		slices.EqualFunc(a.Links, b.Links, sameLink) && slices.EqualFunc(a.Guys, b.Guys, sameGuy)
}

// layout says where in a programme the joints of a group are; -1 is nowhere.
type layout struct {
	points  [][]int // contact, point
	couples []int   // contact
	links   []int
	guys    []int
}

func newProgramme(g *Group, align float64, only Limit) (*programme, *layout) {
	p := &programme{blocks: len(g.Blocks), size: sizes(g)}
	l := &layout{
		points: make([][]int, len(g.Contacts)), couples: make([]int, len(g.Contacts)),
		links: make([]int, len(g.Links)), guys: make([]int, len(g.Guys)),
	}
	joints := 2*len(g.Contacts) + len(g.Links) + len(g.Guys) // at most
	for i := range g.Contacts {
		joints += len(g.Contacts[i].Points)
	}
	p.joints, p.generators = make([]joint, 0, joints), make([]generator, 0, joints*(sides+2))
	along := Vec{math.Cos(align), math.Sin(align), 0}
	glued := only == LinksOnly || only == GuysOnly
	for i := range g.Contacts {
		c := &g.Contacts[i]
		axes := frame(unit(c.Normal), along)
		l.points[i] = make([]int, len(c.Points))
		l.couples[i] = -1
		for k, at := range c.Points {
			if glued && k > 0 {
				l.points[i][k] = -1
				continue
			}
			l.points[i][k] = p.force(g, c.Of, c.On, at, axes)
			switch {
			case glued:
				p.both(0, 1, 2)
			case only == TippingOnly:
				p.limit(c.Bearing)
				p.add(Vec{1, 0, 0}, share(c.Bearing))
				p.both(1, 2)
			case only == AllLimits:
				p.limit(c.Bearing)
				p.pyramid(c.Friction, share(c.Bearing))
			default:
				p.pyramid(c.Friction, 0)
			}
		}
		switch {
		case glued || only == SlidingOnly:
			l.couples[i] = p.couple(g, c.Of, c.On, axes)
			p.both(0, 1, 2)
		case only == TurningOnly:
			l.couples[i] = p.couple(g, c.Of, c.On, axes)
			p.both(1, 2)
		}
	}
	for i := range g.Links {
		k := &g.Links[i]
		l.links[i] = p.force(g, k.A, k.B, k.At, frame(unit(k.Axis), along))
		pull, push, shear := k.Pull, k.Push, k.Shear
		if only != AllLimits && only != LinksOnly {
			pull, push, shear = boundless(pull), boundless(push), boundless(shear)
		}
		p.link(pull, push, shear)
	}
	for i := range g.Guys {
		y := &g.Guys[i]
		l.guys[i] = p.force(g, y.Of, Ground, y.At, frame(unit(sub(y.To, y.At)), along))
		limit := y.Limit
		if only != AllLimits && only != GuysOnly {
			limit = boundless(limit)
		}
		if limit > 0 {
			if !math.IsInf(limit, 1) {
				p.limit(limit)
			}
			p.add(Vec{1, 0, 0}, share(limit))
		}
	}
	return p, l
}

// sizes is for each block the distance from its centre to the farthest of its joints.
func sizes(g *Group) []float64 {
	size := make([]float64, len(g.Blocks))
	reach := func(block int, at Vec) {
		if block != Ground {
			size[block] = max(size[block], norm(sub(at, g.Blocks[block].Centre)))
		}
	}
	for i := range g.Contacts {
		for _, at := range g.Contacts[i].Points {
			reach(g.Contacts[i].Of, at)
			reach(g.Contacts[i].On, at)
		}
	}
	for i := range g.Links {
		reach(g.Links[i].A, g.Links[i].At)
		reach(g.Links[i].B, g.Links[i].At)
	}
	for i := range g.Guys {
		reach(g.Guys[i].Of, g.Guys[i].At)
	}
	for i, s := range size {
		if s < minFoot {
			size[i] = 1
		}
	}
	return size
}

// frame is a right-handed set of axes: n, then the part of along across n, so that a corner
// of the friction pyramid lies that way; upwards where n points along.
func frame(n, along Vec) [3]Vec {
	t := sub(along, scaled(n, dot(n, along)))
	if norm(t) < 1e-6 {
		t = sub(Vec{0, 0, 1}, scaled(n, n[2]))
	}
	t = unit(t)
	return [3]Vec{n, t, cross3(n, t)}
}

// force adds a point where block a gets a force and b its reaction.
func (p *programme) force(g *Group, a, b int, at Vec, axes [3]Vec) int {
	j := p.joint(a, b, axes)
	for i, e := range axes {
		j.rows[i] = p.wrench(g, a, e, at, 1)
		if b != Ground {
			j.back[i] = p.wrench(g, b, e, at, -1)
		}
	}
	return len(p.joints) - 1
}

// couple adds a joint that passes moments about its axes.
func (p *programme) couple(g *Group, a, b int, axes [3]Vec) int {
	j := p.joint(a, b, axes)
	for i, e := range axes {
		for k := range e {
			j.rows[i][3+k] = e[k] / p.size[a]
			if b != Ground {
				j.back[i][3+k] = -e[k] / p.size[b]
			}
		}
	}
	return len(p.joints) - 1
}

func (p *programme) joint(a, b int, axes [3]Vec) *joint {
	j := joint{first: len(p.generators), last: len(p.generators), a: 6 * a, b: -1, axes: axes, cap: -1}
	if b != Ground {
		j.b = 6 * b
	}
	p.joints = append(p.joints, j)
	return &p.joints[len(p.joints)-1]
}

// wrench is a force along e as the six rows of a block.
func (p *programme) wrench(g *Group, block int, e, at Vec, sign float64) [6]float64 {
	m := cross3(sub(at, g.Blocks[block].Centre), e)
	s := sign / p.size[block]
	return [6]float64{sign * e[0], sign * e[1], sign * e[2], s * m[0], s * m[1], s * m[2]}
}

// limit gives the last joint a cap; zero is none.
func (p *programme) limit(cap float64) {
	if cap > 0 {
		p.joints[len(p.joints)-1].cap = len(p.caps)
		p.caps = append(p.caps, cap)
	}
}

// share is the part of its cap that a force takes: all, or nothing without a cap.
func share(cap float64) float64 {
	if cap > 0 && !math.IsInf(cap, 1) {
		return 1
	}
	return 0
}

func boundless(capacity float64) float64 {
	if capacity > 0 {
		return math.Inf(1)
	}
	return 0
}

// add gives the last joint a generator.
func (p *programme) add(k Vec, cap float64) {
	last := len(p.joints) - 1
	j := &p.joints[last]
	var square float64
	for i := range 6 {
		a := k[0]*j.rows[0][i] + k[1]*j.rows[1][i] + k[2]*j.rows[2][i]
		b := k[0]*j.back[0][i] + k[1]*j.back[1][i] + k[2]*j.back[2][i]
		square += a*a + b*b
	}
	s := 1 / math.Sqrt(square)
	p.generators = append(p.generators, generator{last, scaled(k, s), cap * s})
	j.last = len(p.generators)
}

// both adds generators either way along some axes.
func (p *programme) both(axes ...int) {
	for _, i := range axes {
		var k Vec
		k[i] = 1
		p.add(k, 0)
		k[i] = -1
		p.add(k, 0)
	}
}

// pyramid adds a contact: its edges, or the normal alone without friction.
func (p *programme) pyramid(friction, cap float64) {
	if friction == 0 {
		p.add(Vec{1, 0, 0}, cap)
		return
	}
	for _, c := range circle {
		p.add(Vec{1, friction * c[0], friction * c[1]}, cap)
	}
}

// circle is the corners of the inscribed polygon; the axes are exact.
var circle = func() (c [sides][2]float64) {
	for i := range c {
		q := i % (sides / 4)
		sin, cos := math.Sincos(2 * math.Pi * float64(q) / sides)
		switch i / (sides / 4) {
		case 0:
			c[i] = [2]float64{cos, sin}
		case 1:
			c[i] = [2]float64{-sin, cos}
		case 2:
			c[i] = [2]float64{-cos, -sin}
		case 3:
			c[i] = [2]float64{sin, -cos}
		}
	}
	return c
}()

// smallest is the least capacity that is one; +Inf without any.
func smallest(capacities ...float64) float64 {
	least := math.Inf(1)
	for _, c := range capacities {
		if c > 0 {
			least = min(least, c)
		}
	}
	return least
}

// link adds the corners of what a link can carry.
func (p *programme) link(pull, push, shear float64) {
	unit := smallest(pull, push, shear) // the cap, and what shares are measured by
	part := func(c float64) float64 {
		if math.IsInf(c, 1) {
			return 0
		}
		return unit / c
	}
	if !math.IsInf(unit, 1) {
		p.limit(unit)
	}
	if pull > 0 {
		p.add(Vec{1, 0, 0}, part(pull))
	}
	if push > 0 {
		p.add(Vec{-1, 0, 0}, part(push))
	}
	switch {
	case math.IsInf(shear, 1):
		p.both(1, 2)
	case shear > 0:
		for _, c := range circle {
			p.add(Vec{0, c[0], c[1]}, part(shear))
		}
	}
}

// load writes the rows of some forces, with the sign that moves them to the right-hand side,
// and returns the sum of their sizes.
func (p *programme) load(g *Group, forces []Acting, rows []float64) (size float64) {
	clear(rows)
	for i := range forces {
		f := &forces[i]
		b := 6 * f.Block
		m := cross3(sub(f.At, g.Blocks[f.Block].Centre), f.F)
		for k := range 3 {
			rows[b+k] -= f.F[k]
			rows[b+3+k] -= m[k] / p.size[f.Block]
			size += math.Abs(f.F[k]) + math.Abs(m[k])/p.size[f.Block]
		}
	}
	return size
}
