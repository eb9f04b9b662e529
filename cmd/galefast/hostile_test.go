package main

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"runtime"
	"strconv"
	"strings"
	"testing"
	"time"
	"unicode"

	"github.com/xuri/excelize/v2"

	"galefast/internal/verdict"
)

// measured is the program, which writes into a file how much memory it had in the end: the runtime of
// Go gives none of its addresses back, so that is the most of what it ever had.
func measured() {
	a := &app{stdin: os.Stdin, stdout: os.Stdout, stderr: os.Stderr, guard: endOnSignals}
	exit := a.run(os.Args[1:])
	var memory runtime.MemStats
	runtime.ReadMemStats(&memory)
	if err := os.WriteFile(os.Getenv("MEASURED"), []byte(strconv.FormatUint(memory.Sys, 10)), 0o666); err != nil {
		panic(err)
	}
	os.Exit(exit)
}

// spent runs the program in a process of its own, and tells what it took, in MB and time of the
// processor.
func spent(t *testing.T, input io.Reader, args ...string) (exit int, problems string, memory uint64, took time.Duration) {
	t.Helper()
	file := filepath.Join(t.TempDir(), "memory")
	cmd := exec.Command("galefast-measured", args...)
	cmd.Env = append(os.Environ(), "MEASURED="+file)
	cmd.Stdin = input
	var said bytes.Buffer
	cmd.Stderr = &said
	var failed *exec.ExitError
	if err := cmd.Run(); err != nil && !errors.As(err, &failed) {
		t.Fatal(err)
	}
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatalf("%v; %.1000s", err, said.String())
	}
	if memory, err = strconv.ParseUint(string(text), 10, 64); err != nil {
		t.Fatal(err)
	}
	return cmd.ProcessState.ExitCode(), said.String(), memory >> 20, cmd.ProcessState.UserTime() + cmd.ProcessState.SystemTime()
}

// Files that nobody writes by hand are refused, with a place and in the form of any other fault, in
// little time and memory: those of 50 MB, and those that stay just within one limit or another.
func TestHostileFiles(t *testing.T) {
	const (
		large = 50_000_000
		site  = "[site]\ngust_alone = \"15 m/s\"\n"
	)
	times := func(text string, size int) string { return strings.Repeat(text, size/len(text)+1) }
	column := "[[column]]\nname = \"c\"\nat = [\"0 m\", \"0 m\"]\nfoot = [\"1 m\", \"1 m\"]\n"
	for _, c := range []struct {
		name string
		src  func() string
		want string
	}{
		{"50 MB of comments", func() string { return times("# "+strings.Repeat("x", 97)+"\n", large) }, "1:1: error: the file is larger than 16 MiB"},
		{"50 MB of one text", func() string { return "title = \"" + strings.Repeat("x", large) + "\"\n" }, "1:1: error: the file is larger than 16 MiB"},
		{"50 MB of tables", func() string { return times("[[column]]\n", large) }, "1:1: error: the file is larger than 16 MiB"},
		{"50 MB of zeros", func() string { return strings.Repeat("\x00", large) }, "1:1: error: the file is larger than 16 MiB"},
		{"line ends", func() string { return strings.Repeat("\n", 16<<20) }, "1:1: error: the file has 16777217 lines"},
		{"one long text", func() string { return "title = \"" + strings.Repeat("x", 16_000_000) + "\"\n" + site }, `1:9: error: "title" of the file has 16000000 characters`},
		{"one long name", func() string { return strings.Repeat("x", 16_000_000) + " = 1\n" }, `1:1: error: the file has no key "xxxx`},
		{"one long number", func() string { return "title = " + strings.Repeat("1", 16_000_000) + "\n" }, "1:9: error: the number 1111"},
		{"one long line of pieces", func() string {
			return "column = [" + strings.Repeat(`{ name = "c", at = ["0 m", "0 m"], foot = ["1 m", "1 m"], section = [] },`, 19_000) + "]\n" + site
		}, `1:79: error: "section" of column`},
		{"a million pieces", func() string { return site + strings.Repeat("[[column]]\n", 999_990) }, "400001:11: error: the file has too many keys and values"},
		{"one piece too many", func() string { return site + strings.Repeat("[[column]]\n", 20_001) }, "3:3: error: there are 20001 entries of \"column\" in the file"},
		{"pieces without anything", func() string { return site + strings.Repeat("[[column]]\n", 20_000) }, "3:1: error: column 1 lacks \"at\""},
		{"pieces in one place", func() string { return site + strings.Repeat(column, 20_000) }, `3:1: error: column "c" lacks "section"`},
		{"references to nothing", func() string {
			return site + strings.Repeat("[[lamp]]\nname = \"l\"\non = \"nowhere\"\nwatts = 1\n", 20_000)
		}, `8:8: error: lamp "l" has the name of a lamp above it`},
		{"rows of one's own", func() string { return site + strings.Repeat("[[catalog.ground]]\nname = \"a\"\n", 100_000) }, `error: there are 100000 rows of "catalog.ground"`},
		{"sections", func() string { return site + column + "section = [" + strings.Repeat("{},", 21) + "]\n" }, `there are 21 entries of "section"`},
		{"points", func() string {
			return site + "[[way]]\nname = \"w\"\nline = [" + strings.Repeat(`["0 m", "1 m"],`, 1001) + "]\n"
		}, `there are 1001 entries of "line"`},
		{"cords in a row", func() string { return site + chain(101) + "[[lamp]]\nname = \"l\"\non = \"k100\"\nwatts = 1\n" }, `cord "k100" is number 101 of the cords that are plugged one into the other`},
		{"cords on one supply", func() string { return site + star(201) }, `cord "k200" is cord number 201 on "k"`},
		{"walls fastened to each other", func() string { return site + fence(41) }, `wall "w40" makes one thing of 41 pieces and sections that are fastened to each other`},
		{"lists within lists", func() string { return "a = " + strings.Repeat("[", 16_000_000) }, "1:21: error: tables and lists are nested too deeply"},
		{"tables within tables", func() string { return strings.Repeat("a={", 5_000_000) }, "error: tables and lists are nested too deeply"},
		{"a long dotted name", func() string { return strings.Repeat("a.", 8_000_000) + "a = 1" }, "error: tables and lists are nested too deeply"},
		{"a long header", func() string { return "[" + strings.Repeat("a.", 8_000_000) + "a]\n" }, "error: tables and lists are nested too deeply"},
		{"a table of many keys", func() string { return numbered("k%d = 1\n", 800_000) }, "1001:10: error: a table has more than 1000 keys"},
		{"many tables", func() string { return numbered("[t%d]\n", 800_000) }, "1001:8: error: a table has more than 1000 keys"},
		{"many tables within", func() string { return strings.Repeat("[[a]]\n[[a.b]]\n", 400_000) }, "error: the file has too many keys and values"},
		{"nearly too many tables within", func() string { return strings.Repeat("[[a]]\n[[a.b]]\n", 133_320) }, "error: the file has no key \"a\""},
		{"nearly too many keys", func() string { return nearlyFull() }, "error: the file has no key \"a\""},
		{"one name again and again", func() string { return strings.Repeat("a = 1\n", 900_000) }, `2:1: error: "a" is defined twice`},
		{"one slip again and again", func() string { return strings.Repeat("a b\n", 900_000) }, `1:3: error: there is no "=" after "a"`},
		{"curly quotes", func() string { return strings.Repeat("a = “x”\n", 900_000) }, "1:5: error: curly quotes cannot hold text"},
		{"texts that never end", func() string { return strings.Repeat("a = \"\n", 900_000) }, "1:5: error: the text in quotes is never closed"},
		{"a long text that never ends", func() string { return "a = \"\"\"" + strings.Repeat("x\n", 900_000) }, "1:5: error: the text in quotes is never closed"},
		{"brackets that never end", func() string { return strings.Repeat("a = [\n", 900_000) }, "1:5: error: the \"[\" is never closed"},
	} {
		src := c.src()
		file := filepath.Join(t.TempDir(), "x.toml")
		if err := os.WriteFile(file, []byte(src), 0o666); err != nil {
			t.Fatal(err)
		}
		exit, problems, memory, took := spent(t, nil, "check", file)
		if exit != exitUnusable || !strings.HasPrefix(problems, file+":") || !strings.Contains(problems, c.want) {
			t.Errorf("%s: exit code %d, %.300s; want %s", c.name, exit, problems, c.want)
		}
		// Bounds that neither a slow machine nor the collector's timing comes near.
		longest := 30 * time.Second
		if len(src) >= large {
			longest = 6 * time.Second
		}
		if memory > 700 || took > longest || len(problems) > 200_000 {
			t.Errorf("%s: %d MB, %v of computing, %d bytes said", c.name, memory, took, len(problems))
		}
		t.Logf("%-30s %4d MB %5.2f s", c.name, memory, took.Seconds())
	}
	// What comes without end is refused as well.
	if runtime.GOOS == "linux" {
		if exit, problems, memory, _ := spent(t, nil, "check", "/dev/zero"); exit != exitUnusable || !strings.Contains(problems, "/dev/zero:1:1: error: the file is larger than 16 MiB") || memory > 200 {
			t.Errorf("/dev/zero: exit code %d, %d MB, %s", exit, memory, problems)
		}
	}
	endless := io.MultiReader(strings.NewReader(strings.Repeat("# x\n", 1000)), zeros{})
	if exit, problems, _, _ := spent(t, endless, "check", "-"); exit != exitUnusable || !strings.Contains(problems, "standard input:1:1: error: the file is larger than 16 MiB") {
		t.Errorf("endless input: exit code %d, %s", exit, problems)
	}
}

type zeros struct{}

func (zeros) Read(p []byte) (int, error) { clear(p); return len(p), nil }

func numbered(line string, n int) string {
	var b strings.Builder
	for i := range n {
		fmt.Fprintf(&b, line, i)
	}
	return b.String()
}

// chain is a supply and cords in a row.
func chain(n int) string {
	var b strings.Builder
	b.WriteString("[[supply]]\nname = \"k\"\nvolts = 120\nbreaker = \"15 A\"\n")
	from := "k"
	for i := range n {
		name := fmt.Sprintf("k%d", i)
		fmt.Fprintf(&b, "[[cord]]\nname = %q\nfrom = %q\ngauge = \"12 AWG\"\ntype = \"SJTW\"\nlength = \"3 ft\"\n", name, from)
		from = name
	}
	return b.String()
}

// star is a supply with cords.
func star(n int) string {
	var b strings.Builder
	b.WriteString("[[supply]]\nname = \"k\"\nvolts = 120\nbreaker = \"15 A\"\n")
	for i := range n {
		fmt.Fprintf(&b, "[[cord]]\nname = \"k%d\"\nfrom = \"k\"\ngauge = \"12 AWG\"\ntype = \"SJTW\"\nlength = \"3 ft\"\n", i)
	}
	return b.String()
}

// fence is a row of walls.
func fence(n int) string {
	var b strings.Builder
	for i := range n {
		fmt.Fprintf(&b, "[[wall]]\nname = \"w%d\"\nfrom = [\"%d m\", \"0 m\"]\nto = [\"%d m\", \"0 m\"]\nheight = \"6 ft\"\nfoot = \"4 ft\"\nmass = \"300 lb\"\n", i, 2*i, 2*i+2)
		if i > 0 {
			fmt.Fprintf(&b, "joined = [\"w%d\"]\nfixing = { heights = [\"1 ft\", \"5 ft\"], hold = \"150 lbf\" }\n", i-1)
		}
	}
	return b.String()
}

// nearlyFull is a file with as many keys as there can be.
func nearlyFull() string {
	var b strings.Builder
	for range 800 {
		b.WriteString("[[a]]\n" + numbered("k%d = 1\n", 995))
	}
	return b.String()
}

// hostileNames are names that a description may have and that would act in one format or another.
var hostileNames = []string{
	`=HYPERLINK("http://example.org")`, `=cmd|' /C calc'!A0`, `+1`, `-1`, `-2+3`, `@SUM(1)`, `＝1+1`, `＠x`,
	`<script>alert(1)</script>`, `</title><b>`, `"><img src=x onerror=alert(1)>`, `' onload='x`, `a & b &lt; c`, `]]>`, `<!--`, `{{x}}`, `${x}`, `$(x)`, "`x`",
	`a|b|c`, `*a* _b_ # c`, `[a](javascript:x)`, `![a](x)`, `---`, `1. a`, `\`, `a\"b`, `\n`, `\u0041`, `%s %d %!`, `;a,b;"c"`,
	`../../../etc/passwd`, `/etc/passwd`, `C:\x`, `CON`, `.`, `..`, `-o`, `--help`, `~`, `*`,
	`עמוד`, `العمود`, `東の柱`, `Säule №1`, `👷🏽`, `e̷̡͝`, strings.Repeat("W", 200), strings.Repeat("長", 200), `null`, `true`, `1e999`, `NaN`, `)`, `(`, `(a) Tj`,
}

// hostileSite gives things of every kind the names in turn.
func hostileSite(names ...string) string {
	pairs := []string{}
	for i, place := range []string{"TITLE", "ROW", "SOURCE", "COLUMN", "SECTION", "ITEM", "WAY", "SUPPLY", "LAMP"} {
		pairs = append(pairs, place, strings.NewReplacer(`\`, `\\`, `"`, `\"`).Replace(names[i%len(names)]))
	}
	return strings.NewReplacer(pairs...).Replace(`title = "TITLE"
[site]
friction = 0.4
gust_open = "20 mph"
gust_alone = "30 mph"
[[catalog.ballast]]
name = "ROW"
mass = "40 lb"
volume = "0.4 ft3"
source = "SOURCE"
[[column]]
name = "COLUMN"
at = ["0 m", "0 m"]
foot = ["1 m", "1 m"]
section = [{ name = "SECTION", width = "0.6 m", height = "2 m", parts = [{ item = "ITEM", mass = "60 kg" }] }]
[[ballast]]
in = "COLUMN"
section = "SECTION"
unit = "ROW"
count = 1
[[way]]
name = "WAY"
line = [["3 m", "-3 m"], ["3 m", "3 m"]]
[[supply]]
name = "SUPPLY"
volts = 120
breaker = "15 A"
[[cord]]
name = "cord"
from = "SUPPLY"
gauge = "14 AWG"
type = "SJTW"
length = "20 ft"
[[lamp]]
name = "LAMP"
on = "cord"
watts = 20
`)
}

// A name is a name in whatever the program writes. The commands run on a file whose own name is hostile, too.
func TestHostileNames(t *testing.T) {
	tag := regexp.MustCompile(`<(script|img|b>|!--)`)
	const places = 9
	for i := 0; i < len(hostileNames); i += 5 { // each name stands in about two places
		names := make([]string, places)
		for k := range names {
			names[k] = hostileNames[(i+k)%len(hostileNames)]
		}
		name := names[0]
		dir := t.TempDir()
		file := filepath.Join(dir, "\x1b]0;x\a\u202e<b>=1+1.toml")
		if err := os.WriteFile(file, []byte(hostileSite(names...)), 0o666); err != nil {
			t.Fatal(err)
		}
		output := func(args ...string) string {
			var out, problems bytes.Buffer
			if exit := run(args, strings.NewReader(""), &out, &problems); exit == exitUnusable || problems.Len() > 0 {
				t.Fatalf("%q: %q: exit code %d, %s", name, args, exit, problems.String())
			}
			return out.String()
		}
		plain := func(what, text string) {
			for _, r := range text {
				if r != '\n' && r != ' ' && !unicode.IsPrint(r) {
					t.Errorf("%q: %s holds %U", name, what, r)
					return
				}
			}
		}
		for _, command := range []string{"check --explain", "weigh", "wind", "ballast", "limits", "hardware", "power", "power --plan", "way"} {
			plain(command, output(append(strings.Fields(command), file)...))
		}
		plain("diff", output("diff", file, file))
		var record verdict.Report
		if err := json.Unmarshal([]byte(output("check", "--json", file)), &record); err != nil || record.Title != name {
			t.Errorf("%q: JSON has the title %q, %v", name, record.Title, err)
		}
		c := record.Checks[i%len(record.Checks)]
		plain("explain", output("explain", "--", c.ID, file))

		out := filepath.Join(dir, "out")
		output("sheet", "--format", strings.Join(formats, ","), "--working", "--date", "\x1b[2J<b>|=1", "--digest", "=1\u202e", "-o", out, file)
		if got := listing(t, out); got != "sheet.csv sheet.html sheet.json sheet.md sheet.pdf sheet.xlsx" {
			t.Errorf("%q: the folder holds %s", name, got)
		}
		if got := len(strings.Fields(listing(t, dir))); got != 2 {
			t.Errorf("%q: something was written elsewhere: %s", name, listing(t, dir))
		}
		text := func(format string) string {
			text, err := os.ReadFile(filepath.Join(out, "sheet."+format))
			if err != nil {
				t.Fatal(err)
			}
			return string(text)
		}
		for _, format := range []string{"html", "md", "csv"} {
			plain(format, text(format))
		}
		if found := tag.FindString(text("html")); found != "" {
			t.Errorf("%q: the page has %s", name, found)
		}
		for line := range strings.SplitSeq(text("md"), "\n") {
			if found := tag.FindString(strings.ReplaceAll(line, `\<`, "")); found != "" {
				t.Errorf("%q: the Markdown has %s", name, found)
			}
		}
		columns := 0
		for line := range strings.SplitSeq(text("md"), "\n") {
			if !strings.HasPrefix(line, "|") {
				columns = 0
				continue
			}
			cells := strings.Count(strings.NewReplacer(`\\`, "", `\|`, "").Replace(line), "|")
			if columns == 0 {
				columns = cells
			}
			if cells != columns {
				t.Errorf("%q: a row of %d cells in a table of %d: %s", name, cells-1, columns-1, line)
			}
		}
		for _, picture := range pictureNames() {
			decoder := xml.NewDecoder(strings.NewReader(output("draw", picture, file)))
			for {
				token, err := decoder.Token()
				if err == io.EOF {
					break
				}
				if err != nil {
					t.Fatalf("%q: %s: %v", name, picture, err)
				}
				if e, ok := token.(xml.StartElement); ok && (e.Name.Local == "script" || e.Name.Local == "b" || e.Name.Local == "img") {
					t.Errorf("%q: %s has the element %s", name, picture, e.Name.Local)
				}
			}
		}
		reader := csv.NewReader(strings.NewReader(text("csv")))
		reader.FieldsPerRecord = -1
		records, err := reader.ReadAll()
		if err != nil {
			t.Fatalf("%q: %v", name, err)
		}
		for _, record := range records {
			for _, cell := range record {
				if _, err := strconv.ParseFloat(cell, 64); err != nil && len(cell) > 3 && strings.IndexAny(cell, "=+-@＝＋－＠") == 0 {
					t.Errorf("%q: the CSV has the cell %q", name, cell)
				}
			}
		}
		book, err := excelize.OpenFile(filepath.Join(out, "sheet.xlsx"))
		if err != nil {
			t.Fatalf("%q: %v", name, err)
		}
		for _, page := range book.GetSheetList() {
			rows, err := book.GetRows(page)
			if err != nil {
				t.Fatal(err)
			}
			for i, row := range rows {
				for k := range row {
					at, err := excelize.CoordinatesToCellName(k+1, i+1)
					if err != nil {
						t.Fatal(err)
					}
					if formula, err := book.GetCellFormula(page, at); formula != "" || err != nil {
						t.Errorf("%q: %s!%s is the formula %q, %v", name, page, at, formula, err)
					}
				}
			}
		}
		if err := book.Close(); err != nil {
			t.Error(err)
		}
		if page := text("pdf"); !strings.HasPrefix(page, "%PDF-") || !strings.HasSuffix(strings.TrimSpace(page), "%%EOF") || strings.Contains(page, "/JavaScript") || strings.Contains(page, "/URI") {
			t.Errorf("%q: no plain PDF", name)
		}
	}
}

// Characters that nobody sees are refused in every text, by name and place; spaces of other widths are
// spaces.
func TestHiddenCharacters(t *testing.T) {
	for _, c := range []string{`\u0000`, `\u0007`, `\t`, `\n`, `\r`, `\u001b[2J`, `\u007f`, `\u0085`, `\u00ad`, `\u200b`, `\u200d`, `\u200e`, `\u200f`, `\u2028`, `\u202e`, `\u2066`, `\ufeff`, `\ue000`, `\U000E0041`} {
		src := strings.ReplaceAll(hostileSite("@"), "@", "west"+c+"pier")
		var out, problems bytes.Buffer
		if exit := run([]string{"check", "-"}, strings.NewReader(src), &out, &problems); exit != exitUnusable || out.Len() > 0 {
			t.Errorf("%s: exit code %d", c, exit)
		}
		for _, at := range []string{"standard input:1:9: ", "standard input:7:8: ", "standard input:12:8: "} {
			if !strings.Contains(problems.String(), at) || !strings.Contains(problems.String(), "which cannot be seen") {
				t.Errorf("%s: nothing at %s: %s", c, at, problems.String())
			}
		}
		for _, r := range problems.String() {
			if r != '\n' && r != ' ' && !unicode.IsPrint(r) {
				t.Errorf("%s: the message holds %U", c, r)
			}
		}
	}
	wide := strings.Replace(hostileSite("west pier"), `title = "west pier"`, `title = "\u3000west\u00a0pier "`, 1)
	var record verdict.Report
	command(t, &record, wide, "check", "--json", "-")
	if record.Title != "west pier" {
		t.Errorf("the title is %q", record.Title)
	}
	for name, src := range map[string]string{
		"not UTF-8":                      "title = \"\xff\"\n",
		"a zero byte":                    "title = \"\x00\"\n",
		"an escape sequence as it is":    "title = \"\x1b[2J\"\n",
		"marks of direction as they are": "title = \"\u202e\"\n",
		"in a comment":                   "# \x1b[2J\u202e\ntitle = 1\n",
		"in a name":                      "\"a\u202eb\\u001b\" = 1\n",
		"in a header":                    "[\"a\u202eb\\u001b\"]\n",
	} {
		var out, problems bytes.Buffer
		if exit := run([]string{"check", "-"}, strings.NewReader(src), &out, &problems); exit != exitUnusable || out.Len() > 0 {
			t.Errorf("%s: exit code %d", name, exit)
		}
		if at := strings.IndexFunc(problems.String(), func(r rune) bool { return r != '\n' && !unicode.IsPrint(r) }); at >= 0 || problems.Len() == 0 {
			t.Errorf("%s: the message holds a hidden character: %q", name, problems.String())
		}
	}
	// A byte order mark begins a file and is no part of it.
	command(t, &record, "\ufeff"+hostileSite("west pier"), "check", "--json", "-")
}

// What a flag or an argument says is shown in messages and not obeyed.
func TestHostileArguments(t *testing.T) {
	const bad = "\x1b[2J\u202e\u0085\xffx"
	dir := t.TempDir()
	for _, args := range [][]string{
		{bad}, {"check", bad}, {"check", "--" + bad}, {"check", "--units", bad}, {"check", "a", bad}, {"explain", bad}, {"list", bad}, {"draw", bad}, {"draw", "plan", "--format", bad},
		{"sheet", "--format", bad}, {"sheet", "--paper", bad}, {"sheet", "-o", bad + "/" + bad}, {"sheet", "-o", dir + "/\x00"}, {"schema", "-o", bad + "/x"}, {"diff", bad, bad},
		{"new", "--title", "x", "--ground", bad, dir + "/x.toml"}, {"new", "--width", bad, dir + "/x.toml"}, {"new", bad + "/x.toml"}, {"man", dir + "/\x00"},
		{"check", "--watch", bad}, {"help", bad}, {"quick", bad},
		{"quick", "column", "--width", bad}, {"quick", "column", "--width", "2ft", "--height", "8ft", "--mass", "90lb", "--gust-alone", "35mph", "--ground", bad},
		{"quick", "cord", "--watts", "60", "--length", "9ft", "--type", bad},
	} {
		var out, problems bytes.Buffer
		exit := run(args, strings.NewReader(""), &out, &problems)
		said := problems.String() + out.String()
		if at := strings.IndexFunc(said, func(r rune) bool { return r != '\n' && r != '\t' && !unicode.IsPrint(r) }); at >= 0 {
			t.Errorf("%q: obeyed: %q", args, said)
		}
		if exit != exitUnusable && args[0] != "help" {
			t.Errorf("%q: exit code %d, %s", args, exit, said)
		}
	}
	if got := listing(t, dir); got != "" {
		t.Errorf("left behind: %s", got)
	}
	// A title of any text makes a file that check takes.
	file := filepath.Join(dir, "site.toml")
	var out, problems bytes.Buffer
	if exit := run([]string{"new", "--title", "a\"b\\\n[site] " + bad, file}, strings.NewReader(""), &out, &problems); exit != exitHolds {
		t.Fatalf("exit code %d, %s", exit, problems.String())
	}
	if exit := run([]string{"check", file}, strings.NewReader(""), &out, &problems); exit == exitUnusable {
		t.Error(problems.String())
	}
}
