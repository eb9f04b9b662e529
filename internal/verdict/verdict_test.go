package verdict

import (
	"slices"
	"testing"
)

func value(v float64) *float64 { return &v }

func TestDecide(t *testing.T) {
	for _, c := range []struct {
		sense      Sense
		needs, has *float64
		want       Result
	}{
		{AtLeast, value(1.5), value(1.5), Holds},
		{AtLeast, value(1.5), value(1.499999999), Fails},
		{AtLeast, value(1.5), value(2), Holds},
		{AtMost, value(3), value(3), Holds},
		{AtMost, value(3), value(3.0000001), Fails},
		{AtMost, value(3), value(0), Holds},
		{AtLeast, value(1.5), nil, Unchecked},
		{AtLeast, nil, value(1), Unchecked},
	} {
		check := Check{Sense: c.sense, Needs: c.needs, Has: c.has, Result: Unchecked}
		check.Decide()
		if check.Result != c.want {
			t.Errorf("%+v: %s, want %s", check, check.Result, c.want)
		}
	}
}

func TestCountAndFind(t *testing.T) {
	r := Report{Checks: []Check{{ID: "a", Result: Fails}, {ID: "b", Result: Holds}, {ID: "c", Result: Unchecked}, {ID: "d", Result: Holds}}}
	r.Count()
	r.Count() // counting again must not add
	if want := (Summary{Holds: 2, Fails: 1, Unchecked: 1}); r.Summary != want {
		t.Errorf("summary %+v, want %+v", r.Summary, want)
	}
	if c, ok := r.Find("c"); !ok || c != &r.Checks[2] {
		t.Errorf("Find(c) = %v, %v", c, ok)
	}
	if _, ok := r.Find("e"); ok {
		t.Error("found a check that is not there")
	}
}

// Failing checks come first, each group in the order of the report, and the report
// itself stays as it was.
func TestFailingFirst(t *testing.T) {
	checks := []Check{{ID: "1", Result: Holds}, {ID: "2", Result: Fails}, {ID: "3", Result: Holds}, {ID: "4", Result: Fails}}
	before := slices.Clone(checks)
	var order string
	for _, c := range FailingFirst(checks) {
		order += c.ID
	}
	if order != "2413" {
		t.Errorf("order %s, want 2413", order)
	}
	if !slices.EqualFunc(checks, before, func(a, b Check) bool { return a.ID == b.ID }) {
		t.Error("the report itself was reordered")
	}
}
