package statics

import "math"

// SlidingResult is sliding of the whole foot in one direction.
type SlidingResult struct {
	Friction   float64 // friction coefficient times the dead load on the ground (N)
	Horizontal float64 // resultant horizontal live force at factor 1 (N)
	Factor     Factor  // least factor at which the horizontal force exceeds friction
	Bearing    float64 // where it slides to, degrees clockwise from north
	Towards    string  // the same as a compass point; empty without horizontal force
	DeadSlides bool    // the dead forces alone exceed friction: it does not stand by itself
}

// sliding solves |H_d + λ H_l| = μ (N_d + λ N_l). The loads start inside the friction
// cone and leave it once, because the cone is convex.
func sliding(friction float64, dead, live resultant, uplift Factor) SlidingResult {
	grip := friction * dead.n
	r := SlidingResult{Friction: grip, Horizontal: math.Hypot(live.h[0], live.h[1])}
	if dead.n <= 0 || math.Hypot(dead.h[0], dead.h[1]) > grip {
		r.DeadSlides = true
	} else {
		r.Factor = least(coneExit(friction, dead, live), uplift)
	}
	at := r.Factor.Value
	if r.Factor.Unbounded {
		at = 1
	}
	if h := dead.plus(at, live).h; h != [2]float64{} {
		r.Bearing = bearing(h)
		r.Towards = compass(r.Bearing)
	}
	return r
}

// coneExit is the first root of a λ² + b λ + c = (μ N)² - |H|² at which it turns
// negative, for dead forces within the cone.
func coneExit(friction float64, dead, live resultant) Factor {
	// Both loads are scaled to unit size, so that no square is lost.
	sd := max(friction*dead.n, math.Abs(dead.h[0]), math.Abs(dead.h[1]))
	sl := max(friction*math.Abs(live.n), math.Abs(live.h[0]), math.Abs(live.h[1]))
	if sl == 0 {
		return Factor{Unbounded: true}
	}
	if sd == 0 { // no grip and no dead push: the live load decides at once
		if math.Hypot(live.h[0], live.h[1]) > friction*live.n {
			return Factor{}
		}
		return Factor{Unbounded: true}
	}
	gd, xd, yd := friction*dead.n/sd, dead.h[0]/sd, dead.h[1]/sd
	gl, xl, yl := friction*live.n/sl, live.h[0]/sl, live.h[1]/sl
	hd, hl := math.Hypot(xd, yd), math.Hypot(xl, yl)
	a := (gl - hl) * (gl + hl)
	half := gd*gl - (xd*xl + yd*yl) // b/2
	c := (gd - hd) * (gd + hd)

	var root float64
	if a >= 0 && half >= 0 {
		return Factor{Unbounded: true}
	}
	if d := math.Sqrt(max(half*half-a*c, 0)); half < 0 {
		root = c / (d - half)
	} else { // a < 0
		root = (half + d) / -a
	}
	if root <= 0 {
		return Factor{}
	}
	return quotient(root*sd, sl)
}
