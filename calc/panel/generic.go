package panel

import "duskline/calc/qty"

// Two invented panels "for 12 V" stand in where only watts are known. Their
// labels, at 100 W:
//
//	              Voc     Vmp     Isc      Imp       β of Voc    α of Isc   cells
//	Crystalline   22.0 V  18.0 V  5.95 A   5.5556 A  −0.35 %/K   0.05 %/K   36
//	ThinFilm      23.5 V  18.0 V  6.30 A   5.5556 A  −0.30 %/K   0.02 %/K   38
//
// They are round figures of what is sold, common practice, no source. A film
// has the flatter knee: 68 % of Voc × Isc where wafers have 76 %.

// generic and genericFilm are the five figures fitted to these labels.
var (
	generic = Module{
		Light:      5.95783,
		Saturation: 1.415276e-10,
		Series:     0.236238,
		Shunt:      179.4933,
		Slope:      0.9000736,
		AlphaIsc:   0.002975,
		Cells:      36,
	}
	genericFilm = Module{
		Light:      6.3813628,
		Saturation: 2.0334866e-11,
		Series:     0.51781818,
		Shunt:      40.095182,
		Slope:      0.89097080,
		AlphaIsc:   0.00126,
		Cells:      38,
	}
)

// How much the generic panels' open-circuit volts fall with heat, in % of Voc a
// kelvin: label figures that they were fitted to.
const (
	GenericBetaPct     = -0.35 // Crystalline
	GenericFilmBetaPct = -0.30 // ThinFilm
)

// Watts a panel may be rated at.
const (
	MinWatts qty.Watt = 1
	MaxWatts qty.Watt = 1000
)

// FromWatts returns a panel of which only the rated watts are known: the
// generic panel of its technology with its current scaled, so that it gives
// exactly w at its maximum power point at 1000 W/m² and 25 °C.
//
// The stated defaults for any w, crystalline: 36 cells, open circuit 22.0 V (β
// −0.35 %/K), maximum power at 18.0 V, short circuit 0.0595 A a watt (α
// 0.05 %/K), 0.0556 A a watt at maximum power. Thin film: 38 cells, 23.5 V (β
// −0.30 %/K), 18.0 V, 0.0630 A a watt (α 0.02 %/K), 0.0556 A a watt. Real labels
// of one wattage differ by a few percent from that, of films by more, and
// panels with more cells by far: give their datasheet.
//
// w is 1 to 1000 W. A technology that there is not counts as crystalline.
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
