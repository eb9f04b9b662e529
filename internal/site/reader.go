package site

import (
	"fmt"
	"math"
	"reflect"
	"strconv"
	"strings"
	"sync"

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
}

// field is one key of a table, from its struct tags.
type field struct {
	index int
	key   string
	bare  string
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
		for i := range t.NumField() {
			tag := t.Field(i).Tag
			if key := tag.Get("key"); key != "" {
				f := field{index: i, key: key, bare: tag.Get("bare"), typ: t.Field(i).Type}
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
}

func (o owner) key(k string) string {
	if o.path == "" {
		return k
	}
	return o.path + "." + k
}

func (r *reader) report(at span, code, message, want, hint string) *Problem {
	r.problems = append(r.problems, Problem{
		Place: r.lines.place(at.start), start: at.start, end: at.end,
		Code: code, Message: message, Want: want, Hint: hint,
	})
	return &r.problems[len(r.problems)-1]
}

func (r *reader) place(at span) Place { return r.lines.place(at.start) }

// leaf is a value that reads itself from one node of the document.
type leaf interface {
	read(r *reader, n *node, f field, o owner)
	setDefault(text string, o owner, at Place)
	entry() *Entry
}

func (e *Entry) entry() *Entry { return e }

var (
	leafType  = reflect.TypeFor[leaf]()
	tableType = reflect.TypeFor[Table]()
)

func isLeaf(t reflect.Type) bool { return reflect.PointerTo(t).Implements(leafType) }

// table reads one table into the struct v.
func (r *reader) table(n *node, v reflect.Value, o owner) {
	o.at = n.key
	if o.at.end <= o.at.start {
		o.at = n.value
	}
	v.FieldByName("Table").Set(reflect.ValueOf(Table{At: r.place(o.at), span: o.at}))
	fields := fieldsOf(v.Type())
	for _, key := range n.keys {
		if indexOf(fields, key) < 0 {
			r.unknownKey(n.child[key], key, fields, o)
		}
	}
	for _, f := range fields {
		child, target := n.child[f.key], v.Field(f.index)
		if child == nil {
			r.missing(target, f, o)
			continue
		}
		r.value(child, target, f, o)
	}
}

func indexOf(fields []field, key string) int {
	for i, f := range fields {
		if f.key == key {
			return i
		}
	}
	return -1
}

func (r *reader) unknownKey(n *node, key string, fields []field, o owner) {
	names := make([]string, len(fields))
	for i, f := range fields {
		names[i] = f.key
	}
	hint := ""
	if near := catalog.Nearest(key, names); len(near) > 0 {
		hint = fmt.Sprintf("did you mean %q?", near[0])
	}
	r.report(n.key, "unknown-key", fmt.Sprintf("%s has no key %q", o.label, key), "one of "+strings.Join(names, ", "), hint)
}

// missing deals with a key that is not there: a problem when it is required, its
// default when it has one.
func (r *reader) missing(v reflect.Value, f field, o owner) {
	if _, ok := f.rule("required"); ok {
		r.report(o.at, "missing-key", fmt.Sprintf("%s lacks %q", o.label, f.key), f.example(), "")
		return
	}
	if v.Kind() == reflect.Struct && !isLeaf(v.Type()) {
		// A table that is not there takes the defaults of its keys.
		at := r.place(o.at)
		v.FieldByName("Table").Set(reflect.ValueOf(Table{At: at, span: o.at}))
		if v.Type() == reflect.TypeFor[CatalogTable]() {
			return
		}
		sub := owner{label: f.key, path: o.key(f.key), at: o.at}
		for _, g := range fieldsOf(v.Type()) {
			r.missing(v.Field(g.index), g, sub)
		}
		return
	}
	if !isLeaf(v.Type()) {
		return
	}
	l := v.Addr().Interface().(leaf)
	l.entry().At, l.entry().span = r.place(o.at), o.at
	if d, ok := DefaultOf(o.key(f.key)); ok {
		l.setDefault(d.Value, o, r.place(o.at))
		r.defaults.used(d, o.label, r.place(o.at))
	}
}

func (r *reader) value(n *node, v reflect.Value, f field, o owner) {
	t := v.Type()
	switch {
	case isLeaf(t):
		if n.kind != leafNode {
			r.report(n.key, "wrong-kind", fmt.Sprintf("%q of %s is %s, not a single value", f.key, o.label, n.kind), f.example(), "")
			return
		}
		v.Addr().Interface().(leaf).read(r, n, f, o)
	case t == reflect.TypeFor[CatalogTable]():
		v.FieldByName("Table").Set(reflect.ValueOf(Table{At: r.place(n.key), span: n.key}))
	case t.Kind() == reflect.Pointer:
		v.Set(reflect.New(t.Elem()))
		r.value(n, v.Elem(), f, o)
	case t.Kind() == reflect.Struct:
		if n.kind != tableNode {
			hint := ""
			if n.kind == arrayNode && n.tables {
				hint = fmt.Sprintf("write [%s] with single brackets, once", o.key(f.key))
			}
			r.report(n.key, "wrong-kind", fmt.Sprintf("%q of %s is %s, not a table", f.key, o.label, n.kind), "a table of keys", hint)
			return
		}
		label := f.key
		if o.path != "" {
			label += " of " + o.label
		}
		r.table(n, v, owner{label: label, path: o.key(f.key)})
	case t.Kind() == reflect.Slice, t.Kind() == reflect.Array:
		r.list(n, v, f, o)
	}
}

// list reads an array of leaves, points or tables.
func (r *reader) list(n *node, v reflect.Value, f field, o owner) {
	elem := v.Type().Elem()
	isTables := elem.Kind() == reflect.Struct && !isLeaf(elem)
	if n.kind != arrayNode {
		if isTables && n.kind == tableNode {
			r.report(n.key, "single-brackets", fmt.Sprintf("[%s] is one table, and there can be several", f.key),
				fmt.Sprintf("[[%s]] for each", o.listPath(f.key)), fmt.Sprintf("write [[%s]] with double brackets", o.listPath(f.key)))
			return
		}
		r.report(n.key, "wrong-kind", fmt.Sprintf("%q of %s is %s, not a list", f.key, o.label, n.kind), f.example(), "")
		return
	}
	if v.Kind() == reflect.Array && len(n.items) != v.Len() {
		r.report(n.value, "wrong-count", fmt.Sprintf("%q of %s has %s", f.key, o.label, plural(len(n.items), "value")),
			fmt.Sprintf("%s: %s", plural(v.Len(), "value"), f.example()), "")
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
				r.report(item.value, "wrong-kind", fmt.Sprintf("entry %d of %q of %s is %s, not a table", i+1, f.key, o.label, item.kind), "a table of keys", "")
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

// example is what a key expects, in words.
func (f field) example() string {
	t, many := f.typ, ""
	switch {
	case t == reflect.TypeFor[Point]():
		return `a position, as in ["4 ft", "0 ft"]`
	case t == reflect.TypeFor[[]Point]():
		return `a list of positions, as in [["0 ft", "0 ft"], ["4 ft", "0 ft"]]`
	case t.Kind() == reflect.Slice || t.Kind() == reflect.Array:
		t, many = t.Elem(), "a list, each "
	}
	if alternatives, ok := f.rule("oneof"); ok {
		return many + "one of " + strings.ReplaceAll(alternatives, "|", ", ")
	}
	if isLeaf(t) {
		if e, ok := reflect.New(t).Interface().(interface{ example(f field) string }); ok {
			return many + e.example(f)
		}
	}
	return many + "a table of keys"
}

// Measures

var examples = map[quantity.Kind]string{
	"length": `"7 ft 6 1/2 in" or "450 mm"`, "mass": `"90 lb" or "40 kg"`, "speed": `"35 mph" or "15 m/s"`,
	"force": `"50 lbf" or "220 N"`, "angle": `"90 deg"`, "area": `"15 ft2" or "1.4 m2"`, "ratio": `"2 %"`,
	"current": `"15 A"`, "voltage": `"120 V"`, "power": `"60 W"`, "wire area": `"16 AWG" or "1.5 mm2"`,
	"duration": `"5 h"`, "temperature": `"86 °F" or "30 °C"`, "density": `"1.25 kg/m3"`,
}

func (m *Measure[Q]) example(f field) string {
	kind := quantity.KindOf[Q]()
	if ex, ok := examples[kind]; ok {
		return fmt.Sprintf("%s %s with its unit, as in %s", article(string(kind)), kind, ex)
	}
	return fmt.Sprintf("%s %s with its unit: %s", article(string(kind)), kind, strings.Join(quantity.Units(kind), ", "))
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
	m.At, m.span = r.place(n.value), n.value
	var text string
	switch data := n.data.(type) {
	case string:
		text = data
	case int64, float64:
		text = digits(data)
		switch {
		case f.bare == "1":
		case f.bare != "":
			text += " " + f.bare
		default:
			hint := ""
			if units := quantity.Units(quantity.KindOf[Q]()); len(units) > 1 {
				hint = fmt.Sprintf("write \"%s %s\" or \"%s %s\"", n.raw, units[0], n.raw, units[1])
			}
			r.report(n.value, "unit-missing", fmt.Sprintf("%q of %s is the bare number %s", f.key, o.label, n.raw), m.example(f), hint)
			return
		}
	default:
		r.report(n.value, "wrong-kind", fmt.Sprintf("%q of %s is %s", f.key, o.label, describe(n.data)), m.example(f), "")
		return
	}
	m.Text = text
	v, err := quantity.Parse[Q](text)
	if err != nil {
		r.badQuantity(n, f, o, err, m.example(f))
		return
	}
	m.Given = true
	m.V = v
	r.checkRange(n, f, o, float64(v), text, func(limit string) (float64, bool) {
		q, err := quantity.Parse[Q](limit)
		return float64(q), err == nil
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

// badQuantity reports a text that is no quantity, with the caret under the part
// that is wrong when the text stands in the file as it is.
func (r *reader) badQuantity(n *node, f field, o owner, err error, example string) {
	pe, ok := err.(*quantity.ParseError)
	if !ok {
		r.report(n.value, "quantity", fmt.Sprintf("%q of %s: %v", f.key, o.label, err), example, "")
		return
	}
	at := n.value
	if inner, ok := n.data.(string); ok && len(n.raw) == len(inner)+2 && pe.Len > 0 {
		at = span{n.value.start + 1 + pe.Offset, n.value.start + 1 + pe.Offset + pe.Len}
	}
	want := pe.Want
	if want == "" {
		want = example
	}
	r.report(at, "quantity", fmt.Sprintf("%q of %s: %s", f.key, o.label, pe.Message), want, pe.Hint)
}

// checkRange applies the rules on size. parse reads a limit in the quantity's own kind.
func (r *reader) checkRange(n *node, f field, o owner, v float64, text string, parse func(string) (float64, bool)) {
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
			if limit, ok := parse(arg); ok && v < limit {
				bad("at least " + arg)
			}
		case "upto":
			if limit, ok := parse(arg); ok && v > limit {
				bad("at most " + arg)
			}
		}
	}
}

// Words

func (w *Word) example(f field) string {
	return fmt.Sprintf("text in quotes, as in %s = \"...\"", f.key)
}

func (w *Word) setDefault(text string, o owner, at Place) { w.V, w.Text, w.At = text, text, at }

func (w *Word) read(r *reader, n *node, f field, o owner) {
	w.At, w.span = r.place(n.value), n.value
	text, ok := n.data.(string)
	if !ok {
		r.report(n.value, "wrong-kind", fmt.Sprintf("%q of %s is %s", f.key, o.label, describe(n.data)), f.example(), "")
		return
	}
	text = strings.TrimSpace(text)
	w.V, w.Text, w.Given = text, text, true
	if text == "" {
		r.report(n.value, "empty", fmt.Sprintf("%q of %s is empty", f.key, o.label), f.example(), "")
		return
	}
	if len(text) > maxWord {
		r.report(n.value, "range", fmt.Sprintf("%q of %s has %d bytes", f.key, o.label, len(text)), fmt.Sprintf("at most %d", maxWord), "")
		w.V = text[:maxWord]
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
		hint := ""
		if near := catalog.Nearest(text, words); len(near) > 0 {
			hint = fmt.Sprintf("did you mean %q?", near[0])
		}
		r.report(n.value, "choice", fmt.Sprintf("%q of %s is %q", f.key, o.label, text), f.example(), hint)
	}
}

// maxWord is the longest name or word, in bytes; longer ones break every table.
const maxWord = 200

// Numbers, counts, flags

func (*Number) example(f field) string { return fmt.Sprintf("a number, as in %s = 1.5", f.key) }

func (m *Number) setDefault(text string, o owner, at Place) {
	if v, err := strconv.ParseFloat(text, 64); err == nil {
		m.V, m.Text, m.At = v, text, at
	}
}

func (m *Number) read(r *reader, n *node, f field, o owner) {
	m.At, m.span, m.Text = r.place(n.value), n.value, n.raw
	switch data := n.data.(type) {
	case int64:
		m.V = float64(data)
	case float64:
		m.V = data
	default:
		r.report(n.value, "wrong-kind", fmt.Sprintf("%q of %s is %s", f.key, o.label, describe(n.data)), f.example(), "")
		return
	}
	if math.IsNaN(m.V) || math.IsInf(m.V, 0) || math.Abs(m.V) > maxNumber {
		m.V = 0
		r.report(n.value, "range", fmt.Sprintf("%q of %s is %s", f.key, o.label, n.raw), fmt.Sprintf("a number up to %g", maxNumber), "")
		return
	}
	m.Given = true
	r.checkRange(n, f, o, m.V, n.raw, parseNumber)
}

// maxNumber bounds pure numbers; every factor of the model is far below it.
const maxNumber = 1e6

func parseNumber(s string) (float64, bool) {
	v, err := strconv.ParseFloat(s, 64)
	return v, err == nil
}

func (*Count) example(f field) string { return fmt.Sprintf("a whole number, as in %s = 4", f.key) }

func (m *Count) setDefault(text string, o owner, at Place) {
	if v, err := strconv.Atoi(text); err == nil {
		m.V, m.Text, m.At = v, text, at
	}
}

func (m *Count) read(r *reader, n *node, f field, o owner) {
	m.At, m.span, m.Text = r.place(n.value), n.value, n.raw
	v, ok := n.data.(int64)
	if !ok {
		r.report(n.value, "wrong-kind", fmt.Sprintf("%q of %s is %s", f.key, o.label, describe(n.data)), f.example(), "")
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

func (m *Flag) setDefault(text string, o owner, at Place) {
	m.V, m.Text, m.At = text == "true", text, at
}

func (m *Flag) read(r *reader, n *node, f field, o owner) {
	m.At, m.span, m.Text = r.place(n.value), n.value, n.raw
	v, ok := n.data.(bool)
	if !ok {
		r.report(n.value, "wrong-kind", fmt.Sprintf("%q of %s is %s", f.key, o.label, describe(n.data)), f.example(), "write it without quotes")
		return
	}
	m.V, m.Given = v, true
}

// describe says what kind of value a leaf is.
func describe(data any) string {
	switch data.(type) {
	case string:
		return "text"
	case int64, float64:
		return "a number"
	case bool:
		return "true or false"
	}
	return "a date or time"
}

func plural(n int, word string) string {
	if n == 1 {
		return "1 " + word
	}
	return fmt.Sprintf("%d %ss", n, word)
}
