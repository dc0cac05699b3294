package weather_test

import (
	"errors"
	"math"
	"slices"
	"testing"
	"time"

	"duskline/calc/civil"
	"duskline/calc/qty"
	"duskline/calc/sun"
	"duskline/calc/weather"
)

// numbered is a year whose wind tells which row it is: its number over 300, in
// hundredths of m/s.
func numbered(t testing.TB, standard time.Duration, leap bool) *weather.Year {
	t.Helper()
	meridian := math.Remainder(15*standard.Hours(), 360) // of the zone, so that the light is in its day
	s := weather.Sample{Place: sun.Place{Latitude: 10, Longitude: qty.Degree(meridian)}, Standard: standard, Leap: leap}
	s.Row = func(row int, f []string) []string {
		f[6], f[21] = itoa2(row/300), itoa2(row%300)
		return f
	}
	return read(t, synthetic(t, s))
}

// itoa2 writes hundredths.
func itoa2(n int) string {
	return string([]byte{byte('0' + n/100), '.', byte('0' + n/10%10), byte('0' + n%10)})
}

// rowsOf reads the rows back.
func rowsOf(c weather.Cut) []int {
	rows := make([]int, len(c.Wind))
	for i := range rows {
		rows[i] = int(c.Air[i]*100+0.5)*300 + int(c.Wind[i]*100+0.5)
	}
	return rows
}

// yearRow is a row by the calendar of package time.
func yearRow(t time.Time, leapFile bool) int {
	day := t.YearDay() - 1
	leapYear := time.Date(t.Year(), 12, 31, 0, 0, 0, 0, time.UTC).YearDay() == 366
	if leapYear && !leapFile && day >= 59 {
		day--
	}
	if !leapYear && leapFile && day >= 59 {
		day++
	}
	return day*24 + t.Hour()
}

// Every hour of a cut, against the calendar: over New Year, over 29 February in
// and out of leap years, from every quarter of an hour, in zones from -12 to 14.
func TestCutTakesTheHoursOfTheCalendar(t *testing.T) {
	for _, leap := range []bool{false, true} {
		for _, standard := range []time.Duration{-12 * time.Hour, -210 * time.Minute, 0, 345 * time.Minute, 14 * time.Hour} {
			y := numbered(t, standard, leap)
			zone := time.FixedZone("", int(standard.Seconds()))
			for _, from := range []time.Time{
				time.Date(2027, 12, 30, 0, 0, 0, 0, time.UTC),
				time.Date(2027, 2, 27, 22, 15, 0, 0, time.UTC),
				time.Date(2028, 2, 27, 22, 45, 0, 0, time.UTC),
				time.Date(2028, 6, 1, 5, 59, 59, 999, time.UTC),
				time.Date(1950, 1, 1, 0, 0, 0, 0, time.UTC),
			} {
				const hours = 100
				c, err := y.Cut(from, hours)
				if err != nil {
					t.Fatal(err)
				}
				local := c.Start.In(zone)
				if c.Start.After(from) || from.Sub(c.Start) >= time.Hour || local.Minute() != 0 || local.Second() != 0 || local.Nanosecond() != 0 {
					t.Errorf("cut for %v begins at %v", from, local)
				}
				if end := c.Start.Add(time.Duration(len(c.GHI)) * time.Hour); end.Before(from.Add(hours*time.Hour)) || len(c.GHI) > hours+1 {
					t.Errorf("%d hours from %v for %d from %v", len(c.GHI), c.Start, hours, from)
				}
				borrowed := 0
				want := make([]int, len(c.GHI))
				for i := range want {
					at := local.Add(time.Duration(i) * time.Hour)
					want[i] = yearRow(at, leap)
					if at.Month() == 2 && at.Day() == 29 && !leap {
						borrowed++
					}
				}
				if have := rowsOf(c); !slices.Equal(have, want) || len(c.DHI) != len(want) {
					t.Errorf("leap %v, zone %v, from %v:\n%v\nwant\n%v", leap, standard, from, have, want)
				}
				if c.Leap != borrowed {
					t.Errorf("%d hours of 29 February borrowed, want %d", c.Leap, borrowed)
				}
			}
		}
	}
}

// A file knows no summer time: across both changes the cut runs on hour by
// hour, and noon by the sun stays the file's noon.
func TestCutAcrossClockChanges(t *testing.T) {
	y := numbered(t, time.Hour, false)
	zone, err := civil.Location("Europe/Inventia", time.Hour, []civil.Change{
		{At: time.Date(2027, 3, 28, 1, 0, 0, 0, time.UTC), Offset: 2 * time.Hour},
		{At: time.Date(2027, 10, 31, 1, 0, 0, 0, time.UTC), Offset: time.Hour},
	})
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		from  time.Time
		first int
	}{
		{time.Date(2027, 3, 27, 12, 0, 0, 0, zone), yearRow(time.Date(2027, 3, 27, 12, 0, 0, 0, time.UTC), false)},
		{time.Date(2027, 10, 30, 12, 0, 0, 0, zone), yearRow(time.Date(2027, 10, 30, 11, 0, 0, 0, time.UTC), false)},
	} {
		cut, err := y.Cut(c.from, 48)
		if err != nil {
			t.Fatal(err)
		}
		rows := rowsOf(cut)
		if len(rows) != 48 || !cut.Start.Equal(c.from) {
			t.Errorf("%d hours from %v", len(rows), cut.Start)
		}
		for i, r := range rows {
			if r != c.first+i {
				t.Fatalf("hour %d from %v is row %d, want %d", i, c.from, r, c.first+i)
			}
		}
	}
}

func TestCutRefuses(t *testing.T) {
	y := read(t, synthetic(t, high))
	for _, hours := range []int{0, -1, 8785, 1 << 40} {
		var r *qty.RangeError
		if _, err := y.Cut(time.Date(2027, 1, 1, 0, 0, 0, 0, time.UTC), hours); !errors.As(err, &r) || r.What != "hours" {
			t.Errorf("%d hours: %v", hours, err)
		}
	}
	// missing light: each hour of the trip is told, with the file's line; one
	// outside the trip does not matter
	s := high
	for _, row := range []int{noon(10), noon(10) + 1, noon(20)} {
		s = set(set(s, row, 14, "9999"), row, 16, "9999")
	}
	y = read(t, synthetic(t, s))
	if y.Missing.Light != 3 {
		t.Errorf("counted %+v", y.Missing)
	}
	zone := time.FixedZone("", int(s.Standard.Seconds()))
	_, err := y.Cut(time.Date(2027, 1, 11, 0, 0, 0, 0, zone), 24)
	var errs weather.Errors
	if !errors.As(err, &errs) || len(errs) != 2 || errs[0].Line != 9+noon(10) || errs[1].Line != 10+noon(10) || errs[0].Column != 14 || errs[0].Kind != weather.NoLight {
		t.Errorf("%v", err)
	}
	if _, err := y.Cut(time.Date(2027, 1, 12, 0, 0, 0, 0, zone), 9*24); err != nil {
		t.Error(err)
	}
}
