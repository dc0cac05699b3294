package desk

import (
	"slices"
	"strings"
	"time"

	"duskline/calc/plan"
)

// How far around the start the clock's changes are looked for: more than a
// plan keeps of them, so that the trip's length may change without a look.
const (
	zoneBefore = -4 * 24 * time.Hour
	zoneAfter  = 34 * 24 * time.Hour
)

// follow brings along what belongs to the trip's dates, after an edit that
// moved them: the place's clock, which may be another one then, and the hours
// out of a weather file. What shows on the start's clock stays.
//
// A zone that the device does not know gives way to the start's offset, which
// the page shows. Hours that cannot be cut anew stay, and Check says what is
// missing.
func (d *Desk) follow(p *plan.Plan, was plan.Trip) {
	t := p.Trip
	_, a := was.Start.Zone()
	_, b := t.Start.Zone()
	moved := !t.Start.Equal(was.Start) || a != b || t.LengthH != was.LengthH
	if moved && t.Zone != "" && t.Zone == was.Zone && d.Zone != nil {
		first, changes, err := d.Zone(t.Zone, t.Start.Add(zoneBefore), t.Start.Add(zoneAfter))
		if err == nil {
			p.SetZone(t.Zone, first, changes)
		} else {
			p.SetZone("", time.Duration(b)*time.Second, nil)
		}
	}
	// Also while the light is given in another way: its hours are then those of
	// the dates when the file is chosen again.
	if (moved || t.Zone != was.Zone) && p.Sky.WeatherFile != nil && d.Weather != nil {
		if w, ok := d.Weather(p); ok {
			p.Sky.WeatherFile = w
		}
	}
}

// check holds a Plan against its limits. Hours of a weather file that is not in
// use, and does not go with another value, are in that value's way: a plan that
// is moved to another country leaves them behind.
func check(p *plan.Plan) plan.Faults {
	const file = "/sky/weather_file"
	faults := plan.Check(*p)
	if len(faults) == 0 || p.Sky.WeatherFile == nil || p.Sky.Light == plan.ByWeatherFile ||
		slices.ContainsFunc(faults, func(f plan.Fault) bool { return !strings.HasPrefix(f.Pointer, file) }) {
		return faults
	}
	p.Sky.WeatherFile = nil
	return plan.Check(*p)
}
