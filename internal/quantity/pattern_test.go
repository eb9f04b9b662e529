package quantity

import (
	"regexp"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// patterns are the compiled patterns of every kind.
var patterns = func() map[Kind][3]*regexp.Regexp {
	compiled := map[Kind][3]*regexp.Regexp{}
	for _, k := range Kinds() {
		compiled[k] = [3]*regexp.Regexp{regexp.MustCompile(Pattern(k)), regexp.MustCompile(UnsignedPattern(k)), regexp.MustCompile(ZeroPattern(k))}
	}
	return compiled
}()

// notForm are the complaints about texts of the right form.
var notForm = []string{"follows a unit that is not larger", "is beyond anything", "is not below one", "divides by nothing", "bytes long"}

var pointBehindMark = regexp.MustCompile(`['"′″’”‘“]-?\.`)

// agree holds the pattern against the parser.
func agree(t interface{ Errorf(string, ...any) }, kind Kind, text string) {
	anySign, unsigned, zero := patterns[kind][0], patterns[kind][1], patterns[kind][2]
	v, err := ParseKind(kind, text)
	matches := anySign.MatchString(text)
	if err == nil && !matches {
		t.Errorf("%s: %q is read and the pattern %s refuses it", kind, text, anySign)
	}
	if err != nil && matches && !pointBehindMark.MatchString(text) {
		for _, reason := range notForm {
			if strings.Contains(err.Error(), reason) {
				return
			}
		}
		t.Errorf("%s: %q is refused (%v) and the pattern %s takes it", kind, text, err, anySign)
	}
	if err != nil {
		return
	}
	minus := strings.IndexAny(strings.TrimSpace(text), "-−") == 0
	if unsigned.MatchString(text) == minus {
		t.Errorf("%s: %q has a minus: %v, and the pattern without one says otherwise", kind, text, minus)
	}
	if kind != "temperature" && !minus && zero.MatchString(text) != (v == 0) {
		t.Errorf("%s: %q is %g, and the pattern of zeros says otherwise", kind, text, v)
	}
}

func TestPatternsOfExactTexts(t *testing.T) {
	for _, c := range exact {
		agree(t, c.kind, c.text)
	}
	for _, c := range refused {
		agree(t, c.kind, c.text)
	}
}

// Nothing but a prime lets the next number follow at once.
func TestPatternsOfUnitsWithoutASpace(t *testing.T) {
	for _, c := range []struct {
		kind Kind
		text string
		read bool
	}{
		{"mass", "3 lb 4 oz", true}, {"mass", "3 lb, 4 oz", true}, {"mass", "3 4 oz", false}, {"mass", "3-4 oz", false}, {"mass", "3 lb4 oz", false}, {"mass", "3 lb-4 oz", false},
		{"duration", "1 h 30 min", true}, {"duration", "1 h30 min", false},
		{"length", "7ft 3in", true}, {"length", "7ft3in", false}, {"length", "7ft-3in", false}, {"length", "2 yd1'", false},
		{"length", "7'3\"", true}, {"length", "7'-3\"", true},
	} {
		agree(t, c.kind, c.text)
		if _, err := ParseKind(c.kind, c.text); (err == nil) != c.read {
			t.Errorf("%s %q: %v", c.kind, c.text, err)
		}
	}
}

// Texts put together from what quantities are written with: most are refused, and many are read.
func TestPatternsAgreeWithParse(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		kind := rapid.SampledFrom(Kinds()).Draw(t, "kind")
		var units []string
		for _, u := range dimensionOf(kind).units {
			units = append(units, u.names...)
		}
		if kind == "wire area" {
			units = append(units, "AWG")
		}
		unit := rapid.OneOf(rapid.SampledFrom(units), rapid.Custom(func(t *rapid.T) string {
			u := rapid.SampledFrom(units).Draw(t, "unit")
			return rapid.SampledFrom([]string{strings.ToUpper(u), strings.ToLower(u), u + ".", strings.ReplaceAll(u, "2", "²"),
				strings.ReplaceAll(u, "3", "^3"), strings.ReplaceAll(u, "'", "’"), strings.ReplaceAll(u, "\"", "″"),
				strings.ReplaceAll(u, " ", "-"), strings.ReplaceAll(u, "·", "*")}).Draw(t, "way")
		}))
		number := rapid.SampledFrom([]string{"7", "07", "0", "0.0", "12.5", ".5", "3/8", "1 1/2", "1-1/2", "6½", "6 ½", "¾", "1/0", "2 5/4", "5.", "1e3", "1,5", "16", "2/0", "00"})
		between := rapid.SampledFrom([]string{"", " ", "\u00a0", "-", "  "})
		parts := rapid.SliceOfN(rapid.Custom(func(t *rapid.T) string {
			return number.Draw(t, "number") + between.Draw(t, "gap") + unit.Draw(t, "unit")
		}), 1, 3).Draw(t, "parts")
		text := rapid.SampledFrom([]string{"", "", "", "-", "- ", "−", " ", "+"}).Draw(t, "sign") +
			strings.Join(parts, rapid.SampledFrom([]string{"", " ", " ", ", ", ",", " - ", "-", " -", "- "}).Draw(t, "between")) +
			rapid.SampledFrom([]string{"", "", " ", ",", "x"}).Draw(t, "end")
		agree(t, kind, text)
	})
}

func TestPatternOfNoKind(t *testing.T) {
	if re := regexp.MustCompile(Pattern("colour")); re.MatchString("") || re.MatchString("red") {
		t.Errorf("%s matches", re)
	}
}

// FuzzPattern holds the patterns of every kind against the parser on any text.
func FuzzPattern(f *testing.F) {
	for _, c := range exact {
		f.Add(c.text)
	}
	for _, c := range refused {
		f.Add(c.text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		for _, kind := range Kinds() {
			agree(t, kind, text)
		}
	})
}
