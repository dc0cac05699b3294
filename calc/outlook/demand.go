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
	fresh    []bool          // whether it starts now
	refills  [][]load.Window // the hours of devices that refill a battery of their own; none for others
	old      []float64       // h by which the clock that a refill still goes by is ahead of the clock; nil: it was not moved yet
	dc, usb  power.Outlet
	fitted   bool // there is an inverter
	inverter power.Inverter
	awake    power.Inverter // the same, for as long as it does not sleep
	down     bool           // it shut itself off for want of volts
	onAC     []onAC         // one a device
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
	acVA                float64 // what the inverter's rating is held against
	acIdle              float64 // W of acIn that the inverter takes while no gear on AC draws
	standbyDC           float64 // A
	standbyUSB          float64 // A
	live                [3]bool // DC, USB, AC sockets have power
	trips               trip
	tripped             int // device that trips the inverter, or -1
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
		fresh:   make([]bool, len(p.Gear)),
		refills: make([][]load.Window, len(p.Gear)),
		dc:      p.Case.DC.Model(),
		usb:     p.Case.USB.Model(),
		fitted:  p.Case.Inverter.RatedW > 0,
		hours:   windowsOf(p.Case.InverterHours),
		at:      switchOf(p.Case.Switch),
		own:     p.Case.Meters.StandbyA + p.Case.Controller.StandbyA,
		onAC:    make([]onAC, len(p.Gear)),
	}
	if w.fitted {
		var err error
		if w.inverter, err = p.Case.Inverter.Model(); err != nil {
			return nil, err
		}
		w.awake = w.inverter
		w.awake.Wake = 0
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
		w.onAC[i] = onACOf(g, p.Case.Inverter)
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
	if w.down { // until it is switched off, or comes back by itself
		w.down = d.live[ac]
		d.live[ac] = false
	}

	for i := range w.devices {
		h := hour
		if w.old != nil {
			h = w.hourOf(i, hour)
		}
		a := w.devices[i].Demand(h, air)
		if extra := w.onAC[i].extra; extra != 0 {
			a.Watts += a.Watts * extra
		}
		w.ask[i] = a
		switch w.sockets[i] {
		case dc:
			d.dcOut += float64(a.Watts)
			d.dcAmps += float64(a.Amps)
		case usb:
			d.usbOut += float64(a.Watts)
		case ac:
			d.acOut += float64(a.Watts)
			d.acVA += float64(a.Watts) * w.onAC[i].va
		}
	}
	if d.live[ac] {
		w.load(&d, air)
	}
	if d.live[ac] {
		w.convert(&d, air)
	}
	for i := range w.devices {
		on := w.ask[i].Running && d.live[w.sockets[i]] && w.onAC[i].given > 0
		w.on[i], w.fresh[i] = on, on && !w.on[i]
	}
	w.bus(&d)
	return d
}

// unplug forgets what has started: all gear starts anew when power is back,
// and so does the inverter.
func (w *wants) unplug() {
	clear(w.on)
	w.down = false
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
	d.watts = d.dcIn + d.usbIn + d.acIn
}
