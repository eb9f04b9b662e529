package fastener

import (
	"math"
	"strings"
	"testing"
)

// TestTablesInSI: what the tables hold in inches, pounds, millimetres and N/mm2 comes out in SI, worked by hand:
// 1 in is 25.4 mm, 1 lbf 4.44822 N, 1 psi 6894.76 Pa.
func TestTablesInSI(t *testing.T) {
	spf, c24, ply, steel := material(t, "spf"), material(t, "c24"), material(t, "softwood plywood en"), material(t, "steel a36")
	screw, lag, m12, nail := of(t, WoodScrew, "#10", 2*inch), of(t, LagScrew, "1/2", 4*inch), of(t, Bolt, "M12", 0), of(t, Nail, "3.1 mm", 0)
	rope, err := RopeOf("manila", 0.00635)
	if err != nil {
		t.Fatal(err)
	}
	stake := Stakes()[0]
	for _, c := range []struct {
		what      string
		got, want float64
	}{
		{"SPF, specific gravity", spf.G, 0.42}, {"SPF, E of 1.2e6 psi", spf.E, 8.27371e9}, {"SPF, F_c-perp of 425 psi", spf.FcPerp, 2.93027e6},
		{"C24, density", c24.Density, 350}, {"C24, f_c,90,k of 2.5 N/mm2", c24.Fc90, 2.5e6}, {"A36, F_e of 87,000 psi", steel.Fe, 5.99844e8},
		{"#10 screw, 0.190 in", screw.D, 4.826e-3}, {"#10 screw, root 0.152 in", screw.Root, 3.8608e-3}, {"#10 screw, head 0.363 in", screw.Head, 9.2202e-3}, {"#10 screw, tip 0.380 in", screw.Tip, 9.652e-3},
		{"lag screw 1/2 in, F_yb of 45,000 psi", lag.Fyb, 3.10264e8}, {"lag screw, tip of 5/16 in", lag.Tip, 7.9375e-3},
		{"M12", m12.D, 0.012}, {"M12, f_u of 400 N/mm2", m12.Fu, 4e8}, {"M12, washer of 37 mm", WashersFor("M12")[0].OD, 0.037}, {"1/2 in, washer of 1 3/8 in", WashersFor("1/2")[0].OD, 0.034925},
		{"nail of 80 mm", nail.Length, 0.08}, {"nail, f_u", nail.Fu, 6e8},
		{"manila rope of 1/4 in, 540 lbf", rope.Breaking, 2402.04}, {"manila rope, 1/4 in", rope.Diameter, 0.00635},
		{"stake of 36 in", stake.Length, 0.9144}, {"stake of 1 in", stake.Diameter, 0.0254}, {"stake, 1000 lbf", stake.Pullout, 4448.22},
	} {
		if math.Abs(c.got-c.want) > 1e-5*c.want {
			t.Errorf("%s: %.6g, want %.6g", c.what, c.got, c.want)
		}
	}
	if !m12.Metric || screw.Metric || spf.Panel || !ply.Panel || spf.Metal || !steel.Metal {
		t.Errorf("M12 metric %v, #10 metric %v, spf panel %v, plywood panel %v, spf metal %v, steel metal %v", m12.Metric, screw.Metric, spf.Panel, ply.Panel, spf.Metal, steel.Metal)
	}
	if metric := of(t, WoodScrew, "4 mm", 0.05).Lengths(); metric[0] != 0.02 || metric[len(metric)-1] != 0.2 {
		t.Errorf("metric screws from %g to %g m", metric[0], metric[len(metric)-1])
	}
	// Four diameters at least: a No. 24 screw, 0.372 in, from 1 1/2 in.
	if in := of(t, WoodScrew, "#24", 2*inch).Lengths(); math.Abs(in[0]-1.5*inch) > 1e-12 || math.Abs(in[len(in)-1]-4*inch) > 1e-12 {
		t.Errorf("No. 24 screws from %g to %g in", in[0]/inch, in[len(in)-1]/inch)
	}
	// And a lag screw of 1/4 in from just that.
	if in := of(t, LagScrew, "1/4", 2*inch).Lengths(); math.Abs(in[0]-inch) > 1e-12 {
		t.Errorf("lag screws of 1/4 in from %g in", in[0]/inch)
	}
	if got := Sizes(RingNail); len(got) != len(Sizes(Nail)) || got[0] != "6d" {
		t.Errorf("ring-shank nails: %q", got)
	}
	if got := WashersFor("5/8"); len(got) != 1 || got[0].Name != "cut 5/8" {
		t.Errorf("washers for 5/8 in: %+v", got)
	}
	// A rope is found by its diameter to a hundredth of a millimetre.
	for off, found := range map[float64]bool{0: true, 0.9e-5: true, -0.9e-5: true, 1.1e-5: false, -1.1e-5: false} {
		if _, err := RopeOf("manila", 0.25*inch+off); (err == nil) != found {
			t.Errorf("%g m off: %v", off, err)
		}
	}
	if _, err := RopeOf("nylon", 0.3); err == nil || !strings.Contains(err.Error(), "no nylon rope of 300 mm") {
		t.Errorf("a nylon rope of 300 mm: %v", err)
	}
}

// TestSlipsInTables: the first slip in a table is told by file and row.
func TestSlipsInTables(t *testing.T) {
	for want, slip := range map[string]func(*reader){
		"no column colour":               func(r *reader) { r.text("colour") },
		`parsing "long": invalid syntax`: func(r *reader) { r.number("length"); r.text("colour") },
		"no unit ell":                    func(r *reader) { r.unit() },
		"no kind peg":                    func(r *reader) { r.kind() },
	} {
		r := reader{file: "lengths.csv", rows: [][]string{{"kind", "unit", "length"}, {"peg", "ell", "long"}}}
		if !r.next() {
			t.Fatal("no row")
		}
		if slip(&r); r.err == nil || !strings.HasPrefix(r.err.Error(), "fastener: data/lengths.csv row 1: ") || !strings.HasSuffix(r.err.Error(), want) {
			t.Errorf("%v, want %q", r.err, want)
		}
		if r.next() {
			t.Error("a row too many")
		}
	}
	var r reader
	if r.open("none.csv"); r.err == nil || r.next() {
		t.Errorf("a file that is not there: %v", r.err)
	}
}
