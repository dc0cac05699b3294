package plan

import (
	"slices"
	"strings"
)

// A Limit is the range of one field. Both ends are allowed.
type Limit struct {
	Min, Max float64
	Unit     string  // "A"; "" for a bare number; "characters" of a text; "entries" of a list
	Step     float64 // what one press of a stepper changes; 0: no stepper
	Decimals int     // digits after the point that make sense to show
	OrZero   bool    // 0 is allowed outside the range and means "none"
}

// Units of limits that are no quantity.
const (
	characters = "characters"
	entries    = "entries"
)

// LimitOf returns the limit of the field at a JSON Pointer: the range of a
// number, the characters of a text, the entries of a list. The index of a
// list's entry may be any number: "/gear/3/power_W" answers for every
// device. It reports false for fields without a limit and for pointers to
// nothing.
//
// A limit set by another field (alarm below charge) is not in it: [Check]
// knows those.
func LimitOf(pointer string) (Limit, bool) {
	r := ruleAt(pointer)
	if r == nil || r.limit == (Limit{}) {
		return Limit{}, false
	}
	return r.limit, true
}

// Choices returns the words, or the figures, that the field at a JSON Pointer
// may hold: "/case/switch", "/trip/step_min". It reports false for fields
// that are not chosen from a list.
func Choices(pointer string) ([]string, bool) {
	r := ruleAt(pointer)
	if r == nil || len(r.choices) == 0 {
		return nil, false
	}
	return slices.Clone(r.choices), true
}

// ruleAt follows a JSON Pointer through the table; nil if it leads nowhere.
func ruleAt(pointer string) *rule {
	r := &document
	if pointer == "" {
		return r
	}
	steps := strings.Split(pointer, "/")
	if steps[0] != "" {
		return nil
	}
	for _, step := range steps[1:] {
		switch {
		case r.shape == object:
			r = r.field(unescape(step))
		case r.shape == list && isIndex(step):
			r = r.item
		default:
			return nil
		}
		if r == nil {
			return nil
		}
	}
	return r
}

// isIndex reports whether a step of a pointer is an index as RFC 6901 section
// 4 writes it: digits without a leading zero.
func isIndex(s string) bool {
	if s == "" || len(s) > 1 && s[0] == '0' {
		return false
	}
	for _, c := range s {
		if c < '0' || c > '9' {
			return false
		}
	}
	return true
}

// escape makes a member's name a step of a pointer, RFC 6901 section 3.
func escape(name string) string {
	return strings.ReplaceAll(strings.ReplaceAll(name, "~", "~0"), "/", "~1")
}

// unescape undoes escape; the order of the two replacements matters, RFC 6901
// section 4.
func unescape(step string) string {
	return strings.ReplaceAll(strings.ReplaceAll(step, "~1", "/"), "~0", "~")
}
