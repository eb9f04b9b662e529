package check_test

import (
	"math"
	"testing"
)

// A load of known current drops most in phase, so that is what a missing power factor
// must mean.
func TestAmpsWithoutPowerFactorAreInPhase(t *testing.T) {
	r := runSite(t, `
[site]
friction = 0.4
gust_alone = "40 mph"
[[supply]]
name = "supply"
volts = 120
[[cord]]
name = "cord"
from = "supply"
length = "100 ft"
ohm_per_km = 6.56167979
[[lamp]]
name = "load"
on = "cord"
amps = 16
`)
	const source = "12 AWG, NEC 1990 table 9: 2 x 100 ft x 0.002 ohm/ft x 16 A = 6.4 V, 5.33 % (alt.home.repair post quoting NEC 1990)"
	if got := has(t, r, "power/load/voltage drop"); math.Abs(got-5.33) > 0.005 {
		t.Errorf("drop %.3f %%, want 5.33 (%s)", got, source)
	}
}
