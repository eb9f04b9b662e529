package statics

import (
	"encoding/binary"
	"errors"
	"math"
	"reflect"
	"testing"
)

// FuzzCheck reads any bytes as a body: no panic, and no NaN or Inf in any result.
func FuzzCheck(f *testing.F) {
	seed := func(values ...float64) {
		var data []byte
		for _, v := range values {
			data = binary.LittleEndian.AppendUint64(data, math.Float64bits(v))
		}
		f.Add(data, uint8(4), uint8(1))
	}
	seed(0.4, -1, -1, 1, -1, 1, 1, -1, 1, 0, 0, -1000, 0, 0, 1, 50, 20, 0, 0.3, 0, 2)
	seed(0, -1, -1, 1, -1, 1, 1, -1, 1, 0, 0, -5e-324, 0, 0, 1, 5e-324, 1e12, 1e12, 1e12, 1e12, -1e12)
	seed(1e12, 0, 0, 1e12, 0, 1e12, 1e-300, 0, 1e-5, 0, 0, -1e12, 1e10, 1e-9, 1e12, 1, 1, 1, 1, 1, 1)
	seed(math.NaN(), math.Inf(1), math.Inf(-1), math.MaxFloat64)
	f.Fuzz(func(t *testing.T, data []byte, corners, dead uint8) {
		next := func() float64 {
			if len(data) < 8 {
				return 0
			}
			v := math.Float64frombits(binary.LittleEndian.Uint64(data))
			data = data[8:]
			return v
		}
		b := Body{Friction: next()}
		for range corners % 16 {
			b.Foot = append(b.Foot, [2]float64{next(), next()})
		}
		for i := 0; len(data) >= 8 && i < 16; i++ {
			force := Force{F: Vec{next(), next(), next()}, At: Vec{next(), next(), next()}}
			if i < int(dead%4) {
				b.Dead = append(b.Dead, force)
			} else {
				b.Live = append(b.Live, force)
			}
		}
		r, err := b.Check()
		if err != nil {
			if !errors.Is(err, ErrFoot) && !errors.Is(err, ErrValue) {
				t.Fatal(err)
			}
			return
		}
		finite(t, reflect.ValueOf(r))
		if r.Mechanism() == "" {
			t.Fatal("no mechanism")
		}
		limit := least(r.Overturning[r.WorstEdge].Factor, r.Sliding.Factor)
		if limit.Less(r.Turning.Factor) {
			t.Fatalf("turning %+v above %+v", r.Turning.Factor, limit)
		}
		forces, _, err := b.Reactions(r.Turning.Factor.Value / 2)
		if err != nil {
			t.Fatal(err)
		}
		finite(t, reflect.ValueOf(forces))
	})
}

func finite(t *testing.T, v reflect.Value) {
	t.Helper()
	switch v.Kind() {
	case reflect.Float64:
		if math.IsNaN(v.Float()) || math.IsInf(v.Float(), 0) {
			t.Fatalf("result holds %g", v.Float())
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

func BenchmarkCheck(b *testing.B) {
	for _, bench := range []struct {
		name string
		body Body
	}{
		{"straight", column(Vec{50, 0, 0}, Vec{0, 0, 2})},
		{"twisted", column(Vec{50, 20, 0}, Vec{0.2, 0.1, 1})},
	} {
		b.Run(bench.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := bench.body.Check(); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
