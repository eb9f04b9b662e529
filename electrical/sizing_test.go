package electrical

import (
	"fmt"
	"math"
	"math/cmplx"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// Flexible copper cords at 60 degC in ohm/m (IEC 60228 class 5 at 20 degC, by 1.157) with
// ampacities of BS 7671 table 4F3A.
var cords = []Conductor{
	{"0.75 mm2", 26.0e-3 * 1.157, 8e-5, 6, 0.75e-6},
	{"1.0 mm2", 19.5e-3 * 1.157, 8e-5, 10, 1e-6},
	{"1.5 mm2", 13.3e-3 * 1.157, 8e-5, 16, 1.5e-6},
	{"2.5 mm2", 7.98e-3 * 1.157, 8e-5, 25, 2.5e-6},
	{"4 mm2", 4.95e-3 * 1.157, 8e-5, 32, 4e-6},
}

func TestLeastGaugeReasons(t *testing.T) {
	n := lamp(230, 0, 0, 2300)
	limit := DropLimit{IECLightingDrop, IECLightingDrop}
	at := func(length float64) Gauge {
		t.Helper()
		n.Runs[0].Length = length
		g, err := LeastGauge(n, "cord", cords, limit)
		if err != nil {
			t.Fatal(err)
		}
		return g
	}
	for _, c := range []struct {
		length       float64
		name, reason string
	}{
		{1, "1.5 mm2", "1.0 mm2: carries 10.0 A, ampacity 10.0 A"},
		{30, "2.5 mm2", "1.5 mm2: drops 4.19 %"},
		{100, "", "4 mm2: drops 5.26 %"},
		{3000, "", "4 mm2: cannot carry the loads at any voltage"},
	} {
		g := at(c.length)
		if g.OK != (c.name != "") || g.Conductor.Name != c.name || !strings.HasPrefix(g.Reason, c.reason) {
			t.Errorf("%g m: %+v, want %q because %q", c.length, g, c.name, c.reason)
		}
	}
	n.Loads[0].MinVolts = 229.85
	if g := at(1); g.Conductor.Name != "4 mm2" || !strings.Contains(g.Reason, "leaves") {
		t.Errorf("least voltage: %+v", g)
	}
	for _, bad := range []struct {
		run   string
		cords []Conductor
		limit DropLimit
	}{
		{"nothing", cords, limit},
		{"cord", nil, limit},
		{"cord", cords, DropLimit{-1, 0.05}},
		{"cord", []Conductor{{"negative", -1, 0, 5, 0}}, limit},
	} {
		if g, err := LeastGauge(n, bad.run, bad.cords, bad.limit); err == nil {
			t.Errorf("%+v: %+v, want an error", bad, g)
		}
	}
}

// Drops from leg to leg are counted of the voltage between the legs: 10 A through 2 x 0.25 ohm take 5 of 240 V.
func TestLeastGaugeFromLegToLeg(t *testing.T) {
	n := splitPhase(1, 1)
	n.Loads = []Load{{Name: "heater", On: "cord", Leg: Legs12, Kind: ConstantCurrent, Amps: 10, PowerFactor: 1, Count: 1, FromSupply: true}}
	for limit, want := range map[float64]string{0.02: `thin: drops 2.08 % at "heater", limit 2.00 %`, 0.021: ""} {
		g, err := LeastGauge(n, "cord", []Conductor{{"thin", 0.005, 0, 10, 1e-6}}, DropLimit{limit, 0.5})
		if err != nil || g.Reason != want || g.OK != (want == "") { // and 10 A are just carried
			t.Errorf("limit %g: %+v, %v, want %q", limit, g, err, want)
		}
	}
}

// The choice is the first of all cords with which a plain solution of the whole network
// holds at the run and at every load below it.
func TestLeastGaugeAgainstTrying(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := network(t, false, allKinds...)
		other := n.Supplies[0]
		other.Name = "other"
		n.Supplies = append(n.Supplies, other)
		n.Runs = append(n.Runs, Run{Name: "elsewhere", From: "other", Length: 5, Resistance: 0.01})
		k := rapid.IntRange(0, len(n.Runs)-1).Draw(t, "run")
		limit := DropLimit{Branch: rapid.Float64Range(0.002, 0.03).Draw(t, "branch")}
		limit.Total = limit.Branch * rapid.Float64Range(0.7, 1.7).Draw(t, "total")
		fed := []string{n.Runs[k].Name}
		for range n.Runs {
			for _, r := range n.Runs {
				if slices.Contains(fed, r.From) && !slices.Contains(fed, r.Name) {
					fed = append(fed, r.Name)
				}
			}
		}
		want := ""
		for _, c := range cords {
			n.Runs = slices.Clone(n.Runs)
			n.Runs[k].Resistance, n.Runs[k].Reactance = c.Resistance, c.Reactance
			res := solve(t, n)
			holds := res.Runs[k].Solved && res.Runs[k].Amps <= c.Ampacity
			for i, l := range n.Loads {
				if slices.Contains(fed, l.On) && (res.Loads[i].RunDrop > limit.Branch || res.Loads[i].Drop > limit.Total) {
					holds = false
				}
			}
			if holds {
				want = c.Name
				break
			}
		}
		g, err := LeastGauge(n, n.Runs[k].Name, cords, limit)
		if err != nil {
			t.Fatal(err)
		}
		if g.Conductor.Name != want || g.OK != (want != "") {
			t.Errorf("%+v, want %q", g, want)
		}
	})
}

// legs gives a network several legs, and its runs and loads connections to them.
func legs(t *rapid.T, n Network) Network {
	s := &n.Supplies[0]
	s.DC = false
	if rapid.Bool().Draw(t, "split") {
		s.SplitPhase, s.Volts = true, 240
	} else {
		s.Phases, s.Volts = 3, 400
	}
	fed := map[string]Leg{"s": Whole}
	draw := func(from string) Leg {
		if l := fed[from]; l != Whole {
			return Whole
		}
		for {
			if l := Leg(rapid.IntRange(0, 6).Draw(t, "leg")); s.has(l) {
				return l
			}
		}
	}
	for k := range n.Runs {
		r := &n.Runs[k]
		r.Leg = draw(r.From)
		fed[r.Name] = max(r.Leg, fed[r.From])
	}
	for i := range n.Loads {
		n.Loads[i].Leg = draw(n.Loads[i].On)
	}
	return n
}

// Sizes is the cheapest of all combinations that hold.
func TestSizesAgainstBruteForce(t *testing.T) {
	tried, tight, none := 0, 0, 0
	tree := func(t *rapid.T) {
		tried++
		n := network(t, rapid.Bool().Draw(t, "dc"), allKinds...)
		n.Runs = n.Runs[:min(len(n.Runs), 6)]
		n.Loads = slices.DeleteFunc(n.Loads, func(l Load) bool {
			return l.On != "s" && !slices.ContainsFunc(n.Runs, func(r Run) bool { return r.Name == l.On })
		})
		if rapid.IntRange(0, 3).Draw(t, "several legs") == 0 {
			n.Runs = n.Runs[:min(len(n.Runs), 3)]
			n.Loads = slices.DeleteFunc(n.Loads, func(l Load) bool {
				return l.On != "s" && !slices.ContainsFunc(n.Runs, func(r Run) bool { return r.Name == l.On })
			})
			n = legs(t, n)
		}
		for k := range n.Runs {
			n.Runs[k].Length *= rapid.Float64Range(4, 14).Draw(t, "stretch")
		}
		if rapid.Bool().Draw(t, "fault") {
			n.Supplies[0].MaxFaultLoop = rapid.Float64Range(0.5, 5).Draw(t, "loop")
		}
		limit := DropLimit{Branch: rapid.Float64Range(0.002, 0.03).Draw(t, "branch")}
		limit.Total = limit.Branch * rapid.Float64Range(0.9, 1.7).Draw(t, "total")
		lists := make([][]Conductor, len(n.Runs))
		for k := range lists {
			lists[k] = cords
		}
		got, err := Sizes(n, lists, limit)
		if err != nil {
			t.Fatal(err)
		}
		best, found := cheapest(t, n, limit)
		if len(n.Runs) == 0 {
			return
		}
		if !found {
			none++
			if got[0].OK || !got[0].Proven || got[0].Reason == "" {
				t.Errorf("%+v, and no combination holds", got[0])
			}
			return
		}
		cost := 0.0
		for k, g := range got {
			if !g.OK || !g.Proven {
				t.Fatalf("%s: %+v, and %g m3 of copper holds", n.Runs[k].Name, g, best)
			}
			cost += g.Conductor.Area * n.Runs[k].Length
			if g.Conductor.Name != cords[0].Name {
				tight++
			}
		}
		if math.Abs(cost-best) > 1e-9*best {
			t.Errorf("%g m3 of copper, and %g holds", cost, best)
		}
	}
	for tried < 200 {
		rapid.Check(t, tree)
		if t.Failed() {
			return
		}
	}
	t.Logf("%d trees, %d runs above the thinnest, %d trees that nothing holds", tried, tight, none)
	if tight < 100 || none < 10 {
		t.Errorf("%d trees, %d runs above the thinnest, %d trees that nothing holds: too few to show anything", tried, tight, none)
	}
}

// What just holds is found: the limits are set to what some choice of cords uses, so that the answer takes no more
// copper than that choice.
func TestSizesFindsWhatJustHolds(t *testing.T) {
	tried := 0
	rapid.Check(t, func(t *rapid.T) {
		n := network(t, rapid.Bool().Draw(t, "dc"), allKinds...)
		n.Runs = n.Runs[:min(len(n.Runs), 4)]
		n.Loads = slices.DeleteFunc(n.Loads, func(l Load) bool {
			return l.On != "s" && !slices.ContainsFunc(n.Runs, func(r Run) bool { return r.Name == l.On })
		})
		if rapid.IntRange(0, 3).Draw(t, "several legs") == 0 {
			n = legs(t, n)
		}
		lists, cost := make([][]Conductor, len(n.Runs)), 0.0
		for k := range n.Runs {
			lists[k] = slices.Clone(cords)
			for i := range lists[k] {
				lists[k][i].Ampacity = 1000
			}
			r, c := &n.Runs[k], lists[k][rapid.IntRange(0, len(cords)-1).Draw(t, "cord")]
			r.Length *= rapid.Float64Range(1, 10).Draw(t, "stretch")
			r.Resistance, r.Reactance, r.Ampacity = c.Resistance, c.Reactance, c.Ampacity
			cost += c.Area * r.Length
		}
		res := solve(t, n)
		loops, err := FaultLoops(n)
		if err != nil {
			t.Fatal(err)
		}
		var limit DropLimit
		for i, l := range res.Loads {
			if limit.Total = math.Max(limit.Total, l.Drop*(1+1e-9)); n.Loads[i].On != "s" {
				limit.Branch = math.Max(limit.Branch, l.RunDrop*(1+1e-9))
			}
		}
		if rapid.Bool().Draw(t, "fault") {
			for _, z := range loops {
				n.Supplies[0].MaxFaultLoop = math.Max(n.Supplies[0].MaxFaultLoop, cmplx.Abs(z)*(1+1e-9))
			}
		}
		if !res.Converged || limit.Total > 0.25 || limit.Branch == 0 {
			return
		}
		tried++
		got, err := Sizes(n, lists, limit)
		if err != nil {
			t.Fatal(err)
		}
		least := 0.0
		for k, g := range got {
			if !g.OK || !g.Proven {
				t.Fatalf("%s: %+v, and what is there holds", n.Runs[k].Name, g)
			}
			least += g.Conductor.Area * n.Runs[k].Length
		}
		if least > cost*(1+1e-9) {
			t.Errorf("%g m3 of copper, and %g holds", least, cost)
		}
	})
	if tried < 50 {
		t.Errorf("%d networks: too few to show anything", tried)
	}
}

// A cord that just keeps to a limit is chosen, and a hair below its drop the next one is, whatever kind of load it
// feeds, and be the limit that of all loads or the load's own.
func TestSizesToTheLimit(t *testing.T) {
	for _, kind := range allKinds {
		for _, dc := range []bool{false, true} {
			for _, own := range []bool{false, true} {
				for i, c := range cords {
					n := lamp(230, c.Resistance, 20, 900)
					n.Supplies[0].DC = dc
					n.Runs[0].Reactance = c.Reactance
					n.Loads[0].Kind, n.Loads[0].Amps, n.Loads[0].PowerFactor = kind, 4, 0.9
					drop := solve(t, n).Loads[0].Drop
					for _, beside := range []float64{1e-9, -1e-6} {
						want, most := i, drop*(1+beside)
						if beside < 0 {
							want++
						}
						limit := DropLimit{most, most}
						if own {
							limit, n.Loads[0].MaxDrop, n.Loads[0].MaxTotal = DropLimit{0.001, 0.001}, most, most
						}
						got, err := Sizes(n, [][]Conductor{cords}, limit)
						if err != nil {
							t.Fatal(err)
						}
						if g := got[0]; g.OK != (want < len(cords)) || g.OK && g.Conductor.Name != cords[want].Name || !g.Proven {
							t.Errorf("%s, dc %v, own limit %v, to %+g of the drop of %s: %+v", kind, dc, own, beside, c.Name, g)
						}
					}
				}
			}
		}
	}
}

// Circuits of up to 18 runs, each feeding a lamp and two further runs, are sized within the choices that are allowed,
// out of 5^18; one of 20 under a hard limit is not, and says so. What is chosen holds either way.
func TestSizesOfLargeCircuits(t *testing.T) {
	random := uint32(0)
	next := func() float64 { random = random*1664525 + 1013904223; return float64(random>>8) / (1 << 24) }
	for _, c := range []struct {
		runs   int
		dc     bool
		limit  float64
		proven bool
	}{{14, false, 0.006, true}, {16, true, 0.006, true}, {16, true, 0.01, true}, {16, false, 0.006, true}, {16, false, 0.01, true}, {18, true, 0.01, true}, {20, true, 0.01, false}} {
		random = 3
		n := Network{Supplies: []Supply{{Name: "s", Volts: 230, DC: c.dc, Phases: 1}}}
		lists := make([][]Conductor, c.runs)
		for k := range lists {
			name, from := fmt.Sprint("r", k), "s"
			if k > 0 {
				from = fmt.Sprint("r", (k-1)/2)
			}
			n.Runs = append(n.Runs, Run{Name: name, From: from, Length: 4 + 10*next()})
			n.Loads = append(n.Loads, Load{Name: name, On: name, Kind: allKinds[k%3], Watts: 40 + 100*next(), Amps: 0.2 + 0.4*next(), PowerFactor: 0.9, Count: 1})
			lists[k] = cords
		}
		got, err := Sizes(n, lists, DropLimit{c.limit, c.limit})
		if err != nil {
			t.Fatal(err)
		}
		for k, g := range got {
			if !g.OK || g.Proven != c.proven {
				t.Fatalf("%+v: %s: %+v", c, n.Runs[k].Name, g)
			}
			n.Runs[k].Resistance, n.Runs[k].Reactance = g.Conductor.Resistance, g.Conductor.Reactance
		}
		for _, l := range solve(t, n).Loads {
			if l.Drop > c.limit {
				t.Errorf("%+v: %s drops %g", c, l.Name, l.Drop)
			}
		}
	}
}

// A thin cord that legs share lifts the leg with less on it: 20 A on leg 1 and 1 A on leg 2 put 19 A into the neutral,
// so that of 0.2 ohm in each conductor leg 2 has 120 + 18 x 0.2 V, and less of 0.02 ohm. Behind a thin tail of 1.5
// ohm in each wire the lamp there has 120.6 V with the thin cord, and 117.36 V with the thick one, which is too little;
// so the least copper is thin in both.
func TestSizesWhereThinLifts(t *testing.T) {
	n := splitPhase(20, 1)
	n.Runs[0].Length = 10
	n.Runs = append(n.Runs, Run{Name: "tail", From: "cord", Length: 10, Leg: Leg2})
	n.Loads[0].MaxDrop, n.Loads[0].MaxTotal = 0.2, 0.2
	n.Loads[1].On, n.Loads[1].Leg = "tail", Whole
	got, err := Sizes(n, [][]Conductor{
		{{"thin", 0.02, 0, 30, 1e-6}, {"thick", 0.002, 0, 30, 1e-5}},
		{{"thin", 0.15, 0, 30, 1e-6}, {"thick", 0.01, 0, 30, 1e-5}},
	}, DropLimit{0.01, 0.01})
	if err != nil {
		t.Fatal(err)
	}
	for k, g := range got {
		if !g.OK || g.Conductor.Name != "thin" {
			t.Errorf("%s: %+v, want it thin", n.Runs[k].Name, g)
		}
	}
	thick := n
	thick.Runs = slices.Clone(n.Runs)
	thick.Runs[0].Resistance, thick.Runs[1].Resistance = 0.002, 0.15
	if v := solve(t, thick).Loads[1].Volts; math.Abs(v-117.36) > 1e-6 {
		t.Errorf("behind the thick cord %g V, want 117.36", v)
	}
}

// cheapest tries every combination of cords by plain solutions of the network.
func cheapest(t *rapid.T, n Network, limit DropLimit) (best float64, found bool) {
	n.Runs = slices.Clone(n.Runs)
	choice := make([]int, len(n.Runs))
	for {
		cost := 0.0
		for k, i := range choice {
			c := cords[i]
			r := &n.Runs[k]
			r.Resistance, r.Reactance, r.Ampacity = c.Resistance, c.Reactance, c.Ampacity
			cost += c.Area * r.Length
		}
		if !found || cost < best {
			if holds(t, n, limit) {
				best, found = cost, true
			}
		}
		k := 0
		for k < len(choice) && choice[k] == len(cords)-1 {
			choice[k] = 0
			k++
		}
		if k == len(choice) {
			return best, found
		}
		choice[k]++
	}
}

// holds checks every limit of a network on its plain solution.
func holds(t *rapid.T, n Network, limit DropLimit) bool {
	res := solve(t, n)
	if !res.Converged {
		return false
	}
	loops, err := FaultLoops(n)
	if err != nil {
		t.Fatal(err)
	}
	for k, r := range res.Runs {
		if r.Amps > n.Runs[k].Ampacity || n.Supplies[0].MaxFaultLoop > 0 && cmplx.Abs(loops[k]) > n.Supplies[0].MaxFaultLoop {
			return false
		}
	}
	for i, l := range res.Loads {
		if n.Loads[i].On != "s" && l.RunDrop > limit.Branch || l.Drop > limit.Total {
			return false
		}
	}
	return true
}

// The run holds at its longest length and not at one that is a little longer.
func TestLongestRun(t *testing.T) {
	found := 0
	rapid.Check(t, func(t *rapid.T) {
		n := network(t, rapid.Bool().Draw(t, "dc"), allKinds...)
		k := rapid.IntRange(0, len(n.Runs)-1).Draw(t, "run")
		limit := DropLimit{Branch: rapid.Float64Range(0.005, 0.04).Draw(t, "branch"), Total: 0.05}
		if rapid.Bool().Draw(t, "fault") {
			n.Supplies[0].MaxFaultLoop = rapid.Float64Range(0.5, 5).Draw(t, "loop")
		}
		most, err := LongestRun(n, n.Runs[k].Name, limit)
		if err != nil {
			t.Fatal(err)
		}
		at := func(length float64) bool {
			m := n
			m.Runs = slices.Clone(n.Runs)
			m.Runs[k].Length = length
			r := m.Runs[k]
			g, err := LeastGauge(m, r.Name, []Conductor{{r.Name, r.Resistance, r.Reactance, r.Ampacity, 1}}, limit)
			if err != nil {
				t.Fatal(err)
			}
			return g.OK
		}
		switch {
		case !most.OK:
			if at(0) || most.Reason == "" {
				t.Errorf("%+v, and it holds when it has no length", most)
			}
		case !at(most.Length):
			t.Errorf("%+v does not hold", most)
		case most.Reason != "" && at(most.Length*(1+1e-6)+1e-9):
			t.Errorf("%+v, and it holds at more", most)
		case most.Reason != "":
			found++
		}
	})
	if found < 20 {
		t.Errorf("%d longest runs found: too few to show anything", found)
	}
}
