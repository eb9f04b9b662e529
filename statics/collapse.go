package statics

// Motion is how one block starts to move: the velocity of its centre (m/s) and its spin
// (rad/s).
type Motion struct {
	Centre, Velocity, Spin Vec
}

// At is the velocity (m/s) of a point (m) of the block.
func (m *Motion) At(p Vec) Vec {
	return add(m.Velocity, cross3(m.Spin, sub(p, m.Centre)))
}

// Collapse is a motion of the group that its joints cannot stop; its size has no meaning.
// The loads drive it when together they do more power in it than Dissipated, so every
// load that the group carries meets
//
//	Σ Power(dead) + factor · Σ Power(live) <= Dissipated
//
// which holds for other loads than those it was found for, and so bounds ballast and guys.
// Where friction slides the motion also rises, by the coefficient times the slide: the
// normality of limit analysis.
type Collapse struct {
	Motions    []Motion // by block
	Dissipated float64  // power of links, guys and soft ground at their capacities (W)
}

// Power is what a force does in the motion (W).
func (c *Collapse) Power(f Acting) float64 {
	if f.Block < 0 || f.Block >= len(c.Motions) {
		return 0
	}
	return dot(f.F, c.Motions[f.Block].At(f.At))
}

// newCollapse reads a motion of the programme.
func newCollapse(g *Group, p *programme, y []float64) Collapse {
	c := Collapse{Motions: make([]Motion, p.blocks)}
	fastest := 0.0
	for i := range c.Motions {
		m := &c.Motions[i]
		m.Centre = g.Blocks[i].Centre
		if y == nil {
			continue
		}
		b := y[6*i:]
		m.Velocity = Vec{b[0], b[1], b[2]}
		m.Spin = scaled(Vec{b[3], b[4], b[5]}, 1/p.size[i])
		fastest = max(fastest, norm(m.Velocity)+norm(m.Spin)*p.size[i])
	}
	if fastest == 0 {
		return c
	}
	for i := range c.Motions {
		m := &c.Motions[i]
		m.Velocity = scaled(m.Velocity, 1/fastest)
		m.Spin = scaled(m.Spin, 1/fastest)
	}
	for k, cap := range p.caps {
		c.Dissipated += cap * max(0, y[6*p.blocks+k]) / fastest
	}
	return c
}
