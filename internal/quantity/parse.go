package quantity

import (
	"fmt"
	"math"
	"math/big"
	"strings"
	"unicode"
	"unicode/utf8"
)

// ParseError tells what is wrong with a text. Offset and Len are the bytes of the
// offending part.
type ParseError struct {
	Text        string
	Offset, Len int
	Message     string // what is wrong, quoting the part
	Want        string // what was expected
	Hint        string // how to write it, when that is plain
}

func (e *ParseError) Error() string {
	s := fmt.Sprintf("%q: %s", clip(e.Text), e.Message)
	if e.Want != "" {
		s += ", expected " + e.Want
	}
	if e.Hint != "" {
		s += " (" + e.Hint + ")"
	}
	return s
}

// maxText is the longest text that is read, bytes; no quantity needs more.
const maxText = 80

func clip(s string) string {
	if len(s) <= maxText {
		return s
	}
	return strings.ToValidUTF8(s[:maxText], "") + "..."
}

// Parse reads a quantity with its unit. The error is a *ParseError.
func Parse[Q Quantity](text string) (Q, error) {
	v, err := ParseKind(KindOf[Q](), text)
	return Q(v), err
}

// ParseKind is Parse for a kind that is known only at run time.
func ParseKind(kind Kind, text string) (float64, error) {
	d := dimensionOf(kind)
	if d == nil {
		return 0, &ParseError{Text: text, Message: fmt.Sprintf("there is no kind %q", kind)}
	}
	p := parser{text: text, d: d}
	if len(text) > maxText {
		return 0, p.fail(0, maxText, fmt.Sprintf("it is %d bytes long", len(text)), fmt.Sprintf("at most %d are read", maxText))
	}
	if kind == "wire area" {
		if v, ok, err := p.gauge(); ok {
			return v, err
		}
	}
	return p.parse()
}

type parser struct {
	text string
	pos  int
	d    *dimension
}

func (p *parser) fail(offset, length int, message, hint string) *ParseError {
	return &ParseError{Text: p.text, Offset: offset, Len: length, Message: message, Want: p.want(), Hint: hint}
}

func (p *parser) want() string {
	units := Units(p.d.kind)
	if len(units) > 6 {
		units = units[:6]
	}
	a := "a"
	if strings.ContainsRune("aeiou", rune(p.d.kind[0])) {
		a = "an"
	}
	if p.d.kind == "ratio" {
		return "a ratio, as in 2 % or 0.02"
	}
	return fmt.Sprintf("%s %s with its unit: %s", a, p.d.kind, strings.Join(units, ", "))
}

func (p *parser) space() {
	for p.pos < len(p.text) {
		r, n := utf8.DecodeRuneInString(p.text[p.pos:])
		if !unicode.IsSpace(r) {
			return
		}
		p.pos += n
	}
}

// parse reads [-] number unit { number unit }.
func (p *parser) parse() (float64, error) {
	p.space()
	if p.pos == len(p.text) {
		return 0, p.fail(0, len(p.text), "it is empty", "")
	}
	negative := false
	for _, minus := range []string{"-", "−"} {
		if strings.HasPrefix(p.text[p.pos:], minus) {
			negative = true
			p.pos += len(minus)
			p.space()
			break
		}
	}
	sum := new(big.Rat)
	var last *unit
	for first := true; first || p.pos < len(p.text); first = false {
		start := p.pos
		n, err := p.number()
		if err != nil {
			return 0, err
		}
		p.space()
		at := p.pos
		word := p.word()
		if !first && !p.d.compound {
			return 0, p.fail(start, p.pos-start, fmt.Sprintf("a second value %q follows", p.text[start:p.pos]), "give one value")
		}
		un, err := p.unit(word, at, start, first)
		if err != nil {
			return 0, err
		}
		if !first && un.factor.Cmp(last.factor) >= 0 {
			return 0, p.fail(start, p.pos-start, fmt.Sprintf("%q follows a unit that is not larger", p.text[start:p.pos]), "write the larger unit first, as in 7 ft 3 in")
		}
		if negative {
			n.Neg(n) // of every part: -6 ft 9 in is the opposite of 6 ft 9 in
		}
		if un.shift != nil {
			n.Add(n, un.shift)
		}
		sum.Add(sum, n.Mul(n, un.factor))
		last = un
		end := p.pos
		p.space()
		if p.pos < len(p.text) && (p.text[p.pos] == '-' || p.text[p.pos] == ',') && p.d.compound {
			mark := p.pos // as in 6'-9", 6' - 9" or 6 ft, 9 in
			p.pos++
			p.space()
			switch {
			case p.pos == len(p.text):
				return 0, p.fail(mark, 1, "it ends in the middle", "")
			case p.text[mark] == '-' && mark > end && p.pos == mark+1:
				return 0, p.fail(mark, 1, "a minus stands in the middle", "one sign, before the first number")
			}
		}
	}
	v, _ := sum.Float64()
	if math.Abs(v) > p.d.most || p.d.kind == "temperature" && v < absoluteZero {
		return 0, p.fail(0, len(p.text), fmt.Sprintf("%q is beyond anything that scenery has", strings.TrimSpace(p.text)),
			"check the number and the unit; "+p.d.bounds(last)+" is read")
	}
	return v, nil
}

// bounds writes the sizes that are read, in a unit.
func (d *dimension) bounds(u *unit) string {
	in := func(si float64) string {
		factor, _ := u.factor.Float64()
		v := si / factor
		if u.shift != nil {
			shift, _ := u.shift.Float64()
			v -= shift
		}
		text := trim(fixed(v, 2))
		if len(u.names) > 0 {
			text += " " + u.names[0]
		}
		return text
	}
	if d.kind == "temperature" {
		return in(absoluteZero) + " to " + in(d.most)
	}
	return "up to " + in(d.most)
}

// vulgar are the fractions that have a character of their own.
var vulgar = map[rune][2]int64{
	'½': {1, 2}, '⅓': {1, 3}, '⅔': {2, 3}, '¼': {1, 4}, '¾': {3, 4}, '⅕': {1, 5}, '⅖': {2, 5}, '⅗': {3, 5}, '⅘': {4, 5},
	'⅙': {1, 6}, '⅚': {5, 6}, '⅛': {1, 8}, '⅜': {3, 8}, '⅝': {5, 8}, '⅞': {7, 8},
}

func digits(s string) int {
	n := 0
	for n < len(s) && s[n] >= '0' && s[n] <= '9' {
		n++
	}
	return n
}

// number reads 7, 7.5, 1/2, 7 1/2, 7-1/2, 6½ or ½.
func (p *parser) number() (*big.Rat, error) {
	start := p.pos
	if r, ok := p.vulgarFraction(); ok {
		return r, nil
	}
	whole := digits(p.text[p.pos:])
	p.pos += whole
	rest := p.text[p.pos:]
	decimals := 0
	if strings.HasPrefix(rest, ".") {
		decimals = digits(rest[1:])
		if decimals > 0 {
			p.pos += 1 + decimals
		}
	}
	if whole == 0 && decimals == 0 {
		word := p.rest()
		message := fmt.Sprintf("%q is not a number", word)
		switch strings.ToLower(strings.TrimLeft(word, "+")) {
		case "":
			message = "a number is missing"
		case "nan", "inf", "infinity":
			message = fmt.Sprintf("%q is not a size", word)
		}
		return nil, p.fail(start, len(word), message, "")
	}
	n, _ := new(big.Rat).SetString(p.text[start:p.pos])
	if strings.HasPrefix(p.text[p.pos:], ",") && digits(p.text[p.pos+1:]) > 0 {
		k := p.pos + 1 + digits(p.text[p.pos+1:])
		hint := "write a decimal point, and no separator of thousands"
		return nil, p.fail(start, k-start, fmt.Sprintf("%q has a comma", p.text[start:k]), hint)
	}
	if decimals > 0 {
		return n, nil
	}
	if strings.HasPrefix(p.text[p.pos:], "/") && digits(p.text[p.pos+1:]) > 0 {
		return p.over(n, start)
	}
	// A fraction may follow a whole number, after a space or a hyphen.
	save := p.pos
	p.space()
	if save == p.pos && strings.HasPrefix(p.text[p.pos:], "-") {
		p.pos++
	}
	if r, ok := p.vulgarFraction(); ok {
		return n.Add(n, r), nil
	}
	numerator := p.pos
	k := digits(p.text[p.pos:])
	if k > 0 && numerator > save && strings.HasPrefix(p.text[p.pos+k:], "/") {
		p.pos += k
		f, _ := new(big.Rat).SetString(p.text[numerator:p.pos])
		f, err := p.over(f, numerator)
		if err != nil {
			return nil, err
		}
		if f.Cmp(big.NewRat(1, 1)) >= 0 {
			return nil, p.fail(numerator, p.pos-numerator, fmt.Sprintf("the fraction %q is not below one", p.text[numerator:p.pos]), "")
		}
		return n.Add(n, f), nil
	}
	p.pos = save
	return n, nil
}

// over reads the rest of a fraction behind its numerator.
func (p *parser) over(numerator *big.Rat, start int) (*big.Rat, error) {
	p.pos++
	k := digits(p.text[p.pos:])
	d, ok := new(big.Rat).SetString(p.text[p.pos : p.pos+k])
	p.pos += k
	if !ok || d.Sign() == 0 {
		return nil, p.fail(start, p.pos-start, fmt.Sprintf("%q divides by nothing", p.text[start:p.pos]), "")
	}
	return numerator.Quo(numerator, d), nil
}

func (p *parser) vulgarFraction() (*big.Rat, bool) {
	r, n := utf8.DecodeRuneInString(p.text[p.pos:])
	f, ok := vulgar[r]
	if !ok {
		return nil, false
	}
	p.pos += n
	return big.NewRat(f[0], f[1]), true
}

// rest is the text up to the next space.
func (p *parser) rest() string {
	s := p.text[p.pos:]
	if i := strings.IndexFunc(s, unicode.IsSpace); i > 0 {
		s = s[:i]
	}
	return s
}

// word reads the characters of a unit: up to a space or a digit behind a prime, and
// over one space where two words name one unit, as in `sq ft`.
func (p *parser) word() string {
	start := p.pos
	prime := false
	for p.pos < len(p.text) {
		r, n := utf8.DecodeRuneInString(p.text[p.pos:])
		if unicode.IsSpace(r) || r == ',' || (prime && (r == '-' || r >= '0' && r <= '9' || vulgar[r][0] != 0)) {
			break
		}
		prime = strings.ContainsRune(primes, r)
		p.pos += n
	}
	w := p.text[start:p.pos]
	save := p.pos
	p.space()
	if next := p.rest(); next != "" && digits(next) == 0 && known(w+" "+next) {
		p.pos += len(next)
		return w + " " + next
	}
	p.pos = save
	return w
}

// absoluteZero in degrees Celsius.
const absoluteZero = -273.15

const primes = `'"′″’”‘“`

// fold writes a unit the way the table does.
var fold = strings.NewReplacer(
	"′′", `"`, "’’", `"`, "''", `"`, "′", "'", "’", "'", "‘", "'", "″", `"`, "”", `"`, "“", `"`,
	"²", "2", "³", "3", "^2", "2", "^3", "3", "^²", "2", "^³", "3", "º", "°", "° ", "°", "\u2126", "Ω", // U+2126 is the ohm sign, the table has omega
	"*", " ", "·", " ", "⋅", " ", "-", " ")

func known(name string) bool {
	for i := range dimensions {
		if _, ok := dimensions[i].find(name); ok {
			return true
		}
	}
	return false
}

// asWritten gives, for the units that another case turns into another unit, the byte
// whose case counts: the first tells milli from mega, the second knots from kilonewtons.
var asWritten = map[string]int{"mA": 0, "mohm": 0, "mΩ": 0, "MPa": 0, "ms": 0, "kn": 1, "kN": 1}

// find looks a unit up: as written, else in any case when only one fits.
func (d *dimension) find(name string) (*unit, bool) {
	name = strings.TrimSuffix(fold.Replace(name), ".")
	var loose *unit
	for i := range d.units {
		for _, n := range d.units[i].names {
			if n == name {
				return &d.units[i], true
			}
			if at, counts := asWritten[n]; strings.EqualFold(n, name) && !(counts && n[at] != name[at]) {
				if loose != nil && loose != &d.units[i] {
					return nil, false
				}
				loose = &d.units[i]
			}
		}
	}
	return loose, loose != nil
}

var plain = unit{factor: big.NewRat(1, 1)}

// unit looks up the word behind a number.
func (p *parser) unit(word string, at, start int, first bool) (*unit, error) {
	if word == "" || digits(word) > 0 {
		if p.d.kind == "ratio" && first {
			p.pos = at
			return &plain, nil
		}
		number := strings.Join(strings.Fields(p.text[start:at]), " ")
		units := Units(p.d.kind)
		hint := fmt.Sprintf("write %s %s", number, units[0])
		if len(units) > 1 {
			hint += fmt.Sprintf(" or %s %s", number, units[1])
		}
		if word != "" {
			hint = "a unit behind each number, and no space inside a number"
		}
		return nil, p.fail(start, len(number), fmt.Sprintf("%s has no unit", number), hint)
	}
	if un, ok := p.d.find(word); ok {
		return un, nil
	}
	if strings.EqualFold(word, "AWG") {
		return nil, p.fail(at, len(word), "AWG is a unit of wire area", "")
	}
	for i := range dimensions {
		if _, ok := dimensions[i].find(word); ok {
			hint := ""
			if p.d.kind == "force" && dimensions[i].kind == "mass" {
				hint = "for a force write lbf or N"
			}
			if p.d.kind == "mass" && dimensions[i].kind == "force" {
				hint = "for a mass write lb or kg"
			}
			return nil, p.fail(at, p.pos-at, fmt.Sprintf("%s is a unit of %s", word, dimensions[i].kind), hint)
		}
	}
	hint := ""
	if len(word) > 1 && (word[0] == 'e' || word[0] == 'E') && digits(strings.TrimLeft(word[1:], "+-")) > 0 {
		hint = "write the digits out, without a power of ten"
	} else if near := p.d.nearest(word); near != "" {
		hint = "did you mean " + near + "?"
	}
	return nil, p.fail(at, len(word), fmt.Sprintf("%q is not a unit", word), hint)
}

// gauge reads a wire gauge: 16 AWG, 2/0 AWG (also 00 AWG), AWG 16. ok tells whether the text is one.
func (p *parser) gauge() (v float64, ok bool, err error) {
	text := strings.TrimSpace(p.text)
	number, found := strings.CutSuffix(strings.ToUpper(text), "AWG")
	if !found {
		if number, found = strings.CutPrefix(strings.ToUpper(text), "AWG"); !found {
			return 0, false, nil
		}
	}
	number = strings.TrimSpace(number)
	for n := thickest; n <= thinnest; n++ {
		if number == gaugeNumber(n) || n <= 0 && number == strings.Repeat("0", 1-n) {
			return wireArea(n), true, nil
		}
	}
	return 0, true, p.fail(0, len(p.text), fmt.Sprintf("%q is not a wire gauge", text), "gauges run from 4/0 AWG to 40 AWG")
}
