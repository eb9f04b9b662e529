package statics

import (
	"math"
	"math/rand/v2"
	"testing"
)

// lone is a body as a group, its bearing points redundant as they come.
func lone(b Body) (*Group, *Loads) {
	c := Contact{Of: 0, On: Ground, Friction: b.Friction}
	for _, p := range b.Foot {
		c.Points = append(c.Points, Vec{p[0], p[1], 0})
	}
	g := &Group{Blocks: []Block{{Centre: Vec{0, 0, 1}, Foot: b.Foot}}, Contacts: []Contact{c}}
	l := &Loads{}
	for _, f := range b.Dead {
		l.Dead = append(l.Dead, Acting{0, f})
	}
	for _, f := range b.Live {
		l.Live = append(l.Live, Acting{0, f})
	}
	return g, l
}

func analyse(t failer, g *Group, l *Loads, align float64, only Limit) Outcome {
	t.Helper()
	a, err := NewAnalysis(g, align)
	if err != nil {
		t.Fatalf("%v", err)
	}
	o, err := a.Solve(l, only)
	if err != nil {
		t.Fatalf("%v", err)
	}
	if !o.Certificate.OK {
		t.Fatalf("not proven: %+v, %+v after %d pivots\n%+v\n%+v", o.Factor, o.Certificate, o.Iterations, g, l)
	}
	return o
}

// TestLoneBodies compares 10,000 random bodies with the closed forms.
func TestLoneBodies(t *testing.T) {
	rng := rand.New(rand.NewPCG(21, 22))
	const tolerance = 1e-6
	var tipped, slid, turned, fallen, free int
	for i := range 10000 {
		b := randomBody(rng)
		angle := 2 * math.Pi * rng.Float64()
		straight := i%2 == 0
		if straight {
			// Vertical dead loads, and one push above their common centre.
			weight := b.Dead[0]
			weight.F[0], weight.F[1] = 0, 0
			b.Dead = []Force{weight}
			b.Live = []Force{{F: Vec{100 * math.Cos(angle), 100 * math.Sin(angle), 60 * rng.NormFloat64()},
				At: Vec{weight.At[0], weight.At[1], 3 * rng.Float64()}}}
		}
		r := must(t, b)
		over := r.Overturning[r.WorstEdge]
		g, l := lone(b)

		tip := analyse(t, g, l, angle, TippingOnly)
		if tip.NotStanding != over.DeadTips || !tip.NotStanding && !sameFactor(tip.Factor, over.Factor, tolerance) {
			t.Fatalf("body %d: tipping %+v, closed form %+v\n%+v", i, tip.Factor, over, b)
		}
		o := analyse(t, g, l, angle, AllLimits)
		both := least(over.Factor, r.Sliding.Factor)
		if straight {
			s := analyse(t, g, l, angle, SlidingOnly)
			if s.NotStanding != r.Sliding.DeadSlides || !s.NotStanding && !sameFactor(s.Factor, r.Sliding.Factor, tolerance) {
				t.Fatalf("body %d: sliding %+v, closed form %+v\n%+v", i, s.Factor, r.Sliding, b)
			}
			if !over.DeadTips && !sameFactor(o.Factor, both, tolerance) {
				t.Fatalf("body %d: %+v, closed form %+v\n%+v", i, o.Factor, both, b)
			}
		}
		// The polygon of friction is up to 1 - cos(π/16) within the circle.
		low := r.Turning.Factor
		switch {
		case over.DeadTips || r.Sliding.DeadSlides:
			fallen++
			if !o.NotStanding {
				t.Fatalf("body %d stands: %+v\n%+v", i, o, b)
			}
			continue
		case o.NotStanding:
			fallen++
			continue
		case o.Factor.Unbounded:
			free++
		case sameFactor(o.Factor, over.Factor, tolerance):
			tipped++
		case sameFactor(o.Factor, r.Sliding.Factor, tolerance):
			slid++
		default:
			turned++
		}
		if both.Less(Factor{o.Factor.Value * (1 - tolerance), o.Factor.Unbounded}) {
			t.Fatalf("body %d: %+v above the closed form %+v\n%+v", i, o.Factor, both, b)
		}
		if o.Factor.Less(low) && o.Factor.Value < low.Value*(1-tolerance) {
			b.Friction /= math.Cos(math.Pi / 16)
			g, l := lone(b)
			if o := analyse(t, g, l, angle, AllLimits); o.Factor.Value < low.Value*(1-tolerance) {
				t.Fatalf("body %d: %+v below the lower bound %+v\n%+v", i, o.Factor, low, b)
			}
		}
	}
	t.Logf("%d tip, %d slide, %d turn or mix, %d do not stand, %d without limit", tipped, slid, turned, fallen, free)
	if min(tipped, slid, turned, fallen) < 1000 || free < 20 {
		t.Error("poor mix")
	}
}

// What cannot move has motions all the same, of nothing, about the centres; and a force on a block that is not
// there does no work.
func TestNoCollapse(t *testing.T) {
	s := &site{}
	s.column("a", 100, 0, 0, 1, 1, 1, 0.5)
	s.push(s.column("b", 100, 3, 0, 1, 1, 1, 0.5), Vec{0, 0, -10}, Vec{3, 0, 1})
	o := analyse(t, &s.Group, &s.Loads, 0, AllLimits)
	if !o.Factor.Unbounded {
		t.Fatalf("pressed down: %+v", o.Factor)
	}
	for i, m := range o.Collapse.Motions {
		if want := (Motion{Centre: s.Blocks[i].Centre}); m != want {
			t.Errorf("block %d: %+v, want %+v", i, m, want)
		}
	}
	c := &Collapse{Motions: []Motion{{Velocity: Vec{1, 0, 0}}}}
	for block, want := range map[int]float64{Ground: 0, 0: 5, 1: 0} {
		if p := c.Power(Acting{block, Force{F: Vec{5, 0, 0}}}); p != want {
			t.Errorf("on block %d: %g W, want %g W", block, p, want)
		}
	}
}

// What makes a search over many loads quick: nine blocks take some eighty pivots from nothing to their factor; the
// next direction takes a few from the last one, and a round of sixteen directions none when it is asked again.
func TestFewPivots(t *testing.T) {
	s := portal()
	a, err := NewAnalysis(&s.Group, 0)
	if err != nil {
		t.Fatal(err)
	}
	l := Loads{Dead: s.Dead}
	solved, inverted, sought := 0, 0, [3]int{}
	for round := range sought {
		for n := range 16 {
			turned(&l, s.Live, 2*math.Pi*float64(n)/16)
			o, carried, err := a.Seek(&l, 0.5)
			if err != nil || !carried {
				t.Fatalf("direction %d: %+v, %v", n, o.Factor, err)
			}
			sought[round] += o.Iterations
			if round > 0 {
				continue
			}
			if o, err = a.Solve(&l, AllLimits); err != nil || !o.Certificate.OK {
				t.Fatalf("direction %d: %+v, %v", n, o.Certificate, err)
			}
			solved += o.Iterations
			if a.parts[AllLimits].work.since < o.Iterations {
				inverted++
			}
		}
	}
	if inverted > 4 {
		t.Errorf("the inverse was worked out anew in %d of sixteen directions; after 150 pivots is enough", inverted)
	}
	if solved > 16*100 || sought[0] == 0 || sought[0] > 16*8 || sought[1] > 0 || sought[2] > 0 {
		t.Errorf("sixteen directions: %d pivots to their factors; asked three times what they carry, %d", solved, sought)
	}
}
