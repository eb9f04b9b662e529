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
