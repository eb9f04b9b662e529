package site

import (
	"bytes"
	"encoding/json"
	"fmt"
	"reflect"
	"slices"
	"strings"
	"unicode/utf16"

	"galefast/internal/catalog"
	"galefast/internal/quantity"
)

// Schema returns the JSON Schema (2020-12) of the model file, for editors and other
// programs. Keys, kinds of value, units, words, limits and defaults come from the structs
// that the reader fills; the rules between keys of one table stand in forms. Whatever it
// refuses the reader refuses too, but for two things: a fixed word in capitals, and a minus
// before zero. Whether names exist, pieces fit and sizes make sense is for the reader alone.
func Schema() []byte {
	s := &schema{defs: map[string]object{}}
	file := s.table(reflect.TypeFor[File](), "")
	whole := append(object{
		{"$schema", "https://json-schema.org/draft/2020-12/schema"},
		{"title", "galefast model file"},
		{"description", "A temporary walk-through structure, as `galefast check` reads it."},
	}, file...)
	var defs object
	for _, name := range s.order {
		defs = append(defs, member{name, s.defs[name]})
	}
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	if err := e.Encode(append(whole, member{"$defs", defs})); err != nil {
		panic(fmt.Sprintf("site: schema: %v", err)) // made of texts and numbers alone: a build fault
	}
	return spelt(b.Bytes())
}

// spelt is JSON with escapes for what nobody would see of it.
func spelt(text []byte) []byte {
	var b bytes.Buffer
	for _, c := range string(text) {
		switch {
		case c == '\n' || !Hidden(c):
			b.WriteRune(c)
		case c > 0xFFFF:
			high, low := utf16.EncodeRune(c)
			fmt.Fprintf(&b, `\u%04x\u%04x`, high, low)
		default:
			fmt.Fprintf(&b, `\u%04x`, c)
		}
	}
	return b.Bytes()
}

// object is a JSON object whose members keep their order.
type object []member

type member struct {
	key   string
	value any
}

func (o object) MarshalJSON() ([]byte, error) {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	b.WriteByte('{')
	for i, m := range o {
		if i > 0 {
			b.WriteByte(',')
		}
		if err := e.Encode(m.key); err != nil {
			return nil, err
		}
		b.WriteByte(':')
		if err := e.Encode(m.value); err != nil {
			return nil, err
		}
	}
	b.WriteByte('}')
	return b.Bytes(), nil
}

// schema gathers the definitions that are referred to, in the order of their first use.
type schema struct {
	defs  map[string]object
	order []string
}

// define returns a reference to a definition, which is made when it is first asked for.
func (s *schema) define(name string, made func() object) object {
	if _, ok := s.defs[name]; !ok {
		s.defs[name] = nil
		s.order = append(s.order, name)
		s.defs[name] = made()
	}
	return object{{"$ref", "#/$defs/" + name}}
}

// table is the schema of one table. path is the one of its defaults.
func (s *schema) table(t reflect.Type, path string) object {
	var properties object
	var required []string
	for _, f := range fieldsOf(t) {
		properties = append(properties, member{f.key, s.field(f, owner{path: path})})
		if f.mustStand() {
			required = append(required, f.key)
		}
	}
	o := object{{"type", "object"}, {"properties", properties}, {"additionalProperties", false}}
	if required != nil {
		o = append(o, member{"required", required})
	}
	if rules := forms()[t]; rules != nil {
		o = append(o, member{"allOf", rules})
	}
	return o
}

// mustStand reports whether the key has to be there: it is required, or a table with a key
// that is.
func (f field) mustStand() bool {
	if _, ok := f.rule("required"); ok {
		return true
	}
	if f.typ.Kind() != reflect.Struct || isLeaf(f.typ) || f.typ == reflect.TypeFor[CatalogTable]() {
		return false
	}
	return slices.ContainsFunc(fieldsOf(f.typ), field.mustStand)
}

// field is the schema of a key: what it means, and what its value may be.
func (s *schema) field(f field, o owner) object {
	about := f.doc
	for _, limit := range f.limitsInWords() {
		about += "; " + limit
	}
	d, hasDefault := DefaultOf(o.key(f.key))
	if hasDefault {
		about += fmt.Sprintf(". Left out, it is taken as %s: %s", d.Value, d.Why)
	}
	out := append(object{{"description", about}}, s.value(f, o)...)
	if hasDefault && isLeaf(f.typ) {
		out = append(out, member{"default", f.jsonDefault(d.Value)})
	}
	return out
}

// limitsInWords are the limits of a quantity, which no schema can express for a text.
func (f field) limitsInWords() []string {
	var words []string
	if f.typ == reflect.TypeFor[Number]() || f.typ == reflect.TypeFor[Count]() {
		return nil
	}
	if limit, ok := f.rule("upto"); ok {
		words = append(words, "at most "+limit)
	}
	if limit, ok := f.rule("atleast"); ok {
		words = append(words, "at least "+limit)
	}
	return words
}

func (f field) jsonDefault(text string) any {
	switch f.typ {
	case reflect.TypeFor[Number](), reflect.TypeFor[Count]():
		return json.Number(text)
	case reflect.TypeFor[Flag]():
		return text == "true"
	}
	return text
}

// value is the schema of a value.
func (s *schema) value(f field, o owner) object {
	t := f.typ
	_, required := f.rule("required")
	switch {
	case t == reflect.TypeFor[CatalogTable]():
		return s.ownRows()
	case t == reflect.TypeFor[Point]():
		return s.define("position", func() object {
			return object{{"description", "a position in plan: east, north"}, {"type", "array"}, {"items", s.measure(field{typ: t.Elem()})}, {"minItems", 2}, {"maxItems", 2}}
		})
	case isLeaf(t):
		return s.leaf(f)
	case t.Kind() == reflect.Pointer:
		f.typ = t.Elem()
		return s.value(f, o)
	case t.Kind() == reflect.Struct:
		path := o.key(f.key)
		return s.define(strings.ReplaceAll(path, ".", "-"), func() object { return s.table(t, path) })
	}
	elem := f
	elem.typ = t.Elem()
	list := object{{"type", "array"}}
	switch tables := elem.typ.Kind() == reflect.Struct && !isLeaf(elem.typ); {
	case tables:
		list = append(list, member{"items", s.define(strings.TrimSuffix(f.key, "s"), func() object { return s.table(elem.typ, f.key) })}, member{"maxItems", o.most(f.key, true)})
	default:
		list = append(list, member{"items", s.value(elem, o)})
		if t.Kind() == reflect.Slice {
			list = append(list, member{"maxItems", o.most(f.key, false)})
		}
	}
	if t.Kind() == reflect.Array {
		return append(list, member{"minItems", t.Len()}, member{"maxItems", t.Len()})
	}
	if required {
		list = append(list, member{"minItems", 1})
	}
	return list
}

// leaf is the schema of a single value.
func (s *schema) leaf(f field) object {
	switch f.typ {
	case reflect.TypeFor[Word]():
		if words, ok := f.rule("oneof"); ok {
			return object{{"type", "string"}, {"enum", strings.Split(words, "|")}}
		}
		text := s.define("text", func() object {
			return object{{"description", "text in quotes, on one line"}, {"type", "string"}, {"pattern", plainPattern(true)}, {"maxLength", MaxText}}
		})
		return append(text, f.examples()...)
	case reflect.TypeFor[Number]():
		return append(append(object{{"type", "number"}}, f.bounds(parseNumber)...), f.most(maxNumber)...)
	case reflect.TypeFor[Count]():
		return append(append(object{{"type", "integer"}}, f.bounds(parseNumber)...), f.most(maxCount)...)
	case reflect.TypeFor[Flag]():
		return object{{"type", "boolean"}}
	}
	return s.measure(f)
}

// most is the general limit of numbers where a key has none of its own.
func (f field) most(limit float64) object {
	_, upto := f.rule("upto")
	_, fraction := f.rule("fraction")
	if upto || fraction {
		return nil
	}
	return object{{"maximum", limit}}
}

// examples are names that the key may take, of a catalog table.
func (f field) examples() object {
	if f.row == "" {
		return nil
	}
	return object{{"examples", rowNames(f.row)}}
}

func rowNames(table string) []string {
	_, rows, err := catalog.Embedded().Rows(table)
	if err != nil {
		panic(fmt.Sprintf("site: %v", err)) // a tag that names no table is a build fault
	}
	names := make([]string, len(rows))
	for i, r := range rows {
		names[i] = r[0]
	}
	return names
}

// bounds are the limits of a number. parse reads a limit in the unit of the number.
func (f field) bounds(parse func(string) (v float64, shown string, ok bool)) object {
	var o object
	for _, rule := range f.rules {
		name, arg, _ := strings.Cut(rule, ":")
		switch name {
		case "positive":
			o = append(o, member{"exclusiveMinimum", 0})
		case "nonnegative":
			o = append(o, member{"minimum", 0})
		case "fraction":
			o = append(o, member{"maximum", 1})
		case "atleast", "upto":
			if limit, _, ok := parse(arg); ok {
				o = append(o, member{map[string]string{"atleast": "minimum", "upto": "maximum"}[name], limit})
			}
		}
	}
	return o
}

// measure is a quantity in quotes, or a bare number where the key names the unit.
func (s *schema) measure(f field) object {
	m := reflect.New(f.typ).Interface().(interface{ kind() quantity.Kind })
	kind := m.kind()
	words := kinds[kind]
	_, positive := f.rule("positive")
	_, unsigned := f.rule("nonnegative")
	name := strings.ReplaceAll(words.name, " ", "-")
	pattern := quantity.Pattern(kind)
	if positive || unsigned {
		name += "-from-zero"
		pattern = quantity.UnsignedPattern(kind)
	}
	text := s.define(name, func() object {
		return object{
			{"description", fmt.Sprintf("%s %s with its unit, one of %s", article(words.name), words.name, join(quantity.Units(kind)))},
			{"type", "string"}, {"pattern", pattern}, {"examples", words.samples},
		}
	})
	if positive {
		above := name
		text = s.define(strings.ReplaceAll(words.name, " ", "-")+"-above-zero", func() object {
			return object{{"$ref", "#/$defs/" + above}, {"not", object{{"pattern", quantity.ZeroPattern(kind)}}}}
		})
	}
	if f.bare == "" {
		return append(text, f.examples()...)
	}
	number := append(object{{"type", "number"}}, f.bounds(func(limit string) (float64, string, bool) {
		one := f.bare
		if one != "1" {
			one = "1 " + one
		}
		unit, err := quantity.ParseKind(kind, one)
		v, wrong := quantity.ParseKind(kind, limit)
		return v / unit, limit, err == nil && wrong == nil
	})...)
	return object{{"anyOf", []object{number, text}}}
}

func (*Measure[Q]) kind() quantity.Kind { return quantity.KindOf[Q]() }

// ownRows is the schema of [[catalog.TABLE]], from the columns of each table.
func (s *schema) ownRows() object {
	var tables object
	for _, name := range catalog.Tables() {
		var properties object
		var required []string
		for _, c := range catalog.Columns(name) {
			properties = append(properties, member{c.Key, append(object{{"description", c.Doc}}, s.cell(c)...)})
			if c.Required {
				required = append(required, c.Key)
			}
		}
		tables = append(tables, member{name, object{{"type", "array"}, {"items", object{
			{"type", "object"}, {"properties", properties}, {"additionalProperties", false}, {"required", required},
		}}, {"maxItems", mostParts}}})
	}
	return object{{"type", "object"}, {"properties", tables}, {"additionalProperties", false}}
}

// cell is the schema of a value in a row of the catalog, where numbers may stand in quotes.
func (s *schema) cell(c catalog.Column) object {
	switch {
	case len(c.OneOf) > 0:
		return object{{"enum", c.OneOf}}
	case c.Kind == catalog.Text:
		name := map[bool]string{true: "row-text", false: "row-remark"}[c.Required]
		return s.define(name, func() object {
			return object{{"type", []string{"string", "number", "boolean"}}, {"pattern", plainPattern(c.Required)}, {"maxLength", MaxText}}
		})
	case c.Kind == catalog.Flag:
		return object{{"enum", []any{true, false, "yes", "no", "true", "false"}}}
	case c.Kind == catalog.Number:
		return object{{"type", []string{"number", "string"}}}
	case c.Kind == "ratio":
		return object{{"type", []string{"number", "string"}}, {"pattern", quantity.Pattern(c.Kind)}}
	}
	return s.define("row-"+strings.ReplaceAll(string(c.Kind), " ", "-"), func() object {
		return object{
			{"description", fmt.Sprintf("%s %s with its unit, one of %s", article(string(c.Kind)), c.Kind, join(quantity.Units(c.Kind)))},
			{"type", "string"}, {"pattern", `^\s*$|` + quantity.Pattern(c.Kind)},
		}
	})
}

// plainPattern matches texts without the characters that nobody sees; with some, only those that
// have more than spaces. The characters stand in it as they are, since writings of them differ between
// the readers of patterns.
func plainPattern(some bool) string {
	class := ""
	for _, r := range unseen.R16 {
		class += runeRange(rune(r.Lo), rune(r.Hi))
	}
	for _, r := range unseen.R32 {
		class += runeRange(rune(r.Lo), rune(r.Hi))
	}
	if !some {
		return "^[^" + class + "]*$"
	}
	return "^[^" + class + "]*[^" + class + `\s][^` + class + "]*$"
}

func runeRange(lo, hi rune) string {
	if lo == hi {
		return string(lo)
	}
	return string(lo) + "-" + string(hi)
}

// The rules between the keys of one table that are a matter of form. A test holds them
// against what the reader says.

func with(keys ...string) object { return object{{"required", keys}} }

func without(keys ...string) object {
	var p object
	for _, k := range keys {
		p = append(p, member{k, false})
	}
	return object{{"properties", p}}
}

func not(o object) object { return object{{"not", o}} }

func anyKey(keys ...string) object {
	list := make([]object, len(keys))
	for i, k := range keys {
		list[i] = with(k)
	}
	return object{{"anyOf", list}}
}

func property(key string, o object) object { return object{{"properties", object{{key, o}}}} }

// is holds of a table whose key has one of the words.
func is(key string, words ...any) object {
	return object{{"properties", object{{key, object{{"enum", words}}}}}, {"required", []string{key}}}
}

func when(condition, then object) object { return object{{"if", condition}, {"then", then}} }

func unless(condition, otherwise object) object {
	return object{{"if", condition}, {"else", otherwise}}
}

// massForm says that a piece has a mass or parts; not both, and neither is needed beside a
// mass from a scale.
func massForm(weighed bool) []object {
	some := property("parts", object{{"minItems", 1}})
	one := []object{with("mass"), append(with("parts"), some...)}
	if weighed {
		one = append(one, with("weighed"))
	}
	return []object{not(append(with("mass", "parts"), some...)), {{"anyOf", one}}}
}

// fastenerForm is what bolts and screws must have beside each other, and what whoever counts
// on them must have besides.
func fastenerForm(kinds, complete []string) []object {
	one := not(with("bolts", "screws"))
	if kinds != nil {
		one = object{{"oneOf", anyKey(kinds...)[0].value}}
	}
	list := []object{one, not(with("gauge", "size")), when(with("bolts"), without("gauge", "length")), when(with("screws"), without("washer"))}
	if complete != nil {
		list = append(list, when(with("bolts"), with(slices.Concat(complete, []string{"size"})...)), when(with("screws"), with(slices.Concat(complete, []string{"length"})...)), when(with("screws"), anyKey("gauge", "size")))
	}
	return list
}

func forms() map[reflect.Type][]object {
	partKinds := []string{"stock", "sheet", "block", "pipe", "coat", "item"}
	part := []object{{{"oneOf", anyKey(partKinds...)[0].value}}}
	sides := func(n int) object { return property("size", object{{"minItems", n}, {"maxItems", n}}) }
	for _, k := range []struct {
		kind        string
		needs, bars []string
		also        object
	}{
		{"stock", []string{"wood", "length"}, []string{"mass", "area", "size"}, nil},
		{"sheet", []string{"size"}, []string{"mass", "wood", "area", "length"}, sides(2)},
		{"block", []string{"size"}, []string{"mass", "wood", "area", "length"}, sides(3)},
		{"pipe", []string{"length"}, []string{"mass", "wood", "area", "size"}, nil},
		{"coat", []string{"area"}, []string{"mass", "wood", "length", "size"}, nil},
		{"item", []string{"mass"}, []string{"wood", "area", "length", "size"}, nil},
	} {
		if k.kind != "block" {
			k.bars = append(k.bars, "covered_by", "heat_release")
		}
		part = append(part, when(with(k.kind), append(with(k.needs...), without(k.bars...)...)))
		if k.also != nil {
			part = append(part, when(with(k.kind), k.also))
		}
	}
	part = append(part, property("offset", object{{"anyOf", []object{{{"maxItems", 0}}, {{"minItems", 2}, {"maxItems", 2}}}}}))

	// The keys of [site] that belong to some bases, by those bases.
	var site []object
	for _, k := range new(Site).basisKeys() {
		of := make([]any, len(k.of))
		for i, b := range k.of {
			of[i] = b
		}
		if !slices.Contains(k.of, "gust") {
			site = append(site, unless(is("basis", of...), without(k.key)))
		} else {
			site = append(site, when(is("basis", "en1991"), without(k.key)))
		}
	}
	site = append(site,
		when(is("basis", "en1991"), property("terrain", object{{"enum", []string{"0", "I", "II", "III", "IV"}}})),
		when(is("basis", "asce7-16", "asce7-22"), property("terrain", object{{"enum", []string{"B", "C", "D"}}})),
		not(with("c_prob", "return_period")),
		property("return_period", object{{"exclusiveMinimum", 1}}),
		object{{"dependentRequired", object{
			{"z0", []string{"z_min"}}, {"z_min", []string{"z0"}}, {"c_prob_k", []string{"return_period"}}, {"c_prob_n", []string{"return_period"}},
		}}},
		when(with("c_e"), without("z0", "z_min", "c_o", "k_i")),
		when(with("reduction"), is("plan", true)),
	)

	supply := []object{
		property("phases", object{{"enum", []int{1, 3}}}),
		when(is("dc", true), not(is("phases", 3))),
		not(with("curve", "trip")),
		when(is("split_phase", true), object{{"allOf", []object{not(is("dc", true)), not(is("phases", 3))}}}),
		when(with("gfci_trip"), not(is("gfci", false))),
	}
	for _, k := range new(Supply).kindKeys() {
		kinds := make([]any, len(k.kinds))
		for i, w := range k.kinds {
			kinds[i] = w
		}
		supply = append(supply, unless(is("kind", kinds...), without(k.key)))
	}

	// Bolts or screws: not both, and of each only what it has.
	fasteners := []object{
		not(with("bolts", "screws")), not(with("gauge", "size")),
		when(with("bolts"), without("gauge", "length")), when(with("screws"), without("washer")),
	}
	described := anyKey("bolts", "screws")
	fastening := append(slices.Clone(fasteners),
		when(with("bolts"), with("size")), when(with("screws"), append(with("length"), anyKey("gauge", "size")...)))

	return map[reflect.Type][]object{
		reflect.TypeFor[File](): {
			anyKey("column", "gate", "wall", "span", "supply", "cord", "lamp"),
			unless(append(property("site", is("basis", "en1991")), with("site")...),
				property("column", object{{"items", property("section", object{{"items", without("roughness", "corner")}})}})),
		},
		reflect.TypeFor[Site](): site,
		reflect.TypeFor[Column](): {
			unless(with("weighed"), property("section", object{{"items", massForm(false)[1]}})),
			property("section", object{{"prefixItems", []object{without("joint")}}}),
		},
		reflect.TypeFor[Section](): {
			massForm(false)[0],
			object{{"if", is("shape", "rectangle")}, {"then", with("depth")}, {"else", without("depth")}},
			unless(is("shape", "round"), without("surface", "roughness")),
			when(is("shape", "round", "hexagon", "octagon"), without("corner")),
		},
		reflect.TypeFor[Part]():      part,
		reflect.TypeFor[Gate]():      massForm(true),
		reflect.TypeFor[Hinge]():     append(slices.Clone(fasteners), property("heights", object{{"anyOf", []object{{{"maxItems", 0}}, {{"minItems", 2}}}}})),
		reflect.TypeFor[Fastening](): append(slices.Clone(fastening), described, with("thickness")),
		reflect.TypeFor[Fixing](): {
			object{{"if", described}, {"then", object{{"allOf", append(slices.Clone(fastening), without("hold"), with("through", "thickness"))}}}, {"else", with("hold")}},
		},
		reflect.TypeFor[Fastening](): fastenerForm([]string{"bolts", "screws"}, []string{"thickness"}),
		reflect.TypeFor[Fixing]():    fastenerForm([]string{"hold", "bolts", "screws"}, []string{"thickness", "through"}),
		reflect.TypeFor[Wall]():      append(massForm(true), object{{"dependentRequired", object{{"fixing", []string{"joined"}}}}}),
		reflect.TypeFor[Span]():      append(massForm(true), property("between", object{{"minItems", 2}, {"maxItems", 2}, {"uniqueItems", true}})),
		reflect.TypeFor[Ballast]():   {not(with("unit", "mass")), anyKey("unit", "mass"), not(with("section", "place"))},
		reflect.TypeFor[Guy]():       {anyKey("anchor", "pull_tested")},
		reflect.TypeFor[Way]():       {property("line", object{{"minItems", 2}})},
		reflect.TypeFor[Supply]():    supply,
		reflect.TypeFor[Cord](): {
			anyKey("gauge", "ohm_per_km"),
			property("route", object{{"anyOf", []object{{{"maxItems", 0}}, {{"minItems", 2}}}}}),
			when(with("layers"), not(is("coiled", false))),
		},
		reflect.TypeFor[Lamp](): {not(with("watts", "amps")), anyKey("watts", "amps", "device")},
	}
}
