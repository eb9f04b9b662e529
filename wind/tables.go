package wind

import (
	"bytes"
	"embed"
	"encoding/csv"
	"fmt"
	"strconv"
	"sync"
)

//go:embed data/*.csv
var dataFiles embed.FS

// tableSet is every table under data, parsed.
type tableSet struct {
	exposures []exposureRow
	terrains  []Terrain
	beaufort  []BeaufortForce
	gusts     []GustFactor

	sign   grid         // Cf by s/h and B/s, cases A and B
	zones  []zoneColumn // Cf of case C by B/s
	corner curve        // factor on starred case C values by Lr/s

	slender                             []float64 // h/D of the curves below
	squareFace, squareDiagonal, polygon curve
	roundSlow                           curve
	roundFast                           [3]curve // by Roughness

	frames []frameRow // Cf of open frames by solidity

	alongRaised, alongStanding []alongZone // wind along a wall, c/h up to 0.7 and above
}

type exposureRow struct {
	edition Basis
	Exposure
}

// zoneColumn is one column of case C. Zones end at 1, 2, 3, 4, 5, 10 and any
// number of s from the windward edge.
type zoneColumn struct {
	bs      float64
	cf      [7]float64 // 0 where the table has no value
	starred bool       // the first zone is reduced by a return corner
}

type frameRow struct{ below, flat, roundSlow, roundFast float64 }

// alongZone is a zone of a wall with the wind along it. It ends at that many unit
// lengths from the windward edge.
type alongZone struct{ end, cp float64 }

// tables parses the data once, at first use.
var tables = sync.OnceValues(readTables)

func readTables() (*tableSet, error) {
	t := &tableSet{}
	var r reader

	for r.open("exposures.csv"); r.next(); {
		t.exposures = append(t.exposures, exposureRow{Basis(r.text("edition")), Exposure{
			Name: r.text("exposure"), Constant: r.number("constant"), Alpha: r.number("alpha"), Zg: r.number("zg_m")}})
	}
	for r.open("terrains.csv"); r.next(); {
		t.terrains = append(t.terrains, Terrain{Name: r.text("category"), Z0: r.number("z0_m"), ZMin: r.number("zmin_m")})
	}
	for r.open("beaufort.csv"); r.next(); {
		t.beaufort = append(t.beaufort, BeaufortForce{Number: int(r.number("force")), Name: r.text("name"), From: r.number("from_ms"), Sign: r.text("sign"),
			Source: r.text("source"), Certainty: r.text("certainty")})
	}
	for r.open("gust-factors.csv"); r.next(); {
		t.gusts = append(t.gusts, GustFactor{MeanSeconds: r.number("mean_s"), Factor: r.number("factor"),
			Source: r.text("source"), Certainty: r.text("certainty")})
	}

	r.open("solid-sign-cases-a-b.csv")
	t.sign.y = r.columns("s_over_h")
	for r.next() {
		t.sign.x = append(t.sign.x, r.number("s_over_h"))
		t.sign.v = append(t.sign.v, r.numbers(len(t.sign.y)))
	}
	for r.open("solid-sign-case-c.csv"); r.next(); {
		c := zoneColumn{bs: r.number("b_over_s"), starred: r.text("starred") == "yes"}
		copy(c.cf[:], r.numbers(len(c.cf)))
		t.zones = append(t.zones, c)
	}
	for r.open("return-corners.csv"); r.next(); {
		t.corner.x = append(t.corner.x, r.number("lr_over_s"))
		t.corner.y = append(t.corner.y, r.number("factor"))
	}
	r.open("prisms.csv")
	t.slender = r.columns("row")
	for r.next() {
		c := curve{t.slender, r.numbers(len(t.slender))}
		switch row := r.text("row"); row {
		case "square face":
			t.squareFace = c
		case "square diagonal":
			t.squareDiagonal = c
		case "polygon":
			t.polygon = c
		case "round slow":
			t.roundSlow = c
		case "round fast smooth":
			t.roundFast[Smooth] = c
		case "round fast rough":
			t.roundFast[Rough] = c
		case "round fast very rough":
			t.roundFast[VeryRough] = c
		default:
			r.fail("unknown row " + row)
		}
	}
	for r.open("open-frames.csv"); r.next(); {
		t.frames = append(t.frames, frameRow{r.number("solidity_below"), r.number("flat"), r.number("round_slow"), r.number("round_fast")})
	}
	for r.open("wind-along-walls.csv"); r.next(); {
		z := alongZone{r.number("zone_end"), r.number("cp")}
		switch c := r.text("c_over_h"); c {
		case "up to 0.7":
			t.alongRaised = append(t.alongRaised, z)
		case "above 0.7":
			t.alongStanding = append(t.alongStanding, z)
		default:
			r.fail("unknown c_over_h " + c)
		}
	}
	return t, r.err
}

// reader walks the rows of one table after another and keeps the first error.
type reader struct {
	file string
	rows [][]string // header first
	i    int
	err  error
}

func (r *reader) fail(reason string) {
	if r.err == nil {
		r.err = fmt.Errorf("wind: data/%s row %d: %s", r.file, r.i, reason)
	}
}

func (r *reader) open(file string) {
	r.file, r.rows, r.i = file, nil, 0
	b, err := dataFiles.ReadFile("data/" + file)
	if err != nil {
		r.fail(err.Error())
		return
	}
	c := csv.NewReader(bytes.NewReader(b))
	if r.rows, err = c.ReadAll(); err != nil {
		r.fail(err.Error())
	}
}

func (r *reader) next() bool {
	r.i++
	return r.i < len(r.rows)
}

func (r *reader) text(column string) string {
	for j, h := range r.rows[0] {
		if h == column {
			return r.rows[r.i][j]
		}
	}
	r.fail("no column " + column)
	return ""
}

func (r *reader) number(column string) float64 { return r.parse(r.text(column)) }

func (r *reader) parse(s string) float64 {
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		r.fail(err.Error())
	}
	return v
}

// columns returns the numbers that head the columns between the first, which
// must be called first, and the two last, source and certainty.
func (r *reader) columns(first string) []float64 {
	if len(r.rows) == 0 || len(r.rows[0]) < 4 || r.rows[0][0] != first {
		r.fail("the header does not begin with " + first)
		return nil
	}
	h := r.rows[0]
	v := make([]float64, 0, len(h)-3)
	for _, s := range h[1 : len(h)-2] {
		v = append(v, r.parse(s))
	}
	return v
}

// numbers returns the n values after the first column; an empty cell is 0.
func (r *reader) numbers(n int) []float64 {
	v := make([]float64, n)
	for j := range v {
		if s := r.rows[r.i][j+1]; s != "" {
			v[j] = r.parse(s)
		}
	}
	return v
}

// curve is a line through points, x ascending, level beyond its ends.
type curve struct{ x, y []float64 }

func (c curve) at(x float64) float64 {
	i, f := bracket(c.x, x)
	return c.y[i] + f*(c.y[i+1]-c.y[i])
}

// grid is bilinear between its nodes, x and y ascending, level beyond its edges.
type grid struct {
	x, y []float64
	v    [][]float64
}

func (g *grid) at(x, y float64) float64 {
	i, f := bracket(g.x, x)
	j, h := bracket(g.y, y)
	a, b := g.v[i], g.v[i+1]
	return (1-f)*((1-h)*a[j]+h*a[j+1]) + f*((1-h)*b[j]+h*b[j+1])
}

// bracket returns i and f with x = xs[i] + f (xs[i+1] - xs[i]), held within xs.
func bracket(xs []float64, x float64) (int, float64) {
	if x <= xs[0] {
		return 0, 0
	}
	for i := 1; i < len(xs); i++ {
		if x <= xs[i] {
			return i - 1, (x - xs[i-1]) / (xs[i] - xs[i-1])
		}
	}
	return len(xs) - 2, 1
}
