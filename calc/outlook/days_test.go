package outlook

import (
	"math"
	"testing"
	"time"

	"duskline/calc/notice"
	"duskline/calc/plan"
)

// lightOf sums the light of the steps that lie in a day, kWh/m².
func lightOf(o *Outlook, from, to time.Time) (sum float64) {
	for i, l := range o.Series.Light[1:] {
		if at := o.Series.Time(i); !at.Before(from) && at.Before(to) {
			sum += float64(l) * o.Series.Step.Hours() / 1000
		}
	}
	return sum
}

// What a Day says of its light is the sum of its steps, on days of 23, 24 and
// 25 hours; its ceiling is the day under a clear sky.
func TestADaysLightIsThatOfItsSteps(t *testing.T) {
	eachChange(t, func(t *testing.T, _ clockChange, p plan.Plan) {
		p.Sky.Turbidity = 3.7
		p.Sky.ClearSkyIndex = []float64{0.8, 0.45, 0.9}
		p.Sky.Horizon = []plan.HorizonPoint{{AzimuthDeg: 60, HeightDeg: 15}, {AzimuthDeg: 300, HeightDeg: 5}}
		o := mustRun(t, p)
		p.Sky.ClearSkyIndex = []float64{1}
		clear := mustRun(t, p)
		p.Panels.List = nil
		level := mustRun(t, p)
		for k := 1; k < 4; k++ {
			d, from, to := o.Days[k], o.Days[k].Midnight, o.Days[k+1].Midnight
			for _, c := range []struct {
				what      string
				got, want float64
			}{
				{"on the panels", d.OnPanels, lightOf(o, from, to)},
				{"on the panels under a clear sky", d.Ceiling, lightOf(clear, from, to)},
				{"on level ground under a clear sky", d.LevelCeiling, lightOf(level, from, to)},
				{"on level ground", d.OnLevel, d.ClearSkyIndex * d.LevelCeiling},
				{"without panels", level.Days[k].OnPanels, d.LevelCeiling},
			} {
				// Steps need not begin at midnight's beat: an edge of the horizon
				// falls differently into them.
				if c.want <= 0 || math.Abs(c.got/c.want-1) > 0.002 {
					t.Errorf("day %d, %s: %.5f kWh/m², want %.5f", k, c.what, c.got, c.want)
				}
			}
			if d.Turbidity != p.Sky.Turbidity {
				t.Errorf("turbidity %g", d.Turbidity)
			}
		}
	})
}

// Twilights come in their order, and are missing where there are none.
func TestTwilightsOfADay(t *testing.T) {
	order := func(t *testing.T, what string, list ...time.Time) {
		for i := 1; i < len(list); i++ {
			if !list[i-1].Before(list[i]) {
				t.Errorf("%s: %v is not before %v", what, list[i-1], list[i])
			}
		}
	}
	p := bench()
	for _, d := range mustRun(t, p).Days {
		order(t, "46° N", d.NauticalDawn, d.CivilDawn, d.Rise, d.Noon, d.Set, d.CivilDusk, d.NauticalDusk)
	}
	p.Sky.LatitudeDeg = 62 // in May: no nautical night
	p.Trip.Start = p.Trip.Start.AddDate(0, 0, 10)
	for _, d := range mustRun(t, p).Days {
		if order(t, "62° N", d.CivilDawn, d.Rise, d.Set, d.CivilDusk); !d.NauticalDawn.IsZero() || !d.NauticalDusk.IsZero() {
			t.Errorf("a white night has nautical dusk at %v", d.NauticalDusk)
		}
	}
	p.Sky.LatitudeDeg, p.Trip.Start = 70, time.Date(2026, 12, 20, 12, 0, 0, 0, time.FixedZone("", 3600))
	for _, d := range mustRun(t, p).Days {
		if order(t, "70° N", d.CivilDawn, d.Noon, d.CivilDusk); d.State != PolarNight || !d.Rise.IsZero() || d.Ceiling != 0 {
			t.Errorf("70° N in December: %+v", d)
		}
	}
}

// Peak sun hours on the panels are what the panels would get in the open; the
// horizon takes its part of them.
func TestPeakSunHoursOnThePanels(t *testing.T) {
	p := bench()
	p.Sky.Light, p.Sky.PeakSunHours, p.Sky.PeakSunOn = plan.ByPeakSun, []float64{4.2, 3.1}, plan.OnPanels
	open := mustRun(t, p)
	p.Sky.Horizon = []plan.HorizonPoint{{AzimuthDeg: 0, HeightDeg: 20}}
	walled := mustRun(t, p)
	for k, want := range []float64{4.2, 3.1, 3.1} {
		if got := open.Days[k].OnPanels; math.Abs(got/want-1) > 1e-4 {
			t.Errorf("day %d: %.5f kWh/m² on the panels, want %g", k, got, want)
		}
		if got := walled.Days[k].OnPanels; got > 0.97*want || got < 0.5*want || walled.Days[k].ClearSkyIndex != open.Days[k].ClearSkyIndex {
			t.Errorf("day %d behind a horizon of 20°: %.4f kWh/m² of %g", k, got, want)
		}
	}
}

// No current flows through an open circuit: a blocking diode keeps no volts off
// the controller.
func TestBlockingDiodeDoesNotHideOvervoltage(t *testing.T) {
	for _, c := range []struct {
		limit float64
		want  bool
	}{{47.7, true}, {48.2, false}} { // two generic panels at 0 °C: 2 × 23.916 V, electrical.md C23
		for _, drop := range []float64{0, 0.7} {
			p := bench()
			p.Sky.ColdestC, p.Panels.BlockingV = 0, drop
			p.Case.Controller.InputMaxV, p.Panels.Joined, p.Panels.List[0].Count = c.limit, plan.EndToEnd, 2
			if o := mustRun(t, p); has(o, notice.PanelOverVolts) != c.want {
				t.Errorf("limit %g V, diode of %g V: %v", c.limit, drop, o.Notices)
			}
		}
	}
}

// The coldest morning that the panels' volts are held against is the weather
// file's, if it has the air.
func TestPanelVoltsInTheColdOfAWeatherFile(t *testing.T) {
	p := bench()
	p.Case.Controller.InputMaxV, p.Panels.Joined, p.Panels.List[0].Count = 47, plan.EndToEnd, 2
	p.Sky.Light, p.Sky.WeatherFile = plan.ByWeatherFile, cloudyWeek(p)
	air := func(c float64) []float64 {
		list := make([]float64, len(p.Sky.WeatherFile.GHI))
		for i := range list {
			list[i] = c
		}
		return list
	}
	for _, c := range []struct {
		what    string
		file    []float64
		coldest float64
		want    bool
	}{
		{"a mild file, a plan for frost", air(25), -30, false},
		{"a file of frost, a mild plan", air(-20), 20, true},
		{"a file without air, a plan for frost", nil, -30, true},
		{"a file without air, a mild plan", nil, 20, false},
	} {
		p.Sky.WeatherFile.AirC, p.Sky.ColdestC = c.file, c.coldest
		if o := mustRun(t, p); has(o, notice.PanelOverVolts) != c.want {
			t.Errorf("%s: %v", c.what, o.Notices)
		}
	}
}
