package power

import "duskline/calc/qty"

// A Standing is what a Case draws while nothing is plugged in. It is told by
// the position of the main switch, which is the only thing that its user can
// do about it.
type Standing struct {
	Meters     qty.Ampere // volt and amp meters, monitor, alarm: always
	Controller qty.Ampere // while panels are in the light
	Night      qty.Ampere // its controller's while they are not
	DC, USB    Outlet
	Fitted     bool // it has an inverter
	Inverter   Inverter
}

// Switches are the positions of the main switch, in order.
var Switches = [...]Switch{DCOnly, DCAndAC, ACOnly}

// An Idle is what one position costs. Watts are at the battery.
type Idle struct {
	Switch Switch

	DC, USB, AC bool // live; AC with its inverter switched on

	Own, OfDC, OfUSB, OfAC qty.Watt // meters and controller, outlets, inverter
}

// At returns what a position of the switch energises and costs at v volts, by
// night or while the panels are in the light. Its inverter counts as switched
// on: asleep, if it can sleep.
//
// Source: EnergyBalance.
func (s Standing) At(position Switch, v qty.Volt, night bool) Idle {
	i := Idle{Switch: position, DC: position.DC(), USB: position.DC(), AC: s.Fitted && position.AC()}
	own := s.Meters + s.Controller
	if night {
		own = s.Meters + s.Night
	}
	i.Own = qty.Power(v, own)
	if i.DC {
		i.OfDC = qty.Power(v, s.DC.Standby)
	}
	if i.USB {
		i.OfUSB = qty.Power(v, s.USB.Standby)
	}
	if i.AC {
		i.OfAC = s.Inverter.Draw(0)
	}
	return i
}

// Watts returns all of it. That is Wh an hour, too.
//
// Source: EnergyBalance.
func (i Idle) Watts() qty.Watt { return i.Own + i.OfDC + i.OfUSB + i.OfAC }

// Over returns what it comes to in so many hours, 0 or more.
//
// Source: EnergyBalance.
func (i Idle) Over(hours float64) qty.WattHour { return qty.WattHour(float64(i.Watts()) * hours) }

// Empties returns the hours in which it empties a battery of that energy, and
// whether it ever does: false if it costs nothing.
func (i Idle) Empties(energy qty.WattHour) (hours float64, ever bool) {
	if !(i.Watts() > 0) {
		return 0, false
	}
	return float64(energy) / float64(i.Watts()), true
}
