package way_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	_ "galefast/internal/steady"
	"galefast/internal/way"
)

// rim are points around a thing, no more than step apart.
func rim(t way.Thing, step float64) []way.Point {
	var list []way.Point
	n := len(t.Outline)
	for i, a := range t.Outline {
		b := t.Outline[(i+1)%n]
		k := int(math.Ceil(math.Hypot(b[0]-a[0], b[1]-a[1])/step)) + 1
		for s := range k {
			f := float64(s) / float64(k)
			list = append(list, way.Point{a[0] + f*(b[0]-a[0]), a[1] + f*(b[1]-a[1])})
		}
	}
	if c := t.Arc; c != nil {
		k := int(math.Ceil(c.Radius*c.Sweep/step)) + 1
		for s := range k + 1 {
			sin, cos := math.Sincos(c.From + c.Sweep*float64(s)/float64(k))
			list = append(list, way.Point{c.Center[0] + c.Radius*cos, c.Center[1] + c.Radius*sin})
		}
	}
	return list
}

// Against a dense sampling that knows none of the geometry: points on the rims of
// everything, the shortest distance from one left of the line to one right of it. Lines
// bend within 20 degrees of north, and run on beyond all things.
func TestRandomPlansAgainstSampling(t *testing.T) {
	const step = 0.02
	rapid.Check(t, func(t *rapid.T) {
		line := []way.Point{{0, -60}, {0, -12}}
		for y := -12.0; y < 12; {
			dy := rapid.Float64Range(2, 10).Draw(t, "dy")
			dx := rapid.Float64Range(-0.36, 0.36).Draw(t, "slope") * dy
			last := line[len(line)-1]
			line = append(line, way.Point{last[0] + dx, last[1] + dy})
			y += dy
		}
		last := line[len(line)-1]
		line = append(line, way.Point{last[0], 60})
		east := func(p way.Point) float64 { // how far right of the line
			for k := 0; k+1 < len(line); k++ {
				if a, b := line[k], line[k+1]; p[1] >= a[1] && p[1] <= b[1] {
					return p[0] - a[0] - (b[0]-a[0])*(p[1]-a[1])/(b[1]-a[1])
				}
			}
			return math.NaN()
		}
		var things []way.Thing
		for range rapid.IntRange(2, 7).Draw(t, "things") {
			x, y := rapid.Float64Range(-6, 6).Draw(t, "x"), rapid.Float64Range(-9, 9).Draw(t, "y")
			switch rapid.IntRange(0, 3).Draw(t, "kind") {
			case 0:
				things = append(things, round(x, y, rapid.Float64Range(0.2, 2).Draw(t, "d")))
			case 1:
				from := rapid.Float64Range(0, 360).Draw(t, "from")
				things = append(things, thin(x, y, x+math.Cos(from), y+math.Sin(from)))
			case 2: // a triangle
				s := rapid.Float64Range(0.2, 3).Draw(t, "side")
				things = append(things, way.Thing{Outline: []way.Point{{x, y}, {x + s, y}, {x + rapid.Float64Range(-1, 1).Draw(t, "tip"), y + s}}})
			default:
				things = append(things, turned(x, y, rapid.Float64Range(0.2, 3).Draw(t, "side"), rapid.Float64Range(0, 90).Draw(t, "turn")))
			}
		}
		rims := make([][]way.Point, len(things))
		on, close := false, false
		for i, x := range things {
			rims[i] = rim(x, step)
			least, most := math.Inf(1), math.Inf(-1)
			for _, p := range rims[i] {
				least, most = math.Min(least, east(p)), math.Max(most, east(p))
			}
			on = on || least < 0 && most > 0
			close = close || math.Min(math.Abs(least), math.Abs(most)) < step
		}
		n, found, err := way.Clear(line, things, height, overhead)
		if err != nil {
			t.Fatal(err)
		}
		if close {
			return // the sampling cannot tell whether it stands on the line
		}
		if n.Blocked != on {
			t.Fatalf("blocked %t, and by the sampling %t", n.Blocked, on)
		}
		if on {
			return
		}
		want := math.Inf(1)
		for i := range rims {
			for k := range i {
				d := math.Inf(1)
				for _, p := range rims[i] {
					for _, q := range rims[k] {
						d = math.Min(d, math.Hypot(p[0]-q[0], p[1]-q[1]))
					}
				}
				// From the same side the line may bulge in between them: how far, at every tape
				// that is about as short.
				same := east(rims[i][0])*east(rims[k][0]) > 0
				least, most := math.Inf(1), math.Inf(-1)
				for _, a := range rims[i] {
					for _, b := range rims[k] {
						if !same || math.Hypot(a[0]-b[0], a[1]-b[1]) > d+step {
							continue
						}
						bulge := -math.Inf(1)
						for _, v := range line {
							if f := (v[1] - a[1]) / (b[1] - a[1]); f > 0 && f < 1 {
								bulge = math.Max(bulge, -east(way.Point{a[0] + f*(b[0]-a[0]), v[1]})*math.Copysign(1, east(a)))
							}
						}
						least, most = math.Min(least, bulge), math.Max(most, bulge)
					}
				}
				if same && most > -2*step && least < 2*step {
					return // the sampling cannot tell
				}
				same = same && most < 0
				if !same && d > step {
					want = math.Min(want, d)
				}
			}
		}
		got := math.Inf(1)
		if found {
			got = n.Width
		}
		if got > want+1e-9 || got < want-step && !math.IsInf(want, 1) || math.IsInf(want, 1) && found {
			t.Fatalf("width %.6f between %d and %d, by the sampling %.6f", got, n.A, n.B, want)
		}
	})
}

// Whatever comes in, no number that goes out is missing.
func FuzzClear(f *testing.F) {
	f.Add(0.0, -10.0, 0.0, 10.0, -2.0, 0.0, 1.0, 1.0, 2.0, 0.0, 0.5, 0.0, 6.0)
	f.Add(0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0)
	f.Add(1.0, 1.0, 1.0, 2.0, 1.0, 1.0, 0.0, 0.0, 1.0, 1.5, 0.5, 3.0, -1.0)
	f.Fuzz(func(t *testing.T, ax, ay, bx, by, x, y, w, h, cx, cy, r, from, sweep float64) {
		line := []way.Point{{ax, ay}, {bx, by}, {by, ax}}
		things := []way.Thing{box(x, y, w, h), round(cx, cy, r), thin(cx, y, x, cy),
			{Arc: &way.Arc{Center: way.Point{x, cy}, Radius: r, From: from, Sweep: sweep}, Bottom: h}}
		fine := func(v ...float64) bool {
			for _, x := range v {
				if math.IsNaN(x) || math.IsInf(x, 0) {
					return false
				}
			}
			return true
		}
		n, found, err := way.Clear(line, things, height, overhead)
		if err == nil && found && (!fine(n.Width, n.From[0], n.From[1], n.To[0], n.To[1], n.Along) || n.Width < 0) {
			t.Errorf("%+v", n)
		}
		if low, found, err := way.Headroom(line, things, overhead); err == nil && found && !fine(low.Height, low.At[0], low.At[1]) {
			t.Errorf("%+v", low)
		}
		if err != nil {
			return
		}
		for _, c := range way.Crossings(line, []way.Point{{x, y}, {cx, cy}, {w, h}}) {
			if !fine(w, h) {
				break
			}
			if !fine(c.At[0], c.At[1], c.Along, c.Route) {
				t.Errorf("%+v", c)
			}
		}
		if start, end := way.Ahead(line, things, height); math.IsNaN(start) || math.IsNaN(end) || start < 0 || end < 0 {
			t.Errorf("free ahead %g and %g", start, end)
		}
		for i := range things {
			if d, _, _ := way.Apart(line, &things[i]); math.IsNaN(d) || d < 0 {
				t.Errorf("thing %d is %g from the line", i, d)
			}
		}
	})
}
