package check

import (
	"fmt"
	"math"

	"galefast/internal/site"
	"galefast/internal/takeoff"
	"galefast/statics"
	"galefast/wind"
)

// Searched is what the search of the worst situation of one group found in one setup, and the
// worst of all situations.
type Searched struct {
	Group, Setup string
	Found, Least float64 // factor over what is required
	Tried        int     // situations
	Worst        string  // of them, where it is worse than what was found
}

// SearchEveryGroup looks for the worst situation of every group of a site and then tries
// every choice of wind, leaning person and direction, with all masses light, with what
// hangs on the pieces heavy, and with all heavy.
func SearchEveryGroup(f *site.File, masses *takeoff.Takeoff) (list []Searched, err error) {
	j := &job{f: f, masses: masses}
	if j.measured, err = j.newClimate(wind.Gust); err != nil {
		return nil, err
	}
	j.code = j.measured
	groups, _ := j.groups()
	for _, g := range groups {
		ballast := j.inPlaceOf(g)
		for _, s := range j.setups(g.members...) {
			found, err := j.worstTogether(g, s, s.gust, ballast, math.Inf(1), map[asked]carried{})
			if err != nil {
				return nil, err
			}
			r := Searched{Group: g.name, Setup: fmt.Sprintf("%s, people %v", s.state, s.people), Found: found.ratio, Least: found.ratio}
			if err := j.everyChoice(g, s, ballast, &r); err != nil {
				return nil, err
			}
			list = append(list, r)
		}
	}
	return list, nil
}

// everyChoice asks of every choice whether it is carried at the ratio found.
func (j *job) everyChoice(g *group, in setup, ballast []float64, r *Searched) error {
	for _, s := range in.positions() {
		var faces []float64
		for _, b := range g.members {
			faces = append(faces, b.faces(s)...)
		}
		for _, towards := range wind.Directions(faces) {
			analysis, _, err := j.systemOf(g, towards, ballast)
			if err != nil {
				return err
			}
			var winds [][]blow
			var owner []int
			pushes := []statics.Acting{}
			for i, b := range g.members {
				own, err := j.winds(b, s, towards, s.gust)
				if err != nil {
					return err
				}
				for range own {
					owner = append(owner, i)
				}
				winds = append(winds, own...)
				for _, p := range j.pushes(b, s, b.normals(), towards) {
					pushes = append(pushes, statics.Acting{Block: i, Force: p})
				}
			}
			if len(pushes) == 0 {
				pushes = append(pushes, statics.Acting{})
			}
			sit := situation{setup: s, towards: towards}
			for sit.combine = range s.wind.combinations {
				c := sit.combination()
				for ends := range 3 {
					dead := j.deadTogether(g, sit, ballast, ends)
					pick := make([]int, len(winds))
					for more := true; more; more = next(pick, winds) {
						for _, p := range pushes {
							loads := &statics.Loads{Dead: dead}
							for i := range winds {
								loads.Live = append(loads.Live, times(statics.Acting{Block: owner[i], Force: winds[i][pick[i]].Force}, c.Wind))
							}
							loads.Live = append(loads.Live, times(p, c.People))
							r.Tried++
							needs := j.needed(&sit)
							if carried, err := analysis.Carries(loads, math.Min(maxAsked, r.Least*needs*(1-1e-6))); err != nil || carried {
								if err != nil {
									return err
								}
								continue
							}
							o, err := analysis.Solve(loads, statics.AllLimits)
							if err != nil || !o.Certificate.OK {
								return statics.ErrUnproven
							}
							r.Least = ratio(o.Factor, needs)
							r.Worst = fmt.Sprintf("wind to %.4f rad, choices %v, push %v on %d, masses %d", towards, pick, p.F, p.Block, ends)
						}
					}
				}
			}
		}
	}
	return nil
}

// maxAsked is the greatest factor that the search is held to.
const maxAsked = 1e6

// deadTogether are the weights of a group: all light, what hangs on the pieces heavy, or
// all heavy.
func (j *job) deadTogether(g *group, sit situation, ballast []float64, ends int) (dead []statics.Acting) {
	c := sit.combination()
	for i, b := range g.members {
		sit.heavy = ends > 0
		for k, f := range j.deadOf(nil, b, sit, g.of(i, ballast)) {
			f.At[2] += b.base
			by := 1.0
			if k < len(b.dead) && (ends == 2 || ends == 1 && len(b.foot) == 0) {
				by = c.DeadUnfavourable / c.Dead * b.dead[k].heavy / b.dead[k].light
			}
			dead = append(dead, times(statics.Acting{Block: i, Force: f}, by))
		}
	}
	return dead
}

func times(a statics.Acting, by float64) statics.Acting {
	for k := range a.F {
		a.F[k] *= by
	}
	return a
}
