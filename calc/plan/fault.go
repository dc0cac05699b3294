package plan

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"
)

// A Fault is one thing that is wrong with a document, and where.
//
// It carries codes and numbers only; the app and the command word it.
// Which of Min, Max, Unit, Allowed and Other are filled in depends on the
// Kind and stands beside each kind.
type Fault struct {
	Pointer string // RFC 6901 JSON Pointer to the value; "" is the document
	Kind    FaultKind
	Found   string   // the value as short JSON text, at most 60 characters; "" if there is none
	Min     float64  // in Unit
	Max     float64  // in Unit
	Unit    string   // as Limit.Unit
	Allowed []string // words, or values allowed beside Min to Max
	Other   string   // JSON Pointer to the value that sets the limit
	Line    int      // line of the document, from 1; 0 from Check
}

// FaultKind is what is wrong.
type FaultKind string

// The kinds. "Range" means that Min, Max and Unit are filled in, both ends
// allowed.
const (
	TooBig        FaultKind = "too_big"         // range in B; nothing was read
	ByteOrderMark FaultKind = "byte_order_mark" // before the first character
	Syntax        FaultKind = "syntax"          // no JSON from here on; Found "" is the end of the document
	NotFinite     FaultKind = "not_finite"      // NaN or an infinity where JSON wants a number
	TooDeep       FaultKind = "too_deep"        // Max: levels of objects and lists
	Trailing      FaultKind = "trailing_data"   // something follows the document
	Newer         FaultKind = "newer_version"   // range; see ErrNewer
	Unknown       FaultKind = "unknown_field"
	Missing       FaultKind = "missing_field"   // Line is the line of the object that lacks it
	Duplicate     FaultKind = "duplicate_key"   // Found is the later value
	WrongType     FaultKind = "wrong_type"      // Allowed: the JSON type wanted: object, array, number, integer, string, boolean
	OutOfRange    FaultKind = "out_of_range"    // range; Allowed: values allowed outside it; Other if another value sets it
	NotWhole      FaultKind = "not_whole"       // range
	BadWord       FaultKind = "bad_word"        // Allowed: all words or figures there are
	BadLength     FaultKind = "bad_length"      // range, in characters
	BadText       FaultKind = "bad_text"        // control characters, or text that is not UTF-8
	BadCount      FaultKind = "bad_count"       // range, in entries; Found is their number; Other if another value sets it
	BadDate       FaultKind = "bad_date"        // range in years; Allowed: the form
	NoHours       FaultKind = "no_hours"        // a window that ends where it starts, or less than a minute behind
	NotAbove      FaultKind = "not_above"       // must be above Min, the value at Other
	NotBelow      FaultKind = "not_below"       // must be below Max, the value at Other
	NotOne        FaultKind = "not_one"         // exactly one of the members in Allowed must be given; Found is how many are
	OnlyWith      FaultKind = "only_with"       // makes sense only if Other is given; without Found: only if Other is of those in Allowed
	NotDivided    FaultKind = "not_divided"     // Max: must be a multiple of it, the value at Other
	NotPhysical   FaultKind = "not_physical"    // Max: what date and latitude can give
	NeverRests    FaultKind = "never_rests"     // Max: must be below it, the full battery's volts at rest; Other is the chemistry
	NeverFull     FaultKind = "never_full"      // Min: must be above it, the full battery's volts at rest; Other is the chemistry
	OutOfBand     FaultKind = "out_of_band"     // range; Allowed: the two ends of the band that charges the chemistry at Other usually
	NotRising     FaultKind = "not_rising"      // Max: number of the row, from 1; must be above Min, the value of the row before, at Other
	WornOut       FaultKind = "worn_out"        // Max: the most that leaves the battery capacity, at a resistance not ten times that of a new one
	StandbyTooBig FaultKind = "standby_too_big" // Max: standby that leaves the efficiency at Other possible
	NoCurve       FaultKind = "no_curve"        // range, if Pointer is to one figure: no solar panel has it beside the other four
	BadZone       FaultKind = "bad_zone"        // no name of a time zone: letters, digits and / _ + - only
	WrongOffset   FaultKind = "wrong_offset"    // Max: minutes ahead of UTC that the clock change at Other sets
	NotLater      FaultKind = "not_later"       // must be later than the instant at Other
	NotNear       FaultKind = "not_near"        // Max: days that it may lie from the instant at Other
	SameAzimuth   FaultKind = "same_azimuth"    // more than two points of the horizon there, or two of one height; Max: so many may be
	NotClockwise  FaultKind = "not_clockwise"   // points of a horizon with a step in it run more than Max times round
	TooBright     FaultKind = "too_bright"      // Max: what the sun sends above the air in that hour, and a little more
	NotFullHour   FaultKind = "not_full_hour"   // must be on a full hour of its own clock
	StartsLate    FaultKind = "starts_late"     // Max: hours of the trip, from the start at Other, that are missing
	ModelRefuses  FaultKind = "model_refuses"   // range, if the model gave one: a model cannot work with these values
)

// ErrNewer is what errors.Is finds in the Faults of a document that a newer
// Duskline wrote. It is then the only fault: the rest was written to rules
// that this code does not know.
var ErrNewer = errors.New("plan: the document is of a newer version")

// Faults are all faults of a document, in document order.
type Faults []Fault

// Is reports whether one of the faults means target; the only one that can is
// [ErrNewer].
func (f Faults) Is(target error) bool {
	if target != ErrNewer {
		return false
	}
	for _, x := range f {
		if x.Kind == Newer {
			return true
		}
	}
	return false
}

// Err returns the faults as an error, nil if there are none.
func (f Faults) Err() error {
	if len(f) == 0 {
		return nil
	}
	return f
}

// Error returns one line a fault, in English, for developers.
func (f Faults) Error() string {
	lines := make([]string, len(f))
	for i, x := range f {
		lines[i] = x.String()
	}
	return strings.Join(lines, "\n")
}

// String returns the fault as one line of English, for developers.
func (f Fault) String() string {
	var b strings.Builder
	if f.Line > 0 {
		fmt.Fprintf(&b, "line %d: ", f.Line)
	}
	where := f.Pointer
	if where == "" {
		where = "document"
	}
	fmt.Fprintf(&b, "%s: %s", where, strings.ReplaceAll(string(f.Kind), "_", " "))
	if f.Found != "" {
		fmt.Fprintf(&b, ", found %s", f.Found)
	}
	unit := f.Unit
	if unit != "" {
		unit = " " + unit
	}
	switch f.Kind {
	case OutOfRange, NotWhole, BadLength, BadCount, BadDate, TooBig, Newer:
		fmt.Fprintf(&b, ", allowed %s to %s%s", short(f.Min), short(f.Max), unit)
		if len(f.Allowed) > 0 {
			fmt.Fprintf(&b, " or %s", strings.Join(f.Allowed, ", "))
		}
	case NotAbove, NeverFull:
		fmt.Fprintf(&b, ", must be above %s%s", short(f.Min), unit)
	case NotRising:
		fmt.Fprintf(&b, ", row %s must be above %s%s", short(f.Max), short(f.Min), unit)
	case OutOfBand:
		fmt.Fprintf(&b, ", allowed %s to %s%s, usual %s%s", short(f.Min), short(f.Max), unit, strings.Join(f.Allowed, " to "), unit)
	case NotBelow, NeverRests:
		fmt.Fprintf(&b, ", must be below %s%s", short(f.Max), unit)
	case TooDeep, NotPhysical, StandbyTooBig, WornOut, TooBright, SameAzimuth, NotClockwise:
		fmt.Fprintf(&b, ", at most %s%s", short(f.Max), unit)
	case NotDivided:
		fmt.Fprintf(&b, ", must be a multiple of %s%s", short(f.Max), unit)
	case NotNear:
		fmt.Fprintf(&b, ", must be within %s%s", short(f.Max), unit)
	case WrongOffset:
		fmt.Fprintf(&b, ", must be %s%s ahead of UTC", short(f.Max), unit)
	case StartsLate:
		fmt.Fprintf(&b, ", %s%s late", short(f.Max), unit)
	case ModelRefuses, NoCurve:
		if f.Min != f.Max {
			fmt.Fprintf(&b, ", allowed %s to %s%s", short(f.Min), short(f.Max), unit)
		}
	default:
		if len(f.Allowed) > 0 {
			fmt.Fprintf(&b, ", allowed %s", strings.Join(f.Allowed, ", "))
		}
	}
	if f.Other != "" {
		fmt.Fprintf(&b, " (%s)", f.Other)
	}
	return b.String()
}

// short writes a limit for Error.
func short(x float64) string {
	if math.Abs(x) < 1e6 && x == math.Trunc(x) {
		return strconv.FormatFloat(x, 'f', -1, 64)
	}
	return strconv.FormatFloat(x, 'g', 5, 64)
}
