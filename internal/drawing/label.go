package drawing

import "math"

// labels finds room for names: each goes to the free place nearest to what it names,
// tried in a fixed order, so that no two overlap and few lines run through them.
type labels struct {
	area  Box
	taken []Box
	lines [][2]Point
}

// avoid keeps labels off lines where there is room beside them.
func (l *labels) avoid(points ...Point) {
	for i := 0; i+1 < len(points); i++ {
		l.lines = append(l.lines, [2]Point{points[i], points[i+1]})
	}
}

func (l *labels) avoidOutline(points ...Point) {
	if len(points) > 0 {
		l.avoid(append(points[:len(points):len(points)], points[0])...)
	}
}

// crossing is what a label pays, in points of distance, for each line through it.
const crossing = 6.0

// far is the distance from which a line leads to the label.
const far = 8.0

// place finds room for a label beside an anchor. The cost grows with the distance and
// the lines in the way; ok is false when nothing is free.
func (l *labels) place(anchor Point, w, h float64) (best Box, cost float64, ok bool) {
	cost = math.Inf(1)
	for _, d := range [...]float64{3, 7, 12, 18, 26, 36, 48, 64, 84, 110, 140} {
		if d >= cost {
			break
		}
		const turns = 16
		for i := range turns {
			sin, cos := math.Sincos(2 * math.Pi * float64(i) / turns)
			b := Box{anchor.X + d*cos - w/2 + w/2*clampUnit(1.4*cos), anchor.Y + d*sin - h/2 + h/2*clampUnit(1.4*sin), w, h}
			if !l.area.holds(b) || l.overlapping(b) {
				continue
			}
			c := d
			for _, line := range l.lines {
				if c >= cost {
					break
				}
				if b.cutBy(line[0], line[1]) {
					c += crossing
				}
			}
			if c < cost {
				best, cost, ok = b, c, true
			}
		}
	}
	return best, cost, ok
}

func clampUnit(v float64) float64 { return math.Max(-1, math.Min(1, v)) }

func (l *labels) overlapping(b Box) bool {
	for _, t := range l.taken {
		if b.overlaps(t) {
			return true
		}
	}
	return false
}

// cutBy reports whether a segment runs through a box.
func (b Box) cutBy(p, q Point) bool {
	_, _, ok := clip(b, p, q)
	return ok
}

// clip is the part of a segment within a box.
func clip(b Box, p, q Point) (Point, Point, bool) {
	lo, hi := 0.0, 1.0
	d := q.minus(p)
	for _, side := range [4][2]float64{{-d.X, p.X - b.X}, {d.X, b.X + b.W - p.X}, {-d.Y, p.Y - b.Y}, {d.Y, b.Y + b.H - p.Y}} {
		rate, room := side[0], side[1]
		switch {
		case rate == 0 && room < 0:
			return p, q, false
		case rate < 0:
			lo = math.Max(lo, room/rate)
		case rate > 0:
			hi = math.Min(hi, room/rate)
		}
	}
	if lo > hi {
		return p, q, false
	}
	return between(p, q, lo), between(p, q, hi), true
}

// label writes the first of some texts, long to short, that finds a cheap place; the
// last one is written wherever there is room. It leads a line to a place far off.
func (s *Scene) label(l *labels, anchor Point, font Font, texts ...string) {
	const dear = 40.0
	for i, text := range texts {
		w, h := font.width(text)+3, font.Size*1.15
		b, cost, ok := l.place(anchor, w, h)
		if !ok || cost > dear && i+1 < len(texts) {
			continue
		}
		l.taken = append(l.taken, b)
		near := Point{math.Max(b.X, math.Min(anchor.X, b.X+b.W)), math.Max(b.Y, math.Min(anchor.Y, b.Y+b.H))}
		if near.minus(anchor).length() > far {
			s.Line(hair, anchor, near)
		}
		f := font
		f.Anchor = Middle
		s.Box(Paper, Pen{}, b)
		s.Text(Point{b.X + b.W/2, b.Y + 0.83*h}, f, text)
		return
	}
}
