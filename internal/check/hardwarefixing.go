package check

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strconv"

	"galefast/internal/quantity"
	"galefast/internal/site"
	"galefast/internal/verdict"
	"galefast/statics"
	"galefast/statics/fastener"
)

// grasp is what one fastening of pieces holds, N: along its fasteners, and across them.
type grasp struct {
	pull, shear float64
	weaker      fastener.Capacity // of one fastener
	count       int
	err         error
}

// push is what a fastening carries where the pieces press on each other: no less than the other
// ways, which is all that is counted on of the wood.
func (g *grasp) push() float64 { return math.Max(g.pull, g.shear) }

// graspOf is what one fastening of a fixing holds.
func (j *job) graspOf(f *site.Fixing) grasp {
	if !f.Described() {
		hold := float64(f.Hold.V)
		return grasp{pull: hold, shear: hold, weaker: fastener.Capacity{Value: hold, Mode: "what it is said to hold", Certainty: "given in the site file"}, count: 1}
	}
	if g, ok := j.grasps[f]; ok {
		return g
	}
	var g grasp
	x, err := j.fasteningOf(&f.Fasteners, float64(f.Through.V), "fixing")
	if err != nil {
		g.err = err
	} else {
		// Every situation of pieces together has wind in it.
		g = grasp{pull: x.tension[0].Value * float64(x.count), shear: x.lateral[0].Value * float64(x.count), weaker: x.lateral[0], count: x.count}
		if g.pull < g.shear {
			g.weaker = x.tension[0]
		}
	}
	if g.err == nil && math.Min(g.pull, g.shear) <= 0 {
		g.err = fmt.Errorf("%s: nothing may be counted on", plainly(g.weaker.Mode, x.Kind))
	}
	if j.grasps == nil {
		j.grasps = map[*site.Fixing]grasp{}
	}
	j.grasps[f] = g
	return g
}

// holds reports whether pieces are counted on to hang together through a fixing.
func (j *job) holds(f *site.Fixing) bool { return f != nil && j.graspOf(f).err == nil }

// anchor is the pull at which the anchor of a guy gave way or first moved, and where that is from.
func anchor(y *site.Guy) (pull float64, source, certainty string) {
	if y.PullTested.Given {
		return float64(y.PullTested.V), "pull test on the spot", "given in the site file"
	}
	for _, s := range fastener.Stakes() {
		if s.Name == y.Anchor.V {
			return s.Pullout, s.Source, s.Certainty
		}
	}
	return 0, "", ""
}

// guyCapacity is the pull that a guy is counted on for.
func (j *job) guyCapacity(y *site.Guy) (fastener.Capacity, error) {
	subject := "the guy of " + y.From.V
	pull, source, certainty := anchor(y)
	if pull == 0 {
		return fastener.Capacity{}, fmt.Errorf("its anchor was not tested (pull_tested) and is none of the table of stakes")
	}
	rope, diameter, soil := y.Rope.V, float64(y.Diameter.V), y.Soil.V
	if rope == "" {
		rope = j.assumed("rope", subject)
	}
	if !y.Diameter.Given {
		diameter = assumedMeasure[quantity.Length](j, "rope_diameter", subject)
	}
	if soil == "" {
		soil = j.assumed("soil", subject)
	}
	r, err := j.thinner(rope, diameter)
	if err != nil {
		return fastener.Capacity{}, err
	}
	from, to := j.guyFrom(y), y.To.XY()
	return fastener.Guy{Rope: r, Knots: y.Knots.V, Fitting: float64(y.Fitting.V), AnchorSource: source,
		Angle:  math.Min(math.Atan2(float64(y.Height.V), math.Hypot(to[0]-from[0], to[1]-from[1])), math.Pi/2-1e-5),
		Anchor: fastener.Anchor{PullTest: pull, Wet: soil == "wet", Certainty: certainty}}.Capacity()
}

// thinner is the thickest rope of the tables that is not thicker than one.
func (j *job) thinner(material string, diameter float64) (r fastener.Rope, err error) {
	const sixteenth = 0.0254 / 16
	for n := math.Floor(diameter/sixteenth + 1e-6); n > 0; n-- {
		if r, err = fastener.RopeOf(material, n*sixteenth); err == nil {
			return r, nil
		}
	}
	return r, fmt.Errorf("the tables have no %s rope as thin as %s", material, j.long(diameter))
}

// asking is the least part of their strength with which some fastenings or guys of a group still
// reach its required factor.
type asking struct {
	share float64
	sit   *situation // that asks most; nil when none asks for anything
	ok    bool       // false where no strength does
}

// strengths are what a group asks of its fixings and of its guys, by their names.
type strengths struct {
	fixings map[*site.Fixing]asking
	guys    map[string]asking
}

func newStrengths() strengths { return strengths{map[*site.Fixing]asking{}, map[string]asking{}} }

// fastenings checks the fixings and guys of pieces that stand together, by the least strength
// with which the pieces would still reach their factor.
func (j *job) fastenings() {
	for i := range j.f.Walls {
		if w := &j.f.Walls[i]; w.Fixing != nil {
			j.fixing(w.Name.V, w.Fixing)
		}
	}
	for i := range j.f.Spans {
		if s := &j.f.Spans[i]; s.Fixing != nil {
			j.fixing(s.Name.V, s.Fixing)
		}
	}
	for i := range j.f.Guys {
		j.guy(i)
	}
}

// fixing checks the fastenings of one wall or span.
func (j *job) fixing(name string, f *site.Fixing) {
	const what = "fixing"
	g := j.graspOf(f)
	if g.err != nil {
		j.demanded(name, what, g.err.Error()+"; nothing is counted on through it", 0, f.At)
		return
	}
	asks, ok := j.asks.fixings[f]
	switch {
	case !ok:
		j.demanded(name, what, "the pieces that it joins were not checked together", 0, f.At)
		return
	case !asks.ok:
		j.demanded(name, what, fmt.Sprintf("each holds %s, and the pieces do not reach their factor however strong their fastenings are; see their standing together", j.force(math.Min(g.pull, g.shear))), 0, f.At)
		return
	}
	share := asks.share
	capacity := math.Min(g.pull, g.shear)
	use := fastener.Use{Demand: share * capacity, Capacity: capacity, Mode: g.weaker.Mode, Certainty: g.weaker.Certainty, Lateral: g.weaker}
	cure := ""
	if share > 1 {
		cure = fmt.Sprintf("fastenings that hold %s each", j.force(math.Ceil(use.Demand)))
		if f.Described() {
			cure = j.cureFixing(f, share)
		}
	}
	j.record(j.ofGroup(grip{subject: name, what: what, at: f.At, use: use, share: share, cure: cure}, asks.sit,
		verdict.Step{Text: "one fastening", Formula: "number · what one screw or bolt carries, in wind", Numbers: fmt.Sprintf("along %.4g N, across %.4g N, of %d", g.pull, g.shear, g.count), At: f.At.String()},
		verdict.Step{Text: "what it must hold", Formula: "least part of its strength, all fastenings of the piece alike, with which the pieces together still reach their factor",
			Numbers: fmt.Sprintf("%.3f of it: %.4g N in its weaker direction", share, use.Demand), Source: "limit analysis of rigid bodies"}))
}

// cureFixing looks for fasteners that are stronger by a factor both ways.
func (j *job) cureFixing(f *site.Fixing, by float64) string {
	x, err := j.fasteningOf(&f.Fasteners, float64(f.Through.V), "fixing")
	if err != nil {
		return ""
	}
	wood, n := x.Main.Material, float64(x.count)
	var cures []string
	j.otherKits(x.kit, float64(f.Through.V), float64(f.Thickness.V), "at each fastening", func(k kit, words string) bool {
		y, err := j.fit(k, wood, float64(f.Through.V), float64(f.Thickness.V))
		if err != nil || y.lateral[0].Value*float64(k.count) < by*x.lateral[0].Value*n || y.tension[0].Value*float64(k.count) < by*x.tension[0].Value*n {
			return false
		}
		cures = append(cures, words)
		return true
	})
	if len(cures) == 0 {
		cures = []string{fmt.Sprintf("%.1f times as strong a fastening", math.Ceil(10*by)/10)}
	}
	return orList(cures)
}

// guy checks one guy.
func (j *job) guy(i int) {
	y := &j.f.Guys[i]
	what := fmt.Sprintf("guy %d", i+1)
	c, err := j.guyCapacity(y)
	if err != nil {
		j.demanded(y.From.V, what, err.Error()+"; it is not counted on", 0, y.At)
		return
	}
	asks, ok := j.asks.guys[strconv.Itoa(i+1)]
	switch {
	case !ok:
		j.demanded(y.From.V, what, "its piece was not checked with it", 0, y.At)
		return
	case !asks.ok:
		j.demanded(y.From.V, what, fmt.Sprintf("it is counted on for %s (%s), and its piece does not reach its factor however strong it is; see standing together", j.force(c.Value), c.Mode), 0, y.At)
		return
	}
	share := asks.share
	use := fastener.Use{Demand: share * c.Value, Capacity: c.Value, Mode: c.Mode, Certainty: c.Certainty, Tension: c}
	cure := ""
	if share > 1 {
		cure = fmt.Sprintf("rope, fitting and anchor for %s each, as computed here", j.force(math.Ceil(use.Demand)))
	}
	j.record(j.ofGroup(grip{subject: y.From.V, what: what, at: y.At, use: use, share: share, cure: cure}, asks.sit,
		verdict.Step{Text: "what it must pull", Formula: "least part of its strength with which its piece still reaches the factor", Numbers: fmt.Sprintf("%.3f of it: %.4g N", share, use.Demand), Source: "limit analysis of rigid bodies"}))
}

// ofGroup adds the situation and the steps of a check of a group.
func (j *job) ofGroup(g grip, sit *situation, steps ...verdict.Step) grip {
	g.steps = steps
	if sit != nil {
		from := sit.fromDeg()
		g.state, g.fromDeg = string(sit.state), &from
	}
	return g
}

// scaling makes some links or guys of a system stronger by a factor.
type scaling func(s *statics.Group, by float64)

// askStrengths finds what a group asks of each of its fixings and guys.
func (j *job) askStrengths(g *group, ballast []float64, governs []situation) {
	var each []scaling
	var put []func(asking)
	for i, f := range g.fixings {
		if slices.Contains(g.fixings[:i], f) {
			continue
		}
		each = append(each, func(s *statics.Group, by float64) {
			for k := range s.Links {
				if g.fixings[k] == f {
					k := &s.Links[k]
					k.Pull, k.Push, k.Shear = by*k.Pull, by*k.Push, by*k.Shear
				}
			}
		})
		put = append(put, func(a asking) { j.asks.fixings[f] = a })
	}
	for i := range g.system.Guys {
		each = append(each, func(s *statics.Group, by float64) { s.Guys[i].Limit *= by })
		put = append(put, func(a asking) { j.asks.guys[g.system.Guys[i].Name] = a })
	}
	asks := make([]asking, len(each))
	for i, scale := range each {
		asks[i] = j.strengthFor(g, ballast, governs, asking{ok: true}, scale)
	}
	known := j.carriedBy(g, ballast, asks, each)
	for i, scale := range each {
		put[i](j.leastStrength(g, ballast, asks[i], maps.Clone(known), scale))
	}
}

// strengthFor raises a strength to what some situations ask for.
func (j *job) strengthFor(g *group, ballast []float64, sits []situation, found asking, scale scaling) asking {
	defer g.refit()
	for i := range sits {
		share, ok := j.strengthIn(g, &sits[i], ballast, found.share, scale)
		if !ok {
			return asking{}
		}
		if share > found.share {
			found.share, found.sit = share, &sits[i]
		}
	}
	return found
}

// carriedBy is what a group still carries with every strength as low as what is asked for so far. It is
// carried all the more with one of them that low, so that most questions need not be asked of each.
func (j *job) carriedBy(g *group, ballast []float64, asks []asking, each []scaling) map[asked]carried {
	known := map[asked]carried{}
	faint := *g
	faint.tried, faint.ways = maps.Clone(g.tried), slices.Clone(g.ways)
	faint.weaken(g, func(s *statics.Group, _ float64) {
		for i, scale := range each {
			if asks[i].ok {
				scale(s, math.Min(1, math.Max(asks[i].share, leastShare)))
			}
		}
	}, 1)
	defer g.refit()
	for _, s := range j.setups(faint.members...) {
		h := j.hunt(&faint, s.gust, ballast, 1-1e-3)
		h.carried, h.only = known, true
		if h.sweep(s, hinted) != nil {
			break
		}
	}
	return known
}

// refit gives what is prepared for a group its own strengths back.
func (g *group) refit() {
	for _, r := range g.ready {
		_ = r.analysis.Refit(r.system) // which it once fitted
	}
}

// leastStrength is the least factor on the strength of some links or guys with which a group still
// reaches its required factor, and the situation that asks most. What the situations that govern the
// group as it is ask for is held against what is worst for the group that is as weak as that, until
// nothing new falls short.
func (j *job) leastStrength(g *group, ballast []float64, found asking, known map[asked]carried, scale scaling) asking {
	weak := *g
	for range mostRounds {
		if !found.ok {
			break
		}
		// The ways to fall of the group say which loads to try. Where that could decide, each is
		// followed to what is worst, else only what is not carried.
		weak.tried, weak.ways = maps.Clone(g.tried), slices.Clone(g.ways)
		if found.share > closeShare {
			weak.tried = map[start]bool{}
		}
		weak.weaken(g, scale, math.Max(found.share, leastShare))
		var worse []situation
		for _, s := range j.setups(weak.members...) {
			h := j.hunt(&weak, s.gust, ballast, 1-1e-3)
			h.carried = known
			if err := h.sweep(s, hinted); err == nil && h.worst.found {
				worse = append(worse, h.worst.sit)
			}
		}
		g.refit()
		if len(worse) == 0 {
			break
		}
		found = j.strengthFor(g, ballast, worse, found, scale)
	}
	return found
}

// weaken makes g as weak as another that was scaled by a factor, with what was prepared for that.
func (g *group) weaken(o *group, scale scaling, by float64) {
	g.system = *scaled(&o.system, scale, by)
	g.ready = map[float64]standingOn{}
	for align, r := range o.ready {
		if system := scaled(r.system, scale, by); r.analysis.Refit(system) == nil {
			g.ready[align] = standingOn{r.analysis, system}
		}
	}
}

// scaled is a system with some strengths scaled by a factor.
func scaled(s *statics.Group, scale scaling, by float64) *statics.Group {
	k := *s
	k.Links, k.Guys = slices.Clone(s.Links), slices.Clone(s.Guys)
	scale(&k, by)
	return &k
}

const (
	mostRounds = 4    // of looking for worse situations of a weaker group
	closeShare = 0.5  // of the strength, from which on the search is thorough
	leastShare = 1e-3 // of the strength that is looked at, so that a group keeps its ways to fall
)

// strengthIn is the least strength, no less than one that is known to be asked for, in one
// situation.
func (j *job) strengthIn(g *group, s *situation, ballast []float64, least float64, scale scaling) (float64, bool) {
	a, err := j.actionsOn(g, s.setup, s.towards, s.gust, ballast)
	if err != nil {
		return 0, false
	}
	var loads statics.Loads
	a.loads(&loads, s)
	needs := j.needed(s)
	analysis, system, err := j.systemOf(g, s.towards, ballast)
	if err != nil {
		return 0, false
	}
	carries := func(by float64) bool {
		if err := analysis.Refit(scaled(system, scale, math.Max(by, leastShare))); err != nil {
			return false
		}
		good, err := analysis.Carries(&loads, needs)
		return err == nil && good
	}
	if carries(least) {
		return least, true
	}
	lo, hi := least, math.Max(1, least)
	for !carries(hi) {
		if lo, hi = hi, 4*hi; hi > mostStrength {
			return 0, false
		}
	}
	for hi-lo > 1e-4*hi {
		if mid := (lo + hi) / 2; carries(mid) {
			hi = mid
		} else {
			lo = mid
		}
	}
	return hi, true
}

// mostStrength is how much stronger fastenings are tried.
const mostStrength = 100

// supports tells what the ends of a span must hold, where the file says nothing of them.
func (j *job) supports(i int) {
	s := &j.f.Spans[i]
	const why = "the file does not say how its ends are fastened (fixing)"
	if j.code == nil {
		j.demanded(s.Name.V, "supports", why, 0, s.Name.At)
		return
	}
	worst := 0.0
	for end := range s.Between {
		sp := j.spanEnd(i, end == 0, j.f.Column(s.Between[end].V))
		b := &lone{spans: []spanOn{sp}}
		for _, set := range j.setups(b) {
			ask := j.loadFactors(set)
			for _, towards := range b.directions(set) {
				winds, err := j.winds(b, set, towards, set.gust)
				if err != nil {
					j.demanded(s.Name.V, "supports", why, 0, s.Name.At)
					return
				}
				gravity := statics.Gravity(float64(j.f.Site.Slope.V), towards)
				for _, alternatives := range winds {
					for _, bl := range alternatives {
						sum := 0.0
						for k := range 3 {
							f := ask.wind*bl.F[k] + ask.burden*sp.mass.Heavy/2*gravity[k]
							sum += f * f
						}
						worst = math.Max(worst, math.Sqrt(sum))
					}
				}
			}
		}
	}
	j.demanded(s.Name.V, "supports", "each end: "+why, worst, s.Name.At)
}
