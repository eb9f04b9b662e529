package electrical

import (
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// Flexible copper cords at 60 degC in ohm/m (IEC 60228 class 5 at 20 degC, by 1.157) with
// ampacities of BS 7671 table 4F3A.
var cords = []Conductor{
	{"0.75 mm2", 26.0e-3 * 1.157, 8e-5, 6},
	{"1.0 mm2", 19.5e-3 * 1.157, 8e-5, 10},
	{"1.5 mm2", 13.3e-3 * 1.157, 8e-5, 16},
	{"2.5 mm2", 7.98e-3 * 1.157, 8e-5, 25},
	{"4 mm2", 4.95e-3 * 1.157, 8e-5, 32},
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
		{"cord", []Conductor{{"negative", -1, 0, 5}}, limit},
	} {
		if g, err := LeastGauge(n, bad.run, bad.cords, bad.limit); err == nil {
			t.Errorf("%+v: %+v, want an error", bad, g)
		}
	}
}

// The choice is the first of all cords with which a plain solution of the whole network
// holds at the run and at everything below it.
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
			for i, r := range n.Runs {
				if slices.Contains(fed, r.Name) && (res.Runs[i].RunDrop > limit.Branch || res.Runs[i].Drop > limit.Total) {
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
