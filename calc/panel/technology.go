package panel

import "duskline/calc/qty"

// Technology is what a panel's cells are made of, as far as it is told apart
// here: it picks the generic panel of [FromWatts] and the wear of a year.
type Technology uint8

// The technologies.
const (
	Crystalline Technology = iota // wafers of silicon, behind glass or on a flexible sheet
	ThinFilm                      // a film on a flexible sheet
)

// YearlyWear returns the share of its new power that a panel loses a year: the
// middle of the medians of many fields, 0.55 % for crystalline silicon, 1 %
// for thin film. It is the wear of panels that stand still behind glass. Sheets
// that are rolled, bent and walked on wear faster; how much, nobody has
// published that we found.
//
// Source: Jordan2016, abstract: crystalline 0.5 to 0.6 %, thin film around 1 %.
func YearlyWear(t Technology) qty.Fraction {
	if t == ThinFilm {
		return 0.01
	}
	return 0.0055
}

// MostYears is the greatest age that Aged takes, years.
const MostYears = 60.0

// Aged returns a new panel after years of wear: one with so much less current,
// and the same volts. All of its power, at any light and heat, is
//
//	1 − years·YearlyWear
//
// of the new one's. Published rates are straight lines, so this is one, and
// what is lost is mostly current: common practice, no source.
//
// years is 0 to 60.
//
// Errors: *qty.RangeError for years.
//
// Source: Jordan2016, see [YearlyWear].
func (m Module) Aged(years float64, t Technology) (Module, error) {
	if err := qty.InRange("years", years, 0, MostYears, "a"); err != nil {
		return Module{}, err
	}
	return m.sized(1 - years*float64(YearlyWear(t))), nil
}

// sized returns the panel with k times its current and the same volts.
func (m Module) sized(k float64) Module {
	m.Light *= qty.Ampere(k)
	m.Saturation *= qty.Ampere(k)
	m.AlphaIsc *= k
	m.Series /= qty.Ohm(k)
	m.Shunt /= qty.Ohm(k)
	return m
}
