package check_test

import (
	"testing"

	"galefast/internal/check"
	"galefast/internal/site"
	"galefast/internal/takeoff"

	"pgregory.net/rapid"
)

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
		if r.Worse != "" {
			t.Errorf("%s, %s: the worst found is %.9g of what is required, and of %d situations one is worse: %s\n%s", r.Group, r.Setup, r.Ratio, r.Tried, r.Worse, src)
		}
	}
	return tried
}

// No choice of wind, people and masses is worse than what the search finds.
func TestSearchAgainstEveryChoice(t *testing.T) {
	tried := 0
	draws(t, 10, func(t *rapid.T) {
		s := drawFastened(t)
		s.lean = 0
		tried += searched(t, s.toml())
	})
	t.Logf("%d situations without people", tried)
	tried = 0
	draws(t, 3, func(t *rapid.T) {
		s := drawFastened(t)
		s.wall, s.guys = nil, nil
		if s.sign == nil {
			s.sign, s.mass = &fixing{[]float64{signUnder + signTall/2}, 400}, 8
		}
		tried += searched(t, s.toml())
	})
	t.Logf("%d situations with people", tried)
}
