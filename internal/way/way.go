// Package way measures a way through standing things in plan: how wide it is at its
// narrowest, how high, and what lies across it.
//
// Plan coordinates are in m, x east and y north; heights are in m above the ground. Things
// are convex outlines or circular arcs, each from the height of its underside up.
//
// The clear width is the shortest tape that can be stretched across the line of the way
// from one thing to another: between their closest points, where the line runs between
// those, and square across the line anywhere along it. Other tapes do not count, so none is
// slid into a bend to cut its corner, or over an end of the line. Closest points of outlines
// are exact, and so is the section square across the line, which is least at a corner of an
// outline; arcs are exact in the first and looked at in their ends and their nearest point
// in the second.
//
// It knows nothing of what stands outside the things it is given, and refuses numbers that
// are not finite. rules.csv has the figures that are asked for, with clause and source.
package way

import (
	"cmp"
	"errors"
	"math"
	"slices"
)

// Point is a place in plan, m.
type Point [2]float64

func (p Point) plus(q Point) Point       { return Point{p[0] + q[0], p[1] + q[1]} }
func (p Point) minus(q Point) Point      { return Point{p[0] - q[0], p[1] - q[1]} }
func (p Point) times(k float64) Point    { return Point{k * p[0], k * p[1]} }
func (p Point) dot(q Point) float64      { return p[0]*q[0] + p[1]*q[1] }
func (p Point) cross(q Point) float64    { return p[0]*q[1] - p[1]*q[0] }
func (p Point) distance(q Point) float64 { return math.Hypot(p[0]-q[0], p[1]-q[1]) }

// Thing is one thing that stands, lies or hangs beside, on or over the way.
type Thing struct {
	Name    string
	Outline []Point // convex, counterclockwise, m; two points for something thin; none for an arc
	Arc     *Arc    // in place of an outline
	Bottom  float64 // height of its underside, m
}

// Arc is the tip of a leaf on its swing, or the face of a round column.
type Arc struct {
	Center Point
	Radius float64 // m
	From   float64 // rad counterclockwise from east
	Sweep  float64 // rad from there, counterclockwise; 2π for a whole circle
}

// has reports whether the arc has the direction of a vector from its centre.
func (a *Arc) has(v Point) bool {
	if a.Sweep >= 2*math.Pi {
		return true
	}
	turn := math.Mod(math.Atan2(v[1], v[0])-a.From, 2*math.Pi)
	if turn < 0 {
		turn += 2 * math.Pi
	}
	return turn <= a.Sweep+touch || turn >= 2*math.Pi-touch
}

func (a *Arc) at(angle float64) Point {
	s, c := math.Sincos(angle)
	return a.Center.plus(Point{a.Radius * c, a.Radius * s})
}

// covers reports whether a point lies in the sector.
func (a *Arc) covers(p Point) bool {
	d := p.minus(a.Center)
	return math.Hypot(d[0], d[1]) <= a.Radius+touch && a.has(d)
}

// touch is the distance below which things touch, m.
const touch = 1e-9

// ErrNumbers is given for coordinates that are not finite, or too far for plan geometry.
var ErrNumbers = errors.New("the plan has a coordinate that is not a number or is beyond 1000 km")

// far is the greatest coordinate, m.
const far = 1e6

func usable(line []Point, things []Thing) error {
	bad := func(v ...float64) bool {
		for _, x := range v {
			if !(math.Abs(x) <= far) {
				return true
			}
		}
		return false
	}
	for _, p := range line {
		if bad(p[0], p[1]) {
			return ErrNumbers
		}
	}
	for i := range things {
		t := &things[i]
		for _, p := range t.Outline {
			if bad(p[0], p[1]) {
				return ErrNumbers
			}
		}
		if a := t.Arc; a != nil && bad(a.Center[0], a.Center[1], a.Radius, a.From, a.Sweep) {
			return ErrNumbers
		}
		if bad(t.Bottom) {
			return ErrNumbers
		}
	}
	return nil
}

// Narrowest is where a way is narrowest.
type Narrowest struct {
	Width    float64 // m; zero where a thing stands on the line
	From, To Point   // the ends of the tape
	A, B     int     // the things at its ends, by index
	Along    float64 // where the tape crosses, m from the start of the line
	Blocked  bool    // thing A stands on the line
}

// Clear finds the narrowest place of a way between things that stand below a height, m.
// What hangs higher than overhead (m) above the line is left to Headroom. found is false
// when nothing stands on both sides of the line anywhere.
func Clear(line []Point, things []Thing, height, overhead float64) (narrowest Narrowest, found bool, err error) {
	if err := usable(line, things); err != nil {
		return Narrowest{}, false, err
	}
	var beside []int
	from := make([]float64, len(things)) // the line
	around := make([]circle, len(things))
	for i := range things {
		t := &things[i]
		if t.Bottom >= height {
			continue
		}
		at, along, meets := onLine(line, t)
		switch {
		case !meets:
			beside = append(beside, i)
			from[i], _, _ = Apart(line, t)
			around[i].at, around[i].radius = t.Around()
		case t.Bottom < overhead:
			return Narrowest{From: at, To: at, A: i, B: i, Along: along, Blocked: true}, true, nil
		}
	}
	var best Narrowest
	// What is farther from the line than a tape is long is not at its ends. So only what is
	// near is looked at first, and more until a tape is shorter than that.
	for near, all := 8.0, false; !all; near *= 2 {
		best = Narrowest{Width: math.Inf(1)}
		close := slices.DeleteFunc(slices.Clone(beside), func(i int) bool { return from[i] > near })
		square(line, things, close, &best)
		all = best.Width <= near || len(close) == len(beside) || near > 4*far
	}
	// A tape across the line is no shorter than the way from it to both things.
	slices.SortStableFunc(beside, func(i, k int) int { return cmp.Compare(from[i], from[k]) })
	for n, i := range beside {
		for _, k := range beside[n+1:] {
			if from[i]+from[k] >= best.Width {
				break
			}
			if around[i].at.distance(around[k].at)-around[i].radius-around[k].radius < best.Width {
				tapeBetween(line, things, i, k, &best)
			}
		}
	}
	if math.IsInf(best.Width, 1) {
		return Narrowest{}, false, nil
	}
	return best, true, nil
}

// Low is what hangs lowest over a line.
type Low struct {
	Height float64 // m above the ground
	At     Point
	Thing  int
}

// Headroom finds the lowest thing over the line, of those whose underside is at least
// overhead, m.
func Headroom(line []Point, things []Thing, overhead float64) (low Low, found bool, err error) {
	if err := usable(line, things); err != nil {
		return Low{}, false, err
	}
	for i := range things {
		t := &things[i]
		if t.Bottom < overhead || found && t.Bottom >= low.Height {
			continue
		}
		if at, _, meets := onLine(line, t); meets {
			low, found = Low{Height: t.Bottom, At: at, Thing: i}, true
		}
	}
	return low, found, nil
}

// Crossing is where a route crosses a line.
type Crossing struct {
	At    Point
	Along float64 // m from the start of the line
	Route float64 // m from the start of the route
}

// Crossings are the places where a route on the ground meets a line, in the order of the
// route. A stretch that lies along the line is one crossing.
func Crossings(line, route []Point) []Crossing {
	var list []Crossing
	done := 0.0
	for i := 0; i+1 < len(route); i++ {
		var here []Crossing
		along := 0.0
		for k := 0; k+1 < len(line); k++ {
			if at, ok := meet(route[i], route[i+1], line[k], line[k+1]); ok {
				here = append(here, Crossing{At: at, Along: along + at.distance(line[k]), Route: done + at.distance(route[i])})
			}
			along += line[k].distance(line[k+1])
		}
		for len(here) > 0 {
			first := 0
			for k := range here {
				if here[k].Route < here[first].Route {
					first = k
				}
			}
			if n := len(list); n == 0 || list[n-1].At.distance(here[first].At) > 1e-6 {
				list = append(list, here[first])
			}
			here = append(here[:first], here[first+1:]...)
		}
		done += route[i].distance(route[i+1])
	}
	return list
}

// Ahead is how far one can walk straight on beyond either end of the line before a thing
// below a height, m; infinite when there is none.
func Ahead(line []Point, things []Thing, height float64) (start, end float64) {
	start, end = math.Inf(1), math.Inf(1)
	if len(line) < 2 || usable(line, things) != nil {
		return start, end
	}
	for _, e := range []struct {
		from, at Point
		free     *float64
	}{{line[1], line[0], &start}, {line[len(line)-2], line[len(line)-1], &end}} {
		d := e.at.minus(e.from)
		l := math.Hypot(d[0], d[1])
		if l == 0 {
			continue
		}
		ray := []Point{e.at, e.at.plus(d.times(2 * far / l))}
		for i := range things {
			if t := &things[i]; t.Bottom < height {
				if _, along, meets := onLine(ray, t); meets {
					*e.free = math.Min(*e.free, along)
				}
			}
		}
	}
	return start, end
}

// Apart is the least distance between a line and a thing in plan, m, with the points of
// both; zero where they meet.
func Apart(line []Point, t *Thing) (d float64, onLine, onThing Point) {
	d = math.Inf(1)
	for k := 0; k+1 < len(line); k++ {
		piece := Thing{Outline: []Point{line[k], line[k+1]}}
		if at, _, meets := meetsThing(line[k], line[k+1], t); meets {
			return 0, at, at
		}
		if c := closest(&piece, t); c.d < d {
			d, onLine, onThing = c.d, c.p[0], c.q[0]
		}
	}
	return d, onLine, onThing
}

// Length is the length of a line, m.
func Length(line []Point) float64 {
	l := 0.0
	for k := 0; k+1 < len(line); k++ {
		l += line[k].distance(line[k+1])
	}
	return l
}
