package panel

import "duskline/calc/qty"

// generic is the invented 36-cell panel that stands in where only watts are
// known: Isc 5.95 A, Voc 22.0 V, Imp 5.5556 A, Vmp 18.0 V, α 0.05 %/K of Isc,
// β −0.35 %/K of Voc. The five figures were fitted to these.
var generic = Module{
	Light:      5.95783,
	Saturation: 1.415276e-10,
	Series:     0.236238,
	Shunt:      179.4933,
	Slope:      0.9000736,
	AlphaIsc:   0.002975,
	Cells:      36,
}

// genericFilm is to be fitted.
var genericFilm = generic

// GenericBetaPct is how much the generic panel's open-circuit volts fall with
// heat, in % of Voc a kelvin: one of the label figures it was fitted to.
const GenericBetaPct = -0.35

// Watts a panel may be rated at.
const (
	MinWatts qty.Watt = 1
	MaxWatts qty.Watt = 1000
)

// FromWatts returns a panel of which only the rated watts are known: the
// generic 36-cell panel "for 12 V" with its current scaled, so that it gives
// exactly w at its maximum power point at 1000 W/m² and 25 °C.
//
// The stated defaults, for any w: open circuit 22.0 V (β −0.35 %/K), maximum
// power at 18.0 V, short circuit 0.0595 A a watt (α 0.05 %/K), 0.0556 A a watt
// at maximum power. Real labels of one wattage differ by a few percent from
// that, and panels with more cells by far: give their datasheet.
//
// w is 1 to 1000 W.
//
// Errors: *qty.RangeError for w.
func FromWatts(w qty.Watt, t Technology) (Module, error) {
	if err := qty.InRange("w", float64(w), float64(MinWatts), float64(MaxWatts), "W"); err != nil {
		return Module{}, err
	}
	m := generic
	if t == ThinFilm {
		m = genericFilm
	}
	v, i := m.At(refSun, 25).MaxPower()
	return m.sized(float64(w) / float64(qty.Power(v, i))), nil
}
