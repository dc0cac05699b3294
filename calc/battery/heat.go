package battery

import "math"

// The battery's temperature. The decision: one lump that has the same
// temperature all through, warmed by what it loses itself and by the sun on
// the Case, and cooled by the air in proportion to the difference. It moves
// exponentially over a step, which is exact for constant heat.

const (
	// coolingByPractice is the cooling, W/K, of a battery of 1 Ah; it goes with
	// the surface, the power 2/3 of the amp-hours: about 1 W/K at 40 Ah, a
	// quarter of a square metre in the still air of a case.
	// Source: CommonPractice.
	coolingByPractice = 0.09

	// thermoneutral is the volts a cell at which splitting water takes up no
	// heat from around it: what the gas that leaves a battery carries off.
	// Source: CommonPractice.
	thermoneutral = 1.481

	// The span that a core is kept in: the model says nothing of a battery
	// beyond it, and none works there.
	coreLeast, coreMost = -60, 120
)

// lump is the thermal side of a battery.
type lump struct {
	still   bool    // no heat capacity is known: the core is as warm as the air
	rate    float64 // 1/s, cooling over heat capacity
	cooling float64 // W/K
}

func newLump(s *Spec) lump {
	capacity, cooling := s.HeatCapacity, s.Cooling
	if capacity == 0 {
		capacity = s.Chemistry.HeatPerAmpHour * float64(s.Capacity)
	}
	if cooling == 0 {
		cooling = coolingByPractice * math.Cbrt(float64(s.Capacity)*float64(s.Capacity))
	}
	if capacity == 0 {
		return lump{still: true}
	}
	return lump{rate: cooling / capacity, cooling: cooling}
}

// cools returns which share of a difference to the end is left after so many
// seconds, and the mean temperature of a core until then, but for what the
// battery itself heats.
func (l *lump) cools(core, air, sun, seconds float64) (left, mean float64) {
	left, share := decays(seconds * l.rate)
	end := air + sun/l.cooling
	return left, end + (core-end)*share
}

// after returns the temperature of the core with so many watts of heat in all.
//
//	T = Tend + (T0 - Tend)·exp(-t·cooling/capacity)
//	Tend = air + heat/cooling
func (l *lump) after(core, air, watts, left float64) float64 {
	end := air + watts/l.cooling
	return inside(end+(core-end)*left, coreLeast, coreMost)
}
