package outlook

import (
	"math"
	"testing"
	"time"

	"duskline/calc/notice"
	"duskline/calc/plan"
)

// darkBench is the bench case in the dark at 25 °C, with a device on DC.
func darkBench(watts, charge float64) plan.Plan {
	p := bench()
	p.Panels.List, p.Trip.LengthH, p.Trip.StartChargePct = nil, 24, charge
	p.Sky.WarmestC, p.Sky.ColdestC = 25, 25
	p.Gear = []plan.Device{deviceOf24h(plan.RouteDC, watts)}
	return p
}

func steadyAlarms(o *Outlook) (list []Event) {
	for _, e := range eventsOf(o, AlarmOn) {
		if e.Index < 0 {
			list = append(list, e)
		}
	}
	return list
}

// A mark high up the curve leaves time, one far down it does not, and a heavy
// load through a poor battery sounds it in the middle of its charge. What is
// told of the time left is what a load that stays takes to the cut-off.
func TestAlarmTellsItsCauseAndTheTimeLeft(t *testing.T) {
	for _, c := range []struct {
		what         string
		watts, alarm float64
		ohm, charge  float64
		want         AlarmCause
		code         notice.Code
	}{
		{"high mark", 40, 12.75, 20, 60, InTime, notice.AlarmInTrip},
		{"low mark", 60, 12, 20, 60, Late, notice.LateAlarm},
		{"sag", 120, 12.5, 60, 85, Early, notice.EarlyAlarm},
	} {
		for _, step := range []int{1, 15} {
			p := darkBench(c.watts, c.charge)
			p.Case.Battery.AlarmV, p.Case.Battery.ResistanceMohm, p.Trip.StepMin = c.alarm, c.ohm, step
			o := mustRun(t, p)
			alarms, cuts := steadyAlarms(o), eventsOf(o, CutOff)
			if len(alarms) == 0 || len(cuts) == 0 {
				t.Fatalf("%s: events %v", c.what, kinds(o))
			}
			e := alarms[0]
			if e.Cause != c.want {
				t.Errorf("%s: %s, want %s; charge %.2f, %v left", c.what, e.Cause, c.want, e.Charge, e.Left)
			}
			wantNotice(t, o, c.code, true)
			for _, other := range []notice.Code{notice.AlarmInTrip, notice.LateAlarm, notice.EarlyAlarm} {
				if other != c.code {
					wantNotice(t, o, other, false)
				}
			}
			took := cuts[0].At.Sub(e.At)
			if d := (took - e.Left).Abs(); d > time.Duration(0.01*float64(took))+5*time.Second {
				t.Errorf("%s, steps of %d min: %v left, the cut-off came after %v", c.what, step, e.Left, took)
			}
		}
	}
}

// Forty points of charge, and half an hour, are the bounds.
func TestAlarmCausesAtTheirBounds(t *testing.T) {
	p := darkBench(120, 41.5)
	p.Case.Battery.AlarmV, p.Case.Battery.ResistanceMohm, p.Case.Battery.AlarmDelayS = 12.4, 60, 0
	if e := steadyAlarms(mustRun(t, p))[0]; e.Cause != Early || e.Charge < 0.4 {
		t.Errorf("%s at %.3f", e.Cause, e.Charge)
	}
	p.Trip.StartChargePct = 39.5
	if e := steadyAlarms(mustRun(t, p))[0]; e.Cause == Early || e.Charge > 0.4 {
		t.Errorf("%s at %.3f", e.Cause, e.Charge)
	}
}

// Nothing drawn, nothing to wait for: a Case that is all off and under its
// alarm has no end in sight.
func TestAlarmWithoutAnEnd(t *testing.T) {
	p := darkBench(1, 8)
	p.Gear, p.Case.Battery.AlarmV = nil, 13
	p.Case.DC.StandbyA, p.Case.USB.StandbyA, p.Case.Meters.StandbyA, p.Case.Controller.StandbyA = 0, 0, 0, 0
	e := steadyAlarms(mustRun(t, p))[0]
	if e.Left != NoSunLimit || e.Cause != InTime {
		t.Errorf("%v left, %s", e.Left, e.Cause)
	}
}

// A pump that starts in its hours pulls the volts down for its surge: held
// against the same watts as a device that runs for three seconds, in the naive
// simulation. It is told with its device, and nothing else moves.
func TestStartAlarmAgainstNaiveSeconds(t *testing.T) {
	p := darkBench(6, 70)
	p.Case.Battery.ResistanceMohm, p.Case.Battery.AlarmV, p.Case.Battery.AlarmDelayS = 60, 12, 2
	p.Case.DC.EfficiencyPct = 100
	pump := deviceOf24h(plan.RouteDC, 30)
	pump.Hours = []plan.Window{{FromH: 20, ToH: 21}}
	p.Gear = append(p.Gear, pump)
	plain := mustRun(t, p)
	p.Gear[1].SurgeW, p.Gear[1].SurgeS = 300, 4
	o := mustRun(t, p)
	alarms := eventsOf(o, AlarmOn)
	if len(alarms) != 1 || alarms[0].Index != 1 || alarms[0].Cause != Early || count(o, AlarmOff) != 1 {
		t.Fatalf("events %v", o.Events)
	}
	if i, ok := number(o, notice.StartAlarm, "device"); !ok || i != 1 || has(o, notice.EarlyAlarm) {
		t.Errorf("notices %v", o.Notices)
	}
	if o.Verdict != plain.Verdict || !o.Figures.FirstAlarm.IsZero() || o.Figures.NoSun != plain.Figures.NoSun {
		t.Errorf("a start makes it %s, first alarm %v", o.Verdict, o.Figures.FirstAlarm)
	}
	sameSeries(t, plain, o, 0)

	q := p
	start := deviceOf24h(plan.RouteDC, 270) // with the 30 W of its run
	start.Hours = []plan.Window{{FromH: 20, ToH: 20 + 4.0/3600}}
	q.Gear = []plan.Device{p.Gear[0], pump, start}
	n := simulate(q)
	if len(n.alarm) != 1 || math.Abs(n.alarm[0]-seconds(p, alarms[0])) > 1.5 {
		t.Errorf("alarm at %.2f s, naively at %v", seconds(p, alarms[0]), n.alarm)
	}
	p.Case.Battery.AlarmDelayS = 5 // longer than the start
	if o := mustRun(t, p); count(o, AlarmOn) != 0 {
		t.Errorf("a delay of 5 s and a start of 4: %v", o.Events)
	}
	p.Case.Battery.AlarmDelayS, p.Trip.StartChargePct = 2, 39 // then it is a warning, and the steady alarm's affair
	if o := mustRun(t, p); has(o, notice.StartAlarm) {
		t.Errorf("at 39 %%: %v", o.Events)
	}
}

// A compressor that comes and goes starts again and again; it is told once a
// day. What it draws while it runs counts, too, without any surge.
func TestStartAlarmOfWhatComesAndGoes(t *testing.T) {
	p := darkBench(6, 100)
	p.Trip.LengthH, p.Case.Battery.CapacityAh = 48, 150
	p.Case.Battery.ResistanceMohm, p.Case.Battery.AlarmV, p.Case.Battery.AlarmDelayS = 60, 12.3, 60
	cooler := deviceOf24h(plan.RouteDC, 150)
	cooler.DutyPct = 20
	p.Gear = append(p.Gear, cooler)
	o := mustRun(t, p)
	alarms := eventsOf(o, AlarmOn)
	if len(alarms) != 3 { // three dates
		t.Fatalf("events %v", o.Events)
	}
	for i, e := range alarms {
		if e.Index != 1 || e.Cause != Early || i > 0 && e.At.YearDay() == alarms[i-1].At.YearDay() {
			t.Errorf("alarm %d: %+v", i, e)
		}
	}
	p.Gear[1].DutyPct = 100 // always on: an alarm that stays
	if o = mustRun(t, p); len(steadyAlarms(o)) == 0 || has(o, notice.StartAlarm) {
		t.Errorf("events %v", o.Events)
	}
	p.Gear[1].DutyPct, p.Case.Battery.AlarmV = 20, 11.9
	if o = mustRun(t, p); count(o, AlarmOn) != 0 {
		t.Errorf("a mark out of its reach: %v", o.Events)
	}
}

// On AC the inverter's loss comes on top of a start.
func TestStartAlarmOnAC(t *testing.T) {
	p := darkBench(6, 80)
	p.Case.Switch = plan.DCAndAC
	p.Case.Battery.ResistanceMohm, p.Case.Battery.AlarmDelayS = 60, 1
	pump := deviceOf24h(plan.RouteAC, 40)
	pump.SurgeW, pump.SurgeS, pump.Hours = 260, 3, []plan.Window{{FromH: 22, ToH: 23}}
	p.Gear = append(p.Gear, pump)
	p.Case.Inverter.SurgeS = 5
	sounds := func(mark float64) bool {
		p.Case.Battery.AlarmV = mark
		return has(mustRun(t, p), notice.StartAlarm)
	}
	// 260 W and 6 W and 0.06 A through 88 % and 60 mΩ from 13.2 V: 13.2 - 25·0.06 = 11.7 V.
	if !sounds(11.9) || sounds(11.4) {
		t.Error("the start of 260 W sounds a mark at 11.9 V and none at 11.4 V")
	}
}

// Once the outlets are off the volts come back over the alarm, and what the
// meters draw brings them under it again: that warns of nothing.
func TestAlarmAfterTheCutOffWarnsOfNothing(t *testing.T) {
	p := darkBench(150, 12)
	p.Trip.LengthH = 240
	p.Case.Battery.CutoffV, p.Case.Battery.AlarmV, p.Case.Battery.ReconnectV = 11.2, 12, 13.9
	p.Case.Meters.StandbyA = 0.03
	o, err := Run(p)
	if err != nil {
		t.Fatal(err)
	}
	off, after := false, 0
	for _, e := range o.Events {
		switch {
		case e.Kind == CutOff:
			off = true
		case e.Kind == AlarmOn && off:
			after++
			if e.Cause != Late || e.Left != 0 {
				t.Errorf("%v: %s, %v left", e.At, e.Cause, e.Left)
			}
		}
	}
	if after == 0 {
		t.Error("the alarm does not sound again")
	}
	for _, n := range o.Notices {
		if at, ok := n.Number("at"); ok && n.Code == notice.LateAlarm && at > o.Figures.FirstCutOff.Sub(p.Trip.Start).Seconds() {
			t.Errorf("%+v, the power is off from %v", n, o.Figures.FirstCutOff)
		}
	}
}
