package wind

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

// FuzzLoads spoils any numbers of a site and a surface that work: no panic, no NaN or Inf in any
// load, and the working of every load.
func FuzzLoads(f *testing.F) {
	seed := func(basis, terrain, shape uint8, values ...float64) {
		var data []byte
		for i, v := range values {
			data = append(data, byte(5*i))
			data = binary.LittleEndian.AppendUint64(data, math.Float64bits(v))
		}
		f.Add(basis, terrain, shape, "asce37-six-weeks", data)
	}
	for basis := range uint8(4) {
		for shape := range uint8(6) {
			seed(basis, 3+2*(basis%4/3), shape)
		}
	}
	seed(0, 2, 5, 1e-4, 1e4, 0.5)
	seed(1, 3, 2, math.NaN(), math.Inf(1))
	seed(3, 6, 5, 1e-3, 1e-300, 1e300)
	seed(3, 4, 0, 5e-324, -1, 0.3)
	f.Fuzz(func(t *testing.T, basis, terrain, shape uint8, reduction string, data []byte) {
		site := Site{
			Basis:   []Basis{Gust, ASCE716, ASCE722, EN1991}[basis%4],
			Terrain: []string{"", "A", "B", "C", "D", "0", "I", "II", "III", "IV"}[terrain%10],
		}
		if basis&4 != 0 {
			site.Reduction = reduction
		}
		all := struct {
			Site           *Site
			Surface        Surface
			Speed, Towards float64
			Height         float64
		}{&site, Surface{Name: "s", Shape: Shape(shape%6) + Square, Top: 2, Width: 1, Depth: 0.7, Solidity: 0.9, Roughness: Roughness(shape / 6 % 3)}, 20, 0.3, 2}
		// The numbers in order; an index byte and eight of a float64 put in another one.
		var numbers []*float64
		var gather func(v reflect.Value)
		gather = func(v reflect.Value) {
			switch v.Kind() {
			case reflect.Float64:
				numbers = append(numbers, v.Addr().Interface().(*float64))
			case reflect.Pointer:
				gather(v.Elem())
			case reflect.Struct:
				for i := range v.NumField() {
					gather(v.Field(i))
				}
			case reflect.Array:
				for i := range v.Len() {
					gather(v.Index(i))
				}
			}
		}
		gather(reflect.ValueOf(&all).Elem())
		for len(data) >= 9 {
			*numbers[int(data[0])%len(numbers)] = math.Float64frombits(binary.LittleEndian.Uint64(data[1:]))
			data = data[9:]
		}
		if c, err := CProb(site.ReturnPeriod, site.CProbK, site.CProbN); err == nil {
			finite(t, reflect.ValueOf(c))
		}
		if h, err := HandheldOf(site.Terrain); err == nil {
			finite(t, reflect.ValueOf(h))
		}
		if step, err := Beaufort(all.Speed); err == nil {
			finite(t, reflect.ValueOf(step))
		}
		for _, d := range Directions([]float64{all.Towards, all.Surface.Turn}) {
			if !(d >= 0 && d < 2*math.Pi) {
				t.Fatalf("direction %g", d)
			}
		}
		m, err := NewModel(site)
		if err != nil {
			return
		}
		finite(t, reflect.ValueOf(m.Site()))
		if q, kz, err := m.Pressure(all.Height, all.Speed); err == nil {
			finite(t, reflect.ValueOf([]float64{q, kz}))
		}
		loads, err := m.Loads(all.Surface, all.Speed, all.Towards)
		if err != nil {
			return
		}
		if len(loads) == 0 {
			t.Fatal("neither a load nor an error")
		}
		finite(t, reflect.ValueOf(loads))
		for _, l := range loads {
			terms, err := m.Work(&all.Surface, all.Speed, all.Towards, l.Case)
			if err != nil || len(terms) == 0 {
				t.Fatalf("%d terms of %+v: %v", len(terms), l, err)
			}
			finite(t, reflect.ValueOf(terms))
		}
	})
}
