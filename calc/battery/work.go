package battery

import "math"

// A work is one step under way. The decision: all that a step brings with it,
// wells, slow part and self-discharge, is worked out once, as straight lines
// in the charge moved and the amps; what is left to be solved is a curve that
// rises with the amps.
type work struct {
	b        *Battery
	h        float64 // h
	s0       float64 // charge
	core0    float64 // °C, at the start
	core     float64 // °C, mean of the step but for the battery's own heat
	cooled   float64 // share of a difference to the air that is left at the end
	air, sun float64 // °C, W
	base     float64 // charge at the end if nothing is moved
	lost     float64 // by self-discharge, s0 - base

	// Free head for a charge m moved: a1 + b1·m at the end, and a0 + b0·m
	// where it would have to start to have its mean by going there evenly.
	a0, b0, a1, b1 float64
	gone           float64 // share of a difference between the wells that levels in the step

	line []knot // on which the free head is at the end if nothing is moved

	perAmp float64 // charge moved by an ampere, if all of it stays
	lean   float64
	slow   float64 // V over the slow part, at the start
	kept   float64 // of them at the end, share
	ohms   float64 // Ω, fast part
	r1     float64 // Ω, slow part
	eff    float64 // Ω, of the mean of the step: fast, and what of the slow one has come by then
	shift  float64 // V, by temperature
	off    float64 // V, that do not go by the amps: what is left of the slow part, shift by temperature
	v0     float64 // V, mean if nothing flows
	bad    bool    // the bus answered NaN
}

func (w *work) begin(b *Battery, from *State, around *Around, seconds float64) {
	w.b = b
	if !(seconds > 0) {
		seconds = 0
	}
	w.h = min(seconds, 1e7) / 3600
	w.s0 = within(float64(from.Charge))
	w.perAmp = w.h / b.capacity
	w.core0 = inside(float64(from.Core), coreLeast, coreMost)
	w.air = inside(float64(around.Air), coldest, hottest)
	w.sun = inside(float64(around.Sun), 0, 1e6)
	w.core = w.core0
	if !b.lump.still {
		w.cooled, w.core = b.lump.cools(w.core0, w.air, w.sun, w.h*3600)
	}
	w.lean = inside(from.Lean, -1, 1)
	at, cold := b.layers.atCharge(w.s0), b.layers.atCore(w.core)
	w.ohms = b.ohms * at.ohms * cold.ohms
	w.shift = at.shift * b.layers.shifted(w.core)
	w.off = w.shift

	left := 1.0 // after self-discharge
	if x := cold.standing * w.h; x > 0 {
		left = decay(x)
	}
	w.base = w.s0 * left
	w.lost = w.s0 - w.base

	w.a0, w.a1, w.b1 = w.s0, w.base, 1
	if b.free < 1 {
		f0 := within(float64(from.Free))
		// Heads of the bound well from 0 to 1 are what the charge allows.
		f0 = min(max(f0, 1-(1-w.s0)*b.whole), w.s0*b.whole)
		x := cold.exchange * w.h
		kept, mean := decays(x)
		w.gone = 1 - kept
		fast := 2*mean - kept // what the even way starts from
		d := w.s0 - f0
		w.a0 = w.s0 - d*fast
		w.a1 = (w.s0 - d*kept) * left
		w.b1 = 1 + b.bound*mean
		if x > soon {
			w.b0 = b.bound * (1 - fast) / x
		} else { // to 1e-5 of it
			w.b0 = b.bound * x * (1.0/6 - x*(1.0/12-x*(1.0/40-x*(1.0/180))))
		}
	}
	w.kept, w.eff = 1, w.ohms
	if b.slow > 0 {
		w.slow = inside(float64(from.Slow), -mostSlow, mostSlow)
		w.r1 = w.ohms * b.slow
		kept, mean := decays(w.h * b.tau)
		w.kept = kept
		w.off += w.slow * mean
		w.eff += w.r1 * (1 - mean)
	}
	k := b.curve.line(inside(w.a1, 0, 1))
	w.line = b.curve.knots[k : k+2]
	w.v0 = w.volts(0)
}

// mostSlow bounds the volts over a slow part that a state may bring.
const mostSlow = 20.0

// inside returns x, or the nearer of two ends. NaN counts as the lower one.
func inside(x, low, high float64) float64 {
	if !(x > low) {
		return low
	}
	if x > high {
		return high
	}
	return x
}

// decay returns exp(-x).
func decay(x float64) float64 {
	if x < 1e-4 {
		return 1 - x*(1-x/2)
	}
	return math.Exp(-x)
}

// soon is under how many time constants a decay is worked out by a fraction
// instead of an exponential.
const soon, long = 0.3, 8.0

// decays returns what is left at the end of x time constants of something that
// decays, exp(-x), and its mean until then, (1 - exp(-x))/x. Under soon it is
// the third of Padé's fractions, off by 1e-8; from there to long, that of exp
// for a sixteenth of it, squared four times, off by less than 1e-9. WebAssembly
// has no exponential of its own.
func decays(x float64) (end, mean float64) {
	if x < soon {
		mean = (1 + x*x*(1.0/60)) / (1 + x*(0.5+x*(0.1+x*(1.0/120))))
		return 1 - x*mean, mean
	}
	if x < long {
		y := x * (1.0 / 16)
		even, odd := 1+y*y*(1.0/10), y*(0.5+y*y*(1.0/120))
		end = (even - odd) / (even + odd)
		end *= end
		end *= end
		end *= end
		end *= end
	} else {
		end = math.Exp(-x)
	}
	return end, (1 - end) / x
}

// quick returns the same as decays, to 5e-7, without an exponential: from soon
// on the middle one of Padé's fractions for a sixteenth of it, squared four
// times. It falls throughout, as a solver needs it.
func quick(y float64) (end, mean float64) {
	if y < soon {
		mean = (1 + y*y*(1.0/60)) / (1 + y*(0.5+y*(0.1+y*(1.0/120))))
		return 1 - y*mean, mean
	}
	if y > 55 {
		return 0, 1 / y
	}
	x := y * (1.0 / 16)
	even, odd := 1+x*x*(1.0/12), x/2
	e := (even - odd) / (even + odd)
	e *= e
	e *= e
	e *= e
	e *= e
	return e, (1 - e) / y
}

// limit bounds the amps that a bus may answer, so that no sum overflows.
const limit = 1e9

// net asks the bus.
func (w *work) net(bus Bus, v float64) float64 {
	i := bus.Net(v)
	switch {
	case i > limit:
		return limit
	case i < -limit:
		return -limit
	case i != i:
		w.bad = true
		return 0
	}
	return i
}

// moved returns the charge that i amps move.
func (w *work) moved(i float64) float64 {
	q := w.perAmp * i
	if q > 0 {
		return w.b.layers.intake.moved(w.s0, q)
	}
	return q
}

// volts returns the mean volts of the step for i amps. A free head that would
// pass empty or full counts as far as there.
func (w *work) volts(i float64) float64 {
	m := w.moved(i)
	a, z := w.a0+w.b0*m, w.a1+w.b1*m
	var v float64
	if low, high := w.line[0].s, w.line[1].s; a >= low && a <= high && z >= low && z <= high {
		v = w.line[0].rest((a + z) / 2)
	} else {
		v, _, _ = w.b.curve.mean(within(a), within(z))
	}
	v += w.off + i*w.eff
	if i > 0 && w.b.half > 0 {
		v += w.lifted(i, m)
	}
	switch {
	case w.b.swing == 0:
	case i == 0:
		v += w.b.swing * w.lean
	default:
		v += w.b.swing * w.leaning(m)
	}
	return v
}

// lifted returns the volts by which i amps into it, that move m, raise it
// beyond what they drop over the resistance: those of the charge half way.
func (w *work) lifted(i, m float64) float64 {
	lift, _ := w.b.layers.lift(within(w.s0 + m/2))
	return lift * i / (i + w.b.half)
}

// rising returns the volts of the step for i amps, and by how much they rise
// with an ampere, but for what the hysteresis adds, V/A.
func (w *work) rising(i float64) (volts, slope float64) {
	m := w.moved(i)
	a, z := within(w.a0+w.b0*m), within(w.a1+w.b1*m)
	mean, va, vz := w.b.curve.mean(a, z)
	slope = w.eff
	if a != z && z > 0 && z < 1 {
		slope += w.perAmp * (w.b1*(vz-mean) + w.b0*(mean-va)) / (z - a)
	}
	v := mean + w.off + i*w.eff
	if i > 0 && w.b.half > 0 {
		lift, rise := w.b.layers.lift(within(w.s0 + m/2))
		share := 1 / (i + w.b.half)
		v += lift * i * share
		slope += (lift*w.b.half*share + rise*m/2) * share
	}
	if w.b.swing != 0 {
		v += w.b.swing * w.leaning(m)
	}
	return v, slope
}

// leaning returns the mean lean of a step that moves m.
func (w *work) leaning(m float64) float64 {
	if m < 0 {
		_, mean := quick(-m * w.b.lean)
		return -1 + (w.lean+1)*mean
	}
	_, mean := quick(m * w.b.lean)
	return 1 + (w.lean-1)*mean
}

// leanAfter returns the lean at the end of a step that moves m.
func (w *work) leanAfter(m float64) float64 {
	if m < 0 {
		end, _ := quick(-m * w.b.lean)
		return -1 + (w.lean+1)*end
	}
	end, _ := quick(m * w.b.lean)
	return 1 + (w.lean-1)*end
}

// stands returns the volts that the battery has at the end of a step of i amps
// into it, once they have stopped, and by how much they rise with an ampere,
// but for what the hysteresis adds, V/A.
func (w *work) stands(i float64) (volts, slope float64) {
	m := w.moved(i)
	k := 1.0
	if i > 0 {
		k = m / (i * w.perAmp)
	}
	z := w.a1 + w.b1*m
	slope = w.r1 * (1 - w.kept)
	v := w.shift + w.slow*w.kept + i*slope
	if z > 0 && z < 1 {
		knot := &w.b.curve.knots[w.b.curve.line(z)]
		v += knot.rest(z)
		slope += knot.slope * w.b1 * w.perAmp * k
	} else {
		v += w.b.curve.rest(within(z))
	}
	if w.b.swing != 0 {
		v += w.b.swing * w.leanAfter(m)
	}
	return v, slope
}
