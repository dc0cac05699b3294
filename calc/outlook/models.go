package outlook

import (
	"slices"

	"duskline/calc/load"
	"duskline/calc/plan"
	"duskline/calc/power"
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

func windowsOf(list []plan.Window) []load.Window {
	out := make([]load.Window, len(list))
	for i, w := range list {
		out[i] = load.Window{From: w.FromH, To: w.ToH}
	}
	return out
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
