// Package fairground writes descriptions of invented fairgrounds of any size, for tests and
// measurements that need a large site.
//
// Streets run north, 30 m apart, and every 9 m along one is a lot: either a gateway across
// it, or a lone piece on each side. A gateway is two columns with a sign or leaves between
// them, and perhaps walls beside them; some are fastened together with strengths and stand
// as a group. A way leads along every street through its gateways, and a circuit with cords
// and lamps follows every few lots. Lengths are metric. Pieces are as large and as heavy as
// a crew would build them and ballasted by a rule of thumb, so that most checks hold and
// some fail. Nothing overlaps.
package fairground

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
)

const (
	street = 30.0 // m from street to street
	step   = 9.0  // m from lot to lot along a street
	beside = 7.0  // m from the middle of a street to the lone pieces along it
)

// Site is the description of a fairground of a number of pieces: columns, leaves, walls and
// signs. About the share groups of them, from 0 to 1, stand in groups that are fastened
// together with strengths. The same numbers give the same bytes.
func Site(pieces int, groups float64, seed uint64) string {
	s := &site{random: rand.New(rand.NewPCG(seed, uint64(pieces)))}
	s.print(`title = "Fairground of %d pieces"
units = "si"

[site]
ground     = "asphalt"
slope      = "1 %%"
terrain    = "C"
gust_open  = "7 m/s"
gust_alone = "11 m/s"
ambient    = "20 °C"

[require]
overturning = 1.5
sliding     = 1.5
lean        = { force = "150 N", height = "1.2 m" }
`, pieces)
	// About as many lots along a street as make the whole square: a lot has two pieces and more.
	along := max(4, int(math.Sqrt(float64(pieces)/2*street/step)))
	grouped := 0
	for lot := 0; s.pieces < pieces; lot++ {
		x, y := street*float64(lot/along), step*float64(lot%along)
		s.streetAt(lot/along, lot%along, x, y)
		before, left := s.pieces, pieces-s.pieces
		switch {
		case left >= 3 && float64(grouped) < groups*float64(s.pieces+5):
			s.gateway(x, y, left, true)
			grouped += s.pieces - before
		case left >= 3 && s.random.Float64() < 0.25:
			s.gateway(x, y, left, false)
		default:
			s.lone(x-beside, y)
			if left >= 2 {
				s.lone(x+beside, y)
			}
		}
		if lot%2 == 0 {
			s.lamps(x, y)
		}
	}
	s.closeStreet()
	return s.text.String()
}

// site is what has been written so far.
type site struct {
	text       strings.Builder
	random     *rand.Rand
	pieces     int
	circuit    int
	fed        int // lots of the street that have lamps
	streetNo   int
	x, from, y float64 // the street that is being written, m
	open       bool
}

func (s *site) print(format string, args ...any) { fmt.Fprintf(&s.text, format, args...) }

// piece is a name that no other piece has.
func (s *site) piece(kind string) string {
	s.pieces++
	return fmt.Sprintf("%s %d", kind, s.pieces)
}

// between is a random length, in steps of 50 mm, m.
func (s *site) between(low, high float64) float64 {
	return math.Round((low+s.random.Float64()*(high-low))*20) / 20
}

// streetAt notes how far the street reaches and begins the next one.
func (s *site) streetAt(n, lot int, x, y float64) {
	if lot == 0 {
		s.closeStreet()
		s.streetNo, s.x, s.from, s.open, s.fed = n+1, x, y, true, 0
	}
	s.y = y
}

// closeStreet leads a way along the street, from before its first lot to behind its last.
func (s *site) closeStreet() {
	if s.open {
		s.print("\n[[way]]\nname   = \"street %d\"\nline   = [[\"%g m\", \"%g m\"], [\"%g m\", \"%g m\"]]\npeople = %d\n",
			s.streetNo, s.x, s.from-5, s.x, s.y+5, 20+s.random.IntN(60))
	}
}

// column is a column of sections one on the other, square in plan, with ballast in the
// lowest: about share of what keeps up a panel of its size.
func (s *site) column(x, y float64, sections int, foot, width, height, share float64) string {
	name := s.piece("column")
	s.print("\n[[column]]\nname = %q\nat   = [\"%.2f m\", \"%.2f m\"]\nfoot = [\"%.2f m\", \"%.2f m\"]\n", name, x, y, foot, foot)
	plinth := math.Round(height*4) / 20
	if sections == 1 {
		plinth = height
	}
	s.print(`
  [[column.section]]
  name   = "plinth"
  width  = "%.2f m"
  height = "%.2f m"
  parts = [
    { stock = "45x95", wood = "spf", length = "%.2f m", count = 4, height = "50 mm" },
    { sheet = "plywood 9 mm", size = ["%.2[1]f m", "%.2[2]f m"], count = 4 },
  ]
`, width, plinth, foot)
	shaft, cap := height-plinth, 0.3
	if sections == 3 {
		shaft -= cap
	}
	if sections > 1 {
		made := fmt.Sprintf(`mass   = "%d kg"`, 15+s.random.IntN(10)) // from a scale, or from what it is made of
		if s.random.Float64() < 0.3 {
			made = fmt.Sprintf(`parts = [
    { stock = "45x45", wood = "spf", length = "%.2f m", count = 4 },
    { sheet = "plywood 6 mm", size = ["%.2f m", "%.2[1]f m"], count = 4 },
    { block = "eps type I", size = ["400 mm", "300 mm", "40 mm"], count = 4, height = "1 m", covered_by = "plywood 6 mm" },
  ]`, shaft, width-0.1)
		}
		s.print(`
  [[column.section]]
  name   = "shaft"
  width  = "%.2f m"
  height = "%.2f m"
  joint  = { bolts = 4, size = "10 mm", pattern = ["%.2f m", "%.2[3]f m"], washer = "40 mm", into = "c24", thickness = "45 mm" }
  %[4]s
`, width-0.1, shaft, width-0.2, made)
	}
	if sections == 3 {
		s.print(`
  [[column.section]]
  name   = "cap"
  width  = "%.2f m"
  height = "%.2f m"
  joint  = { bolts = 4, size = "8 mm", pattern = ["%.2f m", "%.2[3]f m"], washer = "30 mm", into = "c24", thickness = "45 mm" }
  mass   = "%d kg"
`, width+0.1, cap, width-0.2, 5+s.random.IntN(5))
	}
	s.ballast(name, "section = \"plinth\"", foot, width*height, height/2, share)
	return name
}

// share is how much of the ballast that a thumb would say a piece gets: now and then far too
// little.
func (s *site) share() float64 {
	if s.random.Float64() < 0.1 {
		return 0.2
	}
	return 0.9 + 0.6*s.random.Float64()
}

// ballast lays in bags of 15 kg for a face in the wind, m2, whose middle is at a height, m: share
// of what holds it down about the edge of the foot, half as much to spare included.
func (s *site) ballast(in, where string, foot, face, at, share float64) {
	const pressure = 1.5 * 75 // Pa: 1.225/2 × 11² and a coefficient near 1
	need := 1.5 * share * pressure * face * at / (foot / 2 * 9.81)
	s.print("\n[[ballast]]\nin      = %q\n%s\nunit    = \"sandbag 15 kg\"\ncount   = %d\n", in, where, 1+int(need/15))
}

// lone is one piece beside the street: a column or a wall.
func (s *site) lone(x, y float64) {
	share := s.share()
	if s.random.Float64() < 0.6 {
		s.column(x, y, 1+s.random.IntN(3), s.between(1, 1.3), s.between(0.5, 0.7), s.between(2, 2.6), share)
		return
	}
	half := s.between(1.2, 1.9)
	s.wall([2]float64{x, y - half}, [2]float64{x, y + half}, s.between(1.6, 2), "", share)
}

// wall is a wall with two braces on its left side; joined is the column that it is fastened
// to, if any.
func (s *site) wall(from, to [2]float64, height float64, joined string, share float64) {
	name, length := s.piece("wall"), math.Hypot(to[0]-from[0], to[1]-from[1])
	s.print(`
[[wall]]
name   = %q
from   = ["%.2f m", "%.2f m"]
to     = ["%.2f m", "%.2f m"]
height = "%.2f m"
foot   = "600 mm"
braces = { count = 2, reach = "1.2 m", height = "%.2f m" }
parts = [
  { stock = "45x70", wood = "spf", length = "%.2f m", count = 2 },
  { stock = "45x70", wood = "spf", length = "%.2[6]f m", count = 5 },
  { sheet = "plywood 6 mm", size = ["%.2[8]f m", "%.2[6]f m"] },
]
`, name, from[0], from[1], to[0], to[1], height, 0.7*height, length)
	if joined != "" {
		s.print("joined = [%q]\nfixing = { heights = [\"300 mm\", \"%.2f m\"], hold = \"1500 N\" }\n", joined, height-0.2)
	}
	s.ballast(name, "place   = \"base\"", 1.8, length*height, height/2, share)
	s.ballast(name, "place   = \"toes\"", 1.8, length*height, height/2, share)
}

// gateway is two columns across the street with, as pieces are left, a sign or leaves between
// them and walls beside them; in a group sign and walls are fastened with strengths.
func (s *site) gateway(x, y float64, left int, group bool) {
	const out = 1.6 // m from the middle of the street to the middle of a column
	foot, width, height := s.between(1, 1.2), s.between(0.5, 0.65), s.between(2.6, 2.9)
	share := s.share()
	west := s.column(x-out, y, 2, foot, width, height, share)
	east := s.column(x+out, y, 2, foot, width, height, share)
	left -= 2
	leaves := !group || s.random.Float64() < 0.25
	if group {
		s.print(`
[[span]]
name      = %q
between   = [%q, %q]
underside = "2.2 m"
face      = ["%.2f m", "350 mm"]
mass      = "%d kg"
fixing    = { heights = ["2.25 m", "2.5 m"], hold = "1500 N" }
`, s.piece("sign"), west, east, 2*out-width, 8+s.random.IntN(5))
		left--
	}
	hinge := `bolts = 4, size = "6 mm", washer = "18 mm"`
	if s.random.Float64() < 0.15 {
		hinge = `screws = 4, size = "6 mm", length = "40 mm"` // too short to count
	}
	for i, post := range []string{west, east} {
		if leaves && left > 0 {
			s.print(`
[[gate]]
name      = %q
hung_on   = %q
face      = %q
width     = "1.1 m"
height    = "1.3 m"
clearance = "60 mm"
solidity  = 0.4
mass      = "%d kg"
hinge     = { heights = ["250 mm", "1.15 m"], plate = ["30 mm", "80 mm"], %s, into = "c24", thickness = "45 mm" }
opens     = "north"
keeper    = { closed = "drop bolt", open = "hook", hold = "300 N", height = "600 mm" }
`, s.piece("leaf"), post, []string{"east", "west"}[i], 10+s.random.IntN(5), hinge)
			left--
		}
	}
	length := s.between(1.6, 2.4)
	for i, post := range []string{west, east} {
		if group && !leaves && left > 0 {
			near, far := out+width/2, out+width/2+length
			from, to := [2]float64{x - far, y}, [2]float64{x - near, y}
			if i == 1 {
				from, to = [2]float64{x + near, y}, [2]float64{x + far, y}
			}
			s.wall(from, to, s.between(1.6, 1.8), post, share)
			left--
		}
	}
}

// lamps hang on a cord to every second lot, four cords from an outlet.
func (s *site) lamps(x, y float64) {
	const cords, far = 4, 2 * step
	if s.fed%cords == 0 {
		s.circuit++
		s.print(`
[[supply]]
name       = "outlet %d"
at         = ["%g m", "%g m"]
volts      = 230
breaker    = "16 A"
curve      = "B"
receptacle = "16 A"
gfci       = true
gfci_trip  = "30 mA"
source_ohm = 0.3
`, s.circuit, x+street/2, y)
	}
	at := s.fed % cords
	s.fed++
	s.print(`
[[cord]]
name       = "run %d.%d"
from       = "outlet %[1]d"
gauge      = "1.5 mm2"
type       = "H07RN-F"
length     = "%[3]g m"
connection = "covered"
route      = [["%g m", "%g m"], ["%g m", "%g m"]]
`, s.circuit, at+1, 10+far*float64(at), x+street/2, y-far*float64(at), x+beside+3, y)
	for n := range 1 + s.random.IntN(2) {
		s.print(`
[[lamp]]
name         = "lamp %d.%d.%d"
at           = ["%g m", "%g m"]
on           = "run %[1]d.%[2]d"
watts        = %d
power_factor = 0.9
hours        = 5
`, s.circuit, at+1, n+1, x+beside+3, y+float64(n), 10*(1+s.random.IntN(5)))
	}
}
