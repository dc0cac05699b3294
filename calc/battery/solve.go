package battery

import "math"

// closeEnough is how near the volts of the bus and of the battery must come, V. It
// bounds what the caller's books can miss: as many amps as the bus changes
// over it.
const closeEnough = 1e-11

// root walks from volts x, at which the bus gives i amps, towards bound, to
// the first volts that the battery has at the amps the bus gives there:
//
//	g(v) = volts(Net(v)) - v = 0
//
// From above that is the upper one of two roots. g is concave where the draw
// is constant watts, and a secant through two points above the upper root
// then stays above it, so it cannot jump into the lower one. It returns the
// battery's volts and amps, and false if there is no root before bound.
func (w *work) root(bus Bus, x, i, bound float64) (volts, amps float64, found bool) {
	a, y := x, w.volts(i)
	ga := y - a
	if math.Abs(ga) <= closeEnough {
		return y, i, true
	}
	up := ga > 0
	b := y // first move: the volts that those amps make
	for range 64 {
		last := false
		if (b >= bound) == up || !(math.Abs(b-a) > 0) {
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
		}
		a, ga, b = b, gb, next
	}
	return 0, 0, false
}

// between finds the root between a and b, where g has opposite signs: false
// position with the Illinois rule, and a halving now and then.
func (w *work) between(bus Bus, a, ga, b, gb float64) (volts, amps float64, found bool) {
	var y, i float64
	for n := range 200 {
		c := b - gb*(b-a)/(gb-ga)
		if n%4 == 3 || !(c > min(a, b) && c < max(a, b)) {
			c = (a + b) / 2
		}
		i = w.net(bus, c)
		y = w.volts(i)
		gc := y - c
		if math.Abs(gc) <= closeEnough || math.Abs(b-a) <= 1e-14*math.Abs(b) {
			break
		}
		if (gc > 0) == (gb > 0) {
			ga /= 2
		} else {
			a, ga = b, gb
		}
		b, gb = c, gc
	}
	return y, i, true
}

// amps returns the amps between lo and hi at which the battery has v volts:
// Newton inside a bracket, as volts rise with amps without a jump.
func (w *work) amps(v, lo, hi float64) float64 {
	i := (v - w.v0) / w.ohms
	for range 100 {
		if !(i > lo && i < hi) {
			i = (lo + hi) / 2
		}
		mean, s1, v1 := w.mean(i)
		g := mean + i*w.ohms - v
		if g > 0 {
			hi = i
		} else {
			lo = i
		}
		slope := w.ohms
		if s1 != w.s0 {
			slope += w.perAmp * (v1 - mean) / (s1 - w.s0)
		}
		if math.Abs(g) <= closeEnough || hi-lo <= 1e-15*math.Abs(hi) {
			break
		}
		i -= g / slope
	}
	return i
}

// falling finds the volts between lo and hi at which the bus gives exactly
// that many amps; it gives more at lo and less at hi.
func (w *work) falling(bus Bus, amps, lo, hi float64) float64 {
	for range 60 {
		v := (lo + hi) / 2
		if w.net(bus, v) >= amps {
			lo = v
		} else {
			hi = v
		}
	}
	return lo
}
