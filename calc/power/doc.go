// Package power is what stands between panels, mains, battery and gear: the
// charge controller, the wall charger, the inverter, the outlets, the switch.
//
// It knows a panel only as a [Curve] and a battery only as volts. Everything
// is seen from the battery's bus: a [Controller] turns a curve into an
// [Offer] of amps at battery volts, the others turn watts for the gear into
// watts from the bus. Constructors and Check refuse figures out of range; the
// rest runs in step loops and returns no error.
//
// Missing: the wave's shape and what it does to devices, motor starts beyond
// a surge figure, charge stages of a wall charger (it gives its amps until the
// battery holds them), temperature compensation, vehicle chargers, wire.
package power
