package statics

import (
	"fmt"
	"testing"

	"pgregory.net/rapid"
)

// needsOf is an oracle over fixed needs that gives away one violated need at a time.
func needsOf(all []Need) func([]int) ([]Need, error) {
	return func(counts []int) ([]Need, error) {
		for _, n := range all {
			if !n.met(counts) {
				return []Need{n}, nil
			}
		}
		return nil, nil
	}
}

// brute is the least mass over every combination of counts, the fewest units at
// that mass, and the least that the fullest place then holds (kg); units is -1 when nothing will do.
func brute(places []Place, needs []Need) (mass float64, units int, fullest float64) {
	units = -1
	counts := make([]int, len(places))
	for {
		s := search{needs: needs}
		if s.met(counts) {
			m, n, heap := 0.0, 0, 0.0
			for k, c := range counts {
				m += places[k].Unit * float64(c)
				n += c
				heap = max(heap, places[k].Unit*float64(c))
			}
			if units < 0 || m < mass*(1-1e-9) || m <= mass*(1+1e-9) && (n < units || n == units && heap < fullest) {
				mass, units, fullest = m, n, heap
			}
		}
		k := 0
		for ; k < len(counts); k++ {
			if counts[k]++; counts[k] <= places[k].Most {
				break
			}
			counts[k] = 0
		}
		if k == len(counts) {
			return mass, units, fullest
		}
	}
}

func TestLeastUnitsAgainstEveryCombination(t *testing.T) {
	found := map[bool]int{}
	rapid.Check(t, func(t *rapid.T) {
		places := make([]Place, rapid.IntRange(1, 4).Draw(t, "places"))
		for k := range places {
			places[k] = Place{Unit: rapid.SampledFrom([]float64{5, 10, 18.144}).Draw(t, "unit"), Most: rapid.IntRange(0, 6).Draw(t, "most")}
		}
		needs := make([]Need, rapid.IntRange(0, 6).Draw(t, "needs"))
		for i := range needs {
			needs[i].Least = rapid.Float64Range(-50, 300).Draw(t, "least")
			for range places {
				needs[i].Gain = append(needs[i].Gain, rapid.Float64Range(-10, 40).Draw(t, "gain"))
			}
		}
		counts, ok, err := LeastUnits(places, needsOf(needs))
		if err != nil {
			t.Fatal(err)
		}
		mass, units, fullest := brute(places, needs)
		found[ok]++
		if ok != (units >= 0) {
			t.Fatalf("found %v, and trying every combination found %v", ok, units >= 0)
		}
		if !ok {
			return
		}
		m, n, heap, lightest := 0.0, 0, 0.0, places[0].Unit
		for k, c := range counts {
			m += places[k].Unit * float64(c)
			n += c
			heap = max(heap, places[k].Unit*float64(c))
			lightest = min(lightest, places[k].Unit)
		}
		if s := (search{needs: needs}); !s.met(counts) {
			t.Fatalf("%v does not meet the needs", counts)
		}
		if m > mass*(1+1e-9) || m > mass*(1-1e-9) && n > units {
			t.Fatalf("%v weighs %g kg in %d units; %g kg in %d units will do", counts, m, n, mass, units)
		}
		if heap >= fullest+lightest {
			t.Fatalf("%v has %g kg in one place; %g kg will do", counts, heap, fullest)
		}
	})
	if found[true] == 0 || found[false] == 0 {
		t.Errorf("%d answers and %d without: one kind was not tried", found[true], found[false])
	}
}

// Ten places and a hundred units are settled quickly, where trying every combination
// would take for ever.
func BenchmarkLeastUnits(b *testing.B) {
	places := make([]Place, 10)
	var needs []Need
	for k := range places {
		places[k] = Place{Unit: 18.144, Most: 40}
	}
	for i := range 40 {
		n := Need{Least: 800 + 37*float64(i%7)}
		for k := range places {
			n.Gain = append(n.Gain, float64((i*13+k*29)%23)-3)
		}
		needs = append(needs, n)
	}
	for b.Loop() {
		if _, ok, err := LeastUnits(places, needsOf(needs)); !ok || err != nil {
			b.Fatal(ok, err)
		}
	}
}

func ExampleLeastUnits() {
	// A wall needs 400 N·m more about one edge, where a bag gives 50 N·m from the base and
	// 120 N·m from the toes, and 60 N·m about the other, where the toes give nothing.
	needs := []Need{{Gain: []float64{50, 120}, Least: 400}, {Gain: []float64{50, 0}, Least: 60}}
	counts, ok, _ := LeastUnits([]Place{{Unit: 18, Most: 50}, {Unit: 18, Most: 50}}, func(counts []int) ([]Need, error) {
		var short []Need
		for _, n := range needs {
			if n.Gain[0]*float64(counts[0])+n.Gain[1]*float64(counts[1]) < n.Least {
				short = append(short, n)
			}
		}
		return short, nil
	})
	fmt.Println(counts, ok)
	// Output: [2 3] true
}
