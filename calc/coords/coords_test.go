package coords

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"duskline/calc/qty"
)

// The expected values are the definition of degrees, minutes and seconds: a
// minute is a sixtieth of a degree, a second a sixtieth of a minute.
func TestParseCommonWritings(t *testing.T) {
	for _, c := range []struct {
		text     string
		lat, lon float64
	}{
		{"52.4 15.6", 52.4, 15.6},
		{"52,4 15,6", 52.4, 15.6},
		{"52.4, 15.6", 52.4, 15.6},
		{"52.4,15.6", 52.4, 15.6},
		{"52,4; 15,6", 52.4, 15.6},
		{"52,4;15,6", 52.4, 15.6},
		{"52,4, 15,6", 52.4, 15.6},
		{"52.4/15.6", 52.4, 15.6},
		{"52.4\n15.6", 52.4, 15.6},
		{"(52.4, 15.6)", 52.4, 15.6},
		{"52, 4", 52, 4},
		{"52 4", 52, 4},
		{"-33.9 18.4", -33.9, 18.4},
		{"−33,9 18,4", -33.9, 18.4},
		{"-33.9 -70.6", -33.9, -70.6},
		{"-33.9,-70.6", -33.9, -70.6},
		{"-33.9-70.6", -33.9, -70.6},
		{"+33.9 +70.6", 33.9, 70.6},
		{"33.9 S 18.4 E", -33.9, 18.4},
		{"33.9S 18.4E", -33.9, 18.4},
		{"s33.9 e18.4", -33.9, 18.4},
		{"33.9° S, 18.4° E", -33.9, 18.4},
		{"18.4 E 33.9 S", -33.9, 18.4},
		{"E18.4 S33.9", -33.9, 18.4},
		{"52,4N 15,6E", 52.4, 15.6},
		{"-33.9 S 18.4 E", -33.9, 18.4},
		{"N 52 24.5 E 15 36.2", 52 + 24.5/60, 15 + 36.2/60},
		{"52 24.5 N, 15 36.2 E", 52 + 24.5/60, 15 + 36.2/60},
		{"52 24,5 15 36,2", 52 + 24.5/60, 15 + 36.2/60},
		{"52 24 15 36", 52.4, 15.6},
		{"52 24 30 15 36 12", 52 + 24./60 + 30./3600, 15 + 36./60 + 12./3600},
		{"-33 55 30 18 25 12", -(33 + 55./60 + 30./3600), 18 + 25./60 + 12./3600},
		{"52:24:30 15:36:12", 52 + 24./60 + 30./3600, 15 + 36./60 + 12./3600},
		{"52:24,15:36", 52.4, 15.6},
		{`52°24'30" N 15°36'12" E`, 52 + 24./60 + 30./3600, 15 + 36./60 + 12./3600},
		{"52°24′30″N 15°36′12″E", 52 + 24./60 + 30./3600, 15 + 36./60 + 12./3600},
		{"52º 24’ 30” 15º 36’ 12”", 52 + 24./60 + 30./3600, 15 + 36./60 + 12./3600},
		{"52°24'30'' 15°36'12''", 52 + 24./60 + 30./3600, 15 + 36./60 + 12./3600},
		{"52° 24,5′ N 15° 36,2′ E", 52 + 24.5/60, 15 + 36.2/60},
		{`52° 24' 30,5" N, 15° 36' 12,1" E`, 52 + 24./60 + 30.5/3600, 15 + 36./60 + 12.1/3600},
		{"52°24 15°36", 52.4, 15.6},
		{"52°24,15°36", 52.4, 15.6},
		{"52°24'30 15°36'12", 52 + 24./60 + 30./3600, 15 + 36./60 + 12./3600},
		{"52d24m30s 15d36m12s", 52 + 24./60 + 30./3600, 15 + 36./60 + 12./3600},
		{"33d55m30s S 18d25m12s E", -(33 + 55./60 + 30./3600), 18 + 25./60 + 12./3600},
		{"33d55m30s 18d25m12e", -(33 + 55./60 + 30./3600), 18 + 25./60 + 12./3600},
		{"52 deg 24 min N 15 deg 36 min W", 52.4, -15.6},
		{"52.4 north, 15.6 west", 52.4, -15.6},
		{"lat 52.4 lon 15.6", 52.4, 15.6},
		{"Lat.: 52,4 Long.: 15,6", 52.4, 15.6},
		{"lon=15.6&lat=-52.4", -52.4, 15.6},
		{"latitude: 52.4, longitude: -15.6", 52.4, -15.6},
		{"lng 15.6, 52.4", 52.4, 15.6},
		{"geo:52.4,15.6", 52.4, 15.6},
		{" GEO:52.4,15.6", 52.4, 15.6},
		{" +52.4+015.6/", 52.4, 15.6},
		{"geo:-33.9,18.4,120;u=35", -33.9, 18.4},
		{"geo:52.4,15.6;crs=wgs84", 52.4, 15.6},
		{"+52.4+015.6/", 52.4, 15.6},
		{"-33.9+018.4/", -33.9, 18.4},
		{"+5224+01536/", 52.4, 15.6},
		{"+522430-0153612+120/", 52 + 24./60 + 30./3600, -(15 + 36./60 + 12./3600)},
		{"+5224.5+01536.2CRSWGS_84/", 52 + 24.5/60, 15 + 36.2/60},
		{"90 180", 90, 180},
		{"-90 -180", -90, -180},
		{"90 N 180 W", 90, -180},
		{"0 0", 0, 0},
		{"-0 -0", 0, 0},
		{"  52.4 15.6. ", 52.4, 15.6},
		{"５２．４ １５．６", 52.4, 15.6},
		{"٥٢٫٤، ١٥٫٦", 52.4, 15.6},
		{"52.4 N, -15.6", 52.4, -15.6},
	} {
		lat, lon, err := Parse(c.text)
		if err != nil {
			t.Errorf("%q: %v", c.text, err)
		} else if math.Abs(float64(lat)-c.lat) > 1e-12 || math.Abs(float64(lon)-c.lon) > 1e-12 {
			t.Errorf("%q is %v, %v, want %v, %v", c.text, lat, lon, c.lat, c.lon)
		}
	}
}

func TestParseRefuses(t *testing.T) {
	for _, c := range []struct {
		text string
		kind Kind
		at   int
		what string
	}{
		{"", Empty, 0, ""},
		{" \t", Empty, 2, ""},
		{",;", Empty, 0, ""},
		{strings.Repeat("1", Longest+1), TooLong, Longest, ""},
		{"52.4", OnlyOne, 4, ""},
		{"52.4 N", OnlyOne, 6, Latitude},
		{"52,4 N", OnlyOne, 6, Latitude},
		{"lon 15.6", OnlyOne, 8, Longitude},
		{"52°24'", OnlyOne, 6, ""},
		{"52,4", Ambiguous, 0, ""},
		{"52,15", Ambiguous, 0, ""},
		{"52,4,15", Ambiguous, 0, ""},
		{"52,4,15,6", Ambiguous, 0, ""},
		{"52,4 15", Ambiguous, 0, ""},
		{"52 24,15 36", Ambiguous, 0, ""},
		{"52 24 15", Ambiguous, 0, ""},
		{"52 24 30 15 36", Ambiguous, 0, ""},
		{"52-15", Ambiguous, 2, ""},
		{"52.4 - 15.6", Ambiguous, 5, ""},
		{"52°24'-15°36'", Ambiguous, 6, ""},
		{"52 N 15 O", Ambiguous, 8, ""},
		{"91 15", OutOfRange, 0, Latitude},
		{"-90.1 15", OutOfRange, 0, Latitude},
		{"91,5 15,6", OutOfRange, 0, Latitude},
		{"90 0 1 15 0 0", OutOfRange, 0, Latitude},
		{"52 181", OutOfRange, 3, Longitude},
		{"52 N 181 W", OutOfRange, 5, Longitude},
		{"52°60' 15°36'", OutOfRange, 3, Minutes},
		{"52 24 15 60", OutOfRange, 9, Minutes},
		{"52 24 60 15 36 12", OutOfRange, 6, Seconds},
		{"geo:91,15", OutOfRange, 4, Latitude},
		{"  geo:91,15", OutOfRange, 6, Latitude},
		{"+5260+01536/", OutOfRange, 3, Minutes},
		{"52 N 15 S", TwoLatitudes, 5, ""},
		{"52 N 15 N", TwoLatitudes, 5, ""},
		{"15 E 52 W", TwoLongitudes, 5, ""},
		{"lat 52 lat 15", TwoLatitudes, 7, ""},
		{"52 N 15", LetterMissing, 5, Longitude},
		{"52 15 E", OnlyOne, 7, Longitude},
		{"52, 15 E", LetterMissing, 0, Latitude},
		{"-52 N 15 E", SignAndLetter, 4, ""},
		{"+33.9 S 18.4 E", SignAndLetter, 6, ""},
		{"lat 15 E, 52 N", TwoLetters, 7, ""},
		{"N N 52 E 15", TwoLetters, 2, ""},
		{"--52 15", TwoLetters, 1, ""},
		{"52.4 15.6 120", Ambiguous, 0, ""},
		{"52.4, 15.6, 120", TooMany, 12, ""},
		{"1 2 3 4 5 6 7", TooMany, 12, ""},
		{"1 2 3 4, 5", TooMany, 6, ""},
		{"52.4 24 15.6 36", FractionInside, 0, ""},
		{"52.4°24' 15°36'", FractionInside, 0, ""},
		{"° 52", PartMissing, 0, ""},
		{"52' 15'", PartMissing, 0, ""},
		{"52°30\" 15°", PartMissing, 3, ""},
		{"N", PartMissing, 0, ""},
		{"52:N 15 E", PartMissing, 2, ""},
		{"52: 24", OnlyOne, 6, ""},
		{"52.4.1 15", BadNumber, 0, ""},
		{"1234567890123456789 15", BadNumber, 0, ""},
		{"52x4 15", UnknownMark, 2, ""},
		{"52. 4, 15. 6", UnknownMark, 2, ""},
		{"NaN Inf", UnknownMark, 1, ""},
		{"geo:0,0?q=52.4,15.6", UnknownMark, 7, ""},
		{"geo:52.4,15.6;crs=x", UnknownMark, 13, ""},
		{"geo:52.4", OnlyOne, 8, ""},
		{"geo:", Empty, 0, ""},
	} {
		lat, lon, err := Parse(c.text)
		var e *Error
		if !errors.As(err, &e) {
			t.Errorf("%q gave %v, %v, %v", c.text, lat, lon, err)
			continue
		}
		if e.Kind != c.kind || e.At != c.at || e.What != c.what {
			t.Errorf("%q: %v; want %s %s at %d", c.text, e, c.kind, c.what, c.at+1)
		}
		if lat != 0 || lon != 0 {
			t.Errorf("%q: an error, and %v, %v", c.text, lat, lon)
		}
	}
}

func TestEveryKindIsListedOnce(t *testing.T) {
	seen := map[Kind]bool{}
	for _, k := range Kinds {
		if seen[k] {
			t.Errorf("%s is listed twice", k)
		}
		seen[k] = true
	}
}

func TestFormatAgainstSixtieths(t *testing.T) {
	for _, c := range []struct {
		lat, lon float64
		want     string
	}{
		{52.4, 15.6, "52° 24.0′ N, 15° 36.0′ E"},
		{-33.925, -70.65, "33° 55.5′ S, 70° 39.0′ W"},
		{0, 0, "0° 00.0′ N, 0° 00.0′ E"},
		{89.99999, 179.99999, "90° 00.0′ N, 180° 00.0′ E"},
		{-90, -180, "90° 00.0′ S, 180° 00.0′ W"},
	} {
		if got := Format(qty.Degree(c.lat), qty.Degree(c.lon)); got != c.want {
			t.Errorf("%v, %v is %q, want %q", c.lat, c.lon, got, c.want)
		}
	}
}

// Half a tenth of a minute is 0.00083 degrees.
func TestFormatIsReadBack(t *testing.T) {
	for lat := -90.0; lat <= 90; lat += 0.73 {
		for lon := -180.0; lon <= 180; lon += 7.31 {
			text := Format(qty.Degree(lat), qty.Degree(lon))
			a, o, err := Parse(text)
			if err != nil || math.Abs(float64(a)-lat) > 0.00084 || math.Abs(float64(o)-lon) > 0.00084 {
				t.Fatalf("%v, %v is written %q and read %v, %v, %v", lat, lon, text, a, o, err)
			}
		}
	}
}

func FuzzParse(f *testing.F) {
	for _, s := range []string{"52,4 15,6", `52°24'30" N 15°36'12" E`, "geo:52.4,15.6;u=3", "+522430-0153612+120/", "lat: 5 lon 6",
		"33d55m30s 18d25m12e", "52,4,15,6", "-90-180", "٥٢٫٤، ١٥٫٦", "N N", "::", "5:5:5:5", "lat", "İ", "\xff", "+"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		lat, lon, err := Parse(text)
		if err == nil {
			if !(lat >= -90 && lat <= 90 && lon >= -180 && lon <= 180) {
				t.Fatalf("%q is %v, %v", text, lat, lon)
			}
			// Written out and read again it is the same place.
			a, o, err := Parse(Format(lat, lon))
			if err != nil || math.Abs(float64(a-lat)) > 0.00084 || math.Abs(float64(o-lon)) > 0.00084 {
				t.Fatalf("%q is %v, %v and comes back as %v, %v, %v", text, lat, lon, a, o, err)
			}
			return
		}
		var e *Error
		if !errors.As(err, &e) {
			t.Fatalf("%q: %T", text, err)
		}
		if n := len([]rune(text)); e.At < 0 || e.At > n {
			t.Fatalf("%q: error at %d of %d", text, e.At, n)
		}
		if math.IsNaN(e.Got) || e.Error() == "" {
			t.Fatalf("%q: %v", text, err)
		}
	})
}

func Example() {
	lat, lon, err := Parse("33° 55,5′ S, 18° 25,2′ E")
	fmt.Println(float64(lat), float64(lon), err)
	fmt.Println(Format(lat, lon))
	_, _, err = Parse("52,4,15,6")
	fmt.Println(err)
	// Output:
	// -33.925 18.42 <nil>
	// 33° 55.5′ S, 18° 25.2′ E
	// coords: ambiguous "52,4,15,6" at character 1
}
