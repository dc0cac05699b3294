package care

import (
	"math"
	"sort"

	"duskline/calc/battery"
	"duskline/calc/load"
	"duskline/calc/plan"
	"duskline/calc/power"
	"duskline/calc/qty"
)

// What the gear of a plan takes out of the battery. The decision: no hour of a
// trip is followed here, only the day cut at the hours at which something
// switches; of its pieces the mean is the usual draw and the heaviest the
// largest. Devices, outlets and inverter are the plan's own models.

// A bus draws; it serves battery.Bus. Nothing charges unless given says so.
type bus struct {
	watts, amps float64
	given       float64 // A, of a charger
}

// Net returns the amps into the battery at v volts.
func (d *bus) Net(v float64) float64 { return d.given - d.amps - d.watts/v }

// A pull is a draw, and what of it goes when the inverter shuts itself off.
type pull struct {
	watts, amps float64
	ac          float64 // W of watts
}

func (d pull) draw() Draw { return Draw{Watts: qty.Watt(d.watts), Amps: qty.Ampere(d.amps)} }

// sockets
const (
	dc = iota
	usb
	ac
)

// A device as the battery sees it.
type device struct {
	model  load.Device // with its duty
	flat   load.Device // as long as it runs
	socket int
	va     float64 // volt-amperes a watt
	extra  float64 // share of its watts that the inverter's wave adds
	count  float64
	surgeS float64
	life   bool
}

// A piece is a part of the day in which nothing switches.
type piece struct {
	hours  float64
	middle float64 // local hour
	ac     bool    // the inverter is on
	runs   bool    // some gear that has power runs
}

// A house is the Case with its battery and gear, ready to be asked.
type house struct {
	p        *plan.Plan
	battery  *battery.Battery
	spec     battery.Spec
	devices  []device
	pieces   []piece
	spare    []moment // of a course that is done
	cuts     []cut
	dcOn     bool
	dc, usb  power.Outlet
	inverter power.Inverter
	fitted   bool
	own      float64 // A, meters and controller by night
	standing pull    // with nothing plugged in, the inverter on where the switch feeds it
	warm     qty.Celsius
	mean     qty.Celsius
	cold     qty.Celsius
}

func newHouse(p *plan.Plan) (*house, error) {
	b, err := p.Case.Battery.Model()
	if err != nil {
		return nil, err
	}
	st, err := p.Case.Standing()
	if err != nil {
		return nil, err
	}
	at := switchOf(p.Case.Switch)
	h := &house{
		p: p, battery: b, spec: b.Spec(), dc: st.DC, usb: st.USB, inverter: st.Inverter, fitted: st.Fitted && at.AC(),
		dcOn: at.DC(), own: float64(st.Meters + st.Night),
	}
	h.mean, h.cold, h.warm = airOf(p)
	h.cuts = append(h.cuts, cut{h.spec.CutOff, h.spec.CutOffDelay.Seconds()})
	if g := p.Case.Battery.Protection; g != nil {
		h.cuts = append(h.cuts, cut{qty.Volt(g.UnderV), g.VoltsDelayS})
	}
	h.standing = pull{amps: h.own}
	if h.dcOn {
		h.standing.amps += float64(st.DC.Standby + st.USB.Standby)
	}
	if h.fitted {
		h.standing.ac = float64(st.Inverter.Draw(0))
		h.standing.watts = h.standing.ac
	}
	for _, g := range p.Gear {
		d := device{count: float64(g.Count), va: 1, surgeS: g.SurgeS, life: g.LifeSupport}
		if d.model, err = g.Model(p.Case.Inverter.OutputV); err != nil {
			return nil, err
		}
		all := g
		if all.RefillWh == nil {
			all.DutyPct, all.DutyAtC, all.InsideC = 100, nil, nil
		}
		if d.flat, err = all.Model(p.Case.Inverter.OutputV); err != nil {
			return nil, err
		}
		switch g.Route {
		case plan.RouteUSB:
			d.socket = usb
		case plan.RouteAC:
			d.socket, d.va = ac, 1/g.PowerFactor
			if st.Fitted {
				d.extra = float64(g.Class().Effect(p.Case.Inverter.Shape()).Extra)
			}
		}
		h.devices = append(h.devices, d)
	}
	h.pieceUp()
	return h, nil
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

// airOf returns the mean of the trip's air, its coldest and its warmest.
func airOf(p *plan.Plan) (mean, cold, warm qty.Celsius) {
	w := p.Sky.WeatherFile
	if p.Sky.Light != plan.ByWeatherFile || w == nil || len(w.AirC) == 0 {
		cold, warm = qty.Celsius(p.Sky.ColdestC), qty.Celsius(p.Sky.WarmestC)
		return (cold + warm) / 2, cold, warm
	}
	from := p.Trip.Start.Sub(w.Start).Hours()
	sum, n := 0.0, 0.0
	low, high := math.Inf(1), math.Inf(-1)
	for i, c := range w.AirC {
		if h := float64(i); h+1 < from || h > from+p.Trip.LengthH {
			continue
		}
		sum, n = sum+c, n+1
		low, high = min(low, c), max(high, c)
	}
	if n == 0 {
		cold, warm = qty.Celsius(p.Sky.ColdestC), qty.Celsius(p.Sky.WarmestC)
		return (cold + warm) / 2, cold, warm
	}
	return qty.Celsius(sum / n), qty.Celsius(low), qty.Celsius(high)
}

// pieceUp cuts the day.
func (h *house) pieceUp() {
	hours := []float64{0, 24}
	add := func(list []plan.Window) {
		for _, w := range list {
			hours = append(hours, w.FromH, w.ToH)
		}
	}
	for i := range h.p.Gear {
		add(h.p.Gear[i].Hours)
	}
	if h.fitted {
		add(h.p.Case.InverterHours)
	}
	sort.Float64s(hours)
	on := make([]load.Window, 0, len(h.p.Case.InverterHours))
	for _, w := range h.p.Case.InverterHours {
		on = append(on, load.Window{From: w.FromH, To: w.ToH})
	}
	for k := 1; k < len(hours); k++ {
		c := piece{hours: hours[k] - hours[k-1], middle: (hours[k] + hours[k-1]) / 2}
		if c.hours < 1e-6 {
			continue
		}
		c.ac = h.fitted && load.In(on, c.middle)
		for i := range h.devices {
			d := &h.devices[i]
			if h.live(d, c) && d.model.On(c.middle) && d.model.Duty(h.mean) > 0 {
				c.runs = true
				break
			}
		}
		h.pieces = append(h.pieces, c)
	}
}

// live says whether a device's socket has power in a piece.
func (h *house) live(d *device, c piece) bool {
	if d.socket == ac {
		return c.ac
	}
	return h.dcOn
}

// A sum is what the sockets give in a piece.
type sum struct {
	dc, dcAmps, usb, ac, va float64
	steady                  float64 // W of ac that run all the time
	asleep                  float64 // share of the time in which nothing wakes the inverter
}

// add puts in n times a demand, on top of what is there.
func (s *sum) add(d *device, a load.Demand, n float64) {
	w := float64(a.Watts) * n
	switch d.socket {
	case dc:
		s.dc += w
		s.dcAmps += float64(a.Amps) * n
	case usb:
		s.usb += w
	case ac:
		w *= 1 + d.extra
		s.ac += w
		s.va += w * d.va
	}
}

// clip leaves of a sum what the inverter gives for any time.
func (h *house) clip(s *sum) {
	if h.inverter.Trips(qty.Watt(s.va)) {
		share := float64(h.inverter.Rated) / s.va
		s.ac, s.va = s.ac*share, s.va*share
	}
}

// pull carries a sum through the converters; on: the inverter is.
func (h *house) pull(s *sum, on bool) pull {
	d := pull{amps: h.own}
	if h.dcOn {
		d.watts = float64(h.dc.Draw(qty.Watt(s.dc)) + h.usb.Draw(qty.Watt(s.usb)))
		d.amps += s.dcAmps/float64(h.dc.Efficiency) + float64(h.dc.Standby+h.usb.Standby)
	}
	if on {
		d.ac = h.converted(s)
		d.watts += d.ac
	}
	return d
}

// converted is what the inverter draws. One that sleeps is awake only while
// something wakes it.
func (h *house) converted(s *sum) float64 {
	i := h.inverter
	if i.Wake == 0 || s.asleep == 0 || !i.Sleeps(qty.Watt(s.steady)) {
		i.Wake = 0
		return float64(i.DrawVA(qty.Watt(s.ac), s.va))
	}
	awake := 1 - s.asleep
	if awake == 0 {
		return float64(i.Sleep)
	}
	i.Wake = 0
	return s.asleep*float64(h.inverter.Sleep) + awake*float64(i.DrawVA(qty.Watt(s.ac/awake), s.va/awake))
}

// usual returns the mean draw of the gear over the hours of the day in which
// any of it runs, without the devices that off names; of a Case without gear,
// what it draws itself. during, if it is not negative, counts only the hours
// in which that device may run, and leaves it out.
func (h *house) usual(off []bool, during int) pull {
	var all pull
	hours := 0.0
	for _, c := range h.pieces {
		if !c.runs || during >= 0 && !h.devices[during].model.On(c.middle) {
			continue
		}
		s := sum{asleep: 1}
		for i := range h.devices {
			d := &h.devices[i]
			if i == during || off != nil && off[i] || !h.live(d, c) {
				continue
			}
			a := d.model.Demand(c.middle, h.mean)
			if !a.Running {
				continue
			}
			s.add(d, a, 1)
			if d.socket == ac {
				h.wakes(&s, d, a)
			}
		}
		on := c.ac && (off == nil || !off[len(h.devices)]) && !h.inverter.Trips(qty.Watt(s.va))
		one := h.pull(&s, on)
		all.watts += one.watts * c.hours
		all.amps += one.amps * c.hours
		all.ac += one.ac * c.hours
		hours += c.hours
	}
	if hours == 0 {
		return h.standing
	}
	return pull{watts: all.watts / hours, amps: all.amps / hours, ac: all.ac / hours}
}

// wakes counts a running device on AC for an inverter that sleeps.
func (h *house) wakes(s *sum, d *device, a load.Demand) {
	duty := float64(d.model.Duty(h.mean))
	w := float64(a.Watts) * (1 + d.extra)
	switch {
	case duty >= 1:
		s.steady += w
	case !h.inverter.Sleeps(qty.Watt(w / duty / d.count)):
		s.asleep *= math.Pow(1-duty, d.count)
	}
}

// largest returns the draw of the hour in which the gear that may run at once
// draws the most, and the middle of that hour's piece.
func (h *house) largest() (most pull, at piece) {
	most = h.standing
	for _, c := range h.pieces {
		if !c.runs {
			continue
		}
		d := h.together(c, -1)
		if d.watts+d.amps*12 > most.watts+most.amps*12 || at.hours == 0 {
			most, at = d, c
		}
	}
	return most, at
}

// together is the draw of all gear that may run in a piece, running: on AC no
// more than the inverter gives. starts, if it is not negative, is a device that
// starts on top of that.
func (h *house) together(c piece, starts int) pull {
	var s sum
	for i := range h.devices {
		if d := &h.devices[i]; h.live(d, c) && d.model.On(c.middle) && d.model.Duty(h.warm) > 0 {
			s.add(d, d.flat.Demand(c.middle, h.warm), 1)
		}
	}
	h.clip(&s)
	if starts >= 0 {
		h.start(&s, starts, c.middle)
	}
	return h.pull(&s, c.ac)
}

// start adds what one device takes more than its running draw as it starts.
// One that trips the inverter takes nothing then.
func (h *house) start(s *sum, i int, hour float64) {
	d := &h.devices[i]
	a := d.flat.Demand(hour, h.warm)
	a.Watts *= qty.Watt(1 + d.extra)
	over := float64(d.flat.SurgeOver(a))
	switch {
	case d.socket == dc:
		s.dc += over
	case d.socket == usb:
		s.usb += over
	case h.inverter.Starts(qty.Watt(s.va+over*d.va), d.surgeS):
		s.ac += over
		s.va += over * d.va
	}
}
