package way

import (
	_ "embed"
	"encoding/csv"
	"fmt"
	"math"
	"strconv"
	"strings"
	"sync"

	"galefast/internal/quantity"
)

// Rule is a figure that a way or what stands beside it is held to.
type Rule struct {
	Family    string  // us or metric
	Name      string  // what it limits
	UpTo      float64 // people, or watts of a lamp, up to which it applies; infinite when there is no limit
	Value     float64 // m, kg, W or a number
	Text      string  // the same as its source prints it
	Clause    string
	Note      string
	Source    string
	Certainty string
}

//go:embed rules.csv
var rulesCSV string

var rules = sync.OnceValues(func() ([]Rule, error) {
	rows, err := csv.NewReader(strings.NewReader(rulesCSV)).ReadAll()
	if err != nil {
		return nil, err
	}
	var list []Rule
	for _, row := range rows[1:] {
		r := Rule{Family: row[0], Name: row[1], UpTo: math.Inf(1), Text: row[3], Clause: row[4], Note: row[5], Source: row[6], Certainty: row[7]}
		if row[2] != "" {
			if r.UpTo, err = strconv.ParseFloat(row[2], 64); err != nil {
				return nil, fmt.Errorf("rule %s of %s: %w", r.Name, r.Family, err)
			}
		}
		if r.Value, err = value(r.Name, r.Text); err != nil {
			return nil, fmt.Errorf("rule %s of %s: %w", r.Name, r.Family, err)
		}
		list = append(list, r)
	}
	return list, nil
})

func value(name, text string) (float64, error) {
	switch name {
	case "leaf against", "ways out", "cord across":
		return strconv.ParseFloat(text, 64)
	case "foam mass":
		v, err := quantity.Parse[quantity.Mass](text)
		return float64(v), err
	case "foam heat":
		v, err := quantity.Parse[quantity.Power](text)
		return float64(v), err
	}
	v, err := quantity.Parse[quantity.Length](text)
	return float64(v), err
}

// Rules are all of them, in the order of the file.
func Rules() []Rule {
	list, err := rules()
	if err != nil {
		panic(fmt.Sprintf("way: rules.csv: %v", err)) // embedded and read by a test: a build fault
	}
	return list
}

// Find is the rule of a family for so many people or watts. There is none beyond the last
// row of its table.
func Find(family, name string, of float64) (Rule, bool) {
	for _, r := range Rules() {
		if r.Family == family && r.Name == name && of <= r.UpTo {
			return r, true
		}
	}
	return Rule{}, false
}
