package outlook

import (
	"math"
	"testing"

	"duskline/calc/notice"
	"duskline/calc/plan"
	"duskline/calc/qty"
)

// Run against the naive second-by-second simulation for every chemistry, in the
// sun, with figures of one's own for heat and self-discharge, in frost and heat.
func TestRunAgainstNaiveBatteries(t *testing.T) {
	onceOnly(t)
	for _, c := range []struct {
		name string
		edit func(*plan.Plan)
	}{
		{"in the sun, little cooling", func(p *plan.Plan) {
			p.Case.Stands, p.Case.Battery.CoolingWPerK = plan.InSun, ptr(0.6)
		}},
		{"heavy and well cooled, much self-discharge", func(p *plan.Plan) {
			b := &p.Case.Battery
			b.HeatKJPerK, b.CoolingWPerK, b.SelfDischargePctMonth = ptr(12), ptr(4), ptr(20)
		}},
		{"three cells of nmc", func(p *plan.Plan) {
			b := &p.Case.Battery
			b.Chemistry, b.ChargeV, b.AlarmV, b.CutoffV, b.ReconnectV = plan.NMC, 12.4, 10.2, 9.3, 10.8
		}},
		{"gel in frost", func(p *plan.Plan) {
			agm(p)
			p.Case.Battery.Chemistry = plan.Gel
			p.Sky.WarmestC, p.Sky.ColdestC = 2, -14
		}},
		{"flooded in the heat", func(p *plan.Plan) {
			agm(p)
			p.Case.Battery.Chemistry, p.Case.Stands = plan.Flooded, plan.InSun
			p.Sky.WarmestC, p.Sky.ColdestC = 42, 26
		}},
		{"a maker who lets it charge from 8 °C up", func(p *plan.Plan) {
			p.Case.Battery.NoChargeBelowC = ptr(8)
			p.Sky.WarmestC, p.Sky.ColdestC = 16, -2
		}},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := bench()
			p.Trip.StepMin, p.Trip.LengthH, p.Trip.StartChargePct = 1, 36, 55
			p.Gear = append(p.Gear, deviceOf24h(plan.RouteDC, 14))
			c.edit(&p)
			againstNaive(t, p, 0.6)
		})
	}
}

// A Case in the sun is warmer than one in the shade by what the sun brings over
// what a kelvin takes away, with the lag of its mass; by night it is not.
func TestSunOnTheCaseByHand(t *testing.T) {
	p := bench()
	p.Gear, p.Sky.WarmestC, p.Sky.ColdestC = nil, 20, 20
	p.Case.Battery.CoolingWPerK, p.Case.Battery.HeatKJPerK = ptr(2), ptr(0.1) // 50 s
	shade := mustRun(t, p)
	p.Case.Stands, p.Panels.List = plan.InSun, nil // without panels the light is that on level ground
	o := mustRun(t, p)
	s := &o.Series
	for i := 2; i < len(s.Core); i++ {
		if math.Abs(float64(s.Light[i]-s.Light[i-1])) > 20 {
			continue
		}
		want := 20 + float64(s.Light[i])*0.083*0.2/2
		if got := float64(s.Core[i]); math.Abs(got-want) > 0.25 {
			t.Fatalf("row %d: %.3f °C, by hand %.3f °C", i, got, want)
		}
	}
	if hot := o.Figures.CoreHighest; hot < 26 || shade.Figures.CoreHighest > 22 || o.Figures.CoreLowest > 20.1 {
		t.Errorf("in the sun %.2f to %.2f °C, in the shade up to %.2f °C", o.Figures.CoreLowest, hot, shade.Figures.CoreHighest)
	}
}

// The battery's temperature lags behind the air by its heat over its cooling:
// after so many seconds 63 % of a step of the air are done.
func TestCoreLagsBehindTheAir(t *testing.T) {
	p := bench()
	p.Gear, p.Panels.List = nil, nil
	p.Case.Battery.HeatKJPerK, p.Case.Battery.CoolingWPerK = ptr(7.2), ptr(1) // two hours
	p.Sky.WarmestC, p.Sky.ColdestC = 30, 10
	o := mustRun(t, p)
	crest := func(list []qty.Celsius) (hour float64) {
		best := 0
		for i := 12 * 12; i < 12*36; i++ { // of the second day
			if list[i] > list[best] {
				best = i
			}
		}
		return o.Series.Time(best).Sub(p.Trip.Start).Hours()
	}
	// A lag of first order moves the crest of a day's cosine by atan(ωτ)/ω.
	w := 2 * math.Pi / 24
	if got, want := crest(o.Series.Core)-crest(o.Series.Air), math.Atan(w*2)/w; math.Abs(got-want) > 0.15 {
		t.Errorf("the battery's crest is %.2f h behind, want %.2f h", got, want)
	}
}

// Handbook H43, 3 % a month: what stands for 30 days at 20 °C with nothing on
// loses it, and the Ledger has it.
func TestSelfDischargeInTheLedgerAgainstH43(t *testing.T) {
	p := bench()
	p.Gear, p.Panels.List = nil, nil
	p.Case.DC.StandbyA, p.Case.USB.StandbyA, p.Case.Meters.StandbyA, p.Case.Controller.StandbyA = 0, 0, 0, 0
	p.Case.Battery.SelfDischargePctMonth = ptr(3)
	p.Sky.WarmestC, p.Sky.ColdestC, p.Trip.LengthH, p.Trip.StartChargePct, p.Trip.StepMin = 20, 20, 720, 80, 15
	o := mustRun(t, p)
	if last := float64(o.Series.Charge[len(o.Series.Charge)-1]); math.Abs(last-0.8*0.97) > 1e-4*0.8 {
		t.Errorf("80 %% are %.4f after a month, want %.4f", last, 0.8*0.97)
	}
	for _, f := range o.Ledger.Losses {
		if f.Name == BatteryStanding && math.Abs(float64(f.Energy+o.Ledger.Change)) > 1e-6 || f.Name != BatteryStanding && math.Abs(float64(f.Energy)) > 1e-9 {
			t.Errorf("%s %.6f Wh, change %.6f Wh", f.Name, f.Energy, o.Ledger.Change)
		}
	}
}

// Half of the capacity lasts half as long.
func TestWornBatteryLastsShorter(t *testing.T) {
	at := func(health float64) float64 {
		p := darkBench(40, 100)
		p.Case.Battery.HealthPct = ptr(health)
		o := mustRun(t, p)
		wantNotice(t, o, notice.Worn, health < 80)
		if holds, ok := number(o, notice.Worn, "holds"); ok && math.Abs(holds-health/2) > 1e-9 {
			t.Errorf("%g %% of 50 Ah are %g Ah", health, holds)
		}
		return seconds(p, eventsOf(o, CutOff)[0])
	}
	if got := at(50) / at(100); math.Abs(got-0.5) > 0.01 {
		t.Errorf("half as large it lasts %.4f times as long", got)
	}
	at(80)
	at(79)
}

// Safe discharge: what it is made of, by hand.
func TestSafeFiguresByHand(t *testing.T) {
	p := darkBench(10, 80)
	o := mustRun(t, p)
	s := o.Figures.Safe
	night := qty.Fraction(0)
	for i := 1; i < len(o.Series.AmpsOut); i++ {
		if o.Series.Elevation[i] <= 0 {
			night += qty.Fraction(float64(o.Series.AmpsOut[i]) * o.Series.Step.Hours() / 50)
		}
	}
	if s.Depth != 0.8 || math.Abs(float64(s.Least)-0.2) > 1e-12 || math.Abs(float64(s.Night/night)-1) > 0.005 || s.StopAt != s.Least+s.Night || s.RechargeDays != 14 {
		t.Errorf("%+v, the night takes %g", s, night)
	}
	// 10 W at 98 % and 13.1 V, 0.06 A of standby, nine hours: 7.6 Ah.
	if float64(s.Night) < 0.148 || float64(s.Night) > 0.158 {
		t.Errorf("10 W through a night of nine hours: %g", s.Night)
	}
	agm(&p)
	if s = mustRun(t, p).Figures.Safe; s.Depth != 0.5 || s.RechargeDays != 1 || s.Why != "sulfation" {
		t.Errorf("lead-acid: %+v", s)
	}
	// A cut-off in it makes a night no cheaper: the same gear on a battery that
	// gives out takes as many of its amp-hours, though fewer flow.
	p = darkBench(10, 80)
	whole := mustRun(t, p).Figures.Safe.Night
	p.Trip.StartChargePct = 12
	o = mustRun(t, p)
	cuts := eventsOf(o, CutOff)
	if n := o.Figures.Safe.Night; len(cuts) == 0 || math.Abs(float64(n/whole)-1) > 0.05 { // at lower volts
		t.Errorf("a night takes %g, one with %d cut-offs %g", whole, len(cuts), n)
	}
	// In the polar night a night has 24 hours.
	p = darkBench(10, 90)
	p.Sky.LatitudeDeg, p.Trip.Start, p.Trip.LengthH = 80, p.Trip.Start.AddDate(0, 7, 0), 72
	p.Case.Battery.CapacityAh = 200
	o = mustRun(t, p)
	if n, day := float64(o.Figures.Safe.Night), float64(o.Figures.DrawADay)/13.1/200; math.Abs(n/day-1) > 0.02 {
		t.Errorf("a night of the polar night takes %.4f, a day %.4f", n, day)
	}
}

// Each notice of the battery is raised by the change and not by the near miss.
func TestBatteryNoticesAndNearMisses(t *testing.T) {
	flooded := func(p *plan.Plan) {
		agm(p)
		p.Case.Battery.Chemistry = plan.Flooded
	}
	idle := func(p *plan.Plan) {
		p.Panels.List, p.Gear = nil, nil
		p.Case.DC.StandbyA, p.Case.USB.StandbyA, p.Case.Meters.StandbyA, p.Case.Controller.StandbyA = 0, 0, 0, 0
	}
	wall := func(p *plan.Plan) { p.Trip.WallHours = []plan.Window{{FromH: 0, ToH: 24}} }
	for _, c := range []struct {
		code       notice.Code
		grade      notice.Grade
		edit, miss func(*plan.Plan)
	}{
		{notice.BatteryFreezes, notice.Danger, func(p *plan.Plan) { flooded(p); p.Trip.StartChargePct = 30; p.Sky.WarmestC, p.Sky.ColdestC = -20, -22 },
			func(p *plan.Plan) { flooded(p); p.Trip.StartChargePct = 100; p.Sky.WarmestC, p.Sky.ColdestC = -20, -22 }},
		{notice.BatteryFreezes, notice.Warning, func(p *plan.Plan) {
			flooded(p)
			idle(p)
			p.Trip.StartChargePct, p.Sky.WarmestC, p.Sky.ColdestC = 50, -25, -25 // freezes at -26.1 °C
		}, func(p *plan.Plan) {
			flooded(p)
			idle(p)
			p.Trip.StartChargePct, p.Sky.WarmestC, p.Sky.ColdestC = 50, -22.9, -22.9
		}},
		{notice.BatteryFreezes, notice.Danger, func(p *plan.Plan) { flooded(p); p.Trip.StartChargePct = 20; p.Sky.WarmestC, p.Sky.ColdestC = -20, -22 },
			func(p *plan.Plan) { p.Trip.StartChargePct = 20; p.Sky.WarmestC, p.Sky.ColdestC = -20, -22 }}, // LiFePO4 does not
		{notice.BatteryHot, notice.Caution, func(p *plan.Plan) { p.Sky.WarmestC, p.Sky.ColdestC, p.Case.Stands = 40, 30, plan.InSun },
			func(p *plan.Plan) { p.Sky.WarmestC, p.Sky.ColdestC = 40, 30 }},
		{notice.Gassing, notice.Warning, func(p *plan.Plan) { flooded(p); wall(p) }, wall},
		{notice.Gassing, notice.Warning, func(p *plan.Plan) { flooded(p); wall(p) },
			func(p *plan.Plan) { flooded(p); p.Panels.List = nil; p.Trip.StartChargePct = 95 }},
		{notice.Gassing, notice.Caution, func(p *plan.Plan) { agm(p); wall(p); p.Case.Battery.CapacityAh = 200 }, // a twentieth leaves by the valves
			func(p *plan.Plan) { agm(p); p.Panels.List = nil }},
		{notice.DeepDischarge, notice.Advice, func(p *plan.Plan) { p.Panels.List = nil; p.Trip.StartChargePct = 22 },
			func(p *plan.Plan) { p.Panels.List = nil; p.Trip.StartChargePct = 40 }},
		{notice.RechargeWithin, notice.Advice, func(p *plan.Plan) { agm(p); p.Panels.List = nil; p.Trip.StartChargePct = 52 },
			func(p *plan.Plan) { p.Panels.List = nil; p.Trip.StartChargePct = 52 }},
		{notice.NightReserve, notice.Advice, func(p *plan.Plan) { p.Gear[0].PowerW = ptr(60); p.Trip.StartChargePct = 40 },
			func(p *plan.Plan) { p.Gear[0].PowerW = ptr(60); p.Trip.StartChargePct = 95 }},
		{notice.StopAt, notice.Advice, func(p *plan.Plan) { p.Gear[0].PowerW = ptr(60); p.Trip.StartChargePct = 40 },
			func(p *plan.Plan) { p.Gear[0].PowerW = ptr(60); p.Trip.StartChargePct = 95 }},
		{notice.ColdNear, notice.Caution, func(p *plan.Plan) { p.Sky.ColdestC, p.Case.Battery.NoChargeBelowC = 8, ptr(6) },
			func(p *plan.Plan) { p.Sky.ColdestC, p.Case.Battery.NoChargeBelowC = 8, ptr(4) }},
		{notice.ColdCharge, notice.Warning, func(p *plan.Plan) { p.Sky.WarmestC, p.Sky.ColdestC, p.Case.Battery.NoChargeBelowC = 8, 4, ptr(10) },
			func(p *plan.Plan) { p.Sky.WarmestC, p.Sky.ColdestC, p.Case.Battery.NoChargeBelowC = 8, 4, ptr(-10) }},
		{notice.GuardBeforeCharge, notice.Advice, func(p *plan.Plan) { guarded(p).OverV = 14.4 }, func(p *plan.Plan) { guarded(p).OverV = 14.41 }},
		{notice.GuardBeforeCutOff, notice.Advice, func(p *plan.Plan) { guarded(p).UnderV = 11 }, func(p *plan.Plan) { guarded(p).UnderV = 10.99 }},
	} {
		t.Run(string(c.code), func(t *testing.T) {
			p := bench()
			c.edit(&p)
			o := mustRun(t, p)
			wantNotice(t, o, c.code, true)
			for _, n := range o.Notices {
				if n.Code == c.code && n.Grade != c.grade {
					t.Errorf("grade %s, want %s", n.Grade, c.grade)
				}
			}
			p = bench()
			c.miss(&p)
			wantNotice(t, mustRun(t, p), c.code, false)
		})
	}
}
