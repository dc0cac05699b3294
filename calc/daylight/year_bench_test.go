package daylight_test

import (
	"math"
	"testing"
	"time"

	"duskline/calc/golden"
	"duskline/calc/panel"
	"duskline/calc/qty"
	"duskline/calc/sun"
)

// A year of hourly steps through sun and panel alone: position, clear sky,
// Hay-Davies, cell temperature, single diode at its maximum power. No scene, no
// document: what the models themselves cost.

// yearChain is a place and a panel, prepared for steps.
type yearChain struct {
	track  *sun.Track
	air    sun.Atmosphere
	view   sun.View
	module panel.Module
}

func newYearChain(t testing.TB, from time.Time, length time.Duration, p sun.Place, turbidity float64, tilt, azimuth qty.Degree) *yearChain {
	t.Helper()
	c := &yearChain{}
	var err error
	if c.track, err = sun.NewTrack(from, from.Add(length), p); err != nil {
		t.Fatal(err)
	}
	if c.air, err = sun.NewAtmosphere(p, turbidity); err != nil {
		t.Fatal(err)
	}
	plane, err := sun.NewPlane(tilt, azimuth)
	if err != nil {
		t.Fatal(err)
	}
	c.view = sun.NewView(plane, nil, sun.HayDavies, sun.NoGlass)
	if c.module, err = panel.FromWatts(100, panel.Crystalline); err != nil {
		t.Fatal(err)
	}
	return c
}

// step returns the light on the level and on the panel, W/m², and the panel's
// greatest power, W.
func (c *yearChain) step(after time.Duration, extra qty.Irradiance, air qty.Celsius) (level, on, power float64) {
	d := c.track.At(after)
	if d.Elevation <= 0 {
		return 0, 0, 0
	}
	l := c.air.ClearSky(d, extra)
	pl := c.view.Light(l, d, extra, 0.2, false)
	light := pl.Total()
	curve := c.module.At(light, panel.OpenRack.Cell(air, light, 1.5))
	v, i := curve.MaxPower()
	return float64(l.GHI), float64(light), float64(v) * float64(i)
}

// year runs the year and returns its sums, kWh/m² and kWh.
func (c *yearChain) year(step time.Duration) (level, on, energy float64, lit int) {
	const hoursOfYear = 8760
	share := step.Hours() / 1000
	for day := range hoursOfYear / 24 {
		extra := sun.Extraterrestrial(day + 1)
		for t := step / 2; t < 24*time.Hour; t += step {
			g, p, w := c.step(time.Duration(day)*24*time.Hour+t, extra, 15)
			if g > 0 {
				lit++
			}
			level += g * share
			on += p * share
			energy += w * share
		}
	}
	return level, on, energy, lit
}

var (
	newYear  = time.Date(2026, 1, 1, 0, 0, 0, 0, time.UTC)
	yearHome = sun.Place{Latitude: 40, Longitude: 5, Altitude: 200}
)

// BenchmarkYear includes preparing the sun's path.
func BenchmarkYear(b *testing.B) {
	b.Run("steps=8760", func(b *testing.B) {
		b.ReportAllocs()
		var sum float64
		for b.Loop() {
			c := newYearChain(b, newYear, 365*24*time.Hour, yearHome, 3, 35, 180)
			_, _, energy, _ := c.year(time.Hour)
			sum += energy
		}
		if !(sum > 0) {
			b.Fatal("no energy")
		}
		b.ReportMetric(8760*float64(b.N)/b.Elapsed().Seconds(), "steps/s")
	})
}

// The steps of the benchmark, laid on the days of the reference vectors, give
// the day totals of the reference. The allowed share is that of a Track, see
// calc/sun.
func TestYearStepAgainstDayTotalVectors(t *testing.T) {
	s := golden.Vectors(t, "sun", "day_totals.csv")
	level := golden.Worst{What: "day's kWh/m² on the level, share", Limit: 2e-7}
	plane := golden.Worst{What: "day's kWh/m² on the plane, share", Limit: 2e-7}
	for i := range s.Len() {
		midnight := time.Unix(int64(s.Num(i, "local_midnight_unix_s")), 0).UTC()
		p := sun.Place{Latitude: qty.Degree(s.Num(i, "lat_deg")), Longitude: qty.Degree(s.Num(i, "lon_deg")), Altitude: qty.Metre(s.Num(i, "altitude_m"))}
		c := newYearChain(t, midnight, 24*time.Hour, p, s.Num(i, "linke_turbidity"), qty.Degree(s.Num(i, "surface_tilt_deg")), qty.Degree(s.Num(i, "surface_azimuth_deg")))
		extra := sun.Extraterrestrial(int(s.Num(i, "day_of_year")))
		var g, on float64
		for j := range 288 {
			a, b, _ := c.step(time.Duration(150+300*j)*time.Second, extra, 15)
			g, on = g+a*300/3.6e6, on+b*300/3.6e6
		}
		for _, x := range []struct {
			w         *golden.Worst
			got, want float64
		}{{&level, g, s.Num(i, "ghi_kwh_m2")}, {&plane, on, s.Num(i, "poa_kwh_m2")}} {
			if x.want == 0 {
				x.w.Add(i, x.got)
			} else {
				x.w.Add(i, x.got/x.want-1)
			}
		}
	}
	level.Report(t)
	plane.Report(t)
}

// The benchmark's hourly year is a real one: against steps of five minutes its
// sums move by less than 0.2 %, half the year is light, and the panel's
// energy stays under its rated watts times the light.
func TestYearOfHoursAgainstFiveMinutes(t *testing.T) {
	c := newYearChain(t, newYear, 365*24*time.Hour, yearHome, 3, 35, 180)
	level, on, energy, lit := c.year(time.Hour)
	fineLevel, fineOn, fineEnergy, _ := c.year(5 * time.Minute)
	for _, x := range [][2]float64{{level, fineLevel}, {on, fineOn}, {energy, fineEnergy}} {
		if d := math.Abs(x[0]/x[1] - 1); !(d < 2e-3) {
			t.Errorf("%g in hours, %g in five minutes", x[0], x[1])
		}
	}
	if lit < 4320 || lit > 4500 {
		t.Errorf("light in %d of 8760 h", lit)
	}
	if !(on > level) || !(energy > 0.8*0.1*on) || !(energy < 0.1*on) {
		t.Errorf("%g kWh/m² on the level, %g on the panel, %g kWh from 100 W", level, on, energy)
	}
}
