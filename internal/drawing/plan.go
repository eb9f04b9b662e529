package drawing

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"galefast/internal/quantity"
	"galefast/internal/site"
	"galefast/internal/verdict"
)

// plan draws a site from above.
type plan struct {
	*Scene
	f      *site.File
	r      *verdict.Report
	system quantity.System

	scale  float64 // points per metre
	origin Point   // of the site's axes on the page
	area   Box     // within which the site is drawn
	names  labels
	notes  []note // labels, written when all lines are known
	key    []sample
}

// note is a label that waits for its place.
type note struct {
	at    Point
	font  Font
	texts []string
}

// sample is an entry of the key of lines.
type sample struct {
	text string
	draw func(at Point)
}

// Plan is the site from above, to scale: pieces, leaves in both positions, braces,
// guys, ballast, cords, the way and how far each piece reaches if it falls.
func Plan(f *site.File, r *verdict.Report, system quantity.System) *Scene {
	p := &plan{Scene: &Scene{Title: "Plan", Width: PageWidth}, f: f, r: r, system: system}
	box, any := p.bounds()
	if !any {
		p.Height = 30
		p.Desc = "No piece stands on this site."
		p.Text(Point{0, 20}, Font{Size: normal, Ink: Black}, p.Desc)
		return p.Scene
	}
	ratio := p.fitTo(box)
	p.header(ratio)
	p.Group("reach if a piece falls", p.falls)
	p.Group("ways", p.ways)
	p.Group("pieces", func() {
		for i := range f.Walls {
			p.wall(&f.Walls[i])
		}
		for i := range f.Columns {
			p.column(&f.Columns[i])
		}
		for i := range f.Spans {
			p.span(&f.Spans[i])
		}
		for i := range f.Gates {
			p.gate(&f.Gates[i])
		}
	})
	p.Group("narrowest place of each way", p.narrowest)
	p.Group("guys", p.guys)
	p.Group("cords", p.cords)
	p.Group("ballast", p.ballast)
	p.Group("dimensions", p.dimensions)
	p.Group("names", func() {
		slices.SortStableFunc(p.notes, func(a, b note) int { return cmp.Compare(a.font.Size, b.font.Size) })
		for _, n := range p.notes {
			p.label(&p.names, n.at, n.font, n.texts...)
		}
	})
	p.legend()
	p.describe(ratio)
	return p.Scene
}

// at is a place of the site on the page.
func (p *plan) at(xy [2]float64) Point {
	return Point{p.origin.X + xy[0]*p.scale, p.origin.Y - xy[1]*p.scale}
}

func (p *plan) outline(list [][2]float64) []Point {
	points := make([]Point, len(list))
	for i, xy := range list {
		points[i] = p.at(xy)
	}
	return points
}

// standing is a piece on the ground with how far it reaches.
type standing struct {
	outline [][2]float64 // convex
	height  float64
}

func (p *plan) standings() []standing {
	var list []standing
	for i := range p.f.Columns {
		c := &p.f.Columns[i]
		widest := c.FootOutline()
		for k := range c.Sections {
			if o := c.Sections[k].Outline(c); spread(o) > spread(widest) {
				widest = o
			}
		}
		list = append(list, standing{widest, c.Top()})
	}
	for i := range p.f.Walls {
		w := &p.f.Walls[i]
		list = append(list, standing{hull(w.Bearing()), float64(w.Height.V)})
	}
	return list
}

func spread(o site.Polygon) float64 {
	return math.Hypot(o[2][0]-o[0][0], o[2][1]-o[0][1])
}

// bounds is the room of everything that stands, with its reach.
func (p *plan) bounds() (Box, bool) {
	lo, hi := [2]float64{math.Inf(1), math.Inf(1)}, [2]float64{math.Inf(-1), math.Inf(-1)}
	add := func(xy [2]float64, by float64) {
		for k := range xy {
			lo[k], hi[k] = math.Min(lo[k], xy[k]-by), math.Max(hi[k], xy[k]+by)
		}
	}
	for _, s := range p.standings() {
		for _, xy := range s.outline {
			add(xy, s.height)
		}
	}
	for i := range p.f.Guys {
		add(p.f.Guys[i].To.XY(), 0.3)
	}
	return Box{lo[0], lo[1], hi[0] - lo[0], hi[1] - lo[1]}, lo[0] <= hi[0]
}

// fitTo chooses a scale of the usual ones and places the axes. It returns the ratio.
func (p *plan) fitTo(box Box) float64 {
	const head, left, below = 34, 34, 44
	// What the list of pieces leaves of a page.
	tallest := math.Max(330, math.Min(400, 610-5.5*float64(len(p.r.Weigh.Pieces))))
	const perMetre = 72 / 0.0254
	width := PageWidth - left - 4
	need := math.Max(box.W/width, box.H/tallest) * perMetre
	scales := []float64{10, 20, 25, 50, 75, 100, 125, 150, 200, 250, 300, 400, 500, 750}
	if p.system == quantity.US {
		scales = []float64{12, 16, 24, 32, 48, 64, 72, 96, 120, 144, 192, 240, 288, 384, 480, 600, 720}
	}
	ratio := scales[len(scales)-1]
	for _, s := range scales {
		if s >= need {
			ratio = s
			break
		}
	}
	for ratio < need {
		ratio *= 2
	}
	p.scale = perMetre / ratio
	w, h := box.W*p.scale, box.H*p.scale
	p.origin = Point{left + (width-w)/2 - box.X*p.scale, head + h + box.Y*p.scale}
	p.area = Box{left, head, width, h}
	p.names.area = p.area
	p.Height = head + h + below
	return ratio
}

// header draws the scale bar and the north arrow, above the site.
func (p *plan) header(ratio float64) {
	unit, counts := 1.0, []float64{0.02, 0.05, 0.1, 0.2, 0.5}
	if p.system == quantity.US {
		unit, counts = 0.3048, []float64{1.0 / 12, 0.25, 0.5}
	}
	step := quantity.Length(counts[0] * unit)
	for _, n := range append(counts, 1, 2, 5, 10, 20, 50, 100, 200, 500, 1000, 2000) {
		if n*unit*p.scale*4 <= 180 {
			step = quantity.Length(n * unit)
		}
	}
	x, font := 34.0, Font{Size: small, Ink: Black, Anchor: Middle}
	for i := range 4 {
		fill := [2]Ink{Black, Paper}[i%2]
		p.Box(fill, Pen{Ink: Black, Width: 0.6}, Box{x + float64(i)*float64(step)*p.scale, 12, float64(step) * p.scale, 4})
	}
	for i := range 3 {
		text := "0"
		if i > 0 {
			text = quantity.Format(step*quantity.Length(2*i), p.system)
		}
		p.Text(Point{x + float64(2*i)*float64(step)*p.scale, 9}, font, text)
	}
	p.Text(Point{x, 26}, Font{Size: small, Ink: Black}, fmt.Sprintf("scale 1 : %.0f when printed at 100 %%", ratio))
	top := Point{PageWidth - 14, 2}
	p.Outline(Black, Pen{}, top, top.plus(Point{5, 16}), top.plus(Point{0, 12}))
	p.Outline(Paper, Pen{Ink: Black, Width: 0.6}, top, top.plus(Point{-5, 16}), top.plus(Point{0, 12}))
	p.Text(top.plus(Point{0, 27}), Font{Size: normal, Bold: true, Ink: Black, Anchor: Middle}, "N")
}

// falls outlines how far the pieces reach when they fall: each its own height around
// what it stands on, drawn where no other piece's reach covers it.
func (p *plan) falls() {
	list := p.standings()
	for i, s := range list {
		around := offset(s.outline, s.height)
		var run []Point
		flush := func() {
			if len(run) > 1 {
				p.Line(reach, run...)
			}
			run = nil
		}
		for k := 0; k <= len(around); k++ {
			xy := around[k%len(around)]
			covered := slices.ContainsFunc(list, func(o standing) bool { return distance(xy, o.outline) < o.height-1e-6 })
			same := slices.ContainsFunc(list[:i], func(o standing) bool { return distance(xy, o.outline) < o.height+1e-6 })
			if covered || same {
				flush()
				continue
			}
			run = append(run, p.at(xy))
		}
		flush()
	}
	if len(list) > 0 {
		p.sample("reach of a piece that falls: its own height", reach)
	}
}

// sample adds a line to the key, once.
func (p *plan) sample(text string, pen Pen) {
	p.mark(text, func(at Point) { p.Line(pen, at, at.plus(Point{24, 0})) })
}

func (p *plan) mark(text string, draw func(at Point)) {
	if !slices.ContainsFunc(p.key, func(s sample) bool { return s.text == text }) {
		p.key = append(p.key, sample{text, draw})
	}
}

// number is a piece's number on the plan: its place in the record's list of pieces.
func (p *plan) number(kind, name string) int {
	return 1 + slices.IndexFunc(p.r.Weigh.Pieces, func(x verdict.Piece) bool { return x.Kind == kind && x.Name == name })
}

func (p *plan) name(kind, name string, at Point) {
	n := fmt.Sprint(p.number(kind, name))
	p.notes = append(p.notes, note{at, Font{Size: normal, Bold: true, Ink: Black}, []string{n + " " + name, n}})
}

func (p *plan) column(c *site.Column) {
	foot := p.outline(c.FootOutline())
	order := make([]int, len(c.Sections))
	for k := range order {
		order[k] = k
	}
	slices.SortStableFunc(order, func(a, b int) int {
		return int(math.Copysign(1, spread(c.Sections[b].Outline(c))-spread(c.Sections[a].Outline(c))))
	})
	for n, k := range order {
		s := &c.Sections[k]
		o := p.outline(s.Outline(c))
		switch s.Shape.V {
		case "round":
			o = circle(p.at(c.Center.XY()), float64(s.Width.V)/2*p.scale)
		case "hexagon", "octagon":
			sides := map[string]float64{"hexagon": 6, "octagon": 8}[s.Shape.V]
			o = nil
			for i := range int(sides) {
				a := float64(c.Turn.V) + math.Pi/sides*float64(2*i+1)
				sin, cos := math.Sincos(a)
				d := float64(s.Width.V) / 2 / math.Cos(math.Pi/sides)
				xy := c.Center.XY()
				o = append(o, p.at([2]float64{xy[0] + d*cos, xy[1] + d*sin}))
			}
		}
		p.Outline(Wash, [2]Pen{strong, fine}[min(n, 1)], o...)
		p.names.avoidOutline(o...)
	}
	p.Outline(None, Pen{Ink: Black, Width: 0.8, Dash: Dashed}, foot...)
	p.names.avoidOutline(foot...)
	p.sample("foot of a column: what bears on the ground", Pen{Ink: Black, Width: 0.8, Dash: Dashed})
	p.name("column", c.Name.V, p.at(c.Center.XY()))
}

func (p *plan) wall(w *site.Wall) {
	sill := p.outline(w.SillOutline())
	p.Outline(Wash, fine, sill...)
	from, along, _, length := w.Frame()
	to := [2]float64{from[0] + along[0]*length, from[1] + along[1]*length}
	p.Line(Pen{Ink: Black, Width: 2.2}, p.at(from), p.at(to))
	p.names.avoidOutline(sill...)
	if w.Return.Given {
		for _, x := range [2]float64{0, length} {
			a, b := p.at(w.PointAt(x, 0)), p.at(w.PointAt(x, float64(w.Return.V)))
			p.Line(Pen{Ink: Black, Width: 2.2}, a, b)
			p.names.avoid(a, b)
		}
	}
	n := len(w.Toes())
	for i, toe := range w.Toes() {
		foot := p.at(w.PointAt(length*(float64(i)+0.5)/float64(n), 0))
		end := p.at(toe)
		p.Line(fine, foot, end)
		p.Circle(Paper, fine, end, 2)
		p.names.avoid(foot, end)
		p.mark("brace, and its toe on the ground", func(at Point) {
			p.Line(fine, at, at.plus(Point{21, 0}))
			p.Circle(Paper, fine, at.plus(Point{22, 0}), 2)
		})
	}
	p.name("wall", w.Name.V, p.at(w.Middle()))
}

func (p *plan) span(s *site.Span) {
	middle, turn := p.f.SpanLine(s)
	sin, cos := math.Sincos(turn)
	half := float64(s.Face[0].V) / 2
	a := p.at([2]float64{middle[0] - half*cos, middle[1] - half*sin})
	b := p.at([2]float64{middle[0] + half*cos, middle[1] + half*sin})
	aside := Point{sin, cos}.times(2)
	p.Line(fine, a.plus(aside), b.plus(aside))
	p.Line(fine, a.minus(aside), b.minus(aside))
	p.names.avoid(a, b)
	p.mark("span overhead", func(at Point) {
		p.Line(fine, at.plus(Point{0, -2}), at.plus(Point{24, -2}))
		p.Line(fine, at.plus(Point{0, 2}), at.plus(Point{24, 2}))
	})
	p.name("span", s.Name.V, between(a, b, 0.5))
}

func (p *plan) gate(g *site.Gate) {
	leaf, ok := p.f.Leaf(g)
	if !ok {
		return
	}
	tip := func(angle float64) Point {
		sin, cos := math.Sincos(leaf.Direction(angle))
		w := float64(g.Width.V)
		return p.at([2]float64{leaf.Hinge[0] + w*cos, leaf.Hinge[1] + w*sin})
	}
	hinge, open := p.at(leaf.Hinge), float64(g.Open.V)
	ajar := Pen{Ink: Black, Width: 1.3, Dash: Dashed}
	p.Line(Pen{Ink: Black, Width: 1.8}, hinge, tip(0))
	p.Line(ajar, hinge, tip(open))
	var arc []Point
	const steps = 16
	for i := range steps + 1 {
		arc = append(arc, tip(open*float64(i)/steps))
	}
	p.Line(Pen{Ink: Soft, Width: 0.6, Dash: Dotted}, arc...)
	p.names.avoid(hinge, tip(0))
	p.names.avoid(hinge, tip(open))
	p.sample("leaf, closed", Pen{Ink: Black, Width: 1.8})
	p.sample("leaf, open", ajar)
	p.name("gate", g.Name.V, between(hinge, tip(open), 0.6))
}

func (p *plan) guys() {
	for i := range p.f.Guys {
		g := &p.f.Guys[i]
		to := g.To.XY()
		var from [2]float64
		if c := p.f.Column(g.From.V); c != nil {
			from = c.Center.XY()
		} else if w := p.f.Wall(g.From.V); w != nil {
			a, along, _, length := w.Frame()
			x := math.Max(0, math.Min(length, (to[0]-a[0])*along[0]+(to[1]-a[1])*along[1]))
			from = w.PointAt(x, 0)
		} else {
			continue
		}
		a, b := p.at(from), p.at(to)
		pen := Pen{Ink: Black, Width: 0.8, Dash: DashDot}
		p.Line(pen, a, b)
		for _, d := range [2]Point{{3, 3}, {3, -3}} {
			p.Line(strong, b.minus(d), b.plus(d))
		}
		p.names.avoid(a, b)
		p.sample("guy, and its anchor", pen)
		p.notes = append(p.notes, note{b, Font{Size: small, Ink: Black}, []string{fmt.Sprintf("guy %d", i+1)}})
	}
}

// clipped draws a line as far as the picture goes.
func (p *plan) clipped(pen Pen, list []site.Point, arrow bool) (start Point, any bool) {
	for i := 0; i+1 < len(list); i++ {
		a, b, ok := clip(p.area, p.at(list[i].XY()), p.at(list[i+1].XY()))
		if !ok {
			continue
		}
		if !any {
			start, any = a, true
		}
		p.names.avoid(a, b)
		if arrow && i+2 == len(list) && b.minus(a).length() > 12 {
			p.Line(pen, a, b)
			p.Arrow(Pen{Ink: pen.Ink, Width: pen.Width}, b.minus(b.minus(a).unit().times(8)), b)
			continue
		}
		p.Line(pen, a, b)
	}
	return start, any
}

func (p *plan) ways() {
	for i := range p.f.Ways {
		w := &p.f.Ways[i]
		start, ok := p.clipped(path, w.Line, true)
		if !ok {
			continue
		}
		p.sample("the way, in its direction of travel", path)
		text := "way: " + w.Name.V
		if w.People.Given {
			text += fmt.Sprintf(", %d people", w.People.V)
		}
		p.notes = append(p.notes, note{start, Font{Size: small, Ink: Accent}, []string{text}})
	}
}

// narrowest marks the shortest tape across each way, with its leaves at rest.
func (p *plan) narrowest() {
	pen := Pen{Black, 0.9, Dotted}
	for _, x := range p.r.Passage.Rows {
		if x.Leaves != "open" || x.FromM == nil || x.ToM == nil || x.WidthM == nil || *x.FromM == *x.ToM {
			continue
		}
		from, to := p.at(*x.FromM), p.at(*x.ToM)
		if !p.area.holds(Box{from.X, from.Y, 0, 0}) || !p.area.holds(Box{to.X, to.Y, 0, 0}) {
			continue
		}
		p.Arrow(pen, from, to)
		p.Arrow(pen, to, from)
		p.sample("clear width at the narrowest place of a way", pen)
		middle := from.plus(to.minus(from).times(0.5))
		p.notes = append(p.notes, note{middle, Font{Size: small, Ink: Black}, []string{"clear " + quantity.Format(quantity.Length(*x.WidthM), p.system)}})
	}
}

func (p *plan) cords() {
	for i := range p.f.Cords {
		k := &p.f.Cords[i]
		if len(k.Route) == 0 {
			continue
		}
		start, ok := p.clipped(cord, k.Route, false)
		if !ok {
			continue
		}
		p.sample("cord on the ground", cord)
		middle := p.at(k.Route[len(k.Route)/2].XY())
		if len(k.Route)%2 == 0 {
			n := len(k.Route) / 2
			middle = between(p.at(k.Route[n-1].XY()), p.at(k.Route[n].XY()), 0.5)
		}
		if (Box{middle.X, middle.Y, 0, 0}).overlaps(p.area) {
			start = middle
		}
		p.notes = append(p.notes, note{start, Font{Size: small, Ink: Accent}, []string{"cord " + k.Name.V}})
	}
}

// ballast marks each place of the schedule with the number of units that must be there.
func (p *plan) ballast() {
	for _, x := range p.r.Ballast.Rows {
		places := spots(p.f, x)
		for _, xy := range places {
			p.bag(p.at(xy))
		}
		p.mark("ballast, and how many units must be there", func(at Point) { p.bag(at.plus(Point{12, 0})) })
		if len(places) > 0 {
			p.notes = append(p.notes, note{p.at(places[0]), Font{Size: small - 0.5, Ink: Black}, []string{inAll(x, len(places))}})
		}
	}
}

// spots are the places in plan over which a row of the schedule is spread.
func spots(f *site.File, x verdict.BallastRow) [][2]float64 {
	if w := f.Wall(x.Piece); w != nil {
		_, _, _, length := w.Frame()
		switch x.Section {
		case "toes":
			return w.Toes()
		case "returns":
			return [][2]float64{w.PointAt(0, float64(w.Return.V)), w.PointAt(length, float64(w.Return.V))}
		}
	}
	return [][2]float64{{x.AtM[0], x.AtM[1]}}
}

// units is a row of the schedule in brief.
func units(x verdict.BallastRow) string {
	if x.Count == nil {
		return "no number will do"
	}
	return fmt.Sprintf("×%d", *x.Count)
}

// inAll is the same over several spots: the number is that of all of them.
func inAll(x verdict.BallastRow, spots int) string {
	if spots > 1 && x.Count != nil {
		return units(x) + " in all"
	}
	return units(x)
}

func (p *plan) bag(at Point) {
	b := Box{at.X - 3.5, at.Y - 3.5, 7, 7}
	p.Box(Paper, Pen{Ink: Black, Width: 0.9}, b)
	p.Hatch(Pen{Ink: Black, Width: 0.7}, 2, 45, b.corners()...)
	p.names.taken = append(p.names.taken, b.grown(0.5))
}

// dimensions measures the whole, and the way from column to column where there are few.
func (p *plan) dimensions() {
	lo, hi := Point{math.Inf(1), math.Inf(1)}, Point{math.Inf(-1), math.Inf(-1)}
	var xs, ys []float64
	for _, s := range p.standings() {
		for _, xy := range p.outline(s.outline) {
			lo = Point{math.Min(lo.X, xy.X), math.Min(lo.Y, xy.Y)}
			hi = Point{math.Max(hi.X, xy.X), math.Max(hi.Y, xy.Y)}
		}
	}
	for i := range p.f.Columns {
		c := p.at(p.f.Columns[i].Center.XY())
		xs, ys = append(xs, c.X), append(ys, c.Y)
	}
	text := func(points float64) string {
		return quantity.Format(quantity.Length(math.Abs(points)/p.scale), p.system)
	}
	bottom := p.area.Y + p.area.H
	overall := 14.0
	if list := distinct(xs); p.roomy(list, text) {
		for i := 0; i+1 < len(list); i++ {
			p.Dimension(Point{list[i], bottom}, Point{list[i+1], bottom}, -14, text(list[i+1]-list[i]))
		}
		overall = 32
	}
	p.Dimension(Point{lo.X, bottom}, Point{hi.X, bottom}, -overall, text(hi.X-lo.X))
	// On the left the line runs upwards, its left is outwards.
	overall = 4
	if list := distinct(ys); p.roomy(list, text) {
		for i := 0; i+1 < len(list); i++ {
			p.Dimension(Point{p.area.X, list[i+1]}, Point{p.area.X, list[i]}, 4, text(list[i+1]-list[i]))
		}
		overall = 20
	}
	depth, font := text(hi.Y-lo.Y), Font{Size: small, Ink: Black, Turn: 90}
	if hi.Y-lo.Y < font.width(depth)+6 { // beyond the end of the line
		p.Text(Point{p.area.X - overall - 2.5, math.Max(lo.Y-5, font.width(depth)+2)}, font, depth)
		depth = ""
	}
	p.Dimension(Point{p.area.X, hi.Y}, Point{p.area.X, lo.Y}, overall, depth)
}

// roomy reports whether a chain of dimensions has room for every text.
func (p *plan) roomy(list []float64, text func(float64) string) bool {
	for i := 0; i+1 < len(list); i++ {
		if (Font{Size: small}).width(text(list[i+1]-list[i]))+8 > list[i+1]-list[i] {
			return false
		}
	}
	return len(list) > 1
}

// distinct are the places along an axis that are at least a few points apart, in order.
func distinct(list []float64) []float64 {
	slices.Sort(list)
	var out []float64
	for _, v := range list {
		if len(out) == 0 || v-out[len(out)-1] > 9 {
			out = append(out, v)
		}
	}
	return out
}

// legend writes the key of lines and the list of numbered pieces, in two columns.
func (p *plan) legend() {
	const gap, row = 14.0, 10.5
	width := (PageWidth - gap) / 2
	y := p.Height + 4
	for i, s := range p.key {
		at := Point{float64(i%2) * (width + gap), y + float64(i/2)*row + 8}
		s.draw(at.plus(Point{0, -2.5}))
		p.Text(at.plus(Point{32, 0}), Font{Size: small, Ink: Black}, s.text)
	}
	y += math.Ceil(float64(len(p.key))/2)*row + 8
	font := Font{Size: small, Ink: Black}
	var lines [][]string
	total := 0
	for i := range p.r.Weigh.Pieces {
		l := font.Lines(p.entry(i), width-10)
		lines = append(lines, l)
		total += len(l)
	}
	x, top, used := 0.0, y, 0
	for _, l := range lines {
		if x == 0 && used > 0 && used*2 >= total {
			x, y = width+gap, top
		}
		for k, text := range l {
			indent := 0.0
			if k > 0 {
				indent = 10
			}
			p.Text(Point{x + indent, y + 8}, font, text)
			y += row
			used++
		}
		p.Height = math.Max(p.Height, y)
	}
	if missing := p.unrouted(); missing != "" {
		y = p.Height
		for _, text := range font.Lines(missing, PageWidth) {
			p.Text(Point{0, y + 8}, font, text)
			y += row
		}
		p.Height = y
	}
	p.Height += 2
}

// entry is a piece in the list below the plan, with the ballast that must be in it.
func (p *plan) entry(i int) string {
	piece := p.r.Weigh.Pieces[i]
	var lying []string
	for n, b := range p.r.Ballast.Rows {
		if b.Piece != piece.Name || piece.Kind != "column" && piece.Kind != "wall" {
			continue
		}
		text := units(b) + " in its " + b.Section
		if n+1 == len(p.r.Ballast.Rows) || p.r.Ballast.Rows[n+1].Piece != b.Piece || p.r.Ballast.Rows[n+1].Unit != b.Unit {
			text += " (" + b.Unit + ")"
		}
		lying = append(lying, text)
	}
	text := fmt.Sprintf("%d %s", i+1, piece.Name)
	if len(lying) > 0 {
		text += ": " + strings.Join(lying, ", ")
	}
	return text
}

// unrouted names the cords that the file gives no route for.
func (p *plan) unrouted() string {
	var names []string
	for i := range p.f.Cords {
		if len(p.f.Cords[i].Route) == 0 {
			names = append(names, p.f.Cords[i].Name.V)
		}
	}
	if len(names) == 0 {
		return ""
	}
	return "Not drawn, for want of a route in the file: cord " + strings.Join(names, ", ") + "."
}

func (p *plan) describe(ratio float64) {
	var names []string
	for i, piece := range p.r.Weigh.Pieces {
		names = append(names, fmt.Sprintf("%d %s, a %s at %s east and %s north", i+1, piece.Name, piece.Kind,
			quantity.Format(quantity.Length(piece.CentreM[0]), p.system), quantity.Format(quantity.Length(piece.CentreM[1]), p.system)))
	}
	p.Desc = fmt.Sprintf("The site from above at 1 : %.0f, north up. Pieces: %s.", ratio, strings.Join(names, "; "))
}
