// Package battery turns amps, warmth and seconds into volts, charge and what is
// left of both.
//
// The decision: one implicit step that keeps energy exactly. All that a battery
// does by itself, two wells that level, a slow part that comes and goes, its
// own discharge, its temperature, goes over the step in closed form, as
// straight lines in the amps; so the volts of a step are a curve that rises
// with the amps, and the amps are whatever the bus gives or draws at those very
// volts. Amps × volts × time is the change of stored energy plus what is lost,
// to rounding, at a step of a second as at one of a day, and steps of 1, 5 and
// 15 minutes agree.
//
// Charge counts from 0 to 1 of all that the battery holds, which is more than
// its rating where wells keep a part back ([Battery.Holds]). What it can give
// at once is the head of its free well: empty is where that is 0, and the volts
// are those at which that head rests.
//
// Beside the step there are the laws that need none: [Peukert], [Wells],
// [Standing], wear and [Safe]; and a battery's protection, a [Guard].
//
// Missing, in this version: the current that a full lead-acid battery goes on
// to gas at the volts of the hold: its amps end at what it loses by itself,
// those of a real one at some 0.1 to 1 A per 100 A·h at 14.4 V and a tenth of
// that afloat (practice), which are 1 to 4 A·h of sun in an afternoon and no
// charge; surface charge, as volts fall back at once by what the amps lifted
// them, and a full LiFePO4 battery stays near the volts of its charge until
// some thousandths are drawn; the knee of a flooded battery at an hour's rate
// and above, of which two wells give two fifths where Peukert's form has half;
// the dip of volts when a
// full lead-acid battery is first drawn from, a cell that differs from its
// neighbours, memory of old turns of the hysteresis, a core that is warmer than
// its case.
//
// The volts at which charging is held are one figure a step, Spec.Charge or
// those of [Battery.HoldAt]: which of them a charger holds, and when, is not
// known here.
package battery

import (
	"time"

	"duskline/calc/qty"
)

// A Spec is a battery as its label, its charger and its alarm are set.
type Spec struct {
	Chemistry  Chemistry
	Capacity   qty.AmpHour // rated, 1 to 1000
	Resistance qty.Ohm     // whole battery with its wires at 25 °C, what drops at once, 0.0005 to 0.5; the chemistry's slow part comes on top

	Charge    qty.Volt // at which charging is held, 10 to 17
	Alarm     qty.Volt // 8 to 16; above CutOff, below Charge
	CutOff    qty.Volt // 7 to 15
	Reconnect qty.Volt // 8 to 16.5; above CutOff, below Charge

	AlarmDelay     time.Duration // 0 to 600 s
	CutOffDelay    time.Duration // 0 to 600 s
	ReconnectDelay time.Duration // 0 to 24 h

	RatedHours float64      // that Capacity is stated for, 1 to 100 h; 0: 20
	Peukert    float64      // exponent that the wells are fitted to, 1 to 1.6; 0: the chemistry's wells
	Health     qty.Fraction // of Capacity left, 0.1 to 1; 0: new
	Growth     float64      // resistance of now over that of new, 1 to 10; 0: new

	HeatCapacity float64 // J/K, 100 to 500,000; 0: from the amp-hours, by the chemistry
	Cooling      float64 // W/K to the air, 0.05 to 50; 0: from the amp-hours, by practice

	NoChargeBelow *qty.Celsius  // nil: the chemistry's; -40 to 20 °C
	SelfDischarge *qty.Fraction // share a month at 20 °C, 0 to 0.5; nil: the chemistry's
}

// check finds the first figure out of range.
func (s *Spec) check() error {
	cut, top := float64(s.CutOff), float64(s.Charge)
	for _, c := range []struct {
		what          string
		got, min, max float64
		unit          string
	}{
		{"capacity", float64(s.Capacity), 1, 1000, "Ah"},
		{"resistance", float64(s.Resistance), 0.0005, 0.5, "Ω"},
		{"charge", top, 10, 17, "V"},
		{"cut-off", cut, 7, 15, "V"},
		{"alarm", float64(s.Alarm), 8, 16, "V"},
		{"reconnect", float64(s.Reconnect), 8, 16.5, "V"},
		// The order, as an open range: a volt mark on its neighbour is out.
		{"cut-off", cut, 0, below(s.Alarm), "V"},
		{"alarm", float64(s.Alarm), 0, below(s.Charge), "V"},
		{"cut-off", cut, 0, below(s.Reconnect), "V"},
		{"reconnect", float64(s.Reconnect), 0, below(s.Charge), "V"},
		{"alarm delay", s.AlarmDelay.Seconds(), 0, 600, "s"},
		{"cut-off delay", s.CutOffDelay.Seconds(), 0, 600, "s"},
		{"reconnect delay", s.ReconnectDelay.Seconds(), 0, 86_400, "s"},
	} {
		if err := qty.InRange(c.what, c.got, c.min, c.max, c.unit); err != nil {
			return err
		}
	}
	for _, c := range []struct {
		what          string
		got, min, max float64
		unit          string
	}{
		{"rated hours", s.RatedHours, 1, 100, "h"},
		{"exponent", s.Peukert, 1, 1.6, ""},
		{"health", float64(s.Health), 0.1, 1, ""},
		{"growth", s.Growth, 1, 10, ""},
		{"heat capacity", s.HeatCapacity, 100, 500_000, "J/K"},
		{"cooling", s.Cooling, 0.05, 50, "W/K"},
	} {
		if c.got != 0 { // 0: not given
			if err := qty.InRange(c.what, c.got, c.min, c.max, c.unit); err != nil {
				return err
			}
		}
	}
	if s.NoChargeBelow != nil {
		if err := qty.InRange("coldest charge", float64(*s.NoChargeBelow), -40, 20, "°C"); err != nil {
			return err
		}
	}
	if s.SelfDischarge != nil {
		if err := qty.InRange("self-discharge", float64(*s.SelfDischarge), 0, 0.5, "a month"); err != nil {
			return err
		}
	}
	return s.Chemistry.check()
}

// below returns the greatest volts that count as under v.
func below(v qty.Volt) float64 { return float64(v) - 1e-9 }

// A Battery is a Spec made ready for stepping. It holds no charge: the caller
// keeps that, so one Battery may serve many runs at once.
type Battery struct {
	*made
	top float64 // V, charging is held
}

// made is what stays the same however charging is held.
type made struct {
	spec Spec
	*layers
	lump lump

	capacity float64 // A·h, what Charge counts
	ohms     float64 // Ω at 25 °C and half charge, the part that is there at once
	slow     float64 // the slow part over that
	tau      float64 // 1/h, one over the time of the slow part
	swing    float64 // V, half of the hysteresis
	half     float64 // A into it that lift it half as far as any do
	lean     float64 // how fast Lean moves, per unit of charge moved
	free     float64 // share of the free well; 1: one well
	bound    float64 // share of the bound well over that of the free one
	whole    float64 // one over the share of the free well

	acceptHours   float64
	noChargeBelow float64 // °C
	venting       float64 // W of heat that the gas of one ampere takes with it
}

// New returns a battery ready for stepping.
//
// Errors: *qty.RangeError for the first figure of s that is out of the range
// its field states, or out of order (CutOff < Alarm < Charge, CutOff <
// Reconnect < Charge), or for a chemistry whose curve does not rise from 0 to 1.
func New(s Spec) (*Battery, error) {
	if err := s.check(); err != nil {
		return nil, err
	}
	c := &s.Chemistry
	wells := Wells{Free: 1}
	if c.Free > 0 && c.Exchange > 0 {
		wells = Wells{float64(c.Free), c.Exchange}
	}
	rated := s.RatedHours
	if rated == 0 {
		rated = 20
	}
	if s.Peukert > 0 {
		var err error
		if wells, err = WellsFor(s.Peukert, rated); err != nil {
			return nil, err
		}
	}
	m := &made{
		spec: s, layers: newLayers(&s, wells.Exchange), lump: newLump(&s),
		capacity:      float64(s.Capacity),
		ohms:          float64(s.Resistance),
		swing:         float64(c.Swing) * float64(c.Cells),
		lean:          c.SwingRate,
		free:          wells.Free,
		acceptHours:   c.AcceptHours,
		noChargeBelow: float64(c.NoChargeBelow),
		venting:       float64(c.Vents) * thermoneutral * float64(c.Cells),
	}
	if s.Health > 0 {
		m.capacity *= float64(s.Health)
	}
	if s.Growth > 0 {
		m.ohms *= s.Growth
	}
	if len(c.Lift) > 0 {
		m.half = c.LiftRate // times what it holds, below
	}
	if c.SlowShare > 0 {
		m.slow, m.tau = c.SlowShare, 3600/c.SlowSeconds
	}
	if wells.Free < 1 {
		m.bound, m.whole = (1-wells.Free)/wells.Free, 1/wells.Free
		m.capacity /= float64(wells.CapacityIn(rated))
	}
	m.half *= m.capacity
	if s.NoChargeBelow != nil {
		m.noChargeBelow = float64(*s.NoChargeBelow)
	}
	return &Battery{m, float64(s.Charge)}, nil
}

// HoldAt returns the same battery with charging held at v instead of
// Spec.Charge, as a charger's next stage or the day's heat asks for. Its Spec
// stays as it was made. v is above 0; at or under the rest volts of a charge,
// that charge takes nothing in. It allocates nothing and costs next to nothing.
//
// Source: EnergyBalance; the curve's own source is with its chemistry.
func (b *Battery) HoldAt(v qty.Volt) Battery { return Battery{b.made, float64(v)} }

// Spec returns what the battery was made from.
func (b *Battery) Spec() Spec { return b.spec }

// Rest returns the volts of the battery at rest, whole battery, 25 °C. s is
// from 0 to 1; outside of it the end of the curve counts.
//
// Source: EnergyBalance; the curve's own source is with its chemistry.
func (b *Battery) Rest(s qty.Fraction) qty.Volt {
	return qty.Volt(b.curve.rest(within(float64(s))))
}

// RestAt returns the volts at rest at a charge from 0 to 1, at the
// temperature of the core, on the side of the hysteresis that lean says, -1 to
// 1: see [State].
//
// Source: EnergyBalance; the curve's own source is with its chemistry.
func (b *Battery) RestAt(s qty.Fraction, core qty.Celsius, lean float64) qty.Volt {
	x := within(float64(s))
	return b.Rest(s) + qty.Volt(b.atCharge(x).shift*b.layers.shifted(float64(core))+b.swing*lean)
}

// Holds returns the amp-hours that Charge counts: what the battery gives when
// it is emptied very slowly. Capacity is what it gives in RatedHours, at 25 °C:
// the wells keep back a part of all that it holds.
//
//	Capacity · Health / share that the wells give in RatedHours
//
// Source: EnergyBalance.
func (b *Battery) Holds() qty.AmpHour { return qty.AmpHour(b.capacity) }

// Resistance returns the resistance of the battery at a charge from 0 to 1 and
// a temperature of its core: what the volts drop at once for each ampere, and
// what they drop more over the next minutes.
//
// Source: EnergyBalance; the figures' own source is with the chemistry.
func (b *Battery) Resistance(s qty.Fraction, core qty.Celsius) (fast, slow qty.Ohm) {
	ohms := b.ohms * b.atCharge(within(float64(s))).ohms * b.atCore(float64(core)).ohms
	return qty.Ohm(ohms), qty.Ohm(ohms * b.slow)
}

// Energy returns the energy between empty and charge s at vanishing current:
// the integral of the rest volts over the amp-hours, exact for the straight
// lines between the curve's points. s is from 0 to 1; outside of it the end
// of the curve counts.
//
// Source: EnergyBalance.
func (b *Battery) Energy(s qty.Fraction) qty.WattHour {
	return qty.WattHour(b.curve.energy(within(float64(s))) * b.capacity)
}

// Charge returns the charge at which the battery rests at so many volts, 25
// °C: 0 below the curve and 1 above it. On LiFePO4's plateau 0.01 V is
// several hundredths of charge: never show it as a gauge reading.
//
// Source: EnergyBalance; the curve's own source is with its chemistry.
func (b *Battery) Charge(rest qty.Volt) qty.Fraction {
	return qty.Fraction(b.curve.charge(float64(rest)))
}

// FreezesAt returns the temperature at which the battery freezes at charge s,
// from 0 to 1, and false if its chemistry has no such curve.
//
// Source: ArmyTm5_4210, table 2, with straight lines between its rows.
func (b *Battery) FreezesAt(s qty.Fraction) (qty.Celsius, bool) {
	list := b.spec.Chemistry.Freezing
	if len(list) == 0 {
		return 0, false
	}
	x := qty.Fraction(within(float64(s)))
	for k := 1; k < len(list); k++ {
		if lo, hi := list[k-1], list[k]; x <= hi.Charge {
			return lo.At + (hi.At-lo.At)*qty.Celsius((x-lo.Charge)/(hi.Charge-lo.Charge)), true
		}
	}
	return list[len(list)-1].At, true
}

// within returns s, or the nearer of 0 and 1. NaN counts as empty.
func within(s float64) float64 {
	if !(s > 0) {
		return 0
	}
	if s > 1 {
		return 1
	}
	return s
}
