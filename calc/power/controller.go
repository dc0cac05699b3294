package power

import (
	"duskline/calc/qty"
	"duskline/calc/wire"
)

// The controller sees panels as a curve and turns it into an offer of amps at
// battery volts; what is fixed for a step is found once, so that the battery's
// search for its volts asks as little as it can.

// A Curve is what a controller needs to know of the panels: the current at a
// voltage of 0 or more, never negative, and the maximum power point. A
// pointer that fits is passed without allocating.
type Curve interface {
	Current(qty.Volt) qty.Ampere
	MaxPower() (qty.Volt, qty.Ampere)
}

// Kind is how a controller joins panels and battery.
type Kind uint8

// The kinds.
const (
	PWM  Kind = iota // a switch: the panels work at battery volts
	MPPT             // a step-down converter: the panels work at their best volts
)

// SwitchDrop is what a PWM controller's switch, blocking diode and terminals
// leave between panels and battery. Common practice, no source: one Schottky
// diode.
const SwitchDrop qty.Volt = 0.4

// Headroom is how far the panels must stand above the battery for a
// step-down converter to work. Common practice, no source: 1 to 2 V.
const Headroom qty.Volt = 1

// A Controller is a solar charge controller. Start, Low and Night of 0 are
// those of a plain one: it works at any volts, is as good at a tenth of its
// watts as at all of them, and draws nothing in the dark.
type Controller struct {
	Kind       Kind
	Limit      qty.Ampere   // MPPT: of the battery's current; PWM: the rating, which the controller cannot enforce
	Efficiency qty.Fraction // at Rated watts; MPPT only, a PWM controller loses SwitchDrop instead
	Low        qty.Fraction // at a tenth of Rated; MPPT only; 0: as Efficiency
	Start      qty.Volt     // open-circuit volts of the panels from which it works; 0: any
	InputMax   qty.Volt     // most the panels may show, open circuit
	Standby    qty.Ampere   // its own draw from the battery while the panels give something; in no Offer
	Night      qty.Ampere   // its own draw while they give nothing
}

// Check returns nil for a Controller whose figures are in range: Limit 1 to
// 100 A, Efficiency 0.7 to 1, Low 0 or inside [LowRange] of Efficiency, Start 0
// or 5 to 200 V, InputMax 15 to 250 V, Standby and Night 0 to 1 A.
//
// Errors: *qty.RangeError.
func (c Controller) Check() error {
	for _, r := range []struct {
		what          string
		got, min, max float64
		unit          string
	}{
		{"Kind", float64(c.Kind), float64(PWM), float64(MPPT), ""},
		{"Limit", float64(c.Limit), 1, 100, "A"},
		{"Efficiency", float64(c.Efficiency), 0.7, 1, ""},
		{"InputMax", float64(c.InputMax), 15, 250, "V"},
		{"Standby", float64(c.Standby), 0, 1, "A"},
		{"Night", float64(c.Night), 0, 1, "A"},
	} {
		if err := qty.InRange(r.what, r.got, r.min, r.max, r.unit); err != nil {
			return err
		}
	}
	if c.Start != 0 {
		if err := qty.InRange("Start", float64(c.Start), 5, 200, "V"); err != nil {
			return err
		}
	}
	if c.Kind != MPPT || c.Low == 0 {
		return nil
	}
	least, most := LowRange(c.Efficiency)
	return qty.InRange("Low", float64(c.Low), float64(least), float64(most), "")
}

// Draw returns the controller's own draw from the battery, while its panels
// give something or while they do not.
//
// Source: EnergyBalance.
func (c Controller) Draw(lit bool) qty.Ampere {
	if lit {
		return c.Standby
	}
	return c.Night
}

// OverInput reports whether panels show more volts, open circuit, than the
// controller's input stands: give it those of the coldest, bright hour. A
// blocking diode takes nothing off them, since no current flows through it.
func (c Controller) OverInput(open qty.Volt) bool { return open > c.InputMax }

// RatingFor returns the amps that a PWM controller must be rated for with
// panels of this short-circuit current: 1.25 times as much, because snow and
// the edges of clouds give more light than the label's. It switches the whole
// current and has no way to refuse any of it.
//
// Source: NFPA70, article 690.8, the irradiance factor; that it cannot refuse is common practice, no source.
func RatingFor(shortCircuit qty.Ampere) qty.Ampere { return wire.PanelCurrent(shortCircuit) }

// An Offer is what a controller can give to the battery in one step. It holds
// for as long as the light and heat of its curve do. The zero Offer gives
// nothing.
type Offer struct {
	curve Curve
	limit qty.Ampere
	vmp   qty.Volt
	best  qty.Watt // into the battery, with the panels at vmp
	loss  loss
}

// Offer returns what the controller makes of a curve. It finds the maximum
// power point for an MPPT controller only, once; it keeps the curve. Panels
// whose open-circuit volts do not reach Start give the zero Offer.
func (c *Controller) Offer(curve Curve) Offer {
	if c.Start > 0 && !(curve.Current(c.Start) > 0) {
		return Offer{}
	}
	if c.Kind == PWM {
		return Offer{curve: curve}
	}
	v, i := curve.MaxPower()
	o := Offer{curve: curve, limit: c.Limit, vmp: v, loss: loss{eff: qty.Volt(c.Efficiency), shape: share}}
	if c.Low != 0 && c.Low != c.Efficiency {
		o.loss = c.loss()
	}
	o.best = o.loss.out(qty.Power(v, i))
	return o
}

// Live reports whether the controller works at all: false for the zero Offer,
// which is what panels under Start give.
func (o *Offer) Live() bool { return o.curve != nil }

// Amps returns the amps on offer at the battery's terminals at v volts, after
// the current limit.
//
//	PWM:  I(v + SwitchDrop)
//	MPPT: min(Limit, out(P)/v),  P = Pmp
//	      or, if Vmp < v + Headroom, P = (v + Headroom)·I(v + Headroom)
//
// out is what is left of the panels' watts after the converter's loss,
// eff·P where one figure is known: see [Controller.Loss]. A PWM controller does
// not clip: too large a panel is a fault of the pairing. Where hot panels stand
// too low for the converter, it works like a switch with its headroom for a
// drop; both forms meet at Vmp = v + Headroom. v is above 0, to 60 V.
//
// Source: EnergyBalance; SwitchDrop and Headroom are common practice, no source.
func (o *Offer) Amps(v qty.Volt) qty.Ampere {
	i := o.Unlimited(v)
	if o.loss.shape != drop && i > o.limit {
		return o.limit
	}
	return i
}

// Unlimited returns Amps as it would be without the current limit: less Amps,
// it is what clipping lost.
//
// Source: EnergyBalance; SwitchDrop and Headroom are common practice, no source.
func (o *Offer) Unlimited(v qty.Volt) qty.Ampere {
	if o.curve == nil {
		return 0
	}
	if o.loss.shape == drop {
		if i := o.curve.Current(v + SwitchDrop); i > 0 {
			return i
		}
		return 0
	}
	p := o.best
	if at := v + Headroom; o.vmp < at {
		p = o.loss.out(qty.Power(at, o.curve.Current(at)))
	}
	return qty.Ampere(qty.Volt(p) / v)
}

// PanelPower returns what the panels give at their own terminals while the
// battery takes i amps at v volts, i being 0 to Amps(v). A PWM controller
// that is held back switches the panels on and off, an MPPT controller moves
// them off their best volts; both leave the rest of the sun in the panels. At
// 0 A an MPPT converter sleeps.
//
//	PWM:  (v + SwitchDrop)·i        MPPT: v·i + loss(v·i)
//
// Less v·i, it is what the controller loses. It is the inverse of Amps.
//
// Source: EnergyBalance; SwitchDrop is common practice, no source.
func (o *Offer) PanelPower(v qty.Volt, i qty.Ampere) qty.Watt {
	if o.curve == nil {
		return 0
	}
	if o.loss.shape == drop {
		return qty.Power(v+SwitchDrop, i)
	}
	return o.loss.in(v, i)
}

// Further returns how many watts more the panels would give if the battery
// took more amps beyond the i that it takes: what of the sun was left in
// them. A part of the converter's loss that is there at any load counts once.
//
//	PanelPower(v, i + more) - PanelPower(v, i)
//
// i and more are 0 or above, their sum at most Unlimited(v).
//
// Source: EnergyBalance; SwitchDrop is common practice, no source.
func (o *Offer) Further(v qty.Volt, i, more qty.Ampere) qty.Watt {
	if o.loss.shape <= share || i == 0 || more == 0 {
		return o.PanelPower(v, more)
	}
	return o.PanelPower(v, i+more) - o.PanelPower(v, i)
}
