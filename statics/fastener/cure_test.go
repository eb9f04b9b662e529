package fastener

import (
	"math"
	"slices"
	"testing"
)

// carried is the utilisation of one fastener, infinite where there is none.
func carried(t *testing.T, j Joint, d Total) float64 {
	t.Helper()
	u, err := j.CheckTotal(d)
	if err != nil {
		t.Fatal(err)
	}
	if share, exists := u.Utilisation(); exists {
		return share
	}
	return math.Inf(1)
}

// TestLeastCures: each cure is the first of its list that carries the demand, seen by trying
// all of them.
func TestLeastCures(t *testing.T) {
	plate := inSPF(t, of(t, WoodScrew, "#10", inch))
	plate.Side.Material, plate.Side.Thickness = material(t, "steel"), 2e-3
	plate.Main.Thickness = 2 * inch
	pulled := Total{0, 300}

	cure, ok := plate.Longer(pulled)
	first := -1.0
	for _, length := range plate.Fastener.Lengths() {
		k := plate
		k.Fastener = plate.Fastener.WithLength(length)
		if length <= 2*inch+2e-3 && carried(t, k, pulled) <= 1 && first < 0 {
			first = length
		}
	}
	if !ok || cure.Joint.Fastener.Length != first || first <= inch || math.Abs(cure.Joint.Fastener.Thread-first*2/3) > 1e-12 {
		t.Errorf("%+v, want %g m", cure, first)
	}
	if carried(t, plate, pulled) <= 1 {
		t.Error("nothing to cure")
	}

	// A member too thin for any longer screw: the thinnest block that lets one in, with the
	// shortest.
	thin := plate
	thin.Main.Thickness = 0.75 * inch
	if cure, ok := thin.Longer(pulled); ok {
		t.Errorf("a longer screw would come out of the back: %s", cure.What)
	}
	cure, ok = thin.Thicker(pulled)
	if !ok {
		t.Fatal("no block")
	}
	for _, block := range []float64{0.75, 1.5, 2.25, 3} {
		k := thin
		k.Main.Thickness += block * inch
		if want, ok := k.Longer(pulled); ok {
			if math.Abs(cure.Joint.Main.Thickness-k.Main.Thickness) > 1e-9 || cure.Joint.Fastener.Length != want.Joint.Fastener.Length {
				t.Errorf("%s, want a block of %g in and %s", cure.What, block, want.What)
			}
			break
		}
	}
	near(t, "total thickness", cure.Joint.Main.Thickness, 1.5*inch)

	// Through-bolts: smallest bolt first, and of its washers the smallest.
	cure, ok = thin.Through(Total{0, 900})
	if !ok || cure.Joint.Fastener.Size != "1/4" || cure.Joint.Fastener.Washer.Name != "fender 1/4 x 1 1/4" {
		t.Errorf("%+v", cure.Joint.Fastener)
	}
	if cure, ok = thin.Through(Total{0, 600}); !ok || cure.Joint.Fastener.Washer.Name != "cut 1/4" {
		t.Errorf("%+v", cure.Joint.Fastener)
	}
	bolted := cure.Joint
	if cure, ok = bolted.LargerWasher(Total{0, 900}); !ok || cure.Joint.Fastener.Washer.OD <= bolted.Fastener.Washer.OD || cure.Joint.Fastener.Size != "1/4" {
		t.Errorf("%+v", cure)
	}
	if cure, ok = bolted.Through(Total{0, 900}); !ok || cure.Joint.Fastener.D <= bolted.Fastener.D {
		t.Errorf("a bolt cures a bolt only if it is larger: %+v", cure.Joint.Fastener)
	}
	if _, ok = bolted.Thicker(Total{0, 900}); ok {
		t.Error("a block for a bolt")
	}
	if _, ok = plate.LargerWasher(pulled); ok {
		t.Error("a washer for a screw")
	}

	// More: the least number, shared alike.
	need := carried(t, plate, pulled)
	cure, ok = plate.More(pulled)
	if want := int(math.Ceil(need)); !ok || cure.Joint.Count != want {
		t.Errorf("%d screws, want %d", cure.Joint.Count, want)
	}

	// Metric stays metric.
	metric := plate
	metric.Fastener = of(t, WoodScrew, "6 mm", 0.04)
	if cure, ok = metric.Through(pulled); !ok || !cure.Joint.Fastener.Metric {
		t.Errorf("%+v", cure.Joint.Fastener)
	}
}

// TestLongestThatFits: a screw of 2 1/4 in just fits 3/4 and 1 1/2 in, whatever the rounding of inches to metres
// says; one of 2 1/2 in comes out of the back.
func TestLongestThatFits(t *testing.T) {
	j := inSPF(t, of(t, WoodScrew, "#10", 2*inch))
	thin, thick := 0.75, 1.5 // in; as constants they would be exact
	j.Side.Material, j.Side.Thickness, j.Main.Thickness = material(t, "red oak"), thin*inch, thick*inch
	long := j
	long.Fastener = j.Fastener.WithLength(2.25 * inch)
	pulled := Total{Tension: 0.99 * value2(t, long.Tension)}
	if carried(t, j, pulled) <= 1 {
		t.Fatal("nothing to cure")
	}
	cure, ok := j.Longer(pulled)
	if !ok || cure.What != "wood screw #10, 2.25 in long instead of 2 in" {
		t.Errorf("%+v", cure)
	}
	pulled.Tension *= 1.1
	if cure, ok = j.Longer(pulled); ok {
		t.Errorf("out of the back: %s", cure.What)
	}
}

// TestLists: lengths and washers ascend.
func TestLists(t *testing.T) {
	for kind := WoodScrew; kind <= Bolt; kind++ {
		for _, size := range Sizes(kind) {
			f := Fastener{Kind: kind, D: 1e-3}
			if !slices.IsSorted(f.Lengths()) {
				t.Errorf("%s: %v", kind, f.Lengths())
			}
			washers := WashersFor(size)
			if !slices.IsSortedFunc(washers, func(a, b Washer) int { return int(math.Copysign(1, a.OD-b.OD)) }) {
				t.Errorf("%s: %+v", size, washers)
			}
		}
	}
}
