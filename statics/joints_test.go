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

// A search begins with the pull, the push and the normal of a joint, and with those corners of its polygon that lie
// along its axes; the others are brought in where they are wanted.
func TestFewCorners(t *testing.T) {
	s := cube(0.3)
	s.rest(0, Ground, 0, 0)
	s.link(Bolt, "", 0, Ground, Vec{}, Vec{}, 100, 0, 100)
	s.link(Bolt, "", 0, Ground, Vec{}, Vec{}, 100, 100, 100)
	s.link(Bolt, "", 0, Ground, Vec{}, Vec{}, 100, 100, math.Inf(1))
	s.link(Bolt, "", 0, Ground, Vec{}, Vec{}, 0, 0, 100)
	p, _ := newProgramme(&s.Group, 0, AllLimits)
	for i := range p.joints {
		j := &p.joints[i]
		few := 0
		for g, q := range p.generators[j.first:j.last] {
			if on, want := j.few()&j.all()&(1<<g) != 0, q.k[1] == 0 || q.k[2] == 0; on != want {
				t.Errorf("joint %d, %g: begun with %v, want %v", i, q.k, on, want)
			} else if on {
				few++
			}
		}
		// Four corners of friction or shear, with pull and push; the four points without friction have a normal alone.
		if want := []int{4, 4, 4, 4, 1, 1, 1, 1, 1 + 4, 2 + 4, 2 + 4, 4}[i]; few != want {
			t.Errorf("joint %d begins with %d of %d, want %d", i, few, j.last-j.first, want)
		}
	}
}

// Sums over lengths of all remainders, on numbers that add up exactly.
func TestSums(t *testing.T) {
	for n := range 12 {
		a, b, w := make([]float64, n), make([]float64, n), make([]float64, n)
		want, left := 0.0, 0.0
		for i := range n {
			a[i], b[i], w[i] = float64(i+1), float64(2*i-5), float64(7-i)
			want += a[i] * b[i]
			left += (w[i] - 3*a[i]) * (w[i] - 3*a[i])
		}
		if got := inner(a, b); got != want {
			t.Errorf("product of %g and %g: %g, want %g", a, b, got, want)
		}
		before := slices.Clone(w)
		if got := subtract(w, a, 3); got != left {
			t.Errorf("%g less three times %g: squares %g, want %g", before, a, got, left)
		}
		for i := range w {
			if w[i] != before[i]-3*a[i] {
				t.Errorf("%g less three times %g: %g", before, a, w)
			}
		}
	}
}
