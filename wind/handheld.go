package wind

import (
	"fmt"
	"math"
)

// HandheldHeight, m, is where a person holds an anemometer.
const HandheldHeight = 2.0

// Handheld converts between a gust at 10 m in open ground and the gust that a
// handheld instrument shows at 2 m on the site.
type Handheld struct {
	Factor float64 // reading over gust
	Rule   string  // the rule that gave it
}

// HandheldOf returns the conversion for a site's terrain, named as in Site.
//
// The profiles of the codes are level near the ground, which is on the safe side
// for loads; a limit read at 2 m would come out too high by them. So the law of
// the terrain is carried down to 2 m instead: in open terrain (2/10)^(1/9.5).
func HandheldOf(terrain string) (Handheld, error) {
	if e, err := ExposureOf(ASCE716, terrain); err == nil {
		open, err := ExposureOf(ASCE716, "C")
		return Handheld{math.Sqrt(e.powerLaw(HandheldHeight) / open.powerLaw(10)),
			"gust power law of ASCE 7-16 Table 26.11-1 for the terrain, carried down to 2 m"}, err
	}
	t, err := TerrainOf(terrain)
	if err != nil {
		return Handheld{}, fmt.Errorf("wind: no terrain %q", terrain)
	}
	open, err := TerrainOf("II")
	return Handheld{math.Sqrt(t.logLaw(HandheldHeight) / open.logLaw(10)),
		"peak pressure law of EN 1991-1-4 4.5 for the terrain, carried down to 2 m"}, err
}

// Reading returns what the instrument shows (m/s) in a gust (m/s, 10 m, open ground).
func (h Handheld) Reading(gust float64) float64 { return gust * h.Factor }

// Gust returns the gust (m/s, 10 m, open ground) that goes with a reading (m/s).
func (h Handheld) Gust(reading float64) float64 { return reading / h.Factor }

// BeaufortForce is one step of the Beaufort scale: 10-minute mean speeds at 10 m.
type BeaufortForce struct {
	Number            int
	Name              string
	From              float64 // m/s, lowest mean speed; the step ends where the next begins
	Sign              string  // what it looks like on land
	Source, Certainty string
}

// Beaufort returns the step of a 10-minute mean speed in m/s.
func Beaufort(mean float64) (BeaufortForce, error) {
	t, err := tables()
	if err != nil {
		return BeaufortForce{}, err
	}
	if !(mean >= 0) {
		return BeaufortForce{}, fmt.Errorf("wind: %v m/s is not a speed", mean)
	}
	b := t.beaufort[0]
	for _, f := range t.beaufort {
		if mean >= f.From {
			b = f
		}
	}
	return b, nil
}

// GustFactor is the ratio of a 3-second gust to the mean speed of a longer time,
// over open ground and outside tropical cyclones.
type GustFactor struct {
	MeanSeconds       float64
	Factor            float64
	Source, Certainty string
}

// GustFactorOf returns the factor for means over the given time: 60, 120, 600 or 3600 s.
func GustFactorOf(meanSeconds float64) (GustFactor, error) {
	t, err := tables()
	if err != nil {
		return GustFactor{}, err
	}
	for _, g := range t.gusts {
		if g.MeanSeconds == meanSeconds {
			return g, nil
		}
	}
	return GustFactor{}, fmt.Errorf("wind: no gust factor for a mean over %v s", meanSeconds)
}
