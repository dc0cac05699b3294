package power

import "duskline/calc/qty"

// A WallCharger is fed by the mains and gives its amps until the battery
// holds them back. Current 0 means that there is none.
type WallCharger struct {
	Current    qty.Ampere   // into the battery
	Efficiency qty.Fraction // from the mains to the battery
}

// Check returns nil for a WallCharger in range: Current 0 to 100 A,
// Efficiency 0.5 to 1.
//
// Errors: *qty.RangeError.
func (w WallCharger) Check() error {
	if err := qty.InRange("Current", float64(w.Current), 0, 100, "A"); err != nil {
		return err
	}
	return qty.InRange("Efficiency", float64(w.Efficiency), 0.5, 1, "")
}

// Mains returns the watts drawn from the mains while i amps go into the
// battery at v volts, i being 0 to Current. At 0 A it draws nothing; a real
// one left plugged in draws a few watts.
//
//	P = v·i/eff
//
// Source: EnergyBalance.
func (w WallCharger) Mains(v qty.Volt, i qty.Ampere) qty.Watt {
	if i == 0 {
		return 0
	}
	return qty.Watt(float64(v) * float64(i) / float64(w.Efficiency))
}

// RefillHours returns how long constant amps take to put so many amp-hours
// back, in hours. coulombic is the share of the amp-hours that stays in the
// battery, above 0.
//
//	t = Ah/(I·coulombic)
//
// It leaves out the tail, in which a battery near full takes less and less:
// the first four fifths of a lead-acid battery, nearly all of a LiFePO4 one.
// +Inf without a charger.
//
// Source: EnergyBalance.
func (w WallCharger) RefillHours(missing qty.AmpHour, coulombic qty.Fraction) float64 {
	return float64(missing) / (float64(w.Current) * float64(coulombic))
}
