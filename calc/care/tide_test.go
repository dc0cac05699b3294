package care

import (
	"testing"

	"duskline/calc/battery"
	"duskline/calc/plan"
)

func lineOf(x *Tide, kind LineKind) *Line {
	for k := range x.Lines {
		if x.Lines[k].Kind == kind {
			return &x.Lines[k]
		}
	}
	return nil
}

// At one charge: the more is drawn the lower, on charge the highest; rest lies
// between. Near the ends the volts of a start are not settled.
func TestLinesOfATideLieInOrder(t *testing.T) {
	for _, c := range kinds {
		p := kind(camp(), c)
		p.Sky.ColdestC = -10
		x := tideOf(t, p)
		rest, usual, largest, cold, charging := lineOf(x, AtRest), lineOf(x, AtUsual), lineOf(x, AtLargest), lineOf(x, InCold), lineOf(x, OnCharge)
		if rest == nil || usual == nil || largest == nil || cold == nil || charging == nil {
			t.Fatalf("%s: a line is missing", c)
		}
		for k, s := range x.Charges {
			if s < 0.1 || s > 0.99 {
				continue
			}
			if usual.Volts[k] == 0 || largest.Volts[k] == 0 || cold.Volts[k] == 0 {
				continue // gave out before
			}
			if usual.Volts[k] >= rest.Volts[k] || largest.Volts[k] >= usual.Volts[k] || cold.Volts[k] >= usual.Volts[k] || charging.Volts[k] <= rest.Volts[k] {
				t.Errorf("%s at %g: rest %.3f, usual %.3f, largest %.3f, cold %.3f, charging %.3f V",
					c, s, rest.Volts[k], usual.Volts[k], largest.Volts[k], cold.Volts[k], charging.Volts[k])
			}
		}
		for k := 1; k < len(x.Charges); k++ {
			if rest.Volts[k] <= rest.Volts[k-1] || x.Charges[k] <= x.Charges[k-1] {
				t.Errorf("%s: volts at rest fall at %g", c, x.Charges[k])
			}
		}
	}
}

// The usual line against a discharge by seconds.
func TestTideAgainstSteppingBySeconds(t *testing.T) {
	for _, c := range kinds {
		p := kind(camp(), c)
		p.Case.Battery.CapacityAh, p.Case.Battery.ResistanceMohm = 6, 60
		x := tideOf(t, p)
		h := houseOf(t, p)
		s := seconds{h: h, st: h.battery.Rested(1, h.mean)}
		s.around.Air = h.mean
		u := h.usual(nil, -1)
		b := &bus{watts: u.watts, amps: u.amps}
		c2 := h.run(h.battery.Rested(1, h.mean), h.mean, u, longest)
		end := c2.last()
		if !c2.dead {
			t.Fatalf("%s: the usual draw does not empty it", c)
		}
		compared := 0
		for k := len(grid) - 2; k > 0 && grid[k] > float64(end.st.Charge)+0.02; k-- {
			var volts float64
			for float64(s.st.Charge) > grid[k] {
				st := s.h.battery.Step(s.st, s.around, 1, b)
				s.st, s.t, volts = st.State, s.t+1, float64(st.EndVolts)
			}
			// The steep ends change by volts within a part of the grid.
			slack := 0.02
			if grid[k] < float64(end.st.Charge)+0.05 || grid[k] > 0.98 {
				slack = 0.15
			}
			near(t, string(c)+", volts at the usual draw", float64(lineOf(x, AtUsual).Volts[k]), volts, slack)
			compared++
		}
		for st := (battery.Step{}); !st.Empty && !st.Short; s.t++ {
			st = s.h.battery.Step(s.st, s.around, 1, b)
			s.st = st.State
		}
		near(t, string(c)+", charge at which it gives out", float64(end.st.Charge), float64(s.st.Charge), 0.006)
		near(t, string(c)+", seconds for which it lasts", end.t, s.t, 0.005*s.t)
		for k, v := range lineOf(x, AtUsual).Volts {
			if grid[k] < float64(end.st.Charge)-1e-3 && v != 0 {
				t.Errorf("%s: %g V at %g, but it gives out at %g", c, v, grid[k], end.st.Charge)
			}
		}
		if compared < 15 {
			t.Errorf("%s: only %d volts compared", c, compared)
		}
	}
}

// The charge at which a line passes a mark is that of the reading of an alarm
// that does not wait.
func TestPassesAgainstReadings(t *testing.T) {
	for _, c := range kinds {
		p := kind(camp(), c)
		p.Case.Battery.AlarmDelayS, p.Case.Battery.CutoffDelayS = 0, 600
		x, a := tideOf(t, p), alarmsOf(t, p)
		for _, k := range []struct {
			kind LineKind
			r    Reading
		}{{AtUsual, a.Set.Usual}, {AtLargest, a.Set.Largest}, {InCold, a.Set.Cold}} {
			l := lineOf(x, k.kind)
			if l.Alarm.Above != k.r.Never {
				t.Errorf("%s, %s: %+v, but the reading is %+v", c, k.kind, l.Alarm, k.r)
			}
			near(t, string(c)+", "+string(k.kind)+": charge at the alarm", float64(l.Alarm.Charge), float64(k.r.Charge), 0.004)
		}
		rest := lineOf(x, AtRest)
		want := float64(houseOf(t, p).battery.Charge(x.Marks.Alarm))
		near(t, string(c)+": charge that rests at the alarm", float64(rest.Alarm.Charge), want, 0.002)
	}
}

func TestPasses(t *testing.T) {
	h := houseOf(t, camp())
	l := h.restLine(AtRest, 25, 0)
	if p := passes(l.Volts, 5); p != (Pass{Above: true}) {
		t.Errorf("a mark under all: %+v", p)
	}
	if p := passes(l.Volts, 20); p != (Pass{Charge: 1, Below: true}) {
		t.Errorf("a mark over all: %+v", p)
	}
}

// What a plan does not have has no line.
func TestTideWithout(t *testing.T) {
	p := camp()
	p.Gear, p.Panels.List, p.Case.WallCharger.CurrentA = []plan.Device{}, []plan.Panel{}, 0
	x := tideOf(t, p)
	if lineOf(x, AtLargest) != nil || lineOf(x, OnCharge) != nil {
		t.Error("lines of gear and chargers that are not there")
	}
	p = kind(camp(), plan.AGM)
	if (lineOf(tideOf(t, p), AfterCharge) != nil) != (houseOf(t, p).spec.Chemistry.Swing > 0) {
		t.Error("an upper branch without hysteresis, or the other way")
	}
	if lineOf(tideOf(t, camp()), AfterCharge) == nil {
		t.Error("LiFePO4 has an upper branch")
	}
	// Too cold to charge, near miss: just warm enough.
	p = camp()
	p.Sky.WarmestC, p.Sky.ColdestC = -1, -1
	if lineOf(tideOf(t, p), OnCharge) != nil {
		t.Error("LiFePO4 charges at -1 °C")
	}
	p.Sky.WarmestC, p.Sky.ColdestC = 1, 1
	if lineOf(tideOf(t, p), OnCharge) == nil {
		t.Error("LiFePO4 does not charge at 1 °C")
	}
}

// The strongest charger: amps of the wall, of the vehicle, or what the labels
// of the panels promise through either controller.
func TestCharger(t *testing.T) {
	p := camp()
	near(t, "wall", houseOf(t, p).charger(), 10, 0)
	p.Case.Vehicle = &plan.VehicleCharger{CurrentA: 12, EfficiencyPct: 85}
	near(t, "vehicle", houseOf(t, p).charger(), 12, 0)
	p = camp()
	p.Case.WallCharger.CurrentA, p.Case.Controller.LimitA = 0, 30
	one := houseOf(t, p).charger()
	m, err := p.Panels.List[0].Module()
	if err != nil {
		t.Fatal(err)
	}
	near(t, "a panel through PWM: its light current", one, float64(m.Light), 1e-9)
	p.Panels.List[0].Count = 3
	near(t, "three side by side", houseOf(t, p).charger(), 3*one, 1e-9)
	p.Panels.Joined = plan.EndToEnd
	near(t, "three end to end", houseOf(t, p).charger(), one, 1e-9)
	two := plan.NewPanel("b", 0, 180)
	two.String = 2
	p.Panels.Joined, p.Panels.List = plan.InStrings, append(p.Panels.List, two)
	near(t, "two strings, of three and of one", houseOf(t, p).charger(), 2*one, 1e-9)
	p.Panels.List = p.Panels.List[:1]
	p.Case.Controller.Kind = plan.MPPT
	h := houseOf(t, p)
	near(t, "300 W through MPPT at 96 %", h.charger(), 300*0.96/float64(h.battery.Rest(0.5)), 1e-9)
	p.Case.Controller.LimitA = 10
	near(t, "the controller's limit", houseOf(t, p).charger(), 10, 1e-9)
}
