package battery

import "sort"

// A curve holds a chemistry's rest volts for the whole battery, ready for the
// inner loop: straight lines between knots, their integral, and a grid that
// finds the line of a charge without a search.
//
// The integral is that of the straight lines, so energy taken from it and
// volts taken from it never disagree.
type curve struct {
	knots []knot
	first [grid + 1]uint16
}

// A knot is a point of a curve with the line that starts there.
type knot struct {
	s, v  float64 // charge, V
	slope float64 // V per unit of charge
	e     float64 // integral of v from empty to here, V: W·h per A·h
}

// grid is how many equal parts of the charge have their first line noted: so
// fine that even at the steep ends, with a knot at every ten-thousandth, at
// most three lines begin in one.
const grid = 4096

func newCurve(points []Point, cells int) curve {
	n := len(points)
	c := curve{knots: make([]knot, n)}
	for k, p := range points {
		c.knots[k] = knot{s: float64(p.Charge), v: float64(p.Volts) * float64(cells)}
	}
	for k := 1; k < n; k++ {
		a, z := &c.knots[k-1], &c.knots[k]
		ds := z.s - a.s
		a.slope = (z.v - a.v) / ds
		z.e = a.e + (z.v+a.v)/2*ds
	}
	k := 0
	for g := range c.first {
		for k < n-2 && c.knots[k+1].s <= float64(g)/grid {
			k++
		}
		c.first[g] = uint16(k)
	}
	return c
}

// line returns the number of the line on which s lies, 0 <= s <= 1.
func (c *curve) line(s float64) int {
	k := int(c.first[uint(int(s*grid))&(2*grid-1)])
	for s > c.knots[k+1].s {
		k++
	}
	return k
}

// rest returns the volts at s on the line of a knot.
func (k *knot) rest(s float64) float64 { return k.v + k.slope*(s-k.s) }

// rest returns the volts at s.
func (c *curve) rest(s float64) float64 { return c.knots[c.line(s)].rest(s) }

// energy returns the integral from empty to s, V.
func (c *curve) energy(s float64) float64 {
	k := &c.knots[c.line(s)]
	return k.e + (k.v+k.rest(s))/2*(s-k.s)
}

// mean returns the mean volts between two charges and the volts at both. The
// sum goes from knot to knot instead of through energy, which would lose digits
// when the charges are close.
func (c *curve) mean(s0, s1 float64) (mean, v0, v1 float64) {
	k0 := c.line(s0)
	a := &c.knots[k0]
	v0 = a.rest(s0)
	if s1 >= a.s && s1 <= c.knots[k0+1].s {
		v1 = a.rest(s1)
		return (v0 + v1) / 2, v0, v1
	}
	k1 := c.line(s1)
	z := &c.knots[k1]
	v1 = z.rest(s1)
	if k1 < k0 {
		next := &c.knots[k1+1]
		area := (v0+a.v)*(s0-a.s)/2 + (a.e - next.e) + (next.v+v1)*(next.s-s1)/2
		return area / (s0 - s1), v0, v1
	}
	next := &c.knots[k0+1]
	area := (v0+next.v)*(next.s-s0)/2 + (z.e - next.e) + (z.v+v1)*(s1-z.s)/2
	return area / (s1 - s0), v0, v1
}

// charge is the inverse of rest: 0 below the curve, 1 above it.
func (c *curve) charge(v float64) float64 {
	last := len(c.knots) - 1
	switch {
	case !(v > c.knots[0].v):
		return 0
	case v >= c.knots[last].v:
		return 1
	}
	k := sort.Search(last, func(k int) bool { return c.knots[k].v >= v }) - 1
	return c.knots[k].s + (v-c.knots[k].v)/c.knots[k].slope
}
