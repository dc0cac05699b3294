package outlook

import (
	"math"
	"time"

	"duskline/calc/battery"
)

// The alarm, and what it means when it sounds.
//
// The decision: an alarm is volts, and volts are charge only where the load is
// known. So each one is told with its cause. It is early where much charge is
// left: the load's doing, and no reason to stop. It is late where the power is
// gone before somebody could act. Else it is in time.

// watchAlarm looks for the alarm in a part that is about to count. The alarm
// sounds when the volts have stayed under its mark for its delay, and falls
// silent when they are back.
func (r *runner) watchAlarm(st battery.Step, h float64) {
	if r.shut { // dark, and mute
		r.silence(0)
		return
	}
	low := r.below(r.spec.Alarm, st, h, r.alarm || r.alarmFor >= 0)
	if low.none() {
		r.silence(0)
		return
	}
	if low.from > 0 {
		r.silence(0)
	}
	r.alarmFor = math.Max(r.alarmFor, 0)
	wait := low.from + math.Max(r.spec.AlarmDelay.Seconds()-r.alarmFor, 0)
	if !r.alarm && wait <= low.to {
		r.alarm = true
		r.soundAlarm(wait)
	}
	r.alarmFor += low.to - low.from
	if low.to < h {
		r.silence(low.to)
	}
}

// soundAlarm writes the alarm, so many seconds from now.
func (r *runner) soundAlarm(after float64) {
	here := r.stepOf(after)
	e := r.tell(AlarmOn, r.now+after, here.State.Charge, here.EndVolts, -1)
	if r.dark != nil {
		return // only the instant counts
	}
	if !r.connected { // nothing is left to warn of
		e.Cause = Late
		return
	}
	e.Left = r.lasts(here.State)
	switch {
	case e.Charge >= EarlyCharge:
		e.Cause = Early
		if !r.early.seen {
			r.early = earlyNote{true, r.bus.out(float64(here.EndVolts))}
		}
	case e.Left < LateLeft:
		e.Cause = Late
	default:
		e.Cause = InTime
	}
}

// earlyNote is the first early alarm.
type earlyNote struct {
	seen bool
	amps float64
}

// lasts returns how long the power lasts from a state with the draw of now and
// nothing coming in: until the volts have been at the cut-off for its delay,
// or the battery gives out. It is NoSunLimit at most.
func (r *runner) lasts(s battery.State) time.Duration {
	drain := bus{watts: r.bus.watts, amps: r.bus.amps}
	around := battery.Around{Air: r.air}
	mark := r.spec.CutOff
	if r.guard.On() {
		mark = max(mark, r.guardSpec.UnderV)
	}
	total := 0.0
	const longest = 6 * 3600.0
	for h := 300.0; total < NoSunLimit.Seconds(); h = math.Min(2*h, longest) {
		if t, crossed := r.battery.Until(s, around, h, &drain, mark); crossed {
			return time.Duration((total + t + r.holdsOn(s, around, t, &drain)) * float64(time.Second))
		}
		s = r.battery.Step(s, around, h, &drain).State
		total += h
	}
	return NoSunLimit
}

// holdsOn returns how long the outlets stay on once the volts are at the
// cut-off, t seconds after a state: its delay, or less if the battery gives out.
func (r *runner) holdsOn(s battery.State, around battery.Around, t float64, drain *bus) float64 {
	delay := r.spec.CutOffDelay.Seconds()
	if delay == 0 {
		return 0
	}
	gone, crossed := r.battery.Until(r.battery.Step(s, around, t, drain).State, around, delay, drain, 0)
	if crossed {
		return gone
	}
	return delay
}

// silence ends the time under the alarm, so many seconds from now.
func (r *runner) silence(after float64) {
	if r.alarm {
		here := r.stepOf(after)
		r.tell(AlarmOff, r.now+after, here.State.Charge, here.EndVolts, -1)
	}
	r.alarm, r.alarmFor = false, -1
}

// steadyAlarm returns the first alarm with a cause that is not a device's
// start.
func (r *runner) steadyAlarm(cause AlarmCause) (Event, bool) {
	off := false
	for _, e := range r.out.Events {
		switch e.Kind {
		case CutOff:
			off = true
		case Reconnect:
			off = false
		case AlarmOn:
			if e.Index < 0 && e.Cause == cause && !off {
				return e, true
			}
		}
	}
	return Event{}, false
}
