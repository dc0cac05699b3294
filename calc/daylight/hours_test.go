package daylight

import (
	"fmt"
	"math"
	"testing"
	"time"

	"duskline/calc/golden"
	"duskline/calc/sun"
)

// windy is a trip under a weather file that begins three hours before it, off
// the full hour of the clock.
func windy(t testing.TB, step time.Duration) Spec {
	s := hill(t)
	s.Span, s.Step = 3*24*time.Hour, step
	s.Start = time.Date(2026, 5, 14, 5, 37, 0, 0, time.FixedZone("", 2*3600))
	s.Light = Light{Kind: ByWeather, Weather: anyWeather(&s)}
	return s
}

// Whatever steps divide the hour, and wherever in the hour they begin: the sum
// of the hour is the file's.
func TestWeatherKeepsTheHoursSums(t *testing.T) {
	for _, step := range []time.Duration{time.Minute, 2 * time.Minute, 3 * time.Minute, 5 * time.Minute, 10 * time.Minute, 15 * time.Minute} {
		ghi := golden.Worst{What: fmt.Sprintf("GHI of an hour in steps of %v, share", step), Limit: 1e-12}
		dhi := golden.Worst{What: fmt.Sprintf("DHI and what was softened, in steps of %v, share", step), Limit: 1e-12}
		s := windy(t, step)
		w := s.Light.Weather
		c := scene(t, s)
		for i := range w.GHI {
			sum, soft, level, n := 0.0, 0.0, 0.0, 0.0
			from := w.Start.Add(time.Duration(i) * time.Hour).Sub(s.Start).Seconds()
			first := math.Ceil(from/step.Seconds()-0.5) + 0.5
			if from < 0 || from+3600 > s.Span.Seconds() || w.GHI[i] == 0 {
				continue
			}
			for at := first * step.Seconds(); at < from+3600; at += step.Seconds() {
				to := c.toward(at)
				l, moved := c.hours.light(c, at, to, c.dayAt(at))
				if math.Abs(float64(l.DNI)*max(to.Up, 0)+float64(l.DHI)-float64(l.GHI)) > 1e-9 || l.DHI < 0 || l.DNI < 0 {
					t.Errorf("hour %d: %+v does not close", i, l)
				}
				sum += float64(l.GHI)
				level += c.At(at).Level
				soft += float64(l.DHI) - moved
				n++
			}
			if n != 3600/step.Seconds() {
				t.Fatalf("%g steps of %v in an hour", n, step)
			}
			ghi.Add(i, sum/n/w.GHI[i]-1)
			ghi.Add(i, level/sum-1)
			dhi.Add(i, soft/n/w.DHI[i]-1)
		}
		ghi.Report(t)
		dhi.Report(t)
	}
}

// one returns a file of one bright hour in a dark trip, from its start.
func oneHour(t *testing.T, hour int, ghi, dhi float64) (Spec, *Scene) {
	s := hill(t)
	s.Start = time.Date(2026, 5, 14, 0, 0, 0, 0, time.FixedZone("", 2*3600))
	s.Span = 24 * time.Hour
	w := &Weather{Start: s.Start, GHI: make([]float64, 24), DHI: make([]float64, 24)}
	w.GHI[hour], w.DHI[hour] = ghi, dhi
	s.Light = Light{Kind: ByWeather, Weather: w}
	return s, scene(t, s)
}

// Light at night is kept: evenly, as light of the sky, under every model of it.
func TestWeatherKeepsLightWithoutSun(t *testing.T) {
	for model := range sun.Isotropic + 1 {
		s, _ := oneHour(t, 2, 12, 3)
		s.Model = model
		s.Panels[0].Lie.Tilt, s.Glass = 0, sun.NoGlass
		c := scene(t, s)
		for _, at := range []float64{7201, 9000, 10799} {
			if x := c.At(at); math.Abs(x.Level-12) > 1e-9 || math.Abs(x.Light-12) > 1e-9 || !x.Sunny || x.Offer.Amps(12) <= 0 {
				t.Errorf("model %d: %+v", model, x)
			}
		}
		if x := c.At(7199); x.Level != 0 || x.Light != 0 || x.Sunny {
			t.Errorf("the hour before: %+v", x)
		}
		d := c.Days()[0]
		if math.Abs(d.OnLevel-0.012) > 1e-12 || math.Abs(d.OnPanels-0.012) > 1e-12 {
			t.Errorf("model %d: day of %g and %g kWh/m², want 0.012", model, d.OnLevel, d.OnPanels)
		}
	}
}

// In the hour of sunrise nothing flashes: the clear sky is at most doubled.
func TestWeatherMakesNoFlash(t *testing.T) {
	s, _ := oneHour(t, 0, 0, 0)
	rise := scene(t, s).Days()[0].Rise
	_, c := oneHour(t, rise.Hour(), 30, 5)
	from, n := float64(rise.Hour())*3600, 0.0
	sum := 0.0
	for at := from + 150; at < from+3600; at += 300 {
		x := c.At(at)
		clear := 0.0
		if to := c.toward(at); to.Elevation > 0 {
			clear = float64(c.air.ClearSky(to, c.days[0].extra).GHI)
		}
		if x.Level > 30+mostScale*clear {
			t.Errorf("%g s: %g W/m², a clear sky has %g", at-from, x.Level, clear)
		}
		sum += x.Level
		n++
	}
	if math.Abs(sum/n-30) > 1e-9 {
		t.Errorf("hour of %g W/m², want 30", sum/n)
	}
}

// A file without sky light at a low sun would need a beam that no air lets
// through: it is bounded, said, and none of the light is lost.
func TestWeatherBoundsTheBeam(t *testing.T) {
	s, _ := oneHour(t, 0, 0, 0)
	set := scene(t, s).Days()[0].Set
	hour := set.Hour() - 1
	s, c := oneHour(t, hour, 230, 0)
	clean, err := sun.NewAtmosphere(s.Place, 1)
	if err != nil {
		t.Fatal(err)
	}
	atBound := 0
	sum, soft := 0.0, 0.0
	for at := float64(hour)*3600 + 150; at < float64(hour+1)*3600; at += 300 {
		to := c.toward(at)
		l, moved := c.hours.light(c, at, to, &c.days[0])
		most := clean.ClearSky(to, c.days[0].extra).DNI
		if l.DNI > most*(1+1e-12) {
			t.Errorf("beam of %g W/m² where clean air lets %g through", float64(l.DNI), float64(most))
		}
		if moved > 0 {
			atBound++
		}
		soft += moved
		sum += float64(l.GHI)
	}
	if atBound == 0 || math.Abs(sum/12-230) > 1e-9 {
		t.Errorf("%d steps bounded, hour of %g W/m²", atBound, sum/12)
	}
	if d := c.Days()[0]; math.Abs(d.Softened-soft/12000) > 1e-9 || math.Abs(d.OnLevel-0.23) > 1e-9 {
		t.Errorf("%g kWh/m² softened, want %g; %g on the level", d.Softened, soft/12000, d.OnLevel)
	}
	// More sky light than light: there is no beam.
	_, c = oneHour(t, 13, 200, 210)
	if l, _ := c.hours.light(c, 13.5*3600, c.toward(13.5*3600), &c.days[0]); l.DNI != 0 || l.DHI != l.GHI {
		t.Errorf("%+v", l)
	}
}

// A cut of a clear year gives back the clear sky, beam and sky.
func TestWeatherOfAClearSkyIsTheClearSky(t *testing.T) {
	s := hill(t)
	s.Span = 2 * 24 * time.Hour
	s.Light = Light{Indexes: []float64{1}}
	c := scene(t, s)
	w := &Weather{Start: s.Start.Add(-6 * time.Hour)}
	for i := range 60 {
		ghi, dhi := 0.0, 0.0
		for k := range 12 {
			at := (float64(i)-6)*3600 + 150 + 300*float64(k)
			l := c.air.ClearSky(c.toward(at), c.dayAt(at).extra)
			ghi += float64(l.GHI) / 12
			dhi += float64(l.DHI) / 12
		}
		w.GHI, w.DHI = append(w.GHI, ghi), append(w.DHI, dhi)
	}
	want := c.Days()
	s.Light = Light{Kind: ByWeather, Weather: w}
	for k, d := range scene(t, s).Days()[:2] {
		// Bound: inside an hour the beam's share is even, which the clear sky's is not.
		if math.Abs(d.OnLevel/want[k].OnLevel-1) > 1e-9 || math.Abs(d.OnPanels/want[k].OnPanels-1) > 2e-3 || math.Abs(d.Index-1) > 1e-9 {
			t.Errorf("day %d: %+v, want %+v", k, d, want[k])
		}
	}
}

func TestWeatherAirAndWind(t *testing.T) {
	s := windy(t, 0)
	s.Start = s.Light.Weather.Start // on the hour
	w := s.Light.Weather
	w.Wind[4], w.Wind[5] = 1, 5
	c := scene(t, s)
	for _, x := range []struct{ after, want float64 }{
		{0, w.Air[0]}, {1800, w.Air[0]}, {5400, w.Air[1]}, {3600, (w.Air[0] + w.Air[1]) / 2}, {4500, w.Air[0]/4 + w.Air[1]*3/4},
	} {
		if got := float64(c.At(x.after).Air); math.Abs(got-x.want) > 1e-9 {
			t.Errorf("%g s: %g °C, want %g", x.after, got, x.want)
		}
	}
	if got := c.hours.windAt(c, 5*3600); math.Abs(float64(got)-3) > 1e-12 {
		t.Errorf("wind %g m/s, want 3", float64(got))
	}
	// Unknown: what the Spec says.
	w.Air, w.Wind = nil, nil
	c = scene(t, s)
	hour := c.Clock().Hour(7200)
	if got := c.At(7200).Air; got != c.airAt(hour) || c.hours.windAt(c, 0) != s.Wind {
		t.Errorf("%g °C at %g h", float64(got), hour)
	}
}

// A date that the file has only a part of goes on under the same sky.
func TestWeatherOfAPartOfADay(t *testing.T) {
	s := hill(t)
	s.Start = time.Date(2026, 5, 14, 12, 0, 0, 0, time.FixedZone("", 2*3600))
	s.Span = 24 * time.Hour
	s.Light = Light{Indexes: []float64{0.5}}
	half := scene(t, s)
	w := &Weather{Start: s.Start}
	for i := range 24 {
		sum := 0.0
		for k := range 12 {
			sum += half.At(float64(i)*3600+150+300*float64(k)).Level / 12
		}
		w.GHI, w.DHI = append(w.GHI, sum), append(w.DHI, sum*0.8)
	}
	s.Light = Light{Kind: ByWeather, Weather: w}
	for k, d := range scene(t, s).Days() {
		if math.Abs(d.Index-0.5) > 1e-6 || math.Abs(d.OnLevel/half.Days()[k].OnLevel-1) > 1e-6 {
			t.Errorf("day %d: %+v, want %+v", k, d, half.Days()[k])
		}
	}
}

func TestBadWeatherNamesTheFigure(t *testing.T) {
	for _, c := range []struct {
		what string
		edit func(*Spec, *Weather)
	}{
		{"start of the weather", func(s *Spec, w *Weather) { w.Start = s.Start.Add(time.Minute) }},
		{"end of the weather", func(s *Spec, w *Weather) {
			n := 48 + int(s.Span.Hours())
			w.GHI, w.DHI, w.Air, w.Wind = w.GHI[:n], w.DHI[:n], w.Air[:n], w.Wind[:n]
		}},
		{"hours of weather", func(s *Spec, w *Weather) { w.GHI = nil }},
		{"hours of weather's DHI", func(s *Spec, w *Weather) { w.DHI = w.DHI[1:] }},
		{"hours of weather's air", func(s *Spec, w *Weather) { w.Air = w.Air[1:] }},
		{"hours of weather's wind", func(s *Spec, w *Weather) { w.Wind = append(w.Wind, 1) }},
		{"weather's GHI of hour 7", func(s *Spec, w *Weather) { w.GHI[7] = 1500 }},
		{"weather's GHI of hour 7", func(s *Spec, w *Weather) { w.GHI[7] = math.NaN() }},
		{"weather's DHI of hour 7", func(s *Spec, w *Weather) { w.DHI[7] = -1 }},
		{"weather's air of hour 7", func(s *Spec, w *Weather) { w.Air[7] = 99.9 }},
		{"weather's wind of hour 7", func(s *Spec, w *Weather) { w.Wind[7] = 999 }},
		{"weather's GHI of day 0", func(s *Spec, w *Weather) {
			for i := range w.GHI {
				w.GHI[i] = 600
			}
		}},
	} {
		s := windy(t, 0)
		c.edit(&s, s.Light.Weather)
		refused(t, s, c.what)
	}
}

// Each model of sky and glass takes the same hours.
func TestWeatherDaysAgreeWithSteps(t *testing.T) {
	// Bound: that of Scene.Days with a horizon.
	worst := golden.Worst{What: "day on the panels, share of the ceiling", Limit: 1e-2}
	for _, step := range []time.Duration{time.Minute, 5 * time.Minute, 15 * time.Minute} {
		for model := range sun.Isotropic + 1 {
			s := windy(t, step)
			s.Model, s.Horizon = model, valley(t)
			s.Panels = append(s.Panels, Panel{Module: watts(t, 60), Count: 1, Watts: 60, Lie: Lie{Kind: TwoAxis, Aims: 3}, Clean: 1,
				Shade: []Window{{9, 10.5}}, Shaded: 0.5})
			c := scene(t, s)
			days := c.Days()
			for k, d := range days[1:3] {
				worst.Add(k, (sumOf(c, k+1, step, light)-d.OnPanels)/d.Ceiling)
			}
			if days[1].Softened > 0.05*days[1].OnLevel {
				t.Errorf("%g of %g kWh/m² softened", days[1].Softened, days[1].OnLevel)
			}
		}
	}
	worst.Report(t)
}
