package check_test

import (
	"fmt"
	"strings"
	"testing"

	"galefast/internal/verdict"
)

// step is the step of the plan that begins with a word.
func step(t *testing.T, r *verdict.Report, word string) verdict.PlanStep {
	for _, s := range r.Limits.Plan {
		if strings.HasPrefix(s.Do, word) {
			return s
		}
	}
	t.Fatalf("the plan has no step %q: %+v", word, r.Limits.Plan)
	return verdict.PlanStep{}
}

// The public must be out before the weakest piece reaches its limit, whatever the
// order of the pieces in the file.
func TestPlanClearsBeforeTheWeakestPiece(t *testing.T) {
	mk := func(name string, x, mass float64) string {
		return column{name: name, at: [2]float64{x, 0}, foot: [2]float64{0.7, 0.7},
			sections: []section{{name: "plinth", shape: "square", width: 0.6, height: 2, mass: mass}}}.toml()
	}
	p := place{friction: 0.6, terrain: "C", open: 18, alone: 20, lean: 20, at: 1}
	for _, src := range []string{mk("heavy", 0, 150) + mk("light", 4, 60), mk("light", 0, 60) + mk("heavy", 4, 150)} {
		r := runSite(t, p.toml()+src)
		least := 18.0
		for _, row := range r.Limits.Rows {
			if row.State == "open" && row.GustMs != nil && *row.GustMs < least {
				least = *row.GustMs
			}
		}
		if got := step(t, r, "Clear").GustMs; !near(got, least, 1e-9) {
			t.Errorf("the plan clears at %.4f m/s, and the least limit with people inside is %.4f", got, least)
		}
	}
}

// Every piece that a leaning person alone pushes below its factors is named.
func TestPlanNamesEveryPieceThatFallsShortInStillAir(t *testing.T) {
	src := place{friction: 0.6, terrain: "C", open: 18, alone: 20, lean: 300, at: 1}.toml()
	for i, name := range []string{"a", "b"} {
		src += column{name: name, at: [2]float64{4 * float64(i), 0}, foot: [2]float64{0.7, 0.7},
			sections: []section{{name: "plinth", shape: "square", width: 0.6, height: 2, mass: 20}}}.toml()
	}
	if do := step(t, runSite(t, src), "Do not open").Do; !strings.Contains(do, "a, b") {
		t.Errorf("two columns fall short in still air; the plan says %q", do)
	}
}

func TestPlanWithoutOpenGust(t *testing.T) {
	p := place{friction: 0.6, terrain: "C", open: 0, alone: 20, lean: 1, at: 1}
	r := runSite(t, p.toml()+column{name: "a", foot: [2]float64{0.7, 0.7}, sections: []section{{name: "plinth", shape: "square", width: 0.6, height: 2, mass: 200}}}.toml())
	for _, s := range r.Limits.Plan {
		if strings.Contains(s.Do, "Do not open:  would") || strings.Contains(s.Do, "still air") {
			t.Errorf("nothing falls short in still air; the plan says %q", s.Do)
		}
	}
}

// columnWithLeaf is a column of a given foot with a wide leaf on its east face.
func columnWithLeaf(east, north, keeper string) string {
	return fmt.Sprintf(`
[[column]]
name = "column"
at = ["0 m", "0 m"]
foot = ["%s", "%s"]
tolerance = "0 %%"
section = [{ name = "pillar", width = "0.4 m", height = "2 m", mass = "150 kg" }]
[[gate]]
name = "leaf"
hung_on = "column"
face = "east"
opens = "north"
width = "1.5 m"
height = "1.8 m"
mass = "5 kg"
open = "90 deg"
keeper = { %s }
`, east, north, keeper)
}

// A leaf that nothing holds may rest on either stop overnight too: whatever is to be
// down must be down before the limit of that state.
func TestPlanMindsLooseLeavesOvernight(t *testing.T) {
	src := place{friction: 0.8, terrain: "C", open: 5, alone: 30, lean: 1, at: 1}.toml() + columnWithLeaf("0.5 m", "1.5 m", `open = "hook"`)
	r := runSite(t, src)
	least := 30.0
	for _, row := range r.Limits.Rows {
		if row.WantedMs != nil && *row.WantedMs == 30 && row.GustMs != nil {
			least = min(least, *row.GustMs)
		}
		t.Logf("%s %s wanted %s: %s", row.Piece, row.State, number(row.WantedMs), number(row.GustMs))
	}
	if got := step(t, r, "Down").GustMs; got > least*(1+1e-9) {
		t.Errorf("the plan takes it down before %.4f m/s, and the least limit with nobody near is %.4f", got, least)
	}
}

// The steps of the plan come in the order of their gusts.
func TestPlanIsInOrder(t *testing.T) {
	src := place{friction: 0.8, terrain: "C", open: -1, alone: 30, lean: 0, at: 1}.toml() + columnWithLeaf("1.5 m", "0.5 m", `open = "hook", closed = "latch"`)
	r := runSite(t, src)
	last := 0.0
	for _, row := range r.Limits.Rows {
		t.Logf("%s %s wanted %s: %s", row.Piece, row.State, number(row.WantedMs), number(row.GustMs))
	}
	for _, s := range r.Limits.Plan {
		if s.GustMs < last {
			t.Errorf("%q at %.4f m/s comes after a step at %.4f", s.Do, s.GustMs, last)
		}
		last = s.GustMs
	}
}
