package desk

import (
	"slices"
	"strings"

	"duskline/calc/plan"
)

// What waits is tried anew after every edit: together first, so that marks can
// be moved past each other, then one by one.

// settle takes what can be taken of what waits: all of it together, or else
// one by one, the latest first.
func (d *Desk) settle() {
	for {
		together := Clone(d.good)
		some := false
		for _, e := range d.waiting {
			some = d.apply(&together, e) || some
		}
		if !some {
			break
		}
		joint := check(&together)
		if joint == nil {
			d.waiting = slices.DeleteFunc(d.waiting, func(e entry) bool { return e.bad == "" })
			d.take(together)
			break
		}
		if !d.takeOne() {
			d.blame(joint)
			break
		}
	}
	d.forgetGone()
}

// forgetGone lets go of what waits at places that the Plan has no more: another
// kind of battery or of draw was chosen, and no field shows it.
func (d *Desk) forgetGone() {
	d.waiting = slices.DeleteFunc(d.waiting, func(e entry) bool {
		if e.list {
			_, ok := find(&d.good, e.pointer)
			return !ok
		}
		trial := Clone(d.good)
		_, gone := set(&trial, e.pointer, e.text)
		return gone
	})
}

// blame tells entries that are refused for what another one is about to change
// what is wrong with both of them together: the range that the Plan's old value
// sets would mislead.
func (d *Desk) blame(joint plan.Faults) {
	told := make([]*plan.Fault, len(d.waiting))
	for i, e := range d.waiting {
		about := func(pointer string) bool {
			return pointer != "" && (pointer == e.fault.Pointer || pointer == e.fault.Other || strings.HasPrefix(pointer, e.fault.Other+"/"))
		}
		if e.bad != "" || !slices.ContainsFunc(d.waiting, func(o entry) bool { return o.bad == "" && o.pointer != e.pointer && about(o.pointer) }) {
			continue
		}
		for n := range joint {
			if f := &joint[n]; f.Pointer == e.pointer || told[i] == nil && about(f.Pointer) {
				told[i] = f
				if f.Pointer == e.pointer {
					break
				}
			}
		}
	}
	for i, f := range told {
		if f != nil {
			d.waiting[i].fault = *f
		}
	}
}

// takeOne takes the latest entry that is possible by itself, and notes at the
// others why they are not.
func (d *Desk) takeOne() bool {
	for i := len(d.waiting) - 1; i >= 0; i-- {
		e := &d.waiting[i]
		trial := Clone(d.good)
		if !d.apply(&trial, *e) {
			continue
		}
		faults := check(&trial)
		if len(faults) == 0 {
			d.waiting = slices.Delete(d.waiting, i, i+1)
			d.take(trial)
			return true
		}
		e.fault = faults[0]
		for _, f := range faults {
			if f.Pointer == e.pointer {
				e.fault = f
				break
			}
		}
	}
	return false
}

func (d *Desk) apply(p *plan.Plan, e entry) bool {
	if e.bad != "" {
		return false
	}
	if e.list {
		v, ok := find(p, e.pointer)
		if ok {
			*v.Addr().Interface().(*[]plan.Window) = slices.Clone(e.hours)
		}
		return ok
	}
	was := p.Trip
	if e.pointer == chemistryAt {
		d.chooseBattery(p, e.text)
		return true
	}
	bad, gone := set(p, e.pointer, e.text)
	d.follow(p, was)
	return bad == "" && !gone
}
