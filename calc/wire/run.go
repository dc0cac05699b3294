package wire

import (
	"errors"
	"fmt"
	"math"

	"duskline/calc/qty"
)

// A Run is a cable of two conductors.
type Run struct {
	Gauge  Gauge
	Length qty.Metre   // one way, 0 to 200 m: the current goes there and back
	Copper qty.Celsius // how warm its copper is, −60 to 120 °C
}

// Check returns nil for a Run in range.
//
// Errors: *qty.RangeError for Gauge, Length and Copper.
func (r Run) Check() error {
	if err := qty.InRange("Gauge", float64(r.Gauge), 0, float64(beyond-1), ""); err != nil {
		return err
	}
	if err := qty.InRange("Length", float64(r.Length), 0, 200, "m"); err != nil {
		return err
	}
	return qty.InRange("Copper", float64(r.Copper), -60, 120, "°C")
}

// Resistance returns that of both conductors.
//
//	R = 2·L·R'/1000·(1 + 0.00393·(t − 20))
//
// Source: EnergyBalance, Ohm's law; IEC60228 for R' and the coefficient.
func (r Run) Resistance() qty.Ohm {
	return qty.Ohm(2 * float64(r.Length) * r.Gauge.PerKm() / 1000 * Growth(r.Copper))
}

// Drop returns the volts that are lost on the way, both ways, at i amps.
//
// Source: EnergyBalance, Ohm's law.
func (r Run) Drop(i qty.Ampere) qty.Volt { return qty.Volt(float64(r.Resistance()) * float64(i)) }

// Heat returns the watts that the cable takes at i amps.
//
// Source: EnergyBalance.
func (r Run) Heat(i qty.Ampere) qty.Watt { return qty.Power(r.Drop(i), i) }

// Share returns the drop at i amps as a share of v volts, which are above 0.
//
// Source: EnergyBalance.
func (r Run) Share(i qty.Ampere, v qty.Volt) qty.Fraction {
	return qty.Fraction(r.Drop(i) / v)
}

// A Limit is how much of the volts a cable may lose, and what it carries.
type Limit struct {
	Volts qty.Volt     // 1 to 1000
	Amps  qty.Ampere   // above 0, to 1000
	Share qty.Fraction // of Volts, 0.001 to 0.5; 0.03 is common practice, no source of law
}

// Check returns nil for a Limit in range.
//
// Errors: *qty.RangeError for Volts, Amps and Share.
func (l Limit) Check() error {
	if err := qty.InRange("Volts", float64(l.Volts), 1, 1000, "V"); err != nil {
		return err
	}
	if err := qty.InRange("Amps", float64(l.Amps), math.SmallestNonzeroFloat64, 1000, "A"); err != nil {
		return err
	}
	return qty.InRange("Share", float64(l.Share), 0.001, 0.5, "")
}

// ohms is the resistance, both ways, at which the limit is just met.
func (l Limit) ohms() float64 { return float64(l.Share) * float64(l.Volts) / float64(l.Amps) }

// ErrTooThin says that not even the thickest gauge keeps within the limit.
var ErrTooThin = errors.New("wire: every gauge loses more than the limit")

// Smallest returns the thinnest of the gauges with which a run of that length
// and warmth keeps within the limit. It says nothing of how many amps the wire
// may carry.
//
// Errors: *qty.RangeError for the limit, the length and the warmth;
// [ErrTooThin].
func Smallest(among []Gauge, length qty.Metre, copper qty.Celsius, l Limit) (Gauge, error) {
	if err := l.Check(); err != nil {
		return 0, err
	}
	best, found := Gauge(0), false
	for _, g := range among {
		r := Run{g, length, copper}
		if err := r.Check(); err != nil {
			return 0, err
		}
		if float64(r.Resistance()) <= l.ohms() && (!found || g.Area() < best.Area()) {
			best, found = g, true
		}
	}
	if !found {
		return 0, ErrTooThin
	}
	return best, nil
}

// Longest returns how far away, one way, the limit is met with a gauge whose
// copper is so warm. It may be more than the 200 m that a [Run] may have.
//
//	L = share·V/(2·I·R')
//
// Errors: *qty.RangeError for the limit, the gauge and the warmth.
//
// Source: EnergyBalance, Ohm's law.
func Longest(g Gauge, copper qty.Celsius, l Limit) (qty.Metre, error) {
	if err := l.Check(); err != nil {
		return 0, err
	}
	one := Run{g, 1, copper}
	if err := one.Check(); err != nil {
		return 0, err
	}
	return qty.Metre(l.ohms() / float64(one.Resistance())), nil
}

// A CollapseError says that a load of constant power asks for more than can
// reach it through its wire: the more amps it draws, the fewer volts are left.
type CollapseError struct {
	Asked, Most qty.Watt
}

func (e *CollapseError) Error() string {
	return fmt.Sprintf("%.4g W cannot arrive through this wire: %.4g W is the most", e.Asked, e.Most)
}

// MostPower returns the most that can arrive behind a resistance: half of the
// volts are lost then. r is above 0.
//
//	P = V²/(4·R)
//
// Source: EnergyBalance, dP/dI = 0.
func MostPower(source qty.Volt, r qty.Ohm) qty.Watt {
	return qty.Watt(float64(source) * float64(source) / (4 * float64(r)))
}

// ConstantPower returns the volts that are left at a load of constant power
// behind a resistance, and its amps: the higher of the two answers, which is
// the one that a load that starts from nothing comes to.
//
//	v² − V·v + P·R = 0
//
// source is 1 to 1000 V, r 0 to 1000 Ω, p 0 to 1e6 W.
//
// Errors: *qty.RangeError; *[CollapseError] if p is above V²/(4·R).
//
// Source: EnergyBalance.
func ConstantPower(source qty.Volt, r qty.Ohm, p qty.Watt) (qty.Volt, qty.Ampere, error) {
	if err := qty.InRange("source", float64(source), 1, 1000, "V"); err != nil {
		return 0, 0, err
	}
	if err := qty.InRange("r", float64(r), 0, 1000, "Ω"); err != nil {
		return 0, 0, err
	}
	if err := qty.InRange("p", float64(p), 0, 1e6, "W"); err != nil {
		return 0, 0, err
	}
	half := float64(source) / 2
	under := half*half - float64(p)*float64(r)
	if under < 0 {
		return 0, 0, &CollapseError{p, MostPower(source, r)}
	}
	v := half + math.Sqrt(under)
	return qty.Volt(v), qty.Ampere(float64(p) / v), nil
}
