package weather

import (
	"math"
	"strconv"
)

// A rawHour is a line of the file as it stands; what is missing is NaN.
type rawHour struct {
	line, start   int // its number, and where it begins in the file
	row           int // which hour it is, counted in a leap year
	ghi, dni, dhi float64
	air, wind     float64
	broken        bool // a light of it has a fault: not to be judged again
}

// rows reads the hours.
func (r *reader) rows() {
	r.raw = make([]rawHour, 0, leapRows)
	due := 0 // the row that is due, counted in a leap year
	count := 0
	for r.next < len(r.data) && !r.errs.full() {
		start := r.next
		l := r.take()
		if len(trim(l)) == 0 && r.blankTail() {
			break
		}
		if count++; due >= leapRows {
			continue // one too many: only counted
		}
		if r.f.n < minFields || r.f.n > maxFields {
			r.errs.add(Error{Kind: Fields, Line: r.line, Found: strconv.Itoa(r.f.n), Min: minFields, Max: maxFields})
			due++
			continue
		}
		row := r.order(l, due)
		due = row + 1
		h := rawHour{line: r.line, start: start, row: row}
		h.air = r.value(l, colAir, "air", minAir, maxAir, 99.9, "°C")
		h.wind = r.value(l, colWind, "wind", 0, maxWind, 999, "m/s")
		before := len(r.errs)
		h.ghi = r.value(l, colGHI, "ghi", 0, 9999, 9999, "W/m²")
		h.dni = r.value(l, colDNI, "dni", 0, 9999, 9999, "W/m²")
		h.dhi = r.value(l, colDHI, "dhi", 0, 9999, 9999, "W/m²")
		h.broken = len(r.errs) > before
		r.raw = append(r.raw, h)
	}
	want := commonRows
	if r.leap {
		want = leapRows
	}
	if count != want && !r.errs.full() {
		r.errs.add(Error{Kind: Rows, Found: strconv.Itoa(count), Want: "8760 or 8784"})
	}
}

// blankTail reports whether nothing but empty lines follow.
func (r *reader) blankTail() bool {
	for _, c := range r.data[min(r.next, len(r.data)):] {
		if c != '\n' && c != '\r' && c != ' ' && c != '\t' {
			return false
		}
	}
	return true
}

// daysBefore are the days of a leap year before each month.
var daysBefore = [...]int{0, 31, 60, 91, 121, 152, 182, 213, 244, 274, 305, 335, 366}

// order reads month, day and hour of a line and returns its row in a leap
// year. due is the row that should be there; after 28 February either 29
// February or 1 March may follow. A line that is not due is a fault, and the
// reading goes on from it.
func (r *reader) order(line []byte, due int) int {
	month := r.whole(line, colMonth, "month", 12)
	if month == 0 {
		return due
	}
	day := r.whole(line, colDay, "day", daysBefore[month]-daysBefore[month-1])
	hour := r.whole(line, colHour, "hour", 24)
	if day == 0 || hour == 0 {
		return due
	}
	row := (daysBefore[month-1]+day-1)*24 + hour - 1
	switch {
	case row == due && row == leapDay:
		r.leap = true
	case row == due:
	case due == leapDay && row == leapDay+24:
	default:
		// the numbers of a date have no column of their own: the month's
		r.fault(line, colMonth, Error{Kind: Order, Field: "month", Want: date(due)})
		r.errs[len(r.errs)-1].Found = date(row)
	}
	return row
}

// date writes a row as month-day and the hour that ends it: "2-28 24".
func date(row int) string {
	day, month := row/24, 1
	for day >= daysBefore[month] {
		month++
	}
	return strconv.Itoa(month) + "-" + strconv.Itoa(day-daysBefore[month-1]+1) + " " + strconv.Itoa(row%24+1)
}

// whole reads a whole number from 1 to max, or notes the fault and returns 0.
func (r *reader) whole(line []byte, column int, field string, max int) int {
	x, ok := number(r.f.get(line, column))
	switch {
	case !ok || x != math.Trunc(x):
		r.fault(line, column, Error{Kind: NotNumber, Field: field})
	case x < 1 || x > float64(max):
		r.fault(line, column, Error{Kind: Range, Field: field, Min: 1, Max: float64(max)})
	default:
		return int(x)
	}
	return 0
}

// value reads a number that may be missing.
func (r *reader) value(line []byte, column int, field string, min, max, missing float64, unit string) float64 {
	b := r.f.get(line, column)
	if len(b) == 0 {
		return math.NaN()
	}
	x, ok := number(b)
	switch {
	case !ok:
		r.fault(line, column, Error{Kind: NotNumber, Field: field})
	case x >= missing:
	case x < min || x > max:
		r.fault(line, column, Error{Kind: Range, Field: field, Min: min, Max: max, Unit: unit})
	default:
		return x
	}
	return math.NaN()
}
