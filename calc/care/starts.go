package care

import "duskline/calc/qty"

// Devices that sound an alarm too soon. The decision: what counts is the
// highest mark at which a device would sound the alarm at a charge, found by
// stepping the battery through its start and its run on top of what else is
// on; one list of them serves every mark that is tried.

// runSeconds is how long a device that comes and goes is taken to run at a
// time. Common practice, no source.
const runSeconds = 600

// fulls are the charges at which starts are tried, from full down to
// EarlyCharge.
var fulls = [...]float64{1, 0.99, 0.95, 0.9, 0.8, 0.7, 0.6, 0.5, float64(EarlyCharge)}

// A sounding is a device and the mark that it sounds at each charge of fulls:
// by its start, by its run.
type sounding struct {
	device     int
	start, run [len(fulls)]qty.Volt
}

// sound tries every device.
func (t *trials) sound() (list []sounding) {
	h := t.h
	var from [len(fulls)]moment
	for k, s := range fulls {
		from[k] = t.usual.atCharge(s)
	}
	delay := h.spec.AlarmDelay.Seconds()
	for i := range h.devices {
		d := &h.devices[i]
		at, ok := h.pieceOf(d)
		if !ok {
			continue
		}
		var alone, starts sum
		alone.add(d, d.flat.Demand(at.middle, h.warm), 1)
		h.clip(&alone)
		starts = alone
		h.start(&starts, i, at.middle)
		run, start := h.onTop(i, &alone), h.onTop(i, &starts)
		one := sounding{device: i}
		for k := range fulls {
			m := from[k]
			surge := bus{watts: start.watts, amps: start.amps}
			if d.surgeS >= delay {
				one.start[k] = h.battery.Step(m.st, t.usual.around, d.surgeS-delay, &surge).EndVolts
			}
			st := h.battery.Step(m.st, t.usual.around, d.surgeS, &surge)
			on := bus{watts: run.watts, amps: run.amps}
			one.run[k] = h.battery.Step(st.State, t.usual.around, max(runSeconds-delay, 0), &on).EndVolts
		}
		list = append(list, one)
	}
	return list
}

// pieceOf is the first part of the day in which a device may run and has
// power.
func (h *house) pieceOf(d *device) (piece, bool) {
	for _, c := range h.pieces {
		if h.live(d, c) && d.model.On(c.middle) && d.model.Duty(h.warm) > 0 {
			return c, true
		}
	}
	return piece{}, false
}

// onTop is the draw of one device as it runs, and of the mean of all others
// in its hours.
func (h *house) onTop(i int, alone *sum) pull {
	others := h.usual(nil, i)
	mine := h.pull(alone, h.devices[i].socket == ac)
	none := sum{asleep: 1}
	idle := h.pull(&none, h.devices[i].socket == ac)
	return pull{watts: others.watts + mine.watts - idle.watts, amps: others.amps + mine.amps - idle.amps}
}

// at is the device as a False of a mark, if it sounds it at EarlyCharge or
// more.
func (s *sounding) at(mark qty.Volt) (False, bool) {
	start, run := highest(&s.start, mark), highest(&s.run, mark)
	f := False{Device: s.device, Charge: qty.Fraction(max(start, run)), ByStart: start > run}
	return f, f.Charge >= EarlyCharge
}

// highest is the greatest charge at which the volts are at or under a mark.
func highest(volts *[len(fulls)]qty.Volt, mark qty.Volt) float64 {
	for k, v := range volts {
		if v == 0 || v > mark {
			continue
		}
		if k == 0 {
			return 1
		}
		over, under := volts[k-1], v
		share := float64((mark - under) / (over - under))
		return fulls[k] + (fulls[k-1]-fulls[k])*share
	}
	return 0
}

// atCharge is the battery of a course at a charge, or at its end.
func (c *course) atCharge(s float64) moment {
	for k := range c.at {
		if float64(c.at[k].st.Charge) > s {
			continue
		}
		if k == 0 {
			return c.at[0]
		}
		a, b := &c.at[k-1], &c.at[k]
		share := (float64(a.st.Charge) - s) / float64(a.st.Charge-b.st.Charge)
		return c.when(a.t + (b.t-a.t)*share)
	}
	return *c.last()
}
