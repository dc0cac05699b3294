// Package care says how not to ruin a battery: what volts mean, when to let
// the alarm sound, how long a battery may wait, and what a trip costs of it.
//
// The decision: nothing here is a law of its own. Every figure comes from
// stepping the very battery of the Outlook ([battery.Battery.Step]) through a
// discharge, a start or a store, and reading volts, charge and time off it; a
// mark is passed when the simulated volts have stayed under it for its delay.
// Wear is the chemistry's own ([battery.Chemistry.Wear]).
//
// The four questions are asked one at a time: [NewTide], [NewAlarms],
// [NewStorage], [NewLife]. They read a Plan that plan.Check finds no fault
// with, hold nothing, and are quick enough to be asked at each edit.
//
// Missing, in this version: an alarm that knows the load and moves its mark
// with it; gear that switches itself off by volts of its own. In a discharge an
// inverter that its own cut-off took off stays off, and of the protection of
// the cells only the volts count, not its amps and temperatures.
package care
