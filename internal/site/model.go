package site

import (
	"slices"

	"galefast/internal/catalog"
	"galefast/internal/quantity"
)

// Entry is what every value of the file carries besides its meaning: the text
// the user wrote and where it stands. Given is false when the value is a
// default or absent; Text and At are then the default's text and the place of
// the table that lacks the key.
type Entry struct {
	Text  string
	At    Place
	Given bool
	span  span
}

// Measure is a quantity with a unit, in SI.
type Measure[Q quantity.Quantity] struct {
	Entry
	V Q
}

// Word is a name, a reference to a name, or one of a few fixed words.
type Word struct {
	Entry
	V string
}

// Number is a pure number.
type Number struct {
	Entry
	V float64
}

// Count is a whole number.
type Count struct {
	Entry
	V int
}

// Flag is true or false.
type Flag struct {
	Entry
	V bool
}

// Point is a position in plan: x east, y north.
type Point [2]Measure[quantity.Length]

// XY returns the point in metres.
func (p Point) XY() [2]float64 { return [2]float64{float64(p[0].V), float64(p[1].V)} }

// Table is what every table of the file carries: where its header stands.
type Table struct {
	At    Place
	span  span
	label string   // for messages: `gate "west leaf"`
	keys  []string // that the table has, also with values that cannot be read
}

// has reports whether the key stands in the table, also with a value that cannot be read.
func (t Table) has(key string) bool { return slices.Contains(t.keys, key) }

// The structs below are the model file: the reader, the list of unknown keys, the schema
// and the reference of keys are made from them.
//
//	key   the key in the file
//	is    rules, separated by commas: required, positive, nonnegative,
//	      fraction (0 to 1), oneof:a|b|c, atleast:N, upto:TEXT, when:key=word
//	      (the key means something only beside that word)
//	bare  the unit that a bare number has because the key itself names it
//	row   the catalog table of which it names a row
//	doc   one line for messages and the reference
//
// Defaults stand in defaults.csv, each with its reason and source.

// File is the whole description.
type File struct {
	Table
	Title    Word         `key:"title" doc:"what the structure is called on the sheet"`
	Units    Word         `key:"units" is:"oneof:us|si" doc:"how results are printed"`
	Site     Site         `key:"site" doc:"the place and the wind"`
	Require  Require      `key:"require" doc:"required factors and the leaning person"`
	Columns  []Column     `key:"column" doc:"a free-standing column of stacked sections"`
	Gates    []Gate       `key:"gate" doc:"a swing leaf hung on a column"`
	Walls    []Wall       `key:"wall" doc:"a scenic wall"`
	Spans    []Span       `key:"span" doc:"a sign or beam between two columns"`
	Ballasts []Ballast    `key:"ballast" doc:"weight laid into a piece"`
	Guys     []Guy        `key:"guy" doc:"a rope from a piece to an anchor"`
	Ways     []Way        `key:"way" doc:"the path that visitors take"`
	Supplies []Supply     `key:"supply" doc:"an outlet, generator or battery"`
	Cords    []Cord       `key:"cord" doc:"an extension cord or cable run"`
	Lamps    []Lamp       `key:"lamp" doc:"anything that draws current"`
	OwnRows  CatalogTable `key:"catalog" doc:"own rows for the catalog tables"`

	Name        string           // the file's name, as in every place
	Catalog     *catalog.Catalog // the embedded tables with the file's own rows
	Assumptions []Assumption     // defaults that were used

	columns, walls map[string]int   // where those of a name are
	ballast, gates map[string][]int // in and on each piece
}

// CatalogTable marks where own catalog rows stand; its keys are the names of the
// catalog's tables and are read by the catalog's own column definitions.
type CatalogTable struct{ Table }

// Site is the place and the wind.
type Site struct {
	Table
	Ground       Word                          `key:"ground" row:"ground" doc:"row of the grounds table"`
	Friction     Measure[quantity.Ratio]       `key:"friction" bare:"1" is:"nonnegative" doc:"friction between foot and ground, overrules the ground's row"`
	Slope        Measure[quantity.Ratio]       `key:"slope" is:"nonnegative,upto:50 %" doc:"steepest fall under the pieces"`
	Terrain      Word                          `key:"terrain" is:"oneof:B|C|D|0|I|II|III|IV" doc:"B among houses or woods, C in the open, D along open water; 0 to IV in the European scheme"`
	Basis        Word                          `key:"basis" is:"oneof:gust|asce7-16|asce7-22|en1991" doc:"how wind pressure and factors are found"`
	GustOpen     Measure[quantity.Speed]       `key:"gust_open" is:"nonnegative,upto:100 m/s" doc:"highest 3-second gust with the public inside, as measured or forecast"`
	GustAlone    Measure[quantity.Speed]       `key:"gust_alone" is:"required,positive,upto:100 m/s" doc:"highest 3-second gust it must stand in, nobody near (or the speed of another basis)"`
	AirDensity   Measure[quantity.Density]     `key:"air_density" is:"positive,upto:1.6 kg/m3" doc:"overrules the air density of the terrain's scheme"`
	Kzt          Number                        `key:"kzt" is:"positive" doc:"topographic factor"`
	Ke           Number                        `key:"ke" is:"positive" doc:"ground elevation factor"`
	Kd           Number                        `key:"kd" is:"positive" doc:"wind directionality factor"`
	G            Number                        `key:"g" is:"positive" doc:"gust effect factor"`
	CDir         Number                        `key:"c_dir" is:"positive,upto:1" doc:"EN 1991: directional factor"`
	CSeason      Number                        `key:"c_season" is:"positive,upto:1" doc:"EN 1991: season factor"`
	CProb        Number                        `key:"c_prob" is:"positive,upto:2" doc:"EN 1991: probability factor on the speed"`
	ReturnPeriod Number                        `key:"return_period" is:"upto:10000" doc:"EN 1991: return period in years, in place of c_prob"`
	CProbK       Number                        `key:"c_prob_k" is:"positive,upto:1" doc:"EN 1991: shape parameter K for the return period, from the National Annex"`
	CProbN       Number                        `key:"c_prob_n" is:"positive,upto:2" doc:"EN 1991: exponent n for the return period, from the National Annex"`
	Z0           Measure[quantity.Length]      `key:"z0" is:"positive,upto:5 m" doc:"EN 1991: roughness length of the terrain, in place of its category's, with z_min"`
	ZMin         Measure[quantity.Length]      `key:"z_min" is:"positive,upto:100 m" doc:"EN 1991: height below which the wind is taken as level, with z0"`
	Orography    Number                        `key:"c_o" is:"atleast:1,upto:3" doc:"EN 1991: orography factor on the mean wind, on a hill or ridge"`
	KI           Number                        `key:"k_i" is:"positive,upto:2" doc:"EN 1991: turbulence factor, from the National Annex"`
	Ce           Number                        `key:"c_e" is:"positive,upto:10" doc:"EN 1991: exposure factor at the top of the highest piece, from the National Annex, in place of z0, z_min, c_o and k_i"`
	ShortUse     Flag                          `key:"short_use" doc:"EN 1991: up to three months in place, so that the speed is at least 20 m/s"`
	Reduction    Word                          `key:"reduction" is:"oneof:asce37-six-weeks|asce37-one-year|ibc2024-controlled-occupancy|ufc-non-permanent|e1.21-outdoor-event" doc:"ASCE 7: the one rule that lowers the wind for a short or controlled exposure"`
	Plan         Flag                          `key:"plan" doc:"true when a written plan to close and clear is in force; a reduction asks for it"`
	Moisture     Measure[quantity.Ratio]       `key:"moisture" is:"nonnegative,upto:60 %" doc:"moisture content of the lumber"`
	Tolerance    Measure[quantity.Ratio]       `key:"tolerance" is:"nonnegative,upto:50 %" doc:"how far an estimated mass may be off, either way"`
	Ambient      Measure[quantity.Temperature] `key:"ambient" doc:"warmest air around the cords"`
	TimberCode   Word                          `key:"timber_code" is:"oneof:nds|en1995" doc:"rules for screws and bolts in wood: nds for NDS 2018, en1995 for EN 1995-1-1; the units tell when it is left out"`
	Wet          Flag                          `key:"wet" doc:"false when the wood about every fastener stays dry, 19 % moisture at most; wet wood holds less"`
	Electrical   Word                          `key:"electrical" is:"oneof:us|iec" doc:"rules for circuits: us for the NEC, iec for IEC 60364 with BS 7671; the voltages tell when it is left out"`
}

// Require holds the required factors and the person who leans.
type Require struct {
	Table
	Overturning Number `key:"overturning" is:"atleast:1" doc:"required factor against overturning"`
	Sliding     Number `key:"sliding" is:"atleast:1" doc:"required factor against sliding and turning on the foot"`
	Lean        Lean   `key:"lean" doc:"a person leaning on any one piece, any direction"`
}

// Lean is a person's horizontal push.
type Lean struct {
	Table
	Force  Measure[quantity.Force]  `key:"force" is:"nonnegative" doc:"horizontal push"`
	Height Measure[quantity.Length] `key:"height" is:"positive" doc:"height of the push above the ground"`
}

// Column is a free-standing column of stacked sections.
type Column struct {
	Table
	Name      Word                        `key:"name" is:"required" doc:"what gates, spans and ballast call it"`
	Center    Point                       `key:"at" is:"required" doc:"middle of the foot in plan, x east and y north"`
	Turn      Measure[quantity.Angle]     `key:"turn" doc:"turned counterclockwise from the axes"`
	Foot      [2]Measure[quantity.Length] `key:"foot" is:"required,positive" doc:"the frame that bears on the ground, not the trim around it"`
	Weighed   Measure[quantity.Mass]      `key:"weighed" is:"positive" doc:"mass from a scale, without ballast and gates; overrules the take-off"`
	Tolerance Measure[quantity.Ratio]     `key:"tolerance" is:"nonnegative,upto:50 %" doc:"how far the estimated mass may be off"`
	Sections  []Section                   `key:"section" is:"required" doc:"sections from the bottom up"`
}

// Section is one prism of a column.
type Section struct {
	Table
	Name   Word                     `key:"name" is:"required" doc:"what it is called within its column"`
	Shape  Word                     `key:"shape" is:"oneof:square|rectangle|round|hexagon|octagon" doc:"outline in plan"`
	Width  Measure[quantity.Length] `key:"width" is:"required,positive" doc:"outside width, or diameter, or width across flats"`
	Depth  Measure[quantity.Length] `key:"depth" is:"positive" doc:"outside depth of a rectangle, across its width"`
	Height Measure[quantity.Length] `key:"height" is:"required,positive" doc:"height of the section"`
	Rough  Word                     `key:"surface" is:"oneof:smooth|rough|very rough,when:shape=round" doc:"surface of a round section"`
	Grain  Measure[quantity.Length] `key:"roughness" is:"positive" doc:"EN 1991: equivalent roughness k of the surface of a round section, as 0.2 mm of galvanised steel"`
	Corner Measure[quantity.Length] `key:"corner" is:"positive" doc:"EN 1991: radius of the rounded corners of a square or rectangle"`
	Joint  *Joint                   `key:"joint" doc:"bolts to the section below; without it the section is merely seated"`
	Mass   Measure[quantity.Mass]   `key:"mass" is:"positive" doc:"mass of the section in place of parts"`
	Parts  []Part                   `key:"parts" doc:"what the section is made of"`
}

// Joint fastens a section to the one below.
type Joint struct {
	Table
	Bolts     Count                       `key:"bolts" is:"required,positive" doc:"number of bolts"`
	Size      Measure[quantity.Length]    `key:"size" is:"required,positive" doc:"bolt diameter"`
	Pattern   [2]Measure[quantity.Length] `key:"pattern" is:"positive" doc:"distance between bolt rows, along width and depth"`
	Washer    Measure[quantity.Length]    `key:"washer" is:"positive" doc:"outside diameter of the washers"`
	Into      Word                        `key:"into" row:"wood" doc:"wood the bolts clamp"`
	Thickness Measure[quantity.Length]    `key:"thickness" is:"positive" doc:"thickness of each of the two frames that the bolts clamp"`
}

// Fasteners are equal bolts or screws: exactly one of Bolts and Screws says which.
type Fasteners struct {
	Screws    Count                    `key:"screws" is:"positive" doc:"number of screws; of hinges, in each half of each"`
	Gauge     Count                    `key:"gauge" is:"positive" doc:"screw number"`
	Bolts     Count                    `key:"bolts" is:"positive" doc:"bolts right through, with nut and washers, in place of screws"`
	Size      Measure[quantity.Length] `key:"size" is:"positive" doc:"diameter of the bolts, or of screws that have no number: 1/4 in and more for lag screws, whole millimetres for metric ones"`
	Length    Measure[quantity.Length] `key:"length" is:"positive" doc:"screw length"`
	Washer    Measure[quantity.Length] `key:"washer" is:"positive" doc:"outside diameter of the bolts' washers"`
	Into      Word                     `key:"into" row:"wood" doc:"wood that the screws or bolts hold in"`
	Thickness Measure[quantity.Length] `key:"thickness" is:"positive" doc:"thickness of that wood"`
}

// Described reports whether bolts or screws are described.
func (f *Fasteners) Described() bool { return f.Bolts.Given || f.Screws.Given }

// Part is one line of a parts list; exactly one of Stock, Sheet, Block, Pipe,
// Coat and Item says what it is.
type Part struct {
	Table
	Stock  Word                       `key:"stock" row:"lumber" doc:"lumber, a row of the lumber table"`
	Sheet  Word                       `key:"sheet" row:"panel" doc:"panel, a row of the panels table"`
	Block  Word                       `key:"block" row:"foam" doc:"foam, a row of the foams table"`
	Pipe   Word                       `key:"pipe" row:"pipe" doc:"pipe or bar, a row of the pipes table"`
	Coat   Word                       `key:"coat" row:"coat" doc:"coating, a row of the coats table"`
	Item   Word                       `key:"item" doc:"anything else, with its mass"`
	Wood   Word                       `key:"wood" row:"wood" doc:"species of the lumber, a row of the woods table"`
	Length Measure[quantity.Length]   `key:"length" is:"positive" doc:"length of one piece"`
	Size   []Measure[quantity.Length] `key:"size" is:"positive" doc:"two sides of a sheet, three of a block"`
	Area   Measure[quantity.Area]     `key:"area" is:"positive" doc:"coated area"`
	Mass   Measure[quantity.Mass]     `key:"mass" is:"positive" doc:"mass of one item"`
	Count  Count                      `key:"count" is:"positive" doc:"how many"`
	Height Measure[quantity.Length]   `key:"height" is:"nonnegative" doc:"height of its middle above the bottom of the section or piece"`
	Offset []Measure[quantity.Length] `key:"offset" doc:"its middle in plan from the middle of the piece, east and north before turning"`
	Cover  Word                       `key:"covered_by" doc:"what hides a block of foam on all sides, as board or render; without it the foam is taken as exposed"`
	Heat   Measure[quantity.Power]    `key:"heat_release" is:"positive" doc:"peak heat release of a block of foam by UL 1975 or NFPA 289, from its maker"`
}

// Gate is a swing leaf hung on a column.
type Gate struct {
	Table
	Name         Word                        `key:"name" is:"required" doc:"what the leaf is called"`
	HungOn       Word                        `key:"hung_on" is:"required" doc:"the column that carries it"`
	Face         Word                        `key:"face" is:"required,oneof:north|east|south|west" doc:"face of the column (before turning) that carries the hinges; the closed leaf stands out from it"`
	Width        Measure[quantity.Length]    `key:"width" is:"required,positive" doc:"width of the leaf"`
	Height       Measure[quantity.Length]    `key:"height" is:"required,positive" doc:"height of the leaf itself"`
	Thickness    Measure[quantity.Length]    `key:"thickness" is:"positive" doc:"thickness of the leaf"`
	Clearance    Measure[quantity.Length]    `key:"clearance" is:"nonnegative" doc:"gap between the ground and the leaf"`
	Solidity     Number                      `key:"solidity" is:"positive,fraction" doc:"solid part of the leaf's area, 1 for a full panel"`
	RoundMembers Flag                        `key:"round_members" doc:"true when the bars are round"`
	Mass         Measure[quantity.Mass]      `key:"mass" is:"positive" doc:"mass of the leaf in place of parts"`
	Weighed      Measure[quantity.Mass]      `key:"weighed" is:"positive" doc:"mass from a scale"`
	Tolerance    Measure[quantity.Ratio]     `key:"tolerance" is:"nonnegative,upto:50 %" doc:"how far the estimated mass may be off"`
	Parts        []Part                      `key:"parts" doc:"what the leaf is made of"`
	Hinge        *Hinge                      `key:"hinge" doc:"the hinges"`
	Open         Measure[quantity.Angle]     `key:"open" is:"nonnegative,upto:180 deg" doc:"how far it is swung when open"`
	Opens        Word                        `key:"opens" is:"oneof:north|east|south|west" doc:"side to which the leaf swings"`
	Stop         [2]Measure[quantity.Length] `key:"stop" is:"positive" doc:"where the stops meet the leaf when it slams, out from its hinges and up from the ground; when left out, the worse of the corners of its free edge"`
	Keeper       *Keeper                     `key:"keeper" doc:"what holds the leaf; none means that it swings free"`
	TipLoad      Measure[quantity.Force]     `key:"tip_load" is:"nonnegative" doc:"a person's weight on the tip of the open leaf"`
}

// Hinge is how a leaf hangs.
type Hinge struct {
	Table
	Heights []Measure[quantity.Length] `key:"heights" is:"nonnegative" doc:"heights of the hinges above the ground"`
	Fasteners
	Mount     Word                        `key:"mount" is:"oneof:edge|face" doc:"edge: butt hinges between post and edge of the leaf; face: hinges on the faces of both, at the side to which it opens"`
	Plate     [2]Measure[quantity.Length] `key:"plate" is:"positive" doc:"width and height of one half of a hinge"`
	LeafInto  Word                        `key:"leaf_into" row:"wood" doc:"wood of the leaf at the hinges; that of the post when left out"`
	LeafThick Measure[quantity.Length]    `key:"leaf_thickness" is:"positive" doc:"thickness of the leaf's wood along the screws; the leaf's own thickness when left out"`
}

// Keeper is what holds a leaf in each position.
type Keeper struct {
	Table
	Closed Word                     `key:"closed" doc:"latch, drop bolt or other keeper of the closed leaf"`
	Open   Word                     `key:"open" doc:"hook or other keeper of the open leaf"`
	Hold   Measure[quantity.Force]  `key:"hold" is:"positive" doc:"what each of them holds, by its maker or by a test"`
	Height Measure[quantity.Length] `key:"height" is:"nonnegative" doc:"height at which they hold the leaf's free edge; when left out, the worse of its top and its bottom"`
}

// Wall is a scenic wall, straight in plan.
type Wall struct {
	Table
	Name      Word                     `key:"name" is:"required" doc:"what ballast and guys call it"`
	From      Point                    `key:"from" is:"required" doc:"one end of its middle line in plan"`
	To        Point                    `key:"to" is:"required" doc:"the other end"`
	Height    Measure[quantity.Length] `key:"height" is:"required,positive" doc:"height of its top"`
	Underside Measure[quantity.Length] `key:"underside" is:"nonnegative" doc:"height of the lower edge of the face"`
	Thickness Measure[quantity.Length] `key:"thickness" is:"positive" doc:"thickness of the face and frame"`
	Foot      Measure[quantity.Length] `key:"foot" is:"positive" doc:"width of the sill that bears, across the wall, without braces"`
	Solidity  Number                   `key:"solidity" is:"positive,fraction" doc:"solid part of the face"`
	Return    Measure[quantity.Length] `key:"return" is:"positive" doc:"length of a return panel at each end"`
	Braces    *Braces                  `key:"braces" doc:"raking braces to the ground"`
	Side      Word                     `key:"side" is:"oneof:left|right" doc:"side of the braces and returns, looking along the wall from its first end"`
	Joined    []Word                   `key:"joined" doc:"pieces that it is fastened to"`
	Fixing    *Fixing                  `key:"fixing" doc:"the fastenings to each piece that it is joined to; without it nothing is counted on between them"`
	Mass      Measure[quantity.Mass]   `key:"mass" is:"positive" doc:"mass in place of parts"`
	Weighed   Measure[quantity.Mass]   `key:"weighed" is:"positive" doc:"mass from a scale"`
	Tolerance Measure[quantity.Ratio]  `key:"tolerance" is:"nonnegative,upto:50 %" doc:"how far the estimated mass may be off"`
	Parts     []Part                   `key:"parts" doc:"what the wall is made of"`
}

// Braces are equal raking braces, evenly spaced, on one side of a wall.
type Braces struct {
	Table
	Count  Count                    `key:"count" is:"required,positive,upto:100" doc:"number of braces"`
	Reach  Measure[quantity.Length] `key:"reach" is:"required,positive" doc:"distance of the toes from the wall's middle line"`
	Height Measure[quantity.Length] `key:"height" is:"required,positive" doc:"height of their upper ends"`
	Head   *Fastening               `key:"head" doc:"how each is fastened to the wall"`
	Toe    *Fastening               `key:"toe" doc:"how each is fastened to what holds its toe"`
}

// Fastening is one place where bolts or screws hold wood to wood.
type Fastening struct {
	Table
	Fasteners
	Through Measure[quantity.Length] `key:"through" is:"required,positive" doc:"thickness of what they go through first, under their heads"`
}

// Fixing is the fastenings by which two pieces stand together.
type Fixing struct {
	Table
	Heights []Measure[quantity.Length] `key:"heights" is:"required,positive" doc:"heights of the fastenings above the ground; one lets the pieces turn against each other, two or more do not"`
	Hold    Measure[quantity.Force]    `key:"hold" is:"positive" doc:"what one fastening holds in any direction, by a test or by its maker; else bolts or screws"`
	Fasteners
	Through Measure[quantity.Length] `key:"through" is:"positive" doc:"thickness of what they go through first, under their heads"`
}

// Span is a sign or beam between two columns.
type Span struct {
	Table
	Name      Word                        `key:"name" is:"required" doc:"what it is called"`
	Between   []Word                      `key:"between" is:"required" doc:"the two columns that carry it"`
	Underside Measure[quantity.Length]    `key:"underside" is:"required,positive" doc:"height of its lower edge"`
	Face      [2]Measure[quantity.Length] `key:"face" is:"required,positive" doc:"length and height of its face"`
	Solidity  Number                      `key:"solidity" is:"positive,fraction" doc:"solid part of the face"`
	Fixing    *Fixing                     `key:"fixing" doc:"the fastenings to each column; without it each column carries half and gets no help through the span"`
	Mass      Measure[quantity.Mass]      `key:"mass" is:"positive" doc:"mass in place of parts"`
	Weighed   Measure[quantity.Mass]      `key:"weighed" is:"positive" doc:"mass from a scale"`
	Tolerance Measure[quantity.Ratio]     `key:"tolerance" is:"nonnegative,upto:50 %" doc:"how far the estimated mass may be off"`
	Parts     []Part                      `key:"parts" doc:"what the span is made of"`
}

// Ballast is weight laid into a piece.
type Ballast struct {
	Table
	In      Word                   `key:"in" is:"required" doc:"the column or wall that holds it"`
	Section Word                   `key:"section" doc:"section of the column; the lowest when left out"`
	Place   Word                   `key:"place" is:"oneof:base|toes|returns" doc:"where on a wall: along its base, over the toes of its braces, or over the far ends of its returns"`
	Unit    Word                   `key:"unit" row:"ballast" doc:"row of the ballast table"`
	Mass    Measure[quantity.Mass] `key:"mass" is:"positive" doc:"mass of one unit in place of a row of the table"`
	Count   Count                  `key:"count" is:"nonnegative" doc:"how many units"`
}

// Guy is a rope from a piece to an anchor in the ground.
type Guy struct {
	Table
	From       Word                     `key:"from" is:"required" doc:"the piece that it holds"`
	Height     Measure[quantity.Length] `key:"height" is:"required,positive" doc:"height of its upper end"`
	To         Point                    `key:"to" is:"required" doc:"its anchor in plan"`
	Anchor     Word                     `key:"anchor" doc:"what holds it in the ground"`
	PullTested Measure[quantity.Force]  `key:"pull_tested" is:"positive" doc:"pull that the anchor held in a test along the rope"`
	Soil       Word                     `key:"soil" is:"oneof:wet|dry" doc:"wet when the ground may get wetter than it was in the test"`
	Rope       Word                     `key:"rope" is:"oneof:manila|polypropylene|nylon|polyester" doc:"what the rope is made of"`
	Diameter   Measure[quantity.Length] `key:"rope_diameter" is:"positive" doc:"thickness of the rope"`
	Knots      Number                   `key:"knots" is:"positive,fraction" doc:"part of the rope's strength that its knots or ends leave"`
	Fitting    Measure[quantity.Force]  `key:"fitting" is:"positive" doc:"working load of the weakest hook, eye or turnbuckle"`
}

// Way is the path that visitors take.
type Way struct {
	Table
	Name     Word                     `key:"name" is:"required" doc:"what it is called"`
	Line     []Point                  `key:"line" is:"required" doc:"its middle line in plan, in the direction of travel"`
	People   Count                    `key:"people" is:"nonnegative" doc:"most people at once inside"`
	Rules    Word                     `key:"rules" is:"oneof:us|metric" doc:"published figures for ways: us for the IBC, metric for European ones; the units of the file tell when it is left out"`
	Width    Measure[quantity.Length] `key:"width" is:"positive" doc:"clear width that the authority asks for, overrules the published one"`
	Headroom Measure[quantity.Length] `key:"headroom" is:"positive" doc:"headroom that the authority asks for, overrules the published one"`
}

// Supply is an outlet, generator, transformer or battery.
type Supply struct {
	Table
	Name       Word                            `key:"name" is:"required" doc:"what cords and lamps call it"`
	Kind       Word                            `key:"kind" is:"oneof:outlet|generator|transformer|battery" doc:"what it is, an outlet when left out; a transformer is a source of extra-low voltage"`
	Position   Point                           `key:"at" doc:"where it is in plan, for galefast power --plan"`
	Volts      Measure[quantity.Voltage]       `key:"volts" bare:"V" is:"required,positive" doc:"nominal voltage, line to line for three phases, leg to leg for split-phase"`
	Breaker    Measure[quantity.Current]       `key:"breaker" is:"positive" doc:"rating of the breaker or fuse"`
	Curve      Word                            `key:"curve" is:"oneof:B|C|D" doc:"trip curve of a European breaker, the letter before its rating"`
	Trip       Number                          `key:"trip" is:"positive,upto:50" doc:"times its rating at which the breaker is sure to trip at once, from its maker; overrules the curve"`
	Listed100  Flag                            `key:"listed_100" doc:"true when breaker and panel are listed for continuous load at 100 %"`
	Receptacle Measure[quantity.Current]       `key:"receptacle" is:"positive" doc:"rating of the receptacle itself"`
	GFCI       Flag                            `key:"gfci" doc:"true when a GFCI or RCD protects it"`
	GFCITrip   Measure[quantity.Current]       `key:"gfci_trip" is:"positive" doc:"leakage at which it trips, as printed on an RCD: 30 mA"`
	DC         Flag                            `key:"dc" doc:"true for direct current"`
	Phases     Count                           `key:"phases" is:"positive" doc:"1 or 3"`
	SplitPhase Flag                            `key:"split_phase" doc:"true for two legs and a neutral, as 120/240 V"`
	Ohms       Measure[quantity.Resistance]    `key:"source_ohm" bare:"ohm" is:"nonnegative" doc:"loop resistance up to the outlet"`
	Rated      Measure[quantity.Power]         `key:"rated" is:"positive" doc:"what a generator gives for hours"`
	RatedVA    Measure[quantity.ApparentPower] `key:"rated_va" is:"positive" doc:"apparent power of a generator or transformer"`
	Surge      Measure[quantity.Power]         `key:"surge" is:"positive" doc:"what a generator gives for the seconds of a start"`
	Altitude   Measure[quantity.Length]        `key:"altitude" is:"upto:4500 m" doc:"height above the sea at which a generator runs"`
	Fuel       Word                            `key:"fuel" is:"oneof:diesel|petrol" doc:"what a generator burns"`
	Capacity   Measure[quantity.Energy]        `key:"capacity" is:"positive" doc:"energy of a full battery"`
	Depth      Measure[quantity.Ratio]         `key:"depth" is:"positive,upto:100 %" doc:"part of a battery's energy that may be taken out"`
	Efficiency Measure[quantity.Ratio]         `key:"efficiency" is:"positive,upto:100 %" doc:"of a battery's inverter; 100 % without one"`
	Idle       Measure[quantity.Power]         `key:"idle" is:"nonnegative" doc:"what a battery's inverter takes for itself"`
}

// Cord is an extension cord or cable run.
type Cord struct {
	Table
	Name       Word                             `key:"name" is:"required" doc:"what lamps and further cords call it"`
	Kind       Word                             `key:"kind" is:"oneof:cord|splitter|strip" doc:"a cord, a splitter, or a strip of outlets"`
	From       Word                             `key:"from" is:"required" doc:"the supply or cord that feeds it"`
	Leg        Word                             `key:"leg" is:"oneof:1|2|3|1-2|2-3|3-1" doc:"leg of a split-phase or three-phase supply that a two-wire cord is plugged into; 1-2 is leg to leg"`
	Connection Word                             `key:"connection" is:"oneof:indoors|covered|rated|open" doc:"how its plug lies where it is fed: indoors, in a box or in-use cover, of a kind rated for wet, or open"`
	Gauge      Measure[quantity.WireArea]       `key:"gauge" is:"positive" row:"conductor" doc:"conductor size, a row of the conductors table"`
	Type       Word                             `key:"type" row:"cordtype" doc:"letters on the jacket, a row of the cord types table"`
	Length     Measure[quantity.Length]         `key:"length" is:"required,positive" doc:"length of the cord"`
	Route      []Point                          `key:"route" doc:"where it lies in plan"`
	Crossing   Word                             `key:"crossing" is:"oneof:covered|buried|overhead" doc:"how it lies where it crosses a way; open on the ground when left out"`
	OhmPerKm   Measure[quantity.LineResistance] `key:"ohm_per_km" bare:"ohm/km" is:"nonnegative" doc:"own resistance of one conductor, overrules the table"`
	XPerKm     Measure[quantity.LineResistance] `key:"reactance_ohm_per_km" bare:"ohm/km" is:"nonnegative" doc:"reactance of one conductor"`
	Contact    Measure[quantity.Resistance]     `key:"contact_ohm" bare:"ohm" is:"nonnegative" doc:"resistance of its plug and connector, both poles together"`
	Ampacity   Measure[quantity.Current]        `key:"ampacity" is:"positive" doc:"own current rating, overrules the table"`
	Rating     Measure[quantity.Temperature]    `key:"rating" is:"upto:105 °C" doc:"temperature that the insulation bears, printed on the jacket"`
	Coiled     Flag                             `key:"coiled" doc:"true when part of it stays coiled or on a drum"`
	Layers     Count                            `key:"layers" is:"positive" doc:"layers of it that stay on the drum"`
	Bundle     Count                            `key:"bundle" is:"positive" doc:"loaded cords that lie bundled together, itself among them"`
}

// Lamp is anything that draws current.
type Lamp struct {
	Table
	Name        Word                       `key:"name" is:"required" doc:"what it is called"`
	On          Word                       `key:"on" is:"required" doc:"the cord or supply that it is plugged into"`
	Leg         Word                       `key:"leg" is:"oneof:1|2|3|1-2|2-3|3-1" doc:"leg of a split-phase or three-phase supply that it is connected to; 1-2 is leg to leg"`
	Position    Point                      `key:"at" doc:"where it is in plan, for galefast power --plan"`
	Device      Word                       `key:"device" row:"device" doc:"row of the devices table"`
	Watts       Measure[quantity.Power]    `key:"watts" bare:"W" is:"nonnegative" doc:"power of one"`
	Amps        Measure[quantity.Current]  `key:"amps" bare:"A" is:"nonnegative" doc:"current of one in place of watts"`
	Count       Count                      `key:"count" is:"positive" doc:"how many"`
	PowerFactor Number                     `key:"power_factor" is:"positive,fraction" doc:"power factor"`
	Load        Word                       `key:"load" is:"oneof:power|current|resistance" doc:"how its current changes with voltage"`
	Lighting    Flag                       `key:"lighting" doc:"false for what gives no light; a drop is judged more mildly there by IEC 60364"`
	MinVolts    Measure[quantity.Voltage]  `key:"min_volts" bare:"V" is:"positive" doc:"least voltage that it works at, from its label"`
	Inrush      Number                     `key:"inrush" is:"atleast:1,upto:1000" doc:"current while it starts, times its running current"`
	Leakage     Measure[quantity.Current]  `key:"leakage" is:"nonnegative" doc:"current of one that leaks to earth in ordinary use"`
	Hours       Measure[quantity.Duration] `key:"hours" bare:"h" is:"nonnegative" doc:"longest time on without a break"`
	FromFoam    Measure[quantity.Length]   `key:"from_foam" is:"nonnegative" doc:"least distance to foam of the scenery"`
	KeepOff     Measure[quantity.Length]   `key:"keep_off" is:"nonnegative" doc:"distance to what burns that its label or maker asks for, overrules the published one"`
}
