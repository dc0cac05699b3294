package panel

import (
	"math"
	"slices"

	"duskline/calc/qty"
)

// A Patch is so many panels of one kind with the same patch of shade on each.
type Patch struct {
	Lit, Dark Curve   // of the whole panel: all in the light, all in the shade; Dark with less light current than Lit
	Share     float64 // of its cells in the shade, 0 to 1; 0: Dark is not read
	Cells     int     // in series, for [BypassGroups]
	Count     int     // 0 or less: as if it were not there
	String    int     // number of the string they all are in; read for Strings only
}

// Patchy is an [Array] some of whose panels are partly in the shade.
//
// Decision: the cells of a panel are one row in series, a bypass diode across
// each of its groups, and the patch covers one group after the other; the share
// need not be a whole number of cells. A shade that draws a line across every
// group does more harm than that, one that covers whole groups does no less.
// A shaded cell lets through what its own light makes and what its shunt leaks:
// with the breakdown of cells missing, a patch of a cell or two holds a group
// back a little more than it would in the open.
//
// What holds of an Array with its blocking diodes holds here: set the Parts
// each step and ask. With no share at all the answers are those of the Array,
// but that a panel in a string is held at -0.5 V for each of its groups. The
// methods allocate nothing once they have been called with as many Parts, and
// return no error.
type Patchy struct {
	Joined Joining
	Parts  []Patch
	Drop   qty.Volt // of each blocking diode while it carries, 0 to 2 V
	Series qty.Ohm  // of the cable behind the joint, both ways, 0 or more

	// What ready prepared, and from what.
	rows   []row // one for each of Parts
	pieces []piece
	from   []Patch
	joined Joining
}

// BypassGroups returns into how many groups with a bypass diode of their own a
// panel's cells in series are cut: the fewest of at most 24 cells. 36 cells
// have 2, 60 and 72 have 3. Without a number of cells it is 2.
//
// Source: CommonPractice.
func BypassGroups(cells int) int {
	if cells < 1 {
		return 2
	}
	return (cells + 23) / 24
}

// A row is the cells of a kind of panel between its two ends: some of them in
// the light, some in the shade. wl and wd say how many of each work in the
// stretch under way, as shares of a panel.
type row struct {
	lit, dark *Curve
	legs      [3]leg
	wl, wd    float64

	first, last int // its pieces, side by side
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
	lo       float64 // A, where it begins
	xl, xh   float64 // diode volts of the lead at its end and its beginning
	end, top float64 // volts of the string at its end and its beginning
}

// ready prepares rows and pieces, unless it has done so for the same Parts: a
// controller that is a switch asks again and again in a step. The panels of a
// kind count in the weights where all are one string.
func (p *Patchy) ready() {
	if p.joined == p.Joined && slices.Equal(p.from, p.Parts) {
		return
	}
	p.joined, p.from = p.Joined, append(p.from[:0], p.Parts...)
	p.setRows()
	p.pieces = p.pieces[:0]
	if p.Joined == EndToEnd {
		p.cut(p.rows)
		return
	}
	for k := range p.rows {
		r := &p.rows[k]
		r.first = len(p.pieces)
		p.cut(p.rows[k : k+1])
		r.last = len(p.pieces)
	}
}

// cut appends the pieces of a string.
func (p *Patchy) cut(rows []row) {
	for lo := 0.0; ; {
		floor, lead, hi := stretch(rows, lo)
		if lead == nil {
			return
		}
		c := piece{lo: lo}
		c.xh, _, _ = lead.diode(lo)
		c.xl, _, _ = lead.diode(hi)
		c.top, c.end = point(rows, floor, lead, c.xh).v, point(rows, floor, lead, c.xl).v
		p.pieces = append(p.pieces, c)
		lo = hi
	}
}

func (p *Patchy) setRows() {
	for len(p.rows) < len(p.Parts) {
		p.rows = append(p.rows, row{})
	}
	p.rows = p.rows[:len(p.Parts)]
	for k := range p.Parts {
		part := &p.Parts[k]
		r := &p.rows[k]
		*r = row{lit: &part.Lit, dark: &part.Dark}
		if part.Count < 1 {
			continue
		}
		n := 1.0
		if p.Joined == EndToEnd {
			n = float64(part.Count)
		}
		groups := float64(BypassGroups(part.Cells))
		covered := min(max(part.Share, 0), 1) * groups
		whole := math.Floor(covered)
		rest := covered - whole
		open := groups - whole
		if rest > 0 {
			open--
			r.legs[1] = leg{n: n, wl: n * (1 - rest) / groups, wd: n * rest / groups, isb: part.mixedBypass(groups, rest)}
		}
		r.legs[0] = leg{n: n * open, wl: n * open / groups, isb: bypassOf(&part.Lit, groups)}
		r.legs[2] = leg{n: n * whole, wd: n * whole / groups, isb: bypassOf(&part.Dark, groups)}
	}
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
// diode voltage of x.
func point(rows []row, floor float64, lead *Curve, x float64) (q strung) {
	q.i, q.g1, q.g2 = lead.at(x)
	q.v = floor
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

// amps returns the current of a string of rows at v volts, 0 or more of both,
// −dI/dV there and the derivative of that.
func amps(rows []row, pieces []piece, v float64) banked {
	if len(pieces) == 0 || v >= pieces[0].top {
		return banked{}
	}
	k := 0
	for k < len(pieces)-1 && v < pieces[k].end {
		k++
	}
	floor, lead, _ := stretch(rows, pieces[k].lo)
	xl, xh := pieces[k].xl, pieces[k].xh
	x := xh - 0.2*lead.a
	if !(x > xl) {
		x = (xl + xh) / 2
	}
	for range 80 {
		q := point(rows, floor, lead, x)
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
		if n := x + step; !(n > xl && n < xh) {
			step = (xl+xh)/2 - x
			if math.Abs(step) < 1e-12*lead.a {
				return b
			}
		}
		x += step
	}
	return banked{i: point(rows, floor, lead, x).i}
}

// peakOf returns volts and amps at the highest peak of power of a string of
// rows; see [Array.MaxPower], whose argument it is.
func peakOf(rows []row, pieces []piece) (v, i float64) {
	best := 0.0
	for k := range pieces {
		c := &pieces[k]
		floor, lead, hi := stretch(rows, c.lo)
		q := point(rows, floor, lead, c.xh)
		if rise := q.v - c.lo*q.s; rise > 0 && c.lo*q.v+rise*(hi-c.lo) > best {
			q = climb(rows, floor, lead, c.xl, c.xh)
			if w := q.i * q.v; w > best {
				best, v, i = w, q.v, q.i
			}
		}
	}
	return v, i
}

// climb solves dP/dI = 0 in a stretch, with the lead's diode voltage between lo
// and hi.
func climb(rows []row, floor float64, lead *Curve, lo, hi float64) strung {
	x := lead.peakStart(lead.voc)
	if !(x > lo && x < hi) {
		x = (lo + hi) / 2
	}
	for range 80 {
		q := point(rows, floor, lead, x)
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
			return point(rows, floor, lead, x+step)
		}
		if n := x + step; !(n > lo && n < hi) {
			step = (lo+hi)/2 - x
			if math.Abs(step) < 1e-12*lead.a {
				break // no peak inside; the stretch's end is no peak either
			}
		}
		x += step
	}
	return point(rows, floor, lead, x)
}

// Current returns the current at v volts at the array's ends, never negative.
//
// v is 0 to 400 V for each panel end to end.
//
// Source: Bishop1988, joined curves with bypass diodes.
func (p *Patchy) Current(v qty.Volt) qty.Ampere {
	p.ready()
	if p.Joined == EndToEnd {
		return qty.Ampere(amps(p.rows, p.pieces, float64(v)).i)
	}
	return qty.Ampere(p.sideBySide(float64(v)).i)
}

// sideBySide returns the point of all panels at v volts.
func (p *Patchy) sideBySide(v float64) (q banked) {
	for k := range p.rows {
		if n := float64(p.Parts[k].Count); n > 0 {
			r := &p.rows[k]
			one := amps(p.rows[k:k+1], p.pieces[r.first:r.last], v)
			q.i += n * one.i
			q.k += n * one.k
			q.t += n * one.t
		}
	}
	return q
}

// MaxPower returns volts and amps at the highest of all peaks of power, both 0
// if nothing is lit.
//
// Source: Bishop1988, joined curves with bypass diodes; the argument is that
// of [Array.MaxPower].
func (p *Patchy) MaxPower() (qty.Volt, qty.Ampere) {
	p.ready()
	if p.Joined == EndToEnd {
		v, i := peakOf(p.rows, p.pieces)
		return qty.Volt(v), qty.Ampere(i)
	}
	only, kinds := 0, 0
	for k := range p.Parts {
		if p.Parts[k].Count > 0 {
			only = k
			kinds++
		}
	}
	if kinds == 0 {
		return 0, 0
	}
	if kinds == 1 {
		v, i := peakOf(p.rows[only:only+1], p.pieces)
		return qty.Volt(v), qty.Ampere(i * float64(p.Parts[only].Count))
	}
	v, i := p.bankPeak()
	return qty.Volt(v), qty.Ampere(i)
}

// bankPeak is MaxPower of unequal panels side by side. The volts at which a
// diode of any of them begins to carry, or a panel is shut off, cut the curve
// into stretches in which dP/dV = I − V·k falls, so that the tangents at both
// ends bound what lies between.
func (p *Patchy) bankPeak() (v, i float64) {
	best, hi := 0.0, math.Inf(1)
	for hi > 0 { // from above: the highest peak is there as a rule
		lo := 0.0
		for k := range p.pieces {
			for _, e := range [2]float64{p.pieces[k].end, p.pieces[k].top} {
				if e < hi*(1-1e-12) && e > lo {
					lo = e
				}
			}
		}
		if !math.IsInf(hi, 1) {
			near := 1e-9 * (hi - lo) // on an edge the slope belongs to either side
			a, b := lo+near, hi-near
			qa, qb := p.sideBySide(a), p.sideBySide(b)
			pa, pb := a*qa.i, b*qb.i
			fa, fb := qa.i-a*qa.k, qb.i-b*qb.k
			switch {
			case fa <= 0:
				if pa > best {
					best, v, i = pa, a, qa.i
				}
			case fb >= 0:
				if pb > best {
					best, v, i = pb, b, qb.i
				}
			case pa+fa*(pb-pa-fb*(b-a))/(fa-fb) > best: // where the tangents meet
				if at, q := p.bankClimb(a, b); at*q.i > best {
					best, v, i = at*q.i, at, q.i
				}
			}
		}
		hi = lo
	}
	return v, i
}

// bankClimb solves dP/dV = 0 between lo and hi volts, between which it changes
// its sign.
func (p *Patchy) bankClimb(lo, hi float64) (v float64, q banked) {
	v = lo + 0.85*(hi-lo) // peaks lie before the edge at which a panel is shut off
	for range 80 {
		q = p.sideBySide(v)
		rise := q.i - v*q.k
		if rise > 0 {
			lo = v
		} else {
			hi = v
		}
		step := rise / (2*q.k + v*q.t)
		if math.Abs(step) < 1e-6*v { // power is flat there: good to 1e-11
			break
		}
		if n := v + step; !(n > lo && n < hi) {
			step = (lo+hi)/2 - v
		}
		v += step
	}
	return v, q
}

// OpenCircuit returns the volts at which the first of the panels begins to give
// current to an open joint: the highest string's, without its diode's drop.
//
// Source: EnergyBalance, Kirchhoff's laws.
func (p *Patchy) OpenCircuit() qty.Volt {
	p.ready()
	top := 0.0
	for k := range p.pieces {
		top = max(top, p.pieces[k].top)
	}
	return qty.Volt(top)
}

// ShortCircuit returns the current at 0 V.
//
// Source: Bishop1988, joined curves with bypass diodes.
func (p *Patchy) ShortCircuit() qty.Ampere { return p.Current(0) }

// Alone returns the watts that the panels would give if each worked at its own
// maximum power point, shaded as it is, without blocking diodes and cable.
//
// Source: EnergyBalance, a sum.
func (p *Patchy) Alone() (sum qty.Watt) {
	for k := range p.Parts {
		if n := p.Parts[k].Count; n > 0 {
			one := Patchy{Parts: p.Parts[k : k+1]}
			v, i := one.MaxPower()
			sum += qty.Power(v, i)
		}
	}
	return sum
}

// MismatchLoss returns the watts that joining alone costs: see
// [Array.MismatchLoss]. It allocates.
//
// Source: EnergyBalance, a difference.
func (p *Patchy) MismatchLoss() qty.Watt {
	bare := Patchy{Joined: p.Joined, Parts: p.Parts}
	v, i := bare.MaxPower()
	return p.Alone() - qty.Power(v, i)
}
