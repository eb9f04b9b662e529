package statics

import (
	"cmp"
	"fmt"
	"math"
	"slices"
)

const (
	minFoot = 1e-6 // m; a smaller foot has no usable area
	flat    = 1e-9 // share of the foot's size below which a corner does not stand out
)

// Hull returns the corners of the convex hull of points (m) anticlockwise, the
// westmost first (of those the southmost). Repeated points and points that stand
// out from the line of their neighbours by less than 1e-9 of the foot's size are left
// out. The error wraps [ErrFoot] when no area is left and [ErrValue] when a coordinate is
// not finite or beyond 1e12.
func Hull(points [][2]float64) ([][2]float64, error) {
	for _, p := range points {
		if !usable(p[:]...) {
			return nil, fmt.Errorf("bearing point %g: %w", p, ErrValue)
		}
	}
	if len(points) < 3 {
		return nil, fmt.Errorf("%d bearing points: %w", len(points), ErrFoot)
	}
	sorted := slices.Clone(points)
	slices.SortFunc(sorted, func(a, b [2]float64) int {
		return cmp.Or(cmp.Compare(a[0], b[0]), cmp.Compare(a[1], b[1]))
	})

	// Andrew's monotone chain: the lower side eastward, then the upper westward.
	hull := make([][2]float64, 0, 2*len(sorted))
	extend := func(p [2]float64, start int) {
		for len(hull) >= start+2 && cross(hull[len(hull)-2], hull[len(hull)-1], p) <= 0 {
			hull = hull[:len(hull)-1]
		}
		hull = append(hull, p)
	}
	for _, p := range sorted {
		extend(p, 0)
	}
	upper := len(hull) - 1
	for i := len(sorted) - 2; i >= 0; i-- {
		extend(sorted[i], upper)
	}
	hull = dropFlat(hull[:len(hull)-1])
	if len(hull) < 3 {
		return nil, ErrFoot
	}
	return hull, nil
}

// dropFlat removes corners, in place, that do not stand out from the line through
// their neighbours. Removing a corner only shrinks the foot.
func dropFlat(hull [][2]float64) [][2]float64 {
	lo, hi := hull[0], hull[0]
	for _, p := range hull {
		lo = [2]float64{min(lo[0], p[0]), min(lo[1], p[1])}
		hi = [2]float64{max(hi[0], p[0]), max(hi[1], p[1])}
	}
	size := math.Hypot(hi[0]-lo[0], hi[1]-lo[1])
	if size < minFoot {
		return nil
	}
	for i, kept := 0, 0; len(hull) >= 3 && kept < len(hull); {
		n := len(hull)
		a, b, c := hull[(i+n-1)%n], hull[i%n], hull[(i+1)%n]
		// The base counts as at least the tolerance, so that near-twins go too.
		base := max(math.Hypot(c[0]-a[0], c[1]-a[1]), flat*size)
		if cross(a, b, c) <= flat*size*base || math.Hypot(b[0]-a[0], b[1]-a[1]) <= flat*size {
			hull = slices.Delete(hull, i%n, i%n+1)
			i, kept = max(i%n-1, 0), 0
			continue
		}
		i, kept = (i+1)%n, kept+1
	}
	return hull
}

// cross is twice the signed area of the triangle abc, positive anticlockwise.
func cross(a, b, c [2]float64) float64 {
	return (b[0]-a[0])*(c[1]-a[1]) - (b[1]-a[1])*(c[0]-a[0])
}

// OutwardNormals returns for every edge of an anticlockwise hull the direction (rad,
// anticlockwise from east) of its outward normal. Of all horizontal pushes of one
// size at one height, the one along the normal overturns most about that edge, so
// these are the directions to try for a person leaning.
func OutwardNormals(hull [][2]float64) []float64 {
	angles := make([]float64, len(hull))
	for i := range hull {
		n := outward(hull, i)
		angles[i] = math.Atan2(n[1], n[0])
	}
	return angles
}

// outward is the unit outward normal of the edge from corner i to the next.
func outward(hull [][2]float64, i int) [2]float64 {
	a, b := hull[i], hull[(i+1)%len(hull)]
	dx, dy := b[0]-a[0], b[1]-a[1]
	if l := math.Sqrt(dx*dx + dy*dy); l > 0 {
		return [2]float64{dy / l, (a[0] - b[0]) / l} // no negative zero
	}
	return [2]float64{}
}
