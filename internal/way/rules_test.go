package way_test

import (
	"encoding/csv"
	"math"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"

	"galefast/internal/way"
)

// The figures are those that their sources print, in the units of the test's file.
func TestPublishedFigures(t *testing.T) {
	file, err := os.Open("../../testdata/reference/way.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	rows, err := csv.NewReader(file).ReadAll()
	if err != nil || len(rows) < 20 {
		t.Fatalf("%d rows, %v", len(rows), err)
	}
	units := map[string]float64{"": 1, "mm": 0.001, "m": 1, "kg": 1, "kW": 1000}
	for _, row := range rows[1:] {
		family, name, text, unit, source := row[1], row[2], row[4], row[5], row[6]
		of, err := strconv.ParseFloat(row[3], 64)
		if err != nil {
			t.Fatal(err)
		}
		want, err := strconv.ParseFloat(text, 64)
		if err != nil {
			t.Fatal(err)
		}
		si, known := units[unit]
		if !known || source == "" || row[7] == "" {
			t.Fatalf("row %v", row)
		}
		_, decimals, _ := strings.Cut(text, ".")
		half := 0.5*math.Pow(10, -float64(len(decimals))) + 1e-9
		if r, ok := way.Find(family, name, of); !ok || math.Abs(r.Value/si-want) > half {
			t.Errorf("%s, %s of %g: %g %s, want %s (%s; %s)", family, name, of, r.Value/si, unit, text, source, row[7])
		}
	}
}

// Every row can be looked up, names its source and how well it is known, and both families
// answer every question.
func TestRules(t *testing.T) {
	names := map[string][]string{}
	last := map[string]float64{}
	for _, r := range way.Rules() {
		if r.Clause == "" || r.Source == "" || !(r.Value >= 0) || math.IsInf(r.Value, 0) {
			t.Errorf("%+v", r)
		}
		ok := r.Certainty == "common practice, no source" || r.Certainty == "from memory"
		for _, known := range []string{"standard clause as reproduced in ", "published in ", "computed from "} {
			ok = ok || strings.HasPrefix(r.Certainty, known) && len(r.Certainty) > len(known)
		}
		if !ok {
			t.Errorf("%s of %s: certainty %q", r.Name, r.Family, r.Certainty)
		}
		if !slices.Contains(names[r.Family], r.Name) {
			names[r.Family] = append(names[r.Family], r.Name)
			last[r.Family+r.Name] = -1
		}
		if r.UpTo <= last[r.Family+r.Name] {
			t.Errorf("%s of %s up to %g can never be found", r.Name, r.Family, r.UpTo)
		}
		last[r.Family+r.Name] = r.UpTo
		if got, found := way.Find(r.Family, r.Name, math.Min(r.UpTo, 1e9)); !found || got != r {
			t.Errorf("looking up %+v gives %+v", r, got)
		}
	}
	if len(names) != 2 || !slices.Equal(names["us"], names["metric"]) {
		t.Errorf("families and their rules: %v", names)
	}
	if r, ok := way.Find("us", "lamp distance", 501); ok {
		t.Errorf("a lamp beyond the table has %+v", r)
	}
}
