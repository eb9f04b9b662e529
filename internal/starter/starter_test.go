package starter_test

import (
	"strings"
	"testing"

	"pgregory.net/rapid"

	"galefast/internal/check"
	"galefast/internal/site"
	"galefast/internal/starter"
	_ "galefast/internal/steady"
	"galefast/internal/takeoff"
)

// Whatever a plan asks for, the file loads without a complaint and can be checked.
func TestEveryPlanLoads(t *testing.T) {
	for _, units := range []string{"us", "si"} {
		for columns := range 4 {
			for gates := range 5 {
				for walls := range 4 {
					for _, rest := range []struct{ sign, supply bool }{{}, {true, false}, {false, true}, {true, true}} {
						p := starter.Plan{Title: "Trial", Units: units, Columns: columns, Gates: gates, Walls: walls, Sign: rest.sign, Supply: rest.supply}
						err := p.Complete()
						possible := columns+walls > 0 || rest.supply
						possible = possible && (gates == 0 || columns == 1 && gates == 1 || gates <= 2*(columns-1)) && (!rest.sign || columns > 1)
						if (err == nil) != possible {
							t.Errorf("%+v: %v", p, err)
						}
						if err != nil {
							continue
						}
						f, problems := site.Load("starter.toml", []byte(p.Text()))
						if len(problems) > 0 {
							t.Fatalf("%v\n%s", problems, p.Text())
						}
						if len(f.Columns) != columns || len(f.Gates) != gates || len(f.Walls) != walls || len(f.Spans) > 0 != rest.sign || len(f.Supplies) > 0 != rest.supply {
							t.Errorf("%+v gives other pieces:\n%s", p, p.Text())
						}
						if _, more := takeoff.Take(f); len(more) > 0 {
							t.Errorf("%v\n%s", more, p.Text())
						}
					}
				}
			}
		}
	}
}

func TestStarterCanBeChecked(t *testing.T) {
	for _, units := range []string{"us", "si"} {
		p := starter.Plan{Units: units, Columns: 2, Gates: 2, Walls: 1, Sign: true, Supply: true}
		if err := p.Complete(); err != nil {
			t.Fatal(err)
		}
		f, _ := site.Load("starter.toml", []byte(p.Text()))
		masses, _ := takeoff.Take(f)
		r, err := check.Run(f, masses, check.Options{})
		if err != nil || r.Summary.Holds == 0 {
			t.Errorf("%s: %v, %+v", units, err, r)
		}
	}
}

// The first line is what editors look for, and every remark that holds a key stays a remark.
func TestStarterNamesItsSchema(t *testing.T) {
	p := starter.Plan{Columns: 1}
	if err := p.Complete(); err != nil {
		t.Fatal(err)
	}
	if !strings.HasPrefix(p.Text(), "#:schema ./galefast.schema.json\n") {
		t.Error(p.Text())
	}
	// The keys that stand behind a # work once it is gone.
	for _, key := range []string{"slope    = ", "weighed = "} {
		with := strings.Replace(p.Text(), "# "+key, key, 1)
		if with == p.Text() {
			t.Errorf("no remark %q", key)
		}
		if _, problems := site.Load("starter.toml", []byte(with)); len(problems) > 0 {
			t.Errorf("%v", problems)
		}
	}
}

func TestPlanRefuses(t *testing.T) {
	for want, p := range map[string]starter.Plan{
		"neither us nor si":  {Columns: 1, Units: "imperial"},
		"nothing to descr":   {},
		"width: ":            {Columns: 1, Width: "24"},
		"height: \"0 ft\"":   {Columns: 1, Height: "0 ft"},
		"gust-alone: ":       {Columns: 1, GustAlone: "strong"},
		"gates: a gate":      {Gates: 1, Walls: 1},
		"room for 2":         {Columns: 2, Gates: 3},
		"two columns":        {Columns: 1, Sign: true},
		"too low for a sign": {Columns: 2, Sign: true, Height: "6 ft"},
		"too low for a leaf": {Columns: 2, Gates: 2, Height: "4 ft"},
		"from 0 to 12":       {Columns: 13},
		"201 characters":     {Columns: 1, Title: strings.Repeat("ö", 201)},
		"\"asphalt\"":        {Columns: 1, Ground: "asfalt"},
	} {
		if err := p.Complete(); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%+v: %v, want %q", p, err, want)
		}
	}
}

// Titles of any kind and sizes in any unit give a file that can be read, or a complaint.
func TestPlansOfAnyText(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := starter.Plan{
			Title: rapid.String().Draw(t, "title"), Columns: rapid.IntRange(-1, 14).Draw(t, "columns"), Walls: rapid.IntRange(0, 5).Draw(t, "walls"),
			Width:  rapid.SampledFrom([]string{"", "20 in", "1' 6 1/2\"", "55 cm", "6 ft", "2 mm", "9000 ft", "\"", "x"}).Draw(t, "width"),
			Height: rapid.SampledFrom([]string{"", "7' 9\"", "2 m", "240cm", "-3 ft"}).Draw(t, "height"),
		}
		if p.Complete() != nil {
			return
		}
		if _, problems := site.Load("starter.toml", []byte(p.Text())); problems.Fatal() {
			for _, x := range problems {
				if x.Code != "range" && x.Code != "quantity" && x.Code != "empty" { // sizes that no scenery has, and titles without end
					t.Fatalf("%v\n%s", x, p.Text())
				}
			}
		}
	})
}
