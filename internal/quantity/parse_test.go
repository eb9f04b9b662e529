package quantity

import (
	"encoding/csv"
	"errors"
	"math"
	"math/big"
	"os"
	"strconv"
	"strings"
	"testing"
)

// Exact SI values of what a builder writes: worked by hand from the definitions of the
// inch (25.4 mm), the pound (0.45359237 kg) and g (9.80665 m/s2), so the result must be
// the nearest float64 and not merely close to it.
var exact = []struct {
	kind       Kind
	text, want string
}{
	{"length", "7 ft 3 1/2 in", "2.2225"},
	{"length", "7 ft 3-1/2 in", "2.2225"},
	{"length", "7' 3-1/2\"", "2.2225"},
	{"length", "7'-3 1/2\"", "2.2225"},
	{"length", "7' - 3½\"", "2.2225"},
	{"length", "7ft 3½in", "2.2225"},
	{"length", "7′ 3½″", "2.2225"},
	{"length", "7′3½″", "2.2225"},
	{"length", "7’ 3.5”", "2.2225"},
	{"length", "7' 3.5''", "2.2225"},
	{"length", "7′ 3.5′′", "2.2225"},
	{"length", "7 ft, 3.5 inches", "2.2225"},
	{"length", "7 FT. 3.5 In.", "2.2225"},
	{"length", "  7\u00a0feet 3 ½ inch ", "2.2225"},
	{"length", "2 yd 1 ft 3 1/2 in", "2.2225"},
	{"length", "-6' 9\"", "-2.0574"},
	{"length", "− 6 ft 9 in", "-2.0574"},
	{"length", " -6 ft 9 in", "-2.0574"},
	{"length", "-0 ft", "0"},
	{"length", "11 3/8 in", "0.288925"},
	{"length", "3/8 in", "0.009525"},
	{"length", "96/8 in", "0.3048"},
	{"length", "⅞\"", "0.022225"},
	{"length", ".5 in", "0.0127"},
	{"length", "010 ft 08/16 in", "3.0607"},
	{"length", "450 mm", "0.45"},
	{"length", "0.1 m", "0.1"},
	{"length", "10 km", "10000"}, // the longest that is read
	{"length", "-10 km", "-10000"},
	{"length", "2.29 Metres", "2.29"},
	{"length", "1 m 20 cm 5 mm", "1.205"},
	{"area", "15 ft2", "1.3935456"},
	{"area", "15 sq ft", "1.3935456"},
	{"area", "15 SQ  FT", "1.3935456"},
	{"area", "15 ft²", "1.3935456"},
	{"area", "15 ft^2", "1.3935456"},
	{"area", "1.5 mm2", "0.0000015"},
	{"volume", "5 gal", "0.0189270589200"},
	{"volume", "1 cu ft", "0.028316846592"},
	{"volume", "200 L", "0.2"},
	{"mass", "3 lb 4 oz", "1.4741752025"},
	{"mass", "3 lbs. 4 oz.", "1.4741752025"},
	{"mass", "90 lb", "40.8233133"},
	{"mass", "1 t 250 kg", "1250"},
	{"density", "1.25 kg/m³", "1.25"},
	{"mass per length", "6 lb/100ft", "0.0892898366141732283464566929133858267716535"},
	{"force", "50 lbf", "222.411080763025"},
	{"force", "1.2 KN", "1200"},
	{"pressure", "0.5 kPa", "500"},
	{"pressure", "0.5 kN/m²", "500"},
	{"pressure", "3 MPA", "3000000"},
	{"moment", "50 ft-lb", "67.79089741657002"},
	{"moment", "50 lbf·ft", "67.79089741657002"},
	{"moment", "50 lbf*ft", "67.79089741657002"},
	{"moment", "12 N m", "12"},
	{"moment", "12 N⋅m", "12"},
	{"speed", "35 mph", "15.6464"},
	{"speed", "15 m/s", "15"},
	{"speed", "90 km/h", "25"},
	{"speed", "18 kn", "9.26"},
	{"angle", "180°", "3.141592653589793"},
	{"angle", "-1 rad", "-1"},
	{"current", "15 A", "15"},
	{"current", "500 mA", "0.5"},
	{"voltage", "120 V", "120"},
	{"resistance", "5 mΩ", "0.005"},
	{"resistance", "5 \u2126", "5"}, // the ohm sign
	{"resistance per length", "13.3 ohm/km", "0.0133"},
	{"power", "1.5 kw", "1500"},
	{"apparent power", "60 VA", "60"},
	{"energy", "2 Wh", "7200"},
	{"temperature", "86 °F", "30"},
	{"temperature", "-40 °F", "-40"},
	{"temperature", "−4 ° F", "-20"},
	{"temperature", "-10 C", "-10"},
	{"temperature", "-273.15 °C", "-273.15"},
	{"temperature", "-459.67 °F", "-273.15"},
	{"duration", "1 h 30 min", "5400"},
	{"duration", "3 s", "3"},
	{"ratio", "2 %", "0.02"},
	{"ratio", "2%", "0.02"},
	{"ratio", "0.02", "0.02"},
	{"ratio", "1/50", "0.02"},
	{"ratio", "-2 percent", "-0.02"},
	{"wire area", "2.5 mm²", "0.0000025"},
}

func TestParseExact(t *testing.T) {
	for _, c := range exact {
		want, err := strconv.ParseFloat(c.want, 64)
		if err != nil {
			t.Fatal(err)
		}
		got, err := ParseKind(c.kind, c.text)
		if err != nil {
			t.Errorf("%s %q: %v", c.kind, c.text, err)
		} else if got != want || math.Signbit(got) != math.Signbit(want) {
			t.Errorf("%s %q = %v, want %v by the definitions of 1959 (1 in = 25.4 mm, 1 lb = 0.45359237 kg)", c.kind, c.text, got, want)
		}
	}
}

// TestPublishedFactors compares with the published tables, within half of their last digit.
func TestPublishedFactors(t *testing.T) {
	file, err := os.Open("testdata/reference/factors.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	rows, err := csv.NewReader(file).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	for _, row := range rows[1:] {
		kind, text, published, source, certainty := Kind(row[0]), row[1], row[2], row[3], row[4]
		want, ok := new(big.Rat).SetString(published)
		if !ok || certainty == "" {
			t.Fatalf("bad row %q", row)
		}
		mantissa, power, _ := strings.Cut(published, "E")
		_, decimals, _ := strings.Cut(mantissa, ".")
		exponent, _ := strconv.Atoi(power)
		half := 0.5 * math.Pow(10, float64(exponent-len(decimals)))
		got, err := ParseKind(kind, text)
		if err != nil {
			t.Errorf("%s: %v", kind, err)
			continue
		}
		if w, _ := want.Float64(); math.Abs(got-w) > half {
			t.Errorf("%s %s = %.9E, published %s (%s, %s)", kind, text, got, published, source, certainty)
		}
	}
}

func TestGauges(t *testing.T) {
	area := func(text string) WireArea {
		a, err := Parse[WireArea](text)
		if err != nil {
			t.Fatal(err)
		}
		return a
	}
	names := []string{"4/0", "3/0", "2/0", "1/0"}
	for n := 1; n <= 40; n++ {
		names = append(names, strconv.Itoa(n))
	}
	for i, name := range names[1:] {
		ratio := math.Sqrt(float64(area(names[i]+" AWG") / area(name+" AWG")))
		if math.Abs(ratio-1.1229322) > 0.5e-7 {
			t.Errorf("diameter of %s AWG over %s AWG = %.8f, want 1.1229322 (ASTM B258: each step is the 39th root of 92)", names[i], name, ratio)
		}
	}
	for text, same := range map[string]string{
		"16awg": "16 AWG", "AWG 16": "16 AWG", " 16  Awg ": "16 AWG",
		"0 AWG": "1/0 AWG", "00 AWG": "2/0 AWG", "000 AWG": "3/0 AWG", "0000 AWG": "4/0 AWG", "250 MCM": "250 kcmil",
	} {
		if area(text) != area(same) {
			t.Errorf("%q is not %q", text, same)
		}
	}
}

// What is said of texts that are refused. part is the text that Offset and Len mark.
var refused = []struct {
	kind                      Kind
	text, part, message, hint string
}{
	{"length", "", "", "it is empty", ""},
	{"length", "   ", "   ", "it is empty", ""},
	{"length", "7", "7", "7 has no unit", "write 7 in or 7 mm"},
	{"length", "7 1/2", "7 1/2", "7 1/2 has no unit", "write 7 1/2 in or 7 1/2 mm"},
	{"length", "-", "", "a number is missing", ""},
	{"length", "ft", "ft", "\"ft\" is not a number", ""},
	{"length", "6' 9", "9", "9 has no unit", "write 9 in or 9 mm"},
	{"length", "6 9 in", "6", "6 has no unit", "a unit behind each number, and no space inside a number"},
	{"length", "10 000 ft", "10", "10 has no unit", "a unit behind each number, and no space inside a number"},
	{"length", "1,000 ft", "1,000", "\"1,000\" has a comma", "write a decimal point, and no separator of thousands"},
	{"length", "1.000,5 ft", "1.000,5", "\"1.000,5\" has a comma", "write a decimal point, and no separator of thousands"},
	{"length", "7,5 ft", "7,5", "\"7,5\" has a comma", "write a decimal point, and no separator of thousands"},
	{"length", "1e3 ft", "e3", "\"e3\" is not a unit", "write the digits out, without a power of ten"},
	{"length", "3 yd 1,000 ft", "1,000", "\"1,000\" has a comma", "write a decimal point, and no separator of thousands"},
	{"length", "7, ft", "7", "7 has no unit", "write 7 in or 7 mm"},
	{"length", "5. ft", ".", "\".\" is not a unit", ""},
	{"length", "7/ in", "/", "\"/\" is not a unit", ""},
	{"length", "7 /2 in", "/2", "\"/2\" is not a unit", ""},
	{"length", "-−6 ft", "−6", "\"−6\" is not a number", ""},
	{"length", "7 2/2 in", "2/2", "the fraction \"2/2\" is not below one", ""},
	{"length", "1E+3 ft", "E+3", "\"E+3\" is not a unit", "write the digits out, without a power of ten"},
	{"length", "7 ell", "ell", "\"ell\" is not a unit", ""},
	{"length", "0x10 ft", "x10", "\"x10\" is not a unit", ""},
	{"length", "+5 ft", "+5", "\"+5\" is not a number", ""},
	{"length", "nan", "nan", "\"nan\" is not a size", ""},
	{"length", "-Inf ft", "Inf", "\"Inf\" is not a size", ""},
	{"length", "Infinity m", "Infinity", "\"Infinity\" is not a size", ""},
	{"length", "7 furlong", "furlong", "\"furlong\" is not a unit", ""},
	{"length", "7 ft tall", "tall", "\"tall\" is not a number", ""},
	{"length", "7 ft 3 in !", "!", "\"!\" is not a number", ""},
	{"length", "7 ft,", ",", "it ends in the middle", ""},
	{"length", "7 ft -3 in", "-", "a minus stands in the middle", "one sign, before the first number"},
	{"length", "7 ft -½ in", "-", "a minus stands in the middle", "one sign, before the first number"},
	{"length", "7 ft -\u00a0", "-", "it ends in the middle", ""},
	{"length", "5 in 3 ft", "3 ft", "\"3 ft\" follows a unit that is not larger", "write the larger unit first, as in 7 ft 3 in"},
	{"length", "3 in 3 in", "3 in", "\"3 in\" follows a unit that is not larger", "write the larger unit first, as in 7 ft 3 in"},
	{"length", "1/0 in", "1/0", "\"1/0\" divides by nothing", ""},
	{"length", "7 1/0 in", "1/0", "\"1/0\" divides by nothing", ""},
	{"length", "7 1/ in", "1/", "\"1/\" divides by nothing", ""},
	{"length", "7 3/2 in", "3/2", "the fraction \"3/2\" is not below one", ""},
	{"length", "7 ½ ½ in", "½", "\"½\" is not a unit", ""},
	{"length", "20000 m", "20000 m", "\"20000 m\" is beyond anything that scenery has", "check the number and the unit; up to 10000 m is read"},
	{"length", "-99999999 ft", "-99999999 ft", "\"-99999999 ft\" is beyond anything that scenery has", "check the number and the unit; up to 32808.4 ft is read"},
	{"length", "5 sq  ft", "sq  ft", "sq ft is a unit of area", ""},
	{"length", "5 lb", "lb", "lb is a unit of mass", ""},
	{"length", "7\n1/2", "7\n1/2", "7 1/2 has no unit", "write 7 1/2 in or 7 1/2 mm"},
	{"length", "7 fet", "fet", "\"fet\" is not a unit", "did you mean ft?"},
	{"length", "7 inchs", "inchs", "\"inchs\" is not a unit", "did you mean inch?"},
	{"speed", "10 kN", "kN", "kN is a unit of force", ""},
	{"force", "10 kn", "kn", "kn is a unit of speed", ""},
	{"length", "16 AWG", "AWG", "AWG is a unit of wire area", ""},
	{"length", "5 N·m", "N·m", "N·m is a unit of moment", ""},
	{"force", "50 lb", "lb", "lb is a unit of mass", "for a force write lbf or N"},
	{"force", "5 N m", "N m", "N m is a unit of moment", ""},
	{"force", "5 N 3 N", "3 N", "a second value \"3 N\" follows", "give one value"},
	{"mass", "50 lbf", "lbf", "lbf is a unit of force", "for a mass write lb or kg"},
	{"mass", "4 oz 3 lb", "3 lb", "\"3 lb\" follows a unit that is not larger", "write the larger unit first, as in 7 ft 3 in"},
	{"mass", "1 lb 2", "2", "2 has no unit", "write 2 lb or 2 kg"},
	{"pressure", "30 mph", "mph", "mph is a unit of speed", ""},
	{"pressure", "5 mPa", "mPa", "\"mPa\" is not a unit", ""},
	{"pressure", "30 ksi", "ksi", "\"ksi\" is not a unit", ""},
	{"resistance", "5 MΩ", "MΩ", "\"MΩ\" is not a unit", ""},
	{"resistance", "5 Mohm", "Mohm", "\"Mohm\" is not a unit", ""},
	{"current", "15", "15", "15 has no unit", "write 15 A or 15 mA"},
	{"voltage", "120 volt-amp", "volt-amp", "\"volt-amp\" is not a unit", ""},
	{"power", "60 VA", "VA", "VA is a unit of apparent power", ""},
	{"speed", "501 m/s", "501 m/s", "\"501 m/s\" is beyond anything that scenery has", "check the number and the unit; up to 500 m/s is read"},
	{"speed", "35", "35", "35 has no unit", "write 35 mph or 35 m/s"},
	{"temperature", "70", "70", "70 has no unit", "write 70 °F or 70 °C"},
	{"temperature", "90°", "°", "° is a unit of angle", ""},
	{"temperature", "-274 °C", "-274 °C", "\"-274 °C\" is beyond anything that scenery has", "check the number and the unit; -273.15 °C to 2000 °C is read"},
	{"temperature", "-460 °F", "-460 °F", "\"-460 °F\" is beyond anything that scenery has", "check the number and the unit; -459.67 °F to 3632 °F is read"},
	{"ratio", "2 ft", "ft", "ft is a unit of length", ""},
	{"ratio", "0.02 0.03", "0.03", "a second value \"0.03\" follows", "give one value"},
	{"ratio", "0.02 5 %", "5 %", "a second value \"5 %\" follows", "give one value"},
	{"ratio", "20000", "20000", "\"20000\" is beyond anything that scenery has", "check the number and the unit; up to 10000 is read"},
	{"ratio", "half", "half", "\"half\" is not a number", ""},
	{"wire area", "16", "16", "16 has no unit", "write 16 AWG or 16 mm2"},
	{"wire area", "16/3 AWG", "16/3 AWG", "\"16/3 AWG\" is not a wire gauge", "gauges run from 4/0 AWG to 40 AWG"},
	{"wire area", "08 AWG", "08 AWG", "\"08 AWG\" is not a wire gauge", "gauges run from 4/0 AWG to 40 AWG"},
	{"wire area", "41 AWG", "41 AWG", "\"41 AWG\" is not a wire gauge", "gauges run from 4/0 AWG to 40 AWG"},
	{"wire area", "5/0 AWG", "5/0 AWG", "\"5/0 AWG\" is not a wire gauge", "gauges run from 4/0 AWG to 40 AWG"},
	{"wire area", "00000 AWG", "00000 AWG", "\"00000 AWG\" is not a wire gauge", "gauges run from 4/0 AWG to 40 AWG"},
	{"wire area", "-16 AWG", "-16 AWG", "\"-16 AWG\" is not a wire gauge", "gauges run from 4/0 AWG to 40 AWG"},
	{"wire area", "AWG", "AWG", "\"AWG\" is not a wire gauge", "gauges run from 4/0 AWG to 40 AWG"},
	{"wire area", "1 in", "in", "in is a unit of length", ""},
	{"length", "7 in\x1b[31m", "in\x1b[31m", "\"in\\x1b[31m\" is not a unit", ""},
	{"length", "\xff ft", "\xff", "\"\\xff\" is not a number", ""},
	{"length", "7\nft 9999999 in", "7\nft 9999999 in", "\"7\\nft 9999999 in\" is beyond anything that scenery has", "check the number and the unit; up to 393700.79 in is read"},
	{"length", strings.Repeat("1", 81), strings.Repeat("1", 80), "it is 81 bytes long", "at most 80 are read"},
}

func TestRefused(t *testing.T) {
	for _, c := range refused {
		v, err := ParseKind(c.kind, c.text)
		var e *ParseError
		if !errors.As(err, &e) {
			t.Errorf("%s %q = %v, want an error", c.kind, c.text, v)
			continue
		}
		checkError(t, c.text, e)
		if part := c.text[e.Offset : e.Offset+e.Len]; v != 0 || part != c.part || e.Message != c.message || e.Hint != c.hint {
			t.Errorf("%s %q gave %v and\n\t{%q, %q, %q, %q, %q},", c.kind, c.text, v, c.kind, c.text, part, e.Message, e.Hint)
		}
	}
}

// checkError checks what holds for every error.
func checkError(t interface {
	Helper()
	Fatalf(string, ...any)
}, text string, e *ParseError) {
	t.Helper()
	if e.Text != text || e.Offset < 0 || e.Len < 0 || e.Offset+e.Len > len(text) || e.Message == "" || e.Want == "" {
		t.Fatalf("error about %q is %#v", text, e)
	}
	if len(e.Error()) > 1000 || strings.ContainsAny(e.Error(), "\n\r\x00\x1b") {
		t.Fatalf("error about %q prints as %q", text, e.Error())
	}
}

func TestErrorText(t *testing.T) {
	for _, c := range []struct {
		kind       Kind
		text, want string
	}{
		{"length", "7", `"7": 7 has no unit, expected a length with its unit: in, mm, ft, m, cm, yd (write 7 in or 7 mm)`},
		{"force", "50 lb", `"50 lb": lb is a unit of mass, expected a force with its unit: lbf, N, kN, kip (for a force write lbf or N)`},
		{"ratio", "2 ft", `"2 ft": ft is a unit of length, expected a ratio, as in 2 % or 0.02`},
		{"height", "2 ft", `"2 ft": there is no kind "height"`},
	} {
		if _, err := ParseKind(c.kind, c.text); err == nil || err.Error() != c.want {
			t.Errorf("%s %q:\n got %v\nwant %s", c.kind, c.text, err, c.want)
		}
	}
}

// TestHostile reads texts made to be slow: what is long is refused unread.
func TestHostile(t *testing.T) {
	for _, piece := range []string{"9", "1/", "½", "' ", "\x80", "-", "1 ft ", "sq ", "′", ","} {
		text := strings.Repeat(piece, 1<<20)
		for _, kind := range Kinds() {
			_, err := ParseKind(kind, text)
			var e *ParseError
			if !errors.As(err, &e) || e.Offset != 0 || e.Len != maxText {
				t.Fatalf("%s of %d bytes: %v", kind, len(text), err)
			}
			checkError(t, text, e)
		}
	}
}

// A text of just the length that is read, and its error, are as of any other.
func TestLongestText(t *testing.T) {
	text := "7 ft" + strings.Repeat(" ", maxText-4)
	if v, err := ParseKind("length", text); err != nil || v != 2.1336 {
		t.Errorf("%d bytes: %v, %v, want 7 ft", len(text), v, err)
	}
	text = strings.Repeat("7", maxText)
	for extra, quoted := range map[string]string{"": text, "7": text + "..."} {
		if _, err := ParseKind("length", text+extra); err == nil || !strings.HasPrefix(err.Error(), `"`+quoted+`": `) {
			t.Errorf("%d bytes: %v, want the text quoted as %q", len(text+extra), err, quoted)
		}
	}
}

func TestParseSystem(t *testing.T) {
	for _, s := range []System{US, SI} {
		if got, err := ParseSystem(s.String()); got != s || err != nil {
			t.Errorf("%v: %v, %v", s, got, err)
		}
	}
	if _, err := ParseSystem("metric"); err == nil || err.Error() != `"metric": no such family of units, expected us or si` {
		t.Error(err)
	}
}

func TestWeight(t *testing.T) {
	lb, _ := Parse[Mass]("131 lb")
	lbf, _ := Parse[Force]("131 lbf")
	if math.Abs(float64(lb.Weight()-lbf)) > 1e-12*float64(lbf) {
		t.Errorf("131 lb weighs %v N, want %v N (NIST SP 811 B.8: 1 lbf is the weight of 1 lb at 9.80665 m/s2)", lb.Weight(), lbf)
	}
}

func TestTimes(t *testing.T) {
	if a, b, c := Density(500).Times(3), AreaDensity(15).Times(4), LineDensity(2.5).Times(6); a != 1500 || b != 60 || c != 15 {
		t.Errorf("500 kg/m3 of 3 m3, 15 kg/m2 of 4 m2 and 2.5 kg/m of 6 m weigh %v, %v and %v kg", a, b, c)
	}
}

func FuzzParse(f *testing.F) {
	for _, c := range exact {
		f.Add(c.text)
	}
	for _, c := range refused {
		f.Add(c.text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		for _, kind := range Kinds() {
			v, err := ParseKind(kind, text)
			if err == nil {
				if !(math.Abs(v) <= dimensionOf(kind).most) || v == 0 && math.Signbit(v) {
					t.Fatalf("%s %q = %v", kind, text, v)
				}
				continue
			}
			var e *ParseError
			if !errors.As(err, &e) || v != 0 {
				t.Fatalf("%s %q = %v, %v", kind, text, v, err)
			}
			checkError(t, text, e)
		}
	})
}

func BenchmarkParse(b *testing.B) {
	for _, c := range []struct {
		name string
		kind Kind
		text string
	}{
		{"feet and inches", "length", "7 ft 3 1/2 in"},
		{"metric", "length", "450 mm"},
		{"gauge", "wire area", "16 AWG"},
		{"long fraction", "length", strings.Repeat("9", 38) + "/" + strings.Repeat("7", 38) + " in"},
		{"many words", "length", "1 " + strings.Repeat("x", 38) + " " + strings.Repeat("y", 38)},
	} {
		b.Run(c.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				ParseKind(c.kind, c.text)
			}
		})
	}
}
