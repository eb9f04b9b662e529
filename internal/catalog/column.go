package catalog

import (
	"errors"
	"fmt"
	"math"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"galefast/internal/quantity"
)

// Kinds of column that are no physical quantity.
const (
	Text   quantity.Kind = "text"
	Number quantity.Kind = "number"
	Flag   quantity.Kind = "flag" // yes or no
)

// Column describes one column of a table.
type Column struct {
	Key      string        // name of the column, and the key in the site file
	Kind     quantity.Kind // a quantity's kind, or Text, Number, Flag
	Doc      string
	Required bool
	OneOf    []string // the words allowed, empty when any will do

	field    []int // index of the struct field
	positive bool
	atMost   float64 // 0: no limit
	atLeast  string  // key of the column that it may not fall below and takes when left out
}

// CellError is what is wrong with one cell, or with the row or table when Key
// names none. Message stands by itself.
type CellError struct {
	Key     string
	Message string
	Hint    string // what to write instead; may be empty
}

func (e CellError) Error() string {
	if e.Hint == "" {
		return e.Message
	}
	return e.Message + " (" + e.Hint + ")"
}

// kindOf returns the kind of column for the type of a field.
func kindOf(field reflect.Type) quantity.Kind {
	switch v := reflect.Zero(field).Interface().(type) {
	case interface{ Kind() quantity.Kind }:
		return v.Kind()
	case float64:
		return Number
	case bool:
		return Flag
	}
	return Text
}

// columnsOf returns the columns of a row type: name and aliases first, then its
// own fields, source and certainty last.
func columnsOf(row reflect.Type) []Column {
	byKey := map[string]Column{}
	var own []string
	for _, f := range reflect.VisibleFields(row) {
		key, isColumn := f.Tag.Lookup("key")
		if !isColumn {
			continue
		}
		c := Column{Key: key, Kind: kindOf(f.Type), Doc: f.Tag.Get("doc"), field: f.Index}
		for rule := range strings.FieldsSeq(f.Tag.Get("is")) {
			word, value, _ := strings.Cut(rule, ":")
			switch word {
			case "required":
				c.Required = true
			case "positive":
				c.positive = true
			case "oneof":
				c.OneOf = strings.Split(value, "|")
			case "atmost":
				c.atMost, _ = strconv.ParseFloat(value, 64)
			case "atleast":
				c.atLeast = value
			}
		}
		byKey[key] = c
		if len(f.Index) == 1 { // not promoted from Row
			own = append(own, key)
		}
	}
	var columns []Column
	for _, key := range slices.Concat([]string{"name", "also"}, own, []string{"source", "certainty"}) {
		columns = append(columns, byKey[key])
	}
	return columns
}

// fill sets the fields of a row from the texts of its cells, each with its unit.
// It reports every cell that is wrong, in the order of the columns.
func fill(row reflect.Value, columns []Column, cells map[string]string) []CellError {
	var wrong []CellError
	for _, c := range columns {
		text := strings.TrimSpace(cells[c.Key])
		field := row.FieldByIndex(c.field)
		switch {
		case text == "" && c.Required:
			wrong = append(wrong, CellError{c.Key, c.Key + " is missing", c.Doc})
		case text != "":
			if e := c.set(field, text); e != nil {
				wrong = append(wrong, *e)
			}
		}
		if c.atLeast == "" {
			continue
		}
		i := slices.IndexFunc(columns, func(o Column) bool { return o.Key == c.atLeast })
		least := row.FieldByIndex(columns[i].field).Float()
		if text == "" {
			field.SetFloat(least)
		} else if v := field.Float(); v != 0 && v < least {
			wrong = append(wrong, CellError{c.Key, c.Key + " is less than " + c.atLeast, c.Doc})
		}
	}
	return wrong
}

// set parses the text of one cell into its field.
func (c Column) set(field reflect.Value, text string) *CellError {
	switch c.Kind {
	case Text:
		if len(c.OneOf) > 0 && !slices.Contains(c.OneOf, text) {
			return c.wrong(fmt.Sprintf("%q is none of its words", text), "one of "+strings.Join(c.OneOf, ", "))
		}
		field.SetString(text)
		return nil
	case Flag:
		switch text {
		case "yes", "true":
			field.SetBool(true)
		case "no", "false":
			field.SetBool(false)
		default:
			return c.wrong(fmt.Sprintf("%q is neither yes nor no", text), "")
		}
		return nil
	}
	v, e := c.parse(text)
	switch {
	case e != nil:
		return e
	case c.positive && v <= 0:
		return c.wrong(text+" is not above zero", "")
	case c.atMost > 0 && v > c.atMost:
		return c.wrong(fmt.Sprintf("%s is above %g", text, c.atMost), "")
	}
	field.SetFloat(v)
	return nil
}

// parse reads a number or a quantity, in SI.
func (c Column) parse(text string) (float64, *CellError) {
	if c.Kind == Number {
		v, err := strconv.ParseFloat(text, 64)
		if err != nil || math.IsNaN(v) || math.IsInf(v, 0) {
			return 0, c.wrong(fmt.Sprintf("%q is not a number", text), "a number without a unit, such as 0.42")
		}
		return v, nil
	}
	v, err := quantity.ParseKind(c.Kind, text)
	if err == nil {
		return v, nil
	}
	var parse *quantity.ParseError
	if errors.As(err, &parse) {
		return 0, c.wrong(parse.Message, parse.Hint)
	}
	return 0, c.wrong(err.Error(), "")
}

func (c Column) wrong(message, hint string) *CellError {
	return &CellError{c.Key, c.Key + ": " + message, hint}
}
