package fastener

import (
	"errors"
	"fmt"
	"math"
	"testing"
)

// TestGuy: the weakest of rope, fitting and anchor, each by hand.
func TestGuy(t *testing.T) {
	rope, err := RopeOf("nylon", 0.5*inch)
	if err != nil {
		t.Fatal(err)
	}
	stake := Stakes()[0]
	base := Guy{Rope: rope, Angle: math.Pi / 4, Anchor: Anchor{PullTest: stake.Pullout, Certainty: stake.Certainty}, AnchorSource: stake.Source}
	for _, c := range []struct {
		name   string
		change func(*Guy)
		want   float64
		mode   string
	}{
		{"stake of a published test over 2", func(*Guy) {}, 500 * lbf, "anchor pulls out"},
		{"wet ground", func(g *Guy) { g.Anchor.Wet = true }, 250 * lbf, "anchor pulls out"},
		{"stated divisor", func(g *Guy) { g.Anchor.TestDivisor = 4 }, 250 * lbf, "anchor pulls out"},
		{"fitting", func(g *Guy) { g.Fitting = 900 }, 900, "fitting gives way"},
		{"rope 6400 lb, knots halve it, divisor 5", func(g *Guy) { g.Anchor.TestDivisor = 1; g.Anchor.PullTest = 1e6 }, 640 * lbf, "rope breaks at its knots"},
		{"rope at its full strength", func(g *Guy) { g.Anchor.TestDivisor = 1; g.Anchor.PullTest = 1e6; g.RopeDivisor = 1 }, 3200 * lbf, "rope breaks at its knots"},
		{"rope with eyes spliced", func(g *Guy) { g.Anchor.TestDivisor = 1; g.Anchor.PullTest = 1e6; g.Knots = 0.9; g.RopeDivisor = 12 }, 480 * lbf, "rope breaks at its knots"},
		{"block", func(g *Guy) { g.Anchor = Anchor{Weight: 400, Friction: 0.5} }, 0.5 * 400 / (1.5 * math.Sqrt(0.5)), "dead weight slides"},
	} {
		g := base
		c.change(&g)
		got, err := g.Capacity()
		if err != nil {
			t.Fatalf("%s: %v", c.name, err)
		}
		near(t, c.name, got.Value, c.want)
		if got.Mode != c.mode {
			t.Errorf("%s: %s", c.name, got.Mode)
		}
	}
	for name, a := range map[string]Anchor{"both": {PullTest: 1, Weight: 1}, "neither": {}} {
		if _, err := (Guy{Rope: rope, Anchor: a}).Capacity(); err == nil {
			t.Errorf("an anchor with %s of pull test and weight", name)
		}
	}
	for _, name := range []string{"rope divisor", "knot efficiency", "wire clip efficiency", "pull test divisor", "wet ground", "stop stiffness", "leaf tip speed"} {
		if d, err := DefaultOf(name); err != nil || d.Value <= 0 {
			t.Errorf("%s: %+v %v", name, d, err)
		}
	}
}

// TestSlam: energy and force by hand, in balance about the hinge line; an even leaf struck at
// its tip leaves half of the force to the hinges, at two thirds of its width (the centre of
// percussion) none.
func TestSlam(t *testing.T) {
	s := Slam{Mass: 24, Centre: Vec{0.5, 0, 1}, Width: 1, StopX: 1, StopZ: 1, TipSpeed: 2, Stiffness: 2e4}
	blow, err := s.Blow()
	if err != nil {
		t.Fatal(err)
	}
	near(t, "energy", blow.Energy, 24./3*4/2)
	near(t, "force", blow.Force, math.Sqrt(2*16*2e4))
	left := func(x float64) float64 {
		s.StopX = x
		blow, err := s.Blow()
		if err != nil {
			t.Fatal(err)
		}
		cases, err := Leaf{Hinges: []float64{0, 2}, Bears: Shared}.Reactions(blow.Loads)
		if err != nil {
			t.Fatal(err)
		}
		return (cases[0].Hinges[0][1] + cases[0].Hinges[1][1]) / blow.Force
	}
	near(t, "at the tip", left(1), 1-1.5)
	near(t, "at the centre of percussion", left(2./3), 0)

	s.GustForce, s.Swing = 100, 1.5 // 100 N at half the width over 1.5 rad: 75 J
	if blow, err = s.Blow(); err != nil {
		t.Fatal(err)
	}
	near(t, "work of the gust", blow.Energy, 75)
	still, err := Slam{Mass: 24, Centre: Vec{0.5, 0, 1}, Width: 1, StopX: 1}.Blow()
	if err != nil {
		t.Fatal(err)
	}
	if still.Energy <= 0 || still.Certainty != noSource {
		t.Errorf("defaults: %+v", still)
	}
}

// TestFurtherHinge: the place below the top takes more of the couple than the middle does.
func TestFurtherHinge(t *testing.T) {
	l := Leaf{Hinges: []float64{0.2, 1.8}}
	most := func(l Leaf) (float64, error) {
		cases, err := l.Reactions([]Load{{"weight", Vec{0, 0, -300}, Vec{0.6, 0, 1}}})
		if err != nil {
			return 0, err
		}
		worst := 0.0
		for _, h := range cases[0].Hinges {
			worst = max(worst, h[0])
		}
		return worst, nil
	}
	before, err := most(l)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "two hinges", before, 300*0.6/1.6)
	three, after, err := l.FurtherHinge(most)
	if err != nil || after >= before || len(three.Hinges) != 3 || math.Abs(three.Hinges[2]-1.48) > 1e-12 {
		t.Errorf("%+v, %g N instead of %g, %v", three, after, before, err)
	}
}

// TestFurtherHingePlaces: of the two places the better one is taken, whichever it is, at a fifth of the spacing
// below the top or in the middle; what cannot be judged is an error.
func TestFurtherHingePlaces(t *testing.T) {
	l := Leaf{Hinges: []float64{1.7, 0.2}} // in any order
	for _, want := range []float64{0.95, 1.4} {
		got, least, err := l.FurtherHinge(func(l Leaf) (float64, error) { return math.Abs(l.Hinges[2] - want), nil })
		if err != nil || math.Abs(got.Hinges[2]-want) > 1e-12 || least > 1e-12 || got.Hinges[0] != 1.7 || got.Hinges[1] != 0.2 {
			t.Errorf("%+v, %g, %v, want a hinge at %g m", got, least, err, want)
		}
	}
	if len(l.Hinges) != 2 {
		t.Errorf("the leaf that was asked about changed: %v", l.Hinges)
	}
	if got, _, err := l.FurtherHinge(func(Leaf) (float64, error) { return math.Inf(1), nil }); err == nil {
		t.Errorf("a hinge that cannot be judged: %+v", got)
	}
	failed := errors.New("no share")
	if _, _, err := l.FurtherHinge(func(Leaf) (float64, error) { return 0, failed }); err != failed {
		t.Errorf("%v", err)
	}
	if got, _, err := (Leaf{Hinges: []float64{1}}).FurtherHinge(func(Leaf) (float64, error) { return 1, nil }); err == nil {
		t.Errorf("a leaf on one hinge: %+v", got)
	}
}

// TestLeafByHand: loads on hinges at 0, 1 and 2 m. 300 N along the leaf at 1.5 m: 100 N each, and 150 N m of
// it about the middle as 75 N at 1 m above and below. Across, wind of 120 N at 0.8 m from the hinge line and
// 1.2 m up, on a stop at 1.6 m and 0.4 m up: 60 N on the stop, which leave 60 N at 2 m: 20 N each, and 60 N m
// as 30 N. A force of 40 N along the leaf, 0.1 m off its plane, takes 40 x 0.1 / 1.6 = 2.5 N off the stop.
func TestLeafByHand(t *testing.T) {
	l := Leaf{Hinges: []float64{0, 1, 2}, Bears: Shared, Stopped: true, StopX: 1.6, StopZ: 0.4}
	for _, c := range []struct {
		name  string
		loads []Load
		stop  float64
		want  [3]Vec
	}{
		{"along", []Load{{"", Vec{300, 0, 0}, Vec{0, 0, 1.5}}}, 0, [3]Vec{{25}, {100}, {175}}},
		{"across", []Load{{"", Vec{0, 120, 0}, Vec{0.8, 0, 1.2}}}, 60, [3]Vec{{0, -10}, {0, 20}, {0, 50}}},
		{"weight", []Load{{"", Vec{0, 0, -300}, Vec{0.8, 0, 1}}}, 0, [3]Vec{{-120, 0, -100}, {0, 0, -100}, {120, 0, -100}}},
		// The stop leaves 2.5 N at 0.4 m: 0.833 N each, less 1.5 N m about the middle as 0.75 N.
		{"off the plane", []Load{{"", Vec{40, 0, 0}, Vec{0, 0.1, 1}}}, -2.5, [3]Vec{{40. / 3, 2.5/3 + 0.75}, {40. / 3, 2.5 / 3}, {40. / 3, 2.5/3 - 0.75}}},
		// Weight 0.1 m off the plane tilts the leaf across: 30 N m as 15 N at 1 m.
		{"weight off the plane", []Load{{"", Vec{0, 0, -300}, Vec{0, 0.1, 1}}}, 0, [3]Vec{{0, -15, -100}, {0, 0, -100}, {0, 15, -100}}},
	} {
		cases, err := l.Reactions(c.loads)
		if err != nil || len(cases) != 1 {
			t.Fatalf("%s: %v, %v", c.name, cases, err)
		}
		near(t, c.name+": stop", cases[0].Stop, c.stop)
		for i, h := range cases[0].Hinges {
			for axis := range h {
				near(t, fmt.Sprintf("%s: hinge %d, axis %d", c.name, i+1, axis), h[axis], c.want[i][axis])
			}
		}
	}
}

// TestWhichHingeBears: the weight goes where [Bears] says, in the order of the hinges, and nowhere else.
func TestWhichHingeBears(t *testing.T) {
	weight := []Load{{"weight", Vec{0, 0, -90}, Vec{0.5, 0, 1}}}
	for _, c := range []struct {
		bears Bears
		names []string
		up    [][]float64
	}{
		{Any, []string{"weight on hinge 1", "weight on hinge 2", "weight on hinge 3"}, [][]float64{{-90, 0, 0}, {0, -90, 0}, {0, 0, -90}}},
		{Lowest, []string{"weight on the lowest hinge"}, [][]float64{{0, -90, 0}}},
		{Shared, []string{"weight shared"}, [][]float64{{-30, -30, -30}}},
	} {
		cases, err := Leaf{Hinges: []float64{1, 0.1, 1.9}, Bears: c.bears}.Reactions(weight)
		if err != nil || len(cases) != len(c.names) {
			t.Fatalf("%v, %v", cases, err)
		}
		for i, r := range cases {
			if r.Case != c.names[i] {
				t.Errorf("%q, want %q", r.Case, c.names[i])
			}
			for k, h := range r.Hinges {
				near(t, r.Case, h[2], c.up[i][k])
			}
		}
	}
}

// TestManyHinges: from two to a hundred.
func TestManyHinges(t *testing.T) {
	for n, taken := range map[int]bool{1: false, 2: true, 100: true, 101: false} {
		var l Leaf
		for i := range n {
			l.Hinges = append(l.Hinges, float64(i)/10)
		}
		if _, err := l.Reactions(nil); (err == nil) != taken {
			t.Errorf("%d hinges: %v", n, err)
		}
	}
}

// TestLeafInBalance: loads that balance about the hinge line need no stop, whatever rounding leaves of them;
// a billionth part that is left turns the leaf.
func TestLeafInBalance(t *testing.T) {
	l := Leaf{Hinges: []float64{0, 1}}
	tenth, fifth := 0.1, 0.2 // whose sum is not 0.3
	for _, f := range []float64{1e-3, 1, 1e3, 1e6} {
		push := func(x, by float64) Load { return Load{"push", Vec{0, by, 0}, Vec{x, 0, 0.5}} }
		for name, loads := range map[string][]Load{
			"across":            {push(tenth+fifth, f), push(0.3, -f)},
			"along, off plane":  {{"pull", Vec{f, 0, 0}, Vec{0, tenth + fifth, 0}}, {"pull", Vec{-f, 0, 0}, Vec{0, 0.3, 0}}},
			"at the hinge line": {push(0, f)},
		} {
			if _, err := l.Reactions(loads); err != nil {
				t.Errorf("%g N %s: %v", f, name, err)
			}
		}
		if _, err := l.Reactions([]Load{push(0.3*(1+1e-8), f), push(0.3, -f)}); err == nil {
			t.Errorf("%g N: what is left over does not turn the leaf", f)
		}
	}
}

// TestSlamEnergy: the energy is that of the speed or of the gust, whichever is more; the default speed stands in
// only where neither is said. 100 N at half of 1 m over 0.1 rad is 5 J, and 8 kg m2 turn with 1 rad/s or
// with the default 3 rad/s: 4 and 36 J.
func TestSlamEnergy(t *testing.T) {
	s := Slam{Mass: 24, Centre: Vec{0.5, 0, 1}, Width: 1, StopX: 1, StopZ: 1, Stiffness: 2e4}
	for _, c := range []struct {
		speed, gust, swing, want float64
	}{{1, 0, 0, 4}, {1, 100, 0.1, 5}, {1, 100, 0.05, 4}, {0, 100, 0.1, 5}, {0, 100, 0, 36}, {0, 0, 1, 36}, {0, 0, 0, 36}} {
		s.TipSpeed, s.GustForce, s.Swing = c.speed, c.gust, c.swing
		blow, err := s.Blow()
		if err != nil {
			t.Fatal(err)
		}
		near(t, fmt.Sprintf("%+v", c), blow.Energy, c.want)
		near(t, "stop", blow.Loads[0].Force[1], math.Sqrt(2*c.want*2e4))
	}
	// A leaf 2 m wide whose middle is 0.8 m from the hinges: J = 32 kg m2 and percussion at 32 / 19.2 m, in the
	// height of the middle; the stop at 1.5 m.
	s = Slam{Mass: 24, Centre: Vec{0.8, 0, 1}, Width: 2, StopX: 1.5, StopZ: 0.3, TipSpeed: 2, Stiffness: 1e4}
	blow, err := s.Blow()
	if err != nil {
		t.Fatal(err)
	}
	near(t, "energy", blow.Energy, 16)
	near(t, "percussion", blow.Loads[1].At[0], 5./3)
	near(t, "inertia", blow.Loads[1].Force[1], -math.Sqrt(2*16*1e4)*0.9)
	if blow.Loads[0].At != (Vec{1.5, 0, 0.3}) || blow.Loads[1].At[2] != 1 {
		t.Errorf("%+v", blow.Loads)
	}
}

// TestInPlane: four bolts at the corners of a square of side 2 a under a twist carry M / (4 a
// sqrt 2) each, and a force through their middle a quarter each (elastic method, any text on
// steel connections).
func TestInPlane(t *testing.T) {
	const a = 0.05
	square := []Point{{-a, -a}, {a, -a}, {a, a}, {-a, a}}
	shares, err := InPlane(square, Point{}, Point{}, 100)
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range shares {
		near(t, "twist", math.Hypot(s[0], s[1]), 100/(4*a*math.Sqrt2))
	}
	shares, err = InPlane(square, Point{0, -400}, Point{0.2, 0}, 0)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "near bolt, down", shares[1][1], -100-400*0.2*a/(8*a*a))
	if _, err := InPlane([]Point{{1, 1}}, Point{0, 1}, Point{0, 0}, 0); err == nil {
		t.Error("one bolt carries a moment")
	}
}

// TestRefusals: what lies outside of every sensible range is an error that names it.
func TestRefusals(t *testing.T) {
	load := []Load{{"load", Vec{0, 0, -1}, Vec{1, 0, 1}}}
	slam := Slam{Mass: 24, Centre: Vec{0.5, 0, 1}, Width: 1, StopX: 1}
	plate := Plate{Out: Vec{1, 0, 0}, Up: Vec{0, 0, 1}, Width: 0.04, Height: 0.1, Screws: []Point{{0.01, 0.01}, {0.03, 0.09}}}
	rope := Rope{Breaking: 1e4}
	for name, err := range map[string]error{
		"one hinge":              errorOf(Leaf{Hinges: []float64{1}}.Reactions(load)),
		"hinges in one point":    errorOf(Leaf{Hinges: []float64{1, 1}}.Reactions(load)),
		"no such bearing":        errorOf(Leaf{Hinges: []float64{0, 1}, Bears: 7}.Reactions(load)),
		"stop on the hinges":     errorOf(Leaf{Hinges: []float64{0, 1}, Stopped: true}.Reactions(load)),
		"hinge out of sight":     errorOf(Leaf{Hinges: []float64{0, 1e3}}.Reactions(load)),
		"force without end":      errorOf(Leaf{Hinges: []float64{0, 1}}.Reactions([]Load{{"load", Vec{0, 0, math.Inf(1)}, Vec{}}})),
		"force far away":         errorOf(Leaf{Hinges: []float64{0, 1}}.Reactions([]Load{{"load", Vec{}, Vec{1e3, 0, 0}}})),
		"leaf without mass":      errorOf(Slam{Centre: slam.Centre, Width: 1, StopX: 1}.Blow()),
		"centre beyond the tip":  errorOf(Slam{Mass: 1, Centre: Vec{2, 0, 0}, Width: 1, StopX: 1}.Blow()),
		"rope divisor below 1":   errorOf(Guy{Rope: rope, RopeDivisor: 0.9, Anchor: Anchor{PullTest: 1}}.Capacity()),
		"test divisor below 1":   errorOf(Guy{Rope: rope, Anchor: Anchor{PullTest: 1, TestDivisor: 0.9}}.Capacity()),
		"upright guy":            errorOf(Guy{Rope: rope, Angle: math.Pi / 2, Anchor: Anchor{PullTest: 1}}.Capacity()),
		"depth 0":                errorOf(Section{Bolts: []float64{0}}.Open(0, 0, 1)),
		"bolt outside":           errorOf(Section{Depth: 1, Bolts: []float64{2}}.Open(0, 0, 1)),
		"no bolts, opening":      errorOf(Section{Depth: 1}.Open(0, 0, 1)),
		"nothing to share among": errorOf(InPlane(nil, Point{}, Point{}, 0)),
	} {
		if err == nil {
			t.Errorf("%s: no error", name)
		}
	}
	for name, change := range map[string]func(*Plate){
		"no width":        func(p *Plate) { p.Width = 0 },
		"Up not a unit":   func(p *Plate) { p.Up = Vec{0, 0, 2} },
		"Up along Out":    func(p *Plate) { p.Up = p.Out },
		"screw off plate": func(p *Plate) { p.Screws = []Point{{0.05, 0.01}, {0.01, 0.01}} },
	} {
		p := plate
		change(&p)
		if _, _, err := p.Share(Vec{1, 0, 0}, Vec{}, Vec{}); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
	if _, _, err := plate.Share(Vec{1, 0, 0}, Vec{}, Vec{}); err != nil {
		t.Error(err)
	}
	if _, err := RopeOf("hemp", 0.01); err == nil {
		t.Error("a rope that the table lacks")
	}
	if _, err := DefaultOf("luck"); err == nil {
		t.Error("a default that the table lacks")
	}
	if _, err := MaterialOf("cheese"); err == nil {
		t.Error("a material that the table lacks")
	}
	if _, err := Of(Bolt, "#10", 0); err == nil {
		t.Error("a size that the table lacks")
	}
}

// errorOf keeps the error of a result and its error.
func errorOf[T any](_ T, err error) error { return err }
