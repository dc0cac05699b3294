package work

import (
	"bytes"
	"errors"
	"testing"
	"time"

	"duskline/calc/sun"
	"duskline/calc/weather"
)

func file(t testing.TB, edit func(row int, fields []string) []string) []byte {
	t.Helper()
	text, err := weather.Synthetic(weather.Sample{
		Name: "Invented", Place: sun.Place{Latitude: 47.5, Longitude: 12.25, Altitude: 620}, Standard: time.Hour, Row: edit,
	})
	if err != nil {
		t.Fatal(err)
	}
	return text
}

// read does the job as a page would.
func read(t *testing.T, in []byte) (*weather.Year, []byte, error) {
	t.Helper()
	over := make(chan []byte)
	NewCrew(Jobs).Start(ReadWeather, in, Hear{Done: func(out []byte, err error) {
		if err != nil {
			t.Error(err)
		}
		over <- out
	}})
	return WeatherYear(<-over)
}

func TestWeatherFileComesBackAsItsYear(t *testing.T) {
	in := file(t, nil)
	want, err := weather.Read(in)
	if err != nil {
		t.Fatal(err)
	}
	got, kept, err := read(t, in)
	if err != nil {
		t.Fatal(err)
	}
	if got.Name != want.Name || got.Place != want.Place || got.Rows != want.Rows || got.Missing != want.Missing || got.Standard != want.Standard {
		t.Errorf("got %+v", got)
	}
	if !bytes.Equal(kept, want.Pack()) {
		t.Error("what is to be kept differs from what was read")
	}
}

// Every fault comes over with its line and column.
func TestFaultsOfAWeatherFileComeOver(t *testing.T) {
	in := file(t, func(row int, fields []string) []string {
		if row == 100 || row == 4000 {
			fields[13] = "bright"
		}
		return fields
	})
	_, want := weather.Read(in)
	_, _, got := read(t, in)
	var a, b weather.Errors
	if !errors.As(got, &a) || !errors.As(want, &b) || len(a) != len(b) || len(a) < 2 {
		t.Fatalf("got %v, want %v", got, want)
	}
	for i := range a {
		if *a[i] != *b[i] {
			t.Errorf("fault %d came over as %+v, was %+v", i, *a[i], *b[i])
		}
	}
	if _, _, err := WeatherYear(nil); err == nil {
		t.Error("nothing is a year")
	}
	if _, _, err := WeatherYear([]byte{aFaults, '{'}); err == nil {
		t.Error("half a list of faults is a year")
	}
}
