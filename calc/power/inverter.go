package power

import (
	"math"

	"duskline/calc/qty"
)

// An Inverter makes mains volts from the battery's. What it loses grows with
// what it gives:
//
//	loss = Standby + Linear·P + Quadratic·P²
//
// Standby is there for as long as it is switched on; Linear stands for the
// semiconductors' volts, Quadratic for resistance.
type Inverter struct {
	Rated     qty.Watt // AC, for any time
	Surge     qty.Watt // AC, for a moment
	Standby   qty.Watt // DC, with nothing on the outlet
	Linear    float64  // W/W
	Quadratic float64  // 1/W
}

// NewInverter returns an inverter from four figures of its label. rated is 30
// to 5000 W, surge rated to 15000 W, standby is at the battery's terminals,
// atRated is the efficiency at rated watts, standby included, 0.5 to 0.99.
//
// What of the loss at rated watts is not standby is shared by halves between
// the part that grows with the watts and the part that grows with their
// square: common practice, no source.
//
// Errors: *qty.RangeError; for standby, if it alone is more than the whole
// loss at rated watts.
func NewInverter(rated, surge, standby qty.Watt, atRated qty.Fraction) (Inverter, error) {
	r := float64(rated)
	loss := r * (1/float64(atRated) - 1)
	for _, c := range []struct {
		what          string
		got, min, max float64
		unit          string
	}{
		{"rated", r, 30, 5000, "W"},
		{"surge", float64(surge), r, 15000, "W"},
		{"atRated", float64(atRated), 0.5, 0.99, ""},
		{"standby", float64(standby), 0, loss, "W"},
	} {
		if err := qty.InRange(c.what, c.got, c.min, c.max, c.unit); err != nil {
			return Inverter{}, err
		}
	}
	half := (loss - float64(standby)) / 2
	return Inverter{Rated: rated, Surge: surge, Standby: standby, Linear: half / r, Quadratic: half / (r * r)}, nil
}

// Draw returns the watts that an inverter which is switched on takes from the
// battery while it gives ac watts, 0 to Surge.
//
// Source: Schmidt1996, quadratic loss.
func (i Inverter) Draw(ac qty.Watt) qty.Watt {
	p := float64(ac)
	return qty.Watt(float64(i.Standby) + p*(1+i.Linear+p*i.Quadratic))
}

// Efficiency returns the share of its draw that the inverter gives at ac
// watts, 0 at 0 W.
//
// Source: Schmidt1996, quadratic loss.
func (i Inverter) Efficiency(ac qty.Watt) qty.Fraction {
	if ac == 0 {
		return 0
	}
	return qty.Fraction(ac / i.Draw(ac))
}

// Best returns the AC watts at which the inverter is most efficient, at most
// Rated. It is 0 W without standby: the less asked, the better.
//
//	P = √(Standby/Quadratic)
//
// Source: Schmidt1996, quadratic loss, dη/dP = 0.
func (i Inverter) Best() qty.Watt {
	if float64(i.Standby) >= i.Quadratic*float64(i.Rated)*float64(i.Rated) {
		return i.Rated
	}
	return qty.Watt(math.Sqrt(float64(i.Standby) / i.Quadratic))
}

// Trips reports whether ac watts, drawn for any time, are more than the
// inverter gives: it switches itself off.
func (i Inverter) Trips(ac qty.Watt) bool { return ac > i.Rated }

// Starts reports whether the inverter carries ac watts for a moment, all that
// runs and the surge of what starts.
func (i Inverter) Starts(ac qty.Watt) bool { return ac <= i.Surge }
