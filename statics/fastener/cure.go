package fastener

import (
	"fmt"
	"math"
)

// Cure is the least change of one kind that makes a joint carry its demand.
type Cure struct {
	What  string // "longer screws: 1 1/2 in instead of 3/4 in"
	Joint Joint  // as changed
	Use   Use    // of one fastener, as changed
}

// Total is what acts on a whole joint, N, shared alike by its fasteners.
type Total struct {
	Lateral, Tension float64
}

func (d Total) each(n int) Demand {
	return Demand{d.Lateral / float64(n), d.Tension / float64(n)}
}

// CheckTotal is [Joint.Check] of one of the joint's fasteners with its equal share.
func (j Joint) CheckTotal(d Total) (Use, error) { return j.Check(d.each(j.count())) }

// try reports whether a changed joint carries the demand. What cannot be computed does not.
func (j Joint) try(d Total, what string) (Cure, bool) {
	u, err := j.CheckTotal(d)
	if err != nil || !u.Holds() {
		return Cure{}, false
	}
	return Cure{what, j, u}, true
}

// Longer looks for the shortest stocked length that carries the demand without coming out of
// the back of the main member. ok is false where none does.
func (j Joint) Longer(d Total) (Cure, bool) {
	for _, length := range j.Fastener.Lengths() {
		if length <= j.Fastener.Length || length > (j.Side.Thickness+j.Main.Thickness)*(1+1e-9) {
			continue
		}
		k := j
		k.Fastener = j.Fastener.WithLength(length)
		what := fmt.Sprintf("%s %s, %s long instead of %s",
			j.Fastener.Kind, j.Fastener.Size, j.Fastener.span(length), j.Fastener.span(j.Fastener.Length))
		if cure, ok := k.try(d, what); ok {
			return cure, true
		}
	}
	return Cure{}, false
}

// Thicker looks for the shortest stocked screw and the thinnest backing block behind the main
// member, of wood no lighter and glued and screwed to it, of 3/4, 1 1/2, 2 1/4 or 3 in, that
// carry the demand.
func (j Joint) Thicker(d Total) (Cure, bool) {
	if j.Fastener.Kind == Bolt {
		return Cure{}, false
	}
	for _, block := range [...]float64{0.75 * inch, 1.5 * inch, 2.25 * inch, 3 * inch} {
		k := j
		k.Main.Thickness += block
		if cure, ok := k.Longer(d); ok {
			cure.What = fmt.Sprintf("backing block of %s, and %s", j.Fastener.span(block), cure.What)
			return cure, true
		}
	}
	return Cure{}, false
}

// maxMore is the largest number of fasteners that [Joint.More] tries.
const maxMore = 100

// More looks for the least number of fasteners, one in a row each, that carry the demand.
func (j Joint) More(d Total) (Cure, bool) {
	for n := j.count() + 1; n <= maxMore; n++ {
		k := j
		k.Count = n
		what := fmt.Sprintf("%d of %s %s instead of %d", n, j.Fastener.Kind, j.Fastener.Size, j.count())
		if cure, ok := k.try(d, what); ok {
			return cure, true
		}
	}
	return Cure{}, false
}

// Through looks for the smallest through-bolt with the smallest washer, in the number of
// fasteners that the joint has, that carries the demand.
func (j Joint) Through(d Total) (Cure, bool) {
	for _, size := range Sizes(Bolt) {
		bolt, err := Of(Bolt, size, 0)
		if err != nil {
			return Cure{}, false
		}
		if bolt.Metric != j.Fastener.Metric || j.Fastener.Kind == Bolt && bolt.D <= j.Fastener.D {
			continue
		}
		for _, w := range WashersFor(size) {
			k := j
			k.EndGrain, k.ToeNailed = false, false
			k.Fastener, k.Fastener.Washer = bolt, w
			what := fmt.Sprintf("bolt %s right through, washer %s under head and nut", size, w.Name)
			if cure, ok := k.try(d, what); ok {
				return cure, true
			}
		}
	}
	return Cure{}, false
}

// LargerWasher looks for the smallest larger washer under which a bolt carries the demand.
func (j Joint) LargerWasher(d Total) (Cure, bool) {
	for _, w := range WashersFor(j.Fastener.Size) {
		if j.Fastener.Kind != Bolt || w.OD <= j.Fastener.Washer.OD {
			continue
		}
		k := j
		k.Fastener.Washer = w
		if cure, ok := k.try(d, fmt.Sprintf("washer %s instead of %s", w.Name, j.Fastener.Washer.Name)); ok {
			return cure, true
		}
	}
	return Cure{}, false
}

// Cures lists every kind of change that makes the joint carry its demand, each at its least. It
// is empty where the joint carries it as it is, and where nothing that is tried does.
func (j Joint) Cures(d Total) ([]Cure, error) {
	u, err := j.CheckTotal(d)
	if err != nil || u.Holds() {
		return nil, err
	}
	var cures []Cure
	for _, look := range [...]func(Total) (Cure, bool){j.Longer, j.More, j.LargerWasher, j.Through, j.Thicker} {
		if cure, ok := look(d); ok {
			cures = append(cures, cure)
		}
	}
	return cures, nil
}

// span writes a length as the fastener is sold.
func (f Fastener) span(m float64) string {
	if f.Metric {
		return fmt.Sprintf("%.0f mm", m*1e3)
	}
	return fmt.Sprintf("%.4g in", m/inch)
}

// FurtherHinge adds one hinge to a leaf where it helps most of two places: half-way between the
// outer hinges, or a fifth of their spacing below the top. share is what a hinge is judged by,
// the worst utilisation of all.
func (l Leaf) FurtherHinge(share func(Leaf) (float64, error)) (Leaf, float64, error) {
	if err := l.validate(nil); err != nil {
		return Leaf{}, 0, err
	}
	low, high := math.Inf(1), math.Inf(-1)
	for _, z := range l.Hinges {
		low, high = min(low, z), max(high, z)
	}
	var best Leaf
	least := math.Inf(1)
	for _, z := range [...]float64{(low + high) / 2, high - (high-low)/5} {
		k := l
		k.Hinges = append(append([]float64(nil), l.Hinges...), z)
		s, err := share(k)
		if err != nil {
			return Leaf{}, 0, err
		}
		if s < least {
			best, least = k, s
		}
	}
	if best.Hinges == nil {
		return Leaf{}, 0, fmt.Errorf("fastener: no further hinge can be judged")
	}
	return best, least, nil
}
