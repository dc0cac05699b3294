package battery

import (
	"math"
	"testing"

	"duskline/calc/qty"
)

// A draw is a bus of constant amps into the battery and constant watts out of
// it, as gear and chargers make it.
type draw struct{ amps, watts float64 }

func (d *draw) Net(v float64) float64 { return d.amps - d.watts/v }

// BenchmarkWeek is 2,016 steps of five minutes with all layers: gear by day and
// more of it by night, sun that fills the battery. Target: under 0.5 ms, no
// allocation.
func BenchmarkWeek(b *testing.B) {
	for _, c := range []Chemistry{LiFePO4, NMC, AGM, Flooded} {
		b.Run("chemistry="+c.Name, func(b *testing.B) {
			bat := must(b, marks(c))
			start := bat.Rested(0.7, 20)
			b.ReportAllocs()
			week := make([]draw, 2016)
			air := make([]Around, 2016)
			for k := range week {
				hour := float64(k%288) / 12
				week[k] = draw{-0.3, 25}
				if sun := math.Sin((hour - 6) / 12 * math.Pi); sun > 0 {
					week[k] = draw{9*sun - 0.3, 10}
				}
				air[k].Air = qty.Celsius(18 + 6*math.Sin(hour/4))
			}
			for b.Loop() {
				s := start
				for k := range week {
					s = bat.Step(s, air[k], 300, &week[k]).State
				}
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N*2016), "ns/step")
		})
	}
}

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
