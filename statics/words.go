package statics

import (
	"fmt"
	"math"
	"slices"
	"strings"
)

const (
	still  = 1e-3 // share of the greatest speed below which a block is said to stay
	slight = 0.02 // share of the speeds at a contact below which a part of them is not named
)

// Words says what moves and what gives, such as `west pier overturns about its east edge
// and pulls the hinge upper off`. Blocks that move as one are named together; a group of
// one block goes without its name.
func (c *Collapse) Words(g *Group) string {
	if len(c.Motions) != len(g.Blocks) {
		return nothingMoves
	}
	all := c.clusters(g)
	var parts []string
	var along []int // blocks that only follow
	for _, k := range all {
		if k.footing.speed == 0 && c.carried(g, k, all) {
			along = append(along, k.blocks...)
			continue
		}
		parts = append(parts, g.names(k.blocks)+c.phrase(g, k))
	}
	switch len(along) {
	case 0:
	case 1:
		parts = append(parts, g.names(along)+"is carried along")
	default:
		parts = append(parts, g.names(along)+"are carried along")
	}
	if len(parts) == 0 {
		return nothingMoves
	}
	one := len(parts) == 1
	for _, j := range c.gives(g) {
		switch {
		case j.how == "":
			parts = append(parts, j.which("")+" "+verb("give", len(j.names) > 1))
		case one:
			parts[0] += " and " + j.active()
		default:
			parts = append(parts, j.passive())
		}
	}
	return strings.Join(parts, "; ")
}

const nothingMoves = "nothing applied can move it"

// cluster is blocks that move as one body.
type cluster struct {
	blocks  []int
	footing footing
	speed   float64
}

// clusters lists the blocks that move: first those that move on what they rest on, of these the
// fastest first.
func (c *Collapse) clusters(g *Group) []cluster {
	size := sizes(g)
	speed := make([]float64, len(c.Motions))
	fastest := 0.0
	for i := range c.Motions {
		m := &c.Motions[i]
		speed[i] = norm(m.Velocity) + norm(m.Spin)*size[i]
		fastest = max(fastest, speed[i])
	}
	var all []cluster
	for i := range c.Motions {
		if fastest == 0 || speed[i] <= still*fastest {
			continue
		}
		k := slices.IndexFunc(all, func(k cluster) bool {
			j := k.blocks[0]
			a, b := &c.Motions[i], &c.Motions[j]
			apart := norm(sub(a.Velocity, b.At(a.Centre))) + norm(sub(a.Spin, b.Spin))*size[i]
			return apart <= still*max(speed[i], speed[j])
		})
		if k < 0 {
			all = append(all, cluster{})
			k = len(all) - 1
		}
		all[k].blocks = append(all[k].blocks, i)
		all[k].speed = max(all[k].speed, speed[i])
	}
	for i := range all {
		all[i].footing = c.footing(g, all[i].blocks)
	}
	slices.SortStableFunc(all, func(a, b cluster) int {
		// Equal speeds keep the order of the blocks.
		switch x, y := a.footing.speed > 0, b.footing.speed > 0; {
		case x != y && x, x == y && a.speed > b.speed*(1+1e-6):
			return -1
		case x != y, b.speed > a.speed*(1+1e-6):
			return 1
		}
		return 0
	})
	return all
}

// names lists blocks for the start of a sentence; the only block of a group goes without.
func (g *Group) names(blocks []int) string {
	if len(g.Blocks) == 1 {
		return ""
	}
	names := make([]string, len(blocks))
	for i, b := range blocks {
		names[i] = g.name(b)
	}
	return list(names) + " "
}

// phrase says how a cluster moves.
func (c *Collapse) phrase(g *Group, k cluster) string {
	many := len(k.blocks) > 1
	switch f := &k.footing; {
	case f.speed == 0:
		return c.hanging(k.blocks)
	case f.touching == 0:
		return verb("lift", many) + " off"
	case f.lift > slight*f.speed && f.slip <= 0.1*f.lift:
		return verb("overturn", many) + f.about(g, k.blocks)
	case f.lift > 0.5*f.slip:
		return verb("overturn", many) + f.about(g, k.blocks) + " and " + f.moves(many)
	case f.slip > slight*f.speed:
		return f.moves(many)
	}
	return verb("sink", many)
}

// verb is the third person of a regular verb.
func verb(stem string, many bool) string {
	if many {
		return stem
	}
	return stem + "s"
}

func its(many bool) string {
	if many {
		return "their"
	}
	return "its"
}

// footing is how a cluster moves on what it rests on.
type footing struct {
	points   []Vec
	normal   Vec
	speed    float64 // greatest of a point
	lift     float64 // greatest rise of a point, beyond what sliding with friction brings
	slip     float64 // greatest slide of a point that does not lift
	touching int
	slide    Vec     // mean slide of those points
	turn     float64 // slide at the rim from turning on the foot
	spin     Vec
}

func (c *Collapse) footing(g *Group, blocks []int) (f footing) {
	// The most level contacts are what it stands on; a ladder stands on its foot.
	level := 0.0
	outside := func(k *Contact) bool {
		return slices.Contains(blocks, k.Of) && !slices.Contains(blocks, k.On)
	}
	for i := range g.Contacts {
		if k := &g.Contacts[i]; outside(k) {
			level = max(level, unit(k.Normal)[2])
		}
	}
	type slider struct {
		lift  float64
		along Vec
	}
	var moved []slider
	for i := range g.Contacts {
		k := &g.Contacts[i]
		n := unit(k.Normal)
		if !outside(k) || n[2] < level-0.1 {
			continue
		}
		f.normal = n
		f.spin = sub(c.Motions[k.Of].Spin, c.spin(k.On))
		for _, p := range k.Points {
			u := sub(c.Motions[k.Of].At(p), c.velocity(k.On, p))
			rise := dot(u, n)
			along := sub(u, scaled(n, rise))
			f.points = append(f.points, p)
			f.speed = max(f.speed, norm(u))
			moved = append(moved, slider{rise - k.Friction*norm(along), along})
		}
	}
	if f.speed < 1e-6 {
		f.speed = 0
		return f
	}
	var middle Vec
	for _, p := range f.points {
		middle = add(middle, scaled(p, 1/float64(len(f.points))))
	}
	for _, m := range moved {
		f.lift = max(f.lift, m.lift)
		if m.lift > slight*f.speed {
			continue
		}
		f.touching++
		f.slip = max(f.slip, norm(m.along))
		f.slide = add(f.slide, m.along)
	}
	for _, p := range f.points {
		f.turn = max(f.turn, math.Abs(dot(f.spin, f.normal))*norm(sub(p, middle)))
	}
	if f.touching > 0 {
		f.slide = scaled(f.slide, 1/float64(f.touching))
	}
	return f
}

func (c *Collapse) velocity(block int, p Vec) Vec {
	if block == Ground {
		return Vec{}
	}
	return c.Motions[block].At(p)
}

func (c *Collapse) spin(block int) Vec {
	if block == Ground {
		return Vec{}
	}
	return c.Motions[block].Spin
}

// moves names sliding and turning.
func (f *footing) moves(many bool) string {
	slide := norm(f.slide)
	if f.turn > 0.5*slide {
		return verb("turn", many) + " on " + its(many) + " foot"
	}
	where := ""
	switch flat := math.Hypot(f.slide[0], f.slide[1]); {
	case flat >= math.Abs(f.slide[2]):
		where = " to the " + compass(bearing([2]float64{f.slide[0], f.slide[1]}))
	case f.slide[2] < 0:
		where = " down"
	default:
		where = " up"
	}
	if f.turn > 0.1*slide {
		where += ", turning"
	}
	return verb("slide", many) + where
}

// about names the edge or corner of the foot over which it tips.
func (f *footing) about(g *Group, blocks []int) string {
	over := [2]float64{f.spin[1], -f.spin[0]} // where the top goes
	size := math.Hypot(over[0], over[1])
	if size == 0 {
		return ""
	}
	to := compass(bearing(over))
	var foot [][2]float64
	if len(blocks) == 1 {
		foot = g.Blocks[blocks[0]].Foot
	}
	if len(foot) == 0 {
		for _, p := range f.points {
			foot = append(foot, [2]float64{p[0], p[1]})
		}
	}
	hull, err := Hull(foot)
	if err != nil {
		return " to the " + to
	}
	for i := range hull {
		if n := outward(hull, i); n[0]*over[0]+n[1]*over[1] > 0.9999*size {
			return " about " + its(len(blocks) > 1) + " " + compass(bearing(n)) + " edge"
		}
	}
	if f.touching == 1 {
		return " over " + its(len(blocks) > 1) + " " + to + " corner"
	}
	return " to the " + to
}

// hanging names the motion of blocks that rest on nothing, or move with what they rest on.
func (c *Collapse) hanging(blocks []int) string {
	m := &c.Motions[blocks[0]]
	many := len(blocks) > 1
	speed := norm(m.Velocity)
	switch {
	case m.Velocity[2] < -0.5*speed:
		return verb("drop", many)
	case m.Velocity[2] > 0.5*speed:
		return verb("lift", many) + " off"
	case norm(m.Spin) > 0:
		return verb("swing", many)
	}
	return verb("come", many) + " away"
}

// carried reports whether something that moves on its footing takes a cluster along: by a
// link that does not give, or as what it rests on.
func (c *Collapse) carried(g *Group, k cluster, all []cluster) bool {
	leads := func(block int) bool {
		return slices.ContainsFunc(all, func(o cluster) bool {
			return o.footing.speed > 0 && slices.Contains(o.blocks, block)
		})
	}
	for i := range g.Links {
		l := &g.Links[i]
		other := l.B
		if slices.Contains(k.blocks, l.B) {
			other = l.A
		} else if !slices.Contains(k.blocks, l.A) {
			continue
		}
		u := c.velocity(l.A, l.At)
		if norm(u) > still && norm(sub(u, c.velocity(l.B, l.At))) < slight*norm(u) && leads(other) {
			return true
		}
	}
	for i := range g.Contacts {
		if t := &g.Contacts[i]; slices.Contains(k.blocks, t.Of) && leads(t.On) {
			return true
		}
	}
	return false
}

// given is links of one kind that give in one way, or guys.
type given struct {
	how   string // pulls, crushes or shears; empty for guys
	kind  string
	names []string
}

// gives lists the links and guys that give, by how.
func (c *Collapse) gives(g *Group) (all []given) {
	note := func(how, kind, name string) {
		k := slices.IndexFunc(all, func(j given) bool { return j.how == how && j.kind == kind })
		if k < 0 {
			all = append(all, given{how: how, kind: kind})
			k = len(all) - 1
		}
		all[k].names = append(all[k].names, name)
	}
	for i := range g.Links {
		k := &g.Links[i]
		u := sub(c.velocity(k.B, k.At), c.velocity(k.A, k.At))
		e := unit(k.Axis)
		opening := dot(u, e)
		across := norm(sub(u, scaled(e, opening)))
		most := 0.0
		how := ""
		for _, way := range [...]struct {
			how             string
			capacity, speed float64
		}{{"pulls", k.Pull, opening}, {"crushes", k.Push, -opening}, {"shears", k.Shear, across}} {
			if way.capacity > 0 && way.speed > still && !math.IsInf(way.capacity, 1) && way.capacity*way.speed > most {
				most, how = way.capacity*way.speed, way.how
			}
		}
		if how != "" {
			note(how, k.Kind.String(), k.Name)
		}
	}
	for i := range g.Guys {
		y := &g.Guys[i]
		if y.Limit > 0 && -dot(c.velocity(y.Of, y.At), unit(sub(y.To, y.At))) > still {
			note("", "guy", y.Name)
		}
	}
	return all
}

// which names them with their kind: `the hinge upper`, `the bolts 1 and 2`, `5 bolts`.
func (j *given) which(article string) string {
	names := slices.DeleteFunc(slices.Clone(j.names), func(s string) bool { return s == "" })
	kind := j.kind
	if len(j.names) > 1 {
		kind += "s"
		if strings.HasSuffix(j.kind, "h") {
			kind = j.kind + "es"
		}
	}
	switch {
	case len(j.names) == 1 && len(names) == 0:
		return "a " + kind
	case len(names) < len(j.names) || len(names) > 3:
		return fmt.Sprintf("%d %s", len(j.names), kind)
	}
	return article + kind + " " + list(names)
}

func (j *given) active() string {
	if j.how == "pulls" {
		return "pulls " + j.which("the ") + " off"
	}
	return j.how + " " + j.which("the ")
}

func (j *given) passive() string {
	is := " is "
	if len(j.names) > 1 {
		is = " are "
	}
	return j.which("the ") + is + map[string]string{
		"pulls": "pulled off", "crushes": "crushed", "shears": "sheared",
	}[j.how]
}

// list joins words with commas and `and`.
func list(words []string) string {
	if n := len(words); n > 1 {
		return strings.Join(words[:n-1], ", ") + " and " + words[n-1]
	}
	return strings.Join(words, "")
}
