package check_test

import (
	"fmt"
	"math"
	"regexp"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"galefast/internal/quantity"
	"galefast/internal/verdict"
	"galefast/statics/fastener"
	"galefast/testdata/sites"
)

const inch = 0.0254

// breathless is a site with next to no wind, where wood stays dry and nobody leans.
func breathless(code string, lean, at float64) string {
	return fmt.Sprintf("units = \"si\"\n[site]\nfriction = 0.6\nslope = \"0 %%\"\nterrain = \"C\"\ngust_open = \"0.0001 m/s\"\ngust_alone = \"0.0001 m/s\"\ntimber_code = %q\nwet = false\n[require]\nlean = { force = \"%.9f N\", height = \"%.9f m\" }\n", code, lean, at)
}

const postOfGate = `
[[column]]
name = "post"
at = ["0 m", "0 m"]
foot = ["1 m", "1 m"]
[[column.section]]
name = "shaft"
width = "300 mm"
height = "2.5 m"
mass = "400 kg"
`

// gripOf is the row of the hardware table with an id.
func gripOf(t tester, r *verdict.Report, id string) verdict.HardwareRow {
	t.Helper()
	for _, row := range r.Hardware.Rows {
		if row.ID == id {
			return row
		}
	}
	t.Fatalf("no hardware row %s", id)
	return verdict.HardwareRow{}
}

func wood(t tester, name string) fastener.Material {
	t.Helper()
	m, err := fastener.MaterialOf(name)
	if err != nil {
		t.Fatalf("%v", err)
	}
	return m
}

// A leaf of weight W, its middle at b/2 from two hinges s apart, hangs on the upper one.
func TestHingeByHand(t *testing.T) {
	const (
		mass, b, s   = 24., 1.0, 1.2
		width, high  = 0.030, 0.080 // of half a hinge
		n            = 3.
		pin          = 0.006 // from the wood
		size, length = "#10", 1.5 * inch
	)
	r := runSite(t, breathless("nds", 0, 1)+postOfGate+fmt.Sprintf(`
[[gate]]
name = "leaf"
hung_on = "post"
face = "east"
opens = "north"
width = "%g m"
height = "1.6 m"
mass = "%g kg"
tolerance = "0 %%"
hinge = { heights = ["0.3 m", "1.5 m"], plate = ["30 mm", "80 mm"], screws = 3, gauge = 10, length = "1.5 in", into = "spf", thickness = "40 mm" }
keeper = { closed = "latch", open = "hook" }
`, b, mass))

	weight := mass * gravity
	out := weight * (b / 2) / s // the couple on each hinge
	// The pin lies along the plate's edge, half its width from the screws in its middle, so that the
	// plate pries about its far edge: as much again as the straight pull. The weight hangs a pin's
	// distance before the wood and pulls at the top, and turns the plate on the wood.
	y := []float64{high / 6, high / 2, high * 5 / 6}
	squares, polar := 0.0, 0.0
	for _, v := range y {
		squares += v * v
		polar += (v - high/2) * (v - high/2)
	}
	top := y[2]
	tilt, turn := weight*pin*top/squares, weight*width/2*(top-high/2)/polar
	// Closed, the couple pulls the screws out of the post; open at a right angle it shears them.
	closed := fastener.Demand{Lateral: math.Hypot(weight/n, turn), Tension: 2*out/n + tilt}
	open := fastener.Demand{Lateral: math.Hypot(weight/n, out/n+turn), Tension: tilt + out*pin/(n*width/2)}

	screw, err := fastener.Of(fastener.WoodScrew, size, length)
	if err != nil {
		t.Fatal(err)
	}
	joint := fastener.Joint{Fastener: screw, Side: fastener.Member{Material: wood(t, "steel"), Thickness: 0.002},
		Main: fastener.Member{Material: wood(t, "spf"), Thickness: 0.040}, Count: n, Service: fastener.Service{Duration: fastener.TenYears}}
	want, demand := 0.0, 0.0
	for _, d := range []fastener.Demand{closed, open} {
		use, err := joint.Check(d)
		if err != nil {
			t.Fatal(err)
		}
		if share, _ := use.Utilisation(); share > want {
			want, demand = share, math.Hypot(d.Lateral, d.Tension)
		}
	}
	row := gripOf(t, r, "hardware/leaf/hinge screws in the post")
	if got := *row.Utilisation; !near(got, want, 1e-6) {
		t.Errorf("used to %.6f, by hand %.6f: W = %.1f N, couple F = W b/2 / s = %.1f N; closed pull 2 F/n + W e y/sum y^2 = %.2f N and shear %.2f N; open %.2f N and %.2f N",
			got, want, weight, out, closed.Tension, closed.Lateral, open.Tension, open.Lateral)
	}
	if got := *row.DemandN; !near(got, demand, 1e-6) {
		t.Errorf("%.4f N on the worst screw, by hand %.4f", got, demand)
	}
}

// What stands above a joint weighs W; a person pushes with P, h above it, at 45 degrees, where both
// directions open at once.
func TestSectionJointByHand(t *testing.T) {
	const mass, push, at, bottom, d, apart = 20., 300., 1.5, 0.5, 0.5, 0.3
	r := runSite(t, breathless("nds", push, at)+fmt.Sprintf(`
[[column]]
name = "pier"
at = ["0 m", "0 m"]
foot = ["1 m", "1 m"]
tolerance = "0 %%"
[[column.section]]
name = "base"
width = "0.6 m"
height = "%g m"
mass = "400 kg"
[[column.section]]
name = "shaft"
width = "%g m"
height = "1.5 m"
mass = "%g kg"
joint = { bolts = 4, size = "3/8 in", pattern = ["%g m", "%g m"], washer = "1.5 in", into = "spf", thickness = "38 mm" }
`, bottom, d, mass, apart, apart))

	const relief = 0.6 // ASCE 7-16 2.4.1: 0.6 D
	moment, weight := push*(at-bottom), relief*mass*gravity
	near1, far := d/2-apart/2, d/2+apart/2 // of the bolts from the edge that presses
	one := (moment/math.Sqrt2 - weight/2*d/2) * far / (2*near1*near1 + 2*far*far)
	pull, shear := 2*one, push/4

	bolt, err := fastener.Of(fastener.Bolt, "3/8", 0)
	if err != nil {
		t.Fatal(err)
	}
	bolt.Washer = fastener.Washer{OD: 1.5 * inch}
	frame := fastener.Member{Material: wood(t, "spf"), Thickness: 0.038, Angle: math.Pi / 2}
	joint := fastener.Joint{Fastener: bolt, Side: frame, Main: frame, Count: 4, Service: fastener.Service{Duration: fastener.TenYears}}
	use, err := joint.Check(fastener.Demand{Lateral: shear, Tension: pull})
	if err != nil {
		t.Fatal(err)
	}
	want, _ := use.Utilisation()
	row := gripOf(t, r, "hardware/pier, shaft/joint bolts")
	if got := *row.Utilisation; !near(got, want, 1e-6) {
		t.Errorf("used to %.6f, by hand %.6f: T = 2 (M/√2 - W/2 d/2) y/sum y^2 = %.2f N, V = P/4 = %.2f N", got, want, pull, shear)
	}
}

// A sign that is fastened to a column asks of the bolts below it what one does that rests there: how
// it is held changes nothing in the wind on it.
func TestSectionJointUnderFastenedSpan(t *testing.T) {
	src, err := sites.Files.ReadFile("apple-fair-ballasted.toml")
	if err != nil {
		t.Fatal(err)
	}
	rests := regexp.MustCompile(`(?m)^fixing .*$`).ReplaceAllString(string(src), "")
	if rests == string(src) {
		t.Fatal("no fixing in the example")
	}
	fastened, resting := runSite(t, string(src)), runSite(t, rests)
	for _, id := range []string{"hardware/west pier, pillar/joint bolts", "hardware/east pier, pillar/joint bolts"} {
		got, want := *gripOf(t, fastened, id).Utilisation, *gripOf(t, resting, id).Utilisation
		if !near(got, want, 1e-9) {
			t.Errorf("%s: %.6f with the sign fastened, %.6f with it resting", id, got, want)
		}
	}
}

// A person leans on the end of a wall with two braces: by the outer one M/2 and the twist M L/2
// over springs at L/4 from the middle, 3/2 M in all.
func TestBraceByHand(t *testing.T) {
	const push, at, reach, height = 200., 1.2, 1.0, 1.5
	r := runSite(t, breathless("nds", push, at)+fmt.Sprintf(`
[[wall]]
name = "screen"
from = ["0 m", "0 m"]
to = ["4 m", "0 m"]
height = "2 m"
mass = "60 kg"
foot = "200 mm"
[wall.braces]
count = 2
reach = "%g m"
height = "%g m"
head = { bolts = 1, size = "1/2 in", washer = "2 in", into = "df-l", thickness = "38 mm", through = "38 mm" }
`, reach, height))
	want := 1.5 * push * at * math.Hypot(reach, height) / (reach * height)
	for _, id := range []string{"hardware/screen/brace heads", "hardware/screen/brace toes"} {
		if got := *gripOf(t, r, id).DemandN; !near(got, want, 1e-6) {
			t.Errorf("%s: %.4f N, by hand 3/2 P h_P √(r² + h²)/(r h) = %.4f N", id, got, want)
		}
	}
	if c, _ := r.Find("hardware/screen/brace toes"); c.Result != verdict.Unchecked || !strings.Contains(c.Why, "toe of braces") {
		t.Errorf("toes that are not described: %s, %s", c.Result, c.Why)
	}
}

// gate is a leaf with its hinges in a description.
type gate struct {
	face, opens, fasteners string
	gust                   float64
}

func (g gate) toml() string {
	return fmt.Sprintf("units = \"si\"\n[site]\nfriction = 0.6\nterrain = \"C\"\nslope = \"3 %%\"\ngust_open = \"%.6f m/s\"\ngust_alone = \"%.6f m/s\"\ntimber_code = \"nds\"\n", g.gust/1.5, g.gust) + postOfGate + fmt.Sprintf(`
[[gate]]
name = "leaf"
hung_on = "post"
face = %q
opens = %q
width = "1 m"
height = "1.6 m"
mass = "20 kg"
solidity = 0.5
tip_load = "100 N"
hinge = { heights = ["0.3 m", "1.5 m"], into = "spf", thickness = "60 mm", leaf_thickness = "60 mm", %s }
keeper = { closed = "latch", open = "hook" }
`, g.face, g.opens, g.fasteners)
}

// shares are the utilisations of every hardware row of the leaf.
func shares(t tester, r *verdict.Report) map[string]float64 {
	list := map[string]float64{}
	for _, row := range r.Hardware.Rows {
		switch {
		case row.Utilisation != nil:
			list[row.ID] = *row.Utilisation
		case row.Result == verdict.Fails: // it carries nothing
			list[row.ID] = math.MaxFloat64
		}
	}
	if len(list) == 0 {
		t.Fatalf("nothing was computed: %+v", r.Hardware.Rows)
	}
	return list
}

// A site seen in a mirror, or turned, asks the same of its screws.
func TestHingesMirrored(t *testing.T) {
	screws := `screws = 3, gauge = 10, length = "1.5 in"`
	want := shares(t, runSite(t, gate{"east", "north", screws, 20}.toml()))
	for _, g := range []gate{{"east", "south", screws, 20}, {"west", "north", screws, 20}, {"north", "west", screws, 20}, {"south", "west", screws, 20}} {
		got := shares(t, runSite(t, g.toml()))
		for id, v := range want {
			if !near(got[id], v, 1e-9) {
				t.Errorf("%s: %.9f with the hinges %s and the leaf opening %s, %.9f east and north", id, got[id], g.face, g.opens, v)
			}
		}
	}
	face := shares(t, runSite(t, gate{"east", "north", screws + `, mount = "face"`, 20}.toml()))
	for id, v := range shares(t, runSite(t, gate{"west", "south", screws + `, mount = "face"`, 20}.toml())) {
		if !near(face[id], v, 1e-9) {
			t.Errorf("%s on the faces: %.9f and in the mirror %.9f", id, face[id], v)
		}
	}
}

// Longer screws, more of them, larger washers and less wind never raise what is used.
func TestStrongerNeverWorse(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(2, 5).Draw(t, "screws")
		length := rapid.SampledFrom([]float64{1, 1.25, 1.5}).Draw(t, "length")
		washer := rapid.Float64Range(18, 30).Draw(t, "washer")
		gust := rapid.Float64Range(5, 20).Draw(t, "gust")
		screws := func(n int, length, gust float64) map[string]float64 {
			return shares(t, runSite(t, gate{"east", "north", fmt.Sprintf(`screws = %d, gauge = 9, length = "%g in"`, n, length), gust}.toml()))
		}
		bolts := func(washer, gust float64) map[string]float64 {
			return shares(t, runSite(t, gate{"east", "north", fmt.Sprintf(`bolts = 2, size = "1/4 in", washer = "%g mm"`, washer), gust}.toml()))
		}
		less := func(what string, a, b map[string]float64) {
			for id, v := range b {
				if old, ok := a[id]; ok && v > old*(1+1e-9) {
					t.Errorf("%s raises %s from %.6f to %.6f", what, id, old, v)
				}
			}
		}
		switch rapid.SampledFrom([]string{"length", "screw", "wind", "washer"}).Draw(t, "stronger by") {
		case "length":
			less("half an inch", screws(n, length, gust), screws(n, length+0.5, gust))
		case "screw":
			less("a screw", screws(n, length, gust), screws(n+1, length, gust))
		case "wind":
			less("less wind", screws(n, length, gust), screws(n, length, 0.8*gust))
		case "washer":
			less("a larger washer", bolts(washer, gust), bolts(1.2*washer, gust))
		}
	})
}

// What a fixing must hold does not change with what it is said to hold, and with just that
// the pieces just reach their factor.
func TestFixingDemand(t *testing.T) {
	src := func(hold float64) string {
		return place{friction: 0.7, terrain: "C", open: 10, alone: 14, lean: 150, at: 1.2}.toml() + column{name: "east", at: [2]float64{3, 0}, foot: [2]float64{1.2, 1.2},
			sections: []section{{name: "shaft", shape: "square", width: 0.4, height: 2.4, mass: 260}}}.toml() + fmt.Sprintf(`
[[wall]]
name = "screen"
from = ["0.2 m", "0 m"]
to = ["2.8 m", "0 m"]
height = "2 m"
foot = "120 mm"
mass = "70 kg"
tolerance = "0 %%"
joined = ["east", "west"]
fixing = { heights = ["0.3 m", "1.8 m"], hold = "%.9f N" }
`, hold) + column{name: "west", foot: [2]float64{1.2, 1.2}, sections: []section{{name: "shaft", shape: "square", width: 0.4, height: 2.4, mass: 260}}}.toml()
	}
	const id = "hardware/screen/fixing"
	strong := gripOf(t, runSite(t, src(5000)), id)
	if strong.DemandN == nil || strong.Utilisation == nil || *strong.Utilisation >= 1 {
		t.Fatalf("a strong fixing: %+v", strong)
	}
	other := gripOf(t, runSite(t, src(2500)), id)
	if !near(*other.DemandN, *strong.DemandN, 1e-3) {
		t.Errorf("must hold %.2f N of 5000 and %.2f N of 2500", *strong.DemandN, *other.DemandN)
	}
	for by, want := range map[float64]verdict.Result{1.02: verdict.Holds, 0.98: verdict.Fails} {
		r := runSite(t, src(by**strong.DemandN))
		if c := together(r)[0]; c.Result != want {
			t.Errorf("with %.2f of what it must hold the pieces have %v of %v: %s, want %s", by, *c.Has, *c.Needs, c.Result, want)
		}
	}
}

// The example has a joint that a builder would not have suspected, and says in words of the
// trade what gives way and what helps.
func TestExampleSuspects(t *testing.T) {
	src, err := sites.Files.ReadFile(sites.Example)
	if err != nil {
		t.Fatal(err)
	}
	r := runSite(t, string(src))
	for _, c := range []struct {
		id     string
		result verdict.Result
		says   []string // in the mechanism and the cure
	}{
		// The hinges that hold the leaf in the wind do not hold it when it slams.
		{"hardware/west leaf/hinge screws in the post", verdict.Holds, []string{"screws pull out of the wood"}},
		{"hardware/west leaf/slam, screws in the post", verdict.Fails, []string{"screws tilt and crush the wood", "set its stops 2 ft 2", "out from the hinges"}},
		{"hardware/west pier, pillar/joint bolts", verdict.Fails, []string{"bolts", "use 10 such bolts"}},
	} {
		got, ok := r.Find(c.id)
		if !ok || got.Result != c.result {
			t.Errorf("%s is not there or reads %s, want %s", c.id, got.Result, c.result)
			continue
		}
		for _, w := range c.says {
			if text := got.Mechanism + "; " + got.Cure; !strings.Contains(text, w) {
				t.Errorf("%s says %q and not %q", c.id, text, w)
			}
		}
	}
}

// By EN 1995-1-1 loads have the partial factors of EN 1990: people 1.5.
func TestBraceByEN1995(t *testing.T) {
	const push, at, reach, height = 200., 1.2, 1.0, 1.5
	r := runSite(t, breathless("en1995", push, at)+fmt.Sprintf(`
[[wall]]
name = "screen"
from = ["0 m", "0 m"]
to = ["4 m", "0 m"]
height = "2 m"
mass = "60 kg"
foot = "200 mm"
[wall.braces]
count = 2
reach = "%g m"
height = "%g m"
head = { screws = 3, size = "6 mm", length = "80 mm", into = "c24", thickness = "45 mm", through = "38 mm" }
`, reach, height))
	screw, err := fastener.Of(fastener.WoodScrew, "6 mm", 0.08)
	if err != nil {
		t.Fatal(err)
	}
	c24 := wood(t, "c24")
	joint := fastener.Joint{Code: fastener.EN1995, Fastener: screw, Side: fastener.Member{Material: c24, Thickness: 0.038, Angle: math.Pi / 2},
		Main: fastener.Member{Material: c24, Thickness: 0.045, Angle: math.Pi / 2}, Count: 3, Service: fastener.Service{Duration: fastener.TenYears}}
	capacity, err := joint.Lateral()
	if err != nil {
		t.Fatal(err)
	}
	want := 1.5 * 1.5 * push * at * math.Hypot(reach, height) / (reach * height) / 3 / capacity.Value
	row := gripOf(t, r, "hardware/screen/brace heads")
	if row.Utilisation == nil || !near(*row.Utilisation, want, 1e-6) {
		t.Errorf("used to %+v, by hand 1.5 · 3/2 P h_P √(r² + h²)/(r h) / 3 / F_v,Rd = %.6f", row, want)
	}
	if !strings.Contains(row.Source, "EN 1995-1-1") {
		t.Errorf("its source is %q", row.Source)
	}
}

// What the file lacks is named, and what holds without being computed is not counted on.
func TestHardwareUnchecked(t *testing.T) {
	leaf := func(hinge string) string {
		return "[[gate]]\nname = \"leaf\"\nhung_on = \"post\"\nface = \"east\"\nwidth = \"1 m\"\nheight = \"1.6 m\"\nmass = \"20 kg\"\n" + hinge
	}
	cap := func(joint string) string {
		return "[[column.section]]\nname = \"cap\"\nwidth = \"300 mm\"\nheight = \"0.3 m\"\nmass = \"10 kg\"\njoint = " + joint + "\n"
	}
	guyTo := func(anchor string) string {
		return "[[guy]]\nfrom = \"post\"\nheight = \"2 m\"\nto = [\"2 m\", \"0 m\"]\n" + anchor
	}
	for _, c := range []struct{ code, src, id, says string }{
		{"nds", leaf(""), "leaf/hinges", "the file does not describe the hinges"},
		{"nds", leaf(""), "leaf/keeper, closed", "nothing holds the leaf closed"},
		{"nds", leaf(`keeper = { closed = "latch" }`), "leaf/keeper, open", "nothing holds the leaf open"},
		{"nds", leaf(`hinge = { heights = ["0.3 m", "1.5 m"] }`), "leaf/hinges", "how many screws"},
		{"nds", leaf(`hinge = { heights = ["0.3 m", "1.5 m"], screws = 3 }`), "leaf/hinges", "how long the screws are"},
		{"nds", leaf(`hinge = { heights = ["0.3 m", "1.5 m"], screws = 3, length = "30 mm" }`), "leaf/hinges", "how thick the screws are"},
		{"nds", leaf(`hinge = { heights = ["0.3 m", "1.5 m"], screws = 3, gauge = 9, length = "30 mm" }`), "leaf/hinges", "how thick the wood of the post is"},
		{"nds", leaf(`hinge = { heights = ["0.3 m", "1.5 m"], screws = 3, gauge = 13, length = "30 mm", thickness = "40 mm" }`), "leaf/hinges", "no wood screw of size"},
		{"en1995", leaf(`hinge = { heights = ["0.3 m", "1.5 m"], screws = 3, size = "6 mm", length = "40 mm", into = "spf", thickness = "40 mm" }`), "leaf/hinges", "strength class"},
		{"nds", leaf(`hinge = { heights = ["0.3 m", "0.3 m"], screws = 3, gauge = 9, length = "30 mm", thickness = "40 mm" }`), "leaf/hinges", "two hinges apart"},
		{"nds", leaf(`hinge = { heights = ["0.3 m", "1.5 m"], screws = 100000, gauge = 9, length = "30 mm", thickness = "40 mm" }`), "leaf/hinges", "more than 100"},
		{"nds", leaf(`hinge = { heights = ["0.3 m", "1.5 m"], plate = ["20 m", "80 mm"], screws = 3, gauge = 9, length = "30 mm", thickness = "40 mm" }`), "leaf/hinge screws in the post", "at these sizes"},
		{"nds", cap(`{ bolts = 100000, size = "3/8 in" }`), "post, cap/joint bolts", "more than 100"},
		{"nds", cap(`{ bolts = 4, size = "13 mm" }`), "post, cap/joint bolts", "no bolt of 13 mm"},
		{"nds", cap(`{ bolts = 4, size = "3/8 in", into = "redwood" }`), "post, cap/joint bolts", "F_c-perp"},
		{"nds", cap(`{ bolts = 4, size = "3/8 in", pattern = ["400 mm", "100 mm"] }`), "post, cap/joint bolts", "on a face of"},
		{"nds", guyTo(`anchor = "a stake in the lawn"`), "post/guy 1", "its anchor was not tested"},
		{"nds", guyTo("pull_tested = \"500 N\"\nrope_diameter = \"2 mm\""), "post/guy 1", "no manila rope as thin"},
	} {
		r := runSite(t, breathless(c.code, 0, 1)+postOfGate+c.src)
		got, ok := r.Find("hardware/" + c.id)
		if !ok || got.Result != verdict.Unchecked || !strings.Contains(got.Why, c.says) {
			t.Errorf("%s: reads %s, %q; want unchecked with %q\n%s", c.id, got.Result, got.Why, c.says, c.src)
		}
	}
}

// A guy to a stake of the table is counted on, with the certainty of the table: 1000 lbf by
// two, and by two again where the ground may be wet.
func TestGuyToStake(t *testing.T) {
	src := place{friction: 0.5, terrain: "C", open: 10, alone: 14, lean: 200, at: 1.2}.toml() + column{name: "pole", foot: [2]float64{0.8, 0.8},
		sections: []section{{name: "shaft", shape: "square", width: 0.3, height: 2.4, mass: 90}}}.toml()
	for _, at := range []string{`["3 m", "0 m"]`, `["-3 m", "0 m"]`, `["0 m", "3 m"]`, `["0 m", "-3 m"]`} {
		src += "[[guy]]\nfrom = \"pole\"\nheight = \"2 m\"\nto = " + at + "\nanchor = \"stake 1 x 36 in\"\nrope = \"polyester\"\nrope_diameter = \"1/2 in\"\nknots = 1\n"
	}
	const pound = 4.4482216152605
	row := gripOf(t, runSite(t, src), "hardware/pole/guy 1")
	if row.CapacityN == nil || !near(*row.CapacityN, 250*pound, 1e-9) || !strings.Contains(row.Mode, "anchor pulls out") {
		t.Errorf("%+v, want 1000 lbf/2/2, anchor pulls out", row)
	}
	dry := gripOf(t, runSite(t, strings.ReplaceAll(src, "knots = 1", "knots = 1\nsoil = \"dry\"")), "hardware/pole/guy 1")
	if dry.CapacityN == nil || !near(*dry.CapacityN, 500*pound, 1e-9) {
		t.Errorf("%+v, want 1000 lbf/2", dry)
	}
}

// Screws that are too short to count fasten nothing; longer ones make the pieces stand together.
func TestFixingOfScrews(t *testing.T) {
	src := func(length string) string {
		return place{friction: 0.7, terrain: "C", open: 10, alone: 14, lean: 150, at: 1.2}.toml() + "[[catalog.wood]]\nname = \"own\"\nspecific_gravity = 0.5\nsource = \"own\"\n" +
			column{name: "east", at: [2]float64{3, 0}, foot: [2]float64{1.2, 1.2}, sections: []section{{name: "shaft", shape: "square", width: 0.4, height: 2.4, mass: 260}}}.toml() +
			column{name: "west", foot: [2]float64{1.2, 1.2}, sections: []section{{name: "shaft", shape: "square", width: 0.4, height: 2.4, mass: 260}}}.toml() + `
[[span]]
name = "sign"
between = ["west", "east"]
underside = "1.9 m"
face = ["2.6 m", "0.4 m"]
mass = "8 kg"
fixing = { heights = ["2 m", "2.2 m"], screws = 2, gauge = 10, length = "` + length + `", into = "own", thickness = "38 mm", through = "38 mm" }
`
	}
	us := func(s string) string { return strings.Replace(s, "units = \"si\"", "units = \"us\"", 1) }
	short := runSite(t, us(src("2 in")))
	if c, _ := short.Find("hardware/sign/fixing"); c.Result != verdict.Unchecked || !strings.Contains(c.Why, "too short to count") || len(together(short)) != 0 {
		t.Errorf("short screws: %s, %q, %d groups", c.Result, c.Why, len(together(short)))
	}
	long := runSite(t, us(src("3 in")))
	if row := gripOf(t, long, "hardware/sign/fixing"); row.Utilisation == nil || len(together(long)) != 1 {
		t.Errorf("long screws: %+v, %d groups", row, len(together(long)))
	}
}

var advisedScrew = regexp.MustCompile(`^use #(\d+) x ([0-9/ ]+ in) screws`)

// A screw that is advised holds, and those of its gauge that are shorter do not.
func TestAdvisedScrew(t *testing.T) {
	const id = "hardware/leaf/hinge screws in the post"
	us := func(fasteners string, gust float64) *verdict.Report {
		return runSite(t, strings.Replace(gate{"east", "north", fasteners, gust}.toml(), `units = "si"`, `units = "us"`, 1))
	}
	tried := 0
	for _, gust := range []float64{8, 12, 16, 20, 24} {
		c, ok := us(`screws = 3, gauge = 8, length = "1 in"`, gust).Find(id)
		if !ok {
			t.Fatalf("no %s", id)
		}
		m := advisedScrew.FindStringSubmatch(c.Cure)
		if m == nil {
			continue
		}
		tried++
		if got, _ := us(fmt.Sprintf("screws = 3, gauge = %s, length = %q", m[1], m[2]), gust).Find(id); got.Result != verdict.Holds {
			t.Errorf("gust %g: %q, and it %s", gust, c.Cure, got.Result)
		}
		length, err := quantity.Parse[quantity.Length](m[2])
		if err != nil {
			t.Fatal(err)
		}
		screw, err := fastener.Of(fastener.WoodScrew, "#"+m[1], 0.1)
		if err != nil {
			t.Fatal(err)
		}
		for _, l := range screw.Lengths() {
			if l >= float64(length)-1e-9 || l < inch {
				continue
			}
			if got, _ := us(fmt.Sprintf("screws = 3, gauge = %s, length = \"%.6f m\"", m[1], l), gust).Find(id); got.Result == verdict.Holds {
				t.Errorf("gust %g: %q, and %.4g in holds too", gust, c.Cure, l/inch)
			}
		}
	}
	if tried < 2 {
		t.Errorf("a screw was advised %d times", tried)
	}
}
