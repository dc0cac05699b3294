package wire

import "duskline/calc/qty"

// Copper's resistance is taken at 20 °C and grows in a straight line with its
// temperature: good to 0.1 % between −60 and 160 °C.

// resistivity20 is that of annealed copper of 100 % conductivity, Ω·mm²/m.
const resistivity20 = 1.0 / 58

// growth20 is how its resistance grows at 20 °C, 1/K.
const growth20 = 0.00393

// Resistivity returns that of annealed copper, in Ω·mm²/m, −60 to 160 °C.
//
//	ρ = (1 + 0.00393·(t − 20))/58
//
// Source: IACS, IEC60228.
func Resistivity(t qty.Celsius) float64 { return resistivity20 * Growth(t) }

// Growth returns how much more a piece of copper resists at t than at 20 °C,
// as a factor, −60 to 160 °C.
//
//	R(t)/R(20) = 1 + 0.00393·(t − 20)
//
// Source: IEC60228, Annex B for the coefficient, read in a national adoption.
func Growth(t qty.Celsius) float64 { return 1 + growth20*(float64(t)-20) }

// Coefficient returns by what share of its resistance at t copper's resistance
// grows with each kelvin, 1/K.
//
//	a = 1/(1/0.00393 + t − 20)
//
// Source: IEC60228, Annex B, the same straight line seen from t.
func Coefficient(t qty.Celsius) float64 { return 1 / (1/growth20 + float64(t) - 20) }

// To20 returns the factor that takes a resistance measured at t to 20 °C, in
// the form of the cable standard. It is the inverse of [Growth] to 0.01 %.
//
//	k = 254.5/(234.5 + t)
//
// Source: IEC60228, Annex B, read in a national adoption.
func To20(t qty.Celsius) float64 { return 254.5 / (234.5 + float64(t)) }
