package power

import "duskline/calc/qty"

// An Outlet is a group of sockets behind a converter, or behind plain wire
// (Efficiency 1, Standby 0).
type Outlet struct {
	Standby    qty.Ampere   // from the bus while the switch feeds it, whatever is plugged in
	Efficiency qty.Fraction // from the bus to the sockets
}

// Check returns nil for an Outlet in range: Standby 0 to 1 A, Efficiency 0.5
// to 1.
//
// Errors: *qty.RangeError.
func (o Outlet) Check() error {
	if err := qty.InRange("Standby", float64(o.Standby), 0, 1, "A"); err != nil {
		return err
	}
	return qty.InRange("Efficiency", float64(o.Efficiency), 0.5, 1, "")
}

// Draw returns the watts from the bus for out watts at the sockets. Standby
// is not in it: it is amps, at any volts.
//
// Source: EnergyBalance.
func (o Outlet) Draw(out qty.Watt) qty.Watt {
	if out == 0 {
		return 0
	}
	return out / qty.Watt(o.Efficiency)
}

// Switch is the position of the Case's main switch.
type Switch uint8

// The positions.
const (
	DCOnly Switch = iota
	DCAndAC
	ACOnly
)

// DC reports whether the DC and USB sockets are fed.
func (s Switch) DC() bool { return s == DCOnly || s == DCAndAC }

// AC reports whether the inverter is fed.
func (s Switch) AC() bool { return s == DCAndAC || s == ACOnly }
