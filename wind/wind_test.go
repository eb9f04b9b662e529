package wind

import (
	"encoding/csv"
	"errors"
	"io/fs"
	"math"
	"slices"
	"strings"
	"testing"

	_ "galefast/internal/steady"

	"pgregory.net/rapid"
)

func newModel(t testing.TB, terrain string) *Model {
	t.Helper()
	m, err := NewModel(Site{Basis: Gust, Terrain: terrain})
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// everySite is open ground under each basis.
var everySite = []Site{
	{Basis: Gust, Terrain: "C"}, {Basis: ASCE716, Terrain: "C"}, {Basis: ASCE722, Terrain: "C"}, {Basis: EN1991, Terrain: "II"},
}

func siteModel(t rapid.TB, site Site) *Model {
	t.Helper()
	m, err := NewModel(site)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

func loads(t rapid.TB, m *Model, s Surface, gust, towards float64) []Load {
	t.Helper()
	l, err := m.Loads(s, gust, towards)
	if err != nil {
		t.Fatalf("%+v: %v", s, err)
	}
	return l
}

func force(l Load) float64 { return math.Hypot(l.Force[0], l.Force[1]) }

func near(a, b, scale float64) bool { return math.Abs(a-b) <= 1e-9*(1+scale) }

// A surface within the reach of every table.
var surfaces = rapid.Custom(func(t *rapid.T) Surface {
	s := Surface{
		Name:         "s",
		Shape:        Shape(rapid.IntRange(int(Square), int(Panel)).Draw(t, "shape")),
		X:            rapid.Float64Range(-20, 20).Draw(t, "x"),
		Y:            rapid.Float64Range(-20, 20).Draw(t, "y"),
		Width:        rapid.Float64Range(0.2, 2).Draw(t, "width"),
		Depth:        rapid.Float64Range(0.2, 2).Draw(t, "depth"),
		Turn:         rapid.Float64Range(-7, 7).Draw(t, "turn"),
		Solidity:     rapid.Float64Range(0.05, 1).Draw(t, "solidity"),
		Roughness:    Roughness(rapid.IntRange(0, 2).Draw(t, "roughness")),
		RoundMembers: rapid.Bool().Draw(t, "round members"),
		Return:       [2]float64{rapid.Float64Range(0, 3).Draw(t, "return"), rapid.Float64Range(0, 3).Draw(t, "return")},
	}
	s.Corner = rapid.Float64Range(0, 0.08).Draw(t, "corner")
	if s.Shape == Panel {
		s.Width = rapid.Float64Range(0.3, 40).Draw(t, "length")
		if more := rapid.Float64Range(0, 20).Draw(t, "more wall"); more > 10 { // half of them are parts of a longer wall
			s.WallLength = s.Width + more
			s.WallOffset = rapid.Float64Range(-more/2, more/2).Draw(t, "offset")
		}
	}
	s.Bottom = rapid.Float64Range(0, 3).Draw(t, "bottom")
	s.Top = s.Bottom + rapid.Float64Range(0.3, 4).Draw(t, "height")
	return s
})

// sites are the terrains of every basis.
var sites = rapid.Custom(func(t *rapid.T) Site {
	s := Site{Basis: rapid.SampledFrom([]Basis{Gust, ASCE716, ASCE722, EN1991}).Draw(t, "basis")}
	switch s.Basis {
	case Gust:
		s.Terrain = terrains.Draw(t, "terrain")
	case EN1991:
		s.Terrain = rapid.SampledFrom([]string{"0", "I", "II", "III", "IV"}).Draw(t, "terrain")
	default:
		s.Terrain = rapid.SampledFrom([]string{"B", "C", "D"}).Draw(t, "terrain")
	}
	return s
})

var terrains = rapid.SampledFrom([]string{"B", "C", "D", "0", "I", "II", "III", "IV"})

func TestForceGoesWithSpeedSquared(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := siteModel(t, sites.Draw(t, "site"))
		s := surfaces.Filter(func(s Surface) bool { return s.Shape != Round }).Draw(t, "surface")
		towards := rapid.Float64Range(-7, 7).Draw(t, "towards")
		k := rapid.Float64Range(0.1, 3).Draw(t, "k")
		a, b := loads(t, m, s, 20, towards), loads(t, m, s, 20*k, towards)
		for i := range a {
			if a[i].Minimum || b[i].Minimum {
				continue // 16 psf in any wind
			}
			if !near(force(b[i]), force(a[i])*k*k, force(b[i])) || a[i].At != b[i].At {
				t.Fatalf("%s: %v N at 20 m/s, %v N at %v times that", a[i].Case, force(a[i]), force(b[i]), k)
			}
		}
	})
}

func TestMoreWindIsNeverLessForce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := siteModel(t, sites.Draw(t, "site"))
		s := surfaces.Draw(t, "surface")
		s.Member = rapid.Float64Range(0, 0.5).Draw(t, "member")
		v := rapid.Float64Range(1, 30).Draw(t, "v") // beyond, a thick cylinder passes the highest Reynolds number of EN 1991-1-4
		more := v * rapid.Float64Range(1, 1.5).Draw(t, "k")
		a, b := loads(t, m, s, v, 1), loads(t, m, s, more, 1)
		for i := range a {
			if force(b[i]) < force(a[i])*(1-1e-9) {
				t.Fatalf("%s: %v N at %v m/s but %v N at %v m/s", a[i].Case, force(a[i]), v, force(b[i]), more)
			}
		}
	})
}

func TestTurningSiteAndWindTurnsTheLoads(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := siteModel(t, sites.Draw(t, "site"))
		s := surfaces.Draw(t, "surface")
		towards := rapid.Float64Range(-7, 7).Draw(t, "towards")
		by := rapid.Float64Range(-7, 7).Draw(t, "by")
		sin, cos := math.Sincos(by)
		turn := func(v [3]float64) [3]float64 {
			return [3]float64{v[0]*cos - v[1]*sin, v[0]*sin + v[1]*cos, v[2]}
		}
		a := loads(t, m, s, 20, towards)
		at := turn([3]float64{s.X, s.Y, 0})
		s.X, s.Y, s.Turn = at[0], at[1], s.Turn+by
		b := loads(t, m, s, 20, towards+by)
		if len(a) != len(b) {
			t.Fatalf("%d loads, %d when turned", len(a), len(b))
		}
		for i := range a {
			f, p := turn(a[i].Force), turn(a[i].At)
			for k := range 3 {
				if !near(b[i].Force[k], f[k], force(a[i])) || !near(b[i].At[k], p[k], 50) {
					t.Fatalf("%s: %v at %v, want %v at %v", a[i].Case, b[i].Force, b[i].At, f, p)
				}
			}
		}
	})
}

func TestMirroredSurfaceMirrorsTheLoads(t *testing.T) {
	sides := map[string]string{CaseAlongLeft: CaseAlongRight, CaseAlongRight: CaseAlongLeft}
	// A plate longer in its depth has its ends on the axis that turns round.
	ends := map[string]string{CaseOffStart: CaseOffEnd, CaseOffEnd: CaseOffStart, CaseZonesStart: CaseZonesEnd, CaseZonesEnd: CaseZonesStart}
	rapid.Check(t, func(t *rapid.T) {
		m := siteModel(t, sites.Draw(t, "site"))
		s := surfaces.Draw(t, "surface")
		towards := rapid.Float64Range(-7, 7).Draw(t, "towards")
		a := loads(t, m, s, 20, towards)
		s.Y, s.Turn = -s.Y, -s.Turn // north and south change places
		b := loads(t, m, s, 20, -towards)
		mirror := sides
		if s.Shape == Rectangle && s.Depth > s.Width {
			mirror = ends
		}
		for _, l := range a {
			want := l.Case
			if c, ok := mirror[want]; ok {
				want = c
			}
			found := false
			for _, k := range b {
				if k.Case != want {
					continue
				}
				found = near(k.Force[0], l.Force[0], force(l)) && near(k.Force[1], -l.Force[1], force(l)) &&
					near(k.At[0], l.At[0], 50) && near(k.At[1], -l.At[1], 50) && near(k.At[2], l.At[2], 50)
			}
			if !found {
				t.Fatalf("%s: %v at %v has no mirror image in %+v", l.Case, l.Force, l.At, b)
			}
		}
	})
}

func TestTallerPieceIsNeverLoadedLess(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := siteModel(t, sites.Draw(t, "site"))
		s := surfaces.Draw(t, "surface")
		towards := rapid.Float64Range(-7, 7).Draw(t, "towards")
		a := loads(t, m, s, 20, towards)
		s.Top += rapid.Float64Range(0, 1).Draw(t, "taller")
		b := loads(t, m, s, 20, towards)
		for _, l := range a {
			for _, k := range b {
				if k.Case != l.Case {
					continue
				}
				if k.Case[0] == 'C' || k.Reading == ReadingAlong || k.Reading == ReadingWall {
					// These zones are measured in the height itself, so their mean
					// coefficient falls and rises with it: only cases over the whole
					// face must be monotone.
					continue
				}
				if force(k) < force(l)*(1-1e-9) || force(k)*k.At[2] < force(l)*l.At[2]*(1-1e-9) {
					t.Fatalf("%s: %v N at %v m, taller %v N at %v m", l.Case, force(l), l.At[2], force(k), k.At[2])
				}
			}
		}
	})
}

// Whatever is passed in, a load is finite and the product of its factors, or
// there is an error.
func TestAnyInputGivesFiniteLoadsOrAnError(t *testing.T) {
	number := rapid.OneOf(rapid.Float64(), rapid.Float64Range(-1, 12), rapid.SampledFrom([]float64{0, 1, math.NaN(), math.Inf(1), math.Inf(-1)}))
	rapid.Check(t, func(t *rapid.T) {
		m := siteModel(t, nationalSite(t, rapid.SampledFrom([]Basis{Gust, ASCE716, ASCE722, EN1991}).Draw(t, "basis")))
		n := func(name string) float64 { return number.Draw(t, name) }
		s := Surface{
			Shape: Shape(rapid.IntRange(-1, 8).Draw(t, "shape")), X: n("x"), Y: n("y"), Bottom: n("bottom"), Top: n("top"),
			Width: n("width"), Depth: n("depth"), Turn: n("turn"), Solidity: n("solidity"), Member: n("member"),
			PieceBottom: n("piece bottom"), PieceTop: n("piece top"), PieceWidth: n("piece width"),
			WallLength: n("wall length"), WallOffset: n("wall offset"), Corner: n("corner"),
			EquivalentRoughness: n("equivalent roughness"), Return: [2]float64{n("return"), n("return")}, Roughness: Roughness(rapid.IntRange(-1, 3).Draw(t, "roughness")),
		}
		ls, err := m.Loads(s, n("gust"), n("towards"))
		if err != nil && len(ls) > 0 || err == nil && len(ls) == 0 {
			t.Fatalf("%d loads with error %v", len(ls), err)
		}
		for _, l := range ls {
			want := l.Q * l.Kd * l.G * l.Cf * l.Area * l.Reduced
			if l.Minimum {
				want = MinimumPressure * l.Oblique * l.Area * l.Reduced
				if s.WallLength > 0 {
					continue // the part's share, TestPartsOfAWallAddUpToIt
				}
			}
			if f := force(l); !near(f, want, f) || math.IsInf(f, 0) || !(l.At[2] > 0) || !(l.FromDeg >= 0 && l.FromDeg < 360) || l.Source == "" {
				t.Fatalf("%+v: force %v, product %v", l, f, want)
			}
			for _, v := range l.At {
				if math.IsNaN(v) || math.IsInf(v, 0) {
					t.Fatalf("%+v", l)
				}
			}
		}
	})
}

// Two joined halves of a wall, or any two parts, carry together what the whole
// does, in every case, about every axis.
func TestPartsOfAWallAddUpToIt(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := siteModel(t, sites.Draw(t, "site"))
		s := surfaces.Filter(func(s Surface) bool { return s.Shape == Panel }).Draw(t, "wall")
		s.WallLength, s.WallOffset = 0, 0
		cut := rapid.OneOf(rapid.Just(0.5), rapid.Float64Range(0.01, 0.99)).Draw(t, "cut")
		sin, cos := math.Sincos(s.Turn)
		part := func(from, to float64) Surface {
			p := s
			p.WallLength, p.WallOffset, p.Width = s.Width, (from+to-1)/2*s.Width, (to-from)*s.Width
			p.X, p.Y = s.X+p.WallOffset*cos, s.Y+p.WallOffset*sin
			return p
		}
		towards := rapid.Float64Range(-7, 7).Draw(t, "towards")
		gust := rapid.Float64Range(5, 100).Draw(t, "gust") // below about 35 m/s 16 psf decides in ASCE 7
		whole := loads(t, m, s, gust, towards)
		first, second := loads(t, m, part(0, cut), gust, towards), loads(t, m, part(cut, 1), gust, towards)
		if len(first) != len(whole) || len(second) != len(whole) {
			t.Fatalf("%d loads on the wall, %d and %d on its parts", len(whole), len(first), len(second))
		}
		for i, w := range whole {
			moment := func(l Load) float64 { return l.At[0]*l.Force[1] - l.At[1]*l.Force[0] }
			for k := range 2 {
				if sum := first[i].Force[k] + second[i].Force[k]; !near(sum, w.Force[k], force(w)) {
					t.Fatalf("%s: parts carry %v N together, the wall %v N", w.Case, sum, w.Force[k])
				}
			}
			if sum := moment(first[i]) + moment(second[i]); !near(sum, moment(w), 50*force(w)) {
				t.Fatalf("%s: parts turn by %v Nm together, the wall by %v Nm", w.Case, sum, moment(w))
			}
		}
	})
}

// A rectangle carries at least the diagonal coefficient of Fig. 29.4-1 on its
// projected area, and becomes a square and a panel in its limits.
func TestRectangleBetweenSquareAndPanel(t *testing.T) {
	m := newModel(t, "C")
	rapid.Check(t, func(t *rapid.T) {
		s := surfaces.Draw(t, "surface")
		s.Shape = Rectangle
		towards := rapid.Float64Range(-7, 7).Draw(t, "towards")
		l := loads(t, m, s, 20, towards)[0]
		// A sign takes the pressure at the top, so that pressures are compared.
		middle, _, err := m.Pressure((s.Top+s.Bottom)/2, 20)
		if err != nil {
			t.Fatal(err)
		}
		least := middle * m.tables.squareDiagonal.at((s.Top-s.Bottom)/min(s.Width, s.Depth))
		if l.Q*l.Cf < least*(1-1e-9) {
			t.Fatalf("%s: %v Pa on the projected area, diagonal value %v Pa", l.Reading, l.Q*l.Cf, least)
		}
		s.Depth = s.Width
		r := loads(t, m, s, 20, towards)[0]
		s.Shape = Square
		q := loads(t, m, s, 20, towards)[0]
		if !near(force(r), force(q), force(q)) {
			t.Fatalf("rectangle of equal sides %v N, square %v N", force(r), force(q))
		}
	})
}

func TestPillarTakesTheLargerReading(t *testing.T) {
	m := newModel(t, "C")
	// Fig. 29.4-1 at h/D 20, face-on: 1.4 + 13/18 x 0.6 = 1.8333; Fig. 29.3-1 at B/s 0.05: 1.80.
	slim := loads(t, m, Surface{Shape: Square, Width: 0.2, Top: 4}, 20, 0)[0]
	if slim.Reading != ReadingPrism || !near(slim.Cf, 1.4+13./18*0.6, 1) {
		t.Errorf("h/D 20: %s, Cf %v", slim.Reading, slim.Cf)
	}
	// The diagonal of the same: 1.1 + 13/18 x 0.4 on the projected width.
	diagonal := loads(t, m, Surface{Shape: Square, Width: 0.2, Top: 4}, 20, math.Pi/4)[0]
	if diagonal.Reading != ReadingPrism || !near(diagonal.Cf, 1.1+13./18*0.4, 1) || !near(diagonal.Area, 0.8*math.Sqrt2, 1) {
		t.Errorf("h/D 20, diagonal: %s, Cf %v on %v m2", diagonal.Reading, diagonal.Cf, diagonal.Area)
	}
	stout := loads(t, m, Surface{Shape: Square, Width: 1, Top: 4}, 20, 0)[0]
	if stout.Reading != ReadingSign || !near(stout.At[2], 0.55*4, 1) {
		t.Errorf("h/D 4: %s at %v m", stout.Reading, stout.At[2])
	}
	// A band of the pillar: its own area, the piece's proportions, the piece's rise.
	band := loads(t, m, Surface{Shape: Square, Width: 1, Bottom: 1, Top: 2, PieceTop: 4, PieceWidth: 1}, 20, 0)[0]
	if !near(band.Cf, stout.Cf, 1) || !near(band.At[2], 1.5+0.2, 1) || !near(4*force(band), force(stout), force(stout)) {
		t.Errorf("band: Cf %v, %v N at %v m", band.Cf, force(band), band.At[2])
	}
}

func TestRoundRegimes(t *testing.T) {
	m := newModel(t, "C")
	s := Surface{Shape: Round, Width: 0.5, Top: 3.5, Roughness: Smooth} // h/D = 7: 0.8, and 0.6 above the change
	at := func(dRootQ float64) Load {
		q, _, err := m.Pressure(1, 1)
		if err != nil {
			t.Fatal(err)
		}
		return loads(t, m, s, math.Sqrt(math.Pow(dRootQ/s.Width, 2)/q), 0)[0]
	}
	if l := at(5.2); !near(l.Cf, 0.8, 1) {
		t.Errorf("below the change Cf %v, want 0.8", l.Cf)
	}
	if l := at(10); !near(l.Cf, 0.6, 1) {
		t.Errorf("well above the change Cf %v, want 0.6", l.Cf)
	}
	before, after := at(5.299), at(5.301)
	if force(after) < force(before) || force(after) > force(before)*1.01 {
		t.Errorf("force steps from %v N to %v N at the change", force(before), force(after))
	}
}

func TestPolygonBreadth(t *testing.T) {
	// Regular figures of 1 m across flats: face-on across the corners, corner-on across the flats.
	for _, c := range []struct {
		shape      Shape
		deg, width float64
	}{
		{Hexagon, 0, 2 / math.Sqrt(3)}, {Hexagon, 30, 1}, {Hexagon, 60, 2 / math.Sqrt(3)}, {Hexagon, -90, 1},
		{Hexagon, 15, 2 / math.Sqrt(3) * math.Cos(math.Pi/12)}, {Hexagon, 45, 2 / math.Sqrt(3) * math.Cos(math.Pi/12)}, // a corner 15 degrees off
		{Octagon, 10, math.Cos(12.5*math.Pi/180) / math.Cos(math.Pi/8)}, {Octagon, 35, math.Cos(12.5*math.Pi/180) / math.Cos(math.Pi/8)},
		{Octagon, 0, 1}, {Octagon, 22.5, 1 / math.Cos(math.Pi/8)}, {Octagon, 45, 1}, {Octagon, 180, 1},
	} {
		if got := polygonBreadth(c.shape, 1, c.deg*math.Pi/180); !near(got, c.width, 1) {
			t.Errorf("%s at %v degrees: %v, want %v", c.shape, c.deg, got, c.width)
		}
	}
}

func TestObliqueWindOnAWall(t *testing.T) {
	m := newModel(t, "C")
	s := Surface{Shape: Panel, Width: 6, Top: 2}
	full := force(loads(t, m, s, 20, math.Pi/2)[0])
	for _, c := range []struct {
		off, factor float64
		loads       int
	}{{0, 1, 5}, {30, 1, 5}, {45, 1, 5}, {60, math.Sqrt(3) / 2, 7}, {75, 0.5, 7}} {
		ls := loads(t, m, s, 20, math.Pi/2-c.off*math.Pi/180)
		if len(ls) != c.loads || !near(force(ls[0]), c.factor*full, full) {
			t.Errorf("%v degrees off the normal: %d loads, case A %v N, want %v", c.off, len(ls), force(ls[0]), c.factor*full)
		}
	}
	along := loads(t, m, s, 20, 0)
	if len(along) != 2 || along[0].Force[1] <= 0 || along[1].Force[1] != -along[0].Force[1] {
		t.Fatalf("wind along the wall: %+v", along)
	}
	// 1.0 over 2h = 4 m, 0.25 over the other 2 m: resultant 2/3 m towards the windward, western, end.
	if !near(along[0].At[0], -2./3, 1) {
		t.Errorf("wind along the wall acts at x = %v m", along[0].At[0])
	}
	if west := loads(t, m, s, 20, math.Pi); !near(west[0].At[0], 2./3, 1) {
		t.Errorf("wind from the other end acts at x = %v m", west[0].At[0])
	}
}

func TestEccentricCases(t *testing.T) {
	m := newModel(t, "C")
	s := Surface{Shape: Panel, Width: 8, Bottom: 2, Top: 4, Turn: math.Pi / 2} // start in the south
	got := map[string][3]float64{}
	for _, l := range loads(t, m, s, 20, 0) {
		got[l.Case] = l.At
	}
	// B/s = 4: zones 2.90, 1.90, 1.30, 1.10 each 2 m long.
	arm := (2.9*3 + 1.9*1 - 1.3*1 - 1.1*3) / (2.9 + 1.9 + 1.3 + 1.1)
	for c, y := range map[string]float64{CaseA: 0, CaseBStart: -1.6, CaseBEnd: 1.6, CaseCStart: -arm, CaseCEnd: arm} {
		if at, ok := got[c]; !ok || !near(at[1], y, 1) || !near(at[2], 3, 1) {
			t.Errorf("case %s at %v, want y = %v and z = 3", c, at, y)
		}
	}
}

func TestReturnCornerReducesOnlyStarredValues(t *testing.T) {
	m := newModel(t, "C")
	cf := func(length, corner float64) float64 {
		for _, l := range loads(t, m, Surface{Shape: Panel, Width: length, Bottom: 1, Top: 2, Return: [2]float64{corner, 0}}, 20, math.Pi/2) {
			if l.Case == CaseCStart {
				return l.Cf
			}
		}
		t.Fatal("no case C")
		return 0
	}
	for _, c := range []struct{ length, corner, saved float64 }{
		{4, 1, 0},             // 2.90 has no star
		{5, 0.29, 0},          // too short to count
		{5, 0.3, 3.10 * 0.10}, // 0.90
		{5, 1, 3.10 * 0.25},   // 0.75
		{5, 9, 3.10 * 0.40},   // 0.60
	} {
		if got := (cf(c.length, 0) - cf(c.length, c.corner)) * c.length; !near(got, c.saved, 1) {
			t.Errorf("B/s %v, return %v s: saves %v of the first zone, want %v (ASCE 7-16 Fig. 29.3-1)", c.length, c.corner, got, c.saved)
		}
	}
}

func TestOpenFrames(t *testing.T) {
	m := newModel(t, "C")
	for _, c := range []struct {
		solidity float64
		round    bool
		member   float64
		cf       float64
	}{
		{0.05, false, 0, 2.0}, {0.2, false, 0, 1.8}, {0.5, false, 0, 1.6},
		{0.05, true, 0, 1.2}, {0.2, true, 0.05, 1.3}, {0.5, true, 0, 1.5},
		{0.05, true, 1, 0.8}, {0.2, true, 1, 0.9}, {0.5, true, 1, 1.1},
	} {
		s := Surface{Shape: Panel, Width: 2, Top: 2, Solidity: c.solidity, RoundMembers: c.round, Member: c.member}
		l := loads(t, m, s, 30, math.Pi/2)
		if len(l) != 1 || !near(l[0].Cf, c.cf, 1) || !near(l[0].Area, 4*c.solidity, 1) || l[0].Z != 1 {
			t.Errorf("%+v: %+v (ASCE 7-16 Table 29.4-2)", c, l)
		}
	}
}

func TestLimitsAreNamed(t *testing.T) {
	m := newModel(t, "C")
	for _, c := range []struct {
		s            Surface
		gust         float64
		want         string
		value, limit float64
	}{
		{Surface{Name: "mast", Shape: Square, Width: 0.1, Top: 2.6}, 20, "h/D", 26, 25},
		{Surface{Name: "mast", Shape: Square, Width: 20, Top: 280}, 20, "height", 280, 274.32},
		{Surface{Name: "wall", Shape: Panel, Width: 20, Top: 280}, 20, "height", 280, 274.32},
		{Surface{Name: "wall", Shape: Panel, Width: 20, Top: 2}, 1000, "gust", 1000, 150},
		{Surface{Name: "wall", Shape: Panel, Width: 20, Top: 2}, -1, "gust", -1, 150},
	} {
		_, err := m.Loads(c.s, c.gust, 0)
		var l *LimitError
		if !errors.As(err, &l) || !strings.Contains(l.Quantity, c.want) || l.Surface != c.s.Name || !near(l.Value, c.value, 1) || math.Abs(l.Limit-c.limit) > 0.005 {
			t.Errorf("%s: error %v, want a limit of %s, %v beyond %v", c.s.Name, err, c.want, c.value, c.limit)
		}
	}
	// The limits themselves belong to the range.
	for _, s := range []Surface{{Shape: Square, Width: 0.1, Top: 2.5}, {Shape: Panel, Width: 20, Top: 2}} {
		loads(t, m, s, 150, 0)
	}
	if _, _, err := m.Pressure(0, 0); err != nil {
		t.Error(err)
	}
	for _, basis := range []Basis{"", "other"} {
		if _, err := NewModel(Site{Basis: basis, Terrain: "C"}); err == nil || !strings.Contains(err.Error(), string(basis)) {
			t.Errorf("basis %q: error %v", basis, err)
		}
	}
	for _, s := range []Site{{Basis: Gust}, {Basis: Gust, Terrain: "A"}, {Basis: Gust, Terrain: "C", G: -1}, {Basis: Gust, Terrain: "C", Kzt: math.NaN()}, {Basis: Gust, Terrain: "C", AirDensity: math.Inf(1)}} {
		if _, err := NewModel(s); err == nil {
			t.Errorf("%+v is accepted", s)
		}
	}
}

func TestGustBasisAtItsReference(t *testing.T) {
	// At 10 m in open ground the pressure is the gust's own.
	for terrain, density := range map[string]float64{"C": AirDensityUS, "II": AirDensityEU} {
		q, kz, err := newModel(t, terrain).Pressure(10, 20)
		if err != nil || !near(kz, 1, 1) || !near(q, 0.5*density*400, 1) {
			t.Errorf("terrain %s: q %v, height factor %v, error %v", terrain, q, kz, err)
		}
	}
}

func TestHandheld(t *testing.T) {
	before := 1.0
	for _, terrain := range []string{"D", "C", "B"} { // rougher ground, lower reading
		h, err := HandheldOf(terrain)
		if err != nil || h.Factor >= before {
			t.Errorf("%s: %v, %v", terrain, h, err)
		}
		before = h.Factor
		if g := h.Gust(h.Reading(17)); !near(g, 17, 1) {
			t.Errorf("%s: 17 m/s comes back as %v", terrain, g)
		}
	}
	before = 1
	for _, terrain := range []string{"0", "I", "II", "III", "IV"} {
		h, err := HandheldOf(terrain)
		if err != nil || h.Factor >= before {
			t.Errorf("%s: %v, %v", terrain, h, err)
		}
		before = h.Factor
	}
	if _, err := HandheldOf("V"); err == nil {
		t.Error("terrain V is accepted")
	}
}

func TestDirections(t *testing.T) {
	if got := Directions(nil); len(got) != 24 || got[0] != 0 || got[6] != math.Pi/2 {
		t.Errorf("without faces: %v", got)
	}
	// A face on the grid adds nothing; one off it adds two, once.
	if got := Directions([]float64{math.Pi / 2, -math.Pi, 20 * math.Pi}); len(got) != 24 {
		t.Errorf("faces on the grid: %d directions", len(got))
	}
	if got := Directions([]float64{math.NaN(), math.Inf(1), 0.1}); len(got) != 26 {
		t.Errorf("a face behind one without a direction: %d directions", len(got))
	}
	rapid.Check(t, func(t *rapid.T) {
		f := rapid.Float64Range(-20, 20).Draw(t, "face")
		d := Directions([]float64{f, f, f + math.Pi, math.NaN()})
		if len(d) != 26 && len(d) != 24 {
			t.Fatalf("%d directions", len(d))
		}
		for _, normal := range []float64{f, f + math.Pi} {
			if !slices.ContainsFunc(d, func(a float64) bool { return math.Abs(math.Remainder(a-normal, 2*math.Pi)) < 1.1e-6 }) {
				t.Fatalf("normal %v is not in %v", normal, d)
			}
		}
		for i, a := range d {
			if a < 0 || a >= 2*math.Pi || i > 0 && a-d[i-1] <= 1e-6 {
				t.Fatalf("%v is out of order, or twice, in %v", a, d)
			}
		}
	})
}

// Every row of data names its source and how certain it is.
func TestDataHasSources(t *testing.T) {
	known := []string{"standard clause as reproduced in ", "published in ", "computed from ", "common practice, no source", "from memory"}
	err := fs.WalkDir(dataFiles, "data", func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		f, err := dataFiles.Open(path)
		if err != nil {
			return err
		}
		defer f.Close()
		rows, err := csv.NewReader(f).ReadAll()
		if err != nil {
			return err
		}
		for i, row := range rows[1:] {
			source, certainty := row[len(row)-2], row[len(row)-1]
			if source == "" || !slices.ContainsFunc(known, func(k string) bool { return strings.HasPrefix(certainty, k) }) {
				t.Errorf("%s row %d: source %q, certainty %q", path, i+2, source, certainty)
			}
		}
		return nil
	})
	if err != nil {
		t.Error(err)
	}
}

func BenchmarkWindLoads(b *testing.B) {
	for _, site := range everySite {
		b.Run(string(site.Basis), func(b *testing.B) { benchmarkLoads(b, site) })
	}
}

func benchmarkLoads(b *testing.B, site Site) {
	m := siteModel(b, site)
	var ss []Surface
	for i := range 1000 {
		s := Surface{Shape: Shape(1 + i%6), X: float64(i % 40), Y: float64(i / 40), Turn: float64(i) * 0.1,
			Bottom: 0.1, Top: 2 + float64(i%7)*0.5, Width: 0.8, Depth: 0.4}
		if s.Shape == Panel {
			s.Width, s.Solidity = 1+float64(i%9), 0.4+0.6*float64(i%2)
		}
		ss = append(ss, s)
	}
	directions := Directions(nil)
	var loads []Load
	b.ReportAllocs()
	for b.Loop() {
		for i := range ss {
			for _, d := range directions {
				var err error
				if loads, err = m.AppendLoads(loads[:0], &ss[i], 20, d); err != nil {
					b.Fatal(err)
				}
			}
		}
	}
}
