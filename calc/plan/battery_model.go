package plan

import (
	"time"

	"duskline/calc/battery"
	"duskline/calc/power"
	"duskline/calc/qty"
)

// The battery as the models take it.

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
// It holds what its age leaves it.
//
// Errors: those of [Battery.Kind], [Battery.Health] and [battery.New], none for
// a checked Plan.
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
	if spec.Health, spec.Growth, err = b.health(&kind); err != nil {
		return nil, err
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

// How a battery was used of which the document only counts the full cycles:
// half down, in five hours, at 25 °C. Common practice, no source.
const (
	usedDepth = 0.5
	usedRate  = 0.2 // 1/h
	usedAt    = 25  // °C
)

// Use returns what the battery has gone through so far.
func (b Battery) Use() battery.Use {
	return battery.Use{
		Years: b.AgeYears, Kept: qty.Celsius(b.KeptC), KeptAt: qty.Fraction(b.KeptPct / 100),
		Cycles: b.Cycles, Depth: usedDepth, Rate: usedRate, During: usedAt,
	}
}

// Health returns the share of capacity_Ah that is left and how many times its
// value when new the resistance is: by age and cycles, in the middle of what
// the models say, or by the measured health_pct, with which the resistance is
// taken to grow by practice.
//
// The measurements behind the lithium models lasted three years or less and
// some thousand cycles. They may be asked as far as the document goes, 30 years
// and 20,000 cycles, because nothing better is known of a battery so old and
// its owner wants a plan, not a refusal: LiFePO4 kept cool comes out with 0.6 of
// its amp-hours then. That is the models drawn on far beyond what was measured;
// who can measure puts health_pct instead.
//
// Errors: those of [Battery.Kind] and [battery.Chemistry.Health], none for a
// checked Plan.
func (b Battery) Health() (left qty.Fraction, growth float64, err error) {
	kind, err := b.Kind()
	if err != nil {
		return 0, 0, err
	}
	return b.health(&kind)
}

// ohmsPerLoss is by what share the resistance grows for each share of the
// capacity that was measured to be lost, where the chemistry names none.
// Common practice, no source.
const ohmsPerLoss = 1

func (b Battery) health(kind *battery.Chemistry) (left qty.Fraction, growth float64, err error) {
	switch {
	case b.HealthPct != nil:
		left = qty.Fraction(*b.HealthPct / 100)
		per := kind.Life.OhmsPerLoss
		if per == 0 {
			per = ohmsPerLoss
		}
		return left, 1 + per*float64(1-left), nil
	case b.AgeYears == 0 && b.Cycles == 0:
		return 1, 1, nil
	}
	return kind.Health(b.Use())
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
