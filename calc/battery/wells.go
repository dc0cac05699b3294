package battery

import (
	"math"

	"duskline/calc/qty"
)

// Wells are two wells of charge in closed form: one that stands ready for the
// terminals, one that follows through a pipe. Fast draws empty the first
// before the second has followed; rest lets it recover.
//
// The methods take amp-hours and amps as they are, for tables and checks; the
// step has the same law in its own terms.
type Wells struct {
	Free     float64 // share of the amp-hours in the ready well when full and rested, c, above 0 to 1
	Exchange float64 // rate at which the wells level, k', 1/h, above 0
}

// After returns both wells after constant amps, out of the battery, for some
// hours. Below 0 amps charge it. A ready well below 0 says that it ran dry on
// the way; see [Wells.TimeToEmpty].
//
//	e = exp(-k' t)
//	q1' = q1 e + (q0 k' c - I)(1 - e)/k' - I c (k' t - 1 + e)/k'
//	q2' = q2 e + q0 (1 - c)(1 - e) - I (1 - c)(k' t - 1 + e)/k'
//
// hours is 0 or above.
//
// Source: Manwell1993.
func (w Wells) After(free, bound qty.AmpHour, amps qty.Ampere, hours float64) (freeAfter, boundAfter qty.AmpHour) {
	q1, q2, i, c, k := float64(free), float64(bound), float64(amps), w.Free, w.Exchange
	q0, x := q1+q2, k*hours
	e := math.Exp(-x)
	less := -math.Expm1(-x)       // 1 - e
	lag := (x - less) / k         // (k't - 1 + e)/k'
	in := (q0*k*c - i) * less / k // into the ready well
	return qty.AmpHour(q1*e + in - i*c*lag), qty.AmpHour(q2*e + q0*(1-c)*less - i*(1-c)*lag)
}

// TimeToEmpty returns the hours until the ready well is dry at constant amps
// out of the battery: +Inf if it never is, 0 if it is dry already.
//
// Source: Manwell1993, solved for q1 = 0 by halving to rounding.
func (w Wells) TimeToEmpty(free, bound qty.AmpHour, amps qty.Ampere) float64 {
	if !(amps > 0) {
		return math.Inf(1)
	}
	if !(free > 0) {
		return 0
	}
	// The ready well only falls while amps are drawn from levelled or fuller
	// bound wells; all that there is lasts at most q0/I.
	lo, hi := 0.0, float64((free+bound))/float64(amps)
	for range 200 {
		mid := lo + (hi-lo)/2
		if mid == lo || mid == hi {
			break
		}
		if q1, _ := w.After(free, bound, amps, mid); q1 > 0 {
			lo = mid
		} else {
			hi = mid
		}
	}
	return hi
}

// CapacityIn returns the share of all amp-hours that a full, rested battery
// gives when constant amps empty it in so many hours, above 0.
//
//	k' c T/(1 - e + c (k' T - 1 + e))
//
// It goes from Free, all at once, to 1, in no hurry.
//
// Source: Manwell1993.
func (w Wells) CapacityIn(hours float64) qty.Fraction {
	x := w.Exchange * hours
	less := -math.Expm1(-x)
	if x < 1e-8 { // the limit; x - less would be noise
		return qty.Fraction(w.Free)
	}
	return qty.Fraction(w.Free * x / (less + w.Free*(x-less)))
}

// GreatestCurrent returns the amps that empty the ready well in so many hours,
// above 0, and no sooner, from wells as given.
//
// Source: Manwell1993, q1' = 0 solved for I.
func (w Wells) GreatestCurrent(free, bound qty.AmpHour, hours float64) qty.Ampere {
	q1, k, c := float64(free), w.Exchange, w.Free
	q0, x := q1+float64(bound), k*hours
	less := -math.Expm1(-x)
	return qty.Ampere(k * (q1*math.Exp(-x) + q0*c*less) / (less + c*(x-less)))
}

// WellsFor returns the wells whose capacity follows a Peukert exponent, rated
// in so many hours: at a quarter and at a twentieth of the rated hours (5 h
// and 1 h of a 20 h rating) they give exactly the share of the rated
// amp-hours that the law gives. Between a twentieth and the rated hours the
// two lie within 2.5 % of the rated amp-hours up to an exponent of 1.25, 3.8 %
// at 1.6; beyond, the wells end where the law does not: at all that the
// battery holds and at Free.
//
// exponent 1 is one well, Free 1. The share does not depend on the rated
// hours, Exchange goes with their reciprocal.
//
// Errors: *qty.RangeError for an exponent outside of 1 to 1.6 and hours
// outside of 0.01 to 1000.
//
// Source: Peukert1897, Manwell1993; the fit is our own.
func WellsFor(exponent, ratedHours float64) (Wells, error) {
	if err := qty.InRange("exponent", exponent, 1, 1.6, ""); err != nil {
		return Wells{}, err
	}
	if err := qty.InRange("rated hours", ratedHours, 0.01, 1000, "h"); err != nil {
		return Wells{}, err
	}
	if exponent < 1+1e-6 {
		return Wells{1, 10 / ratedHours}, nil
	}
	share := func(part float64) float64 { return math.Pow(part, 1-1/exponent) }
	// In units of the rated time: at a rate x, the share that meets the
	// twentieth, y = x/20, follows from y (L(x) + c (x - L(x))) = r x (L(y) +
	// c (y - L(y))) with L(x) = 1 - e^-x. The rate that meets the quarter, too,
	// lies between 5 and 16.
	r := share(1.0 / 20)
	atRate := func(x float64) Wells {
		y := x / 20
		lx, ly := -math.Expm1(-x), -math.Expm1(-y)
		return Wells{(r*x*ly - y*lx) / (y*(x-lx) - r*x*(y-ly)), x}
	}
	lo, hi := 5.0, 16.0
	for range 60 {
		mid := (lo + hi) / 2
		if w := atRate(mid); float64(w.CapacityIn(1.0/4)/w.CapacityIn(1)) < share(1.0/4) {
			lo = mid
		} else {
			hi = mid
		}
	}
	w := atRate((lo + hi) / 2)
	w.Exchange /= ratedHours
	return w, nil
}
