package main

import (
	"encoding/csv"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"galefast/internal/verdict"
)

// powerUnits are the units of testdata/reference/power-cases.csv, in SI. Some numbers of the
// sources are another quantity of the same circuit: a loop from its length, a rating from its
// 80 %, a fault without the voltage factor.
var powerUnits = map[string]float64{"V": 1, "A": 1, "%": 1, "W": 1, "m": 1, "ft": 0.3048, "mA": 1e-3,
	"ohm of 0.02 ohm/m": 1 / 0.02, "W of 80 %": 0.8, "A of voltage factor 0.95": 0.95}

// Worked examples of circuits, from a site file to the JSON of the command.
func TestPowerCases(t *testing.T) {
	folder := filepath.Join("..", "..", "testdata", "reference")
	f, err := os.Open(filepath.Join(folder, "power-cases.csv"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	records, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	files, err := filepath.Glob(filepath.Join(folder, "power-cases", "*.toml"))
	if err != nil || len(files) == 0 {
		t.Fatalf("no site files: %v", err)
	}
	circuits, used := map[string]verdict.Circuit{}, map[string]bool{}
	for _, path := range files {
		var c verdict.Circuit
		command(t, &c, "", "power", path, "--json")
		circuits[strings.TrimSuffix(filepath.Base(path), ".toml")] = c
	}
	for _, x := range records[1:] {
		id, file, of, want, unit, source, certainty := x[0], x[1], x[2], x[3], x[4], x[5], x[6]
		t.Run(id+" "+of, func(t *testing.T) {
			c, ok := circuits[file]
			if !ok {
				t.Fatalf("no file %s", file)
			}
			used[file] = true
			got := circuitValue(t, c, of)
			factor, ok := powerUnits[unit]
			if !ok {
				t.Fatalf("no unit %q", unit)
			}
			printed, err := strconv.ParseFloat(want, 64)
			if err != nil {
				t.Fatal(err)
			}
			_, decimals, _ := strings.Cut(want, ".")
			half := 0.5*math.Pow(10, -float64(len(decimals)))*(1+1e-9) + 1e-9
			if !(math.Abs(got/factor-printed) <= half) {
				t.Errorf("%.6g %s, want %s (%s; %s)", got/factor, unit, want, source, certainty)
			}
		})
	}
	for name := range circuits {
		if !used[name] {
			t.Errorf("%s.toml is used by no row", name)
		}
	}
}

// circuitValue reads one number: node/NAME/volts, drop, amps or far_fault_a, run/NAME/longest_m, or
// check/ID/needs or has.
func circuitValue(t *testing.T, c verdict.Circuit, of string) float64 {
	t.Helper()
	kind, rest, _ := strings.Cut(of, "/")
	at := strings.LastIndexByte(rest, '/')
	name, key := rest[:at], rest[at+1:]
	var value *float64
	switch kind {
	case "node":
		for _, n := range c.Nodes {
			switch {
			case n.Name != name:
			case key == "volts":
				value = n.Volts
			case key == "amps":
				value = n.Amps
			case key == "far_fault_a":
				value = n.FarFaultA
			case key == "drop" && n.Volts != nil && n.DropPercent != nil:
				drop := *n.Volts * *n.DropPercent / (100 - *n.DropPercent) // no loss ahead of the outlet
				value = &drop
			}
		}
	case "run":
		for _, r := range c.Runs {
			if r.Name == name && key == "longest_m" {
				value = r.LongestM
			}
		}
	case "check":
		for _, x := range c.Checks {
			switch {
			case x.ID != name:
			case key == "needs":
				value = x.Needs
			case key == "has":
				value = x.Has
			}
		}
	}
	if value == nil {
		t.Fatalf("nothing gives %s", of)
	}
	return *value
}
