package sheet

import (
	"bytes"
	"fmt"
	"io"
	"math"
	"slices"
	"strings"

	"codeberg.org/go-pdf/fpdf"

	"galefast/internal/drawing"
)

// Paper is a size of page, points.
type Paper struct{ Width, Height float64 }

// The two papers that the sheet is made for.
var (
	A4     = Paper{595.28, 841.89}
	Letter = Paper{612, 792}
)

// PDF writes the document as pages, with the pictures as vectors. The same document
// gives the same bytes.
func (d *Document) PDF(w io.Writer, paper Paper) error {
	// The first run counts the pages for the foot of each.
	total := 0
	front := d.frontFont(paper)
	for range 2 {
		p := newPages(d, paper, total)
		p.font = front
		for i, b := range d.blocks {
			p.block(b, d.blocks[i+1:])
		}
		total = p.pdf.PageNo()
		if err := p.pdf.Error(); err != nil {
			return err
		}
		if p.total == 0 {
			continue
		}
		var out bytes.Buffer
		if err := p.pdf.Output(&out); err != nil {
			return err
		}
		_, err := w.Write(out.Bytes())
		return err
	}
	return nil
}

// frontFont is the largest font in which what stands before the first page break fits on
// one page.
func (d *Document) frontFont(paper Paper) drawing.Font {
	f := textFont
	end := slices.IndexFunc(d.blocks, func(b block) bool { _, ok := b.(pageBreak); return ok })
	for f.Size > 6.5 {
		p := newPages(d, paper, 0)
		p.font = f
		for i, b := range d.blocks[:max(end, 0)] {
			p.block(b, d.blocks[i+1:])
		}
		if p.pdf.PageNo() == 1 {
			break
		}
		f.Size -= 0.5
	}
	return f
}

// pages lays the document out from the top down.
type pages struct {
	pdf    *fpdf.Fpdf
	paper  Paper
	left   float64
	top    float64
	bottom float64
	y      float64
	total  int
	font   drawing.Font // of running text
}

// Fonts of the pages.
var (
	textFont = drawing.Font{Size: 9, Ink: drawing.Black}
	cellFont = drawing.Font{Size: 7.8, Ink: drawing.Black}
	noteFont = drawing.Font{Size: 7.4, Ink: drawing.Soft}
)

func bold(f drawing.Font) drawing.Font {
	f.Bold = true
	return f
}

const (
	lineHeight = 1.3 // of the size of the font
	cellGap    = 8.0
)

func newPages(d *Document, paper Paper, total int) *pages {
	p := &pages{pdf: drawing.NewPDF(fpdf.SizeType{Wd: paper.Width, Ht: paper.Height}), paper: paper, total: total, font: textFont,
		left: (paper.Width - drawing.PageWidth) / 2, top: 40, bottom: paper.Height - 46}
	p.pdf.SetTitle(d.Title, true)
	p.pdf.SetLang("en")
	p.pdf.SetAutoPageBreak(false, 0)
	p.pdf.SetFooterFunc(func() {
		f := drawing.Font{Size: 7, Ink: drawing.Soft}
		y := paper.Height - 26
		number := fmt.Sprintf("page %d of %d", p.pdf.PageNo(), total)
		p.put(p.left, y, f, firstLine(f, d.Title, drawing.PageWidth-100))
		p.put(p.left+drawing.PageWidth-f.Width(number), y, f, number)
	})
	p.newPage()
	return p
}

func firstLine(f drawing.Font, text string, width float64) string {
	lines := f.Lines(text, width)
	switch len(lines) {
	case 0:
		return ""
	case 1:
		return lines[0]
	}
	return lines[0] + " …"
}

func (p *pages) newPage() {
	p.pdf.AddPage()
	p.y = p.top
}

// room starts a new page when less than a height is left on this one.
func (p *pages) room(height float64) {
	if p.y+height > p.bottom && p.y > p.top {
		p.newPage()
	}
}

// put writes a line with its base line at y.
func (p *pages) put(x, y float64, f drawing.Font, text string) {
	if text = drawing.Covered(text); text != "" {
		drawing.SetFont(p.pdf, f)
		p.pdf.Text(x, y, text)
	}
}

// text writes a paragraph of a width from x, and breaks it over pages.
func (p *pages) text(x, width float64, f drawing.Font, text string) {
	h := f.Size * lineHeight
	for _, line := range f.Lines(drawing.Covered(text), width) {
		p.room(h)
		p.put(x, p.y+f.Size, f, line)
		p.y += h
	}
}

func (p *pages) height(f drawing.Font, text string, width float64) float64 {
	return float64(len(f.Lines(drawing.Covered(text), width))) * f.Size * lineHeight
}

func (p *pages) block(b block, rest []block) {
	const width = drawing.PageWidth
	switch b := b.(type) {
	case heading:
		size := [...]float64{17, 12, 10}[min(b.level, 3)-1]
		f := drawing.Font{Size: size, Bold: true, Ink: drawing.Black}
		before := [...]float64{0, 9, 6}[min(b.level, 3)-1]
		p.room(before + p.height(f, b.text, width) + p.head(rest))
		if p.y > p.top {
			p.y += before
		}
		p.pdf.SetY(p.y)
		p.pdf.Bookmark(drawing.Covered(b.text), min(b.level, 3)-1, -1)
		p.text(p.left, width, f, b.text)
		p.y += 3
	case paragraph:
		f := p.font
		if b.strong {
			f = bold(f)
		}
		p.text(p.left, width, f, b.text)
		p.y += 4
	case items:
		p.items(b)
	case *table:
		p.table(b)
	case figure:
		p.figure(b)
	case blanks:
		p.blanks(b)
	case working:
		p.working(b)
	case pageBreak:
		p.font = textFont
		if p.y > p.top {
			p.newPage()
		}
	}
}

// head is how much of what follows a heading must stand on its page.
func (p *pages) head(rest []block) float64 {
	if len(rest) == 0 {
		return 0
	}
	switch b := rest[0].(type) {
	case heading:
		return 20 + p.head(rest[1:])
	case figure:
		if len(b.scenes) > 0 {
			return math.Min(b.scenes[0].Height+40, p.bottom-p.top-40)
		}
	case *table:
		return 50
	case blanks:
		return 60
	}
	return 26
}

func (p *pages) items(b items) {
	const indent = 13
	for _, text := range b.list {
		p.room(math.Min(p.height(p.font, text, drawing.PageWidth-indent), 60))
		if b.boxes {
			p.pdf.SetDashPattern(nil, 0)
			p.pdf.SetDrawColor(26, 26, 26)
			p.pdf.SetLineWidth(0.8)
			p.pdf.Rect(p.left+0.5, p.y+2, 7.5, 7.5, "D")
		} else {
			p.put(p.left+3, p.y+p.font.Size, p.font, "•")
		}
		p.text(p.left+indent, drawing.PageWidth-indent, p.font, text)
		p.y += 2
	}
	p.y += 3
}

// longestWord is the width from which a word is broken rather than the other columns
// narrowed.
const longestWord = 100.0

// widths shares the page among the columns: what each wants if there is room, else by
// what each wants beyond its longest word.
func widths(t *table) []float64 {
	const room = drawing.PageWidth
	names := t.names()
	least, wants := make([]float64, len(names)), make([]float64, len(names))
	measure := func(i int, f drawing.Font, text string) {
		text = drawing.Covered(text)
		wants[i] = math.Max(wants[i], f.Width(text)+0.5)
		for _, word := range strings.Fields(text) {
			least[i] = math.Max(least[i], math.Min(f.Width(word)+0.5, longestWord))
		}
	}
	for i, name := range names {
		measure(i, bold(cellFont), name)
		for _, row := range t.rows {
			measure(i, cellFont, row[i])
		}
	}
	free := room - cellGap*float64(len(names)-1)
	sum := func(list []float64) (s float64) {
		for _, v := range list {
			s += v
		}
		return s
	}
	if sum(wants) <= free {
		return wants
	}
	if total := sum(least); total > free {
		for i := range least {
			least[i] *= free / total
		}
		return least
	}
	spare, asked := free-sum(least), sum(wants)-sum(least)
	for i := range least {
		least[i] += spare * (wants[i] - least[i]) / asked
	}
	return least
}

func (p *pages) table(t *table) {
	if len(t.rows) == 0 {
		return
	}
	w := widths(t)
	whole := -cellGap
	for _, v := range w {
		whole += v + cellGap
	}
	header := func() {
		p.row(t, w, t.names(), bold(cellFont))
		p.pdf.SetDashPattern(nil, 0)
		p.pdf.SetDrawColor(26, 26, 26)
		p.pdf.SetLineWidth(0.9)
		p.pdf.Line(p.left, p.y, p.left+whole, p.y)
		p.y += 1.5
	}
	p.y += 3
	p.room(18 + p.rowHeight(t, w, t.names(), bold(cellFont)) + p.tall(t, w, 0))
	p.text(p.left, drawing.PageWidth, bold(textFont), t.title)
	header()
	for k, row := range t.rows {
		if p.y+p.tall(t, w, k) > p.bottom && p.y > p.top+40 {
			p.newPage()
			header()
		}
		if k > 0 {
			p.pdf.SetDashPattern(nil, 0)
			p.pdf.SetDrawColor(205, 205, 205)
			p.pdf.SetLineWidth(0.4)
			p.pdf.Line(p.left, p.y, p.left+whole, p.y)
		}
		p.row(t, w, row, cellFont)
		if t.under[k] != "" {
			p.text(p.left+12, drawing.PageWidth-12, noteFont, t.under[k])
			p.y += 1.5
		}
	}
	p.y += 6
}

// tall is the height of a row with its note.
func (p *pages) tall(t *table, w []float64, k int) float64 {
	h := p.rowHeight(t, w, t.rows[k], cellFont)
	if t.under[k] != "" {
		h += p.height(noteFont, t.under[k], drawing.PageWidth-12) + 1.5
	}
	return h
}

func (p *pages) rowHeight(t *table, w []float64, row []string, f drawing.Font) float64 {
	h := 0.0
	for i, cell := range row {
		h = math.Max(h, p.height(p.cell(row, i, f), cell, w[i]))
	}
	return h + 2
}

// cell is the font of a cell: what fails is bold.
func (p *pages) cell(row []string, i int, f drawing.Font) drawing.Font {
	if row[i] == "fails" {
		return bold(f)
	}
	return f
}

func (p *pages) row(t *table, w []float64, row []string, f drawing.Font) {
	x := p.left
	for i, cell := range row {
		cf := p.cell(row, i, f)
		for n, line := range cf.Lines(drawing.Covered(cell), w[i]) {
			at := x
			if t.right[i] {
				at = x + w[i] - cf.Width(line)
			}
			p.put(at, p.y+cf.Size+1+float64(n)*cf.Size*lineHeight, cf, line)
		}
		x += w[i] + cellGap
	}
	p.y += p.rowHeight(t, w, row, f)
}

// figure sets pictures side by side where they fit, and shrinks what is taller than a
// page.
func (p *pages) figure(b figure) {
	const gap = 14
	caption, title := bold(textFont), bold(textFont)
	under := p.height(caption, b.caption, drawing.PageWidth) + 4
	x, row := 0.0, 0.0
	for i, s := range b.scenes {
		head := 0.0
		if len(b.scenes) > 1 {
			head = p.height(title, s.Title, s.Width) + 3
		}
		room := p.bottom - p.top - head - under
		if p.y < p.top+40 { // below a heading, which it must not leave
			room = p.bottom - p.y - head - under
		}
		scale := math.Min(1, math.Min(drawing.PageWidth/s.Width, room/s.Height))
		if x > 0 && x+s.Width*scale > drawing.PageWidth {
			p.y += row + gap
			x, row = 0, 0
		}
		if i == 0 {
			p.room(under + head + s.Height*scale)
			p.text(p.left, drawing.PageWidth, caption, b.caption)
			p.y += 4
		}
		if x == 0 {
			p.room(head + s.Height*scale)
		}
		if head > 0 {
			for n, line := range title.Lines(drawing.Covered(s.Title), s.Width*scale) {
				p.put(p.left+x, p.y+title.Size*(1+float64(n)*lineHeight), title, line)
			}
		}
		s.Draw(p.pdf, p.left+x, p.y+head, scale)
		row = math.Max(row, head+s.Height*scale)
		x += s.Width*scale + gap
	}
	p.y += row + 8
}

func (p *pages) blanks(b blanks) {
	for _, text := range b.list {
		p.room(46)
		p.text(p.left, drawing.PageWidth, textFont, text)
		p.y += 22
		x := p.left
		for _, part := range []struct {
			name  string
			width float64
		}{{"name", 180}, {"signature", 190}, {"date", 110}} {
			p.pdf.SetDashPattern(nil, 0)
			p.pdf.SetDrawColor(26, 26, 26)
			p.pdf.SetLineWidth(0.7)
			p.pdf.Line(x, p.y, x+part.width, p.y)
			p.put(x, p.y+8, noteFont, part.name)
			x += part.width + 15
		}
		p.y += 14
	}
}

func (p *pages) working(b working) {
	const indent = 18
	for i, s := range b.steps {
		p.room(24)
		p.put(p.left, p.y+cellFont.Size, cellFont, fmt.Sprintf("%d.", i+1))
		p.text(p.left+indent, drawing.PageWidth-indent, cellFont, s.Text)
		for _, text := range nonEmpty(s.Formula, s.Numbers) {
			p.text(p.left+indent+8, drawing.PageWidth-indent-8, cellFont, text)
		}
		if from := origin(s.Source, s.At); from != "" {
			p.text(p.left+indent+8, drawing.PageWidth-indent-8, noteFont, from)
		}
		p.y += 2
	}
	p.y += 4
}
