package power

import (
	"math"

	"duskline/calc/qty"
)

// The course of a charge, driven step by step. It knows no battery and no
// source: it says at which volts charging is held, and is told whether they
// were reached. It is a plain value; copying it keeps a state to return to.

// Stage is where a charge has come to.
type Stage uint8

// The stages.
const (
	Bulk       Stage = iota // all that the sources give, up to the volts of absorption
	Absorption              // held at those volts
	Floating                // held at the volts of Float
	Resting                 // nothing charges
)

// A Charging is a charge under way. [Stages.Begin] makes one.
type Charging struct {
	set  Stages
	at   Stage
	held float64 // s at the volts of absorption
}

// Begin returns a charge at its beginning, in bulk. s has passed Check.
func (s Stages) Begin() Charging { return Charging{set: s} }

// Stage returns where the charge has come to.
func (c *Charging) Stage() Stage { return c.at }

// Volts returns the volts at which charging is held while the battery has that
// temperature, and whether anything charges at all.
//
//	bulk, absorption:  Absorb + Shift(t)
//	floating:          Float + Shift(t)
//	resting:           0, false
//
// Source: CommonPractice, the stages themselves; the volts are those of Stages.
func (c *Charging) Volts(t qty.Celsius) (hold qty.Volt, charging bool) {
	switch c.at {
	case Resting:
		return 0, false
	case Floating:
		hold = c.set.Float
	default:
		hold = c.set.Absorb
	}
	if c.set.Compensation != 0 {
		hold += c.set.Shift(t)
	}
	return hold, true
}

// Left returns for how many seconds more the battery must be held at its volts
// until absorption is over: a caller that cuts its step there has results that
// do not hang on its length. It is +Inf where no such end is near: with Hold,
// floating, resting. In bulk it is all of Hours, counted from the first
// instant at which the battery is held.
func (c *Charging) Left() float64 {
	if c.set.After == Hold || c.at > Absorption {
		return math.Inf(1)
	}
	return max(0, c.set.Hours*3600-c.held)
}

// Mark returns the volts under which the charge begins anew, and whether it
// does so from this stage: a caller that seeks the instant asks for it. They do
// not change with heat.
//
// Source: CommonPractice.
func (c *Charging) Mark() (qty.Volt, bool) {
	return c.set.Resume, c.set.After != Hold && c.at != Bulk
}

// Advance tells the charge what so many seconds, above 0, were like: whether
// the battery was held at the volts that Volts named, because the sources gave
// more than it took, and its volts, the mean of the time.
//
// A battery that is held in bulk is in absorption. After Hours of being held,
// whatever clouds came in between, absorption is over. While it is not held
// and its volts are under Resume, the charge begins anew, from any stage; so a
// night with gear on it begins one, and floating in the heat at volts under
// Resume does not. One call makes one move at most.
func (c *Charging) Advance(seconds float64, held bool, v qty.Volt) {
	switch {
	case held && c.at <= Absorption:
		c.at = Absorption
		c.held += seconds
		if c.Left() > settled {
			return
		}
		if c.at = Resting; c.set.After == Float {
			c.at = Floating
		}
	case !held && c.at != Bulk && c.set.After != Hold && v < c.set.Resume:
		c.at, c.held = Bulk, 0
	}
}

// settled is how near to its end absorption is over, s.
const settled = 1e-6
