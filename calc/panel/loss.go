package panel

import "duskline/calc/qty"

// What joining costs: the panels each at its best, less the joined ones at
// theirs. Diode and cable are left out of both; they cost what they cost
// however the panels are joined.

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
// volts and cable. It is 0 or more, to rounding. It allocates.
//
// Source: EnergyBalance, a difference.
func (a *Array) MismatchLoss() qty.Watt {
	bare := Array{Joined: a.Joined, Parts: a.Parts, Unblocked: a.Unblocked}
	v, i := bare.MaxPower()
	return a.Alone() - qty.Power(v, i)
}

// Alone returns the watts that the panels would give if each worked at its own
// maximum power point, shaded as it is, without blocking diodes and cable. It
// allocates.
//
// Source: EnergyBalance, a sum.
func (p *Patchy) Alone() (sum qty.Watt) {
	one := Patchy{}
	for k := range p.Parts {
		one.Parts = p.Parts[k : k+1]
		v, i := one.MaxPower()
		sum += qty.Power(v, i)
	}
	return sum
}

// MismatchLoss returns the watts that joining alone costs: see
// [Array.MismatchLoss]. It allocates.
//
// Source: EnergyBalance, a difference.
func (p *Patchy) MismatchLoss() qty.Watt {
	bare := Patchy{Joined: p.Joined, Parts: p.Parts}
	v, i := bare.MaxPower()
	return p.Alone() - qty.Power(v, i)
}
