package statics

import (
	"math"
	"testing"
)

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

// A load on an edge rests on the two corners of that edge, by the lever; one on a corner rests there.
func TestReactionsOnEdges(t *testing.T) {
	foot := rectangle(1, 1)
	for i, a := range foot {
		for _, share := range []float64{0, 0.25, 0.5} { // of the edge to the next corner
			next := foot[(i+1)%4]
			at := Vec{a[0] + share*(next[0]-a[0]), a[1] + share*(next[1]-a[1]), 1}
			b := Body{Foot: foot, Friction: 0.5, Dead: []Force{{F: Vec{0, 0, -1024}, At: at}}}
			forces, ok, err := b.Reactions(0)
			if !ok || err != nil {
				t.Fatalf("at %g: %v, %v", at, ok, err)
			}
			want := [4]float64{}
			want[i], want[(i+1)%4] = 1024*(1-share), 1024*share
			for k, f := range forces {
				if math.Abs(f[2]-want[k]) > 1e-6 || f[0] != 0 || f[1] != 0 {
					t.Errorf("weight at %g: %g N on corner %d, want %g N upright", at, f, k, want[k])
				}
			}
		}
	}
}

// Of any length, down to the least and up to the greatest numbers, a vector has its direction at length 1;
// without length it is up.
func TestUnit(t *testing.T) {
	least, most := math.SmallestNonzeroFloat64, math.MaxFloat64
	for _, c := range []struct{ a, want Vec }{
		{Vec{3, 0, 4}, Vec{0.6, 0, 0.8}},
		{Vec{3e-150, 4e-150, 0}, Vec{0.6, 0.8, 0}},
		{Vec{0, -3e150, 4e150}, Vec{0, -0.6, 0.8}},
		{Vec{least, least, 0}, Vec{math.Sqrt(0.5), math.Sqrt(0.5), 0}},
		{Vec{0, 0, -most}, Vec{0, 0, -1}},
		{Vec{}, Vec{0, 0, 1}},
	} {
		if got := unit(c.a); norm(sub(got, c.want)) > 1e-15 {
			t.Errorf("%g: %g, want %g", c.a, got, c.want)
		}
	}
}

// Forces that cancel but for rounding twist nothing, however large they are.
func TestRoundingTwistsNothing(t *testing.T) {
	at := Vec{1, 0, 1}
	b := column(Vec{0, 100.1, 0}, at)
	b.Live = append(b.Live, Force{F: Vec{0, 200.2, 0}, At: at}, Force{F: Vec{0, -300.3, 0}, At: at})
	if left := sum(b.Live, [2]float64{}).t; left == 0 {
		t.Fatal("nothing is left of them: the test shows nothing")
	}
	if r := must(t, b); !r.Turning.Factor.Unbounded || r.Turning.Torque != 0 {
		t.Errorf("%+v, want neither a factor nor a torque", r.Turning)
	}
}
