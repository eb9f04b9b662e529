package fastener

import (
	"fmt"
	"math"
)

// Opening is how a section that is bolted together carries a tension and a moment that opens
// it: the bolts pull, and the compression edge presses.
type Opening struct {
	Bolts       []float64 // N, tension of each
	Compression float64   // N, resultant of the pressing face
	At          float64   // m, where it presses, from the edge that y counts from
	Contact     float64   // m, depth of the pressing zone; 0 for a pivot on the edge or no contact
	Lever       string    // which of the ways it is, in words
}

// Section is a bolted face: a rectangle of depth Depth that opens about an axis across it.
type Section struct {
	Depth float64   // m
	Bolts []float64 // m, distance of each bolt from one edge, from 0 to Depth

	// For a face that gives, both greater than 0: width of the face in m, and area of one bolt
	// times the ratio of its modulus to that of the face, m2. The pressing zone is then a
	// triangle whose depth follows from the stiffness. With 0 the section turns about its edge.
	Width, BoltArea float64
}

const maxBolts = 10000

// Open shares the tension n (N, negative presses) that acts at a distance at (m, from the edge
// of y = 0) and a moment m (N m, positive opens the far edge) among the bolts of the section.
//
// Plane sections: the tension of a bolt grows with its distance from the axis about which the
// section opens; bolts do not push. Where the edge does not give: T_i = M y_i / sum y_i^2 about
// the compression edge (a bracket under an eccentric load in any text on machine elements). No
// friction, no prestress.
func (s Section) Open(n, at, m float64) (Opening, error) {
	if err := bounded(rangeSource,
		bound{"depth in m", s.Depth, 1e-3, 1e3},
		bound{"width in m", s.Width, 0, 1e3},
		bound{"bolt area in m2", s.BoltArea, 0, 1e2},
		bound{"tension in N", n, -maxForce, maxForce},
		bound{"distance in m", at, -1e3, 1e3},
		bound{"moment in N m", m, -maxForce, maxForce},
	); err != nil {
		return Opening{}, err
	}
	if len(s.Bolts) > maxBolts {
		return Opening{}, &LimitError{"bolts", float64(len(s.Bolts)), maxBolts, rangeSource}
	}
	for _, y := range s.Bolts {
		if err := within("bolt distance in m", y, 0, s.Depth, rangeSource); err != nil {
			return Opening{}, err
		}
	}
	about := m + n*at // N m, about y = 0
	if o, ok := s.rest(n, about); ok {
		return o, nil
	}
	if o, ok := s.apart(n, about); ok {
		return o, nil
	}
	if o, ok := s.hinge(n, about); ok {
		return o, nil
	}
	// The section opens the other way: the same, seen from the other edge.
	flipped := s
	flipped.Bolts = make([]float64, len(s.Bolts))
	for i, y := range s.Bolts {
		flipped.Bolts[i] = s.Depth - y
	}
	o, ok := flipped.hinge(n, n*s.Depth-about)
	if !ok {
		return Opening{}, fmt.Errorf("fastener: no bolt holds the section against opening by %.4g N and %.4g N m", n, m)
	}
	o.At = s.Depth - o.At
	o.Lever += ", far edge"
	return o, nil
}

// soft reports a face that gives.
func (s Section) soft() bool { return s.Width > 0 && s.BoltArea > 0 }

// rest: the resultant presses within the section and no bolt pulls. On a face that gives, the
// pressing triangle is three times as deep as its resultant, and a bolt beyond it pulls.
func (s Section) rest(n, about float64) (Opening, bool) {
	edge := 1e-12 * math.Abs(n) * s.Depth // a resultant on an edge is within, whatever rounding says
	if n > 0 || about > edge || about < n*s.Depth-edge {
		return Opening{}, false
	}
	o := Opening{Bolts: make([]float64, len(s.Bolts)), Compression: max(0, -n), Lever: "presses, no bolt pulls"}
	if n == 0 {
		return o, true
	}
	o.At = min(max(about/n, 0), s.Depth)
	if s.soft() {
		small := 1e-9 * s.Depth
		for _, y := range s.Bolts {
			if y > 3*o.At+small || s.Depth-y > 3*(s.Depth-o.At)+small {
				return Opening{}, false
			}
		}
	}
	return o, true
}

// apart: the faces part and every bolt pulls, straight about the bolts' centroid.
func (s Section) apart(n, about float64) (Opening, bool) {
	if n <= 0 || len(s.Bolts) == 0 {
		return Opening{}, false
	}
	mean := 0.0
	for _, y := range s.Bolts {
		mean += y / float64(len(s.Bolts))
	}
	square := 0.0
	for _, y := range s.Bolts {
		square += (y - mean) * (y - mean)
	}
	moment := about - n*mean
	slope := 0.0
	switch {
	case square > 1e-12*s.Depth*s.Depth:
		slope = moment / square
	case math.Abs(moment) > 1e-12*n*s.Depth:
		return Opening{}, false
	}
	each := n / float64(len(s.Bolts))
	if each-slope*mean < 0 || each+slope*(s.Depth-mean) < 0 {
		return Opening{}, false
	}
	o := Opening{Lever: "faces part, every bolt pulls"}
	for _, y := range s.Bolts {
		o.Bolts = append(o.Bolts, each+slope*(y-mean))
	}
	return o, true
}

// hinge: the section opens about the edge of y = 0, or about a pressing zone there.
func (s Section) hinge(n, about float64) (Opening, bool) {
	if about <= 0 && !s.soft() {
		return Opening{}, false
	}
	axis := 0.0 // m, of no strain
	o := Opening{Lever: "pivots on its edge"}
	if s.soft() {
		axis = s.axis(n, about)
		o.Contact, o.At, o.Lever = axis, axis/3, "presses over a triangle"
	}
	// T_i = k (y_i - axis), and moments about the compression: sum T_i (y_i - at) = about - n
	// at.
	lever := 0.0
	for _, y := range s.Bolts {
		lever += max(0, y-axis) * (y - o.At)
	}
	if lever <= 1e-15*s.Depth*s.Depth {
		return Opening{}, false
	}
	k := (about - n*o.At) / lever
	sum := 0.0
	for _, y := range s.Bolts {
		t := k * max(0, y-axis)
		o.Bolts = append(o.Bolts, t)
		sum += t
	}
	o.Compression = sum - n
	if k < 0 || o.Compression < -1e-9*(sum+math.Abs(n)) {
		return Opening{}, false
	}
	o.Compression = max(0, o.Compression)
	return o, true
}

// axis is the depth of the pressing triangle: strains stay plane, so that with a stress that
// falls from the edge to the axis, C = k b axis^2 / 2 and T_i = k A (y_i - axis). Eliminating k
// from force and moment leaves one equation, solved by halving.
func (s Section) axis(n, about float64) float64 {
	f := func(c float64) float64 {
		force, moment := -s.Width*c*c/2, -s.Width*c*c/2*c/3
		for _, y := range s.Bolts {
			t := s.BoltArea * max(0, y-c)
			force += t
			moment += t * y
		}
		return moment*n - force*about
	}
	// At 0 the bolts alone pull: f < 0 where their line of action is nearer than the load's; at
	// the last bolt only the triangle presses.
	lo, hi := 0.0, 0.0
	for _, y := range s.Bolts {
		hi = max(hi, y)
	}
	if f(lo) >= 0 {
		return 0
	}
	for range 200 {
		mid := lo + (hi-lo)/2
		if f(mid) < 0 {
			lo = mid
		} else {
			hi = mid
		}
	}
	return lo
}

// Point is a place or a force in a plane, m or N.
type Point [2]float64

// InPlane shares a force (N) that acts at a point and a twist (N m, counterclockwise) in the
// plane of a fastener group among its fasteners: equal shares of the force, and of the moment
// about the group's centroid by distance, F_i = M r_i / sum r^2 across r_i (elastic method, any
// text on steel connections).
func InPlane(fasteners []Point, force, at Point, twist float64) ([]Point, error) {
	if err := within("fasteners", float64(len(fasteners)), 1, maxBolts, rangeSource); err != nil {
		return nil, err
	}
	all := append([]Point{at}, fasteners...)
	for _, p := range all {
		for _, v := range p {
			if err := within("place in m", v, -1e3, 1e3, rangeSource); err != nil {
				return nil, err
			}
		}
	}
	for _, v := range [...]float64{force[0], force[1], twist} {
		if err := within("force in N or moment in N m", v, -maxForce, maxForce, rangeSource); err != nil {
			return nil, err
		}
	}
	c := centroid(fasteners)
	n := float64(len(fasteners))
	polar := 0.0
	for _, p := range fasteners {
		polar += (p[0]-c[0])*(p[0]-c[0]) + (p[1]-c[1])*(p[1]-c[1])
	}
	m := twist + (at[0]-c[0])*force[1] - (at[1]-c[1])*force[0]
	if polar < 1e-12 {
		if math.Abs(m) > 1e-9*(math.Abs(force[0])+math.Abs(force[1]))+1e-9 {
			return nil, fmt.Errorf("fastener: fasteners in one point cannot carry a moment of %.4g N m", m)
		}
		m, polar = 0, 1
	}
	shares := make([]Point, len(fasteners))
	for i, p := range fasteners {
		shares[i] = Point{force[0]/n - m*(p[1]-c[1])/polar, force[1]/n + m*(p[0]-c[0])/polar}
	}
	return shares, nil
}

func centroid(points []Point) (c Point) {
	for _, p := range points {
		c[0] += p[0] / float64(len(points))
		c[1] += p[1] / float64(len(points))
	}
	return c
}

// Vec is a place or a force in space, m or N.
type Vec [3]float64

func (a Vec) add(b Vec) Vec     { return Vec{a[0] + b[0], a[1] + b[1], a[2] + b[2]} }
func (a Vec) dot(b Vec) float64 { return a[0]*b[0] + a[1]*b[1] + a[2]*b[2] }
func (a Vec) cross(b Vec) Vec {
	return Vec{a[1]*b[2] - a[2]*b[1], a[2]*b[0] - a[0]*b[2], a[0]*b[1] - a[1]*b[0]}
}

// Plate is a rectangle of metal screwed on wood: the leaf of a hinge or the flange of a
// bracket.
type Plate struct {
	Out, Up Vec // unit vectors at right angles: out of the wood, and one side of the plate

	Width, Height float64 // m, across Up and along it
	Screws        []Point // m, from the lower left corner seen against Out: right, up
}

// Pull is what one screw of a plate gets.
type Pull struct {
	Demand
	Across Point // N, the lateral part: right, up
}

// Press is where a plate presses on the wood.
type Press struct {
	At    Point   // m, from the lower left corner
	Force float64 // N
}

// Share shares a force (N) and a moment (N m), both in the axes of Out and Up, among the
// screws. The force acts at a place from the plate's lower left corner (m: right, up, out). The
// plate is rigid and leans on nothing but the wood behind it. Pull, opening upwards and opening
// to the side are carried one after the other and added: with the presses that is an
// equilibrium, if not the only one. A force that presses stays with the wood.
func (p Plate) Share(force, at, moment Vec) ([]Pull, []Press, error) {
	if err := p.validate(force, at, moment); err != nil {
		return nil, nil, err
	}
	right := p.Up.cross(p.Out)
	local := func(v Vec) Vec { return Vec{v.dot(right), v.dot(p.Up), v.dot(p.Out)} }
	f, m := local(force), local(moment)

	across, err := InPlane(p.Screws, Point{f[0], f[1]}, Point{at[0], at[1]}, m[2])
	if err != nil {
		return nil, nil, err
	}
	pulls := make([]Pull, len(p.Screws))
	for i, v := range across {
		pulls[i] = Pull{Demand{Lateral: math.Hypot(v[0], v[1]), Tension: max(0, f[2]) / float64(len(pulls))}, v}
	}
	var presses []Press
	c := centroid(p.Screws)
	if f[2] < 0 {
		// The wood presses back where the force is, or at the plate's nearest point.
		c = Point{min(max(at[0], 0), p.Width), min(max(at[1], 0), p.Height)}
		presses = append(presses, Press{c, -f[2]})
	}
	// What is left is a tilt: about right (x) it opens the upper edge, about up (y) the left
	// one.
	tilt := m.add(Vec{at[0] - c[0], at[1] - c[1], at[2]}.cross(f))
	for axis, tilt := range [2]float64{tilt[0], -tilt[1]} {
		if math.Abs(tilt) < 1e-12 {
			continue
		}
		along := 1 - axis // the coordinate that the plate opens along
		s := Section{Depth: [2]float64{p.Width, p.Height}[along]}
		for _, q := range p.Screws {
			s.Bolts = append(s.Bolts, q[along])
		}
		o, err := s.Open(0, 0, tilt)
		if err != nil {
			return nil, nil, err
		}
		press := Press{Force: o.Compression}
		for i, t := range o.Bolts {
			pulls[i].Tension += t
			press.At[axis] += t / o.Compression * p.Screws[i][axis]
		}
		press.At[along] = o.At
		presses = append(presses, press)
	}
	return pulls, presses, nil
}

func (p Plate) validate(force, at, moment Vec) error {
	for i := range 3 {
		if err := bounded(rangeSource,
			bound{"place in m", at[i], -1e3, 1e3},
			bound{"force in N", force[i], -1e6, 1e6},
			bound{"moment in N m", moment[i], -1e6, 1e6},
		); err != nil {
			return err
		}
	}
	for _, v := range [...]float64{p.Width, p.Height} {
		if err := within("plate size in m", v, 1e-3, 10, rangeSource); err != nil {
			return err
		}
	}
	for _, q := range [...]float64{p.Out.dot(p.Out) - 1, p.Up.dot(p.Up) - 1, p.Out.dot(p.Up)} {
		if err := within("plate direction, off a unit vector at right angles,", q, -1e-6, 1e-6, rangeSource); err != nil {
			return err
		}
	}
	for _, s := range p.Screws {
		if err := within("screw place in m", s[0], 0, p.Width, "the plate"); err != nil {
			return err
		}
		if err := within("screw place in m", s[1], 0, p.Height, "the plate"); err != nil {
			return err
		}
	}
	return nil
}
