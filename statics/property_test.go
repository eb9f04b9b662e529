package statics

import (
	"math"
	"math/rand/v2"
	"testing"

	"pgregory.net/rapid"
)

func drawBody(t *rapid.T) Body {
	return randomBody(rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 9)))
}

func same(t *rapid.T, what string, a, b Factor) {
	t.Helper()
	if !sameFactor(a, b, 1e-7) {
		t.Fatalf("%s: %+v and %+v", what, a, b)
	}
}

func factors(r Result) [4]Factor {
	return [4]Factor{r.Overturning[r.WorstEdge].Factor, r.Sliding.Factor, r.Turning.Factor, r.Uplift}
}

// mapped moves a body in plan.
func mapped(b Body, point, vector func(x, y float64) (float64, float64)) Body {
	m := Body{Friction: b.Friction}
	for _, p := range b.Foot {
		x, y := point(p[0], p[1])
		m.Foot = append(m.Foot, [2]float64{x, y})
	}
	move := func(fs []Force) (out []Force) {
		for _, f := range fs {
			f.F[0], f.F[1] = vector(f.F[0], f.F[1])
			f.At[0], f.At[1] = point(f.At[0], f.At[1])
			out = append(out, f)
		}
		return out
	}
	m.Dead, m.Live = move(b.Dead), move(b.Live)
	return m
}

func TestRotatedAndMoved(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := drawBody(t)
		angle := rapid.Float64Range(-10, 10).Draw(t, "angle")
		dx, dy := rapid.Float64Range(-50, 50).Draw(t, "dx"), rapid.Float64Range(-50, 50).Draw(t, "dy")
		sin, cos := math.Sincos(angle)
		turn := func(x, y float64) (float64, float64) { return x*cos - y*sin, x*sin + y*cos }
		moved := mapped(b, func(x, y float64) (float64, float64) { x, y = turn(x, y); return x + dx, y + dy }, turn)
		r, q := must(t, b), must(t, moved)
		for i, f := range factors(r) {
			same(t, "factor", f, factors(q)[i])
		}
		// The edge turns with the body: bearings are clockwise, the angle is not.
		if e, f := r.Overturning[r.WorstEdge], q.Overturning[q.WorstEdge]; !e.DeadTips && !e.Factor.Unbounded {
			d := math.Mod(f.Bearing-e.Bearing+angle*180/math.Pi, 360)
			if d = math.Abs(d); min(d, 360-d) > 1e-6 {
				t.Fatalf("worst edge at %g, turned by %g rad at %g", e.Bearing, angle, f.Bearing)
			}
		}
	})
}

func TestMirrored(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := drawBody(t)
		flip := func(x, y float64) (float64, float64) { return -x, y }
		r, q := must(t, b), must(t, mapped(b, flip, flip))
		for i, f := range factors(r) {
			same(t, "factor", f, factors(q)[i])
		}
		if !near(r.Turning.Torque, -q.Turning.Torque, 1e-6) {
			t.Fatalf("torque %g and %g", r.Turning.Torque, q.Turning.Torque)
		}
	})
}

func TestScaled(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := drawBody(t)
		dead := rapid.Float64Range(0.01, 100).Draw(t, "dead")
		live := rapid.Float64Range(0.01, 100).Draw(t, "live")
		r := must(t, b)
		scaled := b
		scale := func(fs []Force, by float64) (out []Force) {
			for _, f := range fs {
				f.F = Vec{f.F[0] * by, f.F[1] * by, f.F[2] * by}
				out = append(out, f)
			}
			return out
		}
		scaled.Dead, scaled.Live = scale(b.Dead, dead), scale(b.Live, live)
		q := must(t, scaled)
		for i, f := range factors(r) {
			f.Value *= dead / live
			same(t, "factor", f, factors(q)[i])
		}
	})
}

func TestMassLowDownHelps(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		angle := rapid.Float64Range(0, 2*math.Pi).Draw(t, "angle")
		size := rapid.Float64Range(0, 500).Draw(t, "push")
		b := column(Vec{size * math.Cos(angle), size * math.Sin(angle), 0},
			Vec{0, 0, rapid.Float64Range(0, 4).Draw(t, "height")})
		before := must(t, b)
		b.Dead = append(b.Dead, Weight("ballast", rapid.Float64Range(0, 200).Draw(t, "mass"), Vec{0, 0, 0.1}, Gravity(0, 0)))
		after := must(t, b)
		for i, f := range factors(before) {
			g := factors(after)[i]
			if g.Unbounded || f.Value <= g.Value*(1+1e-8) && !f.Unbounded {
				continue
			}
			t.Fatalf("factor %d falls from %+v to %+v", i, f, g)
		}
	})
}

// TestWithoutTwist checks that a body without torque has nothing less than tipping and sliding.
func TestWithoutTwist(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := drawBody(t)
		angle := rapid.Float64Range(0, 2*math.Pi).Draw(t, "angle")
		if rapid.Bool().Draw(t, "along an axis") {
			angle = math.Pi / 2 * math.Round(angle/(math.Pi/2))
		}
		weight := b.Dead[0]
		weight.F[0], weight.F[1] = 0, 0
		b.Dead = []Force{weight}
		// A push above the weight moves the centre of pressure along its own line.
		b.Live = []Force{{F: Vec{100 * math.Cos(angle), 100 * math.Sin(angle), 0},
			At: Vec{weight.At[0], weight.At[1], rapid.Float64Range(0, 5).Draw(t, "height")}}}
		r := must(t, b)
		same(t, "turning", r.Turning.Factor, least(r.Overturning[r.WorstEdge].Factor, r.Sliding.Factor))
		if r.Turning.Torque != 0 {
			t.Fatalf("rounding counts as a torque of %g N·m", r.Turning.Torque)
		}
	})
}

// A body that is prepared, or asked for no more than enough, gives the same answers.
func TestPreparedAndEnough(t *testing.T) {
	enough := 0
	rapid.Check(t, func(t *rapid.T) {
		b := drawBody(t)
		want, err := b.Check()
		if err != nil {
			t.Fatal(err)
		}
		b.Enough = rapid.Float64Range(0.01, 3).Draw(t, "enough")
		if err := b.Prepare(); err != nil {
			t.Fatal(err)
		}
		got, err := b.Check()
		if err != nil {
			t.Fatal(err)
		}
		if got.Overturning[got.WorstEdge] != want.Overturning[want.WorstEdge] || got.Sliding != want.Sliding {
			t.Fatalf("%+v became %+v", want, got)
		}
		switch full, f := want.Turning.Factor, got.Turning.Factor; {
		case f == full:
		case f.Value != b.Enough || !full.AtLeast(b.Enough*(1-1e-9)):
			t.Fatalf("turning %+v became %+v with %g enough", full, f, b.Enough)
		default:
			enough++
		}
	})
	if enough == 0 {
		t.Error("no factor was beyond what is enough: nothing was tried")
	}
}
