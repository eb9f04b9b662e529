package check

import (
	"math"
	"slices"

	"galefast/internal/site"
	"galefast/internal/takeoff"
	"galefast/statics"
	"galefast/wind"
)

// lone is one body that stands by itself: a column with the leaves hung on it and
// its share of the spans, a wall, or what stands above a joint without bolts.
type lone struct {
	name     string // as in check ids: "west pier", "west pier, pillar"
	piece    string // the column, wall or span that it is, or is a part of
	at       site.Place
	foot     [][2]float64
	base     float64 // height of the foot above the ground, m
	friction float64
	sole     float64 // m2, area that bears on the ground
	yields   float64 // Pa, pressure that soft ground bears; 0 where the ground is hard or not known
	rubs     string  // what the friction stands for
	source   string  // where the friction is from
	rubsAt   string  // where it is described

	dead     []deadMass
	surfaces []wind.Surface
	returns  []wind.Surface // of a wall
	leaves   []leafOn
	spans    []spanOn

	places map[string]site.Place // where each mass and surface is described

	leanAt  [][2]float64 // where a person can push, in plan
	top     float64      // m
	slots   []slot
	ballast []int // index in the file's ballast of what lies in it
	whole   bool  // a piece on the ground, not the upper part of a column

	ready map[float64]footing // of the body by itself, by align
	blown map[acting][][]blow // winds at the gusts of its setups, while it is checked
}

// deadMass is a mass at a point, with its two ends, kg and m.
type deadMass struct {
	name         string
	light, heavy float64
	at           statics.Vec
}

func massAt(name string, m takeoff.Mass) deadMass {
	return deadMass{name: name, light: m.Light, heavy: m.Heavy, at: m.Center}
}

// leafOn is a gate leaf hung on the body.
type leafOn struct {
	gate *site.Gate
	leaf site.Leaf
	mass takeoff.Mass
}

// spanOn is the end of a span that the body carries.
type spanOn struct {
	name    string
	surface wind.Surface
	first   bool       // the body is the span's first column
	end     [2]float64 // where that end rests, in plan
	mass    takeoff.Mass
}

// Places for ballast on a wall: spread along its base, over the toes of its braces, or
// over the far ends of its returns.
const (
	slotBase    = "base"
	slotToes    = "toes"
	slotReturns = "returns"
)

// slot is a place for ballast, at the middle of what lies there.
type slot struct {
	name string // section of a column, or place on a wall
	at   statics.Vec
}

// bodies lists every body of the site, pieces before the upper parts of columns.
func (j *job) bodies() []*lone {
	var list []*lone
	for i := range j.f.Columns {
		list = append(list, j.column(i))
	}
	for i := range j.f.Walls {
		list = append(list, j.wall(i))
	}
	for i := range j.f.Columns {
		list = append(list, j.seated(i)...)
	}
	return list
}

func (j *job) column(i int) *lone {
	return j.columnPart(i, 0, len(j.f.Columns[i].Sections))
}

// columnPart is the sections of a column from one up to another: on the ground, or
// merely seated on the section below.
func (j *job) columnPart(i, from, to int) *lone {
	c := &j.f.Columns[i]
	b := &lone{
		name: c.Name.V, piece: c.Name.V, at: c.Name.At, top: c.Bottom(to), leanAt: [][2]float64{c.Center.XY()},
	}
	if from == 0 {
		b.foot, b.sole, b.whole = c.FootOutline(), float64(c.Foot[0].V*c.Foot[1].V), to == len(c.Sections)
		j.onGround(b)
	} else {
		s := &c.Sections[from]
		outline := s.Outline(c)
		uw, ud := s.Size()
		lw, ld := c.Sections[from-1].Size()
		if lw*ld < uw*ud {
			outline = c.Sections[from-1].Outline(c)
		}
		rub, _ := site.DefaultOf("friction.seated")
		b.name, b.at, b.foot, b.base = c.Name.V+", "+s.Name.V, s.Name.At, outline, c.Bottom(from)
		b.friction, b.rubs, b.source = number(rub.Value), "wood on wood, section merely seated", rub.Source
	}
	j.stack(b, i, from, to)
	return b
}

// stack puts the sections from one up to another on a body, with what hangs on them.
func (j *job) stack(b *lone, column, from, to int) {
	c := &j.f.Columns[column]
	least := math.Inf(1)
	for k := range c.Sections {
		w, d := c.Sections[k].Size()
		least = math.Min(least, math.Min(w, d))
	}
	// What hangs above the top of the column hangs on its uppermost part.
	within := func(z float64) bool { return z >= b.base && (z < b.top || to == len(c.Sections)) }
	for k := from; k < to; k++ {
		s := &c.Sections[k]
		b.describe(s.Name)
		b.dead = append(b.dead, massAt(s.Name.V, j.masses.Columns[column].Sections[k].Mass))
		b.surfaces = append(b.surfaces, sectionSurface(c, k, least))
		at := c.Center.XY()
		b.slots = append(b.slots, slot{s.Name.V, statics.Vec{at[0], at[1], c.Bottom(k)}})
	}
	for _, n := range j.f.BallastIn(c.Name.V) {
		e := &j.f.Ballasts[n]
		if _, here := b.slotOf(e); here && (e.Section.Given || from == 0) {
			b.ballast = append(b.ballast, n)
		}
	}
	for _, g := range j.f.GatesOn(c.Name.V) {
		gate := &j.f.Gates[g]
		leaf, ok := j.f.Leaf(gate)
		if middle := float64(gate.Clearance.V + gate.Height.V/2); ok && within(middle) {
			b.describe(gate.Name)
			b.leaves = append(b.leaves, leafOn{gate, leaf, j.masses.Gates[g].Mass})
		}
	}
	for n := range j.f.Spans {
		s := &j.f.Spans[n]
		if j.holds(s.Fixing) {
			continue // a body of its own
		}
		for end, w := range s.Between {
			if w.V == c.Name.V && within(float64(s.Underside.V+s.Face[1].V/2)) {
				b.describe(s.Name)
				b.spans = append(b.spans, j.spanEnd(n, end == 0, c))
			}
		}
	}
}

// describe remembers where a mass or surface stands in the file.
func (b *lone) describe(name site.Word) {
	if b.places == nil {
		b.places = map[string]site.Place{}
	}
	b.places[name.V] = name.At
}

// place is where a force of the body is described; empty when it is nowhere.
func (b *lone) place(name string) string {
	if at, ok := b.places[name]; ok {
		return at.String()
	}
	return ""
}

// spanEnd is one end of a span on a column. It rests on the face of the top section
// that looks along the span, where its weight burdens the column most.
func (j *job) spanEnd(n int, first bool, c *site.Column) spanOn {
	s := &j.f.Spans[n]
	middle, turn := j.f.SpanLine(s)
	length, height := float64(s.Face[0].V), float64(s.Face[1].V)
	bottom := float64(s.Underside.V)
	towards := turn
	if !first {
		towards += math.Pi
	}
	w, d := c.Sections[len(c.Sections)-1].Size()
	reach := math.Min(w, d) / 2
	sin, cos := math.Sincos(towards)
	at := c.Center.XY()
	return spanOn{
		name: s.Name.V, first: first, mass: j.masses.Spans[n].Mass,
		end: [2]float64{at[0] + reach*cos, at[1] + reach*sin},
		surface: wind.Surface{Name: s.Name.V, Shape: wind.Panel, X: middle[0], Y: middle[1], Bottom: bottom, Top: bottom + height,
			Width: length, Turn: turn, Solidity: s.Solidity.V},
	}
}

// leafSurface is a leaf swung by angle, rad.
func leafSurface(l *leafOn, angle float64) wind.Surface {
	dir := l.leaf.Direction(angle)
	s, c := math.Sincos(dir)
	half := float64(l.gate.Width.V) / 2
	bottom := float64(l.gate.Clearance.V)
	return wind.Surface{
		Name: l.gate.Name.V, Shape: wind.Panel, X: l.leaf.Hinge[0] + half*c, Y: l.leaf.Hinge[1] + half*s,
		Bottom: bottom, Top: bottom + float64(l.gate.Height.V), Width: float64(l.gate.Width.V), Turn: dir,
		Solidity: l.gate.Solidity.V, RoundMembers: l.gate.RoundMembers.V,
	}
}

// swung is the point of the leaf's own mass when swung by angle. The mass centre was
// weighed with the leaf closed.
func (l *leafOn) swung(angle float64) statics.Vec {
	s, c := math.Sincos(l.leaf.Swing * angle)
	x, y := l.mass.Center[0]-l.leaf.Hinge[0], l.mass.Center[1]-l.leaf.Hinge[1]
	return statics.Vec{l.leaf.Hinge[0] + c*x - s*y, l.leaf.Hinge[1] + s*x + c*y, l.mass.Center[2]}
}

func (j *job) wall(i int) *lone {
	w := &j.f.Walls[i]
	from, along, _, length := w.Frame()
	middle := w.Middle()
	b := &lone{
		name: w.Name.V, piece: w.Name.V, at: w.Name.At, foot: w.Bearing(), top: float64(w.Height.V), whole: true,
		leanAt: [][2]float64{middle, from, {from[0] + along[0]*length, from[1] + along[1]*length}}, sole: length * w.SillWidth(),
	}
	j.onGround(b)
	b.describe(w.Name)
	b.dead = append(b.dead, massAt(w.Name.V, j.masses.Walls[i].Mass))
	surface := wind.Surface{
		Name: w.Name.V, Shape: wind.Panel, X: middle[0], Y: middle[1], Bottom: float64(w.Underside.V), Top: float64(w.Height.V),
		Width: length, Turn: w.Turn(), Solidity: w.Solidity.V,
	}
	if lo, hi := j.run(i); hi-lo > length+touching {
		surface.WallLength, surface.WallOffset = hi-lo, length/2-(lo+hi)/2
	}
	if w.Return.Given {
		surface.Return = [2]float64{float64(w.Return.V), float64(w.Return.V)}
		for n, x := range [2]float64{0, length} {
			m := w.PointAt(x, float64(w.Return.V)/2)
			name := w.Name
			name.V += [2]string{", first return", ", second return"}[n]
			b.describe(name)
			b.returns = append(b.returns, wind.Surface{
				Name: name.V, Shape: wind.Panel, X: m[0], Y: m[1], Bottom: float64(w.Underside.V), Top: float64(w.Height.V),
				Width: float64(w.Return.V), Turn: w.Turn() + math.Pi/2, Solidity: w.Solidity.V,
			})
		}
	}
	b.surfaces = append(b.surfaces, surface)
	b.slots = append(b.slots, slot{slotBase, statics.Vec{middle[0], middle[1], 0}})
	switch {
	case w.Braces != nil:
		toe := w.PointAt(length/2, float64(w.Braces.Reach.V))
		b.slots = append(b.slots, slot{slotToes, statics.Vec{toe[0], toe[1], 0}})
	case w.Return.Given:
		end := w.PointAt(length/2, float64(w.Return.V))
		b.slots = append(b.slots, slot{slotReturns, statics.Vec{end[0], end[1], 0}})
	}
	b.ballast = slices.Clone(j.f.BallastIn(w.Name.V))
	return b
}

// touching is how far the ends of two walls may be apart to count as one wall, m.
const touching = 0.05

// run is the extent of the straight wall that wall i is a part of, along its own line
// from its first end, m: itself and every wall of its height that is joined to the run,
// lies in its line and touches it. The wind sees one long wall.
func (j *job) run(i int) (lo, hi float64) {
	from, along, left, length := j.f.Walls[i].Frame()
	hi = length
	in := []int{i}
	for grew := true; grew; {
		grew = false
		for k := range j.f.Walls {
			w := &j.f.Walls[k]
			if w.Height.V != j.f.Walls[i].Height.V || w.Underside.V != j.f.Walls[i].Underside.V {
				continue
			}
			a, b := along2(w.From.XY(), from, along), along2(w.To.XY(), from, along)
			aside := math.Max(math.Abs(along2(w.From.XY(), from, left)), math.Abs(along2(w.To.XY(), from, left)))
			start, end := math.Min(a, b), math.Max(a, b)
			if aside < touching && start < hi+touching && end > lo-touching && !slices.Contains(in, k) && j.joined(k, in) {
				lo, hi = math.Min(lo, start), math.Max(hi, end)
				in, grew = append(in, k), true
			}
		}
	}
	return lo, hi
}

// along2 is the coordinate of a point along a unit vector from an origin.
func along2(p, from, unit [2]float64) float64 {
	return (p[0]-from[0])*unit[0] + (p[1]-from[1])*unit[1]
}

// joined reports whether wall k is declared joined to one of several walls, on either side.
func (j *job) joined(k int, walls []int) bool {
	names := func(a, b int) bool {
		return slices.ContainsFunc(j.f.Walls[a].Joined, func(w site.Word) bool { return w.V == j.f.Walls[b].Name.V })
	}
	return slices.ContainsFunc(walls, func(n int) bool { return names(k, n) || names(n, k) })
}

// seated lists what stands above each joint without bolts of a column: it can tip and
// slide on the section below.
func (j *job) seated(i int) []*lone {
	c := &j.f.Columns[i]
	var list []*lone
	for k := 1; k < len(c.Sections); k++ {
		if c.Sections[k].Joint == nil {
			list = append(list, j.columnPart(i, k, len(c.Sections)))
		}
	}
	return list
}
