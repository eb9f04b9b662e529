package fastener

import (
	"math"
	"reflect"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// TestSectionByHand works hard faces by moments about the pressing edge: the section is 0.4 m deep, bolted
// at 0.1 and 0.3 m. Pulled between 0.15 and 0.25 m from the edge it parts everywhere: with the pull at
// 0.2 + e the bolts get N/2 and e N / 0.2 more or less, which at e = 0.05 leaves none at the edge.
func TestSectionByHand(t *testing.T) {
	two, one := []float64{0.1, 0.3}, []float64{0.3}
	const parts, pivots, farther, presses = "faces part, every bolt pulls", "pivots on its edge", "pivots on its edge, far edge", "presses, no bolt pulls"
	for _, c := range []struct {
		name     string
		bolts    []float64
		n, at, m float64
		want     []float64
		pressed  float64
		where    float64
		lever    string
	}{
		{"pull inside", two, 1000, 0.24, 0, []float64{300, 700}, 0, 0, parts},
		{"pull inside, by a moment", two, 1000, 0.2, 40, []float64{300, 700}, 0, 0, parts},
		{"pull inside, near the far edge", two, 1000, 0.16, 0, []float64{700, 300}, 0, 0, parts},
		{"pull outside", two, 1000, 0.26, 0, []float64{260, 780}, 40, 0, pivots}, // 260 N m, T_i = 2600 y_i
		{"pull outside, the other way", two, 1000, 0.14, 0, []float64{780, 260}, 40, 0.4, farther},
		{"moment alone", two, 0, 0, 100, []float64{100, 300}, 400, 0, pivots},
		{"moment alone, the other way", two, 0, 0, -100, []float64{300, 100}, 400, 0.4, farther},
		{"pressed, and opened", two, -500, 0.1, 100, []float64{50, 150}, 700, 0, pivots}, // 100 - 50 N m about the edge
		{"pressed inside", two, -500, 0.1, 0, []float64{0, 0}, 500, 0.1, presses},
		{"pressed on the edge", two, -500, 0, 0, []float64{0, 0}, 500, 0, presses},
		{"pressed on the far edge", two, -500, 0.4, 0, []float64{0, 0}, 500, 0.4, presses},
		{"pressed at the middle, opened to the edge", two, -500, 0.2, 100, []float64{0, 0}, 500, 0, presses},
		{"pull over the only bolt", one, 1000, 0.3, 0, []float64{1000}, 0, 0, parts},
		{"pull beyond the only bolt", one, 1000, 0.36, 0, []float64{1200}, 200, 0, pivots},
		{"pull before the only bolt", one, 1000, 0.25, 0, []float64{1500}, 500, 0.4, farther}, // 0.15 m of pull and 0.1 m of bolt from the far edge
		{"two bolts side by side", []float64{0.3, 0.3}, 1000, 0.36, 0, []float64{600, 600}, 200, 0, pivots},
	} {
		s := Section{Depth: 0.4, Bolts: c.bolts}
		o, err := s.Open(c.n, c.at, c.m)
		if err != nil {
			t.Fatalf("%s: %v", c.name, err)
		}
		// A width without a bolt area, or the other way round, is no face that gives.
		for _, half := range []Section{{Depth: 0.4, Bolts: c.bolts, Width: 0.1}, {Depth: 0.4, Bolts: c.bolts, BoltArea: 1e-3}} {
			if same, err := half.Open(c.n, c.at, c.m); err != nil || !reflect.DeepEqual(same, o) {
				t.Errorf("%s: %+v, %v, want %+v", c.name, same, err, o)
			}
		}
		for i, want := range c.want {
			near(t, c.name, o.Bolts[i], want)
		}
		near(t, c.name+": pressed", o.Compression, c.pressed)
		near(t, c.name+": where", o.At, c.where)
		if o.Lever != c.lever || o.Contact != 0 {
			t.Errorf("%s: %s, %g m of contact", c.name, o.Lever, o.Contact)
		}
	}
	for _, c := range []struct{ n, at, m float64 }{{0, 0, 1}, {1, 0, 0}, {-1, -0.01, 0}, {-1, 0.41, 0}} {
		if _, err := (Section{Depth: 0.4}).Open(c.n, c.at, c.m); err == nil || !strings.Contains(err.Error(), "no bolt holds") {
			t.Errorf("no bolts, %+v: %v", c, err)
		}
	}
}

// TestRestOnTheEdge: a resultant on an edge presses there, whatever rounding says: 0.3 N of moment for each
// newton that presses at 0.1 + 0.2 m, which is not 0.3 in binary, either way.
func TestRestOnTheEdge(t *testing.T) {
	for _, n := range []float64{1e-3, 1, 1e3, 1e6} {
		tenth, fifth := 0.1, 0.2
		s := Section{Depth: 0.3, Bolts: []float64{0.05, 0.25}}
		for name, c := range map[string]struct{ at, m float64 }{
			"near edge":        {tenth + fifth, 0.3 * n},
			"near edge, under": {0.3, (tenth + fifth) * n},
			"far edge":         {0, -(tenth + fifth) * n},
			"far edge, under":  {0.3 - (tenth + fifth), -0.3 * n},
		} {
			o, err := s.Open(-n, c.at, c.m)
			if err != nil || o.Lever != "presses, no bolt pulls" || o.Bolts[0] != 0 || o.Bolts[1] != 0 {
				t.Errorf("%g N at the %s: %+v, %v", n, name, o, err)
			}
		}
	}
}

// TestSoftFaceRests: under a resultant less than a third of the depth from the edge the face presses over
// three times that distance (the kern of a rectangle, any text on footings); a bolt beyond it pulls.
func TestSoftFaceRests(t *testing.T) {
	s := Section{Depth: 0.3, Width: 0.1, BoltArea: 1e-3, Bolts: []float64{0.03, 0.27}}
	for _, c := range []struct {
		at    float64
		lever string
	}{
		{0.15, "presses, no bolt pulls"},
		{0.09, "presses, no bolt pulls"}, // three times 0.09 is the far bolt
		{0.21, "presses, no bolt pulls"},
		{0.0899, "presses over a triangle"},
		{0.2101, "presses over a triangle, far edge"},
		{-0.1, "presses over a triangle"},
	} {
		o, err := s.Open(-1000, c.at, 0)
		if err != nil || o.Lever != c.lever {
			t.Errorf("1 kN at %g m: %+v, %v", c.at, o, err)
			continue
		}
		if strings.HasPrefix(c.lever, "presses,") {
			near(t, "place", o.At, c.at)
			near(t, "force", o.Compression, 1000)
		} else if o.Bolts[0]+o.Bolts[1] <= 0 {
			t.Errorf("1 kN at %g m: %+v", c.at, o)
		}
	}
	s.Bolts = []float64{0.03, 0.12} // the far part has no bolt that would pull
	if o, err := s.Open(-1000, 0.05, 0); err != nil || o.Lever != "presses, no bolt pulls" {
		t.Errorf("%+v, %v", o, err)
	}
}

// TestSoftSection starts from the answer: of a triangle of any depth c on a face that gives, the edge stress
// k c presses k b c^2 / 2 at c / 3 and bolts beyond it pull k A (y - c). The load that balances them must
// lead back to them, from either edge.
func TestSoftSection(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		draw := func(name string, lo, hi float64) float64 { return rapid.Float64Range(lo, hi).Draw(t, name) }
		s := Section{Depth: draw("depth", 0.05, 1), Width: draw("width", 0.01, 0.5), BoltArea: math.Pow(10, draw("log area", -5, -1))}
		last := 0.0
		for range rapid.IntRange(1, 5).Draw(t, "bolts") {
			y := s.Depth * draw("bolt", 0.1, 1)
			s.Bolts, last = append(s.Bolts, y), max(last, y)
		}
		c, k := last*draw("c", 0.01, 0.99), math.Pow(10, draw("log k", 3, 6))
		pressed := k * s.Width * c * c / 2
		n, m, size := -pressed, -pressed*c/3, pressed
		var pulls []float64
		for _, y := range s.Bolts {
			pull := k * s.BoltArea * max(0, y-c)
			pulls, n, m, size = append(pulls, pull), n+pull, m+pull*y, size+pull
		}
		o, err := s.Open(n, 0, m)
		if err != nil {
			t.Fatal(err)
		}
		mirror := s
		mirror.Bolts = nil
		for _, y := range s.Bolts {
			mirror.Bolts = append(mirror.Bolts, s.Depth-y)
		}
		back, err := mirror.Open(n, s.Depth, -m)
		if err != nil {
			t.Fatal(err)
		}
		close := func(what string, got, want, of float64) {
			t.Helper()
			if math.Abs(got-want) > 1e-6*of {
				t.Fatalf("%s: %g, want %g: %+v and, mirrored, %+v", what, got, want, o, back)
			}
		}
		for i := range pulls {
			close("pull", o.Bolts[i], pulls[i], size)
			close("pull, mirrored", back.Bolts[i], pulls[i], size)
		}
		close("pressed", o.Compression, pressed, size)
		close("contact", o.Contact, c, s.Depth)
		close("place", o.At, c/3, s.Depth)
		close("pressed, mirrored", back.Compression, pressed, size)
		close("place, mirrored", back.At, s.Depth-c/3, s.Depth)
		if o.Lever != "presses over a triangle" || back.Lever != "presses over a triangle, far edge" {
			t.Fatalf("%s; mirrored: %s", o.Lever, back.Lever)
		}
	})
}

// TestCrackedSection: one row of bolts bent without a force is a reinforced section that is cracked: with r
// the modular ratio times the steel's share of b d, the axis lies at k d, k = sqrt(2 r + r^2) - r, and the
// steel pulls M / (d (1 - k/3)) (any text on reinforced concrete).
func TestCrackedSection(t *testing.T) {
	const b, d, r, m = 0.3, 0.5, 0.08, 20e3
	k := math.Sqrt(2*r+r*r) - r // 0.3279
	o, err := Section{Depth: 0.56, Width: b, BoltArea: r * b * d, Bolts: []float64{d}}.Open(0, 0, m)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "axis", o.Contact, k*d)
	near(t, "pull", o.Bolts[0], m/(d*(1-k/3)))
}

// TestBoltGroup: 16 kN at 425 mm from the middle of four bolts 150 mm apart along the bar and 120 mm
// across it.
func TestBoltGroup(t *testing.T) {
	const source = "Shigley, Mechanical Engineering Design, bolted cantilever bar: 21.0 kN in the near bolts, 14.8 kN in the far ones; from memory"
	bolts := []Point{{0.075, 0.06}, {0.075, -0.06}, {-0.075, -0.06}, {-0.075, 0.06}}
	shares, err := InPlane(bolts, Point{0, -16e3}, Point{0.425, 0}, 0)
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range []float64{21.0, 21.0, 14.8, 14.8} {
		if got := math.Hypot(shares[i][0], shares[i][1]) / 1e3; math.Abs(got-want) > 0.05 {
			t.Errorf("bolt %d: %.2f kN, want %.1f; source: %s", i+1, got, want, source)
		}
	}
}

// TestInPlaneRigid: the shares balance force and moment, and are those of a plate that moves as a whole:
// equal in its middle, and growing at right angles to the distance from it.
func TestInPlaneRigid(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		draw := func(name string, r float64) float64 { return rapid.Float64Range(-r, r).Draw(t, name) }
		var bolts []Point
		for range rapid.IntRange(2, 6).Draw(t, "bolts") {
			bolts = append(bolts, Point{draw("x", 0.5), draw("y", 0.5)})
		}
		force, at, twist := Point{draw("fx", 1e3), draw("fy", 1e3)}, Point{draw("ax", 1), draw("ay", 1)}, draw("twist", 100)
		shares, err := InPlane(bolts, force, at, twist)
		if err != nil {
			return // bolts in one point
		}
		var sum Point
		moment, size := twist+at[0]*force[1]-at[1]*force[0], 1.0
		for i, s := range shares {
			sum[0], sum[1] = sum[0]+s[0], sum[1]+s[1]
			moment -= bolts[i][0]*s[1] - bolts[i][1]*s[0]
			size += math.Hypot(s[0], s[1])
		}
		if math.Hypot(sum[0]-force[0], sum[1]-force[1]) > 1e-9*size || math.Abs(moment) > 1e-9*size {
			t.Fatalf("%v: off by %g N m, %v N instead of %v", shares, moment, sum, force)
		}
		// Between two bolts the share turns by the same angle: (-dy, dx) times one number for all pairs.
		for i := range bolts {
			for j := range bolts[:i] {
				dx, dy := bolts[i][0]-bolts[j][0], bolts[i][1]-bolts[j][1]
				if along := dx*(shares[i][0]-shares[j][0]) + dy*(shares[i][1]-shares[j][1]); math.Abs(along) > 1e-9*size {
					t.Fatalf("bolts %d and %d move apart: %g", i, j, along)
				}
			}
		}
	})
}

// TestManyFasteners: ten thousand at most.
func TestManyFasteners(t *testing.T) {
	for n, taken := range map[int]bool{maxBolts: true, maxBolts + 1: false} {
		if _, err := InPlane(make([]Point, n), Point{1, 0}, Point{}, 0); (err == nil) != taken {
			t.Errorf("%d in a plane: %v", n, err)
		}
		s := Section{Depth: 1, Bolts: make([]float64, n)}
		if _, err := s.Open(-1, 0.5, 0); (err == nil) != taken {
			t.Errorf("%d in a section: %v", n, err)
		}
	}
}

// TestInPlaneInOnePoint: what has no lever carries no moment, but for rounding: 1e-9 N m for each newton.
func TestInPlaneInOnePoint(t *testing.T) {
	bolts := []Point{{0.1, 0.2}, {0.1, 0.2}}
	for _, c := range []struct {
		force Point
		at    Point
		twist float64
		ok    bool
	}{
		{Point{0, 0}, Point{5, 5}, 0, true},
		{Point{1e6, 0}, Point{0.1, 0.2 + 5e-10}, 0, true},
		{Point{1e6, 0}, Point{0.1, 0.2 + 5e-9}, 0, false},
		{Point{0, -1e6}, Point{0.1 + 5e-10, 0.2}, 0, true},
		{Point{0, -1e6}, Point{0.1 + 5e-9, 0.2}, 0, false},
		{Point{1e6, 1e6}, Point{0.1, 0.2}, 1.5e-3, true},
		{Point{}, Point{}, 1e-8, false},
		{Point{}, Point{}, -1e-8, false},
	} {
		shares, err := InPlane(bolts, c.force, c.at, c.twist)
		if (err == nil) != c.ok {
			t.Errorf("%+v: %v, %v", c, shares, err)
		}
		if err == nil && shares[1] != (Point{c.force[0] / 2, c.force[1] / 2}) {
			t.Errorf("%+v: %v", c, shares)
		}
	}
}

// TestPlateByHand: a plate 40 mm wide and 100 mm high that faces the direction (0.6, 0.8), so that right,
// seen against it, is (-0.8, 0.6). Two screws stand one above the other in its middle, 20 and 80 mm up.
func TestPlateByHand(t *testing.T) {
	p := Plate{Out: Vec{0.6, 0.8, 0}, Up: Vec{0, 0, 1}, Width: 0.04, Height: 0.1, Screws: []Point{{0.02, 0.02}, {0.02, 0.08}}}
	out := func(n float64) Vec { return Vec{0.6 * n, 0.8 * n, 0} }
	middle := Vec{0.02, 0.05, 0}
	for _, c := range []struct {
		name              string
		force, at, moment Vec
		across            [2]Point
		tension           [2]float64
		presses           []Press
	}{
		{"pulled square", out(100), middle, Vec{}, [2]Point{}, [2]float64{50, 50}, nil},
		{"to the right", Vec{-40, 30, 0}, middle, Vec{}, [2]Point{{25, 0}, {25, 0}}, [2]float64{}, nil},
		{"up", Vec{0, 0, 60}, middle, Vec{}, [2]Point{{0, 30}, {0, 30}}, [2]float64{}, nil},
		// 6 N m about out, counterclockwise: 100 N at each screw, 60 mm apart.
		{"twisted", Vec{}, middle, out(6), [2]Point{{100, 0}, {-100, 0}}, [2]float64{}, nil},
		// 100 N pull 20 mm above the middle: 2 N m open the upper edge, T = 2 y / (0.02^2 + 0.08^2).
		{"pulled above", out(100), Vec{0.02, 0.07, 0}, Vec{}, [2]Point{}, [2]float64{50 + 2*0.02/0.0068, 50 + 2*0.08/0.0068}, []Press{{Point{0.02, 0}, 2 * 0.1 / 0.0068}}},
		// 100 N pull 10 mm to the right: 1 N m opens the right edge, 25 N at 20 mm from the left in each screw.
		{"pulled to the right of the middle", out(100), Vec{0.03, 0.05, 0}, Vec{}, [2]Point{}, [2]float64{75, 75}, []Press{{Point{0, 0.05}, 50}}},
		{"pulled to the left of it", out(100), Vec{0.01, 0.05, 0}, Vec{}, [2]Point{}, [2]float64{75, 75}, []Press{{Point{0.04, 0.05}, 50}}},
		// The same by moments: about right (-0.8, 0.6) it opens the upper edge, about up the left one.
		{"moment about right", Vec{}, middle, Vec{-1.6, 1.2, 0}, [2]Point{}, [2]float64{2 * 0.02 / 0.0068, 2 * 0.08 / 0.0068}, []Press{{Point{0.02, 0}, 2 * 0.1 / 0.0068}}},
		{"moment about up", Vec{}, middle, Vec{0, 0, 1}, [2]Point{}, [2]float64{25, 25}, []Press{{Point{0.04, 0.05}, 50}}},
		// 100 N up, 10 mm in front of the wood: 1 N m opens the lower edge, with 80 and 20 mm from the upper one.
		{"up in front", Vec{0, 0, 100}, Vec{0.02, 0.05, 0.01}, Vec{}, [2]Point{{0, 50}, {0, 50}}, [2]float64{0.08 / 0.0068, 0.02 / 0.0068}, []Press{{Point{0.02, 0.1}, 0.1 / 0.0068}}},
		{"pressed", out(-100), Vec{0.01, 0.09, 0}, Vec{}, [2]Point{}, [2]float64{}, []Press{{Point{0.01, 0.09}, 100}}},
		// Pressed 20 mm beside the plate: the wood presses on its edge, and 2 N m open the other one.
		{"pressed beside", out(-100), Vec{0.06, 0.05, 0}, Vec{}, [2]Point{}, [2]float64{50, 50}, []Press{{Point{0.04, 0.05}, 100}, {Point{0.04, 0.05}, 100}}},
		{"pressed below", out(-100), Vec{0.02, -0.02, 0}, Vec{}, [2]Point{}, [2]float64{2 * 0.02 / 0.0068, 2 * 0.08 / 0.0068}, []Press{{Point{0.02, 0}, 100}, {Point{0.02, 0}, 2 * 0.1 / 0.0068}}},
	} {
		pulls, presses, err := p.Share(c.force, c.at, c.moment)
		if err != nil {
			t.Fatalf("%s: %v", c.name, err)
		}
		for i, q := range pulls {
			near(t, c.name+": tension", q.Tension, c.tension[i])
			near(t, c.name+": to the right", q.Across[0], c.across[i][0])
			near(t, c.name+": up", q.Across[1], c.across[i][1])
			near(t, c.name+": lateral", q.Lateral, math.Hypot(c.across[i][0], c.across[i][1]))
		}
		if len(presses) != len(c.presses) {
			t.Fatalf("%s: %+v", c.name, presses)
		}
		for i, q := range presses {
			near(t, c.name+": presses", q.Force, c.presses[i].Force)
			near(t, c.name+": presses at", q.At[0], c.presses[i].At[0])
			near(t, c.name+": presses up", q.At[1], c.presses[i].At[1])
		}
	}
}
