package check

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"galefast/internal/verdict"
	"galefast/statics"
)

// block is the name of a lone body's only block, which its mechanisms go without.
const block = ""

// solve asks limit analysis for the factor of a lone body. The body's hand check stands
// beside it: about an edge and in sliding both give the same number.
func (b *lone) solve(body *statics.Body, align float64, only statics.Limit) (statics.Outcome, error) {
	a, err := b.analysis(body, align)
	if err != nil {
		return statics.Outcome{}, err
	}
	o, err := a.Solve(loadsOf(body), only)
	if err == nil && !o.Certificate.OK {
		err = statics.ErrUnproven
	}
	return o, err
}

// footing is limit analysis of a lone body on one foot.
type footing struct {
	analysis *statics.Analysis
	foot     [][2]float64
}

// analysis is a lone body on its foot, kept for the next loads where neither the foot nor
// the direction has changed.
func (b *lone) analysis(body *statics.Body, align float64) (*statics.Analysis, error) {
	key, align := corner(align)
	if r, ok := b.ready[key]; ok && slices.Equal(r.foot, body.Foot) {
		return r.analysis, nil
	}
	a, err := statics.NewAnalysis(&statics.Group{
		Blocks:   []statics.Block{{Name: block, Centre: centreOf(body), Foot: body.Foot}},
		Contacts: []statics.Contact{{Of: 0, On: statics.Ground, Points: corners(body.Foot, 0), Friction: body.Friction}},
	}, align)
	if err != nil {
		return nil, err
	}
	if b.ready == nil {
		b.ready = map[float64]footing{}
	}
	b.ready[key] = footing{a, body.Foot}
	return a, nil
}

// centreOf is where the weight of a body acts.
func centreOf(body *statics.Body) statics.Vec {
	var at statics.Vec
	sum := 0.0
	for i := range body.Dead {
		f := &body.Dead[i]
		sum -= f.F[2]
		for k := range at {
			at[k] -= f.F[2] * f.At[k]
		}
	}
	for k := range at {
		if sum > 0 {
			at[k] /= sum
		}
	}
	return at
}

func loadsOf(body *statics.Body) *statics.Loads {
	l := &statics.Loads{}
	for _, f := range body.Dead {
		l.Dead = append(l.Dead, statics.Acting{Force: f})
	}
	for _, f := range body.Live {
		l.Live = append(l.Live, statics.Acting{Force: f})
	}
	return l
}

// turns is the factor against turning, or one that is known to be reached: the hand check's lower bound,
// raised by limit analysis. Both are proven by forces that balance.
func (b *lone) turns(s *situation, body *statics.Body, r *statics.Result, enough float64) (statics.Factor, error) {
	if enough < far {
		if reached, err := b.holdsTurning(s, body, enough); err == nil && reached {
			return statics.Factor{Value: enough}, nil
		}
	}
	o, err := b.solve(body, s.towards, statics.AllLimits)
	switch {
	case errors.Is(err, statics.ErrUnproven):
		return r.Turning.Factor, nil
	case err != nil:
		return statics.Factor{}, err
	}
	if r.Turning.Factor.Less(o.Factor) {
		return o.Factor, nil
	}
	return r.Turning.Factor, nil
}

// holdsTurning reports whether limit analysis reaches a factor.
func (b *lone) holdsTurning(s *situation, body *statics.Body, factor float64) (bool, error) {
	a, err := b.analysis(body, s.towards)
	if err != nil {
		return false, err
	}
	return a.Carries(loadsOf(body), factor)
}

// agree is how far the programme and the hand check may differ.
const agree = 1e-6

// prove compares the hand check of a row with limit analysis and adds the proof to the row;
// where they differ the row is not decided.
func (j *job) prove(b *lone, mode int, w *finding, ballast []float64, c *verdict.Check) {
	body, _, err := j.body(b, w.sit, w.sit.gust, ballast)
	if err != nil {
		return
	}
	only, align := statics.TippingOnly, w.sit.towards
	switch mode {
	case sliding:
		only = statics.SlidingOnly
		var h [2]float64
		for _, f := range body.Dead {
			h[0], h[1] = h[0]+f.F[0], h[1]+f.F[1]
		}
		for _, f := range body.Live {
			h[0], h[1] = h[0]+w.factor.Value*f.F[0], h[1]+w.factor.Value*f.F[1]
		}
		align = math.Atan2(h[1], h[0])
	case turning:
		only = statics.AllLimits
	}
	o, err := b.solve(&body, align, only)
	if err != nil {
		c.Result, c.Why, c.Has, c.Needs = verdict.Unchecked, err.Error(), nil, nil
		return
	}
	c.Certificate = &verdict.Certificate{Residual: o.Certificate.Residual, Gap: o.Certificate.Gap}
	if mode == turning {
		return // the hand check is a lower bound there
	}
	if a, h := o.Factor, w.factor; a.Unbounded != h.Unbounded || math.Abs(a.Value-h.Value) > agree*math.Max(1, h.Value) {
		c.Result, c.Has, c.Needs = verdict.Unchecked, nil, nil
		c.Why = fmt.Sprintf("the hand check gives %.6g and limit analysis %.6g", h.Value, a.Value)
	}
}
