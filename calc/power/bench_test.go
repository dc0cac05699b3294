package power

import (
	"testing"

	"duskline/calc/qty"
)

// The curve costs nothing here: what is measured is the controller alone.
func BenchmarkOffer(b *testing.B) {
	for _, c := range []struct {
		name string
		Controller
	}{{"PWM", pwm10}, {"MPPT", mppt10}} {
		b.Run(c.name, func(b *testing.B) {
			panel := new(steady)
			*panel = 100
			var curve Curve = panel
			b.ReportAllocs()
			n := 0
			for b.Loop() {
				o := c.Offer(curve)
				v := 12 + qty.Volt(n&255)*0.01
				o.PanelPower(v, o.Amps(v))
				n++
			}
		})
	}
}
