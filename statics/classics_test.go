package statics

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"testing"
)

// TestClassics checks set-ups of several blocks against published results.
func TestClassics(t *testing.T) {
	file, err := os.Open("../testdata/reference/limit-analysis.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	rows, err := csv.NewReader(file).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	compute := map[string]func(failer, float64) float64{
		"semicircular arch": func(t failer, _ float64) float64 {
			return between(0.09, 0.13, 1e-5, func(thickness float64) bool { return stands(t, arch(40, thickness), TippingOnly) })
		},
		"harmonic stack": func(t failer, n float64) float64 {
			return between(0, 3, 1e-7, func(overhang float64) bool {
				harmonic := 0.0
				for i := range int(n) {
					harmonic += 0.5 / float64(i+1)
				}
				return !stands(t, stack(int(n), func(below int) float64 { return overhang / harmonic * 0.5 / float64(below) }), AllLimits)
			})
		},
		"leaning stack": func(t failer, n float64) float64 {
			return between(0, 1, 1e-7, func(offset float64) bool {
				return !stands(t, stack(int(n), func(below int) float64 {
					if below == int(n) {
						return 0 // the lowest stands on the ground
					}
					return offset
				}), AllLimits)
			})
		},
		"ladder on a smooth wall": func(t failer, friction float64) float64 { return leastAngle(t, friction, 0) },
		"ladder on a rough wall":  func(t failer, friction float64) float64 { return leastAngle(t, friction, friction) },
		"table with a load off centre": func(t failer, beyond float64) float64 {
			s := &site{}
			b := s.column("table", 10, 0, 0, 1, 1, 0.7, 0.4)
			weight := 10 * StandardGravity
			s.push(b, Vec{0, 0, -weight}, Vec{0.5 + beyond, 0.3, 0.7})
			return analyse(t, &s.Group, &s.Loads, 0, AllLimits).Factor.Value
		},
	}
	for _, row := range rows[1:] {
		name, given, source := row[0], row[2], row[5]
		t.Run(name+" "+given, func(t *testing.T) {
			var value float64
			if given != "" {
				value = number(t, given)
			}
			want, tolerance := number(t, row[3]), number(t, row[4])
			run := compute[name]
			if run == nil {
				t.Fatalf("row %q", row)
			}
			if got := run(t, value); math.Abs(got-want) > tolerance {
				t.Errorf("%s %.7g, want %s; source: %s", row[1], got, row[3], source)
			}
		})
	}
}

func number(t *testing.T, s string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

func stands(t failer, s *site, only Limit) bool {
	t.Helper()
	return !analyse(t, &s.Group, &s.Loads, 0, only).NotStanding
}

// between finds by bisection where a condition turns true.
func between(lo, hi, within float64, holds func(float64) bool) float64 {
	for hi-lo > within {
		if x := (lo + hi) / 2; holds(x) {
			hi = x
		} else {
			lo = x
		}
	}
	return (lo + hi) / 2
}

// arch is a semicircle of mean radius 1 in the plane of x and z, of n voussoirs with radial joints.
func arch(n int, thickness float64) *site {
	s := &site{}
	in, out, deep := 1-thickness/2, 1+thickness/2, 0.2
	step := math.Pi / float64(n)
	joint := func(i int) (points []Vec, along Vec) {
		sin, cos := math.Sincos(step * float64(i))
		for _, r := range []float64{in, out} {
			points = append(points, Vec{r * cos, -deep / 2, r * sin}, Vec{r * cos, deep / 2, r * sin})
		}
		return points, Vec{-sin, 0, cos}
	}
	for i := range n {
		// Centre of mass of a sector of a ring.
		r := 2 * (out*out*out - in*in*in) / (3 * (out*out - in*in)) * math.Sin(step/2) / (step / 2)
		sin, cos := math.Sincos(step * (float64(i) + 0.5))
		centre := Vec{r * cos, 0, r * sin}
		s.Blocks = append(s.Blocks, Block{Centre: centre})
		s.Dead = append(s.Dead, Acting{i, Weight("", 10, centre, Gravity(0, 0))})
		points, along := joint(i)
		s.Contacts = append(s.Contacts, Contact{Of: i, On: i - 1, Points: points, Normal: along, Friction: 1})
	}
	points, along := joint(n)
	s.Contacts = append(s.Contacts, Contact{Of: n - 1, On: Ground, Points: points, Normal: scaled(along, -1), Friction: 1})
	return s
}

// stack is n blocks of length 1 on the ground that ends at x = 0. The k-th from the top stands
// offset(k) beyond what is below.
func stack(n int, offset func(k int) float64) *site {
	s := &site{}
	end, edge, on := 0.0, 0.0, Ground // east end of the block, and of what is below
	for i := range n {
		end = edge + offset(n-i)
		b := s.block("", 10, end-0.5, 0, 0.2*float64(i), 1, 0.4, 0.2)
		c := Contact{Of: b, On: on, Friction: 0.5}
		for _, x := range []float64{end - 1, min(end, edge)} {
			c.Points = append(c.Points, Vec{x, -0.2, 0.2 * float64(i)}, Vec{x, 0.2, 0.2 * float64(i)})
		}
		s.Contacts = append(s.Contacts, c)
		edge, on = end, b
	}
	return s
}

// leastAngle is the least angle to the floor (degrees) at which a ladder of length 5 stands.
func leastAngle(t failer, floor, wall float64) float64 {
	return between(10, 80, 1e-6, func(angle float64) bool {
		sin, cos := math.Sincos(angle * math.Pi / 180)
		s := &site{}
		centre := Vec{2.5 * cos, 0, 2.5 * sin}
		s.Blocks = []Block{{Centre: centre}}
		s.Dead = []Acting{{0, Weight("ladder", 12, centre, Gravity(0, 0))}}
		s.Contacts = []Contact{
			{Of: 0, On: Ground, Points: []Vec{{0, -0.2, 0}, {0, 0.2, 0}}, Friction: floor},
			{Of: 0, On: Ground, Points: []Vec{{5 * cos, -0.2, 5 * sin}, {5 * cos, 0.2, 5 * sin}}, Normal: Vec{-1, 0, 0}, Friction: wall},
		}
		return stands(t, s, AllLimits)
	})
}
