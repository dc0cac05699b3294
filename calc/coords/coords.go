// Package coords reads a latitude and a longitude as people write them, and
// writes them in degrees and minutes.
//
// A text with two honest readings is an error, never a guess. It gives codes
// and positions; app/words makes the sentences.
//
// What is read, in any mix that has one reading only:
//
//	52.4 15.6    52,4 15,6    52.4, 15.6    52,4; 15,6    52.4/15.6
//	-33.9 18.4   33.9 S 18.4 E   s33.9 e18.4   18.4 E 33.9 S
//	52°24'30" N 15°36'12" E   52° 24,5′ N 15° 36,2′ E   52d24m30s 15d36m12s
//	52 24 30 15 36 12   52:24:30 15:36:12   52 24.5 N, 15 36.2 E
//	lat 52.4 lon 15.6   lon=15.6&lat=52.4   geo:52.4,15.6   +52.4+015.6/
//
// The order is latitude, longitude, unless letters or labels say otherwise.
//
// What is refused although it looks like coordinates: "52,4,15,6" and "52,4"
// (each comma can stand for a point or stand between), "52,4 15" (the same),
// "52 24 15" (where does the latitude end?), "52-15" (a dash or a minus?), "52
// N 15" (east or west?), "52 O" (west in one language, east in another).
package coords

import (
	"fmt"
	"math"
	"strings"

	"duskline/calc/qty"
)

// Kind says what is wrong with a text.
type Kind string

// The kinds, with the fields of Error that each one fills besides At.
const (
	Empty          Kind = "empty"           // nothing but spaces
	TooLong        Kind = "too_long"        // Max: characters
	UnknownMark    Kind = "unknown_mark"    // Found
	BadNumber      Kind = "bad_number"      // Found: two points in it, or more digits than make sense
	OnlyOne        Kind = "only_one"        // one latitude or one longitude; What says which if that is known
	TooMany        Kind = "too_many"        // a third coordinate, or a fourth part of one
	Ambiguous      Kind = "ambiguous"       // Found: what has two readings
	TwoLatitudes   Kind = "two_latitudes"   //
	TwoLongitudes  Kind = "two_longitudes"  //
	TwoLetters     Kind = "two_letters"     // Found: a second letter, sign or label for one coordinate that does not go with the first
	LetterMissing  Kind = "letter_missing"  // What: the coordinate without a letter, beside one with
	SignAndLetter  Kind = "sign_and_letter" // Found: the letter; minus with N or E, plus with S or W
	FractionInside Kind = "fraction_inside" // Found: a fraction of degrees with minutes behind it, or of minutes with seconds
	PartMissing    Kind = "part_missing"    // Found: a mark without a number, minutes without degrees
	OutOfRange     Kind = "out_of_range"    // What, Got, Min, Max; minutes and seconds lie below Max
)

// Kinds lists every kind; tests walk it.
var Kinds = []Kind{
	Empty, TooLong, UnknownMark, BadNumber, OnlyOne, TooMany, Ambiguous, TwoLatitudes, TwoLongitudes,
	TwoLetters, LetterMissing, SignAndLetter, FractionInside, PartMissing, OutOfRange,
}

// What an Error is about.
const (
	Latitude  = "latitude"
	Longitude = "longitude"
	Minutes   = "minutes"
	Seconds   = "seconds"
)

// An Error says why a text is no position.
type Error struct {
	Kind          Kind
	At            int    // the character it is about, 0 for the first
	Found         string // as it stands in the text, or ""
	What          string // Latitude, Longitude, Minutes, Seconds, or ""
	Got, Min, Max float64
}

func (e *Error) Error() string {
	s := fmt.Sprintf("coords: %s %q at character %d", e.Kind, e.Found, e.At+1)
	if e.What != "" {
		s += " of the " + e.What
	}
	if e.Kind == OutOfRange {
		s += fmt.Sprintf(": %.6g is outside %g to %g", e.Got, e.Min, e.Max)
	}
	return s
}

// Longest is how many characters Parse reads at most. The longest honest
// writing, in words and seconds with fractions, has under a hundred.
const Longest = 200

// Parse reads a latitude, -90 to 90, north positive, and a longitude, -180 to
// 180, east positive. Poles and both ends of the antimeridian are taken as
// they are written. A height in a geo: or ISO 6709 text is passed over.
//
// Errors: *Error, always.
//
// The writing with signs and slash is that of ISO 6709:2008, annex H, and geo:
// that of RFC 5870, both from memory; the rest is common writing.
func Parse(text string) (lat, lon qty.Degree, err error) {
	runes := []rune(text)
	if len(runes) > Longest {
		return 0, 0, &Error{Kind: TooLong, At: Longest, Max: Longest}
	}
	lead := 0
	for lead < len(runes) && strings.ContainsRune(spaces, runes[lead]) {
		lead++
	}
	runes = runes[lead:]
	as := readings(runes)
	plain, ok, bad := fromGeo(runes)
	from := []int(nil)
	if !ok && bad == nil {
		plain, from, ok = fromISO(runes)
	}
	if ok {
		as, runes = []reading{{}}, plain
	}
	if bad == nil {
		lat, lon, bad = read(runes, as)
	}
	if bad != nil {
		if bad.At < len(from) {
			bad.At = from[bad.At]
		}
		bad.At += lead
		return 0, 0, bad
	}
	return lat, lon, nil
}

// Format writes a position in degrees, and minutes to a tenth: 52° 24.0′ N,
// 15° 36.0′ E. A tenth of a minute of latitude is 185 m. Parse reads it back
// to within half a tenth.
func Format(lat, lon qty.Degree) string {
	return side(float64(lat), "N", "S") + ", " + side(float64(lon), "E", "W")
}

func side(v float64, plus, minus string) string {
	letter := plus
	if v < 0 {
		letter = minus
	}
	tenths := math.Round(math.Abs(v) * 600)
	return fmt.Sprintf("%.0f° %04.1f′ %s", math.Floor(tenths/600), math.Mod(tenths, 600)/10, letter)
}
