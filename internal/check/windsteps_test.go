package check_test

import (
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"galefast/internal/verdict"
)

// National values of the file reach the wind: worked here from the formulas.
func TestNationalValuesReachTheWind(t *testing.T) {
	const body = `[[column]]
name = "pier"
at = ["0 m", "0 m"]
foot = ["1 m", "1 m"]
tolerance = "0 %"

  [[column.section]]
  name = "shaft"
  width = "0.5 m"
  height = "3 m"
  mass = "300 kg"
`
	wind := func(more, section string) verdict.WindRow {
		rows := windFromEverywhere(t, basisPlace{"en1991", "II", 24, more}.toml()+strings.Replace(body, "  width = ", "  "+section+"\n  width = ", 1))
		return rowOf(t, rows, "closed", "shaft", "whole", 0)
	}
	plain := wind("", "")
	// EN 1991-1-4 formulas 4.2 to 4.8 at z 3 m.
	ce := func(z0, zmin, co, ki float64) float64 {
		l := math.Log(math.Max(3, zmin) / z0)
		cr := 0.19 * math.Pow(z0/0.05, 0.07) * l
		return co * co * cr * cr * (1 + 7*ki/(co*l))
	}
	cprob := (1 - 0.11*math.Log(-math.Log(0.8))) / (1 - 0.11*math.Log(-math.Log(0.98)))
	for _, c := range []struct {
		more string
		want float64 // ce times c_prob squared
	}{
		{"", ce(0.05, 2, 1, 1)},
		{"c_o = 1.15\n", ce(0.05, 2, 1.15, 1)},
		{"k_i = 0.85\n", ce(0.05, 2, 1, 0.85)},
		{"z0 = \"0.12 m\"\nz_min = \"4 m\"\n", ce(0.12, 4, 1, 1)},
		{"c_e = 2.1\n", 2.1},
		{"return_period = 5\nc_prob_k = 0.11\nc_prob_n = 1\n", ce(0.05, 2, 1, 1) * cprob * cprob},
	} {
		if row := wind(c.more, ""); !near(row.QPa, 0.5*1.25*24*24*c.want, 1e-9) {
			t.Errorf("%q: q_p %v Pa, want %v (EN 1991-1-4 formulas 4.2 to 4.8)", c.more, row.QPa, 0.5*1.25*24*24*c.want)
		}
	}
	if row := wind("", `corner = "0.05 m"`); !near(row.Cf, plain.Cf*0.75, 1e-9) {
		t.Errorf("corners of r/b 0.1: c_f %v of %v, want 0.75 of it (EN 1991-1-4 Fig. 7.24)", row.Cf, plain.Cf)
	}
	rough, smooth := wind("", "shape = \"round\"\n  roughness = \"3 mm\""), wind("", "shape = \"round\"\n  roughness = \"0.002 mm\"")
	re := 0.5 * math.Sqrt(2*rough.QPa/1.25) / 15e-6 / 1e6
	fig := func(k float64) float64 {
		return math.Max(0.11/math.Pow(re, 1.4), 1.2+0.18*math.Log10(10*k/0.5)/(1+0.4*math.Log10(re)))
	}
	if got, want := rough.Cf/smooth.Cf, fig(0.003)/fig(0.000002); !near(got, want, 1e-9) {
		t.Errorf("brick over polished metal: %v, want %v (EN 1991-1-4 Fig. 7.28)", got, want)
	}
}

// Whoever multiplies the numbers that the working of a row prints gets its force, to
// the four digits that are printed.
func TestWorkingLeadsToTheForce(t *testing.T) {
	product := regexp.MustCompile(`= ([0-9.e+-]+) N at`)
	for _, p := range everyBasis {
		src := p.toml() + square(0.5, 3, 0.5, 700).toml() + wallOf("wall", [2]float64{5, 0}, [2]float64{17, 0}, 2, "return = \"1 m\"\nsolidity = 0.9\n")
		for _, row := range windFromEverywhere(t, src) {
			if len(row.Working) < 4 {
				t.Fatalf("%s: %d steps", row.ID, len(row.Working))
			}
			var q float64
			for _, step := range row.Working {
				if step.Text == "" || step.Formula == "" || step.Numbers == "" {
					t.Errorf("%s: an empty step %+v", row.ID, step)
				}
				if _, after, ok := strings.Cut(step.Text, "velocity pressure with it"); ok && after == "" {
					q = lastNumber(t, step.Numbers)
				}
			}
			if !near(q, row.QPa, 1e-3) {
				t.Errorf("%s: the working gives q %v, the row %v", row.ID, q, row.QPa)
			}
			last := row.Working[len(row.Working)-1]
			m := product.FindStringSubmatch(last.Numbers)
			if m == nil {
				t.Fatalf("%s: no force in %q", row.ID, last.Numbers)
			}
			if f, _ := strconv.ParseFloat(m[1], 64); !near(f, strength(row), 1e-3) {
				t.Errorf("%s: the working gives %v N, the row %v", row.ID, f, strength(row))
			}
			// The factors, multiplied: what stands before the last equals sign.
			_, sum, _ := strings.Cut(last.Numbers, "= ")
			sum, _, _ = strings.Cut(sum, " = ")
			f := 1.0
			for _, word := range strings.Split(sum, " · ") {
				v, err := strconv.ParseFloat(strings.TrimSuffix(word, " m²"), 64)
				if err != nil {
					t.Fatalf("%s: %q in %q", row.ID, word, last.Numbers)
				}
				f *= v
			}
			if !near(f, strength(row), 3e-3) {
				t.Errorf("%s: %s multiplies to %v, the row has %v N", row.ID, sum, f, strength(row))
			}
		}
	}
}

// lastNumber is the last number of a text.
func lastNumber(t *testing.T, text string) float64 {
	t.Helper()
	all := regexp.MustCompile(`[0-9][0-9.]*(e[+-][0-9]+)?`).FindAllString(text, -1)
	if len(all) == 0 {
		t.Fatalf("no number in %q", text)
	}
	v, err := strconv.ParseFloat(all[len(all)-1], 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// The working of a column says once what its sections share.
func TestSharedWorkingIsSaidOnce(t *testing.T) {
	src := basisPlace{"gust", "C", 20, ""}.toml() + column{name: "column", foot: [2]float64{0.6, 0.6}, sections: []section{
		{name: "base", shape: "square", width: 0.6, height: 1, mass: 60}, {name: "shaft", shape: "square", width: 0.5, height: 1.5, mass: 60}}}.toml()
	c, ok := runSite(t, src).Find("standing/column/overturning")
	if !ok {
		t.Fatal("no check")
	}
	seen := map[string]int{}
	for _, step := range c.Working {
		seen[step.Text]++
	}
	for _, once := range []string{"height factor up to 4.572 m, exposure C", "velocity pressure with it", "base: force coefficient of the face as a solid sign", "shaft: force coefficient of the face as a solid sign"} {
		if seen[once] != 1 {
			t.Errorf("%q is said %d times in\n%v", once, seen[once], c.Working)
		}
	}
}
