package outlook

import (
	"math"
	"slices"
	"testing"

	"duskline/calc/notice"
	"duskline/calc/plan"
	"duskline/calc/qty"
)

// acBench is the bench case in the dark with its inverter on and a device on AC.
func acBench(watts float64, edit func(*plan.Plan)) plan.Plan {
	p := bench()
	p.Panels.List, p.Case.Switch, p.Trip.LengthH = nil, plan.DCAndAC, 12
	p.Sky.WarmestC, p.Sky.ColdestC = 25, 25
	p.Gear = []plan.Device{deviceOf24h(plan.RouteAC, watts), deviceOf24h(plan.RouteDC, 5)}
	edit(&p)
	return p
}

// The inverter shuts itself off at its volts, the instant they are reached, at
// any step; what hangs on DC goes on.
func TestInverterLowCutOffAtItsVolts(t *testing.T) {
	var first float64
	for _, step := range []int{1, 5, 15} {
		p := acBench(60, func(p *plan.Plan) {
			p.Trip.StepMin, p.Trip.StartChargePct = step, 60
			p.Case.Inverter.LowCutoffV, p.Case.Inverter.LowReconnectV = 12.7, 14
		})
		o := mustRun(t, p)
		lows := eventsOf(o, InverterLow)
		if len(lows) != 1 || count(o, InverterBack) != 0 || count(o, CutOff) != 0 {
			t.Fatalf("steps of %d min: %v", step, kinds(o))
		}
		if math.Abs(float64(lows[0].Volts)-12.7) > 1e-3 {
			t.Errorf("off at %.4f V", lows[0].Volts)
		}
		at := seconds(p, lows[0])
		if first == 0 {
			first = at
		}
		// Resistance and warmth of a part are those of its start; on LiFePO4's
		// plateau 0.1 mV is some seconds: 0.03 % of the time.
		if math.Abs(at-first) > 4 {
			t.Errorf("steps of %d min: off at %.2f s, of a minute %.2f s", step, at, first)
		}
		if got, want := float64(o.Ledger.Uses[0].Energy), 60*at/3600; math.Abs(got-want) > 1e-3 {
			t.Errorf("60 W up to there are %.3f Wh, got %.3f Wh", want, got)
		}
		if got := float64(o.Ledger.Uses[1].Energy); math.Abs(got-60) > 1e-6 {
			t.Errorf("5 W on DC for 12 h: %.3f Wh", got)
		}
		wantNotice(t, o, notice.InverterLow, true)
		wantNotice(t, o, notice.NoPower, false) // which speaks of the switch
		if o.Verdict != Tight || !slices.Equal(o.Figures.Unserved, []int{0}) {
			t.Errorf("%s, unserved %v", o.Verdict, o.Figures.Unserved)
		}
	}
}

// Whether it is 9 V or none makes no difference to a battery that never gets
// there.
func TestInverterLowCutOffOutOfReach(t *testing.T) {
	p := acBench(40, func(*plan.Plan) {})
	plain := mustRun(t, p)
	p.Case.Inverter.LowCutoffV, p.Case.Inverter.LowReconnectV = 9, 9.5
	o := mustRun(t, p)
	sameSeries(t, plain, o, 0)
	if len(o.Events) != len(plain.Events) {
		t.Errorf("events %v, without %v", kinds(o), kinds(plain))
	}
}

// A load that the volts cannot carry makes it come back once a minute at most,
// told as one row.
func TestInverterLowCutOffOverAndOver(t *testing.T) {
	p := acBench(250, func(p *plan.Plan) {
		p.Case.Battery.ResistanceMohm, p.Trip.LengthH = 100, 6
		p.Case.Inverter.LowCutoffV, p.Case.Inverter.LowReconnectV = 12, 12.5
	})
	o := mustRun(t, p)
	if n := count(o, InverterLow); n != 360 {
		t.Errorf("%d times in 360 minutes", n)
	}
	if len(o.Events) > 4 {
		t.Errorf("told as %d events", len(o.Events))
	}
	if got := float64(o.Ledger.Uses[0].Energy); got != 0 {
		t.Errorf("it carries %g Wh", got)
	}
}

// Somebody who switches it off and on again, as its hours do, has it back
// whatever its volts; what they are then decides anew.
func TestInverterLowCutOffEndsWithItsHours(t *testing.T) {
	p := acBench(60, func(p *plan.Plan) {
		p.Trip.StartChargePct = 60
		p.Case.Inverter.LowCutoffV, p.Case.Inverter.LowReconnectV = 12.7, 14
		p.Case.InverterHours = []plan.Window{{FromH: 18, ToH: 1}, {FromH: 2, ToH: 24}}
		p.Gear[0].Hours = []plan.Window{{FromH: 18, ToH: 4}}
		p.Gear[0].PowerW = ptr(200)
	})
	o := mustRun(t, p)
	lows := eventsOf(o, InverterLow)
	if len(lows) != 2 || count(o, InverterBack) != 0 {
		t.Fatalf("events %v", kinds(o))
	}
	if at, _ := number(o, notice.InverterLow, "at"); math.Abs(at-seconds(p, lows[0])) > 1e-6 {
		t.Errorf("the notice tells of %g s, the first time is at %g s", at, seconds(p, lows[0]))
	}
	if at := seconds(p, lows[1]); at < 8*3600 || at > 8*3600+60 { // the slow part of the sag takes its minute
		t.Errorf("switched on at 2 with the load on it, off again after %.1f s", at-8*3600)
	}
}

// The Case's own cut-off takes the inverter with it; when power is back, so is
// the inverter.
func TestInverterLowThenTheCase(t *testing.T) {
	p := acBench(60, func(p *plan.Plan) {
		p.Trip.StartChargePct, p.Trip.LengthH = 20, 24
		p.Case.Inverter.LowCutoffV, p.Case.Inverter.LowReconnectV = 12.5, 14.4
		p.Case.Battery.CapacityAh, p.Case.Battery.AlarmV = 10, 11.5
		p.Case.Battery.ReconnectV = 12.6
		p.Trip.WallHours = []plan.Window{{FromH: 10, ToH: 12}}
		p.Gear[1].PowerW = ptr(20)
	})
	o := mustRun(t, p)
	want := []EventKind{InverterLow, AlarmOn, CutOff}
	if got := kinds(o); len(got) < 5 || !slices.Equal(got[:3], want) || count(o, Reconnect) == 0 || o.Ledger.Uses[0].Energy == 0 {
		t.Errorf("events %v", got)
	}
	before := o.Events[0].At.Sub(p.Trip.Start).Hours()
	if got := float64(o.Ledger.Uses[0].Energy); got < 60*before+60 {
		t.Errorf("60 W for %.2f h, and again while the wall charges: %.1f Wh", before, got)
	}
}

// Asleep it costs its sleep, awake what it always costs; a device too small to
// wake it gets nothing.
func TestInverterSleepByHand(t *testing.T) {
	day := func(watts float64, edit func(*plan.Plan)) *Outlook {
		return mustRun(t, acBench(watts, func(p *plan.Plan) {
			p.Case.Inverter.SleepA, p.Case.Inverter.WakeW = ptr(0.05), 15
			edit(p)
		}))
	}
	near := func(what string, got qty.WattHour, want float64) {
		t.Helper()
		if math.Abs(float64(got)-want) > 1e-6*want+1e-9 {
			t.Errorf("%s: %.6f Wh, want %.6f Wh", what, got, want)
		}
	}
	idle := func(o *Outlook) qty.WattHour { return o.Ledger.Losses[3].Energy }
	o := day(14, func(*plan.Plan) {})
	near("idle of 12 h asleep", idle(o), 12*0.05*12.8)
	near("14 W, too little to wake it", o.Ledger.Uses[0].Energy, 0)
	near("14 W not given", o.Ledger.NotGiven, 14*12)
	if o.Verdict != Tight {
		t.Errorf("verdict %s", o.Verdict)
	}
	o = day(15, func(*plan.Plan) {})
	near("15 W wake it", o.Ledger.Uses[0].Energy, 15*12)
	near("no idle while they run", idle(o), 0)
	// A compressor of 60 W that runs a quarter of the time wakes it for as long.
	o = day(60, func(p *plan.Plan) { p.Gear[0].DutyPct = 25 })
	near("a quarter of 60 W", o.Ledger.Uses[0].Energy, 60*12/4)
	near("asleep for three quarters", idle(o), 0.75*12*0.05*12.8)
	loss := 300/0.88 - 300 - 0.5*12.8
	near("awake for a quarter", o.Ledger.Losses[2].Energy, 0.25*12*(0.5*12.8+loss/2*(0.2+0.04)))
	// Beside it, a clock of 3 W runs when the compressor does.
	o = day(60, func(p *plan.Plan) {
		p.Gear[0].DutyPct = 25
		p.Gear = append(p.Gear, deviceOf24h(plan.RouteAC, 3))
	})
	near("a quarter of 3 W", o.Ledger.Uses[2].Energy, 3*12/4)
	if !slices.Equal(o.Figures.Unserved, []int{2}) {
		t.Errorf("unserved %v, want the clock", o.Figures.Unserved)
	}
	// What comes and goes wakes it with what runs all the time.
	o = day(13, func(p *plan.Plan) {
		p.Gear[0].DutyPct = 50
		p.Gear = append(p.Gear, deviceOf24h(plan.RouteAC, 3))
	})
	near("13 W now and then beside 3 W", o.Ledger.Uses[0].Energy, 13*12/2)
	near("3 W for as long", o.Ledger.Uses[2].Energy, 3*12/2)
	// Of two pumps, one or the other runs in 1 - 0.75² of the time.
	o = day(60, func(p *plan.Plan) { p.Gear[0].DutyPct, p.Gear[0].Count = 25, 2 })
	near("asleep while neither runs", idle(o), 0.75*0.75*12*0.05*12.8)
	// Together they wake it, though neither does alone.
	o = day(13, func(p *plan.Plan) { p.Gear = append(p.Gear, deviceOf24h(plan.RouteAC, 3)) })
	near("13 W beside 3 W", o.Ledger.Uses[0].Energy, 13*12)
}

// Volt-amperes count against the rating, watts against the battery: a lamp of
// a poor power factor costs the loss of its current and no more.
func TestPowerFactorByHand(t *testing.T) {
	run := func(factor float64) *Outlook {
		return mustRun(t, acBench(60, func(p *plan.Plan) { p.Gear[0].PowerFactor, p.Case.Battery.CapacityAh = factor, 200 }))
	}
	good, poor := run(1), run(0.5)
	if good.Ledger.Uses[0] != poor.Ledger.Uses[0] {
		t.Errorf("the lamp gets %v and %v", good.Ledger.Uses[0], poor.Ledger.Uses[0])
	}
	loss := 300/0.88 - 300 - 0.5*12.8
	want := 12 * (0.5*12.8 + loss/2*(0.4+0.16))
	if got := float64(poor.Ledger.Losses[2].Energy); math.Abs(got-want) > 1e-6*want {
		t.Errorf("the inverter loses %.4f Wh, want %.4f Wh", got, want)
	}
}

// Starts and what comes and goes count in volt-amperes, too; of several devices
// that cannot start, the one with the greatest surge is told.
func TestVoltAmperesOfStartsAndOfWhatComesAndGoes(t *testing.T) {
	trips := func(gear ...plan.Device) *Outlook {
		return mustRun(t, acBench(1, func(p *plan.Plan) { p.Gear, p.Trip.LengthH = gear, 6 }))
	}
	pump := deviceOf24h(plan.RouteAC, 50)
	pump.PowerFactor, pump.SurgeW = 0.5, 250 // 100 VA, and 400 more at its start; the surge is 600
	if o := trips(pump); count(o, Overload) != 0 {
		t.Errorf("500 VA at the start: %v", o.Notices)
	}
	pump.SurgeW = 320
	o := trips(pump)
	if asked, _ := number(o, notice.InverterVA, "asked"); math.Abs(asked-640) > 1e-9 {
		t.Errorf("640 VA at the start: %v", o.Notices)
	}
	lamp, saw := deviceOf24h(plan.RouteAC, 100), deviceOf24h(plan.RouteAC, 60)
	lamp.PowerFactor, saw.PowerFactor, saw.DutyPct = 0.5, 0.5, 50
	o = trips(lamp, saw) // 200 VA all the time and 120 VA now and then
	if asked, _ := number(o, notice.InverterVA, "asked"); math.Abs(asked-320) > 1e-9 {
		t.Errorf("320 VA when the saw runs: %v", o.Notices)
	}
	first, second := deviceOf24h(plan.RouteAC, 50), deviceOf24h(plan.RouteAC, 50)
	first.SurgeW, second.SurgeW = 900, 700
	if i, ok := number(trips(first, second), notice.InverterTrips, "device"); !ok || i != 0 {
		t.Errorf("device %g is told, the first has the greatest surge", i)
	}
}

// A start is too long for the surge only where it needs the surge, and each of
// several devices that start is looked at.
func TestSurgeSecondsOfSeveralDevices(t *testing.T) {
	p := acBench(50, func(p *plan.Plan) {
		p.Case.Inverter.SurgeS = 2
		p.Gear[0].SurgeW, p.Gear[0].SurgeS = 500, 2
		pump := deviceOf24h(plan.RouteAC, 50)
		pump.SurgeW, pump.SurgeS = 400, 3
		p.Gear = append(p.Gear, pump)
	})
	o := mustRun(t, p)
	if i, ok := number(o, notice.SurgeTooLong, "device"); !ok || i != 2 {
		t.Errorf("notices %v, want the pump", o.Notices)
	}
	if o.Events[0].Kind != Overload || o.Events[0].Index != 2 {
		t.Errorf("events %v", o.Events)
	}
	p.Gear[2].SurgeW = 240 // 290 VA with what runs: no surge of the inverter's
	if o = mustRun(t, p); has(o, notice.SurgeTooLong) || count(o, Overload) != 0 {
		t.Errorf("notices %v", o.Notices)
	}
}

// Without sun the inverter's own cut-off saves what is left for the alarm to
// come later: as in the trip itself, if that is dark.
func TestNoSunKnowsTheInvertersCutOff(t *testing.T) {
	p := acBench(60, func(p *plan.Plan) {
		p.Trip.StartChargePct, p.Case.Battery.AlarmV, p.Trip.LengthH = 30, 12.2, 24
		p.Case.Battery.CapacityAh, p.Gear[1].PowerW = 20, ptr(10)
		p.Case.Inverter.LowCutoffV, p.Case.Inverter.LowReconnectV = 12.6, 14
	})
	o := mustRun(t, p)
	if count(o, InverterLow) != 1 || o.Figures.FirstAlarm.IsZero() {
		t.Fatalf("events %v", kinds(o))
	}
	if want := o.Figures.FirstAlarm.Sub(p.Trip.Start); (o.Figures.NoSun - want).Abs().Seconds() > 1 {
		t.Errorf("without sun %v, the alarm of a dark trip comes after %v", o.Figures.NoSun, want)
	}
}

// What had no power from a sleeping inverter starts when others wake it.
func TestAsleepIsNotRunning(t *testing.T) {
	p := acBench(3, func(p *plan.Plan) {
		p.Case.Inverter.SleepA, p.Case.Inverter.WakeW = ptr(0.05), 15
		p.Gear[0].SurgeW = 700
		lamp := deviceOf24h(plan.RouteAC, 40)
		lamp.Hours = []plan.Window{{FromH: 20, ToH: 21}}
		p.Gear = append(p.Gear, lamp)
	})
	p.Gear[0].SurgeW = 500
	if o := mustRun(t, p); count(o, Overload) != 0 {
		t.Errorf("543 W at the start: %v", o.Notices)
	}
	p.Gear[0].SurgeW, p.Gear[0].Hours = 590, []plan.Window{{FromH: 19, ToH: 24}}
	o := mustRun(t, p)
	trips := eventsOf(o, Overload)
	if len(trips) == 0 || seconds(p, trips[0]) != 2*3600 {
		t.Errorf("630 W at the start, when the lamp wakes the inverter: %v", o.Events)
	}
}
