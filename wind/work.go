package wind

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Term is one step on the way to a load, with which it can be worked again by hand
// and the printed table. Numbers are SI, to four significant digits.
type Term struct {
	What    string  // what it is
	Formula string  // in symbols, or how the table is read
	Numbers string  // the same with numbers put in, and the result with its unit
	Value   float64 // SI
	Source  string  // table or clause and how certain it is; empty: as of the term before
	Factor  Factor  // what it is a factor of
}

// Factor says which number of a Load is the product of the terms that carry it.
type Factor string

const (
	Step       Factor = ""   // of none: a step on the way to a later term
	FactorOfQ  Factor = "q"  // of Load.Q
	FactorOfCf Factor = "Cf" // of Load.Cf
)

// Work takes a load apart: the terms that lead to its pressure and to its force
// coefficient, in the order in which they are worked, for the surface, speed and
// direction of Loads and the Load.Case of one of its loads. It works through the same tables
// once more; loads for many directions are Loads' business.
func (m *Model) Work(s *Surface, speed, towards float64, caseName string) ([]Term, error) {
	loads, err := m.AppendLoads(nil, s, speed, towards)
	if err != nil {
		return nil, err
	}
	for i := range loads {
		if l := &loads[i]; l.Case == caseName {
			w := &work{m: m, s: s, load: l, speed: speed}
			w.pressure()
			sin, cos := math.Sincos(s.Turn)
			x, y := math.Cos(towards), math.Sin(towards)
			w.ux, w.uy = x*cos+y*sin, y*cos-x*sin
			w.coefficient()
			return w.terms, nil
		}
	}
	return nil, fmt.Errorf("wind: %s: no case %q in this wind", s.Name, caseName)
}

// work gathers the terms of one load.
type work struct {
	m      *Model
	s      *Surface
	load   *Load
	speed  float64
	ux, uy float64 // the wind along local x and y
	terms  []Term
}

func (w *work) step(value float64, what, formula, numbers, source string) {
	w.add(Step, value, what, formula, numbers, source)
}

func (w *work) add(factor Factor, value float64, what, formula, numbers, source string) {
	w.terms = append(w.terms, Term{what, formula, numbers, value, source, factor})
}

// g is a number to four significant digits.
func g(v float64) string { return strconv.FormatFloat(v, 'g', 4, 64) }

// put writes numbers into a text at each %v, four digits each.
func put(format string, values ...float64) string {
	texts := make([]any, len(values))
	for i, v := range values {
		texts[i] = g(v)
	}
	return fmt.Sprintf(format, texts...)
}

// origins joins two origins; what they have in common, mostly how certain they are, is said once.
func origins(a, b string) string {
	if strings.Contains(a, b) {
		return a
	}
	for i := range len(a) {
		if end := a[i:]; strings.HasPrefix(end, " (") && strings.HasSuffix(b, end) {
			return a[:i] + "; " + strings.TrimSuffix(b, end) + end
		}
	}
	return a + "; " + b
}

// pressure works Load.Q.
func (w *work) pressure() {
	l, site := w.load, &w.m.site
	rho := site.AirDensity
	if site.Basis == EN1991 {
		v := w.basicSpeed()
		w.add(FactorOfQ, VelocityPressure(rho, v), "basic velocity pressure", "q_b = 1/2 · rho · v_b²",
			put("0.5 · %v · %v² = %v Pa", rho, v, VelocityPressure(rho, v)), "EN 1991-1-4 formula 4.10")
		w.heightFactor(l.Z)
		return
	}
	v := w.speed
	if r := &w.m.reduction; r.OnSpeed {
		v *= r.Factor
		w.step(v, "speed lowered by the rule "+r.Name, "V = factor · map speed", put("%v · %v = %v m/s", r.Factor, w.speed, v), r.Clause+"; "+r.Source+" ("+r.Certainty+")")
	}
	q := VelocityPressure(rho, v) * site.Kzt * site.Ke
	w.add(FactorOfQ, q, "pressure of the speed V, before the height factor", "1/2 · rho · V² · Kzt · Ke",
		put("0.5 · %v · %v² · %v · %v = %v Pa", rho, v, site.Kzt, site.Ke, q), "")
	w.heightFactor(l.Z)
}

// basicSpeed works v_b.
func (w *work) basicSpeed() float64 {
	site := &w.m.site
	prob := site.CProb
	if t := site.ReturnPeriod; t > 0 {
		k, n := site.CProbK, site.CProbN
		if c, err := CProb(t, k, n); err == nil {
			prob = c
		}
		w.step(prob, fmt.Sprintf("probability factor for a return period T of %s years", g(t)), "c_prob = ((1 - K · ln(-ln(1 - 1/T))) / (1 - K · ln(-ln 0.98)))^n",
			put("((1 - %v · ln(-ln(1 - 1/%v))) / (1 - %v · ln(-ln 0.98)))^%v = %v", k, t, k, n, prob), "EN 1991-1-4 formula 4.2")
	}
	v := site.CDir * site.CSeason * prob * w.speed
	numbers := put("%v · %v · %v · %v = %v m/s", site.CDir, site.CSeason, prob, w.speed, v)
	if site.ShortUse {
		v = max(v, ShortUseSpeed)
		numbers += put(", and at least %v m/s for a short use: %v m/s", ShortUseSpeed, v)
	}
	w.step(v, "basic wind velocity", "v_b = c_dir · c_season · c_prob · v_b,0", numbers, "EN 1991-1-4 formula 4.1")
	return v
}

// heightFactor works Load.Kz.
func (w *work) heightFactor(z float64) {
	switch p := w.m.profile.(type) {
	case usProfile:
		formula, numbers := "Kz = C · (z / zg)^(2 / alpha), z at least 15 ft (4.572 m)", kzText(p.Exposure, z)
		value := p.Kz(z) / p.reference
		what := fmt.Sprintf("height factor %s, exposure %s", upTo(z, kzFloor), p.Name)
		if p.reference != 1 {
			open, _ := ExposureOf(ASCE716, "C") // NewModel found it
			formula += ", over the same of exposure C at 10 m"
			numbers = put(numbers+" / ("+kzText(open, 10)+") = %v / %v", p.Kz(z), p.reference)
		}
		w.add(FactorOfQ, value, what, formula, put(numbers+" = %v", value), p.Source+" ("+p.Certainty+")")
	case euProfile:
		value := p.at(z)
		co, ki := p.factors()
		at := max(z, p.ZMin)
		l, cr, iv := math.Log(at/p.Z0), p.Cr(z), p.Iv(z)
		ce := (1 + 7*iv) * co * co * cr * cr
		what := fmt.Sprintf("exposure factor %s, terrain %s", upTo(z, p.ZMin), p.Name)
		formula := "kr = 0.19 · (z0 / 0.05)^0.07; cr = kr · ln(z / z0); Iv = kI / (c_o · ln(z / z0)); ce = (1 + 7 · Iv) · c_o² · cr²; z at least z_min"
		numbers := put("kr = 0.19 · (%v / 0.05)^0.07 = %v; cr = %v · ln(%v / %v) = %v; Iv = %v / (%v · %v) = %v; ce = (1 + 7 · %v) · %v² · %v² = %v",
			p.Z0, p.Kr(), p.Kr(), at, p.Z0, cr, ki, co, l, iv, iv, co, cr, ce)
		if p.reference != 1 {
			formula += "; over ce of terrain II at 10 m"
			numbers += put("; %v / %v = %v", ce, p.reference, value)
		}
		source := "EN 1991-1-4 formulas 4.3 to 4.5, 4.7, 4.8; z0 and z_min: " + p.Source + " (" + p.Certainty + ")"
		if w.m.site.Z0+w.m.site.ZMin > 0 {
			source = "EN 1991-1-4 formulas 4.3 to 4.5, 4.7, 4.8; z0 or z_min as given for the site"
		}
		w.add(FactorOfQ, ce/p.reference, what, formula, numbers, source)
	case levelProfile:
		w.add(FactorOfQ, float64(p), "exposure factor", "ce", put("ce = %v at every height", float64(p)), "as given for the site, EN 1991-1-4 4.5")
	}
}

// upTo is a height, or the range below floor that shares one pressure.
func upTo(z, floor float64) string {
	if z <= floor {
		return "up to " + g(floor) + " m"
	}
	return "at " + g(z) + " m"
}

func kzText(e Exposure, z float64) string {
	return put("%v · (%v / %v)^(2 / %v)", e.Constant, max(z, kzFloor), e.Zg, e.Alpha)
}

// coefficient works Load.Cf.
func (w *work) coefficient() {
	if w.load.Case != CaseWhole {
		plate := *w.s
		if plate.Shape == Rectangle {
			plate = w.s.plate()
			if w.s.Depth > w.s.Width {
				w.ux, w.uy = w.uy, -w.ux
			}
		}
		w.s = &plate
		w.panel()
		return
	}
	if w.m.site.Basis == EN1991 {
		w.prismEN()
		return
	}
	w.prism()
}

// reading says how the value of a curve at x was found; label writes x as its table does.
func (c curve) reading(x float64, log bool) (text string, value float64, from string) {
	i, f := bracket(c.x, x)
	label := func(x float64) string {
		if log {
			return g(math.Pow(10, x))
		}
		return g(x)
	}
	value = c.y[i] + f*(c.y[i+1]-c.y[i])
	switch {
	case f == 0 || f == 1:
		k := i + int(f)
		text = g(c.y[k]) + " at " + label(c.x[k])
		if x < c.x[k] {
			text += ", where the table begins"
		} else if x > c.x[k] {
			text += ", where the table ends"
		}
		return text, value, c.from[k]
	case c.y[i] == c.y[i+1]:
		text = fmt.Sprintf("%s from %s to %s", g(c.y[i]), label(c.x[i]), label(c.x[i+1]))
	case log:
		text = fmt.Sprintf("%s at %s, %s at %s: %s", g(c.y[i]), label(c.x[i]), g(c.y[i+1]), label(c.x[i+1]),
			between(c.y[i], c.y[i+1], fmt.Sprintf("log(%s / %s) / log(%s / %s)", label(x), label(c.x[i]), label(c.x[i+1]), label(c.x[i])))+" = "+g(value))
	default:
		text = fmt.Sprintf("%s at %s, %s at %s: %s", g(c.y[i]), label(c.x[i]), g(c.y[i+1]), label(c.x[i+1]),
			between(c.y[i], c.y[i+1], fmt.Sprintf("(%s - %s) / (%s - %s)", g(x), g(c.x[i]), g(c.x[i+1]), g(c.x[i])))+" = "+g(value))
	}
	return text, value, origins(c.from[i], c.from[i+1])
}

// between writes a plus a part of the way to b.
func between(a, b float64, part string) string {
	sign, d := "+", b-a
	if d < 0 {
		sign, d = "-", -d
	}
	return fmt.Sprintf("%s %s %s · %s", g(a), sign, part, g(d))
}

// reading says how the value of a grid was found; xName and yName are its arguments.
func (t *grid) reading(xName, yName string, x, y float64) (text string, value float64, from string) {
	i, f := bracket(t.x, x)
	row := func(k int) (string, float64) {
		text, v, _ := curve{t.y, t.v[k], make([]string, len(t.y))}.reading(y, false)
		return fmt.Sprintf("row %s %s: %s", xName, g(t.x[k]), text), v
	}
	head := fmt.Sprintf("%s %s, %s %s: ", xName, g(x), yName, g(y))
	if f == 0 || f == 1 {
		text, v := row(i + int(f))
		return head + text, v, t.from[i+int(f)]
	}
	first, a := row(i)
	second, b := row(i + 1)
	value = (1-f)*a + f*b
	text = head + first + "; " + second
	if a != b {
		text += "; between the rows " + between(a, b, fmt.Sprintf("(%s - %s) / (%s - %s)", g(x), g(t.x[i]), g(t.x[i+1]), g(t.x[i]))) + " = " + g(value)
	}
	return text, value, origins(t.from[i], t.from[i+1])
}

// held works heldCf; q is the pressure it depends on, Pa, and slow, fast are told of.
func (w *work) held(d, q, slow, fast float64, reading, source string) float64 {
	value := heldCf(d, q, slow, fast)
	x := d * math.Sqrt(q)
	w.step(x, "regime of the flow round it", "D · sqrt(q · Kd), change of regime at 5.3 m·sqrt(Pa)", put("%v · sqrt(%v) = %v", d, q, x), source)
	numbers := reading + put("; up to 5.3: %v", slow)
	if x > regimeChange {
		change := (regimeChange / d) * (regimeChange / d)
		numbers = reading + put("; above 5.3 the larger of %v and what held the force at the change, %v · %v / %v = %v", fast, slow, change, q, slow*change/q)
	}
	w.add(FactorOfCf, value, "force coefficient", "up to the change the first value; above it the second, never less force than at the change", numbers+put(": %v", value), "")
	return value
}
