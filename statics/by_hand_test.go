package statics

import (
	"fmt"
	"math"
	"testing"
)

var without = Factor{Unbounded: true}

func times(v float64) Factor { return Factor{Value: v} }

// Factors and forces under each limit, by hand, with a cube of 1000 N.
func TestEachLimitByHand(t *testing.T) {
	weigh := func(s *site) { s.Dead[0].F = Vec{0, 0, -1000} }
	hang := func(s *site) { s.Contacts = nil }
	for _, c := range []struct {
		why      string
		friction float64
		do       func(*site)
		want     [limits]Factor
	}{
		// About the east edge 1000 N · 0.5 m hold 100 N · 1 m; friction holds 300 N of 100 N.
		{"pushed at the top", 0.3, func(s *site) { s.push(0, Vec{100, 0, 0}, Vec{0, 0, 1}) },
			[limits]Factor{times(3), times(5), times(3), times(3), without, without}},
		// A couple of 10 N·m; each corner is √½ m from the middle and the polygon has a corner across each arm.
		{"turned", 0.3, func(s *site) {
			s.push(0, Vec{0, 10, 0}, Vec{0.5, 0, 1})
			s.push(0, Vec{0, -10, 0}, Vec{-0.5, 0, 1})
		}, [limits]Factor{times(30 * math.Sqrt(0.5)), without, without, times(30 * math.Sqrt(0.5)), without, without}},
		{"lifted", 0.3, func(s *site) { s.push(0, Vec{0, 0, 100}, Vec{0, 0, 1}) },
			[limits]Factor{times(10), times(10), times(10), times(10), without, without}},
		// Four corners bear 400 N each.
		{"pressed onto soft ground", 0.3, func(s *site) {
			s.Contacts[0].Bearing = 400
			s.push(0, Vec{0, 0, -100}, Vec{0, 0, 1})
		}, [limits]Factor{times(6), times(6), without, without, without, without}},
		// A bolt of 3000 N above it holds 2000 N more.
		{"hung by a link", 0, func(s *site) {
			hang(s)
			s.link(Bolt, "", 0, Ground, Vec{0, 0, 1}, Vec{0, 0, 1}, 3000, 0, 0)
			s.push(0, Vec{0, 0, -100}, Vec{})
		}, [limits]Factor{times(20), without, without, without, times(20), without}},
		{"on a prop", 0, func(s *site) {
			hang(s)
			s.link(Brace, "", 0, Ground, Vec{}, Vec{0, 0, -1}, 0, 3000, 0)
			s.push(0, Vec{0, 0, -100}, Vec{})
		}, [limits]Factor{times(20), without, without, without, times(20), without}},
		{"on a shelf pin in its side", 0, func(s *site) {
			hang(s)
			s.link(Bolt, "", 0, Ground, Vec{0, 0, 0.5}, Vec{1, 0, 0}, 0, 0, 3000)
			s.push(0, Vec{0, 0, -100}, Vec{0, 0, 0.5})
		}, [limits]Factor{times(20), without, without, without, times(20), without}},
		{"hung by a rope", 0, func(s *site) {
			hang(s)
			s.Guys = []Guy{{"", 0, Vec{0, 0, 1}, Vec{0, 0, 9}, 3000}}
			s.push(0, Vec{0, 0, -100}, Vec{})
		}, [limits]Factor{times(20), without, without, without, without, times(20)}},
		// 300 N of friction and 200 N of a bolt; without limit to the bolt nothing slides.
		{"pinned on the ground", 0.3, func(s *site) {
			s.link(Bolt, "", 0, Ground, Vec{}, Vec{}, 0, 0, 200)
			s.push(0, Vec{100, 0, 0}, Vec{})
		}, [limits]Factor{times(5), without, without, without, without, without}},
		// 3 of friction and 150 N · √½ on either side of the balance: a guy at 45 degrees pulls 106 N back and presses
		// 106 N, which rub for 32 N more.
		{"held by a guy at 45 degrees", 0.3, func(s *site) {
			s.Guys = []Guy{{"", 0, Vec{0, 0, 0.5}, Vec{-0.5, 0, 0}, 150}}
			s.push(0, Vec{100, 0, 0}, Vec{0, 0, 0.1})
		}, [limits]Factor{times(3 + 1.3*1.5*math.Sqrt(0.5)), without, without, without, without, without}},
	} {
		for only := range limits {
			t.Run(fmt.Sprintf("%s, limit %d", c.why, only), func(t *testing.T) {
				s := cube(c.friction)
				weigh(s)
				c.do(s)
				if o := analyse(t, &s.Group, &s.Loads, 0, only); o.NotStanding || !sameFactor(o.Factor, c.want[only], 1e-9) {
					t.Errorf("%+v, not standing %v; want %+v", o.Factor, o.NotStanding, c.want[only])
				}
			})
		}
		t.Run(c.why+", asked at the factor", func(t *testing.T) {
			s := cube(c.friction)
			weigh(s)
			c.do(s)
			a, err := NewAnalysis(&s.Group, 0)
			if err != nil {
				t.Fatal(err)
			}
			f := c.want[AllLimits].Value
			for by, want := range map[float64]bool{0: true, 0.5: true, 1 - 1e-7: true, 1 + 1e-7: false, 2: false, 1e6: false} {
				if got, err := a.Carries(&s.Loads, f*by); got != want || err != nil {
					t.Errorf("%g times the factor: carried %v (%v), want %v", by, got, err, want)
				}
				o, carried, err := a.Seek(&s.Loads, f*by)
				if carried != want || err != nil || !carried && (!sameFactor(o.Factor, times(f), 1e-9) || !o.Certificate.OK) {
					t.Errorf("sought from %g times the factor: carried %v, %+v (%v), want %v, %g", by, carried, o.Factor, err, want, f)
				}
			}
		})
	}
}

// Of a pull and a shear the shares add up to one, with the shear along a corner of the polygon; half way
// between two corners only cos 11.25° of it counts, and of friction likewise.
func TestPolygonsByHand(t *testing.T) {
	half := math.Pi / 16
	for _, c := range []struct {
		angle, align float64
		share        float64
	}{{0, 0, 1}, {2 * half, 0, 1}, {half, 0, math.Cos(half)}, {half, half, 1}, {-7 * half, 0, math.Cos(half)}, {1, 1, 1}, {1 + 8*half, 1, 1}} {
		sin, cos := math.Sincos(c.angle)
		s := cube(0.3)
		s.Dead[0].F = Vec{0, 0, -1000}
		s.push(0, Vec{100 * cos, 100 * sin, 0}, Vec{})
		if o := analyse(t, &s.Group, &s.Loads, c.align, SlidingOnly); !sameFactor(o.Factor, times(3*c.share), 1e-9) {
			t.Errorf("pushed at %g with align %g: slides at %+v, want %g", c.angle, c.align, o.Factor, 3*c.share)
		}
		s.Contacts, s.Live, s.Dead = nil, nil, nil
		s.link(Bolt, "", 0, Ground, Vec{}, Vec{0, 0, 1}, 1000, 400, 500)
		s.push(0, Vec{100 * cos, 100 * sin, -100}, Vec{}) // 0.1 + 0.2/share at 1
		if o := analyse(t, &s.Group, &s.Loads, c.align, AllLimits); !sameFactor(o.Factor, times(1/(0.1+0.2/c.share)), 1e-9) {
			t.Errorf("pulled and sheared at %g with align %g: %+v, want %g", c.angle, c.align, o.Factor, 1/(0.1+0.2/c.share))
		}
		s.Live[0].F[2] = 100 // pushed: 0.25 + 0.2/share
		if o := analyse(t, &s.Group, &s.Loads, c.align, AllLimits); !sameFactor(o.Factor, times(1/(0.25+0.2/c.share)), 1e-9) {
			t.Errorf("crushed and sheared at %g with align %g: %+v, want %g", c.angle, c.align, o.Factor, 1/(0.25+0.2/c.share))
		}
	}
}

// The forces that come with an outcome, where there is but one way to balance: at the factor, or at 1 without.
func TestForcesByHand(t *testing.T) {
	for only, at := range map[Limit]float64{AllLimits: 20, TippingOnly: 1} {
		s := cube(0)
		s.Dead[0].F = Vec{0, 0, -1000}
		s.Contacts = nil
		s.link(Bolt, "", 0, Ground, Vec{0, 0, 1}, Vec{0, 0, 2}, 3000, 0, noLimit)
		s.push(0, Vec{0, 0, -100}, Vec{})
		o := analyse(t, &s.Group, &s.Loads, 0, only)
		f := o.LinkForces[0]
		if want := 1000 + 100*at; !near(f.Axial, want, 1e-9) || norm(sub(f.Force, Vec{0, 0, want})) > 1e-6 || math.Abs(f.Shear) > 1e-6 {
			t.Errorf("limit %d: hung by %+v, want %g N upwards", only, f, want)
		}
		s.Links = nil
		s.Guys = []Guy{{"", 0, Vec{0, 0, 1}, Vec{0, 0, 9}, 3000}}
		if o := analyse(t, &s.Group, &s.Loads, 0, only); !near(o.GuyForces[0], 1000+100*at, 1e-9) {
			t.Errorf("limit %d: hung by %g N, want %g N", only, o.GuyForces[0], 1000+100*at)
		}
		s.Guys = nil
		s.link(Bolt, "", 0, Ground, Vec{0, 0, 0.5}, Vec{1, 0, 0}, 0, 0, 3000) // in its side, pushed towards it
		s.Live[0].At = Vec{0, 0, 0.5}
		s.Links[0].Push = noLimit
		s.push(0, Vec{30, 0, 0}, Vec{0, 0, 0.5})
		f = analyse(t, &s.Group, &s.Loads, 0, only).LinkForces[0]
		if x, z := 30*at, 1000+100*at; norm(sub(f.Force, Vec{-x, 0, z})) > 1e-6 || !near(f.Axial, -x, 1e-9) || !near(f.Shear, z, 1e-9) {
			t.Errorf("limit %d: held by %+v, want %g N west and %g N up", only, f, x, z)
		}
	}
	// Without any load there is nothing to carry, and nothing falls.
	s := cube(0.3)
	if o := analyse(t, &s.Group, &Loads{}, 0, AllLimits); !o.Factor.Unbounded || o.NotStanding {
		t.Errorf("no loads: %+v", o)
	}
	// Without weight a push slides it at once, and a press never does.
	for down, want := range map[float64]Factor{0: times(0), -1000: without} {
		l := &Loads{Live: []Acting{{0, Force{F: Vec{100, 0, down}}}}}
		if o := analyse(t, &s.Group, l, 0, AllLimits); !sameFactor(o.Factor, want, 1e-9) || o.NotStanding {
			t.Errorf("no weight, pressed by %g N: %+v, want %+v", down, o.Factor, want)
		}
	}
}

// A group that hangs by one link or one rope is refitted with one of twice the strength: (6000 - 1000) / 100.
func TestRefitByHand(t *testing.T) {
	for what, hang := range map[string]func(s *site, strength float64){
		"link": func(s *site, strength float64) {
			s.link(Bolt, "", 0, Ground, Vec{0, 0, 1}, Vec{0, 0, 1}, strength, 0, 0)
		},
		"rope": func(s *site, strength float64) { s.Guys = []Guy{{"", 0, Vec{0, 0, 1}, Vec{0, 0, 9}, strength}} },
	} {
		hung := func(strength float64) *site {
			s := cube(0)
			s.Dead[0].F = Vec{0, 0, -1000}
			s.Contacts = nil
			s.push(0, Vec{0, 0, -100}, Vec{})
			hang(s, strength)
			return s
		}
		weak, strong := hung(3000), hung(6000)
		a, err := NewAnalysis(&weak.Group, 0)
		if err != nil {
			t.Fatal(err)
		}
		for _, c := range []struct {
			s    *site
			want float64
		}{{weak, 20}, {strong, 50}, {weak, 20}} {
			if err := a.Refit(&c.s.Group); err != nil {
				t.Fatal(err)
			}
			if o, err := a.Solve(&c.s.Loads, AllLimits); err != nil || !o.Certificate.OK || !sameFactor(o.Factor, times(c.want), 1e-9) {
				t.Errorf("%s: %+v, %+v, %v; want %g", what, o.Factor, o.Certificate, err, c.want)
			}
		}
	}
}
