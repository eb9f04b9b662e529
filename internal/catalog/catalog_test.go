package catalog

import (
	"encoding/csv"
	"math"
	"os"
	"reflect"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"testing/fstest"

	"galefast/internal/quantity"
	_ "galefast/internal/steady"
	"pgregory.net/rapid"
)

const (
	pound = 0.45359237 // kg, exact
	foot  = 0.3048     // m, exact
	inch  = foot / 12
)

// published reads a table of check values, one map a row.
func published(t *testing.T, name string) []map[string]string {
	t.Helper()
	f, err := os.Open("testdata/reference/" + name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	records, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var rows []map[string]string
	for _, record := range records[1:] {
		row := map[string]string{}
		for i, key := range records[0] {
			row[key] = record[i]
		}
		rows = append(rows, row)
	}
	return rows
}

// number returns a printed number and half of its last digit.
func number(t *testing.T, text string) (value, tolerance float64) {
	t.Helper()
	value, err := strconv.ParseFloat(text, 64)
	if err != nil {
		t.Fatal(err)
	}
	_, decimals, _ := strings.Cut(text, ".")
	return value, 0.5 * math.Pow10(-len(decimals))
}

func find[R Named](t *testing.T, table Table[R], name string) R {
	t.Helper()
	row, found := table.Find(name)
	if !found {
		t.Fatalf("no row %q", name)
	}
	return row
}

func TestEveryRowSaysWhereItComesFrom(t *testing.T) {
	allowed := regexp.MustCompile(`^(standard clause as reproduced in \S.*|published in \S.*|computed from \S.*|common practice, no source|from memory)$`)
	want := map[string]int{ // pinned, so that a row is added or dropped on purpose
		"lumber": 43, "wood": 24, "panel": 68, "foam": 17, "pipe": 42, "coat": 9,
		"ballast": 25, "ground": 20, "conductor": 19, "cordtype": 21, "device": 45,
	}
	c := Embedded()
	for _, table := range Tables() {
		header, rows, err := c.Rows(table)
		if err != nil {
			t.Fatal(err)
		}
		n := len(header)
		if header[n-2] != "source" || header[n-1] != "certainty" {
			t.Errorf("%s: the header ends with %q, want source and certainty", table, header[n-2:])
		}
		if len(rows) != want[table] {
			t.Errorf("%s: %d rows, want %d", table, len(rows), want[table])
		}
		for _, row := range rows {
			if row[n-2] == "" {
				t.Errorf("%s %q: no source", table, row[0])
			}
			if !allowed.MatchString(row[n-1]) {
				t.Errorf("%s %q: certainty %q is of no allowed form", table, row[0], row[n-1])
			}
		}
	}
}

func TestEveryColumnHasAKindAndADoc(t *testing.T) {
	for _, table := range Tables() {
		for _, c := range Columns(table) {
			if c.Kind == "" || c.Doc == "" {
				t.Errorf("%s.%s: kind %q, doc %q", table, c.Key, c.Kind, c.Doc)
			}
		}
	}
	if got := Columns("nothing"); got != nil {
		t.Errorf("Columns of no table: %v, want nil", got)
	}
}

func TestLumberWeights(t *testing.T) {
	c := Embedded()
	for _, row := range published(t, "lumber_weight.csv") {
		size, wood := find(t, c.Lumber, row["lumber"]), find(t, c.Wood, row["wood"])
		moisture, _ := number(t, row["moisture [%]"])
		want, tolerance := number(t, row["weight [lb/ft]"])
		section := float64(size.Thickness) * float64(size.Width)
		got := float64(wood.Density(moisture)) * section / (pound / foot)
		if math.Abs(got-want) > tolerance*(1+1e-6) {
			t.Errorf("%s %s at %g %%: %.4f lb/ft, want %s (%s, %s)",
				row["wood"], row["lumber"], moisture, got, row["weight [lb/ft]"], row["source"], row["certainty"])
		}
	}
}

func TestWoodDensities(t *testing.T) {
	c := Embedded()
	for _, row := range published(t, "wood_density.csv") {
		moisture, _ := number(t, row["moisture [%]"])
		want, tolerance := number(t, row["density [lb/ft3]"])
		got := float64(find(t, c.Wood, row["wood"]).Density(moisture)) / (pound / (foot * foot * foot))
		if math.Abs(got-want) > tolerance*(1+1e-6) {
			t.Errorf("%s at %g %%: %.3f lb/ft3, want %s (%s, %s)",
				row["wood"], moisture, got, row["density [lb/ft3]"], row["source"], row["certainty"])
		}
	}
}

// The specific gravities of the EN 338 classes must give back the mean density
// at 12 % (EN 338, from memory) to the third digit of the gravity.
func TestStrengthClassesGiveBackTheirMeanDensity(t *testing.T) {
	c := Embedded()
	for name, mean := range map[string]float64{"c14": 350, "c16": 370, "c18": 380, "c24": 420, "c30": 460} {
		if got := float64(find(t, c.Wood, name).Density(12)); math.Abs(got-mean) > 1 {
			t.Errorf("%s at 12 %%: %.1f kg/m3, want %g (EN 338 mean density)", name, got, mean)
		}
	}
}

func TestSheetWeights(t *testing.T) {
	c := Embedded()
	for _, row := range published(t, "sheet_weight.csv") {
		panel := find(t, c.Panel, row["panel"])
		want, tolerance := number(t, row["sheet [lb]"])
		light := float64(panel.AreaDensity) * 32 * foot * foot / pound
		heavy := float64(panel.Heavy) * 32 * foot * foot / pound
		if light > want+tolerance || heavy < want-tolerance {
			t.Errorf("4x8 sheet of %s: %.1f to %.1f lb, want %s within (%s, %s)",
				row["panel"], light, heavy, row["sheet [lb]"], row["source"], row["certainty"])
		}
	}
}

func TestAmericanConductors(t *testing.T) {
	c := Embedded()
	for _, row := range published(t, "awg.csv") {
		conductor := find(t, c.Conductor, row["conductor"])
		want, tolerance := number(t, row["area [mm2]"])
		if got := float64(conductor.Area) * 1e6; math.Abs(got-want) > tolerance*(1+1e-6) {
			t.Errorf("%s: %.4f mm2, want %s (%s)", row["conductor"], got, row["area [mm2]"], row["source"])
		}
		// K = R cmil / 1000 of stranded copper at 75 °C lies at 12.84 to 12.93 for
		// every size; a solid row (2 % lower) or a slipped digit falls out.
		cmil, _ := number(t, row["circular_mils"])
		k := float64(conductor.Resistance) * 1000 * foot * cmil / 1000
		if k < 12.83 || k > 12.94 {
			t.Errorf("%s: K = %.3f ohm cmil/ft, want 12.84 to 12.93 (%s)", row["conductor"], k, row["source"])
		}
	}
}

// BS 7671 tabulates the drop with a small allowance on 2 R at 60 °C.
func TestMetricConductorsAgainstTabulatedDrop(t *testing.T) {
	c := Embedded()
	for _, row := range published(t, "cord_drop.csv") {
		conductor := find(t, c.Conductor, row["conductor"])
		if conductor.Temperature != find(t, c.Conductor, "16 mm2").Temperature {
			t.Errorf("%s: not at 20 °C", row["conductor"])
		}
		want, _ := number(t, row["drop [mV/A/m]"])
		drop := 2 * float64(conductor.Resistance) * (1 + 0.00393*40) * 1000
		if ratio := want / drop; ratio < 0.995 || ratio > 1.06 {
			t.Errorf("%s: 2 R at 60 °C is %.2f mV/A/m, tabulated %g (%s)", row["conductor"], drop, want, row["source"])
		}
	}
}

func TestConductorsGrow(t *testing.T) {
	all := Embedded().Conductor.All()
	slices.SortFunc(all, func(a, b Conductor) int { return int(math.Copysign(1, float64(a.Area-b.Area))) })
	at20 := func(c Conductor) float64 { return float64(c.Resistance) / (1 + 0.00393*(float64(c.Temperature)-20)) }
	for i, c := range all {
		if c.Ampacity3 > c.Ampacity2 {
			t.Errorf("%s: ampacity %g with three conductors, %g with two", c.Name, c.Ampacity3, c.Ampacity2)
		}
		if i > 0 && at20(c) >= at20(all[i-1]) {
			t.Errorf("%s has %g ohm/m at 20 °C, %s %g", c.Name, at20(c), all[i-1].Name, at20(all[i-1]))
		}
		for _, smaller := range all[:i] { // the two families rate differently; each must rise
			same := strings.HasSuffix(smaller.Name, "AWG") == strings.HasSuffix(c.Name, "AWG")
			if same && (c.Ampacity2 <= smaller.Ampacity2 || c.Ampacity3 < smaller.Ampacity3) {
				t.Errorf("%s carries no more than %s", c.Name, smaller.Name)
			}
		}
	}
}

// Of one material, a thicker panel or larger pipe weighs more.
func TestWeightsGrow(t *testing.T) {
	c := Embedded()
	lastPanel := map[string]Panel{}
	for _, p := range c.Panel.All() {
		family := strings.TrimRight(p.Name, "0123456789/ inm") + p.Name[len(p.Name)-2:]
		if last, ok := lastPanel[family]; ok && (p.Thickness <= last.Thickness || p.AreaDensity <= last.AreaDensity || p.Heavy < last.Heavy) {
			t.Errorf("%s does not weigh more than %s", p.Name, last.Name)
		}
		lastPanel[family] = p
	}
	if len(lastPanel) != 12 {
		t.Errorf("%d families of panels, want 12", len(lastPanel))
	}
	lastPipe := map[string]Pipe{}
	for _, p := range c.Pipe.All() {
		family, _, _ := strings.Cut(p.Name, " ")
		last, ok := lastPipe[family]
		if ok && family != "steel" && (p.Outside <= last.Outside || p.LineDensity <= last.LineDensity) {
			t.Errorf("%s does not weigh more than %s", p.Name, last.Name)
		}
		lastPipe[family] = p
	}
}

// Steel weighs 490 lb/ft3, so that a tube weighs 10.68 (D - t) t lb/ft and a bar
// 2.67 D^2 (AISC); drawn tubes and pipes are listed within a few per cent.
func TestSteelSectionsAgainstGeometry(t *testing.T) {
	for _, p := range Embedded().Pipe.All() {
		d, wall := float64(p.Outside)/inch, float64(p.Wall)/inch
		listed := float64(p.LineDensity) / (pound / foot)
		var want float64
		switch family, _, _ := strings.Cut(p.Name, " "); {
		case strings.HasPrefix(p.Name, "steel angle"):
			want = 3.403 * (2*d - wall) * wall
		case family == "steel", family == "emt", family == "scaffold":
			want = 10.68 * (d - wall) * wall
		case family == "rebar":
			want = 2.67 * d * d
		default:
			continue
		}
		if ratio := listed / want; ratio < 0.93 || ratio > 1.05 {
			t.Errorf("%s: %.3f lb/ft, geometry of steel gives %.3f", p.Name, listed, want)
		}
	}
}

// Concrete units must weigh what their volume does, at 130 to 150 lb/ft3, sand
// 90 to 110, water 62.4 (ASCE 7 commentary C3.1).
func TestBallastDensities(t *testing.T) {
	for _, b := range Embedded().Ballast.All() {
		pcf := float64(b.Mass) / float64(b.Volume) * poundPerCubicFootInverse
		lo, hi := 0.0, 0.0
		switch word, _, _ := strings.Cut(b.Name, " "); word {
		case "sandbag", "sand":
			lo, hi = 88, 110
		case "water":
			lo, hi = 62, 62.6
		case "concrete":
			lo, hi = 125, 150 // a bag's dry mass against the set volume
		case "paver", "slab":
			lo, hi = 143, 147
		case "cmu":
			lo, hi = 45, 100 // hollow
		}
		if pcf < lo || pcf > hi {
			t.Errorf("%s: %.1f lb/ft3, want %g to %g", b.Name, pcf, lo, hi)
		}
	}
}

const poundPerCubicFootInverse = 1 / poundPerCubicFoot

func TestGroundsAreCareful(t *testing.T) {
	c := Embedded()
	worst, _ := c.Ground.Find("unknown ground")
	for _, g := range c.Ground.All() {
		if g.Friction > 0.6 {
			t.Errorf("%s: friction %g above 0.6, which wants a test", g.Name, g.Friction)
		}
		if g.Friction < worst.Friction || g.Bearing > 0 && g.Bearing < worst.Bearing {
			t.Errorf("%s is worse than unknown ground", g.Name)
		}
		if g.Bearing > 0 && !g.Soft {
			t.Errorf("%s has a bearing pressure and is not soft", g.Name)
		}
	}
}

func TestHeavyIsTheHeavyEnd(t *testing.T) {
	c := Embedded()
	for _, p := range c.Panel.All() {
		if p.Heavy < p.AreaDensity {
			t.Errorf("%s: heavy end %g below %g", p.Name, p.Heavy, p.AreaDensity)
		}
	}
	if p := find(t, c.Panel, "plywood 3/8 in"); p.Heavy != p.AreaDensity {
		t.Errorf("%s: heavy end %g, want the light end %g where the source gives one value", p.Name, p.Heavy, p.AreaDensity)
	}
	render := find(t, c.Coat, "Cement  Render")
	if got := float64(render.Heavy / render.AreaDensity); math.Abs(got-2) > 1e-9 {
		t.Errorf("cement render: heavy end %g times the light end, want 2 (1/8 in to 1/4 in)", got)
	}
}

func TestFind(t *testing.T) {
	c := Embedded()
	for asked, want := range map[string]string{
		"2x4": "2x4", " 2 X 4 ": "2x4", "2×4": "2x4", "45x95 mm": "45x95", "45 x 95  MM": "45x95",
	} {
		if got, found := c.Lumber.Find(asked); !found || got.Name != want {
			t.Errorf("Find(%q) = %q, %t, want %q", asked, got.Name, found, want)
		}
	}
	if w, _ := c.Wood.Find("Douglas Fir"); w.Name != "df-l" {
		t.Errorf("Douglas Fir is %q, want df-l", w.Name)
	}
	if s, _ := c.CordType.Find("soow"); s.Name != "SOW" || !s.Outdoor || s.Usage != "extra-hard" {
		t.Errorf("soow is %+v, want an outdoor cord for extra-hard usage", s)
	}
	if got, found := c.Lumber.Find("2x5"); found {
		t.Errorf("Find(2x5) = %+v, want none", got)
	}
}

func TestNearest(t *testing.T) {
	for _, test := range []struct {
		asked string
		names []string
		want  []string
	}{
		{"heigth", []string{"width", "height", "weight"}, []string{"height", "weight"}},
		{"hieght", []string{"width", "height"}, []string{"height"}},
		{"plywood 7/16 in", []string{"osb 7/16 in", "plywood 3/8 in", "mdf 3/4 in"}, []string{"plywood 3/8 in"}},
		{"gate", []string{"wall", "lamp"}, []string{}},
		{"x", []string{"a", "b"}, []string{}},
		{"", []string{"", "a"}, []string{""}},
		{"sand", []string{"sand bag", "bag sand", "sand pit", "sand box"}, []string{"sand bag", "bag sand", "sand pit"}},
	} {
		if got := Nearest(test.asked, test.names); !slices.Equal(got, test.want) {
			t.Errorf("Nearest(%q, %q) = %q, want %q", test.asked, test.names, got, test.want)
		}
	}
	c := Embedded()
	if got := c.Panel.Nearest("plywod 3/8 in"); len(got) == 0 || got[0] != "plywood 3/8 in" {
		t.Errorf("Nearest(plywod 3/8 in) = %q", got)
	}
}

func TestNearestFindsASlip(t *testing.T) {
	c := Embedded()
	var names []string
	for _, d := range c.Device.All() {
		names = append(names, d.Name)
	}
	rapid.Check(t, func(t *rapid.T) {
		name := rapid.SampledFrom(names).Draw(t, "name")
		at := rapid.IntRange(0, len(name)-1).Draw(t, "at")
		slip := name[:at] + name[at+1:]
		// Without a last letter the space before it goes too. Another name, such as
		// `fog machine 700 W` for 400 W, may be as near as the one meant.
		d := edits(Fold(slip), Fold(name))
		if d > 2 {
			t.Fatalf("edits(%q, %q) = %d", slip, name, d)
		}
		near := Nearest(slip, names)
		if len(near) == 0 || edits(Fold(slip), Fold(near[0])) > d {
			t.Fatalf("Nearest(%q) = %q, want a name at most %d away", slip, near, d)
		}
	})
}

func TestEditsIsAMetricUpToItsLimit(t *testing.T) {
	word := rapid.StringMatching(`[abc]{0,6}`)
	rapid.Check(t, func(t *rapid.T) {
		a, b := word.Draw(t, "a"), word.Draw(t, "b")
		if edits(a, b) != edits(b, a) {
			t.Fatalf("edits(%q, %q) = %d, the other way %d", a, b, edits(a, b), edits(b, a))
		}
		if (edits(a, b) == 0) != (a == b) {
			t.Fatalf("edits(%q, %q) = %d", a, b, edits(a, b))
		}
	})
}

func TestWith(t *testing.T) {
	c := Embedded()
	row := map[string]string{"name": "cork sheet", "thickness": "10 mm", "area_density": "1.2 kg/m2", "source": "label on the sheet"}
	if wrong := c.With("panel", row); wrong != nil {
		t.Fatal(wrong)
	}
	got := find(t, c.Panel, "cork sheet")
	want := Panel{Row{"cork sheet", "", "label on the sheet", "given in the site file", true}, 0.01, 1.2, 1.2}
	if math.Abs(float64(got.Thickness-want.Thickness)) > 1e-12 {
		t.Errorf("thickness %v, want %v", got.Thickness, want.Thickness)
	}
	got.Thickness = want.Thickness
	if got != want {
		t.Errorf("got %+v, want %+v", got, want)
	}
	if _, found := Embedded().Panel.Find("cork sheet"); found {
		t.Error("a row of one catalog shows in another")
	}

	replaced := map[string]string{"name": "SPF", "specific_gravity": "0.40", "source": "scale"}
	if wrong := c.With("wood", replaced); wrong != nil {
		t.Fatal(wrong)
	}
	if w := find(t, c.Wood, "Spruce-Pine-Fir"); !w.Given || w.SpecificGravity != 0.40 {
		t.Errorf("the alias finds %+v, want the given row", w)
	}
	if got, want := len(c.Wood.All()), len(Embedded().Wood.All()); got != want {
		t.Errorf("%d woods after replacing one, want %d", got, want)
	}
	if w := find(t, Embedded().Wood, "spf"); w.Given || w.SpecificGravity != 0.42 {
		t.Errorf("replacing in one catalog changed another: %+v", w)
	}
	_, rows, _ := c.Rows("panel")
	if got, want := rows[len(rows)-1], []string{"cork sheet", "", "10 mm", "1.2 kg/m2", "", "label on the sheet", "given in the site file"}; !slices.Equal(got, want) {
		t.Errorf("printed %q, want %q", got, want)
	}

	// A name in use as an alias becomes a row of its own, and wins.
	alias := map[string]string{"name": "sandbag", "mass": "33 lb", "source": "scale"}
	if wrong := c.With("ballast", alias); wrong != nil {
		t.Fatal(wrong)
	}
	if b := find(t, c.Ballast, "sandbag"); !b.Given || b.Volume != 0 {
		t.Errorf("sandbag is %+v, want the given row with no volume", b)
	}
	if b := find(t, c.Ballast, "sandbag 40 lb"); b.Given {
		t.Errorf("sandbag 40 lb is %+v, want the embedded row", b)
	}
}

func TestWithReportsEveryCell(t *testing.T) {
	for _, test := range []struct {
		table string
		cells map[string]string
		keys  []string
		says  string
	}{
		{"panels", map[string]string{"name": "x"}, []string{""}, `no table "panels"`},
		{"wood", map[string]string{}, []string{"name", "specific_gravity", "source"}, "name is missing"},
		{"wood", map[string]string{"name": "balsa", "specific_gravity": "0.16", "source": " "}, []string{"source"}, "source is missing"},
		{"wood", map[string]string{"name": "balsa", "specific_gravity": "0.16 lb", "source": "s"}, []string{"specific_gravity"}, "not a number"},
		{"wood", map[string]string{"name": "balsa", "specific_gravity": "NaN", "source": "s"}, []string{"specific_gravity"}, "not a number"},
		{"wood", map[string]string{"name": "balsa", "specific_gravity": "16", "source": "s"}, []string{"specific_gravity"}, "above 1.5"},
		{"wood", map[string]string{"name": "balsa", "gravity": "1", "certainty": "sure", "specific_gravity": "0.16", "source": "s"}, []string{"certainty", "gravity"}, "no column"},
		{"foam", map[string]string{"name": "x", "density": "-1 lb/ft3", "heavy": "3", "source": "s"}, []string{"density", "heavy"}, "density"},
		{"foam", map[string]string{"name": "x", "density": "2 lb/ft3", "heavy": "1 lb/ft3", "source": "s"}, []string{"heavy"}, "less than density"},
		{"cordtype", map[string]string{"name": "x", "outdoor": "perhaps", "usage": "soft", "max_volts": "300 V", "source": "s"}, []string{"outdoor", "usage"}, "neither yes nor no"},
		{"ballast", map[string]string{"name": "x", "mass": "0 lb", "source": "s"}, []string{"mass"}, "not above zero"},
		{"ballast", map[string]string{"name": "x", "also": "paver 16x16x2", "mass": "1 lb", "source": "s"}, []string{"also"}, "already means"},
	} {
		c := Embedded()
		wrong := c.With(test.table, test.cells)
		var keys, messages []string
		for _, e := range wrong {
			keys = append(keys, e.Key)
			messages = append(messages, e.Error())
		}
		if !slices.Equal(keys, test.keys) || !strings.Contains(strings.Join(messages, "\n"), test.says) {
			t.Errorf("With(%q, %q) reports %q: %q, want %q and %q", test.table, test.cells, keys, messages, test.keys, test.says)
		}
		if !reflect.DeepEqual(c, Embedded()) {
			t.Errorf("With(%q, %q) changed the catalog", test.table, test.cells)
		}
	}
	c := Embedded()
	row := map[string]string{"name": "balsa", "specific_gravity": "0.16", "source": "s"}
	if wrong := c.With("wood", row); wrong != nil {
		t.Fatal(wrong)
	}
	if wrong := c.With("wood", row); len(wrong) != 1 || !strings.Contains(wrong[0].Message, "given twice") {
		t.Errorf("the second of two rows: %v, want given twice", wrong)
	}
}

func TestLoadErrorsNameFileAndRow(t *testing.T) {
	const header = "name,also,density [lb/ft3],heavy [lb/ft3],source,certainty\n"
	for _, test := range []struct{ text, want string }{
		{"", "data/foam.csv: no header"},
		{"name,density\n", "data/foam.csv row 1: 2 columns, want 6"},
		{"name,also,mass [lb],heavy [lb],source,certainty\n", `data/foam.csv row 1: column 3 is "mass", want "density"`},
		{header + "a,,1.0,,s,c\nb,,x y,,s,c\n", "data/foam.csv row 3: density: "},
		{header + "a,,1.0,,,c\n", "data/foam.csv row 2: source is missing"},
		{header + "a,,1.0,,s,c\nb,A,1.0,,s,c\n", `data/foam.csv row 3: name "A" is taken by data/foam.csv row 2`},
		{header + "a,,0,,s,c\n", "data/foam.csv row 2: density: 0 lb/ft3 is not above zero"},
		{header + "a,,1.0\n", "data/foam.csv: record on line 2"},
	} {
		files := fstest.MapFS{}
		for _, table := range Tables() {
			path := "data/" + table + ".csv"
			text, err := data.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			files[path] = &fstest.MapFile{Data: text}
		}
		files["data/foam.csv"] = &fstest.MapFile{Data: []byte(test.text)}
		if _, err := load(files); err == nil || !strings.Contains(err.Error(), test.want) {
			t.Errorf("loading %q: %v, want %q", test.text, err, test.want)
		}
	}
	if _, err := load(fstest.MapFS{}); err == nil || !strings.Contains(err.Error(), "data/lumber.csv") {
		t.Errorf("loading no files: %v, want the missing file named", err)
	}
}

// finite reports whether every number of a row is finite and not below zero,
// but for temperatures.
func finite(row any) bool {
	v := reflect.ValueOf(row)
	for _, f := range reflect.VisibleFields(v.Type()) {
		if f.Type.Kind() != reflect.Float64 {
			continue
		}
		n := v.FieldByIndex(f.Index).Float()
		if math.IsNaN(n) || math.IsInf(n, 0) || n < 0 && f.Type != reflect.TypeFor[quantity.Temperature]() {
			return false
		}
	}
	return true
}

func FuzzRead(f *testing.F) {
	const header = "name,also,outside [in],wall [in],line_density [lb/ft],heavy [lb/ft],source,certainty\n"
	f.Add(header + "a,b;c,2 3/8,0.154,0.682,,s,c\nd,,48.3 mm,,4.37 kg/m,5 kg/m,s,c\n")
	f.Add(header + "a,,1,2,3\n")
	f.Add("name,also,outside [in],wall [],line_density [lb/ft],heavy [,source,certainty\na,;;,1/0,1e999,-1,NaN,s,c\n")
	f.Fuzz(func(t *testing.T, text string) {
		var table Table[Pipe]
		if err := table.read("fuzz.csv", strings.NewReader(text)); err != nil {
			return
		}
		for _, row := range table.All() {
			if !finite(row) {
				t.Errorf("%q gives %+v", text, row)
			}
			if _, found := table.Find(row.Name); !found {
				t.Errorf("%q: row %q is not found", text, row.Name)
			}
		}
	})
}

func FuzzWith(f *testing.F) {
	f.Add("conductor", "area", "16 AWG", "resistance", "5 ohm/kft")
	f.Add("wood", "specific_gravity", "0.42", "also", "spf;;pine")
	f.Add("ground", "bearing", "-0 Pa", "friction", "1e-400")
	f.Fuzz(func(t *testing.T, table, key1, text1, key2, text2 string) {
		c := Embedded()
		cells := map[string]string{"name": "x", "source": "s", key1: text1, key2: text2}
		wrong := c.With(table, cells)
		for _, e := range wrong {
			if e.Message == "" {
				t.Errorf("With(%q, %q): an error without a message", table, cells)
			}
		}
		if len(wrong) > 0 && !reflect.DeepEqual(c, Embedded()) {
			t.Errorf("With(%q, %q) changed the catalog and reports %v", table, cells, wrong)
		}
		header, rows, err := c.Rows(table)
		if err != nil {
			return
		}
		for _, row := range rows {
			if len(row) != len(header) {
				t.Errorf("%q has %d cells under %d headers", row, len(row), len(header))
			}
		}
		for _, row := range c.Wood.All() {
			if !finite(row) || !finite(struct{ quantity.Density }{row.Density(12)}) {
				t.Errorf("With(%q, %q) gives %+v", table, cells, row)
			}
		}
	})
}
