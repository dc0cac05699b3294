package battery

import (
	"math"

	"duskline/calc/qty"
)

// A Life is how a chemistry ages. The zero value does not.
//
// For both lithium chemistries two published models are followed side by
// side, since they disagree by more than either's own error; for lead-acid
// and for an own chemistry the two are the ends of what practice says.
type Life struct {
	Law LifeLaw

	// For ByDepth: full cycles, at a depth of 1, down to 80 % of the rated
	// amp-hours, and years kept at 25 °C; the shorter and the longer life.
	Cycles, Years [2]float64
	// Power is p of cycles = Cycles · depth^-p, 0.5 to 3.
	Power float64
	// Halves is how many kelvin of heat halve the life.
	Halves float64

	// OhmsPerLoss is how much the resistance grows with the loss of
	// amp-hours, where the law has no figure of its own for it.
	OhmsPerLoss float64
}

// A LifeLaw names how a Life is computed.
type LifeLaw uint8

const (
	Ageless LifeLaw = iota
	LikeLiFePO4
	LikeNMC
	ByDepth
)

// Published says whether the law is a fit to published measurements; what is
// not is common practice, and to be told as such.
func (l LifeLaw) Published() bool { return l == LikeLiFePO4 || l == LikeNMC }

// The lives of the chemistries of this package.
//
// Lead-acid, all common practice: 400 cycles of 80 % depth as the trade says
// of such units, or 1000 at half depth as of a good deep-cycle type; 4 to 8
// years; half as long for 10 K more; p 1.2; half as much resistance again at
// a loss of a fifth. No open curve of cycles against depth was found that
// would tell AGM, gel and flooded apart.
var (
	LiFePO4Life  = Life{Law: LikeLiFePO4}
	NMCLife      = Life{Law: LikeNMC}
	LeadAcidLife = Life{
		Law: ByDepth, Cycles: [2]float64{306, 435}, Years: [2]float64{4, 8},
		Power: 1.2, Halves: 10, OhmsPerLoss: 2.5,
	}
)

// OwnLife returns the life of a chemistry of which its owner knows how many
// cycles of 80 % depth it does down to 80 % of its amp-hours, 10 to 100 000.
// Years and heat are those of lead-acid, or for lithium 8 to 16 years.
//
// Source: CommonPractice.
func OwnLife(cyclesTo80 float64, lithium bool) Life {
	l := LeadAcidLife
	n := cyclesTo80 * math.Pow(0.8, l.Power)
	l.Cycles = [2]float64{n, n}
	if lithium {
		l.Years, l.OhmsPerLoss = [2]float64{8, 16}, 1
	}
	return l
}

// A power is a law of loss against days or cycles x,
//
//	q = (k x)^p, or with a bound b: q = b tanh((k x)^p / 2)
//
// which can be turned around, so that another stretch of it can begin at any
// loss.
type power struct{ k, p, bound float64 }

// on returns the loss after x more, from a loss that there is already.
func (l power) on(q, x float64) float64 {
	if !(l.k > 0) || !(x > 0) {
		return q
	}
	at := q
	if l.bound > 0 {
		if q >= l.bound { // worse conditions than these brought it there
			return q
		}
		at = 2 * math.Atanh(q/l.bound)
	}
	if at > 0 {
		x += math.Pow(at, 1/l.p) / l.k
	}
	if at = math.Pow(l.k*x, l.p); l.bound > 0 {
		return l.bound * math.Tanh(at/2)
	}
	return at
}

// times returns the law k x^p as a power.
func times(k, p float64) power { return power{k: math.Pow(k, 1/p), p: p} }

// A law is a loss by time and one by use.
type law struct{ calendar, cycling power }

// laws returns both models and that of the resistance under the conditions of
// a use.
func (l *Life) laws(u *Use) (both [2]law, ohms law) {
	switch l.Law {
	case LikeLiFePO4:
		return [2]law{largeIron(u), smallIron(u)}, ironOhms(u)
	case LikeNMC:
		return [2]law{smallNMC(u), largeNMC(u)}, nmcOhms(u)
	case ByDepth:
		return [2]law{l.byDepth(u, 0), l.byDepth(u, 1)}, law{}
	}
	return both, ohms
}

// byDepth is a fifth lost in Years and in Cycles · depth^-p cycles, in
// proportion. Heat halves the years, and above 25 °C the cycles, too; colder
// than 10 °C counts as 10 °C. The charge at which it is kept does not count:
// what a lead-acid battery loses that is left half empty has no open figure,
// so nothing here says that half empty is as good as full. [Chemistry.Safe]
// says how soon it has to be charged.
func (l *Life) byDepth(u *Use, k int) law {
	heat := func(at qty.Celsius) float64 { return math.Exp2((float64(at) - 25) / l.Halves) }
	perDay := 0.2 / (l.Years[k] * 365.25) * heat(max(u.Kept, coldestKept))
	perCycle := 0.2 / l.Cycles[k] * math.Pow(float64(u.Depth), l.Power-1) * math.Max(heat(u.During), 1)
	return law{power{k: perDay, p: 1}, power{k: perCycle, p: 1}}
}
