// Package electrical computes temporary lighting power: the voltages and
// currents of cords fed from outlets, and the circuit rules they must meet.
//
// Start with [Solve], which takes a [Network] of supplies, runs (cords) and
// loads and returns every voltage, current and loss. [FaultLoops] adds what a fault
// meets at the end of each run. [Sizes] finds the conductors with which all
// runs hold together, [LeastGauge] that of one run, [LongestRuns] how long each may be;
// [Assign] puts loads onto outlets. The remaining functions are single
// rules and formulas, each beside its clause.
//
// # Conventions
//
// Everything is SI: V, A, W, VA, ohm, m; temperatures in degrees Celsius; drops
// and power factors as fractions of 1. AC quantities are RMS phasors whose angle
// is measured from the supply's own voltage; a lagging current has a negative
// angle. A run of a two-wire supply (DC and single-phase) has a loop of twice the
// conductor. Three phases that carry the same need one conductor, since the neutral
// carries nothing; the line-to-line drop is then the square root of 3 times the drop of it.
// Three-phase voltages, in and out, are line to line; currents are line currents.
// As soon as something is connected to one leg, and always on a split-phase supply, legs
// and neutral are told apart: each has the run's impedance, and a voltage is that of a
// connection, leg to neutral or leg to leg.
// Resistance is the caller's, at the temperature the conductor works at.
//
// # What it refuses
//
// A broken description (unknown names, cycles, numbers that are not finite or
// are out of range) is an error that lists every fault. A network that is well
// described but cannot carry its loads is not an error: the result says so.
// Factors are never read outside their tables. Harmonics, which load a neutral, and
// currents through the earth are not computed.
//
// # Documents
//
// NFPA 70 (NEC) 2017/2020 numbering: 210.19 and 210.20 (continuous load, drop),
// 210.21(B)(2) (receptacles), 310.15(B) and 400.5(A) (ampacity and its factors),
// Chapter 9 tables 8 and 9 (resistance, reactance). IEC 60364-5-52 annex G and
// BS 7671 appendix 4 (drop). IEC 60364-4-41 and -4-43, BS 7671 411.4 (faults),
// IEC 60898-1 and UL 489 (breakers), UL 943 and BS 7671 531.3 (leakage). UFC 3-520-01 appendix B (drop with reactance).
// V.K. Mehta and R. Mehta, Principles of Power System, chapters 13 and 14
// (distributed loads). None of these is reproduced here; the figures taken from
// them carry their source and how sure it is.
package electrical
