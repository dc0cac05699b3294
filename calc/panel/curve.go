package panel

import (
	"math"

	"duskline/calc/qty"
)

// A Curve is the current-voltage curve of one panel in one light at one
// temperature: five figures of the single-diode equation.
//
//	I = IL − I0·(exp(x/a) − 1) − x/Rsh,  x = V + I·Rs
//
// The diode voltage x is the parameter: current and volts follow from it in
// plain arithmetic, so each question is one root in x, found by Halley steps
// (one exp each) from a start that lies on the convex side of the root.
//
// A Curve is a value; its methods allocate nothing and return no error. The
// zero Curve is dark. Volts above the open circuit drive current backwards
// through the panel (negative amps), as they do without a blocking diode. The
// breakdown of cells far below 0 V is not in the model.
type Curve struct {
	il, io float64 // A
	rs     float64 // Ω
	g      float64 // 1/Rsh, 1/Ω
	a, ia  float64 // V and 1/V
	voc    float64 // V
	isb    float64 // amps at which a bypass diode across the panel begins to carry; 0: see Array.bypassed
}

// smallStep is the step, in units of a, after which no further exp is needed: a
// Halley step that small leaves an error of order smallStep³, and four terms of
// the exponential series carry the current over to the new place.
const smallStep = 3e-4

// newCurve returns the curve of five figures. io, rsh and a are above 0.
func newCurve(il, io, rs, g, a float64) Curve {
	c := Curve{il: il, io: io, rs: rs, g: g, a: a, ia: 1 / a}
	c.voc, _, _ = c.diode(0)
	return c
}

// lit reports whether the curve carries current at all.
func (c *Curve) lit() bool { return c.a > 0 }

// expAfter returns e·exp(y) for a y of at most smallStep.
func expAfter(e, y float64) float64 {
	return e * (1 + y*(1+y*(1.0/2+y*(1.0/6))))
}

// diode returns the diode voltage at which the panel passes i amps, −dI/dx
// there and the derivative of that. The curve must be lit.
func (c *Curve) diode(i float64) (x, g1, g2 float64) {
	// The diode alone and the shunt alone both bound x from above: steps on
	// a falling concave function come down from there without overshoot. So does
	// 0 where more flows than the light makes: in starlight, while the diode of
	// a hot panel leaks more than that, the shunt's bound is a thousand volts.
	d := c.il - i
	if d > 0 {
		x = min(d/c.g, c.a*math.Log1p(d/c.io))
	} else {
		x = min(0, (d+c.io)/c.g)
	}
	e := 0.0
	for range 60 {
		e = c.io * math.Exp(x*c.ia)
		f := d + c.io - e - c.g*x
		g1 = e*c.ia + c.g
		g2 = e * c.ia * c.ia
		step := 2 * f * g1 / (2*g1*g1 + f*g2)
		x += step
		if math.Abs(step) < smallStep*c.a {
			e = expAfter(e, step*c.ia)
			break
		}
	}
	return x, e*c.ia + c.g, e * c.ia * c.ia
}

// at returns current, −dI/dx and the derivative of that at diode voltage x.
func (c *Curve) at(x float64) (i, g1, g2 float64) {
	e := c.io * math.Exp(x*c.ia)
	return c.il + c.io - e - c.g*x, e*c.ia + c.g, e * c.ia * c.ia
}

// amps returns the current at v volts, and the diode voltage there.
func (c *Curve) amps(v float64) (i, x float64) {
	// x − Rs·I(x) − v rises and is convex. These starts are at or right of
	// its root (left of it by a hair below 0 V).
	x = v + c.rs*c.il
	if x > c.voc {
		if v < c.voc {
			x = c.voc
		} else {
			x = min(x, c.a*math.Log1p((v-c.voc+c.rs*c.il)/(c.rs*c.io)))
		}
	}
	for range 60 {
		e := c.io * math.Exp(x*c.ia)
		i = c.il + c.io - e - c.g*x
		f := x - c.rs*i - v
		f2 := c.rs * e * c.ia * c.ia
		f1 := 1 + c.rs*(e*c.ia+c.g)
		step := -2 * f * f1 / (2*f1*f1 - f*f2)
		x += step
		if math.Abs(step) < smallStep*c.a {
			return c.il + c.io - expAfter(e, step*c.ia) - c.g*x, x
		}
	}
	return i, x
}

// Current returns the current at v volts at the panel's terminals.
//
// v is any finite voltage from −1 V to 400 V; above the open circuit the
// current is negative. In the dark it is 0 at every voltage.
//
// Source: Bishop1988, diode voltage as parameter, as in pvlib singlediode.bishop88; single-diode equation of DeSoto2006.
func (c Curve) Current(v qty.Volt) qty.Ampere {
	if !c.lit() {
		return 0
	}
	i, _ := c.amps(float64(v))
	return qty.Ampere(i)
}

// Volts returns the volts at the panel's terminals while it passes i amps,
// which may be negative (driven backwards).
//
// A little above the short-circuit current the volts turn negative and soon
// large: only the shunt carries the rest. A bypass diode then takes over,
// which is [Array]'s part. No volts belong to a current in the dark; the
// answer is then 0.
//
// Source: Bishop1988, diode voltage as parameter, as in pvlib singlediode.bishop88.
func (c Curve) Volts(i qty.Ampere) qty.Volt {
	if !c.lit() {
		return 0
	}
	x, _, _ := c.diode(float64(i))
	return qty.Volt(x - c.rs*float64(i))
}

// ShortCircuit returns the current at 0 V.
//
// Source: DeSoto2006, the single-diode equation at 0 V.
func (c Curve) ShortCircuit() qty.Ampere { return c.Current(0) }

// OpenCircuit returns the volts at which no current flows, 0 in the dark.
//
// Source: DeSoto2006, the single-diode equation at 0 A.
func (c Curve) OpenCircuit() qty.Volt { return qty.Volt(c.voc) }

// MaxPower returns volts and amps at the maximum power point, both 0 in the
// dark. It is a root of dP/dV, not a search, so the volts are as sharp as the
// power.
//
//	dP/dx = 0  ⇔  I = G·(x − 2·I·Rs),  G = −dI/dx
//
// Source: Bishop1988, diode voltage as parameter, as in pvlib singlediode.bishop88_mpp.
func (c Curve) MaxPower() (qty.Volt, qty.Ampere) {
	if !c.lit() {
		return 0, 0
	}
	v, i := c.peak(0)
	return qty.Volt(v), qty.Ampere(i)
}

// peak is MaxPower of a lit curve behind a diode that takes drop volts, 0 or
// more and under the open circuit's; v is what it leaves. Power is concave in current, so dP/dx
// changes sign once between 0 and the open circuit: the bracket lo, hi is
// there for odd curves, the steps alone find it on ordinary ones.
func (c *Curve) peak(drop float64) (v, i float64) {
	lo, hi := 0.0, c.voc
	x := c.peakStart(c.voc - drop)
	for range 80 {
		e := c.io * math.Exp(x*c.ia)
		i = c.il + c.io - e - c.g*x
		g2 := e * c.ia * c.ia
		g1 := e*c.ia + c.g
		y := x - drop - 2*c.rs*i
		if y <= 0 {
			// More than half of the volts are lost in the series resistance:
			// power rises, and its slope says nothing of where it stops.
			lo, x = x, (x+hi)/2
			continue
		}
		y1 := 1 + 2*c.rs*g1
		h := i - g1*y
		h1 := -g1 - g2*y - g1*y1
		h2 := -g2 - g2*c.ia*y - 2*g2*y1 - 2*c.rs*g1*g2
		if h > 0 {
			lo = x
		} else {
			hi = x
		}
		step := -2 * h * h1 / (2*h1*h1 - h*h2)
		if n := x + step; !(n > lo && n < hi) && math.Abs(step) > smallStep*c.a {
			step = (lo+hi)/2 - x
		}
		x += step
		if math.Abs(step) < smallStep*c.a {
			i = c.il + c.io - expAfter(e, step*c.ia) - c.g*x
			break
		}
	}
	return x - drop - c.rs*i, i
}

// peakStart guesses the diode voltage at the peak of power when the terminals
// carry total volts (of this panel's share) near the open circuit: there the
// diode takes IL/(1+w), w the volts at the peak in units of a.
func (c *Curve) peakStart(total float64) float64 {
	w := (0.87*total - 1.9*c.rs*c.il) * c.ia
	if w < 0 {
		return c.voc / 2
	}
	x := c.voc - c.a*math.Log1p(w)
	if x <= 0 {
		return c.voc / 2
	}
	return x
}
