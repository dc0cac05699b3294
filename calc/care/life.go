package care

import "duskline/calc/qty"

// A Life is what the battery has left and what this trip takes of it. Two
// published models may span a band; low and high are its edges.
type Life struct {
	Health qty.Fraction // of the rated amp-hours, now
	Growth float64      // of the resistance, now

	Cycles    float64      // full cycles of this trip: amp-hours out over those it holds
	Deepest   qty.Fraction // depth of the trip
	Low, High qty.Fraction // capacity lost by this trip
	Share     Span         // of the life that is left to 80 % of rated, 0 to 1 and more

	UsesAYear float64 // the plan's own
	Years     Span    // to 80 % at this use
	Worn      bool    // Health is under that already; Years are 0

	Keeping  []Keep // half and full, 20 and 40 °C
	Practice bool   // the law of this chemistry is common practice, not a published model
}

// A Span is a figure between two models.
type Span struct {
	Low, High float64
	Endless   bool // High has no end that matters: over 100 years
}

// A Keep is what a year of lying costs.
type Keep struct {
	Charge    qty.Fraction
	At        qty.Celsius
	Low, High qty.Fraction // capacity lost in the first year from new
}
