package battery

import (
	"math"

	"duskline/calc/qty"
)

// A Chemistry is everything that sets one kind of battery apart. A new one is
// one new file with one such value; nothing else in this package changes.
//
// A field left at zero is neutral: no such effect.
type Chemistry struct {
	Name  string // as the trade writes it; for messages of the code, not for people
	Cells int    // in series

	// Rest is the volts of one cell at rest against charge, at 25 °C, the
	// mean of having come by charging and by discharging: from charge 0 to 1,
	// both strictly rising. Between the points the line is straight, so steep
	// ends need fine points.
	Rest []Point

	// Swing is half of what lies between the rest volts after charging and
	// those after discharging, V a cell, 0 to 0.5. SwingRate is how fast one
	// goes over into the other, per unit of charge moved, 0 to 1000: after a
	// charge of 1/SwingRate, 63 % of the way are done.
	Swing     qty.Volt
	SwingRate float64

	// Shift is what a kelvin above 25 °C adds to the rest volts, V a cell.
	Shift ByCharge

	// Ohms is how many times its value at half charge the resistance is, fast
	// and slow part alike; above 0.
	Ohms ByCharge

	// Cold returns how many times its 25 °C value the resistance is when the
	// battery has that temperature. It must be above 0 from -60 to 60 °C. nil:
	// always 1.
	Cold func(core qty.Celsius) float64

	// SlowShare is the resistance of the slow part, which comes and goes with
	// SlowSeconds, over that of the fast one, 0 to 10. With a share above 0,
	// SlowSeconds is 1 to 100 000.
	SlowShare   float64
	SlowSeconds float64

	// Lift is how many volts a cell the amps of a charge raise it at most,
	// beyond what they drop over the resistance, against charge: 0 to 6, and
	// never less with more charge. It comes and goes with the amps; LiftRate are those that make half of it,
	// as a share of the amp-hours in an hour, 0.001 to 10.
	//
	//	lift · i/(i + LiftRate·A·h)
	Lift     ByCharge
	LiftRate float64

	// Free is the share of the amp-hours that stands ready for the terminals;
	// the rest, the bound well, follows at the rate Exchange, 1/h at 25 °C,
	// which is the k' of the closed form. Free from 0.02 to 0.98, Exchange
	// from 0.01 to 10 000. Either at 0: one well, all of it ready.
	Free     qty.Fraction
	Exchange float64

	// ExchangeCold returns how many times its 25 °C value Exchange is when the
	// battery has that temperature, above 0 from -60 to 60 °C. nil: always 1.
	ExchangeCold func(core qty.Celsius) float64

	// Coulombic is the share of the amp-hours put in that can be taken out,
	// 0.01 to 1, against the charge at which they are put in. It counts while
	// charging only.
	Coulombic ByCharge

	// Vents is the share of the gas, that the amp-hours which do not stay
	// make, that leaves the battery: 1 with open vents, 0 for none.
	Vents qty.Fraction

	// AcceptHours limits charging amps to the missing amp-hours divided by
	// it, h; 0 means no such limit.
	AcceptHours float64

	// NoChargeBelow is the battery temperature under which no charge is
	// taken; -273.15 means that cold does not forbid it.
	NoChargeBelow qty.Celsius

	// SelfDischarge is the share of what it holds that a battery loses in a
	// month of 30 days at 20 °C, 0 to 0.5; it doubles every
	// DoublesEvery kelvin, 1 to 100, or not at all with 0.
	SelfDischarge qty.Fraction
	DoublesEvery  float64

	// HeatPerAmpHour is the heat capacity per rated amp-hour, whole battery,
	// J/K, 0 to 10 000.
	HeatPerAmpHour float64

	// ChargeFrom and ChargeTo are the usual volts at which charging is held,
	// whole battery, 25 °C.
	ChargeFrom, ChargeTo qty.Volt

	// Freezing is the temperature at which the battery freezes, by charge
	// from 0 to 1; nil if it does not matter.
	Freezing []FreezePoint

	// Lithium: no float charge, no charge volts that follow the temperature,
	// no harm from standing half full.
	Lithium bool

	// Life is how it ages; the zero value does not.
	Life Life
}

// A Point is one point of a rest-volt curve.
type Point struct {
	Charge qty.Fraction
	Volts  qty.Volt // of one cell
}

// ByCharge is a figure against charge: rows from charge 0 to 1, strictly
// rising, straight lines between them. None at all is the figure's neutral
// value, which stands with the field.
type ByCharge []Row

// A Row is one row of a ByCharge.
type Row struct {
	Charge qty.Fraction
	Value  float64
}

// Always is a figure that is the same at every charge.
func Always(value float64) ByCharge { return ByCharge{{0, value}, {1, value}} }

// At returns the figure at a charge; beyond the rows the nearest counts, and
// neutral if there are none. NaN counts as empty.
func (t ByCharge) At(charge qty.Fraction, neutral float64) float64 {
	if len(t) == 0 {
		return neutral
	}
	if !(charge > t[0].Charge) {
		return t[0].Value
	}
	for k := 1; k < len(t); k++ {
		if lo, hi := t[k-1], t[k]; charge <= hi.Charge {
			return lo.Value + (hi.Value-lo.Value)*float64((charge-lo.Charge)/(hi.Charge-lo.Charge))
		}
	}
	return t[len(t)-1].Value
}

// CoulombicAt returns the share of amp-hours put in at a charge that stay, 1
// if the chemistry names none.
func (c *Chemistry) CoulombicAt(charge qty.Fraction) float64 { return c.Coulombic.At(charge, 1) }

// OhmsAt returns how many times its value at half charge the resistance is.
func (c *Chemistry) OhmsAt(charge qty.Fraction) float64 { return c.Ohms.At(charge, 1) }

// LiftAt returns by how many volts amps into a battery of so many amp-hours
// raise a cell, beyond what they drop over the resistance; 0 while it gives.
//
// Source: CommonPractice.
func (c *Chemistry) LiftAt(charge qty.Fraction, amps qty.Ampere, holds qty.AmpHour) qty.Volt {
	if len(c.Lift) == 0 || !(amps > 0) {
		return 0
	}
	return qty.Volt(c.Lift.At(charge, 0) * float64(amps) / (float64(amps) + c.LiftRate*float64(holds)))
}

// ShiftAt returns what a kelvin above 25 °C adds to the rest volts of a cell,
// V/K.
func (c *Chemistry) ShiftAt(charge qty.Fraction) float64 { return c.Shift.At(charge, 0) }

// check finds the first row that is out of range or out of order.
func (t ByCharge) check(what string, low, high float64, unit string) error {
	if len(t) == 0 {
		return nil
	}
	last := len(t) - 1
	if err := qty.InRange(what+", first charge", float64(t[0].Charge), 0, 0, ""); err != nil {
		return err
	}
	if err := qty.InRange(what+", last charge", float64(t[last].Charge), 1, 1, ""); err != nil {
		return err
	}
	for k, r := range t {
		if k > 0 {
			if err := qty.InRange(what+", charge", float64(r.Charge), math.Nextafter(float64(t[k-1].Charge), 2), 1, ""); err != nil {
				return err
			}
		}
		if err := qty.InRange(what, r.Value, low, high, unit); err != nil {
			return err
		}
	}
	return nil
}

// A FreezePoint is one point of a freezing curve.
type FreezePoint struct {
	Charge qty.Fraction
	At     qty.Celsius
}

// Named are the chemistries that have a name here; see [OwnTable] for others.
func Named() []Chemistry { return []Chemistry{LiFePO4, NMC, AGM, Gel, Flooded} }

// never is a temperature that no battery meets.
const never qty.Celsius = -273.15

// check finds the first thing that is wrong with a chemistry.
func (c *Chemistry) check() error {
	if err := qty.InRange("cells", float64(c.Cells), 1, 100, "cells"); err != nil {
		return err
	}
	if err := c.Coulombic.check("coulombic", 0.01, 1, ""); err != nil {
		return err
	}
	if err := c.Ohms.check("resistance by charge", 0.05, 20, ""); err != nil {
		return err
	}
	if err := c.Shift.check("shift of rest", -0.01, 0.01, "V/K"); err != nil {
		return err
	}
	if err := c.Lift.check("lift of a charge", 0, 6, "V"); err != nil {
		return err
	}
	for k := 1; k < len(c.Lift); k++ {
		if err := qty.InRange("lift of a charge", c.Lift[k].Value, c.Lift[k-1].Value, 6, "V"); err != nil {
			return err
		}
	}
	rate := c.LiftRate
	if len(c.Lift) == 0 {
		rate = 1
	}
	free, exchange := float64(c.Free), c.Exchange
	if free == 0 || exchange == 0 {
		free, exchange = 0.5, 1 // one well
	}
	seconds := c.SlowSeconds
	if c.SlowShare == 0 {
		seconds = 1
	}
	for _, f := range []struct {
		what          string
		got, min, max float64
		unit          string
	}{
		{"swing", float64(c.Swing), 0, 0.5, "V"},
		{"swing rate", c.SwingRate, 0, 1000, ""},
		{"slow share", c.SlowShare, 0, 10, ""},
		{"slow seconds", seconds, 1, 100_000, "s"},
		{"lift rate", rate, 0.001, 10, "1/h"},
		{"free share", free, 0.02, 0.98, ""},
		{"exchange", exchange, 0.01, 10_000, "1/h"},
		{"vents", float64(c.Vents), 0, 1, ""},
		{"self-discharge", float64(c.SelfDischarge), 0, 0.5, "a month"},
		{"doubles every", c.DoublesEvery, 0, 100, "K"},
		{"heat per amp-hour", c.HeatPerAmpHour, 0, 10_000, "J/K"},
	} {
		if err := qty.InRange(f.what, f.got, f.min, f.max, f.unit); err != nil {
			return err
		}
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

// arrhenius returns the growth of a resistance from 25 °C to a temperature,
// for an activation energy in J/mol.
//
//	exp(Ea/R · (1/T - 1/298.15))
func arrhenius(activation float64, air qty.Celsius) float64 {
	const gas = 8.314462618 // J/(mol·K)
	return math.Exp(activation / gas * (1/air.Kelvin() - 1/298.15))
}
