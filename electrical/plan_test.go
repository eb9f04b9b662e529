package electrical

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// Assign finds the shortest of all assignments that fit, or that there is none.
func TestAssignAgainstBruteForce(t *testing.T) {
	tight, none := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		lamps, outlets := rapid.IntRange(1, 8).Draw(t, "lamps"), rapid.IntRange(1, 3).Draw(t, "outlets")
		length, demand := make([][]float64, lamps), make([][]float64, lamps)
		for l := range lamps {
			for range outlets {
				x := rapid.Float64Range(1, 60).Draw(t, "length")
				if rapid.IntRange(0, 9).Draw(t, "out of reach") == 0 {
					x = math.Inf(1)
				}
				length[l] = append(length[l], x)
				demand[l] = append(demand[l], rapid.Float64Range(0.2, 8).Draw(t, "amps"))
			}
		}
		capacity := make([]float64, outlets)
		for o := range capacity {
			capacity[o] = rapid.Float64Range(2, 16).Draw(t, "capacity")
		}
		best := math.Inf(1)
		at := make([]int, lamps)
		for {
			left, sum, ok := slices.Clone(capacity), 0.0, true
			for l, o := range at {
				left[o] -= demand[l][o]
				sum += length[l][o]
				ok = ok && left[o] >= 0
			}
			if ok {
				best = math.Min(best, sum)
			}
			k := 0
			for k < lamps && at[k] == outlets-1 {
				at[k] = 0
				k++
			}
			if k == lamps {
				break
			}
			at[k]++
		}
		a, err := Assign(length, demand, capacity)
		if err != nil {
			t.Fatal(err)
		}
		if !a.Proven {
			t.Fatalf("%d lamps on %d outlets are not proven", lamps, outlets)
		}
		if math.IsInf(best, 1) {
			none++
			if a.OK {
				t.Errorf("%+v, and none fits", a)
			}
			return
		}
		tight++
		if !a.OK || math.Abs(a.Total-best) > 1e-9 || a.Gap() != 0 {
			t.Errorf("%+v, want %g m", a, best)
		}
		left := slices.Clone(capacity)
		for l, o := range a.Outlet {
			left[o] -= demand[l][o]
		}
		if slices.Min(left) < -1e-9 {
			t.Errorf("%v is left of the capacities", left)
		}
	})
	if tight < 20 || none < 10 {
		t.Errorf("%d fit and %d do not: too few to show anything", tight, none)
	}
}

// A large set ends, and what it claims is true: it fits, and the bound is below it.
func TestAssignLarge(t *testing.T) {
	const lamps, outlets = 120, 8
	length, demand := make([][]float64, lamps), make([][]float64, lamps)
	random := uint32(1)
	next := func() float64 { random = random*1664525 + 1013904223; return float64(random>>8) / (1 << 24) }
	for l := range lamps {
		x, y := 100*next(), 60*next()
		amps := 0.4 + 1.5*next()
		for o := range outlets {
			length[l] = append(length[l], math.Hypot(x-float64(o%4)*33, y-float64(o/4)*60))
			demand[l] = append(demand[l], amps)
		}
	}
	capacity := slices.Repeat([]float64{18}, outlets)
	a, err := Assign(length, demand, capacity)
	if err != nil {
		t.Fatal(err)
	}
	if !a.OK || !(a.Bound <= a.Total) || a.Gap() > 0.02 {
		t.Fatalf("total %g, bound %g, gap %g, OK %v", a.Total, a.Bound, a.Gap(), a.OK)
	}
	for l, o := range a.Outlet {
		capacity[o] -= demand[l][o]
	}
	if slices.Min(capacity) < -1e-9 {
		t.Errorf("%v is left of the capacities", capacity)
	}
}

// Forty lamps of 1 A, 1 m from an outlet of 10.5 A and 3 m from one of 100 A. Ten fit near: 10 + 90 = 100 m. If
// a lamp could be halved it would be 10.5 + 88.5 = 99 m, the best that prices can tell (Fisher 1981), so the search
// is ended before it has seen that no other ten do better; what it says then must be true.
func TestAssignUnproven(t *testing.T) {
	near, one := make([][]float64, 40), make([][]float64, 40)
	for l := range near {
		near[l], one[l] = []float64{1, 3}, []float64{1, 1}
	}
	a, err := Assign(near, one, []float64{10.5, 100})
	if err != nil || !a.OK || a.Proven || a.Total != 100 {
		t.Fatalf("%+v, %v, want 100 m, not proven", a, err)
	}
	if !(a.Bound > 98.9 && a.Bound <= 99+1e-9) || math.Abs(a.Gap()-(100-a.Bound)/100) > 1e-12 {
		t.Errorf("bound %g m, gap %g; halves would take 99 m", a.Bound, a.Gap())
	}
}

// Sets of the size of a booth, with little room to spare, are proven within the steps that are allowed, fit, and
// take no more than each lamp in turn on the nearest outlet that has room.
func TestAssignTight(t *testing.T) {
	random := uint32(7)
	next := func() float64 { random = random*1664525 + 1013904223; return float64(random>>8) / (1 << 24) }
	fitted := 0
	for set := range 60 {
		const lamps, outlets = 30, 4
		length, demand := make([][]float64, lamps), make([][]float64, lamps)
		var sum float64
		for l := range lamps {
			amps := 0.3 + 2*next()
			sum += amps
			for range outlets {
				length[l] = append(length[l], 1+40*next())
				demand[l] = append(demand[l], amps)
			}
		}
		capacity := slices.Repeat([]float64{1.04 * sum / outlets}, outlets)
		a, err := Assign(length, demand, capacity)
		if err != nil || !a.Proven {
			t.Fatalf("set %d: %+v, %v", set, a, err)
		}
		left, nearest, room := slices.Clone(capacity), 0.0, true
		for l := range lamps {
			pick := -1
			for o := range outlets {
				if demand[l][o] <= left[o] && (pick < 0 || length[l][o] < length[l][pick]) {
					pick = o
				}
			}
			if room = room && pick >= 0; !room {
				break
			}
			left[pick] -= demand[l][pick]
			nearest += length[l][pick]
		}
		if room && (!a.OK || a.Total > nearest+1e-9) {
			t.Errorf("set %d: %+v, and the nearest in turn take %g m", set, a, nearest)
		}
		if !a.OK {
			continue
		}
		fitted++
		left, total := slices.Clone(capacity), 0.0
		for l, o := range a.Outlet {
			left[o] -= demand[l][o]
			total += length[l][o]
		}
		if slices.Min(left) < -1e-9 || math.Abs(total-a.Total) > 1e-9 {
			t.Errorf("set %d: %v is left of the capacities, and %g m are told as %g", set, left, total, a.Total)
		}
	}
	if fitted < 30 {
		t.Errorf("only %d sets fit", fitted)
	}
}

func TestAssignRefuses(t *testing.T) {
	for _, c := range []struct {
		length, demand [][]float64
		capacity       []float64
		want           string
	}{
		{[][]float64{{1}}, nil, []float64{1}, "1 loads have lengths and 0 demands"},
		{[][]float64{{1}}, [][]float64{{1, 2}}, []float64{1}, "load 1: 1 lengths and 2 demands for 1 outlets"},
		{[][]float64{{1, 2}}, [][]float64{{1}}, []float64{1}, "load 1: 2 lengths and 1 demands for 1 outlets"},
		{[][]float64{{1, 1}, {1, math.NaN()}}, [][]float64{{1, 1}, {1, 1}}, []float64{1, 1}, "load 2: length to outlet 2 is NaN"},
		{[][]float64{{1, 1}, {1, 1}}, [][]float64{{1, 1}, {1, -1}}, []float64{1, 1}, "load 2: demand on outlet 2 is -1"},
		{[][]float64{{1, 1}}, [][]float64{{1, 1}}, []float64{1, math.Inf(1)}, "outlet 2: capacity is +Inf, must be 0 to 1e+09"},
		{[][]float64{{-1}}, [][]float64{{1}}, []float64{1}, "load 1: length to outlet 1 is -1"},
		{[][]float64{{1.1e6}}, [][]float64{{1}}, []float64{1}, "load 1: length to outlet 1 is 1.1e+06"},
		{[][]float64{{1}}, [][]float64{{1.1e9}}, []float64{1}, "load 1: demand on outlet 1 is 1.1e+09"},
	} {
		if a, err := Assign(c.length, c.demand, c.capacity); err == nil || err.Error() != c.want {
			t.Errorf("%+v: %+v, %v, want %s", c, a, err, c.want)
		}
	}
	// The ends of the ranges are taken.
	if a, err := Assign([][]float64{{1e6}}, [][]float64{{1e9}}, []float64{1e9}); err != nil || a.Total != 1e6 {
		t.Errorf("%+v, %v", a, err)
	}
	// Nothing to place, and lamps that hang at their outlets, are no mistake and leave no gap.
	for _, c := range []struct{ length, demand [][]float64 }{{nil, nil}, {[][]float64{{0}}, [][]float64{{0}}}} {
		a, err := Assign(c.length, c.demand, []float64{0})
		if err != nil || !a.OK || !a.Proven || a.Total != 0 || a.Gap() != 0 {
			t.Errorf("%+v, %v", a, err)
		}
	}
	for _, c := range []struct {
		a    Assignment
		want float64
	}{
		{Assignment{OK: true, Total: 50, Bound: 40}, 0.2}, {Assignment{OK: true, Total: 50, Bound: 40, Proven: true}, 0},
		{Assignment{OK: true}, 0}, {Assignment{Total: 50, Bound: 40}, 0}, {Assignment{OK: true, Total: 50, Bound: 51}, 0},
	} {
		if got := c.a.Gap(); got != c.want {
			t.Errorf("gap of %+v: %v, want %v", c.a, got, c.want)
		}
	}
}

func TestRouteLengths(t *testing.T) {
	outlets, loads := []Point{{0, 0}, {0, 20}}, []Point{{10, 5}, {30, 0}}
	cross := [][]Point{{{0, 2}, {20, 2}}, {{10, 0}, {10, 12}}}
	for _, c := range []struct {
		name   string
		routes [][]Point
		want   [][]float64
	}{
		{"straight", nil, [][]float64{{math.Hypot(10, 5), math.Hypot(10, 15)}, {30, math.Hypot(30, 20)}}},
		{"along", [][]Point{{{0, 1}, {30, 1}}}, [][]float64{{1 + 10 + 4, 19 + 10 + 4}, {1 + 30 + 1, 19 + 30 + 1}}},
		// The second outlet is nearest to the end of the second line, and goes over where they cross.
		{"crossing", cross, [][]float64{{2 + 10 + 3, math.Hypot(10, 8) + 7}, {2 + 20 + math.Hypot(10, 2), math.Hypot(10, 8) + 10 + 10 + math.Hypot(10, 2)}}},
		{"apart", [][]Point{{{0, 0}, {5, 0}}, {{30, 0}, {30, 10}}}, [][]float64{{5 + math.Hypot(5, 5), 20 + 5 + math.Hypot(5, 5)}, {math.Inf(1), math.Inf(1)}}},
	} {
		got, err := RouteLengths(outlets, loads, c.routes)
		if err != nil {
			t.Fatal(err)
		}
		for l := range loads {
			for o := range outlets {
				if d := got[l][o] - c.want[l][o]; math.Abs(d) > 1e-9 {
					t.Errorf("%s, outlet %d to load %d: %g m, want %g", c.name, o, l, got[l][o], c.want[l][o])
				}
			}
		}
	}
	for _, c := range []struct {
		place Point
		taken bool
	}{{Point{math.NaN(), 0}, false}, {Point{0, math.NaN()}, false}, {Point{1.1e6, 0}, false}, {Point{0, -1.1e6}, false}, {Point{1e6, -1e6}, true}} {
		if _, err := RouteLengths([]Point{c.place}, loads, nil); (err == nil) != c.taken {
			t.Errorf("an outlet at %v: %v", c.place, err)
		}
	}
}

func BenchmarkAssign(b *testing.B) {
	const lamps, outlets = 20, 4
	length, demand := make([][]float64, lamps), make([][]float64, lamps)
	for l := range lamps {
		for o := range outlets {
			length[l] = append(length[l], math.Hypot(float64(l*7%23), float64(l*5%11))+float64((l+o*3)%7))
			demand[l] = append(demand[l], 0.5+float64(l%5)*0.3)
		}
	}
	for b.Loop() {
		if _, err := Assign(length, demand, []float64{6, 6, 6, 6}); err != nil {
			b.Fatal(err)
		}
	}
}
