package panel

import "duskline/calc/qty"

// A Cable joins panels with the controller, out and back. Wire tables are the
// Bench's; here a cable is its figure per kilometre.
type Cable struct {
	Length qty.Metre // one way, 0 to 200 m; the current goes there and back
	PerKm  float64   // of one conductor at 20 °C, Ω/km, 0.01 to 200
}

// copper20 is the growth of copper's resistance at 20 °C, 1/K.
const copper20 = 0.00393

// Check returns nil for a Cable in range.
//
// Errors: *qty.RangeError for Length and PerKm.
func (c Cable) Check() error {
	if err := qty.InRange("Length", float64(c.Length), 0, 200, "m"); err != nil {
		return err
	}
	return qty.InRange("PerKm", c.PerKm, 0.01, 200, "Ω/km")
}

// Resistance returns the resistance of both conductors at a temperature of the
// copper, −60 to 120 °C.
//
//	R = 2·L·R'/1000·(1 + 0.00393·(t − 20))
//
// Source: IEC60228, Annex B for the coefficient, read in a national adoption.
func (c Cable) Resistance(t qty.Celsius) qty.Ohm {
	return qty.Ohm(2 * float64(c.Length) * c.PerKm / 1000 * (1 + copper20*(float64(t)-20)))
}

// Behind returns the panel as the controller sees it at the far end of a
// cable of its own: the cable is more series resistance, so the curve of the
// result is exact, and the power it shows is what arrives.
//
// r is 0 or more, of this panel's cable. Panels that share one: times their
// number side by side, divided by it end to end.
func (m Module) Behind(r qty.Ohm) Module {
	m.Series += r
	return m
}
