package drawing

import (
	"io"
	"strconv"
	"time"

	"codeberg.org/go-pdf/fpdf"
)

// fontFamily is the name of the fonts within a PDF.
const fontFamily = "go"

// NewPDF starts a PDF in points with the fonts of the pictures, and nothing in it that
// depends on the clock: the date that the format wants is a fixed one.
func NewPDF(page fpdf.SizeType) *fpdf.Fpdf {
	pdf := fpdf.NewCustom(&fpdf.InitType{UnitStr: "pt", Size: page})
	pdf.SetCatalogSort(true)
	fixed := time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC)
	pdf.SetCreationDate(fixed)
	pdf.SetModificationDate(fixed)
	pdf.SetProducer("galefast", true)
	pdf.AddUTF8FontFromBytes(fontFamily, "", Regular())
	pdf.AddUTF8FontFromBytes(fontFamily, "B", Bold())
	pdf.SetLineJoinStyle("round")
	return pdf
}

// SetFont chooses the font for text that follows.
func SetFont(pdf *fpdf.Fpdf, f Font) {
	style := ""
	if f.Bold {
		style = "B"
	}
	pdf.SetFont(fontFamily, style, f.Size)
	r, g, b := rgb(f.Ink)
	pdf.SetTextColor(r, g, b)
}

// Width is the width of a text, points.
func (f Font) Width(text string) float64 { return f.width(text) }

// PDF writes the picture as a PDF of one page of its size.
func (s *Scene) PDF(w io.Writer) error {
	pdf := NewPDF(fpdf.SizeType{Wd: s.Width + 2*margin, Ht: s.Height + 2*margin})
	pdf.SetTitle(s.Title, true)
	pdf.SetSubject(s.Desc, true)
	pdf.SetAutoPageBreak(false, 0)
	pdf.AddPage()
	s.Draw(pdf, margin, margin, 1)
	return pdf.Output(w)
}

// Draw draws the picture on the current page, its upper left corner at x, y.
func (s *Scene) Draw(pdf *fpdf.Fpdf, x, y, scale float64) {
	at := func(p Point) Point { return Point{x + p.X*scale, y + p.Y*scale} }
	for i := range s.items {
		it := &s.items[i]
		switch {
		case it.group != "" || it.end:
		case it.text != "":
			f := it.font
			f.Size *= scale
			text := Covered(it.text)
			p := at(it.points[0])
			SetFont(pdf, f)
			left := p.X
			switch f.Anchor {
			case Middle:
				left -= f.width(text) / 2
			case End:
				left -= f.width(text)
			}
			if f.Turn != 0 {
				pdf.TransformBegin()
				pdf.TransformRotate(f.Turn, p.X, p.Y)
			}
			pdf.Text(left, p.Y, text)
			if f.Turn != 0 {
				pdf.TransformEnd()
			}
		default:
			it.pdfPath(pdf, at, scale)
		}
	}
	pdf.SetDashPattern(nil, 0)
}

func (it *item) pdfPath(pdf *fpdf.Fpdf, at func(Point) Point, scale float64) {
	style := ""
	if it.closed && it.fill != None {
		r, g, b := rgb(it.fill)
		pdf.SetFillColor(r, g, b)
		style = "F"
	}
	if it.pen.Ink != None {
		r, g, b := rgb(it.pen.Ink)
		pdf.SetDrawColor(r, g, b)
		pdf.SetLineWidth(it.pen.Width * scale)
		dash := it.pen.Dash.pattern()
		for i := range dash {
			dash[i] *= scale
		}
		pdf.SetDashPattern(dash, 0)
		style += "D"
	}
	if style == "" || len(it.points) == 0 {
		return
	}
	for i, p := range it.points {
		if q := at(p); i == 0 {
			pdf.MoveTo(q.X, q.Y)
		} else {
			pdf.LineTo(q.X, q.Y)
		}
	}
	if it.closed {
		pdf.ClosePath()
	}
	pdf.DrawPath(style)
}

// rgb is the light form of an ink.
func rgb(ink Ink) (r, g, b int) {
	c, ok := colours[ink]
	if !ok {
		return 0, 0, 0
	}
	v, _ := strconv.ParseUint(c.light[1:], 16, 32)
	return int(v >> 16), int(v >> 8 & 255), int(v & 255)
}
