package weather

import (
	"math"
	"sort"
	"strconv"
	"strings"
	"time"

	"duskline/calc/qty"
)

// MaxBytes is the biggest file that is read: four times the usual size.
const MaxBytes = 8 << 20

// The columns that are read, from 1, as the data dictionary orders them.
const (
	colMonth, colDay, colHour = 2, 3, 4
	colAir                    = 7
	colGHI, colDNI, colDHI    = 14, 15, 16
	colWind                   = 22

	minFields      = colWind
	locationFields = 10
)

// Read reads an EPW file: UTF-8 or Latin-1, with or without a byte order mark,
// lines ended by LF or CR LF, at most [MaxBytes].
//
// A value at or above the format's code for it is missing, and so is an empty
// field: 99.9 for air, 9999 for each kind of light, 999 for wind. All light
// that is missing is made up from beam and sky light; sky light that is missing
// from the other two, or else parted from all light by [sun.Erbs] with the
// hour's mean sun. In the dark missing light is no light. A file whose global
// column is 0 in every hour, while beam or sky light is not, has it missing in
// all: the program that the format was made for does not read that column.
//
// Errors: [Errors], the first 20 faults: a file that is empty, too big or no
// EPW file; a header line that is not where it should be; a place outside
// [sun.Place.Check], a time zone outside -12 to 14 h; more than one period or
// record an hour; a line with fewer than 22 fields or more than 36; what is no
// number; months outside 1 to 12, days that the month has not, hours outside 1
// to 24; air outside -70 to 70 °C, wind outside 0 to 40 m/s, light below 0;
// lines out of order or not 8760 or 8784; more light in an hour than the
// greatest above the air in it and 20 W/m²; all light below the sky's part by
// more than 20 W/m²; no light at all.
func Read(data []byte) (*Year, error) {
	if len(data) == 0 {
		return nil, Errors{{Kind: Empty}}
	}
	if len(data) > MaxBytes {
		return nil, Errors{{Kind: TooBig, Found: strconv.Itoa(len(data)), Max: MaxBytes, Unit: "B"}}
	}
	r := reader{data: data}
	if len(data) >= 3 && data[0] == 0xEF && data[1] == 0xBB && data[2] == 0xBF {
		r.next = 3
	}
	if !r.head() {
		return nil, r.errs
	}
	r.rows()
	r.fill()
	if len(r.errs) > 0 {
		sort.SliceStable(r.errs, func(i, k int) bool { return uint(r.errs[i].Line-1) < uint(r.errs[k].Line-1) }) // line 0 comes last
		return nil, r.errs
	}
	return &r.year, nil
}

// A reader is one pass over a file.
type reader struct {
	data []byte
	next int // where the next line begins
	line int // number of the one at hand
	f    fieldSpans
	year Year
	errs Errors

	raw  []rawHour
	leap bool // there is a 29 February
}

// take returns the next line with its fields found.
func (r *reader) take() []byte {
	var l []byte
	l, r.next = nextLine(r.data, r.next)
	r.line++
	r.f.split(l)
	return l
}

// fault notes a fault of one field.
func (r *reader) fault(line []byte, column int, f Error) {
	s := r.f.at[column-1]
	f.Line, f.Column, f.At = r.line, column, character(line, s.lo)
	f.Found = short(trim(line[s.lo:s.hi]))
	r.errs.add(f)
}

// bounded reads a number that has to be there and in its range.
func (r *reader) bounded(line []byte, column int, field string, min, max float64, unit string) float64 {
	x, ok := number(r.f.get(line, column))
	if !ok {
		r.fault(line, column, Error{Kind: NotNumber, Field: field})
		return math.NaN()
	}
	if x < min || x > max {
		r.fault(line, column, Error{Kind: Range, Field: field, Min: min, Max: max, Unit: unit})
		return math.NaN()
	}
	return x
}

// head reads the eight header lines. Only the first and the last hold what we
// need; what stands between is not judged. It reports whether rows can follow.
func (r *reader) head() bool {
	l := r.take()
	if !r.keyword(l, "LOCATION") {
		r.errs.add(Error{Kind: NotWeather, Line: 1, Found: short(l), Want: "LOCATION"})
		return false
	}
	if r.f.n < locationFields {
		r.errs.add(Error{Kind: Fields, Line: 1, Found: strconv.Itoa(r.f.n), Min: locationFields, Max: maxFields})
	} else {
		r.location(l)
	}
	for range headLines - 2 {
		r.take()
	}
	l = r.take()
	switch {
	case r.line < headLines || !r.keyword(l, "DATA PERIODS"):
		r.errs.add(Error{Kind: Header, Line: headLines, Found: short(l), Want: "DATA PERIODS"})
		return false
	case r.f.n < 3:
		r.errs.add(Error{Kind: Fields, Line: headLines, Found: strconv.Itoa(r.f.n), Min: 3, Max: maxFields})
	default:
		r.one(l, 2, "periods")
		r.one(l, 3, "per_hour")
	}
	return len(r.errs) == 0
}

// location reads what the first line says of the place.
func (r *reader) location(l []byte) {
	y := &r.year
	y.Name = firstRunes(text(r.f.get(l, 2)), maxName)
	y.Country = firstRunes(text(r.f.get(l, 4)), maxName)
	y.Place.Latitude = qty.Degree(r.bounded(l, 7, "latitude", -90, 90, "°"))
	y.Place.Longitude = qty.Degree(r.bounded(l, 8, "longitude", -180, 180, "°"))
	if zone := r.bounded(l, 9, "time_zone", minZone, maxZone, "h"); zone == zone {
		y.Standard = time.Duration(math.Round(zone*60)) * time.Minute
	}
	y.Place.Altitude = qty.Metre(r.bounded(l, 10, "altitude", -500, 9000, "m")) // as sun.Place.Check
}

// one reads a number that has to be 1.
func (r *reader) one(line []byte, column int, field string) {
	if x, ok := number(r.f.get(line, column)); !ok || x != 1 {
		r.fault(line, column, Error{Kind: Periods, Field: field, Want: "1"})
	}
}

// keyword reports whether a line's first field is a word, in any case.
func (r *reader) keyword(line []byte, word string) bool {
	return strings.EqualFold(string(r.f.get(line, 1)), word)
}
