package panel

import "math"

// Unequal panels end to end. The currents at which one bypass diode after the
// other begins to carry cut the string's curve into stretches; inside one, the
// panels that still work are known, and the weakest of them leads: its diode
// voltage x gives the current in plain arithmetic, the others follow from the
// current. In x the knee of the curve is smooth, in amps it is a wall.

// bypass is BypassVolts in plain float64.
const bypass = float64(BypassVolts)

// bypassed finds, once for each light, the amps at which the bypass diodes of
// every part begin to carry: only a string of unequal panels asks for them.
func (a *Array) bypassed() {
	for k := range a.Parts {
		if c := &a.Parts[k].Curve; c.isb == 0 && c.lit() {
			c.isb, _ = c.amps(bypass)
		}
	}
}

// weakest returns the part whose bypass diode is the next to carry above lo
// amps, −1 if none is left.
func (a *Array) weakest(lo float64) int {
	m := -1
	for k := range a.Parts {
		p := &a.Parts[k]
		if p.Count > 0 && p.Curve.lit() && p.Curve.isb > lo && (m < 0 || p.Curve.isb < a.Parts[m].Curve.isb) {
			m = k
		}
	}
	return m
}

// strung is a point of a string's curve.
type strung struct {
	i, v   float64 // A, V
	s, t   float64 // −dV/dI, and the derivative of s by I
	g1, g2 float64 // −dI/dx of the leading panel, and the derivative of that by x
}

// strungAt returns the point at diode voltage x of part m, which leads.
func (a *Array) strungAt(m int, x float64) (q strung) {
	lead := &a.Parts[m].Curve
	q.i, q.g1, q.g2 = lead.at(x)
	for k := range a.Parts {
		p := &a.Parts[k]
		if p.Count < 1 {
			continue
		}
		c, n := &p.Curve, float64(p.Count)
		if !c.lit() || c.isb < lead.isb {
			q.v += n * bypass
			continue
		}
		xk, g1, g2 := x, q.g1, q.g2
		if k != m {
			xk, g1, g2 = c.diode(q.i)
		}
		q.v += n * (xk - c.rs*q.i)
		q.s += n * (1/g1 + c.rs)
		q.t += n * g2 / (g1 * g1 * g1)
	}
	return q
}

// seriesCurrent returns the current of the string at v volts.
func (a *Array) seriesCurrent(v float64) float64 {
	a.bypassed()
	m := a.weakest(0)
	if m < 0 {
		return 0
	}
	top, dark := 0.0, false // volts at the smallest current
	for k := range a.Parts {
		if p := &a.Parts[k]; p.Count > 0 {
			if p.Curve.lit() {
				top += float64(p.Count) * p.Curve.voc
			} else {
				top += float64(p.Count) * bypass
				dark = true
			}
		}
	}
	if !(v < top) {
		if !a.Unblocked || dark {
			return 0
		}
		// Driven backwards: no panel stands lower than its open circuit,
		// so this one takes at most all the rest.
		c := &a.Parts[m].Curve
		_, hi := c.amps(c.voc + (v-top)/float64(a.Parts[m].Count))
		return a.strungAmps(m, v, c.voc, hi)
	}
	for lo := 0.0; ; {
		c := &a.Parts[m].Curve
		xb := bypass + c.rs*c.isb
		next := a.weakest(c.isb)
		if next < 0 || v >= a.strungAt(m, xb).v {
			xh, _, _ := c.diode(lo)
			return a.strungAmps(m, v, xb, xh)
		}
		lo, m = c.isb, next
	}
}

// strungAmps solves for the current at v volts with the lead's diode voltage
// between lo and hi. The volts rise with x.
func (a *Array) strungAmps(m int, v, lo, hi float64) float64 {
	c := &a.Parts[m].Curve
	x := hi - 0.2*c.a
	if !(x > lo) {
		x = (lo + hi) / 2
	}
	i := 0.0
	for range 80 {
		q := a.strungAt(m, x)
		i = q.i
		if q.v < v {
			lo = x
		} else {
			hi = x
		}
		step := (v - q.v) / (q.s * q.g1)
		if math.Abs(step) < 1e-6*c.a {
			return i - step*(q.g1+step*q.g2/2)
		}
		if n := x + step; !(n > lo && n < hi) {
			step = (lo+hi)/2 - x
			if math.Abs(step) < 1e-12*c.a {
				break // volts outside the stretch: its end is the answer
			}
		}
		x += step
	}
	return i
}

// seriesPeak returns volts and amps at the highest peak of the string.
//
// In current, dP/dI = V − I·s falls through each stretch, so a stretch whose
// power does not rise at its lower end has no peak, and the tangent there
// bounds what it can reach.
func (a *Array) seriesPeak() (v, i float64) {
	a.bypassed()
	best := 0.0
	for lo := 0.0; ; {
		m := a.weakest(lo)
		if m < 0 {
			return v, i
		}
		c := &a.Parts[m].Curve
		xh, _, _ := c.diode(lo)
		q := a.strungAt(m, xh)
		if rise := q.v - lo*q.s; rise > 0 && lo*q.v+rise*(c.isb-lo) > best {
			q = a.strungPeak(m, q.v, bypass+c.rs*c.isb, xh)
			if p := q.i * q.v; p > best {
				best, v, i = p, q.v, q.i
			}
		}
		lo = c.isb
	}
}

// strungPeak solves dP/dI = 0 in one stretch, with the lead's diode voltage
// between lo and hi and top the volts at hi.
func (a *Array) strungPeak(m int, top, lo, hi float64) strung {
	c := &a.Parts[m].Curve
	x := min(c.peakStart(top/float64(a.Parts[m].Count)), hi)
	if !(x > lo && x < hi) {
		x = (lo + hi) / 2
	}
	for range 80 {
		q := a.strungAt(m, x)
		rise := q.v - q.i*q.s
		h := -q.g1 * rise // positive left of the peak
		h1 := -q.g2*rise - q.g1*q.g1*(2*q.s+q.i*q.t)
		if h > 0 {
			lo = x
		} else {
			hi = x
		}
		step := -h / h1
		if math.Abs(step) < 1e-5*c.a {
			return a.strungAt(m, x+step)
		}
		if n := x + step; !(n > lo && n < hi) {
			step = (lo+hi)/2 - x
			if math.Abs(step) < 1e-12*c.a {
				break // no peak inside; the stretch's end is no peak either
			}
		}
		x += step
	}
	return a.strungAt(m, x)
}
