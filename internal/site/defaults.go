package site

import (
	"bytes"
	_ "embed"
	"encoding/csv"
	"fmt"
	"sync"
)

// Default is one row of defaults.csv: what an absent key is taken as, and why.
type Default struct {
	Key, Value, Why, Source, Certainty string
}

//go:embed defaults.csv
var defaultsCSV []byte

// Defaults returns every default in the order of the table.
var Defaults = sync.OnceValue(func() []Default {
	records, err := csv.NewReader(bytes.NewReader(defaultsCSV)).ReadAll()
	if err != nil {
		panic(fmt.Sprintf("site: defaults.csv: %v", err)) // a broken shipped table is a build fault
	}
	rows := make([]Default, 0, len(records))
	for _, rec := range records[1:] {
		rows = append(rows, Default{rec[0], rec[1], rec[2], rec[3], rec[4]})
	}
	return rows
})

var defaultIndex = sync.OnceValue(func() map[string]Default {
	index := map[string]Default{}
	for _, d := range Defaults() {
		index[d.Key] = d
	}
	return index
})

// DefaultOf returns the row of a key, also of one that no file can give.
func DefaultOf(key string) (Default, bool) {
	d, ok := defaultIndex()[key]
	return d, ok
}

// Assumption is a value that the file does not give and that was taken instead.
type Assumption struct {
	Default
	Of []string // the tables that lack it, in file order
	At Place    // the first of them
}

// defaultLog gathers the defaults that were used, in the order of the table.
type defaultLog struct {
	byKey map[string]*Assumption
}

func (l *defaultLog) used(d Default, label string, at Place) {
	if l.byKey == nil {
		l.byKey = map[string]*Assumption{}
	}
	a := l.byKey[d.Key]
	if a == nil {
		a = &Assumption{Default: d, At: at}
		l.byKey[d.Key] = a
	}
	a.Of = append(a.Of, label)
}

// replace records another row in place of one that was used.
func (l *defaultLog) replace(key string, d Default) {
	if a := l.byKey[key]; a != nil {
		delete(l.byKey, key)
		a.Default = d
		l.byKey[d.Key] = a
	}
}

func (l *defaultLog) list() []Assumption {
	var list []Assumption
	for _, d := range Defaults() {
		if a := l.byKey[d.Key]; a != nil {
			list = append(list, *a)
		}
	}
	return list
}
