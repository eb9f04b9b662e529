package sheet_test

import (
	"bytes"
	"os"
	"regexp"
	"strings"
	"testing"

	"galefast/internal/quantity"
	"galefast/internal/sheet"
	"galefast/internal/verdict"
)

// What the sheet says is not looked at follows the second list of CAUTIONS.md: a part for each line,
// in words of that line, in their order.
func TestNotLookedAtFollowsCautions(t *testing.T) {
	src, err := os.ReadFile("../../CAUTIONS.md")
	if err != nil {
		t.Fatal(err)
	}
	_, list, found := strings.Cut(string(src), "Not looked at, and not listed either:\n")
	if list, _, _ = strings.Cut(list, "\n## "); !found {
		t.Fatal("CAUTIONS.md has no list of what is not looked at")
	}
	lines := strings.Split(strings.TrimSpace(list), "\n- ")
	text := written(t, everyDocument(t)[0], "md")
	sentence := regexp.MustCompile(`Not looked at in any way: (.*)\.\n`).FindStringSubmatch(text)
	if sentence == nil {
		t.Fatal("the sheet does not say what is not looked at")
	}
	parts := strings.Split(sentence[1], "; ")
	if len(parts) != len(lines) {
		t.Fatalf("%d parts in the sheet, %d lines in CAUTIONS.md", len(parts), len(lines))
	}
	words := regexp.MustCompile(`[a-z]+`)
	for i, part := range parts {
		rest := words.FindAllString(lines[i], -1)
		for _, w := range words.FindAllString(part, -1) {
			for len(rest) > 0 && rest[0] != w {
				rest = rest[1:]
			}
			if len(rest) == 0 {
				t.Errorf("%q of the sheet: %q is not in %q, or not in that order", part, w, lines[i])
				break
			}
		}
	}
}

// The head of a working, and what changed between two descriptions, are in the units of the tables.
func TestFiguresInTheReadersUnits(t *testing.T) {
	was, is := examples(t)["apple-fair.toml"], examples(t)["apple-fair-ballasted.toml"]
	for _, s := range systems {
		var changes bytes.Buffer
		if err := sheet.Diff(&changes, verdict.Compare(was, is), "was", "is", sheet.Style{System: s}); err != nil {
			t.Fatal(err)
		}
		for unit, in := range map[string][quantity.SI + 1]string{"m": {"in", "m"}, "kg": {"lb", "kg"}} {
			checked := 0
			for i := range is.Checks {
				c := &is.Checks[i]
				if c.Unit != unit || c.Result == verdict.Unchecked {
					continue
				}
				checked++
				var b bytes.Buffer
				if err := sheet.Explain(&b, is, c, sheet.Style{System: s}); err != nil {
					t.Fatal(err)
				}
				needs, has := c.In(s.String()).Figures()
				head := strings.Split(b.String(), "\n")[1]
				if want := string(c.Sense) + " " + needs + " " + in[s] + ", has " + has + " " + in[s]; !strings.HasSuffix(head, want) {
					t.Errorf("%s, %v: %q, want %q", c.ID, s, head, want)
				}
				line := regexp.MustCompile(`(?m)^.*` + regexp.QuoteMeta(c.Subject) + ` .*` + regexp.QuoteMeta(c.What) + ` .*$`).FindString(changes.String())
				if line != "" && !(strings.Contains(line, " "+in[s]+" ") && strings.HasSuffix(line, " "+has)) {
					t.Errorf("%s, %v: diff says %q, want %s %s", c.ID, s, line, has, in[s])
				}
			}
			if checked == 0 {
				t.Errorf("no check in %s", unit)
			}
		}
	}
}
