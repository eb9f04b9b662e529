// Package statics answers how far the loads on free-standing things may grow before they
// overturn, slide, turn, lift off, or a joint or guy gives.
//
// [Body.Check] is for one rigid body on the ground, by formulas that can be followed with a
// pencil. [Analysis] is for a [Group] of blocks with contacts, links and guys, by limit
// analysis; for one body it gives the same numbers, and the first stays beside it as a check.
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
// Assumptions: bodies and ground are rigid, contact is dry and without tension (Coulomb
// friction), loads are static. Sliding that has already begun, dynamic amplification and
// flexing are outside. In a group, soft ground is a bearing capacity of each point of a contact,
// and joints hold their capacities while they give.
//
// Overturning and sliding are exact for a lone body ("tip or slide", any text
// on engineering statics). Turning in [Body.Check] is a lower bound by the static theorem
// of limit analysis (Drucker, Prager and Greenberg 1952), with the ground forces at the
// corners of the foot; see [TurningResult] for what that leaves open.
//
// A group is a linear programme: of all forces of the joints that balance the loads within
// every limit, find those at the largest factor. Its dual is the collapse, a velocity and a
// spin for each block. Friction is a pyramid of 16 sides within the cone. Every outcome
// carries a [Certificate], worked out apart from the solver. Limit analysis takes joints to move
// as normality has it: what slides also rises. Friction does not rise, so where sliding
// and tipping mix the factor can be too high (Drucker 1954; Livesley 1978, 1992: from memory);
// [TippingOnly] and [SlidingOnly] are free of that doubt.
//
// Refused with an error: values that are not finite or beyond 1e12, a negative friction
// coefficient or capacity, a foot without area, a joint without its blocks. Results
// hold no NaN or Inf.
package statics
