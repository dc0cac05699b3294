package words

import (
	"errors"
	"strings"
	"testing"
	"time"

	"duskline/calc/sun"
	"duskline/calc/weather"
)

// Every kind of fault has its words and leaves no number out.
func TestEveryFaultOfAWeatherFileHasWords(t *testing.T) {
	for k := weather.Empty; k <= weather.Damaged; k++ {
		e := &weather.Error{Kind: k, Line: 12, Column: 14, Field: "ghi", Found: "1400", Want: "2-28 24", Min: 3, Max: 987, Unit: "W/m²"}
		got := WeatherFault(e)
		if !strings.HasPrefix(got, "Line 12, column 14 (light on level ground): ") || strings.Contains(got, "[") || strings.Contains(got, "%!") {
			t.Errorf("%v: %q", k, got)
		}
		if strings.Contains(english["epw."+epwKinds[k]]+englishFile["epw."+epwKinds[k]], "%[3]s") && !strings.Contains(got, "987") {
			t.Errorf("%v: the most is left out: %q", k, got)
		}
	}
	for _, field := range []string{"latitude", "longitude", "time_zone", "altitude", "periods", "per_hour", "month", "day", "hour", "air", "ghi", "dni", "dhi", "wind"} {
		if !Has("epw_field." + field) {
			t.Errorf("no words for the field %s", field)
		}
	}
}

func TestFaultsOfAWeatherFileAsTheyAreRead(t *testing.T) {
	good, err := weather.Synthetic(weather.Sample{Place: sun.Place{Latitude: 47.5, Longitude: 12.25}, Standard: time.Hour})
	if err != nil {
		t.Fatal(err)
	}
	lines := strings.SplitAfter(string(good), "\n")
	swap := func(line, column int, text string) []byte {
		fields := strings.Split(lines[line-1], ",")
		fields[column-1] = text
		all := append([]string{}, lines...)
		all[line-1] = strings.Join(fields, ",")
		return []byte(strings.Join(all, ""))
	}
	for _, c := range []struct {
		file []byte
		want string
	}{
		{nil, "The file is empty."},
		{make([]byte, weather.MaxBytes+1), "The file has 8.0\u00a0MiB. One of a year has about 2\u00a0MiB; at most 8\u00a0MiB are read."},
		{[]byte("PK\x03\x04 archive"), "Line 1: This is a ZIP archive. Unpack it first: the file that is wanted ends in .epw."},
		{[]byte("time;ghi\n"), "Line 1: This is no EPW weather file: it begins with “time;ghi” and not with LOCATION."},
		{swap(1, 7, "91"), "Line 1, column 7 (latitude): “91” is outside -90° to 90°."},
		{swap(20, 14, "bright"), "Line 20, column 14 (light on level ground): “bright” is no number."},
		{swap(20, 7, "88"), "Line 20, column 7 (air temperature): “88” is outside -70 °C to 70 °C."},
		{[]byte(strings.Join(lines[:len(lines)-20], "")), "lines of data. A year of hours has 8760 or 8784."},
	} {
		_, err := weather.Read(c.file)
		var faults weather.Errors
		if !errors.As(err, &faults) {
			t.Fatalf("%q: %v", c.want, err)
		}
		got := strings.NewReplacer("−", "-", "\u00a0", " ").Replace(WeatherFault(faults[0]))
		if want := strings.ReplaceAll(c.want, "\u00a0", " "); !strings.Contains(got, want) {
			t.Errorf("got  %q\nwant %q", got, want)
		}
	}
}
