package statics

import (
	"errors"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// Who asks may be stricter than rounding: 30 of a need of 30 may still be short of it.
func TestNeedThatIsJustMissed(t *testing.T) {
	counts, ok, err := LeastUnits([]Place{{Unit: 18, Most: 9}}, func(counts []int) ([]Need, error) {
		if counts[0] > 3 {
			return nil, nil
		}
		return []Need{{Gain: []float64{10}, Least: 30}}, nil
	})
	if !ok || err != nil || !slices.Equal(counts, []int{4}) {
		t.Errorf("%v, %v, %v; want one unit more than the 3 that just meet it", counts, ok, err)
	}
}

// Ten units that may lie anywhere lie five and five; where one place must have seven, the others
// share what is left. Fewer units go first: six of 20 kg are fewer than six of 10 kg and three of 20 kg.
func TestLeastUnitsAreSpread(t *testing.T) {
	even := []Place{{Unit: 18, Most: 50}, {Unit: 18, Most: 50}}
	for _, c := range []struct {
		places []Place
		needs  []Need
		want   []int
	}{
		{even, []Need{{Gain: []float64{1, 1}, Least: 10}}, []int{5, 5}},
		{even, []Need{{Gain: []float64{1, 1}, Least: 10}, {Gain: []float64{1, 0}, Least: 7}}, []int{7, 3}},
		{[]Place{{Unit: 10, Most: 9}, {Unit: 20, Most: 9}}, []Need{{Gain: []float64{1, 2}, Least: 12}}, []int{0, 6}},
	} {
		counts, ok, err := LeastUnits(c.places, needsOf(c.needs))
		if !ok || err != nil {
			t.Fatalf("%v: %v, %v", c.needs, ok, err)
		}
		if !slices.Equal(counts, c.want) {
			t.Errorf("%v: %v, want %v", c.needs, counts, c.want)
		}
	}
}

// Who gives away one unit of one place at a time is not asked for ever: then every place gets the same,
// and it is said that fewer might do.
func TestLeastUnitsCutShort(t *testing.T) {
	places := []Place{{Unit: 18, Most: 200}, {Unit: 18, Most: 200}, {Unit: 9, Most: 200}}
	atLeast := func(want []int) func([]int) ([]Need, error) {
		return func(counts []int) ([]Need, error) {
			for k, n := range counts {
				if n < want[k] {
					gain := make([]float64, len(counts))
					gain[k] = 1
					return []Need{{Gain: gain, Least: float64(n + 1)}}, nil
				}
			}
			return nil, nil
		}
	}
	for _, c := range []struct {
		want, counts []int
		err          error
	}{
		{[]int{10, 5, 7}, []int{10, 5, 7}, nil},
		{[]int{40, 60, 80}, []int{60, 60, 119}, ErrSearch}, // the same mass in each, to a unit
		{[]int{40, 60, 201}, nil, ErrSearch},
	} {
		counts, ok, err := LeastUnits(places, atLeast(c.want))
		if !slices.Equal(counts, c.counts) || ok != (c.counts != nil) || !errors.Is(err, c.err) {
			t.Errorf("at least %v: %v, %v, %v; want %v, %v", c.want, counts, ok, err, c.counts, c.err)
		}
	}
}

// Five places and eight needs take the relaxation through several exchanges, each of which has to
// keep its costs right for the bound to be one.
func TestLeastUnitsAmongManyNeeds(t *testing.T) {
	found := 0
	rapid.Check(t, func(t *rapid.T) {
		rng := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 0))
		places := make([]Place, 5)
		for k := range places {
			places[k] = Place{Unit: []float64{5, 7.3, 10, 12, 18.144}[rng.IntN(5)], Most: 4}
		}
		needs := make([]Need, 8)
		for i := range needs {
			needs[i].Least = 300 * rng.Float64()
			for range places {
				needs[i].Gain = append(needs[i].Gain, -5+45*rng.Float64())
			}
		}
		counts, ok, err := LeastUnits(places, needsOf(needs))
		mass, units, _ := brute(places, needs)
		if err != nil || ok != (units >= 0) {
			t.Fatalf("found %v, %v, and trying every combination found %v", ok, err, units >= 0)
		}
		if !ok {
			return
		}
		found++
		m := 0.0
		for k, c := range counts {
			m += places[k].Unit * float64(c)
		}
		if m > mass*(1+1e-9) {
			t.Fatalf("%v weighs %g kg, and %g kg will do", counts, m, mass)
		}
	})
	if found < 10 {
		t.Errorf("%d answers: too few to show anything", found)
	}
}

func TestLeastUnitsRefuses(t *testing.T) {
	enough := func([]int) ([]Need, error) { return nil, nil }
	broken := errors.New("broken")
	one := []Place{{Unit: 18, Most: 5}}
	for _, c := range []struct {
		why    string
		places []Place
		short  func([]int) ([]Need, error)
		want   error
	}{
		{"a unit of nothing", []Place{{Unit: 18, Most: 5}, {Unit: 0, Most: 5}}, enough, ErrValue},
		{"a negative unit", []Place{{Unit: -1, Most: 5}}, enough, ErrValue},
		{"a unit that is no number", []Place{{Unit: math.NaN(), Most: 5}}, enough, ErrValue},
		{"less than no room", []Place{{Unit: 18, Most: -1}}, enough, ErrValue},
		{"a need of other places", one, func([]int) ([]Need, error) { return []Need{{Gain: []float64{1, 2}, Least: 1}}, nil }, ErrValue},
		{"a need that is no number", one, func([]int) ([]Need, error) { return []Need{{Gain: []float64{1}, Least: math.NaN()}}, nil }, ErrValue},
		{"a gain that is no number", one, func([]int) ([]Need, error) { return []Need{{Gain: []float64{math.Inf(1)}, Least: 1}}, nil }, ErrValue},
		{"an error of who asks", one, func([]int) ([]Need, error) { return nil, broken }, broken},
	} {
		if counts, ok, err := LeastUnits(c.places, c.short); ok || !errors.Is(err, c.want) {
			t.Errorf("%s: %v, %v, %v; want %v", c.why, counts, ok, err, c.want)
		}
	}
	// No room is room for nothing, and what more than all of it would need has no answer.
	counts, ok, err := LeastUnits([]Place{{Unit: 18, Most: 0}}, enough)
	if !ok || err != nil || !slices.Equal(counts, []int{0}) {
		t.Errorf("%v, %v, %v", counts, ok, err)
	}
	if counts, ok, err := LeastUnits(one, needsOf([]Need{{Gain: []float64{10}, Least: 51}})); ok || err != nil {
		t.Errorf("51 by five units of 10: %v, %v", counts, err)
	}
	if counts, ok, err := LeastUnits(one, needsOf([]Need{{Gain: []float64{10}, Least: 50}})); !ok || err != nil || !slices.Equal(counts, []int{5}) {
		t.Errorf("50 by five units of 10: %v, %v, %v", counts, ok, err)
	}
}
