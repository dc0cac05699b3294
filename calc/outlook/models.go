package outlook

import (
	"time"

	"duskline/calc/battery"
	"duskline/calc/load"
	"duskline/calc/panel"
	"duskline/calc/plan"
	"duskline/calc/power"
	"duskline/calc/qty"
	"duskline/calc/sun"
)

// The document's figures become the models' parameters here and nowhere else.

func placeOf(s plan.Sky) sun.Place {
	return sun.Place{
		Latitude:  qty.Degree(s.LatitudeDeg),
		Longitude: qty.Degree(s.LongitudeDeg),
		Altitude:  qty.Metre(s.AltitudeM),
	}
}

func controllerOf(c plan.Controller) power.Controller {
	kind := power.PWM
	if c.Kind == plan.MPPT {
		kind = power.MPPT
	}
	return power.Controller{
		Kind:       kind,
		Limit:      qty.Ampere(c.LimitA),
		Efficiency: qty.Fraction(c.EfficiencyPct / 100),
		InputMax:   qty.Volt(c.InputMaxV),
		Standby:    qty.Ampere(c.StandbyA),
	}
}

func moduleOf(p plan.Panel) (panel.Module, error) {
	d := p.Datasheet
	if d == nil {
		return panel.FromWatts(qty.Watt(p.RatedW))
	}
	return panel.FromDatasheet(panel.Datasheet{
		Isc:      qty.Ampere(d.IscA),
		Voc:      qty.Volt(d.VocV),
		Imp:      qty.Ampere(d.ImpA),
		Vmp:      qty.Volt(d.VmpV),
		AlphaIsc: d.AlphaIscPctPerK / 100 * d.IscA,
		BetaVoc:  d.BetaVocPctPerK / 100 * d.VocV,
		Cells:    d.Cells,
	})
}

func batteryOf(b plan.Battery) (*battery.Battery, error) {
	chemistry := battery.LiFePO4
	if b.Chemistry == plan.AGM {
		chemistry = battery.AGM
	}
	return battery.New(battery.Spec{
		Chemistry:      chemistry,
		Capacity:       qty.AmpHour(b.CapacityAh),
		Resistance:     qty.Ohm(b.ResistanceMohm / 1000),
		Charge:         qty.Volt(b.ChargeV),
		Alarm:          qty.Volt(b.AlarmV),
		CutOff:         qty.Volt(b.CutoffV),
		Reconnect:      qty.Volt(b.ReconnectV),
		AlarmDelay:     seconds(b.AlarmDelayS),
		CutOffDelay:    seconds(b.CutoffDelayS),
		ReconnectDelay: seconds(b.ReconnectS),
	})
}

func seconds(s float64) time.Duration { return time.Duration(s * float64(time.Second)) }

func switchOf(s plan.Switch) power.Switch {
	switch s {
	case plan.DCAndAC:
		return power.DCAndAC
	case plan.ACOnly:
		return power.ACOnly
	}
	return power.DCOnly
}

func outletOf(o plan.Outlet) power.Outlet {
	return power.Outlet{Standby: qty.Ampere(o.StandbyA), Efficiency: qty.Fraction(o.EfficiencyPct / 100)}
}

// inverterRestVolts turns the inverter's standby amps into watts: the volts
// that plan.Inverter states for the figure.
const inverterRestVolts = 12.8

func inverterOf(i plan.Inverter) (power.Inverter, error) {
	return power.NewInverter(qty.Watt(i.RatedW), qty.Watt(i.SurgeW),
		qty.Power(inverterRestVolts, qty.Ampere(i.StandbyA)), qty.Fraction(i.EfficiencyPct/100))
}

func windowsOf(list []plan.Window) []load.Window {
	out := make([]load.Window, len(list))
	for i, w := range list {
		out[i] = load.Window{From: w.FromH, To: w.ToH}
	}
	return out
}

// deviceOf takes exactly one of power, current and refill, as plan.Check
// demands.
func deviceOf(d plan.Device, mains float64) (load.Device, error) {
	s := load.Spec{
		Count: d.Count,
		Duty:  qty.Fraction(d.DutyPct / 100),
		Surge: qty.Watt(d.SurgeW),
		Hours: windowsOf(d.Hours),
		Mains: qty.Volt(mains),
	}
	switch d.Route {
	case plan.RouteUSB:
		s.Route = load.USB
	case plan.RouteAC:
		s.Route = load.AC
	default:
		s.Route = load.DC
	}
	switch {
	case d.PowerW != nil:
		s.Draw = load.Watts(qty.Watt(*d.PowerW))
	case d.CurrentA != nil:
		s.Draw = load.Amps(qty.Ampere(*d.CurrentA))
	case d.RefillWh != nil:
		s.Draw = load.Refill(qty.WattHour(*d.RefillWh), d.RefillsPerDay, qty.Fraction(d.RefillEfficiencyPct/100))
	}
	if d.DutyAtC != nil && d.InsideC != nil {
		s.Cooler = &load.Cooler{At: qty.Celsius(*d.DutyAtC), Inside: qty.Celsius(*d.InsideC)}
	}
	return load.New(s)
}
