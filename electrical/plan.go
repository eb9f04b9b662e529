package electrical

import (
	"cmp"
	"fmt"
	"math"
	"slices"
)

// Assignment puts loads onto outlets.
type Assignment struct {
	OK     bool    // every load has an outlet and no outlet has more than it carries
	Outlet []int   // of each load, an index; nil when not OK
	Total  float64 // sum of the lengths, m
	Bound  float64 // no assignment has less, m; when not OK and not Proven, of no meaning
	Proven bool    // that Total is the least there is; or, when not OK, that there is none
}

// Gap is how much of Total a better assignment could save at most; 0 when proven.
func (a *Assignment) Gap() float64 {
	if !a.OK || a.Proven || a.Total <= 0 {
		return 0
	}
	return math.Max(0, (a.Total-a.Bound)/a.Total)
}

// planNodes is how many partial assignments are tried before the best one so far is returned
// with its gap.
const planNodes = 500_000

// Assign puts each load onto one outlet so that no outlet carries more than its capacity and the
// sum of the lengths is least. length and demand are by load and outlet: the length in m of the
// cord that joins them, +Inf where none can, and the part of the outlet's capacity that the load
// takes there. Demand and capacity are in one unit, such as A.
//
// It is a generalized assignment problem, searched by branch and bound: the bound is that of
// Lagrangian relaxation (a price on each outlet's capacity, Fisher 1981), which stays a bound
// whatever the prices are. Small sets are proven; in large ones the search stops at a fixed
// number of steps, the same on every machine.
func Assign(length, demand [][]float64, capacity []float64) (Assignment, error) {
	p := &planner{length: slices.Clone(length), demand: demand, capacity: slices.Clone(capacity)}
	if err := p.check(); err != nil {
		return Assignment{}, err
	}
	p.prices()
	p.rank()
	p.construct()
	p.after = make([]float64, len(length)+1)
	for i := len(length) - 1; i >= 0; i-- {
		p.after[i] = p.after[i+1] + p.cheapest(p.order[i])
	}
	for o, price := range p.price {
		p.worth += price * capacity[o]
	}
	root := p.after[0] - p.worth
	p.now = make([]int, len(length))
	p.branch(0, 0)
	a := Assignment{OK: p.best != nil, Outlet: p.best, Proven: p.nodes < planNodes}
	if a.OK {
		a.Total = p.cost(p.best)
		a.Bound = math.Min(math.Max(root, 0), a.Total)
		if a.Proven {
			a.Bound = a.Total
		}
	}
	return a, nil
}

type planner struct {
	length, demand [][]float64
	capacity       []float64 // what is left
	price          []float64 // m per unit of each outlet's capacity
	worth          float64   // of all the capacity that is left, at these prices, m
	outlets        [][]int   // of each load, those that it can be on, by priced length
	order          []int     // of the loads
	after          []float64 // sum of the least priced lengths from a step on
	now, best      []int
	least          float64
	nodes          int
}

func (p *planner) check() error {
	if len(p.demand) != len(p.length) {
		return fmt.Errorf("%d loads have lengths and %d demands", len(p.length), len(p.demand))
	}
	for o, c := range p.capacity {
		if !(c >= 0 && c <= maxValue) {
			return fmt.Errorf("outlet %d: capacity is %v, must be 0 to %g", o+1, c, float64(maxValue))
		}
	}
	for l := range p.length {
		if len(p.length[l]) != len(p.capacity) || len(p.demand[l]) != len(p.capacity) {
			return fmt.Errorf("load %d: %d lengths and %d demands for %d outlets", l+1, len(p.length[l]), len(p.demand[l]), len(p.capacity))
		}
		for o := range p.capacity {
			if x := p.length[l][o]; !(x >= 0 && x <= maxLength) && !math.IsInf(x, 1) {
				return fmt.Errorf("load %d: length to outlet %d is %v", l+1, o+1, x)
			}
			if x := p.demand[l][o]; !(x >= 0 && x <= maxValue) {
				return fmt.Errorf("load %d: demand on outlet %d is %v", l+1, o+1, x)
			}
		}
	}
	return nil
}

// fits forgives what sums of decimals do.
func fits(demand, left float64) bool { return demand <= left*(1+1e-12)+1e-12 }

// priced is the length with the price of the capacity taken; a pair that can never be is out.
func (p *planner) priced(l, o int) float64 {
	if math.IsInf(p.length[l][o], 1) {
		return math.Inf(1)
	}
	return p.length[l][o] + p.price[o]*p.demand[l][o]
}

// prices finds prices by subgradient steps that shrink, and keeps those with the best bound.
func (p *planner) prices() {
	n := len(p.capacity)
	p.price = make([]float64, n)
	for l := range p.length { // what exceeds a whole outlet cannot be on it
		row := slices.Clone(p.length[l])
		for o := range row {
			if !fits(p.demand[l][o], p.capacity[o]) {
				row[o] = math.Inf(1)
			}
		}
		p.length[l] = row
	}
	best, bound := slices.Clone(p.price), math.Inf(-1)
	taken := make([]float64, n)
	var scale float64
	for l := range p.length {
		for _, x := range p.length[l] {
			if !math.IsInf(x, 1) {
				scale = math.Max(scale, x)
			}
		}
	}
	step := 1.0
	for range 200 {
		clear(taken)
		var sum float64
		for l := range p.length {
			pick, least := -1, math.Inf(1)
			for o := range n {
				if c := p.priced(l, o); c < least {
					pick, least = o, c
				}
			}
			if pick < 0 {
				return // a load that fits nowhere; the search finds out at once
			}
			sum += least
			taken[pick] += p.demand[l][pick]
		}
		for o := range n {
			sum -= p.price[o] * p.capacity[o]
		}
		if sum > bound {
			bound, best = sum, slices.Clone(p.price)
		} else {
			step *= 0.95
		}
		for o := range n {
			if p.capacity[o] > 0 {
				over := taken[o]/p.capacity[o] - 1
				p.price[o] = math.Max(0, p.price[o]+step*scale*over/p.capacity[o])
			}
		}
	}
	p.price = best
}

// rank sorts the outlets of each load by their priced lengths, and the loads by what they lose
// when the first of these is taken: what fits in few places comes first.
func (p *planner) rank() {
	p.outlets = make([][]int, len(p.length))
	p.order = make([]int, len(p.length))
	regret := make([]float64, len(p.length))
	for l := range p.length {
		p.order[l] = l
		for o := range p.capacity {
			if !math.IsInf(p.length[l][o], 1) {
				p.outlets[l] = append(p.outlets[l], o)
			}
		}
		slices.SortStableFunc(p.outlets[l], func(a, b int) int { return cmp.Compare(p.priced(l, a), p.priced(l, b)) })
		regret[l] = math.MaxFloat64
		if list := p.outlets[l]; len(list) > 1 {
			regret[l] = p.priced(l, list[1]) - p.priced(l, list[0])
		}
	}
	slices.SortStableFunc(p.order, func(a, b int) int { return cmp.Compare(regret[b], regret[a]) })
}

// cheapest is the least priced length of a load, 0 when it fits nowhere.
func (p *planner) cheapest(l int) float64 {
	if len(p.outlets[l]) == 0 {
		return 0
	}
	return p.priced(l, p.outlets[l][0])
}

// construct makes a first assignment, each load in turn onto the best outlet with room for it, and
// moves and swaps loads while that shortens the sum.
func (p *planner) construct() {
	at := make([]int, len(p.length))
	left := slices.Clone(p.capacity)
	for _, l := range p.order {
		k := slices.IndexFunc(p.outlets[l], func(o int) bool { return fits(p.demand[l][o], left[o]) })
		if k < 0 {
			return
		}
		at[l] = p.outlets[l][k]
		left[at[l]] -= p.demand[l][at[l]]
	}
	const passes = 100
	for n := 0; n < passes && p.shorten(at, left); n++ {
	}
	p.best, p.least = at, p.cost(at)
}

// shorten makes every move and swap that shortens the sum, once through, and reports whether
// there was one.
func (p *planner) shorten(at []int, left []float64) (shorter bool) {
	const enough = 1e-9
	for l := range at {
		for _, o := range p.outlets[l] {
			if from := at[l]; o != from && fits(p.demand[l][o], left[o]) && p.length[l][o] < p.length[l][from]-enough {
				left[from] += p.demand[l][from]
				left[o] -= p.demand[l][o]
				at[l] = o
				shorter = true
			}
		}
	}
	for l := range at {
		for m := l + 1; m < len(at); m++ {
			a, b := at[l], at[m]
			if a == b || !(p.length[l][b]+p.length[m][a] < p.length[l][a]+p.length[m][b]-enough) {
				continue
			}
			if fits(p.demand[l][b], left[b]+p.demand[m][b]) && fits(p.demand[m][a], left[a]+p.demand[l][a]) {
				left[a] += p.demand[l][a] - p.demand[m][a]
				left[b] += p.demand[m][b] - p.demand[l][b]
				at[l], at[m] = b, a
				shorter = true
			}
		}
	}
	return shorter
}

func (p *planner) cost(at []int) float64 {
	var sum float64
	for l, o := range at {
		sum += p.length[l][o]
	}
	return sum
}

// branch tries the outlets of the load at a step, the one with the least priced length first; the
// bound grows in that order.
func (p *planner) branch(step int, sum float64) {
	if p.nodes >= planNodes {
		return
	}
	p.nodes++
	if step == len(p.order) {
		if p.best == nil || sum < p.least {
			p.best, p.least = slices.Clone(p.now), sum
		}
		return
	}
	l := p.order[step]
	for _, o := range p.outlets[l] {
		if p.best != nil && sum+p.priced(l, o)+p.after[step+1]-p.worth >= p.least-1e-9 {
			return
		}
		d := p.demand[l][o]
		if !fits(d, p.capacity[o]) {
			continue
		}
		left, worth := p.capacity[o], p.worth
		p.capacity[o] -= d
		p.worth -= p.price[o] * d
		p.now[l] = o
		p.branch(step+1, sum+p.length[l][o])
		p.capacity[o], p.worth = left, worth
	}
}
