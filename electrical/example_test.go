package electrical_test

import (
	"fmt"

	"galefast/electrical"
)

// Two flood lamps at the end of 30 m of 1.5 mm2 cord.
func ExampleSolve() {
	r, err := electrical.Solve(electrical.Network{
		Supplies: []electrical.Supply{{Name: "outlet", Volts: 230, Phases: 1, Breaker: 16}},
		Runs:     []electrical.Run{{Name: "cord", From: "outlet", Length: 30, Resistance: 0.0154, Ampacity: 16}},
		Loads: []electrical.Load{{Name: "floods", On: "cord", Kind: electrical.ConstantPower,
			Watts: 500, PowerFactor: 0.9, Count: 2, Hours: 5}},
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	cord, outlet := r.Runs[0], r.Supplies[0]
	fmt.Printf("%.2f A, %.1f V at the lamps, drop %.2f %%\n", cord.Amps, cord.Volts, 100*cord.Drop)
	fmt.Printf("breaker of at least %.1f A\n", outlet.RequiredBreaker)
	// Output:
	// 4.92 A, 225.9 V at the lamps, drop 1.78 %
	// breaker of at least 6.1 A
}

// Two lamps share a cord and each has one of its own: the sizes with the least copper that keep
// all drops within 3 %.
func ExampleSizes() {
	sizes := []electrical.Conductor{ // class 5 copper at 60 degC, BS 7671 table 4F3A
		{Name: "0.75 mm2", Resistance: 0.0301, Ampacity: 6, Area: 0.75e-6},
		{Name: "1.5 mm2", Resistance: 0.0154, Ampacity: 16, Area: 1.5e-6},
		{Name: "2.5 mm2", Resistance: 0.00923, Ampacity: 25, Area: 2.5e-6},
	}
	n := electrical.Network{
		Supplies: []electrical.Supply{{Name: "outlet", Volts: 230, Phases: 1, Breaker: 16}},
		Runs: []electrical.Run{
			{Name: "reel", From: "outlet", Length: 40},
			{Name: "left", From: "reel", Length: 20},
			{Name: "right", From: "reel", Length: 10},
		},
		Loads: []electrical.Load{
			{Name: "flood", On: "left", Kind: electrical.ConstantPower, Watts: 500, PowerFactor: 0.9, Count: 1},
			{Name: "string", On: "right", Kind: electrical.Resistance, Watts: 300, Count: 1},
		},
	}
	list, err := electrical.Sizes(n, [][]electrical.Conductor{sizes, sizes, sizes}, electrical.DropLimit{Branch: 0.03, Total: 0.05})
	if err != nil {
		fmt.Println(err)
		return
	}
	for i, g := range list {
		fmt.Println(n.Runs[i].Name, g.Conductor.Name, g.Reason)
	}
	// Output:
	// reel 1.5 mm2 0.75 mm2: drops 4.31 % at "flood", limit 3.00 %
	// left 1.5 mm2 0.75 mm2: drops 3.07 % at "flood", limit 3.00 %
	// right 0.75 mm2
}

// Three lamps and two outlets, of which the near one carries two of them.
func ExampleAssign() {
	lengths := [][]float64{{5, 30}, {8, 25}, {12, 20}} // m, by lamp and outlet
	amps := [][]float64{{4, 4}, {4, 4}, {4, 4}}
	a, err := electrical.Assign(lengths, amps, []float64{10, 10})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(a.Outlet, a.Total, "m", a.Proven)
	// Output:
	// [0 0 1] 33 m true
}
