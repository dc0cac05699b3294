package battery

// Gel is a sealed lead-acid battery of six cells whose acid is set with
// silica.
//
// Rest: that of the AGM, whose comment names the sources. No open table of a
// gel's own volts was found; both hold their acid still and are filled with
// about the same.
//
// ChargeFrom, ChargeTo: lower than an AGM's, as gas leaves holes in a gel that
// do not close.
// Source: CommonPractice.
var Gel = Chemistry{
	Name:          "gel",
	Cells:         6,
	Rest:          leadAcidRest,
	Coulombic:     Always(0.85),
	AcceptHours:   1,
	NoChargeBelow: never,
	Cold:          leadAcidCold,
	ChargeFrom:    14.0,
	ChargeTo:      14.4,
	Life:          LeadAcidLife,
	Freezing:      leadAcidFreezing,
}
