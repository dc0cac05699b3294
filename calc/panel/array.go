package panel

import "duskline/calc/qty"

// Joining is how panels are wired together.
type Joining uint8

// The ways.
const (
	SideBySide Joining = iota // parallel: one voltage, currents add
	EndToEnd                  // series: one current, volts add
	Strings                   // mixed: panels of one string number end to end, the strings side by side
)

// BypassVolts is what a conducting bypass diode leaves across its panel.
// Common practice, no source: half a volt, a Schottky diode.
const BypassVolts qty.Volt = -0.5

// A Part is so many panels of one kind in one light, each with the same curve.
type Part struct {
	Curve  Curve
	Count  int // 0 or less: as if the part were not there
	String int // number of the string they all are in; read for Strings only
}

// An Array is a set of panels wired together, seen at its two ends.
//
// Side by side, every panel has a blocking diode, so a weak one never takes
// current from the others or from the battery; the diode's own volts drop is
// 0. End to end, one diode blocks the string and each panel has an ideal
// bypass diode that holds it at −0.5 V. With Unblocked there is no blocking
// diode in either: amps may be negative. No cable is in it.
//
// An Array is meant to live through a run: set the Curves of its Parts each
// step and ask. The methods allocate nothing and return no error.
type Array struct {
	Joined    Joining
	Parts     []Part
	Unblocked bool
	Drop      qty.Volt // of each blocking diode while it carries, 0 to 2 V
	Series    qty.Ohm  // of the cable behind the joint, both ways, 0 or more
}

// same returns the number of panels if all have one and the same curve, and
// that curve: most arrays are so, and then one panel answers for all.
func (a *Array) same() (*Curve, float64) {
	var c *Curve
	n := 0
	for k := range a.Parts {
		p := &a.Parts[k]
		if p.Count < 1 {
			continue
		}
		if c == nil {
			c = &p.Curve
		} else if *c != p.Curve {
			return nil, 0
		}
		n += p.Count
	}
	return c, float64(n)
}

// Current returns the current at v volts at the array's ends.
//
// v is 0 to 400 V for each panel end to end. Without Unblocked the answer is
// never negative. No parts, or all of them dark: 0.
//
// Source: Bishop1988, joined curves with bypass diodes.
func (a *Array) Current(v qty.Volt) qty.Ampere {
	c, n := a.same()
	switch {
	case c != nil && a.Joined == EndToEnd:
		return qty.Ampere(a.blocked(c, float64(v)/n))
	case c != nil:
		return qty.Ampere(n * a.blocked(c, float64(v)))
	case a.Joined == EndToEnd:
		return qty.Ampere(a.seriesCurrent(float64(v)))
	}
	sum := 0.0
	for k := range a.Parts {
		if p := &a.Parts[k]; p.Count > 0 {
			sum += float64(p.Count) * a.blocked(&p.Curve, float64(v))
		}
	}
	return qty.Ampere(sum)
}

// blocked is the current of one panel at v volts, behind its diode if there
// is one.
func (a *Array) blocked(c *Curve, v float64) float64 {
	if !c.lit() || (!a.Unblocked && v >= c.voc) {
		return 0
	}
	i, _ := c.amps(v)
	return i
}

// OpenCircuit returns the highest volts that the array can show: the highest
// panel's side by side, the sum end to end.
//
// Side by side and Unblocked, panels pull each other a little lower; this is
// the safe side for an input limit. A dark panel in a string counts 0.
//
// Source: EnergyBalance, Kirchhoff's laws.
func (a *Array) OpenCircuit() qty.Volt {
	var sum, top float64
	for k := range a.Parts {
		if p := &a.Parts[k]; p.Count > 0 {
			sum += float64(p.Count) * p.Curve.voc
			top = max(top, p.Curve.voc)
		}
	}
	if a.Joined == EndToEnd {
		return qty.Volt(sum)
	}
	return qty.Volt(top)
}

// ShortCircuit returns the current at 0 V.
//
// Source: Bishop1988, joined curves with bypass diodes.
func (a *Array) ShortCircuit() qty.Ampere { return a.Current(0) }

// MaxPower returns volts and amps at the highest of all peaks of power, both 0
// if nothing is lit.
//
// Unequal panels make a curve with as many as one peak for each kind. Between
// the places where a diode begins to conduct, the curve is concave and has at
// most one peak, and such a place is never a peak itself; so each stretch is
// solved for its own peak and the highest is the answer, exactly.
//
// Source: Bishop1988, joined curves with bypass diodes; the argument is ours.
func (a *Array) MaxPower() (qty.Volt, qty.Ampere) {
	c, n := a.same()
	if c != nil {
		if !c.lit() {
			return 0, 0
		}
		v, i := c.peak()
		if a.Joined == EndToEnd {
			return qty.Volt(v * n), qty.Ampere(i)
		}
		return qty.Volt(v), qty.Ampere(i * n)
	}
	var v, i float64
	if a.Joined == EndToEnd {
		v, i = a.seriesPeak()
	} else {
		v, i = a.parallelPeak()
	}
	return qty.Volt(v), qty.Ampere(i)
}
