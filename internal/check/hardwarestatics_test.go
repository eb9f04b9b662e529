package check

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"galefast/internal/catalog"
	"galefast/internal/quantity"
	"galefast/internal/site"
	"galefast/internal/takeoff"
	"galefast/internal/verdict"
	"galefast/statics/fastener"
	"galefast/testdata/sites"
	"galefast/wind"
)

// anyBolted draws a joint of a section.
func anyBolted(t *rapid.T) *bolted {
	size := [2]float64{rapid.Float64Range(0.2, 1).Draw(t, "width"), rapid.Float64Range(0.2, 1).Draw(t, "depth")}
	part := rapid.Float64Range(0.2, 0.9).Draw(t, "pattern")
	bolts := pattern(rapid.IntRange(2, 9).Draw(t, "bolts"), [2]float64{part * size[0], part * size[1]})
	bolt, err := fastener.Of(fastener.Bolt, "3/8", 0)
	if err != nil {
		t.Fatal(err)
	}
	bolt.Washer.OD = 0.03
	wood, err := fastener.MaterialOf("spf")
	if err != nil {
		t.Fatal(err)
	}
	frame := fastener.Member{Material: wood, Thickness: 0.038, Angle: math.Pi / 2}
	h, err := (&job{f: &site.File{}}).hold(fastener.Joint{Fastener: bolt, Side: frame, Main: frame, Count: len(bolts)})
	if err != nil {
		t.Fatal(err)
	}
	return newBolted(size, bolts, h)
}

func anyWrung(t *rapid.T) (w wrung) {
	for i := range 3 {
		w.f[i] = rapid.Float64Range(-2000, 2000).Draw(t, "force")
		w.m[i] = rapid.Float64Range(-2000, 2000).Draw(t, "moment")
	}
	w.f[2] = -math.Abs(w.f[2])
	return w
}

// The bolts and the edges that press are in balance with what passes through a joint, and no
// bolt gets more than the bound says.
func TestJointInBalance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		q, w := anyBolted(t), anyWrung(t)
		demands, opening, err := q.shares(&w)
		if err != nil {
			t.Fatal(err)
		}
		scale := math.Abs(w.f[0]) + math.Abs(w.f[1]) + math.Abs(w.f[2]) + math.Abs(w.m[0]) + math.Abs(w.m[1]) + math.Abs(w.m[2]) + 1
		up := 0.0
		for axis, tip := range [2]float64{w.m[1], -w.m[0]} {
			var moment float64 // about the middle, of what holds the section, against the tip
			for i, b := range q.bolts {
				y := b[axis]
				if tip < 0 {
					y = -y
				}
				moment += opening[axis].Bolts[i] * -y
				up -= opening[axis].Bolts[i]
			}
			press := opening[axis].Compression
			moment += press * (q.size[axis]/2 - opening[axis].At)
			up += press
			if off := math.Abs(moment - math.Abs(tip)); off > 1e-9*scale {
				t.Fatalf("moment %d is off by %g of %g N m: %+v", axis, off, tip, opening[axis])
			}
		}
		if off := math.Abs(up + w.f[2]); off > 1e-9*scale {
			t.Fatalf("%g N are missing of %g N", off, w.f[2])
		}
		for i, d := range demands {
			if _, share := q.compare(d, fastener.Wind); share > q.bound(&w, fastener.Wind)*(1+1e-9)+1e-12 {
				t.Fatalf("bolt %d is used to %g, the bound is %g", i, share, q.bound(&w, fastener.Wind))
			}
		}
	})
}

// The forces on the hinges and the stop are in balance with the loads of every case, and no screw
// gets more than the bound says.
func TestHingesInBalance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		draw := func(name string, low, high float64) quantity.Length {
			return quantity.Length(rapid.Float64Range(low, high).Draw(t, name))
		}
		g := &site.Gate{Hinge: &site.Hinge{}}
		g.Width.V, g.Height.V, g.Thickness.V = draw("width", 0.5, 2), draw("height", 0.8, 2), 0.06
		g.Open.V = quantity.Angle(rapid.Float64Range(0.3, 3).Draw(t, "open"))
		g.Solidity.V = 1
		h := g.Hinge
		for range rapid.IntRange(2, 4).Draw(t, "hinges") {
			h.Heights = append(h.Heights, site.Measure[quantity.Length]{V: draw("hinge", 0, float64(g.Height.V))})
		}
		h.Heights[0].V, h.Heights[1].V = 0.1*g.Height.V, 0.9*g.Height.V
		h.Screws.V, h.Screws.Given = rapid.IntRange(1, 6).Draw(t, "screws"), true
		h.Gauge.V, h.Gauge.Given = 10, true
		h.Length.V, h.Length.Given = 0.05, true
		h.Thickness.V, h.Thickness.Given = 0.06, true
		h.Into.V, h.Into.Given = "spf", true
		h.Mount.V = rapid.SampledFrom([]string{"edge", "face"}).Draw(t, "mount")
		f := &site.File{}
		f.Catalog = catalog.Embedded()
		f.Site.GustAlone.V, f.Site.Terrain.V, f.Site.Basis.V = 15, "C", "gust"
		f.Site.Slope.V = quantity.Ratio(rapid.Float64Range(0, 0.1).Draw(t, "slope"))
		f.Require.Lean.Force.V, f.Require.Lean.Height.V = 200, 0.7
		j := &job{f: f}
		var err error
		if j.measured, err = j.newClimate(wind.Gust); err != nil {
			t.Fatal(err)
		}
		j.code = j.measured
		l := leafOn{g, site.Leaf{Closed: rapid.Float64Range(0, 6).Draw(t, "direction"), Swing: rapid.SampledFrom([]float64{-1, 1}).Draw(t, "swing")},
			takeoff.Mass{Light: 10, Heavy: 12, Center: [3]float64{}}}
		sin, cos := math.Sincos(l.leaf.Closed)
		l.mass.Center = [3]float64{cos * float64(g.Width.V) / 2, sin * float64(g.Width.V) / 2, float64(g.Height.V) / 2}
		x, err := j.hang(&l)
		if err != nil {
			t.Fatal(err)
		}
		if err := j.screwOn(x); err != nil {
			t.Fatal(err)
		}
		x.each(func(c *hingeCase, r fastener.Reaction, stop float64) {
			var sum wrung
			size := 1.0
			for _, q := range c.loads {
				sum.on(q.Force, q.At, 1)
				size += math.Abs(q.Force[0]) + math.Abs(q.Force[1]) + math.Abs(q.Force[2])
			}
			for i, force := range r.Hinges {
				sum.on(force, [3]float64{0, 0, x.leaf.Hinges[i]}, -1)
			}
			if !c.slam {
				sum.on([3]float64{0, r.Stop, 0}, [3]float64{x.leaf.StopX, 0, stop}, -1)
			}
			for i := range 3 {
				if math.Abs(sum.f[i]) > 1e-9*size || math.Abs(sum.m[i]) > 1e-8*size {
					t.Fatalf("%s: forces off by %g N, moments by %g N m", c.what, sum.f, sum.m)
				}
			}
			for _, side := range []*half{&x.post, &x.wing} {
				for _, force := range r.Hinges {
					plate, f, pin := x.onPlate(side, c, force)
					most := x.bound(side, &plate, f, pin)
					pulls, _, err := plate.Share(f, pin, fastener.Vec{})
					if err != nil {
						continue
					}
					for _, p := range pulls {
						if p.Lateral > most.Lateral*(1+1e-9)+1e-9 || p.Tension > most.Tension*(1+1e-9)+1e-9 {
							t.Fatalf("%s, %s: a screw gets %+v, the bound is %+v", c.what, side.name, p.Demand, most)
						}
					}
				}
			}
		})
	})
}

// BenchmarkHardware checks every fastener of the example, in which some fail and are cured.
func BenchmarkHardware(b *testing.B) {
	src, err := sites.Files.ReadFile(sites.Example)
	if err != nil {
		b.Fatal(err)
	}
	f, problems := site.Load("site.toml", src)
	if f == nil {
		b.Fatal(problems)
	}
	masses, _ := takeoff.Take(f)
	gust, err := (&job{f: f}).newClimate(wind.Gust)
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		j := &job{f: f, masses: masses, report: &verdict.Report{}, measured: gust, code: gust}
		j.hardware()
	}
}
