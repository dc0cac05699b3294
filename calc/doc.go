// Package calc is the map of Duskline's core. It holds no code of its own.
//
// The core has no I/O, no clock, no globals that change and no prose. Data
// flows one way: a Plan becomes sun, sun becomes panel power, power meets the
// battery and the gear, and out comes an Outlook with coded Notices. Pairing
// runs the same once for each panel that might go with the Case.
//
//	qty       unit types and the range error
//	ref       the table of sources
//	notice    a piece of advice: code, grade, numbers
//	wire      a gauge, metres, amps -> volts and watts lost, the fuse before it
//	coords    a latitude and a longitude as people write them -> degrees
//	civil     offsets from UTC and their changes -> the clock of a place
//	sun       place, instant, haze, cloud -> position and light on a plane
//	load      devices and the hour -> watts and amps per route
//	panel     datasheet, light, heat -> current-voltage curve
//	power     a curve, volts, watts -> amps, losses, what was clipped
//	battery   amps, heat, seconds -> volts and charge
//	weather   a file of the user's own -> hourly light, heat and wind of a trip
//	daylight  sun, panels and how they lie -> light and what the controller offers
//	plan      bytes -> a checked Plan, or all its faults
//	outlook   Plan -> steps, events, Ledger, verdict
//	pairing   Plan -> each size and joining of panels, told as a ladder
//	care      Plan -> what volts mean, where the alarm belongs, how long a battery may lie, what a trip costs of it
//
// A package imports only packages of a lower level; arch_test.go holds the
// levels and fails when an arrow points the wrong way.
package calc
