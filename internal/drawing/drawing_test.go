package drawing

import (
	"bytes"
	"encoding/xml"
	"flag"
	"fmt"
	"image/png"
	"io"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"galefast/internal/check"
	"galefast/internal/quantity"
	"galefast/internal/site"
	_ "galefast/internal/steady"
	"galefast/internal/takeoff"
	"galefast/internal/verdict"

	"pgregory.net/rapid"
)

// worked is a site with its record.
type worked struct {
	name string
	f    *site.File
	r    *verdict.Report
}

func work(t *testing.T, name string, src []byte) worked {
	t.Helper()
	f, problems := site.Load(name, src)
	if f == nil {
		t.Fatalf("%s: %v", name, problems)
	}
	masses, problems := takeoff.Take(f)
	if problems.Fatal() {
		t.Fatalf("%s: %v", name, problems)
	}
	r, err := check.Run(f, masses, check.Options{EveryDirection: true})
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	return worked{name, f, r}
}

// done are the sites of examples, worked once.
var done []worked

// examples are the example sites and those of one and of forty pieces.
func examples(t *testing.T) []worked {
	t.Helper()
	if len(done) > 0 {
		return done
	}
	for _, pattern := range []string{"../../testdata/sites/*.toml", "../sheet/testdata/*.toml"} {
		names, err := filepath.Glob(filepath.FromSlash(pattern))
		if err != nil || len(names) == 0 {
			t.Fatalf("no site is called %s: %v", pattern, err)
		}
		for _, name := range names {
			src, err := os.ReadFile(name)
			if err != nil {
				t.Fatal(err)
			}
			done = append(done, work(t, filepath.Base(name), src))
		}
	}
	return done
}

// pictures are all drawings of a site.
func (w worked) pictures(s quantity.System) map[string][]*Scene {
	return map[string][]*Scene{"plan": {Plan(w.f, w.r, s)}, "elevation": Elevations(w.f, w.r, s), "rose": Roses(w.r, s), "supply": Supply(w.f, w.r, s)}
}

func each(t *testing.T, do func(t *testing.T, name string, s *Scene)) {
	for _, w := range examples(t) {
		for _, system := range []quantity.System{quantity.US, quantity.SI} {
			for kind, scenes := range w.pictures(system) {
				for _, s := range scenes {
					do(t, fmt.Sprintf("%s, %s, %s, %q", w.name, system, kind, s.Title), s)
				}
			}
		}
	}
}

// corners are those of a text's room, turned.
func (it *item) corners() []Point {
	f := it.font
	f.Turn = 0
	b := f.box(it.points[0], it.text)
	b.Y, b.H = b.Y+0.12*f.Size, 0.85*f.Size // the strokes, without the leading
	corners := b.corners()
	sin, cos := math.Sincos(-it.font.Turn * math.Pi / 180)
	for i, p := range corners {
		d := p.minus(it.points[0])
		corners[i] = it.points[0].plus(Point{d.X*cos - d.Y*sin, d.X*sin + d.Y*cos})
	}
	return corners
}

func around(points []Point) Box {
	lo, hi := points[0], points[0]
	for _, p := range points {
		lo = Point{math.Min(lo.X, p.X), math.Min(lo.Y, p.Y)}
		hi = Point{math.Max(hi.X, p.X), math.Max(hi.Y, p.Y)}
	}
	return Box{lo.X, lo.Y, hi.X - lo.X, hi.Y - lo.Y}
}

// collisions are the texts of a picture that run into each other or off it.
func (s *Scene) collisions() []string {
	page := Box{-2, -2, s.Width + 4, s.Height + 4}
	var problems, texts []string
	var rooms []Box
	for i := range s.items {
		it := &s.items[i]
		if it.text == "" {
			continue
		}
		room := around(it.corners())
		if !page.holds(room) {
			problems = append(problems, fmt.Sprintf("%q at %+v runs out of the picture of %g x %g", it.text, room, s.Width, s.Height))
		}
		for k, other := range rooms {
			if room.overlaps(other.grown(-0.3)) {
				problems = append(problems, fmt.Sprintf("%q at %+v overlaps %q at %+v", it.text, room, texts[k], other))
			}
		}
		texts, rooms = append(texts, it.text), append(rooms, room)
	}
	if len(texts) == 0 {
		problems = append(problems, "no text at all")
	}
	return problems
}

// strays are points that are not finite or far off the page.
func (s *Scene) strays() []string {
	var problems []string
	for _, it := range s.items {
		for _, p := range it.points {
			if !(p.X > -60 && p.X < s.Width+60 && p.Y > -60 && p.Y < s.Height+60) {
				problems = append(problems, fmt.Sprintf("a point at %v on a picture of %g x %g", p, s.Width, s.Height))
			}
		}
	}
	return problems
}

// No text runs into another or out of its picture, on any of the sites.
func TestTextsKeepApart(t *testing.T) {
	each(t, func(t *testing.T, name string, s *Scene) {
		for _, problem := range s.collisions() {
			t.Errorf("%s: %s", name, problem)
		}
	})
}

// What any site may look like: none of its pictures has a text that runs into another
// one or off the page, or a point that is nowhere.
func TestRandomSites(t *testing.T) {
	checks(t, 30, func(t *rapid.T) {
		w, ok := random(t)
		if !ok {
			return
		}
		for kind, scenes := range w.pictures(quantity.System(rapid.IntRange(0, 1).Draw(t, "units"))) {
			for _, s := range scenes {
				for _, problem := range append(s.collisions(), s.strays()...) {
					t.Errorf("%s %q: %s", kind, s.Title, problem)
				}
			}
		}
	})
}

// checks runs a property a number of times that suits its cost.
func checks(t *testing.T, n int, property func(*rapid.T)) {
	t.Helper()
	before := flag.Lookup("rapid.checks").Value.String()
	if err := flag.Set("rapid.checks", strconv.Itoa(n)); err != nil {
		t.Fatal(err)
	}
	defer flag.Set("rapid.checks", before)
	rapid.Check(t, property)
}

// random is some site that the program takes.
func random(t *rapid.T) (worked, bool) {
	var b strings.Builder
	length := func(name string, lo, hi float64) string {
		return fmt.Sprintf(`"%.2f m"`, rapid.Float64Range(lo, hi).Draw(t, name))
	}
	b.WriteString("[site]\nfriction = 0.5\ngust_open = \"6 m/s\"\ngust_alone = \"12 m/s\"\n")
	gap := rapid.Float64Range(4, 12).Draw(t, "gap")
	columns := rapid.IntRange(0, 5).Draw(t, "columns")
	for i := range columns {
		fmt.Fprintf(&b, "[[column]]\nname = \"column %d\"\nat = [\"%.2f m\", %s]\nturn = \"%d deg\"\nfoot = [%s, %s]\n", i, gap*float64(i), length("y", -0.5, 0.5),
			rapid.SampledFrom([]int{0, 15, 45, 90}).Draw(t, "turn"), length("foot", 0.3, 1.8), length("foot", 0.3, 1.8))
		for k := range rapid.IntRange(1, 4).Draw(t, "sections") {
			fmt.Fprintf(&b, "[[column.section]]\nname = \"part %d\"\nshape = \"%s\"\nwidth = %s\nheight = %s\nmass = \"20 kg\"\n", k,
				rapid.SampledFrom([]string{"square", "round", "octagon"}).Draw(t, "shape"), length("width", 0.2, 0.9), length("height", 0.1, 2))
			if k > 0 {
				b.WriteString("joint = { bolts = 4, size = \"10 mm\" }\n")
			}
		}
		if rapid.Bool().Draw(t, "ballast") {
			fmt.Fprintf(&b, "[[ballast]]\nin = \"column %d\"\nmass = \"20 kg\"\ncount = %d\n", i, rapid.IntRange(0, 20).Draw(t, "bags"))
		}
		if rapid.Bool().Draw(t, "gate") {
			fmt.Fprintf(&b, "[[gate]]\nname = \"leaf %d\"\nhung_on = \"column %d\"\nface = \"east\"\nopens = \"north\"\nwidth = %s\nheight = %s\nmass = \"9 kg\"\n", i, i, length("leaf", 0.4, 1.6), length("leaf", 0.5, 1.2))
		}
	}
	for i := range rapid.IntRange(0, 4).Draw(t, "walls") {
		y := 4 + 4*float64(i)
		fmt.Fprintf(&b, "[[wall]]\nname = \"a rather long wall %d\"\nfrom = [\"0 m\", \"%.2f m\"]\nto = [%s, \"%.2f m\"]\nheight = %s\nmass = \"30 kg\"\n", i, y, length("end", 1, 12), y, length("height", 0.6, 3))
		if rapid.Bool().Draw(t, "braces") {
			fmt.Fprintf(&b, "braces = { count = %d, reach = %s, height = \"0.5 m\" }\n", rapid.IntRange(1, 5).Draw(t, "braces"), length("reach", 0.4, 1.5))
		} else {
			fmt.Fprintf(&b, "foot = %s\n", length("sill", 0.2, 1))
		}
	}
	if columns > 1 && rapid.Bool().Draw(t, "span") {
		fmt.Fprintf(&b, "[[span]]\nname = \"sign\"\nbetween = [\"column 0\", \"column 1\"]\nunderside = %s\nface = [\"2 m\", \"0.4 m\"]\nmass = \"5 kg\"\n", length("underside", 0.3, 2))
	}
	if rapid.Bool().Draw(t, "power") {
		b.WriteString("[[supply]]\nname = \"outlet\"\nvolts = 230\nbreaker = \"16 A\"\n")
		from := "outlet"
		for i := range rapid.IntRange(0, 12).Draw(t, "cords") {
			fmt.Fprintf(&b, "[[cord]]\nname = \"cord %d\"\nfrom = \"%s\"\ngauge = \"1.5 mm2\"\nlength = \"20 m\"\nroute = [[%s, \"-1 m\"], [%s, \"-1 m\"]]\n[[lamp]]\nname = \"lamp %d\"\non = \"cord %d\"\nwatts = 40\n", i, from, length("x", 0, 9), length("x", 0, 9), i, i)
			from = fmt.Sprintf("cord %d", i)
		}
	}
	f, problems := site.Load("site.toml", []byte(b.String()))
	if f == nil || problems.Fatal() {
		return worked{}, false
	}
	masses, problems := takeoff.Take(f)
	if problems.Fatal() {
		return worked{}, false
	}
	r, err := check.Run(f, masses, check.Options{EveryDirection: true})
	if err != nil {
		t.Fatalf("%v\n%s", err, b.String())
	}
	return worked{"site.toml", f, r}, true
}

// Every picture has a title and a description, and lines that are finite and on it.
func TestPicturesAreWhole(t *testing.T) {
	each(t, func(t *testing.T, name string, s *Scene) {
		if s.Title == "" || len(s.Desc) < 20 {
			t.Errorf("%s: title %q, description %q", name, s.Title, s.Desc)
		}
		for _, problem := range s.strays() {
			t.Errorf("%s: %s", name, problem)
		}
		depth := 0
		for _, it := range s.items {
			switch {
			case it.group != "":
				depth++
			case it.end:
				depth--
			}
		}
		if depth != 0 {
			t.Errorf("%s: %d groups are not closed", name, depth)
		}
	})
}

// The same scene gives the same bytes, and each is what it says it is.
func TestFormats(t *testing.T) {
	for _, w := range examples(t) {
		again := work(t, w.name, source(t, w.name))
		for kind, scenes := range w.pictures(quantity.US) {
			if len(scenes) == 0 {
				continue
			}
			one, two := Sheet(kind, scenes), Sheet(kind, again.pictures(quantity.US)[kind])
			for format, write := range map[string]func(*Scene, io.Writer) error{"svg": (*Scene).SVG, "pdf": (*Scene).PDF, "png": (*Scene).PNG} {
				if format == "png" && w.name != "school-fair.toml" {
					continue // slow, and the same code
				}
				var a, b bytes.Buffer
				if err := write(one, &a); err != nil {
					t.Fatalf("%s %s %s: %v", w.name, kind, format, err)
				}
				if err := write(two, &b); err != nil {
					t.Fatal(err)
				}
				if !bytes.Equal(a.Bytes(), b.Bytes()) {
					t.Errorf("%s %s %s: the second run gave other bytes", w.name, kind, format)
				}
				switch format {
				case "svg":
					wellFormed(t, w.name+" "+kind, a.Bytes())
				case "pdf":
					if !bytes.HasPrefix(a.Bytes(), []byte("%PDF-")) || !bytes.Contains(a.Bytes(), []byte("/FontFile2")) {
						t.Errorf("%s %s: not a PDF with its font", w.name, kind)
					}
				case "png":
					m, err := png.Decode(&a)
					if err != nil {
						t.Fatalf("%s %s: %v", w.name, kind, err)
					}
					if got, want := m.Bounds().Dx(), int(math.Ceil(2*(one.Width+2*margin))); got != want {
						t.Errorf("%s %s: %d pixels wide, want %d", w.name, kind, got, want)
					}
				}
			}
		}
	}
}

func source(t *testing.T, name string) []byte {
	t.Helper()
	for _, folder := range []string{"../../testdata/sites", "../sheet/testdata"} {
		if src, err := os.ReadFile(filepath.Join(filepath.FromSlash(folder), name)); err == nil {
			return src
		}
	}
	t.Fatalf("%s is nowhere", name)
	return nil
}

func wellFormed(t *testing.T, name string, svg []byte) {
	t.Helper()
	d := xml.NewDecoder(bytes.NewReader(svg))
	seen := map[string]int{}
	for {
		token, err := d.Token()
		if err == io.EOF {
			break
		}
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		if e, ok := token.(xml.StartElement); ok {
			seen[e.Name.Local]++
		}
	}
	for _, want := range []string{"title", "desc", "text", "path"} {
		if seen[want] == 0 {
			t.Errorf("%s: no <%s>", name, want)
		}
	}
}

// The wind on an elevation turns the piece as much as the working of its check says.
func TestElevationAgreesWithTheWorking(t *testing.T) {
	n := 0
	for _, w := range examples(t) {
		var bodies []*body
		for i := range w.f.Columns {
			bodies = append(bodies, columnBody(w.f, w.r, quantity.SI, &w.f.Columns[i]))
		}
		for i := range w.f.Walls {
			bodies = append(bodies, wallBody(w.f, w.r, quantity.SI, &w.f.Walls[i]))
		}
		for _, b := range bodies {
			p, ok := b.push(w.r)
			if !ok || len(p.check.Working) == 0 || !p.tips() {
				continue
			}
			want := 0.0
			for _, step := range p.check.Working {
				if rest, found := strings.CutPrefix(step.Numbers, "M_o = "); found {
					want, _ = strconv.ParseFloat(strings.Fields(rest)[0], 64)
				}
			}
			got := p.newton * p.height
			if p.check.State == open {
				l := w.f.Require.Lean
				got += float64(l.Force.V) * math.Min(float64(l.Height.V), b.top)
			}
			if math.Abs(got/want-1) > 0.01 {
				t.Errorf("%s, %s: the picture turns it with %.1f N·m, the working with %.1f", w.name, b.name, got, want)
			}
			n++
		}
	}
	if n < 10 {
		t.Errorf("only %d elevations have wind", n)
	}
}

// Whatever is put down, no two labels overlap and none leaves its area.
func TestLabels(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := &labels{area: Box{0, 0, 300, 200}}
		coordinate := rapid.Float64Range(0, 300)
		for range rapid.IntRange(0, 30).Draw(t, "lines") {
			l.avoid(Point{coordinate.Draw(t, "x"), coordinate.Draw(t, "y")}, Point{coordinate.Draw(t, "x"), coordinate.Draw(t, "y")})
		}
		s := &Scene{}
		n := rapid.IntRange(1, 40).Draw(t, "labels")
		for range n {
			s.label(l, Point{coordinate.Draw(t, "x"), coordinate.Draw(t, "y")}, Font{Size: small}, rapid.StringMatching("[a-z ]{1,20}").Draw(t, "text"), "x")
		}
		for i, b := range l.taken {
			if !l.area.holds(b) {
				t.Fatalf("label at %+v leaves its area", b)
			}
			for _, c := range l.taken[:i] {
				if b.overlaps(c) {
					t.Fatalf("labels overlap at %+v and %+v", b, c)
				}
			}
		}
	})
}

// Texts are broken where they fit, and lose nothing.
func TestLines(t *testing.T) {
	f := Font{Size: 8}
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.StringMatching("[a-zà-ÿ0-9 ]{0,80}").Draw(t, "text")
		width := rapid.Float64Range(20, 200).Draw(t, "width")
		lines := f.Lines(text, width)
		if got, want := strings.ReplaceAll(strings.Join(lines, ""), " ", ""), strings.ReplaceAll(text, " ", ""); got != want {
			t.Fatalf("%q became %q", want, got)
		}
		for _, line := range lines {
			if f.Width(line) > width {
				t.Fatalf("%q is %g wide, more than %g", line, f.Width(line), width)
			}
		}
	})
}

func TestGeometry(t *testing.T) {
	square := [][2]float64{{0, 0}, {2, 0}, {2, 2}, {0, 2}}
	if got := hull([][2]float64{{1, 1}, {2, 2}, {0, 0}, {2, 0}, {1, 0}, {0, 2}, {0, 0}}); len(got) != 4 {
		t.Errorf("hull of a square with points inside: %v", got)
	}
	for _, c := range []struct {
		p    [2]float64
		want float64
	}{{[2]float64{1, 1}, 0}, {[2]float64{3, 1}, 1}, {[2]float64{5, 6}, 5}, {[2]float64{2, 2}, 0}} {
		if got := distance(c.p, square); math.Abs(got-c.want) > 1e-12 {
			t.Errorf("distance of %v from the square: %g, want %g", c.p, got, c.want)
		}
	}
	for _, p := range offset(square, 1.5) {
		if got := distance(p, square); math.Abs(got-1.5) > 1e-9 {
			t.Errorf("a point of the offset line is %g away, want 1.5", got)
		}
	}
	if a, b, ok := clip(Box{0, 0, 10, 10}, Point{-5, 5}, Point{15, 5}); !ok || a != (Point{0, 5}) || b != (Point{10, 5}) {
		t.Errorf("clip gave %v, %v, %v", a, b, ok)
	}
	if _, _, ok := clip(Box{0, 0, 10, 10}, Point{-5, 0}, Point{0, 20}); ok {
		t.Error("a line that passes by the box was clipped to it")
	}
}

// A hatch stays within its outline and covers it.
func TestHatch(t *testing.T) {
	s := &Scene{}
	s.Hatch(hair, 2, 45, Box{0, 0, 20, 10}.corners()...)
	total := 0.0
	for _, it := range s.items {
		for _, p := range it.points {
			if !(Box{-1e-9, -1e-9, 20 + 2e-9, 10 + 2e-9}).holds(Box{p.X, p.Y, 0, 0}) {
				t.Errorf("a line of the hatch ends at %v", p)
			}
		}
		total += it.points[1].minus(it.points[0]).length()
	}
	// Lines 2 apart over 200: their length is about half of the area.
	if math.Abs(total-100) > 10 {
		t.Errorf("the hatch is %g long, want about 100", total)
	}
}

// The fonts have what the pictures print, and a sign that they lack is shown as such.
func TestFonts(t *testing.T) {
	for _, text := range []string{"0123456789 ×·°²³±½≥≤→…–□", "äöüßéèçñøåæ ΑαΩω Жж"} {
		if got := Covered(text); got != text {
			t.Errorf("the font lacks signs: %q became %q", text, got)
		}
	}
	if got := Covered("東pier\x07"); got != "□pier□" {
		t.Errorf("Covered gave %q", got)
	}
}
