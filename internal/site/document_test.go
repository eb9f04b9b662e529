package site

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	_ "galefast/internal/steady"

	"github.com/BurntSushi/toml"
	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// mustDocument parses a text without faults.
func mustDocument(t testing.TB, src string) *node {
	t.Helper()
	root, problems := parseDocument("site.toml", []byte(src))
	if len(problems) > 0 {
		var b strings.Builder
		if err := problems.Write(&b, []byte(src), false); err != nil {
			t.Fatal(err)
		}
		t.Fatalf("problems in %q:\n%s", src, b.String())
	}
	return root
}

// plain is a tree as the decoder would give it.
func plain(n *node) any {
	switch n.kind {
	case tableNode:
		m := map[string]any{}
		for k, c := range n.child {
			m[k] = plain(c)
		}
		return m
	case arrayNode:
		if n.tables {
			list := []map[string]any{}
			for _, item := range n.items {
				list = append(list, plain(item).(map[string]any))
			}
			return list
		}
		list := []any{}
		for _, item := range n.items {
			list = append(list, plain(item))
		}
		return list
	}
	return n.data
}

// at finds a node by names and indices.
func (n *node) at(steps ...any) *node {
	for _, step := range steps {
		switch step := step.(type) {
		case string:
			n = n.child[step]
		case int:
			n = n.items[step]
		}
	}
	return n
}

func TestDocumentPlaces(t *testing.T) {
	lines := func(l ...string) string { return strings.Join(l, "\n") }
	tests := []struct {
		name       string
		src        string
		steps      []any
		key, value string // place and text, "2:1 width"
	}{
		{"key", "title = \"x\"\n", []any{"title"}, "1:1 title", `1:9 "x"`},
		{"first of two gates", lines("# gates", "[[gate]]", "a = 1", "[[gate]]", "a = 2"), []any{"gate", 0}, "", "2:1 [[gate]]"},
		{"second of two gates", lines("# gates", "[[gate]]", "a = 1", "[[gate]]", "a = 2"), []any{"gate", 1}, "", "4:1 [[gate]]"},
		{"list of gates", lines("[[gate]]", "a = 1", "[[gate]]"), []any{"gate"}, "1:3 gate", "1:1 [[gate]]"},
		{"key in the first gate", lines("[[gate]]", "a = 1", "[[gate]]", "a = 2"), []any{"gate", 0, "a"}, "2:1 a", "2:5 1"},
		{"section of the second column", lines("[[column]]", "  [[column.section]]", "  w = 1", "[[column]]", "  [[column.section]]", "  w = 2", "  [[column.section]]", "  w = 3"),
			[]any{"column", 1, "section", 1, "w"}, "8:3 w", "8:7 3"},
		{"header in a text", lines(`s = """`, "[[gate]]", `"""`, "[[gate]]", "a = '''", "[[gate]]'''", "b = 2"), []any{"gate", 0, "b"}, "7:1 b", "7:5 2"},
		{"quotes at the end of a text", lines(`s = """a"""""`, "b = 2"), []any{"s"}, "1:1 s", `1:5 """a"""""`},
		{"escaped quotes", lines(`s = """a\""""""`, `t = "\\"`, "b = 2"), []any{"b"}, "3:1 b", "3:5 2"},
		{"dotted", "a . \"b c\" . d = 1\na.e = 2\n", []any{"a", "b c", "d"}, "1:13 d", "1:17 1"},
		{"implied table", "a . b = 1\n", []any{"a"}, "1:1 a", "1:1 a . b"},
		{"table implied, then named", "[a.b]\n[a]\nc = 1\n", []any{"a"}, "2:2 a", "2:1 [a]"},
		{"table under a list", lines("[[a]]", "[a.b]", "c = 1", "[[a]]", "[a.b]", "c = 2"), []any{"a", 1, "b", "c"}, "6:1 c", "6:5 2"},
		{"inline in a list", lines("parts = [ # [", "\t{ stock = \"2x4\", n = 8 }, # {", "\t{ stock = \"2x2\",", "\t  n = 4 },", "]"),
			[]any{"parts", 1, "n"}, "4:4 n", "4:8 4"},
		{"list over lines", lines("a = [", "  1, # one ]", "  2,", "]", "b = 1"), []any{"a"}, "1:1 a", "1:5 [\n  1, # one ]\n  2,\n]"},
		{"element", lines("a = [", "  1, # one ]", "  2,", "]", "b = 1"), []any{"a", 1}, "", "3:3 2"},
		{"byte order mark", "\ufefftitle = 1\nb = 2\n", []any{"title"}, "1:1 title", "1:9 1"},
		{"line ends of two bytes", "a = 1\r\nb = \"x\"\r\n", []any{"b"}, "2:1 b", `2:5 "x"`},
		{"tabs", "\ta\t=\t1\t# x\n", []any{"a"}, "1:2 a", "1:6 1"},
		{"columns are runes", "a = { \"ä½\" = \"½ in\", c = 2 }\n", []any{"a", "c"}, "1:22 c", "1:26 2"},
		{"date with a space", "d = 1979-05-27 07:32:00 # noon\n", []any{"d"}, "1:1 d", "1:5 1979-05-27 07:32:00"},
		{"number with underscores", "d = 1_000.5e-3,\n"[:15-1] + "\n", []any{"d"}, "1:1 d", "1:5 1_000.5e-3"},
		{"quoted key with an escape", `"a\u0062" = 1`, []any{"ab"}, `1:1 "a\u0062"`, "1:13 1"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			n := mustDocument(t, tt.src).at(tt.steps...)
			lines := newLineIndex("", []byte(tt.src))
			show := func(s span) string {
				if s == (span{}) {
					return ""
				}
				p := lines.place(s.start)
				return fmt.Sprintf("%d:%d %s", p.Line, p.Col, tt.src[s.start:s.end])
			}
			if got := show(n.key); got != tt.key {
				t.Errorf("key at %q, want %q", got, tt.key)
			}
			if got := show(n.value); got != tt.value {
				t.Errorf("value at %q, want %q", got, tt.value)
			}
		})
	}
}

// faultyFiles are model files that cannot be read.
func faultyFiles(t testing.TB) []string {
	files, err := filepath.Glob("testdata/syntax/*.toml")
	if err != nil || len(files) == 0 {
		t.Fatalf("%d files, %v", len(files), err)
	}
	return files
}

// TestDocumentSyntax compares the problems printed for each faulty file with
// the text beside it.
func TestDocumentSyntax(t *testing.T) {
	for _, file := range faultyFiles(t) {
		t.Run(filepath.Base(file), func(t *testing.T) {
			src, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			root, problems := parseDocument(filepath.Base(file), src)
			if root != nil || !problems.Fatal() {
				t.Error("the file was accepted")
			}
			var b bytes.Buffer
			if err := problems.Write(&b, src, false); err != nil {
				t.Fatal(err)
			}
			golden := strings.TrimSuffix(file, ".toml") + ".txt"
			if os.Getenv("UPDATE_GOLDEN") != "" {
				if err := os.WriteFile(golden, b.Bytes(), 0o644); err != nil {
					t.Fatal(err)
				}
			}
			want, err := os.ReadFile(golden)
			if err != nil {
				t.Fatal(err)
			}
			if diff := cmp.Diff(string(want), b.String()); diff != "" {
				t.Errorf("problems changed; UPDATE_GOLDEN=1 accepts them (-want +got):\n%s", diff)
			}
		})
	}
}

// TestDocumentRefused covers what no archive of texts can hold.
func TestDocumentRefused(t *testing.T) {
	deep := strings.Repeat("[", mostNested+1)
	tests := []struct{ name, src, want string }{
		{"zero byte", "a = 1\nb = \"\x00\"\n", "x:2:6: the file holds a zero byte, so it is not plain text"},
		{"UTF-16", "\xff\xfea\x00", "x:1:1: the file is UTF-16 text"},
		{"not UTF-8", "a = \"\xe9\"\n", "x:1:6: the byte 0xe9 is not UTF-8 text"},
		{"too large", strings.Repeat("#", mostSource+1), "x:1:1: the file is larger than 16 MiB"},
		{"control character", "a = \"\x1b[31m\"\n", `x:1:6: the control character '\x1b' cannot stand in the file`},
		{"control character first", "a = 1\n\x01\n", `x:2:1: the control character '\x01' cannot stand in the file`},
		{"lone carriage return", "a = 1\rb = 2\n", `x:1:6: the control character '\r' cannot stand in the file`},
		{"after a byte order mark", "\ufeffa = 3 in\n", "x:1:5: 3 in needs quotes"},
		{"after two-byte line ends", "a = 1\r\nb = 3 in\r\n", "x:2:5: 3 in needs quotes"},
		{"lists too deep", "a = 1\nb = " + deep, "x:2:21: tables and lists are nested too deeply"},
		{"lists too deep after a fault", "a = 3 in\nb = " + deep, "x:2:21: tables and lists are nested too deeply"},
		{"key too deep", strings.Repeat("a.", mostNested) + "a = 1", "x:1:34: tables and lists are nested too deeply"},
		{"braces without end", strings.Repeat("a={", 1000), "x:1:50: tables and lists are nested too deeply"},
		{"a million brackets", "a = \"x\nb = " + strings.Repeat("[", 1<<20), "x:1:5: the text in quotes is never closed (and 1 more)"},
		{"empty name", "a = ['x', { '' = 1 }]", "x:1:13: a name is empty"},
		{"six quotes", `a = """x\\""""""`, "x:1:16: this cannot be read"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			root, problems := parseDocument("x", []byte(tt.src))
			if root != nil || !problems.Fatal() {
				t.Fatal("the text was accepted")
			}
			if got := problems.Error(); got != tt.want {
				t.Errorf("got  %s\nwant %s", got, tt.want)
			}
		})
	}
}

// The hints are texts to copy; each must be right.
func TestDocumentHintsParse(t *testing.T) {
	for src, want := range map[string]string{
		"w = 30 in":        "30 in",
		"w = 7 ft 6 1/2in": "7 ft 6 1/2in",
		`w = 6' 9"`:        "6 ft 9 in",
		`w = "6' 9""`:      "6 ft 9 in",
		`w = '6' 9"'`:      "6 ft 9 in",
		`w = "30"" # wide`: "30 in",
		"w = “30 in”":      "30 in",
		"w = 2 %":          "2 %",
		`w = west "pier"`:  `west "pier"`,
		`w "30 in"`:        "30 in",
	} {
		_, problems := parseDocument("x", []byte(src))
		if len(problems) != 1 {
			t.Errorf("%s: %d problems", src, len(problems))
			continue
		}
		hint := problems[0].Hint
		for _, lead := range []string{"write straight quotes: ", "write "} {
			hint = strings.TrimPrefix(hint, lead)
		}
		for text := range strings.SplitSeq(hint, " or ") {
			if !strings.Contains(text, "=") {
				text = "w = " + text
			}
			got, _ := mustDocument(t, text).child["w"].data.(string)
			if spellMarks(got) != spellMarks(want) {
				t.Errorf("%s: the hint %s gives %q, want %q", src, text, got, want)
			}
		}
	}
}

func TestDocumentDisagreement(t *testing.T) {
	for name, data := range map[string]map[string]any{
		"key missing": {"a": int64(1)},
		"other key":   {"a": int64(1), "c": []any{int64(1)}},
		"length":      {"a": int64(1), "b": []any{}},
		"kind":        {"a": map[string]any{}, "b": []any{int64(1)}},
		"tables":      {"a": int64(1), "b": []map[string]any{}},
		"value":       {"a": int64(1), "b": "x"},
	} {
		src := []byte("a = 1\nb = [1]\n")
		d := &document{lines: newLineIndex("x", src)}
		d.agree(scan(src).root, data, "the document")
		if len(d.problems) != 1 || d.problems[0].Code != "internal" {
			t.Errorf("%s: problems %v", name, d.problems)
		}
	}
}

// author writes a random document and remembers where.
type author struct {
	t      *rapid.T
	b      strings.Builder
	end    string // of a line
	keys   map[span]bool
	values map[span]bool // of leaves
}

func (a *author) pick(from ...string) string { return rapid.SampledFrom(from).Draw(a.t, "pick") }
func (a *author) flip() bool                 { return rapid.Bool().Draw(a.t, "flip") }
func (a *author) upto(n int) int             { return rapid.IntRange(0, n).Draw(a.t, "n") }
func (a *author) put(s ...string) {
	for _, s := range s {
		a.b.WriteString(s)
	}
}

func (a *author) gap() string { return a.pick("", "", " ", "  ", "\t", " \t ") }

func (a *author) comment() string {
	return a.pick("", "", "", "# x", "# [[gate]]", `# "`, "# '''", "# ]} = ½", "#")
}

func (a *author) newline() { a.put(a.gap(), a.comment(), a.end) }

// lines is the gap where line ends are allowed.
func (a *author) lines() {
	for range a.upto(2) {
		a.newline()
	}
	a.put(a.gap())
}

var words4keys = []string{"a", "b", "name", "west pier", "ä½", "1", "-", "x.y", `q"q`, "q'q", "[g]", "#", "a=b", `back\slash`, "tab\t", "true"}

// name writes one name of a key that the table does not have yet.
func (a *author) name(used map[string]bool) string {
	name := rapid.SampledFrom(words4keys).Draw(a.t, "name")
	for n := 0; used[name]; n++ {
		name = fmt.Sprintf("k%d", n)
	}
	used[name] = true
	return name
}

func (a *author) key(name string) {
	start := a.b.Len()
	bare := true
	for i := range len(name) {
		bare = bare && bareKey(name[i])
	}
	switch literal := !strings.ContainsAny(name, "'\t"); {
	case bare && a.flip():
		a.put(name)
	case literal && a.flip():
		a.put("'", name, "'")
	default:
		a.put(a.basic(name, false))
	}
	a.keys[span{start, a.b.Len()}] = true
}

// basic writes text between double quotes, with escapes here and there.
func (a *author) basic(text string, long bool) string {
	var b strings.Builder
	for _, r := range text {
		switch {
		case r == '"' || r == '\\':
			b.WriteString(`\` + string(r))
		case r == '\n' && !long:
			b.WriteString(`\n`)
		case r == '\t' && a.flip():
			b.WriteString(`\t`)
		case r > 126 && a.flip():
			fmt.Fprintf(&b, `\u%04x`, r)
		default:
			b.WriteRune(r)
		}
	}
	if long {
		return `"""` + a.pick("", a.end, `\`+a.end+"  ") + b.String() + a.pick("", `""`, ` \"""`) + `"""`
	}
	return `"` + b.String() + `"`
}

func (a *author) pairs(table map[string]bool, depth int, separate func(last bool)) {
	n := a.upto(3)
	for i := range n {
		a.put(a.gap())
		name := a.name(table)
		switch {
		case a.upto(3) == 0:
			// Dotted keys that share a table. The decoder loses one when the table's
			// name is a list elsewhere on the same path, hence a name of its own.
			name = "dotted-" + name
			shared := map[string]bool{}
			for j := range 1 + a.upto(1) {
				if j > 0 {
					separate(false)
					a.put(a.gap())
				}
				a.key(name)
				a.put(a.gap(), ".", a.gap())
				a.key(a.name(shared))
				a.put(a.gap(), "=", a.gap())
				a.value(depth + 2)
			}
		default:
			a.key(name)
			a.put(a.gap(), "=", a.gap())
			a.value(depth + 1)
		}
		separate(i == n-1)
	}
}

func (a *author) value(depth int) {
	kind := a.upto(9)
	if depth > 5 {
		kind = a.upto(7)
	}
	start := a.b.Len()
	switch kind {
	case 8:
		a.put("[")
		n := a.upto(3)
		for i := range n {
			a.lines()
			a.value(depth + 1)
			a.lines()
			if i < n-1 || a.flip() {
				a.put(",")
			}
		}
		a.lines()
		a.put("]")
		return
	case 9:
		a.put("{")
		a.pairs(map[string]bool{}, depth, func(last bool) {
			a.lines()
			if !last {
				a.put(",")
				a.lines()
			}
		})
		a.put(a.gap(), "}")
		return
	case 0, 1:
		text := a.pick("", "30 in", `6' 9"`, "# no", "a = [", "½ ″ ä", "[[gate]]", `\`, "two\nlines", "tab\t", `""`)
		a.put(a.basic(text, a.flip()))
	case 2:
		a.put("'", a.pick("", "30 in", `6 ft 9"`, "# no", `\`, "ä ½"), "'")
	case 3:
		a.put("'''", a.pick("", a.end+"two"+a.end+"lines", `6' 9"`, a.end+"[[gate]]"+a.end, `\`), a.pick("", "''"), "'''")
	case 4:
		a.put(a.pick("0", "1", "-17", "+9", "1_000", "0xdead_beef", "0o17", "0b1_0", "9223372036854775807"))
	case 5:
		a.put(a.pick("1.5", "-0.0", "1e9", "6.6_2E-3_4", "+1.0", "inf", "-inf", "3.14e+2"))
	case 6:
		a.put(a.pick("true", "false"))
	case 7:
		a.put(a.pick("1979-05-27T07:32:00Z", "1979-05-27 07:32:00", "1979-05-27T00:32:00.99-07:00", "1979-05-27", "07:32:00", "07:32"))
	}
	a.values[span{start, a.b.Len()}] = true
}

// sections writes headers below a path.
func (a *author) sections(path []string, used map[string]bool, depth int) {
	for range a.upto(3 - depth) {
		name := a.name(used)
		at := append(slices.Clone(path), name)
		list := a.flip()
		times := 1
		if list {
			times += a.upto(2)
		}
		for range times {
			open, shut := "[", "]"
			if list {
				open, shut = "[[", "]]"
			}
			a.put(a.gap(), open)
			for i, name := range at {
				if i > 0 {
					a.put(".")
				}
				a.put(a.gap())
				a.key(name)
				a.put(a.gap())
			}
			a.put(shut)
			a.newline()
			inside := map[string]bool{}
			a.pairs(inside, len(at), func(bool) { a.newline() })
			for range a.upto(1) {
				a.newline()
			}
			a.sections(at, inside, depth+1)
		}
	}
}

func TestDocumentProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := &author{t: t, end: rapid.SampledFrom([]string{"\n", "\r\n"}).Draw(t, "end"), keys: map[span]bool{}, values: map[span]bool{}}
		if rapid.IntRange(0, 9).Draw(t, "mark") == 0 {
			a.put("\ufeff")
		}
		top := map[string]bool{}
		a.pairs(top, 0, func(bool) { a.newline() })
		a.sections(nil, top, 0)
		src := a.b.String()

		var want map[string]any
		if _, err := toml.Decode(src, &want); err != nil {
			t.Fatalf("the generator wrote a faulty document: %v\n%s", err, src)
		}
		root, problems := parseDocument("site.toml", []byte(src))
		if len(problems) > 0 {
			t.Fatalf("%v\n%s", problems, src)
		}
		if diff := cmp.Diff(want, plain(root)); diff != "" {
			t.Fatalf("tree differs from the decoded map (-map +tree):\n%s\n%s", diff, src)
		}
		leaves := 0
		var visit func(n *node, name string)
		visit = func(n *node, name string) {
			if n.key != (span{}) {
				text := src[n.key.start:n.key.end]
				if !a.keys[n.key] {
					t.Fatalf("key %q is said to stand at %v, where %q was not written\n%s", name, n.key, text, src)
				}
				var m map[string]any
				if _, err := toml.Decode(text+" = 1", &m); err != nil || m[name] == nil {
					t.Fatalf("the text %s of key %q reads %v, %v", text, name, m, err)
				}
			}
			switch n.kind {
			case tableNode:
				if len(n.keys) != len(n.child) {
					t.Fatalf("%d names, %d children", len(n.keys), len(n.child))
				}
				for _, k := range n.keys {
					if n.child[k].key == (span{}) {
						t.Fatalf("key %q has no place", k)
					}
					visit(n.child[k], k)
				}
			case arrayNode:
				for _, item := range n.items {
					visit(item, "")
				}
			case leafNode:
				leaves++
				if !a.values[n.value] || n.raw != src[n.value.start:n.value.end] {
					t.Fatalf("the value of %q is said to stand at %v: %q\n%s", name, n.value, n.raw, src)
				}
				var m map[string]any
				if _, err := toml.Decode("v = "+n.raw, &m); err != nil || !cmp.Equal(m["v"], n.data) {
					t.Fatalf("the text %s reads %v, %v; want %v", n.raw, m["v"], err, n.data)
				}
			}
		}
		visit(root, "")
		if leaves != len(a.values) {
			t.Fatalf("%d values found, %d written\n%s", leaves, len(a.values), src)
		}
	})
}

// TestDocumentEveryLine breaks each line of a good file in turn: the fault
// must be reported on that line, and no other fault with it.
func TestDocumentEveryLine(t *testing.T) {
	good := []string{
		`title = "Orchard"`, `[site]`, `ground = "asphalt"`, `lean = { force = "50 lbf", height = "4 ft" }`,
		`[[column]]`, `name = "west"`, `at = ["0 ft", "0 ft"]`, `[[column.section]]`, `parts = [`,
		`  { stock = "2x4", count = 8 },`, `  { stock = "2x2", count = 4 },`, `]`, `width = "30 in"`,
		`[[column]]`, `name = "east"`, `[[column.section]]`, `width = "20 in"`,
	}
	mustDocument(t, strings.Join(good, "\n"))
	for i, line := range good {
		var bad string
		switch {
		case strings.HasSuffix(line, "["), line == "]":
			continue // both are noticed elsewhere
		case strings.HasPrefix(line, "["):
			bad = strings.TrimSuffix(line, "]")
		case strings.HasPrefix(line, "  "):
			bad = strings.Replace(line, " =", "", 1)
		default:
			bad = strings.Replace(line, "= ", "= 3 in ", 1)
		}
		lines := slices.Clone(good)
		lines[i] = bad
		_, problems := parseDocument("x", []byte(strings.Join(lines, "\n")))
		if len(problems) != 1 || problems[0].Place.Line != i+1 {
			t.Errorf("line %d %q: %v", i+1, bad, problems)
		}
	}
}

func TestDocumentMostErrors(t *testing.T) {
	src := strings.Repeat("w = 3 in\n", 3*mostSyntax)
	_, problems := parseDocument("x", []byte(src))
	if len(problems) != mostSyntax {
		t.Fatalf("%d problems, want %d", len(problems), mostSyntax)
	}
}

func FuzzParseDocument(f *testing.F) {
	for _, file := range faultyFiles(f) {
		src, err := os.ReadFile(file)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(src)
	}
	f.Add([]byte("\ufeffa.\"b\\u0063\".d = 1 # x\r\n[[g]]\r\ns = \"\"\"\\\r\n [[g]]\"\"\"\"\"\r\n[g.h]\r\nx = [\r\n {y = 'z', w = [[1_0.5e3]]}, # ]\r\n]\r\n[[g]]\r\n"))
	f.Add([]byte("d = 1979-05-27 07:32:00\nb = [true, inf, 0x1F, ''''\n'''']\nc = {a.b = {}, a.c = [],\n}\n"))
	f.Fuzz(func(t *testing.T, src []byte) {
		root, problems := parseDocument("x", src)
		if (root == nil) != problems.Fatal() {
			t.Fatalf("document %v with problems %v", root, problems)
		}
		lines := bytes.Count(src, []byte("\n")) + 1
		for _, p := range problems {
			if p.start < 0 || p.end < p.start || p.end > len(src) {
				t.Errorf("%s: bytes %d to %d of %d", p.Message, p.start, p.end, len(src))
			}
			if p.Place.Line < 1 || p.Place.Line > lines || p.Place.Col < 1 {
				t.Errorf("%s: at %s of %d lines", p.Message, p.Place, lines)
			}
			if p.Code == "internal" {
				t.Errorf("the scanner and the decoder differ: %v", p)
			}
			if p.Code == "" || p.Message == "" {
				t.Errorf("problem without code or message: %+v", p)
			}
		}
		var b bytes.Buffer
		if err := problems.Write(&b, src, false); err != nil {
			t.Fatal(err)
		}
		if i := bytes.IndexFunc(b.Bytes(), func(r rune) bool { return r < ' ' && r != '\n' && r != '\t' || r == 0x7f }); i >= 0 {
			t.Errorf("control character printed in %q", b.String())
		}
	})
}
