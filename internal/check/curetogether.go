package check

import (
	"fmt"
	"strings"

	"galefast/internal/quantity"
	"galefast/internal/verdict"
	"galefast/statics"
)

// cureTogether says what cures a group that falls short, and writes the ballast that must
// lie in it.
func (j *job) cureTogether(g *group, ballast []float64, worst *fall) string {
	if worst.ratio >= 1-1e-9 {
		j.scheduleTogether(g, nil, "")
		return ""
	}
	st := several{j, g, ballast}
	var parts []string
	counts, ok := j.fewestTogether(g, ballast)
	if ok {
		for i, b := range g.members {
			unit, row := j.unitFor(b)
			for k, n := range g.counts(i, counts) {
				if n > 0 {
					parts = append(parts, fmt.Sprintf("%d more of %s (%s) in the %s of %s", n, unit,
						quantity.Format(quantity.Mass(float64(n)*float64(row.Mass)), j.f.System()), b.slots[k].name, b.name))
				}
			}
		}
		j.scheduleTogether(g, counts, "standing together")
	} else if !g.seated {
		j.report.Ballast.Rows = append(j.report.Ballast.Rows, verdict.BallastRow{Piece: g.name, Section: slotBase, AtM: g.members[0].centre(),
			Why: fmt.Sprintf("no ballast will do: %d units in each place do not reach the factor", maxUnits)})
	}
	text := "no ballast will do"
	if len(parts) > 0 {
		text = "lay " + strings.Join(parts, " and ")
	}
	add := func(kind string, value float64, unit, words string) {
		j.report.Ballast.Alternatives = append(j.report.Ballast.Alternatives, verdict.Alternative{Piece: g.name, Kind: kind, Value: value, Unit: unit, Text: words})
		text += "; or " + words
	}
	pool := []situation{worst.sit}
	if strongest := g.strongest(); strongest > 0 {
		firmer := func(x float64) changed { return several{j, g.with(x, -1), ballast} }
		if x, ok := least(20*strongest, strongest/20, pool, firmer); ok {
			add("hold", x, "N", fmt.Sprintf("fastenings that hold %s each", quantity.Format(quantity.Force(x), j.f.System())))
		}
	}
	if hold := g.tautest(); hold > 0 {
		tauter := func(x float64) changed { return several{j, g.with(-1, x), ballast} }
		if x, ok := least(20*hold, hold/20, pool, tauter); ok {
			add("guy", x, "N", fmt.Sprintf("guys that %s can be counted on for", quantity.Format(quantity.Force(x), j.f.System())))
		}
	}
	for i := range g.members {
		if b := g.members[i]; g.seated && b.base > 0 {
			text += "; or bolt " + b.name + " to the section below (a joint in the file)"
		}
	}
	if v, ok := j.gustFor(st, stateClosed); ok && v > 0 {
		add("gust", v, "m/s", fmt.Sprintf("have it down before gusts of %s", j.gustText(v)))
	}
	return text
}

// strongest is the most that a fastening of the group holds, N.
func (g *group) strongest() (hold float64) {
	for i := range g.system.Links {
		hold = max(hold, g.system.Links[i].Shear)
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
	other.ready = map[float64]standingOn{}
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
// situation.
func (j *job) fewestTogether(g *group, ballast []float64) (counts []int, ok bool) {
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
		st := several{j, g, kg}
		for _, s := range st.setups() {
			w, err := j.worstTogether(g, s, s.gust, kg)
			if err != nil {
				return nil, err
			}
			if !w.found || w.ratio >= 1-1e-9 {
				continue
			}
			loads, _, _, err := j.togetherIn(g, w.sit, s.gust, kg)
			if err != nil {
				return nil, err
			}
			c := &w.outcome.Collapse
			gravity := statics.Gravity(float64(j.f.Site.Slope.V), w.sit.towards)
			n := statics.Need{Least: -c.Dissipated}
			for _, f := range loads.Dead {
				n.Least += c.Power(f)
			}
			for _, f := range loads.Live {
				n.Least += j.needed(&w.sit) * c.Power(f)
			}
			for p, at := range wheres {
				unit := w.sit.combination().Dead * places[p].Unit
				gain := -c.Power(statics.Acting{Block: at.member, Force: statics.Weight("", unit, g.members[at.member].slots[at.slot].at, gravity)})
				n.Gain = append(n.Gain, gain)
				n.Least += gain * float64(units[p])
			}
			needs = append(needs, n)
		}
		return needs, nil
	}
	units, ok, err := statics.LeastUnits(places, short)
	if err != nil || !ok {
		return nil, false
	}
	counts = make([]int, index)
	for p, n := range units {
		counts[wheres[p].index] = n
	}
	return counts, true
}

// scheduleTogether writes the ballast of every member that stands on the ground. A column
// by itself has its row from its own check.
func (j *job) scheduleTogether(g *group, counts []int, why string) {
	if g.seated {
		return
	}
	for i, b := range g.members {
		if len(b.slots) == 0 {
			continue
		}
		var extra []int
		if counts != nil {
			extra = g.counts(i, counts)
		}
		j.schedule(b, extra, why)
	}
}
