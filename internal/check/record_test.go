package check_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io/fs"
	"math"
	"runtime"
	"slices"
	"strings"
	"testing"

	"galefast/internal/quantity"
	"galefast/internal/sheet"
	"galefast/internal/verdict"
	sites "galefast/testdata/sites"
	"galefast/wind"
)

// exampleSites are the descriptions that the command ships, by name.
func exampleSites(t testing.TB) map[string]string {
	t.Helper()
	list := map[string]string{}
	names, err := fs.Glob(sites.Files, "*.toml")
	if err != nil || len(names) == 0 {
		t.Fatalf("no example sites: %v", err)
	}
	for _, name := range names {
		src, err := sites.Files.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		list[name] = string(src)
	}
	return list
}

// odd are descriptions with little in them, or with what cannot be computed.
var odd = map[string]string{
	"one column": place{friction: 0.4, terrain: "C", open: -1, alone: 5, lean: 0, at: 1}.toml() +
		column{name: "column", foot: [2]float64{1, 1}, sections: []section{{name: "plinth", shape: "square", width: 1, height: 1, mass: 900}}}.toml(),
	"a supply alone": "[site]\nfriction = 0.4\ngust_alone = \"40 mph\"\n[[supply]]\nname = \"supply\"\nvolts = 120\n",
	"another basis":  "[site]\nfriction = 0.4\nbasis = \"en1991\"\nterrain = \"II\"\ngust_alone = \"20 m/s\"\n" + column{name: "column", foot: [2]float64{1, 1}, sections: []section{{name: "plinth", shape: "square", width: 1, height: 1, mass: 90}}}.toml(),
	"too slender for the table": place{friction: 0.4, terrain: "C", open: -1, alone: 5, lean: 0, at: 1}.toml() +
		column{name: "mast", foot: [2]float64{1, 1}, sections: []section{{name: "pole", shape: "square", width: 0.1, height: 4, mass: 20}}}.toml(),
	"a load that its cord cannot carry": "[site]\nfriction = 0.4\ngust_alone = \"40 mph\"\n[[supply]]\nname = \"supply\"\nvolts = 120\n[[cord]]\nname = \"cord\"\nfrom = \"supply\"\ngauge = \"18 AWG\"\nlength = \"2000 ft\"\n[[lamp]]\nname = \"load\"\non = \"cord\"\nwatts = 1500\n",
}

// reports are the finished jobs of all of them, worked once.
var reports = map[string]*verdict.Report{}

func everySite(t testing.TB) map[string]*verdict.Report {
	t.Helper()
	if len(reports) == 0 {
		for _, list := range []map[string]string{exampleSites(t), odd} {
			for name, src := range list {
				reports[name] = runSite(t, src)
			}
		}
	}
	return reports
}

// parts are the JSON outputs of the commands.
func parts(r *verdict.Report) map[string]any {
	return map[string]any{"check": r, "weigh": r.Weigh, "wind": r.Wind, "ballast": r.Ballast, "limits": r.Limits, "power": r.Circuit}
}

func encode(t testing.TB, v any) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := sheet.JSON(&b, v); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func decode(t testing.TB, v any) map[string]any {
	t.Helper()
	var m map[string]any
	if err := json.Unmarshal(encode(t, v), &m); err != nil {
		t.Fatal(err)
	}
	return m
}

// promised lists the keys that other programs read: of the output itself under "",
// else of each entry of a list. `a|b` promises one of them.
var promised = map[string]map[string]string{
	"check": {
		"":            "title basis units summary checks assumptions",
		"checks":      "id kind subject from_deg needs has result source at certificate",
		"assumptions": "text source",
	},
	"weigh":   {"": "pieces", "pieces": "name mass_kg tolerance centre_m weighed sections parts"},
	"wind":    {"": "rows", "rows": "piece surface case state from_deg speed_ms z_m kz|ce q_pa cf g kd area_m2 force_n arm_m moment_nm source"},
	"ballast": {"": "rows total_kg alternatives", "rows": "piece section unit count mass_kg at_m", "alternatives": "piece kind value unit text"},
	"limits":  {"": "rows plan", "rows": "piece|group state from_deg gust_ms handheld_ms governs", "plan": "gust_ms handheld_ms do"},
	"power": {
		"":         "nodes runs circuits checks",
		"nodes":    "name kind volts drop_percent amps far_fault_a",
		"runs":     "name gauge needs_gauge amps ampacity_a loop_ohm loss_w",
		"circuits": "name breaker_a amps continuous_a percent",
		"checks":   "id kind subject from_deg needs has result source at certificate",
	},
}

func TestPromisedKeys(t *testing.T) {
	seen := map[string]int{}
	for name, r := range everySite(t) {
		for command, part := range parts(r) {
			out := decode(t, part)
			require := func(where string, m map[string]any, keys string) {
				for _, key := range strings.Fields(keys) {
					if !slices.ContainsFunc(strings.Split(key, "|"), func(k string) bool { _, ok := m[k]; return ok }) {
						t.Errorf("%s: %s --json: %s lacks %q", name, command, where, key)
					}
				}
			}
			for list, keys := range promised[command] {
				if list == "" {
					require("the output", out, keys)
					continue
				}
				entries, ok := out[list].([]any)
				if !ok && out[list] != nil {
					t.Errorf("%s: %s --json: %s is not a list", name, command, list)
				}
				for _, e := range entries {
					seen[command+" "+list]++
					require("an entry of "+list, e.(map[string]any), keys)
				}
			}
		}
	}
	for command, lists := range promised {
		for list := range lists {
			if list != "" && seen[command+" "+list] == 0 {
				t.Errorf("no site has an entry of %s in %s --json: its keys were not tried", list, command)
			}
		}
	}
}

// Every check has an outcome of the three, a kind of the five and an id of its own;
// the outcome agrees with its numbers; a number that is not there has its reason.
func TestChecksAreWellFormed(t *testing.T) {
	for name, r := range everySite(t) {
		ids := map[string]bool{}
		var count verdict.Summary
		for _, c := range r.Checks {
			if ids[c.ID] {
				t.Errorf("%s: two checks are called %s", name, c.ID)
			}
			ids[c.ID] = true
			if c.ID != fmt.Sprintf("%s/%s/%s", c.Kind, c.Subject, c.What) {
				t.Errorf("%s: id %s of %s, %s, %s", name, c.ID, c.Kind, c.Subject, c.What)
			}
			if !slices.Contains([]verdict.Kind{verdict.Standing, verdict.Hardware, verdict.Power, verdict.Way, verdict.Fire}, c.Kind) {
				t.Errorf("%s: %s is of kind %q", name, c.ID, c.Kind)
			}
			switch c.Result {
			case verdict.Holds:
				count.Holds++
			case verdict.Fails:
				count.Fails++
				if c.Cure == "" {
					t.Errorf("%s: %s fails and nothing is said to cure it", name, c.ID)
				}
			case verdict.Unchecked:
				count.Unchecked++
				if c.Has != nil {
					t.Errorf("%s: %s is unchecked and has %g", name, c.ID, *c.Has)
				}
			default:
				t.Errorf("%s: %s reads %q", name, c.ID, c.Result)
			}
			if c.Has != nil && c.Needs != nil {
				good := *c.Has >= *c.Needs
				if c.Sense == verdict.AtMost {
					good = *c.Has <= *c.Needs
				}
				if good != (c.Result == verdict.Holds) {
					t.Errorf("%s: %s has %g, needs %s %g and %s", name, c.ID, *c.Has, c.Sense, *c.Needs, c.Result)
				}
			} else if c.Why == "" {
				t.Errorf("%s: %s lacks a number and the reason why", name, c.ID)
			}
			if c.At == "" {
				t.Errorf("%s: %s does not say where it is described", name, c.ID)
			}
		}
		if count != r.Summary {
			t.Errorf("%s: summary %+v of checks that count %+v", name, r.Summary, count)
		}
	}
}

// Rows of the tables give a reason for every number that they lack, and none is
// infinite or not a number, which JSON could not carry.
func TestNumbersOrReasons(t *testing.T) {
	for name, r := range everySite(t) {
		for _, row := range r.Limits.Rows {
			if row.Why == "" && (row.GustMs == nil || row.HandheldMs == nil || row.FromDeg == nil) {
				t.Errorf("%s: the limit of %s lacks a number and the reason why", name, row.Piece)
			}
		}
		for _, n := range r.Circuit.Nodes {
			if n.Why == "" && (n.Volts == nil || n.DropPercent == nil || n.Amps == nil || n.FarFaultA == nil) {
				t.Errorf("%s: %s lacks a number and the reason why", name, n.Name)
			}
		}
		for _, run := range r.Circuit.Runs {
			if run.Why == "" && (run.NeedsGauge == nil || run.Amps == nil || run.LossW == nil || run.AmpacityA == nil) {
				t.Errorf("%s: cord %s lacks a number and the reason why: %+v", name, run.Name, run)
			}
		}
		for _, c := range r.Circuit.Circuits {
			if c.Why == "" && (c.BreakerA == nil || c.Percent == nil) {
				t.Errorf("%s: supply %s lacks a number and the reason why", name, c.Name)
			}
		}
		for command, part := range parts(r) {
			var walk func(path string, v any)
			walk = func(path string, v any) {
				switch v := v.(type) {
				case float64:
					if math.IsNaN(v) || math.Abs(v) > 1e12 {
						t.Errorf("%s: %s --json: %s is %g", name, command, path, v)
					}
				case []any:
					for i, x := range v {
						walk(fmt.Sprintf("%s[%d]", path, i), x)
					}
				case map[string]any:
					for k, x := range v {
						if strings.HasSuffix(k, "from_deg") && x != nil && (x.(float64) < 0 || x.(float64) >= 360) {
							t.Errorf("%s: %s --json: %s.%s is %v", name, command, path, k, x)
						}
						walk(path+"."+k, x)
					}
				}
			}
			walk("", decode(t, part))
		}
	}
}

// The wind rows multiply out, and point away from where the wind comes from.
func TestWindRowsMultiplyOut(t *testing.T) {
	for name, r := range everySite(t) {
		for _, w := range r.Wind.Rows {
			force := math.Hypot(w.ForceN[0], w.ForceN[1])
			if want := w.QPa * w.Kd * w.G * w.Cf * w.AreaM2; !near(force, want, 1e-9) {
				t.Errorf("%s: %s: force %g N, q Kd G Cf A = %g", name, w.Surface, force, want)
			}
			if !near(w.Moment, force*w.ArmM, 1e-9) {
				t.Errorf("%s: %s: moment %g, force times arm %g", name, w.Surface, w.Moment, force*w.ArmM)
			}
			s, c := math.Sincos(w.FromDeg * math.Pi / 180)
			if w.Case == wind.CaseAlongLeft || w.Case == wind.CaseAlongRight {
				continue // wind along a panel pushes it to either side
			}
			if along := -(w.ForceN[0]*s + w.ForceN[1]*c); along < -1e-9*force {
				t.Errorf("%s: %s: wind from %g degrees pushes it by %v", name, w.Surface, w.FromDeg, w.ForceN)
			}
		}
	}
}

// The same file gives the same bytes, whatever the number of processors.
func TestSameBytes(t *testing.T) {
	all := func(src string) []byte {
		var b bytes.Buffer
		r := runSite(t, src)
		for _, command := range []string{"check", "weigh", "wind", "ballast", "limits", "power"} {
			b.Write(encode(t, parts(r)[command]))
		}
		style := sheet.Style{System: quantity.US}
		for _, print := range []func() error{
			func() error { return sheet.CheckExplained(&b, r, style) }, func() error { return sheet.Weigh(&b, r, style) },
			func() error { return sheet.Wind(&b, r, style) }, func() error { return sheet.Ballast(&b, r, style) },
			func() error { return sheet.Limits(&b, r, style) }, func() error { return sheet.Power(&b, r, style) },
		} {
			if err := print(); err != nil {
				t.Fatal(err)
			}
		}
		return b.Bytes()
	}
	for name, src := range exampleSites(t) {
		first := all(src)
		if !bytes.Equal(first, all(src)) {
			t.Errorf("%s: two runs differ", name)
		}
		for _, n := range []int{1, 2} {
			old := runtime.GOMAXPROCS(n)
			if !bytes.Equal(first, all(src)) {
				t.Errorf("%s: a run on %d processors differs", name, n)
			}
			runtime.GOMAXPROCS(old)
		}
	}
}
