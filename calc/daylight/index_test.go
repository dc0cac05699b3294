package daylight

import (
	"errors"
	"math"
	"math/rand/v2"
	"strings"
	"testing"
	"time"

	"duskline/calc/civil"
	"duskline/calc/golden"
	"duskline/calc/panel"
	"duskline/calc/power"
	"duskline/calc/qty"
	"duskline/calc/sun"
)

func TestPeakSunOnLevelIsTheDaysSum(t *testing.T) {
	s := hill(t)
	s.Light = Light{Kind: ByPeakSun, PeakSun: []float64{4, 0, 7.25}}
	for k, d := range scene(t, s).Days() {
		if want := ofDay(s.Light.PeakSun, k); math.Abs(d.OnLevel-want) > 1e-9 {
			t.Errorf("day %d: %.9g kWh/m², want %g", k, d.OnLevel, want)
		}
	}
}

// The figure is of the open: in the open the days' sums are it, and with
// trees around the index stays while the sums fall.
func TestPeakSunOnPanelsIsTheirSumInTheOpen(t *testing.T) {
	r := rand.New(rand.NewPCG(8, 1))
	// Bound: a figure may lie in one of the steps of the model of the cloud.
	worst := golden.Worst{What: "sum on the panels, share of the figure", Limit: 1e-3}
	exact := 0
	for n := range 40 {
		s := anySpec(t, r)
		open := scene(t, s).Days()
		s.Light = Light{Kind: ByPeakSun, OnPanels: true}
		for _, d := range open {
			s.Light.PeakSun = append(s.Light.PeakSun, d.Ceiling*(0.2+0.7*r.Float64()))
		}
		got := scene(t, s).Days()
		for k, d := range got {
			if want := s.Light.PeakSun[k]; want > 0 {
				worst.Add(n, d.OnPanels/want-1)
				if math.Abs(d.OnPanels/want-1) < 1e-9 {
					exact++
				}
			} else if d.OnPanels != 0 {
				t.Errorf("spec %d: %g kWh/m² of none", n, d.OnPanels)
			}
		}
		s.Horizon = valley(t)
		s.Panels[0].Shade, s.Panels[0].Shaded = []Window{{8, 10}}, 0.5
		for k, d := range scene(t, s).Days() {
			if d.Index != got[k].Index || d.OnPanels > got[k].OnPanels*(1+1e-9) {
				t.Errorf("spec %d: index %g and %g kWh/m² with trees, %g and %g without", n, d.Index, d.OnPanels, got[k].Index, got[k].OnPanels)
			}
		}
	}
	worst.Report(t)
	if exact < 60 { // of 80
		t.Errorf("%d days met their figure to 1e-9", exact)
	}
}

// What a clear day brings is the clear day, not the same amount of broken cloud.
func TestPeakSunOfAClearDayIsTheClearDay(t *testing.T) {
	s := hill(t)
	clear := scene(t, s).Days()[0].Ceiling
	s.Light = Light{Kind: ByPeakSun, OnPanels: true, PeakSun: []float64{clear}}
	if d := scene(t, s).Days()[0]; d.Index != 1 || d.OnPanels != d.Ceiling {
		t.Errorf("index %g, %g of %g kWh/m²", d.Index, d.OnPanels, d.Ceiling)
	}
}

// Without panels there is only the level.
func TestPeakSunOnNoPanelsIsOnTheLevel(t *testing.T) {
	s := hill(t)
	s.Panels = nil
	s.Light = Light{Kind: ByPeakSun, OnPanels: true, PeakSun: []float64{5}}
	c := scene(t, s)
	for _, d := range c.Days() {
		if math.Abs(d.OnLevel-5) > 1e-9 || d.OnPanels != d.OnLevel {
			t.Errorf("%+v", d)
		}
	}
	if x := c.At(6 * 3600); x.Light != x.Level || x.Light == 0 || x.Sunny {
		t.Errorf("%+v", x)
	}
}

func TestStatesAreTheirLooks(t *testing.T) {
	s := hill(t)
	s.Turbidity = 3
	s.Light = Light{Kind: ByState, States: []sun.State{sun.Clear, sun.Smoke, sun.Overcast, sun.Dust}}
	c := scene(t, s)
	days := c.Days()
	for k, d := range days {
		look := ofDay(s.Light.States, k).Look()
		if d.Index != look.Index.Mean() || d.Turbidity != max(3, look.Turbidity) {
			t.Errorf("day %d: index %g, turbidity %g", k, d.Index, d.Turbidity)
		}
		if d.LevelCeiling < days[0].LevelCeiling*0.99 {
			t.Errorf("day %d: ceiling of %g kWh/m² is not that of the place's own air", k, d.LevelCeiling)
		}
		// The light is that of an atmosphere of that turbidity under that cloud.
		own := s
		own.Turbidity, own.Light = d.Turbidity, Light{Indexes: []float64{d.Index}}
		if want := scene(t, own).Days()[k].OnPanels; math.Abs(d.OnPanels/want-1) > 1e-12 {
			t.Errorf("day %d: %.9g kWh/m², want %.9g", k, d.OnPanels, want)
		}
	}
	// The place's own haze counts where it is the greater.
	s.Turbidity = 9.5
	for k, d := range scene(t, s).Days() {
		if d.Turbidity != 9.5 {
			t.Errorf("day %d: turbidity %g", k, d.Turbidity)
		}
	}
}

// A round trip: three days of a known sky are harvested step by step, the
// readings handed in, and the sky must come out. Days of other dates, so that
// nothing but the index is the same.
func TestMeterFindsTheSkyThatWas(t *testing.T) {
	for name, edit := range map[string]func(*Spec){
		"mppt, Wh": func(*Spec) {},
		"mppt, Ah": func(s *Spec) { s.Light.MeterAh = true },
		"pwm, Ah":  func(s *Spec) { s.Controller.Kind, s.Light.MeterAh = power.PWM, true },
		"two planes": func(s *Spec) {
			s.Panels = append(s.Panels, Panel{Module: watts(t, 60), Count: 2, Watts: 120, Lie: Lie{Tilt: 50, Azimuth: 90}, Clean: 1})
		},
		"valley":      func(s *Spec) { s.Horizon = valley(t) },
		"turned":      func(s *Spec) { s.Panels[0].Lie = Lie{Kind: Turned, Tilt: 40, Aims: 3} },
		"shade":       func(s *Spec) { s.Panels[0].Shade, s.Panels[0].Shaded = []Window{{8, 12}}, 0.3 },
		"clock moved": func(s *Spec) { s.Start = time.Date(2026, 3, 30, 9, 0, 0, 0, berlin(t)) },
	} {
		s := hill(t)
		s.Light = Light{Kind: ByMeter}
		edit(&s)
		y, m, d := s.Start.Date()
		was := s
		was.Start = time.Date(y, m, d-3, 0, 0, 0, 0, s.Start.Location())
		was.Span = time.Date(y, m, d, 0, 0, 0, 0, s.Start.Location()).Sub(was.Start)
		was.Light = Light{Indexes: []float64{0.3, 0.85, 0.62}}
		c := scene(t, was)
		for k := range 3 {
			s.Light.Meter = append(s.Light.Meter, sumOf(c, k, 5*time.Minute, func(x Step) float64 {
				if i := float64(x.Offer.Amps(13.6)); !s.Light.MeterAh {
					return 13600 * i
				} else {
					return 1000 * i
				}
			}))
		}
		// Bound: the search adds up steps of 10 minutes, the readings 5.
		for _, day := range scene(t, s).Days() {
			if want := (0.3 + 0.85 + 0.62) / 3; math.Abs(day.Index-want) > 0.002 {
				t.Errorf("%s: readings %v: index %.5g, want %.5g", name, s.Light.Meter, day.Index, want)
			}
		}
	}
}

// What Readings says of a sky is what the meter finds it again by.
func TestReadingsAreWhatTheMeterTakes(t *testing.T) {
	for _, ah := range []bool{false, true} {
		s := hill(t)
		s.Light.MeterAh = ah
		list, err := Readings(s, 0.63)
		if err != nil || len(list) != 3 {
			t.Fatal(list, err)
		}
		s.Light = Light{Kind: ByMeter, Meter: list, MeterAh: ah}
		if got := scene(t, s).Days()[0].Index; math.Abs(got-0.63) > 1e-6 {
			t.Errorf("Ah %t: %v make an index of %.7f", ah, list, got)
		}
	}
	s := hill(t)
	var e *qty.RangeError
	if _, err := Readings(s, 1.3); !errors.As(err, &e) || e.What != "clear-sky index of day 0" {
		t.Error(err)
	}
	s.Place.Altitude = 6000
	if _, err := Readings(s, 1); !errors.As(err, &e) || e.What != "altitude" {
		t.Error(err)
	}
}

// A clock moved at midnight, and a date that never was, like the last but one
// of 2011 in Samoa (from memory): three readings are three days, or as many as
// there were.
func TestMeterWhereMidnightIsMissing(t *testing.T) {
	for _, change := range []struct {
		at     time.Time
		offset time.Duration
	}{
		{time.Date(2026, 5, 11, 4, 0, 0, 0, time.UTC), -3 * time.Hour},  // 0 h becomes 1 h
		{time.Date(2026, 5, 12, 4, 0, 0, 0, time.UTC), -5 * time.Hour},  // 0 h becomes 23 h
		{time.Date(2026, 5, 13, 10, 0, 0, 0, time.UTC), 14 * time.Hour}, // the 13th is left out
	} {
		first := -4 * time.Hour
		if change.offset > 0 {
			first = -10 * time.Hour
		}
		l, err := civil.Location("Somewhere", first, []civil.Change{{At: change.at, Offset: change.offset}})
		if err != nil {
			t.Fatal(err)
		}
		s := hill(t)
		s.Place.Longitude = qty.Degree(first.Hours() * 15)
		s.Start = time.Date(2026, 5, 14, 9, 0, 0, 0, l)
		s.Light = Light{Kind: ByMeter, Meter: []float64{200, 200, 200}}
		got := scene(t, s).Days()[0].Index
		// Each of the days is like the others, so that any of them gives the same.
		s.Start = time.Date(2026, 5, 14, 9, 0, 0, 0, time.FixedZone("", int(first.Seconds())))
		if want := scene(t, s).Days()[0].Index; math.Abs(got-want) > 0.003 {
			t.Errorf("%v: index %g, want %g", change.at, got, want)
		}
	}
}

func refused(t *testing.T, s Spec, what string) *qty.RangeError {
	t.Helper()
	_, err := New(s)
	var e *qty.RangeError
	if !errors.As(err, &e) || !strings.Contains(e.What, what) {
		t.Errorf("%v, want a range error about %q", err, what)
		return &qty.RangeError{}
	}
	if e.Got >= e.Min && e.Got <= e.Max {
		t.Errorf("%v: is in its range", e)
	}
	return e
}

func TestMeterAboveTheBrightestDay(t *testing.T) {
	s := hill(t)
	s.Light = Light{Kind: ByMeter, Meter: []float64{300, 2000, 200}}
	e := refused(t, s, "meter of day 1")
	// 100 W for a day of some six good hours.
	if e.Unit != "Wh" || e.Max < 450 || e.Max > 900 {
		t.Errorf("%v", e)
	}
	// At the maximum itself it is accepted, a hair above it is not.
	s.Light.Meter[1] = e.Max
	scene(t, s)
	s.Light.Meter[1] = e.Max * 1.001
	refused(t, s, "meter of day 1")
	s.Light.Meter, s.Light.MeterAh = []float64{5, 5, 150}, true
	if e := refused(t, s, "meter of day 2"); e.Unit != "Ah" {
		t.Errorf("%v", e)
	}
}

func TestMeterInThePolarNight(t *testing.T) {
	s := hill(t)
	s.Place.Latitude = 78
	s.Start = time.Date(2026, 12, 20, 0, 0, 0, 0, time.UTC)
	s.Light = Light{Kind: ByMeter, Meter: []float64{0, 1, 0}}
	if e := refused(t, s, "meter of day 1"); e.Max != 0 {
		t.Errorf("%v", e)
	}
	s.Light.Meter = []float64{0, 0, 0}
	if d := scene(t, s).Days()[0]; d.Index != 1 || d.OnPanels != 0 {
		t.Errorf("%+v", d)
	}
	// Nothing lies out: readings of nothing say nothing.
	s = hill(t)
	s.Panels = nil
	s.Light = Light{Kind: ByMeter, Meter: []float64{0, 0, 0}}
	if d := scene(t, s).Days()[0]; d.Index != 1 {
		t.Errorf("%+v", d)
	}
	s.Light.Meter[2] = 1
	refused(t, s, "meter of day 2")
	// Light but no harvest: the worst of skies, not an unknown one.
	s = hill(t)
	s.Light = Light{Kind: ByMeter, Meter: []float64{0, 0, 0}}
	if d := scene(t, s).Days()[0]; d.Index != 0 {
		t.Errorf("%+v", d)
	}
}

func TestTripOfTheFirstYearKnowsTheDaysBefore(t *testing.T) {
	s := hill(t)
	s.Start = time.Date(1950, 1, 1, 0, 0, 0, 0, time.UTC)
	s.Light = Light{Kind: ByMeter, Meter: []float64{20, 20, 20}}
	scene(t, s)
}

func TestBadInputNamesTheFigure(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	for _, c := range []struct {
		what string
		edit func(*Spec)
	}{
		{"year", func(s *Spec) { s.Start = time.Date(1949, 12, 31, 23, 59, 0, 0, time.UTC) }},
		{"year", func(s *Spec) { s.Start = time.Date(2101, 1, 1, 0, 0, 0, 0, time.UTC) }},
		{"span", func(s *Spec) { s.Span = 0 }},
		{"span", func(s *Spec) { s.Span = -time.Hour }},
		{"span", func(s *Spec) { s.Span = 371 * 24 * time.Hour }},
		{"step", func(s *Spec) { s.Step = 30 * time.Second }},
		{"step", func(s *Spec) { s.Step = -5 * time.Minute }},
		{"step", func(s *Spec) { s.Step = 7 * time.Minute }},
		{"latitude", func(s *Spec) { s.Place.Latitude = 91 }},
		{"longitude", func(s *Spec) { s.Place.Longitude = -180.1 }},
		{"longitude", func(s *Spec) { s.Place.Longitude = qty.Degree(nan) }},
		{"altitude", func(s *Spec) { s.Place.Altitude = 6000 }},
		{"altitude", func(s *Spec) { s.Place.Altitude = -431 }},
		{"turbidity", func(s *Spec) { s.Turbidity = 0.9 }},
		{"turbidity", func(s *Spec) { s.Turbidity = nan }},
		{"albedo", func(s *Spec) { s.Albedo = 1.1 }},
		{"sky model", func(s *Spec) { s.Model = 3 }},
		{"glass", func(s *Spec) { s.Glass = 3 }},
		{"warmest", func(s *Spec) { s.Warmest = 61 }},
		{"coldest", func(s *Spec) { s.Coldest = 23 }},
		{"wind", func(s *Spec) { s.Wind = -1 }},
		{"light", func(s *Spec) { s.Light.Kind = 5 }},
		{"days of clear-sky index", func(s *Spec) { s.Light.Indexes = nil }},
		{"clear-sky index of day 1", func(s *Spec) { s.Light.Indexes[1] = 1.3 }},
		{"clear-sky index of day 0", func(s *Spec) { s.Light.Indexes[0] = nan }},
		{"days of sky state", func(s *Spec) { s.Light = Light{Kind: ByState} }},
		{"sky state of day 1", func(s *Spec) { s.Light = Light{Kind: ByState, States: []sun.State{0, sun.State(sun.States)}} }},
		{"days of peak sun hours", func(s *Spec) { s.Light = Light{Kind: ByPeakSun} }},
		{"peak sun hours of day 1", func(s *Spec) { s.Light = Light{Kind: ByPeakSun, PeakSun: []float64{4, 13}} }},
		{"peak sun hours of day 1", func(s *Spec) { s.Light = Light{Kind: ByPeakSun, PeakSun: []float64{4, 15}, OnPanels: true} }},
		{"peak sun hours of day 0", func(s *Spec) { s.Light = Light{Kind: ByPeakSun, PeakSun: []float64{inf}} }},
		{"peak sun hours of day 0", func(s *Spec) { s.Light = Light{Kind: ByPeakSun, PeakSun: []float64{nan}} }},
		{"days of meter readings", func(s *Spec) { s.Light = Light{Kind: ByMeter, Meter: []float64{1, 2}} }},
		{"meter of day 2", func(s *Spec) { s.Light = Light{Kind: ByMeter, Meter: []float64{1, 2, -1}} }},
		{"meter of day 0", func(s *Spec) { s.Light = Light{Kind: ByMeter, Meter: []float64{nan, 2, 1}} }},
		{"hours of weather", func(s *Spec) { s.Light = Light{Kind: ByWeather} }},
		{"panel 0 count", func(s *Spec) { s.Panels[0].Count = 0 }},
		{"panel 0 watts", func(s *Spec) { s.Panels[0].Watts = 0 }},
		{"panel 0 lie", func(s *Spec) { s.Panels[0].Lie.Kind = 4 }},
		{"panel 0 tilt", func(s *Spec) { s.Panels[0].Lie.Tilt = 91 }},
		{"panel 0 azimuth", func(s *Spec) { s.Panels[0].Lie.Azimuth = -1 }},
		{"panel 0 aims", func(s *Spec) { s.Panels[0].Lie = Lie{Kind: Turned, Tilt: 30} }},
		{"panel 0 aims", func(s *Spec) { s.Panels[0].Lie = Lie{Kind: TwoAxis, Aims: 25} }},
		{"panel 0 clean", func(s *Spec) { s.Panels[0].Clean = 1.01 }},
		{"panel 0 shaded", func(s *Spec) { s.Panels[0].Shaded = qty.Fraction(nan) }},
		{"panel 0 shade from", func(s *Spec) { s.Panels[0].Shade = []Window{{-1, 3}} }},
		{"panel 0 shade to", func(s *Spec) { s.Panels[0].Shade = []Window{{1, 25}} }},
		{"Light", func(s *Spec) { s.Panels[0].Module = panel.Module{} }},
		{"joined", func(s *Spec) { s.Joined = 3 }},
		{"drop", func(s *Spec) { s.Drop = -0.1 }},
		{"drop", func(s *Spec) { s.Drop = qty.Volt(nan) }},
		{"series", func(s *Spec) { s.Series = -0.001 }},
		{"series", func(s *Spec) { s.Series = qty.Ohm(inf) }},
		{"panel 0 string", func(s *Spec) { s.Panels[0].String = -1 }},
		{"panel 0 mount", func(s *Spec) { s.Panels[0].Mount = panel.Mount{U1: 1} }},
		{"panel 0 mount", func(s *Spec) { s.Panels[0].Mount = panel.Mount{U0: nan} }},
		{"Efficiency", func(s *Spec) { s.Controller.Efficiency = 2 }},
	} {
		s := hill(t)
		c.edit(&s)
		refused(t, s, c.what)
	}
}

// A figure that no day can reach is answered with what the day can: brighter
// than the clear day, darker than what arrives above the air.
func TestPeakSunOnPanelsSaysWhatTheDayCanGive(t *testing.T) {
	s := hill(t)
	clear := scene(t, s).Days()[0]
	s.Light = Light{Kind: ByPeakSun, PeakSun: []float64{20}, OnPanels: true}
	e := refused(t, s, "peak sun hours of day 0")
	if space := sun.DailyExtraterrestrial(46, 134) / 1000; e.Max < clear.Ceiling || e.Max > 1.2*space || e.Unit != "kWh/m²" {
		t.Errorf("%v; a clear day has %g, above the air there are %g", e, clear.Ceiling, space)
	}
	s.Light.PeakSun[0] = e.Max
	scene(t, s)
	s.Place.Latitude = 78
	s.Start = time.Date(2026, 12, 20, 0, 0, 0, 0, time.UTC)
	if e := refused(t, s, "peak sun hours of day 0"); e.Max != 0 {
		t.Errorf("%v", e)
	}
	s.Light.PeakSun[0] = 0
	scene(t, s)
}

// Extreme but sound places give finite light.
func TestEdgesOfTheEarth(t *testing.T) {
	for _, place := range []sun.Place{{Latitude: 90}, {Latitude: -90}, {Longitude: 180}, {Longitude: -180}, {Altitude: 5500}, {Altitude: -430}, {}} {
		for _, start := range []time.Time{
			time.Date(2026, 6, 21, 0, 0, 0, 0, time.FixedZone("", 14*3600)), time.Date(2026, 12, 21, 0, 0, 0, 0, time.FixedZone("", -12*3600)),
			time.Date(2026, 3, 20, 3, 1, 0, 0, time.FixedZone("", 5*3600+45*60)), time.Date(2100, 12, 31, 23, 59, 0, 0, time.UTC),
		} {
			for kind := range OnLid + 1 {
				s := hill(t)
				s.Place, s.Start = place, start
				s.Panels[0].Lie.Kind, s.Panels[0].Lie.Aims = kind, 4
				c := scene(t, s)
				for _, d := range c.Days() {
					if !(d.OnPanels >= 0 && d.OnPanels < 20 && d.OnLevel >= 0 && d.OnLevel < 13) {
						t.Errorf("%+v from %v: %+v", place, start, d)
					}
				}
				for after := 0.0; after <= s.Span.Seconds(); after += 1800 {
					if x := c.At(after); !(x.Light >= 0 && x.Light < 1600) || !(x.Offer.Amps(13) >= 0) {
						t.Errorf("%+v from %v: %+v", place, start, x)
					}
				}
			}
		}
	}
}
