// Package daylight turns a sky and the panels under it into light, step by
// step: it joins the models of sun, panel and controller, and knows no
// document.
//
// A [Spec] says where, when, what sky and how the panels lie. A [Scene] made
// from it answers in a step loop what light falls on the panels, how warm the
// air is and what the controller offers; and, outside of the loop, how the
// light of each day adds up, where the sun goes, how a panel would best lie, and
// what curve the joined panels have.
//
// Decision: light is found by kind of panel and of lie, never cell by cell. A
// shade that moves over a panel is a share of its cells that gets no beam in
// some hours of the day.
//
// Missing: panels that shade each other, shade that comes with the season (the
// hours of a [Window] hold for the whole trip), the heat of a case on whose lid
// a panel lies, light thrown back by walls and slopes on the horizon, a change
// of weather inside a day other than from a weather file.
package daylight

import (
	"time"

	"duskline/calc/panel"
	"duskline/calc/power"
	"duskline/calc/qty"
	"duskline/calc/sun"
)

// A Spec is all that a [Scene] is made of.
type Spec struct {
	Start time.Time     // 1950 to 2100; its Location is the place's civil time
	Span  time.Duration // above 0, to 370 days
	Step  time.Duration // of the steps that will be asked for, 1 to 60 minutes, a whole part of an hour; 0: 5 minutes

	Place     sun.Place // altitude -430 to 5500 m
	Turbidity float64   // Linke turbidity of the place, 1 to 10
	Albedo    qty.Fraction
	Model     sun.SkyModel
	Glass     sun.Glass
	Horizon   sun.Horizon

	Warmest, Coldest qty.Celsius        // air in mid-afternoon and before dawn, -60 to 60
	Wind             qty.MetrePerSecond // at the panels, 0 to 30

	Light      Light
	Panels     []Panel // none: the light is that of level ground
	Joined     panel.Joining
	Drop       qty.Volt // of each blocking diode while it carries, 0 to 2: see [panel.Array]
	Series     qty.Ohm  // of the cable from the joint to the controller, both ways, 0 to 100
	Controller power.Controller
}

// LightKind says how the light of the days is known.
type LightKind uint8

// The ways to know it.
const (
	ByIndex   LightKind = iota // Indexes: a clear-sky index a day
	ByState                    // States: how the sky looks
	ByPeakSun                  // PeakSun: peak sun hours
	ByMeter                    // Meter: what the panels brought on the three days before
	ByWeather                  // Weather: hour by hour
)

// A Light is what is known of the sky's light. Only what Kind names is read.
// A list has one figure a local day, from the trip's first; its last one holds
// for the days after it.
type Light struct {
	Kind     LightKind
	Indexes  []float64   // clear-sky index, 0 to 1.2
	States   []sun.State // the mean index of the state; of its turbidity and the place's the larger
	PeakSun  []float64   // kWh/m², 0 to what arrives without air
	OnPanels bool        // PeakSun is on the panels as they lie, in the open; else on level ground
	Meter    []float64   // what the panels brought on the three days before the trip, oldest first, at the battery
	MeterAh  bool        // Meter is in Ah, else in Wh
	Weather  *Weather
}

// A Panel is so many panels of one kind which lie one way.
type Panel struct {
	Module panel.Module
	Count  int      // 1 or more
	Watts  qty.Watt // rated, of all of them; above 0
	Lie    Lie
	Clean  qty.Fraction // share of the light that gets through the dirt
	Shade  []Window     // local hours of every day in which they are shaded
	Shaded qty.Fraction // share of the cells that the shade covers then
	Mount  panel.Mount  // how well it sheds heat; the zero Mount: panel.OpenRack
	String int          // number of the string it is in, 0 to 1000; read for panel.Strings
}

// A Window is a span of local hours of the day, From included and To not,
// both 0 to 24. From after To runs over midnight.
type Window struct{ From, To float64 }

// LieKind says how a panel follows the sun, if at all.
type LieKind uint8

// The kinds of lie.
const (
	Fixed   LieKind = iota // as Tilt and Azimuth say, all the time
	Turned                 // turned about the upright towards the sun; Tilt stays
	TwoAxis                // turned and leaned towards the sun
	OnLid                  // on the lid of the case, as Tilt and Azimuth say
)

// A Lie is how a panel lies. For Turned and TwoAxis the daylight of each day is
// cut into Aims equal parts, in each of which the panel looks to where the sun
// stands in the middle of it.
//
// OnLid counts as Fixed. That the sun on the panel also heats the case, and
// the case the panel, is not in this package.
type Lie struct {
	Kind    LieKind
	Tilt    qty.Degree // from the level, 0 to 90
	Azimuth qty.Degree // to which it looks, 0 to 360, clockwise from north
	Aims    int        // times a day, 1 to 24; read for Turned and TwoAxis
}
