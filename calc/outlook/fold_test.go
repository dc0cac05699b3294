package outlook

import (
	"testing"
	"time"

	"duskline/calc/notice"
	"duskline/calc/plan"
)

// at makes an event so many minutes after the hour.
func at(kind EventKind, minutes float64, index int) Event {
	hour := time.Date(2026, 5, 14, 18, 0, 0, 0, time.UTC)
	return Event{At: hour.Add(time.Duration(minutes * float64(time.Minute))), Kind: kind, Index: index}
}

func TestFoldTellsARowOnce(t *testing.T) {
	var events []Event
	for i := range 8 {
		m := float64(2 * i)
		events = append(events, at(AlarmOn, m, -1), at(CutOff, m+0.1, -1), at(AlarmOff, m+0.1, -1), at(Reconnect, m+1, -1))
	}
	events = append(events, at(Full, 60, -1))
	got := fold(events)
	want := []struct {
		kind  EventKind
		times int
		last  float64
	}{{AlarmOn, 8, 14}, {CutOff, 8, 14.1}, {AlarmOff, 1, 14.1}, {Reconnect, 1, 15}, {Full, 1, 60}}
	if len(got) != len(want) {
		t.Fatalf("%d events, want %d: %v", len(got), len(want), got)
	}
	for i, w := range want {
		if e := got[i]; e.Kind != w.kind || e.Times != w.times || !e.Last.Equal(at(w.kind, w.last, 0).At) {
			t.Errorf("event %d is %s × %d up to %v, want %s × %d", i, e.Kind, e.Times, e.Last, w.kind, w.times)
		}
	}
}

// So is what a protection does over and over.
func TestFoldTellsAProtectionOnce(t *testing.T) {
	var events []Event
	for i := range 6 {
		m := float64(3 * i)
		events = append(events, at(GuardOff, m, -1), at(GuardChargeOff, m+0.5, -1), at(GuardChargeBack, m+1, -1), at(GuardBack, m+2, -1))
	}
	if got := fold(events); len(got) != 4 || got[0].Times != 6 || got[1].Times != 6 {
		t.Errorf("%d events: %v", len(got), got)
	}
}

// Four times, a pause of an hour, or another device: told one by one.
func TestFoldLeavesWhatIsNoRow(t *testing.T) {
	var few, slow, others []Event
	for i := range 4 {
		few = append(few, at(CutOff, float64(2*i), -1), at(Reconnect, float64(2*i+1), -1))
	}
	for i := range 8 {
		slow = append(slow, at(CutOff, float64(60*i), -1), at(Reconnect, float64(60*i+1), -1))
		others = append(others, at(Overload, float64(2*i), i%2), at(OverloadOver, float64(2*i+1), i%2))
	}
	for what, events := range map[string][]Event{"few": few, "slow": slow, "others": others} {
		n := len(events)
		if got := fold(events); len(got) != n {
			t.Errorf("%s: %d of %d events are left", what, len(got), n)
		}
	}
}

// A month of a battery that cannot carry its load is a handful of lines, and
// the charge and the Ledger are what they are.
func TestAMonthOfChatterIsShort(t *testing.T) {
	p := bench()
	p.Case.Battery.ResistanceMohm, p.Case.Battery.ReconnectS, p.Trip.LengthH = 200, 0, 720
	p.Gear = []plan.Device{deviceOf24h(plan.RouteDC, 180)}
	o := mustRun(t, p)
	if n := count(o, CutOff); n < 10_000 {
		t.Errorf("only %d cut-offs: the plan misses its point", n)
	}
	if len(o.Events) > 500 {
		t.Errorf("%d events in a month", len(o.Events))
	}
}

// A row that begins with a well charged battery and goes on until it is low is
// one event, and still two pieces of advice: the notices see every event.
func TestARowHidesNoNotice(t *testing.T) {
	p := bench()
	p.Panels.List, p.Case.Battery.ResistanceMohm, p.Case.Battery.ReconnectS = nil, 200, 0
	p.Trip.StartChargePct = 100
	p.Gear = []plan.Device{deviceOf24h(plan.RouteDC, 180)}
	o := mustRun(t, p)
	wantNotice(t, o, notice.SagCutOff, true)
	wantNotice(t, o, notice.CutOffInTrip, true)
	for _, e := range o.Events {
		if e.Kind == CutOff && e.Charge <= sagAbove {
			t.Errorf("a cut-off of its own at %g: the plan misses its point", e.Charge)
		}
	}
}
