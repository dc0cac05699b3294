package sun

import "math"

// How much of an even sky a horizon takes from a plane.
//
// Decision: the part below the line is summed and taken off the open sky's
// (1 + cos tilt)/2, so that where nothing stands nothing is lost to rounding.
// In height the sum is closed, in azimuth it is Gauss's rule on narrow strips.
//
// With n the plane's normal, u its upward part and p(a) its part toward the
// azimuth a, a direction at height e is met by n·d = p cos e + u sin e. A strip
// of the sky between two heights, each part weighted by n·d, gives
//
//	∫ (p cos e + u sin e) cos e de = F(high) - F(low),  F(e) = (p (e + sin e cos e) + u sin² e)/2
//
// and the whole sky over the level gives π. Of the strip below the line H the
// plane sees what also lies before its face, n·d > 0. The face's own edge is
// at tan g = -p/u, where F(g) = p g/2, as the other terms cancel:
//
//	toward the face (p > 0)   up to the lower of H and, hanging over (u < 0), g
//	behind it (p < 0, u > 0)  from g to H
//
// Even height h all round and a level plane: u 1, p 0, so ∫ sin² h/2 da / π =
// sin² h is lost and cos² h left.

// strip is a narrow range of azimuth under the line.
type strip struct {
	east, north float64 // unit vector to its middle
	sin, cos    float64 // of the line's height there
	arc         float64 // height + sin cos, rad
	weight      float64 // width in radians over 2π
}

// stripWidth is the widest part of the line that Gauss's rule of three points
// is laid on, °. Kinks of the line lie on its ends; where the face's edge
// leaves the line only the second derivative leaps. Against strips of 0.05° a
// share is good to 4e-6 of the whole sky.
const stripWidth = 2.5

// gauss is Gauss's rule of three points on 0 to 1: places and weights.
var gauss = [3][2]float64{
	{0.5 - 0.5*math.Sqrt(0.6), 5. / 18},
	{0.5, 8. / 18},
	{0.5 + 0.5*math.Sqrt(0.6), 5. / 18},
}

// addStrips prepares one straight part of the line.
func (h *Horizon) addStrips(azimuth, wide, height, slope float64) {
	if height == 0 && slope == 0 {
		return
	}
	parts := math.Ceil(wide / stripWidth)
	width := wide / parts
	for k := range int(parts) {
		for _, g := range gauss {
			x := (float64(k) + g[0]) * width
			e := (height + slope*x) * rad
			var s strip
			s.east, s.north = math.Sincos((azimuth + x) * rad)
			s.sin, s.cos = math.Sincos(e)
			s.arc = e + s.sin*s.cos
			s.weight = g[1] * width / 360
			h.strips = append(h.strips, s)
		}
	}
}

// leavesLevel returns the share of an even sky that level ground still sees.
func (h *Horizon) leavesLevel() float64 {
	var lost float64
	for i := range h.strips {
		s := &h.strips[i]
		lost += s.weight * s.sin * s.sin
	}
	return max(1-lost, 0)
}

// leaves returns the share that is left of the even sky before a plane.
func (h *Horizon) leaves(plane Plane) float64 {
	u := plane.up
	var lost float64
	for i := range h.strips {
		s := &h.strips[i]
		p := plane.east*s.east + plane.north*s.north
		seen := p*s.cos+u*s.sin > 0 // the line itself stands before the face
		switch {
		case p > 0 && seen:
			lost += s.weight * (p*s.arc + u*s.sin*s.sin)
		case p > 0: // hanging over, and the line higher than the face's edge
			lost += s.weight * p * math.Atan(-p/u)
		case seen: // behind the face
			lost += s.weight * (p*s.arc + u*s.sin*s.sin - p*math.Atan(-p/u))
		}
	}
	return min(max(1-lost/max(plane.sky, 1e-12), 0), 1)
}
