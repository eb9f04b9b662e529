package site

import (
	"bytes"
	"cmp"
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
	c.fastened()
	c.ballasts()
	c.guys()
	c.ways()
	c.power()
	c.overlaps()
	c.openings()
	c.anything()
}

// anything reports a file that describes nothing to check. Where it has other faults,
// those come first: it is one that somebody has begun to write.
func (c *crossCheck) anything() {
	for _, key := range []string{"column", "gate", "wall", "span", "supply", "cord", "lamp"} {
		if c.f.has(key) {
			return
		}
	}
	message := "the file describes nothing that could be checked"
	switch {
	case len(c.f.keys) > 0 && c.problems.Fatal():
		return
	case len(c.f.keys) == 0:
		message = "the file is empty"
		if len(bytes.TrimSpace(c.lines.src)) > len(bom) {
			message = "the file holds only comments"
		}
		c.problems = nil // what an empty file lacks besides is no news
	}
	c.report(span{}, "empty", message, "at least one [[column]], [[wall]] or [[supply]] with its keys",
		"`galefast new` writes a file to start from; the examples are under testdata/sites")
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

// choice is a list of names to choose from.
type choice struct {
	names []string
	has   map[string]bool
}

func choiceOf(names []string) choice {
	c := choice{names, make(map[string]bool, len(names))}
	for _, n := range names {
		c.has[n] = true
	}
	return c
}

func ofKind(list []named, kinds ...string) choice {
	var names []string
	for _, n := range list {
		if n.word.V != "" && slices.Contains(kinds, n.kind) {
			names = append(names, n.word.V)
		}
	}
	return choiceOf(names)
}

// names reports what is named twice. Pieces share one set of names, supplies and
// cords another, since each set is referred to without saying which kind.
func (c *crossCheck) names() {
	c.distinct(c.pieces())
	c.distinct(c.feeders())
	var lamps, ways []named
	for i := range c.f.Lamps {
		lamps = append(lamps, named{"lamp", c.f.Lamps[i].Name})
	}
	for i := range c.f.Ways {
		ways = append(ways, named{"way", c.f.Ways[i].Name})
	}
	c.distinct(lamps)
	c.distinct(ways)
	for i := range c.f.Columns {
		var sections []named
		for k := range c.f.Columns[i].Sections {
			sections = append(sections, named{"section", c.f.Columns[i].Sections[k].Name})
		}
		c.distinct(sections)
	}
}

func (c *crossCheck) distinct(list []named) {
	first := map[string]named{}
	for _, n := range list {
		if n.word.V == "" {
			continue
		}
		if prior, ok := first[n.word.V]; ok {
			p := c.report(n.word.span, "duplicate", fmt.Sprintf("%s %q has the name of a %s above it", n.kind, n.word.V, prior.kind), "a name of its own", "")
			p.Also = append(p.Also, Note{Place: prior.word.At, Message: fmt.Sprintf("%s %q is here", prior.kind, n.word.V)})
			continue
		}
		first[n.word.V] = n
	}
}

// refer checks that a reference names one of a choice, which are all of the kind what, other
// than the piece itself.
func (c *crossCheck) refer(w Word, what string, of choice, itself string) bool {
	if !w.Given || w.V == "" {
		return false
	}
	if of.has[w.V] && w.V != itself {
		return true
	}
	message, want := fmt.Sprintf("%q names no %s", w.V, what), fmt.Sprintf("a %s, of which the file has none", what)
	if c.hopeless() {
		c.report(w.span, "reference", message, want, "")
		return false
	}
	for _, n := range append(c.pieces(), c.feeders()...) {
		if n.word.V == w.V {
			message = fmt.Sprintf("%q is a %s, not a %s", w.V, n.kind, what)
		}
	}
	names := slices.DeleteFunc(slices.Clone(of.names), func(n string) bool { return n == itself })
	switch few := unique(names); len(few) {
	case 0:
	case 1:
		want = quoteAll(few)[0] + ", the only one"
	default:
		want = "one of " + join(quoteAll(few))
	}
	hint := ""
	if near := c.nearest(w.V, names); len(near) > 0 {
		hint = fmt.Sprintf("did you mean %q?", near[0])
	}
	c.report(w.span, "reference", message, want, hint)
	return false
}

// unique drops repeated names.
func unique(names []string) []string {
	var once []string
	for _, n := range names {
		if !slices.Contains(once, n) && len(once) <= mostNames {
			once = append(once, n)
		}
	}
	return once
}

// mostNames is how many names a message lists.
const mostNames = 12

func quoteAll(names []string) []string {
	quoted := make([]string, 0, len(names))
	for i, n := range names {
		if i == mostNames {
			return append(quoted, "and more")
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
	if !ok && !c.ownFaulty[table+" "+catalog.Fold(w.V)] {
		hint := fmt.Sprintf("[[catalog.%s]] adds a row of your own", table)
		if !c.hopeless() {
			if near := t.Nearest(w.V); len(near) > 0 {
				hint = fmt.Sprintf("did you mean %s?", anyOf(quoteAll(near)))
			}
		}
		c.report(w.span, "catalog", fmt.Sprintf("%q is not in the table %q", w.V, table), fmt.Sprintf("a name that `galefast list %s` prints", table), hint)
	}
	return row, ok
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
		{"return_period", s.ReturnPeriod.Entry, eu}, {"c_prob_k", s.CProbK.Entry, eu}, {"c_prob_n", s.CProbN.Entry, eu}, {"short_use", s.ShortUse.Entry, eu},
		{"z0", s.Z0.Entry, eu}, {"z_min", s.ZMin.Entry, eu}, {"c_o", s.Orography.Entry, eu}, {"k_i", s.KI.Entry, eu}, {"c_e", s.Ce.Entry, eu},
		{"reduction", s.Reduction.Entry, []string{"asce7-16", "asce7-22"}},
	}
}

// basis checks what belongs to one way of finding wind loads and not to another.
func (c *crossCheck) basis() {
	s := &c.f.Site
	basis := s.Basis.V
	for _, k := range s.basisKeys() {
		if k.entry.Given && !slices.Contains(k.of, basis) {
			c.report(k.entry.span, "conflict", fmt.Sprintf("%q of [site] means nothing with basis %q", k.key, basis), "basis "+strings.Join(k.of, ", "), "")
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
		c.report(s.ReturnPeriod.span, "conflict", "[site] has both c_prob and return_period", "one of them", "")
	}
	c.nationalValues()
	if s.ReturnPeriod.Given && s.ReturnPeriod.V <= 1 {
		c.report(s.ReturnPeriod.span, "range", fmt.Sprintf("\"return_period\" of [site] is %s", s.ReturnPeriod.Text), "more than one year", "")
	}
	if s.Reduction.Given && !s.Plan.V {
		c.report(s.Reduction.span, "conflict", "a reduction of the wind is claimed without a written plan to close and clear", "plan = true, once there is one", "`galefast limits` prints the steps of such a plan")
	}
}

// nationalValues checks what a National Annex to EN 1991 may put in, against each other.
func (c *crossCheck) nationalValues() {
	s := &c.f.Site
	for _, k := range []struct {
		key   string
		entry Entry
	}{{"z0", s.Z0.Entry}, {"z_min", s.ZMin.Entry}, {"c_o", s.Orography.Entry}, {"k_i", s.KI.Entry}} {
		if k.entry.Given && s.Ce.Given {
			c.report(k.entry.span, "conflict", fmt.Sprintf("[site] has both c_e and %s", k.key), "one of them: c_e has the others in it", "")
		}
	}
	for _, k := range []struct {
		key   string
		entry Entry
	}{{"c_prob_k", s.CProbK.Entry}, {"c_prob_n", s.CProbN.Entry}} {
		if k.entry.Given && !s.has("return_period") {
			c.report(k.entry.span, "missing-key", fmt.Sprintf("%q of [site] means nothing without a return period", k.key), "return_period, as in return_period = 10", "")
		}
	}
	switch {
	case s.Z0.Given && !s.has("z_min"):
		c.report(s.Z0.span, "missing-key", "[site] has z0 without z_min", "both, from the same line of the National Annex", "")
	case s.ZMin.Given && !s.has("z0"):
		c.report(s.ZMin.span, "missing-key", "[site] has z_min without z0", "both, from the same line of the National Annex", "")
	case s.Z0.Given && s.ZMin.Given && s.ZMin.V <= s.Z0.V:
		c.report(s.ZMin.span, "range", fmt.Sprintf("z_min %s is not above z0 %s", s.ZMin.Text, s.Z0.Text), "a z_min above z0", "")
	}
}

// finish checks the roughness and the corners of a section.
func (c *crossCheck) finish(s *Section) {
	basis := c.f.Site.Basis.V
	width, depth := s.Size()
	if s.Grain.Given {
		switch {
		case s.Shape.V != "round":
			c.report(s.Grain.span, "conflict", fmt.Sprintf("%s is %s and has a roughness", s.label, s.Shape.V), "a roughness only for a round section", "")
		case basis != "en1991":
			c.report(s.Grain.span, "conflict", fmt.Sprintf("\"roughness\" of %s means nothing with basis %q", s.label, basis), "basis en1991, or surface = \"smooth\" and the like", "")
		case sized(s.Width) && float64(s.Grain.V) > width/10:
			c.report(s.Grain.span, "range", fmt.Sprintf("%s has a roughness of %s at a diameter of %s", s.label, s.Grain.Text, s.Width.Text), "at most a tenth of the diameter", "")
		}
	}
	if s.Corner.Given {
		least := math.Min(width, depth)
		switch {
		case s.Shape.V != "square" && s.Shape.V != "rectangle":
			c.report(s.Corner.span, "conflict", fmt.Sprintf("%s is %s and has a corner radius", s.label, s.Shape.V), "a corner radius only for a square or rectangle", "")
		case basis != "en1991":
			c.report(s.Corner.span, "conflict", fmt.Sprintf("\"corner\" of %s means nothing with basis %q", s.label, basis), "basis en1991; the others take every corner as sharp", "")
		case sized(s.Width) && least > 0 && float64(s.Corner.V) > least/2:
			c.report(s.Corner.span, "geometry", fmt.Sprintf("%s has corners of %s radius", s.label, s.Corner.Text), "at most half of its lesser side", "")
		}
	}
}

func (c *crossCheck) columns() {
	for i := range c.f.Columns {
		col := &c.f.Columns[i]
		for k := range col.Sections {
			s := &col.Sections[k]
			label := s.label
			if s.Shape.V == "rectangle" && !s.has("depth") {
				c.report(s.Shape.span, "missing-key", label+" is a rectangle without a depth", `a second side, as in depth = "20 in"`, "")
			}
			if s.Shape.V != "rectangle" && s.Depth.Given {
				c.report(s.Depth.span, "conflict", fmt.Sprintf("%s is %s and has a depth", label, s.Shape.V), "a depth only for a rectangle", "")
			}
			if s.Shape.V != "round" && s.Rough.Given {
				c.report(s.Rough.span, "conflict", fmt.Sprintf("%s is %s and has a surface", label, s.Shape.V), "a surface only for a round section", "")
			}
			c.finish(s)
			if s.Joint != nil && k == 0 {
				c.report(s.Joint.span, "conflict", label+" is the lowest and has a joint", "a joint fastens a section to the one below it", "")
			}
			if s.Joint != nil && s.Joint.Into.Given {
				inTable(c, s.Joint.Into, &c.f.Catalog.Wood, "wood")
			}
			c.massOf(s.Table, s.Mass, s.Parts, col.has("weighed"))
		}
	}
}

// massOf checks that a piece says what it weighs in exactly one way, and its parts.
func (c *crossCheck) massOf(t Table, mass Measure[quantity.Mass], parts []Part, weighed bool) {
	switch {
	case mass.Given && len(parts) > 0:
		c.report(mass.span, "conflict", t.label+" has both a mass and parts", "one of them", "a mass from a scale is written as `weighed`, and may stand beside parts")
	case t.label != "" && !t.has("mass") && !weighed && (!t.has("parts") || parts != nil && len(parts) == 0):
		c.report(t.span, "missing-key", t.label+" says nothing of its mass", `mass = "40 lb" or parts = [ ... ]`, "a rough mass is better than none: tolerance says how far it may be off")
	}
	for i := range parts {
		if parts[i].label != "" {
			c.part(parts[i].label, &parts[i])
		}
	}
}

func (c *crossCheck) part(label string, p *Part) {
	kinds := []string{"stock", "sheet", "block", "pipe", "coat", "item"}
	given := slices.DeleteFunc(slices.Clone(kinds), func(k string) bool { return !p.has(k) })
	if len(given) != 1 {
		message := label + " does not say what it is"
		if len(given) > 1 {
			message = fmt.Sprintf("%s is %s", label, strings.Join(given, " and "))
		}
		c.report(p.span, "conflict", message, "exactly one of "+join(kinds), "")
		return
	}
	need := func(key, example string) {
		if !p.has(key) {
			c.report(p.span, "missing-key", fmt.Sprintf("%s lacks %q", label, key), example, "")
		}
	}
	extra := func(at Entry, key, why string) {
		if at.Given {
			c.report(at.span, "conflict", fmt.Sprintf("%s is %s and has %q", label, withArticle(given[0]), key), why, "")
		}
	}
	if p.Size != nil && len(p.Size) == 0 && (p.Sheet.Given || p.Block.Given) {
		c.report(p.span, "wrong-count", label+" has no sides", "two sides of a sheet, three of a block", "")
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
		need("wood", `wood = "spf" or another row of the wood table`)
		inTable(c, p.Wood, &c.f.Catalog.Wood, "wood")
		need("length", `length = "28 in"`)
	case p.Sheet.Given:
		inTable(c, p.Sheet, &c.f.Catalog.Panel, "panel")
		need("size", `size = ["28 in", "20 in"]`)
	case p.Block.Given:
		inTable(c, p.Block, &c.f.Catalog.Foam, "foam")
		need("size", `size = ["28 in", "6 in", "1 1/2 in"]`)
	case p.Pipe.Given:
		inTable(c, p.Pipe, &c.f.Catalog.Pipe, "pipe")
		need("length", `length = "6 ft"`)
	case p.Coat.Given:
		inTable(c, p.Coat, &c.f.Catalog.Coat, "coat")
		need("area", `area = "15 ft2"`)
	default:
		need("mass", `mass = "7 lb"`)
	}
	if !p.Item.Given {
		extra(p.Mass.Entry, "mass", "a mass only for an item; the tables weigh the rest")
	}
	if !p.Stock.Given {
		extra(p.Wood.Entry, "wood", "a wood only for stock")
	}
	if !p.Coat.Given {
		extra(p.Area.Entry, "area", "an area only for a coat")
	}
	if !p.Stock.Given && !p.Pipe.Given {
		extra(p.Length.Entry, "length", "a length only for stock and pipe")
	}
	if !p.Block.Given {
		extra(p.Cover.Entry, "covered_by", "a cover only for a block of foam")
		extra(p.Heat.Entry, "heat_release", "a heat release only for a block of foam")
	}
	if !p.Sheet.Given && !p.Block.Given && len(p.Size) > 0 {
		extra(p.Size[0].Entry, "size", "a size only for a sheet and a block")
	}
}

func withArticle(word string) string {
	if word == "stock" {
		return word
	}
	return article(word) + " " + word
}

func (c *crossCheck) gates() {
	columns := ofKind(c.pieces(), "column")
	for i := range c.f.Gates {
		g := &c.f.Gates[i]
		label := g.label
		c.refer(g.HungOn, "column", columns, "")
		c.massOf(g.Table, g.Mass, g.Parts, g.has("weighed"))
		if col := c.f.Column(g.HungOn.V); col != nil && g.Height.Given {
			if top := float64(g.Clearance.V + g.Height.V); top > col.Top()+1e-9 && col.Top() > 0 {
				c.report(g.Height.span, "geometry", fmt.Sprintf("%s reaches %s, above the top of column %q at %s", label,
					quantity.Format(quantity.Length(top), c.f.System()), col.Name.V, quantity.Format(quantity.Length(col.Top()), c.f.System())), "a leaf no higher than its column", "")
			}
		}
		if leaf, ok := c.f.Leaf(g); ok && g.Opens.Given && g.Face.Given && math.Abs(math.Sin(faceTurn(g.Opens.V)-leaf.Closed)) < 0.1 {
			c.report(g.Opens.span, "geometry", fmt.Sprintf("%s stands out to the %s and opens to the %s, along itself", label, g.Face.V, g.Opens.V), "a side of the closed leaf", "")
		}
		if out, up := g.Stop[0], g.Stop[1]; given(out, g.Width) && out.V > g.Width.V || given(up, g.Height) && (up.V < g.Clearance.V || up.V > g.Clearance.V+g.Height.V) {
			c.report(out.span, "geometry", fmt.Sprintf("stop of %s, %s out and %s up, is off the leaf", label, out.Text, up.Text), "a place on the leaf", "")
		}
		if h := g.Hinge; h != nil {
			c.fasteners("hinge of "+label, &h.Fasteners)
			if h.LeafInto.Given {
				inTable(c, h.LeafInto, &c.f.Catalog.Wood, "wood")
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
		label := w.label
		c.massOf(w.Table, w.Mass, w.Parts, w.has("weighed"))
		if _, _, _, length := w.Frame(); length < 1e-3 && given(w.From[:]...) && given(w.To[:]...) {
			c.report(w.To[0].span, "geometry", label+" has no length", "two ends apart from each other", "")
		}
		if w.Underside.Given && w.Height.Given && w.Underside.V >= w.Height.V {
			c.report(w.Underside.span, "geometry", fmt.Sprintf("%s has its underside at %s and its top at %s", label, w.Underside.Text, w.Height.Text), "an underside below the top", "")
		}
		if b := w.Braces; b != nil && b.Height.Given && w.Height.Given && b.Height.V > w.Height.V {
			c.report(b.Height.span, "geometry", fmt.Sprintf("braces of %s reach %s, above its top at %s", label, b.Height.Text, w.Height.Text), "braces that end on the wall", "")
		}
		if b := w.Braces; b != nil {
			for _, end := range []*Fastening{b.Head, b.Toe} {
				if end != nil {
					c.fastening(end.Table, &end.Fasteners)
				}
			}
		}
		for _, j := range w.Joined {
			if j.Given && j.V == w.Name.V {
				c.report(j.span, "reference", label+" is joined to itself", "another piece", "")
				continue
			}
			c.refer(j, "column or wall", joinable, w.Name.V)
		}
		if w.Fixing != nil {
			if !w.has("joined") {
				c.report(w.Fixing.span, "reference", label+" has fastenings and is joined to nothing", `joined = ["the piece that they hold it to"]`, "")
			}
			c.fixing(label, w.Fixing, float64(w.Underside.V), w.Height)
			for _, j := range w.Joined {
				c.reaches(w, j)
			}
		}
	}
}

// fixing reports fastenings that lie off a piece.
func (c *crossCheck) fixing(label string, f *Fixing, bottom float64, top Measure[quantity.Length]) {
	for _, h := range f.Heights {
		if v := float64(h.V); h.Given && top.Given && (v < bottom-1e-9 || v > float64(top.V)+1e-9) {
			c.report(h.span, "geometry", fmt.Sprintf("fastening of %s at %s is off the piece", label, h.Text),
				fmt.Sprintf("between %s and %s above the ground", quantity.Format(quantity.Length(bottom), c.f.System()), quantity.Format(top.V, c.f.System())), "")
		}
	}
	described := f.has("bolts") || f.has("screws")
	switch {
	case f.has("hold") && described:
		c.report(f.Hold.span, "conflict", f.label+" has both a hold and bolts or screws", "one of them", "")
	case described:
		c.fastening(f.Table, &f.Fasteners)
		if !f.has("through") {
			c.report(f.span, "missing-key", f.label+" does not say what its fasteners go through", `through = "3/4 in"`, "")
		}
	case !f.has("hold"):
		c.report(f.span, "missing-key", f.label+" does not say what a fastening holds", `hold = "150 lbf", or bolts or screws with their sizes`, "")
	}
}

// fasteners reports bolts and screws that are described in two ways.
func (c *crossCheck) fasteners(label string, f *Fasteners) {
	if f.Into.Given {
		inTable(c, f.Into, &c.f.Catalog.Wood, "wood")
	}
	if f.Bolts.Given && f.Screws.Given {
		c.report(f.Bolts.span, "conflict", label+" has both bolts and screws", "one of them", "")
		return
	}
	stray := func(e Entry, key, what string) {
		if e.Given {
			c.report(e.span, "conflict", fmt.Sprintf("%s is of %s and has a %s", label, what, key), "no "+key, "")
		}
	}
	if f.Bolts.Given {
		stray(f.Gauge.Entry, "gauge", "bolts")
		stray(f.Length.Entry, "length", "bolts")
	} else if f.Screws.Given {
		stray(f.Washer.Entry, "washer", "screws")
	}
	if f.Gauge.Given && f.Size.Given {
		c.report(f.Size.span, "conflict", label+" has both a gauge and a size", "one of them", "")
	}
}

// fastening reports bolts and screws of which something is missing.
func (c *crossCheck) fastening(t Table, f *Fasteners) {
	c.fasteners(t.label, f)
	need := func(ok bool, key, example string) {
		if !ok {
			c.report(t.span, "missing-key", fmt.Sprintf("%s lacks %q", t.label, key), example, "")
		}
	}
	switch {
	case t.has("bolts"):
		need(t.has("size"), "size", `size = "3/8 in"`)
	case t.has("screws"):
		need(t.has("gauge") || t.has("size"), "gauge", `gauge = 10, or size = "6 mm"`)
		need(t.has("length"), "length", `length = "2 1/2 in"`)
	default:
		c.report(t.span, "missing-key", t.label+" has neither bolts nor screws", `bolts = 1, size = "3/8 in", or screws = 3, gauge = 10, length = "2 1/2 in"`, "")
	}
	need(t.has("thickness"), "thickness", `thickness = "1 1/2 in"`)
}

// closeBy is how far apart pieces may stand that are fastened to each other, m.
const closeBy = 0.3

// reaches reports a piece that stands too far from a wall to be fastened to it.
func (c *crossCheck) reaches(w *Wall, j Word) {
	var others []Polygon
	if col := c.f.Column(j.V); col != nil && col.shaped() {
		others = append(others, col.FootOutline())
		for k := range col.Sections {
			others = append(others, col.Sections[k].Outline(col))
		}
	} else if k := c.f.Wall(j.V); k != nil && k.stands() {
		others = append(others, k.SillOutline())
	}
	if len(others) == 0 || !w.stands() {
		return
	}
	gap := math.Inf(1)
	for _, other := range others {
		gap = math.Min(gap, -penetration(w.SillOutline(), other))
	}
	if gap > closeBy {
		c.report(j.span, "geometry", fmt.Sprintf("%s is fastened to %q, which stands %s away", w.label, j.V, quantity.Format(quantity.Length(gap), c.f.System())),
			"a piece that touches the wall", "")
	}
}

func (c *crossCheck) spans() {
	columns := ofKind(c.pieces(), "column")
	for i := range c.f.Spans {
		s := &c.f.Spans[i]
		label := s.label
		c.massOf(s.Table, s.Mass, s.Parts, s.has("weighed"))
		if n := len(s.Between); n > 0 && n != 2 {
			c.report(s.Between[0].span, "wrong-count", fmt.Sprintf("%s is carried by %s", label, plural(n, "column")), "two columns", "")
		}
		for _, w := range s.Between {
			c.refer(w, "column", columns, "")
		}
		if s.Fixing != nil && s.Underside.Given && s.Face[1].Given {
			top := s.Face[1]
			top.V += s.Underside.V
			c.fixing(label, s.Fixing, float64(s.Underside.V), top)
		}
		if len(s.Between) == 2 && s.Between[0].V == s.Between[1].V && s.Between[0].V != "" {
			c.report(s.Between[1].span, "reference", label+" is carried twice by the same column", "two different columns", "")
		}
		for _, w := range s.Between {
			if col := c.f.Column(w.V); col != nil && s.Underside.Given && col.Top() > 0 && float64(s.Underside.V) > col.Top()+1e-9 {
				c.report(s.Underside.span, "geometry", fmt.Sprintf("%s has its underside at %s, above the top of column %q", label, s.Underside.Text, col.Name.V), "an underside no higher than its columns", "")
			}
		}
	}
}

// mostFastened is the most bodies that may be fastened to each other. They are checked together, as
// one thing that can come apart in every way.
const mostFastened = 40

// fastened reports pieces that are fastened to too many others: pieces and what they name, as far as that goes.
func (c *crossCheck) fastened() {
	leader := map[string]string{}
	var lead func(name string) string
	lead = func(name string) string {
		next, ok := leader[name]
		if !ok || next == name {
			return name
		}
		leader[name] = lead(next)
		return leader[name]
	}
	bodies := map[string]int{} // of a leader
	count := func(name string) int {
		if n, ok := bodies[name]; ok {
			return n
		}
		if col := c.f.Column(name); col != nil {
			return max(1, len(col.Sections))
		}
		return 1
	}
	join := func(at Entry, label, a, b string) {
		a, b = lead(a), lead(b)
		if a == b || a == "" || b == "" {
			return
		}
		was, n := max(count(a), count(b)), count(a)+count(b)
		leader[b], bodies[a] = a, n
		if was <= mostFastened && n > mostFastened {
			c.report(at.span, "too-large", fmt.Sprintf("%s makes one thing of %d pieces and sections that are fastened to each other", label, n), fmt.Sprintf("at most %d", mostFastened),
				"leave a fastening out where the row may end, or describe its parts in files of their own")
		}
	}
	for i := range c.f.Walls {
		w := &c.f.Walls[i]
		for _, j := range w.Joined {
			if w.Fixing != nil {
				join(j.Entry, w.label, w.Name.V, j.V)
			}
		}
	}
	for i := range c.f.Spans {
		if s := &c.f.Spans[i]; s.Fixing != nil && len(s.Between) == 2 {
			join(s.Between[1].Entry, s.label, s.Between[0].V, s.Between[1].V)
		}
	}
}

func (c *crossCheck) ballasts() {
	holders := ofKind(c.pieces(), "column", "wall")
	for i := range c.f.Ballasts {
		b := &c.f.Ballasts[i]
		switch {
		case b.Unit.Given && b.Mass.Given:
			c.report(b.Mass.span, "conflict", b.label+" has both a unit and a mass", "one of them", "")
		case !b.has("unit") && !b.has("mass"):
			c.report(b.span, "missing-key", b.label+" says neither unit nor mass", `unit = "sandbag 40 lb" or mass = "40 lb"`, "")
		}
		inTable(c, b.Unit, &c.f.Catalog.Ballast, "ballast")
		if !c.refer(b.In, "column or wall", holders, "") {
			continue
		}
		if col := c.f.Column(b.In.V); col != nil {
			if b.Place.Given {
				c.report(b.Place.span, "conflict", fmt.Sprintf("%s lies in column %q and has a place", b.label, col.Name.V), `a section, as in section = "plinth"; a place is for walls`, "")
			}
			var sections []string
			for k := range col.Sections {
				sections = append(sections, col.Sections[k].Name.V)
			}
			c.refer(b.Section, "section of "+col.label, choiceOf(sections), "")
			continue
		}
		w := c.f.Wall(b.In.V)
		if b.Section.Given {
			c.report(b.Section.span, "conflict", fmt.Sprintf("%s lies in wall %q and has a section", b.label, b.In.V), `place = "base" or place = "toes"`, "")
		}
		if b.Place.V == "toes" && w != nil && w.Braces == nil {
			c.report(b.Place.span, "reference", fmt.Sprintf("wall %q has no braces and so no toes", b.In.V), `place = "base"`, "")
		}
		if b.Place.V == "returns" && w != nil && (!w.Return.Given || w.Braces != nil) {
			c.report(b.Place.span, "reference", fmt.Sprintf("wall %q has no returns that ballast could lie over: none, or braces as well", b.In.V), `place = "base", or "toes" where there are braces`, "")
		}
	}
}

func (c *crossCheck) guys() {
	holders := ofKind(c.pieces(), "column", "wall")
	for i := range c.f.Guys {
		g := &c.f.Guys[i]
		c.refer(g.From, "column or wall", holders, "")
		if !g.has("anchor") && !g.has("pull_tested") {
			c.report(g.span, "missing-key", g.label+" says nothing of its anchor", `anchor = "steel stake 30 in, firm soil" or pull_tested = "120 lbf"`, "")
		}
	}
}

func (c *crossCheck) ways() {
	for i := range c.f.Ways {
		w := &c.f.Ways[i]
		if len(w.Line) == 1 {
			c.report(w.Line[0][0].span, "wrong-count", w.label+" has one point", "two points or more, in the direction of travel", "")
		}
		if n := len(w.Line); n > 1 && !slices.ContainsFunc(w.Line, func(p Point) bool { return p.XY() != w.Line[0].XY() }) {
			c.report(w.Line[1][0].span, "conflict", w.label+" leads nowhere: its points are all in one place", "two places, in the direction of travel", "")
		}
	}
}

func (c *crossCheck) power() {
	feeders, supplies := ofKind(c.feeders(), "supply", "cord"), ofKind(c.feeders(), "supply")
	for i := range c.f.Supplies {
		s := &c.f.Supplies[i]
		if s.Phases.Given && s.Phases.V != 1 && s.Phases.V != 3 {
			c.report(s.Phases.span, "choice", fmt.Sprintf("%s has %s", s.label, plural(s.Phases.V, "phase")), "1 or 3", "")
		}
		if s.DC.V && s.Phases.V == 3 {
			c.report(s.DC.span, "conflict", s.label+" is direct current with three phases", "one of them", "")
		}
		c.supply(s)
	}
	for i := range c.f.Cords {
		k := &c.f.Cords[i]
		label := k.label
		switch {
		case supplies.has[k.From.V]:
		case k.From.Given && k.From.V == k.Name.V:
			c.report(k.From.span, "cord-loop", label+" is fed by itself", "the supply or the other cord that it is plugged into", "")
		default:
			c.refer(k.From, "supply or cord", feeders, k.Name.V)
		}
		if !k.has("gauge") && !k.has("ohm_per_km") {
			c.report(k.span, "missing-key", label+" lacks its conductor size", `gauge = "16 AWG", or ohm_per_km with ampacity`, "the size is printed on the jacket, as in 16/3")
		}
		if k.Gauge.Given && !k.OhmPerKm.Given {
			if _, ok := c.f.Conductor(k); !ok {
				c.report(k.Gauge.span, "catalog", fmt.Sprintf("%q of %s is not in the table \"conductor\"", k.Gauge.Text, label), "a size that `galefast list conductor` prints",
					fmt.Sprintf("the nearest are %s", strings.Join(quoteAll(c.nearestSizes(k)), " and ")))
			}
		}
		inTable(c, k.Type, &c.f.Catalog.CordType, "cordtype")
		if k.Layers.Given && k.has("coiled") && !k.Coiled.V {
			c.report(k.Layers.span, "conflict", label+" has layers on a drum and is not coiled", "one of them", "")
		}
		if n := len(k.Route); n == 1 {
			c.report(k.Route[0][0].span, "wrong-count", label+" has a route of one point", "two points or more", "")
		}
	}
	if c.cordLoops() && c.inRow() {
		c.legs()
	}
	for i := range c.f.Lamps {
		l := &c.f.Lamps[i]
		label := l.label
		c.refer(l.On, "supply or cord", feeders, "")
		inTable(c, l.Device, &c.f.Catalog.Device, "device")
		if l.Watts.Given && l.Amps.Given {
			c.report(l.Amps.span, "conflict", label+" has both watts and amps", "one of them", "")
		}
		if !l.has("watts") && !l.has("amps") && !l.has("device") {
			c.report(l.span, "missing-key", label+" says nothing of its power", `watts = 9, amps = 0.5 or device = "..."`, "it is on the label of the lamp or its power supply")
		}
	}
}

// kindKeys are the keys of a supply that only some kinds of it have.
func (s *Supply) kindKeys() []struct {
	entry Entry
	key   string
	kinds []string
} {
	return []struct {
		entry Entry
		key   string
		kinds []string
	}{
		{s.Rated.Entry, "rated", []string{"generator"}}, {s.Surge.Entry, "surge", []string{"generator"}},
		{s.Altitude.Entry, "altitude", []string{"generator"}}, {s.Fuel.Entry, "fuel", []string{"generator"}},
		{s.RatedVA.Entry, "rated_va", []string{"generator", "transformer"}},
		{s.Capacity.Entry, "capacity", []string{"battery"}}, {s.Depth.Entry, "depth", []string{"battery"}},
		{s.Efficiency.Entry, "efficiency", []string{"battery"}}, {s.Idle.Entry, "idle", []string{"battery"}},
	}
}

// supply reports what one supply says twice, or of another kind of supply.
func (c *crossCheck) supply(s *Supply) {
	if s.SplitPhase.V && (s.DC.V || s.Phases.V == 3) {
		c.report(s.SplitPhase.span, "conflict", s.label+" is split-phase and direct current or three-phase", "one of them", "")
	}
	if s.Curve.Given && s.Trip.Given {
		c.report(s.Trip.span, "conflict", s.label+" has both a curve and a trip of its own", "one of them", "")
	}
	if s.GFCITrip.Given && s.GFCI.Given && !s.GFCI.V {
		c.report(s.GFCITrip.span, "conflict", s.label+" has a trip current and no GFCI or RCD", "gfci = true, or no gfci_trip", "")
	}
	if given(s.Rated, s.Surge) && s.Surge.V < s.Rated.V {
		c.report(s.Surge.span, "range", s.label+" gives less for seconds than for hours", "a surge of at least its rated power", "")
	}
	for _, k := range s.kindKeys() {
		if kind := cmp.Or(s.Kind.V, "outlet"); k.entry.Given && s.has("kind") == s.Kind.Given && !slices.Contains(k.kinds, kind) {
			c.report(k.entry.span, "conflict", fmt.Sprintf("%q belongs to a %s, and %s is %s %s", k.key, strings.Join(k.kinds, " or "), s.label, article(kind), kind),
				fmt.Sprintf("kind = %q", k.kinds[0]), "")
		}
	}
}

// legs reports connections to legs that are not there.
func (c *crossCheck) legs() {
	supplies, cords := map[string]*Supply{}, map[string]*Cord{}
	for i := range c.f.Supplies {
		supplies[c.f.Supplies[i].Name.V] = &c.f.Supplies[i]
	}
	for i := range c.f.Cords {
		cords[c.f.Cords[i].Name.V] = &c.f.Cords[i]
	}
	check := func(label string, leg Word, from string) {
		if !leg.Given {
			return // of a lamp, see below
		}
		for range len(c.f.Cords) + 1 {
			if s := supplies[from]; s != nil {
				switch {
				case !s.SplitPhase.V && s.Phases.V != 3:
					c.report(leg.span, "reference", fmt.Sprintf("%s is on leg %s, and %s has no legs", label, leg.V, s.label), "no leg, or split_phase = true on the supply", "")
				case s.SplitPhase.V && leg.V != "1" && leg.V != "2" && leg.V != "1-2":
					c.report(leg.span, "reference", fmt.Sprintf("%s is on leg %s, and %s has two", label, leg.V, s.label), `leg = "1", "2" or "1-2"`, "")
				}
				return
			}
			k := cords[from]
			if k == nil {
				return // reported as a reference
			}
			if k.Leg.Given && k.Leg.V != leg.V {
				c.report(leg.span, "conflict", fmt.Sprintf("%s is on leg %s, and %s that feeds it on leg %s", label, leg.V, k.label, k.Leg.V), "the leg of the cord, or none", "")
				return
			}
			from = k.From.V
		}
	}
	for i := range c.f.Cords {
		k := &c.f.Cords[i]
		check(k.label, k.Leg, k.From.V)
	}
	for i := range c.f.Lamps {
		l := &c.f.Lamps[i]
		check(l.label, l.Leg, l.On.V)
		told := l.has("leg")
		from := l.On.V
		for range len(c.f.Cords) + 1 {
			k := cords[from]
			if k == nil || supplies[from] != nil {
				break
			}
			told = told || k.has("leg")
			from = k.From.V
		}
		if s := supplies[from]; s != nil && s.SplitPhase.V && !told {
			c.report(l.span, "missing-key", fmt.Sprintf("%s does not say on which leg of %s it is", l.label, s.label), `leg = "1" or "2" on it or on its cord, or "1-2" from leg to leg`, "")
		}
	}
}

// nearestSizes are the two rows of the conductors table nearest to a cord's size.
func (c *crossCheck) nearestSizes(k *Cord) []string {
	rows := c.f.Catalog.Conductor.All()
	off := func(row catalog.Conductor) float64 { return math.Abs(math.Log(float64(row.Area / k.Gauge.V))) }
	slices.SortStableFunc(rows, func(a, b catalog.Conductor) int { return cmp.Compare(off(a), off(b)) })
	var names []string
	for _, row := range rows[:min(len(rows), 2)] {
		names = append(names, row.Name)
	}
	return names
}

// cordLoops reports the cords that feed each other in a ring, once a ring. A cord that
// feeds itself is reported with its reference. It tells whether there is none.
func (c *crossCheck) cordLoops() bool {
	none := true
	byName := map[string]int{}
	for i := range c.f.Cords {
		if name := c.f.Cords[i].Name.V; name != "" {
			byName[name] = i
		}
	}
	for _, name := range ofKind(c.feeders(), "supply").names {
		delete(byName, name)
	}
	walkOf := make([]int, len(c.f.Cords)) // the walk that met the cord, from 1
	for i := range c.f.Cords {
		k, known := i, true
		for known && walkOf[k] == 0 {
			walkOf[k] = i + 1
			k, known = byName[c.f.Cords[k].From.V]
		}
		if !known || walkOf[k] != i+1 {
			continue
		}
		ring := []int{k}
		for next := byName[c.f.Cords[k].From.V]; next != k; next = byName[c.f.Cords[next].From.V] {
			ring = append(ring, next)
		}
		if len(ring) == 1 {
			continue
		}
		var names []string
		for _, n := range ring {
			names = append(names, c.f.Cords[n].Name.V)
		}
		c.report(c.f.Cords[k].From.span, "cord-loop", fmt.Sprintf("cords %s feed each other in a ring", strings.Join(quoteAll(names), ", ")),
			"a chain of cords that ends at a supply", "plug one of them into a supply")
		none = false
	}
	return none
}

// mostInRow is the most cords that may be plugged one into the other.
const mostInRow = 100

// mostOnSupply is the most cords on one supply: their sizes are sought together.
const mostOnSupply = 200

// inRow reports the cords that are one too many in a row or on a supply, and whether there is none.
func (c *crossCheck) inRow() bool {
	byName := map[string]int{}
	for i := range c.f.Cords {
		byName[c.f.Cords[i].Name.V] = i
	}
	for i := range c.f.Supplies {
		delete(byName, c.f.Supplies[i].Name.V)
	}
	short := true
	place := make([]int, len(c.f.Cords))   // in its row, from 1
	root := make([]string, len(c.f.Cords)) // the supply
	on := map[string]int{}                 // cords on it
	for i := range c.f.Cords {
		var row []int
		k, known, before, from := i, true, 0, ""
		for known && place[k] == 0 {
			place[k] = 1
			row = append(row, k)
			from = c.f.Cords[k].From.V
			k, known = byName[from]
		}
		if known {
			before, from = place[k], root[k]
		}
		for j, k := range slices.Backward(row) {
			root[k] = from
			if on[from]++; on[from] == mostOnSupply+1 && from != "" {
				short = false
				c.report(c.f.Cords[k].From.span, "too-large", fmt.Sprintf("%s is cord number %d on %q", c.f.Cords[k].label, on[from], from), fmt.Sprintf("at most %d on one supply", mostOnSupply), "")
			}
			place[k] = before + len(row) - j
			if place[k] == mostInRow+1 {
				short = false
				c.report(c.f.Cords[k].From.span, "cord-row", fmt.Sprintf("%s is number %d of the cords that are plugged one into the other", c.f.Cords[k].label, place[k]),
					fmt.Sprintf("at most %d", mostInRow), "")
			}
		}
	}
	return short
}

// Geometry

// slack is how far outlines may overlap before it is reported, m: drawings are
// not that exact.
const slack = 0.010

// given reports whether every one of the values can be used.
func given[Q quantity.Quantity](values ...Measure[Q]) bool {
	for i := range values {
		if !values[i].Given {
			return false
		}
	}
	return true
}

// sized is given with a value above zero.
func sized[Q quantity.Quantity](values ...Measure[Q]) bool {
	for i := range values {
		if !values[i].Given || !(values[i].V > 0) {
			return false
		}
	}
	return true
}

// usable reports whether the value is there, as given or as its default.
func usable[Q quantity.Quantity](t Table, key string, value Measure[Q]) bool {
	return value.Given || !t.has(key)
}

// stands reports whether the foot of the column is known.
func (c *Column) stands() bool {
	return given(c.Center[:]...) && sized(c.Foot[:]...) && usable(c.Table, "turn", c.Turn)
}

// shaped reports whether every section of the column is known, besides its place.
func (c *Column) shaped() bool {
	for i := range c.Sections {
		s := &c.Sections[i]
		if !sized(s.Width, s.Height) || s.Shape.V == "rectangle" && !sized(s.Depth) {
			return false
		}
	}
	return len(c.Sections) > 0 && given(c.Center[:]...) && usable(c.Table, "turn", c.Turn)
}

// stands reports whether the sill of the wall is known.
func (w *Wall) stands() bool {
	_, _, _, length := w.Frame()
	return given(w.From[:]...) && given(w.To[:]...) && length > 0 && w.SillWidth() > 0 &&
		usable(w.Table, "foot", w.Foot) && usable(w.Table, "thickness", w.Thickness)
}

func (c *crossCheck) overlaps() {
	type placed struct {
		Table
		name    Word
		outline Polygon
		joined  []Word
		middle  [2]float64
		reach   float64 // of the outline from its middle
	}
	var all []placed
	for i := range c.f.Columns {
		if col := &c.f.Columns[i]; col.stands() {
			all = append(all, placed{col.Table, col.Name, col.FootOutline(), nil, col.Center.XY(), math.Hypot(float64(col.Foot[0].V), float64(col.Foot[1].V)) / 2})
		}
	}
	for i := range c.f.Walls {
		if w := &c.f.Walls[i]; w.stands() {
			_, _, _, length := w.Frame()
			all = append(all, placed{w.Table, w.Name, w.SillOutline(), w.Joined, w.Middle(), math.Hypot(length, w.SillWidth()) / 2})
		}
	}
	joined := func(a, b *placed) bool {
		return slices.ContainsFunc(a.joined, func(j Word) bool { return j.V != "" && j.V == b.name.V })
	}
	// From west to east, each against those whose eastern end it has not passed.
	slices.SortStableFunc(all, func(a, b placed) int { return cmp.Compare(a.middle[0]-a.reach, b.middle[0]-b.reach) })
	var near []*placed
	for i := range all {
		b := &all[i]
		near = slices.DeleteFunc(near, func(a *placed) bool { return a.middle[0]+a.reach < b.middle[0]-b.reach })
		for _, a := range near {
			if c.full() {
				return
			}
			b := b
			if a.span.start > b.span.start {
				a, b = b, a
			}
			if math.Abs(a.middle[1]-b.middle[1]) > a.reach+b.reach || math.Hypot(a.middle[0]-b.middle[0], a.middle[1]-b.middle[1]) > a.reach+b.reach {
				continue
			}
			depth := penetration(a.outline, b.outline)
			if depth <= slack || joined(a, b) || joined(b, a) {
				continue
			}
			p := c.report(b.span, "overlap", fmt.Sprintf("%s overlaps %s in plan by %s", b.label, a.label,
				quantity.Format(quantity.Length(depth), c.f.System())), "pieces that stand clear of each other",
				"a column is placed by the middle of its foot, a wall by its middle line; a wall fastened to a piece names it under `joined`")
			p.Also = append(p.Also, Note{Place: a.At, Message: a.label + " is here"})
		}
		near = append(near, b)
	}
}

// openings reports closed leaves that are wider than the gap which they close:
// from the hinge to the next column in their direction, shared by two leaves that
// face each other.
func (c *crossCheck) openings() {
	type closed struct {
		*Gate
		leaf   Leaf
		gap    float64
		beyond string // the column at the far side of the opening
	}
	var all []closed
	columns := c.shapedColumns()
	for i := range c.f.Gates {
		g := &c.f.Gates[i]
		col := c.f.Column(g.HungOn.V)
		if col == nil || !col.shaped() || !sized(g.Width, g.Height) || !g.Face.Given || !usable(g.Table, "clearance", g.Clearance) {
			continue
		}
		leaf, _ := c.f.Leaf(g)
		if gap, beyond := opening(g, leaf, columns); beyond != "" {
			all = append(all, closed{g, leaf, gap, beyond})
		}
	}
	on := map[string][]int{}
	for i, g := range all {
		on[g.HungOn.V] = append(on[g.HungOn.V], i)
	}
	for i, g := range all {
		if c.full() {
			return
		}
		width, label := float64(g.Width.V), g.label
		met := false // by a leaf from the other side, with which it was reported
		for _, k := range on[g.beyond] {
			o := all[k]
			if g.HungOn.V != o.beyond || math.Cos(o.leaf.Closed-g.leaf.Closed) > -0.99 {
				continue
			}
			met = met || k < i
			width += float64(o.Width.V)
			label = fmt.Sprintf("gates %q and %q together", g.Name.V, o.Name.V)
			if met || width > g.gap+slack/2 {
				break
			}
		}
		if met || width <= g.gap+slack/2 {
			continue
		}
		system := c.f.System()
		c.report(g.Width.span, "geometry", fmt.Sprintf("%s: %s wide in an opening of %s", label,
			quantity.Format(quantity.Length(width), system), quantity.Format(quantity.Length(g.gap), system)),
			fmt.Sprintf("at most the %s between columns %q and %q", quantity.Format(quantity.Length(g.gap), system), g.HungOn.V, g.beyond), "")
	}
}

// around is a column with a circle around all its sections.
type around struct {
	*Column
	middle [2]float64
	reach  float64
}

func (c *crossCheck) shapedColumns() []around {
	var list []around
	for i := range c.f.Columns {
		col := &c.f.Columns[i]
		if !col.shaped() {
			continue
		}
		a := around{Column: col, middle: col.Center.XY()}
		for k := range col.Sections {
			w, d := col.Sections[k].Size()
			a.reach = math.Max(a.reach, math.Hypot(w, d)/2)
		}
		list = append(list, a)
	}
	return list
}

// opening is the gap in front of a closed leaf, m, and the column beyond it.
func opening(g *Gate, leaf Leaf, columns []around) (gap float64, beyond string) {
	s, co := math.Sincos(leaf.Closed)
	gap = math.Inf(1)
	for i := range columns {
		col := &columns[i]
		dx, dy := col.middle[0]-leaf.Hinge[0], col.middle[1]-leaf.Hinge[1]
		if math.Abs(dy*co-dx*s) > col.reach || dx*co+dy*s-col.reach > gap || col.Name.V == g.HungOn.V {
			continue
		}
		along, aside := math.Inf(1), [2]float64{math.Inf(1), math.Inf(-1)}
		for _, p := range col.sectionAt(float64(g.Clearance.V + g.Height.V/2)).Outline(col.Column) {
			dx, dy := p[0]-leaf.Hinge[0], p[1]-leaf.Hinge[1]
			along = math.Min(along, dx*co+dy*s)
			d := dy*co - dx*s
			aside[0], aside[1] = math.Min(aside[0], d), math.Max(aside[1], d)
		}
		if along > 0 && aside[0] < 0 && aside[1] > 0 && along < gap {
			gap, beyond = along, col.Name.V
		}
	}
	return gap, beyond
}
