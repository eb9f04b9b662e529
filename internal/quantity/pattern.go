package quantity

import (
	"fmt"
	"slices"
	"strings"
	"unicode"
)

// Pattern returns a regular expression for the texts that [ParseKind] reads as a kind, for
// programs that check a file without this one. It is written in what ECMA-262 and RE2 have
// in common and is anchored at both ends. It tells what is a matter of form: not whether
// units follow each other from large to small, nor how large a size may be. Other than
// the parser it takes a number that begins with a point right behind a foot or inch mark.
func Pattern(kind Kind) string { return pattern(kind, `(?:[-−]`+space+`*)?`, numberPattern) }

// UnsignedPattern is Pattern without a minus.
func UnsignedPattern(kind Kind) string { return pattern(kind, "", numberPattern) }

// ZeroPattern matches the texts of [UnsignedPattern] that are nothing but zeros.
func ZeroPattern(kind Kind) string {
	return pattern(kind, "", fmt.Sprintf(`(?:0+(?:\.0+|(?:(?:%s+|-)0+)?/0*[1-9][0-9]*)?|\.0+)`, space))
}

// space is every space of Unicode, which \s is not in each of the two dialects.
const space = "[\\t-\\r \u0085\u00a0\u1680\u2000-\u200a\u2028\u2029\u202f\u205f\u3000]"

// numberPattern is 7, 7.5, 1/2, 7 1/2, 7-1/2, 6½ or ½.
var numberPattern = func() string {
	var marks []rune
	for r := range vulgar {
		marks = append(marks, r)
	}
	slices.Sort(marks)
	mark := "[" + string(marks) + "]"
	return fmt.Sprintf(`(?:[0-9]+(?:\.[0-9]+|/[0-9]+|(?:%[1]s*|-)%[2]s|(?:%[1]s+|-)[0-9]+/[0-9]+)?|\.[0-9]+|%[2]s)`, space, mark)
}()

func pattern(kind Kind, sign, number string) string {
	d := dimensionOf(kind)
	if d == nil {
		return `^[^\s\S]` // no text is of a kind that does not exist
	}
	var words, primed []string // units of letters, and the marks of feet and inches
	for _, u := range d.units {
		for _, name := range u.names {
			p := unitPattern(name)
			switch {
			case slices.Contains(words, p) || slices.Contains(primed, p):
			case strings.ContainsAny(name, `'"`):
				primed = append(primed, p)
			default:
				words = append(words, p)
			}
		}
	}
	unit := alternatives(append(words, primed...)) + `\.?`
	value := number + space + "*" + unit
	switch {
	case kind == "ratio":
		value = number + space + "*(?:" + unit + ")?"
	case d.compound:
		next := unit + fmt.Sprintf(`(?:%[1]s*,%[1]s*|%[1]s+(?:-%[1]s+)?)`, space)
		if len(primed) > 0 {
			next = "(?:" + next + "|" + alternatives(primed) + "(?:-" + space + "*)?)"
		}
		value = "(?:" + number + space + "*" + next + ")*" + value
	}
	value = sign + value
	if kind == "wire area" && number == numberPattern {
		value = "(?:" + value + "|" + gaugePattern + ")"
	}
	return "^" + space + "*" + value + space + "*$"
}

// gaugePattern is 16 AWG, AWG 16, 2/0 AWG or 00 AWG.
var gaugePattern = func() string {
	var numbers []string
	for n := thickest; n <= thinnest; n++ {
		numbers = append(numbers, gaugeNumber(n))
		if n <= 0 {
			numbers = append(numbers, strings.Repeat("0", 1-n))
		}
	}
	number, awg := alternatives(numbers), "[aA][wW][gG]"
	return number + space + "*" + awg + "|" + awg + space + "*" + number
}()

func alternatives(list []string) string { return "(?:" + strings.Join(list, "|") + ")" }

// unitPattern matches the ways of writing one name of a unit: any case where case does not
// count, typographic marks, raised digits.
func unitPattern(name string) string {
	var b strings.Builder
	counts, cased := asWritten[name]
	for i, r := range fold.Replace(name) {
		switch {
		case r == ' ':
			b.WriteString("(?:" + space + "+|[*·⋅-])")
		case r == '\'':
			b.WriteString("['′’‘]")
		case r == '"':
			b.WriteString("(?:[\"″”“]|''|′′|’’)")
		case r == '°':
			b.WriteString("[°º]" + space + "*")
		case r == 'Ω':
			b.WriteString("[Ωω\u2126]")
		case r == '2' || r == '3':
			fmt.Fprintf(&b, "\\^?[%c%c]", r, map[rune]rune{'2': '²', '3': '³'}[r])
		case unicode.IsLetter(r) && !(cased && counts == i):
			fmt.Fprintf(&b, "[%c%c]", unicode.ToLower(r), unicode.ToUpper(r))
		default:
			b.WriteRune(r)
		}
	}
	return b.String()
}
