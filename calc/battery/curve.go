package battery

import "sort"

// A curve holds a chemistry's rest volts for the whole battery, ready for the
// inner loop: straight lines between knots, their integral, and a grid that
// finds the line of a charge without a search.
//
// The integral is that of the straight lines, so energy taken from it and
// volts taken from it never disagree.
type curve struct {
	s, v  []float64 // knots: charge, volts
	slope []float64 // V per unit of charge, of the line that starts at the knot
	e     []float64 // integral of v from empty to the knot, V: W·h per A·h
	first [grid + 1]uint16
}

// grid is how many equal parts of the charge have their first line noted: so
// fine that even at the steep ends, with a knot at every ten-thousandth, at
// most three lines begin in one.
const grid = 4096

func newCurve(points []Point, cells int) curve {
	n := len(points)
	c := curve{
		s: make([]float64, n), v: make([]float64, n),
		slope: make([]float64, n), e: make([]float64, n),
	}
	for k, p := range points {
		c.s[k], c.v[k] = float64(p.Charge), float64(p.Volts)*float64(cells)
	}
	for k := 1; k < n; k++ {
		ds := c.s[k] - c.s[k-1]
		c.slope[k-1] = (c.v[k] - c.v[k-1]) / ds
		c.e[k] = c.e[k-1] + (c.v[k]+c.v[k-1])/2*ds
	}
	k := 0
	for g := range c.first {
		for k < n-2 && c.s[k+1] <= float64(g)/grid {
			k++
		}
		c.first[g] = uint16(k)
	}
	return c
}

// line returns the number of the line on which s lies, 0 <= s <= 1.
func (c *curve) line(s float64) int {
	k := int(c.first[int(s*grid)])
	for s > c.s[k+1] {
		k++
	}
	return k
}

// rest returns the volts at s on line k.
func (c *curve) rest(s float64, k int) float64 { return c.v[k] + c.slope[k]*(s-c.s[k]) }

// energy returns the integral from empty to s, V.
func (c *curve) energy(s float64) float64 {
	k := c.line(s)
	return c.e[k] + (c.v[k]+c.rest(s, k))/2*(s-c.s[k])
}

// mean returns the mean volts between two charges and the volts at both. The
// sum goes from knot to knot instead of through energy, which would lose digits
// when the charges are close.
func (c *curve) mean(s0, s1 float64) (mean, v0, v1 float64) {
	k0, k1 := c.line(s0), c.line(s1)
	v0, v1 = c.rest(s0, k0), c.rest(s1, k1)
	switch {
	case k1 == k0:
		return (v0 + v1) / 2, v0, v1
	case k1 < k0:
		area := (v0+c.v[k0])*(s0-c.s[k0])/2 + (c.e[k0] - c.e[k1+1]) + (c.v[k1+1]+v1)*(c.s[k1+1]-s1)/2
		return area / (s0 - s1), v0, v1
	default:
		area := (v0+c.v[k0+1])*(c.s[k0+1]-s0)/2 + (c.e[k1] - c.e[k0+1]) + (c.v[k1]+v1)*(s1-c.s[k1])/2
		return area / (s1 - s0), v0, v1
	}
}

// charge is the inverse of rest: 0 below the curve, 1 above it.
func (c *curve) charge(v float64) float64 {
	last := len(c.v) - 1
	switch {
	case !(v > c.v[0]):
		return 0
	case v >= c.v[last]:
		return 1
	}
	k := sort.SearchFloat64s(c.v, v) - 1
	return c.s[k] + (v-c.v[k])/c.slope[k]
}
