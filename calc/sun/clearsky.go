package sun

import (
	"math"

	"duskline/calc/qty"
)

// Light is what falls on level ground.
type Light struct {
	GHI qty.Irradiance // all of it, on the level
	DNI qty.Irradiance // of the beam, square to it
	DHI qty.Irradiance // of the sky, on the level
}

// An Atmosphere is the clear air over one place, prepared for [Atmosphere.ClearSky].
type Atmosphere struct {
	pressure         float64 // of the standard atmosphere at sea level
	whole            float64 // cg1
	thinning, hazing float64 // exponents for each air mass, of all light and of the beam
	beam             float64 // the beam's factor
	share            float64 // greatest share of the beam in all light
}

// NewAtmosphere prepares the clear sky over a place. turbidity is the Linke
// turbidity at air mass 2, 1 to 10: about 2 in clean cold air, 3 in the
// country, 5 over a city, more in smoke or dust (ranges from memory).
//
//	fh1 = exp(-altitude/8000)          fh2 = exp(-altitude/1250)
//	cg1 = 0.0000509 altitude + 0.868   cg2 = 0.0000392 altitude + 0.0387
//	b   = 0.664 + 0.163/fh1
//
// Errors: *qty.RangeError for the place and the turbidity.
//
// Source: Ineichen2002, as pvlib clearsky.ineichen reads it; paper not opened.
func NewAtmosphere(p Place, turbidity float64) (Atmosphere, error) {
	if err := p.Check(); err != nil {
		return Atmosphere{}, err
	}
	if err := qty.InRange("turbidity", turbidity, 1, 10, ""); err != nil {
		return Atmosphere{}, err
	}
	h := float64(p.Altitude)
	fh1, fh2 := math.Exp(-h/8000), math.Exp(-h/1250)
	return Atmosphere{
		pressure: float64(p.Pressure()) / 101325,
		whole:    5.09e-5*h + 0.868,
		thinning: (3.92e-5*h + 0.0387) * (fh1 + fh2*(turbidity-1)),
		hazing:   0.09 * (turbidity - 1),
		beam:     0.664 + 0.163/fh1,
		share:    1 - (0.1-0.2*math.Exp(-turbidity))/(0.1+0.882/fh1),
	}, nil
}

// ClearSky returns the light under a cloudless sky.
//
//	GHI = cg1 · extra · cos z · exp(-cg2 · m · (fh1 + fh2 (turbidity - 1)))
//	DNI = the lesser of  b · extra · exp(-0.09 · m · (turbidity - 1))
//	               and   GHI (1 - (0.1 - 0.2 exp(-turbidity)) / (0.1 + 0.882/fh1)) / cos z
//	DHI = GHI - DNI cos z
//
// z is the apparent zenith angle, m the air mass of [AirMass] times the
// place's pressure over 101325 Pa. d is the apparent sun, extra the irradiance
// above the air, 0 to 1500 W/m². Without sun above the horizon there is none.
// The enhancement that some add for very clear air is left out.
//
// Source: Ineichen2002, as pvlib clearsky.ineichen reads it; paper not opened.
func (a Atmosphere) ClearSky(d Direction, extra qty.Irradiance) Light {
	if !(d.Up > 0) {
		return Light{}
	}
	mass := airMass(d) * a.pressure
	ghi := a.whole * float64(extra) * d.Up * math.Exp(-a.thinning*mass)
	dni := a.beam * float64(extra) * math.Exp(-a.hazing*mass)
	dni = min(dni, ghi*a.share/d.Up)
	return Light{qty.Irradiance(ghi), qty.Irradiance(dni), qty.Irradiance(ghi - dni*d.Up)}
}

// AirMass returns the length of the beam's way through the air, in that of the
// way straight down.
//
//	1 / (cos z + 0.50572 (96.07995 - z)^-1.6364)
//
// z is the apparent zenith angle in degrees. Straight up it gives 0.99971. With
// the sun below the horizon there is none: NaN.
//
// Source: Kasten1989, eq. 3, constants as in pvlib atmosphere.get_relative_airmass.
func AirMass(d Direction) float64 {
	if !(d.Up > 0) {
		return nan
	}
	return airMass(d)
}

func airMass(d Direction) float64 {
	// x^y by way of the logarithm: half the time of math.Pow, and the same to 1e-15
	return 1 / (d.Up + 0.50572*math.Exp(-1.6364*math.Log(6.07995+float64(d.Elevation))))
}
