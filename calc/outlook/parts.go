package outlook

import (
	"math"

	"duskline/calc/battery"
	"duskline/calc/qty"
)

// The Case with its outlets connected or cut off. A stretch is run in parts:
// a part ends where the volts pass a mark, where a delay is over, or where the
// battery has nothing left.

// prepare switches what the volts at this instant switch, and returns the
// shorter time for which nothing but a cut-off of the Case comes in between.
func (r *runner) prepare(left float64) float64 {
	r.loadBus()
	left, _ = r.even(left)
	if r.guard.On() {
		left = r.guarded(left)
	}
	all := left
	if r.stages.on && !r.stopped {
		left = r.stage(left)
	}
	if r.connected && r.wants.inverter.LowCutOff > 0 {
		was := r.wants.down
		if left = r.lowCut(left); r.wants.down != was && r.stages.on && !r.stopped {
			left = math.Min(left, r.stage(all)) // with another load
		}
	}
	return left
}

// part runs so many seconds, or as much of them as the Case stays in one state.
func (r *runner) part(left float64) {
	if r.connected {
		r.partOn(left)
	} else {
		r.partCut(left)
	}
}

// loadBus puts on the bus what is drawn: by gear and Case, or by what of the
// Case is still on when the outlets are cut off.
func (r *runner) loadBus() {
	switch {
	case r.shut:
		r.bus.watts, r.bus.amps = 0, 0
	case r.connected:
		r.bus.watts, r.bus.amps = r.on.watts, r.on.amps+r.more
	case r.empty:
		r.bus.watts, r.bus.amps = 0, 0
	default:
		r.bus.watts, r.bus.amps = 0, r.wants.own+r.more
	}
}

// farthest is how far the free well moves in a part, at most, and nearEmpty
// how far where the volts go down steeply: over a part the battery's
// resistance and the amps count as they are at its start and in its mean.
const farthest, nearEmpty = 0.03, 0.01

// even returns a part of at most so many seconds in which nothing about the
// battery changes over: it does not come to be held, it does not get too cold
// to be charged or warm enough, and its volts do not turn at a mark.
func (r *runner) even(left float64) (float64, battery.Step) {
	st := r.stepOf(left)
	if far := math.Abs(float64(st.State.Free - r.state.Free)); far > nearEmpty && left > 15 {
		most := farthest
		if min(st.State.Free, r.state.Free) < 0.1 {
			most = nearEmpty
		}
		if far > most {
			left = math.Max(left*most/far, 15)
			st = r.stepOf(left)
		}
	}
	if st.Held && !st.Refused && !r.held && !r.stopped {
		if t, _ := r.battery.UntilUp(r.state, r.around(), left, &r.bus, st.EndVolts); t >= 1 && t < left-1 {
			left, st = t, r.stepOf(t)
		}
	}
	if (st.Amps > 0 || st.Refused) && (r.state.Core < r.frost) != (st.State.Core < r.frost) {
		if t := r.firstOf(left, func(x *battery.Step) bool { return (x.State.Core < r.frost) != (r.state.Core < r.frost) }); t >= 1 {
			left, st = t, r.stepOf(t)
		}
	}
	if t := r.turn(st, left); t < left {
		left, st = t, r.stepOf(t)
	}
	return left, st
}

// firstOf returns when within h seconds a step first is so: to the second.
func (r *runner) firstOf(h float64, is func(*battery.Step) bool) float64 {
	lo, hi := 0.0, h
	for hi-lo > 0.1 {
		t := (lo + hi) / 2
		if st := r.stepOf(t); is(&st) {
			hi = t
		} else {
			lo = t
		}
	}
	return hi
}

// partOn is a part with the outlets connected. A battery that gives out
// altogether takes the electronics with it, delay or not.
func (r *runner) partOn(left float64) {
	r.loadBus()
	left, st := r.even(left)
	low := r.below(r.spec.CutOff, st, left, r.under >= 0)
	if dead(st) && low.none() { // empty above the mark, as lead-acid gets
		low = span{r.until(left, 0), left}
		if low.from < tick {
			low.from = 0
		}
	}
	switch {
	case low.none():
		r.under = -1
		r.commit(st, left)
		return
	case low.from > 0: // down to the mark first
		r.under = -1
		r.commit(r.stepOf(low.from), low.from)
		return
	}
	r.under = math.Max(r.under, 0)
	delay := r.spec.CutOffDelay.Seconds()
	wait := math.Min(delay-r.under, low.to)
	st = r.stepOf(wait)
	gone, empty := dead(st), st.Empty && !st.Short
	if gone {
		wait = r.until(wait, 0) - 1e-6 // just ahead of it: what the battery gives there is still real
		st = r.stepOf(wait)
	}
	if wait >= tick && !dead(st) {
		r.commit(st, wait)
		r.under += wait
	}
	if gone || r.under >= delay-tick {
		r.cut()
		r.empty = empty
	}
}

// cut disconnects the outlets.
func (r *runner) cut() {
	v := r.stepOf(0).EndVolts
	r.tell(CutOff, r.now, r.state.Charge, v, -1)
	if r.state.Charge > sagAbove && !r.sag.seen {
		r.sag = sagNote{true, r.state.Charge, r.bus.out(float64(v))}
	}
	r.connected, r.cutAt, r.ready, r.under = false, r.now, 0, -1
}

// sagNote is the first cut-off of a well charged battery.
type sagNote struct {
	seen   bool
	charge qty.Fraction
	amps   float64
}

// shortestOff is how long a cut-off lasts at least, s.
const shortestOff = 60

// wakes is the charge of the free well at which the electronics of a battery that was empty are
// on again.
const wakes qty.Fraction = 0.01

// partCut is a part with the outlets disconnected. The electronics of an empty
// battery are off, and so is the reconnection. The same holds for as long as
// it is so cold that its volts break down under the Case's own draw.
func (r *runner) partCut(left float64) {
	r.loadBus()
	left, st := r.even(left)
	if r.shut { // whatever the volts, until the protection lets out again
		r.empty = r.empty && emptied(st.State)
		r.commit(st, left)
		return
	}
	if r.faint = st.Short && !st.Empty && !r.empty; r.faint {
		r.bus.amps, r.ready = 0, 0
		r.commit(r.stepOf(left), left)
		return
	}
	switch {
	case st.Empty && !r.empty:
		if t := r.until(left, 0); t > tick {
			r.commit(r.stepOf(t), t)
		}
		r.empty, r.ready = true, 0
		return
	case r.empty && emptied(st.State):
		r.commit(st, left)
		return
	case r.empty:
		t := r.firstOf(left, func(x *battery.Step) bool { return !emptied(x.State) })
		r.commit(r.stepOf(t), t)
		r.empty = false
		return
	}
	low := r.below(r.spec.Reconnect, st, left, false)
	if !low.none() && low.from == 0 {
		r.ready = 0
		if low.to < left {
			st = r.stepOf(low.to)
		}
		r.commit(st, low.to)
		return
	}
	high := left // from now on, at or above the mark
	if !low.none() {
		high = low.from
	}
	wait := max(r.spec.ReconnectDelay.Seconds()-r.ready, r.cutAt+shortestOff-r.now, 0)
	back := wait <= high
	if back {
		high = wait
	}
	if high >= tick {
		if high < left {
			st = r.stepOf(high)
		}
		r.commit(st, high)
		r.ready += high
	}
	if back {
		r.tell(Reconnect, r.now, r.state.Charge, r.stepOf(0).EndVolts, -1)
		r.powerOn()
	}
}

// powerOn connects the outlets.
func (r *runner) powerOn() {
	r.connected = true
	r.wants.unplug()
	r.on = r.wants.step(r.middle, r.air)
	r.tellTrip()
	r.books.ask(r)
}

// emptied says whether the free well holds too little for the electronics.
func emptied(s battery.State) bool { return s.Free < wakes }

func dead(st battery.Step) bool { return st.Short || st.Empty }

// A solved is the last step that was solved, with all that it hangs on: a part
// is looked at from several sides before it comes true, and mostly over the
// same time.
type solved struct {
	epoch   int // of the runner
	h       float64
	watts   float64
	amps    float64
	fixed   float64
	closed  bool
	battery *battery.Battery
	at      qty.Volt
	ok      bool
	step    battery.Step
}

// stepOf solves so many seconds from now.
func (r *runner) stepOf(h float64) battery.Step {
	s, b := &r.solved, &r.bus
	if s.ok && s.epoch == r.epoch && s.h == h && s.watts == b.watts && s.amps == b.amps && s.fixed == b.fixed &&
		s.closed == b.closed && s.battery == r.battery && s.at == r.stages.at {
		return s.step
	}
	st := r.battery.Step(r.state, r.around(), h, b)
	if h > 0 {
		*s = solved{r.epoch, h, b.watts, b.amps, b.fixed, b.closed, r.battery, r.stages.at, true, st}
	}
	return st
}

// until returns when the volts fall to a mark or the battery gives out, at
// most h.
func (r *runner) until(h float64, mark qty.Volt) float64 {
	t, crossed := r.battery.Until(r.state, r.around(), h, &r.bus, mark)
	if !crossed {
		return h
	}
	return t
}

// commit makes a solved part come true.
func (r *runner) commit(st battery.Step, h float64) {
	v := float64(st.Volts)
	out := r.bus.out(v)
	need := float64(st.Amps) + out
	got := r.bus.taken(v, need, !st.Held && !st.Refused)
	if r.stages.done {
		r.tellCharging(got)
	}
	r.watchCold(st)
	r.watchAlarm(st, h)
	r.held = st.Held
	r.now += h
	r.state = st.State
	r.epoch++
	r.sum.volts += v * h
	r.sum.in += (got.sun + got.fixed) * h
	r.sum.out += out * h
	if !r.connected { // what it would be with the power on, and a battery that has some
		out = r.on.amps + r.more + r.on.watts/float64(r.battery.Rest(0.5))
	}
	r.sum.asked += out * h
	r.peak = math.Max(r.peak, out)
	r.books.post(r, st, got, v, h)
	r.watchCharge(st, got)
	if r.stages.on && !r.stopped {
		r.watchStages(st, h)
	}
	if r.guard.On() {
		r.passGuard(st, h)
	}
}
