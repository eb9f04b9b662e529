// Package takeoff weighs a description: mass and centre of mass of every part,
// section and piece.
//
// Masses are in kg, positions in m with x east, y north, z up. Every mass has a light
// and a heavy end: the spread of the tables, then the piece's tolerance. A check takes
// the end that makes it harder to pass. A weighed piece has no tolerance: its parts
// are scaled to the scale's reading, which leaves the centre of mass where it was. Both
// ends have the centre of the nominal masses: where the tables spread more for some parts
// than for others, that of the light or heavy piece lies a little elsewhere.
//
// Lumber density follows the NDS Supplement 3.1.3 from specific gravity and moisture
// content; panels go by area, pipes by length, foams by volume, coats by area.
package takeoff

import (
	"fmt"
	"math"

	"galefast/internal/catalog"
	"galefast/internal/quantity"
	"galefast/internal/site"
)

// Mass is an estimate with its two ends, and where its centre is.
type Mass struct {
	Nominal, Light, Heavy float64
	Center                [3]float64
}

// add puts another mass to m.
func (m *Mass) add(o Mass) {
	total := m.Nominal + o.Nominal
	if total > 0 {
		for k := range m.Center {
			m.Center[k] = (m.Nominal*m.Center[k] + o.Nominal*o.Center[k]) / total
		}
	}
	m.Nominal, m.Light, m.Heavy = total, m.Light+o.Light, m.Heavy+o.Heavy
}

// Part is one line of a parts list; the mass is that of all of them.
type Part struct {
	Name              string
	Count             int
	Mass              Mass
	Source, Certainty string
	At                site.Place
}

// Section is one section of a column.
type Section struct {
	Name  string
	Mass  Mass
	Parts []Part
	At    site.Place
}

// Piece is a column, gate leaf, wall or span, without ballast.
type Piece struct {
	Name, Kind string
	Mass       Mass
	Tolerance  float64
	Weighed    bool
	Estimated  float64 // kg, the take-off where a scale overrules it; zero when nothing was estimated
	Sections   []Section
	Parts      []Part // of a piece without sections
	At         site.Place

	shared bool // the reading was spread over what says nothing of its mass
}

// Takeoff is the whole site.
type Takeoff struct {
	Columns, Gates, Walls, Spans []Piece // in the order of the file's
}

// Take weighs a site that was loaded without problems. Problems that only the masses
// show, such as parts heavier than the weighed piece, are returned.
func Take(f *site.File) (*Takeoff, site.Problems) {
	t := &taker{f: f, moisture: float64(f.Site.Moisture.V)}
	out := &Takeoff{}
	for i := range f.Columns {
		out.Columns = append(out.Columns, t.column(&f.Columns[i]))
	}
	for i := range f.Gates {
		out.Gates = append(out.Gates, t.gate(&f.Gates[i]))
	}
	for i := range f.Walls {
		out.Walls = append(out.Walls, t.wall(&f.Walls[i]))
	}
	for i := range f.Spans {
		out.Spans = append(out.Spans, t.span(&f.Spans[i]))
	}
	return out, t.problems
}

type taker struct {
	f        *site.File
	moisture float64
	problems site.Problems
}

// frame places a piece's own axes in plan.
type frame struct {
	origin [2]float64
	turn   float64
}

func (a frame) place(x, y, z float64) [3]float64 {
	s, c := math.Sincos(a.turn)
	return [3]float64{a.origin[0] + c*x - s*y, a.origin[1] + s*x + c*y, z}
}

func (t *taker) column(c *site.Column) Piece {
	p := Piece{Name: c.Name.V, Kind: "column", At: c.Name.At}
	axes := frame{c.Center.XY(), float64(c.Turn.V)}
	var bare []int // sections that say nothing of their mass
	for i := range c.Sections {
		s := &c.Sections[i]
		bottom, height := c.Bottom(i), float64(s.Height.V)
		sec := Section{Name: s.Name.V, At: s.Name.At}
		sec.Mass.Center = axes.place(0, 0, bottom+height/2)
		switch {
		case s.Mass.Given:
			m := float64(s.Mass.V)
			sec.Mass.Nominal, sec.Mass.Light, sec.Mass.Heavy = m, m, m
			sec.Parts = []Part{{Name: "declared mass", Count: 1, Mass: sec.Mass, Source: "declared", Certainty: "given in the site file", At: s.Mass.At}}
		case len(s.Parts) > 0:
			sec.Parts, sec.Mass = t.parts(s.Parts, axes, bottom, height)
		default:
			bare = append(bare, i)
		}
		p.Sections = append(p.Sections, sec)
	}
	for _, s := range p.Sections {
		p.Mass.add(s.Mass)
	}
	if len(bare) > 0 {
		t.share(c, &p, bare)
	}
	t.finish(&p, c.Weighed, c.Tolerance)
	return p
}

// share spreads what a weighed column has left over the sections that say nothing
// of their mass, by their volume.
func (t *taker) share(c *site.Column, p *Piece, bare []int) {
	rest := float64(c.Weighed.V) - p.Mass.Nominal
	if rest <= 0 {
		t.problems = append(t.problems, t.f.Problem(c.Weighed.Entry, "weight",
			fmt.Sprintf("column %q weighs %s, and the parts of some sections weigh that much already", c.Name.V, c.Weighed.Text),
			"parts lighter than the whole", "weigh it again, or check the parts' counts and sizes"))
		return
	}
	volume := 0.0
	for _, i := range bare {
		w, d := c.Sections[i].Size()
		volume += w * d * float64(c.Sections[i].Height.V)
	}
	total := Mass{}
	for i := range p.Sections {
		s := &p.Sections[i]
		if s.Mass.Nominal == 0 {
			w, d := c.Sections[i].Size()
			m := rest * w * d * float64(c.Sections[i].Height.V) / volume
			s.Mass.Nominal, s.Mass.Light, s.Mass.Heavy = m, m, m
			s.Parts = []Part{{Name: "share of the weighed mass, by volume", Count: 1, Mass: s.Mass, Source: "weighed", Certainty: "given in the site file", At: c.Weighed.At}}
		}
		total.add(s.Mass)
	}
	p.Mass, p.shared = total, true
}

func (t *taker) gate(g *site.Gate) Piece {
	p := Piece{Name: g.Name.V, Kind: "gate", At: g.Name.At}
	leaf, _ := t.f.Leaf(g)
	s, c := math.Sincos(leaf.Closed)
	half := float64(g.Width.V) / 2
	axes := frame{[2]float64{leaf.Hinge[0] + half*c, leaf.Hinge[1] + half*s}, leaf.Closed}
	t.whole(&p, g.Parts, g.Mass, axes, float64(g.Clearance.V), float64(g.Height.V))
	t.finish(&p, g.Weighed, g.Tolerance)
	return p
}

func (t *taker) wall(w *site.Wall) Piece {
	p := Piece{Name: w.Name.V, Kind: "wall", At: w.Name.At}
	t.whole(&p, w.Parts, w.Mass, frame{w.Middle(), w.Turn()}, 0, float64(w.Height.V))
	t.finish(&p, w.Weighed, w.Tolerance)
	return p
}

func (t *taker) span(s *site.Span) Piece {
	p := Piece{Name: s.Name.V, Kind: "span", At: s.Name.At}
	middle, turn := t.f.SpanLine(s)
	t.whole(&p, s.Parts, s.Mass, frame{middle, turn}, float64(s.Underside.V), float64(s.Face[1].V))
	t.finish(&p, s.Weighed, s.Tolerance)
	return p
}

// whole weighs a piece without sections.
func (t *taker) whole(p *Piece, parts []site.Part, mass site.Measure[quantity.Mass], axes frame, bottom, height float64) {
	p.Mass.Center = axes.place(0, 0, bottom+height/2)
	switch {
	case mass.Given:
		m := float64(mass.V)
		p.Mass.Nominal, p.Mass.Light, p.Mass.Heavy = m, m, m
		p.Parts = []Part{{Name: "declared mass", Count: 1, Mass: p.Mass, Source: "declared", Certainty: "given in the site file", At: mass.At}}
	case len(parts) > 0:
		p.Parts, p.Mass = t.parts(parts, axes, bottom, height)
	}
}

// finish applies the tolerance, or the scale where there is a reading.
func (t *taker) finish(p *Piece, weighed site.Measure[quantity.Mass], tolerance site.Measure[quantity.Ratio]) {
	if !weighed.Given {
		p.Tolerance = float64(t.f.Site.Tolerance.V)
		if tolerance.Given {
			p.Tolerance = float64(tolerance.V)
		}
		widen(&p.Mass, p.Tolerance)
		for i := range p.Sections {
			widen(&p.Sections[i].Mass, p.Tolerance)
		}
		return
	}
	reading := float64(weighed.V)
	p.Weighed = true
	if p.Mass.Nominal == 0 {
		p.Mass.Nominal, p.Mass.Light, p.Mass.Heavy = reading, reading, reading
		return
	}
	if p.shared {
		return
	}
	p.Estimated = p.Mass.Nominal
	if light := p.Mass.Light * (1 - float64(t.f.Site.Tolerance.V)); light > reading*(1+1e-9) {
		t.problems = append(t.problems, t.f.Problem(weighed.Entry, "weight",
			fmt.Sprintf("%s %q weighs %s, and its parts at least %s", p.Kind, p.Name, weighed.Text,
				quantity.Format(quantity.Mass(light), t.f.System())),
			"parts no heavier than the whole", "weigh it again without ballast or gates, or check the parts' counts and sizes"))
	}
	by := reading / p.Estimated
	scale(&p.Mass, by)
	scaleParts(p.Parts, by)
	for i := range p.Sections {
		scale(&p.Sections[i].Mass, by)
		scaleParts(p.Sections[i].Parts, by)
	}
}

func widen(m *Mass, tolerance float64) {
	m.Light *= 1 - tolerance
	m.Heavy *= 1 + tolerance
}

func scale(m *Mass, by float64) {
	m.Nominal *= by
	m.Light, m.Heavy = m.Nominal, m.Nominal
}

func scaleParts(parts []Part, by float64) {
	for i := range parts {
		scale(&parts[i].Mass, by)
	}
}

// parts weighs a parts list within a box of the given bottom and height.
func (t *taker) parts(list []site.Part, axes frame, bottom, height float64) ([]Part, Mass) {
	var total Mass
	parts := make([]Part, 0, len(list))
	for i := range list {
		sp := &list[i]
		p := t.part(sp)
		p.At = sp.At
		x, y, z := 0.0, 0.0, bottom+height/2
		if sp.Height.Given {
			z = bottom + float64(sp.Height.V)
		}
		if len(sp.Offset) == 2 {
			x, y = float64(sp.Offset[0].V), float64(sp.Offset[1].V)
		}
		p.Mass.Center = axes.place(x, y, z)
		total.add(p.Mass)
		parts = append(parts, p)
	}
	return parts, total
}

// part weighs one line, all of its count.
func (t *taker) part(p *site.Part) Part {
	c := t.f.Catalog
	out := Part{Count: p.Count.V}
	n := float64(p.Count.V)
	set := func(row catalog.Row, name string, light, heavy quantity.Mass) {
		out.Name, out.Source, out.Certainty = name, row.Source, row.Certainty
		out.Mass.Light, out.Mass.Heavy = n*float64(light), n*float64(heavy)
		out.Mass.Nominal = (out.Mass.Light + out.Mass.Heavy) / 2
	}
	area := func(sides []site.Measure[quantity.Length]) float64 {
		a := 1.0
		for _, s := range sides {
			a *= float64(s.V)
		}
		return a
	}
	switch {
	case p.Stock.Given:
		size, _ := c.Lumber.Find(p.Stock.V)
		wood, _ := c.Wood.Find(p.Wood.V)
		volume := quantity.Volume(float64(size.Thickness) * float64(size.Width) * float64(p.Length.V))
		m := wood.Density(100 * t.moisture).Times(volume)
		set(wood.Row, fmt.Sprintf("%s %s, %s", wood.Name, size.Name, p.Length.Text), m, m)
	case p.Sheet.Given:
		row, _ := c.Panel.Find(p.Sheet.V)
		a := quantity.Area(area(p.Size))
		set(row.Row, row.Name, row.AreaDensity.Times(a), row.Heavy.Times(a))
	case p.Block.Given:
		row, _ := c.Foam.Find(p.Block.V)
		v := quantity.Volume(area(p.Size))
		set(row.Row, row.Name, row.Density.Times(v), row.Heavy.Times(v))
	case p.Pipe.Given:
		row, _ := c.Pipe.Find(p.Pipe.V)
		m := row.LineDensity.Times(p.Length.V)
		set(row.Row, fmt.Sprintf("%s, %s", row.Name, p.Length.Text), m, row.Heavy.Times(p.Length.V))
	case p.Coat.Given:
		row, _ := c.Coat.Find(p.Coat.V)
		set(row.Row, fmt.Sprintf("%s, %s", row.Name, p.Area.Text), row.AreaDensity.Times(p.Area.V), row.Heavy.Times(p.Area.V))
	default:
		set(catalog.Row{Source: "declared", Certainty: "given in the site file"}, p.Item.V, p.Mass.V, p.Mass.V)
	}
	return out
}
