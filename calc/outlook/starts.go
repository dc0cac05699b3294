package outlook

import (
	"math"

	"duskline/calc/battery"
	"duskline/calc/qty"
)

// Devices whose start makes the alarm sound though the battery is far from
// empty: a cooler's compressor in the middle of the night.
//
// The decision: a step asks each device that starts in it what the volts would
// be while it does, and no step of a second is needed. A device starts when
// its hours begin or power comes back; one that comes and goes starts again
// and again as long as its hours last, and what it draws while it runs is more
// than the mean that the step reckons with. It is told once a day. Charge,
// verdict and figures stay as they are: the alarm falls silent by itself.
//
// Common practice, no source: what comes and goes runs for ten minutes at a
// time, so longer than any alarm's delay.
const runsFor = 600.0 // s

// A starter is a device that may pull the volts down for a moment.
type starter struct {
	device  int
	surgeS  float64
	toldDay int // last local day on which it was told, or -1
}

// starters lists the devices that take more at their start, or while they run,
// than their mean.
func (r *runner) starters() (list []starter) {
	for i, g := range r.p.Gear {
		if g.SurgeW > 0 && g.SurgeS > 0 || r.wants.comesAndGoes(i) {
			list = append(list, starter{i, g.SurgeS, -1})
		}
	}
	return list
}

func (w *wants) comesAndGoes(i int) bool { return w.devices[i].Duty(0) < 1 }

// watchStarts looks at what starts at the instant of now.
func (r *runner) watchStarts() {
	if r.alarm || !r.connected || r.state.Charge < EarlyCharge {
		return
	}
	day := -1
	for k := range r.starts {
		s := &r.starts[k]
		a := &r.wants.ask[s.device]
		if !a.Running || !r.on.live[r.wants.sockets[s.device]] || r.wants.onAC[s.device].given < 1 {
			continue
		}
		duty := float64(r.wants.devices[s.device].Duty(r.air))
		if duty >= 1 && !r.wants.fresh[s.device] {
			continue
		}
		if day < 0 {
			day = r.clock.Day(r.now)
		}
		if s.toldDay >= day {
			continue
		}
		if after, over, st, ok := r.startSounds(s, duty); ok && st.State.Charge >= EarlyCharge {
			s.toldDay = day
			e := r.tell(AlarmOn, r.now+after, st.State.Charge, st.EndVolts, s.device)
			e.Cause, e.Left = Early, r.lasts(r.state)
			over = math.Min(over, float64(r.steps)*r.step-r.now)
			r.tell(AlarmOff, r.now+math.Max(over, after), r.state.Charge, r.stepOf(0).EndVolts, s.device)
		}
	}
}

// startSounds says whether the start of a device makes the alarm sound: after
// how many seconds, when it falls silent, and what the battery is like when it
// sounds.
func (r *runner) startSounds(s *starter, duty float64) (after, over float64, st battery.Step, ok bool) {
	a := r.wants.ask[s.device]
	v := float64(r.battery.RestAt(r.state.Free, r.state.Core, r.state.Lean) + r.state.Slow)
	run := 0.0 // W at the battery above the mean, while it runs
	if duty < 1 && duty > 0 {
		one := (float64(a.Watts) + float64(a.Amps)*v) / duty / r.wants.counts[s.device]
		run = r.atBattery(s.device, one*(1-duty))
	}
	surge := 0.0 // W at the battery above the mean, while it starts
	if s.surgeS > 0 {
		mean := float64(r.wants.devices[s.device].SurgeOver(a)) - float64(a.Amps)*v/r.wants.counts[s.device]
		surge = math.Max(r.atBattery(s.device, mean), run)
	}
	// What is on offer only helps: without it, and with both resistances in
	// full, the volts are as low as they can get.
	fast, slow := r.battery.Resistance(r.state.Charge, r.state.Core)
	amps := r.bus.amps + (r.bus.watts+math.Max(surge, run))/math.Max(v/2, 1)
	if most := float64(fast + slow); v-amps*most*1.1 > float64(r.spec.Alarm) {
		return 0, 0, st, false
	}
	if r.stepOf(0).EndVolts < r.spec.Alarm {
		return 0, 0, st, false // without it, too: the alarm is not its doing
	}
	delay := r.spec.AlarmDelay.Seconds()
	load := r.bus
	from, state, under := 0.0, r.state, math.Inf(1)
	if surge > 0 {
		load.watts = r.bus.watts + surge
		if t, crossed := r.battery.Until(state, r.around(), s.surgeS, &load, r.spec.Alarm); crossed {
			under = t
		}
		if under+delay <= s.surgeS {
			st = r.battery.Step(state, r.around(), under+delay, &load)
			return under + delay, s.surgeS, st, true
		}
		state, from = r.battery.Step(state, r.around(), s.surgeS, &load).State, s.surgeS
	}
	if run == 0 {
		return 0, 0, st, false
	}
	load.watts = r.bus.watts + run
	if math.IsInf(under, 1) || r.battery.Step(state, r.around(), 0, &load).EndVolts >= r.spec.Alarm {
		t, crossed := r.battery.Until(state, r.around(), runsFor, &load, r.spec.Alarm)
		if !crossed {
			return 0, 0, st, false
		}
		under = from + t
	}
	after = under + delay
	if after > from+runsFor {
		return 0, 0, st, false
	}
	st = r.battery.Step(state, r.around(), after-from, &load)
	if st.EndVolts > r.spec.Alarm { // recovered meanwhile
		return 0, 0, st, false
	}
	return after, math.Max(from+runsFor, after), st, true
}

// atBattery returns what so many watts more at a device's socket are at the
// battery.
func (r *runner) atBattery(device int, more float64) float64 {
	w := r.wants
	switch w.sockets[device] {
	case dc:
		return more / float64(w.dc.Efficiency)
	case usb:
		return more / float64(w.usb.Efficiency)
	}
	d := &r.on
	va := more * w.onAC[device].va
	return float64(w.awake.DrawVA(qty.Watt(d.acOut+more), d.acVA+va)) - d.acIn
}
