package statics

import (
	"math/rand/v2"
	"testing"
)

// At the very factor, where a group is neither carried nor falls but for rounding, Carries
// answers all the same: that it is carried, within its tolerance, or that it falls.
func TestCarriesAtTheFactor(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 9))
	tried := 0
	for range 300 {
		g, l := randomGroup(rng)
		a, err := NewAnalysis(g, 0)
		if err != nil {
			t.Fatal(err)
		}
		o, err := a.Solve(l, AllLimits)
		if err != nil || !o.Certificate.OK {
			t.Fatalf("%v, certificate %+v", err, o.Certificate)
		}
		if o.NotStanding || o.Factor.Unbounded || o.Factor.Value == 0 {
			continue
		}
		tried++
		for _, by := range []float64{1, 1 + 1e-15, 1 - 1e-15, 1 + 1e-12, 1 - 1e-12} {
			if _, err := a.Carries(l, o.Factor.Value*by); err != nil {
				t.Errorf("%.17g times the factor %.17g: %v", by, o.Factor.Value, err)
			}
		}
	}
	if tried < 100 {
		t.Errorf("only %d groups with a factor", tried)
	}
}
