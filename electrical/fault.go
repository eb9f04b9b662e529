package electrical

import (
	"fmt"
	"math"
	"math/cmplx"
)

// FaultVoltageFactor is the least part of the nominal voltage that is counted on to drive a
// fault, C_min of BS 7671 since 2015 (tables 41.2 to 41.4); 1 in its earlier editions.
const FaultVoltageFactor = 0.95

// AdiabaticK is k of copper conductors in PVC, from 70 to 160 degC, A s^0.5/mm2 (IEC
// 60364-4-43 table 43A; from memory). Rubber has more, so this is the careful one.
const AdiabaticK = 115

// adiabaticLimit is the longest fault, s, for which no heat is taken to leave the conductor
// (IEC 60364-4-43 434.5.2).
const adiabaticLimit = 5

// FaultLoops returns, for every run of the network, the impedance in ohm of the loop that a
// fault between a leg and the protective conductor at its far end closes: the source, and the
// runs on the way, whose protective conductors are taken to be as thick as the legs. A
// three-phase source counts twice, out and back.
func FaultLoops(n Network) ([]complex128, error) {
	t, err := compile(&n)
	if err != nil {
		return nil, err
	}
	loops := make([]complex128, len(n.Runs))
	base := len(n.Supplies)
	for s := range n.Supplies {
		src := &n.Supplies[s]
		for _, k := range t.order[s] {
			z := src.faultLoop(&n.Runs[k])
			if up := t.parent[k]; up >= base {
				z += loops[up-base]
			} else {
				z += src.SourceLoop()
			}
			loops[k] = z
		}
	}
	return loops, nil
}

// faultLoop is what one run adds to the loop: its leg and its protective conductor.
func (s *Supply) faultLoop(r *Run) complex128 {
	contact := complex(r.Contact, 0)
	if s.Phases == 3 {
		contact *= 2
	}
	z := 2*complex(r.Resistance, r.Reactance)*complex(r.Length, 0) + contact
	if s.DC {
		z = complex(real(z), 0)
	}
	return z
}

// SourceLoop returns the impedance, ohm, of the loop of one leg ahead of the outlet.
func (s *Supply) SourceLoop() complex128 {
	if s.Phases == 3 {
		return 2 * s.SourceImpedance
	}
	return s.SourceImpedance
}

// FaultVolts returns the nominal voltage, V, between a leg and the protective conductor.
func (s *Supply) FaultVolts() float64 {
	if s.legs() > 1 {
		return s.Nominal(Leg1)
	}
	return s.Volts
}

// FaultAmps returns the fault current in A of a loop in ohm: c U0/Zs, with the voltage factor c
// above 0 and at most 1.1 and U0 in V (BS 7671 411.4.4, appendix 3). No loop impedance, no limit
// to the current: that is an error.
func FaultAmps(c, volts float64, loop complex128) (float64, error) {
	z := cmplx.Abs(loop)
	if err := inRange(arg{"voltage factor", c, small, 1.1}, arg{"voltage", volts, minVolts, maxVolts}, arg{"loop impedance", z, small, 1e18}); err != nil {
		return 0, err
	}
	return c * volts / z, nil
}

// MaxFaultLoop returns the most loop impedance in ohm at which a fault draws the given current in
// A: c U0/Ia (BS 7671 411.4.4 and table 41.3).
func MaxFaultLoop(c, volts, amps float64) (float64, error) {
	if err := inRange(arg{"voltage factor", c, small, 1.1}, arg{"voltage", volts, minVolts, maxVolts}, finite("current", amps, small)); err != nil {
		return 0, err
	}
	return c * volts / amps, nil
}

// ConventionalFaultLength returns the longest cable in m, one way, whose far end a breaker still
// protects at once: 0.8 U0 S/(rho (1 + m) Ia), with 80 % of the voltage left at the origin, S in
// m2, rho in ohm m, m the ratio of the area of the leg to that of the protective conductor (the
// conventional method; the form from memory).
func ConventionalFaultLength(volts, area, resistivity, ratio, amps float64) (float64, error) {
	err := inRange(arg{"voltage", volts, minVolts, maxVolts}, finite("cross-section", area, 0), finite("resistivity", resistivity, small),
		finite("ratio of areas", ratio, 0), finite("current", amps, small))
	if err != nil {
		return 0, err
	}
	return 0.8 * volts * area / (resistivity * (1 + ratio) * amps), nil
}

// AdiabaticTime returns how long in s a conductor of the given area in m2 bears a fault current
// in A before its insulation is spoilt: (k S/I)^2 with k in A s^0.5/mm2 (IEC 60364-4-43 434.5.2).
func AdiabaticTime(area, amps, k float64) (float64, error) {
	if err := inRange(arg{"cross-section", area, 0, 1}, finite("current", amps, small), finite("k", k, small)); err != nil {
		return 0, err
	}
	return math.Pow(k*area*1e6/amps, 2), nil
}

// AdiabaticArea returns the least area in m2 that bears a fault current in A for a time in s, at
// most 5 s, the range of the formula: I sqrt(t)/k (IEC 60364-4-43 434.5.2).
func AdiabaticArea(amps, seconds, k float64) (float64, error) {
	if err := inRange(finite("current", amps, 0), arg{"time", seconds, 0, adiabaticLimit}, finite("k", k, small)); err != nil {
		return 0, err
	}
	return amps * math.Sqrt(seconds) / k * 1e-6, nil
}

// Device is the kind of a circuit breaker.
type Device int

const (
	USBreaker Device = iota // thermal-magnetic, of a US panel (UL 489)
	CurveB                  // IEC 60898-1
	CurveC
	CurveD
)

func (d Device) String() string {
	names := [...]string{"US breaker", "curve B", "curve C", "curve D"}
	if d < 0 || int(d) >= len(names) {
		return fmt.Sprintf("device %d", int(d))
	}
	return names[d]
}

// Trip is a point of a breaker's characteristic.
type Trip struct {
	Multiple float64 // of the rating
	Seconds  float64
	Cited    // its value is the multiple
}

// InstantTrip returns the multiple of its rating at which a breaker is sure to trip at once,
// within 0.1 s, and HoldsInrush the one up to which it is sure not to; rating in A.
func InstantTrip(d Device, rating float64) (Trip, error) { return tripOf("trip", d, rating) }

// HoldsInrush returns the multiple of its rating that a breaker bears for 0.1 s; rating in A.
func HoldsInrush(d Device, rating float64) (Trip, error) { return tripOf("hold", d, rating) }

// TripTime returns the time in s within which a breaker clears a fault current in A, of which it is
// sure to trip at once at the multiple given of its rating in A: 0.1 s, and one cycle from twice as
// much on. A lesser current is an error; see [ThermalTrip].
func TripTime(multiple, rating, amps float64) (Cited, error) {
	if err := inRange(finite("multiple", multiple, small), finite("rating", rating, small), finite("current", amps, 0)); err != nil {
		return Cited{}, err
	}
	if amps < multiple*rating {
		return Cited{}, fmt.Errorf("%.4g A is below %.4g A, at which the breaker is sure to trip at once", amps, multiple*rating)
	}
	for _, r := range tripRows() {
		if r.table == "fast" && amps >= r.Multiple*multiple*rating {
			return Cited{r.Seconds, r.Source, r.Certainty}, nil
		}
	}
	return Cited{instant, "instantaneous trip within 0.1 s (IEC 60898-1); a US breaker is taken likewise", "from memory"}, nil
}

const instant = 0.1 // s

// ThermalTrip returns the highest point of the thermal part that a current in A reaches: the time
// within which a breaker of the rating in A is sure to trip. A current below the lowest point is
// an error: nothing says that it trips.
func ThermalTrip(d Device, rating, amps float64) (Trip, error) {
	var found Trip
	device := "iec"
	if d == USBreaker {
		device = "us"
	}
	for _, r := range tripRows() {
		if r.table == "thermal" && r.device == device && rating > r.above && rating <= r.upto && amps >= r.Multiple*rating && r.Multiple > found.Multiple {
			found = r.Trip
		}
	}
	if found.Multiple == 0 {
		return found, fmt.Errorf("%.4g A is below what a %s of %.4g A is sure to trip at", amps, d, rating)
	}
	return found, nil
}

func tripOf(table string, d Device, rating float64) (Trip, error) {
	device := map[Device]string{USBreaker: "us", CurveB: "b", CurveC: "c", CurveD: "d"}[d]
	for _, r := range tripRows() {
		if r.table == table && r.device == device && rating > r.above && rating <= r.upto {
			return r.Trip, nil
		}
	}
	return Trip{}, fmt.Errorf("no instantaneous trip known for a %s of %.4g A", d, rating)
}

type tripRow struct {
	table, device string
	above, upto   float64 // A
	Trip
}
