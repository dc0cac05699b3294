package desk

import (
	"fmt"
	"math"
	"reflect"
	"strconv"
	"strings"
	"time"

	"duskline/app/widget/hours"
	"duskline/app/words"
	"duskline/calc/plan"
)

// The trip's start is one value of the document and three fields of the page.
const (
	StartDate   = "/trip/start/date"     // 2026-05-14
	StartClock  = "/trip/start/clock"    // 06:30
	StartOffset = "/trip/start/offset_h" // hours east of Greenwich: 2, -3.5
)

// set writes what a person typed into the Plan. The answer is the catalogue
// key of what is wrong with the text as such; whether the value is in range
// is for plan.Check. gone says that the place does not exist (any more).
func set(p *plan.Plan, pointer, text string) (bad string, gone bool) {
	switch pointer {
	case StartDate, StartClock, StartOffset:
		t, bad := setStart(p.Trip.Start, pointer, text)
		switch {
		case bad != "":
		case pointer == StartOffset:
			// Another one than the zone's, by hand: then by no zone's clock.
			_, was := p.Trip.Start.Zone()
			if _, offset := t.Zone(); offset != was {
				p.SetZone("", time.Duration(offset)*time.Second, nil)
			}
		default:
			p.SetStart(t)
		}
		return bad, false
	}
	if done, ok := choose(p, pointer, text); ok {
		return "", !done
	}
	v, ok := find(p, pointer)
	if !ok {
		return "", true
	}
	if v.Kind() == reflect.Pointer {
		if v.IsNil() {
			return "", true // absent: another kind of draw was chosen
		}
		v = v.Elem()
	}
	switch v.Kind() {
	case reflect.Float64:
		x, ok := number(pointer, text)
		if isHour(pointer) {
			x, ok = hours.Read(text)
			if !ok {
				return "fault.clock", false
			}
		}
		if !ok {
			return "fault.number", false
		}
		v.SetFloat(x)
	case reflect.Int:
		x, ok := number(pointer, text)
		if !ok {
			return "fault.number", false
		}
		if x != math.Trunc(x) || math.Abs(x) > 1e6 {
			return "fault.whole", false
		}
		v.SetInt(int64(x))
	case reflect.String:
		v.SetString(text)
	case reflect.Bool:
		v.SetBool(text == "true")
	default:
		return "", true
	}
	return "", false
}

// number reads a number, with the field's own unit behind it if it was typed
// or pasted along.
func number(pointer, text string) (float64, bool) {
	if limit, ok := plan.LimitOf(pointer); ok && limit.Unit != "" {
		text = strings.TrimSuffix(strings.TrimSpace(text), limit.Unit)
	}
	return words.Number(text)
}

// text returns the value at a pointer as its field shows it.
func text(p *plan.Plan, pointer string) string {
	t := p.Trip.Start
	switch pointer {
	case StartDate:
		return t.Format("2006-01-02")
	case StartClock:
		return t.Format("15:04")
	case StartOffset:
		_, s := t.Zone()
		return shortest(float64(s) / 3600)
	}
	if t, ok := chosen(p, pointer); ok {
		return t
	}
	v, ok := find(p, pointer)
	if !ok {
		return ""
	}
	if v.Kind() == reflect.Pointer {
		if v.IsNil() {
			return ""
		}
		v = v.Elem()
	}
	switch v.Kind() {
	case reflect.Float64:
		if isHour(pointer) {
			return words.ClockOfHours(v.Float())
		}
		return shortest(v.Float())
	case reflect.Int:
		return strconv.FormatInt(v.Int(), 10)
	case reflect.String:
		return v.String()
	case reflect.Bool:
		return strconv.FormatBool(v.Bool())
	}
	return ""
}

// shortest writes a number so that reading it gives the same number, without
// an exponent, which words.Number refuses, and in at most the 20 characters
// that it reads.
func shortest(x float64) string {
	s := strconv.FormatFloat(x, 'f', -1, 64)
	if len(s) > 20 {
		s = strconv.FormatFloat(x, 'f', 9, 64)
	}
	return s
}

func isHour(pointer string) bool {
	return strings.HasSuffix(pointer, "/from_h") || strings.HasSuffix(pointer, "/to_h")
}

// setStart changes one part of the trip's start and keeps the others as they
// read: a new offset keeps the clock, not the instant.
func setStart(t time.Time, pointer, text string) (time.Time, string) {
	zone := t.Location()
	date, at := t.Format("2006-01-02"), t.Format("15:04")
	text = strings.TrimSpace(text)
	switch pointer {
	case StartDate:
		date = text
	case StartClock:
		at = text
	case StartOffset:
		h, ok := words.Number(text)
		if !ok || math.Abs(h) > 18 || math.Mod(h*60, 1) != 0 {
			return t, "fault.offset"
		}
		zone = time.FixedZone("", int(math.Round(h*3600)))
	}
	if pointer == StartClock {
		h, ok := hours.Read(at)
		if !ok || h >= 24 {
			return t, "fault.clock"
		}
		m := int(math.Round(h * 60))
		at = fmt.Sprintf("%02d:%02d", m/60%24, m%60)
	}
	u, err := time.ParseInLocation("2006-01-02 15:04", date+" "+at, zone)
	if err != nil {
		return t, "fault.date"
	}
	return u, ""
}
