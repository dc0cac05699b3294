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
	sockets  []int // dc, usb or ac, one a device
	coolers  bool  // some ask for more when it is hot
	counts   []float64
	ask      []load.Demand   // of the stretch, one a device
	on       []bool          // whether the device has started and has had power since
	refills  [][]load.Window // the hours of devices that refill a battery of their own; none for others
	old      []float64       // h by which the clock that a refill still goes by is ahead of the clock; nil: it was not moved yet
	dc, usb  power.Outlet
	inverter power.Inverter
	fitted   bool // there is an inverter
	hours    []load.Window
	at       power.Switch
	own      float64 // A, meters and controller, always
}

// demand is one stretch's draw, for a Case whose outlets are connected.
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
		sockets: make([]int, len(p.Gear)),
		ask:     make([]load.Demand, len(p.Gear)),
		on:      make([]bool, len(p.Gear)),
		refills: make([][]load.Window, len(p.Gear)),
		dc:      outletOf(p.Case.DC),
		usb:     outletOf(p.Case.USB),
		fitted:  p.Case.Inverter.RatedW > 0,
		hours:   windowsOf(p.Case.InverterHours),
		at:      switchOf(p.Case.Switch),
		own:     p.Case.Meters.StandbyA + p.Case.Controller.StandbyA,
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
		w.sockets[i] = socket(g.Route)
		w.coolers = w.coolers || g.DutyAtC != nil
		w.counts = append(w.counts, float64(g.Count))
		if g.RefillWh != nil {
			w.refills[i] = windowsOf(g.Hours)
		}
	}
	return w, nil
}

// step fills w.ask for a local hour and returns what the sockets draw.
func (w *wants) step(hour float64, air qty.Celsius) demand {
	d := demand{tripped: -1}
	d.live[dc], d.live[usb] = w.at.DC(), w.at.DC()
	d.live[ac] = w.fitted && w.at.AC() && load.In(w.hours, hour)

	for i := range w.devices {
		h := hour
		if w.old != nil {
			h = w.hourOf(i, hour)
		}
		a := w.devices[i].Demand(h, air)
		w.ask[i] = a
		switch w.sockets[i] {
		case dc:
			d.dcOut += float64(a.Watts)
			d.dcAmps += float64(a.Amps)
		case usb:
			d.usbOut += float64(a.Watts)
		case ac:
			d.acOut += float64(a.Watts)
		}
	}
	if d.live[ac] {
		w.load(&d, air)
	}
	for i := range w.devices {
		w.on[i] = w.ask[i].Running && d.live[w.sockets[i]]
	}
	w.bus(&d)
	return d
}

// load trips the inverter if its sockets ask for more than it gives.
//
// Gear that comes and goes asks for its mean, but while it runs it draws more:
// what runs all the time and the greatest single device that comes and goes
// are sure to meet. Devices that start do so one after the other, each with
// its own surge on top of all that runs.
func (w *wants) load(d *demand, air qty.Celsius) {
	var greatest, steady, single, surge float64
	var greatestAt, singleAt, surgeAt int
	for i := range w.devices {
		a := &w.ask[i]
		if w.sockets[i] != ac || !a.Running {
			continue
		}
		watts := float64(a.Watts)
		if watts > greatest {
			greatest, greatestAt = watts, i
		}
		if duty := float64(w.devices[i].Duty(air)); duty < 1 {
			if one := watts / duty / w.counts[i]; one > single {
				single, singleAt = one, i
			}
		} else {
			steady += watts
		}
		if s := float64(w.devices[i].SurgeOver(*a)); !w.on[i] && s > surge {
			surge, surgeAt = s, i
		}
	}
	switch rated := w.inverter.Rated; {
	case w.inverter.Trips(qty.Watt(d.acOut)):
		d.trip(greatestAt, d.acOut, float64(rated))
	case w.inverter.Trips(qty.Watt(steady + single)):
		d.trip(singleAt, steady+single, float64(rated))
	case surge > 0 && !w.inverter.Starts(qty.Watt(d.acOut+surge), 0):
		d.trip(surgeAt, d.acOut+surge, float64(w.inverter.Surge))
	}
}

// unplug forgets what has started: all gear starts anew when power is back.
func (w *wants) unplug() { clear(w.on) }

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

// cut returns the amps drawn with every outlet disconnected: the Case's own,
// or not even those when the battery is empty.
func (w *wants) cut(empty bool) float64 {
	if empty {
		return 0
	}
	return w.own
}
