package battery

import "duskline/calc/qty"

// A Bus is all that hangs on the battery's terminals.
type Bus interface {
	// Net returns the amps INTO the battery that everything on the bus
	// together gives (+) or draws (-) at v volts, v above 0. It must not
	// depend on anything but v while a step is solved, and should be without
	// jumps. A NaN is a slip of the caller: see Step.Short.
	Net(v float64) float64
}

// A Step is what became of a stretch of time. Amps × Volts × time is the
// change of Energy plus Heat plus ChargeLoss plus Standing, to rounding.
type Step struct {
	State    State      // at the end
	Volts    qty.Volt   // mean of the step
	EndVolts qty.Volt   // at the end, with the bus still on
	Amps     qty.Ampere // into the battery, mean
	Gas      qty.Ampere // of them what only makes gas and heat, mean

	// Held: the bus offers more than the battery takes, so whatever charges
	// it gives less than it could. The volts are those at which charging is
	// held, Spec.Charge; only a battery that stands above that by itself keeps
	// its own volts. The bus gives Amps, not Net(Volts).
	Held bool
	// Refused: too cold to charge; the bus offers, nothing is taken. Held is
	// set too, unless the bus just carries itself below Spec.Charge.
	Refused bool
	// Short: no solution at or above half the volts that the battery has by
	// itself: the draw is more than it can give at all. The result is that of
	// a battery held at half of them, the most it can give. Also set, with no
	// amps, if the bus answers NaN.
	Short bool
	// Empty: the free well is at 0 at the end, and there may be Charge left in
	// the other one. If it got there inside the step, Amps is the constant
	// draw that empties it at the very end of it, so the bus got less than it
	// asked for, and Volts those of the draw that was asked for.
	Empty bool

	// Heat is all that neither is stored nor counted below: resistance fast
	// and slow, hysteresis, the way from well to well, and the volts above
	// what the battery needs while Held. What slow part, wells and hysteresis
	// took up comes back later, so that a single step may have less than 0;
	// over a cycle that comes back to its state it is not.
	Heat       qty.WattHour
	ChargeLoss qty.WattHour // amp-hours put in that do not stay
	Standing   qty.WattHour // self-discharge
}

// Step runs the battery for h seconds from a state, with one bus.
//
//	V     = mean rest volts of the free head + swing·lean + slow + I·R + L
//	L     = lift·I/(I + half), 0 while I < 0: what the amps of a charge raise
//	ds/dt = η·I/Q - λ·s             s: charge, Q: amp-hours that it holds
//	dd/dt = -k'·d - η·I/(c·Q)       d: head of the bound well over that of the
//	                                free one; free head = s - (1 - c)·d
//	dv/dt = (I·R1 - v)/τ            v: slow part
//	dl/ds = ±rate·(1 ∓ l)           l: lean, upper signs while charging
//	dT/dt = (heat + sun - W·(T - air))/C
//	I     = Net(V)                  the greater root: constant watts have two
//
// I is one figure over the step, and so is what goes by the core's temperature
// and the factor of the resistance by charge: those of the start. For constant
// amps all the rest is exact at any step, the mean of the free head too; only
// that the head's volts are averaged as if it went there evenly.
//
// Charging is held at Spec.Charge volts and where the battery would stand at
// these by itself, takes no more than the chemistry accepts, and nothing when
// it is too cold.
//
// A result that is Empty or Short still closes its energy, but the bus was
// not served as asked. The caller asks Until for the instant, steps that far,
// and goes on from there with another bus.
//
// around.Air is -60 to 60 °C, h 0 to 1e7 s; h = 0 gives the volts of the
// instant. This is the inner loop and returns no error: beyond the ranges of
// State, Around and h the nearest end counts (NaN: the lower one), and a free
// head that the charge does not allow is moved to the nearest that it does.
// The core is kept within -60 to 120 °C.
//
// Source: EnergyBalance, Manwell1993.
func (b *Battery) Step(from State, around Around, h float64, bus Bus) Step {
	var w work
	w.begin(b, &from, &around, h)
	var r flow
	switch i := w.net(bus, w.v0); {
	case i < 0:
		r = w.discharge(bus, i)
	case i > 0:
		r = w.charge(bus, i)
		if (r.held || r.meets) && w.lags(r.moved) {
			if st, ok := b.halves(from, around, h, bus); ok {
				return st
			}
		}
	default:
		r = flow{volts: w.v0}
	}
	if w.bad {
		r = flow{volts: w.v0, short: true}
	}
	return w.end(bus, &r)
}

// Bounds of a step with two wells that is held, or meets the hold at its end.
// Its amps fall as the free well fills, while the step has them as constant:
// the free well would be found full with too much of the charge still on its
// way from there to the other. So such a step is made in halves until that is
// little, or the step is short.
const (
	lagging = 0.0008       // of the charge
	brief   = 100.0 / 3600 // h
)

// lags says whether constant amps that move m leave more than a little of it
// in the free well, and long enough for it to have gone on.
func (w *work) lags(m float64) bool {
	return w.h > brief && (w.b1-1)*m*w.gone*w.gone > lagging
}

// halves makes a step as two of half its length, if both of them charge and
// one is held.
// The volts are those that give the energy of both.
func (b *Battery) halves(from State, around Around, h float64, bus Bus) (Step, bool) {
	st := b.Step(from, around, h/2, bus)
	z := b.Step(st.State, around, h/2, bus)
	sum := qty.Volt(st.Amps + z.Amps)
	if st.Amps < 0 || z.Amps < 0 || !(sum > 0) || !st.Held && !z.Held || st.Short || z.Short {
		return Step{}, false
	}
	return Step{
		State: z.State, Volts: (st.Volts*qty.Volt(st.Amps) + z.Volts*qty.Volt(z.Amps)) / sum, EndVolts: z.EndVolts,
		Amps: (st.Amps + z.Amps) / 2, Gas: (st.Gas + z.Gas) / 2,
		Held: true, Refused: z.Refused, Empty: z.Empty,
		Heat: st.Heat + z.Heat, ChargeLoss: st.ChargeLoss + z.ChargeLoss, Standing: st.Standing + z.Standing,
	}, true
}

// Volts returns the volts of the instant with that bus.
//
// Source: EnergyBalance.
func (b *Battery) Volts(from State, bus Bus) qty.Volt {
	return b.Step(from, Around{Air: from.Core}, 0, bus).Volts
}

// A flow is what was found to flow in a step.
type flow struct {
	amps  float64 // A, mean, what the battery got
	moved float64 // charge moved by them
	asked float64 // A, constant, that the volts are of; amps but for a battery that gives out
	volts float64

	held, refused, short, empty bool
	over                        bool // the volts are above those of the amps
	meets                       bool // the hold, at the end of the step
}

// end writes what a flow makes of the battery.
func (w *work) end(bus Bus, r *flow) Step {
	b := w.b
	s1 := within(w.base + r.moved)
	f1 := within(w.a1 + w.b1*r.moved)
	switch {
	case b.free == 1:
		f1 = s1
		if r.empty {
			s1, f1 = 0, 0
		}
	case r.empty:
		f1 = 0
	}
	lean := w.lean
	if b.swing != 0 && r.moved != 0 {
		lean = w.leanAfter(r.moved)
	}
	slow := w.slow*w.kept + r.amps*w.r1*(1-w.kept)

	mean, _, _ := b.curve.mean(w.s0, s1)
	in := r.amps * w.h
	heat := in * (r.volts - mean)
	gas := 0.0
	if r.amps > 0 && w.perAmp > 0 {
		gas = max(r.amps-r.moved/w.perAmp, 0)
	}
	loss := mean * gas * w.h
	standing := mean * w.lost * b.capacity

	core := w.air
	if !b.lump.still {
		core = w.core0
		if w.h > 0 {
			watts := w.sun + (heat+loss+standing)/w.h - b.venting*gas
			core = b.lump.after(core, w.air, watts, w.cooled)
		}
	}
	st := Step{
		State: State{
			Charge: qty.Fraction(s1), Free: qty.Fraction(f1),
			Slow: qty.Volt(slow), Lean: lean, Core: qty.Celsius(core),
		},
		Volts: qty.Volt(r.volts), Amps: qty.Ampere(r.amps), Gas: qty.Ampere(gas),
		Held: r.held, Refused: r.refused, Short: r.short, Empty: f1 == 0,
		Heat: qty.WattHour(heat), ChargeLoss: qty.WattHour(loss), Standing: qty.WattHour(standing),
	}
	st.EndVolts = qty.Volt(w.endVolts(bus, r, s1, f1, slow, lean, core))
	return st
}

// endVolts returns the volts at the end of a step, with the bus on: those that
// a step of no length from there has.
func (w *work) endVolts(bus Bus, r *flow, s1, f1, slow, lean, core float64) float64 {
	b := w.b
	if (r.held || r.over) && r.volts <= b.top {
		return r.volts
	}
	at := b.layers.atCharge(s1)
	rest := b.curve.rest(f1) + at.shift*b.layers.shifted(core) + b.swing*lean + slow
	if r.held || r.over {
		return max(rest, b.top)
	}
	if r.short && !w.bad {
		return rest / 2
	}
	if r.asked == 0 {
		return rest
	}
	ohms := b.ohms * at.ohms * b.layers.cold(core)
	above := rest
	if r.asked > 0 && b.half > 0 { // its tangent at those amps
		lift, _ := b.layers.lift(s1)
		share := 1 / (r.asked + b.half)
		slope := lift * b.half * share * share
		above += lift*r.asked*share - slope*r.asked
		ohms += slope
	}
	return min(w.ending(bus, r.asked, r.volts, above, ohms), max(b.top, rest))
}

// ending solves for the volts at the end of a step, with the bus at its amps
// for those volts: one secant from the step's own solution, i amps at v volts.
func (w *work) ending(bus Bus, i, v, rest, ohms float64) float64 {
	first := rest + i*ohms
	move := first - v
	if move < 1e-6 && move > -1e-6 {
		return first
	}
	if first <= rest/2 {
		return rest / 2
	}
	// first is right if the amps stay; a bus asked again may give others.
	rise := (w.net(bus, first) - i) * ohms
	if rise/move >= 1 {
		return rest / 2 // collapses as it goes
	}
	return max(first+rise*move/(move-rise), rest/2)
}
