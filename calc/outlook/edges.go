package outlook

import (
	"math"

	"duskline/calc/load"
)

// The instants at which something is switched by the clock, and what becomes
// of them on the day on which the clock itself is moved.
//
// The decision: whatever a clock switches goes by the clock. An hour that the
// clock leaves out switches nothing, and one that it shows twice switches
// twice: a lamp from 2 to 3 stays dark on one night of the year and burns for
// two hours on another. A refill is energy, so many times a day, and is not to
// fall out or come twice: it goes on by the clock as it was until none of its
// hours lie between what the old one and the new one show.

// nextEdge returns the next instant, in s after the start, at which something
// is switched by the clock or the clock is moved.
func (r *runner) nextEdge() float64 {
	moves := r.clock.Changes()
	for r.moved < len(moves) && moves[r.moved] <= r.now {
		r.wants.move(r.clock.Moved(r.moved).Hours())
		r.moved++
	}
	hour := r.clock.Hour(r.now)
	next := r.now + r.untilEdge(hour)
	for _, old := range r.wants.old {
		if old != 0 {
			next = math.Min(next, r.now+r.untilEdge(ofTheDay(hour+old)))
		}
	}
	if r.moved < len(moves) {
		next = math.Min(next, moves[r.moved])
	}
	return next
}

// untilEdge returns how many seconds after an hour of the day the next of the
// Plan's hours comes.
func (r *runner) untilEdge(hour float64) float64 {
	const same = 1e-6 // h
	for _, e := range r.hours {
		if e > hour+same {
			return (e - hour) * 3600
		}
	}
	if len(r.hours) == 0 {
		return math.Inf(1)
	}
	return (r.hours[0] + 24 - hour) * 3600
}

// move puts the clock forward by so many hours. Refills stay with the old one.
func (w *wants) move(hours float64) {
	if w.old == nil {
		w.old = make([]float64, len(w.devices))
	}
	for i, list := range w.refills {
		if list != nil {
			w.old[i] = math.Remainder(w.old[i]-hours, 24) // -12 to 12
		}
	}
}

// hourOf returns the hour by which a device goes.
func (w *wants) hourOf(device int, hour float64) float64 {
	ahead := w.old[device]
	if ahead == 0 {
		return hour
	}
	old := ofTheDay(hour + ahead)
	from := hour
	if ahead < 0 {
		from = old
	}
	if anyWithin(w.refills[device], from, math.Abs(ahead)) {
		return old
	}
	w.old[device] = 0
	return hour
}

// anyWithin says whether any of the windows has a part in the span that
// begins at an hour of the day.
func anyWithin(list []load.Window, from, length float64) bool {
	if load.In(list, from) {
		return true
	}
	for _, w := range list {
		if ofTheDay(w.From-from+24) < length {
			return true
		}
	}
	return false
}

// ofTheDay returns the hour of the day, 0 up to 24. math.Mod gives the same
// and takes ten times as long in WebAssembly.
func ofTheDay(h float64) float64 { return h - 24*math.Floor(h/24) }
