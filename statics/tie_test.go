package statics

import (
	"errors"
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// At the very factor, where a group is neither carried nor falls but for rounding, Carries
// answers all the same: that it is carried, within its tolerance, or that it falls.
func TestCarriesAtTheFactor(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 9))
	tried := 0
	for range 300 {
		g, l := randomGroup(rng)
		a, err := NewAnalysis(g, 0)
		if err != nil {
			t.Fatal(err)
		}
		o, err := a.Solve(l, AllLimits)
		if err != nil || !o.Certificate.OK {
			t.Fatalf("%v, certificate %+v", err, o.Certificate)
		}
		if o.NotStanding || o.Factor.Unbounded || o.Factor.Value == 0 {
			continue
		}
		tried++
		for _, by := range []float64{1, 1 + 1e-15, 1 - 1e-15, 1 + 1e-12, 1 - 1e-12} {
			if _, err := a.Carries(l, o.Factor.Value*by); err != nil {
				t.Errorf("%.17g times the factor %.17g: %v", by, o.Factor.Value, err)
			}
		}
	}
	if tried < 100 {
		t.Errorf("only %d groups with a factor", tried)
	}
}

// Seek comes down to the factor that Solve comes up to, whatever was asked before.
func TestSeekAgainstSolve(t *testing.T) {
	rng := rand.New(rand.NewPCG(4, 1))
	carried, found := 0, 0
	for range 400 {
		g, l := randomGroup(rng)
		a, err := NewAnalysis(g, 0)
		if err != nil {
			t.Fatal(err)
		}
		want, err := a.Solve(l, AllLimits)
		if err != nil {
			t.Fatal(err)
		}
		most := want.Factor.Value
		if want.Factor.Unbounded {
			most = maxFactor
		}
		for _, from := range []float64{0.5 * most, 2 * most, 1.01 * most, 0, 1e6 * (most + 1), 0.99 * most, 100} {
			from = min(from, maxFactor)
			o, ok, err := a.Seek(l, from)
			switch {
			case err != nil:
				t.Errorf("from %g: %v", from, err)
			case want.NotStanding && (ok || !o.NotStanding):
				// Live loads may hold up what falls without them. The proof is all there is to that.
				if !ok && !o.Certificate.OK {
					t.Errorf("from %g: %+v", from, o)
				}
			case ok:
				if carried++; from > most*(1+1e-6)+1e-8 {
					t.Errorf("%g is said to be carried; the factor is %+v, not standing %v", from, want.Factor, want.NotStanding)
				}
			default:
				if found++; o.NotStanding != want.NotStanding || !near(o.Factor.Value, most, 1e-6) || !o.Certificate.OK || o.Factor.Value > from*(1+1e-6) {
					t.Errorf("from %g: %+v, certificate %+v; Solve found %+v, not standing %v", from, o.Factor, o.Certificate, want.Factor, want.NotStanding)
				}
			}
		}
	}
	if carried < 300 || found < 300 {
		t.Errorf("only %d carried and %d not", carried, found)
	}
}

// A group that is refitted answers like one that was made so, from bases that it left as well.
func TestRefit(t *testing.T) {
	rng := rand.New(rand.NewPCG(2, 6))
	scaled := 0
	for range 200 {
		g, l := randomGroup(rng)
		a, err := NewAnalysis(g, 0)
		if err != nil {
			t.Fatal(err)
		}
		if _, _, err := a.Seek(l, 1); err != nil {
			t.Fatal(err)
		}
		if _, err := a.Solve(l, AllLimits); err != nil {
			t.Fatal(err)
		}
		by, other := 0.2+2*rng.Float64(), *g
		other.Links, other.Guys = slices.Clone(g.Links), slices.Clone(g.Guys)
		for i := range other.Links {
			k := &other.Links[i]
			k.Pull, k.Push, k.Shear = by*k.Pull, by*k.Push, by*k.Shear
		}
		for i := range other.Guys {
			other.Guys[i].Limit *= by
		}
		fresh, err := NewAnalysis(&other, 0)
		if err != nil {
			t.Fatal(err)
		}
		want, err := fresh.Solve(l, AllLimits)
		if err != nil || !want.Certificate.OK {
			t.Fatal(err, want.Certificate)
		}
		if err := a.Refit(&other); err != nil {
			t.Errorf("%.3f times as strong: %v", by, err)
			continue
		}
		got, err := a.Solve(l, AllLimits)
		if err != nil || !got.Certificate.OK || got.NotStanding != want.NotStanding || got.Factor.Unbounded != want.Factor.Unbounded || !near(got.Factor.Value, want.Factor.Value, 1e-6) {
			t.Errorf("%.3f times as strong: %+v (%v), a new analysis %+v", by, got.Factor, err, want.Factor)
		}
		if want.NotStanding || want.Factor.Unbounded || want.Factor.Value < 1e-6 {
			continue
		}
		scaled++
		if o, carried, err := a.Seek(l, 1.5*want.Factor.Value); err != nil || carried || !near(o.Factor.Value, want.Factor.Value, 1e-6) {
			t.Errorf("%.3f times as strong: sought %+v, carried %v (%v); a new analysis %+v", by, o.Factor, carried, err, want.Factor)
		}
		bare := other
		bare.Contacts = nil
		if err := a.Refit(&bare); !errors.Is(err, ErrGroup) {
			t.Errorf("without contacts: %v", err)
		}
	}
	if scaled < 60 {
		t.Errorf("only %d groups with a factor", scaled)
	}
}

// A corner of the friction pyramid that lies within a billionth of a radian of a line that
// matters makes nearly parallel columns. A pivot between them spoils the inverse, and an
// answer without a proof was the result.
func TestCornersNextToALine(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 8))
	for range 2000 {
		turn := rng.Float64() * 7
		at := func(x, y float64) Vec {
			sin, cos := math.Sincos(turn)
			return Vec{x*cos - y*sin, x*sin + y*cos, 0}
		}
		foot := []Vec{at(-0.3, -0.2), at(0.3, -0.2), at(0.3, 0.2), at(-0.3, 0.2)}
		g := &Group{
			Blocks:   []Block{{Name: "a", Centre: Vec{rng.NormFloat64() / 10, rng.NormFloat64() / 10, 0.8}}},
			Contacts: []Contact{{Of: 0, On: Ground, Points: foot, Friction: 0.2}},
		}
		push := at(-40-20*rng.Float64(), 0)
		aside := at(-10, -20*rng.Float64())
		l := &Loads{
			Dead: []Acting{{Force: Force{F: Vec{0, 0, -1000}, At: Vec{0, 0, 0.7}}}},
			Live: []Acting{{Force: Force{F: push, At: Vec{0, 0, 0.9}}}, {Force: Force{F: aside, At: at(-0.5, 0.2)}}},
		}
		align := turn + math.Pi/8*float64(rng.IntN(16)) + 1e-9*(rng.Float64()-0.5)
		a, err := NewAnalysis(g, align)
		if err != nil {
			t.Fatal(err)
		}
		if o, err := a.Solve(l, AllLimits); err != nil || !o.Certificate.OK {
			t.Errorf("turned %.17g, align %.17g: %v, certificate %+v", turn, align, err, o.Certificate)
		}
	}
}

// A basis that has gone bad gives no proof, and so others are tried.
func TestSpoiltBasis(t *testing.T) {
	s := cube(0.3)
	s.Dead[0].F = Vec{0, 0, -1000}
	s.push(0, Vec{100, 0, 0}, Vec{0, 0, 1}) // slides at 3
	for what, spoil := range map[string]func(*simplex){
		"an inverse of no numbers": func(b *simplex) { b.inv[0] = math.NaN() },
		"an inverse of nothing":    func(b *simplex) { clear(b.inv) },
		"an inverse of twice that": func(b *simplex) {
			for i := range b.inv {
				b.inv[i] *= 2
			}
		},
	} {
		for name, ask := range map[string]func(*Analysis) (float64, bool, error){
			"Solve": func(a *Analysis) (float64, bool, error) {
				o, err := a.Solve(&s.Loads, AllLimits)
				return o.Factor.Value, o.Certificate.OK, err
			},
			"Carries": func(a *Analysis) (float64, bool, error) {
				carried, err := a.Carries(&s.Loads, 2.9)
				return 3, carried, err
			},
			"Seek": func(a *Analysis) (float64, bool, error) {
				o, carried, err := a.Seek(&s.Loads, 4)
				return o.Factor.Value, o.Certificate.OK && !carried, err
			},
		} {
			a, err := NewAnalysis(&s.Group, 0)
			if err != nil {
				t.Fatal(err)
			}
			spoil(a.part(AllLimits).home)
			if factor, ok, err := ask(a); !near(factor, 3, 1e-9) || !ok || err != nil {
				t.Errorf("%s, %s: %g, %v, %v; want 3 and a proof", what, name, factor, ok, err)
			}
		}
	}
}

// What a basis keeps through its pivots is what it would be if worked out anew: an inverse with the lengths of its
// rows, and reduced costs of the columns in use; those that are not, or are basic, cannot enter. The load at
// which it was left makes none of its values infeasible.
func TestBasisAfterPivots(t *testing.T) {
	g := portal()
	a, err := NewAnalysis(&g.Group, 0)
	if err != nil {
		t.Fatal(err)
	}
	l := Loads{Dead: g.Dead}
	for n := range 6 {
		turned(&l, g.Live, float64(n))
		if _, carried, err := a.Seek(&l, 0.5*float64(n%2)); err != nil || !carried {
			t.Fatal(carried, err)
		}
		s := a.part(AllLimits).kept[0]
		if n := s.amiss(s.b, s.m); n > 0 {
			t.Errorf("%d values are infeasible", n)
		}
		y := make([]float64, s.m)
		for i, j := range s.base {
			s.column(j)
			for k, v := range s.col {
				if want := map[bool]float64{true: 1}[k == i]; math.Abs(v-want) > 1e-9 {
					t.Fatalf("the inverse makes %g of row %d of basic column %d, want %g", v, k, i, want)
				}
			}
			row := s.inv[i*s.m : (i+1)*s.m]
			if want := inner(row, row); math.Abs(s.size[i]-want) > 1e-9*want {
				t.Errorf("row %d of the inverse has the squared length %g, want %g", i, s.size[i], want)
			}
			for k, v := range row {
				if !s.artificial(j) {
					y[k] += s.cost[j] * v
				}
			}
		}
		used := func(j int) bool {
			if j >= len(s.p.generators) {
				return !s.artificial(j)
			}
			i := s.p.generators[j].joint
			return s.on[i]&(1<<(j-s.p.joints[i].first)) != 0
		}
		for j, left := range s.left {
			if want := s.cost[j] - s.product(y, j); s.in[j] >= 0 || !used(j) {
				if !math.IsInf(left, 1) {
					t.Errorf("column %d may enter at %g: basic in %d, in use %v", j, left, s.in[j], used(j))
				}
			} else if math.Abs(left-want) > 1e-9*(1+math.Abs(want)) {
				t.Errorf("column %d has the reduced cost %g, want %g", j, left, want)
			}
		}
		// A motion is a row of the inverse: it moves one basic column and no other.
		for r := range s.m {
			for _, sign := range []float64{1, -1} {
				s.releases(r, sign)
				for i, j := range s.base {
					if got, want := s.product(s.motion, j), map[bool]float64{true: sign}[i == r]; math.Abs(got-want) > 1e-12 {
						t.Fatalf("the motion of row %d moves basic column %d by %g, want %g", r, i, got, want)
					}
				}
			}
		}
	}
}
