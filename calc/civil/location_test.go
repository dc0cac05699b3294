package civil

import (
	"errors"
	"testing"
	"time"

	"duskline/calc/qty"
)

const hour = time.Hour

func utc(y int, m time.Month, d, h, min int) time.Time {
	return time.Date(y, m, d, h, min, 0, 0, time.UTC)
}

// Changes made by hand: both kinds, on both halves of the earth, and the
// offsets at the ends of what is in use.
var byHand = []struct {
	name   string
	offset time.Duration
	change Change
}{
	{"north, spring", hour, Change{utc(2026, 3, 29, 1, 0), 2 * hour}},
	{"north, autumn", 2 * hour, Change{utc(2026, 10, 25, 1, 0), hour}},
	{"south, spring", 12 * hour, Change{utc(2026, 9, 26, 14, 0), 13 * hour}},
	{"south, autumn", 13 * hour, Change{utc(2026, 4, 4, 14, 0), 12 * hour}},
	{"west, half an hour", -3*hour - hour/2, Change{utc(2026, 3, 8, 5, 30), -2*hour - hour/2}},
	{"+5:45", 5*hour + hour/2, Change{utc(1985, 12, 31, 18, 30), 5*hour + 45*time.Minute}},
	{"over the date line", -12 * hour, Change{utc(2026, 6, 1, 12, 0), 14 * hour}},
	{"back over the date line", 14 * hour, Change{utc(1951, 6, 1, 10, 0), -12 * hour}},
	{"nothing changes", 3 * hour, Change{utc(2026, 6, 1, 10, 0), 3 * hour}},
}

// The clock shows UTC plus the offset in force, to the second; the text of an
// instant is read back as that instant, in the doubled hour too; and the same
// instant in another zone is the same.
func TestLocationOnBothSidesOfAChange(t *testing.T) {
	for _, c := range byHand {
		t.Run(c.name, func(t *testing.T) {
			loc, err := Location("Test/Place", c.offset, []Change{c.change})
			if err != nil {
				t.Fatal(err)
			}
			if loc.String() != "Test/Place" {
				t.Errorf("its name is %q", loc)
			}
			seen := map[string]time.Time{}
			for s := -30 * hour; s <= 30*hour; s += 5 * time.Minute {
				for _, near := range []time.Duration{-time.Second, 0, time.Second} {
					at := c.change.At.Add(s + near)
					want := c.offset
					if !at.Before(c.change.At) {
						want = c.change.Offset
					}
					here := at.In(loc)
					if got, wall := here.Format(time.DateTime), at.Add(want).Format(time.DateTime); got != wall {
						t.Fatalf("%v: the clock shows %s, want %s", at, got, wall)
					}
					text := here.Format(time.RFC3339)
					if other, twice := seen[text]; twice {
						t.Fatalf("%v and %v are both %s", other, at, text)
					}
					seen[text] = at
					back, err := time.Parse(time.RFC3339, text)
					if err != nil || !back.Equal(at) || !here.Equal(at) {
						t.Fatalf("%v is written as %s and read as %v (%v)", at, text, back, err)
					}
				}
			}
			if far := c.change.At.AddDate(40, 0, 0).In(loc); offsetAt(far) != c.change.Offset {
				t.Errorf("the last offset lasts until before %v", far)
			}
			if far := c.change.At.AddDate(-90, 0, 0).In(loc); offsetAt(far) != c.offset {
				t.Errorf("the first offset begins after %v", far)
			}
		})
	}
}

// Without a change it is package time's own fixed zone.
func TestLocationWithoutChanges(t *testing.T) {
	for text, offset := range map[string]time.Duration{
		"2026-06-01T12:00:00+14:00": 14 * hour,
		"2026-06-01T12:00:00-12:00": -12 * hour,
		"2026-06-01T12:00:00+05:45": 5*hour + 45*time.Minute,
		"2026-06-01T12:00:00-00:30": -hour / 2,
		"2026-06-01T12:00:00Z":      0,
	} {
		loc, err := Location("A", offset, nil)
		if err != nil {
			t.Fatal(err)
		}
		if got := time.Date(2026, 6, 1, 12, 0, 0, 0, loc).Format(time.RFC3339); got != text {
			t.Errorf("%v: %s, want %s", offset, got, text)
		}
		if first, changes := Offsets(time.Date(1950, 1, 1, 0, 0, 0, 0, loc), time.Date(2100, 1, 1, 0, 0, 0, 0, loc)); first != offset || changes != nil {
			t.Errorf("%v is read back as %v with %v", offset, first, changes)
		}
	}
}

// Abbreviations are the offsets as the public zone database writes those that
// have no letters.
func TestLocationAbbreviations(t *testing.T) {
	loc, err := Location("A", -3*hour-hour/2, []Change{{utc(2026, 3, 8, 5, 30), 5*hour + 45*time.Minute}, {utc(2026, 4, 8, 5, 30), 0}})
	if err != nil {
		t.Fatal(err)
	}
	for at, want := range map[time.Time]string{utc(2026, 3, 1, 0, 0): "-0330", utc(2026, 4, 1, 0, 0): "+0545", utc(2026, 5, 1, 0, 0): "+00"} {
		if got := at.In(loc).Format("MST"); got != want {
			t.Errorf("%v is called %s, want %s", at, got, want)
		}
	}
}

func TestOffsetsReadBackWhatLocationWasGiven(t *testing.T) {
	given := []Change{{utc(2026, 2, 15, 2, 0), 0}, {utc(2026, 3, 22, 2, 0), hour}, {utc(2026, 3, 22, 2, 1), -12 * hour}, {utc(2026, 4, 22, 2, 0), 14 * hour}}
	loc, err := Location("A", hour, given)
	if err != nil {
		t.Fatal(err)
	}
	first, changes := Offsets(utc(2026, 1, 1, 0, 0).In(loc), given[3].At)
	if first != hour || len(changes) != len(given) {
		t.Fatalf("first %v, then %v", first, changes)
	}
	for i, c := range changes {
		if !c.At.Equal(given[i].At) || c.Offset != given[i].Offset {
			t.Errorf("change %d is %v, want %v", i, c, given[i])
		}
	}
	// A change at from has happened; one after to has not.
	first, changes = Offsets(given[0].At.In(loc), given[1].At.Add(-1))
	if first != 0 || len(changes) != 0 {
		t.Errorf("between two changes: %v, then %v", first, changes)
	}
}

func TestLocationRefuses(t *testing.T) {
	at := utc(2026, 3, 29, 1, 0)
	var five []Change
	for i := range 5 {
		five = append(five, Change{at.Add(time.Duration(i) * hour), 0})
	}
	for _, c := range []struct {
		what    string
		offset  time.Duration
		changes []Change
	}{
		{"offset", 14*hour + time.Minute, nil},
		{"offset", -12*hour - time.Minute, nil},
		{"seconds of offset", hour + time.Second, nil},
		{"seconds of offset", -hour - time.Nanosecond, nil},
		{"offset of change 1", 0, []Change{{at, 0}, {at.Add(hour), 15 * hour}}},
		{"seconds of offset of change 0", 0, []Change{{at, 20 * time.Second}}},
		{"change 1 after the one before it", 0, []Change{{at, 0}, {at, hour}}},
		{"change 1 after the one before it", 0, []Change{{at, 0}, {at.Add(-hour), hour}}},
		{"fraction of a second of change 0", 0, []Change{{at.Add(1), hour}}},
		{"changes", 0, five},
	} {
		loc, err := Location("A", c.offset, c.changes)
		var e *qty.RangeError
		if loc != nil || !errors.As(err, &e) || e.What != c.what {
			t.Errorf("%v, %v: %v, want one of %q", c.offset, c.changes, err, c.what)
		}
	}
	if _, err := Location("A", 0, five[:4]); err != nil {
		t.Errorf("four changes: %v", err)
	}
}

// Whatever is handed in: an error, or a Location that says what it was told.
func FuzzLocation(f *testing.F) {
	f.Add("Europe/Somewhere", 60, int64(1774746000), 120, int64(1792890000), 60)
	f.Add("", -720, int64(-1<<62), 840, int64(1<<62), 345)
	f.Fuzz(func(t *testing.T, name string, first int, at1 int64, o1 int, at2 int64, o2 int) {
		d := func(min int) time.Duration { return time.Duration(min%2000) * time.Minute }
		given := []Change{{time.Unix(at1, 0), d(o1)}, {time.Unix(at2, 0), d(o2)}}
		loc, err := Location(name, d(first), given)
		if err != nil {
			return
		}
		if loc.String() != name {
			t.Errorf("named %q, called %q", name, loc)
		}
		for _, c := range []struct {
			at   int64
			want time.Duration
		}{{at1 - 1, d(first)}, {at1, d(o1)}, {at2 - 1, d(o1)}, {at2, d(o2)}} {
			if c.at > 1<<40 || c.at < -1<<40 {
				continue // years that package time does not write
			}
			if got := offsetAt(time.Unix(c.at, 0).In(loc)); got != c.want {
				t.Errorf("%d: %v, want %v", c.at, got, c.want)
			}
		}
	})
}
