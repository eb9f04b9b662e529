package wind

import "math"

const (
	sourceSignA = "ASCE 7-16 Fig. 29.3-1 case A, q at the top, openings factor, at the centre of the face, raised 0.05 h when it reaches the ground"
	sourceSignB = "ASCE 7-16 Fig. 29.3-1 case B, as case A but 0.2 B off the centre"
	sourceSignC = "ASCE 7-16 Fig. 29.3-1 case C, zones from one edge, (1.8 - s/h), return corner, summed into their resultant"
	sourceOpen  = "ASCE 7-16 Table 29.4-2, openings of 30 % and more, on the solid area, q at the centre"
	sourceAlong = "AS/NZS 1170.2 Appendix B, wind parallel to the face, zones from the windward edge, summed into their resultant"
)

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
// Eq. 29.3-1, Eq. 29.4-1), normal to the panel.
func (m *Model) appendPanel(dst []Load, s *Surface, w flow) ([]Load, error) {
	sin, cos := math.Sincos(s.Turn)
	bottom, top, _ := s.piece()
	p := panel{s: s, cos: cos, sin: sin, top: top, height: top - bottom, solidity: s.Solidity}
	if p.solidity == 0 {
		p.solidity = 1
	}
	along, normal := w.x*cos+w.y*sin, w.y*cos-w.x*sin

	q, kz, err := m.Pressure(p.top, w.gust)
	if err != nil {
		return dst, err
	}
	solid := p.solidity >= solidPanel
	l := Load{
		Surface: s.Name, FromDeg: w.fromDeg(), Speed: w.gust,
		Z: p.top, Kz: kz, Q: q, G: m.site.G, Kd: m.site.Kd,
		Openings: 1, Area: s.Width * (s.Top - s.Bottom), Reading: ReadingSign,
	}
	middle := (s.Bottom + s.Top) / 2
	rise := 0.0
	if solid {
		rise = signRise(p.height, p.top)
	}

	if math.Abs(normal) > noise {
		side := math.Copysign(1, normal)
		l.Oblique = obliqueFactor(math.Abs(normal), math.Abs(along))
		if solid {
			dst = m.appendSign(dst, &p, l, side, middle+rise)
		} else if dst, err = m.appendOpen(dst, &p, l, side, middle, w.gust); err != nil {
			return dst, err
		}
	}
	if math.Abs(along) > math.Abs(normal)+noise {
		// Wind along the panel: its leading end is pushed to either side.
		cf, x := m.alongCf(&p, along > 0)
		gaps := 1 - p.solidity
		l.Source, l.Reading = sourceAlong, ReadingAlong
		l.Oblique, l.Openings = 1, 1-gaps*gaps
		l.Cf = cf * l.Openings
		l.Case = CaseAlongLeft
		dst = append(dst, p.place(l, 1, x, middle+rise))
		l.Case = CaseAlongRight
		dst = append(dst, p.place(l, -1, x, middle+rise))
	}
	return dst, nil
}

// panel is a panel with what its cases share.
type panel struct {
	s           *Surface
	cos, sin    float64 // of the local x axis
	top, height float64 // of the piece
	solidity    float64
}

// place sets the force of l, towards the panel's left (side 1) or right (-1), at
// x m from its middle and z m above ground.
func (p *panel) place(l Load, side, x, z float64) Load {
	f := side * l.Q * l.Kd * l.G * l.Cf * l.Area
	l.Force = [3]float64{-f*p.sin + 0, f*p.cos + 0, 0} // + 0: no negative zero
	l.At = [3]float64{p.s.X + x*p.cos, p.s.Y + x*p.sin, z}
	return l
}

// appendSign appends cases A, B and, from B/s = 2, C of a solid wall or sign.
func (m *Model) appendSign(dst []Load, p *panel, l Load, side, z float64) []Load {
	b := p.s.Width
	l.Openings = 1 - math.Pow(1-p.solidity, 1.5)
	factor := l.Openings * l.Oblique
	l.Cf = m.tables.sign.at(p.height/p.top, b/p.height) * factor

	l.Case, l.Source = CaseA, sourceSignA
	dst = append(dst, p.place(l, side, 0, z))
	l.Source = sourceSignB
	l.Case = CaseBStart
	dst = append(dst, p.place(l, side, -0.2*b, z))
	l.Case = CaseBEnd
	dst = append(dst, p.place(l, side, 0.2*b, z))

	if b/p.height < m.tables.zones[0].bs-noise {
		return dst
	}
	l.Source = sourceSignC
	cf, arm := m.zonesCf(p, p.s.Return[0])
	l.Case, l.Cf = CaseCStart, cf*factor
	dst = append(dst, p.place(l, side, -arm, z))
	cf, arm = m.zonesCf(p, p.s.Return[1])
	l.Case, l.Cf = CaseCEnd, cf*factor
	return append(dst, p.place(l, side, arm, z))
}

// zoneEnd, in s from the windward edge, of the zones of case C.
var zoneEnd = [7]float64{1, 2, 3, 4, 5, 10, math.Inf(1)}

// zonesCf returns the mean coefficient of case C over the whole length, and how
// far its resultant lies from the middle towards the windward edge (m), for a
// return corner of the given length (m) at that edge.
func (m *Model) zonesCf(p *panel, corner float64) (cf, arm float64) {
	b, s := p.s.Width, p.height
	ratio := b / s
	zones := m.tables.zones
	i := 1
	for i < len(zones)-1 && zones[i].bs < ratio {
		i++
	}
	lo, hi := &zones[i-1], &zones[i]
	f := max(0, min(1, (ratio-lo.bs)/(hi.bs-lo.bs)))

	// A return shorter than the first of the figure earns nothing.
	reduced := 1.0
	if corner/s >= m.tables.corner.x[0] {
		reduced = m.tables.corner.at(corner / s)
	}
	scale := 1.0
	if s/p.top > 0.8 {
		scale = 1.8 - s/p.top
	}

	z := zoneSum{length: b}
	for k, end := range zoneEnd {
		a, c := lo.cf[k], hi.cf[k]
		if k == 0 && lo.starred {
			a *= reduced
		}
		if k == 0 && hi.starred {
			c *= reduced
		}
		v := a + f*(c-a)
		switch { // a zone that only one of the two columns has
		case a == 0:
			v = c
		case c == 0:
			v = a
		}
		z.add(v, end*s)
	}
	cf, arm = z.resultant()
	return cf * scale, arm
}

// zoneSum adds up zones of a panel from its windward edge.
type zoneSum struct{ length, from, sum, moment float64 }

// add adds a zone with coefficient cf that ends at end m from the windward edge.
func (z *zoneSum) add(cf, end float64) {
	end = min(end, z.length)
	if end <= z.from {
		return
	}
	f := cf * (end - z.from)
	z.sum += f
	z.moment += f * (z.length - end - z.from) / 2
	z.from = end
}

// resultant returns the mean coefficient over the length and how far the
// resultant lies from the middle towards the windward edge (m).
func (z *zoneSum) resultant() (cf, arm float64) {
	return z.sum / z.length, z.moment / z.sum
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
	l.Case, l.Source, l.Reading = CaseA, sourceOpen, ReadingOpen
	l.Area *= p.solidity
	l.Cf = cf * l.Oblique
	return append(dst, p.place(l, side, 0, z)), nil
}

// alongCf returns the mean net coefficient of wind along the panel and where its
// resultant acts, m from the middle along local x. fromStart says that the wind
// meets the local -x end first.
func (m *Model) alongCf(p *panel, fromStart bool) (cf, x float64) {
	zones, unit := m.tables.alongRaised, p.height
	if p.height/p.top > alongStandingFrom {
		zones, unit = m.tables.alongStanding, p.top
	}
	z := zoneSum{length: p.s.Width}
	for _, zone := range zones {
		z.add(zone.cp, zone.end*unit)
	}
	cf, x = z.resultant()
	if fromStart {
		x = -x
	}
	return cf, x
}

// alongStandingFrom is the c/h above which AS/NZS 1170.2 takes a wall as standing
// on the ground.
const alongStandingFrom = 0.7
