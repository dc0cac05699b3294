package battery

import "duskline/calc/qty"

// A State is what a battery remembers from one step to the next. The decision:
// it is a value and nothing else remembers, so a caller may copy it, step it
// two ways and keep the one it likes.
type State struct {
	Charge qty.Fraction // of the amp-hours that the battery holds, 0 to 1: [Battery.Holds]

	// Free is the head of the free well, 0 to 1: what the plates can give at
	// once. Equal to Charge after a rest; 0: nothing flows out any more,
	// although Charge may be above 0.
	Free qty.Fraction

	Slow qty.Volt    // volts over the slow part of the resistance, above 0 after charging
	Lean float64     // hysteresis: -1 came by discharging, 0 neither, 1 came by charging
	Core qty.Celsius // temperature of the battery
}

// Around is what surrounds the battery in a step.
type Around struct {
	Air qty.Celsius // -60 to 60 °C
	Sun qty.Watt    // heat that the sun puts into the Case, 0 or more
}

// Rested returns the state of a battery that was left alone for days at a
// charge of 0 to 1, at a temperature of its core.
//
// Source: EnergyBalance.
func (b *Battery) Rested(charge qty.Fraction, core qty.Celsius) State {
	s := qty.Fraction(within(float64(charge)))
	return State{Charge: s, Free: s, Core: core}
}
