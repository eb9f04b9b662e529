package site

import (
	"fmt"
	"os"
	"reflect"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"galefast/internal/catalog"
	"galefast/internal/quantity"
)

// docs/keys.md lists every key of the model file, from the tags that the reader and the schema
// are made from, and from the table of defaults.
func TestKeysReference(t *testing.T) {
	const path = "../../docs/keys.md"
	got := keysReference()
	if os.Getenv("UPDATE_GOLDEN") != "" {
		if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(string(want), got); diff != "" {
		t.Errorf("docs/keys.md is out of date; UPDATE_GOLDEN=1 rewrites it (-want +got):\n%s", diff)
	}
}

func keysReference() string {
	var b strings.Builder
	b.WriteString(`# Every key of the file

Made from the definitions that the program reads a description with; a test keeps it current.
` + "`galefast schema`" + ` prints the same for editors. A quantity is text with its unit. Where a key is
left out, it is taken as the last column says; every such value is listed under Assumptions.

`)
	list := &keyList{b: &b}
	list.table(reflect.TypeFor[File](), "The top of the file", "before the first header", "", "")
	for len(list.later) > 0 {
		next := list.later[0]
		list.later = list.later[1:]
		next()
	}
	b.WriteString(`## Rows of your own

Each has a ` + "`name`" + ` and a ` + "`source`" + `; a row with the name of one that is there replaces it.

`)
	for _, name := range catalog.Tables() {
		fmt.Fprintf(&b, "### [[catalog.%s]]\n\n| key | value | meaning |\n| --- | --- | --- |\n", name)
		for _, c := range catalog.Columns(name) {
			value := string(c.Kind)
			if len(c.OneOf) > 0 {
				value = codes(c.OneOf)
			}
			if c.Required {
				value += ", required"
			}
			row(&b, "`"+c.Key+"`", value, c.Doc)
		}
		b.WriteString("\n")
	}
	b.WriteString("## Units\n\n| kind | units |\n| --- | --- |\n")
	for _, k := range quantity.Kinds() {
		if words, ok := kinds[k]; ok {
			row(&b, words.name, codes(quantity.Units(k))+", as in "+codes(words.samples))
		}
	}
	fmt.Fprintf(&b, `
## How much a file may hold

More than this is refused like any other fault, with its place. A site of 10,000 pieces keeps within it.

| what | at most |
| --- | --- |
| size of the file | %d MiB |
| lines | %d |
| keys, a table counting as two | %d |
| keys of one table | %d |
| tables of one kind, as `+"`[[column]]` or `[[lamp]]`"+` | %d |
| sections of a column | %d |
| pieces fastened to each other with strengths, each section counting as one | %d |
| parts of a piece, rows of one catalog table | %d |
| other lists, as the points of a way | %d values |
| tables and lists inside one another | %d |
| cords plugged one into the other | %d |
| cords on one supply | %d |
| a name or any other text | %d characters |

A file is UTF-8 text. A name or any other text stands on one line and holds what can be seen: letters of any
script, digits, punctuation, signs. Control characters, marks of direction, joiners and other characters
without a look are refused, since two names could look the same; a space of another width is a space.
In what is printed a name is only ever a name: `+"`<`, `|` or `=`"+` in it do nothing.
`, mostSource>>20, mostLines, mostKeys, mostWide, mostTables, mostSections, mostFastened, mostParts, mostListed, mostNested, mostInRow, mostOnSupply, MaxText)
	return b.String()
}

// keyList writes the tables one after the other; those in braces come after the table that
// has them.
type keyList struct {
	b     *strings.Builder
	later []func()
}

func row(b *strings.Builder, cells ...string) {
	for i, c := range cells {
		cells[i] = strings.ReplaceAll(c, "|", `\|`)
	}
	fmt.Fprintf(b, "| %s |\n", strings.Join(cells, " | "))
}

func codes(words []string) string {
	quoted := make([]string, len(words))
	for i, w := range words {
		quoted[i] = "`" + w + "`"
	}
	return strings.Join(quoted, ", ")
}

func (l *keyList) table(t reflect.Type, header, doc, path, parent string) {
	fmt.Fprintf(l.b, "## %s\n\n%s.\n\n", header, strings.ToUpper(doc[:1])+doc[1:])
	l.b.WriteString("| key | value | meaning | left out |\n| --- | --- | --- | --- |\n")
	var inner []func()
	for _, f := range fieldsOf(t) {
		o := owner{path: path}
		elem := f.typ
		for k := elem.Kind(); k == reflect.Pointer || k == reflect.Slice || k == reflect.Array && elem != reflect.TypeFor[Point](); k = elem.Kind() {
			elem = elem.Elem()
		}
		left := ""
		if d, ok := DefaultOf(o.key(f.key)); ok {
			left = fmt.Sprintf("%s: %s", d.Value, d.Why)
		} else if _, ok := f.rule("required"); ok {
			left = "required"
		}
		value := f.valueInWords(elem)
		if elem.Kind() == reflect.Struct && !isLeaf(elem) {
			sub, under := f.key, f.key
			switch {
			case f.key == "parts":
				under = "parts"
			case f.typ.Kind() == reflect.Slice && parent != "":
				sub = "[[" + parent + "." + f.key + "]]"
			case f.typ.Kind() == reflect.Slice:
				sub = "[[" + f.key + "]]"
			case parent == "":
				sub, under = "["+f.key+"]", o.key(f.key)
			default:
				sub, under = f.key+" of "+header, o.key(f.key)
			}
			value = "see " + sub
			own := f.key
			if elem == reflect.TypeFor[CatalogTable]() {
				value = "see rows of your own"
			} else if !l.seen(sub) {
				inner = append(inner, func() { l.table(elem, sub, f.doc, under, own) })
			}
		}
		row(l.b, "`"+f.key+"`", value, f.doc, left)
	}
	l.b.WriteString("\n")
	l.later = append(inner, l.later...)
}

func (l *keyList) seen(header string) bool {
	return strings.Contains(l.b.String(), "## "+header+"\n")
}

// valueInWords tells what a value of the key is, with its limits.
func (f field) valueInWords(elem reflect.Type) string {
	var what string
	switch {
	case elem == reflect.TypeFor[Point]():
		what = "position, `" + field{typ: elem}.sample() + "`"
	case elem == reflect.TypeFor[Word]():
		what = "text"
		if words, ok := f.rule("oneof"); ok {
			what = codes(strings.Split(words, "|"))
		}
		if f.row != "" {
			what = "name from `galefast list " + f.row + "`"
		}
	case elem == reflect.TypeFor[Number]():
		what = "number"
	case elem == reflect.TypeFor[Count]():
		what = "whole number"
	case elem == reflect.TypeFor[Flag]():
		what = "`true` or `false`"
	case isLeaf(elem):
		words := kinds[reflect.New(elem).Interface().(interface{ kind() quantity.Kind }).kind()]
		what = words.name
		switch f.bare {
		case "":
		case "1":
			what += ", or a number"
		default:
			what += ", or a number in " + f.bare
		}
		if f.row != "" {
			what += " from `galefast list " + f.row + "`"
		}
	}
	switch f.typ.Kind() {
	case reflect.Array:
		if f.typ != reflect.TypeFor[Point]() {
			what = fmt.Sprintf("list of %d: %s", f.typ.Len(), what)
		}
	case reflect.Slice:
		what = "list of: " + what
	}
	for _, r := range f.rules {
		name, arg, _ := strings.Cut(r, ":")
		switch name {
		case "positive":
			what += ", above zero"
		case "nonnegative":
			what += ", not below zero"
		case "fraction":
			what += ", at most 1"
		case "atleast":
			what += ", at least " + arg
		case "upto":
			what += ", at most " + arg
		}
	}
	return what
}
