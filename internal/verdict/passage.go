package verdict

// Passage is what was measured along the ways through. Places are in plan, m.
type Passage struct {
	Rows      []PassageRow   `json:"rows"`
	Crossings []PassageCross `json:"crossings"`
	Reach     []PassageReach `json:"reach"`
	Checks    []Check        `json:"checks"` // of the kinds way and fire
}

// PassageRow is one way with its leaves at rest, or with those that nothing holds anywhere
// on their swing.
type PassageRow struct {
	Way           string      `json:"way"`
	Leaves        string      `json:"leaves"`  // open or loose
	WidthM        *float64    `json:"width_m"` // at the narrowest place
	NeedsM        float64     `json:"needs_m"`
	FromM         *[2]float64 `json:"from_m"` // the ends of the shortest tape across the way
	ToM           *[2]float64 `json:"to_m"`
	Between       []string    `json:"between"`
	AlongM        *float64    `json:"along_m"`    // from the start of the line
	HeadroomM     *float64    `json:"headroom_m"` // under the lowest thing over the line
	HeadroomNeeds float64     `json:"headroom_needs_m"`
	HeadroomAtM   *[2]float64 `json:"headroom_at_m"`
	Under         string      `json:"under,omitempty"`
	People        *int        `json:"people"`
	Capacity      *int        `json:"capacity"` // people for whom the width is enough
	Why           string      `json:"why,omitempty"`
	At            string      `json:"at"`
}

// PassageCross is a cord or guy that crosses a way.
type PassageCross struct {
	Way    string     `json:"way"`
	Name   string     `json:"name"`
	Kind   string     `json:"kind"` // cord or guy
	AtM    [2]float64 `json:"at_m"`
	AlongM float64    `json:"along_m"`
	Lies   string     `json:"lies"` // open, covered, buried, overhead, or the height of a guy
}

// PassageReach tells whether a piece that falls reaches the line of a way.
type PassageReach struct {
	Way       string  `json:"way"`
	Piece     string  `json:"piece"`
	DistanceM float64 `json:"distance_m"` // from its nearest part to the line
	ReachM    float64 `json:"reach_m"`    // its height
	Across    bool    `json:"across"`     // it reaches the line
}
