package outlook

import (
	"time"

	"duskline/calc/battery"
	"duskline/calc/qty"
)

// tell writes an event, at so many seconds after the start.
func (r *runner) tell(kind EventKind, at float64, charge qty.Fraction, volts qty.Volt, index int) *Event {
	r.out.Events = append(r.out.Events, Event{
		At:     r.p.Trip.Start.Add(time.Duration(at * float64(time.Second))),
		Kind:   kind,
		Charge: charge,
		Volts:  volts,
		Index:  index,
	})
	return &r.out.Events[len(r.out.Events)-1]
}

// fullAt is the charge from which a held battery counts as full.
const fullAt = 0.995

// watchCharge looks for full and clipped, at the end of a part.
func (r *runner) watchCharge(st battery.Step, got share) {
	switch {
	case !r.full && st.Held && r.state.Charge >= fullAt:
		r.full = true
		r.tell(Full, r.now, r.state.Charge, st.EndVolts, -1)
	case r.full && r.state.Charge < fullAt-0.01:
		r.full = false
	}
	if got.beyond > 0.01 {
		if day := r.clock.Day(r.now); day > r.clipDay { // where the clock goes back over midnight, so does the date
			r.clipDay = day
			r.tell(Clipped, r.now, r.state.Charge, st.EndVolts, -1)
		}
	}
}

// watchCold looks for a refusal in a part that is about to count. It is over
// when the battery takes charge again; that gear takes all there is in between
// says nothing of the battery.
func (r *runner) watchCold(st battery.Step) {
	switch {
	case st.Refused && !r.refused:
		if _, told := r.first(ColdRefused, 1); !told {
			r.coldCore = r.state.Core
		}
		r.refused = true
		r.tell(ColdRefused, r.now, r.state.Charge, st.Volts, -1)
	case r.refused && !st.Refused && st.Amps > 0:
		r.refused = false
		r.tell(ColdOver, r.now, r.state.Charge, st.Volts, -1)
	}
}

// tellTrip writes the inverter's trips and returns, where its load changes. A
// cut-off leaves the question open until power is back.
func (r *runner) tellTrip() {
	trips := r.on.tripped >= 0
	if !r.connected || trips == r.tripped {
		return
	}
	r.tripped = trips
	r.loadBus()
	volts := r.stepOf(0).EndVolts
	if trips {
		r.tripper = r.on.tripped
		r.tell(Overload, r.now, r.state.Charge, volts, r.tripper)
	} else {
		r.tell(OverloadOver, r.now, r.state.Charge, volts, r.tripper)
	}
}
