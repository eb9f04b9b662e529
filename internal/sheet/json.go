package sheet

import (
	"encoding/json"
	"io"

	"galefast/internal/verdict"
)

// JSON writes a value of the record with its stable keys.
func JSON(w io.Writer, v any) error {
	enc := json.NewEncoder(w)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", "  ")
	return enc.Encode(v)
}

// Worked is a check with its working.
type Worked struct {
	*verdict.Check
	Working []verdict.Step `json:"working"`
}

// WorkedWind is a row of the wind table with its working.
type WorkedWind struct {
	*verdict.WindRow
	Working []verdict.Step `json:"working"`
}

// Listing is a table of the catalog.
type Listing struct {
	Table  string     `json:"table"`
	Header []string   `json:"header"`
	Rows   [][]string `json:"rows"`
}
