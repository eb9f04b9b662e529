package fastener

import (
	"fmt"
	"math"
)

// GroupAction is C_g of n fasteners spaced s (m) in a row between members of stiffness eam and
// eas (E times area, N), with the load/slip modulus gamma (N/m): NDS 2018 11.3.6, eq. 11.3-1,
// from memory.
func GroupAction(n int, s, eam, eas, gamma float64) (float64, error) {
	if err := bounded("NDS 2018 11.3.6",
		bound{"fasteners in a row", float64(n), 1, 1e4},
		bound{"spacing in m", s, 1e-3, 100},
		bound{"E A of the main member in N", eam, 1, 1e15},
		bound{"E A of the side member in N", eas, 1, 1e15},
		bound{"load/slip modulus in N/m", gamma, 1, 1e12},
	); err != nil {
		return 0, err
	}
	if n == 1 {
		return 1, nil
	}
	rea := min(eam/eas, eas/eam)
	x := gamma * s / 2 * (1/eam + 1/eas) // u - 1
	// m = u - sqrt(u^2 - 1), written so that it does not cancel; below, a rigid row: 1.
	root := math.Sqrt(x * (x + 2))
	if root < 1e-7 {
		return 1, nil
	}
	m := 1 / (1 + x + root)
	mn := math.Pow(m, float64(n))
	cg := m * (1 - mn*mn) / (float64(n) * ((1+rea*mn)*(1+m) - 1 + mn*mn)) * (1 + rea) / (1 - m)
	return min(1, cg), nil
}

func (n *nds) groupAction(c *Capacity) error {
	if n.inRow() == 1 {
		return nil
	}
	key := "wood to wood"
	if n.Side.Metal || n.Main.Metal {
		key = "wood to metal"
	}
	g := n.t.factors["gamma, "+key]
	ea := func(m Member, name string) (float64, error) {
		if m.E*m.Area < 1 {
			return 0, fmt.Errorf("fastener: the group action factor of %d fasteners in a row needs E and area of the %s member (NDS 2018 11.3.6)",
				n.inRow(), name)
		}
		return m.E * m.Area, nil
	}
	eam, err := ea(n.Main, "main")
	if err != nil {
		return err
	}
	eas, err := ea(n.Side, "side")
	if err != nil {
		return err
	}
	if n.Spacing == 0 {
		return fmt.Errorf("fastener: the group action factor of %d fasteners in a row needs their spacing (NDS 2018 11.3.6)", n.inRow())
	}
	gamma := g.value * math.Pow(n.Fastener.D/inch, 1.5) * lbf / inch
	cg, err := GroupAction(n.inRow(), n.Spacing, eam, eas, gamma)
	if err != nil {
		return err
	}
	n.times(c, "C_g", cg, fmt.Sprintf("%d in a row", n.inRow()), g.origin)
	return nil
}

// geometry applies C_delta to fasteners from 1/4 in: the least of distance over full distance;
// short of the minimums there is no value (12.5.1).
func (n *nds) geometry(c *Capacity) {
	cdelta := 1.0
	use := func(who, what string, has float64) {
		row := n.place(c, who+what, what, has, true)
		if has > 0 && row.full > row.least {
			cdelta = min(cdelta, has/(row.full*n.Fastener.D))
		}
	}
	for _, m := range n.members() {
		if m.Metal {
			continue
		}
		along := m.Angle < math.Pi/4 && !m.Panel
		end := "end, otherwise"
		if along && m.EndLoaded {
			end = "end, pulled, softwood"
		}
		use(m.who, end, m.End)
		edge := "edge, unloaded"
		switch {
		case along:
			edge = "edge, along grain"
		case m.EdgeLoaded:
			edge = "edge, loaded"
		}
		use(m.who, edge, m.Edge)
	}
	if n.inRow() > 1 {
		use("", "spacing in a row", n.Spacing)
	}
	if n.count() > n.inRow() {
		use("", "rows", n.RowSpacing)
	}
	if cdelta < 1 {
		row := n.t.places["end, otherwise"]
		n.times(c, "C_Δ", cdelta, "least of distance over full distance", row.origin)
	}
}

// thin lists the advice for fasteners under 1/4 in, for which the document only asks that
// nothing split.
func (n *nds) thin(c *Capacity) {
	for _, m := range n.members() {
		if m.Metal || m.Panel {
			continue
		}
		for _, q := range [...]struct {
			what string
			has  float64
		}{{"end", m.End}, {"edge", m.Edge}} {
			n.place(c, m.who+q.what, "thin, "+q.what, q.has, false)
		}
	}
}
