package check

import (
	"fmt"
	"math"
	"slices"

	"galefast/internal/quantity"
	"galefast/internal/site"
	"galefast/internal/verdict"
	"galefast/statics"
	"galefast/statics/fastener"
)

// wrung is a force and a moment, N and N m, in axes of their own.
type wrung struct{ f, m [3]float64 }

// on adds a force that acts at a place from where the moment is counted.
func (w *wrung) on(f, at statics.Vec, by float64) {
	for i := range 3 {
		k, l := (i+1)%3, (i+2)%3
		w.f[i] += by * f[i]
		w.m[i] += by * (at[k]*f[l] - at[l]*f[k])
	}
}

func (w *wrung) add(o *wrung) {
	for i := range 3 {
		w.f[i] += o.f[i]
		w.m[i] += o.m[i]
	}
}

// passing is what passes through the plane below what stands above a joint, in the section's own
// axes: across its width, across its depth, up.
type passing struct {
	wrung
	duration fastener.Duration
	sit      situation
	people   string // who pushes
}

// cuts visits what can pass through a plane below a body, in axes turned with it about a place.
// Of the alternatives of the wind on each surface those are taken together that tip most in
// some direction: the wind's own, or square to a face.
func (j *job) cuts(b *lone, origin statics.Vec, turn float64, visit func(*passing)) error {
	sin, cos := math.Sincos(turn)
	local := func(v statics.Vec) statics.Vec { return statics.Vec{v[0]*cos + v[1]*sin, v[1]*cos - v[0]*sin, v[2]} }
	put := func(w *wrung, f, at statics.Vec, by float64) {
		for i := range at {
			at[i] -= origin[i]
		}
		w.on(local(f), local(at), by)
	}
	var axes [4]float64
	for i := range axes {
		axes[i] = turn + float64(i)*math.Pi/2
	}
	for _, s := range j.setups(b) {
		ask := j.loadFactors(s)
		for _, s := range s.positions() {
			for _, towards := range b.directions(s) {
				winds, err := j.winds(b, s, towards, s.gust)
				if err != nil {
					return err
				}
				gravity := statics.Gravity(float64(j.f.Site.Slope.V), towards)
				weigh := func(w *wrung, mass, by float64, at statics.Vec) {
					put(w, statics.Vec{mass * gravity[0], mass * gravity[1], mass * gravity[2]}, at, by)
				}
				var dead [2]wrung // what hangs on it relieving, or burdening
				for heavy := range dead {
					for _, d := range b.dead {
						weigh(&dead[heavy], d.light, ask.relief, d.at)
					}
					for i := range b.leaves {
						l := &b.leaves[i]
						m, by := l.mass.Light, ask.relief
						if heavy == 1 {
							m, by = l.mass.Heavy, ask.burden
						}
						weigh(&dead[heavy], m, by, l.swung(l.angle(s)))
					}
					for i := range b.spans {
						sp := &b.spans[i]
						m, by := sp.mass.Light, ask.relief
						if heavy == 1 {
							m, by = sp.mass.Heavy, ask.burden
						}
						weigh(&dead[heavy], m/2, by, statics.Vec{sp.end[0], sp.end[1], sp.mass.Center[2]})
					}
				}
				blowing := make([][]wrung, len(winds))
				for i, alternatives := range winds {
					blowing[i] = make([]wrung, len(alternatives))
					for k := range alternatives {
						put(&blowing[i][k], alternatives[k].F, alternatives[k].At, ask.wind)
					}
				}
				pushes := j.pushes(b, s, b.normals(), towards)
				leaning := make([]wrung, len(pushes))
				for i := range pushes {
					put(&leaning[i], pushes[i].F, pushes[i].At, ask.people)
				}
				views := axes[:]
				if towards != turn {
					views = append([]float64{towards}, views...)
				}
				c := passing{sit: situation{setup: s, towards: towards, push: -1, pick: make([]int, len(winds))}}
				for _, view := range views {
					if math.Cos(view-towards) < -1e-9 {
						continue
					}
					vs, vc := math.Sincos(view - turn)
					var wind wrung
					for i, alternatives := range blowing {
						most := math.Inf(-1)
						for k := range alternatives {
							// The moment that tips towards the view.
							if m := alternatives[k].m[1]*vc - alternatives[k].m[0]*vs; m > most+1e-12 {
								most, c.sit.pick[i] = m, k
							}
						}
						wind.add(&alternatives[c.sit.pick[i]])
					}
					for heavy := range dead {
						c.sit.heavy = heavy == 1
						for push := -1; push < len(pushes); push++ {
							if push < 0 && len(pushes) > 0 {
								continue
							}
							c.sit.push, c.people = push, ""
							c.wrung, c.duration = dead[heavy], fastener.Wind
							if push >= 0 {
								c.people = pushes[push].Name
								c.add(&leaning[push])
								still := c
								still.duration = fastener.TenYears
								visit(&still)
							}
							c.add(&wind)
							visit(&c)
						}
					}
				}
			}
		}
	}
	return nil
}

// bolted is the joint below a section of a column.
type bolted struct {
	size  [2]float64       // m, of the face that presses, along width and depth
	bolts []fastener.Point // m, from its middle
	all   []cutLoad        // what it must carry, for trying other bolts
	*held

	off   float64    // m, of the bolts' middle from that of the face
	twist float64    // 1/m, shear in the farthest bolt of a twist
	tip   [2]float64 // 1/m, pull in the worst bolt of a moment that opens along width, and along depth
}

// cutLoad is one load of a joint.
type cutLoad struct {
	wrung
	duration fastener.Duration
}

// pattern places bolts in two rows along the width.
func pattern(n int, spread [2]float64) []fastener.Point {
	if n == 1 {
		return []fastener.Point{{0, 0}}
	}
	var list []fastener.Point
	for row, y := range [2]float64{-spread[1] / 2, spread[1] / 2} {
		in := (n + 1 - row) / 2
		for i := range in {
			x := 0.0
			if in > 1 {
				x = spread[0] * (float64(i)/float64(in-1) - 0.5)
			}
			list = append(list, fastener.Point{x, y})
		}
	}
	return list
}

// shares is what each bolt gets. The bolts along one side pull, about the far edge, against
// the moment that opens it and with the weight that holds it shut; of the weight each of the two
// directions has its part. Both together are in balance with the load.
func (q *bolted) shares(w *wrung) ([]fastener.Demand, [2]fastener.Opening, error) {
	tip := [2]float64{w.m[1], -w.m[0]} // towards the width's end and the depth's end
	part := math.Abs(tip[0]) + math.Abs(tip[1])
	shear, err := fastener.InPlane(q.bolts, fastener.Point{w.f[0], w.f[1]}, fastener.Point{}, w.m[2])
	var opening [2]fastener.Opening
	if err != nil {
		return nil, opening, err
	}
	out := make([]fastener.Demand, len(q.bolts))
	for i, v := range shear {
		out[i].Lateral = math.Hypot(v[0], v[1])
	}
	for axis := range tip {
		n := w.f[2] * math.Abs(tip[axis]) / part
		if part == 0 {
			n = w.f[2] * float64(1-axis)
		}
		s := fastener.Section{Depth: q.size[axis]}
		for _, b := range q.bolts { // from the edge that presses
			y := q.size[axis]/2 - b[axis]
			if tip[axis] < 0 {
				y = q.size[axis]/2 + b[axis]
			}
			s.Bolts = append(s.Bolts, y)
		}
		if opening[axis], err = s.Open(n, q.size[axis]/2, math.Abs(tip[axis])); err != nil {
			return nil, opening, err
		}
		for i, t := range opening[axis].Bolts {
			out[i].Tension += t
		}
	}
	return out, opening, nil
}

// newBolted is a face of some size with its bolts.
func newBolted(size [2]float64, bolts []fastener.Point, h *held) *bolted {
	q := &bolted{size: size, bolts: bolts, held: h}
	n := float64(len(bolts))
	var middle fastener.Point
	for _, b := range bolts {
		middle[0], middle[1] = middle[0]+b[0]/n, middle[1]+b[1]/n
	}
	q.off = math.Hypot(middle[0], middle[1])
	reach, polar := 0.0, 0.0
	for _, b := range bolts {
		r := math.Hypot(b[0]-middle[0], b[1]-middle[1])
		reach, polar = math.Max(reach, r), polar+r*r
	}
	if polar > 0 {
		q.twist = reach / polar
	}
	for axis := range size {
		for _, side := range [2]float64{-1, 1} {
			far, square := 0.0, 0.0
			for _, b := range bolts {
				y := size[axis]/2 + side*b[axis]
				far, square = math.Max(far, y), square+y*y
			}
			q.tip[axis] = math.Max(q.tip[axis], far/square)
		}
	}
	return q
}

// bound is a utilisation that no bolt exceeds, without working the shares out; none where the
// faces may part.
func (q *bolted) bound(w *wrung, duration fastener.Duration) float64 {
	if w.f[2] > 0 {
		return math.Inf(1)
	}
	shear := math.Hypot(w.f[0], w.f[1])
	d := fastener.Demand{Lateral: shear/float64(len(q.bolts)) + (math.Abs(w.m[2])+q.off*shear)*q.twist}
	tip := [2]float64{math.Abs(w.m[1]), math.Abs(w.m[0])}
	if sum := tip[0] + tip[1]; sum > 0 {
		for axis := range tip {
			held := -w.f[2] * tip[axis] / sum * q.size[axis] / 2
			d.Tension += math.Max(0, tip[axis]-held) * q.tip[axis]
		}
	}
	return q.rough(d, duration)
}

// sectionJoint checks the bolts below section k of a column.
func (j *job) sectionJoint(i, k int) {
	c := &j.f.Columns[i]
	s := &c.Sections[k]
	subject := c.Name.V + ", " + s.Name.V
	const what = "joint bolts"
	q, err := j.boltedBelow(c, k, subject)
	if err == nil && j.code == nil {
		err = fmt.Errorf("the wind on what stands above cannot be computed")
	}
	if err != nil {
		j.demanded(subject, what, err.Error()+"; the column is taken as one piece through this joint", 0, s.Joint.At)
		return
	}
	w, err := j.worstCut(i, k, q)
	if err != nil {
		j.demanded(subject, what, err.Error()+"; the column is taken as one piece through this joint", 0, s.Joint.At)
		return
	}
	cure := ""
	if w.share > 1 {
		cure = j.cureJoint(q, w)
	}
	from := w.at.sit.fromDeg()
	g := grip{subject: subject, what: what, kind: fastener.Bolt, at: s.Joint.At, use: w.use, share: w.share, state: string(w.at.sit.state), cure: cure, steps: j.cutSteps(q, w)}
	if w.at.duration == fastener.Wind {
		g.fromDeg = &from
	}
	j.record(g)
}

// boltedBelow reads the joint of a section.
func (j *job) boltedBelow(c *site.Column, k int, subject string) (*bolted, error) {
	s := &c.Sections[k]
	uw, ud := s.Size()
	lw, ld := c.Sections[k-1].Size()
	size := [2]float64{math.Min(uw, lw), math.Min(ud, ld)}
	if s.Joint.Bolts.V > mostInOne {
		return nil, errTooMany
	}
	bolt, err := j.bolt(s.Joint.Size, s.Joint.Washer, subject)
	if err != nil {
		return nil, err
	}
	wood, err := j.material(s.Joint.Into, subject)
	if err != nil {
		return nil, err
	}
	thick := float64(s.Joint.Thickness.V)
	if !s.Joint.Thickness.Given {
		thick = assumedMeasure[quantity.Length](j, "joint_frame", subject)
	}
	spread := [2]float64{float64(s.Joint.Pattern[0].V), float64(s.Joint.Pattern[1].V)}
	if !s.Joint.Pattern[0].Given || !s.Joint.Pattern[1].Given {
		part := number(j.assumed("joint_pattern", subject)) * math.Min(size[0], size[1])
		spread = [2]float64{part, part}
	}
	for axis := range spread {
		if spread[axis] > size[axis] {
			return nil, fmt.Errorf("its bolts are %s apart on a face of %s", j.long(spread[axis]), j.long(size[axis]))
		}
	}
	frame := fastener.Member{Material: wood, Thickness: thick, Angle: math.Pi / 2}
	h, err := j.hold(fastener.Joint{Code: j.timberCode(), Fastener: bolt, Side: frame, Main: frame, Count: s.Joint.Bolts.V})
	if err != nil {
		return nil, err
	}
	return newBolted(size, pattern(s.Joint.Bolts.V, spread), h), nil
}

// torn is the worst that a joint gets.
type torn struct {
	share   float64
	use     fastener.Use
	at      *passing
	opening [2]fastener.Opening
}

// above is what stands above a joint, and the axes of its cut. A span that is fastened there burdens
// it as one that rests there does: the bolts get its share as of a beam on two supports, whatever the
// pieces together could shift to the other column.
func (j *job) above(i, k int) (b *lone, origin statics.Vec, turn float64) {
	c := &j.f.Columns[i]
	at := c.Center.XY()
	b = j.columnPart(i, k, len(c.Sections))
	for n := range j.f.Spans {
		s := &j.f.Spans[n]
		if !j.holds(s.Fixing) {
			continue // it rests there, and hangs on the part already
		}
		top := s.Underside.V + s.Face[1].V/2
		for _, z := range s.Fixing.Heights {
			top = max(top, z.V)
		}
		if float64(top) < b.base {
			continue
		}
		for end, w := range s.Between {
			if w.V == c.Name.V {
				b.describe(s.Name)
				b.spans = append(b.spans, j.spanEnd(n, end == 0, c))
			}
		}
	}
	return b, statics.Vec{at[0], at[1], c.Bottom(k)}, float64(c.Turn.V)
}

func (j *job) worstCut(i, k int, q *bolted) (*torn, error) {
	b, origin, turn := j.above(i, k)
	var w torn
	var fault error
	err := j.cuts(b, origin, turn, func(c *passing) {
		q.all = append(q.all, cutLoad{c.wrung, c.duration})
		if w.at != nil && q.bound(&c.wrung, c.duration) <= w.share {
			return
		}
		demands, opening, err := q.shares(&c.wrung)
		if err != nil {
			fault = err
			return
		}
		for _, d := range demands {
			if w.at != nil && q.rough(d, c.duration) <= w.share {
				continue
			}
			use, share := q.compare(d, c.duration)
			if w.at == nil || share > w.share*(1+1e-9) {
				kept := *c
				kept.sit = c.sit.keep()
				w = torn{share, use, &kept, opening}
			}
		}
	})
	switch {
	case err != nil:
		return nil, err
	case fault != nil:
		return nil, fault
	case w.at == nil:
		return nil, fmt.Errorf("nothing acts on it")
	}
	return &w, nil
}

// carries reports whether every bolt holds a load.
func (q *bolted) carries(w *wrung, duration fastener.Duration) bool {
	if q.bound(w, duration) <= 1 {
		return true
	}
	demands, _, err := q.shares(w)
	if err != nil {
		return false
	}
	for _, d := range demands {
		if _, share := q.compare(d, duration); share > 1 {
			return false
		}
	}
	return true
}

// cutSteps work the governing cut.
func (j *job) cutSteps(q *bolted, w *torn) []verdict.Step {
	c := w.at
	what := "wind"
	if c.people != "" {
		what = "wind and a " + c.people
		if c.duration != fastener.Wind {
			what = "a " + c.people + ", no wind"
		}
	}
	steps := []verdict.Step{
		{Text: "what stands above", Formula: "its weight, " + what + ", with their factors", Numbers: fmt.Sprintf("up %.4g N, across the width %.4g N and the depth %.4g N", still(c.f[2]), still(c.f[0]), still(c.f[1]))},
		{Text: "moments about the middle of the joint", Formula: "sum of force · height above it", Numbers: fmt.Sprintf("tips along the width %.4g N·m, along the depth %.4g N·m, twists %.4g N·m", still(c.m[1]), still(-c.m[0]), still(c.m[2]))},
	}
	for axis, name := range [2]string{"width", "depth"} {
		most := 0.0
		if o := w.opening[axis]; len(o.Bolts) > 0 {
			most = slices.Max(o.Bolts)
			steps = append(steps, verdict.Step{Text: "bolts against opening along the " + name, Formula: "T_i = M y_i / sum y_i^2 from the edge that presses; the weight helps",
				Numbers: fmt.Sprintf("%s: the farthest pulls %.4g N, the edge presses %.4g N; face %s deep", o.Lever, most, o.Compression, j.long(q.size[axis]))})
		}
	}
	return append(steps, verdict.Step{Text: "worst bolt", Formula: "tension of both directions, shear by equal parts and by the twist", Numbers: fmt.Sprintf("%.4g N", w.use.Demand)})
}

// cureJoint looks for what makes the bolts hold, each kind at its least.
func (j *job) cureJoint(q *bolted, w *torn) string {
	var cures []string
	try := func(bolt kit, n int, spread [2]float64, frame float64, words string) bool {
		joint := q.Joint
		joint.Fastener, joint.Count = bolt.Fastener, n
		joint.Side.Thickness, joint.Main.Thickness = frame, frame
		h, err := j.hold(joint)
		if err != nil {
			return false
		}
		other := newBolted(q.size, pattern(n, spread), h)
		if !other.carries(&w.at.wrung, w.at.duration) {
			return false
		}
		for i := range q.all {
			if !other.carries(&q.all[i].wrung, q.all[i].duration) {
				return false
			}
		}
		cures = append(cures, words)
		return true
	}
	n := len(q.bolts)
	spread := [2]float64{}
	for _, b := range q.bolts {
		spread[0], spread[1] = math.Max(spread[0], 2*b[0]), math.Max(spread[1], 2*b[1])
	}
	have, frame := kit{q.Fastener, n}, q.Side.Thickness
	for _, b := range boltsFor(have) {
		if try(b, n, spread, frame, "use "+j.words(b.Fastener)) {
			break
		}
	}
	wide := [2]float64{math.Max(spread[0], q.size[0]-edgeOfFrame), math.Max(spread[1], q.size[1]-edgeOfFrame)}
	apart := fmt.Sprintf("move the bolts out to %s by %s", j.long(wide[0]), j.long(wide[1]))
	moved := wide != spread && try(have, n, wide, frame, apart)
	for more := n + 2; more <= mostBolts; more += 2 {
		if try(have, more, spread, frame, fmt.Sprintf("use %d such bolts in two rows", more)) {
			break
		}
	}
	const double = 0.0381 // m
	doubled := frame < double && try(have, n, spread, double, fmt.Sprintf("double the frames to %s where the bolts clamp them", j.long(double)))
	if frame < double && !moved && !doubled {
		try(have, n, wide, double, fmt.Sprintf("%s and double the frames to %s there", apart, j.long(double)))
	}
	if len(cures) == 0 {
		for _, b := range boltsFor(have) {
			if try(b, mostBolts, wide, math.Max(frame, double), fmt.Sprintf("%s, use %d of them in two rows, spread over the face, on frames of %s", j.words(b.Fastener), mostBolts, j.long(math.Max(frame, double)))) {
				break
			}
		}
	}
	if len(cures) == 0 {
		return "no bolts that fit there will do: less wind on what stands above, or another way to join it"
	}
	return orList(cures)
}

const (
	mostBolts   = 12         // in one joint that are advised
	edgeOfFrame = 3 * 0.0254 // m, kept free of bolts, both sides together
)
