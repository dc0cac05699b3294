package daylight

import (
	"math"

	"duskline/calc/qty"
	"duskline/calc/sun"
)

// A face is one way that panels lie, and what falls on it in the step under
// way. Panels that lie alike share one.
//
// Decision: where a panel that is aimed looks is prepared once, a view for each
// aim of each day. Nobody turns a panel at night: the first aim of a day holds
// from midnight, the last one to midnight.
type face struct {
	lie   Lie
	views []sun.View // one; or Aims for each day of the trip
	even  []sun.View // the same under an even sky, if light without sun has to be counted under a model that has none

	view        *sun.View // of the step under way
	on, through float64   // W/m²

	inShade               bool // the next two are of the step under way
	onShade, throughShade float64
}

// plain returns what decides where a panel looks.
func (l Lie) plain() Lie {
	if l.Kind == Fixed || l.Kind == OnLid {
		l.Kind, l.Aims = Fixed, 0
	}
	return l
}

// newFace prepares a lie.
func (c *Scene) newFace(l Lie) (face, error) {
	l = l.plain()
	f := face{lie: l}
	add := func(tilt, azimuth qty.Degree) error {
		p, err := sun.NewPlane(tilt, azimuth)
		if err != nil {
			return err
		}
		f.views = append(f.views, sun.NewView(p, &c.spec.Horizon, c.spec.Model, c.spec.Glass))
		if c.spec.Light.Kind == ByWeather && c.spec.Model == sun.Perez {
			f.even = append(f.even, sun.NewView(p, &c.spec.Horizon, sun.Isotropic, c.spec.Glass))
		}
		return nil
	}
	if l.Aims == 0 {
		return f, add(l.Tilt, l.Azimuth)
	}
	for k := range c.days {
		for j := range l.Aims {
			if err := add(c.aim(l, &c.days[k], j)); err != nil {
				return f, err
			}
		}
	}
	return f, nil
}

// aim returns where a panel looks in part j of a day.
//
// On a day without night the 24 hours are cut. On one without sun the panel
// looks to where it would be at noon, upright if it leans too.
func (c *Scene) aim(l Lie, d *day, j int) (tilt, azimuth qty.Degree) {
	at := d.rise + (float64(j)+0.5)/float64(l.Aims)*(d.set-d.rise)
	if d.table.State == sun.PolarNight {
		at = d.table.Noon.Sub(c.spec.Start).Seconds()
	}
	to := c.toward(at)
	azimuth = facing(to)
	if l.Kind == Turned {
		return l.Tilt, azimuth
	}
	return min(90-to.Elevation, 90), azimuth
}

// facing returns the azimuth of a direction, 0 up to 360.
func facing(d sun.Direction) qty.Degree {
	az := qty.Radian(math.Atan2(d.East, d.North)).Degrees()
	if az < 0 {
		az += 360
	}
	return az
}

// part returns which part of a day an instant is in, of so many.
func (d *day) part(after float64, of int) int {
	return max(0, min(int((after-d.rise)/(d.set-d.rise)*float64(of)), of-1))
}

// look finds what falls on the face.
func (f *face) look(now *day, after float64, d sun.Direction, l sun.Light, albedo qty.Fraction) {
	i := 0
	if f.lie.Aims > 0 {
		i = now.number*f.lie.Aims + now.part(after, f.lie.Aims)
	}
	f.view = &f.views[i]
	if f.even != nil && d.Elevation <= 0 {
		f.view = &f.even[i]
	}
	pl := f.view.Light(l, d, now.extra, albedo, false)
	f.on, f.through = float64(pl.Total()), float64(f.view.Through(pl, d))
	f.inShade = false
}

// lookInShade finds what falls on cells of the face that a shade covers, after
// look.
func (f *face) lookInShade(d sun.Direction, l sun.Light, extra qty.Irradiance, albedo qty.Fraction) {
	if f.inShade {
		return
	}
	pl := f.view.Light(l, d, extra, albedo, true)
	f.onShade, f.throughShade = float64(pl.Total()), float64(f.view.Through(pl, d))
	f.inShade = true
}
