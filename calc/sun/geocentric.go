package sun

import (
	"math"
	"time"
)

// geocentric is the sun seen from the middle of the earth. Angles in degrees.
type geocentric struct {
	heliocentric float64 // longitude of the earth seen from the sun, 0 to 360
	longitude    float64 // apparent longitude of the sun, not folded
	obliquity    float64 // true tilt of the earth's axis
	ascension    float64 // 0 to 360
	declination  float64
	sidereal     float64 // apparent sidereal time at Greenwich, 0 to 360
	distance     float64 // au
	timeEquation float64 // apparent less mean solar time, minutes
}

const (
	rad         = math.Pi / 180
	unix2000    = 946728000 // Unix seconds of 2000-01-01 12:00 UTC
	daysSeconds = 86400.0
)

var nan = math.NaN()

// daysFrom2000 returns Universal Time in days from 2000-01-01 12:00.
func daysFrom2000(t time.Time) float64 {
	return (float64(t.Unix()-unix2000) + float64(t.Nanosecond())*1e-9) / daysSeconds
}

// sunFromEarth computes the sun's geocentric place. days is Universal Time in
// days from 2000-01-01 12:00, deltaT in seconds.
//
// Source: Reda2004, the steps up to right ascension, sidereal time and
// equation of time; read in pvlib-python, pvlib/spa.py.
func sunFromEarth(days, deltaT float64) geocentric {
	var g geocentric
	century := days / 36525
	tt := (days + deltaT/daysSeconds) / 36525 // the planets' clock
	millennium := tt / 10

	l := fold360(series(longitudeTerms, millennium) / rad)
	beta := -series(latitudeTerms, millennium)
	g.heliocentric = l
	g.distance = series(distanceTerms, millennium)

	psi, epsilon := nutation(tt)
	u := millennium / 10
	g.obliquity = polynomial(u, 84381.448, -4680.93, -1.55, 1999.25, -51.38, -249.67, -39.05, 7.12, 27.87, 5.79, 2.45)/3600 + epsilon
	g.longitude = l + 180 + psi - 20.4898/(3600*g.distance) // the last term is aberration

	sinE, cosE := math.Sincos(g.obliquity * rad)
	sinL, cosL := math.Sincos(g.longitude * rad)
	sinB, cosB := math.Sincos(beta)
	g.ascension = fold360(math.Atan2(sinL*cosE-sinB/cosB*sinE, cosL) / rad)
	g.declination = math.Asin(sinB*cosE+cosB*sinE*sinL) / rad

	g.sidereal = fold360(280.46061837 + 360.98564736629*days + century*century*(0.000387933-century/38710000) + psi*cosE)

	mean := polynomial(millennium, 280.4664567, 360007.6982779, 0.03032028, 1./49931, -1./15300, -1./2000000)
	g.timeEquation = 4 * fold180(mean-0.0057183-g.ascension+psi*cosE)
	return g
}

// series adds the terms of each power of time. The result is in radians or au.
func series(powers [][]term, millennium float64) (sum float64) {
	for i := len(powers) - 1; i >= 0; i-- {
		var s float64
		for _, t := range powers[i] {
			s += t.a * math.Cos(t.b+t.c*millennium)
		}
		sum = sum*millennium + s
	}
	return sum / 1e8
}

// fold360 brings an angle in degrees into 0 to 360.
func fold360(deg float64) float64 {
	deg = math.Mod(deg, 360)
	if deg < 0 {
		deg += 360
	}
	return deg
}

// fold180 brings an angle in degrees into -180 to 180.
func fold180(deg float64) float64 { return deg - 360*math.Round(deg/360) }
