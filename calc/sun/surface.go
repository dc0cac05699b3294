package sun

import "duskline/calc/qty"

// A Surface is what the ground around a panel is covered with.
//
// Decision: one figure for each, the same at any height of the sun. A panel
// leaning 35° sees a tenth of its light from the ground at most; only snow
// makes it worth asking.
type Surface uint8

// The surfaces. Grass is the zero value.
const (
	Grass    Surface = iota
	Sand             // dry and light
	Snow             // fresh
	OldSnow          // some days old, settled
	Water            // open, more than a few puddles
	Earth            // bare soil, field, dry grass
	Asphalt          // worn
	Concrete         // and light rock or gravel, which is practice
)

// Surfaces is how many surfaces there are: 0 to Surfaces-1 are valid.
const Surfaces = int(Concrete) + 1

// Albedo returns the share of the light that the ground sends back; the
// surface is below [Surfaces].
//
//	Grass 0.20   Sand  0.40   Snow    0.75   OldSnow  0.65
//	Water 0.06   Earth 0.17   Asphalt 0.12   Concrete 0.30
//
// OldSnow is the table's snow without a word on its age; other tables go down
// to 0.4 for snow that melts. Water is the open sea's; a calm lake under a low
// sun sends back more.
//
// Source: PvlibAlbedo, the table SURFACE_ALBEDOS.
func (s Surface) Albedo() qty.Fraction { return albedos[s] }

var albedos = [Surfaces]qty.Fraction{
	Grass: 0.20, Sand: 0.40, Snow: 0.75, OldSnow: 0.65,
	Water: 0.06, Earth: 0.17, Asphalt: 0.12, Concrete: 0.30,
}
