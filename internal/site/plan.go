package site

import (
	"math"

	"galefast/internal/catalog"
)

// Polygon is a convex outline in plan, counterclockwise, m; x east, y north.
type Polygon [][2]float64

// rectangle is a rectangle about a centre, turned counterclockwise by turn (rad).
func rectangle(center [2]float64, width, depth, turn float64) Polygon {
	s, c := math.Sincos(turn)
	p := make(Polygon, 0, 4)
	for _, k := range [4][2]float64{{-1, -1}, {1, -1}, {1, 1}, {-1, 1}} {
		x, y := k[0]*width/2, k[1]*depth/2
		p = append(p, [2]float64{center[0] + c*x - s*y, center[1] + s*x + c*y})
	}
	return p
}

// FootOutline is the frame of the column that bears on the ground.
func (c *Column) FootOutline() Polygon {
	return rectangle(c.Center.XY(), float64(c.Foot[0].V), float64(c.Foot[1].V), float64(c.Turn.V))
}

// Outline is the section in plan; round and many-sided sections are taken as the
// square around them.
func (s *Section) Outline(c *Column) Polygon {
	w, d := s.Size()
	return rectangle(c.Center.XY(), w, d, float64(c.Turn.V))
}

// Size is the section's width and depth, m.
func (s *Section) Size() (width, depth float64) {
	width = float64(s.Width.V)
	if s.Shape.V == "rectangle" && s.Depth.Given {
		return width, float64(s.Depth.V)
	}
	return width, width
}

// Top is the height of the column, m.
func (c *Column) Top() float64 {
	h := 0.0
	for i := range c.Sections {
		h += float64(c.Sections[i].Height.V)
	}
	return h
}

// Bottom is the height of the lower edge of section i, m.
func (c *Column) Bottom(i int) float64 {
	h := 0.0
	for k := range c.Sections[:i] {
		h += float64(c.Sections[k].Height.V)
	}
	return h
}

// sectionAt is the section at a height, the top one above that. There must be one.
func (c *Column) sectionAt(z float64) *Section {
	at, bottom := &c.Sections[0], 0.0
	for i := range c.Sections {
		if bottom <= z {
			at = &c.Sections[i]
		}
		bottom += float64(c.Sections[i].Height.V)
	}
	return at
}

// Frame is the wall's own axes: its first end, the unit vector along it, the unit
// vector to its left, and its length, m.
func (w *Wall) Frame() (from, along, left [2]float64, length float64) {
	from = w.From.XY()
	to := w.To.XY()
	dx, dy := to[0]-from[0], to[1]-from[1]
	length = math.Hypot(dx, dy)
	if length == 0 {
		return from, [2]float64{1, 0}, [2]float64{0, 1}, 0
	}
	along = [2]float64{dx / length, dy / length}
	left = [2]float64{-along[1], along[0]}
	return from, along, left, length
}

// Turn is the angle of the wall's line counterclockwise from east, rad.
func (w *Wall) Turn() float64 {
	_, along, _, _ := w.Frame()
	return math.Atan2(along[1], along[0])
}

// Middle is the middle of the wall's line, m.
func (w *Wall) Middle() [2]float64 {
	a, b := w.From.XY(), w.To.XY()
	return [2]float64{(a[0] + b[0]) / 2, (a[1] + b[1]) / 2}
}

// SillWidth is the width of the sill that bears, across the wall, m.
func (w *Wall) SillWidth() float64 {
	if w.Foot.Given {
		return float64(w.Foot.V)
	}
	return float64(w.Thickness.V)
}

// SideSign is +1 when braces and returns stand to the left of the line, else -1.
func (w *Wall) SideSign() float64 {
	if w.Side.V == "right" {
		return -1
	}
	return 1
}

// SillOutline is the wall's sill in plan.
func (w *Wall) SillOutline() Polygon {
	_, _, _, length := w.Frame()
	return rectangle(w.Middle(), length, w.SillWidth(), w.Turn())
}

// PointAt is a point given along the wall's line from its first end and to its side,
// where the braces stand, m.
func (w *Wall) PointAt(along, aside float64) [2]float64 {
	from, u, l, _ := w.Frame()
	aside *= w.SideSign()
	return [2]float64{from[0] + along*u[0] + aside*l[0], from[1] + along*u[1] + aside*l[1]}
}

// Toes are the ends of the braces on the ground: evenly spaced, the outer ones
// half a spacing in from the ends.
func (w *Wall) Toes() [][2]float64 {
	if w.Braces == nil {
		return nil
	}
	_, _, _, length := w.Frame()
	n := w.Braces.Count.V
	toes := make([][2]float64, 0, n)
	for i := range n {
		toes = append(toes, w.PointAt(length*(float64(i)+0.5)/float64(n), float64(w.Braces.Reach.V)))
	}
	return toes
}

// Bearing are the points on which the wall bears: the corners of its sill, the
// toes of its braces and the far ends of its returns.
func (w *Wall) Bearing() [][2]float64 {
	points := append([][2]float64{}, w.SillOutline()...)
	points = append(points, w.Toes()...)
	if w.Return.Given {
		_, _, _, length := w.Frame()
		points = append(points, w.PointAt(0, float64(w.Return.V)), w.PointAt(length, float64(w.Return.V)))
	}
	return points
}

// faceTurn is the outward direction of a face named by a compass point before
// turning, rad counterclockwise from east.
func faceTurn(face string) float64 {
	switch face {
	case "north":
		return math.Pi / 2
	case "west":
		return math.Pi
	case "south":
		return -math.Pi / 2
	}
	return 0
}

// Leaf is where a gate leaf hangs: the hinge line and the closed direction.
type Leaf struct {
	Hinge  [2]float64 // m
	Closed float64    // direction of the closed leaf from the hinge, rad ccw from east
	Swing  float64    // +1 opens counterclockwise, -1 clockwise
}

// Leaf places a gate on its column: hinged at the middle of the named face of the
// section at mid-height of the leaf.
func (f *File) Leaf(g *Gate) (Leaf, bool) {
	c := f.Column(g.HungOn.V)
	if c == nil || len(c.Sections) == 0 {
		return Leaf{}, false
	}
	width, depth := c.sectionAt(float64(g.Clearance.V + g.Height.V/2)).Size()
	reach := width / 2
	if g.Face.V == "north" || g.Face.V == "south" {
		reach = depth / 2
	}
	closed := faceTurn(g.Face.V) + float64(c.Turn.V)
	s, co := math.Sincos(closed)
	at := c.Center.XY()
	leaf := Leaf{Hinge: [2]float64{at[0] + co*reach, at[1] + s*reach}, Closed: closed, Swing: 1}
	// The leaf opens to the named side when its swung end lies on that side.
	side := faceTurn(f.OpensTo(g))
	if math.Sin(side-closed) < 0 {
		leaf.Swing = -1
	}
	return leaf, true
}

// OpensTo is the side to which a leaf swings: as given, else the compass point
// nearest to the direction of travel of the first way, else north.
func (f *File) OpensTo(g *Gate) string {
	if g.Opens.Given {
		return g.Opens.V
	}
	if len(f.Ways) > 0 {
		line := f.Ways[0].Line
		if n := len(line); n >= 2 {
			a, b := line[0].XY(), line[n-1].XY()
			dx, dy := b[0]-a[0], b[1]-a[1]
			switch {
			case math.Abs(dx) > math.Abs(dy) && dx > 0:
				return "east"
			case math.Abs(dx) > math.Abs(dy):
				return "west"
			case dy < 0:
				return "south"
			}
		}
	}
	return "north"
}

// Direction is the direction of the leaf from its hinge when swung by angle, rad.
func (l Leaf) Direction(angle float64) float64 { return l.Closed + l.Swing*angle }

// penetration is how far two convex outlines overlap, m: the least distance by
// which one must move to clear the other; zero or negative when they do not.
func penetration(a, b Polygon) float64 {
	least := math.Inf(1)
	for _, p := range [2]Polygon{a, b} {
		for i := range p {
			j := (i + 1) % len(p)
			nx, ny := p[j][1]-p[i][1], p[i][0]-p[j][0]
			n := math.Hypot(nx, ny)
			if n == 0 {
				continue
			}
			nx, ny = nx/n, ny/n
			aMin, aMax := extent(a, nx, ny)
			bMin, bMax := extent(b, nx, ny)
			least = math.Min(least, math.Min(aMax-bMin, bMax-aMin))
		}
	}
	return least
}

func extent(p Polygon, nx, ny float64) (lo, hi float64) {
	lo, hi = math.Inf(1), math.Inf(-1)
	for _, v := range p {
		d := v[0]*nx + v[1]*ny
		lo, hi = math.Min(lo, d), math.Max(hi, d)
	}
	return lo, hi
}

// Column returns the column of that name, or nil.
func (f *File) Column(name string) *Column {
	if i, ok := f.columns[name]; ok {
		return &f.Columns[i]
	}
	return nil
}

// Wall returns the wall of that name, or nil.
func (f *File) Wall(name string) *Wall {
	if i, ok := f.walls[name]; ok {
		return &f.Walls[i]
	}
	return nil
}

// BallastIn lists the entries of ballast in a column or wall, by their indexes.
func (f *File) BallastIn(piece string) []int { return f.ballast[piece] }

// GatesOn lists the gates that hang on a column, by their indexes.
func (f *File) GatesOn(column string) []int { return f.gates[column] }

// index notes where things stand in the file: columns and walls by name, the first of each,
// ballast and gates by what carries them.
func (f *File) index() {
	f.columns, f.walls = map[string]int{}, map[string]int{}
	f.ballast, f.gates = map[string][]int{}, map[string][]int{}
	for i := range f.Ballasts {
		in := f.Ballasts[i].In.V
		f.ballast[in] = append(f.ballast[in], i)
	}
	for i := range f.Gates {
		on := f.Gates[i].HungOn.V
		f.gates[on] = append(f.gates[on], i)
	}
	for i := len(f.Columns) - 1; i >= 0; i-- {
		f.columns[f.Columns[i].Name.V] = i
	}
	for i := len(f.Walls) - 1; i >= 0; i-- {
		f.walls[f.Walls[i].Name.V] = i
	}
}

// SpanLine is the middle of a span in plan, m, and the direction from its first
// column to its second, rad counterclockwise from east.
func (f *File) SpanLine(s *Span) (middle [2]float64, turn float64) {
	if len(s.Between) != 2 {
		return middle, 0
	}
	a, b := f.Column(s.Between[0].V), f.Column(s.Between[1].V)
	if a == nil || b == nil {
		return middle, 0
	}
	p, q := a.Center.XY(), b.Center.XY()
	return [2]float64{(p[0] + q[0]) / 2, (p[1] + q[1]) / 2}, math.Atan2(q[1]-p[1], q[0]-p[0])
}

// Conductor is the row of the conductors table for a cord's size.
func (f *File) Conductor(k *Cord) (catalog.Conductor, bool) {
	if !k.Gauge.Given {
		return catalog.Conductor{}, false
	}
	if row, ok := f.Catalog.Conductor.Find(k.Gauge.Text); ok {
		return row, true
	}
	for _, row := range f.Catalog.Conductor.All() {
		if math.Abs(float64(row.Area)/float64(k.Gauge.V)-1) < 1e-3 {
			return row, true
		}
	}
	return catalog.Conductor{}, false
}
