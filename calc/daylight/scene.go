package daylight

import (
	"math"
	"slices"
	"time"

	"duskline/calc/civil"
	"duskline/calc/panel"
	"duskline/calc/qty"
	"duskline/calc/sun"
)

// A Scene is what the surroundings do to the panels, one step at a time. It
// belongs to one simulation: At works on memory of its own.
type Scene struct {
	spec  Spec
	clock *civil.Clock
	track *sun.Track
	lead  float64 // s from the track's start to the trip's
	air   *sun.Atmosphere
	days  []day
	hours *hours // of a weather file, or nil

	faces  []face
	panels []lying
	watts  float64 // rated watts of all panels
	array  panel.Array
	patchy panel.Patchy
}

// day is one local day of the trip.
type day struct {
	table     sun.Day
	midnight  time.Time
	from, to  float64 // s after the trip's start
	rise, set float64 // the daylight that aims are shared out over, s after the trip's start
	number    int
	doy       int
	extra     qty.Irradiance
	index     float64
	turbidity float64
	air       *sun.Atmosphere
}

// lying is one kind of panel and how it lies.
type lying struct {
	module panel.Module
	face   int
	clean  float64 // share of the light that gets through dirt
	watts  float64 // rated watts of all of the kind
	shade  []Window
	shaded float64 // share of the cells that the shade covers
	mount  panel.Mount
}

// margin is how much longer than the trip's local days the track is, on both
// sides, for what is drawn of the nights around them.
const margin = 24 * time.Hour

// New prepares a Scene. It keeps the lists of days, of hours of weather and of
// shade, which must not change while it is in use.
//
// It costs about 0.1 ms for a week of clear-sky indexes, and ten times as much
// if the index of each day has to be found from peak sun hours on the panels
// or from meter readings.
//
// Errors: *qty.RangeError for every figure out of the range that [Spec],
// [Light], [Weather], [Panel] and [Lie] name, for an empty list, for more peak
// sun hours or a larger reading than the day can give, for hours of weather
// that do not cover the trip, and those of the models' own constructors.
func New(s Spec) (*Scene, error) {
	if err := s.check(); err != nil {
		return nil, err
	}
	return build(s)
}

// build is New for figures that were looked at.
func build(s Spec) (*Scene, error) {
	s.Panels = slices.Clone(s.Panels) // the caller may lay them another way
	c := &Scene{spec: s, clock: civil.NewClock(s.Start, s.Span)}
	if err := c.setDays(); err != nil {
		return nil, err
	}
	if err := c.setPanels(); err != nil {
		return nil, err
	}
	if err := c.setLight(); err != nil {
		return nil, err
	}
	return c, nil
}

// setDays prepares every local day that the trip touches, and the sun's track
// over them.
func (c *Scene) setDays() error {
	s := &c.spec
	end := s.Start.Add(s.Span)
	first := c.clock.Midnight(0)
	for k, at := 0, first; k == 0 || at.Before(end); k++ {
		next := c.clock.Midnight(k + 1)
		doy := sun.DayOfYear(at)
		c.days = append(c.days, day{
			midnight: at, from: at.Sub(s.Start).Seconds(), to: next.Sub(s.Start).Seconds(),
			number: k, doy: doy, extra: sun.Extraterrestrial(doy), index: 1, turbidity: s.Turbidity,
		})
		at = next
	}
	begin := first.Add(-margin)
	stop := s.Start.Add(time.Duration(c.days[len(c.days)-1].to * float64(time.Second)))
	var err error
	if c.track, err = sun.NewTrack(begin, stop.Add(margin), s.Place); err != nil {
		return err
	}
	c.lead = s.Start.Sub(begin).Seconds()
	for k := range c.days {
		d := &c.days[k]
		if d.table, err = c.track.Day(d.midnight); err != nil {
			return err
		}
		d.rise, d.set = d.from, d.to
		if !d.table.Rise.IsZero() {
			d.rise = d.table.Rise.Sub(s.Start).Seconds()
		}
		if !d.table.Set.IsZero() {
			d.set = d.table.Set.Sub(s.Start).Seconds()
		}
	}
	air, err := sun.NewAtmosphere(s.Place, s.Turbidity)
	if err != nil {
		return err
	}
	c.air = &air
	for k := range c.days {
		c.days[k].air = c.air
	}
	return nil
}

// setPanels prepares the panels and what they see.
func (c *Scene) setPanels() error {
	c.array.Joined, c.patchy.Joined = c.spec.Joined, c.spec.Joined
	c.array.Drop, c.patchy.Drop = c.spec.Drop, c.spec.Drop
	c.array.Series, c.patchy.Series = c.spec.Series, c.spec.Series
	for _, p := range c.spec.Panels {
		f := 0
		for f < len(c.faces) && c.faces[f].lie != p.Lie.plain() {
			f++
		}
		if f == len(c.faces) {
			made, err := c.newFace(p.Lie)
			if err != nil {
				return err
			}
			c.faces = append(c.faces, made)
		}
		w := float64(p.Watts)
		mount := p.Mount
		if mount == (panel.Mount{}) {
			mount = panel.OpenRack
		}
		c.panels = append(c.panels, lying{p.Module, f, float64(p.Clean), w, p.Shade, float64(p.Shaded), mount})
		c.array.Parts = append(c.array.Parts, panel.Part{Count: p.Count, String: p.String})
		c.patchy.Parts = append(c.patchy.Parts, panel.Patch{Count: p.Count, Cells: p.Module.Cells, String: p.String})
		c.watts += w
	}
	return nil
}

// Clock returns the clock on the wall at the place, from the trip's start.
func (c *Scene) Clock() *civil.Clock { return c.clock }

// toward returns the sun's direction, from a day before the trip's first local
// day to a day after its last.
func (c *Scene) toward(after float64) sun.Direction {
	return c.track.At(time.Duration((after + c.lead) * float64(time.Second)))
}

// dayAt returns the local day of an instant; what lies outside of the trip's
// days counts as the nearest of them.
func (c *Scene) dayAt(after float64) *day {
	return &c.days[max(0, min(c.clock.Day(after), len(c.days)-1))]
}

// airAt returns the air temperature at a local hour of the day: a cosine with
// its crest at 15 h and its trough at 3 h. Common practice, no source: the
// true curve falls more slowly at night and turns at dawn.
func (c *Scene) airAt(hour float64) qty.Celsius {
	mean, swing := (c.spec.Warmest+c.spec.Coldest)/2, (c.spec.Warmest-c.spec.Coldest)/2
	return mean + swing*qty.Celsius(math.Cos((hour-15)*(math.Pi/12)))
}
