package wind

import (
	"fmt"
	"math"
)

// prism works the coefficient of a pillar after ASCE 7.
func (w *work) prism() {
	s, l, t := w.s, w.load, w.m.tables
	bottom, top, width := s.piece()
	slender := (top - bottom) / width
	ratio := put("h/D = %v / %v = %v: ", top-bottom, width, slender)
	switch s.Shape {
	case Round:
		slowText, slow, from := t.roundSlow.reading(slender, false)
		fastText, fast, fastFrom := t.roundFast[s.Roughness].reading(slender, false)
		names := [...]string{VeryRough: "very rough", Rough: "rough", Smooth: "moderately smooth"}
		w.held(s.Width, l.Q*l.Kd, slow, fast, ratio+"low "+slowText+"; high, "+names[s.Roughness]+", "+fastText, origins(from, fastFrom))
	case Hexagon, Octagon:
		w.projected()
		text, cf, from := t.polygon.reading(slender, false)
		w.add(FactorOfCf, cf, "force coefficient on the projected width", "table, straight in h/D", ratio+text, from)
	default:
		w.box(slender, ratio)
	}
}

// projected works the breadth of a polygon across the wind.
func (w *work) projected() {
	b := polygonBreadth(w.s.Shape, w.s.Width, math.Atan2(w.uy, w.ux))
	w.step(b, "breadth across the wind", "projected width of the "+w.s.Shape.String()+" of that width across flats", put("%v across flats: %v m", w.s.Width, b), "geometry")
}

// sides are the two sides of a square or rectangle.
func (s *Surface) sides() (width, depth float64) {
	if s.Shape == Square {
		return s.Width, s.Width
	}
	return s.Width, s.Depth
}

// across reports whether the wind blows across an axis of the surface, given its
// component along it, so closely that the other face counts for nothing in a coefficient.
func across(u float64) bool { return math.Abs(u) < 1e-12 }

// box works a square or rectangular pillar of ASCE 7, read as a chimney or as a sign.
func (w *work) box(slender float64, ratio string) {
	s, l, t := w.s, w.load, w.m.tables
	width, depth := s.sides()
	faceText, face, faceFrom := t.squareFace.reading(slender, false)
	if l.Reading == ReadingSign {
		w.compareReadings(slender, width, depth, ratio+faceText, faceFrom)
		w.boxSign(width, depth)
		return
	}
	if across(w.ux) || across(w.uy) {
		w.add(FactorOfCf, face, "force coefficient of a square, face-on", "table, straight in h/D", ratio+faceText, faceFrom)
		return
	}
	w.step(face, "force coefficient of a square, face-on", "table, straight in h/D", ratio+faceText, faceFrom)
	text, diagonal, from := t.squareDiagonal.reading(slender, false)
	w.step(diagonal, "force coefficient of a square on the diagonal, on its projected width", "table, straight in h/D", ratio+text, from)
	turn := math.Asin(min(math.Abs(w.ux), math.Abs(w.uy), 1)) / (math.Pi / 4)
	along := face + (diagonal*math.Sqrt2-face)*turn
	w.step(along, "coefficient on the least width for the wind's angle", "c = face + (sqrt(2) · diagonal - face) · angle off the nearer face / 45°",
		put("%v + (1.414 · %v - %v) · %v° / 45° = %v", face, diagonal, face, turn*45, along), "a rule of this project: the force between the two runs straight with the angle")
	w.boxSum(width, depth, along, along, face, face, diagonal)
}

// compareReadings tells why a pillar is read as a sign.
// face tells of the coefficient of a chimney, face-on.
func (w *work) compareReadings(slender, width, depth float64, face, faceFrom string) {
	s, m := w.s, w.m
	bottom, top, _ := s.piece()
	middle, _, err := m.Pressure((s.Bottom+s.Top)/2, w.speed)
	if err != nil {
		return // AppendLoads would have said so
	}
	px, py := m.tables.pillarBreadth(slender, width, depth, w.ux, w.uy)
	sx, sy := m.tables.signBreadth(bottom, top, width, depth, w.ux, w.uy)
	pillar := middle * m.kd[s.Shape] * math.Hypot(px, py)
	sign := w.load.Q * m.kd[Panel] * math.Hypot(sx, sy)
	w.step(sign, "a chimney or a solid sign", "the larger of q · Kd · sum of Cf · breadth",
		"as a chimney, face-on, "+face+put("; at this angle %v · %v · %v = %v N/m; as a solid sign, worked below, %v · %v · %v = %v N/m",
			middle, m.kd[s.Shape], math.Hypot(px, py), pillar, w.load.Q, m.kd[Panel], math.Hypot(sx, sy), sign), origins(faceFrom, "ASCE 7-16 Fig. 29.3-1"))
}

// boxSign works a pillar read as a solid sign.
func (w *work) boxSign(width, depth float64) {
	bottom, top, _ := w.s.piece()
	height := top - bottom
	cf := func(breadth float64, factor Factor, face string) float64 {
		text, v, from := w.m.tables.sign.reading("s/h", "B/s", height/top, breadth/height)
		w.add(factor, v, "force coefficient of "+face+" as a solid sign", "table, straight in s/h and in B/s",
			put("s/h = %v / %v, B/s = %v / %v; ", height, top, breadth, height)+text, from)
		return v
	}
	switch {
	case across(w.ux):
		cf(width, FactorOfCf, "the face")
	case across(w.uy):
		cf(depth, FactorOfCf, "the face")
	default:
		cfX, cfY := cf(depth, Step, "the faces across local x"), cf(width, Step, "the faces across local y")
		w.boxSum(width, depth, cfX, cfY, cfX, cfY, 0)
	}
}

// boxSum works boxBreadth and the coefficient on the projected width, which is at least least.
func (w *work) boxSum(width, depth, squareX, squareY, panelX, panelY, least float64) {
	fx, fy := boxBreadth(width, depth, w.ux, w.uy, squareX, squareY, panelX, panelY)
	ax, ay := math.Abs(w.ux), math.Abs(w.uy)
	narrow := min(width, depth)
	numbers := func(square, panel, over, normal, along, sum float64) string {
		text := put("%v · %v · %v", square, narrow, normal)
		if over > 0 {
			text += put(" + %v · %v · %v", panel, over, obliqueFactor(normal, along))
		}
		return text + put(" = %v m", sum)
	}
	const formula = "c · least width · cosine, and for what the face has over that, c · rest · oblique factor"
	const source = "a rule of this project, which runs without a step from a square to a panel"
	w.step(math.Abs(fx), "coefficient times breadth along local x", formula, numbers(squareX, panelX, depth-narrow, ax, ay, math.Abs(fx)), source)
	w.step(math.Abs(fy), "coefficient times breadth along local y", formula, numbers(squareY, panelY, width-narrow, ay, ax, math.Abs(fy)), "")
	b := width*ay + depth*ax
	value := math.Hypot(fx, fy) / b
	text := put("sqrt(%v² + %v²) / (%v · %v + %v · %v) = %v", math.Abs(fx), math.Abs(fy), width, ay, depth, ax, value)
	if value < least {
		value = least
		text += put(", at least the %v of the diagonal", least)
	}
	w.add(FactorOfCf, value, "force coefficient on the projected width", "Cf = both sums together / projected width", text, "")
}

// prismEN works the coefficient of a pillar after EN 1991-1-4.
func (w *work) prismEN() {
	s, l, t := w.s, w.load, &w.m.tables.en
	bottom, top, least := s.piece()
	length := top - bottom
	switch s.Shape {
	case Hexagon, Octagon:
		sides := 6.0
		if s.Shape == Octagon {
			sides = 8
		}
		b := s.Width / math.Cos(math.Pi/sides)
		c := t.polygon[s.Shape]
		w.step(b, "breadth, of the circumscribed circle", "b = width across flats / cos(180° / sides)", put("%v / cos(180° / %v) = %v m", s.Width, sides, b), "EN 1991-1-4 Fig. 7.26")
		w.add(FactorOfCf, c.v, "force coefficient without end flow", "c_f,0 of the "+s.Shape.String(), "c_f,0 = "+g(c.v), c.from)
		w.endEffect(length, b*least/s.Width, t.slenderFlat, FactorOfCf, "")
	case Round:
		w.cylinder(l.Q)
		w.endEffect(length, least, t.slenderRnd, FactorOfCf, "")
	default:
		w.boxEN(length)
	}
}

// boxEN works a square or rectangular section.
func (w *work) boxEN(length float64) {
	s, t := w.s, &w.m.tables.en
	width, depth := s.sides()
	_, _, least := s.piece()
	ratio := least / min(width, depth)
	// face works the coefficient of a face of breadth b, depth d, and tells of its factors.
	face := func(b, d float64, factor Factor, name string) (float64, string) {
		text, cf0, from := t.rectangle.reading(math.Log10(d/b), true)
		w.add(factor, cf0, "force coefficient without end flow"+name, "c_f,0 by d/b, straight in log(d/b)", put("d/b = %v / %v = %v: ", d, b, d/b)+text, from)
		product, factors := cf0, g(cf0)
		if s.Corner > 0 {
			r := s.Corner / max(width, depth)
			text, psi, from := t.rounded.reading(r, false)
			w.add(factor, psi, "rounded corners"+name, "psi_r by r/b", put("r/b = %v / %v = %v: ", s.Corner, max(width, depth), r)+text, from)
			product *= psi
			factors += " · " + g(psi)
		}
		psi := w.endEffect(length, b*ratio, t.slenderFlat, factor, name)
		return product * psi, factors + " · " + g(psi)
	}
	switch {
	case across(w.ux):
		face(width, depth, FactorOfCf, "")
	case across(w.uy):
		face(depth, width, FactorOfCf, "")
	default:
		const x, y = ", face across local x", ", face across local y"
		cfX, factors := face(depth, width, Step, x)
		w.step(cfX, "force coefficient"+x, "c_f = c_f,0 · psi_r · psi_lambda", factors+" = "+g(cfX), "EN 1991-1-4 formula 7.9")
		cfY, factors := face(width, depth, Step, y)
		w.step(cfY, "force coefficient"+y, "c_f = c_f,0 · psi_r · psi_lambda", factors+" = "+g(cfY), "EN 1991-1-4 formula 7.9")
		w.boxSum(width, depth, cfX, cfY, cfX, cfY, 0)
	}
}

// endEffect works psi_lambda for a length and breadth, m.
func (w *work) endEffect(length, b float64, perLength curve, factor Factor, name string) float64 {
	t := &w.m.tables.en
	text, per, from := perLength.reading(length, false)
	lambda := t.lambda(length, b, perLength)
	numbers := put("%v · %v / %v = %v", per, length, b, per*length/b)
	if lambda < per*length/b {
		numbers += ", at most " + g(lambda)
	}
	if len(perLength.x) > 0 && length > perLength.x[0] {
		numbers = "f: " + text + "; " + numbers
	}
	w.step(lambda, "effective slenderness"+name, "lambda = f · l / b, at most 70; f 2 up to 15 m and 1.4 from 50 m, of a cylinder half as much", numbers, from)
	text, psi, from := t.endEffect.reading(math.Log10(lambda), true)
	w.add(factor, psi, "end effect"+name, "psi_lambda by lambda, straight in log(lambda)", put("lambda = %v: ", lambda)+text, from)
	return psi
}

// cylinder works c_f,0 of a cylinder in q_p, Pa.
func (w *work) cylinder(q float64) {
	s, t := w.s, &w.m.tables.en
	rho := w.m.site.AirDensity
	v := math.Sqrt(2 * q / rho)
	re := s.Width * v / viscosity
	w.step(re, "Reynolds number", "Re = b · v / nu, v = sqrt(2 · q_p / rho)", put("v = sqrt(2 · %v / %v) = %v m/s; %v · %v / %v = %v", q, rho, v, s.Width, v, viscosity, re), "EN 1991-1-4 formula 7.15")
	r := t.roughness[s.Roughness]
	k := t.kOverB(s)
	source := r.from
	numbers := put("k/b = %v", k)
	switch {
	case s.EquivalentRoughness > 0:
		source = "k as given for the section"
		numbers = put("%v / %v = %v", s.EquivalentRoughness, s.Width, k)
	case r.k > 0:
		numbers = put("%v / %v = %v", r.k, s.Width, k)
	}
	w.step(k, "roughness over diameter", "k/b", numbers, source)
	value := t.cylinderCf(re, k)
	million := re / 1e6
	smooth := 0.11 / math.Pow(million, 1.4)
	formula := fmt.Sprintf("c_f,0 = the larger of 0.11 / (Re/10⁶)^1.4 and 1.2 + 0.18 · log(10 k/b) / (1 + 0.4 · log(Re/10⁶)), at most %s", g(t.cylinder.v))
	switch {
	case k > roughestEN:
		numbers = put("k/b is beyond the lines of the figure, whose highest value is %v", value)
	case smooth >= t.cylinder.v:
		numbers = put("0.11 / %v^1.4 = %v; %v", million, smooth, value)
	default:
		rough := 1.2 + 0.18*math.Log10(10*k)/(1+0.4*math.Log10(million))
		numbers = put("0.11 / %v^1.4 = %v; 1.2 + 0.18 · log(10 · %v) / (1 + 0.4 · log(%v)) = %v; %v", million, smooth, k, million, rough, value)
	}
	w.add(FactorOfCf, value, "force coefficient without end flow", formula, numbers, "EN 1991-1-4 Fig. 7.28; its highest value: "+t.cylinder.from)
}
