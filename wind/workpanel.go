package wind

import (
	"fmt"
	"math"
	"strings"
)

// panel works the coefficient of a wall, sign or leaf.
func (w *work) panel() {
	p := panelOf(w.s)
	switch l := w.load; {
	case l.Reading == ReadingAlong:
		w.along(&p)
		return
	case l.Reading == ReadingOpen && w.m.site.Basis == EN1991:
		c, members := w.m.tables.en.latticeFlat, "flat-sided"
		if w.s.RoundMembers {
			c, members = w.m.tables.en.latticeRound, "round"
		}
		w.add(FactorOfCf, c.v, "force coefficient on the area of the members", "c_f of a plane lattice of "+members+" members, solidity up to 0.8", put("solidity %v: c_f = %v", p.solidity, c.v), c.from)
	case l.Reading == ReadingOpen:
		w.open(&p)
	case l.Reading == ReadingWall:
		w.wallEN(&p)
	case w.m.site.Basis == EN1991:
		c := w.m.tables.en.board
		start := l.Case == CaseOffStart
		w.step(c.v, "force coefficient of a signboard", "c_f where it is clear of the ground by h/4, or no longer than high",
			put("gap %v m, h %v m, length %v m: c_f = %v", p.top-p.height, p.height, p.length, c.v), c.from)
		w.zones(&p, start, "the whole force on one half, which puts it 0.25 b off the middle", []zone{
			{2 * c.v, p.length / 2}, {0, p.length}}, "EN 1991-1-4 7.4.3(3)")
	default:
		w.sign(&p)
	}
	if l := w.load; l.Oblique != 1 {
		along, normal := math.Abs(w.ux), math.Abs(w.uy)
		w.add(FactorOfCf, obliqueFactor(normal, along), "wind off the normal of the panel", "beyond 45° off the normal, sin(2 · angle)",
			put("sin(2 · %v°) = %v", math.Atan2(along, normal)*180/math.Pi, obliqueFactor(normal, along)), ObliqueRule)
	}
}

// sign works cases A, B and C of a solid wall or sign.
func (w *work) sign(p *panel) {
	l, t := w.load, w.m.tables
	start := strings.HasSuffix(l.Case, "start")
	if l.Case == CaseCStart || l.Case == CaseCEnd {
		w.zonesC(p, start)
	} else {
		text, cf, from := t.sign.reading("s/h", "B/s", p.height/p.top, p.length/p.height)
		text = put("s/h = %v / %v, B/s = %v / %v; ", p.height, p.top, p.length, p.height) + text
		const what, formula = "force coefficient of a solid wall or sign", "table, straight in s/h and in B/s"
		if l.Case == CaseA {
			w.add(FactorOfCf, cf, what, formula, text, from)
		} else {
			w.step(cf, what, formula, text, from)
			w.zones(p, start, "0.9 of the force on the windward half, which puts it 0.2 B off the middle", []zone{
				{1.8 * cf, p.length / 2}, {0.2 * cf, p.length}}, w.m.source.signB)
		}
	}
	if p.solidity < 1 {
		v := 1 - math.Pow(1-p.solidity, 1.5)
		w.add(FactorOfCf, v, "openings", "1 - (1 - solidity)^1.5", put("1 - (1 - %v)^1.5 = %v", p.solidity, v), "ASCE 7-16 Fig. 29.3-1 note 2, on the gross area")
	}
}

// zonesC works the zones of case C.
func (w *work) zonesC(p *panel, start bool) {
	t, s := w.m.tables, p.height
	corner := p.s.Return[1]
	if start {
		corner = p.s.Return[0]
	}
	reduced := 1.0
	if corner/s >= t.corner.x[0] {
		text, v, from := t.corner.reading(corner/s, false)
		reduced = v
		w.step(v, "return corner at the windward edge", "factor on starred values by Lr/s", put("Lr/s = %v / %v = %v: ", corner, s, corner/s)+text, from)
	}
	scale := 1.0
	if s/p.top > 0.8 {
		scale = 1.8 - s/p.top
		w.step(scale, "wall near the ground", "1.8 - s/h where s/h is above 0.8", put("1.8 - %v / %v = %v", s, p.top, scale), "ASCE 7-16 Fig. 29.3-1 note 3, case C")
	}
	lo, hi, f := t.columnsC(p.length / s)
	source := origins(lo.from, hi.from)
	values := zoneCoefficients(lo, hi, f, reduced)
	names := [...]string{"0 to s", "s to 2s", "2s to 3s", "3s to 4s", "4s to 5s", "5s to 10s", "beyond 10s"}
	var zones []zone
	for k, end := range zoneEnd {
		if k > 0 && zoneEnd[k-1]*s >= p.length {
			break
		}
		column := func(c *zoneColumn) string {
			star := ""
			if k == 0 && c.starred {
				star = "*"
			}
			return fmt.Sprintf("%s%s at B/s %s", g(c.cf[k]), star, g(c.bs))
		}
		a, c := lo.cf[k], hi.cf[k]
		text := put("B/s = %v: ", p.length/s)
		switch {
		case a == 0:
			text += column(hi)
		case c == 0 || f == 0:
			text += column(lo)
		case f == 1:
			text += column(hi)
		default:
			text += column(lo) + ", " + column(hi)
		}
		if k == 0 && reduced != 1 && (lo.starred || hi.starred) {
			text += put("; starred values times %v", reduced)
			if lo.starred {
				a *= reduced
			}
			if hi.starred {
				c *= reduced
			}
		}
		if a != 0 && c != 0 && a != c && f > 0 && f < 1 {
			text += ": " + between(a, c, put("(%v - %v) / (%v - %v)", p.length/s, lo.bs, hi.bs, lo.bs)) + " = " + g(values[k])
		}
		value := values[k] * scale
		if scale != 1 {
			text += put("; %v · %v", values[k], scale)
		}
		if result := " = " + g(value); !strings.HasSuffix(text, result) { // between has said it
			text += result
		}
		w.step(value, "zone "+names[k]+" from the windward edge", "case C, straight in B/s, times what is above", text, source)
		source = ""
		zones = append(zones, zone{value, end * s})
	}
	w.zones(p, start, "zones together", zones, w.m.source.signC)
}

// zone is a part of a wall with its coefficient, up to end m from its windward edge.
type zone struct{ cf, end float64 }

// zones works the mean of zones over the panel and the place of their resultant.
func (w *work) zones(p *panel, start bool, what string, zones []zone, source string) {
	sum := p.zones(start)
	lo, hi := sum.lo, sum.hi
	var parts, moments []string
	from := 0.0
	for _, z := range zones {
		sum.add(z.cf, z.end)
		a, b := max(from, lo), min(z.end, hi)
		from = min(z.end, p.length)
		if b-a > minSize && z.cf != 0 {
			parts = append(parts, put("%v · %v", z.cf, b-a))
			moments = append(moments, put("%v · %v · %v", z.cf, b-a, (a+b)/2))
		}
	}
	mean, off := sum.resultant(start)
	if start {
		off = -off
	}
	on := put("mean over its %v m", hi-lo)
	if p.length-(hi-lo) > minSize {
		on = put("mean over this part, %v m to %v m from the windward edge of the whole wall", lo, hi)
	}
	if mean == 0 {
		w.add(FactorOfCf, 0, what, "sum of coefficient · width, "+on, "none of the force is on this part: 0", source)
		return
	}
	total := strings.Join(parts, " + ")
	w.add(FactorOfCf, mean, what, "sum of coefficient · width, "+on, "("+total+") / "+g(hi-lo)+" = "+g(mean), source)
	centre := (lo+hi)/2 - off
	w.step(off, "resultant towards the windward edge, from the middle", "place of the middle - sum of coefficient · width · place / sum of coefficient · width, places from the windward edge",
		put("%v - ", (lo+hi)/2)+"("+strings.Join(moments, " + ")+") / ("+total+")"+put(" = %v - %v = %v m", (lo+hi)/2, centre, off), "")
}

// open works a panel with openings of 30 % and more.
func (w *work) open(p *panel) {
	l, rows := w.load, w.m.tables.frames
	row, over := rows[len(rows)-1], 0.0
	for i, r := range rows {
		if i > 0 {
			over = rows[i-1].below
		}
		if p.solidity < r.below {
			row = r
			break
		}
	}
	reading := put("solidity %v, row of %v to %v: ", p.solidity, over, row.below)
	switch {
	case !p.s.RoundMembers:
		w.add(FactorOfCf, row.flat, "force coefficient on the solid area", "flat-sided members, by solidity", reading+g(row.flat), row.from)
	case p.s.Member > 0:
		w.held(p.s.Member, l.Q*l.Kd, row.roundSlow, row.roundFast, reading+"round members", row.from)
	default:
		w.add(FactorOfCf, row.roundSlow, "force coefficient on the solid area", "round members of a diameter that is not given, by solidity", reading+g(row.roundSlow), row.from)
	}
}

// along works wind along a panel.
func (w *work) along(p *panel) {
	rows, unit := w.m.tables.alongRaised, p.height
	rule := put("c/h = %v / %v = %v, up to 0.7: zones in c", p.height, p.top, p.height/p.top)
	if p.height/p.top > alongStandingFrom {
		rows, unit = w.m.tables.alongStanding, p.top
		rule = put("c/h = %v / %v = %v, above 0.7: zones in h", p.height, p.top, p.height/p.top)
	}
	var zones []zone
	var texts []string
	from := 0.0
	for _, r := range rows {
		if from >= p.length {
			break
		}
		zones = append(zones, zone{r.cp, r.end * unit})
		texts = append(texts, put("%v up to %v m", r.cp, min(r.end*unit, p.length)))
		from = r.end * unit
	}
	w.step(unit, "zones from the windward edge", "C_p,n by c/h", rule+"; "+strings.Join(texts, ", "), rows[0].from)
	w.zones(p, w.ux > 0, "zones together", zones, sourceAlong)
	if gaps := 1 - p.solidity; gaps > 0 {
		w.add(FactorOfCf, 1-gaps*gaps, "openings", "1 - (1 - solidity)²", put("1 - (1 - %v)² = %v", p.solidity, 1-gaps*gaps), "AS/NZS 1170.2 Appendix B, porous walls, on the gross area")
	}
}

// wallEN works zones A to D of a free-standing wall of EN 1991-1-4.
func (w *work) wallEN(p *panel) {
	t := &w.m.tables.en
	start := w.load.Case == CaseZonesStart
	corner := p.s.Return[1]
	if start {
		corner = p.s.Return[0]
	}
	ratio, part := p.length/p.height, min(1, corner/p.height)
	names := [...]string{"A, 0 to 0.3 h", "B, 0.3 h to 2 h", "C, 2 h to 4 h", "D, beyond 4 h,"}
	var zones []zone
	cited := ""
	for k, end := range wallEnds {
		if k > 0 && wallEnds[k-1]*p.height >= p.length {
			break
		}
		text, cp, from := t.wall[k].reading(ratio, false)
		text = put("l/h = %v / %v = %v: ", p.length, p.height, ratio) + text
		if part > 0 {
			_, with, other := t.corner[k].reading(ratio, false)
			text += put("; return of %v h, %v at h: ", part, with) + between(cp, with, g(part))
			cp += part * (with - cp)
			text += " = " + g(cp)
			from = origins(from, other)
		}
		if p.solidity < 1 {
			_, porous, other := t.porous[k].reading(ratio, false)
			value := porous + (p.solidity-latticeEN)/(1-latticeEN)*(cp-porous)
			text += put("; solidity %v, %v at 0.8: ", p.solidity, porous) + between(porous, cp, put("(%v - 0.8) / 0.2", p.solidity)) + " = " + g(value)
			cp = value
			from = origins(from, other)
		}
		if from == cited {
			from = ""
		} else {
			cited = from
		}
		w.step(cp, "zone "+names[k]+" from the windward end", "c_p,net by l/h, return corner and solidity, straight in each", text, from)
		zones = append(zones, zone{cp, end * p.height})
	}
	w.zones(p, start, "zones together", zones, "EN 1991-1-4 7.4.1, q_p at the top of the wall")
}
