// Package civil is the time that people's clocks show at a place: which
// offset from UTC is in force when, and what hour and date that makes.
//
// The decision: a place's civil time is a *time.Location, built from the few
// offsets that a document names. Everything that takes a time.Time (its clock,
// its date, its text) is then right on both sides of a change without knowing
// of one. The core holds no list of zones: what changes when is handed in.
//
// A clock moved forward leaves out hours, one moved back shows them twice.
// Time itself does neither: counted from the start of a trip, every second
// comes once.
//
// Missing, in this version: the name of a zone says nothing here, and what is
// in force before the first change or after the last one is taken to last.
package civil

import (
	"time"

	"duskline/calc/qty"
)

// MaxChanges is how many changes a Location takes. In a month's trip a place
// moves its clock once as a rule, and twice where a month of fasting suspends
// summer time.
const MaxChanges = 4

// Offsets in use, h. Since 1950 no inhabited place has been outside of them.
const (
	least = -12
	most  = 14
)

// A Change says that from At on the clock stands Offset ahead of UTC.
type Change struct {
	At     time.Time
	Offset time.Duration
}

// Location returns the civil time in which a clock stands offset ahead of UTC,
// and from each change on as far as the change says. It bears the name; the
// abbreviations of its offsets are written as +01 and +0545. Without changes
// it is time.FixedZone.
//
// offset and those of the changes are whole minutes from -12 to +14 h. Changes
// are in order of time, at whole seconds, [MaxChanges] at most; one that
// changes nothing is allowed.
//
// Errors: *qty.RangeError for an offset, for a change that does not come after
// the one before it or not at a whole second, and for too many of them.
func Location(name string, offset time.Duration, changes []Change) (*time.Location, error) {
	if err := qty.InRange("changes", float64(len(changes)), 0, MaxChanges, "changes"); err != nil {
		return nil, err
	}
	if err := checkOffset("offset", offset); err != nil {
		return nil, err
	}
	for i, c := range changes {
		if err := checkChange(changes, i); err != nil {
			return nil, err
		}
		if err := checkOffset("offset of change "+string(rune('0'+i)), c.Offset); err != nil {
			return nil, err
		}
	}
	if len(changes) == 0 {
		return time.FixedZone(name, int(offset/time.Second)), nil
	}
	return time.LoadLocationFromTZData(name, tzif(offset, changes))
}

func checkOffset(what string, d time.Duration) error {
	if err := qty.InRange(what, d.Hours(), least, most, "h"); err != nil {
		return err
	}
	return qty.InRange("seconds of "+what, (d % time.Minute).Seconds(), 0, 0, "s")
}

// checkChange looks at the instant of change i.
func checkChange(changes []Change, i int) error {
	number := string(rune('0' + i))
	at := changes[i].At
	if err := qty.InRange("fraction of a second of change "+number, float64(at.Nanosecond())/1e9, 0, 0, "s"); err != nil || i == 0 {
		return err
	}
	// Unix seconds: two instants may be further apart than a Duration reaches.
	const eon = 1e18
	return qty.InRange("change "+number+" after the one before it", float64(at.Unix()-changes[i-1].At.Unix()), 1, eon, "s")
}

// Offsets returns how far the clock of from's Location stands ahead of UTC at
// from, and how that changes after from and up to to, to included.
func Offsets(from, to time.Time) (first time.Duration, changes []Change) {
	first = offsetAt(from)
	last := first
	for at := from; ; {
		_, end := at.ZoneBounds()
		if !end.IsZero() && !end.After(at) {
			// Go 1.26 says so of zones with rules for ever, on the last day of
			// the leap years after 2037. Clocks are moved at whole minutes.
			end = at.Truncate(time.Minute).Add(time.Minute)
		}
		if end.IsZero() || end.After(to) {
			return first, changes
		}
		// A bound may be where nothing changes: the turn of a year, or a new
		// name for the same offset.
		if o := offsetAt(end); o != last {
			changes = append(changes, Change{end, o})
			last = o
		}
		at = end
	}
}

func offsetAt(t time.Time) time.Duration {
	_, s := t.Zone()
	return time.Duration(s) * time.Second
}
