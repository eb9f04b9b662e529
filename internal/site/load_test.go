package site

import (
	"bytes"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"
)

// block is the text of one table of the file, with those that belong below it: each
// begins with its header, and has one key a line.
type block [][]string

func (b block) text() string {
	var s strings.Builder
	for _, table := range b {
		s.WriteString(strings.Join(table, "\n") + "\n\n")
	}
	return s.String()
}

func text(blocks []block) string {
	var s strings.Builder
	for _, b := range blocks {
		s.WriteString(b.text())
	}
	return s.String()
}

// builder writes a random description without faults.
type builder struct{ t *rapid.T }

func (b builder) upto(n int) int { return rapid.IntRange(0, n).Draw(b.t, "n") }
func (b builder) pick(from ...string) string {
	return rapid.SampledFrom(from).Draw(b.t, "pick")
}

// between writes a length of that many millimetres in one of the ways people do.
func (b builder) between(lo, hi int) string {
	mm := rapid.IntRange(lo, hi).Draw(b.t, "mm")
	inches := mm * 10 / 254
	switch b.upto(4) {
	case 0:
		return fmt.Sprintf("%q", fmt.Sprintf("%d mm", mm))
	case 1:
		return fmt.Sprintf("%q", fmt.Sprintf("%g m", float64(mm)/1000))
	case 2:
		return fmt.Sprintf(`"%d' %d 1/2\""`, inches/12, inches%12)
	default:
		return fmt.Sprintf("%q", fmt.Sprintf("%d ft %d in", inches/12, inches%12))
	}
}

// mass gives one of the ways of saying what a piece weighs.
func (b builder) mass() []string {
	parts := fmt.Sprintf(`parts = [ { stock = "2x4", wood = "spf", length = %s, count = %d }, { sheet = "plywood 1/2 in", size = [%s, %s] }, { item = "bell", mass = "3 kg" } ]`,
		b.between(300, 2400), 1+b.upto(8), b.between(300, 1200), b.between(300, 2400))
	switch b.upto(3) {
	case 0:
		return []string{parts}
	case 1:
		return []string{parts, `weighed = "900 lb"`}
	case 2:
		return []string{fmt.Sprintf("mass = \"%d lb\"", 5+b.upto(300))}
	default:
		return []string{fmt.Sprintf("weighed = \"%d kg\"", 5+b.upto(300))}
	}
}

// blocks places columns 5 m apart along x and walls 20 m north of them.
func (b builder) blocks() []block {
	site := []string{"[site]", fmt.Sprintf("gust_alone = \"%d mph\"", 30+b.upto(90)), fmt.Sprintf("gust_open = \"%d mph\"", b.upto(30))}
	if b.upto(1) > 0 {
		site = append(site, fmt.Sprintf("ground = %q", b.pick("asphalt", "concrete", "wet grass")))
	}
	blocks := []block{{site}}
	add := func(tables ...[]string) { blocks = append(blocks, tables) }
	columns := 1 + b.upto(3)
	for i := range columns {
		column := block{{"[[column]]", fmt.Sprintf("name = \"column %d\"", i), fmt.Sprintf("at = [\"%d m\", \"0 m\"]", 5*i),
			fmt.Sprintf("foot = [%s, %s]", b.between(300, 1200), b.between(300, 1200)), fmt.Sprintf("turn = \"%d deg\"", b.upto(90))}}
		for k := range 1 + b.upto(2) {
			section := []string{"[[column.section]]", fmt.Sprintf("name = \"section %d\"", k), "width = " + b.between(300, 1000), "height = " + b.between(900, 2000)}
			switch shape := b.pick("", "square", "round", "rectangle", "octagon"); shape {
			case "":
			case "rectangle":
				section = append(section, `shape = "rectangle"`, "depth = "+b.between(300, 1000))
			default:
				section = append(section, fmt.Sprintf("shape = %q", shape))
			}
			mass := b.mass()
			if strings.HasPrefix(mass[0], "weighed") {
				mass = []string{`mass = "40 lb"`}
			}
			column = append(column, append(section, mass[0]))
		}
		blocks = append(blocks, column)
		if b.upto(1) > 0 {
			add(append([]string{"[[gate]]", fmt.Sprintf("name = \"gate %d\"", i), fmt.Sprintf("hung_on = \"column %d\"", i),
				fmt.Sprintf("face = %q", b.pick("north", "east", "south", "west")), "width = " + b.between(300, 1200), "height = " + b.between(300, 800)}, b.mass()...))
		}
		if b.upto(1) > 0 {
			add([]string{"[[ballast]]", fmt.Sprintf("in = \"column %d\"", i), b.pick(`unit = "sandbag 40 lb"`, `mass = "12 kg"`), fmt.Sprintf("count = %d", b.upto(9))})
		}
	}
	for i := range b.upto(3) {
		add(append([]string{"[[wall]]", fmt.Sprintf("name = \"wall %d\"", i), fmt.Sprintf("from = [\"%d m\", \"20 m\"]", 9*i),
			fmt.Sprintf("to = [\"%d m\", \"%d m\"]", 9*i+1+b.upto(6), 20+b.upto(2)), "height = " + b.between(900, 3000)}, b.mass()...))
	}
	if columns > 1 && b.upto(1) > 0 {
		add(append([]string{"[[span]]", `name = "sign"`, `between = ["column 0", "column 1"]`, "underside = " + b.between(300, 800), "face = [\"3 m\", \"0.4 m\"]"}, b.mass()...))
	}
	add([]string{"[[supply]]", `name = "outlet"`, "volts = 120"})
	for i := range b.upto(4) {
		from := "outlet"
		if k := b.upto(i); k > 0 {
			from = fmt.Sprintf("cord %d", k-1)
		}
		add([]string{"[[cord]]", fmt.Sprintf("name = \"cord %d\"", i), fmt.Sprintf("from = %q", from), fmt.Sprintf("gauge = %q", b.pick("16 AWG", "1.5 mm2")), "length = " + b.between(1000, 30000)})
		add([]string{"[[lamp]]", fmt.Sprintf("name = \"lamp %d\"", i), fmt.Sprintf("on = \"cord %d\"", i), b.pick("watts = 60", "amps = 0.5", `device = "led flood 50 W"`)})
	}
	return blocks
}

// Whatever is written without a fault loads, and all of its numbers are finite.
func TestValidFilesLoad(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		src := text(builder{t}.blocks())
		f, problems := Load("site.toml", []byte(src))
		if len(problems) > 0 {
			t.Fatalf("%v\n%s", problems, src)
		}
		finite(t, reflect.ValueOf(*f), "file")
	})
}

// The order of the tables and of the keys within them does not matter.
func TestOrderDoesNotMatter(t *testing.T) {
	pieces := func(t *rapid.T, blocks []block) *File {
		f := load(t, text(blocks))
		sortByName(f.Columns, func(c Column) string { return c.Name.V })
		sortByName(f.Gates, func(g Gate) string { return g.Name.V })
		sortByName(f.Walls, func(w Wall) string { return w.Name.V })
		sortByName(f.Ballasts, func(b Ballast) string { return b.In.V })
		sortByName(f.Cords, func(k Cord) string { return k.Name.V })
		sortByName(f.Lamps, func(l Lamp) string { return l.Name.V })
		f.Catalog, f.Assumptions = nil, nil
		return f
	}
	rapid.Check(t, func(t *rapid.T) {
		blocks := builder{t}.blocks()
		want := pieces(t, blocks)
		mixed := rapid.Permutation(blocks).Draw(t, "order")
		for i := range mixed {
			mixed[i] = slices.Clone(mixed[i])
			for k, table := range mixed[i] {
				keys := rapid.Permutation(table[1:]).Draw(t, "keys")
				mixed[i][k] = append([]string{table[0]}, keys...)
			}
		}
		got := pieces(t, mixed)
		// Where a value stands is all that may differ.
		if diff := cmp.Diff(want, got, cmpopts.IgnoreTypes(Place{}), cmpopts.IgnoreUnexported(Entry{}, Table{}, File{})); diff != "" {
			t.Fatalf("another order loads otherwise (-one +other):\n%s", diff)
		}
	})
}

func sortByName[T any](list []T, name func(T) string) {
	slices.SortStableFunc(list, func(a, b T) int { return strings.Compare(name(a), name(b)) })
}

// finite fails on a number that is not.
func finite(t interface{ Fatalf(string, ...any) }, v reflect.Value, path string) {
	switch v.Kind() {
	case reflect.Float64:
		if f := v.Float(); math.IsNaN(f) || math.IsInf(f, 0) {
			t.Fatalf("%s is %v", path, f)
		}
	case reflect.Struct:
		for i := range v.NumField() {
			if v.Type().Field(i).IsExported() {
				finite(t, v.Field(i), path+"."+v.Type().Field(i).Name)
			}
		}
	case reflect.Slice, reflect.Array:
		for i := range v.Len() {
			finite(t, v.Index(i), fmt.Sprintf("%s[%d]", path, i))
		}
	case reflect.Pointer:
		if !v.IsNil() {
			finite(t, v.Elem(), path)
		}
	}
}

// seeds are the example sites, the broken files and the sample.
func seeds(t testing.TB) [][]byte {
	var all [][]byte
	for _, pattern := range []string{"../../testdata/sites/*.toml", "../../testdata/broken/*.toml", "testdata/sample.toml"} {
		files, err := filepath.Glob(pattern)
		if err != nil || len(files) == 0 {
			t.Fatalf("%s: %d files, %v", pattern, len(files), err)
		}
		for _, file := range files {
			src, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			all = append(all, src)
		}
	}
	return all
}

func FuzzLoad(f *testing.F) {
	for _, src := range seeds(f) {
		f.Add(src)
	}
	f.Fuzz(func(t *testing.T, src []byte) {
		file, problems := Load("x", src)
		if (file == nil) != problems.Fatal() {
			t.Fatalf("file %v with problems %v", file != nil, problems)
		}
		lines := bytes.Count(src, []byte("\n")) + 1
		for _, p := range problems {
			if p.start < 0 || p.end < p.start || p.end > len(src) {
				t.Errorf("%s: bytes %d to %d of %d", p.Message, p.start, p.end, len(src))
			}
			for _, at := range append([]Note{{Place: p.Place}}, p.Also...) {
				if at.Place.Line < 1 || at.Place.Line > lines || at.Place.Col < 1 {
					t.Errorf("%s: at %s of %d lines", p.Message, at.Place, lines)
				}
			}
			if p.Code == "" || p.Message == "" || p.Code == "internal" {
				t.Errorf("problem %+v", p)
			}
		}
		var first, second bytes.Buffer
		if err := problems.Write(&first, src, false); err != nil {
			t.Fatal(err)
		}
		_, again := Load("x", src)
		if err := again.Write(&second, src, false); err != nil {
			t.Fatal(err)
		}
		if first.String() != second.String() {
			t.Errorf("two runs differ:\n%s\n%s", first.String(), second.String())
		}
		if file == nil {
			return
		}
		finite(t, reflect.ValueOf(*file), "file")
		for i := range file.Columns {
			finite(t, reflect.ValueOf(file.Columns[i].FootOutline()), "foot")
		}
		for i := range file.Walls {
			finite(t, reflect.ValueOf(file.Walls[i].Bearing()), "bearing")
		}
		for i := range file.Gates {
			leaf, ok := file.Leaf(&file.Gates[i])
			if !ok {
				t.Error("a gate without a place")
			}
			finite(t, reflect.ValueOf(leaf), "leaf")
		}
		for i := range file.Spans {
			middle, turn := file.SpanLine(&file.Spans[i])
			finite(t, reflect.ValueOf(middle), "span")
			finite(t, reflect.ValueOf(turn), "span")
		}
	})
}

// A file of the largest permitted lists is read, or refused, before anybody wonders.
func TestLargeFiles(t *testing.T) {
	var many, crossed, ring strings.Builder
	for i := range mostTables {
		fmt.Fprintf(&many, "[[column]]\nname = \"c%d\"\nat = [\"%d m\", \"%d m\"]\nfoot = [\"1 m\", \"1 m\"]\n[[column.section]]\nname = \"s\"\nwidth = \"1 m\"\nheight = \"2 m\"\nmass = \"9 kg\"\n", i, 4*(i%2000), 4*(i/2000))
		fmt.Fprintf(&many, "[[gate]]\nname = \"g%d\"\nhung_on = \"c%d\"\nface = \"east\"\nwidth = \"1 m\"\nheight = \"1 m\"\nmass = \"9 kg\"\n", i, i)
		fmt.Fprintf(&crossed, "[[gate]]\nname = \"gate number %d\"\nhung_on = \"pier number %d\"\n", i, i)
		fmt.Fprintf(&ring, "[[cord]]\nname = \"k%d\"\nfrom = \"k%d\"\ngauge = \"16 AWG\"\nlength = \"1 m\"\n", i, (i+1)%mostTables)
	}
	site := "[site]\ngust_alone = \"15 m/s\"\n"
	for name, tt := range map[string]struct {
		src   string
		wrong int
	}{
		"many pieces":   {site + many.String(), 0},
		"one too many":  {site + many.String() + "[[gate]]\nname = \"x\"\n", 1},
		"bad names":     {site + crossed.String(), mostKept},
		"a ring":        {site + ring.String(), 1},
		"many sections": {site + "[[column]]\nname = \"c\"\nat = [\"0 m\", \"0 m\"]\nfoot = [\"1 m\", \"1 m\"]\n" + strings.Repeat("[[column.section]]\n", mostSections+1), 1},
	} {
		if _, problems := Load("x", []byte(tt.src)); len(problems) != tt.wrong {
			t.Errorf("%s: %d problems, want %d: %v", name, len(problems), tt.wrong, problems)
		}
	}
}

func BenchmarkLoad(b *testing.B) {
	src, err := os.ReadFile("../../testdata/sites/apple-fair.toml")
	if err != nil {
		b.Fatal(err)
	}
	b.SetBytes(int64(len(src)))
	b.ReportAllocs()
	for b.Loop() {
		if f, problems := Load("apple-fair.toml", src); f == nil {
			b.Fatal(problems)
		}
	}
}
