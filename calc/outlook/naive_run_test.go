package outlook

import (
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"duskline/calc/golden"
	"duskline/calc/plan"
)

// Run against the naive second-by-second simulation. The bounds leave room for
// the naive one's own coarseness, which moves by whole seconds and holds each
// second's first volts to its end. Plans in which the battery comes to be held
// back run at steps of a minute and leave some W·h besides: the step in which
// that happens stands at the held volts as a whole, and takes its sun first.
func TestRunAgainstNaiveSecondSteps(t *testing.T) {
	for _, c := range []struct {
		name string
		edit func(*plan.Plan)
		held float64 // W·h for the steps in which the battery comes to be held back
	}{
		{"dark, dc watts and amps, usb", func(p *plan.Plan) {
			p.Panels.List, p.Trip.LengthH = nil, 24
			fan := deviceOf24h(plan.RouteDC, 1)
			fan.PowerW, fan.CurrentA, fan.Count, fan.DutyPct = nil, ptr(1.5), 2, 60
			p.Gear = append(p.Gear, fan, deviceOf24h(plan.RouteDC, 20))
		}, 0},
		{"dark, inverter over midnight", func(p *plan.Plan) {
			p.Panels.List, p.Trip.LengthH, p.Case.Switch = nil, 24, plan.DCAndAC
			p.Case.InverterHours = []plan.Window{{FromH: 22.13, ToH: 2.6}}
			lamp := deviceOf24h(plan.RouteAC, 80)
			lamp.Hours = []plan.Window{{FromH: 23, ToH: 1.25}}
			p.Gear = append(p.Gear, lamp)
		}, 0},
		{"pwm sun", func(p *plan.Plan) {
			p.Case.Controller.Kind, p.Trip.LengthH, p.Trip.StartChargePct = plan.PWM, 36, 40
			p.Sky.ClearSkyIndex = []float64{0.4, 0.9}
			p.Gear = append(p.Gear, deviceOf24h(plan.RouteDC, 12))
		}, 0},
		{"mppt sun, clipped, two planes", func(p *plan.Plan) {
			p.Trip.StepMin = 1
			p.Case.Controller.LimitA, p.Trip.LengthH, p.Trip.StartChargePct = 6, 30, 10
			p.Panels.List = append(p.Panels.List, plan.Panel{Name: "East", Lie: plan.LieFixed, AimsPerDay: 1, Count: 2, RatedW: 60, TiltDeg: 50, AzimuthDeg: 90, LossPct: 10})
		}, 0},
		{"mppt, end to end, fills up", func(p *plan.Plan) {
			p.Trip.StepMin = 1
			p.Trip.LengthH, p.Trip.StartChargePct, p.Case.Controller.InputMaxV = 30, 85, 100
			p.Panels.Joined = plan.EndToEnd
			p.Panels.List = append(p.Panels.List, plan.Panel{Name: "Second", Lie: plan.LieFixed, AimsPerDay: 1, Count: 1, RatedW: 80, TiltDeg: 10, AzimuthDeg: 250})
		}, 0},
		{"wall charge to full, with sun", func(p *plan.Plan) {
			p.Trip.StepMin = 1
			p.Trip.WallHours = []plan.Window{{FromH: 8, ToH: 16.5}}
			p.Trip.LengthH, p.Trip.StartChargePct = 30, 30
			p.Gear = append(p.Gear, deviceOf24h(plan.RouteDC, 15))
		}, 0.6},
		{"agm, pwm, wall", func(p *plan.Plan) {
			p.Trip.StepMin = 1
			agm(p)
			p.Case.Controller.Kind, p.Trip.LengthH, p.Trip.StartChargePct = plan.PWM, 30, 60
			p.Trip.WallHours = []plan.Window{{FromH: 20, ToH: 23}}
			p.Gear = append(p.Gear, deviceOf24h(plan.RouteDC, 18))
		}, 0.15},
		{"runs out, comes back", func(p *plan.Plan) {
			p.Trip.StepMin = 1 // it fills up between
			p.Trip.StartChargePct, p.Trip.LengthH, p.Case.Battery.CapacityAh = 60, 36, 25
			p.Case.Battery.AlarmDelayS, p.Case.Battery.CutoffDelayS, p.Case.Battery.ReconnectS = 45, 90, 900
			p.Case.Battery.ReconnectV = 13.1
			p.Gear = []plan.Device{deviceOf24h(plan.RouteDC, 35)}
		}, 0},
		{"runs empty", func(p *plan.Plan) {
			agm(p)
			p.Panels.List, p.Case.Battery.CapacityAh, p.Trip.StartChargePct, p.Trip.LengthH = nil, 10, 50, 12
			p.Trip.StepMin = 1 // the wells' exchange is that of the cold at a step's start
			p.Gear = []plan.Device{deviceOf24h(plan.RouteDC, 12)}
		}, 0},
		{"frost at night, gear all the time", func(p *plan.Plan) {
			p.Trip.StepMin = 1
			p.Sky.WarmestC, p.Sky.ColdestC, p.Trip.LengthH, p.Trip.StartChargePct = 5, -6, 36, 50
			p.Gear = append(p.Gear, deviceOf24h(plan.RouteDC, 14))
		}, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := bench()
			c.edit(&p)
			againstNaive(t, p, c.held)
		})
	}
}

// The same where the clock is moved in the second night.
func TestRunAcrossAChangeAgainstNaiveSecondSteps(t *testing.T) {
	eachChange(t, func(t *testing.T, c clockChange, p plan.Plan) {
		p.Trip.LengthH, p.Trip.StartChargePct, p.Trip.StepMin = 48, 50, 5
		p.Sky.ClearSkyIndex, p.Case.Switch = []float64{0.4, 0.8, 0.6}, plan.DCAndAC
		p.Case.InverterHours = []plan.Window{{FromH: 22.13, ToH: 2.6}}
		lamp := deviceOf24h(plan.RouteAC, 40)
		lamp.Hours = []plan.Window{{FromH: 23, ToH: 3.25}}
		pump := deviceOf24h(plan.RouteDC, 25)
		pump.Hours = []plan.Window{{FromH: 2.1, ToH: 2.9}, {FromH: 6.5, ToH: 8}}
		refill := func(from, to float64) plan.Device {
			return plan.Device{Name: "Telephone", Count: 2, Route: plan.RouteUSB, RefillWh: ptr(12), RefillsPerDay: 1.5,
				RefillEfficiencyPct: 80, DutyPct: 100, Hours: []plan.Window{{FromH: from, ToH: to}}}
		}
		p.Gear = append(p.Gear, lamp, pump, refill(2, 3), refill(1.2, 2.4), refill(22, 6))
		p.Trip.WallHours = []plan.Window{{FromH: 1.5, ToH: 2.5}}
		againstNaive(t, p, 0)
	})
}

// The same under skies of every kind, with what stands on the horizon and near
// by, and panels that are turned after the sun.
func TestRunUnderEverySkyAgainstNaiveSecondSteps(t *testing.T) {
	for _, c := range []struct {
		name string
		edit func(*plan.Plan)
	}{
		{"looks, horizon, shade, turned", func(p *plan.Plan) {
			p.Sky.Light, p.Sky.SkyStates = plan.BySkyStates, []plan.SkyState{plan.SkyClear, plan.SkySmoke, plan.SkyHalfCloud}
			p.Sky.Horizon = []plan.HorizonPoint{{AzimuthDeg: 90, HeightDeg: 22}, {AzimuthDeg: 180, HeightDeg: 8}, {AzimuthDeg: 280, HeightDeg: 31}}
			l := &p.Panels.List[0]
			l.Lie, l.AimsPerDay, l.TiltDeg = plan.LieTurned, 3, 40
			l.ShadeHours, l.ShadedPct = []plan.Window{{FromH: 9.25, ToH: 10.75}}, 100
		}},
		{"snow, perez, physical glass, two axes beside a lid", func(p *plan.Plan) {
			p.Sky.Surface, p.Sky.SkyModel, p.Sky.GlassModel = plan.SurfaceSnow, plan.Perez, plan.GlassPhysical
			p.Sky.ClearSkyIndex = []float64{0.7, 0.9}
			p.Sky.Horizon = []plan.HorizonPoint{{AzimuthDeg: 0, HeightDeg: 12}}
			p.Panels.List[0].Lie, p.Panels.List[0].AimsPerDay = plan.LieTwoAxis, 4
			p.Panels.List = append(p.Panels.List, plan.Panel{Name: "Lid", Lie: plan.LieOnLid, AimsPerDay: 1, Count: 1, RatedW: 40, TiltDeg: 70, AzimuthDeg: 120})
		}},
		{"weather file", func(p *plan.Plan) {
			p.Sky.Light, p.Sky.SkyModel = plan.ByWeatherFile, plan.Perez
			p.Sky.WeatherFile = cloudyWeek(*p)
		}},
		{"weather file across a change", func(p *plan.Plan) {
			*p = clockChanges[1].of(t)
			p.Trip.LengthH, p.Sky.Light = 36, plan.ByWeatherFile
			p.Sky.WeatherFile = cloudyWeek(*p)
		}},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := bench()
			p.Trip.StepMin, p.Trip.LengthH, p.Trip.StartChargePct, p.Case.Battery.CapacityAh = 5, 40, 30, 120
			c.edit(&p)
			p.Gear = append(p.Gear, deviceOf24h(plan.RouteDC, 15))
			againstNaive(t, p, 0)
		})
	}
}

// cloudyWeek is a weather file made for a trip: hours of the clear sky, each
// thinned by a factor of its own, with more of a beam than such a sky has. As
// of a file whose clock is off, the last light of a day is far too bright for
// the hour, and fades into the night.
func cloudyWeek(p plan.Plan) *plan.Weather {
	start := p.Trip.Start.UTC().Truncate(time.Hour).Add(-2 * time.Hour)
	w := &plan.Weather{Name: "Made for this test", Start: start}
	s := newNaiveSky(p)
	for i := range 60 {
		var ghi, dhi float64
		for m := range 60 {
			at := start.Add(time.Duration(i)*time.Hour + time.Duration(m)*time.Minute + 30*time.Second).In(p.Trip.Start.Location())
			if s.sun(at).Elevation > 0 {
				l := s.clear(at, p.Sky.Turbidity)
				ghi, dhi = ghi+float64(l.GHI)/60, dhi+float64(l.DHI)/60
			}
		}
		share := 0.35 + 0.6*math.Abs(math.Sin(float64(i*i)))
		ghi *= share
		if n := len(w.GHI); n > 0 && ghi < 50 && w.GHI[n-1] > ghi {
			ghi = w.GHI[n-1] / 2
		}
		w.GHI = append(w.GHI, math.Round(ghi))
		w.DHI = append(w.DHI, math.Round(math.Min(ghi, dhi*(1.6-share))))
		w.AirC = append(w.AirC, math.Round(150+80*math.Sin(float64(i)/4))/10)
		w.WindMs = append(w.WindMs, math.Round(30+20*math.Cos(float64(i)/3))/10)
	}
	return w
}

// againstNaive compares charge, events and energies of a Plan; held is W·h
// for the steps in which the battery comes to be held back.
func againstNaive(t *testing.T, p plan.Plan, held float64) {
	t.Helper()
	o, n := unfolded(t, p), simulate(p)
	charge := golden.Worst{What: "charge, points", Limit: 0.02}
	lead := p.Case.Battery.Chemistry != plan.LiFePO4
	if lead { // what stays of the amp-hours near full is one figure for each sixty-fourth of the charge
		charge.Limit = 0.04
	}
	for i, s := range n.charge {
		charge.Add(i, 100*(float64(o.Series.Charge[i+1])-s))
	}
	charge.Report(t)
	core := golden.Worst{What: "battery, K", Limit: 0.1}
	for i, c := range n.core {
		core.Add(i, float64(o.Series.Core[i+1])-c)
	}
	core.Report(t)
	if len(p.Panels.List) > 0 {
		light := golden.Worst{What: "light, W/m²", Limit: 1e-4}
		for i, l := range n.light {
			light.Add(i, float64(o.Series.Light[i+1])-l)
		}
		light.Report(t)
	}

	sameEvents(t, p, o, n, math.Inf(1))

	flow := func(what string, got, want float64) {
		of := 0.001
		if what == string(BatteryHeat) {
			of = 0.004 // what is left between large flows: Run takes the resistance of a step from its start
		}
		if what == string(BatteryCharging) && lead {
			of = 0.01
		}
		if math.Abs(got-want) > of*math.Abs(want)+0.02+held {
			t.Errorf("%s %.4f Wh, naively %.4f Wh", what, got, want)
		}
	}
	l := &o.Ledger
	for _, list := range [][]Flow{l.Sources, l.Losses} {
		for _, f := range list {
			flow(string(f.Name), float64(f.Energy), n.flows[string(f.Name)])
		}
	}
	for i, f := range l.Uses {
		flow(p.Gear[i].Name, float64(f.Energy), n.gear[i])
	}
	flow("change", float64(l.Change), n.change)
}

// unfolded is mustRun with every event told by itself.
func unfolded(t *testing.T, p plan.Plan) *Outlook {
	t.Helper()
	o := mustRun(t, p)
	all, err := run(neutral(p))
	if err != nil {
		t.Fatal(err)
	}
	o.Events = all.Events
	return o
}

// creeps says that the naive volts hardly moved between two instants, so that a
// few millivolts decide which of them it is.
func (n *naiveResult) creeps(a, b float64) bool {
	at := func(t float64) float64 { return n.volts[max(0, min(int(t)-2, len(n.volts)-1))] }
	return math.Abs(a-b) < 120 && math.Abs(at(a)-at(b)) < 0.012
}

// sameEvents compares the instants at which something switched. The naive ones
// come by whole seconds, and each that is late by one moves those after it,
// the more the flatter the battery's curve; and in parts of a hundredth of its
// charge a battery gives out under its load up to six seconds early. Half of
// the shortest step is allowed, and for each one of its kind before it two
// seconds more. A lead-acid battery comes to be held by a jump of its volts, at an
// instant that Run rounds to a step: so much is allowed to its stages.
//
// Nothing after so many seconds is compared.
func sameEvents(t *testing.T, p plan.Plan, o *Outlook, n naiveResult, until float64) {
	t.Helper()
	all := map[EventKind][]float64{AlarmOn: n.alarm, AlarmOff: n.silent, CutOff: n.cut, Reconnect: n.back}
	for _, kind := range []EventKind{Float, Resting, ChargesAgain, InverterLow, InverterBack} {
		all[kind] = n.stages[kind]
	}
	for kind, want := range all {
		late := 30.0
		if p.Case.Battery.Chemistry != plan.LiFePO4 {
			late = 45 // its volts creep while it charges, and the model reads its resistance off a grid, to half a hundredth
			if kind == Float || kind == Resting {
				late = 60 * float64(p.Trip.StepMin)
			}
		}
		var got []float64
		for k, at := range want {
			if at > until {
				want = want[:k]
				break
			}
		}
		for _, e := range o.Events {
			if e.Kind == kind && seconds(p, e) <= until {
				got = append(got, seconds(p, e))
			}
		}
		if len(got) != len(want) {
			t.Errorf("%s at %.1f s, naively at %.0f s", kind, got, want)
			continue
		}
		for i := range got {
			t.Logf("%s at %.1f s, naively at %.0f s", kind, got[i], want[i])
			if math.Abs(got[i]-want[i]) > late+2*float64(i) && !n.creeps(got[i], want[i]) {
				t.Errorf("%s at %.1f s, naively at %.0f s", kind, got[i], want[i])
			}
		}
	}
}

// Alarm, cut-off and reconnection of random plans in the dark, with loads and
// a wall charger that come and go around a battery that is nearly empty.
func TestEventsAgainstNaiveSecondSteps(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 2))
	in := func(a, b float64) float64 { return a + (b-a)*r.Float64() }
	events := 0
	for i := range 60 {
		p := bench()
		if i%3 == 2 {
			agm(&p)
		}
		b := &p.Case.Battery
		p.Panels.List, p.Trip.LengthH, p.Trip.StepMin = nil, 8, []int{1, 5, 15}[r.IntN(3)]
		p.Sky.WarmestC, p.Sky.ColdestC = 25, 25
		b.CapacityAh, b.ResistanceMohm = in(3, 20), in(5, 150)
		b.AlarmDelayS, b.CutoffDelayS, b.ReconnectS = math.Round(in(0, 600)), math.Round(in(0, 600)), math.Round(in(0, 1800))
		b.AlarmV, b.CutoffV, b.ReconnectV = in(11.6, 12.6), in(10, 11.6), in(12, 13)
		p.Trip.StartChargePct = in(2, 25)
		p.Case.Meters.StandbyA = 0.5 // or the volts creep past a mark, and a second is nothing
		hours := func(most float64) (list []plan.Window) {
			for h := 18 + in(0, 1); h < 26; {
				w := plan.Window{FromH: math.Mod(h, 24), ToH: math.Mod(h+in(0.02, most), 24)}
				list = append(list, w)
				if h += most + in(0.1, 1); len(list) == plan.MaxWindows {
					break
				}
			}
			return list
		}
		// Not so strong that lead-acid holds it back: there the volts jump to
		// those at which charging is held, at an instant that a step rounds.
		p.Case.WallCharger.CurrentA, p.Trip.WallHours = in(0.1, 0.35)*b.CapacityAh, hours(1)
		p.Gear = []plan.Device{deviceOf24h(plan.RouteDC, in(1, 60)), deviceOf24h(plan.RouteUSB, in(1, 20))}
		p.Gear[0].Hours, p.Gear[1].Hours = hours(2), hours(0.5)
		o, n := unfolded(t, p), simulate(p)
		// A battery that gives out under its load does so later naively, by
		// some seconds, and hands them on from one time to the next.
		until := math.Inf(1)
		if len(n.cut) > 1 {
			until = n.cut[1] + 45
		}
		if n.race > 0 { // and whether it takes the electronics with it may hang on one
			until = math.Min(until, n.race-15)
		}
		for _, e := range o.Events {
			if seconds(p, e) <= until {
				events++
			}
		}
		if sameEvents(t, p, o, n, until); t.Failed() {
			t.Fatalf("plan %d: steps of %d min, %+v, wall %v A in %v, gear %v W in %v and %v W in %v", i, p.Trip.StepMin, *b,
				p.Case.WallCharger.CurrentA, p.Trip.WallHours, *p.Gear[0].PowerW, p.Gear[0].Hours, *p.Gear[1].PowerW, p.Gear[1].Hours)
		}
	}
	t.Logf("%d events", events)
	if events < 200 {
		t.Errorf("only %d events compared", events)
	}
}
