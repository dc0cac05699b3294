package weather

import "fmt"

// Kind says what is wrong with a file.
type Kind uint8

// What can be wrong.
const (
	Empty      Kind = iota + 1 // no bytes
	TooBig                     // Found bytes; at most Max
	NotWeather                 // the first line is not an EPW file's
	Header                     // line Line is not the record Want, or one of its fields is empty
	Fields                     // a line with too few fields: Found; at least Min
	NotNumber                  // Found is not a number
	Range                      // Found is outside Min to Max Unit
	Order                      // the line is for Found, but Want was due
	Rows                       // Found rows; Want
	Bright                     // more light than above the air: Found over Max Unit
	Periods                    // not hourly, or more than one period: Found; Want
	NoLight                    // the hour asked for has no light in the file
	Damaged                    // kept bytes that are not ours, or of a newer version
)

// An Error is one fault of a file. Which parts are set, its Kind says.
type Error struct {
	Kind     Kind
	Line     int     // 1 is the first; 0: the whole file
	Column   int     // the field's number in its line, 1 is the first; 0: the whole line
	At       int     // where in the line the field begins, in bytes; 1 is the first
	Field    string  // the field's code: "ghi", "latitude"; see the Field constants
	Found    string  // what stands there, cut at 40 bytes
	Want     string  // what should, where it is a text
	Min, Max float64 // in Unit, both inclusive
	Unit     string
}

func (e *Error) Error() string {
	return fmt.Sprintf("weather: kind %d, line %d, column %d (%s): %q", e.Kind, e.Line, e.Column, e.Field, e.Found)
}

// Errors are the faults of a file, the first 20 in the order of its lines.
type Errors []*Error

func (e Errors) Error() string { return e[0].Error() }

// Unwrap lets errors.As find the first one.
func (e Errors) Unwrap() []error {
	all := make([]error, len(e))
	for i := range e {
		all[i] = e[i]
	}
	return all
}
