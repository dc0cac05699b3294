package battery

// Flooded is a lead-acid battery of six cells with free acid and open vents.
//
// Rest: Bode's volts at the army manual's densities, which are those of a
// flooded battery: the comment of AGM names both.
//
// ChargeFrom, ChargeTo.
// Source: CommonPractice.
var Flooded = Chemistry{
	Name:          "flooded",
	Cells:         6,
	Rest:          leadAcidRest,
	Coulombic:     Always(0.85),
	Vents:         1,
	AcceptHours:   1,
	NoChargeBelow: never,
	Cold:          leadAcidCold,
	ChargeFrom:    14.4,
	ChargeTo:      14.8,
	Life:          LeadAcidLife,
	Freezing:      leadAcidFreezing,
}
