package main

import (
	"bytes"
	"math"
	"strings"
	"testing"

	"galefast/internal/verdict"
)

// Flags alone give what a description of the same cord gives.
func TestQuickCordAgreesWithPower(t *testing.T) {
	for _, c := range []struct {
		flags []string
		site  string
	}{
		{[]string{"--watts", "1500", "--length", "100 ft", "--gauge", "12 AWG", "--breaker", "20 A", "--gfci", "--load", "resistance", "--lighting=false", "--type", "SJTW", "--hours", "2"},
			"[[supply]]\nname = \"outlet\"\nvolts = 120\nbreaker = \"20 A\"\ngfci = true\n[[cord]]\nname = \"cord\"\nfrom = \"outlet\"\ngauge = \"12 AWG\"\nlength = \"100 ft\"\ntype = \"SJTW\"\n[[lamp]]\nname = \"load\"\non = \"cord\"\nwatts = 1500\nload = \"resistance\"\nlighting = false\nhours = 2\n"},
		{[]string{"--volts", "230 V", "--amps", "8 A", "--length", "40 m", "--gauge", "1.5 mm2", "--power-factor", "0.9", "--source-ohm", "0.3", "--coiled", "--ambient", "35 °C"},
			"units = \"si\"\n[site]\ngust_alone = \"1 m/s\"\nambient = \"35 °C\"\n[[supply]]\nname = \"outlet\"\nvolts = 230\nsource_ohm = 0.3\n[[cord]]\nname = \"cord\"\nfrom = \"outlet\"\ngauge = \"1.5 mm2\"\nlength = \"40 m\"\ncoiled = true\n[[lamp]]\nname = \"load\"\non = \"cord\"\namps = 8\npower_factor = 0.9\n"},
	} {
		if !strings.Contains(c.site, "[site]") {
			c.site = "[site]\ngust_alone = \"1 m/s\"\n" + c.site
		}
		var quick, whole verdict.Circuit
		command(t, &quick, "", append([]string{"quick", "cord", "--json"}, c.flags...)...)
		command(t, &whole, c.site, "power", "--json", "-")
		if len(quick.Checks) != len(whole.Checks) || len(quick.Checks) < 6 {
			t.Fatalf("%v: %d checks, and %d of the description", c.flags, len(quick.Checks), len(whole.Checks))
		}
		for i, x := range quick.Checks {
			y := whole.Checks[i]
			if x.ID != y.ID || x.Result != y.Result || x.Cure != y.Cure || (x.Has == nil) != (y.Has == nil) || x.Has != nil && *x.Has != *y.Has {
				t.Errorf("%v: %+v, and of the description %+v", c.flags, x, y)
			}
		}
	}
}

// Without a gauge it takes the least that holds: the drop holds with it and fails with the next
// thinner one.
func TestQuickCordTakesTheLeastGauge(t *testing.T) {
	drop := func(args ...string) verdict.Check {
		var c verdict.Circuit
		command(t, &c, "", append([]string{"quick", "cord", "--json", "--watts", "1200 W", "--length", "120 ft", "--load", "resistance"}, args...)...)
		for _, x := range c.Checks {
			if x.What == "voltage drop" {
				if len(args) == 0 && c.Runs[0].Gauge != *c.Runs[0].NeedsGauge {
					t.Errorf("it took %s and needs %s", c.Runs[0].Gauge, *c.Runs[0].NeedsGauge)
				}
				return x
			}
		}
		t.Fatal("no voltage drop")
		return verdict.Check{}
	}
	least := drop()
	if least.Result != verdict.Holds {
		t.Errorf("the least gauge fails: %+v", least)
	}
	// 2 x 120 ft x 1.24 ohm/kft x 9.74 A (NEC table 8, 10 AWG) = 2.9 V, 2.4 %; 12 AWG would drop 3.8 %.
	if math.Abs(*least.Has-2.45) > 0.06 {
		t.Errorf("drop %g %%, want about 2.45", *least.Has)
	}
	if thinner := drop("--gauge", "12 AWG"); thinner.Result != verdict.Fails {
		t.Errorf("12 AWG: %+v", thinner)
	}
}

// What is missing or wrong is told by the name of the flag.
func TestQuickCordRefuses(t *testing.T) {
	for _, c := range []struct {
		args []string
		want string
	}{
		{nil, "--length is missing"},
		{[]string{"--length", "50 ft"}, "--watts or --amps is missing"},
		{[]string{"--length", "50 ft", "--watts", "60", "--amps", "1"}, "both --watts and --amps"},
		{[]string{"--length", "50", "--watts", "60"}, "--length: "},
		{[]string{"--length", "50 ft", "--watts", "60", "--gauge", "fat"}, "--gauge: "},
		{[]string{"--length", "50 ft", "--watts", "60", "--phases", "2"}, "1 or 3"},
		{[]string{"--length", "50 ft", "--watts", "60", "a.toml"}, "a.toml"},
	} {
		var out, problems bytes.Buffer
		if exit := run(append([]string{"quick", "cord"}, c.args...), strings.NewReader(""), &out, &problems); exit != exitUnusable || !strings.Contains(problems.String(), c.want) || out.Len() > 0 {
			t.Errorf("%q: exit %d, %q, and %d bytes of output; want %q", c.args, exit, problems.String(), out.Len(), c.want)
		}
	}
}

// The text ends with the cautions, and --explain shows the working.
func TestQuickCordText(t *testing.T) {
	text := func(args ...string) string {
		var out, problems bytes.Buffer
		if exit := run(append([]string{"quick", "cord", "--watts", "60", "--length", "50 ft"}, args...), strings.NewReader(""), &out, &problems); exit != exitHolds || problems.Len() > 0 {
			t.Fatalf("exit %d, %s", exit, problems.String())
		}
		return out.String()
	}
	short, long := text(), text("--explain")
	for _, want := range []string{"Cords\n", "Assumptions\n", "Cautions\n", "contact_ohm taken as 0.01 ohm"} {
		if !strings.Contains(short, want) {
			t.Errorf("no %q in\n%s", want, short)
		}
	}
	if strings.Contains(short, "0.95 · U0") || !strings.Contains(long, "loop = 2 · length · R") {
		t.Error("the working stands with --explain and only there")
	}
}
