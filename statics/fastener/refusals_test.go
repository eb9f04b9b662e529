package fastener

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"
)

// TestJointRefusals spoils one thing of a joint at a time: what no formula covers is an error that
// names it.
func TestJointRefusals(t *testing.T) {
	screw, nail, bolt := of(t, WoodScrew, "#10", 2.5*inch), of(t, Nail, "10d", 3*inch), of(t, Bolt, "3/8", 0)
	european := func(j *Joint) { j.Code, j.Side.Density, j.Main.Density = EN1995, 350, 350 }
	for _, c := range []struct {
		fastener Fastener
		spoil    func(*Joint)
		says     string
	}{
		{screw, func(j *Joint) { j.Fastener.Kind = Bolt + 1 }, "no kind 5"},
		{screw, func(j *Joint) { j.Fastener.Kind = -1 }, "no kind -1"},
		{screw, func(j *Joint) { j.Code = EN1995 + 1 }, "no code"},
		{screw, func(j *Joint) { j.Service.Duration = Impact + 1 }, "unknown service"},
		{screw, func(j *Joint) { j.Service.Duration = -1 }, "unknown service"},
		{screw, func(j *Joint) { j.Service.Moisture = WetWhenMade + 1 }, "unknown service"},
		{screw, func(j *Joint) { j.Double = true }, "double shear is for bolts"},
		{screw, func(j *Joint) { j.ToeNailed = true }, "is not toe-nailed"},
		{bolt, func(j *Joint) { j.ToeNailed = true }, "is not toe-nailed"},
		{nail, func(j *Joint) { j.ToeNailed = true }, ""},
		{screw, func(j *Joint) { j.Count = -1 }, "-1 fasteners"},
		{screw, func(j *Joint) { j.Count, j.InRow = 2, 3 }, "3 in a row"},
		{screw, func(j *Joint) { j.InRow = -1 }, "-1 in a row"},
		{screw, func(j *Joint) { j.Count = 2e6 }, "2000000 fasteners"},
		{screw, func(j *Joint) { j.Main.Metal = true }, "into metal is not covered"},
		{screw, func(j *Joint) { j.Fastener.Fyb = 1e5 }, "F_yb"},
		{screw, func(j *Joint) { j.Fastener.D = math.NaN() }, "diameter"},
		{screw, func(j *Joint) { j.Side.Thickness = 0 }, "thickness"},
		{screw, func(j *Joint) { j.Side.Metal, j.Side.Fe = true, 0 }, "F_e"},
		{screw, func(j *Joint) { j.Main.G = 0.8 }, "specific gravity"},
		{screw, func(j *Joint) { european(j); j.Main.Density = 50 }, "density"},
		{screw, func(j *Joint) { european(j); j.Fastener.Fu = 0 }, "F_u"},
		{bolt, func(j *Joint) { european(j); j.Fastener.D, j.Fastener.Root = 0.035, 0.03 }, "bolt diameter"},
		{bolt, func(j *Joint) { european(j); j.Main.Metal, j.Main.Fe = true, 1e8 }, "main member of metal"},
		{bolt, func(j *Joint) { j.Count, j.InRow, j.Main.E, j.Main.Area = 3, 3, 1e10, 0.01 }, "area of the side member"},
		{bolt, func(j *Joint) { j.Count, j.InRow, j.Side.E, j.Side.Area = 3, 3, 1e10, 0.01 }, "area of the main member"},
		{bolt, func(j *Joint) {
			j.Count, j.InRow = 3, 3
			j.Side.E, j.Side.Area, j.Main.E, j.Main.Area = 1e10, 0.01, 1e10, 0.01
		}, "needs their spacing"},
		{bolt, func(j *Joint) { european(j); j.Count, j.InRow = 3, 3 }, "need their spacing"},
	} {
		j := inSPF(t, c.fastener)
		c.spoil(&j)
		got, err := j.Lateral()
		if c.says == "" {
			if err != nil {
				t.Errorf("%s: %v", c.fastener.Kind, err)
			}
			continue
		}
		if err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("want an error that says %q, got %v and %g N", c.says, err, got.Value)
		}
		if use, err := j.Check(Demand{Lateral: 10}); err == nil {
			t.Errorf("%s: checked with %g N", c.says, use.Capacity)
		}
	}
	if _, err := inSPF(t, bolt).Withdrawal(); err == nil || !strings.Contains(err.Error(), "no withdrawal") {
		t.Errorf("a bolt pulls out of its hole: %v", err)
	}
	if c, err := inC24(t, of(t, WoodScrew, "6 mm", 0.08), 0.02, 0.09).endGrained().Withdrawal(); err != nil || c.Value != 0 || !strings.Contains(c.Mode, "along the grain") {
		t.Errorf("a screw along the grain holds %g N, %s, %v; EN 1995-1-1 8.7.2(1)", c.Value, c.Mode, err)
	}
	headless := inSPF(t, nail)
	headless.Fastener.Head = 0
	if c, err := headless.PullThrough(); err != nil || c.Value != 0 || c.Mode != "no capacity: no head" {
		t.Errorf("a nail without a head holds %g N, %s, %v", c.Value, c.Mode, err)
	}
	if said := fmt.Sprint(Kind(9), Duration(Impact+1), Duration(-1), Permanent, Impact, Moisture(9)); said != "Kind(9) Duration(6) Duration(-1) permanent impact Moisture(9)" {
		t.Error(said)
	}
	unknown := Rule{What: "end", Needs: 0.07}
	if unknown.Broken() || unknown.String() != "end must be 70 mm (unknown)" {
		t.Errorf("%s, broken: %v", unknown, unknown.Broken())
	}
}

// TestJointRange moves one number of a joint at a time to either end of its range, and past it.
func TestJointRange(t *testing.T) {
	screw, bolt := of(t, WoodScrew, "#10", 2.5*inch), of(t, Bolt, "3/8", 0)
	for _, c := range []struct {
		what      string
		f         Fastener
		set       func(*Joint, float64)
		low, high float64
		counted   bool // in whole numbers
	}{
		{"diameter", bolt, func(j *Joint, v float64) { j.Fastener.D, j.Fastener.Root = v, 0.5*v }, 1e-3, 0.05, false},
		{"root over diameter", screw, func(j *Joint, v float64) { j.Fastener.Root = v * j.Fastener.D }, 0.4, 1, false},
		{"head", screw, func(j *Joint, v float64) { j.Fastener.Head = v }, 0, 0.2, false},
		{"tip", screw, func(j *Joint, v float64) { j.Fastener.Tip = v }, 0, 0.1, false},
		{"F_yb", screw, func(j *Joint, v float64) { j.Fastener.Fyb = v }, 1e6, 1e10, false},
		{"F_u", screw, func(j *Joint, v float64) { j.Fastener.Fu = v }, 0, 1e10, false},
		{"f_ax,k", screw, func(j *Joint, v float64) { j.Fastener.FaxK = v }, 0, 1e9, false},
		{"f_head,k", screw, func(j *Joint, v float64) { j.Fastener.FheadK = v }, 0, 1e9, false},
		{"declared density", screw, func(j *Joint, v float64) { j.Fastener.RhoA = v }, 0, 2e3, false},
		{"washer", bolt, func(j *Joint, v float64) { j.Fastener.Washer.OD = v }, 0, 1, false},
		{"spacing", screw, func(j *Joint, v float64) { j.Spacing = v }, 0, 100, false},
		{"spacing of rows", screw, func(j *Joint, v float64) { j.RowSpacing = v }, 0, 100, false},
		{"temperature", screw, func(j *Joint, v float64) { j.Service.Celsius = v }, -100, 65.5555555, false},
		{"length", screw, func(j *Joint, v float64) { j.Fastener.Length, j.Fastener.Thread = v, 0.5*v }, 1e-3, 1, false},
		{"thread", screw, func(j *Joint, v float64) { j.Fastener.Thread = v }, 0, 2.5 * inch, false},
		{"side thickness", screw, func(j *Joint, v float64) { j.Side.Thickness = v }, 1e-4, 10, false},
		{"main thickness", screw, func(j *Joint, v float64) { j.Main.Thickness = v }, 1e-4, 10, false},
		{"angle", screw, func(j *Joint, v float64) { j.Main.Angle = v }, 0, math.Pi / 2, false},
		{"area", screw, func(j *Joint, v float64) { j.Main.Area = v }, 0, 100, false},
		{"end", screw, func(j *Joint, v float64) { j.Main.End = v }, 0, 1e3, false},
		{"edge", screw, func(j *Joint, v float64) { j.Main.Edge = v }, 0, 1e3, false},
		{"F_c-perp", screw, func(j *Joint, v float64) { j.Main.FcPerp = v }, 0, 1e9, false},
		{"f_c,90,k", screw, func(j *Joint, v float64) { j.Main.Fc90 = v }, 0, 1e9, false},
		{"E", screw, func(j *Joint, v float64) { j.Main.E = v }, 0, 1e12, false},
		{"specific gravity", screw, func(j *Joint, v float64) { j.Main.G = v }, 0.31, 0.73, false},
		{"density, by NDS", screw, func(j *Joint, v float64) { j.Main.Density = v }, 0, 3e4, false},
		{"density, by EN 1995", screw, func(j *Joint, v float64) { j.Code, j.Side.Density, j.Main.Density = EN1995, 350, v }, 100, 1200, false},
		{"specific gravity, by EN 1995", screw, func(j *Joint, v float64) { j.Code, j.Side.Density, j.Main.Density, j.Main.G = EN1995, 350, 350, v }, 0, 30, false},
		{"F_e of wood", screw, func(j *Joint, v float64) { j.Main.Fe = v }, 0, 1e10, false},
		{"F_e of steel", screw, func(j *Joint, v float64) { j.Side.Metal, j.Side.Fe = true, v }, 1e6, 1e10, false},
		{"fasteners", screw, func(j *Joint, v float64) { j.Count = int(math.Floor(v)) }, 0, 1e6, true},
		{"kinds", screw, func(j *Joint, v float64) {
			j.Fastener.Kind = Kind(math.Floor(v))
			j.Fastener.Root = j.Fastener.D
		}, 0, 4, true},
		{"codes", screw, func(j *Joint, v float64) { j.Code, j.Side.Density, j.Main.Density = Code(math.Floor(v)), 350, 350 }, 0, 1, true},
		{"durations", screw, func(j *Joint, v float64) { j.Service.Duration = Duration(math.Floor(v)) }, 0, 5, true},
		{"moistures", screw, func(j *Joint, v float64) { j.Service.Moisture = Moisture(math.Floor(v)) }, 0, 2, true},
	} {
		below, above := c.low-1e-3*math.Abs(c.low)-1e-9, c.high*(1+1e-6)
		if c.counted {
			above = c.high + 1
		}
		for v, taken := range map[float64]bool{c.low: true, c.high: true, below: false, above: false} {
			j := inSPF(t, c.f)
			j.Fastener.Fu = 4e8
			c.set(&j, v)
			if got, err := j.Lateral(); (err == nil) != taken {
				t.Errorf("%s %g: %g N, %v", c.what, v, got.Value, err)
			}
		}
	}
}

func (j Joint) endGrained() Joint {
	j.EndGrain = true
	return j
}

// TestNamesTheEnd: an error names the end of the range that was passed.
func TestNamesTheEnd(t *testing.T) {
	for _, c := range []struct {
		err  error
		want string
	}{
		{errorOf(InPlane(nil, Point{1, 0}, Point{}, 0)), "fasteners is 0, limit 1 "},
		{errorOf(InPlane(make([]Point, 10001), Point{1, 0}, Point{}, 0)), "fasteners is 1e+04, limit 1e+04 "},
		{errorOf(Leaf{Hinges: []float64{0}}.Reactions(nil)), "hinges is 1, limit 2 "},
		{errorOf(Leaf{Hinges: make([]float64, 101)}.Reactions(nil)), "hinges is 101, limit 100 "},
		{errorOf(GroupAction(0, 0.1, 1e7, 1e7, 1e6)), "fasteners in a row is 0, limit 1 "},
		{errorOf(GroupAction(20000, 0.1, 1e7, 1e7, 1e6)), "fasteners in a row is 2e+04, limit 1e+04 "},
		{errorOf(Of(WoodScrew, "4 mm", 0.01)), "wood screw length in m is 0.01, limit 0.016 "},
		{errorOf(Of(WoodScrew, "4 mm", 1.2)), "wood screw length in m is 1.2, limit 1 "},
		{errorOf(BendingYield(0.05)), "diameter in m is 0.05, limit 0.0254 "},
		{errorOf(BendingYield(0.001)), "diameter in m is 0.001, limit 0.002515 "},
	} {
		if c.err == nil || !strings.Contains(c.err.Error(), c.want) {
			t.Errorf("%v, want %q", c.err, c.want)
		}
	}
}

// TestGroupRefusals: what a group of fasteners cannot be asked.
func TestGroupRefusals(t *testing.T) {
	for name, share := range map[string]func() error{
		"no fasteners":      func() error { _, err := InPlane(nil, Point{1, 0}, Point{}, 0); return err },
		"a place at no end": func() error { _, err := InPlane([]Point{{math.Inf(1), 0}}, Point{1, 0}, Point{}, 0); return err },
		"an endless force":  func() error { _, err := InPlane([]Point{{1, 0}}, Point{math.NaN(), 0}, Point{1, 0}, 0); return err },
		"too many bolts": func() error {
			_, err := Section{Depth: 1, Bolts: make([]float64, maxBolts+1)}.Open(1, 0, 0)
			return err
		},
		"a bolt outside":      func() error { _, err := Section{Depth: 1, Bolts: []float64{2}}.Open(1, 0, 0); return err },
		"a row without end":   func() error { _, err := GroupAction(1e6, 0.1, 1e6, 1e6, 1e6); return err },
		"a place far outside": func() error { return Plate{}.validate(Vec{}, Vec{1e9, 0, 0}, Vec{}) },
		"a screw above the plate": func() error {
			return Plate{Width: 0.1, Height: 0.1, Out: Vec{1, 0, 0}, Up: Vec{0, 0, 1}, Screws: []Point{{0.05, 0.2}}}.validate(Vec{}, Vec{}, Vec{})
		},
	} {
		err := share()
		var l *LimitError
		if !errors.As(err, &l) {
			t.Errorf("%s: %v", name, err)
		}
	}
	if _, err := (Section{Depth: 1, Bolts: []float64{0}}).Open(0, 0, 100); err == nil || !strings.Contains(err.Error(), "no bolt holds") {
		t.Errorf("a bolt on the edge about which the section opens: %v", err)
	}
	// A force through the one place where all fasteners are is carried in equal parts.
	shares, err := InPlane([]Point{{1, 1}, {1, 1}}, Point{6, -4}, Point{1, 1}, 0)
	if err != nil || shares[0] != (Point{3, -2}) || shares[1] != shares[0] {
		t.Errorf("%v, %v", shares, err)
	}
	// A row that is stiff beside its members shares alike.
	if cg, err := GroupAction(4, 1e-3, 1e15, 1e15, 1); err != nil || cg != 1 {
		t.Errorf("C_g of a rigid row is %g, %v", cg, err)
	}
}

// TestSectionApart: a section that is pulled off square parts everywhere, every bolt alike; off
// square the shares go straight about the middle of the bolts, T = N/n + M y / sum y^2.
func TestSectionApart(t *testing.T) {
	s := Section{Depth: 0.4, Bolts: []float64{0.1, 0.3}}
	for _, c := range []struct{ at, first, second float64 }{{0.2, 500, 500}, {0.22, 400, 600}} {
		o, err := s.Open(1000, c.at, 0)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "first bolt", o.Bolts[0], c.first)
		near(t, "second bolt", o.Bolts[1], c.second)
		if o.Lever != "faces part, every bolt pulls" {
			t.Error(o.Lever)
		}
	}
	if o, err := s.Open(0, 0, 0); err != nil || o.Compression != 0 || o.Bolts[0] != 0 {
		t.Errorf("nothing is asked: %+v, %v", o, err)
	}
}

// TestUtilisation: of nothing, of what has no capacity, and of half.
func TestUtilisation(t *testing.T) {
	for _, c := range []struct {
		use    Use
		want   float64
		exists bool
		holds  bool
	}{{Use{}, 0, true, true}, {Use{Demand: 5}, 0, false, false}, {Use{Demand: 5, Capacity: 10}, 0.5, true, true}, {Use{Demand: 20, Capacity: 10}, 2, true, false}} {
		if got, exists := c.use.Utilisation(); got != c.want || exists != c.exists || c.use.Holds() != c.holds {
			t.Errorf("%+v: %g, %v, holds %v", c.use, got, exists, c.use.Holds())
		}
	}
	if _, err := (Joint{}).Compare(Demand{Lateral: math.NaN()}, Capacity{}, Capacity{}); err == nil {
		t.Error("a demand that is no number was compared")
	}
	short := Rule{What: "edge", Has: 1, Needs: 2, Known: true}
	use := Use{Lateral: Capacity{Rules: []Rule{short}}, Tension: Capacity{Rules: []Rule{short, {Known: true}}}}
	if n := len(use.Broken()); n != 2 {
		t.Errorf("%d rules broken, want one of either capacity", n)
	}
}
