package catalog

import (
	"strings"

	"galefast/internal/quantity"
)

// Row is what every row of every table has.
type Row struct {
	Name      string `key:"name" is:"required" doc:"name by which the site file calls the row"`
	Also      string `key:"also" doc:"other names, separated by semicolons"`
	Source    string `key:"source" is:"required" doc:"where the figures come from"`
	Certainty string `key:"certainty" is:"required" doc:"how well the figures are known"`
	Given     bool   // the row comes from the site file
}

// Named is the constraint of a table's rows: a struct that embeds [Row].
type Named interface{ row() Row }

func (r Row) row() Row { return r }

// names returns the name of a row and its aliases.
func (r Row) names() []string {
	names := []string{r.Name}
	for alias := range strings.SplitSeq(r.Also, ";") {
		if alias = strings.TrimSpace(alias); alias != "" {
			names = append(names, alias)
		}
	}
	return names
}

// Lumber is a section of sawn timber, planed and dry.
type Lumber struct {
	Row
	Thickness quantity.Length `key:"thickness" is:"required positive" doc:"actual thickness"`
	Width     quantity.Length `key:"width" is:"required positive" doc:"actual width"`
}

// Wood is a species or grade of wood.
type Wood struct {
	Row
	SpecificGravity float64 `key:"specific_gravity" is:"required positive atmost:1.5" doc:"specific gravity on oven-dry mass and oven-dry volume"`
}

// Density returns the density of the wood at a moisture content in percent of
// the oven-dry mass, 0 to 30: NDS Supplement 3.1.3, 62.4 [G/(1+0.009 G m)]
// (1+m/100) lb/ft3.
func (w Wood) Density(moisture float64) quantity.Density {
	g := w.SpecificGravity
	pcf := 62.4 * g / (1 + 0.009*g*moisture) * (1 + moisture/100)
	return quantity.Density(pcf * poundPerCubicFoot)
}

// poundPerCubicFoot is 1 lb/ft3 in kg/m3, exact: 0.45359237/0.3048^3.
const poundPerCubicFoot = 0.45359237 / (0.3048 * 0.3048 * 0.3048)

// Panel is a sheet material. Heavy is the upper end of the published spread.
type Panel struct {
	Row
	Thickness   quantity.Length      `key:"thickness" is:"required positive" doc:"nominal thickness"`
	AreaDensity quantity.AreaDensity `key:"area_density" is:"required positive" doc:"mass of a unit area, light end of the spread"`
	Heavy       quantity.AreaDensity `key:"heavy" is:"positive atleast:area_density" doc:"heavy end of the spread; the light end when left out"`
}

// Foam is a foamed plastic, as board or as sprayed.
type Foam struct {
	Row
	Density quantity.Density `key:"density" is:"required positive" doc:"density, least value"`
	Heavy   quantity.Density `key:"heavy" is:"positive atleast:density" doc:"heavy end of the spread; the least value when left out"`
}

// Pipe is a pipe, tube, bar or angle.
type Pipe struct {
	Row
	Outside     quantity.Length      `key:"outside" is:"required positive" doc:"outside diameter, or leg of an angle"`
	Wall        quantity.Length      `key:"wall" is:"positive" doc:"wall thickness; left out for a solid bar"`
	LineDensity quantity.LineDensity `key:"line_density" is:"required positive" doc:"mass of a unit length, light end of the spread"`
	Heavy       quantity.LineDensity `key:"heavy" is:"positive atleast:line_density" doc:"heavy end of the spread; the light end when left out"`
}

// Coat is a coating or covering.
type Coat struct {
	Row
	AreaDensity quantity.AreaDensity `key:"area_density" is:"required positive" doc:"mass of a unit area, light end of the spread"`
	Heavy       quantity.AreaDensity `key:"heavy" is:"positive atleast:area_density" doc:"heavy end of the spread; the light end when left out"`
}

// Ballast is a unit of ballast. Mass is what can be counted on: dry, the
// lightest sort, without a container that may be left away.
type Ballast struct {
	Row
	Mass   quantity.Mass   `key:"mass" is:"required positive" doc:"dry mass of one unit, low value"`
	Volume quantity.Volume `key:"volume" is:"positive" doc:"space that one unit fills"`
}

// Ground is what a piece stands on.
type Ground struct {
	Row
	Friction float64           `key:"friction" is:"required positive atmost:1" doc:"coefficient of static friction of timber on it, low value"`
	Soft     bool              `key:"soft" doc:"yes when a foot can sink into it"`
	Bearing  quantity.Pressure `key:"bearing" is:"positive" doc:"bearing pressure that it carries; left out when not known or not soft"`
}

// Conductor is one conductor of a flexible cord, of copper. The ampacities hold
// at 30 °C ambient and count loaded conductors only, not the grounding one.
type Conductor struct {
	Row
	Area        quantity.WireArea       `key:"area" is:"required positive" doc:"cross-section of the copper"`
	Resistance  quantity.LineResistance `key:"resistance" is:"required positive" doc:"resistance of one conductor, per unit length"`
	Temperature quantity.Temperature    `key:"temperature" is:"required" doc:"conductor temperature at which the resistance holds"`
	Ampacity2   quantity.Current        `key:"ampacity_2" is:"required positive" doc:"ampacity with two loaded conductors"`
	Ampacity3   quantity.Current        `key:"ampacity_3" is:"required positive" doc:"ampacity with three loaded conductors"`
}

// CordType is the type that the letters on a jacket name.
type CordType struct {
	Row
	Outdoor  bool             `key:"outdoor" doc:"yes when the jacket is made for weather"`
	Usage    string           `key:"usage" is:"required oneof:extra-hard|hard|light" doc:"wear that the jacket is made for"`
	MaxVolts quantity.Voltage `key:"max_volts" is:"required positive" doc:"highest voltage between conductors"`
}

// Device is a lamp or anything else that draws current.
type Device struct {
	Row
	Power       quantity.Power `key:"power" is:"required positive" doc:"power drawn at nominal voltage"`
	PowerFactor float64        `key:"power_factor" is:"required positive atmost:1" doc:"power factor"`
	Inrush      float64        `key:"inrush" is:"positive" doc:"inrush in times the running current; left out when not known"`
	Kind        string         `key:"load" is:"required oneof:power|current|resistance" doc:"what stays constant when the voltage falls"`
}
