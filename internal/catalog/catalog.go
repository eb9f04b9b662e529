// Package catalog holds the tables of materials, ballast, grounds, cords and
// devices that the program knows, and takes rows of the site file into them.
//
// One CSV file a table lies under data. The header names each column with the
// unit in which the source prints it; the cells are the source's figures, and
// only code turns them into SI. A cell with a letter in it states its own unit.
// Every row says where its figures come from (source) and how well they are
// known (certainty): seen in a named document, computed, common practice, or
// from memory; with several figures in a row, the least of them.
//
// Where a source gives a spread, the plain column holds the light, weak or
// slippery end and `heavy` the other one: for standing, light is the harder
// assumption, for what has to be carried, heavy. A zero in a column that may
// be left out means not known. A row that a table does not have is not found;
// nothing is interpolated between rows.
//
// Documents: PS 20, NDS and its Supplement, ASTM C578 and D1785, EN 338,
// ASCE 7 commentary, EN 12195-1, TG20:13, NEC Chapter 9 Table 8 and Article
// 400, IEC 60228, BS 7671 Appendix 4, DIN VDE 0298-4, each as far as the row
// says so.
package catalog

import (
	"embed"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"slices"
	"strings"
	"sync"
)

//go:embed data/*.csv
var data embed.FS

// Catalog is the whole of the tables.
type Catalog struct {
	Lumber    Table[Lumber]
	Wood      Table[Wood]
	Panel     Table[Panel]
	Foam      Table[Foam]
	Pipe      Table[Pipe]
	Coat      Table[Coat]
	Ballast   Table[Ballast]
	Ground    Table[Ground]
	Conductor Table[Conductor]
	CordType  Table[CordType]
	Device    Table[Device]
}

// table is what the catalog asks of a table whatever its rows.
type table interface {
	read(file string, r io.Reader) error
	describe() []Column
	list() (header []string, rows [][]string)
	with(cells map[string]string) []CellError
}

type namedTable struct {
	name  string
	table table
}

func (c *Catalog) tables() []namedTable {
	return []namedTable{
		{"lumber", &c.Lumber},
		{"wood", &c.Wood},
		{"panel", &c.Panel},
		{"foam", &c.Foam},
		{"pipe", &c.Pipe},
		{"coat", &c.Coat},
		{"ballast", &c.Ballast},
		{"ground", &c.Ground},
		{"conductor", &c.Conductor},
		{"cordtype", &c.CordType},
		{"device", &c.Device},
	}
}

func (c *Catalog) table(name string) (table, bool) {
	for _, t := range c.tables() {
		if t.name == Fold(name) {
			return t.table, true
		}
	}
	return nil, false
}

// embedded is read once. The files are part of the program, so that only a
// broken build can fail here; the tests read them too.
var embedded = sync.OnceValue(func() *Catalog {
	c, err := load(data)
	if err != nil {
		panic(err)
	}
	return c
})

// Embedded returns the catalog of the program, a copy of its own for each call.
func Embedded() *Catalog {
	c := *embedded() // shares the rows, which With never writes to
	return &c
}

// load reads data/NAME.csv for each table.
func load(files fs.FS) (*Catalog, error) {
	c := new(Catalog)
	var problems []error
	for _, t := range c.tables() {
		path := "data/" + t.name + ".csv"
		f, err := files.Open(path)
		if err == nil {
			err = t.table.read(path, f)
			f.Close()
		}
		problems = append(problems, err)
	}
	return c, errors.Join(problems...)
}

// Tables returns the names of the tables in order.
func Tables() []string {
	var names []string
	for _, t := range new(Catalog).tables() {
		names = append(names, t.name)
	}
	return names
}

// Columns returns the columns that the site file may give for a table, nil when
// there is no such table. The program itself sets the certainty of such a row.
func Columns(table string) []Column {
	t, found := embedded().table(table)
	if !found {
		return nil
	}
	return slices.DeleteFunc(slices.Clone(t.describe()), func(c Column) bool { return c.Key == "certainty" })
}

// With adds a row of the site file to a table, or replaces the row of the same
// name. The cells are texts with their units, by the keys of [Columns]. When
// any is wrong, With returns all that are and leaves the catalog as it was.
func (c *Catalog) With(table string, cells map[string]string) []CellError {
	t, found := c.table(table)
	if !found {
		return []CellError{noTable(table)}
	}
	return t.with(cells)
}

// Rows returns a table as it is printed: the header with units, and the cells as
// in the source or the site file; source and certainty come last.
func (c *Catalog) Rows(table string) (header []string, rows [][]string, err error) {
	t, found := c.table(table)
	if !found {
		return nil, nil, noTable(table)
	}
	header, rows = t.list()
	return header, rows, nil
}

func noTable(name string) CellError {
	return CellError{"", fmt.Sprintf("there is no table %q", name), "tables: " + strings.Join(Tables(), ", ")}
}

func unknownKey(key string, known []string) CellError {
	hint := "columns: " + strings.Join(known, ", ")
	if near := Nearest(key, known); len(near) > 0 {
		hint = "did you mean " + near[0] + "?"
	}
	return CellError{key, fmt.Sprintf("there is no column %q", key), hint}
}
