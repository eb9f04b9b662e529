// Package quantity holds the physical quantities of a site as named float64 types in
// SI, reads them from what a builder writes (`7 ft 3 1/2 in`, `6' 9"`, `450 mm`,
// `16 AWG`) and prints them in US customary or SI units.
//
// A text is read exactly: numbers and unit factors are rationals and the result is
// rounded once. Factors are those of the international yard and pound agreement of
// 1959 and of NIST SP 811 appendix B; gravity is 9.80665 m/s2. Refused are bare
// numbers (but for ratios), other dimensions, anything not finite and sizes that no
// scenery has.
package quantity

// Quantity is any of the types below. The number is in the SI unit named beside each.
type Quantity interface {
	~float64
	Kind() Kind
}

// Kind names a dimension, as in messages: "length", "mass".
type Kind string

// The quantities, in SI.
type (
	Length         float64 // m
	Area           float64 // m2
	Volume         float64 // m3
	Mass           float64 // kg
	Density        float64 // kg/m3
	AreaDensity    float64 // kg/m2
	LineDensity    float64 // kg/m
	Force          float64 // N
	Pressure       float64 // Pa
	Moment         float64 // N·m
	Speed          float64 // m/s
	Angle          float64 // rad
	Current        float64 // A
	Voltage        float64 // V
	Resistance     float64 // ohm
	LineResistance float64 // ohm/m
	Power          float64 // W
	ApparentPower  float64 // VA
	Energy         float64 // J
	Temperature    float64 // degrees Celsius
	Duration       float64 // s
	Ratio          float64 // 1
	WireArea       float64 // m2 of conductor
)

func (Length) Kind() Kind         { return "length" }
func (Area) Kind() Kind           { return "area" }
func (Volume) Kind() Kind         { return "volume" }
func (Mass) Kind() Kind           { return "mass" }
func (Density) Kind() Kind        { return "density" }
func (AreaDensity) Kind() Kind    { return "mass per area" }
func (LineDensity) Kind() Kind    { return "mass per length" }
func (Force) Kind() Kind          { return "force" }
func (Pressure) Kind() Kind       { return "pressure" }
func (Moment) Kind() Kind         { return "moment" }
func (Speed) Kind() Kind          { return "speed" }
func (Angle) Kind() Kind          { return "angle" }
func (Current) Kind() Kind        { return "current" }
func (Voltage) Kind() Kind        { return "voltage" }
func (Resistance) Kind() Kind     { return "resistance" }
func (LineResistance) Kind() Kind { return "resistance per length" }
func (Power) Kind() Kind          { return "power" }
func (ApparentPower) Kind() Kind  { return "apparent power" }
func (Energy) Kind() Kind         { return "energy" }
func (Temperature) Kind() Kind    { return "temperature" }
func (Duration) Kind() Kind       { return "duration" }
func (Ratio) Kind() Kind          { return "ratio" }
func (WireArea) Kind() Kind       { return "wire area" }

// KindOf is the kind of a type.
func KindOf[Q Quantity]() Kind { return Q(0).Kind() }

// StandardGravity is g, m/s2 (3rd General Conference on Weights and Measures, 1901).
const StandardGravity = 9.80665

// Times is the mass of a volume.
func (d Density) Times(v Volume) Mass { return Mass(float64(d) * float64(v)) }

// Times is the mass of an area.
func (d AreaDensity) Times(a Area) Mass { return Mass(float64(d) * float64(a)) }

// Times is the mass of a length.
func (d LineDensity) Times(l Length) Mass { return Mass(float64(d) * float64(l)) }

// Weight is the force of gravity on a mass.
func (m Mass) Weight() Force { return Force(float64(m) * StandardGravity) }

// System is a family of units for printing.
type System int

const (
	US System = iota // feet and inches, lb, mph, psf
	SI
)

func (s System) String() string {
	if s == SI {
		return "si"
	}
	return "us"
}

// ParseSystem reads "us" or "si".
func ParseSystem(text string) (System, error) {
	switch text {
	case "us":
		return US, nil
	case "si":
		return SI, nil
	}
	return US, &ParseError{Text: text, Len: len(text), Message: "no such family of units", Want: "us or si"}
}
