package outlook

import (
	"time"

	"duskline/calc/civil"
	"duskline/calc/plan"
	"duskline/calc/power"
	"duskline/calc/qty"
	"duskline/calc/sun"
)

// A Position is what one position of the main switch costs with nothing
// plugged in. Its inverter counts as switched on, whatever its hours are.
type Position struct {
	Switch plan.Switch

	DC, USB, AC bool // live sockets
	Asleep      bool // the inverter sleeps until something on AC draws enough

	Watts  qty.Watt     // at the battery, by night
	AnHour qty.WattHour // by night
	ANight qty.WattHour // the trip's mean night
	ADay   qty.WattHour // 24 h: that night, and the rest with the panels in the light, if there are any
	Share  qty.Fraction // ADay, of a full battery

	// Hours is how long a full battery lasts by night down to its cut-off, h.
	// Endless: the position costs nothing.
	Hours   float64
	Endless bool
}

// Idle returns what each position of the main switch costs a Case with nothing
// plugged in, in the order of the positions: DC, DC and AC, AC. The Plan is one
// that plan.Check finds no fault with.
//
//	W = V·(meters + controller + sockets) + inverter's standby, or its sleep
//
// V is the mean of the battery's rest volts from empty to full, so that amps
// for 24 h are their share of the battery's amp-hours: the rated ones, less
// what age took of them.
//
// Night is from sunset to sunrise on level ground, the mean of the trip's
// local days: none in the polar day, all of 24 h in the polar night. Air and
// sag, which make minutes of it, and what the battery loses by itself are left
// out: the run of a Plan has them.
//
// Errors: those of the models' constructors for a Plan that was not checked.
//
// Source: EnergyBalance.
func Idle(p plan.Plan) ([]Position, error) {
	battery, err := p.Case.Battery.Model()
	if err != nil {
		return nil, err
	}
	standing, err := p.Case.Standing()
	if err != nil {
		return nil, err
	}
	night, err := meanNight(p)
	if err != nil {
		return nil, err
	}
	dark := night
	if len(p.Panels.List) == 0 {
		dark = 24
	}
	// So small a draw gets a little more than the rated amp-hours out; they
	// are what is reckoned with.
	spec := battery.Spec()
	rated := spec.Capacity
	if spec.Health > 0 {
		rated *= qty.AmpHour(spec.Health)
	}
	share := qty.WattHour(rated / battery.Holds())
	full := battery.Energy(1) * share
	v := qty.Volt(full / qty.WattHour(rated))
	swing := battery.RestAt(0.5, 25, 1) - battery.Rest(0.5)
	usable := full - battery.Energy(battery.Charge(spec.CutOff+swing))*share
	list := make([]Position, 0, len(power.Switches))
	for i, at := range power.Switches {
		off, lit := standing.At(at, v, true), standing.At(at, v, false)
		o := Position{
			Switch: positions[i], DC: off.DC, USB: off.USB, AC: off.AC,
			Asleep: off.AC && standing.Inverter.Sleeps(0),
			Watts:  off.Watts(), AnHour: off.Over(1), ANight: off.Over(night),
			ADay: off.Over(dark) + lit.Over(24-dark),
		}
		o.Share = qty.Fraction(o.ADay / full)
		hours, ends := off.Empties(usable)
		o.Hours, o.Endless = hours, !ends
		list = append(list, o)
	}
	return list, nil
}

// positions are those of the document, in the order of power.Switches.
var positions = [...]plan.Switch{plan.DCOnly, plan.DCAndAC, plan.ACOnly}

// meanNight returns how long the sun is down on the trip's local days, h of 24.
func meanNight(p plan.Plan) (float64, error) {
	span := time.Duration(p.Trip.LengthH * float64(time.Hour))
	clock := civil.NewClock(p.Trip.Start, span)
	end := p.Trip.Start.Add(span)
	days, up := 0, 0.0
	for ; days == 0 || clock.Midnight(days).Before(end); days++ {
		d, err := sun.DayAt(clock.Midnight(days), p.Sky.Sun())
		if err != nil {
			return 0, err
		}
		up += sunUp(d, clock.Midnight(days))
	}
	return 24 - up/float64(days), nil
}

// sunUp returns the hours of 24 in which the sun is up. A day that has only
// one of rise and set begins or ends with it up.
func sunUp(d sun.Day, midnight time.Time) float64 {
	switch {
	case d.State == sun.PolarDay:
		return 24
	case d.State == sun.PolarNight:
		return 0
	case d.Rise.IsZero():
		d.Rise = midnight
	case d.Set.IsZero():
		d.Set = midnight.Add(24 * time.Hour)
	}
	return min(max(d.Set.Sub(d.Rise).Hours(), 0), 24)
}
