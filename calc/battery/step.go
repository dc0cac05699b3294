package battery

import (
	"math"

	"duskline/calc/qty"
)

// A Bus is all that hangs on the battery's terminals.
type Bus interface {
	// Net returns the amps INTO the battery that everything on the bus
	// together gives (+) or draws (-) at v volts, v above 0. It must not
	// depend on anything but v while a step is solved, and should be without
	// jumps. A NaN is a slip of the caller: see Step.Short.
	Net(v float64) float64
}

// A Step is what became of a stretch of time. Amps × Volts × time is the
// change of Energy plus Heat plus ChargeLoss, to rounding.
type Step struct {
	State    State      // at the end
	Volts    qty.Volt   // mean of the step
	EndVolts qty.Volt   // at the end, with the bus still on
	Amps     qty.Ampere // into the battery, mean
	Gas      qty.Ampere // of them what only makes gas, mean

	// Held: the bus offers more than the battery takes, so whatever charges
	// it gives less than it could. The volts are those at which charging is
	// held, Spec.Charge; only a battery that rests above that keeps its rest
	// volts. The bus gives Amps, not Net(Volts).
	Held bool
	// Refused: too cold to charge; the bus offers, nothing is taken. Held is
	// set too, unless the bus just carries itself below Spec.Charge.
	Refused bool
	// Short: no solution at or above half the rest volts of the start: the
	// draw is more than the battery can give at all. The result is that of a
	// battery held at half its rest volts, the most it can give. Also set,
	// with no amps, if the bus answers NaN.
	Short bool
	// Empty: the charge is 0 at the end. If it got there inside the step,
	// Volts is the mean until then and Amps the mean over the whole step, so
	// the bus got less than it asked for.
	Empty bool

	Heat       qty.WattHour // resistance, and volts above what the battery needs while Held
	ChargeLoss qty.WattHour // amp-hours put in that do not stay
	Standing   qty.WattHour // self-discharge
}

// Step runs the battery for h seconds from charge s0 in air of that
// temperature, with one bus.
//
//	V  = mean + I·R       mean: rest volts averaged over the charge from s0 to s1
//	s1 = s0 + η·I·h/Q     η: coulombic efficiency while charging, else 1
//	I  = Net(V)           the greater root: constant watts have two
//
// Charging is held at Spec.Charge volts and at the charge that rests there,
// takes no more than the chemistry accepts, and nothing when it is too cold.
//
// A result that is Empty or Short still closes its energy, but the bus was
// not served as asked. The caller asks Until for the instant, steps that far,
// and goes on from there with another bus.
//
// s0 is 0 to 1, air -60 to 60 °C, h 0 to 1e7 s; h = 0 gives the volts of the
// instant. This is the inner loop and returns no error: beyond those ranges
// the nearest end counts (NaN: the lower one).
//
// Source: EnergyBalance.
func (b *Battery) Step(from State, around Around, h float64, bus Bus) Step {
	w := b.begin(float64(from.Charge), float64(around.Air), h)
	var st Step
	switch i := w.net(bus, w.v0); {
	case i < 0:
		st = w.discharge(bus, i)
	case i > 0:
		st = w.charging(bus, i, float64(around.Air) < b.noChargeBelow)
	default:
		st = w.still()
	}
	if w.bad {
		st = w.still()
		st.Short = true
	}
	st.State.Free, st.State.Core = st.State.Charge, qty.Celsius(breathable(float64(around.Air)))
	return st
}

// Volts returns the volts of the instant with that bus.
//
// Source: EnergyBalance.
func (b *Battery) Volts(from State, bus Bus) qty.Volt {
	st := b.Step(from, Around{Air: from.Core}, 0, bus)
	return st.Volts
}

// A work is one step under way. Charge moves by perAmp for each ampere.
type work struct {
	b      *Battery
	s0, v0 float64
	k0     int     // line of s0
	h      float64 // h
	ohms   float64
	eta    float64
	perAmp float64
	bad    bool // the bus answered NaN
}

func (b *Battery) begin(s0, air, seconds float64) work {
	s := within(s0)
	if !(seconds > 0) {
		seconds = 0
	}
	h := min(seconds, 1e7) / 3600
	w := work{b: b, s0: s, k0: b.curve.line(s), h: h, ohms: b.resistance(air), eta: 1, perAmp: h / b.capacity}
	w.v0 = b.curve.rest(s, w.k0)
	return w
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

// mean returns the mean rest volts of the step for i amps, and the charge and
// rest volts at its end. A battery that would pass empty or full inside the
// step has the mean as far as there.
func (w *work) mean(i float64) (mean, s1, v1 float64) {
	s1 = w.s0 + w.perAmp*i
	if s1 < 0 {
		s1 = 0
	} else if s1 > 1 {
		s1 = 1
	}
	mean, v1 = w.b.curve.mean(w.s0, w.v0, w.k0, s1)
	return mean, s1, v1
}

// volts returns the volts of the step for i amps.
func (w *work) volts(i float64) float64 {
	mean, _, _ := w.mean(i)
	return mean + i*w.ohms
}

// still is a step in which nothing flows.
func (w *work) still() Step {
	return Step{
		State: State{Charge: qty.Fraction(w.s0)}, Volts: qty.Volt(w.v0), EndVolts: qty.Volt(w.v0),
		Empty: w.s0 == 0,
	}
}

// discharge solves a step that starts with the bus drawing i amps at rest volts.
func (w *work) discharge(bus Bus, i float64) Step {
	_, i, found := w.root(bus, w.v0, i, w.v0/2)
	if !found {
		half := w.v0 / 2
		i = w.amps(half, (half-w.v0)/w.ohms, 0)
	}
	mean, s1, v1 := w.mean(i)
	amps, drop := i, i*w.ohms
	empty := s1 == 0
	if w.s0+w.perAmp*i < 0 {
		amps = -w.s0 / w.perAmp
	}
	if w.s0 == 0 {
		amps = 0
	}
	end := v1 / 2
	if found {
		end = w.ending(bus, i, mean+drop, v1)
	}
	return Step{
		State: State{Charge: qty.Fraction(s1)}, Volts: qty.Volt(mean + drop), EndVolts: qty.Volt(end), Amps: qty.Ampere(amps),
		Short: !found, Empty: empty,
		Heat: qty.WattHour(amps * drop * w.h),
	}
}

// charging solves a step that starts with the bus offering i amps at rest volts.
func (w *work) charging(bus Bus, i float64, refused bool) Step {
	b := w.b
	w.eta = b.coulombic
	w.perAmp *= w.eta
	most := 0.0
	if !refused {
		most = w.accepts()
	}

	// The battery takes what it is given up to a corner: the volts it has
	// when it takes the most it accepts, or the volts at which charging is
	// held. Below that corner, all that is offered.
	corner := min(w.volts(most), max(b.top, w.v0))
	if corner > w.v0 {
		if v, i, found := w.root(bus, w.v0, i, corner); found && i <= most {
			return w.charged(bus, i, v, i*w.ohms, false, refused)
		}
	}
	switch {
	case w.v0 >= b.top:
		return w.charged(bus, 0, w.v0, 0, true, refused)
	case corner >= b.top:
		// Constant volts: the drop over the resistance is what is left of them.
		i = w.amps(b.top, 0, most)
		return w.charged(bus, i, b.top, i*w.ohms, true, refused)
	}
	// Constant amps: the volts rise until the bus offers no more than that,
	// or until charging is held.
	v := b.top
	held := w.net(bus, v) >= most
	if !held {
		v = w.falling(bus, most, corner, v)
	}
	mean, _, _ := w.mean(most)
	return w.charged(bus, most, v, v-mean, held, refused)
}

// charged writes the result of i amps at v volts, over those of the mean.
func (w *work) charged(bus Bus, i, v, over float64, held, refused bool) Step {
	mean, s1, v1 := w.mean(i)
	if s1 > w.b.full && w.s0 <= w.b.full {
		s1 = w.b.full // i was chosen to end there; this is the last digit
	}
	end := v
	if !held && !refused && over == i*w.ohms {
		end = min(w.ending(bus, i, v, v1), max(w.b.top, v1))
	}
	return Step{
		State: State{Charge: qty.Fraction(s1)}, Volts: qty.Volt(v), EndVolts: qty.Volt(end), Amps: qty.Ampere(i),
		Held: held, Refused: refused, Empty: s1 == 0,
		Heat:       qty.WattHour(i * over * w.h),
		ChargeLoss: qty.WattHour(i * mean * (1 - w.eta) * w.h),
	}
}

// accepts returns the most amps, as the mean of the step, that the battery
// takes: up to the charge that rests at the volts at which charging is held,
// and never more than the missing amp-hours an hour. That rule makes the
// missing charge fall exponentially, so the mean is exact at any step.
func (w *work) accepts() float64 {
	b := w.b
	if w.s0 >= b.full {
		return 0
	}
	most := limit
	if w.perAmp > 0 {
		most = min(most, (b.full-w.s0)/w.perAmp)
	}
	if b.acceptHours > 0 {
		rate := b.capacity * (1 - w.s0) / b.acceptHours
		if x := w.eta * w.h / b.acceptHours; x > 0 {
			rate *= -math.Expm1(-x) / x
		}
		most = min(most, rate)
	}
	return most
}

// ending returns the volts at the end of a step, with the bus at its amps for
// those volts: one secant from the step's own solution, i amps at v volts.
func (w *work) ending(bus Bus, i, v, v1 float64) float64 {
	first := v1 + i*w.ohms
	move := first - v
	if math.Abs(move) < 1e-6 {
		return first
	}
	if first <= v1/2 {
		return v1 / 2
	}
	// first is right if the amps stay; a bus asked again may give others.
	rise := (w.net(bus, first) - i) * w.ohms
	if rise/move >= 1 {
		return v1 / 2 // collapses as it goes
	}
	return max(first+rise*move/(move-rise), v1/2)
}
