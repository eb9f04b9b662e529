package electrical

import (
	"math"
	"math/cmplx"
	"slices"
	"testing"

	_ "galefast/internal/steady"

	"gonum.org/v1/gonum/mat"
	"pgregory.net/rapid"
)

// splitPhase is two loads, one on each leg, at the end of a cord with all three conductors.
func splitPhase(first, second float64) Network {
	return Network{
		Supplies: []Supply{{Name: "panel", Volts: 240, Phases: 1, SplitPhase: true, Breaker: 30}},
		Runs:     []Run{{Name: "cord", From: "panel", Length: 50, Resistance: 0.005}},
		Loads: []Load{
			{Name: "first", On: "cord", Leg: Leg1, Kind: ConstantCurrent, Amps: first, PowerFactor: 1, Count: 1, FromSupply: true, Hours: 5},
			{Name: "second", On: "cord", Leg: Leg2, Kind: ConstantCurrent, Amps: second, PowerFactor: 1, Count: 1, FromSupply: true, Hours: 5},
		},
	}
}

// Balanced legs leave the neutral without current and drop in one conductor only; what is not
// balanced returns in the neutral, which lifts the other leg.
func TestSplitPhase(t *testing.T) {
	const ohms = 0.25 // of each conductor
	for _, c := range []struct{ first, second float64 }{{10, 10}, {10, 4}, {10, 1e-9}} {
		r := solve(t, splitPhase(c.first, c.second))
		neutral := c.first - c.second
		for i, want := range []float64{120 - ohms*(c.first+neutral), 120 - ohms*(c.second-neutral)} {
			if got := r.Loads[i].Volts; math.Abs(got-want) > 1e-9 || r.Loads[i].Nominal != 120 {
				t.Errorf("%g A and %g A: %s has %.9g of %g V, want %.9g of 120", c.first, c.second, r.Loads[i].Name, got, r.Loads[i].Nominal, want)
			}
		}
		if got := r.Supplies[0].NeutralAmps; math.Abs(got-neutral) > 1e-9 {
			t.Errorf("%g A and %g A: %g A in the neutral, want %g", c.first, c.second, got, neutral)
		}
		if got, want := r.Supplies[0].RequiredBreaker, 1.25*c.first; math.Abs(got-want) > 1e-9 {
			t.Errorf("breaker of %g A, want %g for the fuller leg", got, want)
		}
		if got, want := r.Runs[0].LossWatts, ohms*(c.first*c.first+c.second*c.second+neutral*neutral); math.Abs(got-want) > 1e-9 {
			t.Errorf("loss %g W, want %g", got, want)
		}
	}
	n := splitPhase(10, 10)
	n.Loads = append(n.Loads, Load{Name: "heater", On: "cord", Leg: Legs12, Kind: Resistance, Watts: 2400, Count: 1, Hours: 1})
	r := solve(t, n)
	if got := r.Supplies[0].NeutralAmps; got > 1e-9 {
		t.Errorf("a load from leg to leg puts %g A into the neutral", got)
	}
	if r.Loads[2].Nominal != 240 || math.Abs(r.Supplies[0].Legs[0].Noncontinuous-r.Loads[2].Amps) > 1e-9 || math.Abs(r.Supplies[0].Legs[1].Noncontinuous-r.Loads[2].Amps) > 1e-9 {
		t.Errorf("the heater has %g V nominal, and %+v on the legs", r.Loads[2].Nominal, r.Supplies[0].Legs)
	}
}

// The same load on each leg of a three-phase supply, told apart, is the balanced load.
func TestThreeLegsAlike(t *testing.T) {
	for _, kind := range allKinds {
		n := Network{
			Supplies: []Supply{{Name: "s", Volts: 400, Phases: 3, SourceImpedance: complex(0.05, 0.02)}},
			Runs:     []Run{{Name: "feeder", From: "s", Length: 80, Resistance: 0.0046, Reactance: 0.0001, Contact: 0.01}},
			Loads:    []Load{{Name: "all", On: "feeder", Kind: kind, Watts: 9000, Amps: 13, PowerFactor: 0.9, Count: 1}},
		}
		whole := solve(t, n)
		n.Loads = nil
		for i, leg := range []Leg{Leg1, Leg2, Leg3} {
			n.Loads = append(n.Loads, Load{Name: string(rune('a' + i)), On: "feeder", Leg: leg, Kind: kind, Watts: 3000, Amps: 13, PowerFactor: 0.9, Count: 1})
		}
		apart := solve(t, n)
		if d := apart.Loads[0].Volts*math.Sqrt(3) - whole.Loads[0].Volts; math.Abs(d) > 1e-8 {
			t.Errorf("%s: leg by leg %g V, balanced %g V", kind, apart.Loads[0].Volts*math.Sqrt(3), whole.Loads[0].Volts)
		}
		if d := apart.Runs[0].LossWatts - whole.Runs[0].LossWatts; math.Abs(d) > 1e-7 {
			t.Errorf("%s: leg by leg %g W are lost, balanced %g W", kind, apart.Runs[0].LossWatts, whole.Runs[0].LossWatts)
		}
		if apart.Supplies[0].NeutralAmps > 1e-8 || math.Abs(apart.Supplies[0].Watts-whole.Supplies[0].Watts) > 1e-6 {
			t.Errorf("%s: neutral %g A, %g W against %g W", kind, apart.Supplies[0].NeutralAmps, apart.Supplies[0].Watts, whole.Supplies[0].Watts)
		}
	}
}

// Every conductor of a network with legs, by a dense system of Kirchhoff's current law that is
// written without the tree.
func TestLegsAgainstDenseNodal(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := legs(t, network(t, false, ConstantCurrent, Resistance))
		for i := range n.Loads {
			n.Loads[i].FromSupply = true
		}
		n.Supplies[0].SourceImpedance += 1e-3
		s := &n.Supplies[0]
		d := s.legs() + 1
		at := map[string]int{"s": 0}
		for k, r := range n.Runs {
			at[r.Name] = (1 + k) * d
		}
		size := (1 + len(n.Runs)) * d
		a, b := mat.NewDense(2*size, 2*size, nil), mat.NewVecDense(2*size, nil)
		add := func(i, j int, y complex128) {
			a.Set(i, j, a.At(i, j)+real(y))
			a.Set(i, size+j, a.At(i, size+j)-imag(y))
			a.Set(size+i, j, a.At(size+i, j)+imag(y))
			a.Set(size+i, size+j, a.At(size+i, size+j)+real(y))
		}
		join := func(i, j int, y complex128) { add(i, i, y); add(j, j, y); add(i, j, -y); add(j, i, -y) }
		inject := func(i int, amps complex128) {
			b.SetVec(i, b.AtVec(i)+real(amps))
			b.SetVec(size+i, b.AtVec(size+i)+imag(amps))
		}
		emf := func(conductor int) complex128 {
			switch {
			case conductor == d-1:
				return 0
			case s.SplitPhase:
				return complex(120-240*float64(conductor), 0)
			}
			return cmplx.Rect(400/math.Sqrt(3), -2*math.Pi/3*float64(conductor))
		}
		half := complex(1, 0)
		if s.SplitPhase {
			half = 0.5
		}
		for i := range d {
			y := 1 / (s.SourceImpedance * half)
			add(i, i, y)
			inject(i, emf(i)*y)
		}
		for _, r := range n.Runs {
			y := 1 / (complex(r.Resistance, r.Reactance)*complex(r.Length, 0) + complex(r.Contact, 0)*half)
			for i := range d {
				join(at[r.From]+i, at[r.Name]+i, y)
			}
		}
		leg := map[string]Leg{"s": Whole}
		for _, r := range n.Runs {
			leg[r.Name] = max(r.Leg, leg[r.From])
		}
		for _, l := range n.Loads {
			on := max(l.Leg, leg[l.On])
			pairs := map[Leg][][2]int{Leg1: {{0, d - 1}}, Leg2: {{1, d - 1}}, Leg3: {{2, d - 1}}, Legs12: {{0, 1}}, Legs23: {{1, 2}}, Legs31: {{2, 0}}}[on]
			volts := map[bool]float64{true: s.Volts / float64(d-1), false: s.Volts}[on == Leg1 || on == Leg2 || on == Leg3]
			if !s.SplitPhase && on >= Leg1 && on <= Leg3 {
				volts = s.Volts / math.Sqrt(3)
			}
			if on == Whole && s.SplitPhase {
				pairs = [][2]int{{0, 1}}
			} else if on == Whole {
				pairs = [][2]int{{0, 3}, {1, 3}, {2, 3}}
			}
			for _, p := range pairs {
				i, j := at[l.On]+p[0], at[l.On]+p[1]
				if l.Kind == Resistance {
					join(i, j, complex(l.Watts*float64(l.Count)/(volts*volts), 0))
					continue
				}
				e := emf(p[0]) - emf(p[1])
				amps := cmplx.Rect(l.Amps*float64(l.Count), cmplx.Phase(e)-math.Acos(l.PowerFactor))
				inject(i, -amps)
				inject(j, amps)
			}
		}
		var x mat.VecDense
		if err := x.SolveVec(a, b); err != nil {
			t.Fatal(err)
		}
		v := func(i int) complex128 { return complex(x.AtVec(i), x.AtVec(size+i)) }
		tr, err := compile(&n)
		if err != nil {
			t.Fatal(err)
		}
		c := newCircuit(tr, 0)
		if !c.solve() {
			t.Fatal("did not converge")
		}
		for k, r := range n.Runs {
			p := tr.place[1+k]
			for i := range s.legs() {
				got := c.volts[p][i]
				if c.d > 1 {
					got -= c.volts[p][c.d-1]
				} else if i > 0 {
					break
				}
				want := v(at[r.Name]+i) - v(at[r.Name]+d-1)
				if dv := cmplx.Abs(got - want); dv > 1e-9*s.Volts {
					t.Errorf("%s, leg %d: %v, want %v", r.Name, i+1, got, want)
				}
			}
		}
	})
}

// What goes in comes out, also where legs carry different loads.
func TestPowerBalancesOnLegs(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := legs(t, network(t, false, allKinds...))
		res := solve(t, n)
		if !res.Converged {
			t.Fatal("did not converge")
		}
		s := res.Supplies[0]
		out := 0.0
		for _, l := range res.Loads {
			out += l.Watts
		}
		for _, r := range res.Runs {
			out += r.LossWatts
		}
		if math.Abs(s.Watts-out) > 1e-9*out || s.Residual > 1e-9 {
			t.Errorf("%.12g W in, %.12g W out, residual %g", s.Watts, out, s.Residual)
		}
	})
}

// A leg that cannot carry its load is told with the run, as on two wires.
func TestLegsCollapse(t *testing.T) {
	n := splitPhase(1, 1)
	n.Loads[0] = Load{Name: "first", On: "cord", Leg: Leg1, Kind: ConstantPower, Watts: 20000, PowerFactor: 1, Count: 1}
	if r := solve(t, n); r.Converged || len(r.Collapsed) != 1 || r.Collapsed[0] != "cord" || r.Loads[0].Solved {
		t.Errorf("converged %v, collapsed %q", r.Converged, r.Collapsed)
	}
	// Where a thick cord feeds a thin one, it is the thin one: 2 ohm of loop carry 120^2/8 = 1800 W at most.
	n.Runs[0].Resistance = 0.0005
	n.Runs = append(n.Runs, Run{Name: "thin", From: "cord", Length: 50, Resistance: 0.02})
	n.Loads[0].On = "thin"
	for watts, want := range map[float64][]string{1700: nil, 3000: {"thin"}} {
		n.Loads[0].Watts = watts
		if r := solve(t, n); !slices.Equal(r.Collapsed, want) || r.Converged != (want == nil) {
			t.Errorf("%g W: converged %v, collapsed %q, want %q", watts, r.Converged, r.Collapsed, want)
		}
	}
}

func TestConnectionsThatAreNotThere(t *testing.T) {
	for _, c := range []struct {
		name   string
		change func(n *Network)
		want   string
	}{
		{"a third leg of two", func(n *Network) { n.Loads[0].Leg = Leg3 }, `load "first": supply "panel" has no leg 3`},
		{"a leg of two wires", func(n *Network) { n.Supplies[0].SplitPhase = false }, `load "first": supply "panel" has no leg 1` + "\n" + `load "second": supply "panel" has no leg 2`},
		{"the other leg", func(n *Network) { n.Runs[0].Leg = Leg1 }, `load "second": on leg 2, and fed by two wires on leg 1`},
		{"direct current", func(n *Network) { n.Supplies[0].DC = true }, `supply "panel": split-phase is AC of one phase`},
		{"none of the legs", func(n *Network) { n.Loads[0].Leg = 9 }, `load "first": supply "panel" has no leg 9`},
	} {
		n := splitPhase(1, 1)
		c.change(&n)
		if _, err := Solve(n); err == nil || err.Error() != c.want {
			t.Errorf("%s: %v, want %s", c.name, err, c.want)
		}
	}
}

func BenchmarkSolveLegs(b *testing.B) {
	n := festival()
	for i := range n.Supplies {
		n.Supplies[i].SplitPhase, n.Supplies[i].Volts = true, 240
	}
	for i := range n.Loads {
		n.Loads[i].Leg = Leg(1 + i%2)
	}
	for b.Loop() {
		if _, err := Solve(n); err != nil {
			b.Fatal(err)
		}
	}
}
