package check_test

import "testing"

// A leaf that nothing holds may rest on either stop overnight too: whatever is to be
// down must be down before the limit of that state.
func TestPlanMindsLooseLeavesOvernight(t *testing.T) {
	src := place{friction: 0.8, terrain: "C", open: 5, alone: 30, lean: 1, at: 1}.toml() + `
[[column]]
name = "column"
at = ["0 m", "0 m"]
foot = ["0.5 m", "1.5 m"]
tolerance = "0 %"
section = [{ name = "pillar", width = "0.4 m", height = "2 m", mass = "150 kg" }]
[[gate]]
name = "leaf"
hung_on = "column"
face = "east"
opens = "north"
width = "1.5 m"
height = "1.8 m"
mass = "5 kg"
open = "90 deg"
keeper = { open = "hook" }
`
	r := runSite(t, src)
	least := 30.0
	for _, row := range r.Limits.Rows {
		if row.WantedMs != nil && *row.WantedMs == 30 && row.GustMs != nil {
			least = min(least, *row.GustMs)
		}
		t.Logf("%s %s wanted %s: %s", row.Piece, row.State, number(row.WantedMs), number(row.GustMs))
	}
	if got := step(t, r, "Down").GustMs; got > least*(1+1e-9) {
		t.Errorf("the plan takes it down before %.4f m/s, and the least limit with nobody near is %.4f", got, least)
	}
}

// The steps of the plan come in the order of their gusts.
func TestPlanIsInOrder(t *testing.T) {
	src := place{friction: 0.8, terrain: "C", open: -1, alone: 30, lean: 0, at: 1}.toml() + `
[[column]]
name = "column"
at = ["0 m", "0 m"]
foot = ["1.5 m", "0.5 m"]
tolerance = "0 %"
section = [{ name = "pillar", width = "0.4 m", height = "2 m", mass = "150 kg" }]
[[gate]]
name = "leaf"
hung_on = "column"
face = "east"
opens = "north"
width = "1.5 m"
height = "1.8 m"
mass = "5 kg"
open = "90 deg"
keeper = { open = "hook", closed = "latch" }
`
	r := runSite(t, src)
	last := 0.0
	for _, row := range r.Limits.Rows {
		t.Logf("%s %s wanted %s: %s", row.Piece, row.State, number(row.WantedMs), number(row.GustMs))
	}
	for _, s := range r.Limits.Plan {
		if s.GustMs < last {
			t.Errorf("%q at %.4f m/s comes after a step at %.4f", s.Do, s.GustMs, last)
		}
		last = s.GustMs
	}
}
