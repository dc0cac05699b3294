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

// plain is a chemistry without its layers: rest volts and one resistance, 99
// or 85 % of the amp-hours put in stay. The battery of arithmetic by hand.
func plain(c Chemistry) Chemistry {
	c.Swing, c.SwingRate, c.Shift, c.Ohms, c.Lift, c.LiftRate = 0, 0, nil, nil, nil, 0
	c.SlowShare, c.SlowSeconds, c.Free, c.Exchange = 0, 0, 0, 0
	c.SelfDischarge, c.HeatPerAmpHour = 0, 0
	c.Coulombic = Always(0.85)
	if c.Lithium {
		c.Coulombic = Always(0.99)
	}
	return c
}

// layered is a chemistry with all layers, stronger than any has them, but for
// the lift of a charge: that is of batteries which take no more amps than they
// miss, and here some take twelve times what they hold.
func layered(c Chemistry) Chemistry {
	c.Swing, c.SwingRate = 0.012, 25
	c.Shift = ByCharge{{0, -0.0004}, {0.5, 0}, {1, 0.0001}}
	c.Ohms = ByCharge{{0, 2.5}, {0.2, 1.2}, {0.5, 1}, {1, 1.1}}
	c.Cold = func(core qty.Celsius) float64 { return arrhenius(25_000, core) }
	c.Lift, c.LiftRate = nil, 0
	c.SlowShare, c.SlowSeconds = 0.8, 400
	c.Free, c.Exchange = 0.45, 1.3
	c.ExchangeCold = func(core qty.Celsius) float64 { return 1 / arrhenius(40_000, core) }
	c.Coulombic = ByCharge{{0, 0.99}, {0.7, 0.96}, {1, 0.6}}
	c.Vents, c.SelfDischarge, c.DoublesEvery, c.HeatPerAmpHour = 1, 0.06, 10, 120
	return c
}

// all are the chemistries that properties are tested with.
func all() []Chemistry {
	return append(Named(), plain(LiFePO4), plain(AGM), layered(LiFePO4), layered(AGM), line(11.5, 13), layered(line(11.5, 13)))
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
