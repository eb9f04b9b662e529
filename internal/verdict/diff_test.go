package verdict

import (
	"testing"

	_ "galefast/internal/steady"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

func reportOf(checks ...Check) *Report {
	r := &Report{Checks: checks}
	r.Count()
	return r
}

func check(id string, needs, has float64) Check {
	c := Check{ID: id, Sense: AtLeast, Unit: "1", Needs: &needs, Has: &has}
	c.Decide()
	return c
}

func TestCompareChecks(t *testing.T) {
	unchecked := Check{ID: "c", Result: Unchecked}
	for _, c := range []struct {
		name   string
		a, b   *Report
		change string // of the only change; empty for none
		worse  bool
	}{
		{"the same", reportOf(check("c", 1.5, 2)), reportOf(check("c", 1.5, 2)), "", false},
		{"less than the last digit", reportOf(check("c", 1.5, 2.001)), reportOf(check("c", 1.5, 2.004)), "", false},
		{"a number", reportOf(check("c", 1.5, 2)), reportOf(check("c", 1.5, 1.6)), Moved, false},
		{"what it needs", reportOf(check("c", 1.5, 2)), reportOf(check("c", 1.2, 2)), Moved, false},
		{"cured", reportOf(check("c", 1.5, 1)), reportOf(check("c", 1.5, 2)), Turned, false},
		{"spoilt", reportOf(check("c", 1.5, 2)), reportOf(check("c", 1.5, 1)), Turned, true},
		{"fails still", reportOf(check("c", 1.5, 1)), reportOf(check("c", 1.5, 0.5)), Moved, false},
		{"fails once it is checked", reportOf(unchecked), reportOf(check("c", 1.5, 1)), Turned, true},
		{"no longer checked", reportOf(check("c", 1.5, 1)), reportOf(unchecked), Turned, false},
		{"new and fails", reportOf(), reportOf(check("c", 1.5, 1)), Appeared, true},
		{"new and holds", reportOf(), reportOf(check("c", 1.5, 2)), Appeared, false},
		{"gone", reportOf(check("c", 1.5, 1)), reportOf(), Vanished, false},
	} {
		d := Compare(c.a, c.b)
		got := ""
		for _, x := range d.Checks {
			got += x.Change
		}
		if got != c.change || d.Worse != c.worse || d.Same() != (c.change == "") {
			t.Errorf("%s: %q, worse %v; want %q, %v", c.name, got, d.Worse, c.change, c.worse)
		}
	}
}

func TestCompareBallastAndLimits(t *testing.T) {
	n, kg := func(v int) *int { return &v }, func(v float64) *float64 { return &v }
	a, b := &Report{}, &Report{}
	a.Ballast = Ballast{TotalKg: 40, Rows: []BallastRow{{Piece: "p", Section: "s", Unit: "u", Count: n(2), MassKg: kg(40)}, {Piece: "q", Section: "s", Unit: "u", Count: n(1), MassKg: kg(20)}}}
	b.Ballast = Ballast{TotalKg: 60, Rows: []BallastRow{{Piece: "p", Section: "s", Unit: "u", Count: n(3), MassKg: kg(60)}, {Piece: "q", Section: "s", Unit: "u"}}}
	a.Limits.Rows = []LimitRow{{Piece: "p", State: "open", GustMs: kg(10)}, {Piece: "p", State: "closed", GustMs: kg(12)}, {Piece: "q", State: "open", GustMs: kg(9)}}
	b.Limits.Rows = []LimitRow{{Piece: "p", State: "open", GustMs: kg(10.04)}, {Piece: "p", State: "closed", GustMs: kg(13)}, {Piece: "r", State: "open"}}
	d := Compare(a, b)
	want := []BallastChange{{"p", "s", "u", n(2), n(3), kg(40), kg(60)}, {"q", "s", "u", n(1), nil, kg(20), nil}}
	if diff := cmp.Diff(want, d.Ballast); diff != "" {
		t.Error(diff)
	}
	// r is new and has no limit: there is nothing to tell of it.
	limits := []LimitChange{{"p", "closed", kg(12), kg(13)}, {"q", "open", kg(9), nil}}
	if diff := cmp.Diff(limits, d.Limits); diff != "" {
		t.Error(diff)
	}
	if d.WasKg != 40 || d.IsKg != 60 {
		t.Errorf("%g kg, was %g", d.IsKg, d.WasKg)
	}
}

// There and back: what is new one way is gone the other, and every check is told of once.
func TestCompareBothWays(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		draw := func(name string) *Report {
			return reportOf(rapid.SliceOfN(rapid.Custom(func(t *rapid.T) Check {
				return check(rapid.SampledFrom([]string{"a", "b", "c", "d"}).Draw(t, "id"), 1.5, float64(rapid.IntRange(1, 4).Draw(t, "has"))/2)
			}), 0, 6).Draw(t, name)...)
		}
		a, b := draw("a"), draw("b")
		there, back := Compare(a, b), Compare(b, a)
		count := func(d *Difference, change string) (n int) {
			for _, c := range d.Checks {
				if c.Change == change {
					n++
				}
			}
			return n
		}
		if count(there, Appeared) != count(back, Vanished) || count(there, Vanished) != count(back, Appeared) ||
			count(there, Turned) != count(back, Turned) || count(there, Moved) != count(back, Moved) {
			t.Fatalf("%+v\n%+v", there, back)
		}
		if len(a.Checks)-count(there, Vanished) != len(b.Checks)-count(there, Appeared) {
			t.Fatalf("checks are lost: %+v", there)
		}
		if !Compare(a, a).Same() {
			t.Fatal("a report differs from itself")
		}
	})
}
