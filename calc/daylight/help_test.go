package daylight

import (
	"testing"
	"time"

	"duskline/calc/panel"
	"duskline/calc/power"
	"duskline/calc/qty"
	"duskline/calc/sun"
)

// Places and panels here are invented.

func watts(t testing.TB, w float64) panel.Module {
	t.Helper()
	m, err := panel.FromWatts(qty.Watt(w), panel.Crystalline)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// hill is a week in May in the hills, one panel leaning to the south.
func hill(t testing.TB) Spec {
	return Spec{
		Start:     time.Date(2026, 5, 14, 6, 0, 0, 0, time.FixedZone("", 7200)),
		Span:      7 * 24 * time.Hour,
		Place:     sun.Place{Latitude: 46, Longitude: 7, Altitude: 1180},
		Turbidity: 3, Albedo: 0.2, Warmest: 22, Coldest: 8, Wind: 1,
		Light:      Light{Indexes: []float64{1, 0.6, 0.3, 0.8}},
		Panels:     []Panel{{Module: watts(t, 100), Count: 1, Watts: 100, Lie: Lie{Tilt: 25, Azimuth: 180}, Clean: 0.97}},
		Controller: power.Controller{Kind: power.MPPT, Limit: 20, Efficiency: 0.97, InputMax: 60},
	}
}

func scene(t testing.TB, s Spec) *Scene {
	t.Helper()
	c, err := New(s)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// sumOf adds up a figure over a day in steps, in kWh/m².
func sumOf(c *Scene, k int, step time.Duration, of func(Step) float64) (sum float64) {
	d := &c.days[k]
	w := step.Seconds()
	for at := d.from + w/2; at < d.to; at += w {
		sum += of(c.At(at))
	}
	return sum * step.Hours() / 1000
}

func light(s Step) float64 { return s.Light }
func level(s Step) float64 { return s.Level }

// valley has high ground east and west.
func valley(t testing.TB) sun.Horizon {
	t.Helper()
	h, err := sun.NewHorizon([]sun.HorizonPoint{{Azimuth: 0, Height: 10}, {Azimuth: 80, Height: 30}, {Azimuth: 130, Height: 5}, {Azimuth: 220, Height: 5}, {Azimuth: 280, Height: 25}})
	if err != nil {
		t.Fatal(err)
	}
	return h
}

// anyWeather makes up hours from two days before the trip to two after it.
func anyWeather(s *Spec) *Weather {
	w := &Weather{Start: s.Start.Truncate(time.Hour).Add(-48 * time.Hour)}
	place := s.Place
	air, _ := sun.NewAtmosphere(place, 3)
	for i := range int(s.Span.Hours()) + 96 {
		at := w.Start.Add(time.Duration(i)*time.Hour + 30*time.Minute)
		p, _ := sun.PositionAt(at, place, place.StandardAir(at))
		l := air.ClearSky(p.Direction(), 1360)
		share := 0.3 + 0.7*float64(i*37%11)/10
		w.GHI = append(w.GHI, share*float64(l.GHI))
		w.DHI = append(w.DHI, share*(float64(l.DHI)+(1-share)*float64(l.GHI-l.DHI)))
		w.Air = append(w.Air, 10+float64(i%24)/3)
		w.Wind = append(w.Wind, 2)
	}
	return w
}
