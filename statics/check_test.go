package statics

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"
)

// failer is what testing.T, testing.F and rapid.T share.
type failer interface {
	Helper()
	Fatalf(format string, args ...any)
}

func must(t failer, b Body) Result {
	t.Helper()
	r, err := b.Check()
	if err != nil {
		t.Fatalf("%+v: %v", b, err)
	}
	return r
}

func near(a, b, tolerance float64) bool {
	return math.Abs(a-b) <= tolerance*(1+math.Abs(a)+math.Abs(b))
}

func sameFactor(a, b Factor, tolerance float64) bool {
	return a.Unbounded == b.Unbounded && near(a.Value, b.Value, tolerance)
}

func rectangle(width, depth float64) [][2]float64 {
	x, y := width/2, depth/2
	return [][2]float64{{-x, -y}, {x, -y}, {x, y}, {-x, y}}
}

// column is a plain column of 100 kg with a push of 50 N at 2 m.
func column(push Vec, at Vec) Body {
	return Body{
		Foot: rectangle(0.8, 0.6), Friction: 0.4,
		Dead: []Force{Weight("column", 100, Vec{0, 0, 1}, Gravity(0, 0))},
		Live: []Force{{Name: "push", F: push, At: at}},
	}
}

func randomForces(rng *rand.Rand, n int, dead bool) []Force {
	fs := make([]Force, n)
	for i := range fs {
		f := &fs[i]
		f.At = Vec{rng.NormFloat64() * 0.3, rng.NormFloat64() * 0.3, 3 * rng.Float64()}
		if dead {
			f.F = Vec{rng.NormFloat64() * 5, rng.NormFloat64() * 5, -1000 * rng.Float64()}
		} else {
			f.F = Vec{rng.NormFloat64() * 100, rng.NormFloat64() * 100, rng.NormFloat64() * 50}
		}
	}
	return fs
}

func randomBody(rng *rand.Rand) Body {
	b := Body{
		Friction: rng.Float64(),
		Dead:     randomForces(rng, 1+rng.IntN(3), true),
		Live:     randomForces(rng, 1+rng.IntN(3), false),
	}
	for range 3 + rng.IntN(6) {
		b.Foot = append(b.Foot, [2]float64{rng.NormFloat64(), rng.NormFloat64()})
	}
	return b
}

// loads lists all forces at a load factor.
func loads(b Body, factor float64) []Force {
	all := append([]Force(nil), b.Dead...)
	for _, f := range b.Live {
		for i := range f.F {
			f.F[i] *= factor
		}
		all = append(all, f)
	}
	return all
}

// total is the sum of forces and of r × F, and the sum of their sizes.
func total(fs []Force) (force, moment Vec, scale float64) {
	for _, f := range fs {
		m := Vec{
			f.At[1]*f.F[2] - f.At[2]*f.F[1],
			f.At[2]*f.F[0] - f.At[0]*f.F[2],
			f.At[0]*f.F[1] - f.At[1]*f.F[0],
		}
		for i := range m {
			force[i] += f.F[i]
			moment[i] += m[i]
			scale += math.Abs(f.F[i]) + math.Abs(m[i])
		}
	}
	return force, moment, scale
}

// tips decides without edges or hull: the point without tipping moment lies in no
// triangle of bearing points.
func tips(b Body, factor float64) bool {
	force, moment, _ := total(loads(b, factor))
	if force[2] >= 0 {
		return true
	}
	c := [2]float64{-moment[1] / force[2], moment[0] / force[2]}
	for i := range b.Foot {
		for j := range i {
			for k := range j {
				u := cross(b.Foot[i], b.Foot[j], c)
				v := cross(b.Foot[j], b.Foot[k], c)
				w := cross(b.Foot[k], b.Foot[i], c)
				if (u >= 0 && v >= 0 && w >= 0) || (u <= 0 && v <= 0 && w <= 0) {
					return false
				}
			}
		}
	}
	return true
}

func slides(b Body, factor float64) bool {
	force, _, _ := total(loads(b, factor))
	return math.Hypot(force[0], force[1]) > -b.Friction*force[2]
}

// bisect finds where fails turns true; both sets of carried loads are convex.
func bisect(b Body, fails func(Body, float64) bool) Factor {
	const top = 1e6
	if fails(b, 0) {
		return Factor{}
	}
	if !fails(b, top) {
		return Factor{Unbounded: true}
	}
	lo, hi := 0.0, top
	for range 120 {
		if x := (lo + hi) / 2; fails(b, x) {
			hi = x
		} else {
			lo = x
		}
	}
	return Factor{Value: lo}
}

func TestBruteForce(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	var tipped, slid, turned, fallen int
	for i := range 2000 {
		b := randomBody(rng)
		r := must(t, b)
		over := r.Overturning[r.WorstEdge]
		if want := bisect(b, tips); !sameFactor(over.Factor, want, 1e-7) {
			t.Fatalf("body %d: overturning %+v, bisection %+v\n%+v", i, over.Factor, want, b)
		}
		if want := bisect(b, slides); !sameFactor(r.Sliding.Factor, want, 1e-7) {
			t.Fatalf("body %d: sliding %+v, bisection %+v\n%+v", i, r.Sliding.Factor, want, b)
		}
		if r.Uplift.Less(over.Factor) {
			t.Fatalf("body %d: lifts off at %+v before it tips at %+v", i, r.Uplift, over.Factor)
		}
		if over.DeadTips != tips(b, 0) || r.Sliding.DeadSlides != slides(b, 0) {
			t.Fatalf("body %d: standing by itself", i)
		}
		if r.Turning.DeadTurns && (over.DeadTips || r.Sliding.DeadSlides) {
			t.Fatalf("body %d falls by itself and is said to turn as well", i)
		}
		switch mode, _ := r.Governing(); {
		case mode == NotStanding:
			fallen++
		case mode == Turning:
			turned++
			fallthrough
		default:
			if r.Sliding.Factor.Less(over.Factor) {
				slid++
			} else {
				tipped++
			}
		}
	}
	if min(tipped, slid, turned, fallen) < 50 {
		t.Errorf("poor mix: %d tip, %d slide, %d turn, %d fall", tipped, slid, turned, fallen)
	}
}

// TestReactions checks the proof of the turning bound: corner forces in equilibrium with
// the loads, pressing, and within the friction cone.
func TestReactions(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	proven := 0
	for i := range 2000 {
		b := randomBody(rng)
		r := must(t, b)
		if r.Turning.Factor.Value == 0 {
			continue
		}
		for _, share := range []float64{0.3, 0.7, 1 - 1e-8} {
			factor := share * r.Turning.Factor.Value
			corners, ok, err := b.Reactions(factor)
			if err != nil {
				t.Fatal(err)
			}
			if !ok {
				// Below the bound the mixture of two proven states carries the load.
				if share < 0.9 {
					continue
				}
				t.Fatalf("body %d: no reactions at %g of the bound\n%+v", i, share, b)
			}
			all := loads(b, factor)
			for j, f := range corners {
				if f[2] < 0 || math.Hypot(f[0], f[1]) > b.Friction*f[2]*(1+1e-9) {
					t.Fatalf("body %d corner %d: %v outside the cone, friction %g", i, j, f, b.Friction)
				}
				all = append(all, Force{F: f, At: Vec{r.Hull[j][0], r.Hull[j][1], 0}})
			}
			force, moment, scale := total(all)
			for j := range force {
				if math.Abs(force[j]) > 1e-9*scale || math.Abs(moment[j]) > 1e-9*scale {
					t.Fatalf("body %d: out of balance by %v N, %v N·m of %g", i, force, moment, scale)
				}
			}
			proven++
		}
	}
	if proven < 2000 {
		t.Errorf("only %d states proven", proven)
	}
}

// Where turning governs, its factor is all that the corners carry: a hundred-billionth more is not carried, or no more
// than that share of the friction is left.
func TestTurningLeavesNothing(t *testing.T) {
	rng := rand.New(rand.NewPCG(14, 3))
	tried := 0
	for i := range 1000 {
		b := randomBody(rng)
		b.Friction *= math.Pow(10, -2*rng.Float64())
		for k := range b.Dead {
			b.Dead[k].F[0], b.Dead[k].F[1] = 0, 0
		}
		r := must(t, b)
		if mode, _ := r.Governing(); mode != Turning || r.Turning.Factor.Value == 0 {
			continue
		}
		tried++
		k := contact{r.Hull, r.Hull[0], b.Friction}
		dead, live := sum(b.Dead, k.origin), sum(b.Live, k.origin)
		at := k.margin(dead.plus(r.Turning.Factor.Value, live))
		if beyond := k.margin(dead.plus(r.Turning.Factor.Value*(1+1e-11), live)); at < 0 || at > 1e-11*b.Friction*dead.n && beyond >= 0 {
			t.Errorf("body %d: of %g N of friction %g N are left at the factor, %g N beyond", i, b.Friction*dead.n, at, beyond)
		}
	}
	if tried < 100 {
		t.Errorf("turning governs only %d bodies", tried)
	}
}

// TestReactionsRefuse checks that loads beyond any mode get no reactions.
func TestReactionsRefuse(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 6))
	for i := range 1000 {
		b := randomBody(rng)
		r := must(t, b)
		limit := least(r.Overturning[r.WorstEdge].Factor, r.Sliding.Factor)
		if limit.Unbounded || limit.Value == 0 {
			continue
		}
		if _, ok, _ := b.Reactions(limit.Value * 1.0001); ok {
			t.Fatalf("body %d: reactions beyond overturning or sliding", i)
		}
	}
	// 1000 N with a friction of 0.4 carry a push of 400 N low down that twists nothing, and no lift of 1000 N.
	for _, c := range []struct {
		push Vec
		want bool
	}{{Vec{399, 0, 0}, true}, {Vec{0, -399, 0}, true}, {Vec{0, -401, 0}, false}, {Vec{0, 0, 999}, true}, {Vec{0, 0, 1000}, false}} {
		b := Body{Foot: rectangle(1, 1), Friction: 0.4, Dead: []Force{{F: Vec{0, 0, -1000}}}, Live: []Force{{F: c.push}}}
		forces, ok, err := b.Reactions(1)
		if ok != c.want || err != nil {
			t.Errorf("%g N against 1000 N: reactions %v (%v), want %v", c.push, ok, err, c.want)
		}
		left := add(c.push, Vec{0, 0, -1000})
		for _, f := range forces {
			left = add(left, f)
		}
		if ok && norm(left) > 1e-9 {
			t.Errorf("%g N against 1000 N: %g N left over", c.push, left)
		}
	}
}

func TestRectangle(t *testing.T) {
	w := 100 * StandardGravity
	tests := []struct {
		name      string
		body      Body
		factor    float64
		mode      Mode
		mechanism string
	}{
		{"tips", column(Vec{50, 0, 0}, Vec{0, 0, 2}), w * 0.4 / 100, Overturning, "overturns about its east edge"},
		{"tips short way", column(Vec{0, -50, 0}, Vec{0, 0, 2}), w * 0.3 / 100, Overturning, "overturns about its south edge"},
		{"slides", column(Vec{-50, 0, 0}, Vec{0, 0, 0.5}), w * 0.4 / 50, Sliding, "slides to the west"},
		{"lifts off", column(Vec{0, 0, 50}, Vec{0, 0, 1}), w / 50, Uplift, "lifts off"},
		// A pure couple on corners 0.5 m from the centre: T = μ W 0.5 m.
		{"turns", Body{
			Foot: rectangle(0.8, 0.6), Friction: 0.4,
			Dead: []Force{{F: Vec{0, 0, -w}, At: Vec{0, 0, 1}}},
			Live: []Force{{F: Vec{0, 10, 0}, At: Vec{1, 0, 1}}, {F: Vec{0, -10, 0}, At: Vec{-1, 0, 1}}},
		}, 0.4 * w * 0.5 / 20, Turning, "turns on its foot"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			r := must(t, test.body)
			mode, factor := r.Governing()
			if mode != test.mode || !sameFactor(factor, Factor{Value: test.factor}, 1e-9) || r.Mechanism() != test.mechanism {
				t.Errorf("mode %d, %+v, %q; want %d, %g, %q", mode, factor, r.Mechanism(), test.mode, test.factor, test.mechanism)
			}
		})
	}
}

// TestRound turns a round foot: every corner is at the radius, so T = μ W r.
func TestRound(t *testing.T) {
	b := Body{
		Friction: 0.3,
		Dead:     []Force{{F: Vec{0, 0, -1000}, At: Vec{5, 5, 1}}},
		Live:     []Force{{F: Vec{10, 0, 0}, At: Vec{5, 4, 1}}, {F: Vec{-10, 0, 0}, At: Vec{5, 6, 1}}},
	}
	for i := range 24 {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / 24)
		b.Foot = append(b.Foot, [2]float64{5 + 0.5*cos, 5 + 0.5*sin})
	}
	r := must(t, b)
	if len(r.Hull) != 24 || !sameFactor(r.Turning.Factor, Factor{Value: 0.3 * 1000 * 0.5 / 20}, 1e-9) {
		t.Errorf("%d corners, %+v", len(r.Hull), r.Turning)
	}
	if !near(r.Turning.Torque, 150, 1e-9) || !near(r.Turning.Centre[0], 5, 1e-9) || !near(r.Turning.Centre[1], 5, 1e-9) {
		t.Errorf("%+v, want 150 N·m about 5, 5", r.Turning)
	}
}

func TestWithoutFactor(t *testing.T) {
	down := column(Vec{0, 0, -50}, Vec{0, 0, 1})
	if r := must(t, down); r.Mechanism() != "nothing applied can move it" || !r.Turning.Factor.Unbounded {
		t.Errorf("pressed down: %+v", r)
	}
	leaning := column(Vec{50, 0, 0}, Vec{0, 0, 2})
	leaning.Dead[0].At[0] = 0.5
	if r := must(t, leaning); r.Mechanism() != "does not stand by itself" || !r.Overturning[r.WorstEdge].DeadTips {
		t.Errorf("leaning: %+v", r)
	}
	// On a slope of 1 in 2 it slides with friction 0.4 and stands with 0.6.
	steep := column(Vec{50, 0, 0}, Vec{0, 0, 2})
	steep.Dead[0] = Weight("column", 100, Vec{0, 0, 0.2}, Gravity(0.5, math.Pi/2))
	if r := must(t, steep); !r.Sliding.DeadSlides || r.Sliding.Towards != "north" || r.Mechanism() != "does not stand by itself" {
		t.Errorf("steep: %+v", r)
	}
	steep.Friction = 0.6
	if r := must(t, steep); r.Sliding.DeadSlides || r.Turning.DeadTurns || r.Sliding.Factor.Value == 0 {
		t.Errorf("steep, rough: %+v", r)
	}
	if r := must(t, Body{Foot: rectangle(1, 1)}); r.Mechanism() != "does not stand by itself" {
		t.Errorf("weightless: %q", r.Mechanism())
	}
}

func TestSlidingLimits(t *testing.T) {
	unbounded := Factor{Unbounded: true}
	tests := []struct {
		name       string
		friction   float64
		dead, live Vec
		want       Factor
	}{
		{"ice, any push", 0, Vec{0, 0, -100}, Vec{1, 0, 0}, Factor{}},
		{"ice, no push", 0, Vec{0, 0, -100}, Vec{0, 0, -1}, unbounded},
		{"no live load", 0.5, Vec{0, 0, -100}, Vec{}, unbounded},
		{"push along the cone", 0.5, Vec{0, 0, -100}, Vec{1, 0, -2}, unbounded},
		{"push flatter than the cone", 0.5, Vec{0, 0, -100}, Vec{2, 0, -2}, Factor{Value: 50}},
		{"lift", 0.5, Vec{0, 0, -100}, Vec{0, 0, 1}, Factor{Value: 100}},
		{"lift and push", 0.5, Vec{0, 0, -100}, Vec{0, 1, 2}, Factor{Value: 25}},
		{"against a standing push", 0.5, Vec{-50, 0, -100}, Vec{1, 0, 0}, Factor{Value: 100}},
		{"across a standing push", 0.5, Vec{30, 0, -100}, Vec{0, 1, 0}, Factor{Value: 40}},
		{"on the limit already", 0.5, Vec{50, 0, -100}, Vec{1, 0, 0}, Factor{}},
		{"forces of which the squares vanish", 0.5, Vec{0, 0, -1e-170}, Vec{1e-170, 0, 0}, Factor{Value: 0.5}},
		{"beyond reckoning", 0.5, Vec{0, 0, -100}, Vec{1e-9, 0, 0}, unbounded},
	}
	for _, test := range tests {
		b := Body{Foot: rectangle(1, 1), Friction: test.friction,
			Dead: []Force{{F: test.dead}}, Live: []Force{{F: test.live}}}
		if got := must(t, b).Sliding; got.DeadSlides || !sameFactor(got.Factor, test.want, 1e-12) {
			t.Errorf("%s: %+v, want %+v", test.name, got, test.want)
		}
	}
}

func TestFactor(t *testing.T) {
	one, two, unbounded := Factor{Value: 1}, Factor{Value: 2}, Factor{Unbounded: true}
	if !one.Less(two) || two.Less(one) || !two.Less(unbounded) || unbounded.Less(one) || unbounded.Less(unbounded) {
		t.Error("order of factors")
	}
	if one.AtLeast(1.5) || !two.AtLeast(1.5) || !two.AtLeast(2) || !unbounded.AtLeast(5) {
		t.Error("required factors")
	}
}

// A lift of 1 N takes a factor of a billion against a billion newtons, the last that is a number.
func TestLargestFactor(t *testing.T) {
	for dead, want := range map[float64]Factor{1e9: {Value: 1e9}, 1e9 + 1: {Unbounded: true}} {
		b := Body{Foot: rectangle(1, 1), Friction: 0.5,
			Dead: []Force{{F: Vec{0, 0, -dead}}}, Live: []Force{{F: Vec{0, 0, 1}}}}
		if r := must(t, b); r.Uplift != want {
			t.Errorf("%g N: lifts off at %+v, want %+v", dead, r.Uplift, want)
		}
	}
}

func TestUnusable(t *testing.T) {
	good := column(Vec{50, 0, 0}, Vec{0, 0, 2})
	tests := []struct {
		name string
		spot func(*Body)
		want error
	}{
		{"no foot", func(b *Body) { b.Foot = nil }, ErrFoot},
		{"two points", func(b *Body) { b.Foot = b.Foot[:2] }, ErrFoot},
		{"a line", func(b *Body) { b.Foot = [][2]float64{{0, 0}, {1, 1}, {3, 3}, {2, 2}} }, ErrFoot},
		{"one point", func(b *Body) { b.Foot = [][2]float64{{1, 1}, {1, 1}, {1, 1}} }, ErrFoot},
		{"foot NaN", func(b *Body) { b.Foot[0][1] = math.NaN() }, ErrValue},
		{"friction", func(b *Body) { b.Friction = -0.1 }, ErrValue},
		{"friction Inf", func(b *Body) { b.Friction = math.Inf(1) }, ErrValue},
		{"force", func(b *Body) { b.Live[0].F[2] = 1e13 }, ErrValue},
		{"place", func(b *Body) { b.Dead[0].At[0] = math.Inf(-1) }, ErrValue},
	}
	for _, test := range tests {
		b := column(Vec{50, 0, 0}, Vec{0, 0, 2})
		b.Foot = append([][2]float64(nil), good.Foot...)
		test.spot(&b)
		if _, err := b.Check(); !errors.Is(err, test.want) {
			t.Errorf("%s: %v, want %v", test.name, err, test.want)
		}
		if _, _, err := b.Reactions(1); !errors.Is(err, test.want) {
			t.Errorf("%s: reactions %v, want %v", test.name, err, test.want)
		}
	}
	if _, _, err := good.Reactions(math.NaN()); !errors.Is(err, ErrValue) {
		t.Errorf("factor NaN: %v", err)
	}
}

func TestHull(t *testing.T) {
	square := [][2]float64{{0, 0}, {1, 0}, {1, 1}, {0, 1}}
	crowd := [][2]float64{{1, 1}, {0.5, 0}, {0, 0}, {1, 0}, {0.5, 0.5}, {0, 1}, {0, 0}, {1, 0.3},
		{1, 1}, {1e-12, 0.7}, {1 + 1e-12, 1}, {0.2, -1e-12}}
	rng := rand.New(rand.NewPCG(7, 8))
	for range 100 {
		rng.Shuffle(len(crowd), func(i, j int) { crowd[i], crowd[j] = crowd[j], crowd[i] })
		hull, err := Hull(crowd)
		if err != nil || len(hull) != len(square) {
			t.Fatalf("%v, %v", hull, err)
		}
		for i := range hull {
			if math.Hypot(hull[i][0]-square[i][0], hull[i][1]-square[i][1]) > 1e-11 {
				t.Fatalf("%v, want %v", hull, square)
			}
		}
	}
	for i, want := range []float64{-math.Pi / 2, 0, math.Pi / 2, math.Pi} {
		if got := OutwardNormals(square)[i]; !near(got, want, 1e-12) {
			t.Errorf("normal %d: %g, want %g", i, got, want)
		}
	}
	for i, got := range OutwardNormals([][2]float64{{0, 0}, {0, 0}, {1, 0}, {0, 1}}) { // the first edge has no length
		if math.IsNaN(got) {
			t.Errorf("normal %d of a corner twice is no number", i)
		}
	}
}

// A corner stands out by more than 1e-9 of the foot's size, wherever the foot is, or it is left out.
func TestHullFarAway(t *testing.T) {
	for _, at := range [][2]float64{{0, 0}, {1000, 1000}, {-1000, 1000}} {
		for out, want := range map[float64]int{1e-7: 5, 1e-10: 4, -1e-7: 4} {
			x, y := at[0], at[1]
			hull, err := Hull([][2]float64{{x - 0.5, y - 0.5}, {x, y - 0.5 - out}, {x + 0.5, y - 0.5}, {x + 0.5, y + 0.5}, {x - 0.5, y + 0.5}})
			if err != nil || len(hull) != want {
				t.Errorf("about %g, a corner out by %g m: %v (%v), want %d corners", at, out, hull, err, want)
			}
		}
		// A triangle of less than a micrometre is no foot; one of two is.
		for size, want := range map[float64]error{0.5e-6: ErrFoot, 2e-6: nil} {
			_, err := Hull([][2]float64{at, {at[0] + size, at[1]}, {at[0], at[1] + size}})
			if !errors.Is(err, want) {
				t.Errorf("%g m at %g: %v, want %v", size, at, err, want)
			}
		}
	}
}

func TestGravity(t *testing.T) {
	// A slope of 3 in 4 has the sine 3/5 and the cosine 4/5.
	g := Gravity(0.75, 0)
	want := Vec{0.6 * StandardGravity, 0, -0.8 * StandardGravity}
	for i := range g {
		if !near(g[i], want[i], 1e-12) {
			t.Errorf("gravity %v, want %v", g, want)
		}
	}
}

func TestCompass(t *testing.T) {
	for b, want := range map[float64]string{
		0: "north", 22.4: "north", 22.6: "north-east", 90: "east", 180: "south", 247.4: "south-west",
		270: "west", 315: "north-west", 337.6: "north", 359.9: "north",
	} {
		rad := (90 - b) * math.Pi / 180
		got := bearing([2]float64{math.Cos(rad), math.Sin(rad)})
		if !near(got, b, 1e-9) || compass(got) != want {
			t.Errorf("%g: %g %s, want %s", b, got, compass(got), want)
		}
	}
	if b := bearing([2]float64{-1e-15, 1}); b != 0 {
		t.Errorf("a hair west of north: %g, want 0", b)
	}
}
