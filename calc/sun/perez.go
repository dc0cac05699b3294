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
// Source: Perez1990, its table of coefficients; the figures were read in
// pvlib-python, irradiance._get_perez_coefficients('allsitescomposite1990').
var perezTable = [8]perezRow{
	{1.065, [3]float64{-0.0083117, 0.5877285, -0.0620636}, [3]float64{-0.0596012, 0.0721249, -0.0220216}},
	{1.23, [3]float64{0.1299457, 0.6825954, -0.1513752}, [3]float64{-0.0189325, 0.0659650, -0.0288748}},
	{1.5, [3]float64{0.3296958, 0.4868735, -0.2210958}, [3]float64{0.0554140, -0.0639588, -0.0260542}},
	{1.95, [3]float64{0.5682053, 0.1874525, -0.2951290}, [3]float64{0.1088631, -0.1519229, -0.0139754}},
	{2.8, [3]float64{0.8730280, -0.3920403, -0.3616149}, [3]float64{0.2255647, -0.4620442, 0.0012448}},
	{4.5, [3]float64{1.1326077, -1.2367284, -0.4118494}, [3]float64{0.2877813, -0.8230357, 0.0558651}},
	{6.2, [3]float64{1.0601591, -1.5999137, -0.3589221}, [3]float64{0.2642124, -1.1272340, 0.1310694}},
	{math.Inf(1), [3]float64{0.6777470, -0.3272588, -0.2504286}, [3]float64{0.1561313, -1.3765031, 0.2506212}},
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
