package outlook

import "duskline/calc/qty"

// safe says how far the battery may be drawn down, and where to stop in the
// evening to come through the night.
func (r *runner) safe() Safe {
	a := r.spec.Chemistry.Safe(r.out.Figures.CoreLowest)
	s := Safe{
		Depth: a.Depth, Least: a.Least, RechargeDays: a.RechargeDays,
		Kind: a.Kind, Why: a.Why,
	}
	for _, n := range r.nights() {
		s.Night = max(s.Night, n.takes)
	}
	s.StopAt = min(s.Least+s.Night, 1)
	return s
}

// A night is a stretch of rows with the sun down, of 24 hours at most. What it
// takes is what gear and Case ask for: a cut-off makes no night cheaper.
type night struct {
	row   int // in which it begins
	takes qty.Fraction
}

// nights lists the trip's. A longer dark is cut into nights of 24 hours. One
// that the trip begins or ends in counts for its hours.
func (r *runner) nights() (list []night) {
	s := &r.out.Series
	perRow := s.Step.Hours() / float64(r.battery.Holds())
	longest := int(24 / s.Step.Hours())
	for i := 1; i < len(r.asks); i++ {
		if s.Elevation[i] > 0 {
			continue
		}
		if n := len(list); n == 0 || s.Elevation[i-1] > 0 || i-list[n-1].row > longest {
			list = append(list, night{row: i - 1})
		}
		n := &list[len(list)-1]
		n.takes = min(n.takes+qty.Fraction(r.asks[i]*perRow), 1)
	}
	return list
}
