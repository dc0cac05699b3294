package plan

import (
	"time"

	"duskline/calc/civil"
)

// The clock of the place. The document names the changes of its offset from
// UTC that touch the trip, so that it reads the same on a device that knows no
// time zones, or other ones. In memory the start's Location is made of them,
// and of nothing else: [Trip.locate] is the only place that does.

// How far from the start a clock change may lie: as long as the longest trip
// and two days, so that a change of the trip's length alone spoils nothing. Of
// what lies before the start, SetZone keeps two days: the first local date
// begins within one, and clocks are moved by a day at most, where a place
// crosses the date line.
const (
	nearStart = 32 * 24 * time.Hour
	lookBack  = 48 * time.Hour
)

// before returns the offset from UTC that is in force before the first of the
// clock changes: the start's own, unless a change comes before it. What holds
// before that one the document does not say, so that it is taken to hold.
func (t Trip) before() time.Duration {
	if len(t.ClockChanges) > 0 && !t.ClockChanges[0].At.After(t.Start) {
		return time.Duration(t.ClockChanges[0].OffsetMin) * time.Minute
	}
	_, offset := t.Start.Zone()
	return time.Duration(offset) * time.Second
}

// changes returns the clock changes as civil takes them.
func (t Trip) changes() []civil.Change {
	var list []civil.Change
	for _, c := range t.ClockChanges {
		list = append(list, civil.Change{At: c.At, Offset: time.Duration(c.OffsetMin) * time.Minute})
	}
	return list
}

// locate gives the start the Location that Zone and ClockChanges say. Where
// those are not sound, the start's own offset stays in force.
func (t *Trip) locate() {
	loc, err := civil.Location(t.Zone, t.before(), t.changes())
	if err != nil {
		_, offset := t.Start.Zone()
		loc = time.FixedZone(t.Zone, offset)
	}
	t.Start = t.Start.In(loc)
}

// SetStart moves the trip to an instant, in the civil time of start's
// Location, of which the offset at the start is kept. A zone keeps its name and
// those clock changes that are near the trip; which ones there are about the
// new dates is for the caller to find out, and to tell by [Plan.SetZone].
//
// A plan without a place keeps to the longitude that fits the start's offset,
// so that its noon stays the clock's.
func (p *Plan) SetStart(start time.Time) {
	placeless := p.Placeless()
	p.Trip.Start = start
	// Only what agrees with the start's own offset is kept.
	kept := p.Trip.near(p.Trip.changes(), nearStart)
	p.Trip.ClockChanges = kept
	_, offset := start.Zone()
	for i := len(kept) - 1; i >= 0; i-- {
		if !kept[i].At.After(start) {
			if kept[i].OffsetMin*60 != offset {
				p.Trip.ClockChanges = append([]ClockChange{}, kept[i+1:]...)
			}
			break
		}
	}
	p.Trip.locate()
	if placeless {
		p.Sky.LongitudeDeg = meridian(p.Trip.Start)
	}
}

// SetZone puts the trip into a zone, and keeps what the clock of the start
// shows: first is the zone's offset from UTC before the first of the changes,
// which are in order and may reach beyond the trip. Offsets are whole minutes.
// Without a name the offset is a fixed one, and changes are not kept.
//
// Where the clock of the start shows a time that the zone leaves out, it is
// moved on or back by what is left out.
func (p *Plan) SetZone(name string, first time.Duration, changes []civil.Change) {
	placeless := p.Placeless()
	if name == "" {
		changes = nil
	}
	t := &p.Trip
	loc, err := civil.Location(name, first, changes)
	if err != nil { // Check says what is wrong with them
		loc = time.FixedZone(name, int(first/time.Second))
	}
	y, m, d := t.Start.Date()
	h, min, _ := t.Start.Clock()
	t.Zone, t.Start = name, time.Date(y, m, d, h, min, 0, 0, loc)
	near := t.near(changes, lookBack)
	if len(near) > 0 && !near[0].At.After(t.Start) {
		// What was in force before is part of what the days of the trip need.
		was := first
		for _, c := range changes {
			if c.At.Before(near[0].At) {
				was = c.Offset
			}
		}
		told := ClockChange{At: t.Start.Add(-lookBack).UTC(), OffsetMin: int(was / time.Minute)}
		if told.At.Before(near[0].At) && len(near) < MaxChanges {
			near = append([]ClockChange{told}, near...)
		}
	}
	t.ClockChanges = near
	t.locate()
	if placeless {
		p.Sky.LongitudeDeg = meridian(t.Start)
	}
}

// near returns those of the changes that lie from so long before the start up
// to nearStart after it.
func (t Trip) near(changes []civil.Change, before time.Duration) []ClockChange {
	list := []ClockChange{}
	for _, c := range changes {
		if !c.At.Before(t.Start.Add(-before)) && !c.At.After(t.Start.Add(nearStart)) {
			list = append(list, ClockChange{At: c.At.UTC(), OffsetMin: int(c.Offset / time.Minute)})
		}
	}
	return list
}
