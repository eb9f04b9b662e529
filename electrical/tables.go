package electrical

import (
	_ "embed"
	"encoding/csv"
	"strconv"
	"strings"
	"sync"
)

// The tables are embedded and read once; tests read the files, so that shipped ones parse.

//go:embed trips.csv
var tripsCSV string

var tripRows = sync.OnceValue(func() []tripRow {
	var list []tripRow
	for _, r := range records(tripsCSV) {
		multiple, seconds := number(r[4]), number(r[5])
		list = append(list, tripRow{r[0], r[1], number(r[2]), number(r[3]), Trip{multiple, seconds, Cited{multiple, r[6], r[7]}}})
	}
	return list
})

var fuelRows = sync.OnceValue(func() []fuelRow {
	var list []fuelRow
	for _, r := range records(fuelCSV) {
		list = append(list, fuelRow{Fuel(r[0]), number(r[1]), Cited{number(r[2]), r[3], r[4]}})
	}
	return list
})

// records returns the rows of a table below its header.
func records(table string) [][]string {
	rows, err := csv.NewReader(strings.NewReader(table)).ReadAll()
	if err != nil {
		return nil
	}
	return rows[1:]
}

func number(text string) float64 {
	v, _ := strconv.ParseFloat(text, 64)
	return v
}
