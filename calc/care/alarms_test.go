package care

import (
	"testing"

	"duskline/calc/plan"
	"duskline/calc/qty"
)

// Readings against a discharge in steps of a second with battery.Step alone:
// volts under the mark for the delay, then on to the cut-off.
func TestReadingsAgainstSteppingBySeconds(t *testing.T) {
	for _, c := range kinds {
		p := kind(camp(), c)
		p.Case.Battery.CapacityAh, p.Case.Battery.ResistanceMohm = 6, 60
		p.Case.Battery.AlarmDelayS, p.Case.Battery.CutoffDelayS = 20, 10
		p.Sky.ColdestC = -5
		a := alarmsOf(t, p)
		h := houseOf(t, p)
		largest, _ := h.largest()
		for _, r := range []struct {
			name string
			got  Reading
			draw pull
			air  qty.Celsius
		}{
			{"usual", a.Set.Usual, h.usual(nil, -1), h.mean},
			{"largest", a.Set.Largest, largest, h.mean},
			{"cold", a.Set.Cold, h.usual(nil, -1), h.cold},
		} {
			s := seconds{h: h, st: h.battery.Rested(1, r.air)}
			s.around.Air = r.air
			off := s
			off.outlast(r.draw, 1e6)
			sounds := s.until(r.draw, h.spec.Alarm, 20, 1e6) && s.t < off.t
			if sounds == r.got.Never {
				t.Errorf("%s, %s: sounds %v, want %v", c, r.name, !r.got.Never, sounds)
				continue
			}
			if !sounds {
				continue
			}
			at := s
			s.outlast(r.draw, 1e6)
			// The engine's own bound for the step is 0.5 % of capacity. In the
			// cold a step of ten minutes leaves its own heat out of the core's
			// mean, a third of a kelvin here, and the wells follow by a tenth
			// for each.
			slack := 0.005
			if r.name == "cold" {
				slack = 0.01
			}
			near(t, string(c)+", "+r.name+": charge", float64(r.got.Charge), float64(at.st.Charge), slack)
			near(t, string(c)+", "+r.name+": minutes", r.got.Minutes, (s.t-at.t)/60, 0.5+0.02*(s.t-at.t)/60)
			after := at
			after.outlast(h.usual(nil, -1), 1e6)
			near(t, string(c)+", "+r.name+": then the usual draw, minutes", r.got.After, (after.t-at.t)/60, 0.5+0.02*(after.t-at.t)/60)
		}
	}
}

// A higher mark never sounds later, at any load, and never leaves less time.
func TestHigherMarksSoundEarlier(t *testing.T) {
	for name, p := range odd(t) {
		list := alarmsOf(t, p).Candidates
		for k := 1; k < len(list); k++ {
			was, is := list[k-1], list[k]
			if is.Volts <= was.Volts {
				t.Errorf("%s: %g V after %g V", name, is.Volts, was.Volts)
			}
			for i, r := range [][2]Reading{{was.Rest, is.Rest}, {was.Usual, is.Usual}, {was.Largest, is.Largest}, {was.Cold, is.Cold}} {
				if lo, hi := r[0], r[1]; hi.Charge < lo.Charge-1e-6 || hi.Minutes < lo.Minutes-1e-3 && !hi.Endless || hi.Never && !lo.Never {
					t.Errorf("%s, load %d: %.2f V %+v, then %.2f V %+v", name, i, was.Volts, lo, is.Volts, hi)
				}
			}
			if was.Early && !is.Early {
				t.Errorf("%s: early at %.2f V, not at %.2f V", name, was.Volts, is.Volts)
			}
		}
	}
}

// workshop is a Case with a fridge on AC whose compressor starts with seven
// times its watts for a second.
func workshop() plan.Plan {
	p := camp()
	p.Case.Inverter.RatedW, p.Case.Inverter.SurgeW, p.Case.Inverter.SurgeS = 600, 2000, 5
	p.Case.InverterHours = []plan.Window{{FromH: 0, ToH: 24}}
	f := gear("compressor", plan.RouteAC, 90, plan.Window{FromH: 0, ToH: 24})
	f.DutyPct, f.SurgeW, f.SurgeS = 30, 600, 1
	p.Gear = []plan.Device{gear("light", plan.RouteDC, 5, plan.Window{FromH: 18, ToH: 23}), f}
	p.Case.Battery.AlarmDelayS, p.Case.Battery.AlarmV = 0, 12.01
	p.Sky.ColdestC, p.Sky.WarmestC = 30, 30 // where the resistance does not change with its own heat
	return p
}

// Common practice: the start of a fridge sags the volts at 70 % charge and
// sounds an alarm that is set too high for it, or that does not wait.
func TestFridgeStartSoundsBadlyChosenAlarm(t *testing.T) {
	a := alarmsOf(t, workshop())
	if len(a.Set.False) != 1 || a.Set.False[0].Device != 1 || !a.Set.False[0].ByStart || a.Set.False[0].Charge < 0.65 || a.Set.False[0].Charge > 0.8 {
		t.Errorf("an alarm at once, at 12.01 V: false by %+v; want the compressor's start, at about 70 %%", a.Set.False)
	}
	if !a.Set.Early {
		t.Error("it is not told to be early")
	}
	if a.Fits {
		t.Error("it is told to fit")
	}
	// Near misses: it waits longer than the start lasts; it is set lower.
	p := workshop()
	p.Case.Battery.AlarmDelayS = 2
	if s := alarmsOf(t, p).Set; len(s.False) != 0 || s.Early {
		t.Errorf("an alarm after 2 s: false by %+v", s.False)
	}
	p = workshop()
	p.Case.Battery.AlarmV = 11.8
	if s := alarmsOf(t, p).Set; len(s.False) != 0 || s.Early {
		t.Errorf("an alarm at 11.8 V: false by %+v", s.False)
	}
	// A start that trips the inverter draws nothing.
	p = workshop()
	p.Gear[1].SurgeW = 2500
	if s := alarmsOf(t, p).Set; len(s.False) != 0 {
		t.Errorf("a start that trips the inverter: false by %+v", s.False)
	}
}

// The charge of a False against starts tried second by second on a battery
// that the usual draw brought down to it: a little under it the alarm sounds,
// a little over it it does not.
func TestFalseAgainstStartsBySeconds(t *testing.T) {
	p := workshop()
	p.Case.Battery.CapacityAh = 30
	starts := newTrials(houseOf(t, p)).falses[1].start
	for k := 4; k+1 < len(fulls); k++ {
		mark := float64(starts[k]+starts[k+1]) / 2
		p.Case.Battery.AlarmV = mark
		a := alarmsOf(t, p)
		h := houseOf(t, p)
		if len(a.Set.False) != 1 {
			t.Fatalf("%g V: %+v", mark, a.Set.False)
		}
		f := a.Set.False[0]
		sounds := func(charge float64) bool {
			s := seconds{h: h, st: h.battery.Rested(1, h.mean)}
			s.around.Air = h.mean
			usual := h.usual(nil, -1)
			for float64(s.st.Charge) > charge {
				s.st = h.battery.Step(s.st, s.around, 10, &bus{watts: usual.watts, amps: usual.amps}).State
			}
			// The start: the others' mean, the inverter with the compressor's
			// 90 W and 510 W on top, for its second.
			others := h.usual(nil, 1)
			idle, up := float64(h.inverter.Draw(0)), float64(h.inverter.Draw(600))
			on := pull{watts: others.watts - idle + up, amps: others.amps}
			b := &bus{watts: on.watts, amps: on.amps}
			return h.battery.Step(s.st, s.around, 1, b).EndVolts <= qty.Volt(mark)
		}
		if f.Charge < 1 && sounds(float64(f.Charge)+0.03) {
			t.Errorf("%g V sounds above %.3f", mark, f.Charge)
		}
		if !sounds(float64(f.Charge) - 0.03) {
			t.Errorf("%g V does not sound under %.3f", mark, f.Charge)
		}
	}
}

// A device without a start that sounds the alarm by its run of ten minutes, the
// last minute of them under the mark: against stepping by seconds.
func TestFalseByRunAgainstSteppingBySeconds(t *testing.T) {
	p := workshop()
	p.Case.Battery.AlarmDelayS = 60
	p.Gear[1].SurgeW, p.Gear[1].SurgeS, p.Gear[1].PowerW, p.Gear[1].DutyPct = 0, 0, ptr(300.0), 5
	h := houseOf(t, p)
	runs := newTrials(h).falses[1].run
	idle, up := float64(h.inverter.Draw(0)), float64(h.inverter.Draw(300))
	others, usual := h.usual(nil, 1), h.usual(nil, -1)
	for k := 3; k < len(fulls); k++ {
		s := seconds{h: h, st: h.battery.Rested(1, h.mean)}
		s.around.Air = h.mean
		for float64(s.st.Charge) > fulls[k] {
			s.st = h.battery.Step(s.st, s.around, 10, &bus{watts: usual.watts, amps: usual.amps}).State
		}
		b := &bus{watts: others.watts - idle + up, amps: others.amps}
		var volts qty.Volt
		for range runSeconds - 60 {
			st := h.battery.Step(s.st, s.around, 1, b)
			s.st, volts = st.State, st.EndVolts
		}
		near(t, "volts of the last minute", float64(runs[k]), float64(volts), 0.01)
	}
	if f, ok := (&sounding{run: runs}).at(runs[5]); !ok || f.ByStart || f.Charge < qty.Fraction(fulls[5]) {
		t.Errorf("%+v", f)
	}
}

// An alarm that waits as long as a start lasts hears its first volts, one that
// does not wait its last and lowest.
func TestStartHeardByItsDelay(t *testing.T) {
	volts := func(delay float64) qty.Volt {
		p := workshop()
		p.Gear[1].SurgeS, p.Case.Battery.AlarmDelayS, p.Case.Inverter.SurgeS = 20, delay, 30
		return newTrials(houseOf(t, sound(t, p))).falses[1].start[5]
	}
	if first, mid, last := volts(20), volts(10), volts(0); !(first > mid && mid > last) || first-last < 0.005 {
		t.Errorf("volts of a start: first %.4f, in the middle %.4f, last %.4f", first, mid, last)
	}
	if v := volts(21); v != 0 {
		t.Errorf("an alarm that waits longer hears %g V", v)
	}
}

// On stepped volts a motor's start is what its label says: the wave adds to its
// run, not to its surge.
func TestStartOnModifiedSine(t *testing.T) {
	p := workshop()
	p.Case.Inverter.Wave, p.Gear[1].Sensitivity = plan.ModifiedSine, plan.SensitivityInductionMotor
	h := houseOf(t, sound(t, p))
	if h.devices[1].extra <= 0 {
		t.Fatal("the wave adds nothing")
	}
	var s sum
	s.add(&h.devices[1], h.devices[1].flat.Demand(12, 30), 1)
	h.start(&s, 1, 12)
	near(t, "W on AC as it starts", s.ac, 600, 1e-9)
}

// A low mark sounds late at a light load: of what is left then, the usual draw
// has minutes. A higher one does not.
func TestLowMarkIsLateAtLightLoad(t *testing.T) {
	p := camp()
	p.Case.Battery.CutoffV, p.Case.Battery.AlarmV = 10.5, 11
	s := alarmsOf(t, p).Set
	if !s.Late || s.Rest.Charge > 0.02 || s.Rest.After >= LateMinutes || s.Rest.Minutes < s.Rest.After {
		t.Errorf("11 V: late %v, %+v", s.Late, s.Rest)
	}
	p.Case.Battery.AlarmV = 12.6
	if s := alarmsOf(t, p).Set; s.Late || s.Rest.After < LateMinutes {
		t.Errorf("12.6 V: late %v, %+v", s.Late, s.Rest)
	}
}

// The chosen mark is fair wherever one is; no other fair mark is lower and
// gives FairMinutes, and every reason can be read off the candidates.
func TestChosenMark(t *testing.T) {
	fair := 0
	for name, p := range odd(t) {
		a := alarmsOf(t, p)
		c := a.Candidates[a.Chosen]
		for k, o := range a.Candidates {
			switch {
			case o.Early || o.Late:
			case c.Early || c.Late:
				t.Errorf("%s: %.2f V chosen, though %.2f V is fair", name, c.Volts, o.Volts)
			case k < a.Chosen && o.Usual.Minutes >= FairMinutes && !o.Usual.Endless:
				t.Errorf("%s: %.2f V chosen, though %.2f V gives %.0f minutes", name, c.Volts, o.Volts, o.Usual.Minutes)
			}
			if c.Late && !c.Early && !o.Late {
				t.Errorf("%s: %.2f V is late, %.2f V is not", name, c.Volts, o.Volts)
			}
		}
		if !c.Early && !c.Late {
			fair++
		}
		if len(a.Why) == 0 || (a.Why[0].Code == WhyFair) == (c.Early || c.Late) || a.Why[0].Volts != c.Volts {
			t.Errorf("%s: why %+v for %+v", name, a.Why, c)
		}
		for _, w := range a.Why {
			for k, o := range a.Candidates {
				if o.Volts != w.Volts {
					continue
				}
				switch {
				case w.Code == WhyQuiet && (k != a.Chosen+1 || !o.Early || w.Charge < EarlyCharge),
					w.Code == WhyTimely && (k != a.Chosen-1 || w.Minutes > o.Usual.Minutes):
					t.Errorf("%s: %+v", name, w)
				}
			}
		}
	}
	if fair < 8 {
		t.Errorf("only %d of the plans have a fair mark", fair)
	}
}

// What the inverter's own cut-off and the cells' protection do to a reading.
func TestOtherCutOffs(t *testing.T) {
	p := camp()
	before := alarmsOf(t, p).Set
	g := plan.Protection{OverV: 15, OverBackV: 14.2, UnderV: 11.8, UnderBackV: 12.6, VoltsDelayS: 1, ChargeColdC: 0, ChargeHotC: 60, DischargeColdC: -20, DischargeHotC: 60}
	p.Case.Battery.Protection, p.Case.Battery.AlarmV = &g, 12
	with := alarmsOf(t, p).Set
	p.Case.Battery.Protection = nil
	without := alarmsOf(t, p).Set
	if with.Usual.Charge != without.Usual.Charge || with.Usual.Minutes >= without.Usual.Minutes {
		t.Errorf("a protection at 11.8 V: %+v, without it %+v", with.Usual, without.Usual)
	}
	p = camp()
	p.Gear[2].Hours, p.Case.InverterHours = []plan.Window{{FromH: 0, ToH: 24}}, []plan.Window{{FromH: 0, ToH: 24}}
	heavy := alarmsOf(t, p).Set
	p.Case.Inverter.LowCutoffV, p.Case.Inverter.LowReconnectV = 12.5, 13
	lighter := alarmsOf(t, p).Set
	if lighter.Usual.Charge >= heavy.Usual.Charge || lighter.Usual.Minutes <= heavy.Usual.Minutes {
		t.Errorf("an inverter that goes off at 12.5 V: %+v, one that does not %+v; %+v", lighter.Usual, heavy.Usual, before.Usual)
	}
}

// Nothing is taken from a life-support device, and its backup comes first.
func TestActionsKeepLifeSupport(t *testing.T) {
	p := camp()
	p.Gear[0].LifeSupport = true
	a := alarmsOf(t, p)
	if a.Do[0].Code != DoBackup || a.Do[0].Device != 0 {
		t.Errorf("first to do: %+v", a.Do[0])
	}
	for _, d := range a.Do[1:] {
		if d.Device == 0 {
			t.Errorf("%+v", d)
		}
	}
	// On AC: the inverter stays on.
	p = camp()
	p.Gear[2].LifeSupport = true
	for _, d := range alarmsOf(t, p).Do {
		if d.Code == DoDCOnly || d.Code == DoInverterOff {
			t.Errorf("the inverter goes off under life support: %+v", d)
		}
	}
	for _, d := range alarmsOf(t, camp()).Do {
		if d.Code == DoBackup {
			t.Errorf("a backup for nobody: %+v", d)
		}
	}
}

// The gains of the actions against discharges by seconds from the alarm on.
func TestActionsAgainstSteppingBySeconds(t *testing.T) {
	p := camp()
	p.Case.Battery.CapacityAh, p.Case.Battery.ResistanceMohm = 6, 60
	a := alarmsOf(t, p)
	h := houseOf(t, p)
	from := seconds{h: h, st: h.battery.Rested(1, h.mean)}
	from.around.Air = h.mean
	from.until(h.usual(nil, -1), h.spec.Alarm, h.spec.AlarmDelay.Seconds(), 1e6)
	off := make([]bool, 4)
	last := a.FromMinutes
	want := []ActionCode{DoCharge, DoSwitchOff, DoSwitchOff, DoSwitchOff, DoDCOnly}
	for k, d := range a.Do {
		if k >= len(want) || d.Code != want[k] {
			t.Fatalf("to do %+v", a.Do)
		}
		switch d.Code {
		case DoSwitchOff:
			off[d.Device] = true
		case DoDCOnly:
			off[3] = true
		case DoCharge:
			if !d.Endless || d.Watts <= 0 {
				t.Errorf("a wall charger of 10 A: %+v", d)
			}
			continue
		}
		s := from
		s.outlast(h.usual(off, -1), 1e6)
		minutes := (s.t - from.t) / 60
		near(t, string(d.Code)+", minutes in all", d.Total, minutes, 0.5+0.03*minutes)
		near(t, string(d.Code)+", gain", d.Minutes, d.Total-last, 1e-9)
		if last = d.Total; d.Minutes <= 0 || d.Watts <= 0 {
			t.Errorf("%+v", d)
		}
	}
	// The most watts first: the fridge 16 W, the kettle and the light 2 W.
	if a.Do[1].Device != 0 {
		t.Errorf("first off: %+v", a.Do[1])
	}
}

// A Case that draws nothing runs out of no time: no mark is late for it.
func TestNoDrawIsNeverLate(t *testing.T) {
	p := camp()
	p.Gear, p.Case.InverterHours = nil, nil
	p.Case.Switch = plan.DCOnly
	p.Case.Meters.StandbyA, p.Case.Controller.StandbyA, p.Case.Controller.NightA = 0, 0, nil
	p.Case.DC.StandbyA, p.Case.USB.StandbyA = 0, 0
	a, err := NewAlarms(p)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range append(a.Candidates, a.Set) {
		if c.Late || !c.Rest.Endless || !c.Usual.Endless {
			t.Errorf("%g V: %+v", c.Volts, c)
		}
	}
}
