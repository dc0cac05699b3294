package power

import (
	"errors"
	"math"
	"testing"

	"duskline/calc/golden"
	"duskline/calc/qty"
)

// By hand: 20 A into 13.6 V at 85 % are 320 W, which are 24.615 A at 13 V and
// 32 A at 10 V.
func TestVehicleChargerAgainstOhm(t *testing.T) {
	c := VehicleCharger{Current: 20, Efficiency: 0.85, Socket: 25}
	if err := c.Check(); err != nil {
		t.Fatal(err)
	}
	golden.Near(t, "watts of the vehicle", float64(c.Watts(13.6, 20)), 320, 12)
	golden.Near(t, "amps through the fuse", float64(c.Draws(13.6, 20, SocketVolts)), 24.615385, 8)
	golden.Near(t, "amps at a weak socket", float64(c.Draws(13.6, 20, 10)), 32, 12)
	if c.Watts(14, 0) != 0 || c.Draws(14, 0, 12) != 0 {
		t.Error("a charger that gives nothing draws something")
	}
}

// A fuse carries its rating and no more; the amps it allows load it just so,
// at any volts on either side.
func TestVehicleFuse(t *testing.T) {
	c := VehicleCharger{Current: 20, Efficiency: 0.85, Socket: 25}
	if c.Overloads(13.6, SocketVolts) || !c.Overloads(14.4, SocketVolts) || !c.Overloads(13.6, 12.7) {
		t.Error("320 W at 13 V fit a fuse of 25 A; 339 W do not, nor 320 W at 12.7 V")
	}
	for vehicle := qty.Volt(10); vehicle < 15; vehicle += 0.3 {
		for v := qty.Volt(11); v < 15; v += 0.4 {
			most := c.Allows(v, vehicle)
			golden.Near(t, "amps at what the fuse allows", float64(c.Draws(v, most, vehicle)), 25, 12)
			if c.Overloads(v, vehicle) != (most < c.Current) {
				t.Errorf("%g V from %g V: allows %g A, overloads %v", v, vehicle, most, c.Overloads(v, vehicle))
			}
		}
	}
	c = VehicleCharger{Current: 10, Efficiency: 0.5, Socket: 20}
	if c.Overloads(13, 13) {
		t.Error("a fuse at its very rating is overloaded")
	}
	c.Socket = 0
	if c.Overloads(14.4, 10) || !math.IsInf(float64(c.Allows(14.4, 10)), 1) {
		t.Error("an unknown fuse blows")
	}
}

func TestVehicleChargerCheckNamesTheFigure(t *testing.T) {
	for _, bad := range []struct {
		what string
		VehicleCharger
	}{
		{"Current", VehicleCharger{-1, 0.9, 10}},
		{"Current", VehicleCharger{100.1, 0.9, 10}},
		{"Efficiency", VehicleCharger{10, 0.49, 10}},
		{"Efficiency", VehicleCharger{10, qty.Fraction(math.NaN()), 10}},
		{"Socket", VehicleCharger{10, 0.9, -1}},
		{"Socket", VehicleCharger{10, 0.9, 61}},
	} {
		var r *qty.RangeError
		if err := bad.Check(); !errors.As(err, &r) || r.What != bad.what {
			t.Errorf("%+v: %v", bad.VehicleCharger, err)
		}
	}
}
