package desk

import "duskline/calc/plan"

// An exchange is another kind of battery put in: its marks came with it, which
// the page says, with a way back.
type exchange struct {
	was           plan.Battery // before
	before, after plan.Marks
}

// exchanged remembers the battery before its kind is changed. It answers true
// when the choice goes back by itself: then the marks from before are back
// too, and all is done.
func (d *Desk) exchanged(pointer, text string) bool {
	b := d.good.Case.Battery
	if pointer != chemistryAt || text == string(b.Chemistry) {
		return false
	}
	if d.MarksMoved() && text == string(d.battery.was.Chemistry) {
		return d.UndoBattery() == nil
	}
	d.battery = nil
	if after, ok := plan.UsualMarks(plan.Chemistry(text)); ok {
		d.battery = &exchange{b, b.Marks(), after}
	}
	return false
}

// MarksMoved says that the marks came with the kind of battery, and can be put
// back. A mark set by hand since is the person's own: then there is no way
// back past it.
func (d *Desk) MarksMoved() bool {
	b, x := d.good.Case.Battery, d.battery
	return x != nil && x.was.Chemistry != b.Chemistry && x.before != x.after && b.Marks() == x.after
}

// UndoBattery puts back the kind of battery and the marks from before.
func (d *Desk) UndoBattery() plan.Faults {
	x := d.battery
	if !d.MarksMoved() {
		return nil
	}
	faults := d.Change(func(p *plan.Plan) {
		b, brought := &p.Case.Battery, x.was
		chooseChemistry(&brought, b.Chemistry)
		// What was set by hand since stays, as far as it fits.
		if b.FloatV == brought.FloatV {
			b.FloatV = x.was.FloatV
		}
		if b.CompensationMVPerK == brought.CompensationMVPerK {
			b.CompensationMVPerK = x.was.CompensationMVPerK
		}
		b.Chemistry = x.was.Chemistry
		b.SetMarks(x.before)
		fitStages(b)
	})
	if faults == nil {
		d.battery = nil
	}
	return faults
}
