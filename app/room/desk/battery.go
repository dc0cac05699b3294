package desk

import (
	"strings"

	"duskline/calc/plan"
)

// An exchange is another kind of battery put in: its marks came with it, which
// the page says, with a way back.
type exchange struct {
	chemistry plan.Chemistry // before
	marks     plan.Marks
}

// exchanged remembers the battery before its kind is changed, and forgets it
// when one of the marks is set by hand: that is no longer the change to go
// back on. It answers true when the choice goes back by itself: then the marks
// from before are back too, and all is done.
func (d *Desk) exchanged(pointer, text string) bool {
	b := d.good.Case.Battery
	switch {
	case pointer == chemistryAt && d.battery != nil && text == string(d.battery.chemistry):
		return d.UndoBattery() == nil
	case pointer == chemistryAt && text != string(b.Chemistry):
		d.battery = &exchange{b.Chemistry, b.Marks()}
	case strings.HasPrefix(pointer, "/case/battery/") && strings.HasSuffix(pointer, "_V"):
		d.battery = nil
	}
	return false
}

// MarksMoved says that the marks came with the kind of battery, and can be put
// back.
func (d *Desk) MarksMoved() bool {
	b := d.good.Case.Battery
	return d.battery != nil && d.battery.chemistry != b.Chemistry && d.battery.marks != b.Marks()
}

// UndoBattery puts back the kind of battery and the marks from before.
func (d *Desk) UndoBattery() plan.Faults {
	x := d.battery
	if x == nil {
		return nil
	}
	faults := d.Change(func(p *plan.Plan) {
		p.Case.Battery.Chemistry = x.chemistry
		p.Case.Battery.SetMarks(x.marks)
	})
	if faults == nil {
		d.battery = nil
	}
	return faults
}
