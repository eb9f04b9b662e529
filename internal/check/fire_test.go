package check_test

import (
	"strings"
	"testing"

	"galefast/internal/verdict"
)

func TestFireByHand(t *testing.T) {
	const (
		// 1 lb/ft3, the heavy end of EPS type I, is 16.018 kg/m3.
		block  = "{ block = \"eps type I\", size = [\"1 m\", \"0.5 m\", \"0.05 m\"], count = 2%s }"
		plank  = "{ item = \"frame\", mass = \"200 kg\" }"
		supply = "[[supply]]\nname = \"s\"\nvolts = 230\nbreaker = \"16 A\"\ngfci = true\n"
		lamp   = supply + "[[lamp]]\nname = \"l\"\non = \"s\"\npower_factor = 1\n"
		holds  = verdict.Holds
		fails  = verdict.Fails
		none   = verdict.Unchecked
	)
	tower := func(parts ...string) string {
		return "[[column]]\nname = \"a\"\nat = [\"0 m\", \"0 m\"]\nfoot = [\"1 m\", \"1 m\"]\n[[column.section]]\nname = \"body\"\nwidth = \"0.6 m\"\nheight = \"2 m\"\nparts = [" + strings.Join(parts, ", ") + "]\n"
	}
	foam := func(more string) string { return strings.Replace(block, "%s", more, 1) }
	for _, c := range []struct {
		name, src, id string
		result        verdict.Result
		has           float64
		says, sum     string
	}{
		{"bare foam", tower(plank, foam("")), "fire/a/exposed foam", fails, 0.05 * 16.01846, "leave off 0.36 kg", "2 · 0.025 m3 · 16.018; 0.45 kg by IFC 807.5.1"},
		{"foam under plywood", tower(plank, foam(`, covered_by = "plywood 9 mm"`)), "fire/a/exposed foam", holds, 0, "covered by plywood 9 mm", ""},
		{"half of it covered", tower(plank, foam(`, covered_by = "render"`), strings.Replace(foam(""), "count = 2", "count = 1", 1)), "fire/a/exposed foam", holds, 0.025 * 16.01846, "", "one block is bare"},
		{"tested foam", tower(plank, foam(`, heat_release = "85 kW"`)), "fire/a/foam heat release", holds, 85000, "", "100 kW by IFC 807.5.1"},
		{"tested and too hot", tower(plank, foam(`, heat_release = "120 kW"`)), "fire/a/foam heat release", fails, 120000, "cover that foam", ""},
		{"no foam, no rows", tower(plank) + lamp + "watts = 50\n", "fire/a/exposed foam", "", 0, "", ""},
		{"no foam, no lamps near it", tower(plank) + lamp + "watts = 50\n", "fire/l/distance from foam", "", 0, "", ""},
		{"a lamp too near", tower(plank, foam("")) + lamp + "watts = 50\nfrom_foam = \"0.3 m\"\n", "fire/l/distance from foam", fails, 0.3, "200 mm farther", "0.5 m for up to 100 W"},
		{"a stronger lamp", tower(plank, foam("")) + lamp + "watts = 101\nfrom_foam = \"0.79 m\"\n", "fire/l/distance from foam", fails, 0.79, "10 mm farther", "0.8 m for up to 300 W"},
		{"its label says less", tower(plank, foam("")) + lamp + "watts = 50\nfrom_foam = \"0.3 m\"\nkeep_off = \"0.2 m\"\n", "fire/l/distance from foam", holds, 0.3, "", ""},
		{"its place tells", tower(plank, foam("")) + lamp + "watts = 50\nat = [\"1.3 m\", \"0 m\"]\n", "fire/l/distance from foam", holds, 1, "", "1.3 - 0.3"},
		{"its place does not tell", tower(plank, foam("")) + lamp + "watts = 50\nat = [\"0.7 m\", \"0 m\"]\n", "fire/site/lamps near foam", none, 0, "from_foam", "0.4 m in plan, and perhaps more above"},
		{"nothing tells", tower(plank, foam("")) + lamp + "watts = 50\n", "fire/site/lamps near foam", none, 0, "from_foam", ""},
		{"beyond the table", tower(plank, foam("")) + lamp + "watts = 1000\nfrom_foam = \"2 m\"\n", "fire/l/distance from foam", none, 0, "end at 500 W", ""},
	} {
		r := runSite(t, calm+c.src)
		x, ok := r.Find(c.id)
		switch {
		case c.result == "" && ok:
			t.Errorf("%s: there is %+v", c.name, x)
		case c.result == "":
		case !ok:
			t.Errorf("%s: no check %s", c.name, c.id)
		case x.Result != c.result || c.result != none && !near(*x.Has, c.has, 1e-4):
			t.Errorf("%s: %+v, want %s with %g (%s)", c.name, x, c.result, c.has, c.sum)
		case !strings.Contains(x.Cure+x.Mechanism+x.Why, c.says):
			t.Errorf("%s: %q, %q, %q do not say %q", c.name, x.Cure, x.Mechanism, x.Why, c.says)
		}
	}
}
