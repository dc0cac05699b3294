package outlook

import (
	"math"
	"testing"
	"time"

	"duskline/calc/notice"
	"duskline/calc/plan"
)

// Every one of these is a Plan that a person may well enter. None may crash,
// and each says what is the matter.
func TestTheBadDay(t *testing.T) {
	zone := time.FixedZone("", 0)
	for _, c := range []struct {
		name  string
		edit  func(*plan.Plan)
		check func(*testing.T, plan.Plan, *Outlook)
	}{
		{"polar night", func(p *plan.Plan) {
			p.Sky.LatitudeDeg, p.Sky.WarmestC, p.Sky.ColdestC = 80, -5, -15
			p.Trip.Start = time.Date(2026, 12, 20, 12, 0, 0, 0, zone)
		}, func(t *testing.T, p plan.Plan, o *Outlook) {
			wantNotice(t, o, notice.PolarNight, true)
			if got := o.Ledger.Sources[0].Energy; got != 0 {
				t.Errorf("%g Wh of sun in the polar night", got)
			}
			if o.Days[0].State != PolarNight || !o.Days[0].Rise.IsZero() {
				t.Errorf("the day is %+v", o.Days[0])
			}
		}},
		{"polar day", func(p *plan.Plan) {
			p.Sky.LatitudeDeg = 80
			p.Trip.Start = time.Date(2026, 6, 20, 12, 0, 0, 0, zone)
		}, func(t *testing.T, p plan.Plan, o *Outlook) {
			wantNotice(t, o, notice.PolarDay, true)
			for i, l := range o.Series.Light {
				if l <= 0 {
					t.Fatalf("row %d is dark under the midnight sun", i)
				}
			}
		}},
		{"the pole itself", func(p *plan.Plan) {
			p.Sky.LatitudeDeg = -90
			p.Trip.Start = time.Date(2026, 12, 20, 12, 0, 0, 0, zone)
		}, func(*testing.T, plan.Plan, *Outlook) {}},
		{"no panels", func(p *plan.Plan) { p.Panels.List = []plan.Panel{} }, func(t *testing.T, p plan.Plan, o *Outlook) {
			wantNotice(t, o, notice.NoPanels, true)
			if o.Series.Charge[len(o.Series.Charge)-1] >= o.Series.Charge[0] {
				t.Error("charge rose without panels")
			}
		}},
		{"no gear", func(p *plan.Plan) { p.Gear, p.Trip.StartChargePct = []plan.Device{}, 100 }, func(t *testing.T, p plan.Plan, o *Outlook) {
			wantNotice(t, o, notice.NoGear, true)
			wantNotice(t, o, notice.FullEarly, false) // nothing to run: no sun is lost on anybody
		}},
		{"nothing draws at all", func(p *plan.Plan) {
			p.Gear, p.Panels.List = nil, nil
			p.Case.DC.StandbyA, p.Case.USB.StandbyA, p.Case.Meters.StandbyA, p.Case.Controller.StandbyA = 0, 0, 0, 0
		}, func(t *testing.T, p plan.Plan, o *Outlook) {
			if !o.Figures.NoSunEndless || o.Figures.NoSun != NoSunLimit {
				t.Errorf("without a draw the battery lasts %v", o.Figures.NoSun)
			}
		}},
		{"starts empty", func(p *plan.Plan) { p.Trip.StartChargePct = 0 }, func(t *testing.T, p plan.Plan, o *Outlook) {
			wantNotice(t, o, notice.StartsEmpty, true)
			if count(o, CutOff) == 0 || o.Verdict != RunsOut {
				t.Errorf("an empty battery in the evening: %s, events %v", o.Verdict, o.Events)
			}
			if count(o, Reconnect) == 0 {
				t.Error("the next day's sun does not bring the outlets back")
			}
		}},
		{"thirty days", func(p *plan.Plan) { p.Trip.LengthH = 720 }, func(t *testing.T, p plan.Plan, o *Outlook) {
			if len(o.Series.Charge) != 8641 || len(o.Days) != 31 {
				t.Errorf("%d rows and %d days, want 8641 and 31", len(o.Series.Charge), len(o.Days))
			}
		}},
		{"a device of 0 W", func(p *plan.Plan) { p.Gear[0].PowerW = ptr(0) }, func(t *testing.T, p plan.Plan, o *Outlook) {
			if len(o.Figures.Unserved) > 0 {
				t.Error("a device that asks for nothing goes short")
			}
		}},
		{"a battery of 1 Ah", func(p *plan.Plan) {
			p.Case.Battery.CapacityAh, p.Case.Battery.ResistanceMohm = 1, 100
			p.Gear[0].PowerW = ptr(60)
		}, func(t *testing.T, p plan.Plan, o *Outlook) {
			if o.Verdict != RunsOut || count(o, CutOff) == 0 {
				t.Errorf("60 W from 1 Ah: %s", o.Verdict)
			}
		}},
		{"more than the inverter gives", func(p *plan.Plan) {
			p.Case.Switch = plan.DCAndAC
			kettle := deviceOf24h(plan.RouteAC, 1000)
			kettle.Hours = []plan.Window{{FromH: 20, ToH: 21}}
			p.Gear = append(p.Gear, kettle)
		}, func(t *testing.T, p plan.Plan, o *Outlook) {
			wantNotice(t, o, notice.InverterTrips, true)
			if count(o, Overload) != 2 || count(o, OverloadOver) != 2 {
				t.Errorf("two evenings trip the inverter %d times, it comes back %d times", count(o, Overload), count(o, OverloadOver))
			}
			if len(o.Figures.Unserved) != 1 || o.Figures.Unserved[0] != 1 || o.Verdict == Holds {
				t.Errorf("unserved %v, verdict %s", o.Figures.Unserved, o.Verdict)
			}
			if used := o.Ledger.Uses[1].Energy; used != 0 {
				t.Errorf("the kettle got %g Wh from a tripped inverter", used)
			}
		}},
		{"a start that the inverter cannot lift", func(p *plan.Plan) {
			p.Case.Switch = plan.DCAndAC
			pump := deviceOf24h(plan.RouteAC, 100)
			pump.SurgeW = 900
			p.Gear = append(p.Gear, pump)
		}, func(t *testing.T, p plan.Plan, o *Outlook) {
			wantNotice(t, o, notice.InverterTrips, true)
		}},
		{"sags under the cut-off when full", func(p *plan.Plan) {
			p.Trip.StartChargePct = 100
			p.Case.Battery.ResistanceMohm = 200
			p.Case.DC.EfficiencyPct = 100
			p.Gear = []plan.Device{deviceOf24h(plan.RouteDC, 180)}
		}, func(t *testing.T, p plan.Plan, o *Outlook) {
			wantNotice(t, o, notice.SagCutOff, true)
			if count(o, CutOff) == 0 || o.Events[0].Charge < 0.9 {
				t.Errorf("180 W through 200 mΩ should shut off at once: %v", o.Events[0])
			}
		}},
		{"far beyond what the battery can give", func(p *plan.Plan) {
			p.Case.Battery.ResistanceMohm = 500
			p.Gear = []plan.Device{deviceOf24h(plan.RouteDC, 5000)}
		}, func(t *testing.T, p plan.Plan, o *Outlook) {
			if o.Verdict != RunsOut {
				t.Errorf("verdict %s", o.Verdict)
			}
		}},
		{"frost", func(p *plan.Plan) { p.Sky.WarmestC, p.Sky.ColdestC = -2, -12 }, func(t *testing.T, p plan.Plan, o *Outlook) {
			wantNotice(t, o, notice.ColdCharge, true)
			if count(o, ColdRefused) == 0 {
				t.Error("no charge was refused in the frost")
			}
			if last := o.Series.Charge[len(o.Series.Charge)-1]; last > o.Series.Charge[0] {
				t.Errorf("charge rose to %g in the frost", last)
			}
		}},
		{"the switch leaves a socket dead", func(p *plan.Plan) { p.Gear = append(p.Gear, deviceOf24h(plan.RouteAC, 20)) },
			func(t *testing.T, p plan.Plan, o *Outlook) {
				wantNotice(t, o, notice.NoPower, true)
				if o.Verdict != Tight {
					t.Errorf("verdict %s, want tight: the battery is fine, a device is dark", o.Verdict)
				}
			}},
		{"no inverter at all", func(p *plan.Plan) {
			p.Case.Inverter.RatedW, p.Case.Inverter.SurgeW, p.Case.Switch = 0, 0, plan.ACOnly
		}, func(t *testing.T, p plan.Plan, o *Outlook) {
			wantNotice(t, o, notice.NoPower, true) // the lantern hangs on USB
		}},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := bench()
			c.edit(&p)
			c.check(t, p, mustRun(t, p))
		})
	}
}

func wantNotice(t *testing.T, o *Outlook, c notice.Code, want bool) {
	t.Helper()
	if has(o, c) != want {
		t.Errorf("notice %s: %v, want %v; all: %v", c, has(o, c), want, o.Notices)
	}
}

// Each notice is raised by the change and not by the near miss.
func TestNoticesAndNearMisses(t *testing.T) {
	for _, c := range []struct {
		code       notice.Code
		edit, miss func(*plan.Plan)
	}{
		{notice.LifeSupport, func(p *plan.Plan) { p.Gear[0].LifeSupport = true }, func(*plan.Plan) {}},
		{notice.PanelOverPWM, func(p *plan.Plan) { p.Case.Controller.Kind, p.Panels.List[0].RatedW = plan.PWM, 220 },
			func(p *plan.Plan) { p.Case.Controller.Kind, p.Panels.List[0].RatedW = plan.PWM, 180 }},
		{notice.PanelOverVolts, func(p *plan.Plan) {
			p.Case.Controller.InputMaxV, p.Panels.Joined, p.Panels.List[0].Count, p.Sky.ColdestC = 50, plan.EndToEnd, 2, -20
		}, func(p *plan.Plan) {
			p.Case.Controller.InputMaxV, p.Panels.Joined, p.Panels.List[0].Count, p.Sky.ColdestC = 53, plan.EndToEnd, 2, -20
		}},
		{notice.PanelTooLow, func(p *plan.Plan) {
			p.Panels.List[0].RatedW, p.Panels.List[0].Datasheet = 50, &plan.Datasheet{IscA: 5.95, VocV: 11, ImpA: 5.5556, VmpV: 9,
				AlphaIscPctPerK: 0.05, BetaVocPctPerK: -0.35, Cells: 18}
		}, func(*plan.Plan) {}},
		{notice.SunClipped, func(p *plan.Plan) {
			p.Case.Controller.LimitA, p.Panels.List[0].RatedW, p.Trip.StartChargePct, p.Case.Battery.CapacityAh = 5, 200, 20, 200
		}, func(p *plan.Plan) { p.Trip.StartChargePct, p.Case.Battery.CapacityAh = 20, 200 }},
		{notice.FullEarly, func(p *plan.Plan) { p.Trip.StartChargePct = 100 },
			func(p *plan.Plan) { p.Trip.StartChargePct, p.Case.Battery.CapacityAh = 20, 200 }},
		{notice.IdleInverter, func(p *plan.Plan) { p.Case.Switch = plan.DCAndAC },
			func(p *plan.Plan) {
				p.Case.Switch, p.Case.InverterHours = plan.DCAndAC, []plan.Window{{FromH: 20, ToH: 20.25}}
				p.Gear[0].PowerW = ptr(30)
			}},
		{notice.MainsVolts, func(p *plan.Plan) { p.Case.Switch = plan.DCAndAC }, func(*plan.Plan) {}},
		{notice.HighCurrent, func(p *plan.Plan) {
			p.Case.Battery.CapacityAh, p.Case.Battery.ResistanceMohm = 300, 3
			p.Gear = []plan.Device{deviceOf24h(plan.RouteDC, 700)}
		}, func(p *plan.Plan) {
			p.Case.Battery.CapacityAh, p.Case.Battery.ResistanceMohm = 300, 3
			p.Gear = []plan.Device{deviceOf24h(plan.RouteDC, 500)}
		}},
		{notice.InsideReserve, func(p *plan.Plan) { p.Trip.ReservePct = 85 }, func(p *plan.Plan) { p.Trip.ReservePct = 50 }},
		{notice.ColdNear, func(p *plan.Plan) { p.Sky.ColdestC = 2 }, func(p *plan.Plan) { p.Sky.ColdestC = 3.2 }},
		{notice.DeepDischarge, func(p *plan.Plan) { agm(p); p.Gear[0].PowerW = ptr(60); p.Panels.List = nil },
			func(p *plan.Plan) { agm(p) }},
		{notice.RechargeWithin, func(p *plan.Plan) { p.Trip.StartChargePct, p.Panels.List = 18, nil },
			func(p *plan.Plan) { p.Trip.StartChargePct, p.Panels.List = 40, nil }},
		{notice.AlarmInTrip, func(p *plan.Plan) {
			p.Gear, p.Panels.List, p.Case.Battery.AlarmV = []plan.Device{deviceOf24h(plan.RouteDC, 40)}, nil, 12.7
		}, func(p *plan.Plan) { // 12 V under the same load are minutes from the cut-off
			p.Gear, p.Panels.List = []plan.Device{deviceOf24h(plan.RouteDC, 40)}, nil
		}},
		{notice.LateAlarm, func(p *plan.Plan) { p.Gear = []plan.Device{deviceOf24h(plan.RouteDC, 60)}; p.Panels.List = nil },
			func(*plan.Plan) {}},
		{notice.CutOffInTrip, func(p *plan.Plan) { p.Gear = []plan.Device{deviceOf24h(plan.RouteDC, 60)}; p.Panels.List = nil },
			func(*plan.Plan) {}},
	} {
		t.Run(string(c.code), func(t *testing.T) {
			p := bench()
			c.edit(&p)
			wantNotice(t, mustRun(t, p), c.code, true)
			p = bench()
			c.miss(&p)
			wantNotice(t, mustRun(t, p), c.code, false)
		})
	}
}

// agm puts a lead-acid battery into the bench case.
func agm(p *plan.Plan) {
	b := &p.Case.Battery
	b.Chemistry, b.ChargeV, b.AlarmV, b.CutoffV, b.ReconnectV = plan.AGM, 14.4, 11.6, 11, 12.5
}

// A small, worn battery in the polar cold has more than ten ohms: it cannot
// even carry its Case. The electronics are off until it warms up, and nothing
// is booked that does not flow.
func TestTooColdForTheCaseItself(t *testing.T) {
	p := bench()
	p.Gear, p.Panels.List = nil, nil
	p.Case.Battery.ResistanceMohm, p.Case.Controller.StandbyA = 500, 0.5
	p.Sky.WarmestC, p.Sky.ColdestC = 21, -50
	p.Trip.LengthH, p.Trip.StartChargePct = 72, 50
	o := mustRun(t, p)
	s := &o.Series
	faint, works := 0, 0
	for i := 1; i < len(s.Charge); i++ {
		switch {
		case s.AmpsOut[i] == 0 && math.Abs(float64(s.Charge[i]-s.Charge[i-1])) < 1e-5 && s.Charge[i] > 0.05: // self-discharge alone
			faint++
			if s.Air[i] > -30 {
				t.Fatalf("row %d: off at %.1f °C", i, s.Air[i])
			}
		case s.AmpsOut[i] > 0.4:
			works++
		}
	}
	if faint == 0 || works == 0 {
		t.Errorf("%d rows without power, %d with", faint, works)
	}
}
