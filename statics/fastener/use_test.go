package fastener

import (
	"math"
	"strings"
	"testing"
)

// TestCombined: 30 N across and 40 N along, each of 100 N. The straight sum is 0.7; a screw by NDS 2018
// 12.4.1 is used to (30 x 0.3 + 40 x 0.4) / 50 = 0.5; by EN 1995-1-1 8.3.3 and 8.7.3 smooth nails are
// summed, the others squared: sqrt(0.3^2 + 0.4^2) = 0.5.
func TestCombined(t *testing.T) {
	across, along := Capacity{Value: 100, Mode: "across", Certainty: "published"}, Capacity{Value: 100, Mode: "along", Certainty: "computed"}
	for _, c := range []struct {
		code      Code
		kind      Kind
		share     float64
		certainty string
	}{
		{NDS, WoodScrew, 0.5, "computed"}, {NDS, LagScrew, 0.5, "computed"}, {NDS, Nail, 0.7, "computed"}, {NDS, RingNail, 0.7, "computed"}, {NDS, Bolt, 0.7, noSource},
		{EN1995, WoodScrew, 0.5, fromMemory}, {EN1995, RingNail, 0.5, fromMemory}, {EN1995, Nail, 0.7, fromMemory}, {EN1995, Bolt, 0.5, fromMemory},
	} {
		j := Joint{Code: c.code, Fastener: Fastener{Kind: c.kind}}
		u, err := j.Compare(Demand{30, 40}, across, along)
		if err != nil {
			t.Fatal(err)
		}
		near(t, c.kind.String(), u.Capacity, 50/c.share)
		near(t, c.kind.String()+": step", u.Step.Value, c.share)
		if u.Demand != 50 || u.Mode != "combined: along" || u.Certainty != c.certainty || u.Lateral.Mode != "across" || u.Tension.Mode != "along" {
			t.Errorf("%s by %d: %+v", c.kind, c.code, u)
		}
		if u, err = j.Compare(Demand{40, 30}, across, along); err != nil || u.Mode != "combined: across" {
			t.Errorf("%s, %v", u.Mode, err)
		}
	}
	// Tension never helps: a screw that is weak across is judged by that alone.
	u, err := Joint{}.Compare(Demand{10, 60}, Capacity{Value: 10}, Capacity{Value: 1e4})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "weak across", u.Step.Value, 1)
	if u, err = (Joint{}).Compare(Demand{60, 10}, Capacity{Value: 1e4}, Capacity{Value: 10}); err != nil {
		t.Fatal(err)
	}
	near(t, "weak along", u.Step.Value, 1)
}

// TestOneAlone: what is not asked is neither computed nor told, and a capacity that just equals the demand
// carries it.
func TestOneAlone(t *testing.T) {
	across, along := Capacity{Value: 100, Mode: "across", Certainty: "published"}, Capacity{Value: 80, Mode: "along", Certainty: fromMemory}
	none := Capacity{Mode: "no capacity"}
	for _, c := range []struct {
		name           string
		d              Demand
		lateral, pull  Capacity
		want           float64
		mode           string
		certainty      string
		holds, exists  bool
		haveLat, haveT bool
	}{
		{"across", Demand{100, 0}, across, along, 100, "across", "published", true, true, true, false},
		{"along", Demand{0, 80}, across, along, 80, "along", fromMemory, true, true, false, true},
		{"a little more", Demand{0, 80.0001}, across, along, 80, "along", fromMemory, false, true, false, true},
		{"nothing", Demand{}, across, along, 0, "nothing is asked", "", true, true, false, false},
		{"across, of what does not hold along", Demand{50, 0}, across, none, 100, "across", "published", true, true, true, false},
		{"both, of what does not hold along", Demand{50, 1}, across, none, 0, "no capacity", "published", false, false, true, true},
		{"both, of what does not hold across", Demand{1, 50}, none, along, 0, "no capacity", fromMemory, false, false, true, true},
		{"less than a millionth of a newton is none", Demand{50, 0}, Capacity{Value: 0.9e-6, Mode: "next to nothing"}, none, 0, "next to nothing", "", false, false, true, false},
	} {
		u, err := Joint{}.Compare(c.d, c.lateral, c.pull)
		if err != nil {
			t.Fatal(err)
		}
		_, exists := u.Utilisation()
		if u.Capacity != c.want || u.Mode != c.mode || u.Certainty != c.certainty || u.Holds() != c.holds || exists != c.exists || u.Step.Formula != "" {
			t.Errorf("%s: %+v, holds %v, a share exists: %v", c.name, u, u.Holds(), exists)
		}
		if (u.Lateral.Mode != "") != c.haveLat || (u.Tension.Mode != "") != c.haveT {
			t.Errorf("%s: capacities %q and %q", c.name, u.Lateral.Mode, u.Tension.Mode)
		}
	}
	// A row without its spacing has no lateral value; asked to hold a pull alone, it does.
	j := inSPF(t, of(t, Bolt, "1/2", 0))
	j.Fastener.Washer.OD, j.Count, j.InRow = 0.04, 3, 3
	if u, err := j.Check(Demand{Tension: 100}); err != nil || !u.Holds() {
		t.Errorf("%+v, %v", u, err)
	}
	if _, err := j.Check(Demand{Lateral: 1, Tension: 100}); err == nil {
		t.Error("a row without spacing has a lateral value")
	}
	// And a bolt without a washer is asked to carry across alone.
	j = inSPF(t, of(t, Bolt, "1/2", 0))
	j.Side.FcPerp = 0
	if u, err := j.Check(Demand{Lateral: 100}); err != nil || !u.Holds() {
		t.Errorf("%+v, %v", u, err)
	}
}

// TestCompareRange: demands up to 1 GN, capacities up to a thousand times that, nothing below 0.
func TestCompareRange(t *testing.T) {
	some := Capacity{Value: 1e12}
	for _, c := range []struct {
		name  string
		d     Demand
		v, w  Capacity
		taken bool
	}{
		{"1 GN across", Demand{1e9, 0}, some, some, true},
		{"1.1 GN across", Demand{1.1e9, 0}, some, some, false},
		{"1.1 GN along", Demand{0, 1.1e9}, some, some, false},
		{"across, below 0", Demand{-1, 0}, some, some, false},
		{"along, below 0", Demand{0, -1}, some, some, false},
		{"capacity 1.1 TN", Demand{1, 0}, Capacity{Value: 1.1e12}, some, false},
		{"capacity below 0", Demand{1, 0}, Capacity{Value: -1}, some, false},
		{"capacity along 1.1 TN", Demand{1, 0}, some, Capacity{Value: 1.1e12}, false},
		{"capacity along below 0", Demand{1, 0}, some, Capacity{Value: -1}, false},
	} {
		if _, err := (Joint{}).Compare(c.d, c.v, c.w); (err == nil) != c.taken {
			t.Errorf("%s: %v", c.name, err)
		}
	}
}

// TestTotalIsShared: what acts on a joint is shared alike by its fasteners.
func TestTotalIsShared(t *testing.T) {
	j := inSPF(t, of(t, WoodScrew, "#10", 2.5*inch))
	for _, count := range []int{0, 1, 4} {
		j.Count = count
		u, err := j.CheckTotal(Total{Lateral: 400, Tension: 300})
		if err != nil {
			t.Fatal(err)
		}
		near(t, "demand on each", u.Demand, 500/math.Max(1, float64(count)))
	}
}

// TestDoubt: a capacity is as certain as the least certain of what went into it, and an unknown word counts
// as no source.
func TestDoubt(t *testing.T) {
	ranks := []string{"standard clause as reproduced in a copy", "published in a table", "computed from a formula", fromMemory, noSource}
	for i, a := range ranks {
		for k, b := range ranks {
			var c Capacity
			c.doubt(a)
			c.doubt(b)
			c.doubt("")
			if want := ranks[max(i, k)]; c.Certainty != want {
				t.Errorf("%q and %q give %q", a, b, c.Certainty)
			}
			// Of two alike the first is named.
			if c.doubt(ranks[max(i, k)] + ", another"); i == k && c.Certainty != a {
				t.Errorf("%q gives way to another of its rank: %q", a, c.Certainty)
			}
		}
	}
	// Screw, steel and red oak are all of the standard as it was reproduced.
	sure := inSPF(t, of(t, WoodScrew, "#10", 2.5*inch))
	sure.Side.Material = material(t, "steel")
	sure.Main.Material = material(t, "red oak")
	for name, change := range map[string]func(*Joint){
		"fastener": func(j *Joint) { j.Fastener.Certainty = noSource }, "side": func(j *Joint) { j.Side.Certainty = noSource }, "main": func(j *Joint) { j.Main.Certainty = noSource },
	} {
		for code := NDS; code <= EN1995; code++ {
			j := sure
			j.Code, j.Main.Density, j.Fastener.Fu = code, 500, 4e8
			change(&j)
			if c, err := j.Lateral(); err != nil || c.Certainty != noSource {
				t.Errorf("%s without a source: %q, %v", name, c.Certainty, err)
			}
		}
	}
	if c, err := sure.Lateral(); err != nil || !strings.HasPrefix(c.Certainty, "standard clause") {
		t.Errorf("%q, %v", c.Certainty, err)
	}
}

// TestRule: short by more than rounding is broken; the first broken rule that voids is told.
func TestRule(t *testing.T) {
	for has, broken := range map[float64]bool{0.0199: true, 0.02 * (1 - 1e-8): true, 0.02 * (1 - 1e-10): false, 0.02: false, 0.03: false} {
		r := Rule{What: "edge", Has: has, Needs: 0.02, Known: true}
		if r.Broken() != broken {
			t.Errorf("%g of 0.02 m, broken: %v", has, r.Broken())
		}
	}
	short := Rule{What: "edge", Has: 0.0125, Needs: 0.02, Known: true, Source: "advice"}
	if short.String() != "edge is 12.5 mm, needs 20 mm" {
		t.Error(short)
	}
	deadly := Rule{What: "end", Has: 0.01, Needs: 0.07, Known: true, Voids: true, Source: "clause"}
	for _, rules := range [][]Rule{{short, deadly}, {deadly, short}} {
		c := Capacity{Value: 5, Reference: 4, Mode: "bends", Source: "formula", Rules: rules}
		c.finish()
		if c.Value != 0 || c.Reference != 0 || c.Mode != "no capacity: end is 10 mm, needs 70 mm" || c.Source != "clause" {
			t.Errorf("%+v", c)
		}
	}
	c := Capacity{Value: 5, Reference: 4, Mode: "bends", Source: "formula", Rules: []Rule{short}}
	if c.finish(); c.Value != 5 || c.Mode != "bends" || c.Source != "formula" {
		t.Errorf("advice that is not kept took the capacity: %+v", c)
	}
}
