package planning

import "duskline/calc/plan"

// A kind is a device to start from. The figures are common practice, no
// source: middle values that people are asked to replace by their own.
type kind struct {
	key    string // catalogue key behind "kind."
	device func(name string) plan.Device
}

// kinds lists them, the empty one last.
var kinds = []kind{
	{"phone", refill(plan.RouteUSB, 14, plan.Window{FromH: 20, ToH: 23})},
	{"tablet", refill(plan.RouteUSB, 28, plan.Window{FromH: 19, ToH: 23})},
	{"laptop", supply(refill(plan.RouteAC, 55, plan.Window{FromH: 9, ToH: 12}))},
	{"camera", refill(plan.RouteUSB, 16, plan.Window{FromH: 12, ToH: 15})},
	{"lamp", watts(plan.RouteUSB, 5, plan.Window{FromH: 19, ToH: 23})},
	{"cooler", cooler},
	{"fan", watts(plan.RouteDC, 15, plan.Window{FromH: 22, ToH: 6})},
	{"radio", watts(plan.RouteDC, 8, plan.Window{FromH: 7, ToH: 19})},
	{"router", watts(plan.RouteDC, 10, plan.Window{FromH: 0, ToH: 24})},
	{"projector", supply(watts(plan.RouteAC, 60, plan.Window{FromH: 20, ToH: 22}))},
	{"empty", watts(plan.RouteDC, 10, plan.Window{FromH: 18, ToH: 22})},
}

func watts(route plan.Route, w float64, hours plan.Window) func(string) plan.Device {
	return func(name string) plan.Device {
		d, own := plan.NewDevice(name, route, hours), w
		d.PowerW = &own
		return d
	}
}

func refill(route plan.Route, wh float64, hours plan.Window) func(string) plan.Device {
	return func(name string) plan.Device {
		d, own := plan.NewDevice(name, route, hours), wh
		d.RefillWh, d.RefillsPerDay = &own, 1
		return d
	}
}

// supply marks a device that takes its AC through a charger or power supply.
func supply(make func(string) plan.Device) func(string) plan.Device {
	return func(name string) plan.Device {
		d := make(name)
		d.Sensitivity = plan.SensitivityCharger
		return d
	}
}

// cooler is a small compressor cooler: its duty follows the heat outside.
func cooler(name string) plan.Device {
	d := plan.NewDevice(name, plan.RouteDC, plan.Window{FromH: 0, ToH: 24})
	w, outside, inside := 45.0, 25.0, 5.0
	d.PowerW, d.DutyPct, d.DutyAtC, d.InsideC, d.SurgeW = &w, 35, &outside, &inside, 100
	return d
}
