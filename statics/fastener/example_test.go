package fastener_test

import (
	"fmt"
	"log"
	"math"

	"galefast/statics/fastener"
)

const inch = 0.0254

func must[T any](v T, err error) T {
	if err != nil {
		log.Fatal(err)
	}
	return v
}

// A No. 10 screw, 1 1/2 in of its thread in spruce, pulled by wind: 2850 x 0.42^2 x 0.190 x 1.5
// x 1.6 = 229 lb.
func ExampleJoint_Withdrawal() {
	screw := must(fastener.Of(fastener.WoodScrew, "#10", 2.25*inch))
	spf := must(fastener.MaterialOf("spf"))
	j := fastener.Joint{
		Fastener: screw,
		Side:     fastener.Member{Material: spf, Thickness: 0.75 * inch},
		Main:     fastener.Member{Material: spf, Thickness: 3.5 * inch},
		Service:  fastener.Service{Duration: fastener.Wind},
	}
	c := must(j.Withdrawal())
	fmt.Printf("%.0f N, %s (%s)\n", c.Value, c.Mode, c.Source)
	for _, s := range c.Steps {
		fmt.Println("-", s.Formula)
	}
	// Output:
	// 1020 N, withdrawal (NDS 2018 12.2.2, eq. 12.2-2)
	// - W = 2850 G² D = 2850·0.42²·0.190 = 95.5 lb/in
	// - p = 1.500 in, W·p = 143.3 lb
	// - C_D = 1.6, wind
	// - C_M = 1, screw dry
	// - C_t = 1, to 100 F
}

// The leaf of a swing gate, 25 kg and 1.2 m wide, on two hinges 1.5 m apart that nobody has
// fitted to share its weight, with a child of 40 kg on its tip. Each hinge is held on the post
// by three No. 9 screws of 3/4 in in a board of 3/4 in.
func ExampleLeaf_Reactions() {
	leaf := fastener.Leaf{Hinges: []float64{0.2, 1.7}}
	cases := must(leaf.Reactions([]fastener.Load{
		{What: "leaf", Force: fastener.Vec{0, 0, -25 * 9.80665}, At: fastener.Vec{0.6, 0, 1}},
		{What: "child on the tip", Force: fastener.Vec{0, 0, -40 * 9.80665}, At: fastener.Vec{1.2, 0, 0.5}},
	}))
	for _, c := range cases {
		for i, h := range c.Hinges {
			fmt.Printf("%s, hinge %d: %.0f N out, %.0f N down\n", c.Case, i+1, h[0], -h[2])
		}
	}

	// The upper hinge, where it also carries the weight, as a plate on the post: out of its
	// wood is along the leaf.
	plate := fastener.Plate{
		Out: fastener.Vec{1, 0, 0}, Up: fastener.Vec{0, 0, 1}, Width: 0.025, Height: 0.075,
		Screws: []fastener.Point{{0.012, 0.012}, {0.012, 0.0375}, {0.012, 0.063}},
	}
	pulls, _, err := plate.Share(cases[1].Hinges[1], fastener.Vec{0.012, 0.0375, 0.006}, fastener.Vec{})
	if err != nil {
		log.Fatal(err)
	}
	worst := pulls[2].Demand
	fmt.Printf("worst screw: %.0f N pull, %.0f N across\n", worst.Tension, worst.Lateral)

	spf, steel := must(fastener.MaterialOf("spf")), must(fastener.MaterialOf("steel"))
	j := fastener.Joint{
		Fastener: must(fastener.Of(fastener.WoodScrew, "#9", 0.75*inch)),
		Side:     fastener.Member{Material: steel, Thickness: 2e-3},
		Main:     fastener.Member{Material: spf, Thickness: 0.75 * inch},
		Service:  fastener.Service{Duration: fastener.Impact},
	}
	u := must(j.Check(worst))
	fmt.Println("holds:", u.Holds(), "-", u.Mode)
	for _, c := range must(j.Cures(fastener.Total(worst))) {
		share, _ := c.Use.Utilisation()
		fmt.Printf("cure: %s, used to %.0f %%\n", c.What, math.Ceil(100*share))
	}
	// Output:
	// weight on hinge 1, hinge 1: -412 N out, 637 N down
	// weight on hinge 1, hinge 2: 412 N out, 0 N down
	// weight on hinge 2, hinge 1: -412 N out, 0 N down
	// weight on hinge 2, hinge 2: 412 N out, 637 N down
	// worst screw: 181 N pull, 212 N across
	// holds: false - no capacity: penetration is 17.05 mm, needs 26.97 mm
	// cure: bolt 1/4 right through, washer cut 1/4 under head and nut, used to 74 %
	// cure: backing block of 0.75 in, and wood screw #9, 1.25 in long instead of 0.75 in, used to 93 %
}

// A leaf thrown against its stop. What the stop does to the leaf is shared by the hinges. At
// the centre of percussion, 0.8 m from the hinge line here, a stop would leave them nothing; at
// the tip it lifts the leaf off them.
func ExampleSlam_Blow() {
	slam := fastener.Slam{Mass: 25, Centre: fastener.Vec{0.6, 0, 1}, Width: 1.2, StopX: 1.2, StopZ: 0.4, TipSpeed: 3, Stiffness: 5e4}
	blow := must(slam.Blow())
	fmt.Printf("%.1f J, %.0f N on the stop\n", blow.Energy, blow.Force)
	cases := must(fastener.Leaf{Hinges: []float64{0.2, 1.8}, Bears: fastener.Shared}.Reactions(blow.Loads))
	for i, h := range cases[0].Hinges {
		fmt.Printf("hinge %d: %.0f N\n", i+1, math.Abs(h[1]))
	}
	// Output:
	// 37.5 J, 1936 N on the stop
	// hinge 1: 242 N
	// hinge 2: 1210 N
}

// A section 0.5 m deep, bolted at 50 and 450 mm from its compression edge, two bolts each, bent
// by 11 kN m: the far bolts pull M y / sum y^2.
func ExampleSection_Open() {
	s := fastener.Section{Depth: 0.5, Bolts: []float64{0.05, 0.05, 0.45, 0.45}}
	o := must(s.Open(0, 0, 11e3))
	fmt.Printf("%s: %.0f N in the far bolts, %.0f N in the near ones, %.0f N pressed\n", o.Lever, o.Bolts[3], o.Bolts[0], o.Compression)
	// Output:
	// pivots on its edge: 12073 N in the far bolts, 1341 N in the near ones, 26829 N pressed
}

// A guy of 3/8 in polyester rope with knots, at 45 degrees, to a stake that moved at 2.2 kN in
// a pull test on dry ground.
func ExampleGuy_Capacity() {
	g := fastener.Guy{
		Rope: must(fastener.RopeOf("polyester", 0.375*inch)), Fitting: 1500, Angle: math.Pi / 4,
		Anchor: fastener.Anchor{PullTest: 2200, Wet: true, Certainty: "common practice, no source"}, AnchorSource: "pull test on site",
	}
	c := must(g.Capacity())
	fmt.Printf("%.0f N: %s\n", c.Value, c.Mode)
	for _, s := range c.Steps {
		fmt.Println("-", s.What+":", s.Formula)
	}
	// Output:
	// 550 N: anchor pulls out
	// - rope: B η / d = 16458·0.50/5 = 1646 N
	// - fitting: 1500 N
	// - anchor: P / d = 2200/2 = 1100 N
	// - wet ground: 0.50·1100 = 550 N
}
