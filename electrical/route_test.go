package electrical

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// Along routes on squared paper a cord is as long as the steps from corner to corner, counted
// without any geometry; and it does not matter in which order or direction routes are drawn.
func TestRoutesOnSquaredPaper(t *testing.T) {
	apart, around := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		type corner [2]int
		steps := map[corner][]corner{}
		var corners []corner
		var routes [][]Point
		for range rapid.IntRange(1, 4).Draw(t, "routes") {
			at := corner{rapid.IntRange(0, 6).Draw(t, "x"), rapid.IntRange(0, 6).Draw(t, "y")}
			route := []Point{{float64(at[0]), float64(at[1])}}
			for k := range rapid.IntRange(1, 4).Draw(t, "legs") {
				axis := k % 2
				end := at
				end[axis] = rapid.IntRange(0, 6).Draw(t, "to")
				for at != end {
					next := at
					if end[axis] > at[axis] {
						next[axis]++
					} else {
						next[axis]--
					}
					steps[at], steps[next] = append(steps[at], next), append(steps[next], at)
					corners = append(corners, at, next)
					at = next
				}
				route = append(route, Point{float64(at[0]), float64(at[1])})
			}
			routes = append(routes, route)
		}
		if len(corners) == 0 {
			return
		}
		from, to := rapid.SampledFrom(corners).Draw(t, "outlet"), rapid.SampledFrom(corners).Draw(t, "load")
		far := map[corner]int{from: 0}
		for queue := []corner{from}; len(queue) > 0; queue = queue[1:] {
			for _, next := range steps[queue[0]] {
				if _, seen := far[next]; !seen {
					far[next] = far[queue[0]] + 1
					queue = append(queue, next)
				}
			}
		}
		want := math.Inf(1)
		if n, ok := far[to]; ok {
			want = float64(n)
			if n > abs(from[0]-to[0])+abs(from[1]-to[1]) {
				around++
			}
		} else {
			apart++
		}
		outlet, load := []Point{{float64(from[0]), float64(from[1])}}, []Point{{float64(to[0]), float64(to[1])}}
		for range 2 {
			got, err := RouteLengths(outlet, load, routes)
			if err != nil {
				t.Fatal(err)
			}
			if d := got[0][0] - want; !(math.Abs(d) <= 1e-9) && got[0][0] != want {
				t.Fatalf("from %v to %v along %v: %v m, want %v", from, to, routes, got[0][0], want)
			}
			slices.Reverse(routes)
			for _, r := range routes {
				slices.Reverse(r)
			}
		}
	})
	if apart < 3 || around < 3 {
		t.Errorf("%d pairs hang apart and %d go round: too few to show anything", apart, around)
	}
}

func abs(i int) int { return max(i, -i) }

// Routes that cross askew are joined at the crossing, and what only comes near is not.
func TestRoutesThatCrossAskew(t *testing.T) {
	outlet, load := []Point{{0, 0}}, []Point{{10, 0}}
	first := []Point{{0, 0}, {8, 6}} // 0.8, 0.6 along each metre
	for _, c := range []struct {
		name   string
		second []Point
		want   float64
	}{
		{"crossing at (5, 3.75)", []Point{{0, 7.5}, {10, 0}}, 2 * math.Hypot(5, 3.75)},
		{"beginning on the first", []Point{{4, 3}, {10, 0}}, 5 + math.Hypot(6, 3)},
		{"ending on the first", []Point{{10, 0}, {4, 3}}, 5 + math.Hypot(6, 3)},
		{"a millimetre short of it", []Point{{4.001, 3}, {10, 0}}, math.Inf(1)},
		{"beside it", []Point{{1, 0}, {10, 0}}, math.Inf(1)},
	} {
		got, err := RouteLengths(outlet, load, [][]Point{first, c.second})
		if err != nil {
			t.Fatal(err)
		}
		if got[0][0] != c.want && !(math.Abs(got[0][0]-c.want) <= 1e-9) {
			t.Errorf("%s: %v m, want %v", c.name, got[0][0], c.want)
		}
	}
}
