// Package drawing draws a site: the plan to scale, an elevation of each piece, the
// rose of its gust limits and the supply diagram.
//
// A picture is a Scene of lines, filled outlines and text in points of 1/72 in, x to
// the right and y down, and is written as SVG (text stays text), as vectors into a PDF,
// or as PNG. It reads in black and white: line styles, hatches and words carry the
// meaning, and colour only repeats it. Positions come from the description, numbers
// from the record; nothing is checked here.
//
// Text is measured with the Go fonts, so that labels can be kept apart before anybody
// draws them.
package drawing

import (
	"math"
	"slices"
)

// Point is a place on the page.
type Point struct{ X, Y float64 }

func (p Point) plus(q Point) Point        { return Point{p.X + q.X, p.Y + q.Y} }
func (p Point) minus(q Point) Point       { return Point{p.X - q.X, p.Y - q.Y} }
func (p Point) times(f float64) Point     { return Point{p.X * f, p.Y * f} }
func (p Point) length() float64           { return math.Hypot(p.X, p.Y) }
func between(p, q Point, f float64) Point { return p.plus(q.minus(p).times(f)) }

// unit is the direction of p, and right for a point at the origin.
func (p Point) unit() Point {
	if l := p.length(); l > 0 {
		return p.times(1 / l)
	}
	return Point{1, 0}
}

// Ink is one of the few colours; each has a light and a dark form.
type Ink int

const (
	None   Ink = iota // nothing is drawn
	Black             // lines and text
	Soft              // what stands back: dimension lines, hatches
	Wash              // the inside of pieces
	Accent            // wind, cords, the way
	Paper             // the ground of the page
)

// Dash is a line style.
type Dash int

const (
	Solid Dash = iota
	Dashed
	Dotted
	DashDot
)

// pattern is the lengths of strokes and gaps of a dash at a pen's width.
func (d Dash) pattern() []float64 {
	switch d {
	case Dashed:
		return []float64{5, 3}
	case Dotted:
		return []float64{1.2, 2.2}
	case DashDot:
		return []float64{8, 2.5, 1.5, 2.5}
	}
	return nil
}

// Pen draws lines.
type Pen struct {
	Ink   Ink
	Width float64
	Dash  Dash
}

// Pens of the pictures.
var (
	strong = Pen{Ink: Black, Width: 1.3}
	fine   = Pen{Ink: Black, Width: 0.8}
	hair   = Pen{Ink: Soft, Width: 0.5}
	reach  = Pen{Ink: Soft, Width: 0.8, Dash: Dashed}
	path   = Pen{Ink: Accent, Width: 1, Dash: DashDot}
	cord   = Pen{Ink: Accent, Width: 1.4, Dash: Dotted}
	wind   = Pen{Ink: Accent, Width: 1.8}
)

// Anchor is the point of a text that its place gives.
type Anchor int

const (
	Start Anchor = iota
	Middle
	End
)

// Font is how text looks. Turn is counterclockwise, degrees.
type Font struct {
	Size   float64
	Bold   bool
	Ink    Ink
	Anchor Anchor
	Turn   float64
}

// item is one element of a scene: an outline or a text, or the start or end of a group.
type item struct {
	points []Point
	closed bool
	fill   Ink
	pen    Pen

	text string
	font Font

	group string // opens a group with this title
	end   bool   // closes one
}

// Scene is a picture.
type Scene struct {
	Title, Desc   string
	Width, Height float64
	items         []item
}

// Line draws a line through points.
func (s *Scene) Line(pen Pen, points ...Point) {
	s.items = append(s.items, item{points: points, pen: pen})
}

// Outline draws and fills a closed line.
func (s *Scene) Outline(fill Ink, pen Pen, points ...Point) {
	s.items = append(s.items, item{points: points, closed: true, fill: fill, pen: pen})
}

// Circle draws and fills a circle.
func (s *Scene) Circle(fill Ink, pen Pen, center Point, radius float64) {
	s.Outline(fill, pen, circle(center, radius)...)
}

func circle(center Point, radius float64) []Point {
	const n = 48
	points := make([]Point, n)
	for i := range points {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / n)
		points[i] = center.plus(Point{radius * cos, radius * sin})
	}
	return points
}

// Box is an upright rectangle.
type Box struct{ X, Y, W, H float64 }

func (b Box) corners() []Point {
	return []Point{{b.X, b.Y}, {b.X + b.W, b.Y}, {b.X + b.W, b.Y + b.H}, {b.X, b.Y + b.H}}
}

func (b Box) overlaps(c Box) bool {
	return b.X < c.X+c.W && c.X < b.X+b.W && b.Y < c.Y+c.H && c.Y < b.Y+b.H
}

func (b Box) holds(c Box) bool {
	return c.X >= b.X && c.Y >= b.Y && c.X+c.W <= b.X+b.W && c.Y+c.H <= b.Y+b.H
}

func (b Box) grown(by float64) Box { return Box{b.X - by, b.Y - by, b.W + 2*by, b.H + 2*by} }

// Box draws and fills a rectangle.
func (s *Scene) Box(fill Ink, pen Pen, b Box) { s.Outline(fill, pen, b.corners()...) }

// Text writes one line with its base line at p.
func (s *Scene) Text(p Point, font Font, text string) {
	if text != "" {
		s.items = append(s.items, item{points: []Point{p}, text: text, font: font})
	}
}

// box is the room of a text, upright or turned by a quarter.
func (f Font) box(p Point, text string) Box {
	w := f.width(text)
	if f.Turn == 90 { // anchored in the middle
		return Box{p.X - 0.8*f.Size, p.Y - w/2, 1.05 * f.Size, w}
	}
	b := Box{p.X, p.Y - 0.8*f.Size, w, 1.05 * f.Size}
	switch f.Anchor {
	case Middle:
		b.X -= w / 2
	case End:
		b.X -= w
	}
	return b
}

// Group gathers what is drawn under a title, which is read out in its place.
func (s *Scene) Group(title string, draw func()) {
	s.items = append(s.items, item{group: title})
	draw()
	s.items = append(s.items, item{end: true})
}

// Arrow draws a line with a head at its end.
func (s *Scene) Arrow(pen Pen, from, to Point) {
	u := to.minus(from).unit()
	size := 4 + 2*pen.Width
	neck := to.minus(u.times(size * 0.8))
	s.Line(pen, from, neck)
	aside := Point{-u.Y, u.X}.times(size * 0.4)
	back := to.minus(u.times(size))
	s.Outline(pen.Ink, Pen{}, to, back.plus(aside), back.minus(aside))
}

// Hatch fills an outline with slanted lines, spacing apart.
func (s *Scene) Hatch(pen Pen, spacing, degrees float64, outline ...Point) {
	sin, cos := math.Sincos(degrees * math.Pi / 180)
	along, across := Point{cos, -sin}, Point{sin, cos}
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, p := range outline {
		d := p.X*across.X + p.Y*across.Y
		lo, hi = math.Min(lo, d), math.Max(hi, d)
	}
	if !(hi-lo < 1e4*spacing) {
		return
	}
	for d := (math.Floor(lo/spacing) + 1) * spacing; d < hi; d += spacing {
		cuts := crossings(outline, across, along, d)
		for i := 0; i+1 < len(cuts); i += 2 {
			a := across.times(d).plus(along.times(cuts[i]))
			b := across.times(d).plus(along.times(cuts[i+1]))
			s.Line(pen, a, b)
		}
	}
}

// crossings are the places along a line across·p = d at which it cuts an outline, in
// order.
func crossings(outline []Point, across, along Point, d float64) []float64 {
	var cuts []float64
	for i, p := range outline {
		q := outline[(i+1)%len(outline)]
		a, b := p.X*across.X+p.Y*across.Y-d, q.X*across.X+q.Y*across.Y-d
		if (a < 0) == (b < 0) {
			continue
		}
		x := between(p, q, a/(a-b))
		cuts = append(cuts, x.X*along.X+x.Y*along.Y)
	}
	slices.Sort(cuts)
	return cuts
}

// Dimension draws a dimension line from p to q, moved aside to the left of its
// direction, with ticks, extension lines and its text above the line, or beside its end
// where it is too short. It returns the room of the text.
func (s *Scene) Dimension(p, q Point, aside float64, text string) Box {
	u := q.minus(p).unit()
	left := Point{u.Y, -u.X}
	a, b := p.plus(left.times(aside)), q.plus(left.times(aside))
	over := left.times(math.Copysign(3, aside))
	s.Line(hair, p.plus(over), a.plus(over))
	s.Line(hair, q.plus(over), b.plus(over))
	s.Line(hair, a, b)
	tick := u.plus(left).times(2.5)
	for _, e := range [2]Point{a, b} {
		s.Line(Pen{Ink: Black, Width: 0.9}, e.minus(tick), e.plus(tick))
	}
	middle := between(a, b, 0.5)
	font := Font{Size: small, Ink: Black, Anchor: Middle}
	long := q.minus(p).length() >= font.width(text)+6
	at := middle.plus(Point{0, -2.5})
	switch {
	case math.Abs(u.X) > math.Abs(u.Y) && !long:
		font.Anchor = Start
		at = Point{math.Max(a.X, b.X) + 5, a.Y + small*0.35}
	case math.Abs(u.X) > math.Abs(u.Y):
	case long:
		font.Turn = 90
		at = middle.plus(Point{-2.5, 0})
	default:
		font.Anchor = End
		at = middle.plus(Point{-4, small * 0.35})
	}
	s.Text(at, font, text)
	return font.box(at, text)
}

// margin is left around a picture that is a file of its own.
const margin = 14.0

// Sizes of text.
const (
	small  = 7.5
	normal = 8.5
)

// put puts a scene into another one at a place.
func (s *Scene) put(other *Scene, at Point) {
	s.items = append(s.items, item{group: other.Title})
	for _, it := range other.items {
		points := make([]Point, len(it.points))
		for i, p := range it.points {
			points[i] = p.plus(at)
		}
		it.points = points
		s.items = append(s.items, it)
	}
	s.items = append(s.items, item{end: true})
}

// Sheet puts scenes under each other, or side by side where they fit, each under its
// title: the picture that stands for all of them.
func Sheet(title string, scenes []*Scene) *Scene {
	if len(scenes) == 1 {
		return scenes[0]
	}
	const gap = 14
	font := Font{Size: normal + 1, Bold: true, Ink: Black}
	out := &Scene{Title: title, Width: PageWidth}
	x, y, row := 0.0, 0.0, 0.0
	for _, sc := range scenes {
		if x > 0 && x+sc.Width > out.Width {
			x, y, row = 0, y+row+gap, 0
		}
		head := 4.0
		for _, line := range font.Lines(sc.Title, sc.Width) {
			out.Text(Point{x, y + head + 7}, font, line)
			head += 12
		}
		out.put(sc, Point{x, y + head})
		x += sc.Width + gap
		row = math.Max(row, head+sc.Height)
		if out.Desc != "" {
			out.Desc += " "
		}
		out.Desc += sc.Title + ": " + sc.Desc
	}
	out.Height = y + row
	return out
}

// PageWidth is the width of text on A4 with margins of 15 mm, which Letter has too.
const PageWidth = 510.0
