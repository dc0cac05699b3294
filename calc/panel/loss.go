package panel

import "duskline/calc/qty"

// Alone returns the watts that the panels would give if each worked at its own
// maximum power point, without blocking diodes and cable.
//
// Source: EnergyBalance, a sum.
func (a *Array) Alone() (sum qty.Watt) {
	for k := range a.Parts {
		if p := &a.Parts[k]; p.Count > 0 {
			v, i := p.Curve.MaxPower()
			sum += qty.Watt(p.Count) * qty.Power(v, i)
		}
	}
	return sum
}

// MismatchLoss returns the watts that joining alone costs at the maximum power
// point: Alone less what the joined panels give, both without blocking diodes'
// volts and cable. It is 0 or more, to rounding.
//
// Source: EnergyBalance, a difference.
func (a *Array) MismatchLoss() qty.Watt {
	bare := *a
	bare.Drop, bare.Series = 0, 0
	v, i := bare.MaxPower()
	return a.Alone() - qty.Power(v, i)
}
