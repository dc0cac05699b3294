package sun

import "duskline/calc/qty"

// A Surface is what the ground around a panel is covered with.
type Surface uint8

// The surfaces. Grass is the zero value.
const (
	Grass Surface = iota
	Sand
	Snow // fresh
	OldSnow
	Water
	Earth   // bare soil, dry
	Asphalt // worn
	Concrete
)

// Surfaces is how many surfaces there are: 0 to Surfaces-1 are valid.
const Surfaces = int(Concrete) + 1

// Albedo returns the share of the light that the ground sends back.
//
// Source: CommonPractice.
func (s Surface) Albedo() qty.Fraction { return albedos[s] }

var albedos = [Surfaces]qty.Fraction{0.2, 0.4, 0.75, 0.65, 0.06, 0.17, 0.12, 0.3}
