package drawing

import (
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
)

// colour is a form of an ink.
type colour struct {
	class string
	light string // #rrggbb on white paper
	dark  string // on dark paper
}

var colours = map[Ink]colour{
	Black:  {"ink", "#1a1a1a", "#ececec"},
	Soft:   {"soft", "#5f5f5f", "#b0b0b0"},
	Wash:   {"wash", "#e4e4e4", "#3b3f45"},
	Accent: {"accent", "#0b4f8a", "#93c9ff"},
	Paper:  {"paper", "#ffffff", "#16191d"},
}

var inks = [...]Ink{Black, Soft, Wash, Accent, Paper}

// Palette is the style sheet of the pictures as custom properties: light, then dark.
func Palette() (light, dark string) {
	var a, b strings.Builder
	for _, ink := range inks {
		c := colours[ink]
		fmt.Fprintf(&a, "--%s:%s;", c.class, c.light)
		fmt.Fprintf(&b, "--%s:%s;", c.class, c.dark)
	}
	return a.String(), b.String()
}

// Classes is the style sheet that gives the elements of a picture those colours. The
// same colours stand in the elements, for readers without style sheets.
func Classes() string {
	var b strings.Builder
	for _, ink := range inks {
		class := colours[ink].class
		fmt.Fprintf(&b, "svg .f-%s{fill:var(--%s)}svg .s-%s{stroke:var(--%s)}", class, class, class, class)
	}
	return b.String()
}

// SVG writes the picture as a file of its own, which follows the reader's choice of
// light or dark.
func (s *Scene) SVG(w io.Writer) error {
	light, dark := Palette()
	style := fmt.Sprintf(":root{%s}@media (prefers-color-scheme:dark){:root{%s}}%s", light, dark, Classes())
	_, err := io.WriteString(w, "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"+s.svg("picture", style)+"\n")
	return err
}

// Inline is the picture as an element of a page that has Palette and Classes in its
// style sheet. The id must be the picture's own within the page.
func (s *Scene) Inline(id string) string { return s.svg(id, "") }

func (s *Scene) svg(id, style string) string {
	var b strings.Builder
	edge := 0.0
	if style != "" {
		edge = margin
	}
	w, h := short(s.Width+2*edge), short(s.Height+2*edge)
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" role="img" aria-labelledby="%s-t %s-d" width="%spt" height="%spt" viewBox="%s %s %s %s" font-family="Arial, Helvetica, 'Liberation Sans', Go, sans-serif">`,
		id, id, w, h, short(-edge), short(-edge), w, h)
	fmt.Fprintf(&b, "\n<title id=\"%s-t\">%s</title>\n<desc id=\"%s-d\">%s</desc>\n", id, escape(s.Title), id, escape(s.Desc))
	if style != "" {
		fmt.Fprintf(&b, "<style>%s</style>\n", style)
		fmt.Fprintf(&b, `<rect x="%s" y="%s" width="100%%" height="100%%" class="f-paper" fill="%s"/>`+"\n", short(-edge), short(-edge), colours[Paper].light)
	}
	for _, it := range s.items {
		switch {
		case it.group != "":
			fmt.Fprintf(&b, "<g>\n<title>%s</title>\n", escape(it.group))
		case it.end:
			b.WriteString("</g>\n")
		case it.text != "":
			it.svgText(&b)
		default:
			it.svgPath(&b)
		}
	}
	b.WriteString("</svg>")
	return b.String()
}

// svgText gives the width that the text was laid out for: the reader's font may be wider
// than ours, and would run into its neighbours.
func (it *item) svgText(b *strings.Builder) {
	anchor := [...]string{"start", "middle", "end"}[it.font.Anchor]
	p := it.points[0]
	fmt.Fprintf(b, `<text x="%s" y="%s" font-size="%s" text-anchor="%s" textLength="%s" lengthAdjust="spacingAndGlyphs"`,
		short(p.X), short(p.Y), short(it.font.Size), anchor, short(it.font.width(it.text)))
	if it.font.Bold {
		b.WriteString(` font-weight="bold"`)
	}
	if it.font.Turn != 0 {
		fmt.Fprintf(b, ` transform="rotate(%s %s %s)"`, short(-it.font.Turn), short(p.X), short(p.Y))
	}
	c := colours[it.font.Ink]
	fmt.Fprintf(b, ` class="f-%s" fill="%s">%s</text>`+"\n", c.class, c.light, escape(it.text))
}

func (it *item) svgPath(b *strings.Builder) {
	b.WriteString(`<path d="`)
	for i, p := range it.points {
		b.WriteByte("ML"[min(i, 1)])
		b.WriteString(short(p.X) + " " + short(p.Y))
	}
	if it.closed {
		b.WriteByte('Z')
	}
	b.WriteByte('"')
	var classes []string
	fill, stroke := "none", ""
	if c, ok := colours[it.fill]; ok && it.closed {
		classes, fill = append(classes, "f-"+c.class), c.light
	}
	if c, ok := colours[it.pen.Ink]; ok {
		classes, stroke = append(classes, "s-"+c.class), c.light
	}
	fmt.Fprintf(b, ` class="%s" fill="%s"`, strings.Join(classes, " "), fill)
	if stroke != "" {
		fmt.Fprintf(b, ` stroke="%s" stroke-width="%s" stroke-linejoin="round"`, stroke, short(it.pen.Width))
		if d := it.pen.Dash.pattern(); d != nil {
			list := make([]string, len(d))
			for i, v := range d {
				list[i] = short(v)
			}
			fmt.Fprintf(b, ` stroke-dasharray="%s"`, strings.Join(list, " "))
		}
	}
	b.WriteString("/>\n")
}

// short prints a coordinate to a hundredth.
func short(v float64) string {
	return strconv.FormatFloat(math.Round(v*100)/100+0, 'f', -1, 64)
}

// escape is a text for XML. Signs that XML cannot hold are shown as lacking.
func escape(text string) string {
	var b strings.Builder
	for _, r := range text {
		switch {
		case r == '&':
			b.WriteString("&amp;")
		case r == '<':
			b.WriteString("&lt;")
		case r == '>':
			b.WriteString("&gt;")
		case r == '"':
			b.WriteString("&quot;")
		case !strconv.IsPrint(r) || r == 0xFFFE || r == 0xFFFF:
			b.WriteRune('�')
		default:
			b.WriteRune(r)
		}
	}
	return b.String()
}
