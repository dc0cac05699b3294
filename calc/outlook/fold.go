package outlook

import "time"

// A load that a battery cannot carry makes the Case shut off and come back
// over and over, a thousand times a day. Such a row is told as one event that
// says how often: nobody reads the rest.

// What makes a row. Common practice, no source: the sun and the clock take
// longer to turn, and a few times are worth telling one by one.
const (
	soon   = 30 * time.Minute // things turn back, and turn again, within this
	enough = 5                // times
)

// turnsBack pairs what happens with what ends it.
var turnsBack = map[EventKind]EventKind{
	AlarmOn: AlarmOff, CutOff: Reconnect, ColdRefused: ColdOver, Overload: OverloadOver,
	InverterLow: InverterBack, GuardOff: GuardBack, GuardChargeOff: GuardChargeBack, Float: ChargesAgain, Resting: ChargesAgain,
}

// A repeat is a row under way: places in the list of events.
type repeat struct {
	first, last int
	between     []int // what the row leaves out: every end but the last, every start but the first
}

// fold joins what happens over and over into one event each. Of a row it
// keeps the first event, with the number of times and the last instant, and
// the end of the last one.
func fold(events []Event) []Event {
	drop := make([]bool, len(events))
	rows, ends := map[EventKind]*repeat{}, map[EventKind]int{}
	done := func(w *repeat) {
		if w == nil {
			return
		}
		if n := len(w.between)/2 + 1; n >= enough {
			events[w.first].Times, events[w.first].Last = n, events[w.last].At
			for _, i := range w.between {
				drop[i] = true
			}
		}
	}
	for i := range events {
		e := &events[i]
		e.Times, e.Last = 1, e.At
		end, turns := turnsBack[e.Kind]
		if !turns {
			ends[e.Kind] = i
			continue
		}
		w := rows[e.Kind]
		if b, ended := ends[end]; w != nil && ended && b > w.last && e.Index == events[w.first].Index &&
			e.At.Sub(events[b].At) <= soon && events[b].At.Sub(events[w.last].At) <= soon {
			w.between = append(w.between, b, i)
			w.last = i
			continue
		}
		done(w)
		rows[e.Kind] = &repeat{first: i, last: i}
	}
	for _, w := range rows {
		done(w)
	}
	kept := events[:0]
	for i, e := range events {
		if !drop[i] {
			kept = append(kept, e)
		}
	}
	return kept
}
