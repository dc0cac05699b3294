package load

import (
	"math"
	"sort"
)

// A Window is a span of local hours of the day, From included and To not,
// both 0 to 24. From after To runs over midnight. 0 to 24 is the whole day.
type Window struct{ From, To float64 }

// In says whether an hour, 0 up to 24, lies in any of the windows.
func In(list []Window, hour float64) bool {
	for _, w := range list {
		if w.From < w.To && hour >= w.From && hour < w.To ||
			w.From > w.To && (hour >= w.From || hour < w.To) {
			return true
		}
	}
	return false
}

// length returns how many hours of the day lie in at least one window.
func length(list []Window) float64 {
	var spans []Window
	for _, w := range list {
		if w.From <= w.To {
			spans = append(spans, w)
		} else {
			spans = append(spans, Window{w.From, 24}, Window{0, w.To})
		}
	}
	sort.Slice(spans, func(i, k int) bool { return spans[i].From < spans[k].From })
	sum, end := 0.0, 0.0
	for _, s := range spans {
		sum += math.Max(0, s.To-math.Max(s.From, end))
		end = math.Max(end, s.To)
	}
	return sum
}
