package pairing

import (
	"testing"

	"duskline/calc/plan"
)

// BenchmarkPairing is the whole ladder of twelve rungs over seven days, with the
// plan as it stands, the refills and the table. That of four kinds has fifteen
// choices of one's own panels more, in two ways each.
func BenchmarkPairing(b *testing.B) {
	bench := func(name string, p plan.Plan) {
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := Run(p, nil); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
	for _, kind := range []plan.ControllerKind{plan.MPPT, plan.PWM} {
		p := camp()
		p.Case.Controller.Kind = kind
		bench("rungs=12/days=7/step=5m/controller="+string(kind), p)
	}
	p := mixed()
	p.Trip.LengthH = 7 * 24
	p.Panels.List = append(p.Panels.List, plan.NewPanel("d", 45, 180))
	bench("rungs=12/kinds=4/days=7/step=5m", p)
}
