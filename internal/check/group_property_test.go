package check_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"galefast/internal/verdict"

	"pgregory.net/rapid"
)

// figures are the numbers of a report that no name, order or turn may change, each with
// what it is of.
func figures(r *verdict.Report) (list []string, values []float64) {
	type figure struct {
		of    string
		value float64
	}
	var all []figure
	add := func(of string, v *float64) {
		f := figure{of, math.Inf(1)}
		if v != nil {
			f.value = *v
		}
		all = append(all, f)
	}
	for _, c := range standingOf(r) {
		add(c.What, c.Has)
	}
	for _, l := range r.Limits.Rows {
		add(fmt.Sprintf("limit %s %v", l.State, l.People), l.GustMs)
	}
	add("ballast", &r.Ballast.TotalKg)
	slices.SortFunc(all, func(a, b figure) int {
		if c := strings.Compare(a.of, b.of); c != 0 {
			return c
		}
		switch {
		case a.value < b.value:
			return -1
		case a.value > b.value:
			return 1
		}
		return 0
	})
	for _, f := range all {
		list, values = append(list, f.of), append(values, f.value)
	}
	return list, values
}

func sameFigures(t *rapid.T, what string, a, b *verdict.Report) {
	t.Helper()
	names, x := figures(a)
	others, y := figures(b)
	if !slices.Equal(names, others) {
		t.Fatalf("%s: figures of %v became those of %v", what, names, others)
	}
	for i := range x {
		if x[i] != y[i] && !near(x[i], y[i], 1e-6) && math.Abs(x[i]-y[i]) > 1e-6 {
			t.Errorf("%s: %s %.9g became %.9g", what, names[i], x[i], y[i])
		}
	}
}

// Neither names nor the order of tables, nor the way a site looks, nor its hand change what
// stands together.
func TestMovedGroup(t *testing.T) {
	few(t, func(t *rapid.T) {
		s := drawFastened(t)
		if s.sign != nil {
			s.wall = nil // few enough pieces that the search misses nothing
		}
		a := runSite(t, s.toml())
		turned := s.moved(func(p [2]float64) [2]float64 { return [2]float64{-p[1], p[0]} }, func(a float64) float64 { return a + 90 })
		sameFigures(t, "turned", a, runSite(t, turned.toml()))
		mirrored := s.moved(func(p [2]float64) [2]float64 { return [2]float64{-p[0], p[1]} }, func(a float64) float64 { return -a })
		sameFigures(t, "mirrored", a, runSite(t, mirrored.toml()))
		src := strings.Join(rapid.Permutation(s.tables()).Draw(t, "order"), "")
		rename := map[string]string{"first": "zebra", "second": "aardvark", "wall": "hedge", "sign": "banner"}
		for _, name := range []string{"first", "second", "wall", "sign"} {
			src = strings.ReplaceAll(src, `"`+name+`"`, `"`+rename[name]+`"`)
		}
		sameFigures(t, "renamed", a, runSite(t, s.place.toml()+src))
	})
}

// Another guy, stronger fastenings and a second row of them never lower what stands
// together, but for what the search may miss.
func TestMoreHoldNeverLowers(t *testing.T) {
	few(t, func(t *rapid.T) {
		s := drawFastened(t)
		if s.sign == nil {
			s.sign, s.mass = &fixing{[]float64{signUnder + signTall/2}, rapid.Float64Range(100, 1000).Draw(t, "hold")}, 8
		}
		s.sign = &fixing{s.sign.heights[:1], s.sign.hold}
		before := leastTogether(t, runSite(t, s.toml()))
		grows := func(what string, more fastened) {
			if after := leastTogether(t, runSite(t, more.toml())); after < before*(1-missed) {
				t.Errorf("%s lowers the factor from %.9g to %.9g\n%s", what, before, after, s.toml())
			}
		}
		guyed := s
		guyed.guys = append(slices.Clone(s.guys), guy{"first", 1.5, [2]float64{rapid.Float64Range(-2, 2).Draw(t, "x"), 1.5}, rapid.Float64Range(100, 2000).Draw(t, "pull")})
		grows("a guy", guyed)
		firm := s
		firm.sign = &fixing{s.sign.heights, 2 * s.sign.hold}
		grows("fastenings twice as strong", firm)
		stiff := s
		stiff.sign = &fixing{append(slices.Clone(s.sign.heights), signUnder+0.05), s.sign.hold}
		grows("a second height of fastenings", stiff)
	})
}

// Every row of a lone piece carries the proof of limit analysis, and none is undecided
// because the two ways differ, whatever the basis.
func TestLonePiecesAreProven(t *testing.T) {
	for _, basis := range everyBasis {
		rows := 0
		draws(t, 2, func(t *rapid.T) {
			p := basis
			p.alone *= rapid.Float64Range(0.7, 1.1).Draw(t, "speed")
			head := p.toml()
			if p.basis == "gust" {
				q := drawPlace(t)
				q.terrain = p.terrain
				head = q.toml()
			}
			src := head + drawColumn(t, "column", append(flatShapes, "round")...).toml() +
				wallOf("wall", [2]float64{4, rapid.Float64Range(-1, 1).Draw(t, "y")}, [2]float64{6, 1}, rapid.Float64Range(1, 2.4).Draw(t, "height"), rapid.SampledFrom([]string{"", "return = \"0.5 m\"\n", "braces = { count = 2, reach = \"0.8 m\", height = \"0.9 m\" }\n"}).Draw(t, "more"))
			for _, c := range runSite(t, src).Checks {
				if c.Kind != verdict.Standing || c.What != "overturning" && c.What != "sliding" && c.What != "turning" {
					continue
				}
				rows++
				if c.Result == verdict.Unchecked || c.Certificate == nil || c.Certificate.Residual > 1e-8 || c.Certificate.Gap > 1e-6 {
					t.Errorf("%s %s (%s), certificate %+v\n%s", c.ID, c.Result, c.Why, c.Certificate, src)
				}
			}
		})
		if rows < 8 {
			t.Errorf("%s: only %d rows", basis.basis, rows)
		}
	}
}

// The ballast that is advised for what stands together, written into the file, makes it
// hold; with one unit fewer in any place it does not.
func TestAdvisedBallastOfGroups(t *testing.T) {
	laid := 0
	property := func(t *rapid.T) {
		s := drawFastened(t)
		s.guys = nil
		if s.sign == nil && s.wall == nil {
			t.Fatalf("nothing is joined")
		}
		if s.wall != nil {
			s.sign = nil // two pieces
		}
		s.alone = rapid.Float64Range(4, 8).Draw(t, "gust on two pieces")
		s.lean = rapid.Float64Range(0, 120).Draw(t, "lean on two pieces")
		for _, f := range []*fixing{s.sign, s.wall} {
			if f != nil {
				f.hold = rapid.Float64Range(800, 3000).Draw(t, "strong hold")
			}
		}
		s.units = map[string]int{"first": 1, "second": 1, "wall": 1} // so that advice is in units of 5 kg
		if s.wall == nil {
			delete(s.units, "wall")
		}
		pieces := []string{"first", "second"}
		if s.wall != nil {
			pieces = []string{"second", "wall"}
		}
		r := runSite(t, s.toml())
		c := togetherOf(t, r, pieces)
		if c.Result != verdict.Fails || strings.HasPrefix(c.Cure, "no ballast") || strings.Contains(c.Cure, "fastenings that hold") && strings.HasPrefix(c.Cure, "use ") || strings.Contains(c.Cure, "bolt the") {
			return
		}
		laid++
		more := s
		more.units = map[string]int{}
		for in, n := range s.units {
			more.units[in] = n
		}
		for _, in := range pieces {
			counts, total, possible := advised(r, in)
			if len(counts) > 1 || !possible {
				t.Fatalf("%s is to lie in %v\n%s", in, counts, s.toml())
			}
			more.units[in] = total
		}
		if c := togetherOf(t, runSite(t, more.toml()), pieces); c.Result != verdict.Holds {
			t.Errorf("with %v advised it %s with %s\n%s", more.units, c.Result, number(c.Has), s.toml())
		}
		for _, in := range pieces {
			if more.units[in] <= s.units[in] {
				continue // no more than was there
			}
			more.units[in]--
			if c := togetherOf(t, runSite(t, more.toml()), pieces); c.Result != verdict.Fails {
				t.Errorf("with one unit fewer in %s, %v, it %s with %s\n%s", in, more.units, c.Result, number(c.Has), s.toml())
			}
			more.units[in]++
		}
	}
	for range 10 {
		if draws(t, 5, property); laid >= 3 || t.Failed() {
			break
		}
	}
	if laid == 0 {
		t.Error("no group needed ballast: the property was not tried")
	}
}

// togetherOf is what a report says of some pieces that stand together.
func togetherOf(t tester, r *verdict.Report, pieces []string) verdict.Check {
	t.Helper()
	for _, c := range together(r) {
		if c.Subject == strings.Join(pieces, " + ") {
			if c.Result == verdict.Unchecked {
				t.Fatalf("%s: %s", c.ID, c.Why)
			}
			return c
		}
	}
	t.Fatalf("%v do not stand together", pieces)
	return verdict.Check{}
}
