package statics_test

import (
	"fmt"

	"galefast/statics"
)

// A column of 60 kg on a base 0.8 m square, with 40 kg of ballast low down, in a wind
// from the west of 120 N at 1.3 m.
func ExampleBody_Check() {
	gravity := statics.Gravity(0, 0)
	column := statics.Body{
		Foot:     [][2]float64{{-0.4, -0.4}, {0.4, -0.4}, {0.4, 0.4}, {-0.4, 0.4}},
		Friction: 0.4,
		Dead: []statics.Force{
			statics.Weight("column", 60, statics.Vec{0, 0, 1.1}, gravity),
			statics.Weight("ballast", 40, statics.Vec{0, 0, 0.1}, gravity),
		},
		Live: []statics.Force{{Name: "wind", F: statics.Vec{120, 0, 0}, At: statics.Vec{0, 0, 1.3}}},
	}
	r, err := column.Check()
	if err != nil {
		fmt.Println(err)
		return
	}
	east := r.Overturning[r.WorstEdge]
	fmt.Printf("resisting %.0f N·m, overturning %.0f N·m, factor %.2f\n", east.Resisting, east.Overturning, east.Factor.Value)
	fmt.Printf("sliding factor %.2f\n", r.Sliding.Factor.Value)
	fmt.Println(r.Mechanism())
	// Output:
	// resisting 392 N·m, overturning 156 N·m, factor 2.51
	// sliding factor 3.27
	// overturns about its east edge
}
