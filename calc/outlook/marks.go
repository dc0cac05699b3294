package outlook

import (
	"math"

	"duskline/calc/battery"
	"duskline/calc/qty"
)

// When the volts of a part are under a mark.
//
// The decision: inside a part the volts may go one way only, or what they do
// there comes to no mark. While a load lasts they mostly fall, and while
// charge comes in they rise; but after a load has gone the slow part of the
// resistance and the bound well give volts back, so that they rise first and
// fall then, and after a charge has weakened they fall first. Such a part is
// cut where the volts turn, if a mark lies in between. So each part has one
// crossing at most, and its ends tell which.

// A span of a part, s after its start. It is empty if to is 0.
type span struct{ from, to float64 }

func (s span) none() bool { return s.to == 0 }

// flicker is how far, in V, the volts must stand above a mark at the start of
// a part before time under the mark starts anew. What one part calls its last
// volts and the next one its first differ by less.
const flicker = 1e-3

// Above steep the rest volts of a battery move by less than half of far, V, in
// a part: see farthest.
const (
	far   = 0.5
	steep = 0.15
)

// below returns when, in a part of h seconds with the result st, the volts
// are under a mark. already says that they were when the part before ended.
func (r *runner) below(mark qty.Volt, st battery.Step, h float64, already bool) span {
	if st.EndVolts >= mark+far && st.State.Free > steep && r.state.Free > steep && st.State.Slow-r.state.Slow < far/2 && !st.Short {
		return span{} // nearly every part
	}
	up, down := r.moves(st)
	if st.EndVolts >= mark && !st.Short {
		if st.EndVolts >= mark+up {
			return span{}
		}
		to, up := r.battery.UntilUp(r.state, r.around(), h, &r.bus, mark)
		switch {
		case to < tick:
			return span{}
		case !up || h-to < tick:
			to = h
		}
		return span{0, to}
	}
	if !st.Short && st.EndVolts+down < mark {
		return span{0, h} // at its start, too
	}
	first := r.stepOf(0)
	if first.Short || first.EndVolts < mark || already && first.EndVolts < mark+flicker {
		return span{0, h}
	}
	from := r.until(h, mark)
	if from < tick {
		from = 0
	}
	return span{from, h}
}

// moves returns by how much at most the volts of a part may have risen from
// its start to its end, and fallen: by what the slow part gave back or took,
// what the free well was filled up or emptied by, and what the bus draws less
// or more for it.
func (r *runner) moves(st battery.Step) (up, down qty.Volt) {
	slow := st.State.Slow - r.state.Slow
	if st.State.Free == r.state.Free && st.State.Lean == r.state.Lean {
		return 1.5*max(slow, 0) + flicker, 1.5*max(-slow, 0) + flicker
	}
	rest := r.battery.RestAt(st.State.Free, st.State.Core, st.State.Lean) - r.battery.RestAt(r.state.Free, r.state.Core, r.state.Lean)
	up, down = max(slow, 0)+max(rest, 0), max(-slow, 0)+max(-rest, 0)
	return 1.5*up + flicker, 1.5*down + flicker // amps move with the volts
}

// turn returns where the volts of a part turn, if they do and a mark lies
// between the turn and the ends; else the whole of it. st is its result.
func (r *runner) turn(st battery.Step, h float64) float64 {
	if h < 2*tick || st.Short || st.Held || st.Refused {
		return h
	}
	slow := float64(st.State.Slow - r.state.Slow) // what the slow part does to the volts
	free := float64(st.State.Free - r.state.Free) // and which way the wells do
	gap := float64(r.state.Charge-r.state.Free) - float64(st.State.Charge-st.State.Free)
	out := st.Amps <= 0
	if out {
		// Up first and down then: what is given back comes at once.
		if slow < flicker && !(gap > 1e-4) {
			return h
		}
	} else if slow > -flicker && !(gap < -1e-4) {
		return h
	}
	by := math.Abs(slow) + math.Abs(free)*4 + r.swing(gap)
	if !r.markNear(float64(st.EndVolts), by, out) {
		return h
	}
	return r.extreme(h, st, out)
}

// swing returns by how many volts the wells can move the terminals if they
// come so far together.
func (r *runner) swing(gap float64) float64 {
	if math.Abs(gap) <= 1e-4 {
		return 0
	}
	s := r.state
	return math.Abs(float64(r.battery.RestAt(s.Charge, s.Core, s.Lean) - r.battery.RestAt(s.Free, s.Core, s.Lean)))
}

// markNear says whether the volts may pass a mark on their way out and back:
// above v by so much, or below it.
func (r *runner) markNear(v, by float64, above bool) bool {
	lo, hi := v-flicker, v+by
	if !above {
		lo, hi = v-by, v+flicker
	}
	in := func(mark qty.Volt) bool { return float64(mark) > lo && float64(mark) < hi }
	s, i := &r.spec, &r.wants.inverter
	if in(s.Alarm) || r.connected && in(s.CutOff) || !r.connected && in(s.Reconnect) {
		return true
	}
	if r.guard.On() && r.guardNear(in) {
		return true
	}
	if !r.marked {
		return false
	}
	if i.LowCutOff > 0 && (in(i.LowCutOff) || in(i.LowReconnect)) {
		return true
	}
	mark, waits := r.stages.charging.Mark()
	return r.stages.on && (waits && in(mark) || in(r.stages.at))
}

// extreme finds where the volts turn, by the golden section: it needs no
// slope. A turn at an end is none.
func (r *runner) extreme(h float64, end battery.Step, most bool) float64 {
	const g = 0.6180339887498949
	value := func(t float64) float64 {
		v := float64(r.stepOf(t).EndVolts)
		if !most {
			return -v
		}
		return v
	}
	a, b := 0.0, h
	c, d := b-g*(b-a), a+g*(b-a)
	vc, vd := value(c), value(d)
	for range 40 {
		if b-a < 0.01 {
			break
		}
		if vc >= vd {
			b, d, vd = d, c, vc
			c = b - g*(b-a)
			vc = value(c)
		} else {
			a, c, vc = c, d, vd
			d = a + g*(b-a)
			vd = value(d)
		}
	}
	t := (a + b) / 2
	top, ends := value(t), math.Max(value(0), value(h))
	if t < 1 || h-t < 1 || top <= ends+flicker || !r.markNear(math.Abs(ends), top-ends+flicker, most) {
		return h
	}
	return t
}
