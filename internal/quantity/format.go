package quantity

import (
	"math"
	"strconv"
	"strings"
)

// form is how a kind prints in one system.
type form struct {
	unit     string
	decimals int     // fixed, for columns
	factor   float64 // SI per unit
	shift    float64 // of temperatures
}

// forms gives the US and the SI form of each kind, with the factors of its units.
var forms = func() map[Kind][2]form {
	forms := map[Kind][2]form{
		"length":                {{unit: "ft", decimals: 2}, {unit: "m", decimals: 2}},
		"area":                  {{unit: "ft2", decimals: 1}, {unit: "m2", decimals: 2}},
		"volume":                {{unit: "ft3", decimals: 2}, {unit: "m3", decimals: 3}},
		"mass":                  {{unit: "lb", decimals: 1}, {unit: "kg", decimals: 1}},
		"density":               {{unit: "lb/ft3", decimals: 2}, {unit: "kg/m3", decimals: 2}},
		"mass per area":         {{unit: "lb/ft2", decimals: 2}, {unit: "kg/m2", decimals: 2}},
		"mass per length":       {{unit: "lb/ft", decimals: 2}, {unit: "kg/m", decimals: 2}},
		"force":                 {{unit: "lbf", decimals: 1}, {unit: "N", decimals: 0}},
		"pressure":              {{unit: "psf", decimals: 2}, {unit: "Pa", decimals: 0}},
		"moment":                {{unit: "lbf·ft", decimals: 0}, {unit: "N·m", decimals: 0}},
		"speed":                 {{unit: "mph", decimals: 1}, {unit: "m/s", decimals: 1}},
		"angle":                 {{unit: "deg", decimals: 1}, {unit: "deg", decimals: 1}},
		"current":               {{unit: "A", decimals: 2}, {unit: "A", decimals: 2}},
		"voltage":               {{unit: "V", decimals: 1}, {unit: "V", decimals: 1}},
		"resistance":            {{unit: "ohm", decimals: 3}, {unit: "ohm", decimals: 3}},
		"resistance per length": {{unit: "ohm/kft", decimals: 3}, {unit: "ohm/km", decimals: 3}},
		"power":                 {{unit: "W", decimals: 1}, {unit: "W", decimals: 1}},
		"apparent power":        {{unit: "VA", decimals: 1}, {unit: "VA", decimals: 1}},
		"energy":                {{unit: "kWh", decimals: 2}, {unit: "kWh", decimals: 2}},
		"temperature":           {{unit: "°F", decimals: 0}, {unit: "°C", decimals: 0}},
		"duration":              {{unit: "h", decimals: 2}, {unit: "h", decimals: 2}},
		"ratio":                 {{unit: "%", decimals: 1}, {unit: "%", decimals: 1}},
		"wire area":             {{unit: "mm2", decimals: 2}, {unit: "mm2", decimals: 2}},
	}
	for kind, pair := range forms {
		for i := range pair {
			un, _ := dimensionOf(kind).find(pair[i].unit)
			pair[i].factor, _ = un.factor.Float64()
			if un.shift != nil {
				pair[i].shift, _ = un.shift.Float64()
			}
		}
		forms[kind] = pair
	}
	return forms
}()

// missing is printed for a number that is not finite. None should come so far.
const missing = "not available"

// Unit is the unit that Number prints in.
func Unit[Q Quantity](s System) string { return forms[KindOf[Q]()][s].unit }

// Number prints a quantity without its unit, with the decimals that all numbers of
// its kind have in that system.
func Number[Q Quantity](q Q, s System) string {
	f := forms[KindOf[Q]()][s]
	return fixed(float64(q)/f.factor-f.shift, f.decimals)
}

// Format prints a quantity with its unit: `7 ft 6 1/2 in` (to the nearest 1/8 in),
// `131 lb`, `2.29 m`, `450 mm`, `16 AWG`. Decimals that are zero are left out.
func Format[Q Quantity](q Q, s System) string {
	kind, v := q.Kind(), float64(q)
	f := forms[kind][s]
	switch {
	case kind == "length" && s == US && math.Abs(v) < mostFeetInches:
		return feetInches(v)
	case kind == "length" && s == SI && math.Round(math.Abs(v)*1000) < 1000:
		f = form{unit: "mm", factor: 0.001}
	case kind == "wire area" && s == US:
		if name, ok := gaugeName(v); ok {
			return name
		}
	}
	text := fixed(v/f.factor-f.shift, f.decimals)
	if text == missing {
		return missing
	}
	return trim(text) + " " + f.unit
}

// fixed rounds half away from zero and never prints a negative zero.
func fixed(v float64, decimals int) string {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return missing
	}
	scale := math.Pow(10, float64(decimals))
	if math.Abs(v) < 1e12 {
		v = math.Round(v*scale) / scale
	}
	if v == 0 {
		v = 0 // drops the sign
	}
	return strconv.FormatFloat(v, 'f', decimals, 64)
}

func trim(s string) string {
	if !strings.Contains(s, ".") {
		return s
	}
	return strings.TrimRight(strings.TrimRight(s, "0"), ".")
}

// mostFeetInches is a length in m that still counts its eighths of an inch exactly.
const mostFeetInches = 1e9

// feetInches prints to the nearest 1/8 in.
func feetInches(v float64) string {
	eighths := int64(math.Round(math.Abs(v) / 0.0254 * 8))
	sign := ""
	if v < 0 {
		sign = "-"
	}
	feet, eighths := eighths/96, eighths%96
	inches, part := eighths/8, eighths%8
	fraction := [...]string{"", "1/8", "1/4", "3/8", "1/2", "5/8", "3/4", "7/8"}[part]
	var in string
	switch {
	case inches > 0 && part > 0:
		in = strconv.FormatInt(inches, 10) + " " + fraction + " in"
	case inches > 0:
		in = strconv.FormatInt(inches, 10) + " in"
	case part > 0:
		in = fraction + " in"
	}
	switch {
	case feet > 0 && in != "":
		return sign + strconv.FormatInt(feet, 10) + " ft " + in
	case feet > 0:
		return sign + strconv.FormatInt(feet, 10) + " ft"
	case in != "":
		return sign + in
	}
	return "0 in"
}

// gaugeName names an area that is a wire gauge, within rounding.
func gaugeName(area float64) (string, bool) {
	for n := thickest; n <= thinnest; n++ {
		if math.Abs(area/wireArea(n)-1) < 1e-6 {
			return gaugeNumber(n) + " AWG", true
		}
	}
	return "", false
}
