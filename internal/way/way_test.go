package way_test

import (
	"math"
	"testing"

	"galefast/internal/way"
)

// box is a rectangle from its south-west corner.
func box(x, y, w, h float64) way.Thing {
	return way.Thing{Name: "box", Outline: []way.Point{{x, y}, {x + w, y}, {x + w, y + h}, {x, y + h}}}
}

// turned is a square of a side about a centre, turned counterclockwise.
func turned(x, y, side, deg float64) way.Thing {
	t := way.Thing{Name: "turned"}
	for _, k := range [4][2]float64{{-1, -1}, {1, -1}, {1, 1}, {-1, 1}} {
		s, c := math.Sincos(deg * math.Pi / 180)
		t.Outline = append(t.Outline, way.Point{x + side/2*(k[0]*c-k[1]*s), y + side/2*(k[0]*s+k[1]*c)})
	}
	return t
}

func thin(x0, y0, x1, y1 float64) way.Thing {
	return way.Thing{Name: "thin", Outline: []way.Point{{x0, y0}, {x1, y1}}}
}

func round(x, y, d float64) way.Thing {
	return way.Thing{Name: "round", Arc: &way.Arc{Center: way.Point{x, y}, Radius: d / 2, Sweep: 2 * math.Pi}}
}

// swing is the tip of a leaf of a length from its hinge, between two directions in degrees.
func swing(x, y, l, from, to float64) way.Thing {
	return way.Thing{Name: "swing", Arc: &way.Arc{Center: way.Point{x, y}, Radius: l, From: from * math.Pi / 180, Sweep: (to - from) * math.Pi / 180}}
}

// hung lifts a thing off the ground.
func hung(t way.Thing, bottom float64) way.Thing {
	t.Bottom = bottom
	return t
}

var north = []way.Point{{0, -10}, {0, 10}}

// Plans drawn by hand on squared paper, each with the sum that gives its clear width.
var plans = []struct {
	name   string
	line   []way.Point
	things []way.Thing
	want   float64 // infinite: nothing on both sides
	sum    string
}{
	{"two boxes", north, []way.Thing{box(-2, 0, 1, 1), box(0.5, 0, 1, 1)}, 1.5, "from x = -1 to x = 0.5"},
	{"the line is not in the middle", []way.Point{{-0.9, -10}, {-0.9, 10}}, []way.Thing{box(-2, 0, 1, 1), box(0.5, 0, 1, 1)}, 1.5, "from x = -1 to x = 0.5, wherever the line runs between"},
	{"one box alone", north, []way.Thing{box(-2, 0, 1, 1)}, math.Inf(1), "nothing on the other side"},
	{"both on one side", north, []way.Thing{box(-2, 0, 1, 1), box(-2, 3, 1, 1)}, math.Inf(1), "nothing on the other side"},
	{"staggered boxes", north, []way.Thing{box(-2, 0, 1, 1), box(2, 5, 1, 1)}, 5, "corners (-1, 1) and (2, 5): sqrt(3² + 4²)"},
	{"far apart along the line", north, []way.Thing{box(-2, -8, 1, 1), box(4, 5, 1, 1)}, 13, "corners (-1, -7) and (4, 5): sqrt(5² + 12²)"},
	{"the narrowest of three gaps", north, []way.Thing{box(-3, -5, 1, 1), box(2, -5, 1, 1), box(-2, 0, 1, 1), box(1, 0, 1, 1), box(-4, 5, 1, 1), box(3, 5, 1, 1)}, 2, "middle pair: from x = -1 to x = 1; the others 4 and 6"},
	{"two squares on their corners", north, []way.Thing{turned(-2, 0, math.Sqrt2, 45), turned(2, 0, math.Sqrt2, 45)}, 2, "half diagonals 1 and 1 of 4"},
	{"a square on its corner beside a box", north, []way.Thing{turned(-2, 0, math.Sqrt2, 45), box(0.5, -2, 1, 4)}, 1.5, "corner x = -2 + 1, side x = 0.5"},
	{"parallel walls", north, []way.Thing{box(-1.6, -5, 0.1, 10), box(1.2, -5, 0.1, 10)}, 2.7, "from x = -1.5 to x = 1.2"},
	{"a funnel that narrows in front", north, []way.Thing{thin(-3, -4, -1, 4), thin(3, -4, 1, 4)}, 2, "ends of the walls, x = -1 to x = 1"},
	{"a funnel that narrows beyond the line", []way.Point{{0, -10}, {0, 0}}, []way.Thing{thin(-3, -4, -1, 4), thin(3, -4, 1, 4)}, 4, "at the end of the line, y = 0: x = -2 to x = 2"},
	{"two round columns", north, []way.Thing{round(-1.5, 0, 1), round(1.5, 0, 1)}, 2, "3 between the middles, two radii of 0.5"},
	{"round columns across a slant", north, []way.Thing{round(-3, 0, 2), round(3, 8, 2)}, 8, "sqrt(6² + 8²) - 1 - 1"},
	{"a round column and a box", north, []way.Thing{round(-2, 0.5, 1), box(1, 0, 1, 1)}, 2.5, "from -2 + 0.5 to 1"},
	{"a round column and a corner", north, []way.Thing{round(-2, 0, 2), box(1, 4, 1, 1)}, 4, "middle (-2, 0) to corner (1, 4) is 5, radius 1"},
	{"open leaves", north, []way.Thing{box(-2, -0.5, 1, 1), box(1, -0.5, 1, 1), box(-1, 0, 0.04, 1), box(0.96, 0, 0.04, 1)}, 1.92, "2 between the posts, two leaves of 0.04 along their faces"},
	{"a leaf that nothing holds", north, []way.Thing{box(-2, -0.5, 1, 1), box(1, -0.5, 1, 1), swing(1, 0, 0.8, 90, 180)}, 1.2, "tip at x = 1 - 0.8 when closed, post at x = -1"},
	{"two leaves that nothing holds", north, []way.Thing{swing(-1, 0, 0.9, 0, 90), swing(1, 0, 0.8, 90, 180)}, 0.3, "closed tips at x = -0.1 and x = 0.2"},
	{"a leaf that swings past a corner", north, []way.Thing{swing(2, 0, 1, 90, 180), box(-2, 0.5, 1, 1)}, math.Hypot(3, 0.5) - 1, "hinge (2, 0) to corner (-1, 0.5), less the leaf of 1"},
	{"two swings of which one turns away", north, []way.Thing{swing(-2, 0, 1, 0, 90), swing(2, 3, 1, 90, 180)}, math.Hypot(3, 3) - 1, "hinge (-2, 0) to the other's tip when shut, (1, 3), less the leaf of 1"},
	{"two swings that turn away", north, []way.Thing{swing(-2, 0, 1, 90, 135), swing(2, 0, 1, 45, 90)}, 4, "tips at (-2, 1) and (2, 1)"},
	{"the line starts inside a swing", []way.Point{{0.5, 0.5}, {5, 5}}, []way.Thing{swing(0, 0, 1, 0, 90)}, 0, "sqrt(0.5² + 0.5²) is less than 1"},
	{"the line runs into a box", north, []way.Thing{box(-0.5, 0, 1, 1), box(2, 0, 1, 1)}, 0, "it stands on the line"},
	{"a leaf that can shut", north, []way.Thing{swing(0.5, 0, 1, 90, 180)}, 0, "the tip crosses x = 0"},
	{"a bend round a corner", []way.Point{{-1, -10}, {-1, 1}, {10, 1}}, []way.Thing{box(0, -10, 10, 10), box(-12, -10, 10, 12), box(-2, 2, 12, 10)}, 2, "2 wide in both legs; the outer corner is open to neither"},
	{"a bend whose outer walls are alone", []way.Point{{-1, -10}, {-1, 1}, {10, 1}}, []way.Thing{thin(-2, -10, -2, 2), thin(-2, 2, 10, 2)}, math.Inf(1), "nothing inside the bend"},
	{"a pocket", []way.Point{{-4, 1}, {0, 0.5}, {4, 1}}, []way.Thing{thin(-2, 2, 0, 0), thin(0, 0, 2, 2)}, 0, "the line runs through the two walls"},
	{"there and back in one lane", []way.Point{{-0.3, -5}, {-0.3, 5}, {0.3, 5}, {0.3, -5}}, []way.Thing{box(-2, -1, 1, 1), box(1, -1, 1, 1)}, 2, "both legs run in one gap from x = -1 to x = 1"},
	{"what hangs high does not count", north, []way.Thing{box(-2, 0, 1, 1), hung(box(0.2, 0, 1, 1), 2.1), box(0.5, 0, 1, 1)}, 1.5, "the box at x = 0.2 hangs above 2.032"},
	{"what hangs low does count", north, []way.Thing{box(-2, 0, 1, 1), hung(box(0.2, 0, 1, 1), 1.9), box(0.5, 0, 1, 1)}, 1.2, "the box at x = 0.2 hangs below 2.032"},
	{"a sign over the line does not narrow it", north, []way.Thing{box(-2, 0, 1, 1), hung(box(-1, 0.4, 1.5, 0.1), 1.9), box(0.5, 0, 1, 1)}, 1.5, "that is headroom"},
	{"boards that touch on one side", north, []way.Thing{box(-2, 0, 1, 1), box(-2, 1, 1.2, 1), box(1, 0, 1, 3)}, 1.8, "the second is 0.2 wider: x = -0.8 to x = 1"},
	{"the end of a wall ahead", []way.Point{{0, -5}, {0, 0}}, []way.Thing{box(-3, 1, 6, 1), box(1, -4, 1, 1)}, math.Inf(1), "a wall across beyond the end bounds no side"},
}

const height, overhead = 2.032, 0.686

func clear(t *testing.T, line []way.Point, things []way.Thing) float64 {
	t.Helper()
	n, found, err := way.Clear(line, things, height, overhead)
	if err != nil {
		t.Fatal(err)
	}
	if !found {
		return math.Inf(1)
	}
	if d := math.Hypot(n.From[0]-n.To[0], n.From[1]-n.To[1]); math.Abs(d-n.Width) > 1e-9 {
		t.Errorf("width %.9g, and its tape is %.9g long", n.Width, d)
	}
	return n.Width
}

func same(a, b float64) bool {
	return a == b || math.Abs(a-b) <= 1e-9*(1+math.Abs(b))
}

func TestPlansByHand(t *testing.T) {
	for _, p := range plans {
		if got := clear(t, p.line, p.things); !same(got, p.want) {
			t.Errorf("%s: width %.6f, by hand %.6f (%s)", p.name, got, p.want, p.sum)
		}
	}
}

// moved turns, mirrors and shifts a plan.
func moved(p way.Point, deg float64, mirrored bool) way.Point {
	if mirrored {
		p[0] = -p[0]
	}
	s, c := math.Sincos(deg * math.Pi / 180)
	return way.Point{100 + c*p[0] - s*p[1], -50 + s*p[0] + c*p[1]}
}

func movedThing(t way.Thing, deg float64, mirrored bool) way.Thing {
	out := t
	out.Outline = nil
	for _, p := range t.Outline {
		out.Outline = append(out.Outline, moved(p, deg, mirrored))
	}
	if mirrored {
		for i, k := 0, len(out.Outline)-1; i < k; i, k = i+1, k-1 {
			out.Outline[i], out.Outline[k] = out.Outline[k], out.Outline[i]
		}
	}
	if t.Arc != nil {
		a := *t.Arc
		a.Center = moved(a.Center, deg, mirrored)
		if mirrored {
			a.From = math.Pi - a.From - a.Sweep
		}
		a.From += deg * math.Pi / 180
		out.Arc = &a
	}
	return out
}

// A plan that is mirrored, turned, walked the other way, or told in another order has the
// same width.
func TestWidthIsOfThePlanAlone(t *testing.T) {
	for _, p := range plans {
		for _, deg := range []float64{0, 30, 90, 137, 180, 271} {
			for _, mirrored := range []bool{false, true} {
				var line []way.Point
				for _, q := range p.line {
					line = append(line, moved(q, deg, mirrored))
				}
				var things []way.Thing
				for _, x := range p.things {
					things = append(things, movedThing(x, deg, mirrored))
				}
				check := func(what string) {
					if got := clear(t, line, things); math.Abs(got-p.want) > 1e-7 && got != p.want {
						t.Errorf("%s, turned %.0f°, mirrored %t, %s: width %.9f, want %.9f (%s)", p.name, deg, mirrored, what, got, p.want, p.sum)
					}
				}
				check("as drawn")
				for i, k := 0, len(line)-1; i < k; i, k = i+1, k-1 {
					line[i], line[k] = line[k], line[i]
				}
				check("walked the other way")
				for i, k := 0, len(things)-1; i < k; i, k = i+1, k-1 {
					things[i], things[k] = things[k], things[i]
				}
				check("in another order")
			}
		}
	}
}

func TestHeadroom(t *testing.T) {
	sign := func(y, bottom float64) way.Thing { return hung(thin(-2, y, 2, y), bottom) }
	for _, c := range []struct {
		name   string
		things []way.Thing
		want   float64
		at     way.Point
	}{
		{"a sign across", []way.Thing{sign(1, 2.4)}, 2.4, way.Point{0, 1}},
		{"the lower of two", []way.Thing{sign(1, 2.4), sign(3, 2.2), sign(5, 2.3)}, 2.2, way.Point{0, 3}},
		{"a sign beside the line", []way.Thing{hung(thin(0.5, 0, 2, 0), 1.8)}, 0, way.Point{}},
		{"a sign beyond its end", []way.Thing{sign(11, 1.8)}, 0, way.Point{}},
		{"what bars the way hangs over nothing", []way.Thing{sign(1, 0.5)}, 0, way.Point{}},
		{"an overhanging cap", []way.Thing{hung(box(-1, 2, 1.5, 1), 2.1)}, 2.1, way.Point{0, 2}},
	} {
		low, found, err := way.Headroom(north, c.things, overhead)
		if err != nil || found != (c.want > 0) || found && (low.Height != c.want || low.At != c.at) {
			t.Errorf("%s: %+v, %t, %v; want %g at %v", c.name, low, found, err, c.want, c.at)
		}
	}
}

func TestCrossings(t *testing.T) {
	line := []way.Point{{0, 0}, {0, 10}, {10, 10}}
	for _, c := range []struct {
		name  string
		route []way.Point
		want  []way.Crossing
	}{
		{"straight across", []way.Point{{-2, 3}, {2, 3}}, []way.Crossing{{At: way.Point{0, 3}, Along: 3, Route: 2}}},
		{"beside it", []way.Point{{-2, 3}, {-1, 3}}, nil},
		{"across both legs", []way.Point{{-2, 4}, {4, 4}, {4, 12}}, []way.Crossing{{At: way.Point{0, 4}, Along: 4, Route: 2}, {At: way.Point{4, 10}, Along: 14, Route: 12}}},
		{"to and fro", []way.Point{{-1, 2}, {1, 2}, {1, 5}, {-1, 5}}, []way.Crossing{{At: way.Point{0, 2}, Along: 2, Route: 1}, {At: way.Point{0, 5}, Along: 5, Route: 6}}},
		{"through the bend, once", []way.Point{{-2, 8}, {2, 12}}, []way.Crossing{{At: way.Point{0, 10}, Along: 10, Route: math.Hypot(2, 2)}}},
		{"it ends on the line", []way.Point{{-2, 3}, {0, 3}}, []way.Crossing{{At: way.Point{0, 3}, Along: 3, Route: 2}}},
		{"a bend of the route on the line, once", []way.Point{{-2, 3}, {0, 3}, {2, 5}}, []way.Crossing{{At: way.Point{0, 3}, Along: 3, Route: 2}}},
	} {
		got := way.Crossings(line, c.route)
		if len(got) != len(c.want) {
			t.Errorf("%s: %+v, want %+v", c.name, got, c.want)
			continue
		}
		for i := range got {
			g, w := got[i], c.want[i]
			if !same(g.At[0], w.At[0]) || !same(g.At[1], w.At[1]) || !same(g.Along, w.Along) || !same(g.Route, w.Route) {
				t.Errorf("%s: %+v, want %+v", c.name, got, c.want)
			}
		}
	}
}

func TestAhead(t *testing.T) {
	start, end := way.Ahead(north, []way.Thing{box(-1, 13, 2, 1), hung(box(-1, 11, 2, 1), 2.5), box(2, -12, 1, 1)}, height)
	if end != 3 || !math.IsInf(start, 1) {
		t.Errorf("free ahead %g and %g, want nothing behind and the box 3 m beyond the end", start, end)
	}
}

func TestApart(t *testing.T) {
	for _, c := range []struct {
		thing way.Thing
		want  float64
	}{
		{box(2, 0, 1, 1), 2}, {box(3, 14, 1, 1), 5}, {round(2, 0, 1), 1.5}, {thin(-3, 0, -1, 1), 1}, {box(-1, 0, 2, 1), 0},
		{swing(2, 0, 1, 90, 180), 1},
	} {
		if d, a, b := way.Apart(north, &c.thing); !same(d, c.want) || !same(d, math.Hypot(a[0]-b[0], a[1]-b[1])) {
			t.Errorf("%+v: %g from the line by %v and %v, want %g", c.thing, d, a, b, c.want)
		}
	}
}

// What is no number, or too far for a plan, is refused by name.
func TestRefuses(t *testing.T) {
	for _, bad := range []float64{math.NaN(), math.Inf(1), math.Inf(-1), 1e7} {
		arc := round(1, 0, 1)
		arc.Arc.Sweep = bad
		for _, c := range []struct {
			line   []way.Point
			things []way.Thing
		}{
			{[]way.Point{{0, 0}, {bad, 1}}, nil}, {north, []way.Thing{box(bad, 0, 1, 1)}}, {north, []way.Thing{arc}}, {north, []way.Thing{hung(box(1, 0, 1, 1), bad)}},
		} {
			if _, _, err := way.Clear(c.line, c.things, height, overhead); err != way.ErrNumbers {
				t.Errorf("clear width with %g: %v", bad, err)
			}
			if _, _, err := way.Headroom(c.line, c.things, overhead); err != way.ErrNumbers {
				t.Errorf("headroom with %g: %v", bad, err)
			}
		}
	}
}

func TestLength(t *testing.T) {
	if l := way.Length([]way.Point{{0, 0}, {3, 4}, {3, 5}}); l != 6 {
		t.Errorf("a line of 5 m and 1 m is %g m long", l)
	}
}
