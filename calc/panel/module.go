package panel

import (
	"math"

	"duskline/calc/qty"
)

// A Module is one kind of panel: the five reference figures of the De Soto
// model at 1000 W/m² and 25 °C, and how the light current moves with heat.
//
// [FromWatts] and [FromDatasheet] make sound ones; one written by hand is
// sound if Check returns nil. The zero Module gives no current.
type Module struct {
	Light      qty.Ampere // IL, made by the light
	Saturation qty.Ampere // I0, of the diode
	Series     qty.Ohm    // Rs
	Shunt      qty.Ohm    // Rsh
	Slope      qty.Volt   // a, cells in series × ideality × kT/q
	AlphaIsc   float64    // short-circuit current against cell temperature, A/K
	Cells      int        // in series; for reading only, Slope counts
}

// Reference state and the constants of silicon's gap.
const (
	refSun    = 1000.0         // W/m²
	refKelvin = 25 + 273.15    // K
	boltzmann = 8.617333262e-5 // eV/K, CODATA 2018
	gap       = 1.121          // eV at 25 °C
	gapSlope  = -0.0002677     // share of gap a kelvin
)

// What counts as no series resistance and as no shunt, Ω.
const (
	leastSeries = 1e-6
	mostShunt   = 1e9
)

// darkBelow is the light under which a panel counts as dark, W/m². The full
// moon gives about a thousand times as much.
const darkBelow = 1e-6

// Check returns nil for a Module that At can use.
//
// Errors: *qty.RangeError. Light 1e-3 to 1000 A; Saturation above 0, to 1e-2
// of Light; Series 1e-6 to 1000 Ω; Shunt 1e-2 to 1e9 Ω; Slope 0.02 to 20 V;
// AlphaIsc −0.2 to 0.5 % of Light a kelvin.
func (m Module) Check() error {
	il := float64(m.Light)
	for _, r := range []struct {
		what          string
		got, min, max float64
		unit          string
	}{
		{"Light", il, 1e-3, 1000, "A"},
		{"Saturation", float64(m.Saturation), 1e-30, 1e-2 * il, "A"},
		{"Series", float64(m.Series), leastSeries, 1000, "Ω"},
		{"Shunt", float64(m.Shunt), 1e-2, mostShunt, "Ω"},
		{"Slope", float64(m.Slope), 0.02, 20, "V"},
		{"AlphaIsc", m.AlphaIsc, -0.002 * il, 0.005 * il, "A/K"},
	} {
		if err := qty.InRange(r.what, r.got, r.min, r.max, r.unit); err != nil {
			return err
		}
	}
	return nil
}

// warmth returns what heat does to the diode: the saturation current's growth
// from 25 °C to t kelvin, and the slope's.
func warmth(t float64) (saturation, slope float64) {
	slope = t / refKelvin
	eg := 1 + gapSlope*(t-refKelvin) // in units of gap
	saturation = slope * slope * slope * math.Exp(gap/boltzmann*(1/refKelvin-eg/t))
	return saturation, slope
}

// At returns the curve in sun on the panel's plane with its cells at a
// temperature. It is a step function: no error, no allocation.
//
//	IL = G/1000·(IL_ref + α·ΔT)         Rsh = Rsh_ref·1000/G
//	I0 = I0_ref·(T/T_ref)³·exp(Eg_ref/kT_ref − Eg/kT)   a = a_ref·T/T_ref
//
// sun is 0 to 1500 W/m², what passes the glass and the dirt; under 1e-6 W/m²,
// NaN included, the panel is dark and carries no current. cell is −60 to
// 120 °C. The gap is silicon's: Eg = 1.121 eV·(1 − 0.0002677·ΔT).
func (m Module) At(sun qty.Irradiance, cell qty.Celsius) Curve {
	s := float64(sun) / refSun
	t := cell.Kelvin()
	il := s * (float64(m.Light) + m.AlphaIsc*(t-refKelvin))
	if !(float64(sun) > darkBelow && il > 0) {
		return Curve{}
	}
	grow, slope := warmth(t)
	return newCurve(il, float64(m.Saturation)*grow, float64(m.Series), s/float64(m.Shunt), float64(m.Slope)*slope)
}

// NightLeak returns the current that a dark panel draws out of a battery of v
// volts where nothing blocks it.
//
//	I = I0·(exp(x/a) − 1) + x/Rsh_ref,  x = v − I·Rs
//
// The shunt keeps its reference value: with the Rsh of [Module.At], which
// grows without end as the light fades, the leak would vanish. v is 0 to
// 100 V, cell −60 to 120 °C. Most controllers block the leak altogether.
//
// Errors: *qty.RangeError for v and cell.
//
// Source: DeSoto2006 for the diode; the shunt in the dark is our convention.
func (m Module) NightLeak(v qty.Volt, cell qty.Celsius) (qty.Ampere, error) {
	if err := qty.InRange("v", float64(v), 0, 100, "V"); err != nil {
		return 0, err
	}
	if err := qty.InRange("cell", float64(cell), -60, 120, "°C"); err != nil {
		return 0, err
	}
	grow, slope := warmth(cell.Kelvin())
	dark := newCurve(0, float64(m.Saturation)*grow, float64(m.Series), 1/float64(m.Shunt), float64(m.Slope)*slope)
	return -dark.Current(v), nil
}

// Behind returns the panel as it is seen at the far end of a cable of its own:
// the cable is more series resistance, so the curve of the result is exact, and
// the power it shows is what arrives. A cable that panels share is the Series of
// an [Array].
//
// r is 0 or more, out and back.
func (m Module) Behind(r qty.Ohm) Module {
	m.Series += r
	return m
}
