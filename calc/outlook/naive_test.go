package outlook

import (
	"math"
	"time"

	"duskline/calc/panel"
	"duskline/calc/plan"
	"duskline/calc/qty"
)

// A second simulation, as plain as can be, for Run to be held against: one
// second after the other, the battery's differential equations taken one second
// along the slope of its middle (naive_battery_test.go), volts found by halving. It shares
// nothing with this package: of the models it takes the sun's position and
// light, the panels' curves and the chemistry's tables (naive_sky_test.go joins
// sun and panels), and does the arithmetic of battery, controller, charger,
// outlets, inverter, alarm and cut-off once more. Light and air are those of the middle
// of the Plan's steps, as Run says of its own.

type naiveResult struct {
	charge []float64 // at the end of each of the Plan's steps
	core   []float64 // °C, likewise
	light  []float64 // W/m² on the panels, of each of the Plan's steps
	alarm  []float64 // s after start: the alarm comes on
	cut    []float64
	back   []float64
	silent []float64 // the alarm falls silent
	stages map[EventKind][]float64
	flows  map[string]float64 // W·h
	gear   []float64
	change float64
	gas    float64   // A·h
	volts  []float64 // of each second
	race   float64   // s after start of a cut-off after which it hangs on a second whether, or when, the electronics are on; 0: none
}

type naive struct {
	p    plan.Plan
	cell naiveBattery

	// of the second under way
	panels      *panel.Array
	pv, pi      float64 // their maximum power point
	dead        bool    // they do not reach the controller's start volts
	wall        float64
	vehicle     float64
	closed      bool // nothing charges
	hold        float64
	watts, amps float64
}

// sun returns the amps that the controller offers at v volts.
func (n *naive) sun(v float64) float64 {
	if n.panels == nil || n.dead || n.closed {
		return 0
	}
	c := n.p.Case.Controller
	if c.Kind == plan.PWM {
		return float64(n.panels.Current(qty.Volt(v + 0.4)))
	}
	p := n.pv * n.pi
	if n.pv < v+1 {
		p = (v + 1) * float64(n.panels.Current(qty.Volt(v+1)))
	}
	return math.Min(naiveConverter(c, p)/v, c.LimitA)
}

// fixed returns the amps of wall and vehicle charger.
func (n *naive) fixed() float64 {
	if n.closed {
		return 0
	}
	return n.wall + n.vehicle
}

func (n *naive) net(v float64) float64 { return n.sun(v) + n.fixed() - n.amps - n.watts/v }

// fall returns where a falling function passes zero.
func fall(lo, hi float64, f func(float64) float64) float64 {
	for range 44 {
		if m := (lo + hi) / 2; f(m) > 0 {
			lo = m
		} else {
			hi = m
		}
	}
	return (lo + hi) / 2
}

func inHours(list []plan.Window, h float64) bool {
	for _, w := range list {
		length := math.Mod(w.ToH-w.FromH+24, 24)
		if length == 0 {
			length = 24
		}
		if math.Mod(h-w.FromH+24, 24) < length {
			return true
		}
	}
	return false
}

// volts solves one instant: volts at the terminals, amps into the battery,
// and whether the battery holds the sources back.
func (n *naive) volts() (v, i float64, held bool) {
	c := &n.cell
	rest, ohm := c.stands(), c.ohm()
	v = fall(math.Sqrt(ohm*n.watts), 30, func(v float64) float64 {
		i := n.net(v)
		return rest + ohm*i + c.lift(i) - v
	})
	if v <= rest {
		return v, (v - rest) / ohm, false
	}
	// The amps that bring it to v volts.
	takes := func(v float64) float64 {
		return fall(0, math.Max(0, (v-rest)/ohm), func(i float64) float64 { return v - rest - ohm*i - c.lift(i) })
	}
	i = takes(v)
	most := c.accepts()
	switch {
	case v <= n.hold && i <= most:
		return v, i, false
	case n.net(n.hold) >= math.Min(most, takes(n.hold)):
		return math.Max(n.hold, rest), math.Min(most, takes(n.hold)), true
	}
	v = fall(rest, n.hold, func(v float64) float64 { return n.net(v) - most })
	return v, most, true
}

func simulate(p plan.Plan) naiveResult {
	p = neutral(p)
	n := naive{p: p}
	sky := newNaiveSky(p)
	out := naiveResult{flows: map[string]float64{}, gear: make([]float64, len(p.Gear)), stages: map[EventKind][]float64{}}
	c, b := p.Case, p.Case.Battery
	step := p.Trip.StepMin * 60
	seconds := int(math.Round(p.Trip.LengthH * 3600))
	refills := make([]naiveRefill, len(p.Gear))
	for k, g := range p.Gear {
		refills[k].begin(g, p.Trip.Start)
	}
	on, dead, alarm := true, false, false
	charging, inverter := naiveStages{b: b, stage: "bulk"}, naiveInverter{i: c.Inverter}
	var low, under, high float64
	var air, sun float64
	const dt = 1.0
	for t := 0; t < seconds; t++ {
		now := p.Trip.Start.Add(time.Duration(t) * time.Second)
		if t%step == 0 {
			middle := now.Add(time.Duration(step) * time.Second / 2)
			h := float64(middle.Hour()) + float64(middle.Minute())/60 + float64(middle.Second())/3600
			air = (p.Sky.WarmestC+p.Sky.ColdestC)/2 + (p.Sky.WarmestC-p.Sky.ColdestC)/2*math.Cos(2*math.Pi*(h-15)/24)
			wind := p.Sky.WindMs
			if w := p.Sky.WeatherFile; w != nil {
				air, wind = between(w.AirC, middle.Sub(w.Start)), between(w.WindMs, middle.Sub(w.Start))
			}
			var light float64
			n.panels, light = sky.array(middle, h, air, wind)
			if t == 0 { // at rest, as warm as the air of the very start
				first := air
				if p.Sky.WeatherFile == nil {
					h := float64(p.Trip.Start.Hour()) + float64(p.Trip.Start.Minute())/60
					first = (p.Sky.WarmestC+p.Sky.ColdestC)/2 + (p.Sky.WarmestC-p.Sky.ColdestC)/2*math.Cos(2*math.Pi*(h-15)/24)
				} else {
					first = between(p.Sky.WeatherFile.AirC, p.Trip.Start.Sub(p.Sky.WeatherFile.Start))
				}
				n.cell.begin(b, p.Trip.StartChargePct/100, first)
			}
			sun = 0
			if c.Stands == plan.InSun { // a lid of 0.083 m² at 50 A·h, a fifth of its light
				sun = 0.2 * 0.083 * math.Pow(b.CapacityAh/50, 2.0/3) * math.Max(0, float64(sky.light(middle).GHI))
			}
			out.light = append(out.light, light)
			if n.panels != nil {
				v, i := n.panels.MaxPower()
				n.pv, n.pi = float64(v), float64(i)
				n.dead = c.Controller.StartV > 0 && n.panels.Current(qty.Volt(c.Controller.StartV)) <= 0
			}
		}
		h := float64(now.Hour()) + float64(now.Minute())/60 + (float64(now.Second())+0.5)/3600

		// What hangs on the bus.
		generator := n.chargers(h)
		own := c.Controller.StandbyA
		if c.Controller.NightA != nil && (n.panels == nil || n.dead) {
			own = *c.Controller.NightA
		}
		n.watts, n.amps = 0, c.Meters.StandbyA+own
		if dead {
			n.amps = 0
		}
		var dcW, dcA, usbW, acW, acVA, acIn, acIdle float64
		given := make([]float64, len(p.Gear)) // W, and A on DC
		dcOn := on && c.Switch != plan.ACOnly
		acOn := on && c.Switch != plan.DCOnly && c.Inverter.RatedW > 0 && inHours(c.InverterHours, h)
		acOn = inverter.switchedOn(acOn)
		awake := 1.0
		if acOn {
			awake = inverter.awake(p.Gear, h)
		}
		for k, g := range p.Gear {
			if g.RefillWh != nil {
				if refills[k].runs(h) && dcOn {
					given[k] = refills[k].watts
					usbW += given[k]
				}
				continue
			}
			if !inHours(g.Hours, h) {
				continue
			}
			share := g.DutyPct / 100 * float64(g.Count)
			switch {
			case g.Route == plan.RouteDC && dcOn && g.CurrentA != nil:
				given[k] = *g.CurrentA * share
				dcA += given[k]
			case g.Route == plan.RouteDC && dcOn:
				given[k] = *g.PowerW * share
				dcW += given[k]
			case g.Route == plan.RouteUSB && dcOn:
				given[k] = *g.PowerW * share
				usbW += given[k]
			case g.Route == plan.RouteAC && acOn:
				given[k] = *g.PowerW * share * (1 + naiveExtra(g, c.Inverter))
				if !inverter.wakes(g, p.Gear, h) {
					given[k] *= awake
				}
				acW += given[k]
				acVA += given[k] / g.PowerFactor
			}
		}
		if dcOn {
			n.amps += c.DC.StandbyA + c.USB.StandbyA + dcA*100/c.DC.EfficiencyPct
			n.watts += dcW*100/c.DC.EfficiencyPct + usbW*100/c.USB.EfficiencyPct
		}
		if acOn {
			acIn, acIdle = inverter.draw(acW, acVA, awake)
			n.watts += acIn
		}

		// Volts and amps of the second's middle, along the slope of its start.
		v, i, _ := charging.volts(&n)
		start := n.cell
		n.cell.on(v, i, air, sun, 0.5)
		v, i, held := charging.volts(&n)
		n.cell = start

		// The books.
		wh := func(name string, w float64) { out.flows[name] += w * dt / 3600 }
		need := i + n.amps + n.watts/v
		fromSun := n.sun(v)
		fixed := n.fixed()
		if held {
			fromSun = math.Min(fromSun, need)
			fixed = need - fromSun
		}
		fromWall := math.Min(fixed, n.wall)
		fromVehicle := fixed - fromWall
		atPanel := fromSun * (v + 0.4)
		if c.Controller.Kind == plan.MPPT {
			if atPanel = 0; fromSun > 0 {
				atPanel = fromSun*v + naiveLoss(c.Controller, fromSun*v)
			}
		}
		wh("sun", atPanel)
		if generator {
			wh("generator", fromWall*v*100/c.WallCharger.EfficiencyPct)
		} else {
			wh("wall", fromWall*v*100/c.WallCharger.EfficiencyPct)
		}
		if vc := c.Vehicle; vc != nil {
			wh("vehicle", fromVehicle*v*100/vc.EfficiencyPct)
			wh("vehicle_charger", fromVehicle*v*(100/vc.EfficiencyPct-1))
		}
		wh("wall_charger", fromWall*v*(100/c.WallCharger.EfficiencyPct-1))
		wh("controller", atPanel-fromSun*v)
		if !dead {
			wh("controller", own*v)
			wh("meters", c.Meters.StandbyA*v)
		}
		if dcOn {
			wh("dc_outlet", (dcW+dcA*v)*(100/c.DC.EfficiencyPct-1)+c.DC.StandbyA*v)
			wh("usb_outlet", usbW*(100/c.USB.EfficiencyPct-1)+c.USB.StandbyA*v)
		}
		wh("inverter", acIn-acIdle-acW)
		wh("inverter_idle", acIdle)
		for k, g := range p.Gear {
			w := given[k]
			if g.CurrentA != nil {
				w *= v
			}
			out.gear[k] += w * dt / 3600
		}

		// The battery.
		x := n.cell.on(v, i, air, sun, 1)
		wh("battery_heat", x.heat)
		wh("battery_charge", x.charging)
		wh("battery_standing", x.standing)
		out.change += x.stored / 3600
		out.gas += x.gas / 3600
		s := n.cell.s

		out.volts = append(out.volts, v)
		event := func(kind EventKind, at float64) { out.stages[kind] = append(out.stages[kind], at) }
		charging.pass(event, float64(t), held, v, fromSun+fixed)
		inverter.pass(event, float64(t), acOn, v)

		// Alarm, cut-off, reconnection.
		low++
		if v >= b.AlarmV {
			if low = 0; alarm {
				out.silent = append(out.silent, float64(t))
			}
			alarm = false
		} else if low >= b.AlarmDelayS && !alarm {
			alarm = true
			out.alarm = append(out.alarm, float64(t+1))
		}
		switch {
		case on:
			under++
			if v >= b.CutoffV {
				under = 0
			}
			if under >= math.Max(b.CutoffDelayS, 1) || n.cell.free() <= 0 {
				if out.race == 0 && (n.cell.free() < 0.004 && under >= b.CutoffDelayS-15 || math.Abs(n.cell.s-0.01) < 0.002) {
					out.race = float64(t)
				}
				on, under, high = false, 0, 0
				dead = n.cell.free() <= 0
				out.cut = append(out.cut, float64(t+1))
			}
		default:
			high++
			if v < b.ReconnectV || dead {
				high = 0
			}
			if high >= math.Max(b.ReconnectS, 1) && float64(t+1) >= out.cut[len(out.cut)-1]+60 {
				on, high = true, 0
				inverter.down = false
				out.back = append(out.back, float64(t+1))
			}
			dead = n.cell.free() <= 0 || dead && n.cell.free() <= 0.01
		}
		if (t+1)%step == 0 {
			out.charge = append(out.charge, s)
			out.core = append(out.core, n.cell.core)
		}
	}
	return out
}

// dateOf numbers the dates of the calendar.
func dateOf(t time.Time) int {
	y, m, d := t.Date()
	return int(time.Date(y, m, d, 0, 0, 0, 0, time.UTC).Unix() / 86400)
}

// A naiveRefill is a device on USB that refills its own battery in one window.
// It is plugged in when the clock comes to the window's start, or leaps over
// it, and is full after as many hours as the window has, whatever the clock
// shows by then.
type naiveRefill struct {
	watts, from, length float64 // W, h, h
	before              float64 // hour a second ago
	left                float64 // s until it is full
	since               float64 // s since it was plugged in
}

func (n *naiveRefill) begin(g plan.Device, start time.Time) {
	if g.RefillWh == nil {
		return
	}
	w := g.Hours[0]
	n.from, n.length = w.FromH, math.Mod(w.ToH-w.FromH+24, 24)
	n.watts = *g.RefillWh * g.RefillsPerDay * 100 / g.RefillEfficiencyPct / n.length * float64(g.Count)
	n.before = float64(start.Hour()) + float64(start.Minute())/60
	n.since = math.Inf(1)
	if inHours(g.Hours, n.before) {
		n.left = 3600 * (n.length - math.Mod(n.before-n.from+24, 24))
	}
}

// runs passes a second, at whose middle the clock shows that hour.
func (n *naiveRefill) runs(hour float64) bool {
	n.left--
	n.since++
	moved := math.Mod(hour-n.before+36, 24) - 12 // a clock put back comes to nothing new
	if moved > 0 && math.Mod(n.from-n.before+24, 24) <= moved && n.since > 12*3600 {
		n.left, n.since = 3600*n.length, 0
	}
	n.before = hour
	return n.left > 0
}
