package statics

import (
	"math"
	"math/bits"
	"slices"
)

// simplex finds joint forces for a given load, or a motion that shows there are none, by
// the revised dual simplex method with an explicit inverse of the basis.
//
// The question has no objective, so each generator is given an arbitrary positive cost.
// Then no force at all is a dual feasible start, whatever the load, and stays one: another
// load changes the right-hand side alone and a few pivots from the last basis answer it.
// Irregular costs make every step a strict gain, so it does not cycle where contacts
// are redundant or loads symmetric; and a cost that rounding has spoilt can be replaced
// by another (Harris's ratio test with shifting) without anything to clean up afterwards.
//
// Columns are numbered: generators first, then one for each row, which is zero for
// an equation and the unused rest of a cap.
type simplex struct {
	p     *programme
	m     int
	eq    int       // rows that are equations, before the caps
	base  []int     // column that is basic in each row
	in    []int     // row in which a column is basic, or -1
	inv   []float64 // inverse of the basis, m by m, row by row
	size  []float64 // squared length of each row of inv
	order []int     // rows, as amiss goes through them
	cost  []float64
	left  []float64 // reduced costs; +Inf for columns that cannot enter
	on    []uint32  // generators of each joint that are in use; the others are brought in by widen

	b, x         []float64 // right-hand side and basic values
	slope        []float64 // change of x with the parameter
	row, col     []float64 // of the tableau
	work, motion []float64
	rests        []bool // blocks
	moved        []int  // joints at which the row of the tableau is not zero
	list         []int
	since        int // pivots since the basis was factored
	pivots       int
}

const (
	feasible   = 1e-11 // share of the load by which a force may be negative
	noise      = 1e-15 // share of its row below which a basic value is rounding
	smallPivot = 1e-9  // share of its row that counts as zero
	slackness  = 1e-4  // reduced cost that the ratio test gives away
	refactor   = 150   // pivots between factorings
	speck      = 1e-14 // an entry of the inverse that is rounding: its rows have length 1 or more
	tiny       = 1e-30 // least squared length of a row of the inverse
)

func newSimplex(p *programme) *simplex {
	m, n := p.rows(), len(p.generators)
	vectors := make([]float64, 7*m+3*(n+m))
	take := func(n int) []float64 {
		v := vectors[:n:n]
		vectors = vectors[n:]
		return v
	}
	s := &simplex{
		p: p, m: m, eq: 6 * p.blocks,
		base: make([]int, m), in: make([]int, n+m), inv: make([]float64, m*m), order: make([]int, m), on: make([]uint32, len(p.joints)), rests: make([]bool, p.blocks),
		size: take(m), b: take(m), x: take(m), slope: take(m), col: take(m), work: take(m), motion: take(m),
		cost: take(n + m), left: take(n + m), row: take(n + m),
	}
	for i := range s.order {
		s.order[i] = i
	}
	return s
}

// reset starts over without forces, with other costs. The first seed begins with every fourth corner of
// friction and shear, the others with all.
func (s *simplex) reset(seed uint64) {
	for j := range s.cost {
		s.cost[j] = spread(j, seed)
	}
	for i := range s.on {
		if s.on[i] = s.p.joints[i].all(); seed == 1 {
			s.on[i] &= s.p.joints[i].few()
		}
	}
	s.identity()
	s.price()
}

// identity makes the columns of the rows basic.
func (s *simplex) identity() {
	clear(s.inv)
	for j := range s.in {
		s.in[j] = -1
	}
	n := len(s.in) - s.m
	for i := range s.m {
		s.inv[i*s.m+i], s.size[i] = 1, 1
		s.base[i], s.in[n+i] = n+i, i
	}
	s.since = 0
}

func (s *simplex) copyFrom(o *simplex) {
	copy(s.base, o.base)
	copy(s.in, o.in)
	copy(s.inv, o.inv)
	copy(s.order, o.order)
	copy(s.on, o.on)
	copy(s.size, o.size)
	copy(s.cost, o.cost)
	copy(s.left, o.left)
	s.since, s.pivots = o.since, o.pivots
}

// artificial reports whether a column stands for an equation and so must be zero.
func (s *simplex) artificial(j int) bool {
	j -= len(s.p.generators)
	return j >= 0 && j < s.eq
}

// restore makes the basic values for the right-hand side s.b feasible. It ends with them in
// s.x, or with blocked true and a motion y in s.motion such that y·G >= 0 for every
// generator while y·b < 0. ok is false when it gave up.
func (s *simplex) restore() (blocked, ok bool) {
	if blocked, ok = s.run(); ok {
		return blocked, true
	}
	s.reset(5)
	return s.run()
}

func (s *simplex) run() (blocked, ok bool) {
	if s.since > refactor {
		s.factor()
	}
	s.solve()
	settled := false
	for limit := s.pivots + 20*s.m + 500; s.pivots < limit; {
		r := s.leaving()
		if r < 0 {
			if settled || s.refine() {
				s.polish()
				return false, true
			}
			settled = true
			if s.since > 0 {
				s.factor()
			}
			s.solve()
			continue
		}
		sign := 1.0
		if s.x[r] > 0 {
			sign = -1
		}
		q := s.entering(r, sign)
		if q < 0 {
			if s.widen(r, sign) {
				continue
			}
			if s.provesBlocked(r, sign) {
				return true, true
			}
			if s.since == 0 {
				return false, false
			}
			s.factor()
			s.solve()
			continue
		}
		s.column(q)
		if math.Abs(s.col[r]-s.row[q]) > 1e-7*math.Abs(s.row[q])+1e-12 && s.since > 0 {
			s.factor()
			s.solve()
			continue
		}
		s.exchange(r, q)
		if s.since > refactor {
			s.factor()
			s.solve()
		}
	}
	return false, false
}

// leaving is the row that is farthest from feasible, by dual steepest edge; -1 when none is.
func (s *simplex) leaving() int {
	r, best := -1, 0.0
	for i, x := range s.x {
		if x > -feasible && (x < feasible || !s.artificial(s.base[i])) {
			continue
		}
		if v := x * x / s.size[i]; v > best && v > noise*noise {
			r, best = i, v
		}
	}
	return r
}

// tableau writes to s.row the products of y with the columns in use, or with all, of the joints that it moves,
// which it lists in s.moved, and with those of the caps. Joints that y hardly moves count as not moved.
func (s *simplex) tableau(y []float64, all bool) {
	p := s.p
	s.moved = s.moved[:0]
	still := 1e-14 * math.Sqrt(inner(y, y))
	for b := range s.rests {
		v := (*[6]float64)(y[6*b:])
		s.rests[b] = within(still, v[0], v[1], v[2]) && within(still, v[3], v[4], v[5])
	}
	for i := range p.joints {
		j := &p.joints[i]
		z := 0.0
		if j.cap >= 0 {
			z = y[s.eq+j.cap]
		}
		if z == 0 && s.rests[j.a/6] && (j.b < 0 || s.rests[j.b/6]) {
			continue
		}
		u := j.velocity(y)
		if within(still, u[0], u[1], u[2]) && math.Abs(z) <= still {
			continue
		}
		s.moved = append(s.moved, i)
		on := s.on[i]
		if all {
			on = j.all()
		}
		row := s.row[j.first:j.last]
		generators := p.generators[j.first:j.last][:len(row)]
		for ; on != 0; on &= on - 1 {
			if g := bits.TrailingZeros32(on); g < len(row) {
				q := &generators[g]
				row[g] = u[0]*q.k[0] + u[1]*q.k[1] + u[2]*q.k[2] + z*q.cap
			}
		}
	}
	copy(s.row[len(p.generators)+s.eq:], y[s.eq:])
}

// within reports whether three values are at most that large. The function max is slower, as it asks for NaN.
func within(most, a, b, c float64) bool {
	return math.Abs(a) <= most && math.Abs(b) <= most && math.Abs(c) <= most
}

// whole is tableau with the columns of all joints; those of equations count for nothing.
func (s *simplex) whole(y []float64, all bool) {
	clear(s.row)
	s.tableau(y, all)
}

// all is every generator of the joint.
func (j *joint) all() uint32 { return 1<<(j.last-j.first) - 1 }

// few is those generators that a search starts with: the axes of a polygon.
func (j *joint) few() uint32 {
	if n := j.last - j.first; n > sides {
		return 0x1111<<(n-sides) | (1<<(n-sides) - 1) // pull and push come before shear
	} else if n == sides {
		return 0x1111
	}
	return math.MaxUint32
}

// widen brings into use, of the columns that could enter for row r, the steepest of each joint. It reports whether
// there is any.
func (s *simplex) widen(r int, sign float64) bool {
	s.tableau(s.inv[r*s.m:(r+1)*s.m], true)
	small := smallPivot * math.Sqrt(s.size[r])
	found := false
	for _, i := range s.moved {
		j := &s.p.joints[i]
		most, at := small, -1
		for off := j.all() &^ s.on[i]; off != 0; off &= off - 1 {
			g := bits.TrailingZeros32(off)
			if a := -sign * s.row[j.first+g]; a > most {
				most, at = a, g
			}
		}
		if at >= 0 {
			s.on[i] |= 1 << at
			found = true
		}
	}
	if found {
		s.price()
	}
	return found
}

// velocity is how fast the sides of the joint part, along its axes.
func (j *joint) velocity(y []float64) (u Vec) {
	a := (*[6]float64)(y[j.a:])
	for i := range u {
		r := &j.rows[i]
		u[i] = r[0]*a[0] + r[1]*a[1] + r[2]*a[2] + r[3]*a[3] + r[4]*a[4] + r[5]*a[5]
	}
	if j.b >= 0 {
		b := (*[6]float64)(y[j.b:])
		for i := range u {
			r := &j.back[i]
			u[i] += r[0]*b[0] + r[1]*b[1] + r[2]*b[2] + r[3]*b[3] + r[4]*b[4] + r[5]*b[5]
		}
	}
	return u
}

// entering is the column that takes the place of row r, whose value times sign is too low;
// -1 when there is none. Of those that reach their bound at about the same step it takes
// the one with the largest pivot (Harris).
func (s *simplex) entering(r int, sign float64) int {
	s.tableau(s.inv[r*s.m:(r+1)*s.m], false)
	small := smallPivot * math.Sqrt(s.size[r])
	step := math.Inf(1)
	s.list = s.list[:0]
	for _, i := range s.moved {
		first := s.p.joints[i].first
		for on := s.on[i]; on != 0; on &= on - 1 {
			k := first + bits.TrailingZeros32(on)
			if a := -sign * s.row[k]; a > small && s.left[k] <= step*a {
				step = min(step, (s.left[k]+slackness)/a)
				s.list = append(s.list, k)
			}
		}
	}
	for k := len(s.p.generators) + s.eq; k < len(s.row); k++ {
		if a := -sign * s.row[k]; a > small && s.left[k] <= step*a {
			step = min(step, (s.left[k]+slackness)/a)
			s.list = append(s.list, k)
		}
	}
	q, most := -1, 0.0
	for _, j := range s.list {
		if a := -sign * s.row[j]; a > most && s.left[j] <= step*a {
			q, most = j, a
		}
	}
	if q >= 0 && math.IsInf(s.left[q], 1) {
		return -1
	}
	return q
}

// column writes the tableau column of q to s.col.
func (s *simplex) column(q int) {
	m, n := s.m, len(s.p.generators)
	if q >= n {
		for i := range m {
			s.col[i] = s.inv[i*m+q-n]
		}
		return
	}
	j, a, b, cap := s.entries(q)
	for i := range m {
		row := s.inv[i*m : (i+1)*m]
		r := (*[6]float64)(row[j.a:])
		v := a[0]*r[0] + a[1]*r[1] + a[2]*r[2] + a[3]*r[3] + a[4]*r[4] + a[5]*r[5]
		if j.b >= 0 {
			r := (*[6]float64)(row[j.b:])
			v += b[0]*r[0] + b[1]*r[1] + b[2]*r[2] + b[3]*r[3] + b[4]*r[4] + b[5]*r[5]
		}
		if j.cap >= 0 {
			v += cap * row[s.eq+j.cap]
		}
		s.col[i] = v
	}
}

// entries is the column of generator q: the rows of its two blocks, and of its cap.
func (s *simplex) entries(q int) (j *joint, a, b [6]float64, cap float64) {
	g := &s.p.generators[q]
	j = &s.p.joints[g.joint]
	for i, k := range g.k {
		if k == 0 {
			continue
		}
		for c := range 6 {
			a[c] += k * j.rows[i][c]
			b[c] += k * j.back[i][c]
		}
	}
	return j, a, b, g.cap
}

// exchange makes q basic in row r. s.row and s.col hold its row and column.
func (s *simplex) exchange(r, q int) {
	out := s.base[r]
	step := s.left[q] / s.row[q]
	s.left[q] = math.Inf(1)
	for _, i := range s.moved {
		first := s.p.joints[i].first
		for on := s.on[i]; on != 0; on &= on - 1 {
			k := first + bits.TrailingZeros32(on)
			if s.left[k] -= step * s.row[k]; s.left[k] < slackness {
				s.shift(k)
			}
		}
	}
	for k := len(s.p.generators) + s.eq; k < len(s.row); k++ {
		if s.left[k] -= step * s.row[k]; s.left[k] < slackness {
			s.shift(k)
		}
	}
	if !s.artificial(out) {
		if s.left[out] = math.Abs(step); s.left[out] < slackness {
			s.shift(out)
		}
	}
	value, slope := s.x[r]/s.col[r], s.slope[r]/s.col[r]
	for i, a := range s.col {
		s.x[i] -= value * a
		s.slope[i] -= slope * a
	}
	s.x[r], s.slope[r] = value, slope
	s.pivot(r, q)
	s.pivots++
}

// shift replaces the cost of a column, so that its reduced cost is positive again. It is rare, and
// kept out of the loops that call it so that they stay in registers.
//
//go:noinline
func (s *simplex) shift(j int) {
	left := slackness * spread(j, 1)
	s.cost[j] += left - s.left[j]
	s.left[j] = left
}

// spread is between 1 and 2, by steps of the golden section, which never meet.
func spread(j int, seed uint64) float64 {
	steps := (uint64(j) + 1) * (2*seed - 1) * 0x9E3779B97F4A7C15
	return 1 + float64(steps>>11)/(1<<53)
}

// pivot replaces the basic column of row r by q, whose tableau column is s.col.
func (s *simplex) pivot(r, q int) {
	m := s.m
	row := s.inv[r*m : (r+1)*m]
	scale := 1 / s.col[r]
	s.list = s.list[:0]
	square := 0.0
	for k, v := range row {
		if v *= scale; math.Abs(v) < speck {
			row[k] = 0
			continue
		}
		row[k] = v
		square += v * v
		s.list = append(s.list, k)
	}
	s.size[r] = square
	dense := 3*len(s.list) > 2*m
	for i, a := range s.col {
		if math.Abs(a) < speck || i == r {
			continue
		}
		other := s.inv[i*m : (i+1)*m][:len(row)]
		if dense {
			s.size[i] = subtract(other, row, a)
			continue
		}
		square := s.size[i]
		for _, k := range s.list {
			v := other[k]
			w := v - a*row[k]
			other[k] = w
			square += (w - v) * (w + v)
		}
		s.size[i] = max(square, tiny)
	}
	s.in[s.base[r]] = -1
	s.base[r], s.in[q] = q, r
	s.since++
}

// subtract takes a times v from w, and returns the squared length of what is left. It has two sums, so that no
// square waits for the one before.
func subtract(w, v []float64, a float64) float64 {
	var p, q float64
	v = v[:len(w)]
	for len(w) >= 2 && len(v) >= 2 {
		x, y := w[0]-a*v[0], w[1]-a*v[1]
		w[0], w[1] = x, y
		p += x * x
		q += y * y
		w, v = w[2:], v[2:]
	}
	if len(w) > 0 && len(v) > 0 {
		w[0] -= a * v[0]
		p += w[0] * w[0]
	}
	return p + q
}

// factor inverts the basis anew. A column that depends on the others is left out.
func (s *simplex) factor() {
	n := len(s.p.generators)
	basic := slices.Clone(s.base)
	slices.Sort(basic)
	s.identity()
	stays := make([]bool, s.m) // rows whose own column is basic
	for _, q := range basic {
		if q >= n {
			stays[q-n] = true
		}
	}
	for _, q := range basic {
		if q >= n {
			break
		}
		s.column(q)
		r, most := -1, smallPivot
		for i, a := range s.col {
			if a = math.Abs(a); a > most && s.base[i] == n+i && !stays[i] {
				r, most = i, a
			}
		}
		if r >= 0 {
			s.pivot(r, q)
		}
	}
	s.since = 0
	s.price()
}

// price computes all reduced costs from the basis.
func (s *simplex) price() {
	y := s.work
	clear(y)
	for i, j := range s.base {
		if c := s.cost[j]; c != 0 && !s.artificial(j) {
			for k, v := range s.inv[i*s.m : (i+1)*s.m] {
				y[k] += c * v
			}
		}
	}
	s.whole(y, false)
	price := func(j int) {
		if s.in[j] >= 0 {
			return
		}
		if s.left[j] = s.cost[j] - s.row[j]; s.left[j] < slackness {
			s.shift(j)
		}
	}
	for j := range s.left {
		s.left[j] = math.Inf(1)
	}
	for i, on := range s.on {
		for ; on != 0; on &= on - 1 {
			price(s.p.joints[i].first + bits.TrailingZeros32(on))
		}
	}
	for j := len(s.p.generators) + s.eq; j < len(s.left); j++ {
		price(j)
	}
}

// amiss counts the values that a right-hand side makes infeasible, about the pivots that are ahead,
// up to a number. Rows that were infeasible before come first, so that mostly few are looked at.
func (s *simplex) amiss(b []float64, most int) (n int) {
	for k, i := range s.order {
		x := inner(s.inv[i*s.m:(i+1)*s.m], b)
		if x < -feasible || x > feasible && s.artificial(s.base[i]) {
			s.order[n], s.order[k] = i, s.order[n]
			if n++; n == most {
				break
			}
		}
	}
	return n
}

// solve computes the basic values from the inverse.
func (s *simplex) solve() { s.times(s.b, s.x) }

// inner has four sums, so that no product waits for the one before.
func inner(a, b []float64) float64 {
	var p, q, r, s float64
	b = b[:len(a)]
	for len(a) >= 4 && len(b) >= 4 {
		p += a[0] * b[0]
		q += a[1] * b[1]
		r += a[2] * b[2]
		s += a[3] * b[3]
		a, b = a[4:], b[4:]
	}
	for k, v := range a {
		p += v * b[k]
	}
	return p + q + (r + s)
}

// times writes the inverse times v.
func (s *simplex) times(v, to []float64) {
	for i := range to {
		to[i] = inner(s.inv[i*s.m:(i+1)*s.m], v)
	}
}

// refine corrects the basic values by what they leave of the right-hand side. It reports
// whether that was little and they are still feasible.
func (s *simplex) refine() bool {
	rest := s.work
	for range 2 {
		copy(rest, s.b)
		for i, x := range s.x {
			if x != 0 {
				s.take(rest, s.base[i], x)
			}
		}
		most := 0.0
		for _, v := range rest {
			most = max(most, math.Abs(v))
		}
		if most < 1e-15 {
			break
		}
		s.times(rest, s.col)
		for i, v := range s.col {
			s.x[i] += v
		}
	}
	return s.leaving() < 0
}

// polish does away with basic values that are below zero by rounding. Where a row of the inverse is long, a
// change of the right-hand side within its rounding moves that value to zero; it moves the others along.
// Leaving it out instead would leave the value itself, which may be a million times more.
func (s *simplex) polish() {
	for range s.m {
		r, least := -1, feasible
		for i, x := range s.x {
			if s.artificial(s.base[i]) {
				x = -math.Abs(x)
			}
			if -x > least {
				r, least = i, -x
			}
		}
		if r < 0 {
			return
		}
		s.times(s.inv[r*s.m:(r+1)*s.m], s.col)
		by := s.x[r] / s.size[r]
		for i, v := range s.col {
			s.x[i] -= by * v
		}
		s.x[r] = 0
	}
}

// take takes x times column q from v.
func (s *simplex) take(v []float64, q int, x float64) {
	if n := len(s.p.generators); q >= n {
		v[q-n] -= x
		return
	}
	j, a, b, cap := s.entries(q)
	for i := range a {
		v[j.a+i] -= x * a[i]
	}
	if j.b >= 0 {
		for i := range b {
			v[j.b+i] -= x * b[i]
		}
	}
	if j.cap >= 0 {
		v[s.eq+j.cap] -= x * cap
	}
}

// provesBlocked reports whether row r of the inverse is a motion that the load drives and no
// joint stops.
func (s *simplex) provesBlocked(r int, sign float64) bool {
	if !s.releases(r, sign) {
		return false
	}
	power := inner(s.motion, s.b)
	return power < -feasible/2 && power*power > noise*noise*inner(s.motion, s.motion)/4
}

// releases refines row r of the inverse into a motion and reports whether no joint stops it.
func (s *simplex) releases(r int, sign float64) bool {
	y := s.motion
	copy(y, s.inv[r*s.m:(r+1)*s.m])
	// What y leaves of row r of the unit matrix, times the inverse.
	for i, j := range s.base {
		e := 0.0
		if i == r {
			e = 1
		}
		s.work[i] = e - s.product(y, j)
	}
	for i, e := range s.work {
		if math.Abs(e) > 1e-16 {
			for k, v := range s.inv[i*s.m : (i+1)*s.m] {
				y[k] += e * v
			}
		}
	}
	for k := range y {
		y[k] *= sign
	}
	small := 2 * smallPivot * math.Sqrt(inner(y, y))
	s.whole(y, true)
	for j, a := range s.row {
		if a < -small && s.in[j] < 0 {
			return false
		}
	}
	return true
}

// rise raises the parameter of the load dead + parameter·live from zero, which must be
// feasible now, up to top, by one pivot wherever a basic value would turn infeasible
// (parametric programming). It ends at top, or at a value that a motion, then in s.motion,
// stops. ok is false when it gave up.
func (s *simplex) rise(dead, live []float64, top float64) (at float64, stopped, ok bool) {
	const level = feasible * feasible // slopes below that share of their row are rounding
	s.times(dead, s.x)
	s.times(live, s.slope)
	for limit := s.pivots + 20*s.m + 500; s.pivots < limit; {
		next, within := math.Inf(1), feasible/10*(1+at)
		for i, v := range s.slope {
			if x, v := s.upward(i, v); v < 0 && v*v > level*s.size[i] {
				next = min(next, (x+within)/-v)
			}
		}
		r, best := -1, 0.0
		for i, v := range s.slope {
			x, v := s.upward(i, v)
			if v >= 0 || v*v <= level*s.size[i] || x > next*-v {
				continue
			}
			if v := v * v / s.size[i]; v > best {
				r, best = i, v
			}
		}
		if at = max(at, next); r < 0 || at >= top {
			return top, false, true
		}
		sign := 1.0
		if s.slope[r] > 0 {
			sign = -1
		}
		q := s.entering(r, sign)
		if q < 0 {
			if s.widen(r, sign) {
				continue
			}
			return at, true, s.releases(r, sign)
		}
		s.column(q)
		s.exchange(r, q)
		if s.since > refactor {
			s.factor()
			s.times(dead, s.x)
			s.times(live, s.slope)
		}
	}
	return 0, false, false
}

// upward is the value and slope of row i, of an equation with the sign that lets its slope
// fall.
func (s *simplex) upward(i int, slope float64) (x, v float64) {
	if slope > 0 && s.artificial(s.base[i]) {
		return -s.x[i], -slope
	}
	return s.x[i], slope
}

// product is y times column q.
func (s *simplex) product(y []float64, q int) float64 {
	if n := len(s.p.generators); q >= n {
		return y[q-n]
	}
	j, a, b, cap := s.entries(q)
	v := 0.0
	for i := range a {
		v += a[i] * y[j.a+i]
	}
	if j.b >= 0 {
		for i := range b {
			v += b[i] * y[j.b+i]
		}
	}
	if j.cap >= 0 {
		v += cap * y[s.eq+j.cap]
	}
	return v
}
