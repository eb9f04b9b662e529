package check_test

import (
	"encoding/csv"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"galefast/internal/check"
	"galefast/internal/site"
	"galefast/internal/takeoff"
	"galefast/internal/verdict"
)

// tester is what the helpers need of testing.TB and of rapid.T.
type tester interface {
	Helper()
	Fatalf(format string, args ...any)
	Errorf(format string, args ...any)
}

// runSite does the whole job on a description.
func runSite(t tester, src string) *verdict.Report {
	t.Helper()
	f, problems := site.Load("site.toml", []byte(src))
	if f == nil {
		t.Fatalf("the description was refused: %v\n%s", problems, src)
	}
	masses, problems := takeoff.Take(f)
	if problems.Fatal() {
		t.Fatalf("the take-off was refused: %v\n%s", problems, src)
	}
	r, err := check.Run(f, masses, check.Options{})
	if err != nil {
		t.Fatalf("the job was refused: %v\n%s", err, src)
	}
	return r
}

// reference reads a file of published values or a description that goes with them.
func reference(t tester, name string) string {
	t.Helper()
	src, err := os.ReadFile(filepath.Join("..", "..", "testdata", "reference", name))
	if err != nil {
		t.Fatalf("%v", err)
	}
	return string(src)
}

// referenceRows reads a CSV of published values, each row by its column names.
func referenceRows(t tester, name string) []map[string]string {
	t.Helper()
	records, err := csv.NewReader(strings.NewReader(reference(t, name))).ReadAll()
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	var rows []map[string]string
	for _, rec := range records[1:] {
		row := map[string]string{}
		for i, key := range records[0] {
			row[key] = rec[i]
		}
		if row["source"] == "" || row["certainty"] == "" {
			t.Fatalf("%s: row %v has no source or certainty", name, rec)
		}
		rows = append(rows, row)
	}
	return rows
}

func float(t tester, text string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(text, 64)
	if err != nil {
		t.Fatalf("%v", err)
	}
	return v
}

// halfDigit is half of the last printed digit of a published number.
func halfDigit(text string) float64 {
	_, decimals, _ := strings.Cut(text, ".")
	return 0.5*math.Pow(10, -float64(len(decimals))) + 1e-12
}

// has is the number of a check that must be there.
func has(t tester, r *verdict.Report, id string) float64 {
	t.Helper()
	c, ok := r.Find(id)
	if !ok || c.Has == nil {
		t.Fatalf("no number for %s", id)
	}
	return *c.Has
}

// near compares to a relative tolerance.
func near(a, b, tolerance float64) bool {
	return math.Abs(a-b) <= tolerance*math.Max(math.Abs(a), math.Abs(b))
}

// section is one section of a column in a description; lengths in m, mass in kg.
type section struct {
	name, shape          string
	width, depth, height float64
	mass                 float64
	seated               bool
}

// column is a column in a description.
type column struct {
	name     string
	at       [2]float64
	turn     float64 // degrees
	foot     [2]float64
	sections []section
}

func (c column) toml() string {
	var b strings.Builder
	fmt.Fprintf(&b, "[[column]]\nname = %q\nat = [\"%.9f m\", \"%.9f m\"]\nturn = \"%.9f deg\"\nfoot = [\"%.9f m\", \"%.9f m\"]\ntolerance = \"0 %%\"\n",
		c.name, c.at[0], c.at[1], c.turn, c.foot[0], c.foot[1])
	for i, s := range c.sections {
		fmt.Fprintf(&b, "[[column.section]]\nname = %q\nshape = %q\nwidth = \"%.9f m\"\nheight = \"%.9f m\"\nmass = \"%.9f kg\"\n", s.name, s.shape, s.width, s.height, s.mass)
		if s.shape == "rectangle" {
			fmt.Fprintf(&b, "depth = \"%.9f m\"\n", s.depth)
		}
		if i > 0 && !s.seated {
			b.WriteString("joint = { bolts = 4, size = \"10 mm\" }\n")
		}
	}
	return b.String()
}

// place is the [site] and [require] of a description.
type place struct {
	friction, slope float64
	terrain         string
	open, alone     float64 // m/s; no gust_open when negative
	lean, at        float64 // N, m
}

func (p place) toml() string {
	open := ""
	if p.open >= 0 {
		open = fmt.Sprintf("gust_open = \"%.12f m/s\"\n", p.open)
	}
	return fmt.Sprintf("units = \"si\"\n[site]\nfriction = %.9f\nslope = \"%.9f %%\"\nterrain = %q\n%sgust_alone = \"%.12f m/s\"\n[require]\noverturning = 1.5\nsliding = 1.5\nlean = { force = \"%.9f N\", height = \"%.9f m\" }\n",
		p.friction, 100*p.slope, p.terrain, open, p.alone, p.lean, p.at)
}

// loads is a ballast entry of 5 kg units; where is `section = "plinth"` or `place = "toes"`.
func loads(in, where string, count int) string {
	return fmt.Sprintf("[[ballast]]\nin = %q\n%s\nmass = \"5 kg\"\ncount = %d\n", in, where, count)
}

// standingOf lists the computed standing checks of a report.
func standingOf(r *verdict.Report) []verdict.Check {
	var list []verdict.Check
	for _, c := range r.Checks {
		if c.Kind == verdict.Standing && c.Result != verdict.Unchecked {
			list = append(list, c)
		}
	}
	return list
}

// failing names the standing checks that fail.
func failing(r *verdict.Report) []string {
	var list []string
	for _, c := range standingOf(r) {
		if c.Result == verdict.Fails {
			list = append(list, c.ID)
		}
	}
	return list
}

func runFile(t testing.TB, name string) *verdict.Report {
	t.Helper()
	return runSite(t, reference(t, name))
}
