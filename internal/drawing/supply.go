package drawing

import (
	"fmt"
	"math"
	"strings"

	"galefast/internal/quantity"
	"galefast/internal/site"
	"galefast/internal/verdict"
)

// supplyRows is how many lines of a supply diagram go on one picture.
const supplyRows = 24

// twig is one line of a supply diagram: a supply, a cord or a lamp.
type twig struct {
	name, facts string
	kind        string
	depth       int
	parent      int // line of what feeds it; -1 for a supply
	drop        *float64
	most        *float64 // the drop it may have
	result      verdict.Result
}

// Supply draws each supply as a tree from the breaker down: cords with size, length,
// current and rating, lamps with current and voltage, and the voltage drop as bars.
// A long tree is broken into several pictures.
func Supply(f *site.File, r *verdict.Report, system quantity.System) []*Scene {
	var list []*Scene
	for i := range f.Supplies {
		name := f.Supplies[i].Name.V
		tree := grow(f, r, system, &f.Supplies[i])
		for part := 0; part*supplyRows < len(tree); part++ {
			s := supplyScene(tree, part*supplyRows, min((part+1)*supplyRows, len(tree)))
			s.Title = "Supply from " + name
			if part > 0 {
				s.Title += fmt.Sprintf(", part %d", part+1)
			}
			list = append(list, s)
		}
	}
	return list
}

// grow lists what hangs on a supply, each thing after what feeds it.
func grow(f *site.File, r *verdict.Report, system quantity.System, s *site.Supply) []twig {
	facts := []string{quantity.Format(s.Volts.V, system)}
	for _, c := range r.Circuit.Circuits {
		if c.Name != s.Name.V {
			continue
		}
		if c.BreakerA != nil {
			facts = append(facts, fmt.Sprintf("breaker %.0f A", *c.BreakerA))
		} else {
			facts = append(facts, "no breaker given")
		}
		load := fmt.Sprintf("load %.2f A", c.Amps)
		if c.Percent != nil {
			load += fmt.Sprintf(", %.0f %% of it", *c.Percent)
		}
		facts = append(facts, load)
	}
	if s.GFCI.V {
		facts = append(facts, "GFCI or RCD")
	} else {
		facts = append(facts, "no GFCI or RCD given")
	}
	tree := []twig{{name: s.Name.V, kind: "supply", facts: strings.Join(facts, " · "), parent: -1}}
	var hang func(name string, parent int)
	hang = func(name string, parent int) {
		depth := tree[parent].depth + 1
		for i := range f.Lamps {
			if l := &f.Lamps[i]; l.On.V == name {
				tree = append(tree, lampTwig(r, l, depth, parent))
			}
		}
		for i := range f.Cords {
			if k := &f.Cords[i]; k.From.V == name {
				tree = append(tree, cordTwig(r, system, k, depth, parent))
				hang(k.Name.V, len(tree)-1)
			}
		}
	}
	hang(s.Name.V, 0)
	return tree
}

func nodeOf(r *verdict.Report, kind, name string) (verdict.Node, bool) {
	for _, n := range r.Circuit.Nodes {
		if n.Kind == kind && n.Name == name {
			return n, true
		}
	}
	return verdict.Node{}, false
}

// ruling puts the drop of a thing and what its check allows on its line.
func (t *twig) ruling(r *verdict.Report) {
	if n, ok := nodeOf(r, t.kind, t.name); ok {
		t.drop = n.DropPercent
	}
	for i := range r.Checks {
		c := &r.Checks[i]
		if c.Kind == verdict.Power && c.Subject == t.name && c.Unit == "%" && c.Sense == verdict.AtMost && strings.Contains(c.What, "drop") && t.most == nil {
			t.most, t.result = c.Needs, c.Result
		}
	}
}

func lampTwig(r *verdict.Report, l *site.Lamp, depth, parent int) twig {
	t := twig{name: l.Name.V, kind: "lamp", depth: depth, parent: parent}
	var facts []string
	if l.Count.V > 1 {
		facts = append(facts, fmt.Sprintf("%d of them", l.Count.V))
	}
	if n, ok := nodeOf(r, "lamp", l.Name.V); ok {
		if n.Amps != nil {
			facts = append(facts, fmt.Sprintf("%.2f A", *n.Amps))
		}
		if n.Volts != nil {
			facts = append(facts, fmt.Sprintf("%.1f V", *n.Volts))
		}
		if n.Volts == nil && n.Why != "" {
			facts = append(facts, n.Why)
		}
	}
	t.facts = strings.Join(facts, " · ")
	t.ruling(r)
	return t
}

func cordTwig(r *verdict.Report, system quantity.System, k *site.Cord, depth, parent int) twig {
	t := twig{name: k.Name.V, kind: "cord", depth: depth, parent: parent}
	for _, x := range r.Circuit.Runs {
		if x.Name != k.Name.V {
			continue
		}
		facts := []string{strings.TrimSpace(x.Gauge + " " + k.Type.V), quantity.Format(quantity.Length(x.LengthM), system)}
		switch {
		case x.Amps != nil && x.AmpacityA != nil:
			facts = append(facts, fmt.Sprintf("%.2f A of %.1f A", *x.Amps, *x.AmpacityA))
		case x.Amps != nil:
			facts = append(facts, fmt.Sprintf("%.2f A", *x.Amps))
		}
		t.facts = strings.Join(facts, " · ")
	}
	t.ruling(r)
	return t
}

func supplyScene(tree []twig, from, to int) *Scene {
	const row, indent, bars, barWidth = 25.0, 18.0, 382.0, 62.0
	s := &Scene{Width: PageWidth}
	most := 0.0
	for _, t := range tree {
		for _, v := range []*float64{t.drop, t.most} {
			if v != nil {
				most = math.Max(most, *v)
			}
		}
	}
	font := Font{Size: small, Ink: Black}
	s.Text(Point{bars, 8}, Font{Size: small, Bold: true, Ink: Black}, "voltage drop [%]")
	y := func(i int) float64 { return 26 + row*float64(i-from) }
	x := func(t twig) float64 { return 8 + indent*math.Min(float64(t.depth), 8) }
	for i := from; i < to; i++ {
		t := tree[i]
		at := Point{x(t), y(i)}
		if t.parent >= 0 {
			up := Point{x(tree[t.parent]), math.Max(y(t.parent)+6, 12)}
			pen := Pen{Ink: Black, Width: 1.2}
			s.Line(pen, up, Point{up.X, at.Y}, Point{at.X - 6, at.Y})
		}
	}
	for i := from; i < to; i++ {
		t := tree[i]
		at := Point{x(t), y(i)}
		switch t.kind {
		case "supply":
			s.Box(Paper, strong, Box{at.X - 6, at.Y - 6, 12, 12})
			s.Line(strong, at.plus(Point{-3, 0}), at.plus(Point{3, -3}))
		case "cord":
			s.Box(Black, Pen{}, Box{at.X - 6, at.Y - 2, 12, 4})
		default:
			s.Circle(Paper, strong, at, 5)
			s.Line(fine, at.plus(Point{-3.5, -3.5}), at.plus(Point{3.5, 3.5}))
			s.Line(fine, at.plus(Point{-3.5, 3.5}), at.plus(Point{3.5, -3.5}))
		}
		room := bars - at.X - 22
		bold := Font{Size: normal, Bold: true, Ink: Black}
		s.Text(at.plus(Point{12, -1}), bold, fit(t.name, bold, room))
		s.Text(at.plus(Point{12, 8.5}), font, fit(t.facts, font, room))
		line := fmt.Sprintf("%s %s", t.name, t.facts)
		if t.drop != nil && most > 0 {
			// A shared neutral can raise a voltage: the drop is then below nothing, and there is no bar.
			b := Box{bars, at.Y - 4, max(0, *t.drop) / most * barWidth, 7}
			s.Box(Wash, fine, b)
			text := fmt.Sprintf("%.2f", math.Round(100**t.drop)/100+0) // +0 for a negative zero
			if t.most != nil {
				m := bars + *t.most/most*barWidth
				s.Line(strong, Point{m, at.Y - 7}, Point{m, at.Y + 6})
				text += fmt.Sprintf(", %s", t.result)
			}
			s.Text(Point{bars + barWidth + 5, at.Y + 2.5}, font, text)
			line += ", drop " + text
		}
		s.Desc += line + ". "
	}
	s.Height = y(to-1) + 24
	s.Text(Point{0, s.Height - 4}, font, "square: supply; bar: cord; crossed circle: lamp; the upright stroke in a bar: the drop that is allowed")
	return s
}
