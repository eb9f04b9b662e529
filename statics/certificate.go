package statics

import "math"

// Certificate is the proof of an outcome, worked out from the group and the outcome alone,
// by code that shares nothing with the solver. Forces in balance within every limit prove
// that a factor is carried (static theorem); a motion that the joints cannot stop proves that
// no more is (kinematic theorem); here both must give the same factor.
type Certificate struct {
	Residual  float64 // largest force or moment left over on a block, as a share of the load
	Violation float64 // largest excess over a limit, as a share of the load; of the motion, of its speed
	Gap       float64 // difference of the two factors, as a share
	OK        bool    // Residual and Violation are at most 1e-8 and Gap at most 1e-6
}

const (
	balanced = 1e-8
	agreed   = 1e-6
)

// certify checks an outcome. far has the forces at the greatest factor when nothing limits it.
func certify(g *Group, align float64, only Limit, l *Loads, o, far *Outcome) Certificate {
	var c Certificate
	if o.NotStanding {
		r := resist(g, align, only, &o.Collapse)
		dead, _ := power(&o.Collapse, l.Dead)
		c.Violation = r.violation
		c.OK = r.violation <= balanced && dead > r.dissipated
		return c
	}
	at := o.Factor.Value
	if o.Factor.Unbounded {
		at = 1
		c.Residual, c.Violation = balance(g, only, l, maxFactor, far)
	}
	residual, violation := balance(g, only, l, at, o)
	c.Residual, c.Violation = max(c.Residual, residual), max(c.Violation, violation)
	if !o.Factor.Unbounded {
		r := resist(g, align, only, &o.Collapse)
		c.Violation = max(c.Violation, r.violation)
		c.Gap = gap(&o.Collapse, l, r.dissipated, at)
	}
	c.OK = c.Residual <= balanced && c.Violation <= balanced && c.Gap <= agreed
	return c
}

// provesStand reports whether forces carry dead + factor·live.
func provesStand(g *Group, only Limit, l *Loads, factor float64, o *Outcome) bool {
	residual, violation := balance(g, only, l, factor, o)
	return residual <= balanced && violation <= balanced
}

// provesFall reports whether dead + factor·live drives a motion that the joints cannot stop.
func provesFall(g *Group, align float64, only Limit, l *Loads, factor float64, c *Collapse) bool {
	r := resist(g, align, only, c)
	dead, _ := power(c, l.Dead)
	live, _ := power(c, l.Live)
	return r.violation <= balanced && dead+factor*live > r.dissipated
}

// gap compares a factor with the one at which the loads just drive a motion, as a share of
// itself; next to zero, as a share of a thousandth of dead over live loads. It is 1 for a motion in
// which the live loads do next to nothing.
func gap(c *Collapse, l *Loads, dissipated, factor float64) float64 {
	dead, deadSize := power(c, l.Dead)
	live, liveSize := power(c, l.Live)
	if !(live > 1e-12*liveSize*speed(c, l.Live)) {
		return 1
	}
	difference := math.Abs((dissipated-dead)/live - factor)
	if difference < 1e-12 { // of the live loads: nothing, also where no dead loads give a scale
		return 0
	}
	return min(1, difference/(factor+1e-3*deadSize/liveSize))
}

// power is what forces do in a motion (W), and the sum of their sizes (N).
func power(c *Collapse, forces []Acting) (sum, size float64) {
	for i := range forces {
		f := &forces[i]
		m := &c.Motions[f.Block]
		sum += dot(f.F, m.Velocity) + dot(cross3(sub(f.At, m.Centre), f.F), m.Spin)
		size += norm(f.F)
	}
	return sum, size
}

// speed is the greatest at which a force or the centre of its block moves (m/s).
func speed(c *Collapse, forces []Acting) float64 {
	most := 0.0
	for i := range forces {
		m := &c.Motions[forces[i].Block]
		most = max(most, norm(m.Velocity), norm(add(m.Velocity, cross3(m.Spin, sub(forces[i].At, m.Centre)))))
	}
	return most
}

// ledger adds up what acts on one block.
type ledger struct {
	force, moment Vec
	reach         float64
}

// balance is how far forces are from equilibrium with the loads and beyond their limits,
// both as a share of the load.
func balance(g *Group, only Limit, l *Loads, factor float64, o *Outcome) (residual, violation float64) {
	blocks := make([]ledger, len(g.Blocks))
	apply := func(block int, f, at Vec) {
		if block == Ground || f == (Vec{}) {
			return
		}
		b := &blocks[block]
		r := sub(at, g.Blocks[block].Centre)
		b.force = add(b.force, f)
		b.moment = add(b.moment, cross3(r, f))
		b.reach = max(b.reach, norm(r))
	}
	total := 0.0
	for i := range l.Dead {
		f := &l.Dead[i]
		apply(f.Block, f.F, f.At)
		total += norm(f.F)
	}
	for i := range l.Live {
		f := &l.Live[i]
		apply(f.Block, scaled(f.F, factor), f.At)
		total += factor * norm(f.F)
	}
	exceed := func(v float64) { violation = max(violation, v) }
	glued := only == LinksOnly || only == GuysOnly
	for i := range g.Contacts {
		c := &g.Contacts[i]
		n := unit(c.Normal)
		for k, at := range c.Points {
			f := o.PointForces[i][k]
			if f == (Vec{}) {
				continue
			}
			apply(c.Of, f, at)
			apply(c.On, scaled(f, -1), at)
			press := dot(f, n)
			rub := norm(sub(f, scaled(n, press)))
			if glued {
				continue
			}
			exceed(-press)
			if only != TippingOnly {
				exceed((rub - c.Friction*press) / (1 + c.Friction))
			}
			if c.Bearing > 0 && (only == AllLimits || only == TippingOnly) {
				exceed(press - c.Bearing)
			}
		}
		couple := o.Couples[i]
		blocks[c.Of].moment = add(blocks[c.Of].moment, couple)
		if c.On != Ground {
			blocks[c.On].moment = sub(blocks[c.On].moment, couple)
		}
		switch axial := scaled(n, dot(couple, n)); {
		case only == AllLimits || only == TippingOnly:
			exceed(norm(couple))
		case only == TurningOnly:
			exceed(norm(axial))
		}
	}
	for i := range g.Links {
		k := &g.Links[i]
		f := o.LinkForces[i].Force
		apply(k.A, f, k.At)
		apply(k.B, scaled(f, -1), k.At)
		e := unit(k.Axis)
		axial := dot(f, e)
		pull, push, shear := capacities(k, only)
		limit := pull
		if axial < 0 {
			limit = push
		}
		exceed(excess(math.Abs(axial), limit, norm(sub(f, scaled(e, axial))), shear))
	}
	for i := range g.Guys {
		y := &g.Guys[i]
		t := o.GuyForces[i]
		apply(y.Of, scaled(unit(sub(y.To, y.At)), t), y.At)
		exceed(-t)
		if limit := guyLimit(y, only); limit < math.Inf(1) {
			exceed(t - limit)
		}
	}
	if total < nothing {
		total = 1
	}
	for i := range blocks {
		b := &blocks[i]
		residual = max(residual, norm(b.force)/total)
		if b.reach > 0 {
			residual = max(residual, norm(b.moment)/(total*b.reach))
		}
	}
	return residual, violation / total
}

// capacities are those that count.
func capacities(k *Link, only Limit) (pull, push, shear float64) {
	if only == AllLimits || only == LinksOnly {
		return k.Pull, k.Push, k.Shear
	}
	raised := func(c float64) float64 {
		if c == 0 {
			return 0
		}
		return math.Inf(1)
	}
	return raised(k.Pull), raised(k.Push), raised(k.Shear)
}

func guyLimit(y *Guy, only Limit) float64 {
	if y.Limit == 0 || only == AllLimits || only == GuysOnly {
		return y.Limit
	}
	return math.Inf(1)
}

// excess is by how much (N) a pull or push t and a shear v are beyond their capacities,
// which interact when both are finite.
func excess(t, limit, v, shear float64) float64 {
	switch {
	case limit == 0 || shear == 0:
		over := 0.0
		if limit == 0 {
			over = t
		} else if limit < math.Inf(1) {
			over = t - limit
		}
		if shear == 0 {
			return max(over, v)
		} else if shear < math.Inf(1) {
			return max(over, v-shear)
		}
		return over
	case math.IsInf(limit, 1) && math.IsInf(shear, 1):
		return 0
	case math.IsInf(shear, 1):
		return t - limit
	case math.IsInf(limit, 1):
		return v - shear
	}
	return (t/limit + v/shear - 1) * min(limit, shear)
}

// resistance is what the joints do against a motion.
type resistance struct {
	violation  float64 // how far the motion is from one that they let happen (m/s)
	dissipated float64 // power that those take up which give at a capacity (W)
}

// resist adds up the joints. The polygons of friction and shear are set out again here
// from align.
func resist(g *Group, align float64, only Limit, c *Collapse) resistance {
	var r resistance
	forbid := func(v float64) { r.violation = max(r.violation, v) }
	at := func(block int, p Vec) Vec {
		if block == Ground {
			return Vec{}
		}
		m := &c.Motions[block]
		return add(m.Velocity, cross3(m.Spin, sub(p, m.Centre)))
	}
	spin := func(block int) Vec {
		if block == Ground {
			return Vec{}
		}
		return c.Motions[block].Spin
	}
	for i := range g.Contacts {
		k := &g.Contacts[i]
		n := unit(k.Normal)
		parting := add(spin(k.Of), scaled(spin(k.On), -1))
		arm := 0.0
		for q, p := range k.Points {
			arm = max(arm, norm(sub(p, g.Blocks[k.Of].Centre)))
			u := sub(at(k.Of, p), at(k.On, p))
			rise := dot(u, n)
			switch only {
			case LinksOnly, GuysOnly:
				if q == 0 {
					forbid(norm(u))
				}
				continue
			case TippingOnly:
				forbid(norm(sub(u, scaled(n, rise))))
			default:
				rise -= k.Friction * farthest(u, n, align)
			}
			if k.Bearing > 0 && (only == AllLimits || only == TippingOnly) {
				r.dissipated += k.Bearing * max(0, -rise)
			} else {
				forbid(-rise / (1 + k.Friction))
			}
		}
		switch only {
		case SlidingOnly, LinksOnly, GuysOnly:
			forbid(arm * norm(parting))
		case TurningOnly:
			forbid(arm * norm(sub(parting, scaled(n, dot(parting, n)))))
		}
	}
	for i := range g.Links {
		k := &g.Links[i]
		e := unit(k.Axis)
		u := sub(at(k.B, k.At), at(k.A, k.At))
		opening := dot(u, e)
		across := farthest(u, e, align)
		pull, push, shear := capacities(k, only)
		// The corners of what the link carries resist each by itself.
		most := 0.0
		for _, corner := range [...]struct{ capacity, speed float64 }{
			{pull, opening}, {push, -opening}, {shear, across},
		} {
			switch {
			case corner.speed <= 0 || corner.capacity == 0:
			case math.IsInf(corner.capacity, 1):
				if corner.capacity == shear && corner.speed == across {
					corner.speed = norm(sub(u, scaled(e, opening)))
				}
				forbid(corner.speed)
			default:
				most = max(most, corner.capacity*corner.speed)
			}
		}
		r.dissipated += most
	}
	for i := range g.Guys {
		y := &g.Guys[i]
		longer := -dot(at(y.Of, y.At), unit(sub(y.To, y.At)))
		switch limit := guyLimit(y, only); {
		case longer <= 0 || limit == 0:
		case math.IsInf(limit, 1):
			forbid(longer)
		default:
			r.dissipated += limit * longer
		}
	}
	return r
}

// farthest is the greatest component of u towards a corner of the polygon of 16 in the
// plane across n, one of which lies along align; up where align is along n.
func farthest(u, n Vec, align float64) float64 {
	t := Vec{math.Cos(align), math.Sin(align), 0}
	across := cross3(n, t)
	if norm(across) < 1e-6 {
		across = cross3(n, Vec{0, 0, 1})
	}
	across = unit(across)
	t = cross3(across, n)
	x, y := dot(u, t), dot(u, across)
	size := math.Hypot(x, y)
	if size == 0 {
		return 0
	}
	const step = 2 * math.Pi / 16
	angle := math.Atan2(y, x)
	return size * math.Cos(angle-step*math.Round(angle/step))
}
