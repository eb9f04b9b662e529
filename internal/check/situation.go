package check

import (
	"math"
	"slices"
	"strconv"

	"galefast/internal/catalog"
	"galefast/internal/site"
	"galefast/statics"
	"galefast/wind"
)

// state is a situation that a site must stand in.
type state string

const (
	stateOpen   state = "open"   // the public inside, leaves open, people leaning
	stateClosed state = "closed" // nobody near, leaves closed
	stateLoose  state = "loose"  // a leaf that nothing holds, resting on its other stop
)

// setup is a state with its wind, its people and the position of the leaves.
type setup struct {
	state  state
	wind   *climate
	gust   float64 // m/s, as the climate's basis understands it
	people bool    // the public inside, leaves open as far as something holds them

	blows  []float64 // directions, rad, of the wind that are tried; nil: all
	swings []float64 // angles, rad, at which a leaf that nothing holds is tried; nil: on its own stop
	swing  float64   // the one of them that is meant
}

// swingStep is how finely a leaf that nothing holds is tried between its stops, rad.
const swingStep = 15 * math.Pi / 180

// climate is how wind becomes force, and what it is combined with.
type climate struct {
	model        *wind.Model
	combinations []wind.Combination // each must hold
}

// newClimate makes the climate of a basis for the site.
func (j *job) newClimate(b wind.Basis) (*climate, error) {
	combinations, err := wind.Combinations(b)
	if err != nil {
		return nil, err
	}
	model, err := wind.NewModel(j.windSite(b))
	if err != nil {
		return nil, err
	}
	return &climate{model, combinations}, nil
}

// setups lists what bodies that stand together must stand in. A leaf without a keeper in a state also
// rests on its other stop in the wind of that state, and is met on the way there. The
// public's gust is one that somebody measures, whatever the basis for the time when
// nobody is there.
func (j *job) setups(bodies ...*lone) []setup {
	open, alone := j.gusts()
	measured := j.measured
	if !j.f.Site.GustOpen.Given {
		measured = j.code
	}
	list := []setup{
		{state: stateOpen, wind: measured, gust: open, people: true},
		{state: stateClosed, wind: j.code, gust: alone},
	}
	var free, freeAlone float64 // how far the leaves that nothing holds swing
	for _, b := range bodies {
		for i := range b.leaves {
			l := &b.leaves[i]
			if !l.held(true) {
				free = math.Max(free, float64(l.gate.Open.V))
			}
			if !l.held(false) {
				freeAlone = math.Max(freeAlone, float64(l.gate.Open.V))
			}
		}
	}
	if free > 0 {
		list = append(list, setup{state: stateLoose, wind: measured, gust: open, people: true, swings: swingsTo(free)[:len(swingsTo(free))-1]})
	}
	if freeAlone > 0 {
		list = append(list, setup{state: stateLoose, wind: j.code, gust: alone, swings: swingsTo(freeAlone)[1:]})
	}
	return list
}

// swingsTo are the angles from closed to open, both of them included.
func swingsTo(open float64) []float64 {
	var list []float64
	for k := 0; float64(k)*swingStep < open*(1-1e-9); k++ {
		list = append(list, float64(k)*swingStep)
	}
	return append(list, open)
}

// held reports whether a keeper holds the leaf, with the public inside or without.
func (l *leafOn) held(people bool) bool {
	k := l.gate.Keeper
	if people {
		return k != nil && k.Open.Given
	}
	return k != nil && k.Closed.Given
}

// gusts are the gusts with and without the public; without one of its own, the
// public's is the other.
func (j *job) gusts() (open, alone float64) {
	alone = float64(j.f.Site.GustAlone.V)
	if j.f.Site.GustOpen.Given {
		return float64(j.f.Site.GustOpen.V), alone
	}
	return alone, alone
}

// situation is one combination of loads on a body.
type situation struct {
	setup
	towards float64 // the wind blows to, rad
	pick    []int   // alternative of each surface's wind
	push    int     // index of the person's push; -1 for none
	heavy   bool    // burdens at their heavy end
	combine int     // index of the climate's combination
	heavies []bool  // of a group, in place of heavy: the masses at their heavy end
}

// combination is what the actions are multiplied by.
func (s *situation) combination() *wind.Combination { return &s.wind.combinations[s.combine] }

// blow is one alternative of the wind on a surface, as far as the body carries it.
type blow struct {
	statics.Force
	load    wind.Load
	surface wind.Surface
	share   float64
}

// winds returns the alternatives of every surface of a body in one direction.
func (j *job) winds(b *lone, s setup, towards, gust float64) ([][]blow, error) {
	if b.blown == nil || gust != s.gust {
		return j.blow(b, s, towards, gust)
	}
	what := acting{start{s.state, s.people, s.swing, towards, 0, 0}, s.wind, gust}
	all, ok := b.blown[what]
	if !ok {
		var err error
		if all, err = j.blow(b, s, towards, gust); err != nil {
			return nil, err
		}
		b.blown[what] = all
	}
	return all, nil
}

// blow works winds out.
func (j *job) blow(b *lone, s setup, towards, gust float64) ([][]blow, error) {
	var all [][]blow
	add := func(surface *wind.Surface, share func(wind.Load) (float64, statics.Vec)) error {
		loads, err := s.wind.model.AppendLoads(nil, surface, gust, towards)
		if err != nil {
			return err
		}
		blows := make([]blow, len(loads))
		for i, l := range loads {
			part, at := share(l)
			blows[i] = blow{
				Force: statics.Force{Name: surface.Name, F: statics.Vec{part * l.Force[0], part * l.Force[1], part * l.Force[2]}, At: at},
				load:  l, surface: *surface, share: part,
			}
		}
		if len(blows) > 0 {
			all = append(all, blows)
		}
		return nil
	}
	own := func(l wind.Load) (float64, statics.Vec) { return 1, l.At }
	for i := range b.surfaces {
		if err := add(&b.surfaces[i], own); err != nil {
			return nil, err
		}
	}
	for i := range b.returns {
		n := len(all)
		if err := add(&b.returns[i], own); err != nil {
			return nil, err
		}
		if len(all) > n {
			all[n] = slices.DeleteFunc(all[n], func(bl blow) bool { return offCentre(bl.load.Case) })
		}
	}
	for i := range b.leaves {
		surface := leafSurface(&b.leaves[i], b.leaves[i].angle(s))
		if err := add(&surface, own); err != nil {
			return nil, err
		}
	}
	for i := range b.spans {
		sp := &b.spans[i]
		if err := add(&sp.surface, sp.part); err != nil {
			return nil, err
		}
	}
	return all, nil
}

// offCentre tells the cases whose resultant only lies elsewhere than in case A. On a
// return, which is short and stands at the end of its wall, that changes little, and
// every combination with the wall's own cases would be tried.
func offCentre(c string) bool {
	switch c {
	case wind.CaseBStart, wind.CaseBEnd, wind.CaseOffEnd:
		return true
	}
	return false
}

// angle is how far the leaf is swung.
func (l *leafOn) angle(s setup) float64 {
	open := float64(l.gate.Open.V)
	switch {
	case s.state == stateLoose && !l.held(s.people):
		return math.Min(s.swing, open)
	case s.people:
		return open
	}
	return 0
}

// part is the share of the wind on a span that one of its columns takes, as of a beam
// on two supports, at the end that rests on it.
func (sp *spanOn) part(l wind.Load) (float64, statics.Vec) {
	s, c := math.Sincos(sp.surface.Turn)
	from := (l.At[0]-sp.surface.X)*c + (l.At[1]-sp.surface.Y)*s // from the middle, towards the second column
	share := 0.5 + from/sp.surface.Width
	if sp.first {
		share = 0.5 - from/sp.surface.Width
	}
	return share, statics.Vec{sp.end[0], sp.end[1], l.At[2]}
}

// pushes lists what a person may do to the body in a setup: lean on it in the wind's
// direction or straight out over an edge of its foot, or sit on the tip of a leaf.
func (j *job) pushes(b *lone, s setup, normals []float64, towards float64) []statics.Force {
	if !s.people {
		return nil
	}
	var list []statics.Force
	push, height := float64(j.f.Require.Lean.Force.V), math.Min(float64(j.f.Require.Lean.Height.V), b.top)
	if push > 0 && height >= b.base {
		for _, at := range b.leanAt {
			for i := -1; i < len(normals); i++ {
				dir := towards
				if i >= 0 {
					// A push against the wind never governs.
					if dir = normals[i]; math.Cos(dir-towards) < 0 {
						continue
					}
				}
				sin, cos := math.Sincos(dir)
				list = append(list, statics.Force{Name: "person leaning", F: statics.Vec{push * cos, push * sin, 0}, At: statics.Vec{at[0], at[1], height}})
			}
		}
	}
	for i := range b.leaves {
		l := &b.leaves[i]
		if tip := float64(l.gate.TipLoad.V); tip > 0 {
			sin, cos := math.Sincos(l.leaf.Direction(l.angle(s)))
			w := float64(l.gate.Width.V)
			list = append(list, statics.Force{Name: "person on the tip of " + l.gate.Name.V, F: statics.Vec{0, 0, -tip},
				At: statics.Vec{l.leaf.Hinge[0] + w*cos, l.leaf.Hinge[1] + w*sin, float64(l.gate.Clearance.V + l.gate.Height.V)}})
		}
	}
	return list
}

// deadOf appends the weights of a body with ballast (kg in each slot).
func (j *job) deadOf(dst []statics.Force, b *lone, s situation, ballast []float64) []statics.Force {
	gravity, combine := statics.Gravity(float64(j.f.Site.Slope.V), s.towards), s.combination()
	put := func(name string, m float64, at statics.Vec) {
		at[2] -= b.base
		dst = append(dst, statics.Weight(name, m, at, gravity))
	}
	for _, d := range b.dead {
		put(d.name, combine.Dead*d.light, d.at)
	}
	burden := func(light, heavy float64) float64 {
		if s.heavy {
			return combine.DeadUnfavourable * heavy
		}
		return combine.Dead * light
	}
	for i := range b.leaves {
		l := &b.leaves[i]
		put(l.gate.Name.V, burden(l.mass.Light, l.mass.Heavy), l.swung(l.angle(s.setup)))
	}
	for i := range b.spans {
		sp := &b.spans[i]
		put(sp.name, burden(sp.mass.Light, sp.mass.Heavy)/2, statics.Vec{sp.end[0], sp.end[1], sp.mass.Center[2]})
	}
	return j.laidIn(dst, b, s, ballast)
}

// laidIn appends the ballast in a body.
func (j *job) laidIn(dst []statics.Force, b *lone, s situation, ballast []float64) []statics.Force {
	gravity, combine := statics.Gravity(float64(j.f.Site.Slope.V), s.towards), s.combination()
	for i, m := range ballast {
		if m > 0 {
			at := b.slots[i].at
			at[2] -= b.base
			dst = append(dst, statics.Weight("ballast in "+b.slots[i].name, combine.Dead*m, at, gravity))
		}
	}
	return dst
}

// body builds the rigid body of one situation.
func (j *job) body(b *lone, s situation, gust float64, ballast []float64) (statics.Body, []blow, error) {
	winds, err := j.winds(b, s.setup, s.towards, gust)
	if err != nil {
		return statics.Body{}, nil, err
	}
	out := statics.Body{Foot: j.bearing(b, ballast), Friction: b.friction, Dead: j.deadOf(nil, b, s, ballast)}
	var chosen []blow
	for i, alternatives := range winds {
		bl := alternatives[min(s.pick[i], len(alternatives)-1)] // a wall with openings has fewer cases
		chosen = append(chosen, bl)
		out.Live = append(out.Live, b.onFoot(bl.Force, s.combination().Wind))
	}
	if s.push >= 0 {
		out.Live = append(out.Live, b.onFoot(j.pushes(b, s.setup, b.normals(), s.towards)[s.push], s.combination().People))
	}
	return out, chosen, nil
}

// onFoot is a force times a factor, with its height from the body's own foot.
func (b *lone) onFoot(f statics.Force, factor float64) statics.Force {
	for k := range f.F {
		f.F[k] *= factor
	}
	f.At[2] -= b.base
	return f
}

// normals are the outward directions of the edges of the foot, rad.
func (b *lone) normals() []float64 {
	hull, err := statics.Hull(b.foot)
	if err != nil {
		return nil // the check itself reports the foot
	}
	return statics.OutwardNormals(hull)
}

// directions are the ones that the wind is tried in: every 15 degrees and both
// normals of each face of a body and of what hangs on it.
func (b *lone) directions(s setup) []float64 { return s.directions(b.faces(s)) }

func (s setup) directions(faces []float64) []float64 {
	if s.blows != nil {
		return s.blows
	}
	return wind.Directions(faces)
}

// faces are the directions along the faces that the wind meets, or across them.
func (b *lone) faces(s setup) []float64 {
	var faces []float64
	for _, surface := range append(slices.Clone(b.surfaces), b.returns...) {
		faces = append(faces, surface.Turn, surface.Turn+math.Pi/2)
	}
	for i := range b.leaves {
		faces = append(faces, b.leaves[i].leaf.Direction(b.leaves[i].angle(s))+math.Pi/2)
	}
	for i := range b.spans {
		faces = append(faces, b.spans[i].surface.Turn+math.Pi/2)
	}
	return faces
}

// each visits every situation of a body in one setup. The body handed over is used
// again for the next situation.
func (j *job) each(b *lone, s setup, gust float64, ballast []float64, visit func(situation, *statics.Body) error) error {
	body := statics.Body{Foot: j.bearing(b, ballast), Friction: b.friction}
	if err := body.Prepare(); err != nil {
		return err
	}
	for _, s := range s.positions() {
		for _, towards := range b.directions(s) {
			if err := j.eachFrom(b, s, towards, gust, ballast, &body, visit); err != nil {
				return err
			}
		}
	}
	return nil
}

// positions are the setup with its leaves at each angle at which they are tried.
func (s setup) positions() []setup {
	if len(s.swings) == 0 {
		return []setup{s}
	}
	var list []setup
	for _, s.swing = range s.swings {
		list = append(list, s)
	}
	return list
}

// eachFrom visits every situation of a body in one direction of the wind.
func (j *job) eachFrom(b *lone, s setup, towards, gust float64, ballast []float64, body *statics.Body, visit func(situation, *statics.Body) error) error {
	winds, err := j.winds(b, s, towards, gust)
	if err != nil {
		return err
	}
	heavies := []bool{false}
	if len(b.leaves)+len(b.spans) > 0 {
		heavies = append(heavies, true)
	}
	pushes := j.pushes(b, s, b.normals(), towards)
	sit := situation{setup: s, towards: towards, pick: make([]int, len(winds))}
	for sit.combine = range s.wind.combinations {
		combine := sit.combination()
		for _, sit.heavy = range heavies {
			body.Dead = j.deadOf(body.Dead[:0], b, sit, ballast)
			for more := true; more; more = next(sit.pick, winds) {
				for sit.push = -1; sit.push < len(pushes); sit.push++ {
					if sit.push < 0 && len(pushes) > 0 {
						continue // a person pushing along only adds to the same wind
					}
					body.Live = body.Live[:0]
					for i, alternatives := range winds {
						body.Live = append(body.Live, b.onFoot(alternatives[sit.pick[i]].Force, combine.Wind))
					}
					if sit.push >= 0 {
						body.Live = append(body.Live, b.onFoot(pushes[sit.push], combine.People))
					}
					if err := visit(sit, body); err != nil {
						return err
					}
				}
			}
		}
	}
	return nil
}

// next steps the choice of alternatives like a counter; false after the last one.
func next(pick []int, winds [][]blow) bool {
	for i := range pick {
		if pick[i]++; pick[i] < len(winds[i]) {
			return true
		}
		pick[i] = 0
	}
	return false
}

// keep copies a situation so that it outlives the visit.
func (s situation) keep() situation {
	s.pick, s.heavies = slices.Clone(s.pick), slices.Clone(s.heavies)
	return s
}

// fromDeg is the bearing that the wind comes from.
func (s situation) fromDeg() float64 {
	d := math.Mod(270-s.towards*180/math.Pi, 360)
	if d < 0 {
		d += 360
	}
	return math.Round(d*1000) / 1000
}

// unit is the mass of one unit of a ballast entry and what it is called.
func (j *job) unit(b *site.Ballast) (mass float64, row catalog.Ballast) {
	if b.Mass.Given {
		return float64(b.Mass.V), catalog.Ballast{Row: catalog.Row{Name: b.Mass.Text, Source: "declared"}}
	}
	row, _ = j.f.Catalog.Ballast.Find(b.Unit.V)
	return float64(row.Mass), row
}

// inPlace is the ballast that the file puts into each slot of a body, kg.
func (j *job) inPlace(b *lone) []float64 {
	kg := make([]float64, len(b.slots))
	for _, n := range b.ballast {
		entry := &j.f.Ballasts[n]
		mass, _ := j.unit(entry)
		if i, ok := b.slotOf(entry); ok {
			kg[i] += mass * float64(entry.Count.V)
		}
	}
	return kg
}

// slotOf is the slot that a ballast entry means: the lowest section or the base when
// it does not say.
func (b *lone) slotOf(entry *site.Ballast) (int, bool) {
	name := entry.Section.V + entry.Place.V
	for i, s := range b.slots {
		if name == "" || s.name == name {
			return i, true
		}
	}
	return 0, false
}

// number reads a value of the site's defaults, which a test holds to be numbers.
func number(text string) float64 {
	v, _ := strconv.ParseFloat(text, 64)
	return v
}
