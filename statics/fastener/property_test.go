package fastener

import (
	"math"
	"testing"

	_ "galefast/internal/steady"

	"pgregory.net/rapid"
)

func drawJoint(t *rapid.T) Joint {
	uniform := func(name string, lo, hi float64) float64 { return rapid.Float64Range(lo, hi).Draw(t, name) }
	kind := Kind(rapid.IntRange(int(WoodScrew), int(Bolt)).Draw(t, "kind"))
	size := rapid.SampledFrom(Sizes(kind)).Draw(t, "size")
	length := 0.0
	if kind == WoodScrew || kind == LagScrew {
		probe, err := Of(kind, size, 0.1)
		if err != nil {
			t.Fatal(err)
		}
		length = rapid.SampledFrom(probe.Lengths()).Draw(t, "length")
	}
	f, err := Of(kind, size, length)
	if err != nil {
		t.Fatal(err)
	}
	if washers := WashersFor(size); kind == Bolt && len(washers) > 0 {
		f.Washer = rapid.SampledFrom(washers).Draw(t, "washer")
	}
	wood := func(who string) Member {
		g := uniform(who+" G", 0.31, 0.73)
		return Member{
			Material:  Material{Name: who, G: g, FcPerp: 3e6 * g, E: 9e9, Density: 800 * g, Fc90: 5e6 * g, Panel: rapid.IntRange(0, 4).Draw(t, who+" panel") == 0},
			Thickness: uniform(who+" thickness", 0.006, 0.09), Angle: uniform(who+" angle", 0, math.Pi/2), Area: 2e-3,
		}
	}
	j := Joint{Fastener: f, Side: wood("side"), Main: wood("main")}
	if rapid.Bool().Draw(t, "steel side") {
		j.Side.Metal, j.Side.Panel, j.Side.Fe, j.Side.Thickness = true, false, 61850*psi, uniform("plate", 0.001, 0.006)
	}
	j.Code = Code(rapid.IntRange(0, 1).Draw(t, "code"))
	j.EndGrain = rapid.IntRange(0, 5).Draw(t, "end grain") == 0
	j.Service = Service{Duration(rapid.IntRange(0, 5).Draw(t, "duration")), Moisture(rapid.IntRange(0, 1).Draw(t, "moisture")), uniform("celsius", -20, 60)}
	j.Count = rapid.IntRange(1, 8).Draw(t, "count")
	return j
}

// worse reports whether b is a higher utilisation than a.
func worse(a, b Use) bool {
	x, xok := a.Utilisation()
	y, yok := b.Utilisation()
	return xok && (!yok || y > x*(1+1e-9))
}

// TestStronger: whatever is made stronger, the utilisation does not rise.
func TestStronger(t *testing.T) {
	answered := 0
	rapid.Check(t, func(t *rapid.T) {
		j := drawJoint(t)
		d := Total{rapid.Float64Range(0, 2000).Draw(t, "lateral"), rapid.Float64Range(0, 2000).Draw(t, "tension")}
		before, err := j.CheckTotal(d)
		if err != nil {
			return
		}
		answered++
		k := rapid.Float64Range(1, 1.5).Draw(t, "by")
		change := rapid.SampledFrom([]string{"denser", "longer", "thicker", "more", "larger washer", "drier", "shorter load", "less load"}).Draw(t, "change")
		s := j
		switch change {
		case "denser":
			for _, m := range []*Member{&s.Side, &s.Main} {
				m.G, m.FcPerp, m.Density, m.Fc90 = min(0.73, m.G*k), m.FcPerp*k, min(1200, m.Density*k), m.Fc90*k
			}
		case "longer":
			s.Fastener = j.Fastener.WithLength(j.Fastener.Length * k)
			if j.Fastener.Kind == Bolt || s.Fastener.Length > j.Side.Thickness+j.Main.Thickness {
				return
			}
		case "thicker":
			s.Main.Thickness *= k
		case "more":
			s.Count++
		case "larger washer":
			s.Fastener.Washer.OD *= k
		case "drier":
			s.Service.Moisture = Dry
		case "shorter load":
			if s.Service.Duration < Wind {
				s.Service.Duration = Wind
			}
		case "less load":
			d = Total{d.Lateral / k, d.Tension / k}
		}
		after, err := s.CheckTotal(d)
		if err != nil {
			t.Fatalf("%s: %v", change, err)
		}
		if worse(before, after) {
			t.Fatalf("%s: %+v, then %+v", change, before, after)
		}
	})
	if answered < 50 {
		t.Errorf("only %d joints could be computed", answered)
	}
}

// TestPullAddsNothing: more tension, or more lateral force, never lowers the utilisation.
func TestPullAddsNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		j := drawJoint(t)
		d := Demand{rapid.Float64Range(1, 2000).Draw(t, "lateral"), rapid.Float64Range(1, 2000).Draw(t, "tension")}
		before, err := j.Check(d)
		if err != nil {
			return
		}
		more := d
		if rapid.Bool().Draw(t, "which") {
			more.Lateral *= rapid.Float64Range(1, 3).Draw(t, "by")
		} else {
			more.Tension *= rapid.Float64Range(1, 3).Draw(t, "by")
		}
		after, err := j.Check(more)
		if err != nil {
			t.Fatal(err)
		}
		if worse(after, before) {
			t.Fatalf("%v %+v, then %v %+v", d, before, more, after)
		}
	})
}

// TestCures: a cure carries the demand, and one step less of it does not.
func TestCures(t *testing.T) {
	found := 0
	rapid.Check(t, func(t *rapid.T) {
		j := drawJoint(t)
		d := Total{rapid.Float64Range(0, 3000).Draw(t, "lateral"), rapid.Float64Range(0, 3000).Draw(t, "tension")}
		before, err := j.CheckTotal(d)
		if err != nil {
			return
		}
		cures, err := j.Cures(d)
		if err != nil {
			t.Fatal(err)
		}
		if before.Holds() && len(cures) > 0 {
			t.Fatalf("it holds, and still %d cures", len(cures))
		}
		for _, c := range cures {
			found++
			u, err := c.Joint.CheckTotal(d)
			if err != nil || !u.Holds() {
				t.Fatalf("%s: %+v %v", c.What, u, err)
			}
			if n := c.Joint.Count; n > j.count()+1 {
				less := c.Joint
				less.Count--
				if u, err := less.CheckTotal(d); err != nil || u.Holds() {
					t.Fatalf("%s, but one less does too: %+v %v", c.What, u, err)
				}
			}
		}
	})
	if found < 20 {
		t.Errorf("only %d cures", found)
	}
}

// TestSectionEquilibrium: bolts and compression balance force and moment to 1e-9 of their size;
// bolts do not push, and the face does not pull.
func TestSectionEquilibrium(t *testing.T) {
	ways := map[string]int{}
	rapid.Check(t, func(t *rapid.T) {
		s := Section{Depth: rapid.Float64Range(0.02, 1).Draw(t, "depth")}
		for range rapid.IntRange(1, 6).Draw(t, "bolts") {
			s.Bolts = append(s.Bolts, s.Depth*rapid.Float64Range(0, 1).Draw(t, "bolt"))
		}
		if rapid.Bool().Draw(t, "soft") {
			s.Width, s.BoltArea = rapid.Float64Range(0.01, 0.3).Draw(t, "width"), rapid.Float64Range(1e-5, 1e-2).Draw(t, "area")
		}
		n, at := rapid.Float64Range(-5e3, 5e3).Draw(t, "n"), rapid.Float64Range(0, 1).Draw(t, "at")
		m := rapid.Float64Range(-500, 500).Draw(t, "m")
		o, err := s.Open(n, at, m)
		if err != nil {
			return
		}
		ways[o.Lever]++
		force, moment, size := -o.Compression-n, -o.Compression*o.At-(m+n*at), math.Abs(n)+o.Compression
		for i, f := range o.Bolts {
			if f < 0 {
				t.Fatalf("bolt pushes: %+v", o)
			}
			force, moment, size = force+f, moment+f*s.Bolts[i], size+f
		}
		if o.Compression < 0 || o.At < 0 || o.At > s.Depth*(1+1e-12) {
			t.Fatalf("compression: %+v", o)
		}
		if math.Abs(force) > 1e-9*size || math.Abs(moment) > 1e-9*(size*(s.Depth+at)+math.Abs(m)) {
			t.Fatalf("off by %g N, %g N m: %+v", force, moment, o)
		}
		// The other way round is the same section.
		flipped := s
		flipped.Bolts = nil
		for _, y := range s.Bolts {
			flipped.Bolts = append(flipped.Bolts, s.Depth-y)
		}
		p, err := flipped.Open(n, s.Depth-at, -m)
		if err != nil {
			t.Fatalf("flipped: %v", err)
		}
		for i := range o.Bolts {
			if math.Abs(o.Bolts[i]-p.Bolts[i]) > 1e-6*size {
				t.Fatalf("flipped: %+v and %+v", o, p)
			}
		}
	})
	if len(ways) < 5 {
		t.Errorf("only these ways came up: %v", ways)
	}
}

// TestSoftFaceHardens: as the face gets stiffer the pressing triangle shrinks to the pivot on
// the edge.
func TestSoftFaceHardens(t *testing.T) {
	hard := Section{Depth: 0.5, Bolts: []float64{0.05, 0.45}}
	want, err := hard.Open(0, 0, 1000)
	if err != nil {
		t.Fatal(err)
	}
	soft := hard
	soft.Width, soft.BoltArea = 1, 1e-9
	got, err := soft.Open(0, 0, 1000)
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(got.Bolts[1]-want.Bolts[1]) > 1e-3*want.Bolts[1] {
		t.Errorf("%+v, want %+v", got, want)
	}
	soft.BoltArea = 1e-3
	if got, err = soft.Open(0, 0, 1000); err != nil || got.Bolts[1] <= want.Bolts[1] || got.Contact <= 0 {
		t.Errorf("a soft face shortens the lever: %+v, hard %+v, %v", got, want, err)
	}
}

// TestPlateEquilibrium: pulls, lateral forces and presses balance force and moment to 1e-9.
func TestPlateEquilibrium(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		draw := func(name string, r float64) float64 { return rapid.Float64Range(-r, r).Draw(t, name) }
		a := draw("turn", math.Pi)
		p := Plate{Out: Vec{math.Cos(a), math.Sin(a), 0}, Up: Vec{0, 0, 1}, Width: 0.04, Height: 0.1}
		for range rapid.IntRange(2, 6).Draw(t, "screws") {
			p.Screws = append(p.Screws, Point{rapid.Float64Range(0.002, 0.038).Draw(t, "x"), rapid.Float64Range(0.005, 0.095).Draw(t, "y")})
		}
		f, at, m := Vec{draw("fx", 500), draw("fy", 500), draw("fz", 500)}, Vec{draw("x", 0.1), draw("y", 0.1), draw("z", 0.02)}, Vec{draw("mx", 20), draw("my", 20), draw("mz", 20)}
		pulls, presses, err := p.Share(f, at, m)
		if err != nil {
			return // screws in one point
		}
		right := p.Up.cross(p.Out)
		want := Vec{f.dot(right), f.dot(p.Up), f.dot(p.Out)}
		wantM := Vec{m.dot(right), m.dot(p.Up), m.dot(p.Out)}.add(at.cross(want))
		var gotF, gotM Vec
		size := 0.0
		add := func(at Point, v Vec) {
			gotF, gotM = gotF.add(v), gotM.add(Vec{at[0], at[1], 0}.cross(v))
			size += math.Sqrt(v.dot(v))
		}
		for i, q := range pulls {
			if q.Tension < 0 || q.Lateral < 0 {
				t.Fatalf("%+v", q)
			}
			add(p.Screws[i], Vec{q.Across[0], q.Across[1], q.Tension})
		}
		for _, q := range presses {
			if q.Force < 0 {
				t.Fatalf("the wood pulls: %+v", q)
			}
			add(q.At, Vec{0, 0, -q.Force})
		}
		for i := range 3 {
			if math.Abs(gotF[i]-want[i]) > 1e-9*size || math.Abs(gotM[i]-wantM[i]) > 1e-9*(size+1) {
				t.Fatalf("force %v, want %v; moment %v, want %v", gotF, want, gotM, wantM)
			}
		}
	})
}

// TestHingeEquilibrium: loads, hinges and stop balance in every case to 1e-9; hinges farther
// apart pull less.
func TestHingeEquilibrium(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		draw := func(name string, lo, hi float64) float64 { return rapid.Float64Range(lo, hi).Draw(t, name) }
		l := Leaf{Bears: Bears(rapid.IntRange(0, 2).Draw(t, "bears")), Stopped: true, StopX: draw("stop x", 0.5, 2), StopZ: draw("stop z", 0, 2)}
		for range rapid.IntRange(2, 5).Draw(t, "hinges") {
			l.Hinges = append(l.Hinges, draw("hinge", 0, 2))
		}
		var loads []Load
		for range rapid.IntRange(1, 4).Draw(t, "loads") {
			loads = append(loads, Load{"load", Vec{draw("fx", -500, 500), draw("fy", -500, 500), draw("fz", -500, 500)}, Vec{draw("x", 0, 2), draw("y", -0.05, 0.05), draw("z", 0, 2)}})
		}
		cases, err := l.Reactions(loads)
		if err != nil {
			return // hinges in one point
		}
		for _, c := range cases {
			var force, moment Vec
			size := 0.0
			add := func(f, at Vec) {
				force, moment = force.add(f), moment.add(at.cross(f))
				size += math.Abs(f[0]) + math.Abs(f[1]) + math.Abs(f[2])
			}
			for _, q := range loads {
				add(q.Force, q.At)
			}
			for i, h := range c.Hinges {
				add(Vec{-h[0], -h[1], -h[2]}, Vec{0, 0, l.Hinges[i]})
			}
			add(Vec{0, -c.Stop, 0}, Vec{l.StopX, 0, l.StopZ})
			for i := range 3 {
				if math.Abs(force[i]) > 1e-9*size || math.Abs(moment[i]) > 1e-9*size*4 {
					t.Fatalf("%s: force %v, moment %v", c.Case, force, moment)
				}
			}
		}
	})
	weight := []Load{{"weight", Vec{0, 0, -200}, Vec{0.6, 0, 1}}}
	last := math.Inf(1)
	for _, apart := range []float64{0.5, 1, 1.5, 2} {
		cases, err := Leaf{Hinges: []float64{0, apart}}.Reactions(weight)
		if err != nil || cases[0].Hinges[1][0] >= last {
			t.Fatalf("%g m apart: %+v %v", apart, cases, err)
		}
		last = cases[0].Hinges[1][0]
	}
	if _, err := (Leaf{Hinges: []float64{0, 1}}).Reactions([]Load{{"wind", Vec{0, 50, 0}, Vec{0.6, 0, 1}}}); err == nil {
		t.Error("wind turns a leaf that nothing stops, and no error")
	}
}

// TestDeadweight: the block is in equilibrium at its limit, and a steeper guy lifts more of its
// weight.
func TestDeadweight(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w, mu, b := rapid.Float64Range(10, 5000).Draw(t, "w"), rapid.Float64Range(0.05, 1.2).Draw(t, "mu"), rapid.Float64Range(0, 1.5).Draw(t, "angle")
		pull := Deadweight(w, mu, b)
		if along, across := pull*math.Cos(b), w-pull*math.Sin(b); math.Abs(along-mu*across) > 1e-9*w || across < 0 {
			t.Fatalf("T %g: %g along, %g across", pull, along, across)
		}
	})
}

// TestGroupAction: one fastener is whole, more are less, and a rigid pair of members is whole.
func TestGroupAction(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(2, 20).Draw(t, "n")
		s, ea, ratio := rapid.Float64Range(0.03, 0.3).Draw(t, "s"), rapid.Float64Range(1e5, 1e9).Draw(t, "ea"), rapid.Float64Range(0.1, 1).Draw(t, "ratio")
		gamma := rapid.Float64Range(1e6, 1e8).Draw(t, "gamma")
		c, err := GroupAction(n, s, ea, ea*ratio, gamma)
		if err != nil || c <= 0 || c > 1 {
			t.Fatalf("%g %v", c, err)
		}
		stiffer, err := GroupAction(n, s, ea*2, ea*ratio*2, gamma)
		if err != nil || stiffer < c*(1-1e-6) {
			t.Fatalf("stiffer members: %g, then %g, %v", c, stiffer, err)
		}
		fewer, err := GroupAction(n-1, s, ea, ea*ratio, gamma)
		if err != nil || fewer < c*(1-1e-6) {
			t.Fatalf("fewer: %g, then %g, %v", c, fewer, err)
		}
	})
}
