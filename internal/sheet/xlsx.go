package sheet

import (
	"fmt"
	"io"
	"math"
	"strings"
	"unicode/utf8"

	"github.com/xuri/excelize/v2"
)

// XLSX writes a workbook: the words on its first page, then a page for each table, with
// numbers as numbers and everything else as text.
func (d *Document) XLSX(w io.Writer) error {
	f := excelize.NewFile()
	defer f.Close()
	if err := f.SetDocProps(&excelize.DocProperties{Title: d.Title, Creator: "galefast", Created: "2000-01-01T00:00:00Z", Modified: "2000-01-01T00:00:00Z"}); err != nil {
		return err
	}
	x := &workbook{File: f, names: map[string]bool{}}
	if err := x.styles(); err != nil {
		return err
	}
	if err := x.words(d); err != nil {
		return err
	}
	for _, b := range d.blocks {
		if t, ok := b.(*table); ok {
			if err := x.table(t); err != nil {
				return err
			}
		}
	}
	return f.Write(w)
}

type workbook struct {
	*excelize.File
	names       map[string]bool // in lower case
	bold, plain int
}

func (x *workbook) styles() (err error) {
	wrap := &excelize.Alignment{WrapText: true, Vertical: "top"}
	if x.bold, err = x.NewStyle(&excelize.Style{Font: &excelize.Font{Bold: true}, Alignment: wrap}); err != nil {
		return err
	}
	x.plain, err = x.NewStyle(&excelize.Style{Alignment: wrap})
	return err
}

// words is the page with headings, paragraphs and lists.
func (x *workbook) words(d *Document) error {
	const name = "Summary"
	x.names[strings.ToLower(name)] = true
	if err := x.SetSheetName("Sheet1", name); err != nil {
		return err
	}
	if err := x.SetColWidth(name, "A", "A", 110); err != nil {
		return err
	}
	n := 0
	put := func(style int, text string) error {
		n++
		cell := fmt.Sprintf("A%d", n)
		if err := x.SetCellStr(name, cell, brief(printable(text))); err != nil {
			return err
		}
		return x.SetCellStyle(name, cell, cell, style)
	}
	for _, b := range d.blocks {
		var list []string
		style := x.plain
		switch b := b.(type) {
		case heading:
			list, style = []string{b.text}, x.bold
		case paragraph:
			list = []string{b.text}
			if b.strong {
				style = x.bold
			}
		case items:
			list = b.list
		case blanks:
			list = b.list
		case working:
			for _, s := range b.steps {
				list = append(list, strings.Join(nonEmpty(s.Text, s.Formula, s.Numbers, origin(s.Source, s.At)), "; "))
			}
		}
		for _, text := range list {
			if err := put(style, text); err != nil {
				return err
			}
		}
	}
	return nil
}

// table is a page of its own.
func (x *workbook) table(t *table) error {
	name := x.name(t.title)
	if _, err := x.NewSheet(name); err != nil {
		return err
	}
	header, rows := t.flat()
	for i, text := range header {
		column, err := excelize.ColumnNumberToName(i + 1)
		if err != nil {
			return err
		}
		if err := x.SetCellStr(name, column+"1", text); err != nil {
			return err
		}
		widest := utf8.RuneCountInString(text)
		number := i < len(t.right) && t.right[i]
		for k, row := range rows {
			cell := fmt.Sprintf("%s%d", column, k+2)
			widest = max(widest, utf8.RuneCountInString(row[i]))
			if v, ok := numeric(row[i]); ok && number {
				if err := x.SetCellFloat(name, cell, v, -1, 64); err != nil {
					return err
				}
			} else if err := x.SetCellStr(name, cell, brief(row[i])); err != nil {
				return err
			}
		}
		if err := x.SetColWidth(name, column, column, math.Min(60, float64(widest)+2)); err != nil {
			return err
		}
		if len(rows) > 0 {
			if err := x.SetCellStyle(name, column+"2", fmt.Sprintf("%s%d", column, len(rows)+1), x.plain); err != nil {
				return err
			}
		}
		if err := x.SetCellStyle(name, column+"1", column+"1", x.bold); err != nil {
			return err
		}
	}
	return x.SetPanes(name, &excelize.Panes{Freeze: true, YSplit: 1, TopLeftCell: "A2", ActivePane: "bottomLeft"})
}

// name is a title within what the format allows for the name of a page, and not used yet.
func (x *workbook) name(title string) string {
	clean := strings.Trim(strings.Map(func(r rune) rune {
		if strings.ContainsRune(`:\/?*[]`, r) {
			return ' '
		}
		return r
	}, title), " '")
	if clean == "" {
		clean = "table"
	}
	for n := 1; ; n++ {
		tail := ""
		if n > 1 {
			tail = fmt.Sprintf(" (%d)", n)
		}
		signs := []rune(clean)
		// The format counts UTF-16 units.
		for units(signs)+len(tail) > 31 {
			signs = signs[:len(signs)-1]
		}
		if name := strings.TrimRight(string(signs), " '") + tail; !x.names[strings.ToLower(name)] {
			x.names[strings.ToLower(name)] = true
			return name
		}
	}
}

func units(signs []rune) int {
	n := 0
	for _, r := range signs {
		n++
		if r > 0xFFFF {
			n++
		}
	}
	return n
}

// brief keeps a text within what a cell can hold.
func brief(text string) string {
	if utf8.RuneCountInString(text) <= excelize.TotalCellChars {
		return text
	}
	return cut(text, excelize.TotalCellChars)
}
