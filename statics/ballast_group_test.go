package statics

import (
	"math"
	"math/rand/v2"
	"testing"
)

// loaded is a small group with a few load cases and places for ballast, and the factor that
// it must reach in every case.
type loaded struct {
	*Group
	analysis *Analysis
	dead     []Acting
	live     [][]Acting // by case
	places   []Place
	at       []Acting // one unit in each place
	needed   float64
}

// drawLoaded is a random group of 2 to 4 blocks with a place for ballast low down in every
// block on the ground, that falls short of its factor without any.
func drawLoaded(t *testing.T, rng *rand.Rand) *loaded {
	t.Helper()
	for {
		g, l := randomGroup(rng)
		if len(g.Blocks) < 2 || len(g.Blocks) > 4 || len(g.Links)+len(g.Guys) == 0 {
			continue
		}
		s := &loaded{Group: g, dead: l.Dead}
		var turning Loads
		for n := range 3 {
			turned(&turning, l.Live, 2*math.Pi*float64(n)/3+0.3*rng.Float64())
			s.live = append(s.live, append([]Acting(nil), turning.Live...))
		}
		for i := range g.Contacts {
			if c := &g.Contacts[i]; c.On == Ground && len(g.Blocks[c.Of].Foot) > 0 {
				at := g.Blocks[c.Of].Centre
				at[2] = 0.1
				p := Place{Unit: 15 + 5*float64(rng.IntN(2)), Most: 7}
				s.places = append(s.places, p)
				s.at = append(s.at, Acting{c.Of, Weight("ballast", p.Unit, at, Gravity(0, 0))})
			}
		}
		if len(s.places) == 0 || len(s.places) > 4 {
			continue
		}
		var err error
		if s.analysis, err = NewAnalysis(g, 0); err != nil {
			t.Fatal(err)
		}
		bare := math.Inf(1)
		for n := range s.live {
			bare = min(bare, max(0, value(s.solve(t, n, make([]int, len(s.places))))))
		}
		if math.IsInf(bare, 1) {
			continue
		}
		if s.needed = bare * (1.05 + 0.4*rng.Float64()); bare < 1e-9 { // none, within rounding
			s.needed = 0.2
		}
		return s
	}
}

// with are the loads of a case with counts of ballast.
func (s *loaded) with(n int, counts []int) *Loads {
	l := &Loads{Dead: append([]Acting(nil), s.dead...), Live: s.live[n]}
	for k, count := range counts {
		a := s.at[k]
		a.F = scaled(a.F, float64(count))
		l.Dead = append(l.Dead, a)
	}
	return l
}

func (s *loaded) solve(t failer, n int, counts []int) Outcome {
	t.Helper()
	o, err := s.analysis.Solve(s.with(n, counts), AllLimits)
	if err != nil || !o.Certificate.OK {
		t.Fatalf("%v, certificate %+v", err, o.Certificate)
	}
	return o
}

func (s *loaded) holds(t failer, counts []int) bool {
	t.Helper()
	for n := range s.live {
		carried, err := s.analysis.Carries(s.with(n, counts), s.needed)
		if err != nil {
			t.Fatalf("%v", err)
		}
		if !carried {
			return false
		}
	}
	return true
}

// short is what each collapse below the factor asks of the counts.
func (s *loaded) short(t failer, counts []int) (needs []Need) {
	t.Helper()
	for n := range s.live {
		o := s.solve(t, n, counts)
		if !o.NotStanding && o.Factor.AtLeast(s.needed) {
			continue
		}
		need := Need{Least: -o.Collapse.Dissipated}
		for _, f := range s.dead {
			need.Least += o.Collapse.Power(f)
		}
		for _, f := range s.live[n] {
			need.Least += s.needed * o.Collapse.Power(f)
		}
		for k := range s.at {
			need.Gain = append(need.Gain, -o.Collapse.Power(s.at[k]))
		}
		needs = append(needs, need)
	}
	return needs
}

func (s *loaded) weighs(counts []int) (mass float64, units int) {
	for k, c := range counts {
		mass += s.places[k].Unit * float64(c)
		units += c
	}
	return mass, units
}

// Cuts from collapses and branch and bound give the counts that trying every combination
// gives, and with one unit fewer anywhere the group falls.
func TestLeastBallastOfGroupsAgainstEveryCombination(t *testing.T) {
	rng := rand.New(rand.NewPCG(4, 5))
	laid, spread, hopeless := 0, 0, 0
	for n := 0; laid < 50; n++ {
		s := drawLoaded(t, rng)
		counts, ok, err := LeastUnits(s.places, func(counts []int) ([]Need, error) { return s.short(t, counts), nil })
		if err != nil {
			t.Fatalf("group %d: %v", n, err)
		}
		least, fewest := math.Inf(1), 0
		for all := make([]int, len(s.places)); ; {
			if mass, units := s.weighs(all); (mass < least || mass == least && units < fewest) && s.holds(t, all) {
				least, fewest = mass, units
			}
			k := 0
			for ; k < len(all); k++ {
				if all[k]++; all[k] <= s.places[k].Most {
					break
				}
				all[k] = 0
			}
			if k == len(all) {
				break
			}
		}
		if ok != !math.IsInf(least, 1) {
			t.Errorf("group %d: found %v, and trying every combination found %v", n, ok, !ok)
			continue
		}
		if !ok {
			hopeless++
			continue
		}
		laid++
		if mass, units := s.weighs(counts); mass != least || units != fewest || !s.holds(t, counts) {
			t.Errorf("group %d: %v weighs %g kg in %d units, holds: %v; %g kg in %d units will do", n, counts, mass, units, s.holds(t, counts), least, fewest)
		}
		places := 0
		for k := range counts {
			if counts[k] == 0 {
				continue
			}
			places++
			counts[k]--
			if s.holds(t, counts) {
				t.Errorf("group %d: with one unit fewer, %v, it still reaches %g", n, counts, s.needed)
			}
			counts[k]++
		}
		if places > 1 {
			spread++
		}
	}
	if spread < 5 || hopeless < 5 {
		t.Errorf("%d answers over several places and %d groups without: too few of a kind were tried", spread, hopeless)
	}
}
