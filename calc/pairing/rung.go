package pairing

import (
	"math"
	"slices"
	"sort"
	"time"

	"duskline/calc/daylight"
	"duskline/calc/notice"
	"duskline/calc/outlook"
	"duskline/calc/plan"
	"duskline/calc/power"
	"duskline/calc/qty"
)

// A choice is panels to be tried.
type choice struct {
	panels plan.Panels
	kinds  []int
	asIs   bool
}

func (c *choice) watts() (sum float64) {
	for _, l := range c.panels.List {
		sum += l.RatedW * float64(l.Count)
	}
	return sum
}

// rung tries panels. hint is how long fewer watts take from empty, if that is
// known.
func (t *trial) rung(c choice, hint Hours) (Rung, error) {
	q := t.p
	q.Panels = c.panels
	o := t.base
	if !c.asIs {
		var err error
		if o, err = outlook.Run(q); err != nil {
			return Rung{}, err
		}
	}
	f := &o.Figures
	r := Rung{
		W: c.watts(), Panels: c.panels, Kinds: c.kinds, AsIs: c.asIs,
		Verdict: Verdict(o.Verdict), LowestPct: float64(f.Lowest) * 100, BackDays: t.back(o),
		HarvestWh: float64(f.SunADay), DrawWh: float64(f.DrawADay), Reasons: []Reason{},
	}
	spec, err := q.Daylight()
	if err != nil {
		return Rung{}, err
	}
	t.label(&r, &spec)
	if err := t.lost(&r, o, spec); err != nil {
		return Rung{}, err
	}
	if err := t.refills(&r, o, hint); err != nil {
		return Rung{}, err
	}
	t.reasons(&r)
	return r, nil
}

// Full is the charge from which the battery counts as full, and short how far
// the charge at a day's end may lie under that of its start for the day's use
// to count as put back: what the steps leave open.
const (
	full  = 0.995
	short = 0.001
)

// back counts the days on which the day's use is put back.
func (t *trial) back(o *outlook.Outlook) (days int) {
	s := &o.Series
	dark := t.cuts(o)
	for d := range t.days {
		from := int(math.Round(float64(d) * t.perDay))
		to := min(int(math.Round(float64(d+1)*t.perDay)), len(s.Charge)-1)
		if slices.ContainsFunc(dark, func(c [2]int) bool { return c[0] < to && c[1] > from }) {
			continue
		}
		ok := s.Charge[to] >= s.Charge[from]-short
		for i := from + 1; i <= to && !ok; i++ {
			ok = s.Charge[i] >= full && s.AmpsIn[i] > 0
		}
		if ok {
			days++
		}
	}
	return days
}

// cuts returns the steps in which the outlets were cut off, by the Case or by
// the battery's own protection: from, and where it ended. A row of cut-offs within minutes of each other counts as one.
func (t *trial) cuts(o *outlook.Outlook) (list [][2]int) {
	s := &o.Series
	row := func(at time.Time) float64 { return at.Sub(s.Start).Seconds() / s.Step.Seconds() }
	for _, e := range o.Events {
		switch n := len(list); {
		case e.Kind == outlook.CutOff || e.Kind == outlook.GuardOff:
			list = append(list, [2]int{int(row(e.At)), len(s.Charge)})
		case (e.Kind == outlook.Reconnect || e.Kind == outlook.GuardBack) && n > 0:
			list[n-1][1] = int(math.Ceil(row(e.At)))
		}
	}
	return list
}

// sampleEvery is how far apart, in minutes, the instants lie at which a rung is
// asked what its panels could have given.
const sampleEvery = 30

// nothing is how many Wh a day are none: what the solvers leave.
const nothing = 1e-6

// lost shares out what the panels could have given and did not. The decision:
// the Ledger says how much was left in the panels in all; what of it the
// controller's limit held back, and what a PWM controller never asks for, is
// read off the curve at the volts of the run, every half hour.
func (t *trial) lost(r *Rung, o *outlook.Outlook, spec daylight.Spec) error {
	days := t.p.Trip.LengthH / 24
	if left := float64(o.Ledger.NotTaken) / days; left > nothing {
		r.SpilledWh = left
	}
	mppt := t.control.Kind == power.MPPT
	if mppt && (r.SpilledWh == 0 || !t.mayClip(r)) || !mppt && r.HarvestWh == 0 {
		return nil
	}
	scene, err := daylight.New(spec)
	if err != nil {
		return err
	}
	step := float64(t.p.Trip.StepMin) * 60
	every := max(1, sampleEvery/t.p.Trip.StepMin)
	s := &o.Series
	var clipped, missed, taken float64
	for i := 1 + every/2; i < len(s.Charge); i += every {
		if s.Light[i] <= 0 {
			continue
		}
		curve := scene.Curve((float64(i) - 0.5) * step)
		offer := t.control.Offer(curve)
		v := s.Volts[i]
		could, amps := offer.Unlimited(v), float64(s.AmpsIn[i])
		if !(could > 0) {
			continue
		}
		if mppt {
			if most := float64(t.control.Limit); float64(could) > most && amps > most*0.999 {
				clipped += float64(offer.PanelPower(v, could)) - float64(offer.PanelPower(v, t.control.Limit))
			}
			continue
		}
		bv, bi := curve.MaxPower()
		share := math.Min(1, amps/float64(could))
		at := float64(offer.PanelPower(v, could)) * share
		taken += at
		missed += math.Max(0, float64(qty.Power(bv, bi))*share-at)
	}
	if mppt {
		r.ClippedWh = math.Min(clipped*float64(every)*step/3600/days, r.SpilledWh)
		r.SpilledWh -= r.ClippedWh
		return nil
	}
	if taken > 0 {
		r.PWMLossWh = r.HarvestWh * missed / taken
	}
	return nil
}

// mayClip says whether the controller's limit can hold these panels back at
// all, in light above the label's and in the cold: twice the label is enough.
func (t *trial) mayClip(r *Rung) bool {
	return 2*r.W*float64(t.control.Efficiency) > float64(t.control.Limit)*t.p.Case.Battery.CutoffV
}

// When a loss is worth a line. Common practice, no source.
const (
	worth     = 0.05 // of the harvest
	nearLimit = 0.95 // of the input's volts
)

// reasons lists what there is to know of a rung, gravest first.
func (t *trial) reasons(r *Rung) {
	add := func(code Code, fit Fit, values ...notice.Value) {
		r.Reasons = append(r.Reasons, Reason{Code: code, Fit: fit, Values: values})
	}
	val := func(name string, x float64, unit string) notice.Value {
		return notice.Value{Name: name, Number: x, Unit: unit}
	}
	air := val("air", float64(t.coldest), "°C")
	switch {
	case r.ColdV > r.LimitV:
		add(OverVolts, Danger, val("volts", r.ColdV, "V"), val("limit", r.LimitV, "V"), air)
	case r.ColdV > nearLimit*r.LimitV:
		add(NearVolts, Caution, val("volts", r.ColdV, "V"), val("limit", r.LimitV, "V"), air)
	}
	if t.control.Kind == power.PWM && r.RatingA > r.LimitA {
		add(OverAmps, Warning, val("amps", r.RatingA, "A"), val("limit", r.LimitA, "A"))
	}
	switch {
	case !r.Charges:
		add(TooLow, Caution, val("volts", r.OpenV, "V"), val("need", r.LeastV, "V"))
	case r.WorkV < r.NeedV:
		add(Low, Caution, val("volts", r.WorkV, "V"), val("need", r.NeedV, "V"))
	}
	if r.Fuse {
		add(NeedsFuse, Caution, val("strings", float64(r.Strings), "1"), val("amps", r.BackA, "A"), val("size", r.FuseA, "A"))
	}
	if r.MismatchW > worth*r.SumW {
		add(Mismatch, Caution, val("lost", r.MismatchW, "W"), val("sum", r.SumW, "W"))
	}
	lowest := val("lowest", r.LowestPct, "%")
	switch v := outlook.Verdict(r.Verdict); {
	case v == outlook.RunsOut:
		add(RunsOut, Fits, lowest)
	case v == outlook.Tight && r.LowestPct < t.p.Trip.ReservePct:
		add(TightFit, Fits, lowest)
	case v == outlook.Tight:
		add(Unserved, Fits, lowest)
	}
	if 2*r.BackDays <= t.days {
		add(NotBack, Fits, val("back", float64(r.BackDays), "1"), val("days", float64(t.days), "1"))
	}
	if r.PWMLossWh > worth*r.HarvestWh {
		add(ThrownAway, Fits, val("lost", r.PWMLossWh, "Wh a day"), val("share", 100*r.PWMLossWh/(r.HarvestWh+r.PWMLossWh), "%"))
	}
	if r.ClippedWh > worth*r.HarvestWh {
		add(ClipsSun, Fits, val("lost", r.ClippedWh, "Wh a day"), val("limit", r.LimitA, "A"))
	}
	if r.SpilledWh > worth*r.HarvestWh {
		add(SpillsSun, Fits, val("lost", r.SpilledWh, "Wh a day"))
	}
	sort.SliceStable(r.Reasons, func(i, k int) bool { return r.Reasons[i].Fit.rank() > r.Reasons[k].Fit.rank() })
	if r.Fit = Fits; len(r.Reasons) > 0 {
		r.Fit = r.Reasons[0].Fit
	}
}
