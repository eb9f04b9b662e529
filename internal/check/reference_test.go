package check_test

import (
	"fmt"
	"math"
	"regexp"
	"strings"
	"testing"

	"galefast/internal/verdict"
)

// result finds the number that a working gives for a symbol: the last one before the
// unit of a step whose numbers begin with `symbol =`.
func result(t *testing.T, steps []verdict.Step, symbol, unit string) float64 {
	t.Helper()
	pattern := regexp.MustCompile(`([0-9.e+-]+) ` + regexp.QuoteMeta(unit))
	for _, s := range steps {
		if strings.HasPrefix(s.Numbers, symbol+" = ") {
			if m := pattern.FindAllStringSubmatch(s.Numbers, -1); m != nil {
				return float(t, m[len(m)-1][1])
			}
		}
	}
	t.Fatalf("no step gives %s in %s: %v", symbol, unit, steps)
	return 0
}

// A square column of 26 in and 9 ft of 95 lb in a 40 mph gust, by hand. Nothing of the
// wind or statics packages is used.
func TestColumnByHand(t *testing.T) {
	const (
		source = "ASCE 7-16 Eq. 26.10-1.SI and Table 26.10-1 (Kz 0.85 below 15 ft, exposure C), Fig. 29.3-1 cases A and B row s/h = 1: Cf 1.65 at B/s 0.2 and 1.55 at 0.5, resultant at 0.55 h"
		b      = 26 * 0.0254
		h      = 9 * 0.3048
		speed  = 40 * 0.44704
		weight = 95 * 0.45359237 * 9.80665
		mu     = 0.40
	)
	q := 0.613 * speed * speed * 0.85
	cf := 1.65 + (1.55-1.65)*(b/h-0.2)/(0.5-0.2)
	force := q * cf * b * h
	overturning := force * 0.55 * h
	resisting := weight * b / 2

	r := runFile(t, "site-column.toml")
	for _, c := range []struct {
		what string
		want float64
	}{
		{"overturning", resisting / overturning},
		{"sliding", mu * weight / force},
	} {
		if got := has(t, r, "standing/column/"+c.what); !near(got, c.want, 0.005) {
			t.Errorf("%s: factor %.4f, by hand %.4f (%s)", c.what, got, c.want, source)
		}
	}

	tip, _ := r.Find("standing/column/overturning")
	slide, _ := r.Find("standing/column/sliding")
	// Each number of the working, printed to four figures.
	for _, c := range []struct {
		check        *verdict.Check
		symbol, unit string
		want         float64
	}{
		{tip, "q", "Pa", q},
		{tip, "F", "N", force},
		{tip, "M_r", "N·m", resisting},
		{tip, "M_o", "N·m", overturning},
		{slide, "q", "Pa", q},
		{slide, "F", "N", force},
		{slide, "N", "N", weight},
		{slide, "R", "N", mu * weight},
		{slide, "H", "N", force},
	} {
		if got := result(t, c.check.Working, c.symbol, c.unit); !near(got, c.want, 0.005) {
			t.Errorf("working of %s: %s = %g %s, by hand %.5g (%s)", c.check.What, c.symbol, got, c.unit, c.want, source)
		}
	}
	// The working must lead to the factor that it explains.
	mr, mo := result(t, tip.Working, "M_r", "N·m"), result(t, tip.Working, "M_o", "N·m")
	if !near(mr/mo, *tip.Has, 1e-3) {
		t.Errorf("the working gives M_r / M_o = %g / %g = %.4f and the check has %.4f", mr, mo, mr/mo, *tip.Has)
	}
	if got := result(t, slide.Working, "R", "N") / result(t, slide.Working, "H", "N"); !near(got, *slide.Has, 1e-3) {
		t.Errorf("the working gives R / H = %.4f and the check has %.4f", got, *slide.Has)
	}
}

// The published hoarding takes no force coefficient and the middle of the face as the
// arm, so the pressure is compared as it is, and the ratio with both divided out.
func TestHoarding(t *testing.T) {
	r := runFile(t, "site-hoarding.toml")
	var row *verdict.WindRow
	for i := range r.Wind.Rows {
		if r.Wind.Rows[i].State == "closed" && r.Wind.Rows[i].Case == "A" {
			row = &r.Wind.Rows[i]
		}
	}
	if row == nil {
		t.Fatal("no wind on the hoarding")
	}
	for _, x := range referenceRows(t, "wind-us.csv") {
		if x["id"] == "E14" && x["output"] == "q" {
			if want := float(t, x["want"]); math.Abs(row.QPa-want) > halfDigit(x["want"]) {
				t.Errorf("q = %.4f Pa, published %s (%s; %s)", row.QPa, x["want"], x["source"], x["certainty"])
			}
		}
		if x["id"] == "E14" && x["output"] == "force" {
			if got, want := row.QPa*row.AreaM2, float(t, x["want"]); math.Abs(got-want) > halfDigit(x["want"]) {
				t.Errorf("q A = %.3f N, published %s (%s; %s)", got, x["want"], x["source"], x["certainty"])
			}
		}
	}
	middle := row.ArmM // over the 1 m of the middle of the face
	ratio := has(t, r, "standing/hoarding/overturning") * row.Cf * middle
	for _, x := range referenceRows(t, "statics.csv") {
		if x["name"] == "hoarding block ratio" {
			if want := float(t, x["expected"]); math.Abs(ratio-want) > halfDigit(x["expected"]) {
				t.Errorf("ratio without coefficient %.4f, published %s (%s; %s)", ratio, x["expected"], x["source"], x["certainty"])
			}
		}
	}
}

// Published exercises of pushing over or along, in air that hardly moves.
func TestPushes(t *testing.T) {
	for _, x := range referenceRows(t, "site-push.csv") {
		t.Run(x["id"], func(t *testing.T) {
			w, h := float(t, x["width_m"]), float(t, x["height_m"])
			p := place{friction: float(t, x["friction"]), terrain: "C", open: -1, alone: 1e-4, lean: float(t, x["push_n"]), at: float(t, x["at_m"])}
			c := column{name: "block", foot: [2]float64{w, w}, sections: []section{{name: "block", shape: "square", width: w, height: h, mass: float(t, x["mass_kg"])}}}
			r := runSite(t, p.toml()+c.toml())
			if x["check"] == "first" {
				tip, slide := has(t, r, "standing/block/overturning"), has(t, r, "standing/block/sliding")
				first := "overturning"
				if slide < tip {
					first = "sliding"
				}
				if first != x["want"] {
					t.Errorf("overturning %.4f, sliding %.4f, so %s comes first, not %s (%s; %s)", tip, slide, first, x["want"], x["source"], x["certainty"])
				}
				return
			}
			if got, want := has(t, r, "standing/block/"+x["check"]), float(t, x["want"]); math.Abs(got-want) > halfDigit(x["want"]) {
				t.Errorf("factor %.5f, want %s (%s; %s)", got, x["want"], x["source"], x["certainty"])
			}
		})
	}
}

// Published voltage drops through a whole description: supply, chain of cords with
// their own resistance, and loads of so many amperes.
func TestPublishedDrops(t *testing.T) {
	checked := 0
	for _, x := range referenceRows(t, "electrical.csv") {
		in := map[string]string{}
		for _, pair := range strings.Fields(x["inputs"]) {
			key, value, _ := strings.Cut(pair, "=")
			in[key] = value
		}
		var ats, amps []string
		volts, perMetre, unit := in["volts"], 0.0, 1.0
		switch {
		case x["formula"] == "chain" && (x["id"] == "1" || x["id"] == "2" || x["id"] == "7"):
			if in["unit"] == "ft" {
				unit = 0.3048
			}
			perMetre = float(t, in["r"]) / unit
			ats, amps = strings.Split(in["at"], "/"), strings.Split(in["amps"], "/")
		case x["formula"] == "tabulated" && x["id"] == "5":
			// Millivolts per ampere and metre count both conductors.
			volts, perMetre = "230", float(t, in["v_per_am"])/2
			ats, amps = []string{in["length"]}, []string{in["amps"]}
		default:
			continue
		}
		var b strings.Builder
		fmt.Fprintf(&b, "[site]\nfriction = 0.4\ngust_alone = \"40 mph\"\n[[supply]]\nname = \"supply\"\nvolts = %s\ndc = %v\n", volts, in["dc"] == "1")
		from, last := "supply", 0.0
		for i := range ats {
			at := float(t, ats[i]) * unit
			name := fmt.Sprintf("cord %d", i+1)
			fmt.Fprintf(&b, "[[cord]]\nname = %q\nfrom = %q\nlength = \"%.9f m\"\nohm_per_km = %.12g\n[[lamp]]\nname = \"load %d\"\non = %q\namps = %s\npower_factor = 1.0\n",
				name, from, at-last, 1000*perMetre, i+1, name, amps[i])
			from, last = name, at
		}
		r := runSite(t, b.String())
		node := func(name string) verdict.Node {
			for _, n := range r.Circuit.Nodes {
				if n.Name == name && n.Volts != nil {
					return n
				}
			}
			t.Fatalf("no voltage at %s", name)
			return verdict.Node{}
		}
		end := node(fmt.Sprintf("load %d", len(ats)))
		var got float64
		switch out := x["output"]; {
		case out == "drop" || out == "":
			got = float(t, volts) - *end.Volts
		case out == "percent":
			got = *end.DropPercent
			if c, ok := r.Find("power/load 1/voltage drop"); !ok || c.Has == nil || !near(*c.Has, got, 1e-12) || c.Result != verdict.Fails {
				t.Errorf("example %s: the check of a drop of %.3f %% must fail and carry it", x["id"], got)
			}
		default:
			got = *node("load " + strings.TrimPrefix(out, "v")).Volts
		}
		if math.Abs(got-float(t, x["want"])) > halfDigit(x["want"]) {
			t.Errorf("example %s, %s: %.5g %s, published %s (%s; %s)", x["id"], x["inputs"], got, x["unit"], x["want"], x["source"], x["certainty"])
		}
		checked++
	}
	if checked < 9 {
		t.Errorf("only %d published drops were run", checked)
	}
}
