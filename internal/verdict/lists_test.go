package verdict

import (
	"bytes"
	"encoding/json"
	"testing"
)

// TestFillLists: a record in which nothing was found has empty lists, none that is null, and
// filling takes nothing out of a list that holds something.
func TestFillLists(t *testing.T) {
	r := Report{Assumptions: []Assumption{{Text: "kept"}}, Cautions: []string{"always there"}}
	r.FillLists()
	text, err := json.Marshal(r)
	if err != nil {
		t.Fatal(err)
	}
	if bytes.Contains(text, []byte(":null")) {
		t.Errorf("a list is null: %s", text)
	}
	if len(r.Assumptions) != 1 || r.Assumptions[0].Text != "kept" {
		t.Errorf("%+v", r.Assumptions)
	}
}

func TestBearing(t *testing.T) {
	for _, c := range []struct {
		deg  float64
		want string
	}{{0, "N 000°"}, {11, "N 011°"}, {12, "NNE 012°"}, {90, "E 090°"}, {225, "SW 225°"}, {348, "NNW 348°"}, {349, "N 349°"}, {359.6, "N 000°"}} {
		if got := Bearing(&c.deg); got != c.want {
			t.Errorf("%g degrees: %s, want %s", c.deg, got, c.want)
		}
	}
	if got := Bearing(nil); got != "-" {
		t.Errorf("no direction: %s", got)
	}
}

// What leaks is told in hundredths of a milliampere, and what is not known as a dash.
func TestFiguresOfCurrents(t *testing.T) {
	for _, c := range []struct {
		needs, has         *float64
		wantNeeds, wantHas string
	}{
		{value(0.004), value(0.0031234), "0.00400", "0.00313"},
		{value(16), value(9.999), "16.00", "10.00"},
		{value(16), nil, "16.00", "-"},
		{nil, value(9.991), "-", "10.00"},
	} {
		check := Check{Sense: AtMost, Unit: "A", Needs: c.needs, Has: c.has}
		if needs, has := check.Figures(); needs != c.wantNeeds || has != c.wantHas {
			t.Errorf("%s of %s, want %s of %s", has, needs, c.wantHas, c.wantNeeds)
		}
	}
}
