package main

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"galefast/internal/sheet"
	"galefast/internal/verdict"
)

// command runs galefast and decodes the JSON that it prints.
func command(t *testing.T, into any, input string, args ...string) {
	t.Helper()
	var out, problems bytes.Buffer
	if exit := run(args, strings.NewReader(input), &out, &problems); exit == exitUnusable {
		t.Fatalf("galefast %s: exit %d\n%s", strings.Join(args, " "), exit, problems.String())
	}
	if err := json.Unmarshal(out.Bytes(), into); err != nil {
		t.Fatalf("galefast %s: %v", strings.Join(args, " "), err)
	}
}

// windUnits are the units of testdata/reference/wind-cases.csv.
var windUnits = func() map[string]float64 {
	const foot, lbf = 0.3048, 4.4482216152605
	return map[string]float64{"": 1, "m": 1, "m/s": 1, "Pa": 1, "kPa": 1e3, "N": 1, "kN": 1e3, "N m": 1,
		"psf": lbf / (foot * foot), "lbf": lbf, "lbf ft": lbf * foot, "kip": 1e3 * lbf, "kip ft": 1e3 * lbf * foot}
}()

// Worked examples, from a site file to the table of the command.
func TestWindCases(t *testing.T) {
	folder := filepath.Join("..", "..", "testdata", "reference")
	f, err := os.Open(filepath.Join(folder, "wind-cases.csv"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	reader := csv.NewReader(f)
	reader.Comment = '#'
	records, err := reader.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	files, err := filepath.Glob(filepath.Join(folder, "wind-cases", "*.toml"))
	if err != nil || len(files) == 0 {
		t.Fatalf("no site files: %v", err)
	}
	tables, used := map[string][]verdict.WindRow{}, map[string]bool{}
	for _, path := range files {
		var wind verdict.Wind
		command(t, &wind, "", "wind", path, "--all", "--json")
		tables[strings.TrimSuffix(filepath.Base(path), ".toml")] = wind.Rows
	}
	for _, rec := range records[1:] {
		x := map[string]string{}
		for i, key := range records[0] {
			x[key] = rec[i]
		}
		used[x["file"]] = true
		t.Run(strings.Join([]string{x["id"], x["file"], x["output"], x["case"], x["from_deg"]}, " "), func(t *testing.T) {
			if x["source"] == "" || x["certainty"] == "" {
				t.Fatal("the row has no source or certainty")
			}
			unit, ok := windUnits[x["unit"]]
			if !ok {
				t.Fatalf("no unit %q", x["unit"])
			}
			surface, more, _ := strings.Cut(x["surface"], " + ")
			var of, others []verdict.WindRow // both of a pair of cases; the surface added
			for _, row := range tables[x["file"]] {
				if more != "" && row.Surface == more && row.Case == x["case"] && row.State == "closed" && strconv.FormatFloat(row.FromDeg, 'g', -1, 64) == x["from_deg"] {
					others = append(others, row)
				}
				if row.Surface == surface && row.State == "closed" && strconv.FormatFloat(row.FromDeg, 'g', -1, 64) == x["from_deg"] {
					if row.Case == x["case"] {
						of = append([]verdict.WindRow{row}, of...)
					} else if kind, _, pair := strings.Cut(row.Case, " "); pair && strings.HasPrefix(x["case"], kind+" ") {
						of = append(of, row)
					}
				}
			}
			if len(of) == 0 || of[0].Case != x["case"] {
				t.Fatalf("no row of the wind on %s, case %s, from %s degrees", x["surface"], x["case"], x["from_deg"])
			}
			got, err := windOutput(x["output"], x["put_in"], of)
			if output := x["output"]; len(others) > 0 && output != "force" {
				t.Fatalf("%q of several surfaces means nothing", output)
			}
			for _, row := range others {
				more, _ := windOutput("force", x["put_in"], []verdict.WindRow{row})
				got += more
			}
			if err != nil {
				t.Fatal(err)
			}
			want, err := strconv.ParseFloat(x["want"], 64)
			if err != nil {
				t.Fatal(err)
			}
			_, decimals, _ := strings.Cut(x["want"], ".")
			if half := 0.5 * math.Pow(10, -float64(len(decimals))); !(math.Abs(got/unit-want) <= half*(1+1e-9)) {
				t.Errorf("%s: got %.6g %s, want %s\nsource: %s; %s", x["what"], got/unit, x["unit"], x["want"], x["source"], x["certainty"])
			}
		})
	}
	for file := range tables {
		if !used[file] {
			t.Errorf("wind-cases/%s.toml has no row in wind-cases.csv", file)
		}
	}
}

// windOutput reads a value off a row, SI. Of two rows, the second is the mirrored case.
func windOutput(output, putIn string, of []verdict.WindRow) (float64, error) {
	row := of[0]
	factor := 1.0
	if key, text, given := strings.Cut(putIn, "="); given {
		v, err := strconv.ParseFloat(text, 64)
		if err != nil {
			return 0, err
		}
		switch key {
		case "cf":
			factor = v / row.Cf
		case "qp_kpa":
			factor = v * windUnits["kPa"] / row.QPa
		case "factor":
			factor = v
		default:
			return 0, fmt.Errorf("nothing to put in called %q", key)
		}
	}
	force := factor * math.Hypot(row.ForceN[0], row.ForceN[1])
	off := 0.0
	if len(of) == 2 { // the middle of the face is between the two
		off = math.Hypot(row.AtM[0]-of[1].AtM[0], row.AtM[1]-of[1].AtM[1]) / 2
	}
	switch output {
	case "q":
		return row.QPa, nil
	case "z":
		return row.ZM, nil
	case "speed":
		return row.SpeedMs, nil
	case "kz":
		return *row.Kz, nil
	case "kz x kzt":
		return row.QPa / (0.5 * 0.00256 * 2 * windUnits["psf"] / (0.44704 * 0.44704) * row.SpeedMs * row.SpeedMs), nil
	case "kd":
		return row.Kd, nil
	case "q x kd":
		return row.QPa * row.Kd, nil
	case "q x kd x g":
		return row.QPa * row.Kd * row.G, nil
	case "cf":
		return row.Cf, nil
	case "pressure":
		return force / row.AreaM2, nil
	case "force":
		return force, nil
	case "moment":
		return factor * row.Moment, nil
	case "torsion":
		return force * off, nil
	case "eccentricity":
		return off, nil
	}
	return 0, fmt.Errorf("no output %q", output)
}

// The same wall and column under every basis. DEVELOPERS.md quotes the table and says why
// its rows differ. One storm: a 3-s gust of 90 mph at 10 m over open ground, which is the
// peak there of a basic wind velocity of 26.23 m/s.
func TestFourBases(t *testing.T) {
	const pieces = `
friction = 1
slope    = "0 %"

[require]
lean = { force = "0 lbf", height = "4 ft" }

[[wall]]
name      = "wall"
from      = ["4 ft", "0 ft"]
to        = ["12 ft", "0 ft"]
height    = "6 ft"
foot      = "4 ft"
mass      = "100 kg"
tolerance = "0 %"

[[column]]
name      = "column"
at        = ["0 ft", "0 ft"]
foot      = ["26 in", "26 in"]
tolerance = "0 %"

  [[column.section]]
  name   = "shaft"
  width  = "26 in"
  height = "9 ft"
  mass   = "100 kg"
`
	var table strings.Builder
	table.WriteString("| piece | basis | read as | q, Pa | Cf | G·Kd | force, N | arm, m | moment, N·m | combination | must weigh, kg |\n" +
		"| --- | --- | --- | ---: | ---: | ---: | ---: | ---: | ---: | --- | ---: |\n")
	for _, piece := range []string{"wall", "column"} {
		for _, at := range [][3]string{{"gust", "C", "90 mph"}, {"asce7-16", "C", "90 mph"}, {"asce7-22", "C", "90 mph"}, {"en1991", "II", "26.23 m/s"}} {
			src := fmt.Sprintf("[site]\nbasis = %q\nterrain = %q\ngust_alone = %q\n", at[0], at[1], at[2]) + pieces
			var wind verdict.Wind
			command(t, &wind, src, "wind", "-", "--all", "--json")
			var row *verdict.WindRow
			for i := range wind.Rows {
				if w := &wind.Rows[i]; w.Piece == piece && w.State == "closed" && w.FromDeg == 180 && row == nil {
					row = w
				}
			}
			var tips sheet.Worked
			command(t, &tips, src, "explain", "--json", "standing/"+piece+"/overturning", "-")
			if row == nil || tips.Check == nil || tips.Has == nil {
				t.Fatalf("basis %s: no wind on %s, or no factor", at[0], piece)
			}
			reading, combination := "", fmt.Sprintf("D + W, factor %g", *tips.Needs)
			for _, step := range tips.Working {
				if _, rest, ok := strings.Cut(step.Text, ", read as "); ok {
					reading, _, _ = strings.Cut(rest, ",")
				}
				if name, ok := strings.CutPrefix(step.Text, "combination "); ok {
					combination = name
				}
			}
			fmt.Fprintf(&table, "| %s | `%s` | %s | %.0f | %.2f | %.3f | %.0f | %.2f | %.0f | %s | %.0f |\n", piece, at[0], reading, row.QPa, row.Cf, row.G*row.Kd,
				math.Hypot(row.ForceN[0], row.ForceN[1]), row.ArmM, row.Moment, combination, 100**tips.Needs / *tips.Has)
		}
	}
	text, err := os.ReadFile(filepath.Join("..", "..", "DEVELOPERS.md"))
	if err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(string(text), table.String()) {
		t.Errorf("DEVELOPERS.md must quote this table under \"One wall, one column, four bases\":\n%s", table.String())
	}
}
