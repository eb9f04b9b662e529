package statics

import "math"

// StandardGravity is g in m/s² (3rd General Conference on Weights and Measures, 1901).
const StandardGravity = 9.80665

// Gravity returns the acceleration of gravity (m/s²) in axes tilted with ground that
// falls by slope (fall over horizontal run) towards the given direction (rad,
// anticlockwise from east).
func Gravity(slope, towards float64) Vec {
	normal := StandardGravity / math.Hypot(1, slope)
	along := StandardGravity * math.Sin(math.Atan(slope))
	sin, cos := math.Sincos(towards)
	return Vec{along * cos, along * sin, -normal}
}

// Weight is the force on a mass (kg) at a point (m) under gravity (m/s², see
// [Gravity]).
func Weight(name string, mass float64, at, gravity Vec) Force {
	return Force{Name: name, F: Vec{mass * gravity[0], mass * gravity[1], mass * gravity[2]}, At: at}
}
