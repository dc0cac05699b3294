package sun

import (
	"math"

	"duskline/calc/qty"
)

// A SkyModel says how the sky's own light is spread over it.
type SkyModel uint8

// The models of the sky.
const (
	HayDavies SkyModel = iota // even, and brighter around the sun
	Perez                     // the same, and a brighter or darker rim at the horizon
	Isotropic                 // even
)

// A View is what a plane sees: how much sky stands above the horizon, how the
// sky's light is spread over it, what the glass lets in.
//
// Decision: the horizon's share in an even sky is found once, by integration,
// and each model's sky away from the sun is thinned by it. What stands on the
// horizon is black: neither a sunlit wall nor snow on a slope sends light.
type View struct {
	plane           Plane
	horizon         *Horizon
	model           SkyModel
	glass           Glass
	tilted          float64 // sine of the tilt
	open            float64 // share that the horizon leaves of the plane's sky
	level           float64 // the same for level ground
	skyIn, groundIn float64 // shares of sky and ground light that pass the glass
}

// NewView prepares a view. h may be nil: an open horizon; it is kept. The
// models are as [SkyModel] and [Glass] name them.
func NewView(p Plane, h *Horizon, m SkyModel, g Glass) View {
	v := View{plane: p, horizon: h, model: m, glass: g, tilted: math.Hypot(p.east, p.north), open: 1, level: 1}
	if h != nil && len(h.strips) > 0 {
		v.open, v.level = h.leaves(p), h.level
	}
	v.skyIn, v.groundIn = g.diffuse(p.up)
	return v
}

// Sky returns the share of the plane's half-space that is sky above the
// horizon, each part of it weighted by how squarely the plane meets it: what
// the plane gets of an even sky, over what level ground in the open gets.
//
//	(1 + cos tilt)/2 in the open
//
// Source: Geometry; the strips of the horizon are summed in [NewView].
func (v *View) Sky() qty.Fraction { return qty.Fraction(v.plane.sky * v.open) }

// Light returns the light on the plane.
//
//	Beam   = DNI · max(cos i, 0)
//	Around = DHI · A · max(cos i, 0) / max(cos z, floor)
//	Sky    = DHI · ((1 - A)(1 + cos tilt)/2 + R sin tilt) · open
//	Ground = G · albedo · (1 - cos tilt)/2
//
//	Isotropic  A = 0, R = 0
//	HayDavies  A = DNI/extra, R = 0, floor 0.01745
//	Perez      A = F1, R = F2 of its table, floor cos 85°
//
// i is the angle between the sun and the plane's face, z the apparent zenith
// angle. open is the share that the horizon leaves of the plane's even sky; the
// rim of Perez is thinned by the same share, for lack of a source. A Sky below
// zero (a dark rim) is taken off Around, down to none.
//
// shaded, or with the sun's middle below the horizon's line, Beam and Around
// are zero. G is the light of the level ground there, under the same shade: GHI
// less the hidden part of the even sky, and in the shade less beam and Around's
// level part. A shade that covers a panel covers the ground before it.
//
// A level plane in the open gets GHI; under HayDavies above 1° of elevation and
// under Perez above 5°, where the floors end. Perez gives no sky light below
// the horizon.
//
// d is the apparent sun, extra the irradiance above the air, above 0, albedo
// 0 to 1.
//
// Source: Hay1980, Perez1990, as pvlib irradiance.haydavies and
// irradiance.perez read them; papers not opened. The horizon: Geometry.
func (v *View) Light(l Light, d Direction, extra qty.Irradiance, albedo qty.Fraction, shaded bool) PlaneLight {
	return v.LightOf(l, d, v.model.Glow(l, d, extra), albedo, shaded)
}

// A Glow is how unevenly a sky shines: shares of its light that come from
// around the sun and from the rim at the horizon, A and R of [View.Light].
type Glow struct{ around, rim float64 }

// Glow returns how a model has the sky of an instant, for many planes under it
// at a time. Its figures are those of [View.Light].
func (m SkyModel) Glow(l Light, d Direction, extra qty.Irradiance) (g Glow) {
	switch m {
	case HayDavies:
		g.around = float64(l.DNI) / float64(extra)
	case Perez:
		g.around, g.rim = perez(float64(l.DNI), float64(l.DHI), d, float64(extra))
	}
	return g
}

// LightOf is [View.Light] under a sky whose Glow, that of the view's own model,
// is known.
func (v *View) LightOf(l Light, d Direction, g Glow, albedo qty.Fraction, shaded bool) PlaneLight {
	ghi, dni, dhi := float64(l.GHI), float64(l.DNI), float64(l.DHI)
	facing := max(v.plane.cosine(d), 0)
	share, rim := g.around, g.rim
	floor := 0.01745
	if v.model == Perez {
		floor = cos85
	}
	beam := dni * facing
	around := dhi * share * facing / max(d.Up, floor)
	sky := dhi * ((1-share)*v.plane.sky + rim*v.tilted)
	if v.model == Perez && !(d.Up > 0) {
		sky = 0
	}
	if sky < 0 {
		around, sky = max(around+sky, 0), 0
	}
	even := dhi * max(1-share, 0)
	lit := max(ghi-even*(1-v.level), 0)
	if shaded || v.horizon.Hides(d) {
		beam, around = 0, 0
		lit = even * v.level
	}
	return PlaneLight{
		Beam:   qty.Irradiance(beam),
		Around: qty.Irradiance(around),
		Sky:    qty.Irradiance(sky * v.open),
		Ground: qty.Irradiance(lit * float64(albedo) * v.plane.ground),
	}
}

// Through returns the light that gets through the plane's glass: Beam and
// Around by the sun's angle of incidence, Sky and Ground by the mean over an
// even sky and an even ground as the plane sees them.
//
// A horizon cuts off the slanting part of the sky, which would have lost most.
// That it leaves a better mean is not counted: 2 % of Sky on a level panel under
// a line at 20° all round.
//
// Source: Souka1966 and DeSoto2006 for one angle, Marion2017 for the means; see [Glass].
func (v *View) Through(pl PlaneLight, d Direction) qty.Irradiance {
	return (pl.Beam+pl.Around)*qty.Irradiance(v.glass.passes(v.plane.cosine(d))) +
		pl.Sky*qty.Irradiance(v.skyIn) + pl.Ground*qty.Irradiance(v.groundIn)
}
