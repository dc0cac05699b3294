package words

import (
	"fmt"
	"math"
	"strconv"
	"time"

	"duskline/calc/plan"
)

// Duration words a span: "45 min", "4 h 30 min", "31 h", "2 d 4 h". It rounds
// down: a promise of time is never longer than the time.
func Duration(d time.Duration) string {
	minutes := int(d / time.Minute)
	sign := ""
	if minutes < 0 {
		minutes, sign = -minutes, "−"
	}
	n := func(v int) string { return Amount(float64(v), 0, "") }
	switch h := minutes / 60; {
	case h == 0:
		return sign + T("span.minutes", n(minutes))
	case h < 10 && minutes%60 != 0:
		return sign + T("span.hours_minutes", n(h), n(minutes%60))
	case h < 48:
		return sign + T("span.hours", n(h))
	case h%24 == 0:
		return sign + T("span.days", n(h/24))
	default:
		return sign + T("span.days_hours", n(h/24), n(h%24))
	}
}

// Hours is Duration of a figure in hours. A figure that no duration holds
// gives a dash.
func Hours(h float64) string {
	if math.IsNaN(h) || math.Abs(h) > 1e6 {
		return "–"
	}
	return Duration(time.Duration(math.Round(h*60)) * time.Minute)
}

// Clock words the time of day on a 24-hour clock, in the zone that t carries:
// "06:30".
func Clock(t time.Time) string { return fmt.Sprintf("%02d:%02d", t.Hour(), t.Minute()) }

// ClockOfHours words an hour of the day, 0 to 24: "06:30", "24:00".
func ClockOfHours(h float64) string {
	if math.IsNaN(h) || h < 0 || h > 24 {
		return "–"
	}
	m := int(math.Round(h * 60))
	return fmt.Sprintf("%02d:%02d", m/60, m%60)
}

// to is the dash of a span, at which no line breaks: a word joiner on both
// sides.
const to = "\u2060–\u2060"

// Window words a span of the day: "22:00–06:00", "all day".
func Window(w plan.Window) string {
	if w.FromH == 0 && w.ToH == 24 {
		return T("window.all_day")
	}
	return ClockOfHours(w.FromH) + to + ClockOfHours(w.ToH)
}

// Windows words a list of them: "07:00–09:00, 18:00–22:00"; "never" if empty.
func Windows(list []plan.Window) string {
	if len(list) == 0 {
		return T("window.never")
	}
	s := Window(list[0])
	for _, w := range list[1:] {
		s += ", " + Window(w)
	}
	return s
}

// Weekday names the day: "Saturday".
func Weekday(t time.Time) string { return T("weekday." + strconv.Itoa(int(t.Weekday()))) }

// ShortWeekday names it in about three letters: "Sat".
func ShortWeekday(t time.Time) string {
	return T("weekday_short." + strconv.Itoa(int(t.Weekday())))
}

// Date words day and month: "14 May".
func Date(t time.Time) string {
	return T("date.day", t.Day(), T("month."+strconv.Itoa(int(t.Month()))))
}

// FullDate words the date with its year: "14 May 2026".
func FullDate(t time.Time) string {
	return T("date.full", t.Day(), T("month."+strconv.Itoa(int(t.Month()))), strconv.Itoa(t.Year()))
}

// Dates words the days that a span touches: "14–17 May", "30 May–2 June",
// "14 May". The last day counts only if the span reaches into it.
func Dates(from, to time.Time) string {
	last := to.In(from.Location())
	if last.After(from) {
		last = last.Add(-time.Nanosecond)
	}
	switch {
	case sameDay(from, last):
		return Date(from)
	case from.Year() == last.Year() && from.Month() == last.Month():
		return T("date.span_in_month", from.Day(), last.Day(), T("month."+strconv.Itoa(int(from.Month()))))
	default:
		return T("date.span", Date(from), Date(last))
	}
}

func sameDay(a, b time.Time) bool {
	return a.Year() == b.Year() && a.YearDay() == b.YearDay()
}

// Moment words an instant of a trip: "Saturday at 06:30". Where the weekday
// alone would be ambiguous, a week or more after the first day, the date
// comes with it: "Saturday 23 May at 06:30".
func Moment(t, start time.Time) string {
	t = t.In(start.Location())
	first := time.Date(start.Year(), start.Month(), start.Day(), 0, 0, 0, 0, start.Location())
	if t.Before(first) || !t.Before(first.AddDate(0, 0, 7)) {
		return T("moment.date", Weekday(t), Date(t), Clock(t))
	}
	return T("moment.day", Weekday(t), Clock(t))
}

// Nights words how long a trip is, as one says it: "three nights", "one
// night", and without a midnight in it "9 h".
func Nights(start time.Time, length time.Duration) string {
	end := start.Add(length)
	n := 0
	for m := time.Date(start.Year(), start.Month(), start.Day()+1, 0, 0, 0, 0, start.Location()); m.Before(end); m = m.AddDate(0, 0, 1) {
		n++
	}
	if n == 0 {
		return Duration(length)
	}
	return T("trip.nights", n, spelled(n))
}

// spelled writes small counts as words.
func spelled(n int) string {
	if n >= 1 && n <= 12 {
		return T("count." + strconv.Itoa(n))
	}
	return Amount(float64(n), 0, "")
}
