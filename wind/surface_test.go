package wind

import (
	"math"
	"strings"
	"testing"
)

// A surface that is no body, or not within its piece or wall, is refused with its name.
func TestSurfacesThatAreNone(t *testing.T) {
	m := newModel(t, "C")
	good := func(shape Shape) Surface { return Surface{Name: "thing", Shape: shape, Width: 1, Depth: 1, Top: 2} }
	for _, c := range []struct {
		why    string
		shape  Shape
		change func(s *Surface)
		want   string
	}{
		{"no shape", Square, func(s *Surface) { s.Shape = 0 }, "no shape 0"},
		{"beyond the shapes", Square, func(s *Surface) { s.Shape = Panel + 1 }, "no shape 7"},
		{"no roughness", Round, func(s *Surface) { s.Roughness = Smooth + 1 }, "no roughness 3"},
		{"below the roughnesses", Round, func(s *Surface) { s.Roughness = -1 }, "no roughness -1"},
		{"below the ground", Square, func(s *Surface) { s.Bottom = -0.1 }, "runs from -0.1 m to 2 m"},
		{"upside down", Square, func(s *Surface) { s.Bottom = 3 }, "runs from 3 m to 2 m"},
		{"no height", Square, func(s *Surface) { s.Bottom = 2 }, "runs from 2 m to 2 m"},
		{"no width", Square, func(s *Surface) { s.Width = 0 }, "no width"},
		{"no depth", Rectangle, func(s *Surface) { s.Depth = 0 }, "no width"},
		{"below its piece", Square, func(s *Surface) { s.PieceBottom, s.PieceTop, s.PieceWidth = 0.5, 3, 1 }, "not within its piece"},
		{"above its piece", Square, func(s *Surface) { s.PieceTop, s.PieceWidth = 1.5, 1 }, "not within its piece"},
		{"a piece below the ground", Square, func(s *Surface) { s.PieceBottom, s.PieceTop, s.PieceWidth = -1, 3, 1 }, "not within its piece"},
		{"a piece without width", Square, func(s *Surface) { s.PieceTop = 3 }, "not within its piece"},
		{"solidity below 0", Panel, func(s *Surface) { s.Solidity = -0.1 }, "solidity -0.1"},
		{"solidity above 1", Panel, func(s *Surface) { s.Solidity = 1.1 }, "solidity 1.1"},
		{"a wall of negative length", Panel, func(s *Surface) { s.WallLength = -1 }, "not within its wall"},
		{"past the end of its wall", Panel, func(s *Surface) { s.WallLength, s.WallOffset = 3, 1.1 }, "not within its wall"},
		{"past the start of its wall", Panel, func(s *Surface) { s.WallLength, s.WallOffset = 3, -1.1 }, "not within its wall"},
		{"a negative member", Panel, func(s *Surface) { s.Member = -0.1 }, "negative size"},
		{"a negative return at the start", Panel, func(s *Surface) { s.Return[0] = -0.1 }, "negative size"},
		{"a negative return at the end", Panel, func(s *Surface) { s.Return[1] = -0.1 }, "negative size"},
		{"a negative corner", Square, func(s *Surface) { s.Corner = -0.1 }, "negative size"},
		{"a negative roughness", Round, func(s *Surface) { s.EquivalentRoughness = -0.1 }, "negative size"},
		{"too far away", Square, func(s *Surface) { s.X = 2e4 }, "20000 is not a length"},
	} {
		s := good(c.shape)
		loads(t, m, s, 20, 0)
		c.change(&s)
		if _, err := m.Loads(s, 20, 0); err == nil || !strings.Contains(err.Error(), c.want) || !strings.Contains(err.Error(), "thing") {
			t.Errorf("%s: error %v, want %q of the thing", c.why, err, c.want)
		}
	}
	for _, towards := range []float64{math.NaN(), math.Inf(1), 2e4} {
		if _, err := m.Loads(good(Panel), 20, towards); err == nil || !strings.Contains(err.Error(), "not a direction") {
			t.Errorf("towards %v: error %v", towards, err)
		}
	}
	// Just within: a panel may end with its wall and stand without a piece's width.
	for _, s := range []Surface{
		{Shape: Panel, Width: 1, Top: 2, WallLength: 3, WallOffset: 1}, {Shape: Panel, Width: 1, Top: 2, PieceTop: 3},
		{Shape: Square, Width: 1, Bottom: 1, Top: 2, PieceBottom: 1, PieceTop: 2, PieceWidth: 1},
	} {
		loads(t, m, s, 20, 0)
	}
}

func TestShapesOutsideTheList(t *testing.T) {
	for s, want := range map[Shape]string{-1: "Shape(-1)", 0: "Shape(0)", Square: "square", Panel: "panel", Panel + 1: "Shape(7)"} {
		if got := s.String(); got != want {
			t.Errorf("shape %d is %q, want %q", int(s), got, want)
		}
	}
}

// Directions within count counterclockwise from east and tell where the wind goes; what people
// read counts clockwise from north and tells where it comes from.
func TestWindComesFromWhereItDoesNotGo(t *testing.T) {
	m := newModel(t, "C")
	for _, c := range []struct {
		towards, from float64
		why           string
	}{
		{0, 270, "to the east, from the west"},
		{math.Pi / 2, 180, "to the north, from the south"},
		{math.Pi, 90, "to the west, from the east"},
		{-math.Pi / 2, 0, "to the south, from the north"},
		{3 * math.Pi / 4, 135, "to the northwest, from the southeast"},
		{-math.Pi / 6, 300, "30 degrees south of east, from 30 degrees north of west"},
		{2*math.Pi + math.Pi/4, 225, "once round and to the northeast"},
		{-4 * math.Pi, 270, "twice round the other way"},
		{5 * math.Pi / 3, 330, "past the west by the south"},
	} {
		for _, l := range loads(t, m, Surface{Shape: Panel, Width: 3, Top: 2}, 20, c.towards) {
			if l.FromDeg != c.from {
				t.Errorf("wind %s: from %v degrees, want %v", c.why, l.FromDeg, c.from)
			}
		}
	}
}
