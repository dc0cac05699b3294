package outlook

import (
	"math"

	"duskline/calc/battery"
	"duskline/calc/qty"
)

// The battery's own protection, a layer between its cells and everything else.
//
// The decision: what it stops does not flow, and nothing else changes. While
// it lets nothing in, gear still takes from the sun what it can and from the
// battery the rest. While it lets nothing out, all of the Case is dark, its
// meters and its alarm, too; charge still comes in. When it lets out again the
// Case is as it was before, and gear starts anew.
//
// Its delays and marks are met at their instants: a part ends there. Only a
// temperature that passes a mark is found to the second, not closer.

// guarded prepares a part: it lets the protection change over where it would
// at this instant, and returns the shorter time for which it stays as it is.
func (r *runner) guarded(left float64) float64 {
	for range 16 { // both sides, each for one reason after the other; never more
		left := r.guardMarks(left)
		st := r.stepOf(left)
		wait := r.guard.Left(st.Volts, r.wouldFlow(st), r.state.Core)
		if wait > tick {
			return math.Min(left, wait)
		}
		was := r.guard
		turn := r.guard.Advance(wait, st.Volts, r.wouldFlow(st), r.state.Core)
		r.tellGuard(turn)
		if r.guard == was {
			return left
		}
	}
	return math.Min(left, 1)
}

// guardMarks returns the time until volts or temperature pass one of the
// protection's marks, at most left.
func (r *runner) guardMarks(left float64) float64 {
	s := &r.guardSpec
	first, last := r.stepOf(0), r.stepOf(left)
	for k, mark := range [...]qty.Volt{s.OverV, s.UnderV, s.OverBack, s.UnderBack} {
		if mark <= 0 || k == 2 && !r.stopped || k == 3 && !r.shut || (first.EndVolts < mark) == (last.EndVolts < mark) {
			continue
		}
		var t float64
		if first.EndVolts < mark {
			t, _ = r.battery.UntilUp(r.state, r.around(), left, &r.bus, mark)
		} else {
			t = r.until(left, mark)
		}
		if t >= tick && t < left {
			left = t
		}
	}
	return r.guardHeat(left, last.State.Core)
}

// guardHeat returns the time until the battery's temperature passes one of the
// protection's marks, at most left.
func (r *runner) guardHeat(left float64, end qty.Celsius) float64 {
	s := &r.guardSpec
	back := qty.Celsius(s.HotBack)
	for _, mark := range [...]qty.Celsius{s.ChargeCold, s.ChargeCold + back, s.ChargeHot, s.ChargeHot - back,
		s.DischargeCold, s.DischargeCold + back, s.DischargeHot, s.DischargeHot - back} {
		over := r.state.Core > mark
		if over == (end > mark) {
			continue
		}
		left = r.firstOf(left, func(st *battery.Step) bool { return st.State.Core > mark != over })
		if left < 1 {
			return 1
		}
		end = r.stepOf(left).State.Core
	}
	return left
}

// wouldFlow returns the amps of a part, or what they would be if the
// protection let them: one that cut off too many amps waits until they are
// gone.
func (r *runner) wouldFlow(st battery.Step) qty.Ampere {
	v := float64(st.Volts)
	b := r.bus
	b.closed = false
	if r.shut && r.lit {
		b.watts, b.amps = r.on.watts, r.on.amps+r.more
	}
	if r.shut || r.stopped {
		return qty.Ampere(b.Net(v))
	}
	return st.Amps
}

// passGuard lets a part pass that came true.
func (r *runner) passGuard(st battery.Step, h float64) {
	r.tellGuard(r.guard.Advance(h, st.Volts, r.wouldFlow(st), st.State.Core))
}

// tellGuard makes true what changed over.
func (r *runner) tellGuard(t battery.Turn) {
	say := func(kind EventKind, why battery.Reason) {
		e := r.tell(kind, r.now, r.state.Charge, r.stepOf(0).EndVolts, -1)
		e.Reason = why.String()
		if (kind == GuardOff || kind == GuardChargeOff) && !r.trips.seen {
			r.trips = guardNote{true, why, r.now, r.state.Charge}
		}
	}
	if t.ChargeOff != battery.NoReason {
		say(GuardChargeOff, t.ChargeOff)
		r.stop(true)
	}
	if t.ChargeBack != battery.NoReason {
		r.stop(false)
		say(GuardChargeBack, t.ChargeBack)
	}
	if t.DischargeOff != battery.NoReason {
		say(GuardOff, t.DischargeOff)
		r.shut, r.lit = true, r.connected
		r.connected, r.under, r.ready = false, -1, 0
		r.loadBus()
	}
	if t.DischargeBack != battery.NoReason {
		r.shut = false
		if r.lit {
			r.powerOn()
		}
		r.loadBus()
		say(GuardBack, t.DischargeBack)
	}
}

// guardNote is the first time that the protection acted.
type guardNote struct {
	seen   bool
	why    battery.Reason
	at     float64
	charge qty.Fraction
}

// stop keeps charge out of the battery, or lets it in again.
func (r *runner) stop(on bool) {
	if r.stopped = on; !on {
		r.battery = r.stages.base
		r.stages.at = 0
		return
	}
	r.holdAt(nothing)
	r.bus.closed = false
}

// nothing are volts at which a battery that is held takes nothing in.
const nothing qty.Volt = 0.1

// guardNear says whether one of the protection's volt marks is where in says.
func (r *runner) guardNear(in func(qty.Volt) bool) bool {
	s := &r.guardSpec
	return in(s.OverV) || in(s.OverBack) || in(s.UnderV) || in(s.UnderBack)
}
