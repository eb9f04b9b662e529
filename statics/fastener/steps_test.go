package fastener

import (
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// sum works out what stands in a formula: numbers, π, √, powers, cos and sin of degrees, and products
// without a sign.
type sum struct {
	rest string
	ok   bool
}

func work(text string) (float64, bool) {
	s := sum{text, true}
	v := s.terms()
	return v, s.ok && strings.TrimSpace(s.rest) == ""
}

func (s *sum) eat(token string) bool {
	s.rest = strings.TrimLeft(s.rest, " ")
	rest, found := strings.CutPrefix(s.rest, token)
	if found {
		s.rest = rest
	}
	return found
}

func (s *sum) terms() float64 {
	v := s.product()
	for {
		switch {
		case s.eat("+"):
			v += s.product()
		case s.eat("−"):
			v -= s.product()
		default:
			return v
		}
	}
}

func (s *sum) product() float64 {
	v := s.power()
	for {
		switch s.rest = strings.TrimLeft(s.rest, " "); {
		case s.eat("·"):
			v *= s.power()
		case s.eat("/"):
			v /= s.power()
		case s.rest == "" || strings.HasPrefix(s.rest, ")") || strings.HasPrefix(s.rest, "+") || strings.HasPrefix(s.rest, "−") || !s.ok:
			return v
		default:
			v *= s.power()
		}
	}
}

func (s *sum) power() float64 {
	v := s.single()
	for {
		switch {
		case s.eat("²"):
			v *= v
		case s.eat("^"):
			v = math.Pow(v, s.single())
		default:
			return v
		}
	}
}

var number = regexp.MustCompile(`^-?[0-9]+(\.[0-9]+)?(e[-+]?[0-9]+)?`)

func (s *sum) single() float64 {
	switch {
	case s.eat("("):
		v := s.terms()
		s.ok = s.ok && s.eat(")")
		return v
	case s.eat("√"):
		return math.Sqrt(s.single())
	case s.eat("π"):
		return math.Pi
	case s.eat("cos"):
		return math.Cos(s.single())
	case s.eat("sin"):
		return math.Sin(s.single())
	}
	digits := number.FindString(s.rest)
	v, err := strconv.ParseFloat(digits, 64)
	s.rest, s.ok = s.rest[len(digits):], s.ok && err == nil
	if s.eat("°") {
		v *= math.Pi / 180
	}
	return v
}

// TestWork holds the reader of formulas to sums with known results.
func TestWork(t *testing.T) {
	for text, want := range map[string]float64{
		"3·2.5·π/4 (37² − 13²)": 7068.58347, "0.52·4^-0.5·2": 0.52, "20e-6·350²": 2.45, "2/(cos 60° + 0.5 sin 30°)": 8. / 3, "√(2·8)": 4, "690π·2": 4335.39786,
	} {
		if got, ok := work(text); !ok || math.Abs(got-want) > 1e-5*want {
			t.Errorf("%s: %g, %v, want %g", text, got, ok, want)
		}
	}
	for _, text := range []string{"W·p", "2 lb", "(1", ""} {
		if got, ok := work(text); ok {
			t.Errorf("%s: %g", text, got)
		}
	}
}

// everyStep gathers the working of joints of all kinds by both documents, of guys, and of slams.
func everyStep(t *testing.T) (steps []Step) {
	t.Helper()
	take := func(c Capacity, err error) {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		steps = append(steps, c.Steps...)
	}
	joint := func(j Joint) {
		t.Helper()
		take(j.Lateral())
		take(j.Tension())
		u, err := j.Check(Demand{Lateral: 300, Tension: 200})
		if err != nil {
			t.Fatal(err)
		}
		if u.Step.Formula != "" {
			steps = append(steps, u.Step)
		}
	}
	washed := func(size string, od float64) Fastener {
		f := of(t, Bolt, size, 0)
		f.Washer.OD = od
		return f
	}
	declared := of(t, WoodScrew, "5 mm", 0.08)
	declared.FaxK, declared.FheadK, declared.RhoA = 12e6, 10e6, 380
	for _, f := range []Fastener{
		of(t, WoodScrew, "#10", 2*inch), of(t, LagScrew, "3/8", 4*inch), of(t, Nail, "10d", 0), of(t, RingNail, "10d", 0), washed("1/2", 0.04), of(t, WoodScrew, "#10", 2.2*inch),
	} {
		j := inSPF(t, f)
		j.Service = Service{Wind, WetInService, 45}
		joint(j)
		j.Side.Thickness, j.Main.Angle = 1.2*inch, math.Pi/6 // a thick side member, and a short penetration
		joint(j)
	}
	for _, f := range []Fastener{of(t, WoodScrew, "6 mm", 0.12), declared, of(t, Nail, "3.1 mm", 0), of(t, RingNail, "3.1 mm", 0), washed("M12", 0.037)} {
		j := inC24(t, f, 0.025, 0.15)
		j.Count = 3
		joint(j)
		j.Side.Material, j.Main.Angle = material(t, "softwood plywood en"), math.Pi/6
		joint(j)
	}
	rope, err := RopeOf("nylon", 0.5*inch)
	if err != nil {
		t.Fatal(err)
	}
	take(Guy{Rope: rope, Fitting: 900, Angle: math.Pi / 4, Anchor: Anchor{PullTest: 4000, Wet: true}}.Capacity())
	take(Guy{Rope: rope, Angle: math.Pi / 6, Anchor: Anchor{Weight: 4000, Friction: 0.4}}.Capacity())
	blow, err := Slam{Mass: 24, Centre: Vec{0.7, 0, 1}, Width: 1.5, StopX: 1.3, TipSpeed: 2, Stiffness: 2e4, GustForce: 90, Swing: 1.2}.Blow()
	if err != nil {
		t.Fatal(err)
	}
	return append(steps, blow.Steps...)
}

// TestWorking follows every formula with a pencil: the numbers put into it, worked out, give the printed
// result within what their rounding leaves, and the result is the step's value.
func TestWorking(t *testing.T) {
	followed := map[string]bool{}
	for _, s := range everyStep(t) {
		printed := false // whether one of the numbers is the value
		for _, digits := range regexp.MustCompile(`-?[0-9]+(\.[0-9]+)?(e[-+]?[0-9]+)?`).FindAllString(s.Formula, -1) {
			v, err := strconv.ParseFloat(digits, 64)
			if err != nil {
				t.Fatal(err)
			}
			printed = printed || math.Abs(v-s.Value) <= max(halfDigit(digits), 5e-4*math.Abs(s.Value))
		}
		if !printed {
			t.Errorf("%s: %s, but the value is %g", s.What, s.Formula, s.Value)
		}
		parts := strings.Split(s.Formula, " = ")
		if len(parts) < 2 {
			continue
		}
		want, err := strconv.ParseFloat(number.FindString(parts[len(parts)-1]), 64)
		got, ok := work(parts[len(parts)-2])
		if err != nil || !ok {
			continue
		}
		followed[s.What] = true
		if math.Abs(got-want) > 0.015*math.Abs(want)+1e-3 {
			t.Errorf("%s: %s, but it works out as %.4g", s.What, s.Formula, got)
		}
	}
	for _, what := range []string{
		"withdrawal", "head pull-through", "washer bearing", "steel", "dowel bearing", "short penetration", // both documents
		"withdrawal parameter", "head parameter", "group", "embedment", "yield moment", "design value",
		"rope", "anchor", "wet ground", "dead weight", "inertia", "energy of the tip's speed", "work of the gust", "stop force", "inertia force",
	} {
		if !followed[what] {
			t.Errorf("no formula of %q was followed", what)
		}
	}
}

// TestWorkingByName: formulas that are told by name, with their numbers behind them.
func TestWorkingByName(t *testing.T) {
	var all []string
	for _, s := range everyStep(t) {
		all = append(all, s.Formula)
	}
	for _, want := range []string{
		"p = 1.250 in, W·p = 119.4 lb",                                                                          // a 2 in screw through 3/4 in: 2850·0.42²·0.190 = 95.5 lb/in
		"F_em = Hankinson(11200 G = 4700, 6100 G^1.45/√D = 2850, 30°) = 4044 psi",                               // 4700·2850/(4700/4 + 2850·3/4)
		"f_h,2,k = 0.082 (1 − 0.01 d) ρ_k / (k_90 sin² α + cos² α) = 22.30 N/mm², d = 12.0, ρ_k = 350, α = 30°", // 25.256/1.1325
		"Z(Im) = 245.3 lb with D = 0.152 in, l_m = 1.060 in, l_s = 0.750 in",                                    // 0.152·1.06·3350/2.2
		"F_v,Rk(a) = 7577 N with the rope effect, t_1 = 25.0 mm, t_2 = 150.0 mm",                                // 25.256·25·12
		"F_yb = 45000 psi for D = 0.375 in",
		"R_d = 4.000 (I), 3.600 (II), 3.200 (III, IV)",
	} {
		if !slices.Contains(all, want) {
			t.Errorf("no step says %q", want)
		}
	}
}
