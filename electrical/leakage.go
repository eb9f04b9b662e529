package electrical

import "math"

// Residual-current devices and the current that leaks to earth in ordinary use.
const (
	GFCITrip        = 0.006 // A, at which a class A GFCI must trip (UL 943)
	GFCIHold        = 0.004 // A, at which it must not (UL 943)
	RCDTrip         = 0.030 // A, of the usual RCD for persons (IEC 61008)
	RCDLeakage      = 0.30  // part of an RCD's rating that may leak in ordinary use (BS 7671 531.3.2)
	GFCILeakage     = 0.375 // part of GFCIHold, 1.5 mA, likewise; by analogy, common practice, no source
	leakagePerAmp   = 0.3e-3
	leakagePerMetre = 10e-6
)

// GFCITime returns the longest time in s that a class A GFCI may take at a leakage current of
// 6 to 264 mA, in A: (20/I)^1.43 with I in mA (UL 943).
func GFCITime(amps float64) (float64, error) {
	if err := inRange(arg{"leakage current", amps, 0.006, 0.264}); err != nil {
		return 0, err
	}
	return math.Pow(20/(amps*1000), 1.43), nil
}

// RCDBudget returns the most that may leak in ordinary use behind an RCD of the given rating in
// A: 30 % of it (BS 7671 531.3.2).
func RCDBudget(rating float64) (float64, error) {
	if err := inRange(arg{"RCD rating", rating, 0.001, 30}); err != nil {
		return 0, err
	}
	return RCDLeakage * rating, nil
}

// GFCIBudget returns the most that may leak in ordinary use behind a class A GFCI, A: 1.5 mA, since
// it may trip above 4 mA.
func GFCIBudget() float64 { return GFCILeakage * GFCIHold }

// EstimatedLeakage returns the leakage in A of equipment that draws so many A over so many m of
// cord, when it is not known: 0.3 mA per A (published in notes on leakage; Martindale 2018) and
// 0.01 mA per m (from memory).
func EstimatedLeakage(amps, metres float64) (float64, error) {
	if err := inRange(finite("current", amps, 0), arg{"length", metres, 0, maxValue}); err != nil {
		return 0, err
	}
	return leakagePerAmp*amps + leakagePerMetre*metres, nil
}

// TouchVoltageLimit returns the highest extra-low voltage in V, AC (RMS) or DC, of a luminaire
// whose live parts can be touched, dry or wet (IEC 60598-1 8.2.3).
func TouchVoltageLimit(dc, wet bool) float64 {
	switch {
	case dc && wet:
		return 30
	case dc:
		return 60
	case wet:
		return 12
	}
	return 25
}

// ExtraLowVoltage reports whether a voltage in V is within the bounds of extra-low voltage: 50 V
// AC, 120 V DC (IEC 60364-4-41 414).
func ExtraLowVoltage(volts float64, dc bool) bool {
	if dc {
		return volts <= 120
	}
	return volts <= 50
}

// WattFootDrop returns the drop in V of the landscape trade's rule for 12 V: W ft/constant. The
// constants of that trade (7500 for 12 AWG) hold for lamps spread evenly along the run and promise
// half of the true drop of a load at its end.
func WattFootDrop(watts, feet, constant float64) (float64, error) {
	if err := inRange(finite("power", watts, 0), finite("length", feet, 0), finite("constant", constant, small)); err != nil {
		return 0, err
	}
	return watts * feet / constant, nil
}
