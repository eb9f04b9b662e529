package wind

import (
	"fmt"
	"math"
)

// Basis says which document's pressures, coefficients and factors are used, and so
// what the speed is that the loads are asked for.
type Basis string

const (
	// Gust takes a measured or forecast gust as it is: 3 s, 10 m, open ground.
	Gust Basis = "gust"
	// ASCE716 is ASCE 7-16; the speed is its strength-level map speed, a 3-s gust
	// at 33 ft in exposure C.
	ASCE716 Basis = "asce7-16"
	// ASCE722 is ASCE 7-22; the speed is as in ASCE716.
	ASCE722 Basis = "asce7-22"
	// EN1991 is EN 1991-1-4 with its recommended values; the speed is the
	// fundamental basic wind velocity v_b,0, a 10-minute mean at 10 m in terrain II.
	EN1991 Basis = "en1991"
)

// Site is what the wind on every surface of a place has in common. A zero factor
// takes its default. A factor that its basis does not know is refused.
type Site struct {
	Basis   Basis
	Terrain string // ASCE exposure "B", "C", "D" (not for EN1991), or EN 1991-1-4 category "0", "I", "II", "III", "IV" (not for ASCE 7)

	AirDensity float64 // kg/m3; default AirDensityUS with a US terrain, AirDensityEU with a European one
	G          float64 // on force: gust-effect factor, default 0.85 in ASCE 7 and 1 in Gust; c_s c_d of EN 1991, default 1

	// Of Gust and ASCE 7.
	Kzt float64 // topographic factor on pressure; default 1, flat ground
	Ke  float64 // ground elevation factor on pressure; default 1, always allowed
	Kd  float64 // directionality factor on force; default 1 in Gust, by shape in ASCE 7 (Table 26.6-1)

	// Of ASCE 7: the name of the one rule that lowers the wind, see ReductionOf.
	Reduction string

	// Of EN1991: v_b = c_dir c_season c_prob v_b,0. The probability factor is
	// either entered or found from a return period.
	CDir, CSeason float64 // default 1
	CProb         float64 // default 1
	ReturnPeriod  float64 // years, above 1; default 50
	CProbK        float64 // shape parameter K for that return period, default ProbabilityK
	CProbN        float64 // exponent n for it, default ProbabilityN
	ShortUse      bool    // v_b is at least ShortUseSpeed

	// Of EN1991, as a National Annex gives them: roughness length and least height
	// (m) in place of those of the terrain category, the orography factor on the mean
	// speed and the turbulence factor, both 1 by default; or in place of all of them
	// the exposure factor itself, which then holds at every height.
	Z0, ZMin  float64
	Orography float64 // c_o, 4.3.3
	KI        float64 // 4.4
	Ce        float64 // 4.5
}

// ShortUseSpeed, m/s, is the least basic wind velocity for a use of up to three
// months (EN 1991-1-6:2005 3.1(5), note; from memory).
const ShortUseSpeed = 20.0

// MinimumPressure, Pa, is the 16 psf on the area of a surface that ASCE 7-16 29.7
// sets as the least strength-level wind load.
const MinimumPressure = 766.0

// Model computes the wind loads of one site. Several goroutines may use one at the same time.
type Model struct {
	site      Site
	profile   profile
	tables    *tableSet
	source    *sources
	reduction Reduction          // Factor 1 where there is none
	kd        [Panel + 1]float64 // by Shape
	minimum   float64            // Pa, least net pressure
}

// profile is how pressure varies with height: relative to 10 m in open ground in
// basis Gust, else Kz or ce.
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
//
// ASCE 7: q(z) = 0.613 Kz Kzt Ke V^2 (Eq. 26.10-1.SI). Kd is in the force, once, in
// every edition. EN1991: q_p(z) = ce(z) 1/2 rho v_b^2 (formula 4.8).
// The factors of either standard go only with its Combinations.
func NewModel(site Site) (*Model, error) {
	t, err := tables()
	if err != nil {
		return nil, err
	}
	if err := site.complete(); err != nil {
		return nil, err
	}
	m := &Model{tables: t, reduction: Reduction{Factor: 1}}
	var density float64
	switch site.Basis {
	case Gust:
		m.profile, density, err = gustProfile(site.Terrain)
		m.source = sourcesOf("ASCE 7-16")
	case ASCE716, ASCE722:
		var e Exposure
		e, err = ExposureOf(site.Basis, site.Terrain)
		m.profile, density = usProfile{e, 1}, AirDensityUS
		m.source = sourcesOf("ASCE 7-" + string(site.Basis[len(site.Basis)-2:]))
		m.minimum = MinimumPressure
		if site.Reduction != "" && err == nil {
			m.reduction, err = ReductionOf(site.Reduction)
		}
	case EN1991:
		density = AirDensityEU
		if m.profile, err = site.exposure(); err == nil {
			err = site.probability()
		}
	}
	if err != nil {
		return nil, err
	}
	if site.AirDensity == 0 {
		site.AirDensity = density
	}
	for i := range m.kd {
		switch {
		case site.Kd > 0:
			m.kd[i] = site.Kd
		case m.minimum > 0: // ASCE 7
			m.kd[i] = t.kd[i]
		default:
			m.kd[i] = 1
		}
	}
	if site.Kd == 0 && m.minimum == 0 {
		site.Kd = 1
	}
	m.site = site
	return m, nil
}

// complete fills in the defaults that need no table and refuses factors that are no
// positive number or that the basis does not know.
func (s *Site) complete() error {
	gust, asce, en := s.Basis == Gust, s.Basis == ASCE716 || s.Basis == ASCE722, s.Basis == EN1991
	if !gust && !asce && !en {
		return fmt.Errorf("wind: no basis %q", s.Basis)
	}
	g := 1.0
	if asce {
		g = 0.85 // rigid structure, 7-16 26.11
	}
	for _, f := range [...]struct {
		name     string
		value    *float64
		fallback float64 // 0: none, or found later
		known    bool
	}{
		{"air density", &s.AirDensity, 0, true},
		{"G", &s.G, g, true},
		{"Kzt", &s.Kzt, 1, !en},
		{"Ke", &s.Ke, 1, !en},
		{"Kd", &s.Kd, 0, !en},
		{"c_dir", &s.CDir, 1, en},
		{"c_season", &s.CSeason, 1, en},
		{"c_prob", &s.CProb, 0, en},
		{"return period", &s.ReturnPeriod, 0, en},
		{"K of c_prob", &s.CProbK, 0, en},
		{"n of c_prob", &s.CProbN, 0, en},
		{"z0", &s.Z0, 0, en},
		{"z_min", &s.ZMin, 0, en},
		{"c_o", &s.Orography, 0, en},
		{"kI", &s.KI, 0, en},
		{"ce", &s.Ce, 0, en},
	} {
		switch v := *f.value; {
		case v == 0:
			*f.value = f.fallback
		case !(v >= minFactor) || v > maxFactor:
			return fmt.Errorf("wind: %s of %v is not a number from %v to %v", f.name, v, minFactor, float64(maxFactor))
		case !f.known && v != 1:
			return fmt.Errorf("wind: basis %q has no %s", s.Basis, f.name)
		}
	}
	switch {
	case s.Reduction != "" && !asce:
		return fmt.Errorf("wind: basis %q knows no reduction %q; it lowers a speed of the map of ASCE 7 only", s.Basis, s.Reduction)
	case s.ShortUse && !en:
		return fmt.Errorf("wind: basis %q has no least speed for a short use", s.Basis)
	}
	return nil
}

// exposure is the profile of EN 1991-1-4 with what the National Annex puts in.
func (s *Site) exposure() (profile, error) {
	if s.Ce > 0 {
		if s.Z0+s.ZMin+s.Orography+s.KI > 0 {
			return nil, fmt.Errorf("wind: ce %v is given beside z0, z_min, c_o or kI, which it already contains", s.Ce)
		}
		return levelProfile(s.Ce), nil
	}
	t, err := TerrainOf(s.Terrain)
	if err != nil {
		return nil, err
	}
	if s.Z0 > 0 {
		t.Z0 = s.Z0
	}
	if s.ZMin > 0 {
		t.ZMin = s.ZMin
	}
	if s.Orography == 0 {
		s.Orography = 1
	}
	if s.KI == 0 {
		s.KI = 1
	}
	t.Orography, t.KI = s.Orography, s.KI
	if !(t.ZMin > t.Z0) || t.ZMin > terrainZMax || t.Z0 < minSize {
		return nil, fmt.Errorf("wind: no profile between z0 %v m and z_min %v m", t.Z0, t.ZMin)
	}
	return euProfile{t, 1}, nil
}

// probability fills in c_prob.
func (s *Site) probability() error {
	if s.ReturnPeriod == 0 && s.CProbK+s.CProbN > 0 {
		return fmt.Errorf("wind: K %v and n %v of c_prob are given without a return period", s.CProbK, s.CProbN)
	}
	if s.ReturnPeriod != 0 {
		if s.CProbK == 0 {
			s.CProbK = ProbabilityK
		}
		if s.CProbN == 0 {
			s.CProbN = ProbabilityN
		}
		c, err := CProb(s.ReturnPeriod, s.CProbK, s.CProbN)
		if err != nil {
			return err
		}
		if s.CProb != 0 && s.CProb != c {
			return fmt.Errorf("wind: both c_prob %v and a return period of %v years are given", s.CProb, s.ReturnPeriod)
		}
		s.CProb = c
	}
	if s.CProb == 0 {
		s.CProb = 1
	}
	if s.CSeason < 1 && s.CProb < 1 {
		return fmt.Errorf("wind: c_season %v and c_prob %v both lower the wind; only a National Annex can let them go together: then enter their product as one", s.CSeason, s.CProb)
	}
	return nil
}

// minFactor and maxFactor reject slips and keep every product and quotient finite.
const (
	minFactor = 1e-6
	maxFactor = 1e4
)

// Values of K and n in the probability factor that EN 1991-1-4 4.2(2) recommends.
const (
	ProbabilityK = 0.2
	ProbabilityN = 0.5
)

// CProb is the probability factor on the speed for a return period in years, with
// shape parameter k and exponent n (EN 1991-1-4 formula 4.2):
// ((1 - k ln(-ln(1 - 1/T))) / (1 - k ln(-ln 0.98)))^n. There is none for one year.
func CProb(years, k, n float64) (float64, error) {
	if !(years > 1) {
		return 0, &LimitError{Quantity: "return period, years", Value: years, Limit: 1, Source: "EN 1991-1-4 formula 4.2 has no value for one year"}
	}
	if years > maxPeriod {
		return 0, &LimitError{Quantity: "return period, years", Value: years, Limit: maxPeriod, Source: "no map of wind speeds bears more"}
	}
	c := math.Pow((1-k*math.Log(-math.Log1p(-1/years)))/(1-k*math.Log(-math.Log(0.98))), n)
	if !(c > 0) || math.IsInf(c, 1) {
		return 0, fmt.Errorf("wind: no probability factor for %v years with K = %v and n = %v", years, k, n)
	}
	return c, nil
}

const maxPeriod = 1e4 // years

// Site returns the site with its defaults filled in.
func (m *Model) Site() Site { return m.site }

// Speed returns the speed in Load.Q for the speed (m/s) a load is asked for: that
// speed itself, lowered by the site's reduction, or v_b of EN 1991-1-4 4.2.
func (m *Model) Speed(speed float64) float64 {
	if m.site.Basis == EN1991 {
		v := m.site.CDir * m.site.CSeason * m.site.CProb * speed
		if m.site.ShortUse {
			v = max(v, ShortUseSpeed)
		}
		return v
	}
	if m.reduction.OnSpeed {
		return m.reduction.Factor * speed
	}
	return speed
}

// Pressure returns the velocity pressure in Pa at z m for a speed in m/s (see
// Basis), and the height factor in it. Kd is not in it.
func (m *Model) Pressure(z, speed float64) (q, kz float64, err error) {
	if !(z >= 0 && z <= m.profile.top()) {
		return 0, 0, &LimitError{Quantity: "height, m", Value: z, Limit: m.profile.top(), Source: "end of the wind profile"}
	}
	v := m.Speed(speed)
	if !(speed >= 0) || !(v <= maxGust) {
		return 0, 0, &LimitError{Quantity: "gust, m/s", Value: speed, Limit: maxGust, Source: "no gust near the ground is higher"}
	}
	kz = m.profile.at(z)
	return VelocityPressure(m.site.AirDensity, v) * kz * m.site.Kzt * m.site.Ke, kz, nil
}

// onLoad is the factor of a reduction on the load, else 1.
func (m *Model) onLoad() float64 {
	if m.reduction.OnSpeed {
		return 1
	}
	return m.reduction.Factor
}

// press returns the force, N, of net pressure p (Pa) on an area (m2), at least the
// minimum of the basis, and whether that minimum decided.
func (m *Model) press(p, area float64) (force float64, minimum bool) {
	if p < m.minimum {
		return m.minimum * area, true
	}
	return p * area, false
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

// levelProfile is an exposure factor that holds at every height.
type levelProfile float64

func (p levelProfile) at(float64) float64 { return float64(p) }
func (p levelProfile) top() float64       { return terrainZMax }

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
