package outlook

import (
	"math"

	"duskline/calc/battery"
	"duskline/calc/qty"
)

// books are the sums that become the Ledger, in W·h.
type books struct {
	start qty.WattHour

	sun, wall           float64
	generator, vehicle  float64
	gear                []float64
	asked               []float64
	controller, charger float64
	vehicleLoss         float64
	inverter, idle      float64
	dcOutlet, usbOutlet float64
	meters              float64
	heat, charging      float64
	standing            float64 // self-discharge
	gas                 float64 // A·h that only made gas
	spare, cold, beyond float64 // sun not taken: by a battery that had enough, by a cold one, by the controller
	drawn               float64 // left the battery bus
	trip                tripNote
	asleep              sleepNote
	unserved            []bool
	noPower             []bool
}

// tripNote is the first trip of the inverter.
type tripNote struct {
	trip
	device  int
	at      float64
	tripped bool
}

// sleepNote is the first device that was too small to wake the inverter.
type sleepNote struct {
	seen   bool
	device int
	watts  float64
}

func (b *books) sleep(device int, watts float64) {
	if !b.asleep.seen {
		b.asleep = sleepNote{true, device, watts}
	}
}

func (b *books) open(devices int, stored qty.WattHour) {
	b.start = stored
	b.gear, b.asked = make([]float64, devices), make([]float64, devices)
	b.unserved, b.noPower = make([]bool, devices), make([]bool, devices)
}

// ask notes, at the start of a stretch, which gear finds its outlet dead.
func (b *books) ask(r *runner) {
	for i := range r.wants.ask {
		a := &r.wants.ask[i]
		if !a.Running {
			continue
		}
		if (a.Watts > 0 || a.Amps > 0) && !r.on.live[r.wants.sockets[i]] {
			b.unserved[i] = true
			if r.on.tripped < 0 && !r.wants.down || r.wants.sockets[i] != ac {
				b.noPower[i] = true
			}
		} else if r.wants.onAC[i].given < 1 && a.Watts > 0 {
			b.unserved[i] = true
			b.sleep(i, float64(a.Watts))
		}
	}
	if r.connected && r.on.tripped >= 0 && !b.trip.tripped {
		b.trip = tripNote{r.on.trips, r.on.tripped, r.now, true}
	}
}

// post books a part of a step of h seconds at v volts.
func (b *books) post(r *runner, st battery.Step, got share, v, seconds float64) {
	h := seconds / 3600
	b.sun += got.panelWatts * h
	b.controller += (got.panelWatts - got.sun*v) * h
	if got.fixed > 0 {
		b.postFixed(r, got.fixed, v, h)
	}
	b.heat += float64(st.Heat)
	b.charging += float64(st.ChargeLoss)
	b.standing += float64(st.Standing)
	b.gas += float64(st.Gas) * h
	if st.Refused {
		b.cold += got.spareWatts * h
	} else {
		b.spare += got.spareWatts * h
	}
	b.beyond += got.beyondWatts * h
	b.drawn += r.bus.out(v) * v * h

	for i := range r.wants.ask {
		a := &r.wants.ask[i]
		if !a.Running {
			continue
		}
		wh := (float64(a.Watts) + float64(a.Amps)*v) * h
		b.asked[i] += wh
		switch {
		case !r.connected:
			b.unserved[i] = b.unserved[i] || wh > 0
		case r.on.live[r.wants.sockets[i]]:
			b.gear[i] += wh * r.wants.onAC[i].given
		}
	}
	if r.connected || !r.empty && !r.faint && !r.shut { // else the electronics are off
		b.controller += (r.p.Case.Controller.StandbyA + r.more) * v * h
		b.meters += r.p.Case.Meters.StandbyA * v * h
	}
	if !r.connected {
		return
	}
	d := &r.on
	if d.live[dc] {
		b.dcOutlet += (d.dcIn - d.dcOut + (d.dcAmps/float64(r.wants.dc.Efficiency)-d.dcAmps)*v + d.standbyDC*v) * h
	}
	if d.live[usb] {
		b.usbOutlet += (d.usbIn - d.usbOut + d.standbyUSB*v) * h
	}
	if d.live[ac] {
		b.inverter += (d.acIn - d.acIdle - d.acOut) * h
		b.idle += d.acIdle * h
	}
}

// open says that a Ledger does not close; a billionth is for a Case in which
// nothing flows at all.
func (l *Ledger) open() bool {
	return !(math.Abs(float64(l.Gap)) <= 0.001*float64(l.Turnover)+1e-9)
}

// ledger closes the books.
func (r *runner) ledger() Ledger {
	b := &r.books
	// A battery that does little more than stand in the cold may take a little
	// heat from around it: that is off what it loses by itself.
	if b.heat < 0 {
		least := math.Min(-b.heat, b.standing)
		b.heat, b.standing = b.heat+least, b.standing-least
	}
	flow := func(name FlowName, wh float64) Flow { return Flow{name, -1, qty.WattHour(wh)} }
	l := Ledger{
		Sources: append([]Flow{flow(SunFlow, b.sun), flow(WallFlow, b.wall)}, r.otherSources()...),
		Losses: []Flow{
			flow(ControllerLoss, b.controller), flow(ChargerLoss, b.charger),
			flow(InverterLoss, b.inverter), flow(InverterIdle, b.idle),
			flow(DCLoss, b.dcOutlet), flow(USBLoss, b.usbOutlet), flow(MetersLoss, b.meters),
			flow(BatteryHeat, b.heat), flow(BatteryCharging, b.charging),
			flow(BatteryStanding, b.standing),
		},
		Change:   r.battery.Energy(r.state.Charge) - b.start,
		NotTaken: qty.WattHour(b.spare + b.cold + b.beyond),
	}
	if r.others.vehicle.Current > 0 {
		l.Losses = append(l.Losses, flow(VehicleLoss, b.vehicleLoss))
	}
	for i, wh := range b.gear {
		l.Uses = append(l.Uses, Flow{GearFlow, i, qty.WattHour(wh)})
		l.NotGiven += qty.WattHour(math.Max(0, b.asked[i]-wh))
	}
	var in, out qty.WattHour
	for _, f := range l.Sources {
		in += f.Energy
	}
	for _, list := range [][]Flow{l.Uses, l.Losses} {
		for _, f := range list {
			out += f.Energy
		}
	}
	l.Turnover = in + max(0, -l.Change)
	l.Gap = in - out - l.Change
	return l
}
