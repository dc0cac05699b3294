package desk

import (
	"reflect"
	"strconv"
	"strings"
	"testing"

	"golang.org/x/text/language"

	"duskline/app/words"
	"duskline/calc/outlook"
	"duskline/calc/plan"
	"duskline/calc/qty"
)

// still is a desk that computes no Outlook.
func still(p plan.Plan) *Desk {
	return &Desk{good: Clone(p), typed: map[string]string{}, runs: map[string]run{},
		compute: func(plan.Plan) (*outlook.Outlook, error) { return nil, nil }}
}

// rowAt is the row of a table of one's own with that charge.
func rowAt(t *testing.T, d *Desk, pct float64) int {
	t.Helper()
	for i, r := range d.Plan().Case.Battery.Own.Rest {
		if r.ChargePct == pct {
			return i
		}
	}
	t.Fatalf("no row of %g %%", pct)
	return 0
}

var kinds = []plan.Chemistry{plan.LiFePO4, plan.AGM, plan.NMC, plan.Gel, plan.Flooded, plan.Own}

// Whatever a charger does, and whatever was stated of the battery, every kind
// can take the place of every other one: the plan takes it at once, with the
// marks that are usual for it, and the way back brings all of it back.
func TestEveryKindTakesThePlaceOfEveryOther(t *testing.T) {
	for _, after := range []plan.AfterFull{plan.AfterHold, plan.AfterFloat, plan.AfterRest} {
		for _, from := range kinds {
			for _, to := range kinds {
				if from == to {
					continue
				}
				d := still(heron(t))
				d.Enter(chemistryAt, string(from))
				d.Change(UsualStages)
				faults := d.Change(func(p *plan.Plan) {
					b := &p.Case.Battery
					exponent, leaks, cold := 1.1, 2.5, -5.0
					b.AfterFull, b.AgeYears, b.Cycles = after, 2, 80
					b.Peukert, b.SelfDischargePctMonth, b.NoChargeBelowC = &exponent, &leaks, &cold
					b.Protection = UsualProtection(*b)
					fitStages(b)
				})
				if faults != nil {
					t.Fatalf("%s, %s: %v", from, after, faults)
				}
				was := Clone(*d.Plan())
				d = still(was)
				d.Enter(chemistryAt, string(to))
				d.Leave(chemistryAt)
				b := d.Plan().Case.Battery
				if b.Chemistry != to || d.Fault(chemistryAt) != "" || len(d.Waiting()) > 0 {
					t.Errorf("%s to %s, %s: is %s, fault %q", from, to, after, b.Chemistry, d.Fault(chemistryAt))
					continue
				}
				if usual, ok := plan.UsualMarks(to); ok && b.Marks() != usual {
					t.Errorf("%s to %s: marks %v, usual %v", from, to, b.Marks(), usual)
				}
				if (b.Own != nil) != (to == plan.Own) || (b.Protection != nil) != (to == plan.Own || b.Lithium()) || b.AgeYears != 2 || (b.Peukert != nil) != (to == plan.Own) {
					t.Errorf("%s to %s: %+v", from, to, b)
				}
				if d.MoreMoved() != (to != plan.Own && was.Case.Battery.Marks() != b.Marks()) {
					t.Errorf("%s to %s: more is said to have moved: %v", from, to, d.MoreMoved())
				}
				d.Enter(chemistryAt, string(from))
				if !reflect.DeepEqual(d.Plan().Case.Battery, was.Case.Battery) {
					t.Errorf("%s to %s and back, %s:\n got %+v\nwant %+v", from, to, after, d.Plan().Case.Battery, was.Case.Battery)
					return
				}
			}
		}
	}
}

// A table is work. It is there again when its kind is, even when there is no
// way back any more; and a new one begins as the battery before.
func TestATableOfOnesOwnIsKept(t *testing.T) {
	d := New(heron(t))
	before := d.Plan().Case.Battery
	d.Enter(chemistryAt, "own")
	b := d.Plan().Case.Battery
	if b.Own == nil || !b.Own.Lithium || b.Marks() != before.Marks() || d.MarksMoved() {
		t.Fatalf("%+v, moved %v", b, d.MarksMoved())
	}
	was, _ := before.Model()
	now, _ := b.Model()
	for _, s := range []float64{0.1, 0.5, 0.9} {
		if a, b := float64(was.Rest(qty.Fraction(s))), float64(now.Rest(qty.Fraction(s))); b < a-0.005 || b > a+0.005 {
			t.Errorf("at %g: rests at %.3f V, as LiFePO4 at %.3f V", s, b, a)
		}
	}
	k := rowAt(t, d, 20)
	d.Enter("/case/battery/own/rest/"+strconv.Itoa(k)+"/volts", "12.95")
	d.Enter("/case/battery/alarm_V", "12.2")
	if got := d.Plan().Case.Battery; got.Own.Rest[k].Volts != 12.95 || got.AlarmV != 12.2 {
		t.Fatalf("%+v, waiting %v", got.Own.Rest, d.Waiting())
	}
	d.Enter(chemistryAt, "gel")
	d.Enter("/case/battery/cutoff_V", "11.2") // no way back past that
	if d.MarksMoved() || d.Plan().Case.Battery.Own != nil {
		t.Error("the table is still there, or a mark set by hand would go")
	}
	d.Enter(chemistryAt, "own")
	if got := d.Plan().Case.Battery; got.Own == nil || got.Own.Rest[k].Volts != 12.95 || got.AlarmV != 12.2 || d.Fault(chemistryAt) != "" {
		t.Errorf("the table came back as %+v, fault %q", got, d.Fault(chemistryAt))
	}
}

// What was stated of a kind goes with it, on the way back as well.
func TestStatedFiguresStayWithTheirKind(t *testing.T) {
	d := New(heron(t))
	was := d.Plan().Case.Battery.Protection
	d.Enter(chemistryAt, "flooded")
	if faults := d.Change(func(p *plan.Plan) {
		b, exponent := &p.Case.Battery, 1.25
		b.Peukert, b.Protection = &exponent, UsualProtection(*b)
	}); faults != nil {
		t.Fatal(faults)
	}
	d.UndoBattery()
	if b := d.Plan().Case.Battery; b.Chemistry != plan.LiFePO4 || b.Peukert != nil || !reflect.DeepEqual(b.Protection, was) {
		t.Errorf("%+v", b)
	}
}

// What is wrong in a table is told at the cell, with the row and what it must
// be above, and a table that is shifted row by row is taken as soon as it
// rises again.
func TestATableThatDoesNotRiseSaysWhere(t *testing.T) {
	words.SetLanguage(language.English)
	d := New(heron(t))
	d.Enter(chemistryAt, "own")
	const restAt, row = "/case/battery/own/rest", "/case/battery/own/rest/"
	k := rowAt(t, d, 30)
	at := func(i int, end string) string { return row + strconv.Itoa(i) + end }
	said := func(i int) string { return "Row " + strconv.Itoa(i+1) + " must be above " }
	rest := d.Plan().Case.Battery.Own.Rest
	d.Enter(at(k, "/volts"), "12")
	want := words.Plain(rest[k-1].Volts, "V") + ", the row before it."
	if got := d.Fault(at(k, "/volts")); got != said(k)+want {
		t.Errorf("got %q, want %q", got, said(k)+want)
	}
	d.Enter(at(k+1, "/charge_pct"), "20")
	if got := d.Fault(at(k+1, "/charge_pct")); !strings.HasPrefix(got, said(k+1)+"30") {
		t.Errorf("got %q", got)
	}
	if d.Plan().Case.Battery.Own.Rest[k] != rest[k] {
		t.Error("a row that does not rise is in the plan")
	}
	d.Enter(at(k+1, "/charge_pct"), "38")
	// A row that comes before it moves it, and what is said of it.
	if faults := d.Insert(restAt, k-1, plan.OwnPoint{ChargePct: 15, Volts: 12.85}); faults != nil {
		t.Fatal(faults)
	}
	if got := d.Fault(at(k+1, "/volts")); got != said(k+1)+want {
		t.Errorf("moved: %q", got)
	}
	d.Remove(restAt, k-1)
	// 12 V is possible there as soon as the rows before it are under it.
	for i := range k {
		d.Enter(at(i, "/volts"), strconv.FormatFloat(11+0.05*float64(i), 'f', 2, 64))
	}
	if len(d.Waiting()) > 0 || d.Plan().Case.Battery.Own.Rest[k].Volts != 12 {
		t.Errorf("waiting: %v, at %g V", d.Waiting(), d.Plan().Case.Battery.Own.Rest[k].Volts)
	}
}

// What waits in a table goes with it: no field would show it.
func TestWhatWaitsInATableGoesWithIt(t *testing.T) {
	d := New(heron(t))
	d.Enter(chemistryAt, "own")
	d.Enter("/case/battery/own/rest/3/volts", "3")
	d.Enter("/case/battery/own/rest/4/volts", "x")
	d.Enter("/case/battery/capacity_Ah", "0")
	d.Enter(chemistryAt, "gel")
	if got := d.Waiting(); len(got) != 1 || got[0] != "/case/battery/capacity_Ah" || d.Plan().Case.Battery.Chemistry != plan.Gel {
		t.Errorf("%s, waiting: %v", d.Plan().Case.Battery.Chemistry, got)
	}
}

// A whole table of other volts is typed from the bottom up, and charging with
// it: nothing is in the way. Then the marks that suit it are one tap.
func TestAnotherTableIsTyped(t *testing.T) {
	d := New(heron(t))
	d.Enter(chemistryAt, "own")
	n := len(d.Plan().Case.Battery.Own.Rest)
	volts := func(i int) float64 { return 9 + 3.6*float64(i)/float64(n-1) }
	for i := range n {
		d.Enter("/case/battery/own/rest/"+strconv.Itoa(i)+"/volts", strconv.FormatFloat(volts(i), 'f', 3, 64))
	}
	for at, v := range map[string]string{"charge_V": "13.3"} {
		d.Enter("/case/battery/"+at, v)
	}
	for _, at := range d.Waiting() {
		t.Errorf("waiting: %s: %s", at, d.Fault(at))
	}
	if faults := d.Change(UsualMarks); faults != nil {
		t.Fatal(faults)
	}
	b := d.Plan().Case.Battery
	if want, ok := b.UsualMarks(); !ok || b.Marks() != want || b.AlarmV >= 11 || b.AlarmV <= 9 {
		t.Errorf("marks %v, usual %v", b.Marks(), want)
	}
}

// Lithium of one's own has no change of volts with the heat: that goes with the
// tick. Volts that would break it are named, and both are taken once they fit.
func TestLithiumOfOnesOwn(t *testing.T) {
	d := New(heron(t))
	d.Enter(chemistryAt, "AGM")
	d.Enter(chemistryAt, "own")
	d.Enter("/case/battery/compensation_mV_per_K", "-24")
	d.Enter(lithiumAt, "true")
	if got := d.Fault(lithiumAt); !strings.HasPrefix(got, "Charging stops at: Must be between 12") {
		t.Errorf("lithium that rests at 12.65 V on 14.4 V: %q", got)
	}
	d.Enter("/case/battery/charge_V", "13.6")
	if b := d.Plan().Case.Battery; b.ChargeV != 13.6 || !b.Own.Lithium || b.CompensationMVPerK != 0 || d.Fault(lithiumAt) != "" {
		t.Errorf("lithium %v, %g mV/K, fault %q", b.Own.Lithium, b.CompensationMVPerK, d.Fault(lithiumAt))
	}
}

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
