package care

import "duskline/calc/qty"

// What to do between alarm and cut-off. The decision: first what protects a
// person, then what costs nobody anything, the most watts first, each put to
// the simulation on top of those before; charging last, because whoever has a
// charger near has known of it before the alarm.

// ActionCode is something to do once the alarm has sounded.
type ActionCode string

// What to do, in the order in which it is told. Nothing takes power from a
// device that somebody's life hangs on.
const (
	DoBackup      ActionCode = "backup"       // Device is life support: move it to its backup now
	DoSwitchOff   ActionCode = "switch_off"   // Device, of those that may go the one that saves the most
	DoDCOnly      ActionCode = "dc_only"      // main switch to DC: what is left on AC goes off with the inverter
	DoInverterOff ActionCode = "inverter_off" // likewise, where the switch feeds the inverter alone
	DoStop        ActionCode = "stop"         // all the rest off, but for life support
	DoCharge      ActionCode = "charge"       // plug in the stronger of wall and vehicle charger; of a plan with panels alone, lay them towards the sun: Watts 0, as nothing is known of the light then
)

// An Action is one thing to do, on top of those before it.
type Action struct {
	Code    ActionCode
	Device  int      // place in the gear, or -1
	Watts   qty.Watt // at the battery, that it saves or brings; 0 with DoBackup
	Minutes float64  // gained by it, re-simulated with all before it; 0 with Endless
	Total   float64  // minutes from alarm to cut-off then; 0 with Endless
	Endless bool     // the cut-off does not come any more
}

// sheds is how many devices are named one by one.
const sheds = 4

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
	order := h.heaviest()
	for n := 0; n < len(order) && n < sheds; n++ {
		w.off[order[n]] = true
		a.Do = append(a.Do, w.then(DoSwitchOff, order[n]))
	}
	if code, ok := w.inverterOff(); ok {
		a.Do = append(a.Do, w.then(code, -1))
	}
	if rest := w.rest(order); rest {
		a.Do = append(a.Do, w.then(DoStop, -1))
	}
	if d, ok := w.charge(); ok {
		a.Do = append(a.Do, d)
	}
}

// A shedding is the time left while things are switched off one by one.
type shedding struct {
	t       *trials
	from    moment
	pull    pull
	total   float64 // minutes
	endless bool
	off     []bool // by device; the last is the inverter
}

// then takes account of what was just switched off.
func (w *shedding) then(code ActionCode, device int) Action {
	h := w.t.h
	was := w.pull
	w.pull = h.usual(w.off, -1)
	v := float64(w.from.volts)
	d := Action{Code: code, Device: device, Watts: qty.Watt(was.watts - w.pull.watts + (was.amps-w.pull.amps)*v)}
	d.Minutes, d.Total, d.Endless = w.lasts(w.pull, 0)
	w.total, w.endless = d.Total, d.Endless
	return d
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

// inverterOff switches the inverter off, and all that is on it, if nobody's
// life hangs on that and it still draws.
func (w *shedding) inverterOff() (ActionCode, bool) {
	h := w.t.h
	if w.pull.ac == 0 {
		return "", false
	}
	for i := range h.devices {
		if d := &h.devices[i]; d.socket == ac && d.life {
			return "", false
		}
	}
	for i := range h.devices {
		w.off[i] = w.off[i] || h.devices[i].socket == ac
	}
	w.off[len(h.devices)] = true
	if h.dcOn {
		return DoDCOnly, true
	}
	return DoInverterOff, true
}

// rest switches off what may go and is still on, and says if there was any.
func (w *shedding) rest(order []int) (any bool) {
	for _, i := range order {
		any = any || !w.off[i]
		w.off[i] = true
	}
	return any
}

// charge plugs in what there is, on top of what is still on.
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
	case amps > w.pull.amps+w.pull.watts/v: // it carries all that is on
		d.Total, d.Endless = 0, true
	case amps > 0:
		d.Minutes, d.Total, d.Endless = w.lasts(w.pull, amps)
	}
	return d, amps > 0 || h.sunAmps() > 0
}
