package statics

import (
	"math"
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
	p    *programme
	m    int
	eq   int       // rows that are equations, before the caps
	base []int     // column that is basic in each row
	in   []int     // row in which a column is basic, or -1
	inv  []float64 // inverse of the basis, m by m, row by row
	size []float64 // squared length of each row of inv
	cost []float64
	left []float64 // reduced costs of the columns that are not basic

	b, x         []float64 // right-hand side and basic values
	row, col     []float64 // of the tableau
	work, motion []float64
	filled       []int
	since        int // pivots since the basis was factored
	pivots       int
}

const (
	feasible   = 1e-10 // share of the load by which a force may be negative
	smallPivot = 1e-9  // share of its row that counts as zero
	slackness  = 1e-9  // reduced cost that the ratio test gives away
	refactor   = 100   // pivots between factorings
)

func newSimplex(p *programme) *simplex {
	m, n := p.rows(), len(p.generators)
	vectors := make([]float64, 6*m+3*(n+m))
	take := func(n int) []float64 {
		v := vectors[:n:n]
		vectors = vectors[n:]
		return v
	}
	s := &simplex{
		p: p, m: m, eq: 6 * p.blocks,
		base: make([]int, m), in: make([]int, n+m), inv: make([]float64, m*m),
		size: take(m), b: take(m), x: take(m), col: take(m), work: take(m), motion: take(m),
		cost: take(n + m), left: take(n + m), row: take(n + m),
	}
	s.reset(1)
	return s
}

// reset starts over without forces, with other costs.
func (s *simplex) reset(seed uint64) {
	for j := range s.cost {
		// Steps of the golden section spread evenly and never repeat.
		f := math.Mod(float64(j+1)*0.6180339887498949*float64(2*seed-1), 1)
		s.cost[j] = 1 + f
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
	copy(s.size, o.size)
	copy(s.cost, o.cost)
	copy(s.left, o.left)
	s.since = o.since
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
	for seed := uint64(1); seed <= 4; seed++ {
		if seed > 1 {
			s.reset(seed)
		}
		if blocked, ok = s.run(); ok {
			return blocked, true
		}
	}
	return false, false
}

func (s *simplex) run() (blocked, ok bool) {
	if s.since > refactor {
		s.factor()
	}
	s.solve()
	settled := false
	for limit := s.pivots + 60*s.m + 2000; s.pivots < limit; {
		r := s.leaving()
		if r < 0 {
			if settled || s.refine() {
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
		if v := x * x / s.size[i]; v > best {
			r, best = i, v
		}
	}
	return r
}

// tableau writes to s.row the products of y with all columns that are not basic.
func (s *simplex) tableau(y []float64) {
	clear(s.row)
	p := s.p
	n := len(p.generators)
	for i := range p.joints {
		j := &p.joints[i]
		u := j.velocity(y)
		if j.cap < 0 {
			if u == (Vec{}) {
				continue
			}
			for g := j.first; g < j.last; g++ {
				k := &p.generators[g].k
				s.row[g] = u[0]*k[0] + u[1]*k[1] + u[2]*k[2]
			}
			continue
		}
		z := y[s.eq+j.cap]
		for g := j.first; g < j.last; g++ {
			q := &p.generators[g]
			s.row[g] = u[0]*q.k[0] + u[1]*q.k[1] + u[2]*q.k[2] + z*q.cap
		}
	}
	copy(s.row[n+s.eq:], y[s.eq:])
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
	s.tableau(s.inv[r*s.m : (r+1)*s.m])
	small := smallPivot * math.Sqrt(s.size[r])
	step := math.Inf(1)
	for j, a := range s.row {
		if a *= sign; a < -small && s.in[j] < 0 && !s.artificial(j) {
			step = min(step, (s.left[j]+slackness)/-a)
		}
	}
	if math.IsInf(step, 1) {
		return -1
	}
	q, most := -1, 0.0
	for j, a := range s.row {
		if a *= sign; a < -small && s.in[j] < 0 && !s.artificial(j) && -a > most && s.left[j] <= step*-a {
			q, most = j, -a
		}
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
	for j, a := range s.row {
		if a == 0 || s.in[j] >= 0 {
			continue
		}
		if s.left[j] -= step * a; s.left[j] < slackness {
			s.shift(j)
		}
	}
	s.left[q] = 0
	if s.left[out] = -step; s.left[out] < slackness {
		s.shift(out)
	}
	value := s.x[r] / s.col[r]
	for i, a := range s.col {
		s.x[i] -= value * a
	}
	s.x[r] = value
	s.pivot(r, q)
	s.pivots++
}

// shift replaces the cost of a column, so that its reduced cost is positive again.
func (s *simplex) shift(j int) {
	s.cost[j] += slackness*s.spread(j) - s.left[j]
	s.left[j] = slackness * s.spread(j)
}

// spread is between 1 and 2, different for every column.
func (s *simplex) spread(j int) float64 {
	return 1 + math.Mod(float64(j+1)*0.6180339887498949, 1)
}

// pivot replaces the basic column of row r by q, whose tableau column is s.col.
func (s *simplex) pivot(r, q int) {
	m := s.m
	row := s.inv[r*m : (r+1)*m]
	scale := 1 / s.col[r]
	s.filled = s.filled[:0]
	square := 0.0
	for k, v := range row {
		if v != 0 {
			v *= scale
			row[k] = v
			square += v * v
			s.filled = append(s.filled, k)
		}
	}
	s.size[r] = square
	dense := 2*len(s.filled) > m
	for i, a := range s.col {
		if a == 0 || i == r {
			continue
		}
		other := s.inv[i*m : (i+1)*m]
		square := 0.0
		if dense {
			other := other[:len(row)]
			for k, v := range row {
				w := other[k] - a*v
				other[k] = w
				square += w * w
			}
		} else {
			for _, k := range s.filled {
				other[k] -= a * row[k]
			}
			for _, w := range other {
				square += w * w
			}
		}
		s.size[i] = square
	}
	s.in[s.base[r]] = -1
	s.base[r], s.in[q] = q, r
	s.since++
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
	s.tableau(y)
	for j := range s.left {
		if s.in[j] >= 0 {
			s.left[j] = 0
			continue
		}
		if s.left[j] = s.cost[j] - s.row[j]; s.left[j] < slackness {
			s.shift(j)
		}
	}
}

// solve computes the basic values from the inverse.
func (s *simplex) solve() {
	for i := range s.m {
		v := 0.0
		for k, w := range s.inv[i*s.m : (i+1)*s.m] {
			v += w * s.b[k]
		}
		s.x[i] = v
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
				s.subtract(rest, s.base[i], x)
			}
		}
		for i := range s.m {
			for k, w := range s.inv[i*s.m : (i+1)*s.m] {
				s.x[i] += w * rest[k]
			}
		}
	}
	return s.leaving() < 0
}

// subtract takes x times column q from v.
func (s *simplex) subtract(v []float64, q int, x float64) {
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

// provesBlocked refines row r of the inverse into a motion and checks that every joint resists
// or allows it while the load drives it.
func (s *simplex) provesBlocked(r int, sign float64) bool {
	y, n := s.motion, len(s.p.generators)
	copy(y, s.inv[r*s.m:(r+1)*s.m])
	for range 2 {
		// What y leaves of row r of the unit matrix, times the inverse.
		for i, j := range s.base {
			e := 0.0
			if i == r {
				e = 1
			}
			s.work[i] = e - s.product(y, j)
		}
		for i, e := range s.work {
			if e != 0 {
				for k, v := range s.inv[i*s.m : (i+1)*s.m] {
					y[k] += e * v
				}
			}
		}
	}
	size, power := 0.0, 0.0
	for k := range y {
		y[k] *= sign
		size += y[k] * y[k]
		power += y[k] * s.b[k]
	}
	if power > -feasible/2 {
		return false
	}
	small := 2 * smallPivot * math.Sqrt(size)
	s.tableau(y)
	for j, a := range s.row {
		if a < -small && s.in[j] < 0 && (j < n || !s.artificial(j)) {
			return false
		}
	}
	return true
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
