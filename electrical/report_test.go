package electrical

import (
	"math"
	"math/cmplx"
	"reflect"
	"slices"
	"strings"
	"testing"
)

// value is a number of a result with what it must be by hand.
type value struct {
	name      string
	got, want float64
}

func check(t *testing.T, values []value) {
	t.Helper()
	for _, v := range values {
		if !(math.Abs(v.got-v.want) <= 1e-9*(1+math.Abs(v.want))) {
			t.Errorf("%s: %.12g, want %.12g", v.name, v.got, v.want)
		}
	}
}

// 10 A on one leg and 4 A on the other of a cord of 0.25 ohm a conductor, behind 0.1 ohm a
// conductor: 6 A return in the neutral. Leg 1 drops 10 A and 6 A times each, leg 2 is lifted by 2 A.
func TestReportOfLegs(t *testing.T) {
	n := splitPhase(10, 4)
	n.Supplies[0].SourceImpedance = 0.2 // of a leg and the neutral
	n.Runs[0].Ampacity = 16
	n.Loads[0].Inrush, n.Loads[1].Leakage = 8, 0.0005
	r := solve(t, n)
	s, cord, first, second := r.Supplies[0], r.Runs[0], r.Loads[0], r.Loads[1]
	check(t, []value{
		{"volts at the outlet, of the leg that drops most", s.Volts, 120 - 1.6},
		{"drop at the outlet", s.Drop, 1.6 / 120},
		{"run drop at the outlet", s.RunDrop, 0},
		{"watts at the outlet", s.Watts, (120-1.6)*10 + (120+0.2)*4},
		{"volt-amperes at the outlet", s.VA, (120-1.6)*10 + (120+0.2)*4},
		{"neutral", s.NeutralAmps, 6},
		{"current of the fuller leg", s.Amps, 10},
		{"continuous", s.ContinuousAmps, 10},
		{"noncontinuous", s.NoncontinuousAmps, 0},
		{"breaker", s.RequiredBreaker, 12.5},
		{"leakage", s.LeakageAmps, 0.0005},
		{"inrush on leg 1", s.Legs[0].Inrush, 80},
		{"inrush on leg 2", s.Legs[1].Inrush, 4},
		{"volts of the cord", cord.Volts, 120 - 1.6 - 4},
		{"nominal volts of the cord", cord.Nominal, 120},
		{"drop of the cord", cord.Drop, 5.6 / 120},
		{"run drop of the cord", cord.RunDrop, 4.0 / 120},
		{"loop of the cord", real(cord.Loop), 0.5},
		{"loading of the cord", cord.Loading, 10.0 / 16},
		{"loss of the cord", cord.LossWatts, 0.25 * (100 + 16 + 36)},
		{"volts of the first lamp", first.Volts, 120 - 5.6},
		{"watts of the first lamp", first.Watts, (120 - 5.6) * 10},
		{"volt-amperes of the first lamp", first.VA, (120 - 5.6) * 10},
		{"current of the first lamp", first.Amps, 10},
		{"volts of the second lamp", second.Volts, 120 + 0.2 + 0.5},
		{"drop of the second lamp", second.Drop, -0.7 / 120},
		{"run drop of the second lamp", second.RunDrop, -0.5 / 120},
	})
	tree, err := compile(&n)
	if err != nil {
		t.Fatal(err)
	}
	c := newCircuit(tree, 0)
	if !c.solve() || math.Abs(c.sourceVA()-120*14) > 1e-6 {
		t.Errorf("%g VA out of the source, which the residual is a part of; want 120 V of 10 A and of 4 A", c.sourceVA())
	}
	if len(cord.LegAmps) != 3 {
		t.Fatalf("currents %v, want those of two legs and the neutral", cord.LegAmps)
	}
	check(t, []value{{"leg 1", cord.LegAmps[0], 10}, {"leg 2", cord.LegAmps[1], 4}, {"neutral", cord.LegAmps[2], 6}})
	// 13 A for a short while ask for more than 10 A for long.
	n.Loads[1].Amps, n.Loads[1].Hours = 13, 1
	s = solve(t, n).Supplies[0]
	check(t, []value{{"continuous", s.ContinuousAmps, 0}, {"noncontinuous", s.NoncontinuousAmps, 13}, {"breaker", s.RequiredBreaker, 13}})
}

// A cord of two wires tells of its own leg, whatever the others drop: 10 A on leg 2 lift leg 1.
func TestReportOfTwoWiresOnALeg(t *testing.T) {
	n := splitPhase(1e-9, 10)
	for _, c := range []struct {
		leg            Leg
		volts, nominal float64
	}{{Leg1, 122.5, 120}, {Leg2, 115, 120}, {Legs12, 237.5, 240}} {
		n.Runs = append(n.Runs[:1], Run{Name: "tail", From: "cord", Length: 5, Resistance: 0.02, Leg: c.leg})
		tail := solve(t, n).Runs[1]
		if math.Abs(tail.Volts-c.volts) > 1e-8 || tail.Nominal != c.nominal || math.Abs(tail.Drop-(1-c.volts/c.nominal)) > 1e-9 {
			t.Errorf("on %s: %g of %g V, drop %g; want %g of %g", c.leg, tail.Volts, tail.Nominal, tail.Drop, c.volts, c.nominal)
		}
	}
}

// The residual tells of a solution that does not add up: 11 A out of the source, spoilt by hand, and a load that
// takes 10 A of them, leave one part in eleven, on two wires as in three phases. Without loads it is nothing.
func TestResidualTells(t *testing.T) {
	for _, phases := range []int{1, 3} {
		n := Network{
			Supplies: []Supply{{Name: "s", Volts: 400, Phases: phases}},
			Runs:     []Run{{Name: "cord", From: "s", Length: 10}},
			Loads:    []Load{{Name: "load", On: "cord", Kind: ConstantCurrent, Amps: 10, PowerFactor: 1, Count: 1}},
		}
		tree, err := compile(&n)
		if err != nil {
			t.Fatal(err)
		}
		c := newCircuit(tree, 0)
		r := &Result{Supplies: make([]SupplyResult, 1), Runs: make([]RunResult, 1), Loads: make([]LoadResult, 1)}
		r.Supplies[0].Solved, r.Supplies[0].Legs = c.solve(), make([]LegLoad, 1)
		c.amps[0][0] = 11
		tree.report(r, []*circuit{c})
		check(t, []value{{"residual", r.Supplies[0].Residual, 1. / 11}})
		n.Loads = nil
		if idle := solve(t, n); finiteAll(reflect.ValueOf(idle), "idle") != "" || idle.Supplies[0].Residual != 0 {
			t.Errorf("%d phases without loads: %+v", phases, idle.Supplies[0])
		}
	}
}

// A heater from leg to leg, 10 A at the angle of the supply, on 0.25 ohm in each leg: 235 V and 2350 W of 240 V.
// And a heater on all three legs of a supply takes its whole power whatever else one leg carries.
func TestReportFromLegToLeg(t *testing.T) {
	n := splitPhase(1, 1)
	n.Loads = []Load{{Name: "heater", On: "cord", Leg: Legs12, Kind: ConstantCurrent, Amps: 10, PowerFactor: 1, Count: 1, FromSupply: true}}
	heater := solve(t, n).Loads[0]
	check(t, []value{{"amps", heater.Amps, 10}, {"volts", heater.Volts, 235}, {"nominal", heater.Nominal, 240}, {"watts", heater.Watts, 2350}, {"volt-amperes", heater.VA, 2350}})

	n.Supplies[0] = Supply{Name: "panel", Volts: 400, Phases: 3}
	n.Loads = []Load{
		{Name: "heater", On: "cord", Kind: ConstantPower, Watts: 9000, PowerFactor: 0.9, Count: 1},
		{Name: "lamp", On: "cord", Leg: Leg2, Kind: ConstantPower, Watts: 1000, PowerFactor: 1, Count: 1},
	}
	heater = solve(t, n).Loads[0]
	check(t, []value{{"watts on three legs", heater.Watts, 9000}, {"volt-amperes on three legs", heater.VA, 10000}})
}

// Where legs differ, a place is told by the connection that has dropped most: with 10 A on leg 1 alone, that is leg 1
// to neutral, which loses 2 x 0.25 ohm x 10 A, be the legs two or three.
func TestReportOfTheWorstConnection(t *testing.T) {
	for _, c := range []struct {
		supply  Supply
		nominal float64
	}{{Supply{Name: "panel", Volts: 240, Phases: 1, SplitPhase: true}, 120}, {Supply{Name: "panel", Volts: 400, Phases: 3}, 400 / math.Sqrt(3)}} {
		n := splitPhase(10, 1e-9)
		n.Supplies[0] = c.supply
		cord := solve(t, n).Runs[0]
		check(t, []value{
			{"nominal", cord.Nominal, c.nominal}, {"volts", cord.Volts, c.nominal - 5}, {"drop", cord.Drop, 5 / c.nominal}, {"run drop", cord.RunDrop, 5 / c.nominal},
		})
	}
}

// 16 A at a power factor of 0.8 in each phase of a feeder of 0.368 ohm and 0.05 ohm of contacts.
func TestReportOfBalancedPhases(t *testing.T) {
	n := Network{
		Supplies: []Supply{{Name: "s", Volts: 400, Phases: 3}},
		Runs:     []Run{{Name: "feeder", From: "s", Length: 80, Resistance: 0.0046, Contact: 0.05, Ampacity: 20}},
		Loads:    []Load{{Name: "heaters", On: "feeder", Kind: ConstantCurrent, Amps: 16, PowerFactor: 0.8, Count: 1, FromSupply: true, Inrush: 3}},
	}
	r := solve(t, n)
	s, feeder, load := r.Supplies[0], r.Runs[0], r.Loads[0]
	end := complex(400/math.Sqrt(3), 0) - 0.418*cmplx.Rect(16, -math.Acos(0.8)) // of one phase
	at := end * cmplx.Rect(16, math.Acos(0.8))                                  // power of one phase
	check(t, []value{
		{"watts at the outlet", s.Watts, math.Sqrt(3) * 400 * 16 * 0.8},
		{"volt-amperes at the outlet", s.VA, math.Sqrt(3) * 400 * 16},
		{"line current", s.Amps, 16},
		{"neutral", s.NeutralAmps, 0},
		{"continuous", s.ContinuousAmps, 16},
		{"inrush", s.Legs[0].Inrush, 48},
		{"line to line at the end", feeder.Volts, math.Sqrt(3) * cmplx.Abs(end)},
		{"nominal", feeder.Nominal, 400},
		{"drop", feeder.Drop, 1 - math.Sqrt(3)*cmplx.Abs(end)/400},
		{"run drop", feeder.RunDrop, 1 - math.Sqrt(3)*cmplx.Abs(end)/400},
		{"residual", s.Residual, 0},
		{"loop, of one phase", real(feeder.Loop), 0.418},
		{"loss", feeder.LossWatts, 3 * 256 * 0.418},
		{"loading", feeder.Loading, 0.8},
		{"line to line at the load", load.Volts, math.Sqrt(3) * cmplx.Abs(end)},
		{"watts of the load", load.Watts, 3 * real(at)},
		{"volt-amperes of the load", load.VA, 3 * cmplx.Abs(at)},
	})
	if len(s.Legs) != 1 || feeder.LegAmps != nil {
		t.Errorf("legs %+v, currents %v: balanced phases are one", s.Legs, feeder.LegAmps)
	}
}

// The loop that a fault closes, added up by hand along two cords.
func TestFaultLoops(t *testing.T) {
	runs := []Run{
		{Name: "reel", From: "s", Length: 40, Resistance: 0.008, Reactance: 0.0001, Contact: 0.02},
		{Name: "cord", From: "reel", Length: 10, Resistance: 0.02, Reactance: 0.0002, Contact: 0.01},
	}
	for _, c := range []struct {
		name       string
		s          Supply
		reel, cord complex128
		volts      float64
	}{
		{"one phase", Supply{Volts: 230, Phases: 1, SourceImpedance: complex(0.3, 0.1)},
			complex(0.3+0.64+0.02, 0.1+0.008), complex(0.3+0.64+0.02+0.4+0.01, 0.1+0.008+0.004), 230},
		{"direct current", Supply{Volts: 48, Phases: 1, DC: true, SourceImpedance: 0.3}, 0.96, 1.37, 48},
		{"split phase", Supply{Volts: 240, Phases: 1, SplitPhase: true, SourceImpedance: 0.3},
			complex(0.96, 0.008), complex(1.37, 0.012), 120},
		// The source and the connectors are given for one phase, and count out and back.
		{"three phases", Supply{Volts: 400, Phases: 3, SourceImpedance: 0.3},
			complex(0.6+0.64+0.04, 0.008), complex(0.6+0.64+0.04+0.4+0.02, 0.012), 400 / math.Sqrt(3)},
	} {
		c.s.Name = "s"
		// Another supply before it, so that nothing counts from the first.
		loops, err := FaultLoops(Network{Supplies: []Supply{{Name: "other", Volts: 230, Phases: 1}, c.s}, Runs: runs})
		if err != nil {
			t.Fatal(err)
		}
		for k, want := range []complex128{c.reel, c.cord} {
			if cmplx.Abs(loops[k]-want) > 1e-12 {
				t.Errorf("%s, %s: %v ohm, want %v", c.name, runs[k].Name, loops[k], want)
			}
		}
		check(t, []value{{c.name + ", volts that drive the fault", c.s.FaultVolts(), c.volts}})
	}
}

// Each limit gives its own reason, with the number that breaks it: 10 A through 0.5 ohm of a loop drop
// 5 V of 100 V, behind 2 V at the source.
func TestReasonsInNumbers(t *testing.T) {
	thin := []Conductor{{"thin", 0.025, 0, 16, 1e-6}}
	for _, c := range []struct {
		what   string
		change func(n *Network, limit *DropLimit)
		want   string
	}{
		{"all hold", func(*Network, *DropLimit) {}, ""},
		{"beyond the outlet", func(_ *Network, l *DropLimit) { l.Branch = 0.04 }, `thin: drops 5.00 % at "lamp", limit 4.00 %`},
		{"in all", func(_ *Network, l *DropLimit) { l.Total = 0.06 }, `thin: drops 7.00 % in all at "lamp", limit 6.00 %`},
		{"by the lamp", func(n *Network, _ *DropLimit) { n.Loads[0].MaxDrop = 0.03 }, `thin: drops 5.00 % at "lamp", limit 3.00 %`},
		{"by the lamp in all", func(n *Network, _ *DropLimit) { n.Loads[0].MaxTotal = 0.03 }, `thin: drops 7.00 % in all at "lamp", limit 3.00 %`},
		{"least voltage", func(n *Network, _ *DropLimit) { n.Loads[0].MinVolts = 94 }, `thin: leaves 93.0 V at "lamp", which needs 94.0 V`},
		{"more than there is", func(n *Network, _ *DropLimit) { n.Loads[0].MinVolts = 101 }, `thin: leaves 93.0 V at "lamp", which needs 101.0 V`},
		{"all there is, of which nothing is lost", func(n *Network, _ *DropLimit) {
			n.Loads[0].MinVolts, n.Loads[0].Amps = 100, 1e-9
			n.Supplies[0].SourceImpedance = 0
			n.Runs[0].Length = 0
		}, ""},
		{"ampacity", func(n *Network, _ *DropLimit) { n.Loads[0].Amps = 17 }, `thin: carries 17.0 A, ampacity 16.0 A`},
		{"fault loop", func(n *Network, _ *DropLimit) { n.Supplies[0].MaxFaultLoop = 0.6 }, `thin: a fault at the far end of "cord" meets 0.700 ohm, limit 0.600 ohm`},
		{"all kept to the last digit", func(n *Network, l *DropLimit) {
			l.Branch, l.Total, n.Loads[0].MinVolts, n.Supplies[0].MaxFaultLoop = 0.05+1e-12, 0.07+1e-12, 93-1e-9, 0.7+1e-12
			n.Loads[0].Amps = 10
		}, ""},
	} {
		n := lamp(100, 0, 10, 0)
		n.Supplies[0].SourceImpedance = 0.2
		n.Loads[0].Kind, n.Loads[0].Amps = ConstantCurrent, 10
		limit := DropLimit{0.2, 0.2}
		c.change(&n, &limit)
		g, err := LeastGauge(n, "cord", thin, limit)
		if err != nil {
			t.Fatal(err)
		}
		if g.Reason != c.want || g.OK != (c.want == "") {
			t.Errorf("%s: OK %v, %q, want %q", c.what, g.OK, g.Reason, c.want)
		}
	}
	// No drop at all keeps a limit of nothing.
	if g, err := LeastGauge(lamp(100, 0, 0, 10), "cord", []Conductor{{"short", 0.025, 0, 16, 1e-6}}, DropLimit{}); err != nil || !g.OK {
		t.Errorf("%+v, %v", g, err)
	}
	// Without an ampacity nothing is said to hold, even where nothing is plugged in.
	idle := lamp(100, 0, 10, 10)
	idle.Loads[0].On = "outlet"
	if g, err := LeastGauge(idle, "cord", []Conductor{{"thin", 0.025, 0, 0, 1e-6}}, DropLimit{0.5, 0.5}); err != nil || g.OK || g.Reason != "thin: ampacity unknown" {
		t.Errorf("%+v, %v", g, err)
	}
	if g, err := LeastGauge(lamp(100, 0, 10, 10), "cord", []Conductor{{"thin", 0.025, 0, 0, 1e-6}}, DropLimit{0.5, 0.5}); err != nil || g.OK || g.Reason != "thin: ampacity unknown" {
		t.Errorf("%+v, %v", g, err)
	}
}

// The longest run by hand: the loop may take 4 V at 10 A, 0.4 ohm, of which the contacts take 0.1.
func TestLongestRunByHand(t *testing.T) {
	n := lamp(100, 0.025, 1, 0)
	n.Runs[0].Contact, n.Runs[0].Ampacity = 0.1, 16
	n.Loads[0].Kind, n.Loads[0].Amps = ConstantCurrent, 10
	for _, c := range []struct {
		limit  DropLimit
		length float64
		reason string
	}{
		{DropLimit{0.04, 0.5}, 6, `drops 4.00 % at "lamp"`},
		{DropLimit{0.5, 0.04}, 6, `drops 4.00 % in all at "lamp"`},
	} {
		most, err := LongestRun(n, "cord", c.limit)
		if err != nil || !most.OK || math.Abs(most.Length-c.length) > 1e-8*(1+c.length) || !strings.HasPrefix(most.Reason, c.reason) {
			t.Errorf("%+v: %+v, %v, want %g m", c.limit, most, err, c.length)
		}
	}
	if most, err := LongestRun(n, "cord", DropLimit{0.009, 0.5}); err != nil || most.OK || !strings.HasPrefix(most.Reason, `drops 1.00 %`) {
		t.Errorf("contacts that take more than the limit: %+v, %v", most, err)
	}
	// What feeds nothing may be as long as any.
	n.Loads[0].On = "outlet"
	n.Runs[0].Ampacity = 1
	if most, err := LongestRun(n, "cord", DropLimit{0.04, 0.5}); err != nil || most != (Longest{Length: 1e6, OK: true}) {
		t.Errorf("a cord without a load: %+v, %v", most, err)
	}
}

// LongestRuns is LongestRun with each conductor in turn, of every supply, and refuses what that does.
func TestLongestRunsIsEachLongestRun(t *testing.T) {
	n := festival()
	n.Supplies, n.Runs, n.Loads = n.Supplies[:3], n.Runs[:12], n.Loads[:30]
	limit := DropLimit{NECBranchDrop, NECTotalDrop}
	lists := make([][]Conductor, len(n.Runs))
	for k := range lists {
		lists[k] = cords[1:]
	}
	all, err := LongestRuns(n, lists, limit)
	if err != nil {
		t.Fatal(err)
	}
	for k := range n.Runs {
		for i, c := range lists[k] {
			m := n
			m.Runs = slices.Clone(n.Runs)
			m.Runs[k].Resistance, m.Runs[k].Reactance, m.Runs[k].Ampacity = c.Resistance, c.Reactance, c.Ampacity
			one, err := LongestRun(m, m.Runs[k].Name, limit)
			if err != nil {
				t.Fatal(err)
			}
			if all[k][i] != one {
				t.Errorf("%s of %s: %+v, alone %+v", m.Runs[k].Name, c.Name, all[k][i], one)
			}
		}
	}
	for name, f := range map[string]func() error{
		"too few lists":       func() error { _, err := LongestRuns(n, lists[1:], limit); return err },
		"a limit of 1":        func() error { _, err := LongestRuns(n, lists, DropLimit{1, 0.05}); return err },
		"a limit of 1 in all": func() error { _, err := LongestRuns(n, lists, DropLimit{0.05, 1}); return err },
		"a bad cord": func() error {
			bad := slices.Clone(lists)
			bad[3] = []Conductor{{"bad", -1, 0, 5, 0}}
			_, err := LongestRuns(n, bad, limit)
			return err
		},
		"thick before thin": func() error {
			bad := slices.Clone(lists)
			bad[3] = []Conductor{cords[3], cords[1]}
			_, err := Sizes(n, bad, limit)
			return err
		},
		"less copper with less resistance": func() error {
			bad := slices.Clone(lists)
			bad[3] = []Conductor{{"a", 0.01, 0, 9, 2e-6}, {"b", 0.009, 0, 9, 1e-6}}
			_, err := Sizes(n, bad, limit)
			return err
		},
		"too few lists of sizes": func() error { _, err := Sizes(n, lists[1:], limit); return err },
		"an empty list": func() error {
			bad := slices.Clone(lists)
			bad[3] = nil
			_, err := Sizes(n, bad, limit)
			return err
		},
	} {
		if f() == nil {
			t.Errorf("%s: no error", name)
		}
	}
	// Two of one size are no mistake.
	twins := slices.Clone(lists)
	twins[3] = []Conductor{cords[3], cords[3]}
	if _, err := Sizes(n, twins, limit); err != nil {
		t.Error(err)
	}
}
