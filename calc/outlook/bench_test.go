package outlook

import (
	"testing"

	"duskline/calc/plan"
)

// BenchmarkOutlook is the whole of Run, the second run without sun included.
func BenchmarkOutlook(b *testing.B) {
	p := bench()
	p.Trip.LengthH = 7 * 24
	p.Case.Switch = plan.DCAndAC
	p.Sky.ClearSkyIndex = []float64{1, 0.6, 0.3, 0.8}
	p.Gear = append(p.Gear, deviceOf24h(plan.RouteDC, 15), deviceOf24h(plan.RouteAC, 20))
	p = neutral(p)
	for _, kind := range []plan.ControllerKind{plan.MPPT, plan.PWM} {
		p.Case.Controller.Kind = kind
		b.Run("days=7/step=5m/controller="+string(kind), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := Run(p); err != nil {
					b.Fatal(err)
				}
			}
			b.ReportMetric(float64(b.N)*7*288/b.Elapsed().Seconds(), "steps/s")
		})
	}
}
