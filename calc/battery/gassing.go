package battery

import "duskline/calc/qty"

// Hydrogen returns the litres of hydrogen, at 25 °C and the pressure at sea
// level, that leave the battery when so many amp-hours make gas instead of
// staying: [Step].Gas times the hours. 0 for a chemistry that vents none.
//
//	litres = vents · cells · A·h · 3600/(2 F) · 24.47
//
// Half as much oxygen comes with it. Above 4 parts in a hundred of the air it
// burns; a charging battery with vents wants moving air, and no flame.
//
// gas is 0 or above. Source of the law: two electrons for a molecule.
//
// Source: Faraday.
func (c *Chemistry) Hydrogen(gas qty.AmpHour) float64 {
	const (
		faraday = 96485.33212 // C/mol
		molar   = 24.4654     // l/mol, R·298.15 K/101325 Pa
	)
	return float64(c.Vents) * float64(c.Cells) * float64(gas) * 3600 / (2 * faraday) * molar
}
