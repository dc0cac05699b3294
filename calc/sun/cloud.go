package sun

import (
	"math"

	"duskline/calc/qty"
)

// Clouded returns the light of a day with cloud.
//
// index is the clear-sky index: what arrives over what a clear sky would give,
// 0 to 1.2. At 1 the clear sky is handed back as it is. Otherwise GHI is that
// of the clear sky times the index, and [Erbs] parts it into beam and sky; as
// that is a mean over many skies, beam and sky light make a small step at 1
// while their sum does not. extra is the day's [Extraterrestrial].
//
// Source: Erbs1982 for the parting; a single index for a day is common
// practice, no source.
func Clouded(clear Light, index float64, d Direction, extra qty.Irradiance) Light {
	if index == 1 {
		return clear
	}
	l, _ := erbs(float64(clear.GHI)*index, d.Up, float64(extra))
	return l
}

// Erbs parts global light into beam and sky light.
//
//	kt = GHI / (extra · max(cos z, 0.065)), at most 1
//	DHI/GHI = 1 - 0.09 kt                                        kt to 0.22
//	          0.9511 - 0.1604 kt + 4.388 kt² - 16.638 kt³ + 12.336 kt⁴   to 0.80
//	          0.165                                              above
//
// ghi is 0 to 1500 W/m², zenith 0 to 180, dayOfYear 1 to 366. Beyond 87° all
// light is the sky's. The small steps at 0.22 and 0.80 are the model's.
//
// Source: Erbs1982, as pvlib irradiance.erbs reads it; paper not opened.
func Erbs(ghi qty.Irradiance, zenith qty.Degree, dayOfYear int) Light {
	l, _ := erbs(float64(ghi), math.Cos(float64(zenith)*rad), spencer(dayOfYear))
	return l
}

var cos87 = math.Cos(87 * rad)

// erbs also returns the clearness kt.
func erbs(ghi, cosZ, extra float64) (l Light, kt float64) {
	kt = min(max(ghi/(extra*max(cosZ, 0.065)), 0), 1)
	share := 0.165
	if kt <= 0.22 {
		share = 1 - 0.09*kt
	} else if kt <= 0.80 {
		share = 0.9511 + kt*(-0.1604+kt*(4.388+kt*(-16.638+kt*12.336)))
	}
	dhi := share * ghi
	dni := (ghi - dhi) / cosZ
	if cosZ < cos87 || !(dni >= 0) {
		dhi, dni = ghi, 0
	}
	return Light{qty.Irradiance(ghi), qty.Irradiance(dni), qty.Irradiance(dhi)}, kt
}
