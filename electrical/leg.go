package electrical

import (
	"fmt"
	"math"
)

// Leg says between which conductors of a supply a load, or a two-wire run, is connected.
type Leg int

const (
	// Whole is the only connection of a two-wire supply, leg to leg of a split-phase one
	// and all three legs alike of a three-phase one. A run that is Whole has every
	// conductor of what feeds it.
	Whole  Leg = iota
	Leg1       // leg 1 to neutral
	Leg2       // leg 2 to neutral
	Leg3       // leg 3 to neutral
	Legs12     // leg 1 to leg 2
	Legs23     // leg 2 to leg 3
	Legs31     // leg 3 to leg 1
)

func (l Leg) String() string {
	names := [...]string{"whole", "leg 1", "leg 2", "leg 3", "legs 1 and 2", "legs 2 and 3", "legs 3 and 1"}
	if l < 0 || int(l) >= len(names) {
		return fmt.Sprintf("leg %d", int(l))
	}
	return names[l]
}

// most is the largest number of conductors that are told apart: three legs and a neutral.
const most = 4

// pair is a connection between two conductors; the second of a two-wire supply is the
// one that is kept at zero.
type pair struct{ a, b int }

// legs is the number of live conductors: 1 of a two-wire supply, 2 or 3.
func (s *Supply) legs() int {
	switch {
	case s.SplitPhase:
		return 2
	case s.Phases == 3:
		return 3
	}
	return 1
}

// has reports whether a supply has the connection.
func (s *Supply) has(l Leg) bool {
	switch l {
	case Whole:
		return true
	case Leg1, Leg2, Legs12:
		return s.legs() >= 2
	case Leg3, Legs23, Legs31:
		return s.legs() == 3
	}
	return false
}

// Nominal returns the nominal voltage across a connection of the supply, V.
func (s *Supply) Nominal(l Leg) float64 {
	switch l {
	case Leg1, Leg2, Leg3:
		if s.SplitPhase {
			return s.Volts / 2
		}
		return s.Volts / math.Sqrt(3)
	}
	return s.Volts
}

// pairs lists the pairs of conductors that a connection uses, when conductors are told
// apart (d > 1) or not.
func (s *Supply) pairs(l Leg, d int) []pair {
	if d == 1 {
		return []pair{{0, 1}}
	}
	n := d - 1
	switch l {
	case Leg1, Leg2, Leg3:
		return []pair{{int(l - Leg1), n}}
	case Legs12:
		return []pair{{0, 1}}
	case Legs23:
		return []pair{{1, 2}}
	case Legs31:
		return []pair{{2, 0}}
	}
	if s.SplitPhase {
		return []pair{{0, 1}}
	}
	return []pair{{0, n}, {1, n}, {2, n}}
}

// nodePairs lists the connections at a node that are looked at for its drop.
func (s *Supply) nodePairs(l Leg, d int) []pair {
	switch {
	case d == 1 || l != Whole:
		return s.pairs(l, d)
	case d == 3:
		return []pair{{0, 2}, {1, 2}, {0, 1}}
	}
	return []pair{{0, 3}, {1, 3}, {2, 3}, {0, 1}, {1, 2}, {2, 0}}
}
