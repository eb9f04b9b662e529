package main

import (
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
	"unicode"

	"github.com/spf13/cobra"

	"galefast/internal/quantity"
	"galefast/internal/sheet"
)

// quickCord is a supply, one cord and what hangs on it. Texts are as in a description.
type quickCord struct {
	volts, watts, amps, length, gauge, breaker, hours, ambient, sourceOhm string
	cordType, load, rules                                                 string
	powerFactor                                                           float64
	phases                                                                int
	dc, gfci, coiled, lighting, explain                                   bool
}

func (a *app) quickCordCommand() *cobra.Command {
	q := &quickCord{}
	cmd := &cobra.Command{
		Use:   "cord",
		Short: "Which gauge a cord needs, its drop, and whether it holds",
		Long: `cord answers for one cord between an outlet and a load: the least gauge, the greatest length of each,
the drop, and every check that galefast power makes. Without --gauge it takes the least one that holds.`,
		Example: `  galefast quick cord --watts "1500 W" --length "100 ft" --breaker "15 A" --gfci
  galefast quick cord --volts "230 V" --amps "8 A" --length "40 m" --gauge "1.5 mm2" --explain`,
		Args: cobra.NoArgs,
		RunE: func(cmd *cobra.Command, args []string) error {
			a.options.PowerOnly = true
			return a.quickCord(cmd, q)
		},
	}
	f := cmd.Flags()
	f.StringVar(&q.volts, "volts", "120 V", "nominal `voltage` of the outlet")
	f.StringVar(&q.watts, "watts", "", "`power` of the load")
	f.StringVar(&q.amps, "amps", "", "`current` of the load in place of its power")
	f.StringVar(&q.length, "length", "", "`length` of the cord")
	f.StringVar(&q.gauge, "gauge", "", "conductor `size`, as 16 AWG or 1.5 mm2")
	f.StringVar(&q.cordType, "type", "", "`letters` on the jacket")
	f.StringVar(&q.breaker, "breaker", "", "`rating` of the breaker")
	f.StringVar(&q.hours, "hours", "", "`time` that the load stays on")
	f.StringVar(&q.ambient, "ambient", "", "`temperature` of the warmest air around the cord")
	f.StringVar(&q.sourceOhm, "source-ohm", "", "`resistance` of the loop up to the outlet")
	f.StringVar(&q.load, "load", "", "what stays when the voltage falls: power, current or resistance")
	f.StringVar(&q.rules, "electrical", "", "us for the NEC or iec for IEC 60364 (default: as the voltage tells)")
	f.Float64Var(&q.powerFactor, "power-factor", 0, "power factor of the load")
	f.IntVar(&q.phases, "phases", 1, "1 or 3")
	f.BoolVar(&q.dc, "dc", false, "direct current")
	f.BoolVar(&q.gfci, "gfci", false, "a GFCI or RCD protects it")
	f.BoolVar(&q.lighting, "lighting", true, "the load gives light; --lighting=false for heaters, motors and the like")
	f.BoolVar(&q.coiled, "coiled", false, "part of the cord stays on its drum")
	f.BoolVar(&q.explain, "explain", false, "add the working of every computed check")
	return cmd
}

// check refuses what a description would refuse, in the words of the flags.
func (q *quickCord) check() error {
	for text, unit := range map[*string]string{&q.volts: " V", &q.watts: " W", &q.amps: " A", &q.hours: " h", &q.sourceOhm: " ohm"} {
		if _, err := strconv.ParseFloat(*text, 64); err == nil {
			*text += unit // as the key of a description does
		}
	}
	switch {
	case q.length == "":
		return fmt.Errorf(`--length is missing, as in --length "100 ft"`)
	case q.watts == "" && q.amps == "":
		return fmt.Errorf(`--watts or --amps is missing, as in --watts "1500 W"`)
	case q.watts != "" && q.amps != "":
		return fmt.Errorf("both --watts and --amps are given; one of them is enough")
	case !number(q.powerFactor):
		return fmt.Errorf("--power-factor: %v is no number", q.powerFactor)
	}
	for _, x := range []struct {
		flag, text string
		parse      func(string) error
	}{
		{"volts", q.volts, parses[quantity.Voltage]}, {"watts", q.watts, parses[quantity.Power]}, {"amps", q.amps, parses[quantity.Current]},
		{"length", q.length, parses[quantity.Length]}, {"gauge", q.gauge, parses[quantity.WireArea]}, {"breaker", q.breaker, parses[quantity.Current]},
		{"hours", q.hours, parses[quantity.Duration]}, {"ambient", q.ambient, parses[quantity.Temperature]}, {"source-ohm", q.sourceOhm, parses[quantity.Resistance]},
	} {
		if x.text == "" {
			continue
		}
		if err := x.parse(x.text); err != nil {
			return fmt.Errorf("--%s: %w", x.flag, err)
		}
	}
	return nil
}

// number reports whether a flag that wants a number got one.
func number(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }

// quoted is a text as a description holds it.
func quoted(text string) string {
	var b strings.Builder
	b.WriteByte('"')
	for _, r := range text { // what is no UTF-8 becomes U+FFFD
		switch {
		case r == '"' || r == '\\':
			b.WriteRune('\\')
			b.WriteRune(r)
		case unicode.IsControl(r):
			fmt.Fprintf(&b, "\\u%04X", r)
		default:
			b.WriteRune(r)
		}
	}
	b.WriteByte('"')
	return b.String()
}

func parses[Q quantity.Quantity](text string) error {
	_, err := quantity.Parse[Q](text)
	return err
}

// description writes the flags as a description. The site has no pieces, so that the wind, which
// every description gives, plays no part.
func (q *quickCord) description(gauge, units string) string {
	var b strings.Builder
	line := func(key, text string) {
		if text != "" {
			fmt.Fprintf(&b, "%s = %s\n", key, quoted(text))
		}
	}
	flag := func(key string, on bool) {
		if on {
			fmt.Fprintf(&b, "%s = true\n", key)
		}
	}
	draws := q.watts
	if draws == "" {
		draws = q.amps
	}
	line("title", fmt.Sprintf("%s of %s, %s at %s", q.length, gauge, draws, q.volts))
	line("units", units)
	b.WriteString("[site]\ngust_alone = \"1 m/s\"\n")
	line("ambient", q.ambient)
	line("electrical", q.rules)
	b.WriteString("[[supply]]\nname = \"outlet\"\n")
	line("volts", q.volts)
	line("breaker", q.breaker)
	line("source_ohm", q.sourceOhm)
	flag("dc", q.dc)
	flag("gfci", q.gfci)
	if q.phases != 1 {
		fmt.Fprintf(&b, "phases = %d\n", q.phases)
	}
	b.WriteString("[[cord]]\nname = \"cord\"\nfrom = \"outlet\"\n")
	line("gauge", gauge)
	line("type", q.cordType)
	line("length", q.length)
	flag("coiled", q.coiled)
	b.WriteString("[[lamp]]\nname = \"load\"\non = \"cord\"\n")
	line("watts", q.watts)
	line("amps", q.amps)
	line("load", q.load)
	line("hours", q.hours)
	if !q.lighting {
		b.WriteString("lighting = false\n")
	}
	if q.powerFactor != 0 {
		fmt.Fprintf(&b, "power_factor = %v\n", q.powerFactor)
	}
	return b.String()
}

// quickCord checks the cord, with the least gauge when none is given.
func (a *app) quickCord(cmd *cobra.Command, q *quickCord) error {
	if err := q.check(); err != nil {
		return fmt.Errorf("%w; `%s --help` lists the flags", err, cmd.CommandPath())
	}
	units := a.units
	if units == "" {
		units = "us"
		if strings.HasSuffix(strings.TrimSpace(q.length), "m") {
			units = "si"
		}
	}
	gauge := q.gauge
	if gauge == "" {
		_, r, _, err := a.description("quick cord", []byte(q.description(quickGauges[units], units)))
		if err != nil {
			return err
		}
		switch run := r.Circuit.Runs; {
		case len(run) == 0:
			gauge = quickGauges[units]
		case run[0].NeedsGauge != nil:
			gauge = *run[0].NeedsGauge
		default: // none holds; the thickest shows by how much
			gauge = run[0].Longest[len(run[0].Longest)-1].Gauge
		}
	}
	_, r, style, err := a.description("quick cord", []byte(q.description(gauge, units)))
	if err != nil {
		return err
	}
	return a.print(func(w io.Writer) error {
		if a.json {
			return sheet.JSON(w, r.Circuit)
		}
		return sheet.QuickCord(w, r, style, q.explain)
	})
}

// quickGauges are what is tried first: its family is that of the answer.
var quickGauges = map[string]string{"us": "16 AWG", "si": "1.5 mm2"}
