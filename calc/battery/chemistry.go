package battery

import (
	"math"

	"duskline/calc/qty"
)

// A Chemistry is everything that sets one kind of battery apart. A new one is
// one new file with one such value; nothing else in this package changes.
type Chemistry struct {
	Name  string // as the trade writes it; for messages of the code, not for people
	Cells int    // in series

	// Rest is the volts of one cell at rest against charge, at 25 °C: from
	// charge 0 to 1, both strictly rising. Between the points the line is
	// straight, so steep ends need fine points.
	Rest []Point

	// Coulombic is the share of the amp-hours put in that can be taken out,
	// above 0 to 1. It counts while charging only.
	Coulombic qty.Fraction

	// AcceptHours limits charging amps to the missing amp-hours divided by
	// it, h; 0 means no such limit.
	AcceptHours float64

	// NoChargeBelow is the battery temperature under which no charge is
	// taken; -273.15 means that cold does not forbid it.
	NoChargeBelow qty.Celsius

	// Cold returns how many times its 25 °C value the resistance is in air of
	// that temperature. It must be above 0 from -60 to 60 °C. nil: always 1.
	Cold func(air qty.Celsius) float64

	// ChargeFrom and ChargeTo are the usual volts at which charging is held,
	// whole battery, 25 °C.
	ChargeFrom, ChargeTo qty.Volt

	// Freezing is the temperature at which the battery freezes, by charge
	// from 0 to 1; nil if it does not matter.
	Freezing []FreezePoint
}

// A Point is one point of a rest-volt curve.
type Point struct {
	Charge qty.Fraction
	Volts  qty.Volt // of one cell
}

// A FreezePoint is one point of a freezing curve.
type FreezePoint struct {
	Charge qty.Fraction
	At     qty.Celsius
}

// never is a temperature that no battery meets.
const never qty.Celsius = -273.15

// check finds the first thing that is wrong with a chemistry.
func (c *Chemistry) check() error {
	if err := qty.InRange("cells", float64(c.Cells), 1, 100, "cells"); err != nil {
		return err
	}
	if err := qty.InRange("coulombic", float64(c.Coulombic), 0.01, 1, ""); err != nil {
		return err
	}
	if err := qty.InRange("accept hours", c.AcceptHours, 0, 100, "h"); err != nil {
		return err
	}
	if err := qty.InRange("rest points", float64(len(c.Rest)), 2, 10_000, "points"); err != nil {
		return err
	}
	last := len(c.Rest) - 1
	if err := qty.InRange("first charge of rest", float64(c.Rest[0].Charge), 0, 0, ""); err != nil {
		return err
	}
	if err := qty.InRange("last charge of rest", float64(c.Rest[last].Charge), 1, 1, ""); err != nil {
		return err
	}
	if err := qty.InRange("volts of rest", float64(c.Rest[0].Volts), 0.1, 1000, "V"); err != nil {
		return err
	}
	for k := 1; k <= last; k++ {
		a, b := c.Rest[k-1], c.Rest[k]
		if err := qty.InRange("charge of rest", float64(b.Charge), math.Nextafter(float64(a.Charge), 2), 1, ""); err != nil {
			return err
		}
		if err := qty.InRange("volts of rest", float64(b.Volts), math.Nextafter(float64(a.Volts), 2000), 1000, "V"); err != nil {
			return err
		}
	}
	return nil
}

// The span of air temperatures for which Cold is asked. Outside of it the
// nearest end counts: no published figure reaches further.
const coldest, hottest = -60.0, 60.0

// resistance returns the ohms in air of that temperature. NaN counts as the
// coldest.
func (b *Battery) resistance(air float64) float64 {
	if b.cold == nil {
		return b.ohms
	}
	if !(air >= coldest) {
		air = coldest
	}
	if air > hottest {
		air = hottest
	}
	return b.ohms * b.cold(qty.Celsius(air))
}

// arrhenius returns the growth of a resistance from 25 °C to a temperature,
// for an activation energy in J/mol.
//
//	exp(Ea/R · (1/T - 1/298.15))
func arrhenius(activation float64, air qty.Celsius) float64 {
	const gas = 8.314462618 // J/(mol·K)
	return math.Exp(activation / gas * (1/air.Kelvin() - 1/298.15))
}
