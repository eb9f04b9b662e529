package electrical

import (
	"encoding/csv"
	"fmt"
	"math"
	"math/cmplx"
	"os"
	"strconv"
	"strings"
	"testing"
)

// inputs are the key=value words of a row; a list is joined by slashes.
type inputs map[string]string

func (in inputs) list(t *testing.T, key string) []float64 {
	t.Helper()
	var out []float64
	for word := range strings.SplitSeq(in[key], "/") {
		x, err := strconv.ParseFloat(word, 64)
		if err != nil {
			t.Fatalf("input %s: %v", key, err)
		}
		out = append(out, x)
	}
	return out
}

func (in inputs) number(t *testing.T, key string) float64 {
	t.Helper()
	return in.list(t, key)[0]
}

// chain solves a line with constant-current loads at distances from the supply.
func chain(t *testing.T, in inputs, output string) float64 {
	t.Helper()
	unit := map[string]float64{"m": 1, "ft": 0.3048}[in["unit"]]
	r := Run{Resistance: in.number(t, "r") / unit}
	if in["x"] != "" {
		r.Reactance = in.number(t, "x") / unit
	}
	n := Network{Supplies: []Supply{{Name: "supply", Volts: in.number(t, "volts"), DC: in["dc"] != "", Phases: 1}}}
	amps := in.list(t, "amps")
	from, done := "supply", 0.0
	for i, at := range in.list(t, "at") {
		r.Name, r.From, r.Length = fmt.Sprint("run ", i+1), from, (at-done)*unit
		load := Load{Name: r.Name, On: r.Name, Kind: ConstantCurrent, Amps: amps[i], PowerFactor: 1, Count: 1, FromSupply: in["from_supply"] != ""}
		if in["pf"] != "" {
			load.PowerFactor = in.list(t, "pf")[i]
		}
		n.Runs, n.Loads = append(n.Runs, r), append(n.Loads, load)
		from, done = r.Name, at
	}
	res, err := Solve(n)
	if err != nil {
		t.Fatal(err)
	}
	if !res.Converged {
		t.Fatal("did not converge")
	}
	last := res.Runs[len(res.Runs)-1]
	drop := res.Supplies[0].Voltage - last.Voltage
	switch output {
	case "drop":
		return cmplx.Abs(drop)
	case "drop_re":
		return real(drop)
	case "drop_im":
		return imag(drop)
	case "percent":
		return 100 * last.Drop
	}
	k, err := strconv.Atoi(strings.TrimPrefix(output, "v"))
	if err != nil {
		t.Fatalf("output %q", output)
	}
	return res.Runs[k-1].Volts
}

var devices = map[string]Device{"us": USBreaker, "b": CurveB, "c": CurveC, "d": CurveD}

func compute(t *testing.T, formula string, in inputs, output string) (float64, error) {
	f := func(key string) float64 { return in.number(t, key) }
	phases := func() int { return int(f("phases")) }
	value := func(c Cited, err error) (float64, error) { return c.Value, err }
	switch formula {
	case "chain":
		return chain(t, in, output), nil
	case "max_amps":
		return MaxAmps(f("drop"), f("r"), f("length"), phases())
	case "max_feet":
		l, err := MaxLength(f("drop"), f("amps"), f("ohm_per_kft")/304.8, 1)
		return l / 0.3048, err
	case "cmil_drop":
		z, err := CircularMilResistance(f("k"), f("cmil"))
		if err != nil {
			return 0, err
		}
		return LineDrop(f("amps"), z, f("feet")*0.3048, phases())
	case "cmil_kft":
		z, err := CircularMilResistance(f("k"), f("cmil"))
		return z * 304.8, err
	case "tabulated":
		return TabulatedDrop(f("v_per_am"), f("amps"), f("length"))
	case "line_amps":
		return LineAmps(f("watts"), f("volts"), f("pf"), phases())
	case "uniform":
		return UniformDrop(f("per_m"), f("r"), f("length"), f("x"))
	case "effective":
		return EffectiveImpedance(f("r"), f("x"), f("pf"))
	case "breaker":
		return BreakerLoading(f("noncontinuous"), f("continuous"), false) / f("volts"), nil
	case "iec_length":
		z, err := IECImpedance(f("mm2")*1e-6, f("pf"))
		if err != nil {
			return 0, err
		}
		return MaxLength(f("drop"), f("amps"), z, phases())
	case "iec_drop":
		z, err := IECImpedance(f("mm2")*1e-6, f("pf"))
		if err != nil {
			return 0, err
		}
		return LineDrop(f("amps"), z, f("length"), phases())
	case "from75":
		return ResistanceFrom75(f("r"), f("celsius"))
	case "from20":
		return ResistanceFrom20(f("r"), f("celsius"))
	case "ambient":
		return AmbientFactor(f("rating"), f("ambient"))
	case "conductors":
		return value(LoadedConductorsFactor(int(f("n"))))
	case "receptacle":
		return value(ReceptacleLimit(int(f("circuit")), int(f("receptacle"))))
	case "fault_loop":
		trip, err := InstantTrip(devices[in["device"]], f("rating"))
		if err != nil {
			return 0, err
		}
		return MaxFaultLoop(f("c"), f("volts"), trip.Multiple*f("rating"))
	case "far_fault":
		loops, err := FaultLoops(Network{
			Supplies: []Supply{{Name: "s", Volts: f("volts"), Phases: 1, SourceImpedance: complex(f("source"), 0)}},
			Runs:     []Run{{Name: "r", From: "s", Length: f("feet") * 0.3048, Resistance: f("ohm_per_kft") / 304.8}},
		})
		if err != nil {
			return 0, err
		}
		return FaultAmps(1, f("volts"), loops[0])
	case "thermal":
		trip, err := ThermalTrip(devices[in["device"]], f("rating"), f("amps"))
		return trip.Seconds, err
	case "gfci_time":
		return GFCITime(f("ma") * 1e-3)
	case "rcd_budget":
		a, err := RCDBudget(f("ma") * 1e-3)
		return 1000 * a, err
	case "start":
		return StartWatts(in.list(t, "running"), in.list(t, "starting"))
	case "derated":
		part, err := GeneratorDerating(f("feet")*0.3048, (f("fahrenheit")-32)/1.8)
		return part * f("watts"), err
	case "watt_foot":
		return WattFootDrop(f("watts"), f("feet"), f("constant"))
	case "conventional":
		return ConventionalFaultLength(f("volts"), f("mm2")*1e-6, f("rho")*1e-6, f("m"), f("amps"))
	case "adiabatic_area":
		a, err := AdiabaticArea(f("amps"), f("seconds"), f("k"))
		return 1e6 * a, err
	case "adiabatic_time":
		return AdiabaticTime(f("mm2")*1e-6, f("amps"), f("k"))
	case "fuel":
		return value(FuelUse(Fuel(in["fuel"]), f("load")))
	}
	return 0, fmt.Errorf("no formula %q", formula)
}

// tolerance is half of the last digit as printed.
func tolerance(printed string) float64 {
	_, decimals, _ := strings.Cut(printed, ".")
	return 0.5 * math.Pow(10, -float64(len(decimals))) * (1 + 1e-9)
}

// readCSV returns the rows below the header, each with its source and certainty.
func readCSV(t *testing.T, path string) [][]string {
	t.Helper()
	file, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	rows, err := csv.NewReader(file).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if len(rows) < 2 {
		t.Fatalf("%s is empty", path)
	}
	for i, row := range rows {
		source, certainty := row[len(row)-2], row[len(row)-1]
		if i == 0 && (source != "source" || certainty != "certainty") {
			t.Fatalf("%s: the header ends with %s,%s", path, source, certainty)
		}
		known := false
		for _, kind := range []string{"standard clause as reproduced in ", "published in ", "computed from ", "common practice, no source", "from memory"} {
			known = known || strings.HasPrefix(certainty, kind)
		}
		if i > 0 && (source == "" || !known) {
			t.Errorf("%s row %d: source %q, certainty %q", path, i+1, source, certainty)
		}
	}
	return rows[1:]
}

func TestPublishedValues(t *testing.T) {
	for i, row := range readCSV(t, "../testdata/reference/electrical.csv") {
		id, formula, output, printed, unit, source, certainty := row[0], row[1], row[3], row[4], row[5], row[6], row[7]
		t.Run(fmt.Sprint(id, " ", formula, " ", i+2), func(t *testing.T) {
			in := inputs{}
			for word := range strings.FieldsSeq(row[2]) {
				key, val, _ := strings.Cut(word, "=")
				in[key] = val
			}
			want, err := strconv.ParseFloat(printed, 64)
			if err != nil {
				t.Fatal(err)
			}
			got, err := compute(t, formula, in, output)
			if err != nil {
				t.Fatal(err)
			}
			if !(math.Abs(got-want) <= tolerance(printed)) {
				t.Errorf("got %.6g %s, want %s (%s; %s)", got, unit, printed, source, certainty)
			}
		})
	}
}

func TestShippedFactors(t *testing.T) {
	for i, row := range readCSV(t, "factors.csv") {
		from, err1 := strconv.Atoi(row[1])
		to, err2 := strconv.Atoi(row[2])
		value, err3 := strconv.ParseFloat(row[3], 64)
		if err1 != nil || err2 != nil || err3 != nil || value <= 0 || from < 0 || to < 0 {
			t.Errorf("row %d: %v", i+2, row)
		}
	}
	count := 0
	for _, rows := range factorRows() {
		count += len(rows)
	}
	if want := len(readCSV(t, "factors.csv")); count != want {
		t.Errorf("%d rows loaded, %d shipped", count, want)
	}
}

func TestShippedTrips(t *testing.T) {
	for i, row := range readCSV(t, "trips.csv") {
		for _, cell := range row[2:6] {
			if x, err := strconv.ParseFloat(cell, 64); err != nil || x < 0 {
				t.Errorf("row %d: %v", i+2, row)
			}
		}
	}
	if got, want := len(tripRows()), len(readCSV(t, "trips.csv")); got != want {
		t.Errorf("%d rows loaded, %d shipped", got, want)
	}
	if got, want := len(fuelRows()), len(readCSV(t, "fuel.csv")); got != want {
		t.Errorf("%d rows of fuel loaded, %d shipped", got, want)
	}
}
