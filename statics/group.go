package statics

import (
	"errors"
	"fmt"
	"math"
)

// Ground stands for the ground where the index of a block is asked for.
const Ground = -1

// Block is one rigid body of a group.
type Block struct {
	Name   string
	Centre Vec          // about which moments are taken (m): its centre of mass
	Foot   [][2]float64 // bearing corners in plan (m), to name the edge it tips about; may be empty
}

// Contact is a dry joint without tension between a block and the ground or another block.
type Contact struct {
	Name     string
	Of, On   int     // the block that rests, and what it rests on: a block or Ground
	Points   []Vec   // where they touch (m)
	Normal   Vec     // from On into Of, of any length; zero stands for up
	Friction float64 // Coulomb coefficient, zero or more
	Bearing  float64 // greatest normal force at each point (N); 0 is no limit
}

// LinkKind is what a link is called when it gives.
type LinkKind int

// The kinds of link. They differ in nothing but their name.
const (
	Fixing LinkKind = iota
	Bolt
	Screw
	Nail
	Hinge
	Latch
	Hook
	Bracket
	Brace
	Strap
)

var linkKinds = [...]string{
	"fixing", "bolt", "screw", "nail", "hinge", "latch", "hook", "bracket", "brace", "strap",
}

func (k LinkKind) String() string {
	if k < 0 || int(k) >= len(linkKinds) {
		return linkKinds[Fixing]
	}
	return linkKinds[k]
}

// Link ties two blocks, or a block and the ground, at one point. It passes forces and no
// moment: a joint that passes moment is several links.
//
// Of the force in a link, the pull (that holds A and B together) and the push (that keeps
// them apart) act along Axis, the shear V across it. Each has its own capacity (N): 0 is none,
// +Inf is no limit. Where the capacities of pull or push and of shear are finite they
// interact linearly: T/Pull + V/Shear <= 1 and P/Push + V/Shear <= 1.
type Link struct {
	Name              string
	Kind              LinkKind
	A, B              int // blocks; B may be Ground
	At                Vec // m
	Axis              Vec // from A into B, of any length; zero stands for up
	Pull, Push, Shear float64
}

// Guy is a rope from a block to the ground. It only pulls.
type Guy struct {
	Name  string
	Of    int
	At    Vec     // on the block (m)
	To    Vec     // on the ground (m)
	Limit float64 // the least of rope, fittings and anchor (N); 0 is none, +Inf is no limit
}

// Group is a set of blocks that joints make stand and fall together. What can move without
// the rest is solved faster as a group of its own.
type Group struct {
	Blocks   []Block
	Contacts []Contact
	Links    []Link
	Guys     []Guy
}

// Acting is a force on one block.
type Acting struct {
	Block int
	Force
}

// Loads act on a group. On ground that slopes, dead loads have components along it: see
// [Gravity].
type Loads struct {
	Dead []Acting // at their own value
	Live []Acting // multiplied, all of them, by the load factor
}

// ErrGroup: an index names no block, or a joint ties a block to itself.
var ErrGroup = errors.New("group cannot be used")

func (g *Group) check() error {
	if len(g.Blocks) == 0 {
		return fmt.Errorf("no blocks: %w", ErrGroup)
	}
	for i := range g.Blocks {
		b := &g.Blocks[i]
		if !usable(b.Centre[:]...) {
			return fmt.Errorf("centre of %s, %g m: %w", g.name(i), b.Centre, ErrValue)
		}
		if len(b.Foot) > 0 {
			if _, err := Hull(b.Foot); err != nil {
				return fmt.Errorf("foot of %s: %w", g.name(i), err)
			}
		}
	}
	for i := range g.Contacts {
		if err := g.checkContact(&g.Contacts[i]); err != nil {
			return fmt.Errorf("contact %d %q: %w", i+1, g.Contacts[i].Name, err)
		}
	}
	for i := range g.Links {
		if err := g.checkLink(&g.Links[i]); err != nil {
			return fmt.Errorf("link %d %q: %w", i+1, g.Links[i].Name, err)
		}
	}
	for i := range g.Guys {
		if err := g.checkGuy(&g.Guys[i]); err != nil {
			return fmt.Errorf("guy %d %q: %w", i+1, g.Guys[i].Name, err)
		}
	}
	return nil
}

func (g *Group) checkContact(c *Contact) error {
	if err := g.checkPair(c.Of, c.On); err != nil {
		return err
	}
	if len(c.Points) == 0 {
		return fmt.Errorf("no points: %w", ErrGroup)
	}
	for _, p := range c.Points {
		if !usable(p[:]...) {
			return fmt.Errorf("point %g m: %w", p, ErrValue)
		}
	}
	if !usable(c.Normal[:]...) {
		return fmt.Errorf("normal %g: %w", c.Normal, ErrValue)
	}
	if !usable(c.Friction) || c.Friction < 0 {
		return fmt.Errorf("friction %g: %w", c.Friction, ErrValue)
	}
	if !usable(c.Bearing) || c.Bearing < 0 {
		return fmt.Errorf("bearing %g N: %w", c.Bearing, ErrValue)
	}
	return nil
}

func (g *Group) checkLink(l *Link) error {
	if err := g.checkPair(l.A, l.B); err != nil {
		return err
	}
	if !usable(l.At[:]...) || !usable(l.Axis[:]...) {
		return fmt.Errorf("at %g m along %g: %w", l.At, l.Axis, ErrValue)
	}
	for _, c := range [...]float64{l.Pull, l.Push, l.Shear} {
		if !capacity(c) {
			return fmt.Errorf("capacity %g N: %w", c, ErrValue)
		}
	}
	return nil
}

func (g *Group) checkGuy(y *Guy) error {
	if err := g.checkPair(y.Of, Ground); err != nil {
		return err
	}
	if !usable(y.At[:]...) || !usable(y.To[:]...) || y.At == y.To || !capacity(y.Limit) {
		return fmt.Errorf("from %g m to %g m, limit %g N: %w", y.At, y.To, y.Limit, ErrValue)
	}
	return nil
}

func (g *Group) checkPair(block, other int) error {
	switch {
	case block < 0 || block >= len(g.Blocks):
		return fmt.Errorf("no block %d: %w", block, ErrGroup)
	case other != Ground && (other < 0 || other >= len(g.Blocks)):
		return fmt.Errorf("no block %d: %w", other, ErrGroup)
	case other == block:
		return fmt.Errorf("joins block %d to itself: %w", block, ErrGroup)
	}
	return nil
}

func (g *Group) checkLoads(l *Loads) error {
	for _, forces := range [2][]Acting{l.Dead, l.Live} {
		for i := range forces {
			f := &forces[i]
			if f.Block < 0 || f.Block >= len(g.Blocks) {
				return fmt.Errorf("force %q on no block %d: %w", f.Name, f.Block, ErrGroup)
			}
			if !usable(f.F[:]...) || !usable(f.At[:]...) {
				return fmt.Errorf("force %q, %g N at %g m: %w", f.Name, f.F, f.At, ErrValue)
			}
		}
	}
	return nil
}

// capacity reports whether c is zero or more, or without limit.
func capacity(c float64) bool { return c >= 0 && (c <= maxMagnitude || math.IsInf(c, 1)) }

// name of block i, made up where it has none.
func (g *Group) name(i int) string {
	if n := g.Blocks[i].Name; n != "" {
		return n
	}
	return fmt.Sprintf("block %d", i+1)
}
