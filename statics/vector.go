package statics

import "math"

func add(a, b Vec) Vec { return Vec{a[0] + b[0], a[1] + b[1], a[2] + b[2]} }

func sub(a, b Vec) Vec { return Vec{a[0] - b[0], a[1] - b[1], a[2] - b[2]} }

func scaled(a Vec, by float64) Vec { return Vec{a[0] * by, a[1] * by, a[2] * by} }

func dot(a, b Vec) float64 { return a[0]*b[0] + a[1]*b[1] + a[2]*b[2] }

func cross3(a, b Vec) Vec {
	return Vec{a[1]*b[2] - a[2]*b[1], a[2]*b[0] - a[0]*b[2], a[0]*b[1] - a[1]*b[0]}
}

func norm(a Vec) float64 {
	if s := dot(a, a); s > 1e-200 && s < 1e200 { // its squares neither vanish nor overflow
		return math.Sqrt(s)
	}
	return math.Hypot(a[0], math.Hypot(a[1], a[2]))
}

// unit is a at length 1; up for a zero vector.
func unit(a Vec) Vec {
	n := norm(a)
	if n == 0 {
		return Vec{0, 0, 1}
	}
	a = Vec{a[0] / n, a[1] / n, a[2] / n}
	return scaled(a, 1/norm(a)) // once more, for lengths near the smallest numbers
}
