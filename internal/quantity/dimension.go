package quantity

import (
	"math/big"
	"strings"
)

// A dimension is what parsing and printing need to know of one kind.
type dimension struct {
	kind    Kind
	example string // for messages
	most    string // the largest magnitude taken, in one of the units
	least   string // the least value, where there is one
	units   []*unit
	us, si  printing
	both    *printing // for us and si

	limit, floor *big.Rat         // most and least, in SI
	exact        map[string]*unit // by name as written
	folded       map[string]*unit // by lower-case name; nil when ambiguous
}

type unit struct {
	names  []string // the first is the one that messages and printing use
	factor *big.Rat // SI value = (number + zero) * factor
	zero   *big.Rat
	family family
	gauge  bool // the number is a wire gauge, not a factor
}

// A family is a set of units that may follow one another in a compound.
type family int

const (
	customary family = iota + 1
	metric
	clock
)

// printing says how one system prints a kind. Format takes the first scale whose
// rounded value is below its bound; the last has none. Number always takes
// column.
type printing struct {
	column scale
	scales []scale
	format func(x float64) (string, bool) // tried first
}

type scale struct {
	unit     string
	decimals int
	below    int64 // bound in the unit, 0 for none
}

// constants are the names that may stand in a factor. The foot, the inch and
// the pound are exact (international yard and pound, 1959: yard 0.9144 m, pound
// 0.45359237 kg); g is the standard acceleration of free fall in m/s2, exact
// (NIST SP 811, B.8); the gallon is 231 in3 (NIST Handbook 44, Appendix C).
var constants = map[string]string{
	"ft": "0.3048", "in": "0.0254", "yd": "0.9144", "mile": "1609.344",
	"lb": "0.45359237", "g": "9.80665", "gal": "0.003785411784",
	"pi": "3.14159265358979323846264338327950288419716939937510582097494459",
}

// factor works out a product of numbers and constants such as "lb*g/ft/ft".
func factor(expression string) *big.Rat {
	product := big.NewRat(1, 1)
	for i, over := range strings.Split(expression, "/") {
		for j, term := range strings.Split(over, "*") {
			if c, ok := constants[term]; ok {
				term = c
			}
			value, ok := new(big.Rat).SetString(term)
			if !ok {
				panic("quantity: bad factor " + expression)
			}
			if i > 0 && j == 0 {
				value.Inv(value)
			}
			product.Mul(product, value)
		}
	}
	return product
}

// u makes a unit from its names, separated by commas.
func u(names, expression string, f family) *unit {
	return &unit{names: strings.Split(names, ", "), factor: factor(expression), zero: new(big.Rat), family: f}
}

// define completes a dimension.
func define(d dimension) *dimension {
	d.exact, d.folded = map[string]*unit{}, map[string]*unit{}
	for _, u := range d.units {
		for i, name := range u.names {
			d.exact[name] = u
			// Case tells metric symbols apart; of the metric names only words fold.
			if u.family == metric && (i == 0 || len(name) < 4) {
				continue
			}
			key := strings.ToLower(name)
			if other, taken := d.folded[key]; taken && other != u {
				d.folded[key] = nil
				continue
			}
			d.folded[key] = u
		}
	}
	if d.both != nil {
		d.us, d.si = *d.both, *d.both
	}
	d.limit = d.constant(d.most)
	if d.least != "" {
		d.floor = d.constant(d.least)
	}
	return &d
}

// constant reads a number and unit of the tables below.
func (d *dimension) constant(text string) *big.Rat {
	number, name, _ := strings.Cut(text, " ")
	value, ok := new(big.Rat).SetString(number)
	if !ok || d.exact[name] == nil {
		panic("quantity: bad constant " + text)
	}
	return d.exact[name].si(value)
}

func (u *unit) si(number *big.Rat) *big.Rat {
	value := new(big.Rat).Add(number, u.zero)
	return value.Mul(value, u.factor)
}

// find returns the unit of a name as it was written, nil when there is none.
func (d *dimension) find(name string) *unit {
	if u := d.exact[name]; u != nil {
		return u
	}
	return d.folded[strings.ToLower(name)]
}




var lengths = define(dimension{
	kind: "length", example: `7 ft 6 1/2 in or 450 mm`, most: "10 km",
	units: []*unit{
		u("ft, foot, feet, ', ′, ’", "ft", customary),
		u(`m, metre, metres, meter, meters`, "1", metric),
		u("in, inch, inches, \", ″, ”, ''", "in", customary),
		u("mm, millimetre, millimetres, millimeter, millimeters", "0.001", metric),
		u("cm, centimetre, centimetres, centimeter, centimeters", "0.01", metric),
		u("yd, yard, yards", "yd", customary),
		u("km, kilometre, kilometres, kilometer, kilometers", "1000", metric),
		u("mi, mile, miles", "mile", customary),
	},
	us: printing{column: scale{"ft", 2, 0}, scales: []scale{{"ft", 2, 0}}, format: feetAndInches},
	si: printing{column: scale{"m", 2, 0}, scales: []scale{{"mm", 1, 100}, {"mm", 0, 1000}, {"m", 2, 0}}},
})

var areas = define(dimension{
	kind: "area", example: `15 ft2 or 1.4 m2`, most: "1000000 m2",
	units: []*unit{
		u("ft2, sq ft, sqft, sf, square foot, square feet", "ft*ft", customary),
		u("m2, sq m, square metre, square metres, square meter, square meters", "1", metric),
		u("in2, sq in, sqin, square inch, square inches", "in*in", customary),
		u("mm2, sq mm", "0.000001", metric),
		u("cm2, sq cm", "0.0001", metric),
		u("yd2, sq yd, square yard, square yards", "yd*yd", customary),
	},
	us: printing{column: scale{"ft2", 2, 0}, scales: []scale{{"ft2", 2, 10}, {"ft2", 1, 0}}},
	si: printing{column: scale{"m2", 2, 0}, scales: []scale{{"m2", 3, 1}, {"m2", 2, 0}}},
})

var volumes = define(dimension{
	kind: "volume", example: `0.4 ft3 or 12 L`, most: "1000000 m3",
	units: []*unit{
		u("ft3, cu ft, cuft, cf, cubic foot, cubic feet", "ft*ft*ft", customary),
		u("m3, cu m, cubic metre, cubic metres, cubic meter, cubic meters", "1", metric),
		u("gal, gallon, gallons, US gal", "gal", customary),
		u("L, l, litre, litres, liter, liters", "0.001", metric),
		u("in3, cu in, cubic inch, cubic inches", "in*in*in", customary),
		u("yd3, cu yd, cubic yard, cubic yards", "yd*yd*yd", customary),
		u("mL, ml", "0.000001", metric),
		u("cm3", "0.000001", metric),
		u("mm3", "0.000000001", metric),
	},
	us: printing{column: scale{"ft3", 2, 0}, scales: []scale{{"ft3", 2, 10}, {"ft3", 1, 0}}},
	si: printing{column: scale{"m3", 3, 0}, scales: []scale{{"L", 1, 100}, {"m3", 3, 0}}},
})

var masses = define(dimension{
	kind: "mass", example: `90 lb or 40 kg`, most: "10000 t",
	units: []*unit{
		u("lb, lbs, pound, pounds, lbm", "lb", customary),
		u("kg, kilogram, kilograms, kilo, kilos", "1", metric),
		u("oz, ounce, ounces", "lb*0.0625", customary),
		u("g, gram, grams", "0.001", metric),
		u("t, tonne, tonnes", "1000", metric),
	},
	us: printing{column: scale{"lb", 1, 0}, scales: []scale{{"lb", 2, 1}, {"lb", 1, 10}, {"lb", 0, 0}}},
	si: printing{column: scale{"kg", 1, 0}, scales: []scale{{"kg", 2, 1}, {"kg", 1, 100}, {"kg", 0, 0}}},
})

var densities = define(dimension{
	kind: "density", example: `0.9 lb/ft3 or 1.25 kg/m3`, most: "25000 kg/m3",
	units: []*unit{
		u("lb/ft3, pcf, lbs/ft3, lb/cu ft", "lb/ft/ft/ft", customary),
		u("kg/m3", "1", metric),
		u("g/cm3, g/cc", "1000", metric),
	},
	us: printing{column: scale{"lb/ft3", 2, 0}, scales: []scale{{"lb/ft3", 3, 1}, {"lb/ft3", 2, 10}, {"lb/ft3", 1, 0}}},
	si: printing{column: scale{"kg/m3", 2, 0}, scales: []scale{{"kg/m3", 3, 10}, {"kg/m3", 1, 100}, {"kg/m3", 0, 0}}},
})

var areaDensities = define(dimension{
	kind: "area density", example: `1.4 psf or 7 kg/m2`, most: "10000 kg/m2",
	units: []*unit{
		u("psf, lb/ft2, lbs/ft2, lb/sq ft", "lb/ft/ft", customary),
		u("kg/m2", "1", metric),
		u("oz/yd2, oz/sq yd", "lb*0.0625/yd/yd", customary),
		u("g/m2, gsm", "0.001", metric),
		u("oz/ft2, oz/sq ft", "lb*0.0625/ft/ft", customary),
	},
	us: printing{column: scale{"psf", 2, 0}, scales: []scale{{"psf", 3, 1}, {"psf", 2, 10}, {"psf", 1, 0}}},
	si: printing{column: scale{"kg/m2", 2, 0}, scales: []scale{{"kg/m2", 3, 1}, {"kg/m2", 2, 10}, {"kg/m2", 1, 0}}},
})

var lineDensities = define(dimension{
	kind: "line density", example: `0.16 lb/ft or 0.24 kg/m`, most: "10000 kg/m",
	units: []*unit{
		u("lb/ft, plf, lbs/ft", "lb/ft", customary),
		u("kg/m", "1", metric),
		u("lb/in", "lb/in", customary),
		u("g/m", "0.001", metric),
	},
	us: printing{column: scale{"lb/ft", 2, 0}, scales: []scale{{"lb/ft", 3, 1}, {"lb/ft", 2, 10}, {"lb/ft", 1, 0}}},
	si: printing{column: scale{"kg/m", 2, 0}, scales: []scale{{"kg/m", 3, 1}, {"kg/m", 2, 10}, {"kg/m", 1, 0}}},
})

var forces = define(dimension{
	kind: "force", example: `50 lbf or 220 N`, most: "100000 kN",
	units: []*unit{
		u("lbf", "lb*g", customary),
		u("N, newton, newtons", "1", metric),
		u("kN", "1000", metric),
		u("kip, kips", "1000*lb*g", customary),
		u("daN", "10", metric),
	},
	us: printing{column: scale{"lbf", 0, 0}, scales: []scale{{"lbf", 1, 10}, {"lbf", 0, 0}}},
	si: printing{column: scale{"N", 0, 0}, scales: []scale{{"N", 1, 10}, {"N", 0, 10000}, {"kN", 1, 0}}},
})

var lineLoads = define(dimension{
	kind: "line load", example: `50 lbf/ft or 0.74 kN/m`, most: "10000 kN/m",
	units: []*unit{
		u("lbf/ft, plf, lb/ft, lbs/ft", "lb*g/ft", customary),
		u("N/m", "1", metric),
		u("kN/m", "1000", metric),
		u("lbf/in, pli, lb/in", "lb*g/in", customary),
		u("kip/ft, klf", "1000*lb*g/ft", customary),
		u("N/mm", "1000", metric),
	},
	us: printing{column: scale{"lbf/ft", 1, 0}, scales: []scale{{"lbf/ft", 1, 100}, {"lbf/ft", 0, 0}}},
	si: printing{column: scale{"N/m", 0, 0}, scales: []scale{{"N/m", 0, 10000}, {"kN/m", 1, 0}}},
})

var pressures = define(dimension{
	kind: "pressure", example: `20 psf or 1 kPa`, most: "1000 GPa",
	units: []*unit{
		u("psf, lbf/ft2, lb/ft2, lbs/ft2, lb/sq ft, lbf/sq ft", "lb*g/ft/ft", customary),
		u("Pa, N/m2, pascal, pascals", "1", metric),
		u("kPa, kN/m2", "1000", metric),
		u("psi, lbf/in2, lb/in2", "lb*g/in/in", customary),
		u("MPa, N/mm2", "1000000", metric),
		u("GPa", "1000000000", metric),
		u("ksf, kip/ft2", "1000*lb*g/ft/ft", customary),
		u("ksi, kip/in2", "1000*lb*g/in/in", customary),
	},
	us: printing{column: scale{"psf", 2, 0}, scales: []scale{{"psf", 2, 10}, {"psf", 1, 100}, {"psf", 0, 14400}, {"psi", 0, 0}}},
	si: printing{column: scale{"Pa", 0, 0}, scales: []scale{{"Pa", 0, 10000}, {"kPa", 1, 1000}, {"MPa", 1, 0}}},
})

var moments = define(dimension{
	kind: "moment", example: `200 lbf·ft or 270 N·m`, most: "1000000 kN·m",
	units: []*unit{
		u("lbf·ft, ft·lbf, ft·lb, lb·ft, ftlb, ftlbf, ft lb, ft lbf, lb ft, lbf ft", "lb*g*ft", customary),
		u("N·m, Nm, N m", "1", metric),
		u("kN·m, kNm, kN m", "1000", metric),
		u("lbf·in, in·lbf, in·lb, lb·in, in lb, in lbf, lb in, lbf in", "lb*g*in", customary),
		u("kip·ft, ft·kip, kip ft", "1000*lb*g*ft", customary),
	},
	us: printing{column: scale{"lbf·ft", 0, 0}, scales: []scale{{"lbf·ft", 1, 10}, {"lbf·ft", 0, 0}}},
	si: printing{column: scale{"N·m", 0, 0}, scales: []scale{{"N·m", 1, 10}, {"N·m", 0, 10000}, {"kN·m", 1, 0}}},
})

var speeds = define(dimension{
	kind: "speed", example: `35 mph or 15 m/s`, most: "500 m/s",
	units: []*unit{
		u("mph, mi/h, miles/hour", "mile/3600", customary),
		u("m/s", "1", metric),
		u("km/h, kph, kmh", "1/3.6", metric),
		u("kt, kn, kts, knot, knots", "1852/3600", metric), // nautical mile, NIST SP 811, B.8
		u("ft/s, fps", "ft", customary),
	},
	us: printing{column: scale{"mph", 1, 0}, scales: []scale{{"mph", 1, 0}}},
	si: printing{column: scale{"m/s", 1, 0}, scales: []scale{{"m/s", 1, 0}}},
})

var angles = define(dimension{
	kind: "angle", example: `90 deg`, most: "3600 deg",
	units: []*unit{
		u("deg, °, degree, degrees", "pi/180", customary),
		u("rad, radian, radians", "1", metric),
	},
	both: &printing{column: scale{"deg", 1, 0}, scales: []scale{{"deg", 1, 0}}},
})

var currents = define(dimension{
	kind: "current", example: `15 A`, most: "100000 A",
	units: []*unit{
		u("A, amp, amps, ampere, amperes", "1", metric),
		u("mA", "0.001", metric),
	},
	both: &printing{column: scale{"A", 2, 0}, scales: []scale{{"mA", 0, 100}, {"A", 2, 10}, {"A", 1, 0}}},
})

var voltages = define(dimension{
	kind: "voltage", example: `120 V`, most: "1000 kV",
	units: []*unit{
		u("V, volt, volts", "1", metric),
		u("kV", "1000", metric),
		u("mV", "0.001", metric),
	},
	both: &printing{column: scale{"V", 1, 0}, scales: []scale{{"V", 2, 10}, {"V", 1, 0}}},
})

var resistances = define(dimension{
	kind: "resistance", example: `0.4 ohm`, most: "1000000000 ohm",
	units: []*unit{
		u("ohm, ohms", "1", metric),
		u("mohm", "0.001", metric),
		u("kohm", "1000", metric),
		u("Mohm", "1000000", metric),
	},
	both: &printing{column: scale{"ohm", 3, 0}, scales: []scale{{"mohm", 1, 100}, {"ohm", 3, 10}, {"ohm", 1, 0}}},
})

var lineResistances = define(dimension{
	kind: "line resistance", example: `4.99 ohm/kft or 16.4 ohm/km`, most: "1000 ohm/m",
	units: []*unit{
		u("ohm/kft, ohm/1000 ft, ohm/1000ft, ohm/MFT", "1/1000/ft", customary),
		u("ohm/km, mohm/m", "0.001", metric),
		u("ohm/m", "1", metric),
		u("ohm/ft", "1/ft", customary),
	},
	us: printing{column: scale{"ohm/kft", 3, 0}, scales: []scale{{"ohm/kft", 3, 10}, {"ohm/kft", 2, 0}}},
	si: printing{column: scale{"ohm/km", 3, 0}, scales: []scale{{"ohm/km", 3, 10}, {"ohm/km", 2, 0}}},
})

var powers = define(dimension{
	kind: "power", example: `60 W or 1.8 kW`, most: "1000000 kW",
	units: []*unit{
		u("W, watt, watts", "1", metric),
		u("kW, kilowatt, kilowatts", "1000", metric),
		u("hp, horsepower", "550*ft*lb*g", customary), // 550 ft·lbf/s, NIST SP 811, B.8
		u("mW", "0.001", metric),
	},
	both: &printing{column: scale{"W", 1, 0}, scales: []scale{{"W", 2, 10}, {"W", 1, 100}, {"W", 0, 10000}, {"kW", 1, 0}}},
})

var apparentPowers = define(dimension{
	kind: "apparent power", example: `500 VA or 2 kVA`, most: "1000000 kVA",
	units: []*unit{
		u("VA", "1", metric),
		u("kVA", "1000", metric),
	},
	both: &printing{column: scale{"VA", 1, 0}, scales: []scale{{"VA", 2, 10}, {"VA", 1, 100}, {"VA", 0, 10000}, {"kVA", 1, 0}}},
})

var energies = define(dimension{
	kind: "energy", example: `1.2 kWh`, most: "1000000 kWh",
	units: []*unit{
		u("Wh", "3600", metric),
		u("kWh", "3600000", metric),
		u("J, joule, joules", "1", metric),
		u("kJ", "1000", metric),
		u("MJ", "1000000", metric),
	},
	both: &printing{column: scale{"Wh", 0, 0}, scales: []scale{{"Wh", 1, 10}, {"Wh", 0, 1000}, {"kWh", 2, 0}}},
})

// The zeros of the scales: NIST SP 811, B.8.
var temperatures = define(dimension{
	kind: "temperature", example: `86 °F or 30 °C`, most: "2000 °C", least: "-273.15 °C",
	units: []*unit{
		{names: []string{"°F", "F", "degF", "deg F", "fahrenheit"}, factor: factor("5/9"), zero: factor("-32"), family: customary},
		u("°C, C, degC, deg C, celsius", "1", metric),
		{names: []string{"K", "kelvin"}, factor: factor("1"), zero: factor("-273.15"), family: metric},
	},
	us: printing{column: scale{"°F", 0, 0}, scales: []scale{{"°F", 1, 0}}},
	si: printing{column: scale{"°C", 1, 0}, scales: []scale{{"°C", 1, 0}}},
})

var durations = define(dimension{
	kind: "duration", example: `5 h or 90 min`, most: "3650 d",
	units: []*unit{
		u("h, hour, hours, hr, hrs", "3600", clock),
		u("min, minute, minutes", "60", clock),
		u("s, sec, second, seconds", "1", clock),
		u("ms", "0.001", clock),
		u("d, day, days", "86400", clock),
	},
	both: &printing{column: scale{"h", 1, 0}, scales: []scale{{"s", 1, 60}, {"min", 1, 60}, {"h", 2, 0}}},
})

var ratios = define(dimension{
	kind: "ratio", example: `2 % or 0.02`, most: "1000 ",
	units: []*unit{
		u("%, percent", "0.01", customary),
		u("", "1", 0),
		u("in/ft", "in/ft", customary),
		u("mm/m", "0.001", metric),
	},
	both: &printing{column: scale{"%", 1, 0}, scales: []scale{{"%", 1, 0}}},
})

var wireAreas = define(dimension{
	kind: "wire area", example: `16 AWG or 1.5 mm2`, most: "10000 mm2",
	units: []*unit{
		{names: []string{"AWG"}, factor: factor("1"), zero: factor("0"), family: customary, gauge: true},
		u("mm2, sq mm", "0.000001", metric),
		u("kcmil, MCM", "pi*in*in/4000000*1000", customary), // 1000 circles of 1/1000 in
	},
	us: printing{column: scale{"mm2", 2, 0}, scales: []scale{{"mm2", 2, 0}}, format: gauge},
	si: printing{column: scale{"mm2", 2, 0}, scales: []scale{{"mm2", 2, 0}}},
})

var frequencies = define(dimension{
	kind: "frequency", example: `60 Hz`, most: "1000000 kHz",
	units: []*unit{
		u("Hz, hertz", "1", metric),
		u("kHz", "1000", metric),
	},
	both: &printing{column: scale{"Hz", 1, 0}, scales: []scale{{"Hz", 1, 0}}},
})

// dimensions are in the order of the types.
var dimensions = []*dimension{
	lengths, areas, volumes, masses, densities, areaDensities, lineDensities, forces, lineLoads,
	pressures, moments, speeds, angles, currents, voltages, resistances, lineResistances, powers,
	apparentPowers, energies, temperatures, durations, ratios, wireAreas, frequencies,
}
