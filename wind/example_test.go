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

// One wall, 8 ft long and 6 ft high, and one column, 26 in square and 9 ft high, in
// the same storm under every basis: a gust of 115 mph (51.4 m/s) over 3 s, which is
// a map speed of ASCE 7, and the 10-minute mean of 33.5 m/s whose peak pressure at
// 10 m in open ground is that of the same gust by EN 1991-1-4. The first row is a
// gust that somebody may measure. The last column is the moment that unfactored
// dead weight must hold: M times the wind's factor over the dead load's, in the
// hardest combination; for a measured gust the site's own factor comes on top.
//
// The storm is the same, its rarity is not: a map speed of ASCE 7 comes once in some
// 700 years and bears a factor of 1.0, v_b,0 once in 50 and bears 1.5. A real v_b,0
// of the place would be about a fifth lower.
//
// Wind from the west on the long face. Of the cases the one that overturns most.
func ExampleCombinations() {
	const mph, inch = 0.44704, 0.0254
	surfaces := []wind.Surface{
		{Name: "wall", Shape: wind.Panel, Width: 96 * inch, Top: 72 * inch, Turn: math.Pi / 2},
		{Name: "column", Shape: wind.Square, Width: 26 * inch, Top: 108 * inch},
	}
	fmt.Println("surface basis    m/s   q Pa   Kz|ce Kd   G    Cf    F N   arm m  M Nm  to hold")
	for _, s := range surfaces {
		for _, at := range []struct {
			site  wind.Site
			speed float64
		}{
			{wind.Site{Basis: wind.Gust, Terrain: "C"}, 40 * mph},
			{wind.Site{Basis: wind.Gust, Terrain: "C"}, 115 * mph},
			{wind.Site{Basis: wind.ASCE716, Terrain: "C"}, 115 * mph},
			{wind.Site{Basis: wind.ASCE722, Terrain: "C"}, 115 * mph},
			{wind.Site{Basis: wind.EN1991, Terrain: "II"}, 33.5},
		} {
			m, err := wind.NewModel(at.site)
			if err != nil {
				log.Fatal(err)
			}
			loads, err := m.Loads(s, at.speed, 0)
			if err != nil {
				log.Fatal(err)
			}
			combinations, err := wind.Combinations(at.site.Basis)
			if err != nil {
				log.Fatal(err)
			}
			var worst wind.Load
			moment := 0.0
			for _, l := range loads {
				if f := math.Hypot(l.Force[0], l.Force[1]); f*l.At[2] > moment {
					worst, moment = l, f*l.At[2]
				}
			}
			factor := 0.0
			for _, c := range combinations {
				factor = max(factor, c.Wind/c.Dead)
			}
			fmt.Printf("%-7s %-8s %4.1f %6.1f %6.3f %.2f %.2f %.3f %6.0f %.3f %6.0f %6.0f\n", s.Name, at.site.Basis, at.speed,
				worst.Q, worst.Kz, worst.Kd, worst.G, worst.Cf, moment/worst.At[2], worst.At[2], moment, factor*moment)
		}
	}
	// Output:
	// surface basis    m/s   q Pa   Kz|ce Kd   G    Cf    F N   arm m  M Nm  to hold
	// wall    gust     17.9  166.2  0.848 1.00 1.00 1.433   1063 1.006   1069   1069
	// wall    gust     51.4 1374.0  0.848 1.00 1.00 1.433   8782 1.006   8834   8834
	// wall    asce7-16 51.4 1375.3  0.849 0.85 0.85 1.433   6351 1.006   6388   7098
	// wall    asce7-22 51.4 1378.9  0.851 0.85 0.85 1.433   6368 1.006   6405   7117
	// wall    en1991   33.5  998.4  1.423 1.00 1.00 1.602   7135 0.914   6524  10873
	// column  gust     17.9  166.2  0.848 1.00 1.00 1.636    493 1.509    744    744
	// column  gust     51.4 1374.0  0.848 1.00 1.00 1.636   4073 1.509   6146   6146
	// column  asce7-16 51.4 1375.3  0.849 0.85 0.85 1.636   2946 1.509   4444   4938
	// column  asce7-22 51.4 1378.9  0.851 0.85 0.85 1.636   2953 1.509   4456   4951
	// column  en1991   33.5 1116.0  1.591 1.00 1.00 1.453   2938 1.372   4029   6716
}
