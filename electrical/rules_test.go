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
		finite("FaultAmps")(FaultAmps(a, b, complex(c, d)))
		finite("MaxFaultLoop")(MaxFaultLoop(a, b, c))
		finite("ConventionalFaultLength")(ConventionalFaultLength(a, b, c, d, a))
		finite("AdiabaticTime")(AdiabaticTime(a, b, c))
		finite("AdiabaticArea")(AdiabaticArea(a, b, c))
		finite("GFCITime")(GFCITime(a))
		finite("RCDBudget")(RCDBudget(a))
		finite("EstimatedLeakage")(EstimatedLeakage(a, b))
		finite("WattFootDrop")(WattFootDrop(a, b, c))
		finite("GeneratorDerating")(GeneratorDerating(a, b))
		finite("StartWatts")(StartWatts([]float64{a, b}, []float64{c, d}))
		finite("WattHours")(WattHours([]float64{a, b}, []float64{c, d}))
		finite("Hours")(Battery{a, b, c, d}.Hours(a))
		finite("AmbientFactor")(AmbientFactor(a, b))
		finite("CordAmpacity")(CordAmpacity(a, b, c))
	})
}

// What a breaker is sure to do: it holds below what it trips at, and a longer time belongs to less
// current.
func TestTrips(t *testing.T) {
	for d := USBreaker; d <= CurveD; d++ {
		hold, err := HoldsInrush(d, 16)
		if err != nil {
			t.Fatal(err)
		}
		trip, err := InstantTrip(d, 16)
		if err != nil || !(hold.Multiple < trip.Multiple) {
			t.Errorf("%s holds %g and trips at %g, %v", d, hold.Multiple, trip.Multiple, err)
		}
		last := math.Inf(1)
		for _, m := range []float64{1.5, 2.2, 2.6, trip.Multiple, 2 * trip.Multiple, 10 * trip.Multiple} {
			seconds := 0.0
			if now, err := TripTime(trip.Multiple, 16, m*16); err == nil {
				seconds = now.Value
			} else if thermal, err := ThermalTrip(d, 16, m*16); err == nil {
				seconds = thermal.Seconds
			} else {
				t.Fatalf("%s at %g times: %v", d, m, err)
			}
			if seconds > last {
				t.Errorf("%s takes %g s at %g times its rating, and %g s at less", d, seconds, m, last)
			}
			last = seconds
		}
	}
	for _, c := range []struct {
		d      Device
		rating float64
	}{{USBreaker, 40}, {CurveC, 160}, {CurveB, 0}, {Device(7), 16}, {CurveB, math.NaN()}} {
		if p, err := InstantTrip(c.d, c.rating); err == nil {
			t.Errorf("%s of %g A: %+v, want an error", c.d, c.rating, p)
		}
	}
	if p, err := ThermalTrip(CurveC, 16, 20); err == nil {
		t.Errorf("20 A on 16 A: %+v, want an error (IEC 60898-1 promises nothing below 1.45 times)", p)
	}
}

// Every formula refuses what lies outside its source.
func TestOutsideTheTables(t *testing.T) {
	failing := func(name string, _ float64, err error) {
		t.Helper()
		if err == nil {
			t.Errorf("%s: no error", name)
		}
	}
	v, err := GFCITime(0.005)
	failing("GFCI below 6 mA", v, err)
	v, err = GFCITime(0.3)
	failing("GFCI above 264 mA", v, err)
	v, err = AdiabaticArea(100, 6, AdiabaticK)
	failing("adiabatic for more than 5 s", v, err)
	v, err = GeneratorDerating(5000, 20)
	failing("a generator at 5000 m", v, err)
	for _, c := range []struct {
		fuel Fuel
		load float64
	}{{Diesel, 0.2}, {Petrol, 1.1}, {"coal", 0.5}, {Diesel, math.NaN()}} {
		u, err := FuelUse(c.fuel, c.load)
		failing(string(c.fuel), u.Value, err)
	}
	v, err = Battery{100, 0, 0.9, 0}.Hours(10)
	failing("a battery that may not be emptied", v, err)
	v, err = StartWatts([]float64{1}, nil)
	failing("one load that does not start", v, err)
}

// Straight lines between the rows of the fuel table, and never below them.
func TestFuelUse(t *testing.T) {
	for _, c := range []struct{ load, want float64 }{{0.25, 0.61}, {0.5, 0.44}, {0.375, 0.525}, {0.9, 0.388}, {1, 0.38}} {
		if u, err := FuelUse(Diesel, c.load); err != nil || math.Abs(u.Value-c.want) > 1e-9 {
			t.Errorf("at %g of its load %g L/kWh, %v; want %g", c.load, u.Value, err, c.want)
		}
	}
	for _, c := range []struct{ load, want float64 }{{0.25, 1}, {0.3, 0.96}, {0.5, 0.8}, {0.9, 0.8}} {
		if u, err := FuelUse(Petrol, c.load); err != nil || math.Abs(u.Value-c.want) > 1e-9 {
			t.Errorf("petrol, at %g of its load %g L/kWh, %v; want %g", c.load, u.Value, err, c.want)
		}
	}
}

func TestTouchVoltage(t *testing.T) {
	for _, c := range []struct {
		dc, wet bool
		want    float64
	}{{false, true, 12}, {true, true, 30}, {false, false, 25}, {true, false, 60}} {
		if got := TouchVoltageLimit(c.dc, c.wet); got != c.want {
			t.Errorf("dc %v, wet %v: %g V, want %g (IEC 60598-1 8.2.3)", c.dc, c.wet, got, c.want)
		}
	}
	if ExtraLowVoltage(51, false) || !ExtraLowVoltage(50, false) || ExtraLowVoltage(121, true) || !ExtraLowVoltage(120, true) {
		t.Error("extra-low voltage is 50 V AC and 120 V DC at most (IEC 60364-4-41 414)")
	}
}

// 500 Wh of which half may be taken: 250/(40/0.8 + 10) h.
func TestBatteryHours(t *testing.T) {
	if h, err := (Battery{500, 0.5, 0.8, 10}).Hours(40); err != nil || math.Abs(h-250.0/60) > 1e-12 {
		t.Errorf("%g h, %v", h, err)
	}
}
