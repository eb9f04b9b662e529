package check

import (
	"fmt"
	"math"
	"slices"

	"galefast/internal/site"
	"galefast/internal/way"
)

// floor is everything of a site that people walk between, under and over, in plan.
type floor struct {
	things []way.Thing
	owner  []string // the column or wall that carries thing i; empty for a span
	leaf   []string // the gate leaf that thing i is; empty for all others
	loose  bool     // leaves that nothing holds open are anywhere on their swing
}

func (p *floor) add(owner, leaf string, t way.Thing) {
	p.things = append(p.things, t)
	p.owner = append(p.owner, owner)
	p.leaf = append(p.leaf, leaf)
}

// floor places everything in plan. Leaves that nothing holds open stand open like the
// others, or are anywhere on their swing.
func (j *job) floor(loose bool) *floor {
	p := &floor{loose: loose}
	for i := range j.f.Columns {
		j.columnOnFloor(p, &j.f.Columns[i])
	}
	for i := range j.f.Walls {
		j.wallOnFloor(p, &j.f.Walls[i])
	}
	for i := range j.f.Gates {
		j.leafOnFloor(p, &j.f.Gates[i])
	}
	for i := range j.f.Spans {
		s := &j.f.Spans[i]
		middle, turn := j.f.SpanLine(s)
		sin, cos := math.Sincos(turn)
		half := float64(s.Face[0].V) / 2
		p.add("", "", way.Thing{Name: s.Name.V, Bottom: float64(s.Underside.V), Outline: []way.Point{
			{middle[0] - half*cos, middle[1] - half*sin}, {middle[0] + half*cos, middle[1] + half*sin}}})
	}
	return p
}

func outline(p site.Polygon) []way.Point {
	list := make([]way.Point, len(p))
	for i, v := range p {
		list[i] = v
	}
	return list
}

// planStrip is a rectangle along a line from a to b, of a half-width.
func planStrip(a, b [2]float64, half float64) []way.Point {
	dx, dy := b[0]-a[0], b[1]-a[1]
	l := math.Hypot(dx, dy)
	if l == 0 || half == 0 {
		return []way.Point{a, b}
	}
	nx, ny := -dy/l*half, dx/l*half
	return []way.Point{{a[0] - nx, a[1] - ny}, {b[0] - nx, b[1] - ny}, {b[0] + nx, b[1] + ny}, {a[0] + nx, a[1] + ny}}
}

func disc(center [2]float64, radius float64) *way.Arc {
	return &way.Arc{Center: center, Radius: radius, Sweep: 2 * math.Pi}
}

func (j *job) columnOnFloor(p *floor, c *site.Column) {
	name := c.Name.V
	if width, depth := c.Sections[0].Size(); c.Sections[0].Shape.V == "round" || float64(c.Foot[0].V) > width || float64(c.Foot[1].V) > depth {
		p.add(name, "", way.Thing{Name: "foot of " + name, Outline: outline(c.FootOutline())})
	}
	for i := range c.Sections {
		s := &c.Sections[i]
		t := way.Thing{Name: name + ", " + s.Name.V, Bottom: c.Bottom(i)}
		if s.Shape.V == "round" {
			t.Arc = disc(c.Center.XY(), float64(s.Width.V)/2)
		} else {
			t.Outline = outline(s.Outline(c))
		}
		p.add(name, "", t)
	}
}

// bagReach is how far ballast lies around its spot on the ground: half a bag of 14 x 26 in.
const bagReach = 13 * 0.0254

func (j *job) wallOnFloor(p *floor, w *site.Wall) {
	name := w.Name.V
	from, _, _, length := w.Frame()
	to := w.PointAt(length, 0)
	half := float64(w.Thickness.V) / 2
	p.add(name, "", way.Thing{Name: "foot of " + name, Outline: outline(w.SillOutline())})
	p.add(name, "", way.Thing{Name: name, Bottom: float64(w.Underside.V), Outline: planStrip(from, to, half)})
	if w.Return.Given {
		for _, x := range [2]float64{0, length} {
			p.add(name, "", way.Thing{Name: "return of " + name, Outline: planStrip(w.PointAt(x, 0), w.PointAt(x, float64(w.Return.V)), half)})
		}
	}
	toes := w.Toes()
	for i, toe := range toes {
		head := w.PointAt(length*(float64(i)+0.5)/float64(len(toes)), 0)
		p.add(name, "", way.Thing{Name: "brace of " + name, Outline: []way.Point{head, toe}})
	}
	for _, i := range j.f.BallastIn(name) {
		b := &j.f.Ballasts[i]
		if b.Count.V == 0 {
			continue
		}
		what := "ballast of " + name
		switch b.Place.V {
		case "toes":
			for _, toe := range toes {
				p.add(name, "", way.Thing{Name: what, Arc: disc(toe, bagReach)})
			}
		case "returns":
			for _, x := range [2]float64{0, length} {
				p.add(name, "", way.Thing{Name: what, Arc: disc(w.PointAt(x, float64(w.Return.V)), bagReach)})
			}
		default:
			p.add(name, "", way.Thing{Name: what, Outline: planStrip(from, to, bagReach)})
		}
	}
}

// heldOpen reports whether a keeper holds the leaf while people are inside.
func heldOpen(g *site.Gate) bool { return g.Keeper != nil && g.Keeper.Open.Given }

// leafStrip is a leaf in plan when swung by an angle, rad.
func leafStrip(g *site.Gate, l site.Leaf, angle float64) []way.Point {
	sin, cos := math.Sincos(l.Direction(angle))
	w := float64(g.Width.V)
	return planStrip(l.Hinge, [2]float64{l.Hinge[0] + w*cos, l.Hinge[1] + w*sin}, float64(g.Thickness.V)/2)
}

func (j *job) leafOnFloor(p *floor, g *site.Gate) {
	l, ok := j.f.Leaf(g)
	if !ok {
		return
	}
	open := float64(g.Open.V)
	t := way.Thing{Name: g.Name.V, Bottom: float64(g.Clearance.V), Outline: leafStrip(g, l, open)}
	p.add(g.HungOn.V, g.Name.V, t)
	if !p.loose || heldOpen(g) {
		return
	}
	t.Outline = leafStrip(g, l, 0)
	p.add(g.HungOn.V, g.Name.V, t)
	// The outer corners of the leaf run on an arc.
	width, half := float64(g.Width.V), float64(g.Thickness.V)/2
	corner := math.Atan2(half, width)
	t.Outline = nil
	t.Arc = &way.Arc{Center: l.Hinge, Radius: math.Hypot(width, half), Sweep: math.Min(open+2*corner, 2*math.Pi)}
	t.Arc.From = math.Min(l.Direction(0), l.Direction(open)) - corner
	p.add(g.HungOn.V, g.Name.V, t)
}

// rope is a guy in plan, from its foot on the ground up.
type rope struct {
	name     string
	of       string // the piece that it holds
	foot, to way.Point
	height   float64 // of its upper end, m
	at       site.Place
}

func (j *job) ropes() []rope {
	var list []rope
	for i := range j.f.Guys {
		y := &j.f.Guys[i]
		list = append(list, rope{name: fmt.Sprintf("guy %d of %s", i+1, y.From.V), of: y.From.V,
			foot: y.To.XY(), to: j.guyFrom(y), height: float64(y.Height.V), at: y.From.At})
	}
	return list
}

// below adds what of the ropes hangs lower than a height; overhead keeps a rope that
// crosses a line from barring it, since its height there is looked at by itself.
func (p *floor) below(ropes []rope, height, overhead float64) *floor {
	q := &floor{slices.Clip(p.things), slices.Clip(p.owner), slices.Clip(p.leaf), p.loose}
	for _, r := range ropes {
		part := 1.0
		if r.height > height {
			part = height / r.height
		}
		end := way.Point{r.foot[0] + part*(r.to[0]-r.foot[0]), r.foot[1] + part*(r.to[1]-r.foot[1])}
		q.add("", "", way.Thing{Name: r.name, Bottom: math.Min(overhead, height/2), Outline: []way.Point{r.foot, end}})
	}
	return q
}

// moved is the floor with everything that a piece carries shifted.
func (p *floor) moved(owner string, by [2]float64) *floor {
	q := &floor{slices.Clone(p.things), p.owner, p.leaf, p.loose}
	for i := range q.things {
		if q.owner[i] != owner {
			continue
		}
		t := &q.things[i]
		t.Outline = slices.Clone(t.Outline)
		for k := range t.Outline {
			t.Outline[k] = way.Point{t.Outline[k][0] + by[0], t.Outline[k][1] + by[1]}
		}
		if t.Arc != nil {
			a := *t.Arc
			a.Center = way.Point{a.Center[0] + by[0], a.Center[1] + by[1]}
			t.Arc = &a
		}
	}
	return q
}
