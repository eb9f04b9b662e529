package quantity

import (
	"fmt"
	"math"
	"math/big"
	"slices"
	"strings"
	"testing"

	_ "galefast/internal/steady"

	"pgregory.net/rapid"
)

func TestFormat(t *testing.T) {
	const inch, foot = 0.0254, 0.3048
	nan, inf := math.NaN(), math.Inf(1)
	for _, c := range []struct{ got, want string }{
		{Format(Length(7*foot+6.5*inch), US), "7 ft 6 1/2 in"},
		{Format(Length(7*foot), US), "7 ft"},
		{Format(Length(6.75*inch), US), "6 3/4 in"},
		{Format(Length(5*foot+inch/8), US), "5 ft 1/8 in"},
		{Format(Length(11*inch), US), "11 in"},
		{Format(Length(11.9375*inch), US), "1 ft"},        // 11 15/16 carries into feet
		{Format(Length(5*foot+11.9375*inch), US), "6 ft"}, // and into the feet there are
		{Format(Length(11.93*inch), US), "11 7/8 in"},     // just below the tie
		{Format(Length(7.9375*inch), US), "8 in"},         // a carry into inches
		{Format(Length(-11.9375*inch), US), "-1 ft"},      // ties go away from zero
		{Format(Length(-(6*foot + 9*inch)), US), "-6 ft 9 in"},
		{Format(Length(inch/16.01), US), "0 in"},
		{Format(Length(-inch/16.01), US), "0 in"}, // never -0
		{Format(Length(math.Copysign(0, -1)), US), "0 in"},
		{Format(Length(math.Copysign(0, -1)), SI), "0 mm"},
		{Format(Length(2.294), SI), "2.29 m"},
		{Format(Length(0.45), SI), "450 mm"},
		{Format(Length(0.9994), SI), "999 mm"},
		{Format(Length(0.9996), SI), "1 m"}, // not 1000 mm
		{Format(Length(-0.0004), SI), "0 mm"},
		{Format(Mass(131*0.45359237), US), "131 lb"},
		{Format(Mass(-0.01), SI), "0 kg"},
		{Format(Mass(1250), SI), "1250 kg"},
		{Format(Speed(30*0.44704), US), "30 mph"},
		{Format(Pressure(47.880259), US), "1 psf"},
		{Format(Moment(1355.818), US), "1000 lbf·ft"},
		{Format(Temperature(-40), US), "-40 °F"},
		{Format(Temperature(-17.9), US), "0 °F"},
		{Format(Temperature(30), SI), "30 °C"},
		{Format(Angle(math.Pi/2), SI), "90 deg"},
		{Format(Ratio(0.025), US), "2.5 %"},
		{Format(WireArea(1.3087e-6), SI), "1.31 mm2"},
		{Format(WireArea(wireArea(16)), US), "16 AWG"},
		{Format(WireArea(wireArea(-3)), US), "4/0 AWG"},
		{Format(WireArea(wireArea(0)), US), "1/0 AWG"},
		{Format(WireArea(wireArea(40)), US), "40 AWG"},
		{Format(WireArea(wireArea(16)), SI), "1.31 mm2"}, // a gauge is no SI unit
		{Format(WireArea(1.5e-6), US), "1.5 mm2"},
		{Format(Length(nan), US), "not available"},
		{Format(Length(inf), US), "not available"},
		{Format(Length(-inf), SI), "not available"},
		{Format(WireArea(nan), US), "not available"},
		{Format(WireArea(math.MaxFloat64), SI), "not available"}, // overflows in mm2
		{Number(Mass(nan), US), "not available"},
		{Number(WireArea(math.MaxFloat64), SI), "not available"},
		{Number(Length(2.1336), US) + Unit[Length](US), "7.00ft"},
		{Number(Length(0.45), SI) + Unit[Length](SI), "0.45m"},
		{Number(Length(-0.001), SI), "0.00"},
		{Number(Mass(1), SI) + Unit[Mass](SI), "1.0kg"},
		{Number(Temperature(0), US) + Unit[Temperature](US), "32°F"},
		{Number(Ratio(0.125), SI) + Unit[Ratio](SI), "12.5%"},
	} {
		if c.got != c.want {
			t.Errorf("got %q, want %q", c.got, c.want)
		}
	}
	if s := Format(Length(1e300), US); !strings.HasSuffix(s, " ft") || len(s) < 300 {
		t.Errorf("a finite length must not print as %q", s)
	}
}

// printer calls the generic functions for a kind that is known only at run time.
type printer struct {
	kind           Kind
	format, number func(float64, System) string
	unit           func(System) string
}

func printerOf[Q Quantity]() printer {
	return printer{
		KindOf[Q](),
		func(v float64, s System) string { return Format(Q(v), s) },
		func(v float64, s System) string { return Number(Q(v), s) },
		Unit[Q],
	}
}

var printers = []printer{
	printerOf[Length](), printerOf[Area](), printerOf[Volume](), printerOf[Mass](), printerOf[Density](),
	printerOf[AreaDensity](), printerOf[LineDensity](), printerOf[Force](), printerOf[Pressure](),
	printerOf[Moment](), printerOf[Speed](), printerOf[Angle](), printerOf[Current](), printerOf[Voltage](),
	printerOf[Resistance](), printerOf[LineResistance](), printerOf[Power](), printerOf[ApparentPower](), printerOf[Energy](),
	printerOf[Temperature](), printerOf[Duration](), printerOf[Ratio](), printerOf[WireArea](),
}

func TestEveryKindPrints(t *testing.T) {
	for _, kind := range Kinds() {
		if !slices.ContainsFunc(printers, func(p printer) bool { return p.kind == kind }) {
			t.Errorf("%s is in no test of printing", kind)
		}
	}
}

// size draws numbers of every order up to the largest that is read, and zero.
func size(t *rapid.T, kind Kind) float64 {
	most := dimensionOf(kind).most * 0.99 // rounding must not lift it above
	v := rapid.Float64Range(-1, 1).Draw(t, "fraction") * most * math.Pow(10, -float64(rapid.IntRange(0, 12).Draw(t, "order")))
	if kind == "temperature" {
		v = max(v, -273)
	}
	return v
}

// TestRoundTrip: what is printed reads as itself, half a printed step off at most, and
// prints the same again.
func TestRoundTrip(t *testing.T) {
	for _, p := range printers {
		for _, s := range []System{US, SI} {
			read := func(text string) float64 {
				v, err := ParseKind(p.kind, text)
				if err != nil {
					t.Fatalf("%s prints what it does not read: %v", p.kind, err)
				}
				return v
			}
			factor := read("1 "+p.unit(s)) - read("0 "+p.unit(s))
			_, decimals, _ := strings.Cut(p.number(0, s), ".")
			step := factor * math.Pow(10, -float64(len(decimals)))
			t.Run(fmt.Sprintf("%s/%v", p.kind, s), rapid.MakeCheck(func(t *rapid.T) {
				v := size(t, p.kind)
				number := p.number(v, s)
				if _, d, _ := strings.Cut(number, "."); len(d) != len(decimals) || strings.HasPrefix(number, "-0") && strings.Trim(number, "-0.") == "" {
					t.Fatalf("%v in a column is %q", v, number)
				}
				if d := math.Abs(read(number+" "+p.unit(s)) - v); d > step/2*(1+1e-9)+1e-12*math.Abs(v) {
					t.Fatalf("%v in a column is %q, off by %v", v, number, d)
				}
				half := step / 2
				if p.kind == "length" && s == US {
					half = 0.0254 / 16
				}
				text := p.format(v, s)
				back := read(text)
				if d := math.Abs(back - v); d > half*(1+1e-9)+1e-12*math.Abs(v) {
					t.Fatalf("%v prints %q, off by %v", v, text, d)
				}
				if again := p.format(back, s); again != text {
					t.Fatalf("%v prints %q, which prints %q", v, text, again)
				}
			}))
		}
	}
}

// TestNeverNonsense: any float at all prints as a number with a unit or is not available.
func TestNeverNonsense(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := rapid.Float64().Draw(t, "v")
		for _, p := range printers {
			for _, s := range []System{US, SI} {
				for _, text := range []string{p.format(v, s), p.number(v, s)} {
					if strings.Contains(text, "NaN") || strings.Contains(text, "Inf") || strings.Contains(text, missing+" ") || strings.HasPrefix(text, "-0 ") {
						t.Fatalf("%s %v prints %q", p.kind, v, text)
					}
				}
			}
		}
	})
}

// TestCompoundSum writes a length at random and adds it up on its own, in rationals.
func TestCompoundSum(t *testing.T) {
	units := [][]struct{ name, metres string }{
		{{"yd", "0.9144"}, {"yards", "0.9144"}},
		{{"ft", "0.3048"}, {"'", "0.3048"}, {"′", "0.3048"}, {"feet", "0.3048"}},
		{{"in", "0.0254"}, {"\"", "0.0254"}, {"″", "0.0254"}, {"''", "0.0254"}},
		{{"mm", "0.001"}},
	}
	fractions := []struct {
		text     string
		num, den int64
	}{{"", 0, 1}, {" 1/2", 1, 2}, {"-3/4", 3, 4}, {"⅞", 7, 8}, {" ⅓", 1, 3}, {" 15/16", 15, 16}, {".125", 1, 8}}
	rapid.Check(t, func(t *rapid.T) {
		sum, text := new(big.Rat), ""
		for _, level := range units {
			if rapid.Bool().Draw(t, "skip") && (text != "" || level[0].name != "mm") {
				continue
			}
			n := int64(rapid.IntRange(0, 99).Draw(t, "whole"))
			fraction := rapid.SampledFrom(fractions).Draw(t, "fraction")
			un := rapid.SampledFrom(level).Draw(t, "unit")
			if text != "" {
				text += rapid.SampledFrom([]string{" ", ", ", "  ", " - "}).Draw(t, "gap")
			}
			text += fmt.Sprint(n) + fraction.text + rapid.SampledFrom([]string{"", " "}).Draw(t, "space") + un.name
			metres, _ := new(big.Rat).SetString(un.metres)
			value := new(big.Rat).Add(big.NewRat(n, 1), big.NewRat(fraction.num, fraction.den))
			sum.Add(sum, value.Mul(value, metres))
		}
		if rapid.Bool().Draw(t, "negative") {
			text, sum = "-"+text, sum.Neg(sum)
		}
		want, _ := sum.Float64()
		if got, err := Parse[Length](text); err != nil || float64(got) != want {
			t.Fatalf("%q = %v, %v, want %v", text, got, err, want)
		}
	})
}
