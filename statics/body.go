package statics

import (
	"errors"
	"fmt"
	"math"
)

// Vec is a vector in the body's axes: x east, y north, z up.
type Vec = [3]float64

// Force is a force F (N) acting at the point At (m, z from the ground).
type Force struct {
	Name string
	F    Vec
	At   Vec
}

// Body is a rigid body resting on level ground at z = 0.
type Body struct {
	// Foot lists the bearing points in plan (m), in any order; their convex hull
	// is what the body can tip about.
	Foot [][2]float64
	// Friction is the coefficient between foot and ground, zero or more.
	Friction float64
	// Dead acts at its own value: weight, ballast, a steady pull.
	Dead []Force
	// Live is multiplied, all of it, by the load factor: wind, people leaning.
	Live []Force
	// Enough, where it is not zero, is a factor beyond which turning is of no interest:
	// when it is reached, it is what [TurningResult] gives.
	Enough float64

	prepared *foot // after Prepare
}

// foot is what a body can tip about.
type foot struct {
	hull    [][2]float64
	edges   []EdgeResult // without moments
	outward [][2]float64 // normal of each edge
	arms    []float64    // distance of each edge from the first corner
}

func newFoot(points [][2]float64) (*foot, error) {
	hull, err := Hull(points)
	if err != nil {
		return nil, err
	}
	f := &foot{hull: hull, edges: make([]EdgeResult, len(hull)), outward: make([][2]float64, len(hull)), arms: make([]float64, len(hull))}
	for i, a := range hull {
		n := outward(hull, i)
		f.outward[i] = n
		f.arms[i] = (a[0]-hull[0][0])*n[0] + (a[1]-hull[0][1])*n[1]
		at := bearing(n)
		f.edges[i] = EdgeResult{From: a, To: hull[(i+1)%len(hull)], Bearing: at, Name: compass(at)}
	}
	return f, nil
}

// Prepare works out the hull of Foot once for many checks of the body; after a change of
// Foot it must be called again. The error is that of [Hull].
func (b *Body) Prepare() (err error) {
	b.prepared, err = newFoot(b.Foot)
	return err
}

var (
	// ErrFoot: the bearing points span no area.
	ErrFoot = errors.New("foot needs at least three bearing points that are not in one line")
	// ErrValue: a number is not finite, beyond 1e12, or a negative friction coefficient.
	ErrValue = errors.New("value cannot be used")
)

const (
	maxMagnitude = 1e12 // N or m; keeps every product finite
	maxFactor    = 1e9  // larger load factors are rounding, reported as unbounded
)

// Factor is a load factor. When Unbounded is set no multiple of the live loads up
// to 1e9 brings the mode about, and Value is zero.
type Factor struct {
	Value     float64
	Unbounded bool
}

// Less reports whether f is smaller than g; unbounded exceeds every value.
func (f Factor) Less(g Factor) bool {
	if f.Unbounded || g.Unbounded {
		return !f.Unbounded && g.Unbounded
	}
	return f.Value < g.Value
}

// AtLeast reports whether f reaches the required factor.
func (f Factor) AtLeast(required float64) bool {
	return f.Unbounded || f.Value >= required
}

// quotient is a/b as a factor for a >= 0, b > 0.
func quotient(a, b float64) Factor {
	if v := a / b; v <= maxFactor {
		return Factor{Value: v}
	}
	return Factor{Unbounded: true}
}

func least(f Factor, others ...Factor) Factor {
	for _, g := range others {
		if g.Less(f) {
			f = g
		}
	}
	return f
}

// Result is what [Body.Check] finds.
type Result struct {
	Hull        [][2]float64 // corners of the foot (m), anticlockwise
	Overturning []EdgeResult // one for each edge of Hull, from corner i to i+1
	WorstEdge   int          // index in Overturning of the least factor
	Sliding     SlidingResult
	Turning     TurningResult
	Uplift      Factor  // where the ground force vanishes; never below overturning
	Normal      float64 // dead load on the ground (N, positive presses)
	NormalLive  float64 // live load on the ground at factor 1 (N, positive presses)
}

// Check computes every mode. The error wraps [ErrFoot] or [ErrValue].
func (b Body) Check() (Result, error) {
	foot, err := b.foot()
	if err != nil {
		return Result{}, err
	}
	origin := foot.hull[0]
	dead, live := sum(b.Dead, origin), sum(b.Live, origin)

	r := Result{Hull: foot.hull, Normal: dead.n, NormalLive: live.n}
	r.Overturning, r.WorstEdge = overturning(foot, dead, live)
	r.Uplift = uplift(dead.n, live.n)
	r.Sliding = sliding(b.Friction, dead, live, r.Uplift)
	r.Turning = turning(contact{foot.hull, origin, b.Friction}, dead, live,
		r.Overturning[r.WorstEdge], r.Sliding, b.Enough)
	return r, nil
}

// foot returns what the body can tip about after checking every input value.
func (b Body) foot() (*foot, error) {
	if !usable(b.Friction, b.Enough) || b.Friction < 0 {
		return nil, fmt.Errorf("friction %g: %w", b.Friction, ErrValue)
	}
	for _, forces := range [2][]Force{b.Dead, b.Live} {
		for i := range forces {
			if f := &forces[i]; !usable(f.F[:]...) || !usable(f.At[:]...) {
				return nil, fmt.Errorf("force %q, %g N at %g m: %w", f.Name, f.F, f.At, ErrValue)
			}
		}
	}
	if b.prepared != nil {
		return b.prepared, nil
	}
	return newFoot(b.Foot)
}

func usable(values ...float64) bool {
	for _, v := range values {
		if !(math.Abs(v) <= maxMagnitude) {
			return false
		}
	}
	return true
}

// resultant is the sum of forces, with moments about a point of the ground plane.
type resultant struct {
	n    float64    // force pressing on the ground, N
	h    [2]float64 // horizontal force, N
	p    [2]float64 // n times the centre of pressure, N·m
	t    float64    // torque of the horizontal forces about the vertical, N·m
	tAbs float64    // the same with every term positive: the scale of its rounding
}

func sum(forces []Force, origin [2]float64) resultant {
	var r resultant
	for i := range forces {
		f := &forces[i]
		x, y, z := f.At[0]-origin[0], f.At[1]-origin[1], f.At[2]
		r.n -= f.F[2]
		r.h[0] += f.F[0]
		r.h[1] += f.F[1]
		r.p[0] += z*f.F[0] - x*f.F[2]
		r.p[1] += z*f.F[1] - y*f.F[2]
		r.t += x*f.F[1] - y*f.F[0]
		r.tAbs += math.Abs(x*f.F[1]) + math.Abs(y*f.F[0])
	}
	return r
}

// plus returns r + factor·s.
func (r resultant) plus(factor float64, s resultant) resultant {
	return resultant{
		n:    r.n + factor*s.n,
		h:    [2]float64{r.h[0] + factor*s.h[0], r.h[1] + factor*s.h[1]},
		p:    [2]float64{r.p[0] + factor*s.p[0], r.p[1] + factor*s.p[1]},
		t:    r.t + factor*s.t,
		tAbs: r.tAbs + factor*s.tAbs,
	}
}

// uplift is where dead + factor·live no longer presses on the ground.
func uplift(dead, live float64) Factor {
	switch {
	case dead <= 0:
		return Factor{}
	case live < 0:
		return quotient(dead, -live)
	}
	return Factor{Unbounded: true}
}
