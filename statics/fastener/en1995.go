package fastener

import (
	"fmt"
	"math"
)

// en computes one joint by EN 1995-1-1:2004 with A1, in mm, N and N/mm2 as the document does.
// Its formulas are from memory unless a step says otherwise.
type en struct {
	Joint
	t *tableSet
}

const mpa = 1e6 // Pa in N/mm2

func clause(number string) origin { return origin{"EN 1995-1-1:2004 " + number, fromMemory} }

func (e *en) start(number string) Capacity {
	c := Capacity{Source: clause(number).source}
	c.doubt(fromMemory)
	c.doubt(e.Fastener.Certainty)
	c.doubt(e.Side.Certainty)
	c.doubt(e.Main.Certainty)
	return c
}

// design turns the characteristic value, N, into the design value: k_mod R_k / gamma_M (2.17).
func (e *en) design(c *Capacity, rk float64) {
	c.Reference = rk
	class := "1"
	if e.Service.Moisture != Dry {
		class = "3"
	}
	// Wind may be taken as short-term or instantaneous, impact as instantaneous: the harder is
	// taken.
	length := [...]string{"permanent", "long", "medium", "short", "short", "short"}[e.Service.Duration]
	kmod, gamma := e.t.factors["k_mod "+class+", "+length], e.t.factors["gamma_M, connections"]
	c.Value = kmod.value * rk / gamma.value
	c.step("design value", c.Value, "N", kmod.origin,
		"R_d = k_mod R_k / γ_M = %.2f·%.0f/%.1f = %.0f N (service class %s, %s-term)",
		kmod.value, rk, gamma.value, c.Value, class, length)
	c.doubt(gamma.certainty)
}

// holding is the threaded length in the main member, mm, tip included; whole length of nails.
func (e *en) holding() float64 {
	depth, out := e.reach()
	if e.Fastener.Kind == WoodScrew || e.Fastener.Kind == LagScrew {
		depth = max(0, min(e.Fastener.Thread, depth+out)-out)
	}
	return depth * 1e3
}

// withdrawal: 8.3.2 for nails, 8.7.2 for screws.
func (e *en) withdrawal() (Capacity, error) {
	f, d, l, rho := e.Fastener, e.Fastener.D*1e3, e.holding(), e.Main.Density
	switch f.Kind {
	case Bolt:
		return Capacity{}, fmt.Errorf("fastener: a bolt has no withdrawal; its washers bear (EN 1995-1-1 8.5.2)")
	case Nail, RingNail:
		return e.nailWithdrawal(d, l, rho)
	}
	c := e.start("8.7.2 (8.38)")
	c.Mode = "withdrawal"
	var fax, kd float64
	switch {
	case f.FaxK > 0:
		if f.RhoA < 1 {
			return Capacity{}, &LimitError{"density of the declared f_ax,k in kg/m3", f.RhoA, 1, c.Source}
		}
		// f_ax,k (rho_k / rho_a)^0.8 (8.40a)
		fax, kd = f.FaxK/mpa*math.Pow(rho/f.RhoA, 0.8), 1
		c.Source = clause("8.7.2 (8.40a)").source
		c.step("withdrawal parameter", fax, "N/mm²", clause("8.7.2 (8.40a)"),
			"f_ax,k (ρ_k/ρ_a)^0.8 = %.2f·(%.0f/%.0f)^0.8 = %.2f N/mm²", f.FaxK/mpa, rho, f.RhoA, fax)
	default:
		if err := within("screw diameter in m, without a declared f_ax,k,", f.D, 6e-3, 12e-3, "EN 1995-1-1 8.7.2(4)"); err != nil {
			return Capacity{}, err
		}
		err := within("root over thread diameter, without a declared f_ax,k,", f.Root/f.D, 0.6, 0.75, "EN 1995-1-1 8.7.2(4)")
		if err != nil {
			return Capacity{}, err
		}
		// f_ax,k = 0.52 d^-0.5 l_ef^-0.1 rho_k^0.8 (8.39), k_d = min(d/8, 1) (8.40)
		if l > 0 {
			fax = 0.52 * math.Pow(d, -0.5) * math.Pow(l, -0.1) * math.Pow(rho, 0.8)
		}
		kd = min(d/8, 1)
		c.step("withdrawal parameter", fax, "N/mm²", clause("8.7.2 (8.39)"),
			"f_ax,k = 0.52 d^-0.5 l_ef^-0.1 ρ_k^0.8 = 0.52·%.1f^-0.5·%.1f^-0.1·%.0f^0.8 = %.2f N/mm²", d, l, rho, fax)
	}
	// F_ax,Rk = f_ax,k d l_ef k_d / (1.2 cos^2 a + sin^2 a), of one fastener; a is 90 degrees.
	if e.EndGrain {
		c.Mode = "no capacity: screw along the grain"
		c.step("end grain", 0, "N", clause("8.7.2(1): the screw is at 30 degrees to the grain at least"), "F_ax,Rk = 0")
		return c, nil
	}
	r := fax * d * l * kd
	c.step("withdrawal", r, "N", clause("8.7.2 (8.38)"),
		"F_ax,Rk = f_ax,k d l_ef k_d = %.2f·%.1f·%.1f·%.2f = %.0f N", fax, d, l, kd, r)
	r *= e.effective(&c)
	c.rule("threaded penetration", l/1e3, 6*f.D, true, clause("8.7.2(3)"))
	e.design(&c, r)
	c.finish()
	return c, nil
}

// effective is n_ef / n with n_ef = n^0.9 (8.7.2(8), 8.41), a share of each fastener.
func (e *en) effective(c *Capacity) float64 {
	n := float64(e.count())
	if n == 1 {
		return 1
	}
	k := math.Pow(n, 0.9) / n
	c.step("group", k, "", clause("8.7.2 (8.41)"), "n_ef/n = %.0f^0.9/%.0f = %.3f", n, n, k)
	return k
}

func (e *en) nailWithdrawal(d, l, rho float64) (Capacity, error) {
	c := e.start("8.3.2 (8.24)")
	c.Mode = "withdrawal"
	if e.EndGrain {
		c.Mode = "no capacity: nail in end grain"
		c.step("end grain", 0, "N", clause("8.3.2(4)"), "F_ax,Rk = 0")
		return c, nil
	}
	if e.Service.Duration == Permanent || e.Service.Duration == TenYears {
		if e.Fastener.Kind == Nail {
			c.Mode = "no capacity: smooth nail under a lasting pull"
			c.step("duration", 0, "N", clause("8.3.2(1)"), "F_ax,Rk = 0")
			return c, nil
		}
	}
	// f_ax,k = 20e-6 rho_k^2 (8.25); smooth nails need 12 d, others 8 d; less is scaled down to
	// nothing at 8 d and 6 d (8.3.2(7)).
	fax := 20e-6 * rho * rho
	from, full := 8.0, 12.0
	if e.Fastener.Kind == RingNail {
		from, full = 6, 8
	}
	k := min(1, max(0, (l/d-from)/(full-from)))
	r := fax * d * l * k
	c.step("withdrawal", r, "N", clause("8.3.2 (8.24), (8.25) and (7)"),
		"F_ax,Rk = 20e-6 ρ_k² d t_pen k = 20e-6·%.0f²·%.1f·%.1f·%.2f = %.0f N", rho, d, l, k, r)
	c.rule("penetration", l/1e3, from*d/1e3, true, clause("8.3.2(7)"))
	e.design(&c, r)
	c.finish()
	return c, nil
}

// pullThrough: heads by 8.3.2 (nails) and 8.7.2 (screws), washers by 8.5.2.
func (e *en) pullThrough() (Capacity, error) {
	f, dh, rho := e.Fastener, e.Fastener.Head*1e3, e.Side.Density
	var c Capacity
	var fhead float64
	switch {
	case f.Kind == Bolt:
		return e.washer(e.Side, "side member")
	case f.FheadK > 0:
		if f.RhoA < 1 {
			return Capacity{}, &LimitError{"density of the declared f_head,k in kg/m3", f.RhoA, 1, "EN 1995-1-1 8.7.2"}
		}
		c = e.start("8.7.2 (8.40b)")
		fhead = f.FheadK / mpa * math.Pow(rho/f.RhoA, 0.8)
		c.step("head parameter", fhead, "N/mm²", clause("8.7.2 (8.40b)"),
			"f_head,k (ρ_k/ρ_a)^0.8 = %.2f·(%.0f/%.0f)^0.8 = %.2f N/mm²", f.FheadK/mpa, rho, f.RhoA, fhead)
	default:
		// f_head,k = 70e-6 rho_k^2 (8.26) is for nails; screws declare theirs, and without that
		// the nail's stands in.
		c = e.start("8.3.2 (8.26)")
		if !f.nailed() {
			c.doubt(noSource)
		}
		fhead = 70e-6 * rho * rho
		c.step("head parameter", fhead, "N/mm²", clause("8.3.2 (8.26)"),
			"f_head,k = 70e-6 ρ_k² = 70e-6·%.0f² = %.2f N/mm²", rho, fhead)
	}
	c.Mode = "head pull-through"
	r := fhead * dh * dh
	c.step("head pull-through", r, "N", origin{c.Source, fromMemory},
		"F_ax,Rk = f_head,k d_h² = %.2f·%.1f² = %.0f N", fhead, dh, r)
	if !f.nailed() {
		r *= e.effective(&c)
	}
	e.design(&c, r)
	return c, nil
}

// washer: 8.5.2(2), 3 f_c,90,k on the area of the washer without the hole d + 1 mm.
func (e *en) washer(m Member, name string) (Capacity, error) {
	f := e.Fastener
	c := e.start("8.5.2(2)")
	c.doubt(f.Washer.Certainty)
	c.Mode = "washer bearing on the " + name
	if m.Fc90 == 0 {
		return Capacity{}, &LimitError{"f_c,90,k in Pa of " + m.Name + ", which is not known,", 0, 0, c.Source}
	}
	od, d := f.Washer.OD*1e3, f.D*1e3
	c.rule("washer under head and nut", f.Washer.OD, f.D+1e-3, true, clause("8.5.2 and 10.4.3(2)"))
	a := max(0, math.Pi/4*(od*od-(d+1)*(d+1)))
	r := 3 * m.Fc90 / mpa * a
	o := origin{clause("8.5.2(2)").source, "standard clause as reproduced in eurocode.us structural timber design, bolted connections"}
	c.step("washer bearing", r, "N", o,
		"F_ax,Rk = 3 f_c,90,k π/4 (d_w² − (d + 1)²) = 3·%.2f·π/4 (%.0f² − %.0f²) = %.0f N", m.Fc90/mpa, od, d+1, r)
	e.design(&c, r)
	c.finish()
	return c, nil
}

// steel is the fastener's own tension: 0.9 f_u A_s / 1.25 of EN 1993-1-8 for bolts, A_s = 0.78
// of the shank; f_u on the root for screws and nails, with the same partial factor. No k_mod.
func (e *en) steel() Capacity {
	f := e.Fastener
	c := e.start("8.7.2(2) and EN 1993-1-8 Table 3.4")
	c.Mode = "fastener steel in tension"
	k, d := 0.9, f.Root*1e3
	if f.Kind == Bolt {
		k = 0.9 * 0.78
	}
	c.Reference = k * f.Fu / mpa * math.Pi / 4 * d * d
	c.Value = c.Reference / 1.25
	c.step("steel", c.Value, "N", clause("8.7.2(2) and EN 1993-1-8 Table 3.4"),
		"%.3g f_u π/4 d²/1.25 = %.3g·%.0f·π/4·%.1f²/1.25 = %.0f N", k, k, f.Fu/mpa, d, c.Value)
	return c
}

func (e *en) tension() (Capacity, error) {
	if err := within("F_u in Pa", e.Fastener.Fu, 1e6, 1e10, "EN 1993-1-8 Table 3.1"); err != nil {
		return Capacity{}, err
	}
	ways := []Capacity{e.steel()}
	add := func(c Capacity, err error) error {
		ways = append(ways, c)
		return err
	}
	var err error
	if e.Fastener.Kind == Bolt {
		if !e.Side.Metal {
			err = add(e.washer(e.Side, "side member"))
		}
		if err == nil && !e.Main.Metal && !e.Double {
			err = add(e.washer(e.Main, "main member"))
		}
	} else {
		err = add(e.withdrawal())
		if err == nil && !e.Side.Metal {
			err = add(e.pullThrough())
		}
	}
	if err != nil {
		return Capacity{}, err
	}
	return least(ways), nil
}

// bearing is the embedment strength f_h,k, N/mm2.
func (e *en) bearing(c *Capacity, m Member, name string, endGrain bool) float64 {
	d, rho, bolt := e.Fastener.D*1e3, m.Density, e.likeBolt()
	var fh float64
	switch {
	case m.Panel && bolt: // (8.36)
		fh = 0.11 * (1 - 0.01*d) * rho
		c.step("embedment", fh, "N/mm²", clause("8.5.1.3 (8.36)"),
			"%s = 0.11 (1 − 0.01 d) ρ_k = 0.11 (1 − 0.01·%.1f)·%.0f = %.2f N/mm²", name, d, rho, fh)
	case m.Panel: // (8.20)
		fh = 0.11 * rho * math.Pow(d, -0.3)
		c.step("embedment", fh, "N/mm²", clause("8.3.1.3 (8.20)"),
			"%s = 0.11 ρ_k d^-0.3 = 0.11·%.0f·%.1f^-0.3 = %.2f N/mm²", name, rho, d, fh)
	case bolt: // (8.31), (8.32) softwood (8.33)
		angle := m.Angle
		if endGrain {
			angle = math.Pi / 2
		}
		sin, cos := math.Sincos(angle)
		k90 := 1.35 + 0.015*d
		fh = 0.082 * (1 - 0.01*d) * rho / (k90*sin*sin + cos*cos)
		c.step("embedment", fh, "N/mm²", clause("8.5.1.1 (8.31) to (8.33)"),
			"%s = 0.082 (1 − 0.01 d) ρ_k / (k_90 sin² α + cos² α) = %.2f N/mm², d = %.1f, ρ_k = %.0f, α = %.0f°",
			name, fh, d, rho, angle*180/math.Pi)
	default: // (8.15), not predrilled
		fh = 0.082 * rho * math.Pow(d, -0.3)
		c.step("embedment", fh, "N/mm²", clause("8.3.1.1 (8.15)"),
			"%s = 0.082 ρ_k d^-0.3 = 0.082·%.0f·%.1f^-0.3 = %.2f N/mm²", name, rho, d, fh)
	}
	return fh
}

// lateral: 8.2.2 for members of wood, 8.2.3 with a steel plate on the side.
func (e *en) lateral() (Capacity, error) {
	f := e.Fastener
	c := e.start("8.2.2 (8.6)")
	d := f.D * 1e3
	if e.Main.Metal {
		return Capacity{}, fmt.Errorf("fastener: a main member of metal is not covered by EN 1995-1-1 8.2 here")
	}
	if err := within("F_u in Pa", f.Fu, 1e6, 1e10, "EN 1995-1-1 8.3.1.1 and 8.5.1.1"); err != nil {
		return Capacity{}, err
	}
	if f.Kind == Bolt {
		if err := within("bolt diameter in m", f.D, 5e-3, 30e-3, "EN 1995-1-1 8.5.1.1(2)"); err != nil {
			return Capacity{}, err
		}
	}

	// M_y,Rk = 0.3 f_u d^2.6 (8.14, 8.30); of screws with 1.1 times the root (8.7.1(2)).
	def := d
	if f.Kind == WoodScrew || f.Kind == LagScrew {
		def = 1.1 * f.Root * 1e3
	}
	my := 0.3 * f.Fu / mpa * math.Pow(def, 2.6)
	c.step("yield moment", my, "N·mm", clause("8.3.1.1 (8.14), 8.5.1.1 (8.30), 8.7.1(2)"),
		"M_y,Rk = 0.3 f_u d_ef^2.6 = 0.3·%.0f·%.2f^2.6 = %.0f N·mm", f.Fu/mpa, def, my)

	depth, _ := e.reach()
	t1, t2 := e.Side.Thickness*1e3, depth*1e3
	if f.Kind == Bolt {
		t2 = e.Main.Thickness * 1e3
	}
	fh2 := e.bearing(&c, e.Main, "f_h,2,k", e.EndGrain)

	var names []string
	var values []float64 // Johansen part, N
	var ropes []bool     // whether the rope effect adds
	add := func(name string, v float64, rope bool) {
		names, values, ropes = append(names, name), append(values, v), append(ropes, rope)
	}
	switch {
	case t2 < 1e-6:
		add("no penetration", 0, false)
	case e.Side.Metal: // the wood is t2
		e.steelPlate(&c, t1, t2, fh2, d, my, add)
	default:
		fh1 := e.bearing(&c, e.Side, "f_h,1,k", false)
		if e.Double {
			johansenDouble(fh1, fh2, t1, t2, d, my, add)
			c.Source = clause("8.2.2 (8.7)").source
		} else {
			johansenSingle(fh1, fh2, t1, t2, d, my, add)
		}
	}

	rope, err := e.rope(&c)
	if err != nil {
		return Capacity{}, err
	}
	share := map[Kind]float64{Nail: 0.15, RingNail: 0.5, WoodScrew: 1, LagScrew: 1, Bolt: 0.25}[f.Kind] // 8.2.2(2)
	mode, r := 0, math.Inf(1)
	for i, v := range values {
		if ropes[i] {
			v += min(rope/4, share*v)
		}
		c.step("mode "+names[i], v, "N", origin{c.Source, fromMemory},
			"F_v,Rk(%.1s) = %.0f N with the rope effect, t_1 = %.1f mm, t_2 = %.1f mm", names[i], v, t1, t2)
		if v < r {
			mode, r = i, v
		}
	}
	if e.Double {
		r *= 2 // two shear planes
	}
	c.Mode = names[mode]
	if e.EndGrain { // 8.3.1.2(4): nails, and screws of that size, a third
		r /= 3
		c.step("end grain", 1./3, "", clause("8.3.1.2(4)"), "F_v,Rk/3 in end grain")
	}
	k, err := e.row(&c)
	if err != nil {
		return Capacity{}, err
	}
	r *= k
	e.placing(&c)
	if f.Kind != Bolt {
		least, o := 8*f.D, clause("8.3.1.2(1)")
		if !f.nailed() {
			least, o = 4*f.D, clause("8.7.1(3)")
		}
		c.rule("penetration", depth, least, true, o)
	}
	e.design(&c, r)
	c.finish()
	return c, nil
}

// johansenSingle is (8.6): two members, one shear plane.
func johansenSingle(fh1, fh2, t1, t2, d, my float64, add func(string, float64, bool)) {
	b, t := fh2/fh1, t2/t1
	add("a: side member crushes", fh1*t1*d, false)
	add("b: main member crushes", fh2*t2*d, false)
	add("c: fastener tilts and both members crush", fh1*t1*d*tilt(b, t), true)
	add("d: fastener bends in the main member", 1.05*fh1*t1*d/(2+b)*(math.Sqrt(2*b*(1+b)+4*b*(2+b)*my/(fh1*d*t1*t1))-b), true)
	add("e: fastener bends in the side member", 1.05*fh1*t2*d/(1+2*b)*(math.Sqrt(2*b*b*(1+b)+4*b*(1+2*b)*my/(fh1*d*t2*t2))-b), true)
	add("f: fastener bends in both members", 1.15*math.Sqrt(2*b/(1+b))*math.Sqrt(2*my*fh1*d), true)
}

// johansenDouble is (8.7): the main member between two side members, for each shear plane.
func johansenDouble(fh1, fh2, t1, t2, d, my float64, add func(string, float64, bool)) {
	b := fh2 / fh1
	add("g: side members crush", fh1*t1*d, false)
	add("h: main member crushes", 0.5*fh2*t2*d, false)
	add("j: fastener bends in the main member", 1.05*fh1*t1*d/(2+b)*(math.Sqrt(2*b*(1+b)+4*b*(2+b)*my/(fh1*d*t1*t1))-b), true)
	add("k: fastener bends in all members", 1.15*math.Sqrt(2*b/(1+b))*math.Sqrt(2*my*fh1*d), true)
}

// steelPlate is (8.9) for a thin plate, to half a diameter, and (8.10) for a thick one, from
// one diameter, with a straight line between (8.2.3(1)). In double shear it counts a plate on
// either side, (8.12) and (8.13).
func (e *en) steelPlate(c *Capacity, plate, t, fh, d, my float64, add func(string, float64, bool)) {
	c.Source = clause("8.2.3 (8.9), (8.10), (8.12), (8.13)").source
	thick := min(1, max(0, (plate/d-0.5)/0.5))
	mix := func(thin, fat float64) float64 { return thin + thick*(fat-thin) }
	if e.Double {
		add("j, l: wood between the plates crushes", 0.5*fh*t*d, false)
		add("k, m: fastener bends", mix(1.15*math.Sqrt2, 2.3)*math.Sqrt(my*fh*d), true)
		return
	}
	add("a, c: wood crushes", fh*t*d*mix(0.4, 1), false)
	add("d: fastener bends once", fh*t*d*(math.Sqrt(2+4*my/(fh*d*t*t))-1), true)
	add("b, e: fastener bends", mix(1.15*math.Sqrt2, 2.3)*math.Sqrt(my*fh*d), true)
}

// rope is F_ax,Rk, N, of the rope effect (8.2.2(2)). Where it is not known it is 0.
func (e *en) rope(c *Capacity) (float64, error) {
	var ways []Capacity
	f := e.Fastener
	if f.Kind == Bolt {
		for i, m := range [...]Member{e.Side, e.Main} {
			if m.Metal || e.Double && i == 1 { // washers bear on both side members
				continue
			}
			if m.Fc90 == 0 || f.Washer.OD == 0 {
				return 0, nil
			}
			w, err := e.washer(m, "")
			if err != nil {
				return 0, err
			}
			ways = append(ways, w)
		}
	} else {
		w, err := e.withdrawal()
		if _, out := err.(*LimitError); out {
			return 0, nil // a screw without declared values, and outside of 8.7.2(4)
		} else if err != nil {
			return 0, err
		}
		ways = append(ways, w)
		if !e.Side.Metal {
			h, err := e.pullThrough()
			if err != nil {
				return 0, err
			}
			ways = append(ways, h)
		}
	}
	ways = append(ways, e.steel())
	r := ways[0].Reference
	for _, w := range ways {
		r = min(r, w.Reference)
	}
	c.step("rope effect", r, "N", clause("8.2.2(2)"), "F_ax,Rk = %.0f N, a quarter of which adds", r)
	return r, nil
}

// likeBolt: screws over 6 mm go by the rules of bolts, others by those of nails (8.7.1(4) and
// (5)).
func (e *en) likeBolt() bool {
	f := e.Fastener
	return f.Kind == Bolt || !f.nailed() && f.D > 6e-3
}

// row is n_ef / n of fasteners one behind the other along the grain: (8.34) for bolts, (8.17)
// with Table 8.1 for nails. It is taken at every angle to the grain; across it the document
// takes 1.
func (e *en) row(c *Capacity) (float64, error) {
	if e.inRow() == 1 {
		return 1, nil
	}
	n, a := float64(e.inRow()), e.Spacing/e.Fastener.D
	if a == 0 {
		return 0, fmt.Errorf("fastener: %d fasteners in a row need their spacing (EN 1995-1-1 8.3.1.1(8), 8.5.1.1(4))", e.inRow())
	}
	var k float64
	o := clause("8.5.1.1 (8.34)")
	if e.likeBolt() {
		k = min(1, math.Pow(n, -0.1)*math.Pow(a/13, 0.25)) // n_ef = n^0.9 (a1/13d)^0.25
	} else {
		o = clause("8.3.1.1 (8.17) and Table 8.1")
		k = math.Pow(n, kef(a)-1)
	}
	c.step("row", k, "", o, "n_ef/n = %.3f for %d in a row at %.1f d", k, e.inRow(), a)
	return k, nil
}

// kef is k_ef of Table 8.1 by spacing over diameter: 0.5 at 4, 0.7 at 7, 0.85 at 10, 1 from 14.
func kef(a float64) float64 {
	at, k := [...]float64{4, 7, 10, 14}, [...]float64{0.5, 0.7, 0.85, 1}
	for i := 1; i < len(at); i++ {
		if a < at[i] {
			return k[i-1] + (k[i]-k[i-1])*max(0, a-at[i-1])/(at[i]-at[i-1])
		}
	}
	return 1
}

// placing lists the least distances: Table 8.2 for nails and screws to 6 mm, Table 8.4 for the
// others.
func (e *en) placing(c *Capacity) {
	d, bolt := e.Fastener.D, e.likeBolt()
	for _, m := range e.members() {
		if m.Metal {
			continue
		}
		sin, cos := math.Sincos(m.Angle)
		var end, edge float64
		o := clause("Table 8.4")
		switch {
		case bolt:
			end, edge = max(4*d, (1+6*sin)*d), 3*d
			if m.EndLoaded {
				end = max(7*d, 0.08)
			}
			if m.EdgeLoaded {
				edge = max((2+2*sin)*d, 3*d)
			}
		default:
			o = clause("Table 8.2, not predrilled, up to 420 kg/m3")
			end, edge = 10*d, 5*d
			if m.EndLoaded {
				end = (10 + 5*cos) * d
			}
			if m.EdgeLoaded {
				k := 2.0
				if d >= 5e-3 {
					k = 5
				}
				edge = (5 + k*sin) * d
			}
		}
		c.Rules = append(c.Rules,
			Rule{m.who + "end", m.End, end, m.End > 0, true, o.source, o.certainty},
			Rule{m.who + "edge", m.Edge, edge, m.Edge > 0, true, o.source, o.certainty})
	}
	if e.inRow() > 1 {
		k := 5.0 // a_1 = (4 + cos a) d
		o := clause("Table 8.4")
		if !bolt {
			k, o = 12, clause("Table 8.2") // (5 + 7 cos a) d, the larger for thin nails too
		}
		c.Rules = append(c.Rules, Rule{"spacing in a row", e.Spacing, k * d, e.Spacing > 0, true, o.source, o.certainty})
	}
}
