package statics

import (
	"math"
	"testing"
)

// byLimit is a value for AllLimits, TippingOnly, SlidingOnly, TurningOnly, LinksOnly and GuysOnly.
type byLimit = [limits]float64

// carriedCube is a cube of 1000 N on four corners, a quarter on each, with a link and a guy without force.
func carriedCube() (*Group, *Loads, *Outcome) {
	s := cube(0.5)
	s.Dead = []Acting{{0, Force{F: Vec{0, 0, -1000}, At: s.Blocks[0].Centre}}}
	s.link(Bolt, "", 0, Ground, Vec{0.5, 0, 0}, Vec{0, 0, -1}, 100, 100, 100)
	s.Guys = []Guy{{"", 0, Vec{0, 0, 1}, Vec{0, 2, 0}, 300}}
	quarter := Vec{0, 0, 250}
	return &s.Group, &s.Loads, &Outcome{PointForces: [][]Vec{{quarter, quarter, quarter, quarter}},
		Couples: make([]Vec, 1), LinkForces: make([]LinkForce, 1), GuyForces: make([]float64, 1)}
}

// How far forces are beyond their limits, of a load of 1000 N: by hand, under each limit.
func TestForcesBeyondLimits(t *testing.T) {
	for _, c := range []struct {
		why  string
		do   func(*Group, *Outcome)
		want byLimit // N
	}{
		{"nothing", func(*Group, *Outcome) {}, byLimit{}},
		{"a corner pulls at 10 N", func(_ *Group, o *Outcome) { o.PointForces[0][0] = Vec{0, 0, -10} }, byLimit{10, 10, 10, 10, 0, 0}},
		// Friction of a half carries 125 N under 250 N; of 35 N more a normal force could mend a part: 35 N / 1.5.
		{"a corner rubs at 160 N", func(_ *Group, o *Outcome) { o.PointForces[0][2][0] = 160 }, byLimit{35 / 1.5, 0, 35 / 1.5, 35 / 1.5, 0, 0}},
		{"a corner rubs at 125 N", func(_ *Group, o *Outcome) { o.PointForces[0][2][1] = -125 }, byLimit{}},
		{"ground that bears 200 N a corner", func(g *Group, _ *Outcome) { g.Contacts[0].Bearing = 200 }, byLimit{50, 50, 0, 0, 0, 0}},
		{"ground that bears 250 N a corner", func(g *Group, _ *Outcome) { g.Contacts[0].Bearing = 250 }, byLimit{}},
		{"a couple against turning", func(_ *Group, o *Outcome) { o.Couples[0] = Vec{0, 0, 30} }, byLimit{30, 30, 0, 30, 0, 0}},
		{"a couple against tipping", func(_ *Group, o *Outcome) { o.Couples[0] = Vec{0, 30, 0} }, byLimit{30, 30, 0, 0, 0, 0}},
		{"a link pulls at 120 N of 100 N", func(_ *Group, o *Outcome) { o.LinkForces[0].Force = Vec{0, 0, -120} }, byLimit{20, 0, 0, 0, 20, 0}},
		{"a link pushes at 120 N of 100 N", func(_ *Group, o *Outcome) { o.LinkForces[0].Force = Vec{0, 0, 120} }, byLimit{20, 0, 0, 0, 20, 0}},
		{"a link pushes that cannot", func(g *Group, o *Outcome) { g.Links[0].Push, o.LinkForces[0].Force = 0, Vec{0, 0, 12} }, byLimit{12, 12, 12, 12, 12, 12}},
		{"a link pulls that cannot push", func(g *Group, o *Outcome) { g.Links[0].Push, o.LinkForces[0].Force = 0, Vec{0, 0, -12} }, byLimit{}},
		{"a link shears at 130 N of 100 N", func(_ *Group, o *Outcome) { o.LinkForces[0].Force = Vec{0, 130, 0} }, byLimit{30, 0, 0, 0, 30, 0}},
		{"a link shears that cannot", func(g *Group, o *Outcome) { g.Links[0].Shear, o.LinkForces[0].Force = 0, Vec{0, 13, 0} }, byLimit{13, 13, 13, 13, 13, 13}},
		// 60/100 + 60/100 - 1 = 0.2 of 100 N.
		{"a link pulls and shears at 60 N each", func(_ *Group, o *Outcome) { o.LinkForces[0].Force = Vec{60, 0, -60} }, byLimit{20, 0, 0, 0, 20, 0}},
		{"a guy pulls at 320 N of 300 N", func(_ *Group, o *Outcome) { o.GuyForces[0] = 320 }, byLimit{20, 0, 0, 0, 0, 20}},
		{"a guy pushes", func(_ *Group, o *Outcome) { o.GuyForces[0] = -5 }, byLimit{5, 5, 5, 5, 5, 5}},
		{"a guy pulls that cannot", func(g *Group, o *Outcome) { g.Guys[0].Limit, o.GuyForces[0] = 0, 5 }, byLimit{5, 5, 5, 5, 5, 5}},
		{"a guy without limit", func(g *Group, o *Outcome) { g.Guys[0].Limit, o.GuyForces[0] = noLimit, 5000 }, byLimit{}},
	} {
		for only := range limits {
			g, l, o := carriedCube()
			c.do(g, o)
			_, violation := balance(g, only, l, 0, o)
			if want := c.want[only] / 1000; math.Abs(violation-want) > 1e-12 {
				t.Errorf("%s, limit %d: violation %g, want %g", c.why, only, violation, want)
			}
			if ok := provesStand(g, only, l, 0, o); ok && c.want[only] > 0 {
				t.Errorf("%s, limit %d: taken for a proof", c.why, only)
			}
		}
	}
}

// How far forces are from balance, as a share of the load: of force, and of moment over the reach of the
// joints, here √0.75 m from the centre to a corner.
func TestForcesOutOfBalance(t *testing.T) {
	push := func(l *Loads) { l.Live = []Acting{{0, Force{F: Vec{500, 0, 0}, At: Vec{0, 0, 0.5}}}} }
	for _, c := range []struct {
		why    string
		factor float64
		do     func(*Loads, *Outcome)
		want   float64
	}{
		{"nothing", 0, func(*Loads, *Outcome) {}, 0},
		{"a corner without force", 0, func(_ *Loads, o *Outcome) { o.PointForces[0][0] = Vec{} }, 250. / 1000},
		// 500 N on each western corner, 0.5 m from the centre: 500 N·m.
		{"western corners alone", 0, func(_ *Loads, o *Outcome) {
			o.PointForces[0] = []Vec{{0, 0, 500}, {}, {}, {0, 0, 500}}
		}, 500 / (1000 * math.Sqrt(0.75))},
		{"a live load that nothing meets", 2, func(l *Loads, _ *Outcome) { push(l) }, 1000. / (1000 + 2*500)},
		{"a live load without factor", 0, func(l *Loads, _ *Outcome) { push(l) }, 0},
		{"a couple", 0, func(_ *Loads, o *Outcome) { o.Couples[0] = Vec{0, 0, 100} }, 100 / (1000 * math.Sqrt(0.75))},
		{"a link that pulls", 0, func(_ *Loads, o *Outcome) { o.LinkForces[0].Force = Vec{0, 0, -100} }, 0.1},
		{"a guy that pulls", 0, func(_ *Loads, o *Outcome) { o.GuyForces[0] = 100 }, 0.1},
	} {
		g, l, o := carriedCube()
		c.do(l, o)
		for only := range limits {
			if residual, _ := balance(g, only, l, c.factor, o); math.Abs(residual-c.want) > 1e-12 {
				t.Errorf("%s, limit %d: residual %g, want %g", c.why, only, residual, c.want)
			}
		}
	}
	// An urn of 1000 N that a torque of -30 N·m turns, on a plinth of 1000 N that may not turn: 30 N·m go from the
	// ground to the plinth to the urn.
	s := cube(0.5)
	s.rest(s.block("", 100, 0, 0, 1, 1, 1, 1), 0, 1, 0.5)
	s.Dead = []Acting{{0, Force{F: Vec{0, 0, -1000}, At: Vec{0, 0, 0.5}}}, {1, Force{F: Vec{0, 0, -1000}, At: Vec{0, 0, 1.5}}}}
	s.Live = []Acting{{1, Force{F: Vec{0, -30, 0}, At: Vec{0.5, 0, 1.5}}}, {1, Force{F: Vec{0, 30, 0}, At: Vec{-0.5, 0, 1.5}}}}
	quarter, half := Vec{0, 0, 250}, Vec{0, 0, 500}
	o := &Outcome{PointForces: [][]Vec{{half, half, half, half}, {quarter, quarter, quarter, quarter}},
		Couples: []Vec{{0, 0, 30}, {0, 0, 30}}}
	if residual, violation := balance(&s.Group, SlidingOnly, &s.Loads, 1, o); residual > 1e-12 || violation != 0 {
		t.Errorf("an urn on a plinth: residual %g, violation %g", residual, violation)
	}
	if residual, _ := balance(&s.Group, SlidingOnly, &s.Loads, 2, o); residual < 0.01 {
		t.Errorf("twice the torque: residual %g", residual)
	}
	// Without any load the residual is in newtons.
	o = &Outcome{PointForces: [][]Vec{{{0, 0, 3}}}, Couples: make([]Vec, 1)}
	s.Contacts = []Contact{{Of: 0, On: Ground, Points: []Vec{{0, 0, 0}}}}
	if residual, _ := balance(&s.Group, AllLimits, &Loads{}, 1, o); residual != 3 {
		t.Errorf("3 N without a load: residual %g", residual)
	}
}

// What joints do against a motion of the cube about its centre, by hand, under each limit: by how much (m/s)
// the motion is one that they stop, and the power (W) that they take up.
func TestJointsAgainstMotions(t *testing.T) {
	diagonal, arm := math.Sqrt(0.5), math.Sqrt(0.75) // from the middle of the foot and from the centre to a corner
	between := math.Cos(math.Pi / 16)                // towards a corner of the polygon, half way between two
	sin, cos := math.Sincos(math.Pi / 16)
	for _, c := range []struct {
		why         string
		v, spin     Vec
		do          func(*Group)
		stops, take byLimit
	}{
		{"no motion", Vec{}, Vec{}, nil, byLimit{}, byLimit{}},
		{"lifts", Vec{0, 0, 1}, Vec{}, bare, byLimit{0, 0, 0, 0, 1, 1}, byLimit{}},
		// Of sinking at 1 m/s, sliding could mend a part: 1 / 1.5.
		{"sinks", Vec{0, 0, -1}, Vec{}, bare, byLimit{1 / 1.5, 1 / 1.5, 1 / 1.5, 1 / 1.5, 1, 1}, byLimit{}},
		{"sinks where 300 N a corner give", Vec{0, 0, -1}, Vec{}, func(g *Group) { bare(g); g.Contacts[0].Bearing = 300 },
			byLimit{0, 0, 1 / 1.5, 1 / 1.5, 1, 1}, byLimit{1200, 1200, 0, 0, 0, 0}},
		{"slides and rises by the friction", Vec{1, 0, 0.5}, Vec{}, bare, byLimit{0, 1, 0, 0, math.Sqrt(1.25), math.Sqrt(1.25)}, byLimit{}},
		{"slides level", Vec{1, 0, 0}, Vec{}, bare, byLimit{0.5 / 1.5, 1, 0.5 / 1.5, 0.5 / 1.5, 1, 1}, byLimit{}},
		// 16 corners of the polygon: half way between two of them friction is cos 11.25° of the cone.
		{"slides between two corners", Vec{cos, sin, 0}, Vec{}, bare, byLimit{0.5 * between / 1.5, 1, 0.5 * between / 1.5, 0.5 * between / 1.5, 1, 1}, byLimit{}},
		// A corner goes √½ m/s at 45 degrees, where the polygon has a corner.
		{"turns and rises by the friction", Vec{0, 0, diagonal / 2}, Vec{0, 0, 1}, bare,
			byLimit{0, diagonal, arm, 0, arm, arm}, byLimit{}},
		// About the east edge: western corners rise at 1 m/s; nothing slides. The first point is a western one.
		{"tips", tipsEast.Velocity, tipsEast.Spin, bare, byLimit{0, 0, arm, arm, 1, 1}, byLimit{}},
		{"pulls a link of 100 N, 0.2 m from the edge", tipsEast.Velocity, tipsEast.Spin,
			func(g *Group) { g.Guys = nil; g.Links[0].At = Vec{0.3, 0, 0} }, byLimit{0, 0.2, arm, arm, 1, 1}, byLimit{20, 0, 0, 0, 20, 0}},
		{"lifts off a link of 100 N", Vec{0, 0, 1}, Vec{}, func(g *Group) { g.Guys = nil }, byLimit{0, 1, 1, 1, 1, 1}, byLimit{100, 0, 0, 0, 100, 0}},
		{"lifts off a link without limit", Vec{0, 0, 1}, Vec{}, func(g *Group) { g.Guys = nil; g.Links[0].Pull = noLimit },
			byLimit{1, 1, 1, 1, 1, 1}, byLimit{}},
		{"lifts off a link that cannot pull", Vec{0, 0, 1}, Vec{}, func(g *Group) { g.Guys = nil; g.Links[0].Pull = 0 },
			byLimit{0, 0, 0, 0, 1, 1}, byLimit{}},
		{"crushes a link of 100 N", Vec{0, 0, -1}, Vec{}, func(g *Group) { g.Guys, g.Contacts = nil, nil }, byLimit{0, 1, 1, 1, 0, 1}, byLimit{100, 0, 0, 0, 100, 0}},
		{"shears a link of 100 N", Vec{0, 1, 0}, Vec{}, func(g *Group) { g.Guys, g.Contacts = nil, nil }, byLimit{0, 1, 1, 1, 0, 1}, byLimit{100, 0, 0, 0, 100, 0}},
		{"shears a link between two corners", Vec{cos, sin, 0}, Vec{}, func(g *Group) { g.Guys, g.Contacts = nil, nil },
			byLimit{0, 1, 1, 1, 0, 1}, byLimit{100 * between, 0, 0, 0, 100 * between, 0}},
		{"opens and shears: the corner that takes more", Vec{0, 1, 0.5}, Vec{}, func(g *Group) { g.Guys, g.Contacts = nil, nil },
			byLimit{0, 1, 1, 1, 0, 1}, byLimit{100, 0, 0, 0, 100, 0}},
		{"lengthens a guy of 300 N", Vec{0, -1, 1}, Vec{}, func(g *Group) { g.Links, g.Contacts = nil, nil },
			byLimit{0, 4 / math.Sqrt(5) * 0.75, 4 / math.Sqrt(5) * 0.75, 4 / math.Sqrt(5) * 0.75, 4 / math.Sqrt(5) * 0.75, 0},
			byLimit{900 / math.Sqrt(5), 0, 0, 0, 0, 900 / math.Sqrt(5)}}, // (0, 2, -1)/√5 to the ground: 3/√5 m/s away from it
		{"slackens a guy", Vec{0, 1, 0}, Vec{}, func(g *Group) { g.Links, g.Contacts = nil, nil }, byLimit{}, byLimit{}},
		{"lengthens a guy of no strength", Vec{0, -1, 0}, Vec{}, func(g *Group) { g.Links, g.Contacts, g.Guys[0].Limit = nil, nil, 0 }, byLimit{}, byLimit{}},
	} {
		for only := range limits {
			g, _, _ := carriedCube()
			if c.do != nil {
				c.do(g)
			}
			r := resist(g, 0, only, collapse(g, Motion{Velocity: c.v, Spin: c.spin}))
			if math.Abs(r.violation-c.stops[only]) > 1e-12 || math.Abs(r.dissipated-c.take[only]) > 1e-9 {
				t.Errorf("%s, limit %d: stopped by %g m/s, takes %g W; want %g and %g", c.why, only, r.violation, r.dissipated, c.stops[only], c.take[only])
			}
		}
	}
}

// bare leaves a group nothing but its contacts.
func bare(g *Group) { g.Links, g.Guys = nil, nil }

// Of 16 corners one lies along align, or up where that is along the normal; half way between two the
// greatest component is cos 11.25° of the size.
func TestFarthestCorner(t *testing.T) {
	step := math.Pi / 8
	half := math.Cos(step / 2)
	polar := func(angle float64) Vec { return Vec{3 * math.Cos(angle), 3 * math.Sin(angle), 7} }
	upright := func(angle float64) Vec { return Vec{7, 3 * math.Sin(angle), 3 * math.Cos(angle)} }
	for _, c := range []struct {
		u, n  Vec
		align float64
		want  float64
	}{
		{polar(0), Vec{0, 0, 1}, 0, 3},
		{polar(0.4), Vec{0, 0, 1}, 0.4, 3},
		{polar(0.4 + 5*step), Vec{0, 0, 1}, 0.4, 3},
		{polar(0.4 + 5.5*step), Vec{0, 0, 1}, 0.4, 3 * half},
		{polar(0.4 - 0.25*step), Vec{0, 0, 1}, 0.4, 3 * math.Cos(step/4)},
		{upright(0), Vec{1, 0, 0}, 0, 3},
		{upright(0.5 * step), Vec{1, 0, 0}, 0, 3 * half},
		{upright(3 * step), Vec{1, 0, 0}, 0, 3},
		{Vec{0, 0, 7}, Vec{0, 0, 1}, 0, 0},
	} {
		if got := farthest(c.u, c.n, c.align); math.Abs(got-c.want) > 1e-12 {
			t.Errorf("%g across %g, align %g: %g, want %g", c.u, c.n, c.align, got, c.want)
		}
	}
}

// 10 N of live load move at 1 m/s against 20 W, so they do so from a factor of 2 on.
func TestGapOfFactors(t *testing.T) {
	l := &Loads{Dead: []Acting{{0, Force{F: Vec{0, 0, -100}}}}, Live: []Acting{{0, Force{F: Vec{10, 0, 0}}}}}
	along := &Collapse{Motions: []Motion{{Velocity: Vec{1, 0, 0}}}}
	for _, c := range []struct {
		why                string
		motion             Vec
		dissipated, factor float64
		want               float64
	}{
		{"the same", Vec{1, 0, 0}, 20, 2, 0},
		{"a tenth too high", Vec{1, 0, 0}, 20, 2.2, 0.2 / 2.21}, // a thousandth of 100 N over 10 N: 0.01
		{"too low", Vec{1, 0, 0}, 20, 1.9, 0.1 / 1.91},
		{"nothing", Vec{1, 0, 0}, 20, 0, 1},
		{"next to nothing", Vec{1, 0, 0}, 0.01, 0, 0.001 / 0.01},
		{"sinking, which dead loads pay for", Vec{1, 0, -0.1}, 20, 1, 0},
		{"no live load drives it", Vec{0, 1, 0}, 20, 2, 1},
		{"live loads hold it", Vec{-1, 0, 0}, 20, 2, 1},
	} {
		for _, size := range []float64{1, 1e-8, 1e8} { // that of a motion has no meaning
			along.Motions[0].Velocity = scaled(c.motion, size)
			if got := gap(along, l, c.dissipated*size, c.factor); math.Abs(got-c.want) > 1e-12 {
				t.Errorf("%s, at %g: %g, want %g", c.why, size, got, c.want)
			}
		}
	}
}

// What is said not to stand has to be driven by the dead loads alone, beyond what its joints take up.
func TestProofOfNotStanding(t *testing.T) {
	for _, c := range []struct {
		pull   float64 // capacity of the link (N)
		v      Vec
		proven bool
	}{
		{9, Vec{0, 0, 1}, true},
		{10, Vec{0, 0, 1}, false},
		{11, Vec{0, 0, 1}, false},
		{9, Vec{0, 0, -1}, false}, // into the ground
		{9, Vec{}, false},
	} {
		s := cube(0.5)
		s.Dead = []Acting{{0, Force{F: Vec{0, 0, 10}, At: s.Blocks[0].Centre}}}
		s.link(Bolt, "", 0, Ground, Vec{}, Vec{0, 0, -1}, c.pull, 0, 0)
		o := &Outcome{NotStanding: true, Collapse: *collapse(&s.Group, Motion{Velocity: c.v})}
		if got := certify(&s.Group, 0, AllLimits, &s.Loads, o, nil); got.OK != c.proven {
			t.Errorf("10 N against %g N at %g m/s: %+v, want %v", c.pull, c.v, got, c.proven)
		}
		if got := provesFall(&s.Group, 0, AllLimits, &s.Loads, 1, &o.Collapse); got != c.proven {
			t.Errorf("10 N against %g N at %g m/s: falls %v, want %v", c.pull, c.v, got, c.proven)
		}
	}
}
