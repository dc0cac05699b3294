package outlook

import (
	"math"
	"testing"
	"time"

	"duskline/calc/golden"
	"duskline/calc/plan"
	"duskline/calc/qty"
	"duskline/calc/sun"
)

func mustIdle(t testing.TB, p plan.Plan) []Position {
	t.Helper()
	p = neutral(p)
	if faults := plan.Check(p); len(faults) > 0 {
		t.Fatalf("the plan of this test is faulty: %v", faults)
	}
	list, err := Idle(p)
	if err != nil {
		t.Fatal(err)
	}
	return list
}

// Figures: electrical.md C46: 0.1 A of DC standby, and an inverter that idles
// at 0.5 A, for a day of a 40 Ah battery. An AGM battery is empty above its
// cut-off, so that all of it counts.
func TestIdleAgainstElectricalC46(t *testing.T) {
	p := bench()
	agm(&p)
	p.Gear, p.Panels.List = nil, nil
	p.Case.Battery.CapacityAh, p.Case.Battery.CutoffV = 40, 10
	p.Case.Meters.StandbyA, p.Case.Controller.StandbyA = 0.04, 0.02
	p.Case.DC.StandbyA, p.Case.USB.StandbyA = 0.01, 0.03
	p.Case.Inverter.RatedW = 0
	dc := mustIdle(t, p)[0]
	golden.Check(t, "C46.pct01 = 6 % ± 0.01 %", 100*float64(dc.Share))
	golden.Check(t, "C46.h01 = 400 h ± 0.01 %", dc.Hours)

	model, err := neutral(p).Case.Battery.Model()
	if err != nil {
		t.Fatal(err)
	}
	v := float64(model.Energy(1) / qty.WattHour(model.Holds()))
	p.Case.Meters.StandbyA, p.Case.Controller.StandbyA = 0, 0
	p.Case.Inverter.RatedW, p.Case.Inverter.StandbyA = 300, 0.5*v/12.8 // its amps are at 12.8 V
	ac := mustIdle(t, p)[2]
	golden.Check(t, "C46.pct05 = 30 % ± 0.01 %", 100*float64(ac.Share))
	golden.Check(t, "C46.h05 = 80 h ± 0.01 %", ac.Hours)
	if ac.DC || ac.USB || !ac.AC {
		t.Errorf("AC alone energises %+v", ac)
	}
}

// What the table says a position costs is what a run of the Case with nothing
// plugged in draws: for a day in the dark, and until the cut-off.
func TestIdleIsWhatARunDraws(t *testing.T) {
	for i, at := range positions {
		for _, night := range []*float64{nil, ptr(0.002), ptr(0.3)} {
			p := bench()
			p.Gear, p.Panels.List, p.Case.Switch = nil, nil, at
			p.Case.Controller.NightA = night
			p.Case.Battery.ResistanceMohm, p.Case.Battery.CutoffDelayS = 0.5, 0
			p.Case.Battery.CutoffV, p.Case.Battery.AlarmV = 12.7, 12.701
			p.Case.Battery.SelfDischargePctMonth = ptr(0) // which the table leaves out
			p.Trip.StartChargePct, p.Trip.LengthH, p.Case.Battery.CapacityAh = 100, 600, 20
			p.Sky.WarmestC, p.Sky.ColdestC = 25, 25
			idle := mustIdle(t, p)[i]
			o := mustRun(t, p)
			if idle.Switch != at || o.Figures.FirstCutOff.IsZero() {
				t.Fatalf("%s: %+v, cut off %v", at, idle, o.Figures.FirstCutOff)
			}
			got := o.Figures.FirstCutOff.Sub(p.Trip.Start).Hours()
			if math.Abs(got/idle.Hours-1) > 0.01 {
				t.Errorf("%s: cut off after %.1f h, the table says %.1f h", at, got, idle.Hours)
			}
			p.Trip.LengthH, p.Trip.StartChargePct, p.Case.Battery.CapacityAh = 24, 40, 200
			if a := float64(mustRun(t, p).Figures.DrawADay); math.Abs(a/float64(idle.ADay)-1) > 0.015 {
				t.Errorf("%s: a run draws %.2f Wh a day, the table says %.2f Wh", at, a, idle.ADay)
			}
		}
	}
}

// Night is the trip's own: long in winter, none in the polar day, all day in
// the polar night. With the same draw by day and night it does not matter to a
// day; with less at night it does.
func TestIdleNight(t *testing.T) {
	p := bench()
	p.Case.Meters.StandbyA, p.Case.DC.StandbyA, p.Case.USB.StandbyA = 0, 0, 0
	p.Case.Controller.StandbyA, p.Case.Controller.NightA = 0.1, ptr(0.02)
	hours := func() float64 { return float64(mustIdle(t, p)[0].ANight / mustIdle(t, p)[0].AnHour) }
	aDay := func() float64 { x := mustIdle(t, p)[0]; return float64(x.ADay / x.AnHour) }
	// 14 to 16 May at 46° N: the sun is up for 14 h 48 min to 14 h 53 min.
	o := mustRun(t, p)
	up := 0.0
	for _, d := range o.Days {
		up += d.Set.Sub(d.Rise).Hours() / float64(len(o.Days))
	}
	if math.Abs(hours()-(24-up)) > 1e-3 || up < 14.7 || up > 15 {
		t.Errorf("a night of %.4f h, the sun is up for %.4f h", hours(), up)
	}
	if want := hours() + 5*(24-hours()); math.Abs(aDay()-want) > 1e-9 {
		t.Errorf("a day costs %.4f hours of night, want %.4f", aDay(), want)
	}
	p.Panels.List = nil
	if math.Abs(aDay()-24) > 1e-9 {
		t.Errorf("without panels a day costs %.4f hours of night", aDay())
	}
	p.Sky.LatitudeDeg = 78
	if hours() != 0 {
		t.Errorf("a night of %g h in the polar day", hours())
	}
	p.Sky.LatitudeDeg = -78
	if hours() != 24 {
		t.Errorf("a night of %g h in the polar night", hours())
	}
	p.Sky.LatitudeDeg, p.Trip.Start = 0, time.Date(2026, 3, 20, 0, 0, 0, 0, time.UTC)
	if h := hours(); math.Abs(h-12) > 0.15 {
		t.Errorf("a night of %.3f h at the equator", h)
	}
}

// A sleeping inverter costs its sleep; a Case that draws nothing lasts for ever.
func TestIdleAsleepAndEndless(t *testing.T) {
	p := bench()
	p.Case.Inverter.SleepA, p.Case.Inverter.WakeW = ptr(0.05), 10
	list := mustIdle(t, p)
	if got, want := float64(list[1].Watts-list[0].Watts), 0.05*12.8; math.Abs(got-want) > 1e-9 || !list[1].Asleep || list[0].Asleep {
		t.Errorf("the sleeping inverter costs %.4f W, want %.4f W", got, want)
	}
	p.Case.DC.StandbyA, p.Case.USB.StandbyA, p.Case.Meters.StandbyA, p.Case.Controller.StandbyA = 0, 0, 0, 0
	if x := mustIdle(t, p)[0]; !x.Endless || x.Hours != 0 || x.ADay != 0 {
		t.Errorf("a Case that draws nothing: %+v", x)
	}
	p.Case.Inverter.RatedW = 0
	if x := mustIdle(t, p)[2]; x.AC || !x.Endless {
		t.Errorf("AC alone without an inverter: %+v", x)
	}
}

// A day on which a polar day begins or ends has a rise or a set alone.
func TestSunUpOnTheDaysAtTheEdgeOfThePolarDay(t *testing.T) {
	midnight := time.Date(2026, 4, 18, 0, 0, 0, 0, time.UTC)
	at := func(h float64) time.Time { return midnight.Add(time.Duration(h * float64(time.Hour))) }
	for _, c := range []struct {
		day  sun.Day
		want float64
	}{
		{sun.Day{Rise: at(5), Set: at(19)}, 14},
		{sun.Day{Rise: at(1)}, 23},
		{sun.Day{Set: at(23.5)}, 23.5},
		{sun.Day{Rise: at(0.5), Set: at(25)}, 24}, // sets on the day after
		{sun.Day{State: sun.PolarDay}, 24},
		{sun.Day{State: sun.PolarNight}, 0},
	} {
		if got := sunUp(c.day, midnight); math.Abs(got-c.want) > 1e-9 {
			t.Errorf("%+v: up for %g h, want %g h", c.day, got, c.want)
		}
	}
}

func BenchmarkIdle(b *testing.B) {
	p := neutral(bench())
	p.Trip.LengthH = 7 * 24
	for b.Loop() {
		if _, err := Idle(p); err != nil {
			b.Fatal(err)
		}
	}
}
