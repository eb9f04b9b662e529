package check

import (
	"math"

	"galefast/statics"
	"galefast/wind"
)

// guyAt is the share of a piece's height from which guys are advised.
const guyAt = 0.8

// guyed is the least pull, N, that each of four guys must be counted on for so that a
// piece holds: from the corners of a column, or from both ends of a wall to both sides, to
// anchors as far out as the guys are high.
func (j *job) guyed(b *lone, ballast []float64) (float64, bool) {
	z := guyAt * b.top
	var from, to [][2]float64
	if c := j.f.Column(b.piece); c != nil {
		at := c.Center.XY()
		for k := range 4 {
			s, co := math.Sincos(float64(c.Turn.V) + math.Pi/4 + float64(k)*math.Pi/2)
			from, to = append(from, at), append(to, [2]float64{at[0] + z*co, at[1] + z*s})
		}
	} else if w := j.f.Wall(b.piece); w != nil {
		_, _, _, length := w.Frame()
		for _, x := range [2]float64{0, length} {
			for _, out := range [2]float64{-z, z} {
				from, to = append(from, w.PointAt(x, 0)), append(to, w.PointAt(x, out))
			}
		}
	}
	g := &group{name: b.name, members: []*lone{b}}
	g.prepare()
	g.system.Blocks = []statics.Block{{Name: b.name, Centre: b.centre(), Foot: b.foot}}
	for k := range from {
		g.system.Guys = append(g.system.Guys, statics.Guy{Of: 0, At: statics.Vec{from[k][0], from[k][1], z}, To: statics.Vec{to[k][0], to[k][1], 0}, Limit: maxPull})
	}
	for _, s := range j.setups(b) {
		for _, s := range s.positions() {
			for _, towards := range b.directions(s) {
				if _, _, err := j.systemOf(g, towards, ballast); err != nil {
					return 0, false
				}
			}
		}
	}
	const step = maxPull / 400
	weak := *g
	return least(maxPull, step, nil, func(pull float64) changed {
		weak.weaken(g, func(s *statics.Group, by float64) {
			for k := range s.Guys {
				s.Guys[k].Limit *= by
			}
		}, math.Max(pull, step/1000)/maxPull)
		return &several{j: j, g: &weak, ballast: ballast}
	})
}

// maxPull is the most that a guy is advised for, N; no stake of a hand tool holds more.
const maxPull = 8000.0

// opened is the least share of openings in a wall with which it holds against
// overturning. They are spread evenly, and its mass is taken to stay.
func (j *job) opened(b *lone, ballast []float64, pool []situation) (float64, bool) {
	if w := j.f.Wall(b.piece); w == nil || w.Solidity.V < 1 {
		return 0, false
	}
	const most, step = 0.6, 0.05
	return least(most, step, pool, func(x float64) changed {
		w := *b
		w.surfaces, w.blown = append([]wind.Surface(nil), b.surfaces...), nil
		for i := range w.surfaces {
			w.surfaces[i].Solidity = 1 - x
		}
		return single{j: j, b: &w, ballast: ballast, want: only(overturning)}
	})
}

// lower is the greatest number of sections, fewer than there are, with which a column that
// carries nothing else holds against overturning.
func (j *job) lower(b *lone, ballast []float64) (int, bool) {
	for i := range j.f.Columns {
		c := &j.f.Columns[i]
		if c.Name.V != b.piece || len(b.leaves)+len(b.spans) > 0 {
			continue
		}
		for to := len(c.Sections) - 1; to > 0; to-- {
			part := j.columnPart(i, 0, to)
			missed, err := (single{j: j, b: part, ballast: ballast[:to], want: only(overturning)}).missed()
			if err == nil && len(missed) == 0 {
				return to, true
			}
		}
	}
	return 0, false
}

// leftOff names the sections of a column from one upwards.
func (j *job) leftOff(b *lone, from int) string {
	c := j.f.Column(b.piece)
	var names []string
	for k := from; k < len(c.Sections); k++ {
		names = append(names, "the "+c.Sections[k].Name.V)
	}
	return list(names)
}
