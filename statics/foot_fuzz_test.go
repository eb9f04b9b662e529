package statics

import (
	"encoding/binary"
	"errors"
	"math"
	"reflect"
	"testing"
)

// FuzzHull reads any bytes as points: a hull of at least three corners that turn left, each one of
// the points and none of the points far outside, or an error.
func FuzzHull(f *testing.F) {
	f.Add([]byte("\x00\x00\x10\x00\x10\x10\x00\x10\x08\x08"))
	f.Add([]byte("\x00\x00\x01\x00\x02\x00\x03\x00"))
	f.Add([]byte("\x05\x05\x05\x05\x05\x05\x80\x00\x00\x00\x00\x00\x00\xf0\x7f\x01"))
	f.Add([]byte("corners of something that somebody has drawn by hand"))
	f.Fuzz(func(t *testing.T, data []byte) {
		next := func() float64 { // a byte; after 128 follow the eight of any float64
			b := data[0]
			data = data[1:]
			if b != 128 || len(data) < 8 {
				return float64(int8(b)) / 16
			}
			v := math.Float64frombits(binary.LittleEndian.Uint64(data))
			data = data[8:]
			return v
		}
		var points [][2]float64
		for len(data) > 16 || len(data) > 1 && data[0] != 128 {
			points = append(points, [2]float64{next(), next()})
			if len(data) == 1 {
				break
			}
		}
		hull, err := Hull(points)
		if err != nil {
			if !errors.Is(err, ErrFoot) && !errors.Is(err, ErrValue) {
				t.Fatal(err)
			}
			return
		}
		if len(hull) < 3 {
			t.Fatalf("%d corners", len(hull))
		}
		finite(t, reflect.ValueOf(hull))
		finite(t, reflect.ValueOf(OutwardNormals(hull)))
		size := 0.0
		for _, p := range points {
			size = max(size, math.Hypot(p[0]-hull[0][0], p[1]-hull[0][1]))
		}
		for i, a := range hull {
			b := hull[(i+1)%len(hull)]
			edge := math.Hypot(b[0]-a[0], b[1]-a[1])
			for _, p := range points {
				if out := -cross(a, b, p) / edge; out > 1e-6*size {
					t.Fatalf("%g lies %g outside of %g", p, out, hull)
				}
			}
		}
	})
}

// FuzzLeastUnits reads any bytes as places and needs: counts within their limits that meet every
// need, or none.
func FuzzLeastUnits(f *testing.F) {
	f.Add([]byte("\x10\x10\x20\x08\x30\x10\x05\x40\x20\x10\x60"), uint8(2))
	f.Add([]byte("\x10\xff\x20\xff\x01\x02\x70\x03\x01\x70"), uint8(1))
	f.Add([]byte("sandbags of forty pounds, jugs of water and kerbs"), uint8(3))
	f.Fuzz(func(t *testing.T, data []byte, n uint8) {
		next := func() float64 {
			if len(data) == 0 {
				return 0
			}
			b := data[0]
			data = data[1:]
			if b != 128 || len(data) < 8 {
				return float64(int8(b)) / 4
			}
			v := math.Float64frombits(binary.LittleEndian.Uint64(data))
			data = data[8:]
			return v
		}
		places := make([]Place, 1+n%4)
		for i := range places {
			places[i] = Place{Unit: math.Abs(next()), Most: int(math.Min(200, math.Abs(next())))}
		}
		var needs []Need
		for len(data) > 0 && len(needs) < 8 {
			need := Need{Gain: make([]float64, len(places)), Least: next()}
			for k := range need.Gain {
				need.Gain[k] = next()
			}
			needs = append(needs, need)
		}
		counts, ok, err := LeastUnits(places, func(counts []int) ([]Need, error) {
			var more []Need
			for _, need := range needs {
				if !need.met(counts) {
					more = append(more, need)
				}
			}
			return more, nil
		})
		if err != nil {
			if !errors.Is(err, ErrValue) && !errors.Is(err, ErrSearch) {
				t.Fatal(err)
			}
			return
		}
		if !ok {
			return
		}
		for k, c := range counts {
			if c < 0 || c > places[k].Most {
				t.Fatalf("%d units where %d may lie", c, places[k].Most)
			}
		}
		for _, need := range needs {
			if !need.met(counts) {
				t.Fatalf("%v does not meet %+v", counts, need)
			}
		}
	})
}
