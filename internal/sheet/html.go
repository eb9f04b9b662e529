package sheet

import (
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"galefast/internal/drawing"
)

// HTML writes the document as one page that needs nothing else: no script, no font, no
// picture from anywhere. It reads on a phone, prints on A4 and Letter, and follows the
// reader's choice of light or dark.
func (d *Document) HTML(w io.Writer) error {
	h := &htmlWriter{}
	light, dark := drawing.Palette()
	h.out("<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n")
	h.out("<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n<title>%s</title>\n", escape(d.Title))
	h.out("<style>\n:root{color-scheme:light dark;%s}\n@media (prefers-color-scheme:dark){:root{%s}}\n@media print{:root{color-scheme:light;%s}}\n%s\n%s</style>\n</head>\n<body>\n", light, dark, light, drawing.Classes(), styles)
	h.out("<a class=\"skip\" href=\"#main\">Skip to the sheet</a>\n<main id=\"main\" tabindex=\"-1\">\n")
	for i, b := range d.blocks {
		if x, ok := b.(heading); ok && x.level == 1 {
			h.block(i, b)
			h.contents(d)
			continue
		}
		h.block(i, b)
	}
	h.out("</main>\n</body>\n</html>\n")
	_, err := io.WriteString(w, h.String())
	return err
}

// styles is the look of the page.
const styles = `*{box-sizing:border-box}
body{margin:0;background:var(--paper);color:var(--ink);font:1rem/1.45 system-ui,Arial,Helvetica,sans-serif}
main{max-width:52rem;margin:0 auto;padding:1rem;overflow-wrap:break-word}
h1{font-size:1.7rem;line-height:1.2;margin:.5rem 0}
h2{font-size:1.25rem;margin:1.6rem 0 .4rem;border-bottom:2px solid var(--ink)}
h3{font-size:1.05rem;margin:1.1rem 0 .3rem}
p{margin:.4rem 0}
a{color:var(--accent)}
.skip{position:absolute;left:-100vw;background:var(--paper);padding:.5rem}
.skip:focus{left:0;z-index:1}
:focus-visible{outline:3px solid var(--accent);outline-offset:2px}
nav ul{columns:15rem;padding-left:1.2rem;margin:.4rem 0}
table{border-collapse:collapse;margin:.8rem 0;width:100%;font-size:.9rem;font-variant-numeric:tabular-nums}
caption{text-align:left;font-weight:bold;padding:.2rem 0}
th,td{padding:.2rem .5rem .2rem 0;text-align:left;vertical-align:top;border-top:1px solid var(--wash)}
thead th{border-top:0;border-bottom:2px solid var(--ink);vertical-align:bottom}
tbody th{font-weight:normal}
.n{text-align:right}
.long{overflow-wrap:anywhere}
tr.note td{border-top:0;padding-left:1.2rem;font-size:.95em;color:var(--soft)}
figure{margin:1rem 0}
figcaption,.sub{font-weight:bold;margin:.3rem 0}
.pictures{display:flex;flex-wrap:wrap;gap:1rem}
.picture{max-width:100%;overflow-x:auto}
.picture svg{display:block;max-width:100%;height:auto}
.hint{display:none}
.boxes{list-style:none;padding:0}
.boxes label{display:flex;gap:.6rem;padding:.25rem 0}
.boxes input{width:1.1rem;height:1.1rem;flex:none;margin:.15rem 0}
.blanks{list-style:none;padding:0}
.blanks li{margin:1rem 0 2.2rem;break-inside:avoid}
.blanks div{display:flex;flex-wrap:wrap;gap:1rem;margin-top:2rem}
.blanks span{flex:1 1 9rem;border-top:1px solid var(--ink);font-size:.85rem}
ol.working{padding-left:1.8rem}
ol.working li{margin:.4rem 0}
ol.working code{display:block;font-size:.9rem}
ol.working small{display:block;color:var(--soft)}
@media screen and (max-width:46rem){
table,tbody,caption,tbody th,tbody td{display:block;width:100%}
thead{position:absolute;left:-100vw;width:1px;height:1px;overflow:hidden}
tbody tr{display:grid;grid-template-columns:repeat(2,minmax(0,1fr));column-gap:1.2rem;border-top:1px solid var(--ink);padding:.3rem 0}
.few tbody tr{grid-template-columns:minmax(0,1fr)}
tbody th,tr.note td{grid-column:1/-1}
tbody th{order:-1}
tbody tr.note{border-top:0;padding-top:0}
tbody th,tbody td{border:0;padding:.05rem 0}
tbody td[data-label]{display:flex;gap:.6rem;justify-content:space-between;text-align:right}
tbody td[data-label]::before{content:attr(data-label);color:var(--soft);text-align:left;flex:none}
.few tbody td[data-label]{display:block;text-align:left}
.few tbody td[data-label]::before{content:attr(data-label) ": "}
tbody th{font-weight:bold}
main{overflow-wrap:anywhere}
tr.note td{padding-left:0}
.wide svg{max-width:none;width:38rem}
.hint{display:block;color:var(--soft);font-size:.9rem}
}
@media print{
@page{margin:15mm}
html{font-size:8.5pt}
main{max-width:none;padding:0}
body{font-family:Arial,Helvetica,sans-serif;line-height:1.3}
h2{margin-top:1.1rem}
nav,.skip{display:none}
h2,h3,caption,figcaption,.sub{break-after:avoid}
thead{display:table-header-group}
tr,li,.picture{break-inside:avoid}
.noted{break-after:avoid}
.break{break-before:page}
.picture{overflow:visible}
}
`

type htmlWriter struct {
	strings.Builder
	breaks bool // the next block starts a page
}

func (h *htmlWriter) out(format string, args ...any) { fmt.Fprintf(h, format, args...) }

// contents links to the parts.
func (h *htmlWriter) contents(d *Document) {
	h.out("<nav aria-label=\"Contents\">\n<ul>\n")
	for i, b := range d.blocks {
		if x, ok := b.(heading); ok && x.level == 2 {
			h.out("<li><a href=\"#part-%d\">%s</a></li>\n", i, escape(x.text))
		}
	}
	h.out("</ul>\n</nav>\n")
}

func (h *htmlWriter) block(i int, b block) {
	class := ""
	if h.breaks {
		class = ` class="break"`
		h.breaks = false
	}
	switch b := b.(type) {
	case heading:
		h.out("<h%d id=\"part-%d\"%s>%s</h%d>\n", b.level, i, class, escape(b.text), b.level)
	case paragraph:
		if b.strong {
			h.out("<p><strong>%s</strong></p>\n", escape(b.text))
		} else {
			h.out("<p>%s</p>\n", escape(b.text))
		}
	case items:
		h.items(b)
	case *table:
		h.table(b)
	case figure:
		h.figure(i, b)
	case blanks:
		h.out("<ul class=\"blanks\">\n")
		for _, text := range b.list {
			h.out("<li>%s<div><span>name</span><span>signature</span><span>date</span></div></li>\n", escape(text))
		}
		h.out("</ul>\n")
	case working:
		h.out("<ol class=\"working\">\n")
		for _, s := range b.steps {
			h.out("<li>%s", escape(s.Text))
			for _, text := range nonEmpty(s.Formula, s.Numbers) {
				h.out("<code>%s</code>", escape(text))
			}
			if from := origin(s.Source, s.At); from != "" {
				h.out("<small>%s</small>", escape(from))
			}
			h.out("</li>\n")
		}
		h.out("</ol>\n")
	case pageBreak:
		h.breaks = true
	}
}

// origin says where a step has its formula and its numbers from.
func origin(source, at string) string {
	if at != "" {
		at = "from " + at
	}
	return strings.Join(nonEmpty(source, at), "; ")
}

func (h *htmlWriter) items(b items) {
	if !b.boxes {
		h.out("<ul>\n")
		for _, text := range b.list {
			h.out("<li>%s</li>\n", escape(text))
		}
		h.out("</ul>\n")
		return
	}
	h.out("<ul class=\"boxes\">\n")
	for _, text := range b.list {
		h.out("<li><label><input type=\"checkbox\">%s</label></li>\n", escape(text))
	}
	h.out("</ul>\n")
}

// table writes explicit roles, which keep their meaning when a narrow screen shows the
// rows as cards.
func (h *htmlWriter) table(t *table) {
	class := ""
	if len(t.header) <= 3 {
		class = ` class="few"`
	}
	h.out("<table role=\"table\"%s>\n<caption>%s</caption>\n<thead role=\"rowgroup\"><tr role=\"row\">", class, escape(t.title))
	names, key := t.names(), t.key()
	for i, name := range names {
		h.out("<th scope=\"col\" role=\"columnheader\"%s>%s</th>", t.class(i, name), escape(name))
	}
	h.out("</tr></thead>\n<tbody role=\"rowgroup\">\n")
	for k, row := range t.rows {
		noted := ""
		if t.under[k] != "" {
			noted = ` class="noted"`
		}
		h.out("<tr role=\"row\"%s>", noted)
		for i, cell := range row {
			text := escape(cell)
			if cell == "fails" {
				text = "<strong>fails</strong>"
			}
			label := escape(names[i])
			if i == key {
				h.out("<th scope=\"row\" role=\"rowheader\"%s data-label=\"%s\">%s</th>", t.class(i, cell), label, text)
			} else {
				h.out("<td role=\"cell\"%s data-label=\"%s\">%s</td>", t.class(i, cell), label, text)
			}
		}
		h.out("</tr>\n")
		if t.under[k] != "" {
			h.out("<tr role=\"row\" class=\"note\"><td role=\"cell\" colspan=\"%d\">%s</td></tr>\n", len(row), escape(t.under[k]))
		}
	}
	h.out("</tbody>\n</table>\n")
}

// class says that a cell is in a column of numbers, or has a word that may be broken.
func (t *table) class(i int, cell string) string {
	const long = 24
	switch {
	case t.right[i]:
		return ` class="n"`
	case slices.ContainsFunc(strings.Fields(cell), func(word string) bool { return len(word) > long }):
		return ` class="long"`
	}
	return ""
}

// names are the headers, none of them empty.
func (t *table) names() []string {
	names := make([]string, len(t.header))
	for i, name := range t.header {
		if name == "" {
			name = "must be"
		}
		names[i] = name
	}
	return names
}

// key is the column that names a row: the first of words that is not the result.
func (t *table) key() int {
	for i, name := range t.header {
		if !t.right[i] && name != "result" {
			return i
		}
	}
	return 0
}

func (h *htmlWriter) figure(i int, b figure) {
	h.out("<figure>\n<figcaption>%s</figcaption>\n<div class=\"pictures\">\n", escape(b.caption))
	for k, s := range b.scenes {
		class, focus := "picture", ""
		if s.Width > drawing.PageWidth/2 {
			class, focus = "picture wide", fmt.Sprintf(" tabindex=\"0\" role=\"group\" aria-label=\"%s\"", escape(s.Title))
		}
		h.out("<div class=\"%s\"%s>\n", class, focus)
		if len(b.scenes) > 1 {
			h.out("<p class=\"sub\">%s</p>\n", escape(s.Title))
		}
		if focus != "" {
			h.out("<p class=\"hint\">Wider than the screen: slide it sideways.</p>\n")
		}
		h.out("%s\n</div>\n", s.Inline(fmt.Sprintf("p%d-%d", i, k)))
	}
	h.out("</div>\n</figure>\n")
}

// escape is a text for HTML, with what cannot be shown replaced.
func escape(text string) string {
	return htmlSigns.Replace(printable(text))
}

var htmlSigns = strings.NewReplacer("&", "&amp;", "<", "&lt;", ">", "&gt;", `"`, "&quot;", "'", "&#39;")

// numeric is the number that a cell of a column of numbers holds.
func numeric(cell string) (float64, bool) {
	v, err := strconv.ParseFloat(cell, 64)
	return v, err == nil
}
