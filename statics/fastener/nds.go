package fastener

import (
	"fmt"
	"math"
)

// nds computes one joint by NDS 2018, in inches, pounds and psi as the document does.
type nds struct {
	Joint
	t *tableSet
}

const (
	twoStatements = "standard clause as reproduced in public statements of NDS 2018, of which two agree"
	pagedCopy     = "standard clause as reproduced in a public copy of NDS 2018 cited by page"
	fromMemory    = "from memory"
	noSource      = "common practice, no source"
)

func (n *nds) start(source string) Capacity {
	c := Capacity{Source: source}
	c.doubt(n.Fastener.Certainty)
	c.doubt(n.Side.Certainty)
	c.doubt(n.Main.Certainty)
	return c
}

// factor multiplies the value by a factor of the tables.
func (n *nds) factor(c *Capacity, name, table, key string) {
	d, ok := n.t.factors[table+", "+key]
	if !ok {
		// The tests look every factor up.
		d = datum{0, origin{"no " + table + " for " + key, noSource}}
	}
	n.times(c, name, d.value, key, d.origin)
}

func (n *nds) times(c *Capacity, name string, by float64, why string, o origin) {
	c.Value *= by
	c.step(name, by, "", o, "%s = %.4g, %s", name, by, why)
}

// temperature applies C_t (Table 11.3.4).
func (n *nds) temperature(c *Capacity) {
	f := n.Service.Celsius*9/5 + 32
	key := "to 150 F"
	switch {
	case f <= 100:
		key = "to 100 F"
	case f <= 125:
		key = "to 125 F"
	}
	table := "C_t dry"
	if n.Service.Moisture != Dry {
		table = "C_t wet"
	}
	n.factor(c, "C_t", table, key)
}

func (n *nds) duration(c *Capacity) { n.factor(c, "C_D", "C_D", n.Service.Duration.String()) }

// holding is the length in m of fastener that holds against withdrawal.
func (n *nds) holding() float64 {
	f := n.Fastener
	depth, out := n.reach()
	switch f.Kind {
	case WoodScrew: // thread in the member, tip included
		return max(0, min(f.Thread, depth+out)-out)
	case LagScrew: // thread in the member without the tapered tip, 12.2.1.1
		return max(0, min(f.Thread, depth+out)-max(out, f.Tip))
	}
	return depth
}

// withdrawal: NDS 2018 12.2.
func (n *nds) withdrawal() (Capacity, error) {
	f, g, d := n.Fastener, n.Main.G, n.Fastener.D/inch
	p := n.holding() / inch
	var c Capacity
	var w float64 // lb/in
	switch f.Kind {
	case WoodScrew: // W = 2850 G^2 D
		c = n.start("NDS 2018 12.2.2, eq. 12.2-2")
		w = 2850 * g * g * d
		c.step("withdrawal", w, "lb/in", origin{c.Source, twoStatements},
			"W = 2850 G² D = 2850·%.3g²·%.3f = %.1f lb/in", g, d, w)
	case LagScrew: // W = 1800 G^1.5 D^0.75
		c = n.start("NDS 2018 12.2.1, eq. 12.2-1")
		w = 1800 * math.Pow(g, 1.5) * math.Pow(d, 0.75)
		c.step("withdrawal", w, "lb/in", origin{c.Source, twoStatements},
			"W = 1800 G^1.5 D^0.75 = 1800·%.3g^1.5·%.3f^0.75 = %.1f lb/in", g, d, w)
	case Nail: // W = 1380 G^2.5 D
		c = n.start("NDS 2018 12.2.3, eq. 12.2-3")
		w = 1380 * math.Pow(g, 2.5) * d
		c.step("withdrawal", w, "lb/in", origin{c.Source, pagedCopy},
			"W = 1380 G^2.5 D = 1380·%.3g^2.5·%.3f = %.2f lb/in", g, d, w)
	case RingNail: // W = 1800 G^2 D
		c = n.start("NDS 2018 12.2.3, ring-shank nails")
		w = 1800 * g * g * d
		c.step("withdrawal", w, "lb/in", origin{c.Source, pagedCopy},
			"W = 1800 G² D = 1800·%.3g²·%.3f = %.1f lb/in", g, d, w)
	default:
		return Capacity{}, fmt.Errorf("fastener: a bolt has no withdrawal; its washers bear (NDS 2018 12.1.3)")
	}
	c.Mode = "withdrawal"
	c.Value = w * p * lbf
	c.Reference = c.Value
	c.step("held length", p, "in",
		origin{"thread in the main member, without the tip of a lag screw; nails with their tip", pagedCopy},
		"p = %.3f in, W·p = %.1f lb", p, w*p)
	if n.Main.Panel {
		c.doubt(noSource) // the equations are for lumber; the panel's specific gravity stands in
	}
	n.duration(&c)
	key := "screw "
	if f.nailed() {
		key = "nail "
	}
	n.factor(&c, "C_M", "C_M withdrawal", key+n.Service.Moisture.String())
	n.temperature(&c)
	switch {
	case n.EndGrain && f.Kind == LagScrew:
		n.factor(&c, "C_eg", "C_eg", "lag withdrawal")
	case n.EndGrain: // 12.2.2.3 and 12.2.3.3
		o := origin{"NDS 2018 12.2.2.3 and 12.2.3.3", twoStatements}
		n.times(&c, "end grain", 0, "no screw or nail is loaded in withdrawal from end grain", o)
		c.Mode, c.Reference, c.Source = "no capacity: withdrawal from end grain", 0, o.source
		c.doubt(o.certainty)
		return c, nil
	}
	if n.ToeNailed {
		n.factor(&c, "C_tn", "C_tn", "withdrawal")
	}
	if f.Kind == LagScrew {
		n.place(&c, "withdrawal: edge", "lag withdrawal, edge", n.Main.Edge, true)
		n.place(&c, "withdrawal: end", "lag withdrawal, end", n.Main.End, true)
		if n.count() > 1 {
			n.place(&c, "withdrawal: spacing", "lag withdrawal, spacing", n.Spacing, true)
		}
	}
	n.outOfTheBack(&c)
	c.finish()
	return c, nil
}

// outOfTheBack lists a point that comes out of the main member.
func (n *nds) outOfTheBack(c *Capacity) {
	c.rule("main member behind the point", n.Side.Thickness+n.Main.Thickness, n.Fastener.Length, false,
		origin{"only what is in the wood counts", noSource})
}

// place adds a minimum of the placement table; a distance of 0 is not known.
func (n *nds) place(c *Capacity, what, row string, has float64, voids bool) placeRow {
	p := n.t.places[row]
	c.Rules = append(c.Rules, Rule{what, has, p.least * n.Fastener.D, has > 0, voids, p.source, p.certainty})
	return p
}

// pullThrough: heads by 12.2.5, washers of bolts by bearing.
func (n *nds) pullThrough() (Capacity, error) {
	if n.Fastener.Kind == Bolt {
		return n.washer(n.Side, "side member")
	}
	g, d, t := n.Side.G, n.Fastener.Head/inch, n.Side.Thickness/inch
	c := n.start("NDS 2018 12.2.5")
	c.Mode = "head pull-through"
	var w float64 // lb
	if t <= 2.5*d {
		// W_H = 690 pi D_H G^2 t
		w = 690 * math.Pi * d * g * g * t
		c.step("head pull-through", w, "lb", origin{c.Source, pagedCopy},
			"W_H = 690π D_H G² t = 690π·%.3f·%.3g²·%.3f = %.1f lb", d, g, t, w)
	} else {
		// W_H = 1725 pi D_H^2 G^2
		w = 1725 * math.Pi * d * d * g * g
		c.step("head pull-through", w, "lb", origin{c.Source, pagedCopy},
			"W_H = 1725π D_H² G² = 1725π·%.3f²·%.3g² = %.1f lb (t over 2.5 D_H)", d, g, w)
	}
	if d == 0 {
		c.Mode = "no capacity: no head"
	}
	c.Value = w * lbf
	c.Reference = c.Value
	n.duration(&c)
	n.factor(&c, "C_M", "C_M pull-through", n.Service.Moisture.String())
	n.temperature(&c)
	return c, nil
}

// washer is bearing of a bolt's washer across the grain: T = F_c-perp A_net, hole D + 1/16 in;
// no C_D (NDS 2018 3.10.2, 4.3 and Table 4.3.1).
func (n *nds) washer(m Member, name string) (Capacity, error) {
	c := n.start("NDS 2018 3.10.2, F_c-perp under the washer")
	c.Mode = "washer bearing on the " + name
	od, d := n.Fastener.Washer.OD/inch, n.Fastener.D/inch
	if m.FcPerp == 0 {
		return Capacity{}, &LimitError{"F_c-perp in Pa of " + m.Name + ", which is not known,", 0, 0, c.Source}
	}
	c.doubt(n.Fastener.Washer.Certainty)
	c.rule("washer under head and nut", n.Fastener.Washer.OD, n.Fastener.D+inch/16, true, origin{"NDS 2018 12.1.3", fromMemory})
	a := max(0, math.Pi/4*(od*od-(d+1./16)*(d+1./16)))
	t := m.FcPerp / psi * a
	c.step("washer bearing", t, "lb", origin{c.Source, fromMemory},
		"T = F_c⊥ π/4 (OD² − (D + 1/16)²) = %.0f·π/4 (%.3f² − %.4f²) = %.0f lb", m.FcPerp/psi, od, d+1./16, t)
	c.Value = t * lbf
	c.Reference = c.Value
	n.factor(&c, "C_M", "C_M bearing", n.Service.Moisture.String())
	n.temperature(&c)
	c.finish()
	return c, nil
}

// steel is the fastener's own tension; no C_D (11.2.3).
func (n *nds) steel() Capacity {
	f := n.Fastener
	c := n.start("NDS 2018 12.2.2.5 and 11.2.3")
	c.Mode = "fastener steel in tension"
	d, key := f.Root/inch, "other, psi"
	if f.Kind == Bolt {
		d, key = f.D/inch, "bolt, psi"
	}
	ft := n.t.factors["F_t, "+key]
	t := ft.value * math.Pi / 4 * d * d
	c.step("steel", t, "lb", ft.origin, "F_t π/4 d² = %.0f·π/4·%.3f² = %.0f lb", ft.value, d, t)
	c.Value = t * lbf
	c.Reference = c.Value
	return c
}

func (n *nds) tension() (Capacity, error) {
	ways := []Capacity{n.steel()}
	add := func(c Capacity, err error) error {
		ways = append(ways, c)
		return err
	}
	var err error
	if n.Fastener.Kind == Bolt {
		if !n.Side.Metal {
			err = add(n.washer(n.Side, "side member"))
		}
		if err == nil && !n.Main.Metal && !n.Double {
			err = add(n.washer(n.Main, "main member"))
		}
	} else {
		err = add(n.withdrawal())
		if err == nil && !n.Side.Metal {
			err = add(n.pullThrough())
		}
	}
	if err != nil {
		return Capacity{}, err
	}
	return least(ways), nil
}

// least is the least of several ways, with the working and the rules of all of them.
func least(ways []Capacity) Capacity {
	worst := ways[len(ways)-1]
	for _, c := range ways {
		if c.Value < worst.Value {
			worst = c
		}
	}
	worst.Steps, worst.Rules = nil, nil
	for _, c := range ways {
		worst.Steps = append(worst.Steps, c.Steps...)
		worst.Rules = append(worst.Rules, c.Rules...)
	}
	return worst
}
