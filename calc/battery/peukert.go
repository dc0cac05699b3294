package battery

import (
	"math"

	"duskline/calc/qty"
)

// A Peukert is the rate effect as a label or a maker's table gives it: one
// exponent. The rated hours belong to it; without them the exponent's meaning
// would change with the unit of current.
//
// The law knows neither rest nor the order of loads, so the step uses [Wells]
// fitted to it by [WellsFor]; the law itself is for tables of constant amps.
type Peukert struct {
	Capacity qty.AmpHour // that the label promises in Hours, above 0
	Hours    float64     // above 0; 20 is usual
	Exponent float64     // 1 (no rate effect) to 1.6
}

// check finds the first figure out of range.
func (p Peukert) check() error {
	if err := qty.InRange("capacity", float64(p.Capacity), 0.001, 1e6, "Ah"); err != nil {
		return err
	}
	if err := qty.InRange("rated hours", p.Hours, 0.01, 1000, "h"); err != nil {
		return err
	}
	return qty.InRange("exponent", p.Exponent, 1, 1.6, "")
}

// Runtime returns the hours that constant amps take to empty the battery.
//
//	t = H (C/(I H))^k
//
// Below the rated amps C/H the law promises more than the label; there the
// hours are those of the rated capacity, C/I, and within is false. amps is
// above 0.
//
// Errors: *qty.RangeError for amps and for the figures of p.
//
// Source: Peukert1897, solved for time with the rated hours named.
func (p Peukert) Runtime(amps qty.Ampere) (hours float64, within bool, err error) {
	if err := p.check(); err != nil {
		return 0, false, err
	}
	if err := qty.InRange("amps", float64(amps), 1e-6, 1e6, "A"); err != nil {
		return 0, false, err
	}
	x := float64(p.Capacity) / (float64(amps) * p.Hours)
	if x > 1 {
		return p.Hours * x, false, nil
	}
	return p.Hours * math.Pow(x, p.Exponent), true, nil
}

// Delivered returns the amp-hours that constant amps take out until empty:
// amps × Runtime, so never more than rated. within is as there.
//
// Errors: as Runtime.
//
// Source: Peukert1897.
func (p Peukert) Delivered(amps qty.Ampere) (out qty.AmpHour, within bool, err error) {
	hours, within, err := p.Runtime(amps)
	return qty.AmpHour(float64(amps) * hours), within, err
}

// ExponentOf returns the exponent on which two rows of a maker's table lie:
// hours1 at amps1 and hours2 at amps2.
//
//	k = ln(t2/t1)/ln(I1/I2)
//
// Errors: *qty.RangeError if a figure is not above 0, if the amps are not
// apart by a tenth, or if the exponent is outside of 1 to 1.6: such rows are
// of two batteries, or of two cut-offs.
//
// Source: Peukert1897.
func ExponentOf(amps1 qty.Ampere, hours1 float64, amps2 qty.Ampere, hours2 float64) (float64, error) {
	for _, c := range []struct {
		what, unit string
		got        float64
	}{
		{"first amps", "A", float64(amps1)}, {"first hours", "h", hours1},
		{"second amps", "A", float64(amps2)}, {"second hours", "h", hours2},
	} {
		if err := qty.InRange(c.what, c.got, 1e-6, 1e6, c.unit); err != nil {
			return 0, err
		}
	}
	apart := math.Abs(math.Log(float64(amps1 / amps2)))
	if err := qty.InRange("ratio of amps", math.Exp(apart), 1.1, 1e12, ""); err != nil {
		return 0, err
	}
	k := math.Log(hours2/hours1) / math.Log(float64(amps1/amps2))
	return k, qty.InRange("exponent", k, 1, 1.6, "")
}
