package outlook

import (
	"math"
	"slices"
	"testing"
	"time"

	"duskline/calc/notice"
	"duskline/calc/plan"
)

// kinds lists the events' kinds in order.
func kinds(o *Outlook) (list []EventKind) {
	for _, e := range o.Events {
		list = append(list, e.Kind)
	}
	return list
}

func seconds(p plan.Plan, e Event) float64 { return e.At.Sub(p.Trip.Start).Seconds() }

// Hours that begin and end inside a step count for what they are, at any step
// and from any start.
func TestHoursInsideAStep(t *testing.T) {
	for _, step := range []int{1, 5, 15} {
		for _, minute := range []int{0, 7, 14} {
			p := bench()
			p.Trip.StepMin, p.Trip.LengthH = step, 48
			p.Trip.Start = time.Date(2026, 5, 14, 18, minute, 0, 0, p.Trip.Start.Location())
			p.Case.Switch, p.Case.InverterHours = plan.DCAndAC, []plan.Window{{FromH: 23.9, ToH: 0.05}}
			p.Trip.WallHours = []plan.Window{{FromH: 3.11, ToH: 3.2}}
			p.Panels.List, p.Trip.StartChargePct = nil, 50
			p.Gear = []plan.Device{deviceOf24h(plan.RouteDC, 60), deviceOf24h(plan.RouteUSB, 0)}
			p.Gear[0].Hours = []plan.Window{{FromH: 20.05, ToH: 20.15}}
			p.Gear[1] = plan.Device{Name: "Telephone", Count: 1, Route: plan.RouteUSB, RefillWh: ptr(12), RefillsPerDay: 1,
				RefillEfficiencyPct: 80, DutyPct: 100, Hours: []plan.Window{{FromH: 6, ToH: 6.1}, {FromH: 23.97, ToH: 24}}}
			o := mustRun(t, p)
			for what, c := range map[string][2]float64{
				"60 W for 6 minutes, twice": {float64(o.Ledger.Uses[0].Energy), 2 * 60 * 0.1},
				"12 Wh at 80 %, twice":      {float64(o.Ledger.Uses[1].Energy), 2 * 12 / 0.8},
				"idle for 9 minutes, twice": {float64(o.Ledger.Losses[3].Energy), 2 * 0.15 * 12.8 * 0.5},
				"10 A for 5.4 minutes, Ah":  {ampHoursIn(o), 2 * 0.09 * 10},
			} {
				if math.Abs(c[0]/c[1]-1) > 1e-4 {
					t.Errorf("steps of %d min from 18:%02d: %s: %.4f, want %.4f", step, minute, what, c[0], c[1])
				}
			}
		}
	}
}

func ampHoursIn(o *Outlook) (sum float64) {
	for _, a := range o.Series.AmpsIn {
		sum += float64(a) * o.Series.Step.Hours()
	}
	return sum
}

// A trip over a leap day from a minute before midnight, at a zone with half
// hours, in the southern summer: the days are the local ones, and the sun
// stands in the north at noon.
func TestLeapDayHalfHourZoneSouth(t *testing.T) {
	zone := time.FixedZone("", 9*3600+1800)
	p := bench()
	p.Trip.Start, p.Trip.LengthH, p.Trip.StepMin = time.Date(2028, 2, 28, 23, 59, 0, 0, zone), 48, 15
	p.Sky.LatitudeDeg, p.Sky.LongitudeDeg = -32, 142
	p.Sky.ClearSkyIndex = []float64{0.2, 0.5, 1}
	p.Panels.List[0].AzimuthDeg = 0
	o := mustRun(t, p)
	if len(o.Days) != 3 {
		t.Fatalf("%d days, want 28 and 29 February and 1 March", len(o.Days))
	}
	for i, want := range []string{"2028-02-28", "2028-02-29", "2028-03-01"} {
		d := o.Days[i]
		if d.Midnight.Format(time.DateOnly) != want || d.Midnight.Hour() != 0 {
			t.Errorf("day %d is %v, want %s", i, d.Midnight, want)
		}
		if index := []float64{0.2, 0.5, 1}[i]; d.ClearSkyIndex != index {
			t.Errorf("day %d has index %g, want %g", i, d.ClearSkyIndex, index)
		}
		if _, offset := d.Rise.Zone(); offset != 9*3600+1800 || d.Rise.Day() != d.Midnight.Day() || !d.Rise.Before(d.Set) {
			t.Errorf("day %d: sun up %v to %v", i, d.Rise, d.Set)
		}
	}
	cloud := func(row int) float64 { return float64(o.Series.Cloud[row]) }
	if cloud(1) != 0.5 || cloud(96) != 0.5 || cloud(97) != 0 {
		t.Errorf("cloud changes at the wrong row: %g, %g, %g", cloud(1), cloud(96), cloud(97))
	}
	north := float64(o.Ledger.Sources[0].Energy)
	p.Panels.List[0].AzimuthDeg = 180
	if south := float64(mustRun(t, p).Ledger.Sources[0].Energy); south >= north {
		t.Errorf("south of the tropics a panel to the south gives %.1f Wh, to the north %.1f Wh", south, north)
	}
}

// Volts that rise through the alarm inside a step: it sounds after its delay
// and falls silent when they are through, not at the step's end.
func TestAlarmWhileTheVoltsRise(t *testing.T) {
	p := bench()
	p.Gear, p.Panels.List, p.Trip.StartChargePct = nil, nil, 1
	p.Case.WallCharger.CurrentA = 1
	p.Trip.WallHours = []plan.Window{{FromH: 0, ToH: 24}}
	p.Case.Battery.AlarmDelayS, p.Case.Battery.CutoffV, p.Trip.StepMin = 60, 8.5, 15
	o := mustRun(t, p)
	if got := kinds(o)[:2]; !slices.Equal(got, []EventKind{AlarmOn, AlarmOff}) {
		t.Fatalf("events %v", kinds(o))
	}
	if at := seconds(p, o.Events[0]); math.Abs(at-60) > 0.01 {
		t.Errorf("alarm after %.3f s, its delay is 60 s", at)
	}
	off := o.Events[1]
	if math.Abs(float64(off.Volts)-12) > 1e-3 || math.Mod(seconds(p, off), 900) == 0 {
		t.Errorf("silent at %.4f V, %.1f s", float64(off.Volts), seconds(p, off))
	}
	n := simulate(p)
	if len(n.alarm) != 1 || n.alarm[0] != 60 {
		t.Errorf("naively the alarm comes at %v", n.alarm)
	}
}

// A cut-off that is pending while the volts rise happens if its delay is over
// before they are back, and not if it is not.
func TestCutOffPendingWhileTheVoltsRise(t *testing.T) {
	p := bench()
	p.Panels.List, p.Trip.StartChargePct = nil, 1
	p.Gear = []plan.Device{}
	p.Case.WallCharger.CurrentA = 1
	p.Trip.WallHours = []plan.Window{{FromH: 0, ToH: 24}}
	b := &p.Case.Battery
	b.AlarmV, b.CutoffV, b.ReconnectV, b.CutoffDelayS, p.Trip.StepMin = 12.5, 12, 12.8, 60, 15
	o := mustRun(t, p)
	if count(o, CutOff) != 1 || math.Abs(seconds(p, o.Events[1])-60) > 0.01 {
		t.Errorf("events %v, want the cut-off after 60 s", o.Events)
	}
	n := simulate(p)
	if len(n.cut) != 1 || n.cut[0] != 60 {
		t.Errorf("naively cut off at %v", n.cut)
	}
	b.CutoffDelayS = 600
	b.AlarmDelayS = 600
	p.Case.WallCharger.CurrentA = 4
	if o = mustRun(t, p); count(o, CutOff) != 0 {
		t.Errorf("cut off at %v although the volts were back in time", o.Events)
	}
}

// Time under a mark starts anew when the volts were back in between: a heavy
// load that comes for less than the delay, again and again.
func TestDelaysStartAnew(t *testing.T) {
	p := bench()
	p.Panels.List, p.Case.Battery.ResistanceMohm, p.Trip.StartChargePct = nil, 200, 60
	b := &p.Case.Battery
	b.AlarmDelayS, b.CutoffDelayS, p.Trip.LengthH = 590, 590, 12
	p.Sky.WarmestC, p.Sky.ColdestC = 25, 25
	p.Gear = []plan.Device{deviceOf24h(plan.RouteDC, 140)}
	p.Gear[0].Hours = nil
	for h := 19.0; h < 26; h++ {
		p.Gear[0].Hours = append(p.Gear[0].Hours, plan.Window{FromH: math.Mod(h, 24), ToH: math.Mod(h, 24) + 9.0/60})
	}
	o := mustRun(t, p)
	if o.Series.Volts[13] > 11 {
		t.Fatalf("the load does not pull the volts under the cut-off: %g V", o.Series.Volts[13])
	}
	if len(o.Events) > 0 {
		t.Errorf("nine minutes at a time under a delay of 590 s: %v", o.Events)
	}
	b.CutoffDelayS = 500
	if o = mustRun(t, p); count(o, CutOff) == 0 || math.Abs(seconds(p, o.Events[0])-3600-500) > 0.1 {
		t.Errorf("nine minutes over a delay of 500 s: %v", o.Events)
	}
}

// A heavy load leaves the alarm pending, a light one lets the volts back over
// the mark, and they fall under it once more inside the same step: the delay
// counts from there.
func TestAlarmPendingThenBackThenUnder(t *testing.T) {
	p := bench()
	p.Panels.List, p.Trip.StepMin, p.Trip.LengthH = nil, 15, 6
	p.Sky.WarmestC, p.Sky.ColdestC = 25, 25
	p.Case.Battery.CapacityAh, p.Case.Battery.ResistanceMohm, p.Trip.StartChargePct = 30, 150, 8.2
	p.Case.Battery.AlarmDelayS, p.Case.Battery.CutoffV = 400, 8.5
	p.Gear = []plan.Device{deviceOf24h(plan.RouteDC, 25), deviceOf24h(plan.RouteDC, 40)}
	p.Gear[1].Hours = []plan.Window{{FromH: 18, ToH: 18.1}}
	o, n := mustRun(t, p), simulate(p)
	if len(n.alarm) == 0 || n.alarm[0] < 760 || o.Series.Volts[1] > 12.4 {
		t.Fatalf("the plan misses its point: alarm at %v, first volts %g", n.alarm, o.Series.Volts[1])
	}
	sameEvents(t, p, o, n, math.Inf(1))
}

// The alarm's delay and the cut-off's run beside each other.
func TestAlarmDelayBesideCutOffDelay(t *testing.T) {
	run := func(alarm, cut float64) *Outlook {
		p := bench()
		p.Panels.List, p.Case.Battery.ResistanceMohm = nil, 200
		p.Case.Battery.AlarmDelayS, p.Case.Battery.CutoffDelayS = alarm, cut
		p.Gear = []plan.Device{deviceOf24h(plan.RouteDC, 140)}
		p.Gear[0].Hours = []plan.Window{{FromH: 19, ToH: 19.25}}
		return mustRun(t, p)
	}
	if o := run(20, 400); kinds(o)[0] != AlarmOn || kinds(o)[1] != CutOff || o.Events[1].At.Sub(o.Events[0].At) != 380*time.Second {
		t.Errorf("alarm at 20 s, cut-off at 400 s: %v", o.Events)
	} else if kinds(o)[2] != AlarmOff || !o.Events[2].At.Equal(o.Events[1].At) {
		t.Errorf("without its load the battery's volts are back at once: %v", o.Events)
	}
	if o := run(400, 20); kinds(o)[0] != CutOff || count(o, AlarmOn) != 0 {
		t.Errorf("cut off before the alarm's delay is over: %v", o.Events)
	}
	if o := run(60, 60); kinds(o)[0] != AlarmOn || kinds(o)[1] != CutOff {
		t.Errorf("both at 60 s: %v", o.Events)
	} else if has(o, notice.AlarmInTrip) {
		t.Error("an alarm at the instant of the cut-off is told as a warning")
	}
}

// An alarm and a cut-off found at other steps are the same ones.
func TestEventsDoNotHangOnTheStep(t *testing.T) {
	p := bench()
	p.Panels.List, p.Trip.LengthH = nil, 24
	p.Sky.WarmestC, p.Sky.ColdestC = 25, 25 // the air would be that of other middles
	p.Gear = []plan.Device{deviceOf24h(plan.RouteDC, 40)}
	var first []float64
	for _, step := range []int{1, 2, 3, 5, 10, 15} {
		p.Trip.StepMin = step
		o := mustRun(t, p)
		got := []float64{seconds(p, o.Events[0]), seconds(p, o.Events[1])}
		if first == nil {
			first = got
		}
		for i := range got {
			if math.Abs(got[i]-first[i]) > 2 { // half a ten-thousandth: resistance and warmth of a part are those of its start
				t.Errorf("steps of %d min: %s at %.2f s, at one minute %.2f s", step, o.Events[i].Kind, got[i], first[i])
			}
		}
	}
}

// A Case that reconnects at once and a load that sags at once chatter, once a
// minute; with a delay, as often as it allows.
func TestReconnectThenSag(t *testing.T) {
	p := bench()
	p.Panels.List, p.Case.Battery.ResistanceMohm, p.Trip.LengthH = nil, 200, 6
	p.Case.Battery.CutoffDelayS, p.Case.Battery.ReconnectS = 0, 0
	p.Gear = []plan.Device{deviceOf24h(plan.RouteDC, 180)}
	o := mustRun(t, p)
	if n := count(o, CutOff); n != 360 {
		t.Errorf("%d cut-offs in 360 minutes", n)
	}
	for i, e := range o.Events {
		if want := []EventKind{CutOff, Reconnect}[i%2]; e.Kind != want {
			t.Fatalf("event %d is %s", i, e.Kind)
		}
	}
	p.Case.Battery.ReconnectS = 1000
	o = mustRun(t, p)
	for i := 1; i < len(o.Events); i += 2 {
		if d := o.Events[i].At.Sub(o.Events[i-1].At); o.Events[i].Kind != Reconnect || d != 1000*time.Second {
			t.Errorf("%s %v after the cut-off, want 1000 s", o.Events[i].Kind, d)
		}
	}
	if amps, ok := number(o, notice.SagCutOff, "amps"); !ok || amps < 14 || amps > 30 {
		t.Errorf("180 W at 11 V: the notice says %.2f A", amps)
	}
	if has(o, notice.CutOffInTrip) {
		t.Error("the same cut-off is told twice")
	}
}

func number(o *Outlook, c notice.Code, name string) (float64, bool) {
	for _, n := range o.Notices {
		if n.Code == c {
			return n.Number(name)
		}
	}
	return 0, false
}

// A lead-acid battery is empty with its volts above the cut-off. What its
// plates still hold brings the volts back, and with them the outlets, each time
// for less; in the end the electronics stay off.
func TestEmptyAboveTheReconnectVolts(t *testing.T) {
	p := bench()
	agm(&p)
	p.Panels.List, p.Case.Battery.CapacityAh, p.Trip.StartChargePct = nil, 10, 30
	p.Case.Battery.CutoffV, p.Case.Battery.ReconnectV = 10.5, 11.5
	p.Gear = []plan.Device{deviceOf24h(plan.RouteDC, 12)}
	o := mustRun(t, p)
	cuts, backs := eventsOf(o, CutOff), eventsOf(o, Reconnect)
	if len(cuts) < 2 || len(cuts) != len(backs)+1 || kinds(o)[len(o.Events)-1] != CutOff {
		t.Fatalf("events %v", kinds(o))
	}
	for i := 1; i < len(cuts); i++ {
		on := cuts[i].At.Sub(backs[i-1].At)
		if cuts[i].Charge >= cuts[i-1].Charge || on > cuts[0].At.Sub(p.Trip.Start)/4 {
			t.Errorf("cut-off %d at %.4f after %v, the one before at %.4f", i, cuts[i].Charge, on, cuts[i-1].Charge)
		}
	}
	last := len(o.Series.AmpsOut) - 1
	if o.Series.AmpsOut[last] != 0 || o.Series.Charge[last] > 0.03 {
		t.Errorf("an empty battery of %.4f gives %g A", o.Series.Charge[last], o.Series.AmpsOut[last])
	}
}

// In the frost gear may take all of the sun for a while: that is no sign that
// the battery takes charge again. What it refuses is not a full battery's.
func TestColdRefusalWhileGearDraws(t *testing.T) {
	p := bench()
	p.Sky.WarmestC, p.Sky.ColdestC, p.Trip.StartChargePct = -2, -12, 70
	fan := deviceOf24h(plan.RouteDC, 90)
	fan.Hours = []plan.Window{{FromH: 10, ToH: 10.5}, {FromH: 11, ToH: 11.5}}
	p.Gear = append(p.Gear, fan)
	o := mustRun(t, p)
	if count(o, ColdOver) != 0 || count(o, ColdRefused) != 1 {
		t.Errorf("events %v, want one refusal and no end of it", kinds(o))
	}
	wantNotice(t, o, notice.FullEarly, false)
	if o.Ledger.NotTaken < 100 {
		t.Errorf("only %g Wh not taken in two clear days of frost", o.Ledger.NotTaken)
	}
	if air, _ := number(o, notice.ColdCharge, "core"); air >= 0 || air < -12 {
		t.Errorf("charge refused at %g °C", air)
	}
	p.Sky.WarmestC = 8
	if o = mustRun(t, p); count(o, ColdOver) == 0 {
		t.Error("the noon above 0 °C does not end the refusal")
	}
}

// A full battery leaves no work for the controller's limit.
func TestClippingIsNotBlamedForAFullBattery(t *testing.T) {
	p := bench()
	p.Case.Controller.LimitA, p.Panels.List[0].RatedW, p.Trip.StartChargePct = 2, 200, 100
	p.Gear[0].PowerW, p.Trip.LengthH = ptr(0), 24
	o := mustRun(t, p)
	wantNotice(t, o, notice.SunClipped, false)
	wantNotice(t, o, notice.FullEarly, true)
	if count(o, Clipped) != 0 {
		t.Errorf("events %v", kinds(o))
	}
}

// Sun not taken counts at the panels' terminals, like the sun that is: with a
// full battery and with an empty one both together are the same.
func TestSunTakenAndNotTakenIsTheSame(t *testing.T) {
	sum := func(start, limit float64) float64 {
		p := bench()
		p.Gear, p.Trip.StartChargePct, p.Case.Battery.CapacityAh, p.Case.Controller.LimitA = nil, start, 500, limit
		p.Sky.ColdestC = p.Sky.WarmestC
		o := mustRun(t, p)
		return float64(o.Ledger.Sources[0].Energy + o.Ledger.NotTaken)
	}
	all := sum(20, 15)
	for _, c := range [][2]float64{{100, 15}, {20, 3}, {100, 3}} {
		if got := sum(c[0], c[1]); math.Abs(got/all-1) > 1e-3 {
			t.Errorf("from %g %% with %g A: %.2f Wh, want %.2f Wh", c[0], c[1], got, all)
		}
	}
}

// The verdict's edges: a charge at the reserve is not inside it, and gear
// without power makes a plan tight.
func TestVerdictEdges(t *testing.T) {
	p := bench()
	p.Gear, p.Panels.List = nil, nil
	p.Case.DC.StandbyA, p.Case.USB.StandbyA, p.Case.Meters.StandbyA, p.Case.Controller.StandbyA = 0, 0, 0, 0
	p.Case.Battery.SelfDischargePctMonth = ptr(0)
	p.Trip.StartChargePct, p.Trip.ReservePct = 35, 35
	if o := mustRun(t, p); o.Verdict != Holds {
		t.Errorf("35 %% all the way with a reserve of 35 %%: %s", o.Verdict)
	}
	p.Trip.ReservePct = 35.1
	if o := mustRun(t, p); o.Verdict != Tight || !has(o, notice.InsideReserve) {
		t.Errorf("35 %% all the way with a reserve of 35.1 %%: %s", o.Verdict)
	}
}
