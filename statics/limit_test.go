package statics

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/optimize/convex/lp"
)

// limitFactor is the load factor of the static theorem with forces at the corners, by a
// linear programme with friction pyramids drawn around the cones, so never too low
// by more than rounding.
func limitFactor(b Body, hull [][2]float64, sides int) (float64, error) {
	row := func(f Force) []float64 {
		force, moment, _ := total([]Force{f})
		return append(force[:], moment[:]...)
	}
	var columns [][]float64
	for _, p := range hull {
		for j := range sides {
			sin, cos := math.Sincos(2 * math.Pi * float64(j) / float64(sides))
			mu := b.Friction / math.Cos(math.Pi/float64(sides))
			columns = append(columns, row(Force{F: Vec{mu * cos, mu * sin, 1}, At: Vec{p[0], p[1], 0}}))
		}
	}
	live, dead := make([]float64, 6), make([]float64, 6)
	for _, f := range b.Live {
		for i, v := range row(f) {
			live[i] += v / 100
		}
	}
	for _, f := range b.Dead {
		for i, v := range row(f) {
			dead[i] -= v / 100
		}
	}
	columns = append(columns, live)
	a := mat.NewDense(6, len(columns), nil)
	for j, column := range columns {
		a.SetCol(j, column)
	}
	cost := make([]float64, len(columns))
	cost[len(cost)-1] = -1
	best, _, err := lp.Simplex(cost, a, dead, 1e-10, nil)
	return -best, err
}

// TestTurningIsLowerBound compares with the linear programme that finds the best corner
// forces of all.
func TestTurningIsLowerBound(t *testing.T) {
	rng := rand.New(rand.NewPCG(10, 11))
	var shares []float64
	for i := range 400 {
		b := randomBody(rng)
		r := must(t, b)
		if r.Turning.Factor.Unbounded || r.Turning.Factor.Value == 0 {
			continue
		}
		best, err := limitFactor(b, r.Hull, 32)
		if err != nil {
			continue // the general simplex gives up on some degenerate bases
		}
		share := r.Turning.Factor.Value / best
		if share > 1+1e-6 {
			t.Fatalf("body %d: turning factor %g above the limit %g\n%+v", i, r.Turning.Factor.Value, best, b)
		}
		shares = append(shares, share)
	}
	if len(shares) < 100 {
		t.Fatalf("only %d bodies solved", len(shares))
	}
	slices.Sort(shares)
	t.Logf("%d bodies: share of the best bound: least %.3f, tenth %.3f, median %.3f",
		len(shares), shares[0], shares[len(shares)/10], shares[len(shares)/2])
	if median := shares[len(shares)/2]; median < 0.9 {
		t.Errorf("median share %.3f of the best bound, want at least 0.9", median)
	}
}
