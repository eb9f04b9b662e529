package check_test

import (
	"flag"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"galefast/internal/verdict"

	"pgregory.net/rapid"
)

// drawColumn draws a column of one to three sections.
func drawColumn(t *rapid.T, name string, shapes ...string) column {
	c := column{name: name, turn: float64(rapid.IntRange(-6, 12).Draw(t, "turn")) * 15}
	width := rapid.Float64Range(0.3, 0.9).Draw(t, "width")
	c.foot = [2]float64{width * rapid.Float64Range(0.7, 1.3).Draw(t, "foot x"), width * rapid.Float64Range(0.7, 1.3).Draw(t, "foot y")}
	names := []string{"plinth", "pillar", "cap"}
	for i := range rapid.IntRange(1, 3).Draw(t, "sections") {
		s := section{name: names[i], shape: rapid.SampledFrom(shapes).Draw(t, "shape"),
			width: width, depth: width * rapid.Float64Range(0.8, 1.2).Draw(t, "depth"),
			height: rapid.Float64Range(0.4, 1.2).Draw(t, "height"), mass: rapid.Float64Range(5, 60).Draw(t, "mass")}
		c.sections = append(c.sections, s)
		width *= rapid.Float64Range(0.7, 1).Draw(t, "taper")
	}
	return c
}

var flatShapes = []string{"square", "rectangle", "hexagon", "octagon"}

func drawPlace(t *rapid.T) place {
	return place{
		friction: rapid.Float64Range(0.2, 0.7).Draw(t, "friction"), slope: rapid.Float64Range(0, 0.05).Draw(t, "slope"),
		terrain: rapid.SampledFrom([]string{"B", "C", "D", "II", "III"}).Draw(t, "terrain"), open: -1,
		alone: rapid.Float64Range(5, 25).Draw(t, "gust"), lean: rapid.Float64Range(0, 300).Draw(t, "lean"), at: rapid.Float64Range(0.5, 1.4).Draw(t, "lean at"),
	}
}

// On level ground with the wind alone, every factor goes with one over V squared.
func TestFactorsFallWithTheSquareOfTheGust(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawPlace(t)
		p.slope, p.lean = 0, 0
		c := drawColumn(t, "column", flatShapes...)
		slow := runSite(t, p.toml()+c.toml())
		by := rapid.Float64Range(1.1, 3).Draw(t, "faster by")
		p.alone *= by
		fast := runSite(t, p.toml()+c.toml())
		for _, what := range []string{"overturning", "sliding"} {
			a, b := has(t, slow, "standing/column/"+what), has(t, fast, "standing/column/"+what)
			if !near(a, b*by*by, 1e-6) {
				t.Errorf("%s: %.9g at one gust and %.9g at %.4g times it; the first must be %.9g", what, a, b, by, b*by*by)
			}
		}
	})
}

// Weight laid on the bottom of a column acts within the foot: it never brings the
// column nearer to tipping.
func TestBallastNeverLowersOverturning(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		src := drawPlace(t).toml() + drawColumn(t, "column", append(flatShapes, "round")...).toml()
		last := has(t, runSite(t, src), "standing/column/overturning")
		for _, count := range []int{1, 4, 30} {
			next := has(t, runSite(t, src+loads("column", `section = "plinth"`, count)), "standing/column/overturning")
			if next < last*(1-1e-9) {
				t.Errorf("overturning falls from %.9g to %.9g with %d units", last, next, count)
			}
			last = next
		}
	})
}

// few is rapid.Check for whole sites, which take a good part of a second each.
func few(t *testing.T, property func(*rapid.T)) { draws(t, 3, property) }

// draws is rapid.Check with so many draws.
func draws(t *testing.T, n int, property func(*rapid.T)) {
	checks := flag.Lookup("rapid.checks").Value
	all := checks.String()
	if err := checks.Set(strconv.Itoa(n)); err != nil {
		t.Fatal(err)
	}
	defer checks.Set(all)
	rapid.Check(t, property)
}

// layout is a whole site that can be turned and mirrored.
type layout struct {
	place
	columns []column
	leaf    string // face of the first column that carries a leaf; none when empty
	opens   string
	keeper  string
	sign    bool // a span between the first two columns
	wall    [2][2]float64
	side    string
	braces  bool
	corner  bool // returns at both ends
	toes    int
}

func drawLayout(t *rapid.T) layout {
	l := layout{place: drawPlace(t)}
	l.columns = []column{drawColumn(t, "first", append(flatShapes, "round")...), drawColumn(t, "second", flatShapes...)}
	l.columns[1].at = [2]float64{rapid.Float64Range(3.5, 5).Draw(t, "x"), rapid.Float64Range(-1, 1).Draw(t, "y")}
	l.leaf = rapid.SampledFrom([]string{"", "north", "west", "south"}).Draw(t, "face")
	// A leaf opens to one of its sides, not along itself.
	compass := []string{"east", "north", "west", "south"}
	closed := l.columns[0].turn + 90*float64(slices.Index(compass, l.leaf))
	var sides []string
	for i, side := range compass {
		if math.Abs(math.Sin((90*float64(i)-closed)*math.Pi/180)) > 0.5 {
			sides = append(sides, side)
		}
	}
	l.opens = rapid.SampledFrom(sides).Draw(t, "opens")
	l.keeper = rapid.SampledFrom([]string{"", "keeper = { closed = \"latch\" }\n", "keeper = { closed = \"latch\", open = \"hook\" }\n"}).Draw(t, "keeper")
	l.sign = rapid.Bool().Draw(t, "sign")
	dx, dy := rapid.Float64Range(-3, 3).Draw(t, "dx"), rapid.Float64Range(1, 3).Draw(t, "dy")
	l.wall = [2][2]float64{{1, 8}, {1 + dx, 8 + dy}}
	l.side = rapid.SampledFrom([]string{"left", "right"}).Draw(t, "side")
	l.braces, l.corner, l.toes = rapid.Bool().Draw(t, "braces"), rapid.Bool().Draw(t, "returns"), rapid.IntRange(0, 5).Draw(t, "toes")
	return l
}

func (l layout) tables() []string {
	list := []string{l.columns[0].toml(), l.columns[1].toml()}
	if l.leaf != "" {
		top := 0.0
		for _, s := range l.columns[0].sections {
			top += s.height
		}
		list = append(list, fmt.Sprintf("[[gate]]\nname = \"leaf\"\nhung_on = \"first\"\nface = %q\nopens = %q\nwidth = \"0.8 m\"\nheight = \"%.9f m\"\nclearance = \"0.05 m\"\nsolidity = 0.6\nmass = \"9 kg\"\nopen = \"75 deg\"\n%s",
			l.leaf, l.opens, top*0.8, l.keeper))
	}
	if l.sign {
		list = append(list, "[[span]]\nname = \"sign\"\nbetween = [\"first\", \"second\"]\nunderside = \"0.35 m\"\nface = [\"2 m\", \"0.4 m\"]\nmass = \"8 kg\"\n")
	}
	w := fmt.Sprintf("[[wall]]\nname = \"wall\"\nfrom = [\"%.9f m\", \"%.9f m\"]\nto = [\"%.9f m\", \"%.9f m\"]\nheight = \"1.8 m\"\nfoot = \"0.2 m\"\nmass = \"40 kg\"\nside = %q\n",
		l.wall[0][0], l.wall[0][1], l.wall[1][0], l.wall[1][1], l.side)
	if l.braces {
		w += "braces = { count = 3, reach = \"1 m\", height = \"1.2 m\" }\n"
	}
	if l.corner {
		w += "return = \"0.5 m\"\n"
	}
	list = append(list, w, loads("first", `section = "plinth"`, 4))
	if l.braces {
		list = append(list, loads("wall", `place = "toes"`, l.toes))
	}
	return list
}

func (l layout) toml() string { return l.place.toml() + strings.Join(l.tables(), "") }

// moved applies a map of the plane, of turns and of compass points.
func (l layout) moved(point func([2]float64) [2]float64, turn func(float64) float64, face, opens map[string]string) layout {
	m := l
	m.columns = slices.Clone(l.columns)
	for i := range m.columns {
		m.columns[i].at, m.columns[i].turn = point(m.columns[i].at), turn(m.columns[i].turn)
	}
	m.wall = [2][2]float64{point(l.wall[0]), point(l.wall[1])}
	if face != nil && l.leaf != "" {
		m.leaf = face[l.leaf]
	}
	m.opens = opens[l.opens]
	return m
}

// sameNumbers compares the standing checks of two reports by id.
func sameNumbers(t *rapid.T, a, b *verdict.Report, rename func(string) string) {
	t.Helper()
	x, y := standingOf(a), standingOf(b)
	if len(x) != len(y) {
		t.Fatalf("%d checks became %d", len(x), len(y))
	}
	for _, c := range x {
		d, ok := b.Find(rename(c.ID))
		if !ok {
			t.Fatalf("%s is gone", c.ID)
		}
		if (c.Has == nil) != (d.Has == nil) || c.Has != nil && !near(*c.Has, *d.Has, 1e-6) && math.Abs(*c.Has-*d.Has) > 1e-9 {
			t.Errorf("%s: %v became %v", c.ID, number(c.Has), number(d.Has))
		}
		if *c.Needs != *d.Needs {
			t.Errorf("%s needs %v and then %v", c.ID, *c.Needs, *d.Needs)
		}
	}
	if len(a.Limits.Rows) != len(b.Limits.Rows) {
		t.Fatalf("%d limits became %d", len(a.Limits.Rows), len(b.Limits.Rows))
	}
}

func number(v *float64) string {
	if v == nil {
		return "nothing"
	}
	return fmt.Sprintf("%.9g", *v)
}

func same(id string) string { return id }

// The wind is tried from every side, so it does not matter which way a site looks.
func TestTurnedSite(t *testing.T) {
	few(t, func(t *rapid.T) {
		l := drawLayout(t)
		quarter := l.moved(func(p [2]float64) [2]float64 { return [2]float64{-p[1], p[0]} },
			func(a float64) float64 { return a + 90 }, nil,
			map[string]string{"north": "west", "west": "south", "south": "east", "east": "north"})
		sameNumbers(t, runSite(t, l.toml()), runSite(t, quarter.toml()), same)
	})
}

// What is tried on one hand is tried on the other.
func TestMirroredSite(t *testing.T) {
	few(t, func(t *rapid.T) {
		l := drawLayout(t)
		eastWest := map[string]string{"north": "north", "west": "east", "south": "south", "east": "west"}
		mirrored := l.moved(func(p [2]float64) [2]float64 { return [2]float64{-p[0], p[1]} },
			func(a float64) float64 { return -a }, eastWest, eastWest)
		mirrored.side = map[string]string{"left": "right", "right": "left"}[l.side]
		sameNumbers(t, runSite(t, l.toml()), runSite(t, mirrored.toml()), same)
	})
}

// Names and the order of tables mean nothing.
func TestNamesAndOrder(t *testing.T) {
	few(t, func(t *rapid.T) {
		l := drawLayout(t)
		a := runSite(t, l.toml())
		tables := rapid.Permutation(l.tables()).Draw(t, "order")
		rename := strings.NewReplacer("first", "zebra", "second", "aardvark", "wall", "hedge", "sign", "banner", "leaf", "door")
		src := strings.Join(tables, "")
		for _, name := range []string{"first", "second", "wall", "sign", "leaf"} {
			src = strings.ReplaceAll(src, `"`+name+`"`, `"`+rename.Replace(name)+`"`)
		}
		sameNumbers(t, a, runSite(t, l.place.toml()+src), func(id string) string {
			parts := strings.SplitN(id, "/", 3)
			parts[1] = rename.Replace(parts[1])
			return strings.Join(parts, "/")
		})
	})
}
