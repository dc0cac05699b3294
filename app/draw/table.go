package draw

import (
	"math"
	"slices"
	"sort"
	"time"

	"duskline/app/words"
	"duskline/calc/outlook"
	"duskline/calc/plan"
	"duskline/calc/qty"
)

// StripTable is the dusk strip in figures: the start, the end, every third
// hour of the clock (every sixth over a week, every twelfth over two), and
// every event at its own time.
func StripTable(o *outlook.Outlook, p plan.Plan) Table {
	s := &o.Series
	n := min(rows(s), len(s.Volts), len(s.AmpsIn), len(s.AmpsOut))
	t := Table{
		Caption: words.T("table.strip"),
		Head: []string{words.Column("time"), words.Column("charge"), words.Column("volts"),
			words.Column("in"), words.Column("out"), words.Column("events")},
	}
	if n == 0 {
		return t
	}
	every := 3
	switch length := time.Duration(n-1) * s.Step; {
	case length > 14*24*time.Hour:
		every = 12
	case length > 7*24*time.Hour:
		every = 6
	}
	happened := map[int][]outlook.Event{}
	for _, e := range o.Events {
		i := 0
		if s.Step > 0 {
			i = int(math.Ceil(float64(e.At.Sub(s.Start)) / float64(s.Step)))
		}
		i = min(max(i, 0), n-1)
		happened[i] = append(happened[i], e)
	}
	for i := range n {
		at := s.Time(i)
		// The first row at or after a mark of the clock stands for it.
		mark := i > 0 && at.Hour()/every != s.Time(i-1).Hour()/every
		if i != 0 && i != n-1 && !mark && len(happened[i]) == 0 {
			continue
		}
		says := ""
		for k, e := range happened[i] {
			if k > 0 {
				says += " "
			}
			says += words.Event(e, p)
		}
		t.Rows = append(t.Rows, []string{
			words.Moment(at, p.Trip.Start), words.Percent(s.Charge[i]), words.Volts(s.Volts[i]),
			words.Amps(s.AmpsIn[i]), words.Amps(s.AmpsOut[i]), says,
		})
	}
	return t
}

// LedgerTable is the Ledger in full: nothing folded, the gear in the Plan's
// order, then what was lost on the way; below it what is outside the balance.
func LedgerTable(o *outlook.Outlook, p plan.Plan) Table {
	l := &o.Ledger
	t := Table{
		Caption: words.T("table.ledger"),
		Head:    []string{words.Column("side"), words.Column("flow"), words.Column("energy"), words.Column("share")},
	}
	row := func(side, name string, wh float64) {
		part := "–"
		if l.Turnover > 0 {
			part = words.Amount(100*wh/float64(l.Turnover), 0, "%")
		}
		t.Rows = append(t.Rows, []string{words.T(side), name, words.Energy(qty.WattHour(wh)), part})
	}
	in, out := "side.in", "side.out"
	for _, f := range l.Sources {
		row(in, words.Flow(f, p), float64(f.Energy))
	}
	if l.Change < 0 {
		row(in, words.T("flow.from_battery"), -float64(l.Change))
	}
	for _, f := range l.Uses {
		row(out, words.Flow(f, p), float64(f.Energy))
	}
	losses := slices.Clone(l.Losses)
	sort.SliceStable(losses, func(i, k int) bool { return losses[i].Energy > losses[k].Energy })
	for _, f := range losses {
		if f.Energy != 0 {
			row(out, words.Flow(f, p), float64(f.Energy))
		}
	}
	if l.Change > 0 {
		row(out, words.T("flow.into_battery"), float64(l.Change))
	}
	for _, x := range []struct {
		name string
		wh   float64
	}{{"flow.not_taken", float64(l.NotTaken)}, {"flow.not_given", float64(l.NotGiven)}} {
		if x.wh > 0.5 {
			t.Rows = append(t.Rows, []string{words.T("side.beside"), words.T(x.name), words.Energy(qty.WattHour(x.wh)), ""})
		}
	}
	return t
}
