// Package hours is the arithmetic of a day's hours: windows that may run over
// midnight, painted on and off as on a bar, and the clock as people type it.
package hours

import (
	"sort"

	"duskline/calc/plan"
)

// Cells is how many parts a day has on the bar: half hours. A finger on a
// phone can pick one; the fields below the bar take any minute.
const Cells = 48

// A Span is a stretch of one day in hours, From < To.
type Span struct{ From, To float64 }

// Spans lays windows out on one day: cut at midnight, sorted, joined where
// they meet or overlap. A window that ends where it starts has no length.
func Spans(hours []plan.Window) []Span {
	var list []Span
	for _, w := range hours {
		switch {
		case w.FromH < w.ToH:
			list = append(list, Span{w.FromH, w.ToH})
		case w.FromH > w.ToH:
			if w.FromH < 24 {
				list = append(list, Span{w.FromH, 24})
			}
			if w.ToH > 0 {
				list = append(list, Span{0, w.ToH})
			}
		}
	}
	return join(list)
}

func join(list []Span) []Span {
	sort.Slice(list, func(i, k int) bool { return list[i].From < list[k].From })
	var joined []Span
	for _, s := range list {
		if n := len(joined); n > 0 && s.From <= joined[n-1].To {
			joined[n-1].To = max(joined[n-1].To, s.To)
		} else {
			joined = append(joined, s)
		}
	}
	return joined
}

// windows writes spans of a day as windows: what touches midnight from both
// sides is one window over midnight.
func windows(list []Span) []plan.Window {
	hours := []plan.Window{}
	n := len(list)
	over := n > 1 && list[0].From == 0 && list[n-1].To == 24
	for i, s := range list {
		switch {
		case over && i == 0:
		case over && i == n-1:
			hours = append(hours, plan.Window{FromH: s.From, ToH: list[0].To})
		default:
			hours = append(hours, plan.Window{FromH: s.From, ToH: s.To})
		}
	}
	return hours
}

// Paint returns the windows with the stretch from one hour to a later one
// switched on or off. 0 <= from <= to <= 24.
func Paint(hours []plan.Window, from, to float64, on bool) []plan.Window {
	list := Spans(hours)
	if from >= to {
		return windows(list)
	}
	if on {
		return windows(join(append(list, Span{from, to})))
	}
	var left []Span
	for _, s := range list {
		if s.From < from {
			left = append(left, Span{s.From, min(s.To, from)})
		}
		if s.To > to {
			left = append(left, Span{max(s.From, to), s.To})
		}
	}
	return windows(left)
}

// Covered returns how much of a cell is on, 0 to 1.
func Covered(list []Span, cell int) float64 {
	from, to := float64(cell)/2, float64(cell+1)/2
	on := 0.0
	for _, s := range list {
		if d := min(s.To, to) - max(s.From, from); d > 0 {
			on += d
		}
	}
	return on / (to - from)
}

// Length returns how many hours of a day that are on.
func Length(hours []plan.Window) float64 {
	on := 0.0
	for _, s := range Spans(hours) {
		on += s.To - s.From
	}
	return on
}

// PaintCells paints from one cell to another, both included, in either order.
func PaintCells(hours []plan.Window, a, b int, on bool) []plan.Window {
	if a > b {
		a, b = b, a
	}
	return Paint(hours, float64(a)/2, float64(b+1)/2, on)
}
