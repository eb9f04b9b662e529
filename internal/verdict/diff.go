package verdict

import (
	"fmt"
	"math"
)

// Difference is what changed in the results from one description to another.
type Difference struct {
	Was     Summary         `json:"was"`
	Is      Summary         `json:"is"`
	Worse   bool            `json:"worse"` // something fails that did not
	Checks  []CheckChange   `json:"checks"`
	Ballast []BallastChange `json:"ballast"`
	WasKg   float64         `json:"was_kg"` // of all ballast that must be there
	IsKg    float64         `json:"is_kg"`
	Limits  []LimitChange   `json:"limits"`
}

// How a thing changed.
const (
	Turned   = "turned" // another result
	Moved    = "moved"  // the same result by another number
	Appeared = "new"
	Vanished = "gone"
)

// CheckChange is a check of which the result or a printed number changed. Was is nil of a
// new one, Is of one that is gone.
type CheckChange struct {
	ID     string `json:"id"`
	Change string `json:"change"`
	Was    *Check `json:"was"`
	Is     *Check `json:"is"`
}

// BallastChange is a place for ballast with other units in it. A number is 0 where nothing
// is asked for, and nil where no number will do.
type BallastChange struct {
	Piece   string   `json:"piece"`
	Section string   `json:"section"`
	Unit    string   `json:"unit"`
	Was     *int     `json:"was"`
	Is      *int     `json:"is"`
	WasKg   *float64 `json:"was_kg"`
	IsKg    *float64 `json:"is_kg"`
}

// LimitChange is another gust that a piece takes in a state. Was is nil of a piece that was
// not there or had no limit, Is likewise.
type LimitChange struct {
	Piece string   `json:"piece"`
	State string   `json:"state"`
	Was   *float64 `json:"was_ms"`
	Is    *float64 `json:"is_ms"`
}

// sameGust is how far two gusts may lie apart that print alike, m/s.
const sameGust = 0.05

// Compare tells what changed from a to b: in the order of b, and after it what b no longer has.
func Compare(a, b *Report) *Difference {
	d := &Difference{Was: a.Summary, Is: b.Summary, WasKg: a.Ballast.TotalKg, IsKg: b.Ballast.TotalKg,
		Checks: []CheckChange{}, Ballast: []BallastChange{}, Limits: []LimitChange{}}
	pairs(a.Checks, b.Checks, func(c *Check) string { return c.ID }, func(was, is *Check) {
		c := CheckChange{Was: was, Is: is}
		switch {
		case was == nil:
			c.ID, c.Change = is.ID, Appeared
		case is == nil:
			c.ID, c.Change = was.ID, Vanished
		case was.Result != is.Result:
			c.ID, c.Change = is.ID, Turned
		default:
			needs, has := was.Figures()
			if n, h := is.Figures(); n == needs && h == has {
				return
			}
			c.ID, c.Change = is.ID, Moved
		}
		d.Worse = d.Worse || is != nil && is.Result == Fails && (was == nil || was.Result != Fails)
		d.Checks = append(d.Checks, c)
	})
	pairs(a.Ballast.Rows, b.Ballast.Rows, func(r *BallastRow) string { return fmt.Sprintf("%q %q %q", r.Piece, r.Section, r.Unit) }, func(was, is *BallastRow) {
		c := BallastChange{Was: new(int), Is: new(int), WasKg: new(float64), IsKg: new(float64)}
		if was != nil {
			c.Piece, c.Section, c.Unit, c.Was, c.WasKg = was.Piece, was.Section, was.Unit, was.Count, was.MassKg
		}
		if is != nil {
			c.Piece, c.Section, c.Unit, c.Is, c.IsKg = is.Piece, is.Section, is.Unit, is.Count, is.MassKg
		}
		if (c.Was == nil) != (c.Is == nil) || c.Was != nil && *c.Was != *c.Is {
			d.Ballast = append(d.Ballast, c)
		}
	})
	pairs(a.Limits.Rows, b.Limits.Rows, func(r *LimitRow) string { return fmt.Sprintf("%q %q", r.Piece, r.State) }, func(was, is *LimitRow) {
		var c LimitChange
		if was != nil {
			c.Piece, c.State, c.Was = was.Piece, was.State, was.GustMs
		}
		if is != nil {
			c.Piece, c.State, c.Is = is.Piece, is.State, is.GustMs
		}
		if (c.Was == nil) != (c.Is == nil) || c.Was != nil && math.Abs(*c.Was-*c.Is) > sameGust {
			d.Limits = append(d.Limits, c)
		}
	})
	return d
}

// pairs goes through two lists by key: those of b in order, each with its like in a, and then
// those that only a has. Several of one key pair up in order.
func pairs[T any](a, b []T, key func(*T) string, visit func(was, is *T)) {
	byKey := map[string][]*T{}
	for i := range a {
		k := key(&a[i])
		byKey[k] = append(byKey[k], &a[i])
	}
	paired := map[*T]bool{}
	for i := range b {
		var was *T
		k := key(&b[i])
		if list := byKey[k]; len(list) > 0 {
			was, byKey[k] = list[0], list[1:]
			paired[was] = true
		}
		visit(was, &b[i])
	}
	for i := range a {
		if !paired[&a[i]] {
			visit(&a[i], nil)
		}
	}
}

// Same reports whether nothing changed.
func (d *Difference) Same() bool { return len(d.Checks)+len(d.Ballast)+len(d.Limits) == 0 }
