package desk

import (
	"reflect"

	"duskline/calc/plan"
)

// An exchange is another kind of battery put in: its marks came with it, which
// the page says, with a way back.
type exchange struct {
	was           plan.Battery // before
	before, after plan.Marks
	more          bool // figures that were stated of the battery before went with it
}

// exchanged remembers the battery before its kind is changed. It answers true
// when the choice goes back by itself: then the marks from before are back
// too, and all is done.
func (d *Desk) exchanged(pointer, text string) bool {
	b := &d.good.Case.Battery
	if pointer != chemistryAt || text == string(b.Chemistry) {
		return false
	}
	if b.Own != nil { // a table is work: it is there again when its kind is
		d.own = Clone(d.good).Case.Battery
	}
	if d.wayBack() && text == string(d.battery.was.Chemistry) {
		return d.UndoBattery() == nil
	}
	trial := Clone(d.good)
	d.chooseBattery(&trial, text)
	d.battery = &exchange{Clone(d.good).Case.Battery, b.Marks(), trial.Case.Battery.Marks(), stated(*b) && text != string(plan.Own)}
	return false
}

// stated says that a battery has figures that its kind would not bring.
func stated(b plan.Battery) bool {
	return b.Own != nil || b.Peukert != nil || b.SelfDischargePctMonth != nil || b.NoChargeBelowC != nil || b.Protection != nil
}

// chooseBattery puts another kind of battery in; a table of one's own that was
// there before is back with its kind.
func (d *Desk) chooseBattery(p *plan.Plan, text string) {
	b := &p.Case.Battery
	chooseChemistry(b, plan.Chemistry(text))
	if b.Chemistry == plan.Own && d.own.Own != nil && d.good.Case.Battery.Own == nil {
		was := Clone(plan.Plan{Case: plan.Case{Battery: d.own}}).Case.Battery
		b.Own, b.FloatV, b.ResumeV = was.Own, was.FloatV, was.ResumeV
		b.SetMarks(was.Marks())
		fitStages(b)
	}
}

// wayBack says that nothing of the marks was set by hand since the kind of
// battery was changed: a mark set by hand is the person's own, and there is no
// way back past it.
func (d *Desk) wayBack() bool {
	b, x := &d.good.Case.Battery, d.battery
	return x != nil && x.was.Chemistry != b.Chemistry && b.Marks() == x.after
}

// MarksMoved says that the marks came with the kind of battery, and can be put
// back.
func (d *Desk) MarksMoved() bool { return d.wayBack() && d.battery.before != d.battery.after }

// MoreMoved says that figures which were stated of the battery before went
// with it, too.
func (d *Desk) MoreMoved() bool { return d.MarksMoved() && d.battery.more }

// UndoBattery puts back the kind of battery and the figures from before. What
// was set by hand since stays, as far as it fits.
func (d *Desk) UndoBattery() plan.Faults {
	x := d.battery
	if !d.wayBack() {
		return nil
	}
	faults := d.Change(func(p *plan.Plan) {
		b, brought := &p.Case.Battery, Clone(plan.Plan{Case: plan.Case{Battery: x.was}}).Case.Battery
		chooseChemistry(&brought, b.Chemistry)
		now, came, was := reflect.ValueOf(b).Elem(), reflect.ValueOf(&brought).Elem(), reflect.ValueOf(&x.was).Elem()
		for i := range now.NumField() {
			if reflect.DeepEqual(now.Field(i).Interface(), came.Field(i).Interface()) {
				now.Field(i).SetZero()
				copyInto(now.Field(i), was.Field(i))
			}
		}
		// What was stated of the other kind goes with it.
		back := Clone(plan.Plan{Case: plan.Case{Battery: x.was}}).Case.Battery
		b.Own, b.Protection, b.Peukert = back.Own, back.Protection, back.Peukert
		b.SelfDischargePctMonth, b.NoChargeBelowC = back.SelfDischargePctMonth, back.NoChargeBelowC
		fitStages(b)
	})
	if faults == nil {
		d.battery = nil
	}
	return faults
}
