package catalog

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"maps"
	"reflect"
	"slices"
	"strings"
	"unicode"
)

// givenCertainty marks the rows of the site file.
const givenCertainty = "given in the site file"

// Table is one table of the catalog, in the order of its file.
type Table[R Named] struct {
	header  []string // as printed in the file, with units
	columns []Column
	rows    []R
	printed [][]string // the cells of each row as they were written
	index   map[string]int
}

// All returns the rows in order.
func (t *Table[R]) All() []R { return slices.Clone(t.rows) }

// Find returns the row of that name or alias. Case and spacing do not count,
// see [Fold].
func (t *Table[R]) Find(name string) (R, bool) {
	i, found := t.index[Fold(name)]
	if !found {
		var none R
		return none, false
	}
	return t.rows[i], true
}

// Nearest returns at most three names of rows that name may have meant.
func (t *Table[R]) Nearest(name string) []string {
	var names []string
	for i := range t.rows {
		names = append(names, t.rows[i].row().names()...)
	}
	return Nearest(name, names)
}

// reindex rebuilds the index. A name goes before an alias, and an alias of a
// given row before one of the embedded rows.
func (t *Table[R]) reindex() {
	t.index = map[string]int{}
	for _, given := range []bool{false, true} {
		for i := range t.rows {
			if r := t.rows[i].row(); r.Given == given {
				for _, alias := range r.names()[1:] {
					t.index[Fold(alias)] = i
				}
			}
		}
	}
	for i := range t.rows {
		t.index[Fold(t.rows[i].row().Name)] = i
	}
}

// read fills the table from a CSV file. The first line names the columns, each
// with the unit of its numbers in brackets; a cell that holds a letter states a
// unit of its own. Errors name file and row, counting the header as row 1.
func (t *Table[R]) read(file string, r io.Reader) error {
	t.columns = columnsOf(reflect.TypeFor[R]())
	records, err := csv.NewReader(r).ReadAll()
	if err != nil {
		return fmt.Errorf("%s: %w", file, err)
	}
	if len(records) == 0 {
		return fmt.Errorf("%s: no header", file)
	}
	t.header = records[0]
	units, err := t.unitsOf(t.header)
	if err != nil {
		return fmt.Errorf("%s row 1: %w", file, err)
	}
	var problems []error
	taken := map[string]string{}
	for i, record := range records[1:] {
		at := fmt.Sprintf("%s row %d", file, i+2)
		cells := map[string]string{}
		for j, text := range record {
			if text != "" && units[j] != "" && !strings.ContainsFunc(text, unicode.IsLetter) {
				text += " " + units[j]
			}
			cells[t.columns[j].Key] = text
		}
		var row R
		for _, e := range fill(reflect.ValueOf(&row).Elem(), t.columns, cells) {
			problems = append(problems, fmt.Errorf("%s: %w", at, e))
		}
		for _, name := range row.row().names() {
			key := Fold(name)
			if other, dup := taken[key]; dup {
				problems = append(problems, fmt.Errorf("%s: name %q is taken by %s", at, name, other))
			}
			taken[key] = at
		}
		t.rows = append(t.rows, row)
		t.printed = append(t.printed, record)
	}
	t.reindex()
	return errors.Join(problems...)
}

// unitsOf checks the header against the columns and returns the units, empty
// where a column has none.
func (t *Table[R]) unitsOf(header []string) ([]string, error) {
	if len(header) != len(t.columns) {
		return nil, fmt.Errorf("%d columns, want %d", len(header), len(t.columns))
	}
	units := make([]string, len(header))
	for i, cell := range header {
		key, unit, hasUnit := strings.Cut(cell, " [")
		if key != t.columns[i].Key {
			return nil, fmt.Errorf("column %d is %q, want %q", i+1, key, t.columns[i].Key)
		}
		if hasUnit {
			units[i] = strings.TrimSuffix(unit, "]")
		}
	}
	return units, nil
}

// with adds a row of the site file, or replaces the row of the same name, whose
// aliases it keeps when it gives none. The table is left as it was when a cell is
// wrong.
func (t *Table[R]) with(cells map[string]string) []CellError {
	name := Fold(cells["name"])
	at := slices.IndexFunc(t.rows, func(r R) bool { return Fold(r.row().Name) == name })
	printed := make([]string, len(t.columns))
	text := map[string]string{}
	var keys []string
	for i, c := range t.columns {
		printed[i] = strings.TrimSpace(cells[c.Key])
		switch {
		case c.Key == "certainty":
			printed[i] = givenCertainty
		case c.Key == "also" && printed[i] == "" && at >= 0:
			printed[i] = t.rows[at].row().Also
			fallthrough
		default:
			keys = append(keys, c.Key)
		}
		text[c.Key] = printed[i]
	}
	var row R
	fields := reflect.ValueOf(&row).Elem()
	fields.FieldByName("Given").SetBool(true)
	wrong := fill(fields, t.columns, text)
	for _, key := range slices.Sorted(maps.Keys(cells)) {
		if !slices.Contains(keys, key) {
			wrong = append(wrong, unknownKey(key, keys))
		}
	}
	wrong = append(wrong, t.clashes(row.row(), at)...)
	if len(wrong) > 0 {
		return wrong
	}
	// The slices may be shared with other copies of the catalog.
	t.rows, t.printed = slices.Clone(t.rows), slices.Clone(t.printed)
	if at < 0 {
		t.rows, t.printed = append(t.rows, row), append(t.printed, printed)
	} else {
		t.rows[at], t.printed[at] = row, printed
	}
	t.reindex()
	return nil
}

// clashes reports the names of a given row that another given row has, and the
// aliases that are the name of another row. The row is to take the place at.
func (t *Table[R]) clashes(row Row, at int) []CellError {
	var wrong []CellError
	if at >= 0 && t.rows[at].row().Given {
		wrong = append(wrong, CellError{"name", fmt.Sprintf("name: %q is given twice", row.Name), "give each row once"})
	}
	for _, alias := range row.names()[1:] {
		i, found := t.index[Fold(alias)]
		if !found || i == at {
			continue
		}
		if other := t.rows[i].row(); other.Given || Fold(other.Name) == Fold(alias) {
			wrong = append(wrong, CellError{"also", fmt.Sprintf("also: %q already means %q", alias, other.Name), "leave it out, or name this row so"})
		}
	}
	return wrong
}

func (t *Table[R]) list() (header []string, rows [][]string) {
	rows = make([][]string, len(t.printed))
	for i, r := range t.printed {
		rows[i] = slices.Clone(r)
	}
	return slices.Clone(t.header), rows
}

func (t *Table[R]) describe() []Column { return t.columns }
