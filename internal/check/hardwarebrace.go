package check

import (
	"fmt"
	"math"

	"galefast/internal/site"
	"galefast/internal/verdict"
	"galefast/statics"
	"galefast/statics/fastener"
)

// pull is the greatest force in one thing, with the case that makes it.
type pull struct {
	force    float64 // N
	duration fastener.Duration
	sit      situation
	moment   float64 // N m
	what     string
}

// braces checks what holds the raking braces of a wall. Nothing but the braces is counted on
// against what tips the wall across its line.
func (j *job) braces(i int) {
	w := &j.f.Walls[i]
	subject := w.Name.V
	ends := []struct {
		what string
		end  *site.Fastening
		key  string
	}{{"brace heads", w.Braces.Head, "head"}, {"brace toes", w.Braces.Toe, "toe"}}
	if j.code == nil {
		for _, e := range ends {
			j.demanded(subject, e.what, "the wind on the wall cannot be computed", 0, w.Braces.At)
		}
		return
	}
	worst, err := j.braceForces(i)
	if err != nil {
		for _, e := range ends {
			j.demanded(subject, e.what, err.Error(), 0, w.Braces.At)
		}
		return
	}
	for _, e := range ends {
		if e.end == nil {
			most := 0.0
			for _, p := range worst {
				most = math.Max(most, p.force)
			}
			j.demanded(subject, e.what, fmt.Sprintf("the file does not say how each brace is fastened there (%s of braces)", e.key), most, w.Braces.At)
			continue
		}
		j.fastened(subject, e.what, e.end, worst, func(p *pull) []verdict.Step {
			reach, height := float64(w.Braces.Reach.V), float64(w.Braces.Height.V)
			return []verdict.Step{
				{Text: "what tips the wall about its line", Formula: "sum of force · height, with the factors of the loads", Numbers: fmt.Sprintf("%s: %.4g N·m on the worst of %d braces", p.what, p.moment, w.Braces.Count.V), At: w.At.String()},
				{Text: "force in that brace", Formula: "M / h · sqrt(r^2 + h^2) / r", Numbers: fmt.Sprintf("%.4g / %.3f · sqrt(%.3f^2 + %.3f^2) / %.3f = %.4g N", p.moment, height, reach, height, reach, p.force), Source: "equilibrium of the head", At: w.Braces.At.String()},
			}
		})
	}
}

// braceForces are the greatest forces in one brace, one for each duration. The braces share a
// load along the wall as of a stiff wall on springs alike; a person leans at the height and the place
// that the rest of the checks use.
func (j *job) braceForces(i int) ([]pull, error) {
	w := &j.f.Walls[i]
	from, along, left, length := w.Frame()
	b := j.wall(i)
	n, reach, height := w.Braces.Count.V, float64(w.Braces.Reach.V), float64(w.Braces.Height.V)
	// Of braces that stand evenly the outermost get most: half a spacing from the ends, and the
	// squares of all their distances from the middle sum up to L² (n² - 1) / (12 n).
	outer := length / 2 * (1 - 1/float64(n))
	square := length * length * (float64(n)*float64(n) - 1) / (12 * float64(n))
	// tips adds a load's moment about the wall's line, and that times its distance from the
	// middle.
	tips := func(t *[2]float64, f, at statics.Vec, by float64) {
		rel := [2]float64{at[0] - from[0], at[1] - from[1]}
		across, aside := f[0]*left[0]+f[1]*left[1], rel[0]*left[0]+rel[1]*left[1]
		m := by * (across*at[2] - f[2]*aside)
		t[0] += m
		t[1] += m * (rel[0]*along[0] + rel[1]*along[1] - length/2)
	}
	list := []pull{{duration: fastener.Wind}, {duration: fastener.TenYears}}
	axial := math.Hypot(reach, height) / (reach * height)
	meet := func(p *pull, t [2]float64, s situation, what string) {
		for _, x := range [2]float64{-outer, outer} {
			m := t[0] / float64(n)
			if square > 0 {
				m += t[1] * x / square
			}
			if f := math.Abs(m) * axial; f > p.force*(1+1e-9) {
				p.force, p.moment, p.what, p.sit = f, math.Abs(m), what, s.keep()
			}
		}
	}
	for _, s := range j.setups(b) {
		ask := j.loadFactors(s)
		for _, towards := range b.directions(s) {
			winds, err := j.winds(b, s, towards, s.gust)
			if err != nil {
				return nil, err
			}
			gravity := statics.Gravity(float64(j.f.Site.Slope.V), towards)
			var dead [2]float64
			for _, d := range b.dead {
				tips(&dead, statics.Vec{d.heavy * gravity[0], d.heavy * gravity[1], d.heavy * gravity[2]}, d.at, ask.burden)
			}
			sit := situation{setup: s, towards: towards, push: -1, pick: make([]int, len(winds))}
			pushes := j.pushes(b, s, b.normals(), towards)
			for more := true; more; more = next(sit.pick, winds) {
				t := dead
				for k, alternatives := range winds {
					bl := alternatives[sit.pick[k]]
					tips(&t, bl.F, bl.At, ask.wind)
				}
				if len(pushes) == 0 {
					meet(&list[0], t, sit, "wind")
				}
				for sit.push = range pushes {
					people := t
					tips(&people, pushes[sit.push].F, pushes[sit.push].At, ask.people)
					meet(&list[0], people, sit, "wind and a "+pushes[sit.push].Name)
				}
				sit.push = -1
			}
			for sit.push = range pushes {
				people := dead
				tips(&people, pushes[sit.push].F, pushes[sit.push].At, ask.people)
				meet(&list[1], people, sit, "a "+pushes[sit.push].Name)
			}
		}
	}
	return list, nil
}

// fastening is one fastening with its capacities.
type fastening struct {
	kit
	*held
}

// fasteningOf reads bolts or screws of the file through one thickness into another, across
// the grain of both.
func (j *job) fasteningOf(f *site.Fasteners, through float64, subject string) (*fastening, error) {
	k, err := j.kitOf(f, subject)
	if err != nil {
		return nil, err
	}
	wood, err := j.material(f.Into, subject)
	if err != nil {
		return nil, err
	}
	return j.fit(k, wood, through, float64(f.Thickness.V))
}

func (j *job) fit(k kit, wood fastener.Material, through, into float64) (*fastening, error) {
	h, err := j.hold(fastener.Joint{Code: j.timberCode(), Fastener: k.Fastener, Count: k.count,
		Side: fastener.Member{Material: wood, Thickness: through, Angle: math.Pi / 2},
		Main: fastener.Member{Material: wood, Thickness: into, Angle: math.Pi / 2}})
	return &fastening{k, h}, err
}

// fastened checks one fastening whose screws or bolts share forces across them alike.
func (j *job) fastened(subject, what string, f *site.Fastening, pulls []pull, steps func(*pull) []verdict.Step) {
	g := grip{subject: subject, what: what, at: f.At}
	x, err := j.fasteningOf(&f.Fasteners, float64(f.Through.V), subject)
	if err != nil {
		most := 0.0
		for _, p := range pulls {
			most = math.Max(most, p.force)
		}
		j.demanded(subject, what, err.Error(), most, f.At)
		return
	}
	judge := func(x *fastening) (worst *pull) {
		for i := range pulls {
			use, share := x.compare(fastener.Demand{Lateral: pulls[i].force / float64(x.count)}, pulls[i].duration)
			if worst == nil || share > g.share {
				worst, g.use, g.share = &pulls[i], use, share
			}
		}
		return worst
	}
	var cures []string
	p := judge(x)
	use, share := g.use, g.share
	g.kind = x.Kind
	if share > 1 {
		wood := x.Main.Material
		try := func(k kit, words string) bool {
			other, err := j.fit(k, wood, float64(f.Through.V), float64(f.Thickness.V))
			if err != nil {
				return false
			}
			g.share = 0
			judge(other)
			if g.share > 1 {
				return false
			}
			cures = append(cures, words)
			return true
		}
		j.otherKits(x.kit, float64(f.Through.V), float64(f.Thickness.V), "in each", try)
	}
	if len(cures) == 0 {
		cures = []string{"no screws or bolts that fit there will do: more braces, or braces that reach farther"}
	}
	g.use, g.share, g.cure = use, share, orList(cures)
	g.steps = append(steps(p), verdict.Step{Text: fmt.Sprintf("each of %d", x.count), Formula: "force / number", Numbers: fmt.Sprintf("%.4g / %d = %.4g N across it", p.force, x.count, p.force/float64(x.count)), At: f.At.String()})
	g.state = string(p.sit.state)
	if p.duration == fastener.Wind {
		from := p.sit.fromDeg()
		g.fromDeg = &from
	}
	j.record(g)
}

// otherKits offers what may stand in for some fasteners until one of each kind will do.
func (j *job) otherKits(k kit, through, into float64, where string, try func(kit, string) bool) {
	kind := "screws"
	if k.Kind == fastener.Bolt {
		kind = "bolts"
	} else {
		for _, s := range stouter(k, through, into) {
			if try(s, "use "+j.words(s.Fastener)) {
				break
			}
		}
	}
	for n := k.count + 1; n <= mostBolts; n++ {
		if try(kit{k.Fastener, n}, fmt.Sprintf("put %d such %s %s", n, kind, where)) {
			break
		}
	}
	for _, b := range boltsFor(k) {
		if try(b, "use "+j.words(b.Fastener)) {
			break
		}
	}
}
