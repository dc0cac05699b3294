package care

import "duskline/calc/qty"

// A Tide is volts against charge: the picture of why volts mislead. One charge
// has as many volts as there are ways to read them.
type Tide struct {
	Charges []qty.Fraction // 0 to 1, rising, finer at the ends
	Lines   []Line         // in the order of the kinds; one that the plan cannot have is left out
	Marks   Marks
	Reserve qty.Fraction // the plan's own
}

// Marks are the Case's marks, as its battery has them.
type Marks struct {
	Alarm, CutOff, Reconnect, Charge qty.Volt
}

// LineKind says at what moment the volts are read.
type LineKind string

// The lines. Discharges begin full and rested, in air of the battery's own
// temperature; each point is read on the way.
const (
	AtRest      LineKind = "rest"         // nothing flows, for hours; 25 °C, mean of both branches
	AfterCharge LineKind = "after_charge" // at rest after charging: the upper branch
	AtUsual     LineKind = "usual"        // the gear's mean draw while any of it runs
	AtLargest   LineKind = "largest"      // all gear that may run at once, and the greatest start of it
	InCold      LineKind = "cold"         // the usual draw, battery and air at the coldest of the trip
	OnCharge    LineKind = "charging"     // by the strongest charger of the plan, outlets off
)

// A Line is the volts for one way of reading them.
type Line struct {
	Kind   LineKind
	Watts  qty.Watt    // into (+) or out of (-) the battery at half charge; 0 at rest
	Amps   qty.Ampere  // likewise
	Core   qty.Celsius // of the battery at the start
	Volts  []qty.Volt  // one a charge of Tide.Charges; 0 where that draw cannot be had any more
	Alarm  Pass
	CutOff Pass
}

// A Pass is the charge at which a line passes a mark. With Above it never
// does: it stays above the mark down to empty, or as far as the draw can be
// had; with Below it is under the mark from full on.
type Pass struct {
	Charge qty.Fraction // 0 with Above, 1 with Below
	Above  bool
	Below  bool
}
