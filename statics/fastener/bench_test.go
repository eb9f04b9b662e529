package fastener

import "testing"

// benchJoint is No. 10 x 2 screws through 3/4 in plywood into a 2x4 of SPF, out in the rain and
// the wind.
func benchJoint(b *testing.B) Joint {
	must := func(err error) {
		if err != nil {
			b.Fatal(err)
		}
	}
	screw, err := Of(WoodScrew, "#10", 2*inch)
	must(err)
	spf, err := MaterialOf("spf")
	must(err)
	ply, err := MaterialOf("plywood")
	must(err)
	return Joint{
		Fastener: screw, Side: Member{Material: ply, Thickness: 0.75 * inch}, Main: Member{Material: spf, Thickness: 1.5 * inch},
		Count: 4, Service: Service{Duration: Wind, Moisture: WetInService},
	}
}

// BenchmarkCheck is one joint under lateral force and tension, its working included.
func BenchmarkCheck(b *testing.B) {
	j := benchJoint(b)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := j.Check(Demand{200, 150}); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkCompare is one more demand on a joint whose capacities are known.
func BenchmarkCompare(b *testing.B) {
	j := benchJoint(b)
	lateral, err := j.Lateral()
	if err != nil {
		b.Fatal(err)
	}
	tension, err := j.Tension()
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := j.Compare(Demand{200, 150}, lateral, tension); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkCures is one joint that fails, with everything that is tried.
func BenchmarkCures(b *testing.B) {
	j := benchJoint(b)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := j.Cures(Total{3000, 2000}); err != nil {
			b.Fatal(err)
		}
	}
}
