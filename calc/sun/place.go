// Package sun says where the sun stands and how much light it sends on a
// panel: place, instant, haze and cloud in, W/m² on a plane out.
//
// One Position algorithm serves everything: the exact [PositionAt], the fast
// [Track] that interpolates it over a trip, and the rising, setting and twilight
// of [DayAt]. Behind it stand a clear-sky model, one index for cloud, a split
// into beam and sky light, and the [View] of a tilted plane: what stands on its
// [Horizon], how the sky's light is spread, what its glass lets in:
//
//	Track.At -> Direction -> Atmosphere.ClearSky -> Clouded -> View.Light -> View.Through
//
// A Direction is the apparent one, lifted by refraction, for drawing and for
// light alike; there is no light unless it points above the level.
//
// Missing: the dip of the horizon seen from a height, refraction below it, a
// sun half behind an edge (its middle decides), light sent by what stands on
// the horizon, and the sunlit side of a shadow's edge on the ground before a
// panel.
package sun

import (
	"math"
	"time"

	"duskline/calc/qty"
)

// A Place is a spot on the earth.
type Place struct {
	Latitude  qty.Degree // -90 to 90, north positive
	Longitude qty.Degree // -180 to 180, east positive
	Altitude  qty.Metre  // -500 to 9000, above the sea
}

// Check returns nil, or a *qty.RangeError for the first coordinate that is
// out of its range.
func (p Place) Check() error {
	if err := qty.InRange("latitude", float64(p.Latitude), -90, 90, "°"); err != nil {
		return err
	}
	if err := qty.InRange("longitude", float64(p.Longitude), -180, 180, "°"); err != nil {
		return err
	}
	return qty.InRange("altitude", float64(p.Altitude), -500, 9000, "m")
}

// Pressure returns the air pressure of the standard atmosphere at the place.
//
//	100 · ((44331.514 - altitude) / 11880.516)^(1 / 0.1902632)
//
// Valid for the range of [Place.Check]; at 0 m it gives 101324.9987 Pa.
//
// Source: PortlandState2004, as pvlib atmosphere.alt2pres uses it; checked
// against a second table of the standard atmosphere.
func (p Place) Pressure() qty.Pascal {
	return qty.Pascal(100 * math.Pow((44331.514-float64(p.Altitude))/11880.516, 1/0.1902632))
}

// Air is what lifts the sun's image, and how far the clock of the planets
// runs ahead of the turning earth.
type Air struct {
	Pressure    qty.Pascal  // 0 to 120000; 0: no refraction
	Temperature qty.Celsius // -100 to 70
	DeltaT      float64     // Terrestrial Time less Universal Time, -8000 to 8000 s
}

// meanTemperature is the year's mean that refraction takes where no other is
// known, °C: common practice, no source. 20 K more lower the sun on the
// horizon by 0.03°.
const meanTemperature = 12

// StandardAir returns the air of a place of which only the altitude is known:
// its standard pressure, 12 °C, and [DeltaT] at t.
func (p Place) StandardAir(t time.Time) Air {
	return Air{Pressure: p.Pressure(), Temperature: meanTemperature, DeltaT: DeltaT(t)}
}

func (a Air) check() error {
	if err := qty.InRange("pressure", float64(a.Pressure), 0, 120000, "Pa"); err != nil {
		return err
	}
	if err := qty.InRange("temperature", float64(a.Temperature), -100, 70, "°C"); err != nil {
		return err
	}
	return qty.InRange("delta T", a.DeltaT, -8000, 8000, "s")
}

// Years for which DeltaT and with it every position is known, both inclusive.
const firstYear, lastYear = 1900, 2149

func checkTime(t time.Time) error {
	return qty.InRange("year", float64(t.UTC().Year()), firstYear, lastYear, "")
}
