package draw

import (
	"sort"

	"duskline/calc/plan"
)

// A Segment is a filled part of a bar, in shares of its length from 0 to 1.
type Segment struct{ From, To float64 }

// Hours lays windows of hours on the bar of a day from midnight to midnight:
// windows over midnight are cut in two, those that touch or overlap are
// joined, and the result runs from left to right.
func Hours(list []plan.Window) []Segment {
	var bar []Segment
	for _, w := range list {
		from, to := w.FromH/24, w.ToH/24
		switch {
		case !(from >= 0 && from <= 1 && to >= 0 && to <= 1) || from == to:
			// not a window that a sound plan has: nothing to show
		case from < to:
			bar = append(bar, Segment{from, to})
		default:
			if from < 1 {
				bar = append(bar, Segment{from, 1})
			}
			if to > 0 {
				bar = append(bar, Segment{0, to})
			}
		}
	}
	sort.Slice(bar, func(i, k int) bool { return bar[i].From < bar[k].From })
	joined := bar[:0]
	for _, s := range bar {
		if n := len(joined); n > 0 && s.From <= joined[n-1].To {
			joined[n-1].To = max(joined[n-1].To, s.To)
			continue
		}
		joined = append(joined, s)
	}
	return joined
}
