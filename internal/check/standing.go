package check

import (
	"fmt"
	"math"
	"slices"

	"galefast/internal/site"
	"galefast/internal/verdict"
	"galefast/statics"
	"galefast/wind"
)

// Modes of a body, in the order of their rows.
const (
	overturning = iota
	sliding
	turning
	modes
)

var modeNames = [modes]string{"overturning", "sliding", "turning"}

// finding is the worst of one mode over every situation of a body.
type finding struct {
	found  bool
	ratio  float64 // factor over required factor; the smaller the worse
	factor statics.Factor
	sit    situation
	result statics.Result
}

// standing checks every body and then works out ballast, limits and the wind table.
func (j *job) standing() error {
	var err error
	if j.measured, err = j.newClimate(wind.Gust); err == nil {
		j.code = j.measured
		if basis := wind.Basis(j.f.Site.Basis.V); basis != wind.Gust {
			j.code, err = j.newClimate(basis)
		}
	}
	if err != nil {
		for _, b := range j.bodies() {
			for _, mode := range modeNames[:turning] {
				j.unchecked(verdict.Standing, b.name, mode, err.Error(), "", b.at)
			}
		}
		return nil
	}
	groups, grouped := j.groups()
	j.grounds(groups)
	var work []func(*job)
	for _, b := range j.bodies() {
		if !grouped[b.piece] {
			work = append(work, func(j *job) {
				b.blown = map[acting][][]blow{}
				j.byItself(b)
				b.ready, b.blown = nil, nil
			})
		}
	}
	for _, g := range groups {
		work = append(work, func(j *job) {
			j.together(g)
			g.prepare()
		})
	}
	j.sideBySide(work)
	j.joints()
	j.ballastTable()
	j.plan()
	return nil
}

// byItself checks a body that stands by itself.
func (j *job) byItself(b *lone) {
	ballast := j.inPlace(b)
	worst, err := j.evaluate(b, ballast, allModes)
	if err != nil {
		for _, mode := range modeNames[:turning] {
			j.unchecked(verdict.Standing, b.name, mode, err.Error(), "", b.at)
		}
		return
	}
	cures := j.cure(b, worst)
	for mode := range worst {
		if worst[mode].found {
			j.standingRow(b, mode, &worst[mode], ballast, cures[mode])
		}
	}
	st := single{j, b, ballast, allModes, map[standsIn]hit{}}
	if b.whole {
		j.bearingRow(b, ballast)
		var governs []situation // of each setup
		for _, s := range st.setups() {
			if w, err := st.worst(s, s.gust, math.Inf(1)); err == nil && w.found {
				st.worsts[standsIn{s.state, s.people}] = w
				governs = append(governs, w.sit)
			}
		}
		j.windRows(b, governs)
	}
	if !j.stacked(b.piece) {
		j.limit(st)
	}
}

// stacked reports whether a piece is a column with sections that are merely seated: it has
// the limits of its parts together.
func (j *job) stacked(piece string) bool {
	c := j.f.Column(piece)
	if c == nil {
		return false
	}
	for k := range c.Sections {
		if k > 0 && c.Sections[k].Joint == nil {
			return true
		}
	}
	return false
}

// grounds lists what the standing checks take for granted.
func (j *job) grounds(groups []*group) {
	if !j.f.Site.GustOpen.Given {
		j.take("gust_open taken as gust_alone: no lower gust is given for the hours with the public inside", "", "common practice, no source")
	}
	j.take("every leaning push may act on any one piece, whether or not visitors reach it; the factor is applied to it as to the wind", "", "common practice, no source")
	j.take("the ground falls in the direction in which the wind blows", "", "common practice, no source")
	j.take("the corners of each foot bear; a foot that bears in its middle only turns and tips under less", "", "common practice, no source")
	j.take("pieces stand each by itself, except through fastenings and tested guys that the file describes: nothing is counted on through latches or a joint that it only names", "", "common practice, no source")
	if len(groups) > 0 {
		j.take("pieces that stand together are rigid and their fastenings, guys and footings give without breaking, each at its limit; a rope that is slack or stretches lets the piece lean first", "limit analysis of rigid bodies", "common practice, no source")
		j.take("where sliding and tipping go together, limit analysis can overestimate (friction does not follow the rule of normality); the rows of each way by itself stand in the working", "Drucker 1954; Livesley 1978 and 1992", "from memory")
		j.take("the worst wind, leaning and masses of a group are searched for from every direction and every piece leaned on, not tried in every combination", "", "common practice, no source")
	}
	j.take("wind more than 45 degrees off the face of a panel: "+wind.ObliqueRule, "", "common practice, no source")
	j.softGround()
	if slices.ContainsFunc(j.f.Walls, func(w site.Wall) bool { return w.Return.Given }) {
		j.take("wind on the returns of a wall acts at the middle of each return, not off its centre", "", "common practice, no source")
	}
	j.basisNotes()
	if j.f.Site.Basis.V == "gust" {
		j.take("no piece shelters another; the gust effect factor and the directionality factor are 1", "methods of basis gust: a measured gust, every direction tried", "common practice, no source")
	}
}

// required is the factor that a mode must reach in a situation: that of the
// combination, else the site's own.
func (j *job) required(s *situation, mode int) float64 {
	if r := s.combination().Required; r > 0 {
		return r
	}
	if mode == overturning {
		return j.f.Require.Overturning.V
	}
	return j.f.Require.Sliding.V
}

// factors are the factors of the three modes of a result.
func factors(r *statics.Result) [modes]statics.Factor {
	return [modes]statics.Factor{r.Overturning[r.WorstEdge].Factor, r.Sliding.Factor, r.Turning.Factor}
}

// ratio compares a factor with the required one; unbounded is beyond every number.
func ratio(f statics.Factor, required float64) float64 {
	if f.Unbounded {
		return math.MaxFloat64
	}
	return f.Value / required
}

// twists reports whether turning comes before tipping and sliding, beyond rounding.
func twists(f [modes]statics.Factor) bool {
	least := f[overturning]
	if f[sliding].Less(least) {
		least = f[sliding]
	}
	return !f[turning].Unbounded && (least.Unbounded || f[turning].Value < least.Value*(1-1e-6))
}

// far is a factor that stands for no limit where a number is needed.
const far = 1e6

// unasked is the factor against turning that is enough where nobody asks for it.
const unasked = 1e-9

// evaluate finds the worst situation of each mode that is wanted. Turning is found only where it
// comes before tipping and sliding.
func (j *job) evaluate(b *lone, ballast []float64, want mask) ([modes]finding, error) {
	var worst [modes]finding
	for _, s := range j.setups(b) {
		err := j.each(b, s, s.gust, ballast, func(sit situation, body *statics.Body) error {
			body.Enough = 0
			if w := &worst[turning]; !want[turning] {
				body.Enough = unasked
			} else if w.found {
				body.Enough = math.Min(w.ratio*j.required(&sit, turning), far)
			}
			r, err := body.Check()
			if err != nil {
				return err
			}
			all := factors(&r)
			for mode, f := range all {
				w, needs := &worst[mode], j.required(&sit, mode)
				if !want[mode] || w.found && ratio(f, needs) >= w.ratio*(1-1e-9) || mode == turning && !twists(all) {
					continue
				}
				if mode == turning {
					// The bound may be all that falls short: ask for the factor itself.
					enough := math.Inf(1)
					if w.found {
						enough = w.ratio * needs
					}
					if f, err = b.turns(&sit, body, &r, enough); err != nil {
						return err
					}
					if all[turning] = f; !twists(all) {
						continue
					}
				}
				if q := ratio(f, needs); !w.found || q < w.ratio*(1-1e-9) {
					*w = finding{true, q, f, sit.keep(), r}
				}
			}
			return nil
		})
		if err != nil {
			return worst, err
		}
	}
	return worst, nil
}

// standingRow writes one row with its working.
func (j *job) standingRow(b *lone, mode int, w *finding, ballast []float64, cure string) {
	required := j.required(&w.sit, mode)
	from := w.sit.fromDeg()
	c := verdict.Check{
		ID: id(verdict.Standing, b.name, modeNames[mode]), Kind: verdict.Standing, Subject: b.name, What: modeNames[mode],
		State: string(w.sit.state), FromDeg: &from, Sense: verdict.AtLeast, Needs: &required, Unit: "1",
		At: b.at.String(), Mechanism: j.mechanism(mode, &w.result),
		Source: sources[mode],
	}
	if w.factor.Unbounded {
		c.Result, c.Why = verdict.Holds, "no multiple of these loads brings it about"
	} else {
		has := w.factor.Value
		c.Has = &has
	}
	c.Working = j.working(b, mode, w, ballast)
	if w.ratio < 1 {
		c.Cure = cure
	}
	j.prove(b, mode, w, ballast, &c)
	j.add(c)
}

var sources = [modes]string{
	"moments about each edge of the foot",
	"Coulomb friction on the foot",
	"limit analysis: ground forces at the corners of the foot within friction",
}

// mechanism says how a body by itself fails in a mode.
func (j *job) mechanism(mode int, r *statics.Result) string {
	switch {
	case r.Overturning[r.WorstEdge].DeadTips || r.Sliding.DeadSlides:
		return "does not stand by itself"
	case mode == overturning:
		return r.Overturning[r.WorstEdge].Mechanism()
	case mode == sliding:
		return r.Sliding.Mechanism()
	}
	return r.Turning.Mechanism()
}

// working writes the hand check of the governing situation.
func (j *job) working(b *lone, mode int, w *finding, ballast []float64) []verdict.Step {
	body, blows, err := j.body(b, w.sit, w.sit.gust, ballast)
	if err != nil {
		return nil
	}
	steps := j.windWorking(b, &w.sit, blows)
	if c := w.sit.combination(); c.Required > 0 {
		steps = append(steps, verdict.Step{Text: "combination " + c.Name, Formula: "factors on resisting weight, burdening weight, wind, people",
			Numbers: fmt.Sprintf("%.3g, %.3g, %.3g, %.3g; they are in the forces below", c.Dead, c.DeadUnfavourable, c.Wind, c.People), Source: c.Source + " (" + c.Certainty + ")"})
	}
	edge := &w.result.Overturning[w.result.WorstEdge]
	switch mode {
	case overturning:
		steps = append(steps, momentSteps(b, "resisting", body.Dead, edge, -1)...)
		steps = append(steps, verdict.Step{Text: "resisting moment about the " + edge.Name + " edge", Formula: "M_r = sum of the above", Numbers: fmt.Sprintf("M_r = %.4g N·m", edge.Resisting)})
		steps = append(steps, momentSteps(b, "overturning", body.Live, edge, 1)...)
		steps = append(steps, verdict.Step{Text: "overturning moment about the same edge", Formula: "M_o = sum of the above", Numbers: fmt.Sprintf("M_o = %.4g N·m", edge.Overturning)})
		if !w.factor.Unbounded {
			steps = append(steps, verdict.Step{Text: "factor against overturning", Formula: "M_r / M_o",
				Numbers: fmt.Sprintf("%.4g / %.4g = %.3f", edge.Resisting, edge.Overturning, w.factor.Value), Source: sources[mode]})
		}
	case sliding:
		s := &w.result.Sliding
		steps = append(steps, verdict.Step{Text: "weight on the foot", Formula: "N = sum of the weights at their light end", Numbers: fmt.Sprintf("N = %.4g N", w.result.Normal)},
			verdict.Step{Text: "friction on " + b.rubs, Formula: "R = mu · N", Numbers: fmt.Sprintf("R = %.3g · %.4g = %.4g N", b.friction, w.result.Normal, s.Friction), Source: b.source, At: b.rubsAt},
			verdict.Step{Text: "horizontal force of wind and people", Formula: "H = length of the sum of the horizontal forces", Numbers: fmt.Sprintf("H = %.4g N", s.Horizontal)})
		if !w.factor.Unbounded {
			steps = append(steps, verdict.Step{Text: "factor against sliding", Formula: "factor f at which |H_slope + f · H| = mu · N",
				Numbers: fmt.Sprintf("%.3f (R / H alone = %.3f; the rest is the slope)", w.factor.Value, s.Friction/math.Max(s.Horizontal, 1e-9)), Source: sources[mode]})
		}
	case turning:
		tu := &w.result.Turning
		steps = append(steps, verdict.Step{Text: "torque about the centre of pressure at that factor", Formula: "T = sum of x·F_y - y·F_x about the centre",
			Numbers: fmt.Sprintf("T = %.4g N·m about (%.3f, %.3f) m", tu.Torque, tu.Centre[0], tu.Centre[1])},
			verdict.Step{Text: "lower bound with the weight shared among the corners as their distances ask", Formula: "largest factor whose corner forces stay within friction",
				Numbers: fmt.Sprintf("%.3f with mu = %.3g", tu.Factor.Value, b.friction), Source: "static theorem"},
			verdict.Step{Text: "factor against turning on the foot", Formula: "largest factor that any forces at the corners carry",
				Numbers: fmt.Sprintf("%.3f", w.factor.Value), Source: sources[mode]})
	}
	return steps
}

// momentSteps lists the moment of each force about an edge; sign +1 counts tipping
// moments, -1 resisting ones.
func momentSteps(b *lone, role string, forces []statics.Force, edge *statics.EdgeResult, sign float64) []verdict.Step {
	n := [2]float64{math.Sin(edge.Bearing * math.Pi / 180), math.Cos(edge.Bearing * math.Pi / 180)}
	var steps []verdict.Step
	for i := range forces {
		f := &forces[i]
		out := f.F[0]*n[0] + f.F[1]*n[1]
		lever := (edge.From[0]-f.At[0])*n[0] + (edge.From[1]-f.At[1])*n[1] // from the force in to the edge
		m := still(sign * (out*f.At[2] + f.F[2]*lever))
		out = still(out)
		numbers := fmt.Sprintf("%.4g N · %.4g m = %.4g N·m", out, f.At[2], m)
		if f.F[2] != 0 {
			numbers = fmt.Sprintf("%.4g N · %.4g m", -f.F[2], lever)
			if out != 0 {
				turn := "-"
				if out < 0 {
					turn = "+"
				}
				numbers += fmt.Sprintf(" %s %.4g N · %.4g m (slope)", turn, math.Abs(out), f.At[2])
			}
			numbers += fmt.Sprintf(" = %.4g N·m", m)
		}
		steps = append(steps, verdict.Step{Text: fmt.Sprintf("%s moment of %s", role, f.Name), Formula: "force · distance to the edge", Numbers: numbers, At: b.place(f.Name)})
	}
	return steps
}
