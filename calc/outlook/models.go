package outlook

import (
	"slices"

	"duskline/calc/load"
	"duskline/calc/plan"
	"duskline/calc/power"
	"duskline/calc/qty"
)

// What plan does not make into a model itself, because it checks it field by
// field, becomes one here.

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

func wallOf(w plan.WallCharger) power.WallCharger {
	return power.WallCharger{
		Current:    qty.Ampere(w.CurrentA),
		Efficiency: qty.Fraction(w.EfficiencyPct / 100),
		InputMin:   qty.Volt(w.InputMinV),
		InputMax:   qty.Volt(w.InputMaxV),
	}
}

func vehicleOf(v *plan.VehicleCharger) power.VehicleCharger {
	if v == nil {
		return power.VehicleCharger{}
	}
	return power.VehicleCharger{
		Current:    qty.Ampere(v.CurrentA),
		Efficiency: qty.Fraction(v.EfficiencyPct / 100),
		Socket:     qty.Ampere(v.SocketA),
	}
}

func windowsOf(list []plan.Window) []load.Window {
	out := make([]load.Window, len(list))
	for i, w := range list {
		out[i] = load.Window{From: w.FromH, To: w.ToH}
	}
	return out
}

// nightMoreOf returns by how many amps the controller's draw changes while the
// panels give nothing.
func nightMoreOf(c plan.Controller) float64 {
	if c.NightA == nil {
		return 0
	}
	return *c.NightA - c.StandbyA
}

// edgesOf returns the local hours of the day at which a Plan switches
// something, in order: 0 up to 24.
func edgesOf(p plan.Plan) []float64 {
	var hours []float64
	add := func(list []plan.Window) {
		for _, w := range list {
			for _, h := range []float64{w.FromH, w.ToH} {
				if h == 24 {
					h = 0
				}
				hours = append(hours, h)
			}
		}
	}
	for _, g := range p.Gear {
		add(g.Hours)
	}
	if p.Case.Inverter.RatedW > 0 {
		add(p.Case.InverterHours)
	}
	if p.Case.WallCharger.CurrentA > 0 {
		add(p.Trip.WallHours)
		add(p.Trip.GeneratorHours)
	}
	if p.Case.Vehicle != nil {
		add(p.Trip.EngineHours)
	}
	slices.Sort(hours)
	return slices.Compact(hours)
}
