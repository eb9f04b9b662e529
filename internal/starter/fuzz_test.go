package starter_test

import (
	"strings"
	"testing"

	"galefast/internal/site"
	"galefast/internal/starter"
	"galefast/internal/takeoff"
)

// loads holds the file of a plan that was taken to what every starter must be.
func loads(t *testing.T, p *starter.Plan) {
	t.Helper()
	f, problems := site.Load("starter.toml", []byte(p.Text()))
	if problems.Fatal() {
		t.Fatalf("%v\n%+v\n%s", problems, *p, p.Text())
	}
	if len(f.Columns) != p.Columns || len(f.Gates) != p.Gates || len(f.Walls) != p.Walls || len(f.Spans) > 0 != p.Sign || len(f.Supplies) > 0 != p.Supply {
		t.Errorf("%+v gives other pieces:\n%s", *p, p.Text())
	}
	if _, more := takeoff.Take(f); more.Fatal() {
		t.Errorf("%v\n%s", more, p.Text())
	}
}

// FuzzPlan puts any texts and numbers into the flags of a first description: they are refused with
// a reason, or the file loads.
func FuzzPlan(f *testing.F) {
	f.Add("Harvest gate", "us", 2, 2, 1, true, true, "24 in", "9 ft", "asphalt", "25 mph", "40 mph")
	f.Add("", "si", 1, 0, 0, false, false, "600 mm", "2.4 m", "", "", "")
	f.Add("a \"b\" \\ # c\nd\u202e\x00", "", 0, 0, 2, false, false, "1/2 in", "1e3 m", "concrete", "0 mph", "-1 m/s")
	f.Add("x", "", 12, 22, 12, true, false, "9999 m", "9999 m", "wet grass", "1 mph", "99 m/s")
	f.Add("a\u202eb\u2800\u200d\u0600\ufe0f", "us", 1, 0, 0, false, false, "24 in", "9 ft", "asphalt", "25 mph", "40 mph")
	f.Add("x", "us", 3, 1, 0, false, true, "1e-9 in", "7 ft 3 1/2 in", "ice", "500 mph", "501 mph")
	f.Add("x", "us", 1, 0, 0, false, false, "", "", "", "50 mph", "")
	f.Add("x", "us", 1, 0, 0, false, false, "", "", "", "", "20 mph")
	f.Add("x", "us", 1, 0, 0, false, false, "", "", "", "50 mph", "30 mph")
	f.Fuzz(func(t *testing.T, title, units string, columns, gates, walls int, sign, supply bool, width, height, ground, open, alone string) {
		p := starter.Plan{Title: title, Units: units, Columns: columns, Gates: gates, Walls: walls, Sign: sign, Supply: supply,
			Width: width, Height: height, Ground: ground, GustOpen: open, GustAlone: alone}
		if err := p.Complete(); err != nil {
			if err.Error() == "" {
				t.Error("refused without a reason")
			}
			return
		}
		loads(t, &p)
	})
}

// FuzzAnswers answers the questions with any lines: each is taken or refused with a reason, and a
// plan that was asked for to the end gives a file that loads.
func FuzzAnswers(f *testing.F) {
	f.Add("Fair\nus\n2\n24 in\n8 ft\n2\nyes\n1\ny\nasphalt\n25 mph\n40 mph\n")
	f.Add("\nsi\n1\n\n\n1\n\n0\nno\n\n\n\n")
	f.Add("x\nSI\n13\n-1\n0\n2\nperhaps\nyes\ngravel pit\n")
	f.Fuzz(func(t *testing.T, text string) {
		lines := strings.Split(text, "\n")
		var p starter.Plan
		for _, q := range p.Questions() {
			for q.Asked() {
				if q.Text() == "" {
					t.Error("an empty question")
				}
				answer := ""
				if len(lines) > 0 {
					answer, lines = lines[0], lines[1:]
				}
				err := q.Answer(answer)
				if err == nil {
					break
				}
				if err.Error() == "" {
					t.Error("refused without a reason")
				}
				if answer == "" && len(lines) == 0 {
					return // the answers ended
				}
			}
		}
		if err := p.Complete(); err != nil {
			if p.Columns+p.Walls > 0 || p.Supply {
				t.Errorf("every answer was taken, and the plan is refused: %v, %+v", err, p)
			}
			return
		}
		loads(t, &p)
	})
}
