package check_test

import (
	"fmt"
	"strings"
	"testing"

	"galefast/internal/check"
	"galefast/internal/site"
	"galefast/internal/takeoff"
)

// entrance is five pieces that stand together: two columns with a sign between them, and a
// wall fastened to each.
func entrance(n int, y float64) string {
	var b strings.Builder
	name := func(piece string) string { return fmt.Sprintf("%s %d", piece, n) }
	for i, side := range []string{"west", "east"} {
		c := square(0.6, 2.4, 0.9, 120)
		c.name, c.at = name(side), [2]float64{3 * float64(i), y}
		b.WriteString(c.toml())
		from, to := -2.3, -0.3
		if i == 1 {
			from, to = 3.3, 5.3
		}
		fmt.Fprintf(&b, "[[wall]]\nname = %q\nfrom = [\"%g m\", \"%g m\"]\nto = [\"%g m\", \"%g m\"]\nheight = \"1.8 m\"\nfoot = \"0.6 m\"\nmass = \"40 kg\"\nbraces = { count = 2, reach = \"1 m\", height = \"1.2 m\" }\njoined = [%q]\n%s",
			name(side+" wall"), from, y, to, y, name(side), fixing{[]float64{0.3, 1.5}, 1500}.toml())
	}
	fmt.Fprintf(&b, "[[span]]\nname = %q\nbetween = [%q, %q]\nunderside = \"2 m\"\nface = [\"2 m\", \"0.4 m\"]\nmass = \"10 kg\"\n%s",
		name("sign"), name("west"), name("east"), fixing{[]float64{2.1, 2.3}, 1500}.toml())
	return b.String()
}

var breezy = place{friction: 0.5, terrain: "C", open: 5, alone: 8, lean: 60, at: 1.1}

// BenchmarkGroupSite is the whole job for one group of two columns, a sign and two walls that
// holds.
func BenchmarkGroupSite(b *testing.B) { benchmark(b, breezy.toml()+entrance(1, 0)) }

// BenchmarkManyGroups is the whole job for 1,000 pieces in 200 such groups: once, with
// -benchtime 1x, takes long enough.
func BenchmarkManyGroups(b *testing.B) {
	const groups, pieces = 200, 5 * 200
	src := breezy.toml()
	for n := range groups {
		src += entrance(n+1, 10*float64(n))
	}
	f, problems := site.Load("site.toml", []byte(src))
	if f == nil {
		b.Fatal(problems)
	}
	masses, _ := takeoff.Take(f)
	b.ReportAllocs()
	for b.Loop() {
		r, err := check.Run(f, masses, check.Options{})
		if err != nil {
			b.Fatal(err)
		}
		if n := len(together(r)); n != groups {
			b.Fatalf("%d groups", n)
		}
	}
	b.ReportMetric(float64(pieces)*float64(b.N)/b.Elapsed().Seconds(), "pieces/s")
}
