package panel

import (
	"math"

	"duskline/calc/qty"
)

// Five figures of the diode from a label, without a search in five unknowns.
//
// With a and Rs given, the three points of the label (short circuit, open
// circuit, maximum power) are linear equations for IL, I0 and 1/Rsh. I0 is a
// thousandth of a millionth of an ampere, so J = I0·exp(Voc/a), the diode's
// current at the open circuit, stands in for it, and ln I0 never leaves its
// logarithm. Two unknowns remain:
//
//   - Rs from the flat top dP/dV = 0, whose miss falls steadily with Rs;
//   - a from Voc at 27 °C, an equation that, solved for a, hardly depends on
//     anything else: iterating it gains about two digits a round.

// warmer is how far above 25 °C the fall of Voc is read off, K.
const warmer = 2.0

// A miss is why a label cannot be met.
type miss string

const (
	fits     miss = ""
	noSeries miss = "the series resistance would be negative"
	noShunt  miss = "the shunt would be negative"
	noSlope  miss = "no ideality gives this fall of Voc with heat"
)

// pick is the solution of the label's three points at one a and Rs.
type pick struct {
	rs, j, g float64 // Ω, A, 1/Ω
	top      float64 // miss of dP/dV = 0, A
}

// points solves the three points at slope a and series resistance rs.
func (d Datasheet) points(a, rs float64) pick {
	isc, voc, imp, vmp := float64(d.Isc), float64(d.Voc), float64(d.Imp), float64(d.Vmp)
	x1, x3 := isc*rs, vmp+imp*rs
	e1, e3 := math.Exp((x1-voc)/a), math.Exp((x3-voc)/a)
	// Each point less the open circuit, where the diode passes J:
	//	j·(1 − e) + g·(Voc − x) = I
	det := (1-e1)*(voc-x3) - (1-e3)*(voc-x1)
	p := pick{rs: rs}
	p.j = (isc*(voc-x3) - imp*(voc-x1)) / det
	p.g = ((1-e1)*imp - (1-e3)*isc) / det
	slope := p.j*e3/a + p.g
	p.top = imp - slope*(vmp-imp*rs)
	return p
}

// flat finds the series resistance that puts the peak of power where the
// label says, at slope a.
func (d Datasheet) flat(a float64) (pick, miss) {
	p := d.points(a, leastSeries)
	if !(p.top > 0) {
		return p, noSeries
	}
	// Illinois steps on the miss, squashed to ±1 because it runs away at the
	// far end, where the peak would sit at the open circuit.
	squash := func(p pick) float64 { return p.top / (float64(d.Imp) + math.Abs(p.top)) }
	lo, hi := leastSeries, float64(d.Voc-d.Vmp)/float64(d.Imp)*(1-1e-9)
	flo, fhi := squash(p), squash(d.points(a, hi))
	side := 0
	for n := 0; n < 100 && hi-lo > 1e-15*hi; n++ {
		rs := lo + (hi-lo)*flo/(flo-fhi)
		if n%16 == 15 || !(rs > lo && rs < hi) {
			rs = (lo + hi) / 2
		}
		p = d.points(a, rs)
		switch f := squash(p); {
		case f == 0:
			lo, hi = rs, rs
		case f > 0:
			if lo, flo = rs, f; side > 0 {
				fhi /= 2
			}
			side = 1
		default:
			if hi, fhi = rs, f; side < 0 {
				flo /= 2
			}
			side = -1
		}
	}
	if !(p.g*mostShunt > 1 && p.j > 0) {
		return p, noShunt
	}
	return p, fits
}

// fit returns the five figures.
//
// Source: DeSoto2006 for the five conditions, with Voc at 27 °C as in pvlib ivtools.sdm.fit_desoto; the elimination is ours.
func (d Datasheet) fit() (Module, miss) {
	isc, voc := float64(d.Isc), float64(d.Voc)
	voc2 := voc + warmer*d.BetaVoc
	grow, slope := warmth(refKelvin + warmer)
	lnGrow := math.Log(grow)
	fall := voc - voc2/slope
	// At both temperatures IL − V/Rsh = I0·(exp(V/a) − 1): their ratio gives a.
	a := fall / (lnGrow - math.Log1p(warmer*d.AlphaIsc/isc))
	if !(a > 0) {
		return Module{}, noSlope
	}
	for range 60 {
		p, miss := d.flat(a)
		if miss != fits {
			return Module{}, miss
		}
		io := p.j * math.Exp(-voc/a)
		il := p.j - io + p.g*voc
		rest := il + warmer*d.AlphaIsc - p.g*voc2
		next := fall / (lnGrow - math.Log(rest/p.j) - math.Log1p(io*grow/rest))
		if !(next > 0) {
			return Module{}, noSlope
		}
		if math.Abs(next-a) < 1e-13*a {
			return Module{
				Light:      qty.Ampere(il),
				Saturation: qty.Ampere(io),
				Series:     qty.Ohm(p.rs),
				Shunt:      qty.Ohm(1 / p.g),
				Slope:      qty.Volt(a),
				AlphaIsc:   d.AlphaIsc,
				Cells:      d.Cells,
			}, fits
		}
		a = next
	}
	return Module{}, noSlope
}
