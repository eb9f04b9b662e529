package wind

import (
	"math"
	"slices"
)

// Directions returns the directions to analyse, rad counterclockwise from east
// in [0, 2 pi), ascending: every 15 degrees, and both normals of each face.
// A face is given by the direction of its normal, either sense.
func Directions(faces []float64) []float64 {
	const same = 1e-6 // rad
	d := make([]float64, 0, 24+2*len(faces))
	for i := range 24 {
		d = append(d, float64(i)*math.Pi/12)
	}
	for _, f := range faces {
		if math.IsNaN(f) || math.IsInf(f, 0) {
			continue
		}
		for _, a := range [2]float64{f, f + math.Pi} {
			a = math.Mod(a, 2*math.Pi)
			if a < 0 {
				a += 2 * math.Pi
			}
			// The 15 degree grid holds the exact value of its own directions.
			if g := math.Round(a*12/math.Pi) * math.Pi / 12; math.Abs(g-a) > same {
				d = append(d, a)
			}
		}
	}
	slices.Sort(d)
	return slices.CompactFunc(d, func(a, b float64) bool { return math.Abs(b-a) <= same })
}
