package wind

import (
	"fmt"
	"math"
)

// Shape is the plan shape of a surface.
type Shape int

const (
	Square    Shape = iota + 1 // Width x Width pillar
	Rectangle                  // Width x Depth pillar, Width along local x
	Round                      // diameter Width
	Hexagon                    // Width across flats, a face normal along local x
	Octagon                    // Width across flats, a face normal along local x
	Panel                      // wall, sign, fence or gate leaf, Width long along local x
)

func (s Shape) String() string {
	names := [...]string{"", "square", "rectangle", "round", "hexagon", "octagon", "panel"}
	if s < Square || s > Panel {
		return fmt.Sprintf("Shape(%d)", int(s))
	}
	return names[s]
}

// Roughness is the surface of a round pillar. The zero value is the one with the
// highest coefficients.
type Roughness int

const (
	VeryRough Roughness = iota // ribs or lumps of 8 % of the diameter
	Rough                      // of 2 %
	Smooth                     // metal, planed timber, smooth render
)

// Surface is one pillar section, wall, sign or gate leaf. Lengths in m.
type Surface struct {
	Name  string
	Shape Shape

	X, Y        float64 // centre in plan
	Bottom, Top float64 // heights above ground
	Width       float64 // breadth, diameter, width across flats, or length of a panel
	Depth       float64 // of a rectangle, along local y; not used by other shapes (the edge of a panel takes no load of its own)
	Turn        float64 // rad, local x axis counterclockwise from east

	// The whole standing piece that this surface is a band of; it sets how slender
	// the piece is. All three zero: the surface is the whole piece.
	PieceBottom, PieceTop float64
	PieceWidth            float64 // least width of the piece; not used by a panel

	Roughness Roughness // of a round pillar
	// Equivalent roughness k of a round pillar, m, in place of that of its Roughness;
	// used in EN1991 (EN 1991-1-4 Table 7.13).
	EquivalentRoughness float64

	// Of a panel.
	Solidity     float64    // solid over gross area, above 0 to 1; 0 is taken as solid
	RoundMembers bool       // what an open panel (solidity below 0.7) is made of
	Member       float64    // diameter of round members; 0 takes the higher coefficients
	Return       [2]float64 // length of a return corner at the local -x and +x end of the whole wall
	// Of a panel that is one part of a longer wall, its parts joined edge to edge:
	// the length of the whole, and where this part's centre lies from its middle,
	// along local x. Zero length: the panel is the whole wall.
	WallLength, WallOffset float64

	Corner float64 // radius of the rounded corners of a square or rectangle; used in EN1991
}

// Load is the force of the wind on one surface in one case.
// Its length is Q Kd G Cf Area Reduced, or, where Minimum is set,
// MinimumPressure Area Oblique Reduced: on a part of a wall, its share of that.
type Load struct {
	Surface string
	Case    string  // one of the Case constants
	FromDeg float64 // bearing the wind blows from, degrees clockwise from north

	Speed    float64 // m/s, the speed in Q: see Model.Speed
	Z        float64 // m, height at which Q is taken
	Kz       float64 // height factor in Q: Kz, or ce of EN 1991-1-4
	Q        float64 // Pa, velocity pressure, without Kd
	Cf       float64 // force coefficient, with Openings and Oblique in it
	G, Kd    float64
	Area     float64 // m2, what Cf refers to
	Openings float64 // factor for the openings of a panel where Area is gross, else 1
	Oblique  float64 // factor for wind off the normal of a panel, see ObliqueRule, else 1
	Minimum  bool    // the least pressure of ASCE 7-16 29.7 decides
	Reduced  float64 // factor of a reduction on the load, else 1
	Slender  float64 // psi_lambda, the end-effect factor of EN 1991-1-4 7.13 in Cf, else 0

	Force [3]float64 // N
	At    [3]float64 // m, point of application

	Source  string // clause or table, and the rule used
	Reading string // how the surface was read: one of the Reading constants
}

// Cases of a surface. Start and end are the local -x and +x ends of a panel,
// left and right its local +y and -y sides.
const (
	CaseWhole      = "whole"       // a pillar
	CaseA          = "A"           // resultant at the centre
	CaseBStart     = "B start"     // resultant towards the start
	CaseBEnd       = "B end"       // resultant towards the end
	CaseCStart     = "C start"     // zones counted from the start
	CaseCEnd       = "C end"       // zones counted from the end
	CaseOffStart   = "off start"   // EN 1991-1-4 signboard, resultant 0.25 b towards the start
	CaseOffEnd     = "off end"     // EN 1991-1-4 signboard, resultant 0.25 b towards the end
	CaseZonesStart = "zones start" // EN 1991-1-4 wall, zones A to D counted from the start
	CaseZonesEnd   = "zones end"   // EN 1991-1-4 wall, zones A to D counted from the end
	CaseAlongLeft  = "along left"  // wind along the panel pushes it to its left
	CaseAlongRight = "along right" // wind along the panel pushes it to its right
)

// Readings of a surface.
const (
	ReadingPrism = "prism"
	ReadingSign  = "solid sign"
	ReadingOpen  = "open frame"
	ReadingAlong = "wind along"
	ReadingWall  = "free-standing wall" // of EN 1991-1-4 7.4.1
)

// piece returns the bottom, top and least width of the piece the surface belongs to.
func (s *Surface) piece() (bottom, top, width float64) {
	if s.PieceBottom == 0 && s.PieceTop == 0 && s.PieceWidth == 0 {
		width = s.Width
		if s.Shape == Rectangle {
			width = min(s.Width, s.Depth)
		}
		return s.Bottom, s.Top, width
	}
	return s.PieceBottom, s.PieceTop, s.PieceWidth
}

// maxSize, m, bounds every length and coordinate so that no result overflows.
const maxSize = 1e4

// check refuses a surface that is no body at all.
func (s *Surface) check() error {
	for _, v := range [...]float64{s.X, s.Y, s.Bottom, s.Top, s.Width, s.Depth, s.Turn,
		s.PieceBottom, s.PieceTop, s.PieceWidth, s.Solidity, s.Member, s.Return[0], s.Return[1],
		s.WallLength, s.WallOffset, s.Corner, s.EquivalentRoughness} {
		if !(math.Abs(v) <= maxSize) {
			return fmt.Errorf("wind: %s: %v is not a length or angle of a surface", s.Name, v)
		}
	}
	bottom, top, width := s.piece()
	switch {
	case s.Shape < Square || s.Shape > Panel:
		return fmt.Errorf("wind: %s: no shape %d", s.Name, int(s.Shape))
	case s.Roughness < VeryRough || s.Roughness > Smooth:
		return fmt.Errorf("wind: %s: no roughness %d", s.Name, int(s.Roughness))
	case s.Bottom < 0 || s.Top-s.Bottom < minSize:
		return fmt.Errorf("wind: %s: runs from %v m to %v m above ground", s.Name, s.Bottom, s.Top)
	case s.Width < minSize || s.Shape == Rectangle && s.Depth < minSize:
		return fmt.Errorf("wind: %s: has no width", s.Name)
	case bottom < 0 || bottom > s.Bottom+minSize || top < s.Top-minSize || s.Shape != Panel && width < minSize:
		return fmt.Errorf("wind: %s: is not within its piece (%v m to %v m, %v m wide)", s.Name, bottom, top, width)
	case s.Solidity < 0 || s.Solidity > 1:
		return fmt.Errorf("wind: %s: solidity %v is not between 0 and 1", s.Name, s.Solidity)
	case s.WallLength < 0 || s.WallLength > 0 && math.Abs(s.WallOffset)+s.Width/2 > s.WallLength/2+minSize:
		return fmt.Errorf("wind: %s: is not within its wall (%v m long, %v m off its middle)", s.Name, s.WallLength, s.WallOffset)
	case s.Member < 0 || s.Return[0] < 0 || s.Return[1] < 0 || s.Corner < 0 || s.EquivalentRoughness < 0:
		return fmt.Errorf("wind: %s: has a negative size", s.Name)
	}
	return nil
}

// minSize, m: anything smaller is a slip of the unit, and would make ratios overflow.
const minSize = 1e-4

// Loads returns the alternative loads on a surface for a speed (m/s, see Basis)
// blowing towards a direction (rad counterclockwise from east).
func (m *Model) Loads(s Surface, gust, towards float64) ([]Load, error) {
	return m.AppendLoads(nil, &s, gust, towards)
}

// AppendLoads is Loads for inner loops: it appends to dst and allocates nothing
// while dst has room for seven more. On an error dst is returned as it was.
func (m *Model) AppendLoads(dst []Load, s *Surface, gust, towards float64) ([]Load, error) {
	if err := s.check(); err != nil {
		return dst, err
	}
	if !(math.Abs(towards) <= maxSize) {
		return dst, fmt.Errorf("wind: %s: %v is not a direction", s.Name, towards)
	}
	n := len(dst)
	sin, cos := math.Sincos(towards)
	w := flow{gust: gust, towards: towards, x: cos, y: sin}
	var err error
	switch {
	case s.Shape == Panel:
		dst, err = m.appendPanel(dst, s, w)
	case m.site.Basis == EN1991:
		dst, err = m.appendPrismEN(dst, s, w)
	default:
		dst, err = m.appendPrism(dst, s, w)
	}
	if err != nil {
		return dst[:n], named(err, s.Name)
	}
	return dst, nil
}

// flow is a gust and the unit vector it blows along.
type flow struct{ gust, towards, x, y float64 }

// fromDeg is the bearing the wind comes from, free of rounding noise.
func (w flow) fromDeg() float64 {
	d := math.Mod(math.Round((270-w.towards*180/math.Pi)*1e9)/1e9, 360)
	if d < 0 {
		d += 360
	}
	return d
}

func named(err error, surface string) error {
	if l, ok := err.(*LimitError); ok {
		l.Surface = surface
	}
	return err
}
