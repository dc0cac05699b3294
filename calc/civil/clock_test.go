package civil

import (
	"fmt"
	"math"
	"testing"
	"time"
	_ "time/tzdata" // Go's copy of the public zone database, for these tests only
)

// Places whose clock does something worth a look, with the instant around
// which it does. From the public zone database (IANA).
var places = []struct {
	zone string
	near time.Time
}{
	{"Europe/Berlin", utc(2026, 3, 29, 1, 0)},
	{"Europe/Berlin", utc(2026, 10, 25, 1, 0)},
	{"America/New_York", utc(2026, 3, 8, 7, 0)},
	{"America/New_York", utc(2026, 11, 1, 6, 0)},
	{"Pacific/Auckland", utc(2026, 9, 26, 14, 0)},
	{"Pacific/Auckland", utc(2026, 4, 4, 14, 0)},
	{"Australia/Lord_Howe", utc(2026, 10, 3, 15, 30)}, // half an hour
	{"Australia/Lord_Howe", utc(2026, 4, 4, 15, 0)},
	{"Antarctica/Troll", utc(2026, 3, 29, 1, 0)},    // two hours
	{"Africa/Casablanca", utc(2026, 2, 15, 2, 0)},   // back for the month of fasting
	{"America/Havana", utc(2026, 3, 8, 5, 0)},       // 0:00 to 1:00: a day without its midnight
	{"America/Santiago", utc(2026, 4, 5, 3, 0)},     // 24:00 to 23:00
	{"America/St_Johns", utc(2006, 10, 29, 2, 31)},  // 0:01 to 23:01: the date goes back
	{"Asia/Kathmandu", utc(1985, 12, 31, 18, 30)},   // +5:30 to +5:45
	{"Asia/Kathmandu", utc(2026, 6, 1, 0, 0)},       // +5:45
	{"Pacific/Apia", utc(2011, 12, 30, 10, 0)},      // no 30 December
	{"Pacific/Kwajalein", utc(1993, 8, 21, 12, 0)},  // -12 to +12
	{"Pacific/Kiritimati", utc(2026, 12, 31, 0, 0)}, // +14
	{"Etc/GMT+12", utc(2026, 12, 31, 0, 0)},         // -12
	{"UTC", utc(2026, 6, 1, 0, 0)},
}

func inZones(t *testing.T, check func(t *testing.T, loc *time.Location, near time.Time)) {
	for _, p := range places {
		t.Run(fmt.Sprint(p.zone, " ", p.near.Format(time.DateOnly)), func(t *testing.T) {
			loc, err := time.LoadLocation(p.zone)
			if err != nil {
				t.Fatal(err)
			}
			check(t, loc, p.near)
		})
	}
}

// What Offsets reads out of Go's copy of the zone database, Location makes
// into the same civil time.
func TestLocationAgainstGoZoneDatabase(t *testing.T) {
	total := 0
	inZones(t, func(t *testing.T, loc *time.Location, near time.Time) {
		from := near.Add(-15 * 24 * hour).In(loc)
		to := near.Add(15 * 24 * hour)
		first, changes := Offsets(from, to)
		total += len(changes)
		mine, err := Location(loc.String(), first, changes)
		if err != nil {
			t.Fatal(err)
		}
		for at := from; !at.After(to); at = at.Add(7 * time.Minute) {
			if got, want := at.In(mine).Format(time.RFC3339), at.Format(time.RFC3339); got != want {
				t.Fatalf("%s, want %s", got, want)
			}
		}
	})
	if total < 16 {
		t.Errorf("only %d changes were met", total)
	}
}

// Go's zone bounds stand still on the last day of a leap year to come.
func TestOffsetsPastAStandstill(t *testing.T) {
	loc, err := time.LoadLocation("Europe/Berlin")
	if err != nil {
		t.Fatal(err)
	}
	first, changes := Offsets(time.Date(2040, 12, 30, 8, 15, 30, 0, loc), time.Date(2045, 1, 20, 0, 0, 0, 0, loc))
	if first != hour || len(changes) != 8 || !changes[0].At.Equal(utc(2041, 3, 31, 1, 0)) || changes[0].Offset != 2*hour {
		t.Errorf("%v, %v", first, changes)
	}
}

// The Clock shows what package time shows, on either side of every change,
// whether the trip starts days before it or on its very day.
func TestClockAgainstPackageTime(t *testing.T) {
	inZones(t, func(t *testing.T, loc *time.Location, near time.Time) {
		for _, lead := range []time.Duration{4 * 24 * hour, 7 * hour, 20 * time.Minute, 0, -5 * hour} {
			start := near.Add(-lead).In(loc)
			span := 8 * 24 * hour
			c := NewClock(start, span)
			y, m, d := start.Date()
			date0 := time.Date(y, m, d, 0, 0, 0, 0, time.UTC)
			for after := 0.0; after <= span.Seconds(); after += 90 {
				at := start.Add(time.Duration(after) * time.Second)
				hh, mm, ss := at.Clock()
				want := float64(hh) + float64(mm)/60 + float64(ss)/3600
				if got := c.Hour(after); math.Abs(got-want) > 1e-9 || got < 0 || got >= 24 {
					t.Fatalf("%v: %.9f h, want %.9f h", at, got, want)
				}
				y, m, d := at.Date()
				if got, want := c.Day(after), int(time.Date(y, m, d, 0, 0, 0, 0, time.UTC).Sub(date0).Hours()/24); got != want {
					t.Fatalf("%v: date %d, want %d", at, got, want)
				}
			}
			_, changes := Offsets(start, start.Add(span))
			if len(changes) != len(c.Changes()) {
				t.Fatalf("%v: changes at %v, want %v", start, c.Changes(), changes)
			}
			for i, ch := range changes {
				if got := c.Changes()[i]; got != ch.At.Sub(start).Seconds() {
					t.Errorf("change at %g s, want %v", got, ch.At)
				}
			}
		}
	})
}

// Midnight is found again by walking through the days a minute at a time, with
// package time's dates: the first minute that shows the date or a later one.
func TestMidnightAgainstAWalk(t *testing.T) {
	inZones(t, func(t *testing.T, loc *time.Location, near time.Time) {
		for _, lead := range []time.Duration{3 * 24 * hour, 9 * hour, 30 * time.Minute, -6 * hour} {
			start := near.Add(-lead).In(loc).Truncate(time.Minute)
			span := 5 * 24 * hour
			c := NewClock(start, span)
			y, m, d := start.Date()
			date0 := time.Date(y, m, d, 0, 0, 0, 0, time.UTC)
			dateOf := func(after float64) int {
				y, m, d := start.Add(time.Duration(after) * time.Second).Date()
				return int(time.Date(y, m, d, 0, 0, 0, 0, time.UTC).Sub(date0).Hours() / 24)
			}
			next := dateOf((-30 * hour).Seconds()) // known there already
			for after := (-30 * hour).Seconds(); after < (span + 24*hour).Seconds(); after += 60 {
				day := dateOf(after)
				if got := c.Day(after); got != day {
					t.Fatalf("start %v, %g s after it: date %d, want %d", start, after, got, day)
				}
				for next < day {
					next++
					if at, want := c.Midnight(next), start.Add(time.Duration(after)*time.Second); !at.Equal(want) || at.Location() != loc {
						t.Fatalf("start %v: date %d begins at %v, want %v", start, next, at, want)
					}
				}
			}
		}
	})
}

// The lengths of the days of a change: 23 and 25 hours, and what a walk by
// hours shows of them.
func TestDaysOfAChangeByHand(t *testing.T) {
	for _, c := range []struct {
		name   string
		offset time.Duration
		change Change
		length time.Duration
		hours  []float64 // every hour of that day
	}{
		{"spring", hour, Change{utc(2026, 3, 29, 1, 0), 2 * hour}, 23 * hour, []float64{0, 1, 3, 4}},
		{"autumn", 2 * hour, Change{utc(2026, 10, 25, 1, 0), hour}, 25 * hour, []float64{0, 1, 2, 2, 3}},
	} {
		loc, err := Location("A", c.offset, []Change{c.change})
		if err != nil {
			t.Fatal(err)
		}
		clock := NewClock(c.change.At.Add(-30*hour).In(loc), 4*24*hour)
		day := clock.Day(30 * 3600)
		midnight := clock.Midnight(day)
		if got := clock.Midnight(day + 1).Sub(midnight); got != c.length {
			t.Errorf("%s: the day has %v, want %v", c.name, got, c.length)
		}
		after := midnight.Sub(clock.Midnight(0)).Seconds() - 3600*clock.hour
		for i, want := range c.hours {
			if got := clock.Hour(after + float64(i)*3600); got != want {
				t.Errorf("%s: hour %d of the day shows %g, want %g", c.name, i, got, want)
			}
		}
	}
}

// Hours are under 24, a hair before midnight too, where the next number is 24.
func TestHourAHairBeforeMidnight(t *testing.T) {
	c := NewClock(utc(2026, 3, 29, 0, 0), 24*hour)
	for _, after := range []float64{-1e-13, -1e-9, -1, 86400 - 1e-11, 86400} {
		if h := c.Hour(after); !(h >= 0 && h < 24) {
			t.Errorf("%g s: %g h", after, h)
		}
	}
}

// A change at the very end of a trip is one of it: what a clock switches there
// has to know. One at its very start is not.
func TestChangesAtTheEndsOfATrip(t *testing.T) {
	at := utc(2026, 3, 29, 1, 0)
	loc, err := Location("A", hour, []Change{{at, 2 * hour}})
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		start time.Time
		span  time.Duration
		want  int
	}{
		{at.Add(-6 * hour), 6 * hour, 1},
		{at.Add(-6 * hour), 6*hour - time.Second, 0},
		{at, 6 * hour, 0},
		{at.Add(-time.Second), 6 * hour, 1},
	} {
		clock := NewClock(c.start.In(loc), c.span)
		if got := len(clock.Changes()); got != c.want {
			t.Errorf("%v from %v: %d changes, want %d", c.span, c.start, got, c.want)
		}
		if got := clock.Hour(c.span.Seconds() + 1); c.start.Equal(at) && math.Abs(got-9) > 1e-3 { // 3 o'clock, and 6 hours
			t.Errorf("6 hours after the change %g h, want 9 h", got)
		}
	}
}

func TestClockAllocatesNothing(t *testing.T) {
	loc, err := Location("A", hour, []Change{{utc(2026, 3, 29, 1, 0), 2 * hour}})
	if err != nil {
		t.Fatal(err)
	}
	c := NewClock(utc(2026, 3, 28, 12, 0).In(loc), 7*24*hour)
	sum := 0.0
	if n := testing.AllocsPerRun(100, func() {
		for s := 0.0; s < 7*86400; s += 300 {
			sum += c.Hour(s) + float64(c.Day(s))
		}
	}); n != 0 {
		t.Errorf("%g allocations", n)
	}
}

func BenchmarkClockHour(b *testing.B) {
	b.ReportAllocs()
	loc, err := Location("A", hour, []Change{{utc(2026, 3, 29, 1, 0), 2 * hour}})
	if err != nil {
		b.Fatal(err)
	}
	c := NewClock(utc(2026, 3, 28, 12, 0).In(loc), 7*24*hour)
	sum, after := 0.0, 0.0
	for b.Loop() {
		sum += c.Hour(after)
		if after += 150; after > 7*86400 {
			after = 0
		}
	}
}
