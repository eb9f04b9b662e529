package fastener

import (
	"encoding/csv"
	"math"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"
)

var units = map[string]float64{
	"": 1, "%": 1, "deg": math.Pi / 180, "in": inch, "N": 1, "kN": 1e3, "lbf": lbf, "10 lbf": 10 * lbf, "kip": 1e3 * lbf, "lbf/in": lbf / inch, "lbf/in cut": lbf / inch,
	"lbf ±1": lbf, "50 psi": 50 * psi, "ksi": 1e3 * psi, "N/mm2": 1e6,
}

// reference is one row of testdata/reference/fasteners.csv.
type reference struct {
	t                   *testing.T
	id, formula, output string
	inputs              map[string]string
}

func (r reference) must(err error) {
	r.t.Helper()
	if err != nil {
		r.t.Fatalf("%s: %v", r.id, err)
	}
}

func (r reference) text(key, fallback string) string {
	if s, ok := r.inputs[key]; ok {
		return s
	}
	return fallback
}

func (r reference) number(key string, fallback float64) float64 {
	s, ok := r.inputs[key]
	if !ok {
		return fallback
	}
	v, err := strconv.ParseFloat(s, 64)
	r.must(err)
	return v
}

// TestReference checks published and separately computed values, each to half its last printed
// digit. Whether a row was published or computed stands in its certainty.
func TestReference(t *testing.T) {
	f, err := os.Open("../../testdata/reference/fasteners.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	seen := map[string]int{} // published rows by formula
	for i, row := range rows[1:] {
		r := reference{t, row[0], row[1], row[3], map[string]string{}}
		for _, kv := range strings.Fields(row[2]) {
			k, v, _ := strings.Cut(kv, "=")
			r.inputs[k] = strings.ReplaceAll(v, "_", " ")
		}
		if row[6] == "" || rank(row[7]) == 4 {
			t.Errorf("row %d: source %q, certainty %q", i+2, row[6], row[7])
		}
		if rank(row[7]) < 2 {
			seen[r.formula]++
		}
		got, text := r.compute()
		if text != "" {
			if text != row[4] {
				t.Errorf("row %d %s: %s %s: got %s, want %s\nsource: %s; %s", i+2, r.id, row[2], r.output, text, row[4], row[6], row[7])
			}
			continue
		}
		unit, ok := units[row[5]]
		want, err := strconv.ParseFloat(row[4], 64)
		if err != nil || !ok {
			t.Fatalf("row %d: %q %q", i+2, row[4], row[5])
		}
		got /= unit
		off := math.Abs(got-want) <= halfDigit(row[4])*(1+1e-9)
		switch row[5] {
		case "lbf/in cut": // the page cuts decimals off
			off = math.Trunc(got) == want
		case "lbf ±1":
			off = math.Abs(got-want) <= 1
		}
		if !off {
			t.Errorf("row %d %s: %s %s: got %.6g %s, want %s\nsource: %s; %s", i+2, r.id, row[2], r.output, got, row[5], row[4], row[6], row[7])
		}
	}
	for formula, least := range map[string]int{"withdrawal": 25, "lateral": 15, "pull-through": 3, "combined": 2, "hinges": 2} {
		if seen[formula] < least {
			t.Errorf("%d published rows of %s, want %d", seen[formula], formula, least)
		}
	}
}

// halfDigit is half a unit of the last printed digit.
func halfDigit(s string) float64 {
	_, decimals, _ := strings.Cut(s, ".")
	return 0.5 * math.Pow(10, -float64(len(decimals)))
}

// joint builds the row's joint: of one wood, the fastener deep enough in it unless the row says
// otherwise.
func (r reference) joint() Joint {
	var j Joint
	kind := WoodScrew
	for k := WoodScrew; k <= Bolt; k++ {
		if k.String() == r.text("kind", "") {
			kind = k
		}
	}
	length := r.number("length_in", 0) * inch
	if length == 0 && kind != Nail && kind != Bolt {
		length = 6 * inch
	}
	size := r.text("size", map[Kind]string{WoodScrew: "#12", LagScrew: "3/4", Nail: "8d"}[kind])
	f, err := Of(kind, size, length)
	r.must(err)
	if d := r.number("d_in", 0) * inch; d > 0 {
		f.D, f.Root = d, 0.7*d
	}
	f.Head = r.number("head_in", f.Head/inch) * inch
	wood := Material{Name: "wood", G: r.number("g", 0.5)}
	if m := r.text("material", ""); m != "" {
		wood, err = MaterialOf(m)
		r.must(err)
	}
	j.Side = Member{Material: wood, Thickness: r.number("ts_in", 1) * inch, Angle: r.number("side_deg", 0) * math.Pi / 180}
	j.Main = Member{Material: wood, Thickness: r.number("tm_in", 12) * inch, Angle: r.number("main_deg", 0) * math.Pi / 180}
	if t := r.number("steel_in", 0); t > 0 {
		j.Side.Material, err = MaterialOf("steel")
		r.must(err)
		j.Side.Thickness = t * inch
	}
	if t := r.number("thread_in", 0); t > 0 {
		f.Thread = t * inch
	}
	if w := r.text("washer", ""); w != "" {
		for _, have := range WashersFor(f.Size) {
			if have.Name == w {
				f.Washer = have
			}
		}
	}
	j.Service.Duration = TenYears
	if r.text("duration", "") == "wind" {
		j.Service.Duration = Wind
	}
	j.Fastener = f
	return j
}

func (r reference) compute() (float64, string) {
	r.t.Helper()
	t, err := tables()
	r.must(err)
	switch r.formula {
	case "withdrawal":
		j := r.joint()
		c, err := j.Withdrawal()
		r.must(err)
		held := (&nds{j, t}).holding()
		switch r.output {
		case "per inch":
			return c.Reference / held, ""
		case "held":
			return held, ""
		case "percent":
			return r.number("demand_lbf", 0) * lbf / c.Value * 100, ""
		}
		return r.pick(c)
	case "pull-through", "washer":
		c, err := r.joint().PullThrough()
		r.must(err)
		return r.pick(c)
	case "steel":
		return r.pick((&nds{r.joint(), t}).steel())
	case "lateral":
		c, err := r.joint().Lateral()
		r.must(err)
		if r.output == "mode" {
			mode, _, _ := strings.Cut(c.Mode, ":")
			return 0, mode
		}
		return r.pick(c)
	case "yield":
		// F_e as the formula gives it: the source does not round it.
		d, fe := r.number("d_in", 0), 16600*math.Pow(r.number("g", 0), 1.84)
		zs := yield(d, r.number("lm_in", 0), r.number("ts_in", 0), fe, fe, r.number("fyb_psi", 0), reduction(d, d, 0))
		return zs[slices.Index(modeNames[:], r.output)] * lbf, ""
	case "bearing":
		var c Capacity
		j := r.joint()
		return (&nds{j, t}).bearing(&c, j.Main, "F_e", false) * psi, ""
	case "yield strength":
		return r.joint().Fastener.Fyb, ""
	case "reduction":
		f := r.joint().Fastener
		return reduction(f.D/inch, f.Root/inch, 0)[0], ""
	case "combined":
		j := r.joint()
		d := Demand{r.number("v", 0), r.number("t", 0)}
		share, _, _ := j.combine(d, d.Lateral/r.number("z", 0), d.Tension/r.number("w", 0))
		if r.output == "resistance" {
			// Twice as strong in pull as across, so that neither alone governs at these angles.
			return math.Hypot(d.Lateral, d.Tension) / share, ""
		}
		return share, ""
	case "hinges":
		return r.hinges(), ""
	case "turning": // a load against a stop, both across the leaf
		l := Leaf{Hinges: []float64{0, 1}, Stopped: true, StopX: r.number("against", 1)}
		cases, err := l.Reactions([]Load{{"push", Vec{0, r.number("force", 0), 0}, Vec{r.number("at", 0), 0, 0.5}}})
		r.must(err)
		return cases[0].Stop, ""
	case "section":
		var bolts []float64
		for _, s := range strings.Split(r.text("bolts_mm", ""), ",") {
			y, err := strconv.ParseFloat(s, 64)
			r.must(err)
			for range int(r.number("each", 1)) {
				bolts = append(bolts, y/1e3)
			}
		}
		o, err := Section{Depth: 0.5, Bolts: bolts}.Open(0, 0, r.number("force_kn", 0)*1e3*r.number("arm_mm", 0)/1e3)
		r.must(err)
		return o.Bolts[len(bolts)-1], ""
	case "en withdrawal":
		wood, err := MaterialOf(r.text("material", ""))
		r.must(err)
		d, l := r.number("d_mm", 0)/1e3, r.number("thread_mm", 0)/1e3
		f := Fastener{Kind: WoodScrew, D: d, Root: 0.65 * d, Head: 2 * d, Length: l + 0.01, Thread: l, Fu: 5e8}
		j := Joint{Code: EN1995, Fastener: f, Side: Member{Material: wood, Thickness: 0.01}, Main: Member{Material: wood, Thickness: 0.2}}
		c, err := j.Withdrawal()
		r.must(err)
		if r.output == "parameter" {
			return c.Steps[0].Value * 1e6, ""
		}
		return r.pick(c)
	case "en lateral":
		wood, err := MaterialOf(r.text("material", ""))
		r.must(err)
		f, err := Of(Bolt, r.text("size", ""), 0)
		r.must(err)
		j := Joint{Code: EN1995, Fastener: f, Side: Member{Material: wood, Thickness: r.number("t1_mm", 0) / 1e3}, Main: Member{Material: wood, Thickness: r.number("t2_mm", 0) / 1e3}}
		c, err := j.Lateral() // without a washer there is no rope effect
		r.must(err)
		for _, s := range c.Steps {
			if s.What == "mode "+r.output || strings.HasPrefix(s.What, "mode "+r.output+":") {
				return s.Value, ""
			}
		}
	}
	r.t.Fatalf("%s: unknown %s %s", r.id, r.formula, r.output)
	return 0, ""
}

func (r reference) pick(c Capacity) (float64, string) {
	if r.output == "reference" {
		return c.Reference, ""
	}
	return c.Value, ""
}

func (r reference) hinges() float64 {
	w, a := r.number("weight", 0), r.number("apart", 0)
	l := Leaf{Hinges: []float64{0, a}, Bears: Shared}
	if r.text("bears", "") == "lowest" {
		l.Bears = Lowest
	}
	cases, err := l.Reactions([]Load{{"weight", Vec{0, 0, -w}, Vec{r.number("width", 0) / 2, 0, a / 2}}})
	r.must(err)
	low, high := cases[0].Hinges[0], cases[0].Hinges[1]
	switch r.output {
	case "pull":
		return high[0]
	case "vertical":
		return -low[2]
	case "lower":
		return math.Hypot(low[0], low[2])
	case "lower angle":
		return math.Atan2(-low[2], -low[0])
	}
	r.t.Fatalf("no output %q", r.output)
	return 0
}

// TestSources checks that every row of every table has a source and a certainty of the known
// kinds.
func TestSources(t *testing.T) {
	files, err := dataFiles.ReadDir("data")
	if err != nil {
		t.Fatal(err)
	}
	for _, file := range files {
		var r reader
		for r.open(file.Name()); r.next(); {
			o := r.origin()
			if o.source == "" || rank(o.certainty) == 4 && o.certainty != noSource {
				t.Errorf("%s row %d: source %q, certainty %q", file.Name(), r.i, o.source, o.certainty)
			}
		}
		if r.err != nil {
			t.Error(r.err)
		}
	}
	if _, err := tables(); err != nil {
		t.Error(err)
	}
}
