package check_test

import (
	"testing"

	"galefast/internal/check"
	"galefast/internal/site"
	"galefast/internal/takeoff"
	sites "galefast/testdata/sites"
)

// BenchmarkRun does the whole job on the example, from loaded file to record.
func BenchmarkRun(b *testing.B) {
	src, err := sites.Files.ReadFile(sites.Example)
	if err != nil {
		b.Fatal(err)
	}
	benchmark(b, string(src))
}

// BenchmarkRunColumn is one column of which nothing fails.
func BenchmarkRunColumn(b *testing.B) {
	benchmark(b, place{friction: 0.5, slope: 0.02, terrain: "C", open: -1, alone: 10, lean: 100, at: 1.2}.toml()+
		column{name: "column", foot: [2]float64{1, 1}, sections: []section{{name: "plinth", shape: "square", width: 1, height: 2, mass: 300}}}.toml())
}

func benchmark(b *testing.B, src string) {
	f, problems := site.Load("site.toml", []byte(src))
	if f == nil {
		b.Fatal(problems)
	}
	masses, _ := takeoff.Take(f)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := check.Run(f, masses, check.Options{}); err != nil {
			b.Fatal(err)
		}
	}
}
