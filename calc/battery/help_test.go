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
