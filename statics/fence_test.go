package statics

import (
	"fmt"
	"math"
	"testing"
)

// fence is a row of walls 2 m long on a slope, each on a braced foot and fastened to the next at two
// heights. The wind blows across, more of it and off the middle at the ends, and somebody pushes where
// one wall begins.
func fence(walls int, wind float64, pushed int) (*Group, *Loads) {
	g, l := &Group{}, &Loads{}
	down := Gravity(0.02, fenceAlign)
	for i := range walls {
		x := 2 * float64(i)
		g.Blocks = append(g.Blocks, Block{Name: fmt.Sprint("wall ", i), Centre: Vec{x + 1, 0, 0.9}})
		g.Contacts = append(g.Contacts, Contact{Of: i, On: Ground, Friction: 0.4, Points: []Vec{
			{x, -0.3, 0}, {x + 2, -0.3, 0}, {x + 2, 0.3, 0}, {x, 0.3, 0}, {x + 0.5, 1, 0}, {x + 1.5, 1, 0},
		}})
		if i > 0 {
			for _, z := range [2]float64{0.3, 1.5} {
				g.Links = append(g.Links, Link{A: i, B: i - 1, At: Vec{x, 0, z}, Axis: Vec{1, 0, 0}, Pull: 1500, Push: 1500, Shear: 1500})
			}
		}
		l.Dead = append(l.Dead, Acting{i, Weight("wall", 54, Vec{x + 1, 0, 0.9}, down)})
		push, at := 0.75*wind, x+1
		switch i {
		case 0:
			push, at = wind, x+0.9665
		case walls - 1:
			push, at = wind, x+1.0335
		}
		l.Live = append(l.Live, Acting{i, Force{F: Vec{0, push, 0}, At: Vec{at, 0, 0.99}}})
	}
	x := 2 * float64(pushed)
	l.Live = append(l.Live, Acting{pushed, Force{F: Vec{0, 222.41, 0}, At: Vec{x, 0, 1.22}}})
	return g, l
}

const fenceAlign = math.Pi / 12

// In a long fence forces can go round many ways, and a basis may have an inverse of a thousand million: its
// forces are then known to a ten-millionth of the load, and yet have to be in balance to a hundred-millionth.
func TestLongFences(t *testing.T) {
	for _, walls := range []int{4, 8, 16, 16, 16, 24, 24, 40} {
		g, l := fence(walls, 187, walls/2)
		a, err := NewAnalysis(g, fenceAlign)
		if err != nil {
			t.Fatal(err)
		}
		o, err := a.Solve(l, AllLimits)
		if err != nil || !o.Certificate.OK || o.Factor.Unbounded || o.NotStanding {
			t.Errorf("%d walls: %+v, certificate %+v (%v)", walls, o.Factor, o.Certificate, err)
			continue
		}
		for _, from := range []float64{1.5, 1.01} {
			s, carried, err := a.Seek(l, from*o.Factor.Value)
			if err != nil || carried || !near(s.Factor.Value, o.Factor.Value, 1e-6) {
				t.Errorf("%d walls from %g times: %+v, carried %v (%v); Solve found %+v", walls, from, s.Factor, carried, err, o.Factor)
			}
		}
	}
}
