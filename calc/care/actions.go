package care

import (
	"time"

	"duskline/calc/outlook"
	"duskline/calc/qty"
)

// What to do between alarm and cut-off. The decision: first what protects a
// person, then a charger, because whoever can charge loses nothing; then, for
// those who cannot, what saves the most watts first, each put to the simulation
// on top of those before it. What wins no time is not told.

// ActionCode is something to do once the alarm has sounded.
type ActionCode string

// What to do, in the order in which it is told. Nothing takes power from a
// device that somebody's life hangs on.
const (
	DoBackup      ActionCode = "backup"       // Device is life support: move it to its backup now
	DoCharge      ActionCode = "charge"       // plug in the stronger of wall and vehicle charger, the wall's at a generator, too, counted alone, with all still on; of a plan with panels alone, lay them towards the sun: Watts 0, as nothing is known of the light then
	DoSwitchOff   ActionCode = "switch_off"   // Device, of those that may go the one that saves the most
	DoDCOnly      ActionCode = "dc_only"      // main switch to DC: what is left on AC goes off with the inverter
	DoInverterOff ActionCode = "inverter_off" // likewise, where the switch feeds the inverter alone
	DoStop        ActionCode = "stop"         // all the rest off, but for life support
	DoAwaitSun    ActionCode = "await_sun"    // instead of DoCharge, of a plan with panels alone by night: they give nothing for Dark minutes; Total against it says whether the battery lasts till then
)

// An Action is one thing to do, on top of those before it but for DoCharge:
// that is for who can, the rest for who cannot.
type Action struct {
	Code    ActionCode
	Device  int      // place in the gear, or -1
	Watts   qty.Watt // at the battery, that it saves or brings; 0 with DoBackup, DoAwaitSun and panels alone
	Minutes float64  // gained by it, re-simulated; 0 with Endless, and with a charger so weak that all it gives is an inverter that stays on for longer
	Total   float64  // minutes from alarm to cut-off then; 0 with Endless
	Endless bool     // the cut-off does not come any more
	Dark    float64  // of DoAwaitSun: minutes from the alarm to sunrise; at most [outlook.NoSunLimit]
}

// sheds is how many devices are named one by one.
const sheds = 4

// Less than this is nothing won: W saved, minutes gained.
const noWatts, noMinutes = 0.02, 0.5

// actions finds what to do from the plan's own alarm on.
func (t *trials) actions(a *Alarms) {
	h := t.h
	a.FromMinutes, a.FromEndless = a.Set.Usual.Minutes, a.Set.Usual.Endless
	for i := range h.devices {
		if h.devices[i].life {
			a.Do = append(a.Do, Action{Code: DoBackup, Device: i})
		}
	}
	from, sounds := t.usual.falls(h.spec.Alarm, h.spec.AlarmDelay.Seconds())
	if !sounds || a.Set.Usual.Never {
		return // there is no time for more
	}
	w := &shedding{t: t, from: from, pull: t.usualPull, total: a.FromMinutes, endless: a.FromEndless, off: make([]bool, len(h.devices)+1)}
	if t.usual.fell && from.bus.watts < t.usualPull.watts { // the inverter shut itself off before
		w.off[len(h.devices)] = true
		w.pull = h.usual(w.off, -1)
	}
	if d, ok := w.charge(); ok {
		a.Do = append(a.Do, d)
	}
	if w.endless {
		return // nothing more is needed
	}
	order := h.heaviest()
	for named := 0; len(order) > 0 && named < sheds && !w.endless; order = order[1:] {
		if d, ok := w.then(DoSwitchOff, order[0], order[:1]); ok {
			a.Do = append(a.Do, d)
			named++
		}
	}
	if code, all, ok := w.inverterOff(); ok {
		if d, ok := w.then(code, -1, all); ok {
			a.Do = append(a.Do, d)
		}
	}
	if d, ok := w.then(DoStop, -1, h.heaviest()); ok {
		a.Do = append(a.Do, d)
	}
}

// InTrip puts what to do into the trip of an Outlook of the same plan: if its
// first alarm sounds in the dark, panels alone can only be waited for. Their
// DoCharge becomes DoAwaitSun and goes to the end, because what is switched off until then
// decides whether there is power left at sunrise. Without an alarm in the trip
// nothing changes: nobody knows at what hour it would sound.
func (a *Alarms) InTrip(o *outlook.Outlook) {
	at := o.Figures.FirstAlarm
	row := int(at.Sub(o.Series.Start) / o.Series.Step)
	if at.IsZero() || row < 0 || row >= len(o.Series.Elevation) || o.Series.Elevation[row] > 0 {
		return
	}
	for k := range a.Do {
		if a.Do[k].Code != DoCharge || a.Do[k].Watts > 0 {
			continue
		}
		d := a.Do[k]
		a.Do = append(a.Do[:k], a.Do[k+1:]...)
		if n := len(a.Do); n > 0 && a.Do[n-1].Code != DoBackup && a.Do[n-1].Code != DoCharge {
			d.Total, d.Endless = a.Do[n-1].Total, a.Do[n-1].Endless
		}
		d.Code, d.Dark = DoAwaitSun, darkFrom(o, at).Minutes()
		a.Do = append(a.Do, d)
		return
	}
}

// darkFrom is how long it is to the next sunrise. After the last day of the
// trip the sun is taken to rise as on it.
func darkFrom(o *outlook.Outlook, at time.Time) time.Duration {
	var last time.Time
	for k := range o.Days {
		if last = o.Days[k].Rise; last.After(at) {
			return last.Sub(at)
		}
	}
	if last.IsZero() {
		return outlook.NoSunLimit
	}
	for !last.After(at) {
		last = last.Add(24 * time.Hour)
	}
	return last.Sub(at)
}

// A shedding is the time left while things are switched off one by one.
type shedding struct {
	t       *trials
	from    moment
	pull    pull
	total   float64 // minutes
	endless bool
	off     []bool // by place in the gear; the last is the inverter
}

// then switches off those at some places of off. If that wins no time, as with
// what the inverter trips over, they stay on.
func (w *shedding) then(code ActionCode, device int, places []int) (Action, bool) {
	before := append(make([]bool, 0, 16), w.off...)
	for _, i := range places {
		w.off[i] = true
	}
	now, v := w.t.h.usual(w.off, -1), float64(w.from.volts)
	d := Action{Code: code, Device: device, Watts: qty.Watt(w.pull.watts - now.watts + (w.pull.amps-now.amps)*v)}
	ok := !w.endless && d.Watts > noWatts
	if ok {
		d.Minutes, d.Total, d.Endless = w.lasts(now, 0)
		ok = d.Endless || d.Minutes >= noMinutes
	}
	if !ok {
		copy(w.off, before)
		return Action{}, false
	}
	w.pull, w.total, w.endless = now, d.Total, d.Endless
	return d, true
}

// lasts returns what a draw gains on what there was, and how long it lasts.
func (w *shedding) lasts(d pull, given float64) (gain, total float64, endless bool) {
	d.amps -= given
	c := w.t.h.toCutOff(w.from.st, w.t.usual.around.Air, d)
	end, ends := c.over()
	c.done()
	if !ends || w.endless {
		return 0, 0, true
	}
	return end.t/60 - w.total, end.t / 60, false
}

// heaviest returns the devices that may go, those with the most watts in the
// mean first.
func (h *house) heaviest() (order []int) {
	watts := make([]float64, len(h.devices))
	for i := range h.devices {
		d := &h.devices[i]
		for _, c := range h.pieces {
			if c.runs && h.live(d, c) {
				a := d.model.Demand(c.middle, h.mean)
				watts[i] += (float64(a.Watts) + float64(a.Amps)*nominal) * c.hours
			}
		}
		if d.life || watts[i] == 0 {
			continue
		}
		k := len(order)
		for order = append(order, i); k > 0 && watts[order[k-1]] < watts[i]; k-- {
			order[k] = order[k-1]
		}
		order[k] = i
	}
	return order
}

// nominal volts compare amps with watts, where nothing else hangs on it.
const nominal = 12.8

// inverterOff returns the places of the inverter and of all that is on it, if
// nobody's life hangs on that and it still draws.
func (w *shedding) inverterOff() (code ActionCode, places []int, ok bool) {
	h := w.t.h
	if w.pull.ac == 0 {
		return "", nil, false
	}
	for i := range h.devices {
		if d := &h.devices[i]; d.socket == ac {
			if d.life {
				return "", nil, false
			}
			places = append(places, i)
		}
	}
	if code = DoInverterOff; h.dcOn {
		code = DoDCOnly
	}
	return code, append(places, len(h.devices)), true
}

// charge plugs in what there is, with all that is on.
func (w *shedding) charge() (Action, bool) {
	h := w.t.h
	amps := h.p.Case.WallCharger.CurrentA
	if v := h.p.Case.Vehicle; v != nil {
		amps = max(amps, v.CurrentA)
	}
	d := Action{Code: DoCharge, Device: -1, Total: w.total, Endless: w.endless}
	v := float64(w.from.volts)
	d.Watts = qty.Watt(amps * v)
	switch {
	case amps == 0:
		return d, h.sunAmps() > 0
	case amps >= w.pull.amps+w.pull.watts/v: // it carries all that is on
		d.Total, d.Endless = 0, true
	default:
		// Volts that stay higher may keep an inverter on that would have shut
		// itself off, and what it idles away costs more than is given.
		d.Minutes, d.Total, d.Endless = w.lasts(w.pull, amps)
		d.Minutes = max(d.Minutes, 0)
	}
	return d, true
}
