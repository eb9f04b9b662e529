package check_test

import (
	"testing"

	"galefast/internal/check"
	"galefast/internal/site"
	"galefast/internal/takeoff"

	"pgregory.net/rapid"
)

// missed is how much of a factor the search may miss: it does not try every choice, and of
// some 500 random sites it found one factor too high, by 0.04 %.
const missed = 0.01

// searched tries every choice of loads on the groups of a description.
func searched(t tester, src string) (tried int) {
	t.Helper()
	f, problems := site.Load("site.toml", []byte(src))
	if f == nil {
		t.Fatalf("the description was refused: %v\n%s", problems, src)
	}
	masses, _ := takeoff.Take(f)
	list, err := check.SearchEveryGroup(f, masses)
	if err != nil {
		t.Fatalf("%v\n%s", err, src)
	}
	for _, r := range list {
		tried += r.Tried
		if r.Least < r.Found*(1-missed) {
			t.Errorf("%s, %s: found %.9g of what is required, and the worst of %d situations has %.9g: %s\n%s", r.Group, r.Setup, r.Found, r.Tried, r.Least, r.Worst, src)
		}
	}
	return tried
}

// No choice of wind, people and masses is worse than what the search finds, in any direction.
func TestSearchAgainstEveryChoice(t *testing.T) {
	tried := 0
	draws(t, 10, func(t *rapid.T) {
		s := drawFastened(t)
		s.lean = 0
		tried += searched(t, s.toml())
	})
	draws(t, 3, func(t *rapid.T) {
		s := drawFastened(t)
		s.wall, s.guys = nil, nil
		if s.sign == nil {
			s.sign, s.mass = &fixing{[]float64{signUnder + signTall/2}, 400}, 8
		}
		tried += searched(t, s.toml())
	})
	if tried < 5000 {
		t.Errorf("only %d situations were tried", tried)
	}
}
