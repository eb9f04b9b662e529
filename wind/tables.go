package wind

import (
	"bytes"
	"embed"
	"encoding/csv"
	"fmt"
	"math"
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

	kd [Panel + 1]float64 // of ASCE 7, by Shape

	en tablesEN

	combinations []combinationRow
	reductions   []Reduction
}

type combinationRow struct {
	basis Basis
	Combination
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
	from    string
}

type frameRow struct {
	below, flat, roundSlow, roundFast float64
	from                              string
}

// alongZone is a zone of a wall with the wind along it. It ends at that many unit
// lengths from the windward edge.
type alongZone struct {
	end, cp float64
	from    string
}

// constant is a single value of a table.
type constant struct {
	v    float64
	from string
}

// tables parses the data once, at first use.
var tables = sync.OnceValues(readTables)

func readTables() (*tableSet, error) {
	t := &tableSet{}
	var r reader

	for r.open("exposures.csv"); r.next(); {
		t.exposures = append(t.exposures, exposureRow{Basis(r.text("edition")), Exposure{
			Name: r.text("exposure"), Constant: r.number("constant"), Alpha: r.number("alpha"), Zg: r.number("zg_m"),
			Source: r.text("source"), Certainty: r.text("certainty")}})
	}
	for r.open("terrains.csv"); r.next(); {
		t.terrains = append(t.terrains, Terrain{Name: r.text("category"), Z0: r.number("z0_m"), ZMin: r.number("zmin_m"),
			Source: r.text("source"), Certainty: r.text("certainty")})
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
		t.sign.from = append(t.sign.from, r.origin())
	}
	for r.open("solid-sign-case-c.csv"); r.next(); {
		c := zoneColumn{bs: r.number("b_over_s"), starred: r.text("starred") == "yes", from: r.origin()}
		copy(c.cf[:], r.numbers(len(c.cf)))
		t.zones = append(t.zones, c)
	}
	for r.open("return-corners.csv"); r.next(); {
		t.corner.add(r.number("lr_over_s"), r.number("factor"), r.origin())
	}
	r.open("prisms.csv")
	t.slender = r.columns("row")
	for r.next() {
		var c curve
		for i, y := range r.numbers(len(t.slender)) {
			c.add(t.slender[i], y, r.origin())
		}
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
		t.frames = append(t.frames, frameRow{r.number("solidity_below"), r.number("flat"), r.number("round_slow"), r.number("round_fast"), r.origin()})
	}
	for r.open("wind-along-walls.csv"); r.next(); {
		z := alongZone{r.number("zone_end"), r.number("cp"), r.origin()}
		switch c := r.text("c_over_h"); c {
		case "up to 0.7":
			t.alongRaised = append(t.alongRaised, z)
		case "above 0.7":
			t.alongStanding = append(t.alongStanding, z)
		default:
			r.fail("unknown c_over_h " + c)
		}
	}
	for r.open("kd.csv"); r.next(); {
		t.kd[r.shape("structure")] = r.number("kd")
	}
	t.en.read(&r)
	for r.open("combinations.csv"); r.next(); {
		t.combinations = append(t.combinations, combinationRow{Basis(r.text("basis")), Combination{
			Name: r.text("name"), Dead: r.number("dead"), DeadUnfavourable: r.number("dead_unfavourable"),
			Wind: r.number("wind"), People: r.number("people"), Required: r.number("required"),
			Source: r.text("source"), Certainty: r.text("certainty")}})
	}
	for r.open("reductions.csv"); r.next(); {
		t.reductions = append(t.reductions, Reduction{
			Name: r.text("name"), Factor: r.number("factor"), OnSpeed: r.text("on") == "speed", Clause: r.text("clause"),
			Condition: r.text("condition"), Source: r.text("source"), Certainty: r.text("certainty")})
	}
	return t, r.err
}

func (t *tablesEN) read(r *reader) {
	for r.open("en1991-walls.csv"); r.next(); {
		zones := map[string]*[4]curve{"no return": &t.wall, "return": &t.corner, "porous": &t.porous}[r.text("case")]
		if zones == nil {
			r.fail("no case " + r.text("case"))
			continue
		}
		for k, zone := range [...]string{"A", "B", "C", "D"} {
			zones[k].add(r.number("l_over_h"), r.number(zone), r.origin())
		}
	}
	for r.open("en1991-rectangles.csv"); r.next(); {
		t.rectangle.add(math.Log10(r.number("d_over_b")), r.number("cf0"), r.origin())
	}
	for r.open("en1991-corners.csv"); r.next(); {
		t.rounded.add(r.number("r_over_b"), r.number("psi_r"), r.origin())
	}
	for r.open("en1991-end-effect.csv"); r.next(); {
		t.endEffect.add(math.Log10(r.number("lambda")), r.number("psi_lambda"), r.origin())
	}
	for r.open("en1991-slenderness.csv"); r.next(); {
		c := &t.slenderFlat
		if r.text("section") == "round" {
			c = &t.slenderRnd
		}
		c.add(r.number("length_m"), r.number("lambda_per_l_over_b"), r.origin())
		t.slenderest = r.number("highest")
	}
	for r.open("en1991-shapes.csv"); r.next(); {
		v := constant{r.number("value"), r.origin()}
		switch row := r.text("row"); row {
		case "signboard":
			t.board = v
		case "lattice flat":
			t.latticeFlat = v
		case "lattice round":
			t.latticeRound = v
		case "cylinder":
			t.cylinder = v
		default:
			t.polygon[r.shape("row")] = v
		}
	}
	for r.open("en1991-roughness.csv"); r.next(); {
		i, ok := map[string]Roughness{"smooth": Smooth, "rough": Rough, "very rough": VeryRough}[r.text("roughness")]
		if !ok {
			r.fail("no roughness " + r.text("roughness"))
		}
		t.roughness[i] = roughnessEN{k: r.number("k_m"), overB: r.number("k_over_b"), from: r.origin()}
	}
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

// origin is where a row is from and how certain that is.
func (r *reader) origin() string { return r.text("source") + " (" + r.text("certainty") + ")" }

func (r *reader) number(column string) float64 { return r.parse(r.text(column)) }

// shape reads the name of a shape.
func (r *reader) shape(column string) Shape {
	name := r.text(column)
	for s := Square; s <= Panel; s++ {
		if s.String() == name {
			return s
		}
	}
	r.fail("no shape " + name)
	return 0
}

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
type curve struct {
	x, y []float64
	from []string // origin of each point
}

func (c *curve) add(x, y float64, from string) {
	c.x, c.y, c.from = append(c.x, x), append(c.y, y), append(c.from, from)
}

func (c curve) at(x float64) float64 {
	i, f := bracket(c.x, x)
	return c.y[i] + f*(c.y[i+1]-c.y[i])
}

// grid is bilinear between its nodes, x and y ascending, level beyond its edges.
type grid struct {
	x, y []float64
	v    [][]float64
	from []string // origin of the row of each x
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
