package fastener

import (
	"cmp"
	"fmt"
	"math"
	"slices"
)

// Kind is the kind of a fastener.
type Kind int

// WoodScrew, LagScrew, Nail (smooth), RingNail (ring-shank) and Bolt (through, with nut and two
// washers).
const (
	WoodScrew Kind = iota
	LagScrew
	Nail
	RingNail
	Bolt
)

func (k Kind) String() string {
	switch k {
	case WoodScrew:
		return "wood screw"
	case LagScrew:
		return "lag screw"
	case Nail:
		return "nail"
	case RingNail:
		return "ring-shank nail"
	case Bolt:
		return "bolt"
	}
	return fmt.Sprintf("Kind(%d)", int(k))
}

// Fastener is one fastener. [Of] fills it from the tables; every field may be replaced by what
// its maker declares.
type Fastener struct {
	Kind   Kind
	Size   string
	Metric bool // stocked in metric lengths

	D      float64 // m, nominal diameter: over the thread of a screw
	Root   float64 // m, under the thread; D of nails and bolts
	Head   float64 // m, diameter of the head, across flats of a hexagon
	Length float64 // m, under the head; a bolt is taken as long as its joint asks
	Thread float64 // m, threaded length, tip included; screws only
	Tip    float64 // m, tapered tip

	Fyb float64 // Pa, bending yield strength (NDS)
	Fu  float64 // Pa, tensile strength (EN1995)

	// Declared by the maker, for EN1995: characteristic withdrawal and head pull-through
	// parameters at the density RhoA. 0 where nothing is declared.
	FaxK, FheadK float64 // Pa
	RhoA         float64 // kg/m3

	Washer Washer // under head and nut of a bolt

	Source, Certainty string
}

// Washer is a round washer.
type Washer struct {
	Name              string
	OD                float64 // m, outer diameter
	Source, Certainty string
}

// Of returns a fastener of the tables by kind, size and length in m. Sizes are "#4" to "#24"
// and "4 mm" to "10 mm" for wood screws, "1/4" to "3/4" for lag screws, "1/4" to "1" and "M6"
// to "M20" for bolts, "6d" to "40d" and "2.8 mm" to "4.2 mm" for nails. Nails have their length
// by size: length 0 takes it. Bolts take length 0.
func Of(kind Kind, size string, length float64) (Fastener, error) {
	t, err := tables()
	if err != nil {
		return Fastener{}, err
	}
	listed := kind
	if kind == RingNail {
		listed = Nail
	}
	for _, f := range t.fasteners {
		if f.Kind != listed || f.Size != size {
			continue
		}
		f.Kind = kind
		if length != 0 || f.Length == 0 {
			f.Length = length
		}
		if err := within(kind.String()+" length in m", f.Length, 4*f.D, 1, "a fastener is 4 diameters to 1 m long here"); kind != Bolt && err != nil {
			return Fastener{}, err
		}
		f.Thread = f.thread()
		if f.Fyb, err = BendingYield(f.D); err != nil {
			return Fastener{}, err
		}
		return f, nil
	}
	return Fastener{}, fmt.Errorf("fastener: no %s of size %q; there are %q", kind, size, Sizes(kind))
}

// thread is the threaded length by the rule of the kind.
func (f Fastener) thread() float64 {
	switch f.Kind {
	case WoodScrew:
		return f.Length * 2 / 3 // NDS 2018 Table L3, cut thread
	case LagScrew:
		if f.Length < 1.5*inch*(1-1e-9) {
			return 0.75 * f.Length
		}
		return min(f.Length/2+inch/2, 6*inch) // NDS 2018 Table L2; from memory
	}
	return 0
}

// WithLength returns the fastener with another length in m; a screw's thread follows by the
// rule of its kind.
func (f Fastener) WithLength(length float64) Fastener {
	f.Length = length
	f.Thread = f.thread()
	return f
}

// Sizes lists the sizes of a kind in the order of the tables.
func Sizes(kind Kind) (sizes []string) {
	t, err := tables()
	if err != nil {
		return nil
	}
	if kind == RingNail {
		kind = Nail
	}
	for _, f := range t.fasteners {
		if f.Kind == kind {
			sizes = append(sizes, f.Size)
		}
	}
	return sizes
}

// Lengths lists the stocked lengths, m, of the fastener's kind, ascending.
func (f Fastener) Lengths() (lengths []float64) {
	t, err := tables()
	if err != nil {
		return nil
	}
	for _, l := range t.lengths {
		if l.kind == f.Kind && l.metric == f.Metric && l.length >= 4*f.D {
			lengths = append(lengths, l.length)
		}
	}
	return lengths
}

// WashersFor lists the washers for a bolt size, smallest first.
func WashersFor(bolt string) (washers []Washer) {
	t, err := tables()
	if err != nil {
		return nil
	}
	for _, w := range t.washers {
		if w.bolt == bolt {
			washers = append(washers, w.Washer)
		}
	}
	slices.SortStableFunc(washers, func(a, b Washer) int { return cmp.Compare(a.OD, b.OD) })
	return washers
}

// BendingYield is the bending yield strength F_yb, Pa, of a fastener by its nominal diameter in
// m (NDS 2018 Table I1): 0.099 to 1 in.
func BendingYield(d float64) (float64, error) {
	t, err := tables()
	if err != nil {
		return 0, err
	}
	first, last := t.bands[0], t.bands[len(t.bands)-1]
	if err := within("diameter in m", d, first.from*(1-1e-9), last.to*(1+1e-9), first.source); err != nil {
		return 0, err
	}
	for _, b := range t.bands {
		if d <= b.to*(1+1e-9) {
			return b.fyb, nil
		}
	}
	return last.fyb, nil
}

// Material is what a member is made of. [MaterialOf] fills it from the tables.
type Material struct {
	Name  string
	Panel bool // plywood or OSB: no one direction of grain
	Metal bool // Fe is declared, nothing else is used

	G       float64 // oven-dry specific gravity (NDS), 0.31 to 0.73
	FcPerp  float64 // Pa, reference compression strength perpendicular to grain (NDS)
	E       float64 // Pa, modulus of elasticity, for the group action factor
	Density float64 // kg/m3, characteristic (EN1995)
	Fc90    float64 // Pa, characteristic compression strength perpendicular to grain (EN1995)
	Fe      float64 // Pa, dowel bearing strength of a metal

	Source, Certainty string
}

// MaterialOf returns a material of the tables by name.
func MaterialOf(name string) (Material, error) {
	t, err := tables()
	if err != nil {
		return Material{}, err
	}
	var names []string
	for _, m := range t.materials {
		if m.Name == name {
			return m, nil
		}
		names = append(names, m.Name)
	}
	return Material{}, fmt.Errorf("fastener: no material %q; there are %q", name, names)
}

// LimitError says that an input lies outside what a formula or table covers.
type LimitError struct {
	Quantity string  // what is out of range, with its unit
	Value    float64 // what it is
	Limit    float64 // the end of the range
	Source   string  // whose range
}

func (e *LimitError) Error() string {
	return fmt.Sprintf("fastener: %s is %.4g, limit %.4g (%s)", e.Quantity, e.Value, e.Limit, e.Source)
}

// bound is a number and the range that it must lie in.
type bound struct {
	quantity     string
	v, low, high float64
}

// bounded refuses the first number that lies outside of its range.
func bounded(source string, bounds ...bound) error {
	for _, b := range bounds {
		if err := within(b.quantity, b.v, b.low, b.high, source); err != nil {
			return err
		}
	}
	return nil
}

// within refuses what is not a number from low to high.
func within(quantity string, v, low, high float64, source string) error {
	switch {
	case math.IsNaN(v) || math.IsInf(v, 0):
		return &LimitError{quantity + ", not finite,", 0, low, source}
	case v < low:
		return &LimitError{quantity, v, low, source}
	case v > high:
		return &LimitError{quantity, v, high, source}
	}
	return nil
}
