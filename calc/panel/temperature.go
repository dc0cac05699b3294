// Package panel turns light and heat into volts and amps.
package panel

import "duskline/calc/qty"

// Mount is how well a panel sheds heat. Both figures come from its mounting.
type Mount struct {
	U0 float64 // still-air loss, W/(m²·K), above 0
	U1 float64 // loss per wind speed, W·s/(m³·K), 0 or more
}

// OpenRack is a panel with free air on both sides.
//
// Source: Faiman2008, seven silicon modules in a desert, as cited by pvlib temperature.faiman.
var OpenRack = Mount{U0: 25, U1: 6.84}

// CellTemperature returns the cell temperature of a panel in sun and wind.
//
//	T = air + sun / (U0 + U1·wind)
//
// sun is the irradiance on the panel's plane, 0 to 1500 W/m². wind is the
// speed at the panel, 0 to 30 m/s. At night the cell is as cold as the air;
// the model knows no cooling to a clear sky.
//
// Errors: *qty.RangeError for sun and wind.
//
// Source: Faiman2008, as cited by pvlib temperature.faiman; paper not opened.
func (m Mount) CellTemperature(air qty.Celsius, sun qty.Irradiance, wind qty.MetrePerSecond) (qty.Celsius, error) {
	if err := qty.InRange("sun", float64(sun), 0, 1500, "W/m²"); err != nil {
		return 0, err
	}
	if err := qty.InRange("wind", float64(wind), 0, 30, "m/s"); err != nil {
		return 0, err
	}
	return air + qty.Celsius(float64(sun)/(m.U0+m.U1*float64(wind))), nil
}
