package sheet_test

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"
	"reflect"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"unicode"

	"github.com/xuri/excelize/v2"

	"galefast/internal/check"
	"galefast/internal/drawing"
	"galefast/internal/quantity"
	"galefast/internal/sheet"
	"galefast/internal/site"
	"galefast/internal/takeoff"
	"galefast/internal/verdict"
)

// composed is a site with its document.
type composed struct {
	name string
	r    *verdict.Report
	d    *sheet.Document
}

func compose(t *testing.T, name, src string, s quantity.System, o sheet.Options) composed {
	t.Helper()
	f, problems := site.Load(name, []byte(src))
	if f == nil {
		t.Fatalf("%s: %v", name, problems)
	}
	masses, problems := takeoff.Take(f)
	if problems.Fatal() {
		t.Fatalf("%s: %v", name, problems)
	}
	r, err := check.Run(f, masses, check.Options{EveryDirection: true})
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	taint(reflect.ValueOf(r))
	return composed{name, r, sheet.Compose(f, r, s, o)}
}

// sources are the example sites and those of one and of forty pieces.
func sources(t *testing.T) map[string]string {
	t.Helper()
	list := map[string]string{}
	for _, pattern := range []string{"../../testdata/sites/*.toml", "testdata/*.toml"} {
		names, err := filepath.Glob(filepath.FromSlash(pattern))
		if err != nil || len(names) == 0 {
			t.Fatalf("no site is called %s: %v", pattern, err)
		}
		for _, name := range names {
			src, err := os.ReadFile(name)
			if err != nil {
				t.Fatal(err)
			}
			list[filepath.Base(name)] = string(src)
		}
	}
	return list
}

// writers are the formats of a document.
var writers = []struct {
	name  string
	write func(*sheet.Document, io.Writer) error
}{
	{"html", (*sheet.Document).HTML},
	{"md", (*sheet.Document).Markdown},
	{"csv", (*sheet.Document).CSV},
	{"json", (*sheet.Document).JSON},
	{"xlsx", (*sheet.Document).XLSX},
	{"pdf", func(d *sheet.Document, w io.Writer) error { return d.PDF(w, sheet.A4) }},
}

func written(t testing.TB, c composed, format string) string {
	t.Helper()
	for _, w := range writers {
		if w.name == format {
			var b bytes.Buffer
			if err := w.write(c.d, &b); err != nil {
				t.Fatalf("%s: %s: %v", c.name, format, err)
			}
			return b.String()
		}
	}
	t.Fatalf("no format %s", format)
	return ""
}

// documents are those of every site, made once.
var documents []composed

func everyDocument(t *testing.T) []composed {
	t.Helper()
	if len(documents) == 0 {
		all := sources(t)
		names := make([]string, 0, len(all))
		for name := range all {
			names = append(names, name)
		}
		slices.Sort(names)
		for _, name := range names {
			documents = append(documents, compose(t, name, all[name], quantity.US, sheet.Options{Date: "2025-10-04", Digest: "sha256:0badcafe"}))
		}
	}
	return documents
}

// The same description gives the same bytes in every format.
func TestDocumentIsTheSameTwice(t *testing.T) {
	for name, src := range sources(t) {
		if name == "forty-pieces.toml" {
			continue // slow, and the same code
		}
		one := compose(t, name, src, quantity.SI, sheet.Options{Working: true})
		two := compose(t, name, src, quantity.SI, sheet.Options{Working: true})
		for _, w := range writers {
			if written(t, one, w.name) != written(t, two, w.name) {
				t.Errorf("%s: %s differs between two runs", name, w.name)
			}
		}
	}
}

// The page asks for nothing from anywhere, runs nothing, and is laid out for those who
// hear it: one h1, no heading skipped, names for columns, rows, tables and pictures.
func TestHTML(t *testing.T) {
	for _, c := range everyDocument(t) {
		page := written(t, c, "html")
		for _, bad := range []string{"<script", "javascript:", "src=", "@import", "url(", "<link", "<iframe", "onload", "https:"} {
			if strings.Contains(page, bad) {
				t.Errorf("%s: the page holds %q", c.name, bad)
			}
		}
		for _, address := range regexp.MustCompile(`http:[^" >]*`).FindAllString(page, -1) {
			if address != "http://www.w3.org/2000/svg" { // the name of a vocabulary, which nobody fetches
				t.Errorf("%s: the page names %s", c.name, address)
			}
		}
		for _, want := range []string{`<html lang="en">`, "<title>", `class="skip" href="#main"`, `<main id="main"`, "<nav aria-label", `name="viewport"`, "prefers-color-scheme:dark", "@page"} {
			if !strings.Contains(page, want) {
				t.Errorf("%s: the page lacks %s", c.name, want)
			}
		}
		last := 0
		for i, m := range regexp.MustCompile(`<h(\d)`).FindAllStringSubmatch(page, -1) {
			level, _ := strconv.Atoi(m[1])
			if level > last+1 || level == 1 && i > 0 {
				t.Errorf("%s: heading %d is of level %d after one of %d", c.name, i+1, level, last)
			}
			last = level
		}
		ids := map[string]bool{}
		for _, m := range regexp.MustCompile(` id="([^"]*)"`).FindAllStringSubmatch(page, -1) {
			if ids[m[1]] {
				t.Errorf("%s: the id %s stands twice", c.name, m[1])
			}
			ids[m[1]] = true
		}
		for _, m := range regexp.MustCompile(`(?:href="#|aria-labelledby=")([^"]*)"`).FindAllStringSubmatch(page, -1) {
			for _, id := range strings.Fields(m[1]) {
				if !ids[id] {
					t.Errorf("%s: nothing has the id %s", c.name, id)
				}
			}
		}
		tables, captions := strings.Count(page, "<table"), strings.Count(page, "<caption>")
		if tables == 0 || tables != captions {
			t.Errorf("%s: %d tables with %d captions", c.name, tables, captions)
		}
		if n := len(regexp.MustCompile(`<th [^>]*scope="(col|row)"`).FindAllString(page, -1)); n != strings.Count(page, "<th ") || n == 0 {
			t.Errorf("%s: %d of %d header cells have a scope", c.name, n, strings.Count(page, "<th "))
		}
		if regexp.MustCompile(`<th [^>]*></th>`).MatchString(page) {
			t.Errorf("%s: a header cell is empty", c.name)
		}
		pictures := strings.Count(page, "<svg ")
		if pictures == 0 || pictures != strings.Count(page, `role="img"`) || pictures > strings.Count(page, "<desc ") {
			t.Errorf("%s: %d pictures, not each with a description", c.name, pictures)
		}
	}
}

// Text has at least the contrast of WCAG 2.1, 1.4.3: 4.5 to 1, in the light and the dark.
func TestContrast(t *testing.T) {
	light, dark := drawing.Palette()
	for name, palette := range map[string]string{"light": light, "dark": dark} {
		colours := map[string]float64{}
		for _, m := range regexp.MustCompile(`--(\w+):#(\w{6});`).FindAllStringSubmatch(palette, -1) {
			colours[m[1]] = luminance(t, m[2])
		}
		for _, pair := range [][2]string{{"ink", "paper"}, {"soft", "paper"}, {"accent", "paper"}, {"ink", "wash"}} {
			a, okA := colours[pair[0]]
			b, okB := colours[pair[1]]
			if !okA || !okB {
				t.Fatalf("%s: no %v in %q", name, pair, palette)
			}
			if ratio := (math.Max(a, b) + 0.05) / (math.Min(a, b) + 0.05); ratio < 4.5 {
				t.Errorf("%s: %s on %s has a contrast of %.2f, less than the 4.5 of WCAG 2.1, 1.4.3", name, pair[0], pair[1], ratio)
			}
		}
	}
}

// luminance is the relative luminance of WCAG 2.1.
func luminance(t *testing.T, hex string) float64 {
	v, err := strconv.ParseUint(hex, 16, 32)
	if err != nil {
		t.Fatal(err)
	}
	sum := 0.0
	for i, weight := range []float64{0.2126, 0.7152, 0.0722} {
		c := float64(v>>(16-8*i)&255) / 255
		if c <= 0.04045 {
			c /= 12.92
		} else {
			c = math.Pow((c+0.055)/1.055, 2.4)
		}
		sum += weight * c
	}
	return sum
}

var fiveQuestions = []string{"Will it fall?", "What must be there?", "When do we close?", "What plugs in where?", "What was not checked?"}

// The five questions stand before everything else, with numbers.
func TestFiveQuestionsComeFirst(t *testing.T) {
	for _, c := range everyDocument(t) {
		text := written(t, c, "md")
		front, _, found := strings.Cut(text, "## The site and its pieces")
		if !found {
			t.Fatalf("%s: no part on the pieces", c.name)
		}
		for _, q := range fiveQuestions {
			_, answer, found := strings.Cut(front, "## "+q+"\n\n")
			if !found {
				t.Errorf("%s: %q is not asked on the first page", c.name, q)
				continue
			}
			if answer, _, _ = strings.Cut(answer, "\n## "); len(answer) < 15 {
				t.Errorf("%s: %q is answered with %q", c.name, q, answer)
			}
		}
		for _, want := range []string{"2025-10-04", "sha256:0badcafe", fmt.Sprintf("%d of %d checks fail", c.r.Summary.Fails, len(c.r.Checks))} {
			if !strings.Contains(front, want) {
				t.Errorf("%s: the first page lacks %q", c.name, want)
			}
		}
	}
}

// Every computed check stands in every format with its numbers, and every one that was
// not computed with its reason.
func TestEveryCheckIsThere(t *testing.T) {
	for _, c := range everyDocument(t) {
		page, text, cells := written(t, c, "html"), written(t, c, "md"), written(t, c, "csv")
		for _, x := range c.r.Checks {
			if x.Result == verdict.Unchecked {
				if !strings.Contains(cells, x.Subject) || !strings.Contains(cells, strings.ReplaceAll(x.Why, `"`, `""`)) {
					t.Errorf("%s: %s is not in the list of checks not done", c.name, x.ID)
				}
				continue
			}
			needs, has := x.In(c.r.Units).Figures()
			row := regexp.MustCompile(fmt.Sprintf(`(?m)^%s,"?%s"?,"?%s"?,.*$`, x.Result, regexp.QuoteMeta(x.Subject), regexp.QuoteMeta(x.What)))
			if got := row.FindString(cells); x.Needs != nil && !(strings.Contains(got, ","+needs+",") && strings.Contains(got, ","+has)) {
				t.Errorf("%s: csv has %q for %s, which needs %s and has %s", c.name, got, x.ID, needs, has)
			}
			if x.Needs != nil && !strings.Contains(page, ">"+has+"<") {
				t.Errorf("%s: html lacks %s of %s", c.name, has, x.ID)
			}
			if x.Needs != nil && !strings.Contains(text, "| "+has+" ") {
				t.Errorf("%s: md lacks %s of %s", c.name, has, x.ID)
			}
		}
	}
}

// Numbers are numbers in the workbook, words are words, and both are those of the CSV.
func TestWorkbook(t *testing.T) {
	for _, c := range everyDocument(t) {
		book, err := excelize.OpenReader(strings.NewReader(written(t, c, "xlsx")))
		if err != nil {
			t.Fatalf("%s: %v", c.name, err)
		}
		numbers := 0
		for _, name := range book.GetSheetList()[1:] {
			rows, err := book.GetRows(name)
			if err != nil {
				t.Fatal(err)
			}
			for i, row := range rows {
				for k, cell := range row {
					at, err := excelize.CoordinatesToCellName(k+1, i+1)
					if err != nil {
						t.Fatal(err)
					}
					kind, err := book.GetCellType(name, at)
					if err != nil {
						t.Fatal(err)
					}
					number := kind == excelize.CellTypeUnset || kind == excelize.CellTypeNumber
					if _, err := strconv.ParseFloat(cell, 64); number && err != nil && cell != "" {
						t.Errorf("%s: %s!%s is stored as a number and reads %q", c.name, name, at, cell)
					}
					if formula, _ := book.GetCellFormula(name, at); formula != "" {
						t.Errorf("%s: %s!%s is the formula %q", c.name, name, at, formula)
					}
					if i > 0 && number && cell != "" {
						numbers++
					}
				}
			}
		}
		if numbers < 20 {
			t.Errorf("%s: only %d cells are numbers", c.name, numbers)
		}
		if err := book.Close(); err != nil {
			t.Error(err)
		}
	}
}

// The values of the JSON are those of the record.
func TestRecord(t *testing.T) {
	for _, c := range everyDocument(t) {
		var got struct {
			Checks  []struct{ ID string }
			Ballast struct{ Rows []any }
			Limits  struct{ Rows []any }
			Weigh   struct{ Pieces []any }
			Power   struct{ Nodes []any }
		}
		if err := json.Unmarshal([]byte(written(t, c, "json")), &got); err != nil {
			t.Fatalf("%s: %v", c.name, err)
		}
		if len(got.Checks) != len(c.r.Checks) || len(got.Ballast.Rows) != len(c.r.Ballast.Rows) || len(got.Limits.Rows) != len(c.r.Limits.Rows) ||
			len(got.Weigh.Pieces) != len(c.r.Weigh.Pieces) || len(got.Power.Nodes) != len(c.r.Circuit.Nodes) {
			t.Errorf("%s: the JSON is not the whole record", c.name)
		}
	}
}

// A name from the file is text in every format: no tag, no formula, no sign of Markdown,
// no control character.
func TestNamesInDocuments(t *testing.T) {
	for _, name := range []string{`=HYPERLINK(1)`, `+1`, `-x`, `@x`, `<script>alert(1)</script>`, `a|b*c_d`, `" onload="x`, "hidden " + marker, "東の柱", "'quote", "＝1+1", `C:\\..\\x`, "../../x", "]]>", "${x}"} {
		src := fmt.Sprintf(`title = "%[1]s"
[site]
friction = 0.4
gust_alone = "30 mph"
[[column]]
name = "%[1]s"
at = ["0 m", "0 m"]
foot = ["1 m", "1 m"]
section = [{ name = "%[1]s", width = "0.6 m", height = "2 m", mass = "60 kg" }]
[[supply]]
name = "%[1]s"
volts = 120
breaker = "15 A"
[[cord]]
name = "%[1]s cord"
from = "%[1]s"
gauge = "14 AWG"
type = "SJTW"
length = "20 ft"
[[lamp]]
name = "%[1]s lamp"
on = "%[1]s cord"
watts = 20
`, strings.ReplaceAll(name, `"`, `\"`))
		c := compose(t, "site.toml", src, quantity.US, sheet.Options{Working: true})
		for _, w := range writers {
			out := written(t, c, w.name)
			if w.name == "pdf" || w.name == "xlsx" || w.name == "json" {
				continue // not text for people
			}
			for _, r := range out {
				if r != '\n' && r != ' ' && !unicode.IsPrint(r) {
					t.Errorf("%q: %s holds %U", name, w.name, r)
					break
				}
			}
		}
		if page := written(t, c, "html"); strings.Contains(page, "<script") || strings.Contains(page, `" onload`) {
			t.Errorf("%q acts in the HTML", name)
		}
		reader := csv.NewReader(strings.NewReader(written(t, c, "csv")))
		reader.FieldsPerRecord = -1
		records, err := reader.ReadAll()
		if err != nil {
			t.Fatalf("%q: %v", name, err)
		}
		for _, record := range records {
			for _, cell := range record {
				if _, err := strconv.ParseFloat(cell, 64); err != nil && len(cell) > 1 && strings.IndexAny(cell, "=+-@＝＋－＠") == 0 {
					t.Errorf("%q: the CSV has the cell %q", name, cell)
				}
			}
		}
		book, err := excelize.OpenReader(strings.NewReader(written(t, c, "xlsx")))
		if err != nil {
			t.Fatalf("%q: %v", name, err)
		}
		for _, page := range book.GetSheetList() {
			rows, _ := book.GetRows(page)
			for i, row := range rows {
				for k := range row {
					at, _ := excelize.CoordinatesToCellName(k+1, i+1)
					if formula, _ := book.GetCellFormula(page, at); formula != "" {
						t.Errorf("%q: %s!%s is the formula %q", name, page, at, formula)
					}
				}
			}
		}
	}
}

// The appendix works every check that has a working, and is there only when asked for.
func TestAppendix(t *testing.T) {
	src := sources(t)["school-fair.toml"]
	with, without := compose(t, "site.toml", src, quantity.SI, sheet.Options{Working: true}), compose(t, "site.toml", src, quantity.SI, sheet.Options{})
	page := written(t, with, "html")
	n := 0
	for _, x := range with.r.Checks {
		if len(x.Working) > 0 {
			n++
			if !strings.Contains(page, "<h3 ") || !strings.Contains(page, ">"+x.ID+"</h3>") {
				t.Errorf("the appendix lacks %s", x.ID)
			}
		}
	}
	if n == 0 || strings.Count(page, `<ol class="working">`) != n {
		t.Errorf("%d checks have a working, %d are worked", n, strings.Count(page, `<ol class="working">`))
	}
	const head = ">Appendix: " // a source may be in some appendix
	if !strings.Contains(page, head) || strings.Contains(written(t, without, "html"), head) {
		t.Error("the appendix is there without being asked for, or not although it was")
	}
}

// The inspection list comes from the pieces.
func TestInspection(t *testing.T) {
	text := written(t, compose(t, "site.toml", sources(t)["apple-fair.toml"], quantity.US, sheet.Options{}), "md")
	_, list, _ := strings.Cut(text, "## Inspection before opening")
	for _, want := range []string{
		"west pier: 4 bolts of 3/8 in below the pillar tight", "west pier: the cap sits flat", "sandbag 40 lb in its plinth",
		"west wall: 2 braces fast", "sign: both ends fast", "west leaf: the hook holds it open", "east leaf: nothing is described that holds it open",
		"press house outlet: GFCI or RCD trips at its test button", "run 3: the jacket says 18 AWG SPT-2", "entrance: walked",
	} {
		if !strings.Contains(list, "- [ ] ") || !strings.Contains(strings.ReplaceAll(list, `\`, ""), want) {
			t.Errorf("the inspection list lacks %q", want)
		}
	}
}

// No document calls anything by the word that this project never uses of a thing.
func TestDocumentsPromiseNothing(t *testing.T) {
	word := regexp.MustCompile(`(?i)\bsaf(e|ely|ety)\b`)
	for _, c := range everyDocument(t) {
		for _, format := range []string{"html", "md", "csv", "json"} {
			if found := word.FindString(written(t, c, format)); found != "" && !strings.Contains(found, "afety") {
				t.Errorf("%s: %s says %q", c.name, format, found)
			}
		}
	}
}
