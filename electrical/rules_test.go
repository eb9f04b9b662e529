package electrical

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

func TestContinuousLoad(t *testing.T) {
	for _, c := range []struct {
		hours float64
		want  bool
	}{{0, true}, {0.5, false}, {2.999, false}, {3, true}, {24, true}, {-1, true}, {math.NaN(), true}} {
		if got := ContinuousLoad(c.hours); got != c.want {
			t.Errorf("%g h: %v, want %v (NEC article 100: 3 h or more)", c.hours, got, c.want)
		}
	}
}

func TestBreakerListedForFullLoad(t *testing.T) {
	if got := BreakerLoading(5, 10, true); got != 15 {
		t.Errorf("%g A, want 15 (NEC 210.20(A) exception)", got)
	}
}

func TestIECDropLimit(t *testing.T) {
	for _, c := range []struct{ length, want float64 }{{0, 0.03}, {100, 0.03}, {140, 0.032}, {200, 0.035}, {1000, 0.035}} {
		if got := IECDropLimit(IECLightingDrop, c.length); math.Abs(got-c.want) > 1e-12 {
			t.Errorf("%g m: %g, want %g (IEC 60364-5-52 annex G)", c.length, got, c.want)
		}
	}
}

// No factor credits more than 1, and every step outside a table is an error.
func TestFactorsStayInTheirTables(t *testing.T) {
	for name, f := range map[string]struct {
		of          func(int) (Cited, error)
		first, last int
	}{
		"conductors": {LoadedConductorsFactor, 1, 1000},
		"coil":       {CoilFactor, 0, 5},
		"group":      {GroupFactor, 1, 5},
	} {
		last := 1.0
		for i := f.first; i <= f.last; i++ {
			c, err := f.of(i)
			if err != nil || c.Source == "" || c.Certainty == "" || !(c.Value > 0 && c.Value <= 1) {
				t.Fatalf("%s %d: %+v, %v", name, i, c, err)
			}
			if i > f.first && c.Value > last && !(name == "coil" && i == 1) {
				t.Errorf("%s %d: %g is more than for %d", name, i, c.Value, i-1)
			}
			last = c.Value
		}
		for _, i := range []int{f.first - 1, f.last + 1} {
			if c, err := f.of(i); err == nil {
				t.Errorf("%s %d: %+v, want an error", name, i, c)
			}
		}
	}
	if c, err := ReceptacleLimit(40, 40); err == nil {
		t.Errorf("40 A receptacle: %+v, want an error", c)
	}
}

func TestAmbientFactorLimits(t *testing.T) {
	if f, err := AmbientFactor(60, 0); f != 1 || err != nil {
		t.Errorf("cold air: %g, %v; want no credit above 1", f, err)
	}
	for _, c := range [][2]float64{{60, 60}, {60, 75}, {30, 20}, {math.NaN(), 20}, {60, math.NaN()}, {60, -100}, {math.Inf(1), 30}} {
		if f, err := AmbientFactor(c[0], c[1]); err == nil {
			t.Errorf("rating %g, ambient %g: %g, want an error", c[0], c[1], f)
		}
	}
}

func TestCordAmpacity(t *testing.T) {
	if a, err := CordAmpacity(13, 0.8, 0.5); err != nil || math.Abs(a-5.2) > 1e-12 {
		t.Errorf("%g A, %v; want 5.2", a, err)
	}
	for _, c := range [][2]float64{{0, 1}, {13, 1.1}, {13, 0}, {math.Inf(1), 1}, {13, math.NaN()}} {
		if a, err := CordAmpacity(c[0], c[1]); err == nil {
			t.Errorf("%g A by %g: %g, want an error", c[0], c[1], a)
		}
	}
}

// Whatever the numbers, a formula gives a finite number or an error.
func TestFormulasStayFinite(t *testing.T) {
	number := rapid.OneOf(rapid.Float64(), rapid.SampledFrom([]float64{
		0, 1, -1, 1e-12, 1e9, math.MaxFloat64, math.SmallestNonzeroFloat64, math.Inf(1), math.Inf(-1), math.NaN()}))
	rapid.Check(t, func(t *rapid.T) {
		a, b, c, d := number.Draw(t, "a"), number.Draw(t, "b"), number.Draw(t, "c"), number.Draw(t, "d")
		phases := rapid.IntRange(0, 4).Draw(t, "phases")
		finite := func(name string) func(float64, error) {
			return func(x float64, err error) {
				if math.IsNaN(x) || math.IsInf(x, 0) {
					t.Errorf("%s: %g", name, x)
				}
			}
		}
		finite("ResistanceFrom20")(ResistanceFrom20(a, b))
		finite("ResistanceFrom75")(ResistanceFrom75(a, b))
		finite("CircularMilResistance")(CircularMilResistance(a, b))
		finite("EffectiveImpedance")(EffectiveImpedance(a, b, c))
		finite("IECImpedance")(IECImpedance(a, b))
		finite("LineDrop")(LineDrop(a, b, c, phases))
		finite("MaxLength")(MaxLength(a, b, c, phases))
		finite("MaxAmps")(MaxAmps(a, b, c, phases))
		finite("TabulatedDrop")(TabulatedDrop(a, b, c))
		finite("UniformDrop")(UniformDrop(a, b, c, d))
		finite("LineAmps")(LineAmps(a, b, c, phases))
		finite("AmbientFactor")(AmbientFactor(a, b))
		finite("CordAmpacity")(CordAmpacity(a, b, c))
	})
}
