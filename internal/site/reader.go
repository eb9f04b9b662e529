package site

import (
	"errors"
	"fmt"
	"math"
	"reflect"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"
	"unicode"
	"unicode/utf8"

	"galefast/internal/catalog"
	"galefast/internal/quantity"
)

// reader fills the structs of model.go from the document and gathers every
// problem on the way. Nothing that a user can write stops it.
type reader struct {
	file     string
	lines    *lineIndex
	problems Problems
	defaults *defaultLog

	ownFaulty map[string]bool // own rows that were reported and not added, by table and folded name
}

// field is one key of a table, from its struct tags.
type field struct {
	index []int
	key   string
	bare  string
	row   string
	doc   string
	rules []string
	typ   reflect.Type
}

// fieldsOf lists the keys of a table in the order of the struct.
var fieldsOf = func() func(t reflect.Type) []field {
	var cache sync.Map
	return func(t reflect.Type) []field {
		if f, ok := cache.Load(t); ok {
			return f.([]field)
		}
		var fields []field
		for _, v := range reflect.VisibleFields(t) {
			tag := v.Tag
			if key := tag.Get("key"); key != "" {
				f := field{index: v.Index, key: key, bare: tag.Get("bare"), row: tag.Get("row"), doc: tag.Get("doc"), typ: v.Type}
				if is := tag.Get("is"); is != "" {
					f.rules = strings.Split(is, ",")
				}
				fields = append(fields, f)
			}
		}
		cache.Store(t, fields)
		return fields
	}
}()

func (f field) rule(name string) (arg string, ok bool) {
	for _, r := range f.rules {
		if head, tail, _ := strings.Cut(r, ":"); head == name {
			return tail, true
		}
	}
	return "", false
}

// owner names a table in messages: `section "plinth" of column "west pier"`.
type owner struct {
	label string // for messages
	path  string // for defaults, as "section.shape"
	at    span   // where a missing key is reported

	absent bool // the table is not there at all
}

func (o owner) key(k string) string {
	if o.path == "" {
		return k
	}
	return o.path + "." + k
}

func (r *reader) report(at span, code, message, want, hint string) *Problem {
	if r.full() {
		return &Problem{} // of which nobody will hear
	}
	r.problems = append(r.problems, Problem{
		Place: r.lines.place(at.start), start: at.start, end: at.end,
		Code: code, Message: message, Want: want, Hint: hint,
	})
	return &r.problems[len(r.problems)-1]
}

// full reports whether no more problems are gathered.
func (r *reader) full() bool { return len(r.problems) >= mostKept }

// hopeless reports whether there are more problems than anybody is told of, so that what would
// help with one more costs nothing.
func (r *reader) hopeless() bool { return len(r.problems) > mostPrinted }

func (r *reader) place(at span) Place { return r.lines.place(at.start) }

// leaf is a value that reads itself from one node of the document.
type leaf interface {
	read(r *reader, n *node, f field, o owner)
	setDefault(text string, o owner, at Place)
	entry() *Entry
}

func (e *Entry) entry() *Entry { return e }

var leafType = reflect.TypeFor[leaf]()

func isLeaf(t reflect.Type) bool { return reflect.PointerTo(t).Implements(leafType) }

// table reads one table into the struct v.
func (r *reader) table(n *node, v reflect.Value, o owner) {
	o.at = n.key
	if o.at.end <= o.at.start {
		o.at = n.value
	}
	fields := fieldsOf(v.Type())
	keys := slices.Clone(n.keys)
	for _, key := range n.keys {
		if indexOf(fields, key) < 0 {
			// One slip is reported once: a misspelt key is not missing too.
			keys = append(keys, r.unknownKey(n.child[key], key, fields, o))
		}
	}
	v.FieldByName("Table").Set(reflect.ValueOf(Table{At: r.place(o.at), span: o.at, label: o.label, keys: keys}))
	for _, f := range fields {
		child, target := n.child[f.key], v.FieldByIndex(f.index)
		switch {
		case child != nil:
			r.value(child, target, f, o)
		case f.applies(n):
			r.missing(target, f, o, slices.Contains(keys, f.key))
		default:
			r.absent(target, o)
		}
	}
}

// applies reports whether the key means anything in this table: the rule when:key=word
// ties it to the word of another key.
func (f field) applies(n *node) bool {
	arg, ok := f.rule("when")
	if !ok {
		return true
	}
	key, word, _ := strings.Cut(arg, "=")
	other := n.child[key]
	if other == nil {
		return false
	}
	text, _ := other.data.(string)
	return strings.EqualFold(strings.TrimSpace(text), word)
}

func indexOf(fields []field, key string) int {
	for i, f := range fields {
		if f.key == key {
			return i
		}
	}
	return -1
}

// unknownKey reports a key that the table does not have, and gives the one that was
// probably meant.
func (r *reader) unknownKey(n *node, key string, fields []field, o owner) (meant string) {
	long := len(key) > MaxText
	if long {
		key = strings.ToValidUTF8(key[:MaxText], "")
	}
	message := fmt.Sprintf("%s has no key %q", o.label, key)
	if long || r.hopeless() {
		r.report(n.key, "unknown-key", message, "", "")
		return ""
	}
	names := make([]string, len(fields))
	for i, f := range fields {
		names[i] = f.key
	}
	hint := ""
	elsewhere := headersOf(key)
	near := r.nearest(key, names)
	// A plural or the like is a likelier slip than a key under the wrong header.
	slip := len(near) > 0 && (strings.HasPrefix(near[0], key) || strings.HasPrefix(key, near[0]))
	switch {
	case len(elsewhere) > 0 && !slip && elsewhere[0] == topOfFile:
		hint = fmt.Sprintf("%q belongs at the top of the file, before the first header", key)
	case len(elsewhere) > 0 && !slip:
		hint = fmt.Sprintf("%q belongs under %s", key, anyOf(elsewhere))
	case len(near) > 0:
		meant = near[0]
		hint = fmt.Sprintf("did you mean %q?", meant)
	}
	r.report(n.key, "unknown-key", message, "one of "+join(names), hint)
	return meant
}

// otherWords are what builders call things that have another word in the file.
var otherWords = map[string]string{
	"pillar": "column", "post": "column", "pier": "column", "tower": "column", "door": "gate", "leaf": "gate",
	"fence": "wall", "hoarding": "wall", "flat": "wall", "sign": "span", "beam": "span", "banner": "span", "arch": "span",
	"weight": "mass", "sandbag": "ballast", "rope": "guy", "stay": "guy", "path": "way", "entrance": "way",
	"outlet": "supply", "socket": "supply", "generator": "supply", "cable": "cord", "light": "lamp", "lights": "lamp",
	"circle": "round", "circular": "round", "cylinder": "round", "imperial": "us", "metric": "si",
}

// nearest gives the names that a word may have meant, likeliest first. A hopeless file
// gets no more of them: each costs a comparison with every name.
func (r *reader) nearest(word string, names []string) []string {
	if word == "" || r.hopeless() {
		return nil
	}
	if other, ok := otherWords[strings.ToLower(word)]; ok && slices.Contains(names, other) {
		return []string{other}
	}
	if near := catalog.Nearest(word, names); len(near) > 0 {
		return near
	}
	var longer []string
	for _, n := range names {
		if strings.HasPrefix(strings.ToLower(n), strings.ToLower(word)) {
			longer = append(longer, n)
		}
	}
	if len(longer) > 1 {
		return nil
	}
	return longer
}

const topOfFile = "the top of the file"

// headersOf lists the headers under which a key is known, at most three.
func headersOf(key string) []string {
	var headers []string
	var visit func(t reflect.Type, header string)
	visit = func(t reflect.Type, header string) {
		for _, f := range fieldsOf(t) {
			sub := f.typ
			isTable := sub.Kind() == reflect.Struct && !isLeaf(sub)
			if f.key == key && !(header == topOfFile && (isTable || sub.Kind() == reflect.Slice)) {
				headers = append(headers, header)
			}
			path := strings.Trim(header, "[]")
			if header == topOfFile {
				path = ""
			} else {
				path += "."
			}
			if sub.Kind() == reflect.Slice && sub.Elem().Kind() == reflect.Struct && !isLeaf(sub.Elem()) && f.key != "parts" {
				visit(sub.Elem(), "[["+path+f.key+"]]")
			} else if isTable && header == topOfFile {
				visit(sub, "["+path+f.key+"]")
			}
		}
	}
	visit(reflect.TypeFor[File](), topOfFile)
	return headers[:min(len(headers), 3)]
}

// absent says where a value would stand that the file does not give.
func (r *reader) absent(v reflect.Value, o owner) {
	if isLeaf(v.Type()) {
		e := v.Addr().Interface().(leaf).entry()
		e.At, e.span = r.place(o.at), o.at
	}
}

// missing deals with a key that is not there: a problem when it is required, unless it
// is there misspelt; its default when it has one.
func (r *reader) missing(v reflect.Value, f field, o owner, misspelt bool) {
	if _, ok := f.rule("required"); ok && !misspelt {
		hint := f.key + ": " + f.doc
		if o.absent {
			hint = fmt.Sprintf("write a line %s, and %s below it", o.label, f.key)
		}
		r.report(o.at, "missing-key", fmt.Sprintf("%s lacks %q", o.label, f.key), f.example(), hint)
	}
	r.absent(v, o)
	if v.Kind() == reflect.Struct && !isLeaf(v.Type()) {
		// A table that is not there takes the defaults of its keys.
		sub := owner{label: o.sub(f), path: o.key(f.key), at: o.at, absent: true}
		v.FieldByName("Table").Set(reflect.ValueOf(Table{At: r.place(o.at), span: o.at, label: sub.label}))
		if v.Type() != reflect.TypeFor[CatalogTable]() {
			for _, g := range fieldsOf(v.Type()) {
				r.missing(v.FieldByIndex(g.index), g, sub, misspelt)
			}
		}
		return
	}
	if d, ok := DefaultOf(o.key(f.key)); ok && isLeaf(v.Type()) {
		v.Addr().Interface().(leaf).setDefault(d.Value, o, r.place(o.at))
		r.defaults.used(d, o.plain(), r.place(o.at))
	}
}

// plain names the table where no reader needs to find it in the file: a table of which
// there is one by its key alone.
func (o owner) plain() string {
	if strings.HasSuffix(o.label, "]") {
		return o.path[strings.LastIndex(o.path, ".")+1:]
	}
	return o.label
}

// sub names the table under a key in messages.
func (o owner) sub(f field) string {
	if o.path == "" {
		return "[" + f.key + "]"
	}
	return f.key + " of " + o.label
}

func (r *reader) value(n *node, v reflect.Value, f field, o owner) {
	t := v.Type()
	switch {
	case isLeaf(t):
		l := v.Addr().Interface().(leaf)
		l.entry().At, l.entry().span = r.place(n.value), n.value
		if n.kind != leafNode {
			r.report(n.key, "wrong-kind", fmt.Sprintf("%q of %s is %s, not a single value", f.key, o.label, n.kind), f.example(), "")
			return
		}
		l.read(r, n, f, o)
	case t == reflect.TypeFor[CatalogTable]():
		v.FieldByName("Table").Set(reflect.ValueOf(Table{At: r.place(n.key), span: n.key}))
	case t.Kind() == reflect.Pointer:
		v.Set(reflect.New(t.Elem()))
		r.value(n, v.Elem(), f, o)
	case t.Kind() == reflect.Struct:
		if n.kind == arrayNode && n.tables {
			r.report(n.key, "double-brackets", fmt.Sprintf("[[%s]] has double brackets, but there is only one", o.key(f.key)),
				fmt.Sprintf("[%s] once", o.key(f.key)), fmt.Sprintf("write [%s] with single brackets", o.key(f.key)))
			n = n.items[0] // its keys are read all the same
		}
		if n.kind != tableNode {
			r.report(n.key, "wrong-kind", fmt.Sprintf("%q of %s is %s, not a table", f.key, o.label, n.kind), f.example(), "")
			return
		}
		r.table(n, v, owner{label: o.sub(f), path: o.key(f.key)})
	case t.Kind() == reflect.Slice, t.Kind() == reflect.Array:
		r.list(n, v, f, o)
	}
}

// Limits on lists. Every real one is far below. Sections are bodies that may come apart anywhere, and
// finding how takes a time that grows with the cube of their number.
const (
	mostTables   = 20_000 // tables of one kind, as [[column]] or [[lamp]]
	mostSections = 20     // sections of a column
	mostParts    = 500    // other tables within a table, as parts
	mostListed   = 1000   // values
)

// most is how many entries a list may have. A table within another one has a path.
func (o owner) most(key string, tables bool) int {
	switch {
	case !tables:
		return mostListed
	case key == "section":
		return mostSections
	case o.path != "":
		return mostParts
	}
	return mostTables
}

// list reads an array of leaves, points or tables.
func (r *reader) list(n *node, v reflect.Value, f field, o owner) {
	elem := v.Type().Elem()
	isTables := elem.Kind() == reflect.Struct && !isLeaf(elem)
	if n.kind == tableNode && isTables && f.key != "parts" {
		path := o.listPath(f.key)
		message := fmt.Sprintf("[%s] has single brackets, but there can be several", path)
		switch {
		case n.implied:
			message = fmt.Sprintf("there is no [[%s]] above %s", path, r.lines.src[n.value.start:n.value.end])
		case n.inline:
			message = fmt.Sprintf("%q is a table in braces, but there can be several", f.key)
		}
		r.report(n.key, "single-brackets", message, fmt.Sprintf("[[%s]] before the keys of each", path), fmt.Sprintf("write [[%s]] with double brackets", path))
		// Its keys are read all the same, so that their faults show in this run.
		n = &node{kind: arrayNode, key: n.key, value: n.value, items: []*node{{kind: tableNode, value: n.value, keys: n.keys, child: n.child}}}
	}
	if n.kind != arrayNode {
		hint := ""
		if n.kind == leafNode && !isTables && elem != reflect.TypeFor[Point]() && v.Type() != reflect.TypeFor[Point]() {
			values := n.raw
			for k := 1; v.Kind() == reflect.Array && k < v.Len(); k++ {
				values += ", " + n.raw
			}
			hint = fmt.Sprintf("write %s = [%s]", f.key, values)
		}
		r.report(n.key, "wrong-kind", fmt.Sprintf("%q of %s is %s, not a list in brackets", f.key, o.label, n.kind), f.example(), hint)
		return
	}
	if v.Kind() == reflect.Array && len(n.items) != v.Len() {
		r.report(n.value, "wrong-count", fmt.Sprintf("%q of %s has %s", f.key, o.label, plural(len(n.items), "value")), f.example(), "")
		return
	}
	if most := o.most(f.key, isTables); len(n.items) > most {
		r.report(n.key, "range", fmt.Sprintf("there are %d entries of %q in %s", len(n.items), f.key, o.label), fmt.Sprintf("at most %d", most), "")
		return
	}
	if elem == reflect.TypeFor[Point]() && len(n.items) > 0 && n.items[0].kind == leafNode {
		r.report(n.value, "wrong-kind", fmt.Sprintf("%q of %s is one position, not a list of them", f.key, o.label), f.example(),
			fmt.Sprintf("write %s = [%s, ...] with a position in brackets for each point", f.key, r.lines.src[n.value.start:n.value.end]))
		return
	}
	if v.Kind() == reflect.Slice {
		v.Set(reflect.MakeSlice(v.Type(), len(n.items), len(n.items)))
	}
	if _, ok := f.rule("required"); ok && len(n.items) == 0 {
		r.report(n.value, "missing-key", fmt.Sprintf("%q of %s is empty", f.key, o.label), f.example(), "")
	}
	for i, item := range n.items {
		if isTables {
			if item.kind != tableNode {
				r.report(item.value, "wrong-kind", fmt.Sprintf("entry %d of %q of %s is %s, not a table in braces", i+1, f.key, o.label, item.kind), f.example(), "")
				continue
			}
			r.table(item, v.Index(i), o.element(f.key, i, item))
			continue
		}
		// A point within a list has a key of its own only through the list.
		if item.key.end <= item.key.start {
			item.key = item.value
		}
		r.value(item, v.Index(i), f, o)
	}
}

// listPath is the header path of an array of tables.
func (o owner) listPath(key string) string {
	if o.path == "" {
		return key
	}
	return "column." + key // the only nested array of tables is column.section
}

// element is the owner of entry i of an array of tables.
func (o owner) element(key string, i int, n *node) owner {
	kind := strings.TrimSuffix(key, "s")
	label := fmt.Sprintf("%s %d", kind, i+1)
	if name := n.child["name"]; name != nil {
		if s, ok := name.data.(string); ok && s != "" {
			label = fmt.Sprintf("%s %q", kind, s)
		}
	}
	if o.path != "" {
		label += " of " + o.label
	}
	return owner{label: label, path: key}
}

// example is what a key expects, in words, with a line that shows how to write it.
func (f field) example() string {
	if f.key == "section" {
		return "[[column.section]] below it for each section, from the bottom up"
	}
	elem := f.typ
	if k := elem.Kind(); k == reflect.Slice || k == reflect.Array || k == reflect.Pointer {
		elem = elem.Elem()
	}
	if elem.Kind() == reflect.Struct && !isLeaf(elem) && f.key != "parts" && f.typ.Kind() == reflect.Slice {
		return fmt.Sprintf("[[%s]] on a line of its own before the keys of each", f.key)
	}
	what := ""
	switch {
	case f.typ == reflect.TypeFor[Point]():
		what = "a position, east and north"
	case f.typ == reflect.TypeFor[[]Point]():
		what = "a list of positions, each east and north"
	case f.typ.Kind() == reflect.Array:
		what = fmt.Sprintf("%d values", f.typ.Len())
	case f.typ.Kind() == reflect.Slice:
		what = "a list"
	case isLeaf(elem):
		return reflect.New(elem).Interface().(interface{ example(f field) string }).example(f)
	default:
		what = "a table in braces"
	}
	return fmt.Sprintf("%s, as in %s = %s", what, f.key, f.sample())
}

// lead is the key before a sample of its value, unless the value stands in a list.
func (f field) lead() string {
	if isLeaf(f.typ) {
		return f.key + " = "
	}
	return ""
}

// sample is a value of the key as it stands in a file.
func (f field) sample() string {
	if words, ok := f.rule("oneof"); ok {
		word, _, _ := strings.Cut(words, "|")
		return strconv.Quote(word)
	}
	t := f.typ
	switch {
	case t == reflect.TypeFor[Point]():
		return `["4 ft", "0 ft"]`
	case t == reflect.TypeFor[[]Point]():
		return `[["0 ft", "0 ft"], ["4 ft", "0 ft"]]`
	case f.key == "parts":
		return `[ { stock = "2x4", wood = "spf", length = "8 ft", count = 4 } ]`
	case f.key == "between":
		return `["west pier", "east pier"]`
	case isLeaf(t):
		return reflect.New(t).Interface().(interface{ sample(f field) string }).sample(f)
	case t.Kind() == reflect.Pointer:
		t = t.Elem()
	case t.Kind() == reflect.Array || t.Kind() == reflect.Slice:
		f.typ = t.Elem()
		return "[" + f.sample() + ", " + f.sample() + "]"
	}
	// A table shows what it requires, else its first two keys.
	var pairs []string
	for i, g := range fieldsOf(t) {
		if _, required := g.rule("required"); required || i < 2 {
			pairs = append(pairs, g.key+" = "+g.sample())
		}
	}
	return "{ " + join(pairs) + " }"
}

// Measures

// kindWords are how messages speak of a kind: its name for builders, sample texts, and
// the units that are offered for a bare number.
type kindWords struct {
	name    string
	samples []string
	units   []string
}

var kinds = map[quantity.Kind]kindWords{
	"length":                {"length", []string{"28 in", "7 ft 6 1/2 in", "450 mm"}, []string{"in", "ft", "mm", "m"}},
	"mass":                  {"mass", []string{"90 lb", "40 kg"}, []string{"lb", "kg"}},
	"speed":                 {"speed", []string{"35 mph", "15 m/s"}, []string{"mph", "m/s"}},
	"force":                 {"force", []string{"50 lbf", "220 N"}, []string{"lbf", "N"}},
	"angle":                 {"angle", []string{"90 deg"}, []string{"deg"}},
	"area":                  {"area", []string{"15 ft2", "1.4 m2"}, []string{"ft2", "m2"}},
	"ratio":                 {"ratio", []string{"2 %"}, []string{"%"}},
	"current":               {"current", []string{"15 A"}, []string{"A"}},
	"voltage":               {"voltage", []string{"120 V"}, []string{"V"}},
	"power":                 {"power", []string{"60 W"}, []string{"W"}},
	"apparent power":        {"apparent power", []string{"3 kVA"}, []string{"VA", "kVA"}},
	"energy":                {"energy", []string{"500 Wh"}, []string{"Wh", "kWh"}},
	"resistance":            {"resistance", []string{"0.3 ohm"}, []string{"ohm"}},
	"resistance per length": {"resistance per length", []string{"13.3 ohm/km"}, []string{"ohm/km"}},
	"wire area":             {"conductor size", []string{"16 AWG", "1.5 mm2"}, []string{"AWG", "mm2"}},
	"duration":              {"time", []string{"5 h"}, []string{"h", "min"}},
	"temperature":           {"temperature", []string{"86 °F", "30 °C"}, []string{"°F", "°C"}},
	"density":               {"density", []string{"1.25 kg/m3"}, []string{"kg/m3"}},
}

func (m *Measure[Q]) example(f field) string {
	words := kinds[quantity.KindOf[Q]()]
	if f.bare == "1" {
		return fmt.Sprintf("a number or a percentage, as in %s0.4 or \"40 %%\"", f.lead())
	}
	return fmt.Sprintf("%s %s with its unit, as in %s%s", article(words.name), words.name, f.lead(), anyOf(quoteAll(words.samples)))
}

func (m *Measure[Q]) sample(field) string {
	return strconv.Quote(kinds[quantity.KindOf[Q]()].samples[0])
}

func article(word string) string {
	if strings.ContainsRune("aeiou", rune(word[0])) {
		return "an"
	}
	return "a"
}

func (m *Measure[Q]) setDefault(text string, o owner, at Place) {
	// The reader's own defaults are checked by a test; a bad one leaves the value absent.
	if v, err := quantity.Parse[Q](text); err == nil {
		m.V, m.Text, m.At = v, text, at
	}
}

func (m *Measure[Q]) read(r *reader, n *node, f field, o owner) {
	var text string
	switch data := n.data.(type) {
	case string:
		text = data
	case int64, float64:
		text = digits(data)
		if v, ok := data.(float64); ok && (math.IsNaN(v) || math.IsInf(v, 0)) {
			r.report(n.value, "range", fmt.Sprintf("%q of %s is %s, which is no size", f.key, o.label, n.raw), m.example(f), "")
			return
		}
		switch f.bare {
		case "1":
		case "":
			var written []string
			for _, unit := range kinds[quantity.KindOf[Q]()].units {
				written = append(written, fmt.Sprintf("%q", n.raw+" "+unit))
			}
			r.report(n.value, "unit-missing", fmt.Sprintf("%q of %s is the bare number %s", f.key, o.label, n.raw), m.example(f), "write "+anyOf(written))
			return
		default:
			text += " " + f.bare
		}
	default:
		r.wrongKind(n, f, o, m.example(f), "")
		return
	}
	m.Text = text
	v, err := quantity.Parse[Q](text)
	if err != nil {
		r.badQuantity(n, f, o, err, m.example(f), quantity.KindOf[Q]())
		return
	}
	m.Given = true
	m.V = v
	r.checkRange(n, f, o, float64(v), text, func(limit string) (float64, string, bool) {
		q, err := quantity.Parse[Q](limit)
		if us := quantity.Format(q, quantity.US); quantity.KindOf[Q]() == "speed" {
			limit += " (" + us + ")"
		}
		return float64(q), limit, err == nil
	})
}

// digits writes a number of the document in plain digits: TOML also has signs,
// underscores, powers of ten and other bases.
func digits(data any) string {
	if v, ok := data.(float64); ok {
		return strconv.FormatFloat(v, 'f', -1, 64)
	}
	return fmt.Sprint(data)
}

// jacket is the marking of a cord: its size and the number of conductors.
var jacket = regexp.MustCompile(`^([0-9]{1,2}) *[/-] *[0-9]{1,2}$`)

// badQuantity reports a text that is no quantity, with the caret under the part
// that is wrong when the text stands in the file as it is.
func (r *reader) badQuantity(n *node, f field, o owner, err error, example string, kind quantity.Kind) {
	var pe *quantity.ParseError
	if !errors.As(err, &pe) {
		r.report(n.value, "quantity", fmt.Sprintf("%q of %s: %v", f.key, o.label, err), example, "")
		return
	}
	at := n.value
	inner, ok := n.data.(string)
	if ok && len(n.raw) == len(inner)+2 && pe.Len > 0 {
		at = span{n.value.start + 1 + pe.Offset, n.value.start + 1 + pe.Offset + pe.Len}
	}
	hint := pe.Hint
	if size := jacket.FindStringSubmatch(strings.TrimSpace(inner)); kind == "wire area" && size != nil {
		hint = fmt.Sprintf("a jacket marked %s has conductors of %s AWG: write \"%s AWG\"", inner, size[1], size[1])
	}
	if hint == "" && strings.Contains(pe.Message, "unit") {
		hint = fmt.Sprintf("units of %s: %s", kinds[kind].name, join(quantity.Units(kind)))
	}
	r.report(at, "quantity", fmt.Sprintf("%q of %s: %s", f.key, o.label, pe.Message), example, hint)
}

// wrongKind reports a value of a kind that the key does not take.
func (r *reader) wrongKind(n *node, f field, o owner, want, hint string) {
	r.report(n.value, "wrong-kind", fmt.Sprintf("%q of %s is %s", f.key, o.label, describe(n)), want, hint)
}

// checkRange applies the rules on size. parse reads a limit in the quantity's own kind.
func (r *reader) checkRange(n *node, f field, o owner, v float64, text string, parse func(string) (v float64, shown string, ok bool)) {
	bad := func(want string) {
		r.report(n.value, "range", fmt.Sprintf("%q of %s is %s", f.key, o.label, text), want, "")
	}
	for _, rule := range f.rules {
		name, arg, _ := strings.Cut(rule, ":")
		switch name {
		case "positive":
			if !(v > 0) {
				bad("more than zero")
			}
		case "nonnegative":
			if v < 0 {
				bad("zero or more")
			}
		case "fraction":
			if v > 1 {
				bad("at most 1")
			}
		case "atleast":
			if limit, shown, ok := parse(arg); ok && v < limit {
				bad("at least " + shown)
			}
		case "upto":
			if limit, shown, ok := parse(arg); ok && v > limit {
				bad("at most " + shown)
			}
		}
	}
}

// Words

func (w *Word) example(f field) string {
	if words, ok := f.rule("oneof"); ok {
		return "one of " + join(quoteAll(strings.Split(words, "|")))
	}
	return fmt.Sprintf("text in quotes, as in %s\"...\"", f.lead())
}

func (w *Word) sample(field) string { return `"..."` }

func (w *Word) setDefault(text string, o owner, at Place) { w.V, w.Text, w.At = text, text, at }

func (w *Word) read(r *reader, n *node, f field, o owner) {
	text, ok := n.data.(string)
	if !ok {
		r.wrongKind(n, f, o, w.example(f), fmt.Sprintf("write %q with quotes", n.raw))
		return
	}
	text, ok = r.plain(n, f.key, o.label, text)
	w.V, w.Text, w.Given = text, text, true
	if !ok {
		return
	}
	if text == "" {
		r.report(n.value, "empty", fmt.Sprintf("%q of %s is empty", f.key, o.label), w.example(f), "")
		return
	}
	if arg, ok := f.rule("oneof"); ok {
		words := strings.Split(arg, "|")
		for _, word := range words {
			if strings.EqualFold(word, text) {
				w.V = word
				return
			}
		}
		hint := f.key + ": " + f.doc
		if near := r.nearest(text, words); len(near) > 0 {
			hint = fmt.Sprintf("did you mean %q?", near[0])
		}
		r.report(n.value, "choice", fmt.Sprintf("%q of %s is %q", f.key, o.label, text), w.example(f), hint)
	}
}

// MaxText is the longest name or text, in characters; longer ones break every table.
const MaxText = 200

// plain is a text of the file without the spaces around it, and whether it can stand in an output:
// what nobody sees, or what moves the text around it, would let two names look the same or a sheet
// show what the file does not say. Spaces of other widths count as spaces.
func (r *reader) plain(n *node, key, label, text string) (string, bool) {
	text = strings.TrimSpace(strings.Map(func(c rune) rune {
		if unicode.Is(unicode.Zs, c) {
			return ' '
		}
		return c
	}, text))
	if i := strings.IndexFunc(text, Hidden); i >= 0 {
		c, _ := utf8.DecodeRuneInString(text[i:])
		r.report(n.value, "character", fmt.Sprintf("%q of %s has the character %U, which cannot be seen", key, label, c),
			"letters, digits, spaces, punctuation and other signs that can be seen, on one line", "delete the character, or write the text anew")
		return strings.Map(func(c rune) rune {
			if Hidden(c) {
				return utf8.RuneError
			}
			return c
		}, text), false
	}
	if count := utf8.RuneCountInString(text); count > MaxText {
		r.report(n.value, "range", fmt.Sprintf("%q of %s has %d characters", key, label, count), fmt.Sprintf("at most %d", MaxText), "")
		return string([]rune(text)[:MaxText]), false
	}
	return text, true
}

// unseen are the characters that no text may have: controls and line breaks, marks of direction, joiners,
// fillers and tags, and those that mean what each program likes. Signs that follow a letter to change
// its looks are not among them.
var unseen = &unicode.RangeTable{
	R16: []unicode.Range16{
		{0x00, 0x1f, 1}, {0x7f, 0x9f, 1}, {0xad, 0xad, 1}, {0x34f, 0x34f, 1}, {0x61c, 0x61c, 1}, {0x115f, 0x1160, 1},
		{0x17b4, 0x17b5, 1}, {0x180e, 0x180e, 1}, {0x200b, 0x200f, 1}, {0x2028, 0x202e, 1}, {0x2060, 0x206f, 1},
		{0x2800, 0x2800, 1}, {0x3164, 0x3164, 1}, {0xe000, 0xf8ff, 1}, {0xfeff, 0xfeff, 1}, {0xffa0, 0xffa0, 1}, {0xfff0, 0xfffb, 1},
	},
	R32:         []unicode.Range32{{0x1d173, 0x1d17a, 1}, {0xe0000, 0xe0fff, 1}, {0xf0000, 0x10ffff, 1}},
	LatinOffset: 3,
}

// Hidden reports whether a character cannot stand in a text of a description.
func Hidden(c rune) bool { return unicode.Is(unseen, c) }

// Numbers, counts, flags

func (m *Number) example(f field) string {
	return fmt.Sprintf("a number, as in %s%s", f.lead(), m.sample(f))
}

func (*Number) sample(f field) string {
	_, fraction := f.rule("fraction")
	if most, ok := f.rule("upto"); fraction || ok && most == "1" {
		return "0.9"
	}
	return "1.5"
}

func (m *Number) setDefault(text string, o owner, at Place) {
	if v, err := strconv.ParseFloat(text, 64); err == nil {
		m.V, m.Text, m.At = v, text, at
	}
}

func (m *Number) read(r *reader, n *node, f field, o owner) {
	m.Text = n.raw
	switch data := n.data.(type) {
	case int64:
		m.V = float64(data)
	case float64:
		m.V = data
	default:
		hint := ""
		if text, ok := n.data.(string); ok {
			if _, err := strconv.ParseFloat(text, 64); err == nil {
				hint = fmt.Sprintf("write %s = %s without quotes", f.key, text)
			}
		}
		r.wrongKind(n, f, o, m.example(f), hint)
		return
	}
	if math.IsNaN(m.V) || math.Abs(m.V) > maxNumber {
		m.V = 0
		r.report(n.value, "range", fmt.Sprintf("%q of %s is %s", f.key, o.label, n.raw), fmt.Sprintf("a number, at most %d", int(maxNumber)), "")
		return
	}
	m.Given = true
	r.checkRange(n, f, o, m.V, n.raw, parseNumber)
}

// maxNumber bounds pure numbers; every factor of the model is far below it.
const maxNumber = 1e6

func parseNumber(s string) (v float64, shown string, ok bool) {
	v, err := strconv.ParseFloat(s, 64)
	return v, s, err == nil
}

func (*Count) example(f field) string { return fmt.Sprintf("a whole number, as in %s4", f.lead()) }

func (*Count) sample(field) string { return "2" }

func (m *Count) setDefault(text string, o owner, at Place) {
	if v, err := strconv.Atoi(text); err == nil {
		m.V, m.Text, m.At = v, text, at
	}
}

func (m *Count) read(r *reader, n *node, f field, o owner) {
	m.Text = n.raw
	v, ok := n.data.(int64)
	if !ok {
		hint := ""
		if text, isText := n.data.(string); isText && digitsOnly(text) {
			hint = fmt.Sprintf("write %s = %s without quotes", f.key, text)
		}
		r.wrongKind(n, f, o, m.example(f), hint)
		return
	}
	if v > maxCount || v < -maxCount {
		r.report(n.value, "range", fmt.Sprintf("%q of %s is %s", f.key, o.label, n.raw), fmt.Sprintf("at most %d", maxCount), "")
		return
	}
	m.V, m.Given = int(v), true
	r.checkRange(n, f, o, float64(v), n.raw, parseNumber)
}

// maxCount bounds whole numbers.
const maxCount = 100_000

func (*Flag) example(f field) string { return fmt.Sprintf("%s = true or %s = false", f.key, f.key) }

func (*Flag) sample(field) string { return "true" }

func (m *Flag) setDefault(text string, o owner, at Place) {
	m.V, m.Text, m.At = text == "true", text, at
}

func (m *Flag) read(r *reader, n *node, f field, o owner) {
	m.Text = n.raw
	v, ok := n.data.(bool)
	if !ok {
		hint := ""
		if text, isText := n.data.(string); isText {
			switch strings.ToLower(text) {
			case "true", "yes", "on":
				hint = fmt.Sprintf("write %s = true without quotes", f.key)
			case "false", "no", "off":
				hint = fmt.Sprintf("write %s = false without quotes", f.key)
			}
		}
		r.wrongKind(n, f, o, m.example(f), hint)
		return
	}
	m.V, m.Given = v, true
}

func digitsOnly(text string) bool {
	return text != "" && strings.Trim(text, "0123456789") == ""
}

// describe says what a value is.
func describe(n *node) string {
	const most = 40
	raw := n.raw
	if len(raw) > most {
		raw = strings.ToValidUTF8(raw[:most], "") + "…"
	}
	switch n.data.(type) {
	case string:
		return "the text " + raw
	case int64, float64:
		return "the number " + raw
	case bool:
		return raw
	}
	return "the date or time " + raw
}

// anyOf joins words for a choice: a, b or c.
func anyOf(words []string) string {
	if len(words) < 2 {
		return join(words)
	}
	return join(words[:len(words)-1]) + " or " + words[len(words)-1]
}

func plural(n int, word string) string {
	if n == 1 {
		return "1 " + word
	}
	return fmt.Sprintf("%d %ss", n, word)
}
