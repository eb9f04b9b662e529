package statics

import "testing"

// A weight just over an edge is held by nothing: it counts as tipping, and a hair inside it stands
// as long as nothing pushes.
func TestWeightOverAnEdge(t *testing.T) {
	for _, c := range []struct {
		x    float64
		tips bool
	}{{0.5, true}, {0.4999, false}, {-0.5, true}} {
		b := Body{Foot: rectangle(1, 1), Friction: 0.4, Dead: []Force{{Name: "weight", F: Vec{0, 0, -1024}, At: Vec{c.x, 0, 1}}}}
		r := must(t, b)
		if worst := r.Overturning[r.WorstEdge]; worst.DeadTips != c.tips || (r.Mechanism() == "does not stand by itself") != c.tips {
			t.Errorf("weight at %g m of 0.5 m: tips %v, %q", c.x, worst.DeadTips, r.Mechanism())
		}
	}
}
