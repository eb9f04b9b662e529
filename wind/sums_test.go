package wind

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
)

// Whoever follows a working with a calculator must come to what stands behind the equals sign.
// sums works every sum of a text again, from the digits that are printed, each of which may be off
// by half of its fourth one, and returns how many there were.
func sums(text string) (n int, err error) {
	parts := strings.Split(text, " = ")
	for i := range parts[1:] {
		left := sumAtEnd.FindString(parts[i])
		if !strings.ContainsAny(strings.TrimSpace(left), " (^²") {
			continue // a number alone, or none
		}
		right := numberAtStart.FindString(parts[i+1])
		if sumAtEnd.FindString(parts[i+1]) == parts[i+1] {
			right = parts[i+1] // a sum of its own
		}
		got, err := evaluate(left)
		if err != nil {
			return n, err
		}
		printed, err := evaluate(right)
		if err != nil {
			return n, err
		}
		if !(got.lo <= printed.hi && got.hi >= printed.lo) {
			return n, fmt.Errorf("%s is %v to %v, and the working says %s", strings.TrimSpace(left), got.lo, got.hi, right)
		}
		n++
	}
	return n, nil
}

var (
	sumAtEnd      = regexp.MustCompile(`(?:[0-9.()+\-·/^²° ]|e[+-][0-9]+|sqrt|ln|log|sin|cos)*$`)
	numberAtStart = regexp.MustCompile(`^-?[0-9.]+(?:e[+-][0-9]+)?`)
)

// interval is where a number may lie.
type interval struct{ lo, hi float64 }

// about is a number printed with four digits.
func about(x float64) interval {
	e := 5.1e-4 * math.Abs(x)
	return interval{x - e, x + e}
}

// with takes a function that goes one way in each of two arguments to the ends of both.
func (a interval) with(b interval, f func(x, y float64) float64) interval {
	p, q, r, s := f(a.lo, b.lo), f(a.lo, b.hi), f(a.hi, b.lo), f(a.hi, b.hi)
	return interval{min(p, q, r, s), max(p, q, r, s)}
}

// calculator reads a sum from the left of its text.
type calculator struct{ text string }

func evaluate(text string) (interval, error) {
	c := calculator{strings.ReplaceAll(text, " ", "")}
	v := c.sum()
	if c.text != "" || math.IsNaN(v.lo+v.hi) {
		return v, fmt.Errorf("%q cannot be worked at %q", text, c.text)
	}
	return v, nil
}

func (c *calculator) take(token string) bool {
	rest, ok := strings.CutPrefix(c.text, token)
	c.text = rest
	return ok
}

func (c *calculator) sum() interval {
	v := c.product()
	for {
		switch {
		case c.take("+"):
			v = v.with(c.product(), func(x, y float64) float64 { return x + y })
		case c.take("-"):
			v = v.with(c.product(), func(x, y float64) float64 { return x - y })
		default:
			return v
		}
	}
}

func (c *calculator) product() interval {
	v := c.power()
	for {
		switch {
		case c.take("·"):
			v = v.with(c.power(), func(x, y float64) float64 { return x * y })
		case c.take("/"):
			v = v.with(c.power(), func(x, y float64) float64 { return x / y })
		default:
			return v
		}
	}
}

func (c *calculator) power() interval {
	v := c.value()
	switch {
	case c.take("²"):
		return v.with(interval{2, 2}, math.Pow)
	case c.take("^"):
		return v.with(c.value(), func(x, y float64) float64 { return math.Pow(max(x, 0), y) }) // 1 - 0.9999 may round below zero
	case c.take("°"):
		return v.with(interval{math.Pi / 180, math.Pi / 180}, func(x, y float64) float64 { return x * y })
	}
	return v
}

func (c *calculator) value() interval {
	switch {
	case c.take("-"):
		return interval{}.with(c.value(), func(x, y float64) float64 { return x - y })
	case c.take("("):
		v := c.sum()
		c.take(")")
		return v
	}
	for _, f := range functions {
		if c.take(f.name) {
			return c.value().with(interval{}, func(x, _ float64) float64 { return f.of(x) })
		}
	}
	number := numberAtStart.FindString(c.text)
	c.take(number)
	x, err := strconv.ParseFloat(number, 64)
	if err != nil {
		return interval{math.NaN(), math.NaN()}
	}
	return about(x)
}

var functions = []struct {
	name string
	of   func(float64) float64
}{{"sqrt", math.Sqrt}, {"ln", math.Log}, {"log", math.Log10}, {"sin", math.Sin}, {"cos", math.Cos}}
