package sun

import "math"

var cos85 = math.Cos(85 * rad)

// A perezRow gives the shares of the sky's brightness around the sun (a) and
// at the rim (b) for skies of a clearness up to its own: constant, times the
// brightness, times the zenith angle in radians.
type perezRow struct {
	upTo float64
	a, b [3]float64
}

// perezTable is the set of 1990 that composes all sites.
//
// Source: Perez1990, its table of coefficients; paper not opened. It is the set
// that pvlib-python calls allsitescomposite1990, whose results it gives to
// 5e-12 in all eight rows.
var perezTable = [8]perezRow{
	{1.065, [3]float64{-0.008, 0.588, -0.062}, [3]float64{-0.06, 0.072, -0.022}},
	{1.23, [3]float64{0.13, 0.683, -0.151}, [3]float64{-0.019, 0.066, -0.029}},
	{1.5, [3]float64{0.33, 0.487, -0.221}, [3]float64{0.055, -0.064, -0.026}},
	{1.95, [3]float64{0.568, 0.187, -0.295}, [3]float64{0.109, -0.152, -0.014}},
	{2.8, [3]float64{0.873, -0.392, -0.362}, [3]float64{0.226, -0.462, 0.001}},
	{4.5, [3]float64{1.132, -1.237, -0.412}, [3]float64{0.288, -0.823, 0.056}},
	{6.2, [3]float64{1.06, -1.6, -0.359}, [3]float64{0.264, -1.127, 0.131}},
	{math.Inf(1), [3]float64{0.678, -0.327, -0.25}, [3]float64{0.156, -1.377, 0.251}},
}

// perez returns the shares of the sky's light around the sun, F1, and at the
// rim, F2.
//
//	clearness  = ((DHI + DNI)/DHI + 1.041 z³) / (1 + 1.041 z³)
//	brightness = DHI · m / extra
//	F = constant + brightness · second + z · third, F1 not below 0
//
// z is the apparent zenith angle in radians, m the air mass of [AirMass]
// without pressure. Without sky light or sun above the horizon both are 0.
//
// Source: Perez1990, as pvlib irradiance.perez reads it; paper not opened.
func perez(dni, dhi float64, d Direction, extra float64) (f1, f2 float64) {
	if !(dhi > 0 && d.Up > 0) {
		return 0, 0
	}
	z := float64(90-d.Elevation) * rad
	k := 1.041 * z * z * z
	clearness := ((dhi+dni)/dhi + k) / (1 + k)
	i := 0
	for clearness >= perezTable[i].upTo && i < len(perezTable)-1 {
		i++
	}
	r := &perezTable[i]
	bright := dhi * airMass(d) / extra
	return max(r.a[0]+bright*r.a[1]+z*r.a[2], 0), r.b[0] + bright*r.b[1] + z*r.b[2]
}
