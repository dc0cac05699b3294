package battery

import "duskline/calc/qty"

// Gel is a sealed lead-acid battery of six cells whose acid is set with
// silica.
//
// Rest: that of the AGM, whose comment names the sources. No open table of a
// gel's own volts was found; both hold their acid still and are filled with
// about the same.
//
// Free, Exchange, ExchangeCold: fitted to practice as AGM's: exponents of 1.12
// to 1.2, for the acid's way through a gel is longer. 0.46 and 1.4 /h give 0.64
// of the amp-hours in 1 h and 0.89 in 5 h; with 35 kJ/mol, 0.89 at 0 °C and
// 0.65 at -20 °C in 20 h, no more and no less than an AGM.
//
// SelfDischarge 2 % a month. What is not named here is AGM's.
//
// ChargeFrom, ChargeTo: lower than an AGM's, as gas leaves holes in a gel that
// do not close.
// Source: CommonPractice.
var Gel = Chemistry{
	Name:           "gel",
	Cells:          6,
	Rest:           leadAcidRest,
	Shift:          leadAcidShift,
	Ohms:           leadAcidOhms,
	Cold:           leadAcidCold,
	SlowShare:      0.5,
	SlowSeconds:    200,
	Lift:           leadAcidLift,
	LiftRate:       0.05,
	Free:           0.46,
	Exchange:       1.4,
	ExchangeCold:   gelledAcid,
	Coulombic:      sealedStays,
	Vents:          0.05,
	AcceptHours:    1,
	NoChargeBelow:  never,
	SelfDischarge:  0.02,
	DoublesEvery:   9,
	HeatPerAmpHour: 250,
	ChargeFrom:     14.0,
	ChargeTo:       14.4,
	Life:           LeadAcidLife,
	Freezing:       leadAcidFreezing,
}

// gelledAcid is how many times its value at 25 °C the exchange between the
// wells is.
func gelledAcid(core qty.Celsius) float64 { return 1 / arrhenius(35_000, core) }
