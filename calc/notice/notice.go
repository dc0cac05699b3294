// Package notice carries advice and warnings as codes with numbers.
//
// The core never writes a sentence: app/words turns a code and its numbers
// into one, in every language.
package notice

// Code names one piece of advice. The constants in codes.go say which numbers
// each one carries.
type Code string

// Grade is how bad it is to ignore a Notice. The words mean what ANSI Z535.6
// and ISO 3864 give them; the order is from mild to grave.
type Grade uint8

// The four grades.
const (
	Advice  Grade = iota // the signal word is NOTICE: nobody is hurt
	Caution              // may be hurt lightly
	Warning              // may die or be badly hurt
	Danger               // dies or is badly hurt if it is not avoided
)

var gradeNames = [...]string{"notice", "caution", "warning", "danger"}

// String returns the grade in lower-case letters, as the JSON output shows it.
func (g Grade) String() string { return gradeNames[g] }

// MarshalText writes the grade as its name.
func (g Grade) MarshalText() ([]byte, error) { return []byte(g.String()), nil }

// A Value is one number of a Notice.
type Value struct {
	Name   string  `json:"name"`   // "cells"
	Number float64 `json:"number"` // in Unit
	Unit   string  `json:"unit"`   // "°C"; "s after start" for an instant; "index" for a place in a list
}

// A Notice is one piece of advice or warning.
type Notice struct {
	Code   Code    `json:"code"`
	Grade  Grade   `json:"grade"`
	Values []Value `json:"values"`
}

// Number returns the value of that name.
func (n Notice) Number(name string) (float64, bool) {
	for _, v := range n.Values {
		if v.Name == name {
			return v.Number, true
		}
	}
	return 0, false
}
