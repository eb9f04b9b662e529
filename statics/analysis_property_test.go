package statics

import (
	"math"
	"math/rand/v2"
	"testing"

	_ "galefast/internal/steady"

	"pgregory.net/rapid"
)

func drawGroup(t *rapid.T) (*Group, *Loads) {
	return randomGroup(rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 10)))
}

// value of an outcome for comparing: not standing is below every factor.
func value(o Outcome) float64 {
	switch {
	case o.NotStanding:
		return -1
	case o.Factor.Unbounded:
		return math.Inf(1)
	}
	return o.Factor.Value
}

// sameOutcome allows for what a certificate leaves open.
func sameOutcome(t *rapid.T, what string, a, b Outcome) {
	t.Helper()
	x, y := value(a), value(b)
	if x != y && !(math.Abs(x-y) <= 1e-6*(max(x, y)+1e-3)) {
		t.Fatalf("%s: %g and %g", what, x, y)
	}
}

func TestMoreMassLowDown(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := drawBody(t)
		g, l := lone(b)
		before := analyse(t, g, l, 0, AllLimits)
		hull, err := Hull(b.Foot)
		if err != nil {
			t.Fatalf("%v", err)
		}
		var at Vec
		sum := 0.0
		for _, p := range hull {
			w := rapid.Float64Range(0.01, 1).Draw(t, "share")
			at[0], at[1], sum = at[0]+w*p[0], at[1]+w*p[1], sum+w
		}
		at = Vec{at[0] / sum, at[1] / sum, 0.1}
		l.Dead = append(l.Dead, Acting{0, Weight("ballast", rapid.Float64Range(0, 200).Draw(t, "mass"), at, Gravity(0, 0))})
		after := analyse(t, g, l, 0, AllLimits)
		if value(after) < value(before)-1e-6*(1+value(before)) {
			t.Fatalf("factor falls from %g to %g", value(before), value(after))
		}
	})
}

func TestAnotherGuy(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g, l := drawGroup(t)
		before := analyse(t, g, l, 0, AllLimits)
		of := rapid.IntRange(0, len(g.Blocks)-1).Draw(t, "of")
		at := add(g.Blocks[of].Centre, Vec{0, 0, 0.3})
		to := Vec{at[0] + rapid.Float64Range(-2, 2).Draw(t, "east"), at[1] + rapid.Float64Range(-2, 2).Draw(t, "north"), 0}
		g.Guys = append(g.Guys, Guy{Of: of, At: at, To: to, Limit: rapid.Float64Range(0, 2000).Draw(t, "limit")})
		after := analyse(t, g, l, 0, AllLimits)
		if value(after) < value(before)-1e-6*(1+value(before)) {
			t.Fatalf("factor falls from %g to %g", value(before), value(after))
		}
	})
}

func TestAnotherScale(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g, l := drawGroup(t)
		length := math.Exp(rapid.Float64Range(-7, 7).Draw(t, "length"))
		force := math.Exp(rapid.Float64Range(-7, 7).Draw(t, "force"))
		h := &Group{}
		for _, b := range g.Blocks {
			b.Centre = scaled(b.Centre, length)
			b.Foot = nil
			h.Blocks = append(h.Blocks, b)
		}
		for _, c := range g.Contacts {
			points := make([]Vec, len(c.Points))
			for i, p := range c.Points {
				points[i] = scaled(p, length)
			}
			c.Points, c.Bearing = points, c.Bearing*force
			h.Contacts = append(h.Contacts, c)
		}
		for _, k := range g.Links {
			k.At, k.Pull, k.Push, k.Shear = scaled(k.At, length), k.Pull*force, k.Push*force, k.Shear*force
			h.Links = append(h.Links, k)
		}
		for _, y := range g.Guys {
			y.At, y.To, y.Limit = scaled(y.At, length), scaled(y.To, length), y.Limit*force
			h.Guys = append(h.Guys, y)
		}
		grow := func(forces []Acting) (out []Acting) {
			for _, f := range forces {
				f.F, f.At = scaled(f.F, force), scaled(f.At, length)
				out = append(out, f)
			}
			return out
		}
		m := &Loads{grow(l.Dead), grow(l.Live)}
		only := Limit(rapid.IntRange(0, int(limits)-1).Draw(t, "only"))
		sameOutcome(t, "scaled", analyse(t, g, l, 0, only), analyse(t, h, m, 0, only))
	})
}

func TestAnotherOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g, l := drawGroup(t)
		rng := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "order"), 11))
		only := Limit(rapid.IntRange(0, int(limits)-1).Draw(t, "only"))
		h, m := shuffled(rng, g, l, true)
		sameOutcome(t, "another order", analyse(t, g, l, 0.7, only), analyse(t, h, m, 0.7, only))
	})
}

// shuffled puts joints and forces in another order, and blocks too if asked.
func shuffled(rng *rand.Rand, g *Group, l *Loads, blocks bool) (*Group, *Loads) {
	to := make([]int, len(g.Blocks)) // new places
	for i := range to {
		to[i] = i
	}
	if blocks {
		to = rng.Perm(len(to))
	}
	place := func(b int) int {
		if b == Ground {
			return Ground
		}
		return to[b]
	}
	h, m := &Group{Blocks: make([]Block, len(to))}, &Loads{}
	for i, b := range g.Blocks {
		h.Blocks[to[i]] = b
	}
	for _, i := range rng.Perm(len(g.Contacts)) {
		c := g.Contacts[i]
		points := make([]Vec, len(c.Points))
		for k, from := range rng.Perm(len(points)) {
			points[k] = c.Points[from]
		}
		c.Of, c.On, c.Points = place(c.Of), place(c.On), points
		h.Contacts = append(h.Contacts, c)
	}
	for _, i := range rng.Perm(len(g.Links)) {
		k := g.Links[i]
		k.A, k.B = place(k.A), place(k.B)
		h.Links = append(h.Links, k)
	}
	for _, i := range rng.Perm(len(g.Guys)) {
		y := g.Guys[i]
		y.Of = place(y.Of)
		h.Guys = append(h.Guys, y)
	}
	for _, i := range rng.Perm(len(l.Dead)) {
		m.Dead = append(m.Dead, Acting{place(l.Dead[i].Block), l.Dead[i].Force})
	}
	for _, i := range rng.Perm(len(l.Live)) {
		m.Live = append(m.Live, Acting{place(l.Live[i].Block), l.Live[i].Force})
	}
	return h, m
}

// TestSeparateLimits: with other limits taken away the factor is no less.
func TestSeparateLimits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g, l := drawGroup(t)
		all := value(analyse(t, g, l, 0, AllLimits))
		for only := TippingOnly; only < limits; only++ {
			if v := value(analyse(t, g, l, 0, only)); v < all-1e-6*(1+all) {
				t.Fatalf("limit %d alone gives %g, all together %g", only, v, all)
			}
		}
	})
}

// TestCarries asks on either side of the factor, warm from other loads.
func TestCarries(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g, l := drawGroup(t)
		a, err := NewAnalysis(g, 0.2)
		if err != nil {
			t.Fatalf("%v", err)
		}
		m := Loads{Dead: l.Dead}
		for range 5 {
			turned(&m, l.Live, 0.1*float64(rapid.IntRange(0, 62).Draw(t, "angle")))
			o, err := a.Solve(&m, AllLimits)
			if err != nil || !o.Certificate.OK {
				t.Fatalf("%v, %+v", err, o.Certificate)
			}
			f := o.Factor.Value
			ask := map[float64]bool{0: !o.NotStanding}
			switch {
			case o.NotStanding:
			case o.Factor.Unbounded:
				ask[1], ask[1e6] = true, true
			default:
				ask[f*(1-1e-5)], ask[f*(1+1e-5)+1e-4] = true, false
			}
			for _, factor := range []float64{0, 1, 1e6, f * (1 - 1e-5), f*(1+1e-5) + 1e-4} {
				want, asked := ask[factor]
				if !asked {
					continue
				}
				if got, err := a.Carries(&m, factor); err != nil || got != want {
					t.Fatalf("factor %g: carried %v, %v; Solve finds %+v, standing %v", factor, got, err, o.Factor, !o.NotStanding)
				}
			}
		}
	})
}

// TestSolveForgets: the answer does not depend on what was solved before.
func TestSolveForgets(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g, l := drawGroup(t)
		fresh := analyse(t, g, l, 0, AllLimits)
		a, err := NewAnalysis(g, 0)
		if err != nil {
			t.Fatalf("%v", err)
		}
		m := Loads{Dead: l.Dead}
		for k := range 3 {
			turned(&m, l.Live, float64(k+1))
			if _, err := a.Solve(&m, AllLimits); err != nil {
				t.Fatalf("%v", err)
			}
			if _, err := a.Carries(&m, 0.5); err != nil {
				t.Fatalf("%v", err)
			}
		}
		again, err := a.Solve(l, AllLimits)
		if err != nil || again.Factor != fresh.Factor || again.Collapse.Words(g) != fresh.Collapse.Words(g) || again.Iterations != fresh.Iterations {
			t.Fatalf("%v, %+v, before %+v", err, again, fresh)
		}
	})
}

// TestCollapseBoundsOtherLoads: a motion found for one load bounds every other (kinematic theorem).
func TestCollapseBoundsOtherLoads(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g, l := drawGroup(t)
		o := analyse(t, g, l, 0, AllLimits)
		other := &Loads{Dead: l.Dead}
		turned(other, l.Live, rapid.Float64Range(0, 7).Draw(t, "angle"))
		p := analyse(t, g, other, 0, AllLimits)
		if p.NotStanding {
			return
		}
		factor := min(value(p), 1e3)
		power, size := 0.0, 0.0
		for _, f := range l.Dead {
			power += o.Collapse.Power(f)
			size += norm(f.F)
		}
		for _, f := range other.Live {
			power += factor * o.Collapse.Power(f)
			size += factor * norm(f.F)
		}
		if power > o.Collapse.Dissipated+1e-6*size {
			t.Fatalf("carried at %g, yet it drives the motion by %g W against %g W", factor, power, o.Collapse.Dissipated)
		}
	})
}

// TestForcesBalance adds up the forces on every block about the origin.
func TestForcesBalance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g, l := drawGroup(t)
		only := Limit(rapid.IntRange(0, int(limits)-1).Draw(t, "only"))
		o := analyse(t, g, l, 0, only)
		if o.NotStanding {
			return
		}
		factor := o.Factor.Value
		if o.Factor.Unbounded {
			factor = 1
		}
		on := make([][]Force, len(g.Blocks))
		couple := make([]Vec, len(g.Blocks))
		put := func(block int, f, at Vec, sign float64) {
			if block != Ground {
				on[block] = append(on[block], Force{F: scaled(f, sign), At: at})
			}
		}
		for i, c := range g.Contacts {
			for k, at := range c.Points {
				put(c.Of, o.PointForces[i][k], at, 1)
				put(c.On, o.PointForces[i][k], at, -1)
			}
			couple[c.Of] = add(couple[c.Of], o.Couples[i])
			if c.On != Ground {
				couple[c.On] = sub(couple[c.On], o.Couples[i])
			}
		}
		for i, k := range g.Links {
			put(k.A, o.LinkForces[i].Force, k.At, 1)
			put(k.B, o.LinkForces[i].Force, k.At, -1)
		}
		for i, y := range g.Guys {
			put(y.Of, scaled(unit(sub(y.To, y.At)), o.GuyForces[i]), y.At, 1)
		}
		all := 0.0
		for _, f := range l.Dead {
			put(f.Block, f.F, f.At, 1)
			all += norm(f.F)
		}
		for _, f := range l.Live {
			put(f.Block, f.F, f.At, factor)
			all += factor * norm(f.F)
		}
		for b := range on {
			force, moment, scale := total(on[b])
			moment = add(moment, couple[b])
			scale += all + norm(couple[b])
			if norm(force) > 1e-9*scale || norm(moment) > 1e-9*scale {
				t.Fatalf("block %d: %v N, %v N·m left of %g", b, force, moment, scale)
			}
		}
	})
}
