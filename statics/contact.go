package statics

import (
	"fmt"
	"math"
)

// contact is the foot as corners that press and rub.
//
// For a load with centre of pressure c, horizontal force H and torque T about c, the
// corners p_i share the load by weights w_i >= 0 with Σ w_i = 1 and Σ w_i p_i = c, and
// corner i receives from the ground
//
//	normal    w_i N
//	friction  w_i (-H - k v + k e_i),  k = |T| / ρ
//
// with e_i the unit vector across p_i - c, turning against T, ρ = Σ w_i |p_i - c| and
// v = Σ w_i e_i. It is in equilibrium: the frictions add up to -H; the normals act at
// c; the part -H - k v, shared like the normals, has no torque about c, and the
// part k e_i has k ρ = |T|, against T. It is admissible when every friction is at
// most μ times its normal: |-H - k v + k e_i| <= μ N.
type contact struct {
	hull     [][2]float64
	origin   [2]float64 // about which moments are taken
	friction float64
}

func (r resultant) centre() [2]float64 { return [2]float64{r.p[0] / r.n, r.p[1] / r.n} }

// twist is the torque of the horizontal forces about c; rounding counts as none.
func (r resultant) twist(c [2]float64) float64 {
	x, y := c[0]*r.h[1], c[1]*r.h[0]
	t := r.t - x + y
	if math.Abs(t) <= 1e-12*(r.tAbs+math.Abs(x)+math.Abs(y)) {
		return 0
	}
	return t
}

// corner is one corner's share of the load.
type corner struct {
	weight float64
	across [2]float64 // unit vector across its arm from the centre, anticlockwise
}

// spread shares a load at c (relative to the origin) among the corners by Wachspress
// coordinates, w_i ~ C_i / (A_i-1 A_i) (Wachspress 1975), and returns ρ and v for
// an anticlockwise e_i. Areas are kept above 1e-12 of their sum, which gives the limits on
// edges and corners.
func (k contact) spread(c [2]float64, corners []corner) (arm float64, net [2]float64) {
	n := len(k.hull)
	c = [2]float64{c[0] + k.origin[0], c[1] + k.origin[1]}
	var total float64
	for i, p := range k.hull {
		a := cross(c, p, k.hull[(i+1)%n])
		corners[i].weight = a // for now, the area beyond the corner
		total += math.Abs(a)
	}
	tiny := 1e-12 * total
	last := max(corners[n-1].weight, tiny)
	var weights float64
	for i, p := range k.hull {
		next := max(corners[i].weight, tiny)
		w := (cross(k.hull[(i+n-1)%n], p, k.hull[(i+1)%n]) / last) * (total / next)
		corners[i].weight = w
		weights += w
		last = next
	}
	for i, p := range k.hull {
		w := corners[i].weight / weights
		dx, dy := p[0]-c[0], p[1]-c[1]
		r := math.Sqrt(dx*dx + dy*dy)
		var e [2]float64
		if r > 0 {
			e = [2]float64{-dy / r, dx / r}
		}
		corners[i] = corner{w, e}
		arm += w * r
		net[0] += w * e[0]
		net[1] += w * e[1]
	}
	return arm, net
}

// margin is the friction that the busiest corner would have left if it bore the whole
// load (N); negative when the corner forces are not admissible. That c lies within the
// foot is judged elsewhere.
func (k contact) margin(load resultant) float64 {
	if load.n <= 0 {
		return -1
	}
	c := load.centre()
	t := load.twist(c)
	if t == 0 {
		return k.friction*load.n - math.Hypot(load.h[0], load.h[1])
	}
	var buffer [8]corner
	corners := k.buffer(buffer[:])
	arm, net := k.spread(c, corners)
	var most float64
	for i := range corners {
		f := friction(load.h, t, arm, net, corners[i].across)
		most = max(most, f[0]*f[0]+f[1]*f[1])
	}
	if arm == 0 {
		return -math.Sqrt(most)
	}
	return k.friction*load.n - math.Sqrt(most)/arm
}

// friction is ρ times the friction of one corner per unit of its weight.
func friction(h [2]float64, t, arm float64, net, across [2]float64) [2]float64 {
	return [2]float64{
		-arm*h[0] + t*(net[0]-across[0]),
		-arm*h[1] + t*(net[1]-across[1]),
	}
}

func (k contact) buffer(b []corner) []corner {
	if n := len(k.hull); n > len(b) {
		return make([]corner, n)
	}
	return b[:len(k.hull)]
}

// Reactions returns the forces (N) of the ground on the corners of the foot's hull
// that carry dead + factor·live, as the proof behind [TurningResult]. ok is false when
// they are not admissible: a corner would have to pull, or rub beyond friction.
// The error is that of [Body.Check].
func (b Body) Reactions(factor float64) (forces []Vec, ok bool, err error) {
	foot, err := b.foot()
	if err != nil {
		return nil, false, err
	}
	hull := foot.hull
	if !usable(factor) {
		return nil, false, fmt.Errorf("factor %g: %w", factor, ErrValue)
	}
	k := contact{hull, hull[0], b.Friction}
	load := sum(b.Dead, k.origin).plus(factor, sum(b.Live, k.origin))
	if load.n <= 0 {
		return nil, false, nil
	}
	c := load.centre()
	for i := range hull {
		p := [2]float64{c[0] + k.origin[0], c[1] + k.origin[1]}
		if cross(hull[i], hull[(i+1)%len(hull)], p) < 0 {
			return nil, false, nil
		}
	}
	if k.margin(load) < 0 {
		return nil, false, nil
	}
	t := load.twist(c)
	corners := make([]corner, len(hull))
	arm, net := k.spread(c, corners)
	forces = make([]Vec, len(hull))
	for i, q := range corners {
		f := [2]float64{-load.h[0], -load.h[1]}
		if t != 0 {
			f = friction(load.h, t, arm, net, q.across)
			f = [2]float64{f[0] / arm, f[1] / arm}
		}
		forces[i] = Vec{q.weight * f[0], q.weight * f[1], q.weight * load.n}
	}
	return forces, true, nil
}
