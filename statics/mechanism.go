package statics

import "math"

// Mode is a way in which a body fails to stay put.
type Mode int

// The modes, in the order in which they are named when several govern together.
const (
	NoMode      Mode = iota // nothing applied can move it
	NotStanding             // dead forces alone move it
	Uplift
	Overturning
	Sliding
	Turning
)

// tie is the relative difference below which two factors count as equal.
const tie = 1e-9

// Governing returns the mode with the least factor, and that factor. Turning governs only
// when it lies below both overturning and sliding; overturning goes before an equal sliding.
func (r Result) Governing() (Mode, Factor) {
	over, slide, turn := r.Overturning[r.WorstEdge], r.Sliding, r.Turning
	first := least(over.Factor, slide.Factor)
	reached := func(f Factor) bool { return !f.Unbounded && f.Value <= turn.Factor.Value*(1+tie) }
	switch {
	case over.DeadTips || slide.DeadSlides || turn.DeadTurns:
		return NotStanding, Factor{}
	case turn.Factor.Unbounded:
		return NoMode, turn.Factor
	case !reached(first):
		return Turning, turn.Factor
	case reached(r.Uplift):
		return Uplift, first
	case reached(over.Factor):
		return Overturning, first
	}
	return Sliding, first
}

// Mechanism says in words how the body fails first as the live loads grow, such as
// `overturns about its north-east edge`.
func (r Result) Mechanism() string {
	switch mode, _ := r.Governing(); mode {
	case NotStanding:
		return "does not stand by itself"
	case Uplift:
		return "lifts off"
	case Overturning:
		return r.Overturning[r.WorstEdge].Mechanism()
	case Sliding:
		return r.Sliding.Mechanism()
	case Turning:
		return r.Turning.Mechanism()
	}
	return "nothing applied can move it"
}

// Mechanism names overturning about this edge.
func (e EdgeResult) Mechanism() string { return "overturns about its " + e.Name + " edge" }

// Mechanism names sliding and where to.
func (s SlidingResult) Mechanism() string {
	if s.Towards == "" {
		return "slides"
	}
	return "slides to the " + s.Towards
}

// Mechanism names turning.
func (TurningResult) Mechanism() string { return "turns on its foot" }

// bearing is the compass direction of v in degrees clockwise from north, 0 up to 360.
func bearing(v [2]float64) float64 {
	b := math.Atan2(v[0], v[1]) * (180 / math.Pi)
	if b < 0 {
		b += 360
	}
	if b >= 360-1e-9 { // a hair west of north is north
		return 0
	}
	return b
}

var points = [8]string{
	"north", "north-east", "east", "south-east", "south", "south-west", "west", "north-west",
}

// compass names the nearest of the eight points.
func compass(bearing float64) string {
	return points[int((bearing+22.5+1e-9)/45)%8]
}
