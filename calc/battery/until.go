package battery

import "duskline/calc/qty"

// Until finds when, within h seconds, EndVolts falls to mark or the charge to
// 0, whichever comes first; a mark of 0 asks for the charge alone. It returns
// h and false if neither happens, 0 and true if the battery is there already,
// as when a load pulls a full battery under its cut-off.
//
// A Step of the returned length ends at the mark or just under it, within a
// billionth of h. So a caller that steps that far, writes its event and goes
// on has runtimes that do not hang on its step. It costs about forty steps:
// call it when a Step has ended under the mark, Empty or Short.
//
// s0, air, h and bus are as in [Battery.Step].
func (b *Battery) Until(s0 qty.Fraction, air qty.Celsius, h float64, bus Bus, mark qty.Volt) (seconds float64, crossed bool) {
	return b.first(s0, air, h, bus, mark, false)
}

// UntilUp finds when, within h seconds, EndVolts rises to mark, as Until does
// for falling.
func (b *Battery) UntilUp(s0 qty.Fraction, air qty.Celsius, h float64, bus Bus, mark qty.Volt) (seconds float64, crossed bool) {
	return b.first(s0, air, h, bus, mark, true)
}

// at says whether a step ends past the mark.
func (st *Step) at(mark qty.Volt, up bool) bool {
	if up {
		return !st.Short && st.EndVolts >= mark
	}
	return st.Short || st.EndVolts <= mark || st.Empty && st.Amps <= 0
}

// first halves h until it has the first instant past the mark. A bus that
// does not change moves charge and volts one way only, so there is one.
func (b *Battery) first(s0 qty.Fraction, air qty.Celsius, h float64, bus Bus, mark qty.Volt, up bool) (float64, bool) {
	if st := b.Step(s0, air, 0, bus); st.at(mark, up) {
		return 0, true
	}
	if st := b.Step(s0, air, h, bus); !st.at(mark, up) {
		return h, false
	}
	lo, hi := 0.0, h
	for range 40 {
		t := (lo + hi) / 2
		if st := b.Step(s0, air, t, bus); st.at(mark, up) {
			hi = t
		} else {
			lo = t
		}
	}
	return hi, true
}
