package check

import (
	"fmt"
	"math"

	"galefast/internal/catalog"
	"galefast/internal/quantity"
	"galefast/internal/site"
	"galefast/internal/verdict"
	"galefast/statics"
)

// onGround gives a body the friction under it, and what the ground bears.
func (j *job) onGround(b *lone) {
	s := &j.f.Site
	row, known := j.f.Catalog.Ground.Find(s.Ground.V)
	if known && row.Soft && (s.Ground.Given || !s.Friction.Given) {
		b.yields = float64(row.Bearing)
		if b.yields == 0 {
			b.yields = float64(j.unknownGround().Bearing)
		}
	}
	if s.Friction.Given {
		b.friction, b.rubs, b.source, b.rubsAt = float64(s.Friction.V), "the ground", "given in the site file", s.Friction.At.String()
		return
	}
	b.friction, b.rubs, b.source, b.rubsAt = row.Friction, row.Name, row.Source+" ("+row.Certainty+")", s.Ground.At.String()
}

// unknownGround is the row whose bearing pressure counts for soft ground without one.
func (j *job) unknownGround() catalog.Ground {
	d, _ := site.DefaultOf("site.ground")
	row, _ := j.f.Catalog.Ground.Find(d.Value)
	return row
}

func (j *job) area(m2 float64) string { return quantity.Format(quantity.Area(m2), j.f.System()) }

// areaAtLeast prints an area that must not be undercut, rounded up.
func (j *job) areaAtLeast(m2 float64) string {
	step := 0.01
	if j.f.System() == quantity.US {
		step = 0.3048 * 0.3048 / 10
	}
	return j.area(math.Ceil(m2/step-1e-9) * step)
}

func (j *job) pressure(pa float64) string {
	return quantity.Format(quantity.Pressure(pa), j.f.System())
}

// weightOn is the most that presses on the foot of a body, N.
func (j *job) weightOn(b *lone, ballast []float64) float64 {
	kg := 0.0
	for _, d := range b.dead {
		kg += d.heavy
	}
	for i := range b.leaves {
		kg += b.leaves[i].mass.Heavy
	}
	for i := range b.spans {
		kg += b.spans[i].mass.Heavy / 2
	}
	for _, m := range ballast {
		kg += m
	}
	return kg * gravity
}

const gravity = 9.80665 // m/s2

// weightUnder is the most that presses on the foot of member i of a group, N: its own weight,
// that of the parts seated on it, and its share of every span that is fastened to them. What
// guys pull down is not in it.
func (j *job) weightUnder(g *group, i int, ballast []float64) float64 {
	n := 0.0
	for k, b := range g.members {
		if b.piece == g.members[i].piece {
			n += j.weightOn(b, g.of(k, ballast))
			continue
		}
		ends, here := 0.0, 0.0
		for _, l := range g.system.Links {
			if l.A == k && len(b.foot) == 0 {
				ends++
				if g.members[l.B].piece == g.members[i].piece {
					here++
				}
			}
		}
		if here > 0 {
			n += j.weightOn(b, nil) * here / ends
		}
	}
	return n
}

// bearing is the foot that a body can turn about, in plan. On soft ground its edges lie
// inwards: before the body tips about an edge of length L, the ground there gives way
// under a strip that carries the whole weight N at the pressure p, so that the weight
// is carried N / (2 p L) inside the edge.
func (j *job) bearing(b *lone, ballast []float64) [][2]float64 {
	return b.bearingUnder(j.weightOn(b, ballast))
}

// bearingUnder is the same for a weight n, N.
func (b *lone) bearingUnder(n float64) [][2]float64 {
	if b.yields == 0 {
		return b.foot
	}
	hull, err := statics.Hull(b.foot)
	if err != nil {
		return b.foot
	}
	inner := hull
	for i := range hull {
		from, to := hull[i], hull[(i+1)%len(hull)]
		length := math.Hypot(to[0]-from[0], to[1]-from[1])
		inner = cut(inner, from, to, n/(2*b.yields*length))
	}
	if _, err := statics.Hull(inner); err != nil {
		return dot(hull)
	}
	return inner
}

// cut keeps the part of a convex polygon that lies at least d to the left of the line
// from one point to another.
func cut(polygon [][2]float64, from, to [2]float64, d float64) [][2]float64 {
	l := math.Hypot(to[0]-from[0], to[1]-from[1])
	left := [2]float64{(from[1] - to[1]) / l, (to[0] - from[0]) / l}
	inside := func(p [2]float64) float64 { return along2(p, from, left) - d }
	var kept [][2]float64
	for i, p := range polygon {
		q := polygon[(i+1)%len(polygon)]
		a, b := inside(p), inside(q)
		if a >= 0 {
			kept = append(kept, p)
		}
		if a*b < 0 {
			t := a / (a - b)
			kept = append(kept, [2]float64{p[0] + t*(q[0]-p[0]), p[1] + t*(q[1]-p[1])})
		}
	}
	return kept
}

// dot is a foot of a few millimetres in the middle of a hull, for ground that cannot
// carry the weight at all: everything on it tips.
func dot(hull [][2]float64) [][2]float64 {
	var middle [2]float64
	for _, p := range hull {
		middle[0] += p[0] / float64(len(hull))
		middle[1] += p[1] / float64(len(hull))
	}
	var small [][2]float64
	for _, p := range hull {
		small = append(small, [2]float64{middle[0] + 0.001*(p[0]-middle[0]), middle[1] + 0.001*(p[1]-middle[1])})
	}
	return small
}

// bearingRow checks that soft ground carries the weight on a foot.
func (j *job) bearingRow(b *lone, ballast []float64) { j.bearingRowUnder(b, j.weightOn(b, ballast)) }

// bearingRowUnder is the same for a weight n, N.
func (j *job) bearingRowUnder(b *lone, n float64) {
	if b.yields == 0 {
		return
	}
	a := b.sole
	has, needs := b.yields*a/n, 1.0
	ground, _ := j.f.Catalog.Ground.Find(j.f.Site.Ground.V)
	known := ground // of whose bearing something is known
	if ground.Bearing == 0 {
		known = j.unknownGround()
	}
	c := verdict.Check{
		ID: id(verdict.Standing, b.name, "bearing"), Kind: verdict.Standing, Subject: b.name, What: "bearing",
		Sense: verdict.AtLeast, Needs: &needs, Has: &has, Unit: "1", At: b.at.String(), Mechanism: "sinks into " + ground.Name, Source: known.Source,
		Working: []verdict.Step{
			{Text: "weight on the foot, at its heavy end", Formula: "N = g · sum of the masses", Numbers: fmt.Sprintf("N = %.4g N", n)},
			{Text: "area that bears", Formula: "A = width · depth of the foot, or length · width of the sill", Numbers: fmt.Sprintf("A = %.4g m²", a)},
			{Text: "what the ground bears over the weight", Formula: "p · A / N", Numbers: fmt.Sprintf("%.0f Pa · %.4g m² / %.4g N = %.3f", b.yields, a, n, has),
				Source: known.Name + ": " + known.Source + " (" + known.Certainty + ")", At: j.f.Site.Ground.At.String()},
		},
	}
	if has < needs {
		c.Cure = fmt.Sprintf("lay boards under it: it needs %s of bearing area in place of %s", j.areaAtLeast(n/b.yields), j.area(a))
	}
	j.add(c)
}

// softGround lists what is taken for granted of the ground's strength.
func (j *job) softGround() {
	s := &j.f.Site
	row, known := j.f.Catalog.Ground.Find(s.Ground.V)
	switch {
	case s.Friction.Given && !s.Ground.Given:
		j.take("the ground carries every foot without giving way: only its friction is given", "", "common practice, no source")
	case known && row.Soft && row.Bearing == 0:
		j.take(fmt.Sprintf("%s bears %s, as unknown ground does, since no figure for it is known", row.Name, j.pressure(float64(j.unknownGround().Bearing))), j.unknownGround().Source, j.unknownGround().Certainty)
	case known && row.Soft:
		j.take(fmt.Sprintf("%s bears %s under the edge of a foot", row.Name, j.pressure(float64(row.Bearing))), row.Source, row.Certainty)
	}
}
