package check

import (
	"fmt"
	"math"
	"strings"

	"galefast/internal/quantity"
	"galefast/internal/site"
	"galefast/internal/verdict"
	"galefast/statics"
)

// advice is what would cure a body that falls short.
type advice struct {
	text string
}

// maxUnits is the most units of ballast that are tried in one slot; more would be a
// heap, not ballast.
const maxUnits = 200

// holdsIn reports whether a body reaches every required factor in one situation.
func (j *job) holdsIn(b *lone, s situation, gust float64, ballast []float64) bool {
	body, _, err := j.body(b, s, gust, ballast)
	if err != nil {
		return false
	}
	r, err := body.Check()
	if err != nil {
		return false
	}
	for mode, f := range factors(&r) {
		if !f.AtLeast(j.required(mode) * (1 - 1e-9)) {
			return false
		}
	}
	return true
}

// short lists the worst situation of each mode that falls short.
func short(worst [modes]finding) []situation {
	var list []situation
	for _, w := range worst {
		if w.found && w.ratio < 1-1e-9 {
			list = append(list, w.sit)
		}
	}
	return list
}

// least finds the smallest x from lo to hi with which a body holds in every
// situation, to the given step. with applies x; more of it must never hurt. The worst
// situations found so far bound x from below; every situation is tried again at the
// bound until none falls short.
func (j *job) least(lo, hi, step float64, pool []situation, with func(x float64) (*lone, []float64)) (float64, bool) {
	x := lo
	for range 50 {
		for _, s := range pool {
			good := func(x float64) bool {
				b, ballast := with(x)
				return j.holdsIn(b, s, s.gust, ballast)
			}
			if good(x) {
				continue
			}
			if !good(hi) {
				return 0, false
			}
			a, z := x, hi
			for z-a > step/4 {
				if m := (a + z) / 2; good(m) {
					z = m
				} else {
					a = m
				}
			}
			x = math.Min(hi, math.Ceil(z/step-1e-6)*step)
		}
		b, ballast := with(x)
		worst, err := j.evaluate(b, ballast)
		if err != nil {
			return 0, false
		}
		missed := short(worst)
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

// leastBallast finds the fewest whole units with which a body reaches every factor,
// records them in the schedule, and says so in words. Each answer is proven by
// trying every situation again.
func (j *job) leastBallast(b *lone, worst [modes]finding) advice {
	pool := short(worst)
	if !b.whole {
		if len(pool) == 0 {
			return advice{}
		}
		return advice{"bolt it to the section below (a joint in the file); seated, only its own weight holds it"}
	}
	inPlace := j.inPlace(b)
	if len(pool) == 0 {
		j.schedule(b, nil, "")
		return advice{}
	}
	unit, row := j.unitFor(b)
	slots := []int{0}
	if len(b.slots) > 1 && b.slots[0].name == "base" {
		slots = []int{0, 1}
	}
	counts, ok := j.fewest(b, pool, inPlace, slots, float64(row.Mass))
	why := modeList(worst)
	if !ok {
		text := fmt.Sprintf("no ballast will do: even %d of %s do not reach the factors", maxUnits, unit)
		j.report.Ballast.Rows = append(j.report.Ballast.Rows, verdict.BallastRow{
			Piece: b.name, Section: b.slots[0].name, Unit: unit, AtM: b.slots[0].at, Why: text})
		return advice{j.withAlternatives(b, worst, pool, text)}
	}
	var parts []string
	for i, n := range counts {
		if n > 0 {
			parts = append(parts, fmt.Sprintf("%d more of %s (%s) in the %s", n, unit,
				quantity.Format(quantity.Mass(float64(n)*float64(row.Mass)), j.f.System()), b.slots[slots[i]].name))
		}
	}
	text := "lay " + strings.Join(parts, " and ")
	if v := float64(row.Volume); v > 0 {
		if room := j.room(b, slots[0]); room > 0 && float64(counts[0])*v > room {
			text += fmt.Sprintf("; they need %s and the section holds %s, so part of them goes above or outside it",
				quantity.Format(quantity.Volume(float64(counts[0])*v), j.f.System()), quantity.Format(quantity.Volume(room), j.f.System()))
		}
	}
	extra := map[int]int{}
	for i, n := range counts {
		extra[slots[i]] = n
	}
	j.schedule(b, extra, why)
	return advice{j.withAlternatives(b, worst, pool, text)}
}

// fewest searches the least total number of units over the slots.
func (j *job) fewest(b *lone, pool []situation, inPlace []float64, slots []int, unit float64) ([]int, bool) {
	with := func(counts []int) []float64 {
		kg := append([]float64(nil), inPlace...)
		for i, n := range counts {
			kg[slots[i]] += float64(n) * unit
		}
		return kg
	}
	if len(slots) == 1 {
		x, ok := j.least(0, maxUnits, 1, pool, func(x float64) (*lone, []float64) { return b, with([]int{int(x)}) })
		return []int{int(x)}, ok
	}
	// Two slots: try totals from nought, each split every way, against the situations
	// known to be bad; the first split that passes is proven against all.
	for total := 1; total <= maxUnits; {
		grew := false
		for first := total; first >= 0; first-- {
			counts := []int{first, total - first}
			kg := with(counts)
			good := true
			for _, s := range pool {
				if good = j.holdsIn(b, s, s.gust, kg); !good {
					break
				}
			}
			if !good {
				continue
			}
			worst, err := j.evaluate(b, kg)
			if err != nil {
				return nil, false
			}
			missed := short(worst)
			if len(missed) == 0 {
				return counts, true
			}
			pool = append(pool, missed...)
			grew = true
			break
		}
		if !grew {
			total++
		}
	}
	return nil, false
}

// unitFor is the unit that a body's own ballast is in, else the usual one.
func (j *job) unitFor(b *lone) (string, ballastUnit) {
	for _, n := range b.ballast {
		mass, row := j.unit(&j.f.Ballasts[n])
		return row.Name, ballastUnit{quantity.Mass(mass), row.Volume}
	}
	d, _ := site.DefaultOf("ballast.unit")
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
// is missing.
func (j *job) schedule(b *lone, extra map[int]int, why string) {
	table := &j.report.Ballast
	for i, s := range b.slots {
		added := extra[i]
		written := false
		for _, n := range b.ballast {
			entry := &j.f.Ballasts[n]
			if k, ok := b.slotOf(entry); !ok || k != i {
				continue
			}
			mass, row := j.unit(entry)
			count := entry.Count.V
			if !written {
				count += added
				written = true
			}
			table.Rows = append(table.Rows, verdict.BallastRow{Piece: b.name, Section: s.name, Unit: row.Name, Count: count, InPlace: entry.Count.V,
				MassKg: mass * float64(count), AtM: s.at, Why: why, Possible: true})
		}
		if !written && added > 0 {
			unit, row := j.unitFor(b)
			table.Rows = append(table.Rows, verdict.BallastRow{Piece: b.name, Section: s.name, Unit: unit, Count: added,
				MassKg: float64(row.Mass) * float64(added), AtM: s.at, Why: why, Possible: true})
		}
	}
}

func (j *job) ballastTable() {
	for _, r := range j.report.Ballast.Rows {
		j.report.Ballast.TotalKg += r.MassKg
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

// withAlternatives adds the other cures, each computed to the number that makes the
// piece hold, to the advice and the record.
func (j *job) withAlternatives(b *lone, worst [modes]finding, pool []situation, text string) string {
	ballast, system := j.inPlace(b), j.f.System()
	add := func(kind string, value float64, unit, words string) {
		j.report.Ballast.Alternatives = append(j.report.Ballast.Alternatives, verdict.Alternative{Piece: b.name, Kind: kind, Value: value, Unit: unit, Text: words})
		text += "; or " + words
	}
	if worst[overturning].ratio < 1 {
		const most, step = 3.0, 0.025 // m
		wider := func(x float64) (*lone, []float64) {
			w := *b
			w.foot = grow(b.foot, x/2)
			return &w, ballast
		}
		// A wider foot cures tipping alone, so only tipping is asked of it.
		var tipping []situation
		for _, s := range pool {
			tipping = append(tipping, s)
		}
		if x, ok := j.leastTipping(step, most, tipping, wider); ok {
			add("foot", x, "m", fmt.Sprintf("a foot wider by %s all round each way (against overturning)", quantity.Format(quantity.Length(x), system)))
		}
	}
	if worst[sliding].found && worst[sliding].ratio < 1 && !worst[sliding].result.Sliding.DeadSlides {
		s := worst[sliding]
		need := b.friction / math.Max(s.ratio, 1e-6)
		grip := func(x float64) (*lone, []float64) {
			w := *b
			w.friction = x
			return &w, ballast
		}
		if w, _ := grip(need); need <= 1 && j.slides(w, s.sit, ballast) >= 1-1e-9 {
			add("friction", need, "1", fmt.Sprintf("friction of %.2f under it in place of %.2f, proven by a pull test (against sliding)", math.Ceil(need*100)/100, b.friction))
		}
	}
	if v, ok := j.gustFor(b, ballast, stateClosed); ok && v > 0 {
		add("gust", v, "m/s", fmt.Sprintf("take it down or guy it before gusts of %s (unattended)", quantity.Format(quantity.Speed(v), system)))
	}
	return text
}

// slides is the ratio of a body's factor against sliding to the required one.
func (j *job) slides(b *lone, s situation, ballast []float64) float64 {
	body, _, err := j.body(b, s, s.gust, ballast)
	if err != nil {
		return 0
	}
	r, err := body.Check()
	if err != nil {
		return 0
	}
	return ratio(r.Sliding.Factor, j.required(sliding))
}

// leastTipping is least for overturning alone.
func (j *job) leastTipping(step, most float64, pool []situation, with func(float64) (*lone, []float64)) (float64, bool) {
	tips := func(b *lone, s situation, ballast []float64) bool {
		body, _, err := j.body(b, s, s.gust, ballast)
		if err != nil {
			return true
		}
		r, err := body.Check()
		return err != nil || !r.Overturning[r.WorstEdge].Factor.AtLeast(j.required(overturning)*(1-1e-9))
	}
	for x := step; x <= most; x += step {
		b, ballast := with(x)
		bad := false
		for _, s := range pool {
			if bad = tips(b, s, ballast); bad {
				break
			}
		}
		if bad {
			continue
		}
		worst, err := j.evaluate(b, ballast)
		if err != nil {
			return 0, false
		}
		if w := &worst[overturning]; !w.found || w.ratio >= 1-1e-9 {
			return x, true
		}
		pool = append(pool, worst[overturning].sit)
	}
	return 0, false
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
