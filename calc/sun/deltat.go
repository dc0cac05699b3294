package sun

import "time"

// DeltaT returns how far Terrestrial Time runs ahead of Universal Time, in
// seconds: polynomials through the middle of each month, 1900 to 2149. Other
// years give NaN, which [PositionAt] refuses.
//
// The years after 2005 are a forecast and already about 6 s above what is
// measured (from memory); the sun moves 0.0003° in that time.
//
// Source: Espenak2006; the NASA page was opened in part, the expressions from
// 1900 on were read in pvlib-python, pvlib/spa.py, which quotes it.
func DeltaT(t time.Time) float64 {
	t = t.UTC()
	year := t.Year()
	y := float64(year) + (float64(t.Month())-0.5)/12
	switch {
	case year < firstYear || year > lastYear:
		return nan
	case year < 1920:
		return polynomial(y-1900, -2.79, 1.494119, -0.0598939, 0.0061966, -0.000197)
	case year < 1941:
		return polynomial(y-1920, 21.20, 0.84493, -0.076100, 0.0020936)
	case year < 1961:
		return polynomial(y-1950, 29.07, 0.407, -1./233, 1./2547)
	case year < 1986:
		return polynomial(y-1975, 45.45, 1.067, -1./260, -1./718)
	case year < 2005:
		return polynomial(y-2000, 63.86, 0.3345, -0.060374, 0.0017275, 0.000651814, 0.00002373599)
	case year < 2050:
		return polynomial(y-2000, 62.92, 0.32217, 0.005589)
	default:
		u := (y - 1820) / 100
		return -20 + 32*u*u - 0.5628*(2150-y)
	}
}

// polynomial returns c[0] + c[1]x + c[2]x² ...
func polynomial(x float64, c ...float64) (sum float64) {
	for i := len(c) - 1; i >= 0; i-- {
		sum = sum*x + c[i]
	}
	return sum
}
