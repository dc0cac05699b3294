package battery

import (
	"duskline/calc/qty"
	"duskline/calc/ref"
)

// Safe is how far down a battery may go without harm, and how long it may
// wait there.
type Safe struct {
	Depth        qty.Fraction // advised depth of discharge: 1 - Least
	Least        qty.Fraction // charge to stop at
	RechargeDays float64      // within which it is charged again after having been down there
	Why          string       // what harms below: WhySulfation, WhyFreezing, WhyOverDischarge, WhyNoColdCharge
	Source       string       // key in ref.Table of what Least rests on
	Kind         ref.Kind     // how far to trust it
}

// What harms a battery that goes lower or waits longer.
const (
	WhySulfation     = "sulfation"      // lead-acid: crystals that no charge dissolves
	WhyFreezing      = "freezing"       // lead-acid: thin acid freezes and breaks the case
	WhyOverDischarge = "over_discharge" // lithium: a cell below its least volts is ruined
	WhyNoColdCharge  = "no_cold_charge" // lithium: too cold to be charged, so what is there must last
)

// Figures of Safe, all of them common practice: half of a lead-acid battery,
// four fifths of a lithium one; lead-acid back on charge within a day,
// lithium within two weeks, since its electronics go on drawing; 5 K between
// the coldest and the freezing point; 10 % more in hand while it is too cold
// to charge.
const (
	leadAcidLeast, lithiumLeast = 0.5, 0.2
	leadAcidDays, lithiumDays   = 1, 14
	freezingMargin              = 5
	coldReserve                 = 0.1
)

// Safe returns the advised depth of discharge at a temperature of the battery:
// the coldest that is expected, from -60 to 90 °C.
//
// Lead-acid: half, or less where the acid would freeze at half: the charge
// whose freezing point lies 5 K under core, from the chemistry's table, and
// all of it where even full acid would freeze. Lithium: four fifths; a tenth
// less where it is too cold to be charged.
//
// Source: CommonPractice.
// Source: ArmyTm5_4210, table 2, freezing points.
func (c *Chemistry) Safe(core qty.Celsius) Safe {
	s := Safe{Source: "CommonPractice", Kind: ref.Practice}
	if c.Lithium {
		s.Least, s.RechargeDays, s.Why = lithiumLeast, lithiumDays, WhyOverDischarge
		if core < c.NoChargeBelow {
			s.Least, s.Why = lithiumLeast+coldReserve, WhyNoColdCharge
		}
	} else {
		s.Least, s.RechargeDays, s.Why = leadAcidLeast, leadAcidDays, WhySulfation
		if at := c.freezesUnder(core - freezingMargin); at > s.Least {
			s.Least, s.Why, s.Source, s.Kind = at, WhyFreezing, "ArmyTm5_4210", ref.Published
		}
	}
	s.Depth = 1 - s.Least
	return s
}

// freezesUnder returns the least charge whose freezing point is at or under a
// temperature: 0 if that of an empty battery is, 1 if not even that of a full
// one.
func (c *Chemistry) freezesUnder(at qty.Celsius) qty.Fraction {
	list := c.Freezing
	if len(list) == 0 || list[0].At <= at {
		return 0
	}
	for k := 1; k < len(list); k++ {
		if lo, hi := list[k-1], list[k]; hi.At <= at {
			return lo.Charge + (hi.Charge-lo.Charge)*qty.Fraction((lo.At-at)/(lo.At-hi.At))
		}
	}
	return 1
}
