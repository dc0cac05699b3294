package power

import (
	"math"

	"duskline/calc/qty"
)

// SocketVolts is what a vehicle's socket shows under load while its engine
// runs: the alternator's volts less the drop of a thin, long wire. Common
// practice, no source.
const SocketVolts qty.Volt = 13

// A VehicleCharger is fed by a vehicle's socket. Current 0 means that there is
// none.
type VehicleCharger struct {
	Current    qty.Ampere   // into the battery
	Efficiency qty.Fraction // from the socket to the battery
	Socket     qty.Ampere   // fuse of the socket; 0: not known
}

// Check returns nil for a VehicleCharger in range: Current 0 to 100 A,
// Efficiency 0.5 to 1, Socket 0 to 60 A.
//
// Errors: *qty.RangeError.
func (c VehicleCharger) Check() error {
	if err := qty.InRange("Current", float64(c.Current), 0, 100, "A"); err != nil {
		return err
	}
	if err := qty.InRange("Efficiency", float64(c.Efficiency), 0.5, 1, ""); err != nil {
		return err
	}
	return qty.InRange("Socket", float64(c.Socket), 0, 60, "A")
}

// Watts returns what the vehicle gives while i amps go into the battery at v
// volts.
//
//	P = v·i/eff
//
// Source: EnergyBalance.
func (c VehicleCharger) Watts(v qty.Volt, i qty.Ampere) qty.Watt {
	if i == 0 {
		return 0
	}
	return qty.Watt(float64(v) * float64(i) / float64(c.Efficiency))
}

// Draws returns the amps through the socket's fuse while i amps go into the
// battery at v volts and the socket shows vehicle volts, above 0. The charger
// keeps its watts up: the lower the socket's volts, the more amps.
//
//	I = v·i/(eff·vehicle)
//
// Source: EnergyBalance.
func (c VehicleCharger) Draws(v qty.Volt, i qty.Ampere, vehicle qty.Volt) qty.Ampere {
	return qty.Ampere(float64(c.Watts(v, i)) / float64(vehicle))
}

// Overloads reports whether the charger at its full current draws more through
// the socket's fuse than it is rated for; false where the fuse is not known.
func (c VehicleCharger) Overloads(v, vehicle qty.Volt) bool {
	return c.Socket > 0 && c.Draws(v, c.Current, vehicle) > c.Socket
}

// Allows returns the amps into the battery at which the socket's fuse carries
// just its rating; +Inf where the fuse is not known.
//
//	i = Socket·vehicle·eff/v
//
// Source: EnergyBalance.
func (c VehicleCharger) Allows(v, vehicle qty.Volt) qty.Ampere {
	if c.Socket == 0 {
		return qty.Ampere(math.Inf(1))
	}
	return qty.Ampere(float64(c.Socket) * float64(vehicle) * float64(c.Efficiency) / float64(v))
}
