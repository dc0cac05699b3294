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

// Covered is a panel with no air behind it: it lies on the ground, a roof or a
// lid. In full sun without wind it is 20 °C hotter than on an open rack.
//
// The source's loss of a module with an insulated back is exp(2.81 +
// 0.0455·wind), of wind at 10 m height; this is its chord from 0 to 5 m/s,
// within 0.7 % there, and the wind at the panel stands for that at 10 m. The
// latter makes the panel a few degrees hotter than the source has it: the safe
// side. Stone and dry sand that the sun has heated are not in it.
//
// Source: King2004, insulated back, glass and polymer, as cited by pvlib temperature.sapm_module.
var Covered = Mount{U0: 16.61, U1: 0.85}

// Check returns nil for a Mount that CellTemperature can use.
//
// Errors: *qty.RangeError. U0 1 to 200 W/(m²·K), U1 0 to 50 W·s/(m³·K).
func (m Mount) Check() error {
	if err := qty.InRange("U0", m.U0, 1, 200, "W/(m²·K)"); err != nil {
		return err
	}
	return qty.InRange("U1", m.U1, 0, 50, "W·s/(m³·K)")
}

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
	return m.Cell(air, sun, wind), nil
}

// Cell is CellTemperature for loops: the same figure, and no look at the
// ranges, which are the caller's to keep.
//
// Source: Faiman2008, as cited by pvlib temperature.faiman; paper not opened.
func (m Mount) Cell(air qty.Celsius, sun qty.Irradiance, wind qty.MetrePerSecond) qty.Celsius {
	return air + qty.Celsius(float64(sun)/(m.U0+m.U1*float64(wind)))
}
