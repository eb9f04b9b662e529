package check

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"galefast/internal/quantity"
	"galefast/internal/verdict"
	"galefast/statics"
)

// cureTogether says what cures a group that falls short, and writes the ballast that must
// lie in it.
func (j *job) cureTogether(g *group, ballast []float64, worst *fall) string {
	if worst.ratio >= 1-1e-9 {
		j.scheduleTogether(g, ballast, nil, worst, "")
		return ""
	}
	r := j.remedy(g, ballast, worst)
	text := r.none()
	if r.ok {
		text = r.text(j)
		j.scheduleTogether(r.group, ballast, r.counts, worst, "standing together")
	} else if !g.seated {
		why := text
		if r.err == nil {
			why += fmt.Sprintf(": %d units in each place do not reach the factor", maxUnits)
		}
		j.report.Ballast.Rows = append(j.report.Ballast.Rows, verdict.BallastRow{Piece: g.name, Section: slotBase, AtM: g.members[0].centre(),
			Why: why})
	}
	if !r.ok {
		for i := range j.f.Spans {
			s := &j.f.Spans[i]
			in := slices.ContainsFunc(g.members, func(b *lone) bool { return b.piece == s.Name.V })
			if in && s.Fixing != nil && len(s.Fixing.Heights) == 1 {
				text += "; fasten " + s.Name.V + " at a second height, so that it cannot swing"
			}
		}
	}
	add := func(kind string, value float64, unit, words string) {
		j.report.Ballast.Alternatives = append(j.report.Ballast.Alternatives, verdict.Alternative{Piece: g.name, Kind: kind, Value: value, Unit: unit, Text: words})
		text += "; or " + words
	}
	pool := []situation{worst.sit}
	if strongest := g.strongest(); strongest > 0 && r.firm == 0 {
		firmer := func(x float64) changed { return &several{j: j, g: g.with(x, -1), ballast: ballast} }
		if x, ok := least(20*strongest, strongest/20, pool, firmer); ok {
			add("hold", x, "N", fmt.Sprintf("fastenings that hold %s each", quantity.Format(quantity.Force(x), j.f.System())))
		}
	}
	if hold := g.tautest(); hold > 0 {
		tauter := func(x float64) changed { return &several{j: j, g: g.with(-1, x), ballast: ballast} }
		if x, ok := least(20*hold, hold/20, pool, tauter); ok {
			add("guy", x, "N", fmt.Sprintf("guys that %s can be counted on for", quantity.Format(quantity.Force(x), j.f.System())))
		}
	}
	if v, ok := j.gustFor(&several{j: j, g: g, ballast: ballast}, stateClosed); ok && v > 0 {
		add("gust", v, "m/s", fmt.Sprintf("have it down before gusts of %s", j.gustText(v)))
	}
	return text
}

// remedy is what makes a group hold: the least ballast, with what it cannot do without.
type remedy struct {
	ok     bool
	group  *group  // as it then is
	bolted bool    // the parts of columns that were merely seated
	firm   float64 // N, what every fastening must hold; 0: as it is
	counts []int   // further units in each slot
	err    error   // why none was found, or that fewer units might do
}

// none says that there is no ballast, or that none was found.
func (r *remedy) none() string {
	if r.err != nil {
		return "no ballast was found: " + r.err.Error()
	}
	return "no ballast will do"
}

// remedy looks for ballast alone, then for ballast with seated sections bolted, with
// stronger fastenings, and with both.
func (j *job) remedy(g *group, ballast []float64, worst *fall) remedy {
	strongest := g.strongest()
	most := 20 * strongest
	var failed error
	for _, firm := range [2]bool{false, true} {
		for _, bolted := range [2]bool{false, true} {
			if firm && strongest == 0 || bolted && len(g.system.Contacts) == 0 {
				continue
			}
			base := g
			if bolted {
				base = g.bolted()
			}
			with := base
			if firm {
				with = base.with(most, -1)
			}
			counts, ok, err := j.fewestTogether(with, ballast)
			if !ok {
				if failed == nil {
					failed = err
				}
				continue
			}
			r := remedy{ok: true, group: with, bolted: bolted, counts: counts, err: err}
			if firm {
				laid := g.heaped(j, ballast, counts)
				firmer := func(x float64) changed { return &several{j: j, g: base.with(x, -1), ballast: laid} }
				if r.firm, r.ok = least(most, strongest/20, []situation{worst.sit}, firmer); !r.ok {
					continue
				}
				r.group = base.with(r.firm, -1)
			}
			return r
		}
	}
	return remedy{err: failed}
}

// text says what to do.
func (r *remedy) text(j *job) string {
	var do, parts []string
	if r.bolted {
		for _, c := range r.group.system.Contacts {
			do = append(do, "bolt the "+r.group.system.Blocks[c.Of].Name+" to the section below (a joint in the file)")
		}
	}
	if r.firm > 0 {
		do = append(do, fmt.Sprintf("use fastenings that hold %s each", quantity.Format(quantity.Force(r.firm), j.f.System())))
	}
	// Places that get the same are told together.
	var heaps []string
	places := map[string][]string{}
	for i, b := range r.group.members {
		unit, row := j.unitFor(b)
		for k, n := range r.group.counts(i, r.counts) {
			if n > 0 {
				heap := fmt.Sprintf("%d more of %s (%s) in ", n, unit, quantity.Format(quantity.Mass(float64(n)*float64(row.Mass)), j.f.System()))
				if places[heap] == nil {
					heaps = append(heaps, heap)
				}
				places[heap] = append(places[heap], "the "+b.slots[k].name+" of "+b.name)
			}
		}
	}
	for _, heap := range heaps {
		if in := places[heap]; len(in) > 1 {
			parts = append(parts, heap+"each of "+strings.Join(in[:len(in)-1], ", ")+" and "+in[len(in)-1])
		} else {
			parts = append(parts, heap+in[0])
		}
	}
	if len(parts) > 0 {
		lay := "lay " + strings.Join(parts, ", and ")
		if r.err != nil {
			lay += " (fewer might do: " + r.err.Error() + ")"
		}
		do = append(do, lay)
	}
	return strings.Join(do, ", and ")
}

// bolted is the group with every seated part bolted to what it sits on, by bolts without
// limit.
func (g *group) bolted() *group {
	other := *g
	other.ways = slices.Clone(g.ways)
	other.prepare()
	other.acts = g.acts
	other.system.Links = slices.Clone(g.system.Links)
	inf := math.Inf(1)
	for _, c := range g.system.Contacts {
		for _, p := range c.Points {
			other.system.Links = append(other.system.Links, statics.Link{Name: c.Name, Kind: statics.Bolt, A: c.Of, B: c.On, At: p, Pull: inf, Push: inf, Shear: inf})
		}
	}
	return &other
}

// strongest is the most that a fastening of the group holds, N.
func (g *group) strongest() (hold float64) {
	for i := range g.system.Links {
		if h := g.system.Links[i].Shear; !math.IsInf(h, 1) {
			hold = max(hold, h)
		}
	}
	return hold
}

// tautest is the most that a guy of the group is counted on for, N.
func (g *group) tautest() (hold float64) {
	for i := range g.system.Guys {
		hold = max(hold, g.system.Guys[i].Limit)
	}
	return hold
}

// with is the group with every fastening, or every guy, at least that strong, N.
func (g *group) with(fastening, guy float64) *group {
	other := *g
	other.ways = slices.Clone(g.ways)
	other.prepare()
	other.acts = g.acts
	other.system.Links, other.system.Guys = nil, nil
	for _, k := range g.system.Links {
		k.Pull, k.Push, k.Shear = max(k.Pull, fastening), max(k.Push, fastening), max(k.Shear, fastening)
		other.system.Links = append(other.system.Links, k)
	}
	for _, y := range g.system.Guys {
		y.Limit = max(y.Limit, guy)
		other.system.Guys = append(other.system.Guys, y)
	}
	return &other
}

// heaped is the ballast with further units in the slots, kg.
func (g *group) heaped(j *job, ballast []float64, counts []int) []float64 {
	kg := slices.Clone(ballast)
	from := 0
	for _, b := range g.members {
		_, row := j.unitFor(b)
		for range b.slots {
			if counts != nil {
				kg[from] += float64(counts[from]) * float64(row.Mass)
			}
			from++
		}
	}
	return kg
}

// counts are those of the slots of member i.
func (g *group) counts(i int, counts []int) []int {
	from := 0
	for _, b := range g.members[:i] {
		from += len(b.slots)
	}
	return counts[from : from+len(g.members[i].slots)]
}

// fewestTogether is the least ballast of a group, in whole units over the slots that
// advice uses: the lowest section of each column, every place on a wall. counts has an
// entry for each slot of the group. Each collapse found asks for ballast where it
// resists that collapse; counts that nothing asks more of have been tried in every
// situation. With an error, they were tried as well, but fewer might do.
func (j *job) fewestTogether(g *group, ballast []float64) (counts []int, ok bool, err error) {
	type where struct{ member, slot, index int }
	var places []statics.Place
	var wheres []where
	index := 0
	for i, b := range g.members {
		_, row := j.unitFor(b)
		for k := range b.slots {
			if b.base == 0 && (k == 0 || b.slots[0].name == slotBase) {
				places = append(places, statics.Place{Unit: float64(row.Mass), Most: maxUnits})
				wheres = append(wheres, where{i, k, index})
			}
			index++
		}
	}
	with := func(units []int) []float64 {
		kg := append([]float64(nil), ballast...)
		for p, n := range units {
			kg[wheres[p].index] += float64(n) * places[p].Unit
		}
		return kg
	}
	short := func(units []int) ([]statics.Need, error) {
		kg := with(units)
		var needs []statics.Need
		st := &several{j: j, g: g, ballast: kg}
		for _, s := range st.setups() {
			falls, err := j.everyBelow(g, s, s.gust, kg, 1-1e-9)
			if err != nil {
				return nil, err
			}
			for i := range falls {
				need, err := j.needOf(g, &falls[i], kg)
				if err != nil {
					return nil, err
				}
				gravity := statics.Gravity(float64(j.f.Site.Slope.V), falls[i].sit.towards)
				for p, at := range wheres {
					unit := falls[i].sit.combination().Dead * places[p].Unit
					gain := -falls[i].outcome.Collapse.Power(statics.Acting{Block: at.member, Force: statics.Weight("", unit, g.members[at.member].slots[at.slot].at, gravity)})
					need.Gain = append(need.Gain, gain)
					need.Least += gain * float64(units[p])
				}
				needs = append(needs, need)
			}
		}
		return needs, nil
	}
	units, ok, err := statics.LeastUnits(places, short)
	if !ok {
		return nil, false, err
	}
	counts = make([]int, index)
	for p, n := range units {
		counts[wheres[p].index] = n
	}
	return counts, true, err
}

// needOf is what a fall asks of further ballast, beyond what there is: the power that the
// loads do in it, at the required factor, above what the fastenings and guys take up.
func (j *job) needOf(g *group, f *fall, ballast []float64) (statics.Need, error) {
	loads, _, _, err := j.togetherIn(g, f.sit, f.sit.gust, ballast)
	if err != nil {
		return statics.Need{}, err
	}
	c := &f.outcome.Collapse
	n := statics.Need{Least: -c.Dissipated}
	for _, a := range loads.Dead {
		n.Least += c.Power(a)
	}
	for _, a := range loads.Live {
		n.Least += j.needed(&f.sit) * c.Power(a)
	}
	return n, nil
}

// scheduleTogether writes the ballast of every member that stands on the ground. A column
// by itself has its row from its own check. The worst of the group before that is where to look first.
func (j *job) scheduleTogether(g *group, ballast []float64, counts []int, worst *fall, why string) {
	if g.seated {
		return
	}
	kg := g.heaped(j, ballast, counts)
	reached := *worst
	if counts != nil {
		reached.ratio = math.Inf(1)
		if r, err := j.glance(g, kg, reached); err == nil {
			reached = r
		}
	}
	from := 0
	for i, b := range g.members {
		if len(b.slots) == 0 {
			continue
		}
		var extra []int
		if counts != nil {
			extra = g.counts(i, counts)
		}
		start := from
		j.schedule(b, extra, why, func(slot int, unit float64) *float64 {
			less := slices.Clone(kg)
			less[start+slot] -= unit
			least, err := j.glance(g, less, reached) // less ballast does not reach more
			if err != nil {
				return nil
			}
			if math.IsInf(least.ratio, 1) || least.ratio == math.MaxFloat64 {
				return nil
			}
			return &least.ratio
		})
		from += len(b.slots)
	}
}
