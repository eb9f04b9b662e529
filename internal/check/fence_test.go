package check_test

import (
	"fmt"
	"strings"
	"testing"

	"galefast/internal/verdict"
)

// In a fence of walls that are fastened to each other, ballast may lie in many places. It is found, is enough
// where it is advised, and lies in all of the fence and not in heaps.
func TestAdvisedBallastOfFences(t *testing.T) {
	for _, walls := range []int{3, 5, 9} {
		var src strings.Builder
		src.WriteString(place{friction: 0.4, terrain: "C", open: 8, alone: 12, lean: 100, at: 1.2}.toml())
		var names []string
		for i := range walls {
			name := fmt.Sprintf("wall %d", i)
			fmt.Fprintf(&src, "[[wall]]\nname = %q\nfrom = [\"%d m\", \"0 m\"]\nto = [\"%d m\", \"0 m\"]\nheight = \"1.8 m\"\nfoot = \"0.6 m\"\nmass = \"60 kg\"\nbraces = { count = 2, reach = \"1 m\", height = \"1.2 m\" }\n", name, 2*i, 2*i+2)
			if i > 0 {
				fmt.Fprintf(&src, "joined = [%q]\n%s", names[i-1], fixing{[]float64{0.3, 1.5}, 1500}.toml())
			}
			names = append(names, name)
		}
		// One unit of 5 kg in a wall makes advice come in such units.
		start := src.String()
		for _, name := range names {
			start += loads(name, `place = "base"`, 1)
		}
		r := runSite(t, start)
		list := together(r)
		if len(list) != 1 || list[0].Result != verdict.Fails || !strings.HasPrefix(list[0].Cure, "lay ") || strings.Contains(list[0].Cure, "fewer might do") {
			t.Fatalf("%d walls: %+v", walls, list)
		}
		laid, least, most := src.String(), 1<<30, 0
		for _, name := range names {
			counts, total, possible := advised(r, name)
			if !possible {
				t.Fatalf("%d walls: nothing will do in %s", walls, name)
			}
			for _, place := range []string{"base", "toes"} {
				if counts[place] > 0 {
					laid += loads(name, fmt.Sprintf("place = %q", place), counts[place])
				}
				most = max(most, counts[place])
			}
			least = min(least, total)
		}
		if c := together(runSite(t, laid))[0]; c.Result != verdict.Holds {
			t.Errorf("%d walls with what is advised: %s with %s", walls, c.Result, number(c.Has))
		}
		if 3*least < most {
			t.Errorf("%d walls: a wall has %d units, and one place %d", walls, least, most)
		}
	}
}
