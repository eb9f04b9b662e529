package quantity

import (
	"math"
	"strconv"
	"strings"
)

// form is how a kind prints in one system.
type form struct {
	unit     string
	factor   float64 // SI per unit
	decimals int     // fixed, for columns
}

// forms gives the US and the SI form of each kind.
var forms = map[Kind][2]form{
	"length":                {{"ft", 0.3048, 2}, {"m", 1, 2}},
	"area":                  {{"ft2", 0.3048 * 0.3048, 1}, {"m2", 1, 2}},
	"volume":                {{"ft3", 0.3048 * 0.3048 * 0.3048, 2}, {"m3", 1, 3}},
	"mass":                  {{"lb", 0.45359237, 1}, {"kg", 1, 1}},
	"density":               {{"lb/ft3", 0.45359237 / (0.3048 * 0.3048 * 0.3048), 1}, {"kg/m3", 1, 1}},
	"mass per area":         {{"lb/ft2", 0.45359237 / (0.3048 * 0.3048), 2}, {"kg/m2", 1, 2}},
	"mass per length":       {{"lb/ft", 0.45359237 / 0.3048, 2}, {"kg/m", 1, 2}},
	"force":                 {{"lbf", 4.4482216152605, 1}, {"N", 1, 0}},
	"force per length":      {{"lbf/ft", 4.4482216152605 / 0.3048, 1}, {"N/m", 1, 0}},
	"pressure":              {{"psf", 4.4482216152605 / (0.3048 * 0.3048), 2}, {"Pa", 1, 0}},
	"moment":                {{"lbf·ft", 4.4482216152605 * 0.3048, 0}, {"N·m", 1, 0}},
	"speed":                 {{"mph", 0.44704, 1}, {"m/s", 1, 1}},
	"angle":                 {{"deg", math.Pi / 180, 1}, {"deg", math.Pi / 180, 1}},
	"current":               {{"A", 1, 2}, {"A", 1, 2}},
	"voltage":               {{"V", 1, 1}, {"V", 1, 1}},
	"resistance":            {{"ohm", 1, 3}, {"ohm", 1, 3}},
	"resistance per length": {{"ohm/kft", 0.001 / 0.3048, 3}, {"ohm/km", 0.001, 3}},
	"power":                 {{"W", 1, 1}, {"W", 1, 1}},
	"apparent power":        {{"VA", 1, 1}, {"VA", 1, 1}},
	"energy":                {{"kWh", 3.6e6, 2}, {"kWh", 3.6e6, 2}},
	"temperature":           {{"°F", 5.0 / 9, 0}, {"°C", 1, 0}},
	"duration":              {{"h", 3600, 2}, {"h", 3600, 2}},
	"ratio":                 {{"%", 0.01, 1}, {"%", 0.01, 1}},
	"wire area":             {{"mm2", 1e-6, 2}, {"mm2", 1e-6, 2}},
	"frequency":             {{"Hz", 1, 1}, {"Hz", 1, 1}},
}

// missing is printed for a number that is not finite. None should come so far.
const missing = "not available"

// Unit is the unit that Number prints in.
func Unit[Q Quantity](s System) string { return forms[KindOf[Q]()][s].unit }

// Number prints a quantity without its unit, with the decimals that all numbers of
// its kind have in that system.
func Number[Q Quantity](q Q, s System) string {
	f := forms[KindOf[Q]()][s]
	return fixed(f.of(q.Kind(), float64(q), s), f.decimals)
}

// of converts from SI.
func (f form) of(kind Kind, v float64, s System) float64 {
	if kind == "temperature" && s == US {
		return v/f.factor + 32
	}
	return v / f.factor
}

// Format prints a quantity with its unit: `7 ft 6 1/2 in` (to the nearest 1/8 in),
// `131 lb`, `2.29 m`, `450 mm`, `16 AWG`. Decimals that are zero are left out.
func Format[Q Quantity](q Q, s System) string {
	kind, v := q.Kind(), float64(q)
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return missing
	}
	switch {
	case kind == "length" && s == US:
		return feetInches(v)
	case kind == "length" && math.Abs(v) < 1:
		return fixed(v*1000, 0) + " mm"
	case kind == "wire area" && s == US:
		if name, ok := gaugeName(v); ok {
			return name
		}
	}
	f := forms[kind][s]
	return trim(fixed(f.of(kind, v, s), f.decimals)) + " " + f.unit
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

// feetInches prints to the nearest 1/8 in.
func feetInches(v float64) string {
	eighths := int64(math.Round(math.Abs(v) / 0.0254 * 8))
	sign := ""
	if v < 0 && eighths > 0 {
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
	for n := -3; n <= 40; n++ {
		if math.Abs(area/wireArea(n)-1) < 1e-6 {
			if n <= 0 {
				return strconv.Itoa(1-n) + "/0 AWG", true
			}
			return strconv.Itoa(n) + " AWG", true
		}
	}
	return "", false
}
