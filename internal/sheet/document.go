package sheet

import (
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"galefast/internal/drawing"
	"galefast/internal/quantity"
	"galefast/internal/site"
	"galefast/internal/verdict"
)

// Document is what the venue gets, made once from the record and then written in any
// format.
type Document struct {
	Title  string
	blocks []block
	record *verdict.Report
}

// Options are what the reader of the record adds to a document.
type Options struct {
	Date    string // as given, printed as it is; empty for none
	Digest  string // of the description, as given
	Working bool   // an appendix with the working of every check
}

// block is one thing below another: heading, paragraph, items, *table, figure, blanks,
// working or pageBreak.
type block any

// heading opens a part of the document.
type heading struct {
	level int // 1 is the title
	text  string
}

type paragraph struct {
	text   string
	strong bool
}

// items is a list of sentences; with boxes it is one to tick off.
type items struct {
	list  []string
	boxes bool
}

// figure is one or more pictures under one caption.
type figure struct {
	caption string
	scenes  []*drawing.Scene
}

// blanks are lines to be filled in by hand.
type blanks struct{ list []string }

// working is the working of a check, step by step.
type working struct{ steps []verdict.Step }

type pageBreak struct{}

func (d *Document) add(b ...block) { d.blocks = append(d.blocks, b...) }

func (d *Document) head(level int, text string) { d.add(heading{level, text}) }

func (d *Document) say(format string, args ...any) {
	d.add(paragraph{text: fmt.Sprintf(format, args...)})
}

// tables adds those that have rows.
func (d *Document) tables(list ...*table) bool {
	any := false
	for _, t := range list {
		if len(t.rows) > 0 {
			d.add(t)
			any = true
		}
	}
	return any
}

// Compose makes the document of a job. The record must hold the wind from every
// direction, which the elevations show.
func Compose(f *site.File, r *verdict.Report, s quantity.System, o Options) *Document {
	d := &Document{Title: printable(r.Title), record: r}
	c := &composer{Document: d, f: f, r: r, s: s}
	d.head(1, d.Title)
	c.facts(o)
	d.add(paragraph{answer(r), true})
	c.questions()
	d.add(pageBreak{})
	c.pieces()
	c.standing()
	c.ballast()
	c.limits()
	c.kind("Hardware", verdict.Hardware, "No hinge, bolt, screw, brace or guy is described.")
	c.power()
	c.way()
	c.kind("Fire", verdict.Fire, "Nothing in the file asks for a check of fire. That is no statement that nothing burns.")
	c.others()
	c.unchecked()
	c.assumptions()
	c.cautions()
	d.head(2, "Inspection before opening")
	d.say("By the builder, on the spot, with the pieces as they stand. Tick what was seen, not what is known.")
	d.add(items{inspection(f, r, s), true})
	d.head(2, "Signatures")
	d.say("Each signs for what is named beside the line. Local codes and the authority having jurisdiction decide what else they ask for.")
	d.add(blanks{[]string{
		"Builder: built and ballasted as described here",
		"Venue: read, and will close at the gusts of the action plan",
		"Person who watches the wind",
		"Licensed electrician: supply, cords and GFCI looked at",
		"Licensed engineer, or the authority having jurisdiction, where they ask for one",
	}})
	if o.Working {
		c.appendix()
	}
	return d
}

// composer writes the parts of one document.
type composer struct {
	*Document
	f *site.File
	r *verdict.Report
	s quantity.System
}

// facts is the table of what the document is about.
func (c *composer) facts(o Options) {
	t := &table{title: "What this sheet is about", header: []string{"matter", "value"}, right: []bool{false, false}}
	row := func(name, value string) {
		if value != "" {
			t.add(name, printable(value))
		}
	}
	row("date", o.Date)
	row("description", filepath.Base(c.f.Name))
	row("digest of the description", o.Digest)
	row("gusts", c.gusts())
	ground := c.f.Site.Ground.V
	if c.f.Site.Friction.Given {
		ground = strings.TrimPrefix(ground+", friction "+c.f.Site.Friction.Text, ", ")
	}
	row("ground", ground)
	row("terrain and basis", fmt.Sprintf("terrain %s, basis %s", c.f.Site.Terrain.V, c.r.Basis))
	c.add(t)
}

// gusts are those of the file.
func (c *composer) gusts() string {
	var list []string
	if c.f.Site.GustOpen.Given {
		list = append(list, fmt.Sprintf("%s with the public inside", quantity.Format(c.f.Site.GustOpen.V, c.s)))
	}
	if c.f.Site.GustAlone.Given {
		list = append(list, fmt.Sprintf("%s with nobody near", quantity.Format(c.f.Site.GustAlone.V, c.s)))
	}
	return strings.Join(list, ", ")
}

func (c *composer) pieces() {
	c.head(2, "The site and its pieces")
	c.add(figure{"Plan", []*drawing.Scene{drawing.Plan(c.f, c.r, c.s)}})
	t := piecesTable(c.r, c.s)
	for i := range t.rows {
		t.rows[i] = append([]string{fmt.Sprint(i + 1)}, t.rows[i]...)
	}
	t.header, t.right = append([]string{"no."}, t.header...), append([]bool{true}, t.right...)
	c.tables(t)
	c.say("Numbers are those of the plan. Light and heavy are the ends of the estimate; each check takes the end that makes it harder to pass. Positions count east, north and up from the origin of the plan.")
}

func (c *composer) standing() {
	c.head(2, "Standing")
	if !c.tables(checkTables(c.r, verdict.Standing)...) {
		c.say("No check of standing was computed.")
	}
	c.say("A factor is what resists over what pushes. States: open, with the public inside and a person leaning on a piece; closed, leaves shut and nobody near; loose, a leaf that nothing holds.")
	if scenes := drawing.Elevations(c.f, c.r, c.s); len(scenes) > 0 {
		c.add(figure{"Elevations: each column and wall from the front, and from the side along the wind that governs its overturning", scenes})
	}
}

func (c *composer) ballast() {
	c.head(2, "Ballast")
	if !c.tables(ballastTable(c.r, c.s)) {
		c.say("No piece needs ballast under the assumptions below.")
		return
	}
	if kg := c.r.Ballast.TotalKg; kg > 0 {
		c.say("In all %s. The plan and the elevations show where each unit goes: low, dry, tied, where nobody carries it off.", quantity.Format(quantity.Mass(kg), c.s))
	}
	var list []string
	for _, a := range c.r.Ballast.Alternatives {
		list = append(list, fmt.Sprintf("%s: %s", printable(a.Piece), printable(a.Text)))
	}
	if len(list) > 0 {
		c.head(3, "Instead of more ballast, each enough for what it names")
		c.add(items{list, false})
	}
}

func (c *composer) limits() {
	c.head(2, "Wind: when to act")
	if c.r.PlanInForce != "" {
		c.say("The wind was lowered by the rule %s, which holds only while this plan is in force, in writing and with a name to it.", c.r.PlanInForce)
	}
	c.tables(planTable(c.r, c.s), limitsTable(c.r, c.s))
	if c.r.Limits.Rule != "" {
		c.say("%s When a thunderstorm is forecast or seen, clear people out first: its first gust can come within minutes.", printable(gustsAre(c.r)))
	}
	if scenes := drawing.Roses(c.r, c.s); len(scenes) > 0 {
		c.add(figure{"Gust limits by direction, forecast gusts in " + quantity.Unit[quantity.Speed](c.s) +
			". The black mark is the direction from which the least gust suffices; a circle means that from anywhere else it takes at least as much", scenes})
	}
}

// kind is a part with the checks of one kind and what was not computed of it.
func (c *composer) kind(title string, kind verdict.Kind, none string) {
	c.head(2, title)
	any := c.tables(checkTables(c.r, kind)...)
	n := 0
	for _, x := range c.r.Checks {
		if x.Kind == kind && x.Result == verdict.Unchecked {
			n++
		}
	}
	switch {
	case n > 0:
		c.say("%s not computed; see the list of checks not done.", counted(n, "check of this kind was", "checks of this kind were"))
	case !any:
		c.say("%s", none)
	}
}

func counted(n int, one, more string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, more)
}

func (c *composer) power() {
	c.head(2, "Circuits and cords")
	if len(c.r.Circuit.Nodes) == 0 {
		c.say("No supply is described.")
		return
	}
	if scenes := drawing.Supply(c.f, c.r, c.s); len(scenes) > 0 {
		c.add(figure{"Supply: what plugs in where", scenes})
	}
	c.tables(powerTables(c.r, c.s)...)
	c.tables(checkTables(c.r, verdict.Power)...)
}

func (c *composer) way() {
	var list []string
	for i := range c.f.Ways {
		w := &c.f.Ways[i]
		text := printable(w.Name.V)
		if w.People.Given {
			text += fmt.Sprintf(", at most %d people at once", w.People.V)
		}
		list = append(list, text)
	}
	c.kind("The way through", verdict.Way, "No way is described.")
	if len(list) > 0 {
		c.add(items{list, false})
		c.tables(wayTables(c.r, c.s)...)
	}
}

// others are checks of kinds that have no part of their own.
func (c *composer) others() {
	own := []verdict.Kind{verdict.Standing, verdict.Hardware, verdict.Power, verdict.Way, verdict.Fire}
	var kinds []verdict.Kind
	for _, x := range c.r.Checks {
		if !slices.Contains(own, x.Kind) && !slices.Contains(kinds, x.Kind) {
			kinds = append(kinds, x.Kind)
		}
	}
	if len(kinds) > 0 {
		c.head(2, "Other checks")
		c.tables(checkTables(c.r, kinds...)...)
	}
}

func (c *composer) unchecked() {
	c.head(2, "Checks not done")
	t := &table{title: "Not computed: neither a pass nor a failure", header: []string{"check", "of", "why"}, right: []bool{false, false, false}}
	for _, x := range c.r.Checks {
		if x.Result == verdict.Unchecked {
			t.add(x.What, printable(x.Subject), printable(x.Why))
		}
	}
	if !c.tables(t) {
		c.say("Every check that the file asks for was computed.")
	}
	c.say("%s", notLookedAt)
}

// notLookedAt is the second list of CAUTIONS.md in a sentence, one part for each of its lines.
const notLookedAt = "Not looked at in any way: whether boards, panels and frames are strong or stiff enough; snow, ice, floods, earthquakes, vehicles, anybody who climbs; more than one person pushing, a crowd surging; swaying in step with the gusts, flutter; what the floor, the deck or the roof below can carry; the wiring behind the outlet, plugs, splices, damaged jackets, lightning; cords over roads; how fast people get out, steps, light on the way; whatever burns besides foam; accessibility."

func (c *composer) assumptions() {
	c.head(2, "Assumptions")
	t := &table{title: "What was taken for granted, with its source", header: []string{"assumption", "source", "certainty"}, right: []bool{false, false, false}}
	for _, a := range c.r.Assumptions {
		t.add(printable(a.Text), printable(a.Source), printable(a.Certainty))
	}
	if !c.tables(t) {
		c.say("None beyond what the file says.")
	}
}

func (c *composer) cautions() {
	c.head(2, "Cautions")
	c.add(items{c.r.Cautions, false})
}

// appendix works every computed check.
func (c *composer) appendix() {
	c.add(pageBreak{})
	c.head(2, "Appendix: the working of every check")
	c.say("%s", unitsNote)
	for i := range c.r.Checks {
		x := &c.r.Checks[i]
		if len(x.Working) == 0 {
			continue
		}
		c.head(3, printable(x.ID))
		c.say("%s", strings.Join(outcome(x, c.r.Units), ". ")+".")
		c.add(working{x.Working})
	}
}

// outcome is a check in a few words, in us or si units.
func outcome(x *verdict.Check, units string) []string {
	head := string(x.Result)
	if x.Needs != nil {
		in := x.In(units)
		needs, has := in.Figures()
		unit := ""
		if in.Unit != "1" {
			unit = " " + in.Unit
		}
		head = fmt.Sprintf("%s: needs %s %s%s, has %s%s", x.Result, x.Sense, needs, unit, has, unit)
	}
	way := printable(x.Mechanism)
	if way != "" && x.Result == verdict.Holds && (x.Kind == verdict.Standing || x.Kind == verdict.Hardware) {
		way = "what would come first: " + way
	}
	list := append([]string{head}, nonEmpty(way, printable(x.Why))...)
	switch {
	case x.State == "":
	case x.FromDeg == nil:
		list = append(list, fmt.Sprintf("governed by the state %s, whatever the wind", x.State))
	default:
		list = append(list, fmt.Sprintf("governed by the state %s, wind from %s", x.State, verdict.Bearing(x.FromDeg)))
	}
	return append(list, "described at "+printable(x.At))
}

// gustsAre says of every table of gusts what its gusts are.
func gustsAre(r *verdict.Report) string {
	rule := r.Limits.Rule
	if rule != "" {
		rule = " " + strings.ToUpper(rule[:1]) + rule[1:] + "."
	}
	return "Gusts are 3-second gusts. Forecast: at 10 m (33 ft) over open ground." + rule
}
