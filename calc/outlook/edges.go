package outlook

import "math"

// The instants at which something is switched by the clock, and what becomes
// of them on the day on which the clock itself is moved.
//
// The decision: whatever a clock switches goes by the clock. An hour that the
// clock leaves out switches nothing, and one that it shows twice switches
// twice: a lamp from 2 to 3 stays dark on one night of the year and burns for
// two hours on another. A refill is energy, so many times a day, and goes on
// by the clock as it was until it would be off by the old one and the new one
// alike: it neither falls out nor comes twice. (demand.go)

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

// ofTheDay returns the hour of the day, 0 up to 24. math.Mod gives the same
// and takes ten times as long in WebAssembly.
func ofTheDay(h float64) float64 { return h - 24*math.Floor(h/24) }
