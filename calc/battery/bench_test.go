package battery

import (
	"testing"

	"duskline/calc/qty"
)

// A draw is a bus of constant amps into the battery and constant watts out of
// it, as gear and chargers make it.
type draw struct{ amps, watts float64 }

func (d *draw) Net(v float64) float64 { return d.amps - d.watts/v }

// BenchmarkStep is the core's innermost loop: a bus of one constant power and
// one constant current. Target: under 400 ns here, no allocation.
func BenchmarkStep(b *testing.B) {
	for _, c := range []struct {
		name      string
		chemistry Chemistry
		bus       draw
	}{
		{"chemistry=LiFePO4/drawing", LiFePO4, draw{-0.5, 40}},
		{"chemistry=LiFePO4/charging", LiFePO4, draw{8, 40}},
		{"chemistry=LiFePO4/held", LiFePO4, draw{900, 40}},
		{"chemistry=AGM/drawing", AGM, draw{-0.5, 40}},
		{"chemistry=AGM/charging", AGM, draw{8, 40}},
		{"chemistry=AGM/held", AGM, draw{30, 40}},
	} {
		b.Run(c.name, func(b *testing.B) {
			bat := must(b, spec(c.chemistry))
			b.ReportAllocs()
			var sum qty.Fraction
			s := 0.3
			for b.Loop() {
				st := bat.step(qty.Fraction(s), 10, 300, &c.bus)
				sum += st.State.Charge
				if s += 0.001; s > 0.7 {
					s = 0.3
				}
			}
			_ = sum
		})
	}
}

func BenchmarkUntil(b *testing.B) {
	bat := must(b, spec(LiFePO4))
	bus := draw{-0.5, 40}
	b.ReportAllocs()
	for b.Loop() {
		bat.until(0.02, 10, 900, &bus, 11.5)
	}
}
