package site

import (
	"bytes"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"github.com/BurntSushi/toml"
)

// Limits on a model file. A site of ten thousand pieces keeps within them; they stop a file
// that would hang or exhaust the decoder.
const (
	mostSource = 16 << 20  // bytes
	mostLines  = 1_000_000 // lines
	mostKeys   = 800_000   // keys of all tables, a table counting as two and an entry of a list as two thirds
	mostWide   = 1000      // keys of one table
	mostNested = 16        // tables and arrays inside one another
	mostSyntax = 10        // syntax errors reported in one run
	mostFaults = 100       // names that clash, kept of one scan; the first is reported
)

// MaxSource is the size of the largest model file, bytes.
const MaxSource = mostSource

// span is a half-open range of byte offsets in the source.
type span struct{ start, end int }

type nodeKind int

const (
	tableNode nodeKind = iota
	arrayNode
	leafNode
)

// String names the kind for messages, article included.
func (k nodeKind) String() string {
	return [...]string{"a table", "a list", "a single value"}[k]
}

// node is a table, an array or a value of the document, with its place.
type node struct {
	kind nodeKind
	// key is the name that made the node: its own part of a dotted key or of a
	// [header]. Zero for the root and for the elements of arrays.
	key span
	// value is the text of the value; for a table or an array of tables made by
	// a header, the header; for one implied by a dotted key, the whole key.
	value span
	data  any    // leaves: string, int64, float64, bool or time.Time
	raw   string // leaves: the text as written, quotes included

	keys  []string // tables: names in file order
	child map[string]*node

	items  []*node // arrays
	tables bool    // array made by [[headers]]

	implied bool // a table that has no header of its own yet
	inline  bool // a table in braces, which no later line may add to
}

func newTable(key, value span) *node {
	return &node{kind: tableNode, key: key, value: value, child: map[string]*node{}}
}

// parseDocument decodes a TOML file and finds where every key and value stands.
// The decoder is BurntSushi/toml; its positions are one a key path, so that the
// elements of an array of tables share the last one, which is why the places
// come from a scanner of our own. The two results must agree.
//
// With a fatal problem the document is nil.
func parseDocument(name string, src []byte) (*node, Problems) {
	d := &document{lines: newLineIndex(name, src)}
	if p, bad := d.unreadable(src); bad {
		return nil, Problems{p}
	}
	if bytes.HasPrefix(src, bom) {
		// Spaces in its stead keep every offset.
		src = slices.Concat([]byte("   "), src[len(bom):])
	}
	root := d.read(src)
	d.problems.Sort()
	if d.problems.Fatal() {
		return nil, d.problems
	}
	return root, d.problems
}

// document is a file while it is read.
type document struct {
	lines    *lineIndex
	problems Problems
}

func (d *document) problem(code string, at span, message string) Problem {
	return Problem{Place: d.lines.place(at.start), start: at.start, end: at.end, Code: code, Message: message}
}

// unreadable finds what makes a file no text at all.
func (d *document) unreadable(src []byte) (Problem, bool) {
	if len(src) > mostSource {
		p := d.problem("too-large", span{}, fmt.Sprintf("the file is larger than %d MiB", mostSource>>20))
		p.Want = fmt.Sprintf("at most %d bytes", mostSource)
		p.Hint = partsOfSite
		return p, true
	}
	if n := 1 + bytes.Count(src, []byte("\n")); n > mostLines {
		p := d.problem("too-large", span{}, fmt.Sprintf("the file has %d lines", n))
		p.Want, p.Hint = fmt.Sprintf("at most %d", mostLines), partsOfSite
		return p, true
	}
	if i := bytes.IndexByte(src, 0); i >= 0 {
		p := d.problem("encoding", span{i, i + 1}, "the file holds a zero byte, so it is not plain text")
		if bytes.HasPrefix(src, []byte("\xff\xfe")) || bytes.HasPrefix(src, []byte("\xfe\xff")) {
			p = d.problem("encoding", span{0, 2}, "the file is UTF-16 text")
		}
		p.Hint = "save the file with the encoding UTF-8"
		return p, true
	}
	if !utf8.Valid(src) {
		i := 0
		for {
			r, n := utf8.DecodeRune(src[i:])
			if r == utf8.RuneError && n == 1 {
				break
			}
			i += n
		}
		p := d.problem("encoding", span{i, i + 1}, fmt.Sprintf("the byte 0x%02x is not UTF-8 text", src[i]))
		p.Hint = "save the file with the encoding UTF-8"
		return p, true
	}
	return Problem{}, false
}

// partsOfSite is the way out for a site that is too large for one file.
const partsOfSite = "describe parts of the site that stand by themselves in files of their own"

// read scans and decodes the text. The decoder stops at its first error; to
// report all, the lines at fault are emptied and the rest is read again. Line
// numbers stay as they are.
func (d *document) read(src []byte) *node {
	lines := bytes.SplitAfter(src, []byte("\n"))
	starts := make([]int, len(lines)+1)
	for i, line := range lines {
		starts[i+1] = starts[i] + len(line)
	}
	for reported := -1; len(d.problems) < mostSyntax; {
		text := src
		if reported >= 0 {
			text = bytes.Join(lines, nil)
		}
		s := scan(text)
		var data map[string]any
		f, found := findFault(s, func(text []byte) error { return decode(text, &data) })
		if !found {
			if reported < 0 {
				d.agree(s.root, data, "the document")
			}
			return s.root
		}
		x := newLineIndex("", text)
		line := x.line(f.at.start)
		if line <= reported {
			break
		}
		reported = line
		original := func(offset int) int {
			i := x.line(offset)
			// A header that was mended is longer than the one in the file.
			return min(starts[i]+offset-x.starts[i], starts[i+1])
		}
		p := d.problem(f.code, span{original(f.at.start), original(f.at.end)}, f.message)
		p.Want, p.Hint = f.want, f.hint
		if f.also != "" {
			p.Also = []Note{{d.lines.place(original(f.second)), f.also}}
		}
		d.problems = append(d.problems, p)
		if f.code == "nesting" || f.code == "too-large" {
			break
		}
		emptyFault(lines, x.line(s.statement(f.at.start)), line, x.line(f.until), f.instead)
	}
	return nil
}

// decode is toml.Decode with the decoder's own panics as errors.
func decode(src []byte, into *map[string]any) (err error) {
	defer func() {
		if r := recover(); r != nil {
			err = fmt.Errorf("%v", r)
		}
	}()
	_, err = toml.Decode(string(src), into)
	return err
}

// agree hands the decoded values to the leaves and checks that both readings
// of the file have the same shape.
func (d *document) agree(n *node, data any, path string) {
	differ := func(why string) {
		p := d.problem("internal", n.value, fmt.Sprintf("internal error: two readings of %s differ: %s", path, why))
		p.Hint = "a name that is a list in one place and a table in another confuses the decoder; else please report this file"
		d.problems = append(d.problems, p)
	}
	switch data := data.(type) {
	case map[string]any:
		if n.kind != tableNode || len(data) != len(n.keys) {
			differ(fmt.Sprintf("a table of %d keys, %v of %d", len(data), n.kind, len(n.keys)))
			return
		}
		for _, k := range n.keys {
			v, ok := data[k]
			if !ok {
				differ(fmt.Sprintf("%q is in one only", k))
				return
			}
			d.agree(n.child[k], v, strconv.Quote(k))
		}
	case []map[string]any:
		if n.kind != arrayNode || len(data) != len(n.items) {
			differ(fmt.Sprintf("a list of %d tables, %v of %d", len(data), n.kind, len(n.items)))
			return
		}
		for i, item := range n.items {
			d.agree(item, data[i], path)
		}
	case []any:
		if n.kind != arrayNode || len(data) != len(n.items) {
			differ(fmt.Sprintf("a list of %d, %v of %d", len(data), n.kind, len(n.items)))
			return
		}
		for i, item := range n.items {
			d.agree(item, data[i], path)
		}
	default:
		if n.kind != leafNode {
			differ(fmt.Sprintf("a single value, %v", n.kind))
			return
		}
		n.data = data
	}
}

// scanner finds the places. It reads a superset of TOML: whatever the decoder
// accepts it accepts too, and what it cannot read the decoder cannot either.
type scanner struct {
	src        []byte
	pos        int // after a failure, where
	root       *node
	statements []int   // where each header and each pair outside braces begins
	open       []int   // the brackets open at pos
	quote      int     // where the last string begins
	faults     []fault // what can be read but must not be
	room       int     // taken so far, in thirds of a key
	beyond     *fault  // the limit at which the scan stopped
}

// part is one name of a dotted key.
type part struct {
	at   span
	name string
}

// scan reads the whole text, or up to the first thing it cannot read.
func scan(src []byte) *scanner {
	s := &scanner{src: src, root: newTable(span{}, span{})}
	s.document()
	return s
}

func (s *scanner) document() {
	table, depth := s.root, 0
	for {
		s.blank()
		if s.pos == len(s.src) || len(s.faults) >= mostFaults {
			return
		}
		s.statements = append(s.statements, s.pos)
		ok := false
		if s.at('[') {
			table, depth, ok = s.header()
		} else {
			ok = s.pair(table, depth)
		}
		if !ok || !s.lineEnd() {
			return
		}
	}
}

func (s *scanner) at(c byte) bool {
	return s.pos < len(s.src) && s.src[s.pos] == c
}

func (s *scanner) accept(c byte) bool {
	if !s.at(c) {
		return false
	}
	s.pos++
	return true
}

func (s *scanner) has(prefix string) bool {
	return bytes.HasPrefix(s.src[s.pos:], []byte(prefix))
}

// until moves to the next byte of the set, or to the end.
func (s *scanner) until(set string) {
	if i := bytes.IndexAny(s.src[s.pos:], set); i >= 0 {
		s.pos += i
	} else {
		s.pos = len(s.src)
	}
}

// space skips spaces and tabs.
func (s *scanner) space() {
	for s.at(' ') || s.at('\t') {
		s.pos++
	}
}

// blank skips spaces, line ends and comments.
func (s *scanner) blank() {
	for s.pos < len(s.src) {
		switch s.src[s.pos] {
		case ' ', '\t', '\r', '\n':
			s.pos++
		case '#':
			s.until("\n")
		default:
			return
		}
	}
}

// lineEnd skips the rest of a line, which may hold only a comment.
func (s *scanner) lineEnd() bool {
	s.space()
	if s.at('#') {
		s.until("\n")
	}
	s.accept('\r')
	return s.pos == len(s.src) || s.accept('\n')
}

// name reads one part of a key.
func (s *scanner) name() (part, bool) {
	start := s.pos
	switch {
	case s.at('"'), s.at('\''):
		if !s.quoted() {
			return part{}, false
		}
		p := part{span{start, s.pos}, unquote(string(s.src[start:s.pos]))}
		if p.name == "" {
			// The decoder loses values beside such a name.
			s.faults = append(s.faults, fault{at: p.at, code: "syntax", message: "a name is empty"})
		}
		return p, true
	}
	for s.pos < len(s.src) && bareKey(s.src[s.pos]) {
		s.pos++
	}
	return part{span{start, s.pos}, string(s.src[start:s.pos])}, s.pos > start
}

func bareKey(c byte) bool {
	return 'a' <= c && c <= 'z' || 'A' <= c && c <= 'Z' || '0' <= c && c <= '9' || c == '_' || c == '-'
}

// names reads a dotted key, which stands at depth.
func (s *scanner) names(depth int) ([]part, bool) {
	var parts []part
	for {
		s.space()
		p, ok := s.name()
		if !ok {
			return nil, false
		}
		parts = append(parts, p)
		if s.deep(depth + len(parts)) {
			return nil, false
		}
		s.space()
		if !s.accept('.') {
			return parts, true
		}
	}
}

// deep stops the scan beyond the permitted nesting.
func (s *scanner) deep(depth int) bool {
	if depth > mostNested {
		s.stop("nesting", "tables and lists are nested too deeply", fmt.Sprintf("at most %d inside one another", mostNested), "")
	}
	return s.beyond != nil
}

// Room that what is read takes in memory, in thirds of a key with a single value.
const (
	roomOfEntry = 2
	roomOfName  = 1
	roomOfTable = 6
)

// full stops the scan when the room for keys and values is taken.
func (s *scanner) full(more int) bool {
	if s.room += more; s.room > 3*mostKeys {
		s.stop("too-large", "the file has too many keys and values", fmt.Sprintf("at most %d keys, a table counting as two", mostKeys), partsOfSite)
	}
	return s.beyond != nil
}

// add puts a child into a table that has none of its name.
func (s *scanner) add(table *node, name string, child *node) {
	if len(table.keys) == mostWide {
		s.stop("too-large", fmt.Sprintf("a table has more than %d keys", mostWide), "at most that many", "")
	}
	table.keys = append(table.keys, name)
	table.child[name] = child
}

// stop ends the scan where it is.
func (s *scanner) stop(code, message, want, hint string) {
	if s.beyond == nil {
		s.beyond = &fault{at: span{s.pos, min(s.pos+1, len(s.src))}, code: code, message: message, want: want, hint: hint}
	}
}

// header reads [a.b] or [[a.b]] and gives the table it opens and its depth.
func (s *scanner) header() (*node, int, bool) {
	at := span{start: s.pos}
	s.pos++
	list := s.accept('[')
	parts, ok := s.names(0)
	if !ok || !s.accept(']') || list && !s.accept(']') || s.full(roomOfTable*len(parts)) {
		return nil, 0, false
	}
	at.end = s.pos
	depth := len(parts)
	last := parts[depth-1]

	header := string(s.src[at.start:at.end])

	parent, ok := s.descend(s.root, parts, at, header)
	fresh := newTable(last.at, at)
	if !ok {
		return fresh, depth, true
	}
	old := parent.child[last.name]
	switch {
	case list && old == nil:
		s.add(parent, last.name, &node{kind: arrayNode, key: last.at, value: at, tables: true,
			items: []*node{newTable(span{}, at)}})
	case list && old.tables:
		old.items = append(old.items, newTable(span{}, at))
	case list:
		s.clash(last, old, header)
		return fresh, depth, true
	case old == nil:
		s.add(parent, last.name, fresh)
	case old.implied:
		// Its own header is the better place to point at.
		old.key, old.value, old.implied = last.at, at, false
	default:
		s.clash(last, old, header)
		return fresh, depth, true
	}
	if s.beyond != nil {
		return nil, 0, false
	}
	next := parent.child[last.name]
	if list {
		next = next.items[len(next.items)-1]
	}
	return next, depth, true
}

// descend walks from a table along all parts but the last and makes the
// tables that are only implied.
func (s *scanner) descend(table *node, parts []part, whole span, header string) (*node, bool) {
	for _, p := range parts[:len(parts)-1] {
		next := table.child[p.name]
		switch {
		case next == nil:
			next = newTable(p.at, whole)
			next.implied = true
			s.add(table, p.name, next)
		case next.tables:
			next = next.items[len(next.items)-1]
		case next.kind != tableNode || next.inline:
			s.clash(p, next, header)
			return nil, false
		}
		table = next
	}
	return table, true
}

// clash records a name, in a header unless that is empty, that stands for
// something else already.
func (s *scanner) clash(second part, old *node, header string) {
	f := fault{at: second.at, code: "duplicate-key", second: old.key.start, also: "first defined here"}
	single := "[" + strings.Trim(header, "[]") + "]"
	double := "[" + single + "]"
	switch {
	case header == "":
		f.message = fmt.Sprintf("%q is defined twice", second.name)
		f.hint = "keep one of the two"
	case old.inline:
		f.message = fmt.Sprintf("%s adds to %q, which is complete in its braces", header, second.name)
		f.hint = "put all keys inside the braces, or all under the header"
	case old.tables:
		f.message = fmt.Sprintf("%s has single brackets, but %q is a list of tables", header, second.name)
		f.hint = fmt.Sprintf("write %s with double brackets", double)
		f.instead = double
	case old.kind != tableNode:
		f.message = fmt.Sprintf("%s cannot be a table: %q has a value already", header, second.name)
	case old.implied && strings.HasPrefix(header, "[["):
		above := string(s.src[old.value.start:old.value.end])
		f.message = fmt.Sprintf("%s stands below %s, which is a part of it", header, above)
		f.hint = fmt.Sprintf("move %s and its keys below the %s that it belongs to", above, header)
	case strings.HasPrefix(header, "[["):
		f.message = fmt.Sprintf("%s has double brackets, but %q is one table", header, second.name)
		f.hint = fmt.Sprintf("write %s each time, or only one %s", double, single)
	default:
		f.message = fmt.Sprintf("%s is defined twice", header)
		f.hint = fmt.Sprintf("put its keys under one %s, or write %s each time if there are several", single, double)
	}
	s.faults = append(s.faults, f)
}

// statement is where the header or pair that holds the offset begins.
func (s *scanner) statement(offset int) int {
	i, found := slices.BinarySearch(s.statements, offset)
	if !found {
		i--
	}
	if i < 0 {
		return offset
	}
	return s.statements[i]
}

// pair reads key = value into a table at depth.
func (s *scanner) pair(table *node, depth int) bool {
	parts, ok := s.names(depth)
	if !ok || !s.accept('=') || s.full(roomOfName+roomOfTable*(len(parts)-1)) {
		return false
	}
	s.space()
	value, ok := s.value(depth + len(parts))
	if !ok {
		return false
	}
	last := parts[len(parts)-1]
	value.key = last.at
	parent, ok := s.descend(table, parts, span{parts[0].at.start, last.at.end}, "")
	if !ok {
		return true
	}
	if old := parent.child[last.name]; old != nil {
		s.clash(last, old, "")
		return true
	}
	s.add(parent, last.name, value)
	return s.beyond == nil
}

// value reads what stands at depth.
func (s *scanner) value(depth int) (*node, bool) {
	if s.deep(depth) || s.full(roomOfEntry) || s.pos == len(s.src) {
		return nil, false
	}
	start := s.pos
	var n *node
	ok := true
	switch s.src[s.pos] {
	case '[':
		n, ok = s.array(depth)
	case '{':
		n, ok = s.braces(depth)
	case '"', '\'':
		n = &node{kind: leafNode}
		ok = s.quoted()
	default:
		n = &node{kind: leafNode}
		s.until(",]}#\r\n")
		for s.pos > start && (s.src[s.pos-1] == ' ' || s.src[s.pos-1] == '\t') {
			s.pos--
		}
		ok = s.pos > start
	}
	if !ok {
		return nil, false
	}
	n.value = span{start, s.pos}
	if n.kind == leafNode {
		n.raw = string(s.src[start:s.pos])
	}
	return n, true
}

// array reads from [ to ].
func (s *scanner) array(depth int) (*node, bool) {
	n := &node{kind: arrayNode}
	s.open = append(s.open, s.pos)
	s.pos++
	for {
		s.blank()
		if !s.at(']') {
			item, ok := s.value(depth + 1)
			if !ok {
				return nil, false
			}
			n.items = append(n.items, item)
			s.blank()
			if s.accept(',') {
				continue
			}
		}
		return n, s.shut(']')
	}
}

// braces reads from { to }. Like the decoder it lets the table run over
// several lines and end in a comma.
func (s *scanner) braces(depth int) (*node, bool) {
	if s.full(roomOfTable) {
		return nil, false
	}
	n := newTable(span{}, span{})
	n.inline = true
	s.open = append(s.open, s.pos)
	s.pos++
	for {
		s.blank()
		if !s.at('}') {
			if !s.pair(n, depth) {
				return nil, false
			}
			s.blank()
			if s.accept(',') {
				continue
			}
		}
		return n, s.shut('}')
	}
}

// shut closes the innermost bracket. A bracket that is not closed stays open,
// so that a failed scan tells which.
func (s *scanner) shut(c byte) bool {
	if !s.accept(c) {
		return false
	}
	s.open = s.open[:len(s.open)-1]
	return true
}

// quoted skips a string in any of the four forms.
func (s *scanner) quoted() bool {
	s.quote = s.pos
	quote := s.src[s.pos]
	escapes := quote == '"'
	if triple := strings.Repeat(string(quote), 3); s.has(triple) {
		s.pos += 3
		for s.pos < len(s.src) {
			switch {
			case escapes && s.at('\\'):
				s.pos = min(s.pos+2, len(s.src))
			case s.has(triple):
				// Up to two more quotes belong to the text.
				for n := 0; n < 5 && s.accept(quote); n++ {
				}
				return true
			default:
				s.pos++
			}
		}
		return false
	}
	for s.pos++; s.pos < len(s.src) && !s.at('\n'); s.pos++ {
		switch {
		case s.at(quote):
			s.pos++
			return true
		case escapes && s.at('\\') && !bytes.HasPrefix(s.src[s.pos+1:], []byte("\n")):
			s.pos++
		}
	}
	s.pos = min(s.pos, len(s.src))
	return false
}

// unquote reads a quoted key of one line.
func unquote(text string) string {
	body := text[1 : len(text)-1]
	if text[0] == '\'' || !strings.Contains(body, `\`) {
		return body
	}
	var b strings.Builder
	for i := 0; i < len(body); i++ {
		if body[i] != '\\' || i+1 == len(body) {
			b.WriteByte(body[i])
			continue
		}
		i++
		digits := 0
		switch c := body[i]; c {
		case 'b':
			b.WriteByte('\b')
		case 't':
			b.WriteByte('\t')
		case 'n':
			b.WriteByte('\n')
		case 'f':
			b.WriteByte('\f')
		case 'r':
			b.WriteByte('\r')
		case 'e':
			b.WriteByte(0x1b)
		case 'x':
			digits = 2
		case 'u':
			digits = 4
		case 'U':
			digits = 8
		default:
			b.WriteByte(c)
		}
		if digits > 0 && i+digits < len(body) {
			// The decoder refuses what is no hexadecimal number.
			r, _ := strconv.ParseUint(body[i+1:i+1+digits], 16, 32)
			b.WriteRune(rune(r))
			i += digits
		}
	}
	return b.String()
}
