package statics

import (
	"math"
	"math/rand/v2"
	"testing"
)

var noLimit = math.Inf(1)

// site is a group under construction in a test.
type site struct {
	Group
	Loads
}

// block adds a prism of a mass (kg) on a rectangle about x, y, from z upwards; it does not
// rest on anything yet.
func (s *site) block(name string, mass, x, y, z, wide, deep, tall float64) int {
	foot := rectangle(wide, deep)
	for i := range foot {
		foot[i][0] += x
		foot[i][1] += y
	}
	centre := Vec{x, y, z + tall/2}
	s.Blocks = append(s.Blocks, Block{Name: name, Centre: centre, Foot: foot})
	b := len(s.Blocks) - 1
	s.Dead = append(s.Dead, Acting{b, Weight(name, mass, centre, Gravity(0, 0))})
	return b
}

// rest seats block b on another, or the ground, at the corners of its foot.
func (s *site) rest(b, on int, z, friction float64) *Contact {
	c := Contact{Of: b, On: on, Friction: friction}
	for _, p := range s.Blocks[b].Foot {
		c.Points = append(c.Points, Vec{p[0], p[1], z})
	}
	s.Contacts = append(s.Contacts, c)
	return &s.Contacts[len(s.Contacts)-1]
}

func (s *site) column(name string, mass, x, y, wide, deep, tall, friction float64) int {
	b := s.block(name, mass, x, y, 0, wide, deep, tall)
	s.rest(b, Ground, 0, friction)
	return b
}

func (s *site) link(kind LinkKind, name string, a, b int, at, axis Vec, pull, push, shear float64) {
	s.Links = append(s.Links, Link{name, kind, a, b, at, axis, pull, push, shear})
}

func (s *site) push(b int, f, at Vec) {
	s.Live = append(s.Live, Acting{b, Force{"push", f, at}})
}

// TestWords is on set-ups whose collapse a person sees at once.
func TestWords(t *testing.T) {
	tests := []struct {
		name  string
		build func(*site)
		want  string
	}{
		{"pushed at the top", func(s *site) {
			s.push(s.column("", 100, 0, 0, 0.5, 0.8, 2, 0.6), Vec{10, 0, 0}, Vec{0, 0, 2})
		}, "overturns about its east edge"},
		{"pushed at the bottom", func(s *site) {
			s.push(s.column("", 100, 0, 0, 0.8, 0.8, 2, 0.3), Vec{0, 10, 0}, Vec{0, 0, 0.2})
		}, "slides to the north"},
		{"pushed at two corners", func(s *site) {
			b := s.column("", 100, 0, 0, 1, 1, 1, 0.3)
			s.push(b, Vec{0, 10, 0}, Vec{0.5, 0, 0.2})
			s.push(b, Vec{0, -10, 0}, Vec{-0.5, 0, 0.2})
		}, "turns on its foot"},
		{"pulled up", func(s *site) {
			s.push(s.column("", 100, 0, 0, 1, 1, 1, 0.3), Vec{0, 0, 10}, Vec{0, 0, 1})
		}, "lifts off"},
		{"three legs, pushed across an edge", func(s *site) {
			b := s.block("", 100, 0, 0, 0, 1, 1, 2)
			s.Blocks[b].Foot = [][2]float64{{-0.5, -0.5}, {0.5, -0.5}, {-0.5, 0.5}}
			s.Dead[0].At = Vec{-0.2, -0.2, 1}
			s.rest(b, Ground, 0, 0.6)
			s.push(b, Vec{10, 10, 0}, Vec{-0.2, -0.2, 2})
		}, "overturns about its north-east edge"},
		{"the top of a stack", func(s *site) {
			low := s.column("plinth", 100, 0, 0, 1, 1, 1, 0.6)
			top := s.block("urn", 20, 0, 0, 1, 0.4, 0.4, 1)
			s.rest(top, low, 1, 0.6)
			s.push(top, Vec{10, 0, 0}, Vec{0, 0, 2})
		}, "urn overturns about its east edge"},
		{"the slippery top of a stack", func(s *site) {
			low := s.column("plinth", 100, 0, 0, 1, 1, 1, 0.6)
			top := s.block("urn", 20, 0, 0, 1, 0.4, 0.4, 1)
			s.rest(top, low, 1, 0.1)
			s.push(top, Vec{-10, 0, 0}, Vec{0, 0, 1.2})
		}, "urn slides to the west"},
		{"the whole of a stack", func(s *site) {
			low := s.column("plinth", 50, 0, 0, 0.4, 0.4, 1, 0.6)
			top := s.block("urn", 50, 0, 0, 1, 0.8, 0.8, 1)
			s.rest(top, low, 1, 0.6)
			s.push(top, Vec{0, 10, 0}, Vec{0, 0, 1.5})
		}, "plinth and urn overturn about their north edge"},
		{"a bolted joint half way", func(s *site) {
			low := s.column("base", 500, 0, 0, 1, 1, 1, 0.6)
			top := s.block("mast", 20, 0, 0, 1, 0.4, 0.4, 3)
			s.rest(top, low, 1, 0.6)
			for _, p := range [][2]float64{{-0.2, -0.2}, {-0.2, 0.2}, {0.2, -0.2}, {0.2, 0.2}} {
				name := map[bool]string{true: "west", false: "east"}[p[0] < 0]
				s.link(Bolt, name, low, top, Vec{p[0], p[1], 1}, Vec{}, 300, 0, noLimit)
			}
			s.push(top, Vec{10, 0, 0}, Vec{0, 0, 4})
		}, "mast overturns about its east edge and pulls the bolts west and west off"},
		{"a leaf pulled off its pier", func(s *site) {
			pier := s.column("pier", 2000, 0, 0, 0.8, 0.8, 2, 0.6)
			leaf := s.block("leaf", 20, 1, 0, 0.2, 1.2, 0.05, 1.6)
			s.Blocks[leaf].Foot = nil
			s.link(Hinge, "upper", pier, leaf, Vec{0.4, 0, 1.6}, Vec{1, 0, 0}, 300, noLimit, noLimit)
			s.link(Hinge, "lower", pier, leaf, Vec{0.4, 0, 0.4}, Vec{1, 0, 0}, 300, noLimit, noLimit)
			s.push(leaf, Vec{0, 0, -100}, Vec{1.6, 0, 1})
		}, "leaf drops and pulls the hinge upper off"},
		{"a pier pulled over by its leaf", func(s *site) {
			pier := s.column("pier", 60, 0, 0, 0.5, 0.5, 2, 0.6)
			leaf := s.block("leaf", 20, 0.85, 0, 0.2, 1.2, 0.05, 1.6)
			s.Blocks[leaf].Foot = nil
			s.link(Hinge, "upper", pier, leaf, Vec{0.25, 0, 1.6}, Vec{1, 0, 0}, 3000, noLimit, noLimit)
			s.link(Hinge, "lower", pier, leaf, Vec{0.25, 0, 0.4}, Vec{1, 0, 0}, 3000, noLimit, noLimit)
			s.push(leaf, Vec{0, 0, -10}, Vec{1.4, 0, 1})
		}, "pier and leaf overturn about their east edge"},
		{"a leaf that nothing holds", func(s *site) {
			pier := s.column("pier", 500, 0, 0, 0.5, 0.5, 2, 0.6)
			leaf := s.block("leaf", 10, 0.85, 0, 0.2, 1.2, 0.05, 1.6)
			s.Blocks[leaf].Foot = nil
			s.link(Hinge, "upper", pier, leaf, Vec{0.25, 0, 1.6}, Vec{1, 0, 0}, 3000, noLimit, noLimit)
			s.link(Hinge, "lower", pier, leaf, Vec{0.25, 0, 0.4}, Vec{1, 0, 0}, 3000, noLimit, noLimit)
			s.push(leaf, Vec{0, 10, 0}, Vec{0.85, 0, 1})
		}, "leaf swings"},
		{"a weak latch", func(s *site) {
			pier := s.column("pier", 900, 0, 0, 0.8, 0.8, 2, 0.6)
			post := s.column("post", 900, 2.3, 0, 0.8, 0.8, 2, 0.6)
			leaf := s.block("leaf", 10, 1.15, 0, 0.2, 1.4, 0.05, 1.6)
			s.Blocks[leaf].Foot = nil
			s.link(Hinge, "upper", pier, leaf, Vec{0.4, 0, 1.6}, Vec{1, 0, 0}, 3000, noLimit, noLimit)
			s.link(Hinge, "lower", pier, leaf, Vec{0.4, 0, 0.4}, Vec{1, 0, 0}, 3000, noLimit, noLimit)
			s.link(Latch, "gate", leaf, post, Vec{1.9, 0, 1}, Vec{0, 1, 0}, 50, 50, 0)
			s.push(leaf, Vec{0, -10, 0}, Vec{1.15, 0, 1})
		}, "leaf swings and pulls the latch gate off"},
		{"a guy that is too weak", func(s *site) {
			b := s.column("", 50, 0, 0, 0.5, 0.5, 3, 0.6)
			s.Guys = []Guy{{"east", b, Vec{0.25, 0, 2.5}, Vec{3, 0, 0}, 300}, {"west", b, Vec{-0.25, 0, 2.5}, Vec{-3, 0, 0}, 3000}}
			s.push(b, Vec{-10, 0, 0}, Vec{0, 0, 3})
		}, "overturns about its west edge; guy east gives"},
		{"a beam laid across", func(s *site) {
			west := s.column("west pier", 300, -1.5, 0, 0.6, 0.6, 2.5, 0.6)
			east := s.column("east pier", 300, 1.5, 0, 0.6, 0.6, 2.5, 0.6)
			beam := s.block("beam", 20, 0, 0, 2.5, 3.6, 0.3, 0.3)
			s.Contacts = append(s.Contacts,
				Contact{Of: beam, On: west, Points: []Vec{{-1.8, -0.15, 2.5}, {-1.8, 0.15, 2.5}, {-1.2, -0.15, 2.5}, {-1.2, 0.15, 2.5}}, Friction: 0.2},
				Contact{Of: beam, On: east, Points: []Vec{{1.8, -0.15, 2.5}, {1.8, 0.15, 2.5}, {1.2, -0.15, 2.5}, {1.2, 0.15, 2.5}}, Friction: 0.2})
			s.push(beam, Vec{0, 10, 0}, Vec{0, 0, 2.6})
		}, "beam slides to the north"},
		{"a portal bolted up", func(s *site) {
			west := s.column("west pier", 60, -1.5, 0, 0.6, 0.6, 2.5, 0.6)
			east := s.column("east pier", 60, 1.5, 0, 0.6, 0.6, 2.5, 0.6)
			beam := s.block("beam", 40, 0, 0, 2.5, 3.6, 0.3, 0.3)
			for i, pier := range []int{west, east} {
				x := -1.5 + 3*float64(i)
				for _, d := range [][2]float64{{-0.2, -0.1}, {-0.2, 0.1}, {0.2, 0}} {
					s.link(Bolt, "", pier, beam, Vec{x + d[0], d[1], 2.5}, Vec{}, 20000, noLimit, noLimit)
				}
			}
			s.push(beam, Vec{0, -10, 0}, Vec{0, 0, 2.65})
		}, "west pier, east pier and beam overturn about their south edge"},
		{"a pinned foot", func(s *site) {
			b := s.column("", 100, 0, 0, 1, 1, 0.5, 0)
			s.link(Bolt, "pin", b, Ground, Vec{0, 0, 0}, Vec{0, 0, -1}, 0, 0, 500)
			s.push(b, Vec{10, 0, 0}, Vec{0, 0, 0})
		}, "slides to the east and shears the bolt pin"},
		{"steep ground", func(s *site) {
			b := s.column("", 100, 0, 0, 1, 1, 0.5, 0.3)
			s.Dead[0].Force = Weight("", 100, s.Blocks[b].Centre, Gravity(0.5, -math.Pi/2))
		}, "slides to the south"},
		{"pushed down a slope", func(s *site) {
			b := s.column("", 100, 0, 0, 1, 1, 0.5, 0.3)
			s.Dead[0].Force = Weight("", 100, s.Blocks[b].Centre, Gravity(0.1, -math.Pi/2))
			s.push(b, Vec{0, -10, 0}, s.Blocks[b].Centre)
		}, "slides to the south"},
		{"soft ground under a heavy block", func(s *site) {
			b := s.column("", 1000, 0, 0, 1, 1, 0.5, 0.3)
			s.Contacts[b].Bearing = 3000
			s.push(b, Vec{0, 0, -10}, Vec{0, 0, 1})
		}, "sinks"},
		{"soft ground under one edge", func(s *site) {
			b := s.column("", 100, 0, 0, 1, 1, 2, 0.6)
			s.Contacts[b].Bearing = 600
			s.push(b, Vec{10, 0, 0}, Vec{0, 0, 2})
		}, "overturns about its east edge"},
		{"a ladder", func(s *site) {
			b := s.block("", 10, 1, 0, 0, 0.1, 0.5, 1)
			s.Blocks[b].Centre, s.Dead[0].At = Vec{1, 0, 2}, Vec{1, 0, 2}
			s.Blocks[b].Foot = nil
			s.Contacts = append(s.Contacts,
				Contact{Of: b, On: Ground, Points: []Vec{{0, -0.25, 0}, {0, 0.25, 0}}, Friction: 0.3},
				Contact{Of: b, On: Ground, Points: []Vec{{2, -0.2, 4}, {2, 0.2, 4}}, Normal: Vec{-1, 0, 0}})
			s.push(b, Vec{0, 0, -10}, Vec{1.5, 0, 3})
		}, "slides to the west"},
		{"a stop that is too weak", func(s *site) {
			b := s.column("", 100, 0, 0, 1, 1, 0.5, 0.1)
			s.link(Bracket, "toe", b, Ground, Vec{0.5, 0, 0}, Vec{1, 0, 0}, 0, 200, 0)
			s.push(b, Vec{10, 0, 0}, Vec{0, 0, 0.1})
		}, "slides to the east and crushes the bracket toe"},
		{"two walls back to back, one pushed over by the other", func(s *site) {
			west := s.column("west wall", 100, 0, 0, 0.3, 2, 2, 0.6)
			east := s.column("east wall", 100, 0.3, 0, 0.3, 2, 2, 0.6)
			s.Contacts = append(s.Contacts, Contact{Of: east, On: west, Normal: Vec{1, 0, 0},
				Points: []Vec{{0.15, -1, 0}, {0.15, 1, 0}, {0.15, 1, 2}, {0.15, -1, 2}}})
			s.push(west, Vec{10, 0, 0}, Vec{0, 0, 2})
		}, "west wall overturns about its east edge; east wall overturns about its east edge"},
		{"a heavy block sinks by one on rock", func(s *site) {
			s.column("on rock", 100, 5, 0, 1, 1, 0.5, 0.3)
			b := s.column("on clay", 1000, 0, 0, 1, 1, 0.5, 0.3)
			s.Contacts[b].Bearing = 3000
			s.push(b, Vec{0, 0, -10}, Vec{0, 0, 1})
		}, "on clay sinks"},
		{"no push at all", func(s *site) {
			s.push(s.column("", 100, 0, 0, 1, 1, 2, 0.3), Vec{0, 0, 0}, Vec{0, 0, 1})
		}, "nothing applied can move it"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			var s site
			test.build(&s)
			o := analyse(t, &s.Group, &s.Loads, 0, AllLimits)
			if got := o.Collapse.Words(&s.Group); got != test.want {
				t.Errorf("%q, want %q; factor %+v, %+v", got, test.want, o.Factor, o.Collapse)
			}
			// The fastest block moves at 1, which the share below which a block stays refers to.
			fastest := 0.0
			for i, m := range o.Collapse.Motions {
				fastest = max(fastest, norm(m.Velocity)+norm(m.Spin)*sizes(&s.Group)[i])
			}
			if test.want != nothingMoves && !near(fastest, 1, 1e-12) {
				t.Errorf("the fastest moves at %g, want 1", fastest)
			}
			rng := rand.New(rand.NewPCG(51, 52))
			for range 40 {
				g, l := shuffled(rng, &s.Group, &s.Loads, false)
				p := analyse(t, g, l, 0, AllLimits)
				if got := p.Collapse.Words(g); got != test.want {
					t.Errorf("%q in another order, want %q", got, test.want)
				}
			}
		})
	}
}
