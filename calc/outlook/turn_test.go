package outlook

import (
	"math"
	"testing"

	"duskline/calc/plan"
	"duskline/calc/qty"
)

// A heavy load goes, the volts come back over the alarm for some minutes as the
// battery recovers, and fall under it again by a light load: all within one
// step of a quarter of an hour. The naive simulation sees each crossing, and a
// part that went by its ends alone would miss two of them.
func TestVoltsThatTurnInsideAStep(t *testing.T) {
	onceOnly(t)
	turned := 0
	for charge := 4.2; charge < 6.3; charge += 0.2 {
		p := bench()
		p.Panels.List, p.Trip.StepMin, p.Trip.LengthH = nil, 15, 6
		p.Sky.WarmestC, p.Sky.ColdestC = 25, 25
		b := &p.Case.Battery
		b.CapacityAh, b.ResistanceMohm, b.AlarmDelayS, b.CutoffV = 20, 60, 0, 8.5
		b.AlarmV = 12.1
		p.Trip.StartChargePct = charge
		p.Gear = []plan.Device{deviceOf24h(plan.RouteDC, 12), deviceOf24h(plan.RouteDC, 45)}
		p.Gear[1].Hours = []plan.Window{{FromH: 18, ToH: 18.05}}
		o, n := unfolded(t, p), simulate(p)
		for _, e := range eventsOf(o, AlarmOff) {
			if at := seconds(p, e); at < 900 {
				for _, again := range eventsOf(o, AlarmOn) {
					if s := seconds(p, again); s > at && s < 900 {
						turned++
					}
				}
			}
		}
		sameEvents(t, p, o, n, math.Inf(1))
	}
	if turned < 2 {
		t.Errorf("only %d of the plans turn inside their first step: they miss their point", turned)
	}
}

// A part that turns is cut where it does, and only if a mark lies in between.
func TestTurnIsWhereTheVoltsAreHighest(t *testing.T) {
	p := bench()
	p.Panels.List, p.Sky.WarmestC, p.Sky.ColdestC = nil, 25, 25
	p.Case.Battery.CapacityAh, p.Case.Battery.ResistanceMohm = 20, 60
	r, err := newRunner(neutral(p))
	if err != nil {
		t.Fatal(err)
	}
	r.begin()
	r.state = r.battery.Rested(0.06, 25)
	r.state.Slow, r.state.Lean, r.state.Free = -0.2, -1, 0.045
	r.outside.Air = 25
	r.bus.watts, r.bus.amps = 12, 0
	st := r.stepOf(900)
	at := func(s float64) float64 { return float64(r.stepOf(s).EndVolts) }
	best, most := 0.0, at(0)
	for s := 1.0; s <= 900; s++ {
		if v := at(s); v > most {
			best, most = s, v
		}
	}
	if best < 30 || best > 870 {
		t.Fatalf("the volts are highest after %g s: the state misses its point", best)
	}
	r.spec.Alarm, r.spec.CutOff = 0, 0
	for mark, want := range map[float64]float64{most - 0.005: best, most + 0.05: 900, at(900) - 0.5: 900} {
		r.spec.Alarm = qty.Volt(mark)
		if got := r.turn(st, 900); math.Abs(got-want) > 2 {
			t.Errorf("with a mark at %.3f V the part ends after %.2f s, want %.0f s; highest %.4f V", mark, got, want, most)
		}
	}
}
