package sheet_test

import (
	"bytes"
	"errors"
	"io"
	"strings"
	"testing"

	"galefast/internal/sheet"
	"galefast/internal/verdict"
)

// pages are everything that is printed of a record, by command.
func pages(t *testing.T) map[string]func(io.Writer, sheet.Style) error {
	t.Helper()
	before, after := examples(t)["apple-fair.toml"], examples(t)["apple-fair-ballasted.toml"]
	list := map[string]func(io.Writer, sheet.Style) error{
		"diff": func(w io.Writer, s sheet.Style) error {
			return sheet.Diff(w, verdict.Compare(before, after), "one", "two", s)
		},
		"explain":      func(w io.Writer, s sheet.Style) error { return sheet.Explain(w, before, &before.Checks[0], s) },
		"explain wind": func(w io.Writer, s sheet.Style) error { return sheet.ExplainWind(w, before, &before.Wind.Rows[0], s) },
		"quick piece":  func(w io.Writer, s sheet.Style) error { return sheet.QuickPiece(w, before, s, true) },
		"quick cord":   func(w io.Writer, s sheet.Style) error { return sheet.QuickCord(w, before, s, true) },
		"list": func(w io.Writer, s sheet.Style) error {
			return sheet.List(w, []string{"name", "also", "mass [lb]", "source", "certainty"}, [][]string{{"brick", "stone", "5", "a scale", "from memory"}, {"sand", "", "40", "a bag", "from memory"}}, s)
		},
		"json": func(w io.Writer, _ sheet.Style) error { return sheet.JSON(w, before) },
	}
	for name, page := range map[string]func(io.Writer, *verdict.Report, sheet.Style) error{
		"weigh": sheet.Weigh, "wind": sheet.Wind, "ballast": sheet.Ballast, "limits": sheet.Limits, "check": sheet.Check,
		"check --explain": sheet.CheckExplained, "hardware": sheet.Hardware, "power": sheet.Power, "way": sheet.Way,
	} {
		list[name] = func(w io.Writer, s sheet.Style) error { return page(w, before, s) }
	}
	return list
}

var errFull = errors.New("no space left")

// disk has room for so many bytes.
type disk struct{ room int }

func (d *disk) Write(b []byte) (int, error) {
	if len(b) > d.room {
		return 0, errFull
	}
	d.room -= len(b)
	return len(b), nil
}

// TestFullDisk prints every page onto disks that are full at once, soon, in the middle and just
// before the end: each time that is the error, and with room enough there is none.
func TestFullDisk(t *testing.T) {
	for name, page := range pages(t) {
		var whole bytes.Buffer
		if err := page(&whole, sheet.Style{}); err != nil || whole.Len() == 0 {
			t.Errorf("%s: %d bytes, %v", name, whole.Len(), err)
			continue
		}
		for _, room := range []int{0, 10, whole.Len() / 2, whole.Len() - 1} {
			if err := page(&disk{room}, sheet.Style{}); !errors.Is(err, errFull) {
				t.Errorf("%s, room for %d of %d bytes: %v", name, room, whole.Len(), err)
			}
		}
		if err := page(&disk{whole.Len()}, sheet.Style{}); err != nil {
			t.Errorf("%s, just room enough: %v", name, err)
		}
	}
}

// TestCautionsOnPages: every page of results ends with what it does not replace.
func TestCautionsOnPages(t *testing.T) {
	for name, page := range pages(t) {
		if name == "list" || name == "weigh" || name == "diff" {
			continue // tables of the catalog, of masses, and of what changed
		}
		var text bytes.Buffer
		if err := page(&text, sheet.Style{}); err != nil {
			t.Fatal(err)
		}
		if !strings.Contains(strings.Join(strings.Fields(text.String()), " "), "do not replace a design by a licensed engineer") {
			t.Errorf("%s has no cautions", name)
		}
	}
}

// TestBold: bold changes nothing but the signs that make it.
func TestBold(t *testing.T) {
	for name, page := range pages(t) {
		var plain, bold bytes.Buffer
		if err := errors.Join(page(&plain, sheet.Style{}), page(&bold, sheet.Style{Color: true})); err != nil {
			t.Fatal(err)
		}
		if strings.NewReplacer("\x1b[1m", "", "\x1b[0m", "").Replace(bold.String()) != plain.String() {
			t.Errorf("%s reads otherwise in bold", name)
		}
	}
}
