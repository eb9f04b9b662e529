package statics

import (
	"math"
	"slices"
	"testing"
)

// What was prepared for a group serves another only where nothing but strengths differ, all of
// one link alike.
func TestSameJoints(t *testing.T) {
	group := func() *site {
		s := &site{}
		s.column("a", 10, 0, 0, 1, 1, 1, 0.5)
		s.column("b", 10, 3, 0, 1, 1, 1, 0.5)
		s.link(Bolt, "", 0, 1, Vec{1.5, 0, 1}, Vec{1, 0, 0}, 100, 200, 50)
		s.Guys = []Guy{{Of: 0, At: Vec{0, 0, 2}, To: Vec{-3, 0, 0}, Limit: 500}}
		return s
	}
	a := group()
	for _, c := range []struct {
		what string
		same bool
		do   func(s *site)
	}{
		{"nothing", true, func(*site) {}},
		{"a link of twice the strength", true, func(s *site) { l := &s.Links[0]; l.Pull, l.Push, l.Shear = 200, 400, 100 }},
		{"a guy of twice the strength", true, func(s *site) { s.Guys[0].Limit = 1000 }},
		{"a link that pulls more only", false, func(s *site) { s.Links[0].Pull = 200 }},
		{"a link that pushes more only", false, func(s *site) { s.Links[0].Push = 400 }},
		{"a link that is stiffer across only", false, func(s *site) { s.Links[0].Shear = 60 }},
		{"a link that never breaks across", false, func(s *site) { s.Links[0].Shear = math.Inf(1) }},
		{"a link without shear", false, func(s *site) { s.Links[0].Shear = 0 }},
		{"a link higher up", false, func(s *site) { s.Links[0].At[2] = 1.1 }},
		{"a link another way", false, func(s *site) { s.Links[0].Axis = Vec{0, 1, 0} }},
		{"a link to the ground", false, func(s *site) { s.Links[0].B = Ground }},
		{"a link from the other block", false, func(s *site) { s.Links[0].A = 1 }},
		{"no link", false, func(s *site) { s.Links = nil }},
		{"a guy higher up", false, func(s *site) { s.Guys[0].At[2] = 2.1 }},
		{"a guy further out", false, func(s *site) { s.Guys[0].To[0] = -4 }},
		{"a guy of the other block", false, func(s *site) { s.Guys[0].Of = 1 }},
		{"a guy that holds nothing", false, func(s *site) { s.Guys[0].Limit = 0 }},
		{"a guy that never breaks", false, func(s *site) { s.Guys[0].Limit = math.Inf(1) }},
		{"rougher ground", false, func(s *site) { s.Contacts[0].Friction = 0.6 }},
		{"another place to stand", false, func(s *site) {
			s.Contacts[1].Points = slices.Clone(s.Contacts[1].Points)
			s.Contacts[1].Points[0][0] += 0.1
		}},
		{"another centre", false, func(s *site) { s.Blocks[1].Centre[2] += 0.1 }},
	} {
		b := group()
		c.do(b)
		if got := sameJoints(&a.Group, &b.Group); got != c.same {
			t.Errorf("%s: the same %v, want %v", c.what, got, c.same)
		}
		if got := sameJoints(&b.Group, &a.Group); got != c.same {
			t.Errorf("%s, the other way round: the same %v, want %v", c.what, got, c.same)
		}
	}
}

// Two forces in a programme: with the sign of a right-hand side, moments about the centre over the size of the
// block, and their sizes added up. (1, 0, 0) x (3, -4, 1) = (0, -1, -4).
func TestLoadOfForces(t *testing.T) {
	g := &Group{Blocks: []Block{{Centre: Vec{5, 5, 5}}, {Centre: Vec{0, 0, 1}}}}
	p := &programme{blocks: 2, size: []float64{1, 2}}
	rows := []float64{9, 9, 9, 9, 9, 9, 9, 9, 9, 9, 9, 9}
	size := p.load(g, []Acting{{1, Force{F: Vec{3, -4, 1}, At: Vec{1, 0, 1}}}, {0, Force{F: Vec{0, 0, -7}, At: Vec{5, 5, 0}}}}, rows)
	if want := []float64{0, 0, 7, 0, 0, 0, -3, 4, -1, 0, 0.5, 2}; !slices.Equal(rows, want) {
		t.Errorf("%g, want %g", rows, want)
	}
	if want := 3 + 4 + 1 + 0 + 0.5 + 2 + 7; size != want {
		t.Errorf("size %g, want %g", size, want)
	}
}
