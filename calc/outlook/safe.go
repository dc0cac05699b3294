package outlook

import "duskline/calc/qty"

// safe says how far the battery may be drawn down, and where to stop in the
// evening to come through the night.
func (r *runner) safe() Safe {
	night := r.night()
	s := Safe{Depth: 0.8, Source: "practice", RechargeDays: 14, Why: "over_discharge"}
	if len(r.spec.Chemistry.Freezing) > 0 {
		s.Depth, s.RechargeDays, s.Why = 0.5, 1, "sulfation"
	}
	s.Least = 1 - s.Depth
	s.Night, s.StopAt = night, min(s.Least+night, 1)
	return s
}

// night returns the charge that the hungriest night takes: from sundown to
// sunup, and of a longer dark its hungriest first 24 hours.
func (r *runner) night() (most qty.Fraction) {
	s := &r.out.Series
	perRow := float64(s.Step.Hours()) / float64(r.spec.Capacity)
	sum, rows := 0.0, 0
	for i := 1; i < len(s.AmpsOut); i++ {
		if s.Elevation[i] > 0 || float64(rows)*s.Step.Hours() >= 24 {
			sum, rows = 0, 0
		}
		if s.Elevation[i] <= 0 {
			sum += float64(s.AmpsOut[i]) * perRow
			rows++
		}
		most = max(most, qty.Fraction(sum))
	}
	return min(most, 1)
}
