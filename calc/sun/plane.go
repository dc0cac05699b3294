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
	Sky    qty.Irradiance // from the sky, the bright part around the sun with it
	Ground qty.Irradiance // thrown back by the ground
}

// Total returns all light on the plane, before reflection at its glass.
//
// Source: Hay1980; the sum is the definition of light on the plane.
func (l PlaneLight) Total() qty.Irradiance { return l.Beam + l.Sky + l.Ground }

// Light returns the light on the plane.
//
//	Beam   = DNI · max(cos i, 0)
//	Sky    = DHI · (A · Rb + (1 - A) (1 + cos tilt)/2),  A = DNI/extra
//	Rb     = max(cos i, 0) / max(cos z, 0.01745)
//	Ground = GHI · albedo · (1 - cos tilt)/2
//
// i is the angle between the sun and the plane's face, z the apparent zenith
// angle, d the apparent sun, extra the irradiance above the air, above 0.
//
// Source: Hay1980, as pvlib irradiance.haydavies reads it; not opened.
func (p Plane) Light(l Light, d Direction, extra qty.Irradiance, albedo qty.Fraction) PlaneLight {
	facing := max(p.cosine(d), 0)
	around := float64(l.DNI) / float64(extra)
	sky := float64(l.DHI) * (around*facing/max(d.Up, 0.01745) + (1-around)*p.sky)
	return PlaneLight{
		Beam:   qty.Irradiance(float64(l.DNI) * facing),
		Sky:    qty.Irradiance(max(sky, 0)),
		Ground: qty.Irradiance(float64(l.GHI) * float64(albedo) * p.ground),
	}
}

// Transmitted returns the light that gets through the plane's glass.
//
//	Beam · max(1 - 0.05 (1/cos i - 1), 0) + Sky + Ground
//
// Only the beam is thinned, the bright part of the sky around the sun is not:
// the modifier is defined for a beam, and a mean one for sky and ground light
// is missing here.
//
// Source: Souka1966, the ASHRAE modifier with b0 = 0.05 as in pvlib iam.ashrae;
// paper not opened.
func (p Plane) Transmitted(l PlaneLight, d Direction) qty.Irradiance {
	return l.Beam*qty.Irradiance(modifier(p.cosine(d))) + l.Sky + l.Ground
}

// modifier returns the share of the beam that passes the glass.
func modifier(cosI float64) float64 {
	if !(cosI > 0) {
		return 0
	}
	return max(1-0.05*(1/cosI-1), 0)
}

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
