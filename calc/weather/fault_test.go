package weather_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"duskline/calc/sun"
	"duskline/calc/weather"
)

// Every fault that one field can have, with its line, column and character.
func TestFaultOfAField(t *testing.T) {
	type E = weather.Error
	for _, c := range []struct {
		row, column int
		value       string
		want        E // without line, column and character
	}{
		{0, 2, "x", E{Kind: weather.NotNumber, Field: "month", Found: "x"}},
		{0, 2, "13", E{Kind: weather.Range, Field: "month", Found: "13", Min: 1, Max: 12}},
		{0, 2, "1.5", E{Kind: weather.NotNumber, Field: "month", Found: "1.5"}},
		{0, 3, "32", E{Kind: weather.Range, Field: "day", Found: "32", Min: 1, Max: 31}},
		{1000, 3, "30", E{Kind: weather.Range, Field: "day", Found: "30", Min: 1, Max: 29}},
		{0, 4, "0", E{Kind: weather.Range, Field: "hour", Found: "0", Min: 1, Max: 24}},
		{23, 4, "25", E{Kind: weather.Range, Field: "hour", Found: "25", Min: 1, Max: 24}},
		{7, 7, "warm", E{Kind: weather.NotNumber, Field: "air", Found: "warm"}},
		{7, 7, "1e", E{Kind: weather.NotNumber, Field: "air", Found: "1e"}},
		{8759, 7, "-70.1", E{Kind: weather.Range, Field: "air", Found: "-70.1", Min: -70, Max: 70, Unit: "°C"}},
		{8, 7, "70.5", E{Kind: weather.Range, Field: "air", Found: "70.5", Min: -70, Max: 70, Unit: "°C"}},
		{noon(9), 14, "-1", E{Kind: weather.Range, Field: "ghi", Found: "-1", Max: 9999, Unit: "W/m²"}},
		{noon(9), 15, "-0.5", E{Kind: weather.Range, Field: "dni", Found: "-0.5", Max: 9999, Unit: "W/m²"}},
		{noon(9), 16, "-3", E{Kind: weather.Range, Field: "dhi", Found: "-3", Max: 9999, Unit: "W/m²"}},
		{noon(9), 16, "NaN", E{Kind: weather.NotNumber, Field: "dhi", Found: "NaN"}},
		{noon(9), 14, "0x1F", E{Kind: weather.NotNumber, Field: "ghi", Found: "0x1F"}},
		{noon(9), 14, strings.Repeat("9", 60), E{Kind: weather.NotNumber, Field: "ghi", Found: strings.Repeat("9", 40)}},
		{3, 22, "40.1", E{Kind: weather.Range, Field: "wind", Found: "40.1", Max: 40, Unit: "m/s"}},
		{3, 22, "--", E{Kind: weather.NotNumber, Field: "wind", Found: "--"}},
	} {
		data := synthetic(t, set(high, c.row, c.column, c.value))
		errs := faults(t, data)
		c.want.Line, c.want.Column = 9+c.row, c.column
		c.want.At = 1 + columnStart(data, c.want.Line, c.column)
		if len(errs) != 1 || *errs[0] != c.want {
			t.Errorf("%q in row %d:\n got %+v\nwant %+v", c.value, c.row, *errs[0], c.want)
			for _, e := range errs {
				t.Log(e)
			}
		}
		if text := errs.Error(); !strings.Contains(text, fmt.Sprintf("line %d, column %d (%s, at character %d)", c.want.Line, c.column, c.want.Field, c.want.At)) {
			t.Errorf("text is %q", text)
		}
	}
}

// columnStart counts the characters before a field of a line, by another way.
func columnStart(data []byte, line, column int) int {
	l := strings.Split(string(data), "\n")[line-1]
	return len([]rune(strings.Join(strings.Split(l, ",")[:column-1], ","))) + 1
}

func TestFaultOfTheHeader(t *testing.T) {
	location := "LOCATION,Björnhöjd,-,---,invented,000000,27.5,86.25,5.75,1400"
	for _, c := range []struct {
		line       int
		was, is    string
		kind       weather.Kind
		column, at int
		field      string
	}{
		{1, "27.5", "91", weather.Range, 7, 42, "latitude"},
		{1, "27.5", "-90.01", weather.Range, 7, 42, "latitude"},
		{1, "27.5", "", weather.NotNumber, 7, 42, "latitude"},
		{1, "27.5", "27°30", weather.NotNumber, 7, 42, "latitude"},
		{1, "86.25", "180.5", weather.Range, 8, 47, "longitude"},
		{1, "5.75", "14.25", weather.Range, 9, 53, "time_zone"},
		{1, "5.75", "-12.5", weather.Range, 9, 53, "time_zone"},
		{1, ",1400", ",9001", weather.Range, 10, 58, "altitude"},
		{1, ",1400", ",-501", weather.Range, 10, 58, "altitude"},
		{1, ",1400", "", weather.Fields, 0, 0, ""},
		{1, "LOCATION", "LOKATION", weather.NotWeather, 0, 0, ""},
		{1, location, strings.ReplaceAll(location, ",", ";"), weather.NotWeather, 0, 0, ""},
		{8, "DATA PERIODS,1", "DATA PERIODS,2", weather.Periods, 2, 14, "periods"},
		{8, "DATA PERIODS,1,1", "DATA PERIODS,1,4", weather.Periods, 3, 16, "per_hour"},
		{8, "DATA PERIODS,1,1", "DATA PERIODS,1,", weather.Periods, 3, 16, "per_hour"},
		{8, "DATA PERIODS,1,1,Data,Sunday, 1/ 1,12/31", "DATA PERIODS,1", weather.Fields, 0, 0, ""},
		{8, "DATA PERIODS", "COMMENTS 3", weather.Header, 0, 0, ""},
	} {
		s := high
		s.Head = func(l []string) []string {
			l[0] = location
			if l[c.line-1] = strings.Replace(l[c.line-1], c.was, c.is, 1); c.is != "" && !strings.Contains(l[c.line-1], c.is) {
				t.Fatalf("%q is not in the line", c.was)
			}
			return l
		}
		errs := faults(t, synthetic(t, s))
		if e := errs[0]; len(errs) != 1 || e.Kind != c.kind || e.Line != c.line || e.Column != c.column || e.At != c.at || e.Field != c.field {
			t.Errorf("%q for %q: %+v (%d faults)", c.is, c.was, *e, len(errs))
		}
	}

	// all faults of the place at once
	s := high
	s.Head = func(l []string) []string { l[0] = "LOCATION,,,,,,x,181,99,9999"; return l }
	if errs := faults(t, synthetic(t, s)); len(errs) != 4 || errs[3].Field != "altitude" {
		t.Errorf("%v", errs)
	}
	// a header line too few: the periods stand in line 7
	s.Head = func(l []string) []string { return slices.Delete(l, 2, 3) }
	if errs := faults(t, synthetic(t, s)); len(errs) != 1 || errs[0].Kind != weather.Header || errs[0].Line != 8 {
		t.Errorf("%v", errs)
	}
}

func TestNotAFileOfWeather(t *testing.T) {
	for _, c := range []struct {
		data string
		kind weather.Kind
		line int
	}{
		{"", weather.Empty, 0},
		{"\n", weather.NotWeather, 1},
		{"\ufeff", weather.NotWeather, 1},
		{"Date,GHI\n2027-01-01,3\n", weather.NotWeather, 1},
		{"\x89PNG\r\n\x1a\n\x00\x00", weather.NotWeather, 1},
		{"\xff\xfeL\x00O\x00C\x00", weather.NotWeather, 1},
		{"{\"duskline\": 2}", weather.NotWeather, 1},
		{"LOCATION", weather.Fields, 1},
		{"LOCATION,a,,,,,1,2,3,4", weather.Header, 8},
		{"LOCATION,a,,,,,1,2,3,4\n\n\n\n\n\n\n", weather.Header, 8},
		{strings.Repeat("x", weather.MaxBytes+1), weather.TooBig, 0},
	} {
		errs := faults(t, []byte(c.data))
		if errs[0].Kind != c.kind || errs[0].Line != c.line {
			t.Errorf("%.20q: %v", c.data, errs)
		}
	}
	// a header and nothing behind it
	data := string(synthetic(t, high))
	end := strings.Index(data, "DATA PERIODS")
	end += strings.Index(data[end:], "\n") + 1
	for _, d := range []string{data[:end], data[:end-1], data[:end] + "\n\n"} {
		if errs := faults(t, []byte(d)); errs[0].Kind != weather.Rows || errs[0].Found != "0" {
			t.Errorf("%v", errs)
		}
	}
}

func TestRowsAndTheirOrder(t *testing.T) {
	skip := func(rows ...int) func(int, []string) []string {
		return func(row int, f []string) []string {
			if slices.Contains(rows, row) {
				return nil
			}
			return f
		}
	}
	type fault struct {
		kind        weather.Kind
		line        int
		found, want string
	}
	data := string(synthetic(t, high))
	lines := strings.SplitAfter(data, "\n")
	leap := high
	leap.Leap = true
	for _, c := range []struct {
		name string
		data string
		want []fault
	}{
		{"a line left out", string(synthetic(t, with(high, skip(100)))), []fault{
			{weather.Order, 109, "1-5 6", "1-5 5"}, {weather.Rows, 0, "8759", "8760 or 8784"}}},
		{"the last line left out", string(synthetic(t, with(high, skip(8759)))), []fault{
			{weather.Rows, 0, "8759", "8760 or 8784"}}},
		{"a line twice", strings.Join(slices.Insert(slices.Clone(lines), 20, lines[19]), ""), []fault{
			{weather.Order, 21, "1-1 12", "1-1 13"}, {weather.Rows, 0, "8761", "8760 or 8784"}}},
		{"two lines changed about", strings.Join(slices.Concat(lines[:30], []string{lines[31], lines[30]}, lines[32:]), ""), []fault{
			{weather.Order, 31, "1-1 24", "1-1 23"}, {weather.Order, 32, "1-1 23", "2"}, {weather.Order, 33, "", ""}}},
		{"two years", data + strings.Join(lines[8:], ""), []fault{
			{weather.Rows, 0, "17520", "8760 or 8784"}}},
		{"half a 29 February", string(synthetic(t, with(leap, skip(59*24+12)))), []fault{
			{weather.Order, 9 + 59*24 + 12, "2-29 14", "2-29 13"}, {weather.Rows, 0, "8783", "8760 or 8784"}}},
		{"an empty line", strings.Join(slices.Insert(slices.Clone(lines), 20, "\n"), ""), []fault{
			{weather.Fields, 21, "1", ""}, {weather.Order, 22, "1-1 13", "1-1 14"}, {weather.Rows, 0, "8761", "8760 or 8784"}}},
		{"a line cut off", data[:len(data)-200], []fault{
			{weather.Fields, 8768, "", ""}}},
	} {
		errs := faults(t, []byte(c.data))
		if c.name == "two lines changed about" { // the wants run on from what was found
			c.want[1] = fault{weather.Order, 32, "1-1 23", "1-2 1"}
			c.want[2] = fault{weather.Order, 33, "1-2 1", "1-1 24"}
		}
		bad := len(errs) != len(c.want)
		for i := 0; !bad && i < len(errs); i++ {
			e, w := errs[i], c.want[i]
			bad = e.Kind != w.kind || e.Line != w.line || w.found != "" && e.Found != w.found || w.want != "" && e.Want != w.want
		}
		if bad {
			t.Errorf("%s:", c.name)
			for _, e := range errs {
				t.Errorf("  %v", e)
			}
		}
	}
}

func with(s weather.Sample, row func(int, []string) []string) weather.Sample {
	s.Row = row
	return s
}

// More light than above the air: at noon, by the closure of its parts, and at
// night. The limit is the sun's, not the file's.
func TestLightAboveExtraterrestrial(t *testing.T) {
	row := noon(171) // 21 June, sun near straight up
	most := 1366.1 * (1 - 0.0327)
	for _, c := range []struct {
		name        string
		row, column int
		values      map[int]string
		found       string
		max         float64
	}{
		{"noon", row, 14, map[int]string{14: "1400"}, "1400", most},
		{"noon, code of other files", row, 14, map[int]string{14: "9998"}, "9998", most},
		{"by its parts", row, 15, map[int]string{14: "9999", 15: "1300", 16: "200"}, "1493", most},
		{"night", 171 * 24, 14, map[int]string{14: "21"}, "21", 0},
	} {
		s := high
		for column, v := range c.values {
			s = set(s, c.row, column, v)
		}
		errs := faults(t, synthetic(t, s))
		e := errs[0]
		if len(errs) != 1 || e.Kind != weather.Bright || e.Line != 9+c.row || e.Column != c.column || e.Unit != "W/m²" {
			t.Errorf("%s: %+v", c.name, *e)
		}
		if e.Max < c.max*0.99 || e.Max > c.max*1.01 || e.Found[:2] != c.found[:2] {
			t.Errorf("%s: %v, limit %v, want %v and about %v", c.name, e.Found, e.Max, c.found, c.max)
		}
	}
	// the slack: 20 W/m² at night pass
	read(t, synthetic(t, set(high, 171*24, 14, "20")))
}

func TestSkyLightAboveAllLight(t *testing.T) {
	row := noon(50)
	s := set(set(high, row, 14, "100"), row, 16, "121")
	errs := faults(t, synthetic(t, s))
	if e := errs[0]; len(errs) != 1 || e.Kind != weather.Dim || e.Line != 9+row || e.Column != 14 || e.Min != 121 {
		t.Errorf("%v", errs)
	}
}

// A file without any light is no file to plan with.
func TestDarkYear(t *testing.T) {
	s := with(high, func(_ int, f []string) []string { f[13], f[14], f[15] = "0", "0", "0"; return f })
	if errs := faults(t, synthetic(t, s)); len(errs) != 1 || errs[0].Kind != weather.Dark {
		t.Errorf("%v", errs)
	}
	s = with(high, func(_ int, f []string) []string { f[13], f[14], f[15] = "9999", "", "9999"; return f })
	if errs := faults(t, synthetic(t, s)); len(errs) != 1 || errs[0].Kind != weather.Dark {
		t.Errorf("%v", errs)
	}
}

// A thousand faults are told as the first twenty, by line.
func TestFirstTwentyFaults(t *testing.T) {
	s := with(high, func(row int, f []string) []string {
		if row >= 10 {
			f[6], f[21] = "x", "y"
		}
		return f
	})
	errs := faults(t, synthetic(t, s))
	if len(errs) != 20 {
		t.Fatalf("%d faults", len(errs))
	}
	for i, e := range errs {
		if e.Line != 19+i/2 || e.Column != []int{7, 22}[i%2] {
			t.Errorf("fault %d: %v", i, e)
		}
	}
}

// The wrong sign of the time zone puts the sun's light into the night.
func TestTimeZoneOfTheWrongSign(t *testing.T) {
	s := weather.Sample{Place: sun.Place{Latitude: 40, Longitude: 90}, Standard: 6 * time.Hour}
	s.Head = func(l []string) []string { l[0] = strings.Replace(l[0], ",6,", ",-6,", 1); return l }
	if errs := faults(t, synthetic(t, s)); errs[0].Kind != weather.Bright || len(errs) != 20 {
		t.Errorf("%v", errs)
	}
}
