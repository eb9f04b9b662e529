package sheet_test

import (
	"bytes"
	"io"
	"io/fs"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"unicode/utf8"

	"galefast/internal/check"
	"galefast/internal/quantity"
	"galefast/internal/sheet"
	"galefast/internal/site"
	_ "galefast/internal/steady"
	"galefast/internal/takeoff"
	"galefast/internal/verdict"
	sites "galefast/testdata/sites"

	"pgregory.net/rapid"
)

// finish does the whole job on a description.
func finish(t *testing.T, name, src string) *verdict.Report {
	t.Helper()
	f, problems := site.Load(name, []byte(src))
	if f == nil {
		t.Fatalf("%s: %v", name, problems)
	}
	masses, problems := takeoff.Take(f)
	if problems.Fatal() {
		t.Fatalf("%s: %v", name, problems)
	}
	r, err := check.Run(f, masses, check.Options{})
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	return r
}

// finished are the example sites' reports by name, worked once.
var finished = map[string]*verdict.Report{}

func examples(t *testing.T) map[string]*verdict.Report {
	t.Helper()
	if len(finished) > 0 {
		return finished
	}
	names, err := fs.Glob(sites.Files, "*.toml")
	if err != nil || len(names) == 0 {
		t.Fatalf("no example sites: %v", err)
	}
	for _, name := range names {
		src, err := sites.Files.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		finished[name] = finish(t, name, string(src))
	}
	return finished
}

// view is one output for people.
type view struct {
	name  string
	print func(io.Writer, *verdict.Report, sheet.Style) error
}

var views = []view{
	{"check", sheet.Check}, {"check --explain", sheet.CheckExplained}, {"weigh", sheet.Weigh}, {"wind", sheet.Wind},
	{"ballast", sheet.Ballast}, {"limits", sheet.Limits}, {"power", sheet.Power}, {"way", sheet.Way},
}

func text(t testing.TB, v view, r *verdict.Report, s sheet.Style) string {
	t.Helper()
	var b bytes.Buffer
	if err := v.print(&b, r, s); err != nil {
		t.Fatalf("%s: %v", v.name, err)
	}
	return b.String()
}

var systems = []quantity.System{quantity.US, quantity.SI}

// Nothing runs past 100 columns, and nothing trails.
func TestWidth(t *testing.T) {
	for name, r := range examples(t) {
		for _, v := range views {
			for _, system := range systems {
				for i, line := range strings.Split(text(t, v, r, sheet.Style{System: system}), "\n") {
					if n := utf8.RuneCountInString(line); n > sheet.Width {
						t.Errorf("%s: %s: line %d has %d columns: %s", name, v.name, i+1, n, line)
					}
					if strings.TrimRight(line, " \t") != line {
						t.Errorf("%s: %s: line %d trails: %q", name, v.name, i+1, line)
					}
				}
			}
		}
	}
}

var numeric = regexp.MustCompile(`^-?[0-9]+(\.[0-9]+)?$`)

// Under a header that names a unit every number ends where the header ends.
func TestNumbersAreRightAligned(t *testing.T) {
	unit := regexp.MustCompile(`\S+( \S+)* \[[^\]]+\]|\b(has|Kz|Cf|units|missing|there now|count)\b`)
	compared := 0
	for name, r := range examples(t) {
		for _, v := range views {
			lines := strings.Split(text(t, v, r, sheet.Style{}), "\n")
			for i := 1; i < len(lines); i++ {
				if !strings.HasPrefix(lines[i], "---") {
					continue
				}
				var ends []int
				for _, at := range unit.FindAllStringIndex(lines[i-1], -1) {
					ends = append(ends, utf8.RuneCountInString(lines[i-1][:at[1]]))
				}
				for k := i + 1; k < len(lines) && lines[k] != ""; k++ {
					row := []rune(lines[k])
					if strings.HasPrefix(lines[k], "      ") {
						continue // words under a row
					}
					for _, end := range ends {
						if end > len(row) {
							continue
						}
						start := end
						for start > 0 && row[start-1] != ' ' {
							start--
						}
						cell := string(row[start:end])
						if end < len(row) && row[end] != ' ' {
							t.Errorf("%s: %s: a cell runs over the end of its header at column %d:\n%s\n%s", name, v.name, end, lines[i-1], lines[k])
						} else if numeric.MatchString(cell) {
							compared++
						}
					}
				}
			}
		}
	}
	if compared < 200 {
		t.Errorf("only %d numbers were compared", compared)
	}
}

// In each table failing rows come first, each with the words that cure it.
func TestFailingRowsComeFirstWithACure(t *testing.T) {
	failing := 0
	for name, r := range examples(t) {
		lines := strings.Split(text(t, views[0], r, sheet.Style{}), "\n")
		for i := 1; i < len(lines); i++ {
			if !strings.HasPrefix(lines[i], "---") {
				continue
			}
			held := false
			for k := i + 1; k < len(lines) && lines[k] != ""; k++ {
				switch {
				case strings.HasPrefix(lines[k], "holds"):
					held = true
				case strings.HasPrefix(lines[k], "fails"):
					failing++
					if held {
						t.Errorf("%s: a failing row below one that holds: %s", name, lines[k])
					}
					under := ""
					for m := k + 1; m < len(lines) && strings.HasPrefix(lines[m], "      "); m++ {
						under += lines[m] + " "
					}
					if !strings.Contains(under, "cure: ") {
						t.Errorf("%s: nothing is said to cure %s: %q", name, lines[k], under)
					}
				}
			}
		}
		if got := r.Summary.Fails; got > 0 && !strings.Contains(lines[1], strconv.Itoa(got)) {
			t.Errorf("%s: the answer does not count the %d failures: %s", name, got, lines[1])
		}
	}
	if failing == 0 {
		t.Error("no example fails anywhere: nothing was tried")
	}
}

// What is unchecked is named with its reason, and never as a pass.
func TestUncheckedIsNamed(t *testing.T) {
	for name, r := range examples(t) {
		out := strings.Join(strings.Fields(text(t, views[0], r, sheet.Style{})), " ")
		for _, c := range r.Checks {
			if c.Result == verdict.Unchecked && !strings.Contains(out, c.ID+": "+c.Why) {
				t.Errorf("%s: %s is unchecked and its reason is not printed", name, c.ID)
			}
		}
	}
}

// row prints one check and returns what the table says it needs and has.
func row(t testing.TB, c verdict.Check) (needs, has string) {
	t.Helper()
	c.ID, c.Subject, c.What = "power/x/y", "x", "y"
	c.Decide()
	r := &verdict.Report{Checks: []verdict.Check{c}}
	r.Count()
	for _, line := range strings.Split(text(t, views[0], r, sheet.Style{}), "\n") {
		if f := strings.Fields(line); len(f) > 2 && f[1] == "x" {
			return f[len(f)-2], f[len(f)-1]
		}
	}
	t.Fatalf("no row of %+v", c)
	return "", ""
}

func value(v float64) *float64 { return &v }

func TestRounding(t *testing.T) {
	for _, c := range []struct {
		kind       verdict.Kind
		sense      verdict.Sense
		unit       string
		needs, has float64
		want       string
	}{
		{verdict.Standing, verdict.AtLeast, "1", 1.5, 1.499, "1.49"},
		{verdict.Standing, verdict.AtLeast, "1", 1.5, 1.4999999, "1.49"},
		{verdict.Standing, verdict.AtLeast, "1", 1.5, 1.5, "1.50"},
		{verdict.Standing, verdict.AtLeast, "1", 1.5, 1.509, "1.50"},
		{verdict.Standing, verdict.AtLeast, "1", 1.5, 0.289, "0.28"},
		{verdict.Power, verdict.AtMost, "%", 3, 3.001, "3.01"},
		{verdict.Power, verdict.AtMost, "%", 3, 3, "3.00"},
		{verdict.Power, verdict.AtMost, "%", 3, 2.991, "3.00"},
		{verdict.Power, verdict.AtLeast, "A", 7, 10, "10.00"},
	} {
		_, got := row(t, verdict.Check{Kind: c.kind, Sense: c.sense, Unit: c.unit, Needs: &c.needs, Has: &c.has})
		if got != c.want {
			t.Errorf("%g against %s %g is printed as %s, want %s", c.has, c.sense, c.needs, got, c.want)
		}
	}
}

// Against a limit of two decimals a printed number fails or passes as the check does.
func TestPrintedNumbersAgreeWithTheResult(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		needs := float64(rapid.IntRange(1, 2000).Draw(r, "needs")) / 100
		off := math.Pow(10, rapid.Float64Range(-9, 0).Draw(r, "off"))
		if rapid.Bool().Draw(r, "below") {
			off = -off
		}
		c := verdict.Check{Kind: verdict.Power, Unit: "A", Needs: &needs, Has: value(needs + off), Sense: rapid.SampledFrom([]verdict.Sense{verdict.AtLeast, verdict.AtMost}).Draw(r, "sense")}
		a, b := row(t, c)
		printed := verdict.Check{Sense: c.Sense}
		for _, x := range []struct {
			text string
			to   **float64
		}{{a, &printed.Needs}, {b, &printed.Has}} {
			v, err := strconv.ParseFloat(x.text, 64)
			if err != nil {
				r.Fatal(err)
			}
			*x.to = &v
		}
		c.Decide()
		printed.Decide()
		if c.Result == verdict.Fails && printed.Result == verdict.Holds {
			r.Errorf("%v against %s %v fails, and is printed as %s against %s", *c.Has, c.Sense, needs, b, a)
		}
	})
}

// Without color there are no escape sequences; with it, only the ones of bold, and
// the words stay the same.
func TestColorAddsNothingButBold(t *testing.T) {
	bold := strings.NewReplacer("\x1b[1m", "", "\x1b[0m", "")
	for name, r := range examples(t) {
		for _, v := range views {
			plain, colored := text(t, v, r, sheet.Style{}), text(t, v, r, sheet.Style{Color: true})
			if strings.Contains(plain, "\x1b") {
				t.Errorf("%s: %s prints escape sequences without color", name, v.name)
			}
			if bold.Replace(colored) != plain {
				t.Errorf("%s: %s says something else in color", name, v.name)
			}
		}
	}
}

// Every number of a table is finite and none is a negative nought.
func TestNoStrangeNumbers(t *testing.T) {
	strange := regexp.MustCompile(`\b(NaN|Inf)\b|-0\.0+\b|%!|not available`)
	for name, r := range examples(t) {
		for _, v := range views {
			for _, system := range systems {
				if m := strange.FindString(text(t, v, r, sheet.Style{System: system})); m != "" {
					t.Errorf("%s: %s prints %q", name, v.name, m)
				}
			}
		}
	}
}

// promise is a word that no output may use of anything.
var promise = regexp.MustCompile(`(?i)\b(safe|safely|guaranteed)\b`)

// The cautions close every view that somebody may act on.
func TestCautionsAreThere(t *testing.T) {
	for name, r := range examples(t) {
		for _, v := range views {
			if v.name == "weigh" {
				continue
			}
			out := strings.Join(strings.Fields(text(t, v, r, sheet.Style{})), " ")
			for _, c := range r.Cautions {
				if !strings.Contains(out, c) {
					t.Errorf("%s: %s lacks the caution %q", name, v.name, c)
				}
			}
			if word := promise.FindString(out); word != "" {
				t.Errorf("%s: %s says %q of something", name, v.name, word)
			}
		}
	}
}
