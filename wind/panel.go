package wind

import "math"

// solidPanel is the least solidity of a panel that counts as a solid sign
// (ASCE 7-16 Fig. 29.3-1: openings under 30 % of the gross area).
const solidPanel = 0.7

// ObliqueRule says in words what Load.Oblique stands for. The fall beyond 45
// degrees is an assumption of this project, not of a standard.
const ObliqueRule = "wind off the normal of a panel: full normal force up to 45 degrees, then falling as sin(2 theta) " +
	"(an engineering assumption of this project), never below the loads of AS/NZS 1170.2 for wind along the panel"

// obliqueFactor is the part of a panel's full normal force that acts when the
// wind's unit vector has the components normal and along to it (absolute values).
func obliqueFactor(normal, along float64) float64 {
	if normal >= along {
		return 1
	}
	return 2 * normal * along
}

// signRise is how far above the middle of a solid face, from h-s to h above
// ground, its resultant acts (m). ASCE 7-16 Fig. 29.3-1 note 3: 0.05 h when it
// reaches the ground, else 0. Here it fades out down to s/h = 0.9, so that a
// small gap under a face does not lower the resultant below 0.55 h.
func signRise(s, h float64) float64 { return max(0, s/2-0.45*h) }

// noise is how far rounding may carry a ratio or a cosine: less than that never
// decides whether a case exists.
const noise = 1e-9

// appendPanel appends the cases of a panel. F = q Kd G Cf A (ASCE 7-16
// Eq. 29.3-1, Eq. 29.4-1; EN 1991-1-4 formula 5.3), normal to the panel.
func (m *Model) appendPanel(dst []Load, s *Surface, w flow) ([]Load, error) {
	p := panelOf(s)
	along, normal := w.x*p.cos+w.y*p.sin, w.y*p.cos-w.x*p.sin

	q, kz, err := m.Pressure(p.top, w.gust)
	if err != nil {
		return dst, err
	}
	l := Load{
		Surface: s.Name, FromDeg: w.fromDeg(), Speed: m.Speed(w.gust),
		Z: p.top, Kz: kz, Q: q, G: m.site.G, Kd: m.kd[Panel],
		Openings: 1, Area: s.Width * (s.Top - s.Bottom), Reading: ReadingSign, Reduced: m.onLoad(),
	}
	z := (s.Bottom + s.Top) / 2
	solid := p.solidity >= solidPanel
	if solid && m.site.Basis != EN1991 {
		z += signRise(p.height, p.top)
	}

	if math.Abs(normal) > noise {
		side := math.Copysign(1, normal)
		l.Oblique = obliqueFactor(math.Abs(normal), math.Abs(along))
		switch {
		case m.site.Basis == EN1991:
			dst, err = m.appendPanelEN(dst, &p, l, side, z, w.gust)
		case solid:
			dst = m.appendSign(dst, &p, l, side, z)
		default:
			dst, err = m.appendOpen(dst, &p, l, side, z, w.gust)
		}
		if err != nil {
			return dst, err
		}
	}
	if math.Abs(along) > math.Abs(normal)+noise {
		// Wind along the panel: its leading end is pushed to either side. A document
		// that multiplies by no gust-effect factor gave the coefficients, so none of
		// the basis lowers them.
		cf, x := m.alongCf(&p, along > 0)
		gaps := 1 - p.solidity
		l.Source, l.Reading = sourceAlong, ReadingAlong
		l.G, l.Oblique, l.Openings = max(1, l.G), 1, 1-gaps*gaps
		l.Cf = cf * l.Openings
		l.Case = CaseAlongLeft
		dst = append(dst, p.place(l, 1, x, z))
		l.Case = CaseAlongRight
		dst = append(dst, p.place(l, -1, x, z))
	}
	return dst, nil
}

// panel is a panel with what its cases share.
type panel struct {
	s           *Surface
	cos, sin    float64 // of the local x axis
	top, height float64 // of the piece
	length      float64 // of the whole wall
	offset      float64 // of the panel's centre from the wall's middle, along local x
	solidity    float64
}

func panelOf(s *Surface) panel {
	sin, cos := math.Sincos(s.Turn)
	bottom, top, _ := s.piece()
	p := panel{s: s, cos: cos, sin: sin, top: top, height: top - bottom, length: s.WallLength, offset: s.WallOffset, solidity: s.Solidity}
	if p.length == 0 {
		p.length, p.offset = s.Width, 0
	}
	if p.solidity == 0 {
		p.solidity = 1
	}
	return p
}

// place sets the force of l, towards the panel's left (side 1) or right (-1), at
// x m from its middle and z m above ground.
func (p *panel) place(l Load, side, x, z float64) Load {
	return p.placeAtLeast(l, side, x, z, 0, l.Cf)
}

// placeAtLeast is place where the mean net pressure on the whole wall, whose
// coefficient is wall, is at least minimum, Pa, before the oblique factor.
func (p *panel) placeAtLeast(l Load, side, x, z, minimum, wall float64) Load {
	f := l.Q * l.Kd * l.G * l.Cf * l.Area
	if l.Q*l.Kd*l.G*wall < minimum*l.Oblique {
		f, l.Minimum = minimum*l.Oblique*l.Area*l.Cf/wall, true
	}
	f *= side * l.Reduced
	l.Force = [3]float64{-f*p.sin + 0, f*p.cos + 0, 0} // + 0: no negative zero
	l.At = [3]float64{p.s.X + x*p.cos, p.s.Y + x*p.sin, z}
	return l
}

// appendZones appends the load of zones counted from the wall's start, or its end,
// whose coefficients are multiplied by factor.
func (m *Model) appendZones(dst []Load, p *panel, l Load, z *zoneSum, fromStart bool, factor, side, height float64) []Load {
	cf, x := z.resultant(fromStart)
	l.Cf = cf * factor
	return append(dst, p.placeAtLeast(l, side, x, height, m.minimum, z.mean()*factor))
}

// appendSign appends cases A, B and, from B/s = 2, C of a solid wall or sign.
func (m *Model) appendSign(dst []Load, p *panel, l Load, side, z float64) []Load {
	l.Openings = 1 - math.Pow(1-p.solidity, 1.5)
	factor := l.Openings * l.Oblique
	ratio := p.length / p.height
	cf := m.tables.sign.at(p.height/p.top, ratio)

	l.Case, l.Source, l.Cf = CaseA, m.source.signA, cf*factor
	dst = append(dst, p.placeAtLeast(l, side, 0, z, m.minimum, l.Cf))
	l.Source = m.source.signB
	for _, start := range [...]bool{true, false} {
		// 0.9 and 0.1 of the force on the halves put the resultant 0.2 B off the middle.
		zones := p.zones(start)
		zones.add(1.8*cf, p.length/2)
		zones.add(0.2*cf, p.length)
		l.Case = CaseBEnd
		if start {
			l.Case = CaseBStart
		}
		dst = m.appendZones(dst, p, l, &zones, start, factor, side, z)
	}

	if ratio < m.tables.zones[0].bs-noise {
		return dst
	}
	l.Source = m.source.signC
	l.Case = CaseCStart
	zones := m.zonesC(p, true, p.s.Return[0])
	dst = m.appendZones(dst, p, l, &zones, true, factor, side, z)
	l.Case = CaseCEnd
	zones = m.zonesC(p, false, p.s.Return[1])
	return m.appendZones(dst, p, l, &zones, false, factor, side, z)
}

// zoneEnd, in s from the windward edge, of the zones of case C.
var zoneEnd = [7]float64{1, 2, 3, 4, 5, 10, math.Inf(1)}

// zonesC sums the zones of case C for a return corner of the given length (m) at
// the windward edge.
func (m *Model) zonesC(p *panel, fromStart bool, corner float64) zoneSum {
	s := p.height
	lo, hi, f := m.tables.columnsC(p.length / s)

	// A return shorter than the first of the figure earns nothing.
	reduced := 1.0
	if corner/s >= m.tables.corner.x[0] {
		reduced = m.tables.corner.at(corner / s)
	}
	scale := 1.0
	if s/p.top > 0.8 {
		scale = 1.8 - s/p.top
	}

	z := p.zones(fromStart)
	for k, cf := range zoneCoefficients(lo, hi, f, reduced) {
		z.add(cf*scale, zoneEnd[k]*s)
	}
	return z
}

// columnsC are the two columns of case C about a B/s, and how far it lies between them.
func (t *tableSet) columnsC(ratio float64) (lo, hi *zoneColumn, f float64) {
	i := 1
	for i < len(t.zones)-1 && t.zones[i].bs < ratio {
		i++
	}
	lo, hi = &t.zones[i-1], &t.zones[i]
	return lo, hi, max(0, min(1, (ratio-lo.bs)/(hi.bs-lo.bs)))
}

// zoneCoefficients are the coefficients of the zones of case C between two columns,
// with the factor of a return corner on starred values.
func zoneCoefficients(lo, hi *zoneColumn, f, reduced float64) (v [7]float64) {
	for k := range v {
		a, c := lo.cf[k], hi.cf[k]
		if k == 0 && lo.starred {
			a *= reduced
		}
		if k == 0 && hi.starred {
			c *= reduced
		}
		v[k] = a + f*(c-a)
		switch { // a zone that only one of the two columns has
		case a == 0:
			v[k] = c
		case c == 0:
			v[k] = a
		}
	}
	return v
}

// zoneSum adds up what the zones of a wall, counted from its windward edge, put on
// one panel of it, which runs from lo to hi m from that edge.
type zoneSum struct {
	lo, hi, length float64 // m; length of the whole wall
	from           float64 // m, where the next zone begins
	sum, moment    float64 // over the panel
	all            float64 // over the wall
}

// zones starts the sum for wind on the wall's start, its local -x end, or its end.
func (p *panel) zones(fromStart bool) zoneSum {
	middle := p.length/2 - p.offset
	if fromStart {
		middle = p.length/2 + p.offset
	}
	return zoneSum{lo: middle - p.s.Width/2, hi: middle + p.s.Width/2, length: p.length}
}

// add adds a zone with coefficient cf that ends at end m from the windward edge.
func (z *zoneSum) add(cf, end float64) {
	end = min(end, z.length)
	if end <= z.from {
		return
	}
	z.all += cf * (end - z.from)
	if lo, hi := max(z.from, z.lo), min(end, z.hi); hi > lo {
		f := cf * (hi - lo)
		z.sum += f
		z.moment += f * ((z.lo+z.hi)/2 - (lo+hi)/2)
	}
	z.from = end
}

// mean is the mean coefficient over the whole wall.
func (z *zoneSum) mean() float64 { return z.all / z.length }

// resultant returns the mean coefficient over the panel and how far the resultant
// lies from the panel's middle along local x (m).
func (z *zoneSum) resultant(fromStart bool) (cf, x float64) {
	if z.sum == 0 {
		return 0, 0
	}
	x = z.moment / z.sum
	if fromStart {
		x = -x
	}
	return z.sum / (z.hi - z.lo), x
}

// appendOpen appends the load on a panel with openings of 30 % and more.
func (m *Model) appendOpen(dst []Load, p *panel, l Load, side, z, gust float64) ([]Load, error) {
	q, kz, err := m.Pressure(z, gust)
	if err != nil {
		return dst, err
	}
	row := m.tables.frames[len(m.tables.frames)-1]
	for _, r := range m.tables.frames {
		if p.solidity < r.below {
			row = r
			break
		}
	}
	cf := row.flat
	if p.s.RoundMembers {
		cf = row.roundSlow
		if p.s.Member > 0 {
			cf = heldCf(p.s.Member, q*l.Kd, row.roundSlow, row.roundFast)
		}
	}
	l.Z, l.Kz, l.Q = z, kz, q
	l.Case, l.Source, l.Reading = CaseA, m.source.open, ReadingOpen
	l.Area *= p.solidity
	l.Cf = cf * l.Oblique
	return append(dst, p.placeAtLeast(l, side, 0, z, m.minimum, l.Cf)), nil
}

// alongCf returns the mean net coefficient of wind along the panel and where its
// resultant acts, m from the middle along local x. fromStart says that the wind
// meets the local -x end first.
func (m *Model) alongCf(p *panel, fromStart bool) (cf, x float64) {
	zones, unit := m.tables.alongRaised, p.height
	if p.height/p.top > alongStandingFrom {
		zones, unit = m.tables.alongStanding, p.top
	}
	z := p.zones(fromStart)
	for _, zone := range zones {
		z.add(zone.cp, zone.end*unit)
	}
	return z.resultant(fromStart)
}

// alongStandingFrom is the c/h above which AS/NZS 1170.2 takes a wall as standing
// on the ground.
const alongStandingFrom = 0.7
