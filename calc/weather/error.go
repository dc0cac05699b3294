package weather

import (
	"fmt"
	"strings"
)

// Kind says what is wrong with a file.
type Kind uint8

// What can be wrong.
const (
	Empty      Kind = iota + 1 // no bytes
	TooBig                     // Found bytes; at most Max
	NotWeather                 // line 1 is not an EPW file's: Found; Want
	Header                     // line Line should begin with Want
	Fields                     // the line has Found fields; Min to Max
	NotNumber                  // Found is not a number
	Range                      // Found is outside Min to Max Unit
	Order                      // the line is for month, day and hour Found, but Want was due
	Rows                       // Found lines of data; Want
	Periods                    // Found; only Want is read: one period, one record an hour
	Bright                     // more light than above the air: Found is over Max Unit
	Dim                        // all light is less than the sky's part of it, Min Unit: Found
	Dark                       // no light in any hour
	NoLight                    // the hour asked for has no light in the file
	Damaged                    // kept bytes that are not ours or of another version
)

var kindNames = [...]string{
	"", "empty", "too big", "not an EPW file", "header", "fields", "not a number", "out of range", "out of order",
	"rows", "periods", "above extraterrestrial", "global below diffuse", "dark", "no light", "damaged",
}

func (k Kind) String() string { return kindNames[k] }

// An Error is one fault of a file. Which parts are set, its Kind says.
//
// Field is one of latitude, longitude, time_zone, altitude (of the first
// line), periods, per_hour (of the eighth), month, day, hour, air, ghi, dni,
// dhi, wind.
type Error struct {
	Kind     Kind
	Line     int     // 1 is the first; 0: the whole file
	Column   int     // the field's number in its line, 1 is the first; 0: the whole line
	At       int     // where in the line the field begins, in characters, 1 is the first; 0: the whole line
	Field    string  // "" if it is not about one
	Found    string  // what stands there, cut at 40 characters
	Want     string  // what should, where it is a text
	Min, Max float64 // in Unit, both inclusive
	Unit     string
}

func (e *Error) Error() string {
	var b strings.Builder
	b.WriteString("weather: ")
	if e.Line > 0 {
		fmt.Fprintf(&b, "line %d, ", e.Line)
	}
	if e.Column > 0 {
		fmt.Fprintf(&b, "column %d (%s, at character %d), ", e.Column, e.Field, e.At)
	}
	b.WriteString(e.Kind.String())
	if e.Found != "" {
		fmt.Fprintf(&b, ": %q", e.Found)
	}
	if e.Want != "" {
		fmt.Fprintf(&b, ", want %s", e.Want)
	}
	if e.Min != 0 || e.Max != 0 {
		fmt.Fprintf(&b, ", %.4g to %.4g %s", e.Min, e.Max, e.Unit)
	}
	return strings.TrimSpace(b.String())
}

// Errors are the faults of a file, the first 20 in the order of its lines,
// those of the whole file last. It is never empty. errors.As finds the first
// *[Error] in it.
type Errors []*Error

const maxErrors = 20

func (e Errors) Error() string {
	if len(e) == 1 {
		return e[0].Error()
	}
	return fmt.Sprintf("%s (and %d more)", e[0].Error(), len(e)-1)
}

// Unwrap hands the faults to errors.Is and errors.As.
func (e Errors) Unwrap() []error {
	all := make([]error, len(e))
	for i := range e {
		all[i] = e[i]
	}
	return all
}

// add keeps the first maxErrors.
func (e *Errors) add(f Error) {
	if len(*e) < maxErrors {
		*e = append(*e, &f)
	}
}

func (e Errors) full() bool { return len(e) >= maxErrors }
