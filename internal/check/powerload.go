package check

import (
	"fmt"
	"math"
	"strings"

	"galefast/electrical"
	"galefast/internal/site"
)

// pulseMultiple parts the two sorts of inrush: filaments, motors and transformers start with up
// to some 15 times their current for milliseconds to seconds, electronic drivers with up to 100
// times for microseconds.
const pulseMultiple = 20

// unlit are the beginnings of the names of devices that give no light.
var unlit = []string{"fog machine", "blower", "inflatable", "motor", "amplifier", "powered speaker", "projector", "animatronic", "air compressor", "heater"}

// lamp makes a load, and tells whether it starts with a pulse of microseconds. What the file
// leaves out comes from the device's row, else the harder value.
func (j *job) lamp(c *circuit, l *site.Lamp) (load electrical.Load, pulse bool) {
	out := electrical.Load{Name: l.Name.V, On: l.On.V, Leg: legOf(l.Leg), Count: l.Count.V, Watts: float64(l.Watts.V), Amps: float64(l.Amps.V),
		PowerFactor: l.PowerFactor.V, MinVolts: float64(l.MinVolts.V), Leakage: float64(l.Leakage.V)}
	if l.Hours.Given {
		out.Hours = float64(l.Hours.V) / 3600
	}
	kind, multiple := l.Load.V, l.Inrush.V
	row, known := j.f.Catalog.Device.Find(l.Device.V)
	known = known && l.Device.Given
	if known {
		if !l.Watts.Given && !l.Amps.Given {
			out.Watts = float64(row.Power)
		}
		if !l.PowerFactor.Given {
			out.PowerFactor = row.PowerFactor
		}
		if kind == "" {
			kind = row.Kind
		}
		if !l.Inrush.Given {
			multiple = row.Inrush
		}
	}
	switch {
	case kind == "resistance":
		out.Kind = electrical.Resistance
	case l.Amps.Given || kind == "current":
		out.Kind = electrical.ConstantCurrent
	default:
		out.Kind = electrical.ConstantPower
	}
	if out.PowerFactor == 0 {
		if l.Amps.Given || out.Kind == electrical.Resistance {
			out.PowerFactor = 1 // a known current drops most in phase; a resistance is in phase
		} else {
			out.PowerFactor = number(j.assumed("power_factor", l.Name.V))
		}
	}
	lighting := j.lighting(l)
	if !known && !l.Inrush.Given {
		switch {
		case out.Kind != electrical.Resistance:
			multiple = number(j.assumed("inrush_electronic", l.Name.V))
		case lighting:
			multiple = number(j.assumed("inrush_filament", l.Name.V))
		}
	}
	if pulse = multiple > pulseMultiple; !pulse {
		out.Inrush = multiple
	}
	supply := c.supplyAt(l.On.V)
	if supply == nil {
		return out, pulse
	}
	if j.phases(c, l) == 3 {
		j.take(fmt.Sprintf("lamp %q takes as much from each of the three phases (no leg is given)", l.Name.V), "", "common practice, no source")
	}
	volts := supply.Nominal(j.leg(c, l.Leg, l.On.V)) * math.Sqrt(float64(j.phases(c, l)))
	switch {
	case out.Kind == electrical.ConstantCurrent && !l.Amps.Given && volts > 0:
		pf := out.PowerFactor
		if supply.DC {
			pf = 1
		}
		out.Amps = out.Watts / (volts * pf)
	case out.Kind == electrical.Resistance && l.Amps.Given:
		out.Watts = out.Amps * volts
	}
	out.MaxDrop, out.MaxTotal = j.dropLimits(c, l, lighting)
	return out, pulse
}

// phases is 3 for a load on all three phases alike, else 1.
func (j *job) phases(c *circuit, l *site.Lamp) int {
	if s := c.supplyAt(l.On.V); s != nil && s.Phases == 3 && j.leg(c, l.Leg, l.On.V) == electrical.Whole {
		return 3
	}
	return 1
}

// lighting reports whether a load gives light: as the file says, else unless its device does not.
func (j *job) lighting(l *site.Lamp) bool {
	if l.Lighting.Given {
		return l.Lighting.V
	}
	if row, ok := j.f.Catalog.Device.Find(l.Device.V); ok && l.Device.Given {
		for _, name := range unlit {
			if strings.HasPrefix(row.Name, name) {
				return false
			}
		}
	}
	return true
}

// lowVoltageDrop is what is recommended at most between a source of extra-low voltage and its
// farthest lamp (IEC 60364-7-715; from memory).
const lowVoltageDrop = 0.05

// dropLimits are the most drops of a load, beyond the supply's terminals and in all.
func (j *job) dropLimits(c *circuit, l *site.Lamp, lighting bool) (branch, total float64) {
	if extraLow(&j.f.Supplies[c.root[l.On.V]]) {
		return lowVoltageDrop, lowVoltageDrop
	}
	if !c.iec {
		return electrical.NECBranchDrop, electrical.NECTotalDrop
	}
	length := 0.0
	for _, k := range c.chain(l.On.V) {
		length += c.net.Runs[k].Length
	}
	limit := electrical.IECOtherDrop
	if lighting {
		limit = electrical.IECLightingDrop
	}
	limit = electrical.IECDropLimit(limit, length)
	return limit, limit
}

// loadText is what a load is worth as a line of a working.
func loadText(l *electrical.Load, r *electrical.LoadResult) string {
	switch {
	case l.Kind == electrical.ConstantCurrent:
		return fmt.Sprintf("%d x %.4g A, pf %.3g, %.4g V: %.3f A", l.Count, l.Amps, l.PowerFactor, r.Volts, r.Amps)
	case l.Kind == electrical.Resistance:
		return fmt.Sprintf("%d x %.4g W as a resistance, %.4g V of %.4g V: %.3f A", l.Count, l.Watts, r.Volts, r.Nominal, r.Amps)
	}
	return fmt.Sprintf("%d x %.4g W, pf %.3g, %.4g V: %.3f A", l.Count, l.Watts, l.PowerFactor, r.Volts, r.Amps)
}
