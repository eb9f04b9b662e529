package site

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// load reads a description without problems.
func load(t interface {
	Helper()
	Fatalf(string, ...any)
}, src string) *File {
	t.Helper()
	f, problems := Load("site.toml", []byte(src))
	if f == nil {
		var b strings.Builder
		_ = problems.Write(&b, []byte(src), false)
		t.Fatalf("%s\n%s", b.String(), src)
	}
	return f
}

const tiny = 1e-9

func near(a, b [2]float64) bool { return math.Hypot(a[0]-b[0], a[1]-b[1]) < tiny }

func inside(p Polygon, v [2]float64) bool {
	for i := range p {
		j := (i + 1) % len(p)
		if (p[j][0]-p[i][0])*(v[1]-p[i][1])-(p[j][1]-p[i][1])*(v[0]-p[i][0]) < 0 {
			return false
		}
	}
	return true
}

// Two outlines overlap exactly when some point of a fine grid over one lies in both, and
// moving one by the penetration, in the best of many directions, just clears them.
func TestPenetration(t *testing.T) {
	box := func(t *rapid.T, name string) Polygon {
		f := func(what string, lo, hi float64) float64 { return rapid.Float64Range(lo, hi).Draw(t, name+what) }
		return rectangle([2]float64{f("x", -2, 2), f("y", -2, 2)}, f("w", 0.2, 3), f("d", 0.2, 3), f("turn", -4, 4))
	}
	overlaps := func(a, b Polygon) bool {
		const n = 60
		for i := range n + 1 {
			for k := range n + 1 {
				s, u := float64(i)/n, float64(k)/n
				v := [2]float64{
					a[0][0] + s*(a[1][0]-a[0][0]) + u*(a[3][0]-a[0][0]),
					a[0][1] + s*(a[1][1]-a[0][1]) + u*(a[3][1]-a[0][1]),
				}
				if inside(b, v) {
					return true
				}
			}
		}
		return false
	}
	moved := func(p Polygon, by, direction float64) Polygon {
		s, c := math.Sincos(direction)
		q := make(Polygon, len(p))
		for i, v := range p {
			q[i] = [2]float64{v[0] + by*c, v[1] + by*s}
		}
		return q
	}
	rapid.Check(t, func(t *rapid.T) {
		a, b := box(t, "a "), box(t, "b ")
		depth := penetration(a, b)
		if back := penetration(b, a); math.Abs(back-depth) > tiny {
			t.Fatalf("%g one way, %g the other", depth, back)
		}
		const grid = 0.1 // coarser overlaps than this may fall between the points
		switch {
		case depth <= 0:
			if overlaps(a, b) {
				t.Fatalf("penetration %g, yet a point lies in both", depth)
			}
			return
		case depth > grid && !overlaps(a, b):
			t.Fatalf("penetration %g, yet no point of the grid lies in both", depth)
		}
		clear := math.Inf(1)
		const directions = 720
		for i := range directions {
			direction := 2 * math.Pi * float64(i) / directions
			if penetration(moved(a, depth*(1-1e-6), direction), b) <= 0 {
				t.Fatalf("less than the penetration %g clears the outlines", depth)
			}
			// The distance in this direction, by halving.
			lo, hi := depth/2, 20.0
			for range 40 {
				mid := (lo + hi) / 2
				if penetration(moved(a, mid, direction), b) <= 0 {
					hi = mid
				} else {
					lo = mid
				}
			}
			clear = math.Min(clear, hi)
		}
		if clear < depth*(1-1e-6) || clear > depth*1.001 {
			t.Fatalf("penetration %g, yet %g is the least that clears", depth, clear)
		}
	})
}

// twoPiers are columns of 0.6 m at (0,0) and (3,0), turned as told.
func twoPiers(turn, gate string) string {
	column := func(name, x string) string {
		return fmt.Sprintf(`
[[column]]
name = %q
at = [%q, "0 m"]
foot = ["0.6 m", "0.6 m"]
turn = %q

[[column.section]]
name = "plinth"
width = "0.8 m"
height = "0.5 m"
mass = "30 kg"

[[column.section]]
name = "pillar"
shape = "rectangle"
width = "0.6 m"
depth = "0.4 m"
height = "2 m"
mass = "30 kg"
`, name, x, turn)
	}
	return "[site]\ngust_alone = \"15 m/s\"\n" + column("first", "0 m") + column("second", "3 m") + gate
}

func leafOf(t *testing.T, turn, keys string) Leaf {
	f := load(t, twoPiers(turn, "[[gate]]\nname = \"leaf\"\nhung_on = \"first\"\nwidth = \"1 m\"\nheight = \"1.2 m\"\nclearance = \"0.1 m\"\nmass = \"9 kg\"\n"+keys))
	leaf, ok := f.Leaf(&f.Gates[0])
	if !ok {
		t.Fatal("the leaf has no place")
	}
	return leaf
}

// The leaf hangs on the pillar, 0.6 m by 0.4 m, since its middle is at 0.7 m.
func TestLeaf(t *testing.T) {
	r := math.Sqrt2 / 2
	tests := []struct {
		name, turn, keys string
		hinge            [2]float64
		closed, open     [2]float64 // directions
	}{
		{"east face, opens north", "0 deg", "face = \"east\"\n", [2]float64{0.3, 0}, [2]float64{1, 0}, [2]float64{0, 1}},
		{"east face, opens south", "0 deg", "face = \"east\"\nopens = \"south\"\n", [2]float64{0.3, 0}, [2]float64{1, 0}, [2]float64{0, -1}},
		{"west face, opens north", "0 deg", "face = \"west\"\nopens = \"north\"\n", [2]float64{-0.3, 0}, [2]float64{-1, 0}, [2]float64{0, 1}},
		{"north face, opens east", "0 deg", "face = \"north\"\nopens = \"east\"\n", [2]float64{0, 0.2}, [2]float64{0, 1}, [2]float64{1, 0}},
		{"south face, opens west", "0 deg", "face = \"south\"\nopens = \"west\"\n", [2]float64{0, -0.2}, [2]float64{0, -1}, [2]float64{-1, 0}},
		{"east face turned 90", "90 deg", "face = \"east\"\nopens = \"west\"\n", [2]float64{0, 0.3}, [2]float64{0, 1}, [2]float64{-1, 0}},
		{"east face turned 45", "45 deg", "face = \"east\"\nopens = \"north\"\n", [2]float64{0.3 * r, 0.3 * r}, [2]float64{r, r}, [2]float64{-r, r}},
		{"follows the way", "0 deg", "face = \"east\"\n[[way]]\nname = \"w\"\nline = [[\"1 m\", \"9 m\"], [\"1 m\", \"-9 m\"]]\n", [2]float64{0.3, 0}, [2]float64{1, 0}, [2]float64{0, -1}},
	}
	direction := func(angle float64) [2]float64 { return [2]float64{math.Cos(angle), math.Sin(angle)} }
	for _, tt := range tests {
		leaf := leafOf(t, tt.turn, tt.keys)
		if !near(leaf.Hinge, tt.hinge) {
			t.Errorf("%s: hinge at %v, want %v", tt.name, leaf.Hinge, tt.hinge)
		}
		if got := direction(leaf.Direction(0)); !near(got, tt.closed) {
			t.Errorf("%s: closed leaf points to %v, want %v", tt.name, got, tt.closed)
		}
		if got := direction(leaf.Direction(math.Pi / 2)); !near(got, tt.open) {
			t.Errorf("%s: open leaf points to %v, want %v", tt.name, got, tt.open)
		}
	}
}

func TestSize(t *testing.T) {
	f := load(t, twoPiers("0 deg", ""))
	c := &f.Columns[0]
	for i, want := range [][2]float64{{0.8, 0.8}, {0.6, 0.4}} {
		if w, d := c.Sections[i].Size(); !near([2]float64{w, d}, want) {
			t.Errorf("section %d is %g by %g, want %v", i, w, d, want)
		}
	}
	if math.Abs(c.Top()-2.5) > tiny || math.Abs(c.Bottom(1)-0.5) > tiny || c.Bottom(0) != 0 {
		t.Errorf("top %g, bottoms %g and %g", c.Top(), c.Bottom(0), c.Bottom(1))
	}
	for z, want := range map[float64]string{-1: "plinth", 0: "plinth", 0.49: "plinth", 0.5: "pillar", 9: "pillar"} {
		if got := c.sectionAt(z).Name.V; got != want {
			t.Errorf("at %g m stands the %s, want the %s", z, got, want)
		}
	}
}

func TestSpanLine(t *testing.T) {
	f := load(t, twoPiers("0 deg", "[[span]]\nname = \"sign\"\nbetween = [\"second\", \"first\"]\nunderside = \"2 m\"\nface = [\"2 m\", \"0.3 m\"]\nmass = \"5 kg\"\n"))
	middle, turn := f.SpanLine(&f.Spans[0])
	if !near(middle, [2]float64{1.5, 0}) || math.Abs(math.Abs(turn)-math.Pi) > tiny {
		t.Errorf("middle %v, turn %g; want (1.5, 0) and west", middle, turn)
	}
}

// A wall of 4 m from (1, 1) to the north: its left is west.
func wallOf(t *testing.T, keys string) *Wall {
	f := load(t, "[site]\ngust_alone = \"15 m/s\"\n[[wall]]\nname = \"w\"\nfrom = [\"1 m\", \"1 m\"]\nto = [\"1 m\", \"5 m\"]\nheight = \"2 m\"\nthickness = \"0.1 m\"\nmass = \"50 kg\"\n"+keys)
	return &f.Walls[0]
}

func TestWall(t *testing.T) {
	const braces = "braces = { count = 2, reach = \"1.2 m\", height = \"1.5 m\" }\n"
	tests := []struct {
		name, keys string
		aside      [2]float64 // PointAt(1, 0.5)
		toes       [][2]float64
		bearing    int
		extreme    [2]float64 // a point on which it bears, beside the sill
	}{
		{"bare", "", [2]float64{0.5, 2}, nil, 4, [2]float64{0.95, 1}},
		{"sill", "foot = \"0.4 m\"\n", [2]float64{0.5, 2}, nil, 4, [2]float64{0.8, 1}},
		{"braced on the left", braces, [2]float64{0.5, 2}, [][2]float64{{-0.2, 2}, {-0.2, 4}}, 6, [2]float64{-0.2, 4}},
		{"braced on the right", braces + "side = \"right\"\n", [2]float64{1.5, 2}, [][2]float64{{2.2, 2}, {2.2, 4}}, 6, [2]float64{2.2, 2}},
		{"returns on the right", "return = \"0.7 m\"\nside = \"right\"\n", [2]float64{1.5, 2}, nil, 6, [2]float64{1.7, 5}},
	}
	for _, tt := range tests {
		w := wallOf(t, tt.keys)
		if got := w.PointAt(1, 0.5); !near(got, tt.aside) {
			t.Errorf("%s: a point is at %v, want %v", tt.name, got, tt.aside)
		}
		toes := w.Toes()
		if len(toes) != len(tt.toes) {
			t.Errorf("%s: %d toes, want %d", tt.name, len(toes), len(tt.toes))
			continue
		}
		for i := range toes {
			if !near(toes[i], tt.toes[i]) {
				t.Errorf("%s: toe %d at %v, want %v", tt.name, i, toes[i], tt.toes[i])
			}
		}
		bearing, found := w.Bearing(), false
		for _, p := range bearing {
			found = found || near(p, tt.extreme)
		}
		if len(bearing) != tt.bearing || !found {
			t.Errorf("%s: bears on %v, want %d points with %v", tt.name, bearing, tt.bearing, tt.extreme)
		}
		if _, along, left, length := w.Frame(); !near(along, [2]float64{0, 1}) || !near(left, [2]float64{-1, 0}) || math.Abs(length-4) > tiny {
			t.Errorf("%s: along %v, left %v, length %g", tt.name, along, left, length)
		}
	}
}

// An opening is found whatever the direction of the pair, and a leaf that just fits is
// not reported.
func TestOpenings(t *testing.T) {
	gates := func(a, b float64) string {
		return fmt.Sprintf("[[gate]]\nname = \"a\"\nhung_on = \"first\"\nface = \"east\"\nwidth = \"%g mm\"\nheight = \"1.2 m\"\nmass = \"9 kg\"\n"+
			"[[gate]]\nname = \"b\"\nhung_on = \"second\"\nface = \"west\"\nwidth = \"%g mm\"\nheight = \"1.2 m\"\nmass = \"9 kg\"\n", a, b)
	}
	// The pillars stand 3 m apart, less twice 0.3 m.
	for _, tt := range []struct {
		a, b  float64
		wrong int
	}{{1200, 1200, 0}, {1200, 1204, 0}, {1200, 1210, 1}, {2000, 500, 1}, {2405, 2405, 1}} {
		_, problems := Load("x", []byte(twoPiers("0 deg", gates(tt.a, tt.b))))
		if len(problems) != tt.wrong {
			t.Errorf("leaves of %g and %g mm in 2400 mm: %v", tt.a, tt.b, problems)
		}
	}
}
