package verdict

import (
	"fmt"
	"math"
	"strconv"
)

// Figures prints what a check needs and what it has, to two decimals. What a piece has
// is rounded to the side that makes it look worse, and what it needs to the side that
// keeps the printed pair in the order of the result.
func (c Check) Figures() (needs, has string) {
	return c.figure(c.Needs, (c.Sense == AtLeast) == (c.Result == Fails)), c.figure(c.Has, c.Sense == AtMost)
}

// In is the check with its length or mass in the units of a tape and a scale, for units
// "us"; what has other units stays as it is.
func (c Check) In(units string) Check {
	to, ok := map[string]struct {
		unit string
		si   float64
	}{"m": {"in", 0.0254}, "kg": {"lb", 0.45359237}}[c.Unit]
	if units != "us" || !ok {
		return c
	}
	c.Unit = to.unit
	for _, v := range [2]**float64{&c.Needs, &c.Has} {
		if *v != nil {
			x := **v / to.si
			*v = &x
		}
	}
	return c
}

func (c Check) figure(v *float64, up bool) string {
	if v == nil {
		return "-"
	}
	places := 2
	switch {
	case c.Unit == "A" && *v < 0.1:
		places = 5 // what leaks, in hundredths of a milliampere
	case c.Unit == "people":
		places = 0
	}
	scale := math.Pow10(places)
	x := math.Floor(*v*scale + 1e-9)
	if up {
		x = math.Ceil(*v*scale - 1e-9)
	}
	return strconv.FormatFloat(x/scale+0, 'f', places, 64) // +0 for a negative zero
}

// Bearing prints a direction as a compass point with degrees.
func Bearing(deg *float64) string {
	if deg == nil {
		return "-"
	}
	points := [...]string{"N", "NNE", "NE", "ENE", "E", "ESE", "SE", "SSE", "S", "SSW", "SW", "WSW", "W", "WNW", "NW", "NNW"}
	return fmt.Sprintf("%s %03.0f°", points[int(math.Round(*deg/22.5))%16], math.Mod(math.Round(*deg), 360))
}
