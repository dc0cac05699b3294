package plan

import (
	"bytes"
	"encoding/json"
	"math"
	"slices"
	"strconv"
	"strings"
	"time"
	"unicode/utf8"
)

// A sheet collects the faults of one document and remembers where each value
// stood, so that a relation between two fields is judged only when both were
// read and each is sound by itself: one slip gives one fault.
type sheet struct {
	faults []Fault
	at     []int          // place of each fault
	pos    map[string]int // place of each value that is there, by pointer
	bad    map[string]bool
}

func newSheet() *sheet {
	return &sheet{pos: map[string]int{}, bad: map[string]bool{}}
}

// add notes a fault at a place: a byte offset in Read, a running number in
// Check.
func (s *sheet) add(place int, f Fault) {
	s.faults = append(s.faults, f)
	s.at = append(s.at, place)
	s.bad[f.Pointer] = true
}

// sound reports whether all these values are there and have no fault.
func (s *sheet) sound(pointers ...string) bool {
	for _, p := range pointers {
		if _, there := s.pos[p]; !there || s.bad[p] {
			return false
		}
	}
	return true
}

// has reports whether the value is there, sound or not.
func (s *sheet) has(pointer string) bool {
	_, there := s.pos[pointer]
	return there
}

// result returns the faults in the order of their places.
func (s *sheet) result() (Faults, []int) {
	order := make([]int, len(s.faults))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return s.at[a] - s.at[b] })
	faults, at := make(Faults, len(order)), make([]int, len(order))
	for i, k := range order {
		if s.faults[k].Kind == Newer {
			return Faults{s.faults[k]}, []int{s.at[k]}
		}
		faults[i], at[i] = s.faults[k], s.at[k]
	}
	return faults, at
}

// judge checks one value by itself. target is a pointer to a *float64, *int,
// *string, *bool or *time.Time member. Found is filled in by the caller.
func (r *rule) judge(pointer string, target any) (Fault, bool) {
	switch v := target.(type) {
	case *float64:
		return r.judgeNumber(pointer, *v)
	case *int:
		return r.judgeNumber(pointer, float64(*v))
	case *string:
		if r.shape == word {
			if !slices.Contains(r.choices, *v) {
				return Fault{Pointer: pointer, Kind: BadWord, Allowed: r.choices}, true
			}
			return Fault{}, false
		}
		if !sayable(*v, r.lines) {
			return Fault{Pointer: pointer, Kind: BadText}, true
		}
		if r.zone && !zoneLike(*v) {
			return Fault{Pointer: pointer, Kind: BadZone}, true
		}
		if n := float64(utf8.RuneCountInString(*v)); n < r.limit.Min || n > r.limit.Max {
			return Fault{Pointer: pointer, Kind: BadLength, Min: r.limit.Min, Max: r.limit.Max, Unit: characters}, true
		}
	case *time.Time:
		if !goodStart(*v) {
			return badStart(pointer), true
		}
	}
	return Fault{}, false
}

// judgeNumber checks a number, which may be NaN or infinite, against its
// limit and choices.
func (r *rule) judgeNumber(pointer string, x float64) (Fault, bool) {
	f := Fault{Pointer: pointer, Kind: OutOfRange, Min: r.limit.Min, Max: r.limit.Max, Unit: r.limit.Unit}
	if r.limit.OrZero {
		f.Allowed = []string{"0"}
	}
	switch {
	case r == &document.fields[0] && x != Version:
		f.Min = firstVersion
		if x == math.Trunc(x) {
			if x > Version {
				f.Kind = Newer
			}
			return f, true
		}
		f.Kind = NotWhole
		return f, true
	case r.shape == integer && x != math.Trunc(x):
		f.Kind = NotWhole
		return f, true
	case r.shape == integer && len(r.choices) > 0:
		if slices.Contains(r.choices, strconv.FormatFloat(x, 'f', -1, 64)) {
			return Fault{}, false
		}
		return Fault{Pointer: pointer, Kind: BadWord, Unit: r.limit.Unit, Allowed: r.choices}, true
	case r.limit.OrZero && x == 0, x >= r.limit.Min && x <= r.limit.Max:
		return Fault{}, false
	}
	return f, true
}

// sayable reports whether a text has no control characters and is whole
// UTF-8. The decoder writes U+FFFD where it finds bytes that are not.
func sayable(s string, lines bool) bool {
	for _, c := range s {
		switch {
		case lines && (c == '\n' || c == '\t'):
		case c < ' ', c >= 0x7f && c < 0xa0, c == utf8.RuneError:
			return false
		}
	}
	return true
}

// zoneLike reports whether a text has only what the names of the IANA time
// zone database have: letters, digits, / _ + -.
func zoneLike(s string) bool {
	for _, c := range s {
		switch {
		case c >= 'a' && c <= 'z', c >= 'A' && c <= 'Z', c >= '0' && c <= '9', c == '/', c == '_', c == '+', c == '-':
		default:
			return false
		}
	}
	return true
}

// startForm is the one form of the trip's start: RFC 3339 with whole minutes.
const startForm = "2006-01-02T15:04:05Z07:00"

const (
	firstYear, lastYear = 1950, 2100
	maxOffset           = 14 * 3600 // s; the widest that any zone uses
)

// goodStart reports whether a start can be written and read back unchanged.
func goodStart(t time.Time) bool {
	_, offset := t.Zone()
	return t.Year() >= firstYear && t.Year() <= lastYear && t.Second() == 0 && t.Nanosecond() == 0 &&
		offset%60 == 0 && offset >= -maxOffset && offset <= maxOffset
}

// parseStart reads a start. It takes less than time.Parse does: no fraction,
// no comma, no hour of one digit.
func parseStart(s string) (time.Time, bool) {
	if len(s) != len("2006-01-02T15:04:00Z") && len(s) != len("2006-01-02T15:04:00+00:00") {
		return time.Time{}, false
	}
	// time.Parse would give the machine's own zone if the offset is the same.
	t, err := time.ParseInLocation(startForm, s, time.UTC)
	if err != nil || !goodStart(t) {
		return time.Time{}, false
	}
	return t, true
}

func badStart(pointer string) Fault {
	return Fault{Pointer: pointer, Kind: BadDate, Min: firstYear, Max: lastYear, Unit: "year",
		Allowed: []string{"YYYY-MM-DDThh:mm:00±hh:mm", "YYYY-MM-DDThh:mm:00Z"}}
}

// maxFound is how long Fault.Found may be, in characters.
const maxFound = 60

// cut makes JSON text short enough for Fault.Found.
func cut(s string) string {
	if utf8.RuneCountInString(s) <= maxFound {
		return s
	}
	return string([]rune(s)[:maxFound-1]) + "…"
}

// shorten makes a piece of a document one short line.
func shorten(raw []byte) string {
	// Four bytes a character, and white space that will go.
	var out bytes.Buffer
	if json.Compact(&out, raw) == nil {
		raw = out.Bytes()
	}
	return cut(strings.ToValidUTF8(string(raw), "�"))
}

// jsonNumber writes a number as encoding/json does.
func jsonNumber(x float64) string {
	if b, err := json.Marshal(x); err == nil {
		return string(b)
	}
	return strconv.FormatFloat(x, 'g', -1, 64) // NaN, +Inf, -Inf
}

// jsonText writes a text as [Write] does.
func jsonText(s string) string {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	if e.Encode(s) != nil { // a string always encodes
		return ""
	}
	return strings.TrimSuffix(b.String(), "\n")
}
