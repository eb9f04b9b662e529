package check

import (
	"testing"

	"galefast/internal/site"
	"galefast/internal/takeoff"
	"galefast/wind"
)

// BenchmarkEvaluate finds the worst situation of one column that carries a leaf and
// its end of a span.
func BenchmarkEvaluate(b *testing.B) {
	f, problems := site.Load("site.toml", []byte(`
[site]
friction = 0.5
gust_open = "25 mph"
gust_alone = "45 mph"
[[column]]
name = "west"
at = ["0 m", "0 m"]
foot = ["0.7 m", "0.7 m"]
weighed = "120 kg"
section = [{ name = "pillar", width = "0.7 m", height = "3 m" }]
[[column]]
name = "east"
at = ["3 m", "0 m"]
foot = ["0.7 m", "0.7 m"]
weighed = "120 kg"
section = [{ name = "pillar", width = "0.7 m", height = "3 m" }]
[[gate]]
name = "leaf"
hung_on = "west"
face = "east"
width = "1 m"
height = "1.6 m"
mass = "12 kg"
[[span]]
name = "sign"
between = ["west", "east"]
underside = "2.3 m"
face = ["2.2 m", "0.5 m"]
mass = "8 kg"
`))
	if f == nil {
		b.Fatal(problems)
	}
	masses, _ := takeoff.Take(f)
	j := &job{f: f, masses: masses}
	gust, err := j.newClimate(wind.Gust)
	if err != nil {
		b.Fatal(err)
	}
	j.measured, j.code = gust, gust
	body := j.bodies()[0]
	ballast := j.inPlace(body)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := j.evaluate(body, ballast, allModes); err != nil {
			b.Fatal(err)
		}
	}
}
