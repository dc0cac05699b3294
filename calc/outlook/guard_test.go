package outlook

import (
	"math"
	"testing"
	"time"

	"duskline/calc/notice"
	"duskline/calc/plan"
)

// guarded gives the bench case a protection that has no reason to act.
func guarded(p *plan.Plan) *plan.Protection {
	q := &plan.Protection{OverV: 14.8, OverBackV: 14, UnderV: 10, UnderBackV: 12, VoltsDelayS: 2, ChargeA: 100, DischargeA: 200,
		AmpsDelayS: 5, ChargeColdC: -20, ChargeHotC: 60, DischargeColdC: -40, DischargeHotC: 70, ReleaseS: 30}
	p.Case.Battery.Protection = q
	return q
}

// A protection that never acts changes nothing.
func TestGuardThatNeverActs(t *testing.T) {
	p := bench()
	plain := mustRun(t, p)
	guarded(&p)
	o := mustRun(t, p)
	sameSeries(t, plain, o, 1e-6)
	if len(o.Events) != len(plain.Events) || len(o.Notices) != len(plain.Notices) {
		t.Errorf("events %v, without %v; notices %v", kinds(o), kinds(plain), o.Notices)
	}
}

// The volts fall to its mark: after its delay all of the Case is dark. The wall
// charger brings the volts back, and after the release gear runs again. At any
// step the instants are the same.
func TestGuardAgainstDeepDischarge(t *testing.T) {
	var first []Event
	for _, step := range []int{1, 5, 15} {
		p := darkBench(40, 30)
		p.Trip.StepMin, p.Trip.WallHours = step, []plan.Window{{FromH: 6, ToH: 9}}
		q := guarded(&p)
		q.UnderV, q.UnderBackV = 11.8, 12.9
		o := mustRun(t, p)
		offs, backs := eventsOf(o, GuardOff), eventsOf(o, GuardBack)
		if len(offs) == 0 || len(backs) == 0 || offs[0].Reason != "under_volts" || count(o, CutOff) != 0 || o.Verdict != RunsOut {
			t.Fatalf("events %v, %s", o.Events, o.Verdict)
		}
		if v := float64(offs[0].Volts); math.Abs(v-11.8) > 0.4 && v < 11.8 {
			t.Errorf("dark at %.3f V", v)
		}
		if !o.Figures.FirstGuardOff.Equal(offs[0].At) || o.Figures.NoSun > offs[0].At.Sub(p.Trip.Start)+time.Second {
			t.Errorf("dark at %v, told %v, without sun %v", offs[0].At, o.Figures.FirstGuardOff, o.Figures.NoSun)
		}
		s := &o.Series
		for i := 1; i < len(s.AmpsOut); i++ {
			if s.Time(i-1).After(offs[0].At) && s.Time(i).Before(backs[0].At) && s.AmpsOut[i] != 0 {
				t.Fatalf("row %d: %g A out of a battery that is cut off", i, s.AmpsOut[i])
			}
		}
		if h := backs[0].At.Hour(); h < 6 || h > 8 {
			t.Errorf("back at %v, the charger comes at 6", backs[0].At)
		}
		wantNotice(t, o, notice.GuardTrips, true)
		wantNotice(t, o, notice.GuardBeforeCutOff, true)
		if r, _ := number(o, notice.GuardTrips, "reason"); r != 2 {
			t.Errorf("reason %g", r)
		}
		if first == nil {
			first = []Event{offs[0], backs[0]}
		}
		for i, e := range []Event{offs[0], backs[0]} {
			if d := e.At.Sub(first[i].At).Abs(); d > 4*time.Second {
				t.Errorf("steps of %d min: %s %v from that of a minute", step, e.Kind, d)
			}
		}
	}
}

// Too many amps out: dark after its delay, and until the load has gone and the
// release is over.
func TestGuardAgainstTooManyAmps(t *testing.T) {
	for _, step := range []int{1, 15} {
		p := darkBench(6, 90)
		p.Trip.StepMin = step
		q := guarded(&p)
		q.DischargeA = 12
		saw := deviceOf24h(plan.RouteDC, 200)
		saw.Hours = []plan.Window{{FromH: 20, ToH: 20.5}}
		p.Gear = append(p.Gear, saw)
		o := mustRun(t, p)
		offs, backs := eventsOf(o, GuardOff), eventsOf(o, GuardBack)
		if len(offs) != 1 || len(backs) != 1 || offs[0].Reason != "discharge_amps" {
			t.Fatalf("events %v", o.Events)
		}
		if off, back := seconds(p, offs[0]), seconds(p, backs[0]); math.Abs(off-2*3600-5) > 0.1 || math.Abs(back-2.5*3600-30) > 0.1 {
			t.Errorf("dark at %.2f s, back at %.2f s", off, back)
		}
		if got, want := float64(o.Ledger.Uses[1].Energy), 200*5.0/3600; math.Abs(got-want) > 1e-3 {
			t.Errorf("the saw gets %.4f Wh, want %.4f Wh", got, want)
		}
		if got := float64(o.Ledger.Uses[0].Energy); math.Abs(got-6*(24-(1795.0+30)/3600)) > 0.01 {
			t.Errorf("the lamp gets %.4f Wh", got)
		}
		q.DischargeA = 20
		if o := mustRun(t, p); count(o, GuardOff) != 0 {
			t.Errorf("17 A under a limit of 20 A: %v", o.Events)
		}
	}
}

// Volts too high stop the charge, not the gear: the panel goes on feeding it.
func TestGuardAgainstOvercharge(t *testing.T) {
	p := bench()
	p.Trip.StartChargePct = 90
	p.Gear = []plan.Device{deviceOf24h(plan.RouteDC, 20)}
	q := guarded(&p)
	q.OverV, q.OverBackV = 13.9, 13.45
	o := mustRun(t, p)
	offs, backs := eventsOf(o, GuardChargeOff), eventsOf(o, GuardChargeBack)
	if len(offs) == 0 || len(backs) == 0 || offs[0].Reason != "over_volts" || count(o, GuardOff) != 0 {
		t.Fatalf("events %v", o.Events)
	}
	for _, v := range o.Series.Volts {
		if v > 13.95 {
			t.Fatalf("%g V over a protection at 13.9 V", v)
		}
	}
	wantNotice(t, o, notice.GuardBeforeCharge, true)
	if got := float64(o.Ledger.Uses[0].Energy); math.Abs(got-20*48) > 1e-6 {
		t.Errorf("gear gets %.3f Wh of 960", got)
	}
	if o.Verdict != Holds {
		t.Errorf("%s", o.Verdict)
	}
}

// Colder than its limit nothing goes in, and so much warmer it does again.
func TestGuardAgainstCold(t *testing.T) {
	p := bench()
	p.Trip.StartChargePct, p.Sky.WarmestC, p.Sky.ColdestC = 40, 16, -2
	q := guarded(&p)
	q.ChargeColdC, q.ChargeHotC = 5, 45
	o := mustRun(t, p)
	offs, backs := eventsOf(o, GuardChargeOff), eventsOf(o, GuardChargeBack)
	if len(offs) == 0 || len(backs) == 0 || offs[0].Reason != "cold" {
		t.Fatalf("events %v", o.Events)
	}
	core := func(e Event) float64 { return float64(o.Series.Core[int(e.At.Sub(p.Trip.Start)/o.Series.Step)]) }
	if c := core(offs[0]); math.Abs(c-5) > 0.2 {
		t.Errorf("off at %.2f °C", c)
	}
	if c := core(backs[0]); math.Abs(c-8) > 0.2 { // 3 K warmer
		t.Errorf("back at %.2f °C", c)
	}
}

// Random plans with a protection that acts: sound, and a Ledger that closes.
func TestRandomGuardsAreSound(t *testing.T) {
	seen := map[EventKind]int{}
	for i := range 60 {
		p := bench()
		x := func(k int) float64 { return math.Mod(float64(i*i+7*i+3)*0.6180339887*float64(k), 1) }
		if i%3 == 1 {
			agm(&p)
		}
		p.Case.Battery.CapacityAh, p.Case.Battery.ResistanceMohm = 5+60*x(1), 5+100*x(2)
		p.Trip.StepMin, p.Trip.StartChargePct = []int{1, 5, 15}[i%3], 100*x(3)
		p.Sky.WarmestC = 50*x(4) - 5
		p.Sky.ColdestC = p.Sky.WarmestC - 15
		p.Gear = append(p.Gear, deviceOf24h(plan.RouteDC, 100*x(5)))
		p.Gear[1].Hours = []plan.Window{{FromH: 24 * x(6), ToH: 24 * x(7)}}
		p.Trip.WallHours = []plan.Window{{FromH: 24 * x(8), ToH: 24 * x(9)}}
		q := guarded(&p)
		q.UnderV = 11 + x(10)
		q.UnderBackV = q.UnderV + 0.2 + x(11)
		q.OverV = 13.5 + x(12)
		q.OverBackV = q.OverV - 0.2
		q.ChargeA, q.DischargeA, q.ReleaseS, q.VoltsDelayS, q.AmpsDelayS = 3+10*x(13), 3+10*x(14), 600*x(15), 10*x(16), 10*x(17)
		q.ChargeColdC, q.ChargeHotC, q.DischargeHotC = 10*x(18), 31+10*x(19), 31+20*x(20)
		if f := plan.Check(neutral(p)); len(f) > 0 {
			continue
		}
		for _, e := range mustRun(t, p).Events {
			seen[e.Kind] += e.Times
		}
	}
	t.Log(seen)
	for _, k := range []EventKind{GuardOff, GuardBack, GuardChargeOff, GuardChargeBack} {
		if seen[k] == 0 {
			t.Errorf("no plan has a %s", k)
		}
	}
}
