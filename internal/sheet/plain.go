package sheet

import (
	"encoding/csv"
	"fmt"
	"io"
	"strings"
	"unicode/utf8"

	"galefast/internal/verdict"
)

// Markdown writes the document as text with tables. A picture is its description.
func (d *Document) Markdown(w io.Writer) error {
	var b strings.Builder
	for _, x := range d.blocks {
		switch x := x.(type) {
		case heading:
			fmt.Fprintf(&b, "%s %s\n\n", strings.Repeat("#", x.level), mark(x.text))
		case paragraph:
			text := mark(x.text)
			if x.strong {
				text = "**" + text + "**"
			}
			fmt.Fprintf(&b, "%s\n\n", text)
		case items:
			box := ""
			if x.boxes {
				box = "[ ] "
			}
			for _, text := range x.list {
				fmt.Fprintf(&b, "- %s%s\n", box, mark(text))
			}
			b.WriteString("\n")
		case *table:
			markTable(&b, x)
		case figure:
			fmt.Fprintf(&b, "*%s.* In the HTML and the PDF there is a picture here:\n\n", mark(x.caption))
			for _, s := range x.scenes {
				fmt.Fprintf(&b, "- %s: %s\n", mark(s.Title), mark(s.Desc))
			}
			b.WriteString("\n")
		case blanks:
			for _, text := range x.list {
				fmt.Fprintf(&b, "%s\n\nname \\_\\_\\_\\_\\_\\_\\_\\_\\_\\_\\_\\_ signature \\_\\_\\_\\_\\_\\_\\_\\_\\_\\_\\_\\_ date \\_\\_\\_\\_\\_\\_\n\n", mark(text))
			}
		case working:
			for i, s := range x.steps {
				fmt.Fprintf(&b, "%d. %s\n", i+1, mark(s.Text))
				for _, text := range nonEmpty(s.Formula, s.Numbers, origin(s.Source, s.At)) {
					fmt.Fprintf(&b, "   - %s\n", mark(text))
				}
			}
			b.WriteString("\n")
		}
	}
	_, err := io.WriteString(w, strings.TrimRight(b.String(), "\n")+"\n")
	return err
}

// markTable writes the notes under rows as a last column.
func markTable(b *strings.Builder, t *table) {
	header, rows := t.flat()
	fmt.Fprintf(b, "%s\n\n", mark(t.title))
	line := func(cells []string) {
		for _, c := range cells {
			fmt.Fprintf(b, "| %s ", mark(c))
		}
		b.WriteString("|\n")
	}
	line(header)
	for i := range header {
		if i < len(t.right) && t.right[i] {
			b.WriteString("| ---: ")
		} else {
			b.WriteString("| --- ")
		}
	}
	b.WriteString("|\n")
	for _, row := range rows {
		line(row)
	}
	b.WriteString("\n")
}

// flat is a table with the notes under its rows as a last column, where there are any.
func (t *table) flat() (header []string, rows [][]string) {
	header = t.names()
	noted := strings.Join(t.under, "") != ""
	if noted {
		header = append(header, "remark")
	}
	for i, row := range t.rows {
		if noted {
			row = append(row[:len(row):len(row)], t.under[i])
		}
		rows = append(rows, row)
	}
	return header, rows
}

var markSigns = strings.NewReplacer(`\`, `\\`, "`", "\\`", "*", `\*`, "_", `\_`, "[", `\[`, "]", `\]`, "<", `\<`, ">", `\>`, "|", `\|`, "#", `\#`, "&", `\&`)

// mark is a text in which no sign of Markdown acts.
func mark(text string) string { return markSigns.Replace(printable(text)) }

// CSV writes the tables of the document one below the other, each under a line with its
// title and after an empty one. A cell of text that a spreadsheet would take for a
// formula gets an apostrophe before it.
func (d *Document) CSV(w io.Writer) error {
	c := csv.NewWriter(w)
	first := true
	for _, x := range d.blocks {
		t, ok := x.(*table)
		if !ok {
			continue
		}
		if !first {
			if err := c.Write([]string{""}); err != nil {
				return err
			}
		}
		first = false
		header, rows := t.flat()
		for _, row := range append([][]string{{t.title}, header}, rows...) {
			cells := make([]string, len(row))
			for i, cell := range row {
				cells[i] = inert(cell)
			}
			if err := c.Write(cells); err != nil {
				return err
			}
		}
	}
	c.Flush()
	return c.Error()
}

// inert keeps a cell of text from being a formula. Some spreadsheets take the wide forms of the signs
// for the signs.
func inert(cell string) string {
	cell = printable(cell)
	first, size := utf8.DecodeRuneInString(cell)
	if _, number := numeric(cell); !number && len(cell) > size && strings.ContainsRune("=+-@＝＋－＠", first) {
		return "'" + cell
	}
	return cell
}

// Whole is the record with the tables that the commands print by themselves.
type Whole struct {
	*verdict.Report
	Weigh    verdict.Weigh         `json:"weigh"`
	Ballast  verdict.Ballast       `json:"ballast"`
	Limits   verdict.Limits        `json:"limits"`
	Hardware verdict.HardwareTable `json:"hardware"`
	Power    verdict.Circuit       `json:"power"`
}

// JSON writes the record that the document was made from, without the wind on every
// surface, which `galefast wind --json` prints.
func (d *Document) JSON(w io.Writer) error {
	r := d.record
	return JSON(w, Whole{r, r.Weigh, r.Ballast, r.Limits, r.Hardware, r.Circuit})
}
