package fastener

import (
	"fmt"
	"math"
)

// Leaf is a gate or door leaf on hinges, in its own axes: x from the hinge line to the tip, y
// at right angles to the leaf, z up along the hinge line. Lengths in m.
type Leaf struct {
	Hinges []float64 // heights along the hinge line; two or more, not all in one point
	Bears  Bears     // which hinge carries the weight

	// A stop or a latch that keeps the leaf from turning: it pushes along y at this place.
	// Without one a load that turns the leaf is an error: it swings.
	Stopped bool
	StopX   float64
	StopZ   float64
}

// Bears says which hinge carries the vertical load.
type Bears int

// Any takes each hinge in turn, for hinges that nobody has fitted to share; Lowest the lowest;
// Shared all alike.
const (
	Any Bears = iota
	Lowest
	Shared
)

// Load is a force on the leaf, N, and where it acts, m, in the leaf's axes.
type Load struct {
	What  string
	Force Vec
	At    Vec
}

// Reaction is what the leaf does to its hinges in one case.
type Reaction struct {
	Case string
	// N, force of the leaf on each hinge, in the order of Leaf.Hinges. The plate on the post
	// gets this force, the plate on the leaf its opposite.
	Hinges []Vec
	Stop   float64 // N, force of the leaf on the stop, along y
}

const maxHinges = 100

// Reactions are the hinge forces by statics, one case, or with [Any] one for each hinge that
// may carry the weight. The hinge line is vertical and hinges turn freely: they carry forces,
// no moments. Along x and along y, two hinges are statically determinate (a weight W at x gives
// the couple W x / spacing); of more, a rigid leaf on hinges of equal stiffness shares by F_i =
// F/n + M (z_i - z0) / sum (z - z0)^2.
func (l Leaf) Reactions(loads []Load) ([]Reaction, error) {
	if err := l.validate(loads); err != nil {
		return nil, err
	}
	var force, moment Vec // about the foot of the hinge line
	for _, q := range loads {
		force, moment = force.add(q.Force), moment.add(q.At.cross(q.Force))
	}
	var stop float64
	scale := math.Abs(force[1])
	for _, q := range loads {
		scale = max(scale, math.Abs(q.At[0]*q.Force[1])+math.Abs(q.At[1]*q.Force[0]))
	}
	switch {
	case l.Stopped:
		stop = moment[2] / l.StopX
		push := Vec{0, -stop, 0}
		force, moment = force.add(push), moment.add(Vec{l.StopX, 0, l.StopZ}.cross(push))
	case math.Abs(moment[2]) > 1e-9*scale:
		return nil, fmt.Errorf("fastener: the loads turn the leaf about its hinges by %.4g N m and nothing stops it", moment[2])
	}
	// What the leaf does to the hinges is what the loads do to the leaf: force F_i at z_i with
	// sum F = force and sum z_i (-F_y, F_x) = (M_x, M_y).
	x, err := l.share(force[0], moment[1])
	if err != nil {
		return nil, err
	}
	y, err := l.share(force[1], -moment[0])
	if err != nil {
		return nil, err
	}
	one := func(name string, up func(i int) float64) Reaction {
		r := Reaction{Case: name, Stop: stop}
		for i := range l.Hinges {
			r.Hinges = append(r.Hinges, Vec{x[i], y[i], force[2] * up(i)})
		}
		return r
	}
	only := func(k int) func(int) float64 {
		return func(i int) float64 {
			if i == k {
				return 1
			}
			return 0
		}
	}
	switch l.Bears {
	case Shared:
		return []Reaction{one("weight shared", func(int) float64 { return 1 / float64(len(l.Hinges)) })}, nil
	case Lowest:
		k := 0
		for i, z := range l.Hinges {
			if z < l.Hinges[k] {
				k = i
			}
		}
		return []Reaction{one("weight on the lowest hinge", only(k))}, nil
	}
	var cases []Reaction
	for k := range l.Hinges {
		cases = append(cases, one(fmt.Sprintf("weight on hinge %d", k+1), only(k)))
	}
	return cases, nil
}

// share gives F_i with sum F_i = f and sum z_i F_i = m.
func (l Leaf) share(f, m float64) ([]float64, error) {
	n := float64(len(l.Hinges))
	mean, square := 0.0, 0.0
	for _, z := range l.Hinges {
		mean += z / n
	}
	for _, z := range l.Hinges {
		square += (z - mean) * (z - mean)
	}
	if square < 1e-8 {
		return nil, fmt.Errorf("fastener: a leaf needs two hinges apart")
	}
	out := make([]float64, len(l.Hinges))
	for i, z := range l.Hinges {
		out[i] = f/n + (m-f*mean)*(z-mean)/square
	}
	return out, nil
}

func (l Leaf) validate(loads []Load) error {
	if err := within("hinges", float64(len(l.Hinges)), 2, maxHinges, rangeSource); err != nil {
		return err
	}
	if l.Bears < Any || l.Bears > Shared {
		return fmt.Errorf("fastener: no bearing of weight %d", l.Bears)
	}
	if l.Stopped {
		if err := within("distance of the stop from the hinge line in m", l.StopX, 0.01, 100, rangeSource); err != nil {
			return err
		}
	}
	for _, z := range append([]float64{l.StopZ}, l.Hinges...) {
		if err := within("height in m", z, -100, 100, rangeSource); err != nil {
			return err
		}
	}
	for _, q := range loads {
		for i := range 3 {
			if err := within(q.What+" force in N", q.Force[i], -maxForce, maxForce, rangeSource); err != nil {
				return err
			}
			if err := within(q.What+" place in m", q.At[i], -100, 100, rangeSource); err != nil {
				return err
			}
		}
	}
	return nil
}

// Slam is a leaf that swings against its stop.
type Slam struct {
	Mass   float64 // kg, of the leaf
	Centre Vec     // m, of mass; in the leaf's plane
	Width  float64 // m, of the leaf, from hinge line to tip
	StopX  float64 // m
	StopZ  float64 // m

	TipSpeed  float64 // m/s, of the tip as it meets the stop; 0 takes the energy of the gust, or the default
	GustForce float64 // N, at the middle of the leaf, that drives it; 0: none
	Swing     float64 // rad, over which it drives
	Stiffness float64 // N/m, of the stop with the leaf; 0 takes the default
}

// Blow is what a slam does.
type Blow struct {
	Energy float64 // J
	Force  float64 // N, on the stop
	Loads  []Load  // on the leaf, in balance about the hinge line: stop and inertia
	Steps  []Step

	Certainty string
}

// Blow is the force of the stop when the leaf's energy goes into an elastic stop: F = sqrt(2 E
// k), no rebound and no damping. The energy is J w^2 / 2 of a leaf that turns with the tip's
// speed, or the work of the gust's force over the swing, whichever is more; J = m b^2 / 3 of an
// even leaf about its hinges. The leaf's inertia acts at the centre of percussion, J / (m x),
// so that the hinges get what is left.
func (s Slam) Blow() (Blow, error) {
	t, err := tables()
	if err != nil {
		return Blow{}, err
	}
	if err := bounded(rangeSource, []bound{
		{"mass in kg", s.Mass, 0.1, 1e5},
		{"centre of mass in m", s.Centre[0], 0.01, 100},
		{"height in m", s.Centre[2], -100, 100},
		{"width in m", s.Width, s.Centre[0], 100},
		{"distance of the stop in m", s.StopX, 0.01, 100},
		{"height of the stop in m", s.StopZ, -100, 100},
		{"tip speed in m/s", s.TipSpeed, 0, 100},
		{"gust force in N", s.GustForce, 0, 1e6},
		{"swing in rad", s.Swing, 0, 2 * math.Pi},
		{"stiffness in N/m", s.Stiffness, 0, 1e9},
	}...); err != nil {
		return Blow{}, err
	}
	var c Capacity // gathers steps and doubt
	v := datum{s.TipSpeed, origin{"declared", ""}}
	if v.value == 0 && s.GustForce*s.Swing == 0 {
		v = t.defaults["leaf tip speed"]
	}
	k := datum{s.Stiffness, origin{"declared", ""}}
	if k.value == 0 {
		k = t.defaults["stop stiffness"]
	}
	inertia := s.Mass * s.Width * s.Width / 3
	computed := origin{"any text on dynamics", "computed from energy and momentum"}
	c.step("inertia", inertia, "kg·m²", computed, "J = m b²/3 = %.1f·%.2f²/3 = %.2f kg·m²", s.Mass, s.Width, inertia)
	speed := inertia / 2 * (v.value / s.Width) * (v.value / s.Width)
	work := s.GustForce * s.Width / 2 * s.Swing
	c.step("energy of the tip's speed", speed, "J", v.origin,
		"J (v/b)²/2 = %.2f·(%.2f/%.2f)²/2 = %.2f J", inertia, v.value, s.Width, speed)
	c.step("work of the gust", work, "J", computed,
		"F b/2 θ = %.1f·%.2f/2·%.2f = %.2f J", s.GustForce, s.Width, s.Swing, work)
	e := max(speed, work)
	// The stop moves less than the tip: the energy goes in at StopX all the same.
	f := math.Sqrt(2 * e * k.value)
	c.step("stop force", f, "N", k.origin, "F = √(2 E k) = √(2·%.2f·%.3g) = %.0f N", e, k.value, f)
	percussion := inertia / (s.Mass * s.Centre[0])
	back := f * s.StopX / percussion
	c.step("inertia force", back, "N", computed,
		"F x_s / (J/(m x)) = %.0f·%.2f/%.3f = %.0f N", f, s.StopX, percussion, back)
	return Blow{Energy: e, Force: f, Steps: c.Steps, Certainty: c.Certainty, Loads: []Load{
		{"stop", Vec{0, f, 0}, Vec{s.StopX, 0, s.StopZ}},
		{"inertia", Vec{0, -back, 0}, Vec{percussion, 0, s.Centre[2]}},
	}}, nil
}
