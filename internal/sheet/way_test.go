package sheet_test

import (
	"encoding/json"
	"strings"
	"testing"

	"galefast/internal/quantity"
	"galefast/internal/sheet"
	"galefast/internal/verdict"
)

// The ways are printed in the units asked for, what there is rounded down.
func TestWays(t *testing.T) {
	r := examples(t)["apple-fair.toml"]
	for _, c := range []struct {
		system quantity.System
		want   []string
	}{
		// Between the plinths of 30 in, 9 ft apart: 78 in = 1.9812 m. The loose leaf of 40 in, with
		// half its 1 1/2 in, hangs 97 in east: 97 - sqrt(40² + 0.75²) - 15 = 41.99 in.
		{quantity.US, []string{"entrance  open        6 ft 6 in       3 ft  7 ft 2 in  6 ft 8 in      40       390", "entrance  loose   3 ft 5 7/8 in", "east pier  ", "3 ft 3 in"}},
		{quantity.SI, []string{"1.98 m", "1.06 m", "2.18 m", "2.03 m"}},
	} {
		got := text(t, view{"way", sheet.Way}, r, sheet.Style{System: c.system})
		for _, want := range c.want {
			if !strings.Contains(got, want) {
				t.Errorf("in %s the ways lack %q:\n%s", c.system, want, got)
			}
		}
	}
	barred := finish(t, "barred.toml", `[site]
friction = 0.5
gust_alone = "5 m/s"
[[column]]
name = "a"
at = ["0 m", "0 m"]
foot = ["1 m", "1 m"]
section = [{ name = "s", width = "1 m", height = "2 m", mass = "90 kg" }]
[[way]]
name = "w"
line = [["0.2 m", "-3 m"], ["0.2 m", "3 m"]]
`)
	if got := text(t, view{"way", sheet.Way}, barred, sheet.Style{System: quantity.SI}); !strings.Contains(got, "barred by a, s, 2.5 m along (200 mm east, -500 mm north)") {
		t.Errorf("a piece on the line:\n%s", got)
	}
}

// Programs read lists and not null where there is nothing.
func TestWaysAsJSON(t *testing.T) {
	for name, r := range examples(t) {
		var b strings.Builder
		if err := sheet.JSON(&b, r.Passage); err != nil {
			t.Fatal(err)
		}
		var got struct {
			Rows, Crossings, Reach, Checks []map[string]any
		}
		if err := json.Unmarshal([]byte(b.String()), &got); err != nil {
			t.Fatal(err)
		}
		if got.Rows == nil || got.Crossings == nil || got.Reach == nil || len(got.Checks) == 0 {
			t.Errorf("%s: %s", name, b.String())
		}
		for _, row := range got.Rows {
			for _, key := range []string{"width_m", "headroom_m", "from_m"} {
				if _, ok := row[key]; !ok {
					t.Errorf("%s: a row lacks %s", name, key)
				}
			}
			if row["between"] == nil {
				t.Errorf("%s: between is null", name)
			}
		}
	}
	none := verdict.Report{}
	none.FillLists()
	var b strings.Builder
	if err := sheet.JSON(&b, none.Passage); err != nil || strings.Contains(b.String(), "null") {
		t.Errorf("%v: %s", err, b.String())
	}
}
