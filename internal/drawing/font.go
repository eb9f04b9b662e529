package drawing

import (
	"strings"
	"sync"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

// Regular and Bold are the fonts of the pictures and of the PDF, as TrueType files.
func Regular() []byte { return goregular.TTF }

// Bold is the bold one.
func Bold() []byte { return gobold.TTF }

// face is a parsed font. Reading glyphs needs a buffer, which may not be shared.
type face struct {
	sync.Mutex
	font     *sfnt.Font
	buffer   sfnt.Buffer
	advances map[rune]float64 // in em; negative when the font lacks the sign
}

var faces = [2]*face{newFace(goregular.TTF), newFace(gobold.TTF)}

func newFace(ttf []byte) *face {
	f, err := sfnt.Parse(ttf)
	if err != nil {
		panic("drawing: " + err.Error()) // the embedded font; a test reads it
	}
	return &face{font: f, advances: map[rune]float64{}}
}

func (f Font) face() *face {
	if f.Bold {
		return faces[1]
	}
	return faces[0]
}

// em is a size at which the fonts have whole units.
const em = 2048

// advance is the width of a sign in em, and whether the font has it.
func (f *face) advance(r rune) (float64, bool) {
	f.Lock()
	defer f.Unlock()
	w, ok := f.advances[r]
	if !ok {
		w = -1
		if i, err := f.font.GlyphIndex(&f.buffer, r); err == nil && i != 0 {
			if a, err := f.font.GlyphAdvance(&f.buffer, i, fixed.I(em), font.HintingNone); err == nil {
				w = float64(a) / 64 / em
			}
		}
		f.advances[r] = w
	}
	return w, w >= 0
}

// width is the width of a text; a sign that the font lacks counts as a wide one.
func (f Font) width(text string) float64 {
	w := 0.0
	for _, r := range text {
		a, ok := f.face().advance(r)
		if !ok {
			a = 1.05
		}
		w += a
	}
	return w * f.Size
}

// Lacking is printed for signs that the fonts do not have, in PDF and PNG.
const Lacking = '□'

// Covered is a text with the signs that the fonts have.
func Covered(text string) string {
	signs := []rune(text)
	for i, r := range signs {
		if _, ok := faces[0].advance(r); !ok {
			signs[i] = Lacking
		}
	}
	return string(signs)
}

// fit shortens a text to a width.
func fit(text string, f Font, width float64) string {
	if f.width(text) <= width {
		return text
	}
	signs := []rune(text)
	for len(signs) > 1 && f.width(string(signs)+"…") > width {
		signs = signs[:len(signs)-1]
	}
	return string(signs) + "…"
}

// Lines breaks a text at spaces into lines of a width; a word that is wider than
// that is broken.
func (f Font) Lines(text string, width float64) []string {
	var lines []string
	line := ""
	for _, word := range strings.Fields(text) {
		if line != "" && f.width(line+" "+word) <= width {
			line += " " + word
			continue
		}
		if line != "" {
			lines = append(lines, line)
		}
		line = word
		for f.width(line) > width {
			signs := []rune(line)
			n := len(signs) - 1
			for n > 1 && f.width(string(signs[:n])) > width {
				n--
			}
			if n < 1 {
				break
			}
			lines, line = append(lines, string(signs[:n])), string(signs[n:])
		}
	}
	if line != "" {
		lines = append(lines, line)
	}
	return lines
}
