package wind

import "fmt"

// Combination is what a standard multiplies each action by in a check of
// overturning or sliding. The wind factor belongs to the level at which the basis
// gives its loads: a strength-level map speed in ASCE 7, v_b in EN 1991.
type Combination struct {
	Name             string
	Dead             float64 // on dead load that resists
	DeadUnfavourable float64 // on dead load that helps the wind
	Wind             float64
	People           float64 // on people who lean or climb
	// Required is the ratio of resistance to action that must be reached with
	// these factors. 0: the site sets its own.
	Required          float64
	Source, Certainty string
}

// Combinations returns the combinations of a basis: each must hold.
func Combinations(b Basis) ([]Combination, error) {
	t, err := tables()
	if err != nil {
		return nil, err
	}
	var cs []Combination
	for _, r := range t.combinations {
		if r.basis == b {
			cs = append(cs, r.Combination)
		}
	}
	if len(cs) == 0 {
		return nil, fmt.Errorf("wind: no basis %q", b)
	}
	return cs, nil
}
