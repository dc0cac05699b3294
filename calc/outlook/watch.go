package outlook

import (
	"time"

	"duskline/calc/battery"
	"duskline/calc/qty"
)

// tell writes an event, at so many seconds after the start.
func (r *runner) tell(kind EventKind, at float64, charge qty.Fraction, volts qty.Volt, index int) {
	r.out.Events = append(r.out.Events, Event{
		At:     r.p.Trip.Start.Add(time.Duration(at * float64(time.Second))),
		Kind:   kind,
		Charge: charge,
		Volts:  volts,
		Index:  index,
	})
}

// watchAlarm looks for the alarm in a part of a step that is about to count.
// The alarm sounds when the volts have stayed under its mark for its delay.
func (r *runner) watchAlarm(st battery.Step, h float64) {
	if st.EndVolts >= r.spec.Alarm {
		if r.alarm {
			r.alarm = false
			r.tell(AlarmOff, r.now+h, st.Charge, st.EndVolts, -1)
		}
		r.alarmFor = -1
		return
	}
	if r.alarm {
		return
	}
	delay := r.spec.AlarmDelay.Seconds()
	before := r.alarmFor
	if before < 0 {
		before = -r.until(h, r.spec.Alarm)
	}
	r.alarmFor = before + h
	if r.alarmFor >= delay {
		r.alarm = true
		wait := min(max(delay-before, 0), h)
		here := r.stepOf(max(wait, 1e-3))
		r.tell(AlarmOn, r.now+wait, here.Charge, here.EndVolts, -1)
	}
}

// fullAt is the charge from which a held battery counts as full.
const fullAt = 0.995

// watchCharge looks for full, too cold and clipped.
func (r *runner) watchCharge(st battery.Step, got share) {
	switch {
	case !r.full && st.Held && r.charge >= fullAt:
		r.full = true
		r.tell(Full, r.now, r.charge, st.EndVolts, -1)
	case r.full && r.charge < fullAt-0.01:
		r.full = false
	}
	if st.Refused != r.refused && (st.Refused || got.sun+got.wall > 0) {
		r.refused = st.Refused
		kind := ColdOver
		if st.Refused {
			kind = ColdRefused
		}
		r.tell(kind, r.now, r.charge, st.EndVolts, -1)
	}
	if got.beyond > 0.01 && !st.Held && !st.Refused {
		if day := int((r.scene.offset + r.now/3600) / 24); day != r.clipDay {
			r.clipDay = day
			r.tell(Clipped, r.now, r.charge, st.EndVolts, -1)
		}
	}
}

// telltrip writes the inverter's trips and returns, at the start of a step.
func (r *runner) telltrip() {
	trips := r.connected && r.on.tripped >= 0
	if trips == r.tripped {
		return
	}
	r.tripped = trips
	volts := r.battery.Rest(r.charge)
	if trips {
		r.tripper = r.on.tripped
		r.tell(Overload, r.now, r.charge, volts, r.tripper)
	} else {
		r.tell(OverloadOver, r.now, r.charge, volts, r.tripper)
	}
}
