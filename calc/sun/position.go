package sun

import (
	"math"
	"time"

	"duskline/calc/qty"
)

// A Position is where the sun stands at one instant, seen from one place.
// Zenith and azimuth are seen from the surface, the rest from the middle of
// the earth.
type Position struct {
	Zenith         qty.Degree // 0 to 180, of the sun's middle, without air
	ApparentZenith qty.Degree // with refraction, which counts from 0.83337° below the horizon upward
	Azimuth        qty.Degree // 0 to 360, clockwise from north; of no meaning with the sun overhead
	Declination    qty.Degree
	RightAscension qty.Degree // 0 to 360
	EquationOfTime float64    // apparent less mean solar time, minutes
	Distance       float64    // to the sun, au
}

// PositionAt returns the sun's position.
//
// The algorithm is good to 0.0003°; this is the whole of it, not a short form.
// At the poles, where every direction is south or north, the azimuth is
// counted as if the place were an arm's length off the pole on its longitude.
//
// Errors: *qty.RangeError for the place, for the air, and for years outside
// 1900 to 2149.
//
// Source: Reda2004, steps read in pvlib-python, pvlib/spa.py; report not opened.
func PositionAt(t time.Time, p Place, a Air) (Position, error) {
	if err := p.Check(); err != nil {
		return Position{}, err
	}
	if err := a.check(); err != nil {
		return Position{}, err
	}
	if err := checkTime(t); err != nil {
		return Position{}, err
	}
	g := sunFromEarth(daysFrom2000(t), a.DeltaT)
	o := observerAt(p)
	sinH, cosH := math.Sincos((g.sidereal - g.ascension) * rad)
	sinD, cosD := math.Sincos(g.declination * rad)
	east, north, up := o.see(g.distance*cosD*cosH, g.distance*cosD*sinH, g.distance*sinD)

	e0 := math.Atan2(up, math.Hypot(east, north)) / rad
	az := math.Atan2(east, north) / rad
	if az < 0 {
		az += 360
	}
	return Position{
		Zenith:         qty.Degree(90 - e0),
		ApparentZenith: qty.Degree(90 - e0 - airLens(a)*refraction(e0)),
		Azimuth:        qty.Degree(az),
		Declination:    qty.Degree(g.declination),
		RightAscension: qty.Degree(g.ascension),
		EquationOfTime: g.timeEquation,
		Distance:       g.distance,
	}, nil
}

// Direction returns the apparent direction of the position.
func (p Position) Direction() Direction { return Toward(p.ApparentZenith, p.Azimuth) }

// A Direction is the unit vector to the apparent sun: what a drawing shows and
// what throws the light. Below -0.83337° geometric elevation the sun is shown
// without refraction, so that Elevation leaps by about 0.6° there; both ends
// of the leap lie under the horizon.
type Direction struct {
	East, North, Up float64
	Elevation       qty.Degree // apparent, -90 to 90; its sine is Up
}

// Toward returns the direction of a zenith angle, 0 to 180, and an azimuth.
func Toward(zenith, azimuth qty.Degree) Direction {
	sinZ, cosZ := math.Sincos(float64(zenith) * rad)
	sinA, cosA := math.Sincos(float64(azimuth) * rad)
	return Direction{East: sinZ * sinA, North: sinZ * cosA, Up: cosZ, Elevation: 90 - zenith}
}

// observer is a place prepared for looking at the sun.
type observer struct {
	sin, cos       float64 // of the latitude
	sinLon, cosLon float64
	axis, equator  float64 // distance from the equator's plane and from the earth's axis, au
}

// The earth of the algorithm: an ellipsoid of axis ratio 0.99664719 and
// 6378140 m, seen from 1 au under 8.794 arc seconds.
func observerAt(p Place) observer {
	var o observer
	o.sin, o.cos = math.Sincos(float64(p.Latitude) * rad)
	o.sinLon, o.cosLon = math.Sincos(float64(p.Longitude) * rad)
	const flat = 0.99664719
	const parallax = 8.794 / 3600 * rad
	u := math.Hypot(o.cos, flat*o.sin) // tan u = flat · tan latitude, without the infinity at the poles
	height := float64(p.Altitude) / 6378140
	o.equator = parallax * (o.cos/u + height*o.cos)
	o.axis = parallax * (flat*flat*o.sin/u + height*o.sin)
	return o
}

// see turns the sun's place, in au in the frame of the Greenwich meridian (x
// on it, y west of it, z north), into a vector from the observer. The place on
// the ellipsoid is taken off as a vector: the same as the angles' parallax of
// the source, and shorter.
func (o *observer) see(x, y, z float64) (east, north, up float64) {
	x, y = x*o.cosLon-y*o.sinLon, y*o.cosLon+x*o.sinLon
	x -= o.equator
	z -= o.axis
	return -y, z*o.cos - x*o.sin, x*o.cos + z*o.sin
}

// airLens scales refraction to pressure and temperature.
func airLens(a Air) float64 {
	return float64(a.Pressure) / 101000 * 283 / (273 + float64(a.Temperature))
}

// horizonSwitch is the geometric elevation of the sun's middle from which
// refraction counts, degrees: its radius and 0.5667° of air.
const horizonSwitch = -(0.26667 + 0.5667)

// refraction returns by how much air of 1010 hPa and 10 °C lifts the sun. Both
// in degrees.
//
// Source: Reda2004, as in pvlib spa.atmospheric_refraction_correction.
func refraction(e0 float64) float64 {
	if e0 < horizonSwitch {
		return 0
	}
	return 1.02 / (60 * math.Tan((e0+10.3/(e0+5.11))*rad))
}
