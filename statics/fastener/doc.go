// Package fastener answers what the screws, bolts, nails, hinges and guys of light timber work
// carry, and how a load is shared among them.
//
// Units are SI: newtons, metres, pascals, newton metres, kilograms, radians; a temperature is
// in degrees Celsius. The working of a formula ([Step]) is in the units of its document, so
// that it can be held beside the page. Axes of a leaf: x from hinge line to tip, y across, z
// up.
//
// A [Joint] is a group of equal fasteners through a side member into a main member, at right
// angles to the face. Its [Code] chooses the document:
//
//   - NDS 2018, allowable stress design: withdrawal (12.2), head pull-through (12.2.5), lateral
//     by the yield modes (12.3), both together (12.4), washers by F_c-perp, adjustment by Table 11.3.1,
//     placement by 12.5.1;
//   - EN 1995-1-1:2004 with A1, section 8, design values with k_mod and gamma_M.
//
// Capacities are of one fastener. They say where they come from and how certain that is: as
// certain as the least certain thing that went into the formula that governs. Where a document
// gives no capacity at all (a screw pulled from end grain, a penetration short of the minimum)
// the value is 0 and the mode says why. Minimums whose distance is not known are listed, not
// judged.
//
// Refused with an error: inputs outside of what a formula or table covers ([LimitError]), and
// values that are not finite. Results hold no NaN or Inf. Not covered: fire, fatigue,
// corrosion, splitting of the member itself, concrete, glue.
package fastener
