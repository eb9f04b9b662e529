package statics

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"
)

// TestReference checks published exercises, by the closed forms and by limit analysis.
func TestReference(t *testing.T) {
	file, err := os.Open("../testdata/reference/statics.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	rows, err := csv.NewReader(file).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	for _, row := range rows[1:] {
		name, quantity, expected, source := row[0], row[5], row[6], row[7]
		t.Run(name, func(t *testing.T) {
			b := Body{Dead: forces(t, row[3]), Live: forces(t, row[4])}
			for _, p := range numbers(t, row[1], 2) {
				b.Foot = append(b.Foot, [2]float64(p))
			}
			b.Friction = numbers(t, row[2], 1)[0][0]
			r, err := b.Check()
			if err != nil {
				t.Fatal(err)
			}
			g, l := lone(b)
			along := math.Atan2(b.Live[0].F[1], b.Live[0].F[0])
			solve := func(only Limit) Outcome { return analyse(t, g, l, along, only) }
			worst := r.Overturning[r.WorstEdge]
			if quantity == "mechanism" {
				o := solve(AllLimits)
				for _, got := range []string{r.Mechanism(), o.Collapse.Words(g)} {
					if got != expected {
						t.Errorf("%q, want %q; source: %s", got, expected, source)
					}
				}
				return
			}
			var got []float64
			switch quantity {
			case "overturning":
				got = []float64{worst.Factor.Value, solve(TippingOnly).Factor.Value}
			case "sliding":
				got = []float64{r.Sliding.Factor.Value, solve(SlidingOnly).Factor.Value}
			case "resisting":
				// The factor is that moment over the live one.
				got = []float64{worst.Resisting, solve(TippingOnly).Factor.Value * worst.Overturning}
			case "tipping":
				got = []float64{worst.Overturning, worst.Resisting / solve(TippingOnly).Factor.Value}
			}
			want, err := strconv.ParseFloat(expected, 64)
			if err != nil || len(got) == 0 {
				t.Fatalf("row %q", row)
			}
			for _, got := range got {
				if math.Abs(got-want) > halfDigit(expected) {
					t.Errorf("%s %g, want %s; source: %s", quantity, got, expected, source)
				}
			}
		})
	}
}

// halfDigit is half of the last printed digit.
func halfDigit(s string) float64 {
	_, decimals, _ := strings.Cut(s, ".")
	return 0.5 * math.Pow10(-len(decimals))
}

func numbers(t *testing.T, s string, size int) (rows [][]float64) {
	t.Helper()
	for _, part := range strings.Split(s, ";") {
		var row []float64
		for _, field := range strings.Fields(part) {
			v, err := strconv.ParseFloat(field, 64)
			if err != nil {
				t.Fatal(err)
			}
			row = append(row, v)
		}
		if len(row) != size {
			t.Fatalf("%q: %d numbers, want %d", s, len(row), size)
		}
		rows = append(rows, row)
	}
	return rows
}

func forces(t *testing.T, s string) (fs []Force) {
	for _, v := range numbers(t, s, 6) {
		fs = append(fs, Force{F: Vec(v[:3]), At: Vec(v[3:])})
	}
	return fs
}
