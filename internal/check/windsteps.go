package check

import (
	"fmt"
	"math"

	"galefast/internal/verdict"
	"galefast/wind"
)

// windSteps works one surface's force.
func (j *job) windSteps(b *lone, s *situation, bl *blow) []verdict.Step {
	l := &bl.load
	place := s.wind.model.Site()
	pressure := verdict.Step{Text: "velocity pressure at " + l.Surface, Formula: "q = 1/2 · rho · V² · Kz · Kzt · Ke",
		Numbers: fmt.Sprintf("q = 0.5 · %.4g · %.4g² · %.4g · %.3g · %.3g = %.4g Pa (z = %.3g m)", place.AirDensity, l.Speed, l.Kz, place.Kzt, place.Ke, l.Q, l.Z),
		Source:  "gust V at 10 m in open ground, 3 s; height factor of terrain " + place.Terrain, At: j.gustAt(s.gust)}
	switch place.Basis {
	case wind.ASCE716, wind.ASCE722:
		pressure.Source = fmt.Sprintf("ASCE %s Eq. 26.10-1, strength-level map speed, exposure %s", place.Basis[4:], place.Terrain)
	case wind.EN1991:
		pressure.Formula = "q_p = 1/2 · rho · v_b² · ce"
		pressure.Numbers = fmt.Sprintf("q_p = 0.5 · %.4g · %.4g² · %.4g = %.4g Pa (z = %.3g m)", place.AirDensity, l.Speed, l.Kz, l.Q, l.Z)
		pressure.Source = fmt.Sprintf("EN 1991-1-4 4.5, formulas 4.8 to 4.10, terrain %s; v_b from %.4g m/s by c_dir, c_season, c_prob", place.Terrain, s.gust)
	}
	force := verdict.Step{Text: fmt.Sprintf("wind force on %s, read as %s, case %s%s", l.Surface, l.Reading, l.Case, proportions(bl)), Formula: "F = q · Kd · G · Cf · A",
		Numbers: fmt.Sprintf("F = %.4g · %.3g · %.3g · %.4g · %.4g m²", l.Q, l.Kd, l.G, l.Cf, l.Area), Source: l.Source, At: b.place(l.Surface)}
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
	force.Numbers += fmt.Sprintf(" = %.4g N at %.4g m above the ground", math.Hypot(l.Force[0], l.Force[1]), l.At[2])
	steps := []verdict.Step{pressure, force}
	if bl.share != 1 {
		steps = append(steps, verdict.Step{Text: "share of it on this piece, as of a beam on two supports", Formula: "F · share",
			Numbers: fmt.Sprintf("%.4g · %.3g = %.4g N", math.Hypot(l.Force[0], l.Force[1]), bl.share, math.Hypot(bl.F[0], bl.F[1]))})
	}
	return steps
}

// proportions are the ratios that a coefficient was looked up by.
func proportions(bl *blow) string {
	s := &bl.surface
	height, width := s.Top-s.Bottom, s.Width
	if s.WallLength > 0 {
		width = s.WallLength
	}
	switch bl.load.Reading {
	case wind.ReadingSign:
		if s.Shape == wind.Panel {
			return fmt.Sprintf(" (B/s %.3g, s/h %.3g)", width/height, height/s.Top)
		}
		return fmt.Sprintf(" (face over piece: B/s %.3g, s/h %.3g)", width/(s.PieceTop-s.PieceBottom), (s.PieceTop-s.PieceBottom)/s.PieceTop)
	case wind.ReadingWall:
		return fmt.Sprintf(" (l/h %.3g)", width/s.Top)
	case wind.ReadingPrism:
		return fmt.Sprintf(" (h/D %.3g)", (s.PieceTop-s.PieceBottom)/s.PieceWidth)
	case wind.ReadingOpen:
		return fmt.Sprintf(" (solidity %.3g)", s.Solidity)
	}
	return ""
}

// gustAt is where the gust of that speed is given.
func (j *job) gustAt(speed float64) string {
	s := &j.f.Site
	if s.GustOpen.Given && speed == float64(s.GustOpen.V) {
		return s.GustOpen.At.String()
	}
	return s.GustAlone.At.String()
}
