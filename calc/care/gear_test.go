package care

import (
	"fmt"
	"math"
	"testing"
	"time"

	"duskline/calc/outlook"
	"duskline/calc/plan"
	"duskline/calc/qty"
)

// Arithmetic by hand: the camp's fridge 40 W × 40 % all day, a light of 10 W
// for 5 h, a kettle of 200 W for a quarter of an hour; outlets 98 %; meters 30
// and controller 10 mA, USB 20 mA standby; an inverter of 300 W, 88 %, 0.5 A ×
// 12.8 V standby, on for 2 h.
func TestDrawsByHand(t *testing.T) {
	p := camp()
	h := houseOf(t, sound(t, p))
	inverter := h.inverter.Draw(0)*7/4 + h.inverter.Draw(200)/4
	usual := h.usual(nil, -1)
	near(t, "usual, W", usual.watts, (40*0.4*24+10*5)/0.98/24+float64(inverter)/24, 1e-9)
	near(t, "usual, A", usual.amps, 0.06, 1e-12)
	near(t, "of the inverter, W", usual.ac, float64(inverter)/24, 1e-9)
	most, at := h.largest()
	near(t, "largest, W", most.watts, 40/0.98+float64(h.inverter.Draw(200)), 1e-9)
	near(t, "its hour", at.middle, 7.125, 1e-9)
	near(t, "standing, W", h.standing.watts, 6.4, 1e-9)
	near(t, "standing, A", h.standing.amps, 0.06, 1e-12)

	off := []bool{true, false, false, false}
	near(t, "without the fridge, W", h.usual(off, -1).watts, 10*5/0.98/24+float64(inverter)/24, 1e-9)
	off[3] = true
	near(t, "without the inverter, W", h.usual(off, -1).watts, 10*5/0.98/24, 1e-9)
	// In the light's hours without it: the fridge alone, and no inverter.
	near(t, "beside the light, W", h.usual(nil, 1).watts, 16/0.98, 1e-9)
}

// What the switch, the inverter's hours and a trip take from the draws.
func TestDrawsOfGearWithoutPower(t *testing.T) {
	p := camp()
	p.Case.Switch = plan.DCOnly
	h := houseOf(t, p)
	if u := h.usual(nil, -1); u.ac != 0 {
		t.Errorf("the inverter draws %g W with the switch at DC", u.ac)
	}
	near(t, "largest with the switch at DC, W", first2(h.largest()).watts, 50/0.98, 1e-9)

	p = camp()
	p.Case.Switch = plan.ACOnly
	h = houseOf(t, p)
	near(t, "usual with the switch at AC: of the kettle's quarter, W", h.usual(nil, -1).watts, float64(h.inverter.Draw(200)), 1e-9)

	p = camp()
	p.Gear[2].PowerW = ptr(400.0) // over the inverter's 300 W: it trips
	h = houseOf(t, p)
	near(t, "largest of an inverter that trips: all it can, W", first2(h.largest()).watts, 40/0.98+float64(h.inverter.Draw(300)), 1e-9)
	near(t, "usual of an inverter that trips, of it, W", h.usual(nil, -1).ac*24, float64(h.inverter.Draw(0))*7/4, 1e-9)

	p = camp()
	p.Gear = nil
	h = houseOf(t, p)
	if u := h.usual(nil, -1); u != h.standing {
		t.Errorf("usual without gear %+v, want %+v", u, h.standing)
	}
}

func first2(d pull, _ piece) pull { return d }

// The draws against an Outlook of two days in the dark: its amps times volts
// over the hours in which gear runs, which here are all. The Outlook asks each
// device at each hour by itself.
func TestUsualAgainstOutlook(t *testing.T) {
	for _, c := range []struct {
		name string
		edit func(*plan.Plan)
	}{
		{"camp", func(*plan.Plan) {}},
		{"amps and USB", func(p *plan.Plan) {
			p.Gear[1].PowerW, p.Gear[1].CurrentA = nil, ptr(0.8)
			p.Gear = append(p.Gear, gear("phone", plan.RouteUSB, 5, plan.Window{FromH: 1, ToH: 4}))
		}},
		{"modified sine, motor", func(p *plan.Plan) {
			p.Case.Inverter.Wave, p.Gear[2].Sensitivity, p.Gear[2].PowerFactor = plan.ModifiedSine, plan.SensitivityInductionMotor, 0.9
		}},
		{"an inverter that sleeps", func(p *plan.Plan) {
			p.Case.Inverter.SleepA, p.Case.Inverter.WakeW = ptr(0.05), 20
			p.Gear[2].DutyPct, p.Gear[2].Count, p.Gear[2].PowerW = 30, 2, ptr(100.0)
			p.Gear[2].Hours = []plan.Window{{FromH: 7, ToH: 9}}
		}},
	} {
		p := camp()
		p.Case.Battery.CapacityAh = 400
		p.Panels.List = []plan.Panel{}
		p.Sky.WarmestC, p.Sky.ColdestC = 20, 20
		p.Trip.LengthH, p.Trip.StepMin = 48, 1
		c.edit(&p)
		o, err := outlook.Run(sound(t, p))
		if err != nil {
			t.Fatal(err)
		}
		sum, volts, n := 0.0, 0.0, float64(len(o.Series.Volts)-1)
		for i := range o.Series.Volts[1:] {
			sum += float64(o.Series.AmpsOut[i+1]) * float64(o.Series.Volts[i+1])
			volts += float64(o.Series.Volts[i+1])
		}
		u := houseOf(t, p).usual(nil, -1)
		near(t, c.name+": mean draw, W", u.watts+u.amps*volts/n, sum/n, 0.01)
	}
}

// The air of a weather file counts for as long as the trip lasts.
func TestAirOfAWeatherFile(t *testing.T) {
	p := camp()
	w := &plan.Weather{Start: p.Trip.Start.Add(-24 * time.Hour)}
	for h := range 96 {
		c := float64(10 + h%5)
		if h < 23 || h > 24+12 {
			c = -40 // before and after it
		}
		w.AirC, w.GHI, w.DHI = append(w.AirC, c), append(w.GHI, 0), append(w.DHI, 0)
	}
	p.Sky.Light, p.Sky.WeatherFile, p.Trip.LengthH = plan.ByWeatherFile, w, 12
	mean, cold, warm := airOf(&p)
	if cold != 10 || warm != 14 || !(mean > 11.5 && mean < 12.5) {
		t.Errorf("mean %g, coldest %g, warmest %g °C", mean, cold, warm)
	}
	w.AirC = nil
	mean, cold, warm = airOf(&p)
	near(t, "without the file's air", float64(mean), (p.Sky.WarmestC+p.Sky.ColdestC)/2, 1e-12)
	if float64(cold) != p.Sky.ColdestC || float64(warm) != p.Sky.WarmestC {
		t.Errorf("coldest %g, warmest %g °C", cold, warm)
	}
}

// Every chemistry, odd plans: charges within 0 and 1, nothing that is no
// number, no negative minutes.
func TestNothingIsOutOfBounds(t *testing.T) {
	for name, p := range odd(t) {
		bounds(t, name, p)
	}
}

// bounds asks everything that is asked of a plan alone.
func bounds(t *testing.T, name string, p plan.Plan) {
	t.Helper()
	a, tide, s := alarmsOf(t, p), tideOf(t, p), storageOf(t, p, 0.8)
	for _, k := range append(a.Candidates, a.Set) {
		for _, r := range []Reading{k.Rest, k.Usual, k.Largest, k.Cold} {
			if !(r.Charge >= 0 && r.Charge <= 1) || !(r.Minutes >= 0) || !(r.After >= 0) || math.IsInf(r.Minutes+r.After, 0) {
				t.Errorf("%s at %.2f V: %+v", name, k.Volts, r)
			}
		}
	}
	for _, l := range tide.Lines {
		for k, v := range l.Volts {
			if !(v >= 0 && v < 20) {
				t.Errorf("%s, line %s: %g V at %g", name, l.Kind, v, tide.Charges[k])
			}
		}
	}
	for _, d := range a.Do {
		if math.IsNaN(d.Minutes) || math.IsNaN(d.Total) || d.Total < 0 || d.Watts < -1e-9 {
			t.Errorf("%s: %+v", name, d)
		}
	}
	for _, k := range s.Clocks {
		for _, d := range []Days{k.Alarm, k.CutOff, k.Harm, k.TopUp} {
			if !(d.Days >= 0 && d.Days <= s.Horizon+30) || d.Never && d.Days != s.Horizon {
				t.Errorf("%s: %+v", name, k)
			}
		}
	}
}

// odd are plans at the edges.
func odd(t testing.TB) map[string]plan.Plan {
	t.Helper()
	out := map[string]plan.Plan{}
	for _, c := range kinds {
		out[string(c)] = kind(camp(), c)
	}
	add := func(name string, edit func(*plan.Plan)) {
		p := camp()
		edit(&p)
		out[name] = p
	}
	add("no gear", func(p *plan.Plan) { p.Gear = []plan.Device{} })
	add("nothing draws", func(p *plan.Plan) {
		p.Gear, p.Case.Switch = []plan.Device{}, plan.DCOnly
		p.Case.Meters.StandbyA, p.Case.Controller.StandbyA, p.Case.USB.StandbyA, p.Case.DC.StandbyA = 0, 0, 0, 0
	})
	add("no inverter", func(p *plan.Plan) { p.Case.Inverter.RatedW = 0 })
	add("an inverter with a cut-off", func(p *plan.Plan) {
		p.Case.Inverter.LowCutoffV, p.Case.Inverter.LowReconnectV, p.Case.InverterHours = 12, 12.8, []plan.Window{{FromH: 0, ToH: 24}}
	})
	add("1 Ah", func(p *plan.Plan) { p.Case.Battery.CapacityAh, p.Case.Battery.ResistanceMohm = 1, 500 })
	add("1000 Ah", func(p *plan.Plan) { p.Case.Battery.CapacityAh = 1000 })
	add("-40 °C", func(p *plan.Plan) { p.Sky.WarmestC, p.Sky.ColdestC = -40, -50 })
	add("55 °C", func(p *plan.Plan) { p.Sky.WarmestC, p.Sky.ColdestC = 55, 55 })
	add("worn", func(p *plan.Plan) { p.Case.Battery.HealthPct = ptr(10.0) })
	add("marks close together", func(p *plan.Plan) {
		p.Case.Battery.CutoffV, p.Case.Battery.AlarmV = 13.1, 13.11
		p.Case.Battery.ReconnectV = 13.2
	})
	add("long delays", func(p *plan.Plan) { p.Case.Battery.AlarmDelayS, p.Case.Battery.CutoffDelayS = 600, 0 })
	add("a protection over the cut-off", func(p *plan.Plan) {
		g := plan.Protection{OverV: 15, OverBackV: 14, UnderV: 12, UnderBackV: 12.5, VoltsDelayS: 5, ChargeColdC: 0, ChargeHotC: 60, DischargeColdC: -20, DischargeHotC: 60}
		p.Case.Battery.Protection = &g
	})
	add("64 devices", func(p *plan.Plan) {
		p.Gear = nil
		for i := range plan.MaxDevices {
			p.Gear = append(p.Gear, gear(fmt.Sprint("d", i), plan.RouteDC, 3, plan.Window{FromH: float64(i) / 4, ToH: float64(i)/4 + 2}))
		}
	})
	return out
}

func tideOf(t testing.TB, p plan.Plan) *Tide {
	t.Helper()
	x, err := NewTide(sound(t, p))
	if err != nil {
		t.Fatal(err)
	}
	return x
}

func storageOf(t testing.TB, p plan.Plan, from qty.Fraction) *Storage {
	t.Helper()
	x, err := NewStorage(sound(t, p), from)
	if err != nil {
		t.Fatal(err)
	}
	return x
}
