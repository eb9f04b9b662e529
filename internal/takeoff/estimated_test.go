package takeoff

import "testing"

// A column that only a scale weighed was never estimated.
func TestNothingEstimatedWithoutParts(t *testing.T) {
	p := weigh(t, siteTable+"[[column]]\nname = \"column\"\nat = [\"0 m\", \"0 m\"]\nfoot = [\"1 m\", \"1 m\"]\nweighed = \"100 kg\"\nsection = [{ name = \"shaft\", width = \"1 m\", height = \"2 m\" }]\n").Columns[0]
	if p.Estimated != 0 {
		t.Errorf("nothing was estimated, and the estimate is given as %g kg", p.Estimated)
	}
}

// The parts of a weighed piece are scaled with it, so that they still add up.
func TestPartsOfAWeighedPieceAddUp(t *testing.T) {
	p := weigh(t, siteTable+columnOf(`weighed = "90 lb"`, `{ item = "a", mass = "60 lb" }`, `{ item = "b", mass = "20 lb" }`)).Columns[0]
	sum := 0.0
	for _, part := range p.Sections[0].Parts {
		sum += part.Mass.Nominal
	}
	if !near(sum, p.Sections[0].Mass.Nominal) {
		t.Errorf("parts of %g kg in a section of %g kg", sum, p.Sections[0].Mass.Nominal)
	}
}
