package statics

import "math"

// Loads that are symmetric often set several motions free at the same factor: what slides
// may as well turn about one of its corners. plainest exchanges a motion for one in which the
// same blocks lift, sink, slide or overturn as one body, if that is as good.
func (a *Analysis) plainest(t *part, q *question, factor float64, motion []float64, good func(y []float64) bool) {
	moving := t.moving(motion)
	push := Vec{}
	for b, moves := range moving {
		for k := range 3 {
			if moves {
				push[k] -= q.dead[6*b+k] + factor*q.live[6*b+k]
			}
		}
	}
	y := make([]float64, len(motion))
	try := func(at, velocity, spin Vec) bool {
		clear(y)
		for b, moves := range moving {
			if moves {
				v := add(velocity, cross3(spin, sub(a.group.Blocks[b].Centre, at)))
				copy(y[6*b:], v[:])
				s := scaled(spin, t.programme.size[b])
				copy(y[6*b+3:], s[:])
			}
		}
		t.programme.wear(y)
		if !t.work.allows(y) || !good(y) {
			return false
		}
		copy(motion, y)
		return true
	}
	if try(Vec{}, Vec{0, 0, 1}, Vec{}) || try(Vec{}, Vec{0, 0, -1}, Vec{}) {
		return
	}
	rise, foot := 0.0, [][2]float64(nil)
	flat := math.Hypot(push[0], push[1])
	for i := range a.group.Contacts {
		c := &a.group.Contacts[i]
		if !moving[c.Of] || c.On != Ground && moving[c.On] {
			continue
		}
		rise = max(rise, c.Friction)
		for _, p := range c.Points {
			foot = append(foot, [2]float64{p[0], p[1]})
		}
	}
	if flat > 0 && try(Vec{}, Vec{push[0] / flat, push[1] / flat, rise}, Vec{}) {
		return
	}
	hull, err := Hull(foot)
	if err != nil {
		return
	}
	for i, p := range hull {
		n := outward(hull, i)
		z := a.height(moving, p)
		if try(Vec{p[0], p[1], z}, Vec{}, Vec{-n[1], n[0], 0}) {
			return
		}
	}
}

// height of a point of the foot of what moves.
func (a *Analysis) height(moving []bool, foot [2]float64) float64 {
	for i := range a.group.Contacts {
		c := &a.group.Contacts[i]
		if moving[c.Of] && (c.On == Ground || !moving[c.On]) {
			for _, p := range c.Points {
				if p[0] == foot[0] && p[1] == foot[1] {
					return p[2]
				}
			}
		}
	}
	return 0
}

// moving says which blocks a motion moves.
func (t *part) moving(motion []float64) []bool {
	moving := make([]bool, t.programme.blocks)
	speed := func(b int) (v float64) {
		for _, y := range motion[6*b : 6*b+6] {
			v = max(v, math.Abs(y))
		}
		return v
	}
	fastest := 0.0
	for b := range moving {
		fastest = max(fastest, speed(b))
	}
	for b := range moving {
		moving[b] = speed(b) > still*fastest
	}
	return moving
}

// drive is the power of the dead loads in a motion, for its greatest speed.
func (q *question) drive(y []float64) float64 {
	power, speed := 0.0, 0.0
	for i, v := range y {
		power -= v * q.dead[i]
		speed = max(speed, math.Abs(v))
	}
	return power / max(speed, nothing)
}

// wear completes a motion of blocks with what each capacity takes up in it.
func (p *programme) wear(y []float64) {
	for i := range p.joints {
		j := &p.joints[i]
		if j.cap < 0 {
			continue
		}
		u, z := j.velocity(y), 0.0
		for _, g := range p.generators[j.first:j.last] {
			if g.cap > 0 {
				z = max(z, -dot(u, g.k)/g.cap)
			}
		}
		y[6*p.blocks+j.cap] = z
	}
}

// allows reports whether no joint stops a motion.
func (s *simplex) allows(y []float64) bool {
	small := smallPivot * math.Sqrt(inner(y, y))
	s.whole(y, true)
	for _, v := range s.row {
		if v < -small {
			return false
		}
	}
	return true
}
