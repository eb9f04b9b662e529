package check_test

import (
	"fmt"
	"testing"
)

// What comes down first in set-ups that are plain to see, in the words that a reader gets.
func TestHowGroupsFall(t *testing.T) {
	pier := func(name string, x, mass float64, foot [2]float64) string {
		return column{name: name, at: [2]float64{x, 0}, foot: foot, sections: []section{{name: "pillar", shape: "square", width: 0.4, height: 2, mass: mass}}}.toml()
	}
	sign := func(hold float64, heights ...float64) string {
		return "[[span]]\nname = \"sign\"\nbetween = [\"west\", \"east\"]\nunderside = \"1.5 m\"\nface = [\"2 m\", \"0.3 m\"]\nmass = \"20 kg\"\ntolerance = \"0 %\"\n" + fixing{heights, hold}.toml()
	}
	panel := func(name string, from, to float64, more string) string {
		return fmt.Sprintf("[[wall]]\nname = %q\nfrom = [\"%g m\", \"0 m\"]\nto = [\"%g m\", \"0 m\"]\nheight = \"2 m\"\nfoot = \"0.3 m\"\nmass = \"60 kg\"\ntolerance = \"0 %%\"\n%s", name, from, to, more)
	}
	smooth, rough := still, still
	smooth.friction, rough.friction = 0.05, 1
	for _, c := range []struct{ what, src, want string }{
		{"a light and a heavy column, deep along the sign, narrow across it",
			rough.toml() + pier("west", 0, 30, [2]float64{2.4, 0.6}) + pier("east", 3, 300, [2]float64{2.4, 0.6}) + sign(1e6, 1.65), "west overturns about its north edge; sign is carried along"},
		{"a guy on one side of a narrow column: it falls to the other",
			rough.toml() + pier("post", 0, 60, [2]float64{2.4, 0.5}) + guy{"post", 2, [2]float64{0, 2}, 4000}.toml(), "overturns about its north edge"},
		{"two broad columns on a smooth floor, pushed across the sign",
			smooth.toml() + pier("west", 0, 60, [2]float64{2.4, 2.4}) + pier("east", 3, 60, [2]float64{2.4, 2.4}) + sign(1e6, 1.65), "west slides to the north; sign is carried along"},
		{"a tall seated urn on a broad heavy pillar that is guyed",
			rough.toml() + column{name: "pier", foot: [2]float64{1.5, 1.5}, sections: []section{{name: "plinth", shape: "square", width: 0.8, height: 0.5, mass: 300}, {name: "urn", shape: "square", width: 0.3, height: 1.5, mass: 20, seated: true}}}.toml() + guy{"pier", 0.4, [2]float64{3, 0}, 500}.toml(), "urn of pier overturns about its east edge"},
		{"two panels in a line: both go over together",
			rough.toml() + panel("left", 0, 2, "joined = [\"right\"]\n"+fixing{[]float64{0.3, 1.7}, 1e6}.toml()) + panel("right", 2, 4, ""), "left and right overturn about their north edge"},
	} {
		if got := together(runSite(t, c.src))[0]; got.Mechanism != c.want {
			t.Errorf("%s: %q, want %q", c.what, got.Mechanism, c.want)
		}
	}
}
