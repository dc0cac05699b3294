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

// An Array is a set of panels wired together, seen at the two ends of its
// cable.
//
// Side by side, every panel has a blocking diode, so a weak one never takes
// current from the others or from the battery. End to end, one diode blocks
// the string, and so it does in each of several Strings; there each panel has
// an ideal bypass diode that holds it at −0.5 V. A blocking diode that carries
// takes Drop off the volts; a string that stands lower than the joint and its
// diode is shut off. Behind the joint, all the current flows through Series.
//
// With Unblocked there is no blocking diode, and amps may be negative. It is
// for panels side by side or end to end at the joint itself: Drop and Series
// are then not read, and Strings always have their diodes.
//
// An Array is meant to live through a run: set the Curves of its Parts each
// step and ask. The methods allocate nothing once they have been called with
// as many Parts, and return no error. A copy works on the same memory: both
// belong to one goroutine.
type Array struct {
	Joined    Joining
	Parts     []Part
	Unblocked bool
	Drop      qty.Volt // of each blocking diode while it carries, 0 to 2 V
	Series    qty.Ohm  // of the cable behind the joint, both ways, 0 or more

	net Patchy // unequal panels that need more than one string
}

// Decision: most arrays are one kind of panel in one light without diode drop
// and cable, and the simulation asks them thousands of times. They are answered
// first and by one panel's curve. Unequal panels in the two plain joinings have
// code of their own too; all else is a [Patchy] without shade.

// bare says whether the joint itself is asked: no diode drop, no cable, and one
// of the two plain joinings.
func (a *Array) bare() bool {
	return a.Joined != Strings && (a.Unblocked || a.Drop == 0 && a.Series == 0)
}

// patchy returns the array as one without shade. A bypass diode stands across
// each whole panel.
func (a *Array) patchy() *Patchy {
	p := &a.net
	p.Joined, p.Drop, p.Series = a.Joined, a.Drop, a.Series
	p.Parts = p.Parts[:0]
	for k := range a.Parts {
		o := &a.Parts[k]
		p.Parts = append(p.Parts, Patch{Lit: o.Curve, Cells: 1, Count: o.Count, String: o.String})
	}
	return p
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

// Current returns the current at v volts at the end of the cable.
//
// v is 0 to 400 V for each panel end to end. Without Unblocked the answer is
// never negative. No parts, or all of them dark: 0.
//
// Source: Bishop1988, joined curves with bypass diodes.
func (a *Array) Current(v qty.Volt) qty.Ampere {
	c, n := a.same()
	if !a.bare() {
		in := 0.0
		if c != nil {
			in = a.in(n)
		}
		if in == 0 {
			return a.patchy().Current(v)
		}
		one, beside := a.shared(c, n, in)
		at := float64(v+a.Drop) / in
		if !one.lit() || !(at < one.voc) {
			return 0
		}
		i, _ := one.amps(at)
		return qty.Ampere(beside * i)
	}
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

// inString returns how many panels the string of part k has.
func (a *Array) inString(k int) (n int) {
	for j := range a.Parts {
		if o := &a.Parts[j]; o.Count > 0 && o.String == a.Parts[k].String {
			n += o.Count
		}
	}
	return n
}

// in returns how many of n panels stand end to end, the same number in each
// string; 0 if strings differ.
func (a *Array) in(n float64) float64 {
	switch a.Joined {
	case SideBySide:
		return 1
	case EndToEnd:
		return n
	}
	in := 0
	for k := range a.Parts {
		if a.Parts[k].Count < 1 {
			continue
		}
		if m := a.inString(k); in == 0 {
			in = m
		} else if m != in {
			return 0
		}
	}
	return float64(in)
}

// shared returns one of n equal panels, in of them end to end, with its share
// of the cable for more series resistance, and how many strings there are.
func (a *Array) shared(c *Curve, n, in float64) (one Curve, beside float64) {
	one, beside = *c, n/in
	one.rs += float64(a.Series) * beside / in
	return one, beside
}

// blocked is the current of one panel at v volts, behind its diode if there
// is one.
func (a *Array) blocked(c *Curve, v float64) float64 {
	if !c.lit() || (!a.Unblocked && !(v < c.voc)) {
		return 0
	}
	i, _ := c.amps(v)
	return i
}

// OpenCircuit returns the highest volts that the array can show: the highest
// panel's side by side, the sum end to end, the highest sum of Strings.
//
// Side by side and Unblocked, panels pull each other a little lower; this is
// the safe side for an input limit. A dark panel in a string counts 0, and so
// do diodes and cable: nothing flows.
//
// Source: EnergyBalance, Kirchhoff's laws.
func (a *Array) OpenCircuit() qty.Volt {
	var all, top float64
	for k := range a.Parts {
		p := &a.Parts[k]
		if p.Count < 1 {
			continue
		}
		all += float64(p.Count) * p.Curve.voc
		if a.Joined != Strings {
			top = max(top, p.Curve.voc)
			continue
		}
		sum := 0.0
		for j := range a.Parts {
			if o := &a.Parts[j]; o.Count > 0 && o.String == p.String {
				sum += float64(o.Count) * o.Curve.voc
			}
		}
		top = max(top, sum)
	}
	if a.Joined == EndToEnd {
		return qty.Volt(all)
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
	if c != nil && !c.lit() {
		return 0, 0
	}
	if !a.bare() {
		return a.furtherPeak(c, n)
	}
	if c != nil {
		v, i := c.peak(0)
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

// furtherPeak is MaxPower with diode drop, cable or Strings. c and n are those
// of same.
func (a *Array) furtherPeak(c *Curve, n float64) (qty.Volt, qty.Ampere) {
	in := 0.0
	if c != nil {
		in = a.in(n)
	}
	if in == 0 {
		return a.patchy().MaxPower()
	}
	drop := float64(a.Drop) / in
	if !(drop < c.voc) {
		return 0, 0
	}
	one, beside := a.shared(c, n, in)
	v, i := one.peak(drop)
	return qty.Volt(v * in), qty.Ampere(i * beside)
}
