package statics

import (
	"math"
	"math/rand/v2"
)

// randomGroup draws 1 to 12 blocks in a row: standing, stacked, hung, hinged, bolted, guyed,
// on hard or soft ground. About every third is degenerate on purpose: round
// numbers, joints twice over, loads of zero, no friction, everything symmetric.
func randomGroup(rng *rand.Rand) (*Group, *Loads) {
	g, l := &Group{}, &Loads{}
	round := rng.IntN(3) == 0
	// value is between low and high, rounded where ties are wanted.
	value := func(low, high float64) float64 {
		v := low + (high-low)*rng.Float64()
		if round {
			step := (high - low) / 2
			return low + step*math.Round((v-low)/step)
		}
		return v
	}
	chance := func(p float64) bool { return rng.Float64() < p }
	limit := func(low, high float64) float64 {
		switch rng.IntN(12) {
		case 0, 1, 2:
			return math.Inf(1)
		case 3:
			return 0
		}
		return value(low, high)
	}
	blocks := 1 + rng.IntN(12)
	tops := make([]float64, blocks)
	for i := range blocks {
		x := 1.5 * float64(i)
		wide, deep, tall := value(0.4, 1), value(0.4, 0.8), value(0.5, 2.5)
		foot := [][2]float64{{x - wide/2, -deep / 2}, {x + wide/2, -deep / 2}, {x + wide/2, deep / 2}, {x - wide/2, deep / 2}}
		b := Block{Centre: Vec{x + value(-0.05, 0.05), value(-0.05, 0.05), tall / 2}, Foot: foot}
		on, z := Ground, 0.0
		if i > 0 && chance(0.2) { // on top of the one before
			on, z = i-1, tops[i-1]
			for k := range foot {
				foot[k][0] -= 1.5
			}
			b.Centre[0] -= 1.5
			b.Centre[2] += z
		}
		tops[i] = z + tall
		hung := i > 0 && on == Ground && chance(0.25)
		if !hung {
			c := Contact{Of: i, On: on, Friction: value(0.2, 0.6)}
			for _, p := range foot {
				c.Points = append(c.Points, Vec{p[0], p[1], z})
			}
			if chance(0.2) { // a point twice, and one amid the others
				c.Points = append(c.Points, c.Points[0], Vec{b.Centre[0], b.Centre[1], z})
			}
			if chance(0.1) {
				c.Friction = 0
			}
			if chance(0.2) {
				c.Bearing = value(800, 3000)
			}
			g.Contacts = append(g.Contacts, c)
			if chance(0.15) {
				g.Contacts = append(g.Contacts, c)
			}
		} else {
			b.Foot = nil
		}
		g.Blocks = append(g.Blocks, b)
		if i > 0 && on == Ground && (hung || chance(0.6)) {
			k := Link{A: i - 1, B: i, At: Vec{x - 0.75, 0, 0}, Axis: Vec{1, 0, 0},
				Pull: limit(1000, 5000), Push: limit(1000, 5000), Shear: limit(1000, 5000)}
			heights := []float64{0.3 * tops[i-1], 0.8 * tops[i-1]}
			if chance(0.3) {
				heights = append(heights, heights[0])
			}
			sideways := []float64{0}
			if chance(0.4) { // bolts on both sides: no hinge
				sideways = []float64{-0.1, 0.1}
			}
			for _, h := range heights {
				for _, s := range sideways {
					k.At[1], k.At[2] = s, h
					g.Links = append(g.Links, k)
				}
			}
			if hung && chance(0.7) {
				g.Links = append(g.Links, Link{A: i, B: Ground, At: Vec{x + 0.7, 0, 1}, Axis: Vec{0, 1, 0},
					Pull: limit(100, 1000), Push: limit(100, 1000), Shear: limit(100, 1000)})
			}
		}
		if chance(0.2) {
			side := 1.0
			for range 1 + rng.IntN(2) {
				g.Guys = append(g.Guys, Guy{Of: i, At: Vec{b.Centre[0], b.Centre[1], tops[i]},
					To: Vec{b.Centre[0] + value(-1, 1), side * value(1, 2), 0}, Limit: limit(200, 2000)})
				side = -side
			}
		}
		l.Dead = append(l.Dead, Acting{i, Weight("weight", value(20, 200), b.Centre, Gravity(0, 0))})
		if chance(0.7) {
			f := Vec{value(-100, 100), value(-200, 200), 0}
			if chance(0.2) {
				f[2] = value(-100, 200)
			}
			if chance(0.15) {
				f = Vec{}
			}
			l.Live = append(l.Live, Acting{i, Force{Name: "wind", F: f, At: Vec{b.Centre[0], b.Centre[1] + value(-0.1, 0.1), z + tall*value(0.4, 0.8)}}})
		}
	}
	return g, l
}
