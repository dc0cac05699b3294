package power

import (
	"math"

	"duskline/calc/qty"
)

// A converter's loss is known from its label, which states one efficiency, or
// one at full load and one at little. Two figures fix two terms and no more;
// which two is decided by physics: a loss that is there at any load where the
// efficiency falls towards little load, resistance where it rises.

// RatedVolts is the battery's volts for which a label's amps become watts:
// those of a nominal 12 V battery of four LiFePO4 cells. Common practice, no
// source.
const RatedVolts qty.Volt = 12.8

// Rated returns the watts into the battery to which Efficiency belongs.
//
//	Limit·RatedVolts
//
// Source: CommonPractice, that a label's efficiency is that of full load.
func (c Controller) Rated() qty.Watt { return qty.Power(RatedVolts, c.Limit) }

// lowLoad is the share of Rated to which Low belongs.
const lowLoad = 0.1

// LowRange returns what Low can be beside an efficiency at full load, 0.7 to 1.
//
//	least = e/(10 - 9·e)   the loss in watts is the same at both loads
//	most  = 10·e/(1 + 9·e) the loss grows with the square of the watts
//
// Under the one the loss would fall as the load grows, above the other it
// would grow faster than that of a resistance. Where e is 1 both are 1.
//
// Source: EnergyBalance.
func LowRange(e qty.Fraction) (least, most qty.Fraction) {
	// A little is left for the last digit of a figure that lies on the edge.
	const slack = 1e-12
	return e / (10 - 9*e) * (1 - slack), min(1, 10*e/(1+9*e)*(1+slack))
}

// A loss is what a converter takes of the watts that pass it. It is kept small:
// every Offer carries one.
//
//	in - out of the volts     drop: a PWM controller, which has no converter
//	in = out/eff              share
//	in = out/eff + term       idling, W
//	in = out/eff + term·out²  resistive, 1/W
type loss struct {
	eff   qty.Volt // a factor of volts and watts
	term  float64
	shape shape
}

type shape uint8

const (
	drop shape = iota
	share
	idling
	resistive
)

// loss returns the curve through Efficiency at Rated and Low at a tenth of it.
func (c *Controller) loss() loss {
	if c.Kind == PWM {
		return loss{}
	}
	if c.Low == 0 || c.Low == c.Efficiency {
		return loss{eff: qty.Volt(c.Efficiency), shape: share}
	}
	r := float64(c.Rated())
	a, b := 1/float64(c.Efficiency)-1, 1/float64(c.Low)-1 // loss per watt out
	if b > a {
		// term + k·r = a·r and term + k·r/10 = b·r/10
		k := (a - lowLoad*b) / (1 - lowLoad)
		return loss{eff: qty.Volt(1 / (1 + k)), shape: idling, term: (a - k) * r}
	}
	// k + term·r = a and k + term·r/10 = b
	k := (b - lowLoad*a) / (1 - lowLoad)
	return loss{eff: qty.Volt(1 / (1 + k)), shape: resistive, term: (a - k) / r}
}

// out returns what is left of so many watts; none of fewer than are lost at
// any load.
func (l *loss) out(in qty.Watt) qty.Watt {
	eff := qty.Watt(l.eff)
	switch l.shape {
	case idling:
		return max(0, in-qty.Watt(l.term)) * eff
	case resistive:
		// out/eff·(1 + eff·term·out) = in, its greater root.
		p := max(0, in) * eff
		return p * qty.Watt(2/(1+math.Sqrt(1+4*float64(eff)*l.term*float64(p))))
	}
	return max(0, in) * eff
}

// in returns the watts that i amps at v volts need; 0 for 0.
func (l *loss) in(v qty.Volt, i qty.Ampere) qty.Watt {
	p := qty.Power(v/l.eff, i)
	if l.shape == share || i == 0 {
		return p
	}
	if l.shape == idling {
		return p + qty.Watt(l.term)
	}
	out := float64(v) * float64(i)
	return p + qty.Watt(l.term*out*out)
}

// Loss returns what an MPPT controller loses while so many watts go into the
// battery, 0 or more; at 0 W it sleeps. It is 0 for a PWM controller, whose
// loss is volts.
//
//	out·(1/Efficiency - 1)   with Low 0
//	fixed + k·out            through both figures, Low under Efficiency
//	k·out + square·out²      through both figures, Low above Efficiency
//
// Source: Schmidt1996, the terms of a quadratic loss; EnergyBalance.
func (c Controller) Loss(out qty.Watt) qty.Watt {
	l := c.loss()
	if l.shape == drop {
		return 0
	}
	return l.in(1, qty.Ampere(out)) - out
}
