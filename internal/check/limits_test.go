package check_test

import (
	"fmt"
	"math"
	"testing"

	"galefast/internal/verdict"

	"pgregory.net/rapid"
)

// limitOf is the gust limit of a piece in a state.
func limitOf(t tester, r *verdict.Report, piece, state string) *verdict.LimitRow {
	t.Helper()
	for i := range r.Limits.Rows {
		if row := &r.Limits.Rows[i]; row.Piece == piece && row.State == state {
			return row
		}
	}
	t.Fatalf("no limit of %s in state %s", piece, state)
	return nil
}

// Just below a limit every factor holds; just above it one fails.
func TestLimitsAreSharp(t *testing.T) {
	tried := map[string]int{}
	rapid.Check(t, func(t *rapid.T) {
		p := drawPlace(t)
		c := drawColumn(t, "column", append(flatShapes, "round")...)
		ballast := loads("column", `section = "plinth"`, rapid.IntRange(0, 40).Draw(t, "units"))
		r := runSite(t, p.toml()+c.toml()+ballast)
		for _, state := range []string{"open", "closed"} {
			row := limitOf(t, r, "column", state)
			if row.GustMs == nil || *row.GustMs > 99 {
				continue
			}
			q := p
			if state == "closed" {
				q.lean = 0
			}
			at := func(gust float64) []string {
				q.alone = gust
				return failing(runSite(t, q.toml()+c.toml()+ballast))
			}
			if *row.GustMs == 0 {
				if len(at(1e-6)) == 0 {
					t.Errorf("%s: said to fall short in still air, and everything holds in next to none", state)
				}
				continue
			}
			tried[state]++
			if short := at(*row.GustMs * (1 - 1e-5)); len(short) > 0 {
				t.Errorf("%s: just below the limit of %.6f m/s these fail: %v", state, *row.GustMs, short)
			}
			if short := at(*row.GustMs * (1 + 1e-5)); len(short) == 0 {
				t.Errorf("%s: just above the limit of %.6f m/s (%s) everything holds", state, *row.GustMs, row.Governs)
			}
		}
	})
	if tried["open"] == 0 || tried["closed"] == 0 {
		t.Errorf("limits tried: %v", tried)
	}
}

// With the wind alone on level ground the limit follows from any factor of the check.
func TestLimitFollowsFromTheFactor(t *testing.T) {
	r := runFile(t, "site-column.toml")
	row := limitOf(t, r, "column", "closed")
	gust := 40 * 0.44704
	want := gust * math.Sqrt(math.Min(has(t, r, "standing/column/overturning"), has(t, r, "standing/column/sliding"))/1.5)
	if row.GustMs == nil || !near(*row.GustMs, want, 1e-6) {
		t.Errorf("limit %s m/s, want V sqrt(factor / required) = %.6f", number(row.GustMs), want)
	}
	const source = "(2/10)^(1/9.5) = 0.844, gust power law of exposure C, computed from ASCE 7-16 Table 26.11-1"
	if row.HandheldMs == nil || math.Abs(*row.HandheldMs / *row.GustMs - 0.844) > 0.0005 {
		t.Errorf("the reading at 2 m is %s of %s m/s; want 0.844 of it (%s)", number(row.HandheldMs), number(row.GustMs), source)
	}
}

// A leaf is loose only in a state for which it has no keeper.
func TestLooseLeaves(t *testing.T) {
	for _, c := range []struct {
		keeper string
		loose  []float64 // gusts of the loose states
	}{
		{"keeper = { closed = \"latch\", open = \"hook\" }\n", nil},
		{"keeper = { closed = \"latch\" }\n", []float64{6}},
		{"keeper = { open = \"hook\" }\n", []float64{12}},
		{"", []float64{6, 12}},
	} {
		src := place{friction: 0.4, terrain: "C", open: 6, alone: 12, lean: 50, at: 1}.toml()
		for i, name := range []string{"bare", "hung"} {
			src += column{name: name, at: [2]float64{4 * float64(i), 0}, foot: [2]float64{0.7, 0.7},
				sections: []section{{name: "plinth", shape: "square", width: 0.7, height: 2, mass: 120}}}.toml()
		}
		src += "[[gate]]\nname = \"leaf\"\nhung_on = \"hung\"\nface = \"north\"\nopens = \"east\"\nwidth = \"1 m\"\nheight = \"1.5 m\"\nmass = \"10 kg\"\n" + c.keeper
		r := runSite(t, src)
		var loose []float64
		for _, row := range r.Limits.Rows {
			if row.State != "loose" {
				continue
			}
			loose = append(loose, *row.WantedMs)
			if row.Piece != "hung" {
				t.Errorf("%q: %s carries no leaf and has a loose state", c.keeper, row.Piece)
			}
		}
		if fmt.Sprint(loose) != fmt.Sprint(c.loose) {
			t.Errorf("%q: loose at gusts %v, want %v", c.keeper, loose, c.loose)
		}
	}
}
