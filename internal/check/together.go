package check

import (
	"fmt"
	"math"
	"slices"

	"galefast/internal/verdict"
	"galefast/statics"
	"galefast/wind"
)

// fall is the worst found of a group: the least factor over the required one.
type fall struct {
	found   bool
	ratio   float64
	sit     situation
	outcome statics.Outcome
	words   string // how it falls
}

// heap is the weight of one mass of a group at its two ends.
type heap struct{ light, heavy statics.Acting }

// start is where one search starts: who is leaned on in which state, and the wind.
type start struct {
	state          state
	people         bool
	swing, towards float64
	combine, lean  int
}

// wrench is a force on a block with its moment about the block's centre.
type wrench struct {
	block int
	w     [6]float64
}

func (g *group) wrench(f statics.Acting) wrench {
	c := g.system.Blocks[f.Block].Centre
	x, y, z := f.At[0]-c[0], f.At[1]-c[1], f.At[2]-c[2]
	return wrench{f.Block, [6]float64{f.F[0], f.F[1], f.F[2], y*f.F[2] - z*f.F[1], z*f.F[0] - x*f.F[2], x*f.F[1] - y*f.F[0]}}
}

// power is what the force does in a motion of the blocks.
func (w *wrench) power(motions []statics.Motion) float64 {
	m := &motions[w.block]
	return w.w[0]*m.Velocity[0] + w.w[1]*m.Velocity[1] + w.w[2]*m.Velocity[2] + w.w[3]*m.Spin[0] + w.w[4]*m.Spin[1] + w.w[5]*m.Spin[2]
}

// actions are everything that acts on a group in one setup and direction of the wind.
type actions struct {
	masses  []heap
	ballast []statics.Acting
	winds   [][]blow // alternatives of each surface
	owner   []int    // member that each surface belongs to
	pushes  []statics.Acting
	first   []int // index of the first push on each member that can be pushed

	// The same as wrenches.
	light, heavy, laid, leaning []wrench
	blowing                     [][]wrench

	answers map[driven]*answer // to the ways to fall that a group keeps, without ballast
	none    lead               // the first alternative of everything
}

// driven is what an answer is to.
type driven struct {
	way     *statics.Collapse
	combine *wind.Combination
}

// actionsOn is what acts on a group with some ballast.
func (j *job) actionsOn(g *group, s setup, towards, gust float64, ballast []float64) (*actions, error) {
	what := acting{start{s.state, s.people, s.swing, towards, 0, 0}, s.wind, gust}
	bare, ok := g.acts[what]
	if !ok {
		var err error
		if bare, err = j.collect(g, s, towards, gust); err != nil {
			return nil, err
		}
		g.acts[what] = bare
	}
	a := *bare
	sit := situation{setup: s, towards: towards}
	sit.wind = plain
	for i, b := range g.members {
		for _, f := range j.laidIn(nil, b, sit, g.of(i, ballast)) {
			f.At[2] += b.base
			a.ballast = append(a.ballast, statics.Acting{Block: i, Force: f})
		}
	}
	for _, f := range a.ballast {
		a.laid = append(a.laid, g.wrench(f))
	}
	return &a, nil
}

// collect finds what acts on a group without ballast.
func (j *job) collect(g *group, s setup, towards, gust float64) (*actions, error) {
	a := &actions{answers: map[driven]*answer{}}
	sit := situation{setup: s, towards: towards}
	sit.wind = plain // masses as they are; the combination is applied in loads
	for i, b := range g.members {
		winds, err := j.winds(b, s, towards, gust)
		if err != nil {
			return nil, err
		}
		for _, alternatives := range winds {
			a.winds = append(a.winds, extremes(alternatives, func(bl *blow) *statics.Force { return &bl.Force }))
			a.owner = append(a.owner, i)
		}
		pushes := extremes(j.pushes(b, s, b.normals(), towards), func(f *statics.Force) *statics.Force { return f })
		if len(pushes) > 0 {
			a.first = append(a.first, len(a.pushes))
		}
		for _, f := range pushes {
			a.pushes = append(a.pushes, statics.Acting{Block: i, Force: f})
		}
		weigh := func(heavy bool) []statics.Force {
			sit.heavy = heavy
			forces := j.deadOf(nil, b, sit, nil)
			for k := range forces {
				forces[k].At[2] += b.base
			}
			return forces
		}
		light, heavy := weigh(false), weigh(true)
		for k := range light {
			h := heap{statics.Acting{Block: i, Force: light[k]}, statics.Acting{Block: i, Force: heavy[k]}}
			if k < len(b.dead) && b.dead[k].light > 0 {
				for n := range h.heavy.F {
					h.heavy.F[n] *= b.dead[k].heavy / b.dead[k].light
				}
			}
			a.masses = append(a.masses, h)
		}
	}
	for _, m := range a.masses {
		a.light, a.heavy = append(a.light, g.wrench(m.light)), append(a.heavy, g.wrench(m.heavy))
	}
	for _, f := range a.pushes {
		a.leaning = append(a.leaning, g.wrench(f))
	}
	for i, alternatives := range a.winds {
		row := make([]wrench, len(alternatives))
		for k := range alternatives {
			row[k] = g.wrench(statics.Acting{Block: a.owner[i], Force: alternatives[k].Force})
		}
		a.blowing = append(a.blowing, row)
	}
	a.none = lead{make([]int, len(a.winds)), make([]bool, len(a.masses)), -1, math.Inf(1), 0}
	return a, nil
}

// extremes leaves out of some forces, of which one acts, what is a mixture of two others: the
// same force between their places. What a group carries it carries in every mixture, so
// that one is never worse than both.
func extremes[T any](list []T, force func(*T) *statics.Force) []T {
	if len(list) < 3 {
		return list
	}
	var kept []T
next:
	for k := range list {
		for p := range list {
			for q := range p {
				if between(force(&list[p]), force(&list[k]), force(&list[q])) {
					continue next
				}
			}
		}
		kept = append(kept, list[k])
	}
	return kept
}

// between reports whether three forces are the same and the second acts at a place between
// those of the others.
func between(p, f, q *statics.Force) bool {
	var before, after, apart, size, length float64
	for n := range 3 {
		if math.Abs(p.F[n]-f.F[n])+math.Abs(q.F[n]-f.F[n]) > 1e-9*(math.Abs(f.F[0])+math.Abs(f.F[1])+math.Abs(f.F[2])) {
			return false
		}
		u, v := f.At[n]-p.At[n], q.At[n]-f.At[n]
		before, after, apart = before+u*u, after+v*v, apart+u*v
		length += (q.At[n] - p.At[n]) * (q.At[n] - p.At[n])
	}
	size = math.Sqrt(before * after)
	return before > 1e-18 && after > 1e-18 && apart > size*(1-1e-9) && length > 0
}

// plain is a climate whose only combination multiplies nothing.
var plain = &climate{combinations: []wind.Combination{{Dead: 1, DeadUnfavourable: 1, Wind: 1, People: 1}}}

// loads are the actions of one situation.
func (a *actions) loads(dst *statics.Loads, s *situation) {
	c := s.combination()
	dst.Dead, dst.Live = dst.Dead[:0], dst.Live[:0]
	put := func(list []statics.Acting, f statics.Acting, by float64) []statics.Acting {
		for k := range f.F {
			f.F[k] *= by
		}
		return append(list, f)
	}
	for i, m := range a.masses {
		if s.heavies[i] {
			dst.Dead = put(dst.Dead, m.heavy, c.DeadUnfavourable)
		} else {
			dst.Dead = put(dst.Dead, m.light, c.Dead)
		}
	}
	for _, f := range a.ballast {
		dst.Dead = put(dst.Dead, f, c.Dead)
	}
	for i, alternatives := range a.winds {
		dst.Live = put(dst.Live, statics.Acting{Block: a.owner[i], Force: alternatives[s.pick[i]].Force}, c.Wind)
	}
	if s.push >= 0 {
		dst.Live = put(dst.Live, a.pushes[s.push], c.People)
	}
}

// answer is what drives a collapse most.
type answer struct {
	pick    []int
	heavies []bool
	push    []int     // of each start
	power   []float64 // of the live loads with that push
	wind    float64   // power of the wind
	dead    float64   // power of the dead loads, ballast left aside
}

// against is the answer to a way to fall that a group keeps.
func (a *actions) against(way *statics.Collapse, combine *wind.Combination) *answer {
	r := a.answers[driven{way, combine}]
	if r == nil {
		r = a.driving(way, combine)
		a.answers[driven{way, combine}] = r
	}
	return r
}

// driving chooses, of every surface, mass and push, what drives a collapse most.
func (a *actions) driving(c *statics.Collapse, combine *wind.Combination) *answer {
	r := &answer{pick: make([]int, len(a.winds)), heavies: make([]bool, len(a.masses))}
	live := 0.0
	for i, row := range a.blowing {
		most := math.Inf(-1)
		for k := range row {
			if p := row[k].power(c.Motions); k == 0 || p > most+1e-9*math.Abs(most) {
				r.pick[i], most = k, p
			}
		}
		live += combine.Wind * most
	}
	for i := range a.masses {
		power, heavy := combine.Dead*a.light[i].power(c.Motions), combine.DeadUnfavourable*a.heavy[i].power(c.Motions)
		if r.heavies[i] = heavy > power+1e-12; r.heavies[i] {
			power = heavy
		}
		r.dead += power
	}
	r.wind = live
	for n := range a.starts() {
		best, most := -1, 0.0
		for k := range a.of(n) {
			at := a.first[n] + k
			if p := a.leaning[at].power(c.Motions); best < 0 || p > most+1e-9*math.Abs(most) {
				best, most = at, p
			}
		}
		r.push = append(r.push, best)
		r.power = append(r.power, live+combine.People*most)
	}
	return r
}

// left is what a collapse takes up beyond the power of the dead loads.
func (a *actions) left(c *statics.Collapse, combine *wind.Combination, r *answer) float64 {
	left := c.Dissipated - r.dead
	for i := range a.laid {
		left -= combine.Dead * a.laid[i].power(c.Motions)
	}
	return left
}

// bound is the factor at which live loads of some power drive a collapse that takes up what is left.
func bound(left, power float64) float64 {
	if power <= 0 {
		return math.Inf(1)
	}
	return math.Max(0, left/power)
}

// starts is how many bodies a search starts from: those that can be leaned on, or one
// where nobody leans.
func (a *actions) starts() int { return max(1, len(a.first)) }

// of is how many pushes there are on the body of a start.
func (a *actions) of(start int) int {
	switch {
	case len(a.first) == 0:
		return 0
	case start+1 < len(a.first):
		return a.first[start+1] - a.first[start]
	}
	return len(a.pushes) - a.first[start]
}

// worsen changes a situation to what drives a collapse most. It returns the factor at which
// that drives the collapse, and whether it changed anything.
func (a *actions) worsen(s *situation, c *statics.Collapse) (at float64, changed bool) {
	r := a.driving(c, s.combination())
	least := 0
	for n := range r.push {
		if r.power[n] > r.power[least]+1e-9*math.Abs(r.power[least]) {
			least = n
		}
	}
	changed = s.push != r.push[least] || !slices.Equal(s.pick, r.pick) || !slices.Equal(s.heavies, r.heavies)
	s.pick, s.heavies, s.push = r.pick, r.heavies, r.push[least]
	return bound(a.left(c, s.combination(), r), r.power[least]), changed
}

// needed is the factor that a group must reach in a situation.
func (j *job) needed(s *situation) float64 {
	return math.Max(j.required(s, overturning), j.required(s, sliding))
}

// worstTogether looks for the worst situation of a group in one setup, if its ratio lies below
// a bar. There are many: every surface has its alternatives, every mass two ends, and a
// person may lean on any piece. But a way to fall that was found for one of them says at
// once which loads drive it most in any other. So in every direction, for a person at every
// piece, the loads are taken that are worst for the ways to fall known so far; if those are
// not carried at the worst ratio so far, or when nothing has been tried there yet, they are
// changed to what drives the new way to fall most, until nothing does more. When that finds
// no new way, every choice of wind and push is tried; where there are too many, and there is no
// bar, every push with the loads that are worst for it. What is known to be carried is not asked; what is
// found to be is added to that.
func (j *job) worstTogether(g *group, s setup, gust float64, ballast []float64, bar float64, known map[asked]carried) (fall, error) {
	h := j.hunt(g, gust, ballast, bar)
	h.carried = known
	last := most
	if math.IsInf(bar, 1) {
		last = every
	}
	for how, rounds := hinted, 1; rounds <= maxSweeps; rounds++ {
		before := g.found
		if err := h.sweep(s, how); err != nil {
			return h.worst, err
		}
		switch nothing := g.found == before; {
		case h.worst.found && !math.IsInf(bar, 1), how == last && nothing:
			return h.worst, h.tell() // below a bar, one is enough: whoever asks mends it and asks again
		case nothing || rounds == maxSweeps/2:
			how = last
		}
	}
	return h.worst, h.tell()
}

// glance is the worst of a group that one look at the ways to fall known shows, or what is known not to be
// exceeded; a situation that it names is looked at first. Loads that would have to be greater by a tenth to
// drive any of those ways are left out.
func (j *job) glance(g *group, ballast []float64, worst fall) (fall, error) {
	look := func(s setup, do func(*hunt) error) error {
		h := j.hunt(g, s.gust, ballast, worst.ratio)
		h.near = true
		err := do(h)
		if h.worst.found {
			worst = h.worst
		}
		return err
	}
	if s := worst.sit; s.wind != nil {
		if err := look(s.setup, func(h *hunt) error { return h.again(&s) }); err != nil {
			return worst, err
		}
	}
	for _, s := range j.setups(g.members...) {
		if err := look(s, func(h *hunt) error { return h.sweep(s, hinted) }); err != nil {
			return worst, err
		}
	}
	return worst, nil
}

// everyBelow lists situations of a setup whose ratio lies below a bar, about the first twenty; none when none is
// found.
func (j *job) everyBelow(g *group, s setup, gust float64, ballast []float64, bar float64) ([]fall, error) {
	h := j.hunt(g, gust, ballast, bar)
	h.keep = true
	for _, how := range [2]effort{hinted, most} {
		if err := h.sweep(s, how); err != nil {
			return nil, err
		}
		if len(h.falls) > 0 {
			break
		}
	}
	return h.falls, nil
}

// effort is how much a sweep tries in each direction.
type effort int

const (
	hinted effort = iota // what is worst for the ways to fall known
	most                 // also every choice of wind and push, where there are not too many
	every                // also, where there are too many, every push with its worst wind
)

const (
	maxSweeps  = 6  // over all directions
	manyFalls  = 20 // that are enough to go on with
	maxWays    = 64 // to fall that are remembered
	maxChoices = 64 // of wind and push from one direction that are tried each
)

// remember keeps a way to fall unless it is known.
func (g *group) remember(c *statics.Collapse) {
	for _, way := range g.ways {
		if alike(way, c) {
			return
		}
	}
	if len(g.ways) == maxWays {
		g.ways = g.ways[1:]
	}
	g.ways = append(g.ways, c)
	g.found++
}

// alike reports whether two collapses are nearly the same motion.
func alike(a, b *statics.Collapse) bool {
	for i := range a.Motions {
		for k := range 3 {
			if math.Abs(a.Motions[i].Velocity[k]-b.Motions[i].Velocity[k]) > 1e-3 || math.Abs(a.Motions[i].Spin[k]-b.Motions[i].Spin[k]) > 1e-3 {
				return false
			}
		}
	}
	return true
}

// hunt is a search for the worst situation of a group at one gust with one ballast.
type hunt struct {
	j       *job
	g       *group
	gust    float64
	ballast []float64
	bar     float64
	worst   fall // its ratio is the bar until something worse is found
	keep    bool // every fall below the first bar in falls, and not only what is worse than all before
	falls   []fall
	only    bool // to ask what is carried, and to follow nothing
	near    bool // to leave out what known ways to fall put far above the bar
	carried map[asked]carried

	// Of the direction that is looked at.
	a        *actions
	analysis *statics.Analysis
	sit      situation
	needs    float64
	loads    statics.Loads
}

// carried says up to which factor, and up to which gust, loads are known to be carried.
type carried struct{ factor, gust float64 }

// asked says which loads were tried.
type asked struct {
	start
	climate *climate
	push    int
	choice  string // of winds and masses
}

func (j *job) hunt(g *group, gust float64, ballast []float64, bar float64) *hunt {
	return &hunt{j: j, g: g, gust: gust, ballast: ballast, bar: bar, worst: fall{ratio: bar}, carried: map[asked]carried{}}
}

// tell works the worst situation out anew, so that what is said of it does not depend on
// what was tried before.
func (h *hunt) tell() error {
	w := &h.worst
	if !w.found {
		return nil
	}
	loads, analysis, system, err := h.j.togetherIn(h.g, w.sit, h.gust, h.ballast)
	if err != nil {
		return err
	}
	o, err := solved(analysis, loads)
	if err != nil {
		return err
	}
	w.outcome, w.ratio, w.words = o, ratio(o.Factor, h.j.needed(&w.sit)), o.Collapse.Words(system)
	return nil
}

// solved is the factor of loads with its proof.
func solved(a *statics.Analysis, l *statics.Loads) (statics.Outcome, error) {
	o, err := a.Solve(l, statics.AllLimits)
	if err == nil && !o.Certificate.OK {
		err = statics.ErrUnproven
	}
	return o, err
}

// face turns to one direction.
func (h *hunt) face(s setup, towards float64) (err error) {
	if h.a, err = h.j.actionsOn(h.g, s, towards, h.gust, h.ballast); err != nil {
		return err
	}
	h.analysis, _, err = h.j.systemOf(h.g, towards, h.ballast)
	h.sit = situation{setup: s, towards: towards}
	return err
}

// again looks into one situation.
func (h *hunt) again(s *situation) error {
	if err := h.face(s.setup, s.towards); err != nil {
		return err
	}
	h.sit.combine, h.needs = s.combine, h.j.needed(s)
	return h.follow(lead{s.pick, s.heavies, s.push, math.Inf(1), 0}, false)
}

// sweep tries a setup from every direction, with its leaves at every angle.
func (h *hunt) sweep(s setup, how effort) error {
	for _, s := range s.positions() {
		var faces []float64
		for _, b := range h.g.members {
			faces = append(faces, b.faces(s)...)
		}
		for _, towards := range s.directions(faces) {
			if err := h.face(s, towards); err != nil {
				return err
			}
			for h.sit.combine = range s.wind.combinations {
				h.needs = h.j.needed(&h.sit)
				if err := h.from(how); err != nil {
					return err
				}
			}
		}
	}
	return nil
}

// from tries one direction.
func (h *hunt) from(how effort) error {
	a, s := h.a, &h.sit
	for _, l := range a.leads(h.g, s) {
		if len(h.falls) >= manyFalls {
			return nil
		}
		if h.near && l.bound > nearly*h.worst.ratio*h.needs && !math.IsInf(l.bound, 1) {
			continue
		}
		begin := start{s.state, s.people, s.swing, s.towards, s.combine, l.from}
		if err := h.follow(l, !h.only && !h.g.tried[begin]); err != nil {
			return err
		}
		h.g.tried[begin] = true
	}
	if how == hinted {
		return nil
	}
	if a.choices() > maxChoices {
		if how == every {
			for _, l := range a.everyPush(h.g, s) {
				if err := h.follow(l, false); err != nil {
					return err
				}
			}
		}
		return nil
	}
	pick := make([]int, len(a.winds))
	for more := true; more; more = next(pick, a.winds) {
		for push := min(0, len(a.pushes)-1); push < len(a.pushes); push++ {
			l := a.none
			l.pick, l.push = slices.Clone(pick), push
			if err := h.follow(l, false); err != nil {
				return err
			}
		}
	}
	return nil
}

// curious is how far above the bar a way to fall is still worth knowing when it is explored.
const curious = 1.25

// mostTurns is how often the loads of one lead are changed to what drives a new way to fall most.
const mostTurns = 8

// follow looks into one choice of loads, unless it is carried at the bar. A lead that is to be
// explored is looked into for its way to fall all the same, unless that is one that is known.
func (h *hunt) follow(l lead, explore bool) error {
	const tie = 1e-7 // below a bound that known ways set
	s := &h.sit
	s.pick, s.heavies, s.push = l.pick, l.heavies, l.push
	bar := h.worst.ratio
	if h.keep || !h.near && bar > 0.95*h.bar && !math.IsInf(h.bar, 1) { // what is carried need not be asked at the next gust
		bar = h.bar
	}
	bar *= h.needs
	at := min(l.bound*(1-tie), bar)
	if explore {
		at = min(l.bound*(1-tie), curious*bar)
	}
	for range mostTurns {
		o, carried, err := h.factor(at)
		if err != nil || h.only || carried && at >= bar*(1-2*tie) {
			return err
		}
		if carried { // just below the bound of a known way, which is worse than all before
			h.a.loads(&h.loads, s)
			if o, carried, err = h.analysis.Seek(&h.loads, at*(1+10*tie)); carried { // it is no way of this group
				o, err = solved(h.analysis, &h.loads)
			}
			if err != nil {
				return err
			}
		}
		if q := ratio(o.Factor, h.needs); q < bar/h.needs*(1-1e-9) {
			f := fall{true, q, s.keep(), o, ""}
			if h.keep {
				h.falls = append(h.falls, f)
			} else {
				bar = q * h.needs
			}
			if q < h.worst.ratio {
				h.worst = f
			}
		}
		if o.Factor.Unbounded {
			return nil
		}
		way := o.Collapse
		h.g.remember(&way)
		least, changed := h.a.worsen(s, &o.Collapse)
		if !changed {
			return nil
		}
		at = least * (1 - tie)
	}
	return nil
}

// factor is that of the situation, or that it is carried at a factor.
func (h *hunt) factor(at float64) (o statics.Outcome, stands bool, err error) {
	s := &h.sit
	what := asked{start{s.state, s.people, s.swing, s.towards, s.combine, 0}, s.wind, s.push, s.choice()}
	if known, ok := h.carried[what]; ok && known.factor >= at && known.gust >= h.gust {
		return o, true, nil
	}
	h.a.loads(&h.loads, s)
	switch {
	case h.only:
		stands, err = h.analysis.Carries(&h.loads, min(at, far))
	case at >= far: // nothing is known about it
		o, err = solved(h.analysis, &h.loads)
	default:
		o, stands, err = h.analysis.Seek(&h.loads, at)
	}
	if stands {
		h.carried[what] = carried{at, h.gust}
	}
	return o, stands, err
}

// choice names the winds and masses of a situation of a group.
func (s *situation) choice() string {
	name := make([]byte, 0, 2*len(s.pick)+len(s.heavies))
	for _, k := range s.pick {
		name = append(name, byte(k), byte(k>>8))
	}
	for _, heavy := range s.heavies {
		if heavy {
			name = append(name, 1)
		} else {
			name = append(name, 0)
		}
	}
	return string(name)
}

// choices is how many combinations of wind and push there are.
func (a *actions) choices() int {
	n := max(1, len(a.pushes))
	for _, alternatives := range a.winds {
		if n *= max(1, len(alternatives)); n > maxChoices {
			return n
		}
	}
	return n
}

// lead is where a search starts: loads that are worst for a way to fall.
type lead struct {
	pick    []int
	heavies []bool
	push    int
	bound   float64 // on the factor; +Inf when no way to fall is known
	from    int     // index of the start
}

func (l *lead) same(o *lead) bool {
	return l.push == o.push && slices.Equal(l.pick, o.pick) && slices.Equal(l.heavies, o.heavies)
}

// leads has for every start the loads with the least bound over all known ways to fall, and
// after them what is worst for every other way that is nearly as bad.
func (a *actions) leads(g *group, s *situation) []lead {
	list := make([]lead, a.starts())
	for n := range list {
		list[n] = a.none
		list[n].from = n
		if len(a.first) > 0 {
			list[n].push = a.first[n]
		}
	}
	var others []lead
	least := math.Inf(1)
	for _, way := range g.ways {
		r := a.against(way, s.combination())
		left := a.left(way, s.combination(), r)
		for n := range a.starts() {
			l := lead{r.pick, r.heavies, r.push[n], bound(left, r.power[n]), n}
			least = min(least, l.bound)
			if l.bound < list[n].bound {
				list[n] = l
			}
			if l.bound < nearly*least {
				others = append(others, l)
			}
		}
	}
	for i := range others {
		if o := &others[i]; o.bound < nearly*least && !slices.ContainsFunc(list, func(l lead) bool { return l.same(o) }) {
			list = append(list, *o)
		}
	}
	return list
}

// everyPush has for every push, or for nobody leaning, the loads with the least bound over all
// known ways to fall.
func (a *actions) everyPush(g *group, s *situation) []lead {
	list := make([]lead, max(1, len(a.pushes)))
	for push := range list {
		list[push] = a.none
		if len(a.pushes) > 0 {
			list[push].push = push
		}
	}
	if len(a.pushes) == 0 {
		return list
	}
	for _, way := range g.ways {
		r := a.against(way, s.combination())
		left := a.left(way, s.combination(), r)
		for push := range list {
			power := r.wind + s.combination().People*a.leaning[push].power(way.Motions)
			if at := bound(left, power); at < list[push].bound {
				list[push].pick, list[push].heavies, list[push].bound = r.pick, r.heavies, at
			}
		}
	}
	return list
}

// nearly is how far above the least bound a way to fall is still looked into.
const nearly = 1.1

// togetherIn are the loads and the analysis of one situation.
func (j *job) togetherIn(g *group, s situation, gust float64, ballast []float64) (*statics.Loads, *statics.Analysis, *statics.Group, error) {
	a, err := j.actionsOn(g, s.setup, s.towards, gust, ballast)
	if err != nil {
		return nil, nil, nil, err
	}
	analysis, system, err := j.systemOf(g, s.towards, ballast)
	if err != nil {
		return nil, nil, nil, err
	}
	loads := &statics.Loads{}
	a.loads(loads, &s)
	return loads, analysis, system, nil
}

// separate are the limits that are shown beside the factor of a group: each is the factor
// in the same situation when nothing else could give.
var separate = []struct {
	only statics.Limit
	what string
}{
	{statics.TippingOnly, "overturning"},
	{statics.SlidingOnly, "sliding"},
	{statics.TurningOnly, "turning"},
	{statics.LinksOnly, "fastenings"},
	{statics.GuysOnly, "guys"},
}

// together checks a group.
func (j *job) together(g *group) {
	ballast := j.inPlaceOf(g)
	worst := fall{ratio: math.Inf(1)}
	var governs []situation // of each setup
	g.worsts, g.laid = map[standsIn]fall{}, ballast
	for _, s := range j.setups(g.members...) {
		w, err := j.worstTogether(g, s, s.gust, ballast, math.Inf(1), map[asked]carried{})
		if err != nil {
			j.unchecked(verdict.Standing, g.name, "standing together", err.Error(), "", g.at)
			return
		}
		if w.found {
			g.worsts[standsIn{s.state, s.people}] = w
			governs = append(governs, w.sit)
			if w.ratio < worst.ratio {
				worst = w
			}
		}
	}
	if !worst.found {
		return
	}
	needs, from := j.needed(&worst.sit), worst.sit.fromDeg()
	o := &worst.outcome
	c := verdict.Check{
		ID: id(verdict.Standing, g.name, "standing together"), Kind: verdict.Standing, Subject: g.name, What: "standing together",
		State: string(worst.sit.state), FromDeg: &from, Sense: verdict.AtLeast, Needs: &needs, Unit: "1", At: g.at.String(),
		Mechanism: worst.words, Source: "limit analysis of rigid bodies: the largest factor that ground, fastenings and guys can carry",
		Certificate: &verdict.Certificate{Residual: o.Certificate.Residual, Gap: o.Certificate.Gap},
	}
	switch {
	case o.Factor.Unbounded:
		c.Result, c.Why = verdict.Holds, "no multiple of these loads brings it about"
	case o.NotStanding:
		c.Has, c.Mechanism = ptr(0), "does not stand by itself: "+c.Mechanism
	default:
		c.Has = ptr(o.Factor.Value)
	}
	c.Cure = j.cureTogether(g, ballast, &worst)
	c.Working = j.workingTogether(g, &worst, ballast)
	j.add(c)
	st := &several{j: j, g: g, ballast: ballast}
	if !g.seated {
		for i, b := range g.members {
			if b.base == 0 {
				j.bearingRowUnder(b, j.weightUnder(g, i, ballast))
			}
			j.windRows(b, governs)
		}
	}
	j.limit(st)
	j.askStrengths(g, ballast, governs)
}

// workingTogether lists the loads, what carries them and how it falls.
func (j *job) workingTogether(g *group, w *fall, ballast []float64) []verdict.Step {
	loads, analysis, system, err := j.togetherIn(g, w.sit, w.sit.gust, ballast)
	if err != nil {
		return nil
	}
	var steps []verdict.Step
	at := 0
	for i, b := range g.members {
		winds, err := j.winds(b, w.sit.setup, w.sit.towards, w.sit.gust)
		if err != nil {
			return nil
		}
		var blows []blow
		for k, alternatives := range winds {
			blows = append(blows, alternatives[w.sit.pick[at+k]])
		}
		at += len(winds)
		steps = append(steps, j.windWorking(b, &w.sit, blows)...)
		for _, f := range loads.Dead {
			if f.Block == i {
				steps = append(steps, verdict.Step{Text: "weight on " + b.name + ": " + f.Name, Formula: "g · mass, at the end that makes it worse",
					Numbers: fmt.Sprintf("%.4g N at (%.3f, %.3f, %.3f) m", -f.F[2], f.At[0], f.At[1], f.At[2]), At: b.place(f.Name)})
			}
		}
	}
	if w.sit.push >= 0 {
		f := loads.Live[len(loads.Live)-1]
		steps = append(steps, verdict.Step{Text: f.Name + " on " + g.members[f.Block].name, Formula: "horizontal push, at the place and in the direction that make it worst",
			Numbers: fmt.Sprintf("(%.4g, %.4g, %.4g) N at (%.3f, %.3f, %.3f) m", f.F[0], f.F[1], f.F[2], f.At[0], f.At[1], f.At[2])})
	}
	o := &w.outcome
	factor := "no limit"
	if !o.Factor.Unbounded {
		factor = fmt.Sprintf("%.3f", o.Factor.Value)
	}
	for i, k := range g.system.Links {
		f := o.LinkForces[i]
		if math.Abs(f.Axial) < 1e-9*k.Shear {
			f.Axial = 0 // rounding
		}
		steps = append(steps, verdict.Step{Text: "fastening of " + k.Name, Formula: "pull / hold + shear / hold",
			Numbers: fmt.Sprintf("(%.4g + %.4g) / %.4g = %.3f at that factor", math.Abs(f.Axial), f.Shear, k.Shear, (math.Abs(f.Axial)+f.Shear)/k.Shear)})
	}
	for i, y := range g.system.Guys {
		steps = append(steps, verdict.Step{Text: "guy " + y.Name, Formula: "pull / what is counted on", Numbers: fmt.Sprintf("%.4g / %.4g N = %.3f at that factor", o.GuyForces[i], y.Limit, o.GuyForces[i]/y.Limit)})
	}
	for _, s := range separate {
		alone, err := analysis.Solve(loads, s.only)
		if err != nil || alone.Factor.Unbounded || !alone.Certificate.OK {
			continue
		}
		steps = append(steps, verdict.Step{Text: "if only " + s.what + " could bring it down", Formula: "the same loads, every other limit taken away",
			Numbers: fmt.Sprintf("%.3f: %s", alone.Factor.Value, alone.Collapse.Words(system))})
	}
	return append(steps, verdict.Step{Text: "factor of the group", Formula: "largest factor f with every body in equilibrium under dead + f · live",
		Numbers: fmt.Sprintf("%s; forces balance to %.1e, and the collapse proves it to %.1e", factor, o.Certificate.Residual, o.Certificate.Gap),
		Source:  "static and kinematic theorems of limit analysis"})
}
