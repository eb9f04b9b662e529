package check_test

import (
	"fmt"
	"math"
	"regexp"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"galefast/internal/verdict"
)

// pier is a column of 0.6 m by 0.6 m on a foot as wide.
func pier(name string, x, y float64) string {
	return column{name: name, at: [2]float64{x, y}, foot: [2]float64{0.6, 0.6},
		sections: []section{{name: "body", shape: "square", width: 0.6, height: 2.5, mass: 300}}}.toml()
}

// capped is a pier with a cap of 2 m by 2 m on it.
func capped(name string, x, bottom float64) string {
	return column{name: name, at: [2]float64{x, 0}, foot: [2]float64{0.6, 0.6}, sections: []section{
		{name: "body", shape: "square", width: 0.6, height: bottom, mass: 300}, {name: "cap", shape: "square", width: 2, height: 0.1, mass: 5}}}.toml()
}

// northward is a way along x = east from y = -5 to y = 5.
func northward(east float64, people int, more string) string {
	return fmt.Sprintf("[[way]]\nname = \"w\"\nline = [[\"%.9f m\", \"-5 m\"], [\"%.9f m\", \"5 m\"]]\npeople = %d\n%s\n", east, east, people, more)
}

var calm = place{friction: 0.6, terrain: "C", open: 5, alone: 6, lean: 1, at: 1}.toml()

// Whole sites, each with the sum that gives the number.
func TestWaysByHand(t *testing.T) {
	const (
		us     = "rules = \"us\""
		supply = "[[supply]]\nname = \"s\"\nvolts = 230\nbreaker = \"16 A\"\ngfci = true\n"
		cord   = supply + "[[cord]]\nname = \"c\"\nfrom = \"s\"\ngauge = \"1.5 mm2\"\nlength = \"20 m\"\n"
		leaf   = "[[gate]]\nname = \"l\"\nhung_on = \"a\"\nface = \"east\"\nwidth = \"1 m\"\nheight = \"1.5 m\"\nthickness = \"40 mm\"\nmass = \"10 kg\"\n"
		hook   = "keeper = { open = \"hook\" }\n"
		span   = "[[span]]\nname = \"sign\"\nbetween = [\"a\", \"b\"]\nunderside = \"%s\"\nface = [\"2 m\", \"0.3 m\"]\nmass = \"5 kg\"\n"
		wall   = "[[wall]]\nname = \"v\"\nfrom = [\"-2 m\", \"2 m\"]\nto = [\"-2 m\", \"0 m\"]\nside = \"left\"\nheight = \"2 m\"\nmass = \"40 kg\"\nbraces = { count = 1, reach = \"1.2 m\", height = \"1.5 m\" }\n"
		across = "[[wall]]\nname = \"end\"\nfrom = [\"-1 m\", \"5.5 m\"]\nto = [\"4 m\", \"5.5 m\"]\nheight = \"2 m\"\nthickness = \"100 mm\"\nmass = \"400 kg\"\n"
		guy    = "[[guy]]\nfrom = \"a\"\nheight = \"2.4 m\"\nto = [\"3 m\", \"0 m\"]\nanchor = \"stake\"\n"
		side   = "[[way]]\nname = \"aside\"\nline = [[\"0.9 m\", \"3 m\"], [\"9 m\", \"3 m\"]]\npeople = 10\n"
		holds  = verdict.Holds
		fails  = verdict.Fails
		none   = verdict.Unchecked
	)
	two := pier("a", 0, 0) + pier("b", 1.8, 0)
	for _, c := range []struct {
		name, src, id string
		result        verdict.Result
		has           float64
		says          string // in the cure, the mechanism or the reason
		sum           string
	}{
		{"just wide enough", two + northward(0.9, 30, ""), "way/w/clear width", holds, 1.2, "between a, body and b, body", "1.8 less twice 0.3"},
		{"too narrow", pier("a", 0, 0) + pier("b", 1.7, 0) + northward(0.9, 30, ""), "way/w/clear width", fails, 1.1, "move b 100 mm east", "1.7 less twice 0.3; MVStättVO asks for 1.2 m"},
		{"wide enough for few in the US", pier("a", 0, 0) + pier("b", 1.55, 0) + northward(0.8, 49, us), "way/w/clear width", holds, 0.95, "", "1.55 less 0.6; IBC 1020.3 asks 49 people for 36 in"},
		{"and too narrow for more", pier("a", 0, 0) + pier("b", 1.55, 0) + northward(0.8, 50, us), "way/w/clear width", fails, 0.95, "move b 170 mm east", "IBC 1020.3 asks 50 people for 44 in = 1.1176 m; 0.1676 m short"},
		{"what the authority asks for comes first", two + northward(0.9, 30, `width = "2 m"`), "way/w/clear width", fails, 1.2, "move b 800 mm east", "2 m asked for"},
		{"a piece on the line", two + northward(0.2, 30, ""), "way/w/clear width", fails, 0, "a, body stands on the line", "pier a from -0.3 to 0.3"},
		{"nothing on one side", pier("a", 0, 0) + northward(0.9, 30, ""), "way/w/clear width", none, 0, "both sides", ""},
		{"a sign too low", two + fmt.Sprintf(span, "1.9 m") + northward(0.9, 30, ""), "way/w/headroom", fails, 1.9, "raise sign by 100 mm", "2.0 m by Approved Document B"},
		{"a sign just high enough in the US", two + fmt.Sprintf(span, "80 in") + northward(0.9, 30, us), "way/w/headroom", holds, 2.032, "lowest under sign", "80 in by IBC 1003.3.1"},
		{"a cap that hangs over the line", capped("a", 0, 1.9) + pier("b", 1.8, 0) + northward(0.9, 30, ""), "way/w/headroom", fails, 1.9, "raise a, cap by 100 mm", "cap of 2 m on a body of 1.9 m"},
		{"and narrows nothing", capped("a", 0, 1.9) + pier("b", 1.8, 0) + northward(0.9, 30, ""), "way/w/clear width", holds, 1.2, "", "body and pier as before"},
		{"a low cap beside the line does", capped("a", -1, 1.9) + pier("b", 1.8, 0) + northward(0.9, 30, ""), "way/w/clear width", holds, 1.5, "between a, cap and b, body", "cap to x = 0, pier from x = 1.5"},
		{"a high cap does not", capped("a", -1, 2.1) + pier("b", 1.8, 0) + northward(0.9, 30, ""), "way/w/clear width", holds, 2.2, "", "body to x = -0.7, pier from x = 1.5"},
		{"an open leaf beside its pier", two + leaf + hook + northward(0.9, 30, ""), "way/w/clear width", fails, 1.18, "move b 20 mm east", "the leaf of 40 mm hangs on the middle of the face: 1.2 - 0.02"},
		{"a leaf that nothing holds", two + leaf + northward(0.9, 30, ""), "way/w/clear width, leaves loose", fails, 0, "a keeper that holds l open", "hinge at 0.3, tip at 1.3, line at 0.9"},
		{"leaves that are held are not loose", two + leaf + hook + northward(0.9, 30, ""), "way/w/clear width, leaves loose", "", 0, "", ""},
		{"a leaf that opens with the people", two + leaf + northward(0.9, 500, ""), "way/l, w/swing against people", holds, 0, "", "it opens to the north by default"},
		{"against them", two + leaf + "opens = \"south\"\n" + northward(0.9, 61, ""), "way/l, w/swing against people", fails, 1, "let it open to the north", "61 people; up to 60 by Approved Document B"},
		{"against few", two + leaf + "opens = \"south\"\n" + northward(0.9, 60, ""), "way/l, w/swing against people", holds, 1, "to the south, against", "60 people"},
		{"against them but held open", two + leaf + "opens = \"south\"\n" + hook + northward(0.9, 500, ""), "way/l, w/swing against people", holds, 0, "held open by its keeper (hook)", ""},
		{"a leaf too broad", two + strings.Replace(leaf, `"1 m"`, `"1.19 m"`, 1) + northward(0.9, 30, "rules = \"us\"\nwidth = \"1 m\""), "way/l, w/leaf width", holds, 1.19, "", "48 in by IBC 1010.1.1"},
		{"people who get through", two + northward(0.9, 240, ""), "way/w/capacity", holds, 240, "", "1.2 / 0.005"},
		{"and too many", two + northward(0.9, 300, ""), "way/w/capacity", fails, 240, "at most 240 people at once, or 1.5 m wide", "300 · 0.005 = 1.5"},
		{"both ends are open", two + northward(0.9, 300, ""), "way/w/ways out", holds, 2, "", ""},
		{"one end is shut", two + across + northward(0.9, 61, ""), "way/w/ways out", fails, 1, "1 more way out, or at most 60 people", "the wall stands 0.45 m beyond the end"},
		{"and people may go aside", two + across + northward(0.9, 61, "") + side, "way/w/ways out", holds, 2, "the end of w is shut after 450 mm", "the start of w and the end of aside"},
		{"how far back from the shut end", two + across + northward(0.9, 61, ""), "way/w/dead end at its end", holds, 10.45, "", "10 m of line and 0.45 m"},
		{"how far back to the way aside", two + across + northward(0.9, 61, "") + side, "way/w/dead end at its end", holds, 2.45, "", "from y = 5 back to y = 3, and 0.45 m"},
		{"a dead end too long in the US", two + across + northward(0.9, 61, us), "way/w/dead end at its end", fails, 10.45, "4.36 m less", "20 ft = 6.096 m by IBC 1020.5"},
		{"a cord across", cord + "route = [[\"-3 m\", \"3 m\"], [\"3 m\", \"3 m\"]]\n" + northward(0.9, 30, ""), "way/w/cord across: c", fails, 1, "8 m along the way", "y = 3 is 8 m from the start"},
		{"a cord under a ramp", cord + "route = [[\"-3 m\", \"3 m\"], [\"3 m\", \"3 m\"]]\ncrossing = \"covered\"\n" + northward(0.9, 30, ""), "way/w/cord across: c", holds, 0, "covered", ""},
		{"a cord beside it", cord + "route = [[\"-3 m\", \"3 m\"], [\"0 m\", \"3 m\"]]\n" + northward(0.9, 30, ""), "way/w/cord across: c", "", 0, "", ""},
		{"a cord that lies nobody knows where", cord + northward(0.9, 30, ""), "way/site/cords across", none, 0, "route", ""},
		{"a guy across", pier("a", 0, 0) + guy + northward(0.9, 30, ""), "way/w/headroom under guy 1 of a", fails, 1.68, "or one that is 2.4 m farther", "2.4 m · 2.1 / 3; from 0.9 m at the piece, 2 m are reached with 0.9 · 2.4 / 0.4 = 5.4 m in all"},
		{"a guy beside narrows it as far as it is low", pier("a", -2, 0) + strings.Replace(guy, "\"3 m\"", "\"0 m\"", 1) + pier("b", 1.8, 0) + northward(0.9, 30, ""), "way/w/clear width", holds, 1.5, "guy 1 of a", "anchor at x = 0, pier from x = 1.5"},
		{"a brace narrows it", wall + pier("b", 1.8, 1) + northward(0.9, 30, ""), "way/w/clear width", holds, 2.3, "brace of v", "toe at x = -0.8, pier at 1.5"},
		{"and the bags on its toe", wall + "[[ballast]]\nin = \"v\"\nplace = \"toes\"\nmass = \"15 kg\"\ncount = 2\n" + pier("b", 1.8, 1) + northward(0.9, 30, ""), "way/w/clear width", holds, 2.3 - 13*0.0254, "ballast of v", "13 in less"},
		{"no way at all", two, "way/site/way", none, 0, "no way is described", ""},
	} {
		r := runSite(t, calm+c.src)
		x, ok := r.Find(c.id)
		if c.result == "" {
			if ok {
				t.Errorf("%s: there is %+v", c.name, x)
			}
			continue
		}
		if !ok {
			t.Errorf("%s: no check %s", c.name, c.id)
			continue
		}
		if x.Result != c.result || c.result != none && !near(*x.Has, c.has, 1e-6) && math.Abs(*x.Has-c.has) > 1e-9 {
			t.Errorf("%s: %s, has %v, want %s with %g (%s; %s)", c.name, x.Result, x.Has, c.result, c.has, c.sum, x.Source)
			if x.Has != nil {
				t.Errorf("%s: %.9g", c.name, *x.Has)
			}
		}
		if all := x.Cure + "\n" + x.Mechanism + "\n" + x.Why; !strings.Contains(all, c.says) {
			t.Errorf("%s: %q does not say %q", c.name, all, c.says)
		}
		if c.result != none && (len(x.Working) == 0 || x.Source == "") {
			t.Errorf("%s: no working or no source", c.name)
		}
	}
}

// The record has what a plan draws: the tape, its length, and what lies at its ends.
func TestPassageRecord(t *testing.T) {
	r := runSite(t, calm+pier("a", 0, 0)+pier("b", 1.8, 0)+northward(0.9, 30, ""))
	p := r.Passage
	if len(p.Rows) != 1 || len(p.Reach) != 2 {
		t.Fatalf("%+v", p)
	}
	row := p.Rows[0]
	if d := math.Hypot(row.FromM[0]-row.ToM[0], row.FromM[1]-row.ToM[1]); !near(d, *row.WidthM, 1e-9) || *row.Capacity != 240 || *row.People != 30 {
		t.Errorf("%+v: tape of %g", row, d)
	}
	if x := p.Reach[0]; x.Piece != "a" || !near(x.DistanceM, 0.6, 1e-9) || x.ReachM != 2.5 || !x.Across {
		t.Errorf("%+v", x)
	}
	for _, c := range p.Checks {
		if c.Kind != verdict.Way && c.Kind != verdict.Fire {
			t.Errorf("%s among the checks of ways", c.ID)
		}
	}
}

// A gate that looks another way, or that is hung on the other hand, is as wide.
func TestLeavesLooseAllRound(t *testing.T) {
	faces := []string{"east", "north", "west", "south"}
	for quarter := range 4 {
		for _, mirrored := range []bool{false, true} {
			turn := func(x, y float64) (float64, float64) {
				if mirrored {
					y = -y
				}
				for range quarter {
					x, y = -y, x
				}
				return x, y
			}
			at := func(x, y float64) string {
				x, y = turn(x, y)
				return fmt.Sprintf("[\"%.6f m\", \"%.6f m\"]", x, y)
			}
			opens := faces[(quarter+1)%4]
			if mirrored {
				opens = faces[(quarter+3)%4]
			}
			bx, by := turn(2.4, 0.1)
			// The leaf of 1 m hangs at x = 0.3 and swings 90 degrees up from x = 1.3; its corner is at
			// 0.3 + sqrt(1² + 0.02²). The other pier's face is at 2.1.
			src := calm + pier("a", 0, 0) + pier("b", bx, by) +
				fmt.Sprintf("[[gate]]\nname = \"l\"\nhung_on = \"a\"\nface = %q\nopens = %q\nwidth = \"1 m\"\nheight = \"1.5 m\"\nthickness = \"40 mm\"\nmass = \"10 kg\"\n", faces[quarter], opens) +
				fmt.Sprintf("[[way]]\nname = \"w\"\nline = [%s, %s]\n", at(1.7, -5), at(1.7, 5))
			r := runSite(t, src)
			for what, want := range map[string]float64{"clear width": 2.1 - 0.32, "clear width, leaves loose": 2.1 - 0.3 - math.Hypot(1, 0.02)} {
				if got := has(t, r, "way/w/"+what); !near(got, want, 1e-8) {
					t.Errorf("looking %s, mirrored %t: %s %.9f m, by hand %.9f m", faces[quarter], mirrored, what, got, want)
				}
			}
		}
	}
}

// Who moves a piece as the cure says has a way that is wide enough.
func TestMovingAsTheCureSays(t *testing.T) {
	pattern := regexp.MustCompile(`^move b ([0-9.]+) (mm|m) (east|north-east|south-east)`)
	rapid.Check(t, func(t *rapid.T) {
		x := rapid.Float64Range(1.1, 1.7).Draw(t, "x")
		y := rapid.Float64Range(-0.3, 0.3).Draw(t, "y")
		width := rapid.Float64Range(1.3, 3).Draw(t, "width")
		site := func(x float64) *verdict.Report {
			return runSite(t, calm+pier("a", 0, 0)+pier("b", x, y)+northward(0.4, 30, fmt.Sprintf("width = \"%.6f m\"", width)))
		}
		c, _ := site(x).Find("way/w/clear width")
		m := pattern.FindStringSubmatch(c.Cure)
		if c.Result != verdict.Fails || m == nil {
			t.Fatalf("%s: %q", c.Result, c.Cure)
		}
		by := float(t, m[1])
		if m[2] == "mm" {
			by /= 1000
		}
		if c, _ := site(x + by).Find("way/w/clear width"); c.Result != verdict.Holds {
			t.Errorf("after %g m east: %g of %g", by, *c.Has, *c.Needs)
		}
		if c, _ := site(x + by - 0.0101).Find("way/w/clear width"); c.Result != verdict.Fails {
			t.Errorf("a centimetre less than %g m would have done", by)
		}
	})
}
