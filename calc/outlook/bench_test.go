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

// BenchmarkOutlookWith is the same with what a Case may have beside.
func BenchmarkOutlookWith(b *testing.B) {
	for _, c := range []struct {
		name string
		edit func(*plan.Plan)
	}{
		{"stages", func(p *plan.Plan) {
			agm(p)
			p.Case.Battery.AfterFull, p.Case.Battery.AbsorptionH, p.Case.Battery.CompensationMVPerK = plan.AfterFloat, 2, -24
		}},
		{"inverter", func(p *plan.Plan) {
			i := &p.Case.Inverter
			i.LowCutoffV, i.LowReconnectV, i.SleepA, i.WakeW, i.Wave = 11, 12.5, ptr(0.05), 10, plan.ModifiedSine
			p.Gear[2].Sensitivity, p.Gear[2].PowerFactor, p.Gear[2].DutyPct = plan.SensitivityInductionMotor, 0.7, 40
		}},
		{"vehicle", func(p *plan.Plan) {
			p.Case.Vehicle = &plan.VehicleCharger{CurrentA: 8, EfficiencyPct: 85}
			p.Trip.EngineHours = []plan.Window{{FromH: 8, ToH: 9}}
		}},
	} {
		p := bench()
		p.Trip.LengthH = 7 * 24
		p.Case.Switch = plan.DCAndAC
		p.Sky.ClearSkyIndex = []float64{1, 0.6, 0.3, 0.8}
		p.Gear = append(p.Gear, deviceOf24h(plan.RouteDC, 15), deviceOf24h(plan.RouteAC, 20))
		c.edit(&p)
		p = neutral(p)
		b.Run("days=7/step=5m/with="+c.name, func(b *testing.B) {
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
