package drawing

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"galefast/internal/quantity"
	"galefast/internal/site"
	"galefast/internal/verdict"
)

// Elevations draws each column and wall from the front, and from the side along the
// wind that governs its overturning: the resultant of the wind, the weight, the edge it
// tips about and the ballast. Pieces whose pictures are alike share one.
func Elevations(f *site.File, r *verdict.Report, system quantity.System) []*Scene {
	var pairs [][2]*Scene
	var names [][]string
	var drawn []string
	add := func(b *body) {
		for i := range f.Guys {
			if g := &f.Guys[i]; g.From.V == b.name {
				to := g.To.XY()
				b.ropes = append(b.ropes, [2][3]float64{{b.origin[0], b.origin[1], float64(g.Height.V)}, {to[0], to[1], 0}})
			}
		}
		front, side := b.draw(f, r, system)
		d := front.Inline("") + side.Inline("")
		if i := slices.Index(drawn, d); i >= 0 {
			names[i] = append(names[i], b.name)
			return
		}
		pairs, names, drawn = append(pairs, [2]*Scene{front, side}), append(names, []string{b.name}), append(drawn, d)
	}
	for i := range f.Columns {
		add(columnBody(f, r, system, &f.Columns[i]))
	}
	for i := range f.Walls {
		add(wallBody(f, r, system, &f.Walls[i]))
	}
	var list []*Scene
	for i, pair := range pairs {
		pair[0].Title = "Front of " + enumerate(names[i])
		pair[1].Title = "Side of " + enumerate(names[i])
		list = append(list, pair[:]...)
	}
	return list
}

// enumerate lists names in a sentence.
func enumerate(names []string) string {
	if len(names) < 2 {
		return strings.Join(names, "")
	}
	return strings.Join(names[:len(names)-1], ", ") + " and " + names[len(names)-1]
}

// body is a piece that stands by itself, with what hangs on it.
type body struct {
	name, facts string
	top         float64
	foot        [][2]float64
	origin      [2]float64
	face        [2]float64 // along the front view
	blocks      func(ajar bool) []block
	struts      [][2][3]float64
	hinges      [][3]float64
	ropes       [][2][3]float64
	weights     func(ajar bool) []weight
	bags        []verdict.BallastRow
	spans       []carried
}

// carried is a span that a column carries one end of: its middle, the way from there to
// the column, and its length.
type carried struct {
	name           string
	middle, toward [2]float64
	length         float64
}

// share is the part of the wind at a point of the span that the column takes, as of a
// beam on two supports.
func (c carried) share(at [3]float64) float64 {
	return 0.5 + ((at[0]-c.middle[0])*c.toward[0]+(at[1]-c.middle[1])*c.toward[1])/c.length
}

// block is an upright prism.
type block struct {
	name        string
	outline     [][2]float64
	bottom, top float64
	look        look
}

// closed is the state in which the leaves are shut; in others they stand open.
const closed = "closed"

// open is the state with the public inside, when a person may lean on a piece.
const open = "open"

type look int

const (
	bodyLook look = iota // a section, the face of a wall
	leafLook             // a leaf, seen through
	spanLook             // a part of what goes on to another piece
)

type weight struct {
	kg float64
	at [3]float64
}

// massOf is a piece of the record at its light end.
func massOf(r *verdict.Report, kind, name string) weight {
	for _, p := range r.Weigh.Pieces {
		if p.Kind == kind && p.Name == name {
			return weight{p.LightKg, p.CentreM}
		}
	}
	return weight{}
}

// lying is the ballast that the file has in a piece, at the places of the schedule.
func lying(f *site.File, name string, rows []verdict.BallastRow, at [2]float64) []weight {
	var list []weight
	for i := range f.Ballasts {
		b := &f.Ballasts[i]
		if b.In.V != name {
			continue
		}
		kg := float64(b.Mass.V)
		if row, ok := f.Catalog.Ballast.Find(b.Unit.V); ok && !b.Mass.Given {
			kg = float64(row.Mass)
		}
		w := weight{kg * float64(b.Count.V), [3]float64{at[0], at[1], 0}}
		for _, x := range rows {
			if x.Section == b.Section.V || x.Section == b.Place.V {
				w.at = x.AtM
			}
		}
		list = append(list, w)
	}
	return list
}

func bagsOf(r *verdict.Report, name string) []verdict.BallastRow {
	var list []verdict.BallastRow
	for _, x := range r.Ballast.Rows {
		if x.Piece == name {
			list = append(list, x)
		}
	}
	return list
}

func columnBody(f *site.File, r *verdict.Report, system quantity.System, c *site.Column) *body {
	origin := c.Center.XY()
	sin, cos := math.Sincos(float64(c.Turn.V))
	b := &body{name: c.Name.V, top: c.Top(), foot: c.FootOutline(), origin: origin, face: [2]float64{cos, sin}, bags: bagsOf(r, c.Name.V)}
	var gates []*site.Gate
	var leaves []site.Leaf
	for i := range f.Gates {
		if leaf, ok := f.Leaf(&f.Gates[i]); ok && f.Gates[i].HungOn.V == c.Name.V {
			gates, leaves = append(gates, &f.Gates[i]), append(leaves, leaf)
		}
	}
	if len(leaves) > 0 {
		sin, cos := math.Sincos(leaves[0].Closed)
		b.face = [2]float64{cos, sin}
	}
	angle := func(i int, ajar bool) float64 {
		if ajar {
			return float64(gates[i].Open.V)
		}
		return 0
	}
	b.blocks = func(ajar bool) []block {
		var list []block
		for i := range f.Spans {
			s := &f.Spans[i]
			for end, name := range s.Between {
				if name.V != c.Name.V {
					continue
				}
				_, turn := f.SpanLine(s)
				turn += math.Pi * float64(end)
				sin, cos := math.Sincos(turn)
				out := float64(s.Face[0].V) / 4
				list = append(list, block{"span", [][2]float64{origin, {origin[0] + out*cos, origin[1] + out*sin}},
					float64(s.Underside.V), float64(s.Underside.V + s.Face[1].V), spanLook})
			}
		}
		for k := range c.Sections {
			s := &c.Sections[k]
			list = append(list, block{s.Name.V, s.Outline(c), c.Bottom(k), c.Bottom(k) + float64(s.Height.V), bodyLook})
		}
		for i, g := range gates {
			sin, cos := math.Sincos(leaves[i].Direction(angle(i, ajar)))
			h, w := leaves[i].Hinge, float64(g.Width.V)
			list = append(list, block{"leaf", [][2]float64{h, {h[0] + w*cos, h[1] + w*sin}},
				float64(g.Clearance.V), float64(g.Clearance.V + g.Height.V), leafLook})
		}
		return list
	}
	b.weights = func(ajar bool) []weight {
		list := append(lying(f, c.Name.V, b.bags, origin), massOf(r, "column", c.Name.V))
		for i, g := range gates {
			w := massOf(r, "gate", g.Name.V)
			sin, cos := math.Sincos(leaves[i].Swing * angle(i, ajar))
			h := leaves[i].Hinge
			x, y := w.at[0]-h[0], w.at[1]-h[1]
			w.at[0], w.at[1] = h[0]+cos*x-sin*y, h[1]+sin*x+cos*y
			list = append(list, w)
		}
		for i := range f.Spans {
			for _, name := range f.Spans[i].Between {
				if name.V == c.Name.V {
					w := massOf(r, "span", f.Spans[i].Name.V)
					list = append(list, weight{w.kg / 2, [3]float64{origin[0], origin[1], w.at[2]}})
				}
			}
		}
		return list
	}
	for i := range f.Spans {
		s := &f.Spans[i]
		for end, name := range s.Between {
			if middle, turn := f.SpanLine(s); name.V == c.Name.V {
				sin, cos := math.Sincos(turn + math.Pi*float64(1-end))
				b.spans = append(b.spans, carried{s.Name.V, middle, [2]float64{cos, sin}, float64(s.Face[0].V)})
			}
		}
	}
	for k := range c.Sections {
		b.facts += fmt.Sprintf("%s %s, ", c.Sections[k].Name.V, widths(&c.Sections[k], system))
	}
	b.facts = strings.TrimSuffix(b.facts, ", ") + "."
	for i, g := range gates {
		b.facts += fmt.Sprintf(" Leaf: solidity %.2f", g.Solidity.V)
		if g.Hinge != nil && len(g.Hinge.Heights) > 0 {
			var heights []string
			for _, h := range g.Hinge.Heights {
				heights = append(heights, quantity.Format(h.V, system))
				b.hinges = append(b.hinges, [3]float64{leaves[i].Hinge[0], leaves[i].Hinge[1], float64(h.V)})
			}
			b.facts += fmt.Sprintf(", hinges at %s", enumerate(heights))
		}
		b.facts += "."
	}
	return b
}

// widths says how large a section is in plan.
func widths(s *site.Section, system quantity.System) string {
	w, d := s.Size()
	text := quantity.Format(quantity.Length(w), system)
	if d != w {
		text += " by " + quantity.Format(quantity.Length(d), system)
	}
	if s.Shape.V == "square" || s.Shape.V == "" {
		return text + " square"
	}
	return text + " " + s.Shape.V
}

func wallBody(f *site.File, r *verdict.Report, system quantity.System, w *site.Wall) *body {
	_, along, left, length := w.Frame()
	side := w.SideSign()
	b := &body{name: w.Name.V, top: float64(w.Height.V), foot: hull(w.Bearing()), origin: w.Middle(), face: along, bags: bagsOf(r, w.Name.V)}
	half := math.Max(float64(w.Thickness.V), 0.02) / 2
	corner := func(x, y float64) [2]float64 {
		return [2]float64{b.origin[0] + x*along[0] + y*left[0], b.origin[1] + x*along[1] + y*left[1]}
	}
	list := []block{{w.Name.V, [][2]float64{corner(-length/2, -half), corner(length/2, -half), corner(length/2, half), corner(-length/2, half)},
		float64(w.Underside.V), float64(w.Height.V), bodyLook}}
	if w.Return.Given {
		for _, x := range [2]float64{-length / 2, length / 2} {
			list = append(list, block{"return", [][2]float64{corner(x, 0), corner(x, side*float64(w.Return.V))}, float64(w.Underside.V), float64(w.Height.V), leafLook})
		}
	}
	list = append(list, block{"sill", w.SillOutline(), 0, 0.04, bodyLook})
	b.blocks = func(bool) []block { return list }
	if w.Braces != nil {
		n := float64(w.Braces.Count.V)
		for i, toe := range w.Toes() {
			head := corner(length*(float64(i)+0.5)/n-length/2, 0)
			b.struts = append(b.struts, [2][3]float64{{head[0], head[1], float64(w.Braces.Height.V)}, {toe[0], toe[1], 0}})
		}
		b.facts = fmt.Sprintf("%d braces from %s up, reaching %s. ", w.Braces.Count.V,
			quantity.Format(w.Braces.Height.V, system), quantity.Format(w.Braces.Reach.V, system))
	}
	b.facts += fmt.Sprintf("Solidity %.2f.", w.Solidity.V)
	b.weights = func(bool) []weight { return append(lying(f, w.Name.V, b.bags, b.origin), massOf(r, "wall", w.Name.V)) }
	return b
}

// push is the wind in the situation that governs a piece's overturning, across the
// edge that it tips about.
type push struct {
	newton, height float64
	speed          float64
	check          *verdict.Check
	across         [2]float64 // the way that it pushes
}

// governing finds the check that says most about how a piece stands in the wind: its
// overturning, else what else is computed of it, else of the pieces it stands with.
func governing(r *verdict.Report, piece string) *verdict.Check {
	for _, fits := range []func(c *verdict.Check) bool{
		func(c *verdict.Check) bool { return c.Subject == piece && strings.HasPrefix(c.What, overturning) },
		func(c *verdict.Check) bool { return c.Subject == piece },
		func(c *verdict.Check) bool { return strings.Contains(c.Subject, piece) },
	} {
		for i := range r.Checks {
			if c := &r.Checks[i]; c.Kind == verdict.Standing && c.FromDeg != nil && c.Has != nil && fits(c) {
				return c
			}
		}
	}
	return nil
}

// overturning begins the name of the check of tipping over an edge.
const overturning = "overturning"

// tips reports whether the push is that of a check of tipping over an edge of the foot.
func (p push) tips() bool { return strings.HasPrefix(p.check.What, overturning) }

// push finds the edge of the foot about which the wind of the governing situation tips
// the piece most easily.
func (b *body) push(r *verdict.Report) (best push, ok bool) {
	c := governing(r, b.name)
	if c == nil {
		return best, false
	}
	kg, center := together(b.weights(c.State != closed))
	least := math.Inf(1)
	outline := hull(b.foot)
	for i, p := range outline {
		q := outline[(i+1)%len(outline)]
		l := math.Hypot(q[0]-p[0], q[1]-p[1])
		n := [2]float64{(q[1] - p[1]) / l, (p[0] - q[0]) / l}
		force, moment, speed := b.windAcross(r, c, n)
		if l == 0 || force <= 0 || moment <= 0 {
			continue
		}
		arm := (p[0]-center[0])*n[0] + (p[1]-center[1])*n[1]
		if ratio := kg * arm / moment; ratio < least {
			least = ratio
			best, ok = push{force, moment / force, speed, c, n}, true
		}
	}
	return best, ok
}

// together is the sum of weights and their centre.
func together(list []weight) (kg float64, center [3]float64) {
	for _, w := range list {
		kg += w.kg
		for k := range center {
			center[k] += w.kg * w.at[k]
		}
	}
	for k := range center {
		if kg > 0 {
			center[k] /= kg
		}
	}
	return kg, center
}

// windAcross adds up the wind on the piece of a check in its situation, every surface
// in the case that turns it most in a direction, and of a span its share.
func (b *body) windAcross(r *verdict.Report, c *verdict.Check, n [2]float64) (force, moment, speed float64) {
	var rows []*verdict.WindRow
	of := func(x *verdict.WindRow) float64 {
		along := x.ForceN[0]*n[0] + x.ForceN[1]*n[1]
		for _, s := range b.spans {
			if s.name == x.Surface {
				along *= s.share(x.AtM)
			}
		}
		return along
	}
	for i := range r.Wind.Rows {
		x := &r.Wind.Rows[i]
		if x.Piece != b.name || x.State != c.State || math.Abs(x.FromDeg-*c.FromDeg) > 0.5 {
			continue
		}
		speed = x.SpeedMs
		k := slices.IndexFunc(rows, func(y *verdict.WindRow) bool { return y.Surface == x.Surface })
		switch {
		case k < 0:
			rows = append(rows, x)
		case of(x)*x.ArmM > of(rows[k])*rows[k].ArmM:
			rows[k] = x
		}
	}
	for _, x := range rows {
		force += of(x)
		moment += of(x) * x.ArmM
	}
	return force, moment, speed
}

// Sizes of an elevation on the page.
const (
	viewHead  = 16.0
	viewTall  = 140.0
	viewWidth = PageWidth/2 - 10
	viewRoom  = 150.0 // beside a piece, for dimensions and arrows
)

// view is one side of a body on the page.
type view struct {
	*Scene
	system quantity.System
	k      float64 // points per metre
	middle float64 // of the piece's origin
	ground float64
	origin [2]float64
	along  [2]float64
	names  labels
}

// draw makes the front and the side of a body, to one scale.
func (b *body) draw(f *site.File, r *verdict.Report, system quantity.System) (front, side *Scene) {
	load, ok := b.push(r)
	across := [2]float64{-b.face[1], b.face[0]}
	ajar := false
	if ok {
		across, ajar = load.across, load.check.State != closed
	}
	shut, swung := b.blocks(false), b.blocks(ajar)
	top := b.top
	for _, x := range shut {
		top = math.Max(top, x.top)
	}
	k := viewTall / top
	for _, v := range []struct {
		blocks []block
		along  [2]float64
	}{{shut, b.face}, {swung, across}} {
		lo, hi := b.extent(v.blocks, v.along)
		k = math.Min(k, (viewWidth-viewRoom)/math.Max(hi-lo, 1e-3))
	}
	ground := viewHead + top*k + 8
	v := b.view(f, system, k, ground, "", shut, b.face)
	v.levels(b, shut)
	v.widths(b, f, shut)
	v.Desc = fmt.Sprintf("%s high: %s", v.length(b.top), b.facts)
	v.Height = v.write(ground+44, v.Desc)
	front = v.Scene

	v = b.view(f, system, k, ground, b.sideTitle(load, ok), swung, across)
	kg, center := together(b.weights(ajar))
	v.Height = v.load(b, f, load, ok, kg, center, swung)
	return front, v.Scene
}

func (b *body) sideTitle(load push, ok bool) string {
	if !ok {
		return ""
	}
	return fmt.Sprintf("state %s, wind from %s on the left", load.check.State, verdict.Bearing(load.check.FromDeg))
}

// extent is that of everything along a direction from the body's origin.
func (b *body) extent(blocks []block, along [2]float64) (lo, hi float64) {
	lo, hi = project(b.foot, b.origin, along)
	for _, x := range blocks {
		l, h := project(x.outline, b.origin, along)
		lo, hi = math.Min(lo, l), math.Max(hi, h)
	}
	return lo, hi
}

func (v *view) at(u, z float64) Point { return Point{v.middle + u*v.k, v.ground - z*v.k} }

func (v *view) on(p [3]float64) Point {
	return v.at((p[0]-v.origin[0])*v.along[0]+(p[1]-v.origin[1])*v.along[1], p[2])
}

func (v *view) length(m float64) string { return quantity.Format(quantity.Length(m), v.system) }

// view draws the piece, its ballast and its names.
func (b *body) view(f *site.File, system quantity.System, k, ground float64, title string, blocks []block, along [2]float64) *view {
	s := &Scene{Width: viewWidth}
	v := &view{Scene: s, system: system, k: k, ground: ground, origin: b.origin, along: along}
	v.names.area = Box{0, viewHead - 4, viewWidth, ground - viewHead + 3}
	lo, hi := b.extent(blocks, along)
	v.middle = viewWidth/2 - (lo+hi)/2*k
	s.Text(Point{0, 9}, Font{Size: small, Ink: Black}, title)
	s.Line(strong, Point{0, ground}, Point{viewWidth, ground})
	for x := 4.0; x < viewWidth; x += 7 {
		s.Line(hair, Point{x, ground}, Point{x - 4, ground + 4})
	}
	for _, x := range blocks {
		lo, hi := project(x.outline, b.origin, along)
		p, q := v.at(lo, x.top), v.at(hi, x.bottom)
		box := Box{p.X, p.Y, q.X - p.X, q.Y - p.Y}
		if box.W < 1.8 { // seen edge on
			box.X, box.W = box.X-(1.8-box.W)/2, 1.8
		}
		switch x.look {
		case bodyLook:
			s.Box(Wash, fine, box)
		case leafLook:
			s.Box(None, fine, box)
			s.Hatch(hair, 6, 60, box.corners()...)
		case spanLook:
			s.Box(None, Pen{Ink: Black, Width: 0.8, Dash: Dashed}, box)
		}
		v.names.avoidOutline(box.corners()...)
	}
	for _, x := range b.struts {
		p, q := v.on(x[0]), v.on(x[1])
		s.Line(fine, p, q)
		s.Circle(Paper, fine, q, 2)
		v.names.avoid(p, q)
	}
	for _, x := range b.ropes { // as far as the view goes
		if p, q, ok := clip(Box{0, 0, viewWidth, ground}, v.on(x[0]), v.on(x[1])); ok {
			s.Line(Pen{Ink: Black, Width: 0.8, Dash: DashDot}, p, q)
			v.names.avoid(p, q)
		}
	}
	for _, h := range b.hinges {
		s.Circle(Black, Pen{}, v.on(h), 1.8)
	}
	flo, fhi := project(b.foot, b.origin, along)
	s.Line(Pen{Ink: Black, Width: 2.6}, v.at(flo, 0), v.at(fhi, 0))
	for _, x := range b.bags {
		for _, xy := range spots(f, x) {
			p := v.on([3]float64{xy[0], xy[1], x.AtM[2]})
			box := Box{p.X - 9, p.Y - 9, 18, 8}
			s.Box(Paper, fine, box)
			s.Hatch(Pen{Ink: Black, Width: 0.6}, 2.4, 45, box.corners()...)
			v.names.taken = append(v.names.taken, box)
		}
	}
	return v
}

// named writes the names of blocks and the counts of ballast, once all lines are drawn.
func (v *view) named(b *body, blocks []block) {
	for _, x := range blocks {
		lo, hi := project(x.outline, b.origin, v.along)
		if x.name != "sill" && x.name != "return" {
			v.label(&v.names, v.at((lo+hi)/2, (x.bottom+x.top)/2), Font{Size: small, Ink: Black}, x.name)
		}
	}
}

func (v *view) counts(b *body, f *site.File) {
	for _, x := range b.bags {
		places := spots(f, x)
		if len(places) == 0 {
			continue
		}
		at := v.on([3]float64{places[0][0], places[0][1], x.AtM[2]})
		v.label(&v.names, at.plus(Point{0, -5}), Font{Size: small, Bold: true, Ink: Black}, there(x, len(places)), inAll(x, len(places)))
	}
}

// there is a row of the schedule in brief, with what lies there now.
func there(x verdict.BallastRow, spots int) string {
	if x.Count == nil {
		return units(x)
	}
	return fmt.Sprintf("%s (%d there)", inAll(x, spots), x.InPlace)
}

// levels measures heights on the left: of each block of the body, and of the whole.
func (v *view) levels(b *body, blocks []block) {
	lo, _ := b.extent(blocks, v.along)
	zs := []float64{0}
	for _, x := range blocks {
		if x.look == bodyLook && x.name != "sill" {
			zs = append(zs, x.bottom, x.top)
		}
	}
	slices.Sort(zs)
	top := zs[len(zs)-1]
	list := []float64{0}
	for _, z := range zs { // apart enough for a line of text each
		if (z-list[len(list)-1])*v.k > 9 && (top-z)*v.k > 9 {
			list = append(list, z)
		}
	}
	list = append(list, top)
	x := v.at(lo, 0).X
	aside := 12.0
	dimension := func(from, to, aside float64) Box {
		room := v.Dimension(Point{x, v.at(0, from).Y}, Point{x, v.at(0, to).Y}, aside, v.length(to-from))
		v.names.taken = append(v.names.taken, room)
		return room
	}
	if len(list) > 2 {
		for i := 0; i+1 < len(list); i++ {
			room := dimension(list[i], list[i+1], 12)
			aside = math.Max(aside, x-room.X+6)
		}
	}
	if long := (Font{Size: small}).width(v.length(top)) + 6; len(list) == 2 || top*v.k >= long { // the words have it, too
		dimension(0, top, aside)
	}
}

// widths measures along the ground: the foot, then leaves or the face, and the whole.
func (v *view) widths(b *body, f *site.File, blocks []block) {
	lo, hi := project(b.foot, b.origin, v.along)
	v.Dimension(v.at(lo, 0), v.at(hi, 0), -16, v.length(hi-lo))
	row := -32.0
	for _, x := range blocks {
		if x.look != leafLook || x.name == "return" {
			continue
		}
		l, h := project(x.outline, b.origin, v.along)
		if (h-l)*v.k > 12 {
			v.Dimension(v.at(l, 0), v.at(h, 0), row, v.length(h-l))
		}
	}
	v.named(b, blocks)
	v.counts(b, f)
}

// write puts a paragraph below a view and returns where the next line goes.
func (v *view) write(y float64, text string) float64 {
	font := Font{Size: small, Ink: Black}
	for _, line := range font.Lines(text, viewWidth) {
		v.Text(Point{0, y}, font, line)
		y += 10
	}
	return y
}

// faceAt is where a force along the view meets the piece at a height.
func (b *body) faceAt(blocks []block, along [2]float64, z float64) float64 {
	face := math.Inf(1)
	for _, x := range blocks {
		if lo, _ := project(x.outline, b.origin, along); x.look != spanLook && x.bottom <= z && z <= x.top {
			face = math.Min(face, lo)
		}
	}
	if math.IsInf(face, 1) {
		face, _ = b.extent(blocks, along)
	}
	return face
}

// lean draws the push of a person who leans, in the state in which people are inside.
func (v *view) lean(b *body, p push, f *site.File, blocks []block) {
	if l := f.Require.Lean; p.check.State == open && l.Force.V > 0 {
		z := math.Min(float64(l.Height.V), b.top)
		at := v.at(b.faceAt(blocks, v.along, z), z)
		pen := Pen{Ink: Black, Width: 1.4}
		v.Arrow(pen, at.plus(Point{-24, 0}), at.plus(Point{-1, 0}))
		v.names.avoid(at.plus(Point{-24, 0}), at)
		v.label(&v.names, at.plus(Point{-24, 0}), Font{Size: small, Bold: true, Ink: Black}, "lean "+quantity.Format(l.Force.V, v.system))
	}
}

func (v *view) leaning(b *body, p push, f *site.File) string {
	if l := f.Require.Lean; p.check.State == open && l.Force.V > 0 {
		return fmt.Sprintf("A person leans with %s at %s.", quantity.Format(l.Force.V, v.system), v.length(math.Min(float64(l.Height.V), b.top)))
	}
	return ""
}

// load draws the wind, the weight and the edge on the side view, and writes what the
// check says. It returns where the view ends.
func (v *view) load(b *body, f *site.File, p push, ok bool, kg float64, center [3]float64, blocks []block) float64 {
	lo, _ := b.extent(blocks, v.along)
	_, edge := project(b.foot, b.origin, v.along)
	lines := []string{fmt.Sprintf("Weight %s at the light end, with the ballast that is there.", quantity.Format(quantity.Mass(kg).Weight(), v.system))}
	if !ok {
		v.counts(b, f)
		lines = append(lines, "No overturning in wind is computed for this piece by itself.")
	} else {
		tip := v.at(edge, 0)
		if p.tips() {
			v.Outline(Black, Pen{}, tip.plus(Point{0, 1}), tip.plus(Point{4.5, 9}), tip.plus(Point{-4.5, 9}))
		}
		at := v.at(b.faceAt(blocks, v.along, p.height), p.height)
		from := at.plus(Point{-40, 0})
		force := quantity.Format(quantity.Force(p.newton), v.system)
		v.names.taken = append(v.names.taken, v.Dimension(v.at(lo, 0).plus(Point{-10, 0}), v.at(lo, p.height).plus(Point{-10, 0}), 0, v.length(p.height)))
		v.Arrow(wind, from, at.plus(Point{-1, 0}))
		v.names.avoid(from, at)
		v.lean(b, p, f, blocks)
		v.label(&v.names, between(from, at, 0.3), Font{Size: normal, Bold: true, Ink: Accent}, "wind "+force)
		mass := v.on(center)
		v.Arrow(strong, mass, Point{mass.X, v.ground - 1})
		v.Circle(Black, Pen{}, mass, 2.2)
		if arm := edge - (mass.X-v.middle)/v.k; arm*v.k > 3 && p.tips() {
			v.Dimension(Point{mass.X, v.ground}, Point{tip.X, v.ground}, -18, v.length(arm))
		}
		v.names.avoid(mass, Point{mass.X, v.ground})
		v.counts(b, f)
		needs, has := p.check.Figures()
		lines = append(lines, fmt.Sprintf("Wind %s at %s; gust %s, state %s.", force, v.length(p.height), quantity.Format(quantity.Speed(p.speed), v.system), p.check.State))
		switch {
		case p.tips() && p.check.Result == verdict.Holds:
			lines = append(lines, fmt.Sprintf("What would come first: it %s (black triangle).", p.check.Mechanism))
		case p.tips():
			lines = append(lines, fmt.Sprintf("It %s (black triangle).", p.check.Mechanism))
		case p.check.Result == verdict.Holds:
			lines = append(lines, fmt.Sprintf("%s, %s; what would come first: %s.", p.check.Subject, p.check.What, p.check.Mechanism))
		default:
			lines = append(lines, fmt.Sprintf("%s, %s: %s.", p.check.Subject, p.check.What, p.check.Mechanism))
		}
		lines = append(lines,
			v.leaning(b, p, f),
			fmt.Sprintf("Factor: needs %s %s, has %s: %s.", p.check.Sense, needs, has, p.check.Result))
	}
	y := v.ground + 44
	for _, text := range lines {
		y = v.write(y, text)
	}
	v.Desc = strings.Join(lines, " ")
	return y
}
