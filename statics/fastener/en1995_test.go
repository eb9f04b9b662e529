package fastener

import (
	"math"
	"strings"
	"testing"
)

func inC24(t *testing.T, f Fastener, t1, t2 float64) Joint {
	c24 := material(t, "c24")
	return Joint{Code: EN1995, Fastener: f, Side: Member{Material: c24, Thickness: t1}, Main: Member{Material: c24, Thickness: t2}, Service: Service{Duration: SevenDays}}
}

// TestRopeEffect: a quarter of the washers' resistance adds, at most a quarter of the Johansen
// part for bolts (EN 1995-1-1 8.2.2(2)).
func TestRopeEffect(t *testing.T) {
	bolt := of(t, Bolt, "M12", 0)
	bare, err := inC24(t, bolt, 0.038, 0.038).Lateral()
	if err != nil {
		t.Fatal(err)
	}
	bolt.Washer = WashersFor("M12")[0]
	j := inC24(t, bolt, 0.038, 0.038)
	washed, err := j.Lateral()
	if err != nil {
		t.Fatal(err)
	}
	pull, err := j.Tension()
	if err != nil {
		t.Fatal(err)
	}
	// Washer 37 mm, hole 13 mm, f_c,90,k 2.5; 4.6 steel would carry 0.9 x 400 x 0.78 x 113.1 mm2.
	near(t, "washer", pull.Reference, 3*2.5*math.Pi/4*(37*37-13*13))
	near(t, "with washers", washed.Reference, bare.Reference+min(pull.Reference/4, bare.Reference/4))
	if washed.Reference <= bare.Reference {
		t.Error("washers add nothing")
	}
}

// TestDesignValue: k_mod R_k / gamma_M (EN 1995-1-1 2.4.3, Table 3.1 for solid timber; from
// memory).
func TestDesignValue(t *testing.T) {
	for _, c := range []struct {
		service Service
		kmod    float64
	}{
		{Service{Duration: Permanent}, 0.6}, {Service{Duration: TenYears}, 0.7}, {Service{Duration: TwoMonths}, 0.8}, {Service{Duration: Wind}, 0.9},
		{Service{Duration: Impact}, 0.9}, {Service{Permanent, WetInService, 20}, 0.5}, {Service{Wind, WetInService, 20}, 0.7},
	} {
		j := inC24(t, of(t, Bolt, "M10", 0), 0.04, 0.08)
		j.Service = c.service
		got, err := j.Lateral()
		if err != nil {
			t.Fatal(err)
		}
		near(t, "k_mod", got.Value/got.Reference*1.3, c.kmod)
	}
}

// TestSteelPlate: a thin plate lets the fastener tilt, a thick one clamps it, and there is a
// straight line between (EN 1995-1-1 8.2.3, from memory): thin min(0.4 f t d, 1.15 sqrt(2 M f
// d)), thick min(f t d [sqrt(2 + 4 M / (f d t^2)) - 1], 2.3 sqrt(M f d)).
func TestSteelPlate(t *testing.T) {
	bolt := of(t, Bolt, "M10", 0)
	const fh, d, tw = 0.082 * (1 - 0.01*10) * 350, 10, 30
	my := 0.3 * 400 * math.Pow(10, 2.6)
	thin := math.Min(0.4*fh*tw*d, 1.15*math.Sqrt(2*my*fh*d))
	thick := math.Min(fh*tw*d*(math.Sqrt(2+4*my/(fh*d*tw*tw))-1), 2.3*math.Sqrt(my*fh*d))
	last := 0.0
	for _, c := range []struct{ plate, want float64 }{{0.003, thin}, {0.005, thin}, {0.0075, 0}, {0.010, thick}, {0.012, thick}} {
		j := inC24(t, bolt, c.plate, tw/1e3)
		j.Side.Material = material(t, "steel")
		got, err := j.Lateral()
		if err != nil {
			t.Fatal(err)
		}
		if c.want > 0 {
			near(t, "plate", got.Reference, c.want)
		}
		if got.Reference < last {
			t.Errorf("a thicker plate carries less: %g, then %g", last, got.Reference)
		}
		last = got.Reference
	}
}

// TestDoubleEN: two planes, each by (8.7); thick members bend the bolt in all of them: twice
// mode f.
func TestDoubleEN(t *testing.T) {
	j := inC24(t, of(t, Bolt, "M10", 0), 0.12, 0.24)
	single, err := j.Lateral()
	if err != nil {
		t.Fatal(err)
	}
	j.Double = true
	double, err := j.Lateral()
	if err != nil {
		t.Fatal(err)
	}
	if !strings.HasPrefix(single.Mode, "f") || !strings.HasPrefix(double.Mode, "k") {
		t.Errorf("modes %q and %q", single.Mode, double.Mode)
	}
	near(t, "double", double.Reference, 2*single.Reference)
}

// TestRowEN: Table 8.1 at its nodes and between, and (8.34); from memory.
func TestRowEN(t *testing.T) {
	for a, want := range map[float64]float64{3: 0.5, 4: 0.5, 5.5: 0.6, 7: 0.7, 10: 0.85, 12: 0.925, 14: 1, 30: 1} {
		near(t, "k_ef", kef(a), want)
	}
	j := inC24(t, of(t, Bolt, "M10", 0), 0.04, 0.08)
	one := value2(t, j.Lateral)
	j.Count, j.InRow, j.Spacing = 4, 4, 0.065
	near(t, "n_ef/n", value2(t, j.Lateral)/one, math.Pow(4, -0.1)*math.Pow(0.5, 0.25))
}

// TestNailsEN: f_ax,k = 20e-6 rho^2 over the penetration, nothing at 8 d, nothing of a smooth
// nail for long (EN 1995-1-1 8.3.2, from memory).
func TestNailsEN(t *testing.T) {
	nail := of(t, Nail, "3.1 mm", 0)
	j := inC24(t, nail, 0.02, 0.1)
	c, err := j.Withdrawal()
	if err != nil {
		t.Fatal(err)
	}
	near(t, "nail", c.Reference, 20e-6*350*350*3.1*60)
	j.Side.Thickness = 0.08 - 7*3.1e-3
	if c, err = j.Withdrawal(); err != nil || c.Value != 0 {
		t.Errorf("7 d deep: %+v %v", c, err)
	}
	j = inC24(t, nail, 0.02, 0.1)
	j.Service.Duration = Permanent
	if c, err = j.Withdrawal(); err != nil || c.Value != 0 {
		t.Errorf("permanent: %+v %v", c, err)
	}
}

// TestDeclaredScrew: declared parameters go by density to the power 0.8 (EN 1995-1-1 (8.40a),
// (8.40b), from memory).
func TestDeclaredScrew(t *testing.T) {
	screw := of(t, WoodScrew, "5 mm", 0.08)
	j := inC24(t, screw, 0.02, 0.1)
	if _, err := j.Withdrawal(); err == nil {
		t.Error("a 5 mm screw without declared values lies outside of 8.7.2(4)")
	}
	j.Fastener.FaxK, j.Fastener.FheadK = 12e6, 10e6
	if _, err := j.Withdrawal(); err == nil {
		t.Error("f_ax,k is declared without its density")
	}
	if _, err := j.PullThrough(); err == nil {
		t.Error("f_head,k is declared without its density")
	}
	j.Fastener.RhoA = 350
	w, err := j.Withdrawal()
	if err != nil {
		t.Fatal(err)
	}
	near(t, "withdrawal", w.Reference, 12*5*screw.Thread*1e3)
	h, err := j.PullThrough()
	if err != nil {
		t.Fatal(err)
	}
	near(t, "head", h.Reference, 10*10*10)
	// Undeclared, the head of a nail stands in: 70e-6 rho^2 d_h^2.
	bare := j
	bare.Fastener.FheadK = 0
	near(t, "undeclared head", value2(t, func() (Capacity, error) {
		c, err := bare.PullThrough()
		c.Value = c.Reference
		return c, err
	}), 70e-6*350*350*10*10)
	// Three of them count as 3^0.9.
	three := j
	three.Count = 3
	near(t, "three", value2(t, three.Withdrawal)/value2(t, j.Withdrawal), math.Pow(3, -0.1))
	j.Main.Density = 450
	denser, err := j.Withdrawal()
	if err != nil {
		t.Fatal(err)
	}
	near(t, "denser", denser.Reference/w.Reference, math.Pow(450./350, 0.8))
}
