package battery

import "duskline/calc/qty"

// AGM is a sealed lead-acid battery of six cells with glass mat.
//
// Rest: cell volts against acid strength as Bode gives them. The acid's
// density against charge is 1.120, 1.155, 1.190, 1.225, 1.265 kg/l at 0, 25,
// 50, 75, 100 % as an army manual has it, straight lines between; density
// becomes moles per kilogram of water with molar volumes of 45 and 17.5
// cm³/mol. The manual's battery is flooded: no open table of an AGM's acid was
// found, and stronger acid rests up to 0.2 V higher. The last 3 % go down to
// the 1.75 V at which such batteries are rated, when the plates' pores have no
// acid left: a table's empty is one discharged at a normal rate, which leaves
// as much in the bound well.
// Source: Bode1977, as coded in an open parameter set.
// Source: ArmyTm5_4210, table 2, density against charge and freezing points.
// Source: Sulzer2019, molar volumes.
//
// Coulombic: above 95 % at low charge, falling near full, where the rest makes
// gas; from empty to full 87 % on the mean. The shape is that of the abstract,
// the rows are practice.
// Source: Stevens1996.
// Source: PvCourse, that the mean is about 85 %.
//
// Vents: of the gas, a twentieth leaves through the valves.
// Source: CommonPractice.
//
// Ohms: the conductivity of the acid at the densities above asks for 1.33 times
// as much at empty as at half, and for 0.97 to 1.10 from a quarter up; sulfate
// in the plates makes 1.5 of it. Shift: 0.2 mV/K.
// Source: Sulzer2019, conductivity of the acid.
// Source: CommonPractice.
//
// SlowShare, SlowSeconds: half of what comes at once, in some minutes. A
// published set has 0.24 and 100 s, over a fast part that is larger than what
// stands on labels.
// Source: Jackey2007.
// Source: CommonPractice.
//
// Lift, LiftRate: fitted to what meters show in a charge of 10 h: some 12.7 V at
// a fifth, 13.0 at half, 13.4 at four fifths, 14.2 at nine tenths, 15 when all
// that comes makes gas. Half of it at a 20th of the amp-hours in an hour, for
// it grows with the logarithm of the amps. It falls off at once here, and over
// hours in truth.
// Source: CommonPractice.
//
// Free, Exchange, ExchangeCold: fitted to what practice says of it: exponents
// of 1.08 to 1.12 between 20 h and one, nine tenths at 0 °C and two thirds at
// -20 °C in 20 h, less at higher rates. Wells of 0.50 and 2.5 /h with 40 kJ/mol
// give 0.75 of the amp-hours in 1 h, 0.94 in 5 h; in 20 h 0.93 at 0 °C and 0.71
// at -20 °C.
// Source: CommonPractice.
//
// AcceptHours: charging amps never above the missing amp-hours.
// Source: Woodbridge1935.
//
// Cold: the reciprocal of the share of warm output left in the cold, table 3
// of the same manual. A cranking battery gives what its resistance lets
// through, so the loss is read as resistance.
//
// SelfDischarge 3 % a month; it doubles for 9 K more: the army's 0.0003,
// 0.001 and 0.0025 of density a day at 10, 26.7 and 37.8 °C double every 9.6
// and 8.4 K. Its amounts, 20 % a month in the warm, are those of old antimony
// plates.
// Source: ArmyTm9_6140, paragraph 4-8, for how it grows.
//
// HeatPerAmpHour: 0.3 kg at 0.8 kJ/(kg·K): lead and its oxide 0.17, acid 2.8,
// plastics and glass 1.5 kJ/(kg·K); an estimate to a fourth part.
//
// ChargeFrom, ChargeTo.
// Source: CommonPractice.
var AGM = Chemistry{
	Name:           "AGM",
	Cells:          6,
	Rest:           leadAcidRest,
	Shift:          leadAcidShift,
	Ohms:           leadAcidOhms,
	Cold:           leadAcidCold,
	SlowShare:      0.5,
	SlowSeconds:    200,
	Lift:           leadAcidLift,
	LiftRate:       0.05,
	Free:           0.5,
	Exchange:       2.5,
	ExchangeCold:   mattedAcid,
	Coulombic:      sealedStays,
	Vents:          0.05,
	AcceptHours:    1,
	NoChargeBelow:  never,
	SelfDischarge:  0.03,
	DoublesEvery:   9,
	HeatPerAmpHour: 240,
	ChargeFrom:     14.4,
	ChargeTo:       14.7,
	Life:           LeadAcidLife,
	Freezing:       leadAcidFreezing,
}

// leadAcidRest is the rest volts of a cell of AGM, gel and flooded.
var leadAcidRest = []Point{
	{0.000, 1.75}, {0.005, 1.83}, {0.010, 1.885}, {0.020, 1.945},
	{0.03, 1.97219}, {0.05, 1.97506}, {0.10, 1.98215}, {0.15, 1.98914}, {0.20, 1.99606},
	{0.25, 2.00292}, {0.30, 2.00973}, {0.35, 2.01650}, {0.40, 2.02325}, {0.45, 2.02997},
	{0.50, 2.03668}, {0.55, 2.04339}, {0.60, 2.05009}, {0.65, 2.05679}, {0.70, 2.06350},
	{0.75, 2.07022}, {0.80, 2.07792}, {0.85, 2.08564}, {0.90, 2.09338}, {0.95, 2.10116},
	{1.00, 2.10897},
}

// leadAcidFreezing is the least cold of three army tables.
var leadAcidFreezing = []FreezePoint{
	{0, -9.44}, {0.25, -15}, {0.5, -26.11}, {0.75, -37.22}, {1, -59.44},
}

// What the sealed ones share, and what all of lead and acid do.
var (
	sealedStays   = ByCharge{{0, 0.96}, {0.7, 0.93}, {0.9, 0.78}, {1, 0.4}}
	leadAcidOhms  = ByCharge{{0, 1.5}, {0.1, 1.25}, {0.25, 1.1}, {0.5, 1}, {1, 1}}
	leadAcidShift = Always(0.0002)
	leadAcidLift  = ByCharge{{0, 0.12}, {0.2, 0.145}, {0.5, 0.165}, {0.7, 0.195}, {0.8, 0.23}, {0.9, 0.38}, {1, 0.62}}
)

// mattedAcid is how many times its value at 25 °C the exchange between the
// wells is where a mat holds the acid.
func mattedAcid(core qty.Celsius) float64 { return 1 / arrhenius(40_000, core) }

// leadAcidOutput is the share of warm output left at a temperature.
var leadAcidOutput = [...]struct{ air, share float64 }{
	{-28.89, 0.20}, {-17.78, 0.40}, {0, 0.65}, {26.67, 1},
}

// leadAcidCold is how many times its value at 25 °C the resistance of a
// lead-acid battery is. Outside of the table, -28.9 to 26.7 °C, its end
// counts.
func leadAcidCold(air qty.Celsius) float64 {
	return leadAcidShare(25) / leadAcidShare(float64(air))
}

func leadAcidShare(air float64) float64 {
	t := &leadAcidOutput
	if air <= t[0].air {
		return t[0].share
	}
	for k := 1; k < len(t); k++ {
		if lo, hi := t[k-1], t[k]; air <= hi.air {
			return lo.share + (hi.share-lo.share)*(air-lo.air)/(hi.air-lo.air)
		}
	}
	return t[len(t)-1].share
}
