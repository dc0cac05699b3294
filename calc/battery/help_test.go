package battery

import (
	"testing"

	"duskline/calc/qty"
)

// spec is a 40 Ah battery of 20 mΩ with usual settings, invented.
func spec(c Chemistry) Spec {
	return Spec{
		Chemistry: c, Capacity: 40, Resistance: 0.020,
		Charge: 14.4, Alarm: 11.5, CutOff: 10.5, Reconnect: 12.8,
	}
}

func must(t testing.TB, s Spec) *Battery {
	t.Helper()
	b, err := New(s)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// line is a chemistry whose rest volts go straight from empty to full, with
// no losses and no limits: the battery of textbook arithmetic.
func line(empty, full qty.Volt) Chemistry {
	return Chemistry{
		Name: "straight line", Cells: 1, Coulombic: Always(1), NoChargeBelow: never,
		Rest: []Point{{0, empty}, {1, full}},
	}
}

// at is a battery at rest at a charge, as warm as the air around it. Only these
// three helpers hand on what is not a number or out of range.
func at(charge qty.Fraction, air qty.Celsius) (State, Around) {
	return State{Charge: charge, Free: charge, Core: air}, Around{Air: air}
}

func (b *Battery) step(charge qty.Fraction, air qty.Celsius, h float64, bus Bus) Step {
	from, around := at(charge, air)
	return b.Step(from, around, h, bus)
}

func (b *Battery) until(charge qty.Fraction, air qty.Celsius, h float64, bus Bus, mark qty.Volt) (float64, bool) {
	from, around := at(charge, air)
	return b.Until(from, around, h, bus, mark)
}

func (b *Battery) untilUp(charge qty.Fraction, air qty.Celsius, h float64, bus Bus, mark qty.Volt) (float64, bool) {
	from, around := at(charge, air)
	return b.UntilUp(from, around, h, bus, mark)
}
