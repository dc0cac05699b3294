package zone

import (
	"time"

	"duskline/calc/civil"
)

// day is how far apart a clock is read, seconds.
const day = 24 * 3600

// walk finds the changes of a clock that tells by how many seconds it is ahead
// of UTC at an instant, and nothing else. That is all that a browser has. Go
// could list the changes, but its list does not get past the last day of 2040
// in zones with summer time (time.Time.ZoneBounds of Go 1.26 ends where it
// begins there); and so both machines go the same way.
//
// The clock is read once a day, and where two days differ the span between them
// is halved until the second is found. A change that is taken back within a day
// is not seen; a test looks through the database for one.
func walk(ahead func(unix int64) int64, from, to int64) (first time.Duration, changes []civil.Change) {
	now := ahead(from)
	first = time.Duration(now) * time.Second
	for at := from; at < to; {
		next := min(at+day, to)
		then := ahead(next)
		for now != then {
			// The first second at which the clock is no longer as it was.
			before, after := at, next
			for after-before > 1 {
				if middle := before + (after-before)/2; ahead(middle) == now {
					before = middle
				} else {
					after = middle
				}
			}
			at, now = after, ahead(after)
			changes = append(changes, civil.Change{At: time.Unix(after, 0).UTC(), Offset: time.Duration(now) * time.Second})
		}
		at = next
	}
	return first, changes
}
