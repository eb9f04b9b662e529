package wind

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"
)

// Units of the published values.
const (
	foot = 0.3048
	mph  = 0.44704
	lbf  = 4.4482216152605
	psf  = lbf / (foot * foot)
)

var units = map[string]float64{
	"": 1, "Pa": 1, "kPa": 1e3, "psf": psf, "m/s": 1, "mph": mph, "N": 1, "lbf": lbf,
	"kip": 1e3 * lbf, "lbf ft": lbf * foot, "kip ft": 1e3 * lbf * foot,
}

// reference is one row of testdata/reference/wind-*.csv.
type reference struct {
	t                           *testing.T
	id, formula, output, source string
	inputs                      map[string]string
}

func (r reference) number(key string, fallback float64) float64 {
	s, ok := r.inputs[key]
	if !ok {
		return fallback
	}
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		r.t.Fatalf("%s: %s: %v", r.id, key, err)
	}
	return v
}

// si reads key_<unit> for the first of the units that the row has.
func (r reference) si(key string, in map[string]float64) float64 {
	for suffix, factor := range in {
		if _, ok := r.inputs[key+"_"+suffix]; ok {
			return r.number(key+"_"+suffix, 0) * factor
		}
	}
	return 0
}

var (
	lengths = map[string]float64{"m": 1, "ft": foot}
	speeds  = map[string]float64{"ms": 1, "mph": mph}
)

// density is the row's air density; a constant in psf per mph squared is one in disguise.
func (r reference) density() float64 {
	if c := r.number("constant", 0); c > 0 {
		return 2 * c * psf / (mph * mph)
	}
	return r.number("rho", AirDensityUS)
}

// TestReference checks published and hand-computed values, each to half its last
// printed digit.
func TestReference(t *testing.T) {
	for _, file := range []string{"wind-us.csv", "wind-eu.csv"} {
		f, err := os.Open("../testdata/reference/" + file)
		if err != nil {
			t.Fatal(err)
		}
		rows, err := csv.NewReader(f).ReadAll()
		f.Close()
		if err != nil {
			t.Fatal(err)
		}
		for i, row := range rows[1:] {
			r := reference{t, row[0], row[1], row[3], row[6] + "; " + row[7], map[string]string{}}
			for _, kv := range strings.Fields(row[2]) {
				k, v, _ := strings.Cut(kv, "=")
				r.inputs[k] = strings.ReplaceAll(v, "_", " ")
			}
			if row[6] == "" || row[7] == "" {
				t.Errorf("%s:%d has no source or certainty", file, i+2)
			}
			if r.formula == "beaufort mph" {
				r.beaufortBounds()
				continue
			}
			unit, ok := units[row[5]]
			if !ok {
				t.Fatalf("%s:%d: unit %q", file, i+2, row[5])
			}
			want, err := strconv.ParseFloat(row[4], 64)
			if err != nil {
				t.Fatalf("%s:%d: %v", file, i+2, err)
			}
			got := r.compute() / unit
			if !(math.Abs(got-want) <= halfDigit(row[4])*(1+1e-9)) {
				t.Errorf("%s:%d %s: %s %s: got %.6g %s, want %s\nsource: %s", file, i+2, r.id, row[2], r.output, got, row[5], row[4], r.source)
			}
		}
	}
}

// halfDigit is half a unit of the last printed digit.
func halfDigit(s string) float64 {
	_, decimals, _ := strings.Cut(s, ".")
	return 0.5 * math.Pow(10, -float64(len(decimals)))
}

func (r reference) compute() float64 {
	r.t.Helper()
	switch r.formula {
	case "exposure":
		e, err := ExposureOf(Basis(r.inputs["edition"]), r.inputs["exposure"])
		r.must(err)
		return e.Kz(r.number("z_m", 0))
	case "pressure":
		return VelocityPressure(r.density(), r.si("v", speeds)) * r.number("factor", 1)
	case "terrain":
		return r.terrain()
	case "prism":
		tables, err := tables()
		r.must(err)
		cf := tables.squareFace.at(r.number("h_over_d", 0))
		if r.output == "cf" {
			return cf
		}
		return cf * r.number("q_psf", 0) * psf * r.number("g", 0) * r.number("area_ft2", 0) * foot * foot
	case "gust":
		g, err := GustFactorOf(r.number("mean_s", 0))
		r.must(err)
		return g.Factor * r.si("v", speeds)
	case "beaufort":
		b, err := Beaufort(r.number("v_ms", 0))
		r.must(err)
		return float64(b.Number)
	case "handheld":
		h, err := HandheldOf(r.inputs["terrain"])
		r.must(err)
		return h.Reading(1)
	case "surface":
		return r.surface()
	}
	r.t.Fatalf("%s: unknown formula %q", r.id, r.formula)
	return 0
}

func (r reference) must(err error) {
	r.t.Helper()
	if err != nil {
		r.t.Fatalf("%s: %v", r.id, err)
	}
}

func (r reference) terrain() float64 {
	c, err := TerrainOf(r.inputs["category"])
	r.must(err)
	z, vb := r.number("z_m", 0), r.number("vb_ms", 0)
	qb := VelocityPressure(r.number("rho", AirDensityEU), vb)
	switch r.output {
	case "kr":
		return c.Kr()
	case "cr":
		return c.Cr(z)
	case "iv":
		return c.Iv(z)
	case "ce":
		return c.Ce(z)
	case "vm":
		return c.Cr(z) * vb
	case "qb":
		return qb
	case "qp":
		return c.Ce(z) * qb
	}
	r.t.Fatalf("%s: unknown output %q", r.id, r.output)
	return 0
}

// surface runs a case through the model. Where the source fixes the height factor,
// the pressure or the coefficient itself, the load is scaled to it.
func (r reference) surface() float64 {
	m, err := NewModel(Site{Basis: Gust, Terrain: r.inputs["terrain"], AirDensity: r.density(), Kd: r.number("kd", 0), G: r.number("g", 0)})
	r.must(err)
	gust := r.si("v", speeds)
	s := Surface{
		Name: r.id, Shape: map[string]Shape{"panel": Panel, "square": Square, "round": Round}[r.inputs["shape"]],
		Bottom: r.si("bottom", lengths), Top: r.si("top", lengths), Width: r.si("width", lengths),
		Solidity: r.number("solidity", 0), Return: [2]float64{r.si("return", lengths), r.si("return", lengths)},
		Roughness: map[string]Roughness{"rough": Rough, "smooth": Smooth}[r.inputs["roughness"]],
	}
	if kz := r.number("kz", 0); kz > 0 {
		_, own, err := m.Pressure(s.Top, gust)
		r.must(err)
		site := m.Site()
		site.Kzt = kz / own
		m, err = NewModel(site)
		r.must(err)
	}
	loads, err := m.Loads(s, gust, r.number("towards_deg", 90)*math.Pi/180)
	r.must(err)
	for _, l := range loads {
		if l.Case != r.inputs["case"] {
			continue
		}
		scale := r.number("factor", 1) * r.number("cf", l.Cf) / l.Cf
		if q := r.number("q_psf", 0) * psf; q > 0 {
			scale *= q / l.Q
		}
		force := math.Hypot(l.Force[0], l.Force[1]) * scale
		switch r.output {
		case "q":
			return l.Q
		case "cf":
			return l.Cf
		case "openings":
			return l.Openings
		case "force":
			return force
		case "moment":
			return force * l.At[2]
		case "torsion":
			return force * math.Hypot(l.At[0], l.At[1])
		}
	}
	r.t.Fatalf("%s: no case %q with output %q", r.id, r.inputs["case"], r.output)
	return 0
}

// beaufortBounds checks the start of a step, and of the next, against bounds
// printed in whole miles an hour: each lies between the end of one step and the
// beginning of the next, to half a mile.
func (r reference) beaufortBounds() {
	n := r.number("force", 0)
	for _, at := range []struct {
		mph  float64
		want float64
	}{
		{r.number("from_mph", 0) - 1.5, n - 1},
		{r.number("from_mph", 0) + 0.5, n},
		{r.number("to_mph", 0) - 0.5, n},
		{r.number("to_mph", 0) + 1.5, n + 1},
	} {
		b, err := Beaufort(max(0, at.mph*mph))
		r.must(err)
		if float64(b.Number) != at.want {
			r.t.Errorf("%s: %.1f mph is force %d, want %v\nsource: %s", r.id, at.mph, b.Number, at.want, r.source)
		}
	}
}
