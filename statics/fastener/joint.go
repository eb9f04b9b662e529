package fastener

import (
	"fmt"
	"math"
	"strings"
)

// Code says which document's formulas are used, and so what a capacity is.
type Code int

const (
	// NDS is the National Design Specification for Wood Construction, 2018, allowable stress
	// design: capacities are allowable loads, to be compared with loads at their own value.
	NDS Code = iota
	// EN1995 is EN 1995-1-1:2004 with A1: capacities are design values k_mod R_k / gamma_M, to
	// be compared with loads multiplied by the partial factors of EN 1990.
	EN1995
)

// Duration is how long the load of a check lasts, all its parts together: the shortest part
// counts.
type Duration int

// Durations. Impact earns no credit: it counts as a load of ten years.
const (
	Permanent Duration = iota
	TenYears
	TwoMonths
	SevenDays
	Wind
	Impact
)

var durationNames = [...]string{"permanent", "ten years", "two months", "seven days", "wind", "impact"}

func (d Duration) String() string {
	if d < 0 || int(d) >= len(durationNames) {
		return fmt.Sprintf("Duration(%d)", int(d))
	}
	return durationNames[d]
}

// Moisture is the state of the wood about the fastener.
type Moisture int

const (
	Dry          Moisture = iota // up to 19 % when made and in service
	WetInService                 // above 19 % in service: out in the rain
	WetWhenMade                  // above 19 % when made, dry in service
)

func (m Moisture) String() string {
	switch m {
	case Dry:
		return "dry"
	case WetInService:
		return "wet in service"
	case WetWhenMade:
		return "wet when made"
	}
	return fmt.Sprintf("Moisture(%d)", int(m))
}

// Service is what a joint lives through.
type Service struct {
	Duration Duration
	Moisture Moisture
	Celsius  float64 // temperature held for long, degrees Celsius; up to 37.7 costs nothing
}

// Member is one of the two things that a fastener joins.
type Member struct {
	Material
	Thickness float64 // m, along the fastener
	Angle     float64 // rad, 0 to pi/2, between the lateral load and the grain
	Area      float64 // m2, cross-section in the direction of the load, for the group action factor

	// Distances from the fastener, m; 0 where unknown, and then listed among the rules as to be
	// kept.
	End        float64 // along the grain to the end
	EndLoaded  bool    // the load pulls towards that end
	Edge       float64 // across the grain to the edge
	EdgeLoaded bool    // the load pushes towards that edge
}

// Joint is a group of equal fasteners through a side member into a main member, at right angles
// to the face.
type Joint struct {
	Code       Code
	Fastener   Fastener
	Side, Main Member

	Double    bool // bolts: the main member lies between two side members alike
	EndGrain  bool // the fastener goes into the end grain of the main member
	ToeNailed bool // nails: driven at a slant

	Count      int     // fasteners in the joint; 0 is 1
	InRow      int     // of them one behind the other in the direction of the load; 0 is 1
	Spacing    float64 // m, in the row; 0 where unknown
	RowSpacing float64 // m, between rows; 0 where unknown

	Service Service
}

// Step is one line of the working: a formula of the document in the document's own units.
type Step struct {
	What              string
	Formula           string // with its numbers
	Value             float64
	Unit              string
	Source, Certainty string
}

// Rule is a minimum that the document sets.
type Rule struct {
	What              string
	Has, Needs        float64 // m; Has 0 where unknown
	Known             bool
	Voids             bool // short of it the document gives no capacity at all
	Source, Certainty string
}

// Broken reports whether the joint is known to fall short of the rule.
func (r Rule) Broken() bool { return r.Known && r.Has < r.Needs*(1-1e-9) }

func (r Rule) String() string {
	if !r.Known {
		return fmt.Sprintf("%s must be %.4g mm (unknown)", r.What, r.Needs*1e3)
	}
	return fmt.Sprintf("%s is %.4g mm, needs %.4g mm", r.What, r.Has*1e3, r.Needs*1e3)
}

// Capacity is what one fastener carries in one way.
type Capacity struct {
	Value     float64 // N, adjusted: an allowable load (NDS) or a design value (EN1995)
	Reference float64 // N, before the adjustment: the reference value (NDS) or the characteristic one (EN1995)
	Mode      string  // what gives way
	Steps     []Step
	Rules     []Rule
	Source    string // of the formula that governs
	Certainty string // the least certain of all that went into that formula
}

// Broken lists the rules that the joint falls short of.
func (c Capacity) Broken() (broken []Rule) {
	for _, r := range c.Rules {
		if r.Broken() {
			broken = append(broken, r)
		}
	}
	return broken
}

// rank orders certainties, the best first.
func rank(certainty string) int {
	for i, p := range [...]string{"standard clause", "published", "computed", "from memory"} {
		if strings.HasPrefix(certainty, p) {
			return i
		}
	}
	return 4
}

// doubt keeps the less certain of two.
func (c *Capacity) doubt(certainty string) {
	if c.Certainty == "" || certainty != "" && rank(certainty) > rank(c.Certainty) {
		c.Certainty = certainty
	}
}

func (c *Capacity) step(what string, value float64, unit string, o origin, format string, args ...any) {
	c.Steps = append(c.Steps, Step{what, fmt.Sprintf(format, args...), value, unit, o.source, o.certainty})
	c.doubt(o.certainty)
}

func (c *Capacity) rule(what string, has, needs float64, voids bool, o origin) {
	c.Rules = append(c.Rules, Rule{what, has, needs, true, voids, o.source, o.certainty})
}

// finish applies the rules that void: short of them the value is 0.
func (c *Capacity) finish() {
	for _, r := range c.Broken() {
		if r.Voids {
			c.Mode = "no capacity: " + r.String()
			c.Value, c.Reference = 0, 0
			c.Source = r.Source
			return
		}
	}
}

const rangeSource = "range of this package"

// validate refuses what no formula covers.
func (j Joint) validate() error {
	f := j.Fastener
	if f.Kind < WoodScrew || f.Kind > Bolt {
		return fmt.Errorf("fastener: no kind %d", f.Kind)
	}
	if j.Code != NDS && j.Code != EN1995 {
		return fmt.Errorf("fastener: no code %d", j.Code)
	}
	if j.Service.Duration < Permanent || j.Service.Duration > Impact || j.Service.Moisture < Dry || j.Service.Moisture > WetWhenMade {
		return fmt.Errorf("fastener: unknown service: duration %d, moisture %d", j.Service.Duration, j.Service.Moisture)
	}
	if j.Double && f.Kind != Bolt {
		return fmt.Errorf("fastener: double shear is for bolts, not for a %s", f.Kind)
	}
	if j.ToeNailed && f.Kind != Nail && f.Kind != RingNail {
		return fmt.Errorf("fastener: a %s is not toe-nailed", f.Kind)
	}
	if j.Count < 0 || j.InRow < 0 || j.Count > 1e6 || j.InRow > max(j.Count, 1) {
		return fmt.Errorf("fastener: %d fasteners, %d in a row", j.Count, j.InRow)
	}
	if j.Main.Metal && f.Kind != Bolt {
		return fmt.Errorf("fastener: a %s into metal is not covered", f.Kind)
	}
	bounds := []bound{
		{"diameter in m", f.D, 1e-3, 0.05},
		{"root diameter in m", f.Root, 0.4 * f.D, f.D},
		{"head diameter in m", f.Head, 0, 0.2},
		{"tip in m", f.Tip, 0, 0.1},
		{"F_yb in Pa", f.Fyb, 0, 1e10},
		{"F_u in Pa", f.Fu, 0, 1e10},
		{"f_ax,k in Pa", f.FaxK, 0, 1e9},
		{"f_head,k in Pa", f.FheadK, 0, 1e9},
		{"declared density in kg/m3", f.RhoA, 0, 2e3},
		{"washer diameter in m", f.Washer.OD, 0, 1},
		{"spacing in m", j.Spacing, 0, 100},
		{"spacing of rows in m", j.RowSpacing, 0, 100},
		{"temperature in degrees Celsius", j.Service.Celsius, -100, (150.0 - 32) * 5 / 9},
	}
	if f.Kind != Bolt {
		bounds = append(bounds, bound{"length in m", f.Length, 1e-3, 1}, bound{"thread in m", f.Thread, 0, f.Length})
	}
	for _, m := range j.members() {
		bounds = append(bounds,
			bound{m.who + "thickness in m", m.Thickness, 1e-4, 10},
			bound{m.who + "angle in rad", m.Angle, 0, math.Pi / 2},
			bound{m.who + "area in m2", m.Area, 0, 100},
			bound{m.who + "end distance in m", m.End, 0, 1e3},
			bound{m.who + "edge distance in m", m.Edge, 0, 1e3},
			bound{m.who + "F_c-perp in Pa", m.FcPerp, 0, 1e9},
			bound{m.who + "f_c,90,k in Pa", m.Fc90, 0, 1e9},
			bound{m.who + "E in Pa", m.E, 0, 1e12},
			// Also those that this joint makes no use of: they come back with a cure.
			bound{m.who + "specific gravity", m.G, 0, 30},
			bound{m.who + "density in kg/m3", m.Density, 0, 3e4},
			bound{m.who + "F_e in Pa", m.Fe, 0, 1e10})
		if m.Metal {
			bounds = append(bounds, bound{m.who + "F_e in Pa", m.Fe, 1e6, 1e10})
		} else if j.Code == NDS {
			if err := within(m.who+"specific gravity", m.G, 0.31, 0.73, "NDS 2018 Tables 12.2A to 12.2C"); err != nil {
				return err
			}
		} else if err := within(m.who+"density in kg/m3", m.Density, 100, 1200, rangeSource); err != nil {
			return err
		}
	}
	return bounded(rangeSource, bounds...)
}

// namedMember is a member with what its rules and refusals begin with.
type namedMember struct {
	who string
	Member
}

func (j Joint) members() [2]namedMember {
	return [2]namedMember{{"side member: ", j.Side}, {"main member: ", j.Main}}
}

func (j Joint) count() int { return max(j.Count, 1) }
func (j Joint) inRow() int { return max(j.InRow, 1) }

// nailed reports a nail of either shank.
func (f Fastener) nailed() bool { return f.Kind == Nail || f.Kind == RingNail }

// reach is where the fastener ends up in the main member: how deep, and how far its point comes
// out of the back, both m.
func (j Joint) reach() (depth, out float64) {
	p := max(0, j.Fastener.Length-j.Side.Thickness)
	return min(p, j.Main.Thickness), max(0, p-j.Main.Thickness)
}

// Withdrawal is what pulls one fastener out of the main member.
func (j Joint) Withdrawal() (Capacity, error) { return j.compute((*nds).withdrawal, (*en).withdrawal) }

// PullThrough is what pulls the head of one fastener, or the washer of a bolt, through or into
// the side member. Through metal no head is pulled: that is an error.
func (j Joint) PullThrough() (Capacity, error) {
	if j.Side.Metal {
		return Capacity{}, fmt.Errorf("fastener: a head bearing on metal has no pull-through value here")
	}
	return j.compute((*nds).pullThrough, (*en).pullThrough)
}

// Tension is the least of all that limits one fastener in tension: withdrawal, head or washers,
// and its own steel.
func (j Joint) Tension() (Capacity, error) { return j.compute((*nds).tension, (*en).tension) }

// Lateral is what one fastener carries across its axis, by the yield modes.
func (j Joint) Lateral() (Capacity, error) { return j.compute((*nds).lateral, (*en).lateral) }

func (j Joint) compute(us func(*nds) (Capacity, error), eu func(*en) (Capacity, error)) (Capacity, error) {
	if err := j.validate(); err != nil {
		return Capacity{}, err
	}
	t, err := tables()
	if err != nil {
		return Capacity{}, err
	}
	if j.Code == EN1995 {
		return eu(&en{j, t})
	}
	return us(&nds{j, t})
}
