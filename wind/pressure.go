package wind

import (
	"fmt"
	"math"
)

const (
	// AirDensityUS, kg/m3, is the density in ASCE 7's q = 0.613 V^2 (Eq. 26.10-1.SI).
	AirDensityUS = 1.226
	// AirDensityEU, kg/m3, is the value EN 1991-1-4 4.5(1) recommends.
	AirDensityEU = 1.25
)

// VelocityPressure returns 1/2 rho v^2 in Pa for density rho (kg/m3) and speed v (m/s).
func VelocityPressure(rho, v float64) float64 { return 0.5 * rho * v * v }

// Exposure is an ASCE 7 exposure category: the power law of gust pressure with height.
type Exposure struct {
	Name     string  // "B", "C" or "D"
	Constant float64 // 2.01, or 2.41 in 7-22
	Alpha    float64 // exponent of the 3-s gust speed profile
	Zg       float64 // m, gradient height

	Source, Certainty string
}

// kzFloor is the 15 ft below which ASCE 7 holds Kz constant.
const kzFloor = 15 * 0.3048

// ExposureOf returns the exposure category called name in an edition of ASCE 7:
// ASCE716, which 7-05 and 7-10 share, or ASCE722 (7-16 Table 26.11-1).
func ExposureOf(edition Basis, name string) (Exposure, error) {
	t, err := tables()
	if err != nil {
		return Exposure{}, err
	}
	for _, r := range t.exposures {
		if r.edition == edition && r.Name == name {
			return r.Exposure, nil
		}
	}
	return Exposure{}, fmt.Errorf("wind: no exposure %q in %q", name, edition)
}

// Kz is the velocity pressure exposure coefficient at z m above ground,
// constant below 15 ft (7-16 Table 26.10-1 note 1). It ends at Zg.
func (e Exposure) Kz(z float64) float64 { return e.powerLaw(max(z, kzFloor)) }

func (e Exposure) powerLaw(z float64) float64 {
	return e.Constant * math.Pow(z/e.Zg, 2/e.Alpha)
}

// Terrain is an EN 1991-1-4 terrain category (Table 4.1).
type Terrain struct {
	Name string  // "0", "I", "II", "III" or "IV"
	Z0   float64 // m, roughness length
	ZMin float64 // m, below which the profile is constant

	Orography float64 // c_o on the mean speed (4.3.3); 0 is 1, flat ground
	KI        float64 // turbulence factor (4.4); 0 is the recommended 1

	Source, Certainty string
}

const (
	terrainZ0II = 0.05 // m, z0 of category II, formula 4.5
	terrainZMax = 200  // m, 4.3.2(1)
)

// TerrainOf returns the EN 1991-1-4 terrain category called name.
func TerrainOf(name string) (Terrain, error) {
	t, err := tables()
	if err != nil {
		return Terrain{}, err
	}
	for _, r := range t.terrains {
		if r.Name == name {
			return r, nil
		}
	}
	return Terrain{}, fmt.Errorf("wind: no terrain category %q", name)
}

// Kr is the terrain factor 0.19 (z0/z0,II)^0.07, formula 4.5.
func (t Terrain) Kr() float64 { return 0.19 * math.Pow(t.Z0/terrainZ0II, 0.07) }

// Cr is the roughness factor of the mean speed at z m, formula 4.4.
func (t Terrain) Cr(z float64) float64 { return t.Kr() * math.Log(max(z, t.ZMin)/t.Z0) }

// Iv is the turbulence intensity at z m, kI / (co ln(z/z0)), formula 4.7.
func (t Terrain) Iv(z float64) float64 {
	co, ki := t.factors()
	return ki / (co * math.Log(max(z, t.ZMin)/t.Z0))
}

// Ce is the exposure factor at z m: peak velocity pressure over basic velocity
// pressure, (1 + 7 Iv) (co cr)^2, formulas 4.3 and 4.8 to 4.10. It ends at 200 m.
func (t Terrain) Ce(z float64) float64 { return t.logLaw(max(z, t.ZMin)) }

func (t Terrain) logLaw(z float64) float64 {
	co, ki := t.factors()
	l := math.Log(z / t.Z0)
	vm := co * t.Kr() * l // mean speed over v_b
	return (1 + 7*ki/(co*l)) * vm * vm
}

func (t Terrain) factors() (co, ki float64) {
	co, ki = t.Orography, t.KI
	if co == 0 {
		co = 1
	}
	if ki == 0 {
		ki = 1
	}
	return co, ki
}
