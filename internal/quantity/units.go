package quantity

import (
	"math"
	"math/big"
	"strconv"
	"strings"
)

// unit is one unit of a kind. Its value in SI is (number + shift) times factor.
type unit struct {
	names  []string // the first is the one that messages use
	factor *big.Rat
	shift  *big.Rat // of temperatures; nil for none
}

// dimension is what is known of a kind: its units, the common ones first, and the
// largest size that scenery can have, in SI.
type dimension struct {
	kind     Kind
	units    []unit
	most     float64
	compound bool // several units can follow each other, from large to small
}

func rat(s string) *big.Rat {
	r, ok := new(big.Rat).SetString(s)
	if !ok {
		panic("quantity: bad factor " + s) // a build fault: every factor is parsed at start
	}
	return r
}

func mul(factors ...string) *big.Rat {
	p := big.NewRat(1, 1)
	for _, f := range factors {
		p.Mul(p, rat(f))
	}
	return p
}

func div(a, b *big.Rat) *big.Rat { return new(big.Rat).Quo(a, b) }

func u(factor *big.Rat, names ...string) unit { return unit{names: names, factor: factor} }

// Exact by definition: inch, foot and yard, the avoirdupois pound, the US gallon of
// 231 in3, the statute and the nautical mile, the hour.
const (
	inch  = "0.0254"
	foot  = "0.3048"
	yard  = "0.9144"
	pound = "0.45359237"
	g0    = "9.80665"
)

var dimensions = func() []dimension {
	one := rat("1")
	lbf, in, ft, lb := mul(pound, g0), rat(inch), rat(foot), rat(pound)
	ft2, ft3 := mul(foot, foot), mul(foot, foot, foot)
	in2 := mul(inch, inch)
	degree := new(big.Rat).SetFloat64(math.Pi / 180) // the one factor that is no rational
	return []dimension{
		{"length", []unit{
			u(in, "in", "\"", "inch", "inches"), u(rat("0.001"), "mm", "millimetre", "millimeter", "millimetres", "millimeters"),
			u(ft, "ft", "'", "foot", "feet"), u(one, "m", "metre", "meter", "metres", "meters"), u(rat("0.01"), "cm"),
			u(rat(yard), "yd", "yard", "yards"), u(rat("1000"), "km"),
		}, 1e4, true},
		{"area", []unit{
			u(ft2, "ft2", "sq ft", "sqft", "square feet"), u(one, "m2", "sq m"), u(in2, "in2", "sq in"), u(rat("1e-6"), "mm2"), u(rat("1e-4"), "cm2"),
			u(mul(yard, yard), "yd2", "sq yd"),
		}, 1e6, false},
		{"volume", []unit{
			u(ft3, "ft3", "cu ft"), u(rat("0.001"), "L", "l", "litre", "liter", "litres", "liters"), u(one, "m3", "cu m"),
			u(new(big.Rat).Mul(rat("231"), mul(inch, inch, inch)), "gal", "gallon", "gallons"), u(mul(inch, inch, inch), "in3", "cu in"),
		}, 1e6, false},
		{"mass", []unit{
			u(lb, "lb", "lbs", "pound", "pounds"), u(one, "kg"), u(div(lb, rat("16")), "oz", "ounce", "ounces"), u(rat("0.001"), "g"), u(rat("1000"), "t", "tonne", "tonnes"),
		}, 1e7, true},
		{"density", []unit{u(div(lb, ft3), "lb/ft3", "pcf"), u(one, "kg/m3")}, 3e4, false},
		{"mass per area", []unit{u(div(lb, ft2), "lb/ft2", "psf"), u(one, "kg/m2"), u(div(div(lb, rat("16")), mul(yard, yard)), "oz/yd2"), u(rat("0.001"), "g/m2")}, 1e4, false},
		{"mass per length", []unit{u(div(lb, ft), "lb/ft"), u(one, "kg/m"), u(div(lb, new(big.Rat).Mul(rat("100"), ft)), "lb/100ft")}, 1e4, false},
		{"force", []unit{u(lbf, "lbf"), u(one, "N"), u(rat("1000"), "kN"), u(new(big.Rat).Mul(rat("1000"), lbf), "kip", "kips")}, 1e8, false},
		{"pressure", []unit{u(div(lbf, ft2), "psf", "lbf/ft2", "lb/ft2"), u(one, "Pa", "N/m2"), u(rat("1000"), "kPa", "kN/m2"), u(div(lbf, in2), "psi", "lbf/in2"), u(rat("1e6"), "MPa", "N/mm2")}, 1e10, false},
		{"moment", []unit{u(new(big.Rat).Mul(lbf, ft), "lbf·ft", "lbf ft", "ft lbf", "lb ft", "ft lb"), u(one, "N·m", "N m", "Nm"), u(rat("1000"), "kN·m", "kN m", "kNm")}, 1e10, false},
		{"speed", []unit{u(rat("0.44704"), "mph"), u(one, "m/s"), u(big.NewRat(1000, 3600), "km/h", "kph", "kmh"), u(big.NewRat(1852, 3600), "kn", "kt", "kts", "knot", "knots"), u(ft, "ft/s", "fps")}, 500, false},
		{"angle", []unit{u(degree, "deg", "°", "degree", "degrees"), u(one, "rad")}, 100, false},
		{"current", []unit{u(one, "A", "amp", "amps"), u(rat("0.001"), "mA")}, 1e6, false},
		{"voltage", []unit{u(one, "V", "volt", "volts"), u(rat("1000"), "kV")}, 1e6, false},
		{"resistance", []unit{u(one, "ohm", "Ω", "ohms"), u(rat("0.001"), "mohm", "mΩ")}, 1e9, false},
		{"resistance per length", []unit{
			u(rat("0.001"), "ohm/km", "Ω/km"), u(div(rat("0.001"), ft), "ohm/kft", "Ω/kft"), u(one, "ohm/m", "Ω/m"), u(div(one, ft), "ohm/ft", "Ω/ft"),
		}, 1e6, false},
		{"power", []unit{u(one, "W", "watt", "watts"), u(rat("1000"), "kW")}, 1e9, false},
		{"apparent power", []unit{u(one, "VA"), u(rat("1000"), "kVA")}, 1e9, false},
		{"energy", []unit{u(rat("3600000"), "kWh"), u(rat("3600"), "Wh"), u(one, "J"), u(rat("1000"), "kJ")}, 1e15, false},
		{"temperature", []unit{
			{names: []string{"°F", "F", "degF"}, factor: big.NewRat(5, 9), shift: rat("-32")}, u(one, "°C", "C", "degC"),
		}, 2000, false},
		{"duration", []unit{u(rat("3600"), "h", "hr", "hrs", "hour", "hours"), u(rat("60"), "min", "minute", "minutes"), u(one, "s", "sec", "second", "seconds"), u(rat("0.001"), "ms"), u(rat("86400"), "d", "day", "days")}, 1e9, true},
		{"ratio", []unit{u(rat("0.01"), "%", "percent")}, 1e4, false},
		{"wire area", []unit{u(rat("1e-6"), "mm2"), u(new(big.Rat).Mul(rat("1000"), kcmilFactor()), "kcmil", "MCM")}, 1e-2, false},
	}
}()

// kcmilFactor is a circular mil in m2: the area of a circle of one thousandth inch.
func kcmilFactor() *big.Rat {
	return new(big.Rat).SetFloat64(math.Pi / 4 * 2.54e-5 * 2.54e-5)
}

func dimensionOf(kind Kind) *dimension {
	for i := range dimensions {
		if dimensions[i].kind == kind {
			return &dimensions[i]
		}
	}
	return nil
}

// Kinds lists every kind.
func Kinds() []Kind {
	kinds := make([]Kind, len(dimensions))
	for i := range dimensions {
		kinds[i] = dimensions[i].kind
	}
	return kinds
}

// Units lists the units that a kind is written in, the common ones first, each by its
// usual name.
func Units(kind Kind) []string {
	d := dimensionOf(kind)
	if d == nil {
		return nil
	}
	var names []string
	if kind == "wire area" {
		names = append(names, "AWG")
	}
	for _, u := range d.units {
		names = append(names, u.names[0])
	}
	return names
}

// The gauge numbers that have a name: 4/0 counts as -3, 1/0 as 0.
const (
	thickest = -3
	thinnest = 40
)

func gaugeNumber(gauge int) string {
	if gauge <= 0 {
		return strconv.Itoa(1-gauge) + "/0"
	}
	return strconv.Itoa(gauge)
}

// nearest is the name that differs least from a mistaken one: by one letter, or two
// in a longer word. The first letter must agree: it is often a factor of a thousand.
// Empty when none comes near.
func (d *dimension) nearest(name string) string {
	names := Units(d.kind)
	for _, u := range d.units {
		names = append(names, u.names...)
	}
	asked := []rune(strings.ToLower(name))
	best, least := "", 3
	for _, n := range names {
		other := []rune(strings.ToLower(n))
		if other[0] != asked[0] {
			continue
		}
		if e := edits(asked, other); e > 0 && e < least && 2*e < max(len(asked), len(other)) {
			best, least = n, e
		}
	}
	return best
}

// edits is the number of letters to put in, take out or change that turns a into b.
func edits(a, b []rune) int {
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i, x := range a {
		before := row[0]
		row[0] = i + 1
		for j, y := range b {
			change := before
			if x != y {
				change++
			}
			before = row[j+1]
			row[j+1] = min(change, row[j]+1, row[j+1]+1)
		}
	}
	return row[len(b)]
}

// wireDiameter is the diameter of an American wire gauge number, m: ASTM B258,
// 0.127 mm · 92^((36-n)/39).
func wireDiameter(gauge int) float64 {
	return 0.000127 * math.Pow(92, float64(36-gauge)/39)
}

func wireArea(gauge int) float64 {
	d := wireDiameter(gauge)
	return math.Pi / 4 * d * d
}
