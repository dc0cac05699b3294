package sun

import (
	"math"

	"duskline/calc/qty"
)

// A Plane is how a panel lies.
type Plane struct {
	east, north, up float64 // unit vector out of its face
	sky, ground     float64 // shares of the half-space before it
}

// NewPlane returns the plane of a tilt from the level, 0 to 180, and of the
// azimuth to which it looks, 0 to 360 clockwise from north. Past 90 it hangs
// over.
//
// Errors: *qty.RangeError.
func NewPlane(tilt, azimuth qty.Degree) (Plane, error) {
	if err := qty.InRange("tilt", float64(tilt), 0, 180, "°"); err != nil {
		return Plane{}, err
	}
	if err := qty.InRange("azimuth", float64(azimuth), 0, 360, "°"); err != nil {
		return Plane{}, err
	}
	n := Toward(tilt, azimuth)
	return Plane{n.East, n.North, n.Up, (1 + n.Up) / 2, (1 - n.Up) / 2}, nil
}

// PlaneLight is what falls on a plane, by where it comes from.
type PlaneLight struct {
	Beam   qty.Irradiance // straight from the sun
	Around qty.Irradiance // from the bright sky around the sun
	Sky    qty.Irradiance // from the rest of the sky
	Ground qty.Irradiance // thrown back by the ground
}

// Total returns all light on the plane, before reflection at its glass.
//
// Source: Hay1980; the sum is the definition of light on the plane.
func (l PlaneLight) Total() qty.Irradiance { return l.Beam + l.Around + l.Sky + l.Ground }

// Incidence returns the angle between the sun and the plane's face, 0 to 180.
//
// Source: Reda2004; here as the angle between two vectors.
func (p Plane) Incidence(d Direction) qty.Degree {
	// by the length of the cross product: the arc cosine loses digits near 0
	x := p.north*d.Up - p.up*d.North
	y := p.up*d.East - p.east*d.Up
	z := p.east*d.North - p.north*d.East
	return qty.Degree(math.Atan2(math.Sqrt(x*x+y*y+z*z), p.cosine(d)) / rad)
}

func (p Plane) cosine(d Direction) float64 { return p.east*d.East + p.north*d.North + p.up*d.Up }
