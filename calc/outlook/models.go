package outlook

import (
	"duskline/calc/load"
	"duskline/calc/plan"
	"duskline/calc/power"
	"duskline/calc/qty"
)

// What plan does not make into a model itself, because it checks it field by
// field, becomes one here.

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

func windowsOf(list []plan.Window) []load.Window {
	out := make([]load.Window, len(list))
	for i, w := range list {
		out[i] = load.Window{From: w.FromH, To: w.ToH}
	}
	return out
}
