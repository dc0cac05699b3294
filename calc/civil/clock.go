package civil

import (
	"math"
	"time"
)

// A Clock hangs on the wall at the trip's place. It turns seconds after the
// trip's start into local hours and dates.
//
// Make it with [NewClock]; it does not change and may be shared.
type Clock struct {
	start   time.Time
	hour    float64   // local hour of the day at the start
	at      []float64 // s after start at which the clock is moved, in order; those around the trip, too
	ahead   []float64 // h by which it then is ahead of what it was at the start; one before every change and one behind the last
	changes []float64 // those of at inside the trip
}

// around is how far before and behind a trip a Clock knows its changes: the
// first and the last date reach over it by so much at most.
const around = 50 * time.Hour

// NewClock returns the clock of start's Location for a trip of that length.
// Beyond two days before the trip and after it, it goes on as it is there.
func NewClock(start time.Time, span time.Duration) *Clock {
	h, m, s := start.Clock()
	c := &Clock{start: start}
	c.hour = float64(h) + float64(m)/60 + (float64(s)+float64(start.Nanosecond())/1e9)/3600
	now := offsetAt(start)
	first, changes := Offsets(start.Add(-around), start.Add(span+around))
	c.ahead = append(c.ahead, (first - now).Hours())
	for _, ch := range changes {
		at := ch.At.Sub(start).Seconds()
		c.at = append(c.at, at)
		c.ahead = append(c.ahead, (ch.Offset - now).Hours())
		if at > 0 && at <= span.Seconds() {
			c.changes = append(c.changes, at)
		}
	}
	return c
}

// wall returns the local hours since the midnight that began the start's
// date, as the clock shows them. Clocks are asked in every step: no allocation.
func (c *Clock) wall(after float64) float64 {
	i := len(c.at)
	for i > 0 && after < c.at[i-1] {
		i--
	}
	return c.hour + c.ahead[i] + after/3600
}

// Hour returns the local hour of the day, 0 up to 24, so many seconds after
// the start. At the instant of a change it is the new one.
func (c *Clock) Hour(after float64) float64 {
	// math.Mod gives the same and takes ten times as long in WebAssembly.
	h := c.wall(after)
	h -= 24 * math.Floor(h/24)
	if h >= 24 { // a hair before midnight
		return 0
	}
	return h
}

// Day returns the local date so many seconds after the start, counted in
// dates of the calendar: 0 is the start's, -1 the one before it. A place that
// crosses the date line leaves one out, and where a clock is put back over
// midnight the date goes back with it.
func (c *Clock) Day(after float64) int {
	return int(math.Floor(c.wall(after) / 24))
}

// Midnight returns the first instant of a local date, in the start's Location.
// Where the clock is moved forward over midnight, that is when it is moved;
// a date left out altogether begins with the one after it.
func (c *Clock) Midnight(day int) time.Time {
	want := 24 * float64(day)
	after := 0.0
	for i, ahead := range c.ahead {
		after = (want - c.hour - ahead) * 3600
		if i > 0 {
			after = math.Max(after, c.at[i-1])
		}
		if i == len(c.at) || after < c.at[i] {
			break
		}
	}
	return c.start.Add(time.Duration(math.Round(after*1e3)) * time.Millisecond)
}

// Moved returns by how much the clock is put forward at the change with that
// place in [Clock.Changes]; negative: it is put back.
func (c *Clock) Moved(i int) time.Duration {
	k := 0
	for c.at[k] != c.changes[i] {
		k++
	}
	return time.Duration(math.Round((c.ahead[k+1]-c.ahead[k])*3600)) * time.Second
}

// Changes returns the seconds after the start at which the clock is moved:
// those after the start, up to the trip's end. It is the Clock's own list.
func (c *Clock) Changes() []float64 { return c.changes }
