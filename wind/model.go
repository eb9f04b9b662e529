package wind

import (
	"fmt"
	"math"
)

// Basis says which document's pressures and factors are used.
type Basis string

const (
	// Gust takes a measured or forecast 3-second gust as it is.
	Gust Basis = "gust"
	// ASCE716 is ASCE 7-16. Not computed yet.
	ASCE716 Basis = "asce7-16"
	// ASCE722 is ASCE 7-22. Not computed yet.
	ASCE722 Basis = "asce7-22"
	// EN1991 is EN 1991-1-4. Not computed yet.
	EN1991 Basis = "en1991"
)

// Site is what the wind on every surface of a place has in common.
// A zero AirDensity, Kzt, Ke, Kd or G takes its default.
type Site struct {
	Basis   Basis
	Terrain string // ASCE exposure "B", "C", "D", or EN 1991-1-4 category "0", "I", "II", "III", "IV"

	AirDensity float64 // kg/m3; default AirDensityUS with a US terrain, AirDensityEU with a European one
	Kzt        float64 // topographic factor on pressure; default 1, flat ground
	Ke         float64 // ground elevation factor on pressure; default 1, always allowed
	Kd         float64 // directionality factor on force; default 1 in basis Gust
	G          float64 // gust-effect factor on force; default 1 in basis Gust
}

// Model computes the wind loads of one site. It is safe for concurrent use.
type Model struct {
	site    Site
	profile profile
	tables  *tableSet
}

// profile is how gust pressure varies with height, relative to 10 m in open ground.
type profile interface {
	at(z float64) float64
	top() float64 // m, height at which the profile ends
}

// NewModel checks a site and fills in its defaults.
//
// Basis Gust: q(z) = 1/2 rho V^2 profile(z) Kzt Ke. With a US terrain profile is
// Kz(terrain, z) / Kz(C, 10 m), constants of ASCE 7-16; with a European one it is
// ce(z, terrain) / ce(10 m, II). G and Kd are 1: the gust was measured, so its
// averaging needs no further gust effect, and every direction is analysed with
// the full gust, so none of Kd's credit for an unlikely direction is due (ASCE 7
// ties Kd to its own load combinations).
func NewModel(site Site) (*Model, error) {
	switch site.Basis {
	case Gust:
	case ASCE716, ASCE722, EN1991:
		return nil, fmt.Errorf("wind: basis %q is not computed yet", site.Basis)
	default:
		return nil, fmt.Errorf("wind: no basis %q", site.Basis)
	}
	t, err := tables()
	if err != nil {
		return nil, err
	}
	p, density, err := gustProfile(site.Terrain)
	if err != nil {
		return nil, err
	}
	for _, f := range []struct {
		name     string
		value    *float64
		fallback float64
	}{
		{"air density", &site.AirDensity, density},
		{"Kzt", &site.Kzt, 1},
		{"Ke", &site.Ke, 1},
		{"Kd", &site.Kd, 1},
		{"G", &site.G, 1},
	} {
		if *f.value == 0 {
			*f.value = f.fallback
		}
		if !(*f.value > 0) || math.IsInf(*f.value, 1) {
			return nil, fmt.Errorf("wind: %s of %v is not a positive number", f.name, *f.value)
		}
	}
	return &Model{site: site, profile: p, tables: t}, nil
}

// Site returns the site with its defaults filled in.
func (m *Model) Site() Site { return m.site }

// Pressure returns the velocity pressure in Pa at z m for a gust in m/s, and
// the height factor in it. Kd is not in it.
func (m *Model) Pressure(z, gust float64) (q, kz float64, err error) {
	if !(z >= 0 && z <= m.profile.top()) {
		return 0, 0, &LimitError{Quantity: "height, m", Value: z, Limit: m.profile.top(), Source: "end of the wind profile"}
	}
	if !(gust >= 0) || gust > maxGust {
		return 0, 0, &LimitError{Quantity: "gust, m/s", Value: gust, Limit: maxGust, Source: "no gust near the ground is higher"}
	}
	kz = m.profile.at(z)
	return VelocityPressure(m.site.AirDensity, gust) * kz * m.site.Kzt * m.site.Ke, kz, nil
}

// maxGust, m/s, rejects a speed in the wrong unit; the highest gust on record
// near the ground outside a tornado is about 113 m/s.
const maxGust = 150

func gustProfile(terrain string) (profile, float64, error) {
	if e, err := ExposureOf(ASCE716, terrain); err == nil {
		open, err := ExposureOf(ASCE716, "C")
		return usProfile{e, open.Kz(10)}, AirDensityUS, err
	}
	t, err := TerrainOf(terrain)
	if err != nil {
		return nil, 0, fmt.Errorf("wind: terrain %q is neither an ASCE exposure (B, C, D) nor an EN 1991-1-4 category (0, I, II, III, IV)", terrain)
	}
	open, err := TerrainOf("II")
	return euProfile{t, open.Ce(10)}, AirDensityEU, err
}

type usProfile struct {
	Exposure
	reference float64
}

func (p usProfile) at(z float64) float64 { return p.Kz(z) / p.reference }
func (p usProfile) top() float64         { return p.Zg }

type euProfile struct {
	Terrain
	reference float64
}

func (p euProfile) at(z float64) float64 { return p.Ce(z) / p.reference }
func (p euProfile) top() float64         { return terrainZMax }

// LimitError says that a value lies outside what a table or formula covers, so
// that the load cannot be computed.
type LimitError struct {
	Surface  string  // name of the surface, empty for a pressure
	Quantity string  // what is out of range, with its unit
	Value    float64 // what it is
	Limit    float64 // the end of the range
	Source   string  // whose range
}

func (e *LimitError) Error() string {
	s := fmt.Sprintf("%s is %.4g, outside the limit of %.4g (%s)", e.Quantity, e.Value, e.Limit, e.Source)
	if e.Surface != "" {
		s = e.Surface + ": " + s
	}
	return "wind: " + s
}
