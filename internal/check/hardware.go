package check

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"galefast/internal/quantity"
	"galefast/internal/site"
	"galefast/internal/verdict"
	"galefast/statics/fastener"
)

// hardware checks what holds parts and pieces together. What the file does not describe far
// enough stays unchecked, with what it would have to hold where that can be told.
func (j *job) hardware() {
	before := len(j.report.Checks)
	for i := range j.f.Gates {
		j.gateHardware(i)
	}
	for i := range j.f.Columns {
		for k := 1; k < len(j.f.Columns[i].Sections); k++ {
			if j.f.Columns[i].Sections[k].Joint != nil {
				j.sectionJoint(i, k)
			}
		}
	}
	for i := range j.f.Walls {
		if j.f.Walls[i].Braces != nil {
			j.braces(i)
		}
	}
	for i := range j.f.Spans {
		if j.f.Spans[i].Fixing == nil {
			j.supports(i)
		}
	}
	j.fastenings()
	for _, c := range j.report.Checks[before:] {
		if c.Result != verdict.Unchecked {
			j.timberNotes()
			break
		}
	}
}

// code is the document by which screws and bolts are computed.
func (j *job) timberCode() fastener.Code {
	if code := j.f.Site.TimberCode; code.Given && code.V == "en1995" || !code.Given && j.f.System() == quantity.SI {
		return fastener.EN1995
	}
	return fastener.NDS
}

// service is what a fastener lives through under loads of some duration.
func (j *job) service(d fastener.Duration) fastener.Service {
	s := fastener.Service{Duration: d}
	if j.f.Site.Wet.V {
		s.Moisture = fastener.WetInService
	}
	return s
}

// timberNotes lists what the checks of fasteners take for granted.
func (j *job) timberNotes() {
	if !j.f.Site.TimberCode.Given {
		rules := "NDS 2018, allowable stress design"
		if j.timberCode() == fastener.EN1995 {
			rules = "EN 1995-1-1"
		}
		j.take(fmt.Sprintf("screws and bolts in wood by %s, since the units of the file are %s", rules, j.f.System()), "", "common practice, no source")
	}
	if j.timberCode() == fastener.EN1995 {
		j.take("fasteners: weights that burden times 1.35 and that relieve times 0.9, wind and people times 1.5 (wind by a strength-level speed of ASCE 7 times 1), against design values", "EN 1990:2002 A1.3", "from memory")
	} else {
		j.take("fasteners: every load at its own value against allowable loads, weights that relieve times 0.6; wind by a strength-level speed of ASCE 7 times 0.6", "ASCE 7-16 2.4.1", "from memory")
	}
	j.take("fasteners: loads with wind in them have the wind's duration; people without wind get no credit for a short load, nor has the blow of a leaf", "NDS 2018 2.3.2", "standard clause as reproduced in a public copy of NDS 2018 cited by page")
	j.take("fasteners: the wood about them is sound and does not split, holes are bored as the document asks, and minimum distances from ends and edges are kept where the file does not tell them; the working lists each", "", "common practice, no source")
}

// factors are what loads are multiplied by before they are held against what a document lets
// a fastener carry.
type loadFactors struct{ relief, burden, wind, people float64 }

func (j *job) loadFactors(s setup) loadFactors {
	strength := s.wind == j.code && strings.HasPrefix(j.f.Site.Basis.V, "asce")
	if j.timberCode() == fastener.EN1995 {
		if strength {
			return loadFactors{0.9, 1.35, 1, 1.5}
		}
		return loadFactors{0.9, 1.35, 1.5, 1.5}
	}
	if strength {
		return loadFactors{0.6, 1, 0.6, 1}
	}
	return loadFactors{0.6, 1, 1, 1}
}

// material is the wood that the file names, for the engine.
func (j *job) material(w site.Word, subject string) (fastener.Material, error) {
	name := w.V
	if !w.Given {
		name = j.assumed("wood", subject)
		if j.timberCode() == fastener.EN1995 {
			name = j.assumed("wood_en1995", subject)
		}
	}
	row, known := j.f.Catalog.Wood.Find(name)
	if known {
		name = row.Name
	}
	m, err := fastener.MaterialOf(name)
	if known && (err != nil || row.Given) {
		m, err = fastener.Material{Name: row.Name, G: row.SpecificGravity, Source: row.Source, Certainty: row.Certainty}, nil
	}
	if err == nil && j.timberCode() == fastener.EN1995 && m.Density == 0 {
		err = fmt.Errorf("EN 1995-1-1 goes by the strength class of the wood, as c24, and %q is none", name)
	}
	return m, err
}

// kit is equal fasteners as the file describes them.
type kit struct {
	fastener.Fastener
	count int
}

// kitOf finds the fasteners of the file in the engine's tables.
func (j *job) kitOf(f *site.Fasteners, subject string) (kit, error) {
	switch {
	case f.Bolts.V > mostInOne || f.Screws.V > mostInOne:
		return kit{}, errTooMany
	case f.Bolts.Given:
		b, err := j.bolt(f.Size, f.Washer, subject)
		return kit{b, f.Bolts.V}, err
	case !f.Screws.Given:
		return kit{}, fmt.Errorf("the file does not say how many screws or bolts there are (screws)")
	case !f.Length.Given:
		return kit{}, fmt.Errorf("the file does not say how long the screws are (length)")
	case f.Gauge.Given:
		s, err := fastener.Of(fastener.WoodScrew, fmt.Sprintf("#%d", f.Gauge.V), float64(f.Length.V))
		return kit{s, f.Screws.V}, err
	case !f.Size.Given:
		return kit{}, fmt.Errorf("the file does not say how thick the screws are (gauge)")
	}
	for _, kind := range [2]fastener.Kind{fastener.WoodScrew, fastener.LagScrew} {
		for _, size := range fastener.Sizes(kind) {
			if s, err := fastener.Of(kind, size, float64(f.Length.V)); err == nil && !strings.HasPrefix(size, "#") && math.Abs(s.D-float64(f.Size.V)) < 5e-5 {
				return kit{s, f.Screws.V}, nil
			}
		}
	}
	return kit{}, fmt.Errorf("the tables have no screw of %s by %s", f.Size.Text, f.Length.Text)
}

// mostInOne is how many screws or bolts in one place are shared among.
const mostInOne = 100

var errTooMany = fmt.Errorf("more than %d screws or bolts in one place are not computed", mostInOne)

// bolt finds a bolt by its diameter, with its washers: the least that is sold for it where the
// file gives none.
func (j *job) bolt(size, washer site.Measure[quantity.Length], subject string) (fastener.Fastener, error) {
	if !size.Given {
		return fastener.Fastener{}, fmt.Errorf("the file does not say how thick the bolts are (size)")
	}
	for _, name := range fastener.Sizes(fastener.Bolt) {
		b, err := fastener.Of(fastener.Bolt, name, 0)
		if err != nil || math.Abs(b.D-float64(size.V)) > 5e-5 {
			continue
		}
		if washer.Given {
			b.Washer = fastener.Washer{Name: washer.Text, OD: float64(washer.V), Source: "declared"}
		} else if list := fastener.WashersFor(name); len(list) > 0 {
			b.Washer = list[0]
			j.take(fmt.Sprintf("washers of the bolts of %s taken as the smallest sold for %s, %s across", subject, size.Text, j.long(b.Washer.OD)), list[0].Source, list[0].Certainty)
		}
		return b, nil
	}
	return fastener.Fastener{}, fmt.Errorf("the tables have no bolt of %s", size.Text)
}

func (j *job) long(m float64) string  { return quantity.Format(quantity.Length(m), j.f.System()) }
func (j *job) force(n float64) string { return quantity.Format(quantity.Force(n), j.f.System()) }

// longAtLeast prints a length that must not be undercut, rounded up.
func (j *job) longAtLeast(m float64) string {
	step := 1e-3
	if j.f.System() == quantity.US {
		step = 0.0254 / 8
	}
	return j.long(math.Ceil(m/step-1e-9) * step)
}

// durations are those of loads on fasteners here.
var durations = [...]fastener.Duration{fastener.Wind, fastener.TenYears, fastener.Impact}

// held is a joint with its capacities for each duration.
type held struct {
	fastener.Joint
	lateral, tension [len(durations)]fastener.Capacity
}

// hold computes the capacities of a joint once for many demands, and once for joints alike.
func (j *job) hold(joint fastener.Joint) (*held, error) {
	if h, ok := j.fitted[joint]; ok {
		return h, nil
	}
	h := &held{Joint: joint}
	for i, d := range durations {
		joint.Service = j.service(d)
		var err error
		if h.lateral[i], err = joint.Lateral(); err != nil {
			return nil, err
		}
		if h.tension[i], err = joint.Tension(); err != nil {
			return nil, err
		}
	}
	if j.fitted == nil {
		j.fitted = map[fastener.Joint]*held{}
	}
	j.fitted[joint] = h
	return h, nil
}

// first tries kits in their order, and reports whether one will do. Of one size they get stronger
// along the list: where the last of a size will not do, none of it does.
func first(kits []kit, will func(kit) bool, take func(kit)) bool {
	for len(kits) > 0 {
		n := 1
		for n < len(kits) && kits[n].Size == kits[0].Size {
			n++
		}
		if will(kits[n-1]) {
			i := slices.IndexFunc(kits[:n], will)
			take(kits[i])
			return true
		}
		kits = kits[n:]
	}
	return false
}

// compare holds a demand on one fastener against what it carries. share is its utilisation,
// hopeless where there is no capacity at all.
func (h *held) compare(d fastener.Demand, duration fastener.Duration) (u fastener.Use, share float64) {
	i := slices.Index(durations[:], duration)
	u, err := h.Compare(d, h.lateral[i], h.tension[i])
	if err != nil {
		return u, hopeless
	}
	share, ok := u.Utilisation()
	if !ok {
		share = hopeless + u.Demand
	}
	return u, share
}

// rough is at least the utilisation, without working it out.
func (h *held) rough(d fastener.Demand, duration fastener.Duration) float64 {
	i := slices.Index(durations[:], duration)
	return quotient(d.Lateral, h.lateral[i].Value) + quotient(d.Tension, h.tension[i].Value)
}

func quotient(demand, capacity float64) float64 {
	switch {
	case demand <= 0:
		return 0
	case capacity <= 0:
		return hopeless + demand
	}
	return demand / capacity
}

// hopeless is a utilisation beyond every real one: of what has no capacity.
const hopeless = 1e12

// grip is one finished check of a fastener.
type grip struct {
	subject, what string
	at            site.Place
	kind          fastener.Kind
	use           fastener.Use
	share         float64
	state         string
	fromDeg       *float64
	steps         []verdict.Step
	cure          string
}

// record writes a grip as a check and as a row of the table.
func (j *job) record(g grip) {
	c := verdict.Check{
		ID: id(verdict.Hardware, g.subject, g.what), Kind: verdict.Hardware, Subject: g.subject, What: g.what, State: g.state, FromDeg: g.fromDeg,
		Sense: verdict.AtMost, Needs: ptr(1), Unit: "1", At: g.at.String(), Mechanism: plainly(g.use.Mode, g.kind), Working: g.steps,
	}
	if g.share < hopeless {
		c.Has = ptr(g.share)
	} else {
		c.Result, c.Why = verdict.Fails, "nothing may be counted on"
	}
	source := g.use.Tension.Source
	if g.use.Lateral.Source != source {
		source = strings.Trim(source+", "+g.use.Lateral.Source, ", ")
	}
	c.Source = source
	if g.use.Certainty != "" {
		c.Source += " (" + g.use.Certainty + ")"
	}
	c.Working = once(c.Working, j.capacitySteps(&g.use))
	c.Decide()
	var broken []string
	for _, r := range g.use.Broken() {
		if !r.Voids {
			broken = append(broken, fmt.Sprintf("%s has %s and should have %s", r.What, j.long(r.Has), j.longAtLeast(r.Needs)))
		}
	}
	if c.Why == "" && c.Result == verdict.Fails {
		c.Why = strings.Join(broken, "; ")
	}
	if c.Result == verdict.Fails {
		c.Cure = g.cure
	}
	j.report.Checks = append(j.report.Checks, c)
	row := verdict.HardwareRow{ID: c.ID, Piece: g.subject, Item: g.what, DemandN: ptr(g.use.Demand), Utilisation: c.Has, Mode: g.use.Mode, GivesWay: c.Mechanism,
		Result: c.Result, Why: c.Why, Cure: c.Cure, Source: source, Certainty: g.use.Certainty, At: c.At}
	if g.use.Capacity > 0 {
		row.CapacityN = ptr(g.use.Capacity)
	}
	j.report.Hardware.Rows = append(j.report.Hardware.Rows, row)
}

// plainly says what gives way in the words of those who build.
func plainly(mode string, kind fastener.Kind) string {
	them := "screws"
	if kind == fastener.Bolt {
		them = "bolts"
	}
	for _, w := range [...]struct{ has, say string }{
		{"penetration", "the " + them + " are too short to count"},
		{"tilts", "the " + them + " tilt and crush the wood"},
		{"bends in both", "the " + them + " bend"}, {"bends", "the " + them + " bend and crush the wood"},
		{"side member crushes", "the wood in front crushes"}, {"main member crushes", "the wood behind crushes"}, {"crush", "the wood crushes"},
		{"withdrawal", "the " + them + " pull out of the wood"}, {"head pull-through", "the heads pull through the wood"},
		{"washer bearing", "the washers sink into the wood"}, {"fastener steel", "the " + them + " tear"},
	} {
		if strings.Contains(mode, w.has) {
			return w.say
		}
	}
	return mode
}

// demanded writes what a fastener must hold, where the file does not say what it is.
func (j *job) demanded(subject, what, why string, demand float64, at site.Place) {
	why = strings.TrimPrefix(why, "fastener: ")
	if demand > 0 {
		why = fmt.Sprintf("it must hold %s; %s", j.force(demand), why)
	}
	j.unchecked(verdict.Hardware, subject, what, why, "", at)
	row := verdict.HardwareRow{ID: id(verdict.Hardware, subject, what), Piece: subject, Item: what, Result: verdict.Unchecked, Why: why, At: at.String()}
	if demand > 0 {
		row.DemandN = ptr(demand)
	}
	j.report.Hardware.Rows = append(j.report.Hardware.Rows, row)
}

// capacitySteps work the capacity of one fastener, and name the distances to keep.
func (j *job) capacitySteps(u *fastener.Use) []verdict.Step {
	var steps []verdict.Step
	var keep []string
	for _, part := range []struct {
		name string
		of   *fastener.Capacity
		is   float64
	}{{"along its axis", &u.Tension, u.Tension.Value}, {"across its axis", &u.Lateral, u.Lateral.Value}} {
		if part.of.Mode == "" {
			continue
		}
		for _, s := range part.of.Steps {
			steps = append(steps, verdict.Step{Text: part.name + ": " + s.What, Numbers: s.Formula, Source: s.Source + " (" + s.Certainty + ")"})
		}
		for _, r := range part.of.Rules {
			text := fmt.Sprintf("%s at least %s", r.What, j.longAtLeast(r.Needs))
			if r.Known {
				text += fmt.Sprintf(" (has %s)", j.long(r.Has))
			}
			if !slices.Contains(keep, text) {
				keep = append(keep, text)
			}
		}
		steps = append(steps, verdict.Step{Text: "one fastener " + part.name, Formula: "least of what limits it, times the factors above", Numbers: fmt.Sprintf("%.4g N: %s", part.is, part.of.Mode)})
	}
	if u.Step.Formula != "" {
		steps = append(steps, verdict.Step{Text: "pull and shear together", Numbers: u.Step.Formula, Source: u.Step.Source + " (" + u.Step.Certainty + ")"})
	}
	if len(keep) > 0 {
		steps = append(steps, verdict.Step{Text: "distances to keep", Numbers: strings.Join(keep, "; ")})
	}
	numbers := fmt.Sprintf("%.4g N on one that carries none", u.Demand)
	if share, ok := u.Utilisation(); ok {
		numbers = fmt.Sprintf("%.4g / %.4g = %.3f", u.Demand, u.Capacity, share)
	}
	return append(steps, verdict.Step{Text: "used of it", Formula: "demand / capacity in the direction of the demand", Numbers: numbers})
}

// words name fasteners as they are bought.
func (j *job) words(f fastener.Fastener) string {
	switch {
	case f.Kind == fastener.Bolt:
		return fmt.Sprintf("%s bolts right through with %s washers", j.long(f.D), j.long(f.Washer.OD))
	case f.Kind == fastener.LagScrew:
		return fmt.Sprintf("%s x %s lag screws", j.long(f.D), j.long(f.Length))
	}
	return fmt.Sprintf("%s x %s screws", f.Size, j.long(f.Length))
}

// stouter lists screws that may stand in for some: longer ones of the same thickness, then
// thicker ones, each from the shortest up and none that comes out of the back.
func stouter(k kit, side, main float64) (list []kit) {
	at := false
	for _, size := range fastener.Sizes(k.Kind) {
		at = at || size == k.Size
		first, err := fastener.Of(k.Kind, size, 0.1)
		if !at || err != nil || first.Metric != k.Metric || first.D > maxScrew || !first.Metric && first.D > maxNumber {
			continue
		}
		for _, length := range first.Lengths() {
			if length <= side+main+1e-9 && length >= k.Length-1e-9 && (size != k.Size || length > k.Length+1e-9) {
				if s, err := fastener.Of(k.Kind, size, length); err == nil {
					list = append(list, kit{s, k.count})
				}
			}
		}
	}
	return list
}

// The thickest wood screws that are advised, m: 8 mm, and No. 14 of those with numbers.
const (
	maxScrew  = 0.0081
	maxNumber = 0.0063
)

// boltsFor lists bolts with their washers from the smallest up that may stand in for a kit.
func boltsFor(k kit) (list []kit) {
	for _, size := range fastener.Sizes(fastener.Bolt) {
		b, err := fastener.Of(fastener.Bolt, size, 0)
		if err != nil || b.Metric != k.Metric || b.D > maxBolt || k.Kind == fastener.Bolt && b.D < k.D-1e-9 {
			continue
		}
		for _, w := range fastener.WashersFor(size) {
			if k.Kind == fastener.Bolt && b.D < k.D+1e-9 && w.OD <= k.Washer.OD+1e-9 {
				continue
			}
			b.Washer = w
			list = append(list, kit{b, k.count})
		}
	}
	return list
}

// maxBolt is the thickest bolt that is advised, m.
const maxBolt = 0.0128

// most is how many cures a check names.
const mostCures = 3

// orList joins cures.
func orList(cures []string) string {
	if len(cures) > mostCures {
		cures = cures[:mostCures]
	}
	return strings.Join(cures, ", or ")
}
