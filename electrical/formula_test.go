package electrical

import (
	"math"
	"strings"
	"testing"
)

// Formulas with arguments that no published row has, all of them unlike 1: worked by hand.
func TestFormulasByHand(t *testing.T) {
	of := func(x float64, err error) float64 {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return x
	}
	check(t, []value{
		{"9 kW of three phases at 400 V and 0.8", of(LineAmps(9000, 400, 0.8, 3)), 9000 / (math.Sqrt(3) * 320)},
		{"1.2 kW at 120 V and 0.8", of(LineAmps(1200, 120, 0.8, 1)), 12.5},
		{"2.5 mm2 at 0.8", of(IECImpedance(2.5e-6, 0.8)), 0.0072 + 0.000048},
		{"20 A, 2 mohm/m, 30 m, three phases", of(LineDrop(20, 0.002, 30, 3)), 1.2 * math.Sqrt(3)},
		{"the same, back to the length", of(MaxLength(1.2*math.Sqrt(3), 20, 0.002, 3)), 30},
		{"the same, back to the current", of(MaxAmps(1.2*math.Sqrt(3), 0.002, 30, 3)), 20},
		{"18 mV/A/m, 10 A, 25 m", of(TabulatedDrop(0.018, 10, 25)), 4.5},
		{"2 A/m on 50 m, to 20 m", of(UniformDrop(2, 0.003, 50, 20)), 0.006 * (1000 - 200)},
		{"half a megacircular mil", of(CircularMilResistance(12.9, 5e5)), 12.9 / 5e5 / 0.3048},
		{"copper of 20 degC at 60", of(ResistanceFrom20(2, 60)), 2 * 1.1572},
		{"copper of 75 degC at 25", of(ResistanceFrom75(2, 25)), 2 * 0.8385},
		{"a fault of 3 and 4 ohm", of(FaultAmps(0.95, 230, complex(3, 4))), 0.95 * 230 / 5},
		{"a fault of 160 A", of(MaxFaultLoop(0.95, 230, 160)), 0.95 * 230 / 160},
		// 0.8 x 230 x 2.5 / (0.0237 x 3 x 80): a leg of twice the area of the protective conductor.
		{"conventional length", of(ConventionalFaultLength(230, 2.5e-6, 0.0237e-6, 2, 80)), 460 / 5.688},
		{"1.5 mm2 in 300 A", of(AdiabaticTime(1.5e-6, 300, 115)), 0.575 * 0.575},
		{"200 A for 0.25 s", of(AdiabaticArea(200, 0.25, 115)), 100.0 / 115 * 1e-6},
		{"an RCD of 100 mA", of(RCDBudget(0.1)), 0.03},
		{"a GFCI", GFCIBudget(), 0.0015},
		{"40 mA through a GFCI", of(GFCITime(0.04)), math.Pow(0.5, 1.43)},
		{"10 A over 50 m", of(EstimatedLeakage(10, 50)), 0.0035},
		{"50 W at 150 ft of 12 AWG", of(WattFootDrop(50, 150, 7500)), 1},
		// 3000 ft: 7 % less; 105 degF: 4 % less.
		{"a set at 3000 ft and 105 degF", of(GeneratorDerating(3000*0.3048, 73/1.8)), 0.93 * 0.96},
		{"a set by the sea in the cold", of(GeneratorDerating(-100, -10)), 1},
		{"a start of 900 W and one of 2000 W", of(StartWatts([]float64{300, 700, 50}, []float64{900, 2000, 50})), 1050 + 1300},
		{"two lamps through the evening", of(WattHours([]float64{40, 100}, []float64{5, 0.5})), 250},
		{"13 A on a reel in the sun", of(CordAmpacity(13, 0.8, 0.5, 0.9)), 4.68},
		{"split phase, a leg", (&Supply{Volts: 240, Phases: 1, SplitPhase: true}).Nominal(Leg2), 120},
		{"three phases, a leg", (&Supply{Volts: 400, Phases: 3}).Nominal(Leg3), 400 / math.Sqrt(3)},
		{"three phases, leg to leg", (&Supply{Volts: 400, Phases: 3}).Nominal(Legs31), 400},
	})
	for amps, want := range map[float64]float64{80: 0.1, 159: 0.1, 160: 0.02} {
		if trip, err := TripTime(5, 16, amps); err != nil || trip.Value != want {
			t.Errorf("%g A on 16 A that trips at 5 times at once: %+v, %v, want %g s", amps, trip, err, want)
		}
	}
	if trip, err := TripTime(5, 16, 79); err == nil || err.Error() != "79 A is below 80 A, at which the breaker is sure to trip at once" {
		t.Errorf("79 A on 16 A that trips at 5 times at once: %+v, %v", trip, err)
	}
	for _, c := range []struct {
		d                     Device
		rating, times, second float64
	}{
		{USBreaker, 20, 1.35, 3600}, {USBreaker, 20, 2, 120}, {USBreaker, 30, 2.6, 120}, {USBreaker, 40, 2, 240}, {USBreaker, 150, 1.35, 7200},
		{CurveB, 16, 1.45, 3600}, {CurveC, 16, 2, 3600}, {CurveD, 32, 2.55, 60}, {CurveB, 40, 2.55, 120}, {CurveC, 63, 1.5, 3600}, {CurveC, 64, 1.5, 7200},
	} {
		if trip, err := ThermalTrip(c.d, c.rating, c.times*c.rating); err != nil || trip.Seconds != c.second {
			t.Errorf("%s of %g A at %g times: %+v, %v, want %g s (UL 489 and IEC 60898-1, in trips.csv)", c.d, c.rating, c.times, trip, err, c.second)
		}
	}
	for name, got := range map[string]string{"device -1": Device(-1).String(), "device 4": Device(4).String(), "curve D": CurveD.String(), "US breaker": USBreaker.String(), "whole": Whole.String(), "leg 7": Leg(7).String(),
		"leg -1": Leg(-1).String(), "legs 3 and 1": Legs31.String(), "load kind 3": LoadKind(3).String(), "resistance": Resistance.String()} {
		if got != name {
			t.Errorf("%q, want %q", got, name)
		}
	}
}

// The first argument out of its range is named, at either end, and the ends themselves are taken.
func TestFormulasNameWhatTheyRefuse(t *testing.T) {
	for _, c := range []struct {
		name string
		f    func() (float64, error)
		want string // "": taken
	}{
		{"no power factor", func() (float64, error) { return LineAmps(1, 1, 0.009, 1) }, "power factor is 0.009, must be 0.01 to 1"},
		{"least power factor", func() (float64, error) { return LineAmps(1, 1, 0.01, 1) }, ""},
		{"power factor above 1", func() (float64, error) { return EffectiveImpedance(1, 1, 1.01) }, "power factor is 1.01"},
		{"too little voltage", func() (float64, error) { return LineAmps(1, 0.09, 1, 1) }, "voltage is 0.09, must be 0.1 to 1e+06"},
		{"two phases", func() (float64, error) { return LineAmps(1, 1, 1, 2) }, "2 phases, must be 1 or 3"},
		{"drop of two phases", func() (float64, error) { return LineDrop(1, 1, 1, 2) }, "2 phases"},
		{"negative current", func() (float64, error) { return LineDrop(-1, 1, 1, 1) }, "current is -1, must be 0 to 1e+09"},
		{"no current to divide by", func() (float64, error) { return MaxLength(1, 0, 1, 1) }, "current is 0"},
		{"no length to divide by", func() (float64, error) { return MaxAmps(1, 1, 0, 1) }, "length is 0"},
		{"beyond the end", func() (float64, error) { return UniformDrop(1, 1, 10, 10.1) }, "distance is 10.1, must be 0 to 10"},
		{"at the end", func() (float64, error) { return UniformDrop(1, 1, 10, 10) }, ""},
		{"colder than the formula", func() (float64, error) { return ResistanceFrom20(1, -61) }, "temperature is -61, must be -60 to 250"},
		{"hotter than the formula", func() (float64, error) { return ResistanceFrom75(1, 251) }, "temperature is 251"},
		{"less than a circular mil", func() (float64, error) { return CircularMilResistance(12.9, 0.5) }, "area in cmil is 0.5"},
		{"no loop", func() (float64, error) { return FaultAmps(1, 230, 0) }, "loop impedance is 0"},
		{"a voltage factor of 1.2", func() (float64, error) { return MaxFaultLoop(1.2, 230, 100) }, "voltage factor is 1.2, must be 1e-12 to 1.1"},
		{"a fault of 6 s", func() (float64, error) { return AdiabaticArea(100, 6, 115) }, "time is 6, must be 0 to 5"},
		{"a square metre and more", func() (float64, error) { return AdiabaticTime(1.1, 100, 115) }, "cross-section is 1.1"},
		{"a mountain", func() (float64, error) { return GeneratorDerating(4501, 20) }, "altitude is 4501, must be -500 to 4500"},
		{"an oven", func() (float64, error) { return GeneratorDerating(0, 61) }, "air temperature is 61"},
		{"negative start", func() (float64, error) { return StartWatts([]float64{1}, []float64{-1}) }, "starting power is -1"},
		{"powers without times", func() (float64, error) { return WattHours([]float64{1}, nil) }, "1 powers and 0 times"},
		{"negative hours", func() (float64, error) { return WattHours([]float64{1}, []float64{-1}) }, "hours is -1"},
		{"an idle battery", func() (float64, error) { return Battery{100, 0.5, 0.9, 0}.Hours(0) }, "power is 0"},
		{"6 mA", func() (float64, error) { return GFCITime(0.006) }, ""},
		{"264 mA", func() (float64, error) { return GFCITime(0.264) }, ""},
		{"a cord of 30 degC", func() (float64, error) { return AmbientFactor(30, 20) }, "cord temperature rating is 30 degC"},
		{"a cord of 250 degC", func() (float64, error) { return AmbientFactor(250, -60) }, ""},
		{"a cord of 251 degC", func() (float64, error) { return AmbientFactor(251, 30) }, "cord temperature rating is 251 degC"},
		{"a cord in its own temperature", func() (float64, error) { return AmbientFactor(60, 60) }, "ambient is 60 degC"},
		{"no derating", func() (float64, error) { return CordAmpacity(13, 1) }, ""},
		{"a busbar", func() (float64, error) { return CordAmpacity(1e9, 1) }, ""},
		{"more than a busbar", func() (float64, error) { return CordAmpacity(1.1e9, 1) }, "ampacity is 1.1e+09 A"},
	} {
		_, err := c.f()
		if (err != nil) != (c.want != "") || err != nil && !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: error %v, want %q", c.name, err, c.want)
		}
	}
}
