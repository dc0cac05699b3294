package weather

import (
	"time"

	"duskline/calc/sun"
)

// A Sample is the recipe of an invented EPW file for tests.
type Sample struct {
	Place     sun.Place
	Standard  time.Duration
	Turbidity float64               // 1 to 10; 0: 3
	Index     func(day int) float64 // clear-sky index of a day, 0 is 1 January; nil: 1
	Leap      bool                  // 8784 rows
	CRLF, BOM bool
	Name      string // "": an invented one
	// Edit may change the fields of a data row (0 is the first) before it is
	// written; it returns nil to leave the row out.
	Edit func(row int, fields []string) []string
	// Head may change the header lines.
	Head func(lines []string) []string
}

// Synthetic writes an invented EPW file.
func Synthetic(s Sample) ([]byte, error) { return nil, nil }
