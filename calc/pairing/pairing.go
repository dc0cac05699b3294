// Package pairing says which panels belong with a Case, its Gear and its Sky:
// a ladder of panel sizes, each tried in the plan by the same simulation.
//
// It has no physics of its own. A rung is one [outlook.Run] of the plan with
// other panels in it, and some short runs with the gear off; what the labels
// say comes from calc/panel and calc/power.
package pairing

import (
	"errors"

	"duskline/calc/outlook"
	"duskline/calc/plan"
)

// ErrStopped says that hear has asked to stop.
var ErrStopped = errors.New("pairing: stopped")

// ErrWord says that a text is none of the words that are allowed.
var ErrWord = errors.New("pairing: unknown word")

// Run tries the ladder. hear, if not nil, is told the share that is done, 0 to
// 1, after each rung; if it returns false, Run ends with [ErrStopped].
func Run(p plan.Plan, hear func(share float64) bool) (*Ladder, error) {
	l := &Ladder{Least: -1, Most: -1, Pack: -1, OwnedPack: -1, OwnedWhole: true, Owned: []Rung{}, Refill: []Refill{}, Mixes: []Mix{}}
	for i, w := range generic {
		panels := plan.Panels{Joined: plan.SideBySide, List: []plan.Panel{plan.NewPanel("", 30, 180)}}
		panels.List[0].RatedW = w
		q := p
		q.Panels = panels
		o, err := outlook.Run(q)
		if err != nil {
			return nil, err
		}
		l.Rungs = append(l.Rungs, Rung{
			W: w, Panels: panels, Kinds: []int{}, Verdict: Verdict(o.Verdict), LowestPct: float64(o.Figures.Lowest) * 100,
			HarvestWh: float64(o.Figures.SunADay), DrawWh: float64(o.Figures.DrawADay), Strings: 1, Charges: true, Fit: Fits, Reasons: []Reason{},
		})
		if l.Least < 0 && o.Verdict == outlook.Holds {
			l.Least = i
		}
		if hear != nil && !hear(float64(i+1)/float64(len(generic))) {
			return nil, ErrStopped
		}
	}
	return l, nil
}
