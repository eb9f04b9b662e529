package fastener

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// TestPlacing holds the least distances to EN 1995-1-1:2004 Tables 8.2 (nails and screws to 6 mm,
// not predrilled, up to 420 kg/m3) and 8.4 (bolts, thicker screws), from memory: a_3,t, a_3,c,
// a_4,t and a_4,c at loads along and across the grain.
func TestPlacing(t *testing.T) {
	const source = "EN 1995-1-1 Tables 8.2 and 8.4, from memory"
	thin, five, thick, bolt := of(t, WoodScrew, "4 mm", 0.08), of(t, WoodScrew, "5 mm", 0.1), of(t, WoodScrew, "6 mm", 0.1), of(t, Bolt, "M10", 0)
	for _, c := range []struct {
		fastener    Fastener
		angle       float64 // degrees
		loaded      bool
		end, edge   float64 // diameters
		endAtLeast  float64 // m
		tableNumber string
	}{
		{thin, 0, false, 10, 5, 0, "8.2"},
		{thin, 0, true, 15, 5, 0, "8.2"},
		{thin, 90, true, 10, 7, 0, "8.2"},
		{five, 90, true, 10, 10, 0, "8.2"}, // from 5 mm
		{thick, 90, true, 10, 10, 0, "8.2"},
		{thick, 30, true, 10 + 5*math.Sqrt(3)/2, 7.5, 0, "8.2"},
		{bolt, 0, false, 4, 3, 0, "8.4"},
		{bolt, 90, false, 7, 3, 0, "8.4"},
		{bolt, 0, true, 7, 3, 0.08, "8.4"},
		{bolt, 90, true, 7, 4, 0.08, "8.4"},
	} {
		j := inC24(t, c.fastener, 0.03, 0.06)
		j.Main.Angle = c.angle * math.Pi / 180
		j.Main.EndLoaded, j.Main.EdgeLoaded = c.loaded, c.loaded
		got, err := j.Lateral()
		if err != nil {
			t.Fatal(err)
		}
		needs := map[string]Rule{}
		for _, r := range got.Rules {
			needs[r.What] = r
		}
		d := c.fastener.D
		if r, listed := needs["spacing in a row"]; listed {
			t.Errorf("%s: one fastener has no spacing: %s", c.fastener.Kind, r)
		}
		for what, want := range map[string]float64{"end": math.Max(c.end*d, c.endAtLeast), "edge": c.edge * d} {
			r := needs["main member: "+what]
			if math.Abs(r.Needs-want) > 1e-9 || !strings.Contains(r.Source, c.tableNumber) {
				t.Errorf("%s at %g degrees, loaded %v, %s: %.2f mm by %s, want %.2f mm; source: %s", c.fastener.Kind, c.angle, c.loaded, what, r.Needs*1e3, r.Source, want*1e3, source)
			}
		}
	}
}

// TestPlacingBehindSteel: a steel side member has no distances, the wood behind it has: 4 d to an end that is not
// loaded (EN 1995-1-1 Table 8.4, from memory).
func TestPlacingBehindSteel(t *testing.T) {
	j := inC24(t, of(t, Bolt, "M10", 0), 0.005, 0.08)
	j.Side.Material, j.Side.End, j.Main.End = material(t, "steel"), 0.001, 0.039
	got, err := j.Lateral()
	if err != nil || got.Value != 0 || got.Mode != "no capacity: main member: end is 39 mm, needs 40 mm" {
		t.Errorf("%g N, %s, %v", got.Value, got.Mode, err)
	}
}

// TestRowOfThinScrews: n_ef = n^k_ef with Table 8.1, 0.7 at 7 d, and 12 d asked for in a row
// (Table 8.2, a_1 = (5 + 7 cos a) d); EN 1995-1-1, from memory.
func TestRowOfThinScrews(t *testing.T) {
	j := inC24(t, of(t, WoodScrew, "4 mm", 0.08), 0.03, 0.06)
	one, err := j.Lateral()
	if err != nil {
		t.Fatal(err)
	}
	j.Count, j.InRow, j.Spacing = 4, 4, 7*j.Fastener.D
	row, err := j.Lateral()
	if err != nil {
		t.Fatal(err)
	}
	broken := row.Broken()
	if len(broken) != 1 || math.Abs(broken[0].Needs-12*j.Fastener.D) > 1e-12 || row.Value != 0 {
		t.Errorf("%v, %g N", broken, row.Value)
	}
	j.Spacing = 12 * j.Fastener.D
	if row, err = j.Lateral(); err != nil {
		t.Fatal(err)
	}
	near(t, "n_ef / n", row.Reference/one.Reference, math.Pow(4, 0.925-1)) // between 0.85 at 10 and 1 at 14
}

// TestPlatesOutside: wood between two steel plates carries twice the least of 0.5 f t d and of
// 1.15 sqrt(2 M f d) for thin plates or 2.3 sqrt(M f d) for thick ones (EN 1995-1-1 8.2.3 (8.12)
// and (8.13), from memory); where it bends, the rope effect adds a quarter (8.2.2(2)).
func TestPlatesOutside(t *testing.T) {
	const fh, d = 0.082 * (1 - 0.01*10) * 350, 10
	my := 0.3 * 400 * math.Pow(10, 2.6)
	for _, c := range []struct{ plate, wood, want float64 }{
		{3, 30, 0.5 * fh * 30 * d}, {3, 100, 1.25 * 1.15 * math.Sqrt(2*my*fh*d)}, {10, 30, 0.5 * fh * 30 * d}, {10, 100, 1.25 * 2.3 * math.Sqrt(my*fh*d)},
	} {
		j := inC24(t, of(t, Bolt, "M10", 0), c.plate/1e3, c.wood/1e3)
		j.Side.Material = material(t, "steel")
		j.Double = true
		got, err := j.Lateral()
		if err != nil {
			t.Fatal(err)
		}
		near(t, "two planes", got.Reference, 2*c.want)
	}
}

// TestGroupActionTable holds C_g to the tables of NDS 2018 11.3.6, which are for 1 in bolts 4 in apart in wood
// of 1,400,000 psi, beside wood (A: areas 1 to 2 and 1 to 1) or steel (C, E 30,000,000 psi, 12 to 1).
func TestGroupActionTable(t *testing.T) {
	const source = "NDS 2018 Tables 11.3.6A and 11.3.6C, from memory"
	for _, c := range []struct {
		main, side float64 // in2
		metal      bool
		want       []float64 // of 2, 3, ... in a row
	}{
		{10, 5, false, []float64{0.98, 0.92, 0.84, 0.75, 0.68, 0.61, 0.55, 0.50, 0.45, 0.41, 0.38}},
		{24, 12, false, []float64{0.99, 0.96, 0.92, 0.87, 0.81, 0.76, 0.70, 0.65, 0.61, 0.57, 0.53}},
		{5, 5, false, []float64{1.00, 0.97, 0.91, 0.85, 0.78, 0.71, 0.64, 0.59, 0.54, 0.49, 0.45}},
		{5, 5. / 12, true, []float64{0.97, 0.89, 0.80, 0.70, 0.62, 0.55, 0.49, 0.44, 0.40, 0.37, 0.34}},
	} {
		j := inSPF(t, of(t, Bolt, "1", 0))
		j.Main.E, j.Side.E = 1.4e6*psi, 1.4e6*psi
		if c.metal {
			j.Side.Material, j.Side.E = material(t, "steel a36"), 30e6*psi
		}
		j.Main.Area, j.Side.Area = c.main*inch*inch, c.side*inch*inch
		j.Spacing = 4 * inch
		one := value2(t, j.Lateral)
		for i, want := range c.want {
			j.Count, j.InRow = i+2, i+2
			if got := value2(t, j.Lateral) / one; math.Abs(got-want) > 0.005+1e-9 {
				t.Errorf("%d in a row, %g and %g in2, steel %v: %.4f, want %.2f; source: %s", i+2, c.main, c.side, c.metal, got, want, source)
			}
		}
	}
}

// TestGroupActionModulus: the load/slip modulus of 1/2 in fasteners is 180,000 x 0.5^1.5 = 63,640 lb/in
// (NDS 2018 11.3.6, from memory), which is 11.145 MN/m.
func TestGroupActionModulus(t *testing.T) {
	j := inSPF(t, of(t, Bolt, "1/2", 0))
	j.Main.E, j.Main.Area, j.Side.E, j.Side.Area, j.Spacing = 1e10, 5e-3, 1e10, 2e-3, 0.06
	one := value2(t, j.Lateral)
	j.Count, j.InRow = 6, 6
	want, err := GroupAction(6, 0.06, 5e7, 2e7, 1.1145e7)
	if got := value2(t, j.Lateral) / one; err != nil || math.Abs(got-want) > 1e-4 {
		t.Errorf("%g, want %g, %v", got, want, err)
	}
}

// TestGroupActionChain: C_g is the mean over the largest force of elastic fasteners between two elastic bars.
// The bars are followed from fastener to fastener: the next one slips more by what the side member stretches
// between them, and less by what the main member does.
func TestGroupActionChain(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		draw := func(name string, lo, hi float64) float64 { return rapid.Float64Range(lo, hi).Draw(t, name) }
		n, s := rapid.IntRange(1, 12).Draw(t, "n"), draw("spacing", 0.02, 0.2)
		eam, eas, gamma := draw("E A main", 1e7, 1e8), draw("E A side", 1e7, 1e8), draw("gamma", 1e6, 3e7)
		chain := func(first float64) (total, most float64) { // of 1 N that comes by the main member
			f := first
			for i := range n {
				if i > 0 {
					f += gamma * s * (total/eas - (1-total)/eam)
				}
				total, most = total+f, max(most, f)
			}
			return total, most
		}
		none, _ := chain(0)
		unit, _ := chain(1)
		_, most := chain((1 - none) / (unit - none))
		got, err := GroupAction(n, s, eam, eas, gamma)
		if want := 1 / (float64(n) * most); err != nil || math.Abs(got-want) > 1e-6*want {
			t.Fatalf("%g, want %g, %v", got, want, err)
		}
	})
}

// TestGroupActionRange: the ends of what [GroupAction] takes.
func TestGroupActionRange(t *testing.T) {
	for _, c := range []struct {
		n                  int
		s, eam, eas, gamma float64
		taken              bool
	}{
		{1, 0.1, 1e7, 1e7, 1e6, true}, {1e4, 0.1, 1e7, 1e7, 1e6, true}, {0, 0.1, 1e7, 1e7, 1e6, false}, {1e4 + 1, 0.1, 1e7, 1e7, 1e6, false},
		{2, 0.9e-3, 1e7, 1e7, 1e6, false}, {2, 101, 1e7, 1e7, 1e6, false}, {2, 0.1, 0.9, 1e7, 1e6, false}, {2, 0.1, 1e7, 0.9, 1e6, false},
		{2, 0.1, 1.1e15, 1e7, 1e6, false}, {2, 0.1, 1e7, 1.1e15, 1e6, false}, {2, 0.1, 1e7, 1e7, 0.9, false}, {2, 0.1, 1e7, 1e7, 1.1e12, false},
		{2, 1e-3, 1, 1, 1, true}, {2, 100, 1e15, 1e15, 1e12, true},
	} {
		cg, err := GroupAction(c.n, c.s, c.eam, c.eas, c.gamma)
		if (err == nil) != c.taken || err == nil && !(cg > 0 && cg <= 1) {
			t.Errorf("%+v: %g, %v", c, cg, err)
		}
	}
}

// TestPlacingNDS holds the least and the full distances, in diameters, to NDS 2018 Tables 12.5.1A to 12.5.1E
// (reproduced in a public copy of NDS 2018 cited by page): a 1/2 in bolt at loads along and across the grain.
// C_Δ is the least of distance over full distance; at 45 degrees and more the load counts as across.
func TestPlacingNDS(t *testing.T) {
	const source = "NDS 2018 Tables 12.5.1A to 12.5.1E"
	d := 0.5 * inch
	for _, c := range []struct {
		name   string
		change func(*Joint)
		rule   string
		needs  float64 // diameters; 0: no such rule
		times  float64 // C_Δ
	}{
		{"end, pushed", func(j *Joint) { j.Main.End = 3 * d }, "main member: end", 2, 0.75},
		{"end, pulled", func(j *Joint) { j.Main.End, j.Main.EndLoaded = 5.25*d, true }, "main member: end", 3.5, 0.75},
		{"end, pulled, in the side member", func(j *Joint) { j.Side.End, j.Side.EndLoaded = 5.25*d, true }, "side member: end", 3.5, 0.75},
		{"end of a panel, pulled", func(j *Joint) { j.Side.Panel, j.Side.End, j.Side.EndLoaded = true, 3*d, true }, "side member: end", 2, 0.75},
		{"end, across", func(j *Joint) { j.Main.Angle, j.Main.End, j.Main.EndLoaded = math.Pi/4, 3*d, true }, "main member: end", 2, 0.75},
		{"edge, along", func(j *Joint) { j.Main.Edge, j.Main.EdgeLoaded = 2*d, true }, "main member: edge", 1.5, 1},
		{"edge, across, loaded", func(j *Joint) { j.Main.Angle, j.Main.Edge, j.Main.EdgeLoaded = math.Pi/4, 5*d, true }, "main member: edge", 4, 1},
		{"edge, just short of across", func(j *Joint) { j.Main.Angle, j.Main.Edge, j.Main.EdgeLoaded = math.Pi/4-1e-6, 5*d, true }, "main member: edge", 1.5, 1},
		{"edge of a panel, loaded", func(j *Joint) { j.Side.Panel, j.Side.Edge, j.Side.EdgeLoaded = true, 5*d, true }, "side member: edge", 4, 1},
		{"edge, across, not loaded", func(j *Joint) { j.Main.Angle, j.Main.Edge = math.Pi/2, 2*d }, "main member: edge", 1.5, 1},
		{"no distances in steel", func(j *Joint) { j.Side.Material = material(t, "steel a36"); j.Side.End = 0.1 * d }, "side member: end", 0, 1},
		{"behind steel", func(j *Joint) { j.Side.Material = material(t, "steel a36"); j.Main.End = 3 * d }, "main member: end", 2, 0.75},
		{"the least of two", func(j *Joint) { j.Main.End, j.Side.End = 3*d, 2.5*d }, "side member: end", 2, 0.625},
		{"the least of two, the other way", func(j *Joint) { j.Main.End, j.Side.End = 2.5*d, 3*d }, "side member: end", 2, 0.625},
		{"far enough", func(j *Joint) { j.Main.End, j.Side.End = 4*d, 10*d }, "main member: end", 2, 1},
		{"spacing in a row", func(j *Joint) { j.Count, j.InRow, j.Spacing = 2, 2, 3.5*d }, "spacing in a row", 3, 0.875},
		{"one row needs no distance to the next", func(j *Joint) { j.Count, j.InRow, j.Spacing, j.RowSpacing = 2, 2, 4*d, 0.1*d }, "rows", 0, 1},
		{"rows", func(j *Joint) { j.Count, j.RowSpacing = 2, 1.6*d }, "rows", 1.5, 1},
		{"one fastener has no spacing", func(j *Joint) { j.Spacing, j.RowSpacing = 0.1*d, 0.1*d }, "spacing in a row", 0, 1},
	} {
		j := inSPF(t, of(t, Bolt, "1/2", 0))
		j.Main.E, j.Main.Area, j.Side.E, j.Side.Area = 1e10, 0.1, 1e10, 0.1 // stiff, so that the row costs next to nothing
		full := j
		c.change(&j)
		full.Side.Material, full.Side.Panel, full.Side.Angle, full.Main.Angle, full.Count, full.InRow, full.Spacing = j.Side.Material, j.Side.Panel, j.Side.Angle, j.Main.Angle, j.Count, j.InRow, 10*d
		got, err := j.Lateral()
		if err != nil {
			t.Fatalf("%s: %v", c.name, err)
		}
		needs := 0.0
		for _, r := range got.Rules {
			if strings.HasPrefix(r.What, c.rule) {
				needs = r.Needs / d
			}
		}
		if math.Abs(needs-c.needs) > 1e-9 {
			t.Errorf("%s: %s needs %g D, want %g; source: %s", c.name, c.rule, needs, c.needs, source)
		}
		if times := got.Value / value2(t, full.Lateral); math.Abs(times-c.times) > 2e-3 {
			t.Errorf("%s: C_Δ %.4f, want %g; source: %s", c.name, times, c.times, source)
		}
	}
}

// TestPlacingThin: under 1/4 in the document asks only that nothing split: 15 D to the end and 5 D to the
// edge are listed as advice for both members, and for no panel and no steel.
func TestPlacingThin(t *testing.T) {
	j := inSPF(t, of(t, WoodScrew, "#10", 2.5*inch))
	j.Side.End, j.Side.Edge, j.Main.End, j.Main.Edge = 14*0.19*inch, 4*0.19*inch, 16*0.19*inch, 6*0.19*inch
	got, err := j.Lateral()
	if err != nil {
		t.Fatal(err)
	}
	var broken []string
	for _, r := range got.Broken() {
		broken = append(broken, r.String())
	}
	if want := "side member: end is 67.56 mm, needs 72.39 mm; side member: edge is 19.3 mm, needs 24.13 mm"; strings.Join(broken, "; ") != want || got.Value <= 0 {
		t.Errorf("%v, %g N", broken, got.Value)
	}
	for _, change := range []func(*Joint){func(j *Joint) { j.Side.Panel = true }, func(j *Joint) { j.Side.Material = material(t, "steel") }} {
		k := j
		change(&k)
		if got, err = k.Lateral(); err != nil || len(got.Broken()) != 0 {
			t.Errorf("%v, %v", got.Broken(), err)
		}
		k.Main.Edge = 0.02
		if got, err = k.Lateral(); err != nil || len(got.Broken()) != 1 || got.Broken()[0].What != "main member: edge" {
			t.Errorf("behind a side member without distances: %v, %v", got.Broken(), err)
		}
	}
}

// TestPlacingLag: a lag screw that is pulled has 1.5 D to the edge, 4 D to the end and, of several, 4 D
// between them (NDS 2018 Table 12.5.1E).
func TestPlacingLag(t *testing.T) {
	d := 0.5 * inch
	for _, c := range []struct {
		change func(*Joint)
		short  string
	}{
		{func(j *Joint) { j.Main.Edge, j.Main.End = 1.5*d, 4*d }, ""},
		{func(j *Joint) { j.Main.Edge = 1.4 * d }, "withdrawal: edge is 17.78 mm, needs 19.05 mm"},
		{func(j *Joint) { j.Main.End = 3.9 * d }, "withdrawal: end is 49.53 mm, needs 50.8 mm"},
		{func(j *Joint) { j.Spacing = 3.9 * d }, ""},
		{func(j *Joint) { j.Spacing, j.Count = 3.9*d, 2 }, "withdrawal: spacing is 49.53 mm, needs 50.8 mm"},
		{func(j *Joint) { j.Spacing, j.Count = 4*d, 2 }, ""},
	} {
		j := inSPF(t, of(t, LagScrew, "1/2", 4*inch))
		c.change(&j)
		got, err := j.Withdrawal()
		if err != nil {
			t.Fatal(err)
		}
		if c.short == "" && got.Value <= 0 || c.short != "" && (got.Value != 0 || got.Mode != "no capacity: "+c.short) {
			t.Errorf("%g N, %s, want %q", got.Value, got.Mode, c.short)
		}
	}
}
