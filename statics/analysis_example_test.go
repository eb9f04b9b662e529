package statics_test

import (
	"fmt"
	"math"

	"galefast/statics"
)

// A pier of 80 kg with a leaf of 20 kg on two hinges, held by a latch to a post that stands
// apart, in wind from the south on both.
func ExampleAnalysis_Solve() {
	gravity := statics.Gravity(0, 0)
	foot := [][2]float64{{-0.3, -0.4}, {0.3, -0.4}, {0.3, 0.4}, {-0.3, 0.4}}
	var corners []statics.Vec
	for _, p := range foot {
		corners = append(corners, statics.Vec{p[0], p[1], 0})
	}
	hinge := func(name string, z float64) statics.Link {
		return statics.Link{
			Name: name, Kind: statics.Hinge, A: 0, B: 1,
			At: statics.Vec{0.3, 0, z}, Axis: statics.Vec{1, 0, 0},
			Pull: 900, Push: math.Inf(1), Shear: 1200,
		}
	}
	group := &statics.Group{
		Blocks: []statics.Block{
			{Name: "pier", Centre: statics.Vec{0, 0, 1}, Foot: foot},
			{Name: "leaf", Centre: statics.Vec{0.9, 0, 0.9}},
		},
		Contacts: []statics.Contact{{Of: 0, On: statics.Ground, Points: corners, Friction: 0.4}},
		Links: []statics.Link{
			hinge("upper", 1.5), hinge("lower", 0.4),
			{
				Name: "gate", Kind: statics.Latch, A: 1, B: statics.Ground,
				At: statics.Vec{1.5, 0, 1}, Axis: statics.Vec{0, 1, 0}, Pull: 400, Push: 400,
			},
		},
	}
	loads := &statics.Loads{
		Dead: []statics.Acting{
			{Block: 0, Force: statics.Weight("pier", 80, statics.Vec{0, 0, 1}, gravity)},
			{Block: 1, Force: statics.Weight("leaf", 20, statics.Vec{0.9, 0, 0.9}, gravity)},
		},
		Live: []statics.Acting{
			{Block: 0, Force: statics.Force{Name: "wind", F: statics.Vec{0, 100, 0}, At: statics.Vec{0, 0, 1.1}}},
			{Block: 1, Force: statics.Force{Name: "wind", F: statics.Vec{0, 120, 0}, At: statics.Vec{0.9, 0, 0.9}}},
		},
	}
	analysis, err := statics.NewAnalysis(group, math.Pi/2)
	if err != nil {
		fmt.Println(err)
		return
	}
	all, err := analysis.Solve(loads, statics.AllLimits)
	if err != nil {
		fmt.Println(err)
		return
	}
	tipping, err := analysis.Solve(loads, statics.TippingOnly)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.3f: %s (proven: %v)\n", all.Factor.Value, all.Collapse.Words(group), all.Certificate.OK)
	fmt.Printf("%.3f: %s (proven: %v)\n", tipping.Factor.Value, tipping.Collapse.Words(group), tipping.Certificate.OK)
	// Output:
	// 2.189: pier turns on its foot; leaf is carried along (proven: true)
	// 2.483: pier overturns about its north edge; leaf is carried along (proven: true)
}
