package pairing

import "duskline/calc/outlook"

// The plain results. Their rules stand with [Run].

// gain is the share of more harvest that a step up must bring to be of use.
const gain = 0.05

func (r *Rung) holds() bool { return outlook.Verdict(r.Verdict) == outlook.Holds && !r.Fit.Bars() }

// packs says whether the day's use comes back on more than half of the days.
func (r *Rung) packs(days int) bool { return r.holds() && 2*r.BackDays > days }

func (l *Ladder) choose() {
	l.Least, l.Most, l.Pack, l.OwnedPack = -1, -1, -1, -1
	for i := range l.Rungs {
		if l.Rungs[i].holds() {
			l.Least = i
			break
		}
	}
	for i := max(l.Least, 0); i < len(l.Rungs); i++ {
		r := &l.Rungs[i]
		if r.Fit.Bars() || !(r.HarvestWh > 0) {
			continue
		}
		l.Most = i
		if i+1 < len(l.Rungs) {
			next := &l.Rungs[i+1]
			if !next.Fit.Bars() && next.HarvestWh >= (1+gain)*r.HarvestWh {
				continue
			}
		}
		break
	}
	l.Pack = l.Least
	for i := 0; i <= l.Most; i++ {
		if l.Rungs[i].packs(l.Days) {
			l.Pack = i
			break
		}
	}
	for i := range l.Owned {
		if r := &l.Owned[i]; !r.Fit.Bars() && r.Charges && (l.OwnedPack < 0 || r.better(&l.Owned[l.OwnedPack], l.Days)) {
			l.OwnedPack = i
		}
	}
}

// better says whether one would rather pack r than s.
func (r *Rung) better(s *Rung, days int) bool {
	pr, ps := r.packs(days), s.packs(days)
	switch {
	case pr != ps:
		return pr
	case pr && r.W != s.W:
		return r.W < s.W
	case !pr && r.Verdict != s.Verdict:
		return r.Verdict < s.Verdict
	}
	// Of two that do the same the one to which there is less to say: a hair of
	// harvest is no reason to join panels in another way.
	if r.HarvestWh > 1.001*s.HarvestWh || s.HarvestWh > 1.001*r.HarvestWh {
		return r.HarvestWh > s.HarvestWh
	}
	return len(r.Reasons) < len(s.Reasons)
}
