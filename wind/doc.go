// Package wind turns a gust into forces on the faces of small free-standing
// structures: pillars, walls, signs, gates.
//
// Three questions are kept apart. Pressure: what velocity pressure a gust has at
// a height (pressure.go, model.go). Shape: which force coefficient a surface has
// for the wind's direction (prism.go, panel.go, with the tables under data).
// Basis: which standard's factors go with them (Site.Basis).
//
// Conventions. SI float64 throughout: m, m/s, Pa, N, kg/m3, rad. Axes: x east,
// y north, z up from the ground. A direction is where the wind blows towards, in
// radians counterclockwise from east; only Load.FromDeg is a compass bearing.
// A gust is a 3-second gust at 10 m above open ground.
//
// The loads of one surface for one direction are alternatives: use the one that
// is worst for the check at hand, never their sum. No piece shelters another.
//
// Refused, with an error and never by extrapolation: heights above the profile,
// pillars more slender than the coefficient tables, sizes that are not finite
// and positive, and bases that are not computed yet.
//
// Documents used: ASCE/SEI 7-05, 7-16 and 7-22 (figures and tables as reproduced
// in the Bangladesh National Building Code 2020, Part 6 Chapter 2, and in public
// permit calculations), EN 1991-1-4:2005+A1:2010, AS/NZS 1170.2:2021 Appendix B.
// Every row under data names its source and how certain it is.
package wind
