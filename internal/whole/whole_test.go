// Package whole holds the fuzz targets that take the whole path, from the bytes of a description
// to every format of the sheet. It has tests and nothing else.
package whole

import (
	"bytes"
	"encoding/binary"
	"encoding/csv"
	"encoding/json"
	"encoding/xml"
	"errors"
	"fmt"
	"hash/fnv"
	"io"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"reflect"
	"regexp"
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"

	"github.com/xuri/excelize/v2"

	"galefast/internal/check"
	"galefast/internal/drawing"
	"galefast/internal/leash"
	"galefast/internal/quantity"
	"galefast/internal/sheet"
	"galefast/internal/site"
	"galefast/internal/takeoff"
	"galefast/internal/verdict"
)

// rounds is how often a description is mended before it is given up.
const rounds = 40

// FuzzDescription makes descriptions out of the bytes, valid and nearly valid, and takes each from
// file to result: as it was made, and, where it is refused, mended where the problems point.
func FuzzDescription(f *testing.F) {
	random := rand.New(rand.NewPCG(1, 2))
	for range 4 { // the rest are files
		data := make([]byte, 40+random.IntN(600))
		for i := 0; i+8 <= len(data); i += 8 {
			binary.LittleEndian.PutUint64(data[i:], random.Uint64())
		}
		f.Add(data)
	}
	f.Fuzz(generated)
}

// generated makes one description and takes it from file to result.
func generated(t *testing.T, data []byte) {
	c := &choices{data}
	options := check.Options{EveryDirection: c.once(3), LimitsAround: c.once(16), PowerPlan: c.once(2)}
	n, g := description(c)
	if g.grouped {
		options.LimitsAround = false // many seconds
	}
	for round := 0; ; round++ {
		p := n.print()
		problems := wholePath(t, p.text.String(), options, g.temper == plain)
		if !problems.Fatal() || round == rounds {
			return
		}
		mended := false
		for _, problem := range problems {
			if !problem.Warning && p.mend(problem.Place.Line) {
				mended = true
			}
		}
		if !mended {
			return
		}
	}
}

// FuzzFile takes any bytes for a file.
func FuzzFile(f *testing.F) {
	files, err := filepath.Glob(filepath.FromSlash("../site/testdata/forms/*.toml"))
	more, moreErr := filepath.Glob(filepath.FromSlash("../../testdata/broken/*.toml"))
	if err = errors.Join(err, moreErr); err != nil || len(files) == 0 || len(more) == 0 {
		f.Fatalf("%d forms and %d broken files, %v", len(files), len(more), err)
	}
	for _, file := range append(files, more...) {
		src, err := os.ReadFile(file)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(string(src))
	}
	f.Add("[site]\ngust_alone = \"40 mph\"\n[[column]]\nname = \"post\"\nat = [\"0 ft\", \"0 ft\"]\nfoot = [\"30 in\", \"30 in\"]\nsection = [{ name = \"body\", width = \"24 in\", height = \"9 ft\", mass = \"90 lb\" }]\n")
	f.Add("[site]\ngust_alone = \"40 mph\"\n[[supply]]\nname = \"outlet\"\nvolts = 120\n[[lamp]]\nname = \"lamp\"\non = \"outlet\"\nwatts = 9\n")
	f.Fuzz(func(t *testing.T, src string) { wholePath(t, src, check.Options{}, false) })
}

// mostPieces that stand keep an execution short.
const mostPieces = 4

// wholePath does all that the program does with a description, holds every output to what any
// output must be, and returns the problems of the file. The tables of sane sizes keep to their width.
func wholePath(t *testing.T, src string, options check.Options, sane bool) site.Problems {
	draw := fnv.New32a()
	draw.Write([]byte(src))
	lot := draw.Sum32()
	first, problems := outputs(t, src, options, lot%16 == 0)
	for _, o := range first {
		o.hold(t, src, sane)
	}
	if lot%16 == 1 {
		again, _ := outputs(t, src, options, lot%16 == 0)
		if len(again) != len(first) {
			t.Fatalf("%d outputs, and then %d of\n%s", len(first), len(again), src)
		}
		for i := range first {
			if !bytes.Equal(first[i].bytes, again[i].bytes) {
				t.Errorf("%s differs between two runs on\n%s", first[i].name, src)
			}
		}
	}
	return problems
}

// output is one thing that the program writes.
type output struct {
	name  string
	form  string // text, json, csv, md, html, svg, xlsx, pdf, png
	bytes []byte
}

// outputs are all of a description, the problems of the file first; with binary those forms too
// that take longer.
func outputs(t *testing.T, src string, options check.Options, binary bool) ([]output, site.Problems) {
	t.Helper()
	defer leash.Hold(func() string { return src })()
	var all []output
	add := func(name, form string, write func(io.Writer) error) {
		var b bytes.Buffer
		if err := write(&b); err != nil {
			t.Errorf("%s: %v, of\n%s", name, err, src)
		}
		all = append(all, output{name, form, b.Bytes()})
	}
	const name = "site.toml"
	f, problems := site.Load(name, []byte(src))
	if (f == nil) != problems.Fatal() {
		t.Fatalf("file %v with problems %v, of\n%s", f != nil, problems, src)
	}
	var masses *takeoff.Takeoff
	if f != nil {
		var more site.Problems
		masses, more = takeoff.Take(f)
		problems = append(problems, more...)
		problems.Sort()
	}
	lines := strings.Count(src, "\n") + 1
	for _, p := range problems {
		if p.Place.Line < 1 || p.Place.Line > lines || p.Place.Col < 1 || p.Code == "" || p.Code == "internal" || p.Message == "" {
			t.Errorf("problem %+v in %d lines of\n%s", p, lines, src)
		}
	}
	add("problems", "text", func(w io.Writer) error { return problems.Write(w, []byte(src), false) })
	if problems.Fatal() || len(f.Columns)+len(f.Walls)+len(f.Spans) > mostPieces {
		return all, problems
	}
	r, err := check.Run(f, masses, options)
	if err != nil {
		if !strings.Contains(err.Error(), name+":") {
			t.Errorf("refused without a line: %v, of\n%s", err, src)
		}
		return all, problems
	}
	if at := infinite(reflect.ValueOf(r), "report"); at != "" {
		t.Errorf("%s is not finite, of\n%s", at, src)
	}
	ids := map[string]bool{}
	for i := range r.Checks {
		c := &r.Checks[i]
		decided := *c
		decided.Decide()
		switch {
		case ids[c.ID]:
			t.Errorf("two checks are called %s, of\n%s", c.ID, src)
		case c.Result == verdict.Unchecked && c.Why == "":
			t.Errorf("%s is unchecked without a reason, of\n%s", c.ID, src)
		case c.Result == verdict.Fails && c.Needs == nil && c.Why+c.Mechanism == "":
			t.Errorf("%s fails without numbers or a reason, of\n%s", c.ID, src)
		case decided.Result != c.Result:
			t.Errorf("%s %s, and its numbers do not say so, of\n%s", c.ID, c.Result, src)
		}
		ids[c.ID] = true
	}
	for _, system := range []quantity.System{quantity.US, quantity.SI} {
		style := sheet.Style{System: system}
		for _, v := range views {
			add(v.name+" in "+system.String(), "text", func(w io.Writer) error { return v.print(w, r, style) })
		}
	}
	for i := range r.Wind.Rows {
		row := &r.Wind.Rows[i]
		add("explain "+row.ID, "text", func(w io.Writer) error { return sheet.ExplainWind(w, r, row, sheet.Style{}) })
	}
	for _, part := range []any{r, r.Weigh, r.Wind, r.Ballast, r.Limits, r.Circuit, r.Hardware, r.Passage} {
		add(fmt.Sprintf("%T as JSON", part), "json", func(w io.Writer) error { return sheet.JSON(w, part) })
	}
	if d := verdict.Compare(r, r); !d.Same() {
		t.Errorf("the result differs from itself: %+v, of\n%s", d, src)
	}
	nothing := &verdict.Report{}
	for _, change := range []*verdict.Difference{verdict.Compare(nothing, r), verdict.Compare(r, nothing)} {
		add("diff", "text", func(w io.Writer) error { return sheet.Diff(w, change, name, name, sheet.Style{}) })
		add("diff as JSON", "json", func(w io.Writer) error { return sheet.JSON(w, change) })
	}
	d := sheet.Compose(f, r, f.System(), sheet.Options{Working: true})
	for _, form := range []struct {
		name   string
		write  func(io.Writer) error
		binary bool
	}{{"html", d.HTML, false}, {"md", d.Markdown, false}, {"csv", d.CSV, false}, {"json", d.JSON, false}, {"xlsx", d.XLSX, true},
		{"pdf", func(w io.Writer) error { return d.PDF(w, sheet.A4) }, true}} {
		if !form.binary || binary {
			add("sheet", form.name, form.write)
		}
	}
	scenes := []*drawing.Scene{drawing.Plan(f, r, f.System())}
	scenes = append(scenes, drawing.Elevations(f, r, f.System())...)
	scenes = append(scenes, drawing.Roses(r, f.System())...)
	scenes = append(scenes, drawing.Supply(f, r, f.System())...)
	for _, s := range scenes {
		add("drawing", "svg", s.SVG)
		if binary && len(scenes) < 4 {
			add("drawing", "png", s.PNG)
		}
	}
	return all, problems
}

var views = []struct {
	name  string
	print func(io.Writer, *verdict.Report, sheet.Style) error
}{
	{"check --explain", sheet.CheckExplained}, {"weigh", sheet.Weigh}, {"wind", sheet.Wind}, {"ballast", sheet.Ballast}, {"limits", sheet.Limits},
	{"hardware", sheet.Hardware}, {"power", sheet.Power}, {"way", sheet.Way},
}

// noNumber is what no output says: a number that is none, or a verb of a format.
var noNumber = regexp.MustCompile(`\b(NaN|[+-]?Inf)\b|%!|-0\.0+\b`)

// named are words of the description itself, which may be shown.
var named = regexp.MustCompile(`NaN|Inf|%!|-0\.0`)

// hold tests what every output of its form must be.
func (o output) hold(t *testing.T, src string, sane bool) {
	fault := func(format string, args ...any) {
		t.Errorf("%s (%s): %s, of\n%s", o.name, o.form, fmt.Sprintf(format, args...), src)
	}
	text := string(o.bytes)
	switch o.form {
	case "pdf":
		if !strings.HasPrefix(text, "%PDF-") || !strings.HasSuffix(strings.TrimSpace(text), "%%EOF") {
			fault("no PDF")
		}
		return
	case "png":
		if !strings.HasPrefix(text, "\x89PNG") {
			fault("no PNG")
		}
		return
	case "xlsx":
		book, err := excelize.OpenReader(bytes.NewReader(o.bytes))
		if err != nil {
			fault("%v", err)
			return
		}
		text = ""
		for _, page := range book.GetSheetList() {
			rows, err := book.GetRows(page)
			if err != nil {
				fault("%v", err)
			}
			for _, row := range rows {
				text += strings.Join(row, "\t") + "\n"
			}
		}
	case "json":
		if !json.Valid(o.bytes) {
			fault("no JSON")
		}
	case "csv":
		r := csv.NewReader(bytes.NewReader(o.bytes))
		r.FieldsPerRecord = -1
		if _, err := r.ReadAll(); err != nil {
			fault("%v", err)
		}
	case "svg":
		d := xml.NewDecoder(bytes.NewReader(o.bytes))
		for {
			_, err := d.Token()
			if err == io.EOF {
				break
			}
			if err != nil {
				fault("%v", err)
				break
			}
		}
	case "text":
		for i, line := range strings.Split(text, "\n") {
			if sane && o.name != "problems" && utf8.RuneCountInString(line) > sheet.Width {
				fault("line %d has %d columns: %s", i+1, utf8.RuneCountInString(line), line)
			}
		}
	}
	if !utf8.ValidString(text) {
		fault("no UTF-8")
	}
	if i := strings.IndexFunc(text, func(r rune) bool { return unicode.IsControl(r) && !strings.ContainsRune("\n\t\r", r) }); i >= 0 {
		fault("control character in %q", text[max(0, i-40):min(len(text), i+40)])
	}
	odd := func(sign string) bool { return strings.Contains(text, sign) }
	if !odd("NaN") && !odd("Inf") && !odd("%!") && !odd("-0.0") {
		return // without the pattern, which takes long
	}
	if at := noNumber.FindStringIndex(text); at != nil && o.name != "problems" && !named.MatchString(src) {
		fault("no number in %q", text[max(0, at[0]-80):min(len(text), at[1]+40)])
	}
}

// infinite names the first number within v that is none.
func infinite(v reflect.Value, path string) string {
	switch v.Kind() {
	case reflect.Float64:
		if math.IsNaN(v.Float()) || math.IsInf(v.Float(), 0) {
			return path
		}
	case reflect.Pointer:
		if !v.IsNil() {
			return infinite(v.Elem(), path)
		}
	case reflect.Struct:
		for i := range v.NumField() {
			if at := infinite(v.Field(i), path+"."+v.Type().Field(i).Name); at != "" {
				return at
			}
		}
	case reflect.Slice, reflect.Array:
		for i := range v.Len() {
			if at := infinite(v.Index(i), fmt.Sprintf("%s[%d]", path, i)); at != "" {
				return at
			}
		}
	}
	return ""
}
