package qty

import (
	"errors"
	"math"
	"testing"
)

func TestInRangeTakesTheEndsAndRefusesNaN(t *testing.T) {
	for _, c := range []struct {
		v  float64
		ok bool
	}{{0, true}, {30, true}, {15, true}, {-0.001, false}, {30.001, false}, {math.NaN(), false}, {math.Inf(1), false}} {
		err := InRange("wind", c.v, 0, 30, "m/s")
		if (err == nil) != c.ok {
			t.Errorf("%g: %v", c.v, err)
		}
		var r *RangeError
		if err != nil && (!errors.As(err, &r) || r.What != "wind" || r.Max != 30) {
			t.Errorf("%g gives %#v", c.v, err)
		}
	}
}

func TestConversions(t *testing.T) {
	if d := Degree(180).Radians(); d != math.Pi {
		t.Errorf("180° is %g rad", d)
	}
	if d := Radian(math.Pi / 2).Degrees(); math.Abs(float64(d)-90) > 1e-12 {
		t.Errorf("π/2 rad is %g°", d)
	}
	if k := Celsius(25).Kelvin(); k != 298.15 {
		t.Errorf("25 °C is %g K", k)
	}
	// Handbook H65: 12.8 V × 40 Ah = 512 Wh, exact by definition.
	if e := Energy(12.8, 40); e != 512 {
		t.Errorf("12.8 V × 40 Ah is %g Wh", e)
	}
	if p := Power(12, 5); p != 60 {
		t.Errorf("12 V × 5 A is %g W", p)
	}
}
