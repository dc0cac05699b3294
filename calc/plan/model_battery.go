package plan

import (
	"errors"
	"strconv"
	"time"

	"duskline/calc/battery"
	"duskline/calc/power"
	"duskline/calc/qty"
)

// The battery as the models take it, and what these say against the document's
// figures.

// Lithium reports whether the battery takes no charge in frost and has no
// charge volts that follow the temperature.
func (b Battery) Lithium() bool {
	switch b.Chemistry {
	case LiFePO4, NMC:
		return true
	case Own:
		return b.Own != nil && b.Own.Lithium
	}
	return false
}

// Charging returns the chemistry as chargers know it, for the stages and bands
// that are usual for it ([power.StagesFor], [power.UsualFor]). ok is false for
// [Own], for which nothing is usual, and for a word that is none.
func (c Chemistry) Charging() (kind power.Chemistry, ok bool) {
	switch c {
	case LiFePO4:
		return power.LiFePO4, true
	case AGM:
		return power.AGM, true
	case NMC:
		return power.NMC, true
	case Gel:
		return power.Gel, true
	case Flooded:
		return power.Flooded, true
	}
	return 0, false
}

// named returns the model's chemistry of that name; that of [Own] has none.
func (c Chemistry) named() (battery.Chemistry, bool) {
	switch c {
	case LiFePO4:
		return battery.LiFePO4, true
	case AGM:
		return battery.AGM, true
	case NMC:
		return battery.NMC, true
	case Gel:
		return battery.Gel, true
	case Flooded:
		return battery.Flooded, true
	}
	return battery.Chemistry{}, false
}

// Kind returns the chemistry as the model has it, made from the own table if
// the battery has one.
//
// Errors: those of [battery.OwnTable], none for a checked Plan.
func (b Battery) Kind() (battery.Chemistry, error) {
	o := b.Own
	if b.Chemistry != Own || o == nil {
		c, _ := b.Chemistry.named()
		return c, nil
	}
	own := battery.Own{
		Rest:        make([]battery.Point, len(o.Rest)),
		Coulombic:   qty.Fraction(o.CoulombicPct / 100),
		AcceptHours: o.AcceptH,
		Swing:       qty.Volt(o.HysteresisMV / 1000),
		CyclesTo80:  o.CyclesTo80,
		Lithium:     o.Lithium,
	}
	for i, r := range o.Rest {
		own.Rest[i] = battery.Point{Charge: qty.Fraction(r.ChargePct / 100), Volts: qty.Volt(r.Volts)}
	}
	return battery.OwnTable(own)
}

// Model returns the battery that the simulation steps.
//
// Errors: those of [Battery.Kind] and [battery.New], none for a checked Plan.
func (b Battery) Model() (*battery.Battery, error) {
	kind, err := b.Kind()
	if err != nil {
		return nil, err
	}
	spec := battery.Spec{
		Chemistry:      kind,
		Capacity:       qty.AmpHour(b.CapacityAh),
		Resistance:     qty.Ohm(b.ResistanceMohm / 1000),
		Charge:         qty.Volt(b.ChargeV),
		Alarm:          qty.Volt(b.AlarmV),
		CutOff:         qty.Volt(b.CutoffV),
		Reconnect:      qty.Volt(b.ReconnectV),
		AlarmDelay:     seconds(b.AlarmDelayS),
		CutOffDelay:    seconds(b.CutoffDelayS),
		ReconnectDelay: seconds(b.ReconnectS),
		RatedHours:     b.RatedHours,
	}
	if b.Peukert != nil {
		spec.Peukert = *b.Peukert
	}
	if b.HeatKJPerK != nil {
		spec.HeatCapacity = 1000 * *b.HeatKJPerK
	}
	if b.CoolingWPerK != nil {
		spec.Cooling = *b.CoolingWPerK
	}
	if b.NoChargeBelowC != nil {
		t := qty.Celsius(*b.NoChargeBelowC)
		spec.NoChargeBelow = &t
	}
	if b.SelfDischargePctMonth != nil {
		share := qty.Fraction(*b.SelfDischargePctMonth / 100)
		spec.SelfDischarge = &share
	}
	return battery.New(spec)
}

func seconds(s float64) time.Duration { return time.Duration(s * float64(time.Second)) }

// hotBack is by how many kelvin a battery must be warmer than the cold, and
// cooler than the heat, at which its protection cut it off, before it is let
// in again. Common practice, no source.
const hotBack = 3

// Guard returns the protection as the simulation asks it; without one it is
// off.
func (b Battery) Guard() battery.GuardSpec {
	p := b.Protection
	if p == nil {
		return battery.GuardSpec{}
	}
	return battery.GuardSpec{
		On:            true,
		OverV:         qty.Volt(p.OverV),
		OverBack:      qty.Volt(p.OverBackV),
		UnderV:        qty.Volt(p.UnderV),
		UnderBack:     qty.Volt(p.UnderBackV),
		VoltsDelay:    seconds(p.VoltsDelayS),
		ChargeA:       qty.Ampere(p.ChargeA),
		DischargeA:    qty.Ampere(p.DischargeA),
		AmpsDelay:     seconds(p.AmpsDelayS),
		ChargeCold:    qty.Celsius(p.ChargeColdC),
		ChargeHot:     qty.Celsius(p.ChargeHotC),
		DischargeCold: qty.Celsius(p.DischargeColdC),
		DischargeHot:  qty.Celsius(p.DischargeHotC),
		HotBack:       hotBack,
		Release:       seconds(p.ReleaseS),
	}
}

// nearFull is the charge at whose volts at rest an alarm or cut-off would be
// on for as long as nothing charges. Not 1: the volts of LiFePO4 shoot up over
// the last hundredth and fall back within minutes of rest.
const nearFull = 0.99

func modelBattery(b Battery, s *sheet) {
	const at = "/case/battery"
	kind, err := b.Kind()
	if row := (*battery.RowError)(nil); errors.As(err, &row) {
		s.refused(at+"/own/rest/"+strconv.Itoa(row.Row), "", err)
		return
	} else if err != nil {
		s.refused(at+"/own", "", err)
		return
	}
	band := b.band(&kind)
	if v := b.ChargeV; v < band.least || v > band.most {
		s.note(Fault{Pointer: at + "/charge_V", Kind: OutOfBand, Found: jsonNumber(v), Min: band.least, Max: band.most, Unit: "V",
			Allowed: []string{jsonNumber(band.from), jsonNumber(band.to)}, Other: at + "/chemistry"})
		return
	}
	m, err := b.Model()
	if err != nil {
		s.refused(at, "", err)
		return
	}
	full := float64(m.Rest(nearFull))
	s.rests(at+"/alarm_V", b.AlarmV, full)
	s.rests(at+"/cutoff_V", b.CutoffV, full)
	if p := b.Protection; p != nil {
		s.rests(at+"/protection/under_V", p.UnderV, full)
		if v := p.OverV; v <= full {
			s.note(Fault{Pointer: at + "/protection/over_V", Kind: NeverFull, Found: jsonNumber(v), Min: full, Unit: "V", Other: at + "/chemistry"})
		}
	}
}

// modelOwnCutoff holds the inverter's own marks against the battery.
func modelOwnCutoff(p *Plan, s *sheet) {
	if m, err := p.Case.Battery.Model(); err == nil {
		s.rests("/case/inverter/low_cutoff_V", p.Case.Inverter.LowCutoffV, float64(m.Rest(nearFull)))
	}
}

// rests notes a mark that a full battery at rest would not be above.
func (s *sheet) rests(pointer string, volts, full float64) {
	if volts >= full {
		s.note(Fault{Pointer: pointer, Kind: NeverRests, Found: jsonNumber(volts), Max: full, Unit: "V", Other: "/case/battery/chemistry"})
	}
}

// A chargeBand is volts of charging, V: from and to are usual, under least and
// over most is no setting but a slip, or another chemistry's.
type chargeBand struct{ from, to, least, most float64 }

// How far from the usual band charge_V may lie, V a cell. Common practice, no
// source: under it a cell takes no charge worth having, over it lithium is
// broken and lead-acid boils.
const bandBelow, bandAbove = 0.3, 0.1

// Of an own table nothing is usual but this, as a share of its volts when full
// and at rest. Common practice, no source: lead-acid is charged so much over
// its rest, lithium hardly.
const (
	ownToLithium, ownToLead     = 1.08, 1.17 // usual, from 1
	ownMostLithium, ownMostLead = 1.1, 1.25  // taken, from ownLeast
	ownLeast                    = 0.95
)

// band returns the volts that charge the battery.
func (b Battery) band(kind *battery.Chemistry) chargeBand {
	if b.Chemistry == Own {
		full := float64(kind.Rest[len(kind.Rest)-1].Volts)
		to, most := ownToLead, ownMostLead
		if kind.Lithium {
			to, most = ownToLithium, ownMostLithium
		}
		return chargeBand{hundredth(full), hundredth(to * full), hundredth(ownLeast * full), hundredth(most * full)}
	}
	from, to, cells := float64(kind.ChargeFrom), float64(kind.ChargeTo), float64(kind.Cells)
	return chargeBand{from, to, hundredth(from - bandBelow*cells), hundredth(to + bandAbove*cells)}
}

// hundredth rounds volts to 0.01 V.
func hundredth(v float64) float64 { return decimals(v, 2) }
