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
	"": 1, "Pa": 1, "kPa": 1e3, "psf": psf, "m/s": 1, "mph": mph, "m": 1, "N": 1, "kN": 1e3, "N m": 1, "lbf": lbf,
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
	case "pier":
		return r.pier()
	case "peak":
		m, err := NewModel(r.site(EN1991))
		r.must(err)
		q, _, err := m.Pressure(r.number("z_m", 0), r.si("v", speeds))
		r.must(err)
		return q
	case "cprob":
		c, err := CProb(r.number("years", 0), ProbabilityK, ProbabilityN)
		r.must(err)
		if r.output == "cprob squared" {
			return c * c
		}
		return c
	case "kd":
		m, err := NewModel(r.site(ASCE716))
		r.must(err)
		return m.kd[shapes[r.inputs["shape"]]]
	}
	return r.figure()
}

// figure reads one value off a table of EN 1991-1-4.
func (r reference) figure() float64 {
	tables, err := tables()
	r.must(err)
	en := &tables.en
	switch r.formula {
	case "wall":
		zone := strings.Index("ABCD", r.inputs["zone"])
		return en.wallCp(zone, r.number("l_over_h", 0), r.number("return_over_h", 0), r.number("solidity", 0))
	case "rectangle":
		return en.rectangle.at(math.Log10(r.number("d_over_b", 0)))
	case "end effect":
		return en.endEffect.at(math.Log10(r.number("lambda", 0)))
	case "slenderness":
		c := en.slenderFlat
		if r.inputs["section"] == "round" {
			c = en.slenderRnd
		}
		return en.lambda(r.number("l_m", 0), r.number("b_m", 0), c)
	case "cylinder":
		return en.cylinderCf(r.number("re", 0), r.number("k_over_b", 0))
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

var shapes = map[string]Shape{
	"square": Square, "rectangle": Rectangle, "round": Round, "hexagon": Hexagon, "octagon": Octagon, "panel": Panel,
}

// site is the site of a row, whose basis has a default.
func (r reference) site(basis Basis) Site {
	if b, ok := r.inputs["basis"]; ok {
		basis = Basis(b)
	}
	s := Site{Basis: basis, Terrain: r.inputs["terrain"], Kd: r.number("kd", 0), G: r.number("g", 0),
		AirDensity: r.density(), ReturnPeriod: r.number("period", 0)}
	switch {
	case basis == EN1991:
		s.AirDensity = r.number("rho", AirDensityEU)
	case s.Terrain == "":
		s.Terrain = "C"
	}
	return s
}

// surfaceOf is the surface of a row.
func (r reference) surfaceOf() Surface {
	return Surface{
		Name: r.id, Shape: shapes[r.inputs["shape"]],
		Bottom: r.si("bottom", lengths), Top: r.si("top", lengths), Width: r.si("width", lengths), Depth: r.si("depth", lengths),
		PieceTop: r.si("piece_top", lengths), PieceWidth: r.si("piece_width", lengths),
		Solidity: r.number("solidity", 0), Return: [2]float64{r.si("return", lengths), r.si("return", lengths)},
		Roughness: map[string]Roughness{"rough": Rough, "smooth": Smooth}[r.inputs["roughness"]],
	}
}

// pier is E5: the lowest and the highest strip, of one breadth each, and half of
// each pressure over what lies between, which is as long as the two together.
func (r reference) pier() float64 {
	m, err := NewModel(r.site(EN1991))
	r.must(err)
	sum := 0.0
	for _, band := range [][2]float64{{0, 2.5}, {7.5, 10}} {
		s := r.surfaceOf()
		s.Bottom, s.Top = band[0], band[1]
		loads, err := m.Loads(s, r.si("v", speeds), math.Pi/2)
		r.must(err)
		l := loads[0]
		sum += math.Hypot(l.Force[0], l.Force[1]) * r.number("slender", 0) / l.Slender
	}
	return 2 * sum
}

// surface runs a case through the model. Where the source fixes the height factor,
// the pressure or the coefficient itself, the load is scaled to it.
func (r reference) surface() float64 {
	m, err := NewModel(r.site(Gust))
	r.must(err)
	gust := r.si("v", speeds)
	s := r.surfaceOf()
	if kz := r.number("kz", 0); kz > 0 {
		_, own, err := m.Pressure(s.Top, gust)
		r.must(err)
		site := m.Site()
		site.Kzt = kz / own
		m, err = NewModel(site)
		r.must(err)
	}
	if qkd := r.number("qkd_psf", 0) * psf; qkd > 0 {
		own, _, err := m.Pressure((s.Bottom+s.Top)/2, gust)
		r.must(err)
		site := m.Site()
		site.Kzt = qkd / (own * m.kd[s.Shape])
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
		for unit, size := range map[string]float64{"psf": psf, "kpa": 1e3} {
			if q := r.number("q_"+unit, 0) * size; q > 0 {
				scale *= q / l.Q
			}
		}
		force := math.Hypot(l.Force[0], l.Force[1]) * scale
		switch r.output {
		case "q":
			return l.Q
		case "cf":
			return l.Cf
		case "openings":
			return l.Openings
		case "q x kd":
			return l.Q * l.Kd
		case "z":
			return l.Z
		case "slender":
			return l.Slender
		case "pressure":
			return force / l.Area
		case "eccentricity":
			return math.Hypot(l.At[0], l.At[1])
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
