package outlook

import (
	"math/rand/v2"
	"testing"

	"duskline/calc/plan"
)

// Three hundred random batteries of every chemistry and age, with figures of
// their own, in sun and frost, worn, small and large: none crashes, every Ledger
// closes, every alarm has its cause.
func TestRandomBatteriesAreSound(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 2026))
	in := func(a, b float64) float64 { return a + (b-a)*r.Float64() }
	maybe := func(v float64) *float64 {
		if r.IntN(3) > 0 {
			return nil
		}
		return &v
	}
	ran, causes := 0, map[AlarmCause]int{}
	for i := range 300 {
		p := bench()
		b := &p.Case.Battery
		switch b.Chemistry = []plan.Chemistry{plan.LiFePO4, plan.NMC, plan.AGM, plan.Gel, plan.Flooded, plan.Own}[i%6]; b.Chemistry {
		case plan.NMC:
			b.ChargeV, b.AlarmV, b.CutoffV, b.ReconnectV = 12.4, in(10, 11), 9.3, 11.2
		case plan.AGM, plan.Gel, plan.Flooded:
			b.ChargeV, b.AlarmV, b.CutoffV, b.ReconnectV = 14.4, in(11.3, 12.3), 11, 12.5
			b.CompensationMVPerK = -in(0, 40)
		case plan.Own:
			b.ChargeV, b.AlarmV, b.CutoffV, b.ReconnectV = 14.2, in(11.3, 12.3), 11, 12.5
			b.Own = &plan.OwnBattery{Rest: []plan.OwnPoint{{ChargePct: 0, Volts: 10.5}, {ChargePct: 20, Volts: 12.2}, {ChargePct: 100, Volts: 13.4}},
				CoulombicPct: in(80, 100), AcceptH: in(0, 3), HysteresisMV: in(0, 200), CyclesTo80: 800, Lithium: r.IntN(2) == 0}
		default:
			b.AlarmV = in(11.5, 12.9)
		}
		b.CapacityAh, b.ResistanceMohm = []float64{1, in(5, 60), 400}[r.IntN(3)], []float64{1, in(5, 60), 400}[r.IntN(3)]
		b.RatedHours, b.Peukert = []float64{5, 20, 100}[r.IntN(3)], maybe(in(1, 1.4))
		b.AgeYears, b.Cycles, b.HealthPct = in(0, 6), in(0, 400), maybe(in(20, 100))
		b.SelfDischargePctMonth, b.NoChargeBelowC = maybe(in(0, 50)), maybe(in(-40, 20))
		b.HeatKJPerK, b.CoolingWPerK = maybe(in(0.1, 50)), maybe(in(0.05, 50))
		p.Case.Stands = []plan.Stands{plan.Shade, plan.InSun}[r.IntN(2)]
		p.Sky.WarmestC = in(-30, 55)
		p.Sky.ColdestC = p.Sky.WarmestC - in(0, 20)
		p.Trip.StartChargePct, p.Trip.StepMin = []float64{0, in(0, 100), 100}[r.IntN(3)], []int{1, 5, 15}[r.IntN(3)]
		p.Trip.WallHours = []plan.Window{{FromH: in(0, 24), ToH: in(0, 24)}}
		d := deviceOf24h(plan.RouteDC, in(1, 120))
		d.DutyPct, d.SurgeW, d.SurgeS = in(10, 100), in(0, 500), in(0, 10)
		p.Gear = append(p.Gear, d)
		if f := plan.Check(neutral(p)); len(f) > 0 {
			t.Log(f)
			continue
		}
		ran++
		o := mustRun(t, p)
		for _, e := range o.Events {
			if (e.Kind == AlarmOn) != (e.Cause != "") || e.Left < 0 || e.Left > NoSunLimit {
				t.Errorf("%+v", e)
			}
			if e.Kind == AlarmOn {
				causes[e.Cause]++
				if e.Cause == Early && e.Charge < EarlyCharge-0.01 || e.Cause == Late && e.Left >= LateLeft {
					t.Errorf("%+v", e)
				}
			}
		}
		for i, c := range o.Series.Core {
			if !(c >= -60 && c <= 120) {
				t.Fatalf("row %d: %g °C", i, c)
			}
		}
		if s := o.Figures.Safe; !(s.Least >= 0 && s.Least <= 1 && s.Night >= 0 && s.Night <= 1 && s.StopAt <= 1) || s.Why == "" {
			t.Errorf("%+v", s)
		}
		if t.Failed() {
			t.Fatalf("plan %d: %+v", i, p)
		}
	}
	t.Logf("%d plans, alarms %v", ran, causes)
	if ran < 200 || causes[Early] == 0 || causes[Late] == 0 || causes[InTime] == 0 {
		t.Errorf("%d good plans, alarms %v", ran, causes)
	}
}
