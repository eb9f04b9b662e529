package check

import (
	"fmt"
	"math"
	"strings"

	"galefast/internal/quantity"
	"galefast/internal/site"
	"galefast/internal/verdict"
	"galefast/internal/way"
)

// foamy is a piece with blocks of foam.
type foamy struct {
	name    string
	at      site.Place // of its first block
	exposed float64    // kg, heavy end, neither covered nor tested
	tested  float64    // W, the most that a block that is not covered gave in a test
	covers  []string
	where   []way.Thing // the parts of the piece with foam, in plan
	middle  way.Point   // of a circle around them, m
	reach   float64     // its radius, m
}

// blocks adds the foam of a parts list to a piece, and reports whether there is any.
func (j *job) blocks(p *foamy, parts []site.Part) bool {
	any := false
	for i := range parts {
		b := &parts[i]
		if !b.Block.Given || len(b.Size) != 3 {
			continue
		}
		if !any && p.at == (site.Place{}) {
			p.at = b.At
		}
		any = true
		switch {
		case b.Cover.Given:
			p.covers = append(p.covers, b.Cover.V)
		case b.Heat.Given:
			p.tested = math.Max(p.tested, float64(b.Heat.V))
		default:
			row, _ := j.f.Catalog.Foam.Find(b.Block.V)
			p.exposed += math.Max(float64(row.Density), float64(row.Heavy)) * float64(b.Size[0].V*b.Size[1].V*b.Size[2].V) * float64(b.Count.V)
		}
	}
	return any
}

// foams are the pieces with foam, in the order of the file.
func (j *job) foams() []foamy {
	var list []foamy
	for i := range j.f.Columns {
		c := &j.f.Columns[i]
		p := foamy{name: c.Name.V}
		f := &floor{}
		j.columnOnFloor(f, c)
		for k := range c.Sections {
			if j.blocks(&p, c.Sections[k].Parts) {
				p.where = append(p.where, f.things[len(f.things)-len(c.Sections)+k]) // sections come last
			}
		}
		list = append(list, p)
	}
	for i := range j.f.Gates {
		g := &j.f.Gates[i]
		p := foamy{name: g.Name.V}
		if l, ok := j.f.Leaf(g); ok && j.blocks(&p, g.Parts) {
			p.where = []way.Thing{{Outline: leafStrip(g, l, 0)}, {Outline: leafStrip(g, l, float64(g.Open.V))}}
		}
		list = append(list, p)
	}
	for i := range j.f.Walls {
		w := &j.f.Walls[i]
		p := foamy{name: w.Name.V}
		if j.blocks(&p, w.Parts) {
			f := &floor{}
			j.wallOnFloor(f, w)
			p.where = f.things
		}
		list = append(list, p)
	}
	f := j.floor(false)
	for i := range j.f.Spans {
		s := &j.f.Spans[i]
		p := foamy{name: s.Name.V}
		if j.blocks(&p, s.Parts) {
			p.where = f.things[len(f.things)-len(j.f.Spans)+i:][:1] // spans come last
		}
		list = append(list, p)
	}
	var with []foamy
	for _, p := range list {
		if len(p.where) == 0 {
			continue
		}
		p.middle, _ = p.where[0].Around()
		for i := range p.where {
			at, radius := p.where[i].Around()
			p.reach = math.Max(p.reach, math.Hypot(at[0]-p.middle[0], at[1]-p.middle[1])+radius)
		}
		with = append(with, p)
	}
	return with
}

// fire checks foam and the lamps near it.
func (j *job) fire() {
	pieces := j.foams()
	if len(pieces) == 0 {
		return
	}
	family := j.rulesOf(nil)
	mass, _ := j.rule(family, "foam mass", "exposed foam of one piece that needs no test", 0)
	heat, _ := j.rule(family, "foam heat", "heat release of exposed foam", 0)
	j.take("foam that the file says is covered is not counted as exposed; IBC 2603.4 asks for half an inch of gypsum board, or its equal, between foam and the inside of a building, and the fire authority decides what is enough here", "IBC 2603.4", "from memory")
	for i := range pieces {
		p := &pieces[i]
		c := verdict.Check{
			ID: id(verdict.Fire, p.name, "exposed foam"), Kind: verdict.Fire, Subject: p.name, What: "exposed foam", Sense: verdict.AtMost,
			Needs: &mass.Value, Has: &p.exposed, Unit: "kg", Source: mass.Clause, At: p.at.String(),
			Working: []verdict.Step{{
				Text: "blocks of foam without a cover (covered_by) and without a test (heat_release), at the heavy end of their density", Formula: "m = Σ ρ · V",
				Numbers: fmt.Sprintf("m = %.4g kg, against %s = %.4g kg", p.exposed, mass.Text, mass.Value), Source: mass.Clause, At: p.at.String(),
			}},
		}
		if len(p.covers) > 0 {
			c.Mechanism = "foam is covered by " + list(p.covers)
		}
		if p.exposed > mass.Value {
			c.Cure = fmt.Sprintf("cover it on all sides (covered_by), give the heat release that its maker had tested (heat_release, at most %s), or leave off %s of it", heat.Text, j.upwards(p.exposed-mass.Value))
		}
		j.add(c)
		if p.tested > 0 {
			c := verdict.Check{
				ID: id(verdict.Fire, p.name, "foam heat release"), Kind: verdict.Fire, Subject: p.name, What: "foam heat release", Sense: verdict.AtMost,
				Needs: &heat.Value, Has: &p.tested, Unit: "W", Source: heat.Clause, At: p.at.String(),
				Working: []verdict.Step{{Text: "the greatest of its blocks that are not covered, as the file gives it", Formula: "Q", Numbers: fmt.Sprintf("Q = %.4g W, against %s", p.tested, heat.Text), Source: heat.Clause, At: p.at.String()}},
			}
			if p.tested > heat.Value {
				c.Cure = "cover that foam on all sides, or take another"
			}
			j.add(c)
		}
	}
	j.lampsNear(family, pieces)
}

// watts is what one lamp draws, W; infinite where that is not known.
func (j *job) watts(l *site.Lamp) float64 {
	if l.Watts.Given {
		return float64(l.Watts.V)
	}
	if row, ok := j.f.Catalog.Device.Find(l.Device.V); ok && l.Device.Given {
		return float64(row.Power)
	}
	return math.Inf(1)
}

// lampsNear checks how far lamps and what else gets warm are from foam.
func (j *job) lampsNear(family string, list []foamy) {
	var silent []string
	for i := range j.f.Lamps {
		l := &j.f.Lamps[i]
		watts := j.watts(l)
		r, known := way.Find(family, "lamp distance", watts)
		if l.KeepOff.Given {
			r = way.Rule{Value: float64(l.KeepOff.V), Text: l.KeepOff.Text, Clause: "keep_off of the lamp"}
		} else if !known {
			j.unchecked(verdict.Fire, l.Name.V, "distance from foam", fmt.Sprintf("the published distances end at %.0f W of one; give the one on its label (keep_off)", lampsUpTo(family)), "BS 7671 422.3.1", l.Name.At)
			continue
		}
		nearest, of := math.Inf(1), ""
		for k := range list {
			at := way.Point(l.Position.XY())
			if math.Hypot(at[0]-list[k].middle[0], at[1]-list[k].middle[1])-list[k].reach > nearest+1e-9 {
				continue
			}
			for n := range list[k].where {
				if d, _, _ := way.Apart([]way.Point{at, at}, &list[k].where[n]); d < nearest {
					nearest, of = d, list[k].name
				}
			}
		}
		how := fmt.Sprintf("in plan from its place (at) to %s, which is no more than the true distance", of)
		at := l.Position[0].At
		switch {
		case l.FromFoam.Given:
			nearest, how, at = float64(l.FromFoam.V), "as the file says (from_foam)", l.FromFoam.At
		case !l.Position[0].Given || *even(nearest) < *even(r.Value):
			silent = append(silent, l.Name.V)
			continue
		}
		if !l.KeepOff.Given {
			j.rule(family, "lamp distance", fmt.Sprintf("distance of a lamp of up to %.0f W from foam", r.UpTo), watts)
		}
		c := verdict.Check{
			ID: id(verdict.Fire, l.Name.V, "distance from foam"), Kind: verdict.Fire, Subject: l.Name.V, What: "distance from foam", Sense: verdict.AtLeast,
			Needs: even(r.Value), Has: even(nearest), Unit: "m", Source: r.Clause, At: at.String(),
			Working: []verdict.Step{
				{Text: fmt.Sprintf("distance asked for, one lamp of %.4g W", watts), Formula: "d_min", Numbers: fmt.Sprintf("d_min = %s = %.4g m", r.Text, r.Value), Source: r.Clause},
				{Text: how, Formula: "d", Numbers: fmt.Sprintf("d = %.4g m", nearest), At: at.String()},
			},
		}
		if *c.Has < *c.Needs {
			c.Cure = fmt.Sprintf("%s farther from the foam, or the lesser distance that its label allows (keep_off)", j.length(j.roundedUp(r.Value-nearest)))
		}
		j.add(c)
	}
	if len(silent) > 0 {
		j.unchecked(verdict.Fire, "site", "lamps near foam", "the file does not say how far these are from foam (from_foam), and their places (at) do not tell: "+strings.Join(silent, ", "), "BS 7671 422.3.1", j.f.At)
	}
}

// lampsUpTo is where the table of distances ends, W.
func lampsUpTo(family string) float64 {
	most := 0.0
	for _, r := range way.Rules() {
		if r.Family == family && r.Name == "lamp distance" {
			most = math.Max(most, r.UpTo)
		}
	}
	return most
}

// upwards prints a mass, kg, in the site's unit, rounded up to a hundredth.
func (j *job) upwards(kg float64) string {
	unit, name := 1.0, "kg"
	if j.f.System() == quantity.US {
		unit, name = 0.45359237, "lb"
	}
	return fmt.Sprintf("%.2f %s", math.Ceil(kg/unit*100-1e-6)/100, name)
}
