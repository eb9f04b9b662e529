package statics

import (
	"errors"
	"fmt"
	"math"
	"slices"
)

// Limit chooses which limits count; the others are taken away, to say how much each
// thing has in hand.
type Limit int

// The limits. A capacity of zero stays zero under each of them.
const (
	AllLimits   Limit = iota
	TippingOnly       // contacts part and crush soft ground; friction, links and guys have no limit
	SlidingOnly       // contacts slide; they neither part, tip, crush nor turn, links and guys have no limit
	TurningOnly       // contacts slide and turn; they neither part, tip nor crush, links and guys have no limit
	LinksOnly         // links give; contacts are glued, guys have no limit
	GuysOnly          // guys give; contacts are glued, links have no limit
	limits
)

// nothing is a load (N) too small to be told from none.
const nothing = 1e-100

// ErrUnproven: no answer was found that the check of it accepts.
var ErrUnproven = errors.New("no answer with a proof was found")

// Analysis solves a group for any loads. It is not for use by two goroutines at once.
type Analysis struct {
	group *Group
	align float64
	parts [limits]*part
}

// part is the programme of one Limit.
type part struct {
	programme *programme
	layout    *layout
	home      *simplex // after some weight: where every Solve starts
	stood     *simplex // after the dead loads of the last Solve, which saves the way from home
	dead      []float64
	work      *simplex   // of Solve
	kept      []*simplex // where Carries and Seek ended, the last one first

	// Room that is used again.
	asked   question
	rhs     []float64
	forces  []Vec
	carried Outcome
}

// mostKept is how many bases are kept: about as many questions as one round of directions asks. Each
// takes some tens of kilobytes.
const mostKept = 16

// NewAnalysis checks a group and prepares it. One corner of every 16-sided friction pyramid
// lies along align (rad, anticlockwise from east), so that friction is exact for a lone body
// that is pushed that way, or a multiple of 22.5° from it; elsewhere it is up to 2 % low. The
// shear of a link with a limit is such a polygon too. The error wraps [ErrGroup], [ErrFoot] or
// [ErrValue]. The group must not be changed afterwards.
func NewAnalysis(g *Group, align float64) (*Analysis, error) {
	if err := g.check(); err != nil {
		return nil, err
	}
	if !usable(align) {
		return nil, fmt.Errorf("align %g rad: %w", align, ErrValue)
	}
	return &Analysis{group: g, align: align}, nil
}

func (a *Analysis) part(only Limit) *part {
	if a.parts[only] == nil {
		p, l := newProgramme(a.group, a.align, only)
		t := &part{programme: p, layout: l, home: newSimplex(p), stood: newSimplex(p), work: newSimplex(p), rhs: make([]float64, p.rows()), forces: make([]Vec, len(p.joints))}
		t.carried = l.room()
		for b := range p.blocks {
			t.home.b[6*b+2] = 1 / float64(p.blocks)
		}
		t.home.reset(1)
		t.home.restore()
		t.home.pivots = 0
		a.parts[only] = t
	}
	return a.parts[only]
}

// Outcome is what [Analysis.Solve] finds.
type Outcome struct {
	Factor      Factor // the largest factor that the group carries
	NotStanding bool   // the dead loads alone are not carried
	// Collapse is the motion that sets in beyond the factor, or under the dead loads alone
	// when they are not carried; it is without motion when Factor is unbounded.
	Collapse Collapse
	// Forces that carry the loads at Factor, or at factor 1 when it is unbounded; zero when
	// the dead loads are not carried. They prove the factor, and need not be those that
	// arise: stiffness and fit choose between all that balance.
	PointForces [][]Vec     // on Of, by contact and point (N)
	Couples     []Vec       // on Of, of contacts that a Limit keeps from tipping or turning (N·m)
	LinkForces  []LinkForce // by link
	GuyForces   []float64   // tension by guy (N)
	Certificate Certificate
	Iterations  int // pivots of the simplex method
}

// LinkForce is the force in a link.
type LinkForce struct {
	Force Vec     // on A (N)
	Axial float64 // N, positive is pull
	Shear float64 // N
}

// Solve finds the largest factor at which dead + factor·live is carried, the forces that
// prove it and the motion that sets in beyond. The answer does not depend on what was solved
// before. Whether it is proven is in its certificate. The error wraps [ErrGroup] or [ErrValue].
func (a *Analysis) Solve(l *Loads, only Limit) (Outcome, error) {
	if only < 0 || only >= limits {
		return Outcome{}, fmt.Errorf("limit %d: %w", only, ErrValue)
	}
	if err := a.group.checkLoads(l); err != nil {
		return Outcome{}, err
	}
	t := a.part(only)
	var o Outcome
	for try := uint64(1); try <= 3 && !o.Certificate.OK; try++ {
		var far Outcome
		if o, far = a.solve(t, l, try); o.Certificate.OK {
			o.Certificate = certify(a.group, a.align, only, l, &o, &far)
		}
	}
	o.Iterations = t.work.pivots
	return o, nil
}

// solve also returns the forces at the greatest factor when it is carried. It marks as
// certain, for now, an outcome that the solver is done with.
func (a *Analysis) solve(t *part, l *Loads, try uint64) (o, far Outcome) {
	s := t.work
	q := a.question(t, l)
	blocked, ok := t.stand(q, try)
	if !ok {
		return a.outcome(t, nil, nil), far
	}
	if blocked {
		least := q.drive(s.motion) * (1 - 1e-9)
		a.plainest(t, q, 0, s.motion, func(y []float64) bool { return q.drive(y) >= least })
		o = a.outcome(t, nil, s.motion)
		o.NotStanding, o.Certificate.OK = true, true
		return o, far
	}
	factor, motion := q.rise(s)
	// That should be it. If not, each motion that stops a factor bounds it, and a bound that
	// nothing stops is reached (Newton's method for a piecewise linear function).
	for rounding, round := 1e-13, 0; rounding < 1e-7 && round < 50; round++ {
		if blocked, ok = q.at(s, factor); !ok || !blocked {
			break
		}
		motion = append(motion[:0], s.motion...)
		bound := q.bound(motion)
		if bound > factor*(1-rounding) { // what is left is rounding
			bound = factor * (1 - rounding)
			rounding *= 10
		}
		factor = bound
	}
	forces := t.sum(make([]Vec, len(t.programme.joints)), s, q.unit(factor))
	if motion != nil {
		a.plainest(t, q, factor, motion, func(y []float64) bool { return q.bound(y) <= factor*(1+1e-9) })
	}
	o = a.outcome(t, forces, motion)
	o.Certificate.OK = ok && !blocked
	if motion != nil {
		o.Factor.Value = factor
		return o, far
	}
	// The greatest factor is carried, and so is none; their mixture carries factor 1.
	o.Factor.Unbounded = true
	far = o
	blocked, ok = q.at(s, 0)
	const part = 1 / maxFactor
	for i, f := range t.sum(t.forces, s, q.unit(0)) {
		forces[i] = add(scaled(f, 1-part), scaled(forces[i], part))
	}
	o = a.outcome(t, forces, nil)
	o.Factor.Unbounded, o.Certificate.OK = true, ok && !blocked
	return o, far
}

// stand brings t.work to the dead loads. Further tries go another way through the bases.
func (t *part) stand(q *question, try uint64) (blocked, ok bool) {
	s := t.work
	if try > 1 {
		s.reset(try)
		return q.at(s, 0)
	}
	if slices.Equal(q.dead, t.dead) {
		s.copyFrom(t.stood)
		return false, true
	}
	s.copyFrom(t.home)
	if blocked, ok = q.at(s, 0); ok && !blocked {
		t.stood.copyFrom(s)
		t.dead = slices.Clone(q.dead)
	}
	return blocked, ok
}

// Carries reports whether dead + factor·live is carried, within 1e-8 of the load. Many calls with
// loads like the last ones take microseconds, for the bases at which they ended are kept. The error
// wraps [ErrGroup], [ErrValue] or [ErrUnproven].
func (a *Analysis) Carries(l *Loads, factor float64) (bool, error) {
	t, q, err := a.asked(l, factor)
	if err != nil {
		return false, err
	}
	stands, falls, _ := a.ask(t, t.nearest(q, factor), q, l, factor)
	if !stands && !falls {
		return false, ErrUnproven
	}
	return stands, nil
}

// Seek is [Analysis.Carries] and, where the loads are not carried, [Analysis.Solve] for
// AllLimits: it comes down from the factor by way of the motions that stop it. It starts from the bases
// that Carries keeps, and so takes a fraction of the time of Solve. The factor does not depend on what
// was asked before; which motion it names, where several set in at once, may. Loads that are
// carried may yet not stand without the live ones, as with Carries. The error wraps [ErrGroup],
// [ErrValue] or [ErrUnproven].
func (a *Analysis) Seek(l *Loads, factor float64) (o Outcome, carried bool, err error) {
	t, q, err := a.asked(l, factor)
	if err != nil {
		return o, false, err
	}
	s := t.nearest(q, factor)
	before := s.pivots
	stands, falls, _ := a.ask(t, s, q, l, factor)
	if stands {
		o.Iterations = s.pivots - before
		return o, true, nil
	}
	at := factor
	for rounding, round := 1e-13, 0; falls && round < 50; round++ {
		bound := q.bound(s.motion)
		if bound > at*(1-rounding) { // what is left is rounding
			bound = at * (1 - rounding)
			rounding *= 10
		}
		if at = bound; at == 0 {
			break // it may not stand at all
		}
		motion := slices.Clone(s.motion)
		var forces []Vec
		if stands, falls, forces = a.ask(t, s, q, l, at); stands {
			o = a.outcome(t, forces, motion)
			o.Factor.Value, o.Iterations = at, s.pivots-before
			if o.Certificate = certify(a.group, a.align, AllLimits, l, &o, nil); o.Certificate.OK {
				return o, false, nil
			}
			break
		}
	}
	if o, err = a.Solve(l, AllLimits); err == nil && !o.Certificate.OK {
		err = ErrUnproven
	}
	return o, false, err
}

// nearest is a basis to start from, now the first of those that are kept: of them, the one that the
// load makes the least of infeasible.
func (t *part) nearest(q *question, factor float64) *simplex {
	q.load(t.rhs, factor)
	best, from := len(t.rhs)+1, t.home
	at := len(t.kept)
	for i := 0; i < len(t.kept) && best > 0; i++ {
		if n := t.kept[i].amiss(t.rhs, best); n < best {
			best, from, at = n, t.kept[i], i
		}
	}
	last := len(t.kept) - 1
	switch {
	case best == 0 || at == mostKept-1: // no pivots are ahead, or that one is the first to be given up
		last = at
	case last < mostKept-1:
		t.kept = append(t.kept, newSimplex(t.programme))
		last++
		fallthrough
	default:
		t.kept[last].copyFrom(from)
	}
	s := t.kept[last]
	copy(t.kept[1:], t.kept[:last])
	t.kept[0] = s
	return s
}

// Refit gives the analysis a group that differs from its own in nothing but the strength of
// links and guys, of each all its capacities alike. That is much faster than a new analysis. The error
// wraps [ErrGroup].
func (a *Analysis) Refit(g *Group) error {
	if err := g.check(); err != nil {
		return err
	}
	if !sameJoints(a.group, g) {
		return fmt.Errorf("a group with other joints: %w", ErrGroup)
	}
	a.group = g
	for only, t := range a.parts {
		if t != nil {
			t.refit(g, Limit(only))
		}
	}
	return nil
}

// asked prepares a question.
func (a *Analysis) asked(l *Loads, factor float64) (*part, *question, error) {
	if !usable(factor) || factor < 0 {
		return nil, nil, fmt.Errorf("factor %g: %w", factor, ErrValue)
	}
	if err := a.group.checkLoads(l); err != nil {
		return nil, nil, err
	}
	t := a.part(AllLimits)
	return t, a.question(t, l), nil
}

// ask proves that dead + factor·live is carried, by forces that hold until the next question, or that it
// drives a motion, then in s.motion. It does neither when it has failed.
func (a *Analysis) ask(t *part, s *simplex, q *question, l *Loads, factor float64) (stands, falls bool, forces []Vec) {
	for try := uint64(1); try <= 3; try++ {
		at := factor
		if try > 1 {
			// A tie may be neither carried nor proven to fall. Both proofs are for the factor itself.
			s.reset(try)
			at *= 1 - balanced/10
		}
		blocked, ok := q.at(s, at)
		switch {
		case !ok:
		case blocked:
			c := newCollapse(a.group, t.programme, s.motion)
			if provesFall(a.group, a.align, AllLimits, l, factor, &c) {
				return false, true, nil
			}
		default:
			forces = t.sum(t.forces, s, q.unit(at))
			t.arrange(&t.carried, forces)
			if provesStand(a.group, AllLimits, l, factor, &t.carried) {
				return true, false, forces
			}
		}
	}
	return false, false, nil
}

// question is the right-hand side dead + factor·live of a programme, in newtons.
type question struct {
	dead, live []float64
	sizes      [2]float64
}

func (a *Analysis) question(t *part, l *Loads) *question {
	p, q := t.programme, &t.asked
	if q.dead == nil {
		q.dead, q.live = make([]float64, p.rows()), make([]float64, p.rows())
	}
	q.sizes[0] = p.load(a.group, l.Dead, q.dead)
	q.sizes[1] = p.load(a.group, l.Live, q.live)
	copy(q.dead[6*p.blocks:], p.caps)
	return q
}

// unit is the load of 1 in the solver (N).
func (q *question) unit(factor float64) float64 {
	if u := q.sizes[0] + factor*q.sizes[1]; u > nothing {
		return u
	}
	return 1
}

func (q *question) at(s *simplex, factor float64) (blocked, ok bool) {
	q.load(s.b, factor)
	return s.restore()
}

// load writes the right-hand side.
func (q *question) load(rhs []float64, factor float64) {
	scale := 1 / q.unit(factor)
	for i, d := range q.dead {
		rhs[i] = (d + factor*q.live[i]) * scale
	}
}

// rise finds a factor that s, after at(s, 0), carries and a motion that stops more; no motion
// when it is the greatest, or when the search has failed.
func (q *question) rise(s *simplex) (factor float64, motion []float64) {
	if q.sizes[1] <= nothing {
		return maxFactor, nil
	}
	// Loads of size 1 each, so that the parameter is a share of theirs.
	scales := [2]float64{1 / q.unit(0), 1 / q.sizes[1]}
	if q.sizes[0] <= nothing {
		scales[0] = scales[1]
	}
	m := len(q.dead)
	rows := make([]float64, 2*m)
	dead, live := rows[:m], rows[m:]
	for i := range dead {
		dead[i], live[i] = q.dead[i]*scales[0], q.live[i]*scales[1]
	}
	_, stopped, ok := s.rise(dead, live, maxFactor*scales[0]/scales[1])
	if !ok || !stopped {
		return maxFactor, nil
	}
	motion = append(motion, s.motion...)
	return min(maxFactor, q.bound(motion)), motion
}

// bound is the factor beyond which the loads drive a motion; +Inf when live loads do not.
func (q *question) bound(motion []float64) float64 {
	dead, live := 0.0, 0.0
	for i, y := range motion {
		dead += y * q.dead[i]
		live += y * q.live[i]
	}
	if live < 0 {
		return max(0, dead/-live)
	}
	return math.Inf(1)
}

// sum adds the generators up to the force of every joint (N), along its axes.
func (t *part) sum(forces []Vec, s *simplex, unit float64) []Vec {
	clear(forces)
	for i, j := range s.base {
		if j < len(t.programme.generators) && s.x[i] > 0 {
			g := &t.programme.generators[j]
			forces[g.joint] = add(forces[g.joint], scaled(g.k, s.x[i]*unit))
		}
	}
	return forces
}

// room is an outcome without forces.
func (l *layout) room() Outcome {
	o := Outcome{
		PointForces: make([][]Vec, len(l.points)),
		Couples:     make([]Vec, len(l.couples)),
		LinkForces:  make([]LinkForce, len(l.links)),
		GuyForces:   make([]float64, len(l.guys)),
	}
	for i, points := range l.points {
		o.PointForces[i] = make([]Vec, len(points))
	}
	return o
}

// outcome arranges joint forces and a motion of the programme as the group has them; nil
// stands for none.
func (a *Analysis) outcome(t *part, forces []Vec, motion []float64) Outcome {
	o := t.layout.room()
	o.Collapse = newCollapse(a.group, t.programme, motion)
	if forces != nil {
		t.arrange(&o, forces)
	}
	return o
}

// arrange puts the forces of the joints where an outcome has them.
func (t *part) arrange(o *Outcome, forces []Vec) {
	l := t.layout
	at := func(joint int) (local, global Vec) {
		if joint < 0 {
			return
		}
		if local = forces[joint]; local == (Vec{}) {
			return
		}
		for i, e := range t.programme.joints[joint].axes {
			global = add(global, scaled(e, local[i]))
		}
		return local, global
	}
	for i, points := range l.points {
		for k, j := range points {
			_, o.PointForces[i][k] = at(j)
		}
		_, o.Couples[i] = at(l.couples[i])
	}
	for i, j := range l.links {
		local, global := at(j)
		o.LinkForces[i] = LinkForce{Force: global, Axial: local[0], Shear: math.Hypot(local[1], local[2])}
	}
	for i, j := range l.guys {
		local, _ := at(j)
		o.GuyForces[i] = local[0]
	}
}
