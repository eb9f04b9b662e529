package verdict

import "testing"

// Lengths and masses are told in inches and pounds in a file of such units, and the record
// keeps its own.
func TestChecksInUnits(t *testing.T) {
	for _, c := range []struct {
		unit, units        string
		needs, has         float64
		wantNeeds, wantHas string
		wantUnit           string
	}{
		{"m", "us", 0.9144, 1.2192, "36.00", "48.00", "in"},
		{"m", "si", 0.9144, 1.2192, "0.91", "1.21", "m"},
		{"kg", "us", 0.45359237, 0.3, "1.00", "0.66", "lb"},
		{"1", "us", 1.5, 1.6, "1.50", "1.60", "1"},
		{"people", "us", 40, 240, "40", "240", "people"},
	} {
		check := Check{Sense: AtLeast, Unit: c.unit, Needs: value(c.needs), Has: value(c.has)}
		check.Decide()
		in := check.In(c.units)
		if needs, has := in.Figures(); needs != c.wantNeeds || has != c.wantHas || in.Unit != c.wantUnit {
			t.Errorf("%g of %g %s in %s: %s of %s %s, want %s of %s %s", c.has, c.needs, c.unit, c.units, has, needs, in.Unit, c.wantHas, c.wantNeeds, c.wantUnit)
		}
		if *check.Needs != c.needs || *check.Has != c.has || check.Unit != c.unit {
			t.Errorf("the record itself was changed: %+v", check)
		}
	}
	none := Check{Sense: AtMost, Unit: "1", Needs: value(0), Has: value(0)}
	none.Decide()
	if needs, has := none.Figures(); needs != "0.00" || has != "0.00" {
		t.Errorf("none of none is %s of %s", has, needs)
	}
}
