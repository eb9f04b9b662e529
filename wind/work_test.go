package wind

import (
	"math"
	"regexp"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// nationalSite is a site of a basis, half of the time with every factor that it knows put in.
func nationalSite(t *rapid.T, basis Basis) Site {
	s := sites.Filter(func(s Site) bool { return s.Basis == basis }).Draw(t, "site")
	if rapid.Bool().Draw(t, "plain") {
		return s
	}
	f := func(name string, lo, hi float64) float64 { return rapid.Float64Range(lo, hi).Draw(t, name) }
	switch s.Basis {
	case EN1991:
		s.ReturnPeriod, s.CProbK, s.CProbN, s.ShortUse = f("period", 1.5, 200), f("K", 0.05, 0.3), f("n", 0.4, 1), rapid.Bool().Draw(t, "short use")
		s.CDir, s.G = f("c_dir", 0.8, 1), f("c_s c_d", 0.8, 1.1)
		if s.ReturnPeriod > 50 { // else both would lower the wind
			s.CSeason = f("c_season", 0.8, 1)
		}
		if rapid.Bool().Draw(t, "ce") {
			s.Ce = f("ce", 1, 3)
		} else {
			s.Z0, s.ZMin, s.Orography, s.KI = f("z0", 0.003, 0.9), f("z_min", 1, 12), f("c_o", 1, 1.5), f("kI", 0.7, 1.1)
		}
	case Gust:
		s.Kzt, s.Ke, s.Kd = f("kzt", 1, 2), f("ke", 0.8, 1), f("kd", 0.8, 1)
	default:
		s.Kzt, s.Ke = f("kzt", 1, 2), f("ke", 0.8, 1)
		s.Reduction = rapid.SampledFrom([]string{"", "asce37-six-weeks", "ibc2024-controlled-occupancy"}).Draw(t, "reduction")
	}
	return s
}

// The terms of every load, worked again from the tables, multiply to its pressure
// and its coefficient, and their resultant lies where the load acts.
func TestWorkReproducesTheLoad(t *testing.T) {
	panels := surfaces.Filter(func(s Surface) bool { return s.Shape == Panel })
	walls := rapid.Custom(func(t *rapid.T) Surface {
		s := panels.Draw(t, "wall")
		s.Top -= s.Bottom * 0.95
		s.Bottom *= 0.05
		s.Solidity = rapid.SampledFrom([]float64{0.75, 0.9, 1}).Draw(t, "wall's solidity")
		return s
	})
	for _, basis := range []Basis{Gust, ASCE716, ASCE722, EN1991} {
		readings, worked := map[string]bool{}, 0
		rapid.Check(t, func(t *rapid.T) {
			m := siteModel(t, nationalSite(t, basis))
			s := rapid.OneOf(surfaces, panels, walls).Draw(t, "surface")
			s.Member = rapid.OneOf(rapid.Just(0.0), rapid.Float64Range(0.01, 1)).Draw(t, "member")
			s.EquivalentRoughness = rapid.OneOf(rapid.Just(0.0), rapid.Float64Range(1e-6, 0.05)).Draw(t, "k")
			speed := rapid.Float64Range(1, 25).Draw(t, "speed")
			towards := rapid.OneOf(rapid.Float64Range(-7, 7), rapid.Custom(func(t *rapid.T) float64 {
				return s.Turn + math.Pi/2*float64(rapid.IntRange(0, 3).Draw(t, "face"))
			})).Draw(t, "towards")
			for _, l := range loads(t, m, s, speed, towards) {
				terms, err := m.Work(&s, speed, towards, l.Case)
				if err != nil {
					t.Fatal(err)
				}
				reproduces(t, &s, &l, terms)
				for _, term := range terms {
					n, err := sums(term.Numbers)
					if err != nil {
						t.Fatalf("case %s, %s: %s\n%v", l.Case, term.What, term.Numbers, err)
					}
					worked += n
				}
				readings[l.Reading] = true
			}
		})
		if worked < 1000 {
			t.Errorf("basis %s: %d sums were worked again: too few to show anything", basis, worked)
		}
		want := []string{ReadingPrism, ReadingSign, ReadingOpen, ReadingAlong}
		if basis == EN1991 {
			want = append(want, ReadingWall)
		}
		for _, r := range want {
			if !readings[r] {
				t.Errorf("basis %s: no surface was read as %s", basis, r)
			}
		}
	}
}

var resultAtEnd = regexp.MustCompile(` = (-?[0-9.]+(?:e[+-][0-9]+)?)(?: m| Pa| m/s)?$`)

// reproduces checks the terms of a load against it.
func reproduces(t *rapid.T, s *Surface, l *Load, terms []Term) {
	product := map[Factor]float64{FactorOfQ: 1, FactorOfCf: 1}
	for i, term := range terms {
		if term.What == "" || term.Formula == "" || term.Numbers == "" || strings.Contains(term.Numbers, "%!") || math.IsNaN(term.Value) {
			t.Fatalf("case %s, term %d: %+v", l.Case, i, term)
		}
		product[term.Factor] *= term.Value
		if result := resultAtEnd.FindStringSubmatch(term.Numbers); result != nil && result[1] != g(term.Value) {
			t.Fatalf("case %s: %s ends with %s and is %v: %s", l.Case, term.What, result[1], term.Value, term.Numbers)
		}
		if strings.HasPrefix(term.What, "resultant") {
			if off := math.Hypot(l.At[0]-s.X, l.At[1]-s.Y); !near(math.Abs(term.Value), off, 1) {
				t.Fatalf("case %s: resultant %v m off the middle by its terms, %v by the load", l.Case, term.Value, off)
			}
		}
	}
	if !near(product[FactorOfQ], l.Q, l.Q) || !near(product[FactorOfCf], l.Cf, l.Cf) {
		t.Fatalf("%s, case %s: the terms give q %v and Cf %v, the load has %v and %v\n%+v", l.Reading, l.Case, product[FactorOfQ], product[FactorOfCf], l.Q, l.Cf, terms)
	}
}

// An inspector reads the nodes of the table, the argument and the result.
func TestWorkNamesTheNodes(t *testing.T) {
	wall := Surface{Name: "wall", Shape: Panel, Width: 16, Top: 4, Return: [2]float64{2, 2}, Solidity: 0.9}
	sign := Surface{Name: "sign", Shape: Panel, Width: 8 * foot, Bottom: 10 * foot, Top: 26 * foot}
	pier := Surface{Name: "pier", Shape: Rectangle, Width: 2.5, Depth: 5, Top: 10}
	long := Surface{Name: "long", Shape: Panel, Width: 11, Top: 2, Return: [2]float64{1, 0}}
	half := Surface{Name: "half", Shape: Panel, Width: 1, Top: 4, WallLength: 2, WallOffset: 0.5} // of a board, the end that is not loaded
	board := Surface{Name: "board", Shape: Panel, Width: 8, Bottom: 0.5, Top: 2.5}
	raised := func(ratio float64) Surface {
		return Surface{Name: "raised", Shape: Panel, Width: 2 * ratio, Bottom: 2, Top: 4}
	}
	post := Surface{Name: "post", Shape: Round, Width: 0.3, Top: 2.4, Roughness: Smooth}
	for _, c := range []struct {
		site Site
		s    Surface
		kase string
		want []string // patterns of What: Numbers
	}{
		{Site{Basis: EN1991, Terrain: "II"}, wall, CaseZonesStart, []string{
			// The published three interpolations, E7: 2.6, 2.35, 1.775.
			"zone A.*2.3 at 3, 2.9 at 5.* = 2.6; return of 0.5 h, 2.1 at h: .* = 2.35; solidity 0.9, 1.2 at 0.8: .* = 1.775",
			"zone B.* = 1.45", "zone C.* = 1.275", `zones together: \(1.775 · 1.2 \+ 1.45 · 6.8 \+ 1.275 · 8\) / 16 = 1.387`,
			"exposure factor at 4 m, terrain II: kr = 0.19 .* cr = 0.19 · ln\\(4 / 0.05\\) = 0.8326; Iv = .* = 0.2282; ce = .* = 1.801"}},
		{Site{Basis: ASCE716, Terrain: "C"}, sign, CaseBStart, []string{
			"solid wall or sign: s/h = 4.877 / 7.925, .*row s/h 0.5: 1.75 at 0.5; row s/h 0.7: 1.7 at 0.5; between the rows .* = 1.721",
			"windward half", `height factor.*2.01 · \(7.925 / 274.3\)\^\(2 / 9.5\) = 0.9531`}},
		{Site{Basis: EN1991, Terrain: "II", ReturnPeriod: 100}, pier, CaseWhole, []string{
			"probability factor.* = 1.038", "basic wind velocity: 1 · 1 · 1.038 · 26 = 27 m/s", "without end flow: d/b = 5 / 2.5 = 2: 1.65 at 2",
			"effective slenderness: 2 · 10 / 2.5 = 8", "end effect: lambda = 8: 0.6 at 1, 0.7 at 10: .*log.* = 0.6903"}},
		{Site{Basis: ASCE716, Terrain: "C"}, long, CaseCStart, []string{
			`return corner.*Lr/s = 1 / 2 = 0.5: 0.9 at 0.3, 0.75 at 1: .* = 0.8571`, "near the ground: 1.8 - 2 / 2 = 0.8",
			`zone 0 to s .*3.1\* at B/s 5, 3.3\* at B/s 6; starred values times 0.8571: 2.657 \+ \(5.5 - 5\) / \(6 - 5\) · 0.1714 = 2.743; 2.743 · 0.8 = 2.194`, "zones together", "resultant"}},
		{Site{Basis: Gust, Terrain: "C"}, Surface{Name: "stout", Shape: Square, Width: 1, Top: 4}, CaseWhole, []string{
			"a chimney or a solid sign: as a chimney, face-on, h/D = 4 / 1 = 4: .*; at this angle .* N/m; as a solid sign, worked below, .* N/m"}},
		{Site{Basis: EN1991, Terrain: "II"}, Surface{Name: "mast", Shape: Square, Width: 0.1, Top: 10}, CaseWhole, []string{
			"effective slenderness: 2 · 10 / 0.1 = 200, at most 70;", "end effect: lambda = 70: 0.91 at 70"}},
		{Site{Basis: EN1991, Terrain: "II"}, Surface{Name: "ribbed", Shape: Round, Width: 1, Top: 3}, CaseWhole, []string{
			"without end flow: k/b is beyond the lines of the figure, whose highest value is 1.2;"}},
		{Site{Basis: EN1991, Terrain: "II"}, half, CaseOffStart, []string{
			"the whole force on one half.*: none of the force is on this part: 0; by sum of coefficient · width, mean over this part, 1 m to 2 m from the windward edge of the whole wall"}},
		{Site{Basis: EN1991, Terrain: "II"}, board, CaseOffEnd, []string{"signboard: gap 0.5 m, h 2 m, length 8 m: c_f = 1.8;", "mean over its 8 m;", "z0 and z_min: EN 1991-1-4:2005 Table 4.1"}},
		{Site{Basis: EN1991, Terrain: "II", Z0: 0.1}, board, CaseOffEnd, []string{"terrain II: kr = 0.19 · .0.1 / 0.05.*; z0 or z_min as given for the site"}},
		{Site{Basis: EN1991, Terrain: "II", ZMin: 3}, board, CaseOffEnd, []string{"exposure factor up to 3 m, .*; z0 or z_min as given for the site"}},
		{Site{Basis: ASCE716, Terrain: "C"}, raised(4.5), CaseCStart, []string{
			"zone 0 to s .*: B/s = 4.5: 2.9 at B/s 4, 3.1\\* at B/s 5: 2.9 \\+ [^=]* = 3;", "zone 4s to 5s .*: B/s = 4.5: 1.05 at B/s 5 = 1.05;"}},
		{Site{Basis: ASCE716, Terrain: "C"}, raised(50), CaseCEnd, []string{
			"zone 0 to s .*: B/s = 50: 4.3\\* at B/s 45 = 4.3;", "zone 2s to 3s .*: B/s = 50: 1.95 at B/s 45 = 1.95;", "zone beyond 10s .*: B/s = 50: 0.55 at B/s 45 = 0.55;"}},
		{Site{Basis: ASCE716, Terrain: "C"}, raised(2), CaseCEnd, []string{"zone s to 2s .*: B/s = 2: 1.5 at B/s 2 = 1.5;", "height factor up to 4.572 m,"}},
		{Site{Basis: Gust, Terrain: "C"}, post, CaseWhole, []string{`regime.*0.3 · sqrt\(.*\) = `, "force coefficient: h/D = 2.4 / 0.3 = 8: low 0.8 at 7, 1.2 at 25: .* = 0.8222; high, moderately smooth, ",
			`what held the force at the change, 0.8222 · 312.1 / `}}, // (5.3 / 0.3)^2
	} {
		terms, err := siteModel(t, c.site).Work(&c.s, 26, math.Pi/2, c.kase)
		if err != nil {
			t.Fatal(err)
		}
		var all []string
		for _, term := range terms {
			all = append(all, term.What+": "+term.Numbers+"; by "+term.Formula+"; "+term.Source)
		}
		text := strings.Join(all, "\n")
		for _, want := range c.want {
			if !regexp.MustCompile(want).MatchString(text) {
				t.Errorf("%s: no term reads %q in\n%s", c.s.Name, want, text)
			}
		}
	}
}

func TestWorkOfNoSuchCase(t *testing.T) {
	m := siteModel(t, Site{Basis: Gust, Terrain: "C"})
	if _, err := m.Work(&Surface{Name: "post", Shape: Round, Width: 0.3, Top: 2}, 20, 0, CaseA); err == nil || !strings.Contains(err.Error(), "post") {
		t.Errorf("error %v", err)
	}
	if _, err := m.Work(&Surface{Name: "post", Shape: Round, Width: 0.01, Top: 2}, 20, 0, CaseWhole); err == nil {
		t.Error("a pillar beyond the table was worked")
	}
}
