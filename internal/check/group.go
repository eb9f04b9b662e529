package check

import (
	"fmt"
	"math"
	"slices"
	"sort"
	"strings"

	"galefast/internal/quantity"
	"galefast/internal/site"
	"galefast/statics"
	"galefast/wind"
)

// group is bodies that stand or fall together: pieces that are fastened to each other,
// held by guys, or columns of sections that are merely seated on one another.
type group struct {
	name    string
	at      site.Place
	members []*lone // pieces, the upper parts of columns, and spans, which have no foot
	system  statics.Group
	fixings []*site.Fixing // that each link is of
	seated  bool           // one column by itself: its parts have hand checks too

	ways  []*statics.Collapse // to fall, found so far: hints where to look
	found int                 // ways found in all
	prepared
}

// acting says what actions depend on.
type acting struct {
	start   // without combination and body
	climate *climate
	gust    float64
}

// standsIn is a state of a site.
type standsIn struct {
	state  state
	people bool
}

// prepared is what was worked out for a group, so that it need not be again.
type prepared struct {
	ready map[float64]standingOn // by the corner of the friction pyramid, where the ground is hard
	tried map[start]bool

	acts   map[acting]*actions // without ballast
	worsts map[standsIn]fall   // of each state at its own gust
	laid   []float64           // the ballast that worsts are for, kg
}

// prepare forgets what was worked out, some megabytes.
func (g *group) prepare() {
	g.prepared = prepared{ready: map[float64]standingOn{}, tried: map[start]bool{}, acts: map[acting]*actions{}}
}

// standingOn is a group on its ground, ready to be solved.
type standingOn struct {
	analysis *statics.Analysis
	system   *statics.Group
}

// piece is a column or wall on its way into a group.
type piece struct {
	column, wall int // index in the file; -1 for the other kind
	name         site.Word
	group        int // index of the piece that leads its group
}

// groups finds the bodies that stand together, and the names of the pieces in them.
// What is joined without a word about its fastenings stays by itself.
func (j *job) groups() (list []*group, grouped map[string]bool) {
	var pieces []piece
	index := map[string]int{}
	add := func(column, wall int, name site.Word) {
		index[name.V] = len(pieces)
		pieces = append(pieces, piece{column, wall, name, len(pieces)})
	}
	for i := range j.f.Columns {
		add(i, -1, j.f.Columns[i].Name)
	}
	for i := range j.f.Walls {
		add(-1, i, j.f.Walls[i].Name)
	}
	join := func(a, b int) {
		from, to := pieces[a].group, pieces[b].group
		for i := range pieces {
			if pieces[i].group == from {
				pieces[i].group = to
			}
		}
	}
	held := make([]bool, len(pieces)) // fastened to something or held by a guy
	for i := range j.f.Walls {
		w := &j.f.Walls[i]
		if !j.holds(w.Fixing) {
			continue
		}
		for _, other := range w.Joined {
			a, b := index[w.Name.V], index[other.V]
			join(a, b)
			held[a], held[b] = true, true
		}
	}
	for i := range j.f.Spans {
		if s := &j.f.Spans[i]; j.holds(s.Fixing) {
			a, b := index[s.Between[0].V], index[s.Between[1].V]
			join(a, b)
			held[a], held[b] = true, true
		}
	}
	for i := range j.f.Guys {
		if _, ok := j.guyLimit(&j.f.Guys[i]); ok {
			held[index[j.f.Guys[i].From.V]] = true
		}
	}
	grouped = map[string]bool{}
	for lead := range pieces {
		var own []piece
		joined := false
		for i, p := range pieces {
			if p.group == lead {
				own = append(own, p)
				joined = joined || held[i]
			}
		}
		if len(own) == 0 {
			continue
		}
		g := j.assemble(own)
		if !joined && len(g.members) == 1 {
			continue
		}
		g.seated = !joined
		for _, p := range own {
			grouped[p.name.V] = joined
		}
		list = append(list, g)
	}
	return list, grouped
}

// assemble makes the group of some pieces, in the order of their places, so that
// neither names nor the order of the file change an answer.
func (j *job) assemble(own []piece) *group {
	middle := func(p piece) [2]float64 {
		if p.column >= 0 {
			return j.f.Columns[p.column].Center.XY()
		}
		return j.f.Walls[p.wall].Middle()
	}
	sort.SliceStable(own, func(a, b int) bool {
		p, q := middle(own[a]), middle(own[b])
		return p[0] < q[0] || p[0] == q[0] && p[1] < q[1]
	})
	g := &group{}
	g.prepare()
	first := map[string]int{} // the lowest member of each piece
	for _, p := range own {
		first[p.name.V] = len(g.members)
		if p.column < 0 {
			g.members = append(g.members, j.wall(p.wall))
			continue
		}
		c := &j.f.Columns[p.column]
		var starts []int
		for k := range c.Sections {
			if k == 0 || c.Sections[k].Joint == nil {
				starts = append(starts, k)
			}
		}
		for n, from := range starts {
			to := len(c.Sections)
			if n+1 < len(starts) {
				to = starts[n+1]
			}
			b := j.columnPart(p.column, from, to)
			if from > 0 {
				below := len(g.members) - 1
				g.system.Contacts = append(g.system.Contacts, statics.Contact{
					Name: b.name, Of: len(g.members), On: below, Points: corners(b.foot, b.base), Friction: b.friction,
				})
			}
			g.members = append(g.members, b)
		}
	}
	at := func(name string, z float64) int {
		m := first[name]
		for m+1 < len(g.members) && g.members[m+1].piece == name && g.members[m+1].base <= z {
			m++
		}
		return m
	}
	for i := range j.f.Walls {
		w := &j.f.Walls[i]
		if _, in := first[w.Name.V]; !in || !j.holds(w.Fixing) {
			continue
		}
		for _, other := range w.Joined {
			place, axis := j.meeting(w, other.V)
			for _, h := range w.Fixing.Heights {
				z := float64(h.V)
				j.fasten(g, w.Fixing, fmt.Sprintf("%s to %s at %s", w.Name.V, other.V, quantity.Format(h.V, j.f.System())),
					at(w.Name.V, z), at(other.V, z), statics.Vec{place[0], place[1], z}, axis)
			}
		}
	}
	for i := range j.f.Spans {
		s := &j.f.Spans[i]
		if !j.holds(s.Fixing) {
			continue
		}
		if _, in := first[s.Between[0].V]; !in {
			continue
		}
		g.members = append(g.members, j.span(i))
		for end := range s.Between {
			c := j.f.Column(s.Between[end].V)
			on := j.spanEnd(i, end == 0, c)
			sin, cos := math.Sincos(on.surface.Turn)
			for _, h := range s.Fixing.Heights {
				z := float64(h.V)
				j.fasten(g, s.Fixing, fmt.Sprintf("%s to %s at %s", s.Name.V, c.Name.V, quantity.Format(h.V, j.f.System())),
					len(g.members)-1, at(c.Name.V, z), statics.Vec{on.end[0], on.end[1], z}, statics.Vec{cos, sin, 0})
			}
		}
	}
	for i := range j.f.Guys {
		y := &j.f.Guys[i]
		limit, ok := j.guyLimit(y)
		if _, in := first[y.From.V]; !in || !ok {
			continue
		}
		z := float64(y.Height.V)
		to := y.To.XY()
		from := j.guyFrom(y)
		g.system.Guys = append(g.system.Guys, statics.Guy{
			Name: fmt.Sprint(i + 1), Of: at(y.From.V, z), At: statics.Vec{from[0], from[1], z}, To: statics.Vec{to[0], to[1], 0}, Limit: limit,
		})
	}
	for _, b := range g.members {
		name := b.name
		if part, upper := strings.CutPrefix(name, b.piece+", "); upper {
			name = part + " of " + b.piece
		}
		g.system.Blocks = append(g.system.Blocks, statics.Block{Name: name, Centre: b.centre(), Foot: b.foot})
	}
	g.at = g.members[0].at
	g.name = g.called(own)
	return g
}

// fasten ties two members at a point. Along the axis its fasteners pull out, across it they
// shear, and less of each when they come together.
func (j *job) fasten(g *group, f *site.Fixing, name string, a, b int, at, axis statics.Vec) {
	hold := j.graspOf(f)
	g.system.Links = append(g.system.Links, statics.Link{Name: name, A: a, B: b, At: at, Axis: axis, Pull: hold.pull, Push: hold.push(), Shear: hold.shear})
	g.fixings = append(g.fixings, f)
}

// called names a group by its pieces.
func (g *group) called(own []piece) string {
	names := make([]string, len(own))
	for i, p := range own {
		names[i] = p.name.V
	}
	if n := len(names); n > 2 {
		return fmt.Sprintf("%s and %d more", names[0], n-1)
	}
	return strings.Join(names, " + ")
}

// corners are the points of an outline at a height that stand out. What presses or rubs between them presses
// and rubs at them alike.
func corners(outline [][2]float64, z float64) []statics.Vec {
	if hull, err := statics.Hull(outline); err == nil {
		outline = hull
	}
	points := make([]statics.Vec, 0, len(outline))
	for _, p := range outline {
		points = append(points, statics.Vec{p[0], p[1], z})
	}
	return points
}

// centre is where the mass of a body lies, with what hangs on it left out.
func (b *lone) centre() statics.Vec {
	var at statics.Vec
	sum := 0.0
	for _, d := range b.dead {
		sum += d.light
		for k := range at {
			at[k] += d.light * d.at[k]
		}
	}
	for k := range at {
		if sum > 0 {
			at[k] /= sum
		}
	}
	return at
}

// span is a span as a body of its own.
func (j *job) span(i int) *lone {
	s := &j.f.Spans[i]
	on := j.spanEnd(i, true, j.f.Column(s.Between[0].V))
	b := &lone{name: s.Name.V, piece: s.Name.V, at: s.Name.At, base: on.surface.Bottom, top: on.surface.Top, surfaces: []wind.Surface{on.surface}}
	b.describe(s.Name)
	b.dead = append(b.dead, massAt(s.Name.V, on.mass))
	return b
}

// meeting is where a wall is fastened to another piece, in plan, and the direction from
// the one to the other: along the wall.
func (j *job) meeting(w *site.Wall, other string) (at [2]float64, axis statics.Vec) {
	_, along, _, _ := w.Frame()
	axis = statics.Vec{along[0], along[1], 0}
	if c := j.f.Column(other); c != nil {
		return nearest(w.From.XY(), w.To.XY(), c.Center.XY()), axis
	}
	// Of the ends of both walls the one that lies nearest to the other wall.
	k := j.f.Wall(other)
	least := math.Inf(1)
	for _, end := range [...]struct{ p, from, to [2]float64 }{
		{w.From.XY(), k.From.XY(), k.To.XY()}, {w.To.XY(), k.From.XY(), k.To.XY()},
		{k.From.XY(), w.From.XY(), w.To.XY()}, {k.To.XY(), w.From.XY(), w.To.XY()},
	} {
		q := nearest(end.from, end.to, end.p)
		if d := math.Hypot(q[0]-end.p[0], q[1]-end.p[1]); d < least-1e-9 {
			least, at = d, [2]float64{(end.p[0] + q[0]) / 2, (end.p[1] + q[1]) / 2}
		}
	}
	return at, axis
}

// nearest is the point of a line from a to b that lies nearest to p.
func nearest(a, b, p [2]float64) [2]float64 {
	dx, dy := b[0]-a[0], b[1]-a[1]
	l := dx*dx + dy*dy
	if l == 0 {
		return a
	}
	t := math.Max(0, math.Min(1, ((p[0]-a[0])*dx+(p[1]-a[1])*dy)/l))
	return [2]float64{a[0] + t*dx, a[1] + t*dy}
}

// guyFrom is where a guy leaves its piece, in plan: the axis of a column, the point of a
// wall that is nearest to the anchor.
func (j *job) guyFrom(y *site.Guy) [2]float64 {
	if c := j.f.Column(y.From.V); c != nil {
		return c.Center.XY()
	}
	w := j.f.Wall(y.From.V)
	return nearest(w.From.XY(), w.To.XY(), y.To.XY())
}

// guyLimit is the pull that a guy is counted on for, N.
func (j *job) guyLimit(y *site.Guy) (float64, bool) {
	c, err := j.guyCapacity(y)
	return c.Value, err == nil && c.Value > 0
}

// corner is the direction, within the first of the 16 sides of a friction pyramid, that
// stands for all directions with which a pyramid looks the same, and a key that they share. Rounding the
// direction itself would set the pyramid a billionth off from the loads, and so make forces that
// are all but the same.
func corner(towards float64) (key, align float64) {
	const side = math.Pi / 8
	align = math.Mod(towards, side)
	if align < 0 {
		align += side
	}
	if key = math.Round(align*1e9) / 1e9; key >= side-1e-8 {
		key = 0
	}
	return key, align
}

// systemOf is the group on its ground, for wind towards a direction.
func (j *job) systemOf(g *group, towards float64, ballast []float64) (*statics.Analysis, *statics.Group, error) {
	key, align := corner(towards)
	if r, ok := g.ready[key]; ok {
		return r.analysis, r.system, nil
	}
	system := g.system
	system.Contacts = slices.Clone(g.system.Contacts)
	soft := false
	for i, b := range g.members {
		if b.base > 0 || len(b.foot) == 0 {
			continue
		}
		soft = soft || b.yields > 0
		system.Contacts = append(system.Contacts, statics.Contact{
			Name: b.name, Of: i, On: statics.Ground, Points: corners(b.bearingUnder(j.weightUnder(g, i, ballast)), 0), Friction: b.friction,
		})
	}
	a, err := statics.NewAnalysis(&system, align)
	if err == nil && !soft {
		g.ready[key] = standingOn{a, &system}
	}
	return a, &system, err
}

// of is the part of the group's ballast that lies in member i.
func (g *group) of(i int, ballast []float64) []float64 {
	from := 0
	for _, b := range g.members[:i] {
		from += len(b.slots)
	}
	return ballast[from : from+len(g.members[i].slots)]
}

// inPlaceOf is the ballast that the file puts into the slots of a group, kg.
func (j *job) inPlaceOf(g *group) []float64 {
	var kg []float64
	for _, b := range g.members {
		kg = append(kg, j.inPlace(b)...)
	}
	return kg
}
