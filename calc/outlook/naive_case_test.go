package outlook

import (
	"math"

	"duskline/calc/plan"
)

// The naive simulation's chargers, stages and inverter, second by second and
// each by its own arithmetic.

// chargers sets what wall and vehicle charger offer in an hour, and says
// whether a generator feeds the wall charger.
func (n *naive) chargers(h float64) (generator bool) {
	c, t := n.p.Case, n.p.Trip
	n.wall, n.vehicle = 0, 0
	w := c.WallCharger
	wallWorks := t.WallV == 0 || w.InputMinV <= t.WallV && t.WallV <= w.InputMaxV
	generatorWorks := t.GeneratorW == 0 || w.CurrentA*c.Battery.ChargeV*100/w.EfficiencyPct <= 0.8*t.GeneratorW
	if inHours(t.WallHours, h) && wallWorks {
		n.wall = w.CurrentA
	} else if inHours(t.GeneratorHours, h) && generatorWorks {
		n.wall, generator = w.CurrentA, true
	}
	if c.Vehicle != nil && inHours(t.EngineHours, h) {
		n.vehicle = c.Vehicle.CurrentA
	}
	return generator
}

// naiveLoss returns what an MPPT controller loses while so many watts come out
// of it: its loss goes through one efficiency at the watts of its limit at 12.8
// V and another at a tenth of them, by a line, or by a·x + b·x² if it grows
// faster than that.
func naiveLoss(c plan.Controller, out float64) float64 {
	high := c.EfficiencyPct / 100
	if c.EfficiencyLowPct == nil {
		return out/high - out
	}
	low, full := *c.EfficiencyLowPct/100, 12.8*c.LimitA
	tenth := full / 10
	lossFull, lossTenth := full/high-full, tenth/low-tenth
	if low > high {
		b := (lossFull/full - lossTenth/tenth) / (full - tenth)
		return out * (lossFull/full + b*(out-full))
	}
	return lossFull + (lossFull-lossTenth)/(full-tenth)*(out-full)
}

// naiveConverter returns what comes out of it if so many watts go in.
func naiveConverter(c plan.Controller, in float64) float64 {
	if c.EfficiencyLowPct == nil {
		return in * c.EfficiencyPct / 100
	}
	return math.Max(0, fall(-10, 5000, func(out float64) float64 { return in - out - naiveLoss(c, out) }))
}

// naiveStages is the course of a charge.
type naiveStages struct {
	b     plan.Battery
	stage string // bulk, float or rest
	held  float64
	done  bool
	since float64
}

// volts solves a second, with the battery held where the stage says. A charger
// that holds under what the battery has gives nothing.
func (s *naiveStages) volts(n *naive) (v, i float64, held bool) {
	n.closed, n.hold = false, s.b.ChargeV
	if s.stage == "float" {
		n.hold = s.b.FloatV
	}
	n.hold += s.b.CompensationMVPerK / 1000 * (math.Max(-20, math.Min(n.cell.core, 50)) - 25)
	plain := s.b.AfterFull == plan.AfterHold && s.b.CompensationMVPerK == 0
	if !plain && (s.stage == "rest" || n.cell.stands() > n.hold) {
		n.closed = true
		if v, i, _ = n.volts(); s.stage == "rest" || v >= n.hold {
			return v, i, s.stage == "bulk"
		}
		n.closed = false
	}
	return n.volts()
}

// pass ends a second.
func (s *naiveStages) pass(event func(EventKind, float64), t float64, held bool, v, gave float64) {
	if s.b.AfterFull == plan.AfterHold {
		return
	}
	if s.stage == "bulk" && s.done && gave > 0 {
		s.done = false
		event(ChargesAgain, t)
	}
	switch {
	case held && s.stage == "bulk":
		if s.held++; s.held >= s.b.AbsorptionH*3600 {
			s.done, s.since = true, t+1
			if s.stage = "rest"; s.b.AfterFull == plan.AfterFloat {
				s.stage = "float"
				event(Float, t+1)
			} else {
				event(Resting, t+1)
			}
		}
	case !held && v < s.b.ResumeV && (s.stage != "rest" || t+1 >= s.since+60):
		s.stage, s.held = "bulk", 0
	}
}

// naiveInverter is an inverter with its own cut-off and its sleep.
type naiveInverter struct {
	i    plan.Inverter
	down bool
	at   float64
}

// switchedOn says whether it gives volts, being switched on or not.
func (n *naiveInverter) switchedOn(on bool) bool {
	n.down = n.down && on
	return on && !n.down
}

// pass ends a second.
func (n *naiveInverter) pass(event func(EventKind, float64), t float64, on bool, v float64) {
	switch {
	case n.i.LowCutoffV == 0:
	case on && v < n.i.LowCutoffV:
		n.down, n.at = true, t+1
		event(InverterLow, t+1)
	case n.down && v >= n.i.LowReconnectV && t+1 >= n.at+60:
		n.down = false
		event(InverterBack, t+1)
	}
}

// steady sums what runs on AC without a pause.
func (n *naiveInverter) steady(gear []plan.Device, h float64) (w float64) {
	for _, g := range gear {
		if g.Route == plan.RouteAC && inHours(g.Hours, h) && g.DutyPct == 100 {
			w += *g.PowerW * float64(g.Count) * (1 + naiveExtra(g, n.i))
		}
	}
	return w
}

// wakes says whether the inverter gives all that a device asks for.
func (n *naiveInverter) wakes(g plan.Device, gear []plan.Device, h float64) bool {
	steady := n.steady(gear, h)
	if n.i.SleepA == nil || steady >= n.i.WakeW {
		return true
	}
	return g.DutyPct < 100 && steady+*g.PowerW*(1+naiveExtra(g, n.i)) >= n.i.WakeW
}

// awake is the share of the time in which it does not sleep, by every way in
// which the devices that come and go can be on or off.
func (n *naiveInverter) awake(gear []plan.Device, h float64) float64 {
	if n.i.SleepA == nil || n.steady(gear, h) >= n.i.WakeW {
		return 1
	}
	var duties []float64
	for _, g := range gear {
		for range g.Count {
			if g.Route == plan.RouteAC && inHours(g.Hours, h) && n.wakes(g, gear, h) {
				duties = append(duties, g.DutyPct/100)
			}
		}
	}
	awake := 0.0
	for set := 1; set < 1<<len(duties); set++ {
		p := 1.0
		for k, d := range duties {
			if set>>k&1 == 1 {
				p *= d
			} else {
				p *= 1 - d
			}
		}
		awake += p
	}
	return awake
}

// draw returns what the inverter takes, and what of it while it sleeps or idles.
func (n *naiveInverter) draw(w, va, awake float64) (all, idle float64) {
	rated, standby := n.i.RatedW, 12.8*n.i.StandbyA
	full := rated*100/n.i.EfficiencyPct - rated - standby
	linear := full / 2
	if n.i.EfficiencyHalfPct != nil {
		half := rated/2*100 / *n.i.EfficiencyHalfPct - rated/2 - standby
		linear = 4*half - full // linear/2 + (full - linear)/4 = half
	}
	if n.i.SleepA != nil {
		idle = (1 - awake) * 12.8 * *n.i.SleepA
	}
	if awake == 0 {
		return idle, idle
	}
	x := va / awake / rated
	all = idle + awake*(w/awake+standby+linear*x+(full-linear)*x*x)
	if w == 0 {
		return all, all
	}
	return all, idle
}

// naiveExtra is what a modified sine adds to a motor's watts, of the figures
// that power states as common practice.
func naiveExtra(g plan.Device, i plan.Inverter) float64 {
	switch {
	case i.Wave != plan.ModifiedSine || g.Route != plan.RouteAC:
	case g.Sensitivity == plan.SensitivityUniversalMotor:
		return 0.05
	case g.Sensitivity == plan.SensitivityInductionMotor:
		return 0.20
	}
	return 0
}
