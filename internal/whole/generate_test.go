package whole

import (
	"fmt"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"galefast/internal/catalog"
	"galefast/internal/quantity"
	"galefast/internal/site"
)

// temper is how far a generated description goes.
type temper int

const (
	plain    temper = iota // values that people build with
	odd                    // any size, any unit
	extreme                // the ends of what is allowed, and beyond
	nonsense               // what is no value at all, keys misspelt and said twice
	tempers
)

// generator writes descriptions from the struct tags of the model, so that a new key is tried
// without a word here.
type generator struct {
	*choices
	temper   temper
	grouped  bool // fastenings with strengths, which take long to check
	european bool // by EN 1991, which has keys of its own
	names    map[string][]string
	catalog  *catalog.Catalog
}

// description makes a file. Pieces are few, so that a check takes milliseconds.
func description(c *choices) (*node, *generator) {
	g := &generator{choices: c, names: map[string][]string{}, catalog: catalog.Embedded()}
	g.temper = temper(g.below(int(tempers)))
	g.grouped = g.once(24)
	g.european = g.once(4)
	without := pick(c, [][]string{nil, {"column", "gate", "wall", "span", "ballast", "guy"}, {"supply", "cord", "lamp"}}) // half a site takes less time
	root := &node{table: true}
	fields := keysOf(reflect.TypeFor[site.File]())
	counts := map[string]int{}
	for _, f := range fields {
		key := f.Tag.Get("key")
		if f.Type.Kind() != reflect.Slice {
			continue
		}
		counts[key] = pick(c, most[key])
		switch {
		case slices.Contains(without, key):
			counts[key] = 0
		case g.grouped && key != "column":
			counts[key] = min(counts[key], 1)
		case key == "guy": // what it holds is a group
			counts[key] = 0
		}
	}
	if counts["column"]+counts["wall"]+counts["supply"] == 0 {
		counts[map[bool]string{true: "supply", false: "column"}[slices.Contains(without, "column")]] = 1
	}
	for key, on := range hangsOn {
		if counts[on[0]]+counts[on[1]] == 0 && g.temper < nonsense {
			counts[key] = 0
		}
	}
	if counts["column"] < 2 && g.temper < nonsense {
		counts["span"] = 0
	}
	for _, f := range fields {
		key := f.Tag.Get("key")
		for i := range counts[key] {
			g.names[key] = append(g.names[key], g.name(key, i))
		}
	}
	for _, f := range fields {
		key := f.Tag.Get("key")
		switch {
		case f.Type == reflect.TypeFor[site.CatalogTable]():
			if g.once(4) {
				root.kids = append(root.kids, g.ownRows())
			}
		case f.Type.Kind() == reflect.Slice:
			for i := range counts[key] {
				n := g.table(f.Type.Elem(), key, i, false)
				n.many = true
				root.kids = append(root.kids, n)
			}
		case key == "site" || f.Type.Kind() != reflect.Struct || isLeaf(f.Type) || g.once(3):
			root.kids = append(root.kids, g.value(f, "", key, 0)...)
		}
	}
	return root, g
}

// most is how many tables of a kind a file has.
var most = map[string][]int{
	"column": {1, 0, 1, 0, 2}, "gate": {0, 1, 0, 1}, "wall": {0, 0, 0, 1, 1, 2}, "span": {0, 1, 1}, "ballast": {0, 1, 2},
	"guy": {0, 1}, "way": {0, 1}, "supply": {0, 1, 0, 1, 2}, "cord": {0, 1, 2, 3}, "lamp": {0, 1, 2},
}

// hangsOn are the tables that mean something only beside one of two others.
var hangsOn = map[string][2]string{"gate": {"column", ""}, "ballast": {"column", "wall"}, "guy": {"column", "wall"}, "cord": {"supply", ""}, "lamp": {"supply", ""}}

// together are keys of a table of which exactly one group belongs there.
var together = map[string][][][]string{
	"site":    {{{"ground"}, {"friction"}, {}}, {{}, {"terrain"}}, {{}, {"c_prob"}, {"return_period"}, {"return_period", "c_prob_k", "c_prob_n"}}, {{}, {"z0", "z_min"}, {"c_e"}}},
	"section": {{{"mass"}, {"parts"}}},
	"column":  {{{}, {"weighed"}}},
	"gate":    {{{"mass"}, {"parts"}, {"weighed", "parts"}}, {{}, {"hinge"}}},
	"wall":    {{{"mass"}, {"parts"}, {"weighed"}}, {{"foot"}, {"braces", "foot"}, {"return"}, {"braces"}}, {{}, {"joined"}}},
	"span":    {{{"mass"}, {"parts"}}},
	"parts":   {{{"item", "mass"}, {"stock", "length"}, {"sheet", "size"}, {"block", "size"}, {"pipe", "length"}, {"coat", "area"}}},
	"ballast": {{{"unit"}, {"mass"}}},
	"guy":     {{{"anchor"}, {"pull_tested"}}},
	"hinge":   {{{"heights"}}, {{"screws", "gauge", "length"}, {"bolts", "size"}, {"screws", "size", "length"}}},
	"head":    {{{"screws", "gauge", "length"}, {"bolts", "size"}}},
	"toe":     {{{"screws", "gauge", "length"}, {"bolts", "size"}}},
	"fixing":  {{{"hold"}, {"screws", "gauge", "length", "through"}, {"bolts", "size", "through"}}},
	"cord":    {{{"gauge", "type"}, {"gauge"}, {"ohm_per_km", "ampacity"}}},
	"lamp":    {{{"device"}, {"watts"}, {"amps"}}},
	"require": {{{"lean"}, {}}},
	"lean":    {{{"force", "height"}}},
	"keeper":  {{{"closed"}, {"closed", "open", "hold"}}},
}

// seldom are the tables that make groups.
var seldom = []string{"fixing", "joined"}

// usual are values by table and key, or by key alone.
var usual = map[string][]string{
	"site.gust_alone": {`"8 m/s"`, `"20 mph"`, `"12 kn"`, `"15 m/s"`, `"40 mph"`, `"90 mph"`},
	"site.gust_open":  {`"7 m/s"`, `"15 mph"`, `"0 mph"`},
	"site.friction":   {`0.4`, `"35 %"`, `0.0`}, "site.slope": {`"1 %"`, `"0 %"`, `"8 %"`},
	"site.plan": {"true"}, "site.z0": {`"0.05 m"`}, "site.z_min": {`"2 m"`}, "site.c_o": {"1.1"}, "require.overturning": {"1.5", "2"}, "require.sliding": {"1.5", "1"}, "efficiency": {`"85 %"`}, "supply.depth": {`"50 %"`}, "site.return_period": {"10", "50"},
	"foot": {`"0.9 m"`}, "wall.foot": {`"30 in"`, `"4 in"`}, "section.width": {`"0.6 m"`, `"22 in"`}, "section.height": {`"1.2 m"`, `"7 ft 3 1/2 in"`, `"20 in"`},
	"section.depth": {`"0.5 m"`}, "section.mass": {`"60 kg"`, `"9 lb"`}, "section.corner": {`"20 mm"`}, "section.roughness": {`"0.2 mm"`},
	"joint.bolts": {"4"}, "joint.size": {`"3/8 in"`, `"10 mm"`}, "joint.washer": {`"1 1/2 in"`}, "joint.pattern": {`"14 in"`},
	"gate.width": {`"40 in"`, `"0.9 m"`}, "gate.height": {`"1 m"`, `"40 in"`}, "gate.thickness": {`"1 1/2 in"`}, "gate.clearance": {`"2 in"`},
	"gate.face": {`"east"`, `"west"`, `"north"`}, "gate.open": {`"90 deg"`, `"180 deg"`, `"0 deg"`}, "gate.opens": {`"north"`, `"south"`}, "gate.stop": {`"20 in"`},
	"hinge.heights": {`"10 in"`, `"35 in"`}, "hinge.plate": {`"2 in"`}, "keeper.height": {`"0.5 m"`},
	"bolts": {"1", "2", "4"}, "screws": {"3", "4", "1"}, "gauge": {"9", "10", "8"}, "size": {`"1/4 in"`, `"8 mm"`}, "length": {`"2 1/2 in"`, `"60 mm"`},
	"washer": {`"1 in"`}, "thickness": {`"1 1/2 in"`}, "through": {`"3/4 in"`}, "leaf_thickness": {`"1 1/2 in"`},
	"wall.height": {`"6 ft"`, `"2 m"`}, "wall.underside": {`"2 in"`}, "wall.return": {`"4 ft"`}, "braces.count": {"2", "3"}, "braces.reach": {`"3 ft"`}, "braces.height": {`"4 ft"`},
	"fixing.heights": {`"1 m"`, `"0.4 m"`}, "wall.thickness": {`"2 in"`},
	"span.underside": {`"1 m"`}, "span.face": {`"1.5 m"`, `"18 in"`}, "span.mass": {`"16 lb"`},
	"parts.size": {`"0.5 m"`, `"22 in"`}, "parts.length": {`"1 m"`, `"8 ft"`}, "parts.offset": {`"3 in"`, `"0 in"`}, "parts.height": {`"0.5 m"`}, "parts.count": {"2", "40"},
	"guy.height": {`"1 m"`}, "guy.rope_diameter": {`"3/8 in"`}, "guy.anchor": {`"steel stake 30 in, firm soil"`},
	"way.people": {"30", "0", "2000"}, "way.width": {`"44 in"`}, "way.headroom": {`"80 in"`},
	"volts": {"120", "230", "12", `"240 V"`, "400"}, "breaker": {`"15 A"`, `"16 A"`}, "phases": {"1", "3"}, "gauge wire": {`"16 AWG"`, `"1.5 mm2"`, `"12 AWG"`},
	"cord.length": {`"50 ft"`, `"25 m"`}, "cord.ohm_per_km": {"13.3"}, "cord.layers": {"1"}, "cord.bundle": {"1"}, "gfci_trip": {`"30 mA"`},
	"lamp.watts": {"50", `"1 kW"`, "0"}, "lamp.amps": {"0.5"}, "lamp.inrush": {"20"}, "lamp.min_volts": {"10"}, "lamp.hours": {"5", `"30 min"`},
	"supply.source_ohm": {"0.5"}, "contact_ohm": {"0.01"}, "ambient": {`"30 °C"`, `"95 °F"`}, "rating": {`"60 °C"`, `"90 °C"`}, "altitude": {`"300 m"`},
}

// common are values by kind of quantity.
var common = map[quantity.Kind][]string{
	"length": {`"1 m"`, `"30 in"`, `"7 ft"`}, "mass": {`"20 kg"`, `"40 lb"`}, "ratio": {`"10 %"`, `"0 %"`}, "force": {`"50 lbf"`, `"1 kN"`},
	"angle": {`"0 deg"`, `"30 deg"`}, "area": {`"2 m2"`}, "power": {`"500 W"`}, "current": {`"10 A"`}, "temperature": {`"25 °C"`}, "density": {`"1.2 kg/m3"`},
	"duration": {`"4 h"`}, "energy": {`"2 kWh"`}, "apparent power": {`"3 kVA"`}, "resistance": {`"0.2 ohm"`}, "resistance per length": {`"10 ohm/km"`}, "voltage": {`"230 V"`}, "wire area": {`"2.5 mm2"`},
	"speed": {`"15 m/s"`},
}

// ends are numbers at the edges of reason.
var ends = []string{"0", "1e-9", "1e-6", "0.001", "0.01", "0.1", "10", "100", "1000", "9999", "1e6", "1e9", "-1", "-0", "1e-300", "1e300"}

// noValues are texts in place of a value.
var noValues = []string{
	`""`, `" "`, `0`, `-1`, `1e400`, `nan`, `-inf`, `"NaN m"`, `"1/0 m"`, `true`, `1979-05-27`, `[]`, `{}`, `[[[1]]]`, `{ a.b = 1 }`, `"1 parsec"`, `"1 m 2 m"`, `'''x'''`, `"\u0000"`,
	`"𝟙 m"`, `0x7fffffffffffffff`, `9223372036854775807`, `"` + strings.Repeat("9", 70) + ` m"`, `"1 m`, `[`, `}`, ``, strings.Repeat("[", 70) + strings.Repeat("]", 70), strings.Repeat(`{ a = `, 20) + "1" + strings.Repeat("}", 20),
}

// strange are names that no output may trip over.
var strange = []string{
	"naïve 名前", "=1+1", "a|b", "<script>alert(1)</script>", `a"b\c`, "x\u202ey", "\u001b[31mred", "a\tb\nc", "%d%s%!n", "../../x", strings.Repeat("long ", 60), "-", "#", "*_`[x](y)", "a/b", "\u0000", strings.Repeat("w", 300), "&amp;", "é́́́",
}

func isLeaf(t reflect.Type) bool {
	if t.Kind() != reflect.Struct {
		return false
	}
	_, has := t.FieldByName("Entry")
	return has
}

// keysOf are the fields that are keys, those of embedded structs among them.
func keysOf(t reflect.Type) []reflect.StructField {
	return slices.DeleteFunc(reflect.VisibleFields(t), func(f reflect.StructField) bool { return f.Tag.Get("key") == "" })
}

func (g *generator) name(key string, i int) string {
	if g.temper > plain && g.once(16) {
		return pick(g.choices, strange)
	}
	return fmt.Sprintf("%s %d", key, i)
}

func rule(f reflect.StructField, name string) (arg string, ok bool) {
	for r := range strings.SplitSeq(f.Tag.Get("is"), ",") {
		if head, tail, _ := strings.Cut(r, ":"); head == name {
			return tail, true
		}
	}
	return "", false
}

// table makes the table number i of a kind.
func (g *generator) table(t reflect.Type, key string, i int, nested bool) *node {
	n := &node{key: key, table: true}
	if nested {
		n.inline = g.once(2)
	}
	out, in := map[string]bool{}, map[string]bool{}
	for _, groups := range together[key] {
		if g.temper == nonsense && g.once(8) {
			continue
		}
		for _, keys := range groups {
			for _, k := range keys {
				out[k] = true
			}
		}
		for _, k := range pick(g.choices, groups) {
			in[k] = true
		}
	}
	for _, f := range keysOf(t) {
		k := f.Tag.Get("key")
		_, required := rule(f, "required")
		switch {
		case k == "basis" && g.european:
			n.kids = append(n.kids, &node{key: k, text: `"en1991"`, plain: `"en1991"`})
			continue
		case !g.european && g.temper < nonsense && strings.HasPrefix(f.Tag.Get("doc"), "EN 1991"):
			continue
		case k == "gust_alone" && g.grouped:
			n.kids = append(n.kids, &node{key: k, text: usual["site.gust_alone"][0], plain: usual["site.gust_alone"][0]})
			continue
		case in[k], required:
			if g.temper == nonsense && g.once(30) {
				continue
			}
		case out[k] || !g.once(map[bool]int{true: 10, false: 5}[key == "site"]):
			continue
		}
		if slices.Contains(seldom, k) && !g.grouped {
			continue
		}
		n.kids = append(n.kids, g.value(f, key, k, i)...)
	}
	if g.temper == nonsense && len(n.kids) > 0 && g.once(16) {
		g.slip(n)
	}
	return n
}

// slip makes one of the mistakes that people make with keys.
func (g *generator) slip(n *node) {
	i := g.below(len(n.kids))
	k := n.kids[i]
	switch g.below(5) {
	case 0:
		n.kids = append(n.kids, k)
	case 1:
		n.kids[i] = &node{key: k.key + "s", text: k.text, plain: k.plain, table: k.table, many: k.many, inline: k.inline, kids: k.kids}
	case 2:
		n.kids[i] = &node{key: k.key + ".x", text: k.text, plain: k.plain, table: k.table, many: !k.many, kids: k.kids}
	case 3:
		n.kids = append(n.kids, &node{key: pick(g.choices, []string{`""`, `"a b"`, "é", "a.b.c.d", "x = 1\ny", "[x]\ny", "# comment\nz", "[[catalog.ballast]]\nname", "\ufeffq", "\x00"}), text: "1", plain: "1"})
	case 4:
		n.kids[i] = &node{key: k.key, table: true, many: !k.many, inline: !k.inline, kids: k.kids}
	}
}

// value makes what stands under a key.
func (g *generator) value(f reflect.StructField, table, key string, i int) []*node {
	t := f.Type
	switch {
	case isLeaf(t):
		text := g.single(f, table, key, i)
		return []*node{{key: key, text: g.spoil(f, t, text), plain: text}}
	case t == reflect.TypeFor[site.Point]():
		text := g.point(table, key, i, 0)
		return []*node{{key: key, text: g.spoil(f, t, text), plain: text}}
	case t.Kind() == reflect.Array:
		var parts, spoilt []string
		for range t.Len() {
			text := g.single(f, table, key, i)
			parts, spoilt = append(parts, text), append(spoilt, g.spoil(f, t.Elem(), text))
		}
		return []*node{{key: key, text: list(spoilt), plain: list(parts)}}
	case t.Kind() == reflect.Pointer:
		return []*node{g.table(t.Elem(), key, i, true)}
	case t.Kind() == reflect.Struct:
		return []*node{g.table(t, key, i, table != "")}
	case isLeaf(t.Elem()):
		var parts, spoilt []string
		for k := range g.length(key) {
			text := g.single(f, table, key, i)
			if key == "between" && k < len(g.names["column"]) {
				text = quoted(g.names["column"][k])
			}
			parts, spoilt = append(parts, text), append(spoilt, g.spoil(f, t.Elem(), text))
		}
		return []*node{{key: key, text: list(spoilt), plain: list(parts)}}
	case t.Elem() == reflect.TypeFor[site.Point]():
		var parts, spoilt []string
		for k := range 2 + g.below(3) {
			text := g.point(table, key, i, k)
			parts, spoilt = append(parts, text), append(spoilt, g.spoil(f, t.Elem(), text))
		}
		return []*node{{key: key, text: list(spoilt), plain: list(parts)}}
	}
	var all []*node
	n := 1 + g.below(2)
	inline := g.once(2)
	for k := range n {
		sub := g.table(t.Elem(), key, k, true)
		sub.many, sub.inline = true, inline
		all = append(all, sub)
	}
	return all
}

func list(parts []string) string { return "[" + strings.Join(parts, ", ") + "]" }

// length is how many values a list has.
func (g *generator) length(key string) int {
	if g.temper == nonsense && g.once(8) {
		return g.below(6)
	}
	switch key {
	case "joined":
		return 1
	case "size":
		return 2 + g.below(2)
	}
	return 2
}

// point is a place in plan where things stand clear of each other.
func (g *generator) point(table, key string, i, k int) string {
	x, y := 3*float64(i), 0.0
	switch table + "." + key {
	case "wall.from", "wall.to":
		x, y = 4*float64(i), 4
		if g.grouped {
			x, y = 3*float64(i)+0.5, 0
		}
		if key == "to" {
			x += 2
		}
	case "guy.to":
		y = 2
	case "way.line":
		x, y = 1.5, 6*float64(k)-5
	case "supply.at", "lamp.at", "cord.route":
		x, y = x+float64(k), -2-float64(k)
	}
	if g.temper > plain && g.once(6) {
		x += float64(g.below(64)-32) / 8
		y += float64(g.below(64)-32) / 8
	}
	return fmt.Sprintf(`["%g m", "%g m"]`, x, y)
}

// single is a value that is likely to do.
func (g *generator) single(f reflect.StructField, table, key string, i int) string {
	if i < len(g.names[table]) && key == "name" {
		return quoted(g.names[table][i])
	}
	if names := g.referred(table, key, i); names != nil {
		return quoted(pick(g.choices, names))
	}
	t := f.Type
	for t.Kind() == reflect.Slice || t.Kind() == reflect.Array {
		t = t.Elem()
	}
	if row := f.Tag.Get("row"); row != "" && t == reflect.TypeFor[site.Word]() {
		return quoted(g.row(row))
	}
	if words, ok := rule(f, "oneof"); ok && usual[table+"."+key] == nil {
		return quoted(pick(g.choices, strings.Split(words, "|")))
	}
	for _, values := range [][]string{usual[table+"."+key], usual[key]} {
		if values != nil && !(table == "cord" && key == "gauge") {
			return pick(g.choices, values)
		}
	}
	if table == "cord" && key == "gauge" {
		return pick(g.choices, usual["gauge wire"])
	}
	switch t {
	case reflect.TypeFor[site.Word]():
		return quoted(g.name(key, i))
	case reflect.TypeFor[site.Number]():
		return pick(g.choices, []string{"1.0", "0.5", "0.85"})
	case reflect.TypeFor[site.Count]():
		return pick(g.choices, []string{"1", "2", "3"})
	case reflect.TypeFor[site.Flag]():
		return pick(g.choices, []string{"true", "false"})
	}
	return pick(g.choices, common[kindOf(t)])
}

// kindOf is the kind of a measure.
func kindOf(t reflect.Type) quantity.Kind {
	v, _ := t.FieldByName("V")
	return reflect.Zero(v.Type).Interface().(interface{ Kind() quantity.Kind }).Kind()
}

// referred are the names that a key can refer to, nil for none.
func (g *generator) referred(table, key string, i int) []string {
	var names []string
	switch table + "." + key {
	case "gate.hung_on", "span.between":
		names = g.names["column"]
	case "ballast.in", "guy.from", "wall.joined":
		names = slices.Concat(g.names["column"], g.names["wall"])
	case "ballast.section":
		names = []string{"name 0", "name 1"}
	case "cord.from":
		names = slices.Concat(g.names["supply"], g.names["cord"][:min(i, len(g.names["cord"]))])
	case "lamp.on":
		names = slices.Concat(g.names["cord"], g.names["supply"])
	}
	return names
}

// row is the name of a row of the catalog.
func (g *generator) row(table string) string {
	_, rows, err := g.catalog.Rows(table)
	if err != nil || len(rows) == 0 {
		panic("no rows in " + table) // a fault of the model's tags
	}
	return pick(g.choices, rows)[0]
}

// spoil changes a value as far as the temper goes.
func (g *generator) spoil(f reflect.StructField, t reflect.Type, text string) string {
	if g.temper == plain || !g.once(map[temper]int{odd: 3, extreme: 4, nonsense: 12}[g.temper]) {
		return text
	}
	limit, _ := rule(f, "upto")
	number := func() string {
		switch {
		case g.temper == odd:
			return strconv.FormatFloat(float64(1+g.below(99))*[]float64{0.1, 0.01, 1, 0.001, 10}[g.below(5)], 'g', -1, 64)
		case limit != "" && g.once(4):
			return limit
		}
		return pick(g.choices, ends)
	}
	switch {
	case g.temper == nonsense && g.once(2):
		return pick(g.choices, noValues)
	case t == reflect.TypeFor[site.Count]():
		return pick(g.choices, []string{"1", "0", "7", "-1", "100", "100000", "1000000000", "2.0", "1e3"})
	case t == reflect.TypeFor[site.Number]():
		return number()
	case t == reflect.TypeFor[site.Word](), t == reflect.TypeFor[site.Flag](), t == reflect.TypeFor[site.Point]():
		if g.temper == odd {
			return text
		}
		return quoted(pick(g.choices, strange))
	}
	n := number()
	if strings.ContainsAny(n, " %") {
		return quoted(n)
	}
	if bare := f.Tag.Get("bare"); bare != "" && g.once(2) {
		return n
	}
	kinds := quantity.Kinds()
	kind := kindOf(t)
	if g.temper == nonsense && g.once(3) {
		kind = pick(g.choices, kinds)
	}
	return quoted(n + " " + pick(g.choices, quantity.Units(kind)))
}

// ownRows are rows of the builder's own for a table of the catalog.
func (g *generator) ownRows() *node {
	n := &node{key: "catalog", table: true}
	table := pick(g.choices, catalog.Tables())
	for range 1 + g.below(2) {
		row := &node{key: table, table: true, many: true}
		for _, c := range catalog.Columns(table) {
			if !c.Required && !g.once(3) {
				continue
			}
			text := ""
			switch {
			case len(c.OneOf) > 0:
				text = quoted(pick(g.choices, c.OneOf))
			case c.Kind == catalog.Number:
				text = pick(g.choices, []string{"0.5", "1", "0.9"})
			case c.Kind == catalog.Flag:
				text = "true"
			case c.Kind == catalog.Text:
				text = quoted(g.name(table+" own", g.below(2)))
				if c.Key == "name" && g.once(2) {
					text = quoted(g.row(table))
				}
			default:
				text = quoted(pick(g.choices, []string{"1", "0.02", "30"}) + " " + pick(g.choices, quantity.Units(c.Kind)))
			}
			k := &node{key: c.Key, text: text, plain: text}
			if g.temper >= extreme && g.once(6) {
				k.text = pick(g.choices, noValues)
				if c.Kind != catalog.Text && g.once(2) {
					k.text = quoted(pick(g.choices, ends) + " " + pick(g.choices, append(quantity.Units(c.Kind), "")))
				}
			}
			row.kids = append(row.kids, k)
		}
		n.kids = append(n.kids, row)
	}
	return n
}
