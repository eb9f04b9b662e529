package check

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"galefast/internal/quantity"
	"galefast/internal/site"
	"galefast/internal/takeoff"
	"galefast/internal/verdict"
	"galefast/statics"
	"galefast/statics/fastener"
)

const (
	plateSteel = 0.002 // m, thickness of a hinge's half
	knuckle    = 0.006 // m, from the wood to the pin
)

// hanging is a gate on its hinges. Its axes are those of the engine: x from the hinge line to
// the tip, y across, z up from the ground.
type hanging struct {
	gate  *site.Gate
	mass  takeoff.Mass
	swing float64 // +1 opens counterclockwise
	leaf  fastener.Leaf
	stops []float64    // m, heights at which a keeper or a stop may hold the free edge
	met   [][2]float64 // m, places at which a stop may meet the leaf when it slams, out and up
	gust  float64      // N, of the wind that drives a leaf that nothing holds
	cases []hingeCase

	plate      fastener.Plate // Out is set for each half
	face       bool           // hinges on the faces of post and leaf
	post, wing half
}

// half is one half of the hinges with its screws.
type half struct {
	name   string
	onPost bool
	count  int
	screws []fastener.Point
	polar  float64    // m, moment in the plane over the shear that it makes in the farthest screw
	tilt   [2]float64 // 1/m, pull in the worst screw of a moment that opens the plate along its width, and along its height
	*held
}

// hingeCase is one choice of loads on a leaf.
type hingeCase struct {
	what     string
	setup    setup
	fromDeg  *float64
	angle    float64 // rad, that the leaf is swung
	duration fastener.Duration
	loads    []fastener.Load
	slam     bool
	blow     []fastener.Step // of a slam
}

// strain is the worst that a half of the hinges gets.
type strain struct {
	share  float64
	use    fastener.Use
	at     *hingeCase
	stop   float64 // m, height of the stop
	bears  string  // which hinge carries the weight
	hinge  int
	hinges []fastener.Vec // N, force of the leaf on each, in the leaf's axes
}

// gateHardware checks the hinges and keepers of a gate.
func (j *job) gateHardware(i int) {
	g := &j.f.Gates[i]
	leaf, ok := j.f.Leaf(g)
	if !ok {
		return
	}
	l := leafOn{g, leaf, j.masses.Gates[i].Mass}
	if j.code == nil {
		j.demanded(g.Name.V, "hinges", "the wind on the leaf cannot be computed", 0, g.Name.At)
		return
	}
	h, err := j.hang(&l)
	if err != nil {
		j.demanded(g.Name.V, "hinges", err.Error(), 0, g.Name.At)
		return
	}
	j.keepers(h)
	if g.Hinge == nil || len(g.Hinge.Heights) < 2 {
		j.demanded(g.Name.V, "hinges", "the file does not describe the hinges (hinge, with heights, screws, gauge, length, into and thickness)", 0, g.Name.At)
		return
	}
	if _, err := h.leaf.Reactions(h.cases[0].loads); err != nil {
		j.demanded(g.Name.V, "hinges", err.Error(), 0, g.Hinge.At)
		return
	}
	if err := j.screwOn(h); err != nil {
		worst := 0.0
		h.each(func(c *hingeCase, r fastener.Reaction, stop float64) {
			for _, f := range r.Hinges {
				worst = math.Max(worst, math.Hypot(f[0], math.Hypot(f[1], f[2])))
			}
		})
		j.demanded(g.Name.V, "hinges", "the screws are not checked: "+err.Error(), worst, g.Hinge.At)
		return
	}
	for _, row := range []struct {
		what string
		side *half
		slam bool
	}{
		{"hinge screws in the post", &h.post, false}, {"hinge screws in the leaf", &h.wing, false},
		{"slam, screws in the post", &h.post, true}, {"slam, screws in the leaf", &h.wing, true},
	} {
		w := h.worst(row.side, row.slam, math.Inf(1))
		if w.at == nil {
			j.demanded(g.Name.V, row.what, "the hinges cannot be computed at these sizes", 0, g.Hinge.At)
			continue
		}
		cure := ""
		if w.share > 1 {
			cure = j.cureHinge(h, row.side, row.slam, &w)
		}
		fasteners := row.what
		if row.side.Fastener.Kind == fastener.Bolt {
			fasteners = map[string]string{
				"hinge screws in the post": "hinge bolts in the post", "hinge screws in the leaf": "hinge bolts in the leaf",
				"slam, screws in the post": "slam, bolts in the post", "slam, screws in the leaf": "slam, bolts in the leaf",
			}[row.what]
		}
		j.record(grip{subject: g.Name.V, what: fasteners, kind: row.side.Fastener.Kind, at: g.Hinge.At, use: w.use, share: w.share,
			state: string(w.at.setup.state), fromDeg: w.at.fromDeg, steps: j.hingeSteps(h, row.side, &w), cure: cure})
	}
}

// hang gathers the loads on a leaf. Of the wind from all directions the greatest force either
// way is kept for each place at which it can act.
func (j *job) hang(l *leafOn) (*hanging, error) {
	g := l.gate
	h := &hanging{gate: g, mass: l.mass, swing: l.leaf.Swing}
	width, low, high := float64(g.Width.V), float64(g.Clearance.V), float64(g.Clearance.V+g.Height.V)
	h.stops = []float64{low, high}
	if g.Keeper != nil && g.Keeper.Height.Given {
		h.stops = []float64{float64(g.Keeper.Height.V)}
	}
	h.leaf = fastener.Leaf{Stopped: true, StopX: width}
	h.met = [][2]float64{{width, low}, {width, high}}
	if g.Stop[0].Given && g.Stop[1].Given {
		h.met = [][2]float64{{float64(g.Stop[0].V), float64(g.Stop[1].V)}}
	}
	if g.Hinge != nil {
		for _, z := range g.Hinge.Heights {
			h.leaf.Hinges = append(h.leaf.Hinges, float64(z.V))
		}
	}
	body := &lone{leaves: []leafOn{*l}, top: high}
	slope, gust := float64(j.f.Site.Slope.V), 0.0
	loose := false
	for _, s := range j.setups(body) {
		ask := j.loadFactors(s)
		positions := s.positions()
		if len(s.swings) > 0 {
			// Between its stops a leaf gives way, and its hinges get less.
			loose = true
			positions = []setup{s, s}
			positions[0].swing, positions[1].swing = 0, float64(g.Open.V)
		}
		for _, s := range positions {
			angle := l.angle(s)
			direction := l.leaf.Direction(angle)
			sin, cos := math.Sincos(direction)
			local := func(v statics.Vec) fastener.Vec {
				return fastener.Vec{v[0]*cos + v[1]*sin, v[1]*cos - v[0]*sin, v[2]}
			}
			weight := func(towards float64) fastener.Load {
				f := local(statics.Gravity(slope, towards))
				m := ask.burden * l.mass.Heavy
				at := l.swung(angle)
				at[0], at[1] = at[0]-l.leaf.Hinge[0], at[1]-l.leaf.Hinge[1]
				return fastener.Load{What: "leaf", Force: fastener.Vec{m * f[0], m * f[1], m * f[2]}, At: local(at)}
			}
			type blown struct {
				load    fastener.Load
				towards float64
			}
			var winds []blown
			surface := leafSurface(l, angle)
			for _, towards := range body.directions(s) {
				loads, err := s.wind.model.AppendLoads(nil, &surface, s.gust, towards)
				if err != nil {
					return nil, err
				}
				for _, w := range loads {
					at := w.At
					at[0], at[1] = at[0]-l.leaf.Hinge[0], at[1]-l.leaf.Hinge[1]
					f := local(w.Force)
					b := blown{fastener.Load{What: "wind", Force: fastener.Vec{ask.wind * f[0], ask.wind * f[1], ask.wind * f[2]}, At: local(at)}, towards}
					if loose && f[1] != 0 {
						gust = math.Max(gust, math.Abs(f[1]))
					}
					k := slices.IndexFunc(winds, func(o blown) bool {
						return math.Abs(o.load.At[0]-b.load.At[0]) < 1e-3 && math.Abs(o.load.At[2]-b.load.At[2]) < 1e-3 && o.load.Force[1]*b.load.Force[1] >= 0
					})
					switch {
					case k < 0:
						winds = append(winds, b)
					case math.Abs(b.load.Force[1]) > math.Abs(winds[k].load.Force[1])*(1+1e-9):
						winds[k] = b
					}
				}
			}
			type person struct {
				what string
				load []fastener.Load
			}
			people := []person{{"", nil}}
			if s.people {
				if tip := ask.people * float64(g.TipLoad.V); tip > 0 {
					people = append(people, person{"a person on the tip", []fastener.Load{{What: "person on the tip", Force: fastener.Vec{0, 0, -tip}, At: fastener.Vec{width, 0, high}}}})
				}
				if push, z := ask.people*float64(j.f.Require.Lean.Force.V), math.Min(float64(j.f.Require.Lean.Height.V), high); push > 0 && z >= low {
					for _, way := range [2]float64{-1, 1} {
						people = append(people, person{"a person leaning on the leaf", []fastener.Load{{What: "person leaning", Force: fastener.Vec{0, way * push, 0}, At: fastener.Vec{width / 2, 0, z}}}})
					}
				}
			}
			for _, p := range people {
				for _, w := range winds {
					from := situation{towards: w.towards}.fromDeg()
					what := "wind"
					if p.what != "" {
						what += " and " + p.what
					}
					falls := direction + math.Copysign(math.Pi/2, w.load.Force[1]) // the way the wind pushes
					h.cases = append(h.cases, hingeCase{what: what, setup: s, fromDeg: &from, angle: angle, duration: fastener.Wind,
						loads: append([]fastener.Load{weight(falls), w.load}, p.load...)})
				}
				what := p.what
				if what == "" {
					what = "its own weight"
				}
				for quarter := range 4 { // the way the ground falls
					h.cases = append(h.cases, hingeCase{what: what, setup: s, angle: angle, duration: fastener.TenYears,
						loads: append([]fastener.Load{weight(direction + float64(quarter)*math.Pi/2)}, p.load...)})
					if slope == 0 {
						break
					}
				}
			}
		}
	}
	h.gust = gust
	return h, j.slams(h, l)
}

// slams adds the blow against either stop.
func (j *job) slams(h *hanging, l *leafOn) error {
	ask := j.loadFactors(setup{wind: j.measured})
	for n, angle := range [2]float64{0, float64(l.gate.Open.V)} {
		if n > 0 && angle == 0 {
			break
		}
		s := setup{state: stateClosed, wind: j.measured}
		way := l.leaf.Swing // the stop pushes a closing leaf back
		if n > 0 {
			s.state, s.people, way = stateOpen, true, -way
		}
		for _, stop := range h.met {
			slam := fastener.Slam{Mass: l.mass.Heavy, Centre: fastener.Vec{float64(l.gate.Width.V) / 2, 0, float64(l.gate.Clearance.V + l.gate.Height.V/2)},
				Width: float64(l.gate.Width.V), StopX: stop[0], StopZ: stop[1]}
			if h.gust > 0 {
				slam.GustForce, slam.Swing = h.gust, float64(l.gate.Open.V)
			}
			blow, err := slam.Blow()
			if err != nil {
				return err
			}
			c := hingeCase{what: "slammed against its stop", setup: s, angle: angle, duration: fastener.Impact, slam: true, blow: blow.Steps,
				loads: []fastener.Load{{What: "leaf", Force: fastener.Vec{0, 0, -ask.burden * l.mass.Heavy * statics.StandardGravity}, At: slam.Centre}}}
			for _, q := range blow.Loads {
				q.Force[1] *= way * ask.wind
				c.loads = append(c.loads, q)
			}
			h.cases = append(h.cases, c)
		}
	}
	return nil
}

// screwOn puts the screws of the file into the hinges.
func (j *job) screwOn(h *hanging) error {
	g, f := h.gate, h.gate.Hinge
	name := g.Name.V
	k, err := j.kitOf(&f.Fasteners, name)
	if err != nil {
		return err
	}
	if !f.Thickness.Given {
		return fmt.Errorf("the file does not say how thick the wood of the post is at the hinges (thickness)")
	}
	mount := f.Mount.V
	if mount == "" {
		mount = j.assumed("hinge_mount", name)
	}
	h.face = mount == "face"
	h.plate = fastener.Plate{Up: fastener.Vec{0, 0, 1}, Width: float64(f.Plate[0].V), Height: float64(f.Plate[1].V)}
	if !f.Plate[0].Given || !f.Plate[1].Given {
		h.plate.Width = assumedMeasure[quantity.Length](j, "hinge_plate_width", name)
		h.plate.Height = assumedMeasure[quantity.Length](j, "hinge_plate_height", name)
	}
	post, err := j.material(f.Into, name)
	if err != nil {
		return err
	}
	wing, thick := post, float64(f.LeafThick.V)
	if f.LeafInto.Given {
		if wing, err = j.material(f.LeafInto, name); err != nil {
			return err
		}
	}
	if !f.LeafThick.Given {
		thick = float64(g.Thickness.V)
	}
	h.post, err = j.refit(half{name: "the post", onPost: true, held: &held{Joint: fastener.Joint{
		Main: fastener.Member{Material: post, Thickness: float64(f.Thickness.V), Angle: math.Pi / 2}}}}, k, h.plate)
	if err != nil {
		return err
	}
	h.wing, err = j.refit(half{name: "the leaf", held: &held{Joint: fastener.Joint{
		Main: fastener.Member{Material: wing, Thickness: thick, Angle: math.Pi / 2}}}}, k, h.plate)
	return err
}

// refit is one half of the hinges with other screws.
func (j *job) refit(side half, k kit, plate fastener.Plate) (half, error) {
	steel, err := fastener.MaterialOf("steel")
	if err != nil {
		return side, err
	}
	joint := side.Joint
	joint.Code, joint.Fastener, joint.Count = j.timberCode(), k.Fastener, k.count
	joint.Side = fastener.Member{Material: steel, Thickness: plateSteel}
	side.count, side.screws = k.count, nil
	for i := range k.count {
		side.screws = append(side.screws, fastener.Point{plate.Width / 2, plate.Height * (float64(i) + 0.5) / float64(k.count)})
	}
	square, far := 0.0, 0.0
	side.tilt = [2]float64{}
	for _, p := range side.screws {
		r := math.Abs(p[1] - plate.Height/2)
		square, far = square+r*r, math.Max(far, r)
		side.tilt[1] += p[1] * p[1]
	}
	top := side.screws[k.count-1][1]
	side.polar, side.tilt = quotient(square, far), [2]float64{2 / (plate.Width * float64(k.count)), top / side.tilt[1]}
	side.held, err = j.hold(joint)
	return side, err
}

// each visits the reactions of every case.
func (h *hanging) each(visit func(c *hingeCase, r fastener.Reaction, stop float64)) {
	for i := range h.cases {
		h.react(&h.cases[i], visit)
	}
}

func (h *hanging) react(c *hingeCase, visit func(c *hingeCase, r fastener.Reaction, stop float64)) {
	leaf, stops := h.leaf, h.stops
	if c.slam { // its loads hold the balance about the hinge line
		leaf.Stopped, stops = false, stops[:1]
	}
	for _, leaf.StopZ = range stops {
		reactions, err := leaf.Reactions(c.loads)
		if err != nil {
			continue
		}
		for _, r := range reactions {
			visit(c, r, leaf.StopZ)
		}
	}
}

// onPlate is a hinge's force on one half, with the plate and where the pin is on it. The plate on
// the post gets the force, that on the leaf its opposite.
func (h *hanging) onPlate(side *half, c *hingeCase, force fastener.Vec) (p fastener.Plate, f, pin fastener.Vec) {
	p = h.plate
	p.Screws, p.Out = side.screws, fastener.Vec{1, 0, 0}
	if side.onPost {
		sin, cos := math.Sincos(h.swing * c.angle)
		force = fastener.Vec{force[0]*cos - force[1]*sin, force[0]*sin + force[1]*cos, force[2]}
	} else {
		force = fastener.Vec{-force[0], -force[1], -force[2]}
		p.Out[0] = -1
	}
	right := side.onPost == (h.swing > 0) // of the plate's middle lies the pin
	if h.face {
		p.Out, right = fastener.Vec{0, h.swing, 0}, !right
	}
	pin = fastener.Vec{0, p.Height / 2, knuckle}
	if right {
		pin[0] = p.Width
	}
	return p, force, pin
}

// bound is at least what any screw of a half gets of a hinge's force: what shares would say if
// every part of it were worst for one screw.
func (h *hanging) bound(side *half, p *fastener.Plate, f, pin fastener.Vec) fastener.Demand {
	n := float64(side.count)
	out := f[0]*p.Out[0] + f[1]*p.Out[1]
	across := math.Abs(f[0]*p.Out[1] - f[1]*p.Out[0])
	lever, up := math.Abs(pin[0]-p.Width/2), math.Abs(f[2])
	turn := lever * up // in the plane, about the middle
	d := fastener.Demand{
		Lateral: math.Hypot(across, up)/n + quotient(turn, side.polar),
		Tension: math.Max(0, out)/n + knuckle*(up*side.tilt[1]+across*side.tilt[0]),
	}
	if out > 0 {
		d.Tension += lever * out * side.tilt[0]
	}
	return d
}

// worst finds the worst screw of one half. A share at or above the bar ends the search.
func (h *hanging) worst(side *half, slam bool, bar float64) (w strain) {
	for i := range h.cases {
		if c := &h.cases[i]; c.slam == slam && w.share < bar {
			h.react(c, func(c *hingeCase, r fastener.Reaction, stop float64) { h.strained(side, c, r, stop, &w) })
		}
	}
	return w
}

func (h *hanging) strained(side *half, c *hingeCase, r fastener.Reaction, stop float64, w *strain) {
	for n, force := range r.Hinges {
		plate, f, pin := h.onPlate(side, c, force)
		if w.at != nil && side.rough(h.bound(side, &plate, f, pin), c.duration) <= w.share {
			continue
		}
		pulls, _, err := plate.Share(f, pin, fastener.Vec{})
		if err != nil {
			continue
		}
		for _, pull := range pulls {
			if w.at != nil && side.rough(pull.Demand, c.duration) <= w.share {
				continue
			}
			use, share := side.compare(pull.Demand, c.duration)
			if w.at == nil || share > w.share*(1+1e-9) {
				*w = strain{share, use, c, stop, r.Case, n, r.Hinges}
			}
		}
	}
}

// hingeSteps work the governing case.
func (j *job) hingeSteps(h *hanging, side *half, w *strain) []verdict.Step {
	c := w.at
	angle := fmt.Sprintf("swung %.0f degrees from closed", c.angle*180/math.Pi)
	steps := []verdict.Step{{Text: "governing case", Formula: c.what, Numbers: angle + ", " + w.bears, At: h.gate.Name.At.String()}}
	for _, q := range c.loads {
		steps = append(steps, verdict.Step{Text: "load on the leaf: " + q.What, Formula: "out along the leaf, across it, up, with its factor", Numbers: fmt.Sprintf("(%.4g, %.4g, %.4g) N at %.3f m from the hinges, %.3f m above the ground", still(q.Force[0]), still(q.Force[1]), still(q.Force[2]), q.At[0], q.At[2])})
	}
	if !c.slam {
		steps = append(steps, verdict.Step{Text: "stop or keeper", Formula: "holds the free edge, at the height that is worse", Numbers: fmt.Sprintf("%.3f m from the hinges, %.3f m above the ground", h.leaf.StopX, w.stop)})
	}
	for _, b := range c.blow {
		steps = append(steps, verdict.Step{Text: "blow: " + b.What, Numbers: b.Formula, Source: b.Source + " (" + b.Certainty + ")"})
	}
	for i, f := range w.hinges {
		steps = append(steps, verdict.Step{Text: fmt.Sprintf("force of the leaf on hinge %d, at %s", i+1, j.long(h.leaf.Hinges[i])),
			Formula: "along the leaf F/n + M (z - z0) / sum (z - z0)^2, across it likewise, weight as the case says", Numbers: fmt.Sprintf("(%.4g, %.4g, %.4g) N", still(f[0]), still(f[1]), still(f[2])), Source: "statics of the leaf"})
	}
	d := w.use
	return append(steps, verdict.Step{Text: fmt.Sprintf("worst of %d screws of hinge %d in %s", side.count, w.hinge+1, side.name),
		Formula: fmt.Sprintf("share of the force, and of its couple about the plate's edge; plate %s by %s, screws in one row up its middle", j.long(h.plate.Width), j.long(h.plate.Height)),
		Numbers: fmt.Sprintf("%.4g N", d.Demand), At: h.gate.Hinge.At.String()})
}

// cureHinge looks for what makes one half hold, each kind at its least.
func (j *job) cureHinge(h *hanging, side *half, slam bool, w *strain) string {
	var cures []string
	holds := func(h *hanging, side *half) bool {
		var one strain
		h.react(w.at, func(c *hingeCase, r fastener.Reaction, stop float64) { h.strained(side, c, r, stop, &one) })
		return one.share <= 1 && h.worst(side, slam, 1+1e-9).share <= 1
	}
	will := func(side *half) func(kit) bool {
		return func(k kit) bool {
			other, err := j.refit(*side, k, h.plate)
			return err == nil && holds(h, &other)
		}
	}
	say := func(format string, args ...any) { cures = append(cures, fmt.Sprintf(format, args...)) }
	if slam {
		if words := j.betterStop(h, side); words != "" {
			cures = append(cures, words)
		}
	}
	k := kit{side.Fastener, side.count}
	if k.Kind != fastener.Bolt {
		done := first(stouter(k, plateSteel, side.Main.Thickness), will(side), func(k kit) { say("use %s", j.words(k.Fastener)) })
		var more []kit
		for n := k.count + 1; n <= mostScrews; n++ {
			more = append(more, kit{k.Fastener, n})
		}
		done = first(more, will(side), func(k kit) { say("take hinges with %d such screws in each half", k.count) }) || done
		for _, block := range blocks {
			thicker := *side
			thicker.held = &held{Joint: side.Joint}
			thicker.Main.Thickness += block
			done = done || first(stouter(k, plateSteel, thicker.Main.Thickness), will(&thicker), func(k kit) {
				say("back %s with a block of %s and use %s", side.name, j.long(block), j.words(k.Fastener))
			})
		}
	}
	first(boltsFor(k), will(side), func(k kit) { say("use %s", j.words(k.Fastener)) })
	if leaf, share, err := h.leaf.FurtherHinge(func(l fastener.Leaf) (float64, error) {
		k := *h
		k.leaf = l
		return k.worst(side, slam, math.Inf(1)).share, nil
	}); err == nil && share <= 1 {
		cures = append(cures, fmt.Sprintf("add one more hinge at %s", j.long(leaf.Hinges[len(leaf.Hinges)-1])))
	}
	if len(cures) == 0 {
		return "no screws or bolts that fit will do: a lighter or narrower leaf, less wind, or hinges farther apart"
	}
	return orList(cures)
}

// betterStop tries the stop where a blow leaves the hinges alone: two thirds of the width out,
// the centre of percussion of an even leaf, at the middle of its height.
func (j *job) betterStop(h *hanging, side *half) string {
	g := h.gate
	l, _ := j.f.Leaf(g)
	other := *h
	other.cases = nil
	other.met = [][2]float64{{2 * float64(g.Width.V) / 3, float64(g.Clearance.V + g.Height.V/2)}}
	if err := j.slams(&other, &leafOn{g, l, h.mass}); err != nil || other.worst(side, true, math.Inf(1)).share > 1 {
		return ""
	}
	return fmt.Sprintf("set its stops %s out from the hinges and %s up, where a blow leaves the hinges alone", j.long(other.met[0][0]), j.long(other.met[0][1]))
}

// mostScrews is how many screws in one half of a hinge are advised.
const mostScrews = 8

// blocks are thicknesses of backing blocks, m.
var blocks = [...]float64{0.75 * 0.0254, 1.5 * 0.0254, 3 * 0.0254}

// keepers says what holds the leaf in each position, and what it must hold.
func (j *job) keepers(h *hanging) {
	g := h.gate
	at := g.Name.At
	keeper := site.Keeper{}
	if g.Keeper != nil {
		keeper, at = *g.Keeper, g.Keeper.At
	}
	for _, k := range []struct {
		word   site.Word
		what   string
		people bool
	}{{keeper.Closed, "keeper, closed", false}, {keeper.Open, "keeper, open", true}} {
		if !k.word.Given {
			j.demanded(g.Name.V, k.what, fmt.Sprintf("nothing holds the leaf %s: it swings free in the wind", strings.TrimPrefix(k.what, "keeper, ")), 0, at)
			continue
		}
		worst, governs := 0.0, (*hingeCase)(nil)
		h.each(func(c *hingeCase, r fastener.Reaction, stop float64) {
			if push := math.Abs(r.Stop); !c.slam && c.setup.state != stateLoose && c.setup.people == k.people && push > worst {
				worst, governs = push, c
			}
		})
		if governs == nil {
			continue
		}
		required := j.f.Require.Overturning.V
		if !keeper.Hold.Given {
			j.demanded(g.Name.V, k.what, fmt.Sprintf("the file does not say what its %s holds (hold of keeper)", k.word.V), required*worst, at)
			continue
		}
		hold := float64(keeper.Hold.V)
		use := fastener.Use{Demand: required * worst, Capacity: hold, Mode: k.word.V + " gives way", Certainty: "given in the site file"}
		j.record(grip{subject: g.Name.V, what: k.what, at: at, use: use, share: use.Demand / hold, state: string(governs.setup.state), fromDeg: governs.fromDeg,
			cure: fmt.Sprintf("a %s that holds %s", k.word.V, j.force(math.Ceil(use.Demand))),
			steps: []verdict.Step{{Text: "push of the leaf on its " + k.word.V, Formula: "moment of " + governs.what + " about the hinges over the width of the leaf",
				Numbers: fmt.Sprintf("%.4g N, times the required factor %.3g", worst, required)}}})
	}
}
