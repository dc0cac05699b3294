package panel

import "math"

// A string's parts: the cells of each kind of panel in it are a row, cut into
// groups that have a bypass diode each. The currents at which one of those
// diodes after the other begins to carry cut the string's curve into pieces.

// A line is a string between the two joints, n times: its rows, and the pieces
// of its curve. A string of panels all alike and without shade is answered by
// one of them: only is its curve, in how many there are.
type line struct {
	begin, end  int // of the rows
	first, last int // of the pieces
	n           float64
	only        *Curve
	in          float64
}

// A row is the cells of a kind of panel between its two ends: some of them in
// the light, some in the shade. wl and wd say how many of each work in the
// stretch under way, as shares of a panel.
type row struct {
	lit, dark *Curve
	legs      [3]leg
	wl, wd    float64
}

// A leg is groups of cells that are shaded alike. n is how many; 0: none.
type leg struct {
	n      float64
	wl, wd float64 // of all its groups, in shares of a panel
	isb    float64 // amps at which their bypass diodes begin to carry
}

// A piece is a stretch of the curve of a string, between two currents at which
// bypass diodes begin to carry.
type piece struct {
	lo, hi   float64 // A, where it begins and ends
	xl, xh   float64 // diode volts of the lead at its end and its beginning
	end, top float64 // volts of the string at its end and its beginning
}

// cut appends the pieces of a line. Where one panel answers for all, no volts
// from 0 up reach a bypass diode: there is one piece, of which nobody asks for
// diode volts.
func (p *Patchy) cut(l *line) {
	l.first = len(p.pieces)
	defer func() { l.last = len(p.pieces) }()
	if c := l.only; c != nil {
		if c.lit() {
			p.pieces = append(p.pieces, piece{hi: c.il, end: l.in * bypass, top: l.in * c.voc})
		}
		return
	}
	rows := p.rows[l.begin:l.end]
	for lo := 0.0; ; {
		floor, lead, hi := stretch(rows, lo)
		if lead == nil || !(hi > lo) {
			return
		}
		c := piece{lo: lo, hi: hi}
		c.xh, _, _ = lead.diode(lo)
		c.xl, _, _ = lead.diode(hi)
		c.top, c.end = point(rows, floor, 0, lead, c.xh).v, point(rows, floor, 0, lead, c.xl).v
		p.pieces = append(p.pieces, c)
		lo = hi
	}
}

// row returns n panels of the kind end to end.
func (p *Patch) row(n float64) row {
	r := row{lit: &p.Lit, dark: &p.Dark}
	groups := float64(BypassGroups(p.Cells))
	covered := min(max(p.Share, 0), 1) * groups
	whole := math.Floor(covered)
	rest := covered - whole
	open := groups - whole
	if rest > 0 {
		open--
		r.legs[1] = leg{n: n, wl: n * (1 - rest) / groups, wd: n * rest / groups, isb: p.mixedBypass(groups, rest)}
	}
	r.legs[0] = leg{n: n * open, wl: n * open / groups, isb: bypassOf(&p.Lit, groups)}
	r.legs[2] = leg{n: n * whole, wd: n * whole / groups}
	if whole > 0 {
		r.legs[2].isb = bypassOf(&p.Dark, groups)
	}
	return r
}

// bypassOf returns the amps at which one of the equal groups of a panel stands
// at the volts of its bypass diode.
func bypassOf(c *Curve, groups float64) float64 {
	if !c.lit() {
		return 0
	}
	i, _ := c.amps(bypass * groups)
	return i
}

// mixedBypass is bypassOf for a group of which a share is in the shade.
//
// The volts fall with the amps and ever faster: Newton steps from the far side
// of the root cannot pass it. There the group would stand at its diode's volts
// even if it were all in the light.
func (p *Patch) mixedBypass(groups, share float64) float64 {
	if !p.Lit.lit() || !p.Dark.lit() {
		return 0
	}
	lo, i := bypassOf(&p.Dark, groups), bypassOf(&p.Lit, groups)
	for range 60 {
		xl, gl, _ := p.Lit.diode(i)
		xd, gd, _ := p.Dark.diode(i)
		v := (1-share)*(xl-p.Lit.rs*i) + share*(xd-p.Dark.rs*i)
		s := (1-share)*(1/gl+p.Lit.rs) + share*(1/gd+p.Dark.rs)
		step := (v - bypass*groups) / s
		i = max(i+step, lo)
		if math.Abs(step) < 1e-12*p.Lit.il {
			break
		}
	}
	return i
}

// stretch readies the rows for currents just above lo: it returns the volts of
// the diodes that carry, the weakest curve of the cells that still work, which
// leads, and the current at which the next diode begins to carry. Without any
// cells left there is no lead.
func stretch(rows []row, lo float64) (floor float64, lead *Curve, hi float64) {
	hi = math.Inf(1)
	for k := range rows {
		r := &rows[k]
		r.wl, r.wd = 0, 0
		for j := range r.legs {
			l := &r.legs[j]
			switch {
			case l.n == 0:
			case l.isb <= lo:
				floor += l.n * bypass
			default:
				r.wl += l.wl
				r.wd += l.wd
				hi = min(hi, l.isb)
			}
		}
		if r.wl > 0 && (lead == nil || r.lit.il < lead.il) {
			lead = r.lit
		}
		if r.wd > 0 && (lead == nil || r.dark.il < lead.il) {
			lead = r.dark
		}
	}
	return floor, lead, hi
}

// point returns the point of the stretch at which the leading cells have a
// diode voltage of x, behind ohms more in series.
func point(rows []row, floor, ohms float64, lead *Curve, x float64) (q strung) {
	q.i, q.g1, q.g2 = lead.at(x)
	q.v, q.s = floor-ohms*q.i, ohms
	add := func(c *Curve, w float64) {
		xk, g1, g2 := x, q.g1, q.g2
		if c != lead {
			xk, g1, g2 = c.diode(q.i)
		}
		q.v += w * (xk - c.rs*q.i)
		q.s += w * (1/g1 + c.rs)
		q.t += w * g2 / (g1 * g1 * g1)
	}
	for k := range rows {
		if r := &rows[k]; r.wl > 0 {
			add(r.lit, r.wl)
		}
		if r := &rows[k]; r.wd > 0 {
			add(r.dark, r.wd)
		}
	}
	return q
}
