package statics

import (
	"errors"
	"math"
	"strings"
	"testing"
)

// TestCertificate spoils proven outcomes a little: none may pass.
func TestCertificate(t *testing.T) {
	s := portal()
	g, l, align := &s.Group, &s.Loads, 1.2
	const little = 1e-4
	spoil := []struct {
		name string
		do   func(*Outcome)
	}{
		{"factor up", func(o *Outcome) { o.Factor.Value *= 1 + little }},
		{"factor down", func(o *Outcome) { o.Factor.Value *= 1 - little }},
		{"force at a point", func(o *Outcome) { o.PointForces[0][0][2] += little * 1000 }},
		{"force in a link", func(o *Outcome) { o.LinkForces[0].Force[1] += little * 1000 }},
		{"a pull where none can be", func(o *Outcome) {
			for i := range o.PointForces[0] {
				o.PointForces[0][i][2] *= -1
			}
		}},
		{"couple at a contact", func(o *Outcome) { o.Couples[0][2] += little * 1000 }},
		{"spin", func(o *Outcome) { o.Collapse.Motions[0].Spin[2] += little }},
		{"velocity into the ground", func(o *Outcome) { o.Collapse.Motions[0].Velocity[2] -= little }},
		{"no motion", func(o *Outcome) { clear(o.Collapse.Motions) }},
		{"said not to stand", func(o *Outcome) { o.NotStanding = true }},
		{"said to be without limit", func(o *Outcome) { o.Factor = Factor{Unbounded: true} }},
	}
	for _, only := range []Limit{AllLimits, TippingOnly, SlidingOnly} {
		for _, test := range spoil {
			o := analyse(t, g, l, align, only)
			test.do(&o)
			if c := certify(g, align, only, l, &o, &o); c.OK {
				t.Errorf("limit %d, %s: passes with %+v", only, test.name, c)
			}
		}
	}
	o := analyse(t, g, l, align, AllLimits)
	if provesStand(g, AllLimits, l, o.Factor.Value*1.01, &o) || !provesStand(g, AllLimits, l, o.Factor.Value, &o) {
		t.Error("standing: the forces prove the factor and no other")
	}
	if provesFall(g, align, AllLimits, l, o.Factor.Value*0.99, &o.Collapse) || !provesFall(g, align, AllLimits, l, o.Factor.Value*1.01, &o.Collapse) {
		t.Error("falling: the motion proves what is beyond the factor and no less")
	}
}

// TestExcess: capacities, which interact when both are finite.
func TestExcess(t *testing.T) {
	for _, test := range []struct{ pull, limit, shear, across, want float64 }{
		{5, 10, 5, 10, 0},
		{6, 10, 5, 10, 1},
		{12, 10, 0, 10, 2},
		{12, noLimit, 0, 10, 0},
		{12, noLimit, 13, 10, 3},
		{12, 10, 99, noLimit, 2},
		{3, 0, 0, 10, 3},
		{0, 0, 12, 10, 2},
		{12, 10, 0.5, 0, 2},
		{1e9, noLimit, 1e9, noLimit, 0},
	} {
		if got := max(0, excess(test.pull, test.limit, test.shear, test.across)); math.Abs(got-test.want) > 1e-12 {
			t.Errorf("%+v: %g", test, got)
		}
	}
}

func TestGroupRefused(t *testing.T) {
	point := []Vec{{0, 0, 0}}
	for _, test := range []struct {
		name string
		do   func(*site)
		want error
	}{
		{"no blocks", func(s *site) { s.Blocks = nil }, ErrGroup},
		{"centre", func(s *site) { s.Blocks[0].Centre[1] = math.NaN() }, ErrValue},
		{"foot", func(s *site) { s.Blocks[0].Foot = s.Blocks[0].Foot[:2] }, ErrFoot},
		{"contact of no block", func(s *site) { s.Contacts[0].Of = Ground }, ErrGroup},
		{"contact on no block", func(s *site) { s.Contacts[0].On = 2 }, ErrGroup},
		{"contact on itself", func(s *site) { s.Contacts[0].On = 0 }, ErrGroup},
		{"contact without points", func(s *site) { s.Contacts[0].Points = nil }, ErrGroup},
		{"point", func(s *site) { s.Contacts[0].Points[0][0] = math.Inf(1) }, ErrValue},
		{"normal", func(s *site) { s.Contacts[0].Normal[0] = math.NaN() }, ErrValue},
		{"friction", func(s *site) { s.Contacts[0].Friction = -0.1 }, ErrValue},
		{"bearing", func(s *site) { s.Contacts[0].Bearing = math.Inf(1) }, ErrValue},
		{"link", func(s *site) { s.link(Bolt, "", 0, 3, Vec{}, Vec{}, 1, 1, 1) }, ErrGroup},
		{"capacity", func(s *site) { s.link(Bolt, "", 0, 1, Vec{}, Vec{}, 1, -1, 1) }, ErrValue},
		{"place", func(s *site) { s.link(Bolt, "", 0, 1, Vec{1e13}, Vec{}, 1, 1, 1) }, ErrValue},
		{"guy", func(s *site) { s.Guys = []Guy{{Of: 0, At: Vec{1, 1, 1}, To: Vec{1, 1, 1}, Limit: 1}} }, ErrValue},
		{"guy of no block", func(s *site) { s.Guys = []Guy{{Of: 2, At: Vec{1, 1, 1}}} }, ErrGroup},
		{"guy from nowhere", func(s *site) { s.Guys = []Guy{{At: Vec{math.Inf(1)}, Limit: 1}} }, ErrValue},
		{"guy to nowhere", func(s *site) { s.Guys = []Guy{{To: Vec{math.NaN()}, Limit: 1}} }, ErrValue},
		{"guy of less than no strength", func(s *site) { s.Guys = []Guy{{At: Vec{0, 0, 1}, Limit: -1}} }, ErrValue},
		{"contact of a block beyond the last", func(s *site) { s.Contacts[0].Of = 2 }, ErrGroup},
		{"contact on less than the ground", func(s *site) { s.Contacts[0].On = -2 }, ErrGroup},
		{"bearing less than nothing", func(s *site) { s.Contacts[0].Bearing = -1 }, ErrValue},
		{"friction without end", func(s *site) { s.Contacts[0].Friction = math.Inf(1) }, ErrValue},
		{"axis", func(s *site) { s.link(Bolt, "", 0, 1, Vec{}, Vec{math.NaN()}, 1, 1, 1) }, ErrValue},
		{"pull", func(s *site) { s.link(Bolt, "", 0, 1, Vec{}, Vec{}, -1, 1, 1) }, ErrValue},
		{"shear", func(s *site) { s.link(Bolt, "", 0, 1, Vec{}, Vec{}, 1, 1, math.NaN()) }, ErrValue},
		{"capacity beyond 1e12", func(s *site) { s.link(Bolt, "", 0, 1, Vec{}, Vec{}, 1.001e12, 1, 1) }, ErrValue},
		{"capacities of nothing, 1e12 and without limit", func(s *site) { s.link(Bolt, "", 0, 1, Vec{}, Vec{}, 0, 1e12, noLimit) }, nil},
		{"frictionless ground", func(s *site) { s.Contacts[0].Friction = 0 }, nil},
	} {
		s := &site{}
		s.column("a", 10, 0, 0, 1, 1, 1, 0.5)
		s.column("b", 10, 3, 0, 1, 1, 1, 0.5)
		if _, err := NewAnalysis(&s.Group, 0); err != nil {
			t.Fatal(err)
		}
		test.do(s)
		if _, err := NewAnalysis(&s.Group, 0); !errors.Is(err, test.want) {
			t.Errorf("%s: %v, want %v", test.name, err, test.want)
		}
	}
	// A refusal says which of several it is about, counted from one.
	for want, do := range map[string]func(*site){
		`foot of block 2`:   func(s *site) { s.Blocks[1].Name, s.Blocks[1].Foot = "", s.Blocks[1].Foot[:2] },
		`contact 2 "north"`: func(s *site) { s.Contacts[1].Name, s.Contacts[1].Friction = "north", -1 },
		`link 2 "upper"`: func(s *site) {
			s.link(Hinge, "lower", 0, 1, Vec{}, Vec{}, 1, 1, 1)
			s.link(Hinge, "upper", 0, 1, Vec{}, Vec{}, -1, 1, 1)
		},
		`guy 1 "east"`:            func(s *site) { s.Guys = []Guy{{Name: "east", Of: 0, Limit: 1}} },
		`guy 2 "west"`:            func(s *site) { s.Guys = []Guy{{At: Vec{1}}, {Name: "west", Of: 5, Limit: 1}} },
		`joins block 1 to itself`: func(s *site) { s.link(Bolt, "", 1, 1, Vec{}, Vec{}, 1, 1, 1) },
	} {
		s := &site{}
		s.column("a", 10, 0, 0, 1, 1, 1, 0.5)
		s.column("b", 10, 3, 0, 1, 1, 1, 0.5)
		do(s)
		if _, err := NewAnalysis(&s.Group, 0); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%v, want it to say %s", err, want)
		}
	}
	g := &Group{Blocks: []Block{{}}, Contacts: []Contact{{Of: 0, On: Ground, Points: point}}}
	if _, err := NewAnalysis(g, math.NaN()); !errors.Is(err, ErrValue) {
		t.Errorf("align: %v", err)
	}
	a, err := NewAnalysis(g, 0)
	if err != nil {
		t.Fatal(err)
	}
	for _, l := range []*Loads{
		{Dead: []Acting{{Block: 1}}},
		{Live: []Acting{{Block: Ground}}},
		{Dead: []Acting{{Block: 0, Force: Force{At: Vec{math.NaN()}}}}},
		{Live: []Acting{{Block: 0, Force: Force{F: Vec{math.Inf(1)}}}}},
	} {
		if _, err := a.Solve(l, AllLimits); !errors.Is(err, ErrGroup) && !errors.Is(err, ErrValue) {
			t.Errorf("%+v: %v", l, err)
		}
		if _, err := a.Carries(l, 1); !errors.Is(err, ErrGroup) && !errors.Is(err, ErrValue) {
			t.Errorf("%+v: %v", l, err)
		}
	}
	if _, err := a.Solve(&Loads{}, limits); !errors.Is(err, ErrValue) {
		t.Errorf("limit: %v", err)
	}
	if _, err := a.Carries(&Loads{}, -1); !errors.Is(err, ErrValue) {
		t.Errorf("factor: %v", err)
	}
}
