package starter

import (
	"cmp"
	"fmt"
	"strconv"
	"strings"

	"galefast/internal/catalog"
	"galefast/internal/quantity"
)

// Question is one question of a few, in plain words. An answer changes the plan.
type Question struct {
	text   string
	preset func() string // what an empty answer means; it may depend on the answers before
	take   func(string) error
	asked  func() bool // whether it makes sense after the answers before; nil for always
}

// Text is the question.
func (q Question) Text() string { return q.text }

// Default is what an empty answer means.
func (q Question) Default() string { return q.preset() }

// Asked reports whether the question makes sense after the answers to those before.
func (q Question) Asked() bool { return q.asked == nil || q.asked() }

// Answer takes an answer, or says why it cannot be used.
func (q Question) Answer(text string) error {
	if text = oneLine(text); text == "" {
		text = q.preset()
	}
	return q.take(text)
}

// Questions are what a starter file wants to know, in order. An answer that does not fit those
// before it is refused when it is given.
func (p *Plan) Questions() []Question {
	s := func() sizes { return sizesOf[cmp.Or(p.Units, "us")] }
	fixed := func(text string) func() string { return func() string { return text } }
	count := func(to *int) func(string) error {
		return func(text string) error {
			n, err := strconv.Atoi(text)
			if err != nil || n < 0 || n > most {
				return fmt.Errorf("a number from 0 to %d, please", most)
			}
			*to = n
			return nil
		}
	}
	yes := func(to *bool) func(string) error {
		return func(text string) error {
			switch strings.ToLower(text) {
			case "y", "yes":
				*to = true
			case "n", "no":
				*to = false
			default:
				return fmt.Errorf("yes or no, please")
			}
			return nil
		}
	}
	// whole asks the plan as it stands now, the answer included.
	whole := func(take func(string) error) func(string) error {
		return func(text string) error {
			if err := take(text); err != nil {
				return err
			}
			trial := *p
			trial.Supply = true // alone it would be enough
			return trial.Complete()
		}
	}
	columns := func(least int) func() bool { return func() bool { return p.Columns >= least } }
	return []Question{
		{"What is it called?", fixed("Our entrance"), func(text string) error {
			p.Title = text
			return called(text)
		}, nil},
		{"Feet and pounds (us), or metres and kilograms (si)?", func() string { return cmp.Or(p.Units, "us") }, func(text string) error {
			if _, err := quantity.ParseSystem(strings.ToLower(text)); err != nil {
				return fmt.Errorf("us or si, please")
			}
			p.Units = strings.ToLower(text)
			return nil
		}, nil},
		{"How many free-standing columns?", fixed(strconv.Itoa(p.Columns)), count(&p.Columns), nil},
		{"How wide is a column, outside?", func() string { return s().width }, into(&p.Width, "length", size), columns(1)},
		{"How tall is it?", func() string { return s().height }, into(&p.Height, "length", size), columns(1)},
		{"How many swing leaves hang on the columns?", fixed("0"), whole(count(&p.Gates)), columns(1)},
		{"Is there a sign between the first two columns?", fixed("no"), whole(yes(&p.Sign)), columns(2)},
		{"How many scenic walls?", fixed("0"), count(&p.Walls), nil},
		{"Are there lamps on a cord?", fixed("no"), yes(&p.Supply), nil},
		{"What does it stand on?", fixed("asphalt"), func(text string) error {
			if _, ok := catalog.Embedded().Ground.Find(text); !ok {
				var names []string
				for _, g := range catalog.Embedded().Ground.All() {
					names = append(names, g.Name)
				}
				return fmt.Errorf("one of %s, please", strings.Join(names, ", "))
			}
			p.Ground = text
			return nil
		}, nil},
		{"Above which gust is the public sent out?", func() string { return s().gustOpen }, into(&p.GustOpen, "gust", gust), nil},
		{"Up to which gust must it stand, with nobody near?", func() string { _, alone := p.gusts(s()); return alone }, whole(into(&p.GustAlone, "gust", gust)), nil},
	}
}

// into takes an answer that can be read.
func into[Q quantity.Quantity](to *string, what string, read func(what, text string) (Q, error)) func(string) error {
	return func(text string) error {
		_, err := read(what, text)
		if err == nil {
			*to = text
		}
		return err
	}
}
