package weather_test

import (
	"errors"
	"strconv"
	"strings"
	"testing"
	"time"

	"duskline/calc/sun"
	"duskline/calc/weather"
)

// high is an invented camp, east of Greenwich, whose zone has three quarters
// of an hour.
var high = weather.Sample{
	Name:     "Hightarn",
	Place:    sun.Place{Latitude: 27.5, Longitude: 86.25, Altitude: 1400},
	Standard: 5*time.Hour + 45*time.Minute,
	Index:    func(day int) float64 { return []float64{1, 0.8, 0.4, 0.6}[day%4] },
}

func synthetic(t testing.TB, s weather.Sample) []byte {
	t.Helper()
	data, err := weather.Synthetic(s)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

func read(t testing.TB, data []byte) *weather.Year {
	t.Helper()
	y, err := weather.Read(data)
	if err != nil {
		t.Fatal(err)
	}
	return y
}

// faults reads a file that should have some.
func faults(t testing.TB, data []byte) weather.Errors {
	t.Helper()
	y, err := weather.Read(data)
	var errs weather.Errors
	if !errors.As(err, &errs) || y != nil || len(errs) == 0 {
		t.Fatalf("read as %v with %v", y, err)
	}
	var first *weather.Error
	if !errors.As(err, &first) || first != errs[0] {
		t.Errorf("errors.As finds %v first, want %v", first, errs[0])
	}
	return errs
}

// set changes single fields of a sample by row and column, column from 1.
func set(s weather.Sample, row, column int, value string) weather.Sample {
	before := s.Row
	s.Row = func(r int, f []string) []string {
		if before != nil {
			f = before(r, f)
		}
		if r == row && len(f) >= column {
			f[column-1] = value
		}
		return f
	}
	return s
}

// noon is the row of a sample's day that ends at 13:00.
func noon(day int) int { return day*24 + 12 }

// column sums a column of a file by an independent way: strings.Split.
func column(t testing.TB, data []byte, column int) (sum float64) {
	t.Helper()
	lines := strings.Split(strings.TrimSpace(strings.ReplaceAll(string(data), "\r", "")), "\n")
	for _, l := range lines[8:] {
		x, err := strconv.ParseFloat(strings.Split(l, ",")[column-1], 64)
		if err != nil {
			t.Fatal(err)
		}
		sum += x
	}
	return sum
}

func sum(v []float64) (s float64) {
	for _, x := range v {
		s += x
	}
	return s
}

func atof(t testing.TB, s string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return x
}
