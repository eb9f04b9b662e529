package drawing

import (
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"image/png"
	"io"
	"math"

	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
	"golang.org/x/image/vector"
)

// PNG resolution, pixels per point: 144 dpi.
const pixels = 2.0

// mostPixels keeps a picture of a huge site from filling the memory.
const mostPixels = 1 << 26

// PNG writes the picture as an image at 144 dpi.
func (s *Scene) PNG(w io.Writer) error {
	width, height := math.Ceil((s.Width+2*margin)*pixels), math.Ceil((s.Height+2*margin)*pixels)
	if !(width >= 1 && height >= 1 && width*height <= mostPixels) {
		return fmt.Errorf("a picture of %.0f x %.0f pixels is too large for PNG; take svg or pdf", width, height)
	}
	c := &canvas{image: image.NewRGBA(image.Rect(0, 0, int(width), int(height)))}
	draw.Draw(c.image, c.image.Bounds(), image.NewUniform(ink(Paper)), image.Point{}, draw.Src)
	at := func(p Point) Point { return p.plus(Point{margin, margin}).times(pixels) }
	for i := range s.items {
		it := &s.items[i]
		switch {
		case it.group != "" || it.end:
		case it.text != "":
			c.text(at(it.points[0]), it.font, Covered(it.text))
		default:
			points := make([]Point, len(it.points))
			for k, p := range it.points {
				points[k] = at(p)
			}
			if it.closed && it.fill != None {
				c.fill(ink(it.fill), [][]Point{points})
			}
			if it.pen.Ink != None {
				if it.closed {
					points = append(points, points[0])
				}
				c.stroke(it.pen, points)
			}
		}
	}
	return (&png.Encoder{CompressionLevel: png.BestCompression}).Encode(w, c.image)
}

func ink(i Ink) color.RGBA {
	r, g, b := rgb(i)
	return color.RGBA{uint8(r), uint8(g), uint8(b), 255}
}

// canvas paints outlines onto an image.
type canvas struct{ image *image.RGBA }

// fill paints the inside of outlines, by the nonzero rule.
func (c *canvas) fill(col color.RGBA, outlines [][]Point) {
	lo, hi := Point{math.Inf(1), math.Inf(1)}, Point{math.Inf(-1), math.Inf(-1)}
	for _, o := range outlines {
		for _, p := range o {
			lo = Point{math.Min(lo.X, p.X), math.Min(lo.Y, p.Y)}
			hi = Point{math.Max(hi.X, p.X), math.Max(hi.Y, p.Y)}
		}
	}
	b := c.image.Bounds()
	if !(hi.X > lo.X-1 && hi.X > 0 && hi.Y > 0 && lo.X < float64(b.Dx()) && lo.Y < float64(b.Dy())) {
		return
	}
	area := image.Rect(int(math.Floor(lo.X)), int(math.Floor(lo.Y)), int(math.Ceil(hi.X))+1, int(math.Ceil(hi.Y))+1)
	r := vector.NewRasterizer(area.Dx(), area.Dy())
	for _, o := range outlines {
		for i, p := range o {
			x, y := float32(p.X-float64(area.Min.X)), float32(p.Y-float64(area.Min.Y))
			if i == 0 {
				r.MoveTo(x, y)
			} else {
				r.LineTo(x, y)
			}
		}
		r.ClosePath()
	}
	r.Draw(c.image, area, image.NewUniform(col), image.Point{})
}

// stroke paints lines as thin rectangles with round joins, all turning the same way
// so that overlaps stay filled.
func (c *canvas) stroke(pen Pen, points []Point) {
	half := pen.Width * pixels / 2
	var outlines [][]Point
	add := func(p, q Point) {
		u := q.minus(p).unit()
		n := Point{-u.Y, u.X}.times(half)
		outlines = append(outlines, []Point{p.minus(n), q.minus(n), q.plus(n), p.plus(n)})
	}
	dash := pen.Dash.pattern()
	for i := 0; i+1 < len(points); i++ {
		if dash == nil {
			add(points[i], points[i+1])
			if i > 0 && half > 0.6 {
				outlines = append(outlines, circle(points[i], half))
			}
		}
	}
	if dash != nil {
		broken(points, dash, add)
	}
	c.fill(ink(pen.Ink), outlines)
}

// broken cuts a line into the strokes of a dash pattern.
func broken(points []Point, dash []float64, stroke func(p, q Point)) {
	k, left := 0, dash[0]*pixels
	for i := 0; i+1 < len(points); i++ {
		p, q := points[i], points[i+1]
		for rest := q.minus(p).length(); rest > 0; {
			step := math.Min(rest, left)
			next := p.plus(q.minus(p).unit().times(step))
			if k%2 == 0 {
				stroke(p, next)
			}
			p, rest, left = next, rest-step, left-step
			if left <= 1e-9 {
				k = (k + 1) % len(dash)
				left = dash[k] * pixels
			}
		}
	}
}

// text paints glyphs as outlines.
func (c *canvas) text(p Point, f Font, text string) {
	size := f.Size * pixels
	x := 0.0
	switch f.Anchor {
	case Middle:
		x = -f.width(text) * pixels / 2
	case End:
		x = -f.width(text) * pixels
	}
	sin, cos := math.Sincos(-f.Turn * math.Pi / 180)
	var outlines [][]Point
	for _, r := range text {
		for _, o := range f.face().outlines(r) {
			points := make([]Point, len(o))
			for i, g := range o {
				gx, gy := x+g.X*size, g.Y*size
				points[i] = p.plus(Point{gx*cos - gy*sin, gx*sin + gy*cos})
			}
			outlines = append(outlines, points)
		}
		a, _ := f.face().advance(r)
		x += math.Max(a, 0) * size
	}
	c.fill(ink(f.Ink), outlines)
}

// outlines are those of a glyph in em, y down, with curves as short lines.
func (f *face) outlines(r rune) [][]Point {
	f.Lock()
	defer f.Unlock()
	i, err := f.font.GlyphIndex(&f.buffer, r)
	if err != nil {
		return nil
	}
	segments, err := f.font.LoadGlyph(&f.buffer, i, fixed.I(em), &sfnt.LoadGlyphOptions{})
	if err != nil {
		return nil
	}
	place := func(p fixed.Point26_6) Point { return Point{float64(p.X) / 64 / em, float64(p.Y) / 64 / em} }
	var list [][]Point
	for _, s := range segments {
		if s.Op == sfnt.SegmentOpMoveTo {
			list = append(list, []Point{place(s.Args[0])})
			continue
		}
		last := &list[len(list)-1]
		from := (*last)[len(*last)-1]
		switch s.Op {
		case sfnt.SegmentOpLineTo:
			*last = append(*last, place(s.Args[0]))
		case sfnt.SegmentOpQuadTo:
			a, b := place(s.Args[0]), place(s.Args[1])
			const steps = 6
			for k := 1; k <= steps; k++ {
				t := float64(k) / steps
				*last = append(*last, between(between(from, a, t), between(a, b, t), t))
			}
		}
	}
	return list
}
