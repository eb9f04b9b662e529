//go:build lpcheck

package statics

import (
	"bufio"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

// TestIndependentSolver writes random groups as linear programmes in the CPLEX LP format,
// solves them with glpsol (GNU Linear Programming Kit) and compares. The
// programme is set out again, otherwise: normal and friction forces as variables of their own, the
// pyramid by its faces, moments about the origin, nothing scaled.
func TestIndependentSolver(t *testing.T) {
	rng := rand.New(rand.NewPCG(41, 42))
	var standing, fallen, free, zero int
	for i := range 200 {
		g, l := randomGroup(rng)
		align := 2 * math.Pi * rng.Float64()
		o := analyse(t, g, l, align, AllLimits)
		want, state := glpsol(t, g, l, align)
		switch {
		case state == "infeasible":
			fallen++
			if !o.NotStanding {
				t.Errorf("group %d stands, factor %+v; not so by glpsol", i, o.Factor)
			}
		case o.NotStanding:
			t.Errorf("group %d does not stand; it does by glpsol, factor %g, %s", i, want, state)
		case state == "unbounded":
			free++
			if !o.Factor.Unbounded {
				t.Errorf("group %d: factor %+v; unbounded by glpsol", i, o.Factor)
			}
		case o.Factor.Unbounded || math.Abs(o.Factor.Value-want) > 1e-6*max(want, 1e-3):
			t.Errorf("group %d: factor %+v; %.9g by glpsol", i, o.Factor, want)
		case want < 1e-9:
			zero++
		default:
			standing++
		}
	}
	t.Logf("%d with a factor, %d with factor zero, %d without limit, %d do not stand", standing, zero, free, fallen)
	if standing < 60 || min(zero, free, fallen) < 5 {
		t.Error("poor mix")
	}
}

// glpsol solves one group. state is optimal, infeasible or unbounded.
func glpsol(t *testing.T, g *Group, l *Loads, align float64) (factor float64, state string) {
	t.Helper()
	dir := t.TempDir()
	model, answer := filepath.Join(dir, "group.lp"), filepath.Join(dir, "answer.txt")
	if err := os.WriteFile(model, []byte(lpFormat(g, l, align)), 0o600); err != nil {
		t.Fatal(err)
	}
	// Without the presolver, which reports infeasible and unbounded alike.
	out, err := exec.Command("glpsol", "--lp", model, "--nopresol", "-w", answer).CombinedOutput()
	if err != nil {
		t.Fatalf("glpsol, from the Debian package glpk-utils: %v\n%s", err, out)
	}
	file, err := os.Open(answer)
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	for lines := bufio.NewScanner(file); lines.Scan(); {
		// s bas ROWS COLUMNS PRIMAL DUAL OBJECTIVE
		f := strings.Fields(lines.Text())
		if len(f) != 7 || f[0] != "s" || f[1] != "bas" {
			continue
		}
		factor, err := strconv.ParseFloat(f[6], 64)
		if err != nil {
			t.Fatal(err)
		}
		switch {
		case f[4] == "f" && f[5] == "f":
			return factor, "optimal"
		case f[4] == "f":
			return 0, "unbounded"
		}
		return 0, "infeasible"
	}
	t.Fatalf("no status in the answer of glpsol:\n%s", out)
	return 0, ""
}

// lpModel collects rows of text.
type lpModel struct {
	balance [][6]strings.Builder
	right   [][6]float64
	rows    []string
	bounds  []string
	names   int
}

func (m *lpModel) variable(bound string) string {
	m.names++
	name := fmt.Sprintf("x%d", m.names)
	m.bounds = append(m.bounds, fmt.Sprintf(bound, name))
	return name
}

// act lets a force of size name act along e at p on block.
func (m *lpModel) act(block int, name string, e, p Vec) {
	if block == Ground {
		return
	}
	moment := cross3(p, e)
	for k := range 3 {
		fmt.Fprintf(&m.balance[block][k], " %+.17g %s", e[k], name)
		fmt.Fprintf(&m.balance[block][3+k], " %+.17g %s", moment[k], name)
	}
}

func (m *lpModel) both(a, b int, name string, e, p Vec) {
	m.act(a, name, e, p)
	m.act(b, name, scaled(e, -1), p)
}

const (
	positive = "0 <= %s <= +inf"
	anything = "-inf <= %s <= +inf"
)

// polygon keeps the vector of x and y within the polygon of 16 whose corners are at
// distance size, an expression with one variable.
func (m *lpModel) polygon(x, y, size string, times float64) {
	for k := range 16 {
		sin, cos := math.Sincos(2 * math.Pi * (float64(k) + 0.5) / 16)
		m.rows = append(m.rows, fmt.Sprintf("%+.17g %s %+.17g %s %+.17g %s <= 0",
			cos, x, sin, y, -times*math.Cos(math.Pi/16), size))
	}
}

// lpFormat sets out a group in kilonewtons.
func lpFormat(g *Group, l *Loads, align float64) string {
	m := &lpModel{balance: make([][6]strings.Builder, len(g.Blocks)), right: make([][6]float64, len(g.Blocks))}
	across := func(n Vec) (a, b Vec) {
		b = unit(cross3(n, Vec{math.Cos(align), math.Sin(align), 0}))
		return cross3(b, n), b
	}
	for _, c := range g.Contacts {
		n := unit(c.Normal)
		a, b := across(n)
		for _, p := range c.Points {
			normal := m.variable(positive)
			if c.Bearing > 0 {
				m.rows = append(m.rows, fmt.Sprintf("%s <= %.17g", normal, c.Bearing/1000))
			}
			x, y := m.variable(anything), m.variable(anything)
			m.both(c.Of, c.On, normal, n, p)
			m.both(c.Of, c.On, x, a, p)
			m.both(c.Of, c.On, y, b, p)
			m.polygon(x, y, normal, c.Friction)
		}
	}
	for _, k := range g.Links {
		n := unit(k.Axis)
		a, b := across(n)
		pull, push := m.variable(positive), m.variable(positive)
		x, y, shear := m.variable(anything), m.variable(anything), m.variable(positive)
		m.both(k.A, k.B, pull, n, k.At)
		m.both(k.A, k.B, push, scaled(n, -1), k.At)
		m.both(k.A, k.B, x, a, k.At)
		m.both(k.A, k.B, y, b, k.At)
		if !math.IsInf(k.Shear, 1) {
			m.polygon(x, y, shear, 1)
		}
		for _, way := range []struct {
			name     string
			capacity float64
		}{{pull, k.Pull}, {push, k.Push}} {
			var shares []string
			for _, s := range []struct {
				name     string
				capacity float64
			}{{way.name, way.capacity}, {shear, k.Shear}} {
				switch {
				case s.capacity == 0:
					m.rows = append(m.rows, s.name+" = 0")
				case !math.IsInf(s.capacity, 1):
					shares = append(shares, fmt.Sprintf("%+.17g %s", 1000/s.capacity, s.name))
				}
			}
			if len(shares) > 0 {
				m.rows = append(m.rows, strings.Join(shares, " ")+" <= 1")
			}
		}
	}
	for _, y := range g.Guys {
		tension := m.variable(positive)
		if !math.IsInf(y.Limit, 1) {
			m.rows = append(m.rows, fmt.Sprintf("%s <= %.17g", tension, y.Limit/1000))
		}
		m.act(y.Of, tension, unit(sub(y.To, y.At)), y.At)
	}
	live := make([][6]float64, len(g.Blocks))
	for i, forces := range [][]Acting{l.Dead, l.Live} {
		for _, f := range forces {
			moment := cross3(f.At, f.F)
			for k := range 3 {
				if i == 0 {
					m.right[f.Block][k] -= f.F[k] / 1000
					m.right[f.Block][3+k] -= moment[k] / 1000
				} else {
					live[f.Block][k] += f.F[k] / 1000
					live[f.Block][3+k] += moment[k] / 1000
				}
			}
		}
	}
	var b strings.Builder
	b.WriteString("Maximize\n factor: lambda\nSubject To\n")
	for i := range m.balance {
		for k := range 6 {
			fmt.Fprintf(&b, " %s %+.17g lambda = %.17g\n", m.balance[i][k].String(), live[i][k], m.right[i][k])
		}
	}
	for _, row := range m.rows {
		fmt.Fprintf(&b, " %s\n", row)
	}
	b.WriteString("Bounds\n 0 <= lambda <= +inf\n")
	for _, bound := range m.bounds {
		fmt.Fprintf(&b, " %s\n", bound)
	}
	b.WriteString("End\n")
	return b.String()
}
