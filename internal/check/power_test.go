package check_test

import (
	"encoding/json"
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"galefast/internal/check"
	"galefast/internal/site"
	"galefast/internal/takeoff"
	"galefast/internal/verdict"
)

// A load of known current drops most in phase, so that is what a missing power factor
// must mean.
func TestAmpsWithoutPowerFactorAreInPhase(t *testing.T) {
	r := runSite(t, `
[site]
friction = 0.4
gust_alone = "40 mph"
[[supply]]
name = "supply"
volts = 120
[[cord]]
name = "cord"
from = "supply"
length = "100 ft"
ohm_per_km = 6.56167979
[[lamp]]
name = "load"
on = "cord"
amps = 16
`)
	const source = "12 AWG, NEC 1990 table 9: 2 x 100 ft x 0.002 ohm/ft x 16 A = 6.4 V, 5.33 % (alt.home.repair post quoting NEC 1990)"
	if got := has(t, r, "power/load/voltage drop"); math.Abs(got-5.33) > 0.005 {
		t.Errorf("drop %.3f %%, want 5.33 (%s)", got, source)
	}
}

// outdoors is a site without pieces; what follows is its supply trees.
const outdoors = `
[site]
friction = 0.4
gust_alone = "40 mph"
`

// floods is one outlet with one cord and its lamps, whose keys a test adds to.
func floods(supply, cord, lamp string) string {
	return outdoors + `
[[supply]]
name = "outlet"
` + supply + `
[[cord]]
name = "cord"
from = "outlet"
` + cord + `
[[lamp]]
name = "floods"
on = "cord"
` + lamp + "\n"
}

// outcome returns the result of a check, and its text for messages; "" when there is none.
func outcome(r *verdict.Report, id string) (verdict.Result, string) {
	c, ok := r.Find(id)
	if !ok {
		return "", ""
	}
	text := c.Why + " | " + c.Cure
	if c.Needs != nil && c.Has != nil {
		text = fmt.Sprintf("needs %.6g, has %.6g %s; ", *c.Needs, *c.Has, c.Unit) + text
	}
	return c.Result, text
}

// Each check of power holds and fails where it should, with its number where there is one.
func TestPowerChecks(t *testing.T) {
	const us, iec = `volts = 120
breaker = "15 A"
gfci = true`, `volts = 230
breaker = "16 A"
curve = "B"
gfci = true`
	const sjtw, rubber = `gauge = "16 AWG"
type = "SJTW"
length = "50 ft"`, `gauge = "1.5 mm2"
type = "H07RN-F"
length = "15 m"`
	const lamp = `watts = 100
power_factor = 1.0
hours = 5`
	for _, c := range []struct {
		name, site, id string
		want           verdict.Result
		needs, has     float64 // 0: not looked at
	}{
		{"a US breaker carries 125 % of what is on for hours", floods(us, sjtw, "amps = 12\nhours = 5"), "power/outlet/breaker", verdict.Holds, 15, 15},
		{"and no more", floods(us, sjtw, "amps = 12.1\nhours = 5"), "power/outlet/breaker", verdict.Fails, 15.125, 15},
		{"listed for 100 % it carries its rating", floods(us+"\nlisted_100 = true", sjtw, "amps = 15\nhours = 5"), "power/outlet/breaker", verdict.Holds, 15, 15},
		{"a European one has no factor", floods(iec, rubber, "amps = 16\nhours = 5"), "power/outlet/breaker", verdict.Holds, 16, 16},

		{"15 A receptacle on 20 A", floods("volts = 120\nbreaker = \"20 A\"\nreceptacle = \"15 A\"", sjtw, "amps = 12\nhours = 1"), "power/outlet/receptacle", verdict.Holds, 12, 12},
		{"more than it may have", floods("volts = 120\nbreaker = \"20 A\"\nreceptacle = \"15 A\"", sjtw, "amps = 12.5\nhours = 1"), "power/outlet/receptacle", verdict.Fails, 12.5, 12},
		{"a pair that the table lacks", floods("volts = 120\nbreaker = \"40 A\"\nreceptacle = \"40 A\"", sjtw, lamp), "power/outlet/receptacle", verdict.Unchecked, 0, 0},

		{"ampacity of 16 AWG", floods(us, sjtw, "amps = 5"), "power/cord/cord ampacity", verdict.Holds, 5, 13},
		{"on a drum of two layers", floods(us, sjtw+"\nlayers = 2", "amps = 5"), "power/cord/cord ampacity", verdict.Holds, 5, 13 * 0.61},
		{"coiled, layers unknown", floods(us, sjtw+"\ncoiled = true", "amps = 5"), "power/cord/cord ampacity", verdict.Fails, 5, 13 * 0.35},
		{"three in a bundle", floods(us, sjtw+"\nbundle = 3", "amps = 5"), "power/cord/cord ampacity", verdict.Holds, 5, 13 * 0.70},
		{"more in a bundle than the table has", floods(us, sjtw+"\nbundle = 9", "amps = 5"), "power/cord/cord ampacity", verdict.Unchecked, 0, 0},
		{"insulation for 90 °C in air of 45 °C", strings.Replace(floods(us, sjtw+"\nrating = \"90 °C\"", "amps = 5"), "[site]", "[site]\nambient = \"45 °C\"", 1), "power/cord/cord ampacity", verdict.Holds, 5, 13 * math.Sqrt(45.0/60)},
		{"air as hot as the cord", strings.Replace(floods(us, sjtw, lamp), "[site]", "[site]\nambient = \"60 °C\"", 1), "power/cord/cord ampacity", verdict.Unchecked, 0, 0},

		{"a jacket for weather", floods(us, sjtw, lamp), "power/cord/cord type", verdict.Holds, 0, 0},
		{"a jacket for indoors", floods(us, strings.Replace(sjtw, "SJTW", "SJT", 1), lamp), "power/cord/cord type", verdict.Fails, 0, 0},
		{"a jacket for less voltage", floods(strings.Replace(us, "120", "480", 1), sjtw, lamp), "power/cord/cord type", verdict.Fails, 0, 0},

		{"lighting by IEC", floods(iec, rubber, lamp), "power/floods/voltage drop", verdict.Holds, 3, 0},
		{"what gives no light", floods(iec, rubber, lamp+"\nlighting = false"), "power/floods/voltage drop", verdict.Holds, 5, 0},
		{"a long line by IEC", floods(iec, strings.Replace(rubber, "15 m", "140 m", 1), "watts = 10\npower_factor = 1.0"), "power/floods/voltage drop", verdict.Holds, 3.2, 0},
		{"12 V", floods("volts = 12\nkind = \"transformer\"", sjtw, "watts = 10\npower_factor = 1.0"), "power/floods/voltage drop", verdict.Holds, 5, 0},
		{"least voltage of a lamp", floods(us, sjtw, "watts = 300\npower_factor = 1.0\nmin_volts = 110"), "power/floods/lamp voltage", verdict.Holds, 110, 0},
		{"not reached", floods(us, sjtw, "watts = 300\npower_factor = 1.0\nmin_volts = 119.5"), "power/floods/lamp voltage", verdict.Fails, 119.5, 0},

		{"a GFCI clears a fault to earth", floods(us, sjtw, lamp), "power/outlet/fault trip", verdict.Holds, 0.006, 0},
		{"an RCD", floods(iec, rubber, lamp), "power/outlet/fault trip", verdict.Holds, 0.030, 0},
		{"a breaker alone at the end of 16 AWG", floods(strings.Replace(us, "gfci = true", "gfci = false", 1), strings.Replace(sjtw, "50 ft", "100 ft", 1), lamp), "power/outlet/fault trip", verdict.Fails, 150, 0},
		{"on a short cord", floods(strings.Replace(us, "gfci = true", "gfci = false", 1), strings.Replace(sjtw, "50 ft", "10 ft", 1), lamp), "power/outlet/fault trip", verdict.Holds, 150, 0},
		{"by the multiple of its maker", floods(strings.Replace(us, "gfci = true", "gfci = false\ntrip = 5", 1), strings.Replace(sjtw, "50 ft", "50 ft", 1), lamp), "power/outlet/fault trip", verdict.Holds, 75, 0},
		{"no rating and no GFCI", floods("volts = 120", sjtw, lamp), "power/outlet/fault trip", verdict.Unchecked, 0, 0},

		{"heating of a short cord", floods(us, strings.Replace(sjtw, "50 ft", "10 ft", 1), lamp), "power/cord/short circuit", verdict.Holds, 0, 0},
		{"a cord that counts as protected", floods(us, strings.Replace(sjtw, "50 ft", "150 ft", 1), lamp), "power/cord/short circuit", verdict.Holds, 0, 0},
		{"one that is too thin for that", floods(us, strings.Replace(strings.Replace(sjtw, "50 ft", "150 ft", 1), "16 AWG", "18 AWG", 1), lamp), "power/cord/short circuit", verdict.Fails, 0, 0},
		{"a line behind a B16", floods(iec, rubber, lamp), "power/cord/short circuit", verdict.Holds, 0.02, 0},
		{"too long for a C16", floods(strings.Replace(iec, `"B"`, `"C"`, 1), strings.Replace(rubber, "15 m", "60 m", 1), lamp), "power/cord/short circuit", verdict.Fails, 160, 0},

		{"no GFCI", floods(strings.Replace(us, "gfci = true", "gfci = false", 1), sjtw, lamp), "power/outlet/GFCI", verdict.Fails, 0, 0},
		{"an RCD that protects cables only", floods(iec+"\ngfci_trip = \"300 mA\"", rubber, lamp), "power/outlet/GFCI", verdict.Fails, 0, 0},
		{"leakage behind a GFCI", floods(us, sjtw, lamp+"\nleakage = \"0.5 mA\"\ncount = 2"), "power/outlet/leakage", verdict.Holds, 0.0015, 0.001 + 50*0.3048*1e-5},
		{"too much of it", floods(us, sjtw, lamp+"\nleakage = \"0.5 mA\"\ncount = 3"), "power/outlet/leakage", verdict.Fails, 0.0015, 0.0015 + 50*0.3048*1e-5},
		{"too much by an estimate", floods(us, sjtw, "amps = 10"), "power/outlet/leakage", verdict.Unchecked, 0, 0},
		{"an RCD lets more", floods(iec, rubber, lamp+"\nleakage = \"0.5 mA\"\ncount = 17"), "power/outlet/leakage", verdict.Holds, 0.009, 0},

		{"cold filaments", floods(us, sjtw, "watts = 100\nload = \"resistance\"\ncount = 6"), "power/outlet/inrush", verdict.Holds, 75, 0},
		{"too many of them", floods(us, sjtw, "watts = 100\nload = \"resistance\"\ncount = 7"), "power/outlet/inrush", verdict.Fails, 75, 0},
		{"a kettle has none", floods(us, sjtw, "watts = 1200\nload = \"resistance\"\nlighting = false\nhours = 1"), "power/outlet/inrush", verdict.Holds, 75, 0},
		{"drivers start with a pulse", floods(us, sjtw, lamp), "power/outlet/inrush pulse", verdict.Unchecked, 0, 0},
		{"curve D bears more", floods(strings.Replace(iec, `"B"`, `"D"`, 1), rubber, "watts = 150\nload = \"resistance\"\ncount = 15"), "power/outlet/inrush", verdict.Holds, 160, 0},

		{"a plug in the open", floods(us, sjtw+"\nconnection = \"open\"", lamp), "power/cord/connection", verdict.Fails, 0, 0},
		{"a plug under a cover", floods(us, sjtw+"\nconnection = \"covered\"", lamp), "power/cord/connection", verdict.Holds, 0, 0},
		{"not told", floods(us, sjtw, lamp), "power/cord/connection", verdict.Unchecked, 0, 0},
		{"a strip in an outlet", floods(us, sjtw+"\nkind = \"strip\"", lamp), "power/cord/outlet strip", verdict.Holds, 0, 0},

		{"12 V AC may be touched", floods("volts = 12\nkind = \"transformer\"", sjtw, lamp), "power/outlet/touch voltage", verdict.Holds, 12, 12},
		{"24 V AC may not", floods("volts = 24\nkind = \"transformer\"", sjtw, lamp), "power/outlet/touch voltage", verdict.Fails, 12, 24},
		{"24 V DC may", floods("volts = 24\ndc = true", sjtw, lamp), "power/outlet/touch voltage", verdict.Holds, 30, 24},
		{"a transformer of 120 V", floods("volts = 120\nkind = \"transformer\"\nbreaker = \"15 A\"\ngfci = true", sjtw, lamp), "power/outlet/touch voltage", verdict.Fails, 50, 120},
		{"load of a transformer", floods("volts = 12\nkind = \"transformer\"\nrated_va = \"60 VA\"", "gauge = \"12 AWG\"\nlength = \"2 ft\"", "watts = 50\npower_factor = 1.0"), "power/outlet/transformer load", verdict.Holds, 0, 60},
		{"too much of it", floods("volts = 12\nkind = \"transformer\"\nrated_va = \"50 VA\"", sjtw, "watts = 50\npower_factor = 1.0"), "power/outlet/transformer load", verdict.Fails, 0, 50},

		{"a set for 80 %", floods("kind = \"generator\"\nvolts = 120\nrated = \"2000 W\"\nbreaker = \"20 A\"\ngfci = true", "gauge = \"10 AWG\"\nlength = \"10 ft\"", "watts = 1500\npower_factor = 1.0"), "power/outlet/generator load", verdict.Holds, 0, 1600 * (1 - 0.02*0.1)},
		{"up high", floods("kind = \"generator\"\nvolts = 120\nrated = \"2000 W\"\naltitude = \"5000 ft\"\nbreaker = \"20 A\"\ngfci = true", "gauge = \"10 AWG\"\nlength = \"10 ft\"", "watts = 1500\npower_factor = 1.0"), "power/outlet/generator load", verdict.Fails, 0, 1600 * 0.86 * (1 - 0.02*0.1)},
		{"apparent power", floods("kind = \"generator\"\nvolts = 120\nrated = \"2000 W\"\nrated_va = \"2 kVA\"\nbreaker = \"20 A\"\ngfci = true", "gauge = \"10 AWG\"\nlength = \"10 ft\"", "watts = 900\npower_factor = 0.5"), "power/outlet/generator VA", verdict.Fails, 0, 0},
		{"a motor starts", floods("kind = \"generator\"\nvolts = 120\nrated = \"2000 W\"\nsurge = \"2200 W\"\nbreaker = \"20 A\"\ngfci = true", "gauge = \"10 AWG\"\nlength = \"1 ft\"", "watts = 500\npower_factor = 0.8\ninrush = 3\ncount = 2"), "power/outlet/generator start", verdict.Holds, 2000, 0},
		{"a diesel with little to do", floods("kind = \"generator\"\nvolts = 120\nrated = \"20 kW\"\nfuel = \"diesel\"\nbreaker = \"20 A\"\ngfci = true", sjtw, lamp), "power/outlet/generator least load", verdict.Fails, 6000, 0},
		{"a set cannot be counted on to trip a breaker", floods("kind = \"generator\"\nvolts = 120\nrated = \"2000 W\"\nbreaker = \"20 A\"\ngfci = false", sjtw, lamp), "power/outlet/fault trip", verdict.Fails, 0, 0},
		{"its GFCI does", floods("kind = \"generator\"\nvolts = 120\nrated = \"2000 W\"\nbreaker = \"20 A\"\ngfci = true", sjtw, lamp), "power/outlet/fault trip", verdict.Holds, 0, 0},

		{"a battery through the night", floods("kind = \"battery\"\nvolts = 120\nbreaker = \"15 A\"\ngfci = true\ncapacity = \"2 kWh\"\ndepth = \"80 %\"\nefficiency = \"90 %\"\nidle = \"10 W\"", "gauge = \"10 AWG\"\nlength = \"1 ft\"", lamp), "power/outlet/battery hours", verdict.Holds, 5, 0},
		{"one that is empty before", floods("kind = \"battery\"\nvolts = 120\nbreaker = \"15 A\"\ngfci = true\ncapacity = \"500 Wh\"", sjtw, lamp), "power/outlet/battery hours", verdict.Fails, 5, 0},
		{"hours unknown", floods("kind = \"battery\"\nvolts = 12\ndc = true\ncapacity = \"500 Wh\"", sjtw, "watts = 5"), "power/outlet/battery hours", verdict.Unchecked, 0, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			r := runSite(t, c.site)
			got, text := outcome(r, c.id)
			if got != c.want {
				t.Fatalf("%s: %q, want %q (%s)", c.id, got, c.want, text)
			}
			x, _ := r.Find(c.id)
			for _, n := range []struct {
				what string
				want float64
				got  *float64
			}{{"needs", c.needs, x.Needs}, {"has", c.has, x.Has}} {
				if n.want != 0 && (n.got == nil || math.Abs(*n.got-n.want) > 1e-3*n.want) {
					t.Errorf("%s %s: %s, want %g", c.id, n.what, text, n.want)
				}
			}
			switch {
			case got == verdict.Fails && x.Cure == "":
				t.Errorf("%s fails without a cure: %s", c.id, text)
			case got != verdict.Unchecked && len(x.Working) == 0:
				t.Errorf("%s has no working", c.id)
			case got == verdict.Unchecked && x.Why == "":
				t.Errorf("%s is unchecked without a reason", c.id)
			}
			if x.Source == "" {
				t.Errorf("%s has no source", c.id)
			}
		})
	}
}

// Cords with the sizes that the table says they need hold, and at the length that it allows,
// but not at more.
func TestNeededSizesHold(t *testing.T) {
	const tree = outdoors + `
[[supply]]
name = "outlet"
volts = %[6]s
breaker = "16 A"
curve = "B"
gfci = true
[[cord]]
name = "first"
from = "outlet"
gauge = %[1]q
length = "%[2]v m"
contact_ohm = 0
[[cord]]
name = "box"
kind = "splitter"
from = "first"
gauge = %[1]q
length = "0.3 m"
contact_ohm = 0
[[cord]]
name = "left"
from = "box"
gauge = %[3]q
length = "%[4]v m"
contact_ohm = 0
[[cord]]
name = "right"
from = "box"
gauge = %[5]q
length = "20 m"
contact_ohm = 0
[[lamp]]
name = "left lamps"
on = "left"
watts = 300
power_factor = 0.9
[[lamp]]
name = "right lamps"
on = "right"
watts = 500
load = "resistance"
`
	failing := func(r *verdict.Report) []string {
		var ids []string
		for _, c := range r.Circuit.Checks {
			if c.Result == verdict.Fails && (c.What == "voltage drop" || c.What == "cord ampacity" || c.What == "short circuit") {
				ids = append(ids, c.ID)
			}
		}
		return ids
	}
	for _, volts := range []string{"120", "230"} {
		thin := map[string]string{"120": "18 AWG", "230": "0.75 mm2"}[volts]
		first := runSite(t, fmt.Sprintf(tree, thin, 30, thin, 25, thin, volts))
		if len(failing(first)) == 0 {
			t.Fatalf("%s V: nothing fails with %s", volts, thin)
		}
		var needs []string
		for _, run := range first.Circuit.Runs {
			if run.NeedsGauge == nil {
				t.Fatalf("%s V: no size for %s: %s", volts, run.Name, run.Why)
			}
			needs = append(needs, *run.NeedsGauge)
		}
		r := runSite(t, fmt.Sprintf(tree, needs[0], 30, needs[2], 25, needs[3], volts))
		if ids := failing(r); needs[0] == needs[1] && len(ids) > 0 {
			t.Errorf("%s V: with %q %q still fail", volts, needs, ids)
		}
		longest := r.Circuit.Runs[2].LongestM
		if longest == nil {
			t.Fatalf("%s V: no longest run", volts)
		}
		if ids := failing(runSite(t, fmt.Sprintf(tree, needs[0], 30, needs[2], fmt.Sprintf("%.4f", *longest-0.001), needs[3], volts))); len(ids) > 0 {
			t.Errorf("%s V: at %.3f m %q fail", volts, *longest, ids)
		}
		if ids := failing(runSite(t, fmt.Sprintf(tree, needs[0], 30, needs[2], fmt.Sprintf("%.4f", *longest+0.01), needs[3], volts))); len(ids) == 0 {
			t.Errorf("%s V: at %.3f m and more nothing fails", volts, *longest)
		}
	}
}

// A split-phase panel with different lamps on its legs.
func TestSplitPhaseSite(t *testing.T) {
	r := runSite(t, outdoors+`
[[supply]]
name = "panel"
volts = 240
split_phase = true
breaker = "20 A"
gfci = true
[[cord]]
name = "feeder"
from = "panel"
gauge = "10 AWG"
length = "100 ft"
contact_ohm = 0
[[cord]]
name = "west"
from = "feeder"
leg = "1"
gauge = "14 AWG"
length = "20 ft"
[[lamp]]
name = "west lamps"
on = "west"
amps = 10
power_factor = 1.0
hours = 5
[[lamp]]
name = "east lamps"
on = "feeder"
leg = "2"
amps = 4
power_factor = 1.0
hours = 5
`)
	if r.Circuit.Family != "us" {
		t.Errorf("split-phase is judged by the rules of %q", r.Circuit.Family)
	}
	b := r.Circuit.Circuits[0]
	if len(b.LegsA) != 2 || math.Abs(b.LegsA[0]-10) > 1e-9 || math.Abs(b.LegsA[1]-4) > 1e-9 || b.NeutralA == nil || math.Abs(*b.NeutralA-6) > 0.02 {
		t.Errorf("legs %v A, neutral %v", b.LegsA, b.NeutralA)
	}
	if got := has(t, r, "power/panel/breaker"); got != 20 {
		t.Errorf("breaker %g A", got)
	}
	if c, _ := r.Find("power/panel/breaker"); math.Abs(*c.Needs-12.5) > 1e-9 {
		t.Errorf("the fuller leg asks for %g A, want 12.5", *c.Needs)
	}
	// 10 AWG, NEC table 8: 1.24 ohm in 1000 ft, so 0.124 ohm; 10 A out and 6 A back.
	drop := 10*0.124 + 6*0.124
	for _, n := range r.Circuit.Nodes {
		if n.Name == "east lamps" && math.Abs(*n.Volts-(120-4*0.124+6*0.124)) > 0.01 {
			t.Errorf("%g V at the east lamps; the neutral lifts them", *n.Volts)
		}
		if n.Name == "feeder" && math.Abs(*n.DropPercent-100*drop/120) > 0.01 {
			t.Errorf("drop at the feeder %g %%, want %g", *n.DropPercent, 100*drop/120)
		}
	}
}

// The rules follow the voltage, or what the file says.
func TestPowerFamily(t *testing.T) {
	for _, c := range []struct{ volts, site, want string }{
		{"120", "", "us"}, {"230", "", "iec"}, {"230", "electrical = \"us\"", "us"}, {"120", "electrical = \"iec\"", "iec"},
		{"400\nphases = 3", "", "iec"}, {"208\nphases = 3", "", "us"}, {"12\ndc = true", "", "us"},
	} {
		r := runSite(t, strings.Replace(floods("volts = "+c.volts, "gauge = \"12 AWG\"\nlength = \"10 ft\"", "watts = 10\npower_factor = 1.0"), "[site]", "[site]\n"+c.site, 1))
		if r.Circuit.Family != c.want {
			t.Errorf("%s V, %q: rules of %q, want %q", c.volts, c.site, r.Circuit.Family, c.want)
		}
	}
}

func TestChainsAndStrips(t *testing.T) {
	r := runSite(t, floods("volts = 120\nbreaker = \"15 A\"\ngfci = true", "gauge = \"12 AWG\"\nlength = \"50 ft\"", "watts = 10\npower_factor = 1.0")+`
[[cord]]
name = "second"
from = "cord"
gauge = "12 AWG"
length = "25 ft"
[[cord]]
name = "strip"
kind = "strip"
from = "second"
gauge = "14 AWG"
length = "3 ft"
[[cord]]
name = "box"
kind = "splitter"
from = "cord"
gauge = "12 AWG"
length = "1 ft"
[[cord]]
name = "beyond the box"
from = "box"
gauge = "12 AWG"
length = "25 ft"
`)
	for id, want := range map[string]verdict.Result{"power/second/chained cords": verdict.Fails, "power/strip/outlet strip": verdict.Fails, "power/beyond the box/chained cords": "", "power/cord/chained cords": ""} {
		if got, text := outcome(r, id); got != want {
			t.Errorf("%s: %q, want %q (%s)", id, got, want, text)
		}
	}
	if c, _ := r.Find("power/second/chained cords"); !strings.Contains(c.Cure, "75 ft") || !strings.Contains(c.Cure, "from outlet") {
		t.Errorf("cure %q, want one cord of 75 ft from the outlet", c.Cure)
	}
}

// Energy of a night, with what the cords lose, and the fuel for it.
func TestEnergyAndFuel(t *testing.T) {
	r := runSite(t, floods("kind = \"generator\"\nvolts = 120\nrated = \"2000 W\"\nfuel = \"petrol\"\nbreaker = \"20 A\"\ngfci = true",
		"gauge = \"10 AWG\"\nlength = \"10 ft\"\ncontact_ohm = 0", "watts = 1000\npower_factor = 1.0\nhours = 4"))
	e := r.Circuit.Energy[0]
	if e.KWh == nil || e.FuelL == nil {
		t.Fatalf("%+v", e)
	}
	amps := 8.35                           // 1000 W at 119.8 V
	loss := amps * amps * 2 * 10 * 1.24e-3 // 10 AWG, NEC table 8
	if want := 4 * (1000 + loss) / 1000; math.Abs(*e.KWh-want) > 1e-3 {
		t.Errorf("%g kWh, want %g", *e.KWh, want)
	}
	if math.Abs(*e.FuelL-0.8**e.KWh) > 1e-9 {
		t.Errorf("%g L for %g kWh, want 0.8 L/kWh from half of its load on", *e.FuelL, *e.KWh)
	}
}

const planned = outdoors + `
[[supply]]
name = "west outlet"
at = ["0 ft", "0 ft"]
volts = 120
breaker = "15 A"
[[supply]]
name = "east outlet"
at = ["100 ft", "0 ft"]
volts = 120
breaker = "15 A"
[[lamp]]
name = "a"
at = ["10 ft", "0 ft"]
on = "west outlet"
amps = 8
hours = 5
[[lamp]]
name = "b"
at = ["20 ft", "0 ft"]
on = "west outlet"
amps = 3
hours = 5
[[lamp]]
name = "c"
at = ["45 ft", "0 ft"]
on = "west outlet"
amps = 3
hours = 5
`

func planOf(t *testing.T, src string) *verdict.PowerPlan {
	t.Helper()
	f, problems := site.Load("site.toml", []byte(src))
	if f == nil {
		t.Fatalf("the description was refused: %v", problems)
	}
	masses, _ := takeoff.Take(f)
	r, err := check.Run(f, masses, check.Options{PowerPlan: true, PowerOnly: true})
	if err != nil {
		t.Fatal(err)
	}
	return r.Circuit.Plan
}

// All three lamps are nearer to the west outlet, which carries 12 A for hours: one has to go east,
// and the one that loses least does.
func TestPowerPlan(t *testing.T) {
	p := planOf(t, planned)
	if p.TotalM == nil || !p.Proven {
		t.Fatalf("%+v", p)
	}
	outlets := map[string]string{}
	for _, x := range p.Rows {
		outlets[x.Lamp] = x.Outlet
	}
	want := map[string]string{"a": "west outlet", "b": "west outlet", "c": "east outlet"}
	for lamp, outlet := range want {
		if outlets[lamp] != outlet {
			t.Errorf("%s goes to %s, want %s", lamp, outlets[lamp], outlet)
		}
	}
	if want := (10 + 20 + 55) * 0.3048; math.Abs(*p.TotalM-want) > 1e-9 {
		t.Errorf("%g m of cord, want %g", *p.TotalM, want)
	}
	if p := planOf(t, strings.Replace(planned, "amps = 8", "amps = 13", 1)); p.TotalM != nil || !p.Proven || p.Why == "" {
		t.Errorf("16 A for hours on 15 A: %+v", p)
	}
	if p := planOf(t, strings.Replace(planned, "at = [\"45 ft\", \"0 ft\"]\n", "", 1)); p.TotalM != nil || !strings.Contains(p.Why, `lamp "c"`) {
		t.Errorf("a lamp without its place: %+v", p)
	}
	route := "[[cord]]\nname = \"along the hedge\"\nfrom = \"west outlet\"\ngauge = \"12 AWG\"\nlength = \"100 ft\"\nroute = [[\"0 ft\", \"6 ft\"], [\"100 ft\", \"6 ft\"]]\n"
	if p := planOf(t, planned+route); p.TotalM == nil || math.Abs(*p.TotalM-(10+20+55+6*6)*0.3048) > 1e-9 {
		t.Errorf("along the route: %+v", p)
	}
}

// Loads that no cord can carry are a finding that names the place, not an error.
func TestCollapseIsAFinding(t *testing.T) {
	r := runSite(t, floods("volts = 12\nkind = \"transformer\"", "gauge = \"18 AWG\"\nlength = \"300 ft\"", "watts = 100\npower_factor = 1.0"))
	for _, id := range []string{"power/floods/voltage drop", "power/cord/cord ampacity"} {
		c, ok := r.Find(id)
		if !ok || c.Result != verdict.Fails || !strings.Contains(c.Why, `gives way at "cord"`) && !strings.Contains(c.Why, "gives way at cord") || c.Cure == "" {
			t.Errorf("%s: %+v", id, c)
		}
	}
	for _, n := range r.Circuit.Nodes {
		if n.Volts != nil || n.Why == "" {
			t.Errorf("%s has %v V without a solution", n.Name, n.Volts)
		}
	}
}

// Three phases: the ampacity of three loaded conductors while all carry the same, and the factor for
// a neutral that carries current too as soon as one leg has a load of its own.
func TestThreePhaseSite(t *testing.T) {
	const site = outdoors + `
[[supply]]
name = "panel"
volts = 208
phases = 3
breaker = "20 A"
gfci = true
[[cord]]
name = "feeder"
from = "panel"
gauge = "12 AWG"
length = "50 ft"
[[lamp]]
name = "all"
on = "feeder"
watts = 3000
power_factor = 1.0
hours = 5
`
	r := runSite(t, site)
	if got := has(t, r, "power/feeder/cord ampacity"); got != 20 {
		t.Errorf("ampacity %g A, want 20 (NEC table 400.5(A)(1) column A, 12 AWG)", got)
	}
	c, _ := r.Find("power/panel/breaker")
	if want := 1.25 * 3000 / (math.Sqrt(3) * 208); math.Abs(*c.Needs-want) > 0.02*want {
		t.Errorf("breaker of %g A, want about %g", *c.Needs, want)
	}
	r = runSite(t, site+"[[lamp]]\nname = \"one\"\non = \"feeder\"\nleg = \"2\"\nwatts = 500\npower_factor = 1.0\nhours = 5\n")
	if got := has(t, r, "power/feeder/cord ampacity"); math.Abs(got-16) > 1e-9 {
		t.Errorf("ampacity %g A, want 16 (NEC table 400.5(A)(3): 0.80 for four loaded conductors)", got)
	}
	if b := r.Circuit.Circuits[0]; len(b.LegsA) != 3 || b.LegsA[1]-b.LegsA[0] < 4 || math.Abs(*b.NeutralA-4.2) > 0.2 {
		t.Errorf("legs %v A, neutral %v", b.LegsA, *b.NeutralA)
	}
}

// A receptacle whose rating is not given has 15 A.
func TestReceptacleUnknown(t *testing.T) {
	r := runSite(t, floods("volts = 120\nbreaker = \"20 A\"\ngfci = true", "gauge = \"12 AWG\"\nlength = \"10 ft\"", "amps = 13\nhours = 2"))
	c, ok := r.Find("power/outlet/receptacle")
	if !ok || c.Result != verdict.Fails || *c.Has != 12 || !strings.Contains(c.Cure, "20 A") {
		t.Errorf("%+v", c)
	}
	found := false
	for _, a := range r.Assumptions {
		found = found || strings.Contains(a.Text, "receptacle taken as 15 A")
	}
	if !found {
		t.Error("the receptacle is not among the assumptions")
	}
}

// Whatever supplies, cords and lamps a file has, every check of them is whole: it has an id of its own,
// a working when it was computed, a cure when it fails, a reason when it was not computed, and only
// finite numbers.
func TestRandomCircuits(t *testing.T) {
	seen := map[string]int{}
	rapid.Check(t, func(t *rapid.T) {
		pick := func(name string, from ...string) string { return rapid.SampledFrom(from).Draw(t, name) }
		maybe := func(name, line string) string {
			if rapid.Bool().Draw(t, name) {
				return line + "\n"
			}
			return ""
		}
		b := "[site]\nfriction = 0.4\ngust_alone = \"40 mph\"\n" + maybe("rules", "electrical = \""+pick("family", "us", "iec")+"\"") + maybe("ambient", "ambient = \""+pick("air", "-10 °C", "35 °C", "58 °C", "75 °C")+"\"")
		kind := pick("kind", "outlet", "outlet", "split", "three", "generator", "transformer", "battery")
		b += "[[supply]]\nname = \"s\"\nvolts = " + map[string]string{"outlet": pick("volts", "120", "230", "480"), "split": "240", "three": pick("volts", "208", "400"), "generator": "120",
			"transformer": pick("volts", "12", "24", "60"), "battery": pick("volts", "12", "120")}[kind] + "\n"
		switch kind {
		case "split":
			b += "split_phase = true\n"
		case "three":
			b += "phases = 3\n"
		case "generator":
			b += "kind = \"generator\"\n" + maybe("rated", "rated = \"2 kW\"\nsurge = \"3 kW\"") + maybe("va", "rated_va = \"2 kVA\"") + maybe("fuel", "fuel = \""+pick("burns", "diesel", "petrol")+"\"")
		case "transformer":
			b += "kind = \"transformer\"\n" + maybe("va", "rated_va = \"100 VA\"")
		case "battery":
			b += "kind = \"battery\"\n" + maybe("capacity", "capacity = \"600 Wh\"") + maybe("dc", "dc = true")
		}
		b += maybe("breaker", "breaker = \""+pick("rating", "10 A", "15 A", "20 A", "32 A", "200 A")+"\"") + maybe("gfci", "gfci = "+pick("on", "true", "false")) +
			maybe("curve", "curve = \""+pick("letter", "B", "C", "D")+"\"") + maybe("ohm", "source_ohm = "+pick("loop", "0", "0.3", "40")) + maybe("receptacle", "receptacle = \"20 A\"")
		from := []string{"s"}
		for i := range rapid.IntRange(0, 4).Draw(t, "cords") {
			name := fmt.Sprint("c", i)
			b += fmt.Sprintf("[[cord]]\nname = %q\nfrom = %q\nlength = \"%s\"\n", name, pick("from", from...), pick("length", "1 ft", "60 ft", "400 ft", "9000 ft")) +
				pick("size", "gauge = \"18 AWG\"\n", "gauge = \"12 AWG\"\n", "gauge = \"2.5 mm2\"\n", "ohm_per_km = 12\n") + maybe("kind", "kind = \""+pick("of", "cord", "splitter", "strip")+"\"") +
				maybe("type", "type = \""+pick("letters", "SJTW", "SPT-2", "H07RN-F")+"\"") + maybe("connection", "connection = \""+pick("lies", "open", "covered")+"\"") +
				maybe("layers", "layers = 3") + maybe("bundle", "bundle = "+pick("of cords", "2", "8"))
			from = append(from, name)
		}
		for i := range rapid.IntRange(0, 4).Draw(t, "lamps") {
			b += fmt.Sprintf("[[lamp]]\nname = \"l%d\"\non = %q\n", i, pick("on", from...)) + pick("draws", "watts = 60\n", "watts = 3000\n", "amps = 4\n", "device = \"led flood 50 W\"\n", "device = \"blower 1 hp\"\n", "watts = 0\n") +
				maybe("load", "load = \""+pick("as", "power", "current", "resistance")+"\"") + maybe("hours", "hours = "+pick("on for", "1", "5", "0")) + maybe("least", "min_volts = "+pick("least volts", "11", "100", "500")) +
				maybe("leakage", "leakage = \"0.4 mA\"") + maybe("inrush", "inrush = "+pick("times", "2", "15", "300")) + maybe("count", "count = 7")
			if kind == "split" {
				b += "leg = \"" + pick("leg", "1", "2", "1-2") + "\"\n"
			} else if kind == "three" {
				b += maybe("on a leg", "leg = \""+pick("leg", "1", "3", "2-3")+"\"")
			}
		}
		f, problems := site.Load("site.toml", []byte(b))
		if f == nil {
			t.Fatalf("the description was refused: %v\n%s", problems, b)
		}
		masses, _ := takeoff.Take(f)
		r, err := check.Run(f, masses, check.Options{PowerOnly: true, PowerPlan: true})
		if err != nil {
			t.Fatalf("%v\n%s", err, b)
		}
		if _, err := json.Marshal(r.Circuit); err != nil { // refuses what is not finite
			t.Fatalf("%v\n%s", err, b)
		}
		ids := map[string]bool{}
		for _, c := range r.Circuit.Checks {
			seen[c.What+" "+string(c.Result)]++
			switch {
			case ids[c.ID]:
				t.Errorf("%s is there twice\n%s", c.ID, b)
			case c.Result == verdict.Unchecked && c.Why == "":
				t.Errorf("%s is unchecked without a reason\n%s", c.ID, b)
			case c.Result != verdict.Unchecked && len(c.Working) == 0:
				t.Errorf("%s has no working\n%s", c.ID, b)
			case c.Result == verdict.Fails && c.Cure == "":
				t.Errorf("%s fails without a cure\n%s", c.ID, b)
			case c.Needs != nil && c.Has == nil && !strings.Contains(c.Why, "gives way"):
				t.Errorf("%s needs %v and has nothing\n%s", c.ID, *c.Needs, b)
			}
			ids[c.ID] = true
		}
	})
	if len(seen) < 45 {
		t.Errorf("%d kinds of results: too few to show anything: %v", len(seen), seen)
	}
}
