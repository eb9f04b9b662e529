package check_test

import (
	"fmt"
	"testing"
)

// A list with nothing in it is an empty list, not null.
func TestListsAreNeverNull(t *testing.T) {
	for name, r := range everySite(t) {
		for command, part := range parts(r) {
			out := decode(t, part)
			for list := range promised[command] {
				if list == "" {
					continue
				}
				if v, ok := out[list]; ok && v == nil {
					t.Errorf("%s: %s --json: %s is null, not an empty list", name, command, list)
				}
			}
		}
	}
}

// Where no number of units will do, there is no count and no mass: null, not nought.
func TestImpossibleBallastHasNoCount(t *testing.T) {
	r := runSite(t, place{friction: 0.05, terrain: "C", open: -1, alone: 60, lean: 0, at: 1}.toml()+
		column{name: "column", foot: [2]float64{0.2, 0.2}, sections: []section{{name: "plinth", shape: "square", width: 1, height: 3, mass: 10}}}.toml())
	out := decode(t, r.Ballast)
	rows, _ := out["rows"].([]any)
	for _, x := range rows {
		row := x.(map[string]any)
		if row["possible"] == false && (row["count"] != nil || row["mass_kg"] != nil) {
			t.Errorf("no ballast will do, and count is %v, mass_kg %v", row["count"], row["mass_kg"])
		}
	}
	if len(rows) == 0 {
		t.Error("no row")
	}
	fmt.Println(rows)
}
