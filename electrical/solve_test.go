package electrical

import (
	"fmt"
	"math"
	"math/cmplx"
	"reflect"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"gonum.org/v1/gonum/mat"
	"pgregory.net/rapid"
)

// lamp is one constant-power load on one run of two conductors, whose reactance DC ignores.
func lamp(volts, ohmPerMetre, length, watts float64) Network {
	return Network{
		Supplies: []Supply{{Name: "outlet", Volts: volts, DC: true, Phases: 1, Breaker: 15}},
		Runs:     []Run{{Name: "cord", From: "outlet", Length: length, Resistance: ohmPerMetre, Reactance: 0.01}},
		Loads:    []Load{{Name: "lamp", On: "cord", Kind: ConstantPower, Watts: watts, Count: 1}},
	}
}

func solve(t interface{ Fatal(...any) }, n Network) *Result {
	r, err := Solve(n)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// The voltage that serves a power P through a resistance R is the larger root of
// V(E-V)/R = P, which exists up to P = E^2/4R.
func TestConstantPowerAgainstClosedForm(t *testing.T) {
	const e, r, length = 120.0, 0.01, 50.0
	loop := 2 * r * length
	most := e * e / (4 * loop)
	for _, share := range []float64{1e-6, 0.1, 0.5, 0.9, 0.99, 0.9999} {
		res := solve(t, lamp(e, r, length, share*most))
		if !res.Converged {
			t.Fatalf("%g of the most power: did not converge", share)
		}
		want := (e + math.Sqrt(e*e*(1-share))) / 2
		if got := res.Loads[0].Volts; math.Abs(got-want) > 1e-8*want {
			t.Errorf("%g of the most power: %.12g V, want %.12g", share, got, want)
		}
	}
	for _, share := range []float64{1.001, 1.5, 100, 1e5} {
		res := solve(t, lamp(e, r, length, share*most))
		if res.Converged || !slices.Equal(res.Collapsed, []string{"cord"}) {
			t.Errorf("%g of the most power: converged %v, collapsed %q", share, res.Converged, res.Collapsed)
		}
		if l := res.Loads[0]; l.Solved || l.Amps != 0 || l.Current != 0 || l.Volts != 0 {
			t.Errorf("%g of the most power: there is no solution, and the lamp has %+v", share, l)
		}
		if s := res.Supplies[0]; s.Solved || math.Abs(s.ContinuousAmps-share*most/e) > 1e-9*s.ContinuousAmps {
			t.Errorf("%g of the most power: solved %v, %g A at nominal voltage", share, s.Solved, s.ContinuousAmps)
		}
	}
}

// The magnitude of the voltage at a constant-power load P+jQ behind R+jX is the larger
// root of V^4 + (2(RP+XQ) - E^2) V^2 + (R^2+X^2)(P^2+Q^2) = 0.
func TestConstantPowerWithReactance(t *testing.T) {
	n := lamp(230, 0.01, 60, 1500)
	n.Supplies[0].DC = false
	n.Supplies[0].SourceImpedance = complex(0.2, 0.1)
	n.Runs[0].Reactance = 0.003
	n.Loads[0].PowerFactor = 0.8
	rr, xx, p, q := 0.2+2*60*0.01, 0.1+2*60*0.003, 1500.0, 1500.0/0.8*0.6
	b := 2*(rr*p+xx*q) - 230*230
	want := math.Sqrt((-b + math.Sqrt(b*b-4*(rr*rr+xx*xx)*(p*p+q*q))) / 2)
	res := solve(t, n)
	if got := res.Loads[0].Volts; math.Abs(got-want) > 1e-9*want {
		t.Errorf("%.12g V, want %.12g", got, want)
	}
	if got := res.Loads[0].VA; math.Abs(got-1875) > 1e-6 {
		t.Errorf("%g VA, want 1875", got)
	}
}

// A line loaded evenly, cut into cells with the load in the middle of each, drops i r l^2/2
// (Mehta and Mehta, Principles of Power System, example 13.5: 24.0 V).
func TestUniformLoadAsManyLamps(t *testing.T) {
	const cells = 200
	n := Network{Supplies: []Supply{{Name: "s", Volts: 240, DC: true, Phases: 1}}}
	from, length := "s", 0.5
	for i := range cells {
		name := fmt.Sprint("cell ", i)
		n.Runs = append(n.Runs, Run{Name: name, From: from, Length: length, Resistance: 0.0003})
		n.Loads = append(n.Loads, Load{Name: name, On: name, Kind: ConstantCurrent, Amps: 2, Count: 1})
		from, length = name, 1
	}
	res := solve(t, n)
	if got := 240 - res.Runs[cells-1].Volts; math.Abs(got-24) > 1e-9 {
		t.Errorf("drop %.12g V, want 24.0 (Mehta and Mehta, example 13.5)", got)
	}
}

func TestThreePhase(t *testing.T) {
	n := Network{
		Supplies: []Supply{{Name: "s", Volts: 400, Phases: 3}},
		Runs:     []Run{{Name: "feeder", From: "s", Length: 80, Resistance: 0.0046}},
		Loads:    []Load{{Name: "heaters", On: "feeder", Kind: ConstantCurrent, Amps: 16, Count: 1, PowerFactor: 1}},
	}
	res := solve(t, n)
	want, err := LineDrop(16, 0.0046, 80, 3)
	if err != nil {
		t.Fatal(err)
	}
	if got := 400 - res.Runs[0].Volts; math.Abs(got-want) > 1e-9 {
		t.Errorf("line-to-line drop %g V, want %g", got, want)
	}
	if got, want := res.Runs[0].LossWatts, 3*16*16*0.0046*80; math.Abs(got-want) > 1e-9 {
		t.Errorf("loss %g W, want %g", got, want)
	}
	n.Runs[0].Length = 0
	for _, kind := range []LoadKind{ConstantPower, Resistance} {
		n.Loads[0] = Load{Name: "lamps", On: "feeder", Kind: kind, Watts: 9000, PowerFactor: 1, Count: 1}
		res = solve(t, n)
		if got, want := res.Supplies[0].Amps, 9000/(math.Sqrt(3)*400); math.Abs(got-want) > 1e-9 {
			t.Errorf("%s: line current %g A, want %g", kind, got, want)
		}
	}
}

// At half its voltage a resistance takes a quarter of its power.
func TestRatedVolts(t *testing.T) {
	n := lamp(120, 0, 1, 100)
	n.Loads[0].Kind, n.Loads[0].RatedVolts = Resistance, 240
	if got := solve(t, n).Loads[0].Watts; math.Abs(got-25) > 1e-9 {
		t.Errorf("100 W at 240 V takes %g W at 120 V, want 25", got)
	}
}

// A drop of 10 V ahead of the outlet and 5 V in the cord, of 100 V.
func TestDropAheadOfOutletAndInCord(t *testing.T) {
	n := lamp(100, 0.025, 10, 0)
	n.Supplies[0].SourceImpedance = 1
	n.Loads[0].Kind, n.Loads[0].Amps = ConstantCurrent, 10
	res := solve(t, n)
	for _, c := range []struct {
		what      string
		got, want float64
	}{
		{"drop at the outlet", res.Supplies[0].Drop, 0.10},
		{"run drop at the outlet", res.Supplies[0].RunDrop, 0},
		{"drop at the lamp", res.Loads[0].Drop, 0.15},
		{"run drop at the lamp", res.Loads[0].RunDrop, 0.05},
	} {
		if math.Abs(c.got-c.want) > 1e-12 {
			t.Errorf("%s: %g, want %g", c.what, c.got, c.want)
		}
	}
}

func TestBreakerCurrents(t *testing.T) {
	n := lamp(120, 0, 10, 1200)
	n.Loads[0].Hours = 2
	n.Loads = append(n.Loads, Load{Name: "unknown hours", On: "outlet", Kind: Resistance, Watts: 60, Count: 4, Inrush: 12, Leakage: 0.0005})
	s := solve(t, n).Supplies[0]
	if got, want := s.Legs[0].Inrush, 10+12*2.0; math.Abs(got-want) > 1e-9 || math.Abs(s.LeakageAmps-0.002) > 1e-12 {
		t.Errorf("inrush %g A, leakage %g A; want %g and 0.002", got, s.LeakageAmps, want)
	}
	// Twice the loads are twice the currents.
	for _, l := range n.Loads {
		l.Name += " again"
		n.Loads = append(n.Loads, l)
	}
	double := solve(t, n).Supplies[0]
	if math.Abs(double.NoncontinuousAmps-20) > 1e-9 || math.Abs(double.ContinuousAmps-4) > 1e-9 || math.Abs(double.LeakageAmps-0.004) > 1e-12 || math.Abs(double.Legs[0].Inrush-68) > 1e-9 {
		t.Errorf("twice the loads: %+v", double)
	}
	if s.NoncontinuousAmps != 10 || s.ContinuousAmps != 2 || s.RequiredBreaker != 12.5 {
		t.Errorf("noncontinuous %g A, continuous %g A, breaker %g A; want 10, 2, 12.5 (NEC 210.20(A))",
			s.NoncontinuousAmps, s.ContinuousAmps, s.RequiredBreaker)
	}
}

func TestCollapseNamesTheSupply(t *testing.T) {
	n := lamp(12, 0.001, 1, 100)
	n.Supplies[0].SourceImpedance = 1
	if res := solve(t, n); res.Converged || !slices.Equal(res.Collapsed, []string{"outlet"}) {
		t.Errorf("converged %v, collapsed %q", res.Converged, res.Collapsed)
	}
}

// What gives way is the cord that cannot carry the load, not the thick ones before and behind it: 2 ohm of loop
// carry 120^2/8 = 1800 W at most, on two wires as on a leg.
func TestCollapseNamesTheThinCord(t *testing.T) {
	for name, n := range map[string]Network{
		"two wires": {Supplies: []Supply{{Name: "s", Volts: 120, DC: true, Phases: 1}}},
		"one leg":   {Supplies: []Supply{{Name: "s", Volts: 240, Phases: 1, SplitPhase: true}}},
	} {
		n.Runs = []Run{
			{Name: "thick", From: "s", Length: 1, Resistance: 0.0001}, {Name: "thin", From: "thick", Length: 50, Resistance: 0.02}, {Name: "end", From: "thin", Length: 1, Resistance: 0.0001},
			{Name: "beyond", From: "end", Length: 1, Resistance: 0.0001}, {Name: "aside", From: "thick", Length: 1, Resistance: 0.0001},
		}
		n.Loads = []Load{{Name: "lamp", On: "end", Kind: ConstantPower, Watts: 2500, PowerFactor: 1, Count: 1}}
		if n.Supplies[0].SplitPhase {
			n.Loads[0].Leg = Leg1
		}
		if r := solve(t, n); r.Converged || !slices.Equal(r.Collapsed, []string{"thin"}) {
			t.Errorf("%s: converged %v, collapsed %q", name, r.Converged, r.Collapsed)
		}
		// A hair above the most that a cord carries, the voltage creeps down and is still above half when the passes
		// end: then it is the lowest place that is named.
		n.Runs[0].Resistance, n.Runs[2].Resistance = 0, 0
		n.Runs[3].From, n.Runs[3].Resistance = "s", 0
		n.Loads[0].Watts = 1800 * (1 + 1e-7)
		n.Loads[0].On = "thin"
		if r := solve(t, n); r.Converged || !slices.Equal(r.Collapsed, []string{"thin"}) {
			t.Errorf("%s, just too much: converged %v, collapsed %q", name, r.Converged, r.Collapsed)
		}
	}
}

// A cord that is left with less than half gives way, not the next one, at whose end nothing is left: 12 A through
// 6 ohm leave 48 of 120 V, and through 5 ohm more none.
func TestCollapseNamesTheFirstBelowHalf(t *testing.T) {
	n := Network{
		Supplies: []Supply{{Name: "s", Volts: 120, DC: true, Phases: 1}},
		Runs:     []Run{{Name: "near", From: "s", Length: 100, Resistance: 0.03}, {Name: "far", From: "near", Length: 100, Resistance: 0.025}},
		Loads:    []Load{{Name: "lamp", On: "far", Kind: ConstantPower, Watts: 1440, PowerFactor: 1, Count: 1}},
	}
	for range 2 {
		if r := solve(t, n); r.Converged || !slices.Equal(r.Collapsed, []string{"near"}) || r.Supplies[0].Iterations != 1 {
			t.Errorf("%+v: collapsed %q after %d passes", n.Supplies[0], r.Collapsed, r.Supplies[0].Iterations)
		}
		n.Supplies[0] = Supply{Name: "s", Volts: 240, Phases: 1, SplitPhase: true}
		n.Loads[0].Leg = Leg1
	}
}

// A supply that collapses leaves the others as they are: the second, 10 A through 0.5 ohm, has its whole state.
func TestCollapseOfOneSupply(t *testing.T) {
	n := lamp(12, 0.1, 10, 1000)
	n.Supplies = append(n.Supplies, Supply{Name: "second", Volts: 100, DC: true, Phases: 1})
	n.Runs = append(n.Runs, Run{Name: "second cord", From: "second", Length: 10, Resistance: 0.025})
	n.Loads = append(n.Loads, Load{Name: "second lamp", On: "second cord", Kind: ConstantCurrent, Amps: 10, Count: 1})
	r := solve(t, n)
	check(t, []value{
		{"watts of the second supply", r.Supplies[1].Watts, 1000}, {"loss in its cord", r.Runs[1].LossWatts, 50}, {"volts of its lamp", r.Loads[1].Volts, 95},
		{"watts of its lamp", r.Loads[1].Watts, 950}, {"watts of the first supply", r.Supplies[0].Watts, 0}, {"loss in its cord", r.Runs[0].LossWatts, 0},
	})
	if r.Converged || r.Supplies[0].Solved || !r.Supplies[1].Solved || !slices.Equal(r.Collapsed, []string{"cord"}) {
		t.Errorf("converged %v, collapsed %q", r.Converged, r.Collapsed)
	}
}

// Loads of every kind at one place add up: without any impedance 10 A given from the supply's voltage, 5 A from the
// load's own, 240 W and 360 W of resistance at 120 V draw 20 A.
func TestKindsAddUp(t *testing.T) {
	n := lamp(120, 0, 1, 240)
	n.Loads = append(n.Loads,
		Load{Name: "measured", On: "cord", Kind: ConstantCurrent, Amps: 10, Count: 1, FromSupply: true},
		Load{Name: "ballast", On: "cord", Kind: ConstantCurrent, Amps: 5, Count: 1},
		Load{Name: "filament", On: "cord", Kind: Resistance, Watts: 360, Count: 1})
	r := solve(t, n)
	for what, got := range map[string]float64{"cord": r.Runs[0].Amps, "outlet": r.Supplies[0].Amps} {
		if math.Abs(got-20) > 1e-9 {
			t.Errorf("%s: %g A, want 20", what, got)
		}
	}
}

// A network is what it is in any unit of voltage: with a thousand times the voltage and a million times the
// impedance, the same powers leave the same fractions of the voltage, after as many passes.
func TestScaledVoltage(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := network(t, rapid.Bool().Draw(t, "dc"), ConstantPower)
		const times = 1024. // exact in binary
		big := n
		big.Supplies, big.Runs = slices.Clone(n.Supplies), slices.Clone(n.Runs)
		big.Supplies[0].Volts *= times
		big.Supplies[0].SourceImpedance *= times * times
		for k := range big.Runs {
			big.Runs[k].Resistance *= times * times
			big.Runs[k].Reactance *= times * times
			big.Runs[k].Contact *= times * times
		}
		a, b := solve(t, n), solve(t, big)
		if !a.Converged || !b.Converged || a.Supplies[0].Iterations != b.Supplies[0].Iterations {
			t.Fatalf("converged %v after %d passes, scaled %v after %d", a.Converged, a.Supplies[0].Iterations, b.Converged, b.Supplies[0].Iterations)
		}
		for k := range n.Runs {
			if a.Runs[k].Drop != b.Runs[k].Drop || a.Runs[k].Amps != b.Runs[k].Amps*times {
				t.Fatalf("%s drops %g at %g A, scaled %g at %g A", n.Runs[k].Name, a.Runs[k].Drop, a.Runs[k].Amps, b.Runs[k].Drop, b.Runs[k].Amps)
			}
		}
	})
}

// One fault is told as one.
func TestLoneFaults(t *testing.T) {
	for want, n := range map[string]Network{
		`run "r": fed from "nowhere", which is no supply or run`: {Runs: []Run{{Name: "r", From: "nowhere"}}},
		`runs feed themselves: "r" from "r"`:                     {Runs: []Run{{Name: "r", From: "r"}}},
		`load "l": count is 1000001, must be 1 to 1e+06`:         {Loads: []Load{{Name: "l", On: "s", Kind: Resistance, Watts: 1, Count: 1e6 + 1}}},
		"": {Loads: []Load{{Name: "l", On: "s", Kind: Resistance, Watts: 1e-6, Count: 1e6}}},
	} {
		n.Supplies = []Supply{{Name: "s", Volts: 120, Phases: 1}}
		if _, err := Solve(n); (err == nil) != (want == "") || err != nil && err.Error() != want {
			t.Errorf("%v, want %q", err, want)
		}
	}
}

func TestBrokenNetwork(t *testing.T) {
	n := Network{
		Supplies: []Supply{
			{Name: "a", Volts: math.NaN(), Phases: 1},
			{Name: "a", Volts: 120, Phases: 2},
			{Name: "", Volts: 120, Phases: 3, DC: true},
		},
		Runs: []Run{
			{Name: "r", From: "s"},
			{Name: "s", From: "r", Length: -1},
			{Name: "t", From: "s"},
			{Name: "u", From: "nowhere", Resistance: math.Inf(1)},
			{Name: "v", From: "v"},
			{Name: "good", From: "a"},
		},
		Loads: []Load{
			{Name: "x", On: "good", Kind: ConstantPower, Watts: 5, Count: 0},
			{Name: "x", On: "gone", Kind: LoadKind(9), Count: 1},
			{Name: "y", On: "good", Kind: Resistance, Watts: -5, Count: 1, Hours: -1, MinVolts: -1, RatedVolts: -1},
		},
	}
	_, err := Solve(n)
	if err == nil {
		t.Fatal("no error")
	}
	want := strings.TrimSpace(`
supply "a": voltage is NaN, must be 0.1 to 1e+06
supply "a": the name is taken by another supply or run
supply "a": 2 phases, must be 1 or 3
supply 3: no name
supply 3: DC with 3 phases
run "s": length is -1, must be 0 to 1e+06
run "u": resistance is +Inf, must be 0 to 1e+09
run "u": fed from "nowhere", which is no supply or run
runs feed themselves: "r" from "s" from "r"
runs feed themselves: "v" from "v"
load "x": count is 0, must be 1 to 1e+06
load "x": power factor is 0, must be 0.01 to 1
load "x": the name is taken by another load
load "x": on "gone", which is no supply or run
load "x": load kind 9 is unknown
load "y": power is -5, must be 1e-09 to 1e+09
load "y": hours is -1, must be 0 to 1e+09
load "y": least voltage is -1, must be 0 to 1e+06
load "y": rated voltage is -1, must be 0.1 to 1e+06`)
	if diff := cmp.Diff(want, err.Error()); diff != "" {
		t.Errorf("faults (-want +got):\n%s", diff)
	}
	if _, err := Solve(Network{}); err == nil {
		t.Error("an empty network is no error")
	}
}

// network draws a tree of up to 10 runs, a load on each, that keeps its voltage up.
func network(t *rapid.T, dc bool, kinds ...LoadKind) Network {
	n := Network{Supplies: []Supply{{Name: "s", Volts: 230, DC: dc, Phases: 1,
		SourceImpedance: complex(rapid.Float64Range(0, 0.2).Draw(t, "source"), 0)}}}
	names := []string{"s"}
	for i := range rapid.IntRange(1, 10).Draw(t, "runs") {
		name := fmt.Sprint("r", i)
		n.Runs = append(n.Runs, Run{
			Name:       name,
			From:       rapid.SampledFrom(names).Draw(t, "from"),
			Length:     rapid.Float64Range(0.1, 10).Draw(t, "length"),
			Resistance: rapid.Float64Range(0.001, 0.02).Draw(t, "resistance"),
			Reactance:  rapid.Float64Range(0, 0.002).Draw(t, "reactance"),
			Contact:    rapid.Float64Range(0, 0.02).Draw(t, "contact"),
			Ampacity:   16,
		})
		names = append(names, name)
		n.Loads = append(n.Loads, Load{
			Name: name, On: rapid.SampledFrom(names).Draw(t, "on"),
			Kind:        rapid.SampledFrom(kinds).Draw(t, "kind"),
			Watts:       rapid.Float64Range(1, 300).Draw(t, "watts"),
			Amps:        rapid.Float64Range(0.01, 1.5).Draw(t, "amps"),
			PowerFactor: rapid.Float64Range(0.5, 1).Draw(t, "pf"),
			Count:       rapid.IntRange(1, 2).Draw(t, "count"),
		})
	}
	return n
}

var allKinds = []LoadKind{ConstantPower, ConstantCurrent, Resistance}

// nodal solves a network of resistances and of currents at a fixed angle by a dense
// system in real numbers of Kirchhoff's current law at every node, written without the tree.
func nodal(t *rapid.T, n Network) []complex128 {
	size := 1 + len(n.Runs)
	at := map[string]int{"s": 0}
	for k, r := range n.Runs {
		at[r.Name] = 1 + k
	}
	a := mat.NewDense(2*size, 2*size, nil)
	b := mat.NewVecDense(2*size, nil)
	add := func(i, j int, y complex128) {
		a.Set(i, j, a.At(i, j)+real(y))
		a.Set(i, size+j, a.At(i, size+j)-imag(y))
		a.Set(size+i, j, a.At(size+i, j)+imag(y))
		a.Set(size+i, size+j, a.At(size+i, size+j)+real(y))
	}
	inject := func(i int, amps complex128) {
		b.SetVec(i, b.AtVec(i)+real(amps))
		b.SetVec(size+i, b.AtVec(size+i)+imag(amps))
	}
	source := 1 / (n.Supplies[0].SourceImpedance + 1e-3)
	add(0, 0, source)
	inject(0, 230*source)
	for k, r := range n.Runs {
		y := 1 / (2*complex(r.Resistance, r.Reactance)*complex(r.Length, 0) + complex(r.Contact, 0))
		i, j := at[r.From], 1+k
		add(i, i, y)
		add(j, j, y)
		add(i, j, -y)
		add(j, i, -y)
	}
	for _, l := range n.Loads {
		if l.Kind == Resistance {
			add(at[l.On], at[l.On], complex(l.Watts*float64(l.Count)/(230*230), 0))
		} else {
			inject(at[l.On], -cmplx.Rect(l.Amps*float64(l.Count), -math.Acos(l.PowerFactor)))
		}
	}
	var x mat.VecDense
	if err := x.SolveVec(a, b); err != nil {
		t.Fatal(err)
	}
	v := make([]complex128, size)
	for i := range v {
		v[i] = complex(x.AtVec(i), x.AtVec(size+i))
	}
	return v
}

func TestSolveAgainstDenseNodal(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := network(t, false, ConstantCurrent, Resistance)
		for i := range n.Loads {
			n.Loads[i].FromSupply = true
		}
		want := nodal(t, n)
		n.Supplies[0].SourceImpedance += 1e-3 // the nodal form cannot hold a zero
		res := solve(t, n)
		if d := cmplx.Abs(res.Supplies[0].Voltage - want[0]); d > 1e-9*230 {
			t.Errorf("supply off by %g V", d)
		}
		for k := range n.Runs {
			if d := cmplx.Abs(res.Runs[k].Voltage - want[1+k]); d > 1e-9*230 {
				t.Errorf("%s: %v, want %v", n.Runs[k].Name, res.Runs[k].Voltage, want[1+k])
			}
		}
	})
}

func TestPowerBalances(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := network(t, rapid.Bool().Draw(t, "dc"), allKinds...)
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

// A longer cord never leaves more voltage at its end, nor does a thinner one.
func TestMoreResistanceNeverDropsLess(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := network(t, rapid.Bool().Draw(t, "dc"), allKinds...)
		k := rapid.IntRange(0, len(n.Runs)-1).Draw(t, "run")
		before := solve(t, n).Runs[k].Drop
		worse := n
		worse.Runs = slices.Clone(n.Runs)
		by := rapid.Float64Range(1, 3).Draw(t, "by")
		what := rapid.SampledFrom([]string{"longer", "thinner"}).Draw(t, "what")
		if what == "longer" {
			worse.Runs[k].Length *= by
		} else {
			worse.Runs[k].Resistance *= by
		}
		after := solve(t, worse)
		if after.Converged && after.Runs[k].Drop < before-1e-11 {
			t.Errorf("%s by %g drops %.12g, before %.12g", what, by, after.Runs[k].Drop, before)
		}
	})
}

func TestSplitRunChangesNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := network(t, rapid.Bool().Draw(t, "dc"), allKinds...)
		k := rapid.IntRange(0, len(n.Runs)-1).Draw(t, "run")
		whole := solve(t, n)
		cut := n
		cut.Runs = slices.Clone(n.Runs)
		first := n.Runs[k]
		first.Name, first.Contact = "first part", 0
		first.Length *= rapid.Float64Range(0, 1).Draw(t, "share")
		cut.Runs[k].From = first.Name
		cut.Runs[k].Length -= first.Length
		cut.Runs = append(cut.Runs, first)
		parts := solve(t, cut)
		for i := range n.Runs {
			if d := cmplx.Abs(whole.Runs[i].Voltage - parts.Runs[i].Voltage); d > 1e-9*230 {
				t.Errorf("%s moved by %g V", n.Runs[i].Name, d)
			}
		}
	})
}

// finiteAll reports the path of the first number in v that is not finite.
func finiteAll(v reflect.Value, path string) string {
	switch v.Kind() {
	case reflect.Pointer:
		return finiteAll(v.Elem(), path)
	case reflect.Struct:
		for i := range v.NumField() {
			if p := finiteAll(v.Field(i), path+"."+v.Type().Field(i).Name); p != "" {
				return p
			}
		}
	case reflect.Slice:
		for i := range v.Len() {
			if p := finiteAll(v.Index(i), fmt.Sprint(path, "[", i, "]")); p != "" {
				return p
			}
		}
	case reflect.Float64:
		if math.IsNaN(v.Float()) || math.IsInf(v.Float(), 0) {
			return path
		}
	case reflect.Complex128:
		if cmplx.IsNaN(v.Complex()) || cmplx.IsInf(v.Complex()) {
			return path
		}
	}
	return ""
}

func FuzzSolve(f *testing.F) {
	f.Add(120.0, 15.0, 0.1, 0.01, 30.0, 0.013, 0.001, 60.0, 0.9, 2.0, uint(3), true, uint8(1))
	f.Add(12.0, 0.0, 1e9, 0.0, 1e6, 1e9, 1e9, 1e9, 0.01, 0.0, uint(1e6), false, uint8(0x1f))
	f.Add(240.0, 30.0, 0.1, 0.01, 30.0, 0.013, 0.001, 60.0, 0.9, 2.0, uint(3), false, uint8(0xc0))
	f.Add(400.0, 30.0, 0.1, 0.01, 30.0, 0.013, 0.001, 60.0, 0.9, 2.0, uint(3), false, uint8(0x81))
	f.Add(1e6, 0.0, 0.0, 1e-300, 1e-300, 1e9, 0.0, 1e-9, 1.0, 1e9, uint(1), false, uint8(0x6a))
	f.Fuzz(func(t *testing.T, volts, breaker, rs, xs, length, r, x, draw, pf, hours float64, count uint, dc bool, shape uint8) {
		phases := 1
		if shape&1 != 0 {
			phases = 3
		}
		kind := LoadKind(shape >> 1 & 3)
		n := Network{
			Supplies: []Supply{{Name: "s", Volts: volts, DC: dc, Phases: phases, SplitPhase: shape&0x40 != 0, Breaker: breaker, SourceImpedance: complex(rs, xs), MaxFaultLoop: hours}},
			Runs: []Run{
				{Name: "b", From: "a", Length: length, Resistance: x, Reactance: r, Contact: rs},
				{Name: "a", From: []string{"s", "a", "b", "q"}[shape>>3&3], Length: length, Resistance: r, Reactance: x, Ampacity: draw},
			},
			Loads: []Load{
				{Name: "k", On: "a", Kind: kind, Watts: draw, Amps: draw, PowerFactor: pf, Count: int(count % 1e7), Hours: hours, FromSupply: shape&0x20 != 0},
				{Name: "l", On: "b", Kind: (kind + 1) % 3, Watts: draw, Amps: pf, PowerFactor: pf, Count: 1, RatedVolts: breaker},
				{Name: "m", On: "s", Kind: Resistance, Watts: length, Count: 1},
			},
		}
		if shape&0x80 != 0 {
			n.Loads[2].Leg, n.Loads[1].Leg = Leg1, Legs12
		}
		res, err := Solve(n)
		if err != nil {
			return
		}
		if p := finiteAll(reflect.ValueOf(res), "result"); p != "" {
			t.Errorf("%s is not finite", p)
		}
		if res.Converged != (len(res.Collapsed) == 0) {
			t.Errorf("converged %v, collapsed %q", res.Converged, res.Collapsed)
		}
		if s := res.Supplies[0]; s.Residual > 1e-9 {
			t.Errorf("residual %g", s.Residual)
		}
		sizes, limit := []Conductor{{"thin", r, x, draw, 1}, {"thick", r / 2, x, draw, 2}}, DropLimit{0.03, 0.05}
		if _, err := LeastGauge(n, "a", sizes, limit); err != nil {
			t.Errorf("solves, but cannot be sized: %v", err)
		}
		gauges, err := Sizes(n, [][]Conductor{sizes, sizes}, limit)
		if err != nil {
			t.Errorf("solves, but not all can be sized: %v", err)
		}
		long, err := LongestRun(n, "a", limit)
		if err != nil {
			t.Errorf("solves, but has no longest run: %v", err)
		}
		if p := finiteAll(reflect.ValueOf(gauges), "sizes") + finiteAll(reflect.ValueOf(long), "longest"); p != "" {
			t.Errorf("%s is not finite", p)
		}
		if _, err := FaultLoops(n); err != nil {
			t.Errorf("solves, but has no fault loops: %v", err)
		}
	})
}

func BenchmarkSolve(b *testing.B) {
	n := festival()
	for b.Loop() {
		if _, err := Solve(n); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkLeastGauge(b *testing.B) {
	n := festival()
	for b.Loop() {
		if _, err := LeastGauge(n, "cord 199 0", cords, DropLimit{NECBranchDrop, NECTotalDrop}); err != nil {
			b.Fatal(err)
		}
	}
}

// festival is 2,000 lamps on 200 circuits, ten to a circuit along four cords.
func festival() Network {
	var n Network
	for c := range 200 {
		outlet := fmt.Sprint("outlet ", c)
		n.Supplies = append(n.Supplies, Supply{Name: outlet, Volts: 120, Phases: 1, Breaker: 20, SourceImpedance: 0.2})
		from := outlet
		for k := range 4 {
			name := fmt.Sprint("cord ", c, " ", k)
			n.Runs = append(n.Runs, Run{Name: name, From: from, Length: 15, Resistance: 0.0103, Reactance: 0.00018, Ampacity: 18})
			if k != 1 {
				from = name
			}
		}
		for k := range 10 {
			n.Loads = append(n.Loads, Load{
				Name: fmt.Sprint("lamp ", c, " ", k), On: fmt.Sprint("cord ", c, " ", k%4),
				Kind: ConstantPower, Watts: 60, PowerFactor: 0.9, Count: 1, Hours: 5,
			})
		}
	}
	return n
}

// BenchmarkSizes solves 2,000 lamps on 200 circuits, checks them and sizes every run.
func BenchmarkSizes(b *testing.B) {
	n := festival()
	lists := make([][]Conductor, len(n.Runs))
	for k := range lists {
		lists[k] = cords
	}
	for b.Loop() {
		if _, err := Solve(n); err != nil {
			b.Fatal(err)
		}
		if _, err := FaultLoops(n); err != nil {
			b.Fatal(err)
		}
		if _, err := Sizes(n, lists, DropLimit{NECBranchDrop, NECTotalDrop}); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkLongestRuns(b *testing.B) {
	n := festival()
	lists := make([][]Conductor, len(n.Runs))
	for k := range lists {
		lists[k] = cords
	}
	for b.Loop() {
		if _, err := LongestRuns(n, lists, DropLimit{NECBranchDrop, NECTotalDrop}); err != nil {
			b.Fatal(err)
		}
	}
}
