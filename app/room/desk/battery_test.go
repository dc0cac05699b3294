package desk

import (
	"testing"

	"duskline/calc/plan"
)

// The kind of battery is one choice: its marks go with it, at once, and come
// back with it.
func TestChemistryBringsItsMarks(t *testing.T) {
	const at = "/case/battery/chemistry"
	usual, _ := plan.UsualMarks(plan.AGM)
	own := heron(t).Case.Battery.Marks()
	if own == usual {
		t.Fatal("the example has the marks of AGM: nothing to see")
	}
	back := map[string]func(*Desk){
		"undo":   func(d *Desk) { d.UndoBattery() },
		"choose": func(d *Desk) { d.Enter(at, "LiFePO4"); d.Leave(at) },
	}
	for way, goBack := range back {
		d := New(heron(t))
		before := d.Outlook()
		d.Enter(at, "AGM")
		d.Leave(at)
		b := d.Plan().Case.Battery
		if b.Chemistry != plan.AGM || b.Marks() != usual || d.Fault(at) != "" || len(d.Waiting()) != 0 {
			t.Errorf("%s: %+v, fault %q, waiting %v", way, b, d.Fault(at), d.Waiting())
		}
		if !d.MarksMoved() || d.Outlook() == before {
			t.Errorf("%s: the change is not said, or the Outlook is the old one", way)
		}
		goBack(d)
		if b := d.Plan().Case.Battery; b.Chemistry != plan.LiFePO4 || b.Marks() != own || d.MarksMoved() {
			t.Errorf("%s: back at %s with %+v, said %v", way, b.Chemistry, b.Marks(), d.MarksMoved())
		}
	}

	// A mark set by hand is the person's own: no way back past it.
	d := New(heron(t))
	d.Enter(at, "AGM")
	d.Enter("/case/battery/alarm_V", "99")
	if !d.MarksMoved() {
		t.Error("a refused mark takes the way back away")
	}
	d.Enter("/case/battery/alarm_V", "11.9")
	if d.MarksMoved() {
		t.Error("undo would take back a mark that was set by hand")
	}
	d.UndoBattery()
	if got := d.Plan().Case.Battery; got.Chemistry != plan.AGM || got.AlarmV != 11.9 {
		t.Errorf("undone to %s with an alarm at %g V", got.Chemistry, got.AlarmV)
	}
	d.Enter(at, "LiFePO4")
	d.UndoBattery()
	if got := d.Plan().Case.Battery.AlarmV; got != 11.9 {
		t.Errorf("undone to an alarm at %g V, want 11.9", got)
	}
}

// Lithium has no change of volts with the heat: it goes with the kind of
// battery, and comes back with it. A float that is too high for the new marks
// goes down to them.
func TestStagesFollowTheChemistry(t *testing.T) {
	const at = "/case/battery/chemistry"
	d := New(heron(t))
	d.Enter(at, "AGM")
	d.Enter("/case/battery/charge_V", "14.7")
	d.Enter("/case/battery/after_full", "float")
	d.Enter("/case/battery/float_V", "14.5")
	d.Enter("/case/battery/compensation_mV_per_K", "-24")
	d.Enter(at, "LiFePO4")
	b := d.Plan().Case.Battery
	if b.Chemistry != plan.LiFePO4 || b.CompensationMVPerK != 0 || b.FloatV != b.ChargeV || b.AfterFull != plan.AfterFloat || d.Fault(at) != "" {
		t.Errorf("%+v, fault %q", b, d.Fault(at))
	}
	if d.UndoBattery(); d.MarksMoved() {
		t.Error("still moved")
	}
	if b = d.Plan().Case.Battery; b.Chemistry != plan.AGM || b.CompensationMVPerK != -24 || b.FloatV != 14.5 || b.ChargeV != 14.7 {
		t.Errorf("back: %+v", b)
	}
	d.Enter(at, "LiFePO4")
	d.Enter("/case/battery/float_V", "13.6") // by hand: stays
	if d.UndoBattery(); d.Plan().Case.Battery.FloatV != 13.6 || d.Plan().Case.Battery.CompensationMVPerK != -24 {
		t.Errorf("back: %+v", d.Plan().Case.Battery)
	}
	// Lithium is not left with what was set for lead-acid meanwhile.
	d = New(heron(t))
	d.Enter(at, "AGM")
	d.Enter("/case/battery/compensation_mV_per_K", "-18")
	if d.UndoBattery(); d.Plan().Case.Battery.Chemistry != plan.LiFePO4 || d.Plan().Case.Battery.CompensationMVPerK != 0 {
		t.Errorf("back: %+v", d.Plan().Case.Battery)
	}
}

// A plan without a place keeps its noon when the clock is set.
func TestOffsetMovesThePlaceThatIsNotSet(t *testing.T) {
	p := plan.Blank("here", heron(t).Trip.Start)
	d := New(p)
	d.Enter(StartOffset, "-8")
	if got := d.Plan(); got.Sky.LongitudeDeg != -120 || !got.Placeless() {
		t.Errorf("at %g°, placeless %v", got.Sky.LongitudeDeg, got.Placeless())
	}
	d.Enter("/sky/latitude_deg", "-33.5")
	d.Enter(StartOffset, "10")
	if got := d.Plan(); got.Sky.LongitudeDeg != -120 || got.Placeless() {
		t.Errorf("a place that is set went to %g°", got.Sky.LongitudeDeg)
	}
}
