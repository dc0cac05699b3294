package power

import (
	"testing"

	"duskline/calc/qty"
)

// The curve costs nothing here: what is measured is the controller alone.
func BenchmarkOffer(b *testing.B) {
	start := mppt10
	start.Start = 20
	for _, c := range []struct {
		name string
		Controller
	}{{"PWM", pwm10}, {"MPPT", mppt10}, {"MPPT-low", uneven[0]}, {"MPPT-high", uneven[2]}, {"MPPT-start", start}} {
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

// The inner call of a battery's search for its volts.
func BenchmarkAmps(b *testing.B) {
	for _, c := range []struct {
		name string
		Controller
	}{{"PWM", pwm10}, {"MPPT", mppt10}, {"MPPT-low", uneven[0]}} {
		b.Run(c.name, func(b *testing.B) {
			panel := new(steady)
			*panel = 100
			o := c.Offer(panel)
			b.ReportAllocs()
			n := 0
			for b.Loop() {
				o.Amps(12 + qty.Volt(n&255)*0.01)
				n++
			}
		})
	}
}

// One step of the stages, as a simulation drives them.
func BenchmarkCharging(b *testing.B) {
	s, _ := StagesFor(AGM)
	run := s.Begin()
	b.ReportAllocs()
	n := 0
	for b.Loop() {
		v, _ := run.Volts(qty.Celsius(n & 31))
		run.Advance(300, n&64 == 0, v-qty.Volt(n&3))
		n++
	}
}
