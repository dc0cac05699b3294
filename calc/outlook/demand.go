package outlook

import (
	"duskline/calc/load"
	"duskline/calc/plan"
	"duskline/calc/power"
	"duskline/calc/qty"
)

// wants is the gear with the Case's outlets: what is asked for, what the
// outlets pass on, and what they and the Case take for themselves.
type wants struct {
	devices  []load.Device
	routes   []plan.Route
	ask      []load.Demand // of the step, one a device
	on       []bool        // whether the device ran in the step before
	dc, usb  power.Outlet
	inverter power.Inverter
	fitted   bool // there is an inverter
	hours    []load.Window
	at       power.Switch
	own      float64 // A, meters and controller, always
}

// demand is one step's draw, for a Case whose outlets are connected.
type demand struct {
	watts, amps float64 // at the battery bus: constant power, constant current

	dcOut, dcAmps, dcIn float64 // at the DC sockets W and A; at the bus W
	usbOut, usbIn       float64
	acOut, acIn         float64
	standbyDC           float64 // A
	standbyUSB          float64 // A
	live                [3]bool // DC, USB, AC sockets have power
	tripped             int     // device that trips the inverter, or -1
	asked               float64 // W asked of the inverter when it trips
	limit               float64 // W it can give
}

const (
	dc = iota
	usb
	ac
)

func socket(r plan.Route) int {
	switch r {
	case plan.RouteUSB:
		return usb
	case plan.RouteAC:
		return ac
	}
	return dc
}

func newWants(p plan.Plan) (*wants, error) {
	w := &wants{
		routes: make([]plan.Route, len(p.Gear)),
		ask:    make([]load.Demand, len(p.Gear)),
		on:     make([]bool, len(p.Gear)),
		dc:     outletOf(p.Case.DC),
		usb:    outletOf(p.Case.USB),
		fitted: p.Case.Inverter.RatedW > 0,
		hours:  windowsOf(p.Case.InverterHours),
		at:     switchOf(p.Case.Switch),
		own:    p.Case.Meters.StandbyA + p.Case.Controller.StandbyA,
	}
	if w.fitted {
		var err error
		if w.inverter, err = p.Case.Inverter.Model(); err != nil {
			return nil, err
		}
	}
	for i, g := range p.Gear {
		d, err := g.Model(p.Case.Inverter.OutputV)
		if err != nil {
			return nil, err
		}
		w.devices = append(w.devices, d)
		w.routes[i] = g.Route
	}
	return w, nil
}

// step fills w.ask for a local hour and returns what the sockets draw.
func (w *wants) step(hour float64, air qty.Celsius) demand {
	d := demand{tripped: -1}
	d.live[dc], d.live[usb] = w.at.DC(), w.at.DC()
	d.live[ac] = w.fitted && w.at.AC() && load.In(w.hours, hour)

	var greatest, surge float64
	var greatestAt, surgeAt int
	for i := range w.devices {
		a := w.devices[i].Demand(hour, air)
		w.ask[i] = a
		watts := float64(a.Watts)
		switch socket(w.routes[i]) {
		case dc:
			d.dcOut += watts
			d.dcAmps += float64(a.Amps)
		case usb:
			d.usbOut += watts
		case ac:
			d.acOut += watts
			if watts > greatest {
				greatest, greatestAt = watts, i
			}
		}
	}
	if d.live[ac] {
		// Devices that start in this step start one after the other, each
		// with its own surge on top of all that runs.
		for i := range w.devices {
			starts := w.ask[i].Running && !w.on[i]
			if s := float64(w.devices[i].SurgeOver(w.ask[i])); starts && w.routes[i] == plan.RouteAC && s > surge {
				surge, surgeAt = s, i
			}
		}
		if w.inverter.Trips(qty.Watt(d.acOut)) {
			d.trip(greatestAt, d.acOut, float64(w.inverter.Rated))
		} else if surge > 0 && !w.inverter.Starts(qty.Watt(d.acOut+surge)) {
			d.trip(surgeAt, d.acOut+surge, float64(w.inverter.Surge))
		}
	}
	for i := range w.devices {
		w.on[i] = w.ask[i].Running
	}
	w.bus(&d)
	return d
}

func (d *demand) trip(device int, asked, limit float64) {
	d.live[ac] = false
	d.tripped, d.asked, d.limit = device, asked, limit
}

// bus carries the sockets' draw through the converters.
func (w *wants) bus(d *demand) {
	d.amps = w.own
	if d.live[dc] {
		d.dcIn = float64(w.dc.Draw(qty.Watt(d.dcOut)))
		d.standbyDC = float64(w.dc.Standby)
		d.amps += d.dcAmps/float64(w.dc.Efficiency) + d.standbyDC
	}
	if d.live[usb] {
		d.usbIn = float64(w.usb.Draw(qty.Watt(d.usbOut)))
		d.standbyUSB = float64(w.usb.Standby)
		d.amps += d.standbyUSB
	}
	if d.live[ac] {
		d.acIn = float64(w.inverter.Draw(qty.Watt(d.acOut)))
	}
	d.watts = d.dcIn + d.usbIn + d.acIn
}

// cut is the same step with every outlet disconnected: only the Case's own
// draw is left, or not even that when the battery is empty.
func (w *wants) cut(empty bool) demand {
	d := demand{tripped: -1}
	if !empty {
		d.amps = w.own
	}
	return d
}
