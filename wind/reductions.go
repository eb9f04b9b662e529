package wind

import "fmt"

// Reduction is a rule that lowers the wind of ASCE 7 for a short or controlled
// exposure. The rules are alternatives: a Site takes one, and none goes with
// another, nor with a return period.
type Reduction struct {
	Name              string
	Factor            float64
	OnSpeed           bool   // the factor is on the speed; else on the load
	Clause            string // where the rule stands
	Condition         string // what must be so for the rule to apply
	Source, Certainty string
}

// Reductions returns every rule, in the order of the data.
func Reductions() ([]Reduction, error) {
	t, err := tables()
	if err != nil {
		return nil, err
	}
	return append([]Reduction(nil), t.reductions...), nil
}

// ReductionOf returns the rule called name.
func ReductionOf(name string) (Reduction, error) {
	t, err := tables()
	if err != nil {
		return Reduction{}, err
	}
	for _, r := range t.reductions {
		if r.Name == name {
			return r, nil
		}
	}
	return Reduction{}, fmt.Errorf("wind: no reduction %q", name)
}
