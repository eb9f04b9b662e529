package check

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"galefast/internal/quantity"
	"galefast/internal/verdict"
	"galefast/statics"
	"galefast/wind"
)

// maxLimit is the highest gust that is looked at, m/s.
const maxLimit = 100

// worstAt is the worst ratio of a body in one setup at one gust that is below a bar, and where.
func (j *job) worstAt(b *lone, s setup, gust float64, ballast []float64, bar float64) (finding, int, error) {
	worst, mode := finding{ratio: bar}, overturning
	err := j.each(b, s, gust, ballast, func(sit situation, body *statics.Body) error {
		body.Enough = 0
		if !math.IsInf(worst.ratio, 1) {
			body.Enough = math.Min(worst.ratio*j.required(&sit, turning), far)
		}
		r, err := body.Check()
		if err != nil {
			return err
		}
		for m, f := range factors(&r) {
			needs := j.required(&sit, m)
			if ratio(f, needs) >= worst.ratio*(1-1e-9) {
				continue
			}
			if m == turning {
				if f, err = b.turns(&sit, body, &r, worst.ratio*needs); err != nil {
					return err
				}
			}
			if q := ratio(f, needs); q < worst.ratio*(1-1e-9) {
				worst, mode = finding{true, q, f, sit.keep(), r}, m
			}
		}
		return nil
	})
	return worst, mode, err
}

// stander is what can fall: a body, or a group with its ballast.
type stander interface {
	label() string
	reach() float64 // m, height of the top
	setups() []setup
	// worst finds the worst situation of a setup at a gust, if its ratio lies below a bar.
	worst(s setup, gust, bar float64) (hit, error)
	// holds reports whether it reaches what is wanted in one situation at a gust.
	holds(sit situation, gust float64) bool
	// upTo is the highest gust at which it holds in one situation, no more than one at which
	// it does not.
	upTo(sit situation, gust float64) (float64, error)
	bodies() []*lone
	// reached is the worst of a setup at its own gust.
	reached(in setup) (hit, bool)
}

// hit is the worst situation found, how far it is from what is required, and how it falls.
type hit struct {
	found     bool
	ratio     float64
	sit       situation
	mechanism string
}

// single is a body by itself.
type single struct {
	j       *job
	b       *lone
	ballast []float64
	want    mask
	worsts  map[standsIn]hit
}

func (s single) label() string   { return s.b.name }
func (s single) reach() float64  { return s.b.top - s.b.base }
func (s single) setups() []setup { return s.j.setups(s.b) }

func (s single) worst(in setup, gust, bar float64) (hit, error) {
	w, mode, err := s.j.worstAt(s.b, in, gust, s.ballast, bar)
	if err != nil || !w.found {
		return hit{ratio: math.Inf(1)}, err
	}
	return hit{true, w.ratio, w.sit, s.j.mechanism(mode, &w.result)}, nil
}

func (s single) holds(sit situation, gust float64) bool {
	return s.j.holdsIn(s.b, sit, gust, s.ballast, s.want)
}

func (s single) bodies() []*lone { return []*lone{s.b} }

func (s single) reached(in setup) (hit, bool) {
	h, ok := s.worsts[standsIn{in.state, in.people}]
	return h, ok
}

func (s single) upTo(sit situation, gust float64) (float64, error) {
	lo, hi := 0.0, gust
	for hi-lo > 1e-6 {
		if mid := (lo + hi) / 2; s.holds(sit, mid) {
			lo = mid
		} else {
			hi = mid
		}
	}
	return lo, nil
}

// several is a group.
type several struct {
	j       *job
	g       *group
	ballast []float64
	calm    map[asked]carried // in a setup that holds in still air; nil where that is not known
}

func (s *several) label() string { return s.g.name }
func (s *several) reach() float64 {
	top := 0.0
	for _, b := range s.g.members {
		top = math.Max(top, b.top)
	}
	return top
}
func (s *several) setups() []setup { return s.j.setups(s.g.members...) }

func (s *several) worst(in setup, gust, bar float64) (hit, error) {
	// What is carried in still air and in a gust is carried in all between, where the wind only grows.
	known := map[asked]carried{}
	if s.calm != nil && gust > 0 && s.j.grows(s.g.members, in, gust) {
		known = s.calm
	}
	w, err := s.j.worstTogether(s.g, in, gust, s.ballast, bar, known)
	if gust == 0 {
		s.calm = nil
		if err == nil && bar >= 1 && !w.found {
			s.calm = map[asked]carried{}
		}
	}
	if err != nil || !w.found {
		return hit{ratio: math.Inf(1)}, err
	}
	return hit{true, w.ratio, w.sit, w.words}, nil
}

func (s *several) holds(sit situation, gust float64) bool {
	loads, analysis, _, err := s.j.togetherIn(s.g, sit, gust, s.ballast)
	if err != nil {
		return false
	}
	carried, err := analysis.Carries(loads, s.j.needed(&sit)*(1-1e-9))
	return err == nil && carried
}

func (s *several) bodies() []*lone { return s.g.members }

func (s *several) reached(in setup) (hit, bool) {
	w, ok := s.g.worsts[standsIn{in.state, in.people}]
	ok = ok && slices.Equal(s.ballast, s.g.laid)
	return hit{true, w.ratio, w.sit, w.words}, ok
}

// upTo comes down by the motions that stop a gust: the power of the wind in each goes with the
// square of the gust.
func (s *several) upTo(sit situation, gust float64) (float64, error) {
	analysis, _, err := s.j.systemOf(s.g, sit.towards, s.ballast)
	if err != nil {
		return 0, err
	}
	needs := s.j.needed(&sit) * (1 - 1e-9)
	var loads statics.Loads
	for range 60 {
		a, err := s.j.actionsOn(s.g, sit.setup, sit.towards, gust, s.ballast)
		if err != nil {
			return 0, err
		}
		a.loads(&loads, &sit)
		o, carried, err := analysis.Seek(&loads, needs)
		if err != nil || carried {
			return gust, err
		}
		left, blown := o.Collapse.Dissipated, 0.0
		for _, f := range loads.Dead {
			left -= o.Collapse.Power(f)
		}
		for i, f := range loads.Live {
			if p := needs * o.Collapse.Power(f); i < len(a.winds) {
				blown += p
			} else {
				left -= p
			}
		}
		if left <= 0 || blown <= 0 {
			return 0, nil
		}
		gust = math.Min(gust*math.Sqrt(left/blown), gust*(1-1e-9))
	}
	return gust, nil
}

// breath is a gust, m/s, that is no wind: a limit below it is none.
const breath = 0.05

// gustLimit is the highest gust at which every required factor is reached in a setup. The
// situation that governs at a gust bounds the limit from above; every situation is
// tried again at the bound until none falls short.
func (j *job) gustLimit(st stander, s setup) (limit float64, at hit, err error) {
	limit = maxLimit
	if h, ok := st.reached(s); ok && h.sit.wind == s.wind && s.blows == nil {
		if s.people {
			// The limit of the situation that governs at its own gust lies not far above.
			if limit, err = st.upTo(h.sit, maxLimit); err != nil {
				return 0, h, err
			}
			limit = math.Min(maxLimit, math.Max(1, 1.001*limit))
		} else if v := s.gust * math.Sqrt(h.ratio); j.grows(st.bodies(), s, math.Min(v, maxLimit)) {
			// Wind is all that acts, and it grows with the square of the gust in every situation.
			if v >= maxLimit {
				return maxLimit, hit{}, nil
			}
			if v < breath {
				v = 0
			}
			return v, h, nil
		}
	}
	still, err := st.worst(s, 0, 1)
	if err != nil || still.found && still.ratio < 1 {
		return 0, still, err
	}
	for range 60 {
		worst, err := st.worst(s, limit, 1)
		if err != nil {
			return 0, worst, err
		}
		if !worst.found || worst.ratio >= 1-1e-7 {
			if !at.found && limit < maxLimit { // the guess was too low
				limit = math.Min(1.5*limit, maxLimit)
				continue
			}
			return limit, at, nil
		}
		at = worst
		if limit, err = st.upTo(worst.sit, limit); err != nil || limit < breath {
			return 0, at, err
		}
	}
	return limit, at, nil
}

// grows reports whether the wind on bodies at a gust is that at the setup's own, times the square of
// the gusts. Round members have a range in which it grows less.
func (j *job) grows(bodies []*lone, in setup, gust float64) bool {
	if in.gust <= 0 || gust <= 0 {
		return false
	}
	by := gust * gust / (in.gust * in.gust)
	for _, s := range in.positions() {
		for _, b := range bodies {
			for _, towards := range b.directions(s) {
				own, err := j.winds(b, s, towards, in.gust)
				if err != nil {
					return false
				}
				other, err := j.winds(b, s, towards, gust)
				if err != nil || len(own) != len(other) {
					return false
				}
				for i := range own {
					if !slices.EqualFunc(own[i], other[i], func(p, q blow) bool {
						return math.Abs(by*p.F[0]-q.F[0])+math.Abs(by*p.F[1]-q.F[1])+math.Abs(by*p.F[2]-q.F[2]) <= 1e-9*(math.Abs(q.F[0])+math.Abs(q.F[1])+math.Abs(q.F[2]))
					}) {
						return false
					}
				}
			}
		}
	}
	return true
}

// gustFor is the limit in the setups of one state.
func (j *job) gustFor(st stander, in state) (float64, bool) {
	least, found := math.Inf(1), false
	for _, s := range st.setups() {
		if s.state != in {
			continue
		}
		s.wind = j.measured
		v, _, err := j.gustLimit(st, s)
		if err != nil {
			return 0, false
		}
		least, found = math.Min(least, v), true
	}
	return least, found && least < maxLimit
}

// limit writes the rows of a body or group. A limit is a gust that somebody measures or
// forecasts, against the site's own factors, whatever the basis of the checks.
func (j *job) limit(st stander) {
	for _, s := range st.setups() {
		row := verdict.LimitRow{Piece: st.label(), State: string(s.state), People: s.people, ReachM: st.reach()}
		if s.wind == j.measured {
			row.WantedMs = ptr(s.gust)
		}
		s.wind = j.measured
		v, at, err := j.gustLimit(st, s)
		switch {
		case err != nil:
			row.Why = err.Error()
		case v >= maxLimit:
			row.Governs = "nothing"
			row.Why = fmt.Sprintf("no gust up to %s brings it below its factors", j.gustText(maxLimit))
		default:
			from := at.sit.fromDeg()
			row.FromDeg, row.GustMs = &from, &v
			row.Governs = at.mechanism
			if v == 0 {
				row.Why = "it falls short in still air already"
			}
			if reading, ok := j.reading(v); ok {
				row.HandheldMs = &reading
			}
		}
		if j.options.LimitsAround && row.GustMs != nil {
			row.Around = j.around(st, s)
		}
		j.report.Limits.Rows = append(j.report.Limits.Rows, row)
	}
}

// around is the limit of each direction of the wind, every 15 degrees.
func (j *job) around(st stander, s setup) []verdict.Around {
	var list []verdict.Around
	for _, towards := range wind.Directions(nil) {
		s.blows = []float64{towards}
		v, _, err := j.gustLimit(st, s)
		if err != nil {
			return nil
		}
		list = append(list, verdict.Around{FromDeg: situation{towards: towards}.fromDeg(), GustMs: v})
	}
	return list
}

// gustText prints a limit rounded down to a tenth of the unit that it prints in.
func (j *job) gustText(v float64) string {
	step := 0.1
	if j.f.System() == quantity.US {
		step = 0.044704
	}
	return quantity.Format(quantity.Speed(math.Floor(v/step+1e-6)*step), j.f.System())
}

// reading is what a handheld instrument at 2 m shows in a gust.
func (j *job) reading(gust float64) (float64, bool) {
	h, err := wind.HandheldOf(j.f.Site.Terrain.V)
	if err != nil {
		return 0, false
	}
	j.report.Limits.Rule = fmt.Sprintf("reading at 2 m = %.3f x gust at 10 m in open ground; %s", h.Factor, h.Rule)
	return h.Reading(gust), true
}

// plan turns the limits into a few steps, each at a gust: the least limit with the
// public inside and the least one without, neither above the gust that the file asks
// for, and two warnings before the first.
func (j *job) plan() {
	// Without a gust of its own, a state has the limit of its weakest piece.
	open, alone := math.Inf(1), math.Inf(1)
	var tallest float64
	var shortOpen, down []string
	for i := range j.f.Columns {
		tallest = math.Max(tallest, j.f.Columns[i].Top())
	}
	for i := range j.f.Walls {
		tallest = math.Max(tallest, float64(j.f.Walls[i].Height.V))
	}
	type piece struct {
		name string
		gust float64
	}
	var closed []piece
	for _, r := range j.report.Limits.Rows {
		least := &open
		if !r.People {
			least = &alone
		}
		if r.WantedMs != nil {
			*least = math.Min(*least, *r.WantedMs)
		}
		if r.GustMs == nil {
			continue
		}
		*least = math.Min(*least, *r.GustMs)
		if r.People && *r.GustMs == 0 {
			shortOpen = append(shortOpen, r.Piece)
		}
		if !r.People {
			closed = append(closed, piece{r.Piece, *r.GustMs})
		}
	}
	micro := func(p piece) float64 { return math.Round(1e6 * p.gust) } // twins differ by rounding
	slices.SortStableFunc(closed, func(a, b piece) int { return cmp.Compare(micro(a), micro(b)) })
	for _, p := range closed {
		if len(down) < 4 {
			down = append(down, fmt.Sprintf("%s (%s)", p.name, j.gustText(p.gust)))
		}
	}
	// Leaves that are shut on the way out may catch more wind than open ones.
	open = math.Min(open, alone)
	clear := quantity.Format(quantity.Length(tallest), j.f.System())
	switch {
	case math.IsInf(open, 1):
		// Nothing stands there.
	case len(shortOpen) > 0:
		j.step(0, "Do not open", fmt.Sprintf("%s would not hold a leaning person in still air", list(shortOpen)))
	default:
		j.step(0.6*open, "Watch", "one named person reads the wind and the forecast every few minutes")
		j.step(0.8*open, "Make ready", "let nobody new in, close and latch the leaves behind the last")
		j.step(open, "Clear", fmt.Sprintf("nobody inside or within %s of any piece (the reach of the tallest if it falls)", clear))
	}
	if math.IsInf(alone, 1) {
		return
	}
	text := "before this gust every piece is lying down, or held by somebody competent"
	if len(down) > 0 {
		text += "; first " + list(down)
	}
	j.step(alone, "Down", text)
	j.take("the action plan warns at 60 % and 80 % of the gust at which the public must be out", "a public park's guide for event structures", "published in a city park's event guide (2020)")
}

func (j *job) step(gust float64, do, how string) {
	s := verdict.PlanStep{GustMs: gust, Do: do + ": " + how, Short: do, How: how}
	if r, ok := j.reading(gust); ok {
		s.HandheldMs = r
	}
	if f, err := wind.GustFactorOf(600); err == nil && gust > 0 {
		if b, err := wind.Beaufort(gust / f.Factor); err == nil {
			s.Looks = fmt.Sprintf("Beaufort %d: %s", b.Number, b.Sign)
		}
	}
	j.report.Limits.Plan = append(j.report.Limits.Plan, s)
}

func list(words []string) string {
	seen := map[string]bool{}
	s := ""
	for _, w := range words {
		if !seen[w] {
			seen[w] = true
			if s != "" {
				s += ", "
			}
			s += w
		}
	}
	return s
}
