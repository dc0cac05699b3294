package daylight

import (
	"errors"
	"fmt"
	"math"
	"time"

	"duskline/calc/qty"
	"duskline/calc/sun"
)

// setLight finds the clear-sky index and the turbidity of every day.
func (c *Scene) setLight() error {
	l := &c.spec.Light
	switch l.Kind {
	case ByIndex:
		for k := range c.days {
			c.days[k].index = ofDay(l.Indexes, k)
		}
	case ByState:
		return c.setStates()
	case ByPeakSun:
		if l.OnPanels && c.watts > 0 {
			return c.setPeakSunOnPanels()
		}
		for k := range c.days {
			d := &c.days[k]
			index, err := sun.IndexForPeakSunHours(c.spec.Place, *c.air, d.midnight, ofDay(l.PeakSun, k))
			if err != nil {
				return renamed(err, fmt.Sprintf("peak sun hours of day %d", k))
			}
			d.index = index
		}
	case ByMeter:
		return c.setMeter()
	case ByWeather:
		return c.setHours()
	}
	return nil
}

// ofDay returns the figure of day k; the last one holds for the days after it.
func ofDay[T any](list []T, k int) T { return list[min(k, len(list)-1)] }

// setStates reads the looks of the sky. A place has few turbidities at a time,
// so an Atmosphere is made for each and shared.
func (c *Scene) setStates() error {
	made := map[float64]*sun.Atmosphere{c.spec.Turbidity: c.air}
	for k := range c.days {
		d := &c.days[k]
		look := ofDay(c.spec.Light.States, k).Look()
		d.index = look.Index.Mean()
		d.turbidity = max(c.spec.Turbidity, look.Turbidity)
		if made[d.turbidity] == nil {
			air, err := sun.NewAtmosphere(c.spec.Place, d.turbidity)
			if err != nil {
				return err
			}
			made[d.turbidity] = &air
		}
		d.air = made[d.turbidity]
	}
	return nil
}

// renamed gives a range error the name of the input it is about.
func renamed(err error, what string) error {
	if e := (*qty.RangeError)(nil); errors.As(err, &e) {
		r := *e
		r.What = what
		return &r
	}
	return err
}

// A sample is one lit instant of a day, in the middle of its share of it.
type sample struct {
	after, hour float64
	d           sun.Direction
	light       sun.Light
}

// grid is the time between the samples that a day's sum is made of.
const grid = 5 * time.Minute

// A sun below the horizon comes up by fastest at the most, °/h, and air lifts
// it by less than lift, °.
const fastest, lift = 15.1, 1.0

// sampled appends the instants of a day, in the middles of steps from its
// midnight on, at which light is above zero. A day of 23 or 25 hours has fewer
// or more of them, and each stands for its step. Instants at which the sun
// cannot be up yet are passed over.
func (c *Scene) sampled(list []sample, d *day, step time.Duration, light func(after float64, to sun.Direction) sun.Light) []sample {
	w := step.Seconds()
	for at := d.from + w/2; at < d.to; at += w {
		to := c.toward(at)
		if to.Elevation <= 0 && c.hours == nil {
			at += w * math.Floor(max(0, -float64(to.Elevation)-lift)/(fastest/3600*w))
			continue
		}
		if l := light(at, to); l.GHI > 0 {
			list = append(list, sample{at, c.clock.Hour(at), to, l})
		}
	}
	return list
}

// expected returns the light of an instant under the sky that is expected.
func (c *Scene) expected(d *day, after float64, to sun.Direction) sun.Light {
	if c.hours != nil {
		l, _ := c.hours.light(c, after, to, d)
		return l
	}
	return sun.Clouded(d.air.ClearSky(to, d.extra), d.index, to, d.extra)
}

// onPanels returns what falls on the panels, W/m², mean weighted by watts.
func (c *Scene) onPanels(d *day, s *sample, l sun.Light) float64 {
	if c.watts == 0 {
		return float64(l.GHI)
	}
	for i := range c.faces {
		c.faces[i].look(d, s.after, s.d, l, c.spec.Albedo)
	}
	sum := 0.0
	for i := range c.panels {
		p := &c.panels[i]
		f := &c.faces[p.face]
		on := f.on
		if p.shaded > 0 && in(p.shade, s.hour) {
			f.lookInShade(s.d, l, d.extra, c.spec.Albedo)
			on += p.shaded * (f.onShade - on)
		}
		sum += on * p.watts
	}
	return sum / c.watts
}
