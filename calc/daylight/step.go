package daylight

import (
	"duskline/calc/panel"
	"duskline/calc/power"
	"duskline/calc/qty"
	"duskline/calc/sun"
)

// A Step is what one step meets.
type Step struct {
	Light     float64 // W/m², mean on the panels weighted by their watts, before the glass; without panels Level
	Level     float64 // W/m², on level ground in the open
	Elevation qty.Degree
	Cloud     float64 // 0 clear, 1 overcast
	Air       qty.Celsius
	Offer     power.Offer // of the controller; holds until the next At
	Sunny     bool        // Offer holds something
}

// At returns what the step meets whose middle lies so many seconds after the
// trip's start, 0 to its length. It allocates nothing.
//
// A panel partly in the shade counts in Light by the shares of its cells; what
// it gives is less than that: see [panel.Patchy].
//
// Its figures are those of the models of calc/sun and calc/panel, joined.
func (c *Scene) At(after float64) (s Step) {
	patchy := c.meet(&s, after)
	switch {
	case !s.Sunny:
	case patchy:
		s.Offer = c.spec.Controller.Offer(&c.patchy)
	default:
		s.Offer = c.spec.Controller.Offer(&c.array)
	}
	return s
}

// meet is At without the controller, into an empty step: it sets the curves of
// array, and those of patchy too if it says that some panels are partly in the
// shade.
func (c *Scene) meet(s *Step, after float64) (patchy bool) {
	d := c.toward(after)
	hour := c.clock.Hour(after)
	now := c.dayAt(after)
	s.Elevation, s.Cloud = d.Elevation, max(0, 1-now.index)
	wind := c.spec.Wind
	var light sun.Light
	if c.hours == nil {
		s.Air = c.airAt(hour)
		if d.Elevation <= 0 {
			return false
		}
		light = sun.Clouded(now.air.ClearSky(d, now.extra), now.index, d, now.extra)
	} else {
		s.Air, wind = c.hours.airAt(c, after, hour), c.hours.windAt(c, after)
		s.Cloud = c.hours.cloud(after, s.Cloud)
		if light, _ = c.hours.light(c, after, d, now); !(light.GHI > 0) {
			return false
		}
	}
	s.Level = float64(light.GHI)
	if c.watts == 0 {
		s.Light = s.Level
		return false
	}
	for i := range c.faces {
		c.faces[i].look(now, after, d, light, c.spec.Albedo)
	}
	for i := range c.panels {
		l := &c.panels[i]
		f := &c.faces[l.face]
		on, through := f.on, f.through
		part := &c.patchy.Parts[i]
		part.Share = 0
		if l.shaded > 0 && in(l.shade, hour) {
			f.lookInShade(d, light, now.extra, c.spec.Albedo)
			on += l.shaded * (f.onShade - on)
			part.Share, part.Dark = l.shaded, l.curve(f.throughShade, s.Air, wind)
			// A panel all in the shade is a weak panel like any other, but in a
			// string has the diodes that it had with one cell in the light.
			if patchy = patchy || l.shaded < 1 || c.array.Joined != panel.SideBySide; l.shaded == 1 {
				through = f.throughShade
			}
		}
		s.Light += on * l.watts
		c.array.Parts[i].Curve = l.curve(through, s.Air, wind)
	}
	s.Light /= c.watts
	s.Sunny = true
	if patchy {
		for i := range c.panels {
			c.patchy.Parts[i].Lit = c.array.Parts[i].Curve
		}
	}
	return patchy
}

// curve returns the curve of one panel in so much light behind its glass.
func (l *lying) curve(through float64, air qty.Celsius, wind qty.MetrePerSecond) panel.Curve {
	in := qty.Irradiance(through * l.clean)
	return l.module.At(in, l.mount.Cell(air, in, wind))
}

// in says whether an hour lies in any of the windows.
func in(list []Window, hour float64) bool {
	for _, w := range list {
		if w.From < w.To && hour >= w.From && hour < w.To ||
			w.From > w.To && (hour >= w.From || hour < w.To) {
			return true
		}
	}
	return false
}
