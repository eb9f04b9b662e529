package site

import (
	"fmt"
	"reflect"

	"galefast/internal/catalog"
	"galefast/internal/quantity"
)

// Load reads a description. All problems are returned at once, sorted by place;
// the file is nil when any of them is more than a warning. name is the file's
// name in messages.
func Load(name string, src []byte) (*File, Problems) {
	doc, problems := parseDocument(name, src)
	if problems.Fatal() {
		problems.Sort()
		return nil, problems
	}
	r := &reader{file: name, lines: newLineIndex(name, src), problems: problems, defaults: &defaultLog{}, ownFaulty: map[string]bool{}}
	f := &File{Name: name}
	r.table(doc, reflect.ValueOf(f).Elem(), owner{label: "the file"})
	f.index()
	f.Catalog = r.ownRows(doc.child["catalog"])
	c := &crossCheck{reader: r, f: f}
	c.run()
	f.Assumptions = r.defaults.list()
	r.problems.Sort()
	if r.problems.Fatal() {
		return nil, r.problems
	}
	return f, r.problems
}

// ownRows reads [[catalog.TABLE]] entries: rows of the builder's own, each with
// its source.
func (r *reader) ownRows(n *node) *catalog.Catalog {
	c := catalog.Embedded()
	if n == nil {
		return c
	}
	if n.kind != tableNode {
		r.report(n.key, "wrong-kind", fmt.Sprintf("\"catalog\" of the file is %s, not a table of tables", n.kind), "[[catalog.TABLE]] before the keys of each row", "")
		return c
	}
	for _, table := range n.keys {
		list := n.child[table]
		columns := catalog.Columns(table)
		if columns == nil {
			hint := ""
			if near := r.nearest(table, catalog.Tables()); len(near) > 0 {
				hint = fmt.Sprintf("did you mean %q?", near[0])
			}
			r.report(list.key, "unknown-key", fmt.Sprintf("there is no catalog table %q", table), "one of "+join(catalog.Tables()), hint)
			continue
		}
		if list.kind != arrayNode {
			r.report(list.key, "single-brackets", fmt.Sprintf("[catalog.%s] has single brackets, but there can be several rows", table),
				fmt.Sprintf("[[catalog.%s]] before the keys of each", table), fmt.Sprintf("write [[catalog.%s]] with double brackets", table))
			continue
		}
		if n := len(list.items); n > mostParts {
			r.report(list.key, "range", fmt.Sprintf("there are %d rows of %q", n, "catalog."+table), fmt.Sprintf("at most %d", mostParts), "")
			continue
		}
		for i, row := range list.items {
			if row.kind != tableNode {
				r.report(row.value, "wrong-kind", fmt.Sprintf("entry %d of %q is %s, not a table", i+1, "catalog."+table, row.kind), "a table of keys", "")
				continue
			}
			r.ownRow(c, table, row)
		}
	}
	return c
}

func (r *reader) ownRow(c *catalog.Catalog, table string, row *node) {
	cells := map[string]string{}
	for _, key := range row.keys {
		cell := row.child[key]
		switch data := cell.data.(type) {
		case string:
			text, ok := r.plain(cell, key, fmt.Sprintf("[[catalog.%s]]", table), data)
			if !ok {
				return
			}
			cells[key] = text
		case int64, float64, bool:
			cells[key] = cell.raw
		default:
			r.report(cell.value, "wrong-kind", fmt.Sprintf("%q of [[catalog.%s]] is not a single value", key, table), "text or a number", "")
			return
		}
	}
	for _, e := range c.With(table, cells) {
		at, want := row.key, ""
		if cell := row.child[e.Key]; cell != nil {
			at = cell.value
		} else {
			want = e.Key + ` = "..."`
			if at.end <= at.start {
				at = row.value
			}
		}
		r.report(at, "catalog-row", fmt.Sprintf("[[catalog.%s]]: %s", table, e.Message), want, e.Hint)
		r.ownFaulty[table+" "+catalog.Fold(cells["name"])] = true
	}
}

// Problem makes a problem at a value of the file, for rules that stand outside this
// package.
func (f *File) Problem(at Entry, code, message, want, hint string) Problem {
	return Problem{Place: at.At, start: at.span.start, end: at.span.end, Code: code, Message: message, Want: want, Hint: hint}
}

// System is the family of units that results are printed in.
func (f *File) System() quantity.System {
	if f.Units.V == "si" {
		return quantity.SI
	}
	return quantity.US
}
