package outlook

import (
	"math"

	"duskline/calc/plan"
	"duskline/calc/power"
	"duskline/calc/qty"
)

// What gear on AC does to the inverter. The decision: the battery pays for
// watts, the rating is held against volt-amperes. Those of several devices are
// added as they are; their currents do not crest at quite the same time, so
// the sum errs towards a trip.

// onAC is what a device is to the inverter.
type onAC struct {
	va     float64  // volt-amperes a watt
	extra  qty.Watt // share of its watts that the wave adds
	surgeS float64  // how long its start lasts, s
	given  float64  // share of what it asks for that it gets from an inverter that sleeps now and then
}

func onACOf(g plan.Device, i plan.Inverter) onAC {
	a := onAC{va: 1, given: 1}
	if g.Route != plan.RouteAC {
		return a
	}
	a.va, a.surgeS = 1/g.PowerFactor, g.SurgeS
	if i.RatedW > 0 {
		a.extra = qty.Watt(effectOf(g, i).Extra)
	}
	return a
}

// effectOf returns what the inverter's wave does to a device.
func effectOf(g plan.Device, i plan.Inverter) power.Effect {
	return g.Class().Effect(i.Shape())
}

// A trip is why an inverter gives up.
type trip struct {
	asked, limit float64 // W, VA or s
	kind         tripKind
}

type tripKind uint8

const (
	byWatts tripKind = iota
	byVA             // by watts it would have been carried
	byTime           // the start lasts too long
)

// load trips the inverter if its sockets ask for more than it gives.
//
// Gear that comes and goes asks for its mean, but while it runs it draws more:
// what runs all the time and the greatest single device that comes and goes
// are sure to meet. Devices that start do so one after the other, each with
// its own surge on top of all that runs.
func (w *wants) load(d *demand, air qty.Celsius) {
	var greatest, steady, single float64
	var greatestAt, singleAt int
	for i := range w.devices {
		a := &w.ask[i]
		if w.sockets[i] != ac || !a.Running {
			continue
		}
		va := float64(a.Watts) * w.onAC[i].va
		if va > greatest {
			greatest, greatestAt = va, i
		}
		if duty := float64(w.devices[i].Duty(air)); duty < 1 {
			if one := va / duty / w.counts[i]; one > single {
				single, singleAt = one, i
			}
		} else {
			steady += va
		}
	}
	switch {
	case w.inverter.Trips(qty.Watt(d.acVA)):
		w.trip(d, greatestAt, d.acVA, float64(w.inverter.Rated))
	case w.inverter.Trips(qty.Watt(steady + single)):
		w.trip(d, singleAt, steady+single, float64(w.inverter.Rated))
	default:
		w.start(d)
	}
}

// start trips the inverter if a device that starts asks for too much, or for
// too long; of several such devices it is the one with the greatest surge.
func (w *wants) start(d *demand) {
	worst, at := 0.0, -1
	for i := range w.devices {
		a := &w.ask[i]
		if w.sockets[i] != ac || !a.Running || w.on[i] {
			continue
		}
		surge := float64(w.devices[i].SurgeOver(*a)) * w.onAC[i].va
		if surge > worst && !w.inverter.Starts(qty.Watt(d.acVA+surge), w.onAC[i].surgeS) {
			worst, at = surge, i
		}
	}
	switch {
	case at < 0:
	case d.acVA+worst > float64(w.inverter.Surge):
		w.trip(d, at, d.acVA+worst, float64(w.inverter.Surge))
	default:
		w.trip(d, at, w.onAC[at].surgeS, w.inverter.SurgeSeconds)
		d.trips.kind = byTime
	}
}

func (w *wants) trip(d *demand, device int, asked, limit float64) {
	d.live[ac] = false
	d.tripped, d.trips = device, trip{asked: asked, limit: limit}
	if d.acVA > d.acOut {
		d.trips.kind = byVA
	}
}

// convert finds what the inverter draws. One that sleeps is awake for as long
// as what runs asks for enough: devices that come and go do so each for
// itself, and what is too small to wake it gets power while others do.
func (w *wants) convert(d *demand, air qty.Celsius) {
	if w.inverter.Wake == 0 {
		d.acIn = float64(w.inverter.DrawVA(qty.Watt(d.acOut), d.acVA))
		if d.acOut == 0 {
			d.acIdle = d.acIn
		}
		return
	}
	steady, asleep := 0.0, 1.0 // W that run all the time; share of the time in which nothing wakes it
	for i := range w.devices {
		if w.runsOnAC(i) && w.devices[i].Duty(air) >= 1 {
			steady += float64(w.ask[i].Watts)
		}
	}
	if !w.inverter.Sleeps(qty.Watt(steady)) {
		asleep = 0
	}
	for i := range w.devices {
		w.onAC[i].given = 1
		if duty := float64(w.devices[i].Duty(air)); asleep > 0 && w.wakes(i, duty, steady) {
			asleep *= math.Pow(1-duty, w.counts[i])
		}
	}
	awake := 1 - asleep
	for i := range w.devices {
		a := &w.ask[i]
		if awake < 1 && w.runsOnAC(i) && !w.wakes(i, float64(w.devices[i].Duty(air)), steady) {
			w.onAC[i].given = awake
			d.acOut -= float64(a.Watts) * asleep
			d.acVA -= float64(a.Watts) * w.onAC[i].va * asleep
		}
	}
	d.acIdle = asleep * float64(w.inverter.Sleep)
	d.acIn = d.acIdle
	if awake > 0 {
		d.acIn += awake * float64(w.awake.DrawVA(qty.Watt(d.acOut/awake), d.acVA/awake))
	} else {
		d.acOut, d.acVA = 0, 0 // not a last digit of it
	}
}

func (w *wants) runsOnAC(i int) bool { return w.sockets[i] == ac && w.ask[i].Running }

// wakes says whether one device that comes and goes wakes the inverter, with
// all that runs steadily.
func (w *wants) wakes(i int, duty, steady float64) bool {
	return w.runsOnAC(i) && duty < 1 && !w.inverter.Sleeps(qty.Watt(steady+float64(w.ask[i].Watts)/duty/w.counts[i]))
}
