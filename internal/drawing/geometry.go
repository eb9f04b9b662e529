package drawing

import (
	"cmp"
	"math"
	"slices"
)

// hull is the convex outline of some points in plan, counterclockwise.
func hull(points [][2]float64) [][2]float64 {
	sorted := slices.Clone(points)
	slices.SortFunc(sorted, func(a, b [2]float64) int { return cmp.Or(cmp.Compare(a[0], b[0]), cmp.Compare(a[1], b[1])) })
	sorted = slices.Compact(sorted)
	if len(sorted) < 3 {
		return sorted
	}
	half := func(list [][2]float64) [][2]float64 {
		var out [][2]float64
		for _, p := range list {
			for len(out) > 1 && turn(out[len(out)-2], out[len(out)-1], p) <= 0 {
				out = out[:len(out)-1]
			}
			out = append(out, p)
		}
		return out[:len(out)-1]
	}
	lower := half(sorted)
	slices.Reverse(sorted)
	return append(lower, half(sorted)...)
}

// turn is positive when a, b, c turn left.
func turn(a, b, c [2]float64) float64 {
	return (b[0]-a[0])*(c[1]-a[1]) - (b[1]-a[1])*(c[0]-a[0])
}

// distance is how far a point is outside a convex outline; zero inside.
func distance(p [2]float64, outline [][2]float64) float64 {
	inside, least := len(outline) > 2, math.Inf(1)
	for i, a := range outline {
		b := outline[(i+1)%len(outline)]
		if turn(a, b, p) < 0 {
			inside = false
		}
		dx, dy := b[0]-a[0], b[1]-a[1]
		t := 0.0
		if l := dx*dx + dy*dy; l > 0 {
			t = math.Max(0, math.Min(1, ((p[0]-a[0])*dx+(p[1]-a[1])*dy)/l))
		}
		least = math.Min(least, math.Hypot(p[0]-a[0]-t*dx, p[1]-a[1]-t*dy))
	}
	if inside {
		return 0
	}
	return least
}

// offset is the line at a distance around a convex outline, in short steps.
func offset(outline [][2]float64, by float64) [][2]float64 {
	var out [][2]float64
	const steps = 48
	n := len(outline)
	for i, p := range outline {
		before, after := outline[(i+n-1)%n], outline[(i+1)%n]
		a := math.Atan2(p[1]-before[1], p[0]-before[0]) - math.Pi/2
		b := math.Atan2(after[1]-p[1], after[0]-p[0]) - math.Pi/2
		for b < a {
			b += 2 * math.Pi
		}
		for k := range steps + 1 {
			sin, cos := math.Sincos(a + (b-a)*float64(k)/steps)
			out = append(out, [2]float64{p[0] + by*cos, p[1] + by*sin})
		}
		// The straight side in short steps, so that it can be broken anywhere.
		sin, cos := math.Sincos(b)
		for k := 1; k < steps; k++ {
			t := float64(k) / steps
			out = append(out, [2]float64{p[0] + t*(after[0]-p[0]) + by*cos, p[1] + t*(after[1]-p[1]) + by*sin})
		}
	}
	return out
}

// project is the extent of an outline along a direction from an origin.
func project(outline [][2]float64, origin, along [2]float64) (lo, hi float64) {
	lo, hi = math.Inf(1), math.Inf(-1)
	for _, p := range outline {
		d := (p[0]-origin[0])*along[0] + (p[1]-origin[1])*along[1]
		lo, hi = math.Min(lo, d), math.Max(hi, d)
	}
	return lo, hi
}
