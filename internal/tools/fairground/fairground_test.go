package fairground_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"galefast/internal/site"
	"galefast/internal/takeoff"
	"galefast/internal/tools/fairground"
)

// TestAccepted reads sites of several sizes: none has a problem, not even a warning, and each
// has as many pieces as were asked for, about the share of them in groups.
func TestAccepted(t *testing.T) {
	for _, n := range []int{1, 2, 3, 10, 100, 1000} {
		for _, share := range []float64{0, 0.25, 1} {
			src := fairground.Site(n, share, 1)
			f, problems := site.Load("site.toml", []byte(src))
			if len(problems) > 0 {
				t.Fatalf("%d pieces: %v", n, problems)
			}
			if _, problems := takeoff.Take(f); len(problems) > 0 {
				t.Fatalf("%d pieces: %v", n, problems)
			}
			if got := len(f.Columns) + len(f.Gates) + len(f.Walls) + len(f.Spans); got != n {
				t.Errorf("%d pieces, not %d", got, n)
			}
			if len(f.Ways) == 0 || len(f.Supplies) == 0 || len(f.Cords) == 0 || len(f.Lamps) == 0 {
				t.Errorf("%d pieces: %d ways, %d supplies, %d cords, %d lamps", n, len(f.Ways), len(f.Supplies), len(f.Cords), len(f.Lamps))
			}
			// Every sign is fastened to two columns, and with it go the leaves that hang on them.
			grouped, signs := 3*len(f.Spans), ""
			for i := range f.Spans {
				for _, c := range f.Spans[i].Between {
					signs += fmt.Sprintf("%q", c.V)
				}
			}
			for i := range f.Walls {
				if len(f.Walls[i].Joined) > 0 {
					grouped++
				}
			}
			for i := range f.Gates {
				grouped += strings.Count(signs, fmt.Sprintf("%q", f.Gates[i].HungOn.V))
			}
			if got := float64(grouped) / float64(n); n >= 100 && math.Abs(got-share) > 0.05 {
				t.Errorf("%d pieces: %.2f of them in groups, not %.2f", n, got, share)
			}
		}
	}
}

// TestSame writes a site twice: the same bytes, and others for another seed.
func TestSame(t *testing.T) {
	one := fairground.Site(100, 0.25, 1)
	if fairground.Site(100, 0.25, 1) != one {
		t.Error("the same numbers give another site")
	}
	if fairground.Site(100, 0.25, 2) == one {
		t.Error("another seed gives the same site")
	}
}
