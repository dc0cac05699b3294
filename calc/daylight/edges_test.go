package daylight

import (
	"math"
	"testing"
	"time"

	"duskline/calc/qty"
	"duskline/calc/sun"
)

// From is of a window and To is not; from after to runs over midnight.
func TestWindowsByHand(t *testing.T) {
	day, night := []Window{{8, 12}}, []Window{{22, 5}}
	for _, c := range []struct {
		list []Window
		hour float64
		want bool
	}{
		{day, 7.999, false}, {day, 8, true}, {day, 11.999, true}, {day, 12, false}, {day, 23, false},
		{night, 21.999, false}, {night, 22, true}, {night, 0, true}, {night, 4.999, true}, {night, 5, false}, {night, 12, false},
		{[]Window{{0, 24}}, 0, true}, {[]Window{{0, 24}}, 23.999, true},
		{[]Window{{20, 0}}, 23.999, true}, {[]Window{{20, 0}}, 0, false},
		{[]Window{{9, 9}}, 9, false}, {append(day, night...), 23, true}, {nil, 9, false},
	} {
		if got := in(c.list, c.hour); got != c.want {
			t.Errorf("%v at %g h: %t", c.list, c.hour, got)
		}
	}
}

// A shade over midnight at 78° N in June, where the sun shines through it: what
// both sides of midnight lose is what a window on each side takes.
func TestShadeOverMidnight(t *testing.T) {
	s := hill(t)
	s.Place, s.Start = sun.Place{Latitude: 78, Longitude: 30}, time.Date(2026, 6, 14, 0, 0, 0, 0, time.FixedZone("", 7200))
	s.Panels[0].Lie = Lie{Tilt: 90}
	s.Panels[0].Shaded = 1
	sum := func(shade ...Window) float64 {
		s.Panels[0].Shade = shade
		c := scene(t, s)
		if by, at := c.Days()[1].OnPanels, sumOf(c, 1, 5*time.Minute, light); math.Abs(by-at) > 1e-9 {
			t.Errorf("%v: the day has %g, its steps %g kWh/m²", shade, by, at)
		}
		return c.Days()[1].OnPanels
	}
	open, both := sum(), sum(Window{22, 3})
	before, behind := sum(Window{22, 24}), sum(Window{0, 3})
	if lost := open - both; lost < 0.1 || math.Abs(lost-(open-before)-(open-behind)) > 1e-9 {
		t.Errorf("open %g, before midnight %g, behind it %g, both %g kWh/m²", open, before, behind, both)
	}
}

// 180° east and 180° west are one line: the same light to rounding, on the same
// dates of clocks that stand a day apart.
func TestAntimeridianIsOneLine(t *testing.T) {
	for _, lat := range []qty.Degree{-52, 0, 71} {
		for _, zone := range []int{12, -12, 14} {
			s := hill(t)
			s.Panels = append(s.Panels, Panel{Module: watts(t, 60), Count: 2, Watts: 120, Lie: Lie{Kind: TwoAxis, Aims: 3}, Clean: 1})
			s.Start = time.Date(2026, 11, 14, 5, 0, 0, 0, time.FixedZone("", zone*3600))
			s.Place = sun.Place{Latitude: lat, Longitude: 180}
			east := scene(t, s)
			s.Place.Longitude = -180
			west := scene(t, s)
			bright := 0.0
			for after := 150.0; after < s.Span.Seconds(); after += 300 {
				e, w := east.At(after), west.At(after)
				if math.Abs(e.Light-w.Light) > 1e-6 || math.Abs(float64(e.Elevation-w.Elevation)) > 1e-9 {
					t.Fatalf("latitude %g, zone %d, %g s: %+v and %+v", lat, zone, after, e, w)
				}
				bright = max(bright, e.Light)
			}
			if bright < 100 && lat != 71 {
				t.Errorf("latitude %g, zone %d: %g W/m² at the most", lat, zone, bright)
			}
			for k, d := range east.Days() {
				if w := west.Days()[k]; !d.Noon.Round(time.Millisecond).Equal(w.Noon.Round(time.Millisecond)) || math.Abs(d.OnPanels-w.OnPanels) > 1e-9 {
					t.Errorf("latitude %g, zone %d, day %d: %v, %g and %v, %g", lat, zone, k, d.Noon, d.OnPanels, w.Noon, w.OnPanels)
				}
			}
		}
	}
}

// The last figures that are allowed pass, and the first that are not are
// refused: nothing is clamped in silence.
func TestLimitsToTheFigure(t *testing.T) {
	for _, c := range []struct {
		what string
		ok   bool
		edit func(*Spec)
	}{
		{"altitude", true, func(s *Spec) { s.Place.Altitude = 5500 }},
		{"altitude", false, func(s *Spec) { s.Place.Altitude = 5500.1 }},
		{"altitude", true, func(s *Spec) { s.Place.Altitude = -430 }},
		{"altitude", false, func(s *Spec) { s.Place.Altitude = -430.1 }},
		{"latitude", true, func(s *Spec) { s.Place.Latitude = -90 }},
		{"latitude", false, func(s *Spec) { s.Place.Latitude = -90.001 }},
		{"longitude", false, func(s *Spec) { s.Place.Longitude = 180.001 }},
		{"clear-sky index of day 0", true, func(s *Spec) { s.Light.Indexes[0] = 1.2 }},
		{"clear-sky index of day 0", false, func(s *Spec) { s.Light.Indexes[0] = 1.2001 }},
		{"year", true, func(s *Spec) { s.Start = time.Date(1950, 1, 1, 0, 0, 0, 0, time.FixedZone("", 14*3600)) }},
		{"year", true, func(s *Spec) { s.Start = time.Date(2100, 12, 31, 23, 0, 0, 0, time.FixedZone("", -12*3600)) }},
		{"span", true, func(s *Spec) { s.Span = 370 * 24 * time.Hour }},
		{"panel 0 tilt", true, func(s *Spec) { s.Panels[0].Lie.Tilt = 90 }},
		{"panel 0 tilt", false, func(s *Spec) { s.Panels[0].Lie.Tilt = 90.001 }},
	} {
		s := hill(t)
		c.edit(&s)
		if c.ok {
			scene(t, s)
		} else {
			refused(t, s, c.what)
		}
	}
}
