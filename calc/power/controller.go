package power

import "duskline/calc/qty"

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

// sunFactor is how far the panels' current may exceed the short-circuit
// figure of the label, by bright clouds and snow.
const sunFactor = 1.25

// A Controller is a solar charge controller.
type Controller struct {
	Kind       Kind
	Limit      qty.Ampere   // MPPT: of the battery's current; PWM: the rating, which the controller cannot enforce
	Efficiency qty.Fraction // MPPT only; a PWM controller loses SwitchDrop instead
	InputMax   qty.Volt     // most the panels may show, open circuit
	Standby    qty.Ampere   // its own draw from the battery, always; in no Offer
}

// Check returns nil for a Controller whose figures are in range: Limit 1 to
// 100 A, Efficiency 0.7 to 1, InputMax 15 to 250 V, Standby 0 to 1 A.
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
	} {
		if err := qty.InRange(r.what, r.got, r.min, r.max, r.unit); err != nil {
			return err
		}
	}
	return nil
}

// OverInput reports whether panels with this curve show more volts, open
// circuit, than the controller's input stands: ask it for the coldest, bright
// hour.
func (c Controller) OverInput(curve Curve) bool { return curve.Current(c.InputMax) > 0 }

// RatingFor returns the amps that a PWM controller must be rated for with
// panels of this short-circuit current: 1.25 times as much, because snow and
// the edges of clouds give more light than the label's. It switches the whole
// current and has no way to refuse any of it.
//
// Source: NFPA70, article 690.8, the irradiance factor; that it cannot refuse is common practice, no source.
func RatingFor(shortCircuit qty.Ampere) qty.Ampere { return sunFactor * shortCircuit }

// An Offer is what a controller can give to the battery in one step. It holds
// for as long as the light and heat of its curve do. The zero Offer gives
// nothing.
type Offer struct {
	curve Curve
	kind  Kind
	limit qty.Ampere
	eff   qty.Volt // efficiency, as a factor of volts and watts
	vmp   qty.Volt
	pmp   qty.Watt // at the panels
}

// Offer returns what the controller makes of a curve. It finds the maximum
// power point for an MPPT controller only, once; it keeps the curve.
func (c Controller) Offer(curve Curve) Offer {
	o := Offer{curve: curve, kind: c.Kind, limit: c.Limit, eff: qty.Volt(c.Efficiency)}
	if c.Kind == MPPT {
		v, i := curve.MaxPower()
		o.vmp, o.pmp = v, qty.Power(v, i)
	}
	return o
}

// Amps returns the amps on offer at the battery's terminals at v volts, after
// the current limit.
//
//	PWM:  I(v + SwitchDrop)
//	MPPT: min(Limit, eff·P/v),  P = Pmp
//	      or, if Vmp < v + Headroom, P = (v + Headroom)·I(v + Headroom)
//
// A PWM controller does not clip: too large a panel is a fault of the pairing.
// Where hot panels stand too low for the converter, it works like a switch
// with its headroom for a drop; both forms meet at Vmp = v + Headroom. v is
// above 0, to 60 V.
//
// Source: EnergyBalance; SwitchDrop and Headroom are common practice, no source.
func (o Offer) Amps(v qty.Volt) qty.Ampere {
	i := o.Unlimited(v)
	if o.kind == MPPT && i > o.limit {
		return o.limit
	}
	return i
}

// Unlimited returns Amps as it would be without the current limit: less Amps,
// it is what clipping lost.
//
// Source: EnergyBalance; SwitchDrop and Headroom are common practice, no source.
func (o Offer) Unlimited(v qty.Volt) qty.Ampere {
	if o.curve == nil {
		return 0
	}
	if o.kind == PWM {
		if i := o.curve.Current(v + SwitchDrop); i > 0 {
			return i
		}
		return 0
	}
	p := o.pmp
	if at := v + Headroom; o.vmp < at {
		p = max(0, qty.Power(at, o.curve.Current(at)))
	}
	return qty.Ampere(qty.Volt(p) * o.eff / v)
}

// PanelPower returns what the panels give at their own terminals while the
// battery takes i amps at v volts, i being 0 to Amps(v). A PWM controller
// that is held back switches the panels on and off, an MPPT controller moves
// them off their best volts; both leave the rest of the sun in the panels.
//
//	PWM:  (v + SwitchDrop)·i        MPPT: v·i/eff
//
// Less v·i, it is what the controller loses.
//
// Source: EnergyBalance; SwitchDrop is common practice, no source.
func (o Offer) PanelPower(v qty.Volt, i qty.Ampere) qty.Watt {
	if o.curve == nil {
		return 0
	}
	if o.kind == PWM {
		return qty.Power(v+SwitchDrop, i)
	}
	return qty.Power(v/o.eff, i)
}
