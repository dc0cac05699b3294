//go:build !js

package zone

import (
	"testing"
	"time"
)

// The clock is read once a day. That finds everything as long as no place moves
// its clock twice within a day; here is the whole database, from the first year
// of a plan to the last that it lists change by change. Its rules for the years
// after that move a clock at half a year's distance.
func TestNoClockIsMovedTwiceWithinADay(t *testing.T) {
	names := Names()
	if names == nil {
		t.Skip("this machine lists no zones")
	}
	to := date(t, "2037-01-01")
	for _, name := range names {
		place, err := time.LoadLocation(name)
		if err != nil {
			t.Fatal(err)
		}
		at, last := date(t, "1950-01-01").In(place), time.Time{}
		for {
			_, next := at.ZoneBounds()
			if next.IsZero() || next.After(to) {
				break
			}
			_, was := at.Zone()
			_, is := next.Zone()
			if was != is {
				if !last.IsZero() && next.Sub(last) < day*time.Second {
					t.Errorf("%s: moved at %v and %v", name, last, next)
				}
				last = next
			}
			at = next
		}
	}
}
