package outlook

import (
	"math"
	"time"

	"duskline/calc/civil"
	"duskline/calc/panel"
	"duskline/calc/plan"
	"duskline/calc/power"
	"duskline/calc/qty"
	"duskline/calc/sun"
)

// A scene is what the plan's surroundings do to it: light, heat, and what the
// controller offers, one step at a time.
type scene struct {
	clock *civil.Clock
	sky   plan.Sky

	track  *sun.Track
	air    sun.Atmosphere
	days   []dayLight
	panels []lying
	array  panel.Array
	watts  float64 // rated watts of all panels
	ctl    power.Controller
}

// dayLight is one local day's figures.
type dayLight struct {
	doy   int
	extra qty.Irradiance
	index float64
}

// lying is one kind of panel and how it lies.
type lying struct {
	module panel.Module
	plane  sun.Plane
	clean  float64 // share of the light that gets through dirt
	watts  float64 // rated watts of all of the kind
}

// weather is what one step meets.
type weather struct {
	light     float64 // W/m², mean on the panels, weighted by rated watts
	elevation qty.Degree
	cloud     float64 // 0 clear, 1 overcast
	offer     power.Offer
	sunny     bool // offer holds something
}

func newScene(p plan.Plan, clock *civil.Clock, span time.Duration) (*scene, error) {
	place := p.Sky.Sun()
	c := &scene{clock: clock, sky: p.Sky}
	var err error
	if c.track, err = sun.NewTrack(p.Trip.Start, p.Trip.Start.Add(span), place); err != nil {
		return nil, err
	}
	if c.air, err = sun.NewAtmosphere(place, p.Sky.Turbidity); err != nil {
		return nil, err
	}
	if err := c.setDays(place, p.Trip.Start.Add(span)); err != nil {
		return nil, err
	}
	c.ctl = controllerOf(p.Case.Controller)
	if err := c.ctl.Check(); err != nil {
		return nil, err
	}
	for _, l := range p.Panels.List {
		plane, err := sun.NewPlane(qty.Degree(l.TiltDeg), qty.Degree(l.AzimuthDeg))
		if err != nil {
			return nil, err
		}
		module, err := l.Module()
		if err != nil {
			return nil, err
		}
		w := l.RatedW * float64(l.Count)
		c.panels = append(c.panels, lying{module, plane, 1 - l.LossPct/100, w})
		c.array.Parts = append(c.array.Parts, panel.Part{Count: l.Count})
		c.watts += w
	}
	if p.Panels.Joined == plan.EndToEnd {
		c.array.Joined = panel.EndToEnd
	} else {
		c.array.Joined = panel.SideBySide
	}
	return c, nil
}

// setDays fills one dayLight for every local day that the trip touches.
func (c *scene) setDays(place sun.Place, end time.Time) error {
	for k := 0; ; k++ {
		midnight := c.clock.Midnight(k)
		if k > 0 && !midnight.Before(end) {
			return nil
		}
		doy := sun.DayOfYear(midnight)
		day := dayLight{doy: doy, extra: sun.Extraterrestrial(doy)}
		if c.sky.Light == plan.ByPeakSun {
			index, err := sun.IndexForPeakSunHours(place, c.air, midnight, ofDay(c.sky.PeakSunHours, k))
			if err != nil {
				return err
			}
			day.index = index
		} else {
			day.index = ofDay(c.sky.ClearSkyIndex, k)
		}
		c.days = append(c.days, day)
	}
}

// ofDay returns the figure of day k; the last one holds for the days after it.
func ofDay(list []float64, k int) float64 { return list[min(k, len(list)-1)] }

// day returns the local day of an instant so many seconds after the start.
func (c *scene) day(after float64) *dayLight {
	return &c.days[min(c.clock.Day(after), len(c.days)-1)]
}

// at returns what the step meets whose middle lies so many seconds after the start.
func (c *scene) at(after float64, air qty.Celsius) weather {
	dir := c.track.At(time.Duration(after * float64(time.Second)))
	day := c.day(after)
	w := weather{elevation: dir.Elevation, cloud: math.Max(0, 1-day.index)}
	if dir.Elevation <= 0 {
		return w
	}
	light := sun.Clouded(c.air.ClearSky(dir, day.extra), day.index, dir, day.doy)
	if c.watts == 0 {
		w.light = float64(light.GHI)
		return w
	}
	// Panels of one kind of plane are listed together as a rule: the light
	// of the plane before is used again.
	var plane sun.Plane
	var onPlane, through qty.Irradiance
	for i := range c.panels {
		l := &c.panels[i]
		if i == 0 || l.plane != plane {
			plane = l.plane
			parts := plane.Light(light, dir, day.extra, qty.Fraction(c.sky.Albedo))
			onPlane, through = parts.Total(), plane.Transmitted(parts, dir)
		}
		w.light += float64(onPlane) * l.watts
		sunIn := qty.Irradiance(float64(through) * l.clean)
		cell := panel.OpenRack.Cell(air, sunIn, qty.MetrePerSecond(c.sky.WindMs))
		c.array.Parts[i].Curve = l.module.At(sunIn, cell)
	}
	w.light /= c.watts
	w.offer, w.sunny = c.ctl.Offer(&c.array), true
	return w
}

// airAt returns the air temperature at a local hour of the day: a cosine with
// its crest at 15 h and its trough at 3 h. Common practice, no source: the
// true curve falls more slowly at night and turns at dawn.
func (c *scene) airAt(hour float64) qty.Celsius {
	mean, swing := (c.sky.WarmestC+c.sky.ColdestC)/2, (c.sky.WarmestC-c.sky.ColdestC)/2
	return qty.Celsius(mean + swing*math.Cos((hour-15)*(math.Pi/12)))
}
