package check

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"galefast/internal/quantity"
	"galefast/internal/site"
	"galefast/internal/verdict"
	"galefast/statics"
)

// mask says which modes are asked for.
type mask [modes]bool

var allModes = mask{true, true, true}

func only(mode int) (m mask) {
	m[mode] = true
	return m
}

// maxUnits is the most units of ballast that are tried in one slot; more would be a
// heap, not ballast.
const maxUnits = 200

// holdsIn reports whether a body reaches the required factors in one situation.
func (j *job) holdsIn(b *lone, s situation, gust float64, ballast []float64, want mask) bool {
	body, _, err := j.body(b, s, gust, ballast)
	if err != nil {
		return false
	}
	r, err := body.Check()
	if err != nil {
		return false
	}
	all := factors(&r)
	for mode, f := range all {
		needs := j.required(&s, mode) * (1 - 1e-9)
		if !want[mode] || f.AtLeast(needs) || mode == turning && !twists(all) {
			continue
		}
		if mode != turning {
			return false
		}
		if reached, err := b.holdsTurning(&s, &body, needs); err != nil || !reached {
			return false
		}
	}
	return true
}

// short lists the worst situation of each mode that falls short.
func short(worst [modes]finding, want mask) []situation {
	var list []situation
	for mode, w := range worst {
		if want[mode] && w.found && w.ratio < 1-1e-9 {
			list = append(list, w.sit)
		}
	}
	return list
}

// missed lists situations in which a body falls short of what is wanted.
func (s single) missed() ([]situation, error) {
	worst, err := s.j.evaluate(s.b, s.ballast, s.want)
	return short(worst, s.want), err
}

// missed lists situations in which a group falls short.
func (s *several) missed() ([]situation, error) {
	var list []situation
	for _, in := range s.setups() {
		falls, err := s.j.everyBelow(s.g, in, in.gust, s.ballast, 1-1e-9)
		if err != nil {
			return nil, err
		}
		for i := range falls {
			list = append(list, falls[i].sit)
		}
	}
	return list, nil
}

// changed is a stander after some change to it.
type changed interface {
	holds(sit situation, gust float64) bool
	missed() ([]situation, error)
}

// mostCuts is how often a bound is raised to what still falls short at it.
const mostCuts = 100

// least finds the smallest x from 0 to hi, to the given step, with which a stander holds
// in every situation. with applies x; more of it must never hurt. The worst situations
// found so far bound x from below; every situation is tried again at the bound until
// none falls short.
func least(hi, step float64, pool []situation, with func(x float64) changed) (float64, bool) {
	x := 0.0
	for range mostCuts {
		for _, s := range pool {
			good := func(x float64) bool { return with(x).holds(s, s.gust) }
			if good(x) {
				continue
			}
			if !good(hi) {
				return 0, false
			}
			lo, up := int(math.Round(x/step)), int(math.Round(hi/step)) // x = lo steps fails, up steps holds
			for up-lo > 1 {
				if mid := (lo + up) / 2; good(float64(mid) * step) {
					up = mid
				} else {
					lo = mid
				}
			}
			x = float64(up) * step
		}
		missed, err := with(x).missed()
		if err != nil {
			return 0, false
		}
		if len(missed) == 0 {
			return x, true
		}
		if x >= hi {
			return 0, false
		}
		pool = append(pool, missed...)
	}
	return 0, false
}

// cure finds the fewest whole units with which a body reaches every factor, records
// them in the schedule, and says in words what would cure each mode that falls short.
// Each answer is proven by trying every situation again.
func (j *job) cure(b *lone, worst [modes]finding) (text [modes]string) {
	if len(short(worst, allModes)) == 0 {
		if b.whole {
			j.schedule(b, nil, "", j.oneGone(b, nil))
		}
		return text
	}
	for mode := range text {
		if pool := short(worst, only(mode)); len(pool) > 0 {
			text[mode] = j.cureOf(b, worst, mode, pool)
		}
	}
	if !b.whole {
		return text
	}
	counts, ok := j.fewest(b, short(worst, allModes), allModes)
	if !ok {
		unit, _ := j.unitFor(b)
		j.report.Ballast.Rows = append(j.report.Ballast.Rows, verdict.BallastRow{
			Piece: b.name, Section: b.slots[0].name, Unit: unit, AtM: b.slots[0].at,
			Why: fmt.Sprintf("no ballast will do: %d of %s do not reach every factor", maxUnits, unit)})
		return text
	}
	j.schedule(b, counts, modeList(worst), j.oneGone(b, counts))
	return text
}

// cureOf says what cures one mode: ballast, and what could take its place.
func (j *job) cureOf(b *lone, worst [modes]finding, mode int, pool []situation) string {
	if !b.whole {
		return "bolt it to the section below (a joint in the file); seated, only its own weight holds it"
	}
	unit, row := j.unitFor(b)
	text := fmt.Sprintf("no ballast will do: %d of %s are not enough", maxUnits, unit)
	if counts, ok := j.fewest(b, pool, only(mode)); ok {
		var parts []string
		for i, n := range counts {
			if n > 0 {
				parts = append(parts, fmt.Sprintf("%d more of %s (%s) in the %s", n, unit, quantity.Format(quantity.Mass(float64(n)*float64(row.Mass)), j.f.System()), b.slots[i].name))
			}
		}
		text = "lay " + strings.Join(parts, " and ") + j.crowded(b, counts, row)
	}
	add := func(kind string, value float64, unit, words string) {
		j.report.Ballast.Alternatives = append(j.report.Ballast.Alternatives, verdict.Alternative{Piece: b.name, Kind: kind, Value: value, Unit: unit, Text: words})
		text += "; or " + words
	}
	ballast := j.inPlace(b)
	switch mode {
	case overturning:
		wider := func(x float64) changed {
			w := *b
			w.foot, w.ready = grow(b.foot, x/2), nil
			return single{j: j, b: &w, ballast: ballast, want: only(overturning)}
		}
		if x, ok := least(maxFoot, 0.025, pool, wider); ok {
			add("foot", x, "m", fmt.Sprintf("a foot wider by %s on every side", quantity.Format(quantity.Length(x/2), j.f.System())))
		}
		if x, ok := j.guyed(b, ballast); ok {
			add("guy", x, "N", fmt.Sprintf("four guys from %.0f %% of its height to anchors as far out, each to be counted on for %s", 100*guyAt, quantity.Format(quantity.Force(x), j.f.System())))
		}
		if x, ok := j.opened(b, ballast, pool); ok {
			add("area", x, "1", fmt.Sprintf("openings over %.0f %% of its face", 100*x))
		}
		if to, ok := j.lower(b, ballast); ok {
			add("sections", float64(to), "1", "leave off "+j.leftOff(b, to))
		}
		if v, ok := j.gustFor(single{j: j, b: b, ballast: ballast, want: allModes}, stateClosed); ok && v > 0 {
			add("gust", v, "m/s", fmt.Sprintf("have it down before gusts of %s", j.gustText(v)))
		}
	case sliding:
		rougher := func(x float64) changed {
			w := *b
			w.friction, w.ready = x, nil
			return single{j: j, b: &w, ballast: ballast, want: only(sliding)}
		}
		if x, ok := least(1, 0.01, pool, rougher); ok {
			add("friction", x, "1", fmt.Sprintf("a friction of %.2f under it, shown by a pull test, in place of %.2f", x, b.friction))
		}
	}
	return text
}

// maxFoot is the most by which a foot is widened, m.
const maxFoot = 3

// crowded says when a section has no room for the units.
func (j *job) crowded(b *lone, counts []int, row ballastUnit) string {
	need, room := float64(counts[0])*float64(row.Volume), j.room(b, 0)
	if need <= 0 || room <= 0 || need <= room {
		return ""
	}
	return fmt.Sprintf(" (they take up %s and the section %s, so part of them lies on or beside it)",
		quantity.Format(quantity.Volume(need), j.f.System()), quantity.Format(quantity.Volume(room), j.f.System()))
}

// fineUnits is up to how many units each split over two slots is tried; every split of more takes seconds.
const fineUnits = 50

// fewest searches the least total number of further units over the slots that advice
// uses: the lowest section of a column; the base and the far side of a wall. counts has an
// entry for each slot of the body.
func (j *job) fewest(b *lone, pool []situation, want mask) (counts []int, ok bool) {
	_, row := j.unitFor(b)
	unit, inPlace := float64(row.Mass), j.inPlace(b)
	with := func(counts []int) []float64 {
		kg := append([]float64(nil), inPlace...)
		for i, n := range counts {
			kg[i] += float64(n) * unit
		}
		return kg
	}
	counts = make([]int, len(b.slots))
	if b.slots[0].name != slotBase || len(b.slots) < 2 {
		x, ok := least(maxUnits, 1, pool, func(x float64) changed {
			counts[0] = int(math.Round(x))
			return single{j: j, b: b, ballast: with(counts), want: want}
		})
		counts[0] = int(math.Round(x))
		return counts, ok
	}
	// Two slots: totals from one, each split every way (in twentieths where there are many), against
	// the situations known to be bad; the first split that passes is proven against all. What is
	// asked of turning is not monotone in either slot, so no split is passed over. A situation that has
	// just ruled one out is likely to rule out the next, so it is asked first. Where the most ballast does not do in any of some splits, none is looked for.
	const parts = 20
	enough := false
	for k := 0; k <= parts && !enough; k++ {
		counts[0], counts[1] = maxUnits-k*maxUnits/parts, k*maxUnits/parts
		kg := with(counts)
		enough = !slices.ContainsFunc(pool, func(s situation) bool { return !j.holdsIn(b, s, s.gust, kg, want) })
	}
	if !enough {
		return counts, false
	}
	for total := 1; total <= maxUnits; total++ {
		step := 1
		if total > fineUnits {
			step = (total + parts - 1) / parts
		}
	split:
		for far := 0; far <= total; far += step {
			counts[0], counts[1] = total-far, far
			kg := with(counts)
			for i, s := range pool {
				if !j.holdsIn(b, s, s.gust, kg, want) {
					pool[0], pool[i] = pool[i], pool[0]
					continue split
				}
			}
			worst, err := j.evaluate(b, kg, want)
			if err != nil {
				return counts, false
			}
			missed := short(worst, want)
			if len(missed) == 0 {
				return counts, true
			}
			pool = append(pool, missed...)
		}
	}
	return counts, false
}

// unitFor is the unit that a body's own ballast is in, else the usual one.
func (j *job) unitFor(b *lone) (string, ballastUnit) {
	for _, n := range b.ballast {
		mass, row := j.unit(&j.f.Ballasts[n])
		return row.Name, ballastUnit{quantity.Mass(mass), row.Volume}
	}
	d, _ := site.DefaultOf("advice.ballast_unit")
	row, _ := j.f.Catalog.Ballast.Find(d.Value)
	return row.Name, ballastUnit{row.Mass, row.Volume}
}

type ballastUnit struct {
	Mass   quantity.Mass
	Volume quantity.Volume
}

// room is the space within a section of a column, m3; zero when it is not known.
func (j *job) room(b *lone, k int) float64 {
	c := j.f.Column(b.name)
	if c == nil || k >= len(c.Sections) {
		return 0
	}
	w, d := c.Sections[k].Size()
	return w * d * float64(c.Sections[k].Height.V)
}

// schedule writes the ballast that must lie in a body: what the file has and what
// is missing. gone says what is left of the factors when one unit of it is taken away.
func (j *job) schedule(b *lone, extra []int, why string, gone func(slot int, unit float64) *float64) {
	table := &j.report.Ballast
	unit, row := j.unitFor(b)
	add := func(k int, unit string, mass float64, count, inPlace int) {
		kg := mass * float64(count)
		r := verdict.BallastRow{Piece: b.name, Section: b.slots[k].name, Unit: unit, Count: &count, InPlace: inPlace,
			MassKg: &kg, AtM: b.slots[k].at, Why: why, Possible: true}
		if count > 0 {
			r.OneGone = gone(k, mass)
		}
		table.Rows = append(table.Rows, r)
	}
	for i := range b.slots {
		added := 0
		if i < len(extra) {
			added = extra[i]
		}
		for _, n := range b.ballast {
			entry := &j.f.Ballasts[n]
			if k, ok := b.slotOf(entry); !ok || k != i {
				continue
			}
			mass, own := j.unit(entry)
			count := entry.Count.V
			if own.Name == unit {
				count, added = count+added, 0
			}
			add(i, own.Name, mass, count, entry.Count.V)
		}
		if added > 0 {
			add(i, unit, float64(row.Mass), added, 0)
		}
	}
}

// oneGone is what is left of the factors of a body, over the required ones, when a unit of
// its ballast is taken away.
func (j *job) oneGone(b *lone, extra []int) func(slot int, unit float64) *float64 {
	kg := j.inPlace(b)
	_, row := j.unitFor(b)
	for k, n := range extra {
		kg[k] += float64(n) * float64(row.Mass)
	}
	return func(slot int, unit float64) *float64 {
		less := slices.Clone(kg)
		less[slot] -= unit
		worst, err := j.evaluate(b, less, allModes)
		if err != nil {
			return nil
		}
		least := math.Inf(1)
		for _, w := range worst {
			if w.found {
				least = math.Min(least, w.ratio)
			}
		}
		if math.IsInf(least, 1) || least == math.MaxFloat64 {
			return nil
		}
		return &least
	}
}

func (j *job) ballastTable() {
	for _, r := range j.report.Ballast.Rows {
		if r.MassKg != nil {
			j.report.Ballast.TotalKg += *r.MassKg
		}
	}
}

// modeList says which modes fall short.
func modeList(worst [modes]finding) string {
	var names []string
	for mode, w := range worst {
		if w.found && w.ratio < 1-1e-9 {
			names = append(names, modeNames[mode])
		}
	}
	return strings.Join(names, ", ")
}

// grow moves every corner of a convex foot outwards by d from its edges' lines.
func grow(foot [][2]float64, d float64) [][2]float64 {
	hull, err := statics.Hull(foot)
	if err != nil {
		return foot
	}
	var grown [][2]float64
	n := len(hull)
	normals := statics.OutwardNormals(hull)
	for i := range hull {
		a, b := normals[(i+n-1)%n], normals[i]
		// The corner moves along the bisector so that both its edges move by d.
		s, c := math.Sincos((a + math.Remainder(b-a, 2*math.Pi)/2))
		k := d / math.Cos(math.Remainder(b-a, 2*math.Pi)/2)
		grown = append(grown, [2]float64{hull[i][0] + c*k, hull[i][1] + s*k})
	}
	return grown
}
