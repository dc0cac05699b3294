package battery

import "duskline/calc/qty"

// Flooded is a lead-acid battery of six cells with free acid and open vents.
//
// Rest: Bode's volts at the army manual's densities, which are those of a
// flooded battery: the comment of AGM names both.
//
// Coulombic: as AGM's with nothing kept in: 86 % on the mean from empty to
// full.
// Source: Stevens1996.
// Source: PvCourse.
//
// Free, Exchange, ExchangeCold: 0.28 and 2.1 /h give 0.51 of the amp-hours in 1
// h, 0.66 in 2 h and 0.85 in 5 h, which is an exponent of 1.2 over the span
// that matters (practice: 1.2 to 1.25). With 25 kJ/mol a discharge of 6 h warm
// gives 0.71 at 0 °C and 0.47 at -17.8 °C; the army's table for motive power
// has 0.75 and 0.40. One of 20 h gives 0.91 at 0 °C and 0.70 at -20 °C: the
// table is not for gentle loads.
// Source: ArmyTm10_6140, paragraph 1-9.
// Source: CommonPractice, for the exponent.
//
// SelfDischarge 6 % a month, of plates with a little antimony.
// HeatPerAmpHour: 0.27 kg at 1.05 kJ/(kg·K), as AGM's with more acid. What is
// not named here is AGM's.
//
// ChargeFrom, ChargeTo.
// Source: CommonPractice.
var Flooded = Chemistry{
	Name:           "flooded",
	Cells:          6,
	Rest:           leadAcidRest,
	Shift:          leadAcidShift,
	Ohms:           leadAcidOhms,
	Cold:           leadAcidCold,
	SlowShare:      0.5,
	SlowSeconds:    200,
	Lift:           leadAcidLift,
	LiftRate:       0.05,
	Free:           0.28,
	Exchange:       2.1,
	ExchangeCold:   freeAcid,
	Coulombic:      ByCharge{{0, 0.96}, {0.6, 0.95}, {0.8, 0.88}, {0.9, 0.7}, {1, 0.4}},
	Vents:          1,
	AcceptHours:    1,
	NoChargeBelow:  never,
	SelfDischarge:  0.06,
	DoublesEvery:   9,
	HeatPerAmpHour: 280,
	ChargeFrom:     14.4,
	ChargeTo:       14.8,
	Life:           LeadAcidLife,
	Freezing:       leadAcidFreezing,
}

// freeAcid is how many times its value at 25 °C the exchange between the wells
// is where the acid moves freely.
func freeAcid(core qty.Celsius) float64 { return 1 / arrhenius(25_000, core) }
