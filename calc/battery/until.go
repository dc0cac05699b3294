package battery

import "duskline/calc/qty"

// Until finds when, within h seconds, EndVolts falls to mark or the free well
// to empty, whichever comes first; a mark of 0 asks for the well alone. It
// returns h and false if neither has happened at the end, 0 and true if the
// battery is there already, as when a load pulls a full battery under its
// cut-off.
//
// A Step of the returned length ends at the mark or just under it, within a
// billionth of h. So a caller that steps that far, writes its event and goes
// on has runtimes that do not hang on its step. It costs about ten steps, and
// about thirty-five where the battery gives out on the way: call it when a Step
// has ended under the mark, Empty or Short.
//
// Volts need not move one way only: with a draw lighter than that before, they
// rise as the battery recovers and fall later; with a lighter charge they fall
// and rise later. They turn once at most, down from a rise while drawing and up
// from a fall while charging, so that an instant found is the only one. What is
// not found is a mark passed and passed back inside h: volts that recover over
// a mark of UntilUp and sink under it again, or dip under a mark of Until while
// they charge. Only a core that warms up by many kelvin in a step may bend them
// the other way.
//
// from, around, h and bus are as in [Battery.Step].
func (b *Battery) Until(from State, around Around, h float64, bus Bus, mark qty.Volt) (seconds float64, crossed bool) {
	return b.first(from, around, h, bus, mark, false)
}

// UntilUp finds when, within h seconds, EndVolts rises to mark, as Until does
// for falling.
func (b *Battery) UntilUp(from State, around Around, h float64, bus Bus, mark qty.Volt) (seconds float64, crossed bool) {
	return b.first(from, around, h, bus, mark, true)
}

// at says whether a step ends past the mark.
func (st *Step) at(mark qty.Volt, up bool) bool {
	if up {
		return !st.Short && st.EndVolts >= mark
	}
	return st.Short || st.EndVolts <= mark || st.Empty && st.Amps <= 0
}

// past returns by how many volts a step ends past the mark, negative ahead of
// it, and whether that says where the mark is: the volts of a battery that
// gives out do not.
func (st *Step) past(mark qty.Volt, up bool) (float64, bool) {
	by := float64(st.EndVolts - mark)
	if !up {
		by = -by
	}
	return by, !st.Short && !st.Empty
}

// closely is the share of h to which first finds its instant.
const closely = 1e-10

// first finds the first instant past the mark, if the end of h is past it.
//
// Tries go along the line through the volts at both ends, the end that stays
// put weighed less each time; one that falls on an end is laid a little inside
// of it, to close in from the other side. Where three tries did not halve the
// doubt, or volts tell nothing, it is halved.
func (b *Battery) first(s State, around Around, h float64, bus Bus, mark qty.Volt, up bool) (float64, bool) {
	st := b.Step(s, around, 0, bus)
	if st.at(mark, up) {
		return 0, true
	}
	from, _ := st.past(mark, up)
	if st = b.Step(s, around, h, bus); !st.at(mark, up) {
		return h, false
	}
	to, tells := st.past(mark, up)
	lo, hi, kept := 0.0, h, 0
	slow, wide := 0, h
	for n := 0; n < 120 && hi-lo > closely*h; n++ {
		t := (lo + hi) / 2
		if hi-lo <= wide/2 {
			slow, wide = 0, hi-lo
		}
		if slow++; slow <= 3 && tells && from < 0 && to >= 0 {
			const inside = closely / 4
			t = lo + (hi-lo)*from/(from-to)
			t = min(max(t, lo+inside*h), hi-inside*h)
		}
		st = b.Step(s, around, t, bus)
		by, plain := st.past(mark, up)
		if st.at(mark, up) {
			if hi, to, tells = t, by, plain; kept > 0 {
				from /= 2
			}
			kept = 1
		} else {
			if lo, from = t, by; kept < 0 {
				to /= 2
			}
			kept = -1
		}
	}
	return hi, true
}
