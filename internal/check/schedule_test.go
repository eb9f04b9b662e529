package check_test

import (
	"fmt"
	"testing"
)

// Advice in one unit must not be counted in another that lies in the same place.
func TestScheduleKeepsUnitsApart(t *testing.T) {
	base := place{friction: 0.4, terrain: "C", open: -1, alone: 15, lean: 100, at: 1}.toml() +
		column{name: "column", foot: [2]float64{0.6, 0.6}, sections: []section{
			{name: "plinth", shape: "square", width: 0.6, height: 1, mass: 30},
			{name: "pillar", shape: "square", width: 0.6, height: 1, mass: 10}}}.toml() +
		"[[ballast]]\nin = \"column\"\nsection = \"pillar\"\nmass = \"1 kg\"\ncount = 1\n"
	r := runSite(t, base+"[[ballast]]\nin = \"column\"\nsection = \"plinth\"\nmass = \"20 kg\"\ncount = 1\n")
	kg := 0
	for _, row := range r.Ballast.Rows {
		if row.Section == "plinth" {
			kg += int(*row.MassKg + 0.5)
		}
	}
	with := func(kg int) []string {
		return failing(runSite(t, fmt.Sprintf("%s[[ballast]]\nin = \"column\"\nsection = \"plinth\"\nmass = \"1 kg\"\ncount = %d\n", base, kg)))
	}
	if short := with(kg); len(short) > 0 {
		t.Errorf("with the %d kg of the schedule in the plinth these fail: %v", kg, short)
	}
	if short := with(kg - 1); len(short) == 0 {
		t.Errorf("the schedule asks for %d kg in the plinth, and %d kg are enough: %+v", kg, kg-1, r.Ballast.Rows)
	}
}
