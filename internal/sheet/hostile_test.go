package sheet_test

import (
	"fmt"
	"reflect"
	"strconv"
	"strings"
	"testing"
	"unicode"

	"galefast/internal/sheet"
	"galefast/internal/verdict"
)

// taint puts what no terminal may obey in the place of every marker in the texts of a record. The
// reader of descriptions refuses such names; what prints them does not rely on it.
func taint(v reflect.Value) {
	switch v.Kind() {
	case reflect.String:
		if v.CanSet() {
			v.SetString(strings.ReplaceAll(v.String(), marker, "\x1b[2J\x1b]0;x\a\u202e\u0085\t\r\u200b"))
		}
	case reflect.Pointer, reflect.Interface:
		if !v.IsNil() {
			taint(v.Elem())
		}
	case reflect.Struct:
		for i := range v.NumField() {
			taint(v.Field(i))
		}
	case reflect.Slice, reflect.Array:
		for i := range v.Len() {
			taint(v.Index(i))
		}
	}
}

const marker = "¤"

// A name of the file is shown, never obeyed: no control character, escape sequence
// or mark of direction of a user's text reaches the output.
func TestNamesAreShownNotObeyed(t *testing.T) {
	n := func(s string) string { return `"` + s + marker + `"` }
	src := fmt.Sprintf(`title = %s
[site]
friction = 0.4
gust_open = "25 mph"
gust_alone = "45 mph"
[[catalog.ballast]]
name = %s
mass = "40 lb"
volume = "0.4 ft3"
source = %s
[[column]]
name = %s
at = ["0 m", "0 m"]
foot = ["0.6 m", "0.6 m"]
[[column.section]]
name = %s
width = "0.6 m"
height = "2 m"
parts = [{ item = %s, mass = "20 kg" }]
[[column.section]]
name = %s
width = "0.6 m"
height = "0.5 m"
mass = "3 kg"
[[column]]
name = %s
at = ["3 m", "0 m"]
foot = ["0.3 m", "0.3 m"]
section = [{ name = "x", width = "1.2 m", height = "3 m", mass = "3 kg" }]
[[gate]]
name = %s
hung_on = %s
face = "north"
opens = "east"
width = "1 m"
height = "1 m"
mass = "5 kg"
[[wall]]
name = %s
from = ["0 m", "5 m"]
to = ["2 m", "5 m"]
height = "2 m"
mass = "20 kg"
[[span]]
name = %s
between = [%s, %s]
underside = "1 m"
face = ["1 m", "0.3 m"]
mass = "5 kg"
[[ballast]]
in = %s
section = %s
unit = %s
count = 1
[[way]]
name = %s
line = [["0 m", "-3 m"], ["0 m", "3 m"]]
[[supply]]
name = %s
volts = 120
breaker = "1 A"
[[cord]]
name = %s
from = %s
gauge = "18 AWG"
type = "SPT-2"
length = "2000 ft"
[[lamp]]
name = %s
on = %s
watts = 300
`, n("title"), n("bag"), n("scale"), n("column"), n("plinth"), n("item"), n("cap"), n("mast"), n("leaf"), n("column"), n("wall"), n("sign"), n("column"), n("mast"),
		n("column"), n("plinth"), n("bag"), n("way"), n("supply"), n("cord"), n("supply"), n("lamp"), n("cord"))
	r := finish(t, "site\x1b[2J.toml", src)
	taint(reflect.ValueOf(r))
	if !strings.Contains(r.Title, "\x1b") {
		t.Fatal("nothing is tainted")
	}
	for _, v := range views {
		for i, line := range strings.Split(text(t, v, r, sheet.Style{}), "\n") {
			for _, c := range line {
				if c != ' ' && !unicode.IsPrint(c) {
					t.Errorf("%s: line %d holds %U raw: %q", v.name, i+1, c, line)
					break
				}
			}
		}
	}
}

// Needs may have more than two decimals; a failing number is still not printed as one
// that reaches it.
func TestPrintedNeedsAgreeWithTheResult(t *testing.T) {
	checkNeeds(t)
}

func checkNeeds(t *testing.T) {
	for _, c := range []struct {
		sense      verdict.Sense
		needs, has float64
	}{
		{verdict.AtLeast, 15.002, 15},   // a breaker of 15 A under 15.002 A
		{verdict.AtLeast, 1.333, 1.331}, // a factor of 4/3 asked for
		{verdict.AtMost, 2.996, 2.999},
	} {
		needs, has := row(t, verdict.Check{Kind: verdict.Power, Unit: "A", Sense: c.sense, Needs: &c.needs, Has: &c.has})
		a, _ := strconv.ParseFloat(needs, 64)
		b, _ := strconv.ParseFloat(has, 64)
		if c.sense == verdict.AtLeast && b >= a || c.sense == verdict.AtMost && b <= a {
			t.Errorf("%g against %s %g fails, and is printed as %s against %s", c.has, c.sense, c.needs, has, needs)
		}
	}
}
