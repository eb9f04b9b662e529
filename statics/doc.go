// Package statics answers how far the loads on one rigid body standing on the
// ground may grow before it overturns, slides, turns on its foot or lifts off.
//
// Units are SI: newtons, metres, newton metres, kilograms, radians; bearings
// alone are degrees clockwise from north. Axes: x east, y north, z up from the
// ground; on a slope the axes tilt with the ground and [Gravity] supplies the
// components of gravity in them. A [Force] points where it pushes to.
//
// Dead forces act at their own value; live forces all grow together by one load
// factor. The factor of a mode is the largest value up to which that mode does
// not occur; 1 means that the loads as given are just carried. It says nothing
// about which factor is enough: that is for the caller's rules.
//
// Assumptions: the body and the ground are rigid, contact is dry and without
// tension (Coulomb friction, one coefficient), loads are static. Soft ground,
// sliding that has already begun, dynamic amplification and flexing are outside.
//
// Overturning and sliding are exact for a lone body ("tip or slide", any text
// on engineering statics). Turning is a lower bound by the static theorem of limit
// analysis (Drucker, Prager and Greenberg 1952), with the ground forces at the
// corners of the foot; see [TurningResult] for what that leaves open.
//
// Refused with an error: values that are not finite or beyond 1e12, a negative
// friction coefficient, and a foot without area. Results hold no NaN or Inf.
package statics
