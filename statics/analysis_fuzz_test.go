package statics

import (
	"encoding/binary"
	"errors"
	"math"
	"reflect"
	"testing"
)

// FuzzSolve reads any bytes as a group: no panic, no NaN or Inf in any result, and always a proof
// when the numbers are those of things that people build.
func FuzzSolve(f *testing.F) {
	f.Add([]byte("\x00\x00\x10\x08\x00\xf0\xf0\x00\x10\xf0\x00\x00\x10\x00"), uint8(0), uint8(1))
	f.Add([]byte("a leaf on two hinges, a latch, a guy and soft ground, all of them somewhere"), uint8(1), uint8(5))
	f.Add([]byte("\x10\x10\x10\x10 symmetric, so that everything is tied \x10\x10\x10\x10\x10\x10"), uint8(3), uint8(9))
	f.Add([]byte("\x80\x00\x00\x00\x00\x00\x00\xf0\x7f\x80\x01\x00\x00\x00\x00\x00\x00\x00"), uint8(2), uint8(7))
	f.Fuzz(func(t *testing.T, data []byte, blocks, joints uint8) {
		plain := true
		// A byte is sixteenths; after 128 follow the eight of any float64.
		next := func() float64 {
			if len(data) == 0 {
				return 0
			}
			b := data[0]
			data = data[1:]
			if b != 128 || len(data) < 8 {
				return float64(int8(b)) / 16
			}
			plain = false
			v := math.Float64frombits(binary.LittleEndian.Uint64(data))
			data = data[8:]
			return v
		}
		vec := func() Vec { return Vec{next(), next(), next()} }
		capacity := func() float64 {
			switch v := next(); {
			case v > 7:
				return math.Inf(1)
			case plain:
				return 100 * math.Abs(v)
			default:
				return v
			}
		}
		g, l := &Group{}, &Loads{}
		n := 1 + int(blocks%5)
		for range n {
			g.Blocks = append(g.Blocks, Block{Centre: vec()})
		}
		other := func(i, of int) int { // the ground or another block
			if o := i % (n + 1); o != of && o < n {
				return o
			}
			return Ground
		}
		for i := range int(joints % 16) {
			of := i % n
			on := other(i/2, of)
			switch i % 3 {
			case 0:
				c := Contact{Of: of, On: on, Friction: math.Abs(next()) / 4, Normal: vec()}
				if next() > 4 {
					c.Bearing = math.Abs(next()) * 100
				}
				for range 1 + i%4 {
					c.Points = append(c.Points, vec())
				}
				g.Contacts = append(g.Contacts, c)
			case 1:
				g.Links = append(g.Links, Link{Kind: LinkKind(i), A: of, B: on, At: vec(), Axis: vec(),
					Pull: capacity(), Push: capacity(), Shear: capacity()})
			case 2:
				g.Guys = append(g.Guys, Guy{Of: of, At: vec(), To: vec(), Limit: capacity()})
			}
		}
		for i := 0; len(data) > 0 && i < 12; i++ {
			f := vec()
			if plain {
				f = scaled(f, 100)
			}
			force := Acting{i % n, Force{F: f, At: vec()}}
			if i%2 == 0 {
				l.Dead = append(l.Dead, force)
			} else {
				l.Live = append(l.Live, force)
			}
		}
		refused := func(err error) bool {
			return errors.Is(err, ErrGroup) || errors.Is(err, ErrFoot) || errors.Is(err, ErrValue)
		}
		a, err := NewAnalysis(g, next())
		if err != nil {
			if !refused(err) {
				t.Fatal(err)
			}
			return
		}
		for only := AllLimits; only < limits; only++ {
			o, err := a.Solve(l, only)
			if err != nil {
				if !refused(err) {
					t.Fatal(err)
				}
				return
			}
			finite(t, reflect.ValueOf(o))
			if plain && !o.Certificate.OK {
				t.Fatalf("limit %d: %+v, %+v after %d pivots\n%+v\n%+v", only, o.Factor, o.Certificate, o.Iterations, g, l)
			}
			if o.Collapse.Words(g) == "" {
				t.Fatal("no words")
			}
		}
		if _, err := a.Carries(l, 1); err != nil && (plain || !errors.Is(err, ErrUnproven)) {
			t.Fatal(err)
		}
	})
}
