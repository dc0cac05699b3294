package outlook

import (
	"math"

	"duskline/calc/battery"
	"duskline/calc/plan"
	"duskline/calc/qty"
)

// What surrounds the battery: the air of the step, and the sun on a Case that
// stands in it. The battery's own temperature is the battery's affair.

// What the sun puts into a battery. Common practice, no source: a Case of 50
// A·h has a lid of a twelfth of a square metre, others in proportion to the
// square of their length; of the light on level ground a fifth comes to the
// battery as heat, for the lid throws some back and gives most of what it
// takes to the air again. Such a Case gets some 15 K warmer than the air at
// noon.
const (
	lidOf50Ah  = 0.083 // m²
	sunReaches = 0.2
)

// sunOn returns the heat of so much light on level ground, W for each W/m².
func sunOn(b plan.Battery) float64 {
	return sunReaches * lidOf50Ah * math.Cbrt(b.CapacityAh/50*b.CapacityAh/50)
}

// frostOf returns the temperature under which the battery takes no charge.
func frostOf(s battery.Spec) qty.Celsius {
	if s.NoChargeBelow != nil {
		return *s.NoChargeBelow
	}
	return s.Chemistry.NoChargeBelow
}

// warm sets what surrounds the battery in the step under way.
func (r *runner) warm() {
	r.outside = battery.Around{Air: r.air}
	if r.inSun > 0 && r.dark == nil {
		r.outside.Sun = qty.Watt(r.inSun * r.weather.Level)
	}
}

// around is what surrounds the battery now.
func (r *runner) around() battery.Around { return r.outside }
