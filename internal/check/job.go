// Package check does the whole job on a loaded site: it weighs it, builds the
// situations that each piece must stand in, asks the engines, and writes the record
// that every output is made from.
//
// Inside, the wind is a direction that it blows TO, rad counterclockwise from east;
// the record says where it comes FROM.
package check

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strings"

	"galefast/internal/site"
	"galefast/internal/takeoff"
	"galefast/internal/verdict"
	"galefast/statics/fastener"
)

// Options widen what a run records; they change no result.
type Options struct {
	EveryDirection bool // the wind table has every direction, not the governing one
	LimitsAround   bool // every limit also by the direction of the wind
	PowerPlan      bool // the lamps are put onto the outlets anew
	PowerOnly      bool // nothing but the supply trees is looked at
}

// Run checks a loaded site. The error is for a site that the engines cannot take at
// all, with the reason in the user's words.
func Run(f *site.File, masses *takeoff.Takeoff, options Options) (*verdict.Report, error) {
	j := &job{f: f, masses: masses, options: options, asks: newStrengths(), report: &verdict.Report{
		Title: f.Title.V, Basis: f.Site.Basis.V, Units: f.System().String(),
		Cautions: cautions,
	}}
	if j.report.Title == "" {
		j.report.Title = f.Name
	}
	if !options.PowerOnly {
		j.weigh()
		if err := j.standing(); err != nil {
			return nil, err
		}
		j.hardware()
	}
	if err := j.power(); err != nil {
		return nil, err
	}
	if !options.PowerOnly {
		j.way()
	}
	j.assume()
	j.report.Count()
	j.report.FillLists()
	return j.report, nil
}

// job carries one run.
type job struct {
	f        *site.File
	masses   *takeoff.Takeoff
	options  Options
	report   *verdict.Report
	taken    []verdict.Assumption // assumptions made by the checks themselves
	presumed []presumed           // defaults that the checks of power and of fasteners took

	grasps map[*site.Fixing]grasp // what fixings hold
	asks   strengths              // of the groups that were checked
	fitted map[fastener.Joint]*held

	measured *climate // a gust that somebody measures
	code     *climate // the basis that the file asks for
}

var cautions = []string{
	"These are estimates from what the file says, by simplified methods. They do not replace a design by a licensed engineer or a licensed electrician.",
	"Local codes and the authority having jurisdiction decide; where they ask for more, they rule.",
	"A check that holds does so under the assumptions listed and for the gusts given, which are 3-second gusts; somebody must watch the wind and act before a limit is reached.",
	"What reads unchecked was not computed. It is neither a pass nor a failure; have it looked at.",
}

// still is a force or moment without the noise of rounding.
func still(v float64) float64 {
	if math.Abs(v) < 1e-9 {
		return 0
	}
	return v
}

// belowNothing is noise that was printed with a minus.
var belowNothing = regexp.MustCompile(`-(0\.0+)\b`)

// add appends a check after settling its result.
func (j *job) add(c verdict.Check) {
	c.Decide()
	for i := range c.Working {
		if numbers := &c.Working[i].Numbers; strings.Contains(*numbers, "-0.0") {
			*numbers = belowNothing.ReplaceAllString(*numbers, "$1")
		}
	}
	j.report.Checks = append(j.report.Checks, c)
}

// unchecked appends a check that was not computed.
func (j *job) unchecked(kind verdict.Kind, subject, what, why, source string, at site.Place) {
	j.report.Checks = append(j.report.Checks, verdict.Check{
		ID: id(kind, subject, what), Kind: kind, Subject: subject, What: what, Sense: verdict.AtLeast, Unit: "1",
		Result: verdict.Unchecked, Why: why, Source: source, At: at.String(),
	})
}

func id(kind verdict.Kind, subject, what string) string {
	return fmt.Sprintf("%s/%s/%s", kind, subject, what)
}

// assume lists every default that was used and what the checks took for granted.
func (j *job) assume() {
	for _, a := range j.f.Assumptions {
		if j.idle(a.Key) {
			continue
		}
		j.report.Assumptions = append(j.report.Assumptions, verdict.Assumption{
			Text:   fmt.Sprintf("%s taken as %s (%s)%s", a.Key, a.Value, a.Why, of(a.Of)),
			Source: a.Source, Certainty: a.Certainty, At: a.At.String(),
		})
	}
	j.report.Assumptions = append(j.report.Assumptions, j.taken...)
}

// idle reports whether a default of [site] or [require] plays no part, since there is
// nothing in the file that it acts on.
func (j *job) idle(key string) bool {
	switch {
	case key == "site.wet":
		return len(j.report.Hardware.Rows) == 0
	case key == "site.ambient":
		return len(j.f.Cords) == 0
	case key == "site.moisture" || key == "site.tolerance":
		return !j.estimated()
	case strings.HasPrefix(key, "site.") || strings.HasPrefix(key, "require."):
		return len(j.f.Columns)+len(j.f.Walls) == 0
	}
	return false
}

// estimated reports whether any mass is not the reading of a scale.
func (j *job) estimated() bool {
	return slices.ContainsFunc(j.report.Weigh.Pieces, func(p verdict.Piece) bool { return !p.Weighed || p.Estimated != nil })
}

// of says to which tables a default applied, when that is not plain.
func of(labels []string) string {
	const most = 4
	switch {
	case len(labels) == 1 && (labels[0] == "the file" || labels[0] == "site" || labels[0] == "require" || labels[0] == "lean"):
		return ""
	case len(labels) <= most:
		s := ": "
		for i, l := range labels {
			if i > 0 {
				s += ", "
			}
			s += l
		}
		return s
	}
	return fmt.Sprintf(": %s, %s and %d more", labels[0], labels[1], len(labels)-2)
}

func (j *job) take(text, source, certainty string) {
	j.taken = append(j.taken, verdict.Assumption{Text: text, Source: source, Certainty: certainty})
}

// weigh copies the take-off into the record.
func (j *job) weigh() {
	for _, list := range [][]takeoff.Piece{j.masses.Columns, j.masses.Gates, j.masses.Walls, j.masses.Spans} {
		for i := range list {
			p := &list[i]
			out := verdict.Piece{
				Name: p.Name, Kind: p.Kind, MassKg: p.Mass.Nominal, LightKg: p.Mass.Light, HeavyKg: p.Mass.Heavy,
				Tolerance: p.Tolerance, CentreM: p.Mass.Center, Weighed: p.Weighed, At: p.At.String(),
				Sections: []verdict.Section{}, Parts: []verdict.Part{},
			}
			if p.Estimated > 0 {
				out.Estimated = &p.Estimated
			}
			for _, s := range p.Sections {
				out.Sections = append(out.Sections, verdict.Section{Name: s.Name, MassKg: s.Mass.Nominal, CentreM: s.Mass.Center, At: s.At.String()})
				out.Parts = append(out.Parts, partsOf(s.Name, s.Parts)...)
			}
			out.Parts = append(out.Parts, partsOf("", p.Parts)...)
			j.report.Weigh.Pieces = append(j.report.Weigh.Pieces, out)
			if p.Estimated > 0 {
				if d := p.Mass.Nominal/p.Estimated - 1; d > 0.15 || d < -0.15 {
					j.take(fmt.Sprintf("%s %q: the scale says %.0f %% of the take-off; the scale is used, and the parts list wants a second look", p.Kind, p.Name, 100*(1+d)),
						"weighed against take-off", "given in the site file")
				}
			}
		}
	}
}

func partsOf(section string, parts []takeoff.Part) []verdict.Part {
	var out []verdict.Part
	for _, p := range parts {
		out = append(out, verdict.Part{Section: section, Name: p.Name, Count: p.Count, MassKg: p.Mass.Nominal,
			Source: p.Source, Certainty: p.Certainty, At: p.At.String()})
	}
	return out
}
