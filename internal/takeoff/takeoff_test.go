package takeoff

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"galefast/internal/site"
	_ "galefast/internal/steady"

	"pgregory.net/rapid"
)

const (
	pound = 0.45359237 // kg
	foot  = 0.3048     // m
	inch  = 0.0254     // m
)

type tester interface {
	Helper()
	Fatalf(format string, args ...any)
}

// take loads and weighs a description.
func take(t tester, src string) (*Takeoff, site.Problems) {
	t.Helper()
	f, problems := site.Load("site.toml", []byte(src))
	if f == nil {
		t.Fatalf("the description was refused: %v\n%s", problems, src)
	}
	return Take(f)
}

// weigh is take of a description that has no problem.
func weigh(t tester, src string) *Takeoff {
	t.Helper()
	out, problems := take(t, src)
	if len(problems) > 0 {
		t.Fatalf("%v\n%s", problems, src)
	}
	return out
}

const siteTable = "[site]\nfriction = 0.4\ngust_alone = \"40 mph\"\nmoisture = \"19 %\"\n"

// columnOf is a column of one section of 2 ft by 2 ft by 8 ft with a parts list.
func columnOf(extra string, parts ...string) string {
	return fmt.Sprintf("[[column]]\nname = \"column\"\nat = [\"0 ft\", \"0 ft\"]\nfoot = [\"2 ft\", \"2 ft\"]\n%s\n[[column.section]]\nname = \"shaft\"\nwidth = \"2 ft\"\nheight = \"8 ft\"\nparts = [\n%s\n]\n",
		extra, strings.Join(parts, ",\n"))
}

func near(a, b float64) bool { return math.Abs(a-b) <= 1e-9*(1+math.Max(math.Abs(a), math.Abs(b))) }

func nearPoint(a, b [3]float64) bool {
	return near(a[0], b[0]) && near(a[1], b[1]) && near(a[2], b[2])
}

// Every kind of part against published or hand-computed weights in lb, to half the
// last printed digit.
func TestPartWeights(t *testing.T) {
	for _, c := range []struct {
		part         string
		light, heavy float64 // lb
		half         float64
		source       string
	}{
		{`{ stock = "2x4", wood = "df-l", length = "8 ft" }`, 10.0, 10.0, 0.05,
			"NDS Supplement 3.1.3: 62.4 G / (1 + 0.009 G m) (1 + m/100) at G 0.50, m 19 % is 34.2 lb/ft3; times 1.5 x 3.5 in x 8 ft"},
		{`{ stock = "2x4", wood = "spf", length = "28 in", count = 8 }`, 19.8, 19.8, 0.05,
			"NDS Supplement 3.1.3 at G 0.42, m 19 %: 29.10 lb/ft3 x 5.25 in2 x 28 in x 8"},
		{`{ sheet = "plywood 15/32 in", size = ["4 ft", "8 ft"] }`, 40, 44.8, 0.5,
			"a 4 x 8 ft sheet of about 40 lb (roofonline.com panel weight table); trade tables print 1.4 lb/ft2"},
		{`{ sheet = "osb 7/16 in", size = ["8 ft", "48 in"] }`, 44.8, 46, 0.5,
			"a 4 x 8 ft sheet of about 46 lb (roofonline.com and trade panel weight tables)"},
		{`{ block = "eps type I", size = ["24 in", "24 in", "96 in"] }`, 28.8, 32, 0.05,
			"32 ft3 at 0.90 lb/ft3, ASTM C578 minimum density of type I; nominal 1.00"},
		{`{ pipe = "emt 1/2 in", length = "10 ft", count = 3 }`, 8.55, 9.0, 0.005,
			"Steel Tube Institute table of EMT: 30 lb per 100 ft, 28.5 at least"},
		{`{ coat = "cement render", area = "20 ft2" }`, 28, 56, 0.5,
			"135 lb/ft3 at 1/8 in and at 1/4 in: 1.4 and 2.8 lb/ft2"},
		{`{ item = "bell", mass = "7 lb", count = 2 }`, 14, 14, 1e-9, "twice the declared 7 lb"},
	} {
		p := weigh(t, siteTable+columnOf(`tolerance = "0 %"`, c.part)).Columns[0]
		part := p.Sections[0].Parts[0]
		if got := part.Mass.Light / pound; math.Abs(got-c.light) > c.half {
			t.Errorf("%s: light end %.4g lb, want %g (%s)", c.part, got, c.light, c.source)
		}
		if got := part.Mass.Heavy / pound; math.Abs(got-c.heavy) > c.half {
			t.Errorf("%s: heavy end %.4g lb, want %g (%s)", c.part, got, c.heavy, c.source)
		}
		if !near(part.Mass.Nominal, (part.Mass.Light+part.Mass.Heavy)/2) {
			t.Errorf("%s: nominal %g kg is not the middle of %g and %g", c.part, part.Mass.Nominal, part.Mass.Light, part.Mass.Heavy)
		}
		if part.Source == "" || part.Certainty == "" {
			t.Errorf("%s: has source %q, certainty %q", c.part, part.Source, part.Certainty)
		}
		if p.Mass.Nominal != part.Mass.Nominal || p.Mass.Light != part.Mass.Light || p.Mass.Heavy != part.Mass.Heavy {
			t.Errorf("%s: the column weighs %+v and its only part %+v", c.part, p.Mass, part.Mass)
		}
	}
}

// Two parts of 3 : 1, one of them off the middle, on a turned column.
func TestCenterOfMass(t *testing.T) {
	src := siteTable + strings.Replace(columnOf("turn = \"90 deg\"\ntolerance = \"0 %\"",
		`{ item = "base", mass = "30 kg", height = "1 ft" }`,
		`{ item = "lamp", mass = "10 kg", height = "7 ft", offset = ["8 in", "-4 in"] }`), `["0 ft", "0 ft"]`, `["10 ft", "20 ft"]`, 1)
	p := weigh(t, src).Columns[0]
	// Turned by 90 degrees east becomes north and north becomes west.
	want := [3]float64{10*foot + 4*inch/4, 20*foot + 8*inch/4, (30*1 + 10*7) * foot / 40}
	if !nearPoint(p.Mass.Center, want) || !near(p.Mass.Nominal, 40) {
		t.Errorf("%.6g kg at %.6f, want 40 kg at %.6f (moments by hand)", p.Mass.Nominal, p.Mass.Center, want)
	}
	if !nearPoint(p.Sections[0].Mass.Center, want) {
		t.Errorf("the only section has its centre at %v, the column at %v", p.Sections[0].Mass.Center, want)
	}
	// A part without a height lies at the middle of its section.
	p = weigh(t, siteTable+columnOf("", `{ item = "base", mass = "30 kg" }`)).Columns[0]
	if !nearPoint(p.Mass.Center, [3]float64{0, 0, 4 * foot}) {
		t.Errorf("a part without a height is at %v, want the middle of 8 ft", p.Mass.Center)
	}
}

func TestTolerance(t *testing.T) {
	part := `{ item = "base", mass = "100 kg" }`
	for _, c := range []struct {
		site, column string
		want         float64
	}{
		{"", "", 0.10},
		{"tolerance = \"4 %\"\n", "", 0.04},
		{"tolerance = \"4 %\"\n", `tolerance = "20 %"`, 0.20},
		{"tolerance = \"4 %\"\n", `tolerance = "0 %"`, 0},
		{"tolerance = \"4 %\"\n", `weighed = "100 kg"`, 0},
	} {
		p := weigh(t, siteTable+c.site+columnOf(c.column, part)).Columns[0]
		if !near(p.Tolerance, c.want) || !near(p.Mass.Light, 100*(1-c.want)) || !near(p.Mass.Heavy, 100*(1+c.want)) || !near(p.Mass.Nominal, 100) {
			t.Errorf("%q %q: tolerance %g, masses %+v; want 100 kg and %g of it either way", c.site, c.column, p.Tolerance, p.Mass, c.want)
		}
		s := p.Sections[0].Mass
		if !near(s.Light, p.Mass.Light) || !near(s.Heavy, p.Mass.Heavy) {
			t.Errorf("%q %q: the only section %+v, the column %+v", c.site, c.column, s, p.Mass)
		}
	}
}

// The reading of a scale changes how much a piece weighs, not where.
func TestWeighedKeepsTheCenter(t *testing.T) {
	parts := []string{`{ block = "eps type I", size = ["2 ft", "2 ft", "4 ft"], height = "6 ft", offset = ["3 in", "0 in"] }`, `{ item = "base", mass = "60 lb", height = "6 in" }`}
	estimate := weigh(t, siteTable+columnOf("", parts...)).Columns[0]
	p := weigh(t, siteTable+columnOf(`weighed = "90 lb"`, parts...)).Columns[0]
	if !near(p.Mass.Nominal, 90*pound) || p.Mass.Light != p.Mass.Nominal || p.Mass.Heavy != p.Mass.Nominal || !p.Weighed {
		t.Errorf("weighed at 90 lb (%g kg) and taken as %+v", 90*pound, p.Mass)
	}
	if !nearPoint(p.Mass.Center, estimate.Mass.Center) {
		t.Errorf("the centre moved from %v to %v", estimate.Mass.Center, p.Mass.Center)
	}
	if !near(p.Estimated, estimate.Mass.Nominal) {
		t.Errorf("the estimate is given as %g kg, and was %g", p.Estimated, estimate.Mass.Nominal)
	}
}

// Parts that at their lightest outweigh the scale's reading are a problem, with the
// place of the reading.
func TestPartsHeavierThanTheScale(t *testing.T) {
	_, problems := take(t, siteTable+columnOf(`weighed = "50 lb"`, `{ item = "base", mass = "60 lb" }`))
	if len(problems) != 1 || problems[0].Place.String() != "site.toml:9:11" || !strings.Contains(problems[0].Message, "50 lb") {
		t.Errorf("50 lb of 60 lb of parts: %v", problems)
	}
	// 60 lb less the tolerance of 10 % is 54 lb: a scale may read that.
	if _, problems := take(t, siteTable+columnOf(`weighed = "54 lb"`, `{ item = "base", mass = "60 lb" }`)); len(problems) != 0 {
		t.Errorf("54 lb of 60 lb of parts is within the tolerance: %v", problems)
	}
}

// Sections that say nothing of their mass share what the scale has left by volume.
func TestSectionsShareByVolume(t *testing.T) {
	src := siteTable + `[[column]]
name = "column"
at = ["0 m", "0 m"]
foot = ["1 m", "1 m"]
weighed = "100 kg"
[[column.section]]
name = "plinth"
width = "2 m"
height = "0.5 m"
[[column.section]]
name = "pillar"
shape = "rectangle"
width = "1 m"
depth = "0.5 m"
height = "2 m"
[[column.section]]
name = "cap"
width = "1 m"
height = "0.5 m"
mass = "20 kg"
`
	p := weigh(t, src).Columns[0]
	// 80 kg over volumes of 2 m3 : 1 m3.
	for i, want := range []float64{160.0 / 3, 80.0 / 3, 20} {
		if got := p.Sections[i].Mass; !near(got.Nominal, want) || got.Light != got.Nominal || got.Heavy != got.Nominal {
			t.Errorf("section %q: %+v, want %g kg", p.Sections[i].Name, got, want)
		}
	}
	want := (160.0/3*0.25 + 80.0/3*1.5 + 20*2.75) / 100
	if !near(p.Mass.Nominal, 100) || !near(p.Mass.Center[2], want) {
		t.Errorf("%g kg at %g m, want 100 kg at %g m", p.Mass.Nominal, p.Mass.Center[2], want)
	}
	out, problems := take(t, strings.Replace(src, "100 kg", "20 kg", 1))
	if len(problems) != 1 {
		t.Errorf("20 kg in all and 20 kg of cap leave nothing for the rest: %v", problems)
	}
	if c := out.Columns[0].Mass.Center; c != [3]float64{0, 0, 2.75} {
		t.Errorf("nothing but the cap has mass, and the centre is %v", c)
	}
}

// Gates, walls and spans have axes of their own.
func TestFrames(t *testing.T) {
	shaft := "\nturn = \"90 deg\"\nfoot = [\"1 m\", \"1 m\"]\nsection = [{ name = \"shaft\", width = \"1 m\", height = \"3 m\", mass = \"50 kg\" }]\n"
	out := weigh(t, siteTable+"[[column]]\nname = \"a\"\nat = [\"0 m\", \"0 m\"]"+shaft+"[[column]]\nname = \"b\"\nat = [\"0 m\", \"6 m\"]"+shaft+`
[[gate]]
name = "leaf"
hung_on = "a"
face = "north"
opens = "north"
width = "2 m"
height = "2 m"
clearance = "0.1 m"
parts = [{ item = "frame", mass = "10 kg" }, { item = "latch", mass = "10 kg", height = "0.5 m", offset = ["0.8 m", "0.2 m"] }]
[[wall]]
name = "wall"
from = ["10 m", "0 m"]
to = ["10 m", "4 m"]
height = "2 m"
parts = [{ item = "face", mass = "10 kg" }, { item = "brace", mass = "10 kg", height = "0.4 m", offset = ["1 m", "0.6 m"] }]
[[span]]
name = "sign"
between = ["a", "b"]
underside = "2.5 m"
face = ["5 m", "0.4 m"]
mass = "8 kg"
`)
	for _, c := range []struct {
		piece Piece
		mass  float64
		want  [3]float64
		why   string
	}{
		// The north face of a column turned by 90 degrees looks west: the leaf runs
		// west from x = -0.5, its own x axis is west and its own y axis south.
		{out.Gates[0], 20, [3]float64{-1.5 - 0.8/2, -0.2 / 2, (1.1 + 0.6) / 2}, "leaf 2 m long hung at (-0.5, 0), 0.1 m up"},
		// The wall's x axis runs north, its y axis west.
		{out.Walls[0], 20, [3]float64{10 - 0.6/2, 2 + 1.0/2, (1 + 0.4) / 2}, "wall from (10, 0) to (10, 4)"},
		{out.Spans[0], 8, [3]float64{0, 3, 2.7}, "half-way between the columns, 2.5 m up, 0.4 m high"},
	} {
		if !near(c.piece.Mass.Nominal, c.mass) || !nearPoint(c.piece.Mass.Center, c.want) {
			t.Errorf("%s %q: %g kg at %v, want %g kg at %v (%s)", c.piece.Kind, c.piece.Name, c.piece.Mass.Nominal, c.piece.Mass.Center, c.mass, c.want, c.why)
		}
	}
}

// A leaf stands off the face that it is hung on, whichever way its column is turned.
func TestLeafOfATurnedColumn(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		turn := rapid.Float64Range(-180, 180).Draw(t, "turn")
		s, c := math.Sincos(turn * math.Pi / 180)
		opens := "north" // across the leaf, not along it
		if math.Abs(c) > 0.5 {
			opens = "east"
		}
		g := weigh(t, siteTable+fmt.Sprintf(`[[column]]
name = "a"
at = ["3 m", "-2 m"]
turn = "%.9f deg"
foot = ["1 m", "1 m"]
section = [{ name = "shaft", width = "1 m", height = "3 m", mass = "50 kg" }]
[[gate]]
name = "leaf"
hung_on = "a"
face = "north"
opens = "%s"
width = "2 m"
height = "2 m"
clearance = "0.1 m"
mass = "10 kg"
`, turn, opens)).Gates[0]
		// Half of the column and half of the leaf along the normal of the face.
		if want := [3]float64{3 - 1.5*s, -2 + 1.5*c, 1.1}; math.Hypot(g.Mass.Center[0]-want[0], g.Mass.Center[1]-want[1]) > 1e-8 || !near(g.Mass.Center[2], want[2]) {
			t.Errorf("turned by %g degrees: the leaf is at %v, want %v", turn, g.Mass.Center, want)
		}
	})
}

// A wall of which a scale says all there is to know has its mass in its middle.
func TestWeighedWallWithoutParts(t *testing.T) {
	w := weigh(t, siteTable+"[[wall]]\nname = \"wall\"\nfrom = [\"10 m\", \"0 m\"]\nto = [\"10 m\", \"4 m\"]\nheight = \"2 m\"\nweighed = \"80 kg\"\n").Walls[0]
	if w.Mass != (Mass{80, 80, 80, [3]float64{10, 2, 1}}) || !w.Weighed || w.Estimated != 0 {
		t.Errorf("%+v, want 80 kg at (10, 2, 1)", w)
	}
}

// drawParts draws a list of parts, each with half a count to spare.
func drawParts(t *rapid.T) []string {
	var list []string
	for range rapid.IntRange(1, 6).Draw(t, "parts") {
		n := rapid.IntRange(1, 5).Draw(t, "count")
		at := fmt.Sprintf(`height = "%.6f m", offset = ["%.6f m", "%.6f m"], count = %d`, rapid.Float64Range(0, 2.4).Draw(t, "height"),
			rapid.Float64Range(-0.3, 0.3).Draw(t, "x"), rapid.Float64Range(-0.3, 0.3).Draw(t, "y"), 2*n)
		length := fmt.Sprintf("%.6f m", rapid.Float64Range(0.1, 3).Draw(t, "length"))
		list = append(list, "{ "+fmt.Sprintf(rapid.SampledFrom([]string{
			`stock = "2x4", wood = "spf", length = "%s"`, `sheet = "plywood 1/2 in", size = ["%s", "1 ft"]`,
			`block = "eps type I", size = ["%s", "1 ft", "6 in"]`, `pipe = "emt 1 in", length = "%s"`,
		}).Draw(t, "kind"), length)+", "+at+" }")
	}
	return list
}

func TestMassesAdd(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		parts := drawParts(t)
		whole := weigh(t, siteTable+columnOf(`tolerance = "0 %"`, parts...)).Columns[0].Mass
		var sum Mass
		for _, part := range parts {
			sum.add(weigh(t, siteTable+columnOf(`tolerance = "0 %"`, part)).Columns[0].Mass)
		}
		if !near(whole.Nominal, sum.Nominal) || !near(whole.Light, sum.Light) || !near(whole.Heavy, sum.Heavy) || !nearPoint(whole.Center, sum.Center) {
			t.Errorf("together %+v, one by one %+v", whole, sum)
		}
	})
}

func TestSplittingPartsChangesNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var halves []string
		parts := drawParts(t)
		for _, p := range parts {
			i := strings.LastIndex(p, "count = ")
			var n int
			if _, err := fmt.Sscanf(p[i:], "count = %d", &n); err != nil {
				t.Fatal(err)
			}
			half := p[:i] + fmt.Sprintf("count = %d }", n/2)
			halves = append(halves, half, half)
		}
		a, b := weigh(t, siteTable+columnOf("", parts...)).Columns[0].Mass, weigh(t, siteTable+columnOf("", halves...)).Columns[0].Mass
		if !near(a.Nominal, b.Nominal) || !near(a.Light, b.Light) || !near(a.Heavy, b.Heavy) || !nearPoint(a.Center, b.Center) {
			t.Errorf("whole %+v, split %+v", a, b)
		}
	})
}

func TestTurningTurnsTheCenter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		parts := drawParts(t)
		turn := rapid.Float64Range(-180, 180).Draw(t, "turn")
		a := weigh(t, siteTable+columnOf("", parts...)).Columns[0].Mass
		b := weigh(t, siteTable+columnOf(fmt.Sprintf(`turn = "%.9f deg"`, turn), parts...)).Columns[0].Mass
		s, c := math.Sincos(turn * math.Pi / 180)
		want := [3]float64{c*a.Center[0] - s*a.Center[1], s*a.Center[0] + c*a.Center[1], a.Center[2]}
		if math.Hypot(b.Center[0]-want[0], b.Center[1]-want[1]) > 1e-8 || !near(b.Center[2], want[2]) || !near(a.Nominal, b.Nominal) {
			t.Errorf("turned by %g degrees the centre is at %v, want %v", turn, b.Center, want)
		}
	})
}

func TestLightNominalHeavy(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		extra := rapid.SampledFrom([]string{"", `tolerance = "0 %"`, `tolerance = "35 %"`, `weighed = "2000 kg"`}).Draw(t, "mass")
		p := weigh(t, siteTable+columnOf(extra, drawParts(t)...)).Columns[0]
		masses := []Mass{p.Mass, p.Sections[0].Mass}
		for _, part := range p.Sections[0].Parts {
			masses = append(masses, part.Mass)
		}
		for _, m := range masses {
			if !(m.Light > 0 && m.Light <= m.Nominal*(1+1e-12) && m.Nominal <= m.Heavy*(1+1e-12)) {
				t.Errorf("light %g, nominal %g, heavy %g", m.Light, m.Nominal, m.Heavy)
			}
		}
	})
}
