package panel

import "math"

// One string by itself, behind its blocking diode and a cable of its own. The
// diode takes volts off the whole curve and the cable is more resistance in
// series: both leave each piece of the curve as concave as it was.

// amps returns the current of a line, once, at v volts behind ohms in series, 0
// or more of both, −dI/dV there and the derivative of that.
func (p *Patchy) amps(l *line, v, ohms float64) banked {
	if l.only != nil {
		return l.only.strung(l.in, v, ohms)
	}
	rows, pieces := p.rows[l.begin:l.end], p.pieces[l.first:l.last]
	if len(pieces) == 0 || !(v < pieces[0].top) {
		return banked{}
	}
	k := 0
	for k < len(pieces)-1 && v < pieces[k].end-ohms*pieces[k].hi {
		k++
	}
	floor, lead, _ := stretch(rows, pieces[k].lo)
	xl, xh := pieces[k].xl, pieces[k].xh
	x := xh - 0.2*lead.a
	if !(x > xl) {
		x = (xl + xh) / 2
	}
	for n := range 100 {
		q := point(rows, floor, ohms, lead, x)
		b := banked{q.i, 1 / q.s, q.t / (q.s * q.s * q.s)}
		if q.v < v {
			xl = x
		} else {
			xh = x
		}
		step := (v - q.v) / (q.s * q.g1)
		if math.Abs(step) < 1e-6*lead.a {
			b.i -= step * (q.g1 + step*q.g2/2)
			return b
		}
		if next := x + step; !(next > xl && next < xh) || slow(n) {
			step = (xl+xh)/2 - x
			if math.Abs(step) < 1e-12*lead.a {
				return b
			}
		}
		x += step
	}
	return banked{i: point(rows, floor, ohms, lead, x).i}
}

// strung returns the point at v volts of equal panels end to end, in of them,
// behind ohms.
func (c *Curve) strung(in, v, ohms float64) banked {
	at := v / in
	if !c.lit() || !(at < c.voc) {
		return banked{}
	}
	one := *c
	one.rs += ohms / in
	i, x := one.amps(at)
	_, g1, g2 := one.at(x)
	d := 1 / (1 + one.rs*g1)
	return banked{i, g1 * d / in, g2 * d * d * d / (in * in)}
}

// peak returns volts and amps of a line, once, at its highest peak of power
// behind a diode of so many volts and ohms in series; see [Array.MaxPower],
// whose argument it is.
func (p *Patchy) peak(l *line, drop, ohms float64) (v, i float64) {
	if c := l.only; c != nil {
		if !c.lit() || !(drop < l.in*c.voc) {
			return 0, 0
		}
		one := *c
		one.rs += ohms / l.in
		v, i = one.peak(drop / l.in)
		return v * l.in, i
	}
	rows, pieces := p.rows[l.begin:l.end], p.pieces[l.first:l.last]
	best := 0.0
	for k := range pieces {
		c := &pieces[k]
		floor, lead, hi := stretch(rows, c.lo)
		floor -= drop
		q := point(rows, floor, ohms, lead, c.xh)
		if rise := q.v - c.lo*q.s; rise > 0 && c.lo*q.v+rise*(hi-c.lo) > best {
			q = climb(rows, floor, ohms, lead, c.xl, c.xh)
			if w := q.i * q.v; w > best {
				best, v, i = w, q.v, q.i
			}
		}
	}
	return v, i
}

// climb solves dP/dI = 0 in a stretch, with the lead's diode voltage between lo
// and hi.
func climb(rows []row, floor, ohms float64, lead *Curve, lo, hi float64) strung {
	x := lead.peakStart(lead.voc)
	if !(x > lo && x < hi) {
		x = (lo + hi) / 2
	}
	for n := range 100 {
		q := point(rows, floor, ohms, lead, x)
		rise := q.v - q.i*q.s
		h := -q.g1 * rise // positive left of the peak
		h1 := -q.g2*rise - q.g1*q.g1*(2*q.s+q.i*q.t)
		if h > 0 {
			lo = x
		} else {
			hi = x
		}
		step := -h / h1
		if math.Abs(step) < 1e-5*lead.a {
			return point(rows, floor, ohms, lead, x+step)
		}
		if next := x + step; !(next > lo && next < hi) || slow(n) {
			step = (lo+hi)/2 - x
			if math.Abs(step) < 1e-12*lead.a {
				break // no peak inside; the stretch's end is no peak either
			}
		}
		x += step
	}
	return point(rows, floor, ohms, lead, x)
}
