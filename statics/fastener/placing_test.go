package fastener

import (
	"math"
	"strings"
	"testing"
)

// TestPlacing holds the least distances to EN 1995-1-1:2004 Tables 8.2 (nails and screws to 6 mm,
// not predrilled, up to 420 kg/m3) and 8.4 (bolts, thicker screws), from memory: a_3,t, a_3,c,
// a_4,t and a_4,c at loads along and across the grain.
func TestPlacing(t *testing.T) {
	const source = "EN 1995-1-1 Tables 8.2 and 8.4, from memory"
	thin, thick, bolt := of(t, WoodScrew, "4 mm", 0.08), of(t, WoodScrew, "6 mm", 0.1), of(t, Bolt, "M10", 0)
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
		for what, want := range map[string]float64{"end": math.Max(c.end*d, c.endAtLeast), "edge": c.edge * d} {
			r := needs["main member: "+what]
			if math.Abs(r.Needs-want) > 1e-9 || !strings.Contains(r.Source, c.tableNumber) {
				t.Errorf("%s at %g degrees, loaded %v, %s: %.2f mm by %s, want %.2f mm; source: %s", c.fastener.Kind, c.angle, c.loaded, what, r.Needs*1e3, r.Source, want*1e3, source)
			}
		}
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
