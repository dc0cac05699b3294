package panel

import "math"

// Unequal panels side by side. The open-circuit volts of one kind after the
// other cut the curve into stretches, because there its blocking diode shuts;
// without blocking diodes there is one stretch.

// banked is a point of a bank's curve at some volts.
type banked struct {
	i    float64 // A
	k, t float64 // −dI/dV, and the derivative of k by V
}

// bankedAt returns the point at v volts of the panels that still give current
// just below edge volts.
func (a *Array) bankedAt(v, edge float64) (q banked) {
	for k := range a.Parts {
		p := &a.Parts[k]
		c, n := &p.Curve, float64(p.Count)
		if p.Count < 1 || !c.lit() || (!a.Unblocked && c.voc < edge) {
			continue
		}
		i, x := c.amps(v)
		_, g1, g2 := c.at(x)
		d := 1 / (1 + c.rs*g1)
		q.i += n * i
		q.k += n * g1 * d
		q.t += n * g2 * d * d * d
	}
	return q
}

// edge returns the end of the stretch above lo volts, and whether there is one.
func (a *Array) edge(lo float64) (hi float64, ok bool) {
	for k := range a.Parts {
		p := &a.Parts[k]
		if p.Count < 1 || !p.Curve.lit() || p.Curve.voc <= lo {
			continue
		}
		if a.Unblocked {
			hi = max(hi, p.Curve.voc)
		} else if hi == 0 || p.Curve.voc < hi {
			hi = p.Curve.voc
		}
	}
	return hi, hi > lo
}

// parallelPeak returns volts and amps at the highest peak of the bank. In
// each stretch dP/dV = I − V·k falls; see seriesPeak, whose twin this is.
func (a *Array) parallelPeak() (v, i float64) {
	best := 0.0
	for lo := 0.0; ; {
		hi, ok := a.edge(lo)
		if !ok {
			return v, i
		}
		if q := a.bankedAt(lo, hi); lo == 0 || (q.i > lo*q.k && lo*q.i+(q.i-lo*q.k)*(hi-lo) > best) {
			pv, pi := a.bankedPeak(lo, hi)
			if p := pv * pi; p > best {
				best, v, i = p, pv, pi
			}
		}
		lo = hi
	}
}

// bankedPeak solves dP/dV = 0 between lo and hi volts.
func (a *Array) bankedPeak(lo, hi float64) (v, i float64) {
	edge := hi
	// Start at the mean of the panels' own peaks, by light current.
	weight, slope := 0.0, math.Inf(1)
	for k := range a.Parts {
		p := &a.Parts[k]
		c := &p.Curve
		if p.Count < 1 || !c.lit() || (!a.Unblocked && c.voc < edge) {
			continue
		}
		w := float64(p.Count) * c.il
		v += w * (c.peakStart(c.voc) - 0.93*c.rs*c.il)
		weight += w
		slope = min(slope, c.a)
	}
	v /= weight
	if !(v > lo && v < hi) {
		v = (lo + hi) / 2
	}
	for range 80 {
		q := a.bankedAt(v, edge)
		rise := q.i - v*q.k
		if rise > 0 {
			lo = v
		} else {
			hi = v
		}
		step := rise / (2*q.k + v*q.t)
		if math.Abs(step) < 1e-5*slope {
			return v + step, q.i - step*(q.k+step*q.t/2)
		}
		if n := v + step; !(n > lo && n < hi) {
			step = (lo+hi)/2 - v
			if math.Abs(step) < 1e-12*slope {
				break // no peak inside; the stretch's end is no peak either
			}
		}
		v += step
		i = q.i
	}
	return v, i
}
