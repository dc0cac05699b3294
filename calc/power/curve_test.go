package power

import (
	"math"
	"testing"

	"duskline/calc/golden"
	"duskline/calc/qty"
)

// diode is a panel of the tests' own, slow and plain: the single-diode
// equation of De Soto 2006 with the generic 36-cell panel of electrical.md
// section 2, current by halving, peak by a search in golden section. calc/panel is a
// neighbour and cannot be asked.
type diode struct {
	il, io, rs, rsh, a float64
	count              float64 // side by side
	asked              int
}

// generic returns the panel at 1000 W/m² and a cell temperature, scaled to
// other cells and current.
func generic(cell, cells, current float64) *diode {
	const k, gap = 8.617333262e-5, 1.121
	t := cell + 273.15
	dt := t - 298.15
	q := t / 298.15
	return &diode{
		il:    current * (5.95783 + 0.002975*dt),
		io:    current * 1.415276e-10 * q * q * q * math.Exp(gap/(k*298.15)-gap*(1-0.0002677*dt)/(k*t)),
		rs:    0.236238 * cells / 36 / current,
		rsh:   179.4933 * cells / 36 / current,
		a:     0.9000736 * q * cells / 36,
		count: 1,
	}
}

// dim is the same panel in less light: the photocurrent falls with it, the
// shunt's conductance too.
func (d *diode) dim(share float64) *diode {
	d.il *= share
	d.rsh /= share
	return d
}

func (d *diode) Current(v qty.Volt) qty.Ampere {
	d.asked++
	lo, hi := 0.0, d.il
	for range 60 {
		i := (lo + hi) / 2
		x := float64(v) + i*d.rs
		if d.il-d.io*math.Expm1(x/d.a)-x/d.rsh > i {
			lo = i
		} else {
			hi = i
		}
	}
	return qty.Ampere(lo * d.count)
}

func (d *diode) MaxPower() (qty.Volt, qty.Ampere) {
	const g = 0.6180339887498949
	lo, hi := 0.0, d.a*math.Log(d.il/d.io)
	for range 80 {
		if a, b := hi-g*(hi-lo), lo+g*(hi-lo); a*float64(d.Current(qty.Volt(a))) > b*float64(d.Current(qty.Volt(b))) {
			hi = b
		} else {
			lo = a
		}
	}
	v := qty.Volt((lo + hi) / 2)
	return v, d.Current(v)
}

// bypassed is a panel of two groups of 18 cells, one of them dark: the other's
// curve, less the volts of the dark one's bypass diode.
type bypassed struct{ lit *diode }

const bypass qty.Volt = 0.5

func (b bypassed) Current(v qty.Volt) qty.Ampere { return b.lit.Current(v + bypass) }

// MaxPower is that of the lit group, as C36 has it: 0.03 V under the true peak.
func (b bypassed) MaxPower() (qty.Volt, qty.Ampere) {
	v, i := b.lit.MaxPower()
	return v - bypass, i
}

// steady is panels that give so many watts at 36 V, far above any battery.
type steady qty.Watt

func (s steady) Current(v qty.Volt) qty.Ampere {
	if v > 36 {
		return 0
	}
	return qty.Ampere(float64(s) / 36)
}
func (s steady) MaxPower() (qty.Volt, qty.Ampere) { return 36, qty.Ampere(float64(s) / 36) }

// The tests' panel against electrical.md C20 and C22, before it is trusted.
func TestOwnPanelAgainstElectricalC20AndC22(t *testing.T) {
	v, i := generic(25, 36, 1).MaxPower()
	golden.Check(t, "C20.vmp = 18.000 V ± 0.05 %", float64(v))
	golden.Check(t, "C20.imp = 5.5556 A ± 0.05 %", float64(i))
	golden.Check(t, "C20.isc = 5.9500 A ± 0.01 %", float64(generic(25, 36, 1).Current(0)))
	v, i = generic(55, 36, 1).MaxPower()
	golden.Check(t, "C22.vmp = 15.639 V ± 0.05 %", float64(v))
	golden.Check(t, "C22.pmp = 87.153 W ± 0.02 %", float64(qty.Power(v, i)))
	golden.Check(t, "C22.i133 = 5.9262 A ± 0.02 %", float64(generic(55, 36, 1).Current(13.3)))
}
