package fastener

import (
	"encoding/binary"
	"math"
	"reflect"
	"testing"
)

// finite fails on any NaN or Inf within v.
func finite(t *testing.T, v reflect.Value) {
	t.Helper()
	switch v.Kind() {
	case reflect.Float64:
		if f := v.Float(); math.IsNaN(f) || math.IsInf(f, 0) {
			t.Fatalf("%g in a result", f)
		}
	case reflect.Struct:
		for i := range v.NumField() {
			finite(t, v.Field(i))
		}
	case reflect.Slice, reflect.Array:
		for i := range v.Len() {
			finite(t, v.Index(i))
		}
	}
}

// spoil overwrites one of the numbers within v.
func spoil(v reflect.Value, which *int, with float64) {
	switch v.Kind() {
	case reflect.Float64:
		if *which == 0 {
			v.SetFloat(with)
		}
		*which--
	case reflect.Int:
		if *which == 0 && math.Abs(with) < 1e9 {
			v.SetInt(int64(with))
		}
		*which--
	case reflect.Bool:
		if *which == 0 {
			v.SetBool(!v.Bool())
		}
		*which--
	case reflect.Struct:
		for i := range v.NumField() {
			spoil(v.Field(i), which, with)
		}
	case reflect.Slice, reflect.Array:
		for i := range v.Len() {
			spoil(v.Index(i), which, with)
		}
	}
}

// FuzzAll spoils any numbers of working inputs: no panic, and no NaN or Inf in any result.
func FuzzAll(f *testing.F) {
	seed := func(kind byte, values ...float64) {
		var data []byte
		for i, v := range values {
			data = append(data, byte(7*i))
			data = binary.LittleEndian.AppendUint64(data, math.Float64bits(v))
		}
		f.Add(kind, data)
	}
	seed(0, 0.001, 1e-4)
	seed(1, 1e9, 2)
	seed(6, math.NaN(), math.Inf(1))
	seed(9, -1e300, 5e-324, 0)
	seed(3, 1e-4, 10, 1e10, 1e6)
	f.Fuzz(func(t *testing.T, kind byte, data []byte) {
		wood, err := MaterialOf("spf")
		if err != nil {
			t.Fatal(err)
		}
		wood.Density, wood.Fc90 = 350, 2.5e6
		k := Kind(kind % 5)
		size := Sizes(k)[int(kind/5)%len(Sizes(k))]
		length := 0.0
		if k == WoodScrew || k == LagScrew {
			length = 0.1
		}
		screw, err := Of(k, size, length)
		if err != nil {
			t.Fatal(err)
		}
		screw.Washer.OD = 0.03
		all := struct {
			Joint   Joint
			Demand  Total
			Section Section
			N, At   float64
			Plate   Plate
			Force   Vec
			Place   Vec
			Moment  Vec
			Leaf    Leaf
			Load    Load
			Slam    Slam
			Guy     Guy
			InPlane []Point
		}{
			Joint:   Joint{Code: Code(kind % 2), Fastener: screw, Side: Member{Material: wood, Thickness: 0.02, Area: 1e-3}, Main: Member{Material: wood, Thickness: 0.09, Area: 1e-3}, Count: 3, InRow: 2, Spacing: 0.05},
			Demand:  Total{300, 200},
			Section: Section{Depth: 0.5, Bolts: []float64{0.1, 0.4}, Width: 0.1, BoltArea: 1e-4},
			N:       -100, At: 0.2,
			Plate: Plate{Out: Vec{1, 0, 0}, Up: Vec{0, 0, 1}, Width: 0.04, Height: 0.08, Screws: []Point{{0.01, 0.01}, {0.03, 0.07}}},
			Force: Vec{100, 20, -50}, Place: Vec{0.02, 0.04, 0.01}, Moment: Vec{1, 2, 3},
			Leaf:    Leaf{Hinges: []float64{0.2, 1.8}, Stopped: true, StopX: 1},
			Load:    Load{"weight", Vec{0, 10, -200}, Vec{0.6, 0, 1}},
			Slam:    Slam{Mass: 20, Centre: Vec{0.6, 0, 1}, Width: 1.2, StopX: 1.1, StopZ: 1},
			Guy:     Guy{Rope: Rope{Breaking: 1e4}, Angle: 0.8, Anchor: Anchor{Weight: 500, Friction: 0.4}},
			InPlane: []Point{{0, 0}, {0.1, 0.2}},
		}
		for len(data) >= 9 {
			which := int(data[0])
			spoil(reflect.ValueOf(&all).Elem(), &which, math.Float64frombits(binary.LittleEndian.Uint64(data[1:])))
			data = data[9:]
		}
		check := func(result any, err error) {
			if err == nil {
				finite(t, reflect.ValueOf(result))
			} else if err.Error() == "" {
				t.Fatal("an error without a reason")
			}
		}
		j := all.Joint
		for _, capacity := range []func() (Capacity, error){j.Withdrawal, j.PullThrough, j.Lateral, j.Tension} {
			c, err := capacity()
			check(c, err)
			if err == nil && (c.Value < 0 || c.Reference < 0 || c.Mode == "" || c.Source == "" || c.Certainty == "") {
				t.Fatalf("%+v", c)
			}
		}
		u, err := j.CheckTotal(all.Demand)
		check(u, err)
		cures, err := j.Cures(all.Demand)
		check(cures, err)
		o, err := all.Section.Open(all.N, all.At, all.Moment[0])
		check(o, err)
		pulls, presses, err := all.Plate.Share(all.Force, all.Place, all.Moment)
		check(pulls, err)
		check(presses, err)
		shares, err := InPlane(all.InPlane, Point{all.Force[0], all.Force[1]}, Point{all.Place[0], all.Place[1]}, all.Moment[2])
		check(shares, err)
		cases, err := all.Leaf.Reactions([]Load{all.Load})
		check(cases, err)
		blow, err := all.Slam.Blow()
		check(blow, err)
		guy, err := all.Guy.Capacity()
		check(guy, err)
		further, _, err := all.Leaf.FurtherHinge(func(l Leaf) (float64, error) {
			c, err := l.Reactions([]Load{all.Load})
			if err != nil {
				return 0, err
			}
			return math.Abs(c[0].Hinges[0][0]), nil
		})
		check(further, err)
		cg, err := GroupAction(j.Count, j.Spacing, all.N, all.At, all.Force[0])
		check(cg, err)
	})
}
