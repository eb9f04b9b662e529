package statics

import (
	"fmt"
	"testing"
)

// tipsEast is a motion of the cube about its east edge at 1 rad/s: the spin (0, 1, 0) about the point
// (0.5, 0, 0) moves the centre, which is (-0.5, 0, 0.5) from it, at (0.5, 0, 0.5) m/s.
var tipsEast = Motion{Velocity: Vec{0.5, 0, 0.5}, Spin: Vec{0, 1, 0}}

// cube is a metre each way, on four corners of its own foot.
func cube(friction float64) *site {
	s := &site{}
	s.column("", 100, 0, 0, 1, 1, 1, friction)
	return s
}

// collapse is a motion of every block of a group about its centre.
func collapse(g *Group, motions ...Motion) *Collapse {
	for i := range motions {
		motions[i].Centre = g.Blocks[i].Centre
	}
	return &Collapse{Motions: motions}
}

// One cube moves by hand, so that its corners move as the comment says.
func TestWordsOfMotions(t *testing.T) {
	leaning := func(s *site) { s.Contacts[0].Normal = Vec{1, 0, 0} } // against a wall in the west
	hung := func(s *site) { s.Contacts = nil }
	for _, c := range []struct {
		why      string
		friction float64
		v, spin  Vec
		do       func(*site)
		want     string
	}{
		{"all corners rise", 0, Vec{0, 0, 1}, Vec{}, nil, "lifts off"},
		{"all corners sink", 0, Vec{0, 0, -1}, Vec{}, nil, "sinks"},
		{"they slide by a hundredth of that: not named", 0, Vec{0.01, 0, -1}, Vec{}, nil, "sinks"},
		{"by a tenth of it", 0, Vec{0.1, 0, -1}, Vec{}, nil, "slides to the east"},
		{"slow, and rises by a tenth of that", 0, Vec{0, 0.01, 0.001}, Vec{}, nil, "lifts off"},
		{"on a way that rises", 0.5, Vec{0, -1, 0.5}, Vec{}, nil, "slides to the south"},
		{"rises beyond what sliding brings", 0.5, Vec{0, -1, 0.6}, Vec{}, nil, "lifts off"},
		// A corner is √½ = 0.707 m from the middle.
		{"turns at 0.707 m/s and slides at none", 0, Vec{}, Vec{0, 0, -1}, nil, "turns on its foot"},
		{"turns at 0.57 of the slide", 0, Vec{1, 0, 0}, Vec{0, 0, 0.8}, nil, "turns on its foot"},
		{"turns at 0.42 of the slide", 0, Vec{1, 0, 0}, Vec{0, 0, 0.6}, nil, "slides to the east, turning"},
		{"turns at 0.14 of the slide", 0, Vec{-1, 0, 0}, Vec{0, 0, -0.2}, nil, "slides to the west, turning"},
		{"turns at 0.14 of half that slide", 0, Vec{0.5, 0, 0}, Vec{0, 0, 0.1}, nil, "slides to the east, turning"},
		{"turns at 0.07 of the slide: not named", 0, Vec{1, 0, 0}, Vec{0, 0, 0.1}, nil, "slides to the east"},
		{"down a wall", 0, Vec{0, 0, -1}, Vec{}, leaning, "slides down"},
		{"up a wall", 0, Vec{0, 0.5, 1}, Vec{}, leaning, "slides up"},
		{"along a wall", 0, Vec{0, 1, -0.9}, Vec{}, leaning, "slides to the north"},
		{"hung, falls straight", 0, Vec{0, 0, -1}, Vec{}, hung, "drops"},
		{"hung, falls at 31 degrees", 0, Vec{1, 0, -0.6}, Vec{}, hung, "drops"},
		{"hung, falls at 27 degrees", 0, Vec{1, 0, -0.5}, Vec{}, hung, "comes away"},
		{"hung, rises at 31 degrees", 0, Vec{0, 1, 0.6}, Vec{}, hung, "lifts off"},
		{"hung, rises at 27 degrees", 0, Vec{0, 1, 0.5}, Vec{}, hung, "comes away"},
		{"hung, about its own middle", 0, Vec{}, Vec{0, 0, 1}, hung, "swings"},
	} {
		t.Run(c.why, func(t *testing.T) {
			s := cube(c.friction)
			if c.do != nil {
				c.do(s)
			}
			if got := collapse(&s.Group, Motion{Velocity: c.v, Spin: c.spin}).Words(&s.Group); got != c.want {
				t.Errorf("%q, want %q", got, c.want)
			}
		})
	}
}

// Tipping about the east edge lifts the western corners at 1 m/s; a slide is added to that.
func TestWordsOfTipping(t *testing.T) {
	for _, c := range []struct {
		slide Vec
		want  string
	}{
		{Vec{}, "overturns about its east edge"},
		{Vec{0.05, 0, 0}, "overturns about its east edge"}, // less than a tenth of the lift
		{Vec{0.15, 0, 0}, "overturns about its east edge and slides to the east"},
		{Vec{1.9, 0, 0}, "overturns about its east edge and slides to the east"},
		{Vec{0, 2.1, 0}, "slides to the north"}, // the lift is less than half of it
	} {
		s := cube(0)
		m := tipsEast
		m.Velocity = add(m.Velocity, c.slide)
		if got := collapse(&s.Group, m).Words(&s.Group); got != c.want {
			t.Errorf("with a slide of %g m/s: %q, want %q", c.slide, got, c.want)
		}
	}
	// About a corner: the axis through (0.5, 0.5, 0) square to the diagonal; the centre is (-0.5, -0.5, 0.5)
	// from it. (-1, 1, 0) x (-0.5, -0.5, 0.5) = (0.5, 0.5, 1).
	s := cube(0)
	corner := Motion{Velocity: Vec{0.5, 0.5, 1}, Spin: Vec{-1, 1, 0}}
	if got, want := collapse(&s.Group, corner).Words(&s.Group), "overturns over its north-east corner"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	// A foot with one corner in the east.
	s.Blocks[0].Foot = [][2]float64{{-0.5, -0.5}, {0.5, 0}, {-0.5, 0.5}}
	s.Contacts[0].Points = []Vec{{-0.5, -0.5, 0}, {0.5, 0, 0}, {-0.5, 0.5, 0}}
	if got, want := collapse(&s.Group, tipsEast).Words(&s.Group), "overturns over its east corner"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	// Two legs in a line have neither edges nor corners.
	s.Blocks[0].Foot, s.Contacts[0].Points = nil, []Vec{{-0.5, 0, 0}, {0.5, 0, 0}}
	if got, want := collapse(&s.Group, tipsEast).Words(&s.Group), "overturns to the east"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
}

// Which links and guys give, and how they are named: by name up to three, else by number.
func TestWordsOfLinks(t *testing.T) {
	for _, c := range []struct {
		names []string
		kind  LinkKind
		want  string
	}{
		{[]string{"upper"}, Hinge, "pulls the hinge upper off"},
		{[]string{""}, Hinge, "pulls a hinge off"},
		{[]string{"1", "2", "3"}, Bolt, "pulls the bolts 1, 2 and 3 off"},
		{[]string{"1", "2", "3", "4"}, Bolt, "pulls 4 bolts off"},
		{[]string{"1", "", "3"}, Bolt, "pulls 3 bolts off"},
		{[]string{"", ""}, Latch, "pulls 2 latches off"},
		{[]string{"a", "b"}, Latch, "pulls the latches a and b off"},
		{[]string{""}, LinkKind(99), "pulls a fixing off"},
		{[]string{""}, LinkKind(-1), "pulls a fixing off"},
		{[]string{""}, Strap, "pulls a strap off"},
	} {
		s := cube(0)
		for _, name := range c.names {
			s.link(c.kind, name, 0, Ground, Vec{}, Vec{0, 0, -1}, 100, 0, 0)
		}
		if got, want := collapse(&s.Group, Motion{Velocity: Vec{0, 0, 1}}).Words(&s.Group), "lifts off and "+c.want; got != want {
			t.Errorf("%q: %q, want %q", c.names, got, want)
		}
	}
	// One link from the cube to the ground, at the middle of its foot, by its way of giving.
	for _, c := range []struct {
		why               string
		v                 Vec
		pull, push, shear float64
		want              string
	}{
		{"opens", Vec{0, 0, 1}, 9, 9, 9, "lifts off and pulls the bolt b off"},
		{"closes", Vec{0, 0, -1}, 9, 9, 9, "sinks and crushes the bolt b"},
		{"slides", Vec{1, 0, 0}, 9, 9, 9, "slides to the east and shears the bolt b"},
		{"opens without strength that way", Vec{0, 0, 1}, 0, 9, 9, "lifts off"},
		{"closes without strength that way", Vec{0, 0, -1}, 9, 0, 9, "sinks"},
		{"opens and slides, takes more up by sliding", Vec{0.5, 0, 1}, 10, 0, 30, "lifts off and shears the bolt b"},    // 15 W to 10 W
		{"opens and slides, takes more up by opening", Vec{0.5, 0, 1}, 20, 0, 30, "lifts off and pulls the bolt b off"}, // 15 W to 20 W
		{"opens four times as fast", Vec{0.5, 0, 4}, 10, 0, 30, "lifts off and pulls the bolt b off"},                   // 15 W to 40 W
		{"does not break across", Vec{0.5, 0, 1}, 20, 0, noLimit, "lifts off and pulls the bolt b off"},
	} {
		s := cube(0)
		s.link(Bolt, "b", 0, Ground, Vec{}, Vec{0, 0, -2}, c.pull, c.push, c.shear)
		if got := collapse(&s.Group, Motion{Velocity: c.v}).Words(&s.Group); got != c.want {
			t.Errorf("%s: %q, want %q", c.why, got, c.want)
		}
	}
	// Links of two kinds, or that give in two ways, are told apart.
	s := cube(0)
	for _, kind := range []LinkKind{Bolt, Hinge} {
		s.link(kind, "h", 0, Ground, Vec{}, Vec{0, 0, -1}, 9, 0, 0)
		s.link(kind, "v", 0, Ground, Vec{}, Vec{0, 1, 0}, 9, 0, 9)
	}
	if got, want := collapse(&s.Group, Motion{Velocity: Vec{0, 0, 1}}).Words(&s.Group), "lifts off and pulls the bolt h off"+
		" and shears the bolt v and pulls the hinge h off and shears the hinge v"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	for _, c := range []struct {
		v     Vec
		limit float64
		want  string
	}{
		{Vec{1, 0, 0}, 100, "slides to the east; guy west gives"},
		{Vec{-1, 0, 0}, 100, "slides to the west; guy east gives"},
		{Vec{0, 1, 0}, 100, "slides to the north"}, // square to both
		{Vec{1, 0, 0}, 0, "slides to the east"},    // held nothing before
		{Vec{0, 0, 1}, 100, "lifts off; guys west and east give"},
	} {
		s := cube(0)
		s.Guys = []Guy{{"west", 0, Vec{-0.5, 0, 1}, Vec{-1.5, 0, 0}, c.limit}, {"east", 0, Vec{0.5, 0, 1}, Vec{1.5, 0, 0}, c.limit}}
		if got := collapse(&s.Group, Motion{Velocity: c.v}).Words(&s.Group); got != c.want {
			t.Errorf("%g m/s, %g N: %q, want %q", c.v, c.limit, got, c.want)
		}
	}
}

// Blocks are named in the order of what happens to them: what moves on its foot before what hangs, the
// faster before the slower, equals as they come.
func TestWordsOfSeveral(t *testing.T) {
	row := func(n int) *site {
		s := &site{}
		for i := range n {
			s.column(fmt.Sprintf("b%d", i), 100, 3*float64(i), 0, 1, 1, 1, 0)
		}
		return s
	}
	east := func(v float64) Motion { return Motion{Velocity: Vec{v, 0, 0}} }
	north := func(v float64) Motion { return Motion{Velocity: Vec{0, v, 0}} }
	for _, c := range []struct {
		why     string
		motions []Motion
		do      func(*site)
		want    string
	}{
		{"the faster first", []Motion{east(0.5), north(1)}, nil, "b1 slides to the north; b0 slides to the east"},
		// A corner of the foot is √0.75 = 0.87 m from the centre.
		{"turning counts at the farthest joint", []Motion{{Spin: Vec{0, 0, 1}}, east(1)}, nil, "b1 slides to the east; b0 turns on its foot"},
		{"equals as they come", []Motion{north(1), east(1), north(-1)}, nil,
			"b0 slides to the north; b1 slides to the east; b2 slides to the south"},
		{"one that moves at half a thousandth stays", []Motion{east(1), north(0.0005)}, nil, "b0 slides to the east"},
		{"one at two thousandths does not", []Motion{east(1), north(0.002)}, nil, "b0 slides to the east; b1 slides to the north"},
		{"two that move alike are one", []Motion{east(1), north(0.5), east(1)}, nil, "b0 and b2 slide to the east; b1 slides to the north"},
		// Half a thousandth of a turn is five thousandths of the slide at 10 m.
		{"apart at the farthest joint they are two", []Motion{east(1), {Velocity: Vec{1, 0, 0}, Spin: Vec{0, 0, 0.0005}}},
			func(s *site) { s.Guys = []Guy{{Of: 1, At: Vec{3, 10, 0.5}}} }, "b1 slides to the east; b0 slides to the east"},
		{"a tenth apart they are two", []Motion{east(1), east(0.9)}, nil, "b0 slides to the east; b1 slides to the east"},
		// Nothing ties b0 to what moves, so it falls by itself and is told of last, though it is the fastest.
		{"what hangs comes last", []Motion{{Velocity: Vec{0, 0, -2}}, east(1)},
			func(s *site) { s.Contacts = s.Contacts[1:] }, "b1 slides to the east; b0 drops"},
		{"what hangs on a link goes along", []Motion{{Velocity: Vec{1, 0, 0}, Spin: Vec{0, 0, 1}}, east(1)},
			func(s *site) {
				s.Contacts = s.Contacts[1:]
				s.link(Bolt, "", 1, 0, Vec{0, 0, 0.5}, Vec{}, 9, 9, 9)
			}, "b1 slides to the east; b0 is carried along"},
		{"whichever end is named first", []Motion{{Velocity: Vec{1, 0, 0}, Spin: Vec{0, 0, 1}}, east(1)},
			func(s *site) {
				s.Contacts = s.Contacts[1:]
				s.link(Bolt, "", 0, 1, Vec{0, 0, 0.5}, Vec{}, 9, 9, 9)
			}, "b1 slides to the east; b0 is carried along"},
		{"a link that gives carries nothing", []Motion{{Velocity: Vec{0.5, 0, 0}, Spin: Vec{0, 0, 1}}, east(1)},
			func(s *site) {
				s.Contacts = s.Contacts[1:]
				s.link(Bolt, "bolt", 1, 0, Vec{0, 0, 0.5}, Vec{1, 0, 0}, 9, 9, 9)
			}, "b1 slides to the east; b0 swings; the bolt bolt is crushed"},
		{"several links give", []Motion{{Velocity: Vec{0.5, 0, 0}, Spin: Vec{0, 0, 1}}, east(1)},
			func(s *site) {
				s.Contacts = s.Contacts[1:]
				for _, name := range []string{"1", "2"} {
					s.link(Bolt, name, 1, 0, Vec{0, 0, 0.5}, Vec{-1, 0, 0}, 9, 9, 9)
				}
				s.link(Strap, "", 1, Ground, Vec{3, 0, 1}, Vec{0, 1, 0}, 9, 9, 9)
			}, "b1 slides to the east; b0 swings; the bolts 1 and 2 are pulled off; a strap is sheared"},
		// Turning opposite ways they go together where they meet, 1.5 m from either middle, and on nothing that stands.
		{"what hangs on what hangs is not led", []Motion{{Spin: Vec{0, 0, 1}}, {Spin: Vec{0, 0, -1}}, east(1)},
			func(s *site) {
				s.Contacts = s.Contacts[2:]
				s.link(Bolt, "", 0, 1, Vec{1.5, 0, 0.5}, Vec{}, 9, 9, 9)
			}, "b2 slides to the east; b0 swings; b1 swings"},
		{"two go along", []Motion{{Velocity: Vec{1, 0, 0}, Spin: Vec{0, 0, 1}}, {Velocity: Vec{1, 0, 0}, Spin: Vec{0, 0, -1}}, east(1)},
			func(s *site) {
				s.Contacts = s.Contacts[2:]
				s.link(Bolt, "", 2, 0, Vec{0, 0, 0.5}, Vec{}, 9, 9, 9)
				s.link(Bolt, "", 2, 1, Vec{3, 0, 0.5}, Vec{}, 9, 9, 9)
			}, "b2 slides to the east; b0 and b1 are carried along"},
		{"nothing moves", []Motion{{}, {}}, nil, "nothing applied can move it"},
		{"motions of another group", []Motion{east(1)}, nil, "nothing applied can move it"},
	} {
		t.Run(c.why, func(t *testing.T) {
			n := max(2, len(c.motions))
			s := row(n)
			if c.do != nil {
				c.do(s)
			}
			motions := c.motions
			if got := collapse(&s.Group, motions...).Words(&s.Group); got != c.want {
				t.Errorf("%q, want %q", got, c.want)
			}
		})
	}
	// Blocks that stand one on the other tip as one: each about its own edge is not what is seen.
	s := &site{}
	low := s.column("plinth", 100, 0, 0, 1, 1, 1, 0)
	s.rest(s.block("urn", 10, 0, 0, 1, 0.4, 0.4, 1), low, 1, 0)
	// The centre of the upper one is (-0.5, 0, 1.5) from the edge: (0, 1, 0) x (-0.5, 0, 1.5) = (1.5, 0, 0.5).
	both := collapse(&s.Group, tipsEast, Motion{Velocity: Vec{1.5, 0, 0.5}, Spin: tipsEast.Spin})
	if got, want := both.Words(&s.Group), "plinth and urn overturn about their east edge"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
}

// Below a thousandth of the greatest speed a block stays, whatever the size of the motion.
func TestMoving(t *testing.T) {
	for _, size := range []float64{1e-3, 1, 1e3} {
		y := make([]float64, 18)
		y[4], y[6], y[14] = size, -0.002*size, 0.0005*size // a spin, and two velocities
		moving := (&part{programme: &programme{blocks: 3}}).moving(y)
		if !moving[0] || !moving[1] || moving[2] {
			t.Errorf("at %g: %v, want the third to stay", size, moving)
		}
	}
}
