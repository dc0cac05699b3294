package weather_test

import (
	"math"
	"strings"
	"testing"
	"time"

	"duskline/calc/golden"
	"duskline/calc/sun"
	"duskline/calc/weather"
)

// A file of invented weather, read and cut for a whole year from its first
// hour, has the sums that its text has.
func TestYearKeepsTheSumsOfTheFile(t *testing.T) {
	for _, leap := range []bool{false, true} {
		s := high
		s.Leap, s.CRLF, s.BOM = leap, leap, leap
		data := synthetic(t, s)
		y := read(t, data)
		rows, year := 8760, 2027
		if leap {
			rows, year = 8784, 2028
		}
		if y.Rows != rows || y.Name != "Hightarn" || y.Country != "---" || y.Standard != s.Standard || y.Place != s.Place || y.Missing != (weather.Missing{}) {
			t.Errorf("read as %+v", *y)
		}
		zone := time.FixedZone("", int(s.Standard.Seconds()))
		c, err := y.Cut(time.Date(year, 1, 1, 0, 0, 0, 0, zone), rows)
		if err != nil {
			t.Fatal(err)
		}
		if len(c.GHI) != rows || c.Leap != 0 {
			t.Errorf("%d hours, %d of 29 February", len(c.GHI), c.Leap)
		}
		for _, v := range []struct {
			what   string
			column int
			have   []float64
		}{{"GHI", 14, c.GHI}, {"DHI", 16, c.DHI}, {"air", 7, c.Air}, {"wind", 22, c.Wind}} {
			golden.Near(t, v.what, sum(v.have), column(t, data, v.column), 9)
		}
	}
}

// The sun of an hour is the sun before its end. On the equator at the zone's
// own meridian in mid-April the sun culminates at 12:00: the hours before and
// after noon are rows 12 and 13, and have the same light.
func TestHourIsTheOneBeforeItsEnd(t *testing.T) {
	data := synthetic(t, weather.Sample{})
	y := read(t, data)
	c, err := y.Cut(time.Date(2027, 4, 15, 11, 0, 0, 0, time.UTC), 2)
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(c.GHI[0]-c.GHI[1]) > 2 {
		t.Errorf("11 to 12 o'clock %v W/m², 12 to 13 o'clock %v", c.GHI[0], c.GHI[1])
	}
	// the same, by the text: the row of 15 April with hour 13 is what Cut has at 12:00
	line := strings.Split(string(data), "\n")[8+(31+28+31+14)*24+12]
	f := strings.Split(line, ",")
	if f[1] != "4" || f[2] != "15" || f[3] != "13" || atof(t, f[13]) < 900 {
		t.Errorf("row is %q", line)
	}
	golden.Near(t, "GHI from 12:00", c.GHI[1], atof(t, f[13]), 6)
	// a reader that took rows for the hour after their time would put light into
	// the night: at 18:30 the sun is down there
	d, err := sun.DayAt(time.Date(2027, 4, 15, 0, 0, 0, 0, time.UTC), sun.Place{})
	if err != nil {
		t.Fatal(err)
	}
	after := d.Set.Truncate(time.Hour).Add(time.Hour)
	c, err = y.Cut(after, 1)
	if err != nil {
		t.Fatal(err)
	}
	if c.GHI[0] != 0 {
		t.Errorf("%v W/m² in the hour from %v, sunset %v", c.GHI[0], after, d.Set)
	}
}

// A header as such files have it, with all that we do not read in it. The
// place is invented.
func TestHeaderOfAHandWrittenFile(t *testing.T) {
	head := []string{
		"LOCATION,Ködringen \xfcb. Sand,NX,XYZ,invented-9,999123,-33.75,-70.50,-4.5,-12.3",
		"DESIGN CONDITIONS,1,invented,,Heating,1,-3.9,-2.5,Cooling,1,9.9,Extremes,8.1",
		"TYPICAL/EXTREME PERIODS,2,Summer - Week Nearest Max,Extreme,1/ 6,1/12,Winter,Typical,7/ 6,7/12",
		"GROUND TEMPERATURES,1,.5,,,,1,2,3,4,5,6,7,8,9,10,11,12",
		"HOLIDAYS/DAYLIGHT SAVINGS,No,0,0,0",
		"COMMENTS 1,\"invented, with a comma\"",
		"COMMENTS 2,,,,",
		"DATA PERIODS,1,1,Data,Sunday, 1/ 1,12/31",
	}
	s := weather.Sample{
		Place: sun.Place{Latitude: -33.75, Longitude: -70.5}, Standard: -4*time.Hour - 30*time.Minute,
		Head: func([]string) []string { return head },
	}
	y := read(t, synthetic(t, s))
	if y.Name != "KÃ¶dringen üb. Sand" { // one byte that is not UTF-8: the line is Latin-1
		t.Errorf("name %q", y.Name)
	}
	if y.Country != "XYZ" || y.Place != (sun.Place{Latitude: -33.75, Longitude: -70.5, Altitude: -12.3}) || y.Standard != s.Standard {
		t.Errorf("read as %+v", *y)
	}
	for _, c := range []struct{ name, want string }{
		{"São Inventado", "São Inventado"},                  // UTF-8
		{"S\xe3o Inventado", "São Inventado"},               // Latin-1
		{" tab\there\x00 ", "tab here"},                     // control characters
		{"町", "町"},                                          // any script
		{strings.Repeat("å", 100), strings.Repeat("å", 80)}, // cut by characters
		{"", ""},
	} {
		head[0] = "LOCATION," + c.name + ",NX,XYZ,invented-9,999123,-33.75,-70.50,-4.5,-12.3"
		if got := read(t, synthetic(t, s)).Name; got != c.want {
			t.Errorf("%q is read as %q", c.name, got)
		}
	}
}

// All ways to end a file and its lines.
func TestLineEnds(t *testing.T) {
	data := string(synthetic(t, high))
	for name, d := range map[string]string{
		"LF":            data,
		"CR LF":         strings.ReplaceAll(data, "\n", "\r\n"),
		"no end":        strings.TrimSuffix(data, "\n"),
		"empty lines":   data + "\n\r\n  \n",
		"comma":         strings.ReplaceAll(data, ",99\n", ",99,\n"),
		"spaces":        strings.ReplaceAll(data, ",60,", ", 60 ,"),
		"fewer columns": strings.ReplaceAll(data, ",99,99,9999,99999,9,999999999,999,0.999,999,99,999,999,99\n", "\n"),
		"lower case":    strings.Replace(data, "LOCATION", "Location", 1),
	} {
		if y, err := weather.Read([]byte(d)); err != nil || y.Rows != 8760 {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func TestMissingValues(t *testing.T) {
	row := noon(101) // under cloud, as the split for missing sky light is one for cloud
	at := time.Date(2027, 4, 12, 12, 0, 0, 0, time.FixedZone("", int(high.Standard.Seconds())))
	whole, err := read(t, synthetic(t, high)).Cut(at, 1)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		name  string
		set   map[int]string // column: value
		want  weather.Missing
		light float64 // how far GHI may be off, W/m²; -1: none
		sky   float64 // how far DHI
	}{
		{"air 99.9", map[int]string{7: "99.9"}, weather.Missing{Air: 1}, 0, 0},
		{"air 999", map[int]string{7: "999"}, weather.Missing{Air: 1}, 0, 0},
		{"air empty", map[int]string{7: ""}, weather.Missing{Air: 1}, 0, 0},
		{"wind 999", map[int]string{22: "999."}, weather.Missing{Wind: 1}, 0, 0},
		{"wind empty", map[int]string{22: " "}, weather.Missing{Wind: 1}, 0, 0},
		{"GHI 9999", map[int]string{14: "9999"}, weather.Missing{Global: 1}, 3, 0},
		{"GHI 99999", map[int]string{14: "99999"}, weather.Missing{Global: 1}, 3, 0},
		{"GHI empty", map[int]string{14: ""}, weather.Missing{Global: 1}, 3, 0},
		{"DHI, with beam", map[int]string{16: "9999"}, weather.Missing{Diffuse: 1}, 0, 3},
		{"DNI", map[int]string{15: "9999"}, weather.Missing{}, 0, 0},
		{"DNI and DHI", map[int]string{15: "9999.", 16: "9999"}, weather.Missing{Diffuse: 1}, 0, 3},
		{"GHI and DNI", map[int]string{14: "9999", 15: "9999"}, weather.Missing{Light: 1}, -1, 0},
		{"GHI and DHI", map[int]string{14: "9999", 16: "9999"}, weather.Missing{Light: 1}, -1, 0},
		{"all light", map[int]string{14: "9999", 15: "9999", 16: "9999"}, weather.Missing{Light: 1}, -1, 0},
		{"sky light a little too much", map[int]string{14: "300", 16: "319"}, weather.Missing{Trimmed: 1}, 2000, 2000},
	} {
		s := high
		for column, v := range c.set {
			s = set(s, row, column, v)
		}
		y := read(t, synthetic(t, s))
		if y.Missing != c.want {
			t.Errorf("%s: counted %+v", c.name, y.Missing)
		}
		cut, err := y.Cut(at, 1)
		if c.light < 0 {
			var f weather.Errors
			if f, _ = err.(weather.Errors); len(f) != 1 || f[0].Kind != weather.NoLight || f[0].Line != 9+row {
				t.Errorf("%s: cut gives %v", c.name, err)
			}
			continue
		}
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		if d := math.Abs(cut.GHI[0] - whole.GHI[0]); d > c.light {
			t.Errorf("%s: GHI %v, in the whole file %v", c.name, cut.GHI[0], whole.GHI[0])
		}
		if d := math.Abs(cut.DHI[0] - whole.DHI[0]); d > c.sky {
			t.Errorf("%s: DHI %v, in the whole file %v", c.name, cut.DHI[0], whole.DHI[0])
		}
		if cut.DHI[0] > cut.GHI[0] {
			t.Errorf("%s: DHI %v is over GHI %v", c.name, cut.DHI[0], cut.GHI[0])
		}
		if (cut.Air == nil) != (c.want.Air > 0) || (cut.Wind == nil) != (c.want.Wind > 0) {
			t.Errorf("%s: air %v, wind %v", c.name, cut.Air, cut.Wind)
		}
	}
}

// Missing light at night is no light, and nothing to complain of.
func TestMissingLightInTheDark(t *testing.T) {
	s := high
	s.Row = func(row int, f []string) []string {
		if h := row % 24; h < 4 || h > 20 {
			f[13], f[14], f[15] = "9999", "9999", "9999"
		}
		return f
	}
	data := synthetic(t, s)
	y := read(t, data)
	if y.Missing != (weather.Missing{}) {
		t.Errorf("counted %+v", y.Missing)
	}
	c, err := y.Cut(time.Date(2027, 6, 1, 0, 0, 0, 0, time.UTC), 8000)
	if err != nil || sum(c.GHI) == 0 {
		t.Error(err)
	}
}

// A file made for a program that does not read the global column may have 0 in
// all of it.
func TestEmptyGlobalColumnIsMissing(t *testing.T) {
	s := high
	s.Index = nil
	want := column(t, synthetic(t, s), 14)
	s.Row = func(row int, f []string) []string { f[13] = "0"; return f }
	y := read(t, synthetic(t, s))
	c, err := y.Cut(time.Date(2027, 1, 1, 0, 0, 0, 0, time.FixedZone("", int(s.Standard.Seconds()))), 8760)
	if err != nil {
		t.Fatal(err)
	}
	if got := sum(c.GHI); math.Abs(got-want) > 0.005*want {
		t.Errorf("%v Wh/m² made up of beam and sky, %v in the column", got, want)
	}
	if y.Missing.Global < 4000 || y.Missing.Light != 0 {
		t.Errorf("counted %+v", y.Missing)
	}
}
