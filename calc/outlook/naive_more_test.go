package outlook

import (
	"runtime"
	"testing"

	"duskline/calc/plan"
)

// onceOnly leaves a test to the native run. In WebAssembly it would take
// minutes, and naive_run_test.go holds the two machines against each other.
func onceOnly(t *testing.T) {
	if runtime.GOOS == "js" {
		t.Skip("natively only")
	}
}

// Run against the naive second-by-second simulation, with what charges beside
// the sun, the stages of a charge, the controller in low light and at night,
// and the inverter's own switches.
func TestRunAgainstNaiveChargers(t *testing.T) {
	onceOnly(t)
	for _, c := range []struct {
		name string
		edit func(*plan.Plan)
		held float64
	}{
		{"vehicle, generator and wall, hours that overlap", func(p *plan.Plan) {
			p.Case.Vehicle = &plan.VehicleCharger{CurrentA: 7, EfficiencyPct: 85}
			p.Trip.EngineHours = []plan.Window{{FromH: 9.2, ToH: 11}, {FromH: 23, ToH: 0.5}}
			p.Trip.GeneratorHours, p.Trip.GeneratorW = []plan.Window{{FromH: 10, ToH: 12.4}}, 900
			p.Trip.WallHours = []plan.Window{{FromH: 11.5, ToH: 13}}
			p.Case.Battery.CapacityAh, p.Trip.StartChargePct = 150, 10
		}, 0},
		{"a vehicle that fills it up, with sun", func(p *plan.Plan) {
			p.Case.Vehicle = &plan.VehicleCharger{CurrentA: 12, EfficiencyPct: 90}
			p.Trip.EngineHours = []plan.Window{{FromH: 8, ToH: 16}}
			p.Trip.StartChargePct = 50
		}, 0.6},
		{"wall of the wrong volts, generator instead", func(p *plan.Plan) {
			p.Trip.WallHours, p.Trip.WallV, p.Case.WallCharger.InputMinV = []plan.Window{{FromH: 0, ToH: 24}}, 120, 220
			p.Trip.GeneratorHours = []plan.Window{{FromH: 4, ToH: 5}}
		}, 0.6},
		{"generator too small", func(p *plan.Plan) {
			p.Trip.GeneratorHours, p.Trip.GeneratorW = []plan.Window{{FromH: 4, ToH: 5}}, 200
		}, 0.6},
		{"controller that draws less at night and starts at 21 V", func(p *plan.Plan) {
			p.Case.Controller.StandbyA, p.Case.Controller.NightA, p.Case.Controller.StartV = 0.2, ptr(0.03), 21
			p.Case.Battery.CapacityAh, p.Trip.StartChargePct, p.Trip.StepMin = 150, 30, 5
			p.Sky.ClearSkyIndex = []float64{0.6, 0.3}
		}, 0},
		{"converter that is worse at little load, clipped", func(p *plan.Plan) {
			p.Case.Controller.EfficiencyLowPct, p.Case.Controller.LimitA = ptr(85), 5
			p.Case.Battery.CapacityAh, p.Trip.StartChargePct, p.Trip.StepMin = 150, 30, 5
		}, 0},
		{"converter that is better at little load", func(p *plan.Plan) {
			p.Case.Controller.EfficiencyPct, p.Case.Controller.EfficiencyLowPct = 93, ptr(98)
			p.Case.Battery.CapacityAh, p.Trip.StartChargePct, p.Trip.StepMin = 150, 30, 5
		}, 0},
		{"lithium rests and charges again", func(p *plan.Plan) {
			p.Case.Battery.AfterFull, p.Case.Battery.AbsorptionH, p.Case.Battery.ResumeV = plan.AfterRest, 0.25, 13
			p.Gear[0] = deviceOf24h(plan.RouteDC, 60)
			p.Trip.WallHours, p.Trip.StartChargePct = []plan.Window{{FromH: 20, ToH: 24}, {FromH: 8, ToH: 20}}, 85
			p.Case.Battery.CapacityAh, p.Trip.LengthH = 60, 12 // later rounds are late by those before them
		}, 0.6},
		{"lithium floats", func(p *plan.Plan) {
			p.Case.Battery.AfterFull, p.Case.Battery.AbsorptionH, p.Case.Battery.FloatV, p.Case.Battery.ResumeV = plan.AfterFloat, 0.5, 13.5, 13.1
			p.Gear[0] = deviceOf24h(plan.RouteDC, 25)
			p.Trip.WallHours, p.Trip.StartChargePct = []plan.Window{{FromH: 7.5, ToH: 20}}, 70
		}, 0.6},
		{"agm floats, in heat and cold", func(p *plan.Plan) {
			agm(p)
			b := &p.Case.Battery
			b.AfterFull, b.AbsorptionH, b.FloatV, b.ResumeV, b.CompensationMVPerK = plan.AfterFloat, 2, 13.5, 12.6, -24
			p.Sky.WarmestC, p.Sky.ColdestC = 42, 4
			p.Trip.WallHours, p.Trip.StartChargePct = []plan.Window{{FromH: 22, ToH: 10}}, 70
		}, 0.6},
		{"agm held, compensated, frost", func(p *plan.Plan) {
			agm(p)
			p.Case.Battery.CompensationMVPerK = -30
			p.Sky.WarmestC, p.Sky.ColdestC = -5, -28
			p.Trip.WallHours, p.Trip.StartChargePct = []plan.Window{{FromH: 22, ToH: 4}}, 90
		}, 0.6},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := bench()
			p.Trip.StepMin, p.Trip.LengthH = 1, 30
			c.edit(&p)
			againstNaive(t, p, c.held)
		})
	}
}

func TestRunAgainstNaiveInverter(t *testing.T) {
	onceOnly(t)
	for _, c := range []struct {
		name   string
		edit   func(*plan.Plan)
		second float64 // W·h of the second for which the naive inverter still carries what pulls it down
	}{
		{"a motor on a modified sine, half load, volt-amperes", func(p *plan.Plan) {
			i := &p.Case.Inverter
			i.Wave, i.EfficiencyHalfPct = plan.ModifiedSine, ptr(89.5)
			drill, fan := deviceOf24h(plan.RouteAC, 60), deviceOf24h(plan.RouteAC, 45)
			drill.Sensitivity, drill.PowerFactor, drill.Hours = plan.SensitivityUniversalMotor, 0.8, []plan.Window{{FromH: 19, ToH: 21.5}}
			fan.Sensitivity, fan.PowerFactor, fan.DutyPct = plan.SensitivityInductionMotor, 0.6, 40
			p.Gear = append(p.Gear, drill, fan)
			p.Case.Battery.CapacityAh = 200
		}, 0},
		{"asleep, awake and in between", func(p *plan.Plan) {
			i := &p.Case.Inverter
			i.SleepA, i.WakeW = ptr(0.04), 25
			pump, compressor, clock, lamp := deviceOf24h(plan.RouteAC, 60), deviceOf24h(plan.RouteAC, 90), deviceOf24h(plan.RouteAC, 4), deviceOf24h(plan.RouteAC, 30)
			pump.DutyPct, pump.Count, pump.Hours = 20, 2, []plan.Window{{FromH: 20, ToH: 4}}
			compressor.DutyPct, compressor.Hours = 35, []plan.Window{{FromH: 2, ToH: 12}}
			lamp.Hours = []plan.Window{{FromH: 18, ToH: 19.3}}
			p.Gear = append(p.Gear, pump, compressor, clock, lamp)
			p.Case.Battery.CapacityAh = 200
		}, 0},
		{"its own cut-off, back by the sun", func(p *plan.Plan) {
			i := &p.Case.Inverter
			i.LowCutoffV, i.LowReconnectV = 12.6, 13.2
			p.Gear = append(p.Gear, deviceOf24h(plan.RouteAC, 55))
			p.Trip.StartChargePct, p.Sky.WarmestC, p.Sky.ColdestC = 45, 25, 25
		}, 0},
		{"its own cut-off by sag, then the Case's", func(p *plan.Plan) {
			i := &p.Case.Inverter
			i.LowCutoffV, i.LowReconnectV = 12, 12.95
			p.Case.Battery.ResistanceMohm, p.Trip.LengthH = 60, 8
			saw, fan := deviceOf24h(plan.RouteAC, 220), deviceOf24h(plan.RouteDC, 40)
			saw.Hours, fan.Hours = []plan.Window{{FromH: 18.5, ToH: 18.7}}, []plan.Window{{FromH: 18, ToH: 18.8}, {FromH: 19.5, ToH: 4}}
			p.Gear = append(p.Gear, saw, fan)
			p.Trip.StartChargePct, p.Sky.WarmestC, p.Sky.ColdestC, p.Panels.List = 32, 25, 25, nil
		}, 0.06},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := bench()
			p.Trip.StepMin, p.Trip.LengthH, p.Case.Switch = 5, 30, plan.DCAndAC
			c.edit(&p)
			againstNaive(t, p, c.second)
		})
	}
}

func TestRunAgainstNaivePanels(t *testing.T) {
	onceOnly(t)
	for _, c := range []struct {
		name string
		edit func(*plan.Plan)
	}{
		{"a thin cable, an old panel on the ground, pwm", func(p *plan.Plan) {
			p.Case.Controller.Kind = plan.PWM
			p.Panels.CableM, p.Panels.CableGauge, p.Panels.BlockingV = 25, "1.5_mm2", 0.4
			p.Panels.List[0].AgeYears, p.Panels.List[0].Back = 12, plan.BackCovered
		}},
		{"strings of two kinds, diodes and a cable", func(p *plan.Plan) {
			p.Case.Controller.InputMaxV = 120
			p.Panels.Joined, p.Panels.CableM, p.Panels.BlockingV = plan.InStrings, 10, 0.5
			l := p.Panels.List[0]
			l.RatedW, l.Count, l.String = 40, 2, 1
			east := plan.Panel{Name: "East", Lie: plan.LieFixed, AimsPerDay: 1, Count: 2, RatedW: 50, TiltDeg: 40, AzimuthDeg: 100, String: 2, Technology: plan.ThinFilm, Back: plan.BackFree}
			p.Panels.List = []plan.Panel{l, east}
		}},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := bench()
			p.Trip.StepMin, p.Trip.LengthH, p.Trip.StartChargePct, p.Case.Battery.CapacityAh = 5, 30, 30, 150
			c.edit(&p)
			againstNaive(t, p, 0)
		})
	}
}
