package check

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"galefast/internal/site"
	"galefast/internal/verdict"
	"galefast/statics"
	"galefast/wind"
)

// windSite is the site as a basis sees it.
func (j *job) windSite(b wind.Basis) wind.Site {
	s := &j.f.Site
	w := wind.Site{Basis: b, Terrain: s.Terrain.V, AirDensity: float64(s.AirDensity.V), Kzt: s.Kzt.V, Ke: s.Ke.V}
	if b == wind.Basis(s.Basis.V) {
		// A measured gust beside a code's basis takes nothing from it but the place.
		w.Kd, w.G, w.Reduction = s.Kd.V, s.G.V, s.Reduction.V
		w.CDir, w.CSeason, w.CProb, w.ReturnPeriod, w.ShortUse = s.CDir.V, s.CSeason.V, s.CProb.V, s.ReturnPeriod.V, s.ShortUse.V
		w.CProbK, w.CProbN = s.CProbK.V, s.CProbN.V
		w.Z0, w.ZMin, w.Orography, w.KI, w.Ce = float64(s.Z0.V), float64(s.ZMin.V), s.Orography.V, s.KI.V, s.Ce.V
	}
	return w
}

// basisNotes says what a code's basis takes for granted.
func (j *job) basisNotes() {
	s := &j.f.Site
	if s.Basis.V == "gust" {
		return
	}
	j.take(fmt.Sprintf("basis %s: gust_alone is the speed of that document (ASCE 7: strength-level map speed; EN 1991: fundamental basic wind velocity), and its combinations stand in place of the required factors for the state closed", s.Basis.V), "", "given in the site file")
	if s.Basis.V == "en1991" {
		j.take("en1991: no piece shelters another (psi_s 1), and every National Annex value that the file does not give is the recommended one: c_dir, c_season, c_o, k_i and c_s c_d 1, K 0.2 and n 0.5 for a return period", "EN 1991-1-4 4.2 to 4.4, 6 and 7.4.2", "common practice, no source")
	}
	if s.GustOpen.Given {
		j.take("gust_open is a gust that somebody measures: the state open is checked by the basis gust and the required factors of the file", "", "common practice, no source")
	}
	if s.Reduction.Given {
		if r, err := wind.ReductionOf(s.Reduction.V); err == nil {
			j.report.PlanInForce = r.Name
			j.take(fmt.Sprintf("the wind is lowered by the rule %s (%s): only where %s", r.Name, r.Clause, r.Condition), r.Source, r.Certainty)
		}
	}
}

// sectionSurface is a section of a column as the wind meets it.
func sectionSurface(c *site.Column, k int, least float64) wind.Surface {
	s := &c.Sections[k]
	at := c.Center.XY()
	w, d := s.Size()
	surface := wind.Surface{
		Name: s.Name.V, X: at[0], Y: at[1], Bottom: c.Bottom(k), Top: c.Bottom(k) + float64(s.Height.V),
		Width: w, Depth: d, Turn: float64(c.Turn.V), PieceTop: c.Top(), PieceWidth: least,
		Corner: float64(s.Corner.V), EquivalentRoughness: float64(s.Grain.V),
	}
	switch s.Shape.V {
	case "rectangle":
		surface.Shape = wind.Rectangle
	case "round":
		surface.Shape = wind.Round
		switch s.Rough.V {
		case "smooth":
			surface.Roughness = wind.Smooth
		case "rough":
			surface.Roughness = wind.Rough
		}
	case "hexagon":
		surface.Shape = wind.Hexagon
	case "octagon":
		surface.Shape = wind.Octagon
	default:
		surface.Shape = wind.Square
	}
	return surface
}

// windRows writes the wind on each surface of a piece, for each setup in the situation
// that governs it, or in every direction.
func (j *job) windRows(b *lone, governs []situation) {
	for i := range governs {
		s := governs[i].setup
		directions := []float64{governs[i].towards}
		if j.options.EveryDirection {
			directions = b.directions(s)
		}
		for _, towards := range directions {
			winds, err := j.winds(b, s, towards, s.gust)
			if err != nil {
				return
			}
			sit := situation{setup: s, towards: towards}
			for _, alternatives := range winds {
				for i := range alternatives {
					j.windRow(b, &sit, &alternatives[i])
				}
			}
		}
	}
}

func (j *job) windRow(b *lone, s *situation, bl *blow) {
	l := &bl.load
	from, state := s.fromDeg(), string(s.state)
	if s.state == stateLoose && !s.people {
		state += " alone" // a leaf can be loose with the public inside and without
	}
	row := verdict.WindRow{
		ID:    fmt.Sprintf("wind/%s/%s/%s/%s/%g", b.name, l.Surface, l.Case, state, from),
		Piece: b.name, Surface: l.Surface, Case: l.Case, State: string(s.state), FromDeg: from,
		SpeedMs: l.Speed, ZM: l.Z, QPa: l.Q, Cf: l.Cf, G: l.G, Kd: l.Kd, AreaM2: l.Area,
		ForceN: tidy(l.Force), ArmM: l.At[2], AtM: l.At, Moment: math.Hypot(l.Force[0], l.Force[1]) * l.At[2],
		Source: l.Source, At: b.place(l.Surface), Working: j.windSteps(b, s, bl),
	}
	if row.Kz = &l.Kz; s.wind.model.Site().Basis == wind.EN1991 {
		row.Kz, row.Ce = nil, &l.Kz
	}
	j.report.Wind.Rows = append(j.report.Wind.Rows, row)
}

// tidy sets the components of a force to zero that are rounding of the others.
func tidy(v statics.Vec) statics.Vec {
	most := math.Max(math.Abs(v[0]), math.Max(math.Abs(v[1]), math.Abs(v[2])))
	for k := range v {
		if math.Abs(v[k]) < 1e-12*most {
			v[k] = 0
		}
	}
	return v
}

// windWorking works the wind on every surface. What two surfaces share is said once.
func (j *job) windWorking(b *lone, s *situation, blows []blow) []verdict.Step {
	var steps []verdict.Step
	for i := range blows {
		steps = once(steps, j.windSteps(b, s, &blows[i]))
	}
	return steps
}

// once appends the steps that have not been said yet.
func once(steps, more []verdict.Step) []verdict.Step {
	for _, step := range more {
		if !slices.Contains(steps, step) {
			steps = append(steps, step)
		}
	}
	return steps
}

// windSteps works one surface's force: the velocity pressure, the coefficient, the force.
func (j *job) windSteps(b *lone, s *situation, bl *blow) []verdict.Step {
	l := &bl.load
	place := s.wind.model.Site()
	terms, err := s.wind.model.Work(&bl.surface, s.gust, s.towards, l.Case)
	if err != nil {
		return nil // no load without its terms
	}
	var steps []verdict.Step
	q, cf := []string{}, []string{}
	for i, t := range terms {
		number := fmt.Sprintf("%.4g", t.Value)
		step := verdict.Step{Text: t.What, Formula: t.Formula, Numbers: t.Numbers, Source: t.Source}
		if i == 0 {
			step.At = j.gustAt(s.gust)
		}
		if t.Factor == wind.FactorOfQ {
			q = append(q, number)
		}
		if len(q) < 2 || t.Factor == wind.FactorOfQ {
			steps = append(steps, step)
			if len(q) == 2 {
				steps = append(steps, pressureStep(&place, q, l))
			}
			continue
		}
		if t.Factor == wind.FactorOfCf {
			cf = append(cf, number)
		}
		step.Text = l.Surface + ": " + step.Text
		steps = append(steps, step)
	}
	if len(cf) > 1 {
		steps = append(steps, verdict.Step{Text: l.Surface + ": force coefficient", Formula: "Cf = product of the above", Numbers: fmt.Sprintf("Cf = %s = %.4g", strings.Join(cf, " · "), l.Cf)})
	}
	steps = append(steps, forceStep(b, &place, l))
	if bl.share != 1 {
		steps = append(steps, verdict.Step{Text: "share of it on this piece, as of a beam on two supports", Formula: "F · share",
			Numbers: fmt.Sprintf("%.4g · %.3g = %.4g N", math.Hypot(l.Force[0], l.Force[1]), bl.share, math.Hypot(bl.F[0], bl.F[1]))})
	}
	return steps
}

// pressureStep joins the factors of a velocity pressure.
func pressureStep(place *wind.Site, q []string, l *wind.Load) verdict.Step {
	step := verdict.Step{Text: "velocity pressure with it", Formula: "q = 1/2 · rho · V² · Kz · Kzt · Ke", Numbers: fmt.Sprintf("q = %s = %.4g Pa", strings.Join(q, " · "), l.Q),
		Source: "gust V, 3 s, at 10 m in open ground; height factor of terrain " + place.Terrain}
	switch place.Basis {
	case wind.ASCE716, wind.ASCE722:
		step.Source = fmt.Sprintf("ASCE %s Eq. 26.10-1, strength-level map speed V, exposure %s", place.Basis[4:], place.Terrain)
	case wind.EN1991:
		step.Formula = "q_p = q_b · ce"
		step.Numbers = "q_p = " + strings.TrimPrefix(step.Numbers, "q = ")
		step.Source = "EN 1991-1-4 formula 4.8"
	}
	return step
}

// forceStep puts pressure, coefficient and area together.
func forceStep(b *lone, place *wind.Site, l *wind.Load) verdict.Step {
	force := verdict.Step{Text: fmt.Sprintf("wind force on %s, read as %s, case %s", l.Surface, l.Reading, l.Case), Formula: "F = q · Kd · G · Cf · A",
		Numbers: fmt.Sprintf("F = %.4g · %.3g · %.3g · %.4g · %.4g m²", l.Q, l.Kd, l.G, l.Cf, l.Area), Source: l.Source, At: b.place(l.Surface)}
	if place.Kd == 0 && place.Basis != wind.EN1991 {
		force.Source += "; Kd of Table 26.6-1"
	}
	if place.Basis == wind.EN1991 {
		force.Formula = "F = c_s c_d · c_f · q_p · A"
		force.Numbers = fmt.Sprintf("F = %.3g · %.4g · %.4g · %.4g m²", l.G, l.Cf, l.Q, l.Area)
	}
	if l.Minimum {
		force.Formula = "F = least pressure · A"
		force.Numbers = fmt.Sprintf("F = %.4g · %.4g m²", wind.MinimumPressure*l.Oblique, l.Area)
		force.Source += "; the least pressure of ASCE 7-16 29.7 decides"
	}
	if l.Reduced != 1 {
		force.Formula += " · reduction on the load"
		force.Numbers += fmt.Sprintf(" · %.3g", l.Reduced)
	}
	force.Numbers += fmt.Sprintf(" = %.4g N at %.4g m above the ground, q at z = %.3g m", math.Hypot(l.Force[0], l.Force[1]), l.At[2], l.Z)
	return force
}

// gustAt is where the gust of that speed is given.
func (j *job) gustAt(speed float64) string {
	s := &j.f.Site
	if s.GustOpen.Given && speed == float64(s.GustOpen.V) {
		return s.GustOpen.At.String()
	}
	return s.GustAlone.At.String()
}
