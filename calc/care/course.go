package care

import (
	"math"

	"duskline/calc/battery"
	"duskline/calc/qty"
)

// A discharge, kept at some forty moments. The decision: the battery is
// stepped from one charge of a fixed list to about the next, so that a heavy
// draw and a year on a shelf cost the same, and what lies between two moments
// is stepped anew where somebody asks.

// grid is the charges at which a Tide is drawn: volts bend at the ends.
var grid = [...]float64{
	0, 0.0025, 0.005, 0.01, 0.015, 0.02, 0.03, 0.04, 0.05, 0.065, 0.08, 0.1, 0.125, 0.15, 0.175, 0.2, 0.225, 0.25, 0.3,
	0.35, 0.4, 0.45, 0.5, 0.55, 0.6, 0.65, 0.7, 0.75, 0.8, 0.85, 0.9, 0.925, 0.95, 0.97, 0.98, 0.99, 0.995, 1,
}

// under returns the place in grid of the greatest charge that is clearly less.
func under(charge float64) int {
	k := len(grid) - 1
	for k > 0 && grid[k] > charge-1e-4 {
		k--
	}
	return k
}

// A moment is the battery at one time, and what the bus draws from then on.
type moment struct {
	t     float64 // s
	st    battery.State
	volts qty.Volt
	bus   bus
}

// A course is a discharge under one draw.
type course struct {
	h      *house
	around battery.Around
	at     []moment
	dead   bool // the battery gives out at the last moment
	fell   bool // the inverter shut itself off on the way

	end  moment // where the outlets lose power, once it was asked for
	ends bool   // they do
	had  bool   // it was
}

// limits of a course, s
const (
	longest = 10 * 365.25 * 86400 // of a course
	stride  = 60 * 86400          // of a step
	first   = 86400               // of the first step of a battery that feeds nothing
)

// run discharges the battery from a state with a draw until it gives out, or
// for so many seconds.
func (h *house) run(from battery.State, air qty.Celsius, d pull, most float64) course {
	return h.runTo(from, air, d, most, 0)
}

// toCutOff is run as far as the outlets have power, and a little longer.
func (h *house) toCutOff(from battery.State, air qty.Celsius, d pull) course {
	mark := h.cuts[0].at
	for _, c := range h.cuts {
		mark = max(mark, c.at)
	}
	return h.runTo(from, air, d, longest, mark)
}

// runTo is run until the volts have been under a mark for as long as any
// delay.
func (h *house) runTo(from battery.State, air qty.Celsius, d pull, most float64, mark qty.Volt) course {
	c := course{h: h, around: battery.Around{Air: air}, at: h.spare[:0]}
	if h.spare = nil; c.at == nil {
		c.at = make([]moment, 0, 2*len(grid))
	}
	now := moment{st: from, bus: bus{watts: d.watts, amps: d.amps}}
	now.volts = h.battery.Volts(from, &now.bus)
	own := h.inverter.LowCutOff
	falls := d.ac > 0 && own > 0
	if falls && now.volts < own {
		now, falls = c.fall(now, d), false
	}
	c.at = append(c.at, now)
	rate, calm := 0.0, float64(stride) // charge a second; s in which the core moves by a kelvin
	for now.t < most {
		step := min(c.stride(now, rate, most), calm)
		low := mark > 0 && now.volts <= mark
		if low {
			step = h.longestDelay() + 1
		}
		st := h.battery.Step(now.st, c.around, step, &now.bus)
		if st.Empty || st.Short {
			c.give(now, step)
			return c
		}
		if falls && st.EndVolts < own {
			if t, _ := h.battery.Until(now.st, c.around, step, &now.bus, own); t > 0 {
				st, step = h.battery.Step(now.st, c.around, t, &now.bus), t
			}
			falls = false
			next := c.fall(moment{t: now.t + step, st: st.State}, d)
			now = next
		} else {
			rate = float64(now.st.Charge-st.State.Charge) / step
			if calm = stride; warmed(now.st, st.State) > kelvin {
				calm = max(step*kelvin/warmed(now.st, st.State), 60)
			}
			now = moment{t: now.t + step, st: st.State, volts: st.EndVolts, bus: now.bus}
		}
		if c.at = append(c.at, now); low && now.volts <= mark {
			break
		}
	}
	return c
}

// kelvin is how far the core may move in a step: what the cold does to a
// battery is that of the step's core.
const kelvin = 1

func warmed(a, b battery.State) float64 { return math.Abs(float64(b.Core - a.Core)) }

// done hands the memory of a course to the next one.
func (c *course) done() { c.h.spare = c.at }

// fall takes the inverter off the bus.
func (c *course) fall(m moment, d pull) moment {
	c.fell = true
	m.bus = bus{watts: d.watts - d.ac, amps: d.amps}
	m.volts = c.h.battery.Volts(m.st, &m.bus)
	return m
}

// stride is how long the next step is: to about the next charge of the grid.
func (c *course) stride(now moment, rate, most float64) float64 {
	s := float64(now.st.Charge)
	if rate <= 0 {
		amps := -now.bus.Net(float64(max(now.volts, 1)))
		rate = amps / 3600 / float64(c.h.battery.Holds())
	}
	step := float64(stride)
	switch {
	case rate > 0:
		step = (s - grid[under(s)]) / rate
	case now.t == 0:
		step = first // to see how fast it loses charge by itself
	}
	return max(min(step, stride, most-now.t), 1e-3)
}

// halvings is how closely give looks: to a thousandth of a step.
const halvings = 10

// give ends a course where the battery gives out inside a step: at the last
// time found at which what it gives is still real.
func (c *course) give(now moment, step float64) {
	c.dead = true
	lo, hi := 0.0, step
	for range halvings {
		mid := (lo + hi) / 2
		if st := c.h.battery.Step(now.st, c.around, mid, &now.bus); st.Empty || st.Short {
			hi = mid
		} else {
			lo = mid
		}
	}
	if lo > 0 {
		st := c.h.battery.Step(now.st, c.around, lo, &now.bus)
		c.at = append(c.at, moment{t: now.t + lo, st: st.State, volts: st.EndVolts, bus: now.bus})
	}
}

// last is the end of the course.
func (c *course) last() *moment { return &c.at[len(c.at)-1] }

// when returns the moment of a time within the course.
func (c *course) when(t float64) moment {
	k := len(c.at) - 1
	for k > 0 && c.at[k].t > t {
		k--
	}
	m := c.at[k]
	if t <= m.t {
		return m
	}
	st := c.h.battery.Step(m.st, c.around, t-m.t, &m.bus)
	return moment{t: t, st: st.State, volts: st.EndVolts, bus: m.bus}
}

// crossing is when the volts between two moments come down to a mark, to a
// hundred-thousandth of a volt: false position, the end that stays put weighed
// less each time. Both ends are known, which saves half of what
// [battery.Battery.Until] would step.
func (c *course) crossing(a, b *moment, mark qty.Volt) float64 {
	const close = 1e-5
	lo, hi := 0.0, b.t-a.t
	over, under := float64(a.volts-mark), float64(b.volts-mark)
	for n := 0; n < 40 && under < -close && hi-lo > 1e-9*(b.t-a.t); n++ {
		t := lo + (hi-lo)*over/(over-under)
		if n%4 == 3 {
			t = (lo + hi) / 2
		}
		st := c.h.battery.Step(a.st, c.around, t, &a.bus)
		if v := float64(st.EndVolts - mark); v > 0 {
			lo, over, under = t, v, under/2
		} else {
			hi, over, under = t, over/2, v
		}
	}
	return a.t + hi
}

// hair is how far, in V, volts may stand over a mark and still count as under
// it: what one step calls its last volts and the next one its first.
const hair = 1e-6

// falls returns the moment at which the volts have been at or under a mark
// for a delay. False: they never are while the battery lasts.
func (c *course) falls(mark qty.Volt, delay float64) (moment, bool) {
	for k := range c.at {
		m := &c.at[k]
		var t float64
		switch {
		case m.volts <= mark:
			if k > 0 && c.at[k-1].volts <= mark {
				continue // was found already, and did not stay
			}
			t = m.t
			if k > 0 && m.bus == c.at[k-1].bus {
				t = c.crossing(&c.at[k-1], m, mark)
			}
		default:
			continue
		}
		if t+delay > c.last().t+hair {
			return moment{}, false
		}
		if x := c.when(t + delay); x.volts <= mark+hair {
			return x, true
		}
	}
	return moment{}, false
}

// over returns the moment at which the outlets lose power: by the Case's
// cut-off, by the protection of the cells, or because the battery gives out.
// False: none of it comes within the course.
func (c *course) over() (moment, bool) {
	if c.had {
		return c.end, c.ends
	}
	c.had, c.end, c.ends = true, *c.last(), c.dead
	for _, m := range c.h.cuts {
		if x, falls := c.falls(m.at, m.delay); falls && (!c.ends || x.t < c.end.t) {
			c.end, c.ends = x, true
		}
	}
	return c.end, c.ends
}

// longestDelay is that of alarm and cuts, s.
func (h *house) longestDelay() float64 {
	d := h.spec.AlarmDelay.Seconds()
	for _, c := range h.cuts {
		d = max(d, c.delay)
	}
	return d
}

// A cut is a mark at which the outlets lose power, with its delay, s.
type cut struct {
	at    qty.Volt
	delay float64
}
