package statics

import (
	"errors"
	"math"
	"slices"
	"testing"
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
