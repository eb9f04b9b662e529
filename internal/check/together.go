package check

import (
	"fmt"
	"math"

	"galefast/internal/verdict"
	"galefast/statics"
	"galefast/wind"
)

// fall is the worst found of a group: the least factor over the required one.
type fall struct {
	found   bool
	ratio   float64
	sit     situation
	outcome statics.Outcome
	words   string // how it falls
}

// heap is the weight of one mass of a group at its two ends.
type heap struct{ light, heavy statics.Acting }

// actions are everything that acts on a group in one setup and direction of the wind.
type actions struct {
	masses  []heap
	ballast []statics.Acting
	winds   [][]blow // alternatives of each surface
	owner   []int    // member that each surface belongs to
	pushes  []statics.Acting
	first   []int // index of the first push on each member that can be pushed
}

// actionsOn collects what acts on a group.
func (j *job) actionsOn(g *group, s setup, towards, gust float64, ballast []float64) (*actions, error) {
	a := &actions{}
	sit := situation{setup: s, towards: towards}
	sit.wind = plain // masses as they are; the combination is applied in loads
	for i, b := range g.members {
		winds, err := j.winds(b, s, towards, gust)
		if err != nil {
			return nil, err
		}
		a.winds = append(a.winds, winds...)
		for range winds {
			a.owner = append(a.owner, i)
		}
		pushes := j.pushes(b, s, b.normals(), towards)
		if len(pushes) > 0 {
			a.first = append(a.first, len(a.pushes))
		}
		for _, f := range pushes {
			a.pushes = append(a.pushes, statics.Acting{Block: i, Force: f})
		}
		weigh := func(heavy bool) []statics.Force {
			sit.heavy = heavy
			forces := j.deadOf(nil, b, sit, g.of(i, ballast))
			for k := range forces {
				forces[k].At[2] += b.base
			}
			return forces
		}
		light, heavy := weigh(false), weigh(true)
		for k := range light {
			h := heap{statics.Acting{Block: i, Force: light[k]}, statics.Acting{Block: i, Force: heavy[k]}}
			if k >= len(b.dead)+len(b.leaves)+len(b.spans) {
				a.ballast = append(a.ballast, h.light)
				continue
			}
			if k < len(b.dead) && b.dead[k].light > 0 {
				for n := range h.heavy.F {
					h.heavy.F[n] *= b.dead[k].heavy / b.dead[k].light
				}
			}
			a.masses = append(a.masses, h)
		}
	}
	return a, nil
}

// plain is a climate whose only combination multiplies nothing.
var plain = &climate{combinations: []wind.Combination{{Dead: 1, DeadUnfavourable: 1, Wind: 1, People: 1}}}

// loads are the actions of one situation.
func (a *actions) loads(dst *statics.Loads, s *situation) {
	c := s.combination()
	dst.Dead, dst.Live = dst.Dead[:0], dst.Live[:0]
	put := func(list []statics.Acting, f statics.Acting, by float64) []statics.Acting {
		for k := range f.F {
			f.F[k] *= by
		}
		return append(list, f)
	}
	for i, m := range a.masses {
		if s.heavies[i] {
			dst.Dead = put(dst.Dead, m.heavy, c.DeadUnfavourable)
		} else {
			dst.Dead = put(dst.Dead, m.light, c.Dead)
		}
	}
	for _, f := range a.ballast {
		dst.Dead = put(dst.Dead, f, c.Dead)
	}
	for i, alternatives := range a.winds {
		dst.Live = put(dst.Live, statics.Acting{Block: a.owner[i], Force: alternatives[s.pick[i]].Force}, c.Wind)
	}
	if s.push >= 0 {
		dst.Live = put(dst.Live, a.pushes[s.push], c.People)
	}
}

// worsen chooses, of every surface, push and mass, what drives a collapse most, and reports
// whether that changed anything.
func (a *actions) worsen(s *situation, c *statics.Collapse) bool {
	changed := false
	for i, alternatives := range a.winds {
		best, most := s.pick[i], c.Power(statics.Acting{Block: a.owner[i], Force: alternatives[s.pick[i]].Force})
		for k := range alternatives {
			if p := c.Power(statics.Acting{Block: a.owner[i], Force: alternatives[k].Force}); p > most+1e-9*math.Abs(most) {
				best, most = k, p
			}
		}
		changed = changed || best != s.pick[i]
		s.pick[i] = best
	}
	if s.push >= 0 {
		best, most := s.push, c.Power(a.pushes[s.push])
		for k, f := range a.pushes {
			if p := c.Power(f); p > most+1e-9*math.Abs(most) {
				best, most = k, p
			}
		}
		changed = changed || best != s.push
		s.push = best
	}
	combine := s.combination()
	for i, m := range a.masses {
		heavy := combine.DeadUnfavourable*c.Power(m.heavy) > combine.Dead*c.Power(m.light)+1e-12
		changed = changed || heavy != s.heavies[i]
		s.heavies[i] = heavy
	}
	return changed
}

// needed is the factor that a group must reach in a situation.
func (j *job) needed(s *situation) float64 {
	return math.Max(j.required(s, overturning), j.required(s, sliding))
}

// worstTogether looks for the worst situation of a group in one setup. There are far too
// many to try each: every surface has its alternatives, every mass two ends, and a person
// may lean on any piece. So from every piece that is leaned on, in every direction of the
// wind, the loads are changed to those that drive the collapse found most, until nothing
// drives it more. The search is over when no start falls below the worst so far.
func (j *job) worstTogether(g *group, s setup, gust float64, ballast []float64) (fall, error) {
	worst := fall{ratio: math.Inf(1)}
	var loads statics.Loads
	for _, s := range s.positions() {
		var faces []float64
		for _, b := range g.members {
			faces = append(faces, b.faces(s)...)
		}
		last := map[int]statics.Collapse{} // of each start, in the direction before
		for _, towards := range wind.Directions(faces) {
			a, err := j.actionsOn(g, s, towards, gust, ballast)
			if err != nil {
				return worst, err
			}
			analysis, system, err := j.systemOf(g, towards, ballast)
			if err != nil {
				return worst, err
			}
			starts := a.first
			if len(starts) == 0 {
				starts = []int{-1}
			}
			sit := situation{setup: s, towards: towards, pick: make([]int, len(a.winds)), heavies: make([]bool, len(a.masses))}
			for sit.combine = range s.wind.combinations {
				needs := j.needed(&sit)
				for n, start := range starts {
					clear(sit.pick)
					clear(sit.heavies)
					sit.push = start
					if c, ok := last[n]; ok {
						a.worsen(&sit, &c)
						sit.push = start
					}
					a.loads(&loads, &sit)
					if _, ok := last[n]; ok && worst.found {
						switch carried, err := analysis.Carries(&loads, worst.ratio*needs); {
						case err != nil:
							return worst, err
						case carried:
							continue
						}
					}
					for range 8 {
						o, err := analysis.Solve(&loads, statics.AllLimits)
						if err != nil {
							return worst, err
						}
						if !o.Certificate.OK {
							return worst, statics.ErrUnproven
						}
						if q := ratio(o.Factor, needs); !worst.found || q < worst.ratio*(1-1e-9) {
							worst = fall{true, q, sit.keep(), o, o.Collapse.Words(system)}
						}
						if o.Factor.Unbounded {
							break
						}
						last[n] = o.Collapse
						if !a.worsen(&sit, &o.Collapse) {
							break
						}
						a.loads(&loads, &sit)
					}
				}
			}
		}
	}
	return worst, nil
}

// togetherIn are the loads and the analysis of one situation.
func (j *job) togetherIn(g *group, s situation, gust float64, ballast []float64) (*statics.Loads, *statics.Analysis, *statics.Group, error) {
	a, err := j.actionsOn(g, s.setup, s.towards, gust, ballast)
	if err != nil {
		return nil, nil, nil, err
	}
	analysis, system, err := j.systemOf(g, s.towards, ballast)
	if err != nil {
		return nil, nil, nil, err
	}
	loads := &statics.Loads{}
	a.loads(loads, &s)
	return loads, analysis, system, nil
}

// separate are the limits that are shown beside the factor of a group: each is the factor
// in the same situation when nothing else could give.
var separate = []struct {
	only statics.Limit
	what string
}{
	{statics.TippingOnly, "overturning"},
	{statics.SlidingOnly, "sliding"},
	{statics.TurningOnly, "turning"},
	{statics.LinksOnly, "fastenings"},
	{statics.GuysOnly, "guys"},
}

// together checks a group.
func (j *job) together(g *group) {
	ballast := j.inPlaceOf(g)
	worst := fall{ratio: math.Inf(1)}
	for _, s := range j.setups(g.members...) {
		w, err := j.worstTogether(g, s, s.gust, ballast)
		if err != nil {
			j.unchecked(verdict.Standing, g.name, "standing together", err.Error(), "", g.at)
			return
		}
		if w.found && (!worst.found || w.ratio < worst.ratio) {
			worst = w
		}
	}
	if !worst.found {
		return
	}
	needs, from := j.needed(&worst.sit), worst.sit.fromDeg()
	o := &worst.outcome
	c := verdict.Check{
		ID: id(verdict.Standing, g.name, "standing together"), Kind: verdict.Standing, Subject: g.name, What: "standing together",
		State: string(worst.sit.state), FromDeg: &from, Sense: verdict.AtLeast, Needs: &needs, Unit: "1", At: g.at.String(),
		Mechanism: worst.words, Source: "limit analysis of rigid bodies: the largest factor that ground, fastenings and guys can carry",
		Certificate: &verdict.Certificate{Residual: o.Certificate.Residual, Gap: o.Certificate.Gap},
	}
	switch {
	case o.Factor.Unbounded:
		c.Result, c.Why = verdict.Holds, "no multiple of these loads brings it about"
	case o.NotStanding:
		c.Has, c.Mechanism = ptr(0), "does not stand by itself: "+c.Mechanism
	default:
		c.Has = ptr(o.Factor.Value)
	}
	c.Cure = j.cureTogether(g, ballast, &worst)
	c.Working = j.workingTogether(g, &worst, ballast)
	j.add(c)
	st := several{j, g, ballast}
	if !g.seated {
		for i, b := range g.members {
			if b.base == 0 {
				j.bearingRow(b, g.of(i, ballast))
			}
			j.windRows(b, st)
		}
	}
	j.limit(st)
}

// workingTogether lists the loads, what carries them and how it falls.
func (j *job) workingTogether(g *group, w *fall, ballast []float64) []verdict.Step {
	loads, analysis, system, err := j.togetherIn(g, w.sit, w.sit.gust, ballast)
	if err != nil {
		return nil
	}
	var steps []verdict.Step
	at := 0
	for i, b := range g.members {
		winds, err := j.winds(b, w.sit.setup, w.sit.towards, w.sit.gust)
		if err != nil {
			return nil
		}
		var blows []blow
		for k, alternatives := range winds {
			blows = append(blows, alternatives[w.sit.pick[at+k]])
		}
		at += len(winds)
		steps = append(steps, j.windWorking(b, &w.sit, blows)...)
		for _, f := range loads.Dead {
			if f.Block == i {
				steps = append(steps, verdict.Step{Text: "weight on " + b.name + ": " + f.Name, Formula: "g · mass, at the end that makes it worse",
					Numbers: fmt.Sprintf("%.4g N at (%.3f, %.3f, %.3f) m", -f.F[2], f.At[0], f.At[1], f.At[2]), At: b.place(f.Name)})
			}
		}
	}
	if w.sit.push >= 0 {
		f := loads.Live[len(loads.Live)-1]
		steps = append(steps, verdict.Step{Text: f.Name + " on " + g.members[f.Block].name, Formula: "horizontal push, at the place and in the direction that make it worst",
			Numbers: fmt.Sprintf("(%.4g, %.4g, %.4g) N at (%.3f, %.3f, %.3f) m", f.F[0], f.F[1], f.F[2], f.At[0], f.At[1], f.At[2])})
	}
	o := &w.outcome
	factor := "no limit"
	if !o.Factor.Unbounded {
		factor = fmt.Sprintf("%.3f", o.Factor.Value)
	}
	for i, k := range g.system.Links {
		f := o.LinkForces[i]
		steps = append(steps, verdict.Step{Text: "fastening of " + k.Name, Formula: "pull / hold + shear / hold",
			Numbers: fmt.Sprintf("(%.4g + %.4g) / %.4g = %.3f at that factor", math.Abs(f.Axial), f.Shear, k.Shear, (math.Abs(f.Axial)+f.Shear)/k.Shear)})
	}
	for i, y := range g.system.Guys {
		steps = append(steps, verdict.Step{Text: "guy " + y.Name, Formula: "pull / what is counted on", Numbers: fmt.Sprintf("%.4g / %.4g N = %.3f at that factor", o.GuyForces[i], y.Limit, o.GuyForces[i]/y.Limit)})
	}
	for _, s := range separate {
		alone, err := analysis.Solve(loads, s.only)
		if err != nil || alone.Factor.Unbounded || !alone.Certificate.OK {
			continue
		}
		steps = append(steps, verdict.Step{Text: "if only " + s.what + " could bring it down", Formula: "the same loads, every other limit taken away",
			Numbers: fmt.Sprintf("%.3f: %s", alone.Factor.Value, alone.Collapse.Words(system))})
	}
	return append(steps, verdict.Step{Text: "factor of the group", Formula: "largest factor f with every body in equilibrium under dead + f · live",
		Numbers: fmt.Sprintf("%s; forces balance to %.1e, and the collapse proves it to %.1e", factor, o.Certificate.Residual, o.Certificate.Gap),
		Source:  "static and kinematic theorems of limit analysis"})
}
