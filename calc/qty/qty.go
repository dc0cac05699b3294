// Package qty names the units that cross package borders.
//
// Every type is a float64, so a conversion costs nothing and a wrong one does
// not compile. Inside a loop, convert once and work in float64.
package qty

import (
	"fmt"
	"math"
)

type (
	Celsius        float64 // temperature, °C
	Metre          float64 // length or altitude, m
	MetrePerSecond float64 // wind, m/s
	Irradiance     float64 // W/m²
	Volt           float64 // V
	Ampere         float64 // A
	Ohm            float64 // Ω
	Watt           float64 // W
	AmpHour        float64 // A·h
	WattHour       float64 // W·h
	Degree         float64 // angle, °
	Radian         float64 // angle, rad
	Fraction       float64 // share of one, 0 to 1
	Pascal         float64 // air pressure, Pa
)

// Radians returns the same angle in radians.
func (d Degree) Radians() Radian { return Radian(float64(d) * (math.Pi / 180)) }

// Degrees returns the same angle in degrees.
func (r Radian) Degrees() Degree { return Degree(float64(r) * (180 / math.Pi)) }

// Kelvin returns the absolute temperature in kelvin.
func (c Celsius) Kelvin() float64 { return float64(c) + 273.15 }

// Energy returns the energy that a charge carries at a voltage.
func Energy(v Volt, ah AmpHour) WattHour { return WattHour(float64(v) * float64(ah)) }

// Power returns the power of a current at a voltage.
func Power(v Volt, i Ampere) Watt { return Watt(float64(v) * float64(i)) }

// A RangeError says that a number handed in lies outside its valid range.
type RangeError struct {
	What     string  // the parameter, as the code spells it: "wind"
	Got      float64 // in Unit
	Min, Max float64 // in Unit, both inclusive
	Unit     string  // "m/s"
}

func (e *RangeError) Error() string {
	return fmt.Sprintf("%s %.4g %s is outside %.4g to %.4g %s", e.What, e.Got, e.Unit, e.Min, e.Max, e.Unit)
}

// InRange returns nil, or a *RangeError. A NaN is never in range.
func InRange(what string, got, min, max float64, unit string) error {
	if got >= min && got <= max {
		return nil
	}
	return &RangeError{what, got, min, max, unit}
}
