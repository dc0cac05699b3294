package outlook

import (
	"math"

	"duskline/calc/battery"
	"duskline/calc/plan"
	"duskline/calc/power"
	"duskline/calc/qty"
)

// The stages of a charge. The decision: one course of stages for the battery,
// whatever charges it, with the volts moved by the battery's temperature. A
// part ends where the volts reach those of the stage, where absorption is over
// and where a charge begins anew, so that all of it does not hang on the step.
//
// A charger gives nothing into a battery whose volts stand above its own: gear
// then runs from the battery until they are down. While charging rests the
// same holds for as long as the volts are over the mark, but for a minute at
// least: gear that pulls them under it at once would make it chatter.

// stages is the course of the charge with the battery held at its volts.
type stages struct {
	on       bool // false: charge_V is held for good, at any heat
	charging power.Charging
	base     *battery.Battery
	held     battery.Battery // base, held at
	at       qty.Volt
	done     bool    // absorption was over; that a charge began anew is still to be told
	since    float64 // s after start, when it was
}

func stagesOf(b plan.Battery) stages {
	s := b.Stages()
	if s.After == power.Hold && s.Compensation == 0 {
		return stages{}
	}
	return stages{on: true, charging: s.Begin()}
}

// stage prepares a part of so many seconds, and returns the shorter time for
// which it is of one stage.
func (r *runner) stage(left float64) float64 {
	s := &r.stages
	r.bus.closed = false
	if !r.bus.gives() {
		return left
	}
	hold, charges := s.charging.Volts(r.state.Core)
	if !charges {
		return r.resting(left)
	}
	r.holdAt(hold)
	bulk := s.charging.Stage() == power.Bulk
	if r.rests() > hold {
		r.bus.closed = true
		if r.stepOf(0).EndVolts >= hold {
			if r.stepOf(left).EndVolts < hold {
				left = math.Max(r.until(left, hold), tick)
			}
			return math.Min(left, math.Max(s.charging.Left(), tick))
		}
		r.bus.closed = false // the draw alone pulls the volts under the stage's
	}
	if bulk {
		if st := r.stepOf(left); st.EndVolts < hold || st.Refused {
			return left
		}
		if t, _ := r.battery.UntilUp(r.state, r.around(), left, &r.bus, hold); t >= tick {
			return t
		}
	}
	need := s.charging.Left()
	switch {
	case need >= tick:
		return math.Min(left, need)
	case r.stepOf(left).Held:
		if s.done {
			r.tellAgain() // for no time at all
		}
		s.charging.Advance(tick, true, hold)
		r.tellStage()
		return r.stage(left)
	}
	return left
}

// resting prepares a part in which charging rests.
func (r *runner) resting(left float64) float64 {
	r.bus.closed = true
	mark, _ := r.stages.charging.Mark()
	if r.stepOf(left).EndVolts >= mark {
		return left
	}
	if wait := r.restFor(); wait >= tick {
		return math.Min(left, wait)
	}
	if t := r.until(left, mark); t >= tick {
		return t
	}
	r.stages.charging.Advance(tick, false, mark-1)
	return r.stage(left)
}

// restFor returns how many seconds more charging rests at least.
func (r *runner) restFor() float64 { return r.stages.since + shortestOff - r.now }

// rests returns the volts that the battery would show if nothing flowed: those
// of its free well, with what the last minutes left.
func (r *runner) rests() qty.Volt {
	s := &r.state
	return r.battery.RestAt(s.Free, s.Core, s.Lean) + s.Slow
}

// holdAt holds the battery at so many volts.
func (r *runner) holdAt(v qty.Volt) {
	s := &r.stages
	if s.base == nil {
		s.base = r.battery
	}
	if v != s.at || r.battery == s.base {
		s.at, s.held = v, s.base.HoldAt(v)
		r.battery = &s.held
	}
}

// watchStages tells the charge what a part was like that ended now.
func (r *runner) watchStages(st battery.Step, h float64) {
	c := &r.stages.charging
	was := c.Stage()
	if was == power.Resting && r.restFor() >= tick {
		return
	}
	held := st.Held && !st.Refused
	if r.bus.closed && was <= power.Absorption {
		held = true // above the volts of absorption
	}
	c.Advance(h, held, st.Volts)
	if now := c.Stage(); now != was && now > power.Absorption {
		r.tellStage()
	}
}

// tellStage writes that absorption is over.
func (r *runner) tellStage() {
	kind := Float
	if r.stages.charging.Stage() == power.Resting {
		kind = Resting
	}
	r.stages.done, r.stages.since = true, r.now
	r.tell(kind, r.now, r.state.Charge, r.stepOf(0).EndVolts, -1)
}

// tellCharging writes that a charge began anew, at the start of the first part
// in which something comes of it: in the dark it waits for the sun.
func (r *runner) tellCharging(got share) {
	if r.stages.charging.Stage() == power.Bulk && got.sun+got.fixed > 0 {
		r.tellAgain()
	}
}

func (r *runner) tellAgain() {
	r.stages.done = false
	r.tell(ChargesAgain, r.now, r.state.Charge, r.stepOf(0).EndVolts, -1)
}
