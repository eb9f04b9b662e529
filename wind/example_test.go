package wind_test

import (
	"fmt"
	"log"
	"math"

	"galefast/wind"
)

// A column 26 in square and 9 ft tall in a 40 mph gust from the west, over open
// ground, worked by hand beside the result:
//
//	q  = 0.613 x 17.8816^2 x 0.8489 / 1.0009      = 166.2 Pa
//	Cf = 1.65 - (0.2407 - 0.2) / 0.3 x 0.10       = 1.636   (Fig. 29.3-1, B/s = 26/108)
//	F  = 166.2 x 1.636 x 0.6604 x 2.7432          = 493 N
//	M  = F x 0.55 x 2.7432                        = 744 Nm
func ExampleModel_Loads() {
	m, err := wind.NewModel(wind.Site{Basis: wind.Gust, Terrain: "C"})
	if err != nil {
		log.Fatal(err)
	}
	column := wind.Surface{Name: "column", Shape: wind.Square, Width: 0.6604, Top: 2.7432}
	loads, err := m.Loads(column, 40*0.44704, 0)
	if err != nil {
		log.Fatal(err)
	}
	for _, l := range loads {
		f := math.Hypot(l.Force[0], l.Force[1])
		fmt.Printf("from %.0f degrees: q %.1f Pa, Cf %.3f, F %.0f N at %.3f m, M %.0f Nm\n", l.FromDeg, l.Q, l.Cf, f, l.At[2], f*l.At[2])
		fmt.Println(l.Reading + ": " + l.Source)
	}
	// Output:
	// from 270 degrees: q 166.2 Pa, Cf 1.636, F 493 N at 1.509 m, M 744 Nm
	// solid sign: ASCE 7-16 Fig. 29.3-1, flat-faced pillar read as a solid sign of its proportions, which is the larger
}
