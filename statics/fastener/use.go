package fastener

import (
	"fmt"
	"math"
)

// Demand is what acts on one fastener, N, both at least 0. By EN1995 it is a design value.
type Demand struct {
	Lateral float64 // across its axis
	Tension float64 // along its axis, out of the main member
}

// Use is how a demand compares with what carries it.
type Use struct {
	Demand   float64 // N, resultant
	Capacity float64 // N, in the direction of the demand; 0 where there is none, or nothing is asked
	Mode     string  // what gives way first

	Lateral, Tension Capacity // each alone; zero where that part is not asked
	Step             Step     // how the two combine; zero where one acts alone
	Certainty        string
}

// Holds reports whether the demand is carried.
func (u Use) Holds() bool { return u.Demand == 0 || u.Capacity >= u.Demand*(1-1e-12) }

// Utilisation is demand over capacity. It does not exist where something is asked of what has
// no capacity; then exists is false.
func (u Use) Utilisation() (value float64, exists bool) {
	switch {
	case u.Demand == 0:
		return 0, true
	case u.Capacity <= 0:
		return 0, false
	}
	return u.Demand / u.Capacity, true
}

// Broken lists the rules that either capacity falls short of.
func (u Use) Broken() []Rule { return append(u.Lateral.Broken(), u.Tension.Broken()...) }

const (
	maxForce = 1e9  // N
	noForce  = 1e-6 // N, below which a capacity is none
)

// Check compares a demand on one fastener with its lateral and axial capacity, and with both
// together.
//
// NDS, screws (12.4.1, with the tension capacity in the place of W'p so that head and steel
// count too): Z'_a = W'p Z' / (W'p cos^2 a + Z' sin^2 a), a from the face of the wood; but
// tension never helps: at least V / Z'. Nails (12.4.2): the same with cos and sin. Bolts: the
// document is silent, so the same straight line.
//
// EN1995: (F_ax/R_ax)^2 + (F_v/R_v)^2 for screws (8.7.3) and bolts; the sum of both for smooth
// nails (8.3.3).
func (j Joint) Check(d Demand) (Use, error) {
	var lateral, tension Capacity
	var err error
	if d.Lateral > 0 {
		if lateral, err = j.Lateral(); err != nil {
			return Use{}, err
		}
	}
	if d.Tension > 0 {
		if tension, err = j.Tension(); err != nil {
			return Use{}, err
		}
	}
	return j.Compare(d, lateral, tension)
}

// Compare is [Joint.Check] with the capacities of the joint already computed, for many demands
// on one joint. A capacity whose part is not asked for may be zero.
func (j Joint) Compare(d Demand, lateral, tension Capacity) (Use, error) {
	if err := bounded(rangeSource,
		bound{"lateral demand in N", d.Lateral, 0, maxForce},
		bound{"tension in N", d.Tension, 0, maxForce},
		bound{"lateral capacity in N", lateral.Value, 0, 1e3 * maxForce},
		bound{"tension capacity in N", tension.Value, 0, 1e3 * maxForce},
	); err != nil {
		return Use{}, err
	}
	u := Use{Demand: math.Hypot(d.Lateral, d.Tension), Mode: "nothing is asked"}
	var doubt Capacity
	if d.Lateral > 0 {
		u.Lateral = lateral
		doubt.doubt(lateral.Certainty)
	}
	if d.Tension > 0 {
		u.Tension = tension
		doubt.doubt(tension.Certainty)
	}
	v, t := lateral.Value, tension.Value
	switch {
	case u.Demand == 0:
	case d.Lateral > 0 && v < noForce:
		u.Mode = lateral.Mode
	case d.Tension > 0 && t < noForce:
		u.Mode = tension.Mode
	case d.Tension == 0:
		u.Capacity, u.Mode = v, lateral.Mode
	case d.Lateral == 0:
		u.Capacity, u.Mode = t, tension.Mode
	default:
		x, y := d.Lateral/v, d.Tension/t
		share, o, formula := j.combine(d, x, y)
		u.Capacity = u.Demand / share
		u.Step = Step{"combined", fmt.Sprintf("%s of %.3f and %.3f = %.3f", formula, x, y, share), share, "", o.source, o.certainty}
		doubt.doubt(o.certainty)
		u.Mode = "combined: " + lateral.Mode
		if y > x {
			u.Mode = "combined: " + tension.Mode
		}
	}
	u.Certainty = doubt.Certainty
	return u, nil
}

// combine is the utilisation of lateral and tension together from x and y, that of each alone.
func (j Joint) combine(d Demand, x, y float64) (float64, origin, string) {
	f := j.Fastener
	v, t := d.Lateral, d.Tension
	switch {
	case j.Code == EN1995 && f.Kind == Nail:
		return x + y, clause("8.3.3 (8.27)"), "F_v/R_v + F_ax/R_ax"
	case j.Code == EN1995:
		return math.Hypot(x, y), clause("8.3.3 (8.28), 8.7.3"), "√((F_v/R_v)² + (F_ax/R_ax)²)"
	case f.nailed():
		return x + y, origin{"NDS 2018 12.4.2", twoStatements}, "V/Z' + T/W'p"
	case f.Kind == Bolt:
		return x + y, origin{"straight line between lateral and tension; NDS 2018 has no rule for bolts", noSource}, "V/Z' + T/T'"
	}
	p := math.Hypot(v, t)
	return max(x, y, (v*x+t*y)/p), origin{"NDS 2018 12.4.1", twoStatements}, "(V²/Z' + T²/W'p) / √(V² + T²)"
}
