package electrical

import (
	"encoding/binary"
	"math"
	"reflect"
	"slices"
	"testing"
)

// FuzzFormulas puts any numbers into the formulas that can refuse them: no panic, and no NaN or Inf
// beside a nil error.
func FuzzFormulas(f *testing.F) {
	f.Add(120.0, 15.0, 0.013, 30.0, 0.9, uint8(1), "diesel")
	f.Add(0.0, 0.0, 0.0, 0.0, 0.0, uint8(3), "petrol")
	f.Add(math.NaN(), math.Inf(1), -1.0, 5e-324, math.MaxFloat64, uint8(0), "")
	f.Add(1e9, 1e-9, 1e9, 1e-9, 1e-3, uint8(255), "diesel")
	f.Add(400.0, 16.0, 1.5e-6, 100.0, 1.0, uint8(2), "wood")
	f.Fuzz(func(t *testing.T, a, b, c, d, e float64, n uint8, word string) {
		check := func(name string) func(result any, err error) {
			return func(result any, err error) {
				if err != nil {
					if err.Error() == "" {
						t.Errorf("%s: an error without a reason", name)
					}
				} else if at := finiteAll(reflect.ValueOf(result), name); at != "" {
					t.Errorf("%s is not finite for %g, %g, %g, %g, %g, %d", at, a, b, c, d, e, n)
				}
			}
		}
		number := func(name string) func(float64, error) {
			judge := check(name)
			return func(v float64, err error) { judge(v, err) }
		}
		trip := func(name string) func(Trip, error) {
			judge := check(name)
			return func(v Trip, err error) { judge(v, err) }
		}
		cited := func(name string) func(Cited, error) {
			judge := check(name)
			return func(v Cited, err error) { judge(v, err) }
		}
		phases, device := int(n%4), Device(n%5)
		number("ResistanceFrom20")(ResistanceFrom20(a, b))
		number("ResistanceFrom75")(ResistanceFrom75(a, b))
		number("CircularMilResistance")(CircularMilResistance(a, b))
		number("EffectiveImpedance")(EffectiveImpedance(a, b, e))
		number("IECImpedance")(IECImpedance(c, e))
		number("LineDrop")(LineDrop(b, c, d, phases))
		number("MaxLength")(MaxLength(a, b, c, phases))
		number("MaxAmps")(MaxAmps(a, c, d, phases))
		number("TabulatedDrop")(TabulatedDrop(c, b, d))
		number("UniformDrop")(UniformDrop(b, c, d, e))
		number("LineAmps")(LineAmps(b, a, e, phases))
		number("FaultAmps")(FaultAmps(e, a, complex(c, b)))
		number("MaxFaultLoop")(MaxFaultLoop(e, a, b))
		number("ConventionalFaultLength")(ConventionalFaultLength(a, c, d, e, b))
		number("AdiabaticTime")(AdiabaticTime(c, b, d))
		number("AdiabaticArea")(AdiabaticArea(b, c, d))
		trip("InstantTrip")(InstantTrip(device, b))
		trip("HoldsInrush")(HoldsInrush(device, b))
		cited("TripTime")(TripTime(a, b, d))
		trip("ThermalTrip")(ThermalTrip(device, b, d))
		number("GeneratorDerating")(GeneratorDerating(a, d))
		number("StartWatts")(StartWatts([]float64{a, b}, []float64{c, d}))
		cited("FuelUse")(FuelUse(Fuel(word), e))
		number("Hours")(Battery{WattHours: a, Depth: b, Efficiency: c, Idle: d}.Hours(e))
		number("WattHours")(WattHours([]float64{a, b}, []float64{c, d}))
		number("GFCITime")(GFCITime(c))
		number("RCDBudget")(RCDBudget(c))
		number("EstimatedLeakage")(EstimatedLeakage(b, d))
		number("WattFootDrop")(WattFootDrop(a, d, e))
		number("AmbientFactor")(AmbientFactor(a, d))
		cited("ReceptacleLimit")(ReceptacleLimit(int(n), phases))
		cited("LoadedConductorsFactor")(LoadedConductorsFactor(int(n) - 3))
		cited("CoilFactor")(CoilFactor(int(n) - 3))
		cited("GroupFactor")(GroupFactor(int(n) - 3))
		number("CordAmpacity")(CordAmpacity(b, c, e))
	})
}

// FuzzAssign reads any bytes as outlets, lamps and routes: every answer is one that the outlets
// carry, no shorter than its bound, and what was asked is left as it was.
func FuzzAssign(f *testing.F) {
	f.Add([]byte("two outlets and a few lamps, with routes in between"), uint8(2), uint8(5), uint8(4))
	f.Add([]byte("\x00\x00\x00\x00\x80\x00\x00\x00\x00\x00\x00\xf0\x7f"), uint8(1), uint8(1), uint8(0))
	f.Add([]byte("\x10\x10\x10\x10\x10\x10 everything is tied \x10\x10\x10\x10"), uint8(3), uint8(6), uint8(2))
	f.Fuzz(func(t *testing.T, data []byte, outlets, loads, corners uint8) {
		next := func() float64 { // a byte; after 128 follow the eight of any float64
			if len(data) == 0 {
				return 0
			}
			b := data[0]
			data = data[1:]
			if b != 128 || len(data) < 8 {
				return float64(int8(b))
			}
			v := math.Float64frombits(binary.LittleEndian.Uint64(data))
			data = data[8:]
			return v
		}
		points := func(n int) []Point {
			list := make([]Point, n)
			for i := range list {
				list[i] = Point{next(), next()}
			}
			return list
		}
		from, to := points(int(outlets%4)), points(int(loads%7))
		var routes [][]Point
		for i := range int(corners % 5) {
			routes = append(routes, points(i))
		}
		length, err := RouteLengths(from, to, routes)
		if err != nil {
			return
		}
		capacity := make([]float64, len(from))
		for o := range capacity {
			capacity[o] = math.Abs(next())
		}
		demand := make([][]float64, len(to))
		for l := range demand {
			demand[l] = make([]float64, len(from))
			for o := range demand[l] {
				demand[l][o] = math.Abs(next()) / 4
				if x := length[l][o]; math.IsNaN(x) || x < 0 {
					t.Fatalf("length %g", x)
				}
			}
		}
		given := make([][]float64, len(length))
		for l := range length {
			given[l] = slices.Clone(length[l])
		}
		a, err := Assign(length, demand, capacity)
		if !reflect.DeepEqual(given, length) {
			t.Fatalf("the lengths were %v and became %v", given, length)
		}
		if err != nil || !a.OK {
			return
		}
		if at := finiteAll(reflect.ValueOf(a), "assignment"); at != "" || math.IsNaN(a.Gap()) {
			t.Fatalf("%s, gap %g", at, a.Gap())
		}
		left, total := slices.Clone(capacity), 0.0
		for l, o := range a.Outlet {
			left[o] -= demand[l][o]
			total += length[l][o]
		}
		for o := range left {
			if left[o] < -1e-9*(1+capacity[o]) {
				t.Errorf("outlet %d is over its capacity by %g", o, -left[o])
			}
		}
		if math.Abs(total-a.Total) > 1e-9*(1+total) || a.Bound > a.Total*(1+1e-9) {
			t.Errorf("total %g, as told %g, bound %g", total, a.Total, a.Bound)
		}
	})
}
