package daylight

import (
	"slices"

	"duskline/calc/panel"
	"duskline/calc/qty"
)

// A Curve is what the joined panels could give at one instant, and what each
// kind of them lies in. It keeps its figures while the Scene goes on. Like the
// Scene it belongs to one goroutine.
type Curve struct {
	Kinds []Kind // in the order of Spec.Panels

	array  *panel.Array // one of the two; both nil at night
	patchy *panel.Patchy
}

// A Kind is one entry of Spec.Panels at an instant.
type Kind struct {
	Light   qty.Irradiance // on the panel, before the glass, the mean of its cells
	Through qty.Irradiance // what glass and dirt let through to the cells in the light; to all of them if all are in the shade
	Cell    qty.Celsius    // of those cells; at night the air's
	Shaded  qty.Fraction   // share of the cells that is in the shade now
	Alone   panel.Curve    // of one panel by itself, all of it as those cells are; dark at night
	Count   int
}

// Curve returns the joined panels' curve at an instant, so many seconds after
// the trip's start as for [Scene.At]: the one that At asks the controller about.
// It allocates: it is for pictures.
func (c *Scene) Curve(after float64) Curve {
	var s Step
	patchy := c.meet(&s, after)
	hour, wind := c.clock.Hour(after), c.spec.Wind
	if c.hours != nil {
		wind = c.hours.windAt(c, after)
	}
	out := Curve{Kinds: make([]Kind, len(c.panels))}
	for i := range c.panels {
		l, k := &c.panels[i], &out.Kinds[i]
		k.Count, k.Cell = c.array.Parts[i].Count, s.Air
		if l.shaded > 0 && in(l.shade, hour) {
			k.Shaded = qty.Fraction(l.shaded)
		}
		if !s.Sunny {
			continue
		}
		f := &c.faces[l.face]
		on, through := f.on, f.through
		if k.Shaded > 0 {
			on += l.shaded * (f.onShade - on)
		}
		if k.Shaded == 1 {
			through = f.throughShade
		}
		k.Light, k.Through = qty.Irradiance(on), qty.Irradiance(through*l.clean)
		k.Cell = l.mount.Cell(s.Air, k.Through, wind)
		k.Alone = c.array.Parts[i].Curve
	}
	switch {
	case !s.Sunny:
	case patchy:
		out.patchy = &panel.Patchy{Joined: c.patchy.Joined, Parts: slices.Clone(c.patchy.Parts), Drop: c.patchy.Drop, Series: c.patchy.Series}
	default:
		out.array = &panel.Array{Joined: c.array.Joined, Parts: slices.Clone(c.array.Parts), Drop: c.array.Drop, Series: c.array.Series}
	}
	return out
}

// Current returns the amps at v volts at the controller's end of the cable, v
// 0 or more.
//
// Source: Bishop1988, as [panel.Array.Current] and [panel.Patchy.Current].
func (c Curve) Current(v qty.Volt) qty.Ampere {
	switch {
	case c.array != nil:
		return c.array.Current(v)
	case c.patchy != nil:
		return c.patchy.Current(v)
	}
	return 0
}

// MaxPower returns volts and amps at the highest peak of power, both 0 at
// night.
//
// Source: Bishop1988, as [panel.Array.MaxPower] and [panel.Patchy.MaxPower].
func (c Curve) MaxPower() (qty.Volt, qty.Ampere) {
	switch {
	case c.array != nil:
		return c.array.MaxPower()
	case c.patchy != nil:
		return c.patchy.MaxPower()
	}
	return 0, 0
}

// ShortCircuit returns the current at 0 V.
//
// Source: Bishop1988, as Current.
func (c Curve) ShortCircuit() qty.Ampere { return c.Current(0) }

// OpenCircuit returns the most volts that the panels show, 0 at night.
//
// Source: EnergyBalance, as [panel.Array.OpenCircuit] and [panel.Patchy.OpenCircuit].
func (c Curve) OpenCircuit() qty.Volt {
	switch {
	case c.array != nil:
		return c.array.OpenCircuit()
	case c.patchy != nil:
		return c.patchy.OpenCircuit()
	}
	return 0
}

// MismatchLoss returns the watts that joining alone costs: see
// [panel.Array.MismatchLoss].
//
// Source: EnergyBalance, a difference.
func (c Curve) MismatchLoss() qty.Watt {
	switch {
	case c.array != nil:
		return c.array.MismatchLoss()
	case c.patchy != nil:
		return c.patchy.MismatchLoss()
	}
	return 0
}
