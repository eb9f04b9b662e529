package statics

// TurningResult is turning on the foot under horizontal forces that pass beside
// the centre of pressure.
//
// The factor is a lower bound by the static theorem: up to it, ground forces at
// the corners of the foot exist that balance every load within friction, as
// [Body.Reactions] shows. It never exceeds overturning or sliding and equals the lesser
// of them where nothing twists. The limit analysis of joined bodies replaces it. What
// it takes for granted is that the corners bear; a foot that bears in its middle
// turns under less.
type TurningResult struct {
	Factor    Factor
	Torque    float64    // about the centre of pressure at the factor, or at 1 when unbounded (N·m, anticlockwise positive)
	Centre    [2]float64 // centre of pressure there (m)
	DeadTurns bool       // the dead forces alone are not shown to be held against turning
}

// Share of the lesser of overturning and sliding that stands for it, so that rounding on
// the knife edge does not look like turning.
const knifeEdge = 1 - 1e-9

func turning(k contact, dead, live resultant, edge EdgeResult, slide SlidingResult, enough float64) TurningResult {
	var r TurningResult
	standing := !edge.DeadTips && !slide.DeadSlides
	if standing {
		r.DeadTurns = k.margin(dead) < 0
	}
	if standing && !r.DeadTurns {
		limit := least(edge.Factor, slide.Factor)
		if enough > 0 && (limit.Unbounded || enough < limit.Value) && k.margin(dead.plus(enough, live)) >= 0 {
			r.Factor.Value = enough
		} else {
			r.Factor = turningFactor(k, dead, live, limit)
		}
	}
	at := r.Factor.Value
	if r.Factor.Unbounded {
		at = 1
	}
	all := dead.plus(at, live)
	if c := all.centre(); all.n > 0 && usable(c[:]...) {
		r.Torque = all.twist(c)
		r.Centre = [2]float64{c[0] + k.origin[0], c[1] + k.origin[1]}
	}
	return r
}

// turningFactor finds a factor that the corner forces carry. Loads carried at 0 and at
// λ are carried at all factors between, since forces in the friction cones may be
// mixed; so any λ found is a lower bound and no scan of the smaller ones is needed.
func turningFactor(k contact, dead, live resultant, limit Factor) Factor {
	hi := limit.Value * knifeEdge
	if limit.Unbounded {
		hi = maxFactor
	}
	marginHi := k.margin(dead.plus(hi, live))
	if marginHi >= 0 {
		return limit
	}
	lo, marginLo := 0.0, k.margin(dead)
	left, nothing := marginLo, 1e-11*k.friction*dead.n
	// False position (Illinois), with every fourth step a bisection.
	for i, side := 1, 0; i <= 250 && hi-lo > 1e-12*hi && left > nothing; i++ {
		x := lo + (hi-lo)*marginLo/(marginLo-marginHi)
		if i%4 == 0 || !(x > lo && x < hi) {
			x = lo + (hi-lo)/2
		}
		if m := k.margin(dead.plus(x, live)); m >= 0 {
			lo, marginLo, left = x, m, m
			if side > 0 {
				marginHi /= 2
			}
			side = 1
		} else {
			hi, marginHi = x, m
			if side < 0 {
				marginLo /= 2
			}
			side = -1
		}
	}
	return Factor{Value: lo}
}
