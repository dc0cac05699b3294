package battery

// What flows in a step: up to what the battery has, and up to what it takes.

// discharge solves a step that starts with the bus drawing i amps at the volts
// that the battery has by itself.
func (w *work) discharge(bus Bus, i float64) flow {
	v, i, found := w.root(bus, i, w.v0/2)
	if !found {
		v = w.v0 / 2
		i = w.amps(v, (v-w.v0)/w.eff, 0, 0)
	}
	r := flow{amps: i, asked: i, moved: w.moved(i), volts: v, short: !found}
	if w.a1+w.b1*r.moved <= 0 {
		// Constant amps that empty the free well at the very end.
		r.empty = true
		r.moved, r.amps = 0, 0
		if w.perAmp > 0 {
			r.moved = -w.a1 / w.b1
			r.amps = r.moved / w.perAmp
		}
	}
	return r
}

// charge solves a step that starts with the bus offering i amps at the volts
// that the battery has by itself.
//
// The battery takes what it is given up to the volts at which charging is
// held. What it is given may be more than it accepts, or than leaves it under
// those volts at the end of the step: then it takes that much.
func (w *work) charge(bus Bus, i float64) flow {
	top := w.b.top
	refused := w.core < w.b.noChargeBelow
	if w.v0 >= top {
		return flow{volts: w.v0, held: true, refused: refused}
	}
	most := 0.0
	if !refused {
		most = w.accepts()
		if v, i, found := w.root(bus, i, top); found && i <= most {
			if stands, _ := w.stands(i); stands <= top {
				return flow{amps: i, asked: i, moved: w.moved(i), volts: v, meets: stands+i*w.ohms+w.lifted(i, 2*w.moved(i)) > top}
			}
		}
		most = w.upTo(top, most)
	}
	volts := w.volts(most)
	if volts >= top {
		// Constant volts: the drop over the resistance is what is left of them.
		i = w.amps(top, 0, most, (top-w.v0)/(volts-w.v0)*most)
		return flow{amps: i, asked: i, moved: w.moved(i), volts: top, held: true, refused: refused}
	}
	// Constant amps: the volts rise until the bus offers no more than that, or
	// until charging is held.
	r := flow{amps: most, asked: most, moved: w.moved(most), volts: top, refused: refused, over: true}
	if r.held = w.net(bus, top) >= most; !r.held {
		r.volts = w.falling(bus, most, volts, top)
	}
	return r
}

// accepts returns the most amps, as the mean of the step, that the battery
// takes whatever the volts: up to a full free well, and never more than the
// missing amp-hours an hour. That rule makes the missing charge fall
// exponentially, so the mean is exact at any step.
func (w *work) accepts() float64 {
	b := w.b
	most := limit
	if w.perAmp > 0 {
		room := max((1-w.a1)/w.b1, 0)
		most = min(most, b.layers.intake.put(w.s0, min(room, 1-w.s0))/w.perAmp)
	}
	if b.acceptHours > 0 {
		rate := b.capacity * (1 - w.s0) / b.acceptHours
		_, mean := decays(b.layers.intake.at(w.s0) * w.h / b.acceptHours)
		most = min(most, rate*mean)
	}
	return most
}
