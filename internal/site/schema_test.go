package site_test

import (
	"bytes"
	"encoding/json"
	"errors"
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"
	"unicode"
	"unicode/utf8"

	"github.com/BurntSushi/toml"
	"github.com/santhosh-tekuri/jsonschema/v6"
	"pgregory.net/rapid"

	"galefast/internal/catalog"
	"galefast/internal/site"
)

// compiled is the schema, read by a validator of others, which also holds it against the
// schema of schemas.
func compiled(t testing.TB) *jsonschema.Schema {
	t.Helper()
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(site.Schema()))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource("model.json", doc); err != nil {
		t.Fatal(err)
	}
	s, err := c.Compile("model.json")
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// errNoJSON says that a description is no TOML, or has no JSON.
var errNoJSON = errors.New("has no JSON")

// asJSON is a description as an editor hands it to a validator.
func asJSON(src []byte) (any, error) {
	var tree map[string]any
	if err := toml.Unmarshal(src, &tree); err != nil {
		return nil, errors.Join(errNoJSON, err)
	}
	text, err := json.Marshal(plainTimes(tree))
	if err != nil { // nan and inf
		return nil, errors.Join(errNoJSON, err)
	}
	return jsonschema.UnmarshalJSON(bytes.NewReader(text))
}

// plainTimes turns dates into objects, since a text in their place would be a text.
func plainTimes(v any) any {
	switch v := v.(type) {
	case map[string]any:
		for k := range v {
			v[k] = plainTimes(v[k])
		}
	case []any:
		for i := range v {
			v[i] = plainTimes(v[i])
		}
	case []map[string]any:
		for i := range v {
			plainTimes(v[i])
		}
	case time.Time:
		return map[string]any{"date": v.String()}
	}
	return v
}

func TestSchemaAcceptsExamples(t *testing.T) {
	schema := compiled(t)
	files, _ := filepath.Glob("../../testdata/sites/*.toml")
	for _, pattern := range []string{"../../testdata/reference/*.toml", "testdata/forms/*.toml"} {
		more, _ := filepath.Glob(pattern)
		files = append(files, more...)
	}
	if len(files) < 7 {
		t.Fatalf("%d examples", len(files))
	}
	for _, file := range files {
		src, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		doc, err := asJSON(src)
		if err != nil {
			t.Fatal(err)
		}
		if err := schema.Validate(doc); err != nil {
			t.Errorf("%s: %#v", file, err)
		}
		if _, problems := site.Load(file, src); problems.Fatal() {
			t.Errorf("%s is no example: %v", file, problems)
		}
	}
}

// beyondForm are the broken descriptions whose every key, kind of value, unit and word is in
// order, and what is wrong instead.
var beyondForm = map[string]string{
	"catalog-misspelt":   "names that are rows of no catalog table, which a file may add to",
	"cord-fed-by-itself": "a cord that names itself",
	"cord-ring":          "cords that feed each other",
	"duplicate-names":    "two things of one name",
	"gust-order":         "one speed above another",
	"leaf-too-wide":      "a leaf wider than its gap",
	"overlap":            "pieces that stand in each other",
	"pair-too-wide":      "two leaves wider than their gap",
	"parts-too-heavy":    "parts that weigh more than the scale said",
	"wrong-reference":    "names of nothing in the file",
}

func TestSchemaRejectsBrokenFiles(t *testing.T) {
	schema := compiled(t)
	seen := 0
	for _, file := range brokenFiles(t) {
		src, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		name := strings.TrimSuffix(filepath.Base(file), ".toml")
		doc, err := asJSON(src)
		if err == nil {
			err = schema.Validate(doc)
		}
		switch reason, ok := beyondForm[name]; {
		case ok && err != nil:
			t.Errorf("%s: %s is no matter of form, and the schema refuses it: %v", name, reason, err)
		case !ok && err == nil:
			t.Errorf("%s is accepted", name)
		case ok:
			seen++
		}
	}
	if seen != len(beyondForm) {
		t.Errorf("%d of %d files beyond form are there: %v", seen, len(beyondForm), slices.Sorted(maps.Keys(beyondForm)))
	}
}

// formCodes are the problems that are a matter of form wherever they turn up.
var formCodes = []string{"unknown-key", "wrong-kind", "wrong-count", "unit-missing", "missing-key", "choice", "empty", "conflict", "quantity", "character"}

// notForm are the exceptions: problems of those codes that no schema can see.
var notForm = []string{
	"follows a unit that is not larger", "is beyond anything", // sizes
	"divides by nothing", "is not below one",
	"lies in column", "lies in wall", // what a name stands for
	"that feeds it on leg", "does not say on which leg",
}

// Descriptions with a slip of a random kind: what the schema refuses the reader refuses, and
// what the reader refuses for its form the schema refuses.
func TestSchemaAgreesWithReader(t *testing.T) {
	schema := compiled(t)
	var trees []string
	for _, pattern := range []string{"../../testdata/sites/*.toml", "testdata/forms/*.toml"} {
		files, _ := filepath.Glob(pattern)
		for _, file := range files {
			src, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			trees = append(trees, string(src))
		}
	}
	refused, sound := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		var tree map[string]any
		if _, err := toml.Decode(rapid.SampledFrom(trees).Draw(t, "file"), &tree); err != nil {
			t.Fatal(err)
		}
		for range rapid.IntRange(1, 2).Draw(t, "slips") {
			slip(t, tree)
		}
		var src bytes.Buffer
		if err := toml.NewEncoder(&src).Encode(tree); err != nil {
			return // a list of values of different kinds, which the encoder does not write
		}
		doc, err := asJSON(src.Bytes())
		if err != nil {
			t.Fatal(err)
		}
		bySchema := schema.Validate(doc)
		_, problems := site.Load("slip.toml", src.Bytes())
		if bySchema == nil {
			sound++
		} else {
			refused++
		}
		if bySchema != nil && !problems.Fatal() {
			t.Fatalf("the reader takes this and the schema does not: %v\n%s", bySchema, src.Bytes())
		}
		if bySchema != nil {
			return
		}
		for _, p := range problems {
			if slices.Contains(formCodes, p.Code) && !slices.ContainsFunc(notForm, func(s string) bool { return strings.Contains(p.Message, s) }) &&
				!strings.HasSuffix(p.Message, ".0") { // 2.0 is a whole number in JSON
				t.Fatalf("the schema takes this and the reader does not: %v\n%s", p, src.Bytes())
			}
		}
	})
	if refused == 0 || sound == 0 {
		t.Errorf("%d refused and %d taken; the slips show nothing", refused, sound)
	}
}

// slip changes one thing in one table of the tree.
func slip(t *rapid.T, tree map[string]any) {
	tables := tablesOf(tree)
	table := tables[rapid.IntRange(0, len(tables)-1).Draw(t, "table")]
	other := tables[rapid.IntRange(0, len(tables)-1).Draw(t, "other")]
	keys, otherKeys := slices.Sorted(maps.Keys(table)), slices.Sorted(maps.Keys(other))
	if len(keys) == 0 || len(otherKeys) == 0 {
		return
	}
	key, otherKey := rapid.SampledFrom(keys).Draw(t, "key"), rapid.SampledFrom(otherKeys).Draw(t, "other key")
	switch rapid.IntRange(0, 5).Draw(t, "slip") {
	case 0:
		delete(table, key)
	case 1:
		table[otherKey] = copied(other[otherKey])
	case 2:
		table[key] = copied(other[otherKey])
	case 3:
		table[key] = rapid.SampledFrom([]any{"", "  ", "seven", "west\u00a0pier", "a\u202eb", "a\tb", "\U000e0041", "عمود", "👷🏽\ufe0f", strings.Repeat("ö", site.MaxText), strings.Repeat("x", site.MaxText+1), "7 ft", "0 in", "-3 lb", "0 lb", "5 %", "16 AWG", "9 m/s", "us", "round",
			0, 1, 2, 7, -1, 0.5, -0.5, 0.0, true, false, []any{}, []any{"1 ft"}, []any{"1 ft", "2 ft"}, []any{"1 ft", "2 ft", "3 ft"},
			map[string]any{}, map[string]any{"name": "x"}}).Draw(t, "value")
	case 4:
		delete(table, key)
		table[otherKey] = copied(other[otherKey])
	case 5:
		table[rapid.SampledFrom(allKeys).Draw(t, "new key")] = rapid.SampledFrom([]any{"7 ft", "1 m", "2 %", "30 lb", 1, 3, 0.5, true, "generator", "en1991", "asce7-16",
			"rectangle", "round", "square", "C", "II", "base", "toes", []any{}, []any{"1 ft", "2 ft"}}).Draw(t, "new value")
	}
}

// copied keeps a tree from holding itself.
func copied(v any) any {
	switch v := v.(type) {
	case map[string]any:
		c := map[string]any{}
		for k, x := range v {
			c[k] = copied(x)
		}
		return c
	case []map[string]any:
		c := make([]map[string]any, len(v))
		for i, x := range v {
			c[i] = copied(x).(map[string]any)
		}
		return c
	case []any:
		c := make([]any, len(v))
		for i, x := range v {
			c[i] = copied(x)
		}
		return c
	}
	return v
}

// allKeys are the keys of the model file, wherever they belong.
var allKeys = func() []string {
	var tree any
	if err := json.Unmarshal(site.Schema(), &tree); err != nil {
		panic(err)
	}
	keys := map[string]bool{}
	var visit func(v any)
	visit = func(v any) {
		switch v := v.(type) {
		case map[string]any:
			if p, ok := v["properties"].(map[string]any); ok {
				for k := range p {
					keys[k] = true
				}
			}
			for _, x := range v {
				visit(x)
			}
		case []any:
			for _, x := range v {
				visit(x)
			}
		}
	}
	visit(tree)
	return slices.Sorted(maps.Keys(keys))
}()

// tablesOf lists the tables of a tree in a fixed order.
func tablesOf(v any) []map[string]any {
	var list []map[string]any
	switch v := v.(type) {
	case map[string]any:
		list = append(list, v)
		for _, k := range slices.Sorted(maps.Keys(v)) {
			list = append(list, tablesOf(v[k])...)
		}
	case []map[string]any:
		for _, x := range v {
			list = append(list, tablesOf(x)...)
		}
	case []any:
		for _, x := range v {
			list = append(list, tablesOf(x)...)
		}
	}
	return list
}

// The files under testdata/forms have every key of the model, so that the slips above meet
// each of them.
func TestFormsHaveEveryKey(t *testing.T) {
	files, _ := filepath.Glob("testdata/forms/*.toml")
	var all string
	for _, file := range files {
		src, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		all += string(src)
	}
	for _, key := range allKeys {
		if inCatalog[key] {
			continue
		}
		if !regexp.MustCompile(`(?m)(^|[ .\[{])` + key + `( *=|\])`).MatchString(all) {
			t.Errorf("%q stands in no file under testdata/forms; add it to one of them", key)
		}
	}
}

// inCatalog are the keys of rows of the catalog, and the names of its tables.
var inCatalog = func() map[string]bool {
	keys := map[string]bool{"catalog": true}
	for _, table := range catalog.Tables() {
		keys[table] = true
		for _, c := range catalog.Columns(table) {
			keys[c.Key] = true
		}
	}
	return keys
}()

// The pattern of a text refuses the characters that the reader refuses, and no other.
func TestSchemaKnowsHiddenCharacters(t *testing.T) {
	schema := compiled(t)
	var others strings.Builder
	for c := rune(0); c <= unicode.MaxRune; c++ {
		if !utf8.ValidRune(c) {
			continue
		}
		if !site.Hidden(c) {
			others.WriteRune(c)
			continue
		}
		if c%257 > 3 && c > 0xffff {
			continue // there are many of one kind
		}
		if err := schema.Validate(titled("a" + string(c) + "b")); err == nil {
			t.Errorf("the schema takes %U", c)
		}
	}
	all := []rune(others.String())
	for len(all) > 0 {
		n := min(len(all), site.MaxText-2)
		if err := schema.Validate(titled("a" + string(all[:n]) + "b")); err != nil {
			t.Errorf("the schema refuses one of %U to %U: %v", all[0], all[n-1], err)
		}
		all = all[n:]
	}
}

// titled is a description with this title.
func titled(title string) any {
	return map[string]any{
		"title": title, "site": map[string]any{"gust_alone": "9 m/s"},
		"wall": []any{map[string]any{"name": "w", "from": []any{"0 m", "0 m"}, "to": []any{"1 m", "0 m"}, "height": "1 m", "mass": "1 kg"}},
	}
}
