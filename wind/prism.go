package wind

import "math"

// appendPrism appends the load on a pillar section: F = q Kd G Cf Af, q at the
// section's centre (ASCE 7-16 Eq. 29.4-1).
func (m *Model) appendPrism(dst []Load, s *Surface, w flow) ([]Load, error) {
	bottom, top, width := s.piece()
	slender := (top - bottom) / width
	// Below h/D = 1, where the table begins, its first column is on the harder
	// side: every row falls with h/D.
	if end := m.tables.slender[len(m.tables.slender)-1]; slender > end*(1+noise) {
		return dst, &LimitError{Quantity: "height over least width, h/D", Value: slender, Limit: end, Source: m.source.slender}
	}
	z := (s.Bottom + s.Top) / 2
	q, kz, err := m.Pressure(z, w.gust)
	if err != nil {
		return dst, err
	}
	l := Load{
		Surface: s.Name, Case: CaseWhole, FromDeg: w.fromDeg(), Speed: m.Speed(w.gust),
		Z: z, Kz: kz, Q: q, G: m.site.G, Kd: m.kd[s.Shape], Openings: 1, Oblique: 1, Reduced: m.onLoad(),
		At: [3]float64{s.X, s.Y, z}, Reading: ReadingPrism,
	}
	band := s.Top - s.Bottom
	sin, cos := math.Sincos(s.Turn)
	ux, uy := w.x*cos+w.y*sin, w.y*cos-w.x*sin // the wind along local x and y

	var fx, fy float64 // sum of Cf times breadth, m, along local x and y
	switch s.Shape {
	case Square, Rectangle:
		depth := s.Depth
		l.Source = m.source.rectangle
		if s.Shape == Square {
			depth, l.Source = s.Width, m.source.square
		}
		l.Area = (s.Width*math.Abs(uy) + depth*math.Abs(ux)) * band
		fx, fy = m.tables.pillarBreadth(slender, s.Width, depth, ux, uy)

		// The same faces as solid signs, with q at the top of the piece.
		qTop, kzTop, err := m.Pressure(top, w.gust)
		if err != nil {
			return dst, err
		}
		sx, sy := m.tables.signBreadth(bottom, top, s.Width, depth, ux, uy)
		// Force and arm each take the larger of the two readings.
		l.At[2] += signRise(top-bottom, top)
		if qTop*m.kd[Panel]*math.Hypot(sx, sy) > q*l.Kd*math.Hypot(fx, fy) {
			fx, fy = sx, sy
			l.Kd = m.kd[Panel]
			l.Z, l.Kz, l.Q = top, kzTop, qTop
			l.Source, l.Reading = m.source.pillar, ReadingSign
		}
	case Hexagon, Octagon:
		b := polygonBreadth(s.Shape, s.Width, math.Atan2(uy, ux))
		cf := m.tables.polygon.at(slender)
		fx, fy = cf*b*ux, cf*b*uy
		l.Area, l.Source = b*band, m.source.polygon
	case Round:
		cf := heldCf(s.Width, q*l.Kd, m.tables.roundSlow.at(slender), m.tables.roundFast[s.Roughness].at(slender))
		fx, fy = cf*s.Width*ux, cf*s.Width*uy
		l.Area, l.Source = s.Width*band, m.source.round
	}
	sum := math.Hypot(fx, fy)
	l.Cf = sum * band / l.Area
	f, minimum := m.press(l.Q*l.Kd*l.G*l.Cf, l.Area)
	l.Minimum = minimum
	f *= l.Reduced / sum
	l.Force = [3]float64{f*(fx*cos-fy*sin) + 0, f*(fx*sin+fy*cos) + 0, 0} // + 0: no negative zero
	return append(dst, l), nil
}

// pillarBreadth sums coefficient times breadth (m) along local x and y of a square or
// rectangular pillar, by the wind's unit vector in those axes.
func (t *tableSet) pillarBreadth(slender, width, depth, ux, uy float64) (fx, fy float64) {
	face, diagonal := t.squareFace.at(slender), t.squareDiagonal.at(slender)
	// Angle off the nearer face normal, 0 to 1 at the diagonal.
	turn := math.Asin(min(math.Abs(ux), math.Abs(uy), 1)) / (math.Pi / 4)
	along := face + (diagonal*math.Sqrt2-face)*turn
	fx, fy = boxBreadth(width, depth, ux, uy, along, along, face, face)
	// Never below the diagonal coefficient on the projected width.
	if c := diagonal * (width*math.Abs(uy) + depth*math.Abs(ux)) / math.Hypot(fx, fy); c > 1 {
		fx, fy = fx*c, fy*c
	}
	return fx, fy
}

// signBreadth is the same for the faces of a pillar from bottom to top m read as solid signs.
func (t *tableSet) signBreadth(bottom, top, width, depth, ux, uy float64) (fx, fy float64) {
	height := top - bottom
	cfX, cfY := t.sign.at(height/top, depth/height), t.sign.at(height/top, width/height)
	return boxBreadth(width, depth, ux, uy, cfX, cfY, cfX, cfY)
}

// boxBreadth sums coefficient times breadth over the faces of a rectangular
// pillar, along local x and y, for the wind's unit vector in those axes.
//
// The pillar is taken as a square of its least width, whose force goes with the
// wind (coefficients squareX, squareY), plus, for what its longer face has over
// that, a panel under the oblique rule (coefficients panelX, panelY). X is the
// face normal to x. So it runs without a step from a square to a panel.
func boxBreadth(width, depth, ux, uy, squareX, squareY, panelX, panelY float64) (fx, fy float64) {
	least := min(width, depth)
	ax, ay := math.Abs(ux), math.Abs(uy)
	fx = squareX*least*ax + panelX*(depth-least)*obliqueFactor(ax, ay)
	fy = squareY*least*ay + panelY*(width-least)*obliqueFactor(ay, ax)
	return math.Copysign(fx, ux), math.Copysign(fy, uy)
}

// polygonBreadth is the projected width of a regular hexagon or octagon of width
// flats across its flats, for wind at an angle (rad) from a face normal.
func polygonBreadth(shape Shape, flats, angle float64) float64 {
	sides := 6.0
	if shape == Octagon {
		sides = 8
	}
	half := math.Pi / sides
	radius := flats / 2 / math.Cos(half)
	// The widest corner across the wind: corners lie at half, 3 half, ... from a face normal.
	off := math.Mod(math.Abs(angle)+math.Pi/2-half, 2*half)
	return 2 * radius * math.Cos(min(off, 2*half-off))
}

// regimeChange is D sqrt(q), in m sqrt(Pa), above which the flow round a cylinder
// is supercritical (ASCE 7-16 Fig. 29.4-1, 2.5 in ft and psf).
const regimeChange = 5.3

// heldCf is the coefficient of a cylinder of diameter d (m) in velocity pressure
// q (Pa), from its values on either side of the change of regime, where it drops.
// A lower wind comes before a higher one, so the force is never taken below what
// it was just before the change.
func heldCf(d, q, slow, fast float64) float64 {
	if d*math.Sqrt(q) <= regimeChange {
		return slow
	}
	qChange := (regimeChange / d) * (regimeChange / d)
	return max(fast, slow*qChange/q)
}
