package verdict

// Weigh is the mass take-off.
type Weigh struct {
	Pieces []Piece `json:"pieces"`
}

// Piece is one piece without ballast.
type Piece struct {
	Name      string     `json:"name"`
	Kind      string     `json:"kind"`
	MassKg    float64    `json:"mass_kg"`
	LightKg   float64    `json:"light_kg"` // the end used where weight helps
	HeavyKg   float64    `json:"heavy_kg"` // the end used where weight burdens
	Tolerance float64    `json:"tolerance"`
	CentreM   [3]float64 `json:"centre_m"`
	Weighed   bool       `json:"weighed"`
	Estimated *float64   `json:"estimated_kg"` // the take-off, where a scale overrules it
	Sections  []Section  `json:"sections"`
	Parts     []Part     `json:"parts"`
	At        string     `json:"at"`
}

// Section is one section of a column.
type Section struct {
	Name    string     `json:"name"`
	MassKg  float64    `json:"mass_kg"`
	CentreM [3]float64 `json:"centre_m"`
	At      string     `json:"at"`
}

// Part is one line of a parts list.
type Part struct {
	Section   string  `json:"section,omitempty"`
	Name      string  `json:"name"`
	Count     int     `json:"count"`
	MassKg    float64 `json:"mass_kg"` // all of them
	Source    string  `json:"source"`
	Certainty string  `json:"certainty"`
	At        string  `json:"at"`
}

// Wind holds the wind on every surface.
type Wind struct {
	Rows []WindRow `json:"rows"`
}

// WindRow is the wind on one surface in one case.
type WindRow struct {
	ID      string     `json:"id"` // wind/piece/surface/case/state/bearing
	Piece   string     `json:"piece"`
	Surface string     `json:"surface"`
	Case    string     `json:"case"`
	State   string     `json:"state"`
	FromDeg float64    `json:"from_deg"`
	SpeedMs float64    `json:"speed_ms"`
	ZM      float64    `json:"z_m"`
	Kz      *float64   `json:"kz,omitempty"` // height factor of a US terrain
	Ce      *float64   `json:"ce,omitempty"` // exposure factor of a European one
	QPa     float64    `json:"q_pa"`
	Cf      float64    `json:"cf"`
	G       float64    `json:"g"`
	Kd      float64    `json:"kd"`
	AreaM2  float64    `json:"area_m2"`
	ForceN  [3]float64 `json:"force_n"`
	ArmM    float64    `json:"arm_m"` // height of the force above the ground
	AtM     [3]float64 `json:"at_m"`
	Moment  float64    `json:"moment_nm"` // horizontal force times arm
	Source  string     `json:"source"`
	At      string     `json:"at"`
	Working []Step     `json:"-"`
}

// Ballast is the ballast schedule.
type Ballast struct {
	Rows         []BallastRow  `json:"rows"`
	TotalKg      float64       `json:"total_kg"`
	Alternatives []Alternative `json:"alternatives"`
}

// BallastRow is what must lie in one place.
type BallastRow struct {
	Piece    string     `json:"piece"`
	Section  string     `json:"section"`
	Unit     string     `json:"unit"`
	Count    *int       `json:"count"`    // null when no number will do
	InPlace  int        `json:"in_place"` // units that the file already has there
	MassKg   *float64   `json:"mass_kg"`  // of all Count
	AtM      [3]float64 `json:"at_m"`     // their middle
	Why      string     `json:"why"`      // what governs
	Possible bool       `json:"possible"` // false: no number of units will do, for the reason in Why
	OneGone  *float64   `json:"one_gone"` // least factor over required factor when one of the units is missing; null when not computed
}

// Alternative is another cure of a piece, with the number that makes it hold.
type Alternative struct {
	Piece string  `json:"piece"`
	Kind  string  `json:"kind"`
	Value float64 `json:"value"`
	Unit  string  `json:"unit"`
	Text  string  `json:"text"`
}

// Limits holds the gust at which each piece reaches its required factors.
type Limits struct {
	Rows []LimitRow `json:"rows"`
	Plan []PlanStep `json:"plan"`
	Rule string     `json:"rule"` // how the handheld reading follows from the gust
}

// LimitRow is the limit of one piece in one state.
type LimitRow struct {
	Piece      string   `json:"piece"`
	State      string   `json:"state"`
	People     bool     `json:"people"` // with the public inside
	FromDeg    *float64 `json:"from_deg"`
	GustMs     *float64 `json:"gust_ms"`     // 3 s, 10 m, open ground
	HandheldMs *float64 `json:"handheld_ms"` // 3 s, at 2 m beside the piece
	Governs    string   `json:"governs"`
	Around     []Around `json:"around,omitempty"` // the limit by the direction of the wind, where it was asked for
	ReachM     float64  `json:"reach_m"`          // how far from its foot it reaches when it falls
	Why        string   `json:"why,omitempty"`    // why there is no gust
	WantedMs   *float64 `json:"wanted_ms"`        // the gust that the file asks for; null when it gives a speed of another kind
}

// Around is the limit of a piece in wind from one direction.
type Around struct {
	FromDeg float64 `json:"from_deg"`
	GustMs  float64 `json:"gust_ms"`
}

// PlanStep is one step of the action plan.
type PlanStep struct {
	GustMs     float64 `json:"gust_ms"`
	HandheldMs float64 `json:"handheld_ms"`
	Do         string  `json:"do"`
	Short      string  `json:"-"`     // Do in one or two words
	How        string  `json:"-"`     // the rest of it
	Looks      string  `json:"looks"` // what such a wind does to trees and people
}

// Circuit holds the supply trees.
type Circuit struct {
	Family   string     `json:"family"` // us: NEC; iec: IEC 60364 and BS 7671
	Nodes    []Node     `json:"nodes"`
	Runs     []Run      `json:"runs"`
	Circuits []Breaker  `json:"circuits"`
	Energy   []Energy   `json:"energy"`
	Checks   []Check    `json:"checks"`
	Plan     *PowerPlan `json:"plan,omitempty"` // only where it was asked for
}

// Node is a supply, the far end of a cord, or a lamp.
type Node struct {
	Name        string   `json:"name"`
	Kind        string   `json:"kind"`
	Volts       *float64 `json:"volts"` // of the connection that has dropped most, where there are several
	DropPercent *float64 `json:"drop_percent"`
	Amps        *float64 `json:"amps"`
	FarFaultA   *float64 `json:"far_fault_a"` // least current of a fault to earth there
	Why         string   `json:"why,omitempty"`
}

// Run is one cord.
type Run struct {
	Name       string        `json:"name"`
	From       string        `json:"from"`
	Gauge      string        `json:"gauge"`
	NeedsGauge *string       `json:"needs_gauge"` // least, all cords of the circuit together
	LengthM    float64       `json:"length_m"`
	LongestM   *float64      `json:"longest_m"` // with the size that it has, the others as they are; null when none holds or nothing limits it
	Longest    []GaugeLength `json:"longest"`   // likewise, for every standard size
	Amps       *float64      `json:"amps"`
	AmpacityA  *float64      `json:"ampacity_a"`
	LoopOhm    float64       `json:"loop_ohm"`
	LossW      *float64      `json:"loss_w"`
	Why        string        `json:"why,omitempty"`
}

// GaugeLength is the greatest length that a size allows.
type GaugeLength struct {
	Gauge   string   `json:"gauge"`
	LengthM *float64 `json:"length_m"`
}

// Breaker is one supply with the load on it; of several legs the one that asks for most.
type Breaker struct {
	Name        string    `json:"name"`
	BreakerA    *float64  `json:"breaker_a"`
	Amps        float64   `json:"amps"`
	ContinuousA float64   `json:"continuous_a"`
	LegsA       []float64 `json:"legs_a,omitempty"`
	NeutralA    *float64  `json:"neutral_a,omitempty"`
	Percent     *float64  `json:"percent"` // of the breaker, with the continuous factor
	Why         string    `json:"why,omitempty"`
}

// Energy is what one supply gives in a night.
type Energy struct {
	Name     string   `json:"name"`
	KWh      *float64 `json:"kwh"`
	FuelL    *float64 `json:"fuel_l"`    // of a generator
	BatteryH *float64 `json:"battery_h"` // how long a battery lasts with everything on
	Why      string   `json:"why,omitempty"`
}

// PowerPlan puts the lamps onto the outlets there are, each on a cord of its own.
type PowerPlan struct {
	Rows    []PowerPlanRow    `json:"rows"`
	Outlets []PowerPlanOutlet `json:"outlets"`
	TotalM  *float64          `json:"total_m"`
	BoundM  *float64          `json:"bound_m"` // no plan needs less cord
	Proven  bool              `json:"proven"`  // total_m is the least there is
	Why     string            `json:"why,omitempty"`
}

// PowerPlanRow is one lamp of the plan.
type PowerPlanRow struct {
	Lamp    string  `json:"lamp"`
	Outlet  string  `json:"outlet"`
	LengthM float64 `json:"length_m"`
	Gauge   string  `json:"gauge"` // least for that cord
	Amps    float64 `json:"amps"`  // at nominal voltage
	Demand  float64 `json:"demand_a"`
}

// PowerPlanOutlet is one outlet of the plan.
type PowerPlanOutlet struct {
	Name      string  `json:"name"`
	DemandA   float64 `json:"demand_a"` // with the continuous factor
	CapacityA float64 `json:"capacity_a"`
}
