package electrical

import (
	"fmt"
	"math"
)

// Resistance of copper against temperature, and the constants of the drop formulas.
const (
	CopperPerDegree20 = 0.00393 // 1/K, of the resistance at 20 degC; from memory
	CopperPerDegree75 = 0.00323 // 1/K, of the resistance at 75 degC (NEC chapter 9 table 8, note 2)
	CopperK           = 12.9    // ohm cmil/ft, stranded at 75 degC, computed from NEC chapter 9 table 8
	IECCopper         = 2.25e-8 // ohm m in service, 1.25 times that at 20 degC (IEC 60364-5-52 annex G)
	IECReactance      = 8e-5    // ohm/m of one conductor (same)
)

// arg is an argument of a formula with the range it must be in.
type arg struct {
	name      string
	value     float64
	low, high float64
}

// finite is an argument that may be anything from low to the bound of plausible numbers.
func finite(name string, value, low float64) arg { return arg{name, value, low, maxValue} }

const small = 1e-12 // the least divisor

func powerFactor(value float64) arg { return arg{"power factor", value, minPowerFactor, 1} }

// inRange returns an error that names the first argument out of its range.
func inRange(args ...arg) error {
	for _, a := range args {
		if !(a.value >= a.low && a.value <= a.high) {
			return fmt.Errorf("%s is %v, must be %g to %g", a.name, a.value, a.low, a.high)
		}
	}
	return nil
}

// wireFactor is how many times the drop of one conductor a line drops: 2 out and back
// (DC and single-phase), the square root of 3 between lines when three-phase.
func wireFactor(phases int) (float64, error) {
	switch phases {
	case 1:
		return 2, nil
	case 3:
		return math.Sqrt(3), nil
	}
	return 0, fmt.Errorf("%d phases, must be 1 or 3", phases)
}

// ResistanceFrom20 returns the resistance of copper at a temperature in degC, -60 to
// 250, from that at 20 degC: R20 (1 + 0.00393 (T - 20)), in the unit of the argument.
func ResistanceFrom20(r20, celsius float64) (float64, error) {
	err := inRange(finite("resistance", r20, 0), arg{"temperature", celsius, -60, 250})
	if err != nil {
		return 0, err
	}
	return r20 * (1 + CopperPerDegree20*(celsius-20)), nil
}

// ResistanceFrom75 returns the resistance of copper at a temperature in degC, -60 to
// 250, from that at 75 degC, at which NEC chapter 9 table 8 gives it:
// R75 (1 + 0.00323 (T - 75)), in the unit of the argument (table 8 note 2).
func ResistanceFrom75(r75, celsius float64) (float64, error) {
	err := inRange(finite("resistance", r75, 0), arg{"temperature", celsius, -60, 250})
	if err != nil {
		return 0, err
	}
	return r75 * (1 + CopperPerDegree75*(celsius-75)), nil
}

// CircularMilResistance returns the resistance of one conductor in ohm/m from K in
// ohm cmil/ft and the area in circular mils, K/CM. With [LineDrop] it is the trade's
// 2 K I L / CM, and 1.732 K I L / CM when three-phase.
func CircularMilResistance(k, cmil float64) (float64, error) {
	if err := inRange(finite("K", k, 0), finite("area in cmil", cmil, 1)); err != nil {
		return 0, err
	}
	const footInMetres = 0.3048
	return k / cmil / footInMetres, nil
}

// EffectiveImpedance returns R cos + X sin, of a conductor's resistance and reactance and
// the lagging power factor of its current: the part of the impedance that lowers the
// magnitude of the voltage (UFC 3-520-01 appendix B-2; NEC chapter 9 table 9 note 2). Any one
// unit of impedance.
func EffectiveImpedance(r, x, pf float64) (float64, error) {
	if err := inRange(finite("resistance", r, 0), finite("reactance", x, 0), powerFactor(pf)); err != nil {
		return 0, err
	}
	return r*pf + x*math.Sqrt((1-pf)*(1+pf)), nil
}

// IECImpedance returns the effective impedance of one copper conductor in ohm/m for its
// cross-section in m2: rho/S cos + lambda sin with the rounded constants [IECCopper] and
// [IECReactance] (IEC 60364-5-52 annex G; the constants seen, the form from memory).
func IECImpedance(area, pf float64) (float64, error) {
	if err := inRange(finite("cross-section", area, small)); err != nil {
		return 0, err
	}
	return EffectiveImpedance(IECCopper/area, IECReactance, pf)
}

// LineDrop returns the drop in V of one load at the end of a line: 2 I z L for DC and
// single-phase, 1.732 I z L between lines when three-phase; I in A, z the effective
// impedance of one conductor in ohm/m, L one way in m (UFC 3-520-01 appendix B-2).
func LineDrop(amps, impedance, length float64, phases int) (float64, error) {
	wires, err := wireFactor(phases)
	if err != nil {
		return 0, err
	}
	if err := inRange(finite("current", amps, 0), finite("impedance", impedance, 0), finite("length", length, 0)); err != nil {
		return 0, err
	}
	return wires * amps * impedance * length, nil
}

// MaxLength returns the length in m, one way, at which [LineDrop] reaches drop in V.
func MaxLength(drop, amps, impedance float64, phases int) (float64, error) {
	wires, err := wireFactor(phases)
	if err != nil {
		return 0, err
	}
	if err := inRange(finite("drop", drop, 0), finite("current", amps, small), finite("impedance", impedance, small)); err != nil {
		return 0, err
	}
	return drop / (wires * amps * impedance), nil
}

// MaxAmps returns the current in A at which [LineDrop] reaches drop in V.
func MaxAmps(drop, impedance, length float64, phases int) (float64, error) {
	wires, err := wireFactor(phases)
	if err != nil {
		return 0, err
	}
	if err := inRange(finite("drop", drop, 0), finite("impedance", impedance, small), finite("length", length, small)); err != nil {
		return 0, err
	}
	return drop / (wires * impedance * length), nil
}

// TabulatedDrop returns the drop in V from a cable table's figure in V per A and m, which
// BS 7671 appendix 4 prints as mV/A/m and which holds the factor of the phases already.
func TabulatedDrop(perAmpMetre, amps, length float64) (float64, error) {
	if err := inRange(finite("drop per A and m", perAmpMetre, 0), finite("current", amps, 0), finite("length", length, 0)); err != nil {
		return 0, err
	}
	return perAmpMetre * amps * length, nil
}

// UniformDrop returns the drop in V from the feeding end to distance x in m along a line
// of the given length in m that is loaded evenly: i r (l x - x^2/2), with the load i in A/m
// and the loop resistance r in ohm/m (Mehta and Mehta, Principles of Power System,
// chapter 13).
func UniformDrop(ampsPerMetre, loopResistance, length, x float64) (float64, error) {
	err := inRange(finite("load", ampsPerMetre, 0), finite("loop resistance", loopResistance, 0),
		finite("length", length, 0), arg{"distance", x, 0, length})
	if err != nil {
		return 0, err
	}
	return ampsPerMetre * loopResistance * (length*x - x*x/2), nil
}

// LineAmps returns the current in A of a load of the given W at the nominal voltage in V,
// line to line when three-phase, and power factor: P/(V pf), P/(1.732 V pf).
func LineAmps(watts, volts, pf float64, phases int) (float64, error) {
	if err := inRange(finite("power", watts, 0), arg{"voltage", volts, minVolts, maxVolts}, powerFactor(pf)); err != nil {
		return 0, err
	}
	switch phases {
	case 1:
		return watts / (volts * pf), nil
	case 3:
		return watts / (math.Sqrt(3) * volts * pf), nil
	}
	return 0, fmt.Errorf("%d phases, must be 1 or 3", phases)
}
