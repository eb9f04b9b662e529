package check

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"galefast/internal/quantity"
	"galefast/internal/site"
	"galefast/internal/verdict"
	"galefast/internal/way"
)

// passage is one way with the figures that it is held to.
type passage struct {
	w      *site.Way
	name   string
	line   []way.Point
	family string
	people float64 // infinite where the file does not say

	width, headroom, overhead way.Rule

	ahead [2]float64 // how far one can walk straight on beyond its start and its end, m
}

// rule finds a figure for so many people or watts and lists it among the assumptions.
func (j *job) rule(family, name, what string, of float64) (way.Rule, bool) {
	r, ok := way.Find(family, name, of)
	if !ok {
		return r, false
	}
	text := fmt.Sprintf("%s by %s: %s", what, r.Clause, r.Text)
	if r.Note != "" {
		text += " (" + r.Note + ")"
	}
	j.takeOnce(text, r.Source, r.Certainty)
	return r, true
}

// takeOnce takes an assumption unless it has been taken already.
func (j *job) takeOnce(text, source, certainty string) {
	if !slices.ContainsFunc(j.taken, func(a verdict.Assumption) bool { return a.Text == text }) {
		j.take(text, source, certainty)
	}
}

// rulesOf is the family of figures for a way: its own, else that of the first way which has
// one, else by the units of the file.
func (j *job) rulesOf(w *site.Way) string {
	if w != nil && w.Rules.Given {
		return w.Rules.V
	}
	for i := range j.f.Ways {
		if o := &j.f.Ways[i]; o.Rules.Given {
			return o.Rules.V
		}
	}
	if j.f.System() == quantity.US {
		return "us"
	}
	return "metric"
}

// passages reads the ways of the file.
func (j *job) passages() []passage {
	var list []passage
	for i := range j.f.Ways {
		w := &j.f.Ways[i]
		p := passage{w: w, name: w.Name.V, family: j.rulesOf(w), people: math.Inf(1)}
		if w.People.Given {
			p.people = float64(w.People.V)
		}
		for _, at := range w.Line {
			p.line = append(p.line, at.XY())
		}
		p.overhead, _ = way.Find(p.family, "overhead", 0)
		p.width = j.wayFigure(w.Width, p, "width", "clear width of a way")
		p.headroom = j.wayFigure(w.Headroom, p, "headroom", "headroom over a way")
		list = append(list, p)
	}
	return list
}

// wayFigure is a published figure, unless the file says what the authority asks for.
func (j *job) wayFigure(own site.Measure[quantity.Length], p passage, name, what string) way.Rule {
	if own.Given {
		return way.Rule{Value: float64(own.V), Text: own.Text, Clause: "asked for by the file", Certainty: "given in the site file"}
	}
	r, _ := j.rule(p.family, name, what, p.people)
	return r
}

// way checks the ways through.
func (j *job) way() {
	first := len(j.report.Checks)
	list := j.passages()
	open, ropes := j.floor(false), j.ropes()
	loose := open
	free := slices.ContainsFunc(j.f.Gates, func(g site.Gate) bool { return !heldOpen(&g) && g.Open.V > 0 })
	if free {
		loose = j.floor(true)
	}
	for i := range list {
		p := &list[i]
		p.ahead[0], p.ahead[1] = way.Ahead(p.line, open.things, p.headroom.Value)
	}
	for i := range list {
		p := &list[i]
		row := j.clearWidth(p, "clear width", open, ropes)
		j.headroom(p, open, &row)
		j.capacity(p, &row)
		j.report.Passage.Rows = append(j.report.Passage.Rows, row)
		if free && p.differs(open, loose, ropes) {
			again := j.clearWidth(p, "clear width, leaves loose", loose, ropes)
			again.Leaves, again.People = "loose", row.People
			j.report.Passage.Rows = append(j.report.Passage.Rows, again)
		}
		j.waysOut(list, i)
		j.leaves(p)
		j.crossings(p, ropes)
		j.reaches(p, open)
	}
	switch {
	case len(list) == 0:
		j.unchecked(verdict.Way, "site", "way", "no way is described, so nothing says that people get through and out", "IBC chapter 10", j.f.At)
	default:
		j.take("figures for ways are those of building codes; which of them apply to scenery in the open, and what else, the authority decides", "", "common practice, no source")
		j.take("a way has nothing beside it but what the file describes; fences, stalls, hedges, steps and people who stand still are not in it", "", "common practice, no source")
		if slices.ContainsFunc(j.f.Ballasts, func(b site.Ballast) bool { return j.f.Wall(b.In.V) != nil }) {
			j.take(fmt.Sprintf("ballast of a wall lies up to %s around its spot, half the length of a sandbag of 14 x 26 in", j.length(bagReach)), "US Army Corps of Engineers design fill of a 14x26 in bag", "computed from the size of the bag")
		}
		j.unroutedCords()
	}
	j.fire()
	j.report.Passage.Checks = j.report.Checks[first:]
}

// even takes out of a length what sums of inches leave in its last digits, so that what is
// just enough is enough.
func even(v float64) *float64 {
	v = math.Round(v*1e9) / 1e9
	return &v
}

func (j *job) length(v float64) string { return quantity.Format(quantity.Length(v), j.f.System()) }

// place prints a place in plan.
func (j *job) place(p way.Point) string {
	return fmt.Sprintf("%s east, %s north", j.length(p[0]), j.length(p[1]))
}

// points of the compass, counterclockwise from east.
var compass = [...]string{"east", "north-east", "north", "north-west", "west", "south-west", "south", "south-east"}

func compassOf(v way.Point) string {
	turn := math.Mod(math.Atan2(v[1], v[0])+2*math.Pi, 2*math.Pi)
	return compass[int(math.Round(turn/(math.Pi/4)))%len(compass)]
}

// roundedUp rounds a length up to a whole inch or centimetre.
func (j *job) roundedUp(v float64) float64 {
	unit := 0.01
	if j.f.System() == quantity.US {
		unit = 0.0254
	}
	return math.Ceil(v/unit-1e-6) * unit
}

// lowerThan are the floor's things with the ropes, as far as they count for a way's width.
func (p *passage) lowerThan(f *floor, ropes []rope) *floor {
	return f.below(ropes, p.headroom.Value, p.overhead.Value)
}

// narrowest measures a way.
func (p *passage) narrowest(f *floor) (way.Narrowest, bool, error) {
	return way.Clear(p.line, f.things, p.headroom.Value, p.overhead.Value)
}

// differs reports whether leaves that nothing holds change the width of a way.
func (p *passage) differs(open, loose *floor, ropes []rope) bool {
	n, found, _ := p.narrowest(p.lowerThan(open, ropes))
	m, also, _ := p.narrowest(p.lowerThan(loose, ropes))
	return found != also || n.Width != m.Width
}

// clearWidth checks the narrowest place and tells where it is.
func (j *job) clearWidth(p *passage, what string, bare *floor, ropes []rope) verdict.PassageRow {
	f := p.lowerThan(bare, ropes)
	row := verdict.PassageRow{Way: p.name, Leaves: "open", NeedsM: p.width.Value, HeadroomNeeds: p.headroom.Value, Between: []string{}, At: p.w.Name.At.String()}
	if p.w.People.Given {
		row.People = &p.w.People.V
	}
	n, found, err := p.narrowest(f)
	if err != nil || !found {
		row.Why = "nothing in the file stands on both sides of the line; measure it against fences, hedges and stalls"
		if err != nil {
			row.Why = err.Error()
		}
		j.unchecked(verdict.Way, p.name, what, row.Why, p.width.Clause, p.w.Name.At)
		return row
	}
	a, b := f.things[n.A].Name, f.things[n.B].Name
	row.WidthM, row.AlongM = &n.Width, &n.Along
	row.FromM, row.ToM = (*[2]float64)(&n.From), (*[2]float64)(&n.To)
	row.Between = []string{a, b}
	c := verdict.Check{
		ID: id(verdict.Way, p.name, what), Kind: verdict.Way, Subject: p.name, What: what, Sense: verdict.AtLeast,
		Needs: even(p.width.Value), Has: even(n.Width), Unit: "m", Source: p.width.Clause, At: p.w.Name.At.String(),
		Mechanism: fmt.Sprintf("narrowest between %s and %s, %s along the way", a, b, j.length(n.Along)),
	}
	people := "people not given, so as for any number"
	if p.w.People.Given {
		people = fmt.Sprintf("%d people", p.w.People.V)
	}
	c.Working = []verdict.Step{{
		Text: "clear width asked for, " + people, Formula: "w_min", Numbers: fmt.Sprintf("w_min = %s = %s m", p.width.Text, trim(p.width.Value)),
		Source: p.width.Clause, At: cmp.Or(p.w.Width.At, p.w.Name.At).String(),
	}, {
		Text:    fmt.Sprintf("shortest tape across the line, from %s to %s", a, b),
		Formula: "w = sqrt((x2 - x1)² + (y2 - y1)²)",
		Numbers: fmt.Sprintf("w = sqrt((%.4g - %.4g)² + (%.4g - %.4g)²) = %.4g m", n.To[0], n.From[0], n.To[1], n.From[1], n.Width),
	}}
	if n.Blocked {
		row.Between = []string{a}
		c.Mechanism = fmt.Sprintf("%s stands on the line of the way, %s along it", a, j.length(n.Along))
		c.Working[1] = verdict.Step{Text: c.Mechanism, Formula: "w = 0", Numbers: fmt.Sprintf("w = 0 m at (%.4g, %.4g)", n.From[0], n.From[1])}
	}
	if *c.Has < *c.Needs {
		c.Cure = j.widen(p, f, n)
	}
	j.add(c)
	return row
}

// widen is the cure of a way that is too narrow.
func (j *job) widen(p *passage, f *floor, n way.Narrowest) string {
	leaf := ""
	for _, i := range [2]int{n.A, n.B} {
		if g := j.gate(f.leaf[i]); g != nil && f.loose && !heldOpen(g) {
			leaf = g.Name.V
		}
	}
	short := j.roundedUp(p.width.Value - n.Width)
	switch {
	case leaf != "":
		return fmt.Sprintf(`a keeper that holds %s open while people are inside, as keeper = { open = "hook" }`, leaf)
	case n.Blocked:
		return fmt.Sprintf("lead the way at least %s past %s, or take that away", j.length(p.width.Value/2), f.things[n.A].Name)
	}
	// Of the two pieces, the one that has to be shifted less until the whole way is wide enough.
	u := [2]float64{(n.To[0] - n.From[0]) / n.Width, (n.To[1] - n.From[1]) / n.Width}
	best, far := "", math.Inf(1)
	for k, i := range [2]int{n.B, n.A} {
		owner := f.owner[i]
		if owner == "" || f.owner[n.A] == f.owner[n.B] {
			continue
		}
		towards := u
		if k == 1 {
			towards = [2]float64{-u[0], -u[1]}
		}
		by := short
		for range 8 {
			m, found, err := p.narrowest(f.moved(owner, [2]float64{towards[0] * by, towards[1] * by}))
			if err != nil || m.Blocked {
				break
			}
			if !found || m.Width >= p.width.Value-1e-9 {
				if by < far-1e-9 {
					best, far = fmt.Sprintf("move %s %s %s, with all that it carries", owner, j.length(by), compassOf(towards)), by
				}
				break
			}
			by += j.roundedUp(p.width.Value - m.Width)
		}
	}
	return cmp.Or(best, fmt.Sprintf("%s more between %s and %s", j.length(short), f.things[n.A].Name, f.things[n.B].Name))
}

// gate returns the gate of that name, or nil.
func (j *job) gate(name string) *site.Gate {
	i := slices.IndexFunc(j.f.Gates, func(g site.Gate) bool { return g.Name.V == name })
	if i < 0 {
		return nil
	}
	return &j.f.Gates[i]
}

// headroom checks what hangs over the line.
func (j *job) headroom(p *passage, f *floor, row *verdict.PassageRow) {
	low, found, err := way.Headroom(p.line, f.things, p.overhead.Value)
	if err != nil || !found {
		return
	}
	t := f.things[low.Thing]
	row.HeadroomM, row.Under = &low.Height, t.Name
	row.HeadroomAtM = (*[2]float64)(&low.At)
	c := verdict.Check{
		ID: id(verdict.Way, p.name, "headroom"), Kind: verdict.Way, Subject: p.name, What: "headroom", Sense: verdict.AtLeast,
		Needs: even(p.headroom.Value), Has: even(low.Height), Unit: "m", Source: p.headroom.Clause, At: p.w.Name.At.String(),
		Mechanism: "lowest under " + t.Name,
		Working: []verdict.Step{{
			Text: "headroom asked for", Formula: "h_min", Numbers: fmt.Sprintf("h_min = %s = %s m", p.headroom.Text, trim(p.headroom.Value)), Source: p.headroom.Clause,
			At: cmp.Or(p.w.Headroom.At, p.w.Name.At).String(),
		}, {
			Text:    fmt.Sprintf("the lowest thing over the line whose underside is at %s or more: %s, at (%.4g, %.4g)", p.overhead.Text, t.Name, low.At[0], low.At[1]),
			Formula: "h", Numbers: fmt.Sprintf("h = %.4g m", low.Height), Source: p.overhead.Clause,
		}},
	}
	if *c.Has < *c.Needs {
		c.Cure = fmt.Sprintf("raise %s by %s", t.Name, j.length(j.roundedUp(p.headroom.Value-low.Height)))
	}
	j.add(c)
}

// capacity checks that the people get through the narrowest place.
func (j *job) capacity(p *passage, row *verdict.PassageRow) {
	r, _ := j.rule(p.family, "capacity", "width of a way for each person", p.people)
	if row.WidthM != nil {
		n := int(math.Floor(*row.WidthM/r.Value + 1e-9))
		row.Capacity = &n
	}
	switch {
	case !p.w.People.Given:
		j.unchecked(verdict.Way, p.name, "capacity", "the file does not say how many people are inside at most (people of the way)", r.Clause, p.w.Name.At)
		return
	case row.Capacity == nil:
		j.unchecked(verdict.Way, p.name, "capacity", "its width is not known", r.Clause, p.w.Name.At)
		return
	}
	needs, has := p.people, float64(*row.Capacity)
	c := verdict.Check{
		ID: id(verdict.Way, p.name, "capacity"), Kind: verdict.Way, Subject: p.name, What: "capacity", Sense: verdict.AtLeast,
		Needs: &needs, Has: &has, Unit: "people", Source: r.Clause, At: p.w.People.At.String(),
		Working: []verdict.Step{{
			Text: "people for whom the narrowest place is wide enough", Formula: "n = w / width of one",
			Numbers: fmt.Sprintf("n = %.4g / %.4g = %d people", *row.WidthM, r.Value, *row.Capacity), Source: r.Clause,
		}},
	}
	if has < needs {
		c.Cure = fmt.Sprintf("at most %d people at once, or %s wide at its narrowest", *row.Capacity, j.length(j.roundedUp(needs*r.Value)))
	}
	j.add(c)
}

// meets reports whether an end of a line lies on another way, or within a hand of it.
func meets(end way.Point, other []way.Point) bool {
	d, _, _ := way.Apart(other, &way.Thing{Outline: []way.Point{end, end}})
	return d <= 0.1
}

// waysOut counts the open ends of a way and of those that it is joined to, and measures an
// end at which nobody can go on.
func (j *job) waysOut(list []passage, at int) {
	p := &list[at]
	joined := []int{at}
	for k := 0; k < len(joined); k++ {
		for i := range list {
			if !slices.Contains(joined, i) && joinedTo(list[joined[k]].line, list[i].line) {
				joined = append(joined, i)
			}
		}
	}
	out := 0.0
	var shut []string
	for _, i := range joined {
		q := &list[i]
		for k, free := range q.ahead {
			tip := q.line[k*(len(q.line)-1)]
			junction := slices.ContainsFunc(joined, func(o int) bool { return o != i && meets(tip, list[o].line) })
			switch {
			case junction:
			case free >= q.width.Value:
				out++
			default:
				shut = append(shut, fmt.Sprintf("the %s of %s is shut after %s", [2]string{"start", "end"}[k], q.name, j.length(free)))
				if i == at {
					j.deadEnd(list, joined, at, k, free)
				}
			}
		}
	}
	if !p.w.People.Given {
		j.unchecked(verdict.Way, p.name, "ways out", "the file does not say how many people are inside at most (people of the way)", "", p.w.Name.At)
		return
	}
	r, _ := j.rule(p.family, "ways out", "number of ways out", p.people)
	c := verdict.Check{
		ID: id(verdict.Way, p.name, "ways out"), Kind: verdict.Way, Subject: p.name, What: "ways out", Sense: verdict.AtLeast,
		Needs: &r.Value, Has: &out, Unit: "1", Source: r.Clause, At: p.w.People.At.String(), Mechanism: strings.Join(shut, "; "),
		Working: []verdict.Step{{
			Text:    "open ends of the way and of the ways that it is joined to; the way in is counted, since people can leave by it",
			Formula: "n", Numbers: fmt.Sprintf("n = %.0f, and %d people ask for %.0f", out, p.w.People.V, r.Value), Source: r.Clause,
		}},
	}
	if out < r.Value {
		c.Cure = fmt.Sprintf("%.0f more way out", r.Value-out)
		if most, ok := peopleFor(p.family, out); ok {
			c.Cure += fmt.Sprintf(", or at most %.0f people at once", most)
		}
	}
	j.add(c)
}

// peopleFor is the greatest number of people for so many ways out.
func peopleFor(family string, out float64) (float64, bool) {
	most := 0.0
	for _, r := range way.Rules() {
		if r.Family == family && r.Name == "ways out" && r.Value <= out {
			most = math.Max(most, r.UpTo)
		}
	}
	return most, most > 0
}

// joinedTo reports whether one can turn from one way into the other.
func joinedTo(a, b []way.Point) bool {
	if len(way.Crossings(a, b)) > 0 {
		return true
	}
	for _, l := range [2][2][]way.Point{{a, b}, {b, a}} {
		if meets(l[0][0], l[1]) || meets(l[0][len(l[0])-1], l[1]) {
			return true
		}
	}
	return false
}

// deadEnd checks how far people must go back from a shut end to where they can choose.
func (j *job) deadEnd(list []passage, joined []int, at, end int, free float64) {
	p := &list[at]
	r, _ := j.rule(p.family, "dead end", "length of a dead end", p.people)
	line := slices.Clone(p.line)
	if end == 0 {
		slices.Reverse(line)
	}
	whole := way.Length(line)
	back := whole
	for _, i := range joined {
		if i == at {
			continue
		}
		for _, x := range way.Crossings(line, list[i].line) {
			back = math.Min(back, whole-x.Along)
		}
	}
	back += free
	what := "dead end at its " + [2]string{"start", "end"}[end]
	c := verdict.Check{
		ID: id(verdict.Way, p.name, what), Kind: verdict.Way, Subject: p.name, What: what, Sense: verdict.AtMost,
		Needs: even(r.Value), Has: even(back), Unit: "m", Source: r.Clause, At: p.w.Name.At.String(),
		Working: []verdict.Step{{
			Text: "from the shut end back to another way, or to the other end", Formula: "l",
			Numbers: fmt.Sprintf("l = %.4g m", back), Source: r.Clause,
		}},
	}
	if *c.Has > *c.Needs {
		c.Cure = fmt.Sprintf("a way out at that end, or %s less of it", j.length(j.roundedUp(back-r.Value)))
	}
	j.add(c)
}

// travel is the direction in which people walk at the point of a line nearest to a place.
func travel(line []way.Point, at way.Point) way.Point {
	best, u := math.Inf(1), way.Point{}
	for k := 0; k+1 < len(line); k++ {
		a, b := line[k], line[k+1]
		l := math.Hypot(b[0]-a[0], b[1]-a[1])
		if d, _, _ := way.Apart(line[k:k+2], &way.Thing{Outline: []way.Point{at, at}}); l > 0 && d < best {
			best, u = d, way.Point{(b[0] - a[0]) / l, (b[1] - a[1]) / l}
		}
	}
	return u
}

// leaves checks the leaves that shut the way: how wide they are and which way they swing.
func (j *job) leaves(p *passage) {
	for i := range j.f.Gates {
		g := &j.f.Gates[i]
		l, ok := j.f.Leaf(g)
		if !ok {
			continue
		}
		d, on, _ := way.Apart(p.line, &way.Thing{Outline: leafStrip(g, l, 0)})
		if d >= p.width.Value/2 {
			continue
		}
		j.takeOnce("a leaf swings with the people when it opens in the direction in which the way is drawn; for people who leave by the way they came it is the other way round", "", "common practice, no source")
		subject, width := g.Name.V+", "+p.name, float64(g.Width.V)
		r, _ := j.rule(p.family, "leaf width", "widest leaf in a way", p.people)
		c := verdict.Check{
			ID: id(verdict.Way, subject, "leaf width"), Kind: verdict.Way, Subject: subject, What: "leaf width", Sense: verdict.AtMost,
			Needs: even(r.Value), Has: even(width), Unit: "m", Source: r.Clause, At: g.Width.At.String(),
			Working: []verdict.Step{{Text: "width of the leaf", Formula: "b", Numbers: fmt.Sprintf("b = %s = %.4g m", g.Width.Text, width), Source: r.Clause, At: g.Width.At.String()}},
		}
		if *c.Has > *c.Needs {
			c.Cure = fmt.Sprintf("a leaf narrower by %s, or two leaves", j.length(j.roundedUp(width-r.Value)))
		}
		j.add(c)

		most, _ := j.rule(p.family, "leaf against", "leaves that may swing against the people", p.people)
		u := travel(p.line, on)
		sin, cos := math.Sincos(l.Closed + l.Swing*math.Pi/2)
		with := u[0]*cos + u[1]*sin // how far the tip moves with the people when it opens
		against := 0.0
		mechanism := ""
		switch {
		case heldOpen(g):
			mechanism = fmt.Sprintf("held open by its keeper (%s) while people are inside", g.Keeper.Open.V)
		case with < -0.1:
			against = 1
			mechanism = fmt.Sprintf("it opens to the %s, against the people", compassOf(way.Point{cos, sin}))
		}
		c = verdict.Check{
			ID: id(verdict.Way, subject, "swing against people"), Kind: verdict.Way, Subject: subject, What: "swing against people", Sense: verdict.AtMost,
			Needs: &most.Value, Has: &against, Unit: "1", Source: most.Clause, At: g.Name.At.String(), Mechanism: mechanism,
			Working: []verdict.Step{{
				Text: "the tip of the leaf, when it begins to open, against the direction of travel; below -0.1 it swings against the people", Formula: "u · t",
				Numbers: fmt.Sprintf("u · t = (%.3g, %.3g) · (%.3g, %.3g) = %.3g", u[0], u[1], cos, sin, with), Source: most.Clause,
			}},
		}
		if mechanism != "" {
			c.Working = append(c.Working, verdict.Step{Text: mechanism, Formula: "n", Numbers: fmt.Sprintf("n = %.0f", against)})
		}
		if against > most.Value {
			c.Cure = fmt.Sprintf(`let it open to the %s, hold it open while people are inside (keeper = { open = "hook" })`, compassOf(way.Point{-cos, -sin}))
			if upTo := fewest(p.family); upTo > 0 {
				c.Cure += fmt.Sprintf(", or at most %.0f people at once", upTo)
			}
		}
		j.add(c)
	}
}

// fewest is the number of people up to whom a leaf may swing against them.
func fewest(family string) float64 {
	r, _ := way.Find(family, "leaf against", 0)
	if math.IsInf(r.UpTo, 1) {
		return 0
	}
	return r.UpTo
}

// crossings checks the cords and guys that cross a way.
func (j *job) crossings(p *passage, ropes []rope) {
	for i := range j.f.Cords {
		k := &j.f.Cords[i]
		var route []way.Point
		for _, at := range k.Route {
			route = append(route, at.XY())
		}
		crossings := way.Crossings(p.line, route)
		if len(crossings) == 0 {
			continue
		}
		lies := "open"
		if k.Crossing.Given {
			lies = k.Crossing.V
		}
		var places []string
		for _, x := range crossings {
			j.report.Passage.Crossings = append(j.report.Passage.Crossings, verdict.PassageCross{
				Way: p.name, Name: k.Name.V, Kind: "cord", AtM: x.At, AlongM: x.Along, Lies: lies})
			places = append(places, fmt.Sprintf("%s along the way (%s)", j.length(x.Along), j.place(x.At)))
		}
		r, _ := j.rule(p.family, "cord across", "cords that lie open across a way", p.people)
		has := 0.0
		if lies == "open" {
			has = float64(len(crossings))
		}
		what := "cord across: " + k.Name.V
		c := verdict.Check{
			ID: id(verdict.Way, p.name, what), Kind: verdict.Way, Subject: p.name, What: what, Sense: verdict.AtMost,
			Needs: &r.Value, Has: &has, Unit: "1", Source: r.Clause, At: k.Name.At.String(),
			Mechanism: fmt.Sprintf("it lies %s across the way, %s", lies, strings.Join(places, " and ")),
			Working:   []verdict.Step{{Text: "places where its route crosses the line and it lies open on the ground", Formula: "n", Numbers: fmt.Sprintf("n = %.0f of %d", has, len(crossings)), Source: r.Clause, At: k.Name.At.String()}},
		}
		if has > r.Value {
			c.Cure = `lead it round, or put a ramp over it that is no stumbling block itself, bury it or lift it over the heads, and say so (crossing = "covered")`
		}
		j.add(c)
	}
	for _, y := range ropes {
		crossings := way.Crossings(p.line, []way.Point{y.foot, y.to})
		if len(crossings) == 0 {
			continue
		}
		x := crossings[0]
		long := math.Hypot(y.to[0]-y.foot[0], y.to[1]-y.foot[1])
		part := x.Route / long
		has := y.height * part
		j.report.Passage.Crossings = append(j.report.Passage.Crossings, verdict.PassageCross{
			Way: p.name, Name: y.name, Kind: "guy", AtM: x.At, AlongM: x.Along, Lies: j.length(has) + " high"})
		what := "headroom under " + y.name
		c := verdict.Check{
			ID: id(verdict.Way, p.name, what), Kind: verdict.Way, Subject: p.name, What: what, Sense: verdict.AtLeast,
			Needs: even(p.headroom.Value), Has: even(has), Unit: "m", Source: p.headroom.Clause, At: y.at.String(),
			Mechanism: fmt.Sprintf("it crosses the way %s along (%s)", j.length(x.Along), j.place(x.At)),
			Working: []verdict.Step{{
				Text: "height of the taut rope where it crosses, from its anchor", Formula: "h = H · d / D",
				Numbers: fmt.Sprintf("h = %.4g · %.4g / %.4g = %.4g m", y.height, x.Route, long, has), Source: p.headroom.Clause, At: y.at.String(),
			}},
		}
		if *c.Has < *c.Needs {
			c.Cure = "an anchor on the near side of the way"
			if y.height > p.headroom.Value { // with the crossing where it is
				c.Cure += fmt.Sprintf(", or one that is %s farther from it", j.length(j.roundedUp(y.height*(long-x.Route)/(y.height-p.headroom.Value)-long)))
			}
		}
		j.add(c)
	}
}

// unroutedCords names the cords of which nobody knows where they lie.
func (j *job) unroutedCords() {
	var names []string
	for i := range j.f.Cords {
		if k := &j.f.Cords[i]; len(k.Route) < 2 && k.Kind.V != "splitter" && k.Kind.V != "strip" && !k.Crossing.Given {
			names = append(names, k.Name.V)
		}
	}
	if len(names) > 0 {
		j.unchecked(verdict.Way, "site", "cords across", "the file does not say where these cords lie (route), so whether they cross a way is not known: "+strings.Join(names, ", "), "NEC 525.20(G)", j.f.At)
	}
}

// reaches tells which pieces reach the line of a way when they fall.
func (j *job) reaches(p *passage, f *floor) {
	apart := map[string]float64{} // of each piece from the line
	for i := range f.things {
		if f.leaf[i] != "" {
			continue
		}
		d, _, _ := way.Apart(p.line, &f.things[i])
		if before, met := apart[f.owner[i]]; !met || d < before {
			apart[f.owner[i]] = d
		}
	}
	add := func(name string, height float64) {
		if d, ok := apart[name]; ok && !math.IsInf(d, 1) {
			j.report.Passage.Reach = append(j.report.Passage.Reach, verdict.PassageReach{Way: p.name, Piece: name, DistanceM: d, ReachM: height, Across: d <= height})
		}
	}
	for i := range j.f.Columns {
		add(j.f.Columns[i].Name.V, j.f.Columns[i].Top())
	}
	for i := range j.f.Walls {
		add(j.f.Walls[i].Name.V, float64(j.f.Walls[i].Height.V))
	}
}
