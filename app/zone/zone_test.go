package zone

import (
	"errors"
	"fmt"
	"slices"
	"testing"
	"time"

	"duskline/calc/civil"
)

func ExampleLookup() {
	from := time.Date(2026, 10, 20, 0, 0, 0, 0, time.UTC)
	first, changes, err := Lookup("Europe/Berlin", from, from.AddDate(0, 0, 10))
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(first)
	for _, c := range changes {
		fmt.Println(c.At.UTC().Format(time.RFC3339), c.Offset)
	}
	// Output:
	// 2h0m0s
	// 2026-10-25T01:00:00Z 1h0m0s
}

// The same table runs natively, and in Chromium by web/e2e.
//
// Figures: IANA time zone database, from the rules and zone lines of its
// files, turned into UTC by hand.
func TestLookupAgainstTheIANADatabase(t *testing.T) {
	type change struct {
		at    string
		ahead float64 // h
	}
	for _, c := range []struct {
		name, why string
		from, to  string
		first     float64 // h
		changes   []change
	}{
		{"Europe/Berlin", "both changes of a year", "2026-01-01", "2027-01-01", 1,
			[]change{{"2026-03-29T01:00:00Z", 2}, {"2026-10-25T01:00:00Z", 1}}},
		{"America/New_York", "west of Greenwich", "2026-01-01", "2027-01-01", -5,
			[]change{{"2026-03-08T07:00:00Z", -4}, {"2026-11-01T06:00:00Z", -5}}},
		{"Australia/Sydney", "southern summer", "2026-01-01", "2027-01-01", 11,
			[]change{{"2026-04-04T16:00:00Z", 10}, {"2026-10-03T16:00:00Z", 11}}},
		{"Australia/Lord_Howe", "by half an hour", "2026-01-01", "2027-01-01", 11,
			[]change{{"2026-04-04T15:00:00Z", 10.5}, {"2026-10-03T15:30:00Z", 11}}},
		{"Antarctica/Troll", "by two hours", "2026-03-01", "2026-11-01", 0,
			[]change{{"2026-03-29T01:00:00Z", 2}, {"2026-10-25T01:00:00Z", 0}}},
		{"Asia/Kathmandu", "quarters of an hour", "2026-01-01", "2027-01-01", 5.75, nil},
		{"Asia/Kathmandu", "historic", "1985-12-01", "1986-02-01", 5.5, []change{{"1985-12-31T18:30:00Z", 5.75}}},
		{"Pacific/Kiritimati", "most ahead", "2026-01-01", "2027-01-01", 14, nil},
		{"Etc/GMT+12", "most behind", "2026-01-01", "2027-01-01", -12, nil},
		{"Asia/Kolkata", "never changes", "1990-01-01", "2000-01-01", 5.5, nil},
		{"UTC", "none", "1950-01-01", "1951-01-01", 0, nil},
		{"Pacific/Apia", "over the date line", "2011-12-20", "2012-01-10", -10, []change{{"2011-12-30T10:00:00Z", 14}}},
		{"Africa/Casablanca", "back for a month of fasting", "2026-01-01", "2026-06-01", 1,
			[]change{{"2026-02-15T02:00:00Z", 0}, {"2026-03-22T02:00:00Z", 1}}},
		{"Europe/London", "historic; the turn of 1968-10-27 moves no clock", "1968-01-01", "1972-01-01", 0,
			[]change{{"1968-02-18T02:00:00Z", 1}, {"1971-10-31T02:00:00Z", 0}}},
		{"America/Caracas", "historic, by half an hour, for good", "2007-01-01", "2017-01-01", -4,
			[]change{{"2007-12-09T07:00:00Z", -4.5}, {"2016-05-01T07:00:00Z", -4}}},
		{"Europe/Berlin", "where Go's own list stands still", "2040-12-30", "2041-04-30", 1,
			[]change{{"2041-03-31T01:00:00Z", 2}}},
		{"Europe/Lisbon", "far ahead", "2099-01-01", "2100-01-01", 0,
			[]change{{"2099-03-29T01:00:00Z", 1}, {"2099-10-25T01:00:00Z", 0}}},
		{"Asia/Calcutta", "an older name", "2026-01-01", "2027-01-01", 5.5, nil},
	} {
		from, to := date(t, c.from), date(t, c.to)
		first, changes, err := Lookup(c.name, from, to)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		var got []change
		for _, ch := range changes {
			got = append(got, change{ch.At.UTC().Format(time.RFC3339), ch.Offset.Hours()})
		}
		if first.Hours() != c.first || !slices.Equal(got, c.changes) {
			t.Errorf("%s, %s: from %v %v, want from %v %v", c.name, c.why, first.Hours(), got, c.first, c.changes)
		}
	}
}

func date(t *testing.T, s string) time.Time {
	t.Helper()
	d, err := time.Parse(time.DateOnly, s)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// A change counts if it comes after from and at the latest at to.
func TestLookupAtItsEdges(t *testing.T) {
	at := time.Date(2026, 10, 25, 1, 0, 0, 0, time.UTC)
	for _, c := range []struct {
		from, to time.Duration
		first    time.Duration
		n        int
	}{
		{-time.Hour, -time.Second, 2 * time.Hour, 0},
		{-time.Hour, 0, 2 * time.Hour, 1},
		{-time.Second, time.Second, 2 * time.Hour, 1},
		{0, time.Hour, time.Hour, 0},
		{0, 0, time.Hour, 0},
	} {
		first, changes, err := Lookup("Europe/Berlin", at.Add(c.from), at.Add(c.to))
		if err != nil || first != c.first || len(changes) != c.n {
			t.Errorf("from %v to %v about the change: first %v, %v, %v", c.from, c.to, first, changes, err)
		}
		if len(changes) == 1 && !changes[0].At.Equal(at) {
			t.Errorf("changed at %v, want %v", changes[0].At, at)
		}
	}
}

func TestUnknownNamesAreRefused(t *testing.T) {
	now := time.Date(2026, 1, 1, 0, 0, 0, 0, time.UTC)
	for _, name := range []string{
		"", "Local", "Europe/Nowhere", "../UTC", "/etc/localtime", "Europe/", "+05:30", "europe/paris",
		"Europe/Berlin ", "Zürich", string(make([]byte, 200)),
	} {
		if _, _, err := Lookup(name, now, now.AddDate(1, 0, 0)); !errors.Is(err, ErrUnknown) {
			t.Errorf("%q: %v", name, err)
		}
	}
}

// What is listed can be looked up, and what the device lives in is known.
func TestEveryNameCanBeLookedUp(t *testing.T) {
	names := Names()
	if names == nil {
		t.Skip("this machine lists no zones")
	}
	if len(names) < 300 || !slices.Contains(names, "Europe/Berlin") || !slices.IsSorted(names) {
		t.Errorf("%d names", len(names))
	}
	from := time.Date(2026, 1, 1, 0, 0, 0, 0, time.UTC)
	for _, name := range names {
		if _, changes, err := Lookup(name, from, from.AddDate(0, 0, 40)); err != nil || len(changes) > 2 {
			t.Errorf("%s: %v %v", name, changes, err)
		}
	}
	if here := Here(); here != "" {
		if _, _, err := Lookup(here, from, from.AddDate(1, 0, 0)); err != nil {
			t.Errorf("here, %s: %v", here, err)
		}
	}
}

// What is found makes a Location, which the plan needs.
func TestLookupMakesALocation(t *testing.T) {
	from := time.Date(2026, 3, 20, 0, 0, 0, 0, time.UTC)
	first, changes, err := Lookup("Europe/Berlin", from, from.AddDate(0, 1, 0))
	if err != nil {
		t.Fatal(err)
	}
	place, err := civil.Location("Europe/Berlin", first, changes)
	if err != nil {
		t.Fatal(err)
	}
	if got := time.Date(2026, 3, 29, 3, 0, 0, 0, place).UTC().Format(time.TimeOnly); got != "01:00:00" {
		t.Errorf("03:00 is %s UTC", got)
	}
}
