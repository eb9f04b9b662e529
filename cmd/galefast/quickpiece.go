package main

import (
	"cmp"
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"galefast/internal/quantity"
	"galefast/internal/sheet"
)

// quickPiece is what flags tell of one piece and its site. Texts are as in a description.
type quickPiece struct {
	ground, friction, slope, terrain, gustOpen, gustAlone string // the site

	width, depth, height, foot, footDepth, shape, mass, weighed, tolerance string // a column, or the face of a wall or leaf
	bags                                                                   int
	bag                                                                    string

	underside, returns, braceReach, braceHeight string // a wall
	braces                                      int

	columnMass, columnWeighed, columnWidth, columnHeight, columnFoot    string // the column of a leaf
	thickness, clearance, open, keepClosed, keepOpen, screwLength, into string
	hinges                                                              []string
	screws, screwGauge                                                  int

	solidity float64
	explain  bool
}

func (a *app) quickColumnCommand() *cobra.Command {
	q := &quickPiece{}
	cmd := &cobra.Command{
		Use:   "column",
		Short: "Whether a column stands, its ballast, and the gust it takes",
		Long: `column answers for one free-standing column: overturning, sliding and turning in the gusts given and
under a leaning person, the ballast that it takes, and the gust at which it reaches its factors.`,
		Example: `  galefast quick column --width "22 in" --height "9 ft" --mass "120 lb" --foot "4 ft" --gust-open "20 mph" --gust-alone "35 mph" --ground asphalt
  galefast quick column --width "500 mm" --height "2.4 m" --shape round --weighed "41 kg" --foot "1.2 m" --gust-alone "15 m/s" --explain`,
		Args: cobra.NoArgs,
		RunE: func(cmd *cobra.Command, args []string) error {
			return a.quickPiece(cmd, q, []string{"width", "height"}, q.column)
		},
	}
	f := cmd.Flags()
	f.StringVar(&q.width, "width", "", "outside `width`, or diameter")
	f.StringVar(&q.depth, "depth", "", "outside `depth` of a rectangle, across its width")
	f.StringVar(&q.height, "height", "", "its `height`")
	f.StringVar(&q.shape, "shape", "", "`outline` in plan: square, rectangle, round, hexagon or octagon")
	f.StringVar(&q.foot, "foot", "", "`width` of what bears on the ground (default: as the column)")
	f.StringVar(&q.footDepth, "foot-depth", "", "`depth` of what bears on the ground (default: as its width)")
	q.massFlags(cmd, "the column")
	q.ballastFlags(cmd)
	q.siteFlags(cmd)
	return cmd
}

func (a *app) quickWallCommand() *cobra.Command {
	q := &quickPiece{}
	cmd := &cobra.Command{
		Use:   "wall",
		Short: "Whether a wall stands, its ballast, and the gust it takes",
		Long: `wall answers for one scenic wall on its sill, on braces or with returns: overturning, sliding and turning
in the gusts given and under a leaning person, the ballast that it takes, and the gust at which it
reaches its factors. Ballast lies along its base, or over the toes of braces.`,
		Example: `  galefast quick wall --width "8 ft" --height "6 ft" --mass "70 lb" --foot "30 in" --gust-open "20 mph" --gust-alone "35 mph" --ground asphalt
  galefast quick wall --width "2.4 m" --height "1.8 m" --mass "30 kg" --braces 3 --brace-reach "1.2 m" --brace-height "1.35 m" --gust-alone "15 m/s"`,
		Args: cobra.NoArgs,
		RunE: func(cmd *cobra.Command, args []string) error {
			return a.quickPiece(cmd, q, []string{"width", "height"}, q.wall)
		},
	}
	f := cmd.Flags()
	f.StringVar(&q.width, "width", "", "`length` of its face")
	f.StringVar(&q.height, "height", "", "`height` of its top")
	f.StringVar(&q.underside, "underside", "", "`height` of the lower edge of the face")
	f.StringVar(&q.foot, "foot", "", "`width` of the sill that bears, across the wall, without braces")
	f.Float64Var(&q.solidity, "solidity", 0, "solid `part` of its face, from 0 to 1 (default 1)")
	f.StringVar(&q.returns, "return", "", "`length` of a return panel at each end")
	f.IntVar(&q.braces, "braces", 0, "`number` of raking braces on one side")
	f.StringVar(&q.braceReach, "brace-reach", "", "`distance` of their toes from the middle line of the wall")
	f.StringVar(&q.braceHeight, "brace-height", "", "`height` of their upper ends")
	q.massFlags(cmd, "the wall")
	q.ballastFlags(cmd)
	q.siteFlags(cmd)
	return cmd
}

func (a *app) quickGateCommand() *cobra.Command {
	q := &quickPiece{}
	cmd := &cobra.Command{
		Use:   "gate",
		Short: "Whether a column stands with a swing leaf on it",
		Long: `gate answers for one swing leaf and the column that carries it: open, closed and loose, in the gusts given
and under a leaning person, with the ballast of the column and the gust at which it reaches its
factors.`,
		Example: `  galefast quick gate --width "40 in" --height "5 ft" --mass "24 lb" --column-width "24 in" --column-height "8 ft" --column-mass "110 lb" --gust-alone "35 mph" --ground asphalt
  galefast quick gate --width "1 m" --height "1.4 m" --mass "12 kg" --solidity 0.4 --keep-closed latch --keep-open hook --column-width "400 mm" --column-height "2 m" --column-mass "40 kg" --column-foot "1.2 m" --gust-alone "15 m/s"`,
		Args: cobra.NoArgs,
		RunE: func(cmd *cobra.Command, args []string) error {
			return a.quickPiece(cmd, q, []string{"width", "height", "column-width", "column-height"}, q.gate)
		},
	}
	f := cmd.Flags()
	f.StringVar(&q.width, "width", "", "`width` of the leaf")
	f.StringVar(&q.height, "height", "", "`height` of the leaf itself")
	f.StringVar(&q.thickness, "thickness", "", "`thickness` of the leaf")
	f.StringVar(&q.clearance, "clearance", "", "`gap` between the ground and the leaf")
	f.Float64Var(&q.solidity, "solidity", 0, "solid `part` of its area, from 0 to 1 (default 1)")
	f.StringVar(&q.open, "open", "", "`angle` that it is swung when open")
	f.StringVar(&q.keepClosed, "keep-closed", "", "`what` holds the closed leaf, as latch")
	f.StringVar(&q.keepOpen, "keep-open", "", "`what` holds the open leaf, as hook")
	f.StringArrayVar(&q.hinges, "hinge", nil, "`height` of a hinge above the ground; once for each")
	f.IntVar(&q.screws, "screws", 0, "`number` of screws in each half of a hinge")
	f.IntVar(&q.screwGauge, "screw-gauge", 0, "screw `number`")
	f.StringVar(&q.screwLength, "screw-length", "", "screw `length`")
	f.StringVar(&q.into, "into", "", "`wood` that the screws hold in")
	f.StringVar(&q.columnWidth, "column-width", "", "outside `width` of the column")
	f.StringVar(&q.columnHeight, "column-height", "", "`height` of the column")
	f.StringVar(&q.columnFoot, "column-foot", "", "`width` of what bears on the ground (default: as the column)")
	f.StringVar(&q.columnMass, "column-mass", "", "estimated `mass` of the column")
	f.StringVar(&q.columnWeighed, "column-weighed", "", "`mass` of the column from a scale")
	q.massFlags(cmd, "the leaf")
	q.ballastFlags(cmd)
	q.siteFlags(cmd)
	return cmd
}

func (q *quickPiece) massFlags(cmd *cobra.Command, what string) {
	f := cmd.Flags()
	f.StringVar(&q.mass, "mass", "", "estimated `mass` of "+what)
	f.StringVar(&q.weighed, "weighed", "", "`mass` of "+what+" from a scale")
	f.StringVar(&q.tolerance, "tolerance", "", "how far an estimated mass may be off, as `10 %`")
}

func (q *quickPiece) ballastFlags(cmd *cobra.Command) {
	f := cmd.Flags()
	f.IntVar(&q.bags, "bags", 0, "`number` of units of ballast that lie there already")
	f.StringVar(&q.bag, "bag", "", "`unit` of ballast, a row of the ballast table (default: sandbag 40 lb)")
}

func (q *quickPiece) siteFlags(cmd *cobra.Command) {
	f := cmd.Flags()
	f.StringVar(&q.gustAlone, "gust-alone", "", "`gust` up to which it must stand, with nobody near")
	f.StringVar(&q.gustOpen, "gust-open", "", "`gust` above which the public is out")
	f.StringVar(&q.ground, "ground", "", "what it stands on, a `row` of the ground table")
	f.StringVar(&q.friction, "friction", "", "`friction` between foot and ground, in place of the ground's")
	f.StringVar(&q.slope, "slope", "", "steepest `fall` of the ground, as 2 %")
	f.StringVar(&q.terrain, "terrain", "", "B among houses or woods, C in the open, D along open water; 0 to IV in the European scheme")
	f.BoolVar(&q.explain, "explain", false, "add the working of every computed check")
}

// check refuses what a description would refuse, in the words of the flags.
func (q *quickPiece) check(required []string) error {
	given := map[string]string{"width": q.width, "height": q.height, "column-width": q.columnWidth, "column-height": q.columnHeight}
	for _, name := range required {
		if given[name] == "" {
			return fmt.Errorf(`--%s is missing, as in --%s "24 in"`, name, name)
		}
	}
	switch gate := slices.Contains(required, "column-width"); {
	case q.mass == "" && q.weighed == "":
		return fmt.Errorf(`--mass or --weighed is missing, as in --mass "90 lb"`)
	case gate && q.columnMass == "" && q.columnWeighed == "":
		return fmt.Errorf(`--column-mass or --column-weighed is missing, as in --column-mass "90 lb"`)
	case q.gustAlone == "":
		return fmt.Errorf(`--gust-alone is missing, as in --gust-alone "35 mph" or "15 m/s"`)
	case !number(q.solidity):
		return fmt.Errorf("--solidity: %v is no number", q.solidity)
	case q.bags < 0:
		return fmt.Errorf("--bags: %d is below zero", q.bags)
	case q.braces < 0:
		return fmt.Errorf("--braces: %d is below zero", q.braces)
	case q.braces > 0 && (q.braceReach == "" || q.braceHeight == ""):
		return fmt.Errorf("--braces needs --brace-reach and --brace-height")
	case q.braces == 0 && (q.braceReach != "" || q.braceHeight != ""):
		return fmt.Errorf("--brace-reach and --brace-height need --braces, their number")
	}
	type flag struct {
		name, text string
		parse      func(string) error
	}
	flags := []flag{
		{"width", q.width, parses[quantity.Length]}, {"depth", q.depth, parses[quantity.Length]}, {"height", q.height, parses[quantity.Length]},
		{"foot", q.foot, parses[quantity.Length]}, {"foot-depth", q.footDepth, parses[quantity.Length]},
		{"mass", q.mass, parses[quantity.Mass]}, {"weighed", q.weighed, parses[quantity.Mass]}, {"tolerance", q.tolerance, parses[quantity.Ratio]},
		{"underside", q.underside, parses[quantity.Length]}, {"return", q.returns, parses[quantity.Length]},
		{"brace-reach", q.braceReach, parses[quantity.Length]}, {"brace-height", q.braceHeight, parses[quantity.Length]},
		{"column-width", q.columnWidth, parses[quantity.Length]}, {"column-height", q.columnHeight, parses[quantity.Length]},
		{"column-foot", q.columnFoot, parses[quantity.Length]}, {"column-mass", q.columnMass, parses[quantity.Mass]}, {"column-weighed", q.columnWeighed, parses[quantity.Mass]},
		{"thickness", q.thickness, parses[quantity.Length]}, {"clearance", q.clearance, parses[quantity.Length]}, {"open", q.open, parses[quantity.Angle]},
		{"screw-length", q.screwLength, parses[quantity.Length]},
		{"gust-alone", q.gustAlone, parses[quantity.Speed]}, {"gust-open", q.gustOpen, parses[quantity.Speed]},
		{"friction", q.friction, parses[quantity.Ratio]}, {"slope", q.slope, parses[quantity.Ratio]},
	}
	for _, h := range q.hinges {
		flags = append(flags, flag{"hinge", h, parses[quantity.Length]})
	}
	for _, x := range flags {
		if x.text == "" {
			continue
		}
		if err := x.parse(x.text); err != nil {
			return fmt.Errorf("--%s: %w", x.name, err)
		}
	}
	return nil
}

// description is a description that is being written.
type description struct{ strings.Builder }

// text writes a key with a text, unless it is empty; pair one with several.
func (d *description) text(key, text string) {
	if text != "" {
		fmt.Fprintf(d, "%s = %s\n", key, quoted(text))
	}
}

func (d *description) pair(key string, texts ...string) {
	values := make([]string, len(texts))
	for i, t := range texts {
		values[i] = quoted(t)
	}
	fmt.Fprintf(d, "%s = [%s]\n", key, strings.Join(values, ", "))
}

// number writes a key with a number, unless it is zero.
func (d *description) number(key string, v float64) {
	if v != 0 {
		fmt.Fprintf(d, "%s = %v\n", key, v)
	}
}

func (d *description) header(text string) { d.WriteString(text + "\n") }

// site writes what every piece has around it.
func (q *quickPiece) site(d *description, title, units string) {
	d.text("title", title)
	d.text("units", units)
	d.header("[site]")
	d.text("gust_alone", q.gustAlone)
	d.text("gust_open", q.gustOpen)
	d.text("ground", q.ground)
	d.text("friction", q.friction)
	d.text("slope", q.slope)
	d.text("terrain", q.terrain)
	d.text("tolerance", q.tolerance)
}

func (q *quickPiece) ballast(d *description, in string) {
	if q.bags == 0 && q.bag == "" {
		return
	}
	d.header("[[ballast]]")
	d.text("in", in)
	d.text("unit", cmp.Or(q.bag, "sandbag 40 lb"))
	fmt.Fprintf(d, "count = %d\n", q.bags)
}

func (q *quickPiece) column(units string) string {
	d := &description{}
	across := cmp.Or(q.depth, q.width)
	q.site(d, fmt.Sprintf("A column %s by %s, %s tall", q.width, across, q.height), units)
	d.header("[[column]]\nname = \"column\"\nat = [\"0 m\", \"0 m\"]")
	d.pair("foot", cmp.Or(q.foot, q.width), cmp.Or(q.footDepth, q.foot, across))
	d.text("weighed", q.weighed)
	d.header("[[column.section]]\nname = \"body\"")
	d.text("shape", q.shape)
	d.text("width", q.width)
	d.text("depth", q.depth)
	d.text("height", q.height)
	d.text("mass", q.mass)
	q.ballast(d, "column")
	return d.String()
}

func (q *quickPiece) wall(units string) string {
	d := &description{}
	q.site(d, fmt.Sprintf("A wall %s long and %s tall", q.width, q.height), units)
	d.header("[[wall]]\nname = \"wall\"\nfrom = [\"0 m\", \"0 m\"]")
	d.pair("to", q.width, "0 m")
	d.text("height", q.height)
	d.text("underside", q.underside)
	d.text("foot", q.foot)
	d.number("solidity", q.solidity)
	d.text("return", q.returns)
	if q.braces > 0 {
		fmt.Fprintf(d, "braces = { count = %d, reach = %s, height = %s }\n", q.braces, quoted(q.braceReach), quoted(q.braceHeight))
	}
	d.text("weighed", q.weighed)
	d.text("mass", q.mass)
	q.ballast(d, "wall")
	return d.String()
}

func (q *quickPiece) gate(units string) string {
	d := &description{}
	q.site(d, fmt.Sprintf("A leaf %s by %s on a column %s tall", q.width, q.height, q.columnHeight), units)
	d.header("[[column]]\nname = \"column\"\nat = [\"0 m\", \"0 m\"]")
	foot := cmp.Or(q.columnFoot, q.columnWidth)
	d.pair("foot", foot, foot)
	d.text("weighed", q.columnWeighed)
	d.header("[[column.section]]\nname = \"body\"")
	d.text("width", q.columnWidth)
	d.text("height", q.columnHeight)
	d.text("mass", q.columnMass)
	d.header("[[gate]]\nname = \"leaf\"\nhung_on = \"column\"\nface = \"east\"\nopens = \"north\"")
	d.text("width", q.width)
	d.text("height", q.height)
	d.text("thickness", q.thickness)
	d.text("clearance", q.clearance)
	d.number("solidity", q.solidity)
	d.text("open", q.open)
	d.text("weighed", q.weighed)
	d.text("mass", q.mass)
	if q.keepClosed+q.keepOpen != "" {
		d.header("[gate.keeper]")
		d.text("closed", q.keepClosed)
		d.text("open", q.keepOpen)
	}
	if len(q.hinges) > 0 {
		d.header("[gate.hinge]")
		d.pair("heights", q.hinges...)
		d.number("screws", float64(q.screws))
		d.number("gauge", float64(q.screwGauge))
		d.text("length", q.screwLength)
		d.text("into", q.into)
	}
	q.ballast(d, "column")
	return d.String()
}

// quickPiece checks the description that the flags make.
func (a *app) quickPiece(cmd *cobra.Command, q *quickPiece, required []string, made func(units string) string) error {
	if err := q.check(required); err != nil {
		return fmt.Errorf("%w; `%s --help` lists the flags", err, cmd.CommandPath())
	}
	units := a.units
	if units == "" {
		units = "us"
		if strings.HasSuffix(strings.TrimSpace(q.height), "m") {
			units = "si"
		}
	}
	_, r, style, err := a.description("quick "+cmd.Name(), []byte(made(units)))
	if err != nil {
		return err
	}
	return a.print(func(w io.Writer) error {
		if a.json {
			return sheet.JSON(w, sheet.Standing(r))
		}
		return sheet.QuickPiece(w, r, style, q.explain)
	})
}
