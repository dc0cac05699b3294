package outlook

import (
	"math"

	"duskline/calc/qty"
)

// The inverter's own low-voltage cut-off. The decision: it acts the instant
// the volts pass its mark, without a delay, and the sockets on DC stay on. It
// comes back where the volts stand at its other mark, after a minute at the
// least, or when somebody switches it off and on.

// lowCut prepares a part with the outlets connected: it switches the inverter
// where its volts say so, and returns the shorter time for which it stays as
// it is.
func (r *runner) lowCut(left float64) float64 {
	if r.wants.down {
		return r.lowBack(left)
	}
	if !r.on.live[ac] {
		return left
	}
	low := r.below(r.wants.inverter.LowCutOff, r.stepOf(left), left, false)
	switch {
	case low.none():
		return left
	case low.from > 0:
		return low.from
	}
	r.lowAt = r.now
	r.switchInverter(InverterLow, true)
	return r.lowBack(left)
}

// lowBack prepares a part in which the inverter has shut itself off.
func (r *runner) lowBack(left float64) float64 {
	low := r.below(r.wants.inverter.LowReconnect, r.stepOf(left), left, false)
	if !low.none() && low.from == 0 {
		return math.Max(low.to, tick) // to where the volts are back
	}
	wait := r.lowAt + shortestOff - r.now
	if wait > tick {
		if !low.none() {
			wait = math.Min(wait, low.from)
		}
		return math.Min(left, wait)
	}
	r.switchInverter(InverterBack, false)
	return r.lowCut(left)
}

// switchInverter lets the inverter go down or come back, at this instant.
func (r *runner) switchInverter(kind EventKind, down bool) {
	volts := r.stepOf(0).EndVolts
	r.tell(kind, r.now, r.state.Charge, volts, -1)
	if down && !r.low.seen {
		r.low = lowNote{true, r.now, r.state.Charge, volts}
	}
	r.wants.down = down
	r.on = r.wants.step(r.middle, r.air)
	r.tellTrip()
	r.books.ask(r)
	r.loadBus()
}

// lowNote is the first time that the inverter shut itself off.
type lowNote struct {
	seen   bool
	at     float64
	charge qty.Fraction
	volts  qty.Volt
}
