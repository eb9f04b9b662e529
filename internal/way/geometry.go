package way

import "math"

// nearest is the point of a segment that is nearest to p.
func nearest(p, a, b Point) Point {
	d := b.minus(a)
	l := d.dot(d)
	if l == 0 {
		return a
	}
	return a.plus(d.times(math.Max(0, math.Min(1, p.minus(a).dot(d)/l))))
}

// meet is the first point of segment ab that lies on segment cd, within touch.
func meet(a, b, c, d Point) (at Point, meets bool) {
	for k := range 2 { // far apart, as most are
		if math.Max(a[k], b[k]) < math.Min(c[k], d[k])-touch || math.Max(c[k], d[k]) < math.Min(a[k], b[k])-touch {
			return at, false
		}
	}
	u, v := b.minus(a), d.minus(c)
	if den := u.cross(v); math.Abs(den) > 1e-12*math.Sqrt(u.dot(u)*v.dot(v)) {
		t, s := c.minus(a).cross(v)/den, c.minus(a).cross(u)/den
		if t >= 0 && t <= 1 && s >= 0 && s <= 1 {
			return a.plus(u.times(t)), true
		}
	}
	// Side by side, or past an end by less than touch.
	for _, x := range [4]Point{a, nearest(c, a, b), nearest(d, a, b), b} {
		if x.distance(nearest(x, c, d)) <= touch && (!meets || x.distance(a) < at.distance(a)) {
			at, meets = x, true
		}
	}
	return at, meets
}

// edges are the sides of an outline: one for something thin.
func edges(outline []Point) int {
	if len(outline) < 3 {
		return len(outline) - 1
	}
	return len(outline)
}

// inside reports whether a point lies in a convex counterclockwise outline.
func inside(p Point, outline []Point) bool {
	if len(outline) < 3 {
		return false
	}
	for i, a := range outline {
		if outline[(i+1)%len(outline)].minus(a).cross(p.minus(a)) < 0 {
			return false
		}
	}
	return true
}

// onLine is the first point of a line that lies on or in a thing, and how far along.
func onLine(line []Point, t *Thing) (at Point, along float64, meets bool) {
	done := 0.0
	for k := 0; k+1 < len(line); k++ {
		if at, d, ok := meetsThing(line[k], line[k+1], t); ok {
			return at, done + d, true
		}
		done += line[k].distance(line[k+1])
	}
	return Point{}, 0, false
}

// meetsThing is the same for one segment.
func meetsThing(a, b Point, t *Thing) (at Point, d float64, meets bool) {
	if t.Arc != nil && t.Arc.covers(a) || inside(a, t.Outline) {
		return a, 0, true
	}
	d = math.Inf(1)
	take := func(p Point) {
		if l := a.distance(p); l < d {
			at, d, meets = p, l, true
		}
	}
	n := len(t.Outline)
	for i := range edges(t.Outline) {
		if p, ok := meet(a, b, t.Outline[i], t.Outline[(i+1)%n]); ok {
			take(p)
		}
	}
	if c := t.Arc; c != nil {
		u, v := b.minus(a), a.minus(c.Center)
		if l := u.dot(u); l > 0 {
			mid := -u.dot(v) / l
			if root := mid*mid - (v.dot(v)-c.Radius*c.Radius)/l; root >= 0 {
				for _, s := range [2]float64{mid - math.Sqrt(root), mid + math.Sqrt(root)} {
					if p := a.plus(u.times(s)); s >= 0 && s <= 1 && c.has(p.minus(c.Center)) {
						take(p)
					}
				}
			}
		}
	}
	return at, d, meets
}

// pair is where two things are closest: one tape from p[0] to q[0], or every tape between
// that and the one from p[1] to q[1], where two sides run side by side.
type pair struct {
	d    float64
	p, q [2]Point
	n    int
}

// take adds a tape between the things.
func (c *pair) take(p, q Point) {
	d := p.distance(q)
	switch {
	case c.n == 0 || d < c.d-touch:
		*c = pair{d: d, p: [2]Point{p, p}, q: [2]Point{q, q}, n: 1}
	case d <= c.d+touch:
		c.d = math.Min(c.d, d)
		// Of tapes that are as short, the two that lie farthest apart.
		spread := math.Max(c.p[0].distance(c.p[1]), c.q[0].distance(c.q[1]))
		for i := range 2 {
			if s := math.Max(c.p[i].distance(p), c.q[i].distance(q)); s > spread {
				spread = s
				c.p, c.q = [2]Point{c.p[i], p}, [2]Point{c.q[i], q}
			}
		}
	}
}

// closest finds the closest points of two things that do not meet. Where they do, the
// distance is not to be relied on but is no more than touch or that of their sides.
func closest(s, t *Thing) pair {
	var c pair
	switch {
	case s.Arc == nil && t.Arc == nil:
		for i := range edges(s.Outline) {
			a, b := s.Outline[i], s.Outline[(i+1)%len(s.Outline)]
			for k := range edges(t.Outline) {
				e, f := t.Outline[k], t.Outline[(k+1)%len(t.Outline)]
				if x, ok := meet(a, b, e, f); ok {
					return pair{p: [2]Point{x, x}, q: [2]Point{x, x}, n: 1}
				}
				c.take(a, nearest(a, e, f))
				c.take(b, nearest(b, e, f))
				c.take(nearest(e, a, b), e)
				c.take(nearest(f, a, b), f)
			}
		}
	case s.Arc == nil:
		if c = closest(t, s); c.n > 0 {
			c.p, c.q = c.q, c.p
		}
	case t.Arc == nil:
		// The nearest point of the outline to the centre, if the arc faces it, else one of
		// the ends of the arc.
		a := s.Arc
		point := Thing{Outline: []Point{a.Center, a.Center}}
		if x := closest(&point, t); x.n > 0 && x.d > a.Radius && a.has(x.q[0].minus(a.Center)) {
			c.take(a.Center.plus(x.q[0].minus(a.Center).times(a.Radius/x.d)), x.q[0])
		}
		for _, end := range a.ends() {
			point.Outline = []Point{end, end}
			if x := closest(&point, t); x.n > 0 {
				c.take(end, x.q[0])
			}
		}
	default:
		a, b := s.Arc, t.Arc
		between := b.Center.minus(a.Center)
		if d := math.Hypot(between[0], between[1]); d > a.Radius+b.Radius && a.has(between) && b.has(between.times(-1)) {
			c.take(a.Center.plus(between.times(a.Radius/d)), b.Center.minus(between.times(b.Radius/d)))
		}
		for _, end := range a.ends() {
			if v := end.minus(b.Center); b.has(v) && math.Hypot(v[0], v[1]) > b.Radius {
				c.take(end, b.Center.plus(v.times(b.Radius/math.Hypot(v[0], v[1]))))
			}
			for _, other := range b.ends() {
				c.take(end, other)
			}
		}
		for _, end := range b.ends() {
			if v := end.minus(a.Center); a.has(v) && math.Hypot(v[0], v[1]) > a.Radius {
				c.take(a.Center.plus(v.times(a.Radius/math.Hypot(v[0], v[1]))), end)
			}
		}
	}
	return c
}

// ends are the ends of an arc; a circle has none.
func (a *Arc) ends() []Point {
	if a.Sweep >= 2*math.Pi {
		return nil
	}
	return []Point{a.at(a.From), a.at(a.From + a.Sweep)}
}

// tapeBetween takes the shortest tape between two things when the line runs between its ends.
func tapeBetween(line []Point, things []Thing, i, k int, best *Narrowest) {
	c := closest(&things[i], &things[k])
	if c.n == 0 || c.d <= touch || c.d >= best.Width {
		return
	}
	swept := Thing{Outline: []Point{c.p[0], c.q[0]}}
	if c.p[0].distance(c.p[1]) > touch || c.q[0].distance(c.q[1]) > touch {
		swept.Outline = []Point{c.p[0], c.q[0], c.q[1], c.p[1]}
		if c.q[0].minus(c.p[0]).cross(c.q[1].minus(c.p[0])) < 0 {
			swept.Outline = []Point{c.p[0], c.p[1], c.q[1], c.q[0]}
		}
	}
	at, along, crosses := onLine(line, &swept)
	if !crosses {
		return
	}
	from := nearest(at, c.p[0], c.p[1])
	*best = Narrowest{Width: c.d, From: from, To: nearest(from, c.q[0], c.q[1]), A: i, B: k, Along: along}
}

// circle is one around a thing.
type circle struct {
	at     Point
	radius float64
}

// Around is a circle around a thing, m.
func (t *Thing) Around() (center Point, radius float64) {
	if t.Arc != nil {
		return t.Arc.Center, t.Arc.Radius
	}
	for _, p := range t.Outline {
		center = center.plus(p.times(1 / float64(len(t.Outline))))
	}
	for _, p := range t.Outline {
		radius = math.Max(radius, center.distance(p))
	}
	return center, radius
}

// reach is how far a thing reaches along a direction from a place, m.
func (t *Thing) reach(from, u Point) (lo, hi float64) {
	lo, hi = math.Inf(1), math.Inf(-1)
	for _, p := range t.Outline {
		d := p.minus(from).dot(u)
		lo, hi = math.Min(lo, d), math.Max(hi, d)
	}
	if c := t.Arc; c != nil { // the whole circle has room for the arc
		d := c.Center.minus(from).dot(u)
		lo, hi = d-c.Radius, d+c.Radius
	}
	return lo, hi
}

// square takes the shortest tape square across the line. Between two corners of outlines
// the distances on both sides change evenly, so the least is at a corner or at an end.
func square(line []Point, things []Thing, beside []int, best *Narrowest) {
	done := 0.0
	for k := 0; k+1 < len(line); k++ {
		a := line[k]
		l := a.distance(line[k+1])
		if l <= touch {
			done += l
			continue
		}
		u := line[k+1].minus(a).times(1 / l)
		left := Point{-u[1], u[0]}
		// Only what stands beside this piece of the line can be met, and only if it has
		// something on both sides.
		var here []int
		var lo, hi []float64
		places := []float64{0, l}
		right, leftmost := math.Inf(1), math.Inf(-1)
		for _, i := range beside {
			t := &things[i]
			from, to := t.reach(a, u)
			if to < 0 || from > l {
				continue
			}
			here, lo, hi = append(here, i), append(lo, from), append(hi, to)
			r, f := t.reach(a, left)
			right, leftmost = math.Min(right, r), math.Max(leftmost, f)
			for _, p := range t.corners(left) {
				if s := p.minus(a).dot(u); s > 0 && s < l && math.Abs(p.minus(a).cross(u)) < best.Width {
					places = append(places, s)
				}
			}
		}
		if right > 0 || leftmost < 0 {
			places = nil
		}
		var met []int
		for _, s := range places {
			met = met[:0]
			for n, i := range here {
				if lo[n] <= s+touch && hi[n] >= s-touch {
					met = append(met, i)
				}
			}
			at := a.plus(u.times(s))
			l, i := ray(at, left, things, met, best.Width)
			if i < 0 {
				continue
			}
			r, j := ray(at, left.times(-1), things, met, best.Width)
			if j >= 0 && l+r < best.Width-touch {
				*best = Narrowest{Width: l + r, From: at.plus(left.times(l)), To: at.minus(left.times(r)), A: i, B: j, Along: done + s}
			}
		}
		done += l
	}
}

// corners are where the distance of a thing from a line may be least, for a line square to
// a direction.
func (t *Thing) corners(across Point) []Point {
	if t.Arc == nil {
		return t.Outline
	}
	list := t.Arc.ends()
	for _, v := range [2]Point{across, across.times(-1)} {
		if t.Arc.has(v) {
			list = append(list, t.Arc.Center.plus(v.times(t.Arc.Radius)))
		}
	}
	return list
}

// ray is the distance to the first of some things in a direction, if it is less than most.
func ray(at, towards Point, things []Thing, met []int, most float64) (d float64, thing int) {
	d, thing = math.Min(most, 4*far), -1
	end := at.plus(towards.times(d))
	for _, i := range met {
		if _, l, ok := meetsThing(at, end, &things[i]); ok && l < d {
			d, thing = l, i
			end = at.plus(towards.times(d))
		}
	}
	return d, thing
}
