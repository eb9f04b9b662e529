package electrical

import (
	"fmt"
	"math"
	"slices"
)

// Point is a place in plan, m.
type Point [2]float64

func (p Point) to(q Point) float64 { return math.Hypot(p[0]-q[0], p[1]-q[1]) }

// RouteLengths returns the length in m of a cord from each outlet to each load, by load and
// outlet. Without routes it is the straight line. With routes, broken lines in plan, the cord goes
// straight to the nearest point of any of them, along them, over from one to another where they
// meet or cross, and leaves them at the point nearest the load. Where the routes do not hang
// together it is +Inf.
func RouteLengths(outlets, loads []Point, routes [][]Point) ([][]float64, error) {
	for _, list := range append([][]Point{outlets, loads}, routes...) {
		for _, p := range list {
			if !(math.Abs(p[0]) <= maxLength && math.Abs(p[1]) <= maxLength) {
				return nil, fmt.Errorf("point %v is not within %g m", p, float64(maxLength))
			}
		}
	}
	lengths := make([][]float64, len(loads))
	for l := range loads {
		lengths[l] = make([]float64, len(outlets))
		for o := range outlets {
			lengths[l][o] = loads[l].to(outlets[o])
		}
	}
	w := newWeb(routes)
	if len(w.segments) == 0 {
		return lengths, nil
	}
	outletAt, loadAt := w.join(outlets), w.join(loads)
	w.link()
	for o := range outlets {
		far := w.from(outletAt[o])
		for l := range loads {
			lengths[l][o] = outlets[o].to(w.points[outletAt[o]]) + far[loadAt[l]] + w.points[loadAt[l]].to(loads[l])
		}
	}
	return lengths, nil
}

// web is the routes as a graph.
type web struct {
	segments [][2]Point
	on       [][]int // points on each segment
	points   []Point
	index    map[[2]int64]int
	edges    [][]edge
}

type edge struct {
	to     int
	length float64
}

func newWeb(routes [][]Point) *web {
	w := &web{index: map[[2]int64]int{}}
	for _, r := range routes {
		for i := 1; i < len(r); i++ {
			w.segments = append(w.segments, [2]Point{r[i-1], r[i]})
		}
	}
	w.on = make([][]int, len(w.segments))
	for i, s := range w.segments {
		w.add(i, s[0])
		w.add(i, s[1])
		for j := range i {
			for _, p := range meet(s, w.segments[j]) {
				w.add(i, p)
				w.add(j, p)
			}
		}
	}
	return w
}

// add puts a point on a segment; points within a tenth of a millimetre are one.
func (w *web) add(segment int, p Point) int {
	key := [2]int64{int64(math.Round(p[0] * 1e4)), int64(math.Round(p[1] * 1e4))}
	k, ok := w.index[key]
	if !ok {
		k = len(w.points)
		w.index[key] = k
		w.points = append(w.points, p)
	}
	w.on[segment] = append(w.on[segment], k)
	return k
}

// meet returns where two segments touch or cross: a crossing, and each end that lies on the other.
func meet(a, b [2]Point) []Point {
	var list []Point
	for _, x := range [...]struct {
		p Point
		s [2]Point
	}{{a[0], b}, {a[1], b}, {b[0], a}, {b[1], a}} {
		if foot(x.p, x.s).to(x.p) < 1e-4 {
			list = append(list, x.p)
		}
	}
	ux, uy := a[1][0]-a[0][0], a[1][1]-a[0][1]
	vx, vy := b[1][0]-b[0][0], b[1][1]-b[0][1]
	d := ux*vy - uy*vx
	if d == 0 {
		return list
	}
	wx, wy := b[0][0]-a[0][0], b[0][1]-a[0][1]
	t, u := (wx*vy-wy*vx)/d, (wx*uy-wy*ux)/d
	if t > 0 && t < 1 && u > 0 && u < 1 {
		list = append(list, Point{a[0][0] + t*ux, a[0][1] + t*uy})
	}
	return list
}

// foot is the point of a segment nearest to p.
func foot(p Point, s [2]Point) Point {
	ux, uy := s[1][0]-s[0][0], s[1][1]-s[0][1]
	d := ux*ux + uy*uy
	if d == 0 {
		return s[0]
	}
	t := math.Min(1, math.Max(0, ((p[0]-s[0][0])*ux+(p[1]-s[0][1])*uy)/d))
	return Point{s[0][0] + t*ux, s[0][1] + t*uy}
}

// join puts the nearest point of the routes to each place into the graph.
func (w *web) join(places []Point) []int {
	at := make([]int, len(places))
	for i, p := range places {
		best, near := 0, math.Inf(1)
		for k, s := range w.segments {
			if d := foot(p, s).to(p); d < near {
				best, near = k, d
			}
		}
		at[i] = w.add(best, foot(p, w.segments[best]))
	}
	return at
}

// link makes the edges between neighbours on each segment.
func (w *web) link() {
	w.edges = make([][]edge, len(w.points))
	for i, s := range w.segments {
		list := w.on[i]
		slices.SortFunc(list, func(a, b int) int {
			switch x, y := s[0].to(w.points[a]), s[0].to(w.points[b]); {
			case x < y:
				return -1
			case x > y:
				return 1
			}
			return a - b
		})
		for k := 1; k < len(list); k++ {
			a, b := list[k-1], list[k]
			if a == b {
				continue
			}
			d := w.points[a].to(w.points[b])
			w.edges[a] = append(w.edges[a], edge{b, d})
			w.edges[b] = append(w.edges[b], edge{a, d})
		}
	}
}

// from returns the shortest lengths from one point to all (Dijkstra).
func (w *web) from(start int) []float64 {
	far := make([]float64, len(w.points))
	for i := range far {
		far[i] = math.Inf(1)
	}
	far[start] = 0
	done := make([]bool, len(far))
	for {
		at := -1
		for i, d := range far {
			if !done[i] && !math.IsInf(d, 1) && (at < 0 || d < far[at]) {
				at = i
			}
		}
		if at < 0 {
			return far
		}
		done[at] = true
		for _, e := range w.edges[at] {
			far[e.to] = math.Min(far[e.to], far[at]+e.length)
		}
	}
}
