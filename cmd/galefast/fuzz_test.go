package main

import (
	"bytes"
	"encoding/json"
	"regexp"
	"slices"
	"strings"
	"testing"

	"galefast/internal/leash"
)

// noNumber is what no output says.
var noNumber = regexp.MustCompile(`\b(NaN|[+-]?Inf)\b|%!`)

// FuzzQuick gives any texts to any flags of galefast quick, a flag a line: an answer, or a refusal
// with a reason, and never a description of its own that cannot be read.
func FuzzQuick(f *testing.F) {
	for kind, lines := range []string{
		"width=22 in\nheight=9 ft\nmass=120 lb\nfoot=4 ft\ngust-open=20 mph\ngust-alone=35 mph\nground=asphalt",
		"width=2.4 m\nheight=1.8 m\nmass=30 kg\nbraces=3\nbrace-reach=1.2 m\nbrace-height=1.35 m\ngust-alone=15 m/s\nunderside=2 in\njson=true",
		"width=40 in\nheight=5 ft\nmass=24 lb\nsolidity=0.4\nhinge=10 in\nhinge=50 in\nscrews=4\nscrew-gauge=9\nscrew-length=1 1/4 in\ninto=spf\nkeep-closed=latch\ncolumn-width=24 in\ncolumn-height=8 ft\ncolumn-mass=110 lb\ngust-alone=35 mph\nbags=2",
		"watts=1500 W\nlength=100 ft\nbreaker=15 A\ngfci=true",
	} {
		f.Add(uint8(kind), lines)
	}
	f.Add(uint8(3), "volts=230 V\namps=8 A\nlength=40 m\ngauge=1.5 mm2\ntype=\"\\\x07\xff\u202e\nexplain=true\npower-factor=NaN")
	f.Add(uint8(0), "width=600 mm\ndepth=400 mm\nshape=rectangle\nheight=2.4 m\nweighed=41 kg\nfoot=1.2 m\nfoot-depth=0.9 m\ngust-alone=15 m/s\nfriction=0.4\nslope=50 %\nterrain=II\nbags=3\nbag=sandbag 15 kg\nexplain=true\nunits=si")
	f.Add(uint8(1), "width=0 ft\nheight=-1 ft\nmass=1e9 lb\nreturn=9999 m\nsolidity=Inf\ngust-alone=0 mph")
	f.Add(uint8(2), "help")
	f.Fuzz(func(t *testing.T, kind uint8, lines string) {
		args := []string{"quick", []string{"column", "wall", "gate", "cord"}[kind%4]}
		for line := range strings.SplitSeq(lines, "\n") {
			args = append(args, "--"+line)
		}
		defer leash.Hold(func() string { return strings.Join(args, "\n") })()
		var stdout, stderr bytes.Buffer
		exit := run(args, strings.NewReader(""), &stdout, &stderr)
		switch {
		case exit == exitUnusable && stderr.Len() == 0:
			t.Errorf("refused without a reason: %q", args)
		case exit != exitUnusable && stdout.Len() == 0:
			t.Errorf("nothing was printed: %q", args)
		case exit == exitHolds && slices.Contains(args, "--json=true") && !json.Valid(stdout.Bytes()):
			t.Errorf("no JSON of %q: %s", args, stdout.String())
		}
		if at := noNumber.FindString(stdout.String()); at != "" && !noNumber.MatchString(lines) {
			t.Errorf("%q printed of %q", at, args)
		}
		for _, slip := range []string{"in double quotes has no meaning", "needs quotes", "cannot be read"} {
			if strings.Contains(stderr.String(), slip) {
				t.Errorf("%q makes a description that cannot be read: %s", args, stderr.String())
			}
		}
	})
}
