package pairing

import (
	"math"

	"duskline/calc/plan"
	"duskline/calc/power"
	"duskline/calc/qty"
)

// When joints count as equal, and when they lose too much. Common practice, no
// source.
const (
	equal = 0.02 // share of the greater
	loses = 0.10 // share of the sum alone, by the joint itself
)

// mix finds what some unlike kinds bring, joined in both ways. All panels of a
// kind count.
func (t *trial) mix(kinds []int) (Mix, error) {
	m := Mix{Kinds: kinds, BatteryV: float64(t.half())}
	joint := func(how plan.Joined, kinds []int) (Joint, float64, error) {
		q := t.p
		q.Panels.Joined, q.Panels.List = how, nil
		for _, i := range kinds {
			q.Panels.List = append(q.Panels.List, t.p.Panels.List[i])
		}
		return t.joint(q)
	}
	best, free := 0.0, 0.0
	for _, i := range kinds {
		side, sideFree, err := joint(plan.SideBySide, []int{i})
		if err != nil {
			return Mix{}, err
		}
		end, endFree := side, sideFree
		if t.p.Panels.List[i].Count > 1 {
			if end, endFree, err = joint(plan.EndToEnd, []int{i}); err != nil {
				return Mix{}, err
			}
		}
		w := math.Max(side.safe(), end.safe())
		m.AloneW = append(m.AloneW, w)
		m.SumW += w
		best = math.Max(best, w)
		free += math.Max(sideFree, endFree)
	}
	var side, end float64
	var err error
	if m.SideBySide, side, err = joint(plan.SideBySide, kinds); err != nil {
		return Mix{}, err
	}
	if m.EndToEnd, end, err = joint(plan.EndToEnd, kinds); err != nil {
		return Mix{}, err
	}
	m.Advice = m.advise(best, math.Max(side, end) < (1-loses)*free)
	return m, nil
}

// safe is the watts of a joint, 0 if it must not be connected.
func (j *Joint) safe() float64 {
	if j.Fit.Bars() {
		return 0
	}
	return j.W
}

// joint finds what the panels of a plan bring in full sun. free is the watts
// that would come of a short cable and a controller without a limit, 0 if they
// must not be connected: what these two hold back is no fault of the joint.
func (t *trial) joint(q plan.Plan) (j Joint, free float64, err error) {
	s, err := q.Daylight()
	if err != nil {
		return Joint{}, 0, err
	}
	hot := arrayOf(&s, t.inHeat)
	cold := arrayOf(&s, t.inCold)
	std := arrayOf(&s, all25)
	std.Series = 0
	j = Joint{ColdV: float64(cold.OpenCircuit()), Fit: Fits}
	v := t.half()
	bv, bi := hot.MaxPower()
	j.PanelW = float64(qty.Power(bv, bi))
	offer := t.control.Offer(&hot)
	amps := offer.Amps(v)
	j.W = float64(qty.Power(v, amps))
	bare := hot
	bare.Series = 0
	short := t.control.Offer(&bare)
	free = float64(qty.Power(v, short.Unlimited(v)))
	if amps > 0 {
		j.V, j.A = t.works(&hot, v, bv, bi)
	}
	limit := float64(t.control.InputMax)
	switch {
	case j.ColdV > limit:
		j.Fit = Danger
	case t.control.Kind == power.PWM && power.RatingFor(std.ShortCircuit()) > t.control.Limit:
		j.Fit = Warning
	case j.ColdV > nearLimit*limit, amps == 0:
		j.Fit = Caution
	}
	if j.Fit.Bars() {
		free = 0
	}
	return j, free, nil
}

// works returns the volts and amps at which a controller that is not held back
// lets panels work: at those of the battery, or at the best.
func (t *trial) works(c power.Curve, battery, bestV qty.Volt, bestA qty.Ampere) (v, a float64) {
	at := battery + power.SwitchDrop
	if t.control.Kind == power.MPPT {
		if at = battery + power.Headroom; bestV >= at {
			return float64(bestV), float64(bestA)
		}
	}
	return float64(at), float64(c.Current(at))
}

// advise says what to do with the panels; best is the most that a kind brings
// alone, unlike whether the joint itself loses too much.
func (m *Mix) advise(best float64, unlike bool) Advice {
	side, end := m.SideBySide.safe(), m.EndToEnd.safe()
	most := math.Max(side, end)
	switch {
	case m.SideBySide.Fit.Bars() && m.EndToEnd.Fit.Bars():
		return DoNotJoin
	case most == 0:
		return NothingCharges
	case most <= (1+equal)*best:
		return UseBest
	case unlike:
		return UnlikeVolts
	case math.Min(side, end) >= (1-equal)*most:
		return JoinEither
	case side > end:
		return JoinSideBySide
	}
	return JoinEndToEnd
}
