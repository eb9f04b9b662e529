package electrical

import (
	_ "embed"
	"fmt"
	"math"
)

// Generator is an engine-driven set. Watts and VA are what it is rated to give for hours, Surge
// what it gives for the seconds of a start.
type Generator struct {
	Watts float64 // W
	VA    float64 // VA; 0 = as many as Watts
	Surge float64 // W; 0 = as many as Watts
}

// GeneratorContinuous is the part of its rating that a portable set is loaded with for hours
// (common practice; some makers allow more).
const GeneratorContinuous = 0.8

// GeneratorLeast is the part of its rating below which a set is loaded too little: a diesel soots up,
// and electronic loads upset its regulator (from memory).
const GeneratorLeast = 0.3

// GeneratorDerating returns the part of its rating that a set gives at an altitude in m, at most
// 4500, in air of a temperature in degC, -40 to 60: 3.5 % less for each 1000 ft above 1000 ft, and
// 2 % less for each 10 degF above 85 degF (published in the Cummins Onan P5350C manual).
func GeneratorDerating(altitude, celsius float64) (float64, error) {
	if err := inRange(arg{"altitude", altitude, -500, 4500}, arg{"air temperature", celsius, -40, 60}); err != nil {
		return 0, err
	}
	feet, fahrenheit := altitude/0.3048, celsius*1.8+32
	height := 1 - 0.035*math.Max(0, feet-1000)/1000
	heat := 1 - 0.02*math.Max(0, fahrenheit-85)/10
	return height * heat, nil
}

// StartWatts returns the power in W that a set must give while the one load starts that adds
// most: what all take running, and the largest difference between starting and running. The
// loads start one at a time. Both lists in W, in the same order.
func StartWatts(running, starting []float64) (float64, error) {
	if len(running) != len(starting) {
		return 0, fmt.Errorf("%d loads run and %d start", len(running), len(starting))
	}
	var sum, most float64
	for i := range running {
		if err := inRange(finite("running power", running[i], 0), finite("starting power", starting[i], 0)); err != nil {
			return 0, err
		}
		sum += running[i]
		most = math.Max(most, starting[i]-running[i])
	}
	return sum + most, nil
}

// Fuel is what a set burns.
type Fuel string

const (
	Diesel Fuel = "diesel"
	Petrol Fuel = "petrol"
)

//go:embed fuel.csv
var fuelCSV string

// FuelUse returns the fuel in litres per kWh of a set loaded to a part of its rating, from a
// quarter to 1, between the rows of its table on a straight line. Below a quarter the tables say
// nothing but that it is more.
func FuelUse(f Fuel, load float64) (Cited, error) {
	if err := inRange(arg{"part of the rating", load, 0.25, 1}); err != nil {
		return Cited{}, err
	}
	var last fuelRow
	for _, r := range fuelRows() {
		if r.fuel != f {
			continue
		}
		if load <= r.load {
			if last.fuel == "" || load == r.load {
				return r.Cited, nil
			}
			out := r.Cited
			out.Value = last.Value + (r.Value-last.Value)*(load-last.load)/(r.load-last.load)
			return out, nil
		}
		last = r
	}
	return Cited{}, fmt.Errorf("no fuel table for %q", f)
}

type fuelRow struct {
	fuel Fuel
	load float64
	Cited
}

// Battery is a battery, or a power station with its inverter.
type Battery struct {
	WattHours  float64 // rated, Wh
	Depth      float64 // part of it that may be taken out, 0 to 1
	Efficiency float64 // of the inverter or converter, 0 to 1; 1 without one
	Idle       float64 // what it takes for itself, W
}

// Hours returns how long in h the battery gives so many W: Wh depth/(W/efficiency + idle).
func (b Battery) Hours(watts float64) (float64, error) {
	err := inRange(finite("energy", b.WattHours, 0), arg{"depth of discharge", b.Depth, small, 1}, arg{"efficiency", b.Efficiency, 0.01, 1},
		finite("idle power", b.Idle, 0), finite("power", watts, minDraw))
	if err != nil {
		return 0, err
	}
	return b.WattHours * b.Depth / (watts/b.Efficiency + b.Idle), nil
}

// WattHours returns the energy in Wh that loads of so many W take in so many h each.
func WattHours(watts, hours []float64) (float64, error) {
	if len(watts) != len(hours) {
		return 0, fmt.Errorf("%d powers and %d times", len(watts), len(hours))
	}
	var sum float64
	for i := range watts {
		if err := inRange(finite("power", watts[i], 0), finite("hours", hours[i], 0)); err != nil {
			return 0, err
		}
		sum += watts[i] * hours[i]
	}
	return sum, nil
}
