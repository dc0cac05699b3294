package care

import (
	"math"
	"testing"
	"time"

	"duskline/calc/outlook"
	"duskline/calc/plan"
)

// Who can charge does so first; only a backup of life support goes before it.
func TestActionsCharge(t *testing.T) {
	first := func(p plan.Plan) Action { return alarmsOf(t, p).Do[0] }
	p := camp()
	p.Case.WallCharger.CurrentA = 0
	if d := first(p); d.Code != DoCharge || d.Watts != 0 || d.Minutes != 0 || d.Endless {
		t.Errorf("panels alone: %+v", d)
	}
	p.Panels.List = []plan.Panel{}
	for _, d := range alarmsOf(t, p).Do {
		if d.Code == DoCharge {
			t.Errorf("nothing to charge with: %+v", d)
		}
	}
	p.Case.Vehicle = &plan.VehicleCharger{CurrentA: 8, EfficiencyPct: 85}
	if d := first(p); d.Code != DoCharge || !d.Endless || math.Abs(float64(d.Watts)-8*12) > 8 {
		t.Errorf("a vehicle charger of 8 A: %+v", d)
	}
	p.Gear[0].LifeSupport = true
	if do := alarmsOf(t, p).Do; do[0].Code != DoBackup || do[1].Code != DoCharge {
		t.Errorf("a life first, then the charger: %+v", do)
	}
}

// A charger that is too weak for what is on gains what stepping by seconds
// says, with all still on; what is switched off then is counted without it.
func TestWeakChargerAgainstSteppingBySeconds(t *testing.T) {
	p := camp()
	p.Case.Battery.CapacityAh, p.Case.Battery.ResistanceMohm = 6, 60
	p.Case.WallCharger.CurrentA = 1
	a, h := alarmsOf(t, p), houseOf(t, p)
	s := seconds{h: h, st: h.battery.Rested(1, h.mean)}
	s.around.Air = h.mean
	d := h.usual(nil, -1)
	s.until(d, h.spec.Alarm, h.spec.AlarmDelay.Seconds(), 1e6)
	began := s.t
	d.amps -= 1
	s.outlast(d, 1e6)
	minutes := (s.t - began) / 60
	near(t, "minutes with 1 A", a.Do[0].Total, minutes, 0.5+0.03*minutes)
	near(t, "gain", a.Do[0].Minutes, a.Do[0].Total-a.FromMinutes, 1e-9)
	near(t, "gain of the first to be switched off", a.Do[1].Minutes, a.Do[1].Total-a.FromMinutes, 1e-9)
}

// What an overloaded inverter does not feed cannot be saved: the device that
// trips it is not told to be switched off, and nothing told wins no time.
func TestActionsWinTime(t *testing.T) {
	p := camp()
	p.Gear[2] = gear("welder", plan.RouteAC, 4000, plan.Window{FromH: 7, ToH: 9})
	p.Gear = append(p.Gear, gear("radio", plan.RouteDC, 1, plan.Window{FromH: 0, ToH: 24}), gear("nothing", plan.RouteDC, 0, plan.Window{FromH: 0, ToH: 24}))
	for name, p := range map[string]plan.Plan{"overload": p, "with its own cut-off": ownCut(p), "kettle": ownCut(camp())} {
		last := alarmsOf(t, p).FromMinutes
		for _, d := range alarmsOf(t, p).Do {
			switch {
			case d.Code == DoCharge:
				continue
			case d.Device >= 0 && (p.Gear[d.Device].Name == "welder" || p.Gear[d.Device].Name == "nothing"):
				t.Errorf("%s: %s draws nothing: %+v", name, p.Gear[d.Device].Name, d)
			case !(d.Watts > 0) || !d.Endless && !(d.Minutes >= noMinutes && d.Total > last):
				t.Errorf("%s: after %g minutes: %+v", name, last, d)
			}
			last = d.Total
		}
	}
}

// ownCut lets the inverter shut itself off long before the alarm.
func ownCut(p plan.Plan) plan.Plan {
	p.Case.InverterHours = []plan.Window{{FromH: 0, ToH: 24}}
	p.Case.Inverter.LowCutoffV, p.Case.Inverter.LowReconnectV = 13, 14
	return p
}

// An inverter that has shut itself off before the alarm sounds is off: what it
// fed is not told to be switched off.
func TestActionsWithoutTheInverter(t *testing.T) {
	for _, d := range alarmsOf(t, ownCut(camp())).Do {
		if d.Device == 2 || d.Code == DoDCOnly || d.Code == DoInverterOff {
			t.Errorf("%+v", d)
		}
	}
}

// By night panels are waited for, and what is switched off comes before that;
// by day they come first. Sunrise is the Outlook's own.
func TestPanelsByNight(t *testing.T) {
	p := camp()
	p.Case.WallCharger.CurrentA = 0
	p.Panels.List = p.Panels.List[:1]
	p.Panels.List[0].RatedW = 20
	seen := map[bool]int{}
	for h := range 24 {
		p.Trip.StartChargePct = 30
		p.Trip.Start = time.Date(2026, 6, 12, h, 0, 0, 0, time.FixedZone("", 7200))
		o, err := outlook.Run(sound(t, p))
		if err != nil {
			t.Fatal(err)
		}
		at := o.Figures.FirstAlarm
		if at.IsZero() {
			continue
		}
		a := alarmsOf(t, p)
		before := len(a.Do)
		a.InTrip(o)
		var sunrise time.Time
		dark := true
		for _, d := range o.Days {
			if d.Rise.After(at) && sunrise.IsZero() {
				sunrise = d.Rise
			}
			dark = dark && !(at.After(d.Rise.Add(5*time.Minute)) && at.Before(d.Set.Add(-5*time.Minute)))
		}
		last := a.Do[len(a.Do)-1]
		seen[dark]++
		switch {
		case len(a.Do) != before:
			t.Errorf("%d things to do, were %d", len(a.Do), before)
		case !dark:
			if a.Do[0].Code != DoCharge {
				t.Errorf("alarm at %s, by day: %+v", at, a.Do)
			}
		case last.Code != DoAwaitSun || last.Total != a.Do[len(a.Do)-2].Total || a.Do[0].Code == DoCharge:
			t.Errorf("alarm at %s, by night: %+v", at, a.Do)
		default:
			near(t, "minutes to sunrise", last.Dark, sunrise.Sub(at).Minutes(), 1e-6)
		}
	}
	if seen[true] < 3 || seen[false] < 3 {
		t.Errorf("alarms by night and by day: %v", seen)
	}

	// With a charger nobody waits for the sun; without an alarm nobody knows.
	p.Case.WallCharger.CurrentA = 5
	a := alarmsOf(t, p)
	o, err := outlook.Run(p)
	if err != nil {
		t.Fatal(err)
	}
	if a.InTrip(o); a.Do[0].Code != DoCharge || a.Do[len(a.Do)-1].Code == DoAwaitSun {
		t.Errorf("with a wall charger: %+v", a.Do)
	}
	p.Case.WallCharger.CurrentA, o.Figures.FirstAlarm = 0, time.Time{}
	if a = alarmsOf(t, p); true {
		if a.InTrip(o); a.Do[0].Code != DoCharge {
			t.Errorf("without an alarm: %+v", a.Do)
		}
	}
}

// After the last sunrise of a trip the next one is a day after it; where there
// is none, the time has a bound.
func TestDarkFrom(t *testing.T) {
	rise := time.Date(2026, 6, 12, 5, 0, 0, 0, time.UTC)
	o := &outlook.Outlook{Days: []outlook.Day{{Rise: rise}, {Rise: rise.Add(24 * time.Hour)}}}
	for at, want := range map[time.Duration]time.Duration{
		-2 * time.Hour: 2 * time.Hour, 18 * time.Hour: 6 * time.Hour, 30 * time.Hour: 18 * time.Hour, 54 * time.Hour: 18 * time.Hour,
	} {
		if got := darkFrom(o, rise.Add(at)); got != want {
			t.Errorf("%s after sunrise: %s, want %s", at, got, want)
		}
	}
	if got := darkFrom(&outlook.Outlook{Days: make([]outlook.Day, 2)}, rise); got != outlook.NoSunLimit {
		t.Errorf("polar night: %s", got)
	}
}
