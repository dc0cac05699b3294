// Package power is what stands between panels, mains, vehicle, battery and
// gear: charge controller and stages, wall charger, vehicle charger, generator,
// inverter and the shape of its wave, outlets, switch.
//
// It knows a panel only as a [Curve] and a battery only as volts. Everything
// is seen from the battery's bus: a [Controller] turns a curve into an
// [Offer] of amps at battery volts, chargers turn amps into watts from their
// source, the others turn watts for the gear into watts from the bus.
// [Stages] say at which volts charging is held; a [Charging] is their course,
// told by its caller what became of each step. Constructors and Check refuse
// figures out of range; the rest runs in step loops and returns no error.
//
// Missing: the end of absorption by a small current instead of by time;
// equalising; a controller's own hysteresis at its start volts; the power
// factor of a wall charger, which on a small generator counts volt-amps;
// what a charger left plugged in draws; a generator's fuel.
package power
