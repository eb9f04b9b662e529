package statics

import (
	"math"
	"testing"
)

// portal is nine blocks: two piers of three sections, each bolted to the one below, a beam
// seated and bolted across them, and a pair of leaves on hinges
// that a latch and a drop bolt hold shut.
func portal() *site {
	s := &site{}
	var tops, middles [2]int
	for i, x := range []float64{-1.5, 1.5} {
		name := []string{"west", "east"}[i]
		below := Ground
		for k, z := range []float64{0, 0.8, 1.6} {
			b := s.block(name+[]string{" base", " middle", " top"}[k], 60-15*float64(k), x, 0, z, 0.6, 0.6, 0.8)
			s.rest(b, below, z, 0.5)
			if below != Ground {
				for _, d := range [][2]float64{{-0.2, -0.2}, {-0.2, 0.2}, {0.2, -0.2}, {0.2, 0.2}} {
					s.link(Bolt, "", below, b, Vec{x + d[0], d[1], z}, Vec{}, 2000, 0, 3000)
				}
			}
			below = b
			if k == 1 {
				middles[i] = b
			}
		}
		tops[i] = below
	}
	beam := s.block("beam", 40, 0, 0, 2.4, 3.6, 0.4, 0.4)
	for i, x := range []float64{-1.5, 1.5} {
		c := Contact{Of: beam, On: tops[i], Friction: 0.4}
		for _, d := range [][2]float64{{-0.3, -0.2}, {-0.3, 0.2}, {0.3, -0.2}, {0.3, 0.2}} {
			c.Points = append(c.Points, Vec{x + d[0], d[1], 2.4})
		}
		s.Contacts = append(s.Contacts, c)
		s.link(Bolt, "", tops[i], beam, Vec{x, 0, 2.4}, Vec{}, 1500, 0, 1500)
	}
	var leaves [2]int
	for i, x := range []float64{-0.6, 0.6} {
		leaves[i] = s.block([]string{"west leaf", "east leaf"}[i], 15, x, 0, 0.3, 1.15, 0.05, 1.5)
		s.Blocks[leaves[i]].Foot = nil
		out := math.Copysign(1.2, x)
		axis := Vec{-math.Copysign(1, x), 0, 0}
		s.link(Hinge, "lower", middles[i], leaves[i], Vec{out, 0, 0.9}, axis, 800, noLimit, 1200)
		s.link(Hinge, "upper", middles[i], leaves[i], Vec{out, 0, 1.5}, axis, 800, noLimit, 1200)
	}
	s.link(Latch, "gate", leaves[0], leaves[1], Vec{0, 0, 1}, Vec{0, 1, 0}, 400, 400, 0)
	s.link(Latch, "drop bolt", leaves[0], Ground, Vec{-0.1, 0, 0.3}, Vec{0, 0, -1}, 0, 0, 500)
	for b := range s.Blocks {
		s.push(b, Vec{20, 60, 0}, add(s.Blocks[b].Centre, Vec{0.05, 0, 0.1}))
	}
	return s
}

func BenchmarkGroup(b *testing.B) {
	s := portal()
	b.Run("cold", func(b *testing.B) {
		b.ReportAllocs()
		pivots := 0
		for b.Loop() {
			o := analyse(b, &s.Group, &s.Loads, 1.2, AllLimits)
			pivots = o.Iterations
		}
		b.ReportMetric(float64(pivots), "pivots")
	})
	a, err := NewAnalysis(&s.Group, 1.2)
	if err != nil {
		b.Fatal(err)
	}
	b.Run("another load", func(b *testing.B) {
		b.ReportAllocs()
		l := Loads{Dead: s.Dead}
		total, angle := 0, 0.0
		for b.Loop() {
			turned(&l, s.Live, angle)
			angle += 2 * math.Pi / 24
			o, err := a.Solve(&l, AllLimits)
			if err != nil || !o.Certificate.OK {
				b.Fatal(err, o.Certificate)
			}
			total += o.Iterations
		}
		b.ReportMetric(float64(total)/float64(b.N), "pivots")
	})
	b.Run("carries", func(b *testing.B) {
		b.ReportAllocs()
		l := Loads{Dead: s.Dead}
		pivots, angle := 0, 0.0
		for b.Loop() {
			turned(&l, s.Live, angle)
			angle += 2*math.Pi/24 + 1e-3 // never the same again
			o, carried, err := a.Seek(&l, 0.5)
			if err != nil || !carried {
				b.Fatal(carried, err)
			}
			pivots += o.Iterations
		}
		b.ReportMetric(float64(pivots)/float64(b.N), "pivots")
	})
	b.Run("seek", func(b *testing.B) {
		b.ReportAllocs()
		l := Loads{Dead: s.Dead}
		pivots, angle, last := 0, 0.0, 1.0
		for b.Loop() {
			turned(&l, s.Live, angle)
			angle += 2*math.Pi/24 + 1e-3 // never the same again
			o, carried, err := a.Seek(&l, 1.3*last)
			if err != nil {
				b.Fatal(err)
			}
			pivots += o.Iterations
			if last *= 1.3; !carried {
				last = o.Factor.Value
			}
		}
		b.ReportMetric(float64(pivots)/float64(b.N), "pivots")
	})
}

// turned sets live loads that point another way.
func turned(l *Loads, live []Acting, angle float64) {
	sin, cos := math.Sincos(angle)
	l.Live = append(l.Live[:0], live...)
	for i := range l.Live {
		f := &l.Live[i].F
		f[0], f[1] = f[0]*cos-f[1]*sin, f[0]*sin+f[1]*cos
	}
}
