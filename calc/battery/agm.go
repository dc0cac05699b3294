package battery

import "duskline/calc/qty"

// AGM is a sealed lead-acid battery of six cells with glass mat.
//
// Rest: cell volts against acid strength as Bode gives them. The acid's
// density against charge is 1.120, 1.155, 1.190, 1.225, 1.265 kg/l at 0, 25,
// 50, 75, 100 % as an army manual has it, straight lines between; density
// becomes moles per kilogram of water with molar volumes of 45 and 17.5
// cm³/mol. The manual's battery is flooded: no open table of an AGM's acid was
// found, and stronger acid rests up to 0.2 V higher.
// Source: Bode1977, as coded in an open parameter set.
// Source: ArmyTm5_4210, table 2, density against charge and freezing points.
// Source: Sulzer2019, molar volumes.
//
// Coulombic: a mean; the true figure is above 95 % at low charge and falls
// near full.
// Source: PvCourse.
//
// AcceptHours: charging amps never above the missing amp-hours.
// Source: Woodbridge1935.
//
// Cold: the reciprocal of the share of warm output left in the cold, table 3
// of the same manual. A cranking battery gives what its resistance lets
// through, so the loss is read as resistance.
//
// ChargeFrom, ChargeTo.
// Source: CommonPractice.
var AGM = Chemistry{
	Name:          "AGM",
	Cells:         6,
	Rest:          leadAcidRest,
	Coulombic:     Always(0.85),
	AcceptHours:   1,
	NoChargeBelow: never,
	Cold:          leadAcidCold,
	ChargeFrom:    14.4,
	ChargeTo:      14.7,
	Life:          LeadAcidLife,
	Freezing:      leadAcidFreezing,
}

// leadAcidRest is the rest volts of a cell of AGM, gel and flooded.
var leadAcidRest = []Point{
	{0.00, 1.96784}, {0.05, 1.97506}, {0.10, 1.98215}, {0.15, 1.98914}, {0.20, 1.99606},
	{0.25, 2.00292}, {0.30, 2.00973}, {0.35, 2.01650}, {0.40, 2.02325}, {0.45, 2.02997},
	{0.50, 2.03668}, {0.55, 2.04339}, {0.60, 2.05009}, {0.65, 2.05679}, {0.70, 2.06350},
	{0.75, 2.07022}, {0.80, 2.07792}, {0.85, 2.08564}, {0.90, 2.09338}, {0.95, 2.10116},
	{1.00, 2.10897},
}

// leadAcidFreezing is the least cold of three army tables.
var leadAcidFreezing = []FreezePoint{
	{0, -9.44}, {0.25, -15}, {0.5, -26.11}, {0.75, -37.22}, {1, -59.44},
}

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
