// Package quantity holds the physical quantities of the program: one named
// float64 type a dimension, always in SI, read from the text that builders write
// and printed back in the units that they use.
//
// Reading is exact: number and conversion factor are rationals, and the result
// is rounded to float64 once. The exceptions are wire gauges, whose areas are
// powers of 92^(1/39), and angles, whose factor is pi/180 to 60 digits. A number
// may be a decimal (7.5, .5), a fraction (3/8, ½), a mixed number (3 1/2, 3-1/2,
// 3½) or have an exponent of ten of at most ±30 (1.2e-3). Lengths, masses,
// durations and metric lengths may be compound: 7 ft 3 1/2 in, 6'-9", 3 lb 4 oz.
// A leading sign counts for the whole; whether a sign makes sense is for the
// caller to say. Metric symbols are told apart by case (mA is not MA); customary
// units and words are not.
//
// Refused, with the place in the text and a hint: a number without a unit (but
// for a [Ratio]), a unit of another dimension, an unknown unit, a decimal comma
// and grouped digits, nan and inf, a value beyond the largest that is plausible
// for its kind, and a text longer than [MaxText] bytes.
//
// lb is a mass and lbf a force: a force in lb is refused with a hint. Loads that
// the trade writes in pounds alone, psf, plf and ft-lb, are taken as they are.
//
// Rounding in print is half away from zero on the decimal value, in one function.
// A value that is NaN or infinite prints as [NotAvailable].
//
// Conversion factors: the international yard and pound (1959) and NIST Special
// Publication 811 (2008), Appendix B, where they are exact; wire gauges ASTM B258.
package quantity

// The quantities, each in the SI unit named beside it.
type (
	Length         float64 // m
	Area           float64 // m2
	Volume         float64 // m3
	Mass           float64 // kg
	Density        float64 // kg/m3
	AreaDensity    float64 // kg/m2
	LineDensity    float64 // kg/m
	Force          float64 // N
	LineLoad       float64 // N/m
	Pressure       float64 // Pa; stress too
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
	WireArea       float64 // m2, the cross-section of a conductor
	Frequency      float64 // Hz
)

// Quantity is any of the types above.
type Quantity interface {
	~float64
	dimension() *dimension
}

func (Length) dimension() *dimension         { return lengths }
func (Area) dimension() *dimension           { return areas }
func (Volume) dimension() *dimension         { return volumes }
func (Mass) dimension() *dimension           { return masses }
func (Density) dimension() *dimension        { return densities }
func (AreaDensity) dimension() *dimension    { return areaDensities }
func (LineDensity) dimension() *dimension    { return lineDensities }
func (Force) dimension() *dimension          { return forces }
func (LineLoad) dimension() *dimension       { return lineLoads }
func (Pressure) dimension() *dimension       { return pressures }
func (Moment) dimension() *dimension         { return moments }
func (Speed) dimension() *dimension          { return speeds }
func (Angle) dimension() *dimension          { return angles }
func (Current) dimension() *dimension        { return currents }
func (Voltage) dimension() *dimension        { return voltages }
func (Resistance) dimension() *dimension     { return resistances }
func (LineResistance) dimension() *dimension { return lineResistances }
func (Power) dimension() *dimension          { return powers }
func (ApparentPower) dimension() *dimension  { return apparentPowers }
func (Energy) dimension() *dimension         { return energies }
func (Temperature) dimension() *dimension    { return temperatures }
func (Duration) dimension() *dimension       { return durations }
func (Ratio) dimension() *dimension          { return ratios }
func (WireArea) dimension() *dimension       { return wireAreas }
func (Frequency) dimension() *dimension      { return frequencies }

// StandardGravity is the standard acceleration of free fall in m/s2, exact by
// definition (NIST SP 811, Appendix B.8).
const StandardGravity = 9.80665

// Units as quantities: 3*Foot is a Length.
const (
	Metre      Length = 1
	Millimetre Length = 0.001
	Foot       Length = 0.3048
	Inch       Length = 0.0254

	SquareMetre Area = 1
	SquareFoot  Area = 0.3048 * 0.3048

	CubicMetre Volume = 1
	CubicFoot  Volume = 0.3048 * 0.3048 * 0.3048

	Kilogram Mass = 1
	Pound    Mass = 0.45359237

	Newton     Force = 1
	PoundForce Force = 0.45359237 * StandardGravity

	Pascal Pressure = 1
	PSF    Pressure = 0.45359237 * StandardGravity / (0.3048 * 0.3048)

	MPS Speed = 1
	MPH Speed = 0.44704

	Degree Angle = 3.14159265358979323846264338327950288419716939937510582097494459 / 180

	Ampere Current  = 1
	Volt   Voltage  = 1
	Watt   Power    = 1
	Second Duration = 1
	Hour   Duration = 3600
)

// Times returns the mass of a volume.
func (d Density) Times(v Volume) Mass { return Mass(float64(d) * float64(v)) }

// Times returns the mass of a sheet or coat of that area.
func (d AreaDensity) Times(a Area) Mass { return Mass(float64(d) * float64(a)) }

// Times returns the mass of a bar or pipe of that length.
func (d LineDensity) Times(l Length) Mass { return Mass(float64(d) * float64(l)) }

// Weight returns the force of standard gravity on the mass.
func (m Mass) Weight() Force { return Force(float64(m) * StandardGravity) }

// Kind names a dimension in words: "length", "area density".
type Kind string

// KindOf returns the kind of a type.
func KindOf[Q Quantity]() Kind {
	var q Q
	return q.dimension().kind
}

// Kinds returns all kinds, in the order of the types.
func Kinds() []Kind {
	kinds := make([]Kind, len(dimensions))
	for i, d := range dimensions {
		kinds[i] = d.kind
	}
	return kinds
}

// Units returns the unit words that messages offer for a kind, commonest first;
// nil when there is no such kind. More spellings than these are read.
func Units(kind Kind) []string {
	d := dimensionOf(kind)
	if d == nil {
		return nil
	}
	var words []string
	for _, u := range d.units {
		if u.names[0] != "" {
			words = append(words, u.names[0])
		}
	}
	return words
}

func dimensionOf(kind Kind) *dimension {
	for _, d := range dimensions {
		if d.kind == kind {
			return d
		}
	}
	return nil
}
