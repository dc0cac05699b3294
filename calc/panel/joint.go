package panel

import "math"

// Unequal strings side by side, each behind its blocking diode, and one cable
// behind the joint. The joint's volts u are the parameter: the strings' current
// J follows from them, and the cable's drop from that.
//
//	V = u − J·R    P = V·J    dP/du = J − k·(u − 2·J·R),  k = −dJ/du

// jointAt returns the point of all strings at u volts of the joint.
func (p *Patchy) jointAt(u float64) (q banked) {
	u += float64(p.Drop)
	for k := range p.lines {
		l := &p.lines[k]
		one := p.amps(l, u, 0)
		q.i += l.n * one.i
		q.k += l.n * one.k
		q.t += l.n * one.t
	}
	return q
}

// behindCable returns the current at v volts behind the cable.
//
// The joint stands at v + J·R: somewhere between v and what the current at v
// itself would raise it to.
func (p *Patchy) behindCable(v float64) float64 {
	ohms := float64(p.Series)
	q := p.jointAt(v)
	if !(ohms > 0 && q.i > 0) {
		return q.i
	}
	lo, hi := v, v+ohms*q.i
	u := v
	for n := range 100 {
		miss := v + ohms*q.i - u
		step := miss / (1 + ohms*q.k)
		if math.Abs(step)*ohms*q.k < 1e-9*(hi-v) && math.Abs(step) < 1e-5 {
			return q.i - step*(q.k+step*q.t/2)
		}
		if miss > 0 {
			lo = u
		} else {
			hi = u
		}
		next := u + step
		if !(next > lo && next < hi) || slow(n) {
			if next = (lo + hi) / 2; !(next > lo && next < hi) {
				break // as sharp as the numbers are
			}
		}
		u = next
		q = p.jointAt(u)
	}
	return q.i
}

// jointPeak returns volts and amps behind the cable at the highest peak of
// power. The volts at which a diode of any string begins to carry, or a string
// is shut off, cut the curve into stretches in which J is concave. There dP/du
// is above 0 where u < 2·J·R, and falls from then on: one peak at most; and
// where it falls all through, the tangents at both ends bound what lies
// between.
func (p *Patchy) jointPeak() (v, i float64) {
	drop, ohms := float64(p.Drop), float64(p.Series)
	most := 0.0 // amps, at no volts at all
	for k := range p.lines {
		if l := &p.lines[k]; l.last > l.first {
			most += l.n * p.pieces[l.last-1].hi
		}
	}
	best, hi := 0.0, math.Inf(1)
	keep := func(u float64, q banked) {
		if w := (u - ohms*q.i) * q.i; w > best {
			best, v, i = w, u-ohms*q.i, q.i
		}
	}
	for hi > 0 && hi*most > best { // from above: the highest peak is there as a rule
		lo := 0.0
		for k := range p.pieces {
			for _, e := range [2]float64{p.pieces[k].end - drop, p.pieces[k].top - drop} {
				if e < hi*(1-1e-12) && e > lo {
					lo = e
				}
			}
		}
		if !math.IsInf(hi, 1) {
			near := 1e-9 * (hi - lo) // on an edge the slope belongs to either side
			a, b := lo+near, hi-near
			qa, qb := p.jointAt(a), p.jointAt(b)
			pa, pb := (a-ohms*qa.i)*qa.i, (b-ohms*qb.i)*qb.i
			fa, fb := qa.i-(a-2*ohms*qa.i)*qa.k, qb.i-(b-2*ohms*qb.i)*qb.k
			switch {
			case fa <= 0:
				keep(a, qa)
			case fb >= 0:
				keep(b, qb)
			case a < 2*ohms*qa.i, pa+fa*(pb-pa-fb*(b-a))/(fa-fb) > best: // where the tangents meet
				keep(p.jointClimb(a, b))
			}
		}
		hi = lo
	}
	return v, i
}

// jointClimb solves dP/du = 0 between lo and hi volts of the joint, between
// which it changes its sign.
func (p *Patchy) jointClimb(lo, hi float64) (u float64, q banked) {
	ohms := float64(p.Series)
	u = lo + 0.85*(hi-lo) // peaks lie before the edge at which a string is shut off
	for n := range 100 {
		q = p.jointAt(u)
		w := u - 2*ohms*q.i
		rise := q.i - w*q.k
		if rise > 0 {
			lo = u
		} else {
			hi = u
		}
		step := rise / (2*q.k*(1+ohms*q.k) + w*q.t)
		if math.Abs(rise*step) < 1e-12*(u-ohms*q.i)*q.i { // twice what the step would gain
			break
		}
		next := u + step
		if !(next > lo && next < hi) || slow(n) {
			if next = (lo + hi) / 2; !(next > lo && next < hi) {
				break // as sharp as the numbers are
			}
		}
		u = next
	}
	return u, q
}

// slow says that a search which has come so far without an end halves its
// bracket every other time: where a patch of shade takes over from the light,
// the curve bends in a hair's breadth, and Newton steps go to and fro.
func slow(n int) bool { return n > 12 && n&1 == 0 }
