package check_test

import (
	"math"
	"testing"

	"galefast/internal/verdict"
)

const gravity = 9.80665

// still is level ground, next to no wind, and a push of 100 N at 1 m.
var still = place{friction: 0.4, terrain: "C", open: -1, alone: 1e-4, lean: 100, at: 1}

// A leaf that hangs off a column burdens it at its heavy end; the column itself counts
// at its light end.
func TestLeafByHand(t *testing.T) {
	src := still.toml() + `
[[column]]
name = "column"
at = ["0 m", "0 m"]
foot = ["0.6 m", "0.6 m"]
tolerance = "10 %"
section = [{ name = "pillar", width = "0.6 m", height = "2 m", mass = "80 kg" }]
[[gate]]
name = "leaf"
hung_on = "column"
face = "east"
opens = "north"
width = "1.2 m"
height = "1.5 m"
mass = "10 kg"
tolerance = "20 %"
open = "90 deg"
keeper = { closed = "latch", open = "hook" }
`
	// Open, the leaf runs north from the hinge at (0.3, 0): its weight lies 0.6 m north,
	// 0.3 m beyond the north edge.
	column, leaf := 80*0.9*gravity, 10*1.2*gravity
	want := (column*0.3 - leaf*0.3) / (100 * 1)
	r := runSite(t, src)
	if got := has(t, r, "standing/column/overturning"); !near(got, want, 1e-6) {
		t.Errorf("overturning %.6f, by hand (80 kg x 0.9 x 0.3 m - 10 kg x 1.2 x 0.3 m) g / (100 N x 1 m) = %.6f", got, want)
	}
	// Where weight helps, the leaf counts at its light end.
	want = 0.4 * (column + 10*0.8*gravity) / 100
	if got := has(t, r, "standing/column/sliding"); !near(got, want, 1e-6) {
		t.Errorf("sliding %.6f, by hand mu (72 + 8) kg g / 100 N = %.6f", got, want)
	}
}

// Half a span's weight rests on each column, on the face that looks along it.
func TestSpanByHand(t *testing.T) {
	src := still.toml()
	for i, name := range []string{"west", "east"} {
		src += column{name: name, at: [2]float64{3 * float64(i), 0}, foot: [2]float64{0.6, 0.6},
			sections: []section{{name: "pillar", shape: "square", width: 0.4, height: 2, mass: 60}}}.toml()
	}
	src += "[[span]]\nname = \"sign\"\nbetween = [\"west\", \"east\"]\nunderside = \"1.5 m\"\nface = [\"2 m\", \"0.3 m\"]\nmass = \"20 kg\"\ntolerance = \"0 %\"\n"
	// Rests 0.2 m from the middle of the foot, 0.1 m within its edge.
	want := (60*0.3 + 10*0.1) * gravity / 100
	r := runSite(t, src)
	for _, name := range []string{"west", "east"} {
		if got := has(t, r, "standing/"+name+"/overturning"); !near(got, want, 1e-6) {
			t.Errorf("%s: overturning %.6f, by hand (60 kg x 0.3 m + 10 kg x 0.1 m) g / 100 N m = %.6f", name, got, want)
		}
	}
}

// Ground that falls takes from the friction and from the lever of the weight.
func TestSlopeByHand(t *testing.T) {
	p := still
	p.slope = 0.05
	r := runSite(t, p.toml()+column{name: "column", foot: [2]float64{0.6, 0.6}, sections: []section{{name: "pillar", shape: "square", width: 0.6, height: 2, mass: 80}}}.toml())
	weight, fall := 80*gravity, math.Atan(0.05)
	want := weight * (0.4*math.Cos(fall) - math.Sin(fall)) / 100
	if got := has(t, r, "standing/column/sliding"); !near(got, want, 1e-6) {
		t.Errorf("sliding down a fall of 5 %% %.6f, by hand W (mu cos - sin) / P = %.6f", got, want)
	}
	want = weight * (0.3*math.Cos(fall) - 1*math.Sin(fall)) / (100 * 1)
	if got := has(t, r, "standing/column/overturning"); !near(got, want, 1e-6) {
		t.Errorf("overturning down a fall of 5 %% %.6f, by hand W (b/2 cos - z sin) / (P h) = %.6f", got, want)
	}
}

// A wall tips about the far edge of its sill one way and about its toes the other.
func TestBracedWallByHand(t *testing.T) {
	wall := still.toml() + "[[wall]]\nname = \"wall\"\nfrom = [\"0 m\", \"0 m\"]\nto = [\"3 m\", \"0 m\"]\nheight = \"2 m\"\nfoot = \"0.2 m\"\nmass = \"60 kg\"\ntolerance = \"0 %\"\n" +
		"side = \"left\"\nbraces = { count = 2, reach = \"1 m\", height = \"1.5 m\" }\n"
	r := runSite(t, wall)
	want := 60 * gravity * 0.1 / 100
	if got := has(t, r, "standing/wall/overturning"); !near(got, want, 1e-6) {
		t.Errorf("overturning %.6f, by hand 60 kg g x 0.1 m / 100 N m = %.6f", got, want)
	}
	if c, _ := r.Find("standing/wall/overturning"); c.Mechanism != "overturns about its south edge" {
		t.Errorf("braced to the north it %s", c.Mechanism)
	}
	// 120 kg on the toes, 1 m to the north, hold it by 1.1 m against the south. To the
	// north the toes are the edge, 1 m from the wall.
	r = runSite(t, wall+"[[ballast]]\nin = \"wall\"\nplace = \"toes\"\nmass = \"20 kg\"\ncount = 6\n")
	south := (60*0.1 + 120*1.1) * gravity / 100
	north := 60 * 1.0 * gravity / 100
	if got := has(t, r, "standing/wall/overturning"); !near(got, math.Min(south, north), 1e-6) {
		t.Errorf("overturning %.6f, by hand the lesser of %.6f to the south and %.6f to the north", got, south, north)
	}
}

// What is merely seated tips and slides on the section below it.
func TestSeatedSectionByHand(t *testing.T) {
	c := column{name: "column", foot: [2]float64{0.8, 0.8}, sections: []section{
		{name: "pillar", shape: "square", width: 0.8, height: 0.5, mass: 200},
		{name: "urn", shape: "square", width: 0.4, height: 0.8, mass: 25, seated: true}}}
	r := runSite(t, still.toml()+c.toml())
	const source = "wood on wood 0.4, EN 13814 and DIN 4112 design value, from memory"
	want := 0.4 * 25 * gravity / 100
	if got := has(t, r, "standing/column, urn/sliding"); !near(got, want, 1e-6) {
		t.Errorf("sliding on the pillar %.6f, by hand 0.4 x 25 kg g / 100 N = %.6f (%s)", got, want, source)
	}
	want = 25 * gravity * 0.2 / (100 * 0.5)
	if got := has(t, r, "standing/column, urn/overturning"); !near(got, want, 1e-6) {
		t.Errorf("overturning on the pillar %.6f, by hand 25 kg g x 0.2 m / (100 N x 0.5 m) = %.6f", got, want)
	}
	// Bolted, it is one piece with the pillar.
	c.sections[1].seated = false
	if _, ok := runSite(t, still.toml()+c.toml()).Find("standing/column, urn/sliding"); ok {
		t.Error("bolted down, it is still checked as merely seated")
	}
}

// A piece that falls over by itself has no factor at all.
func TestDoesNotStandByItself(t *testing.T) {
	src := still.toml() + `
[[column]]
name = "post"
at = ["0 m", "0 m"]
foot = ["0.2 m", "0.2 m"]
section = [{ name = "pillar", width = "0.2 m", height = "2 m", mass = "10 kg" }]
[[gate]]
name = "leaf"
hung_on = "post"
face = "east"
opens = "north"
width = "2 m"
height = "1.5 m"
mass = "10 kg"
keeper = { closed = "latch", open = "hook" }
`
	c, _ := runSite(t, src).Find("standing/post/overturning")
	if c == nil || c.Result != verdict.Fails || c.Has == nil || *c.Has != 0 || c.Mechanism != "does not stand by itself" {
		t.Errorf("a leaf of 10 kg and 2 m on a post of 10 kg and 0.2 m: %+v", c)
	}
}
