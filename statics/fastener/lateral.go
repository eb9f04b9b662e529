package fastener

import "math"

// Modes of yield: bearing in the main or side member (Im, Is), in both while the fastener tilts
// (II), one hinge in the fastener (IIIm, IIIs), two hinges (IV).
var modeNames = [...]string{"Im", "Is", "II", "IIIm", "IIIs", "IV"}

var modeWords = [...]string{
	"main member crushes", "side member crushes", "fastener tilts and both members crush",
	"fastener bends in the main member", "fastener bends in the side member", "fastener bends in both members",
}

// From wideFrom, fasteners are judged by direction of grain and by placement; below, neither
// matters (12.3.3, 11.3.6, 12.5.1).
const wideFrom = 0.25 * (1 - 1e-9) // in

func (n *nds) wide() bool { return n.Fastener.D/inch >= wideFrom }

// toFifty rounds to 50 psi, as Table 12.3.3 prints its values and Tables 12A to 12R use them.
func toFifty(fe float64) float64 { return 50 * math.Round(fe/50) }

// bearing is the dowel bearing strength F_e, psi (Table 12.3.3).
func (n *nds) bearing(c *Capacity, m Member, name string, endGrain bool) float64 {
	o := origin{"NDS 2018 12.3.3 and Table 12.3.3", twoStatements}
	d, g := n.Fastener.D/inch, m.G
	switch {
	case m.Metal:
		fe := m.Fe / psi
		c.step("dowel bearing", fe, "psi", origin{m.Source, m.Certainty}, "%s = %.0f psi, %s", name, fe, m.Name)
		return fe
	case !n.wide(): // F_e = 16600 G^1.84
		fe := toFifty(16600 * math.Pow(g, 1.84))
		c.step("dowel bearing", fe, "psi", o, "%s = 16600 G^1.84 = 16600·%.3g^1.84 = %.0f psi, to 50 psi", name, g, fe)
		return fe
	}
	along, across := toFifty(11200*g), toFifty(6100*math.Pow(g, 1.45)/math.Sqrt(d))
	angle := m.Angle
	if m.Panel {
		// The document has no value for panels from 1/4 in: the lower one, across the grain,
		// stands in.
		angle, o = math.Pi/2, origin{"NDS 2018 Table 12.3.3, value across the grain for a panel", noSource}
	} else if endGrain {
		angle = math.Pi / 2 // 12.3.3.4: a fastener along the grain bears across it
	}
	sin, cos := math.Sincos(angle)
	fe := along * across / (along*sin*sin + across*cos*cos)
	c.step("dowel bearing", fe, "psi", o,
		"%s = Hankinson(11200 G = %.0f, 6100 G^1.45/√D = %.0f, %.0f°) = %.0f psi",
		name, along, across, angle*180/math.Pi, fe)
	return fe
}

// reduction is R_d of a mode (Table 12.3.1B). dr is the diameter that the equations use, in.
func reduction(d, dr, maxAngle float64) [6]float64 {
	ktheta := 1 + 0.25*maxAngle/(math.Pi/2)
	kd := 2.2
	if dr > 0.17 {
		kd = 10*dr + 0.5
	}
	switch {
	case d < wideFrom:
		return [6]float64{kd, kd, kd, kd, kd, kd}
	case dr < wideFrom:
		k := kd * ktheta
		return [6]float64{k, k, k, k, k, k}
	}
	return [6]float64{4 * ktheta, 4 * ktheta, 3.6 * ktheta, 3.2 * ktheta, 3.2 * ktheta, 3.2 * ktheta}
}

// tilt is k1 = [sqrt(Re + 2 Re^2 (1 + Rt + Rt^2) + Rt^2 Re^3) - Re (1 + Rt)] / (1 + Re) of
// Table 12.3.1A, and the same of (8.6c) in EN 1995-1-1, written so that it does not cancel: the
// radicand is Re (1 + Re)(1 + Re Rt^2) + [Re (1 + Rt)]^2.
func tilt(re, rt float64) float64 {
	c := re * (1 + rt)
	b := re * (1 + re*rt*rt)
	return b / (math.Sqrt(b*(1+re)+c*c) + c)
}

// yield is the yield-limit values of one fastener in single shear, lb (12.3.1-1 to 12.3.1-6). d
// and lengths in inches, strengths in psi.
func yield(d, lm, ls, fem, fes, fyb float64, rd [6]float64) [6]float64 {
	re, rt := fem/fes, lm/ls
	k1 := tilt(re, rt)
	k2 := -1 + math.Sqrt(2*(1+re)+2*fyb*(1+2*re)*d*d/(3*fem*lm*lm))
	k3 := -1 + math.Sqrt(2*(1+re)/re+2*fyb*(2+re)*d*d/(3*fem*ls*ls))
	return [6]float64{
		d * lm * fem / rd[0],
		d * ls * fes / rd[1],
		k1 * d * ls * fes / rd[2],
		k2 * d * lm * fem / ((1 + 2*re) * rd[3]),
		k3 * d * ls * fem / ((2 + re) * rd[4]),
		d * d / rd[5] * math.Sqrt(2*fem*fyb/(3*(1+re))),
	}
}

// lateral: NDS 2018 12.3.
func (n *nds) lateral() (Capacity, error) {
	f := n.Fastener
	c := n.start("NDS 2018 Table 12.3.1A")
	d, ls := f.D/inch, n.Side.Thickness/inch
	dr := f.Root / inch // 12.3.7: threads lie in the shear plane unless known otherwise
	if err := within("F_yb in Pa", f.Fyb, 1e6, 1e10, "NDS 2018 Table I1"); err != nil {
		return Capacity{}, err
	}

	// Length in the main member: half of a tapered tip counts (12.3.5.3).
	depth, out := n.reach()
	tip := max(0, min(f.Tip, depth+out)-out)
	lm := (depth - tip/2) / inch
	penetration, least, full := depth, 6*f.D, 10*f.D // 12.1.5.6, 12.1.6.5, tables 12L and 12N
	pSource := origin{"NDS 2018 12.1.5.6 and 12.1.6.5; Tables 12L to 12R, footnotes", pagedCopy}
	switch f.Kind {
	case Bolt:
		lm = n.Main.Thickness / inch
	case LagScrew:
		penetration, least, full = depth-tip, 4*f.D, 8*f.D // 12.1.4.6
		pSource.source = "NDS 2018 12.1.4.6; Tables 12J and 12K, footnotes"
	}

	fem := n.bearing(&c, n.Main, "F_em", n.EndGrain)
	fes := n.bearing(&c, n.Side, "F_es", false)
	maxAngle := 0.0
	for i, m := range [...]Member{n.Side, n.Main} {
		switch {
		case m.Metal:
		case m.Panel || i == 1 && n.EndGrain:
			maxAngle = math.Pi / 2
		default:
			maxAngle = max(maxAngle, m.Angle)
		}
	}
	rd := reduction(d, dr, maxAngle)
	fyb := f.Fyb / psi
	c.step("bending yield", fyb, "psi", origin{"NDS 2018 Table I1", pagedCopy},
		"F_yb = %.0f psi for D = %.3f in", fyb, d)
	c.step("reduction", rd[0], "", origin{"NDS 2018 Table 12.3.1B", twoStatements},
		"R_d = %.3f (I), %.3f (II), %.3f (III, IV)", rd[0], rd[2], rd[3])

	mode, z := 0, 0.0
	values := func(lm float64) [6]float64 {
		z := yield(dr, lm, ls, fem, fes, fyb, rd)
		if n.Double { // 12.3.1-7 to 12.3.1-10: both planes; II and IIIm cannot form
			z = [6]float64{z[0], 2 * z[1], math.Inf(1), math.Inf(1), 2 * z[4], 2 * z[5]}
		}
		return z
	}
	lowest := func(z [6]float64) (int, float64) {
		k := 0
		for i := range z {
			if z[i] < z[k] {
				k = i
			}
		}
		return k, z[k]
	}
	if lm > 1e-9 {
		zs := values(lm)
		for i, v := range zs {
			if !math.IsInf(v, 0) {
				c.step("mode "+modeNames[i], v, "lb", origin{c.Source, twoStatements},
					"Z(%s) = %.1f lb with D = %.3f in, l_m = %.3f in, l_s = %.3f in", modeNames[i], v, dr, lm, ls)
			}
		}
		mode, z = lowest(zs)
		if f.Kind != Bolt && penetration < full {
			// The tables give the value at full penetration times p over it; never more than
			// that.
			_, zFull := lowest(values(lm + (full-penetration)/inch))
			if r := zFull * penetration / full; r < z {
				c.step("short penetration", r, "lb", pSource,
					"Z(full) p/p_full = %.1f·%.3f/%.3f = %.1f lb", zFull, penetration/inch, full/inch, r)
				z = max(0, r)
			}
		}
	}
	c.Mode = modeNames[mode] + ": " + modeWords[mode]
	c.Reference = z * lbf
	c.Value = c.Reference
	if f.Kind != Bolt {
		c.rule("penetration", max(0, penetration), least, true, pSource)
		n.outOfTheBack(&c)
	}

	n.duration(&c)
	key := n.Service.Moisture.String()
	if n.Service.Moisture == WetWhenMade {
		if !n.wide() {
			key += ", thin"
		} else if n.inRow() == 1 && n.count() == 1 {
			key += ", single"
		}
	}
	n.factor(&c, "C_M", "C_M lateral", key)
	n.temperature(&c)
	if n.wide() {
		if err := n.groupAction(&c); err != nil {
			return Capacity{}, err
		}
		n.geometry(&c)
	} else {
		n.thin(&c)
	}
	if n.EndGrain {
		n.factor(&c, "C_eg", "C_eg", "lateral")
	}
	if n.ToeNailed {
		n.factor(&c, "C_tn", "C_tn", "lateral")
	}
	c.finish()
	return c, nil
}
