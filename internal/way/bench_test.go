package way_test

import (
	"math"
	"testing"

	"galefast/internal/way"
)

// Two rows of 500 things along a way of 20 legs.
func BenchmarkClear(b *testing.B) {
	var line []way.Point
	for k := range 21 {
		line = append(line, way.Point{math.Mod(float64(k), 2), 25 * float64(k)})
	}
	var things []way.Thing
	for k := range 500 {
		y := float64(k)
		things = append(things, turned(-3, y, 1, 7*y), turned(4, y, 1, 11*y))
	}
	for b.Loop() {
		if n, found, err := way.Clear(line, things, height, overhead); err != nil || !found || n.Blocked {
			b.Fatal(n, found, err)
		}
	}
}
