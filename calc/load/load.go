// Package load says what a device asks for at an hour of the day.
//
// The decision: a device that switches itself on and off, or refills its own
// battery, asks for its mean in every minute of its hours. Over a day that
// gives the same energy, and the battery's volts follow the mean; a cut-off
// that only the running peak would cause is not seen.
//
// Whatever a converter feeds, USB and mains, draws constant watts. A device
// given in amps on a DC socket draws constant amps: it has no converter that
// would ask for more as the volts sag.
//
// Missing, in this version: power factor, inrush longer than a moment, doors
// opened and warm goods in a cooler, its efficiency falling with heat.
package load

import (
	"fmt"
	"math"

	"duskline/calc/qty"
)

// A Route is the kind of socket that a device is plugged into.
type Route uint8

// The routes.
const (
	DC Route = iota
	USB
	AC
)

// USBVolts is the volts at which amps of a USB device become watts.
const USBVolts qty.Volt = 5

// A Draw is what one device takes while it runs. Make it with [Watts],
// [Amps] or [Refill].
type Draw struct {
	kind       kind
	figure     float64 // W, A, or W·h a refill
	perDay     float64
	efficiency float64
}

type kind uint8

const (
	byWatts kind = iota
	byAmps
	byRefill
)

// Watts is a draw of constant power, 0 to 5000 W.
func Watts(w qty.Watt) Draw { return Draw{kind: byWatts, figure: float64(w)} }

// Amps is a draw of current, 0 to 100 A, at the volts of its route: the
// battery's on DC, 5 V on USB, the inverter's on AC.
func Amps(a qty.Ampere) Draw { return Draw{kind: byAmps, figure: float64(a)} }

// Refill is a device with a battery of its own that takes up energy, 0 to
// 5000 Wh, so many times a day, 0 to 24, through a charger of that
// efficiency, 0.5 to 1. It is spread evenly over the device's hours; hours
// that come to less than a minute a day leave time for a part of it only.
func Refill(energy qty.WattHour, perDay float64, efficiency qty.Fraction) Draw {
	return Draw{byRefill, float64(energy), perDay, float64(efficiency)}
}

// A Cooler keeps something cold: it runs longer when it is hot outside.
type Cooler struct {
	At     qty.Celsius // outside, where the duty was seen; -30 to 60
	Inside qty.Celsius // that it keeps; -30 to 30, below At
}

// A Spec is one kind of device as its owner describes it. Draw and Surge are
// of one.
type Spec struct {
	Count  int // 1 to 100
	Route  Route
	Draw   Draw
	Duty   qty.Fraction // share of its hours in which it runs, 0 to 1; 1 with Refill
	Cooler *Cooler      // nil: Duty does not depend on the weather
	Surge  qty.Watt     // for a moment at start, 0 to 15 000; 0: none
	Hours  []Window     // of every day, 1 to 8
	Mains  qty.Volt     // the inverter's volts, 100 to 240; needed for amps on AC only
}

func (s *Spec) check() error {
	d := s.Draw
	type figure struct {
		what          string
		got, min, max float64
		unit          string
	}
	list := []figure{
		{"count", float64(s.Count), 1, 100, "devices"},
		{"route", float64(s.Route), float64(DC), float64(AC), ""},
		{"duty", float64(s.Duty), 0, 1, ""},
		{"surge", float64(s.Surge), 0, 15_000, "W"},
		{"windows", float64(len(s.Hours)), 1, 8, "windows"},
	}
	switch d.kind {
	case byWatts:
		list = append(list, figure{"power", d.figure, 0, 5000, "W"})
	case byAmps:
		list = append(list, figure{"current", d.figure, 0, 100, "A"})
		if s.Route == AC {
			list = append(list, figure{"mains", float64(s.Mains), 100, 240, "V"})
		}
	case byRefill:
		list = append(list,
			figure{"refill", d.figure, 0, 5000, "Wh"},
			figure{"refills a day", d.perDay, 0, 24, "refills"},
			figure{"refill efficiency", d.efficiency, 0.5, 1, ""},
			figure{"duty of a refill", float64(s.Duty), 1, 1, ""})
	}
	if c := s.Cooler; c != nil {
		list = append(list,
			figure{"duty seen at", float64(c.At), -30, 60, "°C"},
			figure{"inside", float64(c.Inside), -30, math.Min(30, math.Nextafter(float64(c.At), never)), "°C"})
	}
	for k, w := range s.Hours {
		list = append(list,
			figure{fmt.Sprintf("from of window %d", k), w.From, 0, 24, "h"},
			figure{fmt.Sprintf("to of window %d", k), w.To, 0, 24, "h"},
			figure{fmt.Sprintf("length of window %d", k), math.Abs(w.To - w.From), math.SmallestNonzeroFloat64, 24, "h"})
	}
	for _, f := range list {
		if err := qty.InRange(f.what, f.got, f.min, f.max, f.unit); err != nil {
			return err
		}
	}
	return nil
}

// never is a temperature below any.
const never = -1000

// A Device is a Spec made ready to be asked.
type Device struct {
	watts, amps float64 // of all of them, while running
	duty        float64
	cooler      *Cooler
	surge       float64 // W, of one
	count       float64
	hours       []Window
	aDay        float64 // h in its windows
}

// New returns a device ready to be asked. Amps on USB and AC become watts.
//
// Errors: *qty.RangeError for the first figure of s out of the range its
// field states; "length of window" if a window starts where it ends.
func New(s Spec) (Device, error) {
	if err := s.check(); err != nil {
		return Device{}, err
	}
	d := Device{
		duty: float64(s.Duty), surge: float64(s.Surge), count: float64(s.Count),
		hours: append([]Window(nil), s.Hours...),
	}
	if s.Cooler != nil {
		c := *s.Cooler
		d.cooler = &c
	}
	d.aDay = length(d.hours)
	figure := s.Draw.figure * d.count
	switch {
	case s.Draw.kind == byWatts:
		d.watts = figure
	case s.Draw.kind == byRefill:
		d.watts = figure * s.Draw.perDay / s.Draw.efficiency / math.Max(d.aDay, 1.0/60)
	case s.Route == USB:
		d.watts = figure * float64(USBVolts)
	case s.Route == AC:
		d.watts = figure * float64(s.Mains)
	default:
		d.amps = figure
	}
	return d, nil
}

// On says whether the device may run at a local hour, 0 up to 24.
func (d Device) On(hour float64) bool { return In(d.hours, hour) }

// A Demand is what all devices of one kind ask for at their sockets.
type Demand struct {
	Watts   qty.Watt   // constant power
	Amps    qty.Ampere // constant current; DC only
	Running bool       // it is one of the device's hours and its duty is above 0
}

// Demand returns what the device asks for at a local hour, 0 up to 24, in air
// of that temperature: its draw times its duty in its hours, else nothing.
func (d Device) Demand(hour float64, air qty.Celsius) Demand {
	if !In(d.hours, hour) {
		return Demand{}
	}
	share := d.share(float64(air))
	return Demand{Watts: qty.Watt(d.watts * share), Amps: qty.Ampere(d.amps * share), Running: share > 0}
}

// Duty returns the share of its hours in which the device runs in air of that
// temperature.
//
//	duty = seen · (air - inside) / (at - inside)
//
// for a cooler: the heat that comes in through its walls is in proportion to
// the difference of temperature, and so is the time it takes to pump it out.
// In air no warmer than its inside it stands still; when the law asks for
// more than all the time it runs all the time and gets warmer than it should.
//
// Source: CoolerDuty.
func (d Device) Duty(air qty.Celsius) qty.Fraction { return qty.Fraction(d.share(float64(air))) }

func (d Device) share(air float64) float64 {
	if d.cooler == nil {
		return d.duty
	}
	in, at := float64(d.cooler.Inside), float64(d.cooler.At)
	share := d.duty * (air - in) / (at - in)
	if !(share > 0) {
		return 0
	}
	return math.Min(share, 1)
}

// Day returns the energy that all devices of the kind ask for in a day of
// such air; volts are those of the DC socket, for a device given in amps.
//
//	energy = watts · hours · duty
//
// Source: DoeAppliance.
func (d Device) Day(air qty.Celsius, volts qty.Volt) qty.WattHour {
	return qty.WattHour((d.watts + d.amps*float64(volts)) * d.aDay * d.share(float64(air)))
}

// SurgeOver returns the watts above a demand that one of the devices takes
// for a moment when it starts: several are taken to start one after the
// other. The demand is one that this device returned.
//
// Source: EnergyBalance.
func (d Device) SurgeOver(now Demand) qty.Watt {
	return qty.Watt(math.Max(0, d.surge-float64(now.Watts)/d.count))
}
