package check_test

import (
	"fmt"
	"strings"
	"testing"

	_ "galefast/internal/steady"
	"galefast/internal/verdict"

	"pgregory.net/rapid"
)

// advised is the schedule of a piece: units in each place, and whether any number will do.
// A row for which none will do has no count.
func advised(r *verdict.Report, piece string) (counts map[string]int, total int, possible bool) {
	counts, possible = map[string]int{}, true
	for _, row := range r.Ballast.Rows {
		if row.Piece == piece {
			if !row.Possible {
				possible = false
				continue
			}
			counts[row.Section] += *row.Count
			total += *row.Count
		}
	}
	return counts, total, possible
}

// The advised ballast, written into the file, makes every check of the column hold;
// one unit less does not.
func TestAdvisedBallastOfColumns(t *testing.T) {
	advice := 0
	rapid.Check(t, func(t *rapid.T) {
		src := drawPlace(t).toml() + drawColumn(t, "column", append(flatShapes, "round")...).toml()
		with := func(n int) *verdict.Report {
			return runSite(t, src+loads("column", `section = "plinth"`, n))
		}
		start := rapid.IntRange(0, 2).Draw(t, "in place")
		_, n, possible := advised(with(start), "column")
		if !possible {
			if short := failing(with(start + 200)); len(short) == 0 {
				t.Errorf("no ballast is said to do, and 200 units more make everything hold")
			}
			return
		}
		if n > start {
			advice++
		}
		if short := failing(with(n)); len(short) > 0 {
			t.Errorf("with the %d units advised, these fail: %v", n, short)
		}
		if n > start {
			if short := failing(with(n - 1)); len(short) == 0 {
				t.Errorf("%d units are advised, and %d are enough", n, n-1)
			}
		}
	})
	if advice == 0 {
		t.Error("no column needed ballast: the property was not tried")
	}
}

// On a braced wall the least number of units over base and toes is found, against
// every split of one unit less and, while small, every split of fewer.
func TestAdvisedBallastOfWalls(t *testing.T) {
	advice := 0
	few(t, func(t *rapid.T) {
		p := drawPlace(t)
		p.alone = rapid.Float64Range(3, 7).Draw(t, "gust on a wall")
		p.lean = rapid.Float64Range(40, 60).Draw(t, "lean on a wall") // tips it without ballast
		p.at = 1
		length, height := rapid.Float64Range(1, 2.5).Draw(t, "length"), rapid.Float64Range(1.2, 1.8).Draw(t, "height")
		reach, away := rapid.Float64Range(0.6, 1.2).Draw(t, "reach"), rapid.SampledFrom([]string{"toes", "returns"}).Draw(t, "held by")
		src := p.toml() + fmt.Sprintf("[[wall]]\nname = \"wall\"\nfrom = [\"0 m\", \"0 m\"]\nto = [\"%.9f m\", \"0 m\"]\nheight = \"%.9f m\"\nfoot = \"0.3 m\"\nmass = \"30 kg\"\ntolerance = \"0 %%\"\n", length, height)
		if away == "toes" {
			src += fmt.Sprintf("braces = { count = 2, reach = \"%.9f m\", height = \"1 m\" }\n", reach)
		} else {
			src += fmt.Sprintf("return = \"%.9f m\"\n", reach)
		}
		with := func(base, toes int) *verdict.Report {
			return runSite(t, src+loads("wall", `place = "base"`, base)+loads("wall", fmt.Sprintf("place = %q", away), toes))
		}
		counts, total, possible := advised(with(0, 0), "wall")
		if !possible {
			t.Fatalf("no ballast is said to do for a low wall in little wind")
		}
		if total > 0 {
			advice++
		}
		if short := failing(with(counts["base"], counts[away])); len(short) > 0 {
			t.Errorf("with %v advised, these fail: %v", counts, short)
		}
		fewer := []int{total - 1}
		if total <= 6 {
			fewer = nil
			for n := range total {
				fewer = append(fewer, n)
			}
		}
		for _, n := range fewer {
			for toes := 0; toes <= n; toes++ {
				if n >= 0 && len(failing(with(n-toes, toes))) == 0 {
					t.Errorf("%v are advised, and %d in the base and %d on the toes are enough", counts, n-toes, toes)
				}
			}
		}
	})
	if advice == 0 {
		t.Error("no wall needed ballast: the property was not tried")
	}
}

// Each alternative carries the number that mends what it names.
func TestAlternatives(t *testing.T) {
	kinds := map[string]int{}
	rapid.Check(t, func(t *rapid.T) {
		p := drawPlace(t)
		c := drawColumn(t, "column", flatShapes...)
		r := runSite(t, p.toml()+c.toml())
		for _, a := range r.Ballast.Alternatives {
			kinds[a.Kind]++
			mended, id := p, ""
			wide := c
			switch a.Kind {
			case "foot":
				wide.foot[0] += a.Value
				wide.foot[1] += a.Value
				id = "overturning"
			case "friction":
				mended.friction = a.Value
				id = "sliding"
			case "gust":
				// Without people the column stands up to that gust.
				mended.alone, mended.lean = a.Value*(1-1e-6), 0
				if short := failing(runSite(t, mended.toml()+c.toml())); len(short) > 0 {
					t.Errorf("%q: these fail: %v", a.Text, short)
				}
				continue
			default:
				continue
			}
			check, ok := runSite(t, mended.toml()+wide.toml()).Find("standing/column/" + id)
			if !ok || check.Result != verdict.Holds {
				t.Errorf("%q (%.6g %s): %s still %s with %s", a.Text, a.Value, a.Unit, id, check.Result, number(check.Has))
			}
		}
	})
	for _, kind := range []string{"foot", "friction", "gust"} {
		if kinds[kind] == 0 {
			t.Errorf("no column was offered %q: the property was not tried", kind)
		}
	}
}

// The total is the sum of the rows, and a row tells what is there from what is missing.
func TestBallastTotals(t *testing.T) {
	r := runSite(t, place{friction: 0.4, terrain: "C", open: -1, alone: 15, lean: 100, at: 1}.toml()+
		column{name: "column", foot: [2]float64{0.6, 0.6}, sections: []section{{name: "plinth", shape: "square", width: 0.6, height: 2, mass: 40}}}.toml()+
		loads("column", `section = "plinth"`, 2))
	sum := 0.0
	for _, row := range r.Ballast.Rows {
		sum += *row.MassKg
		if row.InPlace != 2 || *row.Count <= row.InPlace || !near(*row.MassKg, 5*float64(*row.Count), 1e-12) {
			t.Errorf("row %+v: 2 units of 5 kg are there and more are needed", row)
		}
		if !strings.Contains(row.Why, "overturning") {
			t.Errorf("row %+v does not say what asks for it", row)
		}
	}
	if len(r.Ballast.Rows) != 1 || !near(sum, r.Ballast.TotalKg, 1e-12) {
		t.Errorf("%d rows of %g kg in all, and a total of %g kg", len(r.Ballast.Rows), sum, r.Ballast.TotalKg)
	}
}

// Against turning, more ballast in one place may ask for more in the other, so the least of all
// splits is not found by walking from one to the next. One unit fewer fails however it is split.
func TestLeastBallastOfAWallOnReturns(t *testing.T) {
	const src = `units = "si"
title = "a wall on grass"
[site]
ground = "short dry grass"
slope = "3 %"
terrain = "II"
gust_open = "9 m/s"
gust_alone = "15 m/s"
[require]
overturning = 1.5
sliding = 1.5
lean = { force = "220 N", height = "1.2 m" }
[[wall]]
name = "wall"
from = ["4.5 m", "0 m"]
to = ["8.1 m", "0 m"]
height = "1.9 m"
foot = "95 mm"
side = "left"
return = "1.2 m"
parts = [
  { stock = "45x70", wood = "spf", length = "3.6 m", count = 2 },
  { stock = "45x70", wood = "spf", length = "1.8 m", count = 7 },
  { sheet = "plywood 6 mm", size = ["3.6 m", "1.9 m"] },
  { sheet = "plywood 6 mm", size = ["1.2 m", "1.9 m"], count = 2, offset = ["0 m", "600 mm"] },
  { stock = "45x70", wood = "spf", length = "1.2 m", count = 4, offset = ["0 m", "600 mm"] },
]
`
	with := func(base, far int) *verdict.Report {
		s := src
		for _, at := range []struct {
			place string
			count int
		}{{"base", base}, {"returns", far}} {
			s += fmt.Sprintf("[[ballast]]\nin = \"wall\"\nplace = %q\nunit = \"sandbag 15 kg\"\ncount = %d\n", at.place, at.count)
		}
		return runSite(t, s)
	}
	counts, total, possible := advised(with(10, 0), "wall")
	if !possible || total <= 10 {
		t.Fatalf("%v are advised, possible %v", counts, possible)
	}
	if short := failing(with(counts["base"], counts["returns"])); len(short) > 0 {
		t.Errorf("with %v advised, these fail: %v", counts, short)
	}
	for base := 10; base < total; base++ {
		if far := total - 1 - base; len(failing(with(base, far))) == 0 {
			t.Errorf("%v are advised, and %d in the base and %d on the returns are enough", counts, base, far)
		}
	}
}
