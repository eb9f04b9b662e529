package drawing

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"galefast/internal/quantity"
	"galefast/internal/verdict"
)

// Roses draws, for each piece, how strong a gust it takes from each direction; a limit
// beyond the outer ring is drawn on it. Where the record holds only the direction that
// governs a state, the rose is a circle: from every other direction the piece takes at
// least as much.
func Roses(r *verdict.Report, system quantity.System) []*Scene {
	most := 0.0
	var pieces []string
	for _, x := range r.Limits.Rows {
		if !slices.Contains(pieces, x.Piece) {
			pieces = append(pieces, x.Piece)
		}
		for _, v := range []*float64{x.GustMs, x.WantedMs} {
			if v != nil {
				most = math.Max(most, *v)
			}
		}
	}
	var list []*Scene
	for _, name := range pieces {
		list = append(list, rose(r, name, most, system))
	}
	return list
}

const (
	roseWidth  = 160.0
	roseRadius = 52.0
)

// limit is what one state of a piece takes.
type limit struct {
	state string
	rows  []verdict.LimitRow
	pen   Pen
}

func rose(r *verdict.Report, name string, most float64, system quantity.System) *Scene {
	s := &Scene{Title: "Gust limits of " + name, Width: roseWidth}
	unit, step := 1.0, 5.0
	if system == quantity.US {
		unit, step = 0.44704, 10
	}
	for most/unit > 5*step {
		step *= 2
	}
	full := math.Max(math.Ceil(most/unit/step), 1) * step * unit
	k := roseRadius / full
	center := Point{roseWidth / 2, 26 + roseRadius}
	bold := Font{Size: normal, Bold: true, Ink: Black, Anchor: Middle}
	for n := 1; float64(n)*step*unit <= full*(1+1e-9); n++ {
		radius := float64(n) * step * unit * k
		s.Circle(None, hair, center, radius)
		s.Text(center.plus(Point{2, -radius - 1.5}), Font{Size: 6, Ink: Soft}, fmt.Sprintf("%.0f", float64(n)*step))
	}
	for i, letter := range []string{"N", "E", "S", "W"} {
		sin, cos := math.Sincos(float64(i) * math.Pi / 2)
		d := Point{sin, -cos}
		s.Line(hair, center, center.plus(d.times(roseRadius)))
		s.Text(center.plus(d.times(roseRadius+10)).plus(Point{0, 3}), bold, letter)
	}
	var states []limit
	for _, x := range r.Limits.Rows {
		if x.Piece != name {
			continue
		}
		i := slices.IndexFunc(states, func(l limit) bool { return l.state == x.State })
		if i < 0 {
			i = len(states)
			pen := [...]Pen{{Black, 1.6, Solid}, {Black, 1.4, Dashed}, {Accent, 1.4, Dotted}, {Accent, 1.4, DashDot}}[min(i, 3)]
			states = append(states, limit{state: x.State, pen: pen})
		}
		states[i].rows = append(states[i].rows, x)
	}
	y := center.Y + roseRadius + 26
	for _, l := range states {
		text := l.draw(s, center, k, system)
		s.Line(l.pen, Point{0, y - 2.5}, Point{18, y - 2.5})
		font := Font{Size: small, Ink: Black}
		for _, line := range font.Lines(text, roseWidth-24) {
			s.Text(Point{23, y}, font, line)
			y += 9.5
		}
		s.Desc += text + ". "
	}
	s.Height = y
	return s
}

// draw puts one state on the rose and says it in words.
func (l *limit) draw(s *Scene, center Point, k float64, system quantity.System) string {
	at := func(fromDeg, gust float64) Point {
		sin, cos := math.Sincos(fromDeg * math.Pi / 180)
		return center.plus(Point{sin, -cos}.times(gust * k))
	}
	var rows []verdict.LimitRow
	var around []verdict.Around // the worst of the rows
	why := ""
	for _, x := range l.rows {
		if x.GustMs != nil && x.FromDeg != nil {
			rows = append(rows, x)
		} else {
			why = x.Why
		}
		for _, a := range x.Around {
			i := slices.IndexFunc(around, func(b verdict.Around) bool { return b.FromDeg == a.FromDeg })
			if i < 0 {
				around = append(around, a)
			} else {
				around[i].GustMs = math.Min(around[i].GustMs, a.GustMs)
			}
		}
	}
	slices.SortFunc(around, func(a, b verdict.Around) int { return cmp.Compare(a.FromDeg, b.FromDeg) })
	if len(rows) == 0 {
		return l.state + ": no limit" + map[bool]string{true: ", " + why}[why != ""]
	}
	least := slices.MinFunc(rows, func(a, b verdict.LimitRow) int { return int(math.Copysign(1, *a.GustMs-*b.GustMs)) })
	var points []Point
	for _, x := range around {
		points = append(points, at(x.FromDeg, math.Max(math.Min(x.GustMs*k, roseRadius)/k, 0.5/k)))
	}
	if around == nil {
		points = circle(center, math.Max(*least.GustMs*k, 0.5))
	}
	s.Outline(None, l.pen, points...)
	if *least.GustMs > 0 {
		mark := at(*least.FromDeg, *least.GustMs)
		inward := center.minus(mark).unit()
		aside := Point{-inward.Y, inward.X}.times(3)
		back := mark.minus(inward.times(7))
		s.Outline(l.pen.Ink, Pen{}, mark, back.plus(aside), back.minus(aside))
	}
	return fmt.Sprintf("%s: %s, from %s", l.state, belowText(*least.GustMs, system), verdict.Bearing(least.FromDeg))
}

// belowText prints a limit rounded down.
func belowText(v float64, system quantity.System) string {
	unit := 1.0
	if system == quantity.US {
		unit = 0.44704
	}
	return quantity.Format(quantity.Speed(math.Floor(v/unit*10+1e-6)/10*unit), system)
}
