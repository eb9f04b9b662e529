//go:build spicecheck

package electrical

import (
	"bytes"
	"fmt"
	"math"
	"math/cmplx"
	"os/exec"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// An independent circuit simulator (ngspice, the Debian package) solves the same networks.
// `go test -tags spicecheck ./electrical` runs these tests; the program must be installed.

const spiceTrees = 100

// deck is a netlist for the simulator.
type deck struct {
	strings.Builder
	parts int
}

// part adds an element with a name of its own.
func (d *deck) part(kind, format string, args ...any) {
	d.parts++
	fmt.Fprintf(d, "%s%d %s\n", kind, d.parts, fmt.Sprintf(format, args...))
}

// run solves the deck and returns what it prints for each of the nodes.
func (d *deck) run(t *rapid.T, analysis string, nodes []string) map[string]complex128 {
	var src strings.Builder
	fmt.Fprintf(&src, "tree\n%s.options reltol=1e-9 abstol=1e-14 vntol=1e-11 gmin=1e-18 itl1=2000\n.control\nset numdgt=14\n%s\n", d.String(), analysis)
	for _, n := range nodes {
		fmt.Fprintf(&src, "print v(%s)\n", n)
	}
	src.WriteString("quit\n.endc\n.end\n")
	cmd := exec.Command("ngspice", "-b", "/dev/stdin")
	cmd.Stdin = strings.NewReader(src.String())
	var out, problems bytes.Buffer
	cmd.Stdout, cmd.Stderr = &out, &problems
	if err := cmd.Run(); err != nil {
		t.Fatalf("ngspice: %v\n%s\n%s", err, problems.String(), src.String())
	}
	found := map[string]complex128{}
	for line := range strings.SplitSeq(out.String(), "\n") {
		name, value, ok := strings.Cut(line, " = ")
		if !ok || !strings.HasPrefix(name, "v(") {
			continue
		}
		re, im, both := strings.Cut(value, ",")
		x, err := strconv.ParseFloat(strings.TrimSpace(re), 64)
		if err != nil {
			t.Fatalf("ngspice printed %q", line)
		}
		y := 0.0
		if both {
			if y, err = strconv.ParseFloat(strings.TrimSpace(im), 64); err != nil {
				t.Fatalf("ngspice printed %q", line)
			}
		}
		found[strings.TrimSuffix(strings.TrimPrefix(name, "v("), ")")] = complex(x, y)
	}
	for _, n := range nodes {
		if _, ok := found[n]; !ok {
			t.Fatalf("ngspice printed nothing for %s:\n%s\n%s\n%s", n, out.String(), problems.String(), src.String())
		}
	}
	return found
}

// agree compares voltages to one part in 10,000 of the supply's.
func agree(t *rapid.T, what string, got, want complex128, volts float64) {
	if d := cmplx.Abs(got - want); d > 1e-4*volts {
		t.Errorf("%s: %v V, ngspice %v V, off by %.2g of the supply's voltage", what, got, want, d/volts)
	}
}

// Trees of every kind of supply with resistances, reactances, and loads that are resistances or
// currents at a fixed angle; conductor by conductor, with the simulator's own resistors,
// inductors and sources, in its analysis of alternating current.
func TestAgainstSimulatorAC(t *testing.T) {
	const hertz = 60.0
	tried := 0
	tree := func(t *rapid.T) {
		tried++
		n := network(t, false, ConstantCurrent, Resistance)
		for i := range n.Loads {
			n.Loads[i].FromSupply = true
		}
		n.Supplies[0].SourceImpedance = complex(rapid.Float64Range(0.01, 0.2).Draw(t, "r"), rapid.Float64Range(0.001, 0.1).Draw(t, "x"))
		if rapid.Bool().Draw(t, "legs") {
			n = legs(t, n)
		}
		res := solve(t, n)
		if !res.Converged {
			t.Fatal("did not converge")
		}
		tr, err := compile(&n)
		if err != nil {
			t.Fatal(err)
		}
		c := newCircuit(tr, 0)
		if !c.solve() {
			t.Fatal("did not converge")
		}
		s := &n.Supplies[0]
		conductors := s.legs() + 1
		node := func(place, conductor int) string { return fmt.Sprintf("n%dc%d", place, conductor) }
		var d deck
		branch := func(from, to string, z complex128) {
			mid := fmt.Sprintf("m%d", d.parts)
			d.part("R", "%s %s %.15g", from, mid, real(z))
			d.part("L", "%s %s %.15g", mid, to, imag(z)/(2*math.Pi*hertz))
		}
		// Sources: each leg to ground, the neutral at ground.
		for i := range s.legs() {
			emf := c.emf[i]
			if c.d == 1 && s.Phases == 1 {
				emf = complex(s.Volts, 0)
			} else if c.d == 1 {
				emf = cmplx.Rect(s.Volts/math.Sqrt(3), -2*math.Pi/3*float64(i))
			}
			d.part("V", "e%d 0 AC %.15g %.15g", i, cmplx.Abs(emf), cmplx.Phase(emf)*180/math.Pi)
			z := s.SourceImpedance
			if s.legs() < 3 {
				z /= 2
			}
			branch(fmt.Sprintf("e%d", i), node(0, i), z)
		}
		z := s.SourceImpedance
		if s.legs() < 3 {
			z /= 2
		}
		branch("0", node(0, conductors-1), z)
		for k, r := range n.Runs {
			p := tr.place[1+k]
			for i := range conductors {
				contact := r.Contact
				if s.legs() < 3 {
					contact /= 2
				}
				branch(node(tr.place[tr.parent[k]], i), node(p, i), complex(r.Resistance, r.Reactance)*complex(r.Length, 0)+complex(contact, 0))
			}
		}
		for i := range n.Loads {
			l, leg := &n.Loads[i], tr.legOf(i)
			p := tr.place[tr.loadAt[i]]
			pairs := []pair{{0, 1}}
			if conductors > 2 {
				pairs = s.pairs(leg, conductors)
			}
			for _, pr := range pairs {
				a, b := node(p, pr.a), node(p, pr.b)
				if l.Kind == Resistance {
					rated := s.Nominal(leg)
					d.part("R", "%s %s %.15g", a, b, rated*rated/(l.Watts*float64(l.Count)))
					continue
				}
				emf := complex(s.Volts, 0)
				if conductors > 2 {
					emf = spiceEMF(s, pr.a) - spiceEMF(s, pr.b)
				}
				angle := cmplx.Phase(emf) - math.Acos(l.PowerFactor)
				d.part("I", "%s %s AC %.15g %.15g", a, b, l.Amps*float64(l.Count), angle*180/math.Pi)
			}
		}
		var nodes []string
		for p := range c.node {
			for i := range conductors {
				nodes = append(nodes, node(p, i))
			}
		}
		v := d.run(t, fmt.Sprintf("ac lin 1 %g %g", hertz, hertz), nodes)
		for p := range c.node {
			if c.d == 1 && s.Phases == 1 {
				agree(t, nodes[2*p], c.volts[p][0], v[node(p, 0)]-v[node(p, 1)], s.Volts)
				continue
			}
			for i := range s.legs() {
				got := c.volts[p][i]
				if c.d == 1 && i > 0 {
					break // balanced: one phase stands for all
				}
				if c.d > 1 {
					got -= c.volts[p][c.d-1]
				}
				agree(t, node(p, i), got, v[node(p, i)]-v[node(p, conductors-1)], s.Volts)
			}
		}
	}
	for tried < spiceTrees {
		rapid.Check(t, tree)
		if t.Failed() {
			return
		}
	}
}

// spiceEMF is the voltage of a conductor at the source.
func spiceEMF(s *Supply, conductor int) complex128 {
	switch {
	case conductor == s.legs():
		return 0
	case s.SplitPhase:
		return complex(s.Volts/2, 0) * complex(1-2*float64(conductor), 0)
	}
	return cmplx.Rect(s.Volts/math.Sqrt(3), -2*math.Pi/3*float64(conductor))
}

// Two-wire trees with loads of constant power, and of a current at their own angle, by the
// simulator's behavioural sources: real and imaginary parts are two coupled circuits of direct
// current, whose operating point it finds.
func TestAgainstSimulatorPower(t *testing.T) {
	tried := 0
	tree := func(t *rapid.T) {
		tried++
		n := network(t, rapid.Bool().Draw(t, "dc"), allKinds...)
		for k := range n.Runs {
			n.Runs[k].Length *= 2
		}
		s := &n.Supplies[0]
		s.SourceImpedance = complex(rapid.Float64Range(0.01, 0.2).Draw(t, "r"), rapid.Float64Range(0.001, 0.1).Draw(t, "x"))
		res := solve(t, n)
		if !res.Converged {
			return // the simulator has nothing to agree with
		}
		var d deck
		d.part("V", "er 0 %.15g", s.Volts)
		d.part("V", "ei 0 0")
		branch := func(from, to string, z complex128) {
			if s.DC {
				z = complex(real(z), 0)
			}
			// The current of each part is sensed by a source of no voltage.
			k := d.parts
			for _, part := range []string{"r", "i"} {
				fmt.Fprintf(&d, "Vs%d%s %s%s s%d%s 0\n", k, part, from, part, k, part)
			}
			fmt.Fprintf(&d, "Bd%dr s%dr %sr V = %.15g*I(Vs%dr) - %.15g*I(Vs%di)\n", k, k, to, real(z), k, imag(z), k)
			fmt.Fprintf(&d, "Bd%di s%di %si V = %.15g*I(Vs%di) + %.15g*I(Vs%dr)\n", k, k, to, real(z), k, imag(z), k)
			fmt.Fprintf(&d, ".nodeset v(%sr)=%.15g\n", to, s.Volts)
			d.parts++
		}
		branch("e", "s", s.SourceImpedance)
		for _, r := range n.Runs {
			branch(r.From, r.Name, 2*complex(r.Resistance, r.Reactance)*complex(r.Length, 0)+complex(r.Contact, 0))
		}
		for _, l := range n.Loads {
			pf := l.PowerFactor
			if s.DC {
				pf = 1
			}
			sin := math.Sqrt(1 - pf*pf)
			vr, vi := fmt.Sprintf("V(%sr)", l.On), fmt.Sprintf("V(%si)", l.On)
			square := fmt.Sprintf("(%s*%s+%s*%s)", vr, vr, vi, vi)
			count := float64(l.Count)
			switch l.Kind {
			case ConstantPower:
				p, q := l.Watts*count, l.Watts*count/pf*sin
				d.part("B", "%sr 0 I = (%.15g*%s+%.15g*%s)/%s", l.On, p, vr, q, vi, square)
				d.part("B", "%si 0 I = (%.15g*%s-%.15g*%s)/%s", l.On, p, vi, q, vr, square)
			case ConstantCurrent:
				re, im := l.Amps*count*pf, -l.Amps*count*sin
				d.part("B", "%sr 0 I = (%.15g*%s-(%.15g)*%s)/sqrt(%s)", l.On, re, vr, im, vi, square)
				d.part("B", "%si 0 I = (%.15g*%s+(%.15g)*%s)/sqrt(%s)", l.On, re, vi, im, vr, square)
			case Resistance:
				r := s.Volts * s.Volts / (l.Watts * count)
				d.part("R", "%sr 0 %.15g", l.On, r)
				d.part("R", "%si 0 %.15g", l.On, r)
			}
		}
		nodes := []string{"sr", "si"}
		for _, r := range n.Runs {
			nodes = append(nodes, r.Name+"r", r.Name+"i")
		}
		v := d.run(t, "op", nodes)
		agree(t, "supply", res.Supplies[0].Voltage, complex(real(v["sr"]), real(v["si"])), s.Volts)
		for k, r := range n.Runs {
			agree(t, r.Name, res.Runs[k].Voltage, complex(real(v[r.Name+"r"]), real(v[r.Name+"i"])), s.Volts)
		}
	}
	for tried < spiceTrees {
		rapid.Check(t, tree)
		if t.Failed() {
			return
		}
	}
}
