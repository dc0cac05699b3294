package power

import (
	"math"

	"duskline/calc/qty"
)

// A WallCharger is fed by the mains and gives its amps until the battery
// holds them back. Current 0 means that there is none; InputMin and InputMax
// both 0 that its input is not known.
type WallCharger struct {
	Current            qty.Ampere   // into the battery
	Efficiency         qty.Fraction // from the mains to the battery
	InputMin, InputMax qty.Volt     // nominal mains volts that its label allows
}

// Check returns nil for a WallCharger in range: Current 0 to 100 A,
// Efficiency 0.5 to 1, InputMin and InputMax both 0 or 90 to 264 V with
// InputMin the lesser.
//
// Errors: *qty.RangeError.
func (w WallCharger) Check() error {
	if err := qty.InRange("Current", float64(w.Current), 0, 100, "A"); err != nil {
		return err
	}
	if err := qty.InRange("Efficiency", float64(w.Efficiency), 0.5, 1, ""); err != nil {
		return err
	}
	if w.InputMin == 0 && w.InputMax == 0 {
		return nil
	}
	if err := qty.InRange("InputMin", float64(w.InputMin), 90, 264, "V"); err != nil {
		return err
	}
	return qty.InRange("InputMax", float64(w.InputMax), math.Nextafter(float64(w.InputMin), 300), 264, "V")
}

// Fits reports whether the charger may be plugged into mains of that nominal
// voltage, 90 to 264 V. A label's range is of nominal volts, and a charger
// stands the few percent by which the mains sways around them. A charger whose
// input is not known fits.
//
// That labels state nominal volts is common practice, no source.
func (w WallCharger) Fits(mains qty.Volt) bool {
	return w.InputMax == 0 || mains >= w.InputMin && mains <= w.InputMax
}

// Worldwide reports whether the charger takes the mains of every country, 100
// to 240 V nominal.
//
// Those two figures are common practice, no source.
func (w WallCharger) Worldwide() bool {
	return w.InputMax > 0 && w.Fits(100) && w.Fits(240)
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
// [TailHours] is the rest. +Inf without a charger.
//
// Source: EnergyBalance.
func (w WallCharger) RefillHours(missing qty.AmpHour, coulombic qty.Fraction) float64 {
	return float64(missing) / (float64(w.Current) * float64(coulombic))
}

// TailHours returns how long a battery that is held at its volts takes from
// one current down to a lesser one, in hours, if missing amp-hours went in
// meanwhile: the current falls exponentially.
//
//	t = τ·ln(from/to),  τ = missing/(from - to)
//
// from is above to, to above 0; missing is 0 or more.
//
// Source: EnergyBalance; that the current falls exponentially is a textbook's
// idealisation.
func TailHours(missing qty.AmpHour, from, to qty.Ampere) float64 {
	return float64(missing) / float64(from-to) * math.Log(float64(from/to))
}
