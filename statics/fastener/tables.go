package fastener

import (
	"bytes"
	"embed"
	"encoding/csv"
	"fmt"
	"strconv"
	"sync"
)

// Units of the documents.
const (
	inch = 0.0254              // m
	lbf  = 4.4482216152605     // N
	psi  = lbf / (inch * inch) // Pa
)

//go:embed data/*.csv
var dataFiles embed.FS

// origin is where a value of a table comes from.
type origin struct{ source, certainty string }

type datum struct {
	value float64
	origin
}

type bandRow struct {
	from, to, fyb float64 // m, m, Pa
	origin
}

type placeRow struct {
	full, least float64 // diameters
	origin
}

// tableSet is every table under data, parsed into SI.
type tableSet struct {
	fasteners []Fastener
	materials []Material
	washers   []washerRow
	bands     []bandRow
	factors   map[string]datum // by factor and case
	places    map[string]placeRow
	lengths   []lengthRow
	ropes     []Rope
	stakes    []Stake
	defaults  map[string]datum
}

type washerRow struct {
	bolt string
	Washer
}

type lengthRow struct {
	kind   Kind
	metric bool
	length float64 // m
}

// tables parses the data once, at first use.
var tables = sync.OnceValues(readTables)

func readTables() (*tableSet, error) {
	t := &tableSet{factors: map[string]datum{}, places: map[string]placeRow{}, defaults: map[string]datum{}}
	var r reader
	for r.open("fasteners.csv"); r.next(); {
		u := r.unit()
		f := Fastener{
			Kind: r.kind(), Size: r.text("size"), D: r.number("d") * u, Root: r.number("root") * u, Head: r.number("head") * u,
			Tip: r.optional("tip") * u, Length: r.optional("length") * u, Fu: r.optional("fu_mpa") * 1e6, Metric: u != inch,
		}
		f.Source, f.Certainty = r.origin().source, r.origin().certainty
		t.fasteners = append(t.fasteners, f)
	}
	for _, file := range [...]string{"materials.csv", "metals.csv"} {
		for r.open(file); r.next(); {
			m := Material{Name: r.text("name"), Metal: file == "metals.csv"}
			if m.Metal {
				m.Fe = r.number("fe_psi") * psi
			} else {
				m.Panel = r.text("form") == "panel"
				m.G, m.FcPerp, m.E = r.optional("specific_gravity"), r.optional("fc_perp_psi")*psi, r.optional("e_mpsi")*1e6*psi
				m.Density, m.Fc90 = r.optional("rho_k"), r.optional("fc90_mpa")*1e6
			}
			m.Source, m.Certainty = r.origin().source, r.origin().certainty
			t.materials = append(t.materials, m)
		}
	}
	for r.open("washers.csv"); r.next(); {
		u := r.unit()
		w := washerRow{r.text("bolt"), Washer{Name: r.text("name"), OD: r.number("od") * u}}
		w.Source, w.Certainty = r.origin().source, r.origin().certainty
		t.washers = append(t.washers, w)
	}
	for r.open("bending-yield.csv"); r.next(); {
		t.bands = append(t.bands, bandRow{r.number("from_in") * inch, r.number("to_in") * inch, r.number("fyb_psi") * psi, r.origin()})
	}
	for r.open("factors.csv"); r.next(); {
		t.factors[r.text("factor")+", "+r.text("case")] = datum{r.number("value"), r.origin()}
	}
	for r.open("placement.csv"); r.next(); {
		t.places[r.text("what")] = placeRow{r.number("full_d"), r.number("least_d"), r.origin()}
	}
	for r.open("lengths.csv"); r.next(); {
		u := r.unit()
		t.lengths = append(t.lengths, lengthRow{r.kind(), u != inch, r.number("length") * u})
	}
	for r.open("ropes.csv"); r.next(); {
		o := r.origin()
		t.ropes = append(t.ropes, Rope{
			Material: r.text("rope"), Diameter: r.number("diameter") * r.unit(), Breaking: r.number("breaking_lbf") * lbf,
			Source: o.source, Certainty: o.certainty,
		})
	}
	for r.open("stakes.csv"); r.next(); {
		o := r.origin()
		t.stakes = append(t.stakes, Stake{
			Name: r.text("name"), Length: r.number("length_in") * inch, Diameter: r.number("diameter_in") * inch,
			Pullout: r.number("pullout_lbf") * lbf, Source: o.source, Certainty: o.certainty,
		})
	}
	for r.open("defaults.csv"); r.next(); {
		t.defaults[r.text("name")] = datum{r.number("value"), r.origin()}
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
		r.err = fmt.Errorf("fastener: data/%s row %d: %s", r.file, r.i, reason)
	}
}

func (r *reader) open(file string) {
	r.file, r.rows, r.i = file, nil, 0
	b, err := dataFiles.ReadFile("data/" + file)
	if err != nil {
		r.fail(err.Error())
		return
	}
	if r.rows, err = csv.NewReader(bytes.NewReader(b)).ReadAll(); err != nil {
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

func (r *reader) number(column string) float64 {
	v, err := strconv.ParseFloat(r.text(column), 64)
	if err != nil {
		r.fail(err.Error())
	}
	return v
}

// optional reads a number; an empty cell is 0.
func (r *reader) optional(column string) float64 {
	if r.text(column) == "" {
		return 0
	}
	return r.number(column)
}

func (r *reader) unit() float64 {
	switch u := r.text("unit"); u {
	case "in":
		return inch
	case "mm":
		return 1e-3
	default:
		r.fail("no unit " + u)
		return 0
	}
}

func (r *reader) kind() Kind {
	name := r.text("kind")
	for k := WoodScrew; k <= Bolt; k++ {
		if k.String() == name {
			return k
		}
	}
	r.fail("no kind " + name)
	return 0
}

func (r *reader) origin() origin { return origin{r.text("source"), r.text("certainty")} }
