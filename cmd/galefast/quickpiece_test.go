package main

import (
	"bytes"
	"strings"
	"testing"

	"galefast/internal/verdict"
)

// Flags alone give what a description of the same piece gives, check for check.
func TestQuickPieceAgreesWithCheck(t *testing.T) {
	for _, c := range []struct {
		piece string
		flags []string
		site  string
		least int // checks that must be there
	}{
		{"column", []string{"--width", "22 in", "--height", "9 ft", "--mass", "120 lb", "--foot", "4 ft", "--gust-open", "20 mph", "--gust-alone", "35 mph", "--ground", "asphalt", "--bags", "3"},
			"[site]\nground = \"asphalt\"\ngust_open = \"20 mph\"\ngust_alone = \"35 mph\"\n[[column]]\nname = \"column\"\nat = [\"0 ft\", \"0 ft\"]\nfoot = [\"4 ft\", \"4 ft\"]\nsection = [{ name = \"body\", width = \"22 in\", height = \"9 ft\", mass = \"120 lb\" }]\n[[ballast]]\nin = \"column\"\nunit = \"sandbag 40 lb\"\ncount = 3\n", 2},
		{"column", []string{"--width", "0.8 m", "--depth", "0.5 m", "--shape", "rectangle", "--foot", "1 m", "--foot-depth", "0.9 m", "--height", "2.4 m", "--weighed", "60 kg", "--gust-alone", "14 m/s", "--friction", "0.4", "--slope", "1 %", "--terrain", "B", "--bag", "sandbag 15 kg"},
			"units = \"si\"\n[site]\nfriction = 0.4\nslope = \"1 %\"\nterrain = \"B\"\ngust_alone = \"14 m/s\"\n[[column]]\nname = \"column\"\nat = [\"0 ft\", \"0 ft\"]\nweighed = \"60 kg\"\nfoot = [\"1 m\", \"0.9 m\"]\nsection = [{ name = \"body\", shape = \"rectangle\", width = \"0.8 m\", depth = \"0.5 m\", height = \"2.4 m\" }]\n[[ballast]]\nin = \"column\"\nunit = \"sandbag 15 kg\"\ncount = 0\n", 2},
		{"wall", []string{"--width", "8 ft", "--height", "6 ft", "--mass", "70 lb", "--underside", "2 in", "--solidity", "0.9", "--braces", "3", "--brace-reach", "4 ft", "--brace-height", "54 in", "--gust-alone", "35 mph", "--tolerance", "15 %"},
			"[site]\ngust_alone = \"35 mph\"\ntolerance = \"15 %\"\n[[wall]]\nname = \"wall\"\nfrom = [\"0 ft\", \"0 ft\"]\nto = [\"8 ft\", \"0 ft\"]\nheight = \"6 ft\"\nunderside = \"2 in\"\nsolidity = 0.9\nmass = \"70 lb\"\nbraces = { count = 3, reach = \"4 ft\", height = \"54 in\" }\n", 2},
		{"wall", []string{"--width", "2.4 m", "--height", "1.8 m", "--weighed", "40 kg", "--foot", "10 cm", "--return", "1.2 m", "--gust-alone", "14 m/s"},
			"units = \"si\"\n[site]\ngust_alone = \"14 m/s\"\n[[wall]]\nname = \"wall\"\nfrom = [\"0 ft\", \"0 ft\"]\nto = [\"2.4 m\", \"0 ft\"]\nheight = \"1.8 m\"\nfoot = \"10 cm\"\nreturn = \"1.2 m\"\nweighed = \"40 kg\"\n", 2},
		{"gate", []string{"--width", "40 in", "--height", "5 ft", "--mass", "24 lb", "--solidity", "0.5", "--thickness", "1 in", "--clearance", "4 in", "--open", "80 deg", "--keep-closed", "latch", "--keep-open", "hook",
			"--hinge", "10 in", "--hinge", "50 in", "--screws", "4", "--screw-gauge", "9", "--screw-length", "1 1/4 in", "--into", "spf",
			"--column-width", "24 in", "--column-height", "8 ft", "--column-mass", "110 lb", "--column-foot", "5 ft", "--gust-alone", "35 mph", "--bags", "8"},
			"[site]\ngust_alone = \"35 mph\"\n[[column]]\nname = \"column\"\nat = [\"0 ft\", \"0 ft\"]\nfoot = [\"5 ft\", \"5 ft\"]\nsection = [{ name = \"body\", width = \"24 in\", height = \"8 ft\", mass = \"110 lb\" }]\n[[gate]]\nname = \"leaf\"\nhung_on = \"column\"\nface = \"east\"\nopens = \"north\"\nwidth = \"40 in\"\nheight = \"5 ft\"\nmass = \"24 lb\"\nsolidity = 0.5\nthickness = \"1 in\"\nclearance = \"4 in\"\nopen = \"80 deg\"\nkeeper = { closed = \"latch\", open = \"hook\" }\nhinge = { heights = [\"10 in\", \"50 in\"], screws = 4, gauge = 9, length = \"1 1/4 in\", into = \"spf\" }\n[[ballast]]\nin = \"column\"\nunit = \"sandbag 40 lb\"\ncount = 8\n", 3},
	} {
		var quick, whole verdict.Report
		command(t, &quick, "", append([]string{"quick", c.piece, "--json"}, c.flags...)...)
		command(t, &whole, c.site, "check", "--json", "-")
		if len(quick.Checks) < c.least {
			t.Errorf("%s %v: %d checks", c.piece, c.flags, len(quick.Checks))
		}
		for _, x := range quick.Checks {
			y, ok := whole.Find(x.ID)
			if !ok || x.Result != y.Result || x.Cure != y.Cure || (x.Has == nil) != (y.Has == nil) || x.Has != nil && *x.Has != *y.Has {
				t.Errorf("%s %v: %+v, and of the description %+v", c.piece, c.flags, x, y)
			}
		}
		for _, y := range whole.Checks {
			if _, ok := quick.Find(y.ID); !ok && (y.Kind == verdict.Standing || y.Kind == verdict.Hardware) {
				t.Errorf("%s %v: no %s", c.piece, c.flags, y.ID)
			}
		}
	}
}

// What is missing or wrong is told by the name of the flag.
func TestQuickPieceRefuses(t *testing.T) {
	for _, c := range []struct{ line, want string }{
		{"column", "--width is missing"},
		{"column --width 2ft", "--height is missing"},
		{"column --width 2ft --height 8ft", "--mass or --weighed is missing"},
		{"column --width 2ft --height 8ft --mass 90lb", "--gust-alone is missing"},
		{"column --width 2 --height 8ft --mass 90lb --gust-alone 35mph", "--width: "},
		{"column --width 2ft --height 8ft --mass 90ft --gust-alone 35mph", "--mass: "},
		{"column --width 2ft --height 8ft --mass 90lb --gust-alone 35mph --ground asfalt", "did you mean \"asphalt\"?"},
		{"column --width 2ft --height 8ft --mass 90lb --gust-alone 35mph --bags -1", "--bags: -1"},
		{"column --width 2ft --height 8ft --mass 90lb --gust-alone 35mph a.toml", "a.toml"},
		{"wall --width 8ft --height 6ft --mass 90lb --gust-alone 35mph --braces 2", "--braces needs"},
		{"wall --width 8ft --height 6ft --mass 90lb --gust-alone 35mph --brace-reach 3ft", "need --braces"},
		{"gate --width 3ft --height 5ft --mass 24lb --gust-alone 35mph", "--column-width is missing"},
		{"gate --width 3ft --height 5ft --mass 24lb --gust-alone 35mph --column-width 2ft --column-height 8ft", "--column-mass or"},
		{"gate --width 3ft --height 5ft --mass 24lb --gust-alone 35mph --column-width 2ft --column-height 8ft --column-mass 90lb --hinge 5", "--hinge: "},
	} {
		var out, problems bytes.Buffer
		exit := run(append([]string{"quick"}, strings.Fields(c.line)...), strings.NewReader(""), &out, &problems)
		if exit != exitUnusable || !strings.Contains(problems.String(), c.want) || out.Len() > 0 {
			t.Errorf("%q: exit %d, %q, and %d bytes of output; want %q", c.line, exit, problems.String(), out.Len(), c.want)
		}
	}
}

// The text has the answer, the ballast, the gusts, the assumptions and the cautions; the
// working stands with --explain and only there; what flags cannot describe is left out.
func TestQuickPieceText(t *testing.T) {
	text := func(args ...string) string {
		var out, problems bytes.Buffer
		line := append(strings.Fields("quick column --width 22in --height 9ft --mass 120lb --foot 4ft --gust-open 20mph --gust-alone 35mph --ground asphalt"), args...)
		if exit := run(line, strings.NewReader(""), &out, &problems); exit != exitHolds || problems.Len() > 0 {
			t.Fatalf("exit %d, %s", exit, problems.String())
		}
		return out.String()
	}
	short, long := text(), text("--explain")
	for _, want := range []string{"Standing, factors\n", "Ballast that must be there\n", "Gust at which", "Assumptions\n", "Cautions\n"} {
		if !strings.Contains(short, want) {
			t.Errorf("no %q in\n%s", want, short)
		}
	}
	const working = "overturning moment"
	if strings.Contains(short, working) || !strings.Contains(long, working) || strings.Contains(long, "way/site") {
		t.Errorf("the working stands with --explain and only there; nothing of the way:\n%s", long)
	}
}
