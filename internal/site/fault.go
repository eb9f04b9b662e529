package site

import (
	"bytes"
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/BurntSushi/toml"
)

// fault is what keeps a text from being decoded, in offsets of that text.
type fault struct {
	at            span
	code          string
	message, want string
	hint          string
	second        int // a second place, when also says what it is
	also          string
	until         int    // reading can go on in the line of this offset, if it is a later one
	instead       string // reading can go on with this in place of the header
}

// findFault decodes what was scanned and gives the first thing wrong with it.
func findFault(s *scanner, decode func([]byte) error) (fault, bool) {
	if s.beyond != nil {
		// Before decoding: the decoder would exhaust the stack, the memory or the time.
		return *s.beyond, true
	}
	// What lies beyond the scanner's own failure cannot matter, and is not
	// known to be nested less.
	text := s.src[:min(s.pos+1<<16, len(s.src))]
	if i := bytes.IndexByte(text[s.pos:], '\n'); i >= 0 {
		text = text[:s.pos+i+1]
	}
	err := decode(text)
	e := s.pos
	var pe toml.ParseError
	if errors.As(err, &pe) {
		// The decoder's column and, for long strings, its line can be wrong;
		// its offset is right.
		e = min(max(pe.Position.Start, 0), len(text))
		switch {
		case strings.Contains(pe.Message, "unexpected EOF"), strings.Contains(pe.Message, "end of file"):
			e = len(text)
		case strings.Contains(pe.Message, "control characters"):
			// The offset given is that of the character before.
			for e < len(text) && !control(text[e:]) {
				e++
			}
		}
	}
	x := newLineIndex("", s.src)
	if len(s.faults) > 0 {
		first := slices.MinFunc(s.faults, func(a, b fault) int { return a.at.start - b.at.start })
		if err == nil || x.line(first.at.start) <= x.line(e) {
			return first, true
		}
	}
	if err == nil && s.pos == len(s.src) {
		return fault{}, false
	}
	return explain(s, x, e, pe.Message), true
}

// control reports whether the text begins with a control character that TOML
// forbids.
func control(text []byte) bool {
	switch c := text[0]; c {
	case '\t', '\n':
		return false
	case '\r':
		return len(text) == 1 || text[1] != '\n'
	default:
		return c < ' ' || c == 0x7f
	}
}

// emptyFault takes the faulty line, counted from 0, out of the text, and as
// much around it as would otherwise cause errors of its own.
func emptyFault(lines [][]byte, statement, line, until int, instead string) {
	first, last := line, line
	switch {
	case until > line:
		first, last = statement, until-1
	case line > statement && imbalance(lines[line]) != 0, imbalance(lines[line]) > 0:
		first = statement
		for last+1 < len(lines) && !startsStatement(lines[last+1], 0) {
			last++
		}
	}
	header := line == statement && bytes.HasPrefix(bytes.TrimSpace(lines[line]), []byte("["))
	for i := first; i <= last; i++ {
		lines[i] = []byte("\n")
	}
	if header {
		// The keys that follow stay apart from those of the table before.
		if instead == "" {
			instead = fmt.Sprintf("['faulty header %d']", line+1)
		}
		lines[line] = []byte(instead + "\n")
	}
}

// imbalance is the number of brackets, and of texts of several lines, that a
// line opens and leaves to later lines, less those it closes for earlier ones.
func imbalance(line []byte) int {
	depth := 0
	s := &scanner{src: line}
	for s.pos < len(line) {
		switch line[s.pos] {
		case '[', '{':
			depth++
			s.pos++
		case ']', '}':
			depth--
			s.pos++
		case '#':
			s.pos = len(line)
		case '"', '\'':
			start, triple := s.pos, s.has(`"""`) || s.has("'''")
			switch closed := s.quoted(); {
			case !closed && triple:
				depth++
			case !closed:
				s.pos = start + 1 // the quote is the fault, the brackets after it count
			}
		default:
			s.pos++
		}
	}
	return depth
}

var (
	headerLine = regexp.MustCompile(`^[ \t]*\[\[?[ \t]*[A-Za-z][\w. \t-]*\]{1,2}[ \t]*(#.*)?\r?\n?$`)
	pairLine   = regexp.MustCompile(`^[ \t]*[\w"'-][\w."' \t-]*=`)
)

// startsStatement reports whether a line looks like a header or the begin of a
// pair, although the bracket given (0 for none) is still open before it.
func startsStatement(line []byte, open byte) bool {
	// Keys are at home in braces.
	return headerLine.Match(line) || open != '{' && pairLine.Match(line)
}

// explain says in plain words what the decoder met at offset e.
func explain(s *scanner, x *lineIndex, e int, message string) fault {
	f := fault{code: "syntax"}
	n := x.line(e)
	lineStart := x.starts[n]
	line := string(x.text(n))
	lineEnd := lineStart + len(line)
	e = min(e, lineEnd)
	statement := s.statement(e)
	indent := len(line) - len(strings.TrimLeft(line, " \t"))
	col := e - lineStart
	col += len(line[col:]) - len(strings.TrimLeft(line[col:], " \t"))

	// A bracket left open is noticed only where the next entry begins.
	if statement < lineStart || col == len(line) {
		before := scan(s.src[:lineStart])
		rest := bytes.TrimSpace(s.src[lineStart+col:])
		if len(rest) == 0 {
			before = scan(s.src)
		}
		if k := len(before.open); k > 0 {
			b := before.open[k-1]
			if open := s.src[b]; len(rest) == 0 || startsStatement([]byte(line), open) {
				shut := map[byte]string{'[': "]", '{': "}"}[open]
				f.at = span{b, b + 1}
				f.message = fmt.Sprintf("the \"%c\" is never closed", open)
				f.want = fmt.Sprintf("a %q", shut)
				f.second, f.also = lineStart, "the next entry begins here"
				f.until = lineStart
				if len(rest) == 0 {
					f.also = "the file ends here"
					f.second, f.until = len(bytes.TrimRight(s.src, " \t\r\n")), len(s.src)
				}
				return f
			}
		}
	}

	w := wordsAt(line, col)
	f.at = span{lineStart + w.from, lineStart + w.to}
	here := ""
	if col < len(line) {
		_, size := utf8.DecodeRuneInString(line[col:])
		here = line[col : col+size]
		f.at = span{lineStart + col, lineStart + col + size}
	}
	has := func(part string) bool { return strings.Contains(message, part) }
	whole := func() { f.at = span{lineStart + w.from, lineStart + w.to} }

	curly := strings.IndexAny(line, "“”„‟‘’‚«»")
	switch {
	case curly >= 0 && curly >= w.keyFrom && !has("control") && (w.curly || strings.ContainsAny(here, "“”„‟‘’‚«»")):
		whole()
		f.message = "curly quotes cannot hold text"
		f.hint = "write straight quotes: " + w.quoted()
		if w.delim != '=' && strings.Contains(w.text, "=") {
			f.at.end = f.at.start + len(here)
			f.hint = "write straight quotes"
		}

	case has("strings cannot contain newlines"), has("unexpected EOF") && !has("value") && !has("separator"):
		f.at = span{min(s.quote, e), lineEnd}
		f.message = "the text in quotes is never closed"
		quote := `"`
		if s.src[f.at.start] == '\'' {
			quote = "'"
		}
		if bytes.HasPrefix(s.src[f.at.start:], []byte(strings.Repeat(quote, 3))) {
			quote = strings.Repeat(quote, 3)
			f.at.end = f.at.start + 3
		}
		f.hint = "end it with " + quote

	case has("already"), has("is not a table"):
		whole()
		f.code = "duplicate-key"
		f.message = "this name is used for something else already"

	case has("'''"), has(`"""`):
		f.message = "too many quotes in a row end this text"
		f.want = "at most two before the three that end it"

	case has("control characters"):
		f.message = fmt.Sprintf("the control character %q cannot stand in the file", rune(s.src[min(e, len(s.src)-1)]))
		f.hint = "delete it, or write it as an escape within double quotes"
	case has("escape"), has("hexadecimal digits"), has("Escaped character"):
		f.at = badEscape(s.src, e)
		f.message = fmt.Sprintf("%s in double quotes has no meaning", s.src[f.at.start:f.at.end])
		f.hint = `write \\ for a backslash, or put the text into single quotes`

	case has("out of range"):
		whole()
		f.message = fmt.Sprintf("the number %s is too large", w.text)
	case has("leading zeroes"):
		whole()
		f.message = fmt.Sprintf("the number %s begins with a zero", w.text)
		f.hint = fmt.Sprintf("leave out the zero, or write %s if it is text", w.quoted())
	case has("underscores must"):
		whole()
		f.message = fmt.Sprintf("the number %s has an underscore that is not between digits", w.text)
	case has("'.' must be followed"):
		whole()
		f.message = fmt.Sprintf("the number %s ends in a point", w.text)
		f.want = "digits on both sides of the point"
	case has("floats must start with a digit") && !w.unit():
		whole()
		f.message = fmt.Sprintf("the number %s begins with a point", w.text)
		f.hint = "write a 0 before the point"
	case has("datetime"), has("invalid float"), has("Invalid float"), has("not a"), has("cannot use sign"), has("expected a digit"), has("floats must"):
		whole()
		f.message = fmt.Sprintf("%s is neither a number nor a date", w.text)
		f.hint = "text needs quotes: " + w.quoted()

	case has("table name"), has("table separator"), has("table array name"):
		f.at = span{lineStart + indent, lineEnd}
		f.header(line, statement == f.at.start)
	case has("blank"), has("cannot start with"):
		f.message = fmt.Sprintf("there is no name before the %s", show(here))
		f.want = "a line such as name = \"west pier\""
	case has("expected '.' or '='"), has("unexpected '='"), has("unexpected '.'"), has("separator"):
		f.pair(line, col, here, w)
	case has("unexpected comma"):
		f.message = "there is nothing before this comma"

	case has("top-level item") && strings.HasPrefix(strings.TrimSpace(line), "["):
		f.at.end = lineEnd
		f.header(line, statement == lineStart+indent)

	case has("top-level item"), has("comma"):
		if f.marks(line, col, lineStart, w) {
			break
		}
		if here == "]" || here == "}" {
			f.message = fmt.Sprintf("the %s closes nothing", show(here))
			break
		}
		if w.bare(col) {
			whole()
			f.message = fmt.Sprintf("%s needs quotes", w.text)
			f.hint = "write " + w.quoted()
			break
		}
		if m := commaNumber.FindString(line[w.from:]); m != "" && w.delim == '=' && here == "," {
			f.at = span{lineStart + w.from, lineStart + w.from + len(m)}
			f.message = fmt.Sprintf("the number %s has a comma", m)
			f.hint = "write a decimal point, and no separator of thousands"
			break
		}
		if here == "," {
			f.message = "a comma follows the value"
			f.want = "the end of the line"
			f.hint = "leave the comma out; only values within brackets have commas between them"
			break
		}
		if has("comma") {
			f.message = fmt.Sprintf("a comma is missing before %s", show(here))
			f.want = `a comma or the closing bracket`
			break
		}
		f.message = fmt.Sprintf("%s follows the value", show(here))
		f.want = "the end of the line"
	case has("expected value"):
		if w.text == "" {
			f.message = `there is no value after the "="`
			if i := strings.LastIndexByte(line[:col], '='); i >= 0 {
				f.at = span{lineStart + i, lineStart + i + 1}
			} else {
				f.message = "a value is missing"
			}
			break
		}
		whole()
		if strings.Contains(w.text, "=") {
			f.message = fmt.Sprintf(`%s has a second "="`, w.text)
			f.want = "one value"
			break
		}
		f.message = fmt.Sprintf("%s needs quotes", w.text)
		f.hint = "write " + w.quoted()
		if b := strings.ToLower(w.text); b == "true" || b == "false" {
			f.message = fmt.Sprintf("%s is written in small letters", w.text)
			f.hint = fmt.Sprintf("write %s", b)
		}
	default:
		f.message = "this cannot be read"
		f.want = "key = value, [table] or [[table]]"
	}
	return f
}

// badEscape finds the first escape after the offset that TOML does not know.
func badEscape(src []byte, offset int) span {
	for i := offset; i+1 < len(src); i++ {
		if src[i] != '\\' {
			continue
		}
		end := i + 2
		switch c := src[i+1]; c {
		case 'x', 'u', 'U':
			digits := map[byte]int{'x': 2, 'u': 4, 'U': 8}[c]
			for end < len(src) && end < i+2+digits && strings.IndexByte("0123456789abcdefABCDEF", src[end]) >= 0 {
				end++
			}
			r, err := strconv.ParseUint(string(src[i+2:end]), 16, 32)
			if err != nil || end < i+2+digits || !utf8.ValidRune(rune(r)) {
				return span{i, end}
			}
		case ' ', '\t', '\r', '\n':
			blank := bytes.TrimLeft(src[i+1:], " \t\r")
			if len(blank) == 0 || blank[0] != '\n' {
				return span{i, end}
			}
		default:
			if strings.IndexByte(`btnfre"\`, c) < 0 {
				_, size := utf8.DecodeRune(src[i+1:])
				return span{i, i + 1 + size}
			}
		}
		i = end - 1
	}
	return span{offset, offset}
}

// header explains a faulty header line.
func (f *fault) header(line string, first bool) {
	text, _, _ := strings.Cut(line, "#")
	text = strings.TrimSpace(text)
	name := strings.TrimSpace(strings.Trim(text, "[]"))
	switch {
	case name == "" || strings.HasPrefix(name, ".") || strings.HasSuffix(name, ".") || strings.Contains(name, ".."):
		f.message = fmt.Sprintf("the header %s lacks a name", text)
	case strings.Contains(name, "=") && first:
		f.message = "the header is not alone on its line"
		f.want = "[name] or [[name]] alone on its line"
	case strings.ContainsAny(name, "[]") || !first:
		f.message = fmt.Sprintf("%s cannot be read as a header", text)
		f.want = "[name] or [[name]] alone on its line"
	case strings.ContainsAny(name, " \t"):
		f.message = fmt.Sprintf("the name in %s has a space", text)
		f.want = "[name] or [[name]] alone on its line"
		f.hint = "a name of two words needs quotes or a hyphen"
	case strings.HasPrefix(text, "[[") || strings.HasSuffix(text, "]]"):
		f.message = fmt.Sprintf("the brackets of %s do not match", text)
		f.instead = "[[" + name + "]]"
		f.hint = "write " + f.instead
	case !strings.HasSuffix(text, "]"):
		f.message = fmt.Sprintf("the header %s is not closed", text)
		f.instead = "[" + name + "]"
		f.hint = "write " + f.instead
	default:
		f.message = fmt.Sprintf("%s cannot be read as a header", text)
		f.want = "[name] or [[name]] alone on its line"
	}
}

// pair explains a key that is not followed by "=".
func (f *fault) pair(line string, col int, here string, w words) {
	key := strings.TrimSpace(line[w.from:col])
	rest := line[col:]
	switch {
	case key == "":
		f.message = fmt.Sprintf("%s cannot begin a line", show(here))
		f.want = "key = value, [table] or [[table]]"
		if here == "" {
			f.message = "a name is missing"
		}
	case here == ":":
		f.message = fmt.Sprintf("%q is followed by a colon", key)
		f.hint = `write "=" between the name and the value`
	case strings.Contains(rest, "=") && strings.IndexAny(rest, "=,]}#\"'") == strings.IndexByte(rest, '='):
		name := strings.TrimSpace(line[w.from : col+strings.IndexByte(rest, '=')])
		f.message = fmt.Sprintf("the name %q is more than one word", name)
		f.hint = "names have letters, digits, - and _ only, and one = follows"
	default:
		f.message = `there is no "=" after ` + show(key)
		if i := strings.IndexAny(rest, ",]}#"); i >= 0 {
			rest = rest[:i]
		}
		if rest != "" && !strings.Contains(rest, "=") {
			f.hint = fmt.Sprintf("write %s = %s", key, strings.TrimSpace(rest))
		}
	}
}

// show quotes text for a message.
func show(text string) string {
	if strings.Contains(text, `"`) {
		return "'" + text + "'"
	}
	return `"` + text + `"`
}

var digitBeforeQuote = regexp.MustCompile(`[0-9½¼¾⅛⅜⅝⅞][ \t]*$`)

// marks explains text after a closing quote: most often a foot or inch mark
// that ended the text too early.
func (f *fault) marks(line string, col, lineStart int, w words) bool {
	before := strings.TrimRight(line[:col], " \t")
	if w.quote < 0 || before == "" || col == len(line) {
		return false
	}
	c := before[len(before)-1]
	if c != '"' && c != '\'' || w.quote >= len(before)-1 || line[w.quote] != c {
		return false
	}
	inner := before[w.quote+1 : len(before)-1]
	touches := len(before) == col
	if !digitBeforeQuote.MatchString(inner) || !touches && (c == '"' || !strings.ContainsRune("0123456789", rune(line[col]))) {
		return false
	}
	end := col + len(line[col:])
	if i := strings.IndexAny(line[col:], ",]}#"); i >= 0 {
		end = col + i
	}
	full := inner + string(c) + strings.TrimRight(strings.TrimSpace(line[col:end]), string(c))
	if c == '\'' {
		full = inner + "'" + line[len(before):end]
		full = strings.TrimSuffix(strings.TrimSpace(full), "'")
	}
	name := map[byte]string{'"': "inch", '\'': "foot"}[c]
	f.at = span{lineStart + len(before) - 1, lineStart + len(before)}
	f.message = fmt.Sprintf("the %s mark ends the text", name)
	f.hint = fmt.Sprintf(`write "%s"`, strings.ReplaceAll(full, `"`, `\"`))
	if plain := spellMarks(full); plain != full {
		f.hint += fmt.Sprintf(` or "%s"`, plain)
	}
	return true
}

// spellMarks writes the foot and inch marks of a length as units.
func spellMarks(text string) string {
	text = strings.NewReplacer("'", " ft ", `"`, " in ", "′", " ft ", "″", " in ").Replace(text)
	return strings.Join(strings.Fields(text), " ")
}

// words is the unquoted text around a column of a line and what it belongs to.
type words struct {
	text     string // without the blanks around
	from, to int    // columns, in bytes
	delim    byte   // what stands before: one of = [ , { or 0
	key      string // the name before the = sign
	keyFrom  int
	quote    int  // where the last string before begins; -1 for none
	curly    bool // text begins with a curly quote
}

func wordsAt(line string, col int) words {
	w := words{quote: -1}
	from, keyFrom := 0, 0
	s := &scanner{src: []byte(line)}
	for s.pos < col {
		switch c := line[s.pos]; c {
		case '=':
			w.delim, w.key = c, strings.TrimSpace(line[keyFrom:s.pos])
			s.pos++
			from = s.pos
		case '[', ',', '{':
			w.delim, w.key = c, ""
			s.pos++
			from, keyFrom = s.pos, s.pos
		case '"', '\'':
			w.quote = s.pos
			s.quoted()
		default:
			s.pos++
		}
	}
	to := len(line)
	if i := strings.IndexAny(line[col:], ",]}#"); i >= 0 {
		to = col + i
	}
	w.text = strings.TrimSpace(line[from:to])
	w.from = from + len(line[from:to]) - len(strings.TrimLeft(line[from:to], " \t"))
	w.to = w.from + len(w.text)
	w.keyFrom = keyFrom
	w.curly = strings.IndexAny(w.text, "“”„‟‘’‚«»") == 0
	return w
}

// bare reports whether the text, which goes on at the column, is a value that
// only lacks its quotes, such as 30 in.
func (w words) bare(col int) bool {
	return w.delim != 0 && w.from < col && !strings.ContainsAny(w.text, "=") &&
		strings.IndexAny(w.text, "\"'") != 0 && strings.Trim(w.text, "0123456789._+- \t") != ""
}

// unit reports whether the text looks like a number with a unit.
func (w words) unit() bool {
	return strings.ContainsFunc(w.text, unicode.IsLetter)
}

// quoted is the text as it ought to be written, with its key.
func (w words) quoted() string {
	text := strings.Trim(w.text, "“”„‟‘’‚«»")
	if strings.ContainsAny(text, `"'`) && digitBeforeMark.MatchString(text) {
		text = spellMarks(text)
	}
	text = `"` + strings.NewReplacer(`\`, `\\`, `"`, `\"`).Replace(text) + `"`
	if w.key != "" {
		text = w.key + " = " + text
	}
	return text
}

var commaNumber = regexp.MustCompile(`^[0-9]+,[0-9][0-9,.]*`)

var digitBeforeMark = regexp.MustCompile(`[0-9½¼¾⅛⅜⅝⅞]["']`)
