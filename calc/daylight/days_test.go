package daylight

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"duskline/calc/civil"
	"duskline/calc/golden"
	"duskline/calc/panel"
	"duskline/calc/power"
	"duskline/calc/qty"
	"duskline/calc/sun"
)

// anySpec draws a place, a week of the year, a sky and panels.
func anySpec(t testing.TB, r *rand.Rand) Spec {
	s := hill(t)
	s.Place = sun.Place{Latitude: qty.Degree(r.Float64()*150 - 75), Longitude: qty.Degree(r.Float64()*20 - 10), Altitude: qty.Metre(r.Float64() * 3000)}
	s.Start = time.Date(1990+r.IntN(100), 1, r.IntN(365), 0, 0, 0, 0, time.UTC)
	s.Span = 2 * 24 * time.Hour
	s.Model, s.Glass = sun.SkyModel(r.IntN(3)), sun.Glass(r.IntN(3))
	s.Turbidity = 2 + 4*r.Float64()
	s.Albedo = qty.Fraction(0.8 * r.Float64())
	s.Light.Indexes = []float64{1.1 * r.Float64(), 1}
	for range r.IntN(3) {
		s.Panels = append(s.Panels, Panel{Module: watts(t, 60), Count: 1, Watts: 60, Clean: 1,
			Lie: Lie{LieKind(r.IntN(4)), qty.Degree(90 * r.Float64()), qty.Degree(360 * r.Float64()), 1 + r.IntN(6)}})
	}
	return s
}

// The bound stands at Scene.Days: one sum of a day against another in other
// steps. Steps of a quarter of an hour are the widest that a trip has.
func TestDaysAgreeWithStepsOfAnyLength(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 1))
	for _, step := range []time.Duration{time.Minute, 3 * time.Minute, 5 * time.Minute, 15 * time.Minute} {
		on := golden.Worst{What: fmt.Sprintf("sum on the panels in steps of %v, share of the ceiling", step), Limit: 2e-3}
		lev := golden.Worst{What: fmt.Sprintf("sum on the level in steps of %v, share of the ceiling", step), Limit: 2e-3}
		if step == 5*time.Minute {
			on.Limit, lev.Limit = 1e-12, 1e-12
		}
		for n := range 60 {
			s := anySpec(t, r)
			if n%3 == 0 {
				s.Panels[0].Shade, s.Panels[0].Shaded = []Window{{9, 11}, {16, 20}}, 0.4
			}
			c := scene(t, s)
			for k, d := range c.Days() {
				if d.Ceiling < 0.5 { // kWh/m²: of a sun that just rises a share is no measure
					continue
				}
				on.Add(n, (sumOf(c, k, step, light)-d.OnPanels)/d.Ceiling)
				lev.Add(n, (sumOf(c, k, step, level)-d.OnLevel)/d.LevelCeiling)
			}
		}
		on.Report(t)
		lev.Report(t)
	}
}

// berlin moves its clock on 29 March and on 25 October 2026 at 1 h UTC; dates
// from memory.
func berlin(t testing.TB) *time.Location {
	t.Helper()
	l, err := civil.Location("Europe/Berlin", time.Hour, []civil.Change{
		{At: time.Date(2026, 3, 29, 1, 0, 0, 0, time.UTC), Offset: 2 * time.Hour},
		{At: time.Date(2026, 10, 25, 1, 0, 0, 0, time.UTC), Offset: time.Hour},
	})
	if err != nil {
		t.Fatal(err)
	}
	return l
}

// A clock that is moved takes nothing from the day's light and adds none: the
// sum of the days is the sum of the steps, and beside days that are whole.
func TestDaysOf23And25HoursAreWhole(t *testing.T) {
	for _, c := range []struct {
		start time.Time
		hours []float64
	}{
		{time.Date(2026, 3, 28, 0, 0, 0, 0, berlin(t)), []float64{24, 23, 24}},
		{time.Date(2026, 10, 24, 0, 0, 0, 0, berlin(t)), []float64{24, 25, 24}},
	} {
		for _, lat := range []qty.Degree{52, 89} { // near the pole light falls at every hour in March
			s := hill(t)
			s.Place.Latitude, s.Place.Longitude = lat, 13
			s.Start = c.start
			total := 0.0
			for _, h := range c.hours {
				total += h
			}
			s.Span = time.Duration(total) * time.Hour
			s.Light.Indexes = []float64{1}
			sc := scene(t, s)
			days := sc.Days()
			sum, steps := 0.0, 0.0
			for k, d := range days {
				sum += d.OnPanels
				if next := sc.days[k].to - sc.days[k].from; next != c.hours[k]*3600 {
					t.Errorf("%v: day %d has %g s", c.start, k, next)
				}
			}
			for after := 150.0; after < s.Span.Seconds(); after += 300 {
				steps += sc.At(after).Light / 12000
			}
			if len(days) != 3 || math.Abs(sum-steps) > 1e-9*steps {
				t.Errorf("%v, latitude %g: %d days with %.9g kWh/m², steps with %.9g", c.start, float64(lat), len(days), sum, steps)
			}
			// A degree of latitude and a day change little: no day lacks an hour.
			if lat == 52 && math.Abs(days[1].OnPanels/(days[0].OnPanels+days[2].OnPanels)*2-1) > 0.005 {
				t.Errorf("%v: %.4g, %.4g, %.4g kWh/m²", c.start, days[0].OnPanels, days[1].OnPanels, days[2].OnPanels)
			}
			// The polar day has 1/24 less or more of its light. The sun stands at 4°
			// and gains 0.4° a day, of which the light makes no straight line: 0.02.
			if lat == 89 && days[0].State == sun.PolarDay {
				if got, want := days[1].OnLevel/(days[0].OnLevel+days[2].OnLevel)*2, c.hours[1]/24; math.Abs(got-want) > 0.02 {
					t.Errorf("polar day of %g h: %.4g of its neighbours' light, want %.4g", c.hours[1], got, want)
				}
			}
		}
	}
}

// Shade goes by the clock on the wall, also after it was moved.
func TestShadeGoesByTheClock(t *testing.T) {
	s := hill(t)
	s.Place.Latitude, s.Place.Longitude = 52, 13
	s.Start, s.Span = time.Date(2026, 3, 28, 0, 0, 0, 0, berlin(t)), 47*time.Hour
	s.Light.Indexes = []float64{1}
	s.Panels[0].Shade, s.Panels[0].Shaded = []Window{{11, 13}}, 1
	c := scene(t, s)
	for after := 150.0; after < s.Span.Seconds(); after += 300 {
		at := s.Start.Add(time.Duration(after) * time.Second)
		got := c.At(after)
		if h := at.Hour(); got.Elevation > 20 && (got.Light < 0.5*got.Level) != (h == 11 || h == 12) {
			t.Fatalf("%v: %.0f W/m² on the panel, %.0f on the level", at, got.Light, got.Level)
		}
	}
}

// A level panel in the open has what the level has.
func TestLevelPanelHasTheLevelsLight(t *testing.T) {
	s := hill(t)
	s.Panels[0].Lie.Tilt = 0
	c := scene(t, s)
	for after := 150.0; after < s.Span.Seconds(); after += 300 {
		// Under one degree the model's floor takes a little.
		if x := c.At(after); x.Elevation > 1 && math.Abs(x.Light/x.Level-1) > 1e-12 {
			t.Fatalf("%g s: %g W/m² on the panel, %g on the level", after, x.Light, x.Level)
		}
	}
}

// What stands around never adds light, and neither does shade.
func TestObstructionsNeverAdd(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 1))
	for n := range 60 {
		s := anySpec(t, r)
		open := scene(t, s).Days()
		last := open
		for _, height := range []qty.Degree{5, 20, 45, 90} {
			var err error
			from := qty.Degree(300 * r.Float64())
			wall := []sun.HorizonPoint{{Azimuth: from, Height: 0}, {Azimuth: from + 10, Height: height}, {Azimuth: from + 50, Height: height}, {Azimuth: from + 59, Height: 0}}
			if height == 90 {
				wall = []sun.HorizonPoint{{Height: 90}}
			}
			if s.Horizon, err = sun.NewHorizon(wall); err != nil {
				t.Fatal(err)
			}
			now := scene(t, s).Days()
			for k := range now {
				if now[k].OnPanels > open[k].OnPanels*(1+1e-9) || now[k].Ceiling > open[k].Ceiling*(1+1e-9) || now[k].OnLevel != open[k].OnLevel {
					t.Errorf("spec %d, wall of %g°: %+v, in the open %+v", n, float64(height), now[k], open[k])
				}
				if height == 90 && now[k].OnPanels > 1e-6 {
					t.Errorf("spec %d: %g kWh/m² at the bottom of a well", n, now[k].OnPanels)
				}
			}
		}
		s.Horizon = sun.Horizon{}
		for _, share := range []qty.Fraction{0, 0.3, 0.7, 1} {
			for i := range s.Panels {
				s.Panels[i].Shade, s.Panels[i].Shaded = []Window{{8, 12}, {22, 5}}, share
			}
			now := scene(t, s).Days()
			for k := range now {
				if now[k].OnPanels > last[k].OnPanels*(1+1e-9) {
					t.Errorf("spec %d, %g of the cells shaded: %.9g kWh/m² after %.9g", n, float64(share), now[k].OnPanels, last[k].OnPanels)
				}
			}
			last = now
		}
	}
}

// More shade on the cells never gives more amps, all of it what a shaded panel
// gives, none of it what the panel gives.
func TestShadedCellsNeverGiveMore(t *testing.T) {
	for _, joined := range []panel.Joining{panel.SideBySide, panel.EndToEnd} {
		for _, kind := range []power.Kind{power.PWM, power.MPPT} {
			s := hill(t)
			s.Span, s.Joined, s.Controller.Kind = 24*time.Hour, joined, kind
			s.Light.Indexes = []float64{1}
			s.Panels = append(s.Panels, Panel{Module: watts(t, 60), Count: 2, Watts: 120, Lie: Lie{Tilt: 60, Azimuth: 120}, Clean: 1})
			for i := range s.Panels {
				s.Panels[i].Shade = []Window{{7, 11}}
			}
			var last []float64
			for _, share := range []qty.Fraction{0, 0.01, 0.2, 0.5, 0.51, 0.8, 1} {
				s.Panels[0].Shaded = share
				c := scene(t, s)
				var now []float64
				for after := 150.0; after < s.Span.Seconds(); after += 300 {
					x := c.At(after)
					now = append(now, float64(x.Offer.Amps(12.5)))
				}
				for i := range last {
					if now[i] > last[i]*(1+1e-9)+1e-9 {
						t.Errorf("step %d, share %g: %.9g A after %.9g", i, float64(share), now[i], last[i])
					}
				}
				last = now
			}
		}
	}
}

func TestPathIsTheSunsWay(t *testing.T) {
	s := hill(t)
	s.Horizon = valley(t)
	c := scene(t, s)
	p := c.Path(0)
	day := c.Days()[0]
	if !p[0].At.Equal(day.Rise) || !p[len(p)-1].At.Equal(day.Set) {
		t.Errorf("path from %v to %v, sun from %v to %v", p[0].At, p[len(p)-1].At, day.Rise, day.Set)
	}
	hidden := 0
	for i, x := range p {
		exact, err := sun.PositionAt(x.At, s.Place, s.Place.StandardAir(s.Start))
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(float64(exact.Azimuth-x.Azimuth)) > 1e-5 || math.Abs(float64(90-exact.ApparentZenith-x.Elevation)) > 1e-5 {
			t.Errorf("%v: %+v, want %+v", x.At, x, exact)
		}
		if i > 0 && i < len(p)-1 && x.At.Minute()%15 != 0 {
			t.Errorf("point at %v", x.At)
		}
		if x.Hidden != (x.Elevation < s.Horizon.Height(x.Azimuth)) {
			t.Errorf("%v: hidden %v at %g° behind a line of %g°", x.At, x.Hidden, float64(x.Elevation), float64(s.Horizon.Height(x.Azimuth)))
		}
		if x.Hidden {
			hidden++
		}
	}
	if hidden == 0 || hidden == len(p) {
		t.Errorf("%d of %d points hidden", hidden, len(p))
	}
	if c.Path(-1) != nil || c.Path(len(c.Days())) != nil {
		t.Error("a path of a day off the trip")
	}
	s.Place.Latitude = 75
	if c = scene(t, s); len(c.Path(0)) != 98 { // a quarter each, and the two ends
		t.Errorf("polar day: %d points", len(c.Path(0)))
	}
	s.Start = s.Start.AddDate(0, 7, 0)
	if c = scene(t, s); c.Path(0) != nil {
		t.Error("polar night has a path")
	}
}

func TestAtAllocatesNothing(t *testing.T) {
	r := rand.New(rand.NewPCG(2, 1))
	for n := range 10 {
		s := anySpec(t, r)
		if n%2 == 0 {
			s.Light = Light{Kind: ByWeather, Weather: anyWeather(&s)}
		}
		s.Panels[0].Shade, s.Panels[0].Shaded = []Window{{0, 24}}, 0.5
		c := scene(t, s)
		c.At(12 * 3600)
		for after := 150.0; after < 24*3600; after += 3600 {
			if n := testing.AllocsPerRun(3, func() { c.At(after) }); n != 0 {
				t.Fatalf("%v allocations", n)
			}
		}
	}
}
