// Package wind turns a wind speed into forces on the faces of small free-standing
// structures: pillars, walls, signs, gates.
//
// Three questions are kept apart. Pressure: what velocity pressure a wind has at a
// height (pressure.go, model.go). Shape: which force coefficient a surface has for
// the wind's direction (prism.go and panel.go after ASCE 7, en1991.go after
// EN 1991-1-4, with the tables under data). Combination: what a standard multiplies
// dead load and wind by (combinations.go), and which rule may lower the wind for a
// short exposure (reductions.go). Site.Basis chooses the document for all three.
// Model.Loads answers fast; Model.Work takes one of its loads apart into terms that can be
// worked by hand (work.go, workprism.go, workpanel.go).
//
// Conventions. SI float64 throughout: m, m/s, Pa, N, kg/m3, rad. Axes: x east,
// y north, z up from the ground. A direction is where the wind blows towards, in
// radians counterclockwise from east; only Load.FromDeg is a compass bearing. What
// the speed means depends on the basis: a 3-s gust at 10 m above open ground, the
// strength-level 3-s gust of the maps of ASCE 7, or the 10-minute mean v_b,0 of
// EN 1991. The loads of a code go only with that code's combinations.
//
// The loads of one surface for one direction are alternatives: use the one that
// is worst for the check at hand, never their sum. Parts of one wall take the same
// case together. No piece shelters another.
//
// Refused, with an error and never by extrapolation: heights above the profile,
// pillars more slender or flat than the coefficient tables, return periods without
// a probability factor, sizes that are not finite and positive, a terrain or factor
// that the basis does not know, and two reductions of the wind at once. Not
// computed: the orography factor of a slope (it can be entered), shelter in EN 1991
// (psi_s is 1), national charts of exposure (their c_e can be entered), gust response
// of flexible structures, galloping and flutter.
//
// Documents used: ASCE/SEI 7-05, 7-16 and 7-22 (figures and tables as reproduced
// in the Bangladesh National Building Code 2020, Part 6 Chapter 2, and in public
// permit calculations), EN 1990:2002, EN 1991-1-4:2005+A1:2010 (as quoted in public
// calculations, and from memory), EN 1991-1-6:2005, AS/NZS 1170.2:2021 Appendix B.
// Every row under data names its source and how certain it is.
package wind
