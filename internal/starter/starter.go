// Package starter writes the first description of a site from a few facts: a file with a
// remark beside whatever a builder has to look at, which loads and can be checked as it is.
// What nobody has told is filled in with common sizes, marked as such by the remarks, and is
// meant to be corrected with a tape in hand.
package starter

import (
	"errors"
	"fmt"
	"strconv"
	"strings"
	"unicode/utf8"

	"galefast/internal/catalog"
	"galefast/internal/quantity"
	"galefast/internal/site"
)

// Plan is what a starter file is made from. Texts are as in a description.
type Plan struct {
	Title                 string
	Units                 string // us or si
	Columns, Gates, Walls int
	Sign, Supply          bool
	Width, Height         string // of each column
	Ground                string
	GustOpen, GustAlone   string
}

// SchemaFile is the name of the schema that the first line of the file gives.
const SchemaFile = "galefast.schema.json"

// most is how many pieces of one kind a starter has; more are quicker copied in the file.
const most = 12

// sizes are those that a plan does not give, in one system of units.
type sizes struct {
	width, height, gustOpen, gustAlone string // of the plan, where it is silent

	opening, leafWidth, leafHeight, leafGap, leafMass string
	signUnderside, signHeight, signMass               string
	wallLength, wallHeight, wallFoot, wallGap         string
	braceReach, braceHeight                           string
	stock, sheet, wallStock, wallSheet                string
	bag, item, wayBefore, wayBehind                   string
	lamp                                              string
	supply, cord                                      []string
}

var sizesOf = map[string]sizes{
	"us": {
		width: "24 in", height: "8 ft", gustOpen: "25 mph", gustAlone: "40 mph",
		opening: "7 ft", leafWidth: "40 in", leafHeight: "5 ft", leafGap: "3 in", leafMass: "24 lb",
		signUnderside: "7 ft 2 in", signHeight: "12 in", signMass: "12 lb",
		wallLength: "8 ft", wallHeight: "6 ft", wallFoot: "30 in", wallGap: "3 ft", braceReach: "4 ft", braceHeight: "4 ft 6 in",
		stock: "2x2", sheet: "plywood 1/4 in", wallStock: "2x3", wallSheet: "plywood 1/4 in",
		bag: "sandbag 40 lb", item: "5 lb", wayBefore: "-15 ft", wayBehind: "15 ft",
		supply: []string{"volts   = 120", "breaker = \"15 A\"\tthe number on its handle", "gfci    = true"},
		cord:   []string{"gauge  = \"14 AWG\"\tprinted on the jacket, as in 14/3", "type   = \"SJTW\"\tthe letters on the jacket", "length = \"50 ft\""},
		lamp:   "led flood 50 W",
	},
	"si": {
		width: "600 mm", height: "2.4 m", gustOpen: "11 m/s", gustAlone: "18 m/s",
		opening: "2.1 m", leafWidth: "1 m", leafHeight: "1.5 m", leafGap: "80 mm", leafMass: "11 kg",
		signUnderside: "2.2 m", signHeight: "300 mm", signMass: "6 kg",
		wallLength: "2.4 m", wallHeight: "1.8 m", wallFoot: "800 mm", wallGap: "900 mm", braceReach: "1.2 m", braceHeight: "1.35 m",
		stock: "45x45", sheet: "plywood 6 mm", wallStock: "45x70", wallSheet: "plywood 6 mm",
		bag: "sandbag 15 kg", item: "2 kg", wayBefore: "-5 m", wayBehind: "5 m",
		supply: []string{"volts     = 230", "breaker   = \"16 A\"\tthe number on it", "curve     = \"B\"\tthe letter before that number", "gfci      = true\tan RCD", "gfci_trip = \"30 mA\""},
		cord:   []string{"gauge  = \"1.5 mm2\"\tprinted on the jacket, as in 3G1.5", "type   = \"H07RN-F\"\tthe letters on the jacket", "length = \"20 m\""},
		lamp:   "led flood 50 W",
	},
}

// Complete fills in what the plan leaves open, and says what cannot be.
func (p *Plan) Complete() error {
	if p.Units == "" {
		p.Units = "us"
		if text := strings.TrimSpace(p.Width + p.Height); strings.HasSuffix(text, "m") {
			p.Units = "si"
		}
	}
	s, ok := sizesOf[p.Units]
	if !ok {
		return fmt.Errorf("units: %q is neither us nor si", p.Units)
	}
	gustOpen, gustAlone := p.gusts(s)
	for _, x := range []struct {
		text  *string
		given string
	}{{&p.Width, s.width}, {&p.Height, s.height}, {&p.GustOpen, gustOpen}, {&p.GustAlone, gustAlone}, {&p.Title, "Our entrance"}, {&p.Ground, "asphalt"}} {
		if *x.text = oneLine(*x.text); *x.text == "" {
			*x.text = x.given
		}
	}
	if err := called(p.Title); err != nil {
		return fmt.Errorf("title: %w", err)
	}
	_, err := size("width", p.Width)
	height, wrong := size("height", p.Height)
	open, badOpen := gust("gust-open", p.GustOpen)
	alone, badAlone := gust("gust-alone", p.GustAlone)
	if err := errors.Join(err, wrong, badOpen, badAlone); err != nil {
		return err
	}
	if open > alone {
		return fmt.Errorf("gust-open: %q is above gust-alone %q; what stands with people inside must stand alone, too", p.GustOpen, p.GustAlone)
	}
	for _, n := range []struct {
		what  string
		count int
	}{{"columns", p.Columns}, {"gates", p.Gates}, {"walls", p.Walls}} {
		if n.count < 0 || n.count > most {
			return fmt.Errorf("%s: %d is not a number from 0 to %d", n.what, n.count, most)
		}
	}
	openings := max(p.Columns-1, 0)
	least := length(s.signUnderside)
	switch {
	case p.Columns+p.Walls == 0 && !p.Supply:
		return errors.New("there is nothing to describe: neither a column nor a wall nor a supply")
	case p.Gates > 0 && p.Columns == 0:
		return errors.New("gates: a gate hangs on a column, and there is none")
	case p.Gates > max(1, 2*openings):
		return fmt.Errorf("gates: between the columns there is room for %d at most", max(1, 2*openings))
	case p.Sign && p.Columns < 2:
		return errors.New("sign: it hangs between two columns")
	case p.Sign && height < least:
		return fmt.Errorf("sign: columns of %s are too low for a sign with its underside at %s", p.Height, s.signUnderside)
	case p.Gates > 0 && height < length(s.leafHeight)+length(s.leafGap):
		return fmt.Errorf("gates: columns of %s are too low for a leaf of %s", p.Height, s.leafHeight)
	}
	if _, ok := catalog.Embedded().Ground.Find(p.Ground); !ok {
		err := fmt.Errorf("ground: %q is not in the table of grounds; `galefast list ground` prints it", p.Ground)
		if near := catalog.Embedded().Ground.Nearest(p.Ground); len(near) > 0 {
			err = fmt.Errorf("%w; did you mean %q?", err, near[0])
		}
		return err
	}
	return nil
}

// called refuses a title that the file cannot hold.
func called(title string) error {
	if n := utf8.RuneCountInString(oneLine(title)); n > site.MaxText {
		return fmt.Errorf("it has %d characters, and at most %d fit", n, site.MaxText)
	}
	return nil
}

// oneLine keeps of a text what the file can hold: what is left, Go and TOML quote alike.
func oneLine(text string) string {
	return strings.TrimSpace(strings.Map(func(r rune) rune {
		if site.Hidden(r) {
			return ' '
		}
		return r
	}, strings.ToValidUTF8(text, "�")))
}

// gusts are those that a plan has where it is silent: common ones, as far as they go with the one
// that it gives.
func (p *Plan) gusts(s sizes) (open, alone string) {
	open, alone = s.gustOpen, s.gustAlone
	if v, err := gust("", oneLine(p.GustAlone)); err == nil && v < speed(open) {
		open = oneLine(p.GustAlone)
	}
	if v, err := gust("", oneLine(p.GustOpen)); err == nil && v > speed(alone) {
		alone = oneLine(p.GustOpen)
	}
	return open, alone
}

// size reads a side of a column. Areas of less would be printed as nothing.
func size(what, text string) (quantity.Length, error) {
	return within[quantity.Length](what, text, 0.05, 100)
}

// gust reads a gust as high as a description may have it.
func gust(what, text string) (quantity.Speed, error) {
	return within[quantity.Speed](what, text, 0.1, 100)
}

// within reads a quantity from least to most.
func within[Q quantity.Quantity](what, text string, least, most Q) (Q, error) {
	v, err := quantity.Parse[Q](text)
	if err == nil && !(v >= least && v <= most) {
		err = fmt.Errorf("%q is not from %s to %s", text, quantity.Format(least, quantity.SI), quantity.Format(most, quantity.SI))
	}
	if err != nil {
		return 0, fmt.Errorf("%s: %w", what, err)
	}
	return v, nil
}

// speed and length read a text that has been read before.
func speed(text string) quantity.Speed {
	v, _ := quantity.Parse[quantity.Speed](text)
	return v
}

func length(text string) quantity.Length {
	v, _ := quantity.Parse[quantity.Length](text)
	return v
}

// writer puts a file together.
type writer struct {
	strings.Builder
	system quantity.System
}

// line writes a line. A remark behind a tab goes to its column.
func (w *writer) line(format string, args ...any) {
	text, remark, ok := strings.Cut(fmt.Sprintf(format, args...), "\t")
	if ok {
		text = fmt.Sprintf("%-*s # %s", remarkColumn, text, remark)
	}
	w.WriteString(text + "\n")
}

const remarkColumn = 34

// in is a length as the file writes it.
func (w *writer) in(l quantity.Length) string {
	if l == 0 {
		return "0 " + map[quantity.System]string{quantity.US: "ft", quantity.SI: "m"}[w.system]
	}
	return quantity.Format(l, w.system)
}

// Text is the file. The plan has been completed.
func (p *Plan) Text() string {
	s := sizesOf[p.Units]
	w := &writer{}
	w.system, _ = quantity.ParseSystem(p.Units)
	pitch := length(p.Width) + length(s.opening)

	w.line("#:schema ./%s", SchemaFile)
	w.line("# A first description. The sizes are common ones: go through it with a tape and correct them,")
	w.line("# then run `galefast check` on it. Lines that begin with # are remarks; delete the # to use one.")
	w.line("")
	w.line("title = %s", strconv.Quote(p.Title))
	w.line("units = %q\thow results are printed; sizes below may be in any unit", p.Units)
	w.line("")
	w.line("[site]")
	w.line("ground     = %s\t`galefast list ground` shows what it knows", strconv.Quote(p.Ground))
	w.line("# slope    = \"2 %%\"\tsteepest fall under the pieces")
	w.line("terrain    = %s\t%s", map[string]string{"us": `"C"`, "si": `"II"`}[p.Units],
		map[string]string{"us": "B among houses or woods, C in the open, D along open water", "si": "I flat and bare, II in the open, III among houses or woods"}[p.Units])
	w.line("gust_open  = %s\tabove this gust the public is out", strconv.Quote(p.GustOpen))
	w.line("gust_alone = %s\tup to this gust it must stand, with nobody near", strconv.Quote(p.GustAlone))

	if p.Columns > 0 {
		w.line("")
		w.line("# On the plan x runs east and y north. A position is that of the middle of a foot.")
	}
	for i := range p.Columns {
		p.column(w, s, i, quantity.Length(i)*pitch)
	}
	for i := range p.Gates {
		p.gate(w, s, i)
	}
	if p.Sign {
		p.sign(w, s)
	}
	for i := range p.Walls {
		p.wall(w, s, i, pitch)
	}
	if p.Columns > 1 {
		w.line("")
		w.line("[[way]]\tthe path that visitors take, in their direction")
		w.line("name   = \"way in\"")
		x := w.in(pitch / 2)
		w.line("line   = [[%q, %q], [%q, %q]]", x, s.wayBefore, x, s.wayBehind)
		w.line("people = 30\tmost at once inside")
	}
	if p.Supply {
		p.supply(w, s)
	}
	return w.String()
}

// name numbers the pieces of a kind where there are several.
func name(kind string, i, of int) string {
	if of == 1 {
		return kind
	}
	return fmt.Sprintf("%s %d", kind, i+1)
}

func (p *Plan) column(w *writer, s sizes, i int, x quantity.Length) {
	remark := func(text string) string {
		if i > 0 {
			return "" // the first one has told
		}
		return "\t" + text
	}
	own := name("column", i, p.Columns)
	width, height := length(p.Width), length(p.Height)
	w.line("")
	w.line("[[column]]")
	w.line("name = %q", own)
	w.line("at   = [%q, %q]", w.in(x), w.in(0))
	w.line("foot = [%q, %q]%s", p.Width, p.Width, remark("what bears on the ground, not the trim around it"))
	if i == 0 {
		w.line("# weighed = %q\tfrom a scale, without ballast; overrules the parts", map[string]string{"us": "95 lb", "si": "43 kg"}[p.Units])
	}
	w.line("")
	w.line("  [[column.section]]%s", remark("one for each box, from the bottom up"))
	w.line("  name   = \"body\"")
	w.line("  width  = %q", p.Width)
	w.line("  height = %q", p.Height)
	w.line("  parts  = [%s", remark("what it is made of; or one line in their place: mass = \""+map[string]string{"us": "90 lb", "si": "40 kg"}[p.Units]+"\""))
	w.line("    { stock = %q, wood = \"spf\", length = %q, count = 4 },", s.stock, p.Height)
	w.line("    { stock = %q, wood = \"spf\", length = %q, count = 8 },", s.stock, p.Width)
	w.line("    { sheet = %q, size = [%q, %q], count = 4 },", s.sheet, p.Width, p.Height)
	w.line("    { coat = \"latex paint\", area = %q },", quantity.Format(quantity.Area(4*float64(width)*float64(height)), w.system))
	w.line("    { item = \"lantern\", mass = %q, height = %q },%s", s.item, p.Height, remark("anything else, with its mass and how high it hangs"))
	w.line("  ]")
	w.line("")
	w.line("[[ballast]]")
	w.line("in    = %q", own)
	w.line("unit  = %s%s", strconv.Quote(s.bag), remark("`galefast list ballast`"))
	w.line("count = 2%s", remark("`galefast ballast` tells how many it takes"))
}

// gate hangs leaf i: two in each opening, which meet in its middle.
func (p *Plan) gate(w *writer, s sizes, i int) {
	on, face := i/2, "east"
	if i%2 == 1 {
		on, face = on+1, "west"
	}
	w.line("")
	w.line("[[gate]]")
	w.line("name      = %q", name("leaf", i, p.Gates))
	w.line("hung_on   = %q", name("column", on, p.Columns))
	w.line("face      = %q\tside of the column with the hinges; the closed leaf stands out from it", face)
	w.line("width     = %q", s.leafWidth)
	w.line("height    = %q", s.leafHeight)
	w.line("clearance = %q\tgap under the leaf", s.leafGap)
	w.line("solidity  = %s\t1 for a full panel, less for pickets or lattice: the part of its area that is solid", "1.0")
	w.line("mass      = %q\tor parts, as for a column", s.leafMass)
	w.line("opens     = \"north\"")
	w.line("keeper    = { closed = \"latch\", open = \"hook\" }\twithout one it swings free in the wind")
}

func (p *Plan) sign(w *writer, s sizes) {
	w.line("")
	w.line("[[span]]")
	w.line("name      = \"sign\"")
	w.line("between   = [%q, %q]", name("column", 0, p.Columns), name("column", 1, p.Columns))
	w.line("underside = %q", s.signUnderside)
	w.line("face      = [%q, %q]\tlength and height", s.opening, s.signHeight)
	w.line("mass      = %q", s.signMass)
}

// wall places wall i: by turns west and east of the columns, farther out each time.
func (p *Plan) wall(w *writer, s sizes, i int, pitch quantity.Length) {
	long, gap := length(s.wallLength), length(s.wallGap)
	half := length(p.Width) / 2
	if p.Columns == 0 {
		half = 0
	}
	out := half + gap + quantity.Length(i/2)*(long+gap)
	from := -out - long
	if i%2 == 1 {
		from = quantity.Length(max(p.Columns-1, 0))*pitch + out
	}
	own := name("wall", i, p.Walls)
	w.line("")
	w.line("[[wall]]")
	w.line("name   = %q", own)
	w.line("from   = [%q, %q]\tends of its middle line", w.in(from), w.in(0))
	w.line("to     = [%q, %q]", w.in(from+long), w.in(0))
	w.line("height = %q", s.wallHeight)
	w.line("foot   = %q\twidth that bears, across the wall: sill or cross feet", s.wallFoot)
	w.line("side   = \"left\"\tof the braces, as seen along the wall from its first end")
	w.line("braces = { count = 3, reach = %q, height = %q }", s.braceReach, s.braceHeight)
	w.line("parts  = [")
	w.line("  { stock = %q, wood = \"spf\", length = %q, count = 2 },", s.wallStock, s.wallLength)
	w.line("  { stock = %q, wood = \"spf\", length = %q, count = 8 },", s.wallStock, s.wallHeight)
	w.line("  { sheet = %q, size = [%q, %q] },", s.wallSheet, s.wallLength, s.wallHeight)
	w.line("]")
	w.line("")
	w.line("[[ballast]]")
	w.line("in    = %q", own)
	w.line("place = \"toes\"\tover the toes of the braces, or \"base\" along its sill")
	w.line("unit  = %q", s.bag)
	w.line("count = 3")
}

func (p *Plan) supply(w *writer, s sizes) {
	w.line("")
	w.line("[[supply]]")
	w.line("name    = \"outlet\"")
	for _, line := range s.supply {
		w.line("%s", line)
	}
	w.line("")
	w.line("[[cord]]")
	w.line("name   = \"cord\"")
	w.line("from   = \"outlet\"")
	for _, line := range s.cord {
		w.line("%s", line)
	}
	w.line("")
	w.line("[[lamp]]")
	w.line("name   = \"floods\"")
	w.line("on     = \"cord\"")
	w.line("device = %q\t`galefast list device`; or watts = 60", s.lamp)
	w.line("count  = %d", max(2, 2*p.Columns))
	w.line("hours  = 5")
}
