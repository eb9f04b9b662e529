package site

import (
	"os"
	"reflect"
	"slices"
	"strings"
	"testing"
)

// keysOf lists the defaults paths of every key of the model, with a new value of its
// field.
func keysOf(t testing.TB) map[string]reflect.Value {
	keys := map[string]reflect.Value{}
	var visit func(typ reflect.Type, path string)
	visit = func(typ reflect.Type, path string) {
		for _, f := range fieldsOf(typ) {
			at := owner{path: path}.key(f.key)
			elem := f.typ
			for elem.Kind() == reflect.Slice || elem.Kind() == reflect.Array || elem.Kind() == reflect.Pointer {
				elem = elem.Elem()
			}
			switch {
			case isLeaf(elem):
				keys[at] = reflect.New(elem)
			case f.typ.Kind() == reflect.Slice:
				visit(elem, f.key)
			default:
				visit(elem, at)
			}
		}
	}
	visit(reflect.TypeFor[File](), "")
	return keys
}

// Rows of defaults.csv that are no keys: checks take them, and a terrain that depends
// on the basis.
var taken = []string{"friction.seated", "assumed.soil", "assumed.rope", "assumed.rope_diameter", "assumed.wood", "assumed.wood_en1995",
	"assumed.joint_frame", "assumed.joint_pattern", "assumed.hinge_mount", "assumed.hinge_plate_width", "assumed.hinge_plate_height", "assumed.power_factor", "assumed.cord_rating", "assumed.source_ohm_us", "assumed.source_ohm_iec",
	"assumed.receptacle", "assumed.contact_ohm", "assumed.inrush_electronic", "assumed.inrush_filament", "assumed.curve", "assumed.rcd", "assumed.altitude", "assumed.depth", "assumed.efficiency", "assumed.idle", "advice.ballast_unit", "site.terrain of en1991"}

func TestDefaults(t *testing.T) {
	keys := keysOf(t)
	for _, d := range Defaults() {
		if d.Value == "" || d.Why == "" || d.Certainty == "" {
			t.Errorf("default %q lacks its value, its reason or its certainty", d.Key)
		}
		if slices.Contains(taken, d.Key) {
			continue
		}
		v, ok := keys[d.Key]
		if !ok {
			t.Errorf("there is no key %q", d.Key)
			continue
		}
		v.Interface().(leaf).setDefault(d.Value, owner{}, Place{})
		if e := v.Interface().(leaf).entry(); e.Text != d.Value || e.Given {
			t.Errorf("default %q of %q was read as %q", d.Value, d.Key, e.Text)
		}
	}
	for _, key := range taken {
		if _, ok := DefaultOf(key); !ok {
			t.Errorf("defaults.csv lacks %q", key)
		}
	}
}

// Each default must pass the rules of its own key, as if the file gave it.
func TestDefaultsPassTheirRules(t *testing.T) {
	src := sample(t)
	for _, d := range Defaults() {
		if slices.Contains(taken, d.Key) {
			continue
		}
		value := `"` + d.Value + `"`
		switch keysOf(t)[d.Key].Interface().(type) {
		case *Number, *Count, *Flag:
			value = d.Value
		}
		path, key := "", d.Key
		if i := strings.LastIndexByte(d.Key, '.'); i >= 0 {
			path, key = d.Key[:i], d.Key[i+1:]
		}
		var text string
		switch path {
		case "":
			text = key + " = " + value + "\n" + src
		case "parts":
			text = strings.Replace(src, `item = "bell"`, `item = "bell", `+key+" = "+value, 1)
		case "require", "require.lean":
			text = src + "\n[" + path + "]\n" + key + " = " + value + "\n"
		case "section":
			shape := ""
			if key == "surface" {
				shape = "shape = \"round\"\n"
			}
			text = strings.Replace(src, "[[column.section]]\n", "[[column.section]]\n"+shape+key+" = "+value+"\n", 1)
		default:
			header := "[[" + path + "]]\n"
			if path == "site" {
				header = "[site]\n"
			}
			text = strings.Replace(src, header, header+key+" = "+value+"\n", 1)
		}
		if text == src {
			t.Errorf("%s: there is no place for it in the sample", d.Key)
			continue
		}
		if f, problems := Load("sample.toml", []byte(text)); f == nil {
			t.Errorf("%s = %s: %v", d.Key, d.Value, problems)
		}
	}
}

// sample has one of every table, and gives nothing that has a default.
func sample(t testing.TB) string {
	src, err := os.ReadFile("testdata/sample.toml")
	if err != nil {
		t.Fatal(err)
	}
	return string(src)
}

// A default is listed once for all the tables that lack the key, and a surface only
// where there is a round section.
func TestAssumptions(t *testing.T) {
	src := sample(t)
	assumed := func(src string) map[string][]string {
		f, problems := Load("sample.toml", []byte(src))
		if f == nil {
			t.Fatal(problems)
		}
		of := map[string][]string{}
		for _, a := range f.Assumptions {
			of[a.Key] = a.Of
		}
		return of
	}
	square := assumed(src)
	if of, listed := square["section.surface"]; listed {
		t.Errorf("a surface is assumed for the square %v", of)
	}
	for key, want := range map[string][]string{
		"units": {"the file"}, "site.slope": {"site"}, "require.overturning": {"require"}, "require.lean.force": {"lean"},
		"gate.clearance": {`gate "leaf"`}, "ballast.count": {"ballast 1"},
	} {
		if !slices.Equal(square[key], want) {
			t.Errorf("%s is assumed for %q, want %q", key, square[key], want)
		}
	}
	round := assumed(strings.Replace(src, "[[column.section]]\n", "[[column.section]]\nshape = \"Round\"\n", 1))
	if want := []string{`section "body" of column "west"`}; !slices.Equal(round["section.surface"], want) {
		t.Errorf("a surface is assumed for %q, want %q", round["section.surface"], want)
	}
}

// Every key of the model has a line that explains it, and a sample that reads back.
func TestSamplesRead(t *testing.T) {
	var visit func(typ reflect.Type)
	seen := map[reflect.Type]bool{}
	visit = func(typ reflect.Type) {
		for _, f := range fieldsOf(typ) {
			if f.doc == "" {
				t.Errorf("key %q of %v has no doc", f.key, typ)
			}
			elem := f.typ
			for elem.Kind() == reflect.Slice || elem.Kind() == reflect.Array || elem.Kind() == reflect.Pointer {
				elem = elem.Elem()
			}
			isTables := elem.Kind() == reflect.Struct && !isLeaf(elem)
			if isTables && !seen[elem] {
				seen[elem] = true
				visit(elem)
			}
			if isTables && f.typ.Kind() == reflect.Slice && f.key != "parts" || elem == reflect.TypeFor[CatalogTable]() || elem == reflect.TypeFor[Site]() {
				continue
			}
			src := []byte(f.key + " = " + f.sample() + "\n")
			doc, problems := parseDocument("x", src)
			if problems.Fatal() {
				t.Errorf("%s does not parse: %v", src, problems)
				continue
			}
			r := &reader{lines: newLineIndex("x", src), defaults: &defaultLog{}, ownFaulty: map[string]bool{}}
			r.value(doc.child[f.key], reflect.New(f.typ).Elem(), f, owner{label: "the sample"})
			if len(r.problems) > 0 {
				t.Errorf("%s is refused: %v", src, r.problems)
			}
		}
	}
	visit(reflect.TypeFor[File]())
}

// One slip is reported once.
func TestMisspeltKeyIsNotMissingToo(t *testing.T) {
	src := sample(t)
	for _, slip := range []struct{ from, to string }{
		{"[site]", "[sites]"}, {"gust_alone", "gust_alnoe"}, {"hung_on", "hungon"}, {"[[column.section]]", "[[column.sections]]"},
		{"volts", "volt"}, {"gauge", "guage"}, {"watts", "wats"}, {"between", "betwen"}, {"anchor", "ancor"},
	} {
		_, problems := Load("x", []byte(strings.Replace(src, slip.from, slip.to, 1)))
		if len(problems) != 1 || problems[0].Code != "unknown-key" || !strings.Contains(problems[0].Hint, "did you mean") {
			t.Errorf("%s for %s: %v", slip.to, slip.from, problems)
		}
	}
}
