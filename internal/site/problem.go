package site

import (
	"bytes"
	"cmp"
	"fmt"
	"io"
	"slices"
	"sort"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Place is where something stands in a file, for people: lines and columns
// count from 1, columns count runes.
type Place struct {
	File      string
	Line, Col int
}

// String gives "site.toml:14:1", the form that editors jump to. A place
// without a line is the file alone.
func (p Place) String() string {
	if p.Line < 1 {
		return p.File
	}
	return fmt.Sprintf("%s:%d:%d", p.File, p.Line, p.Col)
}

func (p Place) compare(q Place) int {
	return cmp.Or(cmp.Compare(p.File, q.File), cmp.Compare(p.Line, q.Line), cmp.Compare(p.Col, q.Col))
}

// Note points at a second place that explains a problem.
type Note struct {
	Place   Place
	Message string
}

// Problem is one fault in a file.
type Problem struct {
	Place      Place
	start, end int    // bytes of the offending text
	Code       string // short kind, for programs: "syntax", "unknown-key", "reference"
	Message    string // what is wrong; lower case, no full stop, quotes the offending text
	Want       string // what was expected; may be empty
	Hint       string // how to cure it; may be empty
	Also       []Note
	Warning    bool // the file can be used all the same
}

// Problems is every fault found in one run.
type Problems []Problem

// Error gives the first fault and the number of the others.
func (ps Problems) Error() string {
	switch len(ps) {
	case 0:
		return "no problems"
	case 1:
		return ps[0].headline()
	}
	return fmt.Sprintf("%s (and %d more)", ps[0].headline(), len(ps)-1)
}

// Fatal reports whether any of the problems is more than a warning.
func (ps Problems) Fatal() bool {
	return slices.ContainsFunc(ps, func(p Problem) bool { return !p.Warning })
}

// Sort orders the problems by place, code and message and drops repetitions.
func (ps *Problems) Sort() {
	order := func(a, b Problem) int {
		return cmp.Or(a.Place.compare(b.Place), cmp.Compare(a.Code, b.Code), cmp.Compare(a.Message, b.Message))
	}
	slices.SortStableFunc(*ps, order)
	*ps = slices.CompactFunc(*ps, func(a, b Problem) bool { return order(a, b) == 0 })
}

const (
	mostPrinted = 100    // problems; a hopeless file must not scroll the first one away
	mostKept    = 10_000 // problems that are gathered at all
	mostWords   = 1000   // bytes of a text in a problem; what it quotes may be as long as the file
)

// ANSI sequences; no terminal that shows colour lacks these.
const (
	ansiBold   = "\x1b[1m"
	ansiRed    = "\x1b[1;31m"
	ansiYellow = "\x1b[1;33m"
	ansiReset  = "\x1b[0m"
)

// Write prints the problems for people, each with the line of src it stands
// in. Without src, or with a place outside it, the first line of each remains.
func (ps Problems) Write(w io.Writer, src []byte, color bool) error {
	var b strings.Builder
	paint := func(ansi, text string) string {
		if !color || text == "" {
			return text
		}
		return ansi + text + ansiReset
	}
	lines := newLineIndex("", src)
	for _, p := range ps[:min(len(ps), mostPrinted)] {
		kind, ink := "error", ansiRed
		if p.Warning {
			kind, ink = "warning", ansiYellow
		}
		if at := p.Place.String(); at != "" {
			b.WriteString(paint(ansiBold, Visible(at)+":") + " ")
		}
		fmt.Fprintf(&b, "%s %s\n", paint(ink, kind+":"), shown(p.Message))

		gutter := max(5, len(strconv.Itoa(p.Place.Line)))
		if text, pad, carets, ok := lines.snippet(p); ok {
			fmt.Fprintf(&b, "%*d | %s\n", gutter, p.Place.Line, text)
			fmt.Fprintf(&b, "%*s | %s%s\n", gutter, "", pad, paint(ink, carets))
		}
		indent := strings.Repeat(" ", gutter+1)
		if p.Want != "" {
			fmt.Fprintf(&b, "%sexpected: %s\n", indent, shown(p.Want))
		}
		for _, n := range p.Also {
			fmt.Fprintf(&b, "%snote: %s: %s\n", indent, Visible(n.Place.String()), shown(n.Message))
		}
		if p.Hint != "" {
			fmt.Fprintf(&b, "%shint: %s\n", indent, shown(p.Hint))
		}
	}
	if more := len(ps) - mostPrinted; more > 0 {
		fmt.Fprintf(&b, "and %d more\n", more)
	}
	if len(ps) >= mostKept {
		b.WriteString("and there it stopped\n")
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// headline is the problem in one line without colour.
func (p Problem) headline() string {
	if at := p.Place.String(); at != "" {
		return Visible(at) + ": " + shown(p.Message)
	}
	return shown(p.Message)
}

// shown is a text of a problem as it is printed.
func shown(text string) string {
	if len(text) > mostWords {
		text = strings.ToValidUTF8(text[:mostWords], "") + "…"
	}
	return Visible(text)
}

// bom may open a file; it is no part of the first line's columns.
var bom = []byte("\xef\xbb\xbf")

// lineIndex turns byte offsets into places by binary search.
type lineIndex struct {
	file   string
	src    []byte
	starts []int // offset at which each line begins

	// Where the last place was: the next one is mostly near it, and a line may be long.
	offset int
	found  Place
}

func newLineIndex(file string, src []byte) *lineIndex {
	x := &lineIndex{file: file, src: src, starts: []int{0}}
	if bytes.HasPrefix(src, bom) {
		x.starts[0] = len(bom)
	}
	for i, c := range src {
		if c == '\n' && len(x.starts) <= mostLines { // no file of more is read
			x.starts = append(x.starts, i+1)
		}
	}
	return x
}

// line is the index, from 0, of the line that holds the offset.
func (x *lineIndex) line(offset int) int {
	i := sort.Search(len(x.starts), func(i int) bool { return x.starts[i] > offset })
	return max(0, i-1)
}

// text is a line without its ending. The index must exist.
func (x *lineIndex) text(line int) []byte {
	end := len(x.src)
	if line+1 < len(x.starts) {
		end = x.starts[line+1] - 1
	}
	return bytes.TrimSuffix(x.src[x.starts[line]:end], []byte("\r"))
}

// place gives the place of a byte offset; one past the end is allowed, one
// outside the source is moved to its nearest end.
func (x *lineIndex) place(offset int) Place {
	offset = min(max(offset, x.starts[0]), len(x.src))
	line := x.line(offset)
	start := x.starts[line]
	for offset > start && offset < len(x.src) && !utf8.RuneStart(x.src[offset]) {
		offset--
	}
	at := Place{x.file, line + 1, 1}
	switch near := x.found.Line == line+1; {
	case near && offset >= x.offset:
		at.Col = x.found.Col + utf8.RuneCount(x.src[x.offset:offset])
	case near && x.offset-offset < offset-start:
		at.Col = x.found.Col - utf8.RuneCount(x.src[offset:x.offset])
	default:
		at.Col += utf8.RuneCount(x.src[start:offset])
	}
	x.offset, x.found = offset, at
	return at
}

// The snippet of a long line is a window of at most snippetBefore columns
// before the fault and snippetAfter from its start.
const (
	snippetBefore = 40
	snippetAfter  = 60
)

// snippet gives the line in which p stands, the padding below it that keeps
// its tabs, and the carets under the offending text.
func (x *lineIndex) snippet(p Problem) (text, pad, carets string, ok bool) {
	i := p.Place.Line - 1
	if i < 0 || i >= len(x.starts) || len(x.src) == 0 || p.end == 0 {
		// A fault of no length at the very start is one of the whole file.
		return "", "", "", false
	}
	line := x.text(i)
	at := min(max(p.start-x.starts[i], 0), len(line)) // bytes of the line before the fault
	from := at
	for n := 0; n < snippetBefore && from > 0; n++ {
		_, size := utf8.DecodeLastRune(line[:from])
		from -= size
	}
	to := at
	for n := 0; n < snippetAfter && to < len(line); n++ {
		_, size := utf8.DecodeRune(line[to:])
		to += size
	}
	// A fault that runs over the line's end is marked up to there.
	end := min(max(at+p.end-p.start, at), to)

	var b, under strings.Builder
	if from > 0 {
		b.WriteString("…")
		under.WriteString(" ")
	}
	for rest := line[from:at]; len(rest) > 0; {
		r, n := utf8.DecodeRune(rest)
		if r == '\t' {
			b.WriteByte('\t')
			under.WriteByte('\t')
		} else {
			shown := Visible(string(rest[:n]))
			b.WriteString(shown)
			under.WriteString(strings.Repeat(" ", utf8.RuneCountInString(shown)))
		}
		rest = rest[n:]
	}
	// A tab under the carets would tear them apart.
	marked := strings.ReplaceAll(string(line[at:end]), "\t", " ")
	shown := Visible(marked)
	b.WriteString(shown)
	for rest := line[end:to]; len(rest) > 0; {
		r, n := utf8.DecodeRune(rest)
		if r == '\t' {
			b.WriteByte('\t')
		} else {
			b.WriteString(Visible(string(rest[:n])))
		}
		rest = rest[n:]
	}
	if to < len(line) {
		b.WriteString("…")
	}
	return b.String(), under.String(), strings.Repeat("^", max(1, utf8.RuneCountInString(shown))), true
}

// Visible spells out what a terminal would obey instead of show: control
// characters, the invisible ones that reorder or hide text, broken UTF-8.
func Visible(s string) string {
	obeyed := func(r rune) bool {
		return r == utf8.RuneError || r != ' ' && !unicode.IsGraphic(r) || unicode.Is(unicode.Zl, r) || unicode.Is(unicode.Zp, r)
	}
	if strings.IndexFunc(s, obeyed) < 0 {
		return s
	}
	var b strings.Builder
	for i := 0; i < len(s); {
		r, n := utf8.DecodeRuneInString(s[i:])
		switch {
		case r == utf8.RuneError && n == 1:
			fmt.Fprintf(&b, `\x%02x`, s[i])
		case r != utf8.RuneError && obeyed(r):
			quoted := strconv.QuoteRuneToASCII(r)
			b.WriteString(quoted[1 : len(quoted)-1])
		default:
			b.WriteRune(r)
		}
		i += n
	}
	return b.String()
}
