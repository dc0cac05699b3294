package daylight

import (
	"fmt"
	"math"
	"time"

	"duskline/calc/panel"
	"duskline/calc/qty"
	"duskline/calc/sun"
)

// The longest trip, and the years in which one may start.
const (
	longest             = 370 // days
	firstYear, lastYear = 1950, 2100
	lowest, highest     = -430, 5500 // m, the shore of the Dead Sea and what people live at
)

// check looks at every figure by itself.
func (s *Spec) check() error {
	if s.Step == 0 {
		s.Step = 5 * time.Minute
	}
	for _, r := range []struct {
		what          string
		got, min, max float64
		unit          string
	}{
		{"year", float64(s.Start.Year()), firstYear, lastYear, ""},
		{"span", s.Span.Hours() / 24, 1.0 / 86400, longest, "days"},
		{"step", s.Step.Minutes(), 1, 60, "min"},
		{"rest of an hour cut into steps", (time.Hour % s.Step).Minutes(), 0, 0, "min"},
		{"latitude", float64(s.Place.Latitude), -90, 90, "°"},
		{"longitude", float64(s.Place.Longitude), -180, 180, "°"},
		{"altitude", float64(s.Place.Altitude), lowest, highest, "m"},
		{"turbidity", s.Turbidity, 1, 10, ""},
		{"albedo", float64(s.Albedo), 0, 1, ""},
		{"sky model", float64(s.Model), 0, float64(sun.Isotropic), ""},
		{"glass", float64(s.Glass), 0, float64(sun.NoGlass), ""},
		{"warmest", float64(s.Warmest), -60, 60, "°C"},
		{"coldest", float64(s.Coldest), -60, float64(s.Warmest), "°C"},
		{"wind", float64(s.Wind), 0, 30, "m/s"},
		{"joined", float64(s.Joined), 0, float64(panel.Strings), ""},
		{"drop", float64(s.Drop), 0, 2, "V"},
		{"series", float64(s.Series), 0, 100, "Ω"},
	} {
		if err := qty.InRange(r.what, r.got, r.min, r.max, r.unit); err != nil {
			return err
		}
	}
	for i := range s.Panels {
		if err := s.Panels[i].check(i); err != nil {
			return err
		}
	}
	if err := s.Controller.Check(); err != nil {
		return err
	}
	return s.Light.check()
}

func (p *Panel) check(i int) error {
	for _, r := range []struct {
		what          string
		got, min, max float64
		unit          string
	}{
		{"count", float64(p.Count), 1, 1000, ""},
		{"watts", float64(p.Watts), math.SmallestNonzeroFloat64, 1e6, "W"},
		{"lie", float64(p.Lie.Kind), 0, float64(OnLid), ""},
		{"tilt", float64(p.Lie.Tilt), 0, 90, "°"},
		{"azimuth", float64(p.Lie.Azimuth), 0, 360, "°"},
		{"clean", float64(p.Clean), 0, 1, ""},
		{"shaded", float64(p.Shaded), 0, 1, ""},
		{"string", float64(p.String), 0, 1000, ""},
	} {
		if err := qty.InRange(named(i, r.what), r.got, r.min, r.max, r.unit); err != nil {
			return err
		}
	}
	if k := p.Lie.Kind; k == Turned || k == TwoAxis {
		if err := qty.InRange(named(i, "aims"), float64(p.Lie.Aims), 1, 24, "a day"); err != nil {
			return err
		}
	}
	for _, w := range p.Shade {
		if err := qty.InRange(named(i, "shade from"), w.From, 0, 24, "h"); err != nil {
			return err
		}
		if err := qty.InRange(named(i, "shade to"), w.To, 0, 24, "h"); err != nil {
			return err
		}
	}
	if p.Mount != (panel.Mount{}) {
		if err := p.Mount.Check(); err != nil {
			return renamed(err, named(i, "mount"))
		}
	}
	return p.Module.Check()
}

// named is how an error names a figure of a panel: "panel 0 tilt".
func named(i int, what string) string { return fmt.Sprintf("panel %d %s", i, what) }

// check looks at the list that Kind names.
func (l *Light) check() error {
	switch l.Kind {
	case ByIndex:
		return checkList("clear-sky index", l.Indexes, 1.2, "")
	case ByState:
		if err := qty.InRange("days of sky state", float64(len(l.States)), 1, longest, ""); err != nil {
			return err
		}
		for k, s := range l.States {
			if err := qty.InRange(fmt.Sprintf("sky state of day %d", k), float64(s), 0, float64(sun.States-1), ""); err != nil {
				return err
			}
		}
		return nil
	case ByPeakSun:
		return checkList("peak sun hours", l.PeakSun, math.MaxFloat64, "kWh/m²")
	case ByMeter:
		if err := qty.InRange("days of meter readings", float64(len(l.Meter)), 3, 3, ""); err != nil {
			return err
		}
		return checkList("meter", l.Meter, math.MaxFloat64, l.meterUnit())
	case ByWeather:
		if l.Weather == nil {
			return &qty.RangeError{What: "hours of weather", Got: 0, Min: 1, Max: longest * 24}
		}
		return l.Weather.check()
	}
	return qty.InRange("light", float64(l.Kind), 0, float64(ByWeather), "")
}

func (l *Light) meterUnit() string {
	if l.MeterAh {
		return "Ah"
	}
	return "Wh"
}

// checkList looks at a list of a figure a day.
func checkList(what string, list []float64, most float64, unit string) error {
	if err := qty.InRange("days of "+what, float64(len(list)), 1, longest, ""); err != nil {
		return err
	}
	for k, v := range list {
		if err := qty.InRange(fmt.Sprintf("%s of day %d", what, k), v, 0, most, unit); err != nil {
			return err
		}
	}
	return nil
}
