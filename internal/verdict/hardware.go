package verdict

// HardwareTable holds what each fastener is asked and what it carries.
type HardwareTable struct {
	Rows []HardwareRow `json:"rows"`
}

// HardwareRow is one place where pieces or parts are held together. A number that does not
// exist is nil, with the reason in Why.
type HardwareRow struct {
	ID          string   `json:"id"` // of the check
	Piece       string   `json:"piece"`
	Item        string   `json:"item"`
	DemandN     *float64 `json:"demand_n"`    // on the worst screw or bolt, or on the whole where Item is one thing
	CapacityN   *float64 `json:"capacity_n"`  // of the same, in the direction of the demand
	Utilisation *float64 `json:"utilisation"` // demand over capacity; at most 1
	Mode        string   `json:"mode"`        // what gives way first, as the document calls it
	GivesWay    string   `json:"gives_way"`   // the same in plain words
	Result      Result   `json:"result"`
	Why         string   `json:"why,omitempty"`
	Cure        string   `json:"cure,omitempty"`
	Source      string   `json:"source"`
	Certainty   string   `json:"certainty"`
	At          string   `json:"at"`
}
