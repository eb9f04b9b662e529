package statics

import "slices"

// EdgeResult is overturning about one edge of the foot.
type EdgeResult struct {
	From, To    [2]float64 // ends of the edge (m)
	Bearing     float64    // outward normal, degrees clockwise from north, 0 up to 360
	Name        string     // the same as a compass point, such as `north-east`
	Resisting   float64    // moment of the dead forces about the edge (N·m), positive holds
	Overturning float64    // moment of the live forces at factor 1 (N·m), positive tips
	Factor      Factor     // least factor at which Resisting is used up
	DeadTips    bool       // Resisting is not positive: it does not stand by itself
}

// overturning finds every edge and the index of the worst one. About an edge with
// outward normal n through a, the forces tip with Σ z F·n - ((r - a)·n) F_z.
func overturning(f *foot, dead, live resultant) (edges []EdgeResult, worst int) {
	edges = slices.Clone(f.edges)
	for i := range edges {
		e, n, arm := &edges[i], f.outward[i], f.arms[i]
		e.Resisting = dead.n*arm - (dead.p[0]*n[0] + dead.p[1]*n[1])
		e.Overturning = live.p[0]*n[0] + live.p[1]*n[1] - live.n*arm
		switch {
		case e.Resisting <= 0:
			e.DeadTips = true
		case e.Overturning > 0:
			e.Factor = quotient(e.Resisting, e.Overturning)
		default:
			e.Factor.Unbounded = true
		}
		if w := &edges[worst]; e.Factor.Less(w.Factor) ||
			(!w.Factor.Less(e.Factor) && e.Resisting < w.Resisting) {
			worst = i
		}
	}
	return edges, worst
}
