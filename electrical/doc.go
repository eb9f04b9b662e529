// Package electrical computes temporary lighting power: the voltages and
// currents of cords fed from outlets, and the circuit rules they must meet.
//
// Start with [Solve], which takes a [Network] of supplies, runs (cords) and
// loads and returns every voltage, current and loss. [LeastGauge] finds the
// thinnest conductor that lets one run hold. The remaining functions are single
// rules and formulas, each beside its clause.
//
// # Conventions
//
// Everything is SI: V, A, W, VA, ohm, m; temperatures in degrees Celsius; drops
// and power factors as fractions of 1. AC quantities are RMS phasors whose angle
// is measured from the supply's own voltage; a lagging current has a negative
// angle. A run is two-wire (DC and single-phase), so its loop is twice the
// conductor, or balanced three-phase, where the neutral carries nothing and the
// line-to-line drop is the square root of 3 times the drop of one conductor.
// Three-phase voltages, in and out, are line to line; currents are line currents.
// Resistance is the caller's, at the temperature the conductor works at.
//
// # What it refuses
//
// A broken description (unknown names, cycles, numbers that are not finite or
// are out of range) is an error that lists every fault. A network that is well
// described but cannot carry its loads is not an error: the result says so.
// Unbalanced three-phase loads and the shared neutral of a split-phase supply
// are not computed; describe each leg as its own supply.
// Factors are never read outside their tables.
//
// # Documents
//
// NFPA 70 (NEC) 2017/2020 numbering: 210.19 and 210.20 (continuous load, drop),
// 210.21(B)(2) (receptacles), 310.15(B) and 400.5(A) (ampacity and its factors),
// Chapter 9 tables 8 and 9 (resistance, reactance). IEC 60364-5-52 annex G and
// BS 7671 appendix 4 (drop). UFC 3-520-01 appendix B (drop with reactance).
// V.K. Mehta and R. Mehta, Principles of Power System, chapters 13 and 14
// (distributed loads). None of these is reproduced here; the figures taken from
// them carry their source and how sure it is.
package electrical
