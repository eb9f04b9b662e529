// Package sheet prints the record of a job: tables for a terminal or a file, and
// JSON for programs. It takes numbers as they are in the record and converts and rounds
// them once, here.
package sheet

import (
	"bytes"
	"fmt"
	"io"
	"slices"
	"strings"
	"unicode/utf8"

	"github.com/olekukonko/tablewriter"
	"github.com/olekukonko/tablewriter/renderer"
	"github.com/olekukonko/tablewriter/tw"
)

// Width is how wide text runs, in columns.
const Width = 100

// table is one table with an optional line of words under each row.
type table struct {
	title  string
	header []string
	right  []bool // columns of numbers
	most   []int  // where text shortens the cells of a column, in signs; 0 for never
	rows   [][]string
	under  []string // for row i, when not empty
}

// add adds a row. Here and in note and wrap, whatever a format makes of it, a text becomes one that is
// shown and not obeyed.
func (t *table) add(cells ...string) {
	for i := range cells {
		cells[i] = printable(cells[i])
	}
	t.rows = append(t.rows, cells)
	t.under = append(t.under, "")
}

// note puts words under the last row.
func (t *table) note(text string) { t.under[len(t.under)-1] = printable(text) }

// write prints the table without borders, two spaces between columns.
func (t *table) write(w io.Writer) error {
	if len(t.rows) == 0 {
		return nil
	}
	align := make([]tw.Align, len(t.header))
	for i := range align {
		align[i] = tw.AlignLeft
		if t.right[i] {
			align[i] = tw.AlignRight
		}
	}
	cell := tw.CellConfig{
		Formatting: tw.CellFormatting{AutoFormat: tw.Off, AutoWrap: tw.WrapNone},
		Alignment:  tw.CellAlignment{PerColumn: align},
		Padding:    tw.CellPadding{Global: tw.Padding{Left: "", Right: "  ", Overwrite: true}},
	}
	rendition := tw.Rendition{
		Borders: tw.BorderNone,
		Symbols: tw.NewSymbols(tw.StyleASCII),
		Settings: tw.Settings{
			Separators: tw.Separators{ShowHeader: tw.Off, BetweenColumns: tw.Off, BetweenRows: tw.Off},
			Lines:      tw.Lines{ShowHeaderLine: tw.Off, ShowTop: tw.Off, ShowBottom: tw.Off},
		},
	}
	var out bytes.Buffer
	tab := tablewriter.NewTable(&out, tablewriter.WithConfig(tablewriter.Config{Header: cell, Row: cell}),
		tablewriter.WithRenderer(renderer.NewBlueprint(rendition)), tablewriter.WithEastAsian(tw.Off))
	tab.Header(t.header)
	if err := tab.Bulk(t.shortened()); err != nil {
		return err
	}
	if err := tab.Render(); err != nil {
		return err
	}
	lines := strings.Split(strings.TrimRight(out.String(), "\n"), "\n")
	var b strings.Builder
	if t.title != "" {
		fmt.Fprintf(&b, "%s\n", t.title)
	}
	for i, line := range lines {
		b.WriteString(strings.TrimRight(line, " ") + "\n")
		if i == 0 {
			b.WriteString(strings.Repeat("-", min(Width, longest(lines))) + "\n")
		}
		if i > 0 && t.under[i-1] != "" {
			b.WriteString(wrap(t.under[i-1], "      "))
		}
	}
	b.WriteString("\n")
	_, err := io.WriteString(w, b.String())
	return err
}

// shortened are the rows with cells that keep to the widths of their columns.
func (t *table) shortened() [][]string {
	if len(t.most) == 0 {
		return t.rows
	}
	rows := make([][]string, len(t.rows))
	for i, row := range t.rows {
		rows[i] = slices.Clone(row)
		for k, most := range t.most {
			if most > 0 {
				rows[i][k] = cut(row[k], most)
			}
		}
	}
	return rows
}

func longest(lines []string) int {
	most := 0
	for _, l := range lines {
		most = max(most, utf8.RuneCountInString(strings.TrimRight(l, " ")))
	}
	return most
}

// wrap breaks text at Width with an indent on every line.
func wrap(text, indent string) string {
	var b strings.Builder
	line := indent
	empty := true
	for _, word := range strings.Fields(text) {
		word = printable(word)
		if !empty && utf8.RuneCountInString(line)+1+utf8.RuneCountInString(word) > Width {
			b.WriteString(line + "\n")
			line, empty = indent, true
		}
		if !empty {
			line += " "
		}
		line += word
		empty = false
	}
	if !empty {
		b.WriteString(line + "\n")
	}
	return b.String()
}

// cut shortens a name that would break a column.
func cut(s string, most int) string {
	if utf8.RuneCountInString(s) <= most {
		return s
	}
	r := []rune(s)
	return string(r[:most-1]) + "…"
}
