package electrical

import (
	_ "embed"
	"fmt"
	"math"
	"sync"
)

// ContinuousLoad reports whether a load that stays on for the given hours counts as
// continuous: 3 h or more (NEC article 100). So does any time that is not a positive
// number, which stands for unknown: the harder case.
func ContinuousLoad(hours float64) bool { return !(hours > 0 && hours < 3) }

// BreakerLoading returns the least breaker rating for the given loads, all three in
// A (or all in VA): noncontinuous + 1.25 continuous, NEC 210.20(A) for a branch
// circuit and 215.3 for a feeder. An assembly listed for operation at 100 % of its
// rating carries continuous load without the factor (same clauses, exception).
func BreakerLoading(noncontinuous, continuous float64, listed100 bool) float64 {
	if listed100 {
		return noncontinuous + continuous
	}
	return noncontinuous + 1.25*continuous
}

// Recommended limits of voltage drop, as fractions of the nominal voltage. The NEC
// gives them in informational notes, not as rules.
const (
	NECBranchDrop   = 0.03 // branch circuit to its farthest outlet, NEC 210.19(A) note
	NECTotalDrop    = 0.05 // feeder and branch circuit together, NEC 210.19(A) and 215.2(A) notes
	IECLightingDrop = 0.03 // lighting, public supply, from the origin; IEC 60364-5-52 annex G, BS 7671 appendix 4
	IECOtherDrop    = 0.05 // other uses, same
)

// IECDropLimit raises one of the IEC limits for the part of a line, in m, beyond
// 100 m: 0.005 % a metre, by no more than 0.5 % in all (IEC 60364-5-52 annex G).
func IECDropLimit(limit, length float64) float64 {
	return limit + math.Min(math.Max(0, length-100)*0.00005, 0.005)
}

// Cited is a value from a table, with where it stands and how sure that is.
type Cited struct {
	Value             float64
	Source, Certainty string
}

// AmbientFactor returns the factor on a cord's ampacity in an ambient temperature
// other than 30 degC: sqrt((Tc - Ta)/(Tc - 30)), from the cord's temperature rating Tc
// and the ambient Ta in degC (NEC 310.15(B), the rule behind the table to which 400.5(A)
// refers). Cooler air earns no credit above 1. An ambient at or above the rating, a
// rating that is not above 30 degC or above 250 degC, and an ambient below -60 degC are errors.
func AmbientFactor(rating, ambient float64) (float64, error) {
	if !(rating > 30 && rating <= 250) {
		return 0, fmt.Errorf("cord temperature rating is %v degC, must be above 30 and at most 250", rating)
	}
	if !(ambient >= -60 && ambient < rating) {
		return 0, fmt.Errorf("ambient is %v degC, must be -60 to below the cord's %v", ambient, rating)
	}
	return math.Min(1, math.Sqrt((rating-ambient)/(rating-30))), nil
}

// ReceptacleLimit returns the most cord-and-plug load, in A, on one receptacle of a
// circuit that has several, for the circuit's and the receptacle's ratings in A
// (NEC 210.21(B)(2)). Pairs the table lacks are errors.
func ReceptacleLimit(circuit, receptacle int) (Cited, error) {
	for _, r := range factorRows()["receptacle"] {
		if r.from == circuit && r.to == receptacle {
			return r.Cited, nil
		}
	}
	return Cited{}, fmt.Errorf("no limit known for a %d A receptacle on a %d A circuit", receptacle, circuit)
}

// LoadedConductorsFactor returns the factor on a cord's ampacity for the number of its
// conductors that carry current (NEC table 400.5(A)(3)); the ampacity column for two or
// three holds already.
func LoadedConductorsFactor(conductors int) (Cited, error) {
	return factor("conductors", conductors, "current-carrying conductors")
}

// CoilFactor returns the factor on ampacity for a cord left on its reel or in a coil of
// the given layers; 0 layers when unknown. Of the two reel tables that exist the
// lower value is used.
func CoilFactor(layers int) (Cited, error) { return factor("coil", layers, "layers on the reel") }

// GroupFactor returns the factor on ampacity for the given number of loaded cords that
// lie bundled together.
func GroupFactor(cords int) (Cited, error) { return factor("group", cords, "cords in the bundle") }

// CordAmpacity multiplies the ampacity of a table, in A, by factors that are above 0
// and at most 1.
func CordAmpacity(base float64, factors ...float64) (float64, error) {
	if !(base > 0 && base <= maxValue) {
		return 0, fmt.Errorf("ampacity is %v A, must be above 0 and at most %g", base, float64(maxValue))
	}
	for _, f := range factors {
		if !(f > 0 && f <= 1) {
			return 0, fmt.Errorf("ampacity factor is %v, must be above 0 and at most 1", f)
		}
		base *= f
	}
	return base, nil
}

//go:embed factors.csv
var factorsCSV string

// factorRow holds one row of factors.csv; the key of the row is from..to, or for
// receptacles the pair of circuit and receptacle.
type factorRow struct {
	from, to int
	Cited
}

var factorRows = sync.OnceValue(func() map[string][]factorRow {
	tables := map[string][]factorRow{}
	for _, r := range records(factorsCSV) {
		tables[r[0]] = append(tables[r[0]], factorRow{int(number(r[1])), int(number(r[2])), Cited{number(r[3]), r[4], r[5]}})
	}
	return tables
})

func factor(table string, n int, what string) (Cited, error) {
	rows := factorRows()[table]
	for _, r := range rows {
		if n >= r.from && n <= r.to {
			return r.Cited, nil
		}
	}
	return Cited{}, fmt.Errorf("no factor known for %d %s", n, what)
}
