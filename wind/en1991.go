package wind

import "math"

const (
	sourceWallEN    = "EN 1991-1-4 7.4.1, free-standing wall, zones A to D from one end, q_p at the top, return corner and solidity interpolated, summed into their resultant"
	sourceBoardEN   = "EN 1991-1-4 7.4.3, signboard, q_p at its middle, resultant 0.25 b off the centre"
	sourceLatticeEN = "EN 1991-1-4 7.11, plane lattice, highest coefficient on the member area, psi_lambda 1, q_p at the top"
	sourceBoxEN     = "EN 1991-1-4 7.6, rectangular section, c_f0 psi_r psi_lambda of each face, q_p of 7.2.2; between the faces the rule of this project"
	sourcePolygonEN = "EN 1991-1-4 7.8, regular polygon, c_f0 psi_lambda on the circumscribed width, q_p at the top of the section"
	sourceRoundEN   = "EN 1991-1-4 7.9, circular cylinder, c_f0 by Reynolds number and roughness, psi_lambda, q_p at the top of the section"
)

const (
	// latticeEN is the solidity up to which EN 1991-1-4 7.4.1 treats a wall as a lattice.
	latticeEN = 0.8
	// viscosity, m2/s, of air (EN 1991-1-4 7.9.1, formula 7.15).
	viscosity = 15e-6
	// roughestEN is the k/b of the highest line of EN 1991-1-4 Fig. 7.28, and
	// fastestEN the Reynolds number at which the figure ends.
	roughestEN, fastestEN = 1e-2, 1e7
	// longestEN is the d/b at which EN 1991-1-4 Fig. 7.23 ends.
	longestEN = 50
	// roundestEN is the r/b at which EN 1991-1-4 Fig. 7.24 ends.
	roundestEN = 0.4
)

// tablesEN are the tables of EN 1991-1-4.
type tablesEN struct {
	// c_p,net of walls by l/h, zones A to D: without and with a return corner, and
	// at the least solidity.
	wall, corner, porous [4]curve

	board, latticeFlat, latticeRound constant
	polygon                          [Panel + 1]constant // c_f0 by Shape
	cylinder                         constant            // highest c_f0

	rectangle   curve // c_f0 by log10 of d/b
	rounded     curve // psi_r by r/b
	endEffect   curve // psi_lambda by log10 of lambda
	slenderFlat curve // lambda over l/b, by l
	slenderRnd  curve
	slenderest  float64 // highest lambda

	roughness [3]roughnessEN // by Roughness
}

// roughnessEN is an equivalent roughness: a length (m), or a part of the diameter.
type roughnessEN struct {
	k, overB float64
	from     string
}

// wallEnds, in h from the windward end, of zones A to D.
var wallEnds = [4]float64{0.3, 2, 4, math.Inf(1)}

// appendPanelEN appends the cases of a panel: a lattice up to solidity 0.8, a
// signboard when it is clear of the ground or no longer than high, else a wall.
func (m *Model) appendPanelEN(dst []Load, p *panel, l Load, side, z, speed float64) ([]Load, error) {
	t := &m.tables.en
	gap := p.top - p.height
	switch {
	case p.solidity <= latticeEN:
		cf := t.latticeFlat.v
		if p.s.RoundMembers {
			cf = t.latticeRound.v
		}
		l.Case, l.Source, l.Reading = CaseA, sourceLatticeEN, ReadingOpen
		l.Area *= p.solidity
		l.Cf = cf * l.Oblique
		return append(dst, p.place(l, side, 0, z)), nil
	case gap >= p.height/4 || p.length <= p.height:
		l.Z = gap + p.height/2
		var err error
		if l.Q, l.Kz, err = m.Pressure(l.Z, speed); err != nil {
			return dst, err
		}
		l.Source = sourceBoardEN
		for _, start := range [...]bool{true, false} {
			// The whole force on one half puts the resultant 0.25 b off the middle.
			zones := p.zones(start)
			zones.add(2*t.board.v, p.length/2)
			zones.add(0, p.length)
			l.Case = CaseOffEnd
			if start {
				l.Case = CaseOffStart
			}
			dst = m.appendZones(dst, p, l, &zones, start, l.Oblique, side, z)
		}
		return dst, nil
	}
	l.Source, l.Reading = sourceWallEN, ReadingWall
	for i, start := range [...]bool{true, false} {
		zones := p.zones(start)
		for k, end := range wallEnds {
			zones.add(t.wallCp(k, p.length/p.height, p.s.Return[i]/p.height, p.solidity), end*p.height)
		}
		l.Case = CaseZonesEnd
		if start {
			l.Case = CaseZonesStart
		}
		dst = m.appendZones(dst, p, l, &zones, start, l.Oblique, side, z)
	}
	return dst, nil
}

// wallCp is c_p,net of zone k (0 to 3 for A to D) of Table 7.9, linear in l/h, in
// the length of the return corner over h, and in solidity from 0.8 to 1.
func (t *tablesEN) wallCp(k int, ratio, corner, solidity float64) float64 {
	cp := t.wall[k].at(ratio)
	cp += min(1, corner) * (t.corner[k].at(ratio) - cp)
	porous := t.porous[k].at(ratio)
	return porous + (solidity-latticeEN)/(1-latticeEN)*(cp-porous)
}

// appendPrismEN appends the load on a pillar section: F = c_s c_d c_f q_p(z_e) A_ref.
func (m *Model) appendPrismEN(dst []Load, s *Surface, w flow) ([]Load, error) {
	t := &m.tables.en
	bottom, top, least := s.piece()
	own, broad := s.Width, s.Width
	if s.Shape == Rectangle {
		own, broad = min(s.Width, s.Depth), max(s.Width, s.Depth)
	}
	length, ratio := top-bottom, least/own
	sin, cos := math.Sincos(s.Turn)
	ux, uy := w.x*cos+w.y*sin, w.y*cos-w.x*sin // the wind along local x and y
	z := s.Top
	if s.Shape <= Rectangle {
		z = stripEN(s, top, ux, uy)
	}
	q, kz, err := m.Pressure(z, w.gust)
	if err != nil {
		return dst, err
	}
	middle := (s.Bottom + s.Top) / 2
	l := Load{
		Surface: s.Name, Case: CaseWhole, FromDeg: w.fromDeg(), Speed: m.Speed(w.gust),
		Z: z, Kz: kz, Q: q, G: m.site.G, Kd: m.kd[s.Shape], Openings: 1, Oblique: 1, Reduced: 1,
		At: [3]float64{s.X, s.Y, middle}, Reading: ReadingPrism,
	}
	band := s.Top - s.Bottom
	var fx, fy float64 // sum of c_f times breadth, m, along local x and y
	switch s.Shape {
	case Square, Rectangle:
		depth := s.Depth
		if s.Shape == Square {
			depth = s.Width
		}
		if broad > longestEN*own*(1+noise) {
			return dst, &LimitError{Quantity: "depth over breadth, d/b", Value: broad / own, Limit: longestEN, Source: "EN 1991-1-4 Fig. 7.23"}
		}
		if s.Corner > roundestEN*broad*(1+noise) {
			return dst, &LimitError{Quantity: "corner radius over breadth, r/b", Value: s.Corner / broad, Limit: roundestEN, Source: "EN 1991-1-4 Fig. 7.24"}
		}
		rounded := t.rounded.at(s.Corner / broad)
		endX, endY := t.endOf(length, depth*ratio, t.slenderFlat), t.endOf(length, s.Width*ratio, t.slenderFlat)
		cfX := t.rectangle.at(math.Log10(s.Width/depth)) * rounded * endX
		cfY := t.rectangle.at(math.Log10(depth/s.Width)) * rounded * endY
		fx, fy = boxBreadth(s.Width, depth, ux, uy, cfX, cfY, cfX, cfY)
		l.Area = (s.Width*math.Abs(uy) + depth*math.Abs(ux)) * band
		l.Slender, l.Source = endX, sourceBoxEN
		if math.Abs(uy) > math.Abs(ux) {
			l.Slender = endY
		}
	case Hexagon, Octagon:
		sides := 6.0
		if s.Shape == Octagon {
			sides = 8
		}
		b := s.Width / math.Cos(math.Pi/sides)
		l.Slender = t.endOf(length, b*ratio, t.slenderFlat)
		cf := t.polygon[s.Shape].v * l.Slender
		fx, fy = cf*b*ux, cf*b*uy
		l.Area, l.Source = b*band, sourcePolygonEN
	case Round:
		v := math.Sqrt(2 * q / m.site.AirDensity)
		re := s.Width * v / viscosity
		if re > fastestEN {
			return dst, &LimitError{Quantity: "Reynolds number", Value: re, Limit: fastestEN, Source: "EN 1991-1-4 Fig. 7.28"}
		}
		l.Slender = t.endOf(length, s.Width*ratio, t.slenderRnd)
		cf := t.cylinderCf(re, t.kOverB(s)) * l.Slender
		fx, fy = cf*s.Width*ux, cf*s.Width*uy
		l.Area, l.Source = s.Width*band, sourceRoundEN
	}
	l.Cf = math.Hypot(fx, fy) * band / l.Area
	f := l.Q * l.Kd * l.G * band
	l.Force = [3]float64{f*(fx*cos-fy*sin) + 0, f*(fx*sin+fy*cos) + 0, 0} // + 0: no negative zero
	dst = append(dst, l)
	if s.Shape == Rectangle && own <= plateEN*broad*(1+noise) {
		plate := s.plate()
		return m.appendPanel(dst, &plate, w)
	}
	return dst, nil
}

// stripEN is the reference height of a section of a rectangular pillar with its top
// at top m, for the wind's unit vector in its axes: that of the strip it lies in (7.2.2).
// Strips are as deep as the breadth across the wind. The standard knows wind on either
// face only. Wind at an angle blows on both, so that the deeper strips, those of the
// broader face, must serve: deeper strips never take less pressure.
func stripEN(s *Surface, top, ux, uy float64) float64 {
	b := s.Width
	if s.Shape == Rectangle {
		switch {
		case math.Abs(uy) < noise: // along x, on the face that is Depth broad
			b = s.Depth
		case math.Abs(ux) >= noise:
			b = max(s.Width, s.Depth)
		}
	}
	if s.Top > top-b {
		return top
	}
	return max(s.Top, min(b, top))
}

// plateEN is the d/b up to which a rectangular section is read as a panel too. 7.4 sets
// no least thickness to walls and signboards, and 7.6 no least depth to sections, so that
// both apply to an upright plate: all their loads are alternatives. 0.2 is where Fig. 7.23
// begins, below which the depth of a section no longer matters.
const plateEN = 0.2

// plate is a flat rectangular section as a panel.
func (s *Surface) plate() Surface {
	p := *s
	p.Shape, p.Solidity, p.Return, p.WallLength = Panel, 1, [2]float64{}, 0
	if s.Depth > s.Width {
		p.Width, p.Depth, p.Turn = s.Depth, s.Width, s.Turn+math.Pi/2
	}
	return p
}

// kOverB is the roughness of a cylinder over its diameter.
func (t *tablesEN) kOverB(s *Surface) float64 {
	if s.EquivalentRoughness > 0 {
		return s.EquivalentRoughness / s.Width
	}
	r := t.roughness[s.Roughness]
	return r.overB + r.k/s.Width
}

// lambda is the effective slenderness of a piece of the given length and breadth
// (m), Table 7.16.
func (t *tablesEN) lambda(length, breadth float64, perLength curve) float64 {
	return min(perLength.at(length)*length/breadth, t.slenderest)
}

// endOf is psi_lambda of Fig. 7.36 for that slenderness. Below lambda = 1, where
// the figure begins, its first value is the harder.
func (t *tablesEN) endOf(length, breadth float64, perLength curve) float64 {
	return t.endEffect.at(math.Log10(t.lambda(length, breadth, perLength)))
}

// cylinderCf is c_f0 of a cylinder for its Reynolds number and roughness over
// diameter, Fig. 7.28. A roughness beyond the lines of the figure takes the highest value.
func (t *tablesEN) cylinderCf(re, kOverB float64) float64 {
	r := re / 1e6
	smooth := 0.11 / math.Pow(r, 1.4)
	if kOverB > roughestEN || !(smooth < t.cylinder.v) {
		return t.cylinder.v
	}
	rough := 1.2 + 0.18*math.Log10(10*kOverB)/(1+0.4*math.Log10(r))
	return min(t.cylinder.v, max(smooth, rough))
}
