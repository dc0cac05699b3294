package weather_test

import (
	"bytes"
	"errors"
	"math"
	"strings"
	"testing"
	"time"

	"duskline/calc/weather"
)

// check holds a year to what is promised of one, whatever it was read from.
func check(t *testing.T, y *weather.Year) {
	t.Helper()
	if y.Rows != 8760 && y.Rows != 8784 || y.Place.Check() != nil || len([]rune(y.Name)) > 80 || strings.ToValidUTF8(y.Name, "") != y.Name {
		t.Errorf("%d rows of %q at %+v", y.Rows, y.Name, y.Place)
	}
	back, err := weather.Unpack(y.Pack())
	if err != nil || !bytes.Equal(back.Pack(), y.Pack()) {
		t.Fatalf("does not come back: %v", err)
	}
	c, err := y.Cut(time.Date(2028, 2, 27, 3, 20, 0, 0, time.UTC), 80)
	if err != nil {
		if y.Missing.Light == 0 {
			t.Errorf("no cut: %v", err)
		}
		return
	}
	for i := range c.GHI {
		if !(c.GHI[i] >= 0 && c.GHI[i] < 2000 && c.DHI[i] >= 0 && c.DHI[i] <= c.GHI[i]) {
			t.Errorf("hour %d: GHI %v, DHI %v", i, c.GHI[i], c.DHI[i])
		}
		if c.Air != nil && !(math.Abs(c.Air[i]) <= 70) || c.Wind != nil && !(c.Wind[i] >= 0 && c.Wind[i] <= 40) {
			t.Errorf("hour %d: %v °C, %v m/s", i, c.Air, c.Wind)
		}
	}
}

// The fuzzer works on a header and a few lines, which the rows of a whole year
// follow, so that a file can still be whole.
func FuzzRead(f *testing.F) {
	data := synthetic(f, high)
	lines := bytes.SplitAfter(data, []byte("\n"))
	const head = 8 + 24
	rest := bytes.Join(lines[head:], nil)
	f.Add(bytes.Join(lines[:head], nil), true)
	f.Add(bytes.ReplaceAll(bytes.Join(lines[:head], nil), []byte("\n"), []byte("\r\n")), true)
	f.Add(bytes.ReplaceAll(bytes.Join(lines[:head], nil), []byte(",9999,"), []byte(",,")), true)
	f.Add(bytes.ReplaceAll(bytes.Join(lines[:head], nil), []byte("Hightarn"), []byte("H\xf6h")), true)
	f.Add([]byte("LOCATION,a,,,,,1,2,3,4\n\n\n\n\n\n\nDATA PERIODS,1,1\n"), false)
	f.Add([]byte("\xef\xbb\xbfLOCATION,a,,,,,1e1,-2.,+3,.4\r\n\r\n"), false)
	f.Add([]byte("\xbb\xbfLOCATION,a,,,,,1e1,-2\xff\xfb\v\xc6\xeah.,+3,.4"), false) // 40 bytes, more in UTF-8
	f.Add([]byte(""), false)
	f.Fuzz(func(t *testing.T, start []byte, whole bool) {
		if whole {
			start = append(bytes.Clone(start), rest...)
		}
		y, err := weather.Read(start)
		if err == nil {
			check(t, y)
			return
		}
		var errs weather.Errors
		if !errors.As(err, &errs) || len(errs) == 0 || len(errs) > 20 || y != nil {
			t.Fatalf("%v, %v", y, err)
		}
		last := 0
		for _, e := range errs {
			if e.Kind == 0 || e.Error() == "" || len([]rune(e.Found)) > 40 || strings.ToValidUTF8(e.Found, "") != e.Found {
				t.Errorf("%+v", *e)
			}
			if e.Line != 0 && e.Line < last || e.Column > 36 || e.At < 0 || (e.Column > 0) != (e.At > 0) {
				t.Errorf("after line %d: %+v", last, *e)
			}
			last = max(last, e.Line)
		}
	})
}

func FuzzUnpack(f *testing.F) {
	p := read(f, synthetic(f, high)).Pack()
	f.Add(p)
	f.Add(p[:100])
	f.Add([]byte("DusW\x01"))
	f.Fuzz(func(t *testing.T, data []byte) {
		y, err := weather.Unpack(data)
		if err == nil {
			check(t, y)
			if !bytes.Equal(y.Pack(), data) {
				t.Error("packs to other bytes")
			}
		}
		// with the checksum put right, so that the fuzzer gets behind it
		if len(data) > 4 {
			h := uint32(2166136261)
			for _, c := range data[:len(data)-4] {
				h = (h ^ uint32(c)) * 16777619
			}
			data = append(bytes.Clone(data[:len(data)-4]), byte(h), byte(h>>8), byte(h>>16), byte(h>>24))
			if y, err := weather.Unpack(data); err == nil {
				check(t, y)
			}
		}
	})
}
