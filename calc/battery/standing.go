package battery

import (
	"math"

	"duskline/calc/qty"
)

// A Standing is how a battery runs down by itself: it loses the same share of
// what it holds in equal times, faster in heat.
type Standing struct {
	Month   qty.Fraction // lost in a month of 30 days at 20 °C, 0 to below 1
	Doubles float64      // K of heat that double it; 0: heat does not matter
}

// Standing returns the self-discharge of a chemistry.
func (c *Chemistry) Standing() Standing { return Standing{c.SelfDischarge, c.DoublesEvery} }

// PerHour returns the rate of loss at a temperature, 1/h: what is left after
// t hours is exp(-rate t) of what was there.
//
//	-ln(1 - month)/(720 h) · 2^((T - 20 °C)/doubles)
//
// Source: CommonPractice.
func (s Standing) PerHour(core qty.Celsius) float64 {
	rate := -math.Log1p(-float64(s.Month)) / (30 * 24)
	if s.Doubles > 0 {
		rate *= math.Exp2((float64(core) - 20) / s.Doubles)
	}
	return rate
}

// After returns the charge left of one after so many days, 0 or above, at a
// temperature, while something draws drain, the share of the rated amp-hours
// taken in a day, 0 or above. 0 if nothing is left.
//
//	s' = (s + d/λ) exp(-λ t) - d/λ
//
// Source: CommonPractice; the closed form follows from ds/dt = -λ s - d.
func (s Standing) After(charge qty.Fraction, days, drain float64, core qty.Celsius) qty.Fraction {
	x := 24 * days * s.PerHour(core)
	// d/λ (1 - exp(-λt)) = d t (1 - exp(-x))/x, which has its limit at x = 0.
	mean := 1.0
	if x > 0 {
		mean = -math.Expm1(-x) / x
	}
	left := float64(charge)*math.Exp(-x) - drain*days*mean
	return qty.Fraction(math.Max(left, 0))
}

// Days returns the days from one charge down to another, with drain as in
// After: 0 if it is there already, +Inf if it never gets there.
//
//	t = ln(1 + λ (from - to)/(λ to + d))/λ
//
// Source: CommonPractice; the closed form follows from ds/dt = -λ s - d.
func (s Standing) Days(from, to qty.Fraction, drain float64, core qty.Celsius) float64 {
	a, b, rate := float64(from), float64(to), 24*s.PerHour(core)
	switch {
	case a <= b:
		return 0
	case rate*b+drain <= 0: // towards empty without a drain, or nothing goes at all
		return math.Inf(1)
	case rate == 0:
		return (a - b) / drain
	}
	return math.Log1p(rate*(a-b)/(rate*b+drain)) / rate
}
