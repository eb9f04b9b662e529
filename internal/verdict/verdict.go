// Package verdict is the plain record of a finished job: every check with what it
// needs, what it has and why, and the tables behind them. It computes nothing but
// the outcome of a comparison. Everything a person or a program reads is made from it.
//
// Numbers are SI; angles are in degrees, bearings the ones that the wind blows FROM,
// clockwise from north. A number that does not exist is nil and has a reason beside it.
// The JSON keys are those that other programs read.
package verdict

import (
	"cmp"
	"slices"
)

// Result is the outcome of a check.
type Result string

const (
	Holds     Result = "holds"
	Fails     Result = "fails"
	Unchecked Result = "unchecked" // not computed, for the reason in Why
)

// Kind groups the checks.
type Kind string

const (
	Standing Kind = "standing"
	Hardware Kind = "hardware"
	Power    Kind = "power"
	Way      Kind = "way"
	Fire     Kind = "fire"
)

// Sense says how Has must compare with Needs.
type Sense string

const (
	AtLeast Sense = "at least"
	AtMost  Sense = "at most"
)

// Check is one check.
type Check struct {
	ID          string       `json:"id"` // kind/subject/what
	Kind        Kind         `json:"kind"`
	Subject     string       `json:"subject"`
	What        string       `json:"what"`
	State       string       `json:"state"`
	FromDeg     *float64     `json:"from_deg"`
	Sense       Sense        `json:"sense"`
	Needs       *float64     `json:"needs"`
	Has         *float64     `json:"has"`
	Unit        string       `json:"unit"` // SI unit of Needs and Has; 1 for a factor
	Result      Result       `json:"result"`
	Why         string       `json:"why,omitempty"`
	Mechanism   string       `json:"mechanism"`
	Cure        string       `json:"cure"`
	Source      string       `json:"source"`
	At          string       `json:"at"`
	Certificate *Certificate `json:"certificate"`
	Working     []Step       `json:"-"`
}

// Certificate is the proof of a limit-analysis answer: its equilibrium residual
// and duality gap, relative. Closed-form answers have none.
type Certificate struct {
	Residual float64 `json:"residual"`
	Gap      float64 `json:"gap"`
}

// Decide sets the result from the numbers, when both exist.
func (c *Check) Decide() {
	if c.Needs == nil || c.Has == nil {
		return
	}
	good := *c.Has >= *c.Needs
	if c.Sense == AtMost {
		good = *c.Has <= *c.Needs
	}
	c.Result = Fails
	if good {
		c.Result = Holds
	}
}

// Step is one line of the working of a check.
type Step struct {
	Text    string `json:"text"`             // what is worked out
	Formula string `json:"formula"`          // in symbols
	Numbers string `json:"numbers"`          // the same with SI numbers put in, and the result with its unit
	Source  string `json:"source,omitempty"` // clause or table
	At      string `json:"at,omitempty"`     // the input line that fed it
}

// Assumption is a value that the file does not give.
type Assumption struct {
	Text      string `json:"text"`
	Source    string `json:"source"`
	Certainty string `json:"certainty"`
	At        string `json:"at,omitempty"`
}

// Summary counts the results.
type Summary struct {
	Holds     int `json:"holds"`
	Fails     int `json:"fails"`
	Unchecked int `json:"unchecked"`
}

// Report is the whole job.
type Report struct {
	Title       string       `json:"title"`
	Basis       string       `json:"basis"`
	Units       string       `json:"units"`
	Summary     Summary      `json:"summary"`
	Checks      []Check      `json:"checks"`
	Assumptions []Assumption `json:"assumptions"`
	Cautions    []string     `json:"cautions"`

	PlanInForce string `json:"plan_in_force,omitempty"` // the reduction of the wind that rests on the action plan

	Weigh   Weigh   `json:"-"`
	Wind    Wind    `json:"-"`
	Ballast Ballast `json:"-"`
	Limits  Limits  `json:"-"`
	Circuit Circuit `json:"-"`

	Hardware HardwareTable `json:"-"`
	Passage  Passage       `json:"-"`
}

// Count fills in the summary.
func (r *Report) Count() {
	r.Summary = Summary{}
	for _, c := range r.Checks {
		switch c.Result {
		case Holds:
			r.Summary.Holds++
		case Fails:
			r.Summary.Fails++
		default:
			r.Summary.Unchecked++
		}
	}
}

// FillLists makes every list that holds nothing an empty one, so that a program reads
// [] and not null.
func (r *Report) FillLists() {
	fill(&r.Checks)
	fill(&r.Assumptions)
	fill(&r.Weigh.Pieces)
	fill(&r.Wind.Rows)
	fill(&r.Ballast.Rows)
	fill(&r.Ballast.Alternatives)
	fill(&r.Limits.Rows)
	fill(&r.Limits.Plan)
	fill(&r.Hardware.Rows)
	fill(&r.Circuit.Nodes)
	fill(&r.Circuit.Runs)
	fill(&r.Circuit.Circuits)
	fill(&r.Circuit.Energy)
	fill(&r.Circuit.Checks)
	fill(&r.Passage.Rows)
	fill(&r.Passage.Crossings)
	fill(&r.Passage.Reach)
	fill(&r.Passage.Checks)
}

func fill[T any](list *[]T) {
	if *list == nil {
		*list = []T{}
	}
}

// Find returns the check with that id.
func (r *Report) Find(id string) (*Check, bool) {
	i := slices.IndexFunc(r.Checks, func(c Check) bool { return c.ID == id })
	if i < 0 {
		return nil, false
	}
	return &r.Checks[i], true
}

// FailingFirst orders checks for reading: failing, then holding, then unchecked,
// each in the order of the report.
func FailingFirst(checks []Check) []Check {
	rank := map[Result]int{Fails: 0, Unchecked: 2, Holds: 1}
	sorted := slices.Clone(checks)
	slices.SortStableFunc(sorted, func(a, b Check) int { return cmp.Compare(rank[a.Result], rank[b.Result]) })
	return sorted
}
