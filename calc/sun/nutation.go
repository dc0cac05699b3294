package sun

import "math"

// A nutationTerm is one wave of the earth's nodding. y are the multiples of
// the five angles of [nutation], a and b give its share in longitude, c and d
// in obliquity, all in 0.0001 arc seconds (b and d a century).
type nutationTerm struct {
	y          [5]float64
	a, b, c, d float64
}

// nutationTerms is the 1980 theory of nutation down to 0.0003 arc seconds.
//
// Source: Reda2004, its table of nutation terms; the figures were read in
// pvlib-python, pvlib/spa.py (commit 004107b1), the report was not opened.
var nutationTerms = []nutationTerm{
	{[5]float64{0, 0, 0, 0, 1}, -171996, -174.2, 92025, 8.9},
	{[5]float64{-2, 0, 0, 2, 2}, -13187, -1.6, 5736, -3.1},
	{[5]float64{0, 0, 0, 2, 2}, -2274, -0.2, 977, -0.5},
	{[5]float64{0, 0, 0, 0, 2}, 2062, 0.2, -895, 0.5},
	{[5]float64{0, 1, 0, 0, 0}, 1426, -3.4, 54, -0.1},
	{[5]float64{0, 0, 1, 0, 0}, 712, 0.1, -7, 0},
	{[5]float64{-2, 1, 0, 2, 2}, -517, 1.2, 224, -0.6},
	{[5]float64{0, 0, 0, 2, 1}, -386, -0.4, 200, 0},
	{[5]float64{0, 0, 1, 2, 2}, -301, 0, 129, -0.1},
	{[5]float64{-2, -1, 0, 2, 2}, 217, -0.5, -95, 0.3},
	{[5]float64{-2, 0, 1, 0, 0}, -158, 0, 0, 0},
	{[5]float64{-2, 0, 0, 2, 1}, 129, 0.1, -70, 0},
	{[5]float64{0, 0, -1, 2, 2}, 123, 0, -53, 0},
	{[5]float64{2, 0, 0, 0, 0}, 63, 0, 0, 0},
	{[5]float64{0, 0, 1, 0, 1}, 63, 0.1, -33, 0},
	{[5]float64{2, 0, -1, 2, 2}, -59, 0, 26, 0},
	{[5]float64{0, 0, -1, 0, 1}, -58, -0.1, 32, 0},
	{[5]float64{0, 0, 1, 2, 1}, -51, 0, 27, 0},
	{[5]float64{-2, 0, 2, 0, 0}, 48, 0, 0, 0},
	{[5]float64{0, 0, -2, 2, 1}, 46, 0, -24, 0},
	{[5]float64{2, 0, 0, 2, 2}, -38, 0, 16, 0},
	{[5]float64{0, 0, 2, 2, 2}, -31, 0, 13, 0},
	{[5]float64{0, 0, 2, 0, 0}, 29, 0, 0, 0},
	{[5]float64{-2, 0, 1, 2, 2}, 29, 0, -12, 0},
	{[5]float64{0, 0, 0, 2, 0}, 26, 0, 0, 0},
	{[5]float64{-2, 0, 0, 2, 0}, -22, 0, 0, 0},
	{[5]float64{0, 0, -1, 2, 1}, 21, 0, -10, 0},
	{[5]float64{0, 2, 0, 0, 0}, 17, -0.1, 0, 0},
	{[5]float64{2, 0, -1, 0, 1}, 16, 0, -8, 0},
	{[5]float64{-2, 2, 0, 2, 2}, -16, 0.1, 7, 0},
	{[5]float64{0, 1, 0, 0, 1}, -15, 0, 9, 0},
	{[5]float64{-2, 0, 1, 0, 1}, -13, 0, 7, 0},
	{[5]float64{0, -1, 0, 0, 1}, -12, 0, 6, 0},
	{[5]float64{0, 0, 2, -2, 0}, 11, 0, 0, 0},
	{[5]float64{2, 0, -1, 2, 1}, -10, 0, 5, 0},
	{[5]float64{2, 0, 1, 2, 2}, -8, 0, 3, 0},
	{[5]float64{0, 1, 0, 2, 2}, 7, 0, -3, 0},
	{[5]float64{-2, 1, 1, 0, 0}, -7, 0, 0, 0},
	{[5]float64{0, -1, 0, 2, 2}, -7, 0, 3, 0},
	{[5]float64{2, 0, 0, 2, 1}, -7, 0, 3, 0},
	{[5]float64{2, 0, 1, 0, 0}, 6, 0, 0, 0},
	{[5]float64{-2, 0, 2, 2, 2}, 6, 0, -3, 0},
	{[5]float64{-2, 0, 1, 2, 1}, 6, 0, -3, 0},
	{[5]float64{2, 0, -2, 0, 1}, -6, 0, 3, 0},
	{[5]float64{2, 0, 0, 0, 1}, -6, 0, 3, 0},
	{[5]float64{0, -1, 1, 0, 0}, 5, 0, 0, 0},
	{[5]float64{-2, -1, 0, 2, 1}, -5, 0, 3, 0},
	{[5]float64{-2, 0, 0, 0, 1}, -5, 0, 3, 0},
	{[5]float64{0, 0, 2, 2, 1}, -5, 0, 3, 0},
	{[5]float64{-2, 0, 2, 0, 1}, 4, 0, 0, 0},
	{[5]float64{-2, 1, 0, 2, 1}, 4, 0, 0, 0},
	{[5]float64{0, 0, 1, -2, 0}, 4, 0, 0, 0},
	{[5]float64{-1, 0, 1, 0, 0}, -4, 0, 0, 0},
	{[5]float64{-2, 1, 0, 0, 0}, -4, 0, 0, 0},
	{[5]float64{1, 0, 0, 0, 0}, -4, 0, 0, 0},
	{[5]float64{0, 0, 1, 2, 0}, 3, 0, 0, 0},
	{[5]float64{0, 0, -2, 2, 2}, -3, 0, 0, 0},
	{[5]float64{-1, -1, 1, 0, 0}, -3, 0, 0, 0},
	{[5]float64{0, 1, 1, 0, 0}, -3, 0, 0, 0},
	{[5]float64{0, -1, 1, 2, 2}, -3, 0, 0, 0},
	{[5]float64{2, -1, -1, 2, 2}, -3, 0, 0, 0},
	{[5]float64{0, 0, 3, 2, 2}, -3, 0, 0, 0},
	{[5]float64{2, -1, 0, 2, 2}, -3, 0, 0, 0},
}

// nutation returns the nodding of the earth's axis in longitude and in
// obliquity, both in degrees. century is Terrestrial Time in Julian centuries
// from 2000.
func nutation(century float64) (longitude, obliquity float64) {
	const rad = math.Pi / 180
	t := century
	angle := [5]float64{
		rad * (297.85036 + t*(445267.111480+t*(-0.0019142+t/189474))), // elongation of the moon from the sun
		rad * (357.52772 + t*(35999.050340+t*(-0.0001603-t/300000))),  // anomaly of the sun
		rad * (134.96298 + t*(477198.867398+t*(0.0086972+t/56250))),   // anomaly of the moon
		rad * (93.27191 + t*(483202.017538+t*(-0.0036825+t/327270))),  // the moon's distance from its node
		rad * (125.04452 + t*(-1934.136261+t*(0.0020708+t/450000))),   // the moon's node
	}
	for i := range nutationTerms {
		n := &nutationTerms[i]
		sin, cos := math.Sincos(n.y[0]*angle[0] + n.y[1]*angle[1] + n.y[2]*angle[2] + n.y[3]*angle[3] + n.y[4]*angle[4])
		longitude += (n.a + n.b*t) * sin
		obliquity += (n.c + n.d*t) * cos
	}
	return longitude / 36e6, obliquity / 36e6
}
