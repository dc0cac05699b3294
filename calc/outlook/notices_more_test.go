package outlook

import (
	"math"
	"testing"

	"duskline/calc/notice"
	"duskline/calc/plan"
)

// onACOf80 plugs a device of 80 W into the bench case's inverter, in the
// evening.
func onACOf80(p *plan.Plan, edit func(*plan.Device)) {
	p.Case.Switch = plan.DCAndAC
	d := deviceOf24h(plan.RouteAC, 80)
	d.Hours = []plan.Window{{FromH: 20, ToH: 21}}
	edit(&d)
	p.Gear = append(p.Gear, d)
}

// Each notice of chargers, inverter and wave is raised by the change and not
// by the near miss.
func TestNoticesOfChargersAndInverterAndNearMisses(t *testing.T) {
	vehicle := func(p *plan.Plan, amps, fuse float64) {
		p.Case.Vehicle = &plan.VehicleCharger{CurrentA: amps, EfficiencyPct: 90, SocketA: fuse}
		p.Trip.EngineHours = []plan.Window{{FromH: 9, ToH: 10}}
	}
	wall := func(p *plan.Plan, volts, from, to float64) {
		p.Trip.WallHours, p.Trip.WallV = []plan.Window{{FromH: 9, ToH: 10}}, volts
		p.Case.WallCharger.InputMinV, p.Case.WallCharger.InputMaxV = from, to
	}
	generator := func(p *plan.Plan, watts float64) {
		p.Trip.GeneratorHours, p.Trip.GeneratorW = []plan.Window{{FromH: 9, ToH: 10}}, watts
	}
	wave := func(s plan.Sensitivity, w plan.Wave, route plan.Route) func(*plan.Plan) {
		return func(p *plan.Plan) {
			p.Case.Inverter.Wave = w
			onACOf80(p, func(d *plan.Device) { d.Sensitivity, d.Route = s, route })
		}
	}
	raises := func(s plan.Sensitivity) func(*plan.Plan) { return wave(s, plan.ModifiedSine, plan.RouteAC) }
	sine := func(s plan.Sensitivity) func(*plan.Plan) { return wave(s, plan.PureSine, plan.RouteAC) }
	for _, c := range []struct {
		code       notice.Code
		grade      notice.Grade
		edit, miss func(*plan.Plan)
	}{
		// 9.5 A at 14.4 V and 90 % are 152 W: 11.7 A at the socket's 13 V.
		{notice.SocketFuse, notice.Warning, func(p *plan.Plan) { vehicle(p, 9.5, 11) }, func(p *plan.Plan) { vehicle(p, 9.5, 12) }},
		{notice.SocketFuse, notice.Warning, func(p *plan.Plan) { vehicle(p, 30, 20) }, func(p *plan.Plan) { vehicle(p, 30, 0) }},
		{notice.SocketFuse, notice.Warning, func(p *plan.Plan) { vehicle(p, 30, 20) }, func(p *plan.Plan) { vehicle(p, 30, 20); p.Trip.EngineHours = nil }},
		{notice.WallTooHigh, notice.Danger, func(p *plan.Plan) { wall(p, 230, 100, 127) }, func(p *plan.Plan) { wall(p, 127, 100, 127) }},
		{notice.WallTooHigh, notice.Danger, func(p *plan.Plan) { wall(p, 230, 100, 127) }, func(p *plan.Plan) { wall(p, 230, 100, 127); p.Trip.WallHours = nil }},
		{notice.WallTooLow, notice.Advice, func(p *plan.Plan) { wall(p, 120, 200, 240) }, func(p *plan.Plan) { wall(p, 230, 200, 240) }},
		{notice.WallTooLow, notice.Advice, func(p *plan.Plan) { wall(p, 120, 200, 240) }, func(p *plan.Plan) { wall(p, 0, 200, 240) }},
		// 10 A at 14.4 V and 88 % are 164 W: a generator of 205 W.
		{notice.GeneratorSmall, notice.Advice, func(p *plan.Plan) { generator(p, 200) }, func(p *plan.Plan) { generator(p, 210) }},
		{notice.GeneratorSmall, notice.Advice, func(p *plan.Plan) { generator(p, 200) }, func(p *plan.Plan) { generator(p, 0) }},
		{notice.EngineExhaust, notice.Warning, func(p *plan.Plan) { generator(p, 900) }, func(p *plan.Plan) { generator(p, 900); p.Case.WallCharger.CurrentA = 0 }},
		{notice.EngineExhaust, notice.Warning, func(p *plan.Plan) { vehicle(p, 5, 10) }, func(p *plan.Plan) { vehicle(p, 5, 10); p.Trip.EngineHours = nil }},
		{notice.InverterLow, notice.Advice, func(p *plan.Plan) {
			p.Case.Inverter.LowCutoffV, p.Case.Inverter.LowReconnectV = 13, 13.2
			onACOf80(p, func(*plan.Device) {})
		}, func(p *plan.Plan) {
			p.Case.Inverter.LowCutoffV, p.Case.Inverter.LowReconnectV = 12.5, 13.2
			onACOf80(p, func(*plan.Device) {})
		}},
		{notice.InverterAsleep, notice.Advice, func(p *plan.Plan) {
			p.Case.Inverter.SleepA, p.Case.Inverter.WakeW = ptr(0.05), 81
			onACOf80(p, func(*plan.Device) {})
		}, func(p *plan.Plan) {
			p.Case.Inverter.SleepA, p.Case.Inverter.WakeW = ptr(0.05), 80
			onACOf80(p, func(*plan.Device) {})
		}},
		// 80 W at a power factor of 0.26 are 308 VA, of 0.27 296 VA; rated 300.
		{notice.InverterVA, notice.Advice, func(p *plan.Plan) { onACOf80(p, func(d *plan.Device) { d.PowerFactor = 0.26 }) },
			func(p *plan.Plan) { onACOf80(p, func(d *plan.Device) { d.PowerFactor = 0.27 }) }},
		{notice.InverterTrips, notice.Advice, func(p *plan.Plan) { onACOf80(p, func(d *plan.Device) { d.PowerW = ptr(310) }) },
			func(p *plan.Plan) { onACOf80(p, func(d *plan.Device) { d.PowerFactor = 0.26 }) }},
		{notice.SurgeTooLong, notice.Advice, func(p *plan.Plan) {
			p.Case.Inverter.SurgeS = 1
			onACOf80(p, func(d *plan.Device) { d.SurgeW, d.SurgeS = 500, 1.5 })
		}, func(p *plan.Plan) {
			p.Case.Inverter.SurgeS = 1.5
			onACOf80(p, func(d *plan.Device) { d.SurgeW, d.SurgeS = 500, 1.5 })
		}},
		{notice.SurgeTooLong, notice.Advice, func(p *plan.Plan) { onACOf80(p, func(d *plan.Device) { d.SurgeW, d.SurgeS = 500, 1.5 }) },
			func(p *plan.Plan) { onACOf80(p, func(d *plan.Device) { d.SurgeW, d.SurgeS = 300, 1.5 }) }}, // no more than it gives for ever
		{notice.SurgeTooLong, notice.Advice, func(p *plan.Plan) { onACOf80(p, func(d *plan.Device) { d.SurgeW, d.SurgeS = 500, 1.5 }) },
			func(p *plan.Plan) { onACOf80(p, func(d *plan.Device) { d.SurgeW, d.SurgeS = 601, 1.5 }) }}, // too much for a moment, too
		{notice.WaveMotor, notice.Advice, raises(plan.SensitivityUniversalMotor), sine(plan.SensitivityUniversalMotor)},
		{notice.WaveHum, notice.Warning, raises(plan.SensitivityInductionMotor), sine(plan.SensitivityInductionMotor)},
		{notice.WaveClock, notice.Caution, raises(plan.SensitivityClock), sine(plan.SensitivityClock)},
		{notice.WaveCharger, notice.Warning, raises(plan.SensitivityCharger), sine(plan.SensitivityCharger)},
		{notice.WaveAudio, notice.Advice, raises(plan.SensitivityAudio), sine(plan.SensitivityAudio)},
		{notice.WaveAudio, notice.Advice, raises(plan.SensitivityAudio), wave(plan.SensitivityAudio, plan.ModifiedSine, plan.RouteDC)},
		{notice.WaveMedical, notice.Warning, raises(plan.SensitivityMedical), sine(plan.SensitivityMedical)},
		{notice.MedicalGear, notice.Warning, sine(plan.SensitivityMedical), raises(plan.SensitivityMedical)},
		{notice.MedicalGear, notice.Warning, wave(plan.SensitivityMedical, plan.PureSine, plan.RouteUSB), func(p *plan.Plan) {
			wave(plan.SensitivityMedical, plan.PureSine, plan.RouteUSB)(p)
			p.Gear[1].LifeSupport = true // which says the same
		}},
		{notice.PanelOverVolts, notice.Danger, func(p *plan.Plan) { p.Panels.Joined, p.Panels.List[0].Count = plan.EndToEnd, 3 }, func(*plan.Plan) {}},
		// Blocking diodes take nothing off while nothing flows: 23.3 V at 8 °C.
		{notice.PanelOverVolts, notice.Danger, func(p *plan.Plan) { p.Case.Controller.InputMaxV, p.Panels.BlockingV = 23, 1 },
			func(p *plan.Plan) { p.Case.Controller.InputMaxV, p.Panels.BlockingV = 23.6, 1 }},
		// A panel of 15.2 V on a PWM controller that needs 14.8 V.
		{notice.PanelTooLow, notice.Advice, func(p *plan.Plan) { lowPanel(p); p.Panels.BlockingV = 0.6 }, func(p *plan.Plan) { lowPanel(p); p.Panels.BlockingV = 0.2 }},
		{notice.PanelTooLow, notice.Advice, func(p *plan.Plan) { lowPanel(p); p.Panels.BlockingV, p.Panels.CableM = 0.6, 100 }, func(p *plan.Plan) { lowPanel(p); p.Panels.CableM = 100 }},
		// A panel of 36 cells shows about 22 V.
		{notice.PanelTooLow, notice.Advice, func(p *plan.Plan) { p.Case.Controller.StartV = 24 }, func(p *plan.Plan) { p.Case.Controller.StartV = 20 }},
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

// lowPanel is a panel of 30 cells on a PWM controller.
func lowPanel(p *plan.Plan) {
	p.Case.Controller.Kind = plan.PWM
	p.Panels.List[0].RatedW, p.Panels.List[0].Datasheet = 84, &plan.Datasheet{IscA: 5.95, VocV: 18.4, ImpA: 5.53, VmpV: 15.2,
		AlphaIscPctPerK: 0.05, BetaVocPctPerK: -0.35, Cells: 30}
}

// Gear that says nothing of its kind, and heaters, have no remark on any wave.
func TestUnsaidAndResistiveHaveNoRemark(t *testing.T) {
	for _, s := range []plan.Sensitivity{plan.SensitivityUnsaid, plan.SensitivityResistive} {
		p := bench()
		onACOf80(&p, func(d *plan.Device) { d.Sensitivity = s })
		before := mustRun(t, p)
		p.Case.Inverter.Wave, p.Case.Inverter.PulseDeg = plan.ModifiedSine, 90
		after := mustRun(t, p)
		if len(after.Notices) != len(before.Notices) || after.Ledger.Uses[1] != before.Ledger.Uses[1] {
			t.Errorf("%s: %v and %v on a sine, %v and %v on a modified one", s, before.Notices, before.Ledger.Uses, after.Notices, after.Ledger.Uses)
		}
	}
}

// The numbers of the notices, by hand.
func TestNumbersOfTheNoticesByHand(t *testing.T) {
	check := func(o *Outlook, c notice.Code, name string, want float64) {
		t.Helper()
		if got, ok := number(o, c, name); !ok || math.Abs(got-want) > 1e-6*want {
			t.Errorf("%s: %s %g, want %g", c, name, got, want)
		}
	}
	p := bench()
	p.Case.Vehicle = &plan.VehicleCharger{CurrentA: 20, EfficiencyPct: 80, SocketA: 15}
	p.Trip.EngineHours, p.Trip.GeneratorHours, p.Trip.GeneratorW = []plan.Window{{FromH: 9, ToH: 10}}, []plan.Window{{FromH: 9, ToH: 10}}, 150
	o := mustRun(t, p)
	check(o, notice.SocketFuse, "amps", 20*14.4/0.8/13)
	check(o, notice.SocketFuse, "fuse", 15)
	check(o, notice.GeneratorSmall, "need", 10*14.4/0.88/0.8)
	check(o, notice.GeneratorSmall, "gives", 150)

	p = bench()
	onACOf80(&p, func(d *plan.Device) { d.PowerFactor, d.Count = 0.5, 2 })
	o = mustRun(t, p)
	check(o, notice.InverterVA, "asked", 320)
	check(o, notice.InverterVA, "limit", 300)
	check(o, notice.InverterVA, "at", 2*3600)

	p = bench()
	p.Case.Inverter.SurgeS = 0.5
	onACOf80(&p, func(d *plan.Device) { d.SurgeW, d.SurgeS = 500, 2 })
	o = mustRun(t, p)
	check(o, notice.SurgeTooLong, "asked", 2)
	check(o, notice.SurgeTooLong, "limit", 0.5)

	p = bench()
	p.Case.Inverter.Wave = plan.ModifiedSine
	onACOf80(&p, func(d *plan.Device) { d.Sensitivity = plan.SensitivityUniversalMotor })
	o = mustRun(t, p)
	check(o, notice.WaveMotor, "extra", 5)
	if got := float64(o.Ledger.Uses[1].Energy); math.Abs(got-2*80*1.05) > 1e-6 {
		t.Errorf("80 W for two hours with a twentieth more: %.4f Wh", got)
	}
}
