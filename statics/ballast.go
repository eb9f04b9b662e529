package statics

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"
)

// Place is where whole units of ballast may lie.
type Place struct {
	Unit float64 // kg, one unit
	Most int     // units that may lie there
}

// Need is what one collapse mechanism asks of the ballast: the counts n of every
// place must give Σ Gain[k]·n[k] >= Least. See [Collapse.Need].
type Need struct {
	Gain  []float64
	Least float64
}

// ErrSearch: the search was cut short. Counts that come with it meet every need, and fewer might do.
var ErrSearch = errors.New("search for the least ballast was cut short")

const (
	maxRounds = 100   // of new needs
	maxNodes  = 20000 // of the search for whole units, over all rounds
	maxPivots = 2000  // of one relaxation
)

// LeastUnits finds whole units of least total mass with which nothing falls short; of equal
// masses the one with the fewest units, and of those one whose fullest place holds least, to the
// lightest unit. Short lists the needs that are not met with the counts it is given (none: the counts
// are proven), each valid whatever the counts. ok is false when no counts meet the needs found.
//
// Each round solves the needs so far exactly, by branch and bound over linear
// relaxations, and asks again. As every need holds for all counts, no round passes over
// the answer, so the first counts that nothing is short of are the least. Where that takes too long,
// every place gets the same. The error wraps [ErrValue], [ErrSearch] or that of short.
func LeastUnits(places []Place, short func(counts []int) ([]Need, error)) (counts []int, ok bool, err error) {
	for k, p := range places {
		if !usable(p.Unit) || p.Unit <= 0 || p.Most < 0 {
			return nil, false, fmt.Errorf("place %d, %d units of %g kg: %w", k, p.Most, p.Unit, ErrValue)
		}
	}
	var needs []Need
	for left, round := maxNodes, 0; left > 0 && round < maxRounds; round++ {
		// A round takes half of what is left, so that there is some for the next.
		s := newSearch(places, needs, max(left/2, fewNodes))
		lo, hi := make([]int, len(places)), make([]int, len(places))
		for k, p := range places {
			hi[k] = p.Most
		}
		s.branch(lo, hi)
		left -= s.nodes
		var cut error
		if s.lost || s.nodes > s.most {
			cut = ErrSearch
		}
		if s.counts == nil {
			return nil, false, cut
		}
		left -= s.even()
		more, err := short(s.counts)
		if err != nil {
			return nil, false, err
		}
		if len(more) == 0 {
			return s.counts, true, cut
		}
		for i := range more {
			n := &more[i]
			if len(n.Gain) != len(places) || !usable(n.Least) || !usable(n.Gain...) {
				return nil, false, fmt.Errorf("need of %g from %g: %w", n.Least, n.Gain, ErrValue)
			}
			// Within rounding these counts may seem to meet the need; they do not.
			if sum, scale := n.at(s.counts); sum >= -rounding*scale {
				n.Least += sum + 2*rounding*scale
			}
		}
		needs = append(needs, sharpest(more, s.counts)...)
	}
	return alike(places, short)
}

// alike finds the least mass with which nothing falls short when every place holds the same, as far as it
// has room.
func alike(places []Place, short func(counts []int) ([]Need, error)) (counts []int, ok bool, err error) {
	full := make([]int, len(places))
	for k, p := range places {
		full[k] = p.Most
	}
	step, hi := steps(places, full)
	lo := 0
	for try := hi; ; try = (lo + hi) / 2 {
		tried := make([]int, len(places))
		for k, p := range places {
			tried[k] = p.holds(float64(try) * step)
		}
		missed, err := short(tried)
		switch {
		case err != nil:
			return nil, false, err
		case len(missed) == 0:
			counts, hi = tried, try
		case try == hi:
			return nil, false, ErrSearch
		default:
			lo = try
		}
		if hi-lo <= 1 {
			return counts, true, ErrSearch
		}
	}
}

// sharpest leaves out those of some needs that another implies, which counts miss by more.
func sharpest(needs []Need, counts []int) (list []Need) {
	missed := func(n *Need) float64 {
		sum, scale := n.at(counts)
		return -sum / max(scale, math.SmallestNonzeroFloat64)
	}
	slices.SortStableFunc(needs, func(a, b Need) int { return cmp.Compare(missed(&b), missed(&a)) })
	for i := range needs {
		if !slices.ContainsFunc(list, func(n Need) bool { return n.implies(&needs[i]) }) {
			list = append(list, needs[i])
		}
	}
	return list
}

// implies reports whether all counts that meet n meet another need.
func (n *Need) implies(other *Need) bool {
	if n.Least <= 0 || other.Least <= 0 {
		return false
	}
	by := other.Least / n.Least
	for k, g := range n.Gain {
		if other.Gain[k] < by*g {
			return false
		}
	}
	return true
}

// fewNodes is what a round may always take.
const fewNodes = 200

// rounding is the share of its terms below which a need counts as met.
const rounding = 1e-9

// at is what the counts give beyond the need, and the size of the terms in it.
func (n *Need) at(counts []int) (sum, scale float64) {
	sum, scale = -n.Least, math.Abs(n.Least)
	for k, g := range n.Gain {
		sum += g * float64(counts[k])
		scale += math.Abs(g) * float64(counts[k])
	}
	return sum, scale
}

func (n *Need) met(counts []int) bool {
	sum, scale := n.at(counts)
	return sum >= -rounding*scale
}

// search is the branch and bound of one round.
type search struct {
	places []Place
	needs  []Need
	cost   []float64 // of one unit: its mass, and a trace that prefers fewer units
	step   float64   // that every cost is a whole number of, or zero
	best   float64   // cost of counts
	counts []int
	floor  []int // that counts are not brought below
	nodes  int
	most   int  // nodes
	lost   bool // a relaxation did not end
}

func newSearch(places []Place, needs []Need, most int) search {
	s := search{places: places, needs: needs, most: most, best: math.Inf(1), cost: make([]float64, len(places)), floor: make([]int, len(places))}
	heaviest := 0.0
	for _, p := range places {
		heaviest = max(heaviest, p.Unit)
	}
	for k, p := range places {
		s.cost[k] = p.Unit + 1e-7*heaviest
		if k == 0 {
			s.step = s.cost[k]
		} else if s.cost[k] != s.step {
			s.step = 0
		}
	}
	return s
}

// whole raises a bound to the next cost that whole units can have.
func (s *search) whole(bound float64) float64 {
	if s.step > 0 {
		return s.step * math.Ceil(bound/s.step-1e-6)
	}
	return bound
}

func (s *search) branch(lo, hi []int) {
	if s.nodes++; s.nodes > s.most {
		return
	}
	x, bound, ok := s.relax(lo, hi)
	if !ok || s.whole(bound) >= s.best*(1-1e-12) {
		return
	}
	up := s.roundUp(x)
	if up != nil {
		if cost := s.total(up); cost < s.best*(1-1e-12) {
			s.best, s.counts = cost, up
		}
	}
	// Branch on the place that is furthest from whole; where all are whole and yet, by
	// rounding, a need is missed, on any that can still differ.
	at, off := -1, 1e-7
	for k, v := range x {
		if d := math.Abs(v - math.Round(v)); d > off {
			at, off = k, d
		}
	}
	for k := 0; at < 0 && up == nil && k < len(x); k++ {
		if lo[k] < hi[k] {
			at = k
		}
	}
	if at < 0 {
		return
	}
	floor := min(int(math.Floor(x[at])), hi[at]-1)
	keepLo, keepHi := lo[at], hi[at]
	lo[at] = floor + 1
	s.branch(lo, hi)
	lo[at], hi[at] = keepLo, floor
	s.branch(lo, hi)
	hi[at] = keepHi
}

// even looks for counts of the same cost whose fullest place holds least, and then whose emptiest
// holds most: they are easier to lay, and meet needs yet unknown far sooner than heaps in a few
// places. It returns the nodes it took.
func (s *search) even() (nodes int) {
	step, cap := steps(s.places, s.counts) // cap will do
	within := func(floor, cap int) bool {
		t := newSearch(s.places, s.needs, fewNodes)
		t.best = s.best + (s.cost[0]-s.places[0].Unit)/2 // less than one more unit costs
		lo, hi := make([]int, len(s.places)), make([]int, len(s.places))
		for k, p := range s.places {
			hi[k] = p.holds(float64(cap) * step)
			lo[k] = p.holds(float64(floor) * step)
		}
		t.floor = slices.Clone(lo)
		t.branch(lo, hi)
		nodes += t.nodes
		if t.counts != nil {
			s.counts, s.best = t.counts, t.best
		}
		return t.counts != nil
	}
	for low := 0; cap-low > 1; { // low will not do
		if mid := (low + cap) / 2; within(0, mid) {
			cap = mid
		} else {
			low = mid
		}
	}
	floor, high := 0, cap // floor will do, and more than high will not
	for high > floor {
		if mid := (floor + high + 1) / 2; within(mid, cap) {
			floor = mid
		} else {
			high = mid - 1
		}
	}
	return nodes
}

// holds is how many units up to a mass (kg) may lie in a place.
func (p Place) holds(mass float64) int {
	return int(min(float64(p.Most), math.Floor(mass/p.Unit+1e-9)))
}

// steps is the lightest unit (kg), or a thousandth of the fullest place if that is more, and how many of
// them the fullest place takes.
func steps(places []Place, counts []int) (step float64, fullest int) {
	step = math.Inf(1)
	most := 0.0
	for k, n := range counts {
		step = min(step, places[k].Unit)
		most = max(most, float64(n)*places[k].Unit)
	}
	step = max(step, most/1000)
	return step, int(math.Ceil(most/step - 1e-9))
}

func (s *search) total(counts []int) float64 {
	sum := 0.0
	for k, n := range counts {
		sum += s.cost[k] * float64(n)
	}
	return sum
}

// roundUp makes the relaxed counts whole and takes back what is not needed; nil when
// that does not meet every need.
func (s *search) roundUp(x []float64) []int {
	counts := make([]int, len(x))
	for k, v := range x {
		counts[k] = min(int(math.Ceil(v-1e-7)), s.places[k].Most)
	}
	if !s.met(counts) {
		return nil
	}
	for k := range counts {
		for counts[k] > s.floor[k] {
			counts[k]--
			if !s.met(counts) {
				counts[k]++
				break
			}
		}
	}
	return counts
}

func (s *search) met(counts []int) bool {
	for i := range s.needs {
		if !s.needs[i].met(counts) {
			return false
		}
	}
	return true
}

// relax solves the needs over fractions of units between lo and hi by the dual simplex
// method on a dense tableau: with costs above zero, the slack basis is dual
// feasible. ok is false when the needs cannot be met there.
func (s *search) relax(lo, hi []int) (x []float64, cost float64, ok bool) {
	n := len(s.places)
	// Rows: every need, then every upper limit, as Σ a·y + slack = b with y = x - lo.
	var rows [][]float64 // n coefficients and b
	for i := range s.needs {
		row := make([]float64, n+1)
		need := &s.needs[i]
		scale := math.Abs(need.Least)
		row[n] = -need.Least
		for k, g := range need.Gain {
			row[k] = -g
			row[n] += g * float64(lo[k])
			scale = max(scale, math.Abs(g))
		}
		if scale > 0 {
			for k := range row {
				row[k] /= scale
			}
		}
		rows = append(rows, row)
	}
	for k := range n {
		if hi[k] < lo[k] {
			return nil, 0, false
		}
		row := make([]float64, n+1)
		row[k], row[n] = 1, float64(hi[k]-lo[k])
		rows = append(rows, row)
	}
	reduced := make([]float64, n) // reduced costs of the nonbasic variables
	column := make([]int, n)      // variable of each column: y_k below n, slack of row i at n+i
	basic := make([]int, len(rows))
	for k := range n {
		reduced[k], column[k] = s.cost[k], k
	}
	for i := range rows {
		basic[i] = n + i
	}
	for pivots := 0; ; pivots++ {
		if pivots > maxPivots {
			s.lost = true
			return nil, 0, false
		}
		out, least := -1, -1e-9
		for i, row := range rows {
			if row[n] < least {
				out, least = i, row[n]
				if pivots > maxPivots/2 {
					break // the first one, against cycling
				}
			}
		}
		if out < 0 {
			break
		}
		in, ratio := -1, math.Inf(1)
		for k := range n {
			if a := rows[out][k]; a < -1e-11 {
				if r := reduced[k] / -a; r < ratio*(1-1e-12) || in < 0 {
					in, ratio = k, r
				}
			}
		}
		if in < 0 {
			return nil, 0, false
		}
		exchange(rows, reduced, out, in)
		basic[out], column[in] = column[in], basic[out]
	}
	x = make([]float64, n)
	for k := range n {
		x[k] = float64(lo[k])
	}
	for i, v := range basic {
		if v < n {
			x[v] += rows[i][n]
		}
	}
	for k, v := range x {
		cost += s.cost[k] * v
	}
	return x, cost, true
}

// exchange swaps the basic variable of a row with the nonbasic one of a column.
func exchange(rows [][]float64, reduced []float64, out, in int) {
	pivot := rows[out]
	p := pivot[in]
	for k := range pivot {
		pivot[k] /= p
	}
	pivot[in] = 1 / p
	for i, row := range rows {
		if i == out || row[in] == 0 {
			continue
		}
		f := row[in]
		for k := range row {
			row[k] -= f * pivot[k]
		}
		row[in] = -f / p
	}
	f := reduced[in]
	for k := range reduced {
		reduced[k] -= f * pivot[k]
	}
	reduced[in] = -f / p
}
