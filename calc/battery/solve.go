package battery

import "math"

// closeEnough is how near the volts of the bus and of the battery must come, V. It
// bounds what the caller's books can miss: as many amps as the bus changes
// over it.
const closeEnough = 1e-11

// settled is the same for amps at given volts, where no bus is asked: off by
// 1e-9 V over the resistance.
const settled = 1e-9

// A point of the secant is taken as it is where it moves by less than nearly,
// V, and the point before came nearer by nearest or better: it is off by their
// product, 2e-5 V, where the bus has a kink just there, and by less than 1e-7 V
// where it has not.
const nearly, nearest = 1e-3, 0.02

// root walks from the volts that the battery has by itself, at which the bus
// gives i amps, towards bound, to the first volts that the battery has at the
// amps the bus gives there:
//
//	g(v) = volts(Net(v)) - v = 0
//
// From above that is the upper one of two roots. g is concave where the draw
// is constant watts, and a secant through two points above the upper root
// then stays above it, so it cannot jump into the lower one. It returns the
// battery's volts and amps, and false if there is no root before bound.
func (w *work) root(bus Bus, i, bound float64) (volts, amps float64, found bool) {
	a, y := w.v0, w.volts(i)
	ga := y - a
	if math.Abs(ga) <= closeEnough {
		return y, i, true
	}
	up := ga > 0
	b, was := y, i // first move: the volts that those amps make
	for range 64 {
		last := false
		if (b >= bound) == up || b == a {
			b, last = bound, true
		}
		i = w.net(bus, b)
		y = w.volts(i)
		gb := y - b
		switch {
		case math.Abs(gb) <= closeEnough:
			return y, i, true
		case (gb > 0) != up:
			return w.between(bus, a, ga, b, gb)
		case last:
			return 0, 0, false
		}
		// Same side still: follow the line through both points, if it leads on.
		next := b - gb*(b-a)/(gb-ga)
		if !((next > b) == up) {
			next = bound
		} else if math.Abs(next-b) <= nearly && math.Abs(gb) <= nearest*math.Abs(ga) && (next < bound) == up {
			// A bus without a jump there gives nearly what it gave at b.
			if amps = w.net(bus, next); math.Abs(amps-i) <= 0.1*math.Abs(i-was)+1e-9 {
				return next, amps, true
			}
		}
		was = i
		a, ga, b = b, gb, next
	}
	return 0, 0, false
}

// between finds the root between a and b, where g has opposite signs: false
// position with the Illinois rule, and a halving now and then. Where the bus
// jumps, the volts are those of the jump and the amps what the battery has
// there: the bus hovers between its two answers.
func (w *work) between(bus Bus, a, ga, b, gb float64) (volts, amps float64, found bool) {
	for n := range 200 {
		c := b - gb*(b-a)/(gb-ga)
		if n%4 == 3 || !(c > min(a, b) && c < max(a, b)) {
			c = (a + b) / 2
		}
		i := w.net(bus, c)
		y := w.volts(i)
		gc := y - c
		if math.Abs(gc) <= closeEnough {
			return y, i, true
		}
		if (gc > 0) == (gb > 0) {
			ga /= 2
		} else {
			a, ga = b, gb
		}
		b, gb = c, gc
		if math.Abs(b-a) <= 1e-14*b {
			break
		}
	}
	i := (b - w.v0) / w.eff // more than it can be, as the mean moves with the amps
	return b, w.amps(b, min(i, 0), max(i, 0), 0), true
}

// amps returns the amps between lo and hi at which the battery has v volts:
// Newton inside a bracket, as volts rise with amps without a jump, with
// halvings once it is clear that Newton crawls. i is where it begins.
func (w *work) amps(v, lo, hi, i float64) float64 {
	for n := range 200 {
		y, slope := w.rising(i)
		g := y - v
		if math.Abs(g) <= settled {
			return i
		}
		if g > 0 {
			hi = i
		} else {
			lo = i
		}
		if hi-lo <= 1e-15*math.Abs(hi) {
			break
		}
		i -= g / slope
		if !(i > lo && i < hi) || n > 10 && n%2 == 0 {
			i = (lo + hi) / 2
		}
	}
	return (lo + hi) / 2
}

// upTo returns the most amps, up to some, that leave the battery no higher than
// v by itself at the end of the step: Newton as in amps, taken from below.
func (w *work) upTo(v, most float64) float64 {
	lo, hi, i := 0.0, most, 0.0
	for n := range 200 {
		y, slope := w.stands(i)
		g := y - v
		if g > 0 {
			hi = i
		} else {
			lo = i
		}
		if g <= 0 && g >= -settled || hi-lo <= 1e-15*hi {
			break
		}
		next := i - g/slope
		if g > 0 && slope > 0 {
			next -= settled / 2 / slope
		}
		if next >= most && hi == most && n < 3 {
			if y, _ := w.stands(most); y <= v {
				return most
			}
		}
		if i = next; !(i > lo && i < hi) || n > 10 && n%2 == 0 {
			i = (lo + hi) / 2
		}
	}
	return lo
}

// falling finds the volts between lo and hi at which the bus gives exactly
// that many amps; it gives more at lo and less at hi.
func (w *work) falling(bus Bus, amps, lo, hi float64) float64 {
	for range 60 {
		if hi-lo <= closeEnough {
			break
		}
		v := (lo + hi) / 2
		if w.net(bus, v) >= amps {
			lo = v
		} else {
			hi = v
		}
	}
	return lo
}
