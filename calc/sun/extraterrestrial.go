package sun

import (
	"math"
	"time"

	"duskline/calc/qty"
)

// DayOfYear returns the day of the year in t's own zone: 1 January is 1.
func DayOfYear(t time.Time) int { return t.YearDay() }

// Extraterrestrial returns the sun's irradiance above the air, square to its
// rays, on a day of the year.
//
//	1366.1 · (1.00011 + 0.034221 cos B + 0.00128 sin B + 0.000719 cos 2B + 0.000077 sin 2B)
//	B = 2π (day - 1) / 365
//
// dayOfYear is 1 to 366; the day angle divides by 365 in leap years too.
//
// Source: Spencer1971, coefficients as in pvlib irradiance.get_extra_radiation;
// solar constant 1366.1 W/m² as there.
func Extraterrestrial(dayOfYear int) qty.Irradiance { return qty.Irradiance(spencer(dayOfYear)) }

func spencer(dayOfYear int) float64 {
	sin, cos := math.Sincos(2 * math.Pi / 365 * float64(dayOfYear-1))
	sin2, cos2 := 2*sin*cos, cos*cos-sin*sin
	return 1366.1 * (1.00011 + 0.034221*cos + 0.00128*sin + 0.000719*cos2 + 0.000077*sin2)
}

// DailyExtraterrestrial returns the irradiation of level ground without air
// over one day, Wh/m²: more cannot arrive.
//
//	24/π · 1367 · (1 + 0.033 cos(2π n/365)) · (cos φ cos δ sin ws + ws sin φ sin δ)
//	δ = 23.45° sin(2π (284 + n)/365), cos ws = -tan φ tan δ
//
// lat is -90 to 90, dayOfYear 1 to 366. In the polar day ws is π, in the polar
// night 0 and so is the result.
//
// Source: Duffie2013, its equation for the day's extraterrestrial irradiation,
// as the reference handbook's check H55 gives it; book not opened.
func DailyExtraterrestrial(lat qty.Degree, dayOfYear int) float64 {
	return dailyOnLevel(1367, float64(lat)*rad, cooper(dayOfYear), orbit(dayOfYear))
}

// cooper returns the declination in radians.
//
// Source: Cooper1969, as the reference handbook's check H55 gives it.
func cooper(dayOfYear int) float64 {
	return 23.45 * rad * math.Sin(2*math.Pi/365*float64(284+dayOfYear))
}

// orbit returns the square of mean over actual distance to the sun.
func orbit(dayOfYear int) float64 {
	return 1 + 0.033*math.Cos(2*math.Pi/365*float64(dayOfYear))
}

func dailyOnLevel(solarConstant, lat, declination, orbit float64) float64 {
	sinL, cosL := math.Sincos(lat)
	sinD, cosD := math.Sincos(declination)
	var sunset float64 // hour angle
	switch s, c := sinL*sinD, cosL*cosD; {
	case s >= c: // never sets
		sunset = math.Pi
	case s > -c:
		sunset = math.Acos(-s / c)
	}
	return 24 / math.Pi * solarConstant * orbit * (cosL*cosD*math.Sin(sunset) + sunset*sinL*sinD)
}
