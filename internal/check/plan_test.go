package check_test

import (
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
