package site

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"galefast/internal/catalog"
	"galefast/internal/quantity"
)

// crossCheck holds the rules that need more than one value: names and references,
// choices that exclude each other, and pieces that cannot stand as described.
type crossCheck struct {
	*reader
	f *File
}

func (c *crossCheck) run() {
	c.names()
	c.site()
	c.columns()
	c.gates()
	c.walls()
	c.spans()
	c.ballasts()
	c.guys()
	c.ways()
	c.power()
	if !c.problems.Fatal() {
		// Geometry makes sense only once every size is there.
		c.overlaps()
		c.openings()
	}
}

func join(words []string) string { return strings.Join(words, ", ") }

// named pairs a name with where it stands.
type named struct {
	kind string
	word Word
}

func (c *crossCheck) pieces() []named {
	var list []named
	for i := range c.f.Columns {
		list = append(list, named{"column", c.f.Columns[i].Name})
	}
	for i := range c.f.Gates {
		list = append(list, named{"gate", c.f.Gates[i].Name})
	}
	for i := range c.f.Walls {
		list = append(list, named{"wall", c.f.Walls[i].Name})
	}
	for i := range c.f.Spans {
		list = append(list, named{"span", c.f.Spans[i].Name})
	}
	return list
}

func (c *crossCheck) feeders() []named {
	var list []named
	for i := range c.f.Supplies {
		list = append(list, named{"supply", c.f.Supplies[i].Name})
	}
	for i := range c.f.Cords {
		list = append(list, named{"cord", c.f.Cords[i].Name})
	}
	return list
}

func ofKind(list []named, kinds ...string) []string {
	var names []string
	for _, n := range list {
		for _, k := range kinds {
			if n.kind == k && n.word.V != "" {
				names = append(names, n.word.V)
			}
		}
	}
	return names
}

// names reports what is named twice. Pieces share one set of names, supplies and
// cords another, since each set is referred to without saying which kind.
func (c *crossCheck) names() {
	c.unique(c.pieces())
	c.unique(c.feeders())
	var lamps, ways []named
	for i := range c.f.Lamps {
		lamps = append(lamps, named{"lamp", c.f.Lamps[i].Name})
	}
	for i := range c.f.Ways {
		ways = append(ways, named{"way", c.f.Ways[i].Name})
	}
	c.unique(lamps)
	c.unique(ways)
	for i := range c.f.Columns {
		var sections []named
		for k := range c.f.Columns[i].Sections {
			sections = append(sections, named{"section", c.f.Columns[i].Sections[k].Name})
		}
		c.unique(sections)
	}
}

func (c *crossCheck) unique(list []named) {
	first := map[string]named{}
	for _, n := range list {
		if n.word.V == "" {
			continue
		}
		if prior, ok := first[n.word.V]; ok {
			p := c.report(n.word.span, "duplicate", fmt.Sprintf("%s %q has the name of a %s above", n.kind, n.word.V, prior.kind), "a name of its own", "")
			p.Also = append(p.Also, Note{Place: prior.word.At, Message: fmt.Sprintf("%s %q is here", prior.kind, n.word.V)})
			continue
		}
		first[n.word.V] = n
	}
}

// refer checks that a reference names one of names.
func (c *crossCheck) refer(w Word, what string, names []string) bool {
	if !w.Given || w.V == "" {
		return false
	}
	for _, n := range names {
		if n == w.V {
			return true
		}
	}
	want := "there are none in this file"
	if len(names) > 0 {
		want = "one of " + join(quoteAll(names))
	}
	hint := ""
	if near := catalog.Nearest(w.V, names); len(near) > 0 {
		hint = fmt.Sprintf("did you mean %q?", near[0])
	}
	c.report(w.span, "reference", fmt.Sprintf("there is no %s %q", what, w.V), want, hint)
	return false
}

func quoteAll(names []string) []string {
	const most = 12
	quoted := make([]string, 0, len(names))
	for i, n := range names {
		if i == most {
			return append(quoted, fmt.Sprintf("and %d more", len(names)-most))
		}
		quoted = append(quoted, fmt.Sprintf("%q", n))
	}
	return quoted
}

// inTable checks that a word is a row of a catalog table.
func inTable[R catalog.Named](c *crossCheck, w Word, t *catalog.Table[R], table string) (R, bool) {
	var none R
	if w.V == "" || (!w.Given && w.Text == "") {
		return none, false
	}
	row, ok := t.Find(w.V)
	if !ok {
		hint := fmt.Sprintf("`galefast list %s` prints them all; [[catalog.%s]] adds your own", table, table)
		if near := t.Nearest(w.V); len(near) > 0 {
			hint = fmt.Sprintf("did you mean %s? %s", join(quoteAll(near)), hint)
		}
		c.report(w.span, "catalog", fmt.Sprintf("%q is not in the table %q", w.V, table), "a row of that table", hint)
		return none, false
	}
	return row, true
}

func (c *crossCheck) site() {
	c.basis()
	s := &c.f.Site
	if !s.Friction.Given {
		inTable(c, s.Ground, &c.f.Catalog.Ground, "ground")
	}
	if s.GustOpen.Given && s.GustAlone.Given && s.GustOpen.V > s.GustAlone.V {
		c.report(s.GustOpen.span, "range", fmt.Sprintf("gust_open %s is above gust_alone %s", s.GustOpen.Text, s.GustAlone.Text),
			"at most gust_alone: what must stand with people inside must stand alone too", "")
	}
}

// basisKeys are the keys of [site] that only some bases know.
func (s *Site) basisKeys() []struct {
	key   string
	entry Entry
	of    []string
} {
	us, eu := []string{"gust", "asce7-16", "asce7-22"}, []string{"en1991"}
	return []struct {
		key   string
		entry Entry
		of    []string
	}{
		{"kzt", s.Kzt.Entry, us}, {"ke", s.Ke.Entry, us}, {"kd", s.Kd.Entry, us},
		{"c_dir", s.CDir.Entry, eu}, {"c_season", s.CSeason.Entry, eu}, {"c_prob", s.CProb.Entry, eu},
		{"return_period", s.ReturnPeriod.Entry, eu}, {"short_use", s.ShortUse.Entry, eu},
		{"reduction", s.Reduction.Entry, []string{"asce7-16", "asce7-22"}},
	}
}

// basis checks what belongs to one way of finding wind loads and not to another.
func (c *crossCheck) basis() {
	s := &c.f.Site
	basis := s.Basis.V
	for _, k := range s.basisKeys() {
		if k.entry.Given && !slices.Contains(k.of, basis) {
			c.report(k.entry.span, "conflict", fmt.Sprintf("%q of site is given, and basis %q does not know it", k.key, basis), "basis "+strings.Join(k.of, ", "), "")
		}
	}
	european := len(s.Terrain.V) > 0 && strings.ContainsAny(s.Terrain.V[:1], "0I")
	switch {
	case !s.Terrain.Given && basis == "en1991":
		d, _ := DefaultOf("site.terrain of en1991")
		s.Terrain.V, s.Terrain.Text = d.Value, d.Value
		c.defaults.replace("site.terrain", d)
	case basis == "en1991" && !european:
		c.report(s.Terrain.span, "conflict", fmt.Sprintf("terrain %q goes with ASCE 7, and the basis is %q", s.Terrain.V, basis), "terrain 0, I, II, III or IV", "")
	case strings.HasPrefix(basis, "asce") && european:
		c.report(s.Terrain.span, "conflict", fmt.Sprintf("terrain %q goes with EN 1991, and the basis is %q", s.Terrain.V, basis), "terrain B, C or D", "")
	}
	if s.CProb.Given && s.ReturnPeriod.Given {
		c.report(s.ReturnPeriod.span, "conflict", "site has both c_prob and return_period", "one of them", "")
	}
	if s.ReturnPeriod.Given && s.ReturnPeriod.V <= 1 {
		c.report(s.ReturnPeriod.span, "range", fmt.Sprintf("\"return_period\" of site is %s", s.ReturnPeriod.Text), "more than one year", "")
	}
	if s.Reduction.Given && !s.Plan.V {
		c.report(s.Reduction.span, "conflict", "a reduction of the wind is claimed without a written plan to close and clear", "plan = true, once there is one", "`galefast limits` prints the steps of such a plan")
	}
}

func (c *crossCheck) columns() {
	for i := range c.f.Columns {
		col := &c.f.Columns[i]
		for k := range col.Sections {
			s := &col.Sections[k]
			label := fmt.Sprintf("section %q of column %q", s.Name.V, col.Name.V)
			if s.Shape.V == "rectangle" && !s.Depth.Given && s.Width.Given {
				c.report(s.Shape.span, "missing-key", label+" is a rectangle without a depth", `depth = "..."`, "")
			}
			if s.Shape.V != "rectangle" && s.Depth.Given {
				c.report(s.Depth.span, "conflict", fmt.Sprintf("%s is %s and has a depth", label, s.Shape.V), "a depth only for a rectangle", "")
			}
			if s.Joint != nil && k == 0 {
				c.report(s.Joint.span, "conflict", label+" is the lowest and has a joint", "a joint fastens a section to the one below it", "")
			}
			if s.Joint != nil && s.Joint.Into.Given {
				inTable(c, s.Joint.Into, &c.f.Catalog.Wood, "wood")
			}
			c.massOf(label, s.Table, s.Mass, Measure[quantity.Mass]{}, s.Parts, col.Weighed.Given)
		}
	}
}

// massOf checks that a piece says what it weighs in exactly one way.
func (c *crossCheck) massOf(label string, t Table, mass, weighed Measure[quantity.Mass], parts []Part, elsewhere bool) {
	switch {
	case mass.Given && len(parts) > 0:
		c.report(mass.span, "conflict", label+" has both a mass and parts", "one of them", "a mass from a scale is written as `weighed`")
	case !mass.Given && !weighed.Given && len(parts) == 0 && !elsewhere:
		c.report(t.span, "missing-key", label+" says nothing of its mass", `parts = [...] or mass = "..."`, "a rough mass is better than none: it is checked at its unsafe end")
	}
	for i := range parts {
		c.part(fmt.Sprintf("part %d of %s", i+1, label), &parts[i])
	}
}

func (c *crossCheck) part(label string, p *Part) {
	kinds := []*Word{&p.Stock, &p.Sheet, &p.Block, &p.Pipe, &p.Coat, &p.Item}
	given := 0
	for _, w := range kinds {
		if w.Given {
			given++
		}
	}
	if given != 1 {
		c.report(p.span, "conflict", fmt.Sprintf("%s says what it is %s", label, plural(given, "time")), "exactly one of stock, sheet, block, pipe, coat, item", "")
		return
	}
	need := func(ok bool, key, example string) {
		if !ok {
			c.report(p.span, "missing-key", fmt.Sprintf("%s lacks %q", label, key), example, "")
		}
	}
	extra := func(given bool, at Entry, key, why string) {
		if given {
			c.report(at.span, "conflict", fmt.Sprintf("%s has %q", label, key), why, "")
		}
	}
	if n := len(p.Size); n > 0 && p.Sheet.Given && n != 2 {
		c.report(p.Size[0].span, "wrong-count", fmt.Sprintf("%s has %s", label, plural(n, "side")), "two sides of a sheet", "")
	}
	if n := len(p.Size); n > 0 && p.Block.Given && n != 3 {
		c.report(p.Size[0].span, "wrong-count", fmt.Sprintf("%s has %s", label, plural(n, "side")), "three sides of a block", "")
	}
	if n := len(p.Offset); n != 0 && n != 2 {
		c.report(p.Offset[0].span, "wrong-count", fmt.Sprintf("%s has an offset of %s", label, plural(n, "value")), `two values, as in ["3 in", "0 in"]`, "")
	}
	switch {
	case p.Stock.Given:
		inTable(c, p.Stock, &c.f.Catalog.Lumber, "lumber")
		need(p.Wood.Given, "wood", `wood = "spf" or another row of the wood table`)
		inTable(c, p.Wood, &c.f.Catalog.Wood, "wood")
		need(p.Length.Given, "length", `length = "28 in"`)
	case p.Sheet.Given:
		inTable(c, p.Sheet, &c.f.Catalog.Panel, "panel")
		need(len(p.Size) > 0, "size", `size = ["28 in", "20 in"]`)
	case p.Block.Given:
		inTable(c, p.Block, &c.f.Catalog.Foam, "foam")
		need(len(p.Size) > 0, "size", `size = ["28 in", "6 in", "1 1/2 in"]`)
	case p.Pipe.Given:
		inTable(c, p.Pipe, &c.f.Catalog.Pipe, "pipe")
		need(p.Length.Given, "length", `length = "6 ft"`)
	case p.Coat.Given:
		inTable(c, p.Coat, &c.f.Catalog.Coat, "coat")
		need(p.Area.Given, "area", `area = "15 ft2"`)
	default:
		need(p.Mass.Given, "mass", `mass = "7 lb"`)
	}
	if !p.Item.Given {
		extra(p.Mass.Given, p.Mass.Entry, "mass", "a mass only for an item; the tables weigh the rest")
	}
	if !p.Stock.Given {
		extra(p.Wood.Given, p.Wood.Entry, "wood", "a wood only for stock")
	}
	if !p.Coat.Given {
		extra(p.Area.Given, p.Area.Entry, "area", "an area only for a coat")
	}
}

func (c *crossCheck) gates() {
	columns := ofKind(c.pieces(), "column")
	for i := range c.f.Gates {
		g := &c.f.Gates[i]
		label := fmt.Sprintf("gate %q", g.Name.V)
		c.refer(g.HungOn, "column", columns)
		c.massOf(label, g.Table, g.Mass, g.Weighed, g.Parts, false)
		if col := c.f.Column(g.HungOn.V); col != nil && g.Height.Given {
			if top := float64(g.Clearance.V + g.Height.V); top > col.Top()+1e-9 && col.Top() > 0 {
				c.report(g.Height.span, "geometry", fmt.Sprintf("%s reaches %s, above the top of column %q at %s", label,
					quantity.Format(quantity.Length(top), c.f.System()), col.Name.V, quantity.Format(quantity.Length(col.Top()), c.f.System())), "a leaf no higher than its column", "")
			}
		}
		if h := g.Hinge; h != nil {
			if h.Into.Given {
				inTable(c, h.Into, &c.f.Catalog.Wood, "wood")
			}
			if n := len(h.Heights); n == 1 {
				c.report(h.Heights[0].span, "wrong-count", "hinge of "+label+" has one height", "two or more hinges", "")
			}
			low, high := float64(g.Clearance.V), float64(g.Clearance.V+g.Height.V)
			for _, height := range h.Heights {
				if v := float64(height.V); height.Given && g.Height.Given && (v < low-1e-9 || v > high+1e-9) {
					c.report(height.span, "geometry", fmt.Sprintf("hinge of %s at %s is off the leaf", label, height.Text),
						fmt.Sprintf("between %s and %s above the ground", quantity.Format(quantity.Length(low), c.f.System()), quantity.Format(quantity.Length(high), c.f.System())), "")
				}
			}
		}
	}
}

func (c *crossCheck) walls() {
	joinable := ofKind(c.pieces(), "column", "wall")
	for i := range c.f.Walls {
		w := &c.f.Walls[i]
		label := fmt.Sprintf("wall %q", w.Name.V)
		c.massOf(label, w.Table, w.Mass, w.Weighed, w.Parts, false)
		if _, _, _, length := w.Frame(); length < 1e-3 && w.From[0].Given && w.To[0].Given {
			c.report(w.To[0].span, "geometry", label+" has no length", "two ends apart from each other", "")
		}
		if w.Underside.Given && w.Height.Given && w.Underside.V >= w.Height.V {
			c.report(w.Underside.span, "geometry", fmt.Sprintf("%s has its underside at %s and its top at %s", label, w.Underside.Text, w.Height.Text), "an underside below the top", "")
		}
		if b := w.Braces; b != nil && b.Height.Given && w.Height.Given && b.Height.V > w.Height.V {
			c.report(b.Height.span, "geometry", fmt.Sprintf("braces of %s reach %s, above its top at %s", label, b.Height.Text, w.Height.Text), "braces that end on the wall", "")
		}
		for _, j := range w.Joined {
			if j.Given && j.V == w.Name.V {
				c.report(j.span, "reference", label+" is joined to itself", "another piece", "")
				continue
			}
			c.refer(j, "column or wall", joinable)
		}
	}
}

func (c *crossCheck) spans() {
	columns := ofKind(c.pieces(), "column")
	for i := range c.f.Spans {
		s := &c.f.Spans[i]
		label := fmt.Sprintf("span %q", s.Name.V)
		c.massOf(label, s.Table, s.Mass, s.Weighed, s.Parts, false)
		if n := len(s.Between); n > 0 && n != 2 {
			c.report(s.Between[0].span, "wrong-count", fmt.Sprintf("%s is carried by %s", label, plural(n, "column")), "two columns", "")
		}
		for _, w := range s.Between {
			c.refer(w, "column", columns)
		}
		if len(s.Between) == 2 && s.Between[0].V == s.Between[1].V && s.Between[0].V != "" {
			c.report(s.Between[1].span, "reference", label+" is carried twice by the same column", "two different columns", "")
		}
		for _, w := range s.Between {
			if col := c.f.Column(w.V); col != nil && s.Underside.Given && col.Top() > 0 && float64(s.Underside.V) > col.Top()+1e-9 {
				c.report(s.Underside.span, "geometry", fmt.Sprintf("%s has its underside at %s, above the top of column %q", label, s.Underside.Text, col.Name.V), "a span that its columns reach", "")
			}
		}
	}
}

func (c *crossCheck) ballasts() {
	holders := ofKind(c.pieces(), "column", "wall")
	for i := range c.f.Ballasts {
		b := &c.f.Ballasts[i]
		switch {
		case b.Unit.Given && b.Mass.Given:
			c.report(b.Mass.span, "conflict", "ballast has both a unit and a mass", "one of them", "")
		case !b.Unit.Given && !b.Mass.Given:
			c.report(b.span, "missing-key", "ballast says neither unit nor mass", `unit = "sandbag 40 lb" or mass = "40 lb"`, "")
		}
		inTable(c, b.Unit, &c.f.Catalog.Ballast, "ballast")
		if !c.refer(b.In, "column or wall", holders) {
			continue
		}
		if col := c.f.Column(b.In.V); col != nil {
			if b.Place.Given {
				c.report(b.Place.span, "conflict", fmt.Sprintf("ballast in column %q has a place", col.Name.V), "a section; places are for walls", "")
			}
			var sections []string
			for k := range col.Sections {
				sections = append(sections, col.Sections[k].Name.V)
			}
			c.refer(b.Section, "section of column "+fmt.Sprintf("%q:", col.Name.V), sections)
			continue
		}
		w := c.f.Wall(b.In.V)
		if b.Section.Given {
			c.report(b.Section.span, "conflict", fmt.Sprintf("ballast in wall %q has a section", b.In.V), `place = "base" or place = "toes"`, "")
		}
		if b.Place.V == "toes" && w != nil && w.Braces == nil {
			c.report(b.Place.span, "reference", fmt.Sprintf("wall %q has no braces and so no toes", b.In.V), `place = "base"`, "")
		}
		if b.Place.V == "returns" && w != nil && (!w.Return.Given || w.Braces != nil) {
			c.report(b.Place.span, "reference", fmt.Sprintf("wall %q has no returns without braces", b.In.V), `place = "base", or "toes" where there are braces`, "")
		}
	}
}

func (c *crossCheck) guys() {
	holders := ofKind(c.pieces(), "column", "wall")
	for i := range c.f.Guys {
		g := &c.f.Guys[i]
		c.refer(g.From, "column or wall", holders)
		if !g.Anchor.Given && !g.PullTested.Given {
			c.report(g.span, "missing-key", fmt.Sprintf("guy from %q says nothing of its anchor", g.From.V), `anchor = "..." or pull_tested = "120 lbf"`, "")
		}
	}
}

func (c *crossCheck) ways() {
	for i := range c.f.Ways {
		w := &c.f.Ways[i]
		if len(w.Line) == 1 {
			c.report(w.Name.span, "wrong-count", fmt.Sprintf("way %q has one point", w.Name.V), "two points or more, in the direction of travel", "")
		}
	}
}

func (c *crossCheck) power() {
	feeders := ofKind(c.feeders(), "supply", "cord")
	for i := range c.f.Supplies {
		s := &c.f.Supplies[i]
		if s.Phases.Given && s.Phases.V != 1 && s.Phases.V != 3 {
			c.report(s.Phases.span, "choice", fmt.Sprintf("supply %q has %s", s.Name.V, plural(s.Phases.V, "phase")), "1 or 3", "")
		}
		if s.DC.V && s.Phases.V == 3 {
			c.report(s.DC.span, "conflict", fmt.Sprintf("supply %q is direct current with three phases", s.Name.V), "one of them", "")
		}
	}
	for i := range c.f.Cords {
		k := &c.f.Cords[i]
		label := fmt.Sprintf("cord %q", k.Name.V)
		if k.From.V == k.Name.V && k.From.Given {
			c.report(k.From.span, "cord-loop", label+" is fed by itself", "a supply or another cord", "")
		} else {
			c.refer(k.From, "supply or cord", feeders)
		}
		if !k.Gauge.Given && !k.OhmPerKm.Given && k.Gauge.Text == "" {
			c.report(k.span, "missing-key", label+" lacks its conductor size", `gauge = "16 AWG", or ohm_per_km with ampacity`, "the size is printed on the jacket, as in 16/3")
		}
		if k.Gauge.Given && !k.OhmPerKm.Given {
			if _, ok := c.f.Conductor(k); !ok {
				hint := "`galefast list conductor` prints them all"
				c.report(k.Gauge.span, "catalog", fmt.Sprintf("%s: %q is not in the table \"conductor\"", label, k.Gauge.Text), "a size of that table", hint)
			}
		}
		inTable(c, k.Type, &c.f.Catalog.CordType, "cordtype")
		if n := len(k.Route); n == 1 {
			c.report(k.Route[0][0].span, "wrong-count", label+" has a route of one point", "two points or more", "")
		}
	}
	c.cordLoops()
	for i := range c.f.Lamps {
		l := &c.f.Lamps[i]
		label := fmt.Sprintf("lamp %q", l.Name.V)
		c.refer(l.On, "supply or cord", feeders)
		inTable(c, l.Device, &c.f.Catalog.Device, "device")
		if l.Watts.Given && l.Amps.Given {
			c.report(l.Amps.span, "conflict", label+" has both watts and amps", "one of them", "")
		}
		if !l.Watts.Given && !l.Amps.Given && !l.Device.Given && l.Watts.Text == "" && l.Amps.Text == "" {
			c.report(l.span, "missing-key", label+" says nothing of its power", `watts = 9, amps = 0.5 or device = "..."`, "it is on the label of the lamp or its power supply")
		}
	}
}

// cordLoops reports every cord that feeds itself through others, once a loop.
func (c *crossCheck) cordLoops() {
	from := map[string]int{}
	for i := range c.f.Cords {
		from[c.f.Cords[i].Name.V] = i
	}
	state := make([]int, len(c.f.Cords)) // 0 new, 1 on this walk, 2 done
	for i := range c.f.Cords {
		var walk []int
		k := i
		for state[k] == 0 {
			state[k] = 1
			walk = append(walk, k)
			next, ok := from[c.f.Cords[k].From.V]
			if !ok || next == k {
				break
			}
			k = next
		}
		if state[k] == 1 && len(walk) > 0 && k != walk[len(walk)-1] {
			var names []string
			for j := len(walk) - 1; j >= 0; j-- {
				names = append(names, c.f.Cords[walk[j]].Name.V)
				if walk[j] == k {
					break
				}
			}
			cord := &c.f.Cords[k]
			c.report(cord.From.span, "cord-loop", fmt.Sprintf("cord %q is fed by itself through %s", cord.Name.V, join(quoteAll(names))), "a chain of cords that ends at a supply", "")
		}
		for _, w := range walk {
			state[w] = 2
		}
	}
}

// Geometry

// slack is how far outlines may overlap before it is reported, m: drawings are
// not that exact.
const slack = 0.010

func (c *crossCheck) overlaps() {
	type placed struct {
		named
		outline Polygon
		wall    *Wall
	}
	var all []placed
	for i := range c.f.Columns {
		col := &c.f.Columns[i]
		all = append(all, placed{named{"column", col.Name}, col.FootOutline(), nil})
	}
	for i := range c.f.Walls {
		w := &c.f.Walls[i]
		all = append(all, placed{named{"wall", w.Name}, w.SillOutline(), w})
	}
	joined := func(w *Wall, name string) bool {
		if w == nil {
			return false
		}
		for _, j := range w.Joined {
			if j.V == name {
				return true
			}
		}
		return false
	}
	for i := range all {
		for k := range i {
			a, b := all[k], all[i]
			if joined(a.wall, b.word.V) || joined(b.wall, a.word.V) {
				continue
			}
			if depth := penetration(a.outline, b.outline); depth > slack {
				p := c.report(b.word.span, "overlap", fmt.Sprintf("%s %q overlaps %s %q in plan by %s", b.kind, b.word.V, a.kind, a.word.V,
					quantity.Format(quantity.Length(depth), c.f.System())), "pieces that stand clear of each other", "positions are of the middle of the foot; a wall fastened to a piece names it under `joined`")
				p.Also = append(p.Also, Note{Place: a.word.At, Message: fmt.Sprintf("%s %q is here", a.kind, a.word.V)})
			}
		}
	}
}

// openings reports closed leaves that are wider than the gap which they close:
// from the hinge to the next column in their direction, shared by two leaves that
// face each other.
func (c *crossCheck) openings() {
	for i := range c.f.Gates {
		g := &c.f.Gates[i]
		leaf, ok := c.f.Leaf(g)
		if !ok {
			continue
		}
		s, co := math.Sincos(leaf.Closed)
		gap, beyond := math.Inf(1), ""
		for k := range c.f.Columns {
			col := &c.f.Columns[k]
			if col.Name.V == g.HungOn.V {
				continue
			}
			along, aside := math.Inf(1), [2]float64{math.Inf(1), math.Inf(-1)}
			for _, p := range sectionAt(col, float64(g.Clearance.V+g.Height.V/2)) {
				dx, dy := p[0]-leaf.Hinge[0], p[1]-leaf.Hinge[1]
				along = math.Min(along, dx*co+dy*s)
				d := dy*co - dx*s
				aside[0], aside[1] = math.Min(aside[0], d), math.Max(aside[1], d)
			}
			if along > 0 && aside[0] < 0 && aside[1] > 0 && along < gap {
				gap, beyond = along, col.Name.V
			}
		}
		if beyond == "" {
			continue
		}
		width, label := float64(g.Width.V), fmt.Sprintf("gate %q", g.Name.V)
		for k := range c.f.Gates {
			other := &c.f.Gates[k]
			if k != i && other.HungOn.V == beyond {
				if l, ok := c.f.Leaf(other); ok && math.Cos(l.Closed-leaf.Closed) < -0.99 && k > i {
					width += float64(other.Width.V)
					label = fmt.Sprintf("gates %q and %q together", g.Name.V, other.Name.V)
				} else if ok && math.Cos(l.Closed-leaf.Closed) < -0.99 {
					width = 0 // already reported with its partner
				}
			}
		}
		if width > gap+slack/2 {
			c.report(g.Width.span, "geometry", fmt.Sprintf("%s: %s wide in an opening of %s", label,
				quantity.Format(quantity.Length(width), c.f.System()), quantity.Format(quantity.Length(gap), c.f.System())),
				fmt.Sprintf("a leaf that fits between columns %q and %q", g.HungOn.V, beyond), "")
		}
	}
}

// sectionAt is the outline of the column's section at a height.
func sectionAt(col *Column, z float64) Polygon {
	at := &col.Sections[0]
	for i := range col.Sections {
		if col.Bottom(i) <= z {
			at = &col.Sections[i]
		}
	}
	return at.Outline(col)
}
