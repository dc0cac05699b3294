package daylight

import (
	"time"

	"duskline/calc/qty"
	"duskline/calc/sun"
)

// A Day is the light of one whole local day, also where the trip has only a
// part of it.
type Day struct {
	sun.Day
	Midnight     time.Time // the first instant of the day
	Index        float64   // what arrives on the level over what a clear sky would send; 0 without sun
	Turbidity    float64   // Linke turbidity of the day
	OnPanels     float64   // kWh/m² of panel, mean weighted by watts, before the glass; without panels OnLevel
	Ceiling      float64   // the same under a clear sky of the place's own turbidity
	OnLevel      float64   // kWh/m², level ground in the open
	LevelCeiling float64   // the same under a clear sky of the place's own turbidity
	Softened     float64   // kWh/m² on the level that a weather file has as beam, and that counts as light of the sky: see [Weather]
}

// Days returns the light of every local day that the trip touches.
//
// The sums are those of the middles of 5-minute steps, over as many hours as
// the day has. They agree with the sum of [Scene.At] over the day's steps to
// 0.2 % of the day's ceiling in the open, to 1 % where the sun comes from
// behind a horizon or a shade in the middle of a step of a quarter of an hour,
// and to rounding where steps are of 5 minutes and begin at midnight's beat.
//
// The expected light may be above the ceiling: an index above 1, a weather file
// of a day that was clearer than the turbidity says.
func (c *Scene) Days() []Day {
	out := make([]Day, 0, len(c.days))
	var list []sample
	share := grid.Hours() / 1000
	for k := range c.days {
		d := &c.days[k]
		day := Day{Day: d.table, Midnight: d.midnight, Index: d.index, Turbidity: d.turbidity}
		soft := 0.0
		list = c.sampled(list[:0], d, grid, func(_ float64, to sun.Direction) sun.Light {
			if to.Elevation <= 0 {
				return sun.Light{GHI: dark}
			}
			return c.air.ClearSky(to, d.extra)
		})
		same := c.hours == nil && d.index == 1 && d.air == c.air
		for i := range list {
			s := &list[i]
			if s.d.Elevation > 0 {
				day.LevelCeiling += float64(s.light.GHI)
				day.Ceiling += c.onPanels(d, s, s.light)
			}
			if same {
				continue
			}
			l := s.light
			switch {
			case c.hours != nil:
				var moved float64
				l, moved = c.hours.light(c, s.after, s.d, d)
				soft += moved
			case d.air != c.air:
				l = d.air.ClearSky(s.d, d.extra)
				fallthrough
			default:
				l = sun.Clouded(l, d.index, s.d, d.extra)
			}
			if l.GHI > 0 {
				day.OnLevel += float64(l.GHI)
				day.OnPanels += c.onPanels(d, s, l)
			}
		}
		if same {
			day.OnLevel, day.OnPanels = day.LevelCeiling, day.Ceiling
		}
		if c.hours != nil {
			day.Index = 0
			if day.LevelCeiling > 0 {
				day.Index = day.OnLevel / day.LevelCeiling
			}
		}
		day.Ceiling *= share
		day.LevelCeiling *= share
		day.OnPanels *= share
		day.OnLevel *= share
		day.Softened = soft * share
		out = append(out, day)
	}
	return out
}

// dark keeps a sample of an instant without sun in the list.
const dark = qty.Irradiance(1e-300)

// A PathPoint is where the sun stands at an instant.
type PathPoint struct {
	At                 time.Time
	Azimuth, Elevation qty.Degree
	Hidden             bool // behind the horizon's line
}

// pathStep is the time between two points of a path.
const pathStep = 15 * time.Minute

// Path returns the sun's way around the noon of a local day of the trip, 0 for
// the first: where it rises, every quarter of an hour that the clock shows, and
// where it sets. On a day without night it is the 24 hours around noon; on a
// day without sun it is empty, and so it is for a day off the trip.
//
// Elevations are apparent: where the sun rises it stands a quarter of a degree
// under the level, with its upper rim on it.
func (c *Scene) Path(day int) []PathPoint {
	if day < 0 || day >= len(c.days) || c.days[day].table.State == sun.PolarNight {
		return nil
	}
	d := &c.days[day]
	first, last := d.table.Rise, d.table.Set
	if first.IsZero() {
		first = d.table.Noon.Add(-12 * time.Hour)
	}
	if last.IsZero() {
		last = d.table.Noon.Add(12 * time.Hour)
	}
	path := []PathPoint{c.pathPoint(first)}
	for at := d.midnight.Add(first.Sub(d.midnight).Truncate(pathStep)); at.Before(last); at = at.Add(pathStep) {
		if at.After(first) {
			path = append(path, c.pathPoint(at))
		}
	}
	return append(path, c.pathPoint(last))
}

func (c *Scene) pathPoint(at time.Time) PathPoint {
	d := c.toward(at.Sub(c.spec.Start).Seconds())
	return PathPoint{At: at, Azimuth: facing(d), Elevation: d.Elevation, Hidden: c.spec.Horizon.Hides(d)}
}
