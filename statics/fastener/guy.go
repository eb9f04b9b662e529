package fastener

import (
	"fmt"
	"math"
)

// Rope is a fibre rope.
type Rope struct {
	Material          string
	Diameter          float64 // m
	Breaking          float64 // N, of new rope
	Source, Certainty string
}

// Stake is a stake with the pull at which it failed in a published test.
type Stake struct {
	Name              string
	Length, Diameter  float64 // m
	Pullout           float64 // N, in the test's dry ground
	Source, Certainty string
}

// RopeOf returns a rope of the tables by material and diameter in m.
func RopeOf(material string, diameter float64) (Rope, error) {
	t, err := tables()
	if err != nil {
		return Rope{}, err
	}
	for _, r := range t.ropes {
		if r.Material == material && math.Abs(r.Diameter-diameter) < 1e-5 {
			return r, nil
		}
	}
	return Rope{}, fmt.Errorf("fastener: no %s rope of %.4g mm in the table", material, diameter*1e3)
}

// Stakes lists the stakes of the tables.
func Stakes() []Stake {
	t, err := tables()
	if err != nil {
		return nil
	}
	return append([]Stake(nil), t.stakes...)
}

// Default is a value that is taken where nothing is declared.
type Default struct {
	Value             float64
	Source, Certainty string
}

// DefaultOf returns one of "rope divisor", "knot efficiency", "wire clip efficiency", "pull
// test divisor", "wet ground" (all without unit), "stop stiffness" (N/m) and "leaf tip speed"
// (m/s).
func DefaultOf(name string) (Default, error) {
	t, err := tables()
	if err != nil {
		return Default{}, err
	}
	d, ok := t.defaults[name]
	if !ok {
		return Default{}, fmt.Errorf("fastener: no default %q", name)
	}
	return Default{d.value, d.source, d.certainty}, nil
}

// Guy is a rope from a piece to an anchor in the ground. Zero values take their defaults where
// [DefaultOf] has one.
type Guy struct {
	Rope         Rope
	RopeDivisor  float64 // breaking strength over working load
	Knots        float64 // efficiency of knots or other ends, 0 to 1
	Fitting      float64 // N, working load of the weakest hook, turnbuckle or eye; 0: none
	Angle        float64 // rad above the ground, 0 to below pi/2
	Anchor       Anchor
	AnchorSource string // what declares the anchor
}

// Anchor holds a guy by one of two ways: a pull test in line with the guy, or dead weight.
type Anchor struct {
	PullTest    float64 // N, pull in line with the guy at which the anchor first moved
	TestDivisor float64 // test over capacity
	Wet         bool    // the ground may be wetter than it was in the test

	Weight   float64 // N, of a block on the ground; 0: no block
	Friction float64 // coefficient between block and ground

	Certainty string // of PullTest or Friction
}

// Capacity is the pull, N, in the rope that the weakest of rope, fitting and anchor carries. Of
// a deadweight it is the pull at which it slides, so that the caller's own required factor
// applies; of rope and tested anchor it is already divided.
func (g Guy) Capacity() (Capacity, error) {
	t, err := tables()
	if err != nil {
		return Capacity{}, err
	}
	if err := bounded(rangeSource, []bound{
		{"breaking strength in N", g.Rope.Breaking, 0, 1e9},
		{"rope divisor", g.RopeDivisor, 0, 1e3},
		{"knot efficiency", g.Knots, 0, 1},
		{"fitting in N", g.Fitting, 0, 1e9},
		{"angle in rad", g.Angle, 0, math.Pi/2 - 1e-6},
		{"pull test in N", g.Anchor.PullTest, 0, 1e9},
		{"test divisor", g.Anchor.TestDivisor, 0, 1e3},
		{"weight in N", g.Anchor.Weight, 0, 1e9},
		{"friction", g.Anchor.Friction, 0, 2},
	}...); err != nil {
		return Capacity{}, err
	}
	if (g.Anchor.PullTest > 0) == (g.Anchor.Weight > 0) {
		return Capacity{}, fmt.Errorf("fastener: an anchor is either pull-tested or a dead weight; its pull test is %.4g N, its weight %.4g N",
			g.Anchor.PullTest, g.Anchor.Weight)
	}
	or := func(v float64, name string) datum {
		if v == 0 {
			return t.defaults[name]
		}
		return datum{v, origin{"declared", ""}}
	}
	var ways []Capacity
	way := func(mode, source string, value float64) *Capacity {
		ways = append(ways, Capacity{Value: value, Reference: value, Mode: mode, Source: source})
		return &ways[len(ways)-1]
	}

	divisor, knots := or(g.RopeDivisor, "rope divisor"), or(g.Knots, "knot efficiency")
	if divisor.value < 1 {
		return Capacity{}, &LimitError{"rope divisor", divisor.value, 1, rangeSource}
	}
	rope := g.Rope.Breaking * knots.value / divisor.value
	c := way("rope breaks at its knots", g.Rope.Source, rope)
	c.doubt(g.Rope.Certainty)
	c.doubt(divisor.certainty)
	c.step("rope", rope, "N", knots.origin,
		"B η / d = %.0f·%.2f/%.3g = %.0f N", g.Rope.Breaking, knots.value, divisor.value, rope)
	if g.Fitting > 0 {
		c := way("fitting gives way", "declared working load", g.Fitting)
		c.step("fitting", g.Fitting, "N", origin{"declared working load", ""}, "%.0f N", g.Fitting)
	}
	a := g.Anchor
	if a.PullTest > 0 {
		divisor := or(a.TestDivisor, "pull test divisor")
		if divisor.value < 1 {
			return Capacity{}, &LimitError{"test divisor", divisor.value, 1, rangeSource}
		}
		v := a.PullTest / divisor.value
		c := way("anchor pulls out", g.AnchorSource, v)
		c.doubt(a.Certainty)
		c.step("anchor", v, "N", divisor.origin, "P / d = %.0f/%.3g = %.0f N", a.PullTest, divisor.value, v)
		if a.Wet {
			wet := t.defaults["wet ground"]
			c.Value *= wet.value
			c.step("wet ground", c.Value, "N", wet.origin, "%.2f·%.0f = %.0f N", wet.value, v, c.Value)
		}
	} else {
		v := Deadweight(a.Weight, a.Friction, g.Angle)
		c := way("dead weight slides", "equilibrium of the block with Coulomb friction", v)
		c.doubt(a.Certainty)
		c.step("dead weight", v, "N", origin{c.Source, "computed from equilibrium"},
			"T = μ W / (cos β + μ sin β) = %.2f·%.0f/(cos %.0f° + %.2f sin %.0f°) = %.0f N",
			a.Friction, a.Weight, g.Angle*180/math.Pi, a.Friction, g.Angle*180/math.Pi, v)
	}
	return least(ways), nil
}

// Deadweight is the pull T, N, along a rope at angle rad above the ground that just moves a
// block of weight N on it. It slides when T cos b = mu (W - T sin b), which comes before it
// lifts at T sin b = W.
func Deadweight(weight, friction, angle float64) float64 {
	sin, cos := math.Sincos(angle)
	return friction * weight / (cos + friction*sin)
}
